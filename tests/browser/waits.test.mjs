// What the rules say of beds and of the record: waits, tests, the inspector's pack, and which rules a garden keeps to.
// Rows: 7 CFR 205.203(c)(1) asks for no days after compost; 21 CFR 112.56(a)(1)(i) leaves its number open.
import { readFileSync } from "node:fs";
import { check, desk, equal, phone, until } from "./world.mjs";

const day = 24 * 3_600_000;
const iso = (at) => new Date(at).toISOString().replace(/\.\d+Z/, "+00:00");

async function season(world) {
  const add = async (kind, fields) => {
    const reply = await fetch(`${world.address}api/record/add-${kind}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(fields) });
    check(reply.ok, `${kind}: ${await reply.clone().text()}`);
    return (await reply.json()).id;
  };
  const garden = await add("garden", { name: "Quince Row", zone: "UTC" });
  const vessel = await add("vessel", { garden, name: "Blue bucket", volume: "20 L" });
  const bed = await add("bed", { garden, name: "Beans", area: "12 m2", crop: "beans" });
  const lot = await add("compost-lot", { garden, name: "Heap", origin: "made_here", animal_origin: "manure", method: "windrow", mass: "20 kg" });
  const brew = await add("brew", { garden, vessel, name: "Friday's tea", volume: "19 L", air_on_at: iso(Date.now() - 3 * day) });
  await add("mix", { into: brew, part: lot, at: iso(Date.now() - 3 * day), mass: "700 g" });
  await add("application", { bed, brew, at: iso(Date.now() - 2 * day), volume: "10 L", method: "drench" });
  await add("harvest", { bed, at: iso(Date.now() - day / 2), crop: "beans", mass: "2 kg", mark: "H-7" });
  return { garden, brew, add };
}

export async function a_bed_says_how_long_to_wait_and_by_which_clause(world) {
  await season(world);
  const page = await world.person({ size: phone });
  await world.at(page, "beds");
  await until(async () => /has set no number: no day can be told/.test(await page.textContent("main")), "a number the law leaves open is not made up");
  check(/After Friday's tea, put on (Mon|Tue|Wed|Thu|Fri|Sat|Sun)\u00a0\d+\u00a0[A-Z][a-z]+/.test(await page.textContent("main")), "after which tea, and on which day");
  check(!/\d{4}-\d\d-\d\d/.test(await page.textContent("main")), "days are told as everywhere");
  await page.locator("summary", { hasText: "By which rules" }).click();
  check(/21 CFR 112\.56\(a\)\(1\)\(i\)/.test(await page.textContent(".fold-inside")), "the clause");
  check(/not known/.test(await page.textContent(".fold-inside")), "what is not known of it");
  check(/licensed advice/.test(await page.textContent("main")), "who has the last word");
  await world.stop();
  await page.reload();
  await until(async () => /these waits are the last known/.test(await page.textContent("main")), "out of reach the last known stand");
  check(/has set no number/.test(await page.textContent("main")), "with their words");
}

/// The organic task force of 2004: 120 days after a tea with food that nobody tested, where the edible part touches soil.
export async function the_earliest_day_is_told_as_days_are_in_both_languages(world) {
  const { garden, brew, add } = await season(world);
  const food = await add("food-lot", { garden, name: "Can", food: "blackstrap molasses" });
  await add("mix", { into: brew, part: food, at: iso(Date.now() - 3 * day), volume: "0.1 L" });
  const bed = await add("bed", { garden, name: "Lettuce", part_eaten: "leaf" });
  await add("application", { bed, brew, at: iso(Date.now() - 2 * day), volume: "10 L", method: "drench" });
  for (const [language, said] of [["en-GB", /no earlier than (Mon|Tue|Wed|Thu|Fri|Sat|Sun)\u00a0\d+\u00a0[A-Z][a-z]+/], ["es", /no antes del (Lun|Mar|Mié|Jue|Vie|Sáb|Dom)\u00a0\d+\u00a0[a-z]+/]]) {
    const page = await world.person({ size: phone, language });
    await world.at(page, "beds");
    await until(async () => said.test(await page.textContent("main")), `the day, ${language}`);
    check(!/\d{4}-\d\d-\d\d/.test(await page.textContent("main")), "no day in figures");
  }
}

/// 21 CFR 112.44(a), 112.51(a): none of E. coli in 100 mL.
export async function the_tests_owed_count_what_the_record_keeps(world) {
  const { garden, add } = await season(world);
  const water_source = await add("water-source", { garden, name: "Well", type: "well" });
  const page = await world.person({ size: phone });
  await world.at(page, "record");
  const part = page.locator("#tests");
  await until(async () => /holds no result of these tests/.test(await part.textContent()), "nothing yet, plainly");
  await add("water-test", { water_source, at: "2026-04-28T10:00:00+00:00", e_coli_per_100_ml: 7 });
  await page.reload();
  await until(async () => /Results in the record: 1; 1 of them count here/.test(await part.textContent()), "the one there is");
  await part.locator("summary").click();
  check(/Well, Tue\u00a028\u00a0Apr: 7 CFU\/100 mL/.test(await part.textContent()), `which one: ${await part.textContent()}`);
  await part.getByLabel("Results of").selectOption({ label: "Compost: Heap" });
  await until(async () => /holds no result of these tests/.test(await part.textContent()), "of the heap there is none");
}

export async function the_inspector_gets_a_table_and_a_print(world) {
  await season(world);
  const page = await world.person({ size: desk, acceptDownloads: true });
  await world.at(page, "record");
  const part = page.locator("#pack");
  await part.getByLabel("From", { exact: true }).fill("2030-01-01");
  await part.getByRole("button", { name: "As a table (CSV)" }).click();
  await part.locator(".refusal").waitFor();
  await part.getByLabel("From", { exact: true }).fill("2020-01-01");
  const [table] = await Promise.all([page.waitForEvent("download"), part.getByRole("button", { name: "As a table (CSV)" }).click()]);
  const csv = readFileSync(await table.path(), "utf8");
  check(/^section,at,thing,text,status,verdict,facts/.test(csv), `a table: ${csv.slice(0, 80)}`);
  check(/Beans/.test(csv) && /Heap/.test(csv), "the bed and the lot");
  await until(async () => /1 uses?\. Rules met: \d+; not met: \d+; cannot tell: \d+\. Every seal/.test(await part.textContent()), "what is in it");
  await part.getByLabel("For", { exact: true }).selectOption({ index: 1 });
  const [print] = await Promise.all([page.waitForEvent("download"), part.getByRole("button", { name: "To print (PDF)" }).click()]);
  equal(readFileSync(await print.path()).subarray(0, 5).toString(), "%PDF-", "a PDF");
}

export async function a_garden_chooses_its_rules_and_every_screen_holds_to_them(world) {
  await season(world);
  const page = await world.person({ size: phone });
  await world.at(page, "record");
  const kept = page.locator("#kept-to");
  await until(async () => /112\.55/.test(await page.locator("#tests").textContent()), "tests of the rules usually kept to");
  for (const name of [/safety of produce/, /organic/]) await kept.getByLabel(name).uncheck();
  await kept.getByLabel("United Kingdom").check();
  await until(async () => (await world.record("garden")).at(-1).values.rules === "uk", "kept in the record");
  await until(async () => !/112\.55/.test(await page.locator("#tests").textContent()), "other rules ask for other tests");
  await world.at(page, "beds");
  await until(async () => /After Friday's tea/.test(await page.textContent("main")), "the bed");
  check(!/21 CFR/.test(await page.textContent("main")), "no clause of another country");
  await world.plan(page);
  await page.locator(".rest").waitFor();
  equal(await page.locator("#rules").count(), 0, "and the plan tells no class of another country");
}
