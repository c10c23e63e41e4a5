// The first part of a frame, and further runs that begin at a surface.
import { app } from './app.mjs';
import { button, el, para } from './build.mjs';
import { edit, taken } from './put_on.mjs';
import { say } from './words.mjs';

const THREADS = [['npt 1/2', '1/2 in NPT'], ['npt 3/4', '3/4 in NPT'], ['npt 1', '1 in NPT'], ['iso7 1/2', 'R 1/2'], ['iso7 3/4', 'R 3/4'], ['iso7 1', 'R 1']];
const SURFACES = () => [['floor', say('floor')], ['wall', say('wall')], ['ceiling', say('ceiling')]];

/// Nothing is written yet but comments.
export function isEmpty(text) { return !/^\s*[^#\s]/m.test(text); }

async function begin(args, words) {
  const answer = await edit(args);
  if (!answer) { return; }
  const name = answer.added[0];
  taken(answer, words(name));
  app.added = name;
  app.choose(name);
}
/// For an empty page: which pipe, then where it begins.
export function startPanel() {
  const pipe = app.pipe || 'npt 3/4';
  return [el('p', {}, el('strong', {}, say('Which pipe?'))),
    el('div', { class: 'row', role: 'group', 'aria-label': say('Which pipe?') }, THREADS.map(([value, words]) => button(words, () => { app.pipe = value; app.render(); }, { 'aria-pressed': String(value === pipe), id: 'thread-' + value.replace(/[ /]/g, '-'), class: 'n' }))),
    el('p', {}, el('strong', {}, say('Screw the first flange to:'))),
    el('div', { class: 'row' }, SURFACES().map(([surface, words]) => button(words, () => begin(['--start', pipe, '--add', surface + '@0,0=flange'], (name) => say('{} is on.', name)), { class: 'main', id: 'start-' + surface })))];
}
/// For a frame that is begun: one more flange somewhere.
export function moreStarts() {
  const spot = el('input', { type: 'text', size: '9', value: app.spot || '24, 0', 'aria-label': say('Where on it, from the first one'), id: 'start-spot', change: () => { app.spot = spot.value; } });
  return el('details', { class: 'quiet', id: 'more-starts' }, el('summary', {}, say('Begin at floor, wall or ceiling')),
    el('div', { class: 'row' }, spot, SURFACES().map(([surface, words]) => button(words, () => begin(['--add', `${surface}@${spot.value}=flange`], (name) => say('{} is on.', name)), { id: 'start-' + surface }))),
    para(say('Two distances from where the first one stands: to the right and to the back; at a wall to the right and up.'), { class: 'soft' }));
}
