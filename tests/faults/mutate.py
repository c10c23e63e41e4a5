#!/usr/bin/python3
"""Writes units of the planner with faults in them, any one of which can be made when the program starts.

  mutate.py ROOM...      in the top folder of the sources, after `cmake --preset ci`

Each chosen place becomes a question: `a < b` is written `(::dryfit::faults::on(7) ? (a <= b) : (a < b))`, so one build
holds all faults, and the environment variable DRYFIT_FAULT=7 makes the seventh. What is written:
  build/faults/planner/ROOM/UNIT.cpp   the units, line by line as they are
  build/faults/planner_ROOM.cpp        all units of a room, to be compiled in one go
  build/faults/faults.json             [{number, file, line, kind, was, becomes}]

Which places: drawn by a sum over the seed, the file and the words of the place, so they are the same every time, and those
of an unchanged line stay when others change. Each unit gets a share by its length, spread over the kinds. No two places
lie in one another. Left alone: what is worked out while compiling, macros, templates' open types, headers.
"""
import hashlib
import json
import pathlib
import re
import sys

from clang.cindex import Cursor, CursorKind, Index, TypeKind

SEED = "1"
LINES_FOR_ONE = 48  # about one fault in so many lines of a unit
OUT = pathlib.Path("build/faults")

WHOLE = {TypeKind.INT, TypeKind.UINT, TypeKind.LONG, TypeKind.ULONG, TypeKind.SHORT, TypeKind.USHORT, TypeKind.LONGLONG,
         TypeKind.ULONGLONG}
REAL = {TypeKind.DOUBLE, TypeKind.FLOAT}
BUILT_IN = WHOLE | REAL | {TypeKind.BOOL, TypeKind.CHAR_S, TypeKind.ENUM, TypeKind.POINTER, TypeKind.SCHAR, TypeKind.UCHAR}
BOUND = {"<": "<=", "<=": "<", ">": ">=", ">=": ">"}
TURNED = {"<": ">=", "<=": ">", ">": "<=", ">=": "<"}
# What stands below these is worked out while compiling, or must be a plain number.
FIXED = {CursorKind.STATIC_ASSERT, CursorKind.ENUM_DECL, CursorKind.FIELD_DECL, CursorKind.PARM_DECL,
         CursorKind.INIT_LIST_EXPR, CursorKind.ARRAY_SUBSCRIPT_EXPR, CursorKind.TEMPLATE_REF}
OF_FUNCTIONS = {CursorKind.FUNCTION_DECL, CursorKind.CXX_METHOD, CursorKind.CONSTRUCTOR, CursorKind.LAMBDA_EXPR}
LEAVING = {CursorKind.RETURN_STMT, CursorKind.CONTINUE_STMT, CursorKind.BREAK_STMT}


def kind_of(cursor: Cursor) -> TypeKind:
    return cursor.type.get_canonical().kind


