#!/usr/bin/env node
// Takes the pictures of docs/screens from the real screens: a server with an invented garden, a brew eight hours old.
// usage: tools/make_screens.mjs [PATH_TO_BARM]; needs tests/browser's packages (npm ci there) and chromium
import { readdirSync, rmSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

const house = resolve(dirname(fileURLToPath(import.meta.url)), "..");
const { World, desk, phone, until } = await import(join(house, "tests/browser/world.mjs"));
const out = join(house, "docs/screens");
const hour = 3_600_000;
const zone = "America/Bogota";
const heaviest = 100_000;   // bytes of one picture

const iso = (at) => new Date(at - 5 * hour).toISOString().slice(0, 19) + "-05:00";
const on = Math.floor((Date.now() - 8 * hour) / 900_000) * 900_000;

const plan = {
  brew: { name: "Quince Row, plot 14", start: iso(on), aim: "balanced", length: "18 h" },
  garden: { zone, latitude: "4.7", longitude: "-74.1", altitude: "90 m" },
  water: { volume: "19 L", temperature: "19 °C", free_chlorine: "0.4 mg/L" },
  vessel: { diameter: "28 cm" },
  air: { rated_flow: "2200 L/h", maximum_pressure: "25 kPa", diffuser: "stone" },
  room: { temperature: "18 °C" },
  compost: [{ kind: "mixed", mass: "760 g" }],
  food: [{ name: "blackstrap molasses", amount: "2 tsp" }, { name: "kelp meal", amount: "2 tsp" }, { name: "fish hydrolysate", amount: "1 tsp" }],
};

async function fill(world) {
  const add = async (kind, fields) => {
    const reply = await fetch(`${world.address}api/record/add-${kind}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(fields) });
    const told = await reply.json();
    if (!reply.ok) throw new Error(`${kind}: ${JSON.stringify(told)}`);
    return told.id;
  };
  const garden = await add("garden", { name: "Quince Row", zone, latitude: "4.7 deg", longitude: "-74.1 deg" });
  const vessel = await add("vessel", { garden, name: "Blue bucket", volume: "20 L", diameter: "28 cm" });
  await add("pump", { garden, name: "Shed pump", flow: "2200 L/h", pressure_most: "25 kPa" });
  const compost = await add("compost-lot", { garden, name: "Spring heap", origin: "made_here", animal_origin: "none", method: "windrow", mass: "50 kg" });
  await add("food-lot", { garden, name: "Molasses, second can", food: "molasses", volume: "4 L" });
  await add("water-source", { garden, name: "Tap by the shed", type: "mains", disinfectant: "chlorine" });
  const beans = await add("bed", { garden, name: "Beans", area: "12 m2", crop: "runner beans" });
  await add("bed", { garden, name: "Roses", area: "6 m2", crop: "roses" });
  const old = await add("brew", { garden, vessel, name: "Last Friday's bucket", volume: "19 L", air_on_at: iso(on - 168 * hour), air_off_at: iso(on - 150 * hour) });
  await add("mix", { into: old, part: compost, at: iso(on - 168 * hour), mass: "760 g" });
  await add("application", { bed: beans, brew: old, at: iso(on - 149.5 * hour), volume: "15 L", water: "30 L", method: "drench" });
  await add("harvest", { bed: beans, at: iso(on - 24 * hour), crop: "beans", mass: "4 kg", mark: "H-14" });
  const brew = await add("brew", { garden, vessel, name: "Quince Row, plot 14", volume: "19 L", air_on_at: iso(on), plan: JSON.stringify(plan) });
  await add("mix", { into: brew, part: compost, at: iso(on), mass: "760 g" });
  for (const [hours, oxygen] of [[0.5, 8.6], [2, 8.5], [4, 8.3], [6, 2.1], [7.5, 7.9]])
    await add("reading", { brew, at: iso(on + hours * hour), oxygen: `${oxygen} mg/L`, temperature: `${(18.6 + 0.07 * hours).toFixed(1)} degC` });
  await add("observation", { brew, at: iso(on + 7.6 * hour), smell: "earthy", foam: "thin" });
  await add("count", { of: brew, at: iso(on + 6 * hour), organism: "bacteria", method: "microscope", density: "4e8 1/mL", density_low: "2e8 1/mL", density_high: "8e8 1/mL" });
  await add("planned-harvest", { bed: beans, on: iso(on + 20 * 24 * hour).slice(0, 10), crop: "beans" });
  return brew;
}

const world = new World(resolve(process.argv[2] ?? join(house, "build/release/bin/barm")));
for (const old of readdirSync(out).filter((name) => name.endsWith(".jpg"))) rmSync(join(out, old));
try {
  await world.serve();
  await world.browse();
  const brew = await fill(world);
  const take = async (name, path, size, scheme, language = "en-GB", before = async () => {}) => {
    const page = await world.person({ size, scheme, language });
    await world.at(page, path);
    if (path === "plan" || path === `brew/${brew}`) await page.waitForSelector(".plot-night canvas");
    if (path === "now") await until(() => page.locator(".going .plot-night canvas").count(), "the night of the brew");
    await before(page);
    await page.waitForTimeout(700);
    const file = join(out, `${name}-${size.width}-${scheme}${language.startsWith("es") ? "-es" : ""}.jpg`);
    for (const quality of [72, 60, 45, 30]) {
      await page.screenshot({ path: file, type: "jpeg", quality });
      if (statSync(file).size <= heaviest) break;
    }
    if (statSync(file).size > heaviest) throw new Error(`${file} is too heavy`);
    await page.context().close();
  };
  for (const size of [phone, desk]) {
    for (const scheme of ["light", "dark"]) {
      await take("plan", "plan", size, scheme);
      await take("now", "now", size, scheme);
      await take("brew", `brew/${brew}`, size, scheme);
    }
  }
  await take("reading", `brew/${brew}/reading`, phone, "light");
  await take("look", `brew/${brew}/look`, phone, "dark");
  await take("stores", "gear", phone, "light");
  await take("beds", "beds", desk, "light");
  await take("beds", "beds", phone, "dark");
  await take("record", "record", desk, "dark");
  await take("record", "record", phone, "light");
  await take("counts", `brew/${brew}`, phone, "light", "en-GB", async (page) => {
    await page.waitForSelector("#counts .saying");
    await page.evaluate(() => document.querySelector("#counts").scrollIntoView());
  });
  const design = async (page) => {
    await page.getByRole("button", { name: "Design it" }).click();
    await until(() => page.locator(".design table").count(), "the designs", 60_000);
    await page.evaluate(() => document.querySelector(".design h2").scrollIntoView({ block: innerWidth < 900 ? "center" : "start" }));
  };
  await take("design", "plan", desk, "light", "en-GB", design);
  await take("design", "plan", phone, "dark", "en-GB", design);
  await take("cost", "plan", phone, "light", "en-GB", async (page) => {
    await page.locator("summary", { hasText: "Prices" }).click();
    const told = { "Money of all prices": "EUR", "Paid: mixed compost": "9", "For how much: mixed compost": "20 kg", "Paid: blackstrap molasses": "6.50", "For how much: blackstrap molasses": "1 kg", "A kilowatt hour": "0.30", "The pump draws": "35 W", "Tea you spread": "4 L/100 m2" };
    for (const [label, value] of Object.entries(told)) await page.getByLabel(label, { exact: true }).fill(value);
    await page.waitForSelector("#cost");
    await page.waitForTimeout(600);
    await page.evaluate(() => document.querySelector("#cost").scrollIntoView({ block: "end" }));
  });
  await take("start", "start", phone, "light");
  await take("plan", "plan", phone, "light", "es-CO");
  await take("brew", `brew/${brew}`, phone, "dark", "es-CO");
  await take("trace", "record/trace", desk, "light", "en-GB", async (page) => {
    await until(() => page.locator("select option").count(), "something to trace");
    await page.getByRole("button", { name: "Show it" }).click();
    await page.waitForSelector(".trace");
  });
  await take("air-test", "gear/test", phone, "dark", "en-GB", async (page) => {
    await page.clock.install();
    await page.getByRole("button", { name: "Air is on: begin" }).click();
    for (const [seconds, oxygen] of [[30, 2.5], [60, 4.6], [60, 6.1], [90, 7.4], [120, 8.3], [120, 8.7]]) {
      await page.clock.runFor(seconds * 1000);
      await page.getByLabel("Oxygen", { exact: true }).fill(String(oxygen));
      await page.getByRole("button", { name: /Keep reading/ }).click();
    }
    await page.clock.runFor(1000);
    await page.waitForSelector(".page .sentence ~ * .sentence");
    await page.evaluate(() => document.querySelector(".plot-test").scrollIntoView({ block: "center" }));
  });
  console.log(`${readdirSync(out).filter((name) => name.endsWith(".jpg")).length} pictures in ${out}`);
} finally {
  await world.close();
}
