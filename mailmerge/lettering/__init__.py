"""Lettering: finding fonts, shaping, outlines, weld and fit."""

from mailmerge.lettering.bottlenecks import Measured, finest, joins_to_another, narrow
from mailmerge.lettering.brush import (
    FINENESS,
    Brush,
    Frame,
    Matrix,
    PathOpsError,
    Pen,
    Shape,
    cut_out,
)
from mailmerge.lettering.fit import largest_letter_height
from mailmerge.lettering.fonts import FONT_ENDINGS, Font, families, nearest_weight, open_font
from mailmerge.lettering.licence import Licence, licence_of
from mailmerge.lettering.outline import EMPTY, Box, Outline
from mailmerge.lettering.raster import coverage
from mailmerge.lettering.shape import Style, shaped
from mailmerge.lettering.weld import Lettering, connects, letter, overlaps, strengthened

__all__ = [
    "EMPTY",
    "FINENESS",
    "FONT_ENDINGS",
    "Box",
    "Brush",
    "Font",
    "Frame",
    "Lettering",
    "Licence",
    "Matrix",
    "Measured",
    "Outline",
    "PathOpsError",
    "Pen",
    "Shape",
    "Style",
    "connects",
    "coverage",
    "cut_out",
    "families",
    "finest",
    "joins_to_another",
    "largest_letter_height",
    "letter",
    "licence_of",
    "narrow",
    "nearest_weight",
    "open_font",
    "overlaps",
    "shaped",
    "strengthened",
]
