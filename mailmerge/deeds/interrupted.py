"""What somebody has pressed at the desk and is not done yet, kept until it is.

A desk that is killed forgets what waits in its line. So each press is written down before its work
begins, and crossed out when that has ended. What another desk finds, whose writer is gone, was
interrupted: it can be sent once more, and is judged then like anything that is sent.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mailmerge.files import Root, read_file
from mailmerge.findings import InputError
from mailmerge.reading.limits import begun_at
from mailmerge.workshop.shop.shop import shop_folder

__all__ = ["Press", "keep", "left_over", "let_go"]

_FOLDER = "waiting"
"""In the shop's folder: one file for each order and desk that has something to do."""

_MOST_BYTES = 20_000_000


@dataclass(frozen=True, slots=True)
class Press:
    """A form that was sent, whose work is to come."""

    says: str
    """What was pressed, in words."""
    path: str
    """The address that it was sent to."""
    fields: Mapping[str, tuple[str, ...]]
    """All texts of each field."""


def keep(key: str, presses: Sequence[Press]) -> None:
    """Write down all that this process has still to do for an order.

    Parameters
    ----------
    key
        The order's, as :attr:`mailmerge.deeds.known.Known.key`.

    Raises
    ------
    InputError
        It cannot be written.
    """
    _write(f"{key}-{os.getpid()}.json", begun_at(os.getpid()), presses)


def _write(name: str, begun: object, presses: Sequence[Press]) -> None:
    root = Root(shop_folder()).at(_FOLDER)
    if not presses:
        if (root.path / name).exists():
            root.remove(name)
        return
    told = [{"says": each.says, "path": each.path, "fields": dict(each.fields)} for each in presses]
    root.make()
    text = json.dumps({"begun": begun, "presses": told}, ensure_ascii=False)
    root.write(name, text.encode(), 0o600)


def left_over(key: str) -> tuple[Press, ...]:
    """Return what was to be done for an order by a process that is gone, in its order."""
    return tuple(press for file in _left(key) for press in _presses(file))


def let_go(key: str, press: Press | None = None) -> None:
    """Forget what was interrupted: all of it, or one press that was sent once more.

    Raises
    ------
    InputError
        It cannot be written.
    """
    for file in _left(key):
        rest = [each for each in _presses(file) if press is not None and not _is_same(each, press)]
        _write(file.name, _told(file).get("begun"), rest)


def _is_same(one: Press, other: Press) -> bool:
    return (one.path, dict(one.fields)) == (other.path, dict(other.fields))


def _left(key: str) -> Iterator[Path]:
    """Pass over the files of an order whose writers are gone."""
    for file in sorted((shop_folder() / _FOLDER).glob(f"{key}-*.json")):
        number, told = file.stem.partition("-")[2], _told(file).get("begun")
        begun = begun_at(int(number)) if number.isdecimal() else None
        # Where the clock was put right since, a system may say a second more or less.
        if begun is None or not isinstance(told, int) or abs(begun - told) > 1:
            yield file


def _presses(file: Path) -> Iterator[Press]:
    for each in _told(file).get("presses", []):
        fields = {name: tuple(texts) for name, texts in each["fields"].items()}
        yield Press(each["says"], each["path"], fields)


def _told(file: Path) -> dict[str, Any]:
    try:
        told = json.loads(read_file(file, _MOST_BYTES))
    except (InputError, ValueError):  # it was just crossed out, or somebody has written in it
        return {}
    return told if isinstance(told, dict) else {}
