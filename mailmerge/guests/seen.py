"""What is recognised in a list before anybody has said anything about it, column by column.

It is for whoever shows it and lets it be put right. Unlike opening a list it never refuses: what is
left open is told beside what was found.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from mailmerge.findings import Unsettled
from mailmerge.guests.columns import HEADER_WITHIN, choose_sheet, letter_of, recognised
from mailmerge.guests.tables import Row, Sheet, Table

_NAMES = frozenset(("name", "first", "last"))
_VALUES_SEEN = 3
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class SeenColumn:
    """A column of a list, and what it was taken for."""

    at: int
    """From 0."""
    letter: str
    heading: str
    field: str
    """``""`` where it is not used."""
    values: tuple[str, ...]
    """The first different texts below its heading."""


@dataclass(frozen=True)
class SeenList:
    """What is seen of a list, and what that leaves open."""

    sheets: tuple[str, ...]
    sheet: str
    header_row: int
    """As spreadsheets count; 0 where nothing stands in the sheet."""
    tops: tuple[tuple[int, tuple[str, ...]], ...]
    """The first rows that hold anything, each with its texts: one of them is the heading."""
    columns: tuple[SeenColumn, ...]
    doubt: str
    """``sheet``, a field that two columns hold or that none does, ``heading`` for a heading that
    stands over two columns, or ``""``."""
    said: tuple[str | None, Mapping[str, str]]
    """Sheet and headings by field, as an order has to name them for the list to be read so."""


def see_list(
    table: Table, sheet: str = "", header_row: int = 0, fields: Mapping[int, str] | None = None
) -> SeenList:
    """Look at a list that was opened, as it is recognised or as somebody has put it right.

    Parameters
    ----------
    sheet, header_row
        ``""`` and 0 for those that are recognised.
    fields
        What each column holds, by its place from 0; None for what is recognised.

    Raises
    ------
    InputError
        The file cannot be read, or there is no such sheet or row.
    """
    chosen, header, of, doubt = _recognised(table, sheet)
    tops = [(row.number, row) for row in islice(chosen.rows(), HEADER_WITHIN) if any(_texts(row))]
    by_number = dict(tops)
    is_plain = not header_row or header_row == header
    header = header_row or header
    texts = _texts(by_number[header]) if header in by_number else []
    if not is_plain:
        of, doubt = _first_of_each(texts), ""
    meant = {at: field for at, field in fields.items() if field} if fields is not None else None
    if meant is not None and meant != {at: field for field, at in of.items()}:
        is_plain, doubt = False, ""
    shown = {at: field for field, at in of.items()} if meant is None else meant
    columns = _columns(chosen, header, texts, shown)
    doubt = doubt or _doubt(columns)
    named = {} if is_plain else _named(columns)
    return SeenList(
        tuple(each.name for each in table.sheets),
        chosen.name,
        header,
        tuple((number, tuple(filter(None, _texts(row)))) for number, row in tops),
        columns,
        doubt,
        (chosen.name if sheet and len(table.sheets) > 1 else None, named),
    )


def _recognised(table: Table, wanted: str) -> tuple[Sheet, int, Mapping[str, int], str]:
    """Return sheet, row of the heading, column by field, and what is open."""
    try:
        sheet, columns = choose_sheet(table, wanted or None, {})
    except Unsettled as unsettled:
        named = unsettled.choices[:1] if unsettled.about == "sheet" else (wanted,)
        sheet = next((each for each in table.sheets if each.name in named), table.sheets[0])
        top = list(islice(sheet.rows(), HEADER_WITHIN))
        widest = max(top, key=lambda row: len([*filter(None, _texts(row))]), default=Row(0, ()))
        return sheet, widest.number, _first_of_each(_texts(widest)), unsettled.about
    return sheet, columns.header_row, columns.of, ""


def _first_of_each(texts: Sequence[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for field, at in recognised(texts):
        found.setdefault(field, at)
    return found


def _texts(row: Row) -> list[str]:
    return [" ".join(cell.text.split()) for cell in row.cells]


def _columns(
    sheet: Sheet, header: int, texts: Sequence[str], shown: Mapping[int, str]
) -> tuple[SeenColumn, ...]:
    below: dict[int, list[str]] = {}
    for row in islice(sheet.rows(), header + HEADER_WITHIN):
        for at, text in enumerate(_texts(row) if row.number > header else ()):
            found = below.setdefault(at, [])
            if text and text not in found and len(found) < _VALUES_SEEN:
                found.append(text[:_LONGEST])
    width = max((at for at, found in below.items() if found), default=-1) + 1
    headings = [*texts, *[""] * (width - len(texts))]
    return tuple(
        SeenColumn(at, letter_of(at), heading, shown.get(at, ""), tuple(below.get(at, ())))
        for at, heading in enumerate(headings)
        if heading or below.get(at)
    )


def _doubt(columns: Sequence[SeenColumn]) -> str:
    """Return what stands in the way of reading the columns so."""
    count = Counter(each.field for each in columns if each.field)
    if twice := [field for field, many in count.items() if many > 1]:
        return twice[0]
    if not count.keys() & _NAMES:
        return "name"
    headings = Counter(each.heading.casefold() for each in columns)
    used = [each.heading.casefold() for each in columns if each.field]
    return "heading" if any(headings[each] > 1 or not each for each in used) else ""


def _named(columns: Sequence[SeenColumn]) -> dict[str, str]:
    """Return the heading of each field; ``""`` for one that a heading tells and nobody means."""
    named = {each.field: each.heading for each in columns if each.field}
    for field, _ in recognised([each.heading for each in columns]):
        named.setdefault(field, "")
    return named


__all__ = ["SeenColumn", "SeenList", "see_list"]
