"""A line of text as one outline: its glyphs welded by Skia, and the weld checked.

The only module that knows the welding library. Everything happens in whole font units before any
scaling: on whole units the library has not been seen to fail, on fractions it has.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import pathops

from mailmerge.lettering.fonts import VERBS, Font, as_outline
from mailmerge.lettering.outline import EMPTY, POINTS_OF, Box, Outline, joined
from mailmerge.lettering.raster import coverage
from mailmerge.lettering.shape import Glyph, Style, shaped

AREA_TOLERANCE = 0.003
"""The weld's area may differ by this much from the coverage of the untouched letters."""

_CHECK_PIXELS = 280_000
"""Size of the area check's picture for one letter; n letters drawn at once get 1 / sqrt(n) of it.

Seams and roundings weigh less the larger it is, and average out over the letters of a word.
"""

_SHARED_PIXELS = 20_000
"""Size of the picture of the place that two letters may share, which is much smaller than they."""

_CHECK_PIXELS_A_LETTER = 14_000
"""The least that each letter of a very long word gets."""

_MOST_PIECES = 80
"""Longer words are not welded piece by piece: each piece costs more than the one before."""

_SKIA_VERBS = {verb: pathops.PathVerb(number) for number, verb in enumerate(VERBS) if verb != "?"}


@dataclass(frozen=True, eq=False)
class Lettering:
    """One line of text, welded; units of its style's first font, ``y`` up, the baseline at 0."""

    text: str
    outline: Outline
    letter_height: float
    """Height of a capital letter in font units."""
    advance: float
    """Width by the fonts' own advances, kerning and tracking included."""
    missing: tuple[str, ...]
    """Characters that no font has, in the order of the text; they are left out."""
    misplaced: tuple[str, ...]
    """Letters with marks that do not lie on them as they should, in no font."""
    sound: bool
    """Whether the weld's area agrees with that of the untouched letters, and none was left out."""
    groups: tuple[tuple[Glyph, ...], ...]
    """The glyphs, in groups that lie apart along the line."""
    pieces: tuple[Outline, ...]
    """The outline of each group."""

    @property
    def box(self) -> Box:
        """Bounds of the ink in font units."""
        return self.outline.box


@lru_cache(maxsize=512)
def letter(style: Style, text: str, base: int | None = None) -> Lettering:
    """Return ``text`` shaped in a style, in its direction, and welded into one outline."""
    line = shaped(style, text, base)
    groups = _groups(line.glyphs)
    welded = [_welded(group) for group in groups]
    pieces = tuple(outline for outline, _ in welded)
    return Lettering(
        text=text,
        outline=joined(list(pieces)),
        letter_height=style.font.letter_height,
        advance=line.advance,
        missing=line.missing,
        misplaced=line.misplaced,
        sound=line.whole and all(sound for _, sound in welded),
        groups=groups,
        pieces=pieces,
    )


_WORDS_THAT_JOIN = ("nmunrn", "шншпмп", "لللللل", "नमनमनम")
"""Letters of several scripts that touch wherever a font's letters connect."""


@lru_cache(maxsize=128)
def connects(font: Font) -> bool:
    """Whether the letters of the font's first alphabet are made to touch, as in a script face.

    They are where the weld of a word has at most half as many pieces as its letters alone.
    """
    style = Style((font,))
    for word in _WORDS_THAT_JOIN:
        if not shaped(style, word).missing:
            alone = sum(letter(style, char).outline.verbs.count("M") for char in word)
            return 2 * letter(style, word).outline.verbs.count("M") <= alone
    return False


def _groups(glyphs: tuple[Glyph, ...]) -> tuple[tuple[Glyph, ...], ...]:
    """Return the glyphs in groups that lie apart along the line: no weld reaches across.

    A mark beside its letter is in its letter's group: along an arc the two are turned as one.
    """
    groups: list[list[Glyph]] = []
    ends: dict[int, float] = {}
    for glyph in glyphs:
        ends[glyph.char] = max(glyph.box.left, ends.get(glyph.char, -math.inf))
    reach = -math.inf
    for glyph in sorted(glyphs, key=lambda glyph: glyph.box.left):
        if glyph.box.left > reach:
            groups.append([])
        groups[-1].append(glyph)
        reach = max(reach, glyph.box.right, ends[glyph.char])
    return tuple(map(tuple, groups))


