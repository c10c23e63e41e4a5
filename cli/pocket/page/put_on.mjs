// Parts put on by tapping: an open end, then the kind, then direction or length. The program makes the change in the text.
import { app, fileName, units } from './app.mjs';
import { button, el } from './build.mjs';
import { unitsOf } from './frame_text.mjs';
import { languageSpoken, say } from './words.mjs';

const ARROWS = { right: '→', left: '←', up: '↑', down: '↓', back: '↗', front: '↙' };
const AXES = { right: 'x', left: 'x', back: 'y', front: 'y', up: 'z', down: 'z' };
const INCHES = [2, 3, 4, 6, 8, 10, 12, 18, 24, 30, 36, 48];
const MILLIMETRES = [60, 80, 100, 150, 200, 300, 400, 500, 600, 800, 1000, 1200];

export function directionName(direction) {
  return { right: say('right'), left: say('left'), up: say('up'), down: say('down'), back: say('back'), front: say('front') }[direction] || direction;
}
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

async function edit(args) {
  const file = fileName();
  const version = app.version;
  const given = await app.engine.ask({ args: ['edit', file, ...args, '--json', '--language', languageSpoken()], stdin: '', files: { [file]: app.frame.text } });
  if (version !== app.version) { return null; }
  if (given.code !== 0) { app.notify(given.err.trim().split('\n')[0].replace(/^dryfit: /, '')); return null; }
  return JSON.parse(given.out);
}
async function putOn(end, what) {
  const answer = await edit(['--add', end.name + '=' + what]);
  if (!answer) { return; }
  app.editor.edit(answer.text);
  app.end = null;
  app.kind = '';
  // Its own open end is the next one to go on from.
  app.added = answer.added[0];
  app.choose(answer.added[0]);
  app.notify(say('{} is on.', answer.added[0]), say('Undo'), () => { app.added = ''; app.editor.undo(); });
}
export async function takeOff(label) {
  const answer = await edit(['--take-off', label]);
  if (!answer) { return; }
  app.editor.edit(answer.text);
  app.choose('');
  app.notify(say('{} is off.', label), say('Undo'), () => app.editor.undo());
}

/// All open ends of the frame: {name, part, end, facing, male, size}.
export function openEnds(numbers) {
  return numbers.parts.flatMap((part) => part.free_ends.map((end) => ({ ...end, part: part.label, name: part.label + '.' + end.end })));
}

/// What can be done at the end that was chosen, or the list of all.
export function endPanel(ends) {
  const end = ends.find((one) => one.name === app.end);
  if (!end) {
    return ends.length === 0 ? null : el('div', { class: 'row', role: 'group', 'aria-label': say('Open ends') }, ends.slice(0, 24).map((one) => button(one.name, () => { app.end = one.name; app.kind = ''; app.choose(one.part); }, { class: 'quiet', id: 'end-' + one.name.replace('.', '-') })));
  }
  const kinds = kindsFor(end);
  const chosen = kinds.find(([kind]) => kind === app.kind);
  const back = button(say('Back'), () => { if (app.kind) { app.kind = ''; } else { app.end = null; } app.render(); }, { class: 'quiet', id: 'end-back' });
  const head = el('p', {}, el('strong', {}, chosen ? say('{0}: {1}', end.name, chosen[1]) : say('Put on {}', end.name)));
  if (!chosen) {
    return [head, el('div', { class: 'row' }, kinds.map(([kind, words, wanted]) => button(words, () => { if (wanted === '') { putOn(end, kind); } else { app.kind = kind; app.render(); } }, { id: 'put-' + kind })), back)];
  }
  if (chosen[2] === 'direction') {
    return [head, el('div', { class: 'row' }, squareTo(end.facing).map((direction) => button(ARROWS[direction] + ' ' + directionName(direction), () => putOn(end, `${app.kind}: ${direction}`), { id: 'put-' + direction })), back)];
  }
  // As a person would type it: a bare number where the file counts in that unit.
  const unit = units();
  const suffix = unitsOf(app.frame.text) === unit ? '' : ' ' + unit;
  const field = el('input', { type: 'text', inputmode: 'text', size: '7', 'aria-label': say('Another length'), id: 'put-length' });
  return [head, el('div', { class: 'row' }, (unit === 'in' ? INCHES : MILLIMETRES).map((length) => button(String(length), () => putOn(end, `pipe: ${length}${suffix}`), { id: 'put-' + length, class: 'n' })),
    field, button(say('Use it'), () => { if (field.value.trim()) { putOn(end, `pipe: ${/[a-z"]$/i.test(field.value.trim()) ? field.value.trim() : field.value.trim() + suffix}`); } }, { class: 'quiet' }), back)];
}
