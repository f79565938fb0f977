"""Stacking: lines and ornaments over each other, the whole centred in the band."""

from __future__ import annotations

from dataclasses import dataclass

from mailmerge.artwork.layout import Line
from mailmerge.artwork.setting import ROW_CLEARANCE, Arrangement
from mailmerge.blanks import Band
from mailmerge.lettering import Box


@dataclass(frozen=True, slots=True)
class Extent:
    """How far something in a stack reaches; mm, ``y`` up from its own baseline."""

    ink: Box
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
    if by_baseline and not line.arc:
        return Extent(ink, letter_height, arrangement.last_baseline * letter_height, gap)
    return Extent(ink, ink.high, ink.low, gap)


def extent_of_drawing(box: Box, gap: float) -> Extent:
    """Return the extent of an ornament above or below a line."""
    return Extent(box, box.high, box.low, gap)


def stack(extents: list[Extent], least_letter_height: float, band: Band) -> list[float]:
    """Return the height of every baseline above the base, from top to bottom, in mm.

    The middle of what counts lies in the band's middle, or as near to it as the ink can.
    """
    if not extents:
        return []
    baselines: list[float] = []
    lowest = ink_low = 0.0
    clearance = ROW_CLEARANCE * least_letter_height
    for extent in extents:
        if baselines:
            y = lowest - extent.gap - extent.top
            y = min(y, ink_low - min(clearance, extent.gap) - extent.ink.high)
        else:
            y = -extent.top
        baselines.append(y)
        lowest = y + extent.bottom
        ink_low = y + extent.ink.low
    high = max(y + extent.ink.high for extent, y in zip(extents, baselines, strict=True))
    low = min(y + extent.ink.low for extent, y in zip(extents, baselines, strict=True))
    shift = band.middle - lowest / 2
    if high - low > band.height:
        shift = band.middle - (high + low) / 2
    else:
        shift = min(max(shift, band.from_ - low), band.to - high)
    return [y + shift for y in baselines]
