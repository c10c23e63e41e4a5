// How large the page is and how soon it answers, in a headless browser and with no network. What is wanted stands beside
// what was found, and the machine's load beside both: a busy machine proves nothing.
// usage: node page_measures.mjs PAGE CHROMIUM SCENARIOS
import { readFileSync } from 'node:fs';
import { loadavg } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Browser } from '../../bench/browser.mjs';

const [file, chromium, scenarios] = process.argv.slice(2);
const url = pathToFileURL(file).href;
const KEYSTROKES = 100;
const PATIENCE = 60000;

const found = [];
function tell(what, value, wanted, unit) {
  const well = value <= wanted;
  found.push(well);
  console.log(`${well ? 'within' : 'BEYOND'}: ${what}: ${Math.round(value)} ${unit} (wanted: ${wanted}), load ${loadavg()[0].toFixed(1)}`);
}
async function until(page, what) {
  for (const end = Date.now() + PATIENCE; Date.now() < end;) {
    if (await page.value(what)) { return; }
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  throw new Error('never: ' + what);
}
/// Puts a text into the field, as if it were pasted there.
function put(page, text) {
  return page.value(`(() => { const area = document.querySelector("#text"); area.value = ${JSON.stringify(text)}; area.dispatchEvent(new Event("input")); })()`);
}
/// One keystroke that makes a pipe longer or as long as it was: ms until the strip tells of the new text.
function keystroke(page, from, to) {
  return page.value(`new Promise((done) => { const area = document.querySelector("#text"); const strip = document.querySelector(".strip"); const began = performance.now();
    area.value = area.value.replace(${JSON.stringify(from)}, ${JSON.stringify(to)}); area.dispatchEvent(new Event("input"));
    const look = () => { if (performance.now() - began > 20 && !strip.classList.contains("old")) { done(performance.now() - began); } else { requestAnimationFrame(look); } };
    requestAnimationFrame(look); })`);
}
/// A text of another name has another order to be found.
async function order(page, text, what) {
  await put(page, text.replace(/^name: .*$/m, 'name: Another'));
  const began = Date.now();
  await until(page, '/\\d+ (step|Schritt)/.test(document.querySelector(".chips").textContent) && document.querySelector("h1").textContent === "Another"');
  tell(what, Date.now() - began, 1000, 'ms');
}

const browser = Browser.start(chromium);
try {
  tell('the whole page', readFileSync(file).length, 4e6, 'bytes');
  const page = await browser.page();
  await page.send('Network.emulateNetworkConditions', { offline: true, latency: 0, downloadThroughput: 0, uploadThroughput: 0 });
  await page.size(1280, 900, false);
  await page.open(url);
  await until(page, 'document.querySelector(".chip.good")');
  for (const [slower, most] of [[1, 1000], [4, 4000]]) {
    await page.send('Emulation.setCPUThrottlingRate', { rate: slower });
    await page.value('localStorage.clear()');
    await page.open('about:blank');
    const began = Date.now();
    await page.open(url);
    await until(page, 'document.querySelector(".chip.good")');
    tell(`first verdict after opening, processor slowed ${slower} times`, Date.now() - began, most, 'ms');
  }
  await page.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  const read = (name) => readFileSync(join(scenarios, name + '.yaml'), 'utf8');
  await order(page, read('plant-rack'), 'the order of the plant rack (26 parts), from the last keystroke');
  const store = read('seed-store');
  await order(page, store, 'the order of the seed store (68 parts), from the last keystroke');
  const [, length] = /pipe: (\d+)/.exec(store);
  const waits = [];
  for (let i = 0; i < KEYSTROKES; i += 1) {
    const [from, to] = [`pipe: ${length}`, `pipe: ${length}.5`];
    waits.push(i % 2 === 0 ? await keystroke(page, from, to) : await keystroke(page, to, from));
  }
  waits.sort((a, b) => a - b);
  tell(`95 of ${KEYSTROKES} keystrokes in the seed store to the verdict (half of them: ${Math.round(waits[KEYSTROKES / 2 - 1])} ms)`, waits[KEYSTROKES * 0.95 - 1], 150, 'ms');
} finally {
  await browser.close();
}
console.log(found.every(Boolean) ? 'all within' : 'not all within');
