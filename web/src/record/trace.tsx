// Where something went, or came from: a picture of columns in the order of the work, and the same as a list.
import { useSignal } from "@preact/signals";
import { ask, type Answer, type Remark } from "../api/ask";
import { listed, textOf } from "../keep/record";
import { Keys, Pick } from "../pieces/fields";
import { hereZone } from "../plan/document";
import { dayOf } from "../words/time";
import { say, type Key } from "../words/words";

type Step = Answer<"/api/record/trace">["steps"][number];
const begun = ["compost_lot", "food_lot", "water_source", "brew", "harvest"] as const;
const columns = [["compost_lot", "food_lot", "water_source", "garden", "person"], ["brew"], ["bed"], ["harvest"]];

export function Trace() {
  const chosen = useSignal("");
  const way = useSignal("by_kind");
  const steps = useSignal<Step[] | null>(null);
  const wrong = useSignal<Remark[]>([]);
  const options = begun.flatMap((kind) => listed(kind).entries.filter((each) => each.state === "kept").map((each) => ({ value: each.root, label: `${say(`kind.${kind}` as Key)}: ${textOf(each, "name") || textOf(each, "crop")}` })));
  const id = chosen.value || options[0]?.value || "";
  const trace = async () => {
    const result = await ask("/api/record/trace", { id, way: way.value as "by_kind" });
    wrong.value = result.kind === "refused" ? result.refusals : result.kind === "not_reached" ? [{ code: "", field: "", text: say("server.not_reached") }] : [];
    steps.value = result.kind === "answered" ? result.answer.steps : null;
  };
  return (
    <div class="page">
      <h1 class="sentence">{say("record.trace")}</h1>
      {options.length === 0 ? <p>{say("trace.nothing")}</p> : (
        <>
          <Pick label={say("trace.of")} options={options} value={id} set={(value) => (chosen.value = value)} />
          <Keys label={say("trace.way")} options={["by_kind", "forward", "back"].map((value) => ({ value, label: say(`trace.${value}` as Key) }))} value={way.value} set={(value) => (way.value = value)} />
          <button type="button" class="main" onClick={() => void trace()}>{say("trace.go")}</button>
        </>
      )}
      {wrong.value.map((each, index) => <p key={index} class="refusal" role="alert">{each.text} {each.next}</p>)}
      {steps.value ? <Traced steps={steps.value} /> : null}
    </div>
  );
}

function Traced({ steps }: { steps: Step[] }) {
  const nameOf = (id: string) => steps.find((each) => each.id === id)?.name || "…";
  const says = (step: Step) => (step.kind === "application" ? `${nameOf(step.from_id)} → ${nameOf(step.to_id)}` : step.name || "…");
  return (
    <div role="status">
      <TracePicture steps={steps} />
      <ul class="logged">
        {steps.map((step) => (
          <li key={step.id + step.from_id}>
            <time>{step.at ? dayOf(Date.parse(step.at), hereZone()) : ""}</time>
            <span>{say(`kind.${step.kind}` as Key)}: {says(step)}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

/// Things as words in columns, acts as lines between them.
function TracePicture({ steps }: { steps: Step[] }) {
  const filled = columns.map((kinds) => steps.filter((step) => kinds.includes(step.kind))).filter((column) => column.length > 0);
  const high = 52;
  const wide = 220;
  const height = Math.max(...filled.map((column) => column.length), 1) * high + 10;
  const place = new Map<string, [number, number]>();
  filled.forEach((column, x) => column.forEach((step, y) => place.set(step.id, [x * wide, y * high + 30])));
  const wideOf = (id: string) => Math.min(wide - 40, 14 + 8.6 * Math.min(20, (steps.find((each) => each.id === id)?.name ?? "").length));
  const links: [string, string][] = steps.flatMap((step): [string, string][] => (step.kind === "application" ? [[step.from_id, step.to_id]] : step.kind === "harvest" ? [[step.from_id, step.id]] : []));
  const brew = filled.find((column) => column[0]?.kind === "brew")?.map((step) => step.id) ?? [];
  for (const step of steps) if (columns[0]?.includes(step.kind)) for (const id of brew) links.push([step.id, id]);
  return (
    <div class="wide" tabIndex={0} role="region" aria-label={say("trace.picture")}>
      <svg class="trace" width={filled.length * wide} height={height} viewBox={`0 0 ${filled.length * wide} ${height}`} role="img" aria-label={say("trace.says", { count: steps.length })}>
        {links.map(([from, to], index) => {
          const a = place.get(from);
          const b = place.get(to);
          return a && b ? <path key={index} d={`M${a[0] + wideOf(from)} ${a[1]}C${a[0] + wide - 30} ${a[1]} ${b[0] - 40} ${b[1]} ${b[0]} ${b[1]}`} /> : null;
        })}
        {filled.flat().map((step) => {
          const [x, y] = place.get(step.id) ?? [0, 0];
          return (
            <g key={step.id}>
              <text x={x + 4} y={y - 8} class="kind">{say(`kind.${step.kind}` as Key)}</text>
              <text x={x + 4} y={y + 12}>{(step.name || "…").slice(0, 20)}</text>
            </g>
          );
        })}
      </svg>
    </div>
  );
}
