"""The folder that is engraved from.

``to-engrave/`` is a picture of the ledger: it holds the files of the released items and no others.
What has to leave it leaves before the ledger says why; what comes in comes after. So there is no
moment, not even after a power cut, in which it holds something that must not be engraved.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

from mailmerge.artwork import seal_of
from mailmerge.files import Root, Stage, digest_of, is_file_with, unreadable
from mailmerge.ledger import words
from mailmerge.ledger.ledger import Ledger, LedgerChange, now
from mailmerge.ledger.standing import Event, Record, Standing

MERGED, PACK, TO_ENGRAVE, PAPERS = "merged", "proof-pack", "to-engrave", "papers"
"""Folders of an order: what is made, what is sent, what is engraved, and papers about it."""

_OURS = re.compile(r"\d{3,}_\d{3,}-[a-z0-9-]+\.svg")


@contextmanager
def changing(ledger: Ledger) -> Iterator[LedgerChange]:
    """Make one change of an order, of its ledger and its folders alike.

    What an earlier call has left is finished first. What must not be engraved any more leaves its
    folder before the change is on record; new files take their places after it.

    Raises
    ------
    InputError
        Another change is being made, or something cannot be written.
    """
    with ledger.writing() as change:
        take_up(change)
        yield change
        withdraw(change)
    with ledger.writing() as change:
        take_up(change)


def take_up(change: LedgerChange) -> None:
    """Finish what a call that was cut off has left, inside a change of the change.

    Raises
    ------
    InputError
        A file cannot be written.
    """
    Stage.resume(change.root.at(MERGED), change.fact("stage") or "")
    Stage.resume(change.root.at(PACK), change.fact("pack stage") or "")
    records = change.records(after_release=True)
    _take_out(change.folder, records)
    _lay_out(change, records)


def withdraw(change: LedgerChange) -> list[int]:
    """Take back what was released and must not be engraved any more; return which items.

    Inside a change of the change, at its end: before it is on record that something has changed,
    nobody must be able to engrave it. What is taken back needs another release.

    Raises
    ------
    InputError
        A file cannot be removed.
    """
    records = change.records(after_release=True)
    back = [
        each for each in records
        if each.events and each.events[-1].what == "released"
        and each.standing is not Standing.RELEASED
    ]  # fmt: skip
    for each in back:
        change.put_event(each.number, Event("withdrawn", each.events[-1].seal, None, "", now()))
    _take_out(change.folder, records)
    return [each.number for each in back]


def missing(folder: Path, record: Record) -> bool:
    """Whether a released item's file is not in the folder to engrave from, as it should be."""
    return record.standing is Standing.RELEASED and not is_file_with(
        folder / TO_ENGRAVE / place_of(record), record.artwork_digest
    )


def place_of(record: Record) -> str:
    """Return the file name of a released item: its place in the run, then its own name."""
    artwork = PurePosixPath(record.artwork)
    return f"{record.events[-1].place:03d}_{artwork.name}"


def _released(records: Iterable[Record]) -> dict[str, Record]:
    return {place_of(each): each for each in records if each.standing is Standing.RELEASED}


def _take_out(folder: Path, records: Iterable[Record]) -> None:
    wanted = _released(records)
    for path in sorted((folder / TO_ENGRAVE).glob("*.svg")):
        if _OURS.fullmatch(path.name) and path.name not in wanted:
            Root(folder).remove(f"{TO_ENGRAVE}/{path.name}")


def _lay_out(change: LedgerChange, records: Iterable[Record]) -> None:
    """Put in what is released and not there, or not as it was confirmed."""
    target = change.folder / TO_ENGRAVE
    wanted = _released(records)
    for name, record in wanted.items():
        if is_file_with(target / name, record.artwork_digest):
            continue
        if matter_of(change.folder, record):
            # What is not as it was confirmed must not lie there.
            change.root.remove(f"{TO_ENGRAVE}/{name}")
        else:
            data = _artwork_file(change.folder, record).read_bytes()
            change.root.write(f"{TO_ENGRAVE}/{name}", data)


def _artwork_file(folder: Path, record: Record) -> Path:
    return folder / MERGED / record.artwork


def matter_of(folder: Path, record: Record) -> str:
    """Return what is the matter with an item's artwork file; ``""`` if it is what was confirmed."""
    path = _artwork_file(folder, record)
    try:
        data = path.read_bytes()
    except OSError as error:
        return unreadable(path, error.strerror or error)
    if seal_of(data) != record.seal or digest_of(data) != record.artwork_digest:
        return words.artwork_changed_by_hand(path, seal_of(data), record.seal)
    return ""