_Placed = tuple[Font, int, float, int, int]
"""Font, glyph, scale, and place in a group, which starts at (0, 0)."""


def _welded(group: tuple[Glyph, ...]) -> tuple[Outline, bool]:
    """Return a group welded at its place; groups of the same letters are welded once."""
    x, y = group[0].x, group[0].y
    outline, sound = _union(
        tuple((glyph.font, glyph.id, glyph.scale, glyph.x - x, glyph.y - y) for glyph in group)
    )
    return outline.moved(1.0, False, x, y), sound


@lru_cache(maxsize=2048)
def _union(placed: tuple[_Placed, ...]) -> tuple[Outline, bool]:
    """Return the union of glyphs, and whether its area agrees with their coverage.

    A single glyph is welded too: in many variable fonts its own contours overlap. A union that is
    off is done again piece by piece, which has mended every case seen, and is checked again.
    """
    pieces = [
        font.glyph(glyph, scale).transform(1, 0, 0, 1, x, y) for font, glyph, scale, x, y in placed
    ]
    wanted = _covered_by(placed)
    outline = EMPTY
    by_piece = (_union_by_piece,) if len(placed) <= _MOST_PIECES else ()
    unions = (_union_at_once, *by_piece)
    for union in unions:
        try:
            outline = nested(union(pieces))
        except pathops.PathOpsError:
            continue
        # Wound alike, outer contours and holes add up to the area by their signs.
        if abs(abs(outline.area) - wanted) <= AREA_TOLERANCE * wanted:
            return outline, True
    return outline or _untouched(placed), False


def _untouched(placed: tuple[_Placed, ...]) -> Outline:
    return joined(
        [font.outline(glyph, scale).moved(1.0, False, x, y) for font, glyph, scale, x, y in placed]
    )


def _covered_by(placed: tuple[_Placed, ...]) -> float:
    """Return the area that glyphs cover together, as drawn.

    It is what each covers alone less what every two share, and both repeat from word to word. Where
    three may share a place the glyphs are drawn together.
    """
    boxes = np.array([font.ink(glyph, scale) for font, glyph, scale, _, _ in placed], np.float64)
    boxes += [(x, y, x, y) for *_, x, y in placed]
    low = np.maximum(boxes[:, None, :2], boxes[:, :2])
    high = np.minimum(boxes[:, None, 2:], boxes[:, 2:])
    area = sum(_covered_alone(*each[:3]) for each in placed)
    beside: list[set[int]] = [set() for _ in placed]
    for i, j in np.argwhere(np.triu((low < high).all(axis=2), 1)).tolist():
        (*_, x, y), (*_, other_x, other_y) = placed[i], placed[j]
        if shared := _shared(placed[i][:3], placed[j][:3], other_x - x, other_y - y):
            if beside[i] & beside[j]:
                count = len(placed)
                least = _CHECK_PIXELS_A_LETTER * count
                return covered_area(
                    _untouched(placed), max(_CHECK_PIXELS / math.sqrt(count), least)
                )
            beside[i].add(j)
            beside[j].add(i)
            area -= shared
    return area


@lru_cache(maxsize=4096)
def _covered_alone(font: Font, glyph: int, scale: float) -> float:
    return covered_area(font.outline(glyph, scale), _CHECK_PIXELS)


@lru_cache(maxsize=16384)
def _shared(
    one: tuple[Font, int, float], other: tuple[Font, int, float], dx: int, dy: int
) -> float:
    """Return the area that two glyphs share, as drawn, the second ``dx`` and ``dy`` off."""
    (font, glyph, scale), (other_font, other_glyph, other_scale) = one, other
    a, b = font.outline(glyph, scale), other_font.outline(other_glyph, other_scale)
    left, low = max(a.box.left, b.box.left + dx), max(a.box.low, b.box.low + dy)
    right, high = min(a.box.right, b.box.right + dx), min(a.box.high, b.box.high + dy)
    fine = math.sqrt(_SHARED_PIXELS / ((right - left) * (high - low)))
    size = math.ceil((right - left) * fine), math.ceil((high - low) * fine)
    drawn = coverage(a.moved(fine, True, -left * fine, high * fine), *size)
    more = coverage(b.moved(fine, True, (dx - left) * fine, (high - dy) * fine), *size)
    twice = drawn - np.minimum(drawn, 255 - more)  # what is above a whole pixel
    return float(twice.sum(dtype=np.int64)) / 255 / fine**2


