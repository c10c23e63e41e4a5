// One step a time: what to do, its picture, what to watch, ticks that are remembered.
import { answer, app, ask, deck, keepFrame, notYet, numbers, setMade, tickBox, units } from './app.mjs';
import { button, el, fill, para, picture, prose } from './build.mjs';
import { space } from './library.mjs';
import { isDone, standing, ticked } from './progress.mjs';
import { listed, say, sayN } from './words.mjs';
import { showStep } from './turned_step.mjs';
import { turnedView } from './view.mjs';
import { oneTap, Player, wayOf } from './walk.mjs';

let turning = false;
let view = null;
const player = new Player((by) => {
  const all = deck();
  const to = app.frame.step + by;
  if (!all || app.door !== 'steps' || to < 0 || to > last(all)) { return false; }
  goTo(to, false);
  return true;
}, () => app.render());

/// Where one is: 0 is the start, then the steps, then the end.
function last(all) { return all.cards.length + 1; }

export function stopPlaying() { player.end(); }

export function goTo(step, focus = true) {
  const all = deck();
  if (!all) { return; }
  app.frame.step = Math.max(0, Math.min(last(all), step));
  keepFrame();
  app.render();
  if (focus) {
    requestAnimationFrame(() => {
      const heading = document.getElementById('step-heading');
      if (!heading) { return; }
      heading.focus({ preventScroll: true });
      app.toTop();
    });
  }
}
/// To the first step that is not done.
export function goOn() {
  const all = deck();
  if (all) { goTo(standing(all.cards, app.made).done + 1); }
}

function tick(key, text, cautions = []) {
  const box = tickBox(key);
  return el('li', {}, el('label', { class: 'tick' }, box, el('span', {}, prose(text))), cautions.map(watch));
}
function watch(text) { return el('p', { class: 'watch' }, el('strong', {}, say('Watch:')), ' ', prose(text)); }
function ticks(title, key, texts) {
  return texts.length === 0 ? [] : [el('h3', {}, title),
    el('ul', { class: 'ticks' }, texts.map((one) => (one.text === undefined ? tick(key + one, one) : tick(key + one.text, one.text, one.cautions))))];
}
function plain(title, texts) {
  return texts.length === 0 ? [] : [el('h3', {}, title), el('ul', { class: 'plain' }, texts.map((text) => el('li', {}, prose(text))))];
}

/// The drawing of a step, or of the frame whole.
export function drawingOf(step) {
  return answer(['show', 'FRAME', ...(step > 0 ? ['--step', String(step)] : []), '-o', 'drawing.svg', '--json', '--width', step > 0 ? '120' : '140', ...(step > 0 ? ['--height', '96'] : []), '--text', '3.6', '--no-title', '--units', units()]);
}
function drawing(step, name) {
  const entry = drawingOf(step);
  if (entry.state !== 'ready' || !entry.files || !entry.files['drawing.svg']) {
    return el('div', { class: 'blank' }, entry.state === 'waiting' ? el('p', {}, say('Drawing ...')) : notYet(entry) || '');
  }
  entry.shape = entry.shape || picture(entry.files['drawing.svg'], 'p' + step + '-', name);
  return entry.shape;
}
const frameOfView = el('div', { class: 'view' });
function turned(all, step, name) {
  const shown = numbers();
  if (!shown || space.state === 'waiting') { return el('div', { class: 'blank' }, el('p', {}, say('Drawing ...'))); }
  if (!view) { view = turnedView(space.library, frameOfView, { name, scrolls: true, dark: () => app.dark() }); }
  if (!view) { return el('p', {}, say('This browser draws nothing in space.')); }
  const card = all.cards[step - 1];
  const wanted = [app.version, step].join();
  requestAnimationFrame(() => {
    if (frameOfView.dataset.of === wanted) { view.draw(); return; }
    frameOfView.dataset.of = wanted;
    view.name(name);
    showStep(view, shown, card || { shown: [...shown.parts, ...shown.fixtures].map((one, i) => i), new: [] });
  });
  return frameOfView;
}
function look(all, step, name) {
  const picture = el('figure', { class: 'look' }, turning ? turned(all, step, name) : drawing(step, name));
  const tools = el('div', { class: 'row tools' },
    button(turning ? say('Drawing') : say('Turn the view'), () => { turning = !turning; space.want(); app.render(); }, { 'aria-pressed': String(turning), id: 'turn' }),
    turning ? [button('+', () => view && view.zoom(1.25), { 'aria-label': say('Enlarge') }), button('−', () => view && view.zoom(0.8), { 'aria-label': say('Make smaller') })] : null,
    step > 0 ? [button(player.direction < 0 ? '❚❚' : '◀', () => player.play(-1), { id: 'play-back', 'aria-label': player.direction < 0 ? say('Stop') : say('Play backward'), 'aria-pressed': String(player.direction < 0) }),
      button(player.direction > 0 ? '❚❚' : '▶', () => player.play(1), { id: 'play', 'aria-label': player.direction > 0 ? say('Stop') : say('Play forward'), 'aria-pressed': String(player.direction > 0) })] : null);
  return [picture, tools];
}

