"""The hand that holds the cup, as clients write it."""

from __future__ import annotations

from enum import StrEnum


class Hand(StrEnum):
    """The hand that holds the cup by its handle."""

    RIGHT = "right"
    LEFT = "left"


_WORDS = {
    "": Hand.RIGHT,
    "r": Hand.RIGHT,
    "right": Hand.RIGHT,
    "right hand": Hand.RIGHT,
    "right handed": Hand.RIGHT,
    "rh": Hand.RIGHT,
    "l": Hand.LEFT,
    "lh": Hand.LEFT,
    "lefty": Hand.LEFT,
    "left": Hand.LEFT,
    "left hand": Hand.LEFT,
    "left handed": Hand.LEFT,
}


def hand_of(text: str) -> Hand | None:
    """Return the hand that a cell names, right where it is blank, None where it is unclear."""
    return _WORDS.get(" ".join(text.casefold().replace("-", " ").replace(".", " ").split()))
