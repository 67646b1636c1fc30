// The plan in the address: JSON, deflated, in letters an address may hold. A plan that was cut short or made up is told
// as such; nothing of it is guessed.
import type { Plan } from "./document";

const longest = 6000;  // letters; a plan takes about 500

const toLetters = (bytes: Uint8Array) =>
  btoa(String.fromCharCode(...bytes)).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
const fromLetters = (letters: string) =>
  Uint8Array.from(atob(letters.replaceAll("-", "+").replaceAll("_", "/")), (letter) => letter.charCodeAt(0));

async function through(bytes: Uint8Array, stream: CompressionStream | DecompressionStream, most: number): Promise<Uint8Array> {
  const reader = new Blob([bytes as BlobPart]).stream().pipeThrough(stream).getReader();
  const parts: number[] = [];
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return Uint8Array.from(parts);
    if (parts.length + value.length > most) {
      await reader.cancel();
      throw new Error("too long");
    }
    parts.push(...value);
  }
}

/// A leading letter tells the form: z deflated, j as it is, for browsers that cannot deflate.
export async function pack(plan: Plan): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify(plan));
  if (typeof CompressionStream === "undefined") return `j${toLetters(bytes)}`;
  return `z${toLetters(await through(bytes, new CompressionStream("deflate-raw"), 100_000))}`;
}

export type Unpacked = { plan: Plan } | { broken: "too_long" | "unreadable" };

export async function unpack(letters: string): Promise<Unpacked> {
  if (letters.length > longest) return { broken: "too_long" };
  try {
    const bytes = fromLetters(letters.slice(1));
    const plain = letters.startsWith("z") ? await through(bytes, new DecompressionStream("deflate-raw"), 50_000) : bytes;
    const plan: unknown = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(plain));
    return isPlan(plan) ? { plan } : { broken: "unreadable" };
  } catch {
    return { broken: "unreadable" };
  }
}

/// The shape only: the server says what is wrong with the values.
function isPlan(value: unknown): value is Plan {
  if (value === null || typeof value !== "object") return false;
  const plan = value as Record<string, unknown>;
  const isTable = (at: unknown) => at !== null && typeof at === "object" && !Array.isArray(at);
  const isRows = (at: unknown) => Array.isArray(at) && at.length <= 40 && at.every(isTable);
  return (
    ["brew", "garden", "water", "vessel", "air"].every((table) => isTable(plan[table])) &&
    isRows(plan["compost"]) &&
    (plan["food"] === undefined || isRows(plan["food"]))
  );
}
