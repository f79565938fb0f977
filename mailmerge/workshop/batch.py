"""A batch at the machine: each item with its settings and its minutes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from statistics import fmean

from mailmerge.findings import InputError
from mailmerge.machines import Machine
from mailmerge.orders.release import MERGED
from mailmerge.orders.standing import Record
from mailmerge.workshop.estimate import Engraving, Overhead, engraving_of, overhead_of
from mailmerge.workshop.recipes import Recipe, Settings, StartingPoint, recipe_for
from mailmerge.workshop.shop import Shop
from mailmerge.workshop.tally import Log


@dataclass(frozen=True)
class Job:
    """An item at the machine."""

    record: Record
    settings: Recipe | StartingPoint | None
    """None where neither shop nor library knows any for its coat on this machine."""
    engraving: Engraving | None
    """None without settings, or where a stop leaves no artwork to measure."""
    seconds: float | None
    """At the machine, its overhead included; of an item without artwork the others' mean."""

    @property
    def is_tried(self) -> bool:
        """Whether somebody has tried its settings on a test piece."""
        return isinstance(self.settings, Recipe)


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
    def unknown(self) -> list[int]:
        """Items of which nobody can say how long they take."""
        return [job.record.number for job in self.jobs if job.seconds is None]

    @property
    def too_fast(self) -> list[Settings]:
        """Settings that are faster than the machine, each once; it is taken at its fastest."""
        limit = self.machine.speed
        found = {j.settings for j in self.jobs if j.settings and limit and j.settings.speed > limit}
        return sorted(found, key=lambda settings: settings.speed)


def batch_of(
    folder: Path, records: Iterable[Record], machine: Machine, shop: Shop, log: Log
) -> Batch:
    """Return items with their settings and times, worked out from their artwork files.

    Parameters
    ----------
    folder
        The order's.

    Raises
    ------
    InputError
        A recipe's file is wrong, or an artwork file cannot be read.
    """
    records = list(records)
    overhead = overhead_of(log.timed, machine.name)
    coats = {str(record.entry["coat"]) for record in records}
    chosen = {coat: recipe_for(shop, machine, coat) for coat in coats}
    found: list[tuple[Record, Recipe | StartingPoint | None, Engraving | None]] = []
    for record in records:
        settings = chosen[str(record.entry["coat"])]
        found.append((record, settings, _engraving(folder, record, machine, settings)))
    known = [overhead.added_to(engraving) for *_, engraving in found if engraving]
    mean = fmean(known) if known else None
    return Batch(
        machine,
        tuple(
            Job(
                record,
                settings,
                engraving,
                overhead.added_to(engraving) if engraving else mean if settings else None,
            )
            for record, settings, engraving in found
        ),
        overhead,
    )


def _engraving(
    folder: Path, record: Record, machine: Machine, settings: Settings | None
) -> Engraving | None:
    name = record.entry["artwork"]
    if settings is None or name is None:
        return None
    path = folder / MERGED / str(name)
    try:
        artwork = path.read_bytes()
    except OSError as error:
        raise InputError(
            f"{path}: cannot be read: {error.strerror or error}; merge again"
        ) from None
    return engraving_of(artwork, machine, settings, record.entry["loading"]["mouth"])
