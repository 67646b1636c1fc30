// The questions of a plan: six folds, each with its present answer in its line.
import kinds, { type Named } from "virtual:kinds";
import type { Remark } from "../api/ask";
import { Fold, Keys, Line, MomentField, Pick } from "../pieces/fields";
import { QuantityField, type Extent } from "../pieces/quantity_field";
import { settings } from "../settings";
import { inUnit, read, type Dimension } from "../units/quantity";
import { clock } from "../words/time";
import { say, type Key } from "../words/words";
import { Prices, pricesWrong } from "./cost";
import { changed, textAt, valueAt, type Plan } from "./document";
import { change, plan, refusals } from "./planner";

const wide = matchMedia("(min-width: 900px)");

interface Slide {
  path: string;
  label: Key;
  of: Dimension;
  metric: string;
  us: string;
  extent: Extent;
  hint?: Key;
}
// How far a slider reaches; a text may say more, up to what the server takes.
const slides: Record<string, Slide> = {
  length: { path: "brew.length", label: "plan.length", of: "duration", metric: "h", us: "h", extent: { least: 6, most: 40 } },
  volume: { path: "water.volume", label: "plan.volume", of: "volume", metric: "L", us: "US gal", extent: { least: 4, most: 1000, log: true } },
  temperature: { path: "water.temperature", label: "plan.temperature", of: "temperature", metric: "°C", us: "°F", extent: { least: 5, most: 35 } },
  chlorine: { path: "water.free_chlorine", label: "plan.free_chlorine", of: "concentration", metric: "mg/L", us: "mg/L", extent: { least: 0, most: 4 }, hint: "plan.chlorine_hint" },
  chloramine: { path: "water.chloramine", label: "plan.chloramine", of: "concentration", metric: "mg/L", us: "mg/L", extent: { least: 0, most: 4 } },
  diameter: { path: "vessel.diameter", label: "plan.diameter", of: "length", metric: "cm", us: "in", extent: { least: 0.15, most: 1.5, log: true } },
  flow: { path: "air.rated_flow", label: "plan.rated_flow", of: "flow", metric: "L/h", us: "US gal/h", extent: { least: 100, most: 30_000, log: true }, hint: "plan.rated_flow_hint" },
  pressure: { path: "air.maximum_pressure", label: "plan.maximum_pressure", of: "pressure", metric: "kPa", us: "psi", extent: { least: 5, most: 60 } },
  room: { path: "room.temperature", label: "plan.room", of: "temperature", metric: "°C", us: "°F", extent: { least: 0, most: 38 } },
  night: { path: "room.night", label: "plan.room_night", of: "temperature", metric: "°C", us: "°F", extent: { least: 0, most: 38 }, hint: "plan.room_night_hint" },
};

const put = (path: string, value: unknown) => change(changed(plan.value as Plan, path, value));
const wrongAt = (path: string): Remark[] => refusals.value.filter((each) => each.field === path);
const told = (path: string) => textAt(plan.value, path);
const anyWrong = (...tables: string[]) => refusals.value.some((each) => tables.some((table) => each.field.startsWith(table)));

function Slider({ of }: { of: keyof typeof slides }) {
  const { path, label, metric, us, extent, hint, of: dimension } = slides[of] as Slide;
  return (
    <QuantityField
      label={say(label)} value={told(path)} unit={settings.value.measures === "us" ? us : metric} of={dimension} extent={extent}
      refusals={wrongAt(path)} {...(hint ? { hint: say(hint) } : {})} set={(text) => put(path, text === "" ? undefined : text)}
    />
  );
}

const nameOf = (all: Named[], value: string) => {
  const found = all.find((each) => each.value === value);
  return found ? found[settings.value.language] : value;
};
const offered = (all: Named[]) => all.map((each) => ({ value: each.value, label: each[settings.value.language] }));

const litres = () => read(told("water.volume"))?.inside ?? 19;

