// SPDX-License-Identifier: GPL-3.0-or-later
// Looks at every page and picture at three sizes. Serious and critical faults are those that
// axe-core names so, after the Web Content Accessibility Guidelines 2.2, levels A and AA.
import { createRequire } from "node:module";
import { readFileSync, readdirSync, mkdirSync } from "node:fs";
import { join } from "node:path";

const [modules, shots] = process.argv.slice(2);
const require = createRequire(join(modules, "package.json"));
const { chromium } = require("playwright-core");
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const SIZES = [[360, 740], [1280, 800], [1920, 1080]];

let passed = 0;
let failed = 0;
function expect(what, faults) {
  if (faults.length === 0) passed++;
  else {
    failed++;
    console.log(`${what}: ${faults.length}\n  ${faults.slice(0, 6).join("\n  ")}`);
  }
}

// Real boxes of real type: each text of a picture apart from the others and inside its picture.
function textFaults() {
  const faults = [];
  for (const svg of document.querySelectorAll("svg")) {
    const frame = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll("text")].map((t) => [t.textContent, t.getBoundingClientRect()]);
    texts.forEach(([a, p], i) => {
      if (p.left < frame.left - 1 || p.right > frame.right + 1 || p.bottom > frame.bottom + 1)
        faults.push(`"${a}" leaves its picture`);
      for (const [b, q] of texts.slice(i + 1))
        if (p.left < q.right - 1 && q.left < p.right - 1 && p.top < q.bottom - 3 && q.top < p.bottom - 3)
          faults.push(`"${a}" covers "${b}"`);
    });
  }
  return faults;
}

const wide = () =>
  document.documentElement.scrollWidth > window.innerWidth
    ? [`${document.documentElement.scrollWidth} wide in ${window.innerWidth}`] : [];

async function accessibility(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations
    .filter((v) => v.impact === "serious" || v.impact === "critical")
    .map((v) => `${v.id}: ${v.help} (${v.nodes.length}) ${v.nodes[0].html.slice(0, 120)}`);
}

// A fold opens and closes by the keyboard alone.
async function keyboard(page) {
  if ((await page.locator("summary").count()) === 0) return [];
  const state = () => page.evaluate(() => document.activeElement.parentElement.open);
  await page.evaluate(() => window.scrollTo(0, 0));
  for (let i = 0; i < 50; i++) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(() => document.activeElement.tagName === "SUMMARY")) break;
  }
  const before = await state();
  await page.keyboard.press("Enter");
  const after = await state();
  await page.keyboard.press("Enter");
  return before !== undefined && before !== after && before === (await state()) ? [] : ["a fold does not obey the keyboard"];
}

// On paper nothing stays folded away, and both sizes of paper hold it.
async function paper(page, name) {
  await page.emulateMedia({ media: "print" });
  const faults = await page.evaluate(() =>
    [...document.querySelectorAll("details > *")].filter((e) => e.getBoundingClientRect().height === 0)
      .map((e) => `not printed: ${e.textContent.slice(0, 60)}`));
  for (const format of ["A4", "Letter"]) {
    const path = shots && join(shots, `${name}-${format}.pdf`);
    const bytes = await page.pdf({ format, preferCSSPageSize: false, ...(path ? { path } : {}) });
    if (bytes.length < 5000) faults.push(`${format} is empty`);
  }
  await page.emulateMedia({ media: "screen" });
  return faults;
}

const browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox"] });
if (shots) mkdirSync(shots, { recursive: true });
for (const file of readdirSync(join(modules, "pages")).sort()) {
  for (const [width, height] of file.startsWith("figures-") ? SIZES.slice(1, 2) : SIZES) {
    const name = `${file}-${width}`;
    const page = await browser.newPage({ viewport: { width, height } });
    const said = [];
    page.on("console", (m) => said.push(m.text()));
    page.on("pageerror", (e) => said.push(String(e)));
    const asked = [];
    page.on("request", (r) => asked.push(r.url()));
    await page.goto("file://" + join(modules, "pages", file));
    expect(`${name}: requests`, asked.slice(1));
    expect(`${name}: console`, said);
    expect(`${name}: words in pictures`, await page.evaluate(textFaults));
    if (file.endsWith(".html")) {
      expect(`${name}: wider than the screen`, await page.evaluate(wide));
      expect(`${name}: keyboard`, await keyboard(page));
      expect(`${name}: accessibility`, await accessibility(page));
    }
    if (shots && file.endsWith(".html")) await page.screenshot({ path: join(shots, `${name}.png`), fullPage: true });
    if (file.endsWith(".html") && width === 1280) expect(`${name}: paper`, await paper(page, file));
    await page.close();
  }
}
await browser.close();
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
