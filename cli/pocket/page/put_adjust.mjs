// The part that was put on last, or was chosen, made longer or pointed elsewhere: by a grip in the picture, and by
// buttons for keys and screen readers.
import { app, len } from './app.mjs';
import { button, el } from './build.mjs';
import { gripOnFitting, gripOnPipe } from './picture_marks.mjs';
import { arrowTo, changePart, choicesOf, choicesWait, directionName, lengthWords, wayOf } from './put_on.mjs';
import { say } from './words.mjs';

/// The part that can be adjusted now; undefined where none can.
export function adjustable(loaded) {
  const wanted = app.fresh || (app.end ? '' : app.chosen);
  return app.kind !== '' || app.doing || wanted === '' ? undefined : loaded.parts.find((part) => part.label === wanted && part.kind !== 'board');
}
const byLength = (lengths) => [...lengths].sort((a, b) => a.length_mm - b.length_mm);
function setLength(part, one) { changePart(['--set', `${part.label}.length=${one.text}`], part.label, say('{0} is now {1}.', part.label, len(one.length_mm))); }
function turnTo(part, choice, value) { changePart(['--set', `${choice.set}=${value}`], part.label, say('{0} points {1} now.', part.label, directionName(value))); }

const FIXED = ['coupling', 'union', 'cap', 'plug', 'flange', 'board'];
function lengthRow(part, lengths) {
  const step = (one, words, id) => button(words, () => setLength(part, one), { id, disabled: !one, 'aria-label': one ? (id === 'adjust-shorter' ? say('{0} shorter: {1}', part.label, lengthWords(one)) : say('{0} longer: {1}', part.label, lengthWords(one))) : null });
  const shorter = lengths.filter((one) => one.length_mm < part.length_mm - 0.01).pop();
  const longer = lengths.find((one) => one.length_mm > part.length_mm + 0.01);
  return el('div', { class: 'row adjust', role: 'group', 'aria-label': say('Length of {}', part.label) },
    step(shorter, '−', 'adjust-shorter'), el('span', { class: 'n', role: 'status' }, part.label + ', ' + len(part.length_mm)), step(longer, '+', 'adjust-longer'));
}
function wayRow(part, buttons) {
  return el('div', { class: 'row adjust ways', role: 'group', 'aria-label': say('Where {} points', part.label) }, el('span', {}, say('{} points elsewhere:', part.label)), buttons);
}
/// Buttons for the part: shorter and longer by what is in stock, or the ways that it can point; null where there are none.
/// While they are not known the row keeps its place, so that nothing moves under the finger when they are.
export function adjustRow(part) {
  if (!part) { return null; }
  const choices = choicesOf(part.label);
  if (!choices) { return part.kind === 'pipe' ? lengthRow(part, []) : FIXED.includes(part.kind) || !choicesWait(part.label) ? null : wayRow(part, null); }
  if (choices.lengths.length > 0) { return lengthRow(part, byLength(choices.lengths)); }
  const [choice] = choices.directions;
  if (!choice) { return null; }
  return wayRow(part, choice.others.map((value) => button(arrowTo(value), () => turnTo(part, choice, value), { id: 'adjust-' + value, class: 'quiet' })));
}

/// What is told while something is dragged, over the picture.
function telling(host) {
  const told = host.querySelector('.telling') || host.appendChild(el('div', { class: 'telling', 'aria-hidden': 'true' }));
  return (words) => { told.textContent = words; told.hidden = words === ''; };
}
/// The middle of a fitting's ports: where its bodies are about.
export function middleOf(part) {
  const low = [0, 1, 2].map((k) => Math.min(...part.bodies.map((body) => Math.min(body[k], body[k + 3]))));
  const high = [0, 1, 2].map((k) => Math.max(...part.bodies.map((body) => Math.max(body[k], body[k + 3]))));
  return low.map((value, k) => (value + high[k]) / 2);
}
function pipeEnds(part) {
  const body = part.bodies.find((one) => one.length === 7);
  const [open] = part.free_ends;
  if (!body || !open) { return null; }
  const far = (end) => Math.hypot(...[0, 1, 2].map((k) => end[k] - open.at_mm[k]));
  const [a, b] = [body.slice(0, 3), body.slice(3, 6)];
  return { from: far(a) > far(b) ? a : b, to: open.at_mm };
}
/// The grip for the part, for `marksOver`; null where nothing of it can be dragged: something hangs on it.
export function gripFor(part, host, tapEnd) {
  const choices = part && part.free_ends.length > 0 ? choicesOf(part.label) : null;
  if (!choices) { return null; }
  const say1 = telling(host);
  if (part.kind === 'pipe') {
    const ends = pipeEnds(part);
    if (!ends || choices.lengths.length < 2) { return null; }
    return gripOnPipe({ ...ends, length: part.length_mm, lengths: choices.lengths, words: say('Drag to another length'),
      tell: (one) => say1(one ? lengthWords({ ...one, text: len(one.length_mm) }) : ''),
      take: (one) => { if (Math.abs(one.length_mm - part.length_mm) > 0.01) { setLength(part, one); } }, tap: () => tapEnd(part.label + '.' + part.free_ends[0].end) });
  }
  const [choice] = choices.directions;
  const outlet = choice && part.free_ends.find((end) => end.facing === choice.value);
  if (!outlet) { return null; }
  const from = middleOf(part);
  const far = Math.max(60, ...[0, 1, 2].map((k) => Math.abs(outlet.at_mm[k] - from[k])));
  const tip = (value) => { const way = wayOf(value); const size = Math.hypot(...way); return from.map((at, k) => at + way[k] / size * far); };
  return gripOnFitting({ from, to: outlet.at_mm, words: say('Drag to another side'), ways: [choice.value, ...choice.others].map((value) => ({ value, tip: tip(value) })),
    tell: (one) => say1(one ? arrowTo(one.value) : ''), take: (one) => { if (one.value !== choice.value) { turnTo(part, choice, one.value); } }, tap: () => tapEnd(part.label + '.' + outlet.end) });
}
