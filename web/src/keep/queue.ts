// Entries on their way to the record: kept on this device first, sent in the order they were made, each until it is
// answered. Its id was made here, so that what is sent twice is kept once.
import { computed, signal } from "@preact/signals";
import { post, type Remark } from "../api/ask";
import { all, put, remove } from "./database";
import { newId } from "./id";

export interface Waiting {
  key: string;                     // orders them: time made, then a counter
  id: string;
  kind: string;                    // "reading", or "correct"
  body: Record<string, unknown>;   // as the operation takes it, id and all
  made_at: number;
  state: "waiting" | "refused" | "sent";
  refusals: Remark[];
  sent_at?: number;
}

export const entries = signal<Waiting[]>([]);
export const waiting = computed(() => entries.value.filter((entry) => entry.state === "waiting"));
export const refused = computed(() => entries.value.filter((entry) => entry.state === "refused"));
export const arrivals = signal(0);     // counts what has reached the record, from here or elsewhere

const linger_ms = 10 * 60_000;         // a sent entry is shown until the lists have it
let counter = 0;
let sending = false;
let soon: ReturnType<typeof setTimeout> | undefined;
let delay_ms = 1000;

export const addPath = (kind: string) => `/api/record/add-${kind.replaceAll("_", "-")}`;
const pathOf = (entry: Waiting) => (entry.kind === "correct" ? "/api/record/correct" : addPath(entry.kind));

/// Keeps an entry; done when it is on this device. It goes out by itself.
export async function add(kind: string, fields: Record<string, unknown>): Promise<string> {
  const id = newId();
  const given = Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined && value !== ""));
  return keep(kind, id, { ...given, id });
}

/// Keeps a correction likewise: one value of an entry, which may itself still be on its way and then goes out before.
export async function correct(of: string, field: string, value: string, reason: string): Promise<string> {
  const id = newId();
  return keep("correct", id, { id: of, field, value, reason, new_id: id });
}

async function keep(kind: string, id: string, body: Record<string, unknown>): Promise<string> {
  const now = Date.now();
  const entry: Waiting = {
    key: `${String(now).padStart(15, "0")}.${String(counter++).padStart(6, "0")}.${id}`,
    id, kind, body, made_at: now, state: "waiting", refusals: [],
  };
  await put("entries", entry.key, entry);
  entries.value = [...entries.value, entry];
  void send();
  return id;
}

/// Takes a refused entry out, to be written anew or left.
export async function drop(entry: Waiting): Promise<void> {
  await remove("entries", entry.key);
  entries.value = entries.value.filter((each) => each.key !== entry.key);
}

async function mark(entry: Waiting, change: Partial<Waiting>): Promise<void> {
  const now = { ...entry, ...change };
  await put("entries", entry.key, now);
  entries.value = entries.value.map((each) => (each.key === entry.key ? now : each));
}

async function sendAll(): Promise<void> {
  for (;;) {
    const next = entries.value.find((entry) => entry.state === "waiting");
    if (!next) return;
    const result = await post(pathOf(next), next.body);
    if (result.kind === "not_reached") {
      clearTimeout(soon);
      soon = setTimeout(() => void send(), delay_ms);
      delay_ms = Math.min(2 * delay_ms, 30_000);
      return;
    }
    delay_ms = 1000;
    if (result.kind === "refused") await mark(next, { state: "refused", refusals: result.refusals });
    else await mark(next, { state: "sent", sent_at: Date.now() });
    arrivals.value++;
  }
}

/// One page of this browser at a time where it can be told; twice would do no harm.
export async function send(): Promise<void> {
  if (sending) return;
  sending = true;
  try {
    if (navigator.locks) await navigator.locks.request("barm-sending", sendAll);
    else await sendAll();
  } finally {
    sending = false;
  }
}

/// Takes up what an earlier page left.
export async function awake(): Promise<void> {
  const kept = await all<Waiting>("entries");
  const old = Date.now() - linger_ms;
  for (const entry of kept) if (entry.state === "sent" && (entry.sent_at ?? 0) < old) await remove("entries", entry.key);
  entries.value = kept.filter((entry) => entry.state !== "sent" || (entry.sent_at ?? 0) >= old);
  void send();
}

addEventListener("online", () => {
  delay_ms = 1000;
  void send();
});
