"""Making an order: begin it, check it, merge it, keep its sizes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from mailmerge import merge as engine
from mailmerge.checks import check_close_letters
from mailmerge.deeds import words
from mailmerge.deeds.opening import (
    DEFAULT_BLANK,
    NOTHING_GIVEN,
    Given,
    Taken,
    is_order,
    opened,
    remembered,
    taken_for,
)
from mailmerge.deeds.questions import NO_CHOICES, Choices, Option, Question, or_question
from mailmerge.findings import Cause, Causes, InputError, Unsettled
from mailmerge.guests import RowCount, values_below
from mailmerge.items import ARTWORK, MAKER, PROOFS, SCHEMA, Entry, Totals
from mailmerge.items.record import OrderEntry
from mailmerge.ledger.ledger import open_ledger
from mailmerge.ledger.tray import MERGED, PACK, PAPERS, TO_ENGRAVE
from mailmerge.merge import Changes, Merged
from mailmerge.orders import Order, keep_sizes as put_sizes, new_order, open_order
from mailmerge.orders.said import ORDER_FILE
from mailmerge.progress import Watch, told, unwatched
from mailmerge.workshop.shop.shop import open_shop

__all__ = [
    "NOTHING_SAID",
    "SCHEMA",
    "AboutList",
    "Changes",
    "Entry",
    "Given",
    "RowCount",
    "Taken",
    "Totals",
    "check",
    "keep_sizes",
    "merge",
    "new",
]


@dataclass(frozen=True)
class Started:
    """An order that was begun."""

    file: Path
    """Its ``order.toml``."""
    taken: tuple[Taken, ...]
    """What was taken where the call is silent."""
    columns: dict[str, str]
    """The header of each field's column."""
    unused: Mapping[str, tuple[str, ...]]
    """The headers of the others, with the first texts below each."""
    open_question: str
    """What the list's columns leave open; ``""`` if nothing. The file has a place for it."""


@dataclass(frozen=True, slots=True)
class AboutList:
    """What was said about a client's list that it does not say itself."""

    sheet: str | None = None
    columns: Mapping[str, str] = field(default_factory=dict)
    """Field to header."""
    is_left_open: bool = False
    """Whether what is still open is to be filled into ``order.toml``."""


NOTHING_SAID = AboutList()


def new(
    folder: Path,
    list_file: Path,
    given: Given = NOTHING_GIVEN,
    said: AboutList = NOTHING_SAID,
    due: dt.date | None = None,
) -> Started | Question[AboutList]:
    """Begin an order: a folder with the list and an ``order.toml`` to fill in.

    Asks which sheet or which column it is where the list leaves that open; nothing is written then.

    Parameters
    ----------
    due
        The day by which the cups are wanted; None where nobody has said it.

    Raises
    ------
    InputError
        The folder holds an order already, or list, blank, layout or coat is not usable; nothing is
        written then.
    """
    shop = open_shop()
    try:
        file, question = new_order(
            folder,
            list_file,
            given.title,
            said.sheet or given.sheet,
            given.blank or DEFAULT_BLANK,
            given.layout or shop.named("layouts"),
            given.coat,
            given.machine or shop.named("machines"),
            said.columns,
            said.is_left_open,
            due,
        )
    except Unsettled as unsettled:
        return _about_list(unsettled, list_file, said)
    taken = tuple(each for each in taken_for(given) if each.what != "blank")
    if question is not None:
        return Started(file, taken, {}, {}, str(question))
    guests = open_order(file).guests
    return Started(file, taken, dict(guests.columns.titles), guests.unused, "")


def _about_list(unsettled: Unsettled, list_file: Path, said: AboutList) -> Question[AboutList]:
    """Return what a list leaves open as a question."""
    about, choices = unsettled.about, unsettled.choices
    if about == "sheet":
        answers = [replace(said, sheet=name) for name in choices]
    else:
        answers = [replace(said, columns={**said.columns, about: name}) for name in choices]
    options = [
        Option(str(number), name, answer)
        for number, (name, answer) in enumerate(zip(choices, answers, strict=True), 1)
    ]
    left = Option("n", words.SAID_LATER, replace(said, is_left_open=True))
    if about == "sheet":
        asked = words.which_sheet(choices)
    else:
        below = values_below(list_file, said.sheet, choices)
        asked = words.which_column(about, {header: below.get(header, ()) for header in choices})
    return Question(asked, (*options, left), str(unsettled))


@dataclass(frozen=True)
class Checked:
    """An order that was gone through."""

    order: OrderEntry
    """The ``order`` part of a report."""
    causes: tuple[Cause, ...]
    """Each once, worst first; about a guest once, however many cups are wanted."""
    totals: Totals


def check(
    order: Path,
    given: Given = NOTHING_GIVEN,
    watch: Watch = unwatched,
    each: Callable[[Entry], None] | None = None,
) -> Checked:
    """Go through an order without writing anything, and find what would spoil a blank.

    Parameters
    ----------
    order
        An order, or a bare list with what is ``given`` for it.
    each
        Called with every item as it comes.

    Raises
    ------
    CalledOff
        By ``watch``.
    InputError
        The order is wrong, or it is not sure which row is whose.
    """
    loaded = opened(order, given)
    checked = engine.check(loaded, remembered(order, loaded, NO_CHOICES))
    totals, causes = Totals(), Causes()
    close: set[str] = set()
    for finding in checked.list_findings:
        totals.count_finding(finding.severity)
        causes.add_of_list(finding)
    for entry in checked.entries:
        totals.count(entry)
        for finding in entry.findings if entry.cup == 1 else ():
            causes.add(finding, entry.item, entry.row, entry.name)
        close.update(place for line in entry.lines for place in line.close_letters)
        if each:
            each(entry)
        told(watch, totals.items, checked.items)
    for finding in check_close_letters(close):
        totals.count_finding(finding.severity)
        causes.add_of_list(finding)
    return Checked(checked.order, tuple(causes.worst_first()), totals)


