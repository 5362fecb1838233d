// Sheets of four scenarios, as a person meets them: in a browser, on a phone's width, by keyboard, on paper.
import assert from "node:assert/strict";
import { execFileSync, spawnSync } from "node:child_process";
import { readFileSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { resolve } from "node:path";
import { after, before, describe, test } from "node:test";
import { chromium } from "playwright-core";

const { PROGRAM, SCENARIOS, CHROMIUM, SHOTS } = process.env; // SHOTS: a folder for pictures to look at
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const scenarios = ["minimal", "front_rear_split", "port_below_pocket", "motorcycle"];
const run = (...args) => execFileSync(PROGRAM, args, { encoding: "utf8", maxBuffer: 1 << 28 });

let browser;
before(async () => { browser = await chromium.launch({ executablePath: CHROMIUM, args: ["--no-sandbox"] }); });
after(() => browser.close());

/** Writes a sheet. */
function sheet(scenario, name, ...options) {
  const file = resolve(`${name}.html`);
  run("guide", scenario, "-o", file, "--date", "2026-03-09", ...options);
  return file;
}

/** Opens a sheet; what must not happen is collected. */
async function open(file, options = {}) {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, ...options });
  const wrong = [];
  page.on("console", (message) => { if (["error", "warning"].includes(message.type())) wrong.push(message.text()); });
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("request", (request) => { if (!request.url().startsWith("file:") || !request.isNavigationRequest()) wrong.push(request.url()); });
  await page.goto(`file://${file}`);
  return { page, wrong };
}

/** Serious findings of the accessibility check, with everything unfolded. */
async function barriers(page) {
  await page.evaluate(() => { for (const d of document.querySelectorAll("details")) d.open = true; });
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() => window.axe.run({ resultTypes: ["violations"] }));
  return violations.filter((v) => ["serious", "critical"].includes(v.impact)).map((v) => `${v.id}: ${v.nodes[0].html}`);
}

const data_of = (page) => page.evaluate(() => JSON.parse(document.getElementById("data").textContent));
const air = (page, stage = 0) => page.locator(".value.air").nth(stage).getAttribute("data-ml").then(Number);
const strokes = (page) => page.locator(".stage").first().getAttribute("data-strokes").then(Number);
const sum = (list) => list.reduce((a, b) => a + b, 0);
const near = (a, b) => assert.ok(Math.abs(a - b) <= 1e-3 + 1e-5 * Math.abs(b), `${a} against ${b}`);

