// Everything the screens say. `say` gives plain text: facts of people are never markup.
import { settings } from "../settings";
import { en } from "./en";
import { es } from "./es";

export type Key = keyof typeof en;
export type Facts = Record<string, string | number>;

export function say(key: Key, facts: Facts = {}): string {
  const text: string = (settings.value.language === "es" ? es : en)[key];
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => (name in facts ? String(facts[name]) : whole));
}

/// A word of the wire ("earthy", "made_here") in the reader's language, where we have one.
export function word(family: string, value: string): string {
  const key = `${family}.${value}`;
  return key in en ? say(key as Key) : value.replaceAll("_", " ");
}
