"""Lengths as people type them, read into millimetres. Nothing else in the program reads them."""

from __future__ import annotations

import math
import re
from decimal import Decimal

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
    (?: (?P<whole>\d+)[\s-]+(?P<num>\d+)/(?P<den>\d+)   # 12 3/8
      | (?P<bare_num>\d+)/(?P<bare_den>\d+)             # 3/8
      | (?P<decimal>\d+(?:\.\d*)?|\.\d+)                # 12.375
    )\s*(?P<unit>[^\d\s./,-][^\d\s]*)?""",
    re.VERBOSE,
)

EXAMPLES = '"314 mm", "31.4 cm", "12 3/8 in" or a plain number of millimetres'


def parse_length(value: object) -> float:
    """Return the length that somebody typed, in millimetres.

    Parameters
    ----------
    value
        A number (millimetres) or text: ``12 3/8 in``, ``12.375"``, ``31.4 cm``, ``314 mm``,
        ``100``. Fractions may be typed as one character (``12⅜ in``).

    Raises
    ------
    ValueError
        The value is no length; the text says what was found and what is wanted.
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError(f"found {value!r}, want a length such as {EXAMPLES}")
    if isinstance(value, int) and abs(value) > 10**9:
        raise ValueError(f"found a number too large, want a length such as {EXAMPLES}")
    if isinstance(value, int | float):
        if value != value or value in (float("inf"), float("-inf")):
            raise ValueError(f"found {value}, want a length such as {EXAMPLES}")
        return float(value)
    text = value.strip()
    for char, fraction in _VULGAR.items():
        text = text.replace(char, f" {fraction}")
    match = _LENGTH.fullmatch(text.strip())
    if match is None:
        if re.search(r"\d,\d", text):
            hint = f'a decimal comma; write it with a point: "{text.replace(",", ".")}"'
            raise ValueError(f'found "{value}", {hint}')
        raise ValueError(f'found "{value}", want a length such as {EXAMPLES}')
    unit = (match["unit"] or "").lower().rstrip(".")
    if unit not in _MM_PER_UNIT:
        raise ValueError(
            f'found "{value}": the unit "{match["unit"]}" is unknown, want mm, cm or in'
        )
    if not unit and (match["den"] or match["bare_den"]):
        raise ValueError(f'found "{value}": a fraction without a unit, want "{value.strip()} in"')
    number = _number(match, value)
    return float(number * _MM_PER_UNIT[unit]) * (-1.0 if match["sign"] else 1.0)


def _number(match: re.Match[str], value: str) -> Decimal:
    """Return the number before the unit; fractions stay exact until the last division."""
    if match["decimal"]:
        return Decimal(match["decimal"])
    whole = Decimal(match["whole"] or 0)
    over, under = match["num"] or match["bare_num"], match["den"] or match["bare_den"]
    if int(under) == 0:
        raise ValueError(f'found "{value}": a fraction over 0, want one such as "12 3/8 in"')
    return whole + Decimal(over) / Decimal(under)


def parse_lengths(text: str) -> list[float]:
    """Return the lengths in a text, in millimetres, parted by commas or semicolons.

    Raises
    ------
    ValueError
        One of them is no length, or there is none.
    """
    if re.search(r"\d,\d", text):
        raise ValueError(
            f'found "{text}": a comma between digits could be either; want a blank after a comma '
            f"between readings, and a point in a number"
        )
    parts = [part for part in re.split(r"[;,]", text) if part.strip()]
    if not parts:
        raise ValueError(f'found "{text}", want lengths such as "12 3/8 in, 12 7/16 in"')
    return [parse_length(part) for part in parts]


def format_inches(length: float, parts: int = 16) -> str:
    """Return a length in millimetres as a tape shows it in inches: ``12 3/8 in``.

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


_RATE = re.compile(r"(?P<number>\d+(?:\.\d*)?|\.\d+)\s*(?:mm\s*/\s*s(?:2|²|\^2)?)?")


def parse_rate(value: object) -> float:
    """Return a speed in mm/s, or an acceleration in mm/s^2, that somebody typed: ``300 mm/s``.

    Raises
    ------
    ValueError
        The value is neither; the text says what was found and what is wanted.
    """
    is_long = isinstance(value, int) and abs(value) >= 10**30
    given = "a number too large" if is_long else f'"{str(value)[:40]}"'
    wanted = 'want a number below a million with mm/s or mm/s2, such as "300 mm/s"'
    if isinstance(value, str):
        match = _RATE.fullmatch(value.strip()[:40])
        value = match and Decimal(match["number"])
    if not isinstance(value, int | float | Decimal) or isinstance(value, bool):
        raise ValueError(f"found {given}, {wanted}")
    if not 0 < value < 1_000_000:
        raise ValueError(f"found {given}, {wanted}")
    return float(value)


def format_mm(length: float, digits: int = 1) -> str:
    """Return a length in millimetres as people read it: ``13.8 mm``, ``314 mm``."""
    text = f"{length:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{'0' if text in ('', '-0') else text} mm"
