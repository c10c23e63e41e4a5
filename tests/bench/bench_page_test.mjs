// Drives the bench page in a headless browser as somebody at the bench would.
// usage: node bench_page_test.mjs DRYFIT CHROMIUM SCENARIOS [FOLDER for screenshots [PART of the names of tests to run]]
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Browser } from './browser.mjs';

const [dryfit, chromium, scenarios, shots, only] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'dryfit-bench-'));
if (shots) { mkdirSync(shots, { recursive: true }); }

// Reading back what was drawn is slow; the driver says so of these tests, not of the page.
const OWN = /GL Driver Message .*GPU stall due to ReadPixels/;
/// The scenarios that have cards: two have no order.
const LOCKED = ['cellar-rail-ring', 'towel-ladder-plain'];
const BUILDABLE = readdirSync(scenarios).filter((file) => file.endsWith('.yaml') && !file.endsWith('.expect.yaml'))
  .map((file) => file.slice(0, -5)).filter((name) => !LOCKED.includes(name));
const NOW = 'document.querySelector(".leaf.now").id';
const DESKTOP = { name: 'desktop', width: 1280, height: 800, phone: false };
const PHONE = { name: 'phone', width: 390, height: 844, phone: true };

const pages = new Map();
/// Made once, for all tests.
function made(scenario) {
  if (!pages.has(scenario)) { pages.set(scenario, make(scenario)); }
  return pages.get(scenario);
}

function make(scenario) {
  const frame = join(scenarios, scenario + '.yaml');
  const file = join(folder, scenario + '.html');
  execFileSync(dryfit, ['cards', frame, '-o', file]);
  const order = JSON.parse(execFileSync(dryfit, ['order', frame, '--json'], { maxBuffer: 1 << 26 }));
  return { url: pathToFileURL(file).href, steps: order.steps, size: statSync(file).size };
}

async function shot(page, name) {
  await page.settled();
  const bytes = await page.picture();
  if (shots) { writeFileSync(join(shots, name + '.png'), bytes); }
  return bytes;
}

/// WCAG 2.1, success criterion 1.4.3: relative luminance and contrast of two sRGB colours.
const CONTRAST = `function (part) {
  function parse(text) { return text.match(/[\\d.]+/g).map(Number); }
  function light(c) {
    var l = c.slice(0, 3).map(function (v) { v /= 255; return v <= 0.03928 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4); });
    return 0.2126 * l[0] + 0.7152 * l[1] + 0.0722 * l[2];
  }
  var back = null;
  for (var at = part; at && !back; at = at.parentElement) {
    var c = parse(getComputedStyle(at).backgroundColor);
    if (c.length < 4 || c[3] > 0.99) { back = c; }
  }
  var a = light(parse(getComputedStyle(part).color)), b = light(back || [255, 255, 255]);
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}`;

/// Longer than what is taken for a double tap.
const pause = () => new Promise((resolve) => setTimeout(resolve, 400));

/// The view that is turned is there; its library is unpacked when it is first asked for.
const opened = (page) => page.value(`new Promise(function (done, fail) {
  var tries = 0;
  (function look() {
    if (document.querySelector(".turning canvas")) { done(); return; }
    if (tries++ > 300) { fail(new Error("the view does not open")); return; }
    setTimeout(look, 20);
  }());
})`);

const tests = [];
function test(name, run) { tests.push({ name, run }); }