_GRIDS = (1000, 997, 499, 1009, 251)
"""Whole units to the mm that outlines in mm are worked on, in turn until the area agrees.

Where the library fails on one grid, it has not been seen to fail on all the others.
"""


def strengthened(outline: Outline, distance: float) -> tuple[Outline, bool]:
    """Return an outline moved outward on every side, corners rounded, and whether it is sound.

    Parameters
    ----------
    outline
        In mm.
    distance
        In mm, above 0. The curves keep to it within 0.003 mm.
    """
    grown = []
    for piece in _apart(outline, 2 * distance):
        x = float(piece.points[:, 0].min())
        at_origin = np.round(piece.points - (x, 0.0), 6)
        rimmed, sound = _strengthened(piece.verbs, at_origin.tobytes(), distance)
        if not sound:
            return outline, False
        grown.append(rimmed.moved(1.0, False, x, 0.0))
    return joined(grown), True


def _apart(outline: Outline, least: float) -> list[Outline]:
    """Return the contours in pieces that lie farther apart along the first axis than ``least``."""
    if not outline:
        return []
    ends = [*outline.starts[1:], len(outline.points)]
    contours = [
        Outline(f"M{steps}", outline.points[start:end])
        for steps, start, end in zip(
            outline.verbs.split("M")[1:], outline.starts, ends, strict=True
        )
    ]
    pieces: list[list[Outline]] = []
    reach = -math.inf
    for contour in sorted(contours, key=lambda contour: float(contour.points[:, 0].min())):
        if float(contour.points[:, 0].min()) > reach + least:
            pieces.append([])
        pieces[-1].append(contour)
        reach = max(reach, float(contour.points[:, 0].max()))
    return [joined(piece) for piece in pieces]


@lru_cache(maxsize=512)
def _strengthened(verbs: str, points: bytes, distance: float) -> tuple[Outline, bool]:
    """Do the work of :func:`strengthened` for one piece; pieces repeat, and are worked on once."""
    outline = Outline(verbs, np.frombuffer(points).reshape(-1, 2))
    # The rim has to be as wide as the check's pixels, or its seams would hide it.
    fine = outline.box.width * outline.box.height / distance**2
    pixels = min(max(fine, 4 * _CHECK_PIXELS), 16 * _CHECK_PIXELS)
    for grid in _GRIDS:
        path = as_path(outline, grid)
        rim = _wound_alike(path)
        rim.stroke(2 * distance * grid, pathops.LineCap.ROUND_CAP, pathops.LineJoin.ROUND_JOIN, 4)
        rim.convertConicsToQuads(1.0)
        wanted = covered_area(as_outline(rim), pixels, as_outline(path))
        try:
            grown = nested(_united(path, rim, fix_winding=False))
        except pathops.PathOpsError:
            continue
        if abs(abs(grown.area) - wanted) <= AREA_TOLERANCE * wanted:
            return grown.moved(1 / grid, False, 0.0, 0.0), True
    return outline, False


def _wound_alike(path: pathops.Path) -> pathops.Path:
    """Return a path with all its contours turning one way: rims of two ways cancel each other."""
    alike = pathops.Path()
    for contour in path.contours:
        if contour.clockwise:
            contour.reverse()
        alike.addPath(contour)
    return alike


def as_path(outline: Outline, grid: float) -> pathops.Path:
    """Return an outline as a path on whole units, so many to one of its own."""
    path = pathops.Path()
    points = np.rint(outline.points * grid).tolist()
    at = 0
    for verb in outline.verbs:
        count = POINTS_OF[verb]
        path.add(_SKIA_VERBS[verb], *points[at : at + count])
        at += count
    return path


