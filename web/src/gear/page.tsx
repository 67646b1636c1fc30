// Stores and gear: what is at hand, and the test that tells what the air really does.
import { listed, textOf, type Entry } from "../keep/record";
import { stateText } from "../brew/logged";
import { Fold } from "../pieces/fields";
import { route } from "../route";
import { say, type Key } from "../words/words";
import { numberOf } from "../keep/record";
import { settings } from "../settings";
import { AirTest } from "./air_test";

const kinds = ["compost_lot", "food_lot", "water_source", "vessel", "pump", "diffuser", "line"] as const;

export function GearPage() {
  if (route.value.rest[0] === "test") return <AirTest />;
  return (
    <div class="page">
      <h1 class="sentence">{say("gear.heading")}</h1>
      <a class="main" href="#/gear/test">{say("gear.test")}</a>
      <p class="hint">{say("gear.test_hint")}</p>
      {kinds.map((kind) => {
        const all = listed(kind).entries;
        return (
          <Fold key={kind} heading={say(`kind.${kind}` as Key)} line={all.length === 0 ? say("gear.none") : all.map((each) => textOf(each, "name")).join(" · ")} open={all.length > 0}>
            {all.length > 0 ? <ul class="logged">{all.map((each) => <li key={each.root}><strong>{textOf(each, "name")}</strong><span>{about(each)} <small class="caution">{stateText(each)}</small></span></li>)}</ul> : null}
            <a class="plain" href={`#/ask/record/add-${kind.replaceAll("_", "-")}`}>{say("gear.add")}</a>
          </Fold>
        );
      })}
    </div>
  );
}

/// The one figure people know a thing by.
function about(entry: Entry): string {
  const us = settings.value.measures === "us";
  const volume = numberOf(entry, "volume_l");
  const mass = numberOf(entry, "mass_g");
  const flow = numberOf(entry, "flow_l_per_h");
  const parts = [
    volume === null ? textOf(entry, "volume") : us ? `${(volume / 3.785411784).toFixed(1)} US gal` : `${Number(volume.toPrecision(3))} L`,
    mass === null ? textOf(entry, "mass") : us ? `${(mass / 453.59237).toFixed(1)} lb` : mass >= 1000 ? `${Number((mass / 1000).toPrecision(3))} kg` : `${Math.round(mass)} g`,
    flow === null ? textOf(entry, "flow") : `${Math.round(flow)} L/h`,
    textOf(entry, "food"), textOf(entry, "note"),
  ];
  return parts.filter((part) => part !== "").join(" · ");
}
