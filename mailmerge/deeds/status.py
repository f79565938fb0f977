"""An order at a glance: where every item stands, what it waits for, and who has said what."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds.opening import folder_of
from mailmerge.findings import shown
from mailmerge.ledger.forgetting import FORGOTTEN
from mailmerge.ledger.ledger import open_ledger
from mailmerge.ledger.recall import inputs_digest
from mailmerge.ledger.standing import Answer, Record, Standing
from mailmerge.ledger.tray import missing
from mailmerge.merge import is_engine_of

__all__ = ["Forgotten", "Record", "Status", "last_word", "status", "waits_for", "wanted_in_words"]


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
    missing: tuple[int, ...]
    """Released items whose files do not lie in the folder to engrave from as they should."""

    @property
    def totals(self) -> dict[str, int]:
        """How many items there are of each standing."""
        return dict(Counter(str(record.standing) for record in self.records))

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
            is_engine_of(ledger),
            tuple(records),
            tuple(record.number for record in records if missing(folder, record)),
        )


def waits_for(record: Record) -> str:
    """Return in words why an item is not released."""
    match record.standing:
        case Standing.WAITING:
            return "waits for the client's yes to its artwork as it is now"
        case Standing.TO_CHANGE:
            words = record.wish.words if record.wish else ""
            return f"the client wants it changed: {shown(words)}"
        case Standing.STOPPED:
            return f"stopped: {_stop_of(record)}"
        case Standing.GONE:
            return "no longer in the list"
        case Standing.ENGRAVED if not record.changed_since_engraved:
            return "engraved already"
        case Standing.ENGRAVED:
            return "engraved, and changed since: spoiled makes it again"
        case standing:
            return str(standing)


def _stop_of(record: Record) -> str:
    stop = record.entry.stop
    return stop.message if stop else ""


def last_word(record: Record) -> str:
    """Return in words what was said or done last about an item, where there is more to say."""
    note = _note_on(record)
    if record.spoiled:
        lost = f"{record.spoiled} blank{'' if record.spoiled == 1 else 's'} spoiled"
        note = f"{note}; {lost}" if note else lost
    return note


def _note_on(record: Record) -> str:
    if record.wish:
        return wanted_in_words(record.wish)
    if record.standing is Standing.STOPPED:
        return _stop_of(record)
    if record.is_engraved and record.gone:
        return "no longer in the list"
    if record.changed_since_engraved:
        return f"the list says something else now; spoiled {record.number} makes it again"
    if record.waived and not record.yes:
        return f"without a yes: {record.waived.reason}"
    if record.yes:
        said = record.yes
        return f"yes{', ' + said.said_by if said.said_by else ''}, {minute(said.at)}"
    return ""


def minute(at: str) -> str:
    """Return a time on record as people read it."""
    return at[:16].replace("T", " ")


def wanted_in_words(wish: Answer) -> str:
    """Return what a wish asks for: its words, and the texts that it names."""
    texts = [f"{name}: {shown(text)}" for name, text in wish.wanted.items()]
    return ", ".join([*([shown(wish.words)] if wish.words else []), *texts]) or "another text"


def history(record: Record) -> list[tuple[str, str]]:
    """Return when what was said and done about an item, in words, oldest first.

    Empty where there is nothing but a plain yes.
    """
    if all(a.verdict == "yes" for a in record.answers) and not record.corrections:
        return []
    told: list[tuple[str, str]] = []
    for a in record.answers:
        said = "yes" if a.verdict == "yes" else f"to change: {wanted_in_words(a)}"
        told.append((a.at, f"{a.said_by or 'the client'} ({a.way}): {said}, seal {a.seal}"))
    for c in record.corrections:
        by = f", {c.said_by}" if c.said_by else ""
        told.append((c.at, f"put on record{by}: {c.field} {shown(c.was)} -> {shown(c.text)}"))
    told += [(e.at, e.what + (f": {e.reason}" if e.reason else "")) for e in record.events]
    return [(minute(at), words) for at, words in sorted(told, key=lambda each: each[0])]
