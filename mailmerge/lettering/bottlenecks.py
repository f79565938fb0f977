"""The finest of a lettering: its narrowest stroke and its narrowest gap, from the true outlines.

A place counts where two parts of the outline are nearest to each other: no small move along
either brings them closer (a bottleneck, or double normal). That is the neck of a stroke, any place
of a stroke of even width, the width of a counter, the distance of two letters. The end that a
stroke runs out into, thinner and thinner, is no such place, and neither is the bottom of a notch:
the beam rounds them off and nothing is lost. Dots and round counters are as wide as the narrowest
slit that they pass through.

Outlines are taken as polygons that keep to their curves within a two-thousandth of the letter
height. One end of a place lies on the curve and the other on a chord, so that a width is off by no
more than that: 0.0075 mm in letters of 15 mm, 0.02 mm in letters of 40 mm. Dots and round counters
may be off by twice as much, on the small side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mailmerge.lettering.flat import flattened, following
from mailmerge.lettering.outline import Outline
from mailmerge.lettering.shape import Glyph
from mailmerge.lettering.weld import Lettering, connects, covers, glyph_outline

Floats = NDArray[np.float64]

STRAY = 1 / 2000
"""Letter heights that the polygon may stray from its curve."""

REACH = 0.12
"""Letter heights; places wider than this are not looked for, unless a caller asks for more."""

_STRAIGHT = 0.1
"""Letter heights; longer straight edges get vertices in between."""

_EVEN = 0.035
"""Sine of the angle by which the sides of an even stroke may be out of parallel: 2 degrees."""

_CORNER = math.radians(30)
"""A vertex that turns by more is a corner of the outline and not a point of a curve."""

_ASPECT = 1.5
"""A bump that is shorter around than this many times its width is no stroke, a bay no gap.

A round dot is pi / 2 times its width around.
"""

_PIT = 0.05
"""Letter heights; where outlines part for less than this between two crossings, nothing shows."""

_EMPTY = 0.97
"""Share of a place's circle that has to be empty; the ends lie on its edge."""

_SPECK = 0.04
"""Letter heights; parts of the outline that are shorter around are what a weld leaves behind."""

_KEPT = 16
"""Places of each kind that are kept for a glyph: some may be covered by its neighbours."""


class Place(NamedTuple):
    """A narrow place: its width, and its two ends on the outline."""

    width: float
    start: tuple[float, float]
    end: tuple[float, float]

    def moved(self, dx: float, dy: float) -> Place:
        """Return the place moved."""
        (a, b), (c, d) = self.start, self.end
        return Place(self.width, (a + dx, b + dy), (c + dx, d + dy))

    @property
    def middle(self) -> tuple[float, float]:
        """The point half-way across."""
        return (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2


class Narrow(NamedTuple):
    """The narrow places of a shape, the narrowest first."""

    strokes: tuple[Place, ...]
    gaps: tuple[Place, ...]


class Measured(NamedTuple):
    """A width, and the letters that it was found in or between."""

    width: float
    letters: str

    def scaled(self, by: float, more: float) -> Measured:
        """Return the width times ``by``, and then ``more``; never below 0."""
        return Measured(max(0.0, self.width * by + more), self.letters)


class Finest(NamedTuple):
    """The narrowest stroke and gap of a line, in letter heights; None where none is in reach."""

    stroke: Measured | None
    gap: Measured | None
    """Within a letter, or between two that would be read as another one if they grew together."""
    between: Measured | None = None
    """Between two letters that are read as they are even where they touch: their gap, or how wide
    they touch where their font does not connect them."""


def joins_to_another(letters: str) -> bool:
    """Whether two letters that touch are read as another one, such as r and n as m."""
    return letters in _READ_AS


_READ_AS = frozenset(
    ("rn", "nn", "ni", "in", "ri", "ii", "uu", "vv", "VV",  # m, m, m, m, n, u, w, w, W
     "cl", "ol", "lo", "ci", "cj", "oj",  # d, d, b, a, g, q
     "LI", "IJ", "CI", "OI", "IO", "II", "Il", "lI",  # U, U, D, D, D, H, H, H
     "ьі", "ЬІ")  # ы
)  # fmt: skip
"""Two letters that are read as another one where they touch. Common practice, without a source."""


class _Polygon:
    """An outline as closed polygons, with what the search needs of each vertex.

    ``inside`` is 1 where the ink lies left of an edge, and -1 where it lies right.
    """

    def __init__(self, points: Floats, counts: NDArray[np.intp], inside: float) -> None:
        self.points, self.following, self.inside = points, following(counts), inside
        self.contour = np.repeat(np.arange(len(counts)), counts)
        self.edges = points[self.following] - points
        self.lengths = np.hypot(self.edges[:, 0], self.edges[:, 1])
        self.out = self.edges / self.lengths[:, None]
        self.into = np.empty_like(self.out)
        self.into[self.following] = self.out
        turn = np.arctan2(_cross(self.into, self.out), _dot(self.into, self.out))
        self.turn = turn * inside  # above 0 at a convex corner
        smooth = np.abs(turn) < _CORNER
        self.slack = np.where(smooth, np.sin(np.abs(turn) / 2), 0.0) + _EVEN
        self.along = np.zeros(len(points))
        self.around = np.zeros(len(points))
        ends = np.cumsum(counts)
        for start, end in zip((ends - counts).tolist(), ends.tolist(), strict=True):
            own = slice(start, end)
            run = np.cumsum(self.lengths[own])
            self.along[own] = run - self.lengths[own]
            self.around[own] = run[-1]


def _cross(a: Floats, b: Floats) -> Floats:
    product: Floats = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return product


def _dot(a: Floats, b: Floats) -> Floats:
    product: Floats = a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1]
    return product


