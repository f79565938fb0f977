"""What the clock says: how long the machine really took for a cup, put on record."""

from __future__ import annotations

import datetime as dt

from mailmerge.findings import InputError
from mailmerge.ledger.ledger import LedgerChange, now
from mailmerge.ledger.standing import Record, Timing
from mailmerge.machines import Machine
from mailmerge.machines.motion import motion_mark
from mailmerge.workshop.shop.shop import Shop
from mailmerge.workshop.timing import words
from mailmerge.workshop.timing.batch import Job, batch_of
from mailmerge.workshop.timing.tally import Log


def put_time(change: LedgerChange, machine: Machine, shop: Shop, number: int, took: float) -> Job:
    """Put on record how long a machine took for an item; inside a change.

    It is compared with the recipe of the day on which the cup was engraved; what still lies on the
    machine is engraved with what its run sheet says today.

    Parameters
    ----------
    took
        Seconds by the clock, without loading.

    Returns
    -------
    Job
        The item as it was worked out: by profile and settings alone.

    Raises
    ------
    InputError
        There is no such item, it is not engraved, or nobody can say what it should have taken.
    """
    record = next((each for each in change.records() if each.number == number), None)
    if record is None:
        raise InputError(words.no_such_item(change.folder, number))
    _see_that_it_compares(record)
    last = record.events[-1]
    on = dt.datetime.fromisoformat(last.at).date() if last.what == "engraved" else None
    (job,) = batch_of(change.folder, [record], machine, shop, Log(()), on).jobs
    if job.engraving is None or not job.engraving.lines:
        raise InputError(words.no_recipe(number, record.entry.coat, machine.name))
    timing = Timing(
        seal=last.seal,
        machine=machine.name,
        motion=motion_mark(machine),
        lines=job.engraving.lines,
        worked_out=job.engraving.seconds,
        took=took,
        at=now(),
    )
    change.put_timing(number, timing)
    return job


def _see_that_it_compares(record: Record) -> None:
    """See that an item's artwork is at hand and is what lies or lay on the machine."""
    if not record.events or record.events[-1].what not in ("released", "engraved"):
        raise InputError(words.not_engraved(record.number, record.standing))
    if record.gone:
        raise InputError(words.artwork_gone(record.number))
    if record.events[-1].seal != record.seal:
        raise InputError(words.artwork_changed(record.number))
