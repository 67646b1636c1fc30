// Makes src/api/openapi.d.ts from the description of the operations. Where that stands: BARM_OPENAPI, or what `barm`
// itself prints (BARM names the program).
import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import openapiTS, { astToString } from "openapi-typescript";

const text = process.env.BARM_OPENAPI
  ? readFileSync(process.env.BARM_OPENAPI, "utf8")
  : execFileSync(process.env.BARM ?? "../build/release/bin/barm", ["--openapi"], { encoding: "utf8", maxBuffer: 1e8 });
const made = astToString(await openapiTS(JSON.parse(text), { alphabetize: false }));
mkdirSync("src/api", { recursive: true });
writeFileSync("src/api/openapi.d.ts", `// Made by tools/make_types.mjs from the operations; not kept.\n${made}`);
