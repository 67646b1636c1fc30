import type { Entry } from "../keep/record";
import type { PlanAnswer } from "../plan/planner";
import type { Brew } from "./brew";

export function Verdict(_: { brew: Brew; readings: Entry[]; observations: Entry[]; told: PlanAnswer | null }) {
  return null;
}
