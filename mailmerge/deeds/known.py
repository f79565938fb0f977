"""The orders that the shop knows: their folders, and how to find one again."""

from __future__ import annotations

import datetime as dt
import json
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.folder import folder_of
from mailmerge.files import Root, digest_of, lent, read_file
from mailmerge.findings import InputError
from mailmerge.orders.said import ORDER_FILE, due_of, title_of
from mailmerge.workshop.shop.shop import open_shop

__all__ = [
    "Known",
    "key_of",
    "known_orders",
    "leave_out",
    "leave_out_order",
    "lent_list",
    "order_called",
    "place_for",
    "plain_name",
    "remember",
]

KNOWN = "orders.json"
"""In the shop's folder: the folders of the orders that it knows, the latest first."""

ORDERS = "orders"
"""In the shop's folder: where orders begin for which no other place is named."""

_MOST = 2000


@dataclass(frozen=True, slots=True)
class Known:
    """An order that the shop knows."""

    key: str
    """Short, the same for the same folder on every day, and safe in an address."""
    folder: Path
    title: str
    """Whose party it is; the folder's name where the order's file cannot be read."""
    due: dt.date | None
    amiss: str
    """Why the order's file cannot be read; ``""`` if it can."""


def known_orders() -> list[Known]:
    """Return the orders that the shop knows, by the day that they are due, those without one last.

    An order whose folder is gone, on a disk that is not there perhaps, stays known.

    Raises
    ------
    InputError
        The shop's file of them cannot be read.
    """
    found = [_known(folder) for folder in _folders()]
    return sorted(found, key=lambda each: (each.due or dt.date.max, each.title.casefold()))


def order_called(key: str) -> Known | None:
    """Return a known order by its key; None if there is none."""
    folder = next((each for each in _folders() if key_of(each) == key), None)
    return _known(folder) if folder else None


def remember(order: Path) -> Known:
    """Let the shop know an order from now on.

    Raises
    ------
    InputError
        There is no such order, or it cannot be written.
    """
    folder = folder_of(order).resolve()
    others = [each for each in _folders() if each != folder]
    if others == _folders() or not _folders():
        _write([folder, *others][:_MOST])
    return _known(folder)


def leave_out(key: str) -> None:
    """Let the shop no longer list an order; nothing in its folder is touched.

    Raises
    ------
    InputError
        It cannot be written.
    """
    _write([each for each in _folders() if key_of(each) != key])


def leave_out_order(order: Path) -> Path:
    """Let the shop no longer list an order, by its folder; return that.

    Raises
    ------
    InputError
        There is no such order, or it cannot be written.
    """
    folder = folder_of(order).resolve()
    leave_out(key_of(folder))
    return folder


def place_for(name: str) -> Path:
    """Return a folder that is not there yet, for a new order, below the shop's own of orders."""
    folder = open_shop().folder / ORDERS
    number = 1
    while (place := folder / (name if number == 1 else f"{name}-{number}")).exists():
        number += 1
    return place


def _known(folder: Path) -> Known:
    try:
        title, due, amiss = title_of(folder) or folder.name, due_of(folder), ""
    except InputError as error:
        title, due, amiss = folder.name, None, str(error)
    if not (folder / ORDER_FILE).is_file():
        amiss = words.order_is_not_there(folder)
    return Known(key_of(folder), folder, title, due, amiss)


def key_of(folder: Path) -> str:
    """Return what an order is called in addresses, by its folder."""
    return digest_of(str(folder).encode())[:10]


def _file() -> Path:
    return open_shop().folder / KNOWN


def _folders() -> list[Path]:
    file = _file()
    if not file.exists():
        return []
    try:
        told = json.loads(read_file(file))
        return [Path(each) for each in told["folders"]]
    except (ValueError, TypeError, KeyError):
        raise InputError(words.known_unreadable(file)) from None


def _write(folders: list[Path]) -> None:
    file = _file()
    told = json.dumps({"folders": [str(each) for each in folders]}, ensure_ascii=False, indent=1)
    Root(file.parent).write(file.name, told.encode())


@contextmanager
def lent_list(name: str, data: bytes) -> Iterator[Path]:
    """Lend a list that came over the desk to whoever reads lists by their files.

    Parameters
    ----------
    name
        As its sender calls it; only its last part counts, and nothing of it leads anywhere else.

    Raises
    ------
    InputError
        It cannot be written.
    """
    with lent(plain_name(name), data) as file:
        try:
            yield file
        except InputError as error:
            # Where it lies meanwhile is nobody's concern: it is called as its sender calls it.
            raise InputError(str(error).replace(f"{file.parent}{os.sep}", "")) from None


def plain_name(name: str) -> str:
    """Return a name that somebody else has given to a file, as one for any folder here."""
    last = re.split(r"[/\\]", name)[-1]
    stem, dot, ending = last.rpartition(".")
    safe = re.sub(r"[^\w \-.()]", "_", (stem if dot else last)).strip(" .") or "list"
    kept = re.sub(r"\W", "", ending)[:8] if dot else ""
    return f"{safe[:80]}.{kept}" if kept else safe[:80]
