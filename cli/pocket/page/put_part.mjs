// What can be done with the part that was tapped: another kind, something put into it, a name, a copy, a board.
import { app } from './app.mjs';
import { button, el } from './build.mjs';
import { unitsOf } from './frame_text.mjs';
import { lengthField } from './length_wheel.mjs';
import { inches } from './lengths.mjs';
import { ALONG_AXES, arrowTo, choicesOf, edit, idOf, kindName, takeOff, taken } from './put_on.mjs';
import { spotFields, surfaceName, surfacesIn } from './put_start.mjs';
import { listed, say } from './words.mjs';

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
    el('div', { class: 'row' }, kind ? ALONG_AXES.map((direction) => button(arrowTo(direction), () => act(`${kind}: ${direction}`), { id: 'to-' + direction }))
      : kinds.map((one) => button(kindName(one), () => { if (STRAIGHT.includes(one) || one === 'cap') { act(one); } else { app.doing.kind = one; app.render(); } }, { id: 'to-' + one })), cancel())];
}
function namePanel(part) {
  const field = el('input', { type: 'text', size: '9', value: part.label, 'aria-label': say('Name'), id: 'part-name' });
  const use = () => { const now = field.value.trim(); if (now && now !== part.label) { change(['--rename', `${part.label}=${now}`], () => say('{0} is {1} now.', part.label, now), now); } };
  return el('div', { class: 'row' }, el('strong', {}, say('Another name for {}', part.label)), field, button(say('Use it'), use, { class: 'main', id: 'name-use' }), cancel());
}
function copyPanel(part) {
  const spot = spotFields('floor', 'copy');
  const { branches } = app.doing;
  const put = (option) => change([option + (branches ? '-all' : ''), `${part.label}=floor@${spot.text}`], () => say('A copy of {} is on.', part.label), '');
  return [el('p', {}, el('strong', {}, say('Its run once more on the floor, at'))), el('div', { class: 'row' }, spot.elements),
    el('div', { class: 'row' }, button(say('As it is'), () => put('--copy'), { class: 'main', id: 'copy-same' }), button(say('Mirrored'), () => put('--mirror'), { id: 'copy-mirrored' }),
      button(say('With all that branches off it'), () => { app.doing.branches = !branches; app.render(); }, { 'aria-pressed': String(Boolean(branches)), id: 'copy-branches', class: 'quiet' }), cancel())];
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
  const fields = was.map((value, axis) => lengthField({ id: 'size-' + 'xyz'[axis], label: names[axis], value, unit }));
  const use = () => {
    const args = fields.flatMap((field, axis) => (field.text && field.text !== was[axis] ? ['--set', `${part.label}.size.${'xyz'[axis]}=${field.text}`] : []));
    if (args.length > 0) { change(args, () => say('{} has another size.', part.label), part.label); }
  };
  return [el('p', {}, el('strong', {}, say('Size of {}', part.label))), fields.map((field, axis) => el('div', { class: 'row' }, field.element, el('span', {}, names[axis]))),
    el('div', { class: 'row' }, button(say('Use it'), use, { class: 'main', id: 'size-use' }), cancel())];
}
/// Pipe sizes where they differ: of the part, of its outlet or of its far end.
function pipeSizePanel(part) {
  const choices = choicesOf(part.label);
  const words = { size: say('All of it:'), 'branch-size': say('Its outlet:'), 'to-size': say('Its far end:') };
  const row = ({ set, value, others }) => {
    const key = set.slice(set.indexOf('.') + 1);
    return el('div', { class: 'row', role: 'group', 'aria-label': words[key] }, el('span', {}, words[key] + (value ? ' ' + value : '')),
      others.map((size) => button(size, () => change(['--set', `${set}=${size}`], () => say('{} has another size.', part.label), part.label), { id: idOf(key, size), class: 'n' })));
  };
  return [el('p', {}, el('strong', {}, say('Pipe size of {}', part.label))),
    !choices ? el('p', { class: 'soft', role: 'status' }, say('Working ...')) : choices.sizes.length === 0 ? el('p', { class: 'soft' }, say('No other size fits what it is screwed to. Change the size of the whole frame, or use a reducing fitting.')) : choices.sizes.map(row),
    el('div', { class: 'row' }, cancel())];
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
    case 'pipe-size': return pipeSizePanel(part);
    case 'copy': return copyPanel(part);
    default: return null;
  }
}
/// A wall is put where the board touches it; any other surface has to be there.
function fixButtons(part) {
  const surfaces = [...new Set(['wall', ...surfacesIn(app.frame.text)])];
  return surfaces.map((surface) => button(surface === 'wall' ? say('Screw to the wall') : say('Screw to: {}', surfaceName(surface)),
    () => change(['--fix', `${part.label}=${surface}`], () => say('{} is screwed on.', part.label), part.label), { id: idOf('fix', surface), class: surface === 'wall' ? null : 'quiet' }));
}
/// The ways to begin something with the part.
export function partButtons(part) {
  const begin = (what, words) => button(words, () => { app.doing = { what, part: part.label, pipes: [part.label], kind: '' }; app.end = null; app.fresh = ''; app.render(); }, { id: 'part-' + what });
  return [part.kind === 'pipe' && axisOf(part) ? begin('board', say('Put a board here')) : null,
    part.kind === 'pipe' ? begin('insert', say('Put something in')) : null,
    SWAPS[part.kind] ? begin('swap', say('Another kind')) : null,
    part.kind === 'board' ? [begin('size', say('Another size')), fixButtons(part)] : [begin('pipe-size', say('Pipe size')), begin('copy', say('Copy its run'))],
    begin('name', say('Another name')), button(say('Take off'), () => takeOff(part.label), { class: 'quiet', id: 'take-off' })];
}
/// All parts by name, for keys and screen readers and for those that something hides.
export function partsList(parts) {
  const labels = [...new Set(parts.map((part) => part.label))];
  return el('details', { id: 'all-parts', open: app.listOpen || null, toggle: (event) => { app.listOpen = event.target.open; } }, el('summary', {}, say('All parts')),
    el('div', { class: 'row', role: 'group', 'aria-label': say('All parts') }, labels.slice(0, 400).map((label) => button(label, () => { app.end = null; app.fresh = ''; app.doing = null; app.choose(label); }, { class: 'quiet', id: idOf('part', label) }))));
}
