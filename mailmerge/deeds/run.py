"""The run: what is released, cup by cup, as somebody stands before the machine with it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
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
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """A text on a cup, to be compared letter by letter."""

    letters: tuple[str, ...]
    """As people see letters: with their marks, blanks as they are."""
    notes: tuple[str, ...]
    """What is unusual about them, in words."""


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


def in_run(records: tuple[Record, ...]) -> list[Record]:
    """Return those of an order's records that are released, in the order of the run."""
    released = [each for each in records if each.standing is Standing.RELEASED]
    return sorted(released, key=lambda each: each.events[-1].place or 0)


@dataclass(frozen=True, slots=True)
class Held:
    """What is not to be engraved yet, and why."""

    in_question: tuple[Record, ...]
    """Something came back that may concern them, and nobody has settled it yet."""
    questions: int
    """How many questions hold those."""
    wished: tuple[Record, ...]
    """Somebody wants them changed."""
    waiting: tuple[Record, ...]
    """The client has not said yes to them."""
    stopped: tuple[Record, ...]
    """They have no artwork."""
    taken_back: tuple[Record, ...]
    """Of all of these, what was released already and left the folder to engrave from."""

    @property
    def unforeseen(self) -> int:
        """How many would be engraved by now, had nothing come between."""
        return len({each.number for each in (*self.in_question, *self.taken_back)})

    def __bool__(self) -> bool:
        """Whether anything is held."""
        return bool(self.in_question or self.wished or self.waiting or self.stopped)


def held(records: tuple[Record, ...]) -> Held:
    """Return which of an order's records are not to be engraved yet, and why."""

    def standing(*wanted: Standing) -> tuple[Record, ...]:
        return tuple(each for each in records if each.standing in wanted)

    asked = standing(Standing.IN_QUESTION)
    wished = standing(Standing.TO_CHANGE, Standing.DISAGREE)
    waiting, stopped = standing(Standing.WAITING), standing(Standing.STOPPED)
    return Held(
        asked,
        len({question.number for each in asked for question in each.questions}),
        wished,
        waiting,
        stopped,
        tuple(
            each
            for each in (*asked, *wished, *waiting, *stopped)
            if each.events and each.events[-1].what == "withdrawn"
        ),
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