for (const view of [DESKTOP, PHONE]) {
  const press = (page, selector) => (view.phone ? page.tap(selector) : page.click(selector));

  test(`on the ${view.name} the pages turn forward and back, by button and by key`, async (page, card) => {
    assert.equal(await page.value(NOW), 'start');
    assert.equal(await page.value('document.getElementById("back").disabled'), true);
    await shot(page, view.name + '-start');
    await press(page, '#next');
    assert.equal(await page.value(NOW), 'step-1');
    assert.equal(await page.value('document.activeElement.id'), 'step-1-h');
    await press(page, '#next');
    await press(page, '#back');
    assert.equal(await page.value(NOW), 'step-1');
    assert.equal(await page.value('document.querySelectorAll("input:checked").length'), 0);
    for (const key of ['ArrowRight', 'ArrowRight', 'ArrowLeft']) { await page.key(key); }
    assert.equal(await page.value(NOW), 'step-2');
    // One page is to be seen at a time.
    assert.equal(await page.value('[].filter.call(document.querySelectorAll(".leaf"), function (l) { return l.offsetHeight > 0; }).length'), 1);
    for (let i = 0; i < card.steps.length + 5; i += 1) { await page.key('ArrowRight'); }
    assert.equal(await page.value(NOW), 'end');
    assert.equal(await page.value('document.getElementById("next").disabled'), true);
    await shot(page, view.name + '-end');
  });

  test(`on the ${view.name} every step reads as in the order, with its picture and name`, async (page, card) => {
    for (let i = 0; i < card.steps.length; i += 1) {
      await page.key('ArrowRight');
      assert.equal(await page.value(NOW), 'step-' + (i + 1));
      assert.equal(await page.value('document.querySelector(".leaf.now .do").textContent'), card.steps[i].text_in_pose);
      const picture = await page.value(`(function () {
        var svg = document.querySelector(".leaf.now figure svg"), box = svg.getBoundingClientRect();
        return { width: box.width, height: box.height, name: svg.getAttribute("aria-label"), right: box.right };
      }())`);
      assert.ok(picture.width > 200 && picture.height > 120, JSON.stringify(picture));
      assert.ok(picture.name.includes(card.steps[i].text_in_pose));
      assert.ok(picture.right <= view.width + 0.5);
      const wide = await page.value('document.documentElement.scrollWidth');
      assert.ok(wide <= view.width, `step ${i + 1} is ${wide} wide`);
    }
    await shot(page, view.name + '-last-step');
  });

  test(`on the ${view.name} ticks and the place are there again after a reload, and can be cleared`, async (page, card) => {
    await press(page, '#start input[data-key="lay1"]');
    await press(page, '#next');
    await press(page, '#done');
    // A tap right behind is taken for the same one.
    await page.value('document.getElementById("done").click()');
    assert.equal(await page.value(NOW), 'step-2');
    await pause();
    await press(page, '#done');
    assert.equal(await page.value(NOW), 'step-3');
    await press(page, '#untick');
    assert.equal(await page.value(NOW), 'step-2');
    assert.equal(await page.value('document.querySelector("#step-2 input").checked'), false);
    await pause();
    await press(page, '#done');
    assert.equal(await page.value(NOW), 'step-3');
    await shot(page, view.name + '-step-3');
    const ticked = '[].map.call(document.querySelectorAll("input:checked"), function (b) { return b.dataset.key; }).join()';
    assert.equal(await page.value(ticked), 'lay1,1,2');
    await page.reload();
    assert.equal(await page.value(NOW), 'step-3');
    assert.equal(await page.value(ticked), 'lay1,1,2');
    assert.ok(await page.value('document.getElementById("step-2").classList.contains("ticked")'));
    const road = await page.value('document.getElementById("road").style.width');
    assert.ok(Math.abs(parseFloat(road) - 200 / card.steps.length) < 0.01, road);
    await press(page, '#step-3 input');
    assert.equal(await page.value(ticked), 'lay1,1,2,3');
    await press(page, '#step-3 input');
    assert.equal(await page.value(ticked), 'lay1,1,2');
    await page.value('location.hash = "#end"');
    await page.settled();
    await page.value('window.confirm = () => false; 0');
    await press(page, '#forget');
    assert.equal(await page.value(ticked), 'lay1,1,2');
    await page.value('window.confirm = () => true; 0');
    await press(page, '#forget');
    assert.equal(await page.value(ticked), '');
    await page.reload();
    assert.equal(await page.value(ticked), '');
  });

  test(`on the ${view.name} the view turns, enlarges and goes back to the drawing`, async (page) => {
    for (let i = 0; i < 6; i += 1) { await press(page, '#next'); }
    const before = await shot(page, view.name + '-drawing');
    await press(page, '#step-6 button.turn');
    await opened(page);
    assert.equal(await page.value('document.querySelector("#step-6 button.turn").getAttribute("aria-pressed")'), 'true');
    assert.equal(await page.value('document.activeElement.tagName'), 'CANVAS');
    assert.ok(await page.value('document.activeElement.getAttribute("aria-label").length > 20'));
    const still = await shot(page, view.name + '-turning');
    assert.notDeepEqual(still, before);
    // Something is drawn: the new piece's colour is on the canvas.
    const seen = async () => page.value(`new Promise(function (done) { requestAnimationFrame(function () {
      var from = document.querySelector("canvas"), copy = document.createElement("canvas");
      window.dispatchEvent(new Event("resize"));  // draws anew, in this frame
      copy.width = from.width; copy.height = from.height;
      var pen = copy.getContext("2d");
      pen.drawImage(from, 0, 0);
      var dots = pen.getImageData(0, 0, copy.width, copy.height).data, warm = 0, ink = 0, x = 0;
      for (var i = 0; i < dots.length; i += 4) {
        if (dots[i] < 250 || dots[i + 1] < 250 || dots[i + 2] < 250) { ink += 1; }
        if (dots[i] > 100 && dots[i] > 1.5 * dots[i + 2]) { warm += 1; x += (i / 4) % copy.width; }
      }
      done({ ink: ink / copy.width / copy.height, warm: warm, x: x / warm / copy.width });
    }); })`);
    const first = await seen();
    assert.ok(first.ink > 0.01 && first.ink < 0.9, JSON.stringify(first));
    assert.ok(first.warm > 20, JSON.stringify(first));
    await (view.phone ? page.swipe('canvas', 120, 30) : page.drag('canvas', 180, 40));
    const turned = await shot(page, view.name + '-turned');
    assert.notDeepEqual(turned, still);
    await page.key('ArrowLeft');
    assert.equal(await page.value(NOW), 'step-6');
    assert.notDeepEqual(await shot(page, view.name + '-turned-by-key'), turned);
    const before_plus = await seen();
    await page.key('+');
    const larger = await seen();
    assert.ok(larger.ink > before_plus.ink, JSON.stringify([first, before_plus, larger]));
    await press(page, '#step-6 button.turn');
    assert.equal(await page.value('document.querySelector("canvas")'), null);
    // The next page's view starts fresh, and the one before is closed.
    await press(page, '#step-6 button.turn');
    await opened(page);
    await press(page, '#next');
    await press(page, '#step-7 button.turn');
    await opened(page);
    assert.equal(await page.value('document.querySelectorAll("canvas").length'), 1);
    assert.ok(await page.value('document.querySelector("#step-7 canvas") !== null'));
    assert.equal(await page.value('document.querySelector("#step-6 button.turn").getAttribute("aria-pressed")'), 'false');
  });

  test(`on the ${view.name} the build plays by itself, forward and backward, until it is stopped`, async (page) => {
    await press(page, '#next');
    await press(page, '#step-1 button.play[data-by="1"]');
    assert.equal(await page.value('document.querySelector("#step-1 button.play[data-by=\\"1\\"]").getAttribute("aria-label")'), 'Stop');
    const reaches = async (id) => { for (const end = Date.now() + 20000; await page.value(NOW) !== id;) { assert.ok(Date.now() < end, id); await new Promise((resolve) => setTimeout(resolve, 50)); } };
    await reaches('step-3');
    await press(page, '.leaf.now button.play[data-by="-1"]');
    await reaches('step-1');
    await press(page, '#next');
    const stopped = await page.value(NOW);
    await new Promise((resolve) => setTimeout(resolve, 2500));
    assert.equal(await page.value(NOW), stopped);
    assert.equal(await page.value('document.querySelectorAll("input:checked").length'), 0, 'playing ticks nothing');
  });

  for (const scheme of ['light', 'dark']) {
    test(`on the ${view.name}, ${scheme}, all text stands out, all that is pressed is large enough and named`, async (page) => {
      await page.media('screen', scheme);
      await page.reload();
      for (let i = 0; i < 3; i += 1) { await press(page, '#done'); await pause(); }
      await shot(page, `${view.name}-${scheme}`);
      for (const id of ['start', 'step-3', 'end']) {
        await page.value(`location.hash = ${JSON.stringify('#' + id)}`);
        await page.settled();
        assert.equal(await page.value(NOW), id);
        const faint = await page.value(`(function () {
          var contrast = ${CONTRAST};
          return [].filter.call(document.querySelectorAll("h1, .leaf.now h2, .leaf.now h3, .leaf.now p, .leaf.now li, .leaf.now td, .leaf.now th, .leaf.now .tick span, .leaf.now figcaption, .bar button:not(:disabled), .keys, header p"),
            function (part) { return part.offsetHeight > 0 && part.textContent.trim() && contrast(part) < 4.5; })
            .map(function (part) { return part.tagName + "." + part.className + " " + part.textContent.slice(0, 30) + " " + contrast(part).toFixed(2); });
        }())`);
        assert.deepEqual(faint, []);
        const unnamed = await page.value(`(function () {
          return [].filter.call(document.querySelectorAll("button, input, [role=img], a"), function (part) {
            var name = part.getAttribute("aria-label") || part.textContent || (part.closest("label") || {}).textContent || "";
            return !name.trim();
          }).length;
        }())`);
        assert.equal(unnamed, 0);
        // 44 pixels: WCAG 2.1, success criterion 2.5.5 (target size).
        const small = await page.value(`(function () {
          return [].filter.call(document.querySelectorAll(".bar button, .leaf.now button, .leaf.now label.tick"), function (part) {
            var box = part.getBoundingClientRect();
            return box.height > 0 && box.height < 44;
          }).map(function (part) { return part.textContent; });
        }())`);
        assert.deepEqual(small, []);
        const wide = await page.value('document.documentElement.scrollWidth');
        assert.ok(wide <= view.width, `${id} is ${wide} wide`);
        // The bar covers nothing for good: scrolled to the end, the page's last line is above it.
        const clear = await page.value(`(function () {
          window.scrollTo(0, 1e6);
          var leaf = document.querySelector(".leaf.now").getBoundingClientRect(), bar = document.getElementById("bar").getBoundingClientRect();
          return bar.top - leaf.bottom;
        }())`);
        assert.ok(clear >= -1, `${id}: the bar covers ${-clear} px`);
      }
      await shot(page, `${view.name}-${scheme}-end`);
    });
  }
}

