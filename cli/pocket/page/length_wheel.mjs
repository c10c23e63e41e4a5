// A length to be set without a keyboard: in inches two wheels, whole ones and the fractions of a shop's rule; in
// millimetres or centimetres a field for numbers. Wheels are turned by finger, mouse or keys, and told as spin buttons.
import { button, el, fill } from './build.mjs';
import { fromInches, inches, lengthText } from './lengths.mjs';
import { languageSpoken, say } from './words.mjs';

const MOST = 144; // whole inches, longer than what is sold threaded
const TYPED = 900; // ms in which digits belong to one number

/// Whole inches and 16ths (or 32nds, where the length has them) of a text such as "24-1/2"; what is no length is 0.
export function wheelsOf(text) {
  const value = fromInches(text.replace(/^-/, ''));
  const of = Number.isFinite(value) && Math.abs(value * 16 - Math.round(value * 16)) > 0.01 ? 32 : 16;
  const parts = Number.isFinite(value) ? Math.round(value * of) : 0;
  return { whole: Math.floor(parts / of), parts: parts % of, of };
}
/// The text that wheels stand at.
export function textOf({ whole, parts, of }) { return inches((whole + parts / of) * 25.4, of); }

/// One wheel: `texts` one below the other, `at` the one that is chosen.
function wheel(name, texts, at, step, turned) {
  const rows = texts.map((text, i) => el('div', { class: 'tooth', click: () => go(i) }, text));
  const column = el('div', { class: 'wheel', role: 'spinbutton', tabindex: '0', 'aria-label': name, 'aria-valuemin': '0', 'aria-valuemax': String(texts.length - 1) }, rows);
  let now = at;
  let steady = false; // a wheel that is put into the page again begins at its top, and says so
  let digits = '';
  let last = 0;
  const tell = () => {
    column.setAttribute('aria-valuenow', String(now));
    column.setAttribute('aria-valuetext', texts[now]);
    rows.forEach((row, i) => row.classList.toggle('on', i === now));
  };
  const high = () => rows[0].offsetHeight || 36;
  function go(to) {
    now = Math.max(0, Math.min(texts.length - 1, to));
    column.scrollTop = now * high();
    tell();
    turned(now);
  }
  column.addEventListener('scroll', () => {
    if (!steady) { return; }
    const seen = Math.max(0, Math.min(texts.length - 1, Math.round(column.scrollTop / high())));
    if (seen !== now) { now = seen; tell(); turned(now); }
  });
  column.addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) { return; }
    const moves = { ArrowUp: 1, ArrowDown: -1, PageUp: step, PageDown: -step, Home: -texts.length, End: texts.length };
    if (/^\d$/.test(event.key)) {
      digits = event.timeStamp - last < TYPED ? digits + event.key : event.key;
      last = event.timeStamp;
      const found = texts.findIndex((text) => text === digits || text.startsWith(digits + '/'));
      if (found >= 0) { go(found); }
    } else if (moves[event.key]) { go(now + moves[event.key]); } else { return; }
    event.preventDefault();
    event.stopPropagation();
  });
  tell();
  return {
    element: column,
    place() { steady = false; column.scrollTop = now * high(); requestAnimationFrame(() => { column.scrollTop = now * high(); requestAnimationFrame(() => { steady = true; }); }); },
  };
}

const kept = new Map(); // fields by id and what they began with: a panel that is filled anew goes on with the same

/// {element, text}: `text` as the file takes it in `unit`. `label` is said of it; `value` is what it begins with;
/// `signs`: the words for above and below zero, where it can be either; `sure` is called by the Enter key.
export function lengthField({ id, label, value, unit, signs = null, sure = null }) {
  const key = [id, label, value, unit].join('|');
  if (!kept.has(key)) {
    if (kept.size > 40) { kept.clear(); }
    kept.set(key, unit === 'in' && /^-?[\d\/ -]+$/.test(value) && (signs || !value.startsWith('-')) ? wheels(id, label, value, signs) : typed(id, label, value, signs, sure));
  }
  const field = kept.get(key);
  requestAnimationFrame(field.place);
  return field;
}
/// A field that is begun anew the next time that it is asked for.
export function forgetLengths() { kept.clear(); }

function signButton(id, signs, minus, turned) {
  let below = minus;
  const made = button(signs[below ? 1 : 0], () => { below = !below; fill(made, signs[below ? 1 : 0]); turned(below); }, { class: 'quiet', id: id + '-side' });
  return made;
}
function typed(id, label, value, signs, sure) {
  const field = el('input', { type: 'text', inputmode: 'decimal', size: '7', value: signs ? value.replace(/^-/, '') : value, 'aria-label': label, id, keydown: (event) => { if (event.key === 'Enter' && sure) { event.preventDefault(); sure(); } } });
  let below = value.startsWith('-');
  return {
    element: el('span', { class: 'length' }, field, signs ? signButton(id, signs, below, (now) => { below = now; }) : null),
    get text() { return (signs && below ? '-' : '') + field.value.trim(); },
    place() {},
  };
}
function wheels(id, label, value, signs) {
  const at = wheelsOf(value);
  let below = value.startsWith('-');
  const shown = button('', () => open(box.hidden), { class: 'quiet n', id, 'aria-expanded': 'false', 'aria-controls': id + '-wheels' });
  const told = () => {
    const text = lengthText((at.whole + at.parts / at.of) * 25.4, 'in', languageSpoken() === 'de', at.of);
    fill(shown, text);
    shown.setAttribute('aria-label', label + ': ' + text);
  };
  const box = el('div', { class: 'wheels', id: id + '-wheels', hidden: true });
  let turning = []; // the two wheels: many teeth, and most fields are never opened
  const made = () => [
    wheel(say('{}, whole inches', label), Array.from({ length: Math.max(MOST, at.whole) + 1 }, (none, i) => String(i)), at.whole, 12, (now) => { at.whole = now; told(); }),
    wheel(say('{}, fraction of an inch', label), Array.from({ length: at.of }, (none, i) => (i === 0 ? '0' : inches(25.4 * i / at.of, at.of))), at.parts, at.of / 4, (now) => { at.parts = now; told(); }),
  ];
  const place = () => { if (!box.hidden) { for (const one of turning) { one.place(); } } };
  function open(wanted) {
    box.hidden = !wanted;
    shown.setAttribute('aria-expanded', String(wanted));
    if (!wanted) { return; }
    if (turning.length === 0) {
      turning = made();
      fill(box, turning.map((one) => one.element), el('span', { class: 'soft' }, languageSpoken() === 'de' ? 'Zoll' : 'in'));
    }
    place();
    turning[0].element.focus({ preventScroll: true });
    // All of the row: what is turned, and what takes it.
    (box.closest('.row') || box).scrollIntoView({ block: 'nearest' });
  }
  told();
  return {
    element: el('span', { class: 'length' }, shown, signs ? signButton(id, signs, below, (now) => { below = now; }) : null, box),
    get text() { return (below && (at.whole > 0 || at.parts > 0) ? '-' : '') + textOf(at); },
    place,
  };
}
