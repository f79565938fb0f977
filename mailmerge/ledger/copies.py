"""Dated copies of the ledger: a handful in the order's folder, fewer the older they are."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

COPIES = "record-copies"

_KEPT = "_kept"
_NAME = re.compile(
    rf"(\d{{4}}-\d{{2}}-\d{{2}}T\d{{2}}-\d{{2}}-\d{{2}})_(\d{{4,}})({_KEPT})?\.sqlite"
)
_WHEN = "%Y-%m-%dT%H-%M-%S"

LAST, DAYS, WEEKS = 3, 7, 6
"""So many are kept in any case, one for each of so many days, and one for each of so many weeks."""


@dataclass(frozen=True, slots=True)
class Copy:
    """A dated copy of a ledger."""

    name: str
    at: dt.datetime
    """By the clock of the computer that made it."""
    state: int
    """How many changes it has seen."""

    @property
    def is_kept(self) -> bool:
        """Whether it is what the record was before the order went back to another one."""
        return self.name.endswith(f"{_KEPT}.sqlite")


def name_of(at: dt.datetime, state: int, is_kept: bool = False) -> str:
    """Return what the copy of a state is called."""
    return f"{at.strftime(_WHEN)}_{state:04d}{_KEPT if is_kept else ''}.sqlite"


def copies_in(folder: Path) -> list[Copy]:
    """Return the dated copies of an order's ledger, the newest first."""
    found = (_NAME.fullmatch(path.name) for path in (folder / COPIES).glob("*.sqlite"))
    copies = [
        Copy(each[0], dt.datetime.strptime(each[1], _WHEN), int(each[2])) for each in found if each
    ]
    return sorted(copies, key=lambda copy: (copy.at, copy.state), reverse=True)


def outdated(copies: Sequence[Copy], today: dt.date) -> list[Copy]:
    """Return which of an order's copies may go; the newest come first.

    What an order went back from stays as long as any.
    """
    weeks = dt.timedelta(weeks=WEEKS)
    kept = {*copies[:LAST], *(c for c in copies if c.is_kept and c.at.date() > today - weeks)}
    for span, most in ((1, DAYS), (7, WEEKS)):
        seen: set[int] = set()
        for copy in copies:
            # Days are counted from one that is the same tomorrow: a week's copy must stay its copy.
            part = copy.at.date().toordinal() // span
            age = today.toordinal() // span - part
            if age < most and part not in seen:
                kept.add(copy)
            seen.add(part)
    return [copy for copy in copies if copy not in kept]
