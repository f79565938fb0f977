"""What is to be made of an order, and what is as it was."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from mailmerge.artwork import Own
from mailmerge.files import Stage, digest_of, is_file_with
from mailmerge.items import Entry, Item, make_item
from mailmerge.ledger.ledger import Ledger, Made
from mailmerge.orders import Design

Result = tuple[Entry, dict[str, str]]
"""An item's record, and the SHA-256 of its files by their names."""


@dataclass(frozen=True)
class Task:
    """An item to be made, or one that is as it was."""

    item: Item
    fingerprint: str
    """Of everything that its files are made from."""
    before: Made | None
    """As the last merge left it."""
    is_kept: bool = False
    """Whether it is as it was, its files included."""
    was_touched: bool = False
    """Whether its files are not what the ledger says although nothing of ours has changed."""

    @property
    def kept(self) -> Result:
        """What it came to in the last merge; only its row may have changed since."""
        assert self.before is not None
        entry = self.before.entry.model_copy(update={"row": self.item.guest.row})
        return entry, dict(self.before.digests)


@dataclass(frozen=True)
class Done:
    """What an item came to."""

    task: Task
    entry: Entry
    digests: Mapping[str, str]


def tasks(
    design: Design, items: Iterable[Item], ledger: Ledger | None, stage: Stage
) -> Iterator[Task]:
    """Pass over the items, each with what is known about it."""
    for item in items:
        if ledger is None:
            yield Task(item, "", None)
            continue
        fingerprint, before = fingerprint_of(design, item), ledger.made(item.number)
        if before is None or before.fingerprint != fingerprint:
            yield Task(item, fingerprint, before)
            continue
        is_whole = all(
            is_file_with(stage.root.path / name, digest) for name, digest in before.digests.items()
        )
        yield Task(item, fingerprint, before, is_kept=is_whole, was_touched=not is_whole)


def fingerprint_of(design: Design, item: Item) -> str:
    """Return a digest of everything that an item's files are made from.

    Of the row that the guest stands in nothing is in it: sorting a list changes no cup.
    """
    guest = item.guest
    parts = (
        design.fingerprint, item.number, item.copy, item.digits, dict(guest.fields), guest.hand,
        guest.quantity, repr(guest.changes), repr(guest.troubles), repr(item.remarks),
        sorted(guest.meant), [_looks_of(design, own) for own in item.own],
    )  # fmt: skip
    return digest_of(json.dumps(parts).encode())


def _looks_of(design: Design, own: Own) -> tuple[str, str]:
    """Return what a setting of a cup's own puts into its files: its words, and its font."""
    if not own.font:
        return repr(own), ""
    font = design.layout.line[own.line - 1].in_font(own.font, design.folder).style(design.folder)
    return repr(own), digest_of(font.font.path.read_bytes())


def make_and_stage(design: Design, item: Item, stage: Stage) -> Result:
    """Make an item and put its files on their way; return its entry and its files' digests."""
    made = make_item(design, item, picture=True)
    digests = {}
    for name, data in (
        (made.entry.artwork, made.artwork), (made.entry.proof, made.proof),
        (made.entry.maker_copy, made.maker_copy),
    ):  # fmt: skip
        if name and data is not None:
            stage.write(name, data)
            digests[name] = digest_of(data)
    return made.entry, digests
