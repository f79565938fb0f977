"""Closed outlines as plain data: the one shape that weld, artwork and proofs hand to each other.

An outline says nothing of units or axes; its owner does. Font units have ``y`` up, the page and
pictures have ``y`` down.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mailmerge.lettering import words

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
        points = self.points * scale if scale != 1.0 else self.points.copy()
        if flip:
            np.negative(points[:, 1], out=points[:, 1])
        points += (dx, dy)
        moved = Outline(self.verbs, points)
        # What is known of the shape stays known: moving must not cost the measuring again.
        for kept in ("_template", "starts", "_ends"):
            if kept in self.__dict__:
                moved.__dict__[kept] = self.__dict__[kept]
        if "box" in self.__dict__:
            left, low, right, high = self.box
            low, high = (-high * scale, -low * scale) if flip else (low * scale, high * scale)
            moved.__dict__["box"] = Box(left * scale + dx, low + dy, right * scale + dx, high + dy)
        return moved

    def turned(self, matrix: tuple[float, float, float, float], dx: float, dy: float) -> Outline:
        """Return the outline turned: x' = a x + b y + dx and y' = c x + d y + dy."""
        a, b, c, d = matrix
        points = self.points @ np.array([[a, c], [b, d]]) + (dx, dy)
        turned = Outline(self.verbs, points)
        for kept in ("_template", "starts", "_ends"):
            if kept in self.__dict__:
                turned.__dict__[kept] = self.__dict__[kept]
        return turned

    def mirrored(self) -> Outline:
        """Return the outline with left and right exchanged about ``x = 0``."""
        return Outline(self.verbs, self.points * (-1.0, 1.0))

    @cached_property
    def _template(self) -> str:
        pieces = {verb: verb + " ".join(["%.3f %.3f"] * count) for verb, count in POINTS_OF.items()}
        return "".join([pieces[verb] for verb in self.verbs])

    def path_data(self) -> str:
        """Return SVG path data with three decimals: a micrometre where the unit is the mm."""
        # One format call is three times as fast as a pen.
        return self._template % tuple(self.points.ravel().tolist())

    @cached_property
    def step_indices(self) -> tuple[list[int], list[int]]:
        """Index into ``points`` of every step's points, and where in that list each step begins.

        A step's start is one of its points, and what closes a contour is a step, too.
        """
        indices: list[int] = []
        starts: list[int] = []
        at = start = 0
        for verb in self.verbs:
            if verb == "M":
                start = at
            else:
                starts.append(len(indices))
                indices += (at - 1, start) if verb == "Z" else range(at - 1, at + POINTS_OF[verb])
            at += POINTS_OF[verb]
        return indices, starts

    @cached_property
    def starts(self) -> list[int]:
        """Index into ``points`` of the first point of every contour."""
        codes = _codes(self.verbs)
        counts = _COUNTS[codes]
        found: list[int] = (np.cumsum(counts) - counts)[codes == ord("M")].tolist()
        return found

    @cached_property
    def box(self) -> Box:
        """Exact bounds of the ink: extremes of the curves, not of their control points."""
        if not self.verbs:
            return Box(0.0, 0.0, 0.0, 0.0)
        reached = [self.points[self._ends]]
        if "Q" in self.verbs:
            reached.append(_quadratic_extremes(self.curves("Q")))
        if "C" in self.verbs:
            reached.append(_cubic_extremes(self.curves("C")))
        points = np.concatenate(reached)
        (left, low), (right, high) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        return Box(left, low, right, high)

    @cached_property
    def area(self) -> float:
        """Signed area inside the contours, exact: half the integral of x dy - y dx (Green)."""
        total = 0.0
        for verb in "LQC":
            if verb in self.verbs:
                total += _swept(self.curves(verb))
        starts = np.array(self.starts)
        ends = np.array([*self.starts[1:], len(self.points)]) - 1
        return total + _swept(self.points[np.stack([ends, starts], axis=1)])

    @cached_property
    def centroid(self) -> tuple[float, float]:
        """Centroid of the area inside the contours, exact.

        By Green's theorem, the integrals of x^2 / 2 dy and of -y^2 / 2 dx along the outline: on a
        cubic polynomials of degree 8, which five Gauss points integrate exactly.
        """
        starts = np.array(self.starts)
        ends = np.array([*self.starts[1:], len(self.points)]) - 1
        steps = [self.curves(verb) for verb in "LQC" if verb in self.verbs]
        closing = self.points[np.stack([ends, starts], axis=1)]
        moment = sum(_first_moment(curves) for curves in (*steps, closing))
        x, y = (np.asarray(moment) / self.area).tolist()
        return x, y

    @cached_property
    def _ends(self) -> NDArray[np.intp]:
        """Index into ``points`` of the last point of every step that has points."""
        return np.cumsum(_COUNTS[_codes(self.verbs.replace("Z", ""))]) - 1

    def curves(self, verb: str) -> Points:
        """Return all curves of one kind with their starting points, shape (n, points + 1, 2)."""
        ends = self._ends[_codes(self.verbs.replace("Z", "")) == ord(verb)]
        curves: Points = self.points[ends[:, None] + np.arange(-POINTS_OF[verb], 1)]
        return curves


_COUNTS = np.zeros(128, dtype=np.intp)
_COUNTS[[ord(verb) for verb in POINTS_OF]] = [*POINTS_OF.values()]


def _codes(verbs: str) -> NDArray[np.uint8]:
    return np.frombuffer(verbs.encode(), dtype=np.uint8)


def _cross(a: Points, b: Points) -> Points:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def _swept(curves: Points) -> float:
    """Return half the integral of x dy - y dx along curves of one kind, shape (n, points, 2).

    The closed forms of the line, the quadratic and the cubic Bezier curve: half the cross product
    of the ends, and what lies between chord and curve.
    """
    first, last = curves[:, 0], curves[:, -1]
    between = _cross(first, last) / 2
    if curves.shape[1] == 3:
        between = between + _cross(curves[:, 1] - first, last - first) / 3
    elif curves.shape[1] == 4:
        b, c, d = (curves[:, at] - first for at in (1, 2, 3))
        between = between + 3 / 20 * (_cross(b, c) + _cross(b, d) + 2 * _cross(c, d))
    return float(between.sum())


_GAUSS, _GAUSS_WEIGHTS = np.polynomial.legendre.leggauss(5)


def _first_moment(curves: Points) -> Points:
    """Return the integrals of x^2 / 2 dy and of -y^2 / 2 dx along curves of one kind."""
    degree = curves.shape[1] - 1
    t = ((_GAUSS + 1) / 2)[:, None]
    share = [math.comb(degree, k) * t**k * (1 - t) ** (degree - k) for k in range(degree + 1)]
    slope = [math.comb(degree - 1, k) * t**k * (1 - t) ** (degree - 1 - k) for k in range(degree)]
    at = sum(curves[:, k, None] * share[k] for k in range(degree + 1))
    turn = sum(
        degree * (curves[:, k + 1] - curves[:, k])[:, None] * slope[k] for k in range(degree)
    )
    weights = _GAUSS_WEIGHTS / 2
    x = (at[..., 0] ** 2 * turn[..., 1] / 2) @ weights
    y = (-(at[..., 1] ** 2) * turn[..., 0] / 2) @ weights
    return np.array([x.sum(), y.sum()])


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


_NUMERIC = b"0123456789.-+eE \t\r\n,"
_LETTERS_TO_BLANKS = bytes.maketrans(b"MLQCZ,", b"      ")


def parsed(path_data: str) -> Outline:
    """Return the outline that SVG path data of absolute M, L, Q, C and Z describes.

    Raises
    ------
    ValueError
        The path data holds something else.
    """
    data = path_data.encode("ascii")
    verbs = data.translate(None, _NUMERIC).decode("ascii")
    if set(verbs) - set(POINTS_OF):
        raise ValueError(words.OTHER_STEPS)
    values = np.array(data.translate(_LETTERS_TO_BLANKS).split(), dtype=np.float64)
    if len(values) != 2 * sum([POINTS_OF[verb] for verb in verbs]):
        raise ValueError(words.WRONG_COUNT_OF_POINTS)
    return Outline(verbs, values.reshape(-1, 2))
