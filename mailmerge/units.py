"""What people type, read into numbers, and numbers as people read them.

Lengths, speeds, times and percentages. Nothing else in the program reads them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Literal

from mailmerge.findings import shown

# What this room says to people

_A_NUMBER_TOO_LARGE = "a number that is too large"
_POINT_FOR_COMMA = "Write a decimal comma as a point."


def _no_length(found: str, bare: Unit = "") -> str:
    return (
        f"Found {found}. Give a length such as 84 mm or 3 5/16 in. A plain number means "
        f"{UNITS_IN_WORDS[bare]}."
    )


def _decimal_comma(found: str, with_point: str) -> str:
    return f"Found {found}. Write the decimal comma as a point: {with_point}."


def _unknown_unit(found: str, unit: str) -> str:
    return f"Found {found}. The unit {unit} is not known. Give mm, cm or in."


def _fraction_without_unit(found: str, with_unit: str) -> str:
    return f"Found {found}. A fraction needs its unit. Give {with_unit}."


def _fraction_over_zero(found: str) -> str:
    return f"Found {found}. A fraction cannot have 0 below its line. Give one such as 3 5/16 in."


def _doubtful_comma(found: str) -> str:
    return (
        f"Found {found}. The comma may be a decimal comma, or it may stand between two readings. "
        f"Write a number with a point, and put a space after a comma between readings."
    )


def _no_lengths(found: str) -> str:
    return f"Found {found}. Give lengths with commas between, such as 3 5/16 in, 3 3/8 in."


def _no_rate(found: str) -> str:
    return (
        f"Found {found}. Give a number from 0.001 to below a million in mm/s or mm/s2, "
        f"such as 300 mm/s."
    )


def _no_minutes(found: str, hint: str) -> str:
    return (
        f"Found {found}. Give a time such as 9:40 (minutes and seconds), 1:02:30, or 12.5 for "
        f"minutes. {hint}"
    ).strip()


def _no_percentage(found: str, hint: str) -> str:
    return f"Found {found}. Give a percentage from 0 to 100, such as 4 %. {hint}".strip()


def _no_amount(found: str, hint: str) -> str:
    return f"Found {found}. Give an amount such as 12.50, without a currency. {hint}".strip()


def _no_range(found: str) -> str:
    return f"Found {found}. Give a range such as 20..80x5, or values such as 20,40."


def _range_of_one(found: str) -> str:
    return f"Found {found}. A range has at least two values. Give one such as 20..80x5."


def _not_rising(found: str) -> str:
    return f"Found {found}. Each value must be above the one before it."


# Lengths

MM_PER_INCH = 25.4
"""Exact: NIST SP 811, appendix B.8."""

_MM_PER_UNIT = {
    "": Decimal(1),
    "mm": Decimal(1),
    "cm": Decimal(10),
    "in": Decimal("25.4"),
    "inch": Decimal("25.4"),
    "inches": Decimal("25.4"),
    '"': Decimal("25.4"),
    "″": Decimal("25.4"),
    "''": Decimal("25.4"),
}

_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip

_LENGTH = re.compile(
    r"""(?P<sign>-)?\s*
    (?: (?P<whole>\d+)[\s-]+(?P<num>\d+)/(?P<den>\d+)   # 11 5/8
      | (?P<bare_num>\d+)/(?P<bare_den>\d+)             # 3/8
      | (?P<decimal>\d+(?:\.\d*)?|\.\d+)                # 11.625
    )\s*(?P<unit>[^\d\s./,-][^\d\s]*)?""",
    re.VERBOSE,
)


Unit = Literal["", "mm", "cm", "in"]
"""What a number without a unit means; ``""`` for millimetres, but not for a fraction."""

UNITS_IN_WORDS: Mapping[Unit, str] = {
    "": "millimetres", "mm": "millimetres", "cm": "centimetres", "in": "inches",
}  # fmt: skip


def unit_in(text: str) -> Unit:
    """Return the first unit in a text of lengths; ``""`` if there is none that is known."""
    for part in re.split(r"[;,]", text):
        for char, fraction in _VULGAR.items():
            part = part.replace(char, f" {fraction}")
        match = _LENGTH.fullmatch(part.strip())
        unit = (match["unit"] or "").lower().rstrip(".") if match else ""
        if unit in ("mm", "cm"):
            return "mm" if unit == "mm" else "cm"
        if unit and unit in _MM_PER_UNIT:
            return "in"
    return ""


def parse_length(value: object, bare: Unit = "") -> float:
    """Return the length that somebody typed, in millimetres.

    Parameters
    ----------
    value
        A number (millimetres) or text: ``11 5/8 in``, ``11.625"``, ``29.5 cm``, ``295 mm``,
        ``100``. Fractions may be typed as one character (``11⅝ in``).
    bare
        What a number without a unit means.

    Raises
    ------
    ValueError
        The value is no length; the text says what was found and what is needed.
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError(_no_length(shown(repr(value))[1:-1]))
    if isinstance(value, int) and abs(value) > 10**9:
        raise ValueError(_no_length(_A_NUMBER_TOO_LARGE))
    if isinstance(value, int | float):
        if value != value or value in (float("inf"), float("-inf")):
            raise ValueError(_no_length(str(value)))
        return float(value)
    text = value.strip()
    for char, fraction in _VULGAR.items():
        text = text.replace(char, f" {fraction}")
    match = _LENGTH.fullmatch(text.strip())
    if match is None:
        if re.search(r"\d,\d", text):
            raise ValueError(_decimal_comma(shown(value), shown(text.replace(",", "."))))
        raise ValueError(_no_length(shown(value), bare))
    unit = (match["unit"] or "").lower().rstrip(".")
    if unit not in _MM_PER_UNIT:
        raise ValueError(_unknown_unit(shown(value), shown(match["unit"])))
    unit = unit or bare
    if unit != "in" and not match["decimal"] and not match["unit"]:
        raise ValueError(_fraction_without_unit(shown(value), shown(f"{value.strip()} in")))
    number = _number(match, value)
    return float(number * _MM_PER_UNIT[unit]) * (-1.0 if match["sign"] else 1.0)


