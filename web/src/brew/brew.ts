// A brew as the screens see it: its entry, its plan, what was read of it, and the forecast those give.
import { signal, type Signal } from "@preact/signals";
import { ask, type Remark } from "../api/ask";
import { put, take } from "../keep/database";
import { listed, momentOf, numberOf, textOf, type Entry } from "../keep/record";
import type { Dot } from "../picture/night";
import { changed, textAt, valueAt, type Plan } from "../plan/document";
import type { PlanAnswer } from "../plan/planner";
import { settings } from "../settings";
import { fromLot, slidesOf, type Row } from "./counted";
import { iso } from "../words/time";

export interface Brew {
  id: string;                  // by which others name it
  now: Entry;                  // as it stands
  name: string;
  zone: string;
  on: number;                  // ms, air on
  off: number | null;          // ms, air off
  plan: Plan | null;
}

const hour = 3_600_000;

export function brewOf(entry: Entry): Brew {
  let plan: Plan | null = null;
  try {
    const kept = entry.values["plan"];
    const told: unknown = typeof kept === "string" ? JSON.parse(kept) : kept;
    if (told && typeof told === "object" && "water" in told) plan = told as Plan;
  } catch {
    plan = null;  // kept by another hand: the brew is shown without a forecast
  }
  const off = momentOf(entry, "air_off_at");
  return {
    id: entry.root, now: entry, name: textOf(entry, "name"), plan,
    zone: textAt(plan, "garden.zone") || Intl.DateTimeFormat().resolvedOptions().timeZone,
    on: momentOf(entry, "air_on_at"), off: Number.isNaN(off) ? null : off,
  };
}

export const brews = () => {
  const seen = listed("brew");
  return { known: seen.known, all: seen.entries.map(brewOf).sort((a, b) => b.on - a.on) };
};
/// Going on: not ended, and not so long ago that somebody forgot to say so.
export const isLive = (brew: Brew, now: number) => brew.off === null && now < brew.on + 60 * hour;

export const readingsOf = (brew: Brew) => listed("reading", "brew", brew.id).entries.sort((a, b) => momentOf(a) - momentOf(b));
export const observationsOf = (brew: Brew) => listed("observation", "brew", brew.id).entries.sort((a, b) => momentOf(a) - momentOf(b));

export const photosOf = (brew: Brew) => listed("photo", "brew", brew.id).entries.filter((each) => each.state !== "refused").sort((a, b) => momentOf(a) - momentOf(b));

/// What the forecast learns from, as a table: hours since air on. Refused entries teach nothing.
function table(brew: Brew, readings: Entry[], slides: Row[]): string {
  const hours = (at: number) => ((at - brew.on) / hour).toFixed(4);
  const read = readings
    .filter((each) => each.state !== "refused" && momentOf(each) >= brew.on)
    .map((each) => ({ at: momentOf(each), oxygen: numberOf(each, "oxygen_mg_per_l"), temperature: numberOf(each, "temperature_c") }))
    .filter((each) => each.oxygen !== null || each.temperature !== null)
    .map((each) => ({ at: each.at, line: `${hours(each.at)},${each.oxygen ?? ""},${each.temperature ?? ""},,,,` }));
  const seen = slides
    .filter((each) => each.at >= brew.on)
    .map(({ at, bacteria, protozoa }) => ({ at, line: `${hours(at)},,,${bacteria?.per_ml ?? ""},${bacteria?.error ?? ""},${protozoa?.per_ml ?? ""},${protozoa?.error ?? ""}` }));
  const rows = [...read, ...seen].sort((one, other) => one.at - other.at);
  if (rows.length === 0) return "";
  return ["time_h,oxygen_mg_per_l,temperature_c,bacteria_per_ml,bacteria_error,protozoa_per_ml,protozoa_error", ...rows.map((each) => each.line)].join("\n") + "\n";
}

/// The plan as the forecast is asked: begun when the air really went on, with what was read and counted so far.
export function askedOf(brew: Brew, plan: Plan, readings: Entry[], counts: boolean): Plan {
  const log = table(brew, readings, counts ? slidesOf(brew) : []);
  const begun = changed(counts ? fromLot(brew, plan) : plan, "brew.start", iso(brew.on, brew.zone));
  return log ? changed(begun, "readings", log) : begun;
}

export interface Told {
  answer: PlanAnswer | null;
  refusals: Remark[];
  old: boolean;             // the last one known; barm was not reached for a newer
}
interface Asked {
  told: Signal<Told>;
  asked: string;
  busy: boolean;
}
const asked = new Map<string, Asked>();

/// The forecast with the readings so far; asked anew when those change.
export function forecastOf(brew: Brew, readings: Entry[]): Told {
  let held = asked.get(brew.id);
  if (!held) {
    held = { told: signal<Told>({ answer: null, refusals: [], old: false }), asked: "", busy: false };
    asked.set(brew.id, held);
    const { told } = held;
    void take<PlanAnswer>("seen", `forecast ${brew.id}`).then((answer) => {
      if (answer && !told.value.answer) told.value = { answer, refusals: [], old: true };
    });
  }
  if (brew.plan) {
    const plan = askedOf(brew, brew.plan, readings, true);
    const key = `${settings.value.language} ${JSON.stringify(plan)}`;
    if (held.asked !== key) {
      held.asked = key;
      void work(brew.id, held, plan);
    }
  }
  return held.told.value;
}

async function work(id: string, held: Asked, plan: Plan): Promise<void> {
  const key = held.asked;
  const result = await ask("/api/brew/plan", plan);
  if (held.asked !== key) return;  // a newer one is on its way
  if (result.kind === "answered") {
    held.told.value = { answer: result.answer, refusals: [], old: false };
    await put("seen", `forecast ${id}`, result.answer);
  } else if (result.kind === "refused") {
    held.told.value = { ...held.told.value, refusals: result.refusals };
  } else {
    held.told.value = { ...held.told.value, old: held.told.value.answer !== null };
    setTimeout(() => { if (held.asked === key) void work(id, held, plan); }, 5000);
  }
}

/// What became of the oxygen read at each minute.
export function fatesOf(answer: PlanAnswer | null): Map<number, string> {
  const oxygen = (answer?.readings ?? []).filter((each) => each.what.startsWith("oxygen"));
  return new Map(oxygen.map((each) => [Math.round(Date.parse(each.at ?? "") / 60_000), each.fate]));
}
export const isDoubted = (fate: string | undefined) => fate !== undefined && fate !== "used" && fate !== "merged";

/// Readings not yet in the answer are drawn all the same.
export function dotsOf(readings: Entry[], answer: PlanAnswer): Dot[] {
  const fates = fatesOf(answer);
  return readings.flatMap((each) => {
    const value = numberOf(each, "oxygen_mg_per_l");
    if (value === null) return [];
    const at = momentOf(each);
    return [{ at, value, error: 0.3, doubted: isDoubted(fates.get(Math.round(at / 60_000))) }];
  });
}

export const volumeOf = (brew: Brew) => (brew.plan ? String(valueAt(brew.plan, "water.volume") ?? "") : "");
