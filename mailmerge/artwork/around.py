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


def text_pieces(outline: Outline, ring: Ring, free: float, blank: Blank) -> tuple[Piece, ...]:
    """Return as many repeats of a text as have ``ring.apart`` between them, evenly spread.

    Parameters
    ----------
    outline
        ``x`` from its middle, ``y`` down from the mouth (mm).
    free
        What is free around the cup at the text's heights, in mm.
    """
    width = 2 * max(-outline.box.left, outline.box.right)
    closes = not blank.handle.width
    count = math.floor((free + (0.0 if closes else ring.apart)) / (width + ring.apart) + 1e-9)
    angles = _angles(max(1, count), free, width, closes, blank)
    return tuple(Piece(angle, outline, blank) for angle in angles)


def border_pieces(border: Border, blank: Blank, beside: Path) -> tuple[tuple[Piece, ...], Face]:
    """Return the repeats of a border's drawing and what is free for them around the cup.

    The drawing is made a little smaller, so that repeats and gaps come out even.
    ``x`` is measured at the border's own narrowest height, so that repeats meet at all heights.

    Raises
    ------
    InputError
        The drawing is not there or holds what a drawing may not.
    """
    drawing = scaled(border.drawing, border.size, border.mirrored, beside)
    closes = not blank.handle.width
    middle = in_band(border.height, border.size, blank)
    ends = (middle - border.size / 2, middle + border.size / 2)
    around = min(blank.circumference_at(z) for z in ends)
    free = around if closes else around - 2 * blank.handle_edge
    gaps_less = 0 if closes else 1
    width = drawing.box.width
    count = max(1, math.ceil((free + gaps_less * border.gap) / (width + border.gap) - 1e-9))
    left_for_ink = free - (count - gaps_less) * border.gap
    factor = max(left_for_ink / count / width, 0.01)
    outline = drawing.moved(factor, True, 0.0, blank.height - middle)
    angles = _angles(count, free, width * factor, closes, blank, around)
    pieces = tuple(Piece(angle, outline, blank, around) for angle in angles)
    return pieces, Face(180.0, blank.page_width / 2, free * blank.page_width / around)


def _angles(
    count: int, free: float, width: float, closes: bool, blank: Blank, around: float | None = None
) -> list[float]:
    """Return the meridian of each repeat, in degrees from the handle or the seam."""
    if closes:
        return [360 * (at + 0.5) / count for at in range(count)]
    if count == 1:
        return [180.0]
    around = around or free + 2 * blank.handle_edge
    pitch = (free - width) / (count - 1)
    return [180 + 360 * (at - (count - 1) / 2) * pitch / around for at in range(count)]
