"""The side of the room where people ask: the process that reads is started once and kept."""

from __future__ import annotations

import atexit
import os
import pickle
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any, TypeVar

from mailmerge.findings import InputError
from mailmerge.reading import inside, limits, words

Found = TypeVar("Found")


class Outside:
    """A file from outside, with the processor time that is left for all that is read of it.

    Parameters
    ----------
    where
        The file, for messages.
    seconds
        Of processor time; None for as much as a file of its size has.
    """

    def __init__(self, where: object, seconds: float | None = None) -> None:
        self.where = where
        self.seconds = limits.seconds_for(where) if seconds is None else seconds
        self.left = self.seconds

    def apart(self, call: Callable[..., Found], *given: object) -> Found:
        """Return what a function of a module finds, when it is called in the other process.

        Parameters
        ----------
        call, given
            What is called, and with what; they travel, and so does what it returns.

        Raises
        ------
        InputError
            The function has raised one, or reading takes too much, or breaks off.
        """
        found: Found = asked(self, call, given)
        return found

    def streamed(self, call: Callable[..., Iterator[Found]], *given: object) -> Iterator[Found]:
        """Yield what a function yields in the other process; see :meth:`apart`."""
        number = self.apart(inside.begin, call, given)
        try:
            is_over = False
            while not is_over:
                found, is_over = self.apart(inside.more, number)
                yield from found
        finally:
            with suppress(InputError):  # it is dropped even where no time is left
                apart(self.where, inside.drop, number)


def apart(where: object, call: Callable[..., Found], *given: object) -> Found:
    """Read something at one go: :meth:`Outside.apart` of a file that nobody asks for again."""
    return Outside(where).apart(call, *given)


def get_ready(module: str) -> None:
    """Let the other process start and import what will be wanted, without waiting for it."""
    ready(module)


_PROGRAM = f"from {inside.__name__} import serve; serve()"


class Room:
    """The process that reads, and how it is asked; one asks at a time."""

    def __init__(self) -> None:
        self._turn = threading.Lock()
        self._process: subprocess.Popen[bytes] | None = None

    def ask(self, file: Outside, call: Callable[..., Any], given: tuple[object, ...]) -> Any:
        """Let something be done, and return what comes of it; see :meth:`Outside.apart`."""
        where = file.where
        with self._turn:
            if file.left <= 0:
                raise InputError(words.takes_too_long(where, file.seconds))
            process = self._running()
            watch = limits.Watch(process, file.left)
            try:
                how, told, spent = _exchanged(process, (_folder(), file.left, call, given))
            except (EOFError, OSError, pickle.UnpicklingError):
                self._stop()
                raise InputError(_said_of_death(file, process, watch)) from None
            except BaseException:  # somebody has called the work off: its answer is nobody's
                self._stop()
                raise
            finally:
                watch.leave()
            file.left -= spent
            if how == inside.TOO_LARGE:
                self._stop()
        match how:
            case inside.DONE:
                return told
            case inside.REFUSED:
                raise InputError(told)
            case inside.TOO_LARGE:
                raise InputError(words.grows_too_large(where, limits.MOST_MEMORY))
            case _:
                raise InputError(words.fault(where, told))

    def ready(self, module: str) -> None:
        """Start the process if it does not run, with a module that will be wanted."""
        with self._turn, suppress(InputError):  # whoever asks in earnest is told
            self._running(module)

    def _running(self, *modules: str) -> subprocess.Popen[bytes]:
        if self._process is None or self._process.poll() is not None:
            self._stop()
            try:
                # -P: what lies in the folder that the call is made in is no part of the program.
                self._process = subprocess.Popen(
                    [sys.executable, "-P", "-c", _PROGRAM, *modules],
                    stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                    creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
                )  # fmt: skip
            except OSError as error:
                raise InputError(words.no_room(error.strerror or error)) from None
        return self._process

    def _stop(self) -> None:
        if (process := self._process) is not None:
            self._process = None
            process.kill()
            process.wait()
            self._close(process)

    def end(self) -> None:
        """End the process: the program is at its end."""
        self._stop()

    def leave_behind(self) -> None:
        """Let go of a process that belongs to the one that this one was forked from.

        A thread of that one may have been reading, and its lock is held for ever here: so the pipes
        themselves are put away, and nothing that belongs to them is called.
        """
        if (process := self._process) is not None:
            process.returncode = 0  # it is not this one's to wait for
            nobody = os.open(os.devnull, os.O_RDWR)
            for pipe in (process.stdin, process.stdout):
                assert pipe is not None
                os.dup2(nobody, pipe.fileno(), inheritable=False)
            os.close(nobody)

    @staticmethod
    def _close(process: subprocess.Popen[bytes]) -> None:
        for pipe in (process.stdin, process.stdout):
            assert pipe is not None
            with suppress(OSError):
                pipe.close()


def _exchanged(process: subprocess.Popen[bytes], asked: inside.Asked) -> tuple[str, Any, float]:
    """Return how it went, what there is to tell, and the processor time that it took."""
    assert process.stdin is not None
    assert process.stdout is not None
    pickle.dump(asked, process.stdin, pickle.HIGHEST_PROTOCOL)
    process.stdin.flush()
    how, told = pickle.load(process.stdout)
    return how, told, pickle.load(process.stdout)


def _folder() -> str:
    try:
        return str(Path.cwd())
    except OSError:  # it is gone
        return os.sep


def _said_of_death(file: Outside, process: subprocess.Popen[bytes], watch: limits.Watch) -> str:
    is_late = process.returncode == -getattr(signal, "SIGXCPU", signal.SIGTERM)
    if watch.ended_for == "memory":
        return words.grows_too_large(file.where, limits.MOST_MEMORY)
    if watch.ended_for == "time" or is_late:
        return words.takes_too_long(file.where, file.seconds)
    return words.breaks_off(file.where)


_room = Room()
asked, ready = _room.ask, _room.ready
"""How everything is asked."""


_left: list[Room] = []
"""Rooms of processes that this one was forked from: closing their pipes would wait for ever."""


def _is_another_process() -> None:
    """Begin anew in a process that was forked from this one."""
    global _room, asked, ready
    _room.leave_behind()
    _left.append(_room)
    _room = Room()
    asked, ready = _room.ask, _room.ready


atexit.register(lambda: _room.end())
if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_is_another_process)
