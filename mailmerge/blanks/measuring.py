"""Measuring: what people read off tape and callipers, several times over, as a blank.

A tape is read to half a millimetre or a sixteenth of an inch, so that readings of one thing differ
a little; if they differ by more than that, one of them is wrong, and nobody can tell which.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import tomlkit

from mailmerge.blanks import words
from mailmerge.blanks.model import (
    CONTRADICTION,
    VISIBLE_ANGLE,
    Blank,
    Coat,
    angle_of,
    face_of,
)
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.shelves import known_as, load, read_toml, shelf, validated
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
        raise InputError(words.not_above_zero(what, min(readings)))
    allowed = max(CONTRADICTION * found.mean, LEAST_SPREAD)
    if found.spread > allowed:
        raise InputError(words.readings_differ(what, readings, found.spread, allowed))
    return found


Where = Literal["", "base", "top"]
"""At which tape of a tapered wall; ``""`` on a straight one."""


@dataclass(frozen=True, slots=True)
class Girth:
    """How far it is around the wall at one height, by tape, by callipers, or by both."""

    where: Where
    tape: Measure | None
    callipers: Measure | None

    @property
    def circumference(self) -> float:
        """By the tape where there is one, else pi times the diameter; mm."""
        if self.tape:
            return self.tape.mean
        assert self.callipers is not None
        return math.pi * self.callipers.mean


def girth(where: Where, tape: Sequence[float], callipers: Sequence[float]) -> Girth | None:
    """Return what was measured around the wall at a height, or None if nothing was.

    Raises
    ------
    InputError
        Readings contradict each other, or the tape the callipers: C = pi d to a hundredth.
    """
    found = Girth(
        where,
        measure(words.BY_TAPE[where], tape) if tape else None,
        measure(words.BY_CALLIPERS[where], callipers) if callipers else None,
    )
    if not tape and not callipers:
        return None
    if found.tape and found.callipers:
        from_callipers = math.pi * found.callipers.mean
        off = abs(found.tape.mean - from_callipers) / from_callipers
        if off > CONTRADICTION:
            raise InputError(
                words.tape_and_callipers_differ(
                    words.AROUND[where], found.tape.mean, found.callipers.mean, from_callipers,
                    off, CONTRADICTION,
                )
            )  # fmt: skip
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
            raise InputError(words.tapes_too_close(self._off, self.apart.mean))


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
    name: str,
    coats: Sequence[Coat],
    wall: Girth | Tapes,
    rest: Rest,
    inches: Literal[16, 32] | None = None,
) -> tuple[Blank, str]:
    """Return a blank as it was measured, and its file.

    Parameters
    ----------
    inches
        Into how many parts the tape divides an inch; None for millimetres.

    Raises
    ------
    InputError
        The measures make no blank; the text says which and why.
    """
    if not rest.handle_width and (rest.comes_off or rest.stands_out is not None):
        raise InputError(words.NO_HANDLE)
    document = tomlkit.document()
    document["name"] = name
    document["note"] = words.MEASURED
    if inches:
        document["inches"] = inches
        document["inches"].comment(words.PARTS_OF_AN_INCH)
    if isinstance(wall, Girth):
        document["circumference"] = _mm(wall.circumference, _read(wall))
    document["height"] = _mm(rest.height, words.OF_THE_WALL)
    if isinstance(wall, Tapes):
        wall.check()
        taper = tomlkit.table()
        taper["base"] = _mm(wall.base.circumference, words.of_the_lower_tape(_read(wall.base)))
        taper["top"] = _mm(wall.top.circumference, words.of_the_upper_tape(_read(wall.top)))
        taper["distance"] = _mm(wall.distance, words.FROM_TAPE_TO_TAPE)
        taper["from"] = _mm(wall.lower, words.LOWER_TAPE)
        document["taper"] = taper
    band = tomlkit.table()
    band["from"], band["to"] = _mm(rest.band[0], ""), _mm(rest.band[1], "")
    document["band"] = band
    handle = tomlkit.table()
    handle["width"] = _mm(rest.handle_width, "")
    handle["clearance"] = _mm(rest.clearance, words.ON_EACH_SIDE)
    if rest.comes_off:
        handle["comes_off"] = True
    if rest.stands_out is not None:
        handle["stands_out"] = _mm(rest.stands_out, words.WHILE_ENGRAVED)
    document["handle"] = handle
    tables = tomlkit.aot()
    for coat in coats:
        table = tomlkit.table()
        table["name"], table["colour"] = coat.name, coat.colour
        tables.append(table)
    document["coat"] = tables
    blank = validated(Blank, document.unwrap(), words.THE_MEASURES)
    if min(width for _, width in faces_in_words(blank)) <= 0:
        raise InputError(words.nothing_left(blank.page_width, blank.zones[0].edge))
    return blank, tomlkit.dumps(document)


UNKNOWN_COLOUR = "#808080"
"""Of a coat in pictures, where nobody has said what its word looks like."""


def coats_in(text: str) -> tuple[Coat, ...]:
    """Return the coats in words, with commas between: ``navy, lilac #c8a2c8``.

    A word that the library has for a coat is drawn in that colour. Another one is drawn grey,
    unless its colour stands behind it.

    Raises
    ------
    InputError
        There is none, one is said twice, or a colour is none.
    """
    known = {
        coat.name.casefold(): coat.colour
        for name in shelf("blanks") for coat in load(Blank, "blanks", name, Path()).coat
    }  # fmt: skip
    found: dict[str, Coat] = {}
    for part in filter(None, (part.strip() for part in text.split(","))):
        name, _, colour = part.partition("#")
        word = name.strip()
        if word.casefold() in found:
            raise InputError(words.coat_twice(word))
        drawn = f"#{colour}" if colour else known.get(word.casefold(), UNKNOWN_COLOUR)
        told = {"name": word, "colour": drawn.strip()}
        found[word.casefold()] = validated(Coat, told, words.COATS)
    if not found:
        raise InputError(words.COATS_MISSING)
    return tuple(found.values())


def compared(name: str) -> str:
    """Return a name as names are told apart: without case, and with single blanks."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def names_in(folder: Path) -> frozenset[str]:
    """Return what blanks are called, as :func:`compared`: the library's, and a folder's files'.

    Files that are no blanks, and such as cannot be read, have no names.
    """
    library = known_as("blanks")
    found = {compared(name) for name in (*library, *library.values())}
    for path in folder.glob("*.toml"):
        try:
            data = read_toml(path)
        except InputError:
            continue
        blank = data.get("blank")
        for each in (data, blank if isinstance(blank, dict) else {}):
            if "band" in each and isinstance(each.get("name"), str):
                found.add(compared(str(each["name"])))
    return frozenset(found)


def inches_as_typed(typed: str) -> Literal[16, 32] | None:
    """Return into how many parts the tape that was read divides an inch; None for millimetres."""
    if not re.search(r"in\b|inch|[\"″]", typed):
        return None
    parts = [int(under) for under in re.findall(r"/(\d+)", typed)]
    return 32 if any(16 % under for under in parts if under) else 16


def _mm(length: float, comment: str) -> tomlkit.items.String:
    item = tomlkit.string(format_mm(length, 2))
    if comment:
        item.comment(comment)
    return item


def _read(girth: Girth) -> str:
    """Return how something was measured, for a comment."""
    return words.read_off(
        girth.tape.readings if girth.tape else (),
        girth.callipers.readings if girth.callipers else (),
    )


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
        words.if_wrong_on_chuck(width, width / around, 1 / around),
        words.if_wrong_on_rollers(0.75),
    ]
    if isinstance(wall, Tapes):
        lean = math.degrees(math.asin(min(1.0, 1 / (2 * math.pi * wall.distance))))
        ends = (blank.band.to - blank.band.from_) / 2 / wall.distance
        said.append(words.if_one_tape_wrong(lean, width / around * ends))
    return said
