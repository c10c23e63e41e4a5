// Where the holes go, board by board.
import { answer, app, len, notYet, units } from './app.mjs';
import { button, el, fill, para, prose, svgEl } from './build.mjs';
import { told } from './told.mjs';
import { languageSpoken, say } from './words.mjs';

/// A board seen from its face with its holes, to scale; the left front corner is below left.
function plan(board) {
  const [x, y, z] = board.size_mm;
  const sides = [x, y, z].sort((a, b) => b - a);
  const [wide, deep] = x === sides[0] ? [x, y === Math.min(x, y, z) ? z : y] : [sides[0], sides[1]];
  const text = Math.max(wide, deep) / 26;
  const pad = text * 1.6;
  const drawn = svgEl('svg', { viewBox: `${-pad} ${-pad} ${wide + 2 * pad} ${deep + 2 * pad}`, class: 'plan', role: 'img', 'aria-label': say('{} with its holes', board.board) },
    svgEl('rect', { x: 0, y: 0, width: wide, height: deep, class: 'wood' }));
  for (const hole of board.holes) {
    const [cx, cy] = [hole.from_left_mm, deep - hole.from_front_mm];
    drawn.append(svgEl('circle', { cx, cy, r: hole.hole_mm / 2, class: 'hole' }),
      svgEl('path', { d: `M${cx - hole.hole_mm} ${cy}H${cx + hole.hole_mm}M${cx} ${cy - hole.hole_mm}V${cy + hole.hole_mm}`, class: 'cross' }));
    const right = cx > wide - 6 * text;
    const label = svgEl('text', { x: cx + (right ? -0.75 : 0.75) * hole.hole_mm, y: cy - hole.hole_mm * 0.75, 'font-size': text, class: 'tag', 'text-anchor': right ? 'end' : 'start' });
    label.textContent = hole.pipe;
    drawn.append(label);
  }
  return el('figure', { class: 'plainfig' }, drawn, el('figcaption', {}, prose(say('{0} by {1}, front edge below', len(wide), len(deep)))));
}
/// The program names bits by inches or millimetres.
function bitText(bit) { return languageSpoken() === 'de' ? bit.replace(/ in$/, ' Zoll') : bit; }
/// On a phone each hole is a block of its own, with the columns' names in it: roles say what the styles then hide.
function table(board) {
  const names = [say('From left'), say('From front'), say('Bit'), say('From right'), say('From back')];
  return el('div', { class: 'wide', tabindex: '0', role: 'region', 'aria-label': say('Holes of {}', board.board) }, el('table', { class: 'holes', role: 'table' },
    el('thead', { role: 'rowgroup' }, el('tr', { role: 'row' }, [say('Pipe'), ...names].map((text) => el('th', { scope: 'col', role: 'columnheader' }, text)))),
    el('tbody', { role: 'rowgroup' }, board.holes.map((hole) => el('tr', { role: 'row' }, el('th', { scope: 'row', role: 'rowheader' }, hole.pipe),
      [len(hole.from_left_mm), len(hole.from_front_mm), bitText(hole.bit), len(hole.from_right_mm), len(hole.from_back_mm)]
        .map((text, i) => el('td', { role: 'cell', 'data-name': names[i] }, el('span', { class: 'n' }, text))))))));
}

export const drill = {
  id: 'drill',
  name: () => say('Drill'),
  show(root) {
    const entry = answer(['drill', 'FRAME', '--json']);
    const head = el('h2', {}, say('Drill'));
    if (!entry.json) { fill(root, head, notYet(entry)); return; }
    const boards = entry.json.boards || [];
    const words = answer(['drill', 'FRAME', '--units', units()]);
    fill(root, head,
      boards.length === 0 ? para(say('No board of this frame is drilled.'))
        : boards.map((board) => [el('h3', {}, board.board),
          board.drop === 'measure-first' ? para(say('Measure from post to post before you drill this board.'), { class: 'watch' })
            : board.drop === 'binds' ? para(say('As drawn it will not drop on.'), { class: 'watch' }) : null,
          board.holes.length > 0 ? [plan(board), table(board)] : null,
          (board.warnings || []).map((text) => para(text, { class: 'watch' }))]),
      boards.length > 0 ? el('p', {}, button(say('Print drill sheets'), () => { app.printed = { what: 'drill' }; app.go('print'); })) : null,
      boards.length > 0 ? el('details', {}, el('summary', {}, say('The whole answer in words')), words.state === 'ready' && words.out ? told(words.out) : notYet(words)) : null);
  },
};
