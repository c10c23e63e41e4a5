(function () {
  'use strict';
  var key = document.body.dataset.key;
  var leaves = Array.prototype.slice.call(document.querySelectorAll('.leaf'));
  var boxes = Array.prototype.slice.call(document.querySelectorAll('input[data-key]'));
  var byId = function (id) { return document.getElementById(id); };
  var kept = { ticks: {}, at: 'start' };
  var keeps = true;
  try {
    var text = localStorage.getItem(key);
    var read = text ? JSON.parse(text) : null;
    if (read && typeof read.ticks === 'object' && read.ticks) { kept = { ticks: read.ticks, at: String(read.at) }; }
  } catch (error) { keeps = !(error instanceof DOMException); /* no memory, or not ours */ }
  function keep() {
    try { localStorage.setItem(key, JSON.stringify(kept)); } catch (error) { keeps = false; }
    byId('keeps').hidden = keeps;
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
    document.documentElement.classList.toggle('begun', now > 0);
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
  // A second tap that comes at once is taken for the same one.
  var lately = 0;
  function doneAndNext() {
    if (Date.now() - lately < 350 || now === leaves.length - 1) { return; }
    lately = Date.now();
    var box = boxOf(leaves[now]), at = now;
    if (box && !box.checked) {
      box.checked = true;
      kept.ticks[box.dataset.key] = true;
      keep();
      offer(box, at);
    }
    go(now + 1, true);
  }
  // For some seconds what was ticked last can be taken back.
  var offered = 0;
  function offer(box, at) {
    var back = byId('untick');
    clearTimeout(offered);
    back.hidden = false;
    back.onclick = function () {
      box.checked = false;
      delete kept.ticks[box.dataset.key];
      back.hidden = true;
      go(at, true);
    };
    offered = setTimeout(function () { back.hidden = true; }, 8000);
  }
  byId('back').addEventListener('click', function () { go(now - 1, true); });
  byId('next').addEventListener('click', function () { go(now + 1, true); });
  byId('done').addEventListener('click', doneAndNext);
  byId('forget').addEventListener('click', function () {
    if (!confirm(byId('forget').dataset.ask)) { return; }
    boxes.forEach(function (box) { box.checked = false; });
    kept.ticks = {};
    go(0, true);
  });
  document.addEventListener('keydown', function (event) {
    if (event.altKey || event.ctrlKey || event.metaKey || event.repeat) { return; }
    // A table that scrolls sideways needs the arrows itself.
    if (event.target.closest && event.target.closest('.wide, summary')) { return; }
    if (event.key === 'ArrowRight') { event.preventDefault(); go(now + 1, true); }
    if (event.key === 'ArrowLeft') { event.preventDefault(); go(now - 1, true); }
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
  document.documentElement.classList.remove('coming');
  byId('bar').hidden = false;
  Array.prototype.forEach.call(document.querySelectorAll('.script'), function (part) { part.hidden = false; });
  var first = indexOf(location.hash.slice(1));
  go(first >= 0 ? first : Math.max(0, indexOf(kept.at)), false);
}());
