"""How many blanks more than cups: as few as make the batch complete almost surely."""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping
from typing import TypeVar

from mailmerge.findings import InputError
from mailmerge.workshop.money import words

CONFIDENCE = 0.95

Pile = TypeVar("Pile", bound=Hashable)


HOPELESS = 0.5
"""From this spoilage on something is wrong that no spare mends."""


def chance(cups: int, spares: int, rate: float) -> float:
    """Return the logarithm of the chance that so many spares are enough.

    Of n + k blanks at the most k are spoiled, each with the chance p: the binomial distribution's
    sum from 0 to k, as a logarithm, for 0.96^20000 is no number that a computer holds.

    Parameters
    ----------
    rate
        How many blanks are spoiled, from 0 up to but not at 1.
    """
    if rate == 0:
        return 0.0
    blanks = cups + spares
    lost, kept = math.log(rate), math.log1p(-rate)
    terms = [
        math.lgamma(blanks + 1)
        - math.lgamma(k + 1)
        - math.lgamma(blanks - k + 1)
        + k * lost
        + (blanks - k) * kept
        for k in range(spares + 1)
    ]
    largest = max(terms)
    total = largest + math.log(math.fsum(math.exp(term - largest) for term in terms))
    return min(0.0, total)


def spares_for(
    piles: Mapping[Pile, int], rate: float, confidence: float = CONFIDENCE
) -> dict[Pile, int]:
    """Return the fewest spare blanks for each pile, so that all piles together are enough.

    A spare of one blank or coat is of no use for another, so all of them have to be enough at the
    same time. One after the other a spare goes where it helps most; that is the fewest, because
    each further spare of a pile helps less than the one before (a sum of spoiled blanks is
    log-concave).

    Parameters
    ----------
    piles
        How many cups of each kind are wanted.

    Raises
    ------
    InputError
        Half of all blanks are spoiled.
    """
    if rate >= HOPELESS:
        raise InputError(words.too_many_spoiled(rate, HOPELESS))
    spares = dict.fromkeys(piles, 0)
    now = {pile: chance(cups, 0, rate) for pile, cups in piles.items()}
    better = {pile: chance(cups, 1, rate) for pile, cups in piles.items()}
    while math.fsum(now.values()) < math.log(confidence):
        best = max(piles, key=lambda pile: better[pile] - now[pile])
        spares[best] += 1
        now[best] = better[best]
        better[best] = chance(piles[best], spares[best] + 1, rate)
    return spares
