"""What a drawing paints, in the order of painting: shapes and their colours.

SVG 2 (W3C Candidate Recommendation, 4 October 2018) and CSS Masking 1, for shapes alone: the
cascade of attributes and ``style``, inheritance, viewports, transforms, ``use``, clips, strokes.
Whatever is read here is compared with another renderer's picture afterwards (``shown``); what is
rare is refused and not guessed.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import NoReturn
from xml.etree import ElementTree

from mailmerge.artwork import words
from mailmerge.artwork.colours import Colour, Paint, parse_colour
from mailmerge.lettering import Brush, Matrix, Pen, Shape

Element = ElementTree.Element

SVG = "{http://www.w3.org/2000/svg}"
SHAPES = frozenset(("path", "rect", "circle", "ellipse", "line", "polyline", "polygon"))
_HREFS = ("href", "{http://www.w3.org/1999/xlink}href")

_INHERITED: Mapping[str, str] = {
    "fill": "black", "fill-opacity": "1", "fill-rule": "nonzero", "clip-rule": "nonzero",
    "stroke": "none", "stroke-opacity": "1", "stroke-width": "1", "stroke-linecap": "butt",
    "stroke-linejoin": "miter", "stroke-miterlimit": "4", "stroke-dasharray": "none",
    "stroke-dashoffset": "0", "color": "black", "visibility": "visible", "paint-order": "normal",
}  # fmt: skip
_OWN: Mapping[str, str] = {
    "opacity": "1", "display": "inline", "clip-path": "none", "overflow": "",
    "transform-origin": "", "stop-color": "black", "stop-opacity": "1",
}  # fmt: skip

_ONLY = {
    "vector-effect": "none", "filter": "none", "mask": "none", "mix-blend-mode": "normal",
    "clip": "auto",
}  # fmt: skip
"""Properties that are read with one value alone: any other makes of a shape what is none."""

_NOT_IN_STYLE = frozenset((
    "all", "cx", "cy", "d", "height", "r", "rotate", "rx", "ry", "scale", "transform",
    "transform-box", "translate", "width", "x", "y", "zoom", "x1", "x2", "y1", "y2", "points",
))  # fmt: skip
"""Renderers do not agree about these where they stand in a style."""

_MOVING = ("animation", "transition", "offset", "motion", "mask-", "-webkit-", "perspective", "--")
_AROUND = ("background", "border", "outline", "box-shadow", "padding")
"""What a browser paints behind and around a whole drawing; within one it paints none of these."""

_CONDITIONS = ("systemLanguage", "requiredFeatures", "requiredExtensions")

_UNITS = {
    "": 1.0, "px": 1.0, "in": 96.0, "cm": 96 / 2.54, "mm": 96 / 25.4, "pt": 96 / 72, "pc": 16.0,
}  # fmt: skip
"""CSS pixels to a unit (CSS Values 3, section 6.2)."""

_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_LENGTH = re.compile(rf"\s*({_NUMBER})\s*([a-zA-Z]*|%)\s*")
_NUMBERS = re.compile(rf"\s*,?\s*({_NUMBER})")
_STEP = re.compile(r"\s*([a-z]+)\s*\(([-+.,\deE\s]*)\)\s*,?", re.IGNORECASE)

_MOST_DASHES = 1_000


class UnreadError(ValueError):
    """Something in a drawing that is not read; its text says what, and what to do."""


@dataclass(frozen=True)
class Painted:
    """One shape with its paint; px of the picture, ``y`` down."""

    shape: Shape
    paint: Paint


@dataclass(frozen=True)
class Viewport:
    """What lengths and percentages are of; px. The outermost one is the picture."""

    width: float
    height: float

    def of(self, text: str, side: str) -> float:
        """Return a length in px; percentages of the width, the height or the diagonal ("")."""
        match = _LENGTH.fullmatch(text)
        if match and match[2] == "%":
            diagonal = math.hypot(self.width, self.height) / math.sqrt(2)
            whole = {"x": self.width, "y": self.height}.get(side, diagonal)
            return _finite(match[1]) * whole / 100
        if not match or match[2].lower() not in _UNITS:
            raise UnreadError(words.odd_length(text))
        return _finite(match[1]) * _UNITS[match[2].lower()]


@dataclass(frozen=True)
class _At:
    """Where in the drawing the walk is, and what it has brought along."""

    properties: Mapping[str, str]
    matrix: Matrix
    viewport: Viewport
    opacity: float = 1.0
    clip: Shape | None = None


@dataclass(frozen=True)
class Drawing:
    """What a drawing paints, from the bottom up, and the size of its picture in px."""

    picture: Viewport
    painted: tuple[Painted, ...]


def painted(root: Element, fineness: int) -> Drawing:
    """Return what a checked drawing paints, its strokes worked out as finely as ``fineness`` says.

    Raises
    ------
    UnreadError
        There is something in it that is not read, or it does not say its size.
    ValueError
        A number cannot be worked with.
    """
    view_box = _view_box(root)
    picture = _picture(root, view_box)
    if root.get("transform"):
        raise UnreadError(words.TRANSFORM_OF_THE_WHOLE)
    for name, value in _declared(root):
        if name.startswith(_AROUND):
            raise UnreadError(words.around_the_whole(name, value))
    properties = _properties(root, {**_INHERITED, **_OWN})
    if properties["display"] == "none":
        return Drawing(picture, ())
    walk = _Walk(root, Brush(picture.width, picture.height, fineness))
    at = _At(
        properties, _fitting(root, view_box, 0.0, 0.0, picture), _inner(view_box, picture),
        _share(properties["opacity"]), walk.brush.box(0.0, 0.0, picture.width, picture.height),
    )  # fmt: skip
    at = walk.clipped(root, at)
    return Drawing(picture, tuple(walk.children(root, at)))


def _picture(root: Element, view_box: tuple[float, ...] | None) -> Viewport:
    """Return the size of the whole picture; a side that is not given follows from the view box."""
    sides = [
        None if text is None or text.strip() in ("auto", "100%") else Viewport(0, 0).of(text, "")
        for text in (root.get("width"), root.get("height"))
    ]
    width, height = sides
    if view_box:
        ratio = view_box[2] / view_box[3]
        if width is None:
            width = view_box[2] if height is None else height * ratio
        if height is None:
            height = width / ratio
    if not width or not height or min(width, height) <= 0:
        raise UnreadError(words.NO_VIEW)
    return Viewport(width, height)


def _inner(view_box: tuple[float, ...] | None, outer: Viewport) -> Viewport:
    return Viewport(view_box[2], view_box[3]) if view_box else outer


class _Walk:
    """Walks through the elements of one drawing in the order of painting."""

    def __init__(self, root: Element, brush: Brush) -> None:
        self.brush = brush
        self.named: dict[str, Element] = {}
        for element in root.iter():
            if name := element.get("id"):
                self.named.setdefault(name, element)

    def children(self, parent: Element, at: _At) -> Iterator[Painted]:
        for element in parent:
            yield from self.element(element, at)

    def element(self, element: Element, at: _At) -> Iterator[Painted]:
        """Yield what an element and all in it paint."""
        kind = _kind(element)
        if kind not in SHAPES | {"g", "use", "svg"}:
            return
        properties = _properties(element, at.properties)
        if properties["display"] == "none":
            return
        at = replace(
            at,
            properties=properties,
            matrix=_transform(element, properties, at.viewport).then(at.matrix),
            opacity=at.opacity * _share(properties["opacity"]),
        )
        at = self.clipped(element, at)
        if kind in SHAPES:
            yield from self.shape(element, at)
        elif kind == "use":
            yield from self.used(element, at)
        elif kind == "svg":
            yield from self.nested(element, element, at)
        else:
            yield from self.children(element, at)

    def used(self, use: Element, at: _At) -> Iterator[Painted]:
        """Yield what a ``use`` paints: its target as if it stood here."""
        target = self._target(use)
        if target is None:
            return
        x, y = (at.viewport.of(use.get(side, "0"), side) for side in "xy")
        at = replace(at, matrix=Matrix(1, 0, 0, 1, x, y).then(at.matrix))
        if _kind(target) not in ("symbol", "svg"):
            yield from self.element(target, at)
            return
        properties = _properties(target, at.properties)
        if properties["display"] == "none":
            return
        at = replace(
            at,
            properties=properties,
            matrix=_transform(target, properties, at.viewport).then(at.matrix),
            opacity=at.opacity * _share(properties["opacity"]),
        )
        yield from self.nested(target, use, self.clipped(target, at))

    def nested(self, element: Element, sized_by: Element, at: _At) -> Iterator[Painted]:
        """Yield what an inner ``svg`` or a symbol paints, in a viewport of its own."""
        outer = at.viewport
        x, y = (
            outer.of(element.get(side, "0"), side) if _kind(element) == "svg" else 0.0
            for side in "xy"
        )  # fmt: skip
        width, height = (
            outer.of(_auto(sized_by.get(key)) or _auto(element.get(key)) or "100%", side)
            for key, side in (("width", "x"), ("height", "y"))
        )
        view_box = _view_box(element)
        if width <= 0 or height <= 0:
            return
        viewport = Viewport(width, height)
        clip = at.clip
        if at.properties["overflow"] not in ("visible", "auto"):
            window = self.brush.box(x, y, width, height).transformed(at.matrix)
            clip = self._both(clip, window)
        inner = replace(
            at,
            matrix=_fitting(element, view_box, x, y, viewport).then(at.matrix),
            viewport=_inner(view_box, viewport),
            clip=clip,
        )
        yield from self.children(element, inner)

    def shape(self, element: Element, at: _At) -> Iterator[Painted]:
        """Yield the fill and the stroke of a shape, in the order of painting."""
        if at.properties["visibility"] != "visible":
            return
        pen = _outlined(element, at.viewport)
        if pen is None:
            return
        paints = {"fill": self._fill, "stroke": self._stroke}
        for kind in _order(at.properties["paint-order"]):
            paint = self._paint(kind, at)
            if paint.shows:
                shape = paints[kind](element, pen, at)
                shape = self.brush.cut(shape.transformed(at.matrix), at.clip)
                if shape:
                    yield Painted(self.brush.settled(shape), paint)

    def _fill(self, _: Element, pen: Pen, at: _At) -> Shape:
        return self.brush.filled(pen, _rule(at.properties["fill-rule"]))

    def _stroke(self, element: Element, pen: Pen, at: _At) -> Shape:
        properties, viewport = at.properties, at.viewport
        width = viewport.of(properties["stroke-width"], "")
        limit = _finite(properties["stroke-miterlimit"])
        if width < 0:
            raise UnreadError(words.negative_stroke(properties["stroke-width"]))
        if limit < 1:
            raise UnreadError(words.odd_stroke(f"stroke-miterlimit {limit:g}"))
        dashes = self._dashes(element, pen, at)
        try:
            return self.brush.stroked(
                pen, width, properties["stroke-linecap"], properties["stroke-linejoin"], limit,
                dashes, viewport.of(properties["stroke-dashoffset"], ""), at.matrix,
            )  # fmt: skip
        except KeyError as error:
            raise UnreadError(words.odd_stroke(str(error.args[0]))) from None

    def _dashes(self, element: Element, pen: Pen, at: _At) -> tuple[float, ...]:
        text = at.properties["stroke-dasharray"]
        if text == "none":
            return ()
        parts = re.split(r"\s*,\s*|\s+", text.strip())
        dashes = tuple(at.viewport.of(part, "") for part in parts)
        if min(dashes) < 0 or element.get("pathLength"):
            raise UnreadError(words.odd_stroke(text))
        if sum(dashes) == 0:
            return ()
        if pen.length * len(dashes) > _MOST_DASHES * sum(dashes):
            raise UnreadError(words.too_many_dashes(_MOST_DASHES))
        return dashes * 2 if len(dashes) % 2 else dashes

    def _paint(self, kind: str, at: _At) -> Paint:
        """Return the paint of a fill or a stroke: its colours, opacity laid over them."""
        properties = at.properties
        text = properties[kind].strip()
        if text == "none" or (
            kind == "stroke" and not at.viewport.of(properties["stroke-width"], "")
        ):
            return Paint(())
        opacity = at.opacity * _share(properties[f"{kind}-opacity"])
        reference = re.fullmatch(r"""url\(\s*(["']?)#([^"')]*)\1\s*\)\s*(.*)""", text)
        if not reference:
            return Paint((_colour(text, properties).thinner(opacity),))
        target = self.named.get(reference[2])
        if target is None or _kind(target) not in ("linearGradient", "radialGradient"):
            raise UnreadError(words.odd_paint(text))
        return Paint(tuple(stop.thinner(opacity) for stop in self._stops(target, at, 0)))

    def _stops(self, gradient: Element, at: _At, depth: int) -> tuple[Colour, ...]:
        stops = []
        for stop in gradient:
            if _kind(stop) == "stop":
                properties = _properties(stop, _properties(gradient, at.properties))
                colour = _colour(properties["stop-color"], properties)
                stops.append(colour.thinner(_share(properties["stop-opacity"])))
        if stops or depth > 20:
            return tuple(stops)
        further = self._target(gradient)
        return () if further is None else self._stops(further, at, depth + 1)

    def _target(self, element: Element) -> Element | None:
        href = next((element.get(key) for key in _HREFS if element.get(key) is not None), None)
        return self.named.get((href or "").strip()[1:])

    # Clips

    def clipped(self, element: Element, at: _At) -> _At:
        """Return a place with an element's own clip laid over what clips it already."""
        path = self._clip_path(at.properties["clip-path"])
        if path is None:
            return at
        return replace(at, clip=self._both(at.clip, self._clip_of(path, element, at)))

    def _clip_path(self, text: str) -> Element | None:
        if text == "none":
            return None
        reference = re.fullmatch(r"""url\(\s*(["']?)#([^"')]*)\1\s*\)""", text.strip())
        target = self.named.get(reference[2]) if reference else None
        if target is None or _kind(target) != "clipPath":
            raise UnreadError(words.odd_clip(text))
        return target

    def _clip_of(self, path: Element, element: Element, at: _At) -> Shape:
        """Return what a clip path lets show; px of the picture."""
        properties = _properties(path, {**_INHERITED, **_OWN})
        matrix = _transform(path, properties, at.viewport).then(at.matrix)
        if path.get("clipPathUnits", "userSpaceOnUse") == "objectBoundingBox":
            pen = _outlined(element, at.viewport) if _kind(element) in SHAPES else None
            if pen is None:
                raise UnreadError(words.CLIP_BY_A_GROUPS_BOX)
            left, top, width, height = pen.box
            unit = Matrix(width, 0, 0, height, left, top)
            matrix = _transform(path, properties, at.viewport).then(unit).then(at.matrix)
        inner = _At(properties, matrix, at.viewport)
        shapes = [shape for child in path for shape in self._clipping(child, inner)]
        whole = self.brush.united(shapes)
        if (further := self._clip_path(properties["clip-path"])) is not None:
            whole = self._both(whole, self._clip_of(further, element, at))
        return whole

    def _clipping(self, element: Element, at: _At) -> Iterator[Shape]:
        """Yield the shapes of a clip path's child: a shape, or a ``use`` of one."""
        kind = _kind(element)
        if kind not in SHAPES | {"use"}:
            if kind in ("g", "svg"):
                raise UnreadError(words.odd_clip(f"<{kind}>"))
            return
        properties = _properties(element, at.properties)
        if properties["display"] == "none":
            return
        matrix = _transform(element, properties, at.viewport).then(at.matrix)
        at = replace(at, properties=properties, matrix=matrix, clip=None)
        if kind == "use":
            yield from self._used_to_clip(element, at)
            return
        pen = _outlined(element, at.viewport)
        if pen is None or properties["visibility"] != "visible":
            return
        shape = self.brush.filled(pen, _rule(properties["clip-rule"])).transformed(matrix)
        if (path := self._clip_path(properties["clip-path"])) is not None:
            shape = self._both(shape, self._clip_of(path, element, at))
        yield shape

    def _used_to_clip(self, use: Element, at: _At) -> Iterator[Shape]:
        target = self._target(use)
        if target is None:
            return
        if _kind(target) not in SHAPES:
            raise UnreadError(words.odd_clip("<use>"))
        path = self._clip_path(at.properties["clip-path"])
        x, y = (at.viewport.of(use.get(side, "0"), side) for side in "xy")
        shapes = list(
            self._clipping(target, replace(at, matrix=Matrix(1, 0, 0, 1, x, y).then(at.matrix)))
        )
        if path is None:
            yield from shapes
        else:
            yield self._both(self.brush.united(shapes), self._clip_of(path, target, at))

    def _both(self, one: Shape | None, other: Shape) -> Shape:
        return other if one is None else self.brush.cut(one, other)


# Properties


def _kind(element: Element) -> str:
    """Return the name of an element of SVG; empty for those of other languages."""
    tag = str(element.tag)
    return tag[len(SVG) :] if tag.startswith(SVG) else ""


def _properties(element: Element, above: Mapping[str, str]) -> dict[str, str]:
    """Return what an element's properties are, by its attributes, its style and what is above."""
    if any(element.get(key) is not None for key in _CONDITIONS):
        raise UnreadError(words.CONDITIONS)
    found = {**{name: above[name] for name in _INHERITED}, **_OWN}
    for name, text in _declared(element):
        value = text.strip()
        if name in _ONLY and value != _ONLY[name]:
            raise UnreadError(words.odd_property(name, value))
        if name in found:
            if value in ("initial", "unset", "revert", "revert-layer") or "var(" in value:
                raise UnreadError(words.odd_property(name, value))
            found[name] = above[name] if value == "inherit" else value
    return found


def _declared(element: Element) -> Iterator[tuple[str, str]]:
    """Yield an element's properties as they are written; what is later stands over the earlier."""
    for name, value in element.attrib.items():
        if name in _INHERITED or name in _OWN or name in _ONLY:
            yield name, value
    important = []
    style = re.sub(r"/\*.*?\*/", "", element.get("style", ""), flags=re.DOTALL)
    for declaration in style.split(";"):
        name, colon, value = declaration.partition(":")
        name = name.strip().lower()
        if not colon:
            continue
        if name in _NOT_IN_STYLE or name.startswith(_MOVING):
            raise UnreadError(words.odd_property(name, value.strip()))
        if "!" in value:
            important.append((name, value.partition("!")[0]))
        else:
            yield name, value
    yield from important


def _colour(text: str, properties: Mapping[str, str]) -> Colour:
    if text.strip().lower() == "currentcolor":
        text = properties["color"]
    try:
        return parse_colour(text)
    except ValueError:
        raise UnreadError(words.odd_paint(text)) from None


def _share(text: str) -> float:
    """Return an opacity; from 0, nothing, to 1."""
    number = _finite(text.strip().removesuffix("%"))
    return min(max(number / 100 if "%" in text else number, 0.0), 1.0)


def _finite(text: str) -> float:
    try:
        number = float(text)
    except ValueError:
        raise UnreadError(words.odd_length(text)) from None
    if not math.isfinite(number):
        raise UnreadError(words.NO_NUMBER)
    return number


def _rule(text: str) -> bool:
    """Whether the rule of filling is even-odd."""
    if text not in ("nonzero", "evenodd"):
        raise UnreadError(words.odd_property("fill-rule", text))
    return text == "evenodd"


def _order(text: str) -> tuple[str, ...]:
    """Return what is painted first and what second; markers are refused before."""
    named = [word for word in text.split() if word in ("fill", "stroke")]
    return ("stroke", "fill") if named[:1] == ["stroke"] else ("fill", "stroke")


def _auto(text: str | None) -> str | None:
    return None if text is None or text.strip() == "auto" else text


# Places


def _view_box(element: Element) -> tuple[float, ...] | None:
    text = element.get("viewBox")
    if text is None:
        return None
    numbers = _numbers(text)
    if len(numbers) != 4 or min(numbers[2:]) <= 0:
        raise UnreadError(words.odd_length(text))
    return tuple(numbers)


def _fitting(
    element: Element, view_box: tuple[float, ...] | None, x: float, y: float, viewport: Viewport
) -> Matrix:
    """Return how a view box lies in its viewport (SVG 2, section 8.2)."""
    if not view_box:
        return Matrix(1, 0, 0, 1, x, y)
    left, top, width, height = view_box
    across, down = viewport.width / width, viewport.height / height
    align, _, how = element.get("preserveAspectRatio", "xMidYMid").strip().partition(" ")
    if align == "none":
        return Matrix(across, 0, 0, down, x - left * across, y - top * down)
    match = re.fullmatch(r"x(Min|Mid|Max)Y(Min|Mid|Max)", align)
    if not match or how.strip() not in ("", "meet", "slice"):
        raise UnreadError(words.odd_property("preserveAspectRatio", f"{align} {how}"))
    scale = max(across, down) if how.strip() == "slice" else min(across, down)
    share = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    dx = x - left * scale + (viewport.width - width * scale) * share[match[1]]
    dy = y - top * scale + (viewport.height - height * scale) * share[match[2]]
    return Matrix(scale, 0, 0, scale, dx, dy)


def _transform(element: Element, properties: Mapping[str, str], viewport: Viewport) -> Matrix:
    """Return an element's own transform about its origin."""
    matrix = _steps(element.get("transform", ""))
    if not (origin := properties["transform-origin"]) or matrix == Matrix(1, 0, 0, 1, 0, 0):
        return matrix
    x, y = _origin(origin, viewport)
    return Matrix(1, 0, 0, 1, -x, -y).then(matrix).then(Matrix(1, 0, 0, 1, x, y))


_SIDES = {"left": "0%", "right": "100%", "top": "0%", "bottom": "100%", "center": "50%"}


def _origin(text: str, viewport: Viewport) -> tuple[float, float]:
    """Return the point that a transform is about (CSS Transforms 1, section 4)."""
    parts = text.split()
    if len(parts) == 1:
        parts = ["center", *parts] if parts[0] in ("top", "bottom") else [*parts, "center"]
    if len(parts) != 2:
        raise UnreadError(words.odd_property("transform-origin", text))
    if parts[0] in ("top", "bottom") or parts[1] in ("left", "right"):
        parts.reverse()
    x, y = parts
    return viewport.of(_SIDES.get(x, x), "x"), viewport.of(_SIDES.get(y, y), "y")


def _steps(text: str) -> Matrix:
    """Return a list of transforms as one: the last one works first."""
    whole = Matrix(1, 0, 0, 1, 0, 0)
    at = 0
    while at < len(text.rstrip()):
        match = _STEP.match(text, at)
        step = match and _step(match[1], _numbers(match[2]))
        if not match or not step:
            raise UnreadError(words.odd_property("transform", text))
        whole = step.then(whole)
        at = match.end()
    return whole


def _step(name: str, of: list[float]) -> Matrix | None:
    turn = [math.radians(number) for number in of]
    match name, len(of):
        case "matrix", 6:
            return Matrix(*of)
        case "translate", 1 | 2:
            return Matrix(1, 0, 0, 1, of[0], of[1] if len(of) > 1 else 0)
        case "scale", 1 | 2:
            return Matrix(of[0], 0, 0, of[-1], 0, 0)
        case "skewX", 1:
            return Matrix(1, 0, math.tan(turn[0]), 1, 0, 0)
        case "skewY", 1:
            return Matrix(1, math.tan(turn[0]), 0, 1, 0, 0)
        case "rotate", 1 | 3:
            sin, cos = math.sin(turn[0]), math.cos(turn[0])
            about = (of[1], of[2]) if len(of) == 3 else (0.0, 0.0)
            turned = Matrix(cos, sin, -sin, cos, *about)
            return Matrix(1, 0, 0, 1, -about[0], -about[1]).then(turned)
    return None


def _numbers(text: str) -> list[float]:
    """Return the numbers of a list, with blanks or commas between them and nothing else."""
    numbers = []
    at = 0
    text = text.rstrip()
    while at < len(text):
        match = _NUMBERS.match(text, at)
        if not match:
            raise UnreadError(words.odd_length(text))
        numbers.append(_finite(match[1]))
        at = match.end()
    return numbers


# Shapes


def _outlined(element: Element, viewport: Viewport) -> Pen | None:
    """Return the outline of a basic shape or a path, in its own units; None if it shows nothing."""
    kind = _kind(element)
    if kind == "path":
        return _path(element.get("d", ""))
    if kind in ("polyline", "polygon"):
        return _poly(_numbers(element.get("points", "")), kind == "polygon")

    def given(key: str, side: str) -> float | None:
        text = element.get(key)  # "auto" is refused: renderers do not agree what it is here
        return None if text is None else viewport.of(text, side)

    if kind == "line":
        x1, y1, x2, y2 = (given(key, key[0]) or 0.0 for key in ("x1", "y1", "x2", "y2"))
        return _poly([x1, y1, x2, y2], False)
    if kind == "rect":
        x, y = given("x", "x") or 0.0, given("y", "y") or 0.0
        width, height = given("width", "x") or 0.0, given("height", "y") or 0.0
        return _rect(x, y, width, height, given("rx", "x"), given("ry", "y"))
    x, y = given("cx", "x") or 0.0, given("cy", "y") or 0.0
    rx, ry = (given("r", ""),) * 2 if kind == "circle" else (given("rx", "x"), given("ry", "y"))
    return _ellipse(x, y, *_radii(rx, ry))


def _radii(rx: float | None, ry: float | None) -> tuple[float, float]:
    """Return two radii: one that is not given is as the other."""
    if min(rx or 0.0, ry or 0.0) < 0:
        raise UnreadError(words.NEGATIVE_RADIUS)
    first, second = (ry if rx is None else rx), (rx if ry is None else ry)
    return first or 0.0, second or 0.0


def _ellipse(x: float, y: float, rx: float, ry: float) -> Pen | None:
    if not rx or not ry:
        return None
    pen = Pen()
    pen.move(x + rx, y)
    for end in (x - rx, x + rx):
        pen.arc(rx, ry, 0.0, False, True, end, y)
    pen.close()
    return pen


def _rect(
    x: float, y: float, width: float, height: float, rx: float | None, ry: float | None
) -> Pen | None:
    if width < 0 or height < 0:
        raise UnreadError(words.NEGATIVE_RADIUS)
    if not width or not height:
        return None
    across, down = _radii(rx, ry)
    across, down = min(across, width / 2), min(down, height / 2)
    pen = Pen()
    pen.move(x + across, y)
    corners = (
        (x + width - across, y, x + width, y + down),
        (x + width, y + height - down, x + width - across, y + height),
        (x + across, y + height, x, y + height - down),
        (x, y + down, x + across, y),
    )
    for from_x, from_y, to_x, to_y in corners:
        pen.line(from_x, from_y)
        if across and down:
            pen.arc(across, down, 0.0, False, True, to_x, to_y)
    pen.close()
    return pen


def _poly(numbers: list[float], closed: bool) -> Pen | None:
    if len(numbers) % 2:
        raise UnreadError(words.ODD_POINTS)
    if not numbers:
        return None
    pen = Pen()
    pen.move(numbers[0], numbers[1])
    for at in range(2, len(numbers), 2):
        pen.line(numbers[at], numbers[at + 1])
    if closed:
        pen.close()
    return pen


_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_COMMAND = re.compile(r"\s*([MLHVCSQTAZmlhvcsqtaz])")
_FLAG = re.compile(r"\s*,?\s*([01])")


def _path(data: str) -> Pen | None:
    """Return the outline of path data (SVG 2, section 9.3)."""
    pen = Pen()
    for command, numbers in _commands(data):
        if not pen.begun and command.upper() != "M":
            _broken(data, 0)
        pen.step(command, numbers)
    return pen if pen.begun else None


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Yield every command with its numbers; one that is repeated is written once in the data."""
    data = data.rstrip()
    at = 0
    command = ""
    while at < len(data):
        match = _COMMAND.match(data, at)
        if match:
            command, at = match[1], match.end()
        elif command in ("", "Z", "z"):
            _broken(data, at)
        numbers = []
        for place in range(_COUNTS[command.upper()]):
            pattern = _FLAG if command in "Aa" and place in (3, 4) else _NUMBERS
            found = pattern.match(data, at)
            if not found:
                _broken(data, at)
            numbers.append(_finite(found[1]))
            at = found.end()
        yield command, numbers
        command = {"M": "L", "m": "l"}.get(command, command)


def _broken(data: str, at: int) -> NoReturn:
    raise UnreadError(words.broken_path(data[max(at - 10, 0) : at + 10]))
