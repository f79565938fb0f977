"""The folder that is engraved from, and changes of an order as a whole.

``to-engrave/`` is a picture of the ledger: it holds the files of the released items and no others.
What has to leave it leaves before the ledger says why; what comes in waits beside it, whole, and
takes its place after. So there is no moment, not even after a power cut or on a full disk, in which
it holds something that must not be engraved, or the record something that is not there.
"""

from __future__ import annotations

import datetime as dt
import os
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from mailmerge.artwork import seal_of
from mailmerge.files import Stage, digest_of, is_file_with, is_link, leads_elsewhere, unreadable
from mailmerge.findings import BeingChanged, InputError
from mailmerge.ledger import copies, words
from mailmerge.ledger.contents import (
    CONTENTS,
    TO_ENGRAVE,
    Contents,
    Lying,
    Stamp,
    contents_of,
    is_plain,
    is_tray_name,
    new_state,
    stamp_of,
    why_not_last,
)
from mailmerge.ledger.copies import COPIES
from mailmerge.ledger.ledger import Ledger, LedgerChange, now
from mailmerge.ledger.standing import Event, Record, Standing

__all__ = ["TO_ENGRAVE"]

MERGED, PACK, PAPERS, ASIDE = "merged", "proof-pack", "papers", "to-engrave-not"
"""Folders of an order: what is made, what is sent, papers about it, and what lay in the tray and
must not be engraved."""

FORMER_LISTS = "lists-before"
"""Folder of an order: lists that others have taken the place of, each with its day."""


@contextmanager
def changing(ledger: Ledger) -> Iterator[LedgerChange]:
    """Make one change of an order, of its ledger and its folders alike.

    What an earlier call has left is finished first. What must not be engraved any more leaves its
    folder before the change is on record; new files take their places after it.

    Raises
    ------
    InputError
        Another change is being made, something cannot be written, or the ledger is not the one
        that was written last.
    """
    with _changing(ledger, _begin) as change:
        yield change


@contextmanager
def replacing(ledger: Ledger) -> Iterator[LedgerChange]:
    """Say in one change what an order's ledger says from now on, whatever its folders hold.

    Raises
    ------
    InputError
        Another change is being made, or something cannot be written.
    """
    with _changing(ledger, _keep_copy) as change:
        yield change


@contextmanager
def _changing(ledger: Ledger, begin: Callable[[LedgerChange], None]) -> Iterator[LedgerChange]:
    stage = Stage(ledger.root)
    try:
        with ledger.writing() as change:
            begin(change)
            yield change
            withdraw(change)
            tray = _compared(change)
            if change.has_changed or _amiss(change):
                _put_on_its_way(change, stage, tray)
            _take_out(change, tray)
    except BaseException:
        stage.give_up()
        raise
    try:
        with ledger.writing() as change:
            take_up(change)
    except BeingChanged:
        return  # whoever changes it has begun with this


def _begin(change: LedgerChange) -> None:
    see_that_it_is_last(change)
    take_up(change)


def _keep_copy(change: LedgerChange) -> None:
    """Keep a copy of a ledger as it is, whichever it is."""
    if change.is_used:
        name = copies.name_of(dt.datetime.now(), stamp_of(change).state, is_kept=True)
        change.root.write(f"{COPIES}/{name}", change.image())


def see_that_it_is_last(ledger: Ledger) -> None:
    """See that a ledger is the one that was written last, as far as the tray knows.

    Raises
    ------
    InputError
        It is older, of another order, or was changed apart; the text says what to do.
    """
    if why := why_not_last(ledger, contents_of(ledger.folder)):
        raise InputError(why)


def take_up(change: LedgerChange) -> None:
    """Finish what a call that was cut off has left, inside a change of the change.

    Raises
    ------
    InputError
        A file cannot be written.
    """
    Stage.resume(change.root.at(MERGED), change.fact("stage") or "")
    Stage.resume(change.root.at(PACK), change.fact("pack stage") or "")
    Stage.resume(change.root, change.fact("tray stage") or "")
    tray = _compared(change)
    _take_out(change, tray)
    _lay_out(change, tray)


def withdraw(change: LedgerChange) -> list[int]:
    """Take back what was released and must not be engraved any more; return which items.

    Inside a change of the change. The files leave at its end, before it is on record. What is taken
    back needs another release.
    """
    records = change.records(after_release=True)
    back = [
        each for each in records
        if each.events and each.events[-1].what == "released"
        and each.standing is not Standing.RELEASED
    ]  # fmt: skip
    for each in back:
        change.put_event(each.number, Event("withdrawn", each.events[-1].seal, None, "", now()))
    return [each.number for each in back]


