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


def box_of(pieces: tuple[Piece, ...], blank: Blank) -> Box:
    """Return the bounds of pieces in ``s`` and ``z``."""
    boxes = [(piece.centre, piece.stretch, piece.outline.box) for piece in pieces]
    return Box(
        min(centre + stretch * box.left for centre, stretch, box in boxes),
        blank.height - max(box.high for _, _, box in boxes),
        max(centre + stretch * box.right for centre, stretch, box in boxes),
        blank.height - min(box.low for _, _, box in boxes),
    )
