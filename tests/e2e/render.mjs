// Shows QTI 3.0 items in a rendering library in headless Chromium, answers them as a student would, with mouse and
// keyboard, and prints what came of it as JSON.
//
//   node render.mjs MODULES CHROMIUM JOB.json
//
// MODULES is the folder with node_modules. The job names the folder of an unpacked package and its items, each with
// attempts; an attempt is a list of acts (see ACTS). For each item: its pictures, and for each attempt score and feedback.
// The window is `width` pixels wide (usually 1100); with `shots` each item is photographed into that folder. The job may
// also name HTML `pages` of the folder: for each its pictures, and how wide it is.

import { existsSync, readFileSync } from "node:fs";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { extname, join } from "node:path";

const [modules, browserPath, jobPath] = process.argv.slice(2);
const required = createRequire(join(modules, "package.json"));
const { chromium } = required("playwright-core");
const library = readFileSync(join(modules, "node_modules/@citolab/qti-components/cdn/index.global.js"));
const job = JSON.parse(readFileSync(jobPath, "utf8"));

const FLAGS = [
  "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];
const TYPES = { ".xml": "text/xml", ".png": "image/png", ".html": "text/html", ".css": "text/css" };
const PAGE = '<!doctype html><meta charset="utf-8"><link rel="icon" href="data:,"><script src="/library.js"></script>';
const STAGE = "/";

const missing = [];
const server = createServer((request, response) => {
  const send = (type, body) => response.setHeader("content-type", type).end(body);
  const file = join(job.folder, request.url);
  if (request.url === "/library.js") send("text/javascript", library);
  else if (request.url === STAGE) send("text/html", PAGE + "<body></body>");
  else if (request.url === "/favicon.ico") response.writeHead(204).end(); // asked for by the browser, not by a page
  else if (existsSync(file)) send(TYPES[extname(file)] ?? "text/plain", readFileSync(file));
  else {
    missing.push(request.url);
    response.writeHead(404).end();
  }
});

const ACTS = {
  click: (page, ident) => page.locator(`qti-simple-choice[identifier="${ident}"]`).click(),
  type: async (page, text) => {
    await page.locator("qti-text-entry-interaction input").fill(text);
    await page.keyboard.press("Tab");
  },
  pick: async (page, { response, choice }) => {
    const list = page.locator(`qti-inline-choice-interaction[response-identifier="${response}"]`);
    await list.locator('button[part="trigger"]').click();
    await list.locator(`qti-inline-choice[identifier="${choice}"]`).click();
  },
  fill: (page, { choice, gap }) =>
    dropped(page, `qti-gap-text[slot="drags"][identifier="${choice}"]`, `qti-gap[identifier="${gap}"]`, choice),
  place: (page, { choice, place }) =>
    dropped(page, `qti-simple-choice[identifier="${choice}"]`, `drop-list[identifier="droplist${place}"]`, choice),
};

// A busy machine may be too slow for the times that the library allows a press and a move: then once more.
async function dropped(page, from, to, ident) {
  for (let tries = 0; tries < 8; tries += 1) {
    await drag(page, from, to);
    if (await page.locator(`${to} [identifier="${ident}"]`).count()) return;
  }
  throw new Error(`${ident} cannot be dragged to ${to}`);
}

async function drag(page, from, to) {
  const middle = async (selector) => {
    const box = await page.locator(selector).first().boundingBox();
    return [box.x + box.width / 2, box.y + box.height / 2];
  };
  await page.mouse.move(...(await middle(from)));
  await page.mouse.down();
  await page.waitForTimeout(40); // the library takes a press for the start of a drag after 10 ms
  const [x, y] = await middle(to);
  await page.mouse.move(x - 5, y - 5, { steps: 4 });
  await page.mouse.move(x, y, { steps: 2 });
  await page.mouse.up();
  await page.waitForTimeout(40);
}

const pictures = () => {
  const root = document.querySelector("item-container")?.shadowRoot ?? document;
  return [...root.querySelectorAll("img")].map((i) => ({
    source: i.getAttribute("src"), alt: i.alt, loaded: i.complete && i.naturalWidth > 0, width: i.width,
    height: i.height, left: i.getBoundingClientRect().left, right: i.getBoundingClientRect().right,
    shape: i.naturalWidth / i.naturalHeight,
  }));
};

const handedIn = async () => {
  const item = document.querySelector("item-container").shadowRoot.querySelector("qti-assessment-item");
  item.processResponse();
  await new Promise((done) => setTimeout(done, 30));
  const open = [...item.querySelectorAll("qti-modal-feedback")].filter((f) => f.shadowRoot.querySelector("dialog").open);
  return {
    score: Number(item.variables.find((v) => v.identifier === "SCORE").value),
    feedback: open.map((f) => f.textContent.trim()),
  };
};

async function show(page, path) {
  await page.evaluate((url) => {
    document.body.innerHTML = `<qti-item><item-container item-url="${url}"></item-container></qti-item>`;
  }, `/${path}`);
  await page.waitForFunction(() => {
    const root = document.querySelector("item-container").shadowRoot;
    const images = [...(root?.querySelectorAll("img") ?? [])];
    return root?.querySelector("qti-assessment-item qti-item-body") && images.every((i) => i.complete);
  });
  await page.waitForTimeout(60); // drag and drop is set up after the first paint
}

await new Promise((done) => server.listen(0, "127.0.0.1", done));
const browser = await chromium.launch({ executablePath: browserPath, args: FLAGS });
const page = await browser.newPage({ viewport: { width: job.width ?? 1100, height: 1400 } });
const faults = [];
page.on("pageerror", (error) => faults.push(error.message));
page.setDefaultTimeout(10_000);
const pages = [];
for (const path of job.pages ?? []) {
  await page.goto(`http://127.0.0.1:${server.address().port}/${path}`);
  pages.push({
    path, pictures: await page.evaluate(pictures), width: await page.evaluate(() => document.scrollingElement.scrollWidth),
  });
  if (job.shots) await page.screenshot({ path: join(job.shots, `${path}.png`), fullPage: true });
}
await page.goto(`http://127.0.0.1:${server.address().port}${STAGE}`);
const items = [];
for (const { path, attempts } of job.items) {
  const told = { path, pictures: [], attempts: [] };
  for (const attempt of attempts) {
    await show(page, path);
    told.pictures = await page.evaluate(pictures);
    if (job.shots) await page.screenshot({ path: join(job.shots, `${items.length}.png`), fullPage: true });
    for (const [act, what] of attempt) await ACTS[act](page, what);
    told.attempts.push(await page.evaluate(handedIn));
  }
  items.push(told);
}
await browser.close();
server.close();
console.log(JSON.stringify({ items, pages, faults, missing }));
