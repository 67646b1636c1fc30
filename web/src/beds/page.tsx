// Beds: each treated place, and when it last had what.
import { listed, momentOf, numberOf, textOf } from "../keep/record";
import { stateText } from "../brew/logged";
import { now } from "../now/clock";
import { hereZone } from "../plan/document";
import { few } from "../words/numbers";
import { away, dayOf } from "../words/time";
import { say, word } from "../words/words";

export function BedsPage() {
  const beds = listed("bed");
  const uses = listed("application").entries.sort((a, b) => momentOf(b) - momentOf(a));
  const brews = listed("brew").entries;
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
      <a class="main" href="#/ask/record/add-bed">{say("beds.add")}</a>
      <a class="plain" href="#/ask/record/add-harvest">{say("beds.harvest")}</a>
    </div>
  );
}
