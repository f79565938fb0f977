"""Every step of nine commands fails in every way; afterwards the order is as it was, or done."""

from __future__ import annotations

import math
import shutil
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

from mailmerge.findings import InputError
from mailmerge.ledger.ledger import open_ledger
from mailmerge.ledger.tray import changing

from . import faulty
from .base import scratch
from .commands import COMMANDS, State, before, left_over, state_of, with_shop, wrong_in_tray
from .exploring import place_of
from .rule import MOST_SAID

Trial = tuple[str, str, int]
"""A command, a fault or ``smaller``, and the step or the most bytes that a file may have."""

_SIZES = (0, 512, 4_096, 5_000, 12_000, 33_000, 70_000, 140_000)
"""Bytes: below all files, within the artwork, at the pages of the ledger and beyond most of it."""


@cache
def steps_of(command: str) -> tuple[str, ...]:
    """Return what a command does to the disk, step by step."""
    with _trial_of(command) as top, faulty.on(faulty.Disk(0, "full")) as disk:
        COMMANDS[command](top / "concert")
    return tuple(disk.names)


@cache
def states(command: str) -> tuple[State, State]:
    """Return what an order is like before a command and after it."""
    with _trial_of(command) as top:
        was = state_of(top)
        COMMANDS[command](top / "concert")
        return was, state_of(top)


@contextmanager
def _trial_of(command: str) -> Iterator[Path]:
    """Lend a copy of the order, with its shop."""
    with scratch() as folder:
        top = Path(shutil.copytree(before(command), folder / "top"))
        with with_shop(top):
            yield top


def trials() -> Iterator[Trial]:
    """Pass over everything that can happen."""
    for command in COMMANDS:
        for number in range(1, len(steps_of(command)) + 1):
            for fault in faulty.FAULTS:
                yield command, fault, number
        for most in _SIZES:
            yield command, "smaller", most


def failed(trial: Trial) -> str:
    """Return what is wrong after a command that met a fault; ``""`` if nothing is."""
    command, fault, number = trial
    try:
        with _trial_of(command) as top:
            return _outcome(top, command, fault, number)
    except InputError as error:
        return f"the next command is refused: {error}"
    except Exception as error:
        return f"traceback: {place_of(error)}"


def _outcome(top: Path, command: str, fault: str, number: int) -> str:
    order, seen = top / "concert", []
    try:
        if fault == "smaller":
            with faulty.smaller(number):
                COMMANDS[command](order)
        else:
            disk = faulty.Disk(number, fault, lambda: seen.extend(wrong_in_tray(order)))
            with faulty.on(disk):
                COMMANDS[command](order)
    except InputError as error:
        if len(str(error)) > MOST_SAID:
            return f"said in {len(str(error))} characters"
    if wrong := [*seen, *wrong_in_tray(order)]:
        return f"in the tray: {wrong}"
    was, to_be = states(command)
    if command != "forget":
        with open_ledger(order) as ledger, changing(ledger):
            pass  # whatever comes next mends what was cut off
    found = state_of(top)
    if found == to_be:
        return _told(left_over(top))
    if found != was and command != "forget":  # which takes file by file away, and is called again
        return f"neither as it was nor as it was to be: {differing(found, was, to_be)}"
    COMMANDS[command](order)
    found = state_of(top)
    if found != to_be:
        return f"done again, it is not as it was to be: {differing(found, to_be)}"
    return _told(left_over(top))


def _told(left: list[str]) -> str:
    return f"left over: {left}" if left else ""


def differing(found: State, *others: State) -> str:
    """Say in what a state differs from each of others."""
    return " | ".join(
        ", ".join(_differing_in(key, found[key], other[key]) for key in found
                  if found[key] != other[key])
        for other in others
    )  # fmt: skip


def _differing_in(key: str, one: Any, other: Any) -> str:
    if not isinstance(one, dict):
        return key
    names = [name for name in {**one, **other} if one.get(name) != other.get(name)]
    return f"{key} ({', '.join(map(str, names[:4]))})"


def all_of_them(some: Iterable[Trial], until: float = math.inf) -> tuple[int, list[str]]:
    """Try some of it, until a time by the clock that only goes on.

    Returns
    -------
    int, list of str
        How many were tried, and what is wrong with which.
    """
    count, wrong = 0, []
    for trial in some:
        if time.monotonic() > until:
            break
        count += 1
        if why := failed(trial):
            command, fault, number = trial
            step = "" if fault == "smaller" else steps_of(command)[number - 1]
            wrong.append(f"{command}, {fault}, {number} {step}: {why}")
    return count, wrong
