// The guided re-aeration test: readings entered by hand while the water fills give the transfer they were made with.
import { check, phone, until } from "./world.mjs";

export async function the_fit_finds_the_transfer_and_the_plan_takes_it(world) {
  const page = await world.person({ size: phone });
  await page.clock.install();
  await world.at(page, "gear/test");
  await page.getByLabel("Water temperature", { exact: true }).fill("20 °C");
  await page.getByRole("button", { name: "Air is on: begin" }).click();
  // C = C* − (C* − C0) exp(−KLa t) with KLa 12 per hour, C* 9 and C0 1 mg/L: the equation of S14 (docs/sources.md).
  for (let minute = 1; minute <= 14; minute++) {
    await page.clock.runFor(60_000);
    await page.getByLabel("Oxygen", { exact: true }).fill((9 - 8 * Math.exp((-12 * minute) / 60)).toFixed(2));
    await page.getByRole("button", { name: `Keep reading ${minute}` }).click();
  }
  const said = await until(async () => { await page.clock.runFor(500); const all = await page.locator(".page .sentence").allTextContents(); return all.length > 1 && all[1]; }, "a fit");
  const kla = Number(said.match(/: ([\d.]+) per hour/)[1]);
  // Times are entered to the second and oxygen to 0.01 mg/L; the test's own scatter is far below 5 %.
  check(Math.abs(kla - 12) < 0.6, `KLa ${kla} instead of 12 per hour`);
  await page.getByRole("button", { name: "Plan with it" }).click();
  await page.clock.runFor(1000);
  await page.waitForSelector(".plot-night[data-revision]");
  await page.getByText("Vessel and air").click();
  check(/^1[12]/.test(await page.getByLabel("Oxygen transfer of your own test (KLa)").inputValue()), "the plan has it");
}
