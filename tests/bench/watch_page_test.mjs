// Edits a frame file beside the page of `show --watch` and sees, in a headless browser without a network, that the page
// keeps up by itself.
// usage: node watch_page_test.mjs DRYFIT CHROMIUM SCENARIOS [FOLDER for screenshots]
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Browser } from './browser.mjs';

const [dryfit, chromium, scenarios, shots] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'dryfit-watch-'));
const frame = join(folder, 'rail.yaml');
const page_file = join(folder, 'rail.html');
const good = readFileSync(join(scenarios, 'pot-rail.yaml'), 'utf8');
writeFileSync(frame, good);
const LIMIT = 60000; // ms; far more than a save takes to be seen

const watch = spawn(dryfit, ['show', frame, '--watch', '-o', page_file], { stdio: ['ignore', 'pipe', 'ignore'] });
let said = '';
watch.stdout.on('data', (bytes) => { said += bytes; });
const ended = new Promise((resolve) => watch.on('exit', resolve));

async function until(what, ask) {
  for (const begun = Date.now(); Date.now() - begun < LIMIT;) {
    try {
      if (await ask()) { return; }
    } catch (error) {
      // The page is just reading itself again.
    }
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  assert.fail('never came about: ' + what + '\n' + said);
}

const browser = Browser.start(chromium);
let failed = 1;
try {
  await until('a first page', () => said.includes('\n'));
  const page = await browser.page();
  await page.size(1000, 800, false);
  await page.send('Network.emulateNetworkConditions', { offline: true, latency: 0, downloadThroughput: 0, uploadThroughput: 0 });
  await page.open(pathToFileURL(page_file).href);
  const status = () => page.value('document.querySelector("[role=status]").textContent');
  // A page that is still being read shows the beginning of its drawing.
  const drawing = () => page.value('document.readyState === "complete" && document.querySelector("svg").outerHTML');
  const shot = async (name) => {
    await until('a picture of the page', async () => {
      const bytes = await page.picture();
      if (shots) { mkdirSync(shots, { recursive: true }); writeFileSync(join(shots, name + '.png'), bytes); }
      return true;
    });
  };
  assert.match(await status(), /^\d\d:\d\d:\d\d Pot rail: everything lines up\*, and it can be built/);
  let first;
  await until('the first drawing', async () => { first = await drawing(); return first; });
  assert.equal(await page.value('document.documentElement.scrollHeight <= innerHeight'), true);
  await shot('watch-good');

  writeFileSync(frame, good.replaceAll('pipe: 24', 'pipe: 30'));
  await until('the longer rail', async () => (await status()).includes('R1 is 30 in, was 24 in'));
  let second;
  await until('another drawing', async () => { second = await drawing(); return second && second !== first; });

  writeFileSync(frame, good.replace('{tee: back}', '{tea: back}'));
  await until('the fault', async () => (await status()).includes('1 fault. The picture stays as of'));
  await until('the text of the fault', async () => (await page.value('document.querySelector("pre").textContent')).includes(":20:14: part 'T1'"));
  await until('the last good drawing', async () => (await drawing()) === second);
  await shot('watch-fault');
  assert.deepEqual(page.complaints, []);
  assert.deepEqual(page.requests.filter((url) => url !== pathToFileURL(page_file).href), []);
  watch.kill('SIGTERM');
  assert.equal(await ended, 0);
  failed = 0;
} finally {
  watch.kill('SIGKILL');
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
console.log(failed === 0 ? 'ok: the page of a watch keeps up by itself' : 'FAILED');
process.exit(failed);
