"""At the bench: release what is confirmed, and put on record what became of each cup."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.naming import items_named
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.findings import Finding, InputError, Severity, by_cause
from mailmerge.ledger import release as rules
from mailmerge.ledger.ledger import Ledger
from mailmerge.ledger.standing import Record, Standing
from mailmerge.ledger.tray import TO_ENGRAVE, changing, look, place_of, put_aside
from mailmerge.merge import seen_up_to_date
from mailmerge.orders import open_order
from mailmerge.workshop.shop.shop import open_shop
from mailmerge.workshop.timing.tally import put_on_log

__all__ = ["SEEN_BY_NOBODY", "Seen", "engraved", "mistaken", "place_of", "release", "spoiled"]

Seen = Mapping[int, str]
"""What somebody at the machine has before them: ``Record.handled``, by item."""

SEEN_BY_NOBODY: Seen = {}


def see_as_seen(records: Iterable[Record], seen: Seen, pressed: str, reason: str = "") -> None:
    """See that cups stand as somebody at the machine has them before them.

    Parameters
    ----------
    pressed
        What was to be put on record of them.
    reason
        What was typed with it.

    Raises
    ------
    InputError
        Something became of one of them since.
    """
    other = [r for r in records if seen.get(r.number, r.handled) != r.handled]
    if other:
        said = [words.how_it_stands(r.number, r.name, r.standing, _since(r)) for r in other[:3]]
        raise InputError(words.is_not_as_before_them(pressed, reason, said, len(other)))


def _since(record: Record) -> str:
    return record.events[-1].at if record.events else ""


@dataclass(frozen=True)
class Released:
    """What a release came to."""

    folder: Path
    tray: Path
    """The folder to engrave from."""
    released: tuple[Record, ...]
    """In the order in which they are best engraved."""
    refused: tuple[tuple[Record, str], ...]
    """Confirmed, but their files are not what was confirmed: with what is the matter."""
    waiting: tuple[Record, ...]
    """What could not be released; :func:`~mailmerge.deeds.status.waits_for` says why."""
    aside: tuple[str, ...]
    """What lay in the folder and was not on record: it was moved into another one."""

    @property
    def look(self) -> dict[Finding, list[int]]:
        """The warnings that stand on what was released, each with its items.

        They may be younger than the client's yes: a list that says "cancelled" beside a cup leaves
        its artwork as it was.
        """
        return by_cause(
            (finding, record.number)
            for record in self.released
            for finding in record.entry.findings
            if finding.severity is Severity.WARNING
        )


def release(
    order: Path,
    items: Sequence[str] = (),
    reason: str | None = None,
    seen: Seen = SEEN_BY_NOBODY,
) -> Released:
    """Copy what is confirmed, unchanged and without a stop into the folder to engrave from.

    Parameters
    ----------
    items
        Numbers, names of files to engrave, or codes of a run sheet; none for all items.
    reason
        Why what still waits for a yes is released all the same; None: it is not.
    seen
        The items as somebody has them before them.

    Raises
    ------
    InputError
        An item is not known, the reason is empty, something has changed since the last merge, or
        an item is not as it was seen; nothing is released then.
    """
    folder = folder_of(order)
    if reason is not None and not reason.strip():
        raise InputError(words.REASON_MISSING)
    with order_ledger(folder) as ledger, changing(ledger) as change:
        see_as_seen(change.records(), seen, words.PRESSED["release"], reason or "")
        current = seen_up_to_date(open_order(folder), change)
        done = rules.release(current, items_named(ledger, items) or None, reason or "")
        aside = put_aside(change)
    return Released(folder, folder / TO_ENGRAVE, done.released, done.refused, done.waiting, aside)


@dataclass(frozen=True)
class Became:
    """What was put on record about cups."""

    folder: Path
    records: tuple[Record, ...]
    """As they stand now."""
    blanks_lost: int
    """In the whole order."""
    not_logged: str
    """Why it is not on the shop's log; ``""`` if it is."""
    left: tuple[Record, ...] = ()
    """Released, but their files were not in the folder: that they were used must be said."""
    against: tuple[Record, ...] = ()
    """Taken back before, and engraved all the same; how they stand says why."""
    clock: tuple[int, dt.datetime] | None = None
    """Of a clock that has ended with it: for which item it ran, and since when."""


