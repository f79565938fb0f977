"""Whether first and last names stand in each other's columns, judged by how common each name is.

The counts are those of the United States census of 1990, which the package ``names`` brings: some
5,000 first and 89,000 last names of people from many countries. Usual names of other countries,
which it has rarely or not at all, are in :mod:`~mailmerge.guests.abroad`. A name that is in neither
says nothing, and so does a row whose two names do not say the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from math import log
from pathlib import Path

from mailmerge.guests import abroad
from mailmerge.guests.forms import GROUPS_OF
from mailmerge.guests.names import is_particle, plain

_RARE = 0.002
"""Per cent of people: below it, a name's share says little."""

SURE = -4.0
"""So far a single row leans."""

_LEAST = 0.25
"""Each of the two names leans at least so far."""

_SURE_IN_ALL = -5.0
_MOST_OF_ONE = 3.0
"""How far all rows lean together, and how much of it one of them may have.

Measured on 1,000 made-up names in each of 31 countries, rare ones as often as usual ones: of rows
that are right 0 to 0.6 % are called exchanged, and of 5,400 lists of eight none. Of rows that are
turned, 74 to 89 % are found in English, 29 to 74 in Spanish and Portuguese, 35 to 68 in the North
and 0 to 30 in the East of Europe; of lists of eight two in three, of lists of thirty nine in ten.
"""

_OF_A_PARTICLE = -5.0

_MOST_OF_HALF = 1.0
"""How far a row leans at the most of which only one name is known."""


@lru_cache(maxsize=1)
def _counted() -> tuple[Mapping[str, float], Mapping[str, float]]:
    """Return the shares, in per cent, of first names and of last names in the census."""
    import names

    women, men, last = (_read(names.FILES[key]) for key in ("first:female", "first:male", "last"))
    first = {name: (women.get(name, 0.0) + men.get(name, 0.0)) / 2 for name in {*women, *men}}
    return first, last


@lru_cache(maxsize=1)
def _shares() -> tuple[Mapping[str, float], Mapping[str, float]]:
    """Return the shares with those of names that are usual in other countries."""
    first, last = _counted()
    return _with(abroad.FIRST, first), _with(abroad.LAST, last)


_ABROAD = 0.03
"""Per cent of people, at the least, for a name that is usual elsewhere. Own judgement."""


def _with(usual: frozenset[str], shares: Mapping[str, float]) -> dict[str, float]:
    return {**shares, **{name: max(_ABROAD, shares.get(name, 0.0)) for name in usual}}


def _read(file: str) -> dict[str, float]:
    # Four columns: the name, its share, and two that nobody needs. There are 94,000 lines.
    words = Path(file).read_text(encoding="ascii").casefold().split()
    return dict(zip(words[::4], map(float, words[1::4]), strict=True))


_WORDS = re.compile(r"[^\W\d_]{2,}")


def _is_first(name: str) -> float:
    """Return how much more a word is a first name than a last name, as a logarithm."""
    first, last = _shares()
    shares = first.get(name, 0.0), last.get(name, 0.0)
    if not shares[0] and abroad.ends_as_last(name):
        shares = 0.0, max(_ABROAD, shares[1])
    return log((shares[0] + _RARE) / (shares[1] + _RARE)) if any(shares) else 0.0


def is_borne(word: str, as_first: bool) -> bool:
    """Whether a plain word is a first name of somebody, or a last one of some of the census."""
    return (_shares()[0] if as_first else _counted()[1]).get(word, 0.0) > 0.0


def is_usual_last(word: str) -> bool:
    """Whether a plain word is a last name of one in eight thousand of the census, or of more.

    Many a name of other languages is a word of theirs, too: Koch, Leroux.
    """
    return _counted()[1].get(word, 0.0) >= _USUAL_LAST


_USUAL_LAST = 0.0125


def is_usual_first(word: str) -> bool:
    """Whether a plain word is a first name of one in ten thousand people, or of more."""
    return _shares()[0].get(word, 0.0) >= _USUAL


_USUAL = 0.01


def is_rather_first(word: str) -> bool:
    """Whether a plain word is a first name about as often as a last one, or more."""
    return is_borne(word, True) and _is_first(word) >= _RATHER


_RATHER = -0.5


def is_family_first(first: str, last: str) -> bool:
    """Whether a name is more likely written the other way round, by its first and last word."""
    if leaning(first, last) <= SURE:
        return True
    firsts, lasts = _plain_words(first), _plain_words(last)
    if len(firsts) != 1 or len(lasts) != 1:
        return False
    one, other = firsts[0], lasts[0]
    is_only_first = _shares()[0].get(other, 0.0) >= _KNOWN and not is_borne(other, False)
    return is_only_first and not is_borne(one, True)


_KNOWN = 0.005


_SAINT = re.compile(r"\b(?:st|saint)\b\.?[ -](?=[^\W\d_])")


