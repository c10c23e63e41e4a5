// Puts questions to the program, which runs in a worker, and takes answers back. The worker answers one question after
// the other; a question that nobody waits for any more is dropped, and one that has begun is given up by ending the
// worker and starting another.

export class GivenUp extends Error {}
class SetAside extends Error {}

export class Engine {
  /// `start()` gives a promise of {worker, options}: a new worker and what it needs to begin.
  constructor(start) {
    this.start = start;
    this.queue = [];
    this.running = null;
    this.next = 1;
    this.starts = 0;
    this.onBusy = () => {};
  }

  /// {code, out, err, files} of a command. `options`: {progress(line), stale(), first}; while a question waits, `stale`
  /// says whether it is still wanted. `first` is for what a finger waits for: it goes before all others, and what runs
  /// longer than a moment makes way and is asked anew behind it.
  ask(request, options = {}) {
    return new Promise((resolve, reject) => {
      this.enter({ request, options, resolve, reject });
      if (options.first) { this.makeWay(); }
      this.go();
    });
  }
  /// The first ones before all others, in their order; what was set aside right behind them.
  enter(job) {
    const firsts = this.queue.filter((one) => one.options.first).length;
    const before = job.options.first || job.waited;
    this.queue.splice(before ? firsts : this.queue.length, 0, job);
  }
  makeWay(patience = 150) {
    const job = this.running;
    if (!job || job.options.first) { return; }
    setTimeout(() => {
      if (this.running !== job || !job.setAside || !this.queue.some((one) => one.options.first)) { return; }
      this.end();
      job.setAside();
    }, Math.max(0, patience - (Date.now() - job.began)));
  }

  async ready() {
    if (!this.worker) {
      this.starts += 1;
      this.worker = (async () => {
        const { worker, options } = await this.start();
        const answers = new Map();
        worker.onmessage = ({ data }) => {
          const to = answers.get(data.number);
          if (!to) { return; }
          if (data.progress !== undefined) { to.progress(data.progress); return; }
          answers.delete(data.number);
          if (data.failed !== undefined) { to.reject(new Error(data.failed)); } else { to.resolve(data.answer); }
        };
        const broken = (event) => {
          for (const to of answers.values()) { to.reject(new Error((event && event.message) || 'the program ended')); }
          answers.clear();
        };
        worker.onerror = broken;
        const post = (message, progress = () => {}) => new Promise((resolve, reject) => {
          const number = this.next++;
          answers.set(number, { resolve, reject, progress });
          worker.postMessage({ number, ...message });
        });
        const begun = await post({ start: options });
        this.version = begun.version;
        return { worker, post };
      })();
      this.worker.catch(() => { this.worker = null; });
    }
    return this.worker;
  }

  async go() {
    if (this.running) { return; }
    let job = this.queue.shift();
    while (job && job.options.stale && job.options.stale()) {
      job.reject(new GivenUp());
      job = this.queue.shift();
    }
    if (!job) { return; }
    this.running = job;
    job.began = Date.now();
    this.onBusy(true);
    try {
      const { post } = await this.ready();
      const answer = await Promise.race([post({ request: job.request }, job.options.progress),
        new Promise((resolve, reject) => {
          job.giveUp = () => reject(new GivenUp());
          job.setAside = () => reject(new SetAside());
          if (job.dropped) { reject(new GivenUp()); }
        })]);
      job.resolve(answer);
    } catch (error) {
      if (error instanceof SetAside) {
        job.waited = true;
        job.setAside = null;
        this.enter(job);
      } else {
        // A worker whose program has ended is of no more use; one that was given up is ended already.
        if (!(error instanceof GivenUp)) { this.end(); }
        job.reject(error);
      }
    }
    this.running = null;
    this.onBusy(this.queue.length > 0);
    this.go();
  }

  end() {
    const ended = this.worker;
    this.worker = null;
    if (ended) { ended.then(({ worker }) => worker.terminate(), () => {}); }
  }

  /// Gives up what runs now, however long it would take.
  giveUp() {
    const job = this.running;
    if (!job) { return; }
    this.end();
    job.dropped = true;
    if (job.giveUp) { job.giveUp(); }
  }

  /// The text has changed: what waits for the old one is dropped. What runs for it is given up when it has run for so
  /// long that starting anew is quicker than waiting.
  dropStale(patience = 150) {
    const job = this.running;
    if (!job || !job.options.stale || !job.options.stale()) { return; }
    const after = patience - (Date.now() - job.began);
    setTimeout(() => { if (this.running === job) { this.giveUp(); } }, Math.max(0, after));
  }
}

async function unpacked(base64) {
  const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}
/// What the build packed into the page under that id: bytes.
export function packed(id) {
  return unpacked(document.getElementById(id).textContent.trim());
}

/// Starts workers with the module that is in the page. It is unpacked and compiled once.
export function pageStarter() {
  let source = null;
  let compiled = null;
  return async () => {
    if (!source) {
      source = URL.createObjectURL(new Blob([await packed('worker')], { type: 'text/javascript' }));
      compiled = document.getElementById('module').textContent === '' ? null : await WebAssembly.compile(await packed('module'));
    }
    return { worker: new Worker(source), options: { module: compiled } };
  };
}
