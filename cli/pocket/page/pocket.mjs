// The page: puts its parts together, opens frames, keeps the strip with the verdict up to date.
import { app, ask, fileName, keepFrame, numbers, setMade, title } from './app.mjs';
import { button, el, fill, para, prose } from './build.mjs';
import { frames, handOn, openFile, question, settings } from './dialogs.mjs';
import { buy } from './door_buy.mjs';
import { change } from './door_change.mjs';
import { drill } from './door_drill.mjs';
import { fit } from './door_fit.mjs';
import { forget } from './door_forget.mjs';
import { now } from './door_now.mjs';
import { askAhead, lineOf, pictureDoor } from './door_picture.mjs';
import { print } from './door_print.mjs';
import { steps, stopPlaying } from './door_steps.mjs';
import { editor } from './editor.mjs';
import { Engine, pageStarter } from './engine.mjs';
import { faultsOf, frameName, isEmpty, partAt, vocabularyOf } from './frame_text.mjs';
import { frameFromLink } from './link.mjs';
import { forgettable, stillThere } from './progress.mjs';
import { deviceStorage, nameOfText, Store } from './store.mjs';
import { coded } from './told.mjs';
import { readCatalogue, say, sayN, speak } from './words.mjs';

const CHECK_AFTER = 20; // ms without a keystroke: keys that come faster are one change
const REST_AFTER = 250;
const READ_AFTER = 120; // ms since the verdict
const CARDS_AFTER = 1500; // where no door shows them
const WARM_TIMES = 12;
const WARM_FOR = 1500; // ms that this may take
const PAINTED_BY = 80; // ms that a painting waits for what was just asked: on a slow device one takes longer than the answer
const WIDE = window.matchMedia('(min-width: 62rem)');
const DARK = window.matchMedia('(prefers-color-scheme: dark)');

const frameDoor = { id: 'frame', name: () => say('Frame'), show: showFrame };
const DOORS = [frameDoor, pictureDoor, steps, change, forget, now, fit, drill, buy, print];
const FIRST = ['frame', 'picture', 'steps', 'change']; // in the bar of a phone; the rest are behind one button
const ICONS = {
  frame: 'M5 3h10l4 4v14H5zM14 3v5h5M8 12h8M8 16h8', picture: 'M12 3l8 4.5v9L12 21l-8-4.5v-9zM4 7.5l8 4.5 8-4.5M12 12v9',
  steps: 'M4 5h3v3H4zM10 6.5h10M4 11h3v3H4zM10 12.5h10M4 17h3v3H4zM10 18.5h10', change: 'M3 9h18v6H3zM7 9v3M11 9v4M15 9v3M19 9v4',
  more: 'M5 12h.01M12 12h.01M19 12h.01',
};

const place = {};
let timers = [];
let warm = false; // once a page
let lastVerdict = null;
let drawnDoor = '';

app.dark = () => (app.store.settings.scheme ? app.store.settings.scheme === 'dark' : DARK.matches);
app.title = title;
app.titleOf = (frame) => frameName(frame.text) || frame.name;
app.ask = question;

function wide() { return WIDE.matches; }
/// On a wide screen frame and picture stand beside the answer.
function besides(door) { return wide() && (door === 'frame' || door === 'picture'); }

/* ---- the frame ---- */

function showFrame() {
  const check = ask.check();
  const faults = check.state === 'ready' && check.code === 2 && !isEmpty(app.frame.text) ? faultsOf(check.err, fileName()) : [];
  fill(place.faults, faults.length === 0 ? null : el('ul', {}, faults.slice(0, 50).map((fault) => el('li', {},
    fault.line > 0 ? button([el('strong', {}, say('line {0}, column {1}', fault.line, fault.column)), ' ', prose(fault.text)], () => app.goToLine(fault.line, fault.column), { class: 'line' }) : para(fault.text)))));
}

