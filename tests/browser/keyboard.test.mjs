// Without a mouse: everything is reached, seen to be reached, and done with keys.
import { check, desk, equal, until } from "./world.mjs";

/// Presses Tab until something has the focus.
async function tabTo(page, holds, what, most = 120) {
  for (let presses = 0; presses < most; presses++) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(holds)) return;
  }
  throw new Error(`not reached by Tab: ${what}`);
}

export async function a_plan_is_changed_and_begun_with_keys(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  await page.keyboard.press("Tab");
  equal(await page.evaluate(() => document.activeElement.className), "skip", "the first key skips to the page");
  await page.keyboard.press("Enter");
  equal(await page.evaluate(() => document.activeElement.id), "content", "and it does");
  await tabTo(page, () => /Water temperature, slider/.test(document.activeElement.getAttribute("aria-label") ?? ""), "the slider");
  const outline = await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle);
  check(outline !== "none", "the focus is seen");
  const before = await page.getByLabel("Water temperature", { exact: true }).inputValue();
  for (let presses = 0; presses < 20; presses++) await page.keyboard.press("ArrowRight");
  check((await page.getByLabel("Water temperature", { exact: true }).inputValue()) !== before, "arrows move it");
  await tabTo(page, () => document.activeElement.textContent === "Brew this", "Brew this");
  await page.keyboard.press("Enter");
  await page.waitForSelector(".brew");
  await tabTo(page, () => document.activeElement.textContent === "Log a reading", "Log a reading");
  await page.keyboard.press("Enter");
  await tabTo(page, () => document.activeElement.closest(".field")?.textContent.startsWith("Oxygen") && document.activeElement.type === "text", "oxygen");
  await page.keyboard.type("8.2");
  await page.keyboard.press("Enter");
  await until(async () => (await world.record("reading")).length === 1, "the reading is kept");
}

export async function pictures_say_the_same_in_words_and_in_a_table(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  const label = await page.getAttribute(".plot-night", "aria-label");
  check(/Oxygen is lowest about \w+ \d\d:\d\d: [\d.]+ mg\/L/.test(label), `in words: ${label}`);
  await page.getByText("The night in figures, mg/L").first().click();
  check((await page.locator(".wide table tbody tr").count()) >= 6, "in a table");
  check((await page.getAttribute(".plot-life", "aria-label")).includes("indicative"), "fungi are indicative in words too");
}

export async function stillness_is_honoured(world) {
  const page = await world.person({ size: desk, reducedMotion: "reduce" });
  await world.plan(page);
  const moving = await page.evaluate(() => [...document.querySelectorAll("*")].filter((each) => getComputedStyle(each).transitionDuration !== "0s" || getComputedStyle(each).animationName !== "none").length);
  equal(moving, 0, "things that move");
}
