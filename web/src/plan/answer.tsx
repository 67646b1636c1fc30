// The answer of a plan: a sentence, the night, then what to do. Detail is folded below.
import type { Remark } from "../api/ask";
import { Fold, Part } from "../pieces/fields";
import { Froth } from "../pieces/froth";
import { Why } from "../pieces/why";
import { LifePicture } from "../picture/life_picture";
import { lifeOf, nightOf } from "../picture/of_answer";
import { NightPicture, NightTable } from "../picture/night_picture";
import { few, minutes, ofHundred, tenth } from "../words/numbers";
import { clock } from "../words/time";
import { say, word } from "../words/words";
import { Cost } from "./cost";
import { textAt } from "./document";
import { Figure } from "./figure";
import { Mends } from "./mends";
import { answer, answered, answeredChange, reached, refusals, settled, type PlanAnswer } from "./planner";
import { reasons } from "./reasons";
import { CouldGrow, forbids, ofRules, Rules } from "./rules";

/// The sentence and the picture: what stays in view while a slider moves.
export function Verdict() {
  const told = answer.value;
  const plan = answered.value;
  const wrong = refusals.value;
  return (
    <div class={wrong.length > 0 ? "verdict held" : "verdict"}>
      {wrong.length > 0 ? <Wrong refusals={wrong} kept={told !== null} /> : null}
      {!reached.value ? <p class="refusal" role="status">{say("server.not_reached")}</p> : null}
      {told && plan ? (
        <>
          <h1 class={`sentence ${told.verdict}`} aria-live="polite">{told.headline}</h1>
          <NightPicture night={nightOf(told, { zone: textAt(plan, "garden.zone") })} revision={answeredChange.value} />
        </>
      ) : wrong.length === 0 && reached.value ? <p class="sentence quiet">{say("plan.working")}</p> : null}
    </div>
  );
}

/// Fields say what is wrong with them in place; here stands that something is, and whatever belongs to no field.
function Wrong({ refusals: all, kept }: { refusals: Remark[]; kept: boolean }) {
  return (
    <div class="refusal" role="alert">
      <p>{say("plan.refused", { count: all.length })} {kept ? say("plan.kept") : ""}</p>
      <ul>{all.map((each, index) => <li key={index}>{each.text} {each.next}</li>)}</ul>
    </div>
  );
}

const listed = (remarks: Remark[]) => (
  <ul class="plain-list">{remarks.map((each, index) => <li key={index}>{each.text}{each.next ? ` ${each.next}` : ""}</li>)}</ul>
);

export function Rest() {
  if (!settled.value) return null;
  const { told, plan } = settled.value;
  const zone = textAt(plan, "garden.zone");
  const why = reasons(plan, told);
  const night = nightOf(told, { zone });
  const forbidden = forbids(told);
  const warnings = told.warnings.filter((each) => !ofRules(each.code));
  return (
    <div class="rest">
      <Froth holds={told.probability_oxygen_stays_above_6 ?? 0} flat={told.probability_oxygen_below_2 ?? 0} />
      <Mends told={told} plan={plan} />
      {forbidden ? <Rules told={told} /> : null}
      {warnings.length > 0 ? <div class="warnings">{listed(warnings)}</div> : null}
      {told.doubts.length > 0 ? <div class="warnings">{listed(told.doubts)}</div> : null}
      <Figures told={told} zone={zone} why={why} />
      <Part heading={say("plan.measure_out")}><Amounts told={told} /></Part>
      <Part heading={say("plan.air")}>
        <p class="saying">{airSays(told)}</p>
        <dl class="figures">
          <Figure name={say("plan.air_reaches")} value={`${few(told.air.flow_l_per_h)} L/h`} reason={why.flow}>
            {say("plan.air_range", { low: few(told.air.flow_low_l_per_h), high: few(told.air.flow_high_l_per_h), vvm: tenth(told.air.vvm) })}
          </Figure>
          <Figure name={say("plan.air_draws")} value={`${few(told.uptake_peak_mg_per_l_per_h)} mg/L/h`} reason={why.demand} />
          <Figure name={say("plan.air_gives")} value={`${few(told.supply_at_6_mg_per_l_per_h)} mg/L/h`} reason={why.supply} />
        </dl>
      </Part>
      <Part heading={say("plan.life")}>
        <LifePicture life={lifeOf(told, zone)} />
        <Why of={say("plan.life")} reason={why.life} />
      </Part>
      <Cost told={told} plan={plan} />
      <Part heading={say("plan.steps")}><Steps told={told} zone={zone} /></Part>
      {forbidden ? null : <Rules told={told} />}
      <CouldGrow told={told} />
      <Part heading={say("plan.care")}>{listed(told.cautions)}</Part>
      <Fold heading={say("plan.clear_water")}><Clearing told={told} /></Fold>
      <Fold heading={say("plan.trust")}>
        {listed(told.notes)}
        <p>{say("plan.drivers")}</p>
        <ul class="plain-list">{told.drivers.map((each) => <li key={each.symbol}>{say("plan.driver", { what: each.text, share: Math.round(100 * (each.share ?? 0)) })}</li>)}</ul>
        <p>{say("plan.members", { members: told.members_count, sources: told.sources.join(", ") })}</p>
      </Fold>
      <Fold heading={say("picture.table")}><NightTable night={night} /></Fold>
    </div>
  );
}

