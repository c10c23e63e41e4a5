// Runs the program: whole commands, one after another. It is ended and started again by the page when a command is to be
// given up or memory has run out.
'use strict';
let program = null;
self.onmessage = async (event) => {
  const { number, start, request } = event.data;
  try {
    if (start) {
      program = await DryfitModule(start);
      self.postMessage({ number, answer: { version: program.version() } });
      return;
    }
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
