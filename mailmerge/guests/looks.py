"""What people see of a cell: what is struck out, and what is not to be seen.

A client agrees to what the list shows. A text that is struck out is taken back; one in the colour
of its ground has been seen by nobody.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from mailmerge.guests.tables import Cell, Kind, Mark, Rgb

WHITE: Rgb = (1.0, 1.0, 1.0)

_LEAST_CONTRAST = 1.2
"""Below it nobody sees a text; palest greys that people use for asides have 1.4. Own judgement."""

_LEAST_SIZE = 2.0
"""Letters up to so many points are dots."""

LEAST_HEIGHT = 1.0
"""Rows lower than so many points are as good as hidden."""

LEAST_WIDTH = 0.5
"""Columns narrower than so many digits are as good as hidden."""


class Look(NamedTuple):
    """How a text is shown."""

    struck: bool = False
    unseen: bool = False
    around: tuple[str, str] = ("", "")
    """What a format shows before and after the text."""
    instead: str = ""
    """What a format shows in the text's place."""


PLAIN = Look()


class Shown(NamedTuple):
    """What the format of a cell makes of its text."""

    around: tuple[str, str] = ("", "")
    instead: str = ""
    """Shown in the text's place."""
    hides: bool = False
    ink: Rgb | None = None


class Painted(NamedTuple):
    """The colours of a cell and of its text; None for none, or for no single one."""

    ground: Rgb | None
    ink: Rgb | None

    @property
    def told(self) -> str:
        """Both in a form to compare, white and black as if there were none."""
        return f"{_digits(self.ground)} {_digits(self.ink)}"


def _digits(colour: Rgb | None) -> str:
    told = "".join(f"{round(255 * part):02x}" for part in colour or ())
    return "" if told in ("ffffff", "000000") else told


def colours_by_row(cells: Iterable[tuple[int, str]]) -> list[tuple[int, str]]:
    """Return the rows of cells, each with the colours that are in it."""
    found: dict[int, set[str]] = {}
    for row, told in cells:
        found.setdefault(row, set()).add(told)
    return [(row, ", ".join(sorted(colours))) for row, colours in found.items()]


class Seen(NamedTuple):
    """What is seen of a cell that does not simply show its text."""

    marks: tuple[Mark, ...]
    """A mark without a text is about all of the cell's."""
    stands: str | None = None
    """What stands beside something struck out; None where that is the cell's own text."""
    around: tuple[str, str] = ("", "")

    def on(self, cell: Cell) -> Cell:
        """Return a cell with what is seen of it; a blank one is as before."""
        if not cell.text.strip():
            return cell
        marks = tuple(mark if mark.text else mark._replace(text=cell.text) for mark in self.marks)
        text = cell.text if self.stands is None else self.stands
        before, after = self.around
        is_typed = text.startswith(before) and text.endswith(after)
        if cell.kind is Kind.TEXT and (before + after).strip() and not is_typed:
            marks = (*marks, Mark("shown", f"{before}{text}{after}"))
        return cell._replace(text=text, marks=marks)


def colour_of(digits: str | None) -> Rgb | None:
    """Return a colour out of its six hexadecimal digits, or None where there are no such."""
    try:
        red, green, blue = (int((digits or "")[at : at + 2], 16) / 255 for at in (0, 2, 4))
    except ValueError:
        return None
    return red, green, blue


def is_unseen(ink: Rgb | None, ground: Rgb | None, points: float | None = None) -> bool:
    """Whether nobody sees a text in an ink on a ground, as far as both are known."""
    if points is not None and points <= _LEAST_SIZE:
        return True
    if ink is None or ground is None:
        return False
    dark, light = sorted((_luminance(ink), _luminance(ground)))
    return (light + 0.05) / (dark + 0.05) < _LEAST_CONTRAST


def _luminance(colour: Rgb) -> float:
    """Return the relative luminance (WCAG 2.2, definition)."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def seen_as(look: Look) -> Seen | None:
    """Return what is seen of a cell with one look; None where that is its text."""
    kind = "struck" if look.struck else "unseen" if look.unseen else ""
    marks = (Mark(kind, ""),) if kind else ()
    if look.instead:
        marks = (*marks, Mark("replaced", look.instead))
    return Seen(marks, None, look.around) if marks or any(look.around) else None


def seen_in(runs: Iterable[tuple[str, Look]]) -> Seen | None:
    """Return what is seen of a cell whose parts have looks of their own."""
    runs = [(text, look) for text, look in runs if text]
    struck = "".join(text for text, look in runs if look.struck).strip()
    stands = "".join(text for text, look in runs if not look.struck).strip()
    unseen = "".join(text for text, look in runs if look.unseen and not look.struck).strip()
    marks = [Mark("unseen", unseen)] if unseen else []
    if struck and not stands:
        return seen_as(Look(struck=True))
    if struck:
        return Seen((Mark("partly-struck", struck), *marks), stands)
    return Seen(tuple(marks)) if marks else None
