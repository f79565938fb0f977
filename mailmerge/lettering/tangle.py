"""How often the lines of an outline cross, before a library works out what is inside it.

The welding library takes seconds for some ten thousand crossings and minutes for more, and a few
hundred bytes can hold them.
"""

from __future__ import annotations

import math

import numpy as np

from mailmerge.lettering.outline import Outline, Points

MOST_CROSSINGS = 10_000
"""The richest drawings and letters seen have a few hundred. Own judgement."""

HARMLESS = math.isqrt(2 * MOST_CROSSINGS)
"""So few points cannot be tangled, however they lie."""


def is_tangled(outline: Outline) -> bool:
    """Whether lines of an outline meet more than :data:`MOST_CROSSINGS` times.

    Curves are taken as the polygons of their control points. Neighbours in a contour meet where
    one ends and the other begins, which does not count.
    """
    count = len(outline.points)
    if count <= HARMLESS:
        return False
    start, end = _segments(outline)
    low, high = np.minimum(start, end), np.maximum(start, end)
    order = np.argsort(low[:, 0], kind="stable")
    start, end, low, high = start[order], end[order], low[order], high[order]
    # Sorted by where they begin: what begins behind a line's end cannot meet it.
    reach = np.searchsorted(low[:, 0], high[:, 0], side="right")
    left = MOST_CROSSINGS + count
    if int((reach - np.arange(1, count + 1)).sum()) <= left:
        return False  # not even if all meet that lie over each other
    for at in range(count):
        others = slice(at + 1, int(reach[at]))
        near = (low[others, 1] <= high[at, 1]) & (high[others, 1] >= low[at, 1])
        left -= _met(start[at], end[at], start[others][near], end[others][near])
        if left < 0:
            return True
    return False


def _segments(outline: Outline) -> tuple[Points, Points]:
    """Return where the lines between the points of each contour start and end."""
    following = np.arange(1, len(outline.points) + 1)
    ends = [*outline.starts[1:], len(outline.points)]
    following[np.array(ends) - 1] = outline.starts
    return outline.points, outline.points[following]


def _met(start: Points, end: Points, starts: Points, ends: Points) -> int:
    """Return how many other lines a line crosses or touches."""
    own, others = end - start, ends - starts
    first, last, back = starts - start, ends - start, end - starts
    theirs = _side(own, first) * _side(own, last)
    ours = _side(others, -first) * _side(others, back)
    return int(((theirs <= 0) & (ours <= 0)).sum())


def _side(along: Points, to: Points) -> Points:
    return np.asarray(along[..., 0] * to[..., 1] - along[..., 1] * to[..., 0])
