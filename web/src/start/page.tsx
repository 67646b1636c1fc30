// One's own plan in three steps: how much water, which air, what goes in. Everything else has a usual value.
import { useSignal } from "@preact/signals";
import { Keys } from "../pieces/fields";
import { change } from "../plan/planner";
import { hereZone, sample, townOf, type Plan } from "../plan/document";
import { leaveSample } from "../plan/page";
import { go } from "../route";
import { settings } from "../settings";
import { say } from "../words/words";

interface Vessel {
  litres: number;
  metric: [string, string];   // water, width
  us: [string, string];
}
const vessels: Record<"bucket" | "drum" | "tank", Vessel> = {
  bucket: { litres: 19, metric: ["19 L", "28 cm"], us: ["5 US gal", "11 in"] },
  drum: { litres: 190, metric: ["190 L", "58 cm"], us: ["50 US gal", "23 in"] },
  tank: { litres: 900, metric: ["900 L", "110 cm"], us: ["240 US gal", "43 in"] },
};
// Air for each litre of water and minute: what small, fair and strong pumps give.
const airs = { little: 0.3, fair: 1, plenty: 1.6 };
// Of the water, by volume: molasses, kelp.
const feeds = { none: [0, 0], light: [0.0005, 0.0005], usual: [0.0012, 0.0006] } as const;

export function StartPage() {
  const step = useSignal(1);
  const vessel = useSignal<keyof typeof vessels>("bucket");
  const air = useSignal<keyof typeof airs>("fair");
  const feed = useSignal<keyof typeof feeds>("light");
  const us = settings.value.measures === "us";

  const finish = async () => {
    const zone = hereZone();
    const [latitude, longitude] = await townOf(zone);
    const { litres, metric, us: american } = vessels[vessel.value];
    const [volume, diameter] = us ? american : metric;
    const flow = airs[air.value] * litres * 60;
    const spoon = (share: number) => measure(share * litres);
    const foods = feeds[feed.value];
    const begun = sample(settings.value.measures, zone, Date.now());
    const own: Plan = {
      ...begun,
      brew: { ...begun.brew, name: say("start.brew") },
      garden: { ...begun.garden, latitude: String(latitude), longitude: String(longitude) },
      water: { volume, temperature: us ? "66 °F" : "19 °C" },
      vessel: { diameter },
      air: { rated_flow: us ? `${Math.round(flow / 37.85) * 10} US gal/h` : `${Math.round(flow / 50) * 50} L/h`, maximum_pressure: us ? "3.5 psi" : "25 kPa", diffuser: "stone" },
      compost: [{ kind: "mixed", mass: us ? `${Math.round((litres * 40) / 453.6 * 4) / 4} lb` : litres > 100 ? `${Math.round(litres * 0.04 * 10) / 10} kg` : `${Math.round(litres * 4) * 10} g` }],
      food: foods[0] === 0 ? [] : [{ name: "blackstrap molasses", amount: spoon(foods[0]) }, { name: "kelp meal", amount: spoon(foods[1]) }],
    };
    leaveSample();
    change(own);
    go("plan");
  };
  const words = (family: "vessel" | "air" | "feed", all: string[]) => all.map((value) => ({ value, label: say(`start.${family}.${value}` as "start.vessel.bucket") }));
  return (
    <div class="page start">
      <h1 class="sentence">{say("start.heading", { step: step.value })}</h1>
      {step.value === 1 ? <Keys label={say("start.ask_vessel")} options={words("vessel", ["bucket", "drum", "tank"])} value={vessel.value} set={(value) => (vessel.value = value as "bucket")} /> : null}
      {step.value === 2 ? <Keys label={say("start.ask_air")} options={words("air", ["little", "fair", "plenty"])} value={air.value} set={(value) => (air.value = value as "fair")} hint={say("start.air_hint")} /> : null}
      {step.value === 3 ? <Keys label={say("start.ask_feed")} options={words("feed", ["none", "light", "usual"])} value={feed.value} set={(value) => (feed.value = value as "light")} hint={say("start.feed_hint")} /> : null}
      <button type="button" class="main" onClick={() => (step.value < 3 ? step.value++ : void finish())}>{step.value < 3 ? say("start.next") : say("start.show")}</button>
      {step.value > 1 ? <button type="button" class="plain" onClick={() => step.value--}>{say("form.back")}</button> : <a class="plain" href="#/plan">{say("start.to_sample")}</a>}
    </div>
  );
}

/// Litres in a measure people own.
function measure(litres: number): string {
  const tsp = litres / 0.00492892159375;
  if (tsp < 3) return `${Math.max(0.25, Math.round(4 * tsp) / 4)} tsp`;
  if (tsp < 24) return `${Math.round((2 * tsp) / 3) / 2} tbsp`;
  return `${Math.round((4 * tsp) / 48) / 4} cup`;
}
