// What the page says by itself. English is in the scripts; other languages come from the catalogue that the build puts
// into the page (cli/languages), in gettext's compiled form.
let table = new Map();
let spoken = 'en';

/// The messages of a compiled catalogue: from each English text to its translations, one or one a plural form.
/// A text with a context is kept as gettext writes it: context, a byte 4, text.
export function readCatalogue(bytes) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.byteLength < 28 || view.getUint32(0, true) !== 0x950412de) { throw new Error('no catalogue'); }
  const count = view.getUint32(8, true);
  const [english, other] = [view.getUint32(12, true), view.getUint32(16, true)];
  const decoder = new TextDecoder();
  const text = (at) => {
    const [length, start] = [view.getUint32(at, true), view.getUint32(at + 4, true)];
    return decoder.decode(bytes.subarray(start, start + length));
  };
  const read = new Map();
  for (let i = 0; i < count; i += 1) {
    read.set(text(english + 8 * i).split('\0')[0], text(other + 8 * i).split('\0'));
  }
  read.delete('');
  return read;
}

export function speak(language, catalogue) {
  spoken = language;
  table = catalogue || new Map();
}
export function languageSpoken() { return spoken; }

/// {} and {0}, {1} ... filled in.
export function filled(text, values) {
  let next = 0;
  return text.replace(/\{(\d*)\}/g, (all, number) => {
    const value = values[number === '' ? next++ : Number(number)];
    return value === undefined ? all : String(value);
  });
}
export function say(english, ...values) {
  const found = table.get(english);
  return filled(found ? found[0] : english, values);
}
/// One of two forms; both languages of the page count as English does.
export function sayN(count, one, many, ...values) {
  const found = table.get(one);
  const form = count === 1 ? 0 : 1;
  const text = found ? found[Math.min(form, found.length - 1)] : (form === 0 ? one : many);
  return filled(text, values.length > 0 ? values : [count]);
}
export function listed(items) {
  if (items.length < 2) { return items.join(''); }
  return say('{0} and {1}', items.slice(0, -1).join(', '), items[items.length - 1]);
}
