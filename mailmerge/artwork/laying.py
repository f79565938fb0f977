"""Laying: ink of the wall onto the machine's page, and back from the page's bytes onto the wall.

A chuck turns by angle: a millimetre of the page comes down on the wall as C(z) / C_set mm, where
C_set is the circumference that the rotary is set to, the page's width. So a piece is compensated
about its meridian: x_page = x_meridian + x C_set / C(z). Rollers move the wall by length, and a
piece is laid as it is. On a straight wall both are the same.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from mailmerge.artwork.pieces import Piece, page_scale
from mailmerge.blanks import Blank, Face, usable_at
from mailmerge.lettering import Outline
from mailmerge.lettering.bend import cut
from mailmerge.machines import Loading, Page

_STRAY = 0.002
"""Millimetres that a step of the page may stray from its place: a fifth of what is allowed."""


def laid(piece: Piece, blank: Blank, loading: Loading) -> Outline:
    """Return a piece on the machine's page, in mm from its upper left corner."""
    outline = piece.outline
    if outline and blank.taper and (loading.drive == "chuck" or piece.around):
        outline = _compensated(piece, blank)
    return _turned(outline, loading.page, piece.centre)


def lifted(outline: Outline, centres: Sequence[float], blank: Blank, loading: Loading) -> Outline:
    """Return ink of the machine's page on the wall: ``x`` the angle, ``y`` down from the mouth.

    The angle is given in mm on the circumference that the page is wide: x = C_set angle / 360.

    Parameters
    ----------
    outline
        As it stands in the artwork file, in mm.
    centres
        ``s`` of the meridians that its pieces were laid about, each contour about the nearest;
        needed where rollers hold a tapered cup, and not for pieces that are measured as an angle.
    """
    page = loading.page
    a, b, c, d = page.turn
    x, y = (outline.points - page.start).T
    # The matrix is a turn, perhaps mirrored: its inverse is its transpose.
    upright = np.column_stack([a * x + c * y + page.datum, b * x + d * y])
    on_page = Outline(outline.verbs, upright)
    if blank.taper and loading.drive == "roller" and centres:
        fine = cut(on_page, _counts(on_page, blank, _STRAY))
        contours = np.split(fine.points[:, 0], fine.starts[1:])
        middles = np.concatenate([np.full_like(x, _nearest(centres, x)) for x in contours])
        off = (fine.points[:, 0] - middles) * page_scale(fine.points[:, 1], blank)
        return Outline(fine.verbs, np.column_stack([middles + off, fine.points[:, 1]]))
    return on_page


def _nearest(centres: Sequence[float], x: NDArray[np.float64]) -> float:
    middle = float(x.min() + x.max()) / 2
    return min(centres, key=lambda centre: abs(centre - middle))


def _compensated(piece: Piece, blank: Blank) -> Outline:
    outline = piece.outline
    if piece.around is not None:
        return Outline(outline.verbs, outline.points * (piece.stretch, 1.0))
    fine = cut(outline, _counts(outline, blank, _STRAY))
    x, y = fine.points[:, 0], fine.points[:, 1]
    return Outline(fine.verbs, np.column_stack([x * page_scale(y, blank), y]))


def _counts(outline: Outline, blank: Blank, stray: float) -> list[int]:
    """Return into how many parts each step is cut, so that none strays from its place.

    The way from wall to page is x C_set / C(z), which is not straight in z. A straight step of
    extents dx and dz strays by no more than an eighth of its second differences, which are
    2 dx dz f' and x dz^2 f'' with f = C_set / C; both are taken twice, for a curve's control
    points stray further. Parts of a step stray by the square of how many they are.
    """
    around = blank.smallest_circumference
    slope = abs(blank.slope)
    first = blank.page_width * slope / around**2
    second = 2 * blank.page_width * slope**2 / around**3
    indices, starts = outline.step_indices
    points = outline.points[indices]
    low, high = (reach.reduceat(points, starts, axis=0) for reach in (np.minimum, np.maximum))
    dx, dz = (high - low).T
    furthest = np.maximum(np.abs(low[:, 0]), np.abs(high[:, 0]))
    bend = (2 * dx * dz * first + furthest * dz**2 * second) / 4
    counts: list[int] = np.maximum(1, np.ceil(np.sqrt(bend / stray))).astype(int).tolist()
    return counts


def _turned(outline: Outline, page: Page, centre: float) -> Outline:
    """Return an outline of the upright page, ``x`` from ``centre``, on the machine's page."""
    a, b, c, d = page.turn
    shift, (x, y) = centre - page.datum, page.start
    return outline.turned((a, b, c, d), a * shift + x, c * shift + y)


def frame_of(blank: Blank, face: Face, width: float) -> Outline:
    """Return the frame of a face as one line inside another, ``width`` mm apart.

    ``x`` from the face's middle, ``y`` down from the mouth; as high as the band, and at every
    height as wide as the face may be there.
    """
    low, high = blank.band.from_, blank.band.to

    def edge(inset: float) -> list[tuple[float, float]]:
        heights = np.linspace(low + inset, high - inset, 2 if blank.is_even else 24).tolist()
        right = [(usable_at(blank, face, z) / 2 - inset, blank.height - z) for z in heights]
        return right + [(-x, y) for x, y in reversed(right)]

    outer, inner = edge(0.0), edge(width)[::-1]
    verbs = "M" + "L" * (len(outer) - 1) + "Z"
    return Outline(verbs * 2, np.array(outer + inner, dtype=np.float64))


def start_mark(page: Page, width: float) -> Outline:
    """Return a small cross where the head starts, of lines ``width`` mm wide."""
    half, reach = width / 2, 3.0
    across = [(-reach, -half), (reach, -half), (reach, half), (-reach, half)]
    down = [(y, x) for x, y in across][::-1]
    # The mouth is at the page's edge, so that of the cross there is what lies on the page.
    corners = np.clip(np.array(across + down) + page.start, 0.0, page.size)
    return Outline("MLLLZMLLLZ", corners)
