// Elements from data. Text is always text: nothing here reads markup, so a name with markup in it shows as it is written.

/// el('button', {class: 'main', click: act}, 'Open', el('b', {}, '!')). Functions listen; true and false set or leave
/// out an attribute; null and undefined are left out.
export function el(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) { continue; }
    if (typeof value === 'function') { made.addEventListener(key, value); } else { made.setAttribute(key, value === true ? '' : value); }
  }
  add(made, children);
  return made;
}
function add(to, children) {
  for (const child of children) {
    if (Array.isArray(child)) { add(to, child); } else if (child !== null && child !== undefined && child !== false) { to.append(child); }
  }
}
export function fill(element, ...children) {
  element.replaceChildren();
  add(element, children);
  return element;
}
export function button(label, click, attributes = {}) {
  return el('button', { type: 'button', click, ...attributes }, label);
}

// A number with its fraction and unit, and a turn of "4-3/4 turns": never broken over two lines.
const NUMBER = /(?<![\p{L}\d])(?:[Øø]\s?)?\d+(?:[.,]\d+)*(?:-\d+\/\d+|\/\d+|[¼-¾⅐-⅞])?(?:[\s\u00a0](?:in|mm|cm|ft|lb|kg|min|s|h|%|Zoll|turns?|Umdrehung(?:en)?)(?![\p{L}\d]))?/gu;
/// The text cut into plain pieces and numbers: [text, isNumber] pairs.
export function numbersIn(text) {
  const pieces = [];
  let from = 0;
  for (const found of text.matchAll(NUMBER)) {
    if (!/[-\s\u00a0\/¼-¾⅐-⅞]/.test(found[0])) { continue; }
    if (found.index > from) { pieces.push([text.slice(from, found.index), false]); }
    pieces.push([found[0], true]);
    from = found.index + found[0].length;
  }
  if (from < text.length) { pieces.push([text.slice(from), false]); }
  return pieces;
}
export function prose(text) {
  return numbersIn(String(text)).map(([piece, number]) => (number ? el('span', { class: 'n' }, piece) : piece));
}
export function para(text, attributes = {}) { return el('p', attributes, prose(text)); }

const SVG = 'http://www.w3.org/2000/svg';
const SHAPES = new Set(['svg', 'g', 'defs', 'use', 'symbol', 'path', 'line', 'polyline', 'polygon', 'rect', 'circle',
  'ellipse', 'text', 'tspan', 'clipPath', 'mask', 'pattern', 'image', 'linearGradient', 'radialGradient', 'stop', 'title', 'desc']);
/// A picture of the program's as part of the page. It is read as XML, and only shapes are taken over: no script, no
/// address but of its own parts. Its inner names get `prefix`, since several pictures stand in one page.
export function picture(svg, prefix, name) {
  const read = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (read.namespaceURI !== SVG || read.localName !== 'svg') { throw new Error('the picture is no SVG'); }
  const made = taken(read, prefix);
  made.removeAttribute('width');
  made.removeAttribute('height');
  if (name === '') { made.setAttribute('aria-hidden', 'true'); } else {
    made.setAttribute('role', 'img');
    made.setAttribute('aria-label', name);
  }
  return made;
}
function taken(from, prefix) {
  const made = document.createElementNS(SVG, from.localName);
  for (const { localName, value, name } of from.attributes) {
    if (/^on/i.test(localName) || name === 'xmlns' || name.startsWith('xmlns:') || localName === 'space') { continue; }
    if (localName === 'href') {
      if (value.startsWith('#')) { made.setAttribute('href', '#' + prefix + value.slice(1)); }
    } else if (localName === 'id') {
      made.setAttribute('id', prefix + value);
    } else {
      made.setAttribute(localName, value.replace(/url\(#/g, 'url(#' + prefix));
    }
  }
  for (const child of from.childNodes) {
    if (child.nodeType === 3) { made.append(child.nodeValue); }
    if (child.nodeType === 1 && SHAPES.has(child.localName)) { made.append(taken(child, prefix)); }
  }
  return made;
}

/// A drawing of the page's own: svgEl('line', {x1: 0, ...}).
export function svgEl(name, attributes = {}, ...children) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) { made.setAttribute(key, value); }
  made.append(...children);
  return made;
}
