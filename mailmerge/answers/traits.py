"""What a workbook holds beside its values: how every cell looks, and whatever else says something.

Two workbooks are compared by it, of which another program may have written the second one. So what
differs is told by what the first one had: see :func:`set_apart`.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

Look = Mapping[str, str]
"""How a cell looks, by trait; a trait that is as usual is not there."""

LETTERS, UNDERLINE, BOLD, ITALIC, SIZE, FONT, RAISED, TURNED = (
    "colour of the letters", "underline", "bold", "italic", "size of the letters", "font",
    "raised or lowered", "turned",
)  # fmt: skip
FRAME, PATTERN, SHOWN_WITH, UNLOCKED, LINK, FORMULA, PARTS, STRUCK, PHONETIC = (
    "lines around the cell", "pattern of the cell", "words of its format", "lock", "link",
    "formula", "letters that look otherwise", "struck out", "phonetic guide",
)  # fmt: skip
TYPEFACE = frozenset((BOLD, ITALIC, SIZE, FONT, TURNED, UNLOCKED))
"""What people do not choose for a cell that they write something into."""

HEADER, MESSAGE, RULE, NAME, PROPERTY, TAB, PART, FAR = (
    "header", "message", "rule", "name", "property", "tab", "part", "far",
)  # fmt: skip
"""Kinds of things that are beside the cells of a workbook."""


class Thing(NamedTuple):
    """Something beside the cells: its kind, or the format's own name for it, and its words."""

    kind: str
    words: str


class Merged(NamedTuple):
    """Cells that are one: rows from 1 and columns from 0, the last ones included."""

    top: int
    left: int
    bottom: int
    right: int


@dataclass(frozen=True)
class Traits:
    """All that a workbook holds beside the values of one sheet."""

    looks: Mapping[tuple[int, int], Look] = field(default_factory=dict)
    """Of every cell that is written down: row from 1, column from 0."""
    merged: tuple[Merged, ...] = ()
    things: tuple[Thing, ...] = ()
    is_filtered: bool = False
    """Whether rows are hidden by what is chosen in a filter."""

    def beyond(self, other: Traits) -> list[Thing]:
        """Return the things that another workbook does not have."""
        return [*(Counter(self.things) - Counter(other.things))]


class Compared(NamedTuple):
    """A cell that was sent and came back."""

    place: tuple[int, int]
    """Where it is now."""
    was: Look
    now: Look
    is_filled_in: bool
    """Whether it was sent to be written into."""


def set_apart(cells: Iterable[Compared]) -> dict[tuple[int, int], dict[str, tuple[str, str]]]:
    """Return the cells that somebody has made look otherwise: by trait, what was and what is now.

    What a program changes it changes everywhere alike: it says nothing. So a look still means what
    it meant while any cell has kept it; where none has, its most frequent successor stands for it.
    """
    cells = [_without_looks_of_a_link(each) for each in cells]
    traits = sorted({trait for each in cells for trait in (*each.was, *each.now)})
    became: dict[tuple[str, bool, str], Counter[str]] = defaultdict(Counter)
    for each in cells:
        for trait in traits:
            was, now = each.was.get(trait, ""), each.now.get(trait, "")
            became[trait, each.is_filled_in, was][now] += 1
    apart: dict[tuple[int, int], dict[str, tuple[str, str]]] = {}
    for each in cells:
        for trait in traits:
            was, now = each.was.get(trait, ""), each.now.get(trait, "")
            found = became[trait, each.is_filled_in, was]
            usual = was if found[was] else found.most_common(1)[0][0]
            if now != usual and not (each.is_filled_in and trait in TYPEFACE):
                apart.setdefault(each.place, {})[trait] = was, now
    return apart


def _without_looks_of_a_link(cell: Compared) -> Compared:
    """Return a cell without the colour and the line that programs give to links."""
    if LINK not in cell.now:
        return cell
    kept = {t: cell.was[t] for t in (LETTERS, UNDERLINE) if t in cell.was}
    now = {t: v for t, v in cell.now.items() if t not in (LETTERS, UNDERLINE)} | kept
    return cell._replace(now=now)


def usual_colour(digits: str) -> str:
    """Return a colour's digits; ``""`` for black, which is also what a program takes by itself.

    Nobody sees what is nearly black beside it.
    """
    is_black = re.fullmatch(r"(?:[0-2][0-9A-Fa-f]){3}|", digits)
    return "" if is_black else f"#{digits.upper()}"


def words_of_parts(parts: Iterable[tuple[str, Look]], look: Look) -> str:
    """Return the parts of a text that look otherwise than all of its cell, each with how."""
    told = []
    for text, own in parts:
        differs = [f"{t}: {v or 'none'}" for t, v in own.items() if v != look.get(t, "")]
        if text.strip() and differs:
            told.append(f"{text.strip()} ({', '.join(differs)})")
    return " / ".join(told)


_OF_PAGES = re.compile(
    r"\b(?:pages?|seiten?|páginas?|strona|stron|tudalen|صفحة|of|von|de|sur|z|o|من)\b", re.IGNORECASE
)


def typed_on_pages(text: str) -> str:
    """Return what somebody has typed into a header; ``""`` where it only counts pages."""
    return text.strip() if any(map(str.isalpha, _OF_PAGES.sub("", text))) else ""


def told_of_a_link(target: str, text: str) -> str:
    """Return a link's target; ``""`` where it is the text itself, as programs make links of it."""
    bare = re.sub(r"^(?:mailto:|https?://)", "", target.strip()).rstrip("/").casefold()
    own = re.sub(r"^(?:mailto:|https?://)", "", text.strip()).rstrip("/").casefold()
    return "" if bare == own else target.strip()
