// One amount: text as people write it, two step keys and a slider, all the same value. Wrong text is told in place.
import { useId } from "preact/hooks";
import type { Remark } from "../api/ask";
import { inUnit, read, stepFor, tidy, write, type Dimension } from "../units/quantity";
import { say } from "../words/words";

export interface Extent {
  least: number;       // inside unit of the dimension
  most: number;
  log?: boolean;
}
export interface QuantityFieldProps {
  label: string;
  value: string;
  unit: string;        // for the slider, when the text tells none we know
  of: Dimension;
  extent: Extent;
  refusals: Remark[];
  hint?: string;
  begin?: number;      // where the slider stands while nothing is written, and a bare number is in `unit`; left out: it waits for a text
  set(text: string): void;
}

const notches = 500;

function along(inside: number, { least, most, log }: Extent): number {
  const share = log ? Math.log(inside / least) / Math.log(most / least) : (inside - least) / (most - least);
  return Math.round(Math.min(1, Math.max(0, share)) * notches);
}
function insideAt(notch: number, { least, most, log }: Extent): number {
  const share = notch / notches;
  return log ? least * (most / least) ** share : least + share * (most - least);
}

export function QuantityField(props: QuantityFieldProps) {
  const id = useId();
  const bare = props.begin !== undefined && /^\s*\d+([.,]\d+)?\s*$/.test(props.value);  // where one unit is meant, a number will do
  const now = read(bare ? `${props.value} ${props.unit}` : props.value);
  const known = now !== null && (now.of === props.of || props.of === "amount");
  const begins = props.value === "" && props.begin !== undefined;
  const fits = known || begins;
  const unit = known ? now.unit : props.unit;
  const shown = known ? now.inside : props.begin ?? props.extent.least;
  const wrong = props.refusals.length > 0;

  const { least, most } = props.extent;
  const put = (value: number) => {
    const held = Math.min(inUnit(most, unit), Math.max(inUnit(least, unit), value));
    props.set(write(held, unit));
  };
  const step = (sign: number) => {
    if (!fits) return;
    const value = inUnit(shown, unit);
    const size = stepFor(value, unit);
    put(Math.round((value + sign * size) / size) * size);
  };

  return (
    <div class={wrong ? "field wrong" : "field"}>
      <label for={id}>{props.label}</label>
      <div class="with-keys">
        <button type="button" class="key" aria-label={say("field.less", { what: props.label })} disabled={!fits} onClick={() => step(-1)}>−</button>
        <input
          id={id} type="text" inputMode="text" autocomplete="off" spellcheck={false} value={props.value}
          aria-invalid={wrong} aria-describedby={`${id}-says`}
          onInput={(event) => props.set(event.currentTarget.value)}
        />
        <button type="button" class="key" aria-label={say("field.more", { what: props.label })} disabled={!fits} onClick={() => step(1)}>+</button>
      </div>
      <input
        type="range" min="0" max={notches} step="1" disabled={!fits} aria-label={say("field.slide", { what: props.label })}
        aria-valuetext={props.value || say("field.empty")} value={along(shown, props.extent)}
        onKeyDown={(event) => {
          const size = { ArrowRight: 1, ArrowUp: 1, PageUp: 5, ArrowLeft: -1, ArrowDown: -1, PageDown: -5 }[event.key];
          if (size === undefined) return;
          event.preventDefault();  // a notch may be finer than the value is told
          step(size);
        }}
        onInput={(event) => put(tidy(inUnit(insideAt(Number(event.currentTarget.value), props.extent), unit), unit))}
      />
      <Says id={`${id}-says`} refusals={props.refusals} hint={props.hint} />
    </div>
  );
}

export function Says({ id, refusals, hint }: { id: string; refusals: Remark[]; hint?: string | undefined }) {
  if (refusals.length === 0) return hint ? <p class="hint" id={id}>{hint}</p> : <span id={id} />;
  return (
    <p class="refusal" id={id} role="alert">
      {refusals.map((each) => <span key={each.code}>{each.text}{each.next ? ` ${each.next}` : ""} </span>)}
    </p>
  );
}
