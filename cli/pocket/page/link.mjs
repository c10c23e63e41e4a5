// A frame in an address: the part behind '#', which no browser sends anywhere.

async function through(bytes, stream) {
  return new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());
}
export async function linkPart(name, text) {
  const bytes = await through(new TextEncoder().encode(JSON.stringify([name, text])), new CompressionStream('deflate-raw'));
  let binary = '';
  for (const byte of bytes) { binary += String.fromCharCode(byte); }
  return '#frame=' + btoa(binary).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
}
const MOST = 16 * 1024 * 1024;
/// {name, text}, or null when the part of the address holds none. Throws where it is cut off or holds something else.
export async function frameFromLink(hash) {
  if (!hash.startsWith('#frame=')) { return null; }
  const binary = atob(hash.slice(7).replace(/-/g, '+').replace(/_/g, '/'));
  const packed = Uint8Array.from(binary, (c) => c.charCodeAt(0));
  const reader = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader();
  const pieces = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) { break; }
    size += value.length;
    // A short address can unpack to anything: what no frame file may be long is not taken in.
    if (size > MOST) { await reader.cancel(); throw new Error('too long'); }
    pieces.push(value);
  }
  const [name, text] = JSON.parse(await new Blob(pieces).text());
  if (typeof name !== 'string' || typeof text !== 'string') { throw new Error('no frame'); }
  return { name, text };
}
