// What a batch costs, from the prices the grower tells. Sums by hand, as in docs/recipe/cost.md.
import { addressed, check, desk, phone, until } from "./world.mjs";

const figure = (page, name) => page.locator(`#cost .figure:has(dt:text-is("${name}")) strong`).textContent();

export async function prices_told_become_a_cost(world) {
  const page = await world.person({ size: phone });
  await world.plan(page);
  check(/Cannot tell: no price/.test(await page.textContent(".rest")), "without prices nothing is claimed");
  await page.locator("summary", { hasText: "Prices" }).click();
  await page.getByLabel("Money of all prices").fill("EUR");
  await page.getByLabel("Paid: mixed compost", { exact: false }).first().fill("25");
  await until(async () => /is not given: a price says nothing/.test(await page.textContent(".plan")), "a price alone is refused in place");
  await page.getByLabel("For how much:", { exact: false }).first().fill("19 kg");
  await until(async () => !/is not given: a price says nothing/.test(await page.textContent(".plan")), "the refusal goes");
  check(await page.getByLabel("A kilowatt hour").isVisible(), "the fold stays open under the hand that mended it");
  await page.getByLabel("A kilowatt hour").fill("0.30");
  await page.getByLabel("The pump draws").fill("35 W");
  await page.getByLabel("Tea you spread").fill("4 L/100 m2");
  // 760 g at 25 for 19 kg is 1.00; 35 W for 20 h at 0.30 is 0.21; 1.21 over 19 L is 0.0637 a litre, 0.25 for 4 L.
  await until(async () => (await page.locator("#cost").count()) > 0 && (await figure(page, "A batch")) === "1.21 EUR", "the batch");
  check((await figure(page, "A litre of tea")) === "0.06 EUR", `a litre: ${await figure(page, "A litre of tea")}`);
  check((await figure(page, "100 m² treated")) === "0.25 EUR", `100 m²: ${await figure(page, "100 m² treated")}`);
  const rest = await page.textContent("#cost");
  check(/counts as nothing: .*water, your time/.test(rest), `what has no price: ${rest}`);
  await page.locator("#cost .why").first().click();
  check(/compost 1\.00 EUR; electricity 0\.21 EUR/.test(await page.textContent("#cost .reason")), "the parts of the sum");
}

export async function prices_travel_with_the_plan(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  await page.locator("summary", { hasText: "Prices" }).click();
  await page.getByLabel("An hour of work").fill("12");
  await page.getByLabel("Work on a batch").fill("45 min");
  await until(async () => (await page.locator("#cost").count()) > 0 && (await figure(page, "A batch")) === "9.00", "45 minutes at 12");
  await addressed(page, (plan) => JSON.stringify(plan).includes('"45 min"'), "the work");
  const other = await world.person({ size: desk });
  await other.goto(page.url());
  await other.waitForSelector("#cost");
  check((await figure(other, "A batch")) === "9.00", "the same for whoever is sent the plan");
}

export async function a_garden_that_knows_its_prices_tells_them_to_a_new_plan(world) {
  const add = (kind, fields) => fetch(`${world.address}api/record/add-${kind}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(fields) });
  const { id: garden } = await (await add("garden", { name: "Quince Row", zone: "UTC", currency: "COP", power_price: "500", water_price: "2000" })).json();
  await add("pump", { garden, name: "Shed pump", flow: "1100 L/h", power: "35 W" });
  const page = await world.person({ size: phone });
  await page.goto(`${world.address}#/gear`);                  // where the pump is listed
  await until(async () => /Shed pump/.test(await page.textContent("main")), "the pump");
  await page.getByRole("link", { name: "Plan", exact: true }).click();
  // 35 W for 20 h is 0.7 kWh: 350; 19 L of 2000 the cubic metre: 38.
  await until(async () => (await page.locator("#cost").count()) > 0 && (await figure(page, "A batch")) === "388.00 COP", "current and water");
}
