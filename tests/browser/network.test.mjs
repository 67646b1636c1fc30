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
