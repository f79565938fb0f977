"""Measuring: what people read off tape and callipers, several times over, as a blank.

A tape is read to half a millimetre or a sixteenth of an inch, so that readings of one thing differ
a little; if they differ by more than that, one of them is wrong, and nobody can tell which.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import tomlkit

from mailmerge.blanks.model import CONTRADICTION, VISIBLE_ANGLE, Blank, angle_of, face_of
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.shelves import validated
from mailmerge.units import format_mm

LEAST_SPREAD = 1.0
"""Millimetres by which readings may always differ, however small the thing is."""


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing, read several times; mm."""

    what: str
    readings: tuple[float, ...]

    @property
    def mean(self) -> float:
        """The mean of the readings."""
        return math.fsum(self.readings) / len(self.readings)

    @property
    def spread(self) -> float:
        """From the smallest reading to the largest."""
        return max(self.readings) - min(self.readings)


def measure(what: str, readings: Sequence[float]) -> Measure:
    """Return readings of one thing as a measure.

    Raises
    ------
    InputError
        They contradict each other: their spread is over a hundredth of their mean, and over 1 mm.
    """
    found = Measure(what, tuple(readings))
    if min(readings) <= 0:
        raise InputError(f"{what}: found {format_mm(min(readings), 2)}, want more than 0")
    allowed = max(CONTRADICTION * found.mean, LEAST_SPREAD)
    if found.spread > allowed:
        listed = ", ".join(format_mm(reading, 2) for reading in readings)
        raise InputError(
            f"{what}: the readings contradict each other: {listed} differ by "
            f"{format_mm(found.spread, 2)}, at most {format_mm(allowed, 2)} is what a tape is good "
            f"for; measure again"
        )
    return found


@dataclass(frozen=True, slots=True)
class Girth:
    """How far it is around the wall at one height, by tape, by callipers, or by both."""

    where: str
    tape: Measure | None
    callipers: Measure | None

    @property
    def circumference(self) -> float:
        """By the tape where there is one, else pi times the diameter; mm."""
        if self.tape:
            return self.tape.mean
        assert self.callipers is not None
        return math.pi * self.callipers.mean


def girth(where: str, tape: Sequence[float], callipers: Sequence[float]) -> Girth | None:
    """Return what was measured around the wall at a height, or None if nothing was.

    Raises
    ------
    InputError
        Readings contradict each other, or the tape the callipers: C = pi d to a hundredth.
    """
    found = Girth(
        where,
        measure(f"around{where}, by tape", tape) if tape else None,
        measure(f"across{where}, by callipers", callipers) if callipers else None,
    )
    if not tape and not callipers:
        return None
    if found.tape and found.callipers:
        from_callipers = math.pi * found.callipers.mean
        off = abs(found.tape.mean - from_callipers) / from_callipers
        if off > CONTRADICTION:
            raise InputError(
                f"tape and callipers contradict each other{where}: {format_mm(found.tape.mean, 2)} "
                f"around, but {format_mm(found.callipers.mean, 2)} across goes with "
                f"{format_mm(from_callipers, 2)} around ({off:.1%} off, at most "
                f"{CONTRADICTION:.0%}); measure again"
            )
    return found


@dataclass(frozen=True, slots=True)
class Tapes:
    """Two tapes around a tapered wall; mm."""

    base: Girth
    top: Girth
    apart: Measure
    """From tape to tape, along the wall or straight up."""
    straight_up: bool
    lower: float
    """The lower tape above the base, along the wall."""

    @property
    def distance(self) -> float:
        """From tape to tape along the wall: sqrt(h^2 + ((C_top - C_base) / (2 pi))^2).

        The slant of a frustum (handbooks of mensuration).
        """
        if not self.straight_up:
            return self.apart.mean
        return math.hypot(self.apart.mean, self._off)

    @property
    def _off(self) -> float:
        return abs(self.top.circumference - self.base.circumference) / (2 * math.pi)

    def check(self) -> None:
        """See that such a wall can be.

        Raises
        ------
        InputError
            Along the wall the tapes are closer than their radii differ.
        """
        if not self.straight_up and self._off >= self.apart.mean:
            raise InputError(
                f"the tapes contradict each other: their radii differ by "
                f"{format_mm(self._off, 2)}, and along the wall they are only "
                f"{format_mm(self.apart.mean, 2)} apart; measure again"
            )


