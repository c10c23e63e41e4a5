// The first part of a frame, further runs that begin at a surface, and boards flat on one.
import { app } from './app.mjs';
import { button, el } from './build.mjs';
import { partsIn, unitsOf } from './frame_text.mjs';
import { lengthField } from './length_wheel.mjs';
import { edit, taken } from './put_on.mjs';
import { say } from './words.mjs';

const SIZES = ['1/2', '3/4', '1'];
const THREADS = () => [...SIZES.map((size) => ['npt ' + size, say('{} in NPT', size)]), ...SIZES.map((size) => ['iso7 ' + size, 'R ' + size])];
const SURFACES = () => [['floor', say('floor')], ['wall', say('wall')], ['ceiling', say('ceiling')]];
/// A surface as people call it.
export function surfaceName(surface) { return (SURFACES().find(([id]) => id === surface) || [surface, surface])[1]; }
const NORMALS = ['up', 'down', 'front', 'back', 'left', 'right'];

async function begin(args, words) {
  const answer = await edit(args);
  if (!answer) { return; }
  const name = answer.added[0];
  taken(answer, words(name));
  app.added = name;
  app.fresh = name;
  app.choose(name);
}
/// For an empty page: which pipe, then where it begins.
export function startPanel() {
  const pipe = app.pipe || 'npt 3/4';
  return [el('p', {}, el('strong', {}, say('Which pipe?'))),
    el('div', { class: 'row', role: 'group', 'aria-label': say('Which pipe?') }, THREADS().map(([value, words]) => button(words, () => { app.pipe = value; app.render(); }, { 'aria-pressed': String(value === pipe), id: 'thread-' + value.replace(/[ /]/g, '-'), class: 'n' }))),
    el('p', {}, el('strong', {}, say('Screw the first flange to:'))),
    el('div', { class: 'row' }, SURFACES().map(([surface, words]) => button(words, () => begin(['--start', pipe, '--add', surface + '@0,0=flange'], (name) => say('{} is on.', name)), { class: 'main', id: 'start-' + surface })))];
}

/// Surfaces that the file has, by name, in file order.
export function surfacesIn(text) {
  const named = partsIn(text).filter((part) => part.kind === 'surface').map((part) => part.id);
  // Written in one line: surfaces: {floor: {normal: up, at: 0}}
  const line = /^surfaces:\s*\{(.*)$/m.exec(text);
  if (line) { for (const found of line[1].matchAll(/([A-Za-z][\w-]*):\s*\{/g)) { named.push(found[1]); } }
  return [...new Set(named)].filter((name) => !NORMALS.includes(name));
}
/// How the two places on a surface are told: right or left, and back or front on a floor, up or down on a wall.
function sides(surface) {
  const level = surface === 'floor' || surface === 'ceiling';
  return [[say('to the right'), say('to the left')], level ? [say('to the back'), say('to the front')] : [say('up'), say('down')]];
}
/// Fields for a spot on a surface: {elements, text}, "24, -6" in the file's units.
export function spotFields(surface, id) {
  const unit = unitsOf(app.frame.text);
  const field = (which, label, value) => lengthField({ id: `${id}-${which}`, label, value, unit, signs: sides(surface)[which] });
  const far = unit === 'in' ? '24' : unit === 'cm' ? '60' : '600';
  const [across, beside] = [field(0, say('Across'), far), field(1, surface === 'floor' || surface === 'ceiling' ? say('Deep') : say('High'), '0')];
  return { elements: [across.element, beside.element], get text() { return across.text + ', ' + beside.text; } };
}
const WHERE = () => ({ wall: say('How far behind the first flange is the wall?'), ceiling: say('How high is the ceiling?'), floor: say('How high is the floor?') });

function beginPanel(surface) {
  const unit = unitsOf(app.frame.text);
  const missing = !surfacesIn(app.frame.text).includes(surface);
  const usual = { in: { wall: '12', ceiling: '96', floor: '0' }, mm: { wall: '300', ceiling: '2400', floor: '0' }, cm: { wall: '30', ceiling: '240', floor: '0' } }[unit][surface] || '0';
  const where = missing ? lengthField({ id: 'surface-at', label: WHERE()[surface] || surface, value: usual, unit }) : null;
  const spot = spotFields(surface, 'spot');
  const first = () => (missing ? ['--surface', `${surface}=${where.text}`] : []);
  return [el('p', {}, el('strong', {}, say('Begin at: {}', surfaceName(surface)))),
    missing ? el('p', {}, el('label', {}, WHERE()[surface] || surface), ' ', where.element) : null,
    el('div', { class: 'row' }, el('span', {}, say('From where the first one stands:')), spot.elements),
    el('div', { class: 'row' },
      button(say('A flange'), () => begin([...first(), '--add', `${surface}@${spot.text}=flange`], (name) => say('{} is on.', name)), { class: 'main', id: 'start-flange' }),
      button(say('A board flat on it'), () => begin([...first(), '--board', `${surface}@${spot.text}`], (name) => say('{} is on.', name)), { id: 'start-board' }),
      button(say('Back'), () => { app.doing = null; app.render(); }, { class: 'quiet', id: 'start-back' }))];
}
/// What is under way at a surface, or null.
export function startingPanel() { return app.doing && app.doing.what === 'start' ? beginPanel(app.doing.surface) : null; }
/// For a frame that is begun: one more flange or a board somewhere.
export function moreStarts() {
  const known = SURFACES();
  const others = surfacesIn(app.frame.text).filter((name) => !known.some(([id]) => id === name)).map((name) => [name, name]);
  return el('div', { class: 'row', role: 'group', 'aria-label': say('Begin at floor, wall or ceiling') }, el('span', {}, say('Begin at:')),
    [...known, ...others].map(([surface, words]) => button(words, () => { app.doing = { what: 'start', surface }; app.end = null; app.fresh = ''; app.render(); }, { class: 'quiet', id: 'start-' + surface })));
}
