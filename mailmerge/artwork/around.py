"""Around the cup: texts and drawings that are repeated a whole number of times.

Where no zone is in the way the repeats close at the seam, which lies in the middle between two of
them; else they take the longest way from one zone to the next.
"""

from __future__ import annotations

import math
from pathlib import Path

from mailmerge.artwork.drawings import scaled
from mailmerge.artwork.layout import Border, Ring
from mailmerge.artwork.pieces import Piece
from mailmerge.artwork.rooms import in_band
from mailmerge.blanks import Blank, Face, FreeArc, free_arc
from mailmerge.lettering import Outline


def text_pieces(
    outline: Outline, ring: Ring, face: Face, blank: Blank
) -> tuple[tuple[Piece, ...], Face]:
    """Return as many repeats of a text as have ``ring.apart`` between them, evenly spread.

    Parameters
    ----------
    outline
        ``x`` from its middle, ``y`` down from the mouth (mm).
    face
        What is free around the cup where the text is, in mm of the narrowest wall there.

    Returns
    -------
    tuple of pieces and Face
        The face with what is free as an angle, as the bounds of several pieces are.
    """
    arc = free_arc(blank, blank.height - outline.box.high, blank.height - outline.box.low)
    free = _Free(face.usable_width, arc, blank)
    width = 2 * max(-outline.box.left, outline.box.right)
    count = max(1, math.floor((free.length + free.open * ring.apart) / (width + ring.apart) + 1e-9))
    pieces = tuple(Piece(angle, outline, blank) for angle in free.angles(count, width))
    return pieces, free.face


def border_pieces(border: Border, blank: Blank, beside: Path) -> tuple[tuple[Piece, ...], Face]:
    """Return the repeats of a border's drawing and what is free for them around the cup.

    With a gap there are as many as go around, and the gap is made a little wider. Without one the
    drawing is made a little smaller, so that a whole number of repeats meets all around. ``x`` is
    measured at the border's own narrowest height, so that repeats meet at all heights.

    Raises
    ------
    InputError
        The drawing is not there or holds what a drawing may not.
    """
    drawing = scaled(border.drawing, border.size, border.mirrored, beside)
    middle = in_band(border.height, border.size, blank)
    ends = (middle - border.size / 2, middle + border.size / 2)
    arc = free_arc(blank, *ends)
    free = _Free(arc.length, arc, blank)
    width = drawing.box.width
    if border.gap:
        count = math.floor((free.length + free.open * border.gap) / (width + border.gap) + 1e-9)
        factor = 1.0
    else:
        count = math.ceil(free.length / width - 1e-9)
        factor = max(free.length, 0.0) / max(count, 1) / width
    count, factor = max(1, count), max(factor, 0.01)
    middle = in_band(border.height, border.size * factor, blank)
    outline = drawing.moved(factor, True, 0.0, blank.height - middle)
    angles = free.angles(count, width * factor)
    return tuple(Piece(angle, outline, blank, free.around) for angle in angles), free.face


class _Free:
    """What is free around the cup, in mm where the wall is narrowest."""

    def __init__(self, length: float, arc: FreeArc, blank: Blank) -> None:
        self.length, self.middle, self.blank = length, arc.middle, blank
        self.open = 0 if arc.closes else 1
        """Gaps that are saved because the repeats do not close."""
        self.around = length + (arc.around - arc.length)

    @property
    def face(self) -> Face:
        """The same as an angle, in mm on the page's width."""
        page = self.blank.page_width
        wide = max(0.0, self.length * page / self.around)
        return Face(self.middle, page * (self.middle / 360), wide)

    def angles(self, count: int, width: float) -> list[float]:
        """Return the meridian of each repeat, in degrees from the blank's zero."""
        if not self.open:
            return [360 * (at + 0.5) / count for at in range(count)]
        pitch = (self.length - width) / max(1, count - 1)
        return [
            self.middle + 360 * (at - (count - 1) / 2) * pitch / self.around for at in range(count)
        ]
