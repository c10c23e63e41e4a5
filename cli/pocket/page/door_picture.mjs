// The frame to turn and to tap at: a tap on a part shows its line in the text, and back.
import { app, ask, len, notYet, numbers } from './app.mjs';
import { button, el, fill, para, picture, prose } from './build.mjs';
import { drawingOf } from './door_steps.mjs';
import { partsIn } from './frame_text.mjs';
import { space } from './library.mjs';
import { trouble } from './put_cures.mjs';
import { endPanel, openEnds } from './put_on.mjs';
import { partButtons, partPanel, partsList } from './put_part.mjs';
import { isEmpty, moreStarts, startPanel } from './put_start.mjs';
import { turnedView } from './view.mjs';
import { say } from './words.mjs';

const host = el('div', { class: 'view tall' });
const about = el('div', { class: 'about' });
let view = null;
let shown = null;
let flat = false;
let ends = true;
let tags = true;

/// What a part is, in a line: "P3, pipe, 10 in".
export function partText(numbersNow, label) {
  const part = numbersNow.parts.find((one) => one.label === label);
  if (!part) { return ''; }
  const kind = { pipe: say('pipe'), board: say('board') }[part.kind] || part.kind;
  return [label, part.size ? part.size + ' ' + kind : kind, part.length_mm ? len(part.length_mm) : ''].filter(Boolean).join(', ');
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
  app.doing = null;
  app.choose(label);
}
function tappedEnd(index, end) {
  const part = numbers().parts[index];
  app.end = part.label + '.' + end.end;
  app.kind = '';
  app.choose(part.label);
}
// Whoever presses something here by keys goes on from what takes its place.
about.addEventListener('click', () => { app.refocus = true; });
function showAbout(loaded) {
  aboutChosen(loaded);
  if (!app.refocus || document.activeElement !== document.body) { return; }
  app.refocus = false;
  about.querySelector('button, input')?.focus({ preventScroll: true });
}
function aboutChosen(loaded) {
  const open = openEnds(loaded);
  if (app.added && loaded.parts.some((one) => one.label === app.added)) {
    const next = open.find((one) => one.part === app.added);
    app.end = next ? next.name : null;
    app.added = '';
  }
  if (open.some((one) => one.name === app.end)) { fill(about, endPanel(open), trouble()); return; }
  const part = loaded.parts.find((one) => one.label === app.chosen);
  if (!part) {
    fill(about, para(open.length === 0 ? say('Tap a part. No end is open.') : say('Tap a part, or an open end to put something on:'), { class: 'soft' }), endPanel(open), trouble(), moreStarts(), partsList(loaded.parts));
    return;
  }
  const under = partPanel(loaded, part);
  if (under) { fill(about, under); return; }
  fill(about, el('p', {}, el('strong', {}, prose(partText(loaded, part.label)))),
    el('div', { class: 'row' },
      endPanel(open.filter((one) => one.part === part.label)),
      button(say('Its line'), () => app.showLine(part.label), { class: 'quiet' }),
      part.kind === 'pipe' ? button(say('Another length'), () => app.go('change'), { class: 'quiet' }) : null,
      partButtons(part),
      button(say('It is missing'), () => { app.now = { mode: 'missing', part: part.label }; app.go('now'); }, { class: 'quiet' }),
      button(say('It is bad'), () => { app.now = { mode: 'bad', part: part.label }; app.go('now'); }, { class: 'quiet' })),
    trouble(), partsList(loaded.parts));
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
      if (!shown) { fill(about, notYet(entry)); }
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
      if (space.state !== 'ready') { fill(about, el('p', { class: 'soft' }, say('Drawing ...'))); return; }
      if (!view) {
        view = turnedView(space.library, host, { name: '', onPick: tapped, onEnd: tappedEnd, dark: () => app.dark() });
        if (!view) { shown = 'none'; app.render(); return; }
        view.marks({ ends, labels: tags });
      }
      if (shown !== loaded) {
        shown = loaded;
        view.name(say('The frame, to be turned with a finger, the mouse or the arrow keys; plus and minus enlarge it'));
        view.load(loaded);
      }
      const chosen = loaded.parts.findIndex((part) => part.label === app.chosen);
      if (host.dataset.chosen !== String(chosen) + app.version) { host.dataset.chosen = String(chosen) + app.version; view.choose(chosen); }
      view.draw();
    }
    showAbout(loaded);
  },
};

/// Where a part stands in the text.
export function lineOf(text, label) { return partsIn(text).find((part) => part.id === label) || null; }
