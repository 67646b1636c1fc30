// Lists of the record as last seen, with what is still on its way from here: the same on a patchy network.
import { effect, signal, type Signal } from "@preact/signals";
import { ask, type Answer } from "../api/ask";
import { settings } from "../settings";
import { read } from "../units/quantity";
import { put, take } from "./database";
import { arrivals, entries, send, type Waiting } from "./queue";

type Listed = Answer<"/api/record/list">["entries"][number];

export interface Entry {
  id: string;
  root: string;                         // the first of its corrections: what others name it by
  kind: string;
  values: Record<string, unknown>;      // by column, the unit in its name: oxygen_mg_per_l
  text: string;
  recorded_at: number;
  state: "kept" | "waiting" | "refused" | "sent";
  earlier: { text: string; values: Record<string, unknown>; reason: string }[];
}
export interface Seen {
  entries: Entry[];
  known: boolean;                       // whether the list has ever been read, here or on the server
  read_at?: number;                     // when the server was asked for it
}

const lists = new Map<string, Signal<Seen>>();
const most = 500;

function entryOf(listed: Listed): Entry {
  const values = JSON.parse(listed.line) as Record<string, unknown>;
  return {
    id: listed.id, root: listed.thing_id, kind: listed.kind, values, text: listed.text,
    recorded_at: Date.parse(listed.recorded_at ?? ""), state: "kept", earlier: [],
  };
}

/// The entries as they stand, each with those it took the place of, the latest first.
function standing(now: Listed[], history: Listed[]): Entry[] {
  return now.map((each) => {
    const entry = entryOf(each);
    const chain = history.filter((one) => one.thing_id === each.thing_id);
    // The reason why a version went is told by the one that took its place.
    entry.earlier = chain.slice(0, -1).map((one, index) => ({ text: one.text, values: JSON.parse(one.line) as Record<string, unknown>, reason: chain[index + 1]?.reason ?? "" })).reverse();
    return entry;
  });
}

const columns: Record<string, [string, (text: string) => unknown]> = {
  oxygen: ["oxygen_mg_per_l", (text) => read(text)?.inside],
  temperature: ["temperature_c", (text) => read(text)?.inside],
  volume: ["volume_l", (text) => read(text)?.inside],
  ph: ["ph", Number],
};
const hidden = ["id", "brew", "garden", "plan", "forecast", "image"];  // in words of what is on its way

/// An entry with the corrections that are on their way from here. One the server has is in the list, if that was read
/// since.
function corrected(entry: Entry, read_at: number): Entry {
  const mine = entries.value.filter((each) => each.kind === "correct" && (each.body["id"] === entry.id || each.body["id"] === entry.root) && (each.state === "waiting" || (each.state === "sent" && (each.sent_at ?? 0) >= read_at)));
  return mine.reduce((now, { body }) => {
    const name = String(body["field"]);
    const column = columns[name];
    const values = { ...now.values, [column ? column[0] : name]: column ? column[1](String(body["value"])) : body["value"] };
    return { ...now, values, state: "waiting", earlier: [{ text: now.text, values: now.values, reason: String(body["reason"]) }, ...now.earlier] };
  }, entry);
}

/// An entry on its way as the record would show it.
function onItsWay(waiting: Waiting): Entry {
  const values: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(waiting.body)) {
    const column = columns[name];
    values[column ? column[0] : name] = column ? column[1](String(value)) : value;
  }
  const text = Object.entries(waiting.body).filter(([name]) => !hidden.includes(name)).map(([name, value]) => `${name} ${String(value)}`).join("; ");
  return { id: waiting.id, root: waiting.id, kind: waiting.kind, values, text, recorded_at: waiting.made_at, state: waiting.state, earlier: [] };
}

interface Wanted {
  kind: string;
  field?: string | undefined;
  names?: string | undefined;
}

