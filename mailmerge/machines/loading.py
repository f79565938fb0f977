"""Loading: how a cup lies on a machine, where the job starts, and the page that follows from it.

The upright page is the wrap: ``x = s``, ``y`` down from the mouth. The machine's page is the
upright page turned as the cup lies, with its origin in its upper left corner; the head starts where
the mark meets the mouth.
Nothing here knows of lettering; the numbers serve the artwork, the checks and the load picture.
"""

from __future__ import annotations

from dataclasses import dataclass

from mailmerge.blanks import Blank, Zone
from mailmerge.machines import words
from mailmerge.machines.model import Datum, Drive, Machine, Mouth, Rotary

START = {
    ("left", "front"): 90.0, ("left", "back"): 270.0,
    ("right", "front"): 270.0, ("right", "back"): 90.0,
    ("away", "left"): 90.0, ("away", "right"): 270.0,
    ("toward", "right"): 90.0, ("toward", "left"): 270.0,
}  # fmt: skip
"""Angle from the mark to the wall's line under the head, by mouth and by where the mark points.

Seen from above, angles on the top of the cup grow away from the operator with the mouth to the
left, toward the operator with it to the right, to the right with it away, to the left with it
toward: they grow to the right for somebody who sees the cup upright.
"""

_AXES = {
    "away": (1.0, 0.0, 0.0, 1.0),
    "left": (0.0, 1.0, -1.0, 0.0),
    "right": (0.0, -1.0, 1.0, 0.0),
    "toward": (-1.0, 0.0, 0.0, -1.0),
}
"""The turn of the page by mouth: X = a x + b y and Y = c x + d y for (a, b, c, d)."""


@dataclass(frozen=True, slots=True)
class Page:
    """A machine's page for one item; lengths in mm."""

    width: float
    """Of the upright page: around the cup."""
    height: float
    """Of the upright page: along the wall."""
    datum: float = 0.0
    """``s`` of the line under the head at the start, from 0 up to ``width``."""
    mouth: Mouth = "away"
    backwards: bool = False

    @property
    def turn(self) -> tuple[float, float, float, float]:
        """The turn from the upright page: X = a (x - datum) + b y and Y = c (x - datum) + d y.

        In mm from the start; mirrored only if the rotary runs backwards.
        """
        a, b, c, d = _AXES[self.mouth]
        return (-a, b, -c, d) if self.backwards else (a, b, c, d)

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the machine's page."""
        return (self.height, self.width) if self.mouth in ("left", "right") else (
            self.width, self.height
        )  # fmt: skip

    @property
    def start(self) -> tuple[float, float]:
        """Where the head starts: mm to the right and down from the machine's page's corner."""
        left, top, _, _ = self._about_start(0.0, 0.0, self.width, self.height)
        return 0.0 - left, 0.0 - top  # and never -0.0

    def box_of(
        self, left: float, low: float, right: float, high: float
    ) -> tuple[float, float, float, float]:
        """Return left, top, width and height on the machine's page of bounds in ``s`` and ``z``.

        All in mm; the result from the page's upper left corner.
        """
        x, y, width, height = self._about_start(left, low, right, high)
        return x + self.start[0], y + self.start[1], width, height

    def _about_start(
        self, left: float, low: float, right: float, high: float
    ) -> tuple[float, float, float, float]:
        a, b, c, d = self.turn
        corners = [
            (a * (x - self.datum) + b * y, c * (x - self.datum) + d * y)
            for x, y in ((left, self.height - high), (right, self.height - low))
        ]
        xs, ys = sorted(corner[0] for corner in corners), sorted(corner[1] for corner in corners)
        return xs[0], ys[0], xs[1] - xs[0], ys[1] - ys[0]


@dataclass(frozen=True, slots=True)
class Loading:
    """How one item is put onto the machine, and what happens then; angles in degrees."""

    page: Page
    drive: Drive | None
    """None for flat goods."""
    datum: Datum | None
    mark: str
    """What the loader turns to where the datum says: handle, bracket, seam or tick."""
    mark_at: float
    """Its angle from the blank's zero."""
    start: float
    """Angle from the blank's zero to the wall's line under the head at the start."""
    tick_at: float | None
    """How far from the handle's middle the tick is drawn, in mm to the right along the mouth."""
    tilt: float
    """Between wall and axis; above 0 where the mouth is wider."""
    under_head: tuple[Zone, ...]
    """What is under the head at the start instead of bare wall."""

    def turn_to(self, s: float) -> float:
        """Return the turn from the start that brings a place on the wrap under the head.

        Above 0 for the way in which angles from the handle grow.
        """
        return (s - self.page.datum) / self.page.width * 360

    def words_for(self, turn: float) -> str:
        """Return in words which way the top of the cup goes on a turn."""
        return words.TURNS[self.page.mouth][0 if turn >= 0 else 1]


