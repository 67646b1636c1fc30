// Numbers as people say them: no more digits than they deserve.
import { say } from "./words";

export function few(value: number | null | undefined): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return "?";
  if (value >= 1e9) return say("count.billion", { number: Number((value / 1e9).toPrecision(2)) });
  if (value >= 1e6) return say("count.million", { number: Number((value / 1e6).toPrecision(2)) });
  return String(Number(value.toPrecision(2)));
}
export const tenth = (value: number | null | undefined) => (value === null || value === undefined ? "?" : value.toFixed(1));
/// "93 of 100", "fewer than 1 of 100"
export function ofHundred(share: number): string {
  const count = Math.round(share * 100);
  if (count === 0) return say("count.hardly");
  if (count === 100 && share < 1) return say("count.nearly");
  return say("count.of_100", { count });
}
export function minutes(value: number | null | undefined): string {
  if (value === null || value === undefined) return "?";
  if (value < 60) return `${Math.max(1, Math.round(value))} min`;
  const hours = value / 60;
  return hours < 6 ? `${Math.floor(hours)} h ${Math.round((value % 60) / 10) * 10} min` : `${Math.round(hours)} h`;
}
