// Parts put on by tapping: an open end, then the kind, then direction or length. The program makes the change in the text.
import { answer, app, fileName, len, units } from './app.mjs';
import { button, el } from './build.mjs';
import { unitsOf } from './frame_text.mjs';
import { languageSpoken, listed, say } from './words.mjs';

const ARROWS = { right: '→', left: '←', up: '↑', down: '↓', back: '↗', front: '↙' };
const AXES = { right: 'x', left: 'x', back: 'y', front: 'y', up: 'z', down: 'z' };
const INCHES = [2, 3, 4, 6, 8, 10, 12, 18, 24, 30, 36, 48];
const MILLIMETRES = [60, 80, 100, 150, 200, 300, 400, 500, 600, 800, 1000, 1200];

export function directionName(direction) {
  if (direction.includes('-')) { return direction.split('-').map(directionName).join(say(' and ')); }
  return { right: say('right'), left: say('left'), up: say('up'), down: say('down'), back: say('back'), front: say('front') }[direction] || direction;
}
export function arrowTo(direction) { return (ARROWS[direction] ? ARROWS[direction] + ' ' : '') + directionName(direction); }
/// Directions square to the one that an end faces.
export function squareTo(facing) {
  const axis = AXES[facing];
  return axis ? Object.keys(AXES).filter((direction) => AXES[direction] !== axis) : [];
}
/// Kinds that go on an end, as [kind, words, what has to be chosen].
export function kindsFor(end) {
  const turning = squareTo(end.facing).length > 0;
  if (!end.male) { return [['pipe', say('pipe'), 'length'], ['plug', say('plug'), '']]; }
  return [['coupling', say('coupling'), ''], ...(turning ? [['elbow', say('elbow'), 'direction'], ['tee', say('tee'), 'direction']] : []),
    ['union', say('union'), ''], ['cap', say('cap'), ''], ['flange', say('flange'), '']];
}

/// Asks the program for a change of the text; null when it refused, which people are told, or another text came between.
export async function edit(args) {
  const file = fileName();
  const version = app.version;
  const given = await app.engine.ask({ args: ['edit', file, ...args, '--json', '--language', languageSpoken()], stdin: '', files: { [file]: app.frame.text } }, { first: true });
  if (version !== app.version) { return null; }
  if (given.code !== 0) { app.notify(given.err.trim().split('\n')[0].replace(/^dryfit: /, '')); return null; }
  return JSON.parse(given.out);
}
/// The change becomes the text. What is said of it goes with the way back.
export function taken(answer, words) {
  app.editor.edit(answer.text);
  app.end = null;
  app.kind = '';
  app.doing = null;
  app.refocus = true;
  app.notify(words, say('Undo'), () => { app.added = ''; app.editor.undo(); });
}
async function putOn(end, what) {
  const answer = await edit(['--add', end.name + '=' + what]);
  if (!answer) { return; }
  taken(answer, say('{} is on.', answer.added[0]));
  // Its own open end is the next one to go on from.
  app.added = answer.added[0];
  app.choose(answer.added[0]);
}
async function meet(end, target) {
  const answer = await edit(['--join', end.name + '=' + target]);
  if (!answer) { return; }
  taken(answer, say('{0} is screwed into {1}.', end.part, target));
  app.choose(end.part);
}
async function copyHere(end, run) {
  const answer = await edit(['--copy', run + '=' + end.name]);
  if (!answer) { return; }
  taken(answer, say('A copy of {} is on.', run));
  app.choose('');
}
export async function takeOff(label) {
  const answer = await edit(['--take-off-all', label]);
  if (!answer) { return; }
  const others = answer.taken_off.filter((one) => one !== label);
  taken(answer, others.length === 0 ? say('{} is off.', label) : say('{0} is off, and with it {1}.', label, listed(others)));
  app.choose('');
}

/// A name of an element: no dots, blanks or slashes, so that a selector is short.
export function idOf(...words) { return words.join('-').replace(/[^A-Za-z0-9_-]/g, '-'); }

/// All open ends of the frame: {name, part, end, facing, male, size}.
export function openEnds(numbers) {
  return numbers.parts.flatMap((part) => part.free_ends.map((end) => ({ ...end, part: part.label, name: part.label + '.' + end.end })));
}

function askOffers(end) { return answer(['edit', 'FRAME', '--offers', end.name, '--json'], { first: true }); }
function offersAt(end) {
  const entry = askOffers(end);
  return entry.json ? entry.json.offers : null;
}
function offersWait(end) { return askOffers(end).state === 'waiting'; }
const NAMES = () => ({ pipe: say('pipe'), plug: say('plug'), coupling: say('coupling'), elbow: say('elbow'), tee: say('tee'), union: say('union'), cap: say('cap'), flange: say('flange'), elbow45: say('45 elbow'), cross: say('cross') });
export function kindName(kind) { return NAMES()[kind] || kind; }

