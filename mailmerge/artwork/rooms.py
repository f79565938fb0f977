"""Rooms: which lines a guest has, on which face each one stands, and how much room it has there.

On a straight wall a face is equally wide at all heights. On a tapered one, or beside a zone that is
not as high as the wall, its width depends on where the lines stand, and where they stand on how
large they are: rooms are found by going back
and forth a few times, and depend on the guest's own lines alone, never on the rest of the order.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from itertools import chain
from pathlib import Path
from typing import Any, Literal, NamedTuple

import numpy as np

from mailmerge.artwork.drawings import around, fitted, room_in
from mailmerge.artwork.layout import Layout, LetterHeight, Line, Ornament
from mailmerge.artwork.own import Own, on_one_row, own_of
from mailmerge.artwork.setting import (
    LEADING,
    Arrangement,
    Fit,
    Room,
    best,
    choose,
    fits,
    fits_on,
)
from mailmerge.artwork.stacking import (
    Extent,
    extent_of_drawing,
    extent_of_line,
    extent_with_frame,
    stack,
)
from mailmerge.blanks import (
    Band,
    Blank,
    Edge,
    Face,
    FreeArc,
    angle_of,
    closes,
    edges_of,
    face_of,
    free_arcs,
)
from mailmerge.guests import Guest, Hand
from mailmerge.lettering import Box, Style, shaped
from mailmerge.lettering.flat import convex, polygons

_ROUNDS = 3
"""How often rooms and places are worked out afresh on a tapered wall.

A wall that widens by t mm for each mm of height makes the face wider by t / 3, and the letters
of a line six times as wide as high taller by t / 18: each round leaves a twentieth or less of
what the one before it was off. Where a text goes over to fewer or more rows there is a jump, and
rounds need not settle: after these, heights only grow, until what is set stays within them.
"""

_MOST_ROUNDS = 12

_CLOSE = 0.001
"""Millimetres by which what is set may leave the heights that its room was worked out for."""

_DESCENDER, _ACCENT = 0.4, 0.4
"""How far descenders and accents reach beyond capitals, in letter heights. Common practice."""

_APART = 2.0
"""Millimetres between a stack and what has its own height. Own judgement."""

Heights = tuple[float, float]
"""From and to, in mm above the base."""


@dataclass(frozen=True, eq=False)
class Member:
    """A line of the layout that a guest has a text for, with its face and its room."""

    number: int
    """Of the line in the layout, from 1."""
    line: Line
    text: str
    style: Style
    room: Room
    face: Face
    own: Own
    """What is the cup's own."""

    @property
    def has_own_rows(self) -> bool:
        """Whether its rows are the cup's own, and still those of its text."""
        return bool(self.own.rows) and on_one_row(self.own.rows) == self.text

    def fits(self) -> list[Fit]:
        """Return the ways to set it, see :func:`mailmerge.artwork.setting.fits`."""
        if self.has_own_rows:
            return fits_on(self.line, self.own.rows, self.style, self.room)
        return fits(self.line, self.text, self.style, self.room)

    @property
    def largest(self) -> float | None:
        """The largest letter height at which its text fits, in mm, however any cup sets its own.

        None where no font sets all of it. Guests who have the same text there have it worked out
        once: roles are few.
        """
        return _largest(_One(self.line), self.text, self.style, _One(self.room))

    def by_itself(self, found: list[Fit]) -> Fit:
        """Return the way that it takes where no set says how large it is."""
        largest = best(self.line, found)
        own = self.own.letter_height
        return largest if own is None or largest.height < own else choose(found, own)

    def allowing(self, height: float) -> Member:
        """Return the member with a range of letter heights that holds one of cups that exist."""
        least, most = self.line.letter_height.min, self.line.letter_height.max
        wider = LetterHeight.model_construct(max=max(most, height), min=min(least, height))
        return replace(self, line=self.line.model_copy(update={"letter_height": wider}))


@dataclass(frozen=True, eq=False)
class Stand:
    """Lines that stand together: the stack of a face, or one line that has its own height."""

    angle: float
    """Of their face, in degrees from the handle."""
    members: tuple[Member, ...]

    band: Band
    """What is free of the band for it, beside things that have heights of their own."""

    @property
    def is_alone(self) -> bool:
        """Whether its one line has a height of its own."""
        return _height_of(self.members[0].line) is not None


