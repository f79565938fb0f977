"""Curves as short straight lines."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from mailmerge.lettering.outline import Outline, Points as Floats


def polygons(outline: Outline, stray: float, longest: float = math.inf) -> list[Floats]:
    """Return the vertices of every contour, each of shape (n, 2).

    Parameters
    ----------
    stray
        How far a chord may lie from its curve, in the outline's units.
    longest
        No straight edge is longer.
    """
    vertices, counts = flattened(outline, stray, longest)
    return np.split(vertices, np.cumsum(counts)[:-1]) if len(counts) else []


def flattened(
    outline: Outline, stray: float, longest: float = math.inf
) -> tuple[Floats, NDArray[np.intp]]:
    """Return the vertices of all contours in one array, and how many each of them has.

    Of vertices that lie closer together than an eighth of ``stray`` one is kept.
    """
    if not outline:
        return np.empty((0, 2)), np.empty(0, dtype=np.intp)
    verbs = outline.verbs.replace("Z", "")
    codes = np.frombuffer(verbs.encode(), dtype=np.uint8)
    begins = np.flatnonzero(codes == ord("M"))
    first = outline.points[outline.starts]
    last = outline.points[np.array([*outline.starts[1:], len(outline.points)]) - 1]
    closing = np.stack([last, first], axis=1)
    kinds = [(np.flatnonzero(codes == ord(verb)), outline.curves(verb)) for verb in "LQC"]
    pieces = [_pieces(curves, stray, longest) for _, curves in kinds]
    back = _pieces(closing, stray, longest) - 1  # the contour's first point is there already
    # How many vertices each step makes, the way back to its first point before the next contour.
    made = np.ones(len(verbs), dtype=np.intp)
    for (steps, _), each in zip(kinds, pieces, strict=True):
        made[steps] = each
    ends = np.array([*begins[1:], len(verbs)])
    made = np.insert(made, ends, back)
    before = np.cumsum(made) - made
    of_contour = np.arange(len(begins))
    shift = np.repeat(of_contour, ends - begins)  # a way back lies before all later contours
    vertices = np.empty((int(made.sum()), 2))
    vertices[before[begins + of_contour]] = first
    for (steps, curves), each in zip(kinds, pieces, strict=True):
        _put(vertices, before[steps + shift[steps]], curves, each, each)
    _put(vertices, before[ends + of_contour], closing, back + 1, back)
    counts = np.add.reduceat(made, begins + of_contour)
    return _apart(vertices, counts, stray / 8)


def following(counts: NDArray[np.intp]) -> NDArray[np.intp]:
    """Return which vertex comes after each one in its contour, by how many each contour has."""
    after = np.arange(1, int(counts.sum()) + 1)
    ends = np.cumsum(counts)
    after[ends[counts > 0] - 1] = (ends - counts)[counts > 0]
    return after


def _pieces(curves: Floats, stray: float, longest: float) -> NDArray[np.intp]:
    """Return in how many pieces each curve is to be taken.

    A chord over a step h of the parameter strays h^2 / 8 of the second derivative at most. A line
    is parted where it is longer than ``longest``: where a stroke is even, any point may be nearest.
    """
    degree = curves.shape[1] - 1
    if degree == 1:
        parts = np.hypot(*(curves[:, 1] - curves[:, 0]).T) / longest
    else:
        turn = curves[:, :-2] - 2 * curves[:, 1:-1] + curves[:, 2:]
        bend = np.hypot(turn[..., 0], turn[..., 1]).max(axis=1) * degree * (degree - 1)
        parts = np.sqrt(bend / (8 * stray))
    pieces: NDArray[np.intp] = np.maximum(np.ceil(parts).astype(np.intp), 1)
    return pieces


def _put(
    vertices: Floats, at: NDArray[np.intp], curves: Floats, pieces: NDArray[np.intp],
    kept: NDArray[np.intp],
) -> None:  # fmt: skip
    """Put points of curves after their first ones where they belong, so many of each as are kept.

    The points are at equal steps of the parameter (Bernstein's form).
    """
    own = np.repeat(np.arange(len(kept)), kept)
    step = np.arange(len(own)) - np.repeat(np.cumsum(kept) - kept, kept)
    t = ((step + 1) / pieces[own])[:, None]
    u = 1 - t
    a, b, *more = curves[own].swapaxes(0, 1)
    match more:
        case []:
            points = a + (b - a) * t
        case [c]:
            points = u * u * a + 2 * u * t * b + t * t * c
        case [c, d]:
            points = u**3 * a + 3 * u * u * t * b + 3 * u * t * t * c + t**3 * d
    vertices[at[own] + step] = points


def _apart(
    vertices: Floats, counts: NDArray[np.intp], least: float
) -> tuple[Floats, NDArray[np.intp]]:
    """Return the vertices that are farther than ``least`` from the one before in their contour."""
    ends = np.cumsum(counts)
    before = np.arange(len(vertices)) - 1
    before[ends - counts] = ends - 1
    far = np.hypot(*(vertices - vertices[before]).T) > least
    kept: NDArray[np.intp] = np.add.reduceat(far, ends - counts, dtype=np.intp)
    return vertices[far], kept


def convex(points: Floats) -> Floats:
    """Return the corners of the convex hull (monotone chain: A. M. Andrew, 1979)."""
    if len(points) < 3:
        return points
    ordered = np.unique(points, axis=0)
    halves = []
    for half in (ordered, ordered[::-1]):
        kept: list[tuple[float, float]] = []
        for x, y in half.tolist():
            while len(kept) > 1 and _turn(kept[-2], kept[-1], (x, y)) <= 0:
                kept.pop()
            kept.append((x, y))
        halves += kept[:-1]
    return np.array(halves)


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
