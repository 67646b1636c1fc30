// Which laboratory tests the garden's rules ask for, and what is owed.
import { useAsked } from "../keep/asked";
import { Fold } from "../pieces/fields";
import { say } from "../words/words";
import { chosenRules } from "./chosen";
import { lines } from "./waits";

export function TestingPlan() {
  const { answer, old } = useAsked("/api/rule/tests", { rules: chosenRules() });
  if (!answer) return <p class="quiet">{old ? say("server.not_reached") : say("now.looking")}</p>;
  if (answer.tests.length === 0) return <p>{say("tests.none")}</p>;
  return (
    <>
      <p>{say("tests.hint")}</p>
      <Fold heading={say("tests.which")} line={say("tests.count", { count: answer.tests.length, owed: answer.tests.filter((each) => each.verdict !== "met").length })}>
        <ul class="plain-list">
          {answer.tests.map((each) => (
            <li key={each.id}>
              <strong>{each.text}</strong> <small class="quiet">{each.citation}{each.confirmed ? "" : `, ${say("waits.unconfirmed")}`}</small>
              {lines(each.says).map((line) => <small key={line}> {line}</small>)}
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
