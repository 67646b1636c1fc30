// A form for any operation, made from its description; what is entered into the record goes through the queue.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { post, type Remark } from "../api/ask";
import { describe, type Described, type Schema } from "../api/described";
import { add } from "../keep/queue";
import { listed, textOf } from "../keep/record";
import { Fold, Keys, Line, MomentField, Pick, type Option } from "../pieces/fields";
import { changed, textAt } from "../plan/document";
import { hereZone } from "../plan/document";
import { go, route } from "../route";
import { settings } from "../settings";
import { iso } from "../words/time";
import { say, word } from "../words/words";

// Fields that name another entry, and of which kinds.
const names: Record<string, string[]> = {
  garden: ["garden"], vessel: ["vessel"], bed: ["bed"], brew: ["brew"], compost_lot: ["compost_lot"], pump: ["pump"], diffuser: ["diffuser"],
  line: ["line"], water_source: ["water_source"], person: ["person"], lot: ["compost_lot", "food_lot"], trial: ["trial"], plot: ["plot"],
  part: ["compost_lot", "food_lot", "water_source", "brew"], into: ["brew", "compost_lot"], of: ["brew", "compost_lot"],
};
const own = ["id", "store", "by"];
/// A choice in the reader's words, wherever we have them.
const spoken = (value: string) => ["choice", "organism", "counted", "found"].map((family) => word(family, value)).find((told) => told !== value.replaceAll("_", " ")) ?? word("choice", value);

export function FormPage() {
  const [noun = "", verb = ""] = route.value.rest;
  const all = useSignal<Described[] | null>(null);
  useEffect(() => { void describe().then((told) => (all.value = told)); }, [settings.value.language]);
  if (all.value === null) return <p class="sentence quiet">{say("now.looking")}</p>;
  if (!noun) return <Everything all={all.value} />;
  const described = all.value.find((each) => each.noun === noun && each.verb === verb);
  if (!described) {
    return (
      <div class="page">
        <h1 class="sentence">{all.value.length === 0 ? say("form.needs_network") : say("page.none")}</h1>
        <a class="main" href="#/now">{say("page.to_now")}</a>
      </div>
    );
  }
  return <MadeForm key={described.path} described={described} />;
}

function Everything({ all }: { all: Described[] }) {
  const nouns = [...new Set(all.map((each) => each.noun))];
  return (
    <div class="page">
      <h1 class="sentence">{say("form.everything")}</h1>
      {nouns.map((noun) => (
        <Fold key={noun} heading={word("noun", noun)}>
          <ul class="rows">
            {all.filter((each) => each.noun === noun).map((each) => <li key={each.path}><a href={`#/ask/${each.noun}/${each.verb}`}><span>{each.summary}</span></a></li>)}
          </ul>
        </Fold>
      ))}
    </div>
  );
}

