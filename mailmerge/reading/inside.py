"""The process that reads: it does what it is asked, one thing after the other, within limits.

It is started as a program of its own, so that it shares nothing with the one that asks: no ledger,
no sockets, no state. It ends when its input does, which is when the other one has ended.
"""

from __future__ import annotations

import contextlib
import itertools
import os
import pickle
import queue
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from importlib import import_module
from typing import Any, BinaryIO

from mailmerge.findings import InputError
from mailmerge.reading import limits

Asked = tuple[str, float, Callable[..., Any], tuple[Any, ...]]
"""The folder that names of files start at, the processor time that there is, what is to be called,
and with what."""

DONE, REFUSED, TOO_LARGE, FAULT = "done", "refused", "too large", "fault"

_BATCH, _BATCH_SECONDS = 256, 0.1
"""What streams comes in batches of so many, or as many as there are after a while."""

_streams: dict[int, Iterator[Any]] = {}
_numbers = itertools.count(time.time_ns())
"""A stream's number is no other's, in no other process: what is read is never somebody else's."""


def begin(call: Callable[..., Iterator[Any]], given: tuple[Any, ...]) -> int:
    """Begin what yields one thing after the other, and return its number."""
    number = next(_numbers)
    _streams[number] = iter(call(*given))
    return number


def more(number: int) -> tuple[list[Any], bool]:
    """Return what comes next, and whether that was all."""
    found: list[Any] = []
    until = time.monotonic() + _BATCH_SECONDS
    for each in _streams[number]:
        found.append(each)
        if len(found) == _BATCH or time.monotonic() > until:
            return found, False
    return found, True


def drop(number: int) -> None:
    """Forget what yields, wherever it is."""
    _streams.pop(number, None)


def serve() -> None:
    """Answer until the input ends; the arguments are modules that will be wanted."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the one that asks answers it
    asked, answers = sys.stdin.buffer, os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a library prints is no answer
    limits.hold_this_process()
    waiting: queue.SimpleQueue[Asked] = queue.SimpleQueue()
    for module in sys.argv[1:]:
        import_module(module)
    threading.Thread(target=_listen, args=(asked, waiting), daemon=True).start()
    while True:
        folder, seconds, call, given = waiting.get()
        with contextlib.suppress(OSError):
            os.chdir(folder)
        limits.hold_to(seconds)
        start = time.process_time()
        answers.write(_answer(call, given))
        pickle.dump(time.process_time() - start, answers)
        answers.flush()


def _listen(asked: BinaryIO, waiting: queue.SimpleQueue[Asked]) -> None:
    """Take what is asked; end this process with the one that asks, whatever it does meanwhile."""
    try:
        while True:
            waiting.put(pickle.load(asked))
    finally:
        os._exit(0)


def _answer(call: Callable[..., Any], given: tuple[Any, ...]) -> bytes:
    """Return what comes of a call, ready to travel."""
    try:
        return pickle.dumps((DONE, call(*given)), pickle.HIGHEST_PROTOCOL)
    except InputError as error:
        return pickle.dumps((REFUSED, str(error)))
    except MemoryError:
        return pickle.dumps((TOO_LARGE, None))
    except Exception as error:
        # Whatever a library raises of a file that nobody has thought of ends here.
        return pickle.dumps((FAULT, type(error).__name__))
