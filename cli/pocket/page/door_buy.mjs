// What to buy and to cut, to tick at the counter and to take along as a table.
import { answer, app, download, fileName, mass, notYet, tickBox, units } from './app.mjs';
import { button, el, fill, para, prose } from './build.mjs';
import { told } from './told.mjs';
import { say } from './words.mjs';

function groupName(group) {
  return { pipe: say('Pipe'), fitting: say('Fittings'), board: say('Boards'), hardware: say('Hardware'), bit: say('Drill bits') }[group] || group;
}
function row(line) {
  const box = tickBox('buy ' + line.group + ' ' + line.text);
  return el('li', {}, el('label', { class: 'tick' }, box, el('span', {}, el('strong', { class: 'n' }, line.count + ' ×'), ' ', prose(line.text),
    line.labels && line.labels.length > 0 ? el('span', { class: 'soft' }, ' (' + line.labels.join(', ') + ')') : null)));
}

export const buy = {
  id: 'buy',
  name: () => say('Buy'),
  show(root) {
    const entry = answer(['buy', 'FRAME', '--json', '--units', units()]);
    const head = el('h2', {}, say('Buy'));
    if (!entry.json) { fill(root, head, notYet(entry)); return; }
    const words = answer(['buy', 'FRAME', '--units', units()]);
    const groups = [...new Set(entry.json.lines.map((line) => line.group))];
    const table = answer(['buy', 'FRAME', '--csv']);
    fill(root, head,
      para(say('{} in all', mass(entry.json.mass_kg)), { class: 'soft' }),
      groups.map((group) => [el('h3', {}, groupName(group)), el('ul', { class: 'ticks' }, entry.json.lines.filter((line) => line.group === group).map(row))]),
      el('div', { class: 'row' },
        button(say('Take along as a table'), () => download(fileName().replace(/\.yaml$/, '.csv'), table.out, 'text/csv'), { disabled: table.state !== 'ready' || table.code !== 0 }),
        button(say('Print the list'), () => { app.printed = { what: 'buy' }; app.go('print'); })),
      el('details', {}, el('summary', {}, say('The whole answer in words')), words.state === 'ready' && words.out ? told(words.out) : notYet(words)));
  },
};
