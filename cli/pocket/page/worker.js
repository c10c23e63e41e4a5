// Runs the program: whole commands, one after another. It is ended and started again by the page when a command is to be
// given up or memory has run out.
'use strict';
let begun = null; // a promise of the program

/// The module out of the page's text, compiled while it is unpacked; null where the page holds none.
async function compiled(base64) {
  if (base64 === '') { return null; }
  let bytes = Uint8Array.fromBase64 ? Uint8Array.fromBase64(base64) : null;
  if (!bytes) {
    const text = atob(base64);
    bytes = new Uint8Array(text.length);
    for (let i = 0; i < text.length; i += 1) { bytes[i] = text.charCodeAt(i); }
  }
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  return WebAssembly.compileStreaming(new Response(stream, { headers: { 'Content-Type': 'application/wasm' } }));
}
/// `given`: {packed: the module as the page holds it} or {module: compiled already}.
async function begin(given) {
  const module = given.module || await compiled(given.packed || '');
  return { program: await DryfitModule({ module }), module };
}

self.onmessage = async (event) => {
  const { number, start, request } = event.data;
  try {
    if (start) {
      begun = begin(start);
      const { program, module } = await begun;
      self.postMessage({ number, answer: { version: program.version(), module } });
      return;
    }
    const { program } = await begun;
    let told = 0;
    const progress = (line) => {
      // A line of progress may be written again and again: five a second are enough.
      if (Date.now() - told < 200) { return; }
      told = Date.now();
      self.postMessage({ number, progress: line });
    };
    self.postMessage({ number, answer: program.run({ stdin: '', files: {}, ...request, progress }) });
  } catch (error) {
    self.postMessage({ number, failed: String((error && error.message) || error) });
  }
};