function Foods() {
  const foods = (valueAt(plan.value, "food") ?? []) as { name: string; amount: string }[];
  const most = 0.006 * litres();  // L in the water: past a rich brew
  return (
    <>
      {foods.map((food, index) => {
        const path = `food[${index + 1}]`;
        const isMass = read(food.amount)?.of === "mass";
        return (
          <div class="row" key={index}>
            <Pick label={say("plan.food_name")} options={offered(kinds.foods)} value={food.name} set={(value) => put(`${path}.name`, value)} refusals={wrongAt(`${path}.name`)} />
            <QuantityField
              label={say("plan.food_amount", { food: nameOf(kinds.foods, food.name) })} value={food.amount} unit="tsp" of="amount"
              extent={isMass ? { least: 0.5, most: 1400 * most } : { least: 0.00123, most }}
              refusals={wrongAt(`${path}.amount`)} set={(text) => put(`${path}.amount`, text)}
            />
            <button type="button" class="plain" onClick={() => put(path, undefined)}>{say("plan.leave_out", { what: nameOf(kinds.foods, food.name) })}</button>
          </div>
        );
      })}
      <button type="button" class="plain" onClick={() => change({ ...(plan.value as Plan), food: [...foods, { name: unusedName(foods, kinds.foods), amount: "1 tsp" }] })}>
        {say("plan.add_food")}
      </button>
    </>
  );
}

/// The first kind of the list that the plan has not.
function unusedName(rows: { name: string }[], all: Named[]): string {
  return all.find((each) => !rows.some((row) => row.name === each.value))?.value ?? all[0]?.value ?? "";
}

function Composts() {
  const composts = (valueAt(plan.value, "compost") ?? []) as { kind: string; mass: string }[];
  const most = 120 * litres();  // g
  return (
    <>
      {composts.map((compost, index) => {
        const path = `compost[${index + 1}]`;
        return (
          <div class="row" key={index}>
            <Pick label={say("plan.compost_kind")} options={offered(kinds.composts)} value={compost.kind} set={(value) => put(`${path}.kind`, value)} refusals={wrongAt(`${path}.kind`)} />
            <QuantityField
              label={say("plan.compost_mass")} value={compost.mass} unit={settings.value.measures === "us" ? "lb" : "g"} of="mass"
              extent={{ least: 4 * litres(), most, log: true }} refusals={wrongAt(`${path}.mass`)} set={(text) => put(`${path}.mass`, text)}
            />
            {composts.length > 1
              ? <button type="button" class="plain" onClick={() => put(path, undefined)}>{say("plan.leave_out", { what: nameOf(kinds.composts, compost.kind) })}</button>
              : null}
          </div>
        );
      })}
      <button
        type="button" class="plain"
        onClick={() => change({ ...(plan.value as Plan), compost: [...composts, { kind: "worm", mass: `${Math.round(10 * litres())} g` }] })}
      >
        {say("plan.add_compost")}
      </button>
    </>
  );
}

export function Questions() {
  const zone = told("garden.zone");
  const start = Date.parse(told("brew.start"));
  const aims = ["balanced", "bacterial", "fungal"].map((value) => ({ value, label: say(`aim.${value}` as Key) }));
  const diffusers = ["stone", "fine", "open tube"].map((value) => ({ value, label: say(`diffuser.${value.replace(" ", "_")}` as Key) }));
  const foods = (valueAt(plan.value, "food") ?? []) as { name: string; amount: string }[];
  const composts = (valueAt(plan.value, "compost") ?? []) as { kind: string; mass: string }[];
  const inUse = (...tables: string[]) => wide.matches || anyWrong(...tables);
  return (
    <div class="questions">
      <Fold
        heading={say("plan.what_for")} open={inUse("brew", "garden")}
        line={`${say(`aim.${told("brew.aim") || "balanced"}` as Key)} · ${told("brew.length")} · ${Number.isNaN(start) ? "" : clock(start, zone)}`}
      >
        <Keys label={say("plan.aim")} options={aims} value={told("brew.aim") || "balanced"} set={(value) => put("brew.aim", value)} refusals={wrongAt("brew.aim")} hint={say("plan.aim_hint")} />
        <Slider of="length" />
        <MomentField label={say("plan.start")} value={told("brew.start")} zone={zone} set={(value) => put("brew.start", value)} refusals={wrongAt("brew.start")} hint={say("plan.start_hint", { zone })} />
        <Line label={say("plan.name")} value={told("brew.name")} set={(value) => put("brew.name", value || undefined)} refusals={wrongAt("brew.name")} />
        <Where />
      </Fold>
      <Fold heading={say("plan.water")} open={inUse("water")} line={`${told("water.volume")} · ${told("water.temperature")} · ${chlorineLine()}`}>
        <Slider of="volume" />
        <Slider of="temperature" />
        <Slider of="chlorine" />
        <Slider of="chloramine" />
      </Fold>
      <Fold heading={say("plan.vessel_and_air")} open={inUse("air", "vessel", "room")} line={`${told("vessel.diameter")} · ${told("air.rated_flow")} · ${say(`diffuser.${(told("air.diffuser") || "stone").replace(" ", "_")}` as Key)}`}>
        <Slider of="flow" />
        <Slider of="diameter" />
        <Keys label={say("plan.diffuser")} options={diffusers} value={told("air.diffuser") || "stone"} set={(value) => put("air.diffuser", value)} refusals={wrongAt("air.diffuser")} />
        <Slider of="pressure" />
        <Slider of="room" />
        <Slider of="night" />
        <Line
          label={say("plan.measured_kla")} value={told("air.measured_kla")} placeholder="12 1/h" refusals={wrongAt("air.measured_kla")}
          set={(value) => put("air.measured_kla", value || undefined)} hint={say("plan.measured_kla_hint")}
        />
      </Fold>
      <Fold heading={say("plan.compost")} open={inUse("compost")} line={composts.map((each) => `${each.mass} ${nameOf(kinds.composts, each.kind)}`).join(" · ")}>
        <Composts />
      </Fold>
      <Fold heading={say("plan.foods")} open={inUse("food")} line={foods.map((each) => `${each.amount} ${nameOf(kinds.foods, each.name)}`).join(" · ") || say("plan.no_food")}>
        <Foods />
      </Fold>
      <Prices open={pricesWrong()} />
    </div>
  );
}

