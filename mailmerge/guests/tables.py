"""A list file as sheets of rows of cells, whatever its format; rows stream.

The formats' own libraries stay behind this module and its two neighbours ``workbook`` and
``textfile``; everything after them sees only :class:`Sheet`, :class:`Row` and :class:`Cell`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import NamedTuple


class Kind(Enum):
    """What the file says that a cell holds."""

    TEXT = "text"
    NUMBER = "number"
    DATE = "date"
    NO_VALUE = "a formula without a stored result"
    ERROR = "an error value"


class Cell(NamedTuple):
    """One cell as text, and what it was before; ``merged``: it only repeats the cell above."""

    text: str
    kind: Kind = Kind.TEXT
    merged: bool = False


EMPTY = Cell("")

MAX_COLUMNS = 256
"""Columns of a sheet that are looked at."""


class Row(NamedTuple):
    """One row; ``number`` counts from 1 as spreadsheets do."""

    number: int
    cells: tuple[Cell, ...]
    hidden: bool = False

    def cell(self, column: int) -> Cell:
        """Return the cell of a column counted from 0; empty where the row ends before it."""
        return self.cells[column] if column < len(self.cells) else EMPTY


@dataclass(frozen=True)
class Sheet:
    """One table of a list file. ``rows`` starts a new pass over it at every call."""

    name: str
    rows: Callable[[], Iterator[Row]]


@dataclass(frozen=True)
class Table:
    """A list file: its sheets, and the encoding that had to be guessed (``""`` if none)."""

    path: Path
    sheets: tuple[Sheet, ...]
    guessed: str = ""
