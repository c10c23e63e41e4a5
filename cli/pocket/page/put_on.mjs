// Parts put on by tapping: an open end, then the kind, then direction or length. The program makes the change in the text.
import { answer, app, fileName, len, units } from './app.mjs';
import { button, el } from './build.mjs';
import { unitsOf } from './frame_text.mjs';
import { forgetLengths, lengthField } from './length_wheel.mjs';
import { lengthForFile } from './lengths.mjs';
import { languageSpoken, listed, say } from './words.mjs';

/// The six directions, in the order in which the program offers them: an arrow for the eye, and the way along x, y and z.
const DIRECTIONS = { right: ['→', [1, 0, 0]], left: ['←', [-1, 0, 0]], back: ['↗', [0, 1, 0]], front: ['↙', [0, -1, 0]], up: ['↑', [0, 0, 1]], down: ['↓', [0, 0, -1]] };
export const ALONG_AXES = Object.keys(DIRECTIONS);
const INCHES = [2, 3, 4, 6, 8, 10, 12, 18, 24, 30, 36, 48];
const NEAREST = 3; // lengths that say what they would leave to an open end ahead
const MILLIMETRES = [60, 80, 100, 150, 200, 300, 400, 500, 600, 800, 1000, 1200];

export function directionName(direction) {
  if (direction.includes('-')) { return direction.split('-').map(directionName).join(say(' and ')); }
  return { right: say('right'), left: say('left'), up: say('up'), down: say('down'), back: say('back'), front: say('front') }[direction] || direction;
}
export function arrowTo(direction) { return (DIRECTIONS[direction] ? DIRECTIONS[direction][0] + ' ' : '') + directionName(direction); }
/// A direction by its name as numbers along x, y and z: "up-right" as well.
export function wayOf(direction) {
  return direction.split('-').map((word) => (DIRECTIONS[word] ? DIRECTIONS[word][1] : [0, 0, 0])).reduce((sum, one) => sum.map((value, k) => value + one[k]));
}
/// Directions square to the one that an end faces; none for an end that faces none of the six.
export function squareTo(facing) {
  return DIRECTIONS[facing] ? ALONG_AXES.filter((direction) => wayOf(direction).every((value, k) => value * wayOf(facing)[k] === 0)) : [];
}
/// Kinds that go on an end, as [kind, what has to be chosen], in the order in which the program offers them.
export function kindsFor(end) {
  const turning = squareTo(end.facing).length > 0;
  if (!end.male) { return [['pipe', 'length'], ['plug', '']]; }
  return [['coupling', ''], ...(turning ? [['elbow', 'direction'], ['tee', 'direction']] : []), ['union', ''], ['cap', ''], ['flange', ''],
    ...(turning ? [['elbow45', 'unknown'], ['cross', 'unknown']] : [])];
}