function startPage(all) {
  return [
    el('h2', { id: 'step-heading', tabindex: '-1' }, say('Before you start')),
    para(all.summary, { class: 'soft' }),
    look(all, 0, say('Picture of {} whole, with the labels of its parts', all.frame)),
    plain(say('Safety'), all.safety),
    ticks(say('Lay out'), 'lay ', all.lay_out),
    ticks(say('Tools'), 'tool ', all.tools),
    ticks(say('Before the first step'), 'before ', all.before),
  ];
}
function endPage(all) {
  return [
    el('h2', { id: 'step-heading', tabindex: '-1' }, say('When all steps are done')),
    ticks(say('After the last step'), 'after ', all.after),
    plain(say('Notes'), all.closing),
    el('p', {}, button(say('Clear all ticks'), clear, { class: 'quiet' })),
  ];
}
function clear() {
  app.ask(say('Take away all ticks of this frame?'), say('Take them away'), () => {
    app.frame.ticked = [];
    setMade(new Set());
    goTo(0);
  });
}
function stepPage(all, card) {
  const done = isDone(card, app.made);
  const box = el('input', {
    type: 'checkbox', id: 'tick',
    change: () => { setMade(ticked(card, app.made, box.checked)); app.render(); },
  });
  box.checked = done;
  return [
    el('h2', { id: 'step-heading', tabindex: '-1' }, prose(say('Step {0} of {1}', card.number, all.cards.length)),
      card.pose ? [' ', el('span', { class: 'pose' }, card.pose)] : null,
      card.strip ? [' ', el('span', { class: 'strip-name' }, card.strip)] : null,
      done ? [' ', el('span', { class: 'done-mark' }, say('done'))] : null),
    card.first.map((text) => para(text, { class: 'first' })),
    para(card.text, { class: 'do' }),
    (card.traps || []).map((text) => para(text, { class: 'trap' })),
    card.cautions.map(watch),
    look(all, card.number, say('Picture of step {0}: {1}', card.number, card.text)),
    card.seen ? para(say('Now seen {}', card.seen), { class: 'soft' }) : null,
    el('p', { class: 'facts' }, card.facts.map((fact) => el('span', {}, prose(fact)))),
    [...card.notes, ...(card.stop || []), ...(card.missing || [])].map((note) => para(note, { class: 'soft' })),
    el('label', { class: 'tick' }, box, el('span', {}, say('Done'))),
  ];
}

function outOfOrder(all) {
  const { done, inOrder, ahead } = standing(all.cards, app.made);
  if (inOrder) { return null; }
  const text = ahead.length > 0
    ? sayN(ahead.length, 'Step {0} is done before its turn: step {1} is still open.', 'Steps {0} are done before their turn: step {1} is still open.', listed(ahead), done + 1)
    : say('What you ticked is not in this order.');
  return el('div', { class: 'watch' }, para(text), button(say('What now?'), () => app.go('now'), { class: 'main' }));
}

function allSteps(all) {
  return el('details', { id: 'all-steps' }, el('summary', {}, say('All steps')),
    el('ol', { class: 'steps-list' }, all.cards.map((card) => {
      const box = el('input', {
        type: 'checkbox', id: 'tick-' + card.number, 'aria-label': say('Step {} done', card.number),
        change: () => { setMade(ticked(card, app.made, box.checked)); app.render(); },
      });
      box.checked = isDone(card, app.made);
      return el('li', { class: card.number === app.frame.step ? 'here' : null }, box,
        button(prose(card.number + '. ' + card.text), () => goTo(card.number), { class: 'line', id: 'to-' + card.number }));
    })));
}