def put_aside(change: LedgerChange) -> tuple[str, ...]:
    """Move out of the tray what is not on record; return its names.

    Raises
    ------
    InputError
        It cannot be moved.
    """
    names = _compared(change).strangers
    _move_aside(change, names)
    return tuple(names)


@dataclass(frozen=True)
class Tray:
    """What is to be said about an order's folder to engrave from."""

    folder: Path
    strangers: tuple[str, ...]
    """Names of what lies there and is not on record."""
    missing: tuple[int, ...]
    """Released items whose files do not lie there as they should."""
    changed: tuple[int, ...]
    """Those of them in whose place something else lies."""
    amiss: str
    """Why record and tray do not belong together; ``""`` if they do."""
    is_unlisted: bool
    """Whether the list of what was laid out, with the state of the record, is gone."""
    to_stop: int | None
    """The item on the machine whose file was taken back; None if there is none."""


def look(ledger: Ledger) -> Tray:
    """Compare an order's folder to engrave from with what is on record; nothing is changed.

    Raises
    ------
    InputError
        The folder is a link.
    """
    tray = _compared(ledger)
    return Tray(
        ledger.folder / TO_ENGRAVE,
        tuple(tray.strangers),
        tuple(sorted(record.number for record in tray.missing.values())),
        tuple(sorted(each.number for name, each in tray.missing.items() if name in tray.strangers)),
        _amiss(ledger),
        stamp_of(ledger).state > 0 and not os.path.lexists(ledger.folder / TO_ENGRAVE / CONTENTS),
        _to_stop(ledger, tray.records),
    )


def _to_stop(ledger: Ledger, records: Sequence[Record]) -> int | None:
    number, _ = ledger.on_machine or (0, "")
    last = next((each.events[-1].what for each in records if each.number == number), "")
    return number if last == "withdrawn" else None


@dataclass(frozen=True)
class _Compared:
    """The tray as it is beside the record: every file is read once for it."""

    records: Sequence[Record]
    """Of items that were released once."""
    wanted: Mapping[str, Record]
    """What is released, by the name of its file."""
    missing: Mapping[str, Record]
    """What of it does not lie there, or not as it was confirmed."""
    strangers: Sequence[str]
    """What lies there and is not what is on record, of any name and kind."""
    known: Contents | None
    """What was written down of it."""


def _compared(ledger: Ledger) -> _Compared:
    tray = ledger.folder / TO_ENGRAVE
    if is_link(tray):
        raise InputError(leads_elsewhere(tray))
    records = ledger.records(after_release=True)
    wanted = {place_of(each): each for each in records if each.standing is Standing.RELEASED}
    missing = {name: each for name, each in wanted.items() if not _lies(tray / name, each)}
    right = wanted.keys() - missing.keys() | ({CONTENTS} if is_plain(tray / CONTENTS) else set())
    names = [path.name for path in tray.iterdir()] if tray.is_dir() else []
    strangers = sorted(
        name for name in names if name not in right and not _is_left_by_system(tray / name)
    )
    return _Compared(records, wanted, missing, strangers, _known(ledger.folder))


_LEFT_BY_SYSTEMS = {
    ".ds_store": re.compile(rb"\x00\x00\x00\x01Bud1"),
    "thumbs.db": re.compile(rb"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"),
    "desktop.ini": re.compile(rb"(\xff\xfe|\xef\xbb\xbf)?[\s\0]*\[[.\w\0]+\]\0?[ \0]*[\r\n]"),
}
"""Files that systems put into any folder that they show, and how they begin. Common practice; the
second is the signature of a compound file ([MS-CFB], 2.2), the others come from memory."""


def _is_left_by_system(path: Path) -> bool:
    """Whether a file is one that a system has left: no machine takes it, and it comes again.

    What is only called so is a file like any other.
    """
    begins = _LEFT_BY_SYSTEMS.get(path.name.casefold())
    if begins is None or not is_plain(path):
        return False
    try:
        with path.open("rb") as file:
            return begins.match(file.read(200)) is not None
    except OSError:
        return False


def _amiss(ledger: Ledger) -> str:
    try:
        return why_not_last(ledger, contents_of(ledger.folder))
    except InputError as error:
        return str(error)


def missing(folder: Path, record: Record) -> bool:
    """Whether a released item's file is not in the folder to engrave from, as it should be."""
    return record.standing is Standing.RELEASED and not _lies(
        folder / TO_ENGRAVE / place_of(record), record
    )


