// The page's scripts without a browser: node --test tests/cli/pocket/scripts_test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { test } from 'node:test';
import { numbersIn } from '../../../cli/pocket/page/build.mjs';
import { Engine, GivenUp } from '../../../cli/pocket/page/engine.mjs';
import { changedRows, History } from '../../../cli/pocket/page/editor.mjs';
import { coloured, faultsOf, frameName, hintAt, isEmpty, partAt, partsIn, suggestionsAt, unitsOf, vocabularyOf, withLength } from '../../../cli/pocket/page/frame_text.mjs';
import { inches, lengthForFile, lengthFrom, lengthText, weightText } from '../../../cli/pocket/page/lengths.mjs';
import { frameFromLink, linkPart } from '../../../cli/pocket/page/link.mjs';
import { bytesOf, eachPiece } from '../../../cli/pocket/page/packing.mjs';
import { embedded } from '../../../cli/pocket/page/page_copy.mjs';
import { answer, app } from '../../../cli/pocket/page/app.mjs';
import { textOf, wheelsOf } from '../../../cli/pocket/page/length_wheel.mjs';
import { gripOnFitting, gripOnPipe, spread } from '../../../cli/pocket/page/picture_marks.mjs';
import { curesOf } from '../../../cli/pocket/page/put_cures.mjs';
import { surfaceAt } from '../../../cli/pocket/page/put_frame.mjs';
import { idOf, squareTo, wayOf as wayTo } from '../../../cli/pocket/page/put_on.mjs';
import { alongside, axisOf, extentOf } from '../../../cli/pocket/page/put_part.mjs';
import { surfacesIn } from '../../../cli/pocket/page/put_start.mjs';
import { builtArgument, forgettable, isDone, partsThere, standing, stillThere, ticked } from '../../../cli/pocket/page/progress.mjs';
import { across, sizeOf } from '../../../cli/pocket/page/sheets.mjs';
import { nameOfText, Store } from '../../../cli/pocket/page/store.mjs';
import { unwrapped } from '../../../cli/pocket/page/told.mjs';
import { eye, roomFor } from '../../../cli/pocket/page/view.mjs';
import { oneTap, Player, wayOf } from '../../../cli/pocket/page/walk.mjs';
import { showStep } from '../../../cli/pocket/page/turned_step.mjs';
import { filled, readCatalogue, say, sayN, speak } from '../../../cli/pocket/page/words.mjs';

const RACK = readFileSync(new URL('../../../scenarios/plant-rack.yaml', import.meta.url), 'utf8');
const SCHEMA = JSON.parse(readFileSync(new URL('../../../cli/schemas/frame.json', import.meta.url), 'utf8'));

/// A compiled catalogue as gettext writes it: sorted, texts ended by a zero byte.
function catalogue(entries) {
  const encoder = new TextEncoder();
  const rows = [['', 'Content-Type: text/plain; charset=UTF-8\n'], ...entries];
  const texts = [...rows.map((row) => row[0]), ...rows.map((row) => row[1])].map((text) => encoder.encode(text));
  const start = 28 + 16 * rows.length;
  const bytes = new Uint8Array(start + texts.reduce((sum, text) => sum + text.length + 1, 0));
  const view = new DataView(bytes.buffer);
  [0x950412de, 0, rows.length, 28, 28 + 8 * rows.length, 0, 0].forEach((word, i) => view.setUint32(4 * i, word, true));
  let at = start;
  texts.forEach((text, i) => {
    view.setUint32(28 + 8 * i, text.length, true);
    view.setUint32(28 + 8 * i + 4, at, true);
    bytes.set(text, at);
    at += text.length + 1;
  });
  return bytes;
}

test('words come from the catalogue, numbered blanks may change places, and what is missing stays English', () => {
  speak('de', readCatalogue(catalogue([['Step {0} of {1}', 'Von {1} Schritten der {0}.'], ['{} page', '{} Seite\0{} Seiten'], ['Größe', 'Maß']])));
  assert.equal(say('Step {0} of {1}', 3, 28), 'Von 28 Schritten der 3.');
  assert.equal(say('Größe'), 'Maß');
  assert.equal(say('Not translated: {}', 7), 'Not translated: 7');
  assert.equal(sayN(1, '{} page', '{} pages'), '1 Seite');
  assert.equal(sayN(0, '{} page', '{} pages'), '0 Seiten');
  speak('en', null);
  assert.equal(sayN(2, '{} page', '{} pages'), '2 pages');
  assert.equal(filled('{} and {}', ['a']), 'a and {}');
  assert.throws(() => readCatalogue(new TextEncoder().encode('not a catalogue at all, but long enough to look at')));
});

