// What would make the frame fit or let it be put together, as buttons that make the change.
import { app, ask, len } from './app.mjs';
import { button, el, para } from './build.mjs';
import { edit, idOf, taken } from './put_on.mjs';
import { coded } from './told.mjs';
import { listed, say } from './words.mjs';

const FIRST = 3; // cures that are shown at once

function closureWords(cure) {
  if (cure.change === 'let-go') { return say('Leave out where {} stands: the rest places it', cure.name); }
  const now = len(cure.now_mm);
  if (cure.change === 'surface') { return say('Move the surface {0} to {1}', cure.name, now); }
  return cure.change === 'size' ? say('Make {0} {1} long along {2}', cure.name, now, cure.side) : say('Move the edge of {0} to {1} from the pipe', cure.name, now);
}
function stockWords(stock) {
  const words = say('Take {}', listed(stock.changes.map((one) => one.instead_of + ' ' + one.pieces_mm.map((mm) => len(mm)).join(' + '))));
  return stock.cut ? say('{}, cut and threaded', words) : words;
}
/// All cures of an answer of check, each with the options of `dryfit edit` that make it: [{words, args}].
export function curesOf(check) {
  const found = [];
  for (const closure of check.closures || []) {
    for (const stock of closure.stock || []) { found.push({ words: stockWords(stock), args: stock.edit }); }
  }
  for (const cure of check.closure_cures || []) { found.push({ words: closureWords(cure), args: cure.edit }); }
  for (const cure of check.cures || []) { found.push({ words: cure.text, args: cure.edit }); }
  // Two places that the same pipe closes name it twice.
  const known = new Set();
  return found.filter((one) => one.args && one.args.length > 0 && !known.has(one.args.join('\n')) && known.add(one.args.join('\n')));
}
async function make(cure) {
  const answer = await edit(cure.args);
  if (!answer) { return; }
  taken(answer, say('Changed: {}', cure.words));
  app.choose('');
}
/// What is wrong with the frame as it stands, in a line, and what would mend it.
export function trouble() {
  const check = ask.check().json;
  if (!check || check.verdict === 'buildable') { return null; }
  const words = { overlapping: say('Parts are in the same place.'), open: say('It does not line up.'), locked: say('It cannot be put together.') }[check.verdict];
  if (!words) { return null; }
  const cures = curesOf(check);
  const one = (cure, i) => button(coded(cure.words), () => make(cure), { id: idOf('cure', i), class: 'cure' });
  return el('div', { class: 'trouble', role: 'status' }, para(words, { class: 'watch' }),
    el('div', { class: 'row' }, cures.slice(0, FIRST).map(one), button(say('Why?'), () => app.go('fit'), { class: 'quiet', id: 'trouble-why' })),
    cures.length > FIRST ? el('details', { id: 'more-cures', open: app.curesOpen || null, toggle: (event) => { app.curesOpen = event.target.open; } }, el('summary', {}, say('More that would help')),
      el('div', { class: 'row' }, cures.slice(FIRST).map((cure, i) => one(cure, FIRST + i)))) : null);
}
