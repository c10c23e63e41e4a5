// Another length for a pipe: slide through the stock, see what comes off, until when it is free, and whether it still fits.
import { answer, app, ask, deck, len, notYet, numbers, units } from './app.mjs';
import { button, el, fill, para, prose, svgEl } from './build.mjs';
import { unitsOf, withLength } from './frame_text.mjs';
import { lengthForFile } from './lengths.mjs';
import { builtArgument, standing, stepText } from './progress.mjs';
import { listed, say, sayN } from './words.mjs';

let picked = { pipe: '', at: -1, with: [] };

/// What the program takes as the range, in the file's own units. A small budget: what is not proven is said so.
const BUDGET = ['--budget', '200'];
function rangeOf(length, unit) {
  const [low, high] = [length * 0.6, length * 1.5];
  if (unit === 'in') { return [Math.max(1, Math.floor(low / 25.4)), Math.max(2, Math.ceil(high / 25.4))].join('..'); }
  const step = unit === 'cm' ? 10 : 1;
  return [Math.max(1, Math.floor(low / step)), Math.ceil(high / step)].join('..');
}
/// `--set` for each of the pipes.
export function settings(pipes, mm, unit) { return pipes.flatMap((pipe) => ['--set', pipe + '.length=' + lengthForFile(mm, unit)]); }

function verdict(one) {
  if (one.present) { return { mark: 'now', text: say('as it is') }; }
  if (one.verdict === 'unusable') { return { mark: 'no', text: say('cannot be used') }; }
  if (one.found === 'overlapping') { return { mark: 'no', text: say('parts would be in the same place') }; }
  if (one.found === 'locked') { return { mark: 'no', text: say('cannot be put together') }; }
  if (one.found === 'open') { return { mark: 'no', text: say('does not line up') }; }
  return one.undo_moves > 0 ? { mark: 'work', text: one.proven ? sayN(one.undo_moves, '1 joint to undo', '{} joints to undo', one.undo_moves) : sayN(one.undo_moves, 'at most 1 joint to undo', 'at most {} joints to undo', one.undo_moves) } : { mark: 'yes', text: say('free') };
}

/// Moves to undo by steps done, as bars.
function chart(prices, done) {
  const most = Math.max(1, ...prices.map((one) => one.undo_moves));
  const wide = 8;
  const high = 60;
  const bars = prices.map((one, i) => svgEl('rect', {
    x: i * wide, y: high - one.undo_moves / most * (high - 4), width: wide - 1.5, height: Math.max(0.8, one.undo_moves / most * (high - 4)),
    class: one.built === done ? 'bar-now' : 'bar-price',
  }));
  const box = svgEl('svg', { viewBox: `-1 0 ${prices.length * wide + 2} ${high + 2}`, preserveAspectRatio: 'none', class: 'chart', role: 'img', 'aria-label': say('Joints to undo, by steps done: at most {}', most) }, ...bars);
  return el('figure', { class: 'plainfig' }, box, el('figcaption', {}, say('Joints to undo if you change it after so many steps; at most {}.', most)));
}

function list(title, steps) {
  return steps && steps.length > 0 ? [el('h3', {}, title), el('ol', { class: 'steps-list bare' }, steps.map((step) => el('li', {}, para(step.number + '. ' + stepText(step)))))] : [];
}
/// Parts by name; pipes whose length changes have it beside theirs.
function parts(title, names, pipes, mm) {
  const told = (name) => (pipes.includes(name) ? say('{0} ({1})', name, len(mm)) : name);
  return names && names.length > 0 ? el('p', {}, el('strong', {}, title), ' ', prose(names.map(told).join(', '))) : null;
}

function details(one, unit, all, pipes, present) {
  if (one.present) { return para(say('This is the length that the frame has now.'), { class: 'soft' }); }
  const built = all && app.made.size > 0 ? builtArgument(all.cards, app.made) : null;
  const entry = answer(['change', 'FRAME', ...settings(pipes, one.length_mm, unit), '--budget', '2000', '--json', ...(built ? ['--built', built] : [])]);
  const early = all ? answer(['change', 'FRAME', ...settings(pipes, one.length_mm, unit), '--budget', '2000', '--json']) : null;
  if (!entry.json) { return notYet(entry) || para(entry.err || ''); }
  const json = entry.json;
  const prices = early && early.json && early.json.price_by_step;
  return [
    built ? para(sayN(json.undo_moves ?? 0, 'As built now: 1 joint to undo.', 'As built now: {} joints to undo.', json.undo_moves ?? 0)) : null,
    json.fits !== false && early && early.json && Number.isInteger(early.json.free_until_step) ? para(say('Free until step {}.', early.json.free_until_step), { class: 'good' }) : null,
    json.fits === false ? para(say('The changed frame does not fit.'), { class: 'watch' }) : null,
    parts(say('Buy:'), json.buy, pipes, one.length_mm), parts(say('Left over:'), json.spare, pipes, present), parts(say('To scrap:'), json.scrap, pipes, present),
    prices && prices.length > 1 ? chart(prices, all ? standing(all.cards, app.made).done : 0) : null,
    list(say('Undo first'), json.undo), list(say('Then'), json.then),
  ];
}

