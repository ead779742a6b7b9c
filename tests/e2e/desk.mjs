// Goes through the desk in headless Chromium, by keyboard alone, and audits every page and state with axe-core.
//
//   node desk.mjs MODULES CHROMIUM JOB.json     JOB: { "entry": address, "pages": [path], "keyboard": bool, "proof": path or null, "shots": folder or null }
//
// Prints as JSON: what is serious, what sticks out at 320 pixels, what was asked of any other place, what scripts said.

import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const [modules, browserPath, jobPath] = process.argv.slice(2);
const { chromium } = createRequire(join(modules, "package.json"))("playwright-core");
const axe = readFileSync(join(modules, "node_modules/axe-core/axe.min.js"), "utf8");
const job = JSON.parse(readFileSync(jobPath, "utf8"));
const FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"];
const SMALL = 320;
const LEAST_TARGET = 24;

const browser = await chromium.launch({ executablePath: browserPath, args: FLAGS });
const context = await browser.newContext({ viewport: { width: 1200, height: 900 }, reducedMotion: "reduce" });
const page = await context.newPage();
const origin = new URL(job.entry).origin;
const told = { serious: [], wide: [], small: [], asked: [], said: [], steps: [] };
page.on("request", (r) => { if (!r.url().startsWith(origin) && !r.url().startsWith("data:")) told.asked.push(r.url()); });
page.on("pageerror", (e) => told.said.push(e.message));
page.on("console", (m) => { if (m.type() === "error") told.said.push(m.text()); });

function sticksOut() {
  const wide = [...document.querySelectorAll("main *")].filter((each) => each.getBoundingClientRect().right > innerWidth + 1);
  return wide.slice(-1).map((each) => each.outerHTML.slice(0, 120));
}

async function audit(name) {
  for (const [scheme, width] of [["light", 1200], ["dark", SMALL]]) {
    await page.emulateMedia({ colorScheme: scheme });
    await page.setViewportSize({ width, height: 900 });
    // The policy of our pages lets no foreign script in: axe comes in past it, as a developer's tool does.
    const found = await page.evaluate(`${axe}; axe.run({ resultTypes: ["violations"] })`);
    for (const each of found.violations) {
      if (!["serious", "critical"].includes(each.impact)) continue;
      told.serious.push(`${name} ${scheme} ${width}: ${each.id}: ${each.nodes[0].html}`);
    }
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    if (over > 0) told.wide.push(`${name} ${width}: ${over} px: ${await page.evaluate(sticksOut)}`);
    if (job.shots) await page.screenshot({ path: join(job.shots, `${name.replace(/\W+/g, "_")}-${width}.png`), fullPage: true });
  }
  const small = await page.evaluate((least) => [...document.querySelectorAll("main :is(button, input:not([type=hidden]), select, summary, .button, .list a)")]
    .filter((e) => e.offsetParent && Math.min(e.offsetWidth, e.offsetHeight) < least).map((e) => e.outerHTML.slice(0, 80)), LEAST_TARGET);
  told.small.push(...small.map((html) => `${name}: ${html}`));
  await page.emulateMedia({ colorScheme: "light" });
  await page.setViewportSize({ width: 1200, height: 900 });
}

// Goes on with Tab until the focus is on what the test wants, as somebody without a mouse does.
async function tabTo(test, most = 400) {
  for (let n = 0; n < most; n += 1) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(test)) return;
  }
  throw new Error(`no Tab leads to ${test}`);
}
const named = (text) => `(document.activeElement.textContent || document.activeElement.labels?.[0]?.textContent || "").trim().startsWith(${JSON.stringify(text)})`;
const labelled = (text) => `(document.activeElement.labels?.[0]?.textContent || "").trim() === ${JSON.stringify(text)}`;

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
  await page.waitForFunction(() => document.querySelector('#preview-state [data-job="over"]'), null, { timeout: 120_000 });
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
  await page.waitForSelector(".next .button", { timeout: 120_000 });
  await audit("made");
  await tabTo(named("To the quiz"));
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/quiz\/made-by-keys/);
  told.steps.push(await page.textContent("h1"));
}
if (job.proof) {
  const done = (number) => page.waitForURL(new RegExp(`/proof/1\\?job=\\d+#q${number}$`), { timeout: 120_000 });
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
for (const path of job.pages) {
  await page.goto(origin + path);
  await audit(path);
}
await browser.close();
writeFileSync(1, JSON.stringify(told));
