// SPDX-License-Identifier: GPL-3.0-or-later
// What all looks at pages share: the browser, faults that are counted, and what is a fault.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { join } from "node:path";

// Milliseconds for a page that others make slow.
export const PATIENCE = 120000;

export const SIZES = [[360, 740], [1280, 800], [1920, 1080]];

const modules = process.argv[2];
const require = createRequire(join(modules, "package.json"));
const { chromium } = require("playwright-core");
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

let passed = 0;
let failed = 0;
export function expect(what, faults) {
  if (faults.length === 0) passed++;
  else {
    failed++;
    console.log(`${what}: ${faults.length}\n  ${faults.slice(0, 6).join("\n  ")}`);
  }
}

export function finish() {
  console.log(`${passed} passed, ${failed} failed`);
  process.exit(failed > 0 ? 1 : 0);
}

export const openBrowser = () =>
  chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox"] });

export const wide = () =>
  document.documentElement.scrollWidth > window.innerWidth
    ? [`${document.documentElement.scrollWidth} wide in ${window.innerWidth}`] : [];

// Serious and critical faults are those that axe-core names so, after the Web Content Accessibility
// Guidelines 2.2, levels A and AA.
export async function accessibility(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations
    .filter((v) => v.impact === "serious" || v.impact === "critical")
    .map((v) => `${v.id}: ${v.help} (${v.nodes.length}) ${v.nodes[0].html.slice(0, 120)}`);
}
