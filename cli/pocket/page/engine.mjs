// Puts questions to the program, which runs in a worker, and takes answers back. The worker answers one question after
// the other; a question that nobody waits for any more is dropped, and one that has begun is given up by ending the
// worker and starting another.

import { eachPiece, textIn } from './packing.mjs';

const PATIENCE = 150; // ms that what runs for nobody may take to its end
const BEHIND = 300; // ms that a question waits for another worker's

export class GivenUp extends Error {}

export class Engine {
  /// `start()` gives a promise of {worker, options, feed, begun, failed}: a new worker, what it needs to begin, who gives it
  /// the module's pieces, where it is to compile it, and who hears how it began, or that it did not. A question is put only
  /// once `first`, another one's engine, has nothing to do, or has been at it for long: on a small machine what a finger
  /// waits for would be slowed down.
  constructor(start, first = null) {
    this.start = start;
    this.first = first;
    this.followers = [];
    if (first) { first.followers.push(this); }
    this.queue = [];
    this.running = null;
    this.next = 1;
    this.starts = 0;
    this.onBusy = () => {};
  }

  /// {code, out, err, files} of a command. `options`: {progress(line), stale()}; while a question waits, `stale` says whether
  /// it is still wanted.
  ask(request, options = {}) {
    return new Promise((resolve, reject) => {
      this.queue.push({ request, options, resolve, reject });
      this.go();
    });
  }
  /// Acts when the job has run for so long that starting a worker anew is quicker than waiting. The time in which its
  /// worker began is not counted: ended over and over, none would ever begin.
  async whenLong(job, act, patience = PATIENCE) {
    try {
      const { started } = await this.ready();
      const from = Math.max(job.began, await started);
      setTimeout(() => { if (this.running === job) { act(); } }, Math.max(0, patience - (Date.now() - from)));
    } catch (error) { /* it never began: who asked hears of it */ }
  }

  /// A worker that has begun, or that begins: what is posted to it waits for that.
  ready() {
    if (!this.worker) {
      this.starts += 1;
      this.worker = (async () => {
        const { worker, options, feed, begun, failed } = await this.start();
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
        const started = post({ start: options }).then((answer) => {
          this.version = answer.version;
          if (begun) { begun(answer); }
          return Date.now();
        });
        if (feed) { feed((piece) => worker.postMessage({ piece })); }
        // Where it cannot begin, what is asked of it fails with the same words.
        started.catch(() => { if (failed) { failed(); } });
        return { worker, post, started, failed };
      })();
      this.worker.catch(() => { this.worker = null; });
    }
    return this.worker;
  }

  /// Whether a question has to wait for the engine that goes first; it is put when its time has come.
  behind() {
    const other = this.first && this.first.running;
    if (!other || this.queue.length === 0) { return false; }
    const left = BEHIND - (Date.now() - other.began);
    if (left <= 0) { return false; }
    clearTimeout(this.later);
    this.later = setTimeout(() => this.go(), left);
    return true;
  }

  async go() {
    if (this.running || this.behind()) { return; }
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
          if (job.dropped) { reject(new GivenUp()); }
        })]);
      job.resolve(answer);
    } catch (error) {
      // A worker whose program has ended is of no more use; one that was given up is ended already.
      if (!(error instanceof GivenUp)) { this.end(); }
      job.reject(error);
    }
    this.running = null;
    this.onBusy(this.queue.length > 0);
    this.go();
    if (!this.running) { for (const one of this.followers) { one.go(); } }
  }

  end() {
    const ended = this.worker;
    this.worker = null;
    if (ended) { ended.then(({ worker, failed }) => { worker.terminate(); if (failed) { failed(); } }, () => {}); }
  }

  /// Gives up what runs now, however long it would take.
  giveUp() {
    const job = this.running;
    if (!job) { return; }
    this.end();
    job.dropped = true;
    if (job.giveUp) { job.giveUp(); }
    this.ready().catch(() => {}); // the next question finds a worker that has begun
  }

  /// The text has changed: what waits for the old one is dropped, and what has run long for it is given up.
  dropStale(patience = PATIENCE) {
    const job = this.running;
    if (!job || !job.options.stale || !job.options.stale()) { return; }
    this.whenLong(job, () => this.giveUp(), patience);
  }
}

/// Starts workers with the module that is in the page. The first unpacks and compiles it while the page arrives, away from
/// what draws the page, and hands it back for those after it, which wait for that.
export function pageStarter() {
  let source = null;
  let module = null;
  let first = null; // a promise that the first worker has begun, or failed to
  return async () => {
    source = source || URL.createObjectURL(new Blob([textIn('worker')], { type: 'text/javascript' }));
    const before = first;
    let over = () => {};
    first = first || new Promise((resolve) => { over = resolve; });
    await before;
    return {
      worker: new Worker(source), options: { module }, feed: module ? null : (take) => eachPiece('.module', take),
      begun: (answer) => { module = answer.module; over(); }, failed: over,
    };
  };
}
