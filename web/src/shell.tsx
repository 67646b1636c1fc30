// The page around the pages: their names, language and measures, what has not been sent.
import { route } from "./route";
import { set, settings } from "./settings";
import { say, type Key } from "./words/words";
import { PlanPage } from "./plan/page";
import { Unsent } from "./keep/unsent";
import { NowPage } from "./now/page";
import { BrewPage } from "./brew/page";
import { GearPage } from "./gear/page";
import { BedsPage } from "./beds/page";
import { RecordPage } from "./record/page";
import { StartPage } from "./start/page";
import { FormPage } from "./record/form_page";
import type { ComponentType } from "preact";

const pages: Record<string, ComponentType> = {
  "": PlanPage, plan: PlanPage, now: NowPage, brew: BrewPage, gear: GearPage, beds: BedsPage, record: RecordPage, start: StartPage, ask: FormPage,
};
const named = ["plan", "now", "gear", "beds", "record"] as const;
const within: Record<string, string> = { "": "plan", start: "plan", brew: "now", ask: "record" };

export function Shell() {
  const { page } = route.value;
  const Page = pages[page] ?? NotFound;
  const here = within[page] ?? page;
  const us = settings.value.measures === "us";
  return (
    <>
      <a class="skip" href="#content" onClick={(event) => { event.preventDefault(); document.getElementById("content")?.focus(); }}>{say("nav.skip")}</a>
      <header class="top">
        <span class="name">barm</span>
        <span class="chosen-by">
          <button type="button" onClick={() => set({ measures: us ? "metric" : "us" })}>{say(us ? "settings.to_metric" : "settings.to_us")}</button>
          <button type="button" lang={settings.value.language === "es" ? "en" : "es"} onClick={() => set({ language: settings.value.language === "es" ? "en" : "es" })}>{say("settings.language")}</button>
        </span>
        <nav class="pages" aria-label={say("nav.label")}>
          {named.map((name) => (
            <a key={name} href={`#/${name}`} {...(here === name ? { "aria-current": "page" as const } : {})}>{say(`nav.${name}` as Key)}</a>
          ))}
        </nav>
      </header>
      <Unsent />
      <main id="content" tabIndex={-1}><Page /></main>
    </>
  );
}

function NotFound() {
  return (
    <div class="page">
      <h1 class="sentence">{say("page.none")}</h1>
      <a class="main" href="#/now">{say("page.to_now")}</a>
    </div>
  );
}

/// Under an address of which the server knows no page.
export function Lost() {
  return (
    <main id="content" class="page">
      <h1 class="sentence">{say("page.none")}</h1>
      <p>{say("page.not_at", { path: location.pathname.slice(0, 100) })}</p>
      <a class="main" href={`${document.getElementById("page")?.dataset.lost ?? "./"}#/now`}>{say("page.to_now")}</a>
    </main>
  );
}
