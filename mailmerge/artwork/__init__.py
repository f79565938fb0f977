"""Artwork: layouts, composition on the face, and the SVG file."""

from mailmerge.artwork.compose import Composition, Placed, WayOut, compose
from mailmerge.artwork.layout import Layout, Line, check_fields
from mailmerge.artwork.svg import read_outlines, seal_of, write_svg

__all__ = [
    "Composition",
    "Layout",
    "Line",
    "Placed",
    "WayOut",
    "check_fields",
    "compose",
    "read_outlines",
    "seal_of",
    "write_svg",
]