app.goToLine = (line, column, length) => {
  if (!wide()) { app.go('frame'); }
  requestAnimationFrame(() => app.editor.goTo(line, column, length));
};
app.showLine = (label) => {
  const part = lineOf(app.frame.text, label);
  if (part) { app.goToLine(part.line, part.from - app.frame.text.lastIndexOf('\n', part.from), label.length); }
};
app.choose = (label) => {
  app.chosen = label;
  app.rested = true;
  askAhead();
  app.renderSoon();
};

/// Takes a text as the one that is open. What was asked of the one before is dropped. While somebody types, only the
/// verdict is asked for: what takes longer would have to be ended at the next keystroke.
function take(text, typed) {
  app.frame.text = text;
  app.version += 1;
  app.answers.clear();
  for (const engine of [app.quick, app.engine]) { engine.dropStale(); }
  for (const timer of timers) { clearTimeout(timer); }
  timers = [];
  app.rested = !typed;
  if (!typed) { ask.check(); rest(); return; }
  timers = [setTimeout(() => { ask.check(); app.render(); }, CHECK_AFTER), setTimeout(restOnce, REST_AFTER, 0)];
}
/// Somebody who types on as soon as the verdict is there shall not wait for what else is worked out then: it waits until no
/// key has come for a while, since the verdict too.
function restOnce(told) {
  const waiting = ask.check().state === 'waiting';
  const left = told + READ_AFTER - performance.now();
  if (waiting) { timers.push(setTimeout(() => restOnce(performance.now()), 20)); return; }
  if (left > 0) { timers.push(setTimeout(restOnce, left, told)); return; }
  app.rested = true;
  app.render();
  rest();
}
/// What the strip and the picture want, once there is a verdict.
function rest() {
  const check = ask.check();
  if (check.state === 'waiting') { timers.push(setTimeout(rest, 50)); return; }
  keepFrame();
  if (check.json) {
    ask.numbers();
    if (check.json.verdict === 'buildable') { ask.steps(); timers.push(setTimeout(ask.deck, CARDS_AFTER)); }
    const there = check.json.verdict === 'buildable' ? numbers() : null;
    if (there) { forgetMade(there); }
  }
  askVocabulary();
  app.render();
  timers.push(setTimeout(warmUp, CARDS_AFTER));
}
/// A browser compiles well what it has run some times: else the first twenty keystrokes of an evening would each wait three
/// times as long for their verdict as those after them. So a page at rest asks for the verdict some times more, once all
/// else has been answered, in the worker that no finger waits for; what is compiled serves both.
async function warmUp() {
  if (warm || document.hidden) { return; }
  const version = app.version;
  const stale = () => version !== app.version;
  const request = { args: ['check', fileName(), '--json'], stdin: '', files: { [fileName()]: app.frame.text } };
  try {
    await app.engine.ask(request, { stale });
    const until = performance.now() + WARM_FOR;
    for (let i = 1; i < WARM_TIMES && performance.now() < until; i += 1) { await app.engine.ask(request, { stale }); }
    warm = true;
  } catch (error) { /* the text has changed since, or there is no program: at the next rest */ }
}
function forgetMade(there) {
  const left = stillThere(app.made, there.contacts.map((one) => one.contact));
  if (left.size < app.made.size) { setMade(left); }
}

app.open = (frame, id) => {
  if (app.frame.text && app.frame.id) { keepFrame(); }
  app.frame = { id: id || Date.now().toString(36) + Math.random().toString(36).slice(2, 6), name: frame.name || '', text: frame.text, made: frame.made || [], ticked: frame.ticked || [], step: frame.step || 0, source: frame.source || '' };
  app.made = new Set(app.frame.made);
  Object.assign(app, { chosen: '', end: null, kind: '', fresh: '', added: '', doing: null });
  app.now = null;
  lastVerdict = null;
  stopPlaying();
  app.editor.set(frame.text);
  take(frame.text, false);
  keepFrame();
  app.render();
};

/// To the beginning of the answer: below the strip where that does not stay in place.
app.toTop = () => {
  if (getComputedStyle(place.strip).position === 'sticky') { window.scrollTo(0, 0); } else { place.doors[app.door].scrollIntoView(); }
};

