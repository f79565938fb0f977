"""What lies in the folder to engrave from, written down in it with the state of the ledger.

A ledger that a synced or copied folder has brought back from earlier knows nothing of what was said
and done since. The tray does: every change of the order gives the ledger a new state, and its stamp
lies here. A ledger keeps the stamps of all its states, so one that comes from another copy of the
order, which went on apart, does not know the stamp that lies here, however many changes it has
seen.
"""

from __future__ import annotations

import re
import secrets
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from mailmerge.files import is_link, read_file
from mailmerge.findings import InputError
from mailmerge.ledger import words
from mailmerge.ledger.copies import newest_state, newest_written
from mailmerge.ledger.ledger import Ledger, LedgerChange, readable

TO_ENGRAVE, CONTENTS = "to-engrave", "contents.json"

_TRAY_NAME = r"\d{3,}_\d{3,}-[a-z0-9-]+\.svg"
_MAX_BYTES = 50_000_000


class _Model(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Stamp(_Model):
    """A state of an order's ledger: no two changes leave the same, wherever they are made."""

    state: Annotated[int, Field(ge=0)]
    """How many changes the ledger has seen."""
    mark: Annotated[str, Field(max_length=9)]
    """Random characters of the last one."""


class Lying(_Model):
    """A file that was laid out."""

    seal: Annotated[str, Field(max_length=40)]
    digest: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class Contents(_Model):
    """Which files were laid out, and which state of the ledger says so."""

    order: Annotated[str, Field(pattern=r"^[0-9A-Z]{4}-[0-9A-Z]{4}$")]
    stamp: Stamp
    files: dict[Annotated[str, Field(pattern=f"^{_TRAY_NAME}$")], Lying]

    def to_json(self) -> bytes:
        """Return it as the bytes of its file."""
        return self.model_dump_json(indent=1).encode()


def is_tray_name(name: str) -> bool:
    """Whether the program gives such names to files in the tray, their beginnings included."""
    return re.fullmatch(rf"{_TRAY_NAME}|\..*\.part", name) is not None


def is_plain(path: Path) -> bool:
    """Whether there is a file of the folder's own: no link, and nothing of another kind."""
    return path.is_file() and not is_link(path)


def contents_of(folder: Path) -> Contents | None:
    """Return what was written down of an order's tray; None if nothing was, or is in its place.

    Raises
    ------
    InputError
        It is not as this program writes it.
    """
    path = folder / TO_ENGRAVE / CONTENTS
    if not is_plain(path):
        return None
    try:
        return Contents.model_validate_json(read_file(path, _MAX_BYTES))
    except ValidationError:
        raise InputError(words.contents_unreadable(path, folder)) from None


def stamp_of(ledger: Ledger) -> Stamp:
    """Return the state that a ledger is in."""
    number, _, mark = (ledger.fact("state") or "0").partition(" ")
    return Stamp(state=int(number), mark=mark)


def new_state(change: LedgerChange, known: Contents | None) -> Stamp:
    """Give a ledger a state of its own, above every one that is known.

    Those that are known become states that it goes on from: where they were none of its own, the
    maker has decided so.
    """
    before = max(stamp_of(change).state, _last_known(change.folder, known))
    stamp = Stamp(state=before + 1, mark=readable(secrets.randbits(40)))
    change.set_fact("state", f"{stamp.state} {stamp.mark}")
    for number, mark in ((stamp.state, stamp.mark), *_stamps_beside(change.folder, known)):
        change.put_state(number, mark)
    return stamp


def _last_known(folder: Path, known: Contents | None) -> int:
    return max(newest_state(folder), known.stamp.state if known else 0)


def _stamps_beside(folder: Path, known: Contents | None) -> list[tuple[int, str]]:
    """Return the stamps that lie in the tray and beside the copies."""
    written = newest_written(folder)
    in_tray = [(known.stamp.state, known.stamp.mark)] if known else []
    return [*in_tray, written] if written[1] else in_tray


def why_not_last(ledger: Ledger, known: Contents | None) -> str:
    """Return why a ledger is not the one that was written last; ``""`` if nothing says so."""
    stamp, last = stamp_of(ledger), _last_known(ledger.folder, known)
    if known and known.order != ledger.order_id:
        return words.tray_of_other_order(ledger.folder, known.order, ledger.order_id)
    if last > stamp.state:
        return words.ledger_is_older(ledger.folder, stamp.state, last)
    if not all(ledger.may_have_been(*each) for each in _stamps_beside(ledger.folder, known)):
        return words.changed_apart(ledger.folder)
    return ""
