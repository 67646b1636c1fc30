// Beds: each treated place, when it last had what, and how long to wait for the harvest.
import { useAsked } from "../keep/asked";
import { listed, momentOf, numberOf, textOf } from "../keep/record";
import { stateText } from "../brew/logged";
import { now } from "../now/clock";
import { hereZone } from "../plan/document";
import { few } from "../words/numbers";
import { away, dayOf } from "../words/time";
import { say, word } from "../words/words";
import { chosenRules } from "../rules/chosen";
import { Waits } from "../rules/waits";

export function BedsPage() {
  const beds = listed("bed");
  const uses = listed("application").entries.sort((a, b) => momentOf(b) - momentOf(a));
  const brews = listed("brew").entries;
  const planned = listed("planned_harvest").entries;
  const waits = useAsked("/api/rule/calendar", { rules: chosenRules() });
  const nameOf = (id: string) => textOf(brews.find((each) => each.root === id) ?? { values: {} } as never, "name");
  return (
    <div class="page">
      <h1 class="sentence">{beds.entries.length === 0 ? say("beds.none") : say("beds.heading")}</h1>
      {beds.entries.map((bed) => {
        const had = uses.filter((each) => textOf(each, "bed") === bed.root);
        const area = numberOf(bed, "area_m2");
        return (
          <section class="part" key={bed.root}>
            <h2>{textOf(bed, "name")}</h2>
            <p class="quiet">{[textOf(bed, "crop"), area === null ? textOf(bed, "area") : `${few(area)} m²`, stateText(bed)].filter((part) => part !== "").join(" · ")}</p>
            {planned.filter((each) => textOf(each, "bed") === bed.root).map((each) => <p key={each.root}>{say("beds.planned", { day: textOf(each, "on"), crop: textOf(each, "crop") })}</p>)}
            {had.length > 0 ? <Waits beds={(waits.answer?.beds ?? []).filter((each) => each.bed_id === bed.root)} /> : null}
            {had.length === 0 ? <p>{say("beds.never")}</p> : (
              <ul class="logged">
                {had.slice(0, 5).map((each) => (
                  <li key={each.root}>
                    <time>{dayOf(momentOf(each), hereZone())}</time>
                    <span>{say("beds.had", { brew: nameOf(textOf(each, "brew")), volume: numberOf(each, "volume_l") === null ? textOf(each, "volume") : `${few(numberOf(each, "volume_l"))} L`, method: word("method", textOf(each, "method")) })} <small class="quiet">{away(momentOf(each), now.value)}</small></span>
                  </li>
                ))}
              </ul>
            )}
          </section>
        );
      })}
      {waits.old && uses.length > 0 ? <p class="quiet">{say("waits.old")}</p> : null}
      {uses.length > 0 ? waits.answer?.cautions.map((each) => <p key={each.code} class="quiet">{each.text}</p>) : null}
      <a class="main" href="#/ask/record/add-bed">{say("beds.add")}</a>
      <a class="plain" href="#/ask/record/add-planned-harvest">{say("beds.plan_harvest")}</a>
      <a class="plain" href="#/ask/record/add-harvest">{say("beds.harvest")}</a>
    </div>
  );
}
