"""Two commands at one order at once: one goes first, the other waits or says one line."""

from __future__ import annotations

import math
import os
import shutil
import time
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import combinations_with_replacement
from pathlib import Path

from mailmerge.findings import InputError

from .base import scratch
from .commands import COMMANDS, State, before, left_over, state_of, with_shop, wrong_in_tray
from .disks import differing
from .exploring import place_of
from .rule import MOST_SAID, read_here

Pair = tuple[str, str]


def pairs() -> Iterator[Pair]:
    """Pass over all pairs, those of one command with itself included."""
    yield from combinations_with_replacement(COMMANDS, 2)


def _start(pair: Sequence[str]) -> Path:
    """Return what a pair starts from; a merge wants a list that has changed."""
    return before("merge" if "merge" in pair else "release")


@cache
def _one_after_the_other(start: Path, *names: str) -> State:
    """Return what an order is like after commands, those that are refused included."""
    with scratch() as folder:
        top = Path(shutil.copytree(start, folder / "top"))
        with with_shop(top):
            for name in names:
                _said_by(name, top)
            return state_of(top)


def _said_by(name: str, top: Path) -> str:
    """Return what a command says where it is refused, ``""`` if it is done."""
    try:
        COMMANDS[name](top / "concert")
    except InputError as error:
        return str(error)
    return ""


def failed(pair: Pair) -> str:
    """Return what is wrong after two commands at once; ``""`` if nothing is."""
    start = _start(pair)
    with scratch() as folder:
        top = Path(shutil.copytree(start, folder / "top"))
        with with_shop(top):
            said = _at_once(pair, top)
            if wrong := [each for each in said if each.startswith("traceback")]:
                return "; ".join(wrong)
            if any(len(each) > MOST_SAID for each in said):
                return "said in too many characters"
            found, left = state_of(top), [*left_over(top), *wrong_in_tray(top / "concert")]
    first, second = pair
    may_be = [
        _one_after_the_other(start, first, second), _one_after_the_other(start, second, first)
    ]  # fmt: skip
    if all(said):
        may_be = may_be[:0]
    elif any(said):
        may_be.append(_one_after_the_other(start, first if said[1] else second))
    if found not in may_be:
        return f"{said}: {differing(found, *may_be)}"
    return f"left over: {left}" if left else ""


def _at_once(pair: Pair, top: Path) -> list[str]:
    """Let two processes, forked from this one, begin at the same moment; return what they said."""
    ready, go = os.pipe()
    files = [top / f"said-{at}" for at in range(2)]
    children = []
    for name, file in zip(pair, files, strict=True):
        if (child := os.fork()) == 0:
            try:
                read_here()
                os.close(go)
                os.read(ready, 1)  # ends when the other end is closed
                file.write_text(_said_by(name, top))
            except BaseException as error:
                text = place_of(error) if isinstance(error, Exception) else repr(error)
                file.write_text(f"traceback: {text}")
            finally:
                os._exit(0)
        children.append(child)
    os.close(ready)
    os.close(go)
    for child in children:
        os.waitpid(child, 0)
    return [file.read_text() if file.exists() else "traceback: it is gone" for file in files]


def all_of_them(some: Iterable[Pair], until: float = math.inf) -> tuple[int, list[str]]:
    """Try some pairs, as :func:`fuzz.disks.all_of_them` does."""
    count, wrong = 0, []
    for pair in some:
        if time.monotonic() > until:
            break
        count += 1
        if why := failed(pair):
            wrong.append(f"{' and '.join(pair)}: {why}")
    return count, wrong
