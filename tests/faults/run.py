#!/usr/bin/python3
"""Makes the faults of mutate.py one by one, and says which test catches each.

  run.py [--seconds S] [--slow S] [--only TEXT] [--again] [--backwards]
in the top folder of the sources, after mutate.py; `.ci/long faults` does it all.

  1. compiles the faulty rooms and links them with the objects of the tests in build/ci: build/faults/dryfit_tests
  2. runs the tests once without a fault and notes which case passes which faulty place, and how long it takes: the quick ones
     (build/faults/reached.tsv) and the slow ones of the planner (build/faults/reached_slow.tsv)
  3. for each fault runs the quick cases that pass it, those of its own room and the short ones first, until one fails,
     crashes, takes far too long or too much memory. What outlives S seconds of them (default 150) is tried with the slow
     cases that pass it, the short ones first, for --slow seconds in all (default 60). What outlives these too counts as
     alive: build/faults/results.tsv

Each part goes on where it stopped. A fault is known by its file and its words, so a result stays when other lines change;
`--again` tries once more what lived. Without results.tsv all is tried anew.
"""
import argparse
import collections
import json
import pathlib
import re
import resource
import subprocess
import sys
import time

sys.dont_write_bytecode = True
sys.path.insert(0, "tests/support")
import relink  # noqa: E402

OUT = pathlib.Path("build/faults")
PROGRAM = OUT / "dryfit_tests"
REACHED = OUT / "reached.tsv"
REACHED_SLOW = OUT / "reached_slow.tsv"
RESULTS = OUT / "results.tsv"
MEMORY = 3 << 30
FOLDERS = ["planner", "fitter", "cli/check", "cli/early", "cli/order", "cli/change"]  # below tests/: what asks the planner
PLAIN = {"PATH": "/usr/bin:/bin", "HOME": "/tmp"}
OFTEN = 3  # cases may take so many times their usual time, and ten seconds
LONG = 5.0  # seconds: of cases that take longer the subcases are tried one by one


def compile_rooms(rooms: list[str]) -> list[pathlib.Path]:
    """One object for each faulty room, with the flags of the room's own one; and the listener."""
    objects = []
    for room in rooms + ["hook"]:
        name = room.replace("/", "_")
        made = OUT / f"{name}.o"
        objects.append(made)
        source = pathlib.Path("tests/faults/hook.cpp") if room == "hook" else OUT / f"{name}.cpp"
        units = [] if room == "hook" else list((OUT / room).glob("*.cpp"))
        # A header of the planner may be another one since: then its library was made anew.
        if not relink.newer(made, [source, *units, relink.CI / "planner/libdryfit_planner.a"]):
            entry = relink.command_of("unity_planner_moves_cxx.cxx" if room == "hook" else f"unity_{name}_cxx.cxx")
            relink.compile_as(entry, source, made, ["-include", "tests/faults/hook.hpp"])
    return objects


def limits(seconds: float):
    def set_limits():
        resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + 1, int(seconds) + 3))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    return set_limits


def pattern(case: str) -> str:
    """A filter that the name passes: commas would part two filters."""
    return re.sub(r"[,\\*\"]", "?", case)


def told_in(path: pathlib.Path) -> list[tuple]:
    cases = []
    for line in path.read_text().splitlines():
        file, case, subcase, seconds, places = line.split("\t")
        cases.append((file, case, float(seconds), set(map(int, places.split())), subcase))
    return cases


def find_reached_slowly() -> list[tuple]:
    """The same of the slow cases of the planner."""
    if not relink.newer(REACHED_SLOW, [PROGRAM]):
        REACHED_SLOW.unlink(missing_ok=True)
        subprocess.run([PROGRAM, "-sf=*tests/planner/*", "-ts=slow"], capture_output=True,
                       env=PLAIN | {"DRYFIT_FAULTS_REACHED": str(REACHED_SLOW.resolve())})
    return [c for c in told_in(REACHED_SLOW) if not c[4]]


