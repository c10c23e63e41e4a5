// The program's text for a terminal, set for a page of any width.
import { el, prose } from './build.mjs';

const WIDEST = 96; // columns that the program wraps at

/// Lines that were broken only because a terminal is narrow are put together again.
export function unwrapped(text) {
  const lines = [];
  let open = false;
  let last = '';
  for (const line of text.replace(/\s+$/, '').split('\n')) {
    const first = line.trim().split(' ')[0];
    const indent = line.length - line.trimStart().length;
    const before = last.length - last.trimStart().length;
    const goesOn = open && first !== '' && last.trim() !== '' && indent >= before && last.length + 1 + first.length > WIDEST - 3
      && !/^\d+\.$/.test(first);
    if (goesOn) { lines[lines.length - 1] += ' ' + line.trim(); } else { lines.push(line); }
    last = line;
    open = true;
  }
  return lines;
}
/// Whether lines are set under one another in columns, which only a fixed width shows.
function isTable(line) { return /\S {3,}\S/.test(line.trim()); }

/// Names and commands between backticks are set as such.
export function coded(line) { return line.split('`').map((piece, i, all) => (i % 2 === 1 && i < all.length - 1 ? el('code', {}, piece) : prose(i % 2 === 1 ? '`' + piece : piece))); }

/// `before` is what the page says already: its lines are not said again.
export function told(text, before = '') {
  const said = new Set(unwrapped(before).map((line) => line.trim()));
  const box = el('div', { class: 'told' });
  let table = [];
  const close = () => {
    if (table.length > 0) { box.append(el('pre', { tabindex: '0' }, table.join('\n'))); }
    table = [];
  };
  for (const line of unwrapped(text)) {
    if (isTable(line)) { table.push(line); continue; }
    close();
    if (line.trim() === '' || said.has(line.trim())) { continue; }
    const indent = Math.min(3, Math.floor((line.length - line.trimStart().length) / 2));
    box.append(el('p', { class: indent > 0 ? 'in' + indent : null }, coded(line.trim())));
  }
  close();
  return box;
}