def _polygon(outline: Outline, unit: float) -> _Polygon | None:
    """Return an outline as polygons; ``unit`` is the length of a letter height."""
    points, counts = flattened(outline, unit * STRAY, unit * _STRAIGHT)
    whole = counts >= 3
    if not whole.any():
        return None
    points = points[np.repeat(whole, counts)]
    return _Polygon(points, counts[whole], 1.0 if outline.area > 0 else -1.0)


_BLOCK = 512
"""Vertices that are compared with all edges at a time."""


def _between(
    one: _Polygon, other: _Polygon, unit: float, reach: float, offset: tuple[float, float]
) -> Floats:
    """Return the bottlenecks between vertices of one polygon and edges of the other.

    Parameters
    ----------
    offset
        Where the other's origin lies.

    Returns
    -------
    Floats
        Rows of (width, inside, x, y at the vertex, x, y at the edge); ``inside`` is 1 for a stroke
        and -1 for a gap.
    """
    reach *= unit
    starts = other.points + offset
    vertices, edges = np.arange(len(one.points)), np.arange(len(starts))
    if one is not other:  # only what lies near the other one at all
        vertices = _inside(one.points, one.points, starts, reach)
        edges = _inside(starts, starts + other.edges, one.points[vertices], reach)
    middles, lengths = (starts + other.edges / 2)[edges], other.lengths[edges]
    found = []
    for begin in range(0, len(vertices) if len(edges) else 0, _BLOCK):
        block = vertices[begin : begin + _BLOCK]
        at, on = _neighbours(one.points[block], middles, lengths, reach)
        if len(at):
            found.append(_bottlenecks(one, block[at], other, edges[on], starts, unit, reach))
    return np.concatenate(found) if found else np.empty((0, 6))


def _inside(starts: Floats, ends: Floats, points: Floats, reach: float) -> NDArray[np.intp]:
    """Return which edges have a part within reach of the box of some points."""
    if not len(points):
        return np.empty(0, dtype=np.intp)
    low, high = points.min(axis=0) - reach, points.max(axis=0) + reach
    met = (np.maximum(starts, ends) >= low) & (np.minimum(starts, ends) <= high)
    return np.flatnonzero(met[:, 0] & met[:, 1])


