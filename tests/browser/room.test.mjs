// A place that is warm by day and cool by night, told hour by hour on the plan.
import { check, desk, equal, phone, until } from "./world.mjs";

const day = Array.from({ length: 24 }, (_, hour) => `${hour >= 10 && hour < 20 ? 30 : 12} °C`);
const field = (page) => page.getByLabel("hour by hour", { exact: false });
const revision = (page) => page.locator(".plot-night").getAttribute("data-revision").then(Number);

export async function the_band_follows_a_place_told_by_the_hour(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  const before = await page.textContent(".rest");
  const drawn = await revision(page);
  await field(page).fill(day.join(", "));
  await until(async () => (await revision(page)) > drawn && (await page.textContent(".rest")) !== before, "another band");
  await page.waitForTimeout(800);
  const other = await world.person({ size: desk });
  await other.goto(page.url());
  await other.waitForSelector(".plot-night[data-revision]");
  equal(await field(other).inputValue(), day.join(", "), "the day travels in the address");
}

export async function a_day_of_three_hours_is_refused_in_place(world) {
  const page = await world.person({ size: phone });
  await world.plan(page);
  await page.locator("summary", { hasText: "Vessel and air" }).click();
  await field(page).fill("12 °C, 14 °C, 300 °C");
  await until(async () => /room\.by_hour|from -10/.test(await page.textContent(".plan")), "a value no room has");
  await field(page).fill("12 °C, 14 °C, 13 °C");
  await until(async () => /a day has 24 hours/.test(await page.textContent(".plan")), "three are no day");
  check(await field(page).isVisible(), "the fold stays open under the hand");
  await field(page).fill("");
  await until(async () => !/a day has 24 hours/.test(await page.textContent(".plan")), "empty is one temperature again");
}
