from .compose import Composition, Placed, compose, own_heights
from .drawings import read_drawing, read_motif
from .laying import laid, lifted
from .layout import Layout, Line, check_fields
from .own import Own, own_of
from .seal import seal_of
from .setting import WayOut
from .sizing import Settled, Sizes, is_shared, settle
from .svg import Sheet, read_outlines, sheet_of, write_svg

__all__ = [
    "Composition",
    "Layout",
    "Line",
    "Own",
    "Placed",
    "Settled",
    "Sheet",
    "Sizes",
    "WayOut",
    "check_fields",
    "compose",
    "is_shared",
    "laid",
    "lifted",
    "own_heights",
    "own_of",
    "read_drawing",
    "read_motif",
    "read_outlines",
    "seal_of",
    "settle",
    "sheet_of",
    "write_svg",
]
