"""The shape of a handle, as every picture of a blank shows it: a bar with round corners.

What is measured of a handle is how far it stands out; the rest of its shape is a usual one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from mailmerge.blanks import Blank, Face, Zone

_USUAL_REACH = 0.84
"""How far a handle stands out where nobody has measured it, in radii of the cup. Own judgement."""
_TOP, _LOW = 0.16, 0.72
"""Where it ends, as shares of the height below the mouth. Own judgement."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A handle as one sees it: a rectangle with round corners, and a hole in it; all in mm."""

    left: float
    """From the cup's middle, to the right."""
    top: float
    """Below the mouth."""
    right: float
    low: float
    radius: float
    """Of its outer corners."""
    thick: float
    """How wide the bar is."""


def handle_reach(blank: Blank) -> float:
    """Return how far the handle of a blank stands out in a picture, in mm; 0 if it has none."""
    return max((reach_of(blank, handle) for handle in blank.handles), default=0.0)


def reach_of(blank: Blank, handle: Zone) -> float:
    """Return how far a handle stands out in a picture, in mm.

    Of one that comes off, its brackets alone are measured.
    """
    if handle.stands_out is not None and not handle.comes_off:
        return handle.stands_out
    return _USUAL_REACH * blank.page_width / (2 * math.pi)


def bar_of(blank: Blank, face: Face, handle: Zone) -> Bar:
    """Return a handle as somebody sees it who looks at a face.

    A place at angle t from the line of sight and distance r from the axis is seen at r sin t.
    """
    turned = math.radians(handle.at - face.angle)
    across, toward = math.sin(turned), abs(math.cos(turned))
    height, reach = blank.upright_height, reach_of(blank, handle)
    mouth, base = blank.radius_at(blank.height), blank.radius_at(0.0)
    wall = mouth + (base - mouth) * (_TOP + _LOW) / 2
    near, far = sorted((wall * across * 0.9, (wall + reach) * across))
    half = handle.width * 0.32 * toward
    return Bar(
        near - half,
        height * _TOP,
        far + half,
        height * _LOW,
        reach * 0.55 * max(abs(across), 0.3),
        0.21 * wall * (0.55 + 0.45 * abs(across)),
    )
