// When a bed may be harvested, and until when tea may still be put on it; counted by the garden's rules.
import type { Answer } from "../api/ask";
import { Fold } from "../pieces/fields";
import { dayOn, withDays } from "../words/time";
import { say } from "../words/words";

type Bed = Answer<"/api/rule/calendar">["beds"][number];

export const lines = (text: string) => text.split("\n").filter((each) => each !== "");

/// The application that asks for the longest wait speaks; where the law leaves the number open, that comes first.
function governing(beds: Bed[]): Bed | undefined {
  return [...beds].sort((a, b) => Number(b.reserved) - Number(a.reserved) || (b.earliest_harvest < a.earliest_harvest ? -1 : b.earliest_harvest > a.earliest_harvest ? 1 : b.applied_on < a.applied_on ? -1 : 1))[0];
}

export function Waits({ beds }: { beds: Bed[] }) {
  const told = governing(beds);
  if (!told) return null;
  return (
    <div class={told.reserved || told.kept === "no" || told.counts_unknown ? "warnings" : ""}>
      <p class="quiet">{say("waits.after", { brew: told.brew, day: dayOn(told.applied_on) })}</p>
      {lines(told.text).slice(told.waits.length === 0 ? -1 : 0).map((each) => <p key={each}>{withDays(each)}</p>)}
      {told.waits.length > 0 ? (
        <Fold heading={say("waits.by_which")} line={say("waits.count", { count: told.waits.length })}>
          <ul class="plain-list">
            {told.waits.map((each) => (
              <li key={each.id}>
                <strong>{each.citation}</strong>{each.confirmed ? "" : ` (${say("waits.unconfirmed")})`}: {each.text} {each.may_apply}
              </li>
            ))}
          </ul>
        </Fold>
      ) : null}
    </div>
  );
}
