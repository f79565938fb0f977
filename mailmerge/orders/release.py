"""From confirmed artwork to the folder that is engraved from, and what became of each cup.

``to-engrave/`` is a picture of the ledger: it holds the files of the released items and no others.
What has to leave it leaves before the ledger says why; what comes in comes after. So there is no
moment, not even after a power cut, in which it holds something that must not be engraved.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from mailmerge.artwork import seal_of
from mailmerge.files import Stage, digest_of, is_file_with, write_file, writing
from mailmerge.findings import InputError
from mailmerge.orders.ledger import Ledger, now
from mailmerge.orders.standing import Event, Record, Standing

MERGED, PACK, TO_ENGRAVE, PAPERS = "merged", "proof-pack", "to-engrave", "papers"
"""Folders of an order: what is made, what is sent, what is engraved, and papers about it."""

_OURS = re.compile(r"\d{3,}_\d{3,}-[a-z0-9-]+\.svg")


@dataclass(frozen=True)
class Released:
    """What a release came to."""

    released: tuple[Record, ...]
    """Now in the folder, in the order in which they are best engraved."""
    refused: tuple[tuple[Record, str], ...]
    """Confirmed, but their files are not what was confirmed: with what is the matter."""
    waiting: tuple[Record, ...]
    """What could not be released; their standing says why."""


@contextmanager
def changing(ledger: Ledger) -> Iterator[None]:
    """Make one change of an order, of its ledger and its folders alike.

    What an earlier call has left is finished first. What must not be engraved any more leaves its
    folder before the change is on record; new files take their places after it.

    Raises
    ------
    InputError
        Another change is being made, or something cannot be written.
    """
    with ledger.writing():
        take_up(ledger)
        yield
        withdraw(ledger)
    with ledger.writing():
        take_up(ledger)


def take_up(ledger: Ledger) -> None:
    """Finish what a call that was cut off has left, inside a change of the ledger.

    Raises
    ------
    InputError
        A file cannot be written.
    """
    Stage.resume(ledger.folder / MERGED, ledger.fact("stage") or "")
    Stage.resume(ledger.folder / PACK, ledger.fact("pack stage") or "")
    records = ledger.records(after_release=True)
    _take_out(ledger.folder, records)
    _lay_out(ledger, records)


def withdraw(ledger: Ledger) -> list[int]:
    """Take back what was released and must not be engraved any more; return which items.

    Inside a change of the ledger, at its end: before it is on record that something has changed,
    nobody must be able to engrave it. What is taken back needs another release.

    Raises
    ------
    InputError
        A file cannot be removed.
    """
    records = ledger.records(after_release=True)
    back = [
        each for each in records
        if each.events and each.events[-1].what == "released"
        and each.standing is not Standing.RELEASED
    ]  # fmt: skip
    for each in back:
        ledger.put_event(each.number, Event("withdrawn", each.events[-1].seal, None, "", now()))
    _take_out(ledger.folder, records)
    return [each.number for each in back]


def missing(folder: Path, record: Record) -> bool:
    """Whether a released item's file is not in the folder to engrave from, as it should be."""
    return record.standing is Standing.RELEASED and not is_file_with(
        folder / TO_ENGRAVE / place_of(record), record.digests[record.entry["artwork"]]
    )


def place_of(record: Record) -> str:
    """Return the file name of a released item: its place in the run, then its own name."""
    artwork = PurePosixPath(record.entry["artwork"])
    return f"{record.events[-1].place:03d}_{artwork.name}"


def _released(records: Iterable[Record]) -> dict[str, Record]:
    return {place_of(each): each for each in records if each.standing is Standing.RELEASED}


def _take_out(folder: Path, records: Iterable[Record]) -> None:
    wanted = _released(records)
    with writing(folder / TO_ENGRAVE):
        for path in sorted((folder / TO_ENGRAVE).glob("*.svg")):
            if _OURS.fullmatch(path.name) and path.name not in wanted:
                path.unlink()


def _lay_out(ledger: Ledger, records: Iterable[Record]) -> None:
    """Put in what is released and not there, or not as it was confirmed."""
    target = ledger.folder / TO_ENGRAVE
    wanted = _released(records)
    for name, record in wanted.items():
        if is_file_with(target / name, record.digests[record.entry["artwork"]]):
            continue
        if _matter(ledger.folder, record):
            with writing(target):  # what is not as it was confirmed must not lie there
                (target / name).unlink(missing_ok=True)
        else:
            write_file(target / name, _artwork_file(ledger.folder, record).read_bytes())


