// What the build packed into a page: files in base64, most of them squeezed by gzip.

/// The bytes that are written in base64. The browser's own way where it has one; a function called for each byte would be
/// a dozen times slower.
export function bytesOf(base64) {
  if (Uint8Array.fromBase64) { return Uint8Array.fromBase64(base64); }
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i += 1) { bytes[i] = text.charCodeAt(i); }
  return bytes;
}
/// Hands over the texts of those elements, each whole and in their order, as the page arrives; then null.
export function eachPiece(selector, take) {
  let given = 0;
  const look = (over) => {
    const all = document.querySelectorAll(selector);
    // One that nothing follows yet may still be growing.
    for (; given < all.length && (over || all[given].nextElementSibling); given += 1) { take(all[given].textContent); }
    if (over) { take(null); }
  };
  if (document.readyState !== 'loading') { look(true); return; }
  const more = () => look(false);
  window.addEventListener('piece', more);
  document.addEventListener('DOMContentLoaded', () => { window.removeEventListener('piece', more); look(true); }, { once: true });
  more();
}
export function textIn(id) { return document.getElementById(id).textContent.trim(); }
/// The bytes of the file that was packed into the element of that id.
export async function packed(id) {
  const stream = new Blob([bytesOf(textIn(id))]).stream().pipeThrough(new DecompressionStream('gzip'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}
