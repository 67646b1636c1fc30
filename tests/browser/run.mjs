// Runs the browser tests, each with a server, a record and a browser of its own.
// usage: node run.mjs PATH_TO_BARM [part of a test's name]
import { mkdirSync, readdirSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import "./tools.mjs";

const { World } = await import("./world.mjs");  // only now: it needs what tools.mjs installs

const here = dirname(fileURLToPath(import.meta.url));
const [barm = join(here, "../../build/release/bin/barm"), wanted = ""] = process.argv.slice(2);
const failures = process.env.BARM_BROWSER_FAILURES;   // a folder for pictures of what failed
let failed = 0;

for (const file of readdirSync(here).filter((name) => name.endsWith(".test.mjs") && name.includes(wanted)).sort()) {
  const tests = await import(join(here, file));
  for (const [name, run] of Object.entries(tests)) {
    const world = new World(resolve(barm));
    const begun = Date.now();
    try {
      await world.serve();
      await world.browse();
      await run(world);
      if (world.faults.length > 0) throw new Error(`the page complained: ${world.faults.join("; ")}`);
      console.log(`ok      ${file.replace(".test.mjs", "")}: ${name.replaceAll("_", " ")} (${((Date.now() - begun) / 1000).toFixed(1)} s)`);
    } catch (why) {
      failed++;
      console.log(`FAILED  ${file.replace(".test.mjs", "")}: ${name.replaceAll("_", " ")}\n        ${why.stack ?? why}`);
      if (failures && world.page) {
        mkdirSync(failures, { recursive: true });
        await world.page.screenshot({ path: join(failures, `${name}.png`), fullPage: true }).catch(() => undefined);
      }
    } finally {
      await world.close();
    }
  }
}
console.log(failed === 0 ? "all passed" : `${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
