// Now: each brew that is going, what comes next for it, and one large key to say what you see.
import { useEffect } from "preact/hooks";
import { brews, dotsOf, forecastOf, isLive, observationsOf, readingsOf, type Brew } from "../brew/brew";
import { countsOf } from "../brew/counted";
import { Verdict } from "../brew/verdict";
import { momentOf, numberOf, type Entry } from "../keep/record";
import { NightPicture } from "../picture/night_picture";
import { nightOf } from "../picture/of_answer";
import type { PlanAnswer } from "../plan/planner";
import { answer, plan } from "../plan/planner";
import { planSample } from "../plan/page";
import { textAt } from "../plan/document";
import { tenth } from "../words/numbers";
import { away, clock, dayOf, span } from "../words/time";
import { say } from "../words/words";
import { now } from "./clock";

export function NowPage() {
  const { all, known } = brews();
  const live = all.filter((brew) => isLive(brew, now.value));
  const past = all.filter((brew) => !isLive(brew, now.value)).slice(0, 8);
  return (
    <div class="page">
      <h1 class={live.length > 0 ? "hidden" : "sentence"}>{live.length > 0 ? say("nav.now") : known ? say("now.nothing") : say("now.looking")}</h1>
      {live.map((brew) => <Going key={brew.id} brew={brew} />)}
      {live.length === 0 ? <CouldStart /> : null}
      {past.length > 0 ? (
        <section class="part">
          <h2>{say("now.past")}</h2>
          <ul class="rows">
            {past.map((brew) => <li key={brew.id}><a href={`#/brew/${brew.id}`}><span>{brew.name}</span><small>{dayOf(brew.on, brew.zone)}</small></a></li>)}
          </ul>
        </section>
      ) : null}
    </div>
  );
}

/// How long it has run, or when the air goes on.
export function elapsed(brew: Brew): string {
  return now.value < brew.on
    ? say("now.begins", { at: clock(brew.on, brew.zone), away: away(brew.on, now.value) })
    : say("now.runs", { span: span(now.value - brew.on), since: clock(brew.on, brew.zone) });
}

/// The next step of the plan and its time.
export function nextStep(told: PlanAnswer): { text: string; at: number } | null {
  const next = told.steps.find((step) => Date.parse(step.at ?? "") > now.value);
  return next ? { text: next.text, at: Date.parse(next.at ?? "") } : null;
}

/// The last oxygen read, held against the band as it is drawn.
function lastReading(readings: Entry[], told: PlanAnswer): string {
  const last = readings.filter((each) => numberOf(each, "oxygen_mg_per_l") !== null).at(-1);
  if (!last) return say("now.no_reading");
  const value = numberOf(last, "oxygen_mg_per_l") ?? 0;
  const hours = (momentOf(last) - Date.parse(told.start ?? "")) / 3_600_000;
  const index = told.time_h.findIndex((each) => (each ?? 0) >= hours);
  const low = told.oxygen_mg_per_l.p05[index] ?? null;
  const high = told.oxygen_mg_per_l.p95[index] ?? null;
  const where = hours < 0 || low === null || high === null ? "" : value < low ? say("now.below_band") : value > high ? say("now.above_band") : say("now.in_band");
  return say("now.last_reading", { value: tenth(value), ago: away(momentOf(last), now.value) }) + (where ? ` ${where}` : "");
}

function Going({ brew }: { brew: Brew }) {
  const readings = readingsOf(brew);
  const { answer: told } = forecastOf(brew, readings);
  const next = told ? nextStep(told) : null;
  return (
    <section class="going">
      <h2><a href={`#/brew/${brew.id}`}>{brew.name}</a></h2>
      <p class="quiet">{elapsed(brew)}</p>
      {told ? (
        <>
          {next ? <p class="next"><strong>{clock(next.at, brew.zone)}</strong> <span class="quiet">{away(next.at, now.value)}</span><br />{next.text}</p> : null}
          <p>{lastReading(readings, told)}</p>
          <Verdict brew={brew} seen={[...readings, ...observationsOf(brew), ...countsOf(brew)]} brief />
          <a class="main" href={`#/brew/${brew.id}/reading`}>{say("brew.log_reading")}</a>
          <NightPicture night={nightOf(told, { zone: brew.zone, now: now.value, dots: dotsOf(readings, told) })} />
        </>
      ) : <p class="quiet">{say("plan.working")}</p>}
      <div class="deeds">
        <a class="plain" href={`#/brew/${brew.id}/look`}>{say("brew.log_look")}</a>
        <a class="plain" href={`#/brew/${brew.id}`}>{say("now.open")}</a>
      </div>
    </section>
  );
}

/// Nothing is brewing: what could be, and when it would be ready.
function CouldStart() {
  useEffect(() => { if (!plan.value) void planSample(); }, []);
  const told = answer.value;
  const zone = textAt(plan.value, "garden.zone");
  return (
    <div class="could">
      {told?.ready_window.exists && told.ready_window.from && told.start
        ? <p>{say("now.could", { name: told.name, start: clock(Date.parse(told.start), zone), ready: clock(Date.parse(told.ready_window.from), zone) })}</p>
        : null}
      <a class="main" href="#/plan">{say("now.to_plan")}</a>
    </div>
  );
}