@dataclass(frozen=True, slots=True)
class Rest:
    """What else is measured on a blank; mm."""

    height: float
    band: tuple[float, float]
    handle_width: float = 0.0
    clearance: float = 0.0
    stands_out: float | None = None
    comes_off: bool = False


def measured_blank(
    name: str, coat: str, colour: str, wall: Girth | Tapes, rest: Rest
) -> tuple[Blank, str]:
    """Return a blank as it was measured, and its file.

    Raises
    ------
    InputError
        The measures make no blank; the text says which and why.
    """
    document = tomlkit.document()
    document["name"] = name
    document["note"] = "Measured."
    if isinstance(wall, Girth):
        document["circumference"] = _mm(wall.circumference, _read(wall))
    document["height"] = _mm(rest.height, "of the wall, along it")
    if isinstance(wall, Tapes):
        wall.check()
        taper = tomlkit.table()
        taper["base"] = _mm(wall.base.circumference, f"lower tape: {_read(wall.base)}")
        taper["top"] = _mm(wall.top.circumference, f"upper tape: {_read(wall.top)}")
        taper["distance"] = _mm(wall.distance, "from tape to tape, along the wall")
        taper["from"] = _mm(wall.lower, "the lower tape above the base")
        document["taper"] = taper
    band = tomlkit.table()
    band["from"], band["to"] = _mm(rest.band[0], ""), _mm(rest.band[1], "")
    document["band"] = band
    handle = tomlkit.table()
    handle["width"] = _mm(rest.handle_width, "")
    handle["clearance"] = _mm(rest.clearance, "on each side")
    if rest.comes_off:
        handle["comes_off"] = True
    if rest.stands_out is not None:
        handle["stands_out"] = _mm(rest.stands_out, "while it is engraved")
    document["handle"] = handle
    coats = tomlkit.aot()
    table = tomlkit.table()
    table["name"], table["colour"] = coat, colour
    coats.append(table)
    document["coat"] = coats
    return validated(Blank, document.unwrap(), "the measures"), tomlkit.dumps(document)


def _mm(length: float, comment: str) -> tomlkit.items.String:
    item = tomlkit.string(format_mm(length, 2))
    if comment:
        item.comment(comment)
    return item


def _read(girth: Girth) -> str:
    """Return how something was measured, for a comment."""
    parts = [
        f"{tool} {', '.join(format_mm(reading, 2) for reading in found.readings)}"
        for tool, found in (("tape", girth.tape), ("callipers", girth.callipers))
        if found
    ]
    return "; ".join(parts)


def faces_in_words(blank: Blank, visible_angle: float = VISIBLE_ANGLE) -> list[tuple[str, float]]:
    """Return (whose face, its usable width in mm) for the faces that layouts ask for."""
    return [
        (word, face_of(blank, angle_of(word, Hand.RIGHT), visible_angle).usable_width)
        for word in ("drinker", "onlookers", "opposite")
    ]


def error_in_words(blank: Blank, wall: Girth | Tapes) -> list[str]:
    """Return what it does to the lettering if the tape is read 1 mm wrong."""
    around = blank.page_width
    width = max(width for _, width in faces_in_words(blank))
    said = [
        f"on a chuck a line of {format_mm(width)} comes out {format_mm(width / around, 2)} wider "
        f"or narrower ({1 / around:.2%})",
        f"on rollers it comes out as wide as it should, but the drinker's face "
        f"{format_mm(0.75, 2)} beside its place, and what goes around the cup misses itself by "
        f"1 mm",
    ]
    if isinstance(wall, Tapes):
        lean = math.degrees(math.asin(min(1.0, 1 / (2 * math.pi * wall.distance))))
        ends = (blank.band.to - blank.band.from_) / 2 / wall.distance
        said.append(
            f"with one of two tapes wrong the wall seems to lean by {lean:.2f}° more or less, and "
            f"at the ends of the band the lettering is off by another "
            f"{format_mm(width / around * ends, 2)}"
        )
    return said
