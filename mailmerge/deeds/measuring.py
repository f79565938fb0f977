"""Measuring: readings of tape and callipers into a blank."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mailmerge.blanks import Blank
from mailmerge.blanks.measuring import (
    Girth,
    Rest,
    Tapes,
    error_in_words,
    faces_in_words,
    girth,
    measured_blank,
)
from mailmerge.blanks.measuring import measure as read_tape
from mailmerge.deeds import words
from mailmerge.files import write_file
from mailmerge.findings import InputError

__all__ = ["Girth", "Readings", "Rest", "Tapes", "measure"]


@dataclass(frozen=True, slots=True)
class Readings:
    """What was read of a wall, in mm, each several times over."""

    around: tuple[float, ...] = ()
    """By tape, of a straight wall."""
    across: tuple[float, ...] = ()
    """By callipers, likewise."""
    around_base: tuple[float, ...] = ()
    """Of a tapered wall, at the lower tape."""
    across_base: tuple[float, ...] = ()
    around_top: tuple[float, ...] = ()
    """At the upper tape."""
    across_top: tuple[float, ...] = ()
    apart: tuple[float, ...] = ()
    """From tape to tape, along the wall."""
    rise: tuple[float, ...] = ()
    """From tape to tape, straight up."""


@dataclass(frozen=True)
class Measured:
    """A blank as it was measured."""

    blank: Blank
    wall: Girth | Tapes
    faces: tuple[tuple[str, float], ...]
    """Whose face, and its usable width in mm."""
    errors: tuple[str, ...]
    """What a tape that is read 1 mm wrong does, in words."""
    file: Path | None
    """The blank's file, where one was written."""

    @property
    def girths(self) -> tuple[Girth, ...]:
        """What was measured around: one of a straight wall, base and top of a tapered one."""
        return (self.wall,) if isinstance(self.wall, Girth) else (self.wall.base, self.wall.top)

    @property
    def taper(self) -> Tapes | None:
        """The two tapes of a tapered wall."""
        return self.wall if isinstance(self.wall, Tapes) else None


def measure(
    readings: Readings,
    rest: Rest,
    lower: float = 0.0,
    name: str = "My cup",
    coat: str = "black",
    colour: str = "#1c1d20",
    file: Path | None = None,
) -> Measured:
    """Make a blank out of readings of tape and callipers.

    Parameters
    ----------
    lower
        The lower tape above the base, in mm.
    file
        To write, ending in .toml; None for none.

    Raises
    ------
    InputError
        The readings make no blank, or the file is there already.
    """
    if file is not None and file.suffix != ".toml":
        raise InputError(words.no_blank_file(file))
    wall = _wall(readings, lower)
    blank, text = measured_blank(name, coat, colour, wall, rest)
    if file is not None:
        if file.exists():
            raise InputError(words.file_exists(file))
        write_file(file, text.encode())
    faces, errors = faces_in_words(blank), error_in_words(blank, wall)
    return Measured(blank, wall, tuple(faces), tuple(errors), file)


def _wall(readings: Readings, lower: float) -> Girth | Tapes:
    """Return the wall that the readings are of.

    Raises
    ------
    InputError
        They are of none, or of two.
    """
    straight = girth("", readings.around, readings.across)
    base = girth("base", readings.around_base, readings.across_base)
    top = girth("top", readings.around_top, readings.across_top)
    if straight and (base or top):
        raise InputError(words.STRAIGHT_AND_TAPERED)
    if straight:
        return straight
    if not base or not top:
        raise InputError(words.NO_CIRCUMFERENCE)
    if bool(readings.apart) == bool(readings.rise):
        raise InputError(words.NO_DISTANCE_OF_TAPES)
    distance = read_tape("from tape to tape", readings.apart or readings.rise)
    return Tapes(base, top, distance, not readings.apart, lower)
