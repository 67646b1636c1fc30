// Says what is still here and not in the record.
import { say } from "../words/words";
import { isLasting } from "./database";
import { refused, waiting } from "./queue";

export function Unsent() {
  const count = waiting.value.length;
  return (
    <div role="status">
      {count > 0 || refused.value.length > 0 ? (
        <p class="unsent">
          <span>
            {count === 1 ? say("unsent.one") : count > 1 ? say("unsent.some", { count }) : ""}{" "}
            {refused.value.length > 0 ? say("unsent.refused", { count: refused.value.length }) : ""}
          </span>
          <a href="#/record/unsent">{say("unsent.open")}</a>
        </p>
      ) : null}
      {isLasting.value ? null : <p class="unsent">{say("unsent.not_lasting")}</p>}
    </div>
  );
}
