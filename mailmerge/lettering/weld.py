"""A line of text as one outline: shaped by HarfBuzz, welded by Skia, and the weld checked.

The only module that knows the welding library. Everything happens in whole font units before any
scaling: on whole units the library has not been seen to fail, on fractions it has.
"""

from __future__ import annotations

import math
import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
import pathops
import uharfbuzz as hb

from mailmerge.lettering.fonts import Font
from mailmerge.lettering.outline import EMPTY, Box, Outline, joined
from mailmerge.lettering.raster import area

AREA_TOLERANCE = 0.003
"""The weld's area may differ by this much from the coverage of the untouched letters."""

MOST_MARKS = 8
"""Marks on one letter. Vietnamese and Hebrew need up to three."""

_CHECK_PIXELS = 280_000
"""Size of the area check's picture for one letter; n letters get 1 / sqrt(n) of it.

Seams and roundings weigh less the larger it is, and average out over the letters of a word.
"""

_CHECK_PIXELS_A_LETTER = 14_000
"""The least that each letter of a very long word gets."""

_MOST_PIECES = 80
"""Longer words are not welded piece by piece: each piece costs more than the one before."""

_VERBS = "MLQ?CZ"
"""Letters of the verbs by the numbers that Skia gives them; it makes no conics from curves."""


@dataclass(frozen=True, eq=False)
class Lettering:
    """One line of text in one font, welded; font units, ``y`` up, the baseline at 0."""

    text: str
    outline: Outline
    letter_height: float
    """Height of a capital letter in font units."""
    advance: float
    """Width by the font's own advances, kerning included."""
    missing: tuple[str, ...]
    """Characters that the font lacks, in the order of the text; they are left out."""
    sound: bool
    """Whether the weld's area agrees with that of the untouched letters."""

    @property
    def box(self) -> Box:
        """Bounds of the ink in font units."""
        return self.outline.box


@dataclass(frozen=True, slots=True)
class _Glyph:
    """A glyph of the line at its place, in whole font units."""

    id: int
    x: int
    y: int
    box: Box


@lru_cache(maxsize=512)
def letter(font: Font, text: str) -> Lettering:
    """Return ``text`` shaped in ``font`` and welded into one outline.

    Of marks piled on one letter only the first :data:`MOST_MARKS` are drawn, and the lettering is
    not sound: hundreds of shapes on one spot take the welding library minutes.
    """
    text, whole = _without_piles(text), text
    glyphs, advance, missing = _shaped(font, text)
    welded = [_welded(font, group) for group in _groups(glyphs)]
    return Lettering(
        text=whole,
        outline=joined([outline for outline, _ in welded]),
        letter_height=font.letter_height,
        advance=advance,
        missing=missing,
        sound=text == whole and all(sound for _, sound in welded),
    )


@lru_cache(maxsize=2048)
def advance(font: Font, text: str) -> float:
    """Return the width of a text by the font's own advances, in font units, without welding it."""
    return _shaped(font, _without_piles(text))[1]


def _without_piles(text: str) -> str:
    kept: list[str] = []
    marks = 0
    for char in text:
        marks = marks + 1 if unicodedata.category(char)[0] == "M" else 0
        if marks <= MOST_MARKS:
            kept.append(char)
    return "".join(kept)


def _shaped(font: Font, text: str) -> tuple[list[_Glyph], float, tuple[str, ...]]:
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    hb.shape(font.hb_font, buffer)
    infos, positions = buffer.glyph_infos, buffer.glyph_positions
    starts = sorted({info.cluster for info in infos} | {len(text)})
    cluster_end = dict(pairwise(starts))
    glyphs: list[_Glyph] = []
    lacking: set[int] = set()
    pen_x = pen_y = 0
    for info, position in zip(infos, positions, strict=True):
        if info.codepoint == 0:
            lacking.update(range(info.cluster, cluster_end[info.cluster]))
        else:
            x, y = pen_x + position.x_offset, pen_y + position.y_offset
            path = font.glyph(info.codepoint)
            if path.bounds[2] > path.bounds[0]:
                left, low, right, high = path.bounds
                box = Box(left + x, low + y, right + x, high + y)
                glyphs.append(_Glyph(info.codepoint, x, y, box))
        pen_x += position.x_advance
        pen_y += position.y_advance
    missing = tuple(dict.fromkeys(text[at] for at in sorted(lacking) if not text[at].isspace()))
    return glyphs, float(pen_x), missing


