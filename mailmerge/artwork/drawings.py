"""Ornaments: the user's own drawings, read from SVG into one outline.

A drawing is a shape and nothing else. What could carry more than a shape is refused before a
library sees the file: scripts, entities, references to the outside, texts, pictures.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree
from xml.parsers import expat

import numpy as np

from mailmerge.artwork import words
from mailmerge.artwork.colours import INK_BELOW
from mailmerge.artwork.layout import Motif, Ornament
from mailmerge.artwork.painting import SHAPES, Painted, UnreadError, painted
from mailmerge.artwork.shown import Comparison, compared
from mailmerge.files import read_file, write_file
from mailmerge.findings import InputError
from mailmerge.lettering import FINENESS, Outline, PathOpsError, Shape, cut_out, narrow
from mailmerge.lettering.flat import polygons
from mailmerge.lettering.outline import Points
from mailmerge.reading import apart
from mailmerge.shelves import find, templates

_MAX_BYTES = 500_000
_MAX_ELEMENTS = 500
"""Shapes and groups once every ``use`` has been followed."""

_MAX_POINTS = 6_000
_MAX_DEPTH = 60

_SVG = "http://www.w3.org/2000/svg"
_ALLOWED = SHAPES | {
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
    box = read_motif(ornament, beside).outline.box
    scale = min(ornament.width / box.width, ornament.height / box.height)
    return scaled(ornament, box.height * scale, beside)


def around(ornament: Ornament, width: float, height: float, beside: Path) -> Outline:
    """Return a frame as large as it has to be for something so wide and high (mm) in its middle.

    Its gap is kept on all sides, and it is no larger than its box. Scaled as :func:`fitted`.
    """
    gap = 2 * ornament.gap
    times = _bare(_edge(ornament, beside), width + gap, height + gap)
    return fitted(ornament, beside).moved(min(1.0, 1 / max(times, 0.01)), False, 0.0, 0.0)


@lru_cache(maxsize=256)
def room_in(ornament: Ornament, beside: Path) -> tuple[float, float]:
    """Return how wide and high (mm) something may be in a frame as large as its box, gaps kept.

    Of all rectangles about the frame's middle that a name may fill, that of the largest area.
    """
    edge, gap = _edge(ornament, beside), 2 * ornament.gap
    sizes = [(share * times, times) for share in _SHARES if (times := _bare(edge, share, 1.0))]
    width, height = max(sizes, key=lambda size: size[0] * size[1], default=(0.0, 0.0))
    return max(0.0, width - gap), max(0.0, height - gap)


_SHARES = tuple(1.05**step for step in range(15, 50))
"""Widths of a line over its height, from 2 to 11. Own judgement: names are wider than high."""


@lru_cache(maxsize=256)
def _edge(ornament: Ornament, beside: Path) -> Points:
    """Return the straight edges, each from start to end, of a drawing as large as its box."""
    drawing = fitted(ornament, beside)
    rings = polygons(drawing, max(drawing.box.width, drawing.box.height) / 10_000)
    return np.concatenate([np.stack([ring, np.roll(ring, -1, axis=0)], axis=1) for ring in rings])


def _bare(edge: Points, width: float, height: float) -> float:
    """Return how many times as large a rectangle about the middle is that holds no ink.

    Along an edge the larger of both distances, as shares of the rectangle's, is least at an end or
    on a diagonal.
    """
    start, end = np.moveaxis(edge * (2 / width, 2 / height), 1, 0)
    shares = [np.abs(start).max(axis=1)]
    for sign in (1, -1):
        before, after = start[:, 0] - sign * start[:, 1], end[:, 0] - sign * end[:, 1]
        passes = before * after < 0
        part = before[passes] / (before - after)[passes]
        shares.append(np.abs(start[passes, 0] + part * (end - start)[passes, 0]))
    return float(np.concatenate(shares).min())


def scaled(motif: Motif, height: float, beside: Path) -> Outline:
    """Return a drawing at a height; mm, ``y`` up, its ink's middle at (0, 0); see above."""
    outline = read_motif(motif, beside).outline
    box = outline.box
    scale = height / box.height
    middle = (box.left + box.right) / 2 * scale, (box.low + box.high) / 2 * scale
    placed = outline.moved(scale, False, -middle[0], -middle[1])
    return placed.mirrored() if motif.mirrored else placed


@lru_cache(maxsize=256)
def _narrow_of(outline: Outline) -> tuple[float | None, float | None]:
    """Return the narrowest stroke and gap of a drawing whose larger side is 1."""
    found = narrow(outline, 1.0)
    stroke = found.strokes[0].width if found.strokes else None
    return stroke, found.gaps[0].width if found.gaps else None


