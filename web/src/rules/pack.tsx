// What an inspector is handed: for a stretch of days or one harvest, as a PDF to print and a table to check.
import { useSignal } from "@preact/signals";
import { post, type Remark } from "../api/ask";
import { download } from "../keep/asked";
import { listed, momentOf, textOf } from "../keep/record";
import { Line, Pick } from "../pieces/fields";
import { hereZone } from "../plan/document";
import { dayOf, iso } from "../words/time";
import { say } from "../words/words";
import { chosenRules } from "./chosen";

interface Told {
  applications_count: number;
  met_count: number;
  not_met_count: number;
  cannot_tell_count: number;
  record_whole: boolean;
}

export function Pack() {
  const today = iso(Date.now(), hereZone()).slice(0, 10);
  const from = useSignal(`${today.slice(0, 4)}-01-01`);
  const to = useSignal(today);
  const harvest = useSignal("");
  const wrong = useSignal<Remark[]>([]);
  const told = useSignal<Told | null>(null);
  const harvests = listed("harvest").entries.filter((each) => each.state === "kept").sort((a, b) => momentOf(b) - momentOf(a));
  const wrongAt = (field: string) => wrong.value.filter((each) => each.field === field);
  /// First asked without a file, so that what is wrong is told in place and what is in it is seen before it is printed.
  const make = async (form: "pdf" | "csv") => {
    const asked = { rules: chosenRules(), ...(harvest.value ? { harvest: harvest.value } : { from: from.value, to: to.value }) };
    wrong.value = [];
    const result = await post("/api/rule/pack", asked);
    if (result.kind === "refused") return void (wrong.value = result.refusals);
    const name = `inspection-${harvest.value ? "harvest" : `${from.value}-${to.value}`}.${form}`;
    if (result.kind !== "answered" || !(await download("/api/rule/pack", { ...asked, [form]: name }, name))) return void (wrong.value = [{ code: "", field: "", text: say("server.not_reached") }]);
    told.value = result.answer as Told;
  };
  return (
    <>
      <p>{say("pack.hint")}</p>
      {harvests.length > 0 ? (
        <Pick
          label={say("pack.of")} value={harvest.value} set={(value) => (harvest.value = value)} refusals={wrongAt("harvest")}
          options={[{ value: "", label: say("pack.days") }, ...harvests.map((each) => ({ value: each.root, label: [textOf(each, "mark"), textOf(each, "crop"), dayOf(momentOf(each), hereZone())].filter((part) => part !== "").join(" · ") }))]}
        />
      ) : null}
      {harvest.value ? null : (
        <div class="pair">
          <Line label={say("pack.from")} kind="date" value={from.value} set={(value) => (from.value = value)} refusals={wrongAt("from")} />
          <Line label={say("pack.to")} kind="date" value={to.value} set={(value) => (to.value = value)} refusals={wrongAt("to")} />
        </div>
      )}
      {wrong.value.filter((each) => !["from", "to", "harvest"].includes(each.field)).map((each, index) => <p key={index} class="refusal" role="alert">{each.text} {each.next}</p>)}
      <div class="deeds">
        <button type="button" class="plain" onClick={() => void make("pdf")}>{say("pack.pdf")}</button>
        <button type="button" class="plain" onClick={() => void make("csv")}>{say("pack.csv")}</button>
      </div>
      {told.value ? (
        <p role="status">
          {say("pack.told", { count: told.value.applications_count, met: told.value.met_count, not_met: told.value.not_met_count, unknown: told.value.cannot_tell_count })}{" "}
          {say(told.value.record_whole ? "pack.whole" : "pack.not_whole")}
        </p>
      ) : null}
    </>
  );
}
