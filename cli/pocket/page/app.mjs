// What all doors of the page share: the frame that is open, what the program said of it, how the page is set.
import { button, el, para } from './build.mjs';
import { GivenUp } from './engine.mjs';
import { frameName, isEmpty, unitsOf } from './frame_text.mjs';
import { lengthText, weightText } from './lengths.mjs';
import { languageSpoken, say } from './words.mjs';

export const app = {
  engine: null, // answers what may take long
  quick: null, // what a finger waits for: a worker of its own, so that no search has to end for it
  store: null,
  editor: null,
  scenarios: [],
  frame: { id: '', name: '', text: '', made: [], ticked: [], step: 0 },
  made: new Set(),
  chosen: '', // label of the part that was tapped last
  end: null, // name of the open end that something is put on
  kind: '', // what was chosen to go there
  fresh: '', // label of what was put on or changed last: it can be dragged
  added: '', // the same, until its own open end is found
  doing: null, // what is under way in the panel below the picture
  door: 'frame',
  version: 0, // of the text
  painting: 0, // how often the page was painted
  wanted: 0, // the painting that is asked for
  rested: true, // false while somebody types: then the verdict alone is asked for
  answers: new Map(),
  render: () => {},
  renderSoon: () => {},
  held: () => false, // whether something is pressed just now
  go: () => {},
  notify: () => {},
};

export function units() {
  const set = app.store.settings.units;
  return set === 'in' || set === 'mm' ? set : unitsOf(app.frame.text) === 'in' ? 'in' : 'mm';
}
export function paper() {
  const set = app.store.settings.paper;
  return set === 'a4' || set === 'letter' ? set : unitsOf(app.frame.text) === 'in' ? 'letter' : 'a4';
}
export function len(mm, of) { return lengthText(mm, units(), languageSpoken() === 'de', of); }
export function mass(kg) { return weightText(kg, units(), languageSpoken() === 'de'); }
export function fileName() { return (/^[\w. -]{1,80}$/.test(app.frame.name) ? app.frame.name : 'frame').replace(/\.ya?ml$/i, '') + '.yaml'; }
export function title() { return frameName(app.frame.text) || (isEmpty(app.frame.text) ? say('Frame') : '') || fileName().replace(/\.yaml$/, ''); }

/// The answer to a command about the open frame; FRAME stands for it among `args`. Asked once a text:
/// {state: 'waiting' | 'ready' | 'failed' | 'given up', code, out, err, files, json, progress, why}. `more`: {files, soon,
/// fleeting}; a fleeting question that the last painting did not ask for any more is dropped when its turn comes.
export function answer(args, more = {}) {
  const key = JSON.stringify([languageSpoken(), args, more.files || null]);
  const known = app.answers.get(key);
  if (known) { known.painting = app.painting; return known; }
  const entry = { state: 'waiting', progress: '', args, painting: app.painting, engine: more.soon ? app.quick : app.engine };
  app.answers.set(key, entry);
  const version = app.version;
  const stale = () => version !== app.version || (more.fleeting === true && entry.state === 'waiting' && entry.painting !== app.painting);
  const request = {
    args: [...args.map((arg) => (arg === 'FRAME' ? fileName() : arg)), '--language', languageSpoken()], stdin: '',
    files: { [fileName()]: app.frame.text, ...more.files },
  };
  const settled = (changes) => {
    Object.assign(entry, changes);
    if (!stale()) { app.render(entry); }
  };
  entry.engine.ask(request, { stale, progress: (line) => { entry.progress = line; if (!stale()) { app.render(entry); } } }).then(
    (given) => {
      let json = null;
      // A refused frame has no document; what is no JSON is for people.
      if (args.includes('--json')) { try { json = JSON.parse(given.out); } catch (error) { json = null; } }
      settled({ state: 'ready', ...given, json });
    },
    (error) => {
      if (error instanceof GivenUp && stale()) {
        // The same question may have been asked of another text since.
        if (app.answers.get(key) === entry) { app.answers.delete(key); }
        return;
      }
      settled({ state: error instanceof GivenUp ? 'given up' : 'failed', why: error.message });
    });
  return entry;
}
/// Asks again what was given up or failed.
export function again(entry) {
  for (const [key, known] of app.answers) { if (known === entry) { app.answers.delete(key); } }
  app.render();
}
/// A file that the command wrote, read as JSON; null where it wrote none.
export function written(entry, name) {
  if (!entry.files || entry.files[name] === undefined) { return null; }
  if (!entry.parsed) { entry.parsed = JSON.parse(entry.files[name]); }
  return entry.parsed;
}

