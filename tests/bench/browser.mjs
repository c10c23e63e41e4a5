// A headless Chromium, spoken to over two pipes by its own debugging protocol: messages are JSON, each ended by a zero
// byte, written to its descriptor 3 and read from its descriptor 4. Nothing but Node itself is needed.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

// Nothing is fetched in the background, and pictures in space are drawn by the processor.
const FLAGS = [
  '--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--disable-dev-shm-usage', '--hide-scrollbars', '--use-gl=angle',
  '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--remote-debugging-pipe'];
const PATIENCE = 60000; // ms for any one answer

export class Browser {
  static start(program) {
    const browser = new Browser();
    browser.profile = mkdtempSync(join(tmpdir(), 'dryfit-browser-'));
    browser.process = spawn(program, [...FLAGS, '--user-data-dir=' + browser.profile, 'about:blank'],
      { stdio: ['ignore', 'ignore', 'pipe', 'pipe', 'pipe'] });
    browser.said = '';
    browser.process.stderr.on('data', (bytes) => { browser.said = (browser.said + bytes).slice(-4000); });
    browser.process.on('exit', (code) => browser.fail(new Error('the browser ended (' + code + '): ' + browser.said)));
    browser.process.on('error', (error) => browser.fail(error));
    browser.process.stdio[3].on('error', (error) => browser.fail(error));
    browser.waiting = new Map();
    browser.sessions = new Map();
    browser.next = 1;
    let rest = Buffer.alloc(0);
    browser.process.stdio[4].on('data', (bytes) => {
      rest = Buffer.concat([rest, bytes]);
      for (let end = rest.indexOf(0); end >= 0; end = rest.indexOf(0)) {
        const text = rest.subarray(0, end).toString();
        rest = rest.subarray(end + 1);
        browser.take(JSON.parse(text));
      }
    });
    return browser;
  }

  fail(error) {
    if (this.closing) { return; }
    for (const { reject } of this.waiting.values()) { reject(error); }
    this.waiting.clear();
  }

  take(message) {
    if (message.id !== undefined) {
      const wait = this.waiting.get(message.id);
      this.waiting.delete(message.id);
      if (!wait) { return; }
      if (message.error) { wait.reject(new Error(wait.method + ': ' + message.error.message)); } else { wait.resolve(message.result); }
      return;
    }
    const page = this.sessions.get(message.sessionId);
    if (page) { page.heard(message.method, message.params); }
  }

