"""Measuring: readings of tape and callipers into a blank."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from mailmerge.blanks import Blank, Coat
from mailmerge.blanks.asking import Answers, Question, answered, next_question
from mailmerge.blanks.measuring import (
    Girth,
    Rest,
    Tapes,
    coats_in,
    compared,
    error_in_words,
    faces_in_words,
    girth,
    inches_as_typed,
    measured_blank,
    names_in,
)
from mailmerge.blanks.measuring import measure as read_tape
from mailmerge.deeds import words
from mailmerge.files import write_file
from mailmerge.findings import InputError

__all__ = [
    "Answers",
    "Girth",
    "Question",
    "Readings",
    "Rest",
    "Tapes",
    "answered",
    "begin",
    "inches_as_typed",
    "measure",
    "measure_as_answered",
    "next_question",
]


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


def begin(folder: Path) -> Answers:
    """Begin to ask for a blank that is written into a folder: nothing is answered yet."""
    return Answers(taken=names_in(folder))


def measure_as_answered(answers: Answers) -> Measured:
    """Make a blank out of all answers, and write its file.

    Raises
    ------
    InputError
        The file's folder has a blank of that name, or the file cannot be written.
    """
    wall = answers.wall
    assert wall is not None
    return _measured(answers.name, answers.coats, wall, answers.rest, answers.parts, answers.file)


def measure(
    readings: Readings,
    rest: Rest,
    lower: float = 0.0,
    name: str = "",
    coats: str = "black",
    inches: Literal[16, 32] | None = None,
    file: Path | None = None,
) -> Measured:
    """Make a blank out of readings of tape and callipers.

    Parameters
    ----------
    lower
        The lower tape above the base, in mm.
    name
        Which no other blank of the library or in the file's folder has; needed for a file.
    coats
        In words, with commas between.
    inches
        Into how many parts the tape divides an inch; None for millimetres.
    file
        To write, ending in .toml; None for none.

    Raises
    ------
    InputError
        The readings make no blank, the name is missing or taken, or the file is there already.
    """
    return _measured(name, coats_in(coats), _wall(readings, lower), rest, inches, file)


def _measured(
    name: str,
    coats: tuple[Coat, ...],
    wall: Girth | Tapes,
    rest: Rest,
    inches: Literal[16, 32] | None,
    file: Path | None,
) -> Measured:
    if file is not None and file.suffix != ".toml":
        raise InputError(words.no_blank_file(file))
    blank, text = measured_blank(name or words.NO_NAME, coats, wall, rest, inches)
    if file is not None:
        if not name:
            raise InputError(words.NAME_MISSING)
        if compared(name) in names_in(file.parent):
            raise InputError(words.name_taken(name, file.parent))
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
