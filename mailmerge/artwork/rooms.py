"""Rooms: which lines a guest has, on which face each one stands, and how much room it has there.

On a straight wall a face is equally wide at all heights. On a tapered one its width depends on
where the lines stand, and where they stand on how large they are: rooms are found by going back
and forth a few times, and depend on the guest's own lines alone, never on the rest of the order.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from mailmerge.artwork.drawings import fitted
from mailmerge.artwork.layout import Layout, LetterHeight, Line, Ornament
from mailmerge.artwork.setting import Fit, Room, choose, fits
from mailmerge.artwork.stacking import Extent, extent_of_drawing, extent_of_line, stack
from mailmerge.blanks import Blank, Face, angle_of, face_of
from mailmerge.guests import Guest
from mailmerge.lettering import Box, Style

_ROUNDS = 4
"""How often rooms and places are worked out on a tapered wall.

A wall that widens by t mm for each mm of height makes the face wider by t / 3, and the letters
of a line six times as wide as high taller by t / 18: each round leaves a twentieth or less of
what the one before it was off, so four leave less than a micrometre.
"""

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

    def fits(self) -> list[Fit]:
        """Return the ways to set it, see :func:`mailmerge.artwork.setting.fits`."""
        return fits(self.line, self.text, self.style, self.room)

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

    @property
    def height(self) -> float | None:
        """The own height above the base of its one line; None for a stack."""
        line = self.members[0].line
        return line.ring.height if line.ring else line.height

    @property
    def is_ring(self) -> bool:
        """Whether its one line runs around the cup."""
        return self.members[0].line.ring is not None


def side_of(guest: Guest, layout: Layout) -> str:
    """Return the guest's own side where it is one (a check reports it where not)."""
    side = guest.fields.get("side", "")
    try:
        angle_of(side, guest.hand)
    except ValueError:
        return layout.face
    return side


def stands_of(
    layout: Layout, blank: Blank, guest: Guest, order_words: dict[str, str], beside: Path
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
        if text is not None:
            angle = 180.0 if line.ring else angle_of(line.face or side, guest.hand)
            alone = number if line.ring or line.height else 0
            together.setdefault((angle, alone), []).append((number, line, text))
    stands = []
    for (angle, _), lines in together.items():
        styles = [line.style(beside, line.language_for(words)) for _, line, _ in lines]
        heights = (blank.band.from_, blank.band.to)
        for _ in range(_ROUNDS if blank.taper else 1):
            members = tuple(
                Member(number, line, text, style, room, face)
                for ((number, line, text), style, (room, face)) in zip(
                    lines, styles, _rooms(layout, blank, angle, lines, heights), strict=True
                )
            )
            stand = Stand(angle, members)
            if blank.taper:
                heights = _heights(layout, blank, stand, beside)
        stands.append(stand)
    return stands


def face_at(layout: Layout, blank: Blank, angle: float, line: Line, heights: Heights) -> Face:
    """Return the face that a line has between two heights; for a ring what is free around."""
    if not line.ring:
        return face_of(blank, angle, layout.visible_angle, heights)
    around = min(blank.circumference_at(z) for z in heights)
    closes = line.ring.repeat and not blank.handle.width
    free = around - (0.0 if closes else 2 * blank.handle_edge)
    return Face(180.0, blank.page_width / 2, max(0.0, free))


def _rooms(
    layout: Layout, blank: Blank, angle: float, lines: list[tuple[int, Line, str]], heights: Heights
) -> list[tuple[Room, Face]]:
    """Return the room and the face of each line that stands with the others."""
    numbers = {number for number, _, _ in lines}
    standing = [ornament for ornament in layout.ornament if ornament.line in numbers]
    room = blank.band.height - sum(line.gap for _, line, _ in lines[1:])
    room -= sum(o.height + o.gap for o in standing if o.place != "beside")
    most = sum(line.letter_height.max for _, line, _ in lines)
    found = []
    for number, line, _ in lines:
        face = face_at(layout, blank, angle, line, heights)
        z = line.ring.height if line.ring else line.height
        if z is None:
            height = room * line.letter_height.max / most
        else:
            height = 2 * min(z - blank.band.from_, blank.band.to - z)
        width = face.usable_width - sum(
            2 * (o.width + o.gap) for o in standing if o.place == "beside" and o.line == number
        )
        if line.ring and line.ring.repeat:
            width -= line.ring.apart
        found.append((Room(max(0.0, width), max(0.0, height)), face))
    return found


def _heights(layout: Layout, blank: Blank, stand: Stand, beside: Path) -> Heights:
    """Return from where to where the lines reach if each is as large as it may be."""
    own = [(member, _largest(member)) for member in stand.members]
    inks = [(member, fit, _ink(member.line, fit)) for member, fit in own]
    if stand.height is not None:
        (member, fit, ink) = inks[0]
        baseline = stand.height - fit.height / 2
        return baseline + ink.low, baseline + ink.high
    extents: list[Extent] = []
    for at, (member, fit, ink) in enumerate(inks):
        gap = 0.0 if at == 0 else member.line.gap
        for ornament, above in ornaments_of(layout, member.number):
            if above:
                extents.append(extent_of_drawing(fitted_box(ornament, beside), gap))
                gap = ornament.gap
        by_baseline = layout.stacking == "baseline"
        extents.append(
            extent_of_line(member.line, fit.arrangement, fit.height, ink, by_baseline, gap)
        )
        for ornament, above in ornaments_of(layout, member.number):
            if not above:
                extents.append(extent_of_drawing(fitted_box(ornament, beside), ornament.gap))
    baselines = stack(extents, min(fit.height for _, fit, _ in inks), blank.band)
    return (
        min(z + extent.ink.low for extent, z in zip(extents, baselines, strict=True)),
        max(z + extent.ink.high for extent, z in zip(extents, baselines, strict=True)),
    )


def _largest(member: Member) -> Fit:
    found = member.fits()
    least = member.line.letter_height.min
    if member.line.sizing != "each":
        least = max(fit.height for fit in found)
    fit = choose(found, least)
    return Fit(fit.arrangement, max(fit.height, member.line.letter_height.min))


def _ink(line: Line, fit: Fit) -> Box:
    """Return the bounds of a line's ink in mm without welding it, but for one on an arc."""
    rim = line.strengthen
    if line.arc:
        box = fit.arrangement.drawn(fit.height, line, fits=False)[0].box
    else:
        box = Box(*(edge * fit.height for edge in fit.arrangement.box))
    return Box(box.left - rim, box.low - rim, box.right + rim, box.high + rim)


def ornaments_of(layout: Layout, number: int) -> list[tuple[Ornament, bool]]:
    """Return the ornaments above and below a line, each with whether it stands above."""
    return [
        (ornament, ornament.place == "above")
        for ornament in layout.ornament
        if ornament.line == number and ornament.place != "beside"
    ]


def fitted_box(ornament: Ornament, beside: Path) -> Box:
    """Return the bounds of an ornament in mm, its middle at (0, 0)."""
    return fitted(ornament, beside).box
