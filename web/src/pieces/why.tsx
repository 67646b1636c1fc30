// "Why?" beside a number: what it was made from, by which formula, and whose that is.
import { useEffect, useState } from "preact/hooks";
import { say } from "../words/words";

export interface Reason {
  from: string[];       // inputs, as told
  formula: string;
  sources: string[];    // keys of docs/sources.md
}

export function Why({ of, reason }: { of: string; reason: Reason }) {
  const [open, setOpen] = useState(false);
  const [sources, setSources] = useState<Record<string, string>>({});
  useEffect(() => {
    if (open) void import("virtual:sources").then((made) => setSources(made.default));
  }, [open]);
  return (
    <>
      <button type="button" class="why" aria-expanded={open} aria-label={say("why.ask", { what: of })} onClick={() => setOpen(!open)}>
        {say("why.button")}
      </button>
      {open ? (
        <div class="reason">
          <p>{reason.formula}</p>
          {reason.from.length > 0 ? <p>{say("why.from")} {reason.from.join("; ")}.</p> : null}
          {reason.sources.length > 0 ? (
            <ul>
              {reason.sources.map((key) => <li key={key}>{key}: {sources[key] ?? "…"}</li>)}
            </ul>
          ) : null}
        </div>
      ) : null}
    </>
  );
}
