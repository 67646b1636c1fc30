// Asks the server, in the reader's language. Three ways it can end: answered, refused with reasons, or not reached.
import { settings } from "../settings";
import type { paths } from "./openapi";

export type Path = keyof paths;
type Post<P extends Path> = paths[P] extends { post: infer Call } ? Call : never;
type Body<Call> = Call extends { requestBody: { content: { "application/json": infer Json } } } ? Json : never;
type Answered<Call> = Call extends { responses: { 200: { content: { "application/json": infer Json } } } } ? Json : never;

export type Input<P extends Path> = Body<Post<P>>;
export type Answer<P extends Path> = Answered<Post<P>>;

export interface Remark {
  code: string;
  field: string;
  text: string;
  next?: string;
}
export type Result<T> =
  | { kind: "answered"; answer: T }
  | { kind: "refused"; refusals: Remark[] }
  | { kind: "not_reached" };

const patience_ms = 20_000;

/// Any path by its name: for forms made from the description. `stop` calls it off.
export async function post(path: string, body: unknown, stop = new AbortController(), patience = patience_ms): Promise<Result<unknown>> {
  const timer = setTimeout(() => stop.abort(), patience);
  try {
    const reply = await fetch(`.${path}`, {
      method: "POST",
      headers: { "Content-Type": "application/json", "Accept-Language": settings.value.language },
      body: JSON.stringify(body),
      signal: stop.signal,
    });
    if (reply.ok) return { kind: "answered", answer: await reply.json() };
    if (reply.status >= 500 || reply.status === 408 || reply.status === 429) return { kind: "not_reached" };
    const told = (await reply.json().catch(() => ({}))) as { refusals?: Remark[] };
    return { kind: "refused", refusals: told.refusals ?? [{ code: "", field: "", text: `HTTP ${reply.status}` }] };
  } catch {
    return { kind: "not_reached" };
  } finally {
    clearTimeout(timer);
  }
}

/// The same for long work, told how far it is (0 to 1). Whoever calls `stop` calls the work itself off.
export async function watch(path: string, body: unknown, stop: AbortController, progress: (share: number) => void): Promise<Result<unknown>> {
  try {
    const reply = await fetch(`.${path}`, {
      method: "POST",
      headers: { "Content-Type": "application/json", Accept: "text/event-stream", "Accept-Language": settings.value.language },
      body: JSON.stringify(body),
      signal: stop.signal,
    });
    if (!reply.ok || !reply.body) return { kind: "not_reached" };
    const reader = reply.body.getReader();
    const decoder = new TextDecoder();
    for (let text = ""; ;) {
      const { done, value } = await reader.read();
      if (done) return { kind: "not_reached" };
      text += decoder.decode(value, { stream: true });
      const frames = text.split("\n\n");
      text = frames.pop() ?? "";
      for (const frame of frames) {
        const told = frame.match(/^event: (\w+)\ndata: (.*)$/);
        const data = told ? (JSON.parse(told[2] ?? "{}") as { share?: number; status?: number; refusals?: Remark[] }) : {};
        if (told?.[1] === "progress") progress(data.share ?? 0);
        if (told?.[1] === "answer") return { kind: "answered", answer: data };
        if (told?.[1] === "refused") return (data.status ?? 500) >= 500 ? { kind: "not_reached" } : { kind: "refused", refusals: data.refusals ?? [] };
      }
    }
  } catch {
    return { kind: "not_reached" };
  }
}

export async function ask<P extends Path>(path: P, body: Input<P>): Promise<Result<Answer<P>>> {
  return (await post(path, body)) as Result<Answer<P>>;
}
