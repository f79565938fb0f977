"""Ornaments: the user's own drawings, read from SVG into one outline.

A drawing is a shape and nothing else. What could carry more than a shape is refused before a
library sees the file: scripts, entities, references to the outside, texts, pictures.
"""

from __future__ import annotations

import math
import re
from functools import lru_cache
from pathlib import Path
from typing import Any
from xml.parsers import expat

from PIL import ImageColor

from mailmerge.artwork import words
from mailmerge.artwork.layout import Ornament
from mailmerge.files import read_file
from mailmerge.findings import InputError
from mailmerge.lettering import Outline, cut_out, narrow
from mailmerge.lettering.outline import parsed
from mailmerge.shelves import find

_MAX_BYTES = 500_000
_MAX_ELEMENTS = 500
"""Shapes and groups once every ``use`` has been followed."""

_MAX_POINTS = 6_000
_MAX_DEPTH = 60

_SVG = "http://www.w3.org/2000/svg"
_SHAPES = frozenset(("path", "rect", "circle", "ellipse", "line", "polyline", "polygon"))
_ALLOWED = _SHAPES | {
    "svg", "g", "defs", "use", "symbol", "title", "desc", "metadata", "clipPath",
    "linearGradient", "radialGradient", "stop",
}  # fmt: skip


def fitted(ornament: Ornament, beside: Path) -> Outline:
    """Return an ornament's outline scaled into its box; mm, ``y`` up, its ink's middle at (0, 0).

    Raises
    ------
    InputError
        The drawing is not there or holds what a drawing may not.
    """
    box = read_drawing(find("ornaments", ornament.drawing, beside)).box
    scale = min(ornament.width / box.width, ornament.height / box.height)
    return scaled(ornament.drawing, box.height * scale, ornament.mirrored, beside)


def scaled(drawing: str, height: float, mirrored: bool, beside: Path) -> Outline:
    """Return a drawing at a height; mm, ``y`` up, its ink's middle at (0, 0); see above."""
    outline = read_drawing(find("ornaments", drawing, beside))
    box = outline.box
    scale = height / box.height
    middle = (box.left + box.right) / 2 * scale, (box.low + box.high) / 2 * scale
    placed = outline.moved(scale, False, -middle[0], -middle[1])
    return placed.mirrored() if mirrored else placed


@lru_cache(maxsize=64)
def _narrow_of(drawing: str, beside: Path) -> tuple[float | None, float | None]:
    """Return the narrowest stroke and gap of a drawing whose larger side is 1."""
    found = narrow(read_drawing(find("ornaments", drawing, beside)), 1.0)
    stroke = found.strokes[0].width if found.strokes else None
    return stroke, found.gaps[0].width if found.gaps else None


def narrowness(drawing: str, outline: Outline, beside: Path) -> tuple[float | None, ...]:
    """Return the narrowest stroke and gap, in mm, of a drawing that stands as ``outline``."""
    scale = max(outline.box.width, outline.box.height)
    return tuple(None if width is None else width * scale for width in _narrow_of(drawing, beside))


@lru_cache(maxsize=64)
def read_drawing(path: Path) -> Outline:
    """Return the shape of an SVG file, all its paths and basic shapes welded; ``y`` up.

    Groups, transforms and ``use`` are resolved, strokes become shapes. What is filled white is cut
    out of what lies under it.

    Raises
    ------
    InputError
        The file cannot be read, is no SVG, is empty, or holds something that is no shape.
    """
    data = read_file(path, _MAX_BYTES)
    _check(path, data)
    shapes = _shapes(path, data)
    try:
        outline, sound = cut_out(shapes)
    except ValueError as error:
        raise InputError(words.no_usable_size(path, error)) from None
    if not sound:
        raise InputError(words.not_one_outline(path))
    if not outline or outline.box.width <= 0 or outline.box.height <= 0:
        raise InputError(words.no_shape(path))
    return outline


def _check(path: Path, data: bytes) -> None:
    """Refuse what is more than a drawing, without building anything from the file."""
    checker = _Checker(path)
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartDoctypeDeclHandler = checker.doctype
    parser.EntityDeclHandler = checker.doctype
    parser.ProcessingInstructionHandler = checker.instruction
    parser.StartElementHandler = checker.start
    parser.EndElementHandler = checker.end
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        raise InputError(words.not_an_svg(path, error)) from None
    except (ValueError, LookupError) as error:
        raise InputError(words.not_text(path, error)) from None
    checker.count_uses()


