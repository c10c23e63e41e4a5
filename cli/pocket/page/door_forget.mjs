// What is easy to forget, by when it has to be on, and what it costs to have forgotten it.
import { answer, app, ask, notYet, units } from './app.mjs';
import { button, el, fill, para, prose } from './build.mjs';
import { goTo } from './door_steps.mjs';
import { forgettable, isDone, stepText } from './progress.mjs';
import { told } from './told.mjs';
import { say, sayN } from './words.mjs';

function price(call) {
  return call.price_proven ? sayN(call.price_moves, '1 joint to undo', '{} joints to undo', call.price_moves)
    : sayN(call.price_moves, 'at most 1 joint to undo', 'at most {} joints to undo', call.price_moves);
}

export const forget = {
  id: 'forget',
  name: () => say('Forget'),
  show(root) {
    const entry = ask.order();
    const head = el('h2', {}, say('Easy to forget'));
    if (!entry.json) { fill(root, head, notYet(entry)); return; }
    if (entry.json.verdict !== 'buildable') {
      fill(root, head, para(say('It cannot be built as it is, so there is nothing to forget yet.')), button(say('See why'), () => app.go('fit')));
      return;
    }
    const list = forgettable(entry.json);
    const { steps } = entry.json;
    const open = root.querySelector('details')?.open;
    const words = open ? answer(['early', 'FRAME', '--units', units()]) : null;
    fill(root, head,
      list.length === 0 ? para(say('Nothing: every part is needed by a later step, so you will notice.'))
        : [para(say('Nothing stops you from building past these parts. Put each one on before the step that locks it out.'), { class: 'soft' }),
          el('ul', { class: 'cards' }, list.map((call) => {
            const step = steps[call.last_call_step - 1];
            const puts = steps.find((one) => one.moving.includes(call.part));
            const on = puts && isDone(puts, app.made);
            return el('li', { class: on ? 'card on' : 'card' },
              el('h3', {}, call.part, on ? el('span', { class: 'done-mark' }, say('is on')) : null),
              el('p', {}, el('strong', {}, say('Before step {}', call.last_call_step)), step ? [': ', prose(stepText(step))] : null),
              el('p', { class: 'price' }, prose(say('If forgotten: {}', price(call)))),
              el('div', { class: 'row' }, puts ? button(say('Goes on in step {}', puts.number), () => { goTo(puts.number); app.go('steps'); }, { class: 'quiet' }) : null,
                step ? button(say('To step {}', call.last_call_step), () => { goTo(call.last_call_step); app.go('steps'); }, { class: 'quiet' }) : null));
          }))],
      el('details', { open: Boolean(open), toggle: () => { if (!words) { app.render(); } } }, el('summary', {}, say('The whole answer in words')),
        words ? (words.state === 'ready' && words.code === 0 ? told(words.out) : notYet(words)) : null));
  },
};
