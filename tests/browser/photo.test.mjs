// A photo of a brew: taken with the phone, made small, kept, shown on another phone; without a network too; and what is
// no picture.
import { check, equal, phone, until } from "./world.mjs";

/// A picture far larger than the record takes, made in the browser: noise does not compress.
const large = (page) => page.evaluate(async () => {
  const canvas = new OffscreenCanvas(2400, 1800);
  const context = canvas.getContext("2d");
  const noise = context.createImageData(2400, 1800);
  let seed = 1;
  for (let at = 0; at < noise.data.length; at++) noise.data[at] = at % 4 === 3 ? 255 : (seed = (seed * 48271) % 2147483647) % 256;
  context.putImageData(noise, 0, 0);
  const bytes = new Uint8Array(await (await canvas.convertToBlob({ type: "image/png" })).arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
});
const choose = (page, buffer, name = "IMG_1.png", mimeType = "image/png") => page.locator('input[type="file"]').setInputFiles({ name, mimeType, buffer });
const drawn = (page) => page.locator(".logged img.photo").first().evaluate((img) => img.complete && img.naturalWidth).catch(() => 0);

export async function a_photo_is_made_small_kept_offline_and_shared(world) {
  const page = await world.person({ size: phone });
  const address = await world.brew(page);
  equal(await page.locator('input[type="file"]').count(), 0, "photos are taken where looks are entered");
  await page.getByRole("link", { name: "Smell, foam, look" }).click();
  equal(await page.locator('input[type="file"]').getAttribute("capture"), "environment", "the camera opens");
  const bytes = Buffer.from(await large(page), "base64");
  check(bytes.length > 5_000_000, `a large picture: ${bytes.length}`);
  await choose(page, bytes);
  await page.getByAltText("The photo just taken").waitFor();
  check((await page.evaluate(() => document.documentElement.scrollWidth)) <= 360, "nothing sticks out of the phone");
  await page.getByText("thick", { exact: true }).click();
  await world.stop();
  await page.getByRole("button", { name: "Keep it" }).click();
  await until(async () => (await drawn(page)) > 200, "it is shown before it has gone out");
  await until(async () => /2 not sent yet/.test(await page.textContent("body")), "the look and its photo wait");
  await page.reload();
  await until(async () => (await drawn(page)) > 200, "a reload loses nothing");
  await world.serve();
  await until(async () => !/not sent yet/.test(await page.textContent("body")), "it goes out", 40_000);
  const [photo] = await world.record("photo");
  const [look] = await world.record("observation");
  equal(photo.values.observation, look.values.id, "attached to what was seen");
  check(photo.values.image === undefined, "lists leave the picture out");
  const reply = await fetch(`${world.address}api/record/photo`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ id: photo.id }) });
  const kept = await reply.json();
  equal(kept.type, "image/jpeg", "type");
  check(Buffer.from(kept.image, "base64").length <= 160_000, "small enough");
  const other = await world.person({ size: phone });
  await other.goto(address);
  await until(async () => (await drawn(other)) > 200, "on the other phone too");
  check(/Photo of the brew/.test(await other.locator(".logged img.photo").getAttribute("alt")), "with words beside it");
}

export async function what_is_no_picture_is_not_taken_for_one(world) {
  const page = await world.person({ size: phone });
  await world.brew(page);
  const [brew] = await world.record("brew");
  await page.getByRole("link", { name: "Smell, foam, look" }).click();
  await choose(page, Buffer.from("<svg xmlns='http://www.w3.org/2000/svg'><script>document.title='owned'</script></svg>"), "foam.jpg", "image/jpeg");
  await page.getByText("That is no picture this browser can read.").waitFor();
  const send = (image) => fetch(`${world.address}api/record/add-photo`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ brew: brew.values.id, at: "2026-05-01T20:00:00+00:00", image }) });
  for (const text of ["<script>document.title='owned'</script>", "<svg onload=\"document.title='owned'\"/>"]) {
    const reply = await send(Buffer.from(text).toString("base64"));
    equal(reply.status, 400, "the server looks at the bytes");
    equal((await reply.json()).refusals[0].code, "records.value.not_an_image", "and says why");
  }
  equal((await send(`${Buffer.from([0xff, 0xd8, 0xff, 0xe0]).toString("base64").slice(0, 4)}${"A".repeat(300_000)}`)).status, 400, "nor what is too large");
  // A JPEG by its first bytes and markup behind: kept, and never more than an image that does not draw.
  equal((await send(Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.from("<script>document.title='owned'</script>")]).toString("base64"))).status, 200, "by its first bytes a picture");
  await page.getByRole("link", { name: "Back" }).click();
  await page.locator(".logged img.photo").waitFor({ state: "attached" });
  equal(await page.title(), "barm", "nothing of it ran");
  equal(await page.locator(".logged script, .logged svg").count(), 0, "and nothing of it is markup");
}
