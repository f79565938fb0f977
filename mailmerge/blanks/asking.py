"""What is asked at the bench, with the tape in hand: one question after another.

Each answer is judged at once, by itself and against those before, and asked again with what was
found; what was answered before stays. Any face of the program can ask so: show the text of
:func:`next_question`, and hand what was typed to :func:`answered`, until nothing is left to ask.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import MappingProxyType
from typing import Literal

from mailmerge.blanks import words
from mailmerge.blanks.measuring import (
    Girth,
    Rest,
    Tapes,
    coats_in,
    compared,
    girth,
    inches_as_typed,
    measure,
    measured_blank,
    names_in,
)
from mailmerge.blanks.model import LARGEST, Coat
from mailmerge.findings import InputError
from mailmerge.guests.names import slug
from mailmerge.shelves import one_line
from mailmerge.units import (
    MM_PER_INCH,
    Unit,
    format_inches,
    format_length,
    format_mm,
    parse_lengths,
    unit_in,
    with_units,
)

THINNEST, LOWEST = 60.0, 20.0
"""Millimetres around and high: nobody drinks from less. Own judgement."""

WIDEST = 2.5
"""Times around at one tape what it is at the other: a wider cup is read wrong. Own judgement."""

Parts = Literal[16, 32] | None
Value = str | bool | float | tuple[float, ...] | tuple[Coat, ...] | None

_STAND_IN = (Coat(name="-", colour="#808080"),)


@dataclass(frozen=True)
class Answers:
    """What was answered so far."""

    taken: frozenset[str] = frozenset()
    """Names that blanks have already, as they are compared."""
    values: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    unit: Unit = ""
    """What a bare number means; ``""`` as long as no answer had a unit."""
    parts: Parts = None
    """Into how many parts the tape divides an inch; None for millimetres."""
    typed: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """What was typed, each length with its unit: what the call's options take, too."""
    before: Answers | None = field(default=None, repr=False)
    """All as it was one answer before; None at the first question."""

    def __getitem__(self, key: str) -> Value:
        return self.values.get(key)

    def length(self, key: str, otherwise: float = 0.0) -> float:
        """Return a length in mm."""
        found = self.values.get(key)
        return found if isinstance(found, float) else otherwise

    def readings(self, key: str) -> tuple[float, ...]:
        """Return what was read several times over, in mm."""
        found = self.values.get(key) or ()
        assert isinstance(found, tuple)
        return tuple(each for each in found if isinstance(each, float))

    @property
    def name(self) -> str:
        """What the blank is called."""
        return str(self.values.get("name", ""))

    @property
    def coats(self) -> tuple[Coat, ...]:
        """What it comes in."""
        found = self.values.get("coats") or ()
        assert isinstance(found, tuple)
        return tuple(each for each in found if isinstance(each, Coat))

    @property
    def file(self) -> Path:
        """The file to write."""
        return Path(str(self.values.get("file", "")))

    def told(self, length: float) -> str:
        """Return a length as its tape shows it, in inches beside millimetres where it has them."""
        return format_length(length, self.parts)

    @property
    def wall(self) -> Girth | Tapes | None:
        """The wall as far as it was measured; None before it is known.

        Raises
        ------
        InputError
            Its readings contradict each other.
        """
        if not self["tapered"]:
            return girth("", self.readings("around"), self.readings("across"))
        base = girth("base", self.readings("around-base"), self.readings("across-base"))
        top = girth("top", self.readings("around-top"), self.readings("across-top"))
        if base and top and not 1 / WIDEST < top.circumference / base.circumference < WIDEST:
            around = self.told(base.circumference), self.told(top.circumference)
            raise InputError(words.tapes_unlike(*around))
        if not base or not top or not self.readings("apart"):
            return None
        apart = measure(words.BETWEEN_TAPES, self.readings("apart"))
        tapes = Tapes(base, top, apart, False, self.length("lower"))
        tapes.check()
        return tapes

    @property
    def rest(self) -> Rest:
        """What else is measured on it."""
        height = self.length("height")
        stands_out = self.values.get("stands-out")
        return Rest(
            height,
            (self.length("band-from"), self.length("band-to", height)),
            self.length("handle"),
            self.length("clearance"),
            stands_out if isinstance(stands_out, float) else None,
            bool(self["comes-off"]),
        )

    def check(self) -> None:
        """See that such a blank can be, as far as it is known.

        Raises
        ------
        InputError
            The answers contradict each other.
        """
        wall = self.wall
        if wall is not None and "height" in self.values:
            measured_blank(self.name or "-", self.coats or _STAND_IN, wall, self.rest)