export function MadeForm({ described, begun = {}, after }: { described: Described; begun?: Record<string, unknown>; after?: () => void }) {
  const body = useSignal<Record<string, unknown>>(begun);
  const wrong = useSignal<Remark[]>([]);
  const answer = useSignal<unknown>(null);
  const missing = useSignal<string[]>([]);
  const kind = described.noun === "record" && described.verb.startsWith("add-") ? described.verb.slice(4).replaceAll("-", "_") : "";
  const needed = (described.input.required ?? []).filter((name) => !own.includes(name));
  const offered = (name: string, schema: Schema): Option[] | null => {
    const kinds = kind ? names[name] : undefined;
    if (!kinds) return schema.enum ? schema.enum.map((value) => ({ value, label: spoken(value) })) : null;
    return kinds.flatMap((each) => listed(each).entries.filter((entry) => entry.state !== "refused").map((entry) => ({ value: entry.root, label: textOf(entry, "name") || entry.text })));
  };
  const onlyOne = (name: string, schema: Schema) => {
    const options = names[name] && kind ? offered(name, schema) : null;
    return options && options.length >= 1 && needed.includes(name) ? options[0]?.value : undefined;
  };
  const keep = async () => {
    let told = { ...body.value };
    for (const [name, schema] of Object.entries(described.input.properties ?? {})) {
      if (told[name] === undefined && needed.includes(name)) {
        const only = onlyOne(name, schema) ?? (name === "at" ? iso(Date.now(), hereZone()) : undefined);
        if (only) told = { ...told, [name]: only };
      }
    }
    missing.value = needed.filter((name) => told[name] === undefined || told[name] === "");
    wrong.value = [];
    if (missing.value.length > 0) return;
    if (kind) {
      await add(kind, told);
      if (after) after();
      else go("record");
      return;
    }
    const result = await post(described.path, told);
    if (result.kind === "answered") answer.value = result.answer;
    else wrong.value = result.kind === "refused" ? result.refusals : [{ code: "", field: "", text: say("server.not_reached") }];
  };
  const field = (path: string, schema: Schema, isNeeded: boolean) => {
    const name = path.split(".").at(-1) ?? path;
    const label = (schema.description ?? name).replace(/\.$/, "");
    const value = textAt(body.value, path);
    const refusals = [
      ...wrong.value.filter((each) => each.field === path),
      ...(missing.value.includes(path) ? [{ code: "missing", field: path, text: say("form.missing", { sample: String(schema.examples?.[0] ?? "") }) }] : []),
    ];
    const set = (told: unknown) => (body.value = changed(body.value as never, path, told === "" ? undefined : told) as never);
    const options = offered(name, schema);
    const types = [schema.type ?? "string"].flat();
    if (options && (options.length > 5 || names[name])) return <Pick key={path} label={label} options={isNeeded ? options : [{ value: "", label: "–" }, ...options]} value={value || (isNeeded ? options[0]?.value ?? "" : "")} set={set} refusals={refusals} />;
    if (options) return <Keys key={path} label={label} options={options} value={value} set={set} refusals={refusals} />;
    if (types.includes("boolean")) return <Keys key={path} label={label} options={[{ value: "true", label: say("form.yes") }, { value: "false", label: say("form.no") }]} value={value} set={(told) => set(told === "true")} refusals={refusals} />;
    if (schema.format === "date-time") return <MomentField key={path} label={label} value={value || (path === "at" ? iso(Date.now(), hereZone()) : "")} zone={hereZone()} set={set} refusals={refusals} />;
    if (/_on$|^on$/.test(name)) return <Line key={path} label={label} kind="date" value={value} set={set} refusals={refusals} />;
    return <Line key={path} label={label} value={value} placeholder={String(schema.examples?.[0] ?? "")} set={set} refusals={refusals} />;
  };
  const flat = (schema: Schema, before = ""): [string, Schema, boolean][] =>
    Object.entries(schema.properties ?? {}).flatMap(([name, inside]): [string, Schema, boolean][] =>
      own.includes(name) && !before ? [] : inside.properties ? flat(inside, `${before}${name}.`) : inside.type === "array" ? [] : [[`${before}${name}`, inside, (schema.required ?? []).includes(name)]],
    );
  const fields = flat(described.input);
  return (
    <form class="page log" onSubmit={(event) => { event.preventDefault(); void keep(); }}>
      <h1 class="sentence">{described.summary}</h1>
      {fields.filter(([, , isNeeded]) => isNeeded).map(([path, schema]) => field(path, schema, true))}
      {fields.some(([, , isNeeded]) => !isNeeded) ? (
        <Fold heading={say("form.more")} open={needed.length === 0}>{fields.filter(([, , isNeeded]) => !isNeeded).map(([path, schema]) => field(path, schema, false))}</Fold>
      ) : null}
      {wrong.value.filter((each) => !fields.some(([path]) => path === each.field)).map((each, index) => <p key={index} class="refusal" role="alert">{each.text} {each.next}</p>)}
      <button type="submit" class="main">{say(kind ? "form.keep" : "form.ask")}</button>
      {answer.value ? <Answered value={answer.value} /> : null}
    </form>
  );
}

/// An answer nobody has drawn yet: its figures and texts in a list.
function Answered({ value }: { value: unknown }) {
  const rows = Object.entries(value as Record<string, unknown>).filter(([, each]) => each !== null && typeof each !== "object");
  return (
    <dl class="figures" role="status">
      {rows.map(([name, each]) => <div class="figure" key={name}><dt>{name.replaceAll("_", " ")}</dt><dd>{typeof each === "number" ? Number(each.toPrecision(4)) : String(each)}</dd></div>)}
    </dl>
  );
}
