"""Beginning an order with a list that has just come: lay it by, look at it, put it right, begin."""

from __future__ import annotations

import datetime as dt
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from mailmerge.artwork.layout import ORDER_FIELDS, fields_of
from mailmerge.deeds import words
from mailmerge.deeds.choosing import layouts
from mailmerge.deeds.known import Known, place_for, plain_name, remember
from mailmerge.deeds.laid import Laid, clear_old, laid, laid_lists, let_go, place_of, root
from mailmerge.deeds.making import AboutList, Given, new
from mailmerge.deeds.offered import blanks_to_begin_with
from mailmerge.deeds.questions import Question
from mailmerge.findings import InputError
from mailmerge.guests.columns import FIELDS
from mailmerge.guests.names import slug
from mailmerge.guests.opening import open_table
from mailmerge.guests.reading import settled
from mailmerge.guests.seen import SeenColumn, SeenList, see_list
from mailmerge.guests.tables import Table
from mailmerge.shelves import shelf

__all__ = [
    "FIELDS",
    "Begun",
    "Laid",
    "Recognised",
    "Sample",
    "SeenColumn",
    "SeenList",
    "begin",
    "laid",
    "laid_lists",
    "lay_by",
    "let_go",
    "recognise",
]


MOST_ROWS = 10_000
"""Rows of a list that is looked at on a page: every look reads all of them. Own judgement."""


def lay_by(name: str, data: bytes, order: str = "") -> str:
    """Keep a list that came, until it is taken or a week old.

    Parameters
    ----------
    order
        The key of the order whose newer list it is; ``""`` if it is to begin an order.

    Returns
    -------
    str
        What it is asked for with.

    Raises
    ------
    InputError
        It is no list, longer than :data:`MOST_ROWS`, or it cannot be written; nothing is kept
        then.
    """
    key = secrets.token_hex(8)
    here = root()
    clear_old(here)
    place = place_of(key, order)
    own = f"{place}/{plain_name(name)}"
    here.write(own, data)
    try:
        see_list(_short(here.path / own))
    except InputError as error:
        here.clear(place)
        told = str(error).replace(str(here.path / own), plain_name(name))
        raise InputError(told) from None
    return key


def _short(file: Path) -> Table:
    """Open a list that is no longer than a page can look at, without reading all of one that is."""
    # A text's rows are its lines, but where a cell holds some: nobody's list has so many of those.
    is_text = not file.read_bytes().startswith(b"PK")
    if is_text and file.read_bytes().count(b"\n") > MOST_ROWS:
        raise InputError(words.more_rows_than(MOST_ROWS))
    table = open_table(file)
    for sheet in table.sheets:
        if any(True for _ in islice(sheet.rows(), MOST_ROWS, None)):
            raise InputError(words.more_rows_than(MOST_ROWS))
    return table


@dataclass(frozen=True, slots=True)
class Sample:
    """What a layout says on the cup of a list's first guest."""

    name: str
    note: str
    lines: tuple[str, ...]
    lacks: tuple[str, ...]
    """Fields that it engraves and the list does not have: it cannot be taken then."""


@dataclass(frozen=True)
class Recognised:
    """A list as it would be read."""

    seen: SeenList
    guests: int
    cups: int
    """0 where the list cannot be read so yet."""
    samples: tuple[Sample, ...]
    """Of each layout."""


def recognise(
    list_file: Path,
    sheet: str = "",
    header_row: int = 0,
    fields: Mapping[int, str] | None = None,
    title: str = "",
) -> Recognised:
    """Show what is recognised in a list, or how it is read once that was put right.

    Parameters
    ----------
    sheet, header_row
        ``""`` and 0 for those that are recognised.
    fields
        What each column holds, by its place from 0; None for what is recognised.
    title
        Whose party it is, for the samples.

    Raises
    ------
    InputError
        The file cannot be read, or there is no such sheet.
    """
    table = open_table(list_file)
    seen = see_list(table, sheet, header_row, fields)
    if seen.doubt:
        return Recognised(seen, 0, 0, _samples({}, frozenset(FIELDS), title))
    found = settled(table, *seen.said)
    survey = found.survey()
    first = next(iter(found.guests()), None)
    texts = dict(first.fields) if first else {}
    samples = _samples(texts, frozenset(found.known_fields), title)
    return Recognised(seen, survey.guests, survey.items, samples)


def _samples(texts: Mapping[str, str], known: frozenset[str], title: str) -> tuple[Sample, ...]:
    given = {**texts, **dict.fromkeys(ORDER_FIELDS, ""), "order.title": title or words.YOUR_TITLE}
    found = []
    for name, layout in layouts().items():
        used = [field for line in layout.line for field in fields_of(line.text)]
        lacks = [each for each in used if each not in ORDER_FIELDS and each not in known]
        lines = [_filled(line.text, given) for line in layout.line]
        shown = tuple(dict.fromkeys(line for line in lines if line))
        found.append(Sample(name, layout.note, shown, tuple(dict.fromkeys(lacks))))
    return tuple(found)


def _filled(text: str, given: Mapping[str, str]) -> str:
    for field in fields_of(text):
        text = text.replace(f"{{{field}}}", given.get(field, ""))
    return text.strip()


@dataclass(frozen=True, slots=True)
class Begun:
    """An order that was begun."""

    known: Known
    about: AboutList
    """What was said about its list."""


def begin(key: str, seen: SeenList, given: Given, due: dt.date | None = None) -> Begun:
    """Make an order of a list that was laid by, in a folder of its own below the shop's.

    Parameters
    ----------
    key
        Of the list.
    seen
        How it is read.
    given
        Whose party it is, the blank as one of :func:`~mailmerge.deeds.offered.blanks_to_begin_with`
        is called, its coat, and the layout by its name in the library. The machine likewise; None
        for the shop's.

    Raises
    ------
    InputError
        Something is still open, or what was given is not usable; nothing is written then.
    """
    list_file = laid(key)
    if not (given.title or "").strip():
        raise InputError(words.TITLE_MISSING)
    chosen = next((e.blank for e in blanks_to_begin_with() if e.name == given.blank), None)
    if chosen is None:
        raise InputError(words.CHOOSE_BLANK)
    if not given.coat and len(chosen.coat) > 1:
        raise InputError(words.CHOOSE_COAT)
    if given.layout not in shelf("layouts"):
        raise InputError(words.CHOOSE_LAYOUT)
    if given.machine not in (None, *shelf("machines")):
        raise InputError(words.CHOOSE_MACHINE)
    sheet, columns = seen.said
    about = AboutList(sheet, columns)
    folder = place_for(slug(given.title or "", "order"))
    started = new(folder, list_file, given, about, due)
    if isinstance(started, Question):
        raise InputError(started.words)
    known = remember(started.file)
    root().clear(key)
    return Begun(known, about)
