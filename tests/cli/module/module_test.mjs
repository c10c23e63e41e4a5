// What the module does besides answering as the program does.
//   node module_test.mjs MODULE-FOLDER SCENARIOS
import assert from "node:assert/strict";
import {readFileSync} from "node:fs";
import {createRequire} from "node:module";
import {join, resolve} from "node:path";
import {test} from "node:test";

const [folder, scenarios] = process.argv.slice(2);
const {DryfitModule} = createRequire(import.meta.url)(resolve(folder, "dryfit.js"));
const wasm = readFileSync(join(folder, "dryfit.wasm"));
const dryfit = await DryfitModule({wasm});
const rack = readFileSync(join(scenarios, "plant-rack.yaml"), "utf8");

test("a frame is read from standard input as well, and nothing is left for the next call", () => {
  const given = dryfit.run({args: ["check", "rack.yaml"], files: {"rack.yaml": rack}});
  assert.equal(given.code, 0);
  assert.deepEqual(given.files, {});
  assert.equal(dryfit.run({args: ["check", "-"], stdin: rack}).out, given.out);
  assert.equal(dryfit.run({args: ["check", "rack.yaml"]}).code, 2);
});

test("long work tells how far it is, also where the answer is JSON", () => {
  const lines = [];
  const answer = dryfit.run({args: ["order", "--json", "-", "--seconds", "2"], stdin: rack, progress: (line) => lines.push(line)});
  assert.equal(answer.code, 0);
  assert.equal(answer.err, "");
  JSON.parse(answer.out);
  assert.ok(lines.every((line) => !line.includes("Ctrl")), lines.join("; "));
});

test("pictures come as SVG, with the names of parts as text, and the other kinds are refused", () => {
  const picture = (args) => dryfit.run({args: ["show", "rack.yaml", ...args], files: {"rack.yaml": rack}});
  const whole = picture(["-o", "whole.svg"]);
  assert.equal(whole.err, "");
  assert.match(whole.files["whole.svg"], /^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" width="\d+/);
  assert.match(whole.files["whole.svg"], />P3<\/text>/);
  const step = picture(["--step", "3", "-o", "step.svg"]);
  assert.notEqual(step.files["step.svg"], whole.files["whole.svg"]);
  assert.deepEqual(picture(["--step", "3", "-o", "step.svg"]), step);
  const pdf = picture(["-o", "whole.pdf"]);
  assert.equal(pdf.code, 2);
  assert.match(pdf.err, /PDF and PNG are drawn by the program alone/);
  assert.deepEqual(pdf.files, {});
  const page = dryfit.run({args: ["cards", "rack.yaml", "-o", "cards.html"], files: {"rack.yaml": rack}});
  assert.equal(page.code, 2);
  assert.match(page.err, /written by the program alone/);
  assert.deepEqual(page.files, {});
});

test("a name with markup in it is text in a picture", () => {
  const frame = rack.replace("name: Plant rack", "name: \"<script>alert(1)</script> & co\"");
  assert.notEqual(frame, rack);
  const {files} = dryfit.run({args: ["show", "rack.yaml", "-o", "x.svg"], files: {"rack.yaml": frame}});
  assert.doesNotMatch(files["x.svg"], /<script/);
  assert.match(files["x.svg"], /&lt;script&gt;/);
});

test("a bomb of aliases and a frame of too many parts are refused in the reader's words, and the module lives on", () => {
  let bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n";
  for (let k = 1; k < 12; k += 1) bomb += `a${k}: &a${k} [${Array(10).fill(`*a${k - 1}`).join(", ")}]\n`;
  const refused = dryfit.run({args: ["check", "-"], stdin: bomb});
  assert.equal(refused.code, 2);
  assert.match(refused.err, /^standard input:\d+:\d+: /);
  const parts = Array(1_000_000).fill("      - {pipe: 4}\n").join("");
  const many = dryfit.run({args: ["check", "-"], stdin: rack.replace("parts:\n", `parts:\n${parts}`)});
  assert.ok(many.code === 2 || many.code === 3, `${many.code} ${many.err.slice(0, 200)}`);
  assert.notEqual(many.err, "");
  const deep = dryfit.run({args: ["check", "-"], stdin: "[".repeat(200_000)});
  assert.equal(deep.code, 2);
  assert.equal(dryfit.run({args: ["check", "-"], stdin: rack}).code, 0);
});

test("it says which program it is", () => {
  assert.equal(`dryfit ${dryfit.version()}\n`, dryfit.run({args: ["--version"]}).out);
});
