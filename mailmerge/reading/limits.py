"""What reading may take: processor time, memory and open files.

Linux holds a process to them itself. Elsewhere the process that asks looks on: Windows has no such
limits, and macOS does not keep those of memory.
"""

from __future__ import annotations

import math
import sys
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import subprocess

MOST_MEMORY = 1_500_000_000
"""Bytes. A list of 100,000 guests takes some 60 MB as .xlsx, and 500 MB as .ods."""

_MOST_FILES = 64
_SECONDS, _SECONDS_A_MB = 15.0, 10.0
"""Of processor time for a file, all that is read of it together. A list takes 1.3 seconds for
each MB at every pass, of which there are up to five."""

PATIENCE = 6
"""So many times longer the clock may run than the processor: others want it, too."""

_LOOKS_EVERY = 0.05

IS_HELD = sys.platform == "linux"
"""Whether the system itself holds a process to its limits."""


def begun_at(number: int) -> int | None:
    """Return when a process began, in seconds since 1970; None where none of that number runs.

    With that, a number that the system has given to another process since is told apart.
    """
    import psutil

    try:
        return int(psutil.Process(number).create_time())
    except psutil.Error:
        return None


def seconds_for(where: object) -> float:
    """Return the processor time for all that is read of something; a large file has more."""
    size = 0
    if isinstance(where, Path):
        try:
            size = where.stat().st_size
        except OSError:  # the reader says what is wrong with it
            size = 0
    return _SECONDS + _SECONDS_A_MB * min(size / 1e6, 100)


def hold_this_process() -> None:
    """Limit the memory and the open files of this process, where the system can."""
    if not IS_HELD:
        return
    import resource

    for what, most in (
        (resource.RLIMIT_DATA, MOST_MEMORY),
        (resource.RLIMIT_NOFILE, _MOST_FILES),
        (resource.RLIMIT_CORE, 0),
    ):
        _, hard = resource.getrlimit(what)
        if hard != resource.RLIM_INFINITY:  # nobody can raise what the user has less of
            most = min(most, hard)
        resource.setrlimit(what, (most, most))


def hold_to(seconds: float) -> None:
    """Let the system end this process once it has taken so much more processor time."""
    if not IS_HELD:
        return
    import resource

    hard = resource.getrlimit(resource.RLIMIT_CPU)[1]
    resource.setrlimit(resource.RLIMIT_CPU, (math.ceil(time.process_time() + seconds), hard))


class Watch:
    """Looks on while another process works, and ends it when it takes too much.

    Parameters
    ----------
    seconds
        Processor time that it has; the clock may run :data:`PATIENCE` times as long.
    is_held
        Whether the system looks after processor time and memory; else this does.
    """

    def __init__(
        self, process: subprocess.Popen[bytes], seconds: float, is_held: bool = IS_HELD
    ) -> None:
        self.ended_for = ""
        """``time`` or ``memory``; empty while it has not ended anything."""
        self._process, self._seconds, self._is_held = process, seconds, is_held
        self._over = threading.Event()
        threading.Thread(target=self._look, daemon=True).start()

    def leave(self) -> None:
        """Stop looking: the work is done."""
        self._over.set()

    def _look(self) -> None:
        until = time.monotonic() + PATIENCE * self._seconds
        if self._is_held:
            if not self._over.wait(PATIENCE * self._seconds):
                self._end("time")
            return
        import psutil

        try:
            process = psutil.Process(self._process.pid)
            spent = sum(process.cpu_times()[:2])
            while not self._over.wait(_LOOKS_EVERY):
                used = sum(process.cpu_times()[:2]) - spent
                if used > self._seconds or time.monotonic() > until:
                    self._end("time")
                elif process.memory_info().rss > MOST_MEMORY:
                    self._end("memory")
        except psutil.Error:  # it has ended, which whoever waits for it sees
            return

    def _end(self, why: str) -> None:
        self.ended_for = why
        self._over.set()
        self._process.kill()