@dataclass(frozen=True)
class Question:
    """Something that is asked."""

    key: str
    text: str
    read: Callable[[str, Answers], tuple[Value, Answers]]
    """From what was typed to a value; raises ValueError or InputError with words."""
    otherwise: Callable[[Answers], str | None] = lambda _: None
    """What an empty answer means, as one would type it; None where there must be an answer."""
    is_asked: Callable[[Answers], bool] = lambda _: True


def next_question(so_far: Answers) -> Question | None:
    """Return what is asked next; None if all is answered."""
    open_ones = (each for each in QUESTIONS if each.key not in so_far.values)
    return next((each for each in open_ones if each.is_asked(so_far)), None)


def answered(question: Question, typed: str, so_far: Answers) -> tuple[Answers, str]:
    """Return the answers with one more, and what is to be said aloud of it; mostly nothing.

    ``back`` is no answer: it takes the one before back, so that it is asked again.

    Raises
    ------
    InputError
        It is no answer: the text says what was found and what is wanted. Ask again.
    """
    if typed.strip().casefold() == words.BACK:
        if so_far.before is None:
            raise InputError(words.NOTHING_BEFORE)
        return so_far.before, ""
    meant = typed.strip() or question.otherwise(so_far)
    if meant is None:
        raise InputError(words.ANSWER_MISSING)
    try:
        value, after = question.read(meant, so_far)
    except ValueError as error:
        raise InputError(str(error)) from None
    told = with_units(meant, after.unit) if question.read in _LENGTHS else meant
    after = replace(
        after,
        values=MappingProxyType({**so_far.values, question.key: value}),
        typed=MappingProxyType({**so_far.typed, question.key: told}),
        before=so_far,
    )
    after.check()
    return after, words.unit_from_now_on(after.unit) if after.unit != so_far.unit else ""


def _read_lengths(typed: str, so_far: Answers) -> tuple[tuple[float, ...], Answers]:
    if not typed:
        return (), so_far
    unit = unit_in(typed) or so_far.unit
    if not unit:
        raise ValueError(words.unit_missing(typed))
    parts = inches_as_typed(f"{typed} in") if unit == "in" else so_far.parts
    after = replace(so_far, unit=so_far.unit or unit, parts=_finer(parts, so_far.parts))
    return tuple(parse_lengths(typed, unit)), after


def _finer(one: Parts, other: Parts) -> Parts:
    """Return the finer one of two divisions of an inch."""
    return 32 if 32 in (one, other) else one or other


def _around(typed: str, so_far: Answers) -> tuple[Value, Answers]:
    found, after = _read_lengths(typed, so_far)
    for length in found:
        _within(length, THINNEST, LARGEST, words.AROUND_A_CUP, after)
    return found, after


def _across(typed: str, so_far: Answers) -> tuple[Value, Answers]:
    found, after = _read_lengths(typed, so_far)
    for length in found:
        _within(length, THINNEST / math.pi, LARGEST / math.pi, words.ACROSS_A_CUP, after)
    return found, after


def _within(found: float, least: float, most: float, what: str, so_far: Answers) -> None:
    if not least <= found <= most:
        bounds = so_far.told(least), so_far.told(most)
        raise ValueError(words.not_plausible(what, so_far.told(found), *bounds))


def _length(typed: str, so_far: Answers) -> tuple[Value, Answers]:
    if not typed:
        return None, so_far
    if typed == "0":
        return 0.0, so_far
    found, after = _read_lengths(typed, so_far)
    if len(found) != 1:
        raise ValueError(words.one_length(typed))
    if found[0] < 0:
        raise ValueError(words.below_zero(after.told(found[0])))
    return found[0], after


def _height(typed: str, so_far: Answers) -> tuple[Value, Answers]:
    found, after = _length(typed, so_far)
    assert isinstance(found, float)
    _within(found, LOWEST, LARGEST, words.HEIGHT_OF_A_CUP, after)
    return found, after


