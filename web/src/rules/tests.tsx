// Which laboratory tests the garden's rules ask for, what the record's results pay off, and what is owed.
import { useSignal } from "@preact/signals";
import { useAsked } from "../keep/asked";
import { listed, textOf } from "../keep/record";
import { Fold, Pick } from "../pieces/fields";
import { dayOn } from "../words/time";
import { say, type Key } from "../words/words";
import { chosenRules } from "./chosen";
import { lines } from "./waits";

const tested = ["water_source", "compost_lot", "brew"] as const;

export function TestingPlan() {
  const about = useSignal("");
  const { answer, old } = useAsked("/api/rule/tests", { rules: chosenRules(), ...(about.value ? { about: about.value } : {}) });
  if (!answer) return <p class="quiet">{old ? say("server.not_reached") : say("now.looking")}</p>;
  if (answer.tests.length === 0) return <p>{say("tests.none")}</p>;
  const things = tested.flatMap((kind) => listed(kind).entries.filter((each) => each.state === "kept").map((each) => ({ value: each.root, label: `${say(`kind.${kind}` as Key)}: ${textOf(each, "name")}` })));
  return (
    <>
      <p>{say("tests.hint")}</p>
      {things.length > 0 ? <Pick label={say("tests.about")} value={about.value} set={(value) => (about.value = value)} options={[{ value: "", label: say("tests.about_all") }, ...things]} /> : null}
      <p role="status">{answer.record_says}</p>
      {answer.doubts.filter((each) => ["rule.tests.of_several", "rule.tests.part_untested"].includes(each.code)).map((each) => <p key={each.code} class="quiet">{each.text}</p>)}
      <Fold heading={say("tests.which")} line={say("tests.count", { count: answer.tests.length, owed: answer.tests.filter((each) => each.verdict !== "met").length })}>
        <ul class="plain-list">
          {answer.tests.map((each) => (
            <li key={each.id}>
              <strong>{each.text}</strong> <small class="quiet">{each.citation}{each.confirmed ? "" : `, ${say("waits.unconfirmed")}`}</small>
              {lines(each.says).map((line) => <small key={line}> {line}</small>)}
              {each.kept.map((one) => <small key={one.id}> {one.name}, {dayOn((one.at ?? "").slice(0, 10))}: {one.text}</small>)}
            </li>
          ))}
        </ul>
      </Fold>
      <a class="plain" href="#/ask/rule/tests">{say("tests.work_out")}</a>
      <a class="plain" href="#/ask/record/add-water-test">{say("tests.water")}</a>
      <a class="plain" href="#/ask/record/add-compost-test">{say("tests.compost")}</a>
    </>
  );
}
