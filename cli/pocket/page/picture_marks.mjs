// What can be tapped and dragged in the picture itself: arrows for directions, a grip at the end of what was put on.
// All of it can be done in the panel as well, with names and by keys; here it is for fingers and mice alone.
import { el, fill, svgEl } from './build.mjs';

const FINGER = 46; // px between the middles of two marks
const OUT = 52; // px from the middle of an arrow's tail to its tip, at the least
const LIFT = 40; // px that a grip stands beyond the end that it moves

/// A mark's place, moved so that all of it is seen.
function within(at, width, height) { return { x: Math.max(24, Math.min(width - 24, at.x)), y: Math.max(24, Math.min(height - 24, at.y)) }; }

/// Where marks go, so that each has a fingertip's room: [{x, y}] for arrows from `tail` to `tips`, in a picture of that
/// size. What points to or away from the eye is put aside; what would lie on another goes round the tail.
export function spread(tail, tips, width, height, least = OUT) {
  const taken = [];
  const inside = (at) => within(at, width, height);
  return tips.map((tip) => {
    const [dx, dy] = [tip.x - tail.x, tip.y - tail.y];
    const far = Math.hypot(dx, dy);
    // Too short to be seen: down and to the left comes toward the eye, as in a drawing.
    const angle = far < 6 ? (tip.nearer ? 0.75 : -0.25) * Math.PI : Math.atan2(dy, dx);
    const reach = Math.max(least, Math.min(far, 2 * least));
    for (const turn of [0, 1, -1, 2, -2, 3, -3, 4]) {
      for (const longer of [1, 1.8]) {
        const at = inside({ x: tail.x + longer * reach * Math.cos(angle + turn * Math.PI / 5), y: tail.y + longer * reach * Math.sin(angle + turn * Math.PI / 5) });
        if (taken.every((other) => Math.hypot(other.x - at.x, other.y - at.y) >= FINGER)) { taken.push(at); return at; }
      }
    }
    const at = inside({ x: tail.x + reach * Math.cos(angle), y: tail.y + reach * Math.sin(angle) });
    taken.push(at);
    return at;
  });
}
/// The one of `values` (each with `at`) that is nearest.
export function nearestOf(values, at) {
  return values.reduce((best, one) => (best === null || Math.abs(one.at - at) < Math.abs(best.at - at) ? one : best), null);
}

const glyph = (both) => svgEl('svg', { viewBox: '-12 -12 24 24', class: 'icon', 'aria-hidden': 'true' },
  svgEl('path', { d: both ? 'M-9 0H9M4-5L9 0 4 5M-4-5L-9 0-4 5' : 'M-9 0H9M2-7L9 0 2 7' }));
/// The mark stays one and the same while the picture is turned below it.
function point(mark, angle) { mark.firstChild.style.transform = `rotate(${Math.round(angle * 180 / Math.PI)}deg)`; }

