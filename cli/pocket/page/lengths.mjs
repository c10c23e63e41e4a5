// Lengths as people at a bench read them. Inside of the page, as in the program's answers, all lengths are millimetres.

function reduced(number, of) {
  let [a, b] = [number, of];
  while (a % 2 === 0 && b > 1) { a /= 2; b /= 2; }
  return [a, b];
}
/// Inches to the nearest 1/of: "4-3/4", "5/64", "12".
export function inches(mm, of = 32) {
  const parts = Math.round(Math.abs(mm) / 25.4 * of);
  const whole = Math.floor(parts / of);
  const [over, under] = reduced(parts - whole * of, of);
  const fraction = over === 0 ? '' : over + '/' + under;
  const text = whole === 0 && fraction !== '' ? fraction : whole + (fraction === '' ? '' : '-' + fraction);
  return (mm < 0 && parts > 0 ? '-' : '') + text;
}
/// With its unit. `german` writes a comma and "Zoll".
export function lengthText(mm, units, german, of = 32) {
  if (units === 'in') { return inches(mm, of) + (german ? ' Zoll' : ' in'); }
  const rounded = String(Math.round(mm * 10) / 10);
  return (german ? rounded.replace('.', ',') : rounded) + ' mm';
}
export function weightText(kg, units, german) {
  const point = (value) => (german ? value.replace('.', ',') : value);
  return units === 'in' ? point((kg / 0.45359237).toFixed(1)) + ' lb' : point(kg.toFixed(1)) + ' kg';
}
/// As the frame file takes it: a bare number in the frame's units where that is exact enough, else with its unit.
export function lengthForFile(mm, units) {
  if (units === 'in') {
    const text = inches(mm, 64);
    const back = fromInches(text) * 25.4;
    return Math.abs(back - mm) < 0.005 ? text : String(Math.round(mm * 100) / 100) + ' mm';
  }
  return String(Math.round((units === 'cm' ? mm / 10 : mm) * 10000) / 10000);
}
export function fromInches(text) {
  const read = /^(?:(\d+(?:\.\d+)?)(?:[- ](\d+)\/(\d+))?|(\d+)\/(\d+))$/.exec(text.trim());
  if (!read) { return NaN; }
  return read[4] ? Number(read[4]) / Number(read[5]) : Number(read[1]) + (read[2] ? Number(read[2]) / Number(read[3]) : 0);
}
/// "24", "4-1/2 in", "114 mm": millimetres, or NaN. A bare number is in `units`.
export function lengthFrom(text, units) {
  const read = /^\s*([\d.\/ -]+?)\s*(in|\x22|mm|cm)?\s*$/.exec(String(text).replace(',', '.'));
  if (!read) { return NaN; }
  const unit = read[2] === '"' ? 'in' : read[2] || units;
  const value = fromInches(read[1]);
  return value * (unit === 'in' ? 25.4 : unit === 'cm' ? 10 : 1);
}
