"""Small faults, put into the rules one at a time: ``python -m tests.mutate``.

What no test notices is printed: either a test is missing, or the code says more than it has to.
Nothing is ever changed in the checkout: each worker has a copy of it. The tests run once under
coverage; then each fault meets the tests that run its line, the quickest first, up to the first
one that fails. A worker's modules are loaded once, and every fault has a process forked from it.

    python -m tests.mutate --minutes 25                      # a sample of everything
    python -m tests.mutate --only mailmerge/checks/beam.py   # all of one file
"""

from __future__ import annotations

import argparse
import ast
import copy
import functools
import json
import multiprocessing
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from coverage import Coverage

ROOT = Path(__file__).resolve().parents[1]

Targets = Mapping[str, Sequence[str]]
"""Files or folders of code, each with the test files that hold it; what is named closest counts."""

TARGETS: Targets = {
    "mailmerge/checks": ("test_checks",),
    "mailmerge/checks/beam.py": ("test_beam",),
    "mailmerge/checks/lines.py": ("test_checks", "test_faces", "test_setting", "test_sizing"),
    "mailmerge/checks/listing.py": ("test_checks", "test_fonts", "test_merge"),
    "mailmerge/checks/loading.py": ("test_loading", "test_zones"),
    "mailmerge/blanks": ("test_blanks", "test_faces", "test_measuring", "test_taper", "test_zones"),
    "mailmerge/machines": ("test_loading", "test_faces", "test_taper", "test_zones"),
    "mailmerge/machines/motion.py": ("test_time",),
    "mailmerge/ledger/conversation.py": ("test_conversation", "test_said"),
    "mailmerge/ledger/standing.py": ("test_answers", "test_release"),
    "mailmerge/files": ("test_files", "test_tray"),
    "mailmerge/ledger/tray.py": ("test_release", "test_tray"),
    "mailmerge/ledger/contents.py": ("test_tray",),
    "mailmerge/ledger/copies.py": ("test_tray",),
    "mailmerge/ledger/synced.py": ("test_tray",),
    "mailmerge/ledger/release.py": ("test_release",),
    "mailmerge/answers/taking.py": ("test_answers", "test_release"),
    "mailmerge/answers/incoming.py": ("test_answers",),
    "mailmerge/answers/lists.py": ("test_incoming",),
    "mailmerge/answers/messages.py": ("test_incoming", "test_answers"),
    "mailmerge/answers/courtesies.py": ("test_courtesies", "test_incoming"),
    "mailmerge/answers/politeness.py": ("test_courtesies",),
    "mailmerge/answers/settling.py": ("test_incoming",),
    "mailmerge/answers/proposals.py": ("test_answers",),
}  # fmt: skip

PRELOADED = (
    "PIL.Image", "babel", "coverage", "fontTools.subset", "fontTools.ttLib", "fpdf",
    "hypothesis.stateful", "jinja2", "numpy", "openpyxl", "pydantic", "pytest",
    "rapidfuzz", "scipy.special", "shapely", "svgelements", "typer.testing", "uharfbuzz",
)  # fmt: skip

_SWAPPED: dict[type, tuple[type, ...]] = {
    ast.Lt: (ast.LtE, ast.Gt), ast.LtE: (ast.Lt, ast.Gt), ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.Lt), ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,), ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,), ast.Is: (ast.IsNot,), ast.IsNot: (ast.Is,), ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,), ast.Mult: (ast.Div,), ast.Div: (ast.Mult,), ast.FloorDiv: (ast.Mult,),
    ast.Mod: (ast.Mult,), ast.BitOr: (ast.BitAnd,), ast.BitAnd: (ast.BitOr,),
    ast.And: (ast.Or,), ast.Or: (ast.And,),
}  # fmt: skip
_LEAVING = (ast.Return, ast.Continue, ast.Raise)
_NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}


@dataclass(frozen=True)
class Fault:
    """One small change of a module."""

    path: str
    line: int
    lines: range
    """Those of its statement, or of that statement's head."""
    before: str
    after: str
    text: Callable[[], str] = field(repr=False)
    """Returns the whole module with it."""
    tests: tuple[str, ...]
    """The test files that hold the module."""

    def __str__(self) -> str:
        return f"{self.path}:{self.line}  {self.before} -> {self.after}"


def faults_in(path: str, source: str, tests: Sequence[str] = ()) -> Iterator[Fault]:
    """Yield every fault that can be put into a module, in the order of its text."""
    tree = ast.parse(source)
    for node, lines in _places(tree, range(1, 1)):
        for changed in _changes(node):
            before, after = (" ".join(ast.unparse(each).split())[:90] for each in (node, changed))
            text = functools.partial(_with_fault, tree, node, changed)
            at = getattr(node, "lineno", lines.start)
            yield Fault(path, at, lines, before, after, text, tuple(tests))


def _with_fault(tree: ast.Module, node: ast.AST, changed: ast.AST) -> str:
    return ast.unparse(copy.deepcopy(tree, {id(node): changed}))