/// Asks the program for a change of the text; null when it refused, which people are told, or another text came between.
export async function edit(args) {
  const file = fileName();
  const version = app.version;
  const given = await app.quick.ask({ args: ['edit', file, ...args, '--json', '--language', languageSpoken()], stdin: '', files: { [file]: app.frame.text } });
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
  forgetLengths();
  // They spoke of the part as it was: what is pressed before they are filled anew would not be what it says.
  for (const one of document.querySelectorAll('.adjust button')) { one.disabled = true; }
  app.notify(words, say('Undo'), () => { app.added = ''; app.editor.undo(); });
}
/// A change of a part that is on: what was chosen stays so.
export async function changePart(args, part, words) {
  const end = app.end;
  const answer = await edit(args);
  if (!answer) { return; }
  taken(answer, words);
  app.end = end;
  app.fresh = part;
  app.choose(part);
}
async function putOn(end, what) {
  const answer = await edit(['--add', end.name + '=' + what]);
  if (!answer) { return; }
  taken(answer, say('{} is on.', answer.added[0]));
  // Its own open end is the next one to go on from.
  app.added = answer.added[0];
  app.fresh = answer.added[0];
  app.choose(answer.added[0]);
}
async function meet(end, target) {
  const answer = await edit(['--join', end.name + '=' + target]);
  if (!answer) { return; }
  taken(answer, say('{0} is screwed into {1}.', end.part, target));
  app.choose(end.part);
}
async function copyHere(option, end, run) {
  const answer = await edit([option, run + '=' + end.name]);
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

const endsOf = new WeakMap(); // by the numbers of a frame: a painting asks more than once
/// All open ends of the frame: {name, part, end, facing, male, size}.
export function openEnds(numbers) {
  if (!endsOf.has(numbers)) { endsOf.set(numbers, numbers.parts.flatMap((part) => part.free_ends.map((end) => ({ ...end, part: part.label, name: part.label + '.' + end.end })))); }
  return endsOf.get(numbers);
}

function askOffers(end) { return answer(['edit', 'FRAME', '--offers', end.name, '--json'], { soon: true, fleeting: true }); }
export function offersAt(end) {
  const entry = askOffers(end);
  return entry.json ? entry.json.offers : null;
}
function offersWait(end) { return askOffers(end).state === 'waiting'; }
/// What a part could be instead; null while that is worked out, or where the program does not say.
function askChoices(part) { return answer(['edit', 'FRAME', '--offers', part, '--json'], { soon: true, fleeting: true }); }
export function choicesOf(part) {
  const entry = askChoices(part);
  return entry.json ? entry.json.choices : null;
}
export function choicesWait(part) { return askChoices(part).state === 'waiting'; }
const NAMES = () => ({ pipe: say('pipe'), plug: say('plug'), coupling: say('coupling'), elbow: say('elbow'), tee: say('tee'), union: say('union'), cap: say('cap'), flange: say('flange'), elbow45: say('45 elbow'), cross: say('cross'), board: say('board'), bushing: say('bushing'),
  'street-elbow': say('street elbow'), 'side-elbow': say('side-outlet elbow'), 'side-tee': say('side-outlet tee'), foot: say('foot'), caster: say('caster') });
export function kindName(kind) { return NAMES()[kind] || kind; }

/// Kinds on an end as buttons: at once what is usual there, and what the program found once it has. The usual ones stand
/// where they will stay; those of which the program has to say more first wait there, so that nothing moves under the finger.
function kindButtons(end, offers) {
  const kinds = offers ? offers.kinds.map(({ kind, directions, value }) => ({ kind, wanted: kind === 'pipe' ? 'length' : directions.length > 0 ? 'direction' : '', value: value || kind }))
    : kindsFor(end).map(([kind, wanted]) => ({ kind, wanted, value: kind }));
  return kinds.map(({ kind, wanted, value }) => button(kindName(kind), () => { if (wanted === '') { putOn(end, value); } else { app.kind = kind; app.render(); } }, { id: 'put-' + kind, disabled: wanted === 'unknown' }));
}
/// Runs and open ends that this end could meet.
function meetings(end, offers) {
  if (!offers) { return []; }
  return [...offers.joins.map((target) => button(say('Screw it into {}', target), () => meet(end, target), { id: idOf('join', target), class: 'main' })),
    ...offers.copies.flatMap((run) => [button(say('Copy of {}', run), () => copyHere('--copy', end, run), { id: idOf('copy', run) }),
      (offers.branching || []).includes(run) ? button(say('Copy of {} with its branches', run), () => copyHere('--copy-all', end, run), { id: idOf('copy-all', run) }) : null])];
}
/// A length in front of others: what it would meet.
export function lengthWords(one) {
  if (one.closes) { return say('{0}: lines up with {1}', len(one.length_mm), one.closes); }
  return one.level_with ? say('{0}: level with {1}', len(one.length_mm), one.level_with) : one.text;
}
/// Stock lengths: those that line up or come level in front, with what they meet.
function lengthButtons(end, offers) {
  const unit = units();
  // As a person would type it: a bare number where the file counts in that unit.
  const file = unitsOf(app.frame.text);
  const suffix = file === unit ? '' : ' ' + unit;
  const plain = (length) => button(String(length), () => putOn(end, `pipe: ${length}${suffix}`), { id: idOf('put', length), class: 'n' });
  const use = () => { if (typed.text) { putOn(end, `pipe: ${/[a-z"]$/i.test(typed.text) ? typed.text : typed.text + suffix}`); } };
  const typed = lengthField({ id: 'put-length', label: say('Another length'), value: unit === 'in' ? '12' : lengthForFile(300, unit), unit, sure: use });
  const other = el('div', { class: 'row' }, el('span', {}, say('Another length')), typed.element, button(say('Use it'), use, { class: 'quiet', id: 'put-length-use' }));
  if (!offers) { return [(unit === 'in' ? INCHES : MILLIMETRES).map(plain), other]; }
  const front = offers.lengths.filter((one) => one.closes || one.level_with);
  const rest = offers.lengths.filter((one) => !one.closes && !one.level_with);
  const put = (one, kind, words = lengthWords(one), more = {}) => button(words, () => putOn(end, 'pipe: ' + one.text), { id: idOf('put', one.text), class: kind, ...more });
  // Toward an open end ahead: those that leave the least to it go first and say what that is, those that are too long last.
  const short = rest.filter((one) => one.off_mm < 0);
  const near = short.slice(-NEAREST).reverse();
  const left = (one) => ({ 'aria-label': say('{0}: leaves {1} to the open end ahead', one.text, len(-one.off_mm)) });
  const beyond = (one) => put(one, 'n quiet', [one.text, el('small', {}, ' ' + say('too long'))], { 'aria-label': say('{0}: {1} too long for the open end ahead', one.text, len(one.off_mm)) });
  return [front.map((one) => put(one, 'main n')), near.map((one) => put(one, 'n', [one.text, el('small', {}, ' ' + say('leaves {}', len(-one.off_mm)))], left(one))),
    short.slice(0, -NEAREST).map((one) => put(one, 'n', one.text, left(one))), rest.filter((one) => one.off_mm === 0).map((one) => put(one, 'n')), rest.filter((one) => one.off_mm > 0).map(beyond), other];
}

/// The directions that the kind which was chosen for an end can be given; [] where none are asked for.
export function directionsAt(end) {
  if (app.kind === '' || app.kind === 'pipe') { return []; }
  const offers = offersAt(end);
  const found = offers && offers.kinds.find((one) => one.kind === app.kind);
  return found ? found.directions : squareTo(end.facing);
}
export function putToward(end, direction) { putOn(end, `${app.kind}: ${direction}`); }
/// Goes to an open end.
export function toEnd(name) {
  app.end = name;
  app.kind = '';
  app.doing = null;
  app.choose(name.slice(0, name.lastIndexOf('.')));
}

/// All open ends, by name and the way they face: what the picture shows, for keys and for those who do not see it.
export function endsList(ends, heading) {
  return ends.length === 0 ? null : el('div', { class: 'row', role: 'group', 'aria-label': heading }, ends.map((one) => button(one.name, () => toEnd(one.name),
    { class: 'quiet', id: idOf('end', one.name), 'aria-label': say('{0}, open, facing {1}', one.name, directionName(one.facing)) })));
}
/// What can be done at the end that was chosen; `before` stands below the kinds.
export function endPanel(end, before) {
  const offers = offersAt(end);
  const chosen = app.kind !== '';
  const back = button(say('Back'), () => { if (app.kind) { app.kind = ''; } else { app.end = null; app.fresh = ''; } app.render(); }, { class: 'quiet', id: 'end-back' });
  const head = el('p', {}, el('strong', {}, chosen ? say('{0}: {1}', end.name, kindName(app.kind)) : say('Put on {}', end.name)));
  // What comes later stands behind: nothing moves under the finger.
  if (!chosen) { return [head, el('div', { class: 'row' }, kindButtons(end, offers)), before, el('div', { class: 'row' }, back, meetings(end, offers))]; }
  if (app.kind === 'pipe') {
    if (!offers && offersWait(end)) { return [head, el('div', { class: 'row' }, back, el('span', { class: 'soft', role: 'status' }, say('Working ...')))]; }
    return [head, el('div', { class: 'row' }, back, lengthButtons(end, offers))];
  }
  return [head, el('div', { class: 'row' }, directionsAt(end).map((direction) => button(arrowTo(direction), () => putToward(end, direction), { id: 'put-' + direction })), back)];
}
