// The frame to turn and to tap at: a tap on a part shows its line in the text, and back.
import { app, ask, len, notYet, numbers } from './app.mjs';
import { button, el, fill, para, picture, prose } from './build.mjs';
import { drawingOf } from './door_steps.mjs';
import { isEmpty, partsIn } from './frame_text.mjs';
import { space } from './library.mjs';
import { marksOver } from './picture_marks.mjs';
import { adjustable, adjustRow, gripFor } from './put_adjust.mjs';
import { trouble } from './put_cures.mjs';
import { framePanel, frameButton } from './put_frame.mjs';
import { arrowTo, choicesOf, directionsAt, endPanel, endsList, kindName, offersAt, openEnds, putToward, toEnd, wayOf } from './put_on.mjs';
import { partButtons, partPanel, partsList } from './put_part.mjs';
import { moreStarts, startingPanel, startPanel } from './put_start.mjs';
import { turnedView } from './view.mjs';
import { say } from './words.mjs';

const host = el('div', { class: 'view tall' });
const about = el('div', { class: 'about', tabindex: '-1' });
let view = null;
let marks = null;
let shown = null; // the numbers that the view was built from, or 'none' where there can be no view
let seen = []; // what was drawn last
let told = false; // whether the panel has told of a frame yet
let toDraw = null; // numbers that the next drawing is of
let flat = false;
let ends = true;
let tags = true;

/// What a part is, in a line: "P3, 3/4 inch pipe, 10 in long".
export function partText(numbersNow, label) {
  const part = numbersNow.parts.find((one) => one.label === label);
  if (!part) { return ''; }
  const kind = kindName(part.kind);
  return [label, part.size ? say('{0} inch {1}', part.size, kind) : kind, part.length_mm ? say('{} long', len(part.length_mm)) : ''].filter(Boolean).join(', ');
}

function tapped(index) {
  const label = index >= 0 ? numbers().parts[index].label : '';
  // While a board is put together, a tap on a pipe takes it in or out.
  if (app.doing && app.doing.what === 'board' && index >= 0 && numbers().parts[index].kind === 'pipe') {
    const { pipes } = app.doing;
    app.doing.pipes = pipes.includes(label) ? pipes.filter((one) => one !== label) : [...pipes, label];
    app.render();
    return;
  }
  app.end = null;
  app.fresh = '';
  app.doing = null;
  app.choose(label);
}
function tappedEnd(index, end) { toEnd(numbers().parts[index].label + '.' + end.end); }
// Whoever presses something here by keys goes on from what takes its place.
about.addEventListener('click', () => { app.refocus = true; });
let panel = ''; // which panel stands there: another one begins at its top
function showAbout(loaded) {
  const key = [app.version, app.end, app.kind, app.chosen, app.doing && app.doing.what].join('|');
  // While somebody turns a wheel, nothing is filled anew below it.
  if (key === panel && about.querySelector('.wheels:not([hidden])')) { return; }
  aboutChosen(loaded);
  if (key !== panel) { about.scrollTop = 0; }
  panel = key;
  if (!app.refocus || document.activeElement !== document.body) { return; }
  app.refocus = false;
  about.querySelector('button, input')?.focus({ preventScroll: true });
}
/// The end that is open now and was chosen, or that of what was just put on.
function chosenEnd(open, loaded) {
  if (app.added && loaded.parts.some((one) => one.label === app.added)) {
    const next = open.find((one) => one.part === app.added);
    app.end = next ? next.name : null;
    app.added = '';
  }
  return open.find((one) => one.name === app.end);
}
function aboutChosen(loaded) {
  const open = openEnds(loaded);
  const end = chosenEnd(open, loaded);
  const under = startingPanel() || framePanel();
  if (under) { fill(about, under); return; }
  if (end) { fill(about, endPanel(end, adjustRow(adjustable(loaded))), trouble()); return; }
  const part = loaded.parts.find((one) => one.label === app.chosen);
  if (!part) {
    fill(about, para(open.length === 0 ? say('Tap a part. No end is open.') : say('Tap a part, or an open end to put something on:'), { class: 'soft' }), endsList(open, say('Open ends')), trouble(), moreStarts(),
      el('div', { class: 'row' }, frameButton()), partsList(loaded.parts));
    return;
  }
  const doing = partPanel(loaded, part);
  if (doing) { fill(about, doing); return; }
  fill(about, el('p', {}, el('strong', {}, prose(partText(loaded, part.label)))),
    adjustRow(adjustable(loaded)),
    el('div', { class: 'row' },
      endsList(open.filter((one) => one.part === part.label), say('Open ends of {}', part.label)),
      button(say('Back'), () => { app.fresh = ''; app.choose(''); }, { class: 'quiet', id: 'part-close' }),
      button(say('Its line'), () => app.showLine(part.label), { class: 'quiet' }),
      part.kind === 'pipe' ? button(say('Another length'), () => app.go('change'), { class: 'quiet' }) : null,
      partButtons(part),
      button(say('It is missing'), () => { app.now = { mode: 'missing', part: part.label }; app.go('now'); }, { class: 'quiet' }),
      button(say('It is bad'), () => { app.now = { mode: 'bad', part: part.label }; app.go('now'); }, { class: 'quiet' })),
    trouble(), partsList(loaded.parts));
}
/// Asks at once what the panel of a chosen end or part will want, so that it can be painted once and whole.
export function askAhead() {
  const loaded = told && !host.closest('[hidden]') ? numbers() : null;
  if (!loaded) { return; }
  const end = openEnds(loaded).find((one) => one.name === app.end);
  const part = adjustable(loaded);
  if (end) { offersAt(end); }
  if (part) { choicesOf(part.label); }
}
/// Arrows for the directions that are asked for, a grip on what can be dragged.
function showMarks(loaded) {
  const end = openEnds(loaded).find((one) => one.name === app.end);
  const directions = end ? directionsAt(end) : [];
  const tip = (direction) => { const way = wayOf(direction); const far = 120 / Math.hypot(...way); return end.at_mm.map((at, k) => at + far * way[k]); };
  marks.set({
    arrows: directions.length === 0 ? null : { tail: end.at_mm, list: directions.map((direction) => ({ id: direction, tip: tip(direction), words: arrowTo(direction), tap: () => putToward(end, direction) })) },
    grip: gripFor(adjustable(loaded), host, toEnd),
  });
}

