// What a batch costs, from prices that are the garden's own; and the questions that tell them.
import kinds from "virtual:kinds";
import { Fold, Line, Part } from "../pieces/fields";
import { listed, numberOf, textOf } from "../keep/record";
import { settings } from "../settings";
import { say, type Key } from "../words/words";
import { Figure } from "./figure";
import { changed, textAt, valueAt, type Plan } from "./document";
import { change, plan, refusals, type PlanAnswer } from "./planner";
import type { Reason } from "../pieces/why";

const parts = ["compost", "foods", "water", "electricity", "labour"] as const;
const put = (path: string, value: string) => change(changed(plan.value as Plan, path, value || undefined));
const wrongAt = (path: string) => refusals.value.filter((each) => each.field === path);

export function money(value: number | null | undefined, currency: string): string {
  if (value === null || value === undefined) return "?";
  return `${value.toFixed(2)}${currency ? ` ${currency}` : ""}`;
}

/// Prices the garden's own entry tells, for a plan that begins.
export function gardenPrices(): { cost?: Record<string, string> } {
  const here = listed("garden").entries.filter((each) => each.state !== "refused").at(-1);
  const pump = listed("pump").entries.at(-1);
  const told = {
    currency: here ? textOf(here, "currency") : "", electricity_per_kwh: here ? textOf(here, "power_price") : "", water_per_m3: here ? textOf(here, "water_price") : "",
    pump_power: pump && numberOf(pump, "power_w") !== null ? `${numberOf(pump, "power_w")} W` : "",
  };
  const cost = Object.fromEntries(Object.entries(told).filter(([, value]) => value !== ""));
  return here && Object.keys(cost).length > 0 ? { cost } : {};
}

/// "compost[1]" as the reader knows it: the compost's or food's own name.
function nameOf(from: Plan, part: string): string {
  const kind = textAt(from, `${part}.kind`);
  const food = textAt(from, `${part}.name`);
  const found = [...kinds.composts, ...kinds.foods].find((each) => each.value === (kind || food));
  if (found) return found[settings.value.language];
  return kind || food || say(`cost.${part}` as Key);
}

export function Cost({ told, plan: from }: { told: PlanAnswer; plan: Plan }) {
  const { cost, currency } = told;
  if (!cost.batch) return <Part heading={say("cost.heading")}><p>{say("cost.none")}</p></Part>;
  const spent = parts.filter((part) => (cost[part] ?? 0) > 0).map((part) => `${say(`cost.${part}`)} ${money(cost[part], currency)}`);
  const reason = (formula: string, from: string[]): Reason => ({ from, formula, sources: [] });
  const whole = money(cost.batch, currency);
  return (
    <Part heading={say("cost.heading")} id="cost">
      <dl class="figures">
        <Figure name={say("cost.batch")} value={whole} reason={reason(say("cost.why_batch"), spent)} />
        <Figure name={say("cost.per_l")} value={money(cost.per_l, currency)} reason={reason(say("cost.why_per_l"), [whole, textAt(from, "water.volume")])} />
        {cost.per_100m2 === null
          ? null
          : <Figure name={say("cost.per_100m2")} value={money(cost.per_100m2, currency)} reason={reason(say("cost.why_per_100m2"), [money(cost.per_l, currency), textAt(from, "spread.rate")])} />}
      </dl>
      {told.not_priced.length > 0 ? <p>{say("cost.not_priced", { what: told.not_priced.map((each) => nameOf(from, each)).join(", ") })}</p> : null}
      {cost.per_100m2 === null ? <p class="quiet">{say("cost.no_rate")}</p> : null}
    </Part>
  );
}

function Money({ path, label, placeholder }: { path: string; label: string; placeholder: string }) {
  return <Line label={label} value={textAt(plan.value, path)} mode="decimal" placeholder={placeholder} set={(value) => put(path, value)} refusals={wrongAt(path)} />;
}
function Much({ path, label, placeholder }: { path: string; label: string; placeholder: string }) {
  return <Line label={label} value={textAt(plan.value, path)} placeholder={placeholder} set={(value) => put(path, value)} refusals={wrongAt(path)} />;
}

export const pricesWrong = () => refusals.value.some((each) => /^(cost|spread)\.|\.price/.test(each.field));

export function Prices({ open }: { open: boolean }) {
  const now = plan.value as Plan;
  const rows = (["compost", "food"] as const).flatMap((list) => ((valueAt(now, list) ?? []) as unknown[]).map((_, index) => `${list}[${index + 1}]`));
  const priced = rows.filter((row) => textAt(now, `${row}.price`)).length + ["cost.electricity_per_kwh", "cost.water_per_m3", "cost.wage_per_h"].filter((path) => textAt(now, path)).length;
  return (
    <Fold heading={say("cost.prices")} open={open} late line={priced > 0 ? say("cost.prices_told", { count: priced }) : say("cost.prices_none")}>
      <PricesAsked rows={rows} />
    </Fold>
  );
}

function PricesAsked({ rows }: { rows: string[] }) {
  const now = plan.value as Plan;
  const us = settings.value.measures === "us";
  return (
    <>
      <p class="hint">{say("cost.prices_hint")}</p>
      <Much path="cost.currency" label={say("cost.currency")} placeholder="" />
      {rows.map((row) => (
        <div class="pair" key={row}>
          <Money path={`${row}.price`} label={say("cost.paid_for", { what: nameOf(now, row) })} placeholder="6.50" />
          <Much path={`${row}.price_for`} label={say("cost.for_how_much", { what: nameOf(now, row) })} placeholder={us ? "10 lb" : "1 kg"} />
        </div>
      ))}
      <div class="pair">
        <Money path="cost.electricity_per_kwh" label={say("cost.per_kwh")} placeholder="0.30" />
        <Much path="cost.pump_power" label={say("cost.pump_power")} placeholder="35 W" />
      </div>
      <div class="pair">
        <Money path="cost.wage_per_h" label={say("cost.wage")} placeholder="12" />
        <Much path="cost.labour" label={say("cost.minutes")} placeholder="45 min" />
      </div>
      <Money path="cost.water_per_m3" label={say("cost.per_m3")} placeholder="2.00" />
      <Much path="spread.rate" label={say("cost.rate")} placeholder={us ? "1 US gal/1000 ft2" : "4 L/100 m2"} />
    </>
  );
}