function chlorineLine(): string {
  const free = told("water.free_chlorine");
  const bound = told("water.chloramine");
  if (!free && !bound) return say("plan.chlorine_not_known");
  return say("plan.chlorine_line", { amount: free || bound });
}

/// Where the garden is, for the night: the town of its zone unless told better.
function Where() {
  const here = () =>
    navigator.geolocation.getCurrentPosition(({ coords }) => {
      let next = changed(plan.value as Plan, "garden.latitude", coords.latitude.toFixed(1));
      next = changed(next, "garden.longitude", coords.longitude.toFixed(1));
      change(next);
    });
  const us = settings.value.measures === "us";
  return (
    <Fold heading={say("plan.where")} line={told("garden.zone")} open={anyWrong("garden")}>
      <Line label={say("plan.zone")} value={told("garden.zone")} set={(value) => put("garden.zone", value)} refusals={wrongAt("garden.zone")} />
      <div class="pair">
        <Line label={say("plan.latitude")} value={told("garden.latitude")} mode="decimal" set={(value) => put("garden.latitude", value)} refusals={wrongAt("garden.latitude")} />
        <Line label={say("plan.longitude")} value={told("garden.longitude")} mode="decimal" set={(value) => put("garden.longitude", value)} refusals={wrongAt("garden.longitude")} />
      </div>
      <Line label={say("plan.altitude")} value={told("garden.altitude")} placeholder={us ? "300 ft" : "90 m"} set={(value) => put("garden.altitude", value || undefined)} refusals={wrongAt("garden.altitude")} hint={say("plan.altitude_hint")} />
      {window.isSecureContext && "geolocation" in navigator
        ? <button type="button" class="plain" onClick={here}>{say("plan.where_here")}</button>
        : null}
    </Fold>
  );
}

/// The plan in other measures: the same amounts, tidied.
export function inMeasures(from: Plan, us: boolean): Plan {
  let next = changed(from, "garden.measures", us ? "us" : "metric");
  for (const slide of Object.values(slides)) {
    const now = read(textAt(next, slide.path));
    const unit = us ? slide.us : slide.metric;
    if (now && now.of === slide.of) next = changed(next, slide.path, tidied(now.inside, unit));
  }
  const composts = (valueAt(next, "compost") ?? []) as { mass: string }[];
  for (const [index, compost] of composts.entries()) {
    const now = read(compost.mass);
    if (now) next = changed(next, `compost[${index + 1}].mass`, tidied(now.inside, us ? "lb" : "g"));
  }
  return next;
}

function tidied(inside: number, unit: string): string {
  const value = inUnit(inside, unit);
  const digits = Math.abs(value) >= 100 ? -1 : Math.abs(value) >= 20 ? 0 : 1;
  const scale = 10 ** digits;
  return `${Math.round(value * scale) / scale} ${unit}`;
}
