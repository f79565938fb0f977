"""Closed outlines as plain data: the one shape that weld, artwork and proofs hand to each other.

An outline says nothing of units or axes; its owner does. Font units have ``y`` up, the page and
pictures have ``y`` down.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]

POINTS_OF = {"M": 1, "L": 1, "Q": 2, "C": 3, "Z": 0}
"""How many points each verb takes; the verbs are those of SVG path data."""


class Box(NamedTuple):
    """An axis-parallel box; ``left <= right`` and ``low <= high`` in the owner's units."""

    left: float
    low: float
    right: float
    high: float

    @property
    def width(self) -> float:
        """Extent along the first axis."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent along the second axis."""
        return self.high - self.low

    def overlaps(self, other: Box) -> bool:
        """Whether the two boxes share at least a point."""
        return (
            self.left <= other.right
            and other.left <= self.right
            and self.low <= other.high
            and other.low <= self.high
        )


@dataclass(frozen=True, eq=False)
class Outline:
    """Closed contours of lines and curves.

    ``verbs`` holds one letter for each step (M, L, Q, C, Z as in SVG path data, always absolute),
    ``points`` their points in order, shape (n, 2).
    """

    verbs: str
    points: Points

    def __bool__(self) -> bool:
        return bool(self.verbs)

    def moved(self, scale: float, flip: bool, dx: float, dy: float) -> Outline:
        """Return the outline scaled, turned upside down if ``flip``, and then moved."""
        factors = np.array([scale, -scale if flip else scale])
        moved = Outline(self.verbs, self.points * factors + (dx, dy))
        if "_template" in self.__dict__:
            moved.__dict__["_template"] = self._template
        return moved

    @cached_property
    def _template(self) -> str:
        pieces = {verb: verb + " ".join(["%.3f %.3f"] * count) for verb, count in POINTS_OF.items()}
        return "".join([pieces[verb] for verb in self.verbs])

    def path_data(self) -> str:
        """Return SVG path data with three decimals: a micrometre where the unit is the mm."""
        # One format call; adding 0.0 turns the -0.0 that would print as -0.000.
        return self._template % tuple((np.round(self.points, 3) + 0.0).ravel().tolist())

    @cached_property
    def starts(self) -> list[int]:
        """Index into ``points`` of the first point of every contour."""
        found, at = [], 0
        for verb in self.verbs:
            if verb == "M":
                found.append(at)
            at += POINTS_OF[verb]
        return found

    @cached_property
    def box(self) -> Box:
        """Exact bounds of the ink: extremes of the curves, not of their control points."""
        if not self.verbs:
            return Box(0.0, 0.0, 0.0, 0.0)
        reached = [self.points[self._ends]]
        if "Q" in self.verbs:
            reached.append(_quadratic_extremes(self._curves("Q")))
        if "C" in self.verbs:
            reached.append(_cubic_extremes(self._curves("C")))
        points = np.concatenate(reached)
        (left, low), (right, high) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        return Box(left, low, right, high)

    @cached_property
    def _ends(self) -> NDArray[np.intp]:
        """Index into ``points`` of the last point of every step that has points."""
        counts = [POINTS_OF[verb] for verb in self.verbs if verb != "Z"]
        return np.cumsum(counts) - 1

    def _curves(self, verb: str) -> Points:
        """Return all curves of one kind with their starting points, shape (n, points + 1, 2)."""
        steps = self.verbs.replace("Z", "")
        ends = self._ends[np.frombuffer(steps.encode(), dtype="S1") == verb.encode()]
        curves: Points = self.points[ends[:, None] + np.arange(-POINTS_OF[verb], 1)]
        return curves


def _quadratic_extremes(curves: Points) -> Points:
    """Return the points where quadratic curves turn in x or y, shape (n, 2)."""
    a, b, c = curves[:, 0], curves[:, 1], curves[:, 2]
    with np.errstate(divide="ignore", invalid="ignore"):
        turns = (a - b) / (a - 2 * b + c)
    curve, axis = np.nonzero((turns > 0) & (turns < 1))
    t = turns[curve, axis][:, None]
    extremes: Points = (1 - t) ** 2 * a[curve] + 2 * t * (1 - t) * b[curve] + t**2 * c[curve]
    return extremes


def _cubic_extremes(curves: Points) -> Points:
    """Return the points where cubic curves turn in x or y, shape (n, 2)."""
    a, b, c, d = (curves[:, at] for at in range(4))
    # The slope is k2 t^2 + 2 k1 t + k0; the second root form stays exact where k2 is 0.
    k2, k1, k0 = d - 3 * c + 3 * b - a, a - 2 * b + c, b - a
    with np.errstate(divide="ignore", invalid="ignore"):
        q = -(k1 + np.copysign(np.sqrt(k1 * k1 - k2 * k0), k1))
        turns = np.stack([q / k2, k0 / q])
    _, curve, _ = found = np.nonzero((turns > 0) & (turns < 1))
    t = turns[found][:, None]
    extremes: Points = (
        (1 - t) ** 3 * a[curve]
        + 3 * t * (1 - t) ** 2 * b[curve]
        + 3 * t**2 * (1 - t) * c[curve]
        + t**3 * d[curve]
    )
    return extremes


EMPTY = Outline("", np.empty((0, 2)))


def joined(outlines: list[Outline]) -> Outline:
    """Return the contours of all ``outlines`` as one."""
    if not outlines:
        return EMPTY
    if len(outlines) == 1:
        return outlines[0]
    verbs = "".join([outline.verbs for outline in outlines])
    return Outline(verbs, np.concatenate([outline.points for outline in outlines]))


_NUMBERS = re.compile(r"[-+0-9.eE\s,]*")


def parsed(path_data: str) -> Outline:
    """Return the outline that SVG path data of absolute M, L, Q, C and Z describes.

    Raises
    ------
    ValueError
        The path data holds something else.
    """
    verbs = re.sub(r"[^A-Za-z]", "", path_data.replace("e", ""))
    numbers = re.sub(r"[MLQCZ]", " ", path_data)
    if set(verbs) - set(POINTS_OF) or not _NUMBERS.fullmatch(numbers):
        raise ValueError("path data with other steps than M, L, Q, C and Z")
    values = np.array(numbers.replace(",", " ").split(), dtype=np.float64)
    if len(values) != 2 * sum(POINTS_OF[verb] for verb in verbs):
        raise ValueError("path data with a step that has too many or too few points")
    return Outline(verbs, values.reshape(-1, 2))
