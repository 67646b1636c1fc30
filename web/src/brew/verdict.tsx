// Whether the brew is fit to use, from what was read, smelled and seen; always with its reasons. Judged by the server.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, type Answer } from "../api/ask";
import { put, take } from "../keep/database";
import { add } from "../keep/queue";
import type { Entry } from "../keep/record";
import { settings } from "../settings";
import { iso } from "../words/time";
import { say } from "../words/words";
import { now } from "../now/clock";
import type { Brew } from "./brew";

type Fitness = Answer<"/api/brew/day">["fitness"];

export function Verdict({ brew, seen, brief = false }: { brew: Brew; seen: Entry[]; brief?: boolean }) {
  const fitness = useSignal<Fitness | null>(null);
  const old = useSignal(false);
  const kept = useSignal(false);
  const arrived = seen.filter((each) => each.state === "kept").map((each) => each.id).join(" ");
  const began = now.value >= brew.on;
  const quarter = Math.floor(now.value / 900_000);  // judged anew as time passes
  useEffect(() => {
    if (!began) return;
    void ask("/api/brew/day", { brew: brew.id }).then(async (result) => {
      const key = `fitness ${brew.id}`;
      if (result.kind === "answered") {
        fitness.value = result.answer.fitness;
        old.value = false;
        await put("seen", key, fitness.value);
      } else if (!fitness.value) {
        fitness.value = (await take<Fitness>("seen", key)) ?? null;
        old.value = true;
      }
    });
  }, [arrived, began, quarter, brew.now.id, settings.value.language]);

  const told = fitness.value;
  if (!began || !told) return null;
  if (brief) return <p class={`fitness ${told.verdict}`}>{told.headline}</p>;
  const keep = async () => {
    await add("fitness", { brew: brew.id, at: iso(Date.now(), brew.zone), verdict: told.verdict, reasons: JSON.stringify(told.reasons.map(({ code, text }) => ({ code, text }))) });
    kept.value = true;
  };
  return (
    <section class={`fitness ${told.verdict}`} aria-live="polite">
      <h2>{told.headline}</h2>
      {old.value ? <p class="quiet">{say("brew.old_forecast")}</p> : null}
      <ul class="plain-list">{told.reasons.map((each, index) => <li key={index}>{each.text}</li>)}</ul>
      {told.advice.length > 0 ? <ul class="plain-list">{told.advice.map((each, index) => <li key={index}>{each.text}</li>)}</ul> : null}
      {told.cautions.map((each, index) => <p key={index} class="caution">{each.text}</p>)}
      {kept.value ? <p role="status">{say("fitness.kept")}</p> : <button type="button" class="plain" onClick={() => void keep()}>{say("fitness.keep")}</button>}
    </section>
  );
}
