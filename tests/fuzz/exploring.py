"""Cases drawn anew as long as there is time, each reader in a process of its own.

What kills or hangs that process was written down before: it is kept as it is, and another process
goes on. What fails otherwise is made smaller first.
"""

from __future__ import annotations

import json
import os
import resource
import signal
import tempfile
import time
import traceback
from dataclasses import asdict, dataclass
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis.errors import Flaky

from . import kept
from .rule import Case, Cost, Reader, judged, read_here

_BATCH = 50
"""Cases from one seed."""

_LONGEST = 60.0
"""Seconds of the processor for one case, after which the system ends the process (SIGPROF)."""

_MOST_MEMORY = 4_000_000_000


@dataclass
class Told:
    """What came of a reader's cases."""

    read: int = 0
    refused: int = 0
    seconds: float = 0.0
    """By the clock."""
    worst: float = 0.0
    """Seconds of the processor for one kB, the most of all cases."""
    slowest: float = 0.0
    """Seconds of the processor for one case."""
    grown: int = 0
    """Bytes, the most that one case has made the process grow by."""
    failed: int = 0

    def count(self, cost: Cost) -> None:
        """Take in what a case took."""
        self.read += not cost.said
        self.refused += bool(cost.said)
        self.worst = max(self.worst, cost.seconds / cost.kb)
        self.slowest = max(self.slowest, cost.seconds)
        self.grown = max(self.grown, cost.grown)

    def add(self, other: Told) -> None:
        """Take in what came of another process."""
        for name, value in asdict(other).items():
            mine = getattr(self, name)
            most = name in ("worst", "slowest", "grown")
            setattr(self, name, max(mine, value) if most else mine + value)


def explored(reader: Reader, seconds: float, first_seed: int) -> Told:
    """Draw cases for so many seconds by the clock; what fails is kept in the corpus."""
    told, until = Told(), time.monotonic() + seconds
    known: set[str] = set()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        while (left := until - time.monotonic()) > 0:
            child = os.fork()
            if child == 0:
                _explore(reader, left, first_seed, folder, known)
            _, status = os.waitpid(child, 0)
            found = json.loads((folder / "told").read_text()) if (folder / "told").exists() else {}
            told.add(Told(**found))
            if os.waitstatus_to_exitcode(status) == 0:
                break
            path = kept.keep(reader.name, json.loads((folder / "now").read_text()))
            print(f"{reader.name}: ended the process ({status}): {path.name}", flush=True)
            told.failed += 1
            first_seed += 1_000
    return told


def _explore(reader: Reader, seconds: float, number: int, folder: Path, known: set[str]) -> None:
    """Be the process that reads, and end."""
    read_here()
    resource.setrlimit(resource.RLIMIT_DATA, (_MOST_MEMORY, _MOST_MEMORY))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    start, told, code = time.monotonic(), Told(), 1
    try:
        while time.monotonic() - start < seconds:
            _batch(reader, number, told, folder, known)
            number += 1
            told.seconds = time.monotonic() - start
            (folder / "told").write_text(json.dumps(asdict(told)))
        code = 0
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(code)


def _batch(reader: Reader, number: int, told: Told, folder: Path, known: set[str]) -> None:
    failed: list[tuple[Case, Exception]] = []

    @seed(number)
    @settings(
        max_examples=_BATCH, deadline=None, database=None, report_multiple_bugs=False,
        suppress_health_check=list(HealthCheck), phases=[Phase.generate, Phase.shrink],
    )  # fmt: skip
    @given(reader.cases)
    def holds(case: Case) -> None:
        (folder / "now").write_text(json.dumps(case))
        signal.setitimer(signal.ITIMER_PROF, _LONGEST)
        try:
            told.count(judged(reader, case))
        except Exception as error:
            if place_of(error) not in known:
                failed.append((case, error))
                raise
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)

    try:
        holds()
    except (Exception, Flaky):
        case, error = failed[-1]  # the smallest is tried last
        known.add(place_of(error))
        told.failed += 1
        print(f"{reader.name}: {place_of(error)}: {kept.keep(reader.name, case).name}", flush=True)


def place_of(error: Exception) -> str:
    """Return what went wrong and where in the program: another case of it is the same fault."""
    frames = [
        each for each in traceback.extract_tb(error.__traceback__)
        if "mailmerge" in Path(each.filename).parts
    ]  # fmt: skip
    where = f"{Path(frames[-1].filename).name}:{frames[-1].lineno}" if frames else "the rule"
    return f"{type(error).__name__} at {where}: {' '.join(str(error).split())[:60]}"
