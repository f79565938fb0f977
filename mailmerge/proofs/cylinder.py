"""How artwork on the wrap looks on the cup: orthographic projection of a straight cylinder."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from mailmerge.blanks import Blank, Face
from mailmerge.lettering import Outline
from mailmerge.lettering.outline import POINTS_OF

_LONGEST = 3.0
"""Steps longer than this along the wrap (mm) are split first: a straight line bends on a cylinder.

A step of length w strays w^2 / (8 R) sin(t) from its place, t off the line of sight: at 60 degrees
on a radius of 50 mm 0.02 mm, a tenth of a pixel of the proof.
"""


def on_cup(outline: Outline, blank: Blank, face: Face) -> Outline:
    """Return an outline as one sees it on the cup, in mm from the face's centre line.

    ``x = R sin((s - s_face) / R)``, growing to the right; ``y`` stays. What lies behind the
    cup's edge is drawn together onto the edge, where it covers nothing.

    Parameters
    ----------
    outline
        In page coordinates (mm).
    """
    split = _split(outline)
    turned = np.clip((split.points[:, 0] - face.centre) / blank.radius, -np.pi / 2, np.pi / 2)
    seen = np.column_stack([blank.radius * np.sin(turned), split.points[:, 1]])
    return Outline(split.verbs, seen)


def _split(outline: Outline) -> Outline:
    """Return the outline with no step longer than :data:`_LONGEST` along the wrap."""
    points = outline.points
    along = points[:, 0].tolist()
    verbs: list[str] = []
    parts: list[NDArray[np.float64]] = []
    at = start = copied = 0  # points before ``copied`` are in ``parts`` already
    for verb in outline.verbs:
        count = POINTS_OF[verb]
        if verb == "M":
            start = at
        else:
            ends = (along[at - 1], along[start]) if verb == "Z" else along[at - 1 : at + count]
            reach = max(ends) - min(ends)
            if reach > _LONGEST:
                step = points[[at - 1, start]] if verb == "Z" else points[at - 1 : at + count]
                pieces = math.ceil(reach / _LONGEST)
                parts += [points[copied:at], _pieces(step, pieces)]
                copied = at + count
                verbs.append(("L" if verb == "Z" else verb) * pieces)
                if verb != "Z":
                    at += count
                    continue
        verbs.append(verb)
        at += count
    return Outline("".join(verbs), np.concatenate([*parts, points[copied:]]))


def _pieces(step: NDArray[np.float64], pieces: int) -> NDArray[np.float64]:
    """Return a line or curve (its control points, start included) cut at equal parameters."""
    cut = []
    rest = step
    for left in range(pieces, 1, -1):
        t = 1 / left
        levels = [rest]
        while len(levels[-1]) > 1:
            levels.append(levels[-1][:-1] * (1 - t) + levels[-1][1:] * t)
        cut += [level[0] for level in levels[1:]]
        rest = np.stack([level[-1] for level in reversed(levels)])
    return np.array([*cut, *rest[1:]])
