// The night picture with its sentence and its table: the same said three ways.
import { useMemo } from "preact/hooks";
import { settings } from "../settings";
import { clock, localHours } from "../words/time";
import { tenth } from "../words/numbers";
import { say } from "../words/words";
import { nightDrawing, type Night } from "./night";
import { Plot } from "./plot";

/// What the picture says, in a sentence or three.
export function nightSays(night: Night): string {
  const low = night.oxygen.p50.reduce<number>((best, value, index) => {
    const at = night.start + (night.hours[index] ?? 0) * 3_600_000;
    return value !== null && at <= night.to && value < (night.oxygen.p50[best] ?? Infinity) ? index : best;
  }, 0);
  const at = night.start + (night.hours[low] ?? 0) * 3_600_000;
  const parts = [
    say("picture.says", { at: clock(at, night.zone), middle: tenth(night.oxygen.p50[low]), low: tenth(night.oxygen.p05[low]), high: tenth(night.oxygen.p95[low]) }),
  ];
  if (night.ready) parts.push(say("picture.says_ready", { from: clock(night.ready.from, night.zone), to: clock(night.ready.to, night.zone) }));
  if (night.dots.length > 0) parts.push(say("picture.says_dots", { count: night.dots.length, doubted: night.dots.filter((dot) => dot.doubted).length }));
  if (night.next !== null) parts.push(say("picture.says_next", { at: clock(night.next, night.zone) }));
  return parts.join(" ");
}

export function NightPicture({ night, revision }: { night: Night; revision?: number }) {
  const drawing = useMemo(() => nightDrawing(night), [night]);
  return (
    <figure class="picture">
      <figcaption class="axis-name">{say("picture.axis")}</figcaption>
      <Plot drawing={drawing} says={nightSays(night)} kind="night" {...(revision === undefined ? {} : { revision })} />
    </figure>
  );
}

export function NightTable({ night }: { night: Night }) {
  const rows = localHours(night.start, night.to, 3, night.zone);
  const at = (all: (number | null)[], moment: number) => {
    const hours = (moment - night.start) / 3_600_000;
    const index = night.hours.findIndex((each) => each >= hours - 1e-6);
    return tenth(index === -1 ? null : all[index]);
  };
  return (
    <div class="wide" tabIndex={0} role="region" aria-label={say("picture.table")}>
      <table>
        <caption>{say("picture.table")}</caption>
        <thead>
          <tr><th scope="col">{say("picture.when")}</th><th scope="col">{say("picture.p05")}</th><th scope="col">{say("picture.p50")}</th><th scope="col">{say("picture.p95")}</th><th scope="col">{say("picture.full")}</th></tr>
        </thead>
        <tbody>
          {rows.map((moment) => (
            <tr key={moment}>
              <th scope="row">{clock(moment, night.zone)}</th>
              <td>{at(night.oxygen.p05, moment)}</td><td>{at(night.oxygen.p50, moment)}</td><td>{at(night.oxygen.p95, moment)}</td><td>{at(night.saturation, moment)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="hint" lang={settings.value.language}>{say("picture.key")}</p>
    </div>
  );
}