_LENGTHS = (_read_lengths, _around, _across, _length, _height)


def _name(typed: str, so_far: Answers) -> tuple[Value, Answers]:
    if compared(typed) in so_far.taken:
        raise InputError(words.name_taken(typed))
    if len(typed) > 200:
        raise InputError(words.NAME_TOO_LONG)
    return one_line(typed), so_far


def _yes(typed: str, so_far: Answers) -> tuple[Value, Answers]:
    if typed.casefold() not in ("y", "yes", "n", "no"):
        raise InputError(words.yes_or_no(typed))
    return typed.casefold().startswith("y"), so_far


def _coats(typed: str, so_far: Answers) -> tuple[Value, Answers]:
    return coats_in(typed), so_far


def _file(typed: str, so_far: Answers) -> tuple[Value, Answers]:
    file = Path(typed)
    if file.suffix != ".toml":
        file = file.with_name(f"{file.name}.toml")
    if file.exists():
        raise InputError(words.file_exists(file))
    if not file.parent.is_dir():
        raise InputError(words.no_such_folder(file.parent))
    if compared(so_far.name) in names_in(file.parent):
        raise InputError(words.name_taken_there(so_far.name, file.parent))
    return str(file), so_far


def _is_tapered(so_far: Answers) -> bool:
    return so_far["tapered"] is True


def _is_straight(so_far: Answers) -> bool:
    return so_far["tapered"] is False


def _has_handle(so_far: Answers) -> bool:
    return so_far.length("handle") > 0


def _skipped_after(key: str) -> Callable[[Answers], str | None]:
    """Let a question go unanswered if another one was answered."""
    return lambda so_far: "" if so_far.readings(key) else None


def _typed(text: str) -> Callable[[Answers], str]:
    """Take an empty answer for a text."""
    return lambda _: text


def _height_as_read(so_far: Answers) -> str | None:
    return so_far.typed.get("height")


_BESIDE_HANDLE, _BESIDE_SEAM = 10.0, 4.0
"""Millimetres that are kept free on each side, if nobody says otherwise."""


def _kept_free(so_far: Answers) -> str:
    """Return what is usually kept free, by a tape in inches rounded up to one of its parts."""
    usual = _BESIDE_HANDLE if _has_handle(so_far) else _BESIDE_SEAM
    if so_far.unit != "in":
        return format_mm(usual)
    parts = so_far.parts or 16
    return format_inches(math.ceil(usual / MM_PER_INCH * parts) / parts * MM_PER_INCH, parts)


QUESTIONS = (
    Question("name", words.ASK_NAME, _name),
    Question("tapered", words.ASK_TAPERED, _yes, _typed("no")),
    Question("around", words.ASK_AROUND, _around, _typed(""), _is_straight),
    Question("across", words.ASK_ACROSS, _across, _skipped_after("around"), _is_straight),
    Question("around-base", words.ASK_AROUND_BASE, _around, _typed(""), _is_tapered),
    Question(
        "across-base", words.ASK_ACROSS_BASE, _across, _skipped_after("around-base"), _is_tapered
    ),
    Question("around-top", words.ASK_AROUND_TOP, _around, _typed(""), _is_tapered),
    Question(
        "across-top", words.ASK_ACROSS_TOP, _across, _skipped_after("around-top"), _is_tapered
    ),
    Question("apart", words.ASK_APART, _read_lengths, is_asked=_is_tapered),
    Question("lower", words.ASK_LOWER, _length, _typed("0"), _is_tapered),
    Question("height", words.ASK_HEIGHT, _height),
    Question("band-from", words.ASK_BAND_FROM, _length, _typed("0")),
    Question("band-to", words.ASK_BAND_TO, _length, _height_as_read),
    Question("handle", words.ASK_HANDLE, _length, _typed("0")),
    Question("clearance", words.ASK_CLEARANCE, _length, _kept_free),
    Question("comes-off", words.ASK_COMES_OFF, _yes, _typed("no"), _has_handle),
    Question("stands-out", words.ASK_STANDS_OUT, _length, _typed(""), _has_handle),
    Question("coats", words.ASK_COATS, _coats),
    Question("file", words.ASK_FILE, _file, lambda so_far: f"{slug(so_far.name, 'cup')}.toml"),
)
"""In the order in which a tape goes around a cup."""
