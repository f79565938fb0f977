"""One set, one size: the letter height that all cups of an order share.

Every member's own largest letter height is found once and sorted; the set's height is then the
smallest of those that are not left out. Nothing is searched for.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable
from dataclasses import dataclass

from mailmerge.artwork.layout import Layout, Line

_DRAGS = 1.15
"""A name drags the set down if the set without it, and those even longer, grows by this factor.

Own judgement: a difference in letter height that one sees from cup to cup.
"""

_FEW = 8
"""At most one in so many names, and always one, may be treated as dragging the set down."""

_MEMBERS = 3
"""A smaller set has no odd ones out."""


@dataclass(frozen=True, slots=True)
class Settled:
    """The letter height that a line of the layout has throughout an order; heights in mm."""

    line: int
    """Number of the line in the layout, from 1."""
    role: str
    """The role that it holds for, where the layout sizes each role on its own; else ``""``."""
    letter_height: float
    members: int = 0
    """Names that it was settled for; 0 where it was kept from earlier."""
    outliers: int = 0
    """How many of them would take the set down."""
    held: float = 0.0
    """The letter height with those included."""
    free: float = 0.0
    """The letter height without them."""
    kept: bool = False
    """Whether the order keeps it from cups that are engraved already."""


@dataclass(frozen=True)
class Sizes:
    """What an order's lines have settled on; lines that are sized alone are not in it."""

    settled: tuple[Settled, ...] = ()

    def of(self, number: int, line: Line, role: str) -> Settled | None:
        """Return what a line has settled on for a guest of a role."""
        role = group_of(line, role)
        found = (s for s in self.settled if s.line == number and s.role == role)
        return next(found, None)


NO_SIZES = Sizes()


def group_of(line: Line, role: str) -> str:
    """Return the group that a guest's line is sized in: its role, or one for all."""
    return role.casefold() if line.sizing == "role" else ""


def is_shared(layout: Layout) -> bool:
    """Whether any line of a layout shares its size."""
    return any(line.sizing != "each" for line in layout.line)


def settle(layout: Layout, own: Iterable[tuple[int, str, float]], kept: Sizes) -> Sizes:
    """Return the sizes that a layout's lines settle on.

    Parameters
    ----------
    own
        (number of the line, role's group, largest letter height in mm) of every guest's line.
        Lines that do not fit at the layout's least letter height are no members of the set.
    kept
        Sizes of cups that are engraved already; they hold.
    """
    heights: dict[tuple[int, str], array[float]] = {}
    for number, group, height in own:
        if height >= layout.line[number - 1].letter_height.min:
            heights.setdefault((number, group), array("d")).append(height)
    found = {(s.line, s.role): s for s in kept.settled}
    for (number, group), members in sorted(heights.items()):
        if (number, group) not in found:
            found[number, group] = _settled(layout.line[number - 1], number, group, members)
    return Sizes(tuple(found.values()))


def _settled(line: Line, number: int, group: str, members: array[float]) -> Settled:
    ordered = sorted(members)
    outliers = _outliers(ordered)
    free, held = ordered[outliers], ordered[0]
    height = held if line.outliers == "hold-set" else free
    return Settled(number, group, height, len(ordered), outliers, held, free)


def _outliers(ordered: list[float]) -> int:
    """Return how many of the smallest letter heights drag the set down.

    So many as end below the largest step upward among the first few; none if that step is small.
    """
    if len(ordered) < _MEMBERS:
        return 0
    most = max(1, len(ordered) // _FEW)
    steps = [ordered[at] / ordered[at - 1] for at in range(1, most + 1)]
    largest = max(steps)
    return steps.index(largest) + 1 if largest >= _DRAGS else 0
