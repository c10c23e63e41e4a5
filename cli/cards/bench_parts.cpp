#include "cli/cards/bench_parts.hpp"

namespace dryfit::cli {

/// Contrast of text on its ground is at least 7 to 1 in both schemes; targets for fingers are at least 3 rem high.
const char* bench_style() {
  return R"css(:root { --ground: #f6f5f2; --sheet: #ffffff; --ink: #16181c; --soft: #44484f; --line: #8a8f98;
  --mark: #9a3b00; --mark-ink: #ffffff; --band: #e6e3db; --done: #d9e8d6; }
@media (prefers-color-scheme: dark) {
  :root { --ground: #15171a; --sheet: #202328; --ink: #f2f2ef; --soft: #c6c9ce; --line: #777d87;
    --mark: #ffb07a; --mark-ink: #1a1206; --band: #34373d; --done: #26402a; }
}
* { box-sizing: border-box; }
html { font: 1.125rem/1.5 system-ui, sans-serif; background: var(--ground); color: var(--ink); }
body { margin: 0 auto; padding: 0.75rem; max-width: 54rem; }
h1 { font-size: 1.5rem; margin: 0.25rem 0; }
h2 { font-size: 1.35rem; margin: 0 0 0.5rem; }
h2:focus { outline: none; }
h3 { margin: 1rem 0 0.25rem; font-size: 1.1rem; }
header p { margin: 0 0 0.5rem; color: var(--soft); }
a { color: var(--mark); }
details nav a { display: inline-block; padding: 0.35rem 0; }
summary { padding: 0.6rem 0; cursor: pointer; }
nav ol { list-style: none; margin: 0; padding: 0 0 0 0.5rem; }
nav a.ticked::after { content: " \2713"; }
.skip { position: absolute; left: -999rem; }
.skip:focus { position: static; }
.leaf { background: var(--sheet); border: 1px solid var(--line); border-radius: 0.6rem; padding: 0.9rem; margin: 0 0 1rem; }
.leaf.ticked { background: var(--done); }
.strip { background: var(--ink); color: var(--sheet); border-radius: 0.3rem; padding: 0.1rem 0.5rem; font-size: 0.9em; }
.do { font-size: 1.3rem; line-height: 1.35; font-weight: 700; margin: 0.4rem 0; }
.first { background: var(--band); border-radius: 0.3rem; padding: 0.4rem 0.6rem; margin: 0.4rem 0; }
.note { margin: 0.3rem 0; color: var(--soft); }
.watch { border-left: 0.4rem solid var(--mark); padding: 0.2rem 0.6rem; margin: 0.4rem 0; }
figure { margin: 0.6rem 0; background: #ffffff; border-radius: 0.4rem; padding: 0.3rem; }
figure svg { display: block; width: 100%; height: auto; max-height: 62vh; }
figure canvas { display: block; width: 100%; height: 58vh; touch-action: none; cursor: grab; }
.turning svg, .turning figcaption { display: none; }
button.turn { min-height: 3rem; }
figcaption { color: #333333; font-size: 0.9rem; text-align: center; }
.facts { list-style: none; margin: 0.4rem 0; padding: 0; display: flex; flex-wrap: wrap; gap: 0.4rem; }
.facts li { border: 2px solid var(--ink); border-radius: 0.4rem; padding: 0.15rem 0.6rem; font-weight: 600; }
.ticks { list-style: none; margin: 0; padding: 0; }
.tick { display: flex; align-items: center; gap: 0.7rem; min-height: 3rem; cursor: pointer; }
.tick input { width: 1.7rem; height: 1.7rem; flex: none; accent-color: var(--mark); }
button { font: inherit; font-weight: 700; min-height: 3.5rem; padding: 0.4rem 1rem; border-radius: 0.6rem;
  border: 2px solid var(--ink); background: var(--sheet); color: var(--ink); cursor: pointer; }
button.main { background: var(--mark); color: var(--mark-ink); border-color: var(--mark); }
button:disabled { opacity: 0.4; cursor: default; }
:focus-visible { outline: 3px solid var(--mark); outline-offset: 2px; }
.said { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); margin: 0; }
[hidden] { display: none !important; }
.bench .leaf { display: none; }
.bench .leaf.now { display: block; }
.bench body { padding-bottom: 8.5rem; }
.bar { position: fixed; left: 0; right: 0; bottom: 0; background: var(--ground); border-top: 1px solid var(--line);
  padding: 0.5rem max(0.75rem, calc((100vw - 54rem) / 2)) 0.6rem; display: grid; grid-template-columns: 1fr 2fr 1fr; gap: 0.5rem; }
.road { grid-column: 1 / -1; height: 0.5rem; background: var(--band); border-radius: 0.25rem; overflow: hidden; }
.road div { height: 100%; width: 0; background: var(--mark); }
.keys { grid-column: 1 / -1; margin: 0; font-size: 0.85rem; color: var(--soft); text-align: center; }
.wide { overflow-x: auto; }
.swaps { border-collapse: collapse; font-size: 0.85rem; }
.swaps th, .swaps td { border: 1px solid var(--line); min-width: 1.6rem; height: 1.6rem; padding: 0 0.2rem; text-align: center; }
.swaps tbody th { position: sticky; left: 0; background: var(--sheet); text-align: left; padding: 0 0.5rem; }
.swaps td { color: #000000; }
.swaps .d1 { background: #ffffff; } .swaps .d2 { background: #ededed; } .swaps .d3 { background: #dbdbdb; }
.swaps .d4 { background: #c9c9c9; } .swaps .d5 { background: #b7b7b7; } .swaps .d6 { background: #a5a5a5; }
.swaps .d7 { background: #969696; }
.swaps .jump { border-left: 4px solid var(--mark); }
@media screen and (prefers-color-scheme: dark) { figure { filter: brightness(0.88); } }
@media (hover: none) { .keys { display: none; } }
@media (prefers-reduced-motion: no-preference) { .road div { transition: width 0.2s; } }
@media print {
  :root { --ground: #ffffff; --sheet: #ffffff; --ink: #000000; --soft: #222222; --mark: #000000; --band: #eeeeee; --done: #ffffff; }
  html { font-size: 11pt; }
  .bench .leaf { display: block; }
  .leaf { break-inside: avoid; border-color: #000000; }
  #start, #end { break-inside: auto; }
  #start { break-after: page; }
  /* Two steps to a page, on A4 and on Letter. */
  figure { margin: 0.2rem 0; }
  figure svg, .turning svg { display: block; max-height: 6.6cm; }
  #start figure svg { max-height: 10cm; }
  .tick { min-height: 1.7rem; }
  .leaf { padding: 0.5rem 0.8rem; margin: 0 0 0.5rem; }
  figure canvas, button.turn { display: none; }
  .wide { overflow: visible; }
  .swaps { font-size: 7pt; }
  .swaps th, .swaps td { min-width: 0; height: auto; padding: 0 1pt; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .bar, .skip, details, .script { display: none !important; }
  body, .bench body { padding: 0; max-width: none; }
}
)css";
}

/// Without storage (some browsers refuse it to local files) everything works but the memory.
const char* bench_script() {
  return R"js((function () {
  'use strict';
  var key = document.body.dataset.key;
  var leaves = Array.prototype.slice.call(document.querySelectorAll('.leaf'));
  var boxes = Array.prototype.slice.call(document.querySelectorAll('input[data-key]'));
  var byId = function (id) { return document.getElementById(id); };
  var kept = { ticks: {}, at: 'start' };
  try {
    var text = localStorage.getItem(key);
    var read = text ? JSON.parse(text) : null;
    if (read && typeof read.ticks === 'object' && read.ticks) { kept = { ticks: read.ticks, at: String(read.at) }; }
  } catch (error) { /* no memory, or not ours */ }
  function keep() {
    try { localStorage.setItem(key, JSON.stringify(kept)); } catch (error) { /* no memory */ }
  }
  var now = 0;
  function boxOf(leaf) { return leaf.id.indexOf('step-') === 0 ? leaf.querySelector('input[data-key="' + leaf.id.slice(5) + '"]') : null; }
  function paint() {
    var done = 0, steps = 0;
    leaves.forEach(function (leaf, i) {
      var box = boxOf(leaf);
      leaf.classList.toggle('now', i === now);
      if (!box) { return; }
      steps += 1;
      if (box.checked) { done += 1; }
      leaf.classList.toggle('ticked', box.checked);
      var link = document.querySelector('nav a[href="#' + leaf.id + '"]');
      if (link) { link.classList.toggle('ticked', box.checked); }
    });
    byId('road').style.width = (steps ? 100 * done / steps : 0) + '%';
    byId('back').disabled = now === 0;
    byId('next').disabled = now === leaves.length - 1;
    byId('done').disabled = now === leaves.length - 1;
  }
  function go(to, focus) {
    now = Math.max(0, Math.min(leaves.length - 1, to));
    kept.at = leaves[now].id;
    keep();
    paint();
    window.scrollTo(0, 0);
    if (focus) {
      var heading = leaves[now].querySelector('h2');
      heading.focus({ preventScroll: true });
      byId('said').textContent = heading.textContent;
    }
    try { history.replaceState(null, '', '#' + leaves[now].id); } catch (error) { /* a local file in some browsers */ }
  }
  function indexOf(id) {
    for (var i = 0; i < leaves.length; i += 1) { if (leaves[i].id === id) { return i; } }
    return -1;
  }
  boxes.forEach(function (box) {
    box.checked = kept.ticks[box.dataset.key] === true;
    box.addEventListener('change', function () {
      kept.ticks[box.dataset.key] = box.checked;
      keep();
      paint();
    });
  });
  function doneAndNext() {
    var box = boxOf(leaves[now]);
    if (box && !box.checked) { box.checked = true; kept.ticks[box.dataset.key] = true; keep(); }
    go(now + 1, true);
  }
  byId('back').addEventListener('click', function () { go(now - 1, true); });
  byId('next').addEventListener('click', function () { go(now + 1, true); });
  byId('done').addEventListener('click', doneAndNext);
  byId('forget').addEventListener('click', function () {
    boxes.forEach(function (box) { box.checked = false; });
    kept.ticks = {};
    go(0, true);
  });
  document.addEventListener('keydown', function (event) {
    if (event.altKey || event.ctrlKey || event.metaKey) { return; }
    if (event.key === 'ArrowRight' || event.key === 'PageDown') { event.preventDefault(); go(now + 1, true); }
    if (event.key === 'ArrowLeft' || event.key === 'PageUp') { event.preventDefault(); go(now - 1, true); }
    if (event.key === 'd' || event.key === 'D') { event.preventDefault(); doneAndNext(); }
  });
  document.addEventListener('click', function (event) {
    var link = event.target.closest ? event.target.closest('a[href^="#"]') : null;
    var to = link ? indexOf(link.getAttribute('href').slice(1)) : -1;
    if (to < 0) { return; }
    event.preventDefault();
    var list = document.querySelector('header details');
    if (list) { list.open = false; }
    go(to, true);
  });
  window.addEventListener('hashchange', function () {
    var to = indexOf(location.hash.slice(1));
    if (to >= 0 && to !== now) { go(to, true); }
  });
  document.documentElement.classList.add('bench');
  byId('bar').hidden = false;
  Array.prototype.forEach.call(document.querySelectorAll('.script'), function (part) { part.hidden = false; });
  var first = indexOf(location.hash.slice(1));
  go(first >= 0 ? first : Math.max(0, indexOf(kept.at)), false);
}());
)js";
}

}  // namespace dryfit::cli
