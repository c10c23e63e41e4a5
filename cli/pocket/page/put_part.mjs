// What can be done with the part that was tapped: another kind, something put into it, a name, a copy, a board.
import { app, units } from './app.mjs';
import { button, el } from './build.mjs';
import { unitsOf } from './frame_text.mjs';
import { inches } from './lengths.mjs';
import { arrowTo, edit, idOf, kindName, takeOff, taken } from './put_on.mjs';
import { listed, say } from './words.mjs';

const ALL = ['right', 'left', 'back', 'front', 'up', 'down'];
const STRAIGHT = ['coupling', 'union'];

async function change(args, words, choose) {
  const answer = await edit(args);
  if (!answer) { return; }
  taken(answer, words(answer));
  app.choose(choose === undefined ? answer.added[0] || '' : choose);
}
/// The axis that a pipe lies along, 0 to 2, and where it begins on it; null where it lies at 45 degrees.
export function axisOf(part) {
  const body = part.bodies.find((one) => one.length === 7);
  if (!body) { return null; }
  const apart = [0, 1, 2].filter((axis) => Math.abs(body[axis] - body[axis + 3]) > 0.2);
  return apart.length === 1 ? { axis: apart[0], from: Math.min(body[apart[0]], body[apart[0] + 3]), middle: body } : null;
}
/// Pipes that a board could go over as well: along the same axis, those at the same height first.
export function alongside(parts, first) {
  const at = axisOf(first);
  if (!at) { return []; }
  const across = at.axis === 2 ? (one) => Math.abs(one.from - at.from) : (one) => Math.abs(one.middle[2] - at.middle[2]);
  return parts.filter((part) => part.kind === 'pipe' && part.label !== first.label && axisOf(part)?.axis === at.axis)
    .map((part) => ({ label: part.label, away: across(axisOf(part)) })).sort((a, b) => a.away - b.away).slice(0, 12).map((one) => one.label);
}

function boardPanel(loaded, part) {
  const chosen = app.doing.pipes;
  const upright = axisOf(part)?.axis === 2;
  const said = (upright ? 'through' : 'rests-on') + ': [' + chosen.join(', ') + ']';
  return [el('p', {}, el('strong', {}, upright ? say('A board through {}', listed(chosen)) : say('A board on {}', listed(chosen)))),
    el('div', { class: 'row', role: 'group', 'aria-label': say('Pipes that it goes over') },
      alongside(loaded.parts, part).map((label) => button(label, () => { app.doing.pipes = chosen.includes(label) ? chosen.filter((one) => one !== label) : [...chosen, label]; app.render(); }, { 'aria-pressed': String(chosen.includes(label)), id: idOf('board', label) }))),
    el('div', { class: 'row' }, button(say('Put it on'), () => change(['--board', said], (answer) => say('{} is on.', answer.added[0])), { class: 'main', id: 'board-put' }), cancel())];
}
function cancel() { return button(say('Back'), () => { app.doing = null; app.render(); }, { class: 'quiet', id: 'part-back' }); }

