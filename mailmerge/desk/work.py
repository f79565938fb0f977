"""Long work: one process for each, so that pages stay quick, and anybody can see how far it is.

Work goes on when its page is closed. It is a deed, called in a process of its own with a ``watch``
that tells this one how far it is; calling it off lets the deed end between two items, as on the
command line. A process that dies becomes a refusal, never a page that waits for ever.
"""

from __future__ import annotations

import multiprocessing as mp
import os
import secrets
import signal
import threading
import time
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from typing import Any, Literal

from mailmerge.deeds import CalledOff
from mailmerge.deeds.questions import Question
from mailmerge.desk import words
from mailmerge.findings import InputError

Deed = Callable[..., Any]
"""Takes ``watch`` by name."""

_OF_LATE, _ENOUGH = 4.0, 0.5
"""Seconds over which the rate is taken, at most and at least. Own judgement."""

State = Literal["at work", "done", "asks", "refused", "called off"]


@dataclass
class Work:
    """One piece of long work, and how far it is."""

    key: str
    """Of the order that it is for."""
    doing: str
    """In words, such as "Making the cups"."""
    name: str = field(default_factory=lambda: secrets.token_hex(4))
    """No other work has it, not even of a desk that is started anew."""
    done: int = 0
    total: int = 0
    state: State = "at work"
    result: Any = None
    """What the deed returned: a question, where it asks."""
    again: Callable[[Any], Work] | None = None
    """Begins the same once more, with an answer to what it asks."""
    refusal: str = ""
    next: str = ""
    """The address of what is to be looked at afterwards."""
    is_broken_off: bool = False
    """Whether the desk that began it was ended in the middle of it."""
    is_seen: bool = False
    """Whether somebody has read why it was refused."""
    ended: threading.Event = field(default_factory=threading.Event)
    _off: Any = None
    _steps: deque[tuple[float, int]] = field(default_factory=lambda: deque(maxlen=4096))
    """When how much was done, of late."""

    @property
    def is_at_work(self) -> bool:
        """Whether it goes on."""
        return self.state == "at work"

    @property
    def question(self) -> Question[Any] | None:
        """What it has to know before it can go on."""
        return self.result if self.state == "asks" else None

    def come(self, done: int, total: int) -> None:
        """Take in how far it is."""
        now = time.monotonic()
        self.done, self.total = done, total
        self._steps.append((now, done))
        while self._steps[0][0] < now - _OF_LATE:
            self._steps.popleft()

    @property
    def rate(self) -> float | None:
        """Items a second, of late; None while nobody can say.

        What is as it was passes by in no time, and must not count for the rest of the work.
        """
        steps = list(self._steps)
        if not steps:
            return None
        (since, before), (_, done) = steps[0], steps[-1]
        passed = time.monotonic() - since
        return (done - before) / passed if done > before and passed >= _ENOUGH else None

    @property
    def left(self) -> float | None:
        """Seconds that it will take still; None while nobody can say."""
        rate = self.rate
        return (self.total - self.done) / rate if rate else None

    def call_off(self) -> None:
        """Let it end before the next item; what it has changed so far is not put on record."""
        if self._off is not None:
            self._off.set()


class Works:
    """All long work of one desk: at most one piece at a time for each order."""

    def __init__(self) -> None:
        self._by_order: dict[str, Work] = {}
        self._lock = threading.Lock()
        self._context = context()

    def of(self, key: str) -> Work | None:
        """Return the last work for an order, whether it goes on or not."""
        return self._by_order.get(key)

    def mark(self, key: str) -> str:
        """Return what changes whenever work for an order begins or ends; ``""`` for none."""
        work = self.of(key)
        return f"{work.name} {work.state}" if work else ""

    def miss(self, key: str, saw: str) -> None:
        """Put on what is said of an order that its work was broken off, if a page saw some go on.

        Work that nothing is known of was begun by a desk that was killed since.
        """
        name, _, state = saw.partition(" ")
        with self._lock:
            if self.of(key) is None and name and state == "at work":
                self._by_order[key] = Work(
                    key, "", state="refused", refusal=words.BROKEN_OFF, is_broken_off=True
                )
                self._by_order[key].ended.set()

    def begin(
        self, key: str, doing: str, deed: Deed, /, *given: Any, then: str, **named: Any
    ) -> Work:
        """Begin work for an order.

        Parameters
        ----------
        deed
            A function of a module, called in another process with ``given``, ``named`` and
            ``watch``. One that asks who is who takes ``choices`` besides.
        then
            The address of what is to be looked at afterwards.

        Raises
        ------
        InputError
            Something is at work for this order already.
        """
        with self._lock:
            before = self._by_order.get(key)
            if before is not None and before.is_at_work:
                raise InputError(words.at_work_already(before.doing))
            work = Work(key, doing, next=then)
            self._by_order[key] = work

        def again(answer: Any) -> Work:
            return self.begin(key, doing, deed, *given, then=then, **{**named, "choices": answer})

        work.again = again
        ours, theirs = self._context.Pipe(duplex=False)
        work._off = self._context.Event()
        process = self._context.Process(
            target=_carry_out, args=(surroundings(), theirs, work._off, deed, given, named)
        )
        process.start()
        theirs.close()
        threading.Thread(target=_follow, args=(work, process, ours), daemon=True).start()
        return work

    def end(self) -> None:
        """Call off everything, and wait a little for it: the desk is closing."""
        for work in self._by_order.values():
            work.call_off()
        for work in self._by_order.values():
            work.ended.wait(5.0)


def context() -> Any:
    """Return how processes are started: without what this one's threads hold."""
    if "forkserver" in mp.get_all_start_methods():
        found = mp.get_context("forkserver")
        found.set_forkserver_preload(["mailmerge.desk.work", "mailmerge.deeds.making"])
        return found
    return mp.get_context("spawn")


def _follow(work: Work, process: Any, ours: Connection) -> None:
    """Take in what a process tells, until it ends."""
    state: State = "refused"
    work.refusal = words.WORK_DIED
    try:
        while True:
            what, told = ours.recv()
            if what == "so far":
                work.come(*told)
            else:
                state, work.refusal = what, told if what == "refused" else ""
                work.result = told if what == "done" else None
                break
    except EOFError:
        pass
    process.join()
    process.close()
    work.state = "asks" if isinstance(work.result, Question) else state
    work.ended.set()


def surroundings() -> dict[str, str]:
    """Return the environment that a process is to have: what it is forked from may have another."""
    return dict(os.environ)


def _carry_out(
    around: dict[str, str], theirs: Connection, off: Any, deed: Deed, given: Any, named: Any
) -> None:
    """Call a deed, and tell what comes of it."""
    os.environ.update(around)
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the desk answers it, and calls this off

    def tell(what: str, told: Any) -> bool:
        try:
            theirs.send((what, told))
        except OSError:  # the desk was killed: nobody waits for this any more
            return False
        return True

    def watch(done: int, total: int) -> bool:
        return tell("so far", (done, total)) and not off.is_set()

    try:
        tell("done", deed(*given, watch=watch, **named))
    except CalledOff:
        tell("called off", "")
    except InputError as error:
        tell("refused", str(error))
