// The steps of a brew to tick, each with a timer where it has to wait. Ticks are entries of the record, so that two
// phones share them; timers are this device's own.
import { signal, useSignal, type Signal } from "@preact/signals";
import { put, take } from "../keep/database";
import { add } from "../keep/queue";
import { listed, momentOf, textOf } from "../keep/record";
import type { PlanAnswer } from "../plan/planner";
import { seconds } from "../now/clock";
import { clock, iso } from "../words/time";
import { say } from "../words/words";
import type { Brew } from "./brew";

interface Tick {
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

/// Which steps are done: of each its latest tick, or the taking back of one.
function doneOf(brew: Brew): Set<string> {
  const said = listed("step", "brew", brew.id).entries.filter((each) => each.state !== "refused").sort((a, b) => momentOf(a) - momentOf(b));
  const latest = new Map(said.map((each) => [textOf(each, "step"), each.values["done"] === true]));
  return new Set([...latest].filter(([, done]) => done).map(([step]) => step));
}

export function Steps({ brew, steps }: { brew: Brew; steps: PlanAnswer["steps"] }) {
  const ticks = ticksOf(brew.id).value;
  const all = doneOf(brew);
  const asked = useSignal<Record<string, boolean>>({});  // until it is kept
  const mark = async (step: string, done: boolean) => {
    asked.value = { ...asked.value, [step]: done };
    await add("step", { brew: brew.id, at: iso(Date.now(), brew.zone), step, done });
    const { [step]: last, ...rest } = asked.value;
    if (last === done) asked.value = rest;
  };
  return (
    <ol class="steps to-tick">
      {steps.map((step, index) => {
        // Which of its kind it is, not its place: others come and go before it when the brew begins.
        const key = `${step.code} ${steps.slice(0, index).filter((each) => each.code === step.code).length}`;
        const tick = ticks[key] ?? {};
        const done = asked.value[key] ?? all.has(key);
        const wait = step.at && step.until && !step.code.endsWith("earliest_look") ? Date.parse(step.until) - Date.parse(step.at) : 0;
        return (
          <li key={key} class={done ? "done" : ""}>
            <label>
              <input type="checkbox" checked={done} onChange={(event) => void mark(key, event.currentTarget.checked)} />
              <time dateTime={step.at ?? ""}>{clock(Date.parse(step.at ?? ""), brew.zone)}</time>
              <span>{step.text}</span>
            </label>
            {wait > 0 && !done ? <Timer wait={wait} tick={tick} set={(next) => put_tick(brew.id, key, next)} /> : null}
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
      <strong>{minutes}:{rest}</strong> <button type="button" class="plain" onClick={() => set({})}>{say("steps.stop")}</button>
    </p>
  );
}