  send(method, params = {}, sessionId = undefined) {
    const id = this.next++;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => { this.waiting.delete(id); reject(new Error(method + ': no answer')); }, PATIENCE);
      const done = (act) => (value) => { clearTimeout(timer); act(value); };
      this.waiting.set(id, { method, resolve: done(resolve), reject: done(reject) });
      this.process.stdio[3].write(JSON.stringify({ id, method, params, sessionId }) + '\0');
    });
  }

  async page() {
    const { targetId } = await this.send('Target.createTarget', { url: 'about:blank' });
    const { sessionId } = await this.send('Target.attachToTarget', { targetId, flatten: true });
    const page = new Page(this, targetId, sessionId);
    this.sessions.set(sessionId, page);
    for (const domain of ['Page', 'Runtime', 'Network', 'Log']) { await page.send(domain + '.enable'); }
    return page;
  }

  async close() {
    this.closing = true;
    const gone = new Promise((resolve) => this.process.once('exit', resolve));
    this.send('Browser.close').catch(() => {});
    const timer = setTimeout(() => this.process.kill('SIGKILL'), 5000);
    if (this.process.exitCode === null) { await gone; }
    clearTimeout(timer);
    rmSync(this.profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
}

export class Page {
  constructor(browser, targetId, sessionId) {
    Object.assign(this, { browser, targetId, sessionId, complaints: [], requests: [], loads: 0 });
  }

  send(method, params) { return this.browser.send(method, params, this.sessionId); }

  heard(method, params) {
    if (method === 'Runtime.exceptionThrown') {
      const details = params.exceptionDetails;
      this.complaints.push((details.exception && details.exception.description) || details.text);
    }
    if (method === 'Runtime.consoleAPICalled' && ['error', 'warning', 'assert'].includes(params.type)) {
      this.complaints.push(params.args.map((arg) => arg.value).join(' '));
    }
    if (method === 'Log.entryAdded' && ['error', 'warning'].includes(params.entry.level)) {
      this.complaints.push(params.entry.text);
    }
    if (method === 'Network.requestWillBeSent') { this.requests.push(params.request.url); }
    if (method === 'Page.loadEventFired') {
      this.loads += 1;
      if (this.loaded) { this.loaded(); }
    }
  }

  async loading(act) {
    let timer;
    const done = new Promise((resolve, reject) => {
      this.loaded = resolve;
      timer = setTimeout(() => reject(new Error('the page did not load')), PATIENCE);
    });
    await act();
    await done;
    clearTimeout(timer);
    this.loaded = undefined;
  }
  open(url) { return this.loading(() => this.send('Page.navigate', { url })); }
  reload() { return this.loading(() => this.send('Page.reload', { ignoreCache: true })); }

  /// The value of an expression in the page.
  async value(expression) {
    const { result, exceptionDetails } = await this.send('Runtime.evaluate',
      { expression, returnByValue: true, awaitPromise: true });
    if (exceptionDetails) { throw new Error(expression + ': ' + JSON.stringify(exceptionDetails)); }
    return result.value;
  }

  async size(width, height, phone) {
    await this.send('Emulation.setDeviceMetricsOverride',
      { width, height, deviceScaleFactor: phone ? 2 : 1, mobile: phone });
    await this.send('Emulation.setTouchEmulationEnabled', { enabled: phone, maxTouchPoints: 1 });
  }
  media(type, scheme) {
    return this.send('Emulation.setEmulatedMedia',
      { media: type, features: [{ name: 'prefers-color-scheme', value: scheme }, { name: 'prefers-reduced-motion', value: 'reduce' }] });
  }

  /// The middle of an element, brought into view, in page pixels.
  async middle(selector) {
    const at = await this.value(`(function () {
      var part = document.querySelector(${JSON.stringify(selector)});
      if (!part) { return null; }
      part.scrollIntoView({ block: 'center' });
      var box = part.getBoundingClientRect();
      return { x: box.x + box.width / 2, y: box.y + box.height / 2, width: box.width, height: box.height };
    }())`);
    if (!at || at.width === 0 || at.height === 0) { throw new Error(selector + ' is not to be seen'); }
    return at;
  }
  async click(selector) {
    const { x, y } = await this.middle(selector);
    await this.mouse('mousePressed', x, y);
    await this.mouse('mouseReleased', x, y);
  }
  mouse(type, x, y, more = {}) {
    return this.send('Input.dispatchMouseEvent', { type, x, y, button: 'left', buttons: type === 'mouseReleased' ? 0 : 1, clickCount: 1, ...more });
  }
  async drag(selector, dx, dy) {
    const { x, y } = await this.middle(selector);
    await this.mouse('mousePressed', x, y);
    for (let i = 1; i <= 4; i += 1) { await this.mouse('mouseMoved', x + dx * i / 4, y + dy * i / 4); }
    await this.mouse('mouseReleased', x + dx, y + dy);
  }
  touch(type, points) { return this.send('Input.dispatchTouchEvent', { type, touchPoints: points }); }
  async tap(selector) {
    const { x, y } = await this.middle(selector);
    // One right behind the other: on a busy machine a finger that waits for an answer would have pressed for long.
    await Promise.all([this.touch('touchStart', [{ x, y }]), this.touch('touchEnd', [])]);
    await this.settled();
  }
  /// `rest`: ms that the finger rests before it lets go. One that lets go while it moves has flung, and the browser takes
  /// the next tap, for about a second, as what stops that.
  async swipe(selector, dx, dy, rest = 250) {
    const { x, y } = await this.middle(selector);
    await this.touch('touchStart', [{ x, y }]);
    for (let i = 1; i <= 4; i += 1) { await this.touch('touchMove', [{ x: x + dx * i / 4, y: y + dy * i / 4 }]); }
    await new Promise((done) => setTimeout(done, rest));
    await this.touch('touchEnd', []);
    await this.settled();
  }
  /// Presses a key; `meanwhile` happens while it is down.
  async key(key, meanwhile = () => {}) {
    const text = key.length === 1 ? key : undefined;
    const codes = { Tab: 9, Enter: 13, Escape: 27, ArrowLeft: 37, ArrowUp: 38, ArrowRight: 39, ArrowDown: 40, ' ': 32 };
    const more = { key, text, windowsVirtualKeyCode: codes[key] };
    await this.send('Input.dispatchKeyEvent', { type: text ? 'keyDown' : 'rawKeyDown', ...more });
    await meanwhile();
    await this.send('Input.dispatchKeyEvent', { type: 'keyUp', ...more });
  }
  /// Two frames drawn: whatever was asked for is done.
  settled() {
    return this.value('new Promise(function (done) { requestAnimationFrame(function () { requestAnimationFrame(done); }); })');
  }
  async picture() {
    const { data } = await this.send('Page.captureScreenshot', { format: 'png' });
    return Buffer.from(data, 'base64');
  }
}
