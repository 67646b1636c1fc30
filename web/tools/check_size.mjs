// What a phone must load, gzipped: under 250 kB in all, or the build fails.
import { readFileSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

const most = 250_000;
const folder = process.env.BARM_WEB_OUT ?? "dist";
const files = (at) => readdirSync(at).flatMap((name) => (statSync(join(at, name)).isDirectory() ? files(join(at, name)) : [join(at, name)]));
let all = 0;
for (const file of files(folder)) {
  const size = gzipSync(readFileSync(file), { level: 9 }).length;
  all += size;
  console.log(`${String(size).padStart(8)}  ${file.slice(folder.length + 1)}`);
}
console.log(`${String(all).padStart(8)}  in all, gzipped; ${most} at most`);
if (all > most) {
  console.error("The web payload is too large.");
  process.exit(1);
}
