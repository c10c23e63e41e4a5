(function () {
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
