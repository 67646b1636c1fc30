/// Moves a slider so many times and tells how long each took until the band was drawn again and shown [ms].
export async function moves(page, count) {
  const taken = await page.evaluate(async (most) => {
    const slider = [...document.querySelectorAll('input[type="range"]')].find((each) => /temperature/i.test(each.getAttribute("aria-label")));
    const picture = document.querySelector(".plot-night");
    const all = [];
    for (let move = 0; move < most; move++) {
      const before = Number(picture.dataset.revision);
      const begun = performance.now();
      slider.value = String(150 + ((move * 7) % 200));
      slider.dispatchEvent(new Event("input", { bubbles: true }));
      await new Promise((done) => {
        const look = () => (Number(picture.dataset.revision) > before ? requestAnimationFrame(() => done()) : setTimeout(look, 1));
        look();
      });
      all.push(performance.now() - begun);
      await new Promise((done) => setTimeout(done, 60));
    }
    return all;
  }, count);
  taken.sort((a, b) => a - b);
  const at = (share) => taken[Math.min(taken.length - 1, Math.ceil(share * taken.length) - 1)];
  return { p50: at(0.5), p95: at(0.95), worst: at(1) };
}
