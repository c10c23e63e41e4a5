#!/usr/bin/python3
"""What of model/ and planner/ the quick tests pass: lines and branches by folder, and what they do not pass.

  coverage.py      in the top folder of the sources, with the tests built in build/ci; `.ci/long coverage` does it all

A branch is one of the two ways of a condition. Written: build/coverage/missed.txt, a line for each line or way that was
never gone, with its text.
"""
import collections
import json
import pathlib
import re
import subprocess
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, "tests/support")
import relink  # noqa: E402

OUT = pathlib.Path("build/coverage")
FLAGS = ["-fprofile-instr-generate", "-fcoverage-mapping"]


def tool(name: str, *arguments) -> str:
    ran = subprocess.run([f"llvm-{name}-14", *map(str, arguments)], check=True, capture_output=True, text=True)
    return ran.stdout


def build() -> pathlib.Path:
    OUT.mkdir(parents=True, exist_ok=True)
    objects = []
    for library in ("model", "planner"):
        for unit in sorted(relink.CI.glob(f"{library}/CMakeFiles/*/Unity/unity_{library}_*_cxx.cxx")):
            made = OUT / f"{unit.stem}.o"
            objects.append(made)
            folders = {pathlib.Path(source).parent for source in re.findall(r'#include "([^"]+)"', unit.read_text())}
            if not relink.newer(made, [unit, *(source for folder in folders for source in folder.glob("*.?pp"))]):
                relink.compile_as(relink.command_of(f"/{unit.name}"), unit, made, FLAGS, compiler="clang++")
    program = OUT / "dryfit_tests"
    if not relink.newer(program, [*objects, relink.CI / "tests/dryfit_tests"]):
        relink.link_tests(objects, program, compiler="clang++", more=FLAGS[0])
    return program


def run(program: pathlib.Path) -> pathlib.Path:
    for old in OUT.glob("*.profraw"):
        old.unlink()
    ran = subprocess.run([program, "-tse=slow,browser"], capture_output=True, text=True,
                         env={"PATH": "/usr/bin:/bin", "HOME": "/tmp", "LLVM_PROFILE_FILE": str(OUT.resolve() / "%p.profraw")})
    print(ran.stdout.strip().splitlines()[-3:])
    tool("profdata", "merge", "-sparse", *OUT.glob("*.profraw"), "-o", OUT / "all.profdata")
    return OUT / "all.profdata"


def lines_of(file: dict, source: list[str]):
    """(lines with code, those of them never passed), by the segments that llvm-cov tells: [line, column, count, counted,
    begins, gap]."""
    counts = {}
    segments = file["segments"]
    for here, following in zip(segments, segments[1:]):
        if not here[3] or here[5]:
            continue
        last = following[0] if following[1] > 1 else following[0] - 1
        for line in range(here[0], last + 1):
            part = source[line - 1]
            if line == here[0]:
                part = part[here[1] - 1:]
            if line == following[0]:
                part = part[:following[1] - 1 - (here[1] - 1 if line == here[0] else 0)]
            if part.split("//")[0].strip(" {};\t"):
                counts[line] = max(counts.get(line, 0), here[2])
    return set(counts), {line for line, count in counts.items() if count == 0}


def report(program: pathlib.Path, profile: pathlib.Path):
    told = json.loads(tool("cov", "export", program, f"-instr-profile={profile}"))
    top = str(pathlib.Path.cwd()) + "/"
    sums = collections.defaultdict(lambda: [0, 0, 0, 0])  # lines, missed, branches, missed
    missed = []
    for file in told["data"][0]["files"]:
        name = file["filename"].removeprefix(top)
        if not name.startswith(("model/", "planner/")):
            continue
        source = pathlib.Path(name).read_text().splitlines()
        lines, not_passed = lines_of(file, source)
        ways = collections.defaultdict(lambda: [0, 0])  # a place in a template stands once for each of its types
        for branch in file["branches"]:
            place = ways[tuple(branch[:4])]
            place[0] += branch[4]
            place[1] += branch[5]
        folded = [(place, way) for place, counts in ways.items() for way in (0, 1) if counts[way] == 0]
        never = [(p, w) for p, w in folded if ways[p] != [0, 0] and p[0] not in not_passed]
        total = sums[name.rsplit("/", 1)[0]]
        total[0] += len(lines)
        total[1] += len(not_passed)
        total[2] += 2 * len(ways)
        total[3] += len(folded)
        missed += [(name, line, "line", source[line - 1].strip()) for line in not_passed]
        missed += [(name, p[0], f"never {'true' if w == 0 else 'false'}",
                    source[p[0] - 1][p[1] - 1:p[3] - 1 if p[2] == p[0] else None]) for p, w in never]
    (OUT / "missed.txt").write_text("".join(f"{n}:{l}: {what}: {text}\n" for n, l, what, text in sorted(missed)))
    whole = [0, 0, 0, 0]
    for folder, total in sorted(sums.items()):
        print(f"{folder:20} {row(total)}")
        whole = [a + b for a, b in zip(whole, total)]
    print(f"{'all':20} {row(whole)}; what is missed stands in {OUT / 'missed.txt'}")


def row(t: list[int]) -> str:
    part = [100 * (1 - t[i + 1] / t[i]) if t[i] else 100.0 for i in (0, 2)]
    return f"lines {t[0] - t[1]} of {t[0]} ({part[0]:.1f} %), ways {t[2] - t[3]} of {t[2]} ({part[1]:.1f} %)"


if __name__ == "__main__":
    made = build()
    report(made, run(made))
