// What the reader chose, kept on this device: language, measures. Everything has a usual value.
import { effect, signal } from "@preact/signals";

export type Language = "en" | "es";
export type Measures = "metric" | "us";
export interface Settings {
  language: Language;
  measures: Measures;
}

const place = "barm.settings";

function usual(): Settings {
  const first = navigator.languages?.[0] ?? navigator.language ?? "en";
  return {
    language: first.toLowerCase().startsWith("es") ? "es" : "en",
    measures: /^en-US$|^es-US$/i.test(first) ? "us" : "metric",
  };
}

function kept(): Settings {
  const settings = usual();
  try {
    const told = JSON.parse(localStorage.getItem(place) ?? "{}") as Partial<Settings>;
    if (told.language === "en" || told.language === "es") settings.language = told.language;
    if (told.measures === "metric" || told.measures === "us") settings.measures = told.measures;
  } catch {
    // Storage may be closed to us; the usual values hold.
  }
  return settings;
}

export const settings = signal<Settings>(kept());

effect(() => {
  document.documentElement.lang = settings.value.language;
  try {
    localStorage.setItem(place, JSON.stringify(settings.value));
  } catch {
    // Kept until the page closes, then.
  }
});

export function set(change: Partial<Settings>): void {
  settings.value = { ...settings.value, ...change };
}
