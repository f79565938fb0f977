"""Coverage of outlines by exact area, through FreeType's grey rasteriser.

The only module that knows FreeType. Proofs draw with it, and the weld's area check uses it as a
second opinion that shares nothing with the library that welds.
"""

from __future__ import annotations

import ctypes
from functools import cache

import freetype.raw as ft
import numpy as np
from numpy.typing import NDArray

from mailmerge.lettering.outline import Outline

Coverage = NDArray[np.uint8]

_MAX_POINTS = 32_000
"""FreeType counts the points of an outline in 16 bits."""

_FARTHEST = 120_000.0
"""Pixels; FreeType refuses outlines that reach farther than 2^18."""

_OVERFLOW = 0x62
"""FreeType's answer to more detail than its small pool holds; narrower strips need less of it."""

_TAGS = {"M": b"\1", "L": b"\1", "Q": b"\0\1", "C": b"\2\2\1", "Z": b""}


@cache
def _library() -> ctypes.c_void_p:
    library: ctypes.c_void_p = ft.FT_Library()
    ft.FT_Init_FreeType(ctypes.byref(library))
    return library


def coverage(outline: Outline, width: int, height: int) -> Coverage:
    """Return how much of every pixel the outline's non-zero interior covers, 0 to 255.

    Parameters
    ----------
    outline
        In pixels, ``y`` down, the origin at the picture's upper left corner.
    width, height
        Size of the picture in pixels; ink outside it is left out.

    Returns
    -------
    Coverage
        Shape (height, width).
    """
    picture = np.zeros((height, width), dtype=np.uint8)
    outline = _near(outline, width, height)
    if not outline:
        return picture
    # FreeType counts in 1/64 pixel with y up.
    points = np.empty((len(outline.points), 2), dtype=np.dtype(ctypes.c_long))
    # What a damaged font puts beyond FreeType's range is pulled to its edge.
    within = outline.points.clip(-_FARTHEST, _FARTHEST)
    np.rint(within[:, 0] * 64, out=points[:, 0], casting="unsafe")
    np.rint((height - within[:, 1]) * 64, out=points[:, 1], casting="unsafe")
    tags = b"".join([_TAGS[verb] for verb in outline.verbs])
    ends = np.array([*outline.starts[1:], len(points)], dtype=np.int16) - np.int16(1)

    shape = ft.FT_Outline()
    shape.n_contours = len(ends)
    shape.n_points = len(points)
    shape.points = ctypes.cast(points.ctypes.data, type(shape.points))
    tag_buffer = ctypes.create_string_buffer(tags, len(tags))
    shape.tags = ctypes.cast(tag_buffer, type(shape.tags))
    shape.contours = ctypes.cast(ends.ctypes.data, type(shape.contours))

    bitmap = ft.FT_Bitmap()
    bitmap.num_grays, bitmap.pixel_mode = 256, 2  # FT_PIXEL_MODE_GRAY
    bitmap.rows, bitmap.pitch = height, width
    strips = [(0, width)]
    drawn_to = 0  # where the outline's x = 0 of this moment lies
    while strips:
        left, right = strips.pop()
        points[:, 0] -= (left - drawn_to) * 64
        drawn_to = left
        bitmap.width = right - left
        bitmap.buffer = ctypes.cast(picture.ctypes.data + left, type(bitmap.buffer))
        error = ft.FT_Outline_Get_Bitmap(_library(), ctypes.byref(shape), ctypes.byref(bitmap))
        if error == _OVERFLOW and right - left > 1:
            middle = (left + right) // 2
            strips += [(middle, right), (left, middle)]
        elif error:
            raise RuntimeError(f"FreeType could not draw an outline (error {error})")
    return picture


def _near(outline: Outline, width: int, height: int) -> Outline:
    """Return the contours that reach into the picture; the others cannot cover any of it."""
    if not outline:
        return outline
    low, high = outline.points.min(axis=0), outline.points.max(axis=0)
    if (low >= 0).all() and (high <= (width, height)).all() and len(outline.points) <= _MAX_POINTS:
        return outline
    starts = [*outline.starts, len(outline.points)]
    verbs = [f"M{contour}" for contour in outline.verbs.split("M")[1:]]
    kept_verbs: list[str] = []
    kept: list[NDArray[np.float64]] = []
    count = 0
    for contour, start, end in zip(verbs, starts, starts[1:], strict=False):
        points = outline.points[start:end]
        inside = (points.max(axis=0) >= 0).all() and (points.min(axis=0) <= (width, height)).all()
        if inside and count + len(points) <= _MAX_POINTS:
            count += len(points)
            kept_verbs.append(contour)
            kept.append(points)
    return Outline("".join(kept_verbs), np.concatenate(kept)) if kept else Outline("", low[:0])