/* ---- the strip ---- */

function verdictNow() {
  const check = ask.check();
  if (check.state === 'ready') { lastVerdict = check; }
  return lastVerdict;
}
function chip(text, kind, door, more) { return button(text, () => app.go(door), { class: 'chip ' + kind, ...more }); }
function showStrip() {
  fill(place.name, title());
  if (isEmpty(app.frame.text)) { fill(place.chips, el('span', { class: 'chip plain' }, say('Nothing on it yet'))); return; }
  const check = verdictNow();
  place.strip.classList.toggle('old', ask.check().state === 'waiting');
  if (!check) { fill(place.chips, el('span', { class: 'chip' }, ask.check().state === 'waiting' ? say('Working ...') : '')); return; }
  if (check.state !== 'ready') { fill(place.chips, chip(say('No answer'), 'bad', 'fit')); return; }
  if (check.code === 2) {
    const faults = faultsOf(check.err, fileName());
    fill(place.chips, chip(sayN(faults.length, '1 fault in the file', '{} faults in the file', faults.length), 'bad', 'frame'));
    return;
  }
  if (!check.json) { fill(place.chips, chip(say('Undecided'), 'doubt', 'fit')); return; }
  const { verdict, fit: state } = check.json;
  const chips = [];
  if (verdict === 'overlapping') { chips.push(chip(say('Parts in the same place'), 'bad', 'fit')); } else if (verdict === 'open') { chips.push(chip(say('Does not line up'), 'bad', 'fit')); } else if (verdict === 'undecided') { chips.push(chip(say('Undecided'), 'doubt', 'fit')); } else { chips.push(chip(state === 'exact' || !state ? say('Lines up') : say('Lines up by turning'), 'good', 'fit')); }
  if (verdict === 'locked') { chips.push(chip(say('Cannot be put together'), 'bad', 'fit')); }
  if (verdict === 'buildable') {
    const order = knownOrder();
    const count = order && order.json && order.json.steps ? order.json.steps.length : 0;
    chips.push(chip(say('Can be built'), 'good', 'steps'));
    if (count > 0) {
      const traps = forgettable(order.json).length;
      chips.push(chip(sayN(count, '1 step', '{} steps', count), 'plain', 'steps'),
        chip(traps === 0 ? say('Nothing to forget') : sayN(traps, '1 part easy to forget', '{} parts easy to forget', traps), traps === 0 ? 'plain' : 'doubt', 'forget'));
    }
  }
  fill(place.chips, chips);
}
/// An order that was asked for already, with prices or without: looking at the strip starts no search.
function knownOrder() {
  const asked = (entry) => entry.args[0] === 'order' && (entry.args.length === 3 || entry.args[3] === '--no-prices');
  return [...app.answers.values()].find((entry) => entry.state === 'ready' && asked(entry)) || null;
}

/* ---- doors ---- */

app.go = (door) => {
  app.rested = true;
  const from = DOORS.find((one) => one.id === app.door);
  if (from && from.leave && door !== app.door) { from.leave(); }
  if (door !== 'steps') { stopPlaying(); }
  if (besides(door)) { place.doors[door].scrollIntoView({ block: 'nearest' }); } else { app.door = door; }
  place.more.hidden = true;
  app.notify('');
  app.render();
  requestAnimationFrame(() => {
    if (door === 'steps' || besides(door)) { return; }
    const heading = place.doors[door].querySelector('h2');
    if (heading) { heading.tabIndex = -1; heading.focus({ preventScroll: true }); }
    app.toTop();
    place.right.scrollTo(0, 0);
  });
};

