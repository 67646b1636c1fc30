// The plan as it is asked: the same tree as a plan file. It is kept in the address, so that it can be sent.
import type { Input } from "../api/ask";
import { settings, type Measures } from "../settings";
import { atWall, iso, wallOf } from "../words/time";

export type Plan = Input<"/api/brew/plan">;

/// Degrees north and east of a town of the zone; near enough for the sun.
export async function townOf(zone: string): Promise<[number, number]> {
  const zones = (await import("virtual:zones")).default;
  return zones[zone] ?? [45, 0];
}

export const hereZone = () => Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC";

/// The next half past six in the evening that is at least an hour off: brews run overnight.
export function nextEvening(now: number, zone: string): string {
  const today = atWall(`${wallOf(now, zone).slice(0, 10)}T18:30`, zone);
  return iso(today > now + 3_600_000 ? today : today + 24 * 3_600_000, zone);
}

/// The bucket a newcomer finds planned: the sample of the house, in the newcomer's own evening.
export function sample(measures: Measures, zone: string, now: number): Plan {
  const us = measures === "us";
  const spanish = settings.value.language === "es";
  return {
    brew: {
      name: spanish ? "La primera cubeta" : "A first bucket",
      start: nextEvening(now, zone),
      aim: "balanced",
      length: "20 h",
    },
    garden: { zone, latitude: "45", longitude: "0", altitude: us ? "300 ft" : "90 m", measures },
    water: {
      volume: us ? "5 US gal" : "19 L",
      temperature: us ? "66 °F" : "19 °C",
      free_chlorine: "0.4 mg/L",
    },
    vessel: { diameter: us ? "11 in" : "28 cm" },
    air: { rated_flow: us ? "300 US gal/h" : "1100 L/h", maximum_pressure: us ? "3.5 psi" : "25 kPa", diffuser: "stone" },
    room: { temperature: us ? "65 °F" : "18 °C" },
    compost: [{ kind: "mixed", mass: us ? "1.75 lb" : "760 g" }],
    food: [
      { name: "blackstrap molasses", amount: "3 tbsp" },
      { name: "kelp meal", amount: "2 tsp" },
      { name: "fish hydrolysate", amount: "1 tsp" },
    ],
  };
}

/// A copy with one value put at a path such as "water.volume" or "food[2].amount" (rows count from 1). Nothing given: the
/// value, or the whole row, is left out.
export function changed(plan: Plan, path: string, value: unknown): Plan {
  const copy = structuredClone(plan) as Record<string, unknown>;
  const steps = path.split(".");
  let at: Record<string, unknown> = copy;
  for (const [index, step] of steps.entries()) {
    const row = step.match(/^(\w+)\[(\d+)\]$/);
    const last = index === steps.length - 1;
    if (row) {
      const rows = (at[row[1] ?? ""] ??= []) as Record<string, unknown>[];
      const number = Number(row[2]) - 1;
      if (last) {
        if (value === undefined) rows.splice(number, 1);
        return copy as Plan;
      }
      at = rows[number] ??= {};
    } else if (last) {
      if (value === undefined) delete at[step];
      else at[step] = value;
    } else {
      at = (at[step] ??= {}) as Record<string, unknown>;
    }
  }
  return copy as Plan;
}

export function valueAt(plan: unknown, path: string): unknown {
  let at: unknown = plan;
  for (const step of path.replace(/\[(\d+)\]/g, ".$1").split(".")) {
    if (at === null || typeof at !== "object") return undefined;
    at = Array.isArray(at) ? at[Number(step) - 1] : (at as Record<string, unknown>)[step];
  }
  return at;
}

export const textAt = (plan: unknown, path: string) => {
  const value = valueAt(plan, path);
  return value === undefined || value === null ? "" : String(value);
};
