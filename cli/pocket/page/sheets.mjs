// The program's pages on sheets of paper, 1:1.
import { el } from './build.mjs';

/// Width and height in mm of a drawing of the program's own, whose viewBox is its size on paper.
export function sizeOf(viewBox) {
  const [, , width, height] = viewBox.trim().split(/[\s,]+/).map(Number);
  return { width, height };
}
/// How a page lies on a sheet that stands upright: a page that is wider than the sheet is turned a quarter.
export function across(page, sheet) { return page.width > sheet.width + 0.01; }

/// The page on its sheet. `drawing` is an svg element; it keeps its size, whatever the sheet's.
export function sheetOf(drawing, sheet) {
  const size = sizeOf(drawing.getAttribute('viewBox'));
  drawing.style.width = size.width + 'mm';
  drawing.style.height = size.height + 'mm';
  return el('section', { class: across(size, sheet) ? 'psheet across' : 'psheet' }, drawing);
}