def narrowness(motif: Motif, placed: Outline, beside: Path) -> tuple[float | None, ...]:
    """Return the narrowest stroke and gap, in mm, of a drawing that stands as ``placed``."""
    scale = max(placed.box.width, placed.box.height)
    found = _narrow_of(read_motif(motif, beside).outline)
    return tuple(None if width is None else width * scale for width in found)


def read_motif(motif: Motif, beside: Path) -> Read:
    """Return a layout's drawing as it is read; see :func:`read_drawing`."""
    return read_drawing(find("ornaments", motif.drawing, beside), motif.ink_below)


@dataclass(frozen=True)
class Read:
    """A drawing that was read: its shape, and what its colours were taken for."""

    outline: Outline
    """The larger side of all that is drawn is 1 long; ``y`` up."""
    inks: tuple[str, ...]
    """Colours that are engraved, as ``#rrggbb``."""
    bares: tuple[str, ...]
    """Colours that are not, white left out."""


@lru_cache(maxsize=256)  # each guest may have a drawing of the library for themselves
def read_drawing(path: Path, ink_below: float = INK_BELOW) -> Read:
    """Return the shape of an SVG file, all that is darker than a luminance welded.

    Groups, transforms, clips and ``use`` are resolved, strokes become shapes, and what is light is
    cut out of what lies under it. The outcome is compared with what another renderer shows.

    Raises
    ------
    InputError
        The file cannot be read, is no SVG, is empty, holds something that is no shape, or would
        be engraved otherwise than it is drawn; both are then beside the file as a picture.
    """
    if path.is_relative_to(templates()):  # the program's own
        found = drawing_in(path, ink_below)
    else:
        found = apart(path, drawing_in, path, ink_below)
    if isinstance(found, Read):
        return found
    raise InputError(words.not_as_drawn(path, _kept(path, found)))


def drawing_in(path: Path, ink_below: float) -> Read | bytes:
    """Read a drawing; where it would be engraved otherwise than drawn, return a picture of both.

    Raises
    ------
    InputError
        See :func:`read_drawing`.
    """
    data = read_file(path, _MAX_BYTES)
    _check(path, data)
    root = ElementTree.fromstring(data)
    picture = b""
    try:
        for fineness in FINENESS:
            outline, comparison = _attempt(path, root, ink_below, fineness)
            if comparison.agrees:
                return Read(outline, comparison.inks, comparison.bares)
            picture = comparison.picture()
    except UnreadError as error:
        raise InputError(words.unread(path, error)) from None
    except ArithmeticError:
        raise InputError(words.no_usable_size(path, words.NUMBERS_OUT_OF_REACH)) from None
    except ValueError as error:
        raise InputError(words.no_usable_size(path, error)) from None
    return picture


def _attempt(
    path: Path, root: ElementTree.Element, ink_below: float, fineness: int
) -> tuple[Outline, Comparison]:
    """Return a drawing as an outline, and how that looks beside what another renderer shows."""
    try:
        drawing = painted(root, fineness)
        shapes = _inked(path, drawing.painted, ink_below)
        if not shapes:
            raise InputError(words.no_shape(path, bool(drawing.painted)))
        outline, frame, sound = cut_out(shapes)
    except PathOpsError:
        raise InputError(words.not_one_outline(path)) from None
    if not outline or outline.box.width <= 0 or outline.box.height <= 0:
        raise InputError(words.no_shape(path, any(is_cut for _, is_cut in shapes)))
    if not sound:
        raise InputError(words.not_one_outline(path))
    if len(outline.points) > _MAX_POINTS:
        raise InputError(words.too_many_points(path, _MAX_POINTS))
    return outline, compared(root, drawing.picture, outline, frame, ink_below)


def _inked(path: Path, shapes: Sequence[Painted], ink_below: float) -> list[tuple[Shape, bool]]:
    """Return the shapes that change what is engraved: (shape, whether it is cut out)."""
    found = []
    if sum(each.shape.count for each in shapes) > _MAX_POINTS:
        raise InputError(words.too_many_points(path, _MAX_POINTS))
    for each in shapes:
        verdict = each.paint.verdict(ink_below)
        if verdict is None:
            raise UnreadError(words.DARK_AND_LIGHT)
        if verdict != "as it was":
            found.append((each.shape, verdict == "bare"))
    while found and found[0][1]:
        del found[0]  # nothing lies under it
    return found


def _kept(path: Path, picture: bytes) -> Path | None:
    """Return where the picture of a drawing that is read otherwise was put, if anywhere."""
    place = path.with_name(f"{path.stem}-compared.png")
    try:
        write_file(place, picture)
    except InputError:
        return None
    return place


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
        clip = " ".join((attributes.get("clip-path", ""), attributes.get("style", "")))
        self.children[parent] += re.findall(r"""url\(\s*["']?#([^"')]*)""", clip)
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
