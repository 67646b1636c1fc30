// Measures in the browser, on the sample bucket with 256 members: the first view, from the navigation until the night is
// drawn in a browser that knew nothing (goal: 1 s); and from a slider's move to the band drawn again (goal: 100 ms at the
// 95th percentile). Fails when either is missed: run it on a machine that does nothing else.
// usage: node latency.mjs PATH_TO_BARM [moves]
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
  await page.goto(world.address);
  await page.waitForSelector(".plot-night[data-revision]");
  const first = await page.evaluate(() => performance.now());
  await moves(page, 10);
  const { p50, p95, worst } = await moves(page, Number(count));
  console.log(`first view ${first.toFixed(0)} ms; slider to band: middle ${p50.toFixed(0)} ms, 95th percentile ${p95.toFixed(0)} ms, worst ${worst.toFixed(0)} ms; load ${loadavg()[0].toFixed(1)}`);
  process.exitCode = p95 < 100 && first < 1000 ? 0 : 1;
} finally {
  await world.close();
}
