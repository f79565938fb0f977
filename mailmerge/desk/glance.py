"""An order at a glance: what each of its places needs, kept as long as nothing has changed."""

from __future__ import annotations

import threading
from collections import Counter, OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from mailmerge.deeds.held import held
from mailmerge.deeds.status import Forgotten, Record, Standing, Status, seen_at, status
from mailmerge.desk import words
from mailmerge.findings import InputError


@dataclass(frozen=True)
class Glance:
    """What stands above every page of an order."""

    status: Status | None
    """None where nothing was made yet, or it was forgotten, or it cannot be opened."""
    amiss: str
    """Why it is None."""

    @cached_property
    def records(self) -> tuple[Record, ...]:
        """The order's items that are still in its list, and those whose cups exist."""
        found = self.status.records if self.status else ()
        return tuple(each for each in found if each.standing is not Standing.GONE)

    @property
    def has_cups(self) -> bool:
        """Whether any cup was ever made."""
        return bool(self.records)

    @property
    def is_changed(self) -> bool:
        """Whether the cups are not as they would be made now."""
        found = self.status
        return found is not None and not (found.is_current and found.is_engine_current)

    @cached_property
    def count(self) -> Mapping[Standing, int]:
        """How many items there are of each standing."""
        return Counter(record.standing for record in self.records)

    @cached_property
    def rows_in_need(self) -> frozenset[int]:
        """Rows of the list that need a hand: something was found, and not all its cups exist."""
        found, open_ = set(), set()
        for record in self.records:
            row = record.entry.row
            if record.standing is not Standing.ENGRAVED:
                open_.add(row)
            if record.cup == 1 and any(f.severity != "note" for f in record.entry.findings):
                found.add(row)
        return frozenset(found & open_)

    @cached_property
    def needs(self) -> Mapping[str, str]:
        """What needs a hand at each place, in one line; ``""`` where nothing does."""
        if self.status is None:
            return dict.fromkeys(words.PLACES, "")
        count, questions = self.count, self.status.questions
        return {
            "list": words.list_needs(not self.status.is_current, len(self.rows_in_need)),
            "cups": words.cups_need(count[Standing.STOPPED]),
            "client": words.client_needs(
                count[Standing.WAITING],
                count[Standing.TO_CHANGE] + count[Standing.DISAGREE],
                len(questions),
            ),
            "bench": words.bench_needs(
                count[Standing.CONFIRMED] + count[Standing.SPOILED],
                count[Standing.RELEASED],
                held(self.records).unforeseen,
            ),
            "bill": "",
        }

    def rests(self, place: str) -> str:
        """Say why nothing needs a hand at a place: all is done, or nothing has come there."""
        engraved = self.count[Standing.ENGRAVED]
        if place == "bill" and not engraved:
            return words.NOTHING_ENGRAVED
        if place == "bench" and not engraved and self.count[Standing.WAITING]:
            return words.NOTHING_CONFIRMED
        return words.NOTHING_NEEDED


class Glances:
    """Glances that hold until a file of their order changes."""

    _MOST = 24

    def __init__(self) -> None:
        self._kept: OrderedDict[Path, tuple[object, Glance]] = OrderedDict()
        self._lock = threading.Lock()

    def of(self, folder: Path) -> Glance:
        """Return an order at a glance."""
        seen = seen_at(folder)
        with self._lock:
            kept = self._kept.get(folder)
        if kept and kept[0] == seen:
            return kept[1]
        glance = _glance(folder)
        with self._lock:
            self._kept[folder] = seen, glance
            self._kept.move_to_end(folder)
            while len(self._kept) > self._MOST:
                self._kept.popitem(last=False)
        return glance


def _glance(folder: Path) -> Glance:
    try:
        found = status(folder)
    except InputError as error:
        return Glance(None, words.on_page(str(error), folder))
    if isinstance(found, Forgotten):
        return Glance(None, words.FORGOTTEN)
    return Glance(found, "")
