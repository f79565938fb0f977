"""What this room says to people."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from mailmerge.findings import nearest, shown

# Outlines


def tangled(most: int) -> str:
    """Say that the lines of a drawing cross too often."""
    return (
        f"The lines of the drawing cross more than {most:,} times. Unite its shapes in the drawing "
        f"program, or take some away, and save it again."
    )


# A font by its name


def no_such_font(found: str, installed: Sequence[str]) -> str:
    """Say that no font of this name is installed."""
    return (
        f"The font {shown(found)} is not installed. {nearest(found, installed)} These are "
        f"installed: {', '.join(installed)}. You can also give the path of a font file."
    )


def no_such_weight(font: str, weight: int, known: Iterable[int]) -> str:
    """Say that a font with several files has none of this weight."""
    listed = ", ".join(map(str, known))
    return f"The font {shown(font)} has no weight {weight}. Its weights are: {listed}."


def weight_out_of_range(font: str, weight: int, low: int, high: int) -> str:
    """Say that a variable font does not reach a weight."""
    return f"The font {shown(font)} has no weight {weight}. Its weights go from {low} to {high}."


# A font's file


def not_a_font(path: Path) -> str:
    """Say that a file is no font."""
    return f"{path}: The file is not a font that can be read. Give a .ttf, .otf or .woff2."


def not_a_web_font(path: Path, reason: object) -> str:
    """Say that a packed font cannot be unpacked."""
    return f"{path}: The file is not a web font that can be read ({reason})."


def font_has_changed(path: Path) -> str:
    """Say that a font file is another one than a moment ago."""
    return f"{path}: The font file has changed while it was read. Try again."


def font_cut_short(path: Path) -> str:
    """Say that a part of a font is missing."""
    return f"{path}: The file is not a whole font. Its end is missing. Copy or download it again."


def no_such_face(path: Path, index: int, faces: int) -> str:
    """Say that a collection holds no face of this index."""
    if faces == 1:
        return f"{path}: Found index {index}. This file holds 1 face. Its index is 0."
    return (
        f"{path}: Found index {index}. This file holds {faces} faces. Their index goes from 0 to "
        f"{faces - 1}."
    )


def no_such_axis(path: Path, axis: str, known: Sequence[str]) -> str:
    """Say that a font has not this axis, or none."""
    if not known:
        return f"{path}: Found the axis {shown(axis)}. This font is not variable: it has no axes."
    return f"{path}: Found the axis {shown(axis)}. This font has the axes {', '.join(known)}."


def axis_out_of_range(path: Path, axis: str, value: float, low: float, high: float) -> str:
    """Say that a variable font does not reach a value."""
    name = "weight" if axis == "wght" else axis
    return f"{path}: Found {name} {value:g}. This font goes from {low:g} to {high:g}."


# What a font's file says about its licence; also in what other programs read

NOTHING_ABOUT_LICENCE = "says nothing"
NOTHING_ABOUT_EMBEDDING = "says nothing about embedding"
INSTALLABLE = "may be embedded and installed"
RESTRICTED = "not to be embedded in anything without its owner's leave (restricted)"
PREVIEW_AND_PRINT = "may be embedded to view and print"
EDITABLE = "may be embedded and edited"
NO_SUBSETTING = "not in parts"
BITMAPS_ONLY = "as bitmaps only"


# Shapes

NO_SIZE = "The drawing holds no shape of a size that can be drawn."
OTHER_STEPS = "path data with other steps than M, L, Q, C and Z"
WRONG_COUNT_OF_POINTS = "path data with a step that has too many or too few points"