def _number(match: re.Match[str], value: str) -> Decimal:
    """Return the number before the unit; fractions stay exact until the last division."""
    if match["decimal"]:
        return Decimal(match["decimal"])
    whole = Decimal(match["whole"] or 0)
    over, under = match["num"] or match["bare_num"], match["den"] or match["bare_den"]
    if int(under) == 0:
        raise ValueError(_fraction_over_zero(shown(value)))
    return whole + Decimal(over) / Decimal(under)


def parse_lengths(text: str, bare: Unit = "") -> list[float]:
    """Return the lengths in a text, in millimetres, parted by commas or semicolons.

    ``bare`` is what a number without a unit means.

    Raises
    ------
    ValueError
        One of them is no length, or there is none.
    """
    if re.search(r"\d,\d", text):
        raise ValueError(_doubtful_comma(shown(text)))
    parts = _parted(text)
    if not parts:
        raise ValueError(_no_lengths(shown(text)))
    return [parse_length(part, bare) for part in parts]


def _parted(text: str) -> list[str]:
    return [part.strip() for part in re.split(r"[;,]", text) if part.strip()]


def with_units(text: str, bare: Unit) -> str:
    """Return lengths as they were typed, but each with its unit, a bare number with ``bare``."""
    return ", ".join(part if unit_in(part) else f"{part} {bare}".strip() for part in _parted(text))


def format_inches(length: float, parts: int = 16) -> str:
    """Return a length in millimetres as a tape shows it in inches: ``11 5/8 in``.

    Parameters
    ----------
    parts
        Into how many parts the tape divides an inch: 16 or 32; the nearest one is taken.
    """
    steps = round(abs(length) / MM_PER_INCH * parts)
    whole, rest = divmod(steps, parts)
    shared = math.gcd(rest, parts)
    fraction = f"{rest // shared}/{parts // shared}" if rest else ""
    sign = "-" if length < 0 and steps else ""
    return f"{sign}{' '.join(filter(None, [str(whole) if whole or not rest else '', fraction]))} in"