/// Leaf by leaf, all in one go: numbers that are broken over two lines, and what is needed to act that the bar covers.
/// @returns {{broken: string[], low: string[], numbers: number}}
const READ_ALL = `(function () {
  var broken = [], low = [], numbers = 0, next = document.getElementById("next");
  for (var back = document.getElementById("back"); !back.disabled;) { back.click(); }
  for (;;) {
    var leaf = document.querySelector(".leaf.now");
    var walk = document.createTreeWalker(leaf, NodeFilter.SHOW_TEXT), node;
    while ((node = walk.nextNode())) {
      if (node.parentElement.closest("svg")) { continue; }
      var find = /\\d+(?:[-.,]\\d+)*(?:\\/\\d+)?[\u00bc\u00bd\u00be]?/g, hit;
      while ((hit = find.exec(node.data))) {
        var range = document.createRange();
        range.setStart(node, hit.index);
        range.setEnd(node, hit.index + hit[0].length);
        numbers += 1;
        if (range.getClientRects().length > 1) { broken.push(leaf.id + ": " + hit[0]); }
      }
    }
    window.scrollTo(0, 0);
    var bar = document.getElementById("bar").getBoundingClientRect().top;
    [].forEach.call(leaf.querySelectorAll(".do, .trap, .watch, .first"), function (part) {
      var bottom = part.getBoundingClientRect().bottom;
      if (leaf.id !== "start" && leaf.id !== "end" && !part.closest("ul") && bottom > bar) {
        low.push(leaf.id + " by " + Math.round(bottom - bar) + ": " + part.textContent);
      }
    });
    if (next.disabled) { break; }
    next.click();
  }
  return { broken: broken, numbers: numbers, low: low };
}())`;

