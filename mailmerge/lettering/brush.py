"""Shapes of drawings as Skia works them out: filled, stroked, clipped, united.

Together with ``weld`` the only module that knows the welding library. Until all is welded on whole
units, a shape keeps the rule that it is filled by: the library's way of winding contours anew has
been seen to fill rings on fractions.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import pathops
from fontTools.svgLib.path.arc import EllipticalArc

from mailmerge.lettering import words
from mailmerge.lettering.fonts import as_outline
from mailmerge.lettering.outline import EMPTY, Box, Outline, joined
from mailmerge.lettering.tangle import MOST_CROSSINGS, is_tangled
from mailmerge.lettering.weld import AREA_TOLERANCE, as_path, covered_area, nested

PathOpsError = pathops.PathOpsError

_UNITS = 20_000
"""Whole units that a drawing is across."""

_CHECK_PIXELS = 1_120_000

FINENESS = (1_000, 3_000)
"""Units across a picture that strokes are worked out in at least, in turn until they are as drawn:
Skia's curves keep to a fixed part of a unit, and the coarser ones have fewer points."""

_CONIC_TOLERANCE = 0.001
"""How far the curves at round caps and joins may lie off; of the picture's
shorter side."""

_CAPS = {
    "butt": pathops.LineCap.BUTT_CAP,
    "round": pathops.LineCap.ROUND_CAP,
    "square": pathops.LineCap.SQUARE_CAP,
}
_JOINS = {
    "miter": pathops.LineJoin.MITER_JOIN,
    "round": pathops.LineJoin.ROUND_JOIN,
    "bevel": pathops.LineJoin.BEVEL_JOIN,
}


class Matrix(NamedTuple):
    """An affine map as SVG writes it: x' = a x + c y + e and y' = b x + d y + f."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def then(self, outer: Matrix) -> Matrix:
        """Return the map that does this one first and ``outer`` after it."""
        return Matrix(
            outer.a * self.a + outer.c * self.b,
            outer.b * self.a + outer.d * self.b,
            outer.a * self.c + outer.c * self.d,
            outer.b * self.c + outer.d * self.d,
            outer.a * self.e + outer.c * self.f + outer.e,
            outer.b * self.e + outer.d * self.f + outer.f,
        )

    @property
    def scale(self) -> float:
        """By how much it enlarges, in the mean of both directions."""
        return math.sqrt(abs(self.a * self.d - self.b * self.c))


class Pen:
    """Draws an outline by the commands of SVG path data; user units."""

    def __init__(self) -> None:
        self.path = pathops.Path()
        self.begun = False
        self._at = 0j
        self._start = 0j
        self._open = False
        self._control: tuple[str, complex] = ("", 0j)
        """The kind of the last curve, and its last control point: S and T go on from it."""

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, width and height of its exact bounds."""
        box = as_outline(self.path).box
        return box.left, box.low, box.width, box.height

    @property
    def length(self) -> float:
        """Length of the polygon through all its points: no curve is longer."""
        points = np.array(self.path.points)
        return float(np.hypot(*np.diff(points, axis=0).T).sum()) if len(points) > 1 else 0.0

    def move(self, x: float, y: float) -> None:
        """Begin a contour."""
        self._start = self._at = complex(x, y)
        self.path.moveTo(x, y)
        self.begun = self._open = True

    def line(self, x: float, y: float) -> None:
        """Draw a line."""
        self._begin()
        self.path.lineTo(x, y)
        self._at = complex(x, y)

    def arc(
        self, rx: float, ry: float, turned: float, large: bool, sweep: bool, x: float, y: float
    ) -> None:
        """Draw an elliptical arc as cubic curves."""
        self._begin()
        end = complex(x, y)
        if end == self._at:
            return
        EllipticalArc(self._at, rx, ry, turned, large, sweep, end).draw(_Curves(self.path))
        self._at = end

    def close(self) -> None:
        """Close the contour; what follows begins where it began."""
        if self._open:
            self.path.close()
        self._at = self._start
        self._open = False

    def step(self, command: str, numbers: Sequence[float]) -> None:
        """Draw one command of path data with its numbers."""
        base = self._at if command.islower() else 0j
        kind = command.upper()
        if kind == "H":
            numbers = (numbers[0] + base.real, self._at.imag)
        elif kind == "V":
            numbers = (self._at.real, numbers[0] + base.imag)
        elif kind == "A":
            numbers = (*numbers[:5], numbers[5] + base.real, numbers[6] + base.imag)
        points = [complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=False)]
        if kind not in "HVA":
            points = [point + base for point in points]
        control: tuple[str, complex] = ("", 0j)
        match kind:
            case "M":
                self.move(points[0].real, points[0].imag)
            case "L" | "H" | "V":
                self.line(points[0].real, points[0].imag)
            case "A":
                rx, ry, turned, large, sweep, x, y = numbers
                self.arc(rx, ry, turned, bool(large), bool(sweep), x, y)
            case "C" | "S":
                control = self._cubic(points)
            case "Q" | "T":
                control = self._quadratic(points)
            case _:
                self.close()
        self._control = control

    def _cubic(self, points: list[complex]) -> tuple[str, complex]:
        self._begin()
        first, second, end = points if len(points) == 3 else (self._reflected("C"), *points)
        self.path.cubicTo(first.real, first.imag, second.real, second.imag, end.real, end.imag)
        self._at = end
        return "C", second

    def _quadratic(self, points: list[complex]) -> tuple[str, complex]:
        self._begin()
        control, end = points if len(points) == 2 else (self._reflected("Q"), *points)
        self.path.quadTo(control.real, control.imag, end.real, end.imag)
        self._at = end
        return "Q", control

    def _reflected(self, kind: str) -> complex:
        last, control = self._control
        return 2 * self._at - control if last == kind else self._at

    def _begin(self) -> None:
        if not self._open:
            self.move(self._start.real, self._start.imag)