class Unit:
    """One .cpp file, and what could go wrong in it."""

    def __init__(self, path: str, arguments: list[str]):
        self.path = path
        self.source = pathlib.Path(path).read_bytes()
        self.places = []  # (begin, end, kind, was, becomes): bytes; `becomes` is an expression or a statement
        parsed = Index.create().parse(path, arguments)
        broken = [d for d in parsed.diagnostics if d.severity >= 3]
        if broken:
            raise SystemExit(f"{path}: {broken[0]}")
        for cursor in parsed.cursor.get_children():
            if cursor.location.file and cursor.location.file.name == path:
                self.walk(cursor, [])

    def text(self, begin: int, end: int) -> str:
        return self.source[begin:end].decode()

    def of(self, cursor: Cursor) -> str:
        return self.text(cursor.extent.start.offset, cursor.extent.end.offset)

    def add(self, cursor: Cursor, kind: str, becomes: str, statement: bool = False):
        begin, end = cursor.extent.start.offset, cursor.extent.end.offset
        was = self.text(begin, end)
        if end <= begin or "#" in was or "constexpr" in was:
            return
        if self.source[begin - 1:begin] == b"<" or self.source[end:end + 1] == b">":  # the argument of a template
            return
        pattern = "if (!::dryfit::faults::on(@)) {was}" if statement else "(::dryfit::faults::on(@) ? ({becomes}) : ({was}))"
        self.places.append((begin, end, kind, was, becomes, pattern.format(becomes=becomes, was=was)))

    def walk(self, cursor: Cursor, above: list[Cursor]):
        if cursor.kind in FIXED or (cursor.kind == CursorKind.VAR_DECL and "constexpr" in self.of(cursor).split("=")[0]):
            return
        if cursor.kind in OF_FUNCTIONS and "constexpr" in self.of(cursor).split("{")[0]:
            return
        if any(c.kind in OF_FUNCTIONS for c in above):
            self.look_at(cursor, above)
        children = list(cursor.get_children())
        if cursor.kind == CursorKind.CASE_STMT:
            children = children[1:]
        for child in children:
            self.walk(child, above + [cursor])

    def look_at(self, cursor: Cursor, above: list[Cursor]):
        in_head = [c.kind for c in above[-3:]]
        if cursor.kind == CursorKind.BINARY_OPERATOR:
            if CursorKind.FOR_STMT not in in_head or CursorKind.COMPOUND_STMT in in_head:
                self.look_at_operator(cursor)
        elif cursor.kind == CursorKind.IF_STMT:
            self.look_at_if(cursor)
        elif cursor.kind == CursorKind.INTEGER_LITERAL and CursorKind.FOR_STMT not in in_head[-2:]:
            if re.fullmatch(r"\d+U?", self.of(cursor)):
                self.add(cursor, "constant", f"{self.of(cursor)} + 1")
        elif cursor.kind == CursorKind.FLOATING_LITERAL:
            value = float(self.of(cursor).rstrip("fFlL"))
            self.add(cursor, "constant", f"{self.of(cursor)} * 3" if value != 0 else "1.0")
        elif cursor.kind == CursorKind.CXX_BOOL_LITERAL_EXPR:
            self.add(cursor, "constant", "false" if self.of(cursor) == "true" else "true")
        elif above and above[-1].kind == CursorKind.COMPOUND_STMT:
            self.look_at_statement(cursor, above)

    def look_at_operator(self, cursor: Cursor):
        sides = list(cursor.get_children())
        if len(sides) != 2 or any(kind_of(s) not in BUILT_IN for s in sides):
            return
        left, right = map(self.of, sides)
        sign = self.text(sides[0].extent.end.offset, sides[1].extent.start.offset)
        sign = re.sub(r"//.*", "", sign).strip()
        kinds = {kind_of(s) for s in sides}
        numbers = kinds <= WHOLE | REAL
        if sign in TURNED and numbers:
            self.add(cursor, "comparison turned", f"{left} {TURNED[sign]} {right}")
            if kinds <= WHOLE:
                self.add(cursor, "bound off by one", f"{left} {BOUND[sign]} {right}")
            else:
                self.add(cursor, "bound moved by 10", f"({left}) - 10 {sign} ({right})")
        elif sign in ("==", "!="):
            self.add(cursor, "equal", f"({left}) {'!=' if sign == '==' else '=='} ({right})")
        elif sign in ("+", "-") and numbers:
            self.add(cursor, "sign", f"({left}) {'-' if sign == '+' else '+'} ({right})")
        elif sign in ("&&", "||"):
            self.add(cursor, "and or", f"({left}) {'||' if sign == '&&' else '&&'} ({right})")

    def look_at_if(self, cursor: Cursor):
        children = list(cursor.get_children())
        if children[0].kind in (CursorKind.DECL_STMT, CursorKind.VAR_DECL) or len(children) > 3:
            return
        if "constexpr" in self.text(cursor.extent.start.offset, children[0].extent.start.offset):
            return
        self.add(children[0], "rule dropped", "false")
        self.add(children[0], "rule always", "true")

    def look_at_statement(self, cursor: Cursor, above: list[Cursor]):
        """A statement left out: something done, or an answer that was found, given only at the end of a branch."""
        inner = cursor
        while inner.kind == CursorKind.UNEXPOSED_EXPR and len(list(inner.get_children())) == 1:
            inner = next(inner.get_children())
        called = inner.kind == CursorKind.CALL_EXPR and not re.match(r"std::(sort|stable_sort)|\w+\.reserve", self.of(cursor))
        branches = (CursorKind.IF_STMT, CursorKind.FOR_STMT, CursorKind.CXX_FOR_RANGE_STMT)
        in_branch = len(above) > 1 and above[-2].kind in branches
        if called or inner.kind == CursorKind.COMPOUND_ASSIGNMENT_OPERATOR or (cursor.kind in LEAVING and in_branch):
            self.add(cursor, "statement dropped", "", statement=True)

    def drawn(self, most: int) -> list[tuple]:
        """Up to `most` places, none within another: turn by turn of each kind, each kind in an order of its own."""
        def rank(place):
            begin = place[0]
            line = self.source[self.source.rfind(b"\n", 0, begin) + 1:begin + 200].split(b"\n")[0].strip().decode()
            return hashlib.sha256("|".join((SEED, self.path, place[2], place[3], line)).encode()).hexdigest()

        by_kind = {}
        for place in sorted(self.places, key=rank):
            by_kind.setdefault(place[2], []).append(place)
        kinds = sorted(by_kind, key=lambda kind: rank(by_kind[kind][0]))
        chosen = []
        while len(chosen) < most and any(by_kind.values()):
            for kind in kinds:
                while by_kind[kind] and len(chosen) < most:
                    place = by_kind[kind].pop(0)
                    if all(place[1] <= other[0] or other[1] <= place[0] for other in chosen):
                        chosen.append(place)
                        break
        return sorted(chosen)


