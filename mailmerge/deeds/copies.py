"""Dated copies of an order's record: which there are, and going back to one."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.opening import folder_of
from mailmerge.deeds.tray import Tray, look
from mailmerge.files import Root
from mailmerge.findings import InputError
from mailmerge.ledger.contents import contents_of, stamp_of
from mailmerge.ledger.copies import COPIES, Copy, copies_in
from mailmerge.ledger.forgotten import refuse_forgotten
from mailmerge.ledger.ledger import LEDGER_FILES, Ledger, LedgerDamaged, open_image, open_ledger
from mailmerge.ledger.tray import put_aside, replacing

__all__ = ["PRESENT", "Kept", "WentBack", "beside", "copies", "go_back"]

PRESENT = "present"
"""What the record as it is now is called where one is chosen."""


@dataclass(frozen=True)
class Kept:
    """A record that an order can go on with."""

    name: str
    at: dt.datetime | None
    """When the copy was made; None for the present record."""
    state: int
    """How many changes it has seen."""
    totals: Mapping[str, int]
    """How many items it has of each standing."""
    amiss: str
    """Why it cannot be used; ``""`` if it can."""


def copies(order: Path) -> list[Kept]:
    """Return the records that an order can go on with: the present one, then copies, newest first.

    Raises
    ------
    InputError
        There is no such order, or it was forgotten.
    """
    folder = folder_of(order)
    return [_present(folder), *(_copy(folder, copy) for copy in copies_in(folder))]


def beside(order: Path) -> Tray | None:
    """Compare the folder to engrave from with the present record; None where that is damaged.

    Raises
    ------
    InputError
        The folder to engrave from is a link.
    """
    try:
        return look(order)
    except LedgerDamaged:
        return None


def _present(folder: Path) -> Kept:
    try:
        with open_ledger(folder) as ledger:
            refuse_forgotten(ledger)
            return Kept(PRESENT, None, stamp_of(ledger).state, _totals(ledger), "")
    except LedgerDamaged as error:
        return Kept(PRESENT, None, 0, {}, str(error))


def _copy(folder: Path, copy: Copy) -> Kept:
    try:
        with open_image(folder / COPIES / copy.name) as ledger:
            return Kept(copy.name, copy.at, copy.state, _totals(ledger), "")
    except InputError as error:
        return Kept(copy.name, copy.at, copy.state, {}, str(error))


def _totals(ledger: Ledger) -> Mapping[str, int]:
    return Counter(str(record.standing) for record in ledger.records())


@dataclass(frozen=True)
class WentBack:
    """What going back came to."""

    folder: Path
    to: Copy | None
    """None where the present record holds."""
    aside: tuple[str, ...]
    """What lay in the folder to engrave from and is not on that record: it was moved aside."""
    damaged: Path | None
    """Where the ledger that could not be read was put."""


def go_back(order: Path, name: str) -> WentBack:
    """Let an order go on with a dated copy of its record, or say that the present one holds.

    The present record is kept as a copy first. What is not on the record that holds leaves the
    folder to engrave from before it does.

    Parameters
    ----------
    name
        Of the copy, or its beginning; :data:`PRESENT` for the present record.

    Raises
    ------
    InputError
        There is no such copy, it is damaged or of another order, or something cannot be written;
        nothing has changed then.
    """
    folder = folder_of(order)
    if name == PRESENT:
        with open_ledger(folder) as ledger:
            refuse_forgotten(ledger)
            with replacing(ledger) as change:
                aside = put_aside(change)
        return WentBack(folder, None, aside, None)
    copy = _named(folder, name)
    with open_image(folder / COPIES / copy.name) as earlier:
        try:
            return WentBack(folder, copy, _taken_over(folder, earlier, copy), None)
        except LedgerDamaged:
            damaged = _put_damaged_aside(Root(folder))
            return WentBack(folder, copy, _taken_over(folder, earlier, copy), damaged)


def _named(folder: Path, name: str) -> Copy:
    found = [copy for copy in copies_in(folder) if name and copy.name.startswith(name)]
    if len(found) != 1:
        raise InputError(words.no_such_copy(folder, name, len(found)))
    return found[0]


def _taken_over(folder: Path, earlier: Ledger, copy: Copy) -> tuple[str, ...]:
    with open_ledger(folder, missing="replace") as ledger:
        refuse_forgotten(ledger)
        known = contents_of(folder)
        of_this_order = {ledger.order_id if ledger.is_used else "", known.order if known else ""}
        if of_this_order != {""} and earlier.order_id not in of_this_order:
            raise InputError(words.copy_of_other_order(folder / COPIES / copy.name))
        with replacing(ledger) as change:
            change.take_over(earlier)
            return put_aside(change)


def _put_damaged_aside(root: Root) -> Path:
    place = f"{COPIES}/damaged-{dt.datetime.now():%Y-%m-%dT%H-%M-%S}"
    for name in LEDGER_FILES:
        if (root.path / name).exists():
            root.move(name, f"{place}/{name}")
    return root.path / place
