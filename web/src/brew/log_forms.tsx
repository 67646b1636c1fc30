// What you read and what you see, entered with a thumb. Kept on this device the moment you say so.
import { useSignal } from "@preact/signals";
import { add } from "../keep/queue";
import { Keys, Line, MomentField } from "../pieces/fields";
import { QuantityField } from "../pieces/quantity_field";
import { go } from "../route";
import { settings } from "../settings";
import { iso } from "../words/time";
import { say, word } from "../words/words";
import { read } from "../units/quantity";
import type { Brew } from "./brew";
import { TakePhoto } from "./photo";


const smells = ["earthy", "sweet", "yeasty", "none", "sour", "ammonia", "rotten"];
const foams = ["none", "thin", "thick", "overflowing"];

export function ReadingForm({ brew }: { brew: Brew }) {
  const us = settings.value.measures === "us";
  const oxygen = useSignal("");
  const temperature = useSignal("");
  const ph = useSignal("");
  const conductivity = useSignal("");
  const at = useSignal(iso(Date.now(), brew.zone));
  const wrong = useSignal<"" | "reading.nothing" | "reading.not_a_number">("");
  const warmth = us ? "°F" : "°C";
  const bare = (text: string, unit: string) => (/^[\d.,\s]+$/.test(text.trim()) && text.trim() ? `${text.trim().replace(",", ".")} ${unit}` : text);
  const keep = async () => {
    const told = { oxygen: bare(oxygen.value, "mg/L"), temperature: bare(temperature.value, warmth), ph: ph.value.replace(",", "."), conductivity: bare(conductivity.value, "mS/cm") };
    if (!Object.values(told).some((value) => value !== "")) return void (wrong.value = "reading.nothing");
    if ((told.oxygen && read(told.oxygen)?.of !== "concentration") || (told.temperature && read(told.temperature)?.of !== "temperature") || (told.ph && !(Number(told.ph) >= 0 && Number(told.ph) <= 14)))
      return void (wrong.value = "reading.not_a_number");
    await add("reading", { brew: brew.id, at: at.value, ...told });
    go(`brew/${brew.id}`);
  };
  return (
    <form class="page log" onSubmit={(event) => { event.preventDefault(); void keep(); }}>
      <h1 class="sentence">{say("reading.heading", { name: brew.name })}</h1>
      <QuantityField label={say("reading.oxygen")} value={oxygen.value} unit="mg/L" of="concentration" begin={8} extent={{ least: 0, most: 14 }} refusals={[]} set={(text) => (oxygen.value = text)} />
      <QuantityField label={say("reading.temperature")} value={temperature.value} unit={warmth} of="temperature" begin={19} extent={{ least: 4, most: 38 }} refusals={[]} set={(text) => (temperature.value = text)} />
      <div class="pair">
        <Line label={say("reading.ph")} value={ph.value} mode="decimal" placeholder="6.9" set={(text) => (ph.value = text)} />
        <Line label={say("reading.conductivity")} value={conductivity.value} mode="decimal" placeholder="1.2 mS/cm" set={(text) => (conductivity.value = text)} />
      </div>
      <MomentField label={say("reading.at")} value={at.value} zone={brew.zone} set={(value) => (at.value = value)} />
      {wrong.value ? <p class="refusal" role="alert">{say(wrong.value)}</p> : null}
      <button type="submit" class="main">{say("reading.keep")}</button>
      <a class="plain" href={`#/brew/${brew.id}`}>{say("form.back")}</a>
    </form>
  );
}

export function LookForm({ brew }: { brew: Brew }) {
  const smell = useSignal("");
  const foam = useSignal("");
  const look = useSignal("");
  const image = useSignal("");
  const wrong = useSignal(false);
  const keep = async () => {
    const said = smell.value !== "" || foam.value !== "" || look.value.trim() !== "";
    if (!said && !image.value) return void (wrong.value = true);
    const at = iso(Date.now(), brew.zone);
    const observation = said ? await add("observation", { brew: brew.id, at, smell: smell.value, foam: foam.value, look: look.value.trim() }) : undefined;
    if (image.value) await add("photo", { brew: brew.id, observation, at, image: image.value });
    go(`brew/${brew.id}`);
  };
  return (
    <form class="page log" onSubmit={(event) => { event.preventDefault(); void keep(); }}>
      <h1 class="sentence">{say("look.heading", { name: brew.name })}</h1>
      <Keys label={say("look.smell")} options={smells.map((value) => ({ value, label: word("smell", value) }))} value={smell.value} set={(value) => (smell.value = value)} />
      <Keys label={say("look.foam")} options={foams.map((value) => ({ value, label: word("foam", value) }))} value={foam.value} set={(value) => (foam.value = value)} />
      <Line label={say("look.look")} value={look.value} set={(value) => (look.value = value)} hint={say("look.look_hint")} />
      <TakePhoto value={image.value} set={(value) => (image.value = value)} />
      {wrong.value ? <p class="refusal" role="alert">{say("look.nothing")}</p> : null}
      <button type="submit" class="main">{say("reading.keep")}</button>
      <a class="plain" href={`#/brew/${brew.id}`}>{say("form.back")}</a>
    </form>
  );
}
