// A brew designed from the plan's own shelf: begun, stopped, begun again, and one of the alternatives taken.
import { check, desk, phone, until } from "./world.mjs";

const begun = (page) => page.locator(".design progress").count();
const share = async (page) => Number(await page.locator(".design progress").getAttribute("value"));

async function ready(world, size, language) {
  const page = await world.person({ size, ...(language ? { language } : {}) });
  await world.plan(page);
  await page.getByRole("button", { name: /^(Design it|Diseñar)$/ }).waitFor();
  return page;
}

export async function a_design_is_begun_stopped_begun_again_and_an_alternative_taken(world) {
  const page = await ready(world, desk);
  const asked = [];
  page.on("request", (request) => { if (request.url().endsWith("/api/recipe/design")) asked.push(request); });
  const gone = [];
  page.on("requestfailed", (request) => { if (request.url().endsWith("/api/recipe/design")) gone.push(request); });
  const before = await page.locator(".amounts").textContent();

  await page.getByRole("button", { name: "Design it" }).click();
  await until(async () => (await begun(page)) && (await share(page).catch(() => 0)) > 0, "some of it done");
  await page.getByRole("button", { name: "Stop", exact: true }).click();
  await until(async () => !(await begun(page)), "it stops");
  await until(() => gone.length === 1, "the server is told so: the request is closed");
  check((await page.locator(".design table").count()) === 0, "nothing is made up of what was done");
  check((await page.locator(".amounts").textContent()) === before, "the plan is as it was");

  await page.getByRole("button", { name: "Design it" }).click();
  let last = 0;
  await until(async () => {
    const now = (await begun(page)) ? await share(page).catch(() => last) : last;
    check(now >= last, `the share went back from ${last} to ${now}`);
    last = now;
    return page.locator(".design table").count();
  }, "the designs", 60_000);
  check(asked.length === 2, "asked twice");
  const heads = await page.locator(".design thead th").allTextContents();
  check(heads.length >= 3 && heads[1] === "most life" && !heads.includes("least money"), `best and alternatives side by side: ${heads}`);

  const column = await page.locator(".design tbody tr").evaluateAll((rows) => rows.map((row) => [row.querySelector("th").textContent, row.querySelectorAll("td")[1].textContent]));
  await page.locator(".design tbody tr").first().locator("button").nth(1).click();
  const compost = column.find(([name]) => name === "mixed compost")[1];
  await until(async () => (await page.locator(".amounts").textContent()).includes(compost), `the alternative's compost, ${compost}, in the plan`);
  check((await page.locator(".design strong.fit").count()) === 1, "which one was taken is said");
  check(await page.evaluate(() => scrollY === 0), "the new sentence is in view");
}

export async function a_design_knows_what_things_cost(world) {
  const page = await ready(world, phone, "es-CO");
  await page.locator("summary", { hasText: "Precios" }).click();
  await page.getByLabel("Moneda de todos los precios").fill("COP");
  await page.getByLabel("Se pagó: composta mixta").fill("30000");
  await page.getByLabel("Por cuánto: composta mixta").fill("20 kg");
  await page.getByRole("button", { name: "Diseñar" }).click();
  await until(() => page.locator(".design table").count(), "los diseños", 60_000);
  check(/Una tanda[\d.]+ COP/.test(await page.textContent(".design table")), "lo que cuesta cada uno");
}
