"""Figures of a list that only all its rows together make sense of: quantities and numberings."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Iterator
from itertools import islice

import numpy as np

_LEAST, _TIMES, _SHARE = 10, 10, 0.1
"""A quantity is far off from so many cups on, so many times the usual, for at most this share of
the guests. Own judgement."""


class Quantities:
    """Gathers how many cups the guests want."""

    def __init__(self) -> None:
        self._guests: Counter[int] = Counter()

    def add(self, quantity: int) -> None:
        """Take in the quantity of one guest."""
        self._guests[quantity] += 1

    @property
    def usual(self) -> int:
        """The quantity in the middle of all."""
        below = 0
        for quantity in sorted(self._guests):
            below += self._guests[quantity]
            if 2 * below > self._guests.total():
                return quantity
        return 1

    def far_off(self) -> int:
        """Return the least quantity that is far off the others; 0 if none is."""
        usual, count = self.usual, self._guests.total()
        found = 0
        at_least = 0
        for quantity in sorted(self._guests, reverse=True):
            at_least += self._guests[quantity]
            is_rare = at_least <= max(1, _SHARE * count)
            if quantity < max(_LEAST, _TIMES * usual) or not is_rare or count < 3:
                break
            found = quantity
        return found


_FEWEST = 5
_MOST_MISSING = 0.2
_NAMED = 12


class Numbering:
    """Gathers the numbers in a column that numbers the rows."""

    def __init__(self) -> None:
        self._numbers = array("q")
        self._others = 0

    def add(self, text: str) -> None:
        """Take in the cell of one row."""
        text = text.strip().rstrip(".)")
        if text.isdecimal() and len(text) < 10:
            self._numbers.append(int(text))
        elif text:
            self._others += 1

    def missing(self) -> tuple[int, ...]:
        """Return the numbers (the first few) that are left out; none if it is no numbering.

        It is one where few are missing between the first and the last, and where a number that
        stands twice is followed by one that is left out: 1, 2, 3, 3, 5.
        """
        there = np.unique(np.frombuffer(self._numbers, dtype=np.int64))
        steps = np.diff(there)
        out = int(steps.sum()) + 1 - len(there)
        if self._others or len(self._numbers) < _FEWEST or out > _MOST_MISSING * len(self._numbers):
            return ()
        gaps = ((int(there[at]), int(steps[at])) for at in np.flatnonzero(steps > 1))
        missing = tuple(islice((n + k for n, step in gaps for k in range(1, step)), _NAMED))
        return missing if all(n + 1 in missing for n in self._twice()) else ()

    def doubled(self) -> tuple[int, ...]:
        """Return the numbers of a numbering (the first few) that stand twice."""
        return tuple(islice(self._twice(), _NAMED)) if self.missing() else ()

    def _twice(self) -> Iterator[int]:
        return (number for number, many in sorted(Counter(self._numbers).items()) if many > 1)