class _Curves:
    """What an arc draws its pieces with; the names are those that it calls."""

    def __init__(self, path: pathops.Path) -> None:
        self.path = path

    def lineTo(self, end: tuple[float, float]) -> None:
        self.path.lineTo(*end)

    def curveTo(self, *points: tuple[float, float]) -> None:
        self.path.cubicTo(*(number for point in points for number in point))


@dataclass(frozen=True)
class Shape:
    """What is inside an outline, by the rule that it carries."""

    path: pathops.Path

    def __bool__(self) -> bool:
        return len(self.path.points) > 2

    @property
    def box(self) -> Box:
        """Exact bounds."""
        return as_outline(self.path).box

    @property
    def count(self) -> int:
        """How many points it has."""
        return len(self.path.points)

    def transformed(self, matrix: Matrix) -> Shape:
        """Return the shape moved by an affine map."""
        return Shape(self.path.transform(*matrix))


def _closed(path: pathops.Path) -> pathops.Path:
    """Return an outline each of whose parts ends where it begins."""
    closed = pathops.Path()
    is_open = False
    for verb, points in path:
        if verb == pathops.PathVerb.MOVE and is_open:
            closed.close()
        closed.add(verb, *points)
        is_open = verb not in (pathops.PathVerb.MOVE, pathops.PathVerb.CLOSE)
    if is_open:
        closed.close()
    return closed


class Brush:
    """Makes shapes for a picture of one size; whatever is cut is cut on whole units of it."""

    def __init__(self, width: float, height: float, fineness: int = FINENESS[0]) -> None:
        self.size = max(width, height)
        self._fineness = fineness
        self._off = _CONIC_TOLERANCE * min(width, height)

    def box(self, x: float, y: float, width: float, height: float) -> Shape:
        """Return a rectangle."""
        path = pathops.Path()
        path.moveTo(x, y)
        for corner in ((x + width, y), (x + width, y + height), (x, y + height)):
            path.lineTo(*corner)
        path.close()
        return Shape(path)

    def filled(self, pen: Pen, is_even_odd: bool) -> Shape:
        """Return the inside of an outline, by one of the two rules.

        What is open is closed by a straight line, as SVG fills it (SVG 2, section 13.4).
        """
        path = _closed(pen.path)
        path.fillType = pathops.FillType.EVEN_ODD if is_even_odd else pathops.FillType.WINDING
        return Shape(path)

    def stroked(
        self, pen: Pen, width: float, cap: str, join: str, limit: float,
        dashes: tuple[float, ...], offset: float, matrix: Matrix,
    ) -> Shape:  # fmt: skip
        """Return an outline's stroke; user units, which ``matrix`` takes into the picture.

        Raises
        ------
        KeyError
            The cap or the join has no such name.
        """
        by = max(1.0, self._fineness * matrix.scale / self.size)
        path = pen.path.transform(by, 0, 0, by, 0, 0)
        path.stroke(
            width * by, _CAPS[cap], _JOINS[join], limit, [dash * by for dash in dashes], offset * by
        )
        path.convertConicsToQuads(self._off * by / max(matrix.scale, 1e-9))
        path.fillType = pathops.FillType.WINDING
        return Shape(path.transform(1 / by, 0, 0, 1 / by, 0, 0))

    def cut(self, shape: Shape, clip: Shape | None) -> Shape:
        """Return what of a shape lies inside another; untouched if all of it does.

        Raises
        ------
        ValueError
            The shape has no end.
        """
        if not np.isfinite(shape.path.points).all():
            raise ValueError(words.NO_SIZE)
        if clip is None or _within(shape, clip):
            return shape
        return self._op(shape, clip, pathops.PathOp.INTERSECTION)

    def settled(self, shape: Shape) -> Shape:
        """Return a shape with its points on thousandths of a px, finer in a small picture."""
        fine = max(1_000.0, _UNITS / self.size)
        return Shape(_on_grid(shape.path, fine).transform(1 / fine, 0, 0, 1 / fine, 0, 0))

    def united(self, shapes: Sequence[Shape]) -> Shape:
        """Return shapes as one."""
        whole = Shape(pathops.Path())
        for shape in shapes:
            whole = self._op(whole, shape, pathops.PathOp.UNION)
        return whole

    def _op(self, one: Shape, other: Shape, how: pathops.PathOp) -> Shape:
        grid = _UNITS / self.size
        _check_tangle(as_outline(shape.path) for shape in (one, other))
        whole = [_on_grid(shape.path, grid) for shape in (one, other)]
        result = pathops.op(*whole, how, fix_winding=False, keep_starting_points=False)
        return Shape(result.transform(1 / grid, 0, 0, 1 / grid, 0, 0))


