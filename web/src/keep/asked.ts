// An answer that follows the record: asked again when something arrives, the last one known kept for when barm is out of
// reach.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, type Answer, type Input, type Path } from "../api/ask";
import { settings } from "../settings";
import { put, take } from "./database";
import { arrivals } from "./queue";

export interface Asked<T> {
  answer: T | null;
  old: boolean;        // barm was not reached for a newer
}

export function useAsked<P extends Path>(path: P, body: Input<P>): Asked<Answer<P>> {
  const told = useSignal<Asked<Answer<P>>>({ answer: null, old: false });
  const key = `${settings.value.language} ${path} ${JSON.stringify(body)}`;
  useEffect(() => {
    let left = false;
    void ask(path, body).then(async (result) => {
      if (left) return;
      if (result.kind === "answered") {
        told.value = { answer: result.answer, old: false };
        await put("seen", key, result.answer);
      } else if (result.kind === "not_reached") {
        told.value = { answer: told.peek().answer ?? (await take<Answer<P>>("seen", key)) ?? null, old: true };
      }
    });
    return () => { left = true; };
  }, [key, arrivals.value]);
  return told.value;
}

/// A file the server makes, to be saved. False when it could not be had.
export async function download(path: string, body: unknown, name: string): Promise<boolean> {
  try {
    const reply = await fetch(`.${path}`, { method: "POST", headers: { "Content-Type": "application/json", "Accept-Language": settings.value.language }, body: JSON.stringify(body) });
    if (!reply.ok) return false;
    const link = document.createElement("a");
    link.href = URL.createObjectURL(await reply.blob());
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
    return true;
  } catch {
    return false;
  }
}
