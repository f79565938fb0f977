"""A blank to scale, in lines: seen from the drinker's face, and with its wall unrolled.

Nothing of it is a picture: whoever shows it decides about colours and how large a millimetre is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mailmerge.blanks import VISIBLE_ANGLE, Blank, Face, Zone, angle_of, face_of, usable_at
from mailmerge.guests import Hand
from mailmerge.proofs.handle import Bar, bar_of, reach_of
from mailmerge.proofs.projection import angle_of_mm, box_of_wall, levels, radius_below, strip

Points = tuple[tuple[float, float], ...]
Floats = NDArray[np.float64]

Part = Literal["handle", "wall", "zone", "band", "face", "opposite", "onlookers"]

_FACES: tuple[Part, ...] = ("onlookers", "opposite")


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed line of a drawing."""

    part: Part
    points: Points
    """In mm, to the right and down."""
    hole: Points = ()
    """Wound the other way."""

    @property
    def path(self) -> str:
        """The line as the data of an SVG path."""
        lines = ("L".join(f"{x:.2f} {y:.2f}" for x, y in line) for line in (self.points, self.hole))
        return "".join(f"M{line}Z" for line in lines if line)


@dataclass(frozen=True, slots=True)
class View:
    """One drawing of a blank, what lies behind first."""

    shapes: tuple[Shape, ...]
    left: float
    """The drawing's own box, in mm."""
    top: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Plan:
    """A blank to scale."""

    cup: View
    """As one sees it who looks at the drinker's face; 0 0 is the face's middle at the mouth."""
    wrap: View
    """Its wall unrolled, from the middle of the handle zone to where it comes back to it."""


@lru_cache(maxsize=64)
def plan_of(blank: Blank) -> Plan:
    """Return a blank to scale.

    The cup is the true orthographic projection of the wall, as on a proof: a place at an angle t
    off the line of sight is seen at R(z) sin(t).
    """
    face = _face(blank, "drinker")
    cup = [*_handles(blank, face), Shape("wall", _outline(blank))]
    cup += [Shape("zone", seen) for zone in blank.zones if (seen := _zone_seen(blank, face, zone))]
    cup += [Shape("band", _band_seen(blank)), Shape("face", _face_seen(blank, face))]
    return Plan(_framed(cup), _framed(list(_unrolled(blank))))


def _face(blank: Blank, whose: str) -> Face:
    return face_of(blank, angle_of(whose, Hand.RIGHT), VISIBLE_ANGLE)


def _framed(shapes: list[Shape]) -> View:
    points = np.array([point for shape in shapes for point in shape.points])
    (left, top), (right, low) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return View(tuple(shapes), left, top, right - left, low - top)


def _closed(left: Floats, right: Floats, down: Floats) -> Points:
    """Return a closed line out of a left and a right side."""
    sides = np.column_stack([left, down]), np.column_stack([right, down])[::-1]
    return tuple((float(x), float(y)) for x, y in np.concatenate(sides))


def _down(blank: Blank, heights: Floats) -> Floats:
    """Return how far below the mouth one sees heights above the base."""
    lean = 0.0 if blank.is_flat else math.radians(blank.tilt)
    return np.asarray((blank.height - heights) * math.cos(lean))


def _radius(blank: Blank, heights: Floats) -> Floats:
    if blank.is_flat:
        return np.full_like(heights, blank.page_width / 2)
    return radius_below(blank.height - heights, blank)


def _outline(blank: Blank) -> Points:
    ends = np.array([0.0, blank.height])
    radius = _radius(blank, ends)
    return _closed(-radius, radius, _down(blank, ends))


def _band_seen(blank: Blank) -> Points:
    ends = np.array([blank.band.from_, blank.band.to])
    radius = _radius(blank, ends)
    return _closed(-radius, radius, _down(blank, ends))


def _across(blank: Blank, mm: Floats, heights: Floats) -> Floats:
    """Return how far from the middle one sees lengths along the wall."""
    if blank.is_flat:
        return mm
    radius = _radius(blank, heights)
    return np.asarray(radius * np.sin(np.clip(mm / radius, -math.pi / 2, math.pi / 2)))


def _face_seen(blank: Blank, face: Face) -> Points:
    heights = levels(blank.band.from_, blank.band.to)
    half = np.array([usable_at(blank, face, z) for z in heights]) / 2
    seen = _across(blank, half, heights)
    return _closed(-seen, seen, _down(blank, heights))


def _zone_seen(blank: Blank, face: Face, zone: Zone) -> Points:
    """Return what is seen of a zone with what is kept free around it; nothing if it is behind."""
    heights = levels(max(0.0, zone.low), min(blank.height, zone.high))
    radius = _radius(blank, heights)
    if zone.goes_around:
        return _closed(-radius, radius, _down(blank, heights))
    off = (zone.at - face.angle + 180) % 360 - 180
    middle = math.radians(off) * radius
    left, right = (_across(blank, middle + side * zone.edge, heights) for side in (-1, 1))
    if float(np.max(right - left)) < _LEAST:
        return ()
    return _closed(left, right, _down(blank, heights))


_LEAST = 0.2
"""Millimetres: what is narrower is not seen."""


def _handles(blank: Blank, face: Face) -> Iterator[Shape]:
    """Pass over the handles that are seen beside the wall."""
    for handle in blank.handles if not blank.is_flat else ():
        if abs(math.sin(math.radians(handle.at - face.angle))) >= _SIDEWAYS:
            bar = bar_of(blank, face, handle)
            hole = replace(
                bar,
                left=bar.left + bar.thick,
                top=bar.top + bar.thick,
                right=bar.right - bar.thick,
                low=bar.low - bar.thick,
                radius=max(0.0, bar.radius - bar.thick),
            )
            yield Shape("handle", _rounded(bar), _rounded(hole)[::-1])


