"""A run: what is released, as the paper at the machine has it."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from mailmerge.files import read_file
from mailmerge.findings import InputError
from mailmerge.items.record import Kind
from mailmerge.ledger.ledger import Ledger, readable
from mailmerge.ledger.standing import Record, Standing
from mailmerge.ledger.tray import TO_ENGRAVE, missing, place_of
from mailmerge.lettering import licence_of
from mailmerge.merge import scenes_of
from mailmerge.orders import Design, Order
from mailmerge.progress import Watch, told, unwatched
from mailmerge.proofs import Scene, draw_cup, draw_lying, load_of
from mailmerge.proofs.pack.letters import notes_on
from mailmerge.workshop.money.spares import spares_for
from mailmerge.workshop.papers import words
from mailmerge.workshop.settings.recipes import Choice
from mailmerge.workshop.shop.shop import Shop
from mailmerge.workshop.timing.batch import Batch, Job, batch_of, piles_of
from mailmerge.workshop.timing.estimate import Plan, plan_of
from mailmerge.workshop.timing.tally import Log, Spoilage


@dataclass(frozen=True)
class RunCup:
    """A cup of a run."""

    number: int
    place: int
    kind: Kind
    file: str
    """Its name in the folder to engrave from."""
    seal: str
    size: tuple[float, float]
    """Width and height of everything in its file, in mm: what a program must show."""
    name: str
    texts: tuple[str, ...]
    """What is engraved besides the name."""
    notes: tuple[str, ...]
    """What is unusual about the letters of all of it, in words."""
    holding: str
    """Which side, and in which hand, in words."""
    is_left: bool
    """Whether it is the cup of somebody who holds it with the left hand."""
    again: int
    """How many blanks were spoiled on it before."""
    steps: tuple[str, ...]
    """How to load it, in full."""
    settings: str
    """In words; ``""`` where none are known."""
    is_tried: bool
    """Whether they were tried on this coat, blank and machine."""
    seconds: float | None
    look: tuple[str, ...]
    """What to look at before it is engraved."""
    without_yes: str
    """Why it is engraved without the client's yes; ``""`` if there is one."""
    cup: Image.Image
    load: Image.Image


@dataclass(frozen=True)
class RunPile:
    """Blanks of one kind that are laid out together."""

    kind: Kind
    cups: int
    spares: int
    choice: Choice | None

    @property
    def is_tried(self) -> bool:
        """Whether its settings were tried on this coat, blank and machine."""
        return self.choice is not None and self.choice.is_tried

    @property
    def settings_in_words(self) -> str:
        """The settings and where they come from."""
        if self.choice is None:
            return words.SETTINGS_NOT_KNOWN
        return self.choice.in_words


@dataclass(frozen=True)
class Absent:
    """A cup that is wanted and not on the sheet."""

    number: int
    name: str
    standing: Standing


@dataclass(frozen=True)
class Run:
    """What is released of an order."""

    shop: str
    """Its name; ``""`` if it has none."""
    title: str
    mark: str
    """The same for the same cups with the same artwork in the same order."""
    made: dt.datetime
    machine: str
    cups: tuple[RunCup, ...]
    piles: tuple[RunPile, ...]
    spoilage: Spoilage
    fonts: tuple[tuple[str, str], ...]
    """Each font with what its file says of its licence."""
    batch: Batch
    plan: Plan | None
    """None where nobody can say how long any of it takes."""
    due: dt.date | None
    absent: tuple[Absent, ...]

    @property
    def is_flat(self) -> bool:
        """Whether all of it is flat goods."""
        return all(job.record.entry.loading.mouth is None for job in self.batch.jobs)