async function refresh(key: string, { kind, field, names }: Wanted): Promise<void> {
  const list = lists.get(key);
  if (!list) return;
  if (names && entries.peek().some((each) => each.id === names && each.state !== "sent")) {
    list.value = { ...list.peek(), known: true };  // what they would name is still on its way
    return;
  }
  const read_at = Date.now();
  const wanted = { kind, most, ...(field && names ? { field, names } : {}) } as never;
  const [now, history] = await Promise.all([ask("/api/record/list", wanted), ask("/api/record/list", { ...(wanted as object), history: true } as never)]);
  if (now.kind === "answered" && history.kind === "answered") {
    list.value = { entries: standing(now.answer.entries, history.answer.entries), known: true, read_at };
    await put("seen", key, list.value);
  } else if (now.kind === "refused" && !list.value.known) {
    list.value = { entries: [], known: true };  // nothing kept yet, or named by something still on its way
  }
}

function listOf(wanted: Wanted): Signal<Seen> {
  const key = [wanted.kind, wanted.field ?? "", wanted.names ?? ""].join(" ");
  let list = lists.get(key);
  if (!list) {
    list = signal<Seen>({ entries: [], known: false });
    lists.set(key, list);
    const made = list;
    void take<Seen>("seen", key).then((seen) => {
      if (!seen || made.value.known) return;
      // What an older page kept did not have the values of what was before.
      made.value = { ...seen, entries: seen.entries.map((entry) => ({ ...entry, earlier: entry.earlier.map((each) => ({ ...each, values: each.values ?? {} })) })) };
    });
    effect(() => {
      void arrivals.value;
      void settings.value.language;
      void refresh(key, wanted);
    });
  }
  return list;
}

/// Entries of a kind, newest last; with `names`, those that name a thing in a field. Follows the record while shown.
export function listed(kind: string, field?: string, names?: string): Seen {
  const seen = listOf({ kind, field, names }).value;
  const put_right = (entry: Entry) => corrected(entry, seen.read_at ?? 0);
  const known = new Set(seen.entries.flatMap((entry) => [entry.id, entry.root]));
  const mine = entries.value.filter((each) => each.kind === kind && !known.has(each.id) && (!field || each.body[field] === names)).map(onItsWay);
  return { entries: [...seen.entries, ...mine].map(put_right), known: seen.known || mine.length > 0 };
}

/// The same once it has been read, here or from the server; after a moment, whatever there is.
export async function listedSoon(kind: string): Promise<Entry[]> {
  for (let tries = 0; tries < 100 && !listed(kind).known; tries++) await new Promise((done) => setTimeout(done, 20));
  return listed(kind).entries.filter((each) => each.state !== "refused");
}

export const momentOf = (entry: Entry, column = "at") => Date.parse(String(entry.values[column] ?? ""));
export const textOf = (entry: Entry, column: string) => (entry.values[column] === undefined ? "" : String(entry.values[column]));
export const numberOf = (entry: Entry, column: string) => {
  const value = entry.values[column];
  return typeof value === "number" && Number.isFinite(value) ? value : null;
};

/// Reads everything shown again: when the record says something came, when the page comes back to the front.
export const look = () => { arrivals.value++; };
addEventListener("online", look);
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") look();
});

let later: ReturnType<typeof setTimeout> | undefined;
const lookSoon = () => {
  clearTimeout(later);
  later = setTimeout(look, 200);
};
/// The record's own news, as server-sent events; the browser comes back by itself when they break off.
export function follow(): void {
  const events = new EventSource("./api/events");
  for (const name of ["entry", "gap", "message"]) events.addEventListener(name, lookSoon);
  let open = false;
  events.addEventListener("open", () => {
    if (open) lookSoon();  // something may have been missed in between
    void send();           // barm is within reach: whatever waits can go out
    open = true;
  });
  events.addEventListener("error", () => {
    if (events.readyState === EventSource.CLOSED) setTimeout(follow, 10_000);
  });
}