def load_on(
    blank: Blank,
    machine: Machine,
    datum: Datum | None = None,
    reach: tuple[float, float] = (0.0, 0.0),
) -> Loading:
    """Return how a blank is loaded on a machine.

    The page runs once around from the handle's middle (or the seam) back to it, so that no turn
    from the start to any place of it brings the handle under the head. Where the job starts at
    the handle itself, both ways leave it behind, and the shorter one is taken. Where something
    else would pass under the head, such as a second handle, that is taken as the mark if it helps.

    Parameters
    ----------
    datum
        The order's own; by default the machine's.
    reach
        The lowest and the highest ``s`` (mm) of what is engraved.
    """
    rotary = machine.rotary
    if blank.is_flat or rotary is None:
        page = Page(blank.page_width, blank.height)
        return Loading(page, None, None, words.CORNER, 0.0, 0.0, None, 0.0, ())
    marks = [
        blank.zones[0],
        *(
            zone
            for zone in blank.zones
            if zone.at and zone.width and zone.reaches(rotary.clearance)
        ),
    ]
    ways = [_by_mark(mark, blank, rotary, datum or rotary.datum, reach) for mark in marks]
    return next((way for way in ways if _is_clear(way, blank, rotary, reach)), ways[0])


def _by_mark(
    mark: Zone, blank: Blank, rotary: Rotary, datum: Datum, reach: tuple[float, float]
) -> Loading:
    """Return how a blank is loaded by a zone that is turned to a side, or by a tick beside it."""
    beside = rotary.tick if datum == "tick" else START.get((rotary.mouth, datum), 0.0)
    start = (mark.at + beside) % 360
    at = blank.page_width * start / 360
    if start == 0 and blank.page_width - reach[0] < reach[1]:
        at = blank.page_width  # the same line on the cup, and the other way is shorter
    page = Page(blank.page_width, blank.height, at, rotary.mouth, rotary.backwards)
    under_head = tuple(zone for zone in blank.zones if zone.width and _is_at(blank, zone, start))
    word, mark_at, tick_at = _word_of(mark, blank), mark.at, None
    if datum == "tick":
        word, mark_at = words.TICK, start
        tick_at = blank.circumference_at(blank.height) * start / 360
    return Loading(
        page, rotary.drive, datum, word, mark_at, start, tick_at, blank.tilt, under_head
    )  # fmt: skip


def _word_of(mark: Zone, blank: Blank) -> str:
    """Return what of a zone is turned to a side, and where it is if another one is called so."""
    alike = [
        zone
        for zone in blank.zones
        if zone.mark.casefold() == mark.mark.casefold() and zone.width and not zone.goes_around
    ]
    return mark.mark if len(alike) < 2 else words.at_angle(mark.mark, mark.at)


def _is_clear(loading: Loading, blank: Blank, rotary: Rotary, reach: tuple[float, float]) -> bool:
    """Whether nothing that the head may touch is under it, at the start or on the way."""
    met = (*loading.under_head, *on_the_way(loading, blank, reach))
    return not any(zone.reaches(rotary.clearance) for zone in met)


def on_the_way(loading: Loading, blank: Blank, reach: tuple[float, float]) -> tuple[Zone, ...]:
    """Return the zones that pass under the head on the way to what is engraved.

    What lies at the blank's zero and is as high as the wall does not: the page begins and ends
    there, and no turn goes beyond. Lettering above or below a lower one may come as near as the
    zero itself, and one beside the zero may reach over it, on to the page's other end.

    Parameters
    ----------
    reach
        The lowest and the highest ``s`` (mm) of what is engraved; equal for nothing.
    """
    if reach[0] >= reach[1]:
        return ()
    width = loading.page.width
    low, high = min(loading.page.datum, reach[0]), max(loading.page.datum, reach[1])
    met = []
    for zone in blank.zones:
        if not zone.width or (zone.at == 0 and zone.is_as_high_as(blank.height)):
            continue
        middle = width * zone.at / 360
        # What is engraved may touch what is kept free for it: by so much it may be met.
        half = zone.edge * width / blank.smallest_circumference - _TOUCH
        places = (middle - width, middle, middle + width)
        if any(place - half < high and place + half > low for place in places):
            met.append(zone)
    return tuple(met)


_TOUCH = 0.001
"""Millimetres."""


def lower_end(tilt: float) -> str | None:
    """Return which end of a tilted cup lies lower, so that its wall is level; None if none does."""
    return None if abs(tilt) < 0.05 else "mouth" if tilt > 0 else "base"


def _is_at(blank: Blank, zone: Zone, angle: float) -> bool:
    """Whether a line of the wall lies where a zone is, at any height."""
    return zone.off(angle) / 360 * blank.smallest_circumference < zone.edge