export const ask = {
  check: () => answer(['check', 'FRAME', '--json'], { soon: true }),
  /// Until there is a verdict that is what is waited for; then the steps alone, which are there much sooner, go first.
  deck: () => {
    const check = ask.check();
    if (check.state === 'waiting') { return check; }
    if (check.json && check.json.verdict === 'buildable') { ask.steps(); }
    return answer(['cards', 'FRAME', '-o', 'deck.json', '--no-pictures', '--json', '--units', units()]);
  },
  numbers: () => answer(['show', 'FRAME', '-o', 'numbers.json'], { soon: true }),
  steps: () => answer(['order', 'FRAME', '--json', '--no-prices']),
  order: () => answer(['order', 'FRAME', '--json']), // with what forgetting costs: that takes longest
};
export function deck() {
  const entry = ask.deck();
  return entry.state === 'ready' ? written(entry, 'deck.json') : null;
}
export function numbers() {
  const entry = ask.numbers();
  return entry.state === 'ready' ? written(entry, 'numbers.json') : null;
}

/// What stands in a door while there is no answer, or why there is none; null when there is one.
export function notYet(entry) {
  if (entry.state === 'waiting') {
    return el('div', { class: 'wait', role: 'status' }, el('p', {}, say('Working ...')),
      entry.progress ? el('p', { class: 'soft' }, entry.progress) : null,
      button(say('Give up'), () => entry.engine.giveUp(), { class: 'quiet' }));
  }
  if (entry.state === 'given up') {
    return el('div', { class: 'wait' }, el('p', {}, say('Given up.')), button(say('Ask again'), () => again(entry)));
  }
  if (entry.state === 'failed') {
    return el('div', { class: 'wait' },
      para(say('The program reached a limit of this browser, most likely its memory: {0}. A smaller frame, or the program on a computer, may get further.', entry.why), { class: 'watch' }),
      button(say('Ask again'), () => again(entry)));
  }
  if (isEmpty(app.frame.text)) {
    return el('div', { class: 'wait' }, para(say('Nothing is on it yet. Choose a pipe and where the first flange goes, or type.')), button(say('To the picture'), () => app.go('picture')));
  }
  if (entry.code === 2 && !entry.err.startsWith(fileName() + ':')) {
    return el('div', { class: 'wait' }, para(entry.err.trim().replace(/^dryfit: /, ''), { class: 'watch' }));
  }
  if (entry.code === 2) {
    return el('div', { class: 'wait' }, para(say('The frame file has to be mended first:')),
      el('ul', { class: 'plain' }, entry.err.trim().split('\n').slice(0, 20).map((line) => el('li', {}, line))),
      button(say('To the frame file'), () => app.go('frame')));
  }
  if (entry.code === 3) { return el('div', { class: 'wait' }, para(entry.err.trim().replace(/^dryfit: /, '') || say('Undecided within the limits.'), { class: 'watch' })); }
  return null;
}

export function keepFrame() {
  app.frame.made = [...app.made];
  app.store.keep(app.frame);
}
/// A box whose tick is kept with the frame, by a name of its own.
export function tickBox(key) {
  const box = el('input', {
    type: 'checkbox',
    change: () => {
      app.frame.ticked = app.frame.ticked.filter((known) => known !== key).concat(box.checked ? [key] : []);
      keepFrame();
    },
  });
  box.checked = app.frame.ticked.includes(key);
  return box;
}
export function setMade(made) {
  app.made = made;
  keepFrame();
}

/// Hands a file to the person.
export function download(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = el('a', { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
}
