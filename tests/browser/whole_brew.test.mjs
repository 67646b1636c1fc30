// A whole brew day with a phone: plan, begin, tick, read, smell, use, wash; then what the record holds of it.
import { check, equal, phone, until } from "./world.mjs";

export async function from_plan_to_application(world) {
  const page = await world.person({ size: phone });
  await world.brew(page);

  await page.getByRole("button", { name: "The air is on now" }).click();
  await until(async () => (await page.getByRole("button", { name: "The air is on now" }).count()) === 0, "the brew runs");
  const step = page.locator(".to-tick input").first();
  await step.check();
  await page.reload();
  await until(async () => page.locator(".to-tick input").first().isChecked(), "a tick outlives a reload");

  await page.getByRole("link", { name: "Log a reading" }).click();
  await page.getByLabel("Oxygen", { exact: true }).fill("8.1");
  await page.getByLabel("Temperature of the brew", { exact: true }).fill("19.5");
  await page.getByRole("button", { name: "Keep it" }).click();
  await until(async () => /8\.1 mg\/L/.test(await page.locator(".logged").textContent()), "the reading is listed");

  await page.getByRole("link", { name: "Smell, foam, look" }).click();
  await page.getByText("earth", { exact: true }).click();
  await page.getByText("thin", { exact: true }).click();
  await page.getByRole("button", { name: "Keep it" }).click();
  await until(async () => /smells earth/.test(await page.locator(".logged").textContent()), "the smell is listed");
  await until(async () => (await page.locator(".fitness").count()) === 1, "a verdict");
  check((await page.locator(".fitness li").count()) > 0, "with its reasons");

  await page.getByText("Finish", { exact: true }).click();
  await page.getByRole("button", { name: "The air is off" }).click();
  await until(async () => /The air is off\. Use it at once/.test(await page.textContent(".brew")), "finished");
  await page.getByText("Use", { exact: true }).click();
  await page.getByLabel("Name of the bed").fill("Beans <b>by the wall</b>");
  await page.getByLabel("Brew used").fill("15 L");
  await page.getByRole("button", { name: "Keep the use" }).click();
  await page.getByText("Wash", { exact: true }).click();
  await page.getByText("scrubbed", { exact: true }).click();
  await page.getByRole("button", { name: "Keep the wash" }).click();

  const [use] = await until(async () => { const all = await world.record("application"); return all.length > 0 && all; }, "the use in the record");
  equal(use.values.volume_l, 15, "litres used");
  const [reading] = await world.record("reading");
  equal(reading.values.oxygen_mg_per_l, 8.1, "oxygen");
  equal((await world.record("observation"))[0].values.smell, "earthy", "smell");
  equal((await until(async () => { const all = await world.record("cleaning"); return all.length > 0 && all; }, "the wash"))[0].values.method, "scrubbed", "wash");
  const [brew] = await world.record("brew");
  check(brew.values.air_off_at !== undefined, "air off is kept");
  check(JSON.parse(brew.values.plan).water !== undefined, "with its plan");

  await world.at(page, "beds");
  await until(async () => /Beans <b>by the wall<\/b>/.test(await page.textContent("main")), "the bed had it, its name as written");
  equal(await page.locator("main b").count(), 0, "names are never markup");
}

export async function the_band_narrows_as_readings_come(world) {
  const page = await world.person({ size: phone });
  await world.brew(page);
  const { id, values } = (await world.record("brew"))[0];
  const on = Date.now() - 6 * 3_600_000;
  const send = (path, body) => fetch(`${world.address}api/record/${path}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
  await send("correct", { id, field: "air_on_at", value: new Date(on).toISOString().replace(/\.\d+Z/, "+00:00"), reason: "began earlier" });
  const spread = () => page.evaluate(() => document.querySelector(".plot-night").getAttribute("aria-label").match(/between ([\d.]+) and ([\d.]+)/).slice(1).map(Number).reduce((low, high) => high - low));
  await until(async () => /6 h with air/.test(await page.textContent(".brew")), "the brew runs for six hours");
  const before = await spread();
  for (const hours of [1, 2, 3, 4, 5])
    await send("add-reading", { brew: values.id, at: new Date(on + hours * 3_600_000).toISOString().replace(/\.\d+Z/, "+00:00"), oxygen: `${(8.7 - 0.1 * hours).toFixed(1)} mg/L` });
  await until(async () => (await page.locator(".logged li").count()) === 5, "five readings, without a reload");
  await until(async () => (await spread()) < 0.9 * before, `a narrower band than ${before} mg/L`);
}
