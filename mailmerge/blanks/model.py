"""The blank, straight, tapered or flat, and the faces on its wrap.

Wrap coordinates, with the cup upright: ``s`` runs along the wrap in mm from the handle's centre
line, growing to the right for somebody who looks at the outside; ``z`` is the height above the
base in mm, along the wall. A blank without a handle takes its seam or its maker's mark as
``s = 0``, flat goods their left edge.
"""

from __future__ import annotations

import json
import math
import re
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Annotated, Literal, NamedTuple, Self

from pydantic import AfterValidator, Field, model_validator

from mailmerge.blanks import words
from mailmerge.files import digest_of
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.shelves import Length, LengthOrZero, Model, Name
from mailmerge.units import parse_length

CONTRADICTION = 0.01
"""Circumference and diameter may differ from C = pi d by this much: what a tape is good for."""

LARGEST = 2000.0
"""Millimetres around or high."""

STEEPEST = 45
"""Degrees: what leans further is a bowl, whose wall is hardly ever straight."""


def _colour(text: str) -> str:
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", text):
        raise ValueError(words.not_a_colour(text))
    return text.lower()


Colour = Annotated[str, AfterValidator(_colour)]


class Band(Model):
    """The part of the height that may be engraved, in mm above the base."""

    from_: Annotated[LengthOrZero, Field(alias="from")]
    to: Length

    @property
    def height(self) -> float:
        """Height of the band in mm."""
        return self.to - self.from_

    @property
    def middle(self) -> float:
        """Height of the band's middle above the base, in mm."""
        return (self.from_ + self.to) / 2


class Handle(Model):
    """How much of the wrap the handle and its brackets take, in mm."""

    width: LengthOrZero = 0.0
    clearance: LengthOrZero = 0.0
    comes_off: bool = False
    """Whether it is taken off before engraving, so that its brackets alone stay."""
    stands_out: LengthOrZero | None = None
    """How far what stays on the cup while it is engraved stands out from the wall: the handle, or
    its brackets where it comes off."""


ZoneKind = Literal["handle", "bracket", "seam", "mark", "ridge"]
"""What is there instead of a bare wall."""


class Zone(Model):
    """A part of the wrap that is not engraved; lengths in mm, heights along the wall."""

    kind: ZoneKind
    name: Name | None = None
    """What people call it, where the kind does not say enough."""
    at: Annotated[float, Field(ge=0, lt=360)] = 0.0
    """Of its middle, in degrees from the blank's zero, growing to the right."""
    width: LengthOrZero = math.inf
    """Along the wall, at every height; where none is given it goes all around, as a ridge does."""
    from_: Annotated[LengthOrZero, Field(alias="from")] = 0.0
    to: Length | None = None
    """Its upper edge; None for the mouth."""
    clearance: LengthOrZero = 0.0
    """Kept free on every side of it."""
    comes_off: bool = False
    """Whether it is taken off before engraving, so that its brackets alone stay."""
    stands_out: LengthOrZero | None = None
    """How far what stays on the cup while it is engraved stands out from the wall; None where
    nobody has measured it."""

    @property
    def goes_around(self) -> bool:
        """Whether it goes all around the cup, so that it lies nowhere in particular."""
        return math.isinf(self.width)

    def half(self, around: float) -> float:
        """Return half of what it takes of a circumference, in mm."""
        return min(self.width, around) / 2

    @property
    def word(self) -> str:
        """What it is called in a sentence."""
        return self.name or {"mark": words.MAKERS_MARK}.get(self.kind, self.kind)

    @property
    def mark(self) -> str:
        """What of it a loader turns to a side: of a handle that is taken off the bracket."""
        if not self.comes_off:
            return self.word
        return words.bracket_of(self.name) if self.name else words.BRACKET

    @property
    def on_machine(self) -> str:
        """What of it is still there while the cup is engraved, in a sentence."""
        return words.or_its_bracket(self.word) if self.kind == "handle" else self.word

    def reaches(self, out: float) -> bool:
        """Whether it stands out further than so many mm, or nobody knows how far."""
        return self.stands_out is None or self.stands_out > out

    @property
    def edge(self) -> float:
        """Distance along the wall from its middle to where one may engrave, in mm."""
        return self.width / 2 + self.clearance

    @property
    def low(self) -> float:
        """Height up to which one may engrave below it; there is nothing below one at the base."""
        return self.from_ - self.clearance if self.from_ else -math.inf

    @property
    def high(self) -> float:
        """Height from which on one may engrave above it."""
        return math.inf if self.to is None else self.to + self.clearance

    def is_within(self, low: float, high: float) -> bool:
        """Whether it takes anything of the wall between two heights."""
        return self.low < high and self.high > low

    def is_as_high_as(self, wall: float) -> bool:
        """Whether it leaves nothing of a wall of so many mm, below it or above."""
        return self.low <= 0 and self.high >= wall

    def off(self, angle: float) -> float:
        """Return how far its middle is from an angle, in degrees from 0 to 180."""
        turned = abs(angle - self.at)
        return min(turned, 360 - turned)


