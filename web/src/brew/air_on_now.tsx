// Begun earlier than planned: the brew's clock is put to when the air really went on.
import { correct } from "../keep/queue";
import { now } from "../now/clock";
import { iso } from "../words/time";
import { say } from "../words/words";
import type { Brew } from "./brew";

export function AirOnNow({ brew }: { brew: Brew }) {
  const begin = async () => {
    await correct(brew.id, "air_on_at", iso(Date.now(), brew.zone), say("brew.air_on_reason"));
    now.value = Date.now();
  };
  return <button type="button" class="plain" disabled={brew.now.state === "refused"} onClick={() => void begin()}>{say("brew.air_on_now")}</button>;
}
