// The bench page. All steps stand in it and are read without scripts too; here they are gone through one at a time.
import { BenchMemory } from './bench_memory.mjs';
import { turning } from './bench_turn.mjs';
import { oneTap, Player, wayOf } from '../../pocket/page/walk.mjs';

const OFFERED = 8000; // ms for which the last tick can be taken back

const byId = (id) => document.getElementById(id);
const leaves = [...document.querySelectorAll('.leaf')];
const boxes = [...document.querySelectorAll('input[data-key]')];
const memory = new BenchMemory(() => window.localStorage, document.body.dataset.key);
const tapped = oneTap();
let now = 0;

const player = new Player((by) => {
  if (now + by < 0 || now + by >= leaves.length) { return false; }
  go(now + by, false);
  return true;
}, paint);

function boxOf(leaf) { return leaf.id.startsWith('step-') ? leaf.querySelector(`input[data-key="${leaf.id.slice(5)}"]`) : null; }
function indexOf(id) { return leaves.findIndex((leaf) => leaf.id === id); }

function paint() {
  let done = 0;
  let steps = 0;
  leaves.forEach((leaf, i) => {
    const box = boxOf(leaf);
    leaf.classList.toggle('now', i === now);
    if (!box) { return; }
    steps += 1;
    if (box.checked) { done += 1; }
    leaf.classList.toggle('ticked', box.checked);
    const link = document.querySelector(`nav a[href="#${leaf.id}"]`);
    if (link) { link.classList.toggle('ticked', box.checked); }
  });
  document.documentElement.classList.toggle('begun', now > 0);
  byId('road').style.width = (steps ? 100 * done / steps : 0) + '%';
  byId('back').disabled = now === 0;
  byId('next').disabled = now === leaves.length - 1;
  byId('done').disabled = now === leaves.length - 1;
  for (const button of document.querySelectorAll('button.play')) {
    const playing = Number(button.dataset.by) === player.direction;
    button.setAttribute('aria-pressed', String(playing));
    button.textContent = playing ? '❚❚' : button.dataset.sign;
    button.setAttribute('aria-label', playing ? button.dataset.stop : button.dataset.name);
  }
  byId('keeps').hidden = memory.keeps;
}

function go(to, focus) {
  now = Math.max(0, Math.min(leaves.length - 1, to));
  memory.goTo(leaves[now].id);
  paint();
  window.scrollTo(0, 0);
  if (focus) {
    const heading = leaves[now].querySelector('h2');
    heading.focus({ preventScroll: true });
    byId('said').textContent = heading.textContent;
  }
  try { history.replaceState(null, '', '#' + leaves[now].id); } catch (error) { /* a local file in some browsers */ }
}

// For some seconds what was ticked last can be taken back.
let offered = 0;
function offer(box, at) {
  const back = byId('untick');
  clearTimeout(offered);
  back.hidden = false;
  back.onclick = () => {
    box.checked = false;
    memory.tick(box.dataset.key, false);
    back.hidden = true;
    go(at, true);
  };
  offered = setTimeout(() => { back.hidden = true; }, OFFERED);
}
function doneAndNext() {
  if (now === leaves.length - 1 || !tapped()) { return; }
  const box = boxOf(leaves[now]);
  const at = now;
  if (box && !box.checked) {
    box.checked = true;
    memory.tick(box.dataset.key, true);
    offer(box, at);
  }
  go(now + 1, true);
}
const ways = { back: () => go(now - 1, true), next: () => go(now + 1, true), done: doneAndNext };
for (const [id, act] of Object.entries(ways)) { byId(id).addEventListener('click', () => { player.stop(); act(); }); }

for (const box of boxes) {
  box.checked = memory.has(box.dataset.key);
  box.addEventListener('change', () => { memory.tick(box.dataset.key, box.checked); paint(); });
}
byId('forget').addEventListener('click', () => {
  if (!confirm(byId('forget').dataset.ask)) { return; }
  for (const box of boxes) { box.checked = false; }
  memory.clear();
  go(0, true);
});
for (const button of document.querySelectorAll('button.play')) { button.addEventListener('click', () => player.play(Number(button.dataset.by))); }

document.addEventListener('keydown', (event) => {
  // A table that scrolls sideways needs the arrows itself.
  if (event.target.closest && event.target.closest('.wide, summary')) { return; }
  const way = wayOf(event);
  if (way === '') { return; }
  event.preventDefault();
  player.stop();
  ways[way]();
});
document.addEventListener('click', (event) => {
  const link = event.target.closest ? event.target.closest('a[href^="#"]') : null;
  const to = link ? indexOf(link.getAttribute('href').slice(1)) : -1;
  if (to < 0) { return; }
  event.preventDefault();
  player.stop();
  const list = document.querySelector('header details');
  if (list) { list.open = false; }
  go(to, true);
});
window.addEventListener('hashchange', () => {
  const to = indexOf(location.hash.slice(1));
  if (to >= 0 && to !== now) { go(to, true); }
});

document.documentElement.classList.add('bench');
document.documentElement.classList.remove('coming');
byId('bar').hidden = false;
for (const part of document.querySelectorAll('.script')) { part.hidden = false; }
const first = indexOf(location.hash.slice(1));
go(first >= 0 ? first : Math.max(0, indexOf(memory.at)), false);
turning();
