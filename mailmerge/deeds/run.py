"""The run: what is released, cup by cup, as somebody stands before the machine with it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.held import Held, held, in_run
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.files import read_file
from mailmerge.findings import InputError
from mailmerge.guests.names import clusters
from mailmerge.ledger.contents import TO_ENGRAVE
from mailmerge.ledger.standing import Record, Standing
from mailmerge.ledger.tray import missing, place_of
from mailmerge.orders import open_order
from mailmerge.proofs.pack.letters import notes_on
from mailmerge.workshop.papers.words import CAUTIONS, FLAT_STEPS, STEPS
from mailmerge.workshop.settings.recipes import Choice
from mailmerge.workshop.shop.shop import open_shop
from mailmerge.workshop.timing.batch import batch_of
from mailmerge.workshop.timing.tally import read_log

__all__ = [
    "CAUTIONS", "AtMachine", "Held", "Line", "at_machine", "file_to_load", "held", "in_run",
    "is_begun",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """A text on a cup, to be compared letter by letter."""

    letters: tuple[str, ...]
    """As people see letters: with their marks, blanks as they are."""
    notes: tuple[str, ...]
    """What is unusual about them, in words."""

    @property
    def words(self) -> tuple[tuple[str, ...], ...]:
        """The letters word by word: each blank is alone, and a word may end after a hyphen."""
        found: list[list[str]] = [[]]
        for letter in self.letters:
            if letter == " ":
                found += [[letter], []]
                continue
            found[-1].append(letter)
            if letter in _HYPHENS:
                found.append([])
        return tuple(tuple(word) for word in found if word)


_HYPHENS = ("-", "\u2010")


@dataclass(frozen=True)
class AtMachine:
    """A released cup, and all that is needed to engrave it."""

    record: Record
    file: str
    """Its name in the folder to engrave from."""
    folder: Path
    """That folder."""
    size: tuple[float, float]
    """What the file must measure, in mm: width and height."""
    lines: tuple[Line, ...]
    choice: Choice | None
    """Its settings; None where nobody knows any."""
    limit: float | None
    """The fastest that the axis along its lines moves, in mm/s, where the settings ask for more."""
    seconds: float | None
    """How long it takes, as far as anybody can say."""
    steps: tuple[str, ...]
    """How to load it."""
    routine: tuple[str, ...]
    """What is done with every cup. Common practice."""


def is_begun(records: Iterable[Record], day: dt.date) -> bool:
    """Whether a cup was engraved on a day already."""
    return any(
        event.what == "engraved" and dt.datetime.fromisoformat(event.at).date() == day
        for record in records
        for event in record.events
    )


def at_machine(order: Path, number: int) -> AtMachine:
    """Return what is needed to engrave a released cup.

    Raises
    ------
    InputError
        It is not released, its file is not there as it was released, or the order is wrong.
    """
    folder, shop = folder_of(order), open_shop()
    with order_ledger(folder) as ledger:
        record = next((each for each in ledger.records() if each.number == number), None)
        if record is None or record.standing is not Standing.RELEASED:
            raise InputError(words.not_in_run(number))
        if missing(folder, record):
            raise InputError(words.file_not_there(number))
        log = read_log(shop, ledger)
    machine = open_order(folder).design.machine
    (job,) = batch_of(folder, [record], machine, shop, log).jobs
    entry = record.entry
    box = entry.loading.artwork_mm
    return AtMachine(
        record,
        place_of(record),
        folder / TO_ENGRAVE,
        (box.width, box.height),
        tuple(
            Line(tuple(clusters(line.text)), tuple(notes_on(line.text)))
            for line in entry.lines
            if line.text
        ),
        job.choice,
        job.limit,
        job.seconds,
        entry.loading.steps,
        FLAT_STEPS if entry.loading.mouth is None else STEPS,
    )


def file_to_load(order: Path, number: int) -> tuple[str, bytes]:
    """Return the artwork of a released cup, to be carried to its machine: its name, and the file.

    Raises
    ------
    InputError
        The cup is not released, or its file is not there as it was released.
    """
    cup = at_machine(order, number)
    return cup.file, read_file(cup.folder / cup.file)
