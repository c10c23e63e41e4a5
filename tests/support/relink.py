"""Units compiled in another way, linked with all that build/ci has of the tests: nothing else is compiled anew.

All paths are below the top folder of the sources, which is the working folder.
"""
import json
import pathlib
import re
import shlex
import subprocess

CI = pathlib.Path("build/ci")


def newer(made: pathlib.Path, sources) -> bool:
    """Whether `made` is there and none of the sources is younger."""
    return made.exists() and all(pathlib.Path(s).stat().st_mtime <= made.stat().st_mtime for s in sources)


def command_of(ending: str) -> dict:
    """The entry of the unit whose name ends so in the list of how all units are compiled."""
    entries = json.loads((CI / "compile_commands.json").read_text())
    return next(e for e in entries if e["file"].endswith(ending))


def compile_as(entry: dict, source: pathlib.Path, made: pathlib.Path, more: list[str], compiler: str = "", drop=("-Werror",)):
    """Compiles `source` to `made` as the unit of the entry, with `more` flags and without those dropped."""
    words = [w for w in shlex.split(entry["command"]) if w not in drop]
    if compiler:  # another compiler cannot read the precompiled headers of the first
        words[0] = compiler
        at = next(i for i, w in enumerate(words) if w.endswith("cmake_pch.hxx"))
        del words[at - 1:at + 1]
    words[words.index("-o") + 1] = str(made.resolve())
    words[words.index("-c") + 1] = str(source.resolve())
    subprocess.run(words + ["-w", *more], check=True, cwd=entry["directory"])


def link_tests(objects: list[pathlib.Path], made: pathlib.Path, compiler: str = "", more: str = ""):
    """The test program with these objects in the place of the units of the same names. Objects come before libraries, whose
    units are asked only for names that are still missing: so the objects must hold all units that build/ci compiles in one go
    with any of them."""
    told = subprocess.run(["ninja", "-C", str(CI), "-t", "commands", "tests/dryfit_tests"], check=True, capture_output=True,
                          text=True).stdout
    line = next(t for t in reversed(told.splitlines()) if "-o tests/dryfit_tests " in t)
    line = re.search(r": && (.* -o tests/dryfit_tests .*?) &&", line).group(1)
    names = " ".join(str(o.resolve()) for o in objects)
    line = line.replace("-o tests/dryfit_tests ", f"{more} {names} -o {made.resolve()} ")
    if compiler:
        line = compiler + " " + line.split(" ", 1)[1]
    subprocess.run(line, shell=True, check=True, cwd=CI)
