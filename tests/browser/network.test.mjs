// A patchy network: nothing entered is lost, and it arrives once, in order.
import { check, equal, phone, until } from "./world.mjs";

async function log(page, oxygen) {
  await page.getByRole("link", { name: "Log a reading" }).first().click();
  await page.getByLabel("Oxygen", { exact: true }).fill(oxygen);
  await page.getByRole("button", { name: "Keep it" }).click();
  await page.waitForSelector(".logged");
}
const oxygens = async (world) => (await world.record("reading")).map((each) => each.values.oxygen_mg_per_l);

export async function a_server_that_stops_mid_entry_loses_nothing(world) {
  const page = await world.person({ size: phone });
  await world.brew(page);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.getByRole("link", { name: "Log a reading" }).click();
  await page.getByLabel("Oxygen", { exact: true }).fill("7.9");
  await world.stop();
  await page.getByRole("button", { name: "Keep it" }).click();
  await until(async () => /1 entry not sent yet/.test(await page.textContent("body")), "it says what is unsent");
  check(/7\.9 mg\/L/.test(await page.locator(".logged").textContent()), "the entry is shown");
  await log(page, "7.8");
  await page.reload();
  await until(async () => /2 not sent yet/.test(await page.textContent("body")), "a reload without a server loses nothing");
  check(/7\.9 mg\/L/.test(await page.locator(".logged").textContent()), "both are shown");
  await log(page, "7.7");
  await world.serve();
  await until(async () => !/not sent yet/.test(await page.textContent("body")), "all of it goes out by itself", 40_000);
  equal(JSON.stringify(await oxygens(world)), "[7.9,7.8,7.7]", "once each, in order");
}

export async function an_answer_that_is_lost_does_not_double_an_entry(world) {
  const page = await world.person({ size: phone });
  await world.brew(page);
  let lost = 0;
  await page.route("**/api/record/add-reading", async (route) => {
    if (lost++ > 0) return route.continue();
    await route.fetch();          // it arrives, and the answer does not come back
    return route.abort("connectionreset");
  });
  await log(page, "8.3");
  await until(async () => lost >= 2 && !/not sent yet/.test(await page.textContent("body")), "sent again");
  equal(JSON.stringify(await oxygens(world)), "[8.3]", "kept once");
}

export async function a_brew_can_be_begun_without_a_network(world) {
  const page = await world.person({ size: phone });
  await world.plan(page);
  await world.stop();
  await page.getByRole("button", { name: "Brew this" }).click();
  await until(async () => /not sent yet/.test(await page.textContent("body")), "it waits");
  await until(async () => /A first bucket/.test(await page.textContent(".brew").catch(() => "")), "and is shown");
  await log(page, "8.0");
  await world.serve();
  await until(async () => !/not sent yet/.test(await page.textContent("body")), "it goes out", 40_000);
  equal((await world.record("brew")).length, 1, "brews");
  equal((await world.record("garden")).length, 1, "gardens");
  equal(JSON.stringify(await oxygens(world)), "[8]", "readings");
}

export async function two_phones_at_one_brew_merge(world) {
  const ana = await world.person({ size: phone });
  const address = await world.brew(ana);
  const luis = await world.person({ size: phone });
  await luis.goto(address);
  await luis.waitForSelector(".logged, .brew");
  await log(ana, "8.4");
  await until(async () => /8\.4 mg\/L/.test(await luis.textContent(".brew")), "the other phone sees it by itself");
  await world.stop();
  await log(ana, "8.2");
  await log(luis, "8.1");
  await world.serve();
  for (const page of [ana, luis]) {
    await until(async () => { const text = await page.textContent(".brew"); return /8\.2 mg\/L/.test(text) && /8\.1 mg\/L/.test(text); }, "both readings on both phones", 40_000);
  }
  equal((await oxygens(world)).length, 3, "readings kept");
}

