"""A palette picture that outlines and text are drawn on."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

import numpy as np
from PIL import Image

from mailmerge.lettering import Outline, Style, coverage, nearest_weight, open_font, shaped
from mailmerge.lettering.fonts import Font
from mailmerge.lettering.raster import Coverage
from mailmerge.lettering.weld import glyph_outline
from mailmerge.proofs.palette import Indices, Palette
from mailmerge.proofs.png import Strip, png, strip_of

_PLAIN = ("Noto Sans", "Noto Sans Arabic", "Frank Ruhl Libre", "Noto Sans Thai")
"""For everything on a proof that is read rather than engraved: plain, and wide in its alphabets.

The first one holds the Latin, Greek, Cyrillic and Devanagari ones.
"""

_PARTS = 4
"""Places within a pixel that a letter of plain type may have, each way."""


@dataclass(frozen=True)
class Label:
    """A drawn text: its coverage, and where its baseline's start lies in that picture (px)."""

    picture: Coverage
    left: int
    top: int
    advance: float
    """How far the text's end lies from its start, in px."""


@cache
def plain_style(weight: int) -> Style:
    """Return the plain style at a weight."""
    return Style(tuple(open_font(name, nearest_weight(name, weight), Path()) for name in _PLAIN))


@lru_cache(maxsize=512)
def label(text: str, size: float, weight: int = 400, base: int | None = None) -> Label:
    """Return ``text`` in plain type, ``size`` pixels from baseline to baseline times 0.73.

    Its direction is ``base``: 0 to the right, 1 to the left; None for that of its first letter.
    """
    style = plain_style(weight)
    line = shaped(style, text, base)
    scale = size / style.font.upem
    if not line.glyphs:
        return Label(np.zeros((0, 0), np.uint8), 0, 0, line.advance * scale)
    drawn = []
    for glyph in line.glyphs:
        x, right = divmod(round(glyph.x * scale * _PARTS), _PARTS)
        y, down = divmod(round(-glyph.y * scale * _PARTS), _PARTS)
        picture, left, top = _drawn(glyph.font, glyph.id, glyph.scale, scale, right, down)
        drawn.append((picture, x + left, y + top))
    left, top = min(x for _, x, _ in drawn), min(y for _, _, y in drawn)
    width = max(x + picture.shape[1] for picture, x, _ in drawn) - left
    height = max(y + picture.shape[0] for picture, _, y in drawn) - top
    whole = np.zeros((height, width), np.uint8)
    for picture, x, y in drawn:
        part = whole[y - top :, x - left :][: picture.shape[0], : picture.shape[1]]
        # What neither covers is left, as if the two lay at random in a pixel: of a seam half.
        bare = (255 - part).astype(np.uint16) * (255 - picture)
        part[:] = 255 - (bare + 127) // 255
    return Label(whole, left, top, line.advance * scale)


@lru_cache(maxsize=4096)
def _drawn(
    font: Font, glyph: int, own: float, scale: float, right: int, down: int
) -> tuple[Coverage, int, int]:
    """Return a glyph's coverage, and where its place's pixel lies in that, from left and top.

    Parameters
    ----------
    own, scale
        To the units of the line, and from those to px.
    right, down
        Where it is placed in its pixel, in parts of it.
    """
    outline = glyph_outline(font, glyph, own).moved(scale, True, right / _PARTS, down / _PARTS)
    box = outline.box
    left, top = math.floor(box.left), math.floor(box.low)
    size = math.ceil(box.right) - left, math.ceil(box.high) - top
    return coverage(outline.moved(1.0, False, -left, -top), *size), left, top


class Canvas:
    """A picture of palette indices, shape (height, width), ``y`` down.

    Parameters
    ----------
    pixels
        The ground; it is copied.
    """

    def __init__(self, palette: Palette, pixels: Indices) -> None:
        self.palette = palette
        height, width = pixels.shape
        self._rows = np.zeros((height, width + 1), dtype=np.uint8)  # as a PNG has them
        self.pixels = self._rows[:, 1:]
        self.pixels[:] = pixels

    def stain(self, picture: Coverage, x: int, y: int, ink: Indices) -> None:
        """Lay a coverage onto the picture with its upper left corner at (x, y); it may reach out.

        ``ink`` is a table of the palette: what each colour becomes at each coverage.
        """
        height, width = self.pixels.shape
        left, top = max(0, -x), max(0, -y)
        part = picture[top : max(0, height - y), left : max(0, width - x)]
        if part.size:
            ground = self.pixels[y + top : y + top + part.shape[0], x + left :][:, : part.shape[1]]
            ground[:] = ink.ravel().take(ground.astype(np.uint16) << 8 | part)

    def outline(self, outline: Outline, ink: Indices) -> None:
        """Fill an outline given in pixels of the picture."""
        if not outline:
            return
        low = np.maximum(np.floor(outline.points.min(axis=0)) - 1, 0).astype(int)
        height, width = self.pixels.shape
        high = np.minimum(np.ceil(outline.points.max(axis=0)) + 1, (width, height)).astype(int)
        if (high <= low).any():
            return
        moved = outline.moved(1.0, False, float(-low[0]), float(-low[1]))
        picture = coverage(moved, int(high[0] - low[0]), int(high[1] - low[1]))
        self.stain(picture, int(low[0]), int(low[1]), ink)

    def text(
        self, text: str, x: float, y: float, size: float, ink: Indices, weight: int = 400
    ) -> float:
        """Write plain type with its baseline starting at (x, y); return where it ends (px)."""
        drawn = label(text, size, weight)
        self.stain(drawn.picture, round(x) + drawn.left, round(y) + drawn.top, ink)
        return x + drawn.advance

    def part(self, box: tuple[int, int, int, int]) -> Canvas:
        """Return a part of the picture; left, top, right and bottom in px."""
        left, top, right, bottom = box
        return Canvas(self.palette, self.pixels[top:bottom, left:right])

    @property
    def image(self) -> Image.Image:
        """The picture in colours."""
        colours = np.rint(self.palette.colours).astype(np.uint8)
        return Image.fromarray(np.take(colours, self.pixels, axis=0))

    def strip(self) -> Strip:
        """Return the picture as a part of a palette PNG."""
        return strip_of(self._rows)

    def png(self) -> bytes:
        """Return the picture as a palette PNG."""
        return png([self.strip()], self.palette.colours)
