// Stands for the module in a page under test: asks a server that runs the program as it was built for this machine.
// @SERVER@ is its address.
function DryfitModule() {
  const run = (request) => {
    const asked = new XMLHttpRequest();
    asked.open('POST', '@SERVER@', false);
    asked.send(JSON.stringify({ args: request.args, stdin: request.stdin, files: request.files }));
    return JSON.parse(asked.responseText);
  };
  return Promise.resolve({ run, version: () => run({ args: ['--version'], stdin: '', files: {} }).out.trim().replace(/^dryfit /, '') });
}