export const change = {
  id: 'change',
  name: () => say('Change'),
  show(root) {
    const head = el('h2', {}, say('Another length'));
    const loaded = numbers();
    if (!loaded) { fill(root, head, notYet(ask.numbers())); return; }
    const pipes = loaded.parts.filter((part) => part.kind === 'pipe');
    if (pipes.some((part) => part.label === app.chosen) && picked.chosen !== app.chosen) { picked = { pipe: app.chosen, chosen: app.chosen, at: -1, with: [] }; }
    const pipe = pipes.find((part) => part.label === picked.pipe);
    const select = el('select', { id: 'pipe', change: (event) => { picked = { pipe: event.target.value, chosen: event.target.value, at: -1, with: [] }; app.choose(event.target.value); app.render(); } },
      el('option', { value: '' }, say('Which pipe?')), pipes.map((part) => el('option', { value: part.label, selected: part === pipe }, part.label + ', ' + len(part.length_mm))));
    const row = el('p', {}, el('label', { for: 'pipe' }, say('Pipe'), ' '), select);
    if (!pipe) { fill(root, head, row, para(say('Choose a pipe, or tap one in the picture.'), { class: 'soft' })); return; }
    const unit = unitsOf(app.frame.text);
    // A shelf between two posts moves only when both get longer: pipes that are as long can go together.
    const alike = pipes.filter((other) => other !== pipe && Math.abs(other.length_mm - pipe.length_mm) < 0.05 && other.size === pipe.size);
    picked.with = picked.with.filter((label) => alike.some((other) => other.label === label));
    const both = [picked.pipe, ...picked.with];
    const together = alike.length === 0 ? null : el('div', { class: 'row with', role: 'group', 'aria-label': say('Together with') }, el('span', {}, say('Together with')),
      alike.slice(0, 12).map((other) => button(other.label, () => {
        picked.with = picked.with.includes(other.label) ? picked.with.filter((label) => label !== other.label) : [...picked.with, other.label];
        app.render();
      }, { 'aria-pressed': String(picked.with.includes(other.label)), id: 'with-' + other.label, class: 'quiet' })));
    const all = deck();
    const built = all && app.made.size > 0 ? ['--built', builtArgument(all.cards, app.made)] : [];
    const entry = answer(['change', 'FRAME', '--set', both.join('+') + '.length=' + rangeOf(pipe.length_mm, unit), ...BUDGET, ...built, '--json']);
    const sweep = entry.json && entry.json.sweep;
    if (!sweep || sweep.length === 0) {
      fill(root, head, row, together, notYet(entry) || para((entry.err || '').trim() || say('No stock length is near.')));
      return;
    }
    if (picked.at < 0 || picked.at >= sweep.length) { picked.at = Math.max(0, sweep.findIndex((one) => one.present)); }
    const one = sweep[picked.at];
    const said = verdict(one);
    const big = el('p', { class: 'big', role: 'status' });
    const tellLength = (other) => {
      const told = verdict(other);
      fill(big, el('span', { class: 'n' }, len(other.length_mm)), ' ', el('span', { class: 'mark ' + told.mark }, prose(told.text)),
        told.mark === 'work' ? el('span', { class: 'soft when' }, ' ', app.made.size > 0 ? say('as built now') : say('once all is built')) : null);
    };
    tellLength(one);
    const slider = el('input', {
      type: 'range', id: 'length', min: '0', max: String(sweep.length - 1), step: '1', 'aria-label': say('Length of {}', picked.pipe),
      'aria-valuetext': len(one.length_mm) + ', ' + said.text,
      input: (event) => {
        picked.at = Number(event.target.value);
        // While the finger is on the slider, only what it says is filled anew.
        tellLength(sweep[picked.at]);
        app.render();
      },
    });
    slider.value = String(picked.at);
    const step = (by) => () => { picked.at = Math.max(0, Math.min(sweep.length - 1, picked.at + by)); app.render(); };
    const ticksRow = el('div', { class: 'stops', 'aria-hidden': 'true' }, sweep.map((other, i) => el('span', { class: 'stop ' + verdict(other).mark + (i === picked.at ? ' at' : '') })));
    const edited = one.present ? null : both.reduce((text, label) => text && withLength(text, label, lengthForFile(one.length_mm, unit)), app.frame.text);
    const after = el('div', { class: 'details' }, details(one, unit, all, both, pipe.length_mm));
    fill(root, head, row, together,
      big,
      ticksRow,
      el('div', { class: 'slide' }, button('−', step(-1), { 'aria-label': say('Shorter'), id: 'shorter', disabled: picked.at === 0 }), slider,
        button('+', step(1), { 'aria-label': say('Longer'), id: 'longer', disabled: picked.at === sweep.length - 1 })),
      one.stock ? null : para(say('No stock length: to be cut and threaded.'), { class: 'soft' }),
      one.present ? null : button(say('Use {}', len(one.length_mm)), () => {
        if (!edited) { app.notify(say('The line of {} is written in a way that only you can change.', picked.pipe), say('Its line'), () => app.showLine(picked.pipe)); return; }
        app.editor.edit(edited);
        picked.at = -1;
        app.notify(say('{0} is now {1}.', listed(both), len(one.length_mm)), say('Undo'), () => { app.editor.undo(); picked.at = -1; });
      }, { class: 'main', id: 'use' }),
      after);
  },
};