/// Kinds on an end as buttons: at once what is usual there, and what the program found once it has.
function kindButtons(end, offers) {
  const kinds = offers ? offers.kinds.map(({ kind, directions, value }) => ({ kind, wanted: kind === 'pipe' ? 'length' : directions.length > 0 ? 'direction' : '', value: value || kind }))
    : kindsFor(end).map(([kind, , wanted]) => ({ kind, wanted, value: kind }));
  return kinds.map(({ kind, wanted, value }) => button(kindName(kind), () => { if (wanted === '') { putOn(end, value); } else { app.kind = kind; app.render(); } }, { id: 'put-' + kind }));
}
/// Runs and open ends that this end could meet.
function meetings(end, offers) {
  if (!offers) { return []; }
  return [...offers.joins.map((target) => button(say('Screw it into {}', target), () => meet(end, target), { id: idOf('join', target), class: 'main' })),
    ...offers.copies.map((run) => button(say('Copy of {}', run), () => copyHere(end, run), { id: idOf('copy', run) }))];
}
/// Stock lengths: those that line up or come level in front, with what they meet.
function lengthButtons(end, offers) {
  const unit = units();
  // As a person would type it: a bare number where the file counts in that unit.
  const suffix = unitsOf(app.frame.text) === unit ? '' : ' ' + unit;
  const plain = (length) => button(String(length), () => putOn(end, `pipe: ${length}${suffix}`), { id: idOf('put', length), class: 'n' });
  const typed = el('input', { type: 'text', inputmode: 'text', size: '7', 'aria-label': say('Another length'), id: 'put-length' });
  const use = button(say('Use it'), () => { if (typed.value.trim()) { putOn(end, `pipe: ${/[a-z"]$/i.test(typed.value.trim()) ? typed.value.trim() : typed.value.trim() + suffix}`); } }, { class: 'quiet' });
  if (!offers) { return [...(unit === 'in' ? INCHES : MILLIMETRES).map(plain), typed, use]; }
  const front = offers.lengths.filter((one) => one.closes || one.level_with);
  const rest = offers.lengths.filter((one) => !one.closes && !one.level_with);
  const put = (one, words, kind) => button(words, () => putOn(end, 'pipe: ' + one.text), { id: idOf('put', one.text), class: kind });
  return [...front.map((one) => put(one, one.closes ? say('{0}: lines up with {1}', len(one.length_mm), one.closes) : say('{0}: level with {1}', len(one.length_mm), one.level_with), 'main n')),
    ...rest.map((one) => put(one, one.text, 'n')), typed, use];
}

/// What can be done at the end that was chosen, or the list of all.
export function endPanel(ends) {
  const end = ends.find((one) => one.name === app.end);
  if (!end) {
    return ends.length === 0 ? null : el('div', { class: 'row', role: 'group', 'aria-label': say('Open ends') }, ends.slice(0, 24).map((one) => button(one.name, () => { app.end = one.name; app.kind = ''; app.choose(one.part); },
      { class: 'quiet', id: idOf('end', one.name), 'aria-label': say('{0}, open, facing {1}', one.name, directionName(one.facing)) })));
  }
  const offers = offersAt(end);
  const chosen = app.kind !== '';
  const back = button(say('Back'), () => { if (app.kind) { app.kind = ''; } else { app.end = null; } app.render(); }, { class: 'quiet', id: 'end-back' });
  const head = el('p', {}, el('strong', {}, chosen ? say('{0}: {1}', end.name, kindName(app.kind)) : say('Put on {}', end.name)));
  // What comes later stands behind: nothing moves under the finger.
  if (!chosen) { return [head, el('div', { class: 'row' }, kindButtons(end, offers)), el('div', { class: 'row' }, back, meetings(end, offers))]; }
  if (app.kind === 'pipe') {
    if (!offers && offersWait(end)) { return [head, el('div', { class: 'row' }, back, el('span', { class: 'soft', role: 'status' }, say('Working ...')))]; }
    return [head, el('div', { class: 'row' }, back, lengthButtons(end, offers))];
  }
  const found = offers && offers.kinds.find((one) => one.kind === app.kind);
  const directions = found ? found.directions : squareTo(end.facing);
  return [head, el('div', { class: 'row' }, directions.map((direction) => button(arrowTo(direction), () => putOn(end, `${app.kind}: ${direction}`), { id: 'put-' + direction })), back)];
}
