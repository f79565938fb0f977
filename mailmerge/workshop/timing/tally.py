"""The shop's log: what became of the blanks of every order, and how long cups took.

An order's ledger is the truth about it. The log is a file for each order in the shop's folder with
its counts, written anew whenever one of them changes; so nothing is counted twice, a call that was
cut off is made good by the next one, and counts outlive an order that is forgotten. No name and no
text of any guest is in it.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from mailmerge.files import Root
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import Ledger
from mailmerge.shelves import Model, validated
from mailmerge.workshop.shop.shop import LOG, Shop
from mailmerge.workshop.timing import words

MANY = 30
"""Blanks on the log, from which on the shop's own spoilage holds."""

_MOST = 10**9
LONGEST = 1_000_000
"""Seconds: no cup lies on a machine for eleven days."""
_Seconds = Annotated[float, Field(gt=0, le=LONGEST, allow_inf_nan=False)]


class Timed(Model):
    """A cup that was timed at the machine."""

    item: int
    machine: str
    """The name of its profile."""
    motion: str
    """A digest of how the profile says that it moves."""
    lines: Annotated[int, Field(ge=1, le=_MOST)]
    """Of all passes together."""
    worked_out: _Seconds
    """Seconds, by profile and settings alone."""
    took: _Seconds
    """Seconds, by the clock."""


class Tally(Model):
    """An order's counts."""

    order: Annotated[str, Field(pattern=r"^[0-9A-Z]{4}-[0-9A-Z]{4}$")]
    """What the order is known by."""
    engraved: Annotated[int, Field(ge=0, le=_MOST)]
    """Cups that exist."""
    spoiled: Annotated[int, Field(ge=0, le=_MOST)]
    """Blanks that were lost."""
    timed: tuple[Timed, ...] = ()


@dataclass(frozen=True)
class Spoilage:
    """How many blanks are lost."""

    percent: Decimal
    source: str
    """Where the number comes from, in words."""

    @property
    def rate(self) -> float:
        """The same from 0 to 1."""
        return float(self.percent) / 100


@dataclass(frozen=True)
class Log:
    """The counts of all orders together."""

    tallies: tuple[Tally, ...]

    @property
    def timed(self) -> list[Timed]:
        """Every cup that was timed, in any order."""
        return [each for tally in self.tallies for each in tally.timed]

    def spoilage(self, shop: Shop) -> Spoilage:
        """Return how many blanks the shop loses.

        From :data:`MANY` blanks on what the log says; at least one is counted, for nobody loses
        none for ever. Until then what ``shop.toml`` says, or the default.
        """
        spoiled = sum(tally.spoiled for tally in self.tallies)
        blanks = spoiled + sum(tally.engraved for tally in self.tallies)
        if blanks >= MANY:
            percent = Decimal(max(spoiled, 1) * 100) / blanks
            if spoiled:
                return Spoilage(percent, words.spoilage_by_log(spoiled, blanks))
            return Spoilage(percent, words.none_spoiled_by_log(blanks))
        is_own = shop.says("shop.spoilage")
        said = words.spoilage_by_shop if is_own else words.spoilage_by_default
        return Spoilage(shop.values.shop.spoilage, said(MANY, blanks))


def tally_of(ledger: Ledger) -> Tally:
    """Return an order's counts, as its ledger has them."""
    records = ledger.records(after_release=True)
    return Tally(
        order=ledger.order_id,
        engraved=sum(record.is_engraved for record in records),
        spoiled=sum(record.spoiled for record in records),
        timed=tuple(
            Timed(
                item=item, machine=timing.machine, motion=timing.motion, lines=timing.lines,
                worked_out=timing.worked_out, took=timing.took,
            )
            for item, timing in ledger.timings()
        ),
    )  # fmt: skip


def put_on_log(shop: Shop, ledger: Ledger) -> None:
    """Write an order's counts into the shop's log, in place of what they were.

    Raises
    ------
    InputError
        It cannot be written.
    """
    tally = tally_of(ledger)
    told = tally.model_dump_json(indent=1).encode()
    Root(shop.folder).write(f"{LOG}/{tally.order}.json", told, is_derived=True)


def read_log(shop: Shop, ledger: Ledger | None = None) -> Log:
    """Return the shop's log, with an order's counts as its own ledger has them.

    Raises
    ------
    InputError
        A file of the log cannot be read or is not one.
    """
    found: dict[str, Tally] = {}
    for path in sorted((shop.folder / LOG).glob("*.json")):
        try:
            data = json.loads(path.read_text(encoding="utf-8"))
        except (OSError, ValueError, RecursionError) as error:
            raise InputError(words.no_log_file(path, error)) from None
        tally = validated(Tally, data, str(path))
        found[tally.order] = tally
    if ledger is not None:
        own = tally_of(ledger)
        found[own.order] = own
    return Log(tuple(found.values()))