function Figures({ told, zone, why }: { told: PlanAnswer; zone: string; why: ReturnType<typeof reasons> }) {
  const { oxygen_minimum_mg_per_l: low, ready_window: ready, minutes_to_2_after_air_off: flat } = told;
  return (
    <dl class="figures">
      <Figure name={say("plan.stays_above")} value={ofHundred(told.probability_oxygen_stays_above_6 ?? 0)} reason={why.odds}>
        {say("plan.goes_flat", { count: ofHundred(told.probability_oxygen_below_2 ?? 0) })}
      </Figure>
      <Figure name={say("plan.lowest")} value={`${tenth(low.p50)} mg/L`} reason={why.lowest}>
        {say("plan.lowest_range", { low: tenth(low.p05), high: tenth(low.p95) })}
      </Figure>
      <Figure name={say("plan.ready")} value={ready.exists && ready.from ? clock(Date.parse(ready.from), zone) : say("plan.never_ready")} reason={why.ready}>
        {ready.exists && ready.to ? `${say("plan.ready_until", { to: clock(Date.parse(ready.to), zone) })} ${word("ready", ready.why_from.split(".").at(-1) ?? "")}` : null}
      </Figure>
      <Figure name={say("plan.flat_after")} value={minutes(flat.p50)} reason={why.flat_after}>
        {say("plan.flat_range", { low: minutes(flat.p05), high: minutes(flat.p95) })}
      </Figure>
    </dl>
  );
}

function airSays(told: PlanAnswer): string {
  const supply = told.supply_at_6_mg_per_l_per_h ?? 0;
  const demand = told.uptake_peak_mg_per_l_per_h ?? 0;
  if (supply >= 1.5 * demand) return say("air.carries");
  return say(supply >= demand ? "air.just" : "air.short");
}

export function Amounts({ told }: { told: Pick<PlanAnswer, "amounts"> }) {
  return (
    <table class="amounts">
      <caption class="hidden">{say("plan.measure_out")}</caption>
      <thead class="hidden"><tr><th scope="col">{say("plan.what")}</th><th scope="col">{say("plan.how_much")}</th><th scope="col">{say("plan.beside")}</th></tr></thead>
      <tbody>
        {told.amounts.map((each) => (
          <tr key={each.id}>
            <th scope="row">{each.name}</th>
            <td><strong>{each.text}</strong></td>
            <td>{each.beside === each.text ? "" : each.beside}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Steps({ told, zone }: { told: PlanAnswer; zone: string }) {
  return (
    <ol class="steps">
      {told.steps.map((step, index) => (
        <li key={index}><time dateTime={step.at ?? ""}>{clock(Date.parse(step.at ?? ""), zone)}</time><span>{step.text}</span></li>
      ))}
    </ol>
  );
}

function Clearing({ told }: { told: PlanAnswer }) {
  return (
    <ul class="plain-list">
      {told.clearing.map((way) => (
        <li key={way.method}>
          <strong>{word("clear", way.method)}</strong>:{" "}
          {way.works ? say("clear.wait", { low: minutes((way.wait_low_h ?? 0) * 60), high: minutes((way.wait_high_h ?? 0) * 60) }) : say("clear.does_not")}{" "}
          {way.dose_g ? say("clear.dose", { dose: way.dose_g >= 1 ? `${few(way.dose_g)} g` : `${few(way.dose_g * 1000)} mg` }) : ""}{" "}
          {way.notes.map((note) => note.text).join(" ")}
        </li>
      ))}
    </ul>
  );
}
