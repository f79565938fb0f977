"""How artwork on the wrap looks on the cup: orthographic projection of a straight cylinder."""

from __future__ import annotations

import numpy as np

from mailmerge.blanks import Blank, Face
from mailmerge.lettering import Outline
from mailmerge.lettering.bend import split

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
    fine = split(outline, _LONGEST)
    turned = np.clip((fine.points[:, 0] - face.centre) / blank.radius, -np.pi / 2, np.pi / 2)
    seen = np.column_stack([blank.radius * np.sin(turned), fine.points[:, 1]])
    return Outline(fine.verbs, seen)
