"""How long work says how far it is, how it ends before it is done, and what it had changed then."""

from __future__ import annotations

import multiprocessing
import os
import threading
from collections.abc import Callable
from pathlib import Path

Watch = Callable[[int, int], bool]
"""Called with the number of items that are done and of all; returns whether to go on."""


class CalledOff(Exception):
    """Somebody has called the work off."""


class Changes:
    """What one call has changed, wholly or in part: told if it is called off.

    The gate to the disk and the ledger add what they are about to change, so that what is told may
    be too much and is never too little.
    """

    def __init__(self) -> None:
        self._places: dict[Path, None] = {}

    def begin(self) -> None:
        """Forget what an earlier call has changed."""
        self._places.clear()

    def add(self, place: Path) -> None:
        """Note that a file or an order is about to be changed."""
        self._places[place] = None

    def take_back(self, place: Path) -> None:
        """Note that it is as it was before."""
        self._places.pop(place, None)

    def __contains__(self, place: Path) -> bool:
        return place in self._places

    def told(self) -> tuple[Path, ...]:
        """Return what was changed; of an order that was, nothing besides that lies in it."""
        places = self._places.keys()
        return tuple(place for place in places if not places & {*place.parents})


CHANGES = Changes()
"""Of this process."""


def unwatched(_done: int, _total: int) -> bool:
    """Go on: for work that nobody looks at."""
    return True


def told(watch: Watch, done: int, total: int) -> None:
    """Say how far the work is.

    Raises
    ------
    CalledOff
        It is not to go on.
    """
    if not watch(done, total):
        raise CalledOff


def end_with_parent() -> None:
    """Let this process end as soon as the one that started it is gone, even if that was killed.

    What it is at is then cut off, as a kill would cut it off.
    """
    threading.Thread(target=_wait_for_parent, daemon=True).start()


def _wait_for_parent() -> None:
    parent = multiprocessing.parent_process()
    assert parent is not None
    parent.join()
    os._exit(1)