def _places(node: ast.AST, lines: range) -> Iterator[tuple[ast.AST, range]]:
    """Yield what may be changed, with its statement's lines: no words, types or decorators."""
    if isinstance(node, ast.stmt):
        body = getattr(node, "body", None)
        until = body[0].lineno - 1 if body else node.end_lineno or 0
        lines = range(node.lineno, max(node.lineno, until) + 1)
    yield node, lines
    for name, value in ast.iter_fields(node):
        if name not in ("annotation", "returns", "decorator_list", "bases"):
            for child in value if isinstance(value, list) else [value]:
                if isinstance(child, ast.AST) and not isinstance(child, ast.JoinedStr | ast.Raise):
                    yield from _places(child, lines)


def _changes(node: ast.AST) -> Iterator[ast.AST]:
    """Yield what a node can be changed into."""
    match node:
        case ast.Compare(ops=ops):
            for at, op in enumerate(ops):
                for other in _SWAPPED[type(op)]:
                    yield _with(node, ops=[*ops[:at], other(), *ops[at + 1 :]])
        case ast.BoolOp(op=op, values=values):
            yield from (_with(node, op=other()) for other in _SWAPPED[type(op)])
            yield from (_with(node, values=values[:at] + values[at + 1 :])
                        for at in range(len(values)))  # fmt: skip
        case ast.BinOp(op=op):
            yield from (_with(node, op=other()) for other in _SWAPPED.get(type(op), ()))
        case ast.UnaryOp(op=ast.Not() | ast.USub(), operand=operand):
            yield operand
        case ast.Constant(value=bool(value)):
            yield ast.Constant(not value)
        case ast.Constant(value=int(value)):
            yield from (ast.Constant(value + 1), ast.Constant(value - 1))
        case ast.Constant(value=float(value)):
            yield from (ast.Constant(value * 1.1 or 1.0), ast.Constant(value * 0.9 or -1.0))
        case ast.Name(id=name) if name in _NAMES:
            yield _with(node, id=_NAMES[name])
        case ast.If(body=body, orelse=[]) if isinstance(body[-1], _LEAVING):
            yield ast.Pass()
        case ast.Expr(value=ast.Yield() | ast.YieldFrom()):  # the function stays a generator
            yield ast.Expr(ast.YieldFrom(ast.Tuple([], ast.Load())))
        case ast.Expr(value=ast.Call()):
            yield ast.Pass()
    test = getattr(node, "test", None)
    if isinstance(test, ast.Name | ast.Attribute | ast.Call | ast.NamedExpr):
        yield _with(node, test=ast.UnaryOp(ast.Not(), test))


def _with(node: ast.AST, **changed: object) -> ast.AST:
    return type(node)(**{**dict(ast.iter_fields(node)), **changed})


def faults_of(root: Path, targets: Targets, only: str = "") -> list[Fault]:
    """Return all faults that can be put into the targets, or into one file or folder of them.

    Raises
    ------
    SystemExit
        A target or one of its test files is not there, or there is nothing to change.
    """
    found: list[Fault] = []
    for target, names in targets.items():
        tests = [f"tests/{name}.py" for name in names]
        if lost := [name for name in (target, *tests) if not (root / name).exists()]:
            sys.exit(f"tests.mutate: there is no {lost[0]}; put the table TARGETS right")
        place = root / target
        for path in sorted(place.rglob("*.py")) if place.is_dir() else [place]:
            name = path.relative_to(root).as_posix()
            closest = max((each for each in targets if name.startswith(each)), key=len)
            if closest == target and name.startswith(only):
                found += faults_in(name, path.read_text(encoding="utf-8"), tests)
    if not found:
        sys.exit(f"tests.mutate: there is nothing to change in {only or 'the targets'}")
    return found


# In a process of its own, forked from one that has loaded the libraries


class _Watch:
    """A plugin of pytest: which tests run which lines, and how long each of them takes."""

    def __init__(self, coverage: Any) -> None:
        self.coverage, self.test = coverage, ""
        self.seconds: dict[str, float] = {}

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        self.test = nodeid
        self.coverage.switch_context(nodeid)

    def pytest_runtest_logreport(self, report: Any) -> None:
        self.seconds[report.nodeid] = self.seconds.get(report.nodeid, 0.0) + report.duration

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any) -> Iterator[None]:
        """Put what is made for several tests down to none of them by name."""
        if fixturedef.scope != "function":
            self.coverage.switch_context("")
        made = yield
        self.coverage.switch_context(self.test)
        return made


