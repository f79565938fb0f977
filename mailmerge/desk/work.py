"""Long work: one process for each, so that pages stay quick, and anybody can see how far it is.

Work goes on when its page is closed. It is a deed, called in a process of its own with a ``watch``
that tells this one how far it is; calling it off lets the deed end between two items, as on the
command line. A process that dies becomes a refusal, never a page that waits for ever.

Works of one order follow one another: what is begun while another is at work waits for its turn.
"""

from __future__ import annotations

import os
import secrets
import signal
import threading
import time
from collections import defaultdict, deque
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Literal

from mailmerge.deeds import CalledOff, end_with_parent
from mailmerge.deeds.faults import reported
from mailmerge.deeds.interrupted import Press
from mailmerge.deeds.questions import Question
from mailmerge.desk import words
from mailmerge.desk.nursery import Nursery
from mailmerge.findings import BeingChanged, InputError
from mailmerge.voice import speak

Deed = Callable[..., Any]
"""Takes ``watch`` by name."""

_OF_LATE, _ENOUGH = 4.0, 0.5
"""Seconds over which the rate is taken, at most and at least. Own judgement."""

Keep = Callable[[str, Sequence[Press]], object]
"""Takes an order's key and all that is to come for it, whenever that has changed."""

State = Literal["waits", "at work", "done", "asks", "refused", "called off"]


@dataclass(frozen=True, slots=True)
class Pressed:
    """What somebody has pressed, for the place where it was pressed."""

    at: str
    """What it is about, such as :func:`about_item`."""
    says: str
    """What will stand there."""


ABOUT_CLOCK = "clock"
"""Of what is said about the clock at the bench."""


def about_bench(number: int) -> str:
    """Say that something is about what became of an item at the bench."""
    return f"bench {number}"


def about_item(number: int) -> str:
    """Say that something is about the guest of an item."""
    return f"item {number}"


def about_question(number: int) -> str:
    """Say that something is about a question to be settled."""
    return f"question {number}"


def at_its_turn(
    folder: Path, deed: Callable[..., Any], *given: Any, watch: Any, **named: Any
) -> Any:
    """Call a deed that takes no time, once what was at work is done, elsewhere as well.

    Raises
    ------
    CalledOff
        While somebody else still changed the order.
    """
    while True:
        try:
            return deed(folder, *given, **named)
        except BeingChanged:  # it has waited for a while already
            if not watch(0, 0):
                raise CalledOff from None


def about_text(text: str) -> str:
    """Say that something is about all guests of whom a text is."""
    return f"text {text}"


@dataclass(frozen=True)
class Call:
    """A deed, and what it is called with."""

    deed: Deed
    given: tuple[Any, ...]
    named: dict[str, Any]
    several: str
    """Which of ``named`` is a list that another call's can be added to; ``""`` if none."""

    def with_(self, other: Call) -> Call | None:
        """Return both as one call; None where they differ in more than in what may be several."""
        one, two = ({**each.named, each.several: ()} for each in (self, other))
        if (self.deed, self.given, one) != (other.deed, other.given, two):
            return None
        if not self.several:
            return self
        both = [*self.named[self.several], *other.named[self.several]]
        return replace(self, named={**self.named, self.several: both})


_UNKNOWN = Call(lambda: None, (), {}, "")
"""What an earlier desk was asked to do."""


@dataclass
class Work:
    """One piece of long work, and how far it is."""

    key: str
    """Of the order that it is for."""
    doing: str
    """In words, such as "Making the cups"."""
    call: Call
    name: str = field(default_factory=lambda: secrets.token_hex(4))
    """No other work has it, not even of a desk that is started anew."""
    done: int = 0
    total: int = 0
    state: State = "waits"
    pressed: tuple[Pressed, ...] = ()
    """What it is made for, where that was pressed at a place of its own."""
    sent: tuple[Press, ...] = ()
    """The forms that it is made for, so that they can be sent once more if it is cut short."""
    parts: tuple[Work, ...] = ()
    """Those that it does in one call; none where it is one."""
    result: Any = None
    """What the deed returned: a question, where it asks."""
    refusal: str = ""
    next: str = ""
    """The address of what is to be looked at afterwards."""
    is_broken_off: bool = False
    """Whether the desk that began it was ended in the middle of it."""
    is_called_off: bool = False
    """Whether somebody wants it to end, however far it is by now."""
    is_seen: bool = False
    """Whether somebody has read how it ended, or is told elsewhere."""
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

    @property
    def is_to_come(self) -> bool:
        """Whether what was pressed for it is still to be."""
        return self.state in ("waits", "at work", "asks")

    @property
    def is_refused(self) -> bool:
        """Whether somebody has still to read why it was refused."""
        return self.state == "refused" and not self.is_seen

    @property
    def is_off(self) -> bool:
        """Whether it has ended since it was called off, and nobody has read how."""
        return self.is_called_off and not self.is_seen and self.state in ("called off", "done")

    def anew(self, **named: Any) -> Work:
        """Return the same, to be begun once more."""
        call = replace(self.call, named={**self.call.named, **named})
        return Work(
            self.key, self.doing, call, next=self.next, pressed=self.pressed, sent=self.sent
        )

    def with_(self, other: Work) -> Work | None:
        """Return what does both in one call; None where that cannot be."""
        call = self.call.with_(other.call)
        if call is None or self.doing != other.doing:
            return None
        parts = (*(self.parts or (self,)), other)
        pressed, sent = self.pressed + other.pressed, self.sent + other.sent
        return Work(
            self.key, self.doing, call, next=other.next, pressed=pressed, parts=parts, sent=sent
        )

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
        self.is_called_off = True
        if self._off is not None:
            self._off.set()


