// The night picture: oxygen over the local clock. How it looks and why: docs/cards/night_picture.md
import uPlot from "uplot";
import { clock, hourOf, localHours, weekdayOf } from "../words/time";
import { say } from "../words/words";
import { settings } from "../settings";
import { palette, thin, type Palette } from "./palette";
import type { Drawing } from "./plot";

export interface Band {
  p05: (number | null)[];
  p25: (number | null)[];
  p50: (number | null)[];
  p75: (number | null)[];
  p95: (number | null)[];
}
export interface Dot {
  at: number;          // ms
  value: number;       // mg/L
  error: number;       // the instrument's, either way
  doubted: boolean;
}
export interface Act {
  at: number;
  text: string;
}
export interface Night {
  zone: string;
  start: number;                       // ms, air on
  to: number;                          // ms, right edge
  hours: number[];                     // from air on, of every series
  oxygen: Band;
  saturation: (number | null)[];
  nights: { from: number; to: number }[];
  ready: { from: number; to: number } | null;
  acts: Act[];
  dots: Dot[];
  next: number | null;                 // the reading worth taking
  now: number | null;
}

const hour = 3_600_000;
const good_line = 6;   // mg/L, where the trade's margin lies
const flat_line = 2;

/// All that is drawn beside the curves; canvas pixels.
interface Pen {
  u: uPlot;
  ink: Palette;
  night: Night;
  size: number;        // of the letters
  x(at: number): number;
  y(value: number): number;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

function pen(u: uPlot, night: Night): Pen {
  const { left, top, width, height } = u.bbox;
  const size = Math.round(14 * devicePixelRatio);
  u.ctx.font = `${size}px system-ui, sans-serif`;
  u.ctx.lineWidth = devicePixelRatio;
  u.ctx.setLineDash([]);
  u.ctx.textBaseline = "alphabetic";
  return {
    u, ink: palette(), night, size,
    x: (at) => u.valToPos(at / 1000, "x", true),
    y: (value) => u.valToPos(value, "y", true),
    left, right: left + width, top, bottom: top + height,
  };
}

function shadeNights({ u, ink, night, x, left, right, top, bottom }: Pen): void {
  u.ctx.fillStyle = ink.night;
  for (const dark of night.nights) {
    const from = Math.max(left, x(dark.from));
    const to = Math.min(right, x(dark.to));
    if (to > from) u.ctx.fillRect(from, top, to - from, bottom - top);
  }
}

function line({ u }: Pen, from: [number, number], to: [number, number], colour: string, dash: number[] = []): void {
  u.ctx.strokeStyle = colour;
  u.ctx.setLineDash(dash.map((each) => each * devicePixelRatio));
  u.ctx.beginPath();
  u.ctx.moveTo(...from);
  u.ctx.lineTo(...to);
  u.ctx.stroke();
  u.ctx.setLineDash([]);
}

function drawLines(p: Pen): void {
  for (const at of localHours(p.night.start - 2 * hour, p.night.to, 24, p.night.zone)) {
    const there = p.x(at);
    if (there > p.left && there < p.right) line(p, [there, p.top], [there, p.bottom], p.ink.quiet);
  }
  line(p, [p.left, p.y(good_line)], [p.right, p.y(good_line)], p.ink.caution, [6, 4]);
  line(p, [p.left, p.y(flat_line)], [p.right, p.y(flat_line)], p.ink.stop, [2, 3]);
  line(p, [p.left, p.bottom], [p.right, p.bottom], p.ink.ink);
}

/// Words on a patch of the ground, so that they can be read over a band.
function words(p: Pen, text: string, x: number, y: number, colour: string, align: CanvasTextAlign): void {
  const { ctx } = p.u;
  const wide = ctx.measureText(text).width;
  const from = align === "right" ? x - wide : align === "center" ? x - wide / 2 : x;
  ctx.fillStyle = thin(p.ink.ground, 0.82);
  ctx.fillRect(from - 2, y - p.size, wide + 4, p.size * 1.25);
  ctx.fillStyle = colour;
  ctx.textAlign = align;
  ctx.fillText(text, x, y);
}

function nameLines(p: Pen): void {
  const edge = p.right - 4 * devicePixelRatio;
  const up = 4 * devicePixelRatio;
  words(p, say("picture.stay_above"), edge, p.y(good_line) - up, p.ink.caution, "right");
  words(p, say("picture.flat_below"), edge, p.y(flat_line) - up, p.ink.stop, "right");
  const full = [...p.night.saturation].reverse().find((each) => each !== null);
  if (full) words(p, say("picture.full"), edge, p.y(full) - up, p.ink.quiet, "right");
  p.u.ctx.font = `${p.size}px system-ui, sans-serif`;
  for (const dark of p.night.nights) {
    const from = Math.max(p.left, p.x(dark.from));
    const to = Math.min(p.right, p.x(dark.to));
    if (to - from > 4 * p.size) words(p, say("picture.night"), from + 4 * devicePixelRatio, p.bottom - up, p.ink.quiet, "left");
  }
}

function drawActs(p: Pen): void {
  const together: Act[] = [];
  for (const act of [...p.night.acts].sort((a, b) => a.at - b.at)) {
    const before = together[together.length - 1];
    if (before && act.at - before.at < 0.4 * hour) before.text += `, ${act.text}`;
    else together.push({ ...act });
  }
  let taken = [-Infinity, -Infinity];  // how far to the right each of two rows is written
  for (const act of together) {
    const there = p.x(act.at);
    if (there < p.left - 1 || there > p.right + 1) continue;
    const wide = p.u.ctx.measureText(act.text).width;
    const from = Math.min(Math.max(there - 3, p.left), Math.max(p.left, p.right - wide));
    const row = from > (taken[0] ?? 0) ? 0 : 1;
    taken[row] = from + wide + p.size;
    const y = p.top - (row === 0 ? 0.5 : 1.75) * p.size;
    line(p, [there, y + 0.2 * p.size], [there, p.top + 0.5 * p.size], p.ink.life);
    p.u.ctx.fillStyle = p.ink.life;
    p.u.ctx.textAlign = "left";
    p.u.ctx.fillText(act.text, from, y);
  }
}

function drawReady(p: Pen): void {
  if (!p.night.ready) return;
  const y = p.bottom + 2.3 * p.size;
  const from = Math.max(p.left, p.x(p.night.ready.from));
  const to = Math.min(p.right, p.x(p.night.ready.to));
  const { ctx } = p.u;
  ctx.lineWidth = 3 * devicePixelRatio;
  ctx.strokeStyle = p.ink.fit;
  ctx.beginPath();
  ctx.moveTo(from, y - 0.6 * p.size);
  ctx.lineTo(from, y);
  ctx.lineTo(to, y);
  ctx.lineTo(to, y - 0.6 * p.size);
  ctx.stroke();
  ctx.lineWidth = devicePixelRatio;
  const text = say("picture.ready", { from: clock(p.night.ready.from, p.night.zone), to: clock(p.night.ready.to, p.night.zone) });
  const half = ctx.measureText(text).width / 2;
  const middle = Math.min(Math.max((from + to) / 2, half + 2), ctx.canvas.width - half - 2);
  ctx.fillStyle = p.ink.fit;
  ctx.textAlign = "center";
  ctx.fillText(text, middle, y + 1.25 * p.size);
}

function drawDots(p: Pen): void {
  const { ctx } = p.u;
  const radius = 4 * devicePixelRatio;
  ctx.lineWidth = 2 * devicePixelRatio;
  for (const dot of p.night.dots) {
    const [x, y] = [p.x(dot.at), p.y(dot.value)];
    ctx.strokeStyle = ctx.fillStyle = p.ink.ink;
    ctx.beginPath();
    const [high, low] = [p.y(dot.value + dot.error), p.y(Math.max(0, dot.value - dot.error))];
    ctx.moveTo(x, high);
    ctx.lineTo(x, low);
    for (const end of [high, low]) {
      ctx.moveTo(x - radius, end);
      ctx.lineTo(x + radius, end);
    }
    ctx.stroke();
    ctx.beginPath();
    ctx.arc(x, y, radius, 0, 2 * Math.PI);
    if (!dot.doubted) {
      ctx.fill();
      continue;
    }
    ctx.fillStyle = p.ink.ground;
    ctx.fill();
    ctx.stroke();
    ctx.beginPath();
    for (const slant of [1, -1]) {
      ctx.moveTo(x - 1.6 * radius, y - slant * 1.6 * radius);
      ctx.lineTo(x + 1.6 * radius, y + slant * 1.6 * radius);
    }
    ctx.stroke();
  }
  ctx.lineWidth = devicePixelRatio;
}

/// The middle of the forecast at a moment.
function middleAt(night: Night, at: number): number | null {
  const hours = (at - night.start) / hour;
  const next = night.hours.findIndex((each) => each >= hours);
  return night.oxygen.p50[next === -1 ? night.hours.length - 1 : next] ?? null;
}

function drawNext(p: Pen): void {
  if (p.night.next === null) return;
  const value = middleAt(p.night, p.night.next);
  if (value === null) return;
  const { ctx } = p.u;
  const [x, y] = [p.x(p.night.next), p.y(value)];
  const radius = 9 * devicePixelRatio;
  ctx.strokeStyle = p.ink.ink;
  ctx.lineWidth = 2 * devicePixelRatio;
  ctx.setLineDash([4 * devicePixelRatio, 3 * devicePixelRatio]);
  ctx.beginPath();
  ctx.arc(x, y, radius, 0, 2 * Math.PI);
  ctx.stroke();
  ctx.setLineDash([]);
  ctx.lineWidth = devicePixelRatio;
  const text = say("picture.next", { at: hourOf(p.night.next, p.night.zone) });
  const wide = ctx.measureText(text).width;
  const from = Math.min(Math.max(x - wide / 2, p.left + 2), p.right - wide - 2);
  words(p, text, from, y + radius + 1.2 * p.size, p.ink.ink, "left");
}

function drawNow(p: Pen): void {
  if (p.night.now === null || p.night.now < p.night.start - hour || p.night.now > p.night.to) return;
  const x = p.x(p.night.now);
  p.u.ctx.lineWidth = 2 * devicePixelRatio;
  line(p, [x, p.top], [x, p.bottom], p.ink.ink);
  p.u.ctx.lineWidth = devicePixelRatio;
  words(p, say("picture.now"), x + 4 * devicePixelRatio, p.top + 1.2 * p.size, p.ink.ink, "left");
}

export function nightDrawing(night: Night): Drawing {
  const seconds = night.hours.map((each) => night.start / 1000 + each * 3600);
  const until = seconds.findIndex((each) => each > night.to / 1000 + 900);
  const cut = <T,>(all: T[]): T[] => (until === -1 ? all : all.slice(0, until));
  const { p05, p25, p50, p75, p95 } = night.oxygen;
  const data = [seconds, p95, p75, p50, p25, p05, night.saturation].map(cut) as uPlot.AlignedData;
  const top = Math.max(8, ...(night.saturation.filter((each) => each !== null) as number[]), ...night.dots.map((dot) => dot.value));

  const hours = (night.to - night.start) / hour;
  return {
    data,
    shape: `${night.zone} ${settings.value.language}`,
    x: [(night.start - 0.4 * hour) / 1000, night.to / 1000],
    y: [0, Math.ceil(top) + 0.6],
    before: (u) => {
      const p = pen(u, night);
      shadeNights(p);
      drawLines(p);
    },
    after: (u) => {
      const p = pen(u, night);
      drawNow(p);
      nameLines(p);
      drawActs(p);
      drawReady(p);
      drawNext(p);
      drawDots(p);
    },
    options: (width, height, now) => {
      const ink = palette();
      const narrow = width < 560;
      const every = hours > (narrow ? 15 : 40) ? 6 : 3;
      return {
        width, height, ms: 1, pxAlign: false, legend: { show: false }, cursor: { show: false },
        padding: [44, narrow ? 6 : 16, 0, 0],
        scales: {
          x: { time: false, range: () => now().x },
          y: { range: () => now().y },
        },
        series: [
          {},
          { stroke: "transparent", points: { show: false } },
          { stroke: "transparent", points: { show: false } },
          { stroke: ink.water, width: 2.5, points: { show: false } },
          { stroke: "transparent", points: { show: false } },
          { stroke: "transparent", points: { show: false } },
          { stroke: ink.quiet, width: 1, points: { show: false } },
        ],
        bands: [
          { series: [1, 5], fill: thin(ink.water, 0.2) },
          { series: [2, 4], fill: thin(ink.water, 0.36) },
        ],
        axes: [
          {
            scale: "x", size: 66, stroke: ink.ink, font: "14px system-ui, sans-serif", gap: 2,
            grid: { show: false }, ticks: { stroke: ink.quiet, size: 5 },
            splits: () => localHours(now().x[0] * 1000, now().x[1] * 1000, every, night.zone).map((at) => at / 1000),
            values: (_, splits) =>
              splits.map((at) => {
                const hours = hourOf(at * 1000, night.zone);
                return hours.startsWith("00") ? weekdayOf(at * 1000, night.zone) : narrow ? hours.slice(0, 2) : hours;
              }),
          },
          {
            scale: "y", size: narrow ? 26 : 40, stroke: ink.ink, font: "14px system-ui, sans-serif", gap: 3,
            grid: { show: false }, ticks: { show: false },
            splits: () => [0, 2, 4, 6, 8, 10, 12, 14].filter((each) => each < now().y[1]),
          },
        ],
      };
    },
  };
}
