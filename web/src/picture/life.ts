// The second picture: who lives in the brew, on a log scale over the same clock. Fungi are hatched: indicative only.
import uPlot from "uplot";
import { hourOf, localHours, weekdayOf } from "../words/time";
import { say } from "../words/words";
import type { Band } from "./night";
import { settings } from "../settings";
import { palette, thin } from "./palette";
import type { Drawing } from "./plot";

export interface Life {
  zone: string;
  start: number;
  to: number;
  hours: number[];
  bacteria: Band;     // per mL
  protozoa: Band;     // per mL
  fungi: Band;        // ug per mL
  nights: { from: number; to: number }[];
}

const hour = 3_600_000;

function hatched(u: uPlot, colour: string): CanvasPattern | string {
  const tile = document.createElement("canvas");
  const side = 8 * devicePixelRatio;
  tile.width = tile.height = side;
  const ink = tile.getContext("2d");
  if (!ink) return thin(colour, 0.2);
  ink.strokeStyle = colour;
  ink.lineWidth = devicePixelRatio;
  ink.beginPath();
  ink.moveTo(0, side);
  ink.lineTo(side, 0);
  ink.stroke();
  return u.ctx.createPattern(tile, "repeat") ?? thin(colour, 0.2);
}

/// "1", "1000", "1 million": powers of ten as people say them.
function power(value: number): string {
  if (value >= 1e9) return say("count.billion", { number: value / 1e9 });
  if (value >= 1e6) return say("count.million", { number: value / 1e6 });
  return String(Number(value.toPrecision(1)));
}

function shadeNights(u: uPlot, life: Life): void {
  const { left, top, width, height } = u.bbox;
  u.ctx.fillStyle = palette().night;
  for (const dark of life.nights) {
    const from = Math.max(left, u.valToPos(dark.from / 1000, "x", true));
    const to = Math.min(left + width, u.valToPos(dark.to / 1000, "x", true));
    if (to > from) u.ctx.fillRect(from, top, to - from, height);
  }
}

/// Each lane's name stands over its right end.
function nameLanes(u: uPlot, highest: number[]): void {
  const ink = palette();
  const size = Math.round(14 * devicePixelRatio);
  u.ctx.font = `${size}px system-ui, sans-serif`;
  u.ctx.textAlign = "right";
  u.ctx.textBaseline = "alphabetic";
  const right = u.bbox.left + u.bbox.width - 6 * devicePixelRatio;
  for (const [index, text] of [say("picture.bacteria"), say("picture.protozoa"), say("picture.fungi")].entries()) {
    const y = Math.max(u.valToPos(highest[index] ?? 1, "y", true) - 0.4 * size, u.bbox.top + size);
    const wide = u.ctx.measureText(text).width;
    u.ctx.fillStyle = thin(ink.ground, 0.82);
    u.ctx.fillRect(right - wide - 2, y - size, wide + 4, 1.25 * size);
    u.ctx.fillStyle = ink.life;
    u.ctx.fillText(text, right, y);
  }
}

export function lifeDrawing(life: Life): Drawing {
  const seconds = life.hours.map((each) => life.start / 1000 + each * 3600);
  const until = seconds.findIndex((each) => each > life.to / 1000 + 900);
  const cut = <T,>(all: T[]): T[] => (until === -1 ? all : all.slice(0, until));
  const some = (all: (number | null)[]) => cut(all).map((each) => (each !== null && each > 1e-3 ? each : null));
  const lanes = [life.bacteria, life.protozoa, life.fungi];
  const data = [cut(seconds), ...lanes.flatMap((band) => [some(band.p95), some(band.p50), some(band.p05)])] as uPlot.AlignedData;

  return {
    data,
    shape: `${life.zone} ${settings.value.language}`,
    x: [(life.start - 0.4 * hour) / 1000, life.to / 1000],
    y: [1e-3, 1e10],
    before: (u) => shadeNights(u, life),
    after: (u) => nameLanes(u, lanes.map((band) => Math.max(...cut(band.p95).map((each) => each ?? 0), 1e-3))),
    options: (width, height, now) => {
      const ink = palette();
      const narrow = width < 560;
      const every = (life.to - life.start) / hour > (narrow ? 15 : 40) ? 6 : 3;
      const edge: uPlot.Series = { stroke: "transparent", points: { show: false } };
      const middle = (dash?: number[]): uPlot.Series => ({ stroke: ink.life, width: 2.5, points: { show: false }, ...(dash ? { dash } : {}) });
      return {
        width, height, ms: 1, pxAlign: false, legend: { show: false }, cursor: { show: false }, padding: [14, narrow ? 6 : 16, 0, 0],
        scales: {
          x: { time: false, range: () => now().x },
          y: { distr: 3, range: () => now().y },
        },
        series: [{}, edge, middle(), edge, edge, middle([10, 4]), edge, edge, middle([2, 4]), edge],
        bands: [
          { series: [1, 3], fill: thin(ink.life, 0.3) },
          { series: [4, 6], fill: thin(ink.life, 0.3) },
          { series: [7, 9], fill: (u) => hatched(u, ink.life) as string },
        ],
        axes: [
          {
            scale: "x", size: 30, stroke: ink.ink, font: "14px system-ui, sans-serif", gap: 2, grid: { show: false }, ticks: { stroke: ink.quiet, size: 5 },
            splits: () => localHours(now().x[0] * 1000, now().x[1] * 1000, every, life.zone).map((at) => at / 1000),
            values: (_, splits) =>
              splits.map((at) => {
                const hours = hourOf(at * 1000, life.zone);
                return hours.startsWith("00") ? weekdayOf(at * 1000, life.zone) : narrow ? hours.slice(0, 2) : hours;
              }),
          },
          {
            scale: "y", size: narrow ? 62 : 84, stroke: ink.ink, font: "14px system-ui, sans-serif", gap: 3,
            grid: { stroke: ink.rule, width: 1 }, ticks: { show: false },
            splits: () => [1e-2, 1, 1e3, 1e6, 1e9], filter: (_, splits) => splits,
            values: (_, splits) => splits.map(power),
          },
        ],
      };
    },
  };
}
