// Goes through the desk in headless Chromium, by keyboard alone, and audits every page and state with axe-core.
//
//   node desk.mjs MODULES CHROMIUM SHOTS
//
// Reads jobs, a line of JSON each: { "entry": address, "pages": [path], "keyboard": bool, "proof": path or null,
// "bank": { "page": path, "name": of the file, "file": path }, "answers": { "quiz": path, "files": [path] } }. Answers
// each with a line of JSON: what is serious, what sticks out at 320 pixels (which is also 1280 at 400 % zoom), which targets
// are small, what was asked of any other place, what scripts said, what is wrong with forced colors, with reduced motion and
// on paper, and where no focus is seen. SHOTS: a folder for pictures of all pages, or empty.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { createInterface } from "node:readline";

const [modules, browserPath, shots] = process.argv.slice(2);
const { chromium } = createRequire(join(modules, "package.json"))("playwright-core");
const axe = readFileSync(join(modules, "node_modules/axe-core/axe.min.js"), "utf8");
const FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"];
const WIDE = { width: 1200, height: 900 };
const ZOOMED = { width: 320, height: 256 }; // 1280 by 1024 at 400 % (WCAG 2.2, 1.4.10)
const LEAST_TARGET = 24;
const LONG_MS = 240_000;

const browser = await chromium.launch({ executablePath: browserPath, args: FLAGS });

function sticksOut() {
  const wide = [...document.querySelectorAll("main *")].filter((each) => each.getBoundingClientRect().right > innerWidth + 1);
  return wide.slice(-1).map((each) => each.outerHTML.slice(0, 120));
}

// With forced colors: what can be pressed has an edge, what is chosen or wrong shows without a shadow, notation is ink on white.
function badlyForced() {
  const bad = [];
  const style = (each) => getComputedStyle(each);
  for (const each of document.querySelectorAll("main :is(button, .button, select, textarea)")) {
    if (each.offsetParent && (style(each).borderTopStyle === "none" || style(each).borderTopColor === style(document.body).backgroundColor)) bad.push(each);
  }
  for (const each of document.querySelectorAll(".option:has(:checked), tr.key, .field.wrong")) {
    if (each.offsetParent && style(each).outlineStyle === "none" && parseFloat(style(each).borderLeftWidth) < 2) bad.push(each);
  }
  for (const each of document.querySelectorAll("main img")) {
    if (style(each).backgroundColor !== "rgb(255, 255, 255)" || style(each).filter !== "none") bad.push(each);
  }
  return bad.slice(0, 3).map((each) => each.outerHTML.slice(0, 100));
}

// On paper: nothing to press, no way through the desk, dark on white even where the screen is dark, figures not inverted.
function badlyPrinted() {
  const seen = (each) => each.getClientRects().length > 0;
  const bad = [...document.querySelectorAll(":is(.top, .bar, .acts, .skip, button, .button, input[type=file])")].filter(seen);
  const light = (color) => color.match(/\d+/g).slice(0, 3).reduce((sum, each) => sum + Number(each), 0) / 3;
  for (const each of document.querySelectorAll("h1, p, td, th, li, a, .quiet")) {
    if (seen(each) && light(getComputedStyle(each).color) > 140) bad.push(each);
  }
  bad.push(...[...document.querySelectorAll("img")].filter((each) => seen(each) && getComputedStyle(each).filter !== "none"));
  return bad.slice(0, 3).map((each) => each.outerHTML.slice(0, 100));
}

function moves() {
  const moving = (each) => getComputedStyle(each).animationName !== "none" || parseFloat(getComputedStyle(each).transitionDuration) > 0;
  const bad = [document.documentElement, ...document.querySelectorAll("body *")].filter((e) => moving(e) || getComputedStyle(e).scrollBehavior === "smooth");
  return bad.slice(0, 3).map((each) => each.outerHTML.slice(0, 100));
}

