// The text of a frame file as the page needs it between two answers of the program: where a part stands, what a place
// in the text can go on with, how it is coloured. Whether it is right, only the program says.

/// "frame.yaml:14:9: ..." of standard error. A message may go on over lines that do not start so.
export function faultsOf(err, fileName) {
  const faults = [];
  for (const line of err.split('\n')) {
    let rest = line;
    let place = null;
    if (line.startsWith(fileName + ':')) {
      rest = line.slice(fileName.length + 1);
      place = /^(\d+):(\d+): /.exec(rest) || /^(\d+): /.exec(rest);
    }
    if (place) {
      faults.push({ line: Number(place[1]), column: Number(place[2] || 1), text: rest.slice(place[0].length) });
    } else if (rest.trim() !== '') {
      const text = rest.trim().replace(/^(?:dryfit: )?/, '');
      if (faults.length > 0 && /^\s/.test(line)) { faults[faults.length - 1].text += ' ' + text; } else { faults.push({ line: 0, column: 0, text }); }
    }
  }
  return faults;
}

/// What is before a comment.
function uncommented(line) {
  let quote = '';
  for (let i = 0; i < line.length; i += 1) {
    const c = line[i];
    if (quote) { if (c === quote) { quote = ''; } } else if (c === '"' || c === "'") { quote = c; } else if (c === '#' && (i === 0 || /\s/.test(line[i - 1]))) { return line.slice(0, i); }
  }
  return line;
}