class Coat(Model):
    """A colour that the blank comes in, and what the beam reveals under it."""

    name: Name
    colour: Colour
    reveal: Colour = "#c9cbcd"


class Taper(Model):
    """Two circumferences of a tapered wall, as the tape gives them; lengths in mm."""

    base: Length
    """Circumference at the lower tape."""
    top: Length
    """Circumference at the upper tape."""
    distance: Length
    """From tape to tape, along the wall."""
    from_: Annotated[LengthOrZero, Field(alias="from")] = 0.0
    """Height of the lower tape above the base, along the wall."""

    @property
    def slope(self) -> float:
        """How much the circumference grows for each mm along the wall."""
        return (self.top - self.base) / self.distance


class Blank(Model):
    """A blank, as measured; lengths in mm, heights along the wall.

    It is one of three: a straight wall (``circumference`` or ``diameter``; after validation both
    are set), a tapered one (``taper``), or flat goods (``width``). ``handle`` with a width of 0 is
    a cup without one, whose seam still bounds every face.
    """

    name: Name
    note: str = ""
    circumference: Length | None = None
    diameter: Length | None = None
    taper: Taper | None = None
    width: Length | None = None
    edge: LengthOrZero = 0.0
    """Room kept free at the left and the right edge of flat goods."""
    height: Length
    band: Band
    handle: Handle = Handle()
    zone: tuple[Zone, ...] = ()
    """What else is not engraved; a cup's zero may be among it in place of ``handle``."""
    coat: Annotated[tuple[Coat, ...], Field(min_length=1)]
    inches: Literal[16, 32] | None = None
    """Into how many parts the tape that it was measured with divides an inch: papers for it tell
    inches beside millimetres. None for a tape in millimetres."""

    @model_validator(mode="before")
    @classmethod
    def _one_of_both(cls, data: object) -> object:
        """Work the missing one of circumference and diameter out of the other: C = pi d."""
        if not isinstance(data, dict) or ("circumference" in data) == ("diameter" in data):
            return data
        known, other, factor = (
            ("circumference", "diameter", 1 / math.pi)
            if "circumference" in data
            else ("diameter", "circumference", math.pi)
        )
        try:
            length = parse_length(data[known])
        except ValueError:
            length = 1.0  # the field's own validation says what is wrong with it
        return {**data, other: length * factor if length > 0 else 1.0}

    @model_validator(mode="after")
    def _measures_agree(self) -> Self:
        shapes = [
            key
            for key, given in (
                (words.CIRCUMFERENCE_OR_DIAMETER, self.circumference),
                ("[taper]", self.taper),
                ("width", self.width),
            )
            if given is not None
        ]
        if not shapes:
            raise ValueError(words.NO_SHAPE)
        if len(shapes) > 1:
            raise ValueError(words.several_shapes(shapes))
        for key, length in (
            ("width" if self.width else "circumference", self.page_width),
            ("height", self.height),
        ):
            if length > LARGEST:
                raise ValueError(words.too_large(key, length, LARGEST))
        if not self.band.from_ < self.band.to <= self.height:
            raise ValueError(words.band_outside_wall(self.band.from_, self.band.to, self.height))
        if self.is_flat:
            self._check_flat()
        else:
            self._check_round()
        names = [coat.name.casefold() for coat in self.coat]
        if len(set(names)) != len(names):
            raise ValueError(words.SAME_COAT_TWICE)
        return self

    def _check_flat(self) -> None:
        if self.handle != Handle():
            raise ValueError(words.HANDLE_ON_FLAT_GOODS)
        if self.zone:
            raise ValueError(words.ZONE_ON_FLAT_GOODS)
        if 2 * self.edge >= self.page_width:
            raise ValueError(words.edge_takes_all(self.edge, self.page_width))

    def _check_round(self) -> None:
        if self.edge:
            raise ValueError(words.EDGE_ON_A_CUP)
        if self.circumference and self.diameter:
            from_diameter = math.pi * self.diameter
            off = abs(self.circumference - from_diameter) / from_diameter
            if off > CONTRADICTION:
                raise ValueError(
                    words.girth_and_diameter_differ(
                        self.diameter, from_diameter, self.circumference, off, CONTRADICTION
                    )
                )
        if self.taper:
            self._check_taper(self.taper)
        least = self.smallest_circumference
        for at, zone in enumerate(self.zone, start=1):
            self._check_zone(f"zone {at}", zone)
        if self.handle.width >= least / math.pi:
            raise ValueError(words.handle_too_wide(self.handle.width, least / math.pi))
        if self.handle.width + 2 * self.handle.clearance >= least:
            raise ValueError(words.clearance_takes_all(self.handle.clearance, least))

    def _check_zone(self, key: str, zone: Zone) -> None:
        least = self.smallest_circumference
        top = self.height if zone.to is None else zone.to
        if not zone.from_ < top <= self.height:
            raise ValueError(words.zone_outside_wall(key, zone.from_, top, self.height))
        if zone.goes_around:
            if zone.kind == "handle":
                raise ValueError(words.handle_goes_nowhere(key))
            if zone.at or zone.is_as_high_as(self.height):
                raise ValueError(words.zone_without_width(key))
            return
        # What has no width is met by nothing: only a line on the wall may have none.
        if not zone.width and (zone.kind != "seam" or zone.stands_out):
            raise ValueError(words.zone_of_no_width(key, zone.kind))
        if 2 * zone.edge >= least:
            raise ValueError(words.zone_takes_all(key, zone.width, zone.clearance, least))
        if zone.at == 0 and self.handle.width:
            raise ValueError(words.zone_on_handle(key))

    def key_of(self, zone: Zone) -> str:
        """Return where the blank's file tells of a zone."""
        return f"zone {self.zone.index(zone) + 1}" if zone in self.zone else "handle"

    def _check_taper(self, taper: Taper) -> None:
        if taper.from_ + taper.distance > self.height + 0.5:
            raise ValueError(words.tape_above_wall(taper.from_ + taper.distance, self.height))
        if abs(taper.slope) / (2 * math.pi) > math.sin(math.radians(STEEPEST)):
            raise ValueError(words.too_steep(taper.base, taper.top, taper.distance, STEEPEST))
        ends: tuple[tuple[Literal["base", "mouth"], float], ...] = (
            ("base", 0.0), ("mouth", self.height),
        )  # fmt: skip
        for end, z in ends:
            if (around := self.circumference_at(z)) < 1:
                raise ValueError(words.ends_in_a_point(around, end))

    @property
    def identity(self) -> str:
        """What tells it from every other blank, whatever that is called.

        A digest of what its file says: all of its values but its note and the tape that it was
        measured with, its coats in any order. A key that the file leaves at its default is not in
        it, so that it stays the same when the program learns a new one. It begins with a letter, so
        that no spreadsheet takes it for a number. Not kept in memory, for a copy with other values
        is another blank.
        """
        told = self.model_dump(mode="json", exclude={"note", "inches"}, exclude_defaults=True)
        told["coat"].sort(key=lambda coat: str(coat["name"]))
        return f"b{digest_of(json.dumps(told, sort_keys=True).encode())[:15]}"

    @property
    def is_flat(self) -> bool:
        """Whether the blank is flat goods: a board, a coaster, a tag."""
        return self.width is not None

    def circumference_at(self, z: float) -> float:
        """Return the circumference in mm at a height along the wall; straight between two tapes.

        On flat goods it is the width, which does not close.
        """
        if self.taper:
            return self.taper.base + self.taper.slope * (z - self.taper.from_)
        return self.page_width

    def radius_at(self, z: float) -> float:
        """Return the wall's distance from the axis at a height, in mm; infinite on flat goods."""
        return math.inf if self.is_flat else self.circumference_at(z) / (2 * math.pi)

    @property
    def slope(self) -> float:
        """How much the circumference grows for each mm along the wall; 0 where it is straight."""
        return self.taper.slope if self.taper else 0.0

    @property
    def tilt(self) -> float:
        """Degrees between wall and axis, above 0 where the mouth is wider than the base.

        By so much the rotary is tilted for a level surface. A cone of radius R has sin(tilt) =
        dR / dz, for ``z`` runs along the wall (handbooks of mensuration: the frustum's slant).
        """
        return math.degrees(math.asin(self.slope / (2 * math.pi)))

    @cached_property
    def page_width(self) -> float:
        """Width of the upright page in mm: the circumference that the rotary is set to.

        On a tapered wall that in the middle of the band; on flat goods their width.
        """
        if self.width is not None:
            return self.width
        if self.taper:
            return self.circumference_at(self.band.middle)
        assert self.circumference is not None
        return self.circumference

    @property
    def smallest_circumference(self) -> float:
        """Circumference in mm where the wall is narrowest."""
        return min(self.circumference_at(0.0), self.circumference_at(self.height))

    @property
    def largest_circumference(self) -> float:
        """Circumference in mm where the wall is widest."""
        return max(self.circumference_at(0.0), self.circumference_at(self.height))

    @property
    def upright_height(self) -> float:
        """Height of the wall straight up, in mm: less than along the wall where it is tapered."""
        return self.height * math.cos(math.radians(self.tilt))

    @property
    def zones(self) -> tuple[Zone, ...]:
        """Everything on the wall that is not engraved, the one at its zero first; none if flat.

        ``[handle]`` is the usual way to write the one at 0 degrees; without a width it is the seam.
        There is always one there that is as high as the wall: the page begins and ends at it.
        """
        if self.is_flat:
            return ()
        return _zones(self.zone, self.handle, self.height)

    @property
    def handles(self) -> tuple[Zone, ...]:
        """Its handles, whether they are on it while it is engraved or not."""
        return tuple(zone for zone in self.zones if zone.kind == "handle")

    @property
    def is_even(self) -> bool:
        """Whether a face is equally wide at all heights of the wall."""
        return self.taper is None and all(zone.is_as_high_as(self.height) for zone in self.zones)

    @property
    def zero(self) -> str:
        """What lies at ``s = 0``, in a word."""
        return self.zones[0].word if self.zones else words.LEFT_EDGE

    def coat_named(self, name: str) -> Coat:
        """Return the coat called ``name``.

        Raises
        ------
        InputError
            The blank does not come in it; the nearest one is suggested.
        """
        for coat in self.coat:
            if coat.name.casefold() == name.strip().casefold():
                return coat
        raise InputError(words.no_such_coat(name, self.name, [coat.name for coat in self.coat]))