// The widths of common phones, in CSS pixels (from memory).
for (const width of [360, 375, 390, 412]) {
  test(`on a phone ${width} wide no number is broken, and what is needed to act is above the bar`, async (page) => {
    await page.size(width, 780, true);
    const wrong = [];
    for (const name of BUILDABLE) {
      await page.open(made(name).url);
      const seen = await page.value(READ_ALL);
      for (const text of [...seen.broken, ...seen.low]) { wrong.push(name + ', ' + text); }
      assert.ok(seen.numbers > 0);
    }
    assert.deepEqual(wrong, []);
  });
}

/// How much longer the machine takes now than it would with nothing else to do.
function crowding() {
  const before = process.cpuUsage(), start = performance.now();
  let sum = 0;
  for (let i = 0; i < 5e7; i += 1) { sum += i % 7; }
  const { user, system } = process.cpuUsage(before);
  return Math.max(1, sum > 0 ? (performance.now() - start) / ((user + system) / 1000) : 1);
}

// The largest page, as slow as a cheap phone: until its first picture is drawn.
test('on a phone slowed four times the first picture is there within a second', async (page) => {
  const { url, size } = made('seed-store');
  await page.send('Page.addScriptToEvaluateOnNewDocument', { source: `(function look() {
    var use = document.querySelector("#start figure svg use");
    var whole = use && document.querySelector(use.getAttribute("href")) && document.querySelector("#start figcaption");
    if (whole && use.getBoundingClientRect().width > 0) {
      requestAnimationFrame(function () { setTimeout(function () { window.seenAt = performance.now(); }); });
      return;
    }
    requestAnimationFrame(look);
  }())` });
  await page.send('Emulation.setCPUThrottlingRate', { rate: 4 });
  const times = [];
  for (let i = 0; i < 6; i += 1) {
    const crowded = crowding();
    await page.open(url + '?' + i);
    const seen = await page.value(`new Promise(function (done) { (function wait() {
      if (window.seenAt) { done(window.seenAt); } else { setTimeout(wait, 20); }
    }()); })`);
    times.push({ seen, alone: seen / Math.max(crowded, crowding()) });
  }
  await page.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  const alone = times.map((time) => time.alone);
  console.log(`the first picture of a page of ${(size / 1e6).toFixed(2)} MB: ${times.map(({ seen }) => Math.round(seen)).join(', ')} ms; ` +
    `with the machine to itself ${alone.map(Math.round).join(', ')} ms`);
  assert.ok(Math.min(...alone) < 1000, alone.join(' '));
});