for (const name of scenarios) describe(name, () => {
  const scenario = `${SCENARIOS}/${name}.toml`;
  let file, page, wrong, data;
  before(async () => {
    file = sheet(scenario, name, ...(name === "port_below_pocket" ? [] : ["--quick"]));
    ({ page, wrong } = await open(file));
    data = await data_of(page);
  });
  after(() => page.close());

  test("is one file of less than 1.5 MB that opens in a second", async () => {
    assert.ok(statSync(file).size < 1.5e6, `${statSync(file).size} bytes`);
    const times = [];
    for (let i = 0; i < 2; ++i) {
      if (i > 0) await page.reload();
      times.push(await page.evaluate(() => performance.getEntriesByType("navigation")[0].domContentLoadedEventEnd));
    }
    console.log(`${name}: ${statSync(file).size} bytes, ready in ${Math.min(...times).toFixed(0)} ms`);
    assert.ok(Math.min(...times) < 1000, `ready after ${times} ms`);
  });

  test("tells the work: cautions first, the box, every screw with turns and count", async () => {
    assert.equal(await page.locator("h1").textContent(), data.scenario.title);
    const heads = await page.locator("#work h3").allTextContents();
    assert.equal(heads[0], "Cautions first");
    assert.match(heads[1], /Do not drive/);
    const rows = page.locator("[aria-labelledby=order] tbody tr");
    assert.equal(await rows.count(), data.work.visits.length);
    for (const [i, visit] of data.work.visits.entries()) {
      const text = await rows.nth(i).textContent();
      assert.ok(text.includes(visit.screw) && text.includes(`${visit.strokes}`) && text.includes("½ turn"), text);
    }
    assert.ok(!/N m\b/.test(await page.locator("#work").textContent()), "no torque of our own");
  });

  test("replays the numbers of an independent run at three instants", async () => {
    const bled = JSON.parse(run("bleed", scenario, "--json"));
    const own = data.films.findIndex((film) => film.known_as.includes("the file's own"));
    if (data.films.length > 1) await page.locator(".picks select").first().selectOption(`${own}`);
    const scrub = page.locator(".player input[type=range]");
    await scrub.press("Home");
    near(await air(page), bled.air_start_ml);
    const middle = Math.ceil(bled.strokes_in_order.length / 2);
    for (let i = 0; i < middle; ++i) await scrub.press("PageDown");
    assert.equal(await strokes(page), middle);
    near(await air(page), sum(bled.strokes_in_order[middle - 1].air_by_circuit_ml));
    await scrub.press("End");
    assert.equal(await strokes(page), bled.strokes_total);
    near(await air(page), bled.air_left_ml);
  });

  test("plays to the end by keyboard", async () => {
    const scrub = page.locator(".player input[type=range]");
    await page.locator(".controls select").selectOption("8");
    await scrub.press("End");
    const end = Number(await scrub.inputValue());
    await scrub.fill(`${Math.floor(20 * Math.max(0, end - 4)) / 20}`);
    await scrub.press("Space");
    assert.equal(await page.locator(".play").textContent(), "Pause");
    await page.waitForFunction(() => document.querySelector(".play").textContent === "Play", null, { timeout: 20000 });
    assert.equal(Number(await scrub.inputValue()), end);
    await scrub.press("PageUp");
    const before_last = await strokes(page);
    await scrub.press("ArrowRight");
    assert.ok(await strokes(page) >= before_last);
    assert.ok((await page.locator(".said").textContent()).includes("air inside"));
  });

  for (const paper of ["A4", "Letter"]) test(`prints whole on ${paper}`, async () => {
    await page.setViewportSize({ width: paper === "A4" ? 695 : 718, height: 900 });
    await page.emulateMedia({ media: "print" });
    const cut = await page.evaluate(() => [...document.querySelectorAll("table, svg, pre")]
      .filter((e) => e.getClientRects().length > 0 && e.getBoundingClientRect().right > innerWidth + 1).map((e) => e.outerHTML.slice(0, 80)));
    assert.deepEqual(cut, []);
    assert.ok(await page.evaluate(() => [...document.querySelectorAll("tr")].every((tr) => getComputedStyle(tr).breakInside === "avoid")));
    const pdf = resolve(`${name}_${paper}.pdf`);
    await page.pdf({ path: pdf, format: paper, preferCSSPageSize: false });
    await page.emulateMedia({ media: "screen" });
    const pages = execFileSync("pdftotext", ["-layout", pdf, "-"], { encoding: "utf8" }).split("\f").slice(0, -1);
    for (const [i, text] of pages.entries()) {
      assert.ok(text.includes(`page ${i + 1} of ${pages.length}`), `page ${i + 1}`);
      for (const carried of [data.scenario.title, "2026-03-09", "Simulated; the maker's instructions come first."])
        assert.ok(text.includes(carried), `page ${i + 1} lacks ${carried}`);
    }
  });

  for (const width of [1440, 360]) test(`fits ${width} px and is accessible`, async () => {
    await page.setViewportSize({ width, height: 900 });
    await page.reload();
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(wide <= 0, `${wide} px too wide`);
    if (SHOTS) await page.screenshot({ path: `${SHOTS}/${name}_${width}.png`, fullPage: true });
    assert.deepEqual(await barriers(page), []);
  });

  test("had no fault and asked no network", () => assert.deepEqual(wrong, []));
});