def _keep_nothing(_key: str, _sent: Sequence[Press]) -> None:
    """Let what is to come be forgotten when the desk ends."""


class Works:
    """All long work of one desk: of each order one piece after the other."""

    _MOST_REFUSED = 20

    def __init__(self, keep: Keep = _keep_nothing, nursery: Nursery | None = None) -> None:
        self._keep = keep
        self._nursery = nursery or Nursery()
        self._is_ending = False
        self._by_order: dict[str, Work] = {}
        """The one at work, or the last one."""
        self._ended: dict[str, Work] = {}
        self._waiting: dict[str, list[Work]] = defaultdict(list)
        self._refused: dict[str, deque[Work]] = defaultdict(
            lambda: deque(maxlen=self._MOST_REFUSED)
        )
        self._lock = threading.RLock()

    def of(self, key: str) -> Work | None:
        """Return the last work for an order, whether it goes on or not."""
        return self._by_order.get(key)

    def is_busy(self, key: str) -> bool:
        """Whether anything is at work for an order, or waits."""
        work = self.of(key)
        return bool(self._waiting[key]) or (work is not None and work.is_at_work)

    def doing(self, key: str) -> frozenset[str]:
        """Return what all is called that takes long for an order, and is at work or waits."""
        now = self.of(key)
        at_work = [now] if now is not None and now.is_at_work else []
        works = (*at_work, *self._waiting[key])
        return frozenset(work.doing for work in works if work.call.deed is not at_its_turn)

    def waiting(self, key: str) -> tuple[Work, ...]:
        """Return what waits for its turn."""
        return tuple(self._waiting[key])

    def more(self, key: str) -> int:
        """Return how many presses wait for their turn."""
        return sum(len(work.parts) or 1 for work in self._waiting[key])

    def refused(self, key: str) -> list[Work]:
        """Return what was refused and not read yet."""
        return [work for work in self._refused[key] if work.is_refused]

    def pressed(self, key: str) -> list[tuple[Pressed, Work]]:
        """Return what was pressed and is to come or was refused, each with its work."""
        with self._lock:
            works = [*self.refused(key), *self._coming(key)]
            return [(each, work) for work in works for each in work.pressed]

    def _coming(self, key: str) -> list[Work]:
        """Return what is at work or asks, and what waits."""
        now = self.of(key)
        return [*([now] if now is not None and now.is_to_come else []), *self._waiting[key]]

    def _write_down(self, key: str) -> None:
        self._keep(key, [press for work in self._coming(key) for press in work.sent])

    def mark(self, key: str) -> str:
        """Return what changes when work for an order ends, a stroke, and what when it begins."""
        work, ended = self.of(key), self._ended.get(key)
        now = work.name if work is not None and work.is_at_work else ""
        return f"{ended.name if ended else ''}/{now}"

    def miss(self, key: str, saw: str, is_told: bool = False) -> None:
        """Put on what is said of an order that its work was broken off, if a page saw some go on.

        Work that nothing is known of was begun by a desk that was killed since.

        Parameters
        ----------
        is_told
            Whether the order's pages tell what it was already.
        """
        at_work = saw.partition("/")[2]
        with self._lock:
            if at_work and self.of(key) is None and key not in self._ended:
                work = self._ended[key] = Work(
                    key,
                    "",
                    _UNKNOWN,
                    state="refused",
                    refusal=words.BROKEN_OFF,
                    is_broken_off=True,
                    is_seen=is_told,
                )
                work.ended.set()
                self._refused[key].append(work)

    def begin(
        self,
        key: str,
        doing: str,
        deed: Deed,
        /,
        *given: Any,
        then: str,
        pressed: Iterable[Pressed] = (),
        several: str = "",
        sent: Press | None = None,
        **named: Any,
    ) -> Work:
        """Begin work for an order, or let it wait for its turn.

        Parameters
        ----------
        deed
            A function of a module, called in another process with ``given``, ``named`` and
            ``watch``. One that asks who is who takes ``choices`` besides.
        then
            The address of what is to be looked at afterwards.
        pressed
            What is shown where it was pressed, while it is to come and if it is refused.
        several
            Which of ``named`` is a list: calls that wait and differ in it alone become one.
        sent
            The form that it was asked for with.

        Returns
        -------
        Work
            What is to come already, where the same form was the last that was sent about the same.
        """
        call = Call(deed, given, named, several)
        forms = (sent,) if sent else ()
        work = Work(key, doing, call, next=then, pressed=tuple(pressed), sent=forms)
        with self._lock:
            if (last := self._last_about(work)) is not None and last.sent == forms != ():
                return last
            waiting, now = self._waiting[key], self.of(key)
            if now is not None and now.question is not None and not work.pressed:
                # It does not wait for the answer; what asked comes after it, if it was pressed.
                waiting[:0] = [work, *([now.anew()] if now.pressed else [])]
                now.state = "called off"
            else:
                _line_up(waiting, work)
            self._write_down(key)
            self._go_on(key)
        return work

    def _last_about(self, work: Work) -> Work | None:
        """Return what was pressed last, of all that is to come, about the same as a work."""
        about = {each.at for each in work.pressed}
        single = [one for each in self._coming(work.key) for one in each.parts or (each,)]
        return next(
            (each for each in reversed(single) if about & {one.at for one in each.pressed}), None
        )

    def leave(self, key: str) -> None:
        """Do nothing of what asks and of what waits for an order."""
        with self._lock:
            if (now := self.of(key)) is not None and now.question is not None:
                now.state = "called off"
            self._waiting[key].clear()
            self._write_down(key)

    def answer(self, work: Work, answer: Any) -> Work:
        """Begin the same once more, with an answer to what it asks, before what waits."""
        again = work.anew(choices=answer)
        with self._lock:
            work.state = "called off"
            self._waiting[work.key].insert(0, again)
            self._go_on(work.key)
        return again

    def end(self) -> None:
        """Call off everything, and wait a little for it: the desk is closing.

        What was to come stays written down, and is offered by the next desk.
        """
        with self._lock:
            self._is_ending = True
        for work in self._by_order.values():
            work.call_off()
        for work in self._by_order.values():
            if work.is_at_work:
                work.ended.wait(5.0)

    def _go_on(self, key: str) -> None:
        """Let the next one begin, unless one is at work or asks something."""
        now, waiting = self.of(key), self._waiting[key]
        if self._is_ending or not waiting or (now is not None and now.is_to_come):
            return
        work = self._by_order[key] = waiting.pop(0)
        ours, theirs = self._nursery.context.Pipe(duplex=False)
        work._off, work.state = self._nursery.context.Event(), "at work"
        call = work.call
        process = self._nursery.begin(
            _carry_out, surroundings(), theirs, work._off, call.deed, call.given, call.named
        )
        theirs.close()
        threading.Thread(target=self._follow, args=(work, process, ours), daemon=True).start()

    def _follow(self, work: Work, process: Any, ours: Connection) -> None:
        """Take in what a process tells, until it ends; then let the next one begin."""
        state = _told(work, ours)
        process.join()
        self._nursery.ended(process)
        process.close()
        with self._lock:
            work.state, self._ended[work.key] = state, work
            if state == "refused" and work.parts:
                # One of them is not possible: each alone, so that it is told where it was pressed.
                work.is_seen = True
                self._waiting[work.key][:0] = work.parts
            elif state == "refused":
                self._refused[work.key].append(work)
            if not (self._is_ending and state == "called off"):
                self._write_down(work.key)
            self._go_on(work.key)
        for each in (work, *(work.parts if state != "refused" else ())):
            each.state = state
            each.ended.set()


