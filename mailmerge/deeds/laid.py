"""Lists that came, for a new order or as a newer one of an order, and were not taken yet."""

from __future__ import annotations

import datetime as dt
import re
import time
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.files import Root
from mailmerge.findings import InputError
from mailmerge.workshop.shop.shop import open_shop

__all__ = [
    "LAID_BY",
    "MAX_BYTES",
    "Laid",
    "clear_old",
    "laid",
    "laid_lists",
    "let_all_go",
    "let_go",
    "place_of",
    "root",
]

MAX_BYTES = 20_000_000
"""Of a list that comes."""

LAID_BY = "lists"
"""In the shop's folder: lists that came and were not taken yet."""

_KEPT = 7 * 86_400
"""Seconds that such a list is kept."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A list that lies here and was not taken yet."""

    key: str
    """What it is asked for with."""
    name: str
    until: dt.date
    """The day on which it is cleared away."""


def laid_lists(order: str = "") -> list[Laid]:
    """Return the lists that lie here, the newest first; those that are too old are cleared away.

    Parameters
    ----------
    order
        The key of the order whose newer lists they are; ``""`` for those that can begin one.
    """
    here = root()
    clear_old(here)
    lying = [(at.stat().st_mtime, at) for at in _lying(here) if _order_of(at) == order]
    return [
        Laid(
            at.name.partition("-")[0],
            file.name,
            dt.datetime.fromtimestamp(since + _KEPT).astimezone().date(),
        )
        for since, at in sorted(lying, reverse=True)
        for file in sorted(at.iterdir())[:1]
    ]


def _lying(root: Root) -> list[Path]:
    return [each for each in root.path.iterdir() if each.is_dir()] if root.path.is_dir() else []


def _order_of(folder: Path) -> str:
    return folder.name.partition("-")[2]


def place_of(key: str, order: str) -> str:
    """Return the folder, within that of all, where a list lies."""
    return f"{key}-{order}" if order else key


def laid(key: str, order: str = "") -> Path:
    """Return the file of a list that was laid by.

    Parameters
    ----------
    order
        The key of the order whose newer list it is; ``""`` for one that can begin an order.

    Raises
    ------
    InputError
        There is none such: it was taken, or it was too old.
    """
    folder = root().path / place_of(key, order) if re.fullmatch("[0-9a-f]{16}", key) else None
    found = sorted(folder.iterdir()) if folder and folder.is_dir() else []
    if not found:
        raise InputError(words.LIST_NOT_LAID_BY)
    return found[0]


def let_go(key: str, order: str = "") -> None:
    """Let go of a list that was laid by; the client's own file is not touched."""
    laid(key, order)
    root().clear(place_of(key, order))


def let_all_go(order: str) -> None:
    """Let go of all newer lists of an order."""
    here = root()
    for folder in _lying(here):
        if _order_of(folder) == order:
            here.clear(folder.name)


def root() -> Root:
    """Return the folder of the lists that were laid by."""
    return Root(open_shop().folder).at(LAID_BY)


def clear_old(here: Root) -> None:
    """Clear away the lists that are too old."""
    now = time.time()
    for folder in _lying(here):
        if now - folder.stat().st_mtime > _KEPT:
            here.clear(folder.name)
