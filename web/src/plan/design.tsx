// "Design it for me": from the compost and foods of the plan, the brews that do most, cost least and risk least, side by
// side. Offered where the server can.
import kinds from "virtual:kinds";
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { post, type Remark } from "../api/ask";
import { describe } from "../api/described";
import { seconds } from "../now/clock";
import { read } from "../units/quantity";
import { tenth, ofHundred } from "../words/numbers";
import { clock, iso } from "../words/time";
import { say, word } from "../words/words";
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
}

const path = "/api/recipe/design";
const patience_ms = 120_000;
const hour = 3_600_000;

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
    compost: (from.compost as { kind: string }[]).map(({ kind }) => ({ kind, stock: `${Math.round(60 * litres)} g` })),
    food: ((from.food ?? []) as { name: string; amount: string }[]).map(({ name, amount }) => ({ name, stock: read(amount)?.of === "mass" ? `${Math.ceil(10 * litres)} g` : `${Math.ceil(10 * litres)} mL` })),
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

export function Design() {
  const offered = useSignal(false);
  const running = useSignal<{ since: number; stop: AbortController } | null>(null);
  const designs = useSignal<Designed[]>([]);
  const shelfOf = useSignal<Plan | null>(null);  // the plan they were made from
  const wrong = useSignal<Remark[]>([]);
  useEffect(() => {
    const timer = setTimeout(() => void describe().then((all) => (offered.value = all.some((each) => each.path === path))), 1500);
    return () => clearTimeout(timer);
  }, []);
  const run = async () => {
    const stop = new AbortController();
    running.value = { since: Date.now(), stop };
    const from = plan.value as Plan;
    wrong.value = [];
    const result = await post(path, shelf(from), stop, patience_ms);
    const calledOff = running.value === null;
    running.value = null;
    if (calledOff) return;
    if (result.kind === "answered") {
      designs.value = (result.answer as { designs: Designed[] }).designs;
      shelfOf.value = from;
    } else wrong.value = result.kind === "refused" ? result.refusals : [{ code: "", field: "", text: say("server.not_reached") }];
  };
  if (!offered.value || !plan.value) return null;
  const zone = textAt(plan.value, "garden.zone");
  const all = designs.value;
  const row = (name: string, tell: (each: Designed) => string) => <tr><th scope="row">{name}</th>{all.map((each) => <td key={each.role}>{tell(each)}</td>)}</tr>;
  return (
    <section class="design">
      <h2>{say("design.heading")}</h2>
      <p>{say("design.hint")}</p>
      {running.value ? (
        <div role="status">
          <p>{say("design.running", { seconds: Math.max(0, Math.round((seconds.value - running.value.since) / 1000)) })}</p>
          <progress aria-label={say("design.heading")} />
          <button type="button" class="plain" onClick={() => { const { stop } = running.value ?? {}; running.value = null; stop?.abort(); }}>{say("design.stop")}</button>
        </div>
      ) : <button type="button" class="plain" onClick={() => void run()}>{say("design.run")}</button>}
      {wrong.value.map((each, index) => <p key={index} class="refusal" role="alert">{each.text} {each.next}</p>)}
      {all.length > 0 ? (
        <div class="wide" tabIndex={0} role="region" aria-label={say("design.side")}>
          <table>
            <caption>{say("design.side")}</caption>
            <thead><tr><th scope="col">{say("plan.what")}</th>{all.map((each) => <th key={each.role} scope="col">{word("role", each.role.replace(" ", "_"))}</th>)}</tr></thead>
            <tbody>
              {row(say("plan.start"), (each) => clock(Date.parse(each.start), zone))}
              {row(say("plan.length"), (each) => `${tenth(each.length_h)} h`)}
              {row(say("plan.ready"), (each) => (each.ready_from ? clock(Date.parse(each.ready_from), zone) : "–"))}
              {row(say("plan.stays_above"), (each) => ofHundred(each.probability_oxygen_stays_above_6))}
              {row(say("design.low"), (each) => `${tenth(each.oxygen_low_mg_per_l)} mg/L`)}
              {[...new Set(all.flatMap((each) => each.amounts.map((one) => one.name)))].map((name) => row(name, (each) => each.amounts.find((one) => one.name === name)?.text ?? "–"))}
              <tr><th scope="row">{say("design.take")}</th>{all.map((each) => <td key={each.role}><button type="button" class="plain" onClick={() => change(taken(shelfOf.value as Plan, each))}>{say("design.take_this")}</button></td>)}</tr>
            </tbody>
          </table>
        </div>
      ) : null}
    </section>
  );
}
