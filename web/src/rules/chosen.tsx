// The sets of rules a garden keeps to: chosen once, kept in the record, held to on every screen.
import { useSignal } from "@preact/signals";
import { correct } from "../keep/queue";
import { listed, textOf } from "../keep/record";
import { say, word } from "../words/words";

const sets = ["us_produce", "us_organic", "us_sludge", "eu", "uk", "fr", "au"];
const usual = "us_produce,us_organic";

const garden = () => listed("garden").entries.filter((each) => each.state !== "refused").at(-1);
/// As questions take them: "us_produce,us_organic"; "none" when the garden keeps to none of ours.
export function chosenRules(): string {
  const here = garden();
  return (here && textOf(here, "rules")) || usual;
}

export function ChooseRules() {
  const asked = useSignal<string | null>(null);  // until it is kept
  const here = garden();
  if (!here) return <p>{say("rules.no_garden")}</p>;
  const now = (asked.value ?? chosenRules()).split(",").map((each) => each.trim());
  const choose = async (name: string, on: boolean) => {
    const next = sets.filter((each) => (each === name ? on : now.includes(each))).join(",") || "none";
    asked.value = next;
    await correct(here.root, "rules", next, say("rules.choose_reason"));
    if (asked.value === next) asked.value = null;
  };
  return (
    <fieldset class="field">
      <legend>{say("rules.choose")}</legend>
      <ul class="ticks">
        {sets.map((name) => (
          <li key={name}>
            <label>
              <input type="checkbox" checked={now.includes(name)} onChange={(event) => void choose(name, event.currentTarget.checked)} />
              <span>{word("rule_set", name)}</span>
            </label>
          </li>
        ))}
      </ul>
      <p class="hint">{say("rules.local")}</p>
    </fieldset>
  );
}
