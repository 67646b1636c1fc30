// Both languages name the same facts, and every text is said somewhere. A missing text fails the type check already.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";

function texts(file) {
  const found = new Map();
  for (const [, key, , text] of readFileSync(file, "utf8").matchAll(/^\s+"?([\w.]+)"?:\s*(["`])((?:\\.|(?!\2).)*)\2,?$/gm))
    found.set(key, text);
  return found;
}
function sources(folder) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? sources(join(folder, entry.name)) : /\.tsx?$/.test(entry.name) ? [join(folder, entry.name)] : [],
  );
}
const facts = (text) => [...new Set([...text.matchAll(/\{(\w+)\}/g)].map((each) => each[1]))].sort().join(" ");

const wrong = [];
const english = texts("src/words/en.ts");
const spanish = texts("src/words/es.ts");
const code = sources("src").filter((file) => !file.startsWith("src/words/e")).map((file) => readFileSync(file, "utf8")).join("\n");
// Keys put together from a family and a value of the wire: `aim.${value}`, word("smell", value)
const families = [
  ...[...code.matchAll(/`([\w.]+\.)\$\{/g)].map((each) => each[1]),
  ...[...code.matchAll(/\bword\("(\w+)"/g)].map((each) => `${each[1]}.`),
];
for (const [key, text] of english) {
  const other = spanish.get(key);
  if (other === undefined) wrong.push(`${key}: no Spanish`);
  else if (facts(text) !== facts(other)) wrong.push(`${key}: English names {${facts(text)}}, Spanish {${facts(other)}}`);
  else if (other === text && text.length > 12 && !/^[\W\d]/.test(text)) wrong.push(`${key}: the same in both languages`);
  if (!code.includes(`"${key}"`) && !families.some((family) => key.startsWith(family))) wrong.push(`${key}: nothing says it`);
}
for (const key of spanish.keys()) if (!english.has(key)) wrong.push(`${key}: no English`);
for (const [, text] of [...english, ...spanish]) if (/!|\bsafe\b|pathogen-free|inocuo/i.test(text)) wrong.push(`never said: ${text}`);
if (english.size < 50) wrong.push("hardly any texts were found: has the form of en.ts changed?");
if (wrong.length > 0) {
  console.error(wrong.join("\n"));
  process.exit(1);
}
console.log(`${english.size} texts in both languages`);