/// Kinds as buttons, then directions where one is needed.
function kindPanel(part, words, kinds, act) {
  const { kind } = app.doing;
  return [el('p', {}, el('strong', {}, kind ? words + ' ' + kindName(kind) : words)),
    el('div', { class: 'row' }, kind ? ALL.map((direction) => button(arrowTo(direction), () => act(`${kind}: ${direction}`), { id: 'to-' + direction }))
      : kinds.map((one) => button(kindName(one), () => { if (STRAIGHT.includes(one) || one === 'cap') { act(one); } else { app.doing.kind = one; app.render(); } }, { id: 'to-' + one })), cancel())];
}
function namePanel(part) {
  const field = el('input', { type: 'text', size: '9', value: part.label, 'aria-label': say('Name'), id: 'part-name' });
  const use = () => { const now = field.value.trim(); if (now && now !== part.label) { change(['--rename', `${part.label}=${now}`], () => say('{0} is {1} now.', part.label, now), now); } };
  return el('div', { class: 'row' }, el('strong', {}, say('Another name for {}', part.label)), field, button(say('Use it'), use, { class: 'main', id: 'name-use' }), cancel());
}
function copyPanel(part) {
  const field = el('input', { type: 'text', size: '9', value: app.spot || (units() === 'in' ? '24, 0' : '600, 0'), 'aria-label': say('Where on it, from the first one'), id: 'copy-spot', change: () => { app.spot = field.value; } });
  const put = (option) => change([option, `${part.label}=floor@${field.value}`], () => say('A copy of {} is on.', part.label), '');
  return [el('div', { class: 'row' }, el('strong', {}, say('Its run once more on the floor, at')), field,
    button(say('As it is'), () => put('--copy'), { class: 'main', id: 'copy-same' }), button(say('Mirrored'), () => put('--mirror'), { id: 'copy-mirrored' }), cancel())];
}
/// What a board measures along x, y and z, mm.
export function extentOf(part) {
  return [0, 1, 2].map((axis) => Math.max(...part.bodies.map((one) => Math.max(one[axis], one[axis + 3]))) - Math.min(...part.bodies.map((one) => Math.min(one[axis], one[axis + 3]))));
}
function sizePanel(part) {
  const unit = unitsOf(app.frame.text);
  // The numbers of the picture are to a tenth of a millimetre.
  const was = extentOf(part).map((mm) => (unit === 'in' ? inches(mm, 32) : String(Math.round(mm * 10) / (unit === 'cm' ? 100 : 10))));
  const names = [say('wide, left to right'), say('deep, front to back'), say('high')];
  const fields = was.map((value, axis) => el('input', { type: 'text', size: '7', value, id: 'size-' + 'xyz'[axis], 'aria-label': names[axis] }));
  const use = () => {
    const args = fields.flatMap((field, axis) => (field.value.trim() && field.value.trim() !== was[axis] ? ['--set', `${part.label}.size.${'xyz'[axis]}=${field.value.trim()}`] : []));
    if (args.length > 0) { change(args, () => say('{} has another size.', part.label), part.label); }
  };
  return [el('p', {}, el('strong', {}, say('Size of {}', part.label))), fields.map((field, axis) => el('label', { class: 'row' }, field, el('span', {}, names[axis]))),
    el('div', { class: 'row' }, button(say('Use it'), use, { class: 'main', id: 'size-use' }), cancel())];
}
const SWAPS = { coupling: ['union', 'tee'], union: ['coupling', 'tee'], tee: ['tee', 'elbow'], elbow: ['elbow', 'tee'] };

/// What is under way for the part, or null.
export function partPanel(loaded, part) {
  if (!app.doing || app.doing.part !== part.label) { return null; }
  switch (app.doing.what) {
    case 'board': return boardPanel(loaded, part);
    case 'insert': return kindPanel(part, say('Into {}:', part.label), ['union', 'coupling', 'tee'], (value) => change(['--insert', `${part.label}=${value}`], (answer) => say('{} is on.', listed(answer.added))));
    case 'swap': return kindPanel(part, say('Instead of {}:', part.label), SWAPS[part.kind], (value) => change(['--swap', `${part.label}=${value}`], () => say('{} is another kind now.', part.label), part.label));
    case 'name': return namePanel(part);
    case 'size': return sizePanel(part);
    case 'copy': return copyPanel(part);
    default: return null;
  }
}
/// The ways to begin something with the part.
export function partButtons(part) {
  const begin = (what, words) => button(words, () => { app.doing = { what, part: part.label, pipes: [part.label], kind: '' }; app.end = null; app.render(); }, { id: 'part-' + what });
  return [part.kind === 'pipe' && axisOf(part) ? begin('board', say('Put a board here')) : null,
    part.kind === 'pipe' ? begin('insert', say('Put something in')) : null,
    SWAPS[part.kind] ? begin('swap', say('Another kind')) : null,
    part.kind === 'board' ? [begin('size', say('Another size')), button(say('Screw to the wall'),
      () => change(['--fix', `${part.label}=wall`], () => say('{} is screwed on.', part.label), part.label), { id: 'fix-wall' })] : begin('copy', say('Copy its run')),
    begin('name', say('Another name')), button(say('Take off'), () => takeOff(part.label), { class: 'quiet', id: 'take-off' })];
}
/// All parts by name, for keys and screen readers and for those that something hides.
export function partsList(parts) {
  const labels = [...new Set(parts.map((part) => part.label))];
  return el('details', { id: 'all-parts', open: app.listOpen || null, toggle: (event) => { app.listOpen = event.target.open; } }, el('summary', {}, say('All parts')),
    el('div', { class: 'row', role: 'group', 'aria-label': say('All parts') }, labels.slice(0, 400).map((label) => button(label, () => { app.end = null; app.doing = null; app.choose(label); }, { class: 'quiet', id: idOf('part', label) }))));
}
