// What is printed: the program's own pages, each as large as the sheet, by the browser's own print.
import { answer, app, notYet, paper, units } from './app.mjs';
import { button, el, fill, para, picture } from './build.mjs';
import { sheetOf } from './sheets.mjs';
import { say, sayN } from './words.mjs';

const SHEETS = { a4: { name: 'A4', width: 210, height: 297 }, letter: { name: 'Letter', width: 215.9, height: 279.4 } };
const CALLS = {
  'cards-4': ['cards', 'FRAME', '--per-page', '4'],
  'cards-2': ['cards', 'FRAME', '--per-page', '2'],
  drill: ['drill', 'FRAME'],
  templates: ['drill', 'FRAME', '--full-size'],
  buy: ['buy', 'FRAME'],
};
const PREVIEWS = 40;

function pagesOf(what) {
  return answer([...CALLS[what], '-o', 'page.svg', '--json', '--paper', paper(), '--units', units()]);
}
/// The pages that were written, in order; none where there is nothing to print.
function written(entry) { return ((entry.json && entry.json.files) || []).map((name) => entry.files[name]); }

/// Puts the pages where the browser prints from, unless they stand there already.
function lay(place, previews, entry, what) {
  const size = SHEETS[paper()];
  const key = [app.version, what, paper(), units(), document.documentElement.lang].join();
  if (place.dataset.of === key) { return; }
  place.dataset.of = key;
  for (const one of [place, previews]) {
    one.style.setProperty('--sheet-width', size.width + 'mm');
    one.style.setProperty('--sheet-height', size.height + 'mm');
  }
  const pages = written(entry);
  fill(place, pages.map((svg, i) => sheetOf(picture(svg, 'page' + i + '-', ''), size)));
  fill(previews, pages.slice(0, PREVIEWS).map((svg, i) => el('div', { class: 'preview', 'aria-label': say('Page {}', i + 1), role: 'group' },
    sheetOf(picture(svg, 'small' + i + '-', ''), size))));
  fill(document.getElementById('page-size'), `@page { size: ${size.width}mm ${size.height}mm; margin: 0; }`);
}
function take(place) {
  place.dataset.of = '';
  place.replaceChildren();
}

let previews = null;

/// The words that stand where there is no page.
function nothing(entry, what) {
  if (what.startsWith('cards')) {
    return [para(say('There is no order, so there are no cards. See what is in the way under Fit.')), button(say('See why'), () => app.go('fit'))];
  }
  return para(what === 'buy' ? say('There is nothing to print.') : say('No board of this frame is drilled.'));
}

export const print = {
  id: 'print',
  name: () => say('Print'),
  show(root) {
    app.printed = app.printed || { what: 'cards-4' };
    const what = app.printed.what;
    const one = (id, text) => {
      const radio = el('input', { type: 'radio', name: 'what', value: id, id: 'print-' + id, change: () => { app.printed = { what: id }; app.render(); } });
      radio.checked = what === id;
      return el('label', { class: 'tick' }, radio, el('span', {}, text));
    };
    const choose = el('select', { id: 'paper', change: (event) => { app.store.settings.paper = event.target.value; app.store.save(); app.render(); } },
      Object.entries(SHEETS).map(([id, about]) => el('option', { value: id, selected: paper() === id }, about.name)));
    const entry = pagesOf(what);
    const wait = entry.state === 'ready' && entry.json ? null : notYet(entry);
    const place = document.getElementById('paper-sheets');
    previews = previews || el('div', { class: 'previews', tabindex: '0', role: 'region' });
    previews.setAttribute('aria-label', say('The pages'));
    const count = wait ? 0 : written(entry).length;
    if (count > 0) { lay(place, previews, entry, what); } else { take(place); }
    fill(root, el('h2', {}, say('Print')),
      el('fieldset', {}, el('legend', {}, say('What')), one('cards-4', say('Cards, four to a page')), one('cards-2', say('Cards, two to a page')),
        one('drill', say('Drill sheets')), one('templates', say('Drill sheets with templates in full size')), one('buy', say('Buying list'))),
      el('p', {}, el('label', { for: 'paper' }, say('Paper'), ' '), choose),
      what === 'templates' ? para(say('Print at 100 %, without fitting to the page, and measure the ruler on each page before you drill.'), { class: 'watch' }) : null,
      wait || (count === 0 ? nothing(entry, what) : [para(sayN(count, '1 page', '{} pages', count), { class: 'soft' }),
        button(say('Print'), () => window.print(), { class: 'main', id: 'print-now' }),
        previews,
        count > PREVIEWS ? para(say('More pages are printed than are shown here.'), { class: 'soft' }) : null]));
  },
  leave() { take(document.getElementById('paper-sheets')); },
};
