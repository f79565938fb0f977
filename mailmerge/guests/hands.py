"""The hand that holds the cup, as clients write it."""

from __future__ import annotations

from enum import StrEnum


class Hand(StrEnum):
    """The hand that holds the cup by its handle."""

    RIGHT = "right"
    LEFT = "left"


_RIGHT = """
    r, right, right hand, right handed, rh, rechte hand, main droite, mano derecha, prawa ręka,
    llaw dde, اليد اليمنى"""
_LEFT = """
    l, left, left hand, left handed, lh, lefty, linke hand, main gauche, mano izquierda, lewa ręka,
    llaw chwith, اليد اليسرى"""
"""The words in English, and what the form for lists offers in each language."""
_WORDS = {
    "": Hand.RIGHT,
    **{" ".join(word.split()): Hand.RIGHT for word in _RIGHT.split(",")},
    **{" ".join(word.split()): Hand.LEFT for word in _LEFT.split(",")},
}


_YES = frozenset(
    ("yes", "y", "true", "1", "x", "✓", "✔", "☑", "ja", "j", "oui", "o", "si", "sí", "s", "sì",
     "sim", "tak", "ano", "evet", "e", "kyllä", "igen", "да")
)  # fmt: skip
_NO = frozenset(
    ("no", "n", "false", "0", "☐", "nein", "nej", "non", "não", "nee", "nie",
     "ne", "hayır", "ei", "nem", "нет")
)  # fmt: skip
"""Answers to a header that asks for one hand: Lefty? Common practice, from memory."""


def hand_of(text: str, asked: Hand | None = None) -> Hand | None:
    """Return the hand that a cell names, right where it is blank, None where it is unclear.

    Below a header that asks for one hand, yes is that hand and no the other. Where it asks for the
    right one, a blank may mean no, and is unclear.
    """
    said = " ".join(text.casefold().replace("-", " ").replace(".", " ").split())
    if asked is not None and said in _YES:
        return asked
    if asked is not None and said in _NO:
        return Hand.LEFT if asked is Hand.RIGHT else Hand.RIGHT
    if asked is Hand.RIGHT and not said:
        return None
    return _WORDS.get(said)
