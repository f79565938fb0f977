"""Lettering along a circle: letters that stand alone are turned, joined ones are bent with it."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from mailmerge.lettering.outline import POINTS_OF, Outline

_STRAY = 0.005
"""Millimetres that a step of a bent outline may stray from its circle.

A chord of length w strays w^2 / (8 R), so no step is longer than sqrt(8 R) times its root.
"""


def on_circle(pieces: list[Outline], radius: float, bow_up: bool) -> list[Outline]:
    """Return pieces of a line along a circle, the middle of the line staying at ``x = 0``.

    Parameters
    ----------
    pieces
        In mm, ``y`` up, the baseline at ``y = 0``. A piece is turned as a whole about the foot of
        its middle, unless it spans more than a twelfth of the radius and is wider than one and a
        half times its height: what is so wide is a word of joined letters, and is bent.
    radius
        Of the circle that the baseline follows, in mm.
    bow_up
        Whether the circle's middle lies below the line.
    """
    turned = []
    for piece in pieces:
        left, _, right, _ = piece.box
        if right - left > radius / 12 and _is_joined(piece):
            turned.append(_bent(piece, radius, bow_up))
        else:
            turned.append(_turned(piece, (left + right) / 2, radius, bow_up))
    return turned


def _is_joined(piece: Outline) -> bool:
    """Whether a piece is wider than a letter: more than one and a half times its height."""
    return piece.box.width > 1.5 * piece.box.height


def _turned(piece: Outline, middle: float, radius: float, bow_up: bool) -> Outline:
    angle = middle / radius * (-1 if bow_up else 1)
    cos, sin = math.cos(angle), math.sin(angle)
    x, y = piece.points[:, 0] - middle, piece.points[:, 1]
    centre = -radius if bow_up else radius
    foot_x = radius * math.sin(middle / radius)
    foot_y = centre + (radius if bow_up else -radius) * math.cos(middle / radius)
    points = np.column_stack([foot_x + x * cos - y * sin, foot_y + x * sin + y * cos])
    return Outline(piece.verbs, points)


def _bent(piece: Outline, radius: float, bow_up: bool) -> Outline:
    fine = split(piece, math.sqrt(8 * radius * _STRAY))
    x, y = fine.points[:, 0], fine.points[:, 1]
    reach = radius + (y if bow_up else -y)
    across = reach * np.sin(x / radius)
    along = reach * np.cos(x / radius) - radius
    return Outline(fine.verbs, np.column_stack([across, along if bow_up else -along]))


def split(outline: Outline, longest: float) -> Outline:
    """Return the outline with no step longer than ``longest`` along the first axis."""
    along = outline.points[:, 0].tolist()
    counts = []
    at = start = 0
    for verb in outline.verbs:
        count = POINTS_OF[verb]
        if verb == "M":
            start = at
        else:
            ends = (along[at - 1], along[start]) if verb == "Z" else along[at - 1 : at + count]
            counts.append(max(1, math.ceil((max(ends) - min(ends)) / longest)))
        at += count
    return cut(outline, counts)


def cut(outline: Outline, counts: list[int]) -> Outline:
    """Return the outline with each step cut into so many parts; what closes a contour counts."""
    points = outline.points
    verbs: list[str] = []
    parts: list[NDArray[np.float64]] = []
    at = start = copied = 0  # points before ``copied`` are in ``parts`` already
    wanted = iter(counts)
    for verb in outline.verbs:
        count = POINTS_OF[verb]
        if verb == "M":
            start = at
        else:
            pieces = next(wanted)
            if pieces > 1:
                step = points[[at - 1, start]] if verb == "Z" else points[at - 1 : at + count]
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