test('the keyboard alone gets everywhere, in the order in which things stand', async (page) => {
  await page.key('ArrowRight');
  const order = [];
  for (let i = 0; i < 12; i += 1) {
    await page.key('Tab');
    order.push(await page.value('document.activeElement.id || document.activeElement.className || document.activeElement.dataset.key || document.activeElement.tagName'));
  }
  const places = ['turn', '1', 'back', 'done', 'next'].map((name) => order.indexOf(name));
  assert.ok(places.every((place, i) => place >= 0 && (i === 0 || place > places[i - 1])), order.join(' '));
  await page.value('document.getElementById("step-1-h").focus()');
  await page.key('d');
  assert.equal(await page.value(NOW), 'step-2');
  assert.ok(await page.value('document.querySelector("#step-1 input").checked'));
});

test('the list of all steps leads to a step and marks those that are done', async (page) => {
  await page.click('#next');
  await page.click('#done');
  await page.click('header summary');
  assert.equal(await page.value('document.querySelectorAll("nav a.ticked").length'), 1);
  await shot(page, 'list');
  await page.click('nav a[href="#step-5"]');
  assert.equal(await page.value(NOW), 'step-5');
  assert.equal(await page.value('document.querySelector("header details").open'), false);
});

test('the last page has a table of what a change of mind costs', async (page, card) => {
  await page.value('location.hash = "#end"');
  await page.settled();
  const table = await page.value(`(function () {
    var rows = document.querySelectorAll("#end table.swaps tbody tr");
    return { rows: rows.length, columns: document.querySelectorAll("#end table.swaps thead th").length,
      first: [].map.call(rows, function (row) { return row.cells[1].textContent; }).join(""),
      last: [].every.call(rows, function (row) { return parseInt(row.cells[row.cells.length - 1].textContent, 10) >= 1; }) };
  }())`);
  assert.ok(table.rows >= 5);
  assert.equal(table.columns, card.steps.length + 2);
  assert.equal(table.first, '');
  assert.ok(table.last);
});

