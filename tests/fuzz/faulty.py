"""A disk of which one step fails, is done by half, reports a fault that was none, or takes long.

A step is whatever changes a disk: opening a new file, each write into it, closing, renaming and
removing one, making and removing a folder, and each statement with which SQLite writes. SQLite's
own file system cannot be reached from Python; so its statements fail as a whole, in the words and
with the state (rolled back) that SQLite documents for a full and a broken disk, and
:func:`smaller` lets the system itself cut off what SQLite writes.
"""

from __future__ import annotations

import errno
import os
import resource
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, ClassVar

import pytest

from mailmerge.files import disk, stage
from mailmerge.ledger import ledger

FAULTS = ("full", "broken", "refused", "short", "late", "slow")
"""No room, a fault of the device, no permission; half of it done, all of it done and a fault told
all the same; done after somebody else has looked."""

_ERRNO = {"full": errno.ENOSPC, "broken": errno.EIO, "refused": errno.EACCES}
_SAID = {
    "full": "database or disk is full",
    "broken": "disk I/O error",
    "refused": "attempt to write a readonly database",
}
"""What SQLite says of the same (Result Codes: SQLITE_FULL, SQLITE_IOERR, SQLITE_READONLY)."""

_WRITES = ("INSERT", "UPDATE", "DELETE", "BEGIN", "COMMIT", "VACUUM", "CREATE", "ALTER")


@dataclass
class Disk:
    """What happens at which step; steps are counted from 1, and 0 means none."""

    number: int
    fault: str
    look: Callable[[], object] = lambda: None
    """Called in the middle of a slow step."""
    count: int = 0
    names: list[str] = field(default_factory=list)
    """What each step was."""

    def step(self, name: str, take: Callable[[], Any], half: Callable[[], object]) -> Any:
        """Take a step, or what becomes of it."""
        self.count += 1
        self.names.append(name)
        if self.count != self.number:
            return take()
        if self.fault == "slow":
            self.number = 0  # who looks on takes steps as well
            self.look()
            return take()
        if self.fault == "short":
            half()
        if self.fault == "late":
            take()
        code = _ERRNO.get(self.fault, errno.EIO)
        raise OSError(code, os.strerror(code))


class _File:
    """A file that is being written; each write and the closing are steps."""

    def __init__(self, disk_: Disk, file: Any) -> None:
        self._disk, self._file = disk_, file

    def write(self, data: Any) -> Any:
        write, half = self._file.write, data[: len(data) // 2]
        return self._disk.step("write", lambda: write(data), lambda: write(half))

    def __enter__(self) -> _File:
        return self

    def __exit__(self, *_: object) -> None:
        try:
            self._disk.step("close", lambda: None, lambda: None)
        finally:
            self._file.close()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


class _Connection(sqlite3.Connection):
    """A connection of which each writing statement is a step."""

    disk: ClassVar[Disk]

    def _step(self, sql: str, take: Callable[[], Any]) -> Any:
        if not sql.lstrip().upper().startswith(_WRITES):
            return take()
        name = " ".join(sql.split()[:3])
        try:
            return self.disk.step(name, take, lambda: None)
        except OSError:
            # A full or broken disk may end the transaction (SQLite, Response To Errors Within A
            # Transaction); in other cases it goes on.
            if self.disk.fault == "broken" and self.in_transaction:
                super().execute("ROLLBACK")
            said = _SAID.get(self.disk.fault, _SAID["broken"])
            raise sqlite3.OperationalError(said) from None

    def execute(self, sql: str, *more: Any) -> Any:
        return self._step(sql, lambda: super(_Connection, self).execute(sql, *more))

    def executemany(self, sql: str, *more: Any) -> Any:
        return self._step(sql, lambda: super(_Connection, self).executemany(sql, *more))


class _Os:
    """What a module calls ``os``, with its own opening of files."""

    def __init__(self, **own: Callable[..., Any]) -> None:
        self._own = own

    def __getattr__(self, name: str) -> Any:
        return self._own.get(name) or getattr(os, name)


class _Sqlite:
    """What the ledger calls ``sqlite3``, with connections that are watched."""

    def __init__(self, watched: type[sqlite3.Connection]) -> None:
        self._watched = watched

    def connect(self, path: Any, **more: Any) -> sqlite3.Connection:
        if path == ":memory:":
            return sqlite3.connect(path, **more)
        return sqlite3.connect(path, factory=self._watched, **more)

    def __getattr__(self, name: str) -> Any:
        return getattr(sqlite3, name)


@contextmanager
def on(disk_: Disk) -> Iterator[Disk]:
    """Let everything that the program writes go to such a disk."""

    def opened(path: Any, *more: Any) -> int:
        return int(disk_.step("open", lambda: os.open(path, *more), lambda: None))

    def file(at: int, *more: Any, **how: Any) -> _File:
        return _File(disk_, os.fdopen(at, *more, **how))

    def taken(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        return lambda *given: disk_.step(name, lambda: real(*given), lambda: None)

    watched = type("Watched", (_Connection,), {"disk": disk_})
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(disk, "os", _Os(open=opened, fdopen=file))
        patch.setattr(stage, "os", _Os(sync=lambda: None))  # it tells of no fault (POSIX)
        for name in ("_rename", "_give", "_unlink", "_mkdir", "_rmdir"):
            patch.setattr(disk, name, taken(name[1:], getattr(disk, name)))
        patch.setattr(ledger, "sqlite3", _Sqlite(watched))
        yield disk_


@contextmanager
def smaller(most: int) -> Iterator[None]:
    """Let no file grow beyond so many bytes; SQLite and all others are told so by the system."""
    was = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, was[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, was)
