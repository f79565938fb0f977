"""Beginning an order like one that was done before: all of it but its guests."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import tomlkit

from mailmerge.deeds import words
from mailmerge.deeds.folder import folder_of, order_ledger
from mailmerge.deeds.form import FORM, form_like
from mailmerge.files import Root, read_file
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import LEDGER
from mailmerge.orders import open_order
from mailmerge.orders.said import ORDER_FILE, list_of
from mailmerge.shelves import MAX_TOML_BYTES, read_toml
from mailmerge.units import format_mm

__all__ = ["begin_like"]

_OF_ITS_GUESTS = ("subtitle", "list", "sheet", "due", "as_written")
"""Keys of ``[order]`` that are about one party and its list."""
_PARTS = (".toml", ".svg", ".ttf", ".otf", ".woff2", ".ttc")
"""Endings of what an order's blank, layout and drawings may be in, beside its file."""


def begin_like(
    folder: Path,
    like: Path,
    list_file: Path | None = None,
    title: str = "",
    due: dt.date | None = None,
    by: dt.date | None = None,
) -> Path:
    """Begin an order with what another one has: blank, layout, motif, machine, people and sizes.

    The letter heights of cups that it has released are kept, so that new cups match old ones. No
    name of it comes along.

    Parameters
    ----------
    list_file
        The new list; None for a form that the client is to fill in.
    title
        Whose party it is; ``""`` for the other order's.
    by
        The day by which the form asks for the list.

    Returns
    -------
    Path
        The new ``order.toml``.

    Raises
    ------
    InputError
        There is no such order, the folder holds one already, the list does not go with it, or
        something cannot be written; nothing is left then.
    """
    old, root = folder_of(like), Root(folder)
    if folder.exists() and any(folder.iterdir()):
        raise InputError(words.folder_is_used(folder))
    list_name = list_file.name if list_file else FORM
    told = _like(old, list_name, title, due)
    kept = [each for each in sorted(old.iterdir()) if _is_part(each, old)]
    if any(each.name == list_name for each in kept):
        raise InputError(words.list_called_as_a_part(list_name))
    listed = read_file(list_file) if list_file else form_like(old, title, due, by)
    is_new = not folder.exists()
    try:
        for each in kept:
            root.write(each.name, read_file(each))
        root.write(list_name, listed)
        root.write(ORDER_FILE, told.encode())
        open_order(folder)
    except BaseException:
        for name in (*(each.name for each in kept), list_name, ORDER_FILE):
            root.remove(name)
        if is_new:
            Root(folder.parent).clear(folder.name)
        raise
    return folder / ORDER_FILE


def _is_part(file: Path, old: Path) -> bool:
    is_other = file.name == ORDER_FILE or file == list_of(old)
    return file.is_file() and file.suffix.lower() in _PARTS and not is_other


def _like(old: Path, list_name: str, title: str, due: dt.date | None) -> str:
    """Return what the new order's file says."""
    read_toml(old / ORDER_FILE)  # what is no TOML is told as everywhere
    text = read_file(old / ORDER_FILE, MAX_TOML_BYTES).decode("utf-8-sig")
    document = tomlkit.parse(text)
    table: Any = document["order"]
    for key in _OF_ITS_GUESTS:
        table.pop(key, None)
    if title:
        table["title"] = title
    table["list"] = list_name
    if due:
        table["due"] = due
    if sizes := _sizes(old):
        document["size"] = sizes
    return tomlkit.dumps(document)


def _sizes(old: Path) -> tomlkit.items.AoT | None:
    """Return the letter heights of cups that were released; None where none was."""
    if not (old / LEDGER).exists():
        return None
    sizing = [line.sizing for line in open_order(old).design.layout.line]
    with order_ledger(old) as ledger:
        found = ledger.letter_sizes()
    tables = tomlkit.aot()
    for line, _, role, height in found:
        if line > len(sizing) or sizing[line - 1] == "each":
            continue
        table = tomlkit.table()
        table["line"] = line
        if sizing[line - 1] == "role":
            table["role"] = role
        table["letter_height"] = format_mm(height, 2)
        tables.append(table)
    return tables if len(tables) else None
