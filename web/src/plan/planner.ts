// Works the plan out again whenever it changes: one question in flight, the newest next, so that a slider never queues.
import { batch, effect, signal } from "@preact/signals";
import { ask, type Answer, type Remark } from "../api/ask";
import { settings } from "../settings";
import type { Plan } from "./document";

export type PlanAnswer = Answer<"/api/brew/plan">;

export const plan = signal<Plan | null>(null);
export const answer = signal<PlanAnswer | null>(null);   // the last that could be worked out
export const answered = signal<Plan | null>(null);       // the plan it answers
export const refusals = signal<Remark[]>([]);
export const reached = signal(true);
export const changes = signal(0);                        // counts changes of the plan
export const answeredChange = signal(0);                 // up to which the answer stands
export const settled = signal<{ told: PlanAnswer; plan: Plan } | null>(null);  // the same, once the band is drawn and the hand rests

let working = false;

// All below the band follows a moment later, so that the band itself keeps up with a finger.
const rest_ms = 120;
let resting: ReturnType<typeof setTimeout> | undefined;
function settle(): void {
  clearTimeout(resting);
  const told = answer.peek();
  const asked = answered.peek();
  if (!told || !asked) return;
  const now = () => { settled.value = { told, plan: asked }; };
  if (settled.peek() === null) now();
  else resting = setTimeout(now, rest_ms);
}

async function work(): Promise<void> {
  if (working) return;
  working = true;
  while (plan.value && answeredChange.value < changes.value) {
    const asked = plan.value;
    const change = changes.value;
    const result = await ask("/api/brew/plan", asked);
    batch(() => {
      reached.value = result.kind !== "not_reached";
      if (result.kind === "answered") {
        answer.value = result.answer;
        answered.value = asked;
        refusals.value = [];
      } else if (result.kind === "refused") {
        refusals.value = result.refusals;
      }
      answeredChange.value = change;
    });
    settle();
  }
  working = false;
}

export function change(next: Plan): void {
  plan.value = next;
  changes.value++;
  void work();
}

// The answer is in the reader's language: asked again when that changes.
let language = settings.peek().language;
effect(() => {
  if (settings.value.language === language) return;
  language = settings.value.language;
  if (plan.peek()) change(plan.peek() as Plan);
});

// Not reached: tried again when the network is back, and every few seconds.
const again = () => {
  if (!reached.peek() && plan.peek()) change(plan.peek() as Plan);
};
addEventListener("online", again);
setInterval(again, 5000);
