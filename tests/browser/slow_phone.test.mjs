// An old phone, eight times as slow: whoever goes on before it is done is not called back, and nothing done is lost.
import { check, phone, until } from "./world.mjs";

async function slow(world) {
  const page = await world.person({ size: phone });
  const session = await page.context().newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: 8 });
  return page;
}

export async function a_brew_begun_at_once_stays_in_view(world) {
  const page = await slow(world);
  // To pack the plan into its address takes a second and a half.
  await page.addInitScript(() => {
    const read = ReadableStreamDefaultReader.prototype.read;
    ReadableStreamDefaultReader.prototype.read = async function () {
      await new Promise((done) => setTimeout(done, 750));
      return read.call(this);
    };
  });
  await world.plan(page);
  const before = page.url();
  await page.locator('input[type="range"]').first().press("ArrowRight");
  await page.waitForTimeout(600);
  check(page.url() === before, "the address is still being written");
  await page.getByRole("button", { name: "Brew this" }).click();
  await until(async () => /#\/brew\//.test(page.url()), "the brew's page");
  await page.waitForTimeout(3000);  // the plan's own address is written within this
  check(/#\/brew\//.test(page.url()), `thrown back to ${page.url()}`);
}

export async function a_tick_is_kept_though_the_page_goes_at_once(world) {
  const page = await slow(world);
  await world.brew(page);
  await page.getByRole("button", { name: "The air is on now" }).click();
  const row = page.locator(".to-tick li").first();
  const text = await row.locator("span").textContent();
  await row.locator("input").check();
  await page.reload();
  const again = page.locator(".to-tick li").filter({ hasText: text.slice(0, 20) }).first().locator("input");
  await until(async () => again.isChecked(), "the tick is still there");
}
