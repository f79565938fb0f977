"""Handing over: who has taken which finished cup, and what is still here."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.naming import items_named
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import Ledger
from mailmerge.ledger.standing import Record

__all__ = ["MOST_WORDS", "HandedOver", "hand_back", "hand_over"]

MOST_WORDS = 200
"""Longest name of whoever takes cups, in characters."""


@dataclass(frozen=True)
class HandedOver:
    """Cups that were handed over, or that are back."""

    folder: Path
    records: tuple[Record, ...]
    """As they stand now."""
    here: tuple[Record, ...]
    """Engraved, and not handed over."""


def hand_over(
    order: Path, items: Sequence[str] | None, to: str, on: dt.date | None = None
) -> HandedOver:
    """Put on record who has taken finished cups.

    Parameters
    ----------
    items
        As people name them; None for all that are engraved and here.
    to
        Who took them.
    on
        The day; None for today.

    Raises
    ------
    InputError
        Nobody is named, the day is to come, a cup is not known, not engraved, or handed over
        already, or there is none to hand over; nothing is on record then.
    """
    who, day = " ".join(to.split()), on or dt.date.today()
    if not who or len(who) > MOST_WORDS:
        raise InputError(words.to_whom(MOST_WORDS))
    if day > dt.date.today():
        raise InputError(words.day_to_come(day))
    with order_ledger(folder_of(order)) as ledger, ledger.writing() as change:
        chosen = _chosen(change, items)
        if not chosen:
            raise InputError(words.NOTHING_TO_HAND_OVER)
        for record in chosen:
            if not record.is_engraved:
                raise InputError(
                    words.not_engraved_yet(record.number, record.name, record.standing)
                )
            if record.handed:
                raise InputError(
                    words.handed_already(
                        record.number, record.name, record.handed.to, record.handed.day
                    )
                )
        for record in chosen:
            change.put_handover(record.number, who, day)
        return _handed(change, chosen)


def hand_back(order: Path, items: Sequence[str]) -> HandedOver:
    """Put on record that cups were not handed over, or came back.

    Raises
    ------
    InputError
        A cup is not known or was not handed over; nothing is on record then.
    """
    with order_ledger(folder_of(order)) as ledger, ledger.writing() as change:
        chosen = _chosen(change, items)
        for record in chosen:
            if record.handed is None:
                raise InputError(words.not_handed_over(record.number, record.name))
        for record in chosen:
            change.take_handover_back(record.number)
        return _handed(change, chosen)


def _chosen(ledger: Ledger, items: Sequence[str] | None) -> list[Record]:
    records = {record.number: record for record in ledger.records()}
    if items is None:
        return [record for record in records.values() if record.is_here]
    numbers = dict.fromkeys(items_named(ledger, items))
    if unknown := [number for number in numbers if number not in records]:
        raise InputError(words.no_such_cup(unknown[0]))
    return [records[number] for number in numbers]


def _handed(ledger: Ledger, chosen: Sequence[Record]) -> HandedOver:
    records = {record.number: record for record in ledger.records()}
    here = tuple(record for record in records.values() if record.is_here)
    return HandedOver(ledger.folder, tuple(records[each.number] for each in chosen), here)