let asked = false;
// What is pressed must not be filled anew under the finger: the press would come to nothing.
let pressed = false;
let later = false;
let release = 0;
function released() {
  pressed = false;
  if (later) { later = false; app.render(); }
}
document.addEventListener('pointerdown', () => { clearTimeout(release); pressed = true; }, true);
// The click comes a little after the finger has gone, on a busy phone much later; where there is none, as after a scroll,
// nothing waits for it for long.
for (const [name, wait] of [['pointerup', 600], ['pointercancel', 0], ['click', 0]]) {
  document.addEventListener(name, () => { clearTimeout(release); release = setTimeout(released, wait); }, true);
}
// A button is pressed by the space bar when that is let go.
document.addEventListener('keydown', (event) => { if (event.key === ' ' && event.target instanceof HTMLButtonElement) { clearTimeout(release); pressed = true; } }, true);
document.addEventListener('keyup', (event) => { if (event.key === ' ' && pressed) { clearTimeout(release); release = setTimeout(released, 0); } }, true);
window.addEventListener('blur', () => { if (pressed) { released(); } });
app.held = () => pressed;
let paintTimer = 0; // of a painting that waits for an answer
function nextFrame() {
  paintTimer = 0;
  requestAnimationFrame(() => {
    asked = false;
    if (pressed) { later = true; return; }
    paint();
  });
}
app.render = () => {
  if (paintTimer) { clearTimeout(paintTimer); nextFrame(); }
  if (asked) { return; }
  asked = true;
  app.wanted = app.painting + 1;
  nextFrame();
};
/// Paints with what the program is working out for a finger, once that is there, which asks for the painting; without it
/// where that takes longer.
app.renderSoon = () => {
  if (!app.quick.running) { app.render(); }
  if (asked) { return; }
  asked = true;
  app.wanted = app.painting + 1;
  paintTimer = setTimeout(nextFrame, PAINTED_BY);
};
function paint() {
  app.painting += 1;
  if (besides(app.door)) { app.door = 'steps'; }
  const focused = document.activeElement && document.activeElement.id;
  showStrip();
  for (const door of DOORS) {
    const root = place.doors[door.id];
    const shown = door.id === app.door || besides(door.id);
    root.hidden = !shown;
    // While somebody types, what was said of the text before stays as it is, paler.
    const waits = !app.rested && door !== frameDoor && root.firstChild !== null;
    root.classList.toggle('old', waits);
    if (shown && !waits) { door.show(root); }
  }
  for (const link of place.nav.querySelectorAll('button[data-door]')) {
    const here = link.dataset.door === app.door || (link.dataset.door === 'more' && !FIRST.includes(app.door));
    if (here) { link.setAttribute('aria-current', 'page'); } else { link.removeAttribute('aria-current'); }
  }
  document.body.dataset.door = app.door;
  if (drawnDoor !== app.door) { drawnDoor = app.door; }
  // What is filled anew loses the focus; the same thing in the new content gets it.
  if (focused && document.activeElement === document.body) {
    const again = document.getElementById(focused);
    if (again) { again.focus({ preventScroll: true }); }
  }
  const check = ask.check();
  if (check.state === 'ready') { app.editor.faults(check.code === 2 ? faultsOf(check.err, fileName()).filter((fault) => fault.line > 0) : []); }
}

function icon(name) {
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  svg.setAttribute('viewBox', '0 0 24 24');
  svg.setAttribute('class', 'icon');
  svg.setAttribute('aria-hidden', 'true');
  const path = document.createElementNS('http://www.w3.org/2000/svg', 'path');
  path.setAttribute('d', ICONS[name]);
  svg.append(path);
  return svg;
}

function notice() {
  const box = el('div', { class: 'notice', role: 'status' });
  let timer = 0;
  app.notify = (text, label, act) => {
    clearTimeout(timer);
    if (text === '') { fill(box); return; }
    fill(box, el('span', {}, el('span', {}, coded(text))), label ? button(label, () => { fill(box); act(); }) : null);
    timer = setTimeout(() => fill(box), label ? 12000 : 6000);
  };
  return box;
}

