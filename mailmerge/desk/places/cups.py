"""Cups: every cup as a picture, those that need a hand first."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from starlette.responses import Response

from mailmerge.deeds import making
from mailmerge.deeds.pictures import Picture, cup_picture, large_picture, loading_picture
from mailmerge.deeds.status import Record, Standing, history, waits_for
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, get, post
from mailmerge.findings import InputError, Severity

TAKES: Mapping[str, int] = {}


@dataclass(frozen=True)
class Shelf:
    """The cups of an order in the order in which they are looked at, and which of them are."""

    show: str
    """``hand`` for those that need one, a standing, or ``""`` for all."""
    name: str
    """What was searched for."""
    all_of_them: tuple[Record, ...]

    @property
    def records(self) -> list[Record]:
        """Those that are looked at."""
        wanted = _plain(self.name)
        return [
            each
            for each in self.all_of_them
            if self._is_of(each, self.show) and wanted in _plain(_told(each))
        ]

    @property
    def choices(self) -> dict[str, int]:
        """How many cups there are of each choice that has any, all of them first."""
        found = {
            choice: sum(self._is_of(each, choice) for each in self.all_of_them)
            for choice in ("", "hand", *Standing)
        }
        return {choice: count for choice, count in found.items() if count or not choice}

    @property
    def query(self) -> str:
        """What an address ends with, so that it looks at the same cups; ``""`` for all."""
        asked = {"show": self.show, "name": self.name}
        told = urlencode({key: text for key, text in asked.items() if text})
        return f"?{told}" if told else ""

    def choosing(self, choice: str) -> str:
        """Return what an address ends with that looks at others."""
        return Shelf(choice, self.name, ()).query

    def beside(self, number: int) -> tuple[Record | None, Record | None]:
        """Return the cups before and after one; of all, where it is not one of those shown."""
        records = self.records
        if number not in [each.number for each in records]:
            records = list(self.all_of_them)
        at = [each.number for each in records].index(number)
        after = records[at + 1] if at + 1 < len(records) else None
        return (records[at - 1] if at else None), after

    def _is_of(self, record: Record, choice: str) -> bool:
        if choice == "hand":
            return _need(record) < _RANK[Severity.NOTE]
        return choice in ("", record.standing)


def _told(record: Record) -> str:
    return " ".join([str(record.number), record.name, *record.about.values()])


def _plain(text: str) -> str:
    """Return a text as people type it who search: without case, accents and blanks at its ends."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(char for char in apart if not unicodedata.combining(char)).strip()


def _need(record: Record) -> int:
    """Return how much a cup needs a hand, least first."""
    if record.standing in _AT_ONCE:
        return _RANK[Severity.STOP]
    worst = [_RANK[found.severity] for found in record.entry.findings]
    return min(worst, default=len(_RANK))


_RANK = {Severity.STOP: 0, Severity.WARNING: 1, Severity.NOTE: 2}
_AT_ONCE = (Standing.STOPPED, Standing.TO_CHANGE, Standing.DISAGREE, Standing.IN_QUESTION)


def _shelf(asked: Asked) -> Shelf:
    records = sorted(asked.glance.records, key=lambda each: (_need(each), each.number))
    return Shelf(asked.query.get("show", ""), asked.query.get("name", ""), tuple(records))


def cups(asked: Asked) -> Response:
    """Show the cups."""
    shelf = _shelf(asked)
    ready = sum(each.standing is not Standing.STOPPED for each in shelf.all_of_them)
    return asked.page("cups.html", shelf=shelf, ready=ready)


def cup(asked: Asked) -> Response:
    """Show one cup, large."""
    record, shelf = _record(asked), _shelf(asked)
    before, after = shelf.beside(record.number)
    return asked.page(
        "cup.html",
        record=record,
        shelf=shelf,
        before=before,
        after=after,
        waits=waits_for(record),
        told=history(record),
    )


def make(asked: Asked) -> Response:
    """Make the cups, or those that have changed."""
    then = asked.at("cups")
    asked.desk.works.begin(
        asked.order.key, words.MAKING_CUPS, making.merge, asked.folder, then=then
    )
    return asked.on(then)


def picture(asked: Asked) -> Response:
    """Return a picture of a cup; a browser keeps it as long as the cup looks so."""
    draw = _PICTURES.get(asked.parts["kind"])
    if draw is None:
        raise InputError(words.NO_SUCH_PICTURE)
    record = _record(asked)
    found: Picture = draw(asked.folder, record.entry)
    kept = "private, max-age=31536000, immutable"
    is_meant = asked.parts["looks"] == record.looks
    return Response(
        found.png,
        media_type="image/png",
        headers={"Cache-Control": kept if is_meant else "no-store"},
    )


_PICTURES = {"cup": cup_picture, "proof": large_picture, "loading": loading_picture}


def _record(asked: Asked) -> Record:
    wanted = asked.parts["number"]
    found = next((each for each in asked.glance.records if each.number == wanted), None)
    if found is None:
        raise InputError(words.no_such_cup(wanted))
    return found


# What a picture looks like stands in its address, so that it can be kept for ever.
PICTURES = get("/orders/{key}/cups/{number:int}/{kind}-{looks}.png", picture)

ROUTES = [
    get("/orders/{key}/cups", cups),
    get("/orders/{key}/cups/{number:int}", cup),
    PICTURES,
    post("/orders/{key}/make", make),
]
