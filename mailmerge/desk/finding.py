"""Finding something in what is long: a search, and a stretch of it at a time.

A page of 1,000 cups or rows would take a browser seconds, so it carries a stretch of them. A search
and a choice go through all of them, for the desk does both.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

MOST = 60
"""Cups or rows on a page: more than a large screen shows at once. Own judgement."""

Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True)
class Stretch(Generic[Thing]):
    """Some of many things that stand in a row."""

    things: Sequence[Thing]
    first: int
    """Where the first of them stands, from 0."""
    total: int

    @property
    def end(self) -> int:
        """How many things there are up to its own last one."""
        return self.first + len(self.things)

    @property
    def before(self) -> int | None:
        """Where the stretch before it begins; None if it is the first."""
        return max(0, self.first - MOST) if self.first else None

    @property
    def after(self) -> int | None:
        """Where the next stretch begins; None if it is the last."""
        return self.end if self.end < self.total else None


def stretch(things: Sequence[Thing], first: int) -> Stretch[Thing]:
    """Return the stretch that begins at a place; the last one where there is no such place."""
    first = first if first < len(things) else max(0, len(things) - 1) // MOST * MOST
    return Stretch(things[first : first + MOST], first, len(things))


def plain(text: str) -> str:
    """Return a text as people type it who search: without case, accents and blanks at its ends."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(char for char in apart if not unicodedata.combining(char)).strip()