def _neighbours(
    points: Floats, middles: Floats, lengths: Floats, reach: float
) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return which points and edges may come within reach of each other, as pairs of indices."""
    centre = middles.mean(axis=0)
    points, middles = points - centre, middles - centre
    squared = (points**2).sum(axis=1)[:, None] + (middles**2).sum(axis=1) - 2 * points @ middles.T
    point, edge = np.nonzero(squared <= (lengths / 2 + reach) ** 2)
    return point, edge


def _bottlenecks(
    one: _Polygon, at: NDArray[np.intp], other: _Polygon, on: NDArray[np.intp], starts: Floats,
    unit: float, reach: float,
) -> Floats:  # fmt: skip
    """Return those of the pairs of vertex ``at`` and edge ``on`` that are bottlenecks."""
    if one is other:
        apart = (at != on) & (at != other.following[on])
        at, on = at[apart], on[apart]
    points, out = one.points[at], other.out[on]
    t = _dot(points - starts[on], out).clip(0, other.lengths[on])
    feet = starts[on] + t[:, None] * out
    away = feet - points
    width = np.hypot(away[:, 0], away[:, 1])
    near = np.flatnonzero((width > unit * STRAY / 4) & (width <= reach))
    toward = away[near] / width[near][:, None]
    good = _nearest(one, at[near], toward)  # few are left for what follows
    near, toward = near[good], toward[good]
    at, on, t, width = at[near], on[near], t[near], width[near]
    points, feet = points[near], feet[near]
    side = np.sign(_cross(one.into[at] + one.out[at], toward)) * one.inside
    # At the foot: across the edge, or at one of its ends as the vertex that it is.
    ends = np.where(t <= 0, on, np.where(t >= other.lengths[on], other.following[on], -1))
    at_end = ends >= 0
    foot_side = np.sign(-_cross(other.out[on], toward)) * other.inside
    ends_side = np.sign(-_cross(other.into[ends] + other.out[ends], toward)) * other.inside
    good = np.where(at_end, _nearest(other, ends, -toward), True)
    good &= side == np.where(at_end, ends_side, foot_side)
    if one is other:
        apart = np.abs(one.along[at] - (other.along[on] + t))
        apart = np.minimum(apart, one.around[at] - apart)
        least = np.maximum(_ASPECT * width, _SPECK * unit)
        good &= (one.contour[at] != other.contour[on]) | (apart >= least)
    return np.asarray(np.column_stack([width, side, points, feet])[good])


def _nearest(polygon: _Polygon, at: NDArray[np.intp], unit: Floats) -> NDArray[np.bool_]:
    """Whether moves from vertices along the outline come no closer to what lies in a direction."""
    slack = polygon.slack[at]
    ahead = _dot(unit, polygon.out[at]) <= slack
    back = _dot(unit, polygon.into[at]) >= -slack
    return np.asarray(ahead & back)


def _places(rows: Floats, polygon: _Polygon, most: int) -> tuple[Place, ...]:
    """Return the narrowest rows as places: those whose circle holds nothing else of the outline."""
    kept: list[Place] = []
    for row in _thinned(rows[np.argsort(rows[:, 0], kind="stable")]):
        if len(kept) == most:
            break
        place = _place(row)
        near = any(math.dist(place.middle, other.middle) < 2 * place.width for other in kept)
        if not near and _is_free(polygon, place):
            kept.append(place)
    return tuple(kept)


def _thinned(rows: Floats) -> Floats:
    """Return sorted rows with only the narrowest of those whose middles lie close together."""
    if not len(rows):
        return rows
    cell = max(float(rows[-1, 0]) / 8, 1e-9)
    middles = np.rint((rows[:, 2:4] + rows[:, 4:6]) / 2 / cell).astype(np.int64)
    _, first = np.unique(middles[:, 0] * 1_000_003 + middles[:, 1], return_index=True)
    return np.asarray(rows[np.sort(first)])


def _is_free(polygon: _Polygon, place: Place) -> bool:
    """Whether the circle across a place is empty: nothing else of the outline comes closer."""
    from_start = np.array(place.middle) - polygon.points
    along = _dot(from_start, polygon.out).clip(0, polygon.lengths)
    feet = from_start - along[:, None] * polygon.out
    nearest = math.sqrt(float(_dot(feet, feet).min()))
    return nearest >= place.width / 2 * _EMPTY


def narrow(outline: Outline, unit: float, reach: float = REACH) -> Narrow:
    """Return the narrow places of any outline.

    Parameters
    ----------
    outline
        Wound so that outer contours run one way and holes the other.
    unit
        Length that stands for a letter height: sets the accuracy (:data:`STRAY`).
    reach
        In such lengths; wider places are not looked for.
    """
    polygon = _polygon(outline, unit) if outline else None
    return _narrow(polygon, unit, reach) if polygon else Narrow((), ())


def _narrow(polygon: _Polygon, unit: float, reach: float) -> Narrow:
    rows = _between(polygon, polygon, unit, reach, (0, 0))
    whole = _contour_widths(polygon, unit * reach)

    def places(side: float) -> tuple[Place, ...]:
        necks = _places(rows[rows[:, 1] == side], polygon, _KEPT)
        own = [_place(row) for row in whole[whole[:, 1] == side]]
        return tuple(sorted([*necks, *own])[:_KEPT])

    return Narrow(places(1.0), places(-1.0))


def _place(row: Floats) -> Place:
    width, _, x, y, foot_x, foot_y = row.tolist()
    return Place(width, (x, y), (foot_x, foot_y))


_DIRECTIONS = np.linspace(0, np.pi, 36, endpoint=False)


def _contour_widths(polygon: _Polygon, reach: float) -> Floats:
    """Return how narrow each contour is as a whole, as rows like those of :func:`_between`.

    The smallest distance of two parallel lines that it fits between: what a round dot or a round
    counter is measured by, which has no two sides that are nearest to each other.
    """
    found = []
    for number in range(int(polygon.contour.max()) + 1):
        points = polygon.points[polygon.contour == number]
        across = points @ np.array([np.cos(_DIRECTIONS), np.sin(_DIRECTIONS)])
        widths = across.max(axis=0) - across.min(axis=0)
        at = int(widths.argmin())
        if widths[at] <= reach:
            area = float(_cross(points, np.roll(points, -1, axis=0)).sum())
            side = 1.0 if (area > 0) == (polygon.inside > 0) else -1.0
            ends = points[across[:, at].argmin()], points[across[:, at].argmax()]
            found.append((widths[at], side, *ends[0], *ends[1]))
    return np.array(found).reshape(-1, 6)


@dataclass(frozen=True, eq=False)
class _Shape:
    """A glyph welded alone, as the search needs it."""

    outline: Outline
    unit: float
    reach: float

    @cached_property
    def polygon(self) -> _Polygon | None:
        return _polygon(self.outline, self.unit)

    @cached_property
    def narrow(self) -> Narrow:
        return _narrow(self.polygon, self.unit, self.reach) if self.polygon else Narrow((), ())


@lru_cache(maxsize=4096)
def _shape(font: object, glyph: int, scale: float, unit: float, reach: float) -> _Shape:
    return _Shape(glyph_outline(font, glyph, scale), unit, reach)  # type: ignore[arg-type]


class _Pair(NamedTuple):
    """What two neighbours make together: necks where they join, gaps where they do not."""

    strokes: tuple[Place, ...]
    gaps: tuple[Place, ...]
    touch: bool


@lru_cache(maxsize=16384)
def _pair(one: _Shape, other: _Shape, dx: int, dy: int) -> _Pair:
    """Return the narrow places between two glyphs, the second ``dx`` and ``dy`` off the first."""
    a, b = one.polygon, other.polygon
    if a is None or b is None:
        return _Pair((), (), False)
    rows = _between(a, b, one.unit, one.reach, (dx, dy))
    back = _between(b, a, one.unit, one.reach, (-dx, -dy)) + np.array((0, 0, dx, dy, dx, dy))
    rows = np.concatenate([rows, back])
    crossings = _crossings(a, b, (dx, dy))
    gaps = rows[rows[:, 1] < 0]
    gaps = gaps[np.argsort(gaps[:, 0], kind="stable")]
    found: list[Place] = []
    for row in gaps:
        place = _place(row)
        if (
            _is_free(a, place)
            and _is_free(b, place.moved(-dx, -dy))
            and not _covered(place, ((one, 0, 0), (other, dx, dy)), gap=True)
        ):
            found.append(place)
            if len(found) == 2:
                break
    return _Pair(_necks(crossings, one.unit), tuple(found), bool(len(crossings)))


def _crossings(a: _Polygon, b: _Polygon, offset: tuple[int, int]) -> Floats:
    """Return where two outlines cross, in order along the first.

    Rows of (contour of the first, place along it, x, y, 1 where it goes into the second and -1
    where it comes out).
    """
    starts = b.points + offset
    a_ends, b_ends = a.points + a.edges, starts + b.edges
    mine = _inside(a.points, a_ends, starts, 0.0)
    theirs = _inside(starts, b_ends, np.concatenate([a.points[mine], a_ends[mine]]), 0.0)
    met = np.ones((len(mine), len(theirs)), dtype=np.bool_)
    for axis in (0, 1):  # edges whose boxes lie apart cannot cross
        p, q = a.points[mine, axis], a_ends[mine, axis]
        r, s = starts[theirs, axis], b_ends[theirs, axis]
        met &= np.maximum(p, q)[:, None] >= np.minimum(r, s)
        met &= np.minimum(p, q)[:, None] <= np.maximum(r, s)
    first, second = np.nonzero(met)
    first, second = mine[first], theirs[second]
    away, edge, other = starts[second] - a.points[first], a.edges[first], b.edges[second]
    with np.errstate(divide="ignore", invalid="ignore"):
        turn = _cross(edge, other)
        t, u = _cross(away, other) / turn, _cross(away, edge) / turn
        hit = (t >= 0) & (t < 1) & (u >= 0) & (u < 1)
    first, share = first[hit], t[hit][:, None]
    points = a.points[first] + share * a.edges[first]
    along = a.along[first] + share[:, 0] * a.lengths[first]
    entering = -np.sign(turn[hit]) * b.inside
    rows = np.column_stack([a.contour[first], along, points, entering])
    return rows[np.lexsort((along, a.contour[first]))]


def _necks(crossings: Floats, unit: float) -> tuple[Place, ...]:
    """Return the chords where one glyph leads into another.

    Between going in and coming out again the first outline lies inside the second: from one of
    these corners to the other is the neck that joins the two. Coming out for less than
    :data:`_PIT` letter heights is no end of it.
    """
    necks = []
    for number in np.unique(crossings[:, 0]):
        own = crossings[crossings[:, 0] == number]
        inward = np.flatnonzero(own[:, 4] > 0)
        if not len(inward) or len(own) % 2:
            continue
        own = np.roll(own, -inward[0], axis=0)  # in, out, in, out
        ins, outs = own[0::2], own[1::2]
        outside = np.roll(ins[:, 1], -1)[:-1] - outs[:-1, 1]
        parted = np.flatnonzero(np.abs(outside) > _PIT * unit)
        starts, ends = [0, *(parted + 1)], [*parted, len(outs) - 1]
        for start, end in zip(starts, ends, strict=True):
            a, b = ins[start, 2:4].tolist(), outs[end, 2:4].tolist()
            if (width := math.dist(a, b)) > 0:
                necks.append(Place(width, tuple(a), tuple(b)))
    return tuple(sorted(necks)[:2])


def _covered(place: Place, shapes: tuple[tuple[_Shape, int, int], ...], gap: bool) -> bool:
    """Whether a place lies inside other glyphs: a stroke with its ends, a gap anywhere."""
    points = (place.start, place.middle, place.end) if gap else (place.start, place.end)
    margin = 0.15
    for shape, x, y in shapes:
        for px, py in points:
            # The ends lie on outlines, so that only what is well inside counts.
            mx, my = place.middle
            px, py = px + (mx - px) * margin, py + (my - py) * margin
            if covers(shape.outline, px - x, py - y):
                return True
    return False


@lru_cache(maxsize=1024)
def finest(lettering: Lettering, reach: float = REACH, joined_by: float = 0.0) -> Finest:
    """Return the narrowest stroke and gap of a line, in letter heights, before it is grown.

    Parameters
    ----------
    reach
        In letter heights; wider places are not looked for.
    joined_by
        Letters that are no farther apart than this many letter heights will be one when the line
        has been strengthened, and have no gap any more.

    Taken together from what each of its glyphs has alone, and what neighbours make of each other;
    both repeat from name to name, and are searched for once.
    """
    unit = lettering.letter_height
    glyphs = [glyph for group in lettering.groups for glyph in group]
    shapes = [_shape(glyph.font, glyph.id, glyph.scale, unit, reach) for glyph in glyphs]
    # (place, the glyph it is measured from, the other one or the same)
    strokes: list[tuple[Place, int, int]] = []
    gaps: list[tuple[Place, int, int]] = []
    touching: dict[int, set[int]] = {}
    for i, (glyph, shape) in enumerate(zip(glyphs, shapes, strict=True)):
        strokes += [(place, i, i) for place in shape.narrow.strokes]
        gaps += [(place, i, i) for place in shape.narrow.gaps]
        for j in range(i + 1, len(glyphs)):
            other = glyphs[j]
            if _close(glyph, other, unit * reach):
                pair = _pair(shape, shapes[j], other.x - glyph.x, other.y - glyph.y)
                strokes += [(place, i, j) for place in pair.strokes]
                gaps += [(place, i, j) for place in pair.gaps if place.width > joined_by * unit]
                if pair.touch:
                    touching.setdefault(i, set()).add(j)
                    touching.setdefault(j, set()).add(i)

    def narrowest(found: list[tuple[Place, int, int]], gap: bool) -> Measured | None:
        for place, i, j in sorted(found, key=_by_width):
            beside = (touching.get(i, set()) | touching.get(j, set())) - {i, j}
            placed = tuple((shapes[k], glyphs[k].x, glyphs[k].y) for k in beside)
            if not _covered(place.moved(glyphs[i].x, glyphs[i].y), placed, gap):
                return Measured(place.width / unit, _letters(lettering.text, glyphs, i, j))
        return None

    chars = [glyph.char for glyph in glyphs]

    def is_apart(i: int, j: int) -> bool:
        """Whether two glyphs are two letters, and stay so where they touch."""
        pair = "".join(lettering.text[char] for char in sorted({chars[i], chars[j]}))
        return len(pair) == 2 and not joins_to_another(pair)

    def is_touch(i: int, j: int) -> bool:
        """Whether two letters touch that their font does not connect: none of them lacks it."""
        return i != j and is_apart(i, j) and not connects(glyphs[i].font)

    touches = [found for found in strokes if is_touch(*found[1:])]
    between = (
        narrowest([found for found in gaps if is_apart(*found[1:])], gap=True),
        narrowest(touches if not joined_by else [], gap=False),
    )
    return Finest(
        narrowest([found for found in strokes if not is_touch(*found[1:])], gap=False),
        narrowest([found for found in gaps if not is_apart(*found[1:])], gap=True),
        min(filter(None, between), default=None),
    )


def _by_width(found: tuple[Place, int, int]) -> float:
    return found[0].width


def _letters(text: str, glyphs: list[Glyph], i: int, j: int) -> str:
    """Return the letter that a glyph stands for, or the two that two glyphs do."""
    return "".join(text[glyphs[k].char : glyphs[k].char + 1] for k in dict.fromkeys((i, j)))


def _close(one: Glyph, other: Glyph, reach: float) -> bool:
    a, b = one.box, other.box
    return (
        a.left - reach < b.right and b.left - reach < a.right
        and a.low - reach < b.high and b.low - reach < a.high
    )  # fmt: skip
