// Times as people say them, on the garden's clock: "Sat 04:10", "in 9 h".
import { settings } from "../settings";
import { say } from "./words";

const formats = new Map<string, Intl.DateTimeFormat>();

function format(zone: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${settings.value.language} ${zone} ${JSON.stringify(options)}`;
  let made = formats.get(key);
  if (!made) {
    try {
      made = new Intl.DateTimeFormat(settings.value.language, { ...options, timeZone: zone, hourCycle: "h23" });
    } catch {
      made = new Intl.DateTimeFormat(settings.value.language, { ...options, hourCycle: "h23" });  // an unknown zone
    }
    formats.set(key, made);
  }
  return made;
}

export const hourOf = (at: number, zone: string) => format(zone, { hour: "2-digit", minute: "2-digit" }).format(at);
export const weekdayOf = (at: number, zone: string) => {
  const told = format(zone, { weekday: "short" }).format(at).replace(".", "");
  return told.charAt(0).toUpperCase() + told.slice(1);
};
/// "Sat 16 May"
export function dayOf(at: number, zone: string): string {
  const parts = format(zone, { day: "numeric", month: "short" }).formatToParts(at);
  const of = (type: string) => (parts.find((part) => part.type === type)?.value ?? "").replace(".", "");
  return [weekdayOf(at, zone), of("day"), of("month")].join("\u00a0");  // kept in one line
}
/// A day of a calendar, "2026-05-16", as screens show days; of another year with the year.
export function dayOn(day: string): string {
  const noon = Date.parse(`${day}T12:00:00Z`);
  if (Number.isNaN(noon)) return day;
  const year = day.slice(0, 4);
  return year === String(new Date().getFullYear()) ? dayOf(noon, "UTC") : `${dayOf(noon, "UTC")}\u00a0${year}`;
}
/// The same for every such day within a sentence that the server tells.
export const withDays = (text: string) => text.replace(/\b\d{4}-\d\d-\d\d\b/g, dayOn);
/// "Sat 04:10"
export const clock = (at: number, zone: string) => `${weekdayOf(at, zone)} ${hourOf(at, zone)}`;

/// "9 h", "25 min", "1 h 20 min"
export function span(ms: number): string {
  const minutes = Math.round(Math.abs(ms) / 60_000);
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (hours >= 48) return say("time.days", { days: Math.round(hours / 24) });
  if (hours === 0) return `${rest} min`;
  return rest === 0 || hours >= 6 ? `${rest >= 30 && hours >= 6 ? hours + 1 : hours} h` : `${hours} h ${rest} min`;
}

/// "in 9 h", "9 h ago", "now"
export function away(at: number, now: number): string {
  const ms = at - now;
  if (Math.abs(ms) < 60_000) return say("time.now");
  return say(ms > 0 ? "time.ahead" : "time.ago", { span: span(ms) });
}

/// Minutes the zone stands from UTC at that moment.
export function offsetMinutes(at: number, zone: string): number {
  let parts: Intl.DateTimeFormatPart[];
  const options: Intl.DateTimeFormatOptions = {
    year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", second: "2-digit", hourCycle: "h23",
  };
  try {
    parts = new Intl.DateTimeFormat("en-CA", { ...options, timeZone: zone }).formatToParts(at);
  } catch {
    parts = new Intl.DateTimeFormat("en-CA", options).formatToParts(at);
  }
  const of = (type: string) => Number(parts.find((part) => part.type === type)?.value ?? 0);
  const local = Date.UTC(of("year"), of("month") - 1, of("day"), of("hour"), of("minute"), of("second"));
  return Math.round((local - Math.floor(at / 1000) * 1000) / 60_000);
}

const two = (value: number) => String(Math.floor(Math.abs(value))).padStart(2, "0");

/// As ISO 8601 with the zone's distance from UTC: "2026-05-15T18:30:00+01:00"
export function iso(at: number, zone: string): string {
  const offset = offsetMinutes(at, zone);
  const local = new Date(at + offset * 60_000).toISOString().slice(0, 19);
  return `${local}${offset < 0 ? "-" : "+"}${two(offset / 60)}:${two(offset % 60)}`;
}

/// The local wall clock "2026-05-15T18:30" as a moment. In the hour the clocks skip, the later reading.
export function atWall(wall: string, zone: string): number {
  const asUtc = Date.parse(`${wall}Z`);
  if (Number.isNaN(asUtc)) return NaN;
  const first = asUtc - offsetMinutes(asUtc, zone) * 60_000;
  return asUtc - offsetMinutes(first, zone) * 60_000;
}
export const wallOf = (at: number, zone: string) => iso(at, zone).slice(0, 16);

/// Local midnights and every so many hours between two moments.
export function localHours(from: number, to: number, every: number, zone: string): number[] {
  const all: number[] = [];
  const hour = 3_600_000;
  for (let at = Math.ceil(from / hour) * hour; at <= to; at += hour) {
    const minutes = (Math.floor(at / 60_000) + offsetMinutes(at, zone)) % 1440;
    const shifted = minutes % 60;  // zones off by a half hour
    const there = at - shifted * 60_000;
    if (there >= from && ((minutes - shifted) / 60) % every === 0) all.push(there);
  }
  return all;
}