@lru_cache(maxsize=64)  # everything that is set on a cup asks for them, several times
def _zones(told: tuple[Zone, ...], handle: Handle, height: float) -> tuple[Zone, ...]:
    at_zero = [zone for zone in told if zone.at == 0 and not zone.goes_around]
    others = [zone for zone in told if zone not in at_zero]
    if not any(zone.is_as_high_as(height) for zone in at_zero):
        zero = Zone.model_construct(
            kind="handle" if handle.width else "seam",
            width=handle.width,
            clearance=handle.clearance,
            comes_off=handle.comes_off,
            stands_out=handle.stands_out if handle.width else 0.0,
        )
        at_zero.append(zero)
    return (*at_zero, *others)


VISIBLE_ANGLE = 120.0
"""How much of a wall one sees as one face, in degrees, where a layout does not say otherwise.

At 60 degrees off its middle a letter looks half as wide: cos 60 degrees (projection)."""

_NAMED_ANGLES = {"drinker": 270.0, "onlookers": 90.0, "opposite": 180.0}
"""Angle of a face's centre from the handle, in degrees, when the right hand holds the handle."""


@lru_cache(maxsize=256)
def angle_of(face: str | float, hand: Hand) -> float:
    """Return the angle of a face's centre from the handle, in degrees from 0 up to 360.

    A word turns with the hand that holds the cup: what stands ``a`` degrees to the right of the
    handle for a right hand stands ``a`` to the left for a left one. An angle means that angle.

    Raises
    ------
    ValueError
        ``face`` is neither; the text says what was found and what is wanted.
    """
    name = str(face).strip().casefold().removesuffix("°").strip()
    if name in _NAMED_ANGLES:
        return (_NAMED_ANGLES[name] if hand is Hand.RIGHT else -_NAMED_ANGLES[name]) % 360
    try:
        angle = float(name)
    except ValueError:
        raise ValueError(words.not_a_face(face)) from None
    if not math.isfinite(angle):
        raise ValueError(words.not_a_face(face))
    return angle % 360


