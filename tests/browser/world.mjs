// What a test stands in: a server with a record of its own, a browser, and phones and desks that look at it.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { inflateRawSync } from "node:zlib";
import { chromium } from "playwright-core";

export const phone = { width: 360, height: 740 };
export const desk = { width: 1440, height: 900 };
const zone = "America/Bogota";

export function check(holds, what) {
  if (!holds) throw new Error(what);
}
export function equal(found, wanted, what) {
  if (found !== wanted) throw new Error(`${what}: ${JSON.stringify(found)} instead of ${JSON.stringify(wanted)}`);
}
/// Waits until something holds; the last value when it does.
export async function until(ask, what, patience_ms = 15_000) {
  const end = Date.now() + patience_ms;
  for (;;) {
    const told = await ask();
    if (told) return told;
    if (Date.now() > end) throw new Error(`waited in vain: ${what}`);
    await new Promise((done) => setTimeout(done, 100));
  }
}

/// The plan a page's address holds, once it fits what is wanted of it.
export async function addressed(page, fits, what) {
  return until(() => {
    const letters = page.url().match(/#\/plan\/z([\w-]+)$/)?.[1];
    const plan = letters && JSON.parse(inflateRawSync(Buffer.from(letters, "base64url")));
    return plan && fits(plan) ? plan : undefined;
  }, `the address holds ${what}`);
}

export class World {
  constructor(barm) {
    this.barm = barm;
    this.folder = mkdtempSync(join(tmpdir(), "barm-browser-"));
    this.port = 0;
    this.said = "";
    this.faults = [];
  }

  /// Starts the server; again on the same port and record after `stop`.
  async serve() {
    this.server = spawn(this.barm, ["serve", "--port", String(this.port), "--store", join(this.folder, "record.sqlite")], { stdio: ["ignore", "pipe", "pipe"] });
    let told = "";
    const hear = (text) => { told += text; this.said += text; };
    this.server.stdout.on("data", hear);
    this.server.stderr.on("data", hear);
    const address = await until(() => {
      if (this.server.exitCode !== null) throw new Error(`the server ended: ${told}`);
      return told.match(/http:\/\/[\d.]+:(\d+)\//);
    }, "the server's address");
    this.port = Number(address[1]);
    this.address = `http://127.0.0.1:${this.port}/`;
  }
  /// Gone at once, as when the power fails.
  async stop(signal = "SIGKILL") {
    const gone = new Promise((done) => this.server.once("exit", done));
    this.server.kill(signal);
    await gone;
  }

  async browse() {
    this.browser = await chromium.launch({
      executablePath: process.env.BARM_CHROMIUM ?? "/usr/bin/chromium",
      args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
    });
  }
  /// A person with a device of their own. Whatever the page complains of fails the test, but for a network that is gone.
  async person({ size = desk, language = "en-GB", scheme = "light", ...more } = {}) {
    const context = await this.browser.newContext({ viewport: size, locale: language, colorScheme: scheme, timezoneId: zone, hasTouch: size.width < 600, ...more });
    const page = await context.newPage();
    page.setDefaultTimeout(15_000);
    page.on("pageerror", (why) => this.faults.push(why.message));
    page.on("console", (line) => {
      if (line.type() === "error" && !/ERR_|Failed to load resource/.test(line.text())) this.faults.push(line.text());
    });
    this.page = page;
    return page;
  }
  /// A page of the screens, drawn.
  async at(page, path = "") {
    await page.goto(`${this.address}#/${path}`);
    await page.waitForSelector("main h1, main .sentence");
  }
  /// The plan with its night drawn.
  async plan(page, path = "plan") {
    await this.at(page, path);
    await page.waitForSelector(".plot-night[data-revision]");
  }
  /// What the record holds, asked past the screens.
  async record(kind, more = {}) {
    const reply = await fetch(`${this.address}api/record/list`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ kind, ...more }) });
    if (!reply.ok) return [];
    return (await reply.json()).entries.map((entry) => ({ ...entry, values: JSON.parse(entry.line) }));
  }
  /// A brew begun from the sample, and its page opened.
  async brew(page) {
    await this.plan(page);
    await page.getByRole("button", { name: /^(Brew this|Preparar este)$/ }).click();
    await page.waitForSelector(".brew .plot-night[data-revision], .brew .plot-night canvas");
    await until(async () => (await this.record("brew")).length > 0, "the brew in the record");
    return page.url();
  }

  async close() {
    await this.browser?.close();
    if (this.server && this.server.exitCode === null && this.server.signalCode === null) await this.stop("SIGTERM");
    rmSync(this.folder, { recursive: true, force: true });
  }
}