/// The words of all parts are made when they are built: for another language all is built anew.
function build() {
  speak(language(), language() === 'en' ? null : catalogues.get(language()));
  document.documentElement.lang = language();
  scheme();
  const root = document.getElementById('root');
  const text = app.frame.text;
  app.editor = editor({
    onText: (changed, typed) => { take(changed, typed); if (typed) { app.render(); } else { app.renderSoon(); } },
    onPlace: (at) => {
      const part = partAt(app.editor.text, at);
      const label = part && part.kind !== 'surface' ? part.id : '';
      if (label && label !== app.chosen) { app.choose(label); }
    },
    onHistory: (history) => {
      place.undo.disabled = !history.canUndo;
      place.redo.disabled = !history.canRedo;
    },
  });
  place.undo = button('↶', () => app.editor.undo(), { 'aria-label': say('Undo'), class: 'quiet', id: 'undo' });
  place.redo = button('↷', () => app.editor.redo(), { 'aria-label': say('Redo'), class: 'quiet', id: 'redo' });
  place.faults = el('div', { id: 'faults', class: 'faults', role: 'status' });
  place.doors = {};
  for (const door of DOORS) {
    place.doors[door.id] = el('section', { id: door.id, class: 'door', 'aria-label': door.name() });
  }
  place.doors.frame.append(el('h2', { class: 'sr' }, say('Frame')),
    el('div', { class: 'row tools' }, place.undo, place.redo, el('span', { class: 'grow' }), button(say('Save, hand on'), handOn, { class: 'quiet', id: 'hand-on-open' })), place.faults, app.editor.element);
  const link = (id, name) => button([icon(id), el('span', {}, name)], () => app.go(id), { 'data-door': id });
  place.more = el('div', { class: 'more', id: 'more', hidden: true },
    DOORS.filter((door) => !FIRST.includes(door.id)).map((door) => button(door.name(), () => app.go(door.id), { 'data-door': door.id })));
  const more = button([icon('more'), el('span', {}, say('More'))], () => {
    place.more.hidden = !place.more.hidden;
    more.setAttribute('aria-expanded', String(!place.more.hidden));
    if (!place.more.hidden) { place.more.querySelector('button').focus(); }
  }, { 'data-door': 'more', 'aria-expanded': 'false', 'aria-controls': 'more', id: 'more-open' });
  place.nav = el('nav', { class: 'doors', 'aria-label': say('Doors') }, FIRST.map((id) => link(id, DOORS.find((door) => door.id === id).name())), more, place.more);
  place.chips = el('div', { class: 'chips', role: 'status', 'aria-label': say('Verdict') });
  place.name = el('h1', {});
  place.strip = el('header', { class: 'strip' },
    el('div', { class: 'row' }, button(say('Frames'), frames, { class: 'quiet', id: 'frames-open' }), place.name), place.chips,
    button('⚙', settings, { class: 'quiet', 'aria-label': say('Settings'), id: 'settings-open' }), notice());
  place.left = el('div', { class: 'left' }, place.doors.frame, place.doors.picture);
  place.right = el('div', { class: 'right', id: 'answer', tabindex: '0' }, DOORS.slice(2).map((door) => place.doors[door.id]));
  fill(root, el('a', { class: 'skip', href: '#answer', click: (event) => { event.preventDefault(); place.right.querySelector('.door:not([hidden]) h2')?.focus(); } }, say('Skip to the answer')), place.strip, place.nav, el('main', { class: 'body' }, place.left, place.right));
  app.editor.set(text);
}
function scheme() {
  const set = app.store.settings.scheme;
  if (set) { document.documentElement.dataset.scheme = set; } else { delete document.documentElement.dataset.scheme; }
}
function language() {
  const set = app.store.settings.language;
  if (set === 'en' || catalogues.has(set)) { return set; }
  const wanted = (navigator.languages || [navigator.language]).map((one) => one.slice(0, 2)).find((one) => one === 'en' || catalogues.has(one));
  return wanted || 'en';
}
app.settled = (id) => {
  if (id === 'language') {
    document.getElementById('settings')?.close();
    // The picture's parts belong to the old page.
    location.reload();
    return;
  }
  scheme();
  if (id === 'units') { app.answers.clear(); }
  app.render();
};

const catalogues = new Map();
let vocabulary = null;

