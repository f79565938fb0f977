"""Around the cup: texts and drawings that are repeated a whole number of times.

Where no zone is in the way the repeats close at the seam, which lies in the middle between two of
them; else they fill every way from one zone to the next.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from mailmerge.artwork import words
from mailmerge.artwork.drawings import scaled
from mailmerge.artwork.layout import Border, Ring
from mailmerge.artwork.pieces import Piece
from mailmerge.artwork.rooms import in_band
from mailmerge.blanks import Blank, Face, FreeArc, closes, free_arcs
from mailmerge.findings import InputError
from mailmerge.lettering import Outline

_MOST_REPEATS = 1_000
"""Repeats around a cup: on a wide one they are then a third of a millimetre across."""


def _few(counts: list[int]) -> list[int]:
    """Return how many repeats each way has, if they can be made.

    Raises
    ------
    InputError
        They are too many.
    """
    if sum(counts) > _MOST_REPEATS:
        raise InputError(words.too_many_repeats(sum(counts), _MOST_REPEATS))
    return counts


def text_pieces(
    outline: Outline, ring: Ring, heights: tuple[float, float], blank: Blank
) -> tuple[tuple[Piece, ...], Face]:
    """Return as many repeats of a text as have ``ring.apart`` between them, evenly spread.

    Parameters
    ----------
    outline
        ``x`` from its middle, ``y`` down from the mouth (mm).
    heights
        From where to where above the base the text reaches, in mm.

    Raises
    ------
    InputError
        There would be too many.

    Returns
    -------
    tuple of pieces and Face
        The face with what is free as an angle, as the bounds of several pieces are.
    """
    free = _Free.between(blank, heights, ring.apart)
    width = 2 * max(-outline.box.left, outline.box.right)
    angles = free.angles(free.as_many_as_fit(width, ring.apart), width)
    return tuple(Piece(angle, outline, blank) for angle in angles), free.face(blank)


def border_pieces(border: Border, blank: Blank, beside: Path) -> tuple[tuple[Piece, ...], Face]:
    """Return the repeats of a border's drawing and what is free for them around the cup.

    With a gap there are as many as go around, and the gap is made a little wider. Without one the
    drawing is made a little smaller, so that a whole number of repeats meets all around. ``x`` is
    measured at the border's own narrowest height, so that repeats meet at all heights.

    Raises
    ------
    InputError
        The drawing is not there or holds what a drawing may not, or there would be too many.
    """
    drawing = scaled(border, border.size, beside)
    middle = in_band(border.height, border.size, blank)
    ends = (middle - border.size / 2, middle + border.size / 2)
    free = _Free.between(blank, ends, border.gap)
    width = drawing.box.width
    if border.gap:
        counts, factor = free.as_many_as_fit(width, border.gap), 1.0
    else:
        counts = free.as_many_as_cover(width)
        factor = max(free.largest(counts) / width, 0.01)
    middle = in_band(border.height, border.size * factor, blank)
    outline = drawing.moved(factor, True, 0.0, blank.height - middle)
    angles = free.angles(counts, width * factor)
    return tuple(Piece(angle, outline, blank, free.around) for angle in angles), free.face(blank)


@dataclass(frozen=True, slots=True)
class _Free:
    """What is free around the cup, in mm where the wall is narrowest."""

    around: float
    arcs: tuple[FreeArc, ...]
    """The ways from one zone to the next; none where it closes."""

    @staticmethod
    def between(blank: Blank, heights: tuple[float, float], gap: float) -> _Free:
        """Return what is free between two heights for repeats with a gap (mm) between them."""
        around = min(blank.circumference_at(z) for z in heights)
        if closes(blank, *heights):
            return _Free(around, ())
        # Where nothing is free one of it is drawn all the same, which a check stops.
        return _Free(around, free_arcs(blank, *heights, gap / 2) or (FreeArc(180.0, 0.0),))

    @property
    def lengths(self) -> list[float]:
        """How long each way is."""
        return [arc.length for arc in self.arcs] or [self.around]

    def as_many_as_fit(self, width: float, gap: float) -> list[int]:
        """Return how many repeats have room on each way, with a gap between them; one at least."""
        saved = gap if self.arcs else 0.0  # the last one's, where they do not close
        counts = [math.floor((free + saved) / (width + gap) + 1e-9) for free in self.lengths]
        if not any(counts):
            counts[self.lengths.index(max(self.lengths))] = 1
        return _few(counts)

    def as_many_as_cover(self, width: float) -> list[int]:
        """Return how many repeats each way takes without gaps, none larger than it is."""
        return _few([max(1, math.ceil(free / width - 1e-9)) for free in self.lengths])

    def largest(self, counts: list[int]) -> float:
        """Return how wide repeats may be of which so many cover each way."""
        return min(free / count for free, count in zip(self.lengths, counts, strict=True))

    def face(self, blank: Blank) -> Face:
        """Return the whole of it as an angle, in mm on the page's width."""
        page = blank.page_width
        if not self.arcs:
            return Face(180.0, page / 2, page)
        first, last = self.arcs[0], self.arcs[-1]
        left = first.middle - first.length / 2 / self.around * 360
        right = last.middle + last.length / 2 / self.around * 360
        middle = (left + right) / 2
        return Face(middle, page * (middle / 360), page * ((right - left) / 360))

    def angles(self, counts: list[int], width: float) -> list[float]:
        """Return the meridian of each repeat, in degrees from the blank's zero."""
        if not self.arcs:
            return [360 * (at + 0.5) / counts[0] for at in range(counts[0])]
        found = []
        for arc, count in zip(self.arcs, counts, strict=True):
            pitch = (arc.length - width) / max(1, count - 1) / self.around * 360
            found += [arc.middle + (at - (count - 1) / 2) * pitch for at in range(count)]
        return found
