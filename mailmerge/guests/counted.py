"""What became of the rows of a list, in numbers; apart, for a record needs no more of a list."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class RowCount:
    """What became of the rows of a list: each is counted once."""

    lines: int = 0
    """Lines of a text file; 0 for a workbook."""
    continued: int = 0
    """Lines of a text file that go on within a cell of the row before."""
    header: int = 0
    """Down to the header, and with it."""
    blank: int = 0
    """Also those that only go on with a merged cell."""
    unread: int = 0
    """They hold something, and nothing in a column that is used."""
    hidden: int = 0
    none_wanted: int = 0
    examples: int = 0
    """They show how to fill the list in, and say so."""
    guests: int = 0
