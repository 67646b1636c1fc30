// From a plan to a brew in the record: a garden and a vessel are entered when there are none, then the brew itself. All
// of it goes through the queue, so that it can be begun where there is no network.
import { add } from "../keep/queue";
import { listedSoon, textOf } from "../keep/record";
import { textAt, type Plan } from "../plan/document";
import { answer } from "../plan/planner";
import { go } from "../route";
import { say } from "../words/words";

export async function gardenId(plan: Plan): Promise<string> {
  const there = (await listedSoon("garden")).at(-1);
  if (there) return there.root;
  const degrees = (path: string) => (textAt(plan, path) === "" ? undefined : `${textAt(plan, path)} deg`);
  return add("garden", {
    name: say("start.my_garden"), zone: textAt(plan, "garden.zone"), measures: textAt(plan, "garden.measures") || "metric",
    latitude: degrees("garden.latitude"), longitude: degrees("garden.longitude"), altitude: textAt(plan, "garden.altitude"),
  });
}

async function vesselId(plan: Plan, garden: string): Promise<string> {
  const volume = textAt(plan, "water.volume");
  const name = say("start.vessel", { volume });
  const there = (await listedSoon("vessel")).find((each) => textOf(each, "name") === name);
  return there ? there.root : add("vessel", { garden, name, volume, diameter: textAt(plan, "vessel.diameter") });
}

/// What was promised, without the curves: they can be worked out again from the plan.
function promise() {
  const told = answer.value;
  if (!told) return undefined;
  const { headline, verdict, probability_oxygen_stays_above_6, probability_oxygen_below_2, ready_window, oxygen_minimum_mg_per_l } = told;
  return JSON.stringify({ headline, verdict, probability_oxygen_stays_above_6, probability_oxygen_below_2, ready_window, oxygen_minimum_mg_per_l });
}

export async function startBrew(plan: Plan): Promise<void> {
  const garden = await gardenId(plan);
  const vessel = await vesselId(plan, garden);
  const id = await add("brew", {
    garden, vessel, name: textAt(plan, "brew.name") || say("start.brew"), volume: textAt(plan, "water.volume"),
    air_on_at: textAt(plan, "brew.start"), plan: JSON.stringify(plan), forecast: promise(),
  });
  go(`brew/${id}`);
}