def _plain_words(text: str) -> list[str]:
    """Return the plain words of a name; St. John is one, as the census writes it."""
    return _WORDS.findall(_SAINT.sub("st", plain(re.sub("['’]", "", text))))


def _without_particles(found: list[str]) -> list[str]:
    """Return the words of a name from the first one on that is no particle: De Vries, Le Roux."""
    led = next((at for at, word in enumerate(found) if not is_particle(word)), 0)
    return found[led:]


def leaning(first: str, last: str) -> float:
    """Return how a row leans: above 0 with the names in their own columns, below 0 if exchanged.

    A small particle before the first name tells that it is a last name: van der Berg.
    """
    leads = [bool(text[:1].islower() and " " in text and is_particle(text.split()[0]))
             for text in (first, last)]  # fmt: skip
    if leads[0] != leads[1]:
        return _OF_A_PARTICLE if leads[0] else -_OF_A_PARTICLE
    firsts, lasts = _without_particles(_plain_words(first)), _plain_words(last)
    if not firsts or not lasts:
        return 0.0
    if len(firsts) == len(lasts) == 1 and is_surely_turned(firsts[0], lasts[0]):
        return min(SURE, _is_first(firsts[0]) - _is_first(lasts[0]))
    one, other = _is_first(firsts[0]), -_is_first(lasts[-1])
    is_no_first = first.isascii() and not is_borne(firsts[0], True) and len(firsts) == 1
    if is_no_first and one <= _MANY_S_LAST and _is_no_great_last(lasts[-1]):
        return min(SURE, one)  # Wright Oliver
    if not one or not other:  # of one of them nothing is known
        return max(-_MOST_OF_HALF, min(_MOST_OF_HALF, one + other))
    agree = one * other > 0 and min(abs(one), abs(other)) >= _LEAST
    if not agree:
        return 0.0
    # Of names with accents the census knows too little: Benoît is a first name.
    together = one + other
    is_nearly_sure = is_no_first and (
        (one <= _NO_FIRST and together <= _NEARLY_SURE)
        or (one <= _HARDLY_FIRST and together <= _TOGETHER)
    )
    return min(SURE, one + other) if is_nearly_sure else one + other


def is_surely_turned(first: str, last: str) -> bool:
    """Whether of two plain words only the second is a first name, and the first one a last name.

    What the census does not know of may be known for its short forms: Schmidt Anja.
    """
    if (
        is_borne(first, True)
        or first in GROUPS_OF
        or not (is_borne(last, True) or last in GROUPS_OF)
    ):
        return False
    is_no_last = (
        not is_borne(last, False)
        or (last in GROUPS_OF and not is_usual_last(last))
        or (is_usual_first(last) and _is_first(last) >= _LEAST_OF_TURNED)
    )
    return _share_of_last(first) >= _least_beside(last) and is_no_last


def _share_of_last(word: str) -> float:
    return _shares()[1].get(word, 0.0)


def _least_beside(last: str) -> float:
    """Return how usual a last name is at least in front of another word: of people, or of many.

    Laurent Roger and Said Ernst are written as they are called.
    """
    return _OF_MANY if _share_of_last(last) >= _OF_FEW else _OF_SOME


_LEAST_OF_TURNED = 2.0
_OF_SOME, _OF_FEW, _OF_MANY = 0.001, 0.002, 0.004

_MANY_S_LAST, _GREAT_LAST = -3.0, 0.1
_NO_FIRST, _NEARLY_SURE = -1.2, -2.4
_HARDLY_FIRST, _TOGETHER = -0.6, -3.2
"""So far a row leans whose first word is many people's last name and nobody's first: Koch Andreas.

Measured on 2,000 made-up names in each of 15 languages: hardly a row more that is right is called
exchanged, and of those that are turned, 86 % for 83 % in English and 16 % for 12 % in French.
So does one whose first word is hardly anybody's name but a last one, beside a first name that is
hardly a last one (Zimmermann Paul), and one whose first word is very many people's last name
(Wright Oliver): of 44,400 rows of all languages that ``faker`` has, 10 that are right are called
exchanged, for 4 without them.
"""


def _is_no_great_last(word: str) -> bool:
    """Whether a word is a usual first name, and not the last name of one in a thousand, as Lee."""
    return is_usual_first(word) and _shares()[1].get(word, 0.0) < _GREAT_LAST


def turned(rows: Iterable[int], leanings: Iterable[float]) -> tuple[bool, frozenset[int]]:
    """Return whether the columns as a whole are exchanged, and else which rows are."""
    found = list(zip(rows, leanings, strict=True))
    if sum(max(-_MOST_OF_ONE, min(_MOST_OF_ONE, each)) for _, each in found) <= _SURE_IN_ALL:
        return True, frozenset()
    return False, frozenset(row for row, each in found if each <= SURE)
