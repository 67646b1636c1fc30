// A newcomer's first minute: no account, no form, no manual.
import { check, desk, phone, until } from "./world.mjs";

export async function a_newcomer_sees_a_forecast_at_once(world) {
  const page = await world.person({ size: phone });
  await page.goto(world.address);
  await page.waitForSelector(".plot-night[data-revision]");
  check((await page.textContent("h1.sentence")).length > 20, "a sentence");
  check(/of 100/.test(await page.textContent(".froth figcaption")), "the odds in words");
  check((await page.locator(".amounts tbody tr").count()) >= 4, "amounts to measure out");
  check(/Local codes/.test(await page.textContent(".rest")), "cautions");
}

export async function three_steps_make_ones_own_plan(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  await page.getByRole("button", { name: "Plan your own in three steps" }).click();
  await page.getByText("A drum, 190 L").click();
  await page.getByRole("button", { name: "Next" }).click();
  await page.getByText("The whole surface rolls").click();
  await page.getByRole("button", { name: "Next" }).click();
  await page.getByText("Compost only").click();
  await page.getByRole("button", { name: "Show me the night" }).click();
  await until(async () => /190 L/.test((await page.textContent(".amounts").catch(() => "")) ?? ""), "the drum's amounts");
  check((await page.locator(".refusal").count()) === 0, "nothing is refused");
}

export async function a_mend_is_one_tap_away(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  const before = await page.textContent("h1.sentence");
  await page.locator(".mend").first().click();
  await until(async () => (await page.textContent("h1.sentence")) !== before, "another sentence");
  check(/Likely to hold/.test(await page.textContent("h1.sentence")), `mended: ${await page.textContent("h1.sentence")}`);
}

export async function every_number_says_why(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  for (const why of await page.locator(".rest .why").all()) {
    await why.click();
    await until(async () => (await why.getAttribute("aria-expanded")) === "true", "the reason opens");
  }
  const reasons = await page.locator(".reason").allTextContents();
  check(reasons.length >= 7, `${reasons.length} reasons`);
  await until(async () => (await page.locator(".reason").allTextContents()).every((text) => !text.includes("…")), "every source is named");
}
