"""Where the desk's other processes come from, so that each begins with all that it needs imported.

On most systems they are forked from one process that has imported it once. That one starts with
the first of them, and ends a while after the last: a desk at rest leaves the memory to others.
"""

from __future__ import annotations

import multiprocessing as mp
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from multiprocessing import forkserver
from typing import Any

QUIET = 60.0
"""Seconds after which a process is let go that nobody has wanted. Own judgement."""

_PRELOADED = [
    f"mailmerge.{name}"
    for name in ("desk.work", "deeds.making", "deeds.line_fonts", "deeds.samples", "deeds.listing",
                 "deeds.apart", "deeds.newer")
]  # fmt: skip
"""What processes are forked with: what nearly all work needs, so that none imports it anew."""


def context() -> Any:
    """Return how processes are started: without what this one's threads hold."""
    if "forkserver" in mp.get_all_start_methods():
        found = mp.get_context("forkserver")
        found.set_forkserver_preload(_PRELOADED)
        return found
    return mp.get_context("spawn")


_lock = threading.Lock()
_alive: set[int] = set()
"""The numbers of all processes that were begun here and have not ended: they share one origin."""


class Nursery:
    """Starts processes, and knows when what they are forked from is wanted no longer."""

    def __init__(self, quiet: float = QUIET) -> None:
        self.context = context()
        self._quiet = quiet
        self._last = 0.0
        """When one was begun last, on the clock that only goes on."""
        self._rest: threading.Timer | None = None

    def begin(self, target: Callable[..., None], *args: Any, daemon: bool = False) -> Any:
        """Start a process; whoever starts it tells when it has ended, by :meth:`ended`."""
        process = self.context.Process(target=target, args=args, daemon=daemon)
        with _lock:  # nothing is ended between its start and its first child
            process.start()
            _alive.add(process.pid)
            self._last = time.monotonic()
        return process

    def ended(self, process: Any) -> None:
        """Take in that a process has ended, and was waited for."""
        with _lock:
            _alive.discard(process.pid)
            if not _alive:
                self._look_later()

    def _look_later(self) -> None:
        if self._rest is not None:
            self._rest.cancel()
        left = max(0.0, self._quiet - (time.monotonic() - self._last))
        self._rest = threading.Timer(left, self._let_go)
        self._rest.daemon = True
        self._rest.start()

    def _let_go(self) -> None:
        with _lock:
            if not _alive and time.monotonic() - self._last >= self._quiet:
                end_forking()


def end_forking() -> None:
    """End the process that others are forked from; whoever wants one starts it anew."""
    # The library has no way of its own but the one that its tests take; without it, it stays.
    with suppress(AttributeError):
        forkserver._forkserver._stop()  # type: ignore[attr-defined]