def format_length(length: float, inches: int | None, digits: int = 1) -> str:
    """Return a length in millimetres, with inches beside it if it goes with a tape in inches.

    Parameters
    ----------
    inches
        Into how many parts the tape divides an inch; None for a tape in millimetres.
    """
    told = format_mm(length, digits)
    return f"{told} ({format_inches(length, inches)})" if inches else told


_RATE = re.compile(r"(?P<number>\d+(?:\.\d*)?|\.\d+)\s*(?:mm\s*/\s*s(?:2|²|\^2)?)?")


_LEAST_RATE = Decimal("0.001")
"""In mm/s or mm/s^2; at less, a line takes longer than anybody waits."""


def parse_rate(value: object) -> float:
    """Return a speed in mm/s, or an acceleration in mm/s^2, that somebody typed: ``300 mm/s``.

    Raises
    ------
    ValueError
        The value is neither; the text says what was found and what is needed.
    """
    is_long = isinstance(value, int) and abs(value) >= 10**30
    given = _A_NUMBER_TOO_LARGE if is_long else shown(str(value), 40)
    if isinstance(value, str):
        match = _RATE.fullmatch(value.strip()[:40])
        value = match and Decimal(match["number"])
    if not isinstance(value, int | float | Decimal) or isinstance(value, bool):
        raise ValueError(_no_rate(given))
    if (isinstance(value, float) and math.isnan(value)) or not _LEAST_RATE <= value < 1_000_000:
        raise ValueError(_no_rate(given))
    return float(value)


_CLOCK = re.compile(r"(?:(?P<hours>\d{1,3}):)?(?P<minutes>\d{1,3}):(?P<seconds>[0-5]\d)")
_MINUTES = re.compile(r"(?P<number>\d{1,5}(?:\.\d*)?|\.\d+)\s*(?:min|minutes?)?")


def parse_minutes(value: object) -> float:
    """Return the time that somebody typed in minutes: ``9:40``, ``1:02:30``, ``12.5``, ``12 min``.

    Raises
    ------
    ValueError
        The value is no time up to a week; the text says what was found and what is needed.
    """
    text = str(value).strip()[:40]
    refusal = _no_minutes(shown(text), _hint_at_point(text))
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError(refusal)
    if clock := _CLOCK.fullmatch(text):
        hours, minutes, seconds = (int(clock[key] or 0) for key in ("hours", "minutes", "seconds"))
        if clock["hours"] and minutes > 59:
            raise ValueError(refusal)
        return hours * 60 + minutes + seconds / 60
    plain = _MINUTES.fullmatch(text)
    if plain is None or float(plain["number"]) > 7 * 24 * 60:
        raise ValueError(refusal)
    return float(plain["number"])


def _hint_at_point(text: str) -> str:
    """Return a hint where a decimal comma was typed."""
    return _POINT_FOR_COMMA if re.search(r"\d,\d", text) else ""


_PERCENT = re.compile(r"(?P<number>\d{1,3}(?:\.\d{0,6})?|\.\d{1,6})\s*%?")


def parse_percent(value: object) -> Decimal:
    """Return the percentage that somebody typed, 0 to 100: ``4``, ``4 %``, ``2.5%``.

    Exact: what goes into a price is never rounded on its way.

    Raises
    ------
    ValueError
        The value is none; the text says what was found and what is needed.
    """
    text = str(value).strip()[:40]
    found = None if isinstance(value, bool) else _PERCENT.fullmatch(text)
    if found is None or Decimal(found["number"]) > 100:
        raise ValueError(_no_percentage(shown(text), _hint_at_point(text)))
    return Decimal(found["number"])


_AMOUNT = re.compile(r"\d{1,9}(?:\.\d{1,4})?")


def parse_amount(value: object) -> Decimal:
    """Return the amount of money that somebody typed, exactly: ``12``, ``12.50``.

    A float is taken as it was typed (its shortest form), for that is what TOML makes of ``12.5``.

    Raises
    ------
    ValueError
        The value is none; the text says what was found and what is needed.
    """
    text = str(value).strip()[:40]
    if isinstance(value, bool) or not _AMOUNT.fullmatch(text):
        raise ValueError(_no_amount(shown(text), _hint_at_point(text)))
    return Decimal(text)


