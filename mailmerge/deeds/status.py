"""An order at a glance: where every item stands, what it waits for, and who has said what."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.folder import folder_of
from mailmerge.findings import whole
from mailmerge.ledger.conversation import Answer
from mailmerge.ledger.copies import Copy, copies_in
from mailmerge.ledger.forgotten import FORGOTTEN
from mailmerge.ledger.ledger import LEDGER_FILES, open_ledger
from mailmerge.ledger.money import Account
from mailmerge.ledger.standing import Handover, OpenQuestion, Record, Standing
from mailmerge.ledger.synced import marks_in
from mailmerge.ledger.tray import ASIDE, TO_ENGRAVE, Tray, look
from mailmerge.orders.said import ORDER_FILE, inputs_digest, list_of

__all__ = [
    "Account",
    "Forgotten",
    "Handover",
    "OpenQuestion",
    "Record",
    "Standing",
    "Status",
    "history",
    "is_plain",
    "last_word",
    "opinions",
    "seen_at",
    "status",
    "waits_for",
    "wanted_in_words",
]


@dataclass(frozen=True)
class Status:
    """An order and its items."""

    folder: Path
    order_id: str
    title: str
    is_current: bool
    """Whether list and ``order.toml`` are as the last merge found them."""
    is_engine_current: bool
    """Whether the program is the one that made what is on record."""
    records: tuple[Record, ...]
    questions: tuple[OpenQuestion, ...]
    """What came back and is not settled."""
    tray: Tray
    """The folder to engrave from, compared with the record."""
    marked: tuple[str, ...]
    """Files with the marks that synced folders leave where a file was changed twice."""
    copies: tuple[Copy, ...]
    """Dated copies of the record, the newest first."""
    account: Account
    """What was agreed and paid."""

    @property
    def totals(self) -> dict[str, int]:
        """How many items there are of each standing."""
        return dict(Counter(str(record.standing) for record in self.records))

    @property
    def here(self) -> tuple[Record, ...]:
        """The cups that are engraved and not handed over."""
        return tuple(record for record in self.records if record.is_here)

    @property
    def spoiled(self) -> int:
        """How many blanks were lost."""
        return sum(record.spoiled for record in self.records)


@dataclass(frozen=True)
class Forgotten:
    """What is kept of an order that was forgotten."""

    kept: dict[str, object]


def status(order: Path) -> Status | Forgotten:
    """Show where every item of an order stands.

    Raises
    ------
    InputError
        There is no such order, or nothing was merged yet.
    """
    folder = folder_of(order)
    with open_ledger(folder) as ledger:
        if (kept := ledger.fact(FORGOTTEN)) is not None:
            return Forgotten(json.loads(kept))
        records = ledger.records()
        return Status(
            folder,
            ledger.order_id,
            ledger.fact("title") or "",
            ledger.fact("inputs") == inputs_digest(folder),
            ledger.is_of_this_engine,
            tuple(records),
            tuple(ledger.questions()),
            look(ledger),
            tuple(marks_in(folder, _called_so(folder))),
            tuple(copies_in(folder)),
            ledger.account,
        )


def seen_at(order: Path) -> object:
    """Return a value that stays the same as long as nothing that :func:`status` tells changes.

    It goes by size and time of the files and folders that an order is made of, and reads none.
    """
    folder = folder_of(order)
    listed = list_of(folder)
    watched = [folder / name for name in (ORDER_FILE, TO_ENGRAVE, *LEDGER_FILES[:2])]
    return tuple(_looks(path) for path in [*watched, *([listed] if listed else [])])


def _looks(path: Path) -> tuple[int, int] | None:
    try:
        found = path.stat()
    except OSError:
        return None
    # Whoever reads the ledger leaves an empty file beside it for a while.
    return (found.st_mtime_ns, found.st_size) if found.st_size else None


def _called_so(folder: Path) -> list[str]:
    """Return names that may look like a second version of a file and are none."""
    listed = list_of(folder)
    return [ASIDE, *([listed.name] if listed else [])]


def waits_for(record: Record) -> str:
    """Return in words why an item is not released."""
    match record.standing:
        case Standing.WAITING:
            missing = record.said.missing
            if not missing:
                return words.WAITS_FOR_YES
            return words.waits_for_yes_of(missing, record.asked.all)
        case Standing.TO_CHANGE:
            return words.wants_change(wanted_in_words(record.said.objections[-1]))
        case Standing.DISAGREE:
            return words.they_disagree(opinions(record))
        case Standing.IN_QUESTION:
            return words.in_question(
                [(each.number, each.place, whole(each.words)) for each in record.questions]
            )
        case Standing.STOPPED:
            return words.is_stopped(_stop_of(record))
        case Standing.GONE:
            return words.IS_GONE
        case Standing.ENGRAVED if not record.changed_since_engraved:
            return words.IS_ENGRAVED
        case Standing.ENGRAVED:
            return words.ENGRAVED_AND_CHANGED
        case standing:
            return str(standing)


def _stop_of(record: Record) -> str:
    stop = record.entry.stop
    return stop.message if stop else ""


def last_word(record: Record) -> str:
    """Return in words what was said or done last about an item, where there is more to say."""
    note = _note_on(record)
    return words.note_spoiled(note, record.spoiled) if record.spoiled else note


def opinions(record: Record) -> list[tuple[str, str]]:
    """Return who says what about an item as it is now: each with a wish, ``""`` for a yes."""
    return [
        (a.said_by, wanted_in_words(a) if a.verdict == "change" else "")
        for a in record.said.opinions
    ]


def _note_on(record: Record) -> str:
    if record.standing is Standing.DISAGREE:
        return words.opinions_in_words(opinions(record))
    if record.wish:
        return wanted_in_words(record.wish)
    if record.standing is Standing.STOPPED:
        return _stop_of(record)
    if record.standing is Standing.WAITING and record.asked.people:
        said = [a.said_by for a in record.said.yeses]
        return words.note_missing(said, record.said.missing, record.asked.all)
    if record.is_engraved and record.gone:
        return words.NOTE_GONE
    if record.handed:
        return words.note_handed(record.handed.to, record.handed.day)
    if record.changed_since_engraved:
        return words.note_changed(record.number)
    if record.waived and not record.yes:
        return words.note_waived(record.waived.reason)
    if record.yes:
        return words.note_yes(record.yes.said_by, minute(record.yes.at))
    return ""


def minute(at: str) -> str:
    """Return a time on record as people read it."""
    return at[:16].replace("T", " ")


def wanted_in_words(wish: Answer) -> str:
    """Return what a wish asks for: its words, and the texts that it names."""
    return words.wish(wish.words, wish.wanted) or words.ANOTHER_TEXT


def is_plain(record: Record) -> bool:
    """Whether nothing was said about an item but yes."""
    only_yes = all(a.verdict == "yes" for a in record.answers)
    return only_yes and not (record.corrections or record.settled or record.apart)


def history(record: Record, has_seals: bool = True) -> list[tuple[str, str]]:
    """Return when what was said and done about an item, in words, oldest first.

    Parameters
    ----------
    has_seals
        Whether each word says of which artwork it was, by its seal.
    """
    told: list[tuple[str, str]] = []
    for a in record.answers:
        told.append((a.at, _told_answer(a, a.seal if has_seals else "")))
    for c in record.corrections:
        told_of = words.told_taken_back if c.is_taken_back else words.told_correction
        told.append((c.at, told_of(c.said_by, c.field, c.was, c.text)))
    for each in record.apart:
        own = each.own
        what = words.own_in_words(own.letter_height, own.rows, own.font)
        told.append((each.at, words.told_apart(each.said_by, what)))
    told += [(d.at, words.told_decision(d.said_by, d.reason)) for d in record.decisions]
    for s in record.settled:
        asked = s.question
        told.append((asked.at, words.told_question(asked.said_by, asked.place, asked.words)))
        told.append((s.at, words.told_settlement(s.said_by, asked.number, s.outcome)))
    told += [(e.at, words.told_event(e.what, e.reason)) for e in record.events]
    if record.handed:
        told.append((record.handed.at, words.note_handed(record.handed.to, record.handed.day)))
    return [(minute(at), line) for at, line in sorted(told, key=lambda each: each[0])]


def _told_answer(a: Answer, seal: str) -> str:
    if a.verdict == "yes":
        told = words.told_yes(a.said_by, a.way, seal)
    else:
        told = words.told_wish(a.said_by, a.way, wanted_in_words(a), seal)
    return words.told_of_an_earlier_saving(told) if a.is_overtaken else told
