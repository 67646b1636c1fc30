// A forecast's answer as the pictures want it: moments instead of texts, and the few acts worth a tick.
import type { Answer } from "../api/ask";
import { say } from "../words/words";
import type { Act, Dot, Night } from "./night";
import type { Life } from "./life";

export type Forecast = Pick<
  Answer<"/api/brew/plan">,
  "start" | "time_h" | "oxygen_mg_per_l" | "saturation_mg_per_l" | "bacteria_per_ml" | "protozoa_per_ml" | "fungi_ug_per_ml" | "ready_window" | "next_reading" | "readings" | "minutes_to_2_after_air_off"
> & Partial<Pick<Answer<"/api/brew/plan">, "nights" | "steps">>;

const hour = 3_600_000;
const acts: Record<string, () => string> = {
  "recipe.step.air_on": () => say("act.air_on"),
  "recipe.step.bag_in": () => say("act.bag_in"),
  "recipe.step.loose_in": () => say("act.compost_in"),
  "recipe.step.food": () => say("act.food"),
  "recipe.step.bag_out": () => say("act.bag_out"),
  "recipe.step.air_off": () => say("act.air_off"),
  "recipe.step.use_at_once": () => say("act.air_off"),
};
const instrument_error_mg_per_l = 0.3;  // judged: a cheap meter, looked after

export interface Told {
  zone: string;
  now?: number | null;
  dots?: Dot[];
}

export function endOf(forecast: Forecast): number {
  const off = forecast.steps?.find((step) => /use_at_once|air_off/.test(step.code))?.at_h ?? forecast.time_h.at(-1) ?? 24;
  const to = forecast.ready_window.to_h ?? 0;
  return Date.parse(forecast.start ?? "") + (Math.max(off, to) + 3) * hour;
}

const span = (each: { from: string | null; to: string | null }) => ({ from: Date.parse(each.from ?? ""), to: Date.parse(each.to ?? "") });

export function nightOf(forecast: Forecast, { zone, now = null, dots }: Told): Night {
  const { ready_window: ready } = forecast;
  const next = forecast.next_reading[0];
  const told: Act[] = (forecast.steps ?? []).flatMap((step) => {
    const act = acts[step.code];
    return act ? [{ at: Date.parse(step.at ?? ""), text: act() }] : [];
  });
  const read = forecast.readings
    .filter((each) => each.what === "oxygen" && each.value !== null)
    .map((each): Dot => ({ at: Date.parse(each.at ?? ""), value: each.value ?? 0, error: instrument_error_mg_per_l, doubted: each.fate !== "used" && each.fate !== "merged" }));
  return {
    zone, now,
    start: Date.parse(forecast.start ?? ""),
    to: endOf(forecast),
    hours: forecast.time_h as number[],
    oxygen: forecast.oxygen_mg_per_l,
    saturation: forecast.saturation_mg_per_l,
    nights: (forecast.nights ?? []).map(span),
    ready: ready.exists && ready.from && ready.to ? span(ready) : null,
    acts: told,
    dots: dots ?? read,
    next: next?.at ? Date.parse(next.at) : null,
  };
}

export function lifeOf(forecast: Forecast, zone: string): Life {
  return {
    zone,
    start: Date.parse(forecast.start ?? ""),
    to: endOf(forecast),
    hours: forecast.time_h as number[],
    bacteria: forecast.bacteria_per_ml,
    protozoa: forecast.protozoa_per_ml,
    fungi: forecast.fungi_ug_per_ml,
    nights: (forecast.nights ?? []).map(span),
  };
}
