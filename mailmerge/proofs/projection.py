"""How ink on the wall looks: to an eye before a face, and with the wall unrolled.

Both take outlines of the wall, as :func:`mailmerge.artwork.laying.lifted` gives them: ``x`` is the
angle from the handle in mm on the page's width (x = C_set angle / 360), ``y`` runs along the wall
down from the mouth. On flat goods both are plain millimetres.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from mailmerge.blanks import Blank, Face
from mailmerge.lettering import Box, Outline
from mailmerge.lettering.bend import split

_LONGEST = 3.0
"""Steps longer than this around the wall (mm) are split first: a straight line bends on it.

A step of length w strays w^2 / (8 R) sin(t) from its place, t off the line of sight: at 60 degrees
on a radius of 50 mm 0.02 mm, a tenth of a pixel of the proof.
"""

Floats = NDArray[np.float64]


def on_cup(outline: Outline, blank: Blank, face: Face) -> Outline:
    """Return an outline as one sees it on the cup, in mm from the face's centre line and the mouth.

    The true orthographic projection along the horizontal line that meets the axis in the face's
    middle: ``x = R(z) sin(angle)``, growing to the right; ``y`` straight down, which on a wall that
    leans by ``a`` is ``cos a`` of the way along it. What lies behind the cup's edge is drawn
    together onto the edge, where it covers nothing.
    """
    if blank.is_flat:
        return outline.moved(1.0, False, -face.centre, 0.0)
    fine = split(outline, _LONGEST)
    radius = radius_below(fine.points[:, 1], blank)
    angle = (fine.points[:, 0] - face.centre) / blank.page_width * 2 * math.pi
    across = radius * np.sin(np.clip(angle, -math.pi / 2, math.pi / 2))
    down = fine.points[:, 1] * math.cos(math.radians(blank.tilt))
    return Outline(fine.verbs, np.column_stack([across, down]))


def turns_seen(outline: Outline, blank: Blank, face: Face) -> list[float]:
    """Return by which whole turns (mm of the page) ink is seen from a face: 0, one, or both ways.

    The wrap closes: what lies past the seam comes in at the other edge.
    """
    if blank.is_flat:
        return [0.0]
    around = blank.page_width
    left, right = outline.points[:, 0].min(), outline.points[:, 0].max()
    seen = face.centre - around / 4, face.centre + around / 4
    return [
        turn for turn in (0.0, around, -around) if left + turn < seen[1] and right + turn > seen[0]
    ]


def radius_below(y: Floats, blank: Blank) -> Floats:
    """Return the wall's radius in mm so far below the mouth, along the wall."""
    around = blank.circumference_at(blank.height) - blank.slope * y
    return np.asarray(around / (2 * math.pi))


def unrolled(points: Floats, blank: Blank) -> Floats:
    """Return points of the wall, shape (n, 2), with the wall unrolled flat; mm, ``y`` down.

    A straight wall is a rectangle. A tapered one is a part of a ring: a point at slant distance
    ``R / sin(tilt)`` from the cone's tip lies there on a circle, turned by ``angle sin(tilt)``
    (handbooks of mensuration: the sector of a frustum is 2 pi (R - r) / slant). The middle,
    opposite the handle, stays upright.
    """
    lean = math.sin(math.radians(blank.tilt))
    if blank.is_flat or abs(lean) < _STRAIGHT:
        return points
    around = points[:, 0] / blank.page_width * 2 * math.pi - math.pi
    reach = radius_below(points[:, 1], blank) / lean
    return np.column_stack([reach * np.sin(around * lean), -reach * np.cos(around * lean)])


_STRAIGHT = 1e-6
"""A wall that leans less is drawn as a straight one: its ring would be kilometres across."""


def unrolled_outline(outline: Outline, blank: Blank) -> Outline:
    """Return an outline of the wall with the wall unrolled flat."""
    fine = split(outline, _LONGEST) if blank.taper else outline
    return Outline(fine.verbs, unrolled(fine.points, blank))


def strip(blank: Blank, left: Floats, right: Floats, heights: Floats) -> Floats:
    """Return the outline of a strip of the wall, unrolled: a closed polygon, shape (n, 2).

    Parameters
    ----------
    left, right
        ``x`` of its edges on the wall at each of the heights.
    heights
        In mm above the base, rising.
    """
    steps = np.linspace(0.0, 1.0, 40)
    down = blank.height - heights
    sides = [
        np.column_stack([left, down]),
        np.column_stack([left[-1] + (right[-1] - left[-1]) * steps, np.full(40, down[-1])]),
        np.column_stack([right, down])[::-1],
        np.column_stack([right[0] + (left[0] - right[0]) * steps, np.full(40, down[0])]),
    ]
    return unrolled(np.concatenate(sides), blank)


def levels(low: float, high: float) -> Floats:
    """Return heights from low to high at which a strip's edges are drawn."""
    return np.linspace(low, high, 24)


def angle_of_mm(mm: Floats | float, heights: Floats, blank: Blank) -> Floats:
    """Return lengths along the wall at their heights as ``x`` of the wall: the angle they span."""
    around = blank.circumference_at(0.0) + blank.slope * heights
    return np.asarray(mm * blank.page_width / around)


def box_of_wall(blank: Blank) -> Box:
    """Return the bounds of the whole wall, unrolled."""
    heights = levels(0.0, blank.height)
    full = np.full_like(heights, blank.page_width)
    points = strip(blank, np.zeros_like(heights), full, heights)
    low, high = points.min(axis=0), points.max(axis=0)
    return Box(float(low[0]), float(low[1]), float(high[0]), float(high[1]))
