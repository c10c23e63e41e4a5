// The frame's text: a plain text field, so that every phone, keyboard and screen reader knows it, with colours, line
// numbers and marks of faults drawn behind it.
import { el, fill } from './build.mjs';
import { coloured, hintAt, suggestionsAt } from './frame_text.mjs';
import { languageSpoken, say } from './words.mjs';

const LONG = 150000; // characters
const HUGE = 1000000; // characters: a field of so many lines would keep a browser from answering for half a minute
const SHOWN = 2000; // lines of such a text

const SETTLED = 700; // ms without a keystroke that end an entry of undo

/// Texts that undo and redo go through.
export class History {
  constructor(text) { this.reset(text); }
  reset(text) {
    this.texts = [text];
    this.at = 0;
  }
  get text() { return this.texts[this.at]; }
  add(text) {
    if (text === this.text) { return; }
    this.texts = [...this.texts.slice(0, this.at + 1), text].slice(-300);
    this.at = this.texts.length - 1;
  }
  get canUndo() { return this.at > 0; }
  get canRedo() { return this.at < this.texts.length - 1; }
  undo() { this.at = Math.max(0, this.at - 1); return this.text; }
  redo() { this.at = Math.min(this.texts.length - 1, this.at + 1); return this.text; }
}

/// Which rows differ between two lists of {text, bad}: `from` .. `to` of the old give way to `from` .. `upTo` of the new.
export function changedRows(old, rows) {
  const same = (a, b) => a.text === b.text && a.bad === b.bad;
  const least = Math.min(old.length, rows.length);
  let from = 0;
  while (from < least && same(old[from], rows[from])) { from += 1; }
  let after = 0;
  while (after < least - from && same(old[old.length - 1 - after], rows[rows.length - 1 - after])) { after += 1; }
  return { from, to: old.length - after, upTo: rows.length - after };
}

