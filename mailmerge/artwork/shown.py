"""What a renderer of SVG shows of a drawing, held against what would be engraved.

The only module that knows resvg. It shares nothing with ``painting`` but the checked file: neither
reads a drawing well enough to be trusted alone, and what both agree about is engraved.
"""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from typing import NamedTuple
from xml.etree import ElementTree

import numpy as np
import resvg_py
from numpy.typing import NDArray
from PIL import Image

from mailmerge.artwork.colours import luminance
from mailmerge.artwork.painting import SVG, Viewport
from mailmerge.lettering import Frame, Outline, coverage

Mask = NDArray[np.bool_]

_ACROSS = 512
"""Pixels across a picture: where a drawing is 40 mm across, one is as wide as a typical beam."""

_SMALL = 1 / 3
"""Ink that is a smaller part of the whole picture is looked at from nearby, too."""

_SQUARE = 9
_TIP = 8
"""Pixels that may differ within a square of so many."""


class View(NamedTuple):
    """A part of a drawing's picture; px."""

    left: float
    top: float
    width: float
    height: float


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
    whole = View(0.0, 0.0, picture.width, picture.height)
    comparison = _from(whole, root, picture, outline, frame, ink_below)
    if comparison.agrees and frame.size < _SMALL * max(picture.width, picture.height):
        return _from(_near(outline, frame), root, picture, outline, frame, ink_below)
    return comparison


def _near(outline: Outline, frame: Frame) -> View:
    """Return where the ink is, and a little around it."""
    box, size = outline.box, frame.size
    edge = size / 20
    return View(
        frame.left + box.left * size - edge, frame.bottom - box.high * size - edge,
        box.width * size + 2 * edge, box.height * size + 2 * edge,
    )  # fmt: skip


def _from(
    view: View, root: ElementTree.Element, picture: Viewport, outline: Outline, frame: Frame,
    ink_below: float,
) -> Comparison:  # fmt: skip
    """Return both as far as they lie within a view."""
    scale = _ACROSS / max(view.width, view.height)
    columns, rows = (max(math.ceil(side * scale), 1) for side in (view.width, view.height))
    png = resvg_py.svg_to_bytes(
        svg_string=_framed(root, picture, view, columns, rows), background="#ffffff", dpi=96,
        skip_system_fonts=True, shape_rendering="crisp_edges",
    )  # fmt: skip
    theirs = np.asarray(Image.open(io.BytesIO(bytes(png))).convert("RGB"))
    ours = _drawn(outline, frame, view, rows, columns)
    ink, inks, bares = _inked(theirs, ink_below)
    return Comparison(inks, bares, _differing(ours, ink), theirs, ours)


def _framed(
    root: ElementTree.Element, picture: Viewport, view: View, columns: int, rows: int
) -> str:
    """Return what a view shows of a drawing as a drawing of whole pixels.

    The renderer rounds the size of a whole drawing; a drawing within one keeps to its place.
    """
    inner = ElementTree.Element(root.tag, root.attrib)
    inner.extend(root)
    for key, value in (("x", 0), ("y", 0), ("width", picture.width), ("height", picture.height)):
        inner.set(key, f"{value!r}")
    view_box = " ".join(map(repr, view))
    size = {"width": str(columns), "height": str(rows), "viewBox": view_box}
    outer = ElementTree.Element(f"{SVG}svg", size | {"preserveAspectRatio": "none"})
    outer.append(inner)
    return ElementTree.tostring(outer, encoding="unicode")


def _drawn(
    outline: Outline, frame: Frame, view: View, rows: int, columns: int
) -> NDArray[np.uint8]:
    across, down = columns / view.width, rows / view.height
    placed = outline.turned(
        (frame.size * across, 0.0, 0.0, -frame.size * down),
        (frame.left - view.left) * across, (frame.bottom - view.top) * down,
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
