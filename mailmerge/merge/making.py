"""What is to be made of an order, and what is as it was."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from mailmerge.files import Stage, digest_of, is_file_with
from mailmerge.items import Entry, Item, make_item
from mailmerge.ledger.ledger import Ledger
from mailmerge.orders import Design

Result = tuple[Entry, dict[str, str]]
"""An item's entry, and the SHA-256 of its files by their names."""


@dataclass
class Task:
    """An item to be made, or one that is as it was."""

    item: Item
    fingerprint: str
    before: Entry | None
    """The item as the last merge left it."""
    entry: Entry
    """Empty until it is made."""
    digests: dict[str, str]
    """SHA-256 by the names of its files."""
    was_kept: bool = False
    was_touched: bool = False
    """Whether its files are not what the ledger says although nothing of ours has changed."""


def tasks(
    design: Design, items: Iterable[Item], ledger: Ledger | None, stage: Stage
) -> Iterator[Task]:
    """Pass over the items, each with what is known about it."""
    for item in items:
        if ledger is None:
            yield Task(item, "", None, {}, {})
            continue
        fingerprint = fingerprint_of(design, item)
        made = ledger.made(item.number)
        if made is None:
            yield Task(item, fingerprint, None, {}, {})
            continue
        known, before, digests = made
        if known != fingerprint:
            yield Task(item, fingerprint, before, {}, {})
        elif all(is_file_with(stage.root / name, digest) for name, digest in digests.items()):
            yield Task(item, known, before, {**before, "row": item.guest.row}, digests, True)
        else:
            yield Task(item, fingerprint, before, {}, {}, was_touched=True)


def fingerprint_of(design: Design, item: Item) -> str:
    """Return a digest of everything that an item's files are made from.

    Of the row that the guest stands in nothing is in it: sorting a list changes no cup.
    """
    guest = item.guest
    parts = (
        design.fingerprint, item.number, item.copy, item.digits, dict(guest.fields), guest.hand,
        guest.quantity, repr(guest.changes), repr(guest.troubles), item.same_name,
    )  # fmt: skip
    return digest_of(json.dumps(parts).encode())


def make_and_stage(design: Design, item: Item, stage: Stage) -> Result:
    """Make an item and put its files on their way; return its entry and its files' digests."""
    made = make_item(design, item, picture=True)
    digests = {}
    for name, data in (
        (made.entry["artwork"], made.artwork), (made.entry["proof"], made.proof),
        (made.entry["maker_copy"], made.maker_copy),
    ):  # fmt: skip
        if data is not None:
            stage.write(name, data)
            digests[name] = digest_of(data)
    return made.entry, digests
