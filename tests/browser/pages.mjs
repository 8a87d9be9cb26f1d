// SPDX-License-Identifier: GPL-3.0-or-later
// Looks at every page and picture at three sizes.
import { readdirSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { PATIENCE, SIZES, accessibility, expect, finish, openBrowser, wide } from "./look.mjs";

const [modules, shots] = process.argv.slice(2);

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

const browser = await openBrowser();
if (shots) mkdirSync(shots, { recursive: true });
for (const file of readdirSync(join(modules, "pages")).sort()) {
  for (const [width, height] of file.startsWith("figures-") ? SIZES.slice(1, 2) : SIZES) {
    const name = `${file}-${width}`;
    const page = await browser.newPage({ viewport: { width, height } });
    page.setDefaultTimeout(PATIENCE);
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
finish();
