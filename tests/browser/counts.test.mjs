// Counts of the record beside a brew: what each did to the forecast and the verdict, and its corrections.
import { check, phone, until } from "./world.mjs";

const iso = (at) => new Date(at).toISOString().replace(/\.\d+Z/, "+00:00");

export async function a_count_says_what_it_did(world) {
  const page = await world.person({ size: phone });
  await world.brew(page);
  const send = async (path, body) => {
    const reply = await fetch(`${world.address}api/record/${path}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
    check(reply.ok, `${path}: ${await reply.clone().text()}`);
    return (await reply.json()).id;
  };
  const [brew] = await world.record("brew");
  const on = Math.floor(Date.now() / 1000) * 1000 - 8 * 3_600_000;
  await send("correct", { id: brew.id, field: "air_on_at", value: iso(on), reason: "began earlier" });
  const counts = page.locator("#counts");
  await until(async () => /Nothing counted/.test(await counts.textContent()), "nothing yet");
  const of = brew.values.id;
  const at = iso(on + 6 * 3_600_000);
  const slide = await send("add-count", { of, at, organism: "bacteria", method: "microscope", density: "5e9 1/mL", density_low: "3e9 1/mL", density_high: "8e9 1/mL" });
  await send("add-count", { of, at, organism: "flagellates", method: "microscope", density: "2e4 1/mL", density_low: "1e4 1/mL", density_high: "4e4 1/mL" });
  await send("add-count", { of, at, organism: "amoebae", method: "microscope", density: "1e3 1/mL", density_low: "5e2 1/mL", density_high: "2e3 1/mL" });
  const lot = await send("add-compost-lot", { garden: brew.values.garden, name: "Heap", origin: "made_here", animal_origin: "none", method: "windrow", mass: "20 kg" });
  await send("add-mix", { into: of, part: lot, at: iso(on), mass: "760 g" });
  await send("add-count", { of: lot, at: iso(on - 3_600_000), organism: "bacteria", method: "microscope", per_g: "8e9", density_low: "1e8 1/mL", density_high: "2e8 1/mL" });
  await send("add-count", { of, at, organism: "bacteria", method: "plate", density: "1e7 1/mL" });
  await send("add-count", { of, at, organism: "e_coli", method: "laboratory", density: "1 1/mL" });
  const row = (text) => counts.locator("li", { hasText: text });
  await until(async () => /Counts in the forecast and the verdict|out of line|doubt/i.test(await row("Bacteria: 5 billion/mL").textContent().catch(() => "")), "the slide was heard");
  check(/shows? only what grows/.test(await row("on plates").textContent()), "plates are left out, and why");
  check(/Sets where the forecast begins: 8 billion/.test(await row("of the compost").textContent()), "the compost's own slide");
  check(/May only speak against/.test(await row("E. coli").textContent()), "E. coli clears nothing");
  await until(async () => /With what was counted, .* stay above 6 mg\/L; without it, /.test(await counts.textContent()), "what it moved");
  const day = await (await fetch(`${world.address}api/brew/day`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ brew: of }) })).json();
  const share = Math.round(100 * day.forecast[0].probability_oxygen_stays_above_6);
  await until(async () => new RegExp(`${share} of 100 hold`).test(await page.textContent(".brew .froth figcaption")), `the night on the screen is the one the verdict rests on: ${share} of 100`);
  check(new RegExp(`With what was counted, ${share} of 100`).test(await counts.textContent()), "and so is what it moved");
  check(/Only a laboratory/.test(await counts.textContent()), "what it does not tell");
  await until(async () => /coli/i.test(await page.locator(".fitness").textContent()), "the verdict is judged anew and names the E. coli");
  await send("correct", { id: slide, field: "density", value: "6e9 1/mL", reason: "counted again" });
  await until(async () => /6 billion\/mL/.test(await counts.textContent()) && /counted again/.test(await counts.textContent()), "a correction shows what it was");
}