def find_reached() -> list[tuple]:
    """(file, case, seconds, set of faults, subcase), of all quick cases; runs what is not known yet, folder by folder. Of a
    long case with subcases each of these is one."""
    if REACHED.exists() and not relink.newer(REACHED, [PROGRAM]):
        REACHED.unlink()
    done = set((OUT / "reached.done").read_text().split()) if REACHED.exists() else set()
    (OUT / "reached.done").write_text("".join(f"{d}\n" for d in sorted(done)))
    for folder in FOLDERS:
        if folder in done:
            continue
        began = time.monotonic()
        ran = subprocess.run([PROGRAM, f"-sf=*tests/{folder}/*", "-tse=slow,browser"], capture_output=True, text=True,
                             env=PLAIN | {"DRYFIT_FAULTS_REACHED": str(REACHED.resolve())})
        if ran.returncode != 0:
            print(f"without a fault, in tests/{folder}:\n{ran.stdout[-3000:]}")
        print(f"tests/{folder}: what they pass is known after {time.monotonic() - began:.0f} s", flush=True)
        with (OUT / "reached.done").open("a") as out:
            out.write(folder + "\n")
    cases = told_in(REACHED)
    parted = {c[1] for c in cases if c[4]} & {c[1] for c in cases if not c[4] and c[2] > LONG}
    return [c for c in cases if (c[4] != "") == (c[1] in parted)]


def batches(cases: list[tuple], fault: dict, seconds: float, caught_by: collections.Counter):
    """Cases that pass the fault in the order to try them, in groups for one start each: the short ones first, those of the
    room, and those that have caught many."""
    room = fault["file"].rsplit("/", 1)[0]
    mine = [c for c in cases if fault["number"] in c[3]]

    def rank(case):
        near = 1 if f"tests/{room}/" in case[0] else 2 if "/fitter/" in case[0] or "/planner/" in case[0] else 4
        return (case[2] + 0.05) * near / (1 + 3 * caught_by[case[1]])

    mine.sort(key=rank)
    spent = 0.0
    open_ = {True: [], False: []}
    for case in mine:
        if spent + case[2] > seconds:
            continue
        spent += case[2]
        group = open_[case[4] != ""]  # whole cases and subcases are named in ways of their own
        group.append(case)
        if sum(c[2] for c in group) > (1.0 if spent < 2.0 else 10.0) or len(group) >= 150:
            yield list(group)
            group.clear()
    yield from (group for group in open_.values() if group)


def filters(group: list[tuple]) -> list[str]:
    cases = "-tc=" + ",".join(sorted({pattern(c[1]) for c in group}))
    return [cases] if not group[0][4] else [cases, "-sc=" + ",".join(pattern(c[4]) for c in group)]


def try_cases(fault: dict, group: list[tuple], which: str, most: float) -> str:
    """What catches the fault, or nothing. What is cut off after `most` seconds, before it has taken its usual time several
    times over, has caught nothing."""
    usual = 10 + OFTEN * sum(c[2] for c in group)
    limit = min(usual, most)
    late = "caught\ttime\t" if limit == usual else ""
    try:
        ran = subprocess.run([PROGRAM, "-aa=1", which, *filters(group)], capture_output=True, text=True, errors="replace",
                             timeout=30 * limit, preexec_fn=limits(limit),
                             env=PLAIN | {"DRYFIT_FAULT": str(fault["number"])})
    except subprocess.TimeoutExpired:
        return late
    if ran.returncode == 0:
        return ""
    if ran.returncode in (-24, -9):
        return late
    found = re.findall(r"TEST CASE:\s+(.*)", ran.stdout)
    how = "crash" if ran.returncode < 0 or "FATAL ERROR" in ran.stdout else "test"
    if "bad_alloc" in ran.stdout:
        how = "memory"
    return f"caught\t{how}\t{found[0] if found else '?'}"


def try_slowly(fault: dict, cases: list[tuple], seconds: float) -> str:
    """The slow cases that pass it, the short ones first, for so many seconds in all."""
    for case in sorted((c for c in cases if fault["number"] in c[3]), key=lambda c: c[2]):
        began = resource.getrusage(resource.RUSAGE_CHILDREN)
        if seconds < 1:
            break
        caught = try_cases(fault, [case], "-ts=slow", seconds)
        if caught:
            return caught
        ended = resource.getrusage(resource.RUSAGE_CHILDREN)
        seconds -= ended.ru_utime + ended.ru_stime - began.ru_utime - began.ru_stime
    return ""