class _Checker:
    """Sees every element of a file go by; raises :class:`InputError` at what is not allowed."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.depth = 0
        self.open_ids: list[str] = [""]
        self.children: dict[str, list[str]] = {"": []}
        """What each element with an id holds: other ids, used or inside; ``""`` is the file."""
        self.weight: dict[str, int] = {"": 0}
        self.foreign = 0

    def doctype(self, *_: Any) -> None:
        raise InputError(words.doctype_or_entity(self.path))

    def instruction(self, target: str, _: str) -> None:
        raise InputError(words.instruction(self.path, target))

    def start(self, name: str, attributes: dict[str, str]) -> None:
        self.depth += 1
        if self.depth > _MAX_DEPTH:
            raise InputError(words.nested_too_deep(self.path, _MAX_DEPTH))
        space, _, local = name.rpartition(" ")
        if self.depth == 1 and (space, local) != (_SVG, "svg"):
            raise InputError(words.other_root(self.path, local))
        if self.foreign or space != _SVG:
            self.foreign += 1  # notes that drawing programs leave; nothing of them is drawn
            self.open_ids.append(self.open_ids[-1])
            return
        if local not in _ALLOWED:
            raise InputError(words.other_element(self.path, local))
        for key, value in attributes.items():
            self._attribute(key.rpartition(" ")[2], value)
        self._count(local, attributes)

    def _attribute(self, key: str, value: str) -> None:
        squeezed = "".join(value.split()).lower()
        if key.lower().startswith("on") or "javascript:" in squeezed:
            raise InputError(words.script(self.path, key))
        if key == "href" and not squeezed.startswith("#"):
            raise InputError(words.reference_outside(self.path, value))
        if "url(" in squeezed.replace("url(#", "").replace("url('#", "").replace('url("#', ""):
            raise InputError(words.reference_outside(self.path, value))
        if "@import" in squeezed or "expression(" in squeezed:
            raise InputError(words.style_that_loads(self.path, value))

    def _count(self, local: str, attributes: dict[str, str]) -> None:
        parent = self.open_ids[-1]
        own = attributes.get("id", "")
        if own and own not in self.children:
            self.children[own], self.weight[own] = [], 0
            self.children[parent].append(own)
            parent = own
        self.weight[parent] += 1
        if local == "use":
            href = next((v for k, v in attributes.items() if k.split(" ")[-1] == "href"), "#")
            self.children[parent].append(href.strip()[1:])
        self.open_ids.append(parent)

    def end(self, _: str) -> None:
        self.depth -= 1
        self.foreign = max(0, self.foreign - 1)
        self.open_ids.pop()

    def count_uses(self) -> None:
        """Refuse files that grow without measure once every ``use`` is followed."""
        known: dict[str, int] = {}

        def count(name: str, above: tuple[str, ...]) -> int:
            if name in above or len(above) > _MAX_DEPTH:
                raise InputError(words.uses_itself(self.path))
            if name not in known:
                inner = sum(count(child, (*above, name)) for child in self.children.get(name, ()))
                known[name] = min(self.weight.get(name, 0) + inner, 10 * _MAX_ELEMENTS)
            return known[name]

        if count("", ()) > _MAX_ELEMENTS:
            raise InputError(words.too_many_elements(self.path, _MAX_ELEMENTS))


def _shapes(path: Path, data: bytes) -> list[tuple[Outline, bool]]:
    """Return the shapes of a checked drawing in the order of painting: (outline, is white)."""
    from picosvg.svg import SVG

    # The library knows SVG 1.1's xlink:href only; SVG 2 writes href.
    data = re.sub(rb"""\shref=(["'])#""", rb" xlink:href=\1#", data)
    try:
        plain = SVG.fromstring(data).topicosvg()  # type: ignore[no-untyped-call]
        found = [
            (
                _outline(shape.as_path().explicit_lines().absolute().arcs_to_cubics()
                         .expand_shorthand().d),
                _is_white(str(shape.fill)),
            )
            for shape in plain.shapes()
        ]  # fmt: skip
    except Exception as error:
        # The library has no common base for what a damaged drawing makes it raise.
        text = " ".join(str(error).split()) or type(error).__name__
        raise InputError(words.unresolved(path, text[:200])) from None
    if sum(len(outline.points) for outline, _ in found) > _MAX_POINTS:
        raise InputError(words.too_many_points(path, _MAX_POINTS))
    return [(outline, white) for outline, white in found if outline]


def _is_white(fill: str) -> bool:
    try:
        return ImageColor.getrgb(fill)[:3] == (255, 255, 255)
    except ValueError:
        return False  # such as url(#gradient)


def _outline(path_data: str) -> Outline:
    outline = parsed(path_data)
    if outline and not math.isfinite(float(abs(outline.points).max())):
        raise ValueError(words.NO_NUMBER)
    closed = "".join(
        f"M{steps}" if steps.endswith("Z") else f"M{steps}Z"
        for steps in outline.verbs.split("M")[1:]
    )
    return Outline(closed, outline.points).moved(1.0, True, 0.0, 0.0)