/// Nothing is written yet but comments.
export function isEmpty(text) { return !/^\s*[^#\s]/m.test(text); }
export function frameName(text) {
  const found = /^name:[ \t]*(.*)$/m.exec(text);
  if (!found) { return ''; }
  const value = uncommented(found[1]).trim();
  const quoted = /^"(.*)"$|^'(.*)'$/.exec(value);
  return (quoted ? quoted[1] ?? quoted[2] : value).slice(0, 120);
}
export function unitsOf(text) {
  const found = /^units:[ \t]*["']?(in|mm|cm)\b/m.exec(text);
  return found ? found[1] : 'in';
}

const ID = '[A-Za-z][A-Za-z0-9_-]*';
/// All parts, boards and surfaces that are written down: [{id, kind, line, from, to}], from 0 in the whole text; `from`
/// and `to` hold the name.
export function partsIn(text) {
  const parts = [];
  let at = 0;
  let section = '';
  let number = 0;
  let brackets = '';
  for (const line of text.split('\n')) {
    number += 1;
    const code = uncommented(line);
    const top = /^([a-z-]+):/.exec(code);
    if (top) { section = top[1]; }
    const opens = openBrackets(code, brackets);
    const entries = new RegExp(`(^\\s*- |[[,]\\s*|^\\s+)(${ID}):\\s*(?:\\{\\s*)?([a-z0-9-]+)?`, 'g');
    const named = new RegExp(`^  (${ID}):`).exec(code);
    if (section === 'runs') {
      for (const found of code.matchAll(entries)) {
        // In braces stand the keys of a run or the options of a part; parts stand in a list.
        const within = opens[found.index + found[1].length];
        if (within === '{' || (within === '' && !found[1].includes('-'))) { continue; }
        const from = at + found.index + found[1].length;
        parts.push({ id: found[2], kind: found[3] || '', line: number, from, to: from + found[2].length });
      }
    } else if (named && (section === 'boards' || section === 'surfaces')) {
      parts.push({ id: named[1], kind: section === 'boards' ? 'board' : 'surface', line: number, from: at + 2, to: at + 2 + named[1].length });
    }
    brackets = opens.stack;
    at += line.length + 1;
  }
  return parts;
}
/// For each place of the line the innermost bracket that is open there; `stack` is what is open at its end. `before` is
/// what was open at its start.
function openBrackets(code, before) {
  const opens = [];
  let stack = before;
  for (let i = 0; i <= code.length; i += 1) {
    opens.push(stack.slice(-1));
    if (code[i] === '[' || code[i] === '{') { stack += code[i]; }
    if (code[i] === ']' || code[i] === '}') { stack = stack.slice(0, -1); }
  }
  opens.stack = stack;
  return opens;
}
/// The part whose line holds that place of the text, or null.
export function partAt(text, place) {
  let found = null;
  for (const part of partsIn(text)) {
    if (part.from > place) { break; }
    found = part;
  }
  const line = text.slice(0, place).split('\n').length;
  return found && (found.line === line || found.kind === 'board') ? found : null;
}

/// The text with another length for that pipe, or null where its line is written in a way that is not found.
export function withLength(text, pipe, length) {
  const escaped = pipe.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  const entry = new RegExp(`((?:^|[\\s,[{])${escaped}:\\s*\\{[^}\\n]*?\\bpipe:\\s*)("[^"\\n]*"|'[^'\\n]*'|[^,}#\\n]*?)(\\s*[,}])`, 'm');
  const found = entry.exec(text);
  if (!found) { return null; }
  return text.slice(0, found.index) + found[1] + length + found[3] + text.slice(found.index + found[0].length);
}

/// Cuts a line into [text, class] pieces, which put together are the line.
export function coloured(line) {
  const code = uncommented(line);
  const pieces = [];
  const grammar = new RegExp(`("[^"]*"|'[^']*')|(${ID}(?: [A-Za-z0-9_-]+)*)(?=:(?:\\s|$))|(-?\\d[\\d./]*(?:-\\d+\\/\\d+)?(?: (?:in|mm|cm)\\b)?)(?![A-Za-z0-9_-])`, 'g');
  let at = 0;
  const plain = (to) => { if (to > at) { pieces.push([code.slice(at, to), '']); } };
  for (const found of code.matchAll(grammar)) {
    if (found[3] && found.index > 0 && /[A-Za-z0-9_]/.test(code[found.index - 1])) { continue; }
    plain(found.index);
    pieces.push([found[0], found[1] ? 'word' : found[2] ? 'key' : 'figure']);
    at = found.index + found[0].length;
  }
  plain(code.length);
  if (code.length < line.length) { pieces.push([line.slice(code.length), 'remark']); }
  return pieces;
}

/// Keys and words of the frame file out of its schema (`dryfit schema frame`), as suggestionsAt wants them.
export function vocabularyOf(schema) {
  const defs = schema.definitions;
  const keys = (object) => Object.entries(object.properties || {}).map(([word, about]) => ({ word, about: about.description || '' }));
  const words = (list) => list.map((word) => ({ word: String(word), about: '' }));
  const inPart = defs.part ? partKeys(defs.part, defs) : [];
  return {
    top: keys(schema), run: keys(defs.run), board: keys(defs.board), kinds: inPart,
    surface: keys(schema.properties.surfaces.additionalProperties),
    pipe: keys(schema.properties.pipe), directions: words(defs.direction.enum), axes: words(defs.axis.enum),
    sizes: words(defs.size.enum.filter((size) => typeof size === 'string' && !size.includes(' '))),
    standards: words(schema.properties.pipe.properties.standard.enum), units: words(schema.properties.units.enum),
    makeUp: words(schema.properties['make-up'].enum),
  };
}
/// The kinds of part, wherever the schema keeps them: keys and words of everything that a part may be.
function partKeys(part, defs, seen = new Set(), into = new Map()) {
  if (!part || typeof part !== 'object' || seen.has(part)) { return [...into.values()]; }
  seen.add(part);
  if (part.$ref) { partKeys(defs[part.$ref.replace('#/definitions/', '')], defs, seen, into); }
  for (const word of part.enum || (part.const !== undefined ? [part.const] : [])) {
    if (typeof word === 'string' && /^[a-z][a-z0-9-]*$/.test(word) && !into.has(word)) { into.set(word, { word, about: part.description || '' }); }
  }
  for (const list of [part.anyOf, part.oneOf, part.allOf]) { for (const one of list || []) { partKeys(one, defs, seen, into); } }
  for (const [word, about] of Object.entries(part.properties || {})) {
    if (!into.has(word)) { into.set(word, { word, about: about.description || '' }); }
  }
  if (part.additionalProperties) { partKeys(part.additionalProperties, defs, seen, into); }
  if (part.items) { partKeys(part.items, defs, seen, into); }
  return [...into.values()];
}

/// What the schema says of the key that the caret stands in or behind, "" where it is none.
export function hintAt(text, place, vocabulary) {
  const before = /[a-z0-9-]*(?:: *)?$/.exec(text.slice(0, place))[0];
  const word = before.replace(/: *$/, '') + (/: *$/.test(before) ? '' : /^[a-z0-9-]*/.exec(text.slice(place))[0]);
  if (word === '') { return ''; }
  for (const list of Object.values(vocabulary)) {
    const known = list.find((one) => one.word === word && one.about !== '');
    if (known) { return word + ': ' + known.about; }
  }
  return '';
}

/// What the word at `place` may become: {from, to, words: [{word, about}]}.
export function suggestionsAt(text, place, vocabulary) {
  const start = text.lastIndexOf('\n', place - 1) + 1;
  const before = text.slice(start, place);
  const typed = /[A-Za-z0-9\/.-]*$/.exec(before)[0];
  const head = before.slice(0, before.length - typed.length);
  const none = { from: place, to: place, words: [] };
  if (uncommented(before + 'x').length < before.length + 1) { return none; }
  let section = '';
  for (const line of text.slice(0, start).split('\n')) {
    const top = /^([a-z-]+):/.exec(line);
    if (top) { section = top[1]; }
  }
  const names = (kinds) => partsIn(text).filter((part) => kinds.includes(part.kind)).map((part) => ({ word: part.id, about: part.kind }));
  const value = /([a-z-]+):\s*(?:\[\s*(?:[^\]]*,\s*)?)?[\x22\x27]?$/.exec(head);
  const key = value ? value[1] : '';
  let words = [];
  if (/^\s*$/.test(head)) {
    const indent = head.length;
    words = indent === 0 ? vocabulary.top : indent >= 4 && section === 'runs' ? vocabulary.run
      : indent >= 4 && section === 'boards' ? vocabulary.board : indent >= 4 && section === 'surfaces' ? vocabulary.surface : [];
  } else if (key === 'units') { words = vocabulary.units; } else if (key === 'make-up') { words = vocabulary.makeUp; } else if (key === 'standard') { words = vocabulary.standards; } else if (/size$/.test(key) && !/\bx:|\by:/.test(head)) { words = vocabulary.sizes; } else if (key === 'normal' || key === 'facing') { words = vocabulary.axes; } else if (['go', 'elbow', 'elbow45', 'street-elbow', 'tee', 'side', 'side-elbow', 'side-tee'].includes(key)) { words = vocabulary.directions; } else if (key === 'from' || key === 'to') {
    const all = partsIn(text);
    words = all.filter((part) => part.kind === 'surface').map((part) => ({ word: part.id, about: '' }));
    for (const part of all) {
      if (['tee', 'cross', 'side-elbow', 'side-tee', 'elbow', 'elbow45', 'street-elbow', 'coupling'].includes(part.kind)) {
        for (const { word } of vocabulary.axes) { words.push({ word: part.id + '.' + word, about: '' }); }
      }
      if (part.kind === 'pipe') { words.push({ word: part.id + '.end', about: '' }); }
    }
  } else if (key === 'through') { words = names(['pipe']); } else if (key === 'rests-on') { words = names(['coupling', 'tee', 'pipe', 'elbow', 'board', 'cross', 'side-tee', 'side-elbow', 'cap', 'flange']); } else if (key === 'fix') { words = names(['surface']); } else if (/^\s*- [A-Za-z][\w-]*:\s*\{?\s*$/.test(head) || /[[,]\s*[A-Za-z][\w-]*:\s*\{?\s*$/.test(head)) {
    words = vocabulary.kinds;
  } else if (section === 'boards' && /\{\s*$|,\s*$/.test(head)) { words = []; } else if (/^pipe:\s*\{/.test(before)) { words = vocabulary.pipe; }
  const low = typed.toLowerCase();
  const fitting = words.filter(({ word }) => word.toLowerCase().startsWith(low) && word !== typed);
  return { from: place - typed.length, to: place, words: fitting.slice(0, 30) };
}
