"""A bare blank to scale: as one sees it, and beside it its wall unrolled with zones and faces.

Pictures that are drawn as wide as each other, in mm, have one scale: blanks compare by eye.
"""

from __future__ import annotations

import math

import numpy as np
from PIL import Image, ImageDraw

from mailmerge.blanks import Blank, Coat, Face
from mailmerge.proofs.canvas import Canvas
from mailmerge.proofs.handle import handle_reach
from mailmerge.proofs.palette import PAPER, SOFT, Palette
from mailmerge.proofs.projection import box_of_wall
from mailmerge.proofs.stage import FINE, Cup, Wrap, in_light
from mailmerge.units import format_mm

WIDTH = 1200
"""Pixels."""
_APART = 20.0
"""Millimetres between cup and wall, and around both."""
_RULER = 100.0
"""Millimetres."""
_FOOT = 62
"""Room for the ruler, in px."""


def width_to_scale(blank: Blank) -> float:
    """Return how wide a picture of a blank has to be, in mm."""
    return _room_of_cup(blank) + box_of_wall(blank).width + 2 * _APART


def _room_of_cup(blank: Blank) -> float:
    """Return how far the wall stands aside for the cup, in mm; flat goods are their own wall."""
    if blank.is_flat:
        return 0.0
    handles = min(2, len(blank.handles))  # one is seen aside, two on both sides
    return _across(blank) + handles * handle_reach(blank) + _APART


def _across(blank: Blank) -> float:
    return blank.largest_circumference / math.pi


def draw_to_scale(blank: Blank, coat: Coat, faces: tuple[Face, ...], wide: float) -> Canvas:
    """Return a blank as one sees it from the first face, and its wall unrolled with all faces.

    Parameters
    ----------
    wide
        Width of the picture in mm, at least :func:`width_to_scale`.
    """
    scale, palette = WIDTH / wide, Palette(coat.colour, coat.reveal)
    wall, edge = box_of_wall(blank), _APART * scale
    high = round(max(blank.upright_height, wall.height) * scale + 2 * edge) + _FOOT
    picture = Image.new("RGB", (WIDTH * FINE, high * FINE), PAPER)
    shapes = Image.new("L", picture.size, 0)
    middles = []
    if room := _room_of_cup(blank) * scale:
        left_handle = handle_reach(blank) if len(blank.handles) > 1 else 0.0
        middles.append(edge + (left_handle + _across(blank) / 2) * scale)
        Cup(
            ImageDraw.Draw(picture), blank, coat, scale * FINE, middles[0] * FINE, edge * FINE
        ).draw_on(shapes, faces[0])
    left, top = edge + room - wall.left * scale, edge - wall.low * scale
    Wrap(picture, blank, coat, scale * FINE, left * FINE, top * FINE).draw(list(faces))
    canvas = Canvas(
        palette, in_light(palette, picture, shapes, blank, middles or [0.0], scale, edge)
    )
    _ruler(canvas, scale, round(edge))
    return canvas


def _ruler(canvas: Canvas, scale: float, left: int) -> None:
    """Draw a length to compare with, in the lower left corner."""
    y = canvas.pixels.shape[0] - _FOOT // 2
    ink = canvas.palette.ink(SOFT)
    long = round(_RULER * scale)
    for x, top, wide, high in (
        (left, y, long, 2), (left, y - 8, 2, 18), (left + long, y - 8, 2, 18)
    ):  # fmt: skip
        canvas.stain(np.full((high, wide), 255, np.uint8), x, top, ink)
    canvas.text(format_mm(_RULER), left + long + 14, y + 9, 26, ink)