@dataclass(frozen=True, slots=True)
class Face:
    """The part of the wrap that one sees at once; lengths in mm along the wrap."""

    angle: float
    """Degrees from the handle to the face's centre."""
    centre: float
    """``s`` of the centre."""
    usable_width: float
    """Width that the design may take, centred on the face; 0 where there is none."""
    visible_angle: float = 360.0
    """How much of the wall one sees of it at most, in degrees."""

    @property
    def left(self) -> float:
        """``s`` of the usable width's left edge."""
        return self.centre - self.usable_width / 2

    @property
    def right(self) -> float:
        """``s`` of the usable width's right edge."""
        return self.centre + self.usable_width / 2


def face_of(
    blank: Blank, angle: float, visible_angle: float, heights: tuple[float, float] | None = None
) -> Face:
    """Return the face at ``angle`` degrees from the handle.

    Its usable width is twice the smallest distance from its centre to the edge of a zone
    (width / 2 + clearance from the zone's middle, modulo C), and no more than the visible arc
    C * visible_angle / 360. It is the narrowest between two ``heights`` (mm above the base), by
    default those of the band. Flat goods have one face, whatever the angle.
    """
    if blank.is_flat:
        return Face(0.0, blank.page_width / 2, blank.page_width - 2 * blank.edge)
    face = Face(angle, blank.page_width * angle / 360, 0.0, visible_angle)
    low, high = heights or (blank.band.from_, blank.band.to)
    room = [_arc_at(blank, face, z) for z in (low, high)]
    for zone in blank.zones:
        if zone.is_within(low, high):
            # It only grows with the circumference, which is straight in z.
            ends = max(low, zone.low), min(high, zone.high)
            room += [_beside(blank, face, zone, z) for z in ends]
    return replace(face, usable_width=max(0.0, min(room)))


