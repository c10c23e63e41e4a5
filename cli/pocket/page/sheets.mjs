// Drill sheets and templates in full size, drawn in millimetres of the paper.
import { el, para, prose, svgEl } from './build.mjs';
import { say } from './words.mjs';

const MARGIN = 12; // mm that no printer reaches, and a line of words
const RULER = 100;

/// The board as it is seen from its face: width, depth, and holes from the left and the front.
export function faceOf(board) {
  const sizes = board.size_mm;
  const thin = sizes.indexOf(Math.min(...sizes));
  const [wide, deep] = sizes.filter((size, axis) => axis !== thin);
  return { wide, deep, holes: board.holes };
}

/// Cuts `length` into pieces of at most `room`: [{from, to}]. A piece's edge keeps `clear` away from the places in
/// `around` where that is possible, so that a hole is on one page.
export function tiles(length, room, around, clear) {
  const pieces = [];
  let from = 0;
  while (length - from > room + 0.01) {
    let to = from + room;
    for (const place of [...around].sort((a, b) => b - a)) {
      if (Math.abs(place - to) < clear && place - clear > from + room * 0.4) { to = place - clear; }
    }
    pieces.push({ from, to });
    from = to;
  }
  pieces.push({ from, to: length });
  return pieces;
}

function text(x, y, size, words, more = {}) {
  const made = svgEl('text', { x, y, 'font-size': size, ...more });
  made.textContent = words;
  return made;
}
function page(sheet, ...children) {
  return el('section', { class: 'psheet full' }, svgEl('svg', { viewBox: `0 0 ${sheet.width} ${sheet.height}`, class: 'mmsheet', width: sheet.width + 'mm', height: sheet.height + 'mm' }, ...children));
}
function ruler(x, y) {
  const marks = [];
  for (let mm = 0; mm <= RULER; mm += 10) { marks.push(`M${x + mm} ${y}v${mm % 50 === 0 ? -4 : -2.5}`); }
  return [svgEl('path', { d: `M${x} ${y}h${RULER}` + marks.join(''), class: 'thin', 'data-ruler': RULER }), text(x + RULER + 2, y, 3, '100 mm'),
    svgEl('path', { d: `M${x} ${y + 7}h101.6` + [0, 1, 2, 3, 4].map((inch) => `M${x + inch * 25.4} ${y + 7}v-3`).join(''), class: 'thin' }), text(x + 103.6, y + 7, 3, '4 in')];
}

function templatePages(board, sheet, { len, bitText, frame }) {
  const { wide, deep, holes } = faceOf(board);
  const [roomX, roomY] = [sheet.width - 2 * MARGIN, sheet.height - 2 * MARGIN - 16];
  const most = Math.max(0, ...holes.map((hole) => hole.hole_mm));
  const columns = tiles(wide, roomX, holes.map((hole) => hole.from_left_mm), most);
  const rows = tiles(deep, roomY, holes.map((hole) => hole.from_front_mm), most);
  const pages = [];
  for (const row of rows) {
    for (const column of columns) {
      const inside = holes.filter((hole) => hole.from_left_mm + hole.hole_mm > column.from && hole.from_left_mm - hole.hole_mm < column.to
        && hole.from_front_mm + hole.hole_mm > row.from && hole.from_front_mm - hole.hole_mm < row.to);
      if (inside.length === 0) { continue; }
      const X = (mm) => MARGIN + mm - column.from;
      const Y = (mm) => MARGIN + 16 + (row.to - row.from) - (mm - row.from);
      const edge = (on, d) => svgEl('path', { d, class: on ? 'edge' : 'seam' });
      const [l, r, b, t] = [X(column.from), X(column.to), Y(row.from), Y(row.to)];
      const drawn = [edge(column.from === 0, `M${l} ${b}V${t}`), edge(column.to === wide, `M${r} ${b}V${t}`), edge(row.from === 0, `M${l} ${b}H${r}`), edge(row.to === deep, `M${l} ${t}H${r}`)];
      for (const hole of inside) {
        const [cx, cy, reach] = [X(hole.from_left_mm), Y(hole.from_front_mm), hole.hole_mm / 2 + 6];
        drawn.push(svgEl('circle', { cx, cy, r: hole.hole_mm / 2, class: 'thick', 'data-hole': hole.pipe }),
          svgEl('path', { d: `M${cx - reach} ${cy}h${2 * reach}M${cx} ${cy - reach}v${2 * reach}`, class: 'thin' }),
          text(cx + hole.hole_mm / 2 + 3, cy - hole.hole_mm / 2 - 1, 5, hole.pipe), text(cx + hole.hole_mm / 2 + 3, cy + hole.hole_mm / 2 + 4, 3.2, '⌀ ' + bitText(hole.bit)));
      }
      pages.push(page(sheet, text(MARGIN, MARGIN - 2, 4.2, `${frame}: ${board.board}`), text(sheet.width - MARGIN, MARGIN - 2, 3.4,
        say('from the left edge {0}, from the front edge {1}', len(column.from), len(row.from)), { 'text-anchor': 'end' }), ...ruler(MARGIN, MARGIN + 5), ...drawn,
      column.from > 0 ? text(l + 1.5, (b + t) / 2, 3, say('Join here: {} from the left edge', len(column.from)), { transform: `rotate(-90 ${l + 1.5} ${(b + t) / 2})`, 'text-anchor': 'middle', dy: 2 }) : text(l + 1.5, (b + t) / 2, 3, say('Left edge'), { transform: `rotate(-90 ${l + 1.5} ${(b + t) / 2})`, 'text-anchor': 'middle', dy: 2 }),
      text((l + r) / 2, b - 1.5, 3, row.from > 0 ? say('Join here: {} from the front edge', len(row.from)) : say('Front edge'), { 'text-anchor': 'middle' })));
    }
  }
  return pages;
}

