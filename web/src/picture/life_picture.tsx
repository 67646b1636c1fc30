import { useMemo } from "preact/hooks";
import { few } from "../words/numbers";
import { clock } from "../words/time";
import { say } from "../words/words";
import { lifeDrawing, type Life } from "./life";
import { Plot } from "./plot";

export function lifeSays(life: Life): string {
  const index = Math.max(0, life.hours.findIndex((each) => life.start + each * 3_600_000 >= life.to - 3 * 3_600_000));
  return say("life.says", {
    at: clock(life.start + (life.hours[index] ?? 0) * 3_600_000, life.zone),
    bacteria_low: few(life.bacteria.p05[index]), bacteria_high: few(life.bacteria.p95[index]),
    protozoa_low: few(life.protozoa.p05[index]), protozoa_high: few(life.protozoa.p95[index]),
    fungi_low: few(life.fungi.p05[index]), fungi_high: few(life.fungi.p95[index]),
  });
}

export function LifePicture({ life }: { life: Life }) {
  const drawing = useMemo(() => lifeDrawing(life), [life]);
  return (
    <figure class="picture">
      <Plot drawing={drawing} says={lifeSays(life)} kind="life" />
      <figcaption>{lifeSays(life)}</figcaption>
    </figure>
  );
}