_NUMBER = r"\d{1,6}(?:\.\d{1,3})?"


_RANGE = re.compile(rf"({_NUMBER})\s*\.\.\s*({_NUMBER})\s*[x×]\s*(\d{{1,2}})", re.ASCII)


def parse_values(text: str) -> list[Decimal]:
    """Return the values of a range that somebody typed: ``20..80x5``, ``20,40,60``, ``35``.

    Values of a range are evenly spaced, rounded to three digits.

    Raises
    ------
    ValueError
        It is no range, or values are equal or not in order.
    """
    if match := _RANGE.fullmatch(text.strip()):
        low, high, count = Decimal(match[1]), Decimal(match[2]), int(match[3])
        if count < 2:
            raise ValueError(_range_of_one(shown(text)))
        exact = [low + (high - low) * at / (count - 1) for at in range(count)]
        found = [_rounded(value, max(0, 2 - value.adjusted())) for value in exact]
        if len(set(found)) < count:
            found = [_rounded(value, 3) for value in exact]
    else:
        parts = [part.strip() for part in text.split(",")]
        if not all(re.fullmatch(_NUMBER, part, re.ASCII) for part in parts):
            raise ValueError(_no_range(shown(text)))
        found = [Decimal(part) for part in parts]
    if found != sorted(set(found)):
        raise ValueError(_not_rising(shown(text)))
    return found


def _rounded(value: Decimal, places: int) -> Decimal:
    rounded = value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)
    return rounded.quantize(Decimal(1)) if rounded == rounded.to_integral() else rounded.normalize()


def format_minutes(seconds: float) -> str:
    """Return a time in seconds as minutes and seconds: ``9:40``; with hours: ``1:02:30``."""
    whole = round(seconds)
    minutes, rest = divmod(whole, 60)
    if minutes < 60:
        return f"{minutes}:{rest:02d}"
    return f"{minutes // 60}:{minutes % 60:02d}:{rest:02d}"


def format_mm(length: float, digits: int = 1) -> str:
    """Return a length in millimetres as people read it: ``13.8 mm``, ``295 mm``."""
    text = f"{length:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{'0' if text in ('', '-0') else text} mm"


def counted(number: int, word: str, plural: str = "") -> str:
    """Return a number with its word, in the plural where it is not 1: ``1 cup``, ``2 cups``."""
    return f"{number} {word if number == 1 else plural or word + 's'}"


def in_a_row(words: Sequence[str], before_last: str = "and") -> str:
    """Return words as a sentence names them: ``a``, ``a and b``, ``a, b and c``."""
    *first, last = words
    return f"{', '.join(first)} {before_last} {last}" if first else last


MOST_NUMBERS = 100_000
"""That anybody means by one text."""


def numbers_as_typed(text: str) -> list[int]:
    """Return the numbers that :func:`numbers_in_words` writes: ``7``, ``41-42``, ``1-4, 7``.

    Nothing where a text is something else, a range runs backwards, or there are too many.
    """
    found: list[int] = []
    for part in text.split(","):
        match = re.fullmatch(r"\s*(\d{1,9})(?:\s*[-–]\s*(\d{1,9}))?\s*", part, re.ASCII)
        if match is None:
            return []
        first, last = int(match[1]), int(match[2] or match[1])
        if not first <= last < first + MOST_NUMBERS - len(found):
            return []
        found += range(first, last + 1)
    return found


def items_in_words(numbers: Iterable[int]) -> str:
    """Return item numbers with their word: ``item 7``, ``items 1-4, 7``."""
    found = list(numbers)
    return f"{'item' if len(found) == 1 else 'items'} {numbers_in_words(found)}"


def numbers_in_words(numbers: list[int], most: int = 24, count: int = 0) -> str:
    """Return numbers with runs drawn together, such as ``1-4, 7``; ``count`` if there are more."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    words = [str(a) if a == b else f"{a}-{b}" for a, b in runs]
    more = sum(b - a + 1 for a, b in runs[most:]) + max(0, count - len(numbers))
    return ", ".join(words[:most]) + (f" and {more} more" if more > 0 else "")
