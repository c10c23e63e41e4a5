// Does it line up, can it be put together, and if not, what would help?
import { answer, app, ask, len, notYet, units } from './app.mjs';
import { button, el, fill, para, prose } from './build.mjs';
import { unitsOf, withLength } from './frame_text.mjs';
import { lengthForFile } from './lengths.mjs';
import { told } from './told.mjs';
import { listed, say } from './words.mjs';

/// Stock lengths that would close what is open, as buttons.
function stockRows(closures) {
  const rows = [];
  for (const closure of closures || []) {
    for (const stock of (closure.stock || []).slice(0, 6)) {
      const pieces = stock.pipes || (stock.pipe ? [{ pipe: stock.pipe, length_mm: stock.length_mm }] : []);
      if (pieces.length === 0) { continue; }
      const words = pieces.map((one) => one.pipe + ' ' + len(one.length_mm)).join(', ');
      rows.push(el('li', {}, el('span', {}, prose(words), stock.state ? [' ', el('span', { class: 'soft' }, stateText(stock.state))] : null),
        button(say('Use it'), () => {
          const unit = unitsOf(app.frame.text);
          const text = pieces.reduce((before, one) => before && withLength(before, one.pipe, lengthForFile(one.length_mm, unit)), app.frame.text);
          if (!text) { app.notify(say('The line of {} is written in a way that only you can change.', pieces[0].pipe), say('Its line'), () => app.showLine(pieces[0].pipe)); return; }
          app.editor.edit(text);
          app.notify(say('Changed: {}.', words), say('Undo'), () => app.editor.undo());
        }, { class: 'quiet' })));
    }
  }
  return rows;
}
export function stateText(state) {
  return { exact: say('lines up'), 'by-turning': say('lines up by turning'), 'by-wrenching': say('lines up by a wrench'), open: say('does not line up') }[state] || state;
}

export const fit = {
  id: 'fit',
  name: () => say('Fit'),
  show(root) {
    const head = el('h2', {}, say('Does it fit?'));
    const check = ask.check();
    if (!check.json) { fill(root, head, notYet(check)); return; }
    const checkWords = answer(['check', 'FRAME', '--units', units()]);
    const fitWords = answer(['fit', 'FRAME', '--units', units()]);
    const rows = stockRows(check.json.closures);
    const open = (check.json.closures || []).filter((closure) => closure.state === 'open');
    fill(root, head,
      open.length > 0 ? para(say('It does not line up between {}.', listed(open.map((one) => one.between.join(say(' and '))))), { class: 'watch' }) : null,
      checkWords.state === 'ready' && checkWords.out ? told(checkWords.out) : notYet(checkWords),
      rows.length > 0 ? [el('h3', {}, say('Stock lengths that would line up')), el('ul', { class: 'choices' }, rows)] : null,
      el('h3', {}, say('Joints, levels and holes')),
      fitWords.state === 'ready' && fitWords.out ? told(fitWords.out, checkWords.out || '') : notYet(fitWords));
  },
};