def usable_at(blank: Blank, face: Face, z: float) -> float:
    """Return what is there of a face at one height above the base, in mm along the wall."""
    if blank.is_flat:
        return face.usable_width
    beside = [_beside(blank, face, zone, z) for zone in blank.zones if zone.is_within(z, z)]
    return max(0.0, min([*beside, _arc_at(blank, face, z)]))


class Edge(NamedTuple):
    """A bound of a face on both sides of its middle, which is straight on the wall unrolled."""

    at_base: float
    """Half the width that it leaves, in mm, at the base."""
    growth: float
    """How much that grows for each mm up the wall."""

    def at(self, z: float) -> float:
        """Return half the width that it leaves at a height above the base, in mm."""
        return self.at_base + self.growth * z


def edges_of(blank: Blank, angle: float, visible_angle: float) -> tuple[Edge, ...]:
    """Return the bounds of a face on a tapered wall; none where its zones are not as high as it.

    Those of :func:`face_of`, at every height by itself: the arc that one sees and the zones.
    """
    if not blank.taper or not all(zone.is_as_high_as(blank.height) for zone in blank.zones):
        return ()
    face = Face(angle, 0.0, 0.0)
    shares = [(visible_angle / 720, 0.0)]
    shares += [(zone.off(face.angle) / 360, zone.edge) for zone in blank.zones]
    base = blank.circumference_at(0.0)
    return tuple(Edge(share * base - off, share * blank.slope) for share, off in shares)


