// What would mend the plan, each a tap away.
import { ofHundred } from "../words/numbers";
import { say } from "../words/words";
import { changed, type Plan } from "./document";
import { change, type PlanAnswer } from "./planner";

export function Mends({ told, plan }: { told: PlanAnswer; plan: Plan }) {
  if (told.mends.length === 0) return null;
  const take = (mend: PlanAnswer["mends"][number]) =>
    // From the last row up, so that a row left out does not move the others.
    change([...mend.changes].reverse().reduce((next, each) => changed(next, each.field, each.value === "" ? undefined : each.value), plan));
  return (
    <div class="mends">
      <h2>{say("mends.heading")}</h2>
      {told.mends.map((mend) => (
        <button type="button" key={mend.code + mend.text} class="mend" onClick={() => take(mend)}>
          <span>{mend.text}</span>
          <small>{say(mend.mends ? "mends.enough" : "mends.helps", { above: ofHundred(mend.probability_oxygen_stays_above_6 ?? 0) })}</small>
        </button>
      ))}
    </div>
  );
}
