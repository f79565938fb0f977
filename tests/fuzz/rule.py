"""The rule that every reader is held to, whatever it is given.

A value or one :class:`InputError` comes out, in one short line; no file is left behind; and it
takes no more processor time and memory than its input is worth.
"""

from __future__ import annotations

import resource
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from hypothesis.strategies import SearchStrategy

from mailmerge.findings import LONGEST, InputError
from mailmerge.reading import room

from .base import scratch
from .kept import Case, generated, is_generated

MOST_SAID = LONGEST
"""Characters of what is told."""


@dataclass(frozen=True)
class Budget:
    """What reading may take: so much for any file, and more for every kB of it.

    It is the processor's time, which does not run while others have the processor; on a machine
    that is busy it still runs up to three times as fast as on a quiet one (shared caches, the
    other thread of a core). So the bounds are about ten times the worst that was measured of
    files of some kB, and still under the limits of the room for reading (20 s, 1.5 GB).
    """

    seconds: float = 3.0
    seconds_a_kb: float = 0.25
    memory: int = 400_000_000
    """Bytes that the process may grow: what a library keeps once it was used counts as well."""
    memory_a_kb: int = 2_000_000


USUAL = Budget()


@dataclass(frozen=True)
class Reader:
    """Something that reads files, what they are made from, and how."""

    name: str
    cases: SearchStrategy[Case]
    write: Callable[[Case, Path], Path]
    """Writes the case into an empty folder; what it returns is the file that is read."""
    read: Callable[[Path], object]
    may_leave: tuple[str, ...] = ()
    """Patterns of files that the program says it puts there."""
    budget: Budget = USUAL


@dataclass(frozen=True)
class Cost:
    """What a case came to."""

    said: str
    """Why it was refused; ``""`` if it was read."""
    seconds: float
    """Of the processor."""
    kb: float
    grown: int
    """Bytes that the process has grown by while it read."""


class RuleBrokenError(AssertionError):
    """A reader does not keep the rule."""


def judged(reader: Reader, case: Case) -> Cost:
    """Let a case be read, and return what it took.

    Raises
    ------
    RuleBrokenError
        It took too much, left something behind, or said too much.
    Exception
        Whatever else came out of the reader.
    """
    with scratch() as folder:
        file = (generated if is_generated(case) else reader.write)(case, folder)
        before, kb = _files(folder), max(1.0, file.stat().st_size / 1000)
        peak, start, said = _peak(anew=True), time.process_time(), ""
        try:
            reader.read(file)
        except InputError as error:
            said = str(error)
        cost = Cost(said, time.process_time() - start, kb, _peak() - peak)
        left = [
            each for each in sorted(_files(folder) - before)
            if not any(Path(each).match(pattern) for pattern in reader.may_leave)
        ]  # fmt: skip
    _hold(reader.budget, cost, left)
    return cost


def _hold(budget: Budget, cost: Cost, left: list[str]) -> None:
    if left:
        raise RuleBrokenError(f"left behind: {', '.join(left)}")
    if len(cost.said) > MOST_SAID or "\n" in cost.said:
        raise RuleBrokenError(f"said in {len(cost.said)} characters")
    if cost.seconds > budget.seconds + budget.seconds_a_kb * cost.kb:
        raise RuleBrokenError(f"{cost.seconds:.1f} s of the processor for {cost.kb:.1f} kB")
    if cost.grown > budget.memory + budget.memory_a_kb * cost.kb:
        raise RuleBrokenError(f"{cost.grown / 1e6:.0f} MB of memory for {cost.kb:.1f} kB")


def read_here() -> None:
    """Let this process read by itself, without the room for reading: what it takes is seen.

    A process that was forked from one that did so has to be told again.
    """
    room.asked = lambda _file, call, given: call(*given)
    room.ready = lambda _module: None


def _files(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*")}


def _peak(anew: bool = False) -> int:
    """Return the most memory that this process ever had, in bytes, or counts from now on.

    Linux can be told to count anew (proc(5), ``clear_refs``); elsewhere only what goes beyond the
    most that there ever was is seen.
    """
    if anew:
        with suppress(OSError):
            Path("/proc/self/clear_refs").write_text("5", encoding="ascii")
    found = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return found if sys.platform == "darwin" else found * 1024
