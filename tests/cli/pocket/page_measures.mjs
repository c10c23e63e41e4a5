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
const TAPS = 20;
const OPENINGS = 5;
const PATIENCE = 60000;
const LOOKED_AT = 5000;
const DRAWN = 200; // ms without a stroke: the picture is whole

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
/// A tap on what `selector` names, made once the picture of the one before is drawn. In ms from the tap: `text` until
/// `what` holds in the page, the verdict in the strip is that of the text, and the page is laid out with both; `shown`
/// until the frame after that one begins, so until the browser was done with showing it; `picture` until the frame after
/// the last stroke in space that the tap leads to, where `drawn` says that it leads to one.
async function tap(page, selector, what, drawn) {
  await until(page, `${ready(selector)} && performance.now() - window.drawnAt > ${DRAWN}`);
  return page.value(`new Promise((done) => { const strip = document.querySelector(".strip"); const began = performance.now(); let [text, shown] = [0, 0];
    const holds = () => ${what} && !strip.classList.contains("old");
    // Until the page is painted anew, the verdict is that of the text before.
    const watch = new MutationObserver((changes) => { if (!changes.some((one) => one.target.className === "chips") || !holds()) { return; }
      watch.disconnect();
      const laid = new MessageChannel();
      laid.port1.onmessage = () => { text = performance.now() - began; };
      // What is asked for in a frame comes after its layout.
      laid.port2.postMessage(0);
      requestAnimationFrame(() => { shown = performance.now() - began; }); });
    watch.observe(document.body, { subtree: true, childList: true, attributes: true });
    document.querySelector(${JSON.stringify(selector)}).click();
    const look = () => { const now = performance.now();
      if (text > 0 && shown > 0 && (!${Boolean(drawn)} || window.drawnAt > began && now - window.drawnAt > ${DRAWN})) { done({ text, shown, picture: window.drawnAt - began }); } else { requestAnimationFrame(look); } };
    requestAnimationFrame(look); })`);
}
/// What waits for the program stands there before it can be pressed.
const ready = (selector) => `document.querySelector(${JSON.stringify(selector)}) && !document.querySelector(${JSON.stringify(selector)}).disabled`;
/// Keeps in `drawnAt` when a frame began in which all strokes so far were made.
const WATCH_STROKES = `window.drawnAt = 0;
  for (const kind of ['drawElements', 'drawArrays']) {
    const plain = WebGLRenderingContext.prototype[kind];
    let asked = false;
    WebGLRenderingContext.prototype[kind] = function (...args) {
      if (!asked) { asked = true; requestAnimationFrame(() => { asked = false; window.drawnAt = performance.now(); }); }
      return plain.apply(this, args);
    };
  }`;
/// What a finger waits for while it builds: offers at an end, the frame with one part more, what a part could be instead.
async function taps(page, text) {
  const open = text.replace('- LFK: cap', '- LFK: {tee: right}').replace(/ *- RBK: cap\n/, '');
  const [area, waits] = ['document.querySelector("#text").value', { offers: [], edit: [], choices: [] }];
  await put(page, open);
  await until(page, 'document.querySelector("#end-RB7-end")');
  for (let i = 0; i < TAPS; i += 1) {
    waits.offers.push(await tap(page, '#end-RB7-end', ready('#put-cross'), true));
    await tap(page, '#end-back', 'document.querySelector("#part-close")');
    await tap(page, '#part-close', 'document.querySelector("#end-LFK-up")', true);
    await tap(page, '#end-LFK-up', 'document.querySelector("#put-pipe")', true);
    await tap(page, '#put-pipe', 'document.querySelector("#put-12")');
    waits.edit.push(await tap(page, '#put-12', `${area}.includes("- P1: {pipe: 12}")`, true));
    // The panel of the new part's own end comes with its picture.
    await until(page, 'document.querySelector(".about").textContent.includes("P1.end")');
    await tap(page, '#end-back', 'document.querySelector("#part-close")');
    await tap(page, '#part-close', 'document.querySelector("#part-LB7")', true);
    waits.choices.push(await tap(page, '#part-LB7', ready('#adjust-longer'), true));
    waits.edit.push(await tap(page, '#adjust-longer', `${area}.includes("- LB7: {pipe: 4-1/2}")`, true));
    const before = await page.value('performance.now()');
    await put(page, open + '#'.repeat(i + 1));
    await until(page, `document.querySelector("#part-close") && window.drawnAt > ${before}`);
    await tap(page, '#part-close', 'document.querySelector("#end-LFK-up")', true);
  }
  const share = (values, part) => values.sort((a, b) => a - b)[Math.ceil(values.length * part) - 1];
  for (const [what, words] of [['offers', 'what can go on an open end'], ['edit', 'a part put on or made longer, to the verdict'], ['choices', 'what a part could be instead']]) {
    const of = (kind, part) => Math.round(share(waits[what].map((one) => one[kind]), part));
    tell(`95 of 100 taps in the seed store, ${words}, as text (half of them: ${of('text', 0.5)} ms)`, of('text', 0.95), 150, 'ms');
    console.log(`        drawn by the processor it is shown after ${of('shown', 0.5)} ms (95 of 100: ${of('shown', 0.95)} ms), its picture after ${of('picture', 0.5)} ms (${of('picture', 0.95)} ms)`);
  }
}
/// ms to the order of a text with another name, which has to be found anew; the strip may still tell of the one before.
async function order(page, name, text) {
  await put(page, text.replace(/^name: .*$/m, 'name: ' + name));
  const began = Date.now();
  await until(page, '/\\d+ (step|Schritt)/.test(document.querySelector(".chips").textContent) && document.querySelector("h1").textContent === "' + name + '" && !document.querySelector(".strip").classList.contains("old")');
  return Date.now() - began;
}
function half(values) { return values.sort((a, b) => a - b)[Math.ceil(values.length / 2) - 1]; }
/// The half of some openings, or of some orders: one alone says little on a machine that has other work.
function tellHalf(what, values, wanted) { tell(`${what}, half of ${values.length} (${values.join(', ')})`, half(values), wanted, 'ms'); }

