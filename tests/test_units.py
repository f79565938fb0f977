from __future__ import annotations

import unicodedata

import pytest
import scipy.constants
from hypothesis import given, strategies as st

from mailmerge.units import MM_PER_INCH, format_mm, numbers_as_typed, numbers_in_words, parse_length


def test_the_inch_is_that_of_the_standard() -> None:
    # NIST SP 811, appendix B.8, and scipy's table of constants: 25.4 mm exactly.
    assert MM_PER_INCH == 25.4 == scipy.constants.inch * 1000


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("12 3/8 in", 314.325),  # 12.375 * 25.4
        ("12.375 in", 314.325),
        ('12.375"', 314.325),
        ("12⅜ in", 314.325),
        ("12-3/8 inches", 314.325),
        ("3/8 in", 9.525),
        ("31.4 cm", 314.0),
        ("314 mm", 314.0),
        ("314mm", 314.0),
        (" 100 ", 100.0),
        (100, 100.0),
        (12.5, 12.5),
        (".5 in", 12.7),
    ],
)
def test_lengths_as_people_type_them(typed: object, mm: float) -> None:
    assert parse_length(typed) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize("char", "¼½¾⅛⅜⅝⅞")
def test_a_fraction_in_one_character_is_what_unicode_says_that_it_is(char: str) -> None:
    """Every eighth that a tape has; its value is that of the Unicode character database."""
    share = unicodedata.numeric(char)
    assert parse_length(f"{char} in") == pytest.approx(share * 25.4, abs=1e-9)
    assert parse_length(f"12{char}in") == pytest.approx((12 + share) * 25.4, abs=1e-9)
    assert parse_length(f'12 {char}"') == pytest.approx((12 + share) * 25.4, abs=1e-9)


def test_a_tape_read_in_rounded_decimals_loses_an_eighth_of_a_millimetre() -> None:
    # Common practice: 12 3/8 in on the tape is keyed in as 12.37; the loss is 0.005 in = 0.127 mm.
    assert parse_length("12 3/8 in") - parse_length("12.37 in") == pytest.approx(0.127, abs=1e-9)


def test_css_pixels_are_a_96th_of_an_inch() -> None:
    # CSS Values and Units Level 3, absolute lengths: 96 px = 1 in. An SVG viewer shows our
    # 314.325 mm page at 1188 px; sizes in mm do not depend on it.
    assert parse_length("12 3/8 in") / MM_PER_INCH * 96 == pytest.approx(1188)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("12 3/0 in", 'Found "12 3/0 in". A fraction cannot have 0 below its line'),
        ("12,5 in", 'Found "12,5 in". Write the decimal comma as a point: "12.5 in".'),
        ("", 'Found "". Give a length such as'),
        ("about 12", 'Found "about 12". Give a length such as'),
        ("12 furlongs", 'Found "12 furlongs". The unit "furlongs" is not known. Give mm'),
        ("12 3/8/2 in", 'Found "12 3/8/2 in". Give a length such as'),
        (True, "Found True. Give a length such as"),
        (None, "Found None. Give a length such as"),
        (float("nan"), "Found nan. Give a length such as"),
        ([12], "Found [12]. Give a length such as"),
    ],
)
def test_what_is_no_length_is_said_with_what_is_needed(typed: object, says: str) -> None:
    with pytest.raises(ValueError, match=r"^Found ") as caught:
        parse_length(typed)
    assert says in str(caught.value)


@given(st.integers(0, 99), st.integers(0, 31))
def test_inches_in_fractions_are_exact_on_the_tape(whole: int, parts: int) -> None:
    # A tape is divided into 1/32 in; n/32 is exact in binary, so the sum can be redone in floats.
    assert parse_length(f"{whole} {parts}/32 in") == pytest.approx((whole + parts / 32) * 25.4)


@pytest.mark.parametrize(
    ("mm", "text"), [(13.84, "13.8 mm"), (314.0, "314 mm"), (0.04, "0 mm"), (-0.01, "0 mm")]
)
def test_lengths_are_shown_short(mm: float, text: str) -> None:
    assert format_mm(mm) == text


@given(st.sets(st.integers(1, 400), min_size=1, max_size=20))
def test_numbers_are_read_as_they_are_printed(numbers: set[int]) -> None:
    assert numbers_as_typed(numbers_in_words(sorted(numbers))) == sorted(numbers)


@pytest.mark.parametrize(
    ("typed", "numbers"),
    [
        ("7", [7]), ("41-42", [41, 42]), ("1-3, 7", [1, 2, 3, 7]), (" 4 - 5 ", [4, 5]),
        ("42-41", []), ("1-", []), ("seven", []), ("", []), ("1-999999999", []), ("-3", []),
    ],
)  # fmt: skip
def test_what_is_no_number_of_an_item_is_none(typed: str, numbers: list[int]) -> None:
    assert numbers_as_typed(typed) == numbers
