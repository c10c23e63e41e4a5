// Runs the program: whole commands, one after another. It is ended and started again by the page when a command is to be
// given up or memory has run out.
'use strict';
const { bytesOf } = page_packing; // joined before this
let begun = null; // a promise of the program

let arrive = () => {}; // takes the module's text piece by piece, then null

/// The module out of the page's text, unpacked and compiled while it arrives; null where the page holds none.
async function compiled() {
  let come = null;
  const bytes = new ReadableStream({ start(controller) { come = controller; } });
  const some = new Promise((resolve) => {
    arrive = (piece) => {
      if (piece === null) { come.close(); } else { come.enqueue(bytesOf(piece)); }
      resolve(piece !== null);
    };
  });
  if (!await some) { return null; }
  const stream = bytes.pipeThrough(new DecompressionStream('gzip'));
  return WebAssembly.compileStreaming(new Response(stream, { headers: { 'Content-Type': 'application/wasm' } }));
}
/// `given`: {module}, compiled already, or null where its pieces will come.
async function begin(given) {
  const module = given.module || await compiled();
  return { program: await DryfitModule({ module }), module };
}

self.onmessage = async (event) => {
  const { number, start, request, piece } = event.data;
  if (piece !== undefined) { arrive(piece); return; }
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