def _check_tangle(outlines: Iterable[Outline]) -> None:
    """See that lines cross so seldom that the library ends within reason.

    Raises
    ------
    ValueError
        They do not.
    """
    if is_tangled(joined([*outlines])):
        raise ValueError(words.tangled(MOST_CROSSINGS))


def _within(shape: Shape, clip: Shape) -> bool:
    """Whether a shape lies inside a rectangle; any other clip may have to cut."""
    if not shape or len(clip.path.points) != 4:
        return False
    corners = np.array(clip.path.points)
    upright = len(set(corners[:, 0])) == len(set(corners[:, 1])) == 2
    inner, outer = shape.box, clip.box
    return upright and (
        outer.left <= inner.left and inner.right <= outer.right
        and outer.low <= inner.low and inner.high <= outer.high
    )  # fmt: skip


def _on_grid(path: pathops.Path, grid: float) -> pathops.Path:
    whole = as_path(as_outline(path), grid)
    whole.fillType = path.fillType
    return whole


class Frame(NamedTuple):
    """Where a drawing of size 1 lay in its picture: px, ``y`` down."""

    left: float
    bottom: float
    size: float


def cut_out(shapes: Sequence[tuple[Shape, bool]]) -> tuple[Outline, Frame, bool]:
    """Return shapes welded in the order of painting, where that lay, and whether it is sound.

    Parameters
    ----------
    shapes
        (shape with ``y`` down, whether it is cut out of what lies under it).

    Returns
    -------
    tuple of Outline, Frame and bool
        The larger side of all shapes is 1 long, ``y`` up.

    Raises
    ------
    ValueError
        The shapes reach farther than can be drawn, or their lines cross too often.
    """
    flipped = [as_outline(shape.path).moved(1.0, True, 0.0, 0.0) for shape, _ in shapes]
    boxes = np.array([outline.box for outline in flipped] or [Box(0.0, 0.0, 0.0, 0.0)])
    low, high = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    size = float((high - low).max())
    if not 1e-9 < size < 1e9:
        raise ValueError(words.NO_SIZE)
    _check_tangle(flipped)
    frame = Frame(float(low[0]), -float(low[1]), size)
    whole = pathops.Path()
    try:
        for outline, (shape, is_cut) in zip(flipped, shapes, strict=True):
            moved = outline.moved(1.0, False, *(-low).tolist()).moved(1 / size, False, 0.0, 0.0)
            path = as_path(moved, _UNITS)
            path.fillType = shape.path.fillType
            path.simplify(fix_winding=True, keep_starting_points=False)
            how = pathops.PathOp.DIFFERENCE if is_cut else pathops.PathOp.UNION
            whole = pathops.op(whole, path, how, fix_winding=True, keep_starting_points=False)
        # What lies on itself, as an arc and its way back, leaves a line without an inside.
        drawing = nested(whole) if abs(whole.area) > 1 else EMPTY
    except pathops.PathOpsError:
        return EMPTY, frame, False
    if not drawing:
        return EMPTY, frame, True
    wanted = covered_area(drawing, _CHECK_PIXELS)
    sound = abs(abs(drawing.area) - wanted) <= AREA_TOLERANCE * wanted
    return drawing.moved(1 / _UNITS, False, 0.0, 0.0), frame, sound
