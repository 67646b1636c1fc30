// Counts of the record as the forecast hears them, in the form its log has. The same reading of them as the server's own
// (`barm brew day`), so that what is still on its way here is heard too; a browser test holds the two together.
import { listed, momentOf, numberOf, textOf, type Entry } from "../keep/record";
import { changed, textAt, valueAt, type Plan } from "../plan/document";
import type { Brew } from "./brew";

interface Estimate {
  per_ml: number;
  error: number | null;   // of its natural logarithm
}
export interface Row {
  at: number;
  bacteria?: Estimate;
  protozoa?: Estimate;
}

const normal_95 = 1.959963984540054;   // two-sided 95 % of the normal distribution
const underMicroscope = (entry: Entry) => entry.state !== "refused" && textOf(entry, "method") === "microscope";

function errorOf(entry: Entry): number | null {
  const low = numberOf(entry, "density_low_per_ml");
  const high = numberOf(entry, "density_high_per_ml");
  return low !== null && high !== null && low > 0 && high > low ? Math.log(high / low) / (2 * normal_95) : null;
}

function together(one: Estimate | undefined, other: Estimate | undefined): Estimate | undefined {
  if (!one || !other) return one ?? other;
  const per_ml = one.per_ml + other.per_ml;
  const part = (of: Estimate) => (of.per_ml === 0 ? 0 : of.error === null ? NaN : of.per_ml * of.error);
  const error = Math.hypot(part(one), part(other)) / per_ml;
  return { per_ml, error: Number.isFinite(error) ? error : null };
}

/// Everything counted of a brew or of what went into it.
export function countsOf(brew: Brew): Entry[] {
  const parts = [...new Set(listed("mix", "into", brew.id).entries.map((each) => textOf(each, "part")))];
  return [brew.id, ...parts].flatMap((of) => listed("count", "of", of).entries).filter((each) => each.state !== "refused");
}

/// What slides of the brew showed, the oldest first. Plates and tubes show only what grows and are left out.
export function slidesOf(brew: Brew): Row[] {
  const at = new Map<number, Partial<Record<string, Estimate>>>();
  for (const entry of listed("count", "of", brew.id).entries.filter(underMicroscope)) {
    const per_ml = numberOf(entry, "density_per_ml");
    if (per_ml === null || momentOf(entry) > Date.now()) continue;
    const seen = at.get(momentOf(entry)) ?? {};
    seen[textOf(entry, "organism")] = { per_ml, error: errorOf(entry) };
    at.set(momentOf(entry), seen);
  }
  return [...at].sort(([a], [b]) => a - b).flatMap(([moment, seen]): Row[] => {
    const bacteria = seen["bacteria"];
    const protozoa = together(seen["flagellates"], seen["amoebae"]);
    return bacteria || protozoa ? [{ at: moment, ...(bacteria ? { bacteria } : {}), ...(protozoa ? { protozoa } : {}) }] : [];
  });
}

/// The plan begun from the newest slide of its compost, where it names no count of its own and one lot went in.
export function fromLot(brew: Brew, plan: Plan): Plan {
  const lots = [...new Set(listed("mix", "into", brew.id).entries.map((each) => textOf(each, "part")))].filter((id) => listed("compost_lot").entries.some((each) => each.root === id || each.id === id));
  const composts = (valueAt(plan, "compost") ?? []) as unknown[];
  if (lots.length !== 1 || composts.length !== 1 || textAt(plan, "compost[1].bacteria")) return plan;
  const counts = listed("count", "of", lots[0]).entries.filter((each) => underMicroscope(each) && textOf(each, "organism") === "bacteria" && (numberOf(each, "per_g") ?? 0) > 0 && momentOf(each) <= Date.now());
  const newest = counts.sort((a, b) => momentOf(a) - momentOf(b)).at(-1);
  const per_g = newest ? numberOf(newest, "per_g") ?? 0 : 0;
  if (!newest || per_g < 1) return plan;
  const error = errorOf(newest);
  const begun = changed(plan, "compost[1].bacteria", String(per_g));
  return error === null ? begun : changed(begun, "compost[1].bacteria_error", String(error));
}
