"""The clock at the bench: kept on the order's record, so that nothing that sleeps loses it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import bench, timing, words
from mailmerge.deeds.bench import SEEN_BY_NOBODY, Became, Seen
from mailmerge.deeds.naming import item_named
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.deeds.timing import Logged
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import Ledger
from mailmerge.ledger.standing import Standing
from mailmerge.ledger.tray import changing

__all__ = ["Running", "Stopped", "finish", "running", "start", "stop"]


@dataclass(frozen=True, slots=True)
class Running:
    """A clock that runs."""

    number: int
    """The item on the machine."""
    since: dt.datetime

    @property
    def mark(self) -> str:
        """Which clock it is: what somebody has before them who stops it."""
        return f"{self.number} {self.since.isoformat()}"

    def until(self, when: dt.datetime | None = None) -> float:
        """Return how many seconds it runs until a time; None for now."""
        return ((when or dt.datetime.now()).astimezone() - self.since).total_seconds()


@dataclass(frozen=True)
class Stopped:
    """A clock that was stopped."""

    number: int
    took: float
    """Seconds."""
    logged: Logged | None
    """What estimates learn from it; None where nothing can be learnt."""
    why_not: str
    """Why not; ``""`` if it is."""


def running(order: Path) -> Running | None:
    """Return the clock that runs for an order; None if none does.

    Raises
    ------
    InputError
        There is no such order, or nothing was merged yet.
    """
    with order_ledger(folder_of(order)) as ledger:
        return _running(ledger)


def _running(ledger: Ledger) -> Running | None:
    told = ledger.on_machine
    return Running(told[0], dt.datetime.fromisoformat(told[1])) if told else None


def start(
    order: Path, item: str, seen: Seen = SEEN_BY_NOBODY, at: dt.datetime | None = None
) -> Running:
    """Start the clock for an item that goes on the machine; one that runs for it runs on.

    Parameters
    ----------
    seen
        The item as somebody has it before them.
    at
        When it went on the machine; None for now.

    Raises
    ------
    InputError
        The item is not released or not as it was seen, or the clock runs for another one.
    """
    with order_ledger(folder_of(order)) as ledger, changing(ledger) as change:
        number, records = item_named(change, item), change.records()
        bench.see_as_seen(records, seen, words.PRESSED["start"])
        of = {each.number: each for each in records}
        if number not in of or of[number].standing is not Standing.RELEASED:
            raise InputError(words.clock_needs_released(number))
        found = _running(change)
        if found and found.number != number:
            raise InputError(words.clock_runs_for(found.number, of[found.number].name))
        if found is None:
            change.set_on_machine(number, at)
            found = _running(change)
    assert found is not None
    return found


def stop(order: Path, seen: str | None = None, at: dt.datetime | None = None) -> Stopped:
    """Stop the clock, and let estimates learn from what it says, where they can.

    Parameters
    ----------
    seen
        Which clock somebody has before them: :attr:`Running.mark`.
    at
        When the machine was done; None for now.

    Raises
    ------
    InputError
        No clock runs, or another one.
    """
    folder = folder_of(order)
    with order_ledger(folder) as ledger, changing(ledger) as change:
        found = _running(change)
        if found is None:
            raise InputError(words.NO_CLOCK)
        if seen is not None and seen != found.mark:
            name = next((r.name for r in change.records() if r.number == found.number), "")
            raise InputError(words.another_clock(found.number, name))
        change.set_on_machine(None)
    return _stopped(folder, found, at)


def _stopped(folder: Path, found: Running, at: dt.datetime | None) -> Stopped:
    """Let estimates learn from a clock that is off the record already."""
    took = found.until(at)
    try:
        return Stopped(found.number, took, timing.log(folder, str(found.number), took), "")
    except InputError as error:
        return Stopped(found.number, took, None, str(error))


def finish(
    order: Path, item: str, seen: Seen = SEEN_BY_NOBODY, at: dt.datetime | None = None
) -> tuple[Became, Stopped | None]:
    """Put on record that a cup is engraved, and stop the clock if it runs for it.

    Parameters
    ----------
    seen
        The item as somebody has it before them.
    at
        When the machine was done; None for now.

    Raises
    ------
    InputError
        The item was not released, or is not as it was seen; nothing is on record then.
    """
    folder = folder_of(order)
    became = bench.engraved(folder, [item], seen, ends_clock=True)
    return became, _stopped(folder, Running(*became.clock), at) if became.clock else None
