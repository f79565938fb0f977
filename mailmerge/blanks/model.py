"""A straight-walled blank and the faces on its wrap.

Wrap coordinates, with the cup upright: ``s`` runs along the wrap in mm from the handle's centre
line, growing to the right for somebody who looks at the outside; ``z`` is the height above the
base in mm. A blank without a handle takes its seam or its maker's mark as ``s = 0``.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Annotated, Self

from pydantic import AfterValidator, Field, model_validator

from mailmerge.findings import InputError, nearest
from mailmerge.guests import Hand
from mailmerge.shelves import Length, LengthOrZero, Model
from mailmerge.units import parse_length

CONTRADICTION = 0.01
"""Circumference and diameter may differ from C = pi d by this much: what a tape is good for."""


def _colour(text: str) -> str:
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", text):
        raise ValueError(f'found "{text}", want a colour such as "#1a1a1c"')
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


class Coat(Model):
    """A colour that the blank comes in, and what the beam reveals under it."""

    name: Annotated[str, Field(min_length=1)]
    colour: Colour
    reveal: Colour = "#c9cbcd"


class Blank(Model):
    """A straight-walled blank, as measured; lengths in mm.

    ``circumference`` or ``diameter`` is given; after validation both are set. ``handle`` with a
    width of 0 is a cup without one, whose seam still bounds every face.
    """

    name: Annotated[str, Field(min_length=1)]
    note: str = ""
    circumference: Length
    diameter: Length
    height: Length
    band: Band
    handle: Handle = Handle()
    coat: Annotated[tuple[Coat, ...], Field(min_length=1)]

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
        from_diameter = math.pi * self.diameter
        off = abs(self.circumference - from_diameter) / from_diameter
        if off > CONTRADICTION:
            raise ValueError(
                f"circumference and diameter contradict each other: a diameter of "
                f"{self.diameter:g} mm goes with a circumference of {from_diameter:.1f} mm, found "
                f"{self.circumference:g} mm ({off:.1%} off, at most {CONTRADICTION:.0%}); "
                f"measure again, or give only one"
            )
        if not self.band.from_ < self.band.to <= self.height:
            raise ValueError(
                f"band: found from {self.band.from_:g} to {self.band.to:g} mm, want from below to "
                f"and both within the height of {self.height:g} mm"
            )
        if self.handle.width >= self.diameter:
            raise ValueError(
                f"handle.width: found {self.handle.width:g} mm, want less than the cup's diameter "
                f"of {self.diameter:.1f} mm"
            )
        if 2 * self.handle_edge >= self.circumference:
            raise ValueError(
                f"handle.clearance: found {self.handle.clearance:g} mm, which leaves nothing of "
                f"the circumference of {self.circumference:.1f} mm"
            )
        names = [coat.name.casefold() for coat in self.coat]
        if len(set(names)) != len(names):
            raise ValueError("coat: two coats have the same name")
        return self

    @property
    def radius(self) -> float:
        """Radius in mm that belongs to the circumference."""
        return self.circumference / (2 * math.pi)

    @property
    def handle_edge(self) -> float:
        """Distance along the wrap from the handle's centre to the handle zone's edge, in mm."""
        return self.handle.width / 2 + self.handle.clearance

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
        known = [coat.name for coat in self.coat]
        raise InputError(
            f'coat "{name}" is unknown for the blank "{self.name}"{nearest(name, known)} '
            f"(known: {', '.join(known)})"
        )


_NAMED_ANGLES = {"drinker": 270.0, "onlookers": 90.0, "opposite": 180.0}
"""Angle of a face's centre from the handle, in degrees, when the right hand holds the handle."""

FACE_WORDS = "drinker, onlookers, opposite, or an angle from the handle such as 180"


def angle_of(face: str | float, hand: Hand) -> float:
    """Return the angle of a face's centre from the handle, in degrees from 0 up to 360.

    ``face`` is a word or an angle, both meant for a right-handed holder. The left hand turns the
    cup over its handle, so that what stood ``a`` degrees to the right stands ``a`` to the left.

    Raises
    ------
    ValueError
        ``face`` is neither; the text says what was found and what is wanted.
    """
    word = str(face).strip().casefold().removesuffix("°").strip()
    try:
        angle = _NAMED_ANGLES[word] if word in _NAMED_ANGLES else float(word)
    except ValueError:
        raise ValueError(f'found "{face}", want {FACE_WORDS}') from None
    if not math.isfinite(angle):
        raise ValueError(f'found "{face}", want {FACE_WORDS}')
    return (angle if hand is Hand.RIGHT else -angle) % 360


@dataclass(frozen=True, slots=True)
class Face:
    """The part of the wrap that one sees at once; lengths in mm along the wrap."""

    angle: float
    """Degrees from the handle to the face's centre."""
    centre: float
    """``s`` of the centre."""
    usable_width: float
    """Width that the design may take, centred on the face; 0 or less where there is none."""

    @property
    def left(self) -> float:
        """``s`` of the usable width's left edge."""
        return self.centre - self.usable_width / 2

    @property
    def right(self) -> float:
        """``s`` of the usable width's right edge."""
        return self.centre + self.usable_width / 2


def face_of(blank: Blank, angle: float, visible_angle: float) -> Face:
    """Return the face at ``angle`` degrees from the handle.

    Its usable width is twice the smaller distance from its centre to the edge of the handle zone
    (|s| <= handle width / 2 + clearance, modulo C), and no more than the visible arc
    C * visible_angle / 360.
    """
    around = blank.circumference
    centre = around * angle / 360
    to_handle = min(centre, around - centre) - blank.handle_edge
    return Face(angle, centre, max(0.0, min(2 * to_handle, around * visible_angle / 360)))
