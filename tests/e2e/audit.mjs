// Opens pages in headless Chromium at several widths, runs axe-core on each, and prints as JSON what it finds that is
// serious, whether anything sticks out to the right, what the page asked of the network, and how many pages it prints to.
//
//   node audit.mjs MODULES CHROMIUM JOB.json        JOB: { "pages": [path], "widths": [px], "shots": folder or null }

import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";

const [modules, browserPath, jobPath] = process.argv.slice(2);
const { chromium } = createRequire(join(modules, "package.json"))("playwright-core");
const axe = readFileSync(join(modules, "node_modules/axe-core/axe.min.js"), "utf8");
const job = JSON.parse(readFileSync(jobPath, "utf8"));
const FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"];

const browser = await chromium.launch({ executablePath: browserPath, args: FLAGS });
const told = {};
for (const path of job.pages) {
  const found = { serious: [], wide: [], asked: [], printed: 0 };
  for (const width of job.widths) {
    const page = await browser.newPage({ viewport: { width, height: 900 } });
    page.on("request", (request) => {
      if (!/^(file|data):/.test(request.url())) found.asked.push(request.url());
    });
    await page.goto(pathToFileURL(path).href);
    await page.addScriptTag({ content: axe });
    const result = await page.evaluate(() => window.axe.run());
    for (const each of result.violations) {
      if (["serious", "critical"].includes(each.impact)) found.serious.push(`${width}: ${each.id}: ${each.nodes[0].html}`);
    }
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    if (over > 0) found.wide.push(`${width}: ${over} px`);
    if (job.shots) await page.screenshot({ path: join(job.shots, `${basename(path)}-${width}.png`), fullPage: true });
    if (width === job.widths[0]) {
      const pdf = await page.pdf({ format: "Letter", path: job.shots ? join(job.shots, `${basename(path)}.pdf`) : undefined });
      found.printed = (pdf.toString("latin1").match(/\/Type\s*\/Page[^s]/g) ?? []).length;
    }
    await page.close();
  }
  told[path] = found;
}
await browser.close();
writeFileSync(1, JSON.stringify(told));
