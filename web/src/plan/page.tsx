// Plan: questions on one side, the answer beside it. The plan lives in the address, so that it can be sent to somebody.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { become, go, route } from "../route";
import { settings } from "../settings";
import { say } from "../words/words";
import { pack, unpack } from "./address";
import { Rest, Verdict } from "./answer";
import { changed, hereZone, sample, townOf, type Plan } from "./document";
import { gardenPrices } from "./cost";
import { change, changes, plan } from "./planner";
import { Design, ToDesign } from "./design";
import { inMeasures, Questions } from "./questions";
import { startBrew } from "../brew/start";
import { listedSoon } from "../keep/record";
import { chosenRules } from "../rules/chosen";

const broken = signal<"" | "too_long" | "unreadable">("");
const isSample = signal(false);
let written = "";       // what we put in the address ourselves

export async function planSample(): Promise<void> {
  const zone = hereZone();
  await listedSoon("garden");  // whose rules the plan is held to
  const first = { ...sample(settings.value.measures, zone, Date.now()), rule: { sets: chosenRules() }, ...gardenPrices() };
  const [latitude, longitude] = await townOf(zone);
  isSample.value = true;
  broken.value = "";
  change(changed(changed(first, "garden.latitude", String(latitude)), "garden.longitude", String(longitude)));
}

/// What stands in the plan now is the reader's own.
export function leaveSample(): void {
  isSample.value = false;
  broken.value = "";
}

async function open(letters: string): Promise<void> {
  if (letters === "") {
    if (!plan.value) await planSample();
    return;
  }
  if (letters === written) return;
  const told = await unpack(letters);
  if ("broken" in told) {
    broken.value = told.broken;
    return;
  }
  broken.value = "";
  isSample.value = false;
  written = letters;
  change(told.plan);
}

const isShown = () => !broken.value && route.value.page === "plan";

async function write(): Promise<void> {
  if (!plan.value || !isShown()) return;
  const letters = await pack(plan.value);
  if (!isShown()) return;  // the reader went on meanwhile, and is not called back
  written = letters;
  become(`plan/${written}`);
}

function send(): void {
  const address = location.href;
  const said = { title: "barm", text: String((plan.value as Plan).brew?.name ?? ""), url: address };
  if (navigator.share) void navigator.share(said).catch(() => undefined);
  else void navigator.clipboard?.writeText(address).then(() => (sent.value = true));
}
const sent = signal(false);

export function PlanPage() {
  const letters = route.value.rest[0] ?? "";
  useEffect(() => void open(letters), [letters]);
  useEffect(() => {
    sent.value = false;
    const timer = setTimeout(() => void write(), 400);
    return () => clearTimeout(timer);
  }, [changes.value]);
  useEffect(() => {
    const now = plan.value;
    const us = settings.value.measures === "us";
    if (now && ((now.garden?.measures ?? "metric") === "us") !== us) change(inMeasures(now, us));
  }, [settings.value.measures]);

  if (broken.value) return <Broken why={broken.value} />;
  if (!plan.value) return <p class="sentence quiet">{say("plan.working")}</p>;
  return (
    <div class="plan">
      <Verdict />
      <section class="asked" aria-label={say("plan.questions")}>
        {isSample.value ? <FirstMinute /> : null}
        <Questions />
        <div class="deeds">
          <button type="button" class="main" onClick={() => void startBrew(plan.value as Plan)}>{say("plan.brew_this")}</button>
          <ToDesign />
          <button type="button" class="plain" onClick={send}>{sent.value ? say("plan.copied") : say("plan.send")}</button>
          <button type="button" class="plain" onClick={() => print()}>{say("plan.print")}</button>
          {isSample.value ? null : <button type="button" class="plain" onClick={() => void planSample()}>{say("plan.sample_again")}</button>}
        </div>
      </section>
      <Rest />
      <Design />
    </div>
  );
}

function FirstMinute() {
  return (
    <div class="first">
      <p>{say("first.sample")}</p>
      <button type="button" class="plain" onClick={() => go("start")}>{say("first.own")}</button>
    </div>
  );
}

function Broken({ why }: { why: "too_long" | "unreadable" }) {
  return (
    <div class="page">
      <h1 class="sentence">{say(`address.${why}`)}</h1>
      <p>{say("address.next")}</p>
      <button type="button" class="main" onClick={() => { written = ""; go("plan"); void planSample(); }}>{say("address.sample")}</button>
    </div>
  );
}