async function start() {
  for (const one of document.querySelectorAll('script[data-language]')) {
    catalogues.set(one.dataset.language, readCatalogue(Uint8Array.from(atob(one.textContent.trim()), (c) => c.charCodeAt(0))));
  }
  app.store = new Store(deviceStorage());
  const starter = pageStarter();
  app.quick = new Engine(starter);
  app.engine = new Engine(starter, app.quick);
  // The module is unpacked and compiled while the page is built; the second worker begins before pictures keep the page busy.
  app.quick.ready().then(({ started }) => started).then(() => app.engine.ready()).catch(() => {}); // who asks hears of it
  app.scenarios = JSON.parse(document.getElementById('scenarios').textContent);
  build();
  const inPage = JSON.parse(document.getElementById('given-frame').textContent || 'null');
  let linked = null;
  try { linked = await frameFromLink(location.hash); } catch (error) { app.notify(say('The link holds no frame, or it was cut off.')); }
  if (linked) {
    app.door = 'picture';
    history.replaceState(null, '', location.pathname + location.search);
  }
  const first = linked || inPage;
  const kept = first ? app.store.frames.find((one) => one.text === first.text || one.source === nameOfText(first.text)) : app.store.frames[0];
  if (kept) {
    app.door = kept.step > 0 ? 'steps' : 'picture';
    app.open(kept, kept.id);
  } else if (first) { app.door = 'picture'; app.open({ ...first, source: nameOfText(first.text) }); } else {
    app.door = 'picture';
    app.open(app.scenarios.find((one) => one.name.startsWith('plant-rack')) || app.scenarios[0]);
    app.notify(say('This is an example. Open your own under Frames.'));
  }
  if (!app.store.works) { app.notify(say('This browser keeps nothing from one visit to the next. Save your frame as a file.')); }
  app.render();
}
/// The words that the editor offers; wanted when somebody types, so after the first verdict.
function askVocabulary() {
  if (vocabulary) { return; }
  vocabulary = {};
  app.quick.ask({ args: ['schema', 'frame'], stdin: '', files: {} }).then((given) => {
    vocabulary = vocabularyOf(JSON.parse(given.out));
    app.editor.vocabulary(vocabulary);
  }).catch(() => { vocabulary = null; }); // given up, or no answer: asked again after the next text
}

document.addEventListener('keydown', (event) => {
  if (event.altKey || event.ctrlKey || event.metaKey || event.defaultPrevented) { return; }
  if (event.key === 'Escape' && place.more && !place.more.hidden) { place.more.hidden = true; document.getElementById('more-open').focus(); return; }
  const target = event.target;
  // Keys that a field, a table that scrolls or the picture uses are theirs.
  if (target.closest && target.closest('input, textarea, select, dialog, canvas, .wide, pre, .previews')) { return; }
  const door = DOORS.find((one) => one.id === app.door);
  if (door && door.key && door.key(event)) { event.preventDefault(); }
});
document.addEventListener('dragover', (event) => { event.preventDefault(); });
document.addEventListener('drop', (event) => {
  event.preventDefault();
  const file = event.dataTransfer && event.dataTransfer.files[0];
  if (file) { openFile(file); }
});
document.addEventListener('paste', (event) => {
  const target = event.target;
  if (target.closest && target.closest('input, textarea')) { return; }
  const text = event.clipboardData && event.clipboardData.getData('text/plain');
  if (text && /^\s*(?:#.*\n\s*)*(?:dryfit|name|pipe|runs|units):/.test(text)) { event.preventDefault(); app.open({ name: 'frame.yaml', text }); }
});
window.addEventListener('hashchange', async () => {
  try {
    const linked = await frameFromLink(location.hash);
    if (linked) { history.replaceState(null, '', location.pathname + location.search); app.open(linked); }
  } catch (error) { app.notify(say('The link holds no frame, or it was cut off.')); }
});
WIDE.addEventListener('change', () => app.render());
DARK.addEventListener('change', () => app.render());
start();
