// What the rules call the tea of a plan, and what could grow in it (docs/rule/class.md, docs/rule/contaminant.md).
import { check, phone, until } from "./world.mjs";

const rules = (page) => page.locator("#rules");

/// 21 CFR 112.51(b)(5): with food a tea that holds anything of animal origin is untreated.
export async function food_forbids_it_on_crops_and_one_tap_leaves_it_out(world) {
  const page = await world.person({ size: phone });
  await world.plan(page);
  await rules(page).waitFor();
  check(/may not touch crops people eat/.test(await rules(page).textContent()), "what is forbidden");
  check(/112\.51\(b\)/.test(await rules(page).textContent()), "the clause");
  const [above, below] = [await rules(page).boundingBox(), await page.locator(".figures").first().boundingBox()];
  check(above.y < below.y, "what is forbidden stands before the figures");
  check((await page.getByText("may not touch crops people eat").count()) === 1, "it is said once");
  await rules(page).getByRole("button", { name: /Leave all food out/ }).click();
  await until(async () => !/molasses/.test(await page.locator(".amounts").textContent()), "no molasses to measure out");
  check((await rules(page).getByRole("button", { name: /Leave all food out/ }).count()) === 0, "nothing left to leave out");
}

/// 21 CFR 112.54(b) compost, tested water and no food: it may go on crops, and steps back among the details.
export async function what_is_told_of_compost_and_water_changes_the_class(world) {
  const page = await world.person({ size: phone });
  await world.plan(page);
  await rules(page).getByRole("button", { name: /Leave all food out/ }).click();
  await until(async () => /Not told yet/.test(await rules(page).textContent()), "what is missing");
  const facts = {
    "Anything of animal origin in the compost or food": "yes", "How the compost was treated": "composted",
    "Compost touched raw material afterwards": "no", "Where the water comes from": "municipal",
    "A test found E. coli in 100 mL of the water": "no", "Touches crops people eat while it is applied": "minimised",
    "Touches crops people eat afterwards (splash, wet soil)": "minimised",
  };
  for (const [label, value] of Object.entries(facts)) {
    const asked = page.getByLabel(label);
    if (!(await asked.isVisible())) await rules(page).locator("summary").click();
    await asked.selectOption(value);
    await until(async () => (await asked.inputValue()) === value, label);
  }
  await until(async () => /counts as treated by composting/.test(await rules(page).textContent()), "the class");
  const [figures, below] = [await page.locator(".figures").first().boundingBox(), await rules(page).boundingBox()];
  check(below.y > figures.y, "allowed, it stands among the details");
}

export async function what_could_grow_only_raises_caution(world) {
  const page = await world.person({ size: phone });
  await world.plan(page);
  const part = page.locator("#could-grow");
  await part.waitFor();
  check(/[Ii]ndicative/.test(await part.textContent()), "indicative");
  check(/Only a laboratory/.test(await part.textContent()), "who can tell");
  const said = await page.textContent("main");
  check(!/\bsafe\b|pathogen-free/i.test(said), "no word of a result that nobody measured");
}