def side_of(guest: Guest, layout: Layout) -> str:
    """Return the guest's own side where it is one (a check reports it where not)."""
    side = guest.fields.get("side", "")
    if not side:
        return layout.face
    try:
        angle_of(side, guest.hand)
    except ValueError:
        return layout.face
    return side


def stands_of(
    layout: Layout,
    blank: Blank,
    guest: Guest,
    order_words: dict[str, str],
    beside: Path,
    own: tuple[Own, ...] = (),
) -> list[Stand]:
    """Return a guest's lines by where they stand, with their rooms.

    The band's height less gaps and ornaments is shared out among the lines of a stack, in
    proportion to the largest letter height of each. Parameters as for ``compose``.
    """
    words = {**guest.fields, **order_words}
    side = side_of(guest, layout)
    together: dict[tuple[float, int], list[tuple[int, Line, str]]] = {}
    for number, line in enumerate(layout.line, start=1):
        text = line.filled(words)
        if font := own_of(number, own).font:
            line = line.in_font(font, beside)
        if text is not None:
            angle = 180.0 if line.ring else angle_of(line.face or side, guest.hand)
            alone = number if line.ring or line.height else 0
            together.setdefault((angle, alone), []).append((number, line, text))
    stands = []
    rooms: Sequence[tuple[Room, Face]]
    for (angle, alone), lines in together.items():
        styles = [line.style(beside, line.language_for(words)) for _, line, _ in lines]
        numbers = tuple(number for number, _, _ in chain.from_iterable(together.values()))
        if blank.is_even:
            here = tuple(number for number, _, _ in lines)
            about = angle, bool(alone), here, numbers, side, guest.hand
            band, rooms = _even_rooms(_One(layout), _One(blank), *about, beside)
            stands.append(Stand(angle, _members(lines, styles, rooms, own), band))
            continue
        band = blank.band if alone else _free_band(layout, blank, angle, side, numbers, guest.hand)
        heights = (blank.band.from_, blank.band.to)
        middles: list[Heights] = []
        for number_of_round in range(_MOST_ROUNDS):
            rooms = _rooms(
                layout, blank, angle, [n for n, _, _ in lines], heights, band, middles, beside
            )
            stand = Stand(angle, _members(lines, styles, rooms, own), band)
            taken, their_middles = _heights(layout, blank, stand, beside)
            if not alone:
                # What does not fit beside a zone on its face is stopped; it takes no room.
                lowest, highest = _beside_zones(blank, angle)
                taken = max(taken[0], lowest), min(taken[1], highest)
            if number_of_round >= _ROUNDS:
                reached = [(taken, heights), *zip(their_middles, middles, strict=True)]
                if all(a[0] > b[0] - _CLOSE and a[1] < b[1] + _CLOSE for a, b in reached):
                    break
                taken, *their_middles = [(min(a[0], b[0]), max(a[1], b[1])) for a, b in reached]
            heights, middles = taken, their_middles
        stands.append(stand)
    return stands


def _members(
    lines: list[tuple[int, Line, str]],
    styles: list[Style],
    rooms: Sequence[tuple[Room, Face]],
    own: tuple[Own, ...],
) -> tuple[Member, ...]:
    return tuple(
        Member(number, line, text, style, room, face, own_of(number, own))
        for (number, line, text), style, (room, face) in zip(lines, styles, rooms, strict=True)
    )


class _One:
    """A layout, its line, a room or a blank that equals only itself: to compare all is slow."""

    __slots__ = ("value",)

    def __init__(self, value: Any) -> None:
        self.value = value

    def __hash__(self) -> int:
        return id(self.value)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _One) and other.value is self.value


@lru_cache(maxsize=256)
def _even_rooms(
    layout: _One, blank: _One, angle: float, is_alone: bool, here: tuple[int, ...],
    numbers: tuple[int, ...], side: str, hand: Hand, beside: Path,
) -> tuple[Band, tuple[tuple[Room, Face], ...]]:  # fmt: skip
    """Return the band and the rooms on a wall that is alike at all heights.

    They are the same for all guests who have the same lines on the same face.

    Parameters
    ----------
    here, numbers
        Lines that stand together, and all that the guest has a text for.
    """
    of, on = layout.value, blank.value
    band = on.band if is_alone else _free_band(of, on, angle, side, numbers, hand)
    heights = on.band.from_, on.band.to
    return band, tuple(_rooms(of, on, angle, here, heights, band, [], beside))


