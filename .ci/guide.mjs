// The guide in a real browser: at phone and desk width, light and dark, in print, searched, and looked over by axe-core.
// node guide.mjs SITE CHROMIUM; axe-core and puppeteer-core must be installed beside this file's copy.
import { readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";

const [site, chromium] = process.argv.slice(2);
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const html = (folder) => readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
  entry.isDirectory() ? html(join(folder, entry.name)) : entry.name.endsWith(".html") ? [join(folder, entry.name)] : []);
const size = (path) => readFileSync(path).length;

// Every page of the top, and of each kind the longest, the shortest and one in the middle.
const byFolder = new Map();
for (const path of html(resolve(site))) {
  const folder = path.slice(resolve(site).length + 1).split("/").slice(0, -1).join("/");
  byFolder.set(folder, [...(byFolder.get(folder) ?? []), path]);
}
const looked = [...byFolder].flatMap(([folder, paths]) => {
  if (!folder || folder === "chapter") return paths;
  const ordered = paths.sort((a, b) => size(a) - size(b));
  return [...new Set([ordered[0], ordered[Math.floor(ordered.length / 2)], ordered.at(-1)])];
});

const faults = [];
const browser = await puppeteer.launch({ executablePath: chromium, args: ["--no-sandbox", "--disable-gpu"], headless: true });
const page = await browser.newPage();
page.setDefaultTimeout(120_000);
page.on("request", (request) => { if (!/^(file|data):/.test(request.url())) faults.push(`asks outside: ${request.url()}`); });
page.on("pageerror", (error) => faults.push(`script: ${error.message}`));

for (const path of looked) {
  const name = path.slice(resolve(site).length + 1);
  for (const [width, scheme] of [[390, "light"], [1280, "dark"]]) {
    await page.setViewport({ width, height: 900 });
    await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
    await page.goto(pathToFileURL(path).href);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    if (over > 0) faults.push(`${name}: ${over} px too wide at ${width} px`);
    await page.evaluate(axe);
    const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
    for (const one of found.violations) faults.push(`${name} (${scheme}): ${one.id}: ${one.help}: ${one.nodes[0].html.slice(0, 120)}`);
  }
}

// Print: every page that was looked at gives paper without being wider than it.
await page.emulateMediaType("print");
let sheets = 0;
for (const path of looked) {
  await page.goto(pathToFileURL(path).href);
  const pdf = Buffer.from(await page.pdf({ format: "A4" })).toString("latin1");
  const count = (pdf.match(/\/Type\s*\/Page[^s]/g) ?? []).length;
  if (!count) faults.push(`${path}: prints nothing`);
  sheets += count;
}
await page.emulateMediaType(null);

// Search: a name with a slip in it finds the same page as the name itself.
const search = pathToFileURL(join(resolve(site), "search.html")).href;
const first = async (words) => {
  await page.goto(`${search}?q=${encodeURIComponent(words)}`);
  return page.evaluate(() => document.querySelector("#results a")?.getAttribute("href") ?? "");
};
const rows = await page.goto(search).then(() => page.evaluate(() => window.FIELD_GUIDE));
const named = rows.filter(([title, kind]) => kind === "finish" || kind === "piece").map(([title]) => title).filter((title) => title.length > 6);
let forgiven = 0;
for (const title of named) {
  const slip = title.slice(0, 3) + title.slice(4);
  if (await first(title) === await first(slip)) forgiven += 1;
}
if (named.length && forgiven < 0.8 * named.length) faults.push(`search forgives only ${forgiven} of ${named.length} slips`);
// A complaint in a sentence, with a slip in it, finds the trouble.
const complaint = await first("my chair woobles");
if (!complaint.startsWith("troubles.html#")) faults.push(`search: a complaint finds ${complaint || "nothing"}`);
// Keyboard: the first key leads to the link that skips to the text.
await page.goto(pathToFileURL(join(resolve(site), "index.html")).href);
await page.keyboard.press("Tab");
if (await page.evaluate(() => document.activeElement?.className) !== "skip") faults.push("index.html: the first stop of the keyboard is not the skip link");
await browser.close();

for (const fault of [...new Set(faults)]) console.log(fault);
console.log(`${looked.length} pages at 390 px light and 1280 px dark, ${sheets} sheets of A4, ${forgiven} of ${named.length} slips forgiven: ${faults.length} faults`);
process.exit(faults.length ? 1 : 0);
