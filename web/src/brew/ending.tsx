// Finish, use, wash: what happens to a brew in its last hour.
import { useSignal } from "@preact/signals";
import { add, correct } from "../keep/queue";
import { listed, momentOf, textOf } from "../keep/record";
import { Fold, Keys, Line, Part, Pick } from "../pieces/fields";
import { iso, clock } from "../words/time";
import { say, word } from "../words/words";
import { volumeOf, type Brew } from "./brew";

export function Ending({ brew }: { brew: Brew }) {
  const uses = listed("application", "brew", brew.id).entries;
  const beds = listed("bed").entries;
  const vessel = textOf(brew.now, "vessel");
  const washes = listed("cleaning", "vessel", vessel).entries.filter((each) => momentOf(each) > brew.on);
  const nameOfBed = (id: string) => textOf(beds.find((bed) => bed.root === id) ?? beds[0] ?? brew.now, "name");
  return (
    <Part heading={say("end.heading")}>
      <Fold heading={say("end.finish")} line={brew.off === null ? say("end.air_is_on") : say("end.air_off_at", { at: clock(brew.off, brew.zone) })}>
        <Finish brew={brew} />
      </Fold>
      <Fold
        heading={say("end.use")}
        line={uses.length === 0 ? say("end.not_used") : uses.map((each) => say("end.used", { bed: nameOfBed(textOf(each, "bed")), at: clock(momentOf(each), brew.zone) })).join(" · ")}
      >
        <Use brew={brew} beds={beds.map((bed) => ({ value: bed.root, label: textOf(bed, "name") }))} />
      </Fold>
      <Fold heading={say("end.wash")} line={washes.length === 0 ? say("end.not_washed") : washes.map((each) => word("wash", textOf(each, "method"))).join(" · ")}>
        <Wash vessel={vessel} brew={brew} />
      </Fold>
    </Part>
  );
}

function Finish({ brew }: { brew: Brew }) {
  const stop = () => correct(brew.id, "air_off_at", iso(Date.now(), brew.zone), say("end.reason"));
  if (brew.off !== null) return <p>{say("end.finished")}</p>;
  return (
    <>
      <p>{say("end.keep_air")}</p>
      <button type="button" class="main" onClick={() => void stop()}>{say("end.air_is_off")}</button>
    </>
  );
}

function Use({ brew, beds }: { brew: Brew; beds: { value: string; label: string }[] }) {
  const bed = useSignal("");
  const name = useSignal("");
  const volume = useSignal(volumeOf(brew));
  const water = useSignal("");
  const method = useSignal("drench");
  const wrong = useSignal(false);
  const done = useSignal(false);
  const chosen = bed.value || beds[0]?.value || "new";
  const keep = async () => {
    if ((chosen === "new" && !name.value.trim()) || !volume.value.trim()) return void (wrong.value = true);
    const id = chosen === "new" ? await add("bed", { garden: textOf(brew.now, "garden"), name: name.value.trim() }) : chosen;
    await add("application", { bed: id, brew: brew.id, at: iso(Date.now(), brew.zone), volume: volume.value, water: water.value, method: method.value });
    wrong.value = false;
    done.value = true;
  };
  if (done.value) return <p role="status">{say("end.use_kept")}</p>;
  return (
    <>
      <p class="warnings">{say("end.use_caution")}</p>
      <Pick label={say("end.bed")} options={[...beds, { value: "new", label: say("end.new_bed") }]} value={chosen} set={(value) => (bed.value = value)} />
      {chosen === "new" ? <Line label={say("end.bed_name")} value={name.value} set={(text) => (name.value = text)} /> : null}
      <Line label={say("end.volume")} value={volume.value} set={(text) => (volume.value = text)} />
      <Line label={say("end.water")} value={water.value} placeholder="80 L" set={(text) => (water.value = text)} />
      <Keys label={say("end.method")} options={["drench", "spray", "drip"].map((value) => ({ value, label: word("method", value) }))} value={method.value} set={(value) => (method.value = value)} />
      {wrong.value ? <p class="refusal" role="alert">{say("end.use_missing")}</p> : null}
      <button type="button" class="main" onClick={() => void keep()}>{say("end.keep_use")}</button>
    </>
  );
}

function Wash({ vessel, brew }: { vessel: string; brew: Brew }) {
  const method = useSignal("rinsed");
  const agent = useSignal("");
  const done = useSignal(false);
  const keep = async () => {
    await add("cleaning", { vessel, at: iso(Date.now(), brew.zone), method: method.value, agent: agent.value });
    done.value = true;
  };
  if (done.value) return <p role="status">{say("end.wash_kept")}</p>;
  return (
    <>
      <p class="warnings">{say("end.wash_caution")}</p>
      <Keys label={say("end.how_washed")} options={["rinsed", "scrubbed", "disinfected", "dried"].map((value) => ({ value, label: word("wash", value) }))} value={method.value} set={(value) => (method.value = value)} />
      <Line label={say("end.agent")} value={agent.value} set={(text) => (agent.value = text)} />
      <button type="button" class="main" onClick={() => void keep()}>{say("end.keep_wash")}</button>
    </>
  );
}
