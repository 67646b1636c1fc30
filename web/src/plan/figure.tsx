// A figure that matters, under its name, with its reasons a tap away.
import type { ComponentChildren } from "preact";
import { Why, type Reason } from "../pieces/why";

export function Figure({ name, value, reason, children }: { name: string; value: string; reason: Reason; children?: ComponentChildren }) {
  return (
    <div class="figure">
      <dt>{name}</dt>
      <dd>
        <strong>{value}</strong> <Why of={name} reason={reason} />
        {children ? <p>{children}</p> : null}
      </dd>
    </div>
  );
}