function drillPage(board, sheet, { len, bitText, frame }) {
  const { wide, deep, holes } = faceOf(board);
  const scale = Math.min((sheet.width - 2 * MARGIN - 30) / wide, 90 / deep);
  const [x0, y0] = [MARGIN + 20, 40 + deep * scale];
  const drawn = [svgEl('rect', { x: x0, y: y0 - deep * scale, width: wide * scale, height: deep * scale, class: 'edge' }), text(x0, y0 + 6, 3.4, say('Front edge'))];
  for (const hole of holes) {
    const [cx, cy] = [x0 + hole.from_left_mm * scale, y0 - hole.from_front_mm * scale];
    drawn.push(svgEl('circle', { cx, cy, r: Math.max(0.8, hole.hole_mm / 2 * scale), class: 'thick' }), text(cx + hole.hole_mm / 2 * scale + 1, cy - 2, 4, hole.pipe));
  }
  const heads = [say('Pipe'), say('From left'), say('From front'), say('Bit'), say('From right'), say('From back')];
  return el('section', { class: 'psheet' }, el('h1', {}, frame + ': ' + board.board), para(say('{0} by {1} by {2}', ...board.size_mm.map((mm) => len(mm)))),
    svgEl('svg', { viewBox: `${MARGIN} 30 ${sheet.width - 2 * MARGIN} ${deep * scale + 20}`, class: 'pplan' }, ...drawn),
    el('table', {}, el('thead', {}, el('tr', {}, heads.map((head) => el('th', {}, head)))),
      el('tbody', {}, holes.map((hole) => el('tr', {}, el('th', {}, hole.pipe), [len(hole.from_left_mm), len(hole.from_front_mm), bitText(hole.bit), len(hole.from_right_mm), len(hole.from_back_mm)].map((one) => el('td', {}, el('span', { class: 'n' }, one))))))),
    (board.pairs || []).map((pair) => para(say('{0} to {1}: {2} centre to centre', ...pair.between, len(pair.spacing_mm)))),
    board.drop === 'measure-first' ? el('p', { class: 'watch' }, say('Measure from post to post before you drill this board.'), ' ', el('span', { class: 'blankline' }, say('Measured:') + ' ________')) : null,
    (board.warnings || []).map((warning) => el('p', { class: 'watch' }, prose(warning))));
}

/// Pages of all boards with holes.
export function sheetsOf(drilling, fullSize, sheet, words) {
  const boards = (drilling.boards || []).filter((board) => board.holes.length > 0);
  return boards.flatMap((board) => (fullSize ? templatePages(board, sheet, words) : [drillPage(board, sheet, words)]));
}
