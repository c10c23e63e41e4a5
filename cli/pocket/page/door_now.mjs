// What now? From whatever is ticked, in whatever order: what has to come off, and the way on.
import { answer, app, ask, deck, notYet, numbers, setMade } from './app.mjs';
import { button, el, fill, para, prose } from './build.mjs';
import { goOn } from './door_steps.mjs';
import { space } from './library.mjs';
import { builtArgument, indicesOf, isDone, partsThere, standing, stepText, ticked } from './progress.mjs';
import { turnedView } from './view.mjs';
import { listed, say, sayN } from './words.mjs';

let frozen = null; // the way on that is being ticked off: {key, contacts}

const host = el('div', { class: 'view' });
let view = null;
let drawn = '';
/// What stands now, with what the next step takes hold of.
function scene(step) {
  space.want();
  const loaded = numbers();
  if (!step || !loaded || space.state !== 'ready' || !space.library) { return null; }
  view = view || turnedView(space.library, host, { scrolls: true, dark: () => app.dark() });
  if (!view) { return null; }
  requestAnimationFrame(() => {
    const wanted = [app.version, step.number, step.text, [...app.made].join()].join();
    if (drawn === wanted) { view.draw(); return; }
    drawn = wanted;
    view.name(say('What stands now, with the parts of the next step'));
    view.load(loaded);
    view.show(partsThere(loaded, app.made, step), indicesOf(loaded, step.moving));
  });
  return el('figure', { class: 'look' }, host, el('figcaption', { class: 'soft' }, prose(stepText(step))));
}

/// A list of steps to tick. Undoing a step takes its contacts out of what is made.
function tickList(list, undo) {
  return el('ol', { class: 'steps-list' }, list.map((step) => {
    const done = undo ? !step.contacts.some((contact) => app.made.has(contact)) : isDone(step, app.made);
    const box = el('input', {
      type: 'checkbox', id: (undo ? 'undo-' : 'then-') + step.number, 'aria-label': say('Step {} done', step.number),
      change: () => { setMade(ticked(step, app.made, undo ? !box.checked : box.checked)); app.render(); },
    });
    box.checked = done;
    return el('li', {}, box, el('div', {}, para(step.number + '. ' + stepText(step)), (step.cautions || []).map((text) => para(text, { class: 'watch' }))));
  }));
}

function partPicker(all, chosen) {
  const labels = [...new Set(all.labels)];
  return el('select', { id: 'now-part', change: (event) => { app.now = { ...app.now, part: event.target.value }; frozen = null; app.render(); } },
    el('option', { value: '' }, say('Which part?')), labels.map((label) => el('option', { value: label, selected: label === chosen }, label)));
}

function ways(all) {
  const mode = app.now.mode;
  const choose = (next) => () => { app.now = { mode: next, part: next === 'on' || next === 'instead' ? '' : app.chosen }; frozen = null; app.render(); };
  const one = (id, text) => button(text, choose(id), { 'aria-pressed': String(mode === id), id: 'mode-' + id });
  return el('div', { class: 'row modes' }, one('on', say('Go on from here')), one('missing', say('A part is missing')), one('bad', say('A part is bad')), one('instead', say('I did this instead')));
}

/// What is ticked, in words.
function standingText(all) {
  const { done, inOrder } = standing(all.cards, app.made);
  if (app.made.size === 0) { return say('Nothing is ticked yet.'); }
  if (inOrder) { return sayN(done, 'The first step is ticked.', 'The first {} steps are ticked.', done); }
  const steps = all.cards.filter((card) => isDone(card, app.made)).map((card) => card.number);
  return say('These steps are ticked: {}.', listed(steps));
}

function instead(all) {
  return [para(say('Tick what is really done, in any order. Take away ticks of what is not.')),
    el('ol', { class: 'steps-list' }, all.cards.map((card) => {
      const box = el('input', {
        type: 'checkbox', id: 'really-' + card.number, 'aria-label': say('Step {} done', card.number),
        change: () => { setMade(ticked(card, app.made, box.checked)); frozen = null; app.render(); },
      });
      box.checked = isDone(card, app.made);
      return el('li', {}, box, el('div', {}, para(card.number + '. ' + card.text)));
    })),
    el('p', {}, button(say('What now?'), () => { app.now = { mode: 'on' }; app.render(); window.scrollTo(0, 0); }, { class: 'main' }))];
}