def write(path: pathlib.Path, content: bytes):
    """Leaves alone what is the same, so that nothing is made anew for it."""
    if not path.exists() or path.read_bytes() != content:
        path.write_bytes(content)


def arguments() -> list[str]:
    return ["-std=gnu++20", "-I.", "-Ibuild/ci/generated", "-isystem", "/usr/include/coin", "-w"]


def main(rooms: list[str]):
    faults = []
    for room in rooms:
        folder = OUT / room
        folder.mkdir(parents=True, exist_ok=True)
        units = sorted(str(p) for p in pathlib.Path(room).glob("*.cpp"))
        for path in units:
            unit = Unit(path, arguments())
            source = unit.source
            share = max(1, round(source.count(b"\n") / LINES_FOR_ONE))
            written, done = b"", 0
            for begin, end, kind, was, becomes, wrapped in unit.drawn(share):
                number = len(faults)
                # As many lines as before, so that the lines that follow keep their numbers.
                once = wrapped.replace("@", str(number)).encode()
                flat = re.sub(rb"//[^\n]*", b"", once).replace(b"\n", b" ")
                written += source[done:begin] + flat + b"\n" * source[begin:end].count(b"\n")
                done = end
                faults.append({"number": number, "file": path, "line": source.count(b"\n", 0, begin) + 1, "kind": kind,
                               "was": " ".join(was.split()), "becomes": " ".join(becomes.split())})
            write(OUT / path, written + source[done:])
        together = "".join(f'#include "{(OUT / path).resolve()}"\n' for path in units)
        write(OUT / (room.replace("/", "_") + ".cpp"), together.encode())
    (OUT / "faults.json").write_text(json.dumps(faults, indent=1, ensure_ascii=False) + "\n")
    print(f"{len(faults)} faults in {len(set(f['file'] for f in faults))} files")


if __name__ == "__main__":
    main(sys.argv[1:])
