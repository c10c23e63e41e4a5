// The page as it came, with another frame in it.

/// JSON that cannot end the script element it stands in.
export function embedded(frame) {
  return JSON.stringify(frame).replace(/</g, '\\u003c').replace(/\u2028/g, '\\u2028').replace(/\u2029/g, '\\u2029');
}
export function pageWith(frame) {
  const copy = document.documentElement.cloneNode(true);
  for (const name of ['data-scheme', 'class', 'style']) { copy.removeAttribute(name); }
  copy.querySelector('#root').replaceChildren();
  copy.querySelector('#paper-sheets').replaceChildren();
  copy.querySelector('#page-size').textContent = '';
  for (const added of copy.querySelectorAll('head script[src]')) { added.remove(); }
  copy.querySelector('#given-frame').textContent = embedded(frame);
  return '<!DOCTYPE html>\n' + copy.outerHTML + '\n';
}
