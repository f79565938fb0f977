"""Curves as short straight lines."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from mailmerge.lettering.outline import POINTS_OF, Outline
from mailmerge.lettering.outline import Points as Floats


def polygons(outline: Outline, stray: float, longest: float = math.inf) -> Iterator[Floats]:
    """Yield the vertices of every contour, shape (n, 2).

    Parameters
    ----------
    stray
        How far a chord may lie from its curve, in the outline's units.
    longest
        No straight edge is longer.
    """
    ends = [*outline.starts[1:], len(outline.points)]
    for steps, start, end in zip(outline.verbs.split("M")[1:], outline.starts, ends, strict=True):
        yield _flat(steps, outline.points[start:end], stray, longest)


def _flat(steps: str, points: Floats, stray: float, longest: float) -> Floats:
    """Return one contour as the vertices of a polygon, no straight edge longer than ``longest``."""
    parts = [points[:1]]
    at = 0
    for verb in steps:
        count = POINTS_OF[verb]
        if verb == "L":
            parts.append(_straight(points[at], points[at + 1], longest))
        elif count:
            parts.append(_sampled(points[at : at + count + 1], stray))
        at += count
    parts.append(_straight(points[-1], points[0], longest)[:-1])
    flat = np.concatenate(parts)
    far = np.hypot(*(flat - np.roll(flat, 1, axis=0)).T) > stray / 8
    kept: Floats = flat[far]
    return kept


def _straight(start: Floats, end: Floats, longest: float) -> Floats:
    """Return points of a line after its first one: where a stroke is even, any may be nearest."""
    pieces = max(1, math.ceil(math.dist(start, end) / longest))
    return np.asarray(start + (end - start) * (np.arange(1, pieces + 1) / pieces)[:, None])


def _sampled(curve: Floats, stray: float) -> Floats:
    """Return points of a curve after its first one.

    A chord over a step h of the parameter strays h^2 / 8 of the second derivative at most.
    """
    degree = len(curve) - 1
    bend = np.hypot(*(curve[:-2] - 2 * curve[1:-1] + curve[2:]).T).max() * degree * (degree - 1)
    pieces = max(1, math.ceil(math.sqrt(bend / (8 * stray))))
    weights = _weights(degree, pieces)
    points: Floats = weights[0] * curve[0]
    for weight, point in zip(weights[1:], curve[1:], strict=True):
        points += weight * point
    return np.asarray(points)


@lru_cache(maxsize=256)
def _weights(degree: int, pieces: int) -> tuple[Floats, ...]:
    """Return how much each point of a curve counts at every step along it (Bernstein)."""
    t = (np.arange(1, pieces + 1) / pieces)[:, None]
    u = 1 - t
    if degree == 2:
        return u * u, 2 * u * t, t * t
    return u**3, 3 * u * u * t, 3 * u * t * t, t**3


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
