"""What an order's file says, read alone: nothing that it names is opened."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

from mailmerge.files import digest_of
from mailmerge.shelves import read_toml

ORDER_FILE = "order.toml"


def list_of(folder: Path) -> Path | None:
    """Return the path of the list that an order's folder names; None where it names none.

    Raises
    ------
    InputError
        ``order.toml`` is no TOML or cannot be read.
    """
    listed = _order_table(folder).get("list")
    return folder / listed if isinstance(listed, str) else None


def title_of(folder: Path) -> str:
    """Return whose party an order is for, as its file says; ``""`` where it says nothing.

    Raises
    ------
    InputError
        ``order.toml`` is no TOML or cannot be read.
    """
    title = _order_table(folder).get("title")
    return title if isinstance(title, str) else ""


def due_of(folder: Path) -> dt.date | None:
    """Return the day by which an order is due, as its file says; None where it says none.

    Raises
    ------
    InputError
        ``order.toml`` is no TOML or cannot be read.
    """
    due = _order_table(folder).get("due")
    return due if isinstance(due, dt.date) and not isinstance(due, dt.datetime) else None


def named_in(folder: Path, kind: Literal["blanks", "layouts"]) -> str:
    """Return what an order's file calls its blank or layout; ``""`` where it stands in the file.

    Raises
    ------
    InputError
        ``order.toml`` is no TOML or cannot be read.
    """
    named = _order_table(folder).get(kind.removesuffix("s"))
    return named if isinstance(named, str) else ""


def inputs_digest(folder: Path) -> str:
    """Return a digest of an order's ``order.toml`` and list, as they are in their files."""
    file = folder / ORDER_FILE
    digests = [digest_of(file.read_bytes())]
    listed = list_of(folder)
    if listed is not None and listed.is_file():
        digests.append(digest_of(listed.read_bytes()))
    return digest_of("".join(digests).encode())


def _order_table(folder: Path) -> Mapping[str, Any]:
    table = read_toml(folder / ORDER_FILE).get("order")
    return table if isinstance(table, dict) else {}
