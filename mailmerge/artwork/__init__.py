"""Artwork: layouts, composition on the face, and the SVG file."""

from mailmerge.artwork.compose import Composition, Placed, compose, own_heights
from mailmerge.artwork.drawings import read_drawing, read_motif
from mailmerge.artwork.laying import laid, lifted
from mailmerge.artwork.layout import Layout, Line, check_fields
from mailmerge.artwork.own import Own, own_of
from mailmerge.artwork.setting import WayOut
from mailmerge.artwork.sizing import Settled, Sizes, is_shared, settle
from mailmerge.artwork.svg import Sheet, read_outlines, seal_of, sheet_of, write_svg

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