/// {set, place}: `set` takes {arrows: {tail, list: [{id, tip, words, tap}]}, grip}, places in mm; `place` brings all to
/// where the picture has them now. A grip is {at, ends: [{at: mm along its way or an angle's order, ...}], ...}; see
/// `gripOnPipe` and `gripOnFitting`.
export function marksOver(host, view) {
  const lines = svgEl('svg', { class: 'mark-lines', 'aria-hidden': 'true' });
  const place = el('div', { class: 'marks', 'aria-hidden': 'true' }, lines);
  host.append(place);
  let arrows = null;
  let grip = null;
  let buttons = [];
  let dragged = null;

  function mark(id, words, both, more) {
    return el('button', { type: 'button', class: 'mark-on', tabindex: '-1', title: words, id, ...more }, glyph(both));
  }
  const line = (a, b, kind) => svgEl('line', { x1: a.x, y1: a.y, x2: b.x, y2: b.y, class: kind });
  function put(one, at) { one.style.left = at.x + 'px'; one.style.top = at.y + 'px'; }

  function placeArrows(drawn, width, height) {
    const tail = view.project(arrows.tail);
    const tips = spread(tail, arrows.list.map((one) => view.project(one.tip)).map((at) => ({ ...at, nearer: at.depth < tail.depth })), width, height);
    arrows.list.forEach((one, i) => {
      put(buttons[i], tips[i]);
      point(buttons[i], Math.atan2(tips[i].y - tail.y, tips[i].x - tail.x));
      drawn.push(line(tail, tips[i], 'way'));
    });
  }
  function placeGrip(drawn, width, height) {
    const [from, to] = [view.project(grip.from), view.project(grip.to)];
    const far = Math.hypot(to.x - from.x, to.y - from.y);
    const [ux, uy] = far < 3 ? [0.7, -0.7] : [(to.x - from.x) / far, (to.y - from.y) / far];
    const handle = buttons[buttons.length - 1];
    const stands = within({ x: to.x + LIFT * ux, y: to.y + LIFT * uy }, width, height);
    put(handle, dragged ? dragged.place : stands);
    if (!dragged) { point(handle, Math.atan2(uy, ux)); }
    if (dragged && dragged.choice) { drawn.push(line(from, view.project(dragged.choice.to), 'would')); } else { drawn.push(line(to, stands, 'lead')); }
  }
  function placeAll() {
    const [width, height] = [host.clientWidth, host.clientHeight];
    const drawn = [];
    if (arrows) { placeArrows(drawn, width, height); }
    if (grip) { placeGrip(drawn, width, height); }
    fill(lines, drawn);
  }

  function held(event) {
    event.preventDefault();
    const handle = event.currentTarget;
    const box = host.getBoundingClientRect();
    const at = { x: event.clientX - box.left, y: event.clientY - box.top };
    dragged = { from: at, place: { ...at }, choice: null, moved: 0 };
    handle.setPointerCapture(event.pointerId);
    placeAll();
  }
  function moved(event) {
    if (!dragged) { return; }
    const box = host.getBoundingClientRect();
    dragged.place = { x: event.clientX - box.left, y: event.clientY - box.top };
    dragged.moved = Math.max(dragged.moved, Math.hypot(dragged.place.x - dragged.from.x, dragged.place.y - dragged.from.y));
    if (dragged.moved > 6) {
      dragged.choice = grip.choose(dragged.from, dragged.place, view.project);
      grip.tell(dragged.choice);
    }
    placeAll();
  }
  function letGo(event) {
    if (!dragged) { return; }
    const { choice, moved: far } = dragged;
    const done = event.type === 'pointerup';
    dragged = null;
    grip.tell(null);
    placeAll();
    if (done && far > 6 && choice) { grip.take(choice); } else if (done && far <= 6) { grip.tap(); }
  }

  return {
    set(wanted) {
      if (dragged) { return; } // a finger is on it
      arrows = wanted.arrows;
      grip = wanted.grip;
      buttons = arrows ? arrows.list.map((one) => mark('arrow-' + one.id, one.words, false, { click: one.tap })) : [];
      if (grip) { buttons.push(mark('grip', grip.words, true, { class: 'mark-on grip', pointerdown: held, pointermove: moved, pointerup: letGo, pointercancel: letGo })); }
      fill(place, lines, buttons);
      placeAll();
    },
    place: placeAll,
  };
}

const along = (from, unit, mm) => [0, 1, 2].map((k) => from[k] + unit[k] * mm);
/// A pipe's open end, dragged along the pipe: `lengths` are [{length_mm, text, ...}], `from` and `to` its ends in mm.
export function gripOnPipe({ from, to, length, lengths, words, take, tap, tell }) {
  const unit = [0, 1, 2].map((k) => (to[k] - from[k]) / Math.max(1, Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2])));
  return {
    from, to, words, take, tap, tell,
    choose(began, now, project) {
      const [a, b] = [project(from), project(along(from, unit, 100))];
      const scale = Math.hypot(b.x - a.x, b.y - a.y) / 100; // px a mm
      if (scale < 0.01) { return null; }
      const pulled = ((now.x - began.x) * (b.x - a.x) + (now.y - began.y) * (b.y - a.y)) / (100 * scale);
      const nearest = nearestOf(lengths.map((one) => ({ ...one, at: one.length_mm })), length + pulled / scale);
      return nearest && { ...nearest, to: along(to, unit, nearest.length_mm - length) };
    },
  };
}
/// A fitting's outlet, dragged round its middle: `ways` are [{value, tip}] with places in mm.
export function gripOnFitting({ from, to, ways, words, take, tap, tell }) {
  return {
    from, to, words, take, tap, tell,
    choose(began, now, project) {
      const middle = project(from);
      const angle = (at) => Math.atan2(at.y - middle.y, at.x - middle.x);
      const wanted = angle(now);
      const off = (one) => Math.abs(Math.atan2(Math.sin(angle(project(one.tip)) - wanted), Math.cos(angle(project(one.tip)) - wanted)));
      const best = ways.reduce((least, one) => (least === null || off(one) < off(least) ? one : least), null);
      return best && { ...best, to: best.tip };
    },
  };
}