@lru_cache(maxsize=1024)
def _largest(line: _One, text: str, style: Style, room: _One) -> float | None:
    set_ = shaped(style, text)
    if set_.missing or set_.misplaced:
        return None
    return best(line.value, fits(line.value, text, style, room.value)).height


def _height_of(line: Line) -> float | Literal["low", "high"] | None:
    return line.ring.height if line.ring else line.height


def own_baseline(
    line: Line, band: Band, arrangement: Arrangement, letter_height: float, ink: Box
) -> float:
    """Return the height above the base of the first baseline of a line with its own height; mm.

    Low and high in the band there is room for descenders or accents, so that names with and
    without them stand alike; where the ink needs more, it is moved into the band.

    Parameters
    ----------
    ink
        In mm, ``y`` up from the first baseline.
    """
    height = _height_of(line)
    most = line.letter_height.max
    match height:
        case "low":
            baseline = band.from_ + _DESCENDER * most - arrangement.last_baseline * letter_height
        case "high":
            baseline = band.to - _ACCENT * most - letter_height
        case _:
            assert height is not None
            return height - arrangement.middle * letter_height
    return min(max(baseline, band.from_ - ink.low), max(band.to - ink.high, band.from_ - ink.low))


def in_band(height: float | str, size: float, blank: Blank) -> float:
    """Return the height in mm above the base of the middle of something so high."""
    match height:
        case "low":
            return blank.band.from_ + size / 2
        case "high":
            return blank.band.to - size / 2
    return float(height)


def _free_band(
    layout: Layout, blank: Blank, angle: float, side: str, numbers: Iterable[int], hand: Hand
) -> Band:
    """Return what is free of the band on a face, beside what has its own height or lies there."""
    taken = [(in_band(b.height, b.size, blank), b.size) for b in layout.border]
    for line in (layout.line[number - 1] for number in numbers):
        height = _height_of(line)
        if height is not None and (line.ring or angle_of(line.face or side, hand) == angle):
            size = line.letter_height.max * (_DESCENDER + 1 + _ACCENT + LEADING * (line.lines - 1))
            taken.append((in_band(height, size, blank), size))
    reaches = [(z - size / 2 - _APART, z + size / 2 + _APART) for z, size in taken]
    lowest, highest = _between(reaches, blank)
    beside = _beside_zones(blank, angle)
    low = max(blank.band.from_, lowest, beside[0])
    high = min(blank.band.to, highest, beside[1])
    return Band.model_construct(from_=low, to=max(low, high))


def _beside_zones(blank: Blank, angle: float) -> Heights:
    """Return the heights between the zones that take a face's very middle, without limit if none.

    But for those as high as the band. Beside any other zone a face is narrower; above or below
    these alone it is a face at all.
    """
    low, high = blank.band.from_, blank.band.to
    reaches = [
        (max(low, zone.low), min(high, zone.high))
        for zone in blank.zones
        if zone.is_within(low, high)
        and (low < zone.low or zone.high < high)
        and zone.off(angle) / 360 * blank.smallest_circumference < zone.edge
    ]
    return _between(reaches, blank)


def _between(reaches: Iterable[Heights], blank: Blank) -> Heights:
    """Return the heights between what lies low and what lies high in the band."""
    low, high = -math.inf, math.inf
    for below, above in reaches:
        if (below + above) / 2 < blank.band.middle:
            low = max(low, above)
        else:
            high = min(high, below)
    return low, high


