"""What may be engraved, and what became of it: the rules of release, put on record."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass

from mailmerge.findings import InputError
from mailmerge.ledger import words
from mailmerge.ledger.ledger import Ledger, LedgerChange, now
from mailmerge.ledger.standing import Event, Record, Standing
from mailmerge.ledger.tray import matter_of, missing


@dataclass(frozen=True)
class UpToDate:
    """An order inside a change, seen to be on record just as its files say now.

    Only :func:`mailmerge.merge.see_up_to_date` makes one. What lets cups out wants it.
    """

    change: LedgerChange


@dataclass(frozen=True)
class Released:
    """What a release came to."""

    released: tuple[Record, ...]
    """Now in the folder, in the order in which they are best engraved."""
    refused: tuple[tuple[Record, str], ...]
    """Confirmed, but their files are not what was confirmed: with what is the matter."""
    waiting: tuple[Record, ...]
    """What could not be released; their standing says why."""


def release(seen: UpToDate, numbers: Collection[int] | None = None, reason: str = "") -> Released:
    """Release what is confirmed, unchanged since and without a stop; inside a change.

    The files themselves come when the change is on record, with :func:`take_up`.

    Parameters
    ----------
    seen
        The order inside a change, as its files say now.
    numbers
        The items to look at; None for all.
    reason
        Why items that still wait for a yes are released all the same; ``""``: they are not.

    Raises
    ------
    InputError
        An item is not known.
    """
    change, reason = seen.change, " ".join(reason.split())
    records = _chosen(change, numbers)
    free = [Standing.CONFIRMED, Standing.SPOILED, *([Standing.WAITING] if reason else [])]
    ready = [each for each in records if each.standing in free]
    refused = [(each, said) for each in ready if (said := matter_of(change.folder, each))]
    wrong = {each.number for each, _ in refused}
    ready = sorted((each for each in ready if each.number not in wrong), key=_best_engraved)
    everything = change.records()
    if not any(r.standing in (Standing.RELEASED, Standing.ENGRAVED) for r in everything):
        change.forget_letter_sizes()
    if ready:
        change.put_letter_sizes(change.settled_sizes())
    place, at = change.last_place(), now()
    for offset, each in enumerate(ready, start=1):
        why = reason if each.standing is Standing.WAITING else ""
        change.put_event(each.number, Event("released", each.seal or "", place + offset, why, at))
    done = {each.number for each in ready} | wrong
    after = {each.number: each for each in change.records()}
    return Released(
        tuple(after[each.number] for each in ready),
        tuple(refused),
        tuple(
            each for each in records
            if each.number not in done
            and (numbers is not None or _is_awaited(each))
        ),
    )  # fmt: skip


def _is_awaited(record: Record) -> bool:
    """Whether a cup is wanted that cannot be released yet."""
    if record.gone or record.standing is Standing.RELEASED:
        return False
    return record.standing is not Standing.ENGRAVED or record.changed_since_engraved


def _best_engraved(record: Record) -> tuple[object, ...]:
    """Sort so that what is set at the machine changes as seldom as possible."""
    loading = record.entry.loading
    return (
        *record.entry.kind, loading.set_circumference_mm or 0.0,
        loading.tilt_deg, loading.mark, str(loading.under_head_at_start_deg),
        record.entry.held_by == "left",
        record.number,
    )  # fmt: skip


def _chosen(ledger: Ledger, numbers: Collection[int] | None) -> list[Record]:
    records = ledger.records()
    if numbers is None:
        return records
    known = {each.number: each for each in records}
    for number in numbers:
        if number not in known:
            raise InputError(words.no_such_item(ledger.folder, number, max(known, default=0)))
    return [known[number] for number in dict.fromkeys(numbers)]


def engraved(change: LedgerChange, numbers: Collection[int] | None) -> list[Record]:
    """Put on record that released items are engraved, all of them for None; inside a change.

    What was taken back after its release may have been on the machine already.

    Raises
    ------
    InputError
        An item is not known, was not released, or its file is not where it should be.
    """
    records = _chosen(change, numbers)
    if numbers is None:
        records = [each for each in records if each.standing is Standing.RELEASED]
    for each in records:
        if missing(change.folder, each):
            raise InputError(words.released_but_not_there(change.folder, each.number))
    after = ("released", "withdrawn")
    return _became(change, records, "engraved", after, "", words.not_released)


def spoiled(change: LedgerChange, numbers: Collection[int], reason: str = "") -> list[Record]:
    """Put on record that a blank was lost on items: they are in the next release again.

    Raises
    ------
    InputError
        An item is not known, or was neither released nor engraved.
    """
    after, refusal = ("released", "withdrawn", "engraved"), words.neither_released_nor_engraved
    return _became(change, _chosen(change, numbers), "spoiled", after, reason, refusal)


def mistaken(change: LedgerChange, numbers: Collection[int]) -> list[Record]:
    """Put on record that cups were not engraved, or not spoiled, after all; inside a change.

    Only the last thing that was put on record of an item can be taken back so. It then stands where
    it stood before.

    Raises
    ------
    InputError
        An item is not known, or it is neither engraved nor spoiled.
    """
    records = _chosen(change, numbers)
    for each in records:
        if not each.events or each.events[-1].what not in ("engraved", "spoiled"):
            raise InputError(words.nothing_to_take_back(each.number, each.name, each.standing))
    for each in records:
        change.put_mistake(each.number)
    return records


def _became(
    change: LedgerChange,
    records: list[Record],
    what: str,
    after: tuple[str, ...],
    reason: str,
    refusal: Callable[[int, str, str], str],
) -> list[Record]:
    for each in records:
        if not each.events or each.events[-1].what not in after:
            raise InputError(refusal(each.number, each.name, each.standing))
    for each in records:
        change.put_event(each.number, Event(what, each.events[-1].seal, None, reason, now()))
    return records
