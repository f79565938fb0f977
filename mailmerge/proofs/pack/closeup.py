"""The faces of a cup, close by: the lettering as it looks on the wall, large enough to be read.

As on the proof, it is the path data read back out of the artwork file's own bytes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from mailmerge.artwork import lifted, read_outlines
from mailmerge.blanks import Blank, Face
from mailmerge.lettering import Box, Outline
from mailmerge.proofs import Scene
from mailmerge.proofs.canvas import Canvas
from mailmerge.proofs.palette import PAPER, Palette
from mailmerge.proofs.projection import on_cup, radius_below, turns_seen
from mailmerge.proofs.stage import light_at

_LARGEST = (900.0, 720.0)
"""Of a picture, in px."""
_FINEST = 40.0
"""px for each mm, at most: small lettering stays small."""
_MARGIN, _LEAST_MARGIN = 0.12, 3.0
"""Of bare wall around the ink: a part of its larger side, and mm."""
_WIDEST, _NARROWEST = 2.4, 1.0
"""Width of a picture in parts of its height."""
_FLAT_LIGHT = 0.62
"""How bright flat goods are, 0 to 1; in the middle of their proof it is the same."""
_SAME = 1e-6
"""Meridians closer than this (mm) are one."""
_EDGE = math.radians(75)
"""What lies farther around is too narrow to be looked at close by."""

Floats = NDArray[np.float64]


def draw_closeups(artwork: bytes, scene: Scene) -> Iterator[Canvas]:
    """Yield a picture of each face that ink is seen on.

    Parameters
    ----------
    artwork
        The artwork file's bytes.
    """
    outlines = {
        name: lifted(outline, scene.centres.get(name, ()), scene.blank, scene.loading)
        for name, outline in read_outlines(artwork).items()
    }
    for view in scene.views:
        seen = {name: [*_seen(each, scene.blank, view.face)] for name, each in outlines.items()}
        everything = [each for some in seen.values() for each in some]
        own = [
            each
            for name, some in seen.items()
            for each in some
            if any(abs(at - view.face.centre) < _SAME for at in scene.centres.get(name, ()))
        ]
        if box := _ink(own or everything, scene.blank):
            yield _picture(everything, scene, box)


def _seen(outline: Outline, blank: Blank, face: Face) -> Iterator[Outline]:
    """Yield ink of the wall as an eye before a face sees it, in mm from its middle and the mouth.

    What goes past the seam is seen from both of its sides.
    """
    for turn in turns_seen(outline, blank, face):
        yield on_cup(outline.moved(1.0, False, turn, 0.0), blank, face)


def _ink(outlines: list[Outline], blank: Blank) -> Box | None:
    """Return the bounds of ink, but for what lies far around the wall; None if nothing is left."""
    points = np.concatenate([np.zeros((0, 2)), *(outline.points for outline in outlines)])
    points = points[np.abs(points[:, 0]) < math.sin(_EDGE) * _half_width(points[:, 1], blank)]
    if not len(points):
        return None
    (left, low), (right, high) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return Box(left, low, right, high)


def _half_width(down: Floats, blank: Blank) -> Floats:
    """Return how far the wall reaches to each side so far below the mouth, both in mm upright."""
    if blank.is_flat:
        return np.full_like(down, np.inf)
    along = np.clip(down / math.cos(math.radians(blank.tilt)), 0.0, blank.height)
    return radius_below(along, blank)


def _picture(outlines: list[Outline], scene: Scene, ink: Box) -> Canvas:
    """Draw what is seen of a wall around some ink of it."""
    box = _around(ink, scene.blank)
    scale = min(_LARGEST[0] / box.width, _LARGEST[1] / box.height, _FINEST)
    canvas = _ground(Palette(scene.coat.colour, scene.coat.reveal), scene.blank, box, scale)
    for outline in outlines:
        placed = outline.moved(scale, False, -box.left * scale, -box.low * scale)
        canvas.outline(placed, canvas.palette.engraving)
    return canvas


def _around(ink: Box, blank: Blank) -> Box:
    """Return what is shown around ink: as wide as pictures are, and nothing beyond the wall."""
    widest = 2 * float(_half_width(np.array([0.0, blank.upright_height]), blank).max())
    margin = max(_LEAST_MARGIN, _MARGIN * max(ink.width, ink.height))
    height = min(ink.height + 2 * margin, blank.upright_height)
    width = min(max(ink.width + 2 * margin, height * _NARROWEST), widest)
    height = min(max(height, width / _WIDEST), blank.upright_height)
    left = (ink.left + ink.right - width) / 2
    if widest < math.inf:
        left = min(max(left, -widest / 2), widest / 2 - width)
    low = (ink.low + ink.high - height) / 2
    low = min(max(low, 0.0), blank.upright_height - height)
    return Box(left, low, left + width, low + height)


def _ground(palette: Palette, blank: Blank, box: Box, scale: float) -> Canvas:
    """Return a bare wall, lit as it is on the proof; what lies beside it is paper."""
    across = box.left + (np.arange(round(box.width * scale)) + 0.5) / scale
    down = np.asarray(box.low + (np.arange(round(box.height * scale)) + 0.5) / scale, np.float64)
    if blank.is_flat:
        return Canvas(palette, palette.shaded(np.full((len(down), len(across)), _FLAT_LIGHT)))
    radii, which = np.unique(_half_width(down, blank), return_inverse=True)
    turned = across[None, :] / radii[:, None]
    pixels = palette.shaded(light_at(np.arcsin(np.clip(turned, -1, 1)))[which])
    pixels[np.abs(turned[which]) > 1] = palette.nearest(np.array([PAPER], float))[0]
    return Canvas(palette, pixels)
