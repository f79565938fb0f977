"""An order's folder and its ledger; apart from what opens orders: a look at one needs no more."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

from mailmerge.deeds import words
from mailmerge.findings import InputError
from mailmerge.ledger.forgotten import refuse_forgotten
from mailmerge.ledger.ledger import Ledger, open_ledger
from mailmerge.ledger.tray import see_that_it_is_last
from mailmerge.orders.said import ORDER_FILE


def folder_of(order: Path) -> Path:
    """Return an order's folder.

    Raises
    ------
    InputError
        There is no order.
    """
    folder = order if order.is_dir() else order.parent
    if not (folder / ORDER_FILE).is_file() or (order.is_file() and order.name != ORDER_FILE):
        raise InputError(words.no_such_order(order, ORDER_FILE))
    return folder


@contextmanager
def order_ledger(folder: Path, missing: Literal["make", "refuse"] = "refuse") -> Iterator[Ledger]:
    """Open the ledger of an order that was not forgotten.

    Raises
    ------
    InputError
        It was; or there is no ledger yet, it is damaged, in use, or not the one written last.
    """
    with open_ledger(folder, missing) as ledger:
        refuse_forgotten(ledger)
        see_that_it_is_last(ledger)
        yield ledger