def glyph_outline(font: Font, glyph: int, scale: float) -> Outline:
    """Return a glyph welded alone, at its origin."""
    return _union(((font, glyph, scale, 0, 0),))[0] if font.ink(glyph, scale) else EMPTY


def overlaps(outline: Outline) -> bool:
    """Whether contours of an outline in mm lie over each other, so that they need a weld."""
    if not outline:
        return False
    covered = covered_area(outline, 4 * _CHECK_PIXELS)
    return abs(abs(outline.area) - covered) > AREA_TOLERANCE * covered


@lru_cache(maxsize=2048)
def _skia(outline: Outline) -> pathops.Path:
    return as_path(outline, 1)


def covers(outline: Outline, x: float, y: float) -> bool:
    """Whether a point lies inside an outline in font units."""
    left, low, right, high = outline.box
    return left < x < right and low < y < high and bool(_skia(outline).contains((x, y)))


def _union_at_once(pieces: list[pathops.Path]) -> pathops.Path:
    together = pathops.Path()
    for piece in pieces:
        together.addPath(piece)
    together.simplify(fix_winding=False, keep_starting_points=False)
    return together


def _union_by_piece(pieces: list[pathops.Path]) -> pathops.Path:
    together = pathops.Path()
    for piece in pieces:
        alone = pathops.Path(piece)
        alone.simplify(fix_winding=True, keep_starting_points=False)
        together = _united(together, alone, fix_winding=True)
    return together


def _united(one: pathops.Path, other: pathops.Path, fix_winding: bool) -> pathops.Path:
    return pathops.op(
        one, other, pathops.PathOp.UNION, fix_winding=fix_winding, keep_starting_points=False
    )


def covered_area(outline: Outline, pixels: float, core: Outline = EMPTY) -> float:
    """Return the area that overlapping contours cover, in square units, as drawn.

    ``core`` covers too: something whose edge the outline covers by a pixel at least.
    """
    low, high = outline.points.min(axis=0), outline.points.max(axis=0)
    width, height = np.maximum(high - low, 1.0).tolist()
    scale = math.sqrt(pixels / (width * height))
    size = int(width * scale) + 2, int(height * scale) + 2
    covered = coverage(outline.moved(scale, True, -low[0] * scale, high[1] * scale), *size)
    if core:
        inner = coverage(core.moved(scale, True, -low[0] * scale, high[1] * scale), *size)
        covered = np.maximum(covered, inner)
    return float(covered.sum(dtype=np.int64)) / 255 / scale**2


def nested(path: pathops.Path) -> Outline:
    """Return contours wound so that every filling rule agrees: outer ones one way, holes the other.

    Skia leaves the contours of a union apart but wound at random. How many others a contour lies
    inside says which it is.
    """
    contours = list(path.contours)
    whole = as_outline(path)  # taken over at once: the way from Skia to here is what costs
    verbs = [f"M{steps}" for steps in whole.verbs.split("M")[1:]]
    ends = [*whole.starts[1:], len(whole.points)]
    outlines = [
        Outline(steps, whole.points[start:end])
        for steps, start, end in zip(verbs, whole.starts, ends, strict=True)
    ]
    boxes = [contour.bounds for contour in contours]
    wound = []
    for contour, outline in zip(contours, outlines, strict=True):
        x, y = _probe(outline)
        depth = sum(
            left < x < right and low < y < high and other.contains((x, y))
            for other, (left, low, right, high) in zip(contours, boxes, strict=True)
            if other is not contour
        )
        wound.append(outline if contour.clockwise == (depth % 2 == 0) else _reversed(outline))
    return joined(wound)


def _reversed(contour: Outline) -> Outline:
    return Outline(f"M{contour.verbs[-2:0:-1]}Z", contour.points[::-1])


def _probe(contour: Outline) -> tuple[float, float]:
    """Return a point in the middle of the first step: corners may touch other contours."""
    weights = {"L": (1, 1), "Q": (1, 2, 1), "C": (1, 3, 3, 1)}[contour.verbs[1]]
    x, y = np.array(weights) @ contour.points[: len(weights)] / sum(weights)
    return float(x), float(y)
