"""A list file as sheets of rows of cells, whatever its format; rows stream.

The formats' own libraries stay behind this module and its two neighbours ``workbook`` and
``textfile``; everything after them sees only :class:`Sheet`, :class:`Row` and :class:`Cell`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from itertools import islice
from pathlib import Path
from typing import Any, NamedTuple

Rgb = tuple[float, float, float]
"""A colour as sRGB shares from 0 to 1."""


class Kind(Enum):
    """What the file says that a cell holds."""

    TEXT = "text"
    NUMBER = "number"
    TRUTH = "true or false"
    DATE = "date"
    FORMULA = "a formula as text"
    NO_VALUE = "a formula without a stored result"
    ERROR = "an error value"
    NOTHING = "a word of programs for nothing"
    FIELD = "a merge field"


class Mark(NamedTuple):
    """Something that is seen of a cell: ``struck``, ``partly-struck``, ``unseen`` or ``shown``."""

    kind: str
    text: str
    """What is struck out or not to be seen, or what is shown in the text's place."""


class Cell(NamedTuple):
    """One cell as text, and what it was before; ``merged``: it only repeats the cell above."""

    text: str
    kind: Kind = Kind.TEXT
    merged: bool = False
    marks: tuple[Mark, ...] = ()


EMPTY = Cell("")

MAX_COLUMNS = 256
"""Columns of a sheet that are looked at."""

MAX_CELL = 1_000_000
"""Characters of a cell, and of a line of text. Spreadsheet programs hold 32,767 in a cell."""


class Row(NamedTuple):
    """One row; ``number`` counts from 1 as spreadsheets do."""

    number: int
    cells: tuple[Cell, ...]
    hidden: bool = False
    comments: tuple[tuple[int, str], ...] = ()
    """What is written on its cells as comments or notes, by column from 0."""
    width: int = 0
    """How many cells a line of delimited text has; 0 in a workbook, where none can be missing."""
    lines: int = 1
    """How many lines of the file it takes."""
    swallowed: str = ""
    """The start of lines that an open quotation mark has drawn into one of its cells."""
    repeats_header: bool = False
    below_header: bool = False
    """Whether another header with other columns stands above it, below the first one."""

    def cell(self, column: int) -> Cell:
        """Return the cell of a column counted from 0; empty where the row ends before it."""
        return self.cells[column] if column < len(self.cells) else EMPTY


_KEPT = 100
"""Rows: more than a heading is looked for in, and all that most parties have."""


class Rows:
    """The rows of a sheet, passed over at every call; the first ones are read only once.

    A heading is looked for in several ways, and a short list is passed over again and again. Only
    a pass that goes beyond what is kept reads the file anew.

    Parameters
    ----------
    read
        Starts to read them.
    """

    def __init__(self, read: Callable[[], Iterator[Row]]) -> None:
        self._read = read
        self._first: list[Row] | None = None

    def __call__(self) -> Iterator[Row]:
        """Start a pass over them."""
        rows = None
        if self._first is None:
            rows = self._read()
            self._first = list(islice(rows, _KEPT))
        yield from self._first
        if len(self._first) == _KEPT:
            yield from rows or islice(self._read(), _KEPT, None)


@dataclass(frozen=True)
class Sheet:
    """One table of a list file. ``rows`` starts a new pass over it at every call."""

    name: str
    rows: Callable[[], Iterator[Row]]
    hidden_columns: frozenset[int] = frozenset()
    usual_width: int = 0
    """How many cells most rows of delimited text have; 0 in a workbook."""
    ruled_columns: Callable[[], frozenset[int]] = frozenset
    """Finds the columns whose texts are struck or coloured by rules (conditional formats)."""
    colours: Callable[[], Iterable[tuple[int, str]]] = tuple
    """Tells rows, each with the colours of its cells in a form to compare."""
    lines: int = 0
    """Lines of a text file; 0 in a workbook."""
    grounds: Callable[[], Mapping[tuple[int, int], Rgb]] = dict
    """Finds the cells that are coloured: row from 1, column from 0, and the colour."""


def _called(call: Callable[..., Any], *given: object) -> Any:
    return call(*given)


@dataclass(frozen=True)
class Table:
    """A list file: its sheets, and the encoding that had to be guessed (``""`` if none)."""

    path: Path
    sheets: tuple[Sheet, ...]
    guessed: str = ""
    hidden_sheets: tuple[Sheet, ...] = ()
    drawn: Callable[[], tuple[str, ...]] = tuple
    """Finds what is drawn over its sheets (boxes, shapes, pictures): the words of each."""
    apart: Callable[..., Any] = _called
    """Calls what reads something else of the file, with what it is called with."""