def _groups(glyphs: list[_Glyph]) -> list[list[_Glyph]]:
    """Return the glyphs in groups that lie apart along the line: no weld reaches across."""
    groups: list[list[_Glyph]] = []
    reach = -np.inf
    for glyph in sorted(glyphs, key=lambda glyph: glyph.box.left):
        if glyph.box.left > reach:
            groups.append([])
        groups[-1].append(glyph)
        reach = max(reach, glyph.box.right)
    return groups


def _welded(font: Font, group: list[_Glyph]) -> tuple[Outline, bool]:
    """Return a group welded at its place; groups of the same letters are welded once."""
    x, y = group[0].x, group[0].y
    outline, sound = _union(font, tuple((glyph.id, glyph.x - x, glyph.y - y) for glyph in group))
    return outline.moved(1.0, False, x, y), sound


@lru_cache(maxsize=2048)
def _union(font: Font, placed: tuple[tuple[int, int, int], ...]) -> tuple[Outline, bool]:
    """Return the union of glyphs (id, x, y), and whether its area agrees with their coverage.

    A single glyph is welded too: in many variable fonts its own contours overlap. A union that is
    off is done again piece by piece, which has mended every case seen, and is checked again.
    """
    pieces = [font.glyph(glyph).transform(1, 0, 0, 1, x, y) for glyph, x, y in placed]
    untouched = joined([_untouched(font, glyph).moved(1.0, False, x, y) for glyph, x, y in placed])
    count = len(placed)
    pixels = max(_CHECK_PIXELS / math.sqrt(count), _CHECK_PIXELS_A_LETTER * count)
    wanted = _coverage_area(untouched, pixels)
    outline = EMPTY
    unions = (_union_at_once, _union_by_piece) if count <= _MOST_PIECES else (_union_at_once,)
    for union in unions:
        try:
            outline = _nested(union(pieces))
        except pathops.PathOpsError:
            continue
        # Wound alike, outer contours and holes add up to the area by their signs.
        if abs(abs(outline.area) - wanted) <= AREA_TOLERANCE * wanted:
            return outline, True
    return outline or untouched, False


@lru_cache(maxsize=2048)
def _untouched(font: Font, glyph_id: int) -> Outline:
    return _outline(font.glyph(glyph_id))


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
        together = pathops.op(
            together, alone, pathops.PathOp.UNION, fix_winding=True, keep_starting_points=False
        )
    return together


def _coverage_area(outline: Outline, pixels: float) -> float:
    """Return the area that overlapping contours cover, in square font units, as drawn."""
    low, high = outline.points.min(axis=0), outline.points.max(axis=0)
    width, height = np.maximum(high - low, 1.0).tolist()
    scale = math.sqrt(pixels / (width * height))
    drawn = outline.moved(scale, True, -low[0] * scale, high[1] * scale)
    return area(drawn, int(width * scale) + 2, int(height * scale) + 2) / scale**2


def _outline(path: pathops.Path) -> Outline:
    verbs = "".join([_VERBS[verb] for verb in path.verbs])
    return Outline(verbs, np.array(path.points, dtype=np.float64).reshape(-1, 2))


def _nested(path: pathops.Path) -> Outline:
    """Return contours wound so that every filling rule agrees: outer ones one way, holes the other.

    Skia leaves the contours of a union apart but wound at random. How many others a contour lies
    inside says which it is.
    """
    contours = list(path.contours)
    whole = _outline(path)  # taken over at once: the way from Skia to here is what costs
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