test('all that the page says is in the German catalogue', () => {
  const folder = new URL('../../../cli/pocket/page/', import.meta.url);
  const german = readCatalogue(execFileSync('msgfmt', ['-o', '-', new URL('../../../cli/languages/de.po', import.meta.url).pathname]));
  const said = new Set();
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.mjs'))) {
    const source = readFileSync(new URL(file, folder), 'utf8');
    for (const found of source.matchAll(/\bsay\('(?!')((?:[^'\\]|\\.)*)'|\bsayN\([^']*'(?!')((?:[^'\\]|\\.)*)'/g)) { said.add((found[1] ?? found[2]).replace(/\\'/g, "'")); }
  }
  assert.ok(said.size > 200, String(said.size));
  assert.deepEqual([...said].filter((one) => !german.has(one)), []);
});

test('a number with its fraction and unit is one piece; names of parts are none', () => {
  const numbers = (text) => numbersIn(text).filter(([, number]) => number).map(([piece]) => piece);
  assert.deepEqual(numbers('hold T2, turn P6 4-3/4 turns.'), ['4-3/4 turns']);
  assert.deepEqual(numbers('turn P6 4¾ turns.'), ['4¾ turns']);
  assert.deepEqual(numbers('turn it 3/4 of a turn, 33-15/16 in from the left'), ['3/4', '33-15/16 in']);
  assert.deepEqual(numbers('7.1 lb (3.2 kg), 9 in, 114 mm'), ['7.1 lb', '3.2 kg', '9 in', '114 mm']);
  assert.deepEqual(numbers('P1, T2 and S10'), []);
  for (const text of ['Screw P6 up into T2: hold T2, turn P6 4-3/4 turns.', '1/2 in 3-4 <b>5 in</b>', '']) {
    assert.equal(numbersIn(text).map(([piece]) => piece).join(''), text);
  }
});

test('inches are read and written as at a counter', () => {
  const cases = [[254, '10'], [120.65, '4-3/4'], [1.5875, '1/16'], [0, '0'], [25.4 * 33.9375, '33-15/16'], [25.39, '1'], [-12.7, '-1/2']];
  for (const [mm, text] of cases) { assert.equal(inches(mm), text); }
  for (let thirty = 1; thirty < 400; thirty += 1) {
    const mm = thirty * 25.4 / 32;
    assert.ok(Math.abs(lengthFrom(inches(mm), 'in') - mm) < 1e-9, inches(mm));
    assert.ok(Math.abs(lengthFrom(lengthForFile(mm, 'in'), 'in') - mm) < 0.005);
    assert.ok(Math.abs(lengthFrom(lengthForFile(mm, 'mm'), 'mm') - mm) < 0.005);
    assert.ok(Math.abs(lengthFrom(lengthForFile(mm, 'cm'), 'cm') - mm) < 0.005);
  }
  assert.equal(lengthForFile(100, 'in'), '100 mm');
  assert.equal(lengthText(114.3, 'mm', true), '114,3 mm');
  assert.equal(lengthText(114.3, 'in', true), '4-1/2 Zoll');
  assert.equal(weightText(10, 'in', false), '22.0 lb');
  assert.ok(Number.isNaN(lengthFrom('ten', 'in')));
});

test('parts, name and units are found in a frame file', () => {
  assert.equal(frameName(RACK), 'Plant rack');
  assert.equal(frameName('name: "A <b> frame" # ours\n'), 'A <b> frame');
  assert.equal(unitsOf('units: mm\n'), 'mm');
  const parts = partsIn(RACK);
  assert.deepEqual(parts.map((part) => part.id).join(' '),
    'floor wall FL P1 T1 P2 C1 P3 C2 P4 C3 P5 K1 R1 FR P6 T2 P7 C4 P8 C5 P9 C6 P10 K2 S1 S2 S3');
  for (const part of parts) {
    assert.equal(RACK.slice(part.from, part.to), part.id);
    assert.ok(RACK.split('\n')[part.line - 1].includes(part.id));
  }
  assert.equal(parts.find((part) => part.id === 'P3').kind, 'pipe');
  assert.equal(partAt(RACK, RACK.indexOf('P3: {pipe') + 3).id, 'P3');
  assert.equal(partAt(RACK, 3), null);
  assert.deepEqual(partsIn('runs:\n  a: {go: up, parts: [A: {pipe: 6}, E: {elbow: right}]}\n').map((part) => part.id), ['A', 'E']);
});

test('a length is changed where it stands, and nothing else is', () => {
  const longer = withLength(RACK, 'P3', '12-1/2');
  assert.equal(longer.split('\n').filter((line, i) => line !== RACK.split('\n')[i]).join(), '      - P3: {pipe: 12-1/2}');
  assert.equal(withLength(longer, 'P3', '10'), RACK);
  assert.equal(withLength(RACK, 'P30', '1'), null);
  assert.equal(withLength('runs: {a: {parts: [AP3: {pipe: 1}, P3: {size: 1/2, pipe: "4 1/2"}]}}', 'P3', '5'), 'runs: {a: {parts: [AP3: {pipe: 1}, P3: {size: 1/2, pipe: 5}]}}');
});

test('colours cut a line without losing a byte of it', () => {
  for (const line of RACK.split('\n')) { assert.equal(coloured(line).map(([piece]) => piece).join(''), line); }
  assert.deepEqual(coloured('  - P1: {pipe: 4-1/2}  # ours'), [['  - ', ''], ['P1', 'key'], [': {', ''], ['pipe', 'key'], [': ', ''], ['4-1/2', 'figure'], ['}  ', ''], ['# ours', 'remark']]);
  assert.deepEqual(coloured('name: "a # b"').at(-1), ['"a # b"', 'word']);
});

test('faults are taken from what the program says, file names with colons and all', () => {
  assert.deepEqual(faultsOf("my.yaml:14:9: part 'P3': length: expected a length\nmy.yaml:20: no runs\n", 'my.yaml'),
    [{ line: 14, column: 9, text: "part 'P3': length: expected a length" }, { line: 20, column: 1, text: 'no runs' }]);
  assert.deepEqual(faultsOf('dryfit: my.yaml is too large\n', 'my.yaml'), [{ line: 0, column: 0, text: 'my.yaml is too large' }]);
  assert.deepEqual(faultsOf('', 'my.yaml'), []);
});

test('suggestions fit the place', () => {
  const words = vocabularyOf(SCHEMA);
  const at = (text) => suggestionsAt(text, text.length, words).words.map(({ word }) => word);
  assert.ok(at('').includes('runs') && at('').includes('boards'));
  assert.deepEqual(at('un'), ['units']);
  assert.deepEqual(at('units: '), ['in', 'mm', 'cm']);
  assert.ok(at('runs:\n  a:\n    ').includes('parts'));
  assert.ok(at('runs:\n  a:\n    parts:\n      - T1: {').includes('tee'));
  assert.ok(at('runs:\n  a:\n    parts:\n      - P1: {pi').includes('pipe'));
  assert.ok(at('runs:\n  a:\n    parts:\n      - T1: {tee: ').includes('right'));
  assert.ok(at('runs:\n  a:\n    parts:\n      - T1: {tee: right}\n  b:\n    from: T1.').includes('T1.right'));
  assert.deepEqual(at(RACK + '  S4:\n    through: [P1').sort(), ['P10'].sort());
  assert.ok(at(RACK + '  S4:\n    rests-on: [C').includes('C1'));
  assert.deepEqual(at('name: a # un'), []);
  assert.equal(hintAt('units: in', 3, words), 'units: ' + SCHEMA.properties.units.description);
  assert.match(hintAt('units: in', 7, words), /^units: /);
  assert.equal(hintAt('  - P1', 6, words), '');
});

test('a frame goes into a link and comes back, and a broken or swollen one is refused', async () => {
  const part = await linkPart('rack <b>.yaml', RACK);
  assert.match(part, /^#frame=[A-Za-z0-9_-]+$/);
  assert.ok(part.length < 1600, String(part.length));
  assert.deepEqual(await frameFromLink(part), { name: 'rack <b>.yaml', text: RACK });
  assert.equal(await frameFromLink('#elsewhere'), null);
  await assert.rejects(frameFromLink(part.slice(0, -20)));
  await assert.rejects(frameFromLink('#frame=AAAA'));
  await assert.rejects(frameFromLink(await linkPart('a', ' '.repeat(17 * 1024 * 1024))), /too long/);
});

test('a frame that is put into a page cannot end the element it stands in', () => {
  const frame = { name: 'a', text: '</script><script>alert(1)</script><!--\u2028' };
  assert.ok(!embedded(frame).includes('<'));
  assert.deepEqual(JSON.parse(embedded(frame)), frame);
});

function storage(room = Infinity) {
  const kept = new Map();
  return { getItem: (key) => kept.get(key) ?? null, setItem: (key, text) => { if (text.length > room) { throw new Error('full'); } kept.set(key, text); } };
}
test('frames are kept newest first, the oldest go when room runs out, and blocked storage is noticed', () => {
  const frame = (id, text = id) => ({ id, name: id, text, made: ['a'], ticked: [], step: 2 });
  const full = storage(500);
  const store = new Store(full);
  for (const id of ['one', 'two', 'three']) { assert.ok(store.keep(frame(id, id.repeat(40)))); }
  const again = new Store(full);
  assert.equal(again.frames[0].id, 'three');
  assert.deepEqual(again.frames[0].made, ['a']);
  assert.ok(again.frames.length < 3);
  assert.equal(store.keep(frame('large', 'x'.repeat(1000))), false);
  assert.equal(store.works, false);
  const blocked = new Store({ getItem: () => { throw new Error('no'); }, setItem: () => { throw new Error('no'); } });
  assert.equal(blocked.works, false);
  assert.equal(blocked.keep(frame('one')), false);
  assert.notEqual(nameOfText('ab'), nameOfText('ba'));
  const odd = storage();
  odd.setItem('dryfit', '{"frames": [null, 5, {"id": "x"}, {"id": "a", "text": "t", "made": "no", "step": "x"}], "settings": 3}');
  assert.deepEqual(new Store(odd).frames, [{ id: 'a', name: '', text: 't', made: [], ticked: [], step: 0, source: '' }]);
});

const STEPS = [{ number: 1, contacts: ['a'], moving: ['A'], holding: [] }, { number: 2, contacts: ['b', 'c'], moving: ['B'], holding: ['A'] }, { number: 3, contacts: ['d'], moving: ['D'], holding: ['B'] }];
test('ticks in and out of order are told apart', () => {
  let made = ticked(STEPS[0], new Set(), true);
  assert.deepEqual(standing(STEPS, made), { done: 1, inOrder: true, ahead: [] });
  assert.equal(builtArgument(STEPS, made), '1');
  made = ticked(STEPS[2], made, true);
  assert.deepEqual(standing(STEPS, made), { done: 1, inOrder: false, ahead: [3] });
  assert.equal(builtArgument(STEPS, made), 'a, d');
  assert.ok(!isDone(STEPS[1], new Set(['b'])));
  made = ticked(STEPS[1], made, true);
  assert.deepEqual(standing(STEPS, made), { done: 3, inOrder: true, ahead: [] });
  assert.deepEqual([...ticked(STEPS[1], made, false)], ['a', 'd']);
  assert.deepEqual([...stillThere(made, ['a', 'd', 'e'])], ['a', 'd']);
  const numbers = { parts: ['A', 'B', 'D'].map((label) => ({ label, id: label })), contacts: [{ contact: 'a', between: [0, -1] }, { contact: 'd', between: [1, 2] }] };
  assert.deepEqual(partsThere(numbers, new Set(['a']), null), [0]);
  assert.deepEqual(partsThere(numbers, new Set(['a']), STEPS[1]), [0, 1]);
});

test('easy to forget is what no step reminds of before its last call', () => {
  const call = (part, last, asked, price) => ({ part, last_call_step: last, trap: true, asked_for_step: asked, price_moves: price });
  const order = { steps: [{ last_calls: [call('S1', 14, null, 3), call('R1', 13, 4, 5)] }, { last_calls: null }, { last_calls: [call('FR', 26, 28, 4), { ...call('P1', 5, null, 9), trap: false }] }] };
  assert.deepEqual(forgettable(order).map((one) => one.part), ['FR', 'S1']);
});

test('lines that a terminal broke are whole again, lists and tables stay', () => {
  const text = 'Hall shelf: getting P3 out takes 3 moves, and no way takes fewer, which is what a long line says\nhere.\n\n   1. Unscrew K1.\n   2. Unscrew K2.\n';
  assert.deepEqual(unwrapped(text), ['Hall shelf: getting P3 out takes 3 moves, and no way takes fewer, which is what a long line says here.', '', '   1. Unscrew K1.', '   2. Unscrew K2.']);
});

test('a page of the program keeps its size on the sheet, and one that is too wide lies across', () => {
  const [a4, letter] = [{ width: 210, height: 297 }, { width: 215.9, height: 279.4 }];
  assert.deepEqual(sizeOf('0 0 215.9 279.4'), letter);
  assert.equal(across(sizeOf('0 0 210 297'), a4), false);
  assert.equal(across(sizeOf('0 0 297 210'), a4), true);
  assert.equal(across(letter, letter), false);
  assert.equal(across({ width: 279.4, height: 215.9 }, letter), true);
});

test('the eye stands where it is said, and labels make room for one another', () => {
  const close = (a, b) => a.every((value, i) => Math.abs(value - b[i]) < 1e-12);
  assert.ok(close(eye(0, 0).toward, [0, -1, 0]) && close(eye(0, 0).up, [0, 0, 1]) && close(eye(0, 0).right, [1, 0, 0]));
  assert.ok(close(eye(90, 0).toward, [1, 0, 0]));
  assert.ok(close(eye(0, 90).toward, [0, 0, 1]) && close(eye(0, 90).up, [0, 1, 0]));
  assert.deepEqual(roomFor([{ x: 0, y: 0, width: 10, height: 4 }, { x: 9, y: 3, width: 10, height: 4 }, { x: 9, y: 4, width: 10, height: 4 }]), [true, false, true]);
});

test('undo gives back the very bytes', () => {
  const history = new History('a');
  history.add('ab');
  history.add('ab');
  history.add('abc');
  assert.equal(history.undo(), 'ab');
  assert.equal(history.undo(), 'a');
  assert.equal(history.undo(), 'a');
  assert.equal(history.redo(), 'ab');
  history.add('x');
  assert.ok(!history.canRedo);
  assert.equal(history.undo(), 'ab');
});

/// A worker that answers by hand.
class FakeWorker {
  constructor() { this.got = []; }
  postMessage(message) {
    this.got.push(message);
    if (message.start) { queueMicrotask(() => this.onmessage({ data: { number: message.number, answer: { version: '1' } } })); }
  }
  terminate() { this.ended = true; }
  reply(data) { this.onmessage({ data: { number: this.got.at(-1).number, ...data } }); }
}
function fakes() {
  const workers = [];
  const engine = new Engine(async () => { const worker = new FakeWorker(); workers.push(worker); return { worker, options: {} }; });
  return { engine, workers };
}
const tick = () => new Promise((resolve) => setTimeout(resolve, 5));

test('questions are answered one after another, stale ones are dropped', async () => {
  const { engine, workers } = fakes();
  let old = false;
  const told = [];
  const first = engine.ask({ args: ['a'] }, { progress: (line) => told.push(line) });
  const second = engine.ask({ args: ['b'] }, { stale: () => old });
  const third = engine.ask({ args: ['c'] });
  await tick();
  assert.equal(workers[0].got.length, 2);
  old = true;
  workers[0].reply({ progress: 'half' });
  workers[0].reply({ answer: { out: '1' } });
  assert.deepEqual(await first, { out: '1' });
  await assert.rejects(second, GivenUp);
  await tick();
  assert.deepEqual(workers[0].got.at(-1).request, { args: ['c'] });
  workers[0].reply({ answer: { out: '3' } });
  assert.deepEqual(await third, { out: '3' });
  assert.deepEqual(told, ['half']);
  assert.equal(workers.length, 1);
});

test('a long question stands behind a short one, but not for ever', async () => {
  const { engine: quick, workers: quickly } = fakes();
  const workers = [];
  const engine = new Engine(async () => { const worker = new FakeWorker(); workers.push(worker); return { worker, options: {} }; }, quick);
  const asked = () => workers.flatMap((worker) => worker.got).filter((message) => message.request).map((message) => message.request.args[0]);
  const short = quick.ask({ args: ['short'] });
  const long = engine.ask({ args: ['long'] });
  await tick();
  assert.deepEqual(asked(), []);
  quickly[0].reply({ answer: { out: 's' } });
  await short;
  await tick();
  assert.deepEqual(asked(), ['long']);
  workers[0].reply({ answer: { out: 'l' } });
  assert.deepEqual(await long, { out: 'l' });
  quick.ask({ args: ['endless'] });
  const other = engine.ask({ args: ['other'] });
  await tick();
  assert.deepEqual(asked(), ['long']);
  await new Promise((resolve) => setTimeout(resolve, 400));
  assert.deepEqual(asked(), ['long', 'other']);
  workers[0].reply({ answer: { out: 'o' } });
  assert.deepEqual(await other, { out: 'o' });
});

test('pieces of a page that still arrives are handed over whole, in their order, and once', () => {
  const heard = {};
  const [was, window0] = [globalThis.document, globalThis.window];
  const all = [{ textContent: 'a', nextElementSibling: {} }, { textContent: 'b, half', nextElementSibling: null }];
  globalThis.document = { readyState: 'loading', querySelectorAll: () => all, addEventListener: (name, act) => { heard[name] = act; } };
  globalThis.window = { addEventListener: (name, act) => { heard[name] = act; }, removeEventListener: (name) => { delete heard[name]; } };
  try {
    const got = [];
    eachPiece('.module', (piece) => got.push(piece));
    assert.deepEqual(got, ['a']);
    Object.assign(all[1], { textContent: 'b', nextElementSibling: {} });
    heard.piece();
    assert.deepEqual(got, ['a', 'b']);
    all.push({ textContent: 'c', nextElementSibling: null });
    heard.DOMContentLoaded();
    assert.deepEqual(got, ['a', 'b', 'c', null]);
    assert.equal(heard.piece, undefined);
    globalThis.document.readyState = 'complete';
    const again = [];
    eachPiece('.module', (piece) => again.push(piece));
    assert.deepEqual(again, ['a', 'b', 'c', null]);
  } finally { Object.assign(globalThis, { document: was, window: window0 }); }
});

test('pipes that a board could go over are those along the same axis, at the same height first', () => {
  const pipe = (label, ...body) => ({ label, kind: 'pipe', bodies: [[...body, 13]] });
  const parts = [pipe('A', 0, 0, 100, 0, 0, 300), pipe('B', 800, 0, 400, 800, 0, 600), pipe('C', 800, 0, 100, 800, 0, 300), pipe('R', 0, 0, 50, 800, 0, 50),
    pipe('D', 0, 0, 0, 70, 0, 70), { label: 'T', kind: 'tee', bodies: [[0, 0, 0, 0, 0, 9, 5]] }];
  assert.deepEqual(alongside(parts, parts[0]), ['C', 'B']);
  assert.equal(axisOf(parts[3]).axis, 0);
  assert.equal(axisOf(parts[4]), null);
  assert.deepEqual(extentOf({ bodies: [[0, 0, 50, 400, 200, 69], [400, 0, 50, 900, 200, 69]] }), [900, 200, 19]);
  assert.deepEqual(squareTo('up'), ['right', 'left', 'back', 'front']);
  assert.equal(idOf('join', 'T2.left'), 'join-T2-left');
});

test('a page with comments alone is empty', () => {
  for (const text of ['', '\n', '# mine\n\n  # too\n']) { assert.ok(isEmpty(text), JSON.stringify(text)); }
  for (const text of ['dryfit: 1', '# mine\nruns:\n']) { assert.ok(!isEmpty(text), text); }
});

test('cures are buttons with the options that the program names, each once', () => {
  app.store = { settings: { units: 'in' } };
  const check = {
    closures: [{ stock: [{ changes: [{ instead_of: 'P3', pieces_mm: [254] }], edit: ['--set', 'P3.length=10'] }] },
      { stock: [{ changes: [{ instead_of: 'P3', pieces_mm: [254] }], edit: ['--set', 'P3.length=10'] }, { cut: true, changes: [{ instead_of: 'P1', pieces_mm: [609.6, 304.8] }, { instead_of: 'P2', pieces_mm: [101.6] }], edit: ['--insert', 'P1@24+12=coupling', '--set', 'P2.length=4'] }] }],
    closure_cures: [{ change: 'let-go', name: 'post', edit: ['--cure', 'let-go post'] }, { change: 'reach', name: 'S1', side: 'left', now_mm: 50.8, edit: ['--set', 'S1.reach.left=2'] }],
  };
  assert.deepEqual(curesOf(check).map((cure) => [cure.words, cure.args.join(' ')]), [['Take P3 10 in', '--set P3.length=10'], ['Take P1 24 in + 12 in and P2 4 in, cut and threaded', '--insert P1@24+12=coupling --set P2.length=4'],
    ['Leave out where post stands: the rest places it', '--cure let-go post'], ['Move the edge of S1 to 2 in from the pipe', '--set S1.reach.left=2']]);
  assert.deepEqual(curesOf({ cures: [{ text: 'Slots.', edit: ['--cure', 'notch S1 back P3'] }] }), [{ words: 'Slots.', args: ['--cure', 'notch S1 back P3'] }]);
  app.store = null;
});

test('wheels hold whole inches and the fractions of a shop rule, and give back the text that a person would type', () => {
  for (const text of ['24', '4-1/2', '3/16', '0', '11-15/16', '4-5/32']) { assert.equal(textOf(wheelsOf(text)), text); }
  assert.deepEqual(wheelsOf('4-5/8'), { whole: 4, parts: 10, of: 16 });
  assert.deepEqual(wheelsOf('-2-1/4'), { whole: 2, parts: 4, of: 16 });
  assert.equal(wheelsOf('1-3/32').of, 32);
});

test('surfaces are found however they are written, and where they are', () => {
  const lines = 'surfaces:\n  floor: {normal: up, at: 0}\n  wall: {normal: front, at: 4-5/8}   # measured\nruns:\n';
  assert.deepEqual(surfacesIn(lines), ['floor', 'wall']);
  assert.equal(surfaceAt(lines, 'wall'), '4-5/8');
  const flow = 'surfaces: {floor: {normal: up, at: 0}, side: {normal: left, at: 30}}\n';
  assert.deepEqual(surfacesIn(flow), ['floor', 'side']);
  assert.equal(surfaceAt(flow, 'side'), '30');
});

test('arrows for directions stand apart by a fingertip, whatever the view, and within the picture', () => {
  for (const around of [0, 28, 45, 90, 137]) {
    const { right, up, toward } = eye(around, 24);
    const tail = { x: 195, y: 150, depth: 0 };
    const tips = ['right', 'left', 'up', 'down', 'back', 'front'].map(wayTo).map((way) => {
      const on = (axis) => 60 * (way[0] * axis[0] + way[1] * axis[1] + way[2] * axis[2]);
      return { x: tail.x + on(right), y: tail.y - on(up), nearer: on(toward) > 0 };
    });
    const marks = spread(tail, tips, 390, 300);
    marks.forEach((one, i) => {
      assert.ok(one.x >= 24 && one.x <= 366 && one.y >= 24 && one.y <= 276, JSON.stringify(one));
      marks.slice(0, i).forEach((other) => assert.ok(Math.hypot(one.x - other.x, one.y - other.y) >= 45, `${around}: ${JSON.stringify([one, other])}`));
    });
  }
  assert.deepEqual(wayTo('up-right'), [1, 0, 1]);
});

test('what is dragged goes to the nearest stock length, and to the side that the finger is on', () => {
  const project = ([x, y, z]) => ({ x: x / 2, y: -z / 2 });
  const lengths = [152.4, 203.2, 254, 304.8].map((length_mm) => ({ length_mm, text: String(Math.round(length_mm / 25.4)) }));
  const pipe = gripOnPipe({ from: [0, 0, 0], to: [0, 0, 203.2], length: 203.2, lengths });
  assert.equal(pipe.choose({ x: 0, y: -100 }, { x: 30, y: -128 }, project).text, '10');
  assert.equal(pipe.choose({ x: 0, y: -100 }, { x: 0, y: 100 }, project).text, '6');
  assert.deepEqual(pipe.choose({ x: 0, y: -100 }, { x: 0, y: -155 }, project).to, [0, 0, 304.8]);
  const tee = gripOnFitting({ from: [0, 0, 0], to: [40, 0, 0], ways: [{ value: 'right', tip: [40, 0, 0] }, { value: 'left', tip: [-40, 0, 0] }, { value: 'up', tip: [0, 0, 40] }] });
  assert.equal(tee.choose({ x: 20, y: 0 }, { x: -30, y: 9 }, project).value, 'left');
  assert.equal(tee.choose({ x: 20, y: 0 }, { x: 3, y: -30 }, project).value, 'up');
});

test('ten thousand changes with undo and redo give the texts that there were', () => {
  let seed = 7;
  const chance = (n) => { seed = (seed * 1103515245 + 12345) % 2147483648; return Math.floor(seed / 65536) % n; };
  const history = new History('');
  const texts = ['']; // as they were made, up to where one stands
  const ahead = []; // what was undone
  for (let i = 0; i < 10000; i += 1) {
    const what = chance(5);
    if (what === 0 && history.canUndo) { ahead.push(texts.pop()); assert.equal(history.undo(), texts[texts.length - 1]); } else if (what === 1 && history.canRedo) {
      texts.push(ahead.pop());
      assert.equal(history.redo(), texts[texts.length - 1]);
    } else {
      const text = 'text ' + i;
      history.add(text);
      texts.push(text);
      ahead.length = 0;
    }
    assert.equal(history.text, texts[texts.length - 1]);
    // The oldest are forgotten, and undo ends there.
    if (texts.length > 300) { texts.splice(0, texts.length - 300); }
    assert.equal(history.canRedo, ahead.length > 0);
  }
});

test('what runs can be given up, and what failed takes the worker with it: the next question gets a new one', async () => {
  const { engine, workers } = fakes();
  const first = engine.ask({ args: ['a'] });
  const second = engine.ask({ args: ['b'] });
  await tick();
  engine.giveUp();
  await assert.rejects(first, GivenUp);
  await tick();
  assert.ok(workers[0].ended);
  assert.equal(workers.length, 2);
  workers[1].reply({ failed: 'memory' });
  await assert.rejects(second, /memory/);
  assert.ok((await tick(), workers[1].ended));
  const third = engine.ask({ args: ['c'] });
  await tick();
  workers[2].reply({ answer: { code: 0 } });
  assert.deepEqual(await third, { code: 0 });
});

test('a long run for an old text is ended, a short one is waited for', async () => {
  const { engine, workers } = fakes();
  let version = 1;
  const stale = () => version !== 1;
  const first = engine.ask({ args: ['a'] }, { stale });
  await tick();
  version = 2;
  engine.dropStale(400);
  await tick();
  assert.ok(!workers[0].ended);
  await assert.rejects(first, GivenUp);
  assert.ok(workers[0].ended);
});

test('a worker that is still beginning is not ended: its time does not count as the run\'s', async () => {
  let begin = () => {};
  const workers = [];
  const engine = new Engine(async () => {
    const worker = { got: [], ended: false, terminate() { worker.ended = true; },
      postMessage(message) { worker.got.push(message); if (message.start) { begin = () => worker.onmessage({ data: { number: message.number, answer: { version: '1', module: 'compiled' } } }); } } };
    workers.push(worker);
    return { worker, options: {}, begun: (answer) => { worker.begun = answer.module; } };
  });
  let old = false;
  const first = engine.ask({ args: ['a'] }, { stale: () => old });
  await tick();
  old = true;
  engine.dropStale(20);
  await new Promise((resolve) => setTimeout(resolve, 60));
  assert.ok(!workers[0].ended);
  assert.deepEqual(workers[0].got.map((message) => Boolean(message.start)), [true, false], 'what is asked is there as soon as it has begun');
  begin();
  await assert.rejects(first, GivenUp);
  assert.ok(workers[0].ended);
  assert.equal(workers[0].begun, 'compiled');
});

test('base64 becomes its bytes, with and without the browser\'s own way', () => {
  const bytes = Uint8Array.from({ length: 256 }, (none, i) => i);
  const text = Buffer.from(bytes).toString('base64');
  const own = Uint8Array.fromBase64;
  for (const way of [undefined, (given) => new Uint8Array(Buffer.from(given, 'base64'))]) {
    Uint8Array.fromBase64 = way;
    assert.deepEqual(bytesOf(text), bytes);
  }
  Uint8Array.fromBase64 = own;
});

test('of a text that changes only the rows that differ are drawn anew', () => {
  const rows = (...texts) => texts.map((text) => ({ text, bad: 0 }));
  const all = rows('a', 'b', 'b', 'c');
  assert.deepEqual(changedRows([], all), { from: 0, to: 0, upTo: 4 });
  assert.deepEqual(changedRows(all, all), { from: 4, to: 4, upTo: 4 });
  assert.deepEqual(changedRows(all, rows('a', 'b', 'x', 'c')), { from: 2, to: 3, upTo: 3 });
  assert.deepEqual(changedRows(all, rows('a', 'b', 'c')), { from: 2, to: 3, upTo: 2 });
  assert.deepEqual(changedRows(all, rows('a', 'b', 'b', 'b', 'c')), { from: 3, to: 3, upTo: 4 });
  assert.deepEqual(changedRows(all, [{ text: 'a', bad: 3 }, ...all.slice(1)]), { from: 0, to: 1, upTo: 1 });
  // Whatever was changed, the old with those rows exchanged is the new.
  for (let seed = 1; seed < 300; seed += 1) {
    const text = (n) => rows(...[...(n >>> 0).toString(3)]);
    const [old, now] = [text(Math.imul(seed, 2654435761)), text(Math.imul(seed >> 1, 40503) + seed)];
    const { from, to, upTo } = changedRows(old, now);
    assert.deepEqual([...old.slice(0, from), ...now.slice(from, upTo), ...old.slice(to)], now);
  }
});

test('a double tap is one tap, keys go back and on, and what others use stays theirs', () => {
  let now = 1000;
  const first = oneTap(() => now);
  assert.deepEqual([first(), first()], [true, false]);
  now += 349;
  assert.ok(!first());
  now += 1;
  assert.ok(first());
  assert.deepEqual(['ArrowLeft', 'ArrowRight', 'd', 'D', 'x', 'Tab'].map((key) => wayOf({ key })), ['back', 'next', 'done', 'done', '', '']);
  assert.equal(wayOf({ key: 'd', ctrlKey: true }), '');
  assert.equal(wayOf({ key: 'ArrowRight', repeat: true }), '');
});

test('the build plays until there is no step left, or until the same button is pressed again', (context) => {
  context.mock.timers.enable({ apis: ['setInterval'] });
  let step = 0;
  let changes = 0;
  const player = new Player((by) => { if (step + by < 0 || step + by > 3) { return false; } step += by; return true; }, () => { changes += 1; });
  player.play(1);
  context.mock.timers.tick(1600 * 2);
  assert.deepEqual([step, player.direction, changes], [2, 1, 1]);
  context.mock.timers.tick(1600 * 5);
  assert.deepEqual([step, player.direction, changes], [3, 0, 2]);
  player.play(-1);
  context.mock.timers.tick(1600);
  player.play(-1);
  context.mock.timers.tick(16000);
  assert.deepEqual([step, player.direction], [2, 0]);
  player.play(1);
  player.play(-1);
  context.mock.timers.tick(1600);
  assert.deepEqual([step, player.direction], [1, -1]);
  player.stop();
});

test('a step is turned as the work lies, and its arrow with it', () => {
  const told = [];
  const view = { load: (numbers) => told.push(numbers.parts[0].bodies[0]), home: () => told.push('home'), show: (...what) => told.push(what) };
  const numbers = { parts: [{ bodies: [[0, 0, 0, 0, 0, 100, 13]] }], fixtures: [] };
  // On its back: what pointed up points to the back.
  const lies = [[1, 0, 0], [0, 0, -1], [0, 1, 0]];
  showStep(view, numbers, { shown: [0], new: [], view: { azimuth_deg: 1, elevation_deg: 2, lies }, arrow: { turns: true, at_mm: [0, 0, 100], along_mm: [0, 0, 5] } });
  assert.deepEqual(told[0].slice(0, 6).map((n) => n + 0), [0, 0, 0, 0, 100, 0]);
  assert.deepEqual(told[2][3], { turns: true, at: [0, 100, 0], along: [0, 5, 0] });
  showStep(view, numbers, { shown: [0], new: [] });
  assert.deepEqual(told.slice(3), [numbers.parts[0].bodies[0], 'home', [[0], [], undefined, undefined]]);
});

test('a question that no painting asks for any more is dropped, and one of an older text takes nothing from the new one', async () => {
  const asked = [];
  Object.assign(app, { quick: { ask: (request, options) => new Promise((resolve, reject) => { asked.push({ options, resolve, reject }); }) }, render: () => {}, version: 1, painting: 1 });
  app.answers.clear();
  const offers = () => answer(['edit', 'FRAME', '--offers', 'P1', '--json'], { soon: true, fleeting: true });
  const check = () => answer(['check', 'FRAME', '--json'], { soon: true });
  const [offered, checked] = [offers(), check()];
  assert.ok(asked.every((one) => !one.options.stale()));
  app.painting = 2;
  assert.deepEqual([offers(), check()], [offered, checked], 'asked once');
  assert.ok(asked.every((one) => !one.options.stale()));
  app.painting = 3;
  assert.deepEqual(asked.map((one) => one.options.stale()), [true, false], 'the panel speaks of another part now');
  asked[0].reject(new GivenUp());
  await tick();
  const again = offers();
  assert.ok(again !== offered && again.state === 'waiting');
  // Another text: its own question of the same words stays when the old one is dropped.
  app.version = 2;
  app.answers.clear();
  const newer = check();
  asked[1].reject(new GivenUp());
  await tick();
  assert.equal(check(), newer);
  asked.at(-1).resolve({ code: 0, out: '{"verdict": "open"}', err: '', files: {} });
  await tick();
  assert.deepEqual([newer.state, newer.json], ['ready', { verdict: 'open' }]);
});
