// "Design it for me": from the compost and foods of the plan, the brews that do most, cost least and risk least, side by
// side. Offered where the server can.
import kinds from "virtual:kinds";
import type { ComponentChildren } from "preact";
import { signal, useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { watch, type Remark } from "../api/ask";
import { describe } from "../api/described";
import { seconds } from "../now/clock";
import { read } from "../units/quantity";
import { tenth, ofHundred } from "../words/numbers";
import { clock, iso } from "../words/time";
import { say, word } from "../words/words";
import { money } from "./cost";
import { changed, textAt, valueAt, type Plan } from "./document";
import { change, plan } from "./planner";

interface Designed {
  role: string;
  start: string;
  length_h: number;
  ready_from: string | null;
  amounts: { id: string; name: string; text: string }[];
  probability_oxygen_stays_above_6: number;
  oxygen_low_mg_per_l: number;
  yield_share: number;
  reasons: Remark[];
  cost: { batch: number; per_l: number; per_100m2: number | null };
}

const path = "/api/recipe/design";
const hour = 3_600_000;

type Row = Partial<Record<"kind" | "name" | "amount" | "price" | "price_for", string>>;
const priceOf = ({ price, price_for }: Row) => (price && price_for ? { price, price_for } : {});

/// The shelf is what the plan names, with enough of each for this water.
function shelf(from: Plan): unknown {
  const volume = textAt(from, "water.volume");
  const litres = read(volume)?.inside ?? 19;
  const start = Date.parse(textAt(from, "brew.start"));
  const zone = textAt(from, "garden.zone");
  const { volume: _, ...water } = valueAt(from, "water") as Record<string, string>;
  return {
    brew: { name: textAt(from, "brew.name"), aim: textAt(from, "brew.aim") || "balanced" },
    garden: from.garden,
    water: { ...water, volume },
    vessel: [{ name: "1", capacity: volume, diameter: textAt(from, "vessel.diameter") }],
    time: { start_from: textAt(from, "brew.start"), finish_until: iso(start + 24 * hour, zone) },
    air: from.air,
    ...(from.room ? { room: from.room } : {}),
    ...(from.cost ? { cost: from.cost } : {}),
    ...(from.spread ? { spread: from.spread } : {}),
    compost: (from.compost as Row[]).map(({ kind, ...row }) => ({ kind, ...priceOf(row), stock: `${Math.round(60 * litres)} g` })),
    food: ((from.food ?? []) as Row[]).map(({ name, amount = "", ...row }) => ({ name, ...priceOf(row), stock: read(amount)?.of === "mass" ? `${Math.ceil(10 * litres)} g` : `${Math.ceil(10 * litres)} mL` })),
  };
}

/// The plan as designed: its hours, and the amounts of what is used.
function taken(from: Plan, designed: Designed): Plan {
  const amountOf = (all: typeof kinds.foods, family: string, value: string) =>
    designed.amounts.find((each) => each.id === `${family}.${all.find((one) => one.value === value)?.id ?? value}`)?.text;
  let next = changed(changed(from, "brew.start", designed.start), "brew.length", `${Number(designed.length_h.toFixed(2))} h`);
  next = { ...next, compost: (from.compost as { kind: string; mass: string }[]).flatMap((each) => { const mass = amountOf(kinds.composts, "compost", each.kind); return mass ? [{ ...each, mass }] : []; }) };
  return { ...next, food: ((from.food ?? []) as { name: string; amount: string }[]).flatMap((each) => { const amount = amountOf(kinds.foods, "food", each.name); return amount ? [{ ...each, amount }] : []; }) };
}

const offered = signal(false);
const wide = matchMedia("(min-width: 900px)");

/// From beside the questions to where the designs stand.
export function ToDesign() {
  if (!offered.value) return null;
  return <button type="button" class="plain" onClick={() => document.querySelector(".design h2")?.scrollIntoView({ block: "center" })}>{say("design.heading")}</button>;
}

export function Design() {
  const running = useSignal<{ since: number; share: number; stop: AbortController } | null>(null);
  const designs = useSignal<Designed[]>([]);
  const shelfOf = useSignal<Plan | null>(null);  // the plan they were made from
  const currency = useSignal("");
  const takenRole = useSignal("");
  const wrong = useSignal<Remark[]>([]);
  useEffect(() => {
    const timer = setTimeout(() => void describe().then((all) => (offered.value = all.some((each) => each.path === path))), 1500);
    return () => clearTimeout(timer);
  }, []);
  const run = async () => {
    const stop = new AbortController();
    running.value = { since: Date.now(), share: 0, stop };
    designs.value = [];
    takenRole.value = "";
    const from = plan.value as Plan;
    wrong.value = [];
    const result = await watch(path, shelf(from), stop, (share) => {
      if (running.value?.stop === stop) running.value = { ...running.value, share };
    });
    if (running.value?.stop !== stop) return;  // called off, and perhaps begun again
    running.value = null;
    if (result.kind === "answered") {
      const told = result.answer as { designs: Designed[]; currency: string };
      designs.value = told.designs;
      currency.value = told.currency;
      shelfOf.value = from;
    } else wrong.value = result.kind === "refused" ? result.refusals : [{ code: "", field: "", text: say("server.not_reached") }];
  };
  const take = (each: Designed) => {
    takenRole.value = each.role;
    change(taken(shelfOf.value as Plan, each));
    scrollTo(0, 0);
  };
  const Take = ({ designed }: { designed: Designed }) =>
    takenRole.value === designed.role
      ? <strong class="fit">{say("design.taken")}</strong>
      : <button type="button" class="plain" onClick={() => take(designed)}>{say("design.take_this")}</button>;
  if (!offered.value || !plan.value) return null;
  const zone = textAt(plan.value, "garden.zone");
  const all = designs.value;
  const priced = all.some((each) => each.cost.batch > 0);
  const roleOf = ({ role }: Designed) => (role === "cheapest" && !priced ? "least_stuff" : role.replace(" ", "_"));
  const desk = wide.matches;  // on a phone a row's name stands above it, so that all of them fit side by side
  const row = (name: string, tell: (each: Designed) => ComponentChildren) => {
    const cells = all.map((each) => <td key={each.role}>{tell(each)}</td>);
    if (desk) return <tr><th scope="row">{name}</th>{cells}</tr>;
    return <><tr class="above"><th scope="rowgroup" colSpan={all.length}>{name}</th></tr><tr>{cells}</tr></>;
  };
  return (
    <section class="design">
      <h2>{say("design.heading")}</h2>
      <p>{say("design.hint")}</p>
      {running.value ? (
        <div role="status">
          <p>{say("design.running", { seconds: Math.max(0, Math.round((seconds.value - running.value.since) / 1000)), share: Math.round(100 * running.value.share) })}</p>
          <progress aria-label={say("design.heading")} max={1} value={running.value.share} />
          <button type="button" class="plain" onClick={() => { const { stop } = running.value ?? {}; running.value = null; stop?.abort(); }}>{say("design.stop")}</button>
        </div>
      ) : <button type="button" class="plain" onClick={() => void run()}>{say("design.run")}</button>}
      {wrong.value.map((each, index) => <p key={index} class="refusal" role="alert">{each.text} {each.next}</p>)}
      {all.length > 0 ? (
        <div class="wide" tabIndex={0} role="region" aria-label={say("design.side")}>
          <table>
            <caption>{say("design.side")}</caption>
            <thead><tr>{desk ? <th scope="col">{say("plan.what")}</th> : null}{all.map((each) => <th key={each.role} scope="col">{word("role", roleOf(each))}</th>)}</tr></thead>
            <tbody>
              {row(say("design.take"), (each) => <Take designed={each} />)}
              {row(say("plan.start"), (each) => clock(Date.parse(each.start), zone))}
              {row(say("plan.length"), (each) => `${tenth(each.length_h)} h`)}
              {row(say("plan.ready"), (each) => (each.ready_from ? clock(Date.parse(each.ready_from), zone) : "–"))}
              {row(say("plan.stays_above"), (each) => ofHundred(each.probability_oxygen_stays_above_6))}
              {row(say("design.low"), (each) => `${tenth(each.oxygen_low_mg_per_l)} mg/L`)}
              {row(say("design.yield"), (each) => (each.role === "best" ? say("design.yield_most") : ofHundred(each.yield_share)))}
              {[...new Set(all.flatMap((each) => each.amounts.map((one) => one.name)))].map((name) => row(name, (each) => each.amounts.find((one) => one.name === name)?.text ?? "–"))}
              {priced ? row(say("cost.batch"), (each) => money(each.cost.batch, currency.value)) : null}
            </tbody>
          </table>
        </div>
      ) : null}
    </section>
  );
}
