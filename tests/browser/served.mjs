// SPDX-License-Identifier: GPL-3.0-or-later
// What a coach, a lifter and a teacher do with the server, from the first page to the last, at three
// sizes, with and without scripts. Usage: served.mjs MODULES ADDRESS [SHOTS]
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { PATIENCE, SIZES, accessibility, expect, finish, openBrowser, wide } from "./look.mjs";

const [modules, base, shots] = process.argv.slice(2);
if (shots) mkdirSync(shots, { recursive: true });
const browser = await openBrowser();

const open = (page, path) => page.goto(new URL(path, base).href);
const text = (page, selector) => page.locator(selector).first().innerText();
const holds = (what, wanted) => (wanted.test(what) ? [] : [`"${what.slice(0, 80)}" lacks ${wanted}`]);
const seen = async (locator) => ((await locator.first().isVisible()) ? [] : ["is not shown"]);

// What is wrong with a page as it stands. Where scripts are off, axe-core cannot run either; the
// pages are the same.
async function look(page, name) {
  expect(`${name}: wider than the screen`, await page.evaluate(wide));
  if (!/-bare-/.test(name)) expect(`${name}: accessibility`, await accessibility(page));
  if (shots) await page.screenshot({ path: join(shots, `served-${name}.png`) });
}

async function coach(page, name) {
  await open(page, "/");
  await look(page, `${name}-start`);
  await page.fill("input[name=goal]", "hamstrings");
  await page.selectOption("#place", "hotel-room");
  await page.click("#avoid-ticks > summary");
  await page.check("input[value=lying-prone]");
  await page.click("text=Pick exercises");
  expect(`${name}: picks`, holds(await text(page, "h1"), /hamstrings/i));
  expect(`${name}: address`, holds(page.url(), /goal=hamstrings.*have=hotel-room.*avoid=lying-prone/));
  expect(`${name}: number of picks`, (await page.locator("article ol > li").count()) >= 4 ? [] : ["few"]);
  await look(page, `${name}-picks`);
  await page.locator("text=Every reason").first().click();
  expect(`${name}: reasons`, holds(await text(page, "h1"), /why or why not/i));
  await look(page, `${name}-reasons`);
  await open(page, "/pick?goal=hamstrigns");
  expect(`${name}: near matches`, holds(await text(page, ".problems"), /hamstrings/));
  await open(page, "/pool?subject=hamstrings");
  await look(page, `${name}-trials`);
}

async function lifter(page, name) {
  await open(page, "/");
  await page.fill("input[name=sentence]", "hammies with dumbells up to 15 kg, no bench, bad knee");
  await page.locator("input[name=sentence]").press("Enter");
  expect(`${name}: asked`, holds(await text(page, ".mark"), /up to 15 kg/));
  await page.locator("text=Swap it").first().click();
  expect(`${name}: swap`, holds(await text(page, "h1"), /instead of/i));
  expect(`${name}: still with what was heard`, holds(await text(page, ".mark"), /up to 15 kg/));
  await look(page, `${name}-swap`);
  await open(page, "/ask?sentence=chest+pain+when+I+press");
  expect(`${name}: referral`, (await page.locator("article ol > li").count()) === 0 ? [] : ["picks"]);
}

async function teacher(page, name, scripts) {
  await open(page, "/class");
  await look(page, `${name}-lesson`);
  await page.fill("input[name=goal]", "hamstrings");
  await page.click("text=Begin");
  expect(`${name}: guess`, holds(await text(page, "h1"), /predict first/i));
  const order = page.locator(".reveal ol");
  expect(`${name}: hidden`, (await order.isVisible()) ? ["the order is shown at once"] : []);
  if (scripts) await page.keyboard.press(" ");
  else await page.click(".reveal > summary");
  expect(`${name}: shown`, await seen(order));
  await look(page, `${name}-guess`);
  await open(page, "/class?goal=hamstrings&exercise=leg-press");
  const go = async (key, wanted) => {
    const there = page.waitForURL(wanted);
    if (scripts) await page.keyboard.press(key);
    else await page.click(`[data-key=${key}]`);
    await there;
  };
  await go("ArrowRight", /at=1$/);
  expect(`${name}: first step`, holds(await text(page, ".place"), /reason 1 of/i));
  await go("ArrowDown", /at=1\.1$/);
  expect(`${name}: deeper`, holds(await text(page, ".place"), /ground 1 of/i));
  await go("ArrowUp", /at=1$/);
  await page.click("text=Hide steps until asked");
  expect(`${name}: step hidden`, (await page.locator(".said").isVisible()) ? ["is shown"] : []);
  await page.click(".whole > summary");
  expect(`${name}: step shown`, await seen(page.locator(".said")));
  await look(page, `${name}-step`);
  await page.click("text=The handout, to print");
  await page.emulateMedia({ media: "print" });
  expect(`${name}: the frame is not printed`, (await page.locator(".frame").isVisible()) ? ["is printed"] : []);
  await page.emulateMedia({ media: "screen" });
}

// A study is left out, and the page says what changes.
async function without(page, name) {
  await open(page, "/without?goal=hamstrings&leave-out=leg-curl-seated-vs-prone-2021");
  expect(`${name}: what differs`, holds(await text(page, "article"), /what differs/i));
  await look(page, `${name}-without`);
}

