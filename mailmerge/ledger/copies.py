"""Dated copies of the ledger: a handful in the order's folder, fewer the older they are.

A copy of a large order takes half a second and tens of megabytes. So not every change makes one.
But whatever somebody said is on a copy at once, and beside the copies stands how many changes there
were.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from mailmerge.files import read_file
from mailmerge.findings import InputError

COPIES = "record-copies"

NEWEST = f"{COPIES}/newest.txt"
"""In the order's folder: the number of the last change and its mark, whether there is a copy of it
or not."""

SMALL = 4_000_000
"""A ledger of so many bytes is copied at every change: it takes hundredths of a second."""

PAUSE = dt.timedelta(minutes=1)
"""A larger one in which nothing new was said is copied so long after the last copy."""

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


def newest_state(folder: Path) -> int:
    """Return how many changes an order has seen, as far as its copies know; 0 where they do not."""
    return max([newest_written(folder)[0], *(copy.state for copy in copies_in(folder))])


def newest_written(folder: Path) -> tuple[int, str]:
    """Return the number of the last change that is written down beside the copies, and its mark.

    It is 0 where nothing is, and ``""`` where an earlier version of the program wrote it.
    """
    try:
        written = read_file(folder / NEWEST).decode("ascii").strip()
    except (InputError, UnicodeDecodeError):
        written = ""
    number, _, mark = written.partition(" ")
    return (int(number), mark) if number.isdigit() and len(number) < 10 else (0, "")


def is_due(copies: Sequence[Copy], at: dt.datetime, size: int, has_new_words: bool) -> bool:
    """Whether a change is to leave a copy.

    Parameters
    ----------
    copies
        Those that there are.
    size
        Of the ledger, in bytes.
    has_new_words
        Whether anything was said, asked or decided that the last copy does not hold.
    """
    if size <= SMALL or has_new_words:
        return True
    # What an order went back from is no copy of this record; a clock may have been put back.
    return not any(dt.timedelta() <= at - each.at < PAUSE for each in copies if not each.is_kept)


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