def _line_up(waiting: list[Work], work: Work) -> None:
    """Let a work wait: with one that does the same already, where one call can do both."""
    for at, other in enumerate(waiting):
        if (both := other.with_(work)) is not None:
            waiting[at] = both
            return
    waiting.append(work)


def _told(work: Work, ours: Connection) -> State:
    """Take in what a process tells, until it ends; return how that was."""
    work.refusal = words.WORK_DIED
    try:
        while True:
            what, told = ours.recv()
            if what == "so far":
                work.come(*told)
                continue
            state: State = what
            work.refusal = told if what == "refused" else ""
            work.result = told if what == "done" else None
            return "asks" if isinstance(work.result, Question) else state
    except EOFError:
        return "refused"


_BEHIND = 5
"""How far long work stands back where others want the computer: somebody waits for a picture."""


def surroundings() -> dict[str, str]:
    """Return the environment that a process is to have: what it is forked from may have another."""
    return dict(os.environ)


def _carry_out(
    around: dict[str, str], theirs: Connection, off: Any, deed: Deed, given: Any, named: Any
) -> None:
    """Call a deed, and tell what comes of it; nothing goes on that the desk does not know of."""
    speak()
    end_with_parent()
    os.environ.update(around)
    if hasattr(os, "nice"):
        os.nice(_BEHIND)
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
    except Exception as error:
        tell("refused", words.work_broke(reported(error)))
