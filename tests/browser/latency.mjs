// Measures from a slider's move to the band drawn again, in the browser: the sample bucket, 256 members.
// usage: node latency.mjs PATH_TO_BARM [moves]; says so and fails when the 95th percentile is 100 ms or more
import { loadavg } from "node:os";
import { resolve } from "node:path";
import { moves } from "./moves.mjs";
import { World, desk } from "./world.mjs";

const [barm = "../../build/release/bin/barm", count = "70"] = process.argv.slice(2);
const world = new World(resolve(barm));
try {
  await world.serve();
  await world.browse();
  const page = await world.person({ size: desk });
  await world.plan(page);
  await moves(page, 10);
  const { p50, p95, worst } = await moves(page, Number(count));
  console.log(`middle ${p50.toFixed(0)} ms, 95th percentile ${p95.toFixed(0)} ms, worst ${worst.toFixed(0)} ms; load ${loadavg()[0].toFixed(1)}`);
  process.exitCode = p95 < 100 ? 0 : 1;
} finally {
  await world.close();
}
