"""What a renderer of SVG shows of a drawing, held against what would be engraved.

The only module that knows resvg. It shares nothing with ``painting`` but the checked file: neither
reads a drawing well enough to be trusted alone, and what both agree about is engraved.
"""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from xml.etree import ElementTree

import numpy as np
import resvg_py
from numpy.typing import NDArray
from PIL import Image

from mailmerge.artwork.colours import luminance
from mailmerge.artwork.painting import SVG, Viewport
from mailmerge.lettering import Frame, Outline, coverage

Mask = NDArray[np.bool_]

_ACROSS = 768
"""Pixels across the ink: at 40 mm, a pixel is half the spot of a typical beam."""

_MOST_ACROSS = 2_048
"""Pixels across the picture, where the ink is a small part of it."""

_SQUARE = 9
_TIP = 8
"""Pixels that may differ within a square of so many."""


@dataclass(frozen=True)
class Comparison:
    """A drawing as a renderer shows it and as it would be engraved."""

    inks: tuple[str, ...]
    """Colours that are engraved, as ``#rrggbb``, those that cover most first."""
    bares: tuple[str, ...]
    """Colours that are not, white left out."""
    differing: Mask
    """Pixels that one of both has as ink and the other has not, edges left out."""
    theirs: NDArray[np.uint8]
    """The renderer's picture, shape (height, width, 3)."""
    ours: NDArray[np.uint8]
    """Coverage of what would be engraved."""

    @property
    def agrees(self) -> bool:
        """Whether both are the same drawing."""
        return not self.differing.any()

    def picture(self) -> bytes:
        """Return both beside each other as a PNG; in the right one, what differs is red."""
        right = np.repeat(255 - self.ours[:, :, None], 3, axis=2)
        right[self.differing] = (220, 0, 0)
        rule = np.full((len(right), 8, 3), 128, dtype=np.uint8)
        stream = io.BytesIO()
        Image.fromarray(np.hstack([self.theirs, rule, right])).save(stream, "PNG")
        return stream.getvalue()


def compared(
    root: ElementTree.Element, picture: Viewport, outline: Outline, frame: Frame, ink_below: float
) -> Comparison:
    """Return a drawing as resvg shows it on white, and as its outline would be engraved.

    A pixel differs if it is ink (or bare) in one, and none of its neighbours is in the other: so
    edges may lie a pixel off, and no line or gap may be missing, however fine. A few such pixels
    are the very tip of a corner; more than 8 within a square of 9 are a difference. The renderer
    smooths nothing: every pixel has a colour that is in the drawing.

    Parameters
    ----------
    picture
        Size of the drawing's picture.
    outline, frame
        What would be engraved, and where that lay in the picture.
    ink_below
        Relative luminance below which a colour is engraved.

    Raises
    ------
    ValueError
        resvg does not render the drawing.
    """
    scale = min(_ACROSS / frame.size, _MOST_ACROSS / max(picture.width, picture.height))
    columns, rows = (max(math.ceil(side * scale), 1) for side in (picture.width, picture.height))
    png = resvg_py.svg_to_bytes(
        svg_string=_framed(root, picture, columns, rows), background="#ffffff", dpi=96,
        skip_system_fonts=True, shape_rendering="crisp_edges",
    )  # fmt: skip
    theirs = np.asarray(Image.open(io.BytesIO(bytes(png))).convert("RGB"))
    ours = _drawn(outline, frame, picture, *theirs.shape[:2])
    ink, inks, bares = _inked(theirs, ink_below)
    return Comparison(inks, bares, _differing(ours, ink), theirs, ours)


def _framed(root: ElementTree.Element, picture: Viewport, columns: int, rows: int) -> str:
    """Return a drawing within one of whole pixels: the renderer rounds the size of a whole one."""
    inner = ElementTree.Element(root.tag, root.attrib)
    inner.extend(root)
    for key, value in (("x", 0), ("y", 0), ("width", picture.width), ("height", picture.height)):
        inner.set(key, f"{value!r}")
    view = f"0 0 {picture.width!r} {picture.height!r}"
    size = {"width": str(columns), "height": str(rows), "viewBox": view}
    outer = ElementTree.Element(f"{SVG}svg", size | {"preserveAspectRatio": "none"})
    outer.append(inner)
    return ElementTree.tostring(outer, encoding="unicode")


def _drawn(
    outline: Outline, frame: Frame, picture: Viewport, rows: int, columns: int
) -> NDArray[np.uint8]:
    across, down = columns / picture.width, rows / picture.height
    placed = outline.turned(
        (frame.size * across, 0.0, 0.0, -frame.size * down),
        frame.left * across, frame.bottom * down,
    )  # fmt: skip
    return coverage(placed, columns, rows)


def _inked(
    picture: NDArray[np.uint8], ink_below: float
) -> tuple[Mask, tuple[str, ...], tuple[str, ...]]:
    """Return which pixels are ink, and the colours that are and are not, by how much they cover."""
    packed = picture.astype(np.uint32) @ np.array([65536, 256, 1], dtype=np.uint32)
    colours, at, counts = np.unique(packed, return_inverse=True, return_counts=True)
    parts = np.stack([colours >> 16, colours >> 8 & 255, colours & 255], axis=1) / 255
    dark = luminance(parts) < ink_below
    order = np.argsort(-counts, kind="stable")
    named = [(f"#{colours[index]:06x}", dark[index]) for index in order]
    inks = tuple(name for name, is_ink in named if is_ink)
    bares = tuple(name for name, is_ink in named if not is_ink and name != "#ffffff")
    return dark[at].reshape(packed.shape), inks, bares


def _differing(ours: NDArray[np.uint8], theirs: Mask) -> Mask:
    touched, full = ours > 0, ours > 127
    missing = theirs & ~_grown(touched) | ~touched & ~_grown(~theirs)
    added = full & ~_grown(theirs) | ~theirs & ~_grown(~full)
    differing = missing | added
    return differing & (_around(differing) > _TIP)


def _around(mask: Mask) -> NDArray[np.int64]:
    """Return how many pixels of a mask lie in the square around each pixel."""
    reach = _SQUARE // 2
    sums = np.pad(mask, ((reach + 1, reach), (reach + 1, reach))).cumsum(axis=0).cumsum(axis=1)
    rows = sums[_SQUARE:] - sums[:-_SQUARE]
    return np.asarray(rows[:, _SQUARE:] - rows[:, :-_SQUARE])


def _grown(mask: Mask) -> Mask:
    """Return a mask with the eight neighbours of each of its pixels; the edge goes on outward."""
    padded = np.pad(mask, 1, mode="edge")
    rows = padded[:-2] | padded[1:-1] | padded[2:]
    return np.asarray(rows[:, :-2] | rows[:, 1:-1] | rows[:, 2:])