/// {element, text, set(text), faults(list), goTo(line, column), vocabulary(words)}. `onText` hears every change
/// of the text, and whether it was typed, so that more may follow at once; `onPlace` where the caret stands.
export function editor({ onText, onPlace, onHistory }) {
  const area = el('textarea', {
    id: 'text', class: 'text', spellcheck: 'false', autocapitalize: 'off', autocomplete: 'off', autocorrect: 'off', wrap: 'off',
    'aria-label': say('The frame file'), 'aria-describedby': 'faults',
  });
  const back = el('div', { class: 'back', 'aria-hidden': 'true' });
  const lines = el('div', { class: 'lines', 'aria-hidden': 'true' });
  const suggested = el('div', { class: 'suggested', role: 'group', 'aria-label': say('Suggestions') });
  const hint = el('p', { class: 'hint soft', lang: 'en' });
  const element = el('div', { class: 'editor' }, suggested, el('div', { class: 'paper' }, lines, el('div', { class: 'sheet' }, back, area)), hint);
  const history = new History('');
  let marks = [];
  let drawn = [];
  let words = null;
  let timer = 0;
  let huge = null; // a text that the field shows only the beginning of, and that cannot be changed here

  function whole() { return huge === null ? area.value : huge; }
  function show(text) {
    huge = text.length > HUGE ? text : null;
    area.readOnly = huge !== null;
    area.value = huge === null ? text : huge.split('\n', SHOWN).join('\n');
    fill(hint, huge === null ? null : el('span', { lang: languageSpoken() }, say('Too long to be changed here: the first {} lines are shown.', SHOWN)));
  }
  /// A row as it is drawn, with the fault that begins at column `bad` underlined; 0: none.
  function rowOf(text, bad) {
    const line = el('div', { class: bad ? 'row faulty' : 'row' });
    let column = 1;
    for (const [piece, kind] of coloured(text)) {
      const here = bad && bad >= column && bad < column + piece.length ? bad - column : -1;
      if (here < 0) { line.append(kind === '' ? piece : el('span', { class: kind }, piece)); } else {
        const end = here + (/^[^\s,\]}]+/.exec(piece.slice(here)) || [piece.slice(here, here + 1)])[0].length;
        line.append(el('span', { class: kind }, piece.slice(0, here), el('u', { class: 'fault' }, piece.slice(here, end)), piece.slice(end)));
      }
      column += piece.length;
    }
    if (bad && bad >= column) { line.append(el('u', { class: 'fault' }, ' ')); }
    if (text === '' && !bad) { line.append('\u200b'); }
    return line;
  }
  /// Rows that differ from what is drawn are drawn anew, all others stay: a keystroke draws one.
  function paint() {
    const text = area.value;
    // A file of many thousand lines is shown without colours, so that typing stays quick.
    const long = text.length > LONG;
    element.classList.toggle('plain', long);
    const faulty = new Map();
    for (const mark of marks) { if (!faulty.has(mark.line)) { faulty.set(mark.line, mark.column); } }
    const rows = long ? [] : text.split('\n').map((row, i) => ({ text: row, bad: faulty.get(i + 1) || 0 }));
    const { from, to, upTo } = changedRows(drawn, rows);
    for (let i = from; i < to; i += 1) { back.children[from].remove(); }
    const fresh = document.createDocumentFragment();
    for (const row of rows.slice(from, upTo)) { fresh.append(rowOf(row.text, row.bad)); }
    back.insertBefore(fresh, back.children[from] || null);
    while (lines.childElementCount > rows.length) { lines.lastElementChild.remove(); }
    while (lines.childElementCount < rows.length) { lines.append(el('div', {}, String(lines.childElementCount + 1))); }
    const shifted = rows.length !== drawn.length;
    for (let i = from; i < (shifted ? rows.length : upTo); i += 1) { lines.children[i].className = rows[i].bad ? 'faulty' : ''; }
    drawn = rows;
  }
  function settle() {
    clearTimeout(timer);
    history.add(whole());
    onHistory(history);
  }
  function changed() {
    paint();
    clearTimeout(timer);
    timer = setTimeout(settle, SETTLED);
    onHistory({ canUndo: history.canUndo || area.value !== history.text, canRedo: false });
    onText(area.value, true);
    suggest();
  }
  function put(text) {
    show(text);
    paint();
    onHistory(history);
    onText(text, false);
  }
  function suggest() {
    if (huge !== null) { return; }
    if (!words || document.activeElement !== area || area.selectionStart !== area.selectionEnd) { fill(suggested); fill(hint); return; }
    fill(hint, hintAt(area.value, area.selectionStart, words));
    const { from, to, words: found } = suggestionsAt(area.value, area.selectionStart, words);
    fill(suggested, found.map(({ word, about }) => el('button', {
      type: 'button', title: about || null,
      // The field keeps the caret and a phone its keyboard.
      pointerdown: (event) => event.preventDefault(),
      click: () => take(from, to, word),
      keydown: (event) => {
        const next = event.key === 'ArrowRight' ? 'nextElementSibling' : event.key === 'ArrowLeft' ? 'previousElementSibling' : '';
        if (next && event.currentTarget[next]) { event.preventDefault(); event.currentTarget[next].focus(); }
        if (event.key === 'Escape') { area.focus(); }
      },
    }, word)));
  }
  function take(from, to, word) {
    const after = /^[a-z-]+$/.test(word) && /(^|\n)\s*$/.test(area.value.slice(0, from)) ? ': ' : '';
    settle();
    area.focus();
    area.setRangeText(word + after, from, to, 'end');
    changed();
    settle();
  }
  area.addEventListener('input', changed);
  for (const name of ['keyup', 'click', 'focus']) {
    area.addEventListener(name, () => { onPlace(area.selectionStart); suggest(); });
  }
  area.addEventListener('keydown', (event) => {
    const control = event.ctrlKey || event.metaKey;
    if (control && event.key === ' ') {
      event.preventDefault();
      if (suggested.firstElementChild) { suggested.firstElementChild.focus(); }
    }
    if (control && !event.altKey && event.key.toLowerCase() === 'z') {
      event.preventDefault();
      if (event.shiftKey) { api.redo(); } else { api.undo(); }
    }
    if (control && !event.altKey && event.key.toLowerCase() === 'y') { event.preventDefault(); api.redo(); }
    if (event.key === 'Enter' && !control) {
      // The next line starts where this one does.
      const start = area.value.lastIndexOf('\n', area.selectionStart - 1) + 1;
      const indent = /^\s*(?:- )?/.exec(area.value.slice(start, area.selectionStart))[0];
      event.preventDefault();
      area.setRangeText('\n' + indent, area.selectionStart, area.selectionEnd, 'end');
      changed();
    }
  });

  const api = {
    element,
    area,
    history,
    get text() { return whole(); },
    /// Another frame.
    set(text) { clearTimeout(timer); history.reset(text); marks = []; show(text); paint(); onHistory(history); },
    /// A change of this frame that can be undone.
    edit(text) { settle(); history.add(text); put(text); },
    undo() { settle(); if (history.canUndo) { put(history.undo()); } },
    redo() { settle(); if (history.canRedo) { put(history.redo()); } },
    faults(list) {
      if (JSON.stringify(list) === JSON.stringify(marks)) { return; }
      marks = list;
      paint();
    },
    vocabulary(list) { words = list; },
    /// Puts the caret there and brings it into view.
    goTo(line, column, length = 0) {
      const rows = area.value.split('\n');
      const at = rows.slice(0, line - 1).reduce((sum, row) => sum + row.length + 1, 0) + Math.min(column - 1, (rows[line - 1] || '').length);
      area.focus({ preventScroll: true });
      area.setSelectionRange(at, at + length);
      const row = back.children[line - 1];
      if (!row) { return; }
      row.scrollIntoView({ block: 'center', inline: 'nearest' });
      // The beginning of the lines says where one is; it goes out of view only for what is far to the right.
      const paper = element.querySelector('.paper');
      paper.scrollLeft = 0;
      const mark = row.querySelector('.fault');
      if (mark && mark.getBoundingClientRect().right > paper.getBoundingClientRect().right) { mark.scrollIntoView({ block: 'nearest', inline: 'center' }); }
    },
  };
  return api;
}
