"""How large lettering may be: by its ink, in closed form, because outlines scale."""

from __future__ import annotations

import math

STEP = 0.01
"""Letter heights are whole hundredths of a millimetre."""


def floored(height: float) -> float:
    """Return a letter height rounded down to :data:`STEP`, so that what fits still fits."""
    return math.floor(height / STEP + 1e-9) * STEP if math.isfinite(height) else height


def largest_letter_height(
    ink_width: float, ink_height: float, width: float, height: float, maximum: float
) -> float:
    """Return the largest letter height at which ink of this shape fits, exact to 0.01 mm.

    Parameters
    ----------
    ink_width, ink_height
        Size of the ink in letter heights (mm of ink for a letter height of 1 mm).
    width, height
        The room, in mm.
    maximum
        The largest letter height wanted, in mm.
    """
    by_width = width / ink_width if ink_width > 0 else math.inf
    by_height = height / ink_height if ink_height > 0 else math.inf
    return max(0.0, round(floored(min(maximum, by_width, by_height)), 2))
