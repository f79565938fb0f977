"""How many blanks more than cups: as few as make the batch complete almost surely."""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping
from typing import TypeVar

CONFIDENCE = 0.95

Pile = TypeVar("Pile", bound=Hashable)


def enough(cups: int, spares: int, rate: float) -> float:
    """Return the chance that so many spares are enough.

    Of n + k blanks at the most k are spoiled, each with the chance p: the binomial distribution's
    sum from 0 to k.

    Parameters
    ----------
    rate
        How many blanks are spoiled, from 0 up to but not at 1.
    """
    if rate == 0:
        return 1.0
    blanks = cups + spares
    lost, kept = math.log(rate), math.log1p(-rate)
    return min(
        1.0,
        math.fsum(
            math.exp(
                math.lgamma(blanks + 1)
                - math.lgamma(k + 1)
                - math.lgamma(blanks - k + 1)
                + k * lost
                + (blanks - k) * kept
            )
            for k in range(spares + 1)
        ),
    )


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
    """
    spares = dict.fromkeys(piles, 0)
    chance = {pile: enough(cups, 0, rate) for pile, cups in piles.items()}
    while math.prod(chance.values()) < confidence:
        better = {pile: enough(piles[pile], spares[pile] + 1, rate) for pile in piles}
        best = max(piles, key=lambda pile: better[pile] / chance[pile])
        spares[best] += 1
        chance[best] = better[best]
    return spares
