// The steps of a brew to tick, each with a timer where it has to wait. Ticks are this device's own.
import { signal, type Signal } from "@preact/signals";
import { put, take } from "../keep/database";
import type { PlanAnswer } from "../plan/planner";
import { seconds } from "../now/clock";
import { clock } from "../words/time";
import { say } from "../words/words";
import type { Brew } from "./brew";

interface Tick {
  done?: boolean;
  until?: number;   // ms, while a timer runs
}
type Ticks = Record<string, Tick>;
const held = new Map<string, Signal<Ticks>>();

function ticksOf(id: string): Signal<Ticks> {
  let ticks = held.get(id);
  if (!ticks) {
    ticks = signal<Ticks>({});
    held.set(id, ticks);
    const made = ticks;
    void take<Ticks>("ticks", id).then((kept) => { if (kept) made.value = { ...kept, ...made.value }; });
  }
  return ticks;
}

function put_tick(id: string, key: string, tick: Tick): void {
  const ticks = ticksOf(id);
  ticks.value = { ...ticks.value, [key]: tick };
  void put("ticks", id, ticks.value);
}

export function Steps({ brew, steps }: { brew: Brew; steps: PlanAnswer["steps"] }) {
  const ticks = ticksOf(brew.id).value;
  return (
    <ol class="steps to-tick">
      {steps.map((step, index) => {
        // Which of its kind it is, not its place: others come and go before it when the brew begins.
        const key = `${step.code} ${steps.slice(0, index).filter((each) => each.code === step.code).length}`;
        const tick = ticks[key] ?? {};
        const wait = step.at && step.until && !step.code.endsWith("earliest_look") ? Date.parse(step.until) - Date.parse(step.at) : 0;
        return (
          <li key={key} class={tick.done ? "done" : ""}>
            <label>
              <input type="checkbox" checked={tick.done ?? false} onChange={(event) => put_tick(brew.id, key, { ...tick, done: event.currentTarget.checked })} />
              <time dateTime={step.at ?? ""}>{clock(Date.parse(step.at ?? ""), brew.zone)}</time>
              <span>{step.text}</span>
            </label>
            {wait > 0 && !tick.done ? <Timer wait={wait} tick={tick} set={(next) => put_tick(brew.id, key, next)} /> : null}
          </li>
        );
      })}
    </ol>
  );
}

function Timer({ wait, tick, set }: { wait: number; tick: Tick; set(tick: Tick): void }) {
  if (tick.until === undefined) {
    return <button type="button" class="plain" onClick={() => set({ ...tick, until: Date.now() + wait })}>{say("steps.timer", { minutes: Math.round(wait / 60_000) })}</button>;
  }
  const left = tick.until - seconds.value;
  if (left <= 0) return <p class="timer" role="status"><strong>{say("steps.time_is_up")}</strong></p>;
  const minutes = Math.floor(left / 60_000);
  const rest = String(Math.floor((left % 60_000) / 1000)).padStart(2, "0");
  return (
    <p class="timer">
      <strong>{minutes}:{rest}</strong> <button type="button" class="plain" onClick={() => set(tick.done ? { done: true } : {})}>{say("steps.stop")}</button>
    </p>
  );
}
