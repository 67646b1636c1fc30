// Why a number is what it is: what it was made from, the formula, its sources. Pages: docs/water, docs/air, docs/brew.
import type { Reason } from "../pieces/why";
import { say } from "../words/words";
import { textAt, valueAt, type Plan } from "./document";
import type { PlanAnswer } from "./planner";

const round = (value: number | null | undefined, digits = 1) => (value === null || value === undefined ? "?" : String(Number(value.toFixed(digits))));

export function reasons(plan: Plan, answer: PlanAnswer) {
  const told = (label: string, path: string) => {
    const text = textAt(plan, path);
    return text ? [`${label} ${text}`] : [];
  };
  const air = answer.air;
  const brewed = [
    ...told(say("plan.volume"), "water.volume"),
    ...told(say("plan.temperature"), "water.temperature"),
    ...((valueAt(plan, "compost") ?? []) as { mass: string; kind: string }[]).map((each) => `${each.mass} ${each.kind}`),
    ...((valueAt(plan, "food") ?? []) as { amount: string; name: string }[]).map((each) => `${each.amount} ${each.name}`),
    say("why.air_given", { flow: round(air.flow_l_per_h, 0), kla: round(answer.kla.kla20_per_h) }),
  ];
  const made: Record<"odds" | "lowest" | "ready" | "flat_after" | "flow" | "supply" | "demand" | "life", Reason> = {
    odds: { from: brewed, formula: say("why.odds", { members: answer.members_count }), sources: ["M01", "M10", "M17", "judged"] },
    lowest: { from: brewed, formula: say("why.lowest"), sources: ["S01", "S14", "M10", "M17"] },
    ready: { from: brewed, formula: say("why.ready"), sources: ["M02", "practice", "judged"] },
    flat_after: { from: brewed, formula: say("why.flat_after"), sources: ["M10", "M17", "judged"] },
    flow: {
      from: [
        ...told(say("plan.rated_flow"), "air.rated_flow"), ...told(say("plan.maximum_pressure"), "air.maximum_pressure"),
        say("why.head", { water: round(air.water_head_kpa), line: round(air.line_loss_kpa), diffuser: round(air.diffuser_loss_kpa) }),
      ],
      formula: say("why.flow"), sources: ["S19", "practice", "judged"],
    },
    supply: {
      from: [say("why.kla", { kla: round(answer.kla.kla20_per_h) }), ...told(say("plan.temperature"), "water.temperature")],
      formula: say("why.supply"), sources: ["S01", "S14", "M14", "M16"],
    },
    demand: { from: brewed, formula: say("why.demand"), sources: ["M09", "M10", "M17", "M18"] },
    life: { from: brewed, formula: say("why.life"), sources: ["M02", "M10", "M17", "memory"] },
  };
  return made;
}