test("script in names does nothing", async () => {
  const bad = `<img src=x onerror='window["hit"]=1'></script><script>window["hit"]=2</script>`;
  const text = readFileSync(`${SCENARIOS}/port_below_pocket.toml`, "utf8")
    .replace(/^title = .*/m, `title = ${JSON.stringify(bad)}`)
    .replace(/\[\[screws\]\]\nname = "caliper"/, `[[screws]]\nname = ${JSON.stringify(bad)}`);
  assert.equal(text.split(JSON.stringify(bad)).length, 3);
  writeFileSync("bad.toml", text);
  const { page, wrong } = await open(sheet("bad.toml", "bad", "--quick"));
  await page.locator(".player input[type=range]").press("End");
  assert.equal(await page.evaluate(() => window.hit), undefined);
  assert.equal(await page.locator("img").count(), 0);
  assert.equal(await page.locator("h1").textContent(), bad);
  assert.deepEqual(wrong, []);
  await page.close();
});

test("two hundred strokes replay smoothly", async () => {
  const file = sheet(`${SCENARIOS}/motorcycle.toml`, "long", "--quick", "--set", "stop.clear_strokes=70", "--set", "stop.most_strokes=100");
  const { page } = await open(file);
  assert.ok((await data_of(page)).films[0].strokes.length >= 200);
  assert.ok(statSync(file).size < 1.5e6);
  await page.locator(".controls select").selectOption("8");
  await page.locator(".play").click();
  const times = await page.evaluate(() => new Promise((done) => {
    const gaps = [];
    let last = performance.now();
    requestAnimationFrame(function next(now) {
      gaps.push(now - last);
      last = now;
      if (gaps.length < 120) requestAnimationFrame(next);
      else done(gaps.sort((a, b) => a - b));
    });
  }));
  console.log(`200 strokes: frame time ${times[60].toFixed(1)} ms, 95 % below ${times[114].toFixed(1)} ms`);
  assert.ok(times[60] < 50, `${times[60]} ms`);
  await page.close();
});

test("the exercise hides the result until an order is picked", async () => {
  const file = sheet(`${SCENARIOS}/front_rear_split.toml`, "exercise", "--quick", "--exercise", "--list", "LF,RF,LR,RR;RF,LF,LR,RR;RR,LR,RF,LF");
  const { page, wrong } = await open(file);
  for (const hidden of ["#work", "#evidence", "#replay"]) assert.equal(await page.locator(hidden).count(), 0);
  const body = await page.locator("main").textContent();
  assert.ok(!/best/.test(body.replace(/beside the best/, "")), "nothing tells which is best");
  assert.deepEqual(await barriers(page), []);
  await page.locator(".choices button").last().click();
  assert.equal(await page.locator("#work").count(), 1);
  assert.equal(await page.locator(".stage").count(), 2);
  assert.match(await page.locator(".answer").textContent(), /You chose RR, LR, RF, LF/);
  assert.deepEqual(wrong, []);
  await page.close();
});

test("motion is reduced where the reader asks for it", async () => {
  const { page } = await open(resolve("front_rear_split.html"), { reducedMotion: "reduce" });
  await page.locator(".play").click();
  const seen = new Set();
  for (let i = 0; i < 40 && seen.size < 3; ++i) {
    seen.add(Number(await page.locator(".player input[type=range]").inputValue()));
    await page.waitForTimeout(100);
  }
  assert.equal(seen.size, 3, "from stroke to stroke, with rests between");
  await page.close();
});

test("--pdf prints everything, and says what it needs where there is no browser", () => {
  const small = `${SCENARIOS}/port_below_pocket.toml`;
  run("guide", small, "--quick", "--pdf", "made.pdf");
  const text = execFileSync("pdftotext", ["made.pdf", "-"], { encoding: "utf8" });
  for (const part of ["Job record", "Assumptions and their bands", "bore = \"54 mm\""]) assert.ok(text.includes(part), part);
  const without = spawnSync(PROGRAM, ["guide", small, "--quick", "--pdf", "none.pdf"], { encoding: "utf8", env: { PATH: "/nowhere" } });
  assert.equal(without.status, 2);
  assert.match(without.stderr, /--pdf: needs one of these browsers/);
});
