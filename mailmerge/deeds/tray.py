"""What every command of an order looks at first: the folder to engrave from, and its record."""

from __future__ import annotations

from pathlib import Path

from mailmerge.deeds.opening import is_order
from mailmerge.ledger.forgotten import FORGOTTEN
from mailmerge.ledger.ledger import LEDGER, open_ledger
from mailmerge.ledger.tray import Tray, look as compared

__all__ = ["Tray", "look"]


def look(order: Path) -> Tray | None:
    """Compare an order's folder to engrave from with its record; None where there is no record.

    Raises
    ------
    InputError
        The ledger cannot be read, or the folder to engrave from is a link.
    """
    folder = order if order.is_dir() else order.parent
    if not is_order(order) or not (folder / LEDGER).is_file():
        return None
    with open_ledger(folder, missing="make") as ledger:
        return None if ledger.fact(FORGOTTEN) else compared(ledger)
