"""Lettering: finding fonts, shaping, outlines, weld and fit."""

from mailmerge.lettering.fit import largest_letter_height
from mailmerge.lettering.fonts import FONT_ENDINGS, Font, families, open_font
from mailmerge.lettering.outline import EMPTY, Box, Outline
from mailmerge.lettering.raster import coverage
from mailmerge.lettering.weld import Lettering, advance, letter

__all__ = [
    "EMPTY",
    "FONT_ENDINGS",
    "Box",
    "Font",
    "Lettering",
    "Outline",
    "advance",
    "coverage",
    "families",
    "largest_letter_height",
    "letter",
    "open_font",
]