def _lies(path: Path, record: Record) -> bool:
    return not is_link(path) and is_file_with(path, record.artwork_digest)


def place_of(record: Record) -> str:
    """Return the file name of a released item: its place in the run, then its own name."""
    artwork = PurePosixPath(record.artwork)
    return f"{record.events[-1].place:03d}_{artwork.name}"


def _take_out(change: LedgerChange, tray: _Compared) -> None:
    """Take out what the program has put in, or seems to have, and is not on record now.

    Whatever is not byte for byte what the ledger once released is moved aside, whatever a list that
    lies with it says.
    """
    released = {
        event.seal for each in tray.records for event in each.events if event.what == "released"
    }
    aside = []
    for name in tray.strangers:
        if not (name in tray.wanted or is_tray_name(name) or name == CONTENTS):
            continue  # told, and moved aside by the next release
        path = change.folder / TO_ENGRAVE / name
        if is_plain(path) and is_tray_name(name) and seal_of(path.read_bytes()) in released:
            change.root.remove(f"{TO_ENGRAVE}/{name}")
        else:
            aside.append(name)
    _move_aside(change, aside)


def _known(folder: Path) -> Contents | None:
    """Return what was written down of a tray; None where it is not as this program writes it."""
    try:
        return contents_of(folder)
    except InputError:
        return None


def _move_aside(change: LedgerChange, names: Sequence[str]) -> None:
    """Move something out of the tray into a folder of its day, with a note."""
    if not names:
        return
    at = dt.datetime.now()
    folder = stem = f"{ASIDE}/{at:%Y-%m-%dT%H-%M-%S}"
    number = 1
    while (change.folder / folder).exists():
        number += 1
        folder = f"{stem}-{number}"
    for name in names:
        change.root.move(f"{TO_ENGRAVE}/{name}", f"{folder}/{name}")
    note = words.note_of_what_was_moved(change.order_id, f"{at:%Y-%m-%d %H:%M}", names)
    change.root.write(f"{folder}/{words.NOTE_FILE}", note.encode())


def _put_on_its_way(change: LedgerChange, stage: Stage, tray: _Compared) -> None:
    """Write what the tray is to hold beside it, before it is on record; with a copy, if one is due.

    Raises
    ------
    InputError
        It cannot be written; then nothing of it is on record.
    """
    stamp = new_state(change, tray.known)
    change.set_fact("tray stage", stage.token)
    for folder in (TO_ENGRAVE, COPIES):
        change.root.at(folder).make()  # on a full disk files can be renamed, but no folder made
    stage.open_up()
    for name, record in tray.missing.items():
        if (artwork := _artwork_of(change.folder, record)) is not None:
            stage.write(f"{TO_ENGRAVE}/{name}", artwork)
    contents = _contents(change.order_id, stamp, tray.wanted)
    stage.write(f"{TO_ENGRAVE}/{CONTENTS}", contents.to_json())
    stage.write(copies.NEWEST, f"{stamp.state} {stamp.mark}".encode())
    at, kept = dt.datetime.now(), copies.copies_in(change.folder)
    said = change.said
    if copies.is_due(kept, at, change.size, said != change.fact("said on the last copy")):
        change.set_fact("said on the last copy", said)
        name = copies.name_of(at, stamp.state)
        stage.write(f"{COPIES}/{name}", change.image())
        kept = [copies.Copy(name, at, stamp.state), *kept]
    stage.settle([f"{COPIES}/{each.name}" for each in copies.outdated(kept, at.date())])


def _contents(order: str, stamp: Stamp, wanted: Mapping[str, Record]) -> Contents:
    files = {
        name: Lying(seal=record.seal or "", digest=record.artwork_digest)
        for name, record in wanted.items()
    }
    return Contents(order=order, stamp=stamp, files=files)


def _lay_out(change: LedgerChange, tray: _Compared) -> None:
    """Put in what is released and not there, and write down what the tray is to hold."""
    for name, record in tray.missing.items():
        if (artwork := _artwork_of(change.folder, record)) is not None:
            change.root.write(f"{TO_ENGRAVE}/{name}", artwork)
    stamp = stamp_of(change)
    contents = _contents(change.order_id, stamp, tray.wanted)
    if stamp.state and contents != tray.known:
        change.root.write(f"{TO_ENGRAVE}/{CONTENTS}", contents.to_json())


def _artwork_of(folder: Path, record: Record) -> bytes | None:
    """Return the bytes of an item's artwork if they are what was confirmed."""
    try:
        data = _artwork_file(folder, record).read_bytes()
    except OSError:
        return None
    return data if digest_of(data) == record.artwork_digest else None


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
