// Begun earlier than planned: the brew's clock is put to when the air really went on.
import { useSignal } from "@preact/signals";
import { post } from "../api/ask";
import { look } from "../keep/record";
import { now } from "../now/clock";
import { iso } from "../words/time";
import { say } from "../words/words";
import type { Brew } from "./brew";

export function AirOnNow({ brew }: { brew: Brew }) {
  const wrong = useSignal("");
  const begin = async () => {
    const result = await post("/api/record/correct", { id: brew.now.id, field: "air_on_at", value: iso(Date.now(), brew.zone), reason: say("brew.air_on_reason") });
    if (result.kind === "answered") {
      now.value = Date.now();
      look();
    } else wrong.value = result.kind === "refused" ? result.refusals.map((each) => each.text).join(" ") : say("entry.correct_needs_network");
  };
  return (
    <>
      <button type="button" class="plain" disabled={brew.now.state !== "kept"} onClick={() => void begin()}>{say("brew.air_on_now")}</button>
      {wrong.value ? <p class="refusal" role="alert">{wrong.value}</p> : null}
    </>
  );
}