def zone_at(blank: Blank, angle: float, heights: tuple[float, float]) -> Zone:
    """Return the zone that leaves a face the least room, of those that are met between heights."""
    face = Face(angle, 0.0, 0.0)
    met = [zone for zone in blank.zones if zone.is_within(*heights)]
    return min(met, key=lambda zone: min(_beside(blank, face, zone, z) for z in heights))


def _beside(blank: Blank, face: Face, zone: Zone, z: float) -> float:
    """Return how wide a face may be beside a zone at a height, in mm along the wall."""
    return 2 * (blank.circumference_at(z) * zone.off(face.angle) / 360 - zone.edge)


def _arc_at(blank: Blank, face: Face, z: float) -> float:
    """Return how much of the wall one sees of a face at a height, in mm."""
    return blank.circumference_at(z) * face.visible_angle / 360


@dataclass(frozen=True, slots=True)
class FreeArc:
    """A part of the way around a cup that is free between two zones."""

    middle: float
    """In degrees from the blank's zero."""
    length: float
    """In mm, where the wall is narrowest between the heights."""


def closes(blank: Blank, low: float, high: float) -> bool:
    """Whether what goes around meets itself between two heights (mm): only a seam is in the way."""
    return not any(zone.width and zone.is_within(low, high) for zone in blank.zones)


def free_arcs(blank: Blank, low: float, high: float, beside_seam: float) -> tuple[FreeArc, ...]:
    """Return what is free around a cup that does not close between two heights, in their order.

    None of it runs over the blank's zero, where the page begins and ends. A seam of no width that
    lies there takes at least ``beside_seam`` mm on both sides, for what would otherwise close over
    it.
    """
    around = min(blank.circumference_at(z) for z in (low, high))
    there = [zone for zone in blank.zones if zone.is_within(low, high)]
    cuts = [(zone.at, zone.edge) for zone in there if zone.width or zone.at == 0]
    cuts.append((0.0, 0.0 if any(z.width and z.at == 0 for z in there) else beside_seam))
    # Once more to both sides: a zone may reach over the zero.
    cuts = [(at + turn, edge) for at, edge in cuts for turn in (-360.0, 0.0, 360.0)]
    cuts.sort(key=lambda cut: cut[0] / 360 * around - cut[1])
    found, last = [], cuts[0]
    for cut in cuts[1:]:
        (at, before), (to, after) = last, cut
        length = around * ((to - at) / 360) - (before + after)
        middle = (at + to) / 2 + (before - after) / 2 / around * 360
        if length > 0 and 0 <= middle < 360:
            found.append(FreeArc(middle, length))
        if to / 360 * around + after > at / 360 * around + before:
            last = cut
    return tuple(found)
