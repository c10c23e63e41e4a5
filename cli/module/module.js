// What a page has of the module: the program's own calls, in process. Joined to the code that the compiler writes, whose
// factory is DryfitWasm.
//
//   const dryfit = await DryfitModule({wasm: bytes});      or {module: a WebAssembly.Module}
//   dryfit.run({args: ["order", "--json", "frame.yaml"], files: {"frame.yaml": text}}) -> {code, out, err, files}
//
// `args` are the words of a call, `stdin` what "-" reads, `files` what can be read by name; `progress`, when given, hears
// how far long work is. Of the answer `files` are those that the call wrote. A run leaves nothing behind.
async function DryfitModule({wasm = null, module: given = null}) {
  const compiled = given ?? await WebAssembly.compile(wasm);
  const folder = "/frames";
  const encoder = new TextEncoder();
  const decoder = new TextDecoder();
  let inside = null; // none before the first run, and after one that broke off

  const start = () => {
    const module = {
      instantiateWasm(imports, received) {
        const instance = new WebAssembly.Instance(compiled, imports);
        received(instance, compiled);
        return instance.exports;
      },
      print() {},
      printErr() {},
    };
    DryfitWasm(module);
    module.FS.mkdir(folder);
    module.FS.chdir(folder);
    return module;
  };

  const withBytes = (bytes, use) => {
    const place = inside._malloc(bytes.length + 1);
    if (place === 0) throw new RangeError("memory");
    inside.HEAPU8.set(bytes, place);
    try {
      return use(place, bytes.length);
    } finally {
      inside._free(place);
    }
  };
  const text = (place, size) => decoder.decode(inside.HEAPU8.slice(place, place + size));

  const put = (name, content) => {
    const path = `${folder}/${name}`;
    inside.FS.mkdirTree(path.slice(0, path.lastIndexOf("/")));
    inside.FS.writeFile(path, content);
  };
  // Takes all files away, and returns those that were not given or were changed.
  const take = (given, below = "") => {
    const out = {};
    for (const entry of inside.FS.readdir(`${folder}/${below}`)) {
      if (entry === "." || entry === "..") continue;
      const name = below + entry;
      const path = `${folder}/${name}`;
      if (inside.FS.isDir(inside.FS.stat(path).mode)) {
        Object.assign(out, take(given, `${name}/`));
        inside.FS.rmdir(path);
        continue;
      }
      const content = inside.FS.readFile(path, {encoding: "utf8"});
      if (given[name] !== content) out[name] = content;
      inside.FS.unlink(path);
    }
    return out;
  };

  const run = ({args = [], stdin = "", files = {}, progress = null}) => {
    try {
      if (inside === null) inside = start();
      inside.tellProgress = progress;
      for (const [name, content] of Object.entries(files)) put(name, content);
      const words = encoder.encode(args.map((word) => `${word}\0`).join(""));
      const code = withBytes(words, (place, size) =>
        withBytes(encoder.encode(stdin), (input, inputSize) =>
          inside._dryfit_run(place, size, input, inputSize, progress ? 1 : 0)));
      return {
        code,
        out: text(inside._dryfit_out(), inside._dryfit_out_size()),
        err: text(inside._dryfit_err(), inside._dryfit_err_size()),
        files: take(files),
      };
    } catch (fault) {
      inside = null; // what is left of it cannot be trusted; the next run starts afresh
      if (fault instanceof RangeError) {
        return {code: 3, out: "", err: "dryfit: memory ran out before there was an answer\n", files: {}};
      }
      return {code: 2, out: "", err: `dryfit: internal error: ${fault}\n`, files: {}};
    }
  };

  return {
    run,
    version() {
      if (inside === null) inside = start();
      return inside.UTF8ToString(inside._dryfit_version());
    },
  };
}
if (typeof module !== "undefined") module.exports = {DryfitModule};
