"""Lists as delimited text: .csv and .tsv in the encodings that spreadsheet programs write."""

from __future__ import annotations

import codecs
import csv
from collections import Counter
from collections.abc import Iterator
from functools import partial
from itertools import count, islice
from pathlib import Path
from typing import TextIO

from mailmerge.findings import InputError
from mailmerge.guests import words
from mailmerge.guests.columns import recognised
from mailmerge.guests.tables import MAX_CELL, MAX_COLUMNS, Cell, Row, Sheet, Table

_SAMPLE_ROWS = 40

_BOMS = {
    codecs.BOM_UTF8: "utf-8-sig",
    codecs.BOM_UTF16_LE: "utf-16",
    codecs.BOM_UTF16_BE: "utf-16",
}


def open_text(path: Path) -> Table:
    """Open a delimited text file; its encoding and delimiter are found from what it holds.

    Raises
    ------
    InputError
        The text is in no known encoding or no table.
    """
    encoding, guessed = _encoding(path)
    delimiter = _delimiter(path, encoding)

    rows = partial(_rows, path, encoding, delimiter)
    widths = Counter(row.width for row in rows() if row.width)
    usual = max(widths, key=lambda width: widths[width], default=0)
    with path.open(encoding=encoding) as file:
        lines = sum(1 for _ in _lines(path, file))
    return Table(path, (Sheet(path.name, rows, usual_width=usual, lines=lines),), guessed)


def _encoding(path: Path) -> tuple[str, str]:
    """Return the encoding, and what people call it if it had to be guessed."""
    with path.open("rb") as file:
        start = file.read(4096)
    for bom, encoding in _BOMS.items():
        if start.startswith(bom):
            return encoding, ""
    if start[1::2].count(0) > len(start) // 3:  # Latin text in UTF-16: every other byte is 0
        return "utf-16-le", ""
    if start[0::2].count(0) > len(start) // 3:
        return "utf-16-be", ""
    if _decodes(path, "utf-8"):
        return "utf-8", ""
    if _decodes(path, "cp1252"):
        return "cp1252", "Windows-1252 (western Europe)"
    raise InputError(words.unknown_encoding(path))


def _decodes(path: Path, encoding: str) -> bool:
    try:
        with path.open(encoding=encoding, newline="") as file:
            while file.read(1 << 16):
                pass
    except UnicodeDecodeError:
        return False
    return True


def _delimiter(path: Path, encoding: str) -> str:
    """Return the delimiter under which a row has the most columns that we know.

    Where none is known, the one that makes the most cells; a single column needs none.
    """

    def score(delimiter: str) -> tuple[int, int]:
        rows = list(islice(_rows(path, encoding, delimiter), _SAMPLE_ROWS))
        known = max((len(recognised([c.text for c in row.cells])) for row in rows), default=0)
        return known, sum(len(row.cells) for row in rows)

    return max(",;\t|", key=score)


def _swallowed(fields: list[str], delimiter: str) -> str:
    """Return the start of the lines in a cell that are rows of their own; a name has no such."""
    for text in fields:
        for line in text.splitlines()[1:]:
            if line.count(delimiter) >= max(1, len(fields) - 1):
                return line
    return ""


def _lines(path: Path, file: TextIO) -> Iterator[str]:
    """Yield the lines of a file; one without an end is never held whole."""
    for number in count(1):
        line = file.readline(MAX_CELL)
        if not line:
            return
        if len(line) == MAX_CELL:
            raise InputError(words.line_too_long(path, number, MAX_CELL))
        yield line


def _rows(path: Path, encoding: str, delimiter: str) -> Iterator[Row]:
    csv.field_size_limit(MAX_CELL)
    with path.open(encoding=encoding, newline="") as file:
        reader = csv.reader(_lines(path, file), delimiter=delimiter)
        number, line = 1, 0
        try:
            # A quoted line break spans lines of the file but is one row of the table.
            for number, fields in enumerate(reader, start=1):
                cells = tuple(Cell(text) for text in fields[:MAX_COLUMNS])
                swallowed = _swallowed(fields, delimiter)
                lines, line = reader.line_num - line, reader.line_num
                yield Row(number, cells, width=len(fields), lines=lines, swallowed=swallowed)
        except UnicodeDecodeError:
            raise InputError(words.broken_text(path, number + 1, encoding)) from None
        except csv.Error as error:
            raise InputError(words.no_delimited_text(path, number + 1, error)) from None