def face_at(layout: Layout, blank: Blank, angle: float, line: Line, heights: Heights) -> Face:
    """Return the face that a line has between two heights; for a ring what is free around."""
    if not line.ring or blank.is_flat:  # a check says that nothing goes around flat goods
        return face_of(blank, angle, layout.visible_angle, heights)
    if closes(blank, *heights):
        # Its two ends keep clear of the seam, and so of each other, unless it meets itself there.
        ends = 0.0 if line.ring.repeat else 2 * blank.zones[0].edge
        around = min(blank.circumference_at(z) for z in heights)
        return Face(180.0, blank.page_width / 2, max(0.0, around - ends))
    beside_seam = line.ring.apart / 2 if line.ring.repeat else blank.zones[0].edge
    arcs = free_arcs(blank, *heights, beside_seam)
    arc = max(arcs, key=lambda arc: arc.length, default=FreeArc(180.0, 0.0))
    return Face(arc.middle, blank.page_width * (arc.middle / 360), arc.length)


def _rooms(
    layout: Layout,
    blank: Blank,
    angle: float,
    numbers: Sequence[int],
    heights: Heights,
    band: Band,
    middles: list[Heights],
    beside: Path,
) -> list[tuple[Room, Face]]:
    """Return the room and the face of each line that stands with the others."""
    lines = [layout.line[number - 1] for number in numbers]
    standing = [ornament for ornament in layout.ornament if ornament.line in numbers]
    room = band.height - sum(line.gap for line in lines[1:])
    room -= sum(o.height + o.gap for o in standing if o.place in ("above", "below"))
    frames = {o.line: o for o in standing if o.place == "around"}
    room -= sum(frame.height for frame in frames.values())
    most = sum(layout.line[n - 1].letter_height.max for n in numbers if n not in frames)
    found = []
    for at, (number, line) in enumerate(zip(numbers, lines, strict=True)):
        face = face_at(layout, blank, angle, line, heights)
        z = _height_of(line)
        height = room * line.letter_height.max / (most or 1.0)
        if isinstance(z, float):
            height = 2 * min(z - blank.band.from_, blank.band.to - z)
        width = face.usable_width - sum(
            2 * (o.width + o.gap) for o in standing if o.place == "beside" and o.line == number
        )
        if frame := frames.get(number):
            least = min(1.0, face.usable_width / frame.width)
            width, height = (side * least for side in room_in(frame, beside))
        if line.ring and line.ring.repeat and closes(blank, *heights):
            width -= line.ring.apart  # from its end around to its start
        about_middle = isinstance(z, float)
        edges: tuple[Edge, ...] = ()
        if middles and not line.ring and not frame:
            edges = tuple(
                Edge(min(map(edge.at, middles[at])), edge.growth)
                for edge in edges_of(blank, angle, layout.visible_angle)
            )
        by_ink = layout.stacking == "ink" and not about_middle
        corners = tuple(
            corner
            for o in standing
            if edges and o.place == "beside" and o.line == number
            for corner in _corners_beside(o, beside)
        )
        room_of = Room(max(0.0, width), max(0.0, height), about_middle, edges, corners, by_ink)
        found.append((room_of, face))
    return found


@lru_cache(maxsize=64)
def _corners_beside(ornament: Ornament, beside: Path) -> tuple[tuple[float, float], ...]:
    """Return the corners of a drawing beside a line: out from the ink's end, up from its middle."""
    drawing = fitted(ornament, beside)
    hull = convex(np.concatenate(polygons(drawing, 0.01)))
    out = ornament.gap + drawing.box.width / 2 - hull[:, 0]
    return tuple(zip(out.tolist(), hull[:, 1].tolist(), strict=True))


def _heights(
    layout: Layout, blank: Blank, stand: Stand, beside: Path
) -> tuple[Heights, list[Heights]]:
    """Return from where to where the lines may reach, and where the middle of each may lie.

    Each is as large as it may be. Where others turn out smaller, the middle of a line comes closer
    to the band's.

    A line that belongs to a set may come to stand on fewer rows than it would by itself, so all
    its ways are looked at, together with as many rows of the others as they have.
    """
    ways = [_ways(member) for member in stand.members]
    reached = [
        _reach(layout, blank, stand, [found[min(at, len(found) - 1)] for found in ways], beside)
        for at in range(max(len(found) for found in ways))
    ]
    heights = min(reach.low for reach in reached), max(reach.high for reach in reached)
    # How large the others of its set allow a line to be is not known yet, only how small.
    smallest = [
        Fit(found[0].arrangement, member.line.letter_height.min)
        if member.line.sizing != "each"
        else found[0]
        for member, found in zip(stand.members, ways, strict=True)
    ]
    if len(stand.members) > 1:
        reached.append(_reach(layout, blank, stand, smallest, beside))
    middles = zip(*(reach.middles for reach in reached), strict=True)
    return heights, [(min(own), max(own)) for own in middles]


