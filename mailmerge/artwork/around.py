"""Around the cup: texts and drawings that are repeated a whole number of times.

On a cup without a handle the repeats close at the seam, which lies in the middle between two of
them; else they run from one edge of the handle zone to the other.
"""

from __future__ import annotations

import math
from pathlib import Path

from mailmerge.artwork.drawings import scaled
from mailmerge.artwork.layout import Border, Ring
from mailmerge.artwork.pieces import Piece
from mailmerge.artwork.rooms import in_band
from mailmerge.blanks import Blank, Face
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
    free = _Free(face.usable_width, blank)
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
    around = min(blank.circumference_at(z) for z in ends)
    free = _Free(around - (2 * blank.handle_edge if blank.handle.width else 0.0), blank)
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

    def __init__(self, length: float, blank: Blank) -> None:
        self.length, self.blank = length, blank
        self.open = 1 if blank.handle.width else 0
        """Gaps that are saved because the repeats do not close."""
        self.around = length + self.open * 2 * blank.handle_edge

    @property
    def face(self) -> Face:
        """The same as an angle, in mm on the page's width."""
        page = self.blank.page_width
        return Face(180.0, page / 2, max(0.0, self.length * page / self.around))

    def angles(self, count: int, width: float) -> list[float]:
        """Return the meridian of each repeat, in degrees from the handle or the seam."""
        if not self.open:
            return [360 * (at + 0.5) / count for at in range(count)]
        pitch = (self.length - width) / max(1, count - 1)
        return [180 + 360 * (at - (count - 1) / 2) * pitch / self.around for at in range(count)]
