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
  await send("add-count", { of, at, organism: "bacteria", method: "plate", density: "1e7 1/mL" });
  await send("add-count", { of, at, organism: "e_coli", method: "laboratory", density: "1 1/mL" });
  const row = (text) => counts.locator("li", { hasText: text });
  await until(async () => /Counts in the forecast and the verdict|out of line|doubt/i.test(await row("under the microscope").textContent().catch(() => "")), "the slide was heard");
  check(/shows? only what grows/.test(await row("on plates").textContent()), "plates are left out, and why");
  check(/May only speak against/.test(await row("E. coli").textContent()), "E. coli clears nothing");
  await until(async () => /With what was counted, .* stay above 6 mg\/L; without it, /.test(await counts.textContent()), "what it moved");
  check(/Only a laboratory/.test(await counts.textContent()), "what it does not tell");
  check(/coli/i.test(await page.locator(".fitness").textContent()), "the verdict names the E. coli");
  await send("correct", { id: slide, field: "density", value: "6e9 1/mL", reason: "counted again" });
  await until(async () => /6 billion\/mL/.test(await counts.textContent()) && /counted again/.test(await counts.textContent()), "a correction shows what it was");
}