class _Reach(NamedTuple):
    """From where to where lines reach, and the middle of each; in mm above the base."""

    low: float
    high: float
    middles: list[float]


def _ways(member: Member) -> list[Fit]:
    """Return the ways that a line may be set in the end, each as large as it fits."""
    found = member.fits()
    least, most = member.line.letter_height.min, member.line.letter_height.max
    ways = [Fit(fit.arrangement, max(fit.height, least)) for fit in found]
    if member.line.sizing == "each" or member.own.letter_height:
        chosen = member.by_itself(found)
        return [way for way in ways if way.arrangement is chosen.arrangement]
    # No set is larger than the layout allows: fewer rows that reach that are always taken.
    enough = next((at for at, way in enumerate(ways) if way.height >= most), len(ways))
    return ways[: enough + 1]


def _reach(layout: Layout, blank: Blank, stand: Stand, fits: list[Fit], beside: Path) -> _Reach:
    """Return where the lines of a stand reach, set in one way each."""
    inks = [_ink(member.line, fit) for member, fit in zip(stand.members, fits, strict=True)]
    if stand.is_alone:
        (member,), (fit,), (ink,) = stand.members, fits, inks
        baseline = own_baseline(member.line, blank.band, fit.arrangement, fit.height, ink)
        middle = baseline + fit.arrangement.middle * fit.height
        return _Reach(baseline + ink.low, baseline + ink.high, [middle])
    by_baseline = layout.stacking == "baseline"
    elements = [
        (extent, None if ornament else fit)
        for at, (member, fit, ink) in enumerate(zip(stand.members, fits, inks, strict=True))
        for extent, ornament in with_ornaments(
            layout,
            member.number,
            partial(extent_of_line, member.line, fit.arrangement, fit.height, ink, by_baseline),
            at == 0,
            beside,
        )
    ]
    extents = [extent for extent, _ in elements]
    baselines = stack(extents, min(fit.height for fit in fits), stand.band)
    middles = [
        z + (fit.arrangement.middle * fit.height if by_baseline else _middle(extent.ink))
        for (extent, fit), z in zip(elements, baselines, strict=True)
        if fit
    ]
    return _Reach(
        min(z + extent.ink.low for extent, z in zip(extents, baselines, strict=True)),
        max(z + extent.ink.high for extent, z in zip(extents, baselines, strict=True)),
        middles,
    )


def _middle(box: Box) -> float:
    return (box.low + box.high) / 2


def _ink(line: Line, fit: Fit) -> Box:
    """Return the bounds of a line's ink in mm without welding it, but for one on an arc."""
    rim = line.strengthen
    if line.arc:
        box = fit.arrangement.drawn(fit.height, line, fits=False)[0].box
    else:
        box = Box(*(edge * fit.height for edge in fit.arrangement.box))
    return Box(box.left - rim, box.low - rim, box.right + rim, box.high + rim)


def with_ornaments(
    layout: Layout, number: int, of_line: Callable[[float], Extent], is_first: bool, beside: Path
) -> Iterator[tuple[Extent, Ornament | None]]:
    """Yield the extents of a line and of the ornaments above and below it, from top to bottom.

    Parameters
    ----------
    number
        Of the line in the layout.
    of_line
        Gives its own extent for the room above it (mm).
    is_first
        Whether it is the first of its stack, with nothing above it.
    """
    own = [o for o in layout.ornament if o.line == number and o.place != "beside"]
    gap = 0.0 if is_first else layout.line[number - 1].gap
    for ornament in own:
        if ornament.place == "above":
            yield extent_of_drawing(fitted(ornament, beside).box, gap), ornament
            gap = ornament.gap
    extent = line = of_line(gap)
    for ornament in own:
        if ornament.place == "around":
            frame = around(ornament, line.ink.width, line.ink.height, beside)
            extent = extent_with_frame(line, frame.box)
    yield extent, None
    for ornament in own:
        if ornament.place == "below":
            yield extent_of_drawing(fitted(ornament, beside).box, ornament.gap), ornament
