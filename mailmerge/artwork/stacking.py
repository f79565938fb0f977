"""Stacking: lines and ornaments over each other, the whole centred in the band."""

from __future__ import annotations

from dataclasses import dataclass

from mailmerge.artwork.layout import Line
from mailmerge.artwork.setting import ROW_CLEARANCE, Arrangement, letters_reach
from mailmerge.blanks import Band
from mailmerge.lettering import Box


@dataclass(frozen=True, slots=True)
class Extent:
    """How far something in a stack reaches; mm, ``y`` up from its own baseline."""

    ink: Box
    reach: Box
    """What is kept clear for it. By baselines that is what any letters of its font take, so that
    lines stand alike on all cups, with deep letters and without; else its ink."""
    top: float
    bottom: float
    """What counts for stacking; the ink may reach further."""
    gap: float
    """Room above it."""


def extent_of_line(
    line: Line, arrangement: Arrangement, letter_height: float, ink: Box, by_baseline: bool,
    gap: float,
) -> Extent:  # fmt: skip
    """Return the extent of a line that is set at a letter height.

    Parameters
    ----------
    by_baseline
        Whether baselines and the height of capitals count, and not the ink.
    """
    if not by_baseline or line.arc:
        return Extent(ink, ink, ink.high, ink.low, gap)
    low, high = letters_reach(arrangement.style, line.case == "upper")
    last = arrangement.last_baseline * letter_height
    reach = Box(
        ink.left,
        min(ink.low, last + low * letter_height - line.strengthen),
        ink.right,
        max(ink.high, high * letter_height + line.strengthen),
    )
    return Extent(ink, reach, letter_height, last, gap)


def extent_of_drawing(box: Box, gap: float) -> Extent:
    """Return the extent of an ornament above or below a line."""
    return Extent(box, box, box.high, box.low, gap)


def extent_with_frame(line: Extent, frame: Box) -> Extent:
    """Return the extent of a line with a frame around the middle of its ink."""
    x, y = (line.ink.left + line.ink.right) / 2, (line.ink.low + line.ink.high) / 2
    box = Box(x + frame.left, y + frame.low, x + frame.right, y + frame.high)
    return Extent(box, box, box.high, box.low, line.gap)


def stack(extents: list[Extent], least_letter_height: float, band: Band) -> list[float]:
    """Return the height of every baseline above the base, from top to bottom, in mm.

    The middle of what counts lies in the band's middle, or as near to it as what is kept clear can.
    """
    if not extents:
        return []
    baselines: list[float] = []
    lowest = reach_low = 0.0
    clearance = ROW_CLEARANCE * least_letter_height
    for extent in extents:
        if baselines:
            y = lowest - extent.gap - extent.top
            y = min(y, reach_low - min(clearance, extent.gap) - extent.reach.high)
        else:
            y = -extent.top
        baselines.append(y)
        lowest = y + extent.bottom
        reach_low = y + extent.reach.low
    shift = _into_band(band.middle - lowest / 2, [e.reach for e in extents], baselines, band)
    shift = _into_band(shift, [e.ink for e in extents], baselines, band)
    return [y + shift for y in baselines]


def _into_band(shift: float, boxes: list[Box], baselines: list[float], band: Band) -> float:
    """Return a shift of the baselines at which boxes about them lie in a band, or in its middle."""
    high = max(y + box.high for box, y in zip(boxes, baselines, strict=True))
    low = min(y + box.low for box, y in zip(boxes, baselines, strict=True))
    if high - low > band.height:
        return band.middle - (high + low) / 2
    return min(max(shift, band.from_ - low), band.to - high)