function answerOf(all) {
  const args = ['order', 'FRAME', '--json'];
  if (app.now.mode !== 'bad' || app.made.size > 0) { args.push('--built', builtArgument(all.cards, app.made)); }
  if (app.now.mode === 'missing') { args.push('--without', app.now.part); }
  if (app.now.mode === 'bad') { args.push('--replace', app.now.part); }
  // While the way on is being ticked off, it stays what it was when it was asked for.
  const key = [app.version, app.now.mode, app.now.part].join();
  if (!frozen || frozen.key !== key) { frozen = { key, args }; }
  return answer(frozen.args);
}

function result(json, all) {
  const undo = json.undo || [];
  const open = undo.find((step) => step.contacts.some((contact) => app.made.has(contact))) || (json.steps || []).find((step) => !isDone(step, app.made));
  const parts = [];
  if (undo.length > 0) {
    parts.push(el('h3', {}, sayN(undo.length, 'Undo first: 1 move', 'Undo first: {} moves', undo.length)),
      json.undo_proven === false ? null : para(say('No way takes fewer.'), { class: 'soft' }), scene(open), tickList(undo, true));
  } else if (app.now.mode !== 'missing') { parts.push(para(say('Nothing has to come off.'), { class: 'good' }), scene(open)); } else { parts.push(scene(open)); }
  const list = json.steps || [];
  const without = json.without;
  if (without) {
    const before = list.filter((step) => step.number < without.needed_at_step);
    const after = list.filter((step) => step.number >= without.needed_at_step);
    parts.push(el('h3', {}, sayN(before.length, '1 step can be done without {1}', '{0} steps can be done without {1}', before.length, listed(without.parts))), tickList(before, false),
      after.length > 0 ? [el('h3', {}, say('From here on you need {}', listed(without.parts))), tickList(after, false)] : null);
  } else if (list.length > 0) {
    parts.push(el('h3', {}, app.now.mode === 'bad' ? say('The way back, with the new part') : say('Then')), tickList(list, false));
  } else { parts.push(para(say('All is done.'), { class: 'good' })); }
  return parts;
}

export const now = {
  id: 'now',
  name: () => say('What now'),
  show(root) {
    app.now = app.now || { mode: 'on' };
    const all = deck();
    const head = el('h2', {}, say('What now?'));
    if (!all) { fill(root, head, notYet(ask.deck()) || [para(say('There is no order, so there is no way on. See what is in the way under Fit.')), button(say('See why'), () => app.go('fit'))]); return; }
    const body = [];
    if (app.now.mode === 'instead') { body.push(instead(all)); } else {
      if (app.now.mode !== 'on') { body.push(el('p', {}, el('label', { for: 'now-part' }, app.now.mode === 'bad' ? say('Bad is') : say('Missing is'), ' '), partPicker(all, app.now.part))); }
      const { inOrder } = standing(all.cards, app.made);
      if (app.now.mode === 'on' && inOrder && !(frozen && frozen.key.startsWith(app.version + ',on') && frozen.args.includes(''))) {
        frozen = null;
        body.push(para(say('All ticks are in the order of the steps.'), { class: 'good' }),
          button(say('On with the steps'), () => { goOn(); app.go('steps'); }, { class: 'main' }));
      } else if (app.now.mode === 'on' || app.now.part) {
        const entry = answerOf(all);
        body.push(entry.json ? result(entry.json, all) : entry.state === 'ready' && entry.code === 2
          ? el('div', { class: 'watch' }, entry.err.trim().split('\n').map((line) => para(line)), para(say('Look over your ticks.')))
          : notYet(entry));
        if (entry.json) { body.push(el('p', {}, button(say('Ask again from what is ticked now'), () => { frozen = null; app.render(); }, { class: 'quiet' }))); }
      }
    }
    fill(root, head, para(standingText(all), { class: 'soft' }), ways(all), body);
  },
};
