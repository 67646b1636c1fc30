// What the browser tests need of others, as the lockfile names it: installed when it is missing or older than that.
import { spawnSync } from "node:child_process";
import { existsSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const wanted = join(here, "package-lock.json");
const present = join(here, "node_modules/.package-lock.json");  // npm writes it last

if (!existsSync(present) || statSync(present).mtimeMs < statSync(wanted).mtimeMs) {
  const done = spawnSync("npm", ["ci", "--silent", "--no-audit", "--no-fund"], { cwd: here, stdio: "inherit" });
  if (done.status !== 0) throw new Error("npm ci failed: is the network there?");
}