def run_of(
    ledger: Ledger, order: Order, shop: Shop, log: Log, made: dt.datetime, watch: Watch = unwatched
) -> Run:
    """Return what is released of an order.

    Parameters
    ----------
    made
        When; local time, without a zone. The plan starts from it.

    Raises
    ------
    CalledOff
        By ``watch``, which is told of each cup that is drawn.
    InputError
        Nothing is released, or a file is not as it was made.
    """
    everything = ledger.records()
    records = sorted(
        (record for record in everything if record.standing is Standing.RELEASED),
        key=lambda record: record.events[-1].place or 0,
    )
    elsewhere = (Standing.RELEASED, Standing.ENGRAVED, Standing.GONE)
    folder = ledger.folder
    if not records:
        raise InputError(words.nothing_released(folder))
    if lost := [record.number for record in records if missing(folder, record)]:
        raise InputError(words.files_missing(folder, TO_ENGRAVE, lost))
    design = order.design
    scenes = scenes_of(order, ledger, {record.number for record in records})
    batch = batch_of(folder, records, design.machine, shop, log)
    kinds = piles_of(records)
    spoilage = log.spoilage(shop)
    spares = spares_for(kinds, spoilage.rate)
    return Run(
        shop=shop.values.shop.name,
        title=ledger.fact("title") or "",
        mark=mark_of(records),
        made=made,
        machine=design.machine.name,
        cups=tuple(_cups(folder, batch, scenes, watch)),
        piles=tuple(
            RunPile(kind, count, spares[kind], batch.choices[kind].choice)
            for kind, count in kinds.items()
        ),
        spoilage=spoilage,
        fonts=fonts_of(design),
        batch=batch,
        plan=plan_of(shop, batch.seconds, made) if batch.seconds else None,
        due=order.due,
        absent=tuple(
            Absent(record.number, record.name, record.standing)
            for record in everything
            if record.standing not in elsewhere
        ),
    )


def mark_of(records: list[Record]) -> str:
    """Return what a run is known by: eight characters."""
    rows = "\n".join(f"{place_of(record)} {record.seal}" for record in records)
    return readable(int.from_bytes(hashlib.sha256(rows.encode()).digest()[:5]))


def fonts_of(design: Design) -> tuple[tuple[str, str], ...]:
    """Return the fonts of an order's layout with what their files say of their licences."""
    found: dict[str, str] = {}
    for line in design.layout.line:
        for font in line.style(design.folder).fonts:
            licence = licence_of(font)
            found[font.name] = words.licence(licence.short, licence.embedding)
    return tuple(found.items())


def _cups(
    folder: Path, batch: Batch, scenes: Mapping[int, Scene], watch: Watch
) -> Iterator[RunCup]:
    for done, job in enumerate(batch.jobs):
        told(watch, done, len(batch.jobs))
        yield _cup(folder, job, scenes[job.record.number])


def _cup(folder: Path, job: Job, scene: Scene) -> RunCup:
    record, entry = job.record, job.record.entry
    texts = [line.text for line in entry.lines if line.text and line.field != "name"]
    waived = record.waived if record.waived and not record.yes else None
    return RunCup(
        number=record.number,
        place=record.events[-1].place or 0,
        kind=entry.kind,
        file=place_of(record),
        seal=record.seal or "",
        size=(entry.loading.artwork_mm.width, entry.loading.artwork_mm.height),
        name=record.name,
        texts=tuple(texts),
        notes=tuple(note for text in (record.name, *texts) for note in notes_on(text)),
        is_left=entry.held_by == "left",
        again=record.spoiled,
        holding=words.holding(entry.side, entry.held_by),
        steps=tuple(entry.loading.steps),
        settings=job.choice.settings.in_words if job.choice else "",
        is_tried=job.choice is not None and job.choice.is_tried,
        seconds=job.seconds,
        look=tuple(f.message for f in entry.findings if f.severity == "warning"),
        without_yes=waived.reason if waived else "",
        cup=draw_cup(_released_artwork(folder, record), scene).image,
        load=draw_lying(load_of(scene)),
    )


def _released_artwork(folder: Path, record: Record) -> bytes:
    """Return an item's artwork out of the folder to engrave from."""
    return read_file(folder / TO_ENGRAVE / place_of(record))


@dataclass(frozen=True)
class RunSection:
    """Cups of one pile that are set up and held in one way: nothing at the machine changes."""

    cups: tuple[RunCup, ...]

    @property
    def first(self) -> RunCup:
        """One that stands for all."""
        return self.cups[0]


def sections_of(run: Run) -> list[RunSection]:
    """Return the cups of a run by pile, hand and way of loading, in the order of the run."""
    found: dict[tuple[object, ...], list[RunCup]] = {}
    for cup in run.cups:
        setting_up = (cup.kind, cup.is_left, cup.holding, cup.steps, cup.settings, cup.is_tried)
        found.setdefault(setting_up, []).append(cup)
    return [RunSection(tuple(cups)) for cups in found.values()]
