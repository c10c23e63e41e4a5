// The bench page's scripts without a browser: node --test tests/cli/cards/bench_scripts_test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { BenchMemory } from '../../../cli/cards/page/bench_memory.mjs';

function storage(items = {}) {
  return { items, getItem: (key) => items[key] ?? null, setItem(key, value) { items[key] = value; } };
}

test('ticks and the place are there again on the next visit, each page with its own', () => {
  const device = storage();
  const rack = new BenchMemory(() => device, 'rack');
  rack.tick('1', true);
  rack.tick('lay2', true);
  rack.tick('1', false);
  rack.goTo('step-3');
  const again = new BenchMemory(() => device, 'rack');
  assert.deepEqual([again.at, again.has('1'), again.has('lay2'), again.keeps], ['step-3', false, true, true]);
  const other = new BenchMemory(() => device, 'ladder');
  assert.deepEqual([other.at, other.has('lay2')], ['start', false]);
  again.clear();
  assert.ok(!new BenchMemory(() => device, 'rack').has('lay2'));
});

test('what another page wrote, or nobody, is no memory', () => {
  for (const text of ['', '{', '7', '"x"', '{"ticks": 7}', '{"ticks": null, "at": "end"}', '[]']) {
    const memory = new BenchMemory(() => storage({ rack: text }), 'rack');
    assert.deepEqual([memory.at, memory.ticks, memory.keeps], ['start', {}, true], text);
  }
  const odd = new BenchMemory(() => storage({ rack: '{"ticks": {"1": "yes", "2": true}, "at": 5}' }), 'rack');
  assert.deepEqual([odd.at, odd.ticks], ['5', { 2: true }]);
});

test('a browser that keeps nothing is noticed, and the page works all the same', () => {
  const refused = () => { throw new Error('no'); };
  const full = () => ({ getItem: () => null, setItem: refused });
  for (const device of [refused, full]) {
    const memory = new BenchMemory(device, 'rack');
    memory.tick('1', true);
    assert.ok(memory.has('1'));
    assert.ok(!memory.keeps);
  }
});
