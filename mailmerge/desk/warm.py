"""One process that keeps what was opened, so that trying something takes a moment.

It does one thing after the other. What is asked while something else is tried waits for its turn;
what was asked last comes next, for that is what somebody looks at. What is got ready ahead lets
all others pass.
It starts with the first that is asked, is started anew if it dies or hangs, and ends with the
desk; or when nobody has asked for a while, so that a desk at rest leaves the memory to others.
"""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from multiprocessing.connection import Connection
from typing import Any, TypeVar

from mailmerge.deeds.faults import reported
from mailmerge.desk import words
from mailmerge.desk.nursery import QUIET, Nursery
from mailmerge.desk.work import surroundings
from mailmerge.findings import InputError
from mailmerge.voice import speak

Result = TypeVar("Result")

_PATIENCE = 30.0
"""Seconds after which what is tried is given up. Own judgement."""


class _Turn:
    """One at a time; of those who wait, whoever came last: that is what somebody looks at now."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._waiting: list[object] = []
        self._is_taken = False

    @contextmanager
    def taken(self, is_ahead: bool = False) -> Iterator[None]:
        """Wait for the turn; what is got ready ahead lets everybody pass who waits."""
        me = object()
        with self._changed:
            self._waiting.insert(0 if is_ahead else len(self._waiting), me)
            self._changed.wait_for(lambda: not self._is_taken and self._waiting[-1] is me)
            self._waiting.pop()
            self._is_taken = True
        try:
            yield
        finally:
            with self._changed:
                self._is_taken = False
                self._changed.notify_all()


class Warm:
    """The process, and how it is asked."""

    def __init__(self, quiet: float = QUIET, nursery: Nursery | None = None) -> None:
        self._nursery = nursery or Nursery(quiet)
        self._turn = _Turn()
        self._process: Any = None
        self._ours: Connection | None = None
        self._is_over = False
        self._quiet = quiet
        self._last = 0.0
        """When it was asked last, on the clock that only goes on."""
        self._rest: threading.Timer | None = None

    def call(self, deed: Callable[..., Result], /, *given: Any, **named: Any) -> Result:
        """Call a deed there, a function of a module, and return what it returns.

        Raises
        ------
        InputError
            It refuses, or the process has died of it or does not come back.
        """
        with self._turn.taken():
            is_done, told = self._asked(deed, given, named)
        if not is_done:
            raise told
        result: Result = told
        return result

    def _asked(
        self, deed: Callable[..., Any], given: tuple[Any, ...], named: dict[str, Any]
    ) -> tuple[bool, Any]:
        """Return whether the process has done something, and what it tells."""
        try:
            ours = self._running()
            ours.send((deed, given, named))
            if not ours.poll(_PATIENCE):
                raise EOFError
            is_done, told = ours.recv()
        except (EOFError, OSError):
            self._stop()
            raise InputError(words.TRYING_DIED) from None
        finally:
            self._look_again()
        return is_done, told

    def begin(self, deed: Callable[..., Any], /, *given: Any) -> None:
        """Let a deed get something ready, without waiting for it."""
        self.begin_each(deed, [given])

    def begin_each(self, deed: Callable[..., Any], given: Sequence[tuple[Any, ...]]) -> None:
        """Let a deed get several things ready, without waiting; whoever asks comes in between."""
        threading.Thread(target=self._quietly, args=(deed, given), daemon=True).start()

    def _quietly(self, deed: Callable[..., Any], given: Sequence[tuple[Any, ...]]) -> None:
        with suppress(InputError):  # it has died; whoever asks for it in earnest is told
            for each in given:
                with self._turn.taken(is_ahead=True):
                    self._asked(deed, each, {})

    def end(self) -> None:
        """End the process, whatever it does: the desk is closing."""
        self._is_over = True
        if self._rest is not None:
            self._rest.cancel()
        if (process := self._process) is not None:
            process.terminate()
        with self._turn.taken():
            self._stop()

    def _look_again(self) -> None:
        """Let somebody look, once it was quiet for long enough, whether it still is."""
        self._last = time.monotonic()
        if self._rest is not None:
            self._rest.cancel()
        self._rest = threading.Timer(self._quiet, self._let_go)
        self._rest.daemon = True
        self._rest.start()

    def _let_go(self) -> None:
        with self._turn.taken():
            if time.monotonic() - self._last >= self._quiet:
                self._stop()

    def _running(self) -> Connection:
        if self._is_over:
            raise EOFError
        if self._ours is None or not self._process.is_alive():
            self._stop()
            ours, theirs = self._nursery.context.Pipe()
            process = self._nursery.begin(_serve, surroundings(), theirs, daemon=True)
            theirs.close()
            self._process, self._ours = process, ours
        assert self._ours is not None
        return self._ours

    def _stop(self) -> None:
        if self._ours is not None:
            self._ours.close()
            self._ours = None
        if self._process is not None:
            self._process.terminate()
            self._process.join(2.0)
            self._nursery.ended(self._process)
            self._process = None


def _serve(around: dict[str, str], theirs: Connection) -> None:
    """Answer until nobody asks any more."""
    speak()
    os.environ.update(around)
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the desk answers it, and ends this one
    while True:
        try:
            deed, given, named = theirs.recv()
        except (EOFError, OSError):
            return
        try:
            answer = True, deed(*given, **named)
        except InputError as error:
            answer = False, error
        except Exception as error:
            answer = False, InputError(words.trying_broke(reported(error)))
        theirs.send(answer)
