// Asks the module and the program the same, and compares what they answer byte for byte: what is written on either
// stream, to files, and the exit code.
//   node same_answers_test.mjs MODULE-FOLDER PROGRAM FRAMES-PROGRAM SCENARIOS COUNT WHAT
// WHAT: "scenarios" (every command, text and JSON, every other frame in German) or "random" (COUNT random frames, or those
// of the seeds FIRST..LAST).
import {execFileSync, spawnSync} from "node:child_process";
import {mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {createRequire} from "node:module";
import {tmpdir} from "node:os";
import {join, resolve} from "node:path";

const [folder, program, frames, scenarios, count, what] = process.argv.slice(2);
const {DryfitModule} = createRequire(import.meta.url)(resolve(folder, "dryfit.js"));
const dryfit = await DryfitModule({wasm: readFileSync(join(folder, "dryfit.wasm"))});
const scratch = mkdtempSync(join(tmpdir(), "dryfit-"));

let compared = 0;
let different = 0;
const codes = new Map();

function first_difference(a, b) {
  const left = a.split("\n");
  const right = b.split("\n");
  for (let i = 0; i < Math.max(left.length, right.length); i += 1) {
    if (left[i] !== right[i]) return `line ${i + 1}:\n    program: ${left[i]}\n    module:  ${right[i]}`;
  }
  return "the ends";
}

function compare(args, files) {
  for (const [name, text] of Object.entries(files)) writeFileSync(join(scratch, name), text);
  const ran = spawnSync(program, args, {cwd: scratch, encoding: "utf8", maxBuffer: 1 << 28, env: {LC_ALL: "C", PATH: process.env.PATH}});
  const answer = dryfit.run({args, files});
  compared += 1;
  codes.set(answer.code, (codes.get(answer.code) ?? 0) + 1);
  const wrong = [];
  if (ran.status !== answer.code) wrong.push(`exit code ${ran.status} of the program, ${answer.code} of the module`);
  if (ran.stdout !== answer.out) wrong.push(`standard output, ${first_difference(ran.stdout, answer.out)}`);
  if (ran.stderr !== answer.err) wrong.push(`standard error, ${first_difference(ran.stderr, answer.err)}`);
  for (const name of readdirSync(scratch)) {
    const text = readFileSync(join(scratch, name), "utf8");
    if (name in files ? text !== files[name] : text !== answer.files[name]) wrong.push(`the file ${name}`);
    rmSync(join(scratch, name));
  }
  if (wrong.length > 0) {
    different += 1;
    if (different <= 10) console.log(`not the same: dryfit ${args.join(" ")}\n  ${wrong.join("\n  ")}`);
  }
}

// What every frame is asked; of long answers the budget is what ends them, so that slow machines say the same.
function ask_all(name, text, language) {
  const tongue = language === "" ? [] : ["--language", language];
  for (const shape of [[], ["--json"]]) {
    for (const command of ["check", "order", "early", "fit", "buy", "drill", "graph"]) {
      // The two long ones once a frame: their text and JSON tell one search.
      const long = command === "order" || command === "early";
      if (long && (shape.length > 0) === (language === "")) continue;
      compare([command, name, ...shape, ...tongue], {[name]: text});
    }
  }
  ask_for_files(name, text, tongue);
  ask_about_an_order(name, text, tongue);
}

// Answers that are files: pages to print, and what a page draws and tells by.
function ask_for_files(name, text, tongue) {
  for (const call of [
    ["show", name, "-o", "numbers.json"], ["cards", name, "-o", "deck.json", "--no-pictures"],
    ["drill", name, "-o", "sheets.svg", "--full-size"], ["buy", name, "-o", "list.svg", "--spares"],
  ]) compare([...call, "--json", ...tongue], {[name]: text});
}

// What is asked with an order, or with another length for one of the frame's pipes.
function ask_about_an_order(name, text, tongue) {
  const files = {[name]: text};
  const told = (args) => dryfit.run({args, files});
  const order = told(["order", name, "--json"]).out;
  const steps = order === "" ? [] : JSON.parse(order).steps ?? [];
  if (steps.length > 0) {
    compare(["replay", name, "steps.json", "--json", ...tongue], {...files, "steps.json": order});
    const early = steps.slice(1, Math.ceil(steps.length / 2)).map((step) => ({contacts: step.contacts}));
    compare(["replay", name, "steps.json", "--json", ...tongue], {...files, "steps.json": JSON.stringify(early)});
    compare(["order", name, "--built", String(Math.floor(steps.length / 2)), "--json", ...tongue], files);
  }
  const numbers = told(["show", name, "-o", "numbers.json"]).files["numbers.json"];
  const pipe = numbers && JSON.parse(numbers).parts.find((part) => part.kind === "pipe");
  if (!pipe) return;
  const length = `${pipe.label}.length=${Math.round(pipe.length_mm + 25)} mm`;
  compare(["change", name, "--set", length, "--budget", "200", "--json", ...tongue], files);
  compare(["edit", name, "--set", length, "--json", ...tongue], files);
  // What a finger is offered: instead of a pipe, and on an open end.
  const open = JSON.parse(numbers).parts.flatMap((part) => part.free_ends.map((end) => `${part.label}.${end.end}`));
  for (const what of [pipe.label, ...open.slice(0, 1)]) compare(["edit", name, "--offers", what, "--json", ...tongue], files);
}

const names = readdirSync(scenarios).filter((name) => name.endsWith(".yaml") && !name.endsWith(".expect.yaml"));
if (what === "scenarios") {
  names.forEach((name, i) => ask_all(name, readFileSync(join(scenarios, name), "utf8"), i % 2 === 0 ? "" : "de"));
  const rack = {"plant-rack.yaml": readFileSync(join(scenarios, "plant-rack.yaml"), "utf8")};
  for (const args of [
    ["--help"], ["--version"], ["order", "--help"], ["nothing"], ["order"], ["order", "none.yaml"], ["order", "--no"],
    ["span", "47-3/4"], ["span", "47-3/4", "--json"], ["span", "nothing"], ["schema"], ["schema", "order"],
    ["explain"], ["explain", "swing"], ["explain", "swing", "--language", "de"], ["new", "-o", "new.yaml"],
    ["buy", "plant-rack.yaml", "--csv"], ["order", "plant-rack.yaml", "--explain"], ["order", "plant-rack.yaml", "--units", "mm"],
    ["order", "plant-rack.yaml", "--people", "1", "--json"], ["order", "plant-rack.yaml", "-v"],
    ["order", "plant-rack.yaml", "--built", "6", "--without", "S2", "--json"],
    ["change", "plant-rack.yaml", "--set", "P9.length=24", "--json"], ["change", "plant-rack.yaml", "--set", "P9.length=12..36"],
    ["check", "plant-rack.yaml", "plant-rack.yaml", "--json"], ["cards", "plant-rack.yaml", "-o", "cards.svg", "--json"],
    ["cards", "plant-rack.yaml", "-o", "cards.svg", "--per-page", "2", "--paper", "a4", "--language", "de"],
    ["schema", "frame"], ["explain", "--json"], ["edit", "plant-rack.yaml", "--take-off", "K1", "--json"],
  ]) compare(args, rack);
} else {
  const [first, last] = count.includes("..") ? count.split("..").map(Number) : [1, Number(count)];
  const texts = execFileSync(frames, [String(first), String(last)], {encoding: "utf8", maxBuffer: 1 << 28}).split("\0");
  for (let seed = first; seed <= last; seed += 1) {
    const text = texts[seed - first];
    ask_all("frame.yaml", text, seed % 2 === 0 ? "" : "de");
    // Broken at some byte: the reader's words, line and column.
    const at = (seed * 7919) % text.length;
    compare(["check", "frame.yaml"], {"frame.yaml": `${text.slice(0, at)}{${text.slice(at + 2)}`});
    if (seed % 25 === 0) console.log(`to seed ${seed}: ${compared} answers, ${different} differ`);
  }
}
rmSync(scratch, {recursive: true});
console.log(`${compared} answers compared, ${different} differ; exit codes ${[...codes].map(([code, n]) => `${code}: ${n}`).join(", ")}`);
if (different > 0 || compared < 20 || !codes.has(0) || !codes.has(2)) process.exit(1);
