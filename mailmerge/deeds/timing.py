"""Time: how long what is left takes, and what the clock has said."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.bench import count_in_shop
from mailmerge.deeds.naming import item_named
from mailmerge.deeds.opening import current, folder_of, order_ledger
from mailmerge.findings import InputError
from mailmerge.ledger.tray import changing
from mailmerge.orders import open_order
from mailmerge.progress import Watch, unwatched
from mailmerge.workshop.shop.shop import WorkMinutes, open_shop
from mailmerge.workshop.timing.batch import Batch, Job, batch_of, not_worked_out, still_to_engrave
from mailmerge.workshop.timing.clock import put_time
from mailmerge.workshop.timing.estimate import (
    ENOUGH,
    Engraving,
    Overhead,
    Plan,
    defaults_of_time,
    plan_of,
)
from mailmerge.workshop.timing.tally import LONGEST, read_log
from mailmerge.workshop.timing.worked_out import keep, kept

__all__ = [
    "ENOUGH",
    "Batch",
    "Job",
    "Overhead",
    "Plan",
    "WorkedOut",
    "log",
    "take_in",
    "time",
    "to_work_out",
    "work_out",
]


def now_in_shop() -> dt.datetime:
    """Return the time by the clock in the shop, to the minute."""
    return dt.datetime.now().replace(second=0, microsecond=0)


@dataclass(frozen=True)
class Timed:
    """How long the cups take that are still to be engraved."""

    batch: Batch
    plan: Plan | None
    """None where nobody can say how long any of it takes."""
    due: dt.date | None
    minutes: WorkMinutes
    """What the shop reckons with."""
    defaults: tuple[str, ...]
    """Which of a plan's numbers are defaults, in words."""

    @property
    def in_time(self) -> bool | None:
        """Whether it is done by the due day; None where one of them is not known."""
        return self.plan.is_ready_by(self.due) if self.plan and self.due else None

    @property
    def seconds(self) -> float:
        """At the machine, of all cups together."""
        return sum(self.batch.seconds.values())

    @property
    def together(self) -> float:
        """Minutes from the beginning on, the last cup's handling included."""
        return self.plan.minutes + self.minutes.handling if self.plan else 0.0

    @property
    def waiting(self) -> float:
        """Minutes that the machine waits for hands."""
        cups = len(self.batch.seconds)
        work = self.seconds / 60 + self.minutes.setup + cups * self.minutes.loading
        return self.together - work - self.minutes.handling


def time(order: Path, start: dt.datetime | None = None, watch: Watch = unwatched) -> Timed:
    """Say how long the cups that are still to be engraved take, and when they are all done.

    Parameters
    ----------
    start
        When you begin, by the clock in the shop; None for now.

    Raises
    ------
    CalledOff
        By ``watch``, before anything was merged.
    InputError
        The order has changed since the last merge, or the time is none of the shop's clock.
    """
    begin = start or now_in_shop()
    if begin.tzinfo or not 2000 <= begin.year < 3000:
        raise InputError(words.no_time_in_shop(begin.isoformat(" ")))
    folder, shop = folder_of(order), open_shop()
    with order_ledger(folder, missing="make") as ledger:
        loaded = current(ledger, watch)
        log = read_log(shop, ledger)
        batch = batch_of(
            folder, still_to_engrave(ledger), loaded.design.machine, shop, log, watch=watch
        )
    plan = plan_of(shop, batch.seconds, begin) if batch.seconds else None
    return Timed(batch, plan, loaded.due, shop.values.minutes, tuple(defaults_of_time(shop)))


@dataclass(frozen=True)
class WorkedOut:
    """How long artwork takes, by what that comes from."""

    times: Mapping[str, Engraving]


def work_out(order: Path, watch: Watch = unwatched) -> WorkedOut:
    """Work out how long every cup takes, so that time and price are told at once afterwards.

    What it returns is for another process, see :func:`take_in`.

    Raises
    ------
    CalledOff
        By ``watch``.
    InputError
        As :func:`time`.
    """
    folder, shop = folder_of(order), open_shop()
    with order_ledger(folder, missing="make") as ledger:
        machine = current(ledger, watch).design.machine
        records = [record for record in ledger.records() if not record.gone]
        batch_of(folder, records, machine, shop, read_log(shop, ledger), watch=watch)
    return WorkedOut(kept())


def take_in(found: WorkedOut) -> None:
    """Keep what was worked out in another process."""
    keep(found.times)


def to_work_out(order: Path) -> int:
    """Return of how many cups it has to be worked out still how long they take.

    Raises
    ------
    InputError
        The order is wrong or has no cups yet, or an artwork file cannot be read.
    """
    folder, shop = folder_of(order), open_shop()
    with order_ledger(folder) as ledger:
        machine = open_order(folder).design.machine
        records = [record for record in ledger.records() if not record.gone]
        return not_worked_out(folder, records, machine, shop)


@dataclass(frozen=True)
class Logged:
    """How long a cup took by the clock, put on record."""

    job: Job
    """The item as it was worked out, by profile and settings alone."""
    took: float
    """Seconds by the clock."""
    worked_out: float
    """Seconds by the profile alone."""
    settings: str
    """In words."""
    overhead: Overhead
    """What the machine takes beyond its profile, with this cup."""
    not_logged: str
    """Why it is not on the shop's log; ``""`` if it is."""


def log(order: Path, item: str, took: float, watch: Watch = unwatched) -> Logged:
    """Put on record how long the machine really took for a cup: estimates learn from it.

    Parameters
    ----------
    item
        A number, the name of a file to engrave, or the code of a run sheet.
    took
        Seconds by the clock, without loading.

    Raises
    ------
    InputError
        The item is not known or was never released, the order has changed since the last merge, or
        no cup takes so long.
    """
    if not 0 < took <= LONGEST:  # so that nan is refused as well
        raise InputError(words.NO_TIME_TAKEN)
    folder, shop = folder_of(order), open_shop()
    with order_ledger(folder) as ledger:
        machine = current(ledger, watch).design.machine
        number = item_named(ledger, item)
        with changing(ledger) as change:
            job = put_time(change, machine, shop, number, took)
        not_logged = count_in_shop(ledger)
        batch = batch_of(folder, [job.record], machine, shop, read_log(shop, ledger))
    assert job.engraving is not None
    assert job.choice is not None
    return Logged(job, took, job.engraving.seconds, job.choice.in_words, batch.overhead, not_logged)
