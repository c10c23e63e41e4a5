// What is printed, laid out for the sheet, by the browser's own print.
import { answer, app, len, mass, notYet, paper, units, written } from './app.mjs';
import { button, el, fill, para, picture, prose } from './build.mjs';
import { bitText } from './door_drill.mjs';
import { sheetsOf } from './sheets.mjs';
import { told } from './told.mjs';
import { say, sayN } from './words.mjs';

const SHEETS = { a4: { name: 'A4', width: 210, height: 297 }, letter: { name: 'Letter', width: 215.9, height: 279.4 } };
export function sheet() { return SHEETS[paper()]; }

function cardOf(all, card, perPage) {
  return el('article', { class: 'pcard' },
    el('header', {}, el('strong', {}, prose(say('Step {0} of {1}', card.number, all.cards.length))), card.pose ? el('span', { class: 'pose' }, card.pose) : null, card.strip ? el('span', { class: 'strip-name' }, card.strip) : null, el('span', { class: 'pname' }, all.frame)),
    card.first.map((text) => para(text, { class: 'first' })),
    para(card.text, { class: 'do' }),
    (card.traps || []).map((text) => para(text, { class: 'trap' })),
    el('figure', {}, picture(card.picture.svg, 'print' + card.number + '-', '')),
    el('p', { class: 'facts' }, card.facts.map((fact) => el('span', {}, prose(fact)))),
    card.cautions.map((text) => el('p', { class: 'watch' }, el('strong', {}, say('Watch:')), ' ', prose(text))),
    perPage === 2 ? card.notes.map((text) => para(text, { class: 'soft' })) : null,
    el('p', { class: 'box' }, say('Done')));
}
function boxes(title, texts) {
  return texts.length === 0 ? [] : [el('h2', {}, title), el('ul', { class: 'pboxes' }, texts.map((one) => el('li', {}, prose(one.text === undefined ? one : one.text))))];
}
function cardPages(all, perPage) {
  const pages = [el('section', { class: 'psheet cover' }, el('h1', {}, all.frame), para(all.summary),
    el('figure', {}, picture(all.picture.svg, 'cover-', '')),
    el('div', { class: 'pcolumns' }, el('h2', {}, say('Safety')), el('ul', {}, all.safety.map((text) => el('li', {}, prose(text)))),
      boxes(say('Lay out'), all.lay_out), boxes(say('Tools'), all.tools), boxes(say('Before the first step'), all.before)))];
  for (let i = 0; i < all.cards.length; i += perPage) {
    pages.push(el('section', { class: 'psheet cards-' + perPage }, all.cards.slice(i, i + perPage).map((card) => cardOf(all, card, perPage))));
  }
  pages.push(el('section', { class: 'psheet' }, boxes(say('After the last step'), all.after), el('h2', {}, say('Notes')), all.closing.map((text) => para(text))));
  return pages;
}

let previews = null;

/// {entry, pages}: pages once there is an answer.
function made(what) {
  if (what === 'cards-4' || what === 'cards-2') {
    const entry = answer(['cards', 'FRAME', '-o', 'cards.json', '--json', '--units', units()]);
    return { entry, pages: () => { const all = written(entry, 'cards.json'); return all ? cardPages(all, what === 'cards-2' ? 2 : 4) : null; } };
  }
  if (what === 'drill' || what === 'templates') {
    const entry = answer(['drill', 'FRAME', '--json']);
    return { entry, pages: () => (entry.json ? sheetsOf(entry.json, what === 'templates', sheet(), { len, bitText, frame: app.title() }) : null) };
  }
  const entry = answer(['buy', 'FRAME', '--units', units()]);
  const json = answer(['buy', 'FRAME', '--json', '--units', units()]);
  return {
    entry: json.json ? entry : json,
    pages: () => (entry.out && json.json ? [el('section', { class: 'psheet' }, el('h1', {}, say('{}: to buy', app.title())), para(mass(json.json.mass_kg)), told(entry.out))] : null),
  };
}

export const print = {
  id: 'print',
  name: () => say('Print'),
  show(root) {
    app.printed = app.printed || { what: 'cards-4' };
    const what = app.printed.what;
    const one = (id, text) => el('label', { class: 'tick' }, (() => {
      const radio = el('input', { type: 'radio', name: 'what', value: id, id: 'print-' + id, change: () => { app.printed = { what: id }; app.render(); } });
      radio.checked = what === id;
      return radio;
    })(), el('span', {}, text));
    const choose = el('select', { id: 'paper', change: (event) => { app.store.settings.paper = event.target.value; app.store.save(); app.render(); } },
      Object.entries(SHEETS).map(([id, about]) => el('option', { value: id, selected: paper() === id }, about.name)));
    const { entry, pages } = made(what);
    const ready = entry.state === 'ready' && notYet(entry) === null ? pages() : null;
    const place = document.getElementById('paper-sheets');
    previews = previews || el('div', { class: 'previews', tabindex: '0', role: 'region', 'aria-label': say('The pages') });
    const key = [app.version, what, paper(), units(), document.documentElement.lang, Boolean(ready)].join();
    if (place.dataset.of !== key) {
      place.dataset.of = key;
      fill(place, ready || []);
      fill(previews, preview(place));
      const size = sheet();
      place.style.setProperty('--sheet-width', size.width + 'mm');
      place.style.setProperty('--sheet-height', size.height + 'mm');
      fill(document.getElementById('page-size'), `@page { size: ${size.width}mm ${size.height}mm; margin: 0; }`);
    }
    const count = place.children.length;
    fill(root, el('h2', {}, say('Print')),
      el('fieldset', {}, el('legend', {}, say('What')), one('cards-4', say('Cards, four to a page')), one('cards-2', say('Cards, two to a page')),
        one('drill', say('Drill sheets')), one('templates', say('Templates in full size')), one('buy', say('Buying list'))),
      el('p', {}, el('label', { for: 'paper' }, say('Paper'), ' '), choose),
      what === 'templates' ? para(say('Print at 100 %, without fitting to the page, and measure the ruler on each page before you drill.'), { class: 'watch' }) : null,
      ready ? [para(sayN(count, '1 page', '{} pages', count), { class: 'soft' }), button(say('Print'), () => window.print(), { class: 'main', id: 'print-now' }),
        previews]
        : notYet(entry) || para(say('There is nothing to print.')));
  },
  leave() {
    const place = document.getElementById('paper-sheets');
    place.dataset.of = '';
    place.replaceChildren();
  },
};

/// The sheets as they will be printed, made small.
function preview(place) {
  return [...place.children].slice(0, 40).map((page, i) => {
    const copy = page.cloneNode(true);
    for (const named of copy.querySelectorAll('[id]')) { named.id = 'v' + i + named.id; }
    for (const user of copy.querySelectorAll('*')) {
      for (const { name, value } of [...user.attributes]) {
        if (value.includes('url(#')) { user.setAttribute(name, value.replace(/url\(#/g, 'url(#v' + i)); }
        if (name === 'href' && value.startsWith('#')) { user.setAttribute('href', '#v' + i + value.slice(1)); }
      }
    }
    return el('div', { class: 'preview', 'aria-label': say('Page {}', i + 1), role: 'group' }, copy);
  });
}
