// What would make the frame fit or let it be put together, as buttons that make the change.
import { app, ask, len, units } from './app.mjs';
import { button, el, para, prose } from './build.mjs';
import { unitsOf } from './frame_text.mjs';
import { lengthForFile } from './lengths.mjs';
import { edit, idOf, taken } from './put_on.mjs';
import { listed, say } from './words.mjs';

const MOST = 4;

/// The options that make one change of a cure; null for those that only a person can write.
export function argsOf(change, unit) {
  const length = (mm) => lengthForFile(mm, unit);
  if (change.change === 'union' || change.change === 'coupling') { return ['--insert', `${change.part}@${length(change.pieces_mm[0])}=${change.change}`]; }
  if (change.change === 'reach') { return ['--set', `${change.name}.reach.${change.side}=${length(change.now_mm)}`]; }
  if (change.change === 'size') { return ['--set', `${change.name}.size.${change.side}=${length(change.now_mm)}`]; }
  if (change.change === 'surface') { return ['--set', `${change.name}.at=${length(change.now_mm)}`]; }
  return null;
}
function closureWords(cure) {
  const now = len(cure.now_mm);
  if (cure.change === 'surface') { return say('Move the surface {0} to {1}', cure.name, now); }
  return cure.change === 'size' ? say('Make {0} {1} long along {2}', cure.name, now, cure.side) : say('Move the edge of {0} to {1} from the pipe', cure.name, now);
}
/// All cures of an answer of check: [{words, args}].
export function curesOf(check, unit) {
  const found = [];
  for (const closure of check.closures || []) {
    for (const stock of closure.stock || []) {
      const pieces = stock.pipes || (stock.pipe ? [{ pipe: stock.pipe, length_mm: stock.length_mm }] : []);
      if (pieces.length === 0) { continue; }
      found.push({ words: say('Take {}', listed(pieces.map((one) => one.pipe + ' ' + len(one.length_mm)))), args: pieces.flatMap((one) => ['--set', `${one.pipe}.length=${lengthForFile(one.length_mm, unit)}`]) });
    }
  }
  for (const cure of check.closure_cures || []) {
    const args = argsOf(cure, unit);
    if (args) { found.push({ words: closureWords(cure), args }); }
  }
  for (const cure of check.cures || []) {
    const args = cure.changes.map((change) => argsOf(change, unit));
    if (args.every((one) => one)) { found.push({ words: cure.text, args: args.flat() }); }
  }
  return found.slice(0, MOST);
}
/// What is wrong with the frame as it stands, in a line, and what would mend it.
export function trouble() {
  const check = ask.check().json;
  if (!check || check.verdict === 'buildable') { return null; }
  const words = { overlapping: say('Parts are in the same place.'), open: say('It does not line up.'), locked: say('It cannot be put together.') }[check.verdict];
  if (!words) { return null; }
  const cures = curesOf(check, unitsOf(app.frame.text) || units());
  return el('div', { class: 'trouble', role: 'status' }, para(words, { class: 'watch' }),
    el('div', { class: 'row' }, cures.map((cure, i) => button(prose(cure.words), async () => {
      const answer = await edit(cure.args);
      if (answer) { taken(answer, say('Changed: {}.', cure.words)); app.choose(''); }
    }, { id: idOf('cure', i) })), button(say('Why?'), () => app.go('fit'), { class: 'quiet', id: 'trouble-why' })));
}
