// The plainer fields: a choice as large keys, a choice from a list, a text, a moment.
import { useId, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import type { Remark } from "../api/ask";
import { atWall, iso, wallOf } from "../words/time";
import { Says } from "./quantity_field";

export interface Option {
  value: string;
  label: string;
}

interface Common {
  label: string;
  refusals?: Remark[];
  hint?: string | undefined;
}

/// Few choices, side by side; one is chosen, or none.
export function Keys({ label, options, value, set, refusals = [], hint }: Common & { options: Option[]; value: string; set(value: string): void }) {
  const id = useId();
  return (
    <fieldset class={refusals.length > 0 ? "field wrong" : "field"}>
      <legend>{label}</legend>
      <div class="keys">
        {options.map((option) => (
          <label key={option.value} class={option.value === value ? "chosen" : ""}>
            <input type="radio" name={id} value={option.value} checked={option.value === value} onChange={() => set(option.value)} />
            <span>{option.label}</span>
          </label>
        ))}
      </div>
      <Says id={`${id}-says`} refusals={refusals} hint={hint} />
    </fieldset>
  );
}

export function Pick({ label, options, value, set, refusals = [], hint }: Common & { options: Option[]; value: string; set(value: string): void }) {
  const id = useId();
  const known = options.some((option) => option.value === value);
  return (
    <div class={refusals.length > 0 ? "field wrong" : "field"}>
      <label for={id}>{label}</label>
      <select id={id} value={value} aria-invalid={refusals.length > 0} aria-describedby={`${id}-says`} onChange={(event) => set(event.currentTarget.value)}>
        {known ? null : <option value={value}>{value}</option>}
        {options.map((option) => <option key={option.value} value={option.value}>{option.label}</option>)}
      </select>
      <Says id={`${id}-says`} refusals={refusals} hint={hint} />
    </div>
  );
}

export function Line({ label, value, set, refusals = [], hint, placeholder, kind = "text", mode }: Common & {
  value: string; set(value: string): void; placeholder?: string | undefined; kind?: string; mode?: "decimal" | "text" | undefined;
}) {
  const id = useId();
  return (
    <div class={refusals.length > 0 ? "field wrong" : "field"}>
      <label for={id}>{label}</label>
      <input
        id={id} type={kind} autocomplete="off" spellcheck={false} value={value} placeholder={placeholder} inputMode={mode}
        aria-invalid={refusals.length > 0} aria-describedby={`${id}-says`} onInput={(event) => set(event.currentTarget.value)}
      />
      <Says id={`${id}-says`} refusals={refusals} hint={hint} />
    </div>
  );
}

/// A moment on the garden's clock; kept as ISO 8601 with its distance from UTC.
export function MomentField({ label, value, zone, set, refusals = [], hint }: Common & { value: string; zone: string; set(value: string): void }) {
  const id = useId();
  const at = Date.parse(value);
  return (
    <div class={refusals.length > 0 ? "field wrong" : "field"}>
      <label for={id}>{label}</label>
      <input
        id={id} type="datetime-local" value={Number.isNaN(at) ? "" : wallOf(at, zone)} aria-invalid={refusals.length > 0} aria-describedby={`${id}-says`}
        onInput={(event) => {
          const told = atWall(event.currentTarget.value, zone);
          if (!Number.isNaN(told)) set(iso(told, zone));
        }}
      />
      <Says id={`${id}-says`} refusals={refusals} hint={hint} />
    </div>
  );
}

/// A part of a page under its heading, between two rules.
export function Part({ heading, children, id }: { heading: string; children: ComponentChildren; id?: string }) {
  return (
    <section class="part" id={id}>
      <h2>{heading}</h2>
      {children}
    </section>
  );
}

/// Folded: what it holds stands in its line. `open` opens it; only the reader closes it, never a field that was put right.
/// `late`: what it holds is made once it is opened.
export function Fold({ heading, line, open = false, late = false, children }: { heading: string; line?: string; open?: boolean; late?: boolean; children: ComponentChildren }) {
  const fold = useRef<HTMLDetailsElement>(null);
  const [opened, setOpened] = useState(open);
  useLayoutEffect(() => {
    if (open && fold.current) fold.current.open = true;
  }, [open]);
  return (
    <details class="fold" ref={fold} onToggle={(event) => { if (event.currentTarget.open) setOpened(true); }}>
      <summary>
        <span class="fold-heading">{heading}</span>
        {line ? <span class="fold-line">{line}</span> : null}
      </summary>
      <div class="fold-inside">{!late || open || opened ? children : null}</div>
    </details>
  );
}
