"""The key of a test card: what each of its cells stands for, as a table."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from mailmerge.files import escaped, read_file, unescaped
from mailmerge.findings import InputError
from mailmerge.shelves import validated
from mailmerge.workshop.settings import words
from mailmerge.workshop.settings.card import LABEL_COLOUR, LABELS, SettingsCard
from mailmerge.workshop.settings.recipes import Settings

KEY = "key.csv"
_LONGEST = 10_000
"""Characters of a cell."""
_COLUMNS = (
    "cell", "group", "colour", "power %", "speed mm/s", "passes", "interval mm", "machine", "coat",
    "coat colour", "blank", "blank identity",
)  # fmt: skip
_LATER = ("blank identity",)
"""Columns that keys of older versions lack."""


def key_csv(card: SettingsCard) -> bytes:
    """Return the key as a table for a spreadsheet, and for :func:`read_cell`."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(_COLUMNS)
    machine, coat, blank = map(escaped, (card.machine.name, card.coat.name, card.blank.name))
    for name, group, colour, settings in (
        *((cell.name, cell.group, cell.colour, cell.settings) for cell in card.cells),
        (LABELS, LABELS, LABEL_COLOUR, card.safe),
    ):
        writer.writerow(
            (
                name, group, colour, f"{settings.power:f}", f"{settings.speed:g}", settings.passes,
                f"{settings.interval:g}", machine, coat, card.coat.colour, blank,
                card.blank.identity,
            )
        )  # fmt: skip
    return text.getvalue().encode("utf-8-sig")


@dataclass(frozen=True)
class Won:
    """A cell of a card, as its key has it."""

    cell: str
    ink: str
    """The colour of its group in the artwork."""
    machine: str
    coat: str
    colour: str
    """Of the coat."""
    blank: str
    blank_identity: str
    """``""`` in a key of an older version."""
    settings: Settings


def read_cell(path: Path, wanted: str) -> Won:
    """Return a cell out of the key of a card, also after a spreadsheet has saved it.

    Parameters
    ----------
    path
        ``key.csv``, or the folder that holds it.

    Raises
    ------
    InputError
        There is no key, it is damaged, or it has no such cell.
    """
    file = path / KEY if path.is_dir() else path
    rows = _rows(file)
    cells = [str(row["cell"]).strip() for row in rows]
    same = [row for cell, row in zip(cells, rows, strict=True) if cell == wanted.strip().upper()]
    if not same:
        raise InputError(words.no_such_cell(file, wanted, cells[0], cells[-2]))
    if len(same) > 1:
        raise InputError(words.cell_twice(file, wanted, len(same)))
    return _cell(file, same[0])


def read_key(path: Path) -> tuple[Won, ...]:
    """Return all cells of a card, in the order of its key; what its labels have is none.

    Raises
    ------
    InputError
        There is no key, or it is damaged.
    """
    file = path / KEY
    return tuple(_cell(file, row) for row in _rows(file) if row["cell"].strip() != LABELS)


def _rows(file: Path) -> list[dict[str, str]]:
    try:
        text = read_file(file).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(words.key_is_no_text(file)) from None
    comma = max(",;\t", key=text.partition("\n")[0].count)
    csv.field_size_limit(_LONGEST)  # a list that was read before may have set another
    try:
        rows = list(csv.DictReader(io.StringIO(text), delimiter=comma, restval=""))
    except csv.Error as error:
        raise InputError(words.no_key(file, error)) from None
    if len(rows) < 2 or not {*_COLUMNS} - {*_LATER} <= rows[0].keys():
        raise InputError(words.no_columns_of_a_key(file, _COLUMNS))
    return rows


def _cell(file: Path, row: Mapping[str, str]) -> Won:
    settings = validated(
        Settings,
        {  # a spreadsheet may have written decimal commas
            key: row[column].replace(",", ".")
            for key, column in (
                ("power", "power %"), ("speed", "speed mm/s"), ("passes", "passes"),
                ("interval", "interval mm"),
            )
        },
        f"{file}: cell {row['cell']}",
    )  # fmt: skip
    return Won(
        row["cell"].strip(),
        row["colour"],
        unescaped(row["machine"]),
        unescaped(row["coat"]),
        row["coat colour"],
        unescaped(row["blank"]),
        (row.get("blank identity") or "").strip(),
        settings,
    )
