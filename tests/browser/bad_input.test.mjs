// Bad addresses, huge ones, and text that would like to be markup: a clear page, nothing lost.
import { addressed, check, desk, equal, until } from "./world.mjs";

export async function a_plan_travels_in_its_address(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  await page.getByLabel("Water temperature", { exact: true }).fill("23 °C");
  await page.getByLabel("Call it").fill('<img src=x onerror="document.title=1"> & "quotes" ñ 🌱');
  await addressed(page, (plan) => plan.water.temperature === "23 °C" && plan.brew.name.endsWith("🌱"), "both");
  const other = await world.person({ size: desk });
  await other.goto(page.url());
  await other.waitForSelector(".plot-night[data-revision]");
  equal(await other.getByLabel("Water temperature", { exact: true }).inputValue(), "23 °C", "the temperature came along");
  equal(await other.getByLabel("Call it").inputValue(), '<img src=x onerror="document.title=1"> & "quotes" ñ 🌱', "the name as written");
  equal(await other.locator("main img").count(), 0, "names are never markup");
  check(page.url().length < 1500, `an address of ${page.url().length} letters`);
}

export async function an_address_that_is_no_plan_says_so(world) {
  const page = await world.person({ size: desk });
  const bad = ["plan/zzzz", "plan/z", "plan/%00%ff", "plan/jeyJhIjoxfQ", `plan/z${"A".repeat(20_000)}`, "plan/x" + "é".repeat(50)];
  for (const path of bad) {
    await page.goto("about:blank");
    await page.goto(`${world.address}#/${path}`);
    await until(async () => /cannot be read|too long/.test((await page.textContent("main").catch(() => "")) ?? ""), `${path.slice(0, 20)} is told`);
  }
  await page.getByRole("button", { name: "Begin with the sample" }).click();
  await page.waitForSelector(".plot-night[data-revision]");
}

export async function a_small_address_that_swells_is_stopped(world) {
  const page = await world.person({ size: desk });
  await page.goto(world.address);
  const letters = await page.evaluate(async () => {
    const huge = new Blob([" ".repeat(3_000_000)]).stream().pipeThrough(new CompressionStream("deflate-raw"));
    const bytes = new Uint8Array(await new Response(huge).arrayBuffer());
    return btoa(String.fromCharCode(...bytes)).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
  });
  check(letters.length < 6000, "it would pass by its length");
  await page.goto("about:blank");
  await page.goto(`${world.address}#/plan/z${letters}`);
  await until(async () => /cannot be read/.test((await page.textContent("main").catch(() => "")) ?? ""), "it is told");
}

export async function an_unknown_page_or_brew_leads_on(world) {
  const page = await world.person({ size: desk });
  for (const path of ["nowhere", "brew/00000000-0000-7000-8000-000000000000", "brew/", "ask/record/add-nothing"]) {
    await world.at(page, path);
    await until(async () => (await page.getByRole("link", { name: "What is brewing now" }).count()) === 1, `${path} leads on`);
  }
}

export async function a_refusal_of_a_shared_plan_is_told_at_its_field(world) {
  const page = await world.person({ size: desk });
  await world.plan(page);
  await page.getByText("Where the garden is").click();
  await page.getByLabel("Time zone").fill("Mars/Olympus");
  await until(async () => (await page.getByLabel("Time zone").getAttribute("aria-invalid")) === "true", "the zone is refused");
  check((await page.locator(".plot-night canvas").count()) === 1, "the last night stays");
}

export async function an_address_without_a_page_says_so_and_leads_home(world) {
  const page = await world.person();
  for (const path of ["nowhere", "deep/er/nowhere"]) {
    const reply = await page.goto(world.address + path);
    check(reply.status() === 404, `${path}: ${reply.status()}`);
    await page.getByText(`There is nothing at /${path}.`).waitFor();
  }
  await page.getByRole("link", { name: "What is brewing now" }).click();
  await page.locator("nav").waitFor();
  check(new URL(page.url()).pathname === "/", page.url());
}

/// A server of the house often stands behind another, under a path it does not know of.
export async function an_address_without_a_page_keeps_its_style_behind_a_prefix(world) {
  const { createServer, request } = await import("node:http");
  const front = createServer((from, to) => {
    if (!from.url.startsWith("/garden/barm/")) return void to.writeHead(404).end();
    const asked = request({ host: "127.0.0.1", port: world.port, path: from.url.slice("/garden/barm".length), method: from.method, headers: { ...from.headers, host: `127.0.0.1:${world.port}` } }, (reply) => {
      to.writeHead(reply.statusCode, reply.headers);
      reply.pipe(to);
    });
    from.pipe(asked);
  });
  await new Promise((done) => front.listen(0, "127.0.0.1", done));
  try {
    const page = await world.person({ size: desk });
    const base = `http://127.0.0.1:${front.address().port}/garden/barm/`;
    for (const path of ["nowhere", "no/where", "no/where/at/all/"]) {
      await page.goto(base + path);
      await page.locator("h1.sentence").waitFor();
      check((await page.evaluate(() => getComputedStyle(document.querySelector("a.main")).backgroundColor)) !== "rgba(0, 0, 0, 0)", `${path} keeps its style`);
      check((await page.locator("p").first().textContent()).includes(path), "and says where one is");
    }
    await page.locator("a.main").click();
    await until(() => page.url() === `${base}#/now`, `home: ${page.url()}`);
    await page.waitForSelector("main h1");
  } finally {
    front.closeAllConnections();
    front.close();
  }
}