/// What a finger waits for is the panel: the view is drawn once that is painted and nothing more is soon to come for it.
const DRAW_AFTER = 250; // ms that the view waits for answers, at the most
let drawing = [0, 0]; // the frame and the timer that lead to the next drawing
let drawSince = 0;
function drawLater(loaded) {
  if (toDraw === null) { drawSince = Date.now(); }
  toDraw = loaded;
  cancelAnimationFrame(drawing[0]);
  clearTimeout(drawing[1]);
  drawing[0] = requestAnimationFrame(() => { drawing[1] = setTimeout(drawView, 0); });
}
function drawView() {
  if (Date.now() - drawSince < DRAW_AFTER && (app.quick.running || app.painting < app.wanted)) { drawing[1] = setTimeout(drawView, 20); return; }
  const loaded = toDraw;
  toDraw = null;
  // Another text has come since, or the drawing took the place of the view.
  if (flat || loaded !== numbers() || space.state !== 'ready') { return; }
  if (app.held()) { app.render(); return; } // what is pressed may be a mark in the picture
  if (!view) {
    view = turnedView(space.library, host, { name: '', onPick: tapped, onEnd: tappedEnd, dark: () => app.dark(), drawn: () => marks && marks.place() });
    if (!view) { shown = 'none'; app.render(); return; }
    host.querySelector('.blank')?.remove();
    view.name(say('The frame, to be turned with a finger, the mouse or the arrow keys; plus and minus enlarge it'));
    view.marks({ ends, labels: tags });
    marks = marksOver(host, view);
  }
  const now = [loaded, loaded.parts.findIndex((part) => part.label === app.chosen), app.dark()];
  if (shown !== loaded) { shown = loaded; view.load(loaded, now[1]); } else if (now[1] !== seen[1]) { view.choose(now[1]); } else if (now[2] !== seen[2]) { view.draw(); }
  seen = now;
  showMarks(loaded);
}

export const pictureDoor = {
  id: 'picture',
  name: () => say('Picture'),
  show(root) {
    // The verdict is not kept waiting for the library that draws.
    if (ask.check().state !== 'waiting') { space.want(); }
    const entry = ask.numbers();
    const loaded = numbers();
    if (!root.firstChild) {
      const tools = el('div', { class: 'row tools' });
      root.append(el('h2', { class: 'sr' }, say('Picture')), host, tools, about);
      root.tools = tools;
    }
    const nothing = space.state === 'ready' && (!space.library || (view === null && shown === 'none'));
    fill(root.tools,
      nothing ? null : [
        button(flat ? say('Turn the view') : say('Drawing'), () => { flat = !flat; app.render(); }, { id: 'flat' }),
        flat ? null : [
          button('+', () => view && view.zoom(1.25), { 'aria-label': say('Enlarge') }),
          button('−', () => view && view.zoom(0.8), { 'aria-label': say('Make smaller') }),
          button(say('Front'), () => view && view.from({ around: 0, above: 0 })),
          button(say('Side'), () => view && view.from({ around: 90, above: 0 })),
          button(say('Top'), () => view && view.from({ around: 0, above: 90 })),
          button(say('Labels'), () => { tags = !tags; if (view) { view.marks({ labels: tags }); } app.render(); }, { 'aria-pressed': String(tags), id: 'tags' }),
          loaded && loaded.parts.every((part) => part.free_ends.length === 0) ? null : button(say('Open ends'), () => { ends = !ends; if (view) { view.marks({ ends }); } app.render(); }, { 'aria-pressed': String(ends), id: 'ends' }),
        ]]);
    host.hidden = isEmpty(app.frame.text);
    if (isEmpty(app.frame.text)) { fill(root.tools); fill(about, startPanel()); return; }
    if (!loaded) {
      // While a new text is read, or has faults, the last picture stays.
      if (!told) { fill(about, notYet(entry)); }
      if (marks) { marks.set({ arrows: null, grip: null }); } // they spoke of the text before
      return;
    }
    if (flat || nothing) {
      host.classList.add('flat');
      const drawn = drawingOf(0);
      const place = host.querySelector('.drawn') || host.appendChild(el('div', { class: 'drawn' }));
      if (drawn.state === 'ready' && drawn.files && drawn.files['drawing.svg']) {
        fill(place, picture(drawn.files['drawing.svg'], 'whole-', say('Picture of {} whole, with the labels of its parts', app.frame.name)));
      } else { fill(place, notYet(drawn)); }
    } else {
      host.classList.remove('flat');
      if (!view && !host.firstChild) { host.append(el('div', { class: 'blank' }, el('p', {}, say('Drawing ...')))); }
      // The end of what was just put on is known once its picture is.
      chosenEnd(openEnds(loaded), loaded);
      drawLater(loaded);
    }
    told = true;
    showAbout(loaded);
  },
};

/// Where a part stands in the text.
export function lineOf(text, label) { return partsIn(text).find((part) => part.id === label) || null; }
