from .bottlenecks import Measured, finest, joins_to_another, narrow
from .brush import (
    FINENESS,
    Brush,
    Frame,
    Matrix,
    PathOpsError,
    Pen,
    Shape,
    cut_out,
)
from .fit import largest_letter_height
from .fonts import FONT_ENDINGS, Font, families, nearest_weight, open_font
from .licence import Licence, licence_of
from .outline import EMPTY, Box, Outline
from .raster import coverage
from .shape import Style, shaped
from .weld import Lettering, connects, letter, overlaps, strengthened

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