def engraved(
    order: Path,
    items: Sequence[str] | None,
    seen: Seen = SEEN_BY_NOBODY,
    ends_clock: bool = False,
) -> Became:
    """Put on record that released items are engraved; their files leave the folder.

    Parameters
    ----------
    items
        Numbers, names of files to engrave, or codes of a run sheet; None for all that is released
        and whose files are in the folder.
    seen
        The items as somebody has them before them.
    ends_clock
        Whether a clock that runs for one of them ends with it.

    Raises
    ------
    InputError
        An item is not known, was not released, its file was changed since, or it is not as it was
        seen; nothing is on record then.
    """
    if items is not None and not items:
        raise InputError(words.ITEMS_OR_ALL)
    folder = folder_of(order)
    with order_ledger(folder) as ledger:
        tray = look(ledger)  # before the change puts back what is missing
        gone = tray.missing
        clock = None
        for number in items_named(ledger, items or ()):
            if number in tray.changed:
                raise InputError(words.changed_in_tray(folder, number))
        with changing(ledger) as change:
            see_as_seen(change.records(), seen, words.PRESSED["engraved"])
            lying = [r for r in change.records() if r.standing is Standing.RELEASED]
            left = [r for r in lying if r.number in gone] if items is None else []
            numbers = (
                items_named(ledger, items)
                if items is not None
                else [r.number for r in lying if r not in left]
            )
            done = rules.engraved(change, numbers)
            found = change.on_machine if ends_clock else None
            if found is not None and found[0] in numbers:
                change.set_on_machine(None)
                clock = found[0], dt.datetime.fromisoformat(found[1])
        became = _became(ledger, done)
    back = tuple(r for r in done if r.events[-1].what == "withdrawn")
    return replace(became, left=tuple(left), against=back, clock=clock)


def spoiled(
    order: Path, items: Sequence[str], reason: str = "", seen: Seen = SEEN_BY_NOBODY
) -> Became:
    """Put on record that a blank was lost on items: they are in the next release again.

    A clock that runs for one of them ends, and what it says is no time of a cup.

    Raises
    ------
    InputError
        An item is not known, was neither released nor engraved, or is not as it was seen; nothing
        is on record then.
    """
    if not items:
        raise InputError(words.SPOILED_NEEDS_ITEMS)
    folder = folder_of(order)
    with order_ledger(folder) as ledger:
        with changing(ledger) as change:
            see_as_seen(change.records(), seen, words.PRESSED["spoiled"], reason)
            numbers = items_named(ledger, items)
            done = rules.spoiled(change, numbers, " ".join(reason.split()))
            if change.on_machine and change.on_machine[0] in numbers:
                change.set_on_machine(None)
        return _became(ledger, done)


def mistaken(order: Path, items: Sequence[str], seen: Seen = SEEN_BY_NOBODY) -> Became:
    """Take back that cups were engraved or spoiled: it was put on record by mistake.

    Raises
    ------
    InputError
        An item is not known, neither engraved nor spoiled, or not as it was seen; nothing is on
        record then.
    """
    if not items:
        raise InputError(words.MISTAKEN_NEEDS_ITEMS)
    with order_ledger(folder_of(order)) as ledger:
        with changing(ledger) as change:
            see_as_seen(change.records(), seen, words.PRESSED["mistaken"])
            done = rules.mistaken(change, items_named(ledger, items))
        return _became(ledger, done)


def _became(ledger: Ledger, done: Sequence[Record]) -> Became:
    records = {record.number: record for record in ledger.records()}
    return Became(
        ledger.folder,
        tuple(records[record.number] for record in done),
        sum(record.spoiled for record in records.values()),
        count_in_shop(ledger),
    )


def count_in_shop(ledger: Ledger) -> str:
    """Write an order's counts into the shop's log; return why not, or ``""``.

    What is on record does not depend on it.
    """
    try:
        put_on_log(open_shop(), ledger)
    except InputError as error:
        return str(error)
    return ""