const tapped = oneTap();
/// Ticks the step and goes on.
function doneAndNext(all) {
  if (!tapped()) { return; }
  const card = all.cards[app.frame.step - 1];
  if (card && !isDone(card, app.made)) {
    const before = app.made;
    setMade(ticked(card, app.made, true));
    app.notify(say('Step {} is ticked.', card.number), say('Undo'), () => { setMade(before); goTo(card.number); });
  }
  goTo(app.frame.step + 1);
}

/// The next picture is drawn while this one is looked at.
function nextDrawing(step, all) {
  const now = turning ? null : drawingOf(step === last(all) ? 0 : step);
  if (now && now.state === 'ready' && step + 1 < last(all)) { drawingOf(step + 1); }
}

export const steps = {
  id: 'steps',
  name: () => say('Steps'),
  show(root) {
    const entry = ask.deck();
    const all = deck();
    if (!all) {
      root.told = null;
      const check = ask.check();
      if (entry.state === 'ready' && entry.code === 1 && check.state === 'ready' && check.json) {
        fill(root, el('h2', {}, say('There is no order')), para(check.json.verdict === 'overlapping' ? say('Parts are in the same place, so there are no steps.') : say('It cannot be put together in any order, so there are no steps.')),
          button(say('See why, and what would help'), () => app.go('fit'), { class: 'main' }));
        return;
      }
      fill(root, el('h2', {}, say('Steps')), notYet(entry));
      return;
    }
    app.frame.step = Math.min(app.frame.step, last(all));
    const step = app.frame.step;
    // It stands beside what somebody works on: where nothing in it is another, it is left as it is.
    const told = [all, step, app.made, app.frame.ticked, turning, player.direction, units(), drawingOf(step === last(all) ? 0 : step).state];
    if (!turning && root.firstChild && root.told && told.every((one, i) => one === root.told[i])) { nextDrawing(step, all); return; }
    root.told = told;
    const open = root.querySelector('#all-steps')?.open;
    const done = all.cards.filter((card) => isDone(card, app.made)).length;
    const page = step === 0 ? startPage(all) : step === last(all) ? endPage(all) : stepPage(all, all.cards[step - 1]);
    const list = allSteps(all);
    list.open = Boolean(open);
    fill(root, outOfOrder(all), page,
      step > 0 && step < last(all) ? el('div', { class: 'row others' },
        button(say('I did this instead'), () => { app.now = { mode: 'instead' }; app.go('now'); }),
        button(say('A part is missing'), () => { app.now = { mode: 'missing', part: all.cards[step - 1].moving[0] }; app.go('now'); }),
        button(say('A part is bad'), () => { app.now = { mode: 'bad', part: all.cards[step - 1].moving[0] }; app.go('now'); })) : null,
      list,
      el('div', { class: 'bar' },
        el('div', { class: 'road', role: 'progressbar', 'aria-label': say('Steps done'), 'aria-valuemin': '0', 'aria-valuemax': String(all.cards.length), 'aria-valuenow': String(done) },
          el('div', { style: 'width:' + (100 * done / all.cards.length) + '%' })),
        button(say('Back'), () => { stopPlaying(); goTo(step - 1); }, { id: 'back', disabled: step === 0 }),
        step === 0 ? button(say('Start'), () => { stopPlaying(); goOn(); }, { id: 'done', class: 'main' })
          : button(say('Done, next'), () => { stopPlaying(); doneAndNext(all); }, { id: 'done', class: 'main', disabled: step === last(all) }),
        button(say('Next'), () => { stopPlaying(); goTo(step + 1); }, { id: 'next', disabled: step === last(all) })));
    nextDrawing(step, all);
  },
  key(event) {
    const all = deck();
    if (!all) { return false; }
    const way = wayOf(event);
    if (way === '') { return false; }
    stopPlaying();
    if (way === 'done') { doneAndNext(all); } else { goTo(app.frame.step + (way === 'next' ? 1 : -1)); }
    return true;
  },
};