def _tested(tree: Path, arguments: Sequence[str], paths: Sequence[str] = ()) -> None:
    """Run pytest in a copy and exit with what it says; where paths are given, watch their lines."""
    os.setsid()
    os.chdir(tree)
    sys.path.insert(0, str(tree))
    os.environ["PYTHONPATH"] = str(tree)
    sys.dont_write_bytecode = not paths
    os.environ["PYTHONDONTWRITEBYTECODE"] = "" if paths else "1"
    with (tree.parent / f"{tree.name}.log").open("w") as log:
        os.dup2(log.fileno(), 1)
        os.dup2(log.fileno(), 2)
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"  # a second for each fault
    call = ["-qx", "-p", "no:cacheprovider", "-p", "_hypothesis_pytestplugin",
            "--hypothesis-seed=0", f"--basetemp={tree}.tmp"]  # fmt: skip
    if not paths:
        os._exit(pytest.main([*call, *arguments]))
    coverage = Coverage(data_file=None, include=[str(tree / path) for path in paths])
    watch = _Watch(coverage)
    coverage.start()
    code = pytest.main([*call, *arguments], [watch])
    coverage.stop()
    data = coverage.get_data()
    lines = {path: data.contexts_by_lineno(str(tree / path)) for path in paths}
    (tree.parent / "watched.json").write_text(json.dumps([watch.seconds, lines]))
    os._exit(code)


def _started(seconds: float | None, *arguments: object) -> int | None:
    """Return what pytest says in a process of its own; None if it takes too long."""
    process = multiprocessing.get_context("forkserver").Process(target=_tested, args=arguments)
    process.start()
    process.join(seconds)
    late = process.is_alive()
    with suppress(ProcessLookupError):  # its own children, too
        os.killpg(process.pid, signal.SIGKILL)
    process.join()
    return None if late else process.exitcode


class Trial:
    """Copies of a checkout, its tests as they run without a fault, and what faults have come to."""

    def __init__(self, root: Path, folder: Path, faults: Sequence[Fault], jobs: int) -> None:
        self.trees = [folder / f"copy-{number}" for number in range(jobs)]
        shutil.copytree(root, self.trees[0], ignore=shutil.ignore_patterns(".*", "__pycache__"))
        files = sorted({name for fault in faults for name in fault.tests})
        paths = sorted({fault.path for fault in faults})
        if _started(None, self.trees[0], files, paths) != 0:
            sys.exit((folder / "copy-0.log").read_text() + "\ntests.mutate: want green tests first")
        self.seconds, self.lines = json.loads((folder / "watched.json").read_text())
        for tree in self.trees[1:]:
            shutil.copytree(self.trees[0], tree)
        self.free = list(self.trees)

    def rounds(self, fault: Fault) -> Iterator[list[str]]:
        """Yield the tests that run a fault's lines, quickest first; then all, if it needs them."""
        lines = self.lines[fault.path]
        found = {test for line in fault.lines for test in lines.get(str(line), ())}
        if own := sorted(found - {""}, key=lambda test: self.seconds[test]):
            yield own
        if not own or "" in found:  # it runs on import, for several tests, or out of sight
            yield list(fault.tests)

    def survives(self, fault: Fault) -> bool:
        """Whether no test notices a fault."""
        tree = self.free.pop()
        path = tree / fault.path
        sound, times = path.read_bytes(), path.stat()
        path.write_text(fault.text(), encoding="utf-8")
        try:
            return all(
                _started(20 + 5 * sum(s for test, s in self.seconds.items()
                                      if test in tests or test.split("::")[0] in tests),
                         tree, tests) == 0
                for tests in self.rounds(fault)
            )  # fmt: skip
        finally:
            path.write_bytes(sound)
            os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))  # its bytecode is good again
            self.free.append(tree)


def survivors(
    root: Path, faults: Sequence[Fault], jobs: int, minutes: float, say: Callable[[str], object]
) -> list[Fault]:
    """Try faults in their order, as long as there is time; say and return those that survive."""
    lost: list[Fault] = []
    tried = 0
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(jobs) as pool:
        trial = Trial(root, Path(folder), faults, jobs)
        until = time.monotonic() + 60 * minutes

        def verdict(fault: Fault) -> bool | None:
            return trial.survives(fault) if time.monotonic() < until else None

        for fault, survives in zip(faults, pool.map(verdict, faults), strict=True):
            tried += survives is not None
            if survives:
                lost.append(fault)
                say(str(fault))
    say(f"{tried} of {len(faults)} faults were tried: {tried - len(lost)} were noticed, "
        f"{len(lost)} survive")  # fmt: skip
    return lost


def main() -> None:
    """Try a sample of faults and print what survives."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutate", description=__doc__)
    parser.add_argument("--only", default="", metavar="PATH", help="one file or folder of TARGETS")
    parser.add_argument("--sample", type=int, help="how many faults; by default all")
    parser.add_argument("--minutes", type=float, default=25, help="after which none is begun")
    parser.add_argument("--seed", type=int, default=1, help="another one is another sample")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    asked = parser.parse_args()
    multiprocessing.get_context("forkserver").set_forkserver_preload([*PRELOADED])
    faults = faults_of(ROOT, TARGETS, asked.only)
    random.Random(asked.seed).shuffle(faults)
    survivors(
        ROOT,
        faults[: asked.sample],
        asked.jobs,
        asked.minutes,
        functools.partial(print, flush=True),
    )


if __name__ == "__main__":
    main()