const browser = Browser.start(chromium);
try {
  tell('the whole page', readFileSync(file).length, 4e6, 'bytes');
  const page = await browser.page();
  await page.send('Network.emulateNetworkConditions', { offline: true, latency: 0, downloadThroughput: 0, uploadThroughput: 0 });
  await page.send('Page.addScriptToEvaluateOnNewDocument', { source: WATCH_STROKES });
  await page.size(1280, 900, false);
  await page.open(url);
  await until(page, 'document.querySelector(".chip.good")');
  for (const [slower, most] of [[1, 1000], [4, 4000]]) {
    await page.send('Emulation.setCPUThrottlingRate', { rate: slower });
    const waits = [];
    for (let i = 0; i < OPENINGS; i += 1) {
      await page.value('localStorage.clear()');
      await page.open('about:blank');
      const began = Date.now();
      await page.open(url);
      await until(page, 'document.querySelector(".chip.good")');
      waits.push(Date.now() - began);
    }
    tellHalf(`first verdict after opening, processor slowed ${slower} times`, waits, most);
  }
  await page.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  // Whoever pastes a frame finds the page at rest.
  await until(page, '/\\d+ (step|Schritt)/.test(document.querySelector(".chips").textContent)');
  const read = (name) => readFileSync(join(scenarios, name + '.yaml'), 'utf8');
  const [store, orders] = [read('seed-store'), { rack: [], store: [] }];
  for (let i = 0; i < OPENINGS; i += 1) {
    orders.rack.push(await order(page, 'Rack ' + i, read('plant-rack')));
    orders.store.push(await order(page, 'Store ' + i, store));
  }
  tellHalf('the order of the plant rack (26 parts), from the last keystroke', orders.rack, 1000);
  tellHalf('the order of the seed store (68 parts), from the last keystroke', orders.store, 1000);
  const [, length] = /pipe: (\d+)/.exec(store);
  const waits = [];
  // Whoever begins to type has looked at the frame for some seconds.
  await new Promise((resolve) => setTimeout(resolve, LOOKED_AT));
  for (let i = 0; i < KEYSTROKES; i += 1) {
    const [from, to] = [`pipe: ${length}`, `pipe: ${length}.5`];
    waits.push(i % 2 === 0 ? await keystroke(page, from, to) : await keystroke(page, to, from));
  }
  waits.sort((a, b) => a - b);
  tell(`95 of ${KEYSTROKES} keystrokes in the seed store to the verdict (half of them: ${Math.round(waits[KEYSTROKES / 2 - 1])} ms)`, waits[KEYSTROKES * 0.95 - 1], 150, 'ms');
  await taps(page, store);
} finally {
  await browser.close();
}
console.log(found.every(Boolean) ? 'all within' : 'not all within');