test('without scripts every step can be read, with its picture', async (page, card) => {
  await page.send('Emulation.setScriptExecutionDisabled', { value: true });
  await page.reload();
  const seen = await page.value(`(function () {
    var shown = function (part) { return part.getBoundingClientRect().height > 0; };
    return { texts: [].filter.call(document.querySelectorAll(".leaf .do"), shown).map(function (p) { return p.textContent; }),
      pictures: [].filter.call(document.querySelectorAll(".leaf figure svg"), shown).length,
      dead: [].filter.call(document.querySelectorAll("button"), shown).length };
  }())`);
  assert.deepEqual(seen.texts, card.steps.map((step) => step.text_in_pose));
  assert.equal(seen.pictures, card.steps.length + 1);
  assert.equal(seen.dead, 0);
  await page.send('Emulation.setScriptExecutionDisabled', { value: false });
});

test('printed, all steps are on the paper and no buttons', async (page, card) => {
  await page.key('ArrowRight');
  await page.click('#step-1 button.turn');
  await opened(page);
  await page.media('print', 'light');
  const seen = await page.value(`(function () {
    var shown = function (part) { return part.getBoundingClientRect().height > 0; };
    return { steps: [].filter.call(document.querySelectorAll(".leaf .do"), shown).length,
      pictures: [].filter.call(document.querySelectorAll(".leaf figure svg"), shown).length,
      buttons: [].filter.call(document.querySelectorAll("button, canvas, .bar"), shown).length };
  }())`);
  assert.deepEqual(seen, { steps: card.steps.length, pictures: card.steps.length + 1, buttons: 0 });
  const { data } = await page.send('Page.printToPDF', {});
  if (shots) { writeFileSync(join(shots, 'printed.pdf'), Buffer.from(data, 'base64')); }
  assert.equal(Buffer.from(data, 'base64').subarray(0, 5).toString(), '%PDF-');
  await page.media('screen', 'light');
});

let failed = 0;
const browser = Browser.start(chromium);
try {
  const card = made('pot-rail');
  for (const { name, run } of tests.filter((one) => !only || one.name.includes(only))) {
    const page = await browser.page();
    try {
      const phone = name.includes('phone');
      const view = phone ? PHONE : DESKTOP;
      await page.size(view.width, view.height, view.phone);
      await page.media('screen', 'light');
      // The network is cut: what the page needs is in the page.
      await page.send('Network.emulateNetworkConditions', { offline: true, latency: 0, downloadThroughput: 0, uploadThroughput: 0 });
      await page.open(card.url);
      await page.value('localStorage.clear(); location.hash = ""');
      await page.open(card.url + '?' + tests.findIndex((t) => t.name === name));
      await run(page, { ...card, url: card.url + '?' + tests.findIndex((t) => t.name === name) });
      assert.deepEqual(page.complaints.filter((text) => !OWN.test(text)), []);
      const foreign = page.requests.filter((url) => !url.startsWith(pathToFileURL(folder).href));
      assert.deepEqual(foreign, []);
      console.log('ok: ' + name);
    } catch (error) {
      failed += 1;
      console.log('FAILED: ' + name + '\n' + (error.stack || error));
      if (page.complaints.length > 0) { console.log('the page said: ' + page.complaints.join('\n')); }
    }
    await browser.send('Target.closeTarget', { targetId: page.targetId });
  }
  const large = made('seed-store');
  for (const view of [DESKTOP, PHONE]) {
    const page = await browser.page();
    await page.size(view.width, view.height, view.phone);
    await page.open(large.url + '#end');
    const wide = await page.value('document.documentElement.scrollWidth');
    if (wide > view.width || page.complaints.length > 0) {
      failed += 1;
      console.log(`FAILED: a large frame on the ${view.name}: ${wide} wide ${page.complaints.join('\n')}`);
    }
    await shot(page, 'large-' + view.name + '-end');
    await browser.send('Target.closeTarget', { targetId: page.targetId });
  }
} finally {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
console.log(`${tests.length} tests, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
