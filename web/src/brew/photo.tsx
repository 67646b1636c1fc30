// Photos of a brew: taken, and shown. What a kept picture is says the server, which looked at its bytes; anything else is
// not shown.
import { useSignal } from "@preact/signals";
import { useEffect, useId } from "preact/hooks";
import { ask } from "../api/ask";
import { put, take } from "../keep/database";
import { momentOf, textOf, type Entry } from "../keep/record";
import { clock } from "../words/time";
import { say } from "../words/words";
import { shrink } from "./shrink";

const types = ["image/jpeg", "image/png", "image/webp"];

export function TakePhoto({ value, set }: { value: string; set(image: string): void }) {
  const id = useId();
  const busy = useSignal(false);
  const wrong = useSignal(false);
  const chosen = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (!file) return;
    busy.value = true;
    const small = await shrink(file);
    busy.value = false;
    wrong.value = small === null;
    input.value = "";
    if (small) set(small);
  };
  return (
    <div class="field">
      <label class="plain as-button" for={id}>{say(value ? "photo.another" : "photo.take")}</label>
      <input class="hidden" id={id} type="file" accept="image/*" capture="environment" onChange={(event) => void chosen(event.currentTarget)} />
      <p class="hint">{say("photo.hint")}</p>
      {busy.value ? <p role="status">{say("photo.shrinking")}</p> : null}
      {wrong.value ? <p class="refusal" role="alert">{say("photo.not_a_picture")}</p> : null}
      {value ? (
        <>
          <img class="photo" src={`data:image/jpeg;base64,${value}`} alt={say("photo.taken")} />
          <button type="button" class="plain" onClick={() => set("")}>{say("photo.leave")}</button>
        </>
      ) : null}
    </div>
  );
}

interface Picture {
  type: string;
  image: string;
}

/// A photo of the record; `soon`: without being asked for.
export function Photo({ entry, zone, soon }: { entry: Entry; zone: string; soon: boolean }) {
  const mine = textOf(entry, "image");
  const picture = useSignal<Picture | null>(mine ? { type: "image/jpeg", image: mine } : null);
  const missed = useSignal(false);
  const show = async () => {
    if (picture.value) return;
    const key = `photo ${entry.id}`;
    const kept = await take<Picture>("seen", key);
    if (kept) return void (picture.value = kept);
    const result = await ask("/api/record/photo", { id: entry.id });
    missed.value = result.kind !== "answered";
    if (result.kind !== "answered" || !types.includes(result.answer.type)) return;
    picture.value = { type: result.answer.type, image: result.answer.image };
    await put("seen", key, picture.value);
  };
  useEffect(() => { if (soon) void show(); }, [entry.id, soon]);
  if (picture.value) return <img class="photo" src={`data:${picture.value.type};base64,${picture.value.image}`} alt={say("photo.alt", { at: clock(momentOf(entry), zone) })} />;
  return (
    <>
      <button type="button" class="plain" onClick={() => void show()}>{say("photo.show")}</button>
      {missed.value ? <small class="caution"> {say("server.not_reached")}</small> : null}
    </>
  );
}
