// What was counted in a brew or its compost, and what that did: to the forecast, to the verdict, or to neither and why.
import type { Answer } from "../api/ask";
import { useAsked } from "../keep/asked";
import { momentOf, numberOf, textOf, type Entry } from "../keep/record";
import { Part } from "../pieces/fields";
import type { Plan } from "../plan/document";
import type { PlanAnswer } from "../plan/planner";
import { few, ofHundred } from "../words/numbers";
import { clock } from "../words/time";
import { say, word } from "../words/words";
import { askedOf, isDoubted, type Brew } from "./brew";
import { countsOf } from "./counted";
import { stateText } from "./logged";

type Day = Answer<"/api/brew/day">;

const heard: Record<string, string> = { bacteria: "bacteria", flagellates: "protozoa", amoebae: "protozoa" };
const against = ["ciliates", "e_coli", "fecal_coliforms", "salmonella", "listeria"];

export function amountText(entry: Entry): string {
  const density = numberOf(entry, "density_per_ml");
  const perG = numberOf(entry, "per_g");
  const result = textOf(entry, "result");
  return [density === null ? "" : `${few(density)}/mL`, perG === null ? "" : `${few(perG)}/g`, result ? word("found", result) : ""].filter((part) => part !== "").join(" · ");
}

/// What one count did. Only what the server used is said to be used.
function effect(entry: Entry, brew: Brew, day: Day | null): string {
  const organism = textOf(entry, "organism");
  const what = heard[organism];
  if (against.includes(organism)) return say("counts.against");
  if (!what) return say("counts.not_heard");
  if (textOf(entry, "method") !== "microscope") return say("counts.grows_only");
  if (textOf(entry, "of") !== brew.id) {
    const newest = day?.start_bacteria_per_g;
    return newest && organism === "bacteria" ? say("counts.start", { amount: few(newest) }) : say("counts.lot_not_used");
  }
  const minute = Math.round(momentOf(entry) / 60_000);
  const reading = day?.forecast[0]?.readings.find((each) => each.what === what && Math.round(Date.parse(each.at ?? "") / 60_000) === minute);
  if (!reading) return say("counts.not_yet");
  return isDoubted(reading.fate) ? word("fate", reading.fate) : say("counts.used");
}

export function Counts({ brew, readings, told }: { brew: Brew; readings: Entry[]; told: PlanAnswer | null }) {
  const all = countsOf(brew).sort((a, b) => momentOf(b) - momentOf(a));
  return (
    <Part heading={say("counts.heading")} id="counts">
      {all.length === 0 ? <p class="quiet">{say("counts.none")}</p> : <Told brew={brew} all={all} readings={readings} told={told} />}
      <a class="plain" href="#/ask/record/add-count">{say("counts.enter")}</a>
    </Part>
  );
}

/// The same brew had nobody counted.
function Moved({ brew, plan, readings, told }: { brew: Brew; plan: Plan; readings: Entry[]; told: PlanAnswer }) {
  const { answer: without } = useAsked("/api/brew/plan", askedOf(brew, plan, readings, false));
  const held = told.probability_oxygen_stays_above_6;
  const before = without?.probability_oxygen_stays_above_6;
  if (held === null || before === undefined || before === null) return null;
  return <p class="saying">{say("counts.moved", { held: ofHundred(held), before: ofHundred(before) })}</p>;
}

function Told({ brew, all, readings, told }: { brew: Brew; all: Entry[]; readings: Entry[]; told: PlanAnswer | null }) {
  const { answer: day, old } = useAsked("/api/brew/day", { brew: brew.id });
  const moved = day && (day.counts_count > 0 || day.start_bacteria_per_g);
  return (
    <>
      {moved && brew.plan && told ? <Moved brew={brew} plan={brew.plan} readings={readings} told={told} /> : null}
      {old ? <p class="quiet">{say("brew.old_forecast")}</p> : null}
      <ul class="logged">
        {all.map((entry) => (
          <li key={entry.root} class={entry.state}>
            <time>{clock(momentOf(entry), brew.zone)}</time>
            <div>
              <span>{word("organism", textOf(entry, "organism"))}: {amountText(entry)} <small class="quiet">{word("counted", textOf(entry, "method"))}{textOf(entry, "of") === brew.id ? "" : `, ${say("counts.of_compost")}`}</small></span>
              <small> {effect(entry, brew, day)}</small>
              {stateText(entry) ? <small class="caution"> {stateText(entry)}</small> : null}
              {entry.earlier.map((each, index) => <small key={index} class="quiet"> {say("entry.was", { text: amountText({ ...entry, values: each.values }), reason: each.reason })}</small>)}
            </div>
          </li>
        ))}
      </ul>
      <p class="quiet">{say("counts.caution")}</p>
    </>
  );
}