_SIDEWAYS = 0.3
"""Sine below which a handle points at the eye, or away from it."""


def _rounded(bar: Bar) -> Points:
    """Return the outer line of a rectangle with round corners."""
    middle = np.array([(bar.left + bar.right) / 2, (bar.top + bar.low) / 2])
    half = np.array([(bar.right - bar.left) / 2, (bar.low - bar.top) / 2])
    radius = min(bar.radius, *half.tolist())
    turn = np.linspace(0.0, math.pi / 2, 9)
    corner = radius * np.column_stack([np.cos(turn), np.sin(turn)]) + half - radius
    back = corner[::-1] * (1, -1)
    points = middle + np.concatenate([corner, -back, -corner, back])
    return tuple((float(x), float(y)) for x, y in points)


def _unrolled(blank: Blank) -> Iterator[Shape]:
    heights = levels(0.0, blank.height)
    zero, full = np.zeros_like(heights), np.full_like(heights, blank.page_width)
    corner = box_of_wall(blank)

    def shape(part: Part, left: Floats, right: Floats, at: Floats) -> Shape:
        points = strip(blank, left, right, at) - (corner.left, corner.low)
        return Shape(part, tuple((float(x), float(y)) for x, y in points))

    yield shape("wall", zero, full, heights)
    for left, right, at in _zones_unrolled(blank):
        yield shape("zone", left, right, at)
    band = levels(blank.band.from_, blank.band.to)
    yield shape("band", np.zeros_like(band), np.full_like(band, blank.page_width), band)
    drinker: Part = "face"
    faces = [(drinker, "drinker"), *((part, part) for part in _FACES)]
    for part, whose in faces[:1] if blank.is_flat else faces:
        face = _face(blank, whose)
        half = np.array([usable_at(blank, face, z) for z in band]) / 2
        if half.max() > 0:
            turned = half if blank.is_flat else angle_of_mm(1.0, band, blank) * half
            yield shape(part, face.centre - turned, face.centre + turned, band)


def _zones_unrolled(blank: Blank) -> Iterator[tuple[Floats, Floats, Floats]]:
    """Pass over the zones as left and right edges at heights; past one end they come back in."""
    full = blank.page_width
    for zone in blank.zones:
        heights = levels(max(0.0, zone.low), min(blank.height, zone.high))
        if zone.goes_around:
            yield np.zeros_like(heights), np.full_like(heights, full), heights
            continue
        edge = angle_of_mm(zone.edge, heights, blank)
        for middle in (full * zone.at / 360 + turn for turn in (-full, 0.0, full)):
            left, right = np.clip(middle - edge, 0, full), np.clip(middle + edge, 0, full)
            if (right > left).any():
                yield left, right, heights


def marks_of(blank: Blank, tapes: tuple[float, float] | None = None) -> dict[str, Points]:
    """Return where each measure of a blank is taken, as lines on the cup of its plan.

    Parameters
    ----------
    tapes
        Heights in mm above the base of the two tapes around a tapered wall.
    """
    marks = {
        "height": _along(blank, 0.0, blank.height, 16.0),
        "band-from": _along(blank, 0.0, blank.band.from_, 7.0),
        "band-to": _along(blank, 0.0, blank.band.to, 11.0),
    }
    if tapes is None:
        marks |= {"around": _tape(blank, blank.band.middle), "across": _over(blank, blank.height)}
    else:
        marks |= {"apart": _along(blank, *tapes, 4.0), "lower": _along(blank, 0.0, tapes[0], 4.0)}
        for end, height in zip(("base", "top"), tapes, strict=True):
            marks |= {f"around-{end}": _tape(blank, height), f"across-{end}": _over(blank, height)}
    return {key: points for key, points in (marks | _beside_zone(blank)).items() if points}


def _along(blank: Blank, low: float, high: float, aside: float) -> Points:
    """Return a line along the wall, so far to the left of it."""
    ends = np.array([low, high])
    across = -float(np.max(_radius(blank, np.array([0.0, blank.height])))) - aside
    return tuple((across, float(y)) for y in _down(blank, ends)) if high > low else ()


def _tape(blank: Blank, height: float) -> Points:
    """Return a tape around the wall, a little from above."""
    radius, down = _at(blank, height)
    turn = np.linspace(-math.pi / 2, math.pi / 2, 24)
    points = np.column_stack([radius * np.sin(turn), down + 0.1 * radius * np.cos(turn)])
    return tuple((float(x), float(y)) for x, y in points)


def _over(blank: Blank, height: float) -> Points:
    """Return a line from side to side, above where it is taken."""
    radius, down = _at(blank, height)
    return (-radius, down - 5), (radius, down - 5)


def _at(blank: Blank, height: float) -> tuple[float, float]:
    at = np.array([height])
    return float(_radius(blank, at)[0]), float(_down(blank, at)[0])


def _beside_zone(blank: Blank) -> dict[str, Points]:
    """Return where the handle and what is kept free beside it are measured."""
    zone, face = blank.zones[0], _face(blank, "drinker")
    at = np.array([blank.band.middle])
    radius, down = _at(blank, blank.band.middle)
    off = math.radians((zone.at - face.angle + 180) % 360 - 180) * radius

    def line(left: float, right: float, below: float) -> Points:
        ends = (float(_across(blank, np.array([off + mm]), at)[0]) for mm in (left, right))
        return tuple((x, down + below) for x in ends)

    half = zone.width / 2
    marks = {"clearance": line(-zone.edge, -half, 6.0)}
    if zone.width:
        out = zone.stands_out or reach_of(blank, zone)
        marks["handle"] = line(-half, half, 0.0)
        marks["stands-out"] = ((radius, down - 6), (radius + out, down - 6))
    return marks
