"""A batch at the machine: each item with its settings and its minutes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from statistics import fmean

from mailmerge.findings import InputError
from mailmerge.items.record import Kind
from mailmerge.ledger.ledger import Ledger
from mailmerge.ledger.standing import Record, Standing
from mailmerge.ledger.tray import MERGED
from mailmerge.machines import Machine
from mailmerge.machines.motion import motion_of
from mailmerge.progress import Watch, told, unwatched
from mailmerge.workshop.settings.recipes import Choice, Settings, choice_for
from mailmerge.workshop.shop.shop import Shop
from mailmerge.workshop.timing import words
from mailmerge.workshop.timing.estimate import Engraving, Overhead, overhead_of
from mailmerge.workshop.timing.tally import Log
from mailmerge.workshop.timing.worked_out import kept, mark_of, worked_out


@dataclass(frozen=True)
class Job:
    """An item at the machine."""

    record: Record
    choice: Choice | None
    """Its settings; None where neither shop nor library knows any for its coat on this machine."""
    limit: float | None
    """The fastest that the axis along its lines moves in mm/s, where the settings ask for more."""
    engraving: Engraving | None
    """None without settings, or where a stop leaves no artwork to measure."""
    seconds: float | None
    """At the machine, its overhead included; of an item without artwork the others' mean."""


@dataclass(frozen=True)
class Batch:
    """Items in the order of their work."""

    machine: Machine
    jobs: tuple[Job, ...]
    overhead: Overhead

    @property
    def seconds(self) -> dict[int, float]:
        """Seconds at the machine by item, of those that are known."""
        return {j.record.number: j.seconds for j in self.jobs if j.seconds is not None}

    @property
    def without_settings(self) -> list[int]:
        """Items for whose coat no settings are known."""
        return [job.record.number for job in self.jobs if job.choice is None]

    @property
    def without_artwork(self) -> list[int]:
        """Items that have settings, but are stopped; their time is the others' mean, if any."""
        return [j.record.number for j in self.jobs if j.choice and j.engraving is None]

    @property
    def choices(self) -> dict[Kind, Job]:
        """The first job of every kind."""
        found: dict[Kind, Job] = {}
        for job in self.jobs:
            found.setdefault(job.record.entry.kind, job)
        return found


def batch_of(
    folder: Path,
    records: Iterable[Record],
    machine: Machine,
    shop: Shop,
    log: Log,
    on: dt.date | None = None,
    watch: Watch = unwatched,
) -> Batch:
    """Return items with their settings and times, worked out from their artwork files.

    Parameters
    ----------
    folder
        The order's.
    on
        The day whose recipes count; by default today.

    Raises
    ------
    CalledOff
        By ``watch``.
    InputError
        A recipe's file is wrong, or an artwork file cannot be read.
    """
    records = list(records)
    overhead = overhead_of(log.timed, machine)
    chosen = _choices(shop, machine, records, on)
    told(watch, 0, len(records))
    found: list[tuple[Record, Choice | None, float | None, Engraving | None]] = []
    for record in records:
        choice = chosen[record.entry.kind]
        settings = choice.settings if choice else None
        limit = None
        if settings:
            fastest = motion_of(machine, settings.speed, record.entry.loading.mouth).speed
            limit = fastest if fastest < settings.speed else None
        engraving = _engraving(folder, record, machine, settings)
        found.append((record, choice, limit, engraving))
        told(watch, len(found), len(records))
    known = [overhead.added_to(engraving) for *_, engraving in found if engraving]
    mean = fmean(known) if known else None
    return Batch(
        machine,
        tuple(
            Job(
                record,
                choice,
                limit,
                engraving,
                overhead.added_to(engraving) if engraving else mean if choice else None,
            )
            for record, choice, limit, engraving in found
        ),
        overhead,
    )


def _choices(
    shop: Shop, machine: Machine, records: list[Record], on: dt.date | None
) -> dict[Kind, Choice | None]:
    kinds = dict.fromkeys(record.entry.kind for record in records)
    return {kind: choice_for(shop, machine, kind, on) for kind in kinds}


def _engraving(
    folder: Path, record: Record, machine: Machine, settings: Settings | None
) -> Engraving | None:
    if settings is None or record.entry.artwork is None:
        return None
    return worked_out(_artwork(folder, record), machine, settings, *_lying(record))


def _artwork(folder: Path, record: Record) -> bytes:
    path = folder / MERGED / str(record.entry.artwork)
    try:
        return path.read_bytes()
    except OSError as error:
        raise InputError(words.artwork_unreadable(path, error.strerror or error)) from None


def _lying(record: Record) -> tuple[str | None, tuple[float, float]]:
    """Return to which side an item's mouth lies, and where the head starts."""
    lies = record.entry.loading
    return lies.mouth, (lies.start_mm.x, lies.start_mm.y)


def not_worked_out(folder: Path, records: Iterable[Record], machine: Machine, shop: Shop) -> int:
    """Return of how many items nobody has worked out yet how long they take.

    Raises
    ------
    InputError
        As :func:`batch_of`.
    """
    records, known, open_ones = list(records), kept(), 0
    chosen = _choices(shop, machine, records, None)
    for record in records:
        choice = chosen[record.entry.kind]
        if choice is not None and record.entry.artwork is not None:
            artwork = _artwork(folder, record)
            open_ones += mark_of(artwork, machine, choice.settings, *_lying(record)) not in known
    return open_ones


def still_to_engrave(ledger: Ledger) -> list[Record]:
    """Return the items whose cups are wanted and do not exist yet, what is released first."""
    done = (Standing.GONE, Standing.ENGRAVED)
    records = [record for record in ledger.records() if record.standing not in done]
    return sorted(records, key=_place)


def _place(record: Record) -> tuple[bool, int]:
    is_released = record.standing is Standing.RELEASED
    return not is_released, (record.events[-1].place or 0) if is_released else record.number


def piles_of(records: list[Record]) -> dict[Kind, int]:
    """Return how many cups of each kind there are, in the order of their work."""
    found: dict[Kind, int] = {}
    for record in records:
        kind = record.entry.kind
        found[kind] = found.get(kind, 0) + 1
    return found
