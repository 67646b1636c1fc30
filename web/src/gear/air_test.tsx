// A re-aeration test by the bucket: strip the oxygen, switch the air on, read as it rises. The fit is drawn as you go.
import { signal } from "@preact/signals";
import { useMemo } from "preact/hooks";
import uPlot from "uplot";
import { ask, type Answer, type Remark } from "../api/ask";
import { palette } from "../picture/palette";
import { Plot, type Drawing } from "../picture/plot";
import { QuantityField } from "../pieces/quantity_field";
import { changed, type Plan } from "../plan/document";
import { plan, change } from "../plan/planner";
import { planSample } from "../plan/page";
import { seconds } from "../now/clock";
import { go } from "../route";
import { read } from "../units/quantity";
import { settings } from "../settings";
import { tenth } from "../words/numbers";
import { say } from "../words/words";

interface Reading {
  time_s: number;
  oxygen: number;
}
type Fit = Answer<"/api/air/test">;

const begun = signal<number | null>(null);
const readings = signal<Reading[]>([]);
const temperature = signal("");
const oxygen = signal("");
const fit = signal<Fit | null>(null);
const wrong = signal<Remark[]>([]);
const fewest = 5;

async function work(): Promise<void> {
  if (readings.value.length < fewest) return;
  const csv = ["time_s,oxygen_mg_per_l", ...readings.value.map((each) => `${each.time_s},${each.oxygen}`)].join("\n") + "\n";
  const result = await ask("/api/air/test", { readings: csv, ...(temperature.value ? { temperature: temperature.value } : {}) });
  if (result.kind === "answered") {
    fit.value = result.answer;
    wrong.value = [];
  } else {
    wrong.value = result.kind === "refused" ? result.refusals : [{ code: "", field: "", text: say("server.not_reached") }];
  }
}

function take(): void {
  const told = read(/[a-z]/i.test(oxygen.value) ? oxygen.value : `${oxygen.value} mg/L`);
  if (begun.value === null || !told || told.of !== "concentration") return;
  readings.value = [...readings.value, { time_s: Math.round((Date.now() - begun.value) / 1000), oxygen: told.inside }];
  void work();
}

export function AirTest() {
  const us = settings.value.measures === "us";
  const all = readings.value;
  const drawing = useMemo(() => curve(all, fit.value), [all, fit.value]);
  const ran = begun.value === null ? 0 : Math.max(0, Math.floor((seconds.value - begun.value) / 1000));
  const use = async () => {
    if (!plan.value) await planSample();
    const told = fit.value;
    if (!told) return;
    const digits = (value: number | null) => Number((value ?? 0).toPrecision(3));
    let next = changed(plan.value as Plan, "air.measured_kla", `${digits(told.kla20_per_h ?? told.kla_per_h)} 1/h`);
    next = changed(next, "air.measured_kla_error", `${digits(told.kla_standard_error_per_h)} 1/h`);
    change(next);
    go("plan");
  };
  return (
    <div class="page">
      <h1 class="sentence">{say("test.heading")}</h1>
      <ol class="plain-list">
        <li>{say("test.fill")}</li>
        <li>{say("test.strip")}</li>
        <li>{say("test.start")}</li>
        <li>{say("test.read")}</li>
      </ol>
      <p class="warnings">{say("test.caution")}</p>
      <QuantityField label={say("plan.temperature")} value={temperature.value} unit={us ? "°F" : "°C"} of="temperature" begin={20} extent={{ least: 4, most: 38 }} refusals={[]} set={(text) => { temperature.value = text; void work(); }} />
      {begun.value === null ? (
        <button type="button" class="main" onClick={() => { begun.value = Date.now(); readings.value = []; fit.value = null; }}>{say("test.air_on")}</button>
      ) : (
        <>
          <p class="timer"><strong>{Math.floor(ran / 60)}:{String(ran % 60).padStart(2, "0")}</strong> {say("test.since")}</p>
          <QuantityField label={say("reading.oxygen")} value={oxygen.value} unit="mg/L" of="concentration" begin={1} extent={{ least: 0, most: 14 }} refusals={[]} set={(text) => (oxygen.value = text)} />
          <button type="button" class="main" onClick={take}>{say("test.take", { count: all.length + 1 })}</button>
          <Plot drawing={drawing} kind="test" says={say("test.says", { count: all.length, last: tenth(all.at(-1)?.oxygen) })} />
          {all.length < fewest ? <p class="quiet">{say("test.more", { count: fewest - all.length })}</p> : null}
          {wrong.value.map((each, index) => <p key={index} class="refusal" role="alert">{each.text} {each.next}</p>)}
          {fit.value ? (
            <div role="status">
              <p class="sentence">{say("test.fit", { kla: tenth(fit.value.kla20_per_h ?? fit.value.kla_per_h), error: tenth(fit.value.kla_standard_error_per_h) })}</p>
              <p class="quiet">{say("test.covered", { share: Math.round(100 * (fit.value.covered_share ?? 0)) })}</p>
              <button type="button" class="main" onClick={() => void use()}>{say("test.use")}</button>
            </div>
          ) : null}
          <ul class="logged">
            {all.map((each, index) => (
              <li key={index}>
                <time>{Math.floor(each.time_s / 60)}:{String(each.time_s % 60).padStart(2, "0")}</time>
                <span>{tenth(each.oxygen)} mg/L <button type="button" class="why" onClick={() => { readings.value = all.filter((other) => other !== each); void work(); }}>{say("test.leave_out")}</button></span>
              </li>
            ))}
          </ul>
          <button type="button" class="plain" onClick={() => { begun.value = null; readings.value = []; fit.value = null; }}>{say("test.again")}</button>
        </>
      )}
    </div>
  );
}

/// C = C* − (C* − C0) exp(−KLa t): docs/air/reaeration.md
function curve(all: Reading[], told: Fit | null): Drawing {
  const last = Math.max(300, ...all.map((each) => each.time_s)) * 1.1;
  const times = [...new Set([...all.map((each) => each.time_s), ...Array.from({ length: 60 }, (_, index) => (index * last) / 59)])].sort((a, b) => a - b);
  const line = times.map((time) => {
    if (!told || told.kla_per_h === null || told.saturation_mg_per_l === null || told.start_mg_per_l === null) return null;
    return told.saturation_mg_per_l - (told.saturation_mg_per_l - told.start_mg_per_l) * Math.exp((-told.kla_per_h * time) / 3600);
  });
  const dots = times.map((time) => all.find((each) => each.time_s === time)?.oxygen ?? null);
  return {
    data: [times.map((time) => time / 60), line, dots],
    shape: settings.value.language,
    x: [0, last / 60],
    y: [0, Math.max(10, ...all.map((each) => each.oxygen + 1))],
    options: (width, height, now): uPlot.Options => {
      const ink = palette();
      const axis = { stroke: ink.ink, font: "14px system-ui, sans-serif", grid: { stroke: ink.rule, width: 1 }, ticks: { show: false }, labelFont: "14px system-ui, sans-serif", labelSize: 22 };
      return {
        width, height, ms: 1, legend: { show: false }, cursor: { show: false }, padding: [12, 12, 0, 0],
        scales: { x: { time: false, range: () => now().x }, y: { range: () => now().y } },
        series: [{}, { stroke: ink.water, width: 2.5, points: { show: false } }, { stroke: "transparent", points: { show: true, size: 10, fill: ink.ink, stroke: ink.ink } }],
        axes: [{ ...axis, label: say("test.minutes") }, { ...axis, label: say("picture.axis") }],
      };
    },
  };
}
