// All that was entered of a brew, with what is still on its way and what was put right.
import { useSignal } from "@preact/signals";
import { correct } from "../keep/queue";
import { momentOf, numberOf, textOf, type Entry } from "../keep/record";
import { Line } from "../pieces/fields";
import type { PlanAnswer } from "../plan/planner";
import { settings } from "../settings";
import { read } from "../units/quantity";
import { tenth } from "../words/numbers";
import { clock } from "../words/time";
import { say, word } from "../words/words";
import { fatesOf, isDoubted, type Brew } from "./brew";
import { Photo } from "./photo";

/// "8.1 mg/L · 18.9 °C · pH 6.9"
export function readingText(entry: Entry): string {
  const oxygen = numberOf(entry, "oxygen_mg_per_l");
  const temperature = numberOf(entry, "temperature_c");
  const ph = numberOf(entry, "ph");
  const conductivity = numberOf(entry, "conductivity_ms_per_cm");
  return [
    oxygen === null ? "" : `${tenth(oxygen)} mg/L`,
    temperature === null ? "" : settings.value.measures === "us" ? `${tenth(temperature * 1.8 + 32)} °F` : `${tenth(temperature)} °C`,
    ph === null ? "" : `pH ${tenth(ph)}`,
    conductivity === null ? textOf(entry, "conductivity") : `${tenth(conductivity)} mS/cm`,
  ].filter((part) => part !== "").join(" · ");
}

export function observationText(entry: Entry): string {
  const smell = textOf(entry, "smell");
  const foam = textOf(entry, "foam");
  return [smell ? say("look.smells", { smell: word("smell", smell) }) : "", foam ? say("look.foams", { foam: word("foam", foam) }) : "", textOf(entry, "look")].filter((part) => part !== "").join(" · ");
}

export const stateText = (entry: Entry) => (entry.state === "waiting" ? say("entry.waiting") : entry.state === "refused" ? say("entry.refused") : "");

const shown_at_once = 4;  // photos; earlier ones when asked for

export function Logged({ brew, readings, observations, photos, told }: { brew: Brew; readings: Entry[]; observations: Entry[]; photos: Entry[]; told: PlanAnswer | null }) {
  const seen = new Set(observations.map((each) => each.root));
  const alone = photos.filter((each) => !seen.has(textOf(each, "observation")));
  const newest = photos.slice(-shown_at_once).map((each) => each.root);
  const all = [...readings, ...observations, ...alone].sort((a, b) => momentOf(b) - momentOf(a));
  if (all.length === 0) return <p class="quiet">{say("brew.nothing_logged")}</p>;
  const fates = fatesOf(told);
  return (
    <ul class="logged">
      {all.map((entry) => {
        const fate = entry.kind === "reading" ? fates.get(Math.round(momentOf(entry) / 60_000)) : undefined;
        return (
          <li key={entry.root} class={entry.state}>
            <time>{clock(momentOf(entry), brew.zone)}</time>
            <div>
              <span>{entry.kind === "reading" ? readingText(entry) : entry.kind === "photo" ? say("kind.photo") : observationText(entry)}</span>
              {stateText(entry) ? <small class="caution"> {stateText(entry)}</small> : null}
              {fate && isDoubted(fate) ? <small class="caution"> {word("fate", fate)}</small> : null}
              {entry.earlier.map((each, index) => <small key={index} class="quiet">{say("entry.was", { text: entry.kind === "reading" ? readingText({ ...entry, values: each.values }) : observationText({ ...entry, values: each.values }), reason: each.reason })}</small>)}
              {photos.filter((each) => each.root === entry.root || textOf(each, "observation") === entry.root).map((each) => <Photo key={each.root} entry={each} zone={brew.zone} soon={newest.includes(each.root)} />)}
              {entry.state !== "refused" && entry.kind !== "photo" ? <Correct entry={entry} /> : null}
            </div>
          </li>
        );
      })}
    </ul>
  );
}

/// One value put right, with the reason; the old one stays in the record.
function Correct({ entry }: { entry: Entry }) {
  const open = useSignal(false);
  const value = useSignal("");
  const reason = useSignal("");
  const wrong = useSignal("");
  const field = entry.kind === "reading" ? "oxygen" : "look";
  if (!open.value) return <button type="button" class="why" onClick={() => (open.value = true)}>{say("entry.correct")}</button>;
  const keep = async () => {
    const told = field === "oxygen" && /^[\d.,]+$/.test(value.value.trim()) ? `${value.value.trim().replace(",", ".")} mg/L` : value.value;
    if (!told.trim() || !reason.value.trim() || (field === "oxygen" && read(told)?.of !== "concentration")) return void (wrong.value = say("entry.correct_missing"));
    await correct(entry.root, field, told.trim(), reason.value.trim());
    open.value = false;
  };
  return (
    <div class="row">
      <Line label={say(field === "oxygen" ? "entry.correct_oxygen" : "entry.correct_look")} value={value.value} set={(text) => (value.value = text)} />
      <Line label={say("entry.reason")} value={reason.value} set={(text) => (reason.value = text)} />
      {wrong.value ? <p class="refusal" role="alert">{wrong.value}</p> : null}
      <div class="deeds">
        <button type="button" class="plain" onClick={() => void keep()}>{say("entry.keep_correction")}</button>
        <button type="button" class="plain" onClick={() => (open.value = false)}>{say("form.back")}</button>
      </div>
    </div>
  );
}