// Drops a file on the form that takes it, as a mouse does.
function dropped([name, text]) {
  const held = new DataTransfer();
  held.items.add(new File([text], name));
  document.querySelector("[data-drop]").dispatchEvent(new DragEvent("drop", { dataTransfer: held, bubbles: true, cancelable: true }));
}

function focusUnseen() {
  const style = getComputedStyle(document.activeElement);
  return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2 ? "" : document.activeElement.outerHTML.slice(0, 100);
}

async function gone(job) {
  const context = await browser.newContext({ viewport: WIDE, reducedMotion: "reduce" });
  const page = await context.newPage();
  page.setDefaultTimeout(LONG_MS);
  const origin = new URL(job.entry).origin;
  const told = { serious: [], wide: [], small: [], asked: [], said: [], forced: [], printed: [], moving: [], unseen: [], steps: [] };
  page.on("request", (r) => { if (!r.url().startsWith(origin) && !r.url().startsWith("data:")) told.asked.push(r.url()); });
  page.on("pageerror", (e) => told.said.push(e.message));
  page.on("console", (m) => { if (m.type() === "error") told.said.push(m.text()); });
  const shot = async (name) => { if (shots) await page.screenshot({ path: join(shots, `${name.replace(/\W+/g, "_")}.png`), fullPage: true }); };
  const found = async (list, name, test) => list.push(...(await page.evaluate(test)).map((html) => `${name}: ${html}`));

  async function audit(name) {
    for (const [scheme, size] of [["light", WIDE], ["dark", ZOOMED]]) {
      await page.emulateMedia({ colorScheme: scheme });
      await page.setViewportSize(size);
      // The policy of our pages lets no foreign script in: axe comes in past it, as a developer's tool does.
      const { violations } = await page.evaluate(`${axe}; axe.run({ resultTypes: ["violations"] })`);
      for (const each of violations) {
        if (!["serious", "critical"].includes(each.impact)) continue;
        told.serious.push(`${name} ${scheme} ${size.width}: ${each.id}: ${each.nodes[0].html}`);
      }
      const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      if (over > 0) told.wide.push(`${name} ${size.width}: ${over} px: ${await page.evaluate(sticksOut)}`);
      await shot(`${name} ${size.width}`);
    }
    const small = await page.evaluate((least) => [...document.querySelectorAll("main :is(button, input:not([type=hidden]), select, summary, .button, .list a)")]
      .filter((e) => e.offsetParent && Math.min(e.offsetWidth, e.offsetHeight) < least).map((e) => e.outerHTML.slice(0, 80)), LEAST_TARGET);
    told.small.push(...small.map((html) => `${name}: ${html}`));
    await page.emulateMedia({ media: "print" }); // and still dark
    await found(told.printed, name, badlyPrinted);
    await page.emulateMedia({ media: "screen", forcedColors: "active" });
    await page.setViewportSize(WIDE);
    await found(told.forced, name, badlyForced);
    await found(told.moving, name, moves);
    await shot(`${name} forced`);
    await page.emulateMedia({ colorScheme: "light", forcedColors: "none" });
  }

  // Goes on with Tab until the focus is on what the test wants, as somebody without a mouse does.
  async function tabTo(test, most = 400) {
    for (let n = 0; n < most; n += 1) {
      await page.keyboard.press("Tab");
      if (!(await page.evaluate(test))) continue;
      const unseen = await page.evaluate(focusUnseen);
      if (unseen) told.unseen.push(unseen);
      return;
    }
    throw new Error(`no Tab leads to ${test}`);
  }

  await page.goto(job.entry);
  await page.waitForURL(`${origin}/`);
  if (job.keyboard) {
    await audit("home, empty");
    await tabTo(labelled("Title of the quiz"));
    await page.keyboard.type("Made by keys");
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/plan\/made-by-keys/);
    await tabTo(`${labelled("Questions")}`);
    await page.keyboard.press("Control+A");
    await page.keyboard.type("2");
    await page.waitForFunction(() => document.getElementById("saved").textContent.startsWith("Saved"));
    await page.waitForFunction(() => document.querySelector('#preview-state [data-job="over"]'));
    told.steps.push(await page.textContent("#preview-1 .capacity"));
    await audit("plan, worked out");
    await page.keyboard.press("Control+A");
    await page.keyboard.type("none");
    await page.waitForFunction(() => document.querySelector("#part-1-items .fault"));
    told.steps.push(await page.textContent("#part-1-items .fault"));
    await audit("plan, with a fault");
    await page.keyboard.press("Control+A");
    await page.keyboard.type("2");
    await page.waitForFunction(() => !document.querySelector("#part-1-items .fault"));
    await page.keyboard.press("Control+Home");
    await page.evaluate(() => document.getElementById("main").focus());
    await tabTo(named("Make the quiz"));
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/make$/);
    await tabTo(named("Make it"));
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/job\//);
    await page.waitForSelector(".next .button");
    await audit("made");
    await tabTo(named("To the quiz"));
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/quiz\/made-by-keys/);
    told.steps.push(await page.textContent("h1"));
  }
  if (job.proof) {
    const done = (number) => page.waitForURL(new RegExp(`/proof/1\\?job=\\d+#q${number}$`));
    const press = (number, name) => page.locator(`#q${number}`).getByRole("button", { name }).click();
    await page.goto(origin + job.proof);
    await page.locator("#q2 .acts a").first().click();
    await page.waitForURL(/\/others\/2/);
    await audit("others");
    await page.getByRole("button", { name: /^Take this one/ }).nth(1).click();
    await done(2);
    told.steps.push(await page.textContent("#q2 .done p"));
    await press(3, /^Keep/);
    await page.waitForSelector("#q3 .marks");
    told.steps.push(await page.textContent("#q3 .marks"));
    await page.locator("#q4 .acts > details > summary").click();
    await press(4, /^Never again/);
    await done(4);
    told.steps.push(await page.textContent("#q4 .done p"));
    await audit("proof, changed");
  }
  if (job.bank) {
    await page.goto(origin + job.bank.page);
    await page.evaluate(dropped, [job.bank.name, readFileSync(job.bank.file, "utf8")]);
    await page.getByRole("button", { name: "Look at what is new" }).click();
    await page.waitForURL(/\/incoming$/);
    told.steps.push(await page.textContent("main > p"));
    await page.getByRole("button", { name: "Merge the banks" }).click();
    await page.waitForURL(origin + job.bank.page);
    told.steps.push(await page.textContent("main > [role=status]"));
  }
  if (job.answers) {
    await page.goto(`${origin}${job.answers.quiz}/answers`);
    await page.setInputFiles("#answers", job.answers.files);
    await page.getByRole("button", { name: "Read them", exact: true }).click();
    await page.getByRole("link", { name: "See what the answers show" }).click();
    await audit("answers, read");
    await page.getByRole("button", { name: "A plan for what to teach again" }).click();
    await page.waitForURL(/\/plan\//);
    await page.getByRole("link", { name: "Make the quiz" }).click();
    await page.getByLabel("Make them all the same").check();
    await page.getByRole("button", { name: "Make it" }).click();
    await page.getByRole("link", { name: "To the quiz and its packages" }).click();
    told.steps.push(await page.textContent("h1"));
  }
  for (const path of job.pages) {
    await page.goto(origin + path);
    await audit(path);
  }
  await context.close();
  return told;
}

const named = (text) => `(document.activeElement.textContent || document.activeElement.labels?.[0]?.textContent || "").trim().startsWith(${JSON.stringify(text)})`;
const labelled = (text) => `(document.activeElement.labels?.[0]?.textContent || "").trim() === ${JSON.stringify(text)}`;

for await (const line of createInterface({ input: process.stdin })) {
  process.stdout.write(`${JSON.stringify(await gone(JSON.parse(line)))}\n`);
}
await browser.close();
