"""Arranging an order: what its file says about the cups, the day and the client."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from mailmerge.deeds import words
from mailmerge.deeds.offered import blanks_for, layouts_for
from mailmerge.deeds.opening import folder_of
from mailmerge.findings import InputError
from mailmerge.orders import editing, open_order
from mailmerge.orders.order import Client
from mailmerge.proofs.pack.languages import Language, known

__all__ = ["Arranged", "arrange", "arranged", "languages", "seen"]


@dataclass(frozen=True)
class Arranged:
    """What an order's file says."""

    title: str
    due: dt.date | None
    blank: str
    """What its blank is called."""
    coat: str
    coats: tuple[str, ...]
    """Those that the blank comes in."""
    layout: str
    motif: str
    """The drawing that the order puts into its layout's slots; ``""`` for none of its own."""
    has_slots: bool
    """Whether its layout has any."""
    machine: str
    client: Client
    digest: str
    """Of the file, to see whether it has changed since."""


def arranged(order: Path) -> Arranged:
    """Return what an order's file says.

    Raises
    ------
    InputError
        The order is wrong.
    """
    folder = folder_of(order)
    digest = editing.digest(folder)
    loaded = open_order(folder)
    design = loaded.design
    return Arranged(
        design.title,
        loaded.due,
        design.blank.name,
        design.coat.name,
        tuple(each.name for each in design.blank.coat),
        design.layout.name,
        design.motifs.usual,
        design.layout.has_slots,
        design.machine.name,
        loaded.client,
        digest,
    )


def seen(order: Path) -> str:
    """Return the digest of an order's file, for whoever changes it later.

    Raises
    ------
    InputError
        There is no such order, or its file cannot be read.
    """
    return editing.digest(folder_of(order))


def arrange(
    order: Path,
    title: str | None = None,
    due: dt.date | Literal["open"] | None = None,
    blank: str | None = None,
    coat: str | None = None,
    layout: str | None = None,
    machine: str | None = None,
    motif: str | None = None,
    people: Sequence[str] | None = None,
    needs: Literal["one", "all"] | None = None,
    language: str | None = None,
    saw: str | None = None,
) -> Path:
    """Let an order's file say something else; what is None stays. The next merge goes by it.

    A blank or layout of the order's own that another one takes the place of gets a file beside it.

    Parameters
    ----------
    due
        ``"open"`` for no day.
    blank, layout, machine
        Names of the library, or files, as the order's folder sees them.
    motif
        A word for a drawing, or an .svg file; ``""`` for none of the order's own.
    people
        Whose yes is asked for.
    needs
        How many of them have to say yes.
    saw
        The digest of the file as somebody has seen it; None to change it however it is.

    Raises
    ------
    InputError
        The file is not as it was seen, the order would be wrong so, or it cannot be written;
        nothing has changed then.
    """
    table: dict[str, Any] = {"title": title, "blank": blank, "coat": coat, "layout": layout,
                             "machine": machine}  # fmt: skip
    table = {key: value for key, value in table.items() if value is not None}
    if motif is not None:
        table["motif"] = motif or None
    if due is not None:
        table["due"] = None if due == "open" else due
    client: dict[str, Any] = {"language": language, "needs": needs}
    client = {key: value for key, value in client.items() if value is not None}
    if people is not None:
        client["people"] = list(people)
    said = {name: values for name, values in (("order", table), ("client", client)) if values}
    folder = folder_of(order)
    if saw is not None and saw != editing.digest(folder):
        wanted = {**table, **client}
        raise InputError(words.order_file_is_not_as_seen(folder, _both(folder, wanted)))
    return editing.edit(folder, said)


def _both(folder: Path, wanted: dict[str, Any]) -> list[tuple[str, str, str]]:
    """Return what differs: what it is called, as somebody wants it, and as it is now."""
    now = arranged(folder)
    called = {each.name: each.blank.name for each in blanks_for(folder)} | {
        each.name: each.layout.name for each in layouts_for(folder)
    }
    is_now = {
        "title": now.title, "due": now.due, "blank": now.blank, "coat": now.coat,
        "layout": now.layout, "motif": now.motif, "machine": now.machine,
        "language": now.client.language,
        "needs": now.client.needs, "people": ", ".join(now.client.people),
    }  # fmt: skip
    both = []
    for key, value in wanted.items():
        text = ", ".join(value) if isinstance(value, list) else str(value or "")
        text, there = called.get(text, text), str(is_now[key] or "")
        if text != there:
            both.append((words.ARRANGED[key], text, there))
    return both


def languages() -> dict[str, str]:
    """Return the languages that a proof pack can be in: by tag, what each calls itself."""
    return {tag: Language(tag).called for tag in known()}
