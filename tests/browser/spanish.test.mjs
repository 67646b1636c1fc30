// The Spanish phone at 360 px: all of it in Spanish, nothing runs off the side, every key is large enough.
import { readFileSync } from "node:fs";
import { check, desk, phone, until } from "./world.mjs";
import { pages } from "./pages.mjs";

/// What is too small to hit with a wet thumb.
const small = () =>
  [...document.querySelectorAll("main button, main a, main input, main select, main summary, nav a, header button")]
    .filter((each) => each.offsetParent !== null && !(each.type === "radio" || each.type === "checkbox"))
    .filter((each) => !(each.tagName === "A" && each.parentElement.matches("span, p, h2, li span")))
    .map((each) => ({ each, box: each.getBoundingClientRect() }))
    .filter(({ box }) => box.height < 44 || box.width < 44)
    .map(({ each, box }) => `${each.tagName} ${each.textContent.slice(0, 20)} ${Math.round(box.width)}x${Math.round(box.height)}`);

export async function every_page_fits_a_narrow_phone(world) {
  for (const [size, language] of [[phone, "es-CO"], [phone, "en-GB"], [desk, "es-CO"]]) {
    const page = await world.person({ size, language });
    if (size === phone && language === "es-CO") await world.brew(page);
    for (const path of [...pages, `brew/${(await world.record("brew"))[0].thing_id}`]) {
      await world.at(page, path);
      await page.waitForTimeout(250);
      for (const fold of await page.locator("main details:not([open]) > summary").all()) if (await fold.isVisible()) await fold.click();
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      check(wide <= 0, `${path} runs ${wide} px off the side at ${size.width}`);
      const tiny = await page.evaluate(small);
      check(tiny.length === 0, `${path}: too small: ${tiny.join(", ")}`);
    }
  }
}

export async function no_english_is_left(world) {
  const page = await world.person({ size: phone, language: "es-CO" });
  await world.brew(page);
  check((await page.evaluate(() => document.documentElement.lang)) === "es", "the page says it is Spanish");
  const english = [...readFileSync(new URL("../../web/src/words/en.ts", import.meta.url), "utf8").matchAll(/: "([^"{}]{12,})",$/gm)].map((each) => each[1]);
  check(english.length > 100, "texts were found");
  for (const path of [...pages, `brew/${(await world.record("brew"))[0].thing_id}`, `brew/${(await world.record("brew"))[0].thing_id}/reading`, `brew/${(await world.record("brew"))[0].thing_id}/look`]) {
    await world.at(page, path);
    await page.waitForTimeout(400);
    const text = await page.textContent("body");
    for (const each of english) check(!text.includes(each), `${path} says "${each}"`);
    check(!/\{\w+\}/.test(text), `${path} leaves a fact out`);
  }
}

export async function the_language_switches_with_the_answer(world) {
  const page = await world.person({ size: phone, language: "es-CO" });
  await world.plan(page);
  check(/tés como este|aguant|oxígeno/.test(await page.textContent("h1.sentence")), "the answer is in Spanish");
  await page.getByRole("button", { name: "English" }).click();
  await until(async () => /of 100 brews/.test(await page.textContent("h1.sentence")), "and in English");
}
