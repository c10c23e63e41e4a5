// Runs the program as it was built for this machine for pages under test: {args, stdin, files} in, {code, out, err,
// files} out, as the module answers.
import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';

export function runNatively(dryfit, { args, stdin, files }) {
  const folder = mkdtempSync(join(tmpdir(), 'dryfit-run-'));
  for (const [name, text] of Object.entries(files)) { writeFileSync(join(folder, basename(name)), text); }
  const child = spawn(dryfit, args, { cwd: folder, env: { PATH: '/usr/bin:/bin', LC_ALL: 'C' } });
  const done = new Promise((resolve) => {
    let [out, err] = ['', ''];
    child.stdout.setEncoding('utf8').on('data', (text) => { out += text; });
    child.stderr.setEncoding('utf8').on('data', (text) => { err += text; });
    child.on('close', (code) => {
      const made = {};
      for (const name of readdirSync(folder)) { if (!(name in files)) { made[name] = readFileSync(join(folder, name), 'utf8'); } }
      rmSync(folder, { recursive: true, force: true });
      resolve({ code: code ?? 3, out, err, files: made });
    });
  });
  child.stdin.on('error', () => {});
  child.stdin.end(stdin);
  return { child, done };
}

/// {address, asked, close()}: `asked` counts what was asked; `slow(args)` may give a promise that an answer waits for. What
/// comes out of it, if anything, is given in place of the program's answer.
export async function serve(dryfit, slow = () => null) {
  const asked = [];
  const server = createServer((request, response) => {
    let body = '';
    request.setEncoding('utf8').on('data', (text) => { body += text; });
    request.on('end', async () => {
      const wanted = JSON.parse(body);
      asked.push(wanted.args);
      const instead = await slow(wanted.args);
      if (instead) {
        response.writeHead(200, { 'Content-Type': 'application/json', 'Access-Control-Allow-Origin': '*' });
        response.end(typeof instead === 'string' ? instead : JSON.stringify(instead));
        return;
      }
      const { child, done } = runNatively(dryfit, wanted);
      // A page that has given up wants no more work done.
      response.on('close', () => child.kill('SIGKILL'));
      const answer = await done;
      response.writeHead(200, { 'Content-Type': 'application/json', 'Access-Control-Allow-Origin': '*' });
      response.end(JSON.stringify(answer));
    });
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    address: 'http://127.0.0.1:' + server.address().port,
    asked,
    close: () => { server.closeAllConnections(); return new Promise((resolve) => server.close(resolve)); },
  };
}
