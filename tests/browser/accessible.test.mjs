// axe-core finds nothing on any page or state: WCAG 2.2 AA, and text at 7:1, since it is read in sun.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { desk, phone, until } from "./world.mjs";
import { pages } from "./pages.mjs";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

async function look(page, where) {
  await page.evaluate(axe);
  const found = await page.evaluate(async () =>
    (await globalThis.axe.run(document, {
      runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] },
      rules: { "color-contrast-enhanced": { enabled: true } },
    })).violations.map((each) => `${each.id}: ${each.nodes.slice(0, 3).map((node) => `${node.html.slice(0, 120)} ${node.failureSummary.slice(0, 160)}`).join(" | ")}`),
  );
  if (found.length > 0) throw new Error(`${where}:\n        ${found.join("\n        ")}`);
}

async function every(world, size, scheme, language) {
  const page = await world.person({ size, scheme, language });
  await world.brew(page);
  const id = (await world.record("brew"))[0].thing_id;
  for (const path of [...pages, `brew/${id}`, `brew/${id}/reading`, `brew/${id}/look`]) {
    await world.at(page, path);
    await page.waitForTimeout(400);
    for (const fold of await page.locator("main details:not([open]) > summary").all()) if (await fold.isVisible()) await fold.click();
    for (let left = await page.locator(".why[aria-expanded=false]:visible").count(); left > 0; left--) await page.locator(".why[aria-expanded=false]:visible").first().click();
    await look(page, `${path}, ${size.width} px, ${scheme}, ${language}`);
  }
}

export async function by_day_on_a_phone(world) { await every(world, phone, "light", "en-GB"); }
export async function by_night_on_a_phone_in_spanish(world) { await every(world, phone, "dark", "es-CO"); }
export async function by_day_on_a_desk(world) { await every(world, desk, "light", "en-US"); }

export async function when_something_is_wrong(world) {
  const page = await world.person({ size: phone, scheme: "dark" });
  await world.plan(page);
  await page.getByText("Water", { exact: true }).first().click();
  await page.getByLabel("Water temperature", { exact: true }).fill("hot");
  await until(async () => (await page.locator(".refusal").count()) > 0, "a refusal");
  await look(page, "a refused plan");
  await page.getByLabel("Water temperature", { exact: true }).fill("19 °C");
  await until(async () => (await page.locator(".refusal").count()) === 0, "an answer");
  await world.stop();
  await page.getByRole("button", { name: "Brew this" }).click();
  await until(async () => /not sent yet/.test(await page.textContent("body")), "unsent entries");
  await look(page, "a brew that has not gone out");
  await page.getByRole("link", { name: "Look", exact: true }).click();
  await look(page, "what is unsent");
}
