"""How people name items: by numbers, by the name of a file, or by the code on a run sheet."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import PurePosixPath

from mailmerge.deeds import words
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import Ledger
from mailmerge.ledger.standing import Record
from mailmerge.units import numbers_as_typed

_FILE = re.compile(
    r"(?:.*[/\\])?(?P<file>\d{3,}_(?P<named>\d{3,})-[a-z0-9-]+\.svg)(?:\s+(?P<seal>[0-9a-f-]{14}))?"
)


def items_named(ledger: Ledger, items: Sequence[str]) -> list[int]:
    """Return item numbers: given as such, by the names of files, or by the codes of a run sheet.

    Numbers are given as they are printed, too: ``41-42``, or ``1-4, 7``, which a shell hands over
    in two: ``1-4,`` and ``7``.

    Raises
    ------
    InputError
        Something else was given; or a name or a code is of another order, or of an older sheet.
    """
    numbers: list[int] = []
    records: dict[int, Record] = {}
    for item in items:
        if found := _FILE.fullmatch(item.strip()):
            number = int(found["named"])
            records = records or {r.number: r for r in ledger.records(after_release=True)}
            _see_that_it_is_of(found["file"], found["seal"], number, records)
            numbers.append(number)
        elif several := numbers_as_typed(item.strip(" ,")):
            numbers += several
        else:
            raise InputError(words.names_no_item(item))
    return numbers


def item_named(ledger: Ledger, item: str) -> int:
    """Return the number of one item, named in one of these ways.

    Raises
    ------
    InputError
        It names none, or more than one.
    """
    first, *more = items_named(ledger, [item])
    if more:
        raise InputError(words.names_several(item))
    return first


def _see_that_it_is_of(
    file: str, seal: str | None, number: int, records: Mapping[int, Record]
) -> None:
    """See that the name of a file, and the seal beside it, are those of an item that was released.

    Raises
    ------
    InputError
        They are not.
    """
    record = records.get(number)
    released = next((e for e in reversed(record.events) if e.place), None) if record else None
    if record is None or released is None:
        raise InputError(words.never_released(file, number))
    own = f"{released.place:03d}_{PurePosixPath(record.entry.proof).stem}.svg"
    if seal == released.seal and file.startswith(f"{released.place:03d}_"):
        return  # it may have got another name since
    if file != own:
        raise InputError(words.other_order_or_older_sheet(file, number, own))
    if seal and seal != released.seal:
        raise InputError(words.other_seal_on_sheet(number, seal, released.seal))