@dataclass(frozen=True)
class Merge:
    """What a merge came to."""

    folder: Path
    list: str
    """The list's file."""
    rows: RowCount
    """What became of its rows."""
    columns: Mapping[str, str]
    """The header of each field's column."""
    unused: Mapping[str, tuple[str, ...]]
    """The headers of the others, with the first texts below each."""
    totals: Totals
    causes: Causes
    """Of stops, and of warnings about the whole list; the first of them."""
    changes: Changes | None
    """What it did to the order on record; None where nothing was put on record."""
    taken: tuple[Taken, ...]
    """What a bare list was given where the call is silent."""

    @property
    def places(self) -> dict[str, Path]:
        """Where what was made lies, by what it is."""
        return {
            "artwork": self.folder / ARTWORK,
            "proofs": self.folder / PROOFS,
            "loading": self.folder / MAKER,
            "findings": self.folder / engine.FINDINGS,
        }


def merge(
    order: Path,
    given: Given = NOTHING_GIVEN,
    out: Path | None = None,
    choices: Choices = NO_CHOICES,
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Merge | Question[Choices]:
    """Write artwork and proof for every cup of an order.

    An order remembers: numbers stay with guests, and only what has changed is made again.

    Parameters
    ----------
    order
        An order, or a bare list with what is ``given`` for it.
    out
        Write everything there, and put nothing on record.
    choices
        What was said about guests that could not be matched for sure.
    jobs
        Processes to use; 0 for one on each core.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        The order is wrong, or a file cannot be written.
    """
    loaded = opened(order, given)
    _see_that_it_may_lie_there(order, out)
    if choices != NO_CHOICES and not is_order(order):
        raise InputError(words.choices_need_an_order(order))
    workers = jobs or engine.cores()
    if is_order(order) and out is None:
        return or_question(lambda: _on_record(loaded, choices, workers, watch), choices)
    folder = out or _beside(order)

    def elsewhere() -> Merge:
        merged = engine.merge(loaded, folder, workers, watch, remembered(order, loaded, choices))
        taken = () if is_order(order) else taken_for(given)
        return _merge(folder, loaded, merged, None, taken)

    return or_question(elsewhere, choices)


def _on_record(order: Order, choices: Choices, jobs: int, watch: Watch) -> Merge:
    folder = order.design.folder
    with open_ledger(folder, missing="make") as ledger:
        merged = engine.update(order, ledger, jobs, watch, choices)
    return _merge(folder / MERGED, order, merged, merged.changes, ())


def _merge(
    folder: Path, order: Order, merged: Merged, changes: Changes | None, taken: tuple[Taken, ...]
) -> Merge:
    guests, rows = order.guests, merged.survey.count
    seen = guests.columns.titles, guests.unused
    return Merge(
        folder, guests.path.name, rows, *seen, merged.totals, merged.causes, changes, taken
    )


def _beside(path: Path) -> Path:
    """Return the folder that is written where none is named and nothing is on record."""
    return path.with_name(f"{path.stem}-merged")


def _see_that_it_may_lie_there(order: Path, out: Path | None) -> None:
    """See that what is written is on record, or lies apart from what is.

    Raises
    ------
    InputError
        It is neither.
    """
    if not is_order(order):
        return
    if out is None:
        if order.is_file() and order.name != ORDER_FILE:
            raise InputError(words.only_order_file_on_record(order, ORDER_FILE))
        return
    own = order if order.is_dir() else order.parent
    for name in (MERGED, PACK, TO_ENGRAVE, PAPERS):
        if out.resolve().is_relative_to((own / name).resolve()):
            raise InputError(words.own_folder(out))


@dataclass(frozen=True, slots=True)
class KeptSize:
    """A letter height that was kept."""

    text: str
    """Of its line, in the layout."""
    role: str
    letter_height: float
    """In mm."""
    members: int
    """How many cups it was settled for; 0 where it was kept from before."""


@dataclass(frozen=True)
class KeptSizes:
    """Letter heights that an order's file holds from now on."""

    file: Path
    sizes: tuple[KeptSize, ...]


def keep_sizes(order: Path) -> KeptSizes:
    """Write the letter heights that an order has settled on into its ``order.toml``.

    Guests who are added later are then set at the size of the cups that are engraved already.

    Raises
    ------
    InputError
        The order is wrong, its layout shares no sizes, or the file cannot be written.
    """
    loaded = opened(order)
    recalled = remembered(order, loaded, NO_CHOICES)
    design = engine.settled(recalled.order if recalled else loaded)
    if not design.sizes.settled:
        raise InputError(words.no_shared_sizes(order, design.layout.name))
    file = put_sizes(order, design)
    return KeptSizes(
        file,
        tuple(
            KeptSize(
                design.layout.line[size.line - 1].text,
                size.role,
                size.letter_height,
                0 if size.kept else size.members,
            )
            for size in design.sizes.settled
        ),
    )
