// The record: find, trace, take away, and what has not gone out yet.
import { useSignal } from "@preact/signals";
import { download } from "../keep/asked";
import { drop, entries, refused, send, waiting } from "../keep/queue";
import { listed, momentOf, textOf, type Entry } from "../keep/record";
import { amountText } from "../brew/counts";
import { observationText, readingText, stateText } from "../brew/logged";
import { Fold, Line, Part } from "../pieces/fields";
import { hereZone } from "../plan/document";
import { route } from "../route";
import { clock, dayOf } from "../words/time";
import { say, word, type Key } from "../words/words";
import { ChooseRules } from "../rules/chosen";
import { Pack } from "../rules/pack";
import { TestingPlan } from "../rules/tests";
import { Trace } from "./trace";

const kinds = ["brew", "reading", "observation", "application", "harvest", "cleaning", "fitness", "compost_lot", "food_lot", "water_source", "bed", "vessel", "count"] as const;
const most = 40;

export function RecordPage() {
  if (route.value.rest[0] === "unsent") return <Waiting />;
  if (route.value.rest[0] === "trace") return <Trace />;
  return (
    <div class="page">
      <h1 class="sentence">{say("record.heading")}</h1>
      <Find />
      <Part heading={say("record.trace")}>
        <p>{say("record.trace_hint")}</p>
        <a class="plain" href="#/record/trace">{say("record.trace_open")}</a>
      </Part>
      <Part heading={say("pack.heading")} id="pack"><Pack /></Part>
      <Part heading={say("tests.heading")} id="tests"><TestingPlan /></Part>
      <Part heading={say("rules.kept_to")} id="kept-to"><ChooseRules /></Part>
      <Part heading={say("record.take")}><Take /></Part>
      <Part heading={say("record.enter")}>
        <p>{say("record.enter_hint")}</p>
        <a class="plain" href="#/ask">{say("record.enter_open")}</a>
      </Part>
    </div>
  );
}

const saying = (entry: Entry) =>
  entry.kind === "reading" ? readingText(entry) : entry.kind === "observation" ? observationText(entry) : entry.kind === "count" ? `${word("organism", textOf(entry, "organism"))} ${amountText(entry)}` : textOf(entry, "name") || entry.text.replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, "…");

function Find() {
  const wanted = useSignal("");
  const all = kinds.flatMap((kind) => listed(kind).entries.map((entry) => ({ entry, at: momentOf(entry) || momentOf(entry, "air_on_at") || entry.recorded_at })));
  const words = wanted.value.toLowerCase().split(/\s+/).filter((each) => each !== "");
  const text = ({ entry }: { entry: Entry }) => `${say(`kind.${entry.kind}` as Key)} ${saying(entry)} ${entry.text} ${textOf(entry, "note")}`.toLowerCase();
  const found = all.filter((each) => words.every((one) => text(each).includes(one))).sort((a, b) => b.at - a.at);
  return (
    <Part heading={say("record.find")}>
      <Line label={say("record.find_label")} value={wanted.value} set={(value) => (wanted.value = value)} kind="search" />
      <p class="quiet" role="status">{say("record.found", { count: found.length })}</p>
      <ul class="logged">
        {found.slice(0, most).map(({ entry, at }) => (
          <li key={entry.root}>
            <time>{dayOf(at, hereZone())}</time>
            <span>
              {say(`kind.${entry.kind}` as Key)}: {entry.kind === "brew" ? <a href={`#/brew/${entry.root}`}>{saying(entry)}</a> : saying(entry)}{" "}
              <small class="caution">{stateText(entry)}</small>
              {entry.earlier.map((each, index) => <small key={index} class="quiet"> {say("entry.was", { text: saying({ ...entry, text: each.text, values: each.values }), reason: each.reason })}</small>)}
            </span>
          </li>
        ))}
      </ul>
    </Part>
  );
}

function Take() {
  const wrong = useSignal("");
  const take = async (form: string, file: string) => {
    const done = await download("/api/record/export", { file, form }, form === "csv" ? "garden-tables.zip" : file);
    wrong.value = done ? "" : say("record.take_failed");
  };
  return (
    <div class="deeds">
      <button type="button" class="plain" onClick={() => void take("archive", "garden.zip")}>{say("record.archive")}</button>
      <button type="button" class="plain" onClick={() => void take("csv", "garden")}>{say("record.tables")}</button>
      <button type="button" class="plain" onClick={() => void take("calendar", "garden.ics")}>{say("record.calendar")}</button>
      {wrong.value ? <p class="refusal" role="alert">{wrong.value}</p> : null}
    </div>
  );
}

/// What is on its way, and what the server would not take.
function Waiting() {
  const all = [...refused.value, ...waiting.value];
  return (
    <div class="page">
      <h1 class="sentence">{all.length === 0 ? say("unsent.none") : say("unsent.heading")}</h1>
      {all.length > 0 ? <p>{say("unsent.order")}</p> : null}
      <ul class="logged">
        {all.map((each) => (
          <li key={each.key}>
            <time>{clock(each.made_at, hereZone())}</time>
            <div>
              <span>{say(`kind.${each.kind}` as Key)}: {Object.entries(each.body).filter(([name]) => !["id", "new_id", "plan", "forecast", "brew", "garden", "image"].includes(name)).map(([, value]) => String(value)).join(" · ")}</span>
              {each.refusals.map((why, index) => <p key={index} class="refusal">{why.text} {why.next}</p>)}
              {each.state === "refused" ? <button type="button" class="plain" onClick={() => void drop(each)}>{say("unsent.drop")}</button> : null}
            </div>
          </li>
        ))}
      </ul>
      {waiting.value.length > 0 ? <button type="button" class="main" onClick={() => void send()}>{say("unsent.send")}</button> : null}
      <Fold heading={say("unsent.sent")}><p>{say("unsent.sent_count", { count: entries.value.filter((each) => each.state === "sent").length })}</p></Fold>
    </div>
  );
}

