"""A blank's silhouette, to scale: to choose it by, not to engrave by.

One unit of the drawing is one millimetre, so that blanks beside each other compare.
"""

from __future__ import annotations

from dataclasses import dataclass

from mailmerge.blanks import Blank, Coat

_HANDLE_REACH = 34.0
"""How far a handle stands out in the drawing where its file does not say, in mm. Own judgement."""
_EDGE = 1.2
"""Width of the outline, in mm."""


@dataclass(frozen=True, slots=True)
class Silhouette:
    """A drawing, with the room that it takes in mm."""

    svg: bytes
    width: float
    height: float


def silhouette(blank: Blank, coat: Coat) -> Silhouette:
    """Draw a blank from the side, its handle to the right, and the band that may be engraved."""
    tall = blank.upright_height
    if blank.is_flat:
        at_mouth = at_base = blank.page_width / 2
    else:
        at_mouth, at_base = blank.radius_at(blank.height), blank.radius_at(0.0)
    half = max(at_mouth, at_base)
    handles = blank.handles
    right = _reach(blank) if handles else 0.0
    left = right if len(handles) > 1 else 0.0
    width, height = 2 * half + left + right + 2 * _EDGE, tall + 2 * _EDGE
    middle = left + half + _EDGE

    def across(part: float) -> float:
        return at_base + (at_mouth - at_base) * part

    def frame(low: float, high: float) -> str:
        """Return the wall between two shares of the height, as points."""
        top, bottom = _EDGE + tall * (1 - high), _EDGE + tall * (1 - low)
        corners = (
            (middle - across(high), top), (middle + across(high), top),
            (middle + across(low), bottom), (middle - across(low), bottom),
        )  # fmt: skip
        return " ".join(f"{x:.1f},{y:.1f}" for x, y in corners)

    low, high = blank.band.from_ / blank.height, blank.band.to / blank.height
    sides = [1.0, -1.0][: len(handles)]
    drawn = "".join(_handle(middle, across(0.55), side, right, tall, coat.colour) for side in sides)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.1f} {height:.1f}">{drawn}'
        f'<polygon points="{frame(0, 1)}" fill="{coat.colour}" stroke="#8a8d92" '
        f'stroke-width="{_EDGE}" stroke-linejoin="round"/>'
        f'<polygon points="{frame(low, high)}" fill="{coat.reveal}" fill-opacity="0.18" '
        f'stroke="{coat.reveal}" stroke-width="0.8" stroke-dasharray="4 3"/></svg>'
    )
    return Silhouette(svg.encode(), width, height)


def _reach(blank: Blank) -> float:
    known = [zone.stands_out for zone in blank.handles if zone.stands_out]
    return max(known, default=_HANDLE_REACH) if not blank.handle.comes_off else _HANDLE_REACH


def _handle(middle: float, wall: float, side: float, reach: float, tall: float, coat: str) -> str:
    """Return a handle at one side of the wall, as a path."""
    x, out = middle + side * (wall - 4), middle + side * (wall + reach - 5)
    top, bottom = _EDGE + tall * 0.2, _EDGE + tall * 0.75
    path = f"M{x:.1f},{top:.1f} C{out:.1f},{top:.1f} {out:.1f},{top:.1f} {out:.1f},{top + 14:.1f} "
    path += f"L{out:.1f},{bottom - 14:.1f} C{out:.1f},{bottom:.1f} {out:.1f},{bottom:.1f} "
    path += f"{x:.1f},{bottom:.1f}"
    return "".join(
        f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{wide}"/>'
        for colour, wide in (("#8a8d92", 9.2), (coat, 7))
    )
