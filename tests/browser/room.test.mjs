// A place that is warm by day and cool by night, told on the plan.
import { addressed, check, desk, equal, phone, until } from "./world.mjs";

const night = (page) => page.getByLabel("Coldest there at night", { exact: true });
const revision = (page) => page.locator(".plot-night").getAttribute("data-revision").then(Number);

export async function the_band_follows_a_cold_night(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  const before = await page.textContent(".rest");
  const drawn = await revision(page);
  await night(page).fill("3 °C");
  await until(async () => (await revision(page)) > drawn && (await page.textContent(".rest")) !== before, "another band");
  await addressed(page, (plan) => JSON.stringify(plan).includes('"3 °C"'), "the night");
  const other = await world.person({ size: desk });
  await other.goto(page.url());
  await other.waitForSelector(".plot-night[data-revision]");
  equal(await night(other).inputValue(), "3 °C", "the night travels in the address");
}

export async function a_night_warmer_than_the_day_is_refused_in_place(world) {
  const page = await world.person({ size: phone });
  await world.plan(page);
  await page.locator("summary", { hasText: "Vessel and air" }).click();
  await night(page).fill("300 °C");
  await until(async () => /45 °C/.test(await page.textContent(".plan")), "a value no room has");
  await night(page).fill("25 °C");
  await until(async () => /is warmer than the day/.test(await page.textContent(".plan")), "warmer than the day");
  check(await night(page).isVisible(), "the fold stays open under the hand");
  await night(page).fill("");
  await until(async () => !/is warmer than the day/.test(await page.textContent(".plan")), "empty is one temperature again");
}