def try_fault(fault: dict, cases: list[tuple], slow_cases: list[tuple], told, caught_by: collections.Counter) -> str:
    tried = 0
    for group in batches(cases, fault, told.seconds, caught_by):
        caught = try_cases(fault, group, "-tse=slow,browser", float("inf"))
        tried += len(group)
        if caught:
            return caught
    caught = try_slowly(fault, slow_cases, told.slow)
    if caught:
        return caught
    return f"lives\t{'no case passes it' if tried == 0 else f'{tried} cases'}\t"


def identity(fault: dict) -> str:
    """In words that stay when lines above it change; `nth` of the same words."""
    change = f"{fault['was']} -> {fault['becomes'] or 'nothing'}"
    return f"{fault['nth']}\t{fault['file']}\t{fault['kind']}\t{change}"


def counted(faults: list[dict]) -> list[dict]:
    seen = collections.Counter()
    for fault in faults:
        words = (fault["file"], fault["kind"], fault["was"], fault["becomes"])
        fault["nth"] = seen[words]
        seen[words] += 1
    return faults


def told_results() -> dict:
    """What stands in the file: by fault, the last word."""
    lines = RESULTS.read_text().splitlines() if RESULTS.exists() else []
    return {"\t".join(line.split("\t")[:4]): "\t".join(line.split("\t")[4:]) for line in lines}


def report(faults: list[dict], results: dict):
    rooms = collections.Counter()
    lives = collections.Counter()
    for fault in faults:
        room = fault["file"].rsplit("/", 1)[0]
        rooms[room] += 1
        if results[identity(fault)].startswith("lives"):
            lives[room] += 1
            tried = results[identity(fault)].split("\t")[1]
            print(f"lives: line {fault['line']} of " + identity(fault).replace("\t", " ") + f" ({tried})")
    how = collections.Counter("lives" if r.startswith("lives") else r.split("\t")[1] for r in results.values())
    for room, count in sorted(rooms.items()):
        print(f"{room}: {count} faults, {count - lives[room]} caught")
    all_, alive = sum(rooms.values()), sum(lives.values())
    print(f"{all_} faults, {all_ - alive} caught ({100 * (all_ - alive) / all_:.1f} %): {dict(how)}")


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--seconds", type=float, default=150)
    options.add_argument("--slow", type=float, default=60)
    options.add_argument("--only", default="")
    options.add_argument("--again", action="store_true", help="try those once more that lived")
    options.add_argument("--backwards", action="store_true", help="from the other end: beside a run that goes forwards")
    told = options.parse_args()
    faults = counted(json.loads((OUT / "faults.json").read_text()))
    rooms = sorted({f["file"].rsplit("/", 1)[0] for f in faults})
    objects = compile_rooms(rooms)
    if not relink.newer(PROGRAM, [*objects, relink.CI / "tests/dryfit_tests"]):
        relink.link_tests(objects, PROGRAM)
    cases, slow_cases = find_reached(), find_reached_slowly()
    known = set(map(identity, faults))
    if told.again:
        kept = [f"{key}\t{found}\n" for key, found in told_results().items() if not found.startswith("lives")]
        RESULTS.write_text("".join(kept))
    # All rooms in turn, so that a run that is broken off says something of each.
    order = sorted(faults, key=lambda f: f["number"] * 89 % 997)
    for fault in reversed(order) if told.backwards else order:
        key = identity(fault)
        results = {k: found for k, found in told_results().items() if k in known}
        if key in results or told.only not in key:
            continue
        caught_by = collections.Counter(r.split("\t")[2] for r in results.values() if r.startswith("caught"))
        results[key] = try_fault(fault, cases, slow_cases, told, caught_by)
        with RESULTS.open("a") as out:
            out.write(f"{key}\t{results[key]}\n")
        print(f"{key}: {results[key]}".replace("\t", " "), flush=True)
    results = {k: found for k, found in told_results().items() if k in known}
    if len(results) == len(faults):
        report(faults, results)


if __name__ == "__main__":
    main()
