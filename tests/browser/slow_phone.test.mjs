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
  // To pack the plan into its address takes as long as the test says.
  await page.addInitScript(() => {
    const read = ReadableStreamDefaultReader.prototype.read;
    let gate = Promise.resolve();
    let waiting = 0;
    let open;
    window.packing = {
      hold: () => { gate = new Promise((done) => { open = done; }); },
      release: () => open(),
      waits: () => waiting > 0,
    };
    ReadableStreamDefaultReader.prototype.read = async function () {
      waiting++;
      await gate;
      waiting--;
      return read.call(this);
    };
  });
  await world.plan(page);
  await until(async () => /#\/plan\/z/.test(page.url()), "the sample's address");
  await page.getByText("Vessel and air").click();
  await page.evaluate(() => window.packing.hold());
  const before = page.url();
  await page.getByLabel("Width of the vessel, slider").press("ArrowRight");
  await until(async () => page.evaluate(() => window.packing.waits()), "the address being written");
  check(page.url() === before, "the address is still being written");
  await page.getByRole("button", { name: "Brew this" }).click();
  await until(async () => /#\/brew\//.test(page.url()), "the brew's page");
  await page.evaluate(() => window.packing.release());
  await page.waitForTimeout(2000);  // the plan's own address would be written within this
  check(!await page.evaluate(() => window.packing.waits()), "the address was packed");
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
