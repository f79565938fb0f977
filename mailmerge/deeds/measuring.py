"""Measuring: readings of tape and callipers into a blank."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from mailmerge.blanks import Blank, Coat
from mailmerge.blanks.asking import QUESTIONS, Answers, Question, answered, next_question
from mailmerge.blanks.measuring import (
    UNKNOWN_COLOUR,
    Girth,
    Rest,
    Tapes,
    coats_in,
    compared,
    error_in_words,
    faces_in_words,
    girth,
    inches_as_typed,
    measure as read_tape,
    measured_blank,
    names_in,
)
from mailmerge.deeds import words
from mailmerge.deeds.opening import folder_of
from mailmerge.files import Root, write_file
from mailmerge.findings import InputError
from mailmerge.guests.names import slug
from mailmerge.proofs.plan import Plan, Points, marks_of, plan_of
from mailmerge.units import format_mm
from mailmerge.workshop.shop.shop import shop_folder

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
    "keep_measured",
    "measure",
    "measure_as_answered",
    "measured_so_far",
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


@dataclass(frozen=True, slots=True)
class Field:
    """One thing that is measured, as far as it is known."""

    key: str
    typed: str
    usual: str
    """What an empty one means; ``""`` where it has to be filled in or means nothing."""
    refused: str
    """Why what was typed cannot be; ``""`` where it can."""
    noted: str
    """What comes of it: mean and spread of several readings."""
    is_missing: bool


@dataclass(frozen=True)
class SoFar:
    """A blank that is being measured."""

    fields: tuple[Field, ...]
    answers: Answers
    drawn: Blank
    """As far as it is measured, the rest as it is usual."""
    plan: Plan
    marks: Mapping[str, Points]
    """Where each thing is measured, on the plan's cup."""
    faces: tuple[tuple[str, float], ...]
    """Whose face, and its usable width in mm; empty before the wall is known."""
    errors: tuple[str, ...]
    """What a tape that is read 1 mm wrong does, in words."""

    @property
    def is_whole(self) -> bool:
        """Whether everything is known that a blank needs."""
        return not any(field.refused or field.is_missing for field in self.fields)


def measured_so_far(folder: Path, typed: Mapping[str, str]) -> SoFar:
    """Judge a form of measures: each field by itself and against those before it.

    Parameters
    ----------
    folder
        Where the blank is to lie, for its name.
    typed
        By the keys of the questions that ``measure`` asks at the bench.
    """
    answers, fields = begin(folder), []
    for question in QUESTIONS:
        if question.key == "file" or not question.is_asked(answers):
            continue
        field, answers = _judged(question, typed.get(question.key, ""), answers)
        fields.append(field)
    drawn, wall = _drawn(answers)
    known = not any(f.refused or f.is_missing for f in fields if f.key not in ("name", "coats"))
    tapes = (wall.lower, wall.lower + wall.distance) if isinstance(wall, Tapes) else None
    return SoFar(
        tuple(fields),
        answers,
        drawn,
        plan_of(drawn),
        marks_of(drawn, tapes),
        tuple(faces_in_words(drawn)) if known else (),
        tuple(error_in_words(drawn, wall)) if known else (),
    )


def _judged(question: Question, typed: str, so_far: Answers) -> tuple[Field, Answers]:
    """Return a field as it was typed, and the answers with it where it can be."""
    key, usual = question.key, question.otherwise(so_far)
    if not typed and usual is None:
        return Field(key, typed, "", "", "", True), so_far
    try:
        after, _ = answered(question, typed, so_far)
    except InputError as error:
        return Field(key, typed, usual or "", str(error), "", False), so_far
    value = after[key]
    read = [each for each in value if isinstance(each, float)] if isinstance(value, tuple) else []
    noted = ""
    if len(read) > 1:
        mean, spread = math.fsum(read) / len(read), max(read) - min(read)
        noted = words.mean_and_spread(after.told(mean), format_mm(spread))
    return Field(key, typed, usual or "", "", noted, False), after


_USUAL = Rest(150.0, (20.0, 130.0))
_USUAL_AROUND = 290.0
_USUAL_TAPER = (220.0, 290.0, 110.0)
"""Around at base and top, and from tape to tape: what is drawn before it is measured; mm."""


def _drawn(answers: Answers) -> tuple[Blank, Girth | Tapes]:
    """Return a blank to draw, with what is not measured yet as it is usual."""
    rest = answers.rest if "height" in answers.values else replace(
        _USUAL, handle_width=answers.length("handle"), clearance=answers.length("clearance")
    )  # fmt: skip
    wall = answers.wall
    if wall is None and answers["tapered"]:
        wall = _usual_tapes(answers)
    wall = wall or girth("", (_USUAL_AROUND,), ())
    assert wall is not None
    coats = answers.coats or (Coat(name="-", colour=UNKNOWN_COLOUR),)
    try:
        return measured_blank(answers.name or words.NO_NAME, coats, wall, rest, answers.parts)[
            0
        ], wall
    except InputError:  # what was typed is told beside its field
        usual = girth("", (_USUAL_AROUND,), ())
        assert usual is not None
        return measured_blank(words.NO_NAME, coats, usual, _USUAL)[0], usual


def _usual_tapes(answers: Answers) -> Tapes:
    """Return the two tapes of a tapered wall, with what is not read yet as it is usual."""
    base, top, apart = _USUAL_TAPER
    ends: tuple[tuple[Literal["base", "top"], float], ...] = (("base", base), ("top", top))
    low, high = (
        girth(end, answers.readings(f"around-{end}"), answers.readings(f"across-{end}"))
        or girth(end, (usual,), ())
        for end, usual in ends
    )
    assert low is not None
    assert high is not None
    read = read_tape("apart", answers.readings("apart") or (apart,))
    return Tapes(low, high, read, False, answers.length("lower"))


def keep_measured(
    order: Path, typed: Mapping[str, str], where: Literal["order", "shop"] = "order"
) -> Measured:
    """Make a blank out of a form of measures, in a file beside an order or among the shop's.

    Those of the shop are offered to every order, and to each that begins.

    Raises
    ------
    InputError
        Something is missing or cannot be, or the file cannot be written.
    """
    folder = folder_of(order)
    so_far = measured_so_far(folder, typed)
    for each in so_far.fields:
        if each.refused or each.is_missing:
            raise InputError(each.refused or words.measure_missing(each.key))
    answers = so_far.answers
    beside = Root(folder) if where == "order" else Root(shop_folder()).at("blanks")
    beside.make()
    file = beside.path / f"{slug(answers.name, 'cup')}.toml"
    asked = next(question for question in QUESTIONS if question.key == "file")
    return measure_as_answered(answered(asked, str(file), answers)[0])
