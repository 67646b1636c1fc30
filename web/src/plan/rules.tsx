// What the rules call this tea, by which clause, what may be done instead, and what could grow in it.
import { Fold, Part, Pick } from "../pieces/fields";
import { tenth } from "../words/numbers";
import { say, word, type Key } from "../words/words";
import { changed, textAt, type Plan } from "./document";
import { change, plan, type PlanAnswer } from "./planner";

type Legal = PlanAnswer["legal"][number];

const yes_no = ["not_known", "yes", "no"];
/// What the class rests on that a plan does not tell by itself, in the order a grower would be asked.
const facts: Record<string, string[]> = {
  animal_origin: yes_no,
  process: ["not_known", "none", "composted", "validated"],
  recontaminated: yes_no,
  water_source: ["not_known", "municipal", "ground", "treated_surface", "untreated_surface"],
  water_e_coli: yes_no,
  contact_during: ["not_known", "none", "minimised", "contact"],
  contact_after: ["not_known", "none", "minimised", "possible"],
};

export const forbids = (told: PlanAnswer) => told.legal.some((legal) => legal.permitted !== "yes");
/// Warnings that this part says itself.
export const ofRules = (code: string) => code.startsWith("rule.class.") || code === "rule.contaminant.could_grow";

/// On the plan as it stands, not as last answered: a second tap may come before the first is answered.
const put = (path: string, value: unknown) => change(changed(plan.value as Plan, path, value));

/// Stands in front when the tea may not go on crops people eat, and among the details when it may.
export function Rules({ told }: { told: PlanAnswer }) {
  const legal = told.legal[0];
  if (!legal) return null;
  const forbidden = forbids(told);
  return (
    <Part heading={say("rules.heading")} id="rules">
      <p class={forbidden ? "forbidden" : "saying"}>{legal.headline}</p>
      {legal.permitted === "yes" && legal.minimise_contact ? <p>{say("rules.little_contact")}</p> : null}
      {legal.wait === "reserved" ? <p>{say("rules.wait_unconfirmed")}</p> : null}
      {legal.clauses.length > 0 ? <p class="quiet">{say("rules.clauses", { clauses: legal.clauses.join("; ") })}</p> : null}
      {legal.missing.length > 0
        ? <p>{say("rules.missing", { facts: legal.missing.map((each) => word("fact", each)).join("; ") })}</p>
        : null}
      <Instead legal={legal} />
      <Fold heading={say("rules.tell")}><Facts /></Fold>
      <p class="quiet">{say("rules.local")}</p>
    </Part>
  );
}

/// The compliant ways; the one that is a change of the plan alone is a tap away, the others rest on what the grower does.
function Instead({ legal }: { legal: Legal }) {
  if (legal.ways_out.length === 0) return null;
  const fed = (plan.value?.food ?? []).length > 0;
  return (
    <div class="mends">
      <h3>{say("rules.instead")}</h3>
      <ul class="plain-list">{legal.ways_out.map((each) => <li key={each.way}>{each.text}</li>)}</ul>
      {fed ? (
        <button type="button" class="mend" onClick={() => put("food", undefined)}>
          <span>{say("rules.leave_food")}</span>
          <small>{say("rules.leave_food_only")}</small>
        </button>
      ) : null}
    </div>
  );
}

function Facts() {
  return (
    <>
      {Object.entries(facts).map(([fact, values]) => {
        const path = `rule.${fact}`;
        return (
          <Pick
            key={fact} label={say(`fact.${fact}` as Key)} value={textAt(plan.value, path) || "not_known"}
            options={values.map((value) => ({ value, label: fact.startsWith("contact") ? word("touches", value) : word("fact_is", value) }))}
            set={(value) => put(path, value === "not_known" ? undefined : value)}
          />
        );
      })}
    </>
  );
}

/// Only ever raises caution: a low figure says nothing of what the sample holds.
export function CouldGrow({ told }: { told: PlanAnswer }) {
  const warned = told.warnings.find((each) => each.code === "rule.contaminant.could_grow");
  return (
    <Part heading={say("rules.could_grow_heading")} id="could-grow">
      {warned
        ? <div class="warnings"><p>{warned.text} {warned.next}</p></div>
        : <p>{say("rules.could_grow", { steps: tenth(told.contaminant_decades) })}</p>}
      <p class="quiet">{say("rules.low_tells_nothing")}</p>
    </Part>
  );
}