def _artwork_file(folder: Path, record: Record) -> Path:
    return folder / MERGED / str(record.entry["artwork"])


def _matter(folder: Path, record: Record) -> str:
    """Return what is the matter with an item's artwork file; ``""`` if it is what was confirmed."""
    path = _artwork_file(folder, record)
    try:
        data = path.read_bytes()
    except OSError as error:
        return f"{path}: cannot be read: {error.strerror or error}"
    if seal_of(data) != record.seal or digest_of(data) != record.digests[record.entry["artwork"]]:
        return f"{path}: was changed by hand; its seal is {seal_of(data)}, want {record.seal}"
    return ""


def release(ledger: Ledger, numbers: Collection[int] | None = None, reason: str = "") -> Released:
    """Release what is confirmed, unchanged since and without a stop; inside a change.

    The files themselves come when the change is on record, with :func:`take_up`.

    Parameters
    ----------
    numbers
        The items to look at; None for all.
    reason
        Why items that still wait for a yes are released all the same; ``""``: they are not.

    Raises
    ------
    InputError
        An item is not known.
    """
    reason = " ".join(reason.split())
    records = _chosen(ledger, numbers)
    free = [Standing.CONFIRMED, Standing.SPOILED, *([Standing.WAITING] if reason else [])]
    ready = [each for each in records if each.standing in free]
    refused = [(each, said) for each in ready if (said := _matter(ledger.folder, each))]
    wrong = {each.number for each, _ in refused}
    ready = sorted((each for each in ready if each.number not in wrong), key=_best_engraved)
    everything = ledger.records()
    if not any(r.standing in (Standing.RELEASED, Standing.ENGRAVED) for r in everything):
        ledger.forget_letter_sizes()
    if ready:
        ledger.put_letter_sizes(ledger.settled_sizes())
    place, at = ledger.last_place(), now()
    for offset, each in enumerate(ready, start=1):
        why = reason if each.standing is Standing.WAITING else ""
        ledger.put_event(each.number, Event("released", each.seal or "", place + offset, why, at))
    done = {each.number for each in ready} | wrong
    after = {each.number: each for each in ledger.records()}
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
    loading = record.entry["loading"]
    return (
        record.entry["blank"], record.entry["coat"], loading["set_circumference_mm"] or 0.0,
        loading["tilt_deg"], loading["mark"], str(loading["under_head_at_start_deg"]),
        record.entry["held_by"] == "left",
        record.number,
    )  # fmt: skip


def _chosen(ledger: Ledger, numbers: Collection[int] | None) -> list[Record]:
    records = ledger.records()
    if numbers is None:
        return records
    known = {each.number: each for each in records}
    for number in numbers:
        if number not in known:
            raise InputError(
                f"{ledger.folder}: there is no item {number} in this order, want 1 up to "
                f"{max(known, default=0)}"
            )
    return [known[number] for number in dict.fromkeys(numbers)]


def engraved(ledger: Ledger, numbers: Collection[int] | None) -> list[Record]:
    """Put on record that released items are engraved, all of them for None; inside a change.

    What was taken back after its release may have been on the machine already.

    Raises
    ------
    InputError
        An item is not known, or was not released.
    """
    records = _chosen(ledger, numbers)
    if numbers is None:
        records = [each for each in records if each.standing is Standing.RELEASED]
    return _became(ledger, records, "engraved", ("released", "withdrawn"), "")


def spoiled(ledger: Ledger, numbers: Collection[int], reason: str = "") -> list[Record]:
    """Put on record that a blank was lost on items: they are in the next release again.

    Raises
    ------
    InputError
        An item is not known, or was neither released nor engraved.
    """
    after = ("released", "withdrawn", "engraved")
    return _became(ledger, _chosen(ledger, numbers), "spoiled", after, reason)


def _became(
    ledger: Ledger, records: list[Record], what: str, after: tuple[str, ...], reason: str
) -> list[Record]:
    for each in records:
        if not each.events or each.events[-1].what not in after:
            wanted = " or ".join(word for word in after if word != "withdrawn")
            raise InputError(
                f"item {each.number} is {each.standing}, want one that was {wanted}; nothing was "
                f"put on record"
            )
    for each in records:
        ledger.put_event(each.number, Event(what, each.events[-1].seal, None, reason, now()))
    return records