// Equipment stays ticked in this browser until it is forgotten.
async function remembers(page, name) {
  await open(page, "/pick");
  await page.click("#have-ticks > summary");
  await page.check("input[value=kettlebell]");
  await open(page, "/swap");
  expect(`${name}: remembered`, (await page.locator("input[value=kettlebell]").isChecked()) ? [] : ["it is not"]);
  await page.click("text=Forget it");
  await open(page, "/pick");
  expect(`${name}: forgotten`, (await page.locator("input[value=kettlebell]").isChecked()) ? ["it is not"] : []);
}

// Beside an answer the form says what was asked, whatever is remembered.
async function agrees(page, name) {
  await open(page, "/pick");
  await page.selectOption("#place", "office");
  await open(page, "/swap?replaced=leg-press");
  expect(`${name}: form and answer agree`, (await page.inputValue("#place")) === "" ? [] : ["they do not"]);
}

// From the address line to an answer without a pointer.
async function keyboard(page, name) {
  await open(page, "/pick");
  const reach = async (wanted) => {
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("Tab");
      if (await page.evaluate((s) => document.activeElement.matches(s), wanted)) return;
    }
    expect(`${name}: by keyboard to ${wanted}`, ["out of reach"]);
  };
  await reach("input[name=goal]");
  await page.keyboard.type("calves");
  await page.keyboard.press("Escape"); // the list of names, if the browser shows it
  await reach("#place");
  await page.keyboard.type("office");
  await reach("button[type=submit]");
  await page.keyboard.press("Enter");
  await page.waitForURL(/have=office/);
  expect(`${name}: by keyboard`, holds(await text(page, ".mark"), /office/));
  await page.keyboard.press("Tab");
  expect(`${name}: first stop`, holds(await page.evaluate(() => document.activeElement.textContent), /to the answer/i));
}

// Saved to a file and opened from there: two taps to an answer.
async function carried(context, name) {
  const saved = await context.request.get(new URL("/carry?have=hotel-room&format=html", base).href);
  const file = join(modules, "carried.html");
  writeFileSync(file, await saved.body());
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE);
  const asked = [];
  page.on("request", (r) => asked.push(r.url()));
  await page.goto("file://" + file);
  await look(page, `${name}-carried`);
  const goal = page.locator(".found", { hasText: /^hamstrings/ }).first();
  await goal.locator("summary").first().click();
  const pick = goal.locator("ol > li").first();
  expect(`${name}: one tap`, await seen(pick));
  await pick.locator("summary").click();
  expect(`${name}: two taps`, await seen(pick.locator("ul > li")));
  if (shots) await page.screenshot({ path: join(shots, `served-${name}-carried-open.png`) });
  expect(`${name}: asks for nothing`, asked.slice(1));
  await page.close();
}

// What a coach plans and pastes.
async function desk(page, name) {
  await open(page, "/plan");
  await look(page, `${name}-plan-form`);
  await page.fill("input[name=target]", "glutes:2, calves");
  await page.selectOption("select[name=days]", "2");
  await page.fill("input[name=minutes]", "45");
  await page.selectOption("#place", "dumbbells-only");
  await page.click("text=Plan the week");
  expect(`${name}: a week`, holds(await text(page, "h1"), /2 sessions of up to 45 minutes/));
  expect(`${name}: its address`, holds(page.url(), /target=glutes.*days=2.*minutes=45/));
  await look(page, `${name}-plan`);
  await open(page, "/audit");
  await page.fill("textarea", "Mon: RDL 3x8, leg ext 4x12\nThu: squat 4x6, pull up 3x8");
  await page.click("text=Count the sets");
  expect(`${name}: what was pasted`, holds(await text(page, "article"), /romanian deadlift/i));
  await look(page, `${name}-audit`);
  await page.click("text=Address of this view");
  expect(`${name}: an audit to share`, holds(page.url(), /audit\?programme=Mon/));
  await open(page, "/draft");
  await page.fill("textarea", "Fourteen men trained twice weekly for 12 weeks. Soleus volume " +
    "increased by 2.1% in standing and 2.9% in seated calf raises.");
  await page.click("text=Draft it");
  expect(`${name}: every number`, (await page.locator("article td:first-child").count()) >= 4 ? [] : ["few rows"]);
  await look(page, `${name}-draft`);
}

for (const [width, height] of SIZES) {
  for (const scripts of [true, false]) {
    const context = await browser.newContext({ viewport: { width, height }, javaScriptEnabled: scripts });
    const name = `${width}${scripts ? "" : "-bare"}`;
    const page = await context.newPage();
    page.setDefaultTimeout(PATIENCE);
    const said = [];
    page.on("console", (m) => { if (!/status of 400/.test(m.text())) said.push(m.text()); });
    page.on("pageerror", (e) => said.push(String(e)));
    const away = [];
    page.on("request", (r) => { if (!r.url().startsWith(base)) away.push(r.url()); });
    try {
      await coach(page, `${name}-coach`);
      await lifter(page, `${name}-lifter`);
      await teacher(page, `${name}-teacher`, scripts);
      await desk(page, `${name}-desk`);
      if (scripts && width === 1280) await without(page, name);
      if (scripts) await remembers(page, name);
      if (scripts) await agrees(page, name);
      if (scripts) await keyboard(page, name);
      if (scripts) await carried(context, name);
    } catch (error) {
      expect(`${name}: all tasks`, [String(error).slice(0, 400)]);
    }
    expect(`${name}: console`, said);
    expect(`${name}: requests elsewhere`, away);
    await context.close();
  }
}
await browser.close();
finish();
