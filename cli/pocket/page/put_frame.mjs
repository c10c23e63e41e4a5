// What the file says once for the whole frame, by tapping: its pipe, how tight it is made up, where its surfaces are.
import { app } from './app.mjs';
import { button, el } from './build.mjs';
import { unitsOf } from './frame_text.mjs';
import { lengthField } from './length_wheel.mjs';
import { edit, idOf, taken } from './put_on.mjs';
import { surfaceName, surfacesIn } from './put_start.mjs';
import { say } from './words.mjs';

const SIZES = ['3/8', '1/2', '3/4', '1', '1-1/4', '1-1/2', '2'];

async function set(target, value) {
  const answer = await edit(['--set', `${target}=${value}`]);
  if (!answer) { return; }
  taken(answer, say('The frame is changed.'));
  app.doing = { what: 'frame' };
  app.render();
}
/// What a line at the top of the file says, or one of the words in its braces.
function said(pattern) { return (pattern.exec(app.frame.text) || ['', ''])[1]; }
/// Where a surface is, as the file holds it; "" where that is written in a way that is not found.
export function surfaceAt(text, name) {
  const found = new RegExp(`(?:^|[\\s{,])${name}:\\s*\\{[^}\\n]*?\\bat:\\s*([^,}\\n]+)`, 'm').exec(text);
  return found ? found[1].trim() : '';
}
function choice(heading, values, now, target) {
  return el('div', { class: 'row', role: 'group', 'aria-label': heading }, el('span', {}, heading),
    values.map(([value, words]) => button(words, () => { if (value !== now) { set(target, value); } }, { 'aria-pressed': String(value === now), id: idOf('all', value), class: 'n' })));
}
/// What is under way for the whole frame, or null.
export function framePanel() {
  if (!app.doing || app.doing.what !== 'frame') { return null; }
  const unit = unitsOf(app.frame.text);
  const size = said(/^pipe:\s*\{[^}\n]*\bsize:\s*([^,}\n]+?)\s*[,}]/m) || said(/^pipe:\s*\n(?:[ \t]+.*\n)*?[ \t]+size:\s*(.+?)\s*$/m);
  const tight = said(/^make-up:\s*(\w+)/m) || 'hand';
  const field = el('input', { type: 'text', size: '16', value: app.title(), 'aria-label': say('Name'), id: 'frame-name' });
  const rows = surfacesIn(app.frame.text).map((name) => [name, surfaceAt(app.frame.text, name)]).filter(([, at]) => at !== '').map(([name, at]) => {
    const where = lengthField({ id: idOf('at', name), label: surfaceName(name), value: at, unit });
    return el('div', { class: 'row' }, el('span', {}, say('{} is at', surfaceName(name))), where.element, button(say('Use it'), () => { if (where.text !== at) { set(name + '.at', where.text); } }, { class: 'quiet', id: idOf('at', name, 'use') }));
  });
  return [el('p', {}, el('strong', {}, say('The whole frame'))),
    choice(say('Pipe:'), SIZES.map((one) => [one, one]), size, 'pipe.size'),
    choice(say('Made up:'), [['hand', say('by hand')], ['wrench', say('with a wrench')]], tight, 'make-up'),
    rows,
    el('div', { class: 'row' }, el('span', {}, say('Name')), field, button(say('Use it'), () => { const now = field.value.trim(); if (now && now !== app.title()) { set('name', /^[A-Za-z][\w ,.-]*$/.test(now) ? now : JSON.stringify(now)); } }, { class: 'quiet', id: 'frame-name-use' })),
    el('div', { class: 'row' }, button(say('Back'), () => { app.doing = null; app.render(); }, { class: 'quiet', id: 'frame-back' }))];
}
export function frameButton() {
  return button(say('The whole frame'), () => { app.doing = { what: 'frame' }; app.end = null; app.fresh = ''; app.render(); }, { class: 'quiet', id: 'whole-frame' });
}
