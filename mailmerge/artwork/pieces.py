"""Pieces of ink on a wall, and where they lie on the upright page.

A piece is a flat drawing that is laid onto the wall about a meridian, its middle line. Its ``x``
runs along the wall at its own height: what is 10 mm long is 10 mm long on the cup, wherever the
wall is narrow or wide.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mailmerge.blanks import Blank
from mailmerge.lettering import Box, Outline


@dataclass(frozen=True, eq=False)
class Piece:
    """Ink about a meridian; lengths in mm."""

    angle: float
    """Of the meridian, in degrees from the handle."""
    outline: Outline
    """``x`` along the wall from the meridian to the right, ``y`` down from the mouth."""
    blank: Blank
    around: float | None = None
    """The circumference at which ``x`` is measured, where it is the same for all heights, so that
    repeats meet at all of them."""

    @property
    def centre(self) -> float:
        """``s`` of the meridian, where the wall is as wide as the page."""
        if self.blank.is_flat:
            return self.blank.page_width / 2
        return self.blank.page_width * self.angle / 360

    @property
    def stretch(self) -> float:
        """What a millimetre of a piece that is measured as an angle is on the upright page."""
        return 1.0 if self.around is None else self.blank.page_width / self.around

    @cached_property
    def on_page(self) -> Outline:
        """The ink on the upright page: ``x = s``, ``y`` down from the mouth."""
        stretched = Outline(self.outline.verbs, self.outline.points * (self.stretch, 1.0))
        return stretched.moved(1.0, False, self.centre, 0.0)

    @cached_property
    def span(self) -> Box:
        """Bounds of the ink as angles: ``s`` on the page's width, ``z`` above the base.

        On a tapered wall two pieces meet where their angles do, whatever their millimetres say.
        """
        blank, outline = self.blank, self.outline
        if blank.taper and self.around is None:
            points = outline.points * np.column_stack(
                [page_scale(outline.points[:, 1], blank), np.ones(len(outline.points))]
            )
            outline = Outline(outline.verbs, points)
        box = outline.box
        left, right = (self.centre + self.stretch * edge for edge in (box.left, box.right))
        return Box(left, blank.height - box.high, right, blank.height - box.low)

    @property
    def looks(self) -> float:
        """Cosine of the largest angle between its ink and its meridian, 0 beyond 90 degrees."""
        if self.blank.is_flat or not self.outline:
            return 1.0
        points = self.outline.points
        if self.blank.taper is None:
            box = self.outline.box
            angle = max(-box.left, box.right) / self.blank.radius_at(0.0)
        else:
            around = self.blank.circumference_at(0.0) + self.blank.slope * (
                self.blank.height - points[:, 1]
            )
            angle = float(np.abs(points[:, 0] / (self.around or around)).max()) * 2 * math.pi
        return math.cos(angle) if angle < math.pi / 2 else 0.0


def page_scale(y: NDArray[np.float64], blank: Blank) -> NDArray[np.float64]:
    """Return C_set / C(z) at points so far below the mouth."""
    around = blank.circumference_at(0.0) + blank.slope * (blank.height - y)
    return np.asarray(blank.page_width / around)


def span_of(pieces: tuple[Piece, ...]) -> Box:
    """Return the bounds of pieces as angles; see :attr:`Piece.span`."""
    left, low, right, high = zip(*(piece.span for piece in pieces), strict=True)
    return Box(min(left), min(low), max(right), max(high))


def box_of(pieces: tuple[Piece, ...]) -> Box:
    """Return the bounds of a piece in mm of the wall at its own heights, about its meridian.

    Of several pieces, or one that is measured as an angle, as angles.
    """
    first = pieces[0]
    if len(pieces) > 1 or first.around is not None:
        return span_of(pieces)
    box, height = first.outline.box, first.blank.height
    return Box(first.centre + box.left, height - box.high, first.centre + box.right,
               height - box.low)  # fmt: skip
