// The operations as the server describes them, for forms that are made rather than written.
import { settings } from "../settings";
import { put, take } from "../keep/database";

export interface Schema {
  type?: string | string[];
  description?: string;
  enum?: string[];
  format?: string;
  examples?: unknown[];
  default?: unknown;
  properties?: Record<string, Schema>;
  required?: string[];
  items?: Schema;
  "x-unit"?: string;
}
export interface Described {
  path: string;            // "/api/record/add-bed"
  noun: string;
  verb: string;            // as in the path: "add-bed"
  summary: string;
  input: Schema;
}

interface Document {
  paths: Record<string, { post?: { summary?: string; requestBody?: { content?: { "application/json"?: { schema?: Schema } } } } }>;
}

/// In the reader's language; the last one seen when the server is out of reach.
export async function describe(): Promise<Described[]> {
  const { language } = settings.value;
  let document: Document | undefined;
  try {
    const reply = await fetch("./api/openapi.json", { headers: { "Accept-Language": language } });
    if (reply.ok) {
      document = (await reply.json()) as Document;
      void put("seen", `described ${language}`, document);
    }
  } catch {
    document = undefined;
  }
  document ??= await take<Document>("seen", `described ${language}`);
  return Object.entries(document?.paths ?? {}).flatMap(([path, { post }]) => {
    const [, , noun = "", verb = ""] = path.split("/");
    const input = post?.requestBody?.content?.["application/json"]?.schema;
    return input ? [{ path, noun, verb, summary: post?.summary ?? path, input }] : [];
  });
}
