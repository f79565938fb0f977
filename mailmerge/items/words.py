"""What this room says to people."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mailmerge.units import format_mm

# Where a face is, and who holds the cup

THE_FRONT = "the front"
"""Of flat goods."""

FACING_DRINKER, FACING_ONLOOKERS = "facing the drinker", "facing the onlookers"


def opposite(zero: str) -> str:
    """Say that a face is opposite what is at the blank's zero."""
    return f"opposite the {zero}"


def degrees_from(zero: str, angle: float) -> str:
    """Say how many degrees a face is from what is at the blank's zero."""
    return f"{angle:g}° from the {zero}"


def listed(faces: Iterable[str]) -> str:
    """Say where several faces are."""
    return " and ".join(faces)


def hand(side: str) -> str:
    """Say which hand holds a cup."""
    return f"{side} hand"


# The line of what an operator wants to know


def description(
    title: str,
    blank: str,
    coat: str,
    where: str,
    heights: Sequence[tuple[str, float]],
    page: tuple[float, float],
    machine: str,
    loading: str,
) -> str:
    """Describe an artwork: texts with their letter heights, the page's width and height (mm)."""
    lettering = "; ".join(
        f"{text}: letter height {format_mm(height, 2)}" for text, height in heights
    )
    width, height = page
    return (
        f"{title}. {blank}, coat {coat}. {where}. {lettering}. The page measures "
        f"{format_mm(width, 2)} by {format_mm(height, 2)}. Machine: {machine}. {loading}"
    )


# The details beside a proof

SIDE, HELD_BY, COAT, LETTER_HEIGHT = "Side", "Held by", "Coat", "Letter height"
BLANK, WALL, CUP, SEAL = "Blank", "Wall", "Cup", "Seal"
LINE = "line"
"""Of a text of the layout's own."""


def letter_heights(heights: Iterable[tuple[str, float]]) -> str:
    """Tell the letter height of each line (mm)."""
    return f"{_numbers(heights)} mm"


def lean(tilt: float, radii: Iterable[tuple[str, float]]) -> str:
    """Tell how a wall leans (degrees), and its radius at each line (mm)."""
    return f"leans {abs(tilt):.1f}°; radius at {_numbers(radii)} mm"


def _numbers(lengths: Iterable[tuple[str, float]]) -> str:
    return ", ".join(f"{line} {format_mm(mm).removesuffix(' mm')}" for line, mm in lengths)


def cup_of(copy: int, quantity: int) -> str:
    """Say which of a guest's cups this is."""
    return f"{copy} of {quantity}"