export async function what_the_server_refuses_is_told_and_kept_here(world) {
  const page = await world.person({ size: phone });
  await world.brew(page);
  await page.route("**/api/record/add-reading", (route) => route.fulfill({ status: 400, contentType: "application/json", body: JSON.stringify({ refusals: [{ code: "records.x", field: "oxygen", text: "Oxygen of 99 mg/L cannot be.", next: "Read it again." }] }) }));
  await log(page, "8.0");
  await until(async () => /refused by the server/.test(await page.textContent("body")), "it says so");
  await page.getByRole("link", { name: "Look", exact: true }).click();
  await until(async () => /Oxygen of 99 mg\/L cannot be\. Read it again\./.test(await page.textContent("main")), "with the reason");
  await page.getByRole("button", { name: "Take it out" }).click();
  await until(async () => /Everything has gone out/.test(await page.textContent("main")), "and it can be taken out");
}

export async function air_on_a_correction_and_air_off_wait_for_the_network(world) {
  const page = await world.person({ size: phone });
  await world.brew(page);
  await log(page, "8.6");
  await until(async () => (await world.record("reading")).length === 1, "the reading in the record");
  await world.stop();
  await page.getByRole("button", { name: "The air is on now" }).click();
  await until(async () => (await page.getByRole("button", { name: "The air is on now" }).count()) === 0, "the brew runs at once");
  await log(page, "8.5");
  await page.locator(".logged li", { hasText: "8.6 mg/L" }).getByRole("button", { name: "put right" }).click();
  await page.getByRole("button", { name: "Put it right" }).click();
  await until(async () => /Write the value it should be/.test(await page.textContent(".logged")), "a correction without a value is refused in place");
  await page.getByLabel("Oxygen should be").fill("6.8");
  await page.getByLabel("Why", { exact: true }).fill("read upside down");
  await page.getByRole("button", { name: "Put it right" }).click();
  await until(async () => /6\.8 mg\/L/.test(await page.textContent(".logged")) && /read upside down/.test(await page.textContent(".logged")), "shown with what it was");
  await page.getByText("Finish", { exact: true }).click();
  await page.getByRole("button", { name: "The air is off" }).click();
  await until(async () => /The air is off\. Use it at once/.test(await page.textContent(".brew")), "finished");
  await until(async () => /4 not sent yet/.test(await page.textContent("body")), "all of it waits");
  await page.reload();
  await until(async () => /4 not sent yet/.test(await page.textContent("body")) && /6\.8 mg\/L/.test(await page.textContent(".logged")), "a reload loses nothing");
  await world.serve();
  await until(async () => !/not sent yet/.test(await page.textContent("body")), "it goes out", 40_000);
  equal(JSON.stringify((await oxygens(world)).sort()), "[6.8,8.5]", "the value put right");
  const [brew] = await world.record("brew");
  check(brew.values.air_off_at !== undefined && Date.parse(brew.values.air_on_at) < Date.now(), "air on and off");
  equal((await world.record("reading", { history: true })).length, 3, "the old value stays in the record");
  check(/8\.6/.test(await page.textContent(".logged")) && /read upside down/.test(await page.textContent(".logged")), "and on the screen");
}

export async function ticks_are_shared_and_stay_with_their_step(world) {
  const ana = await world.person({ size: phone });
  const address = await world.brew(ana);
  const luis = await world.person({ size: phone });
  await luis.goto(address);
  await luis.waitForSelector(".to-tick input");
  const ticked = (page) => page.locator(".to-tick li:has(input:checked) span").allTextContents();
  const foods = "Pour the foods in.";
  await ana.locator(".to-tick li", { hasText: foods }).locator("input").check();
  await until(async () => (await ticked(luis)).join() === foods, "the other phone sees the tick");
  await world.stop();
  await luis.getByRole("button", { name: "The air is on now" }).click();  // steps before it move or go
  await until(async () => (await luis.getByRole("button", { name: "The air is on now" }).count()) === 0, "the brew runs");
  await luis.locator(".to-tick li").last().locator("input").check();
  const last = await luis.locator(".to-tick li span").last().textContent();
  await world.serve();
  await until(async () => (await ticked(ana)).join() === [foods, last].join(), `both ticks on both phones, each on its own step: ${await ticked(ana)}`, 40_000);
  equal((await ticked(luis)).join(), [foods, last].join(), "here too");
  await ana.locator(".to-tick li", { hasText: foods }).locator("input").uncheck();
  await until(async () => (await ticked(luis)).join() === last, "taken back on both");
}
