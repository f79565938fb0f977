"""Cups: every cup as a picture, those that need a hand first."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import Response

from mailmerge.deeds import making
from mailmerge.deeds.pictures import Picture, cup_picture, large_picture, loading_picture
from mailmerge.deeds.status import Record, Standing
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, get, post
from mailmerge.findings import InputError, Severity

TAKES: Mapping[str, int] = {}


def cups(asked: Asked) -> Response:
    """Show all cups."""
    records = sorted(asked.glance.records, key=_need)
    ready = sum(record.standing is not Standing.STOPPED for record in records)
    return asked.page("cups.html", records=records, ready=ready)


def _need(record: Record) -> tuple[int, int]:
    """Return a value that sorts what needs a hand first."""
    worst = min((f.severity for f in record.entry.findings), default=None, key=_RANK.__getitem__)
    rank = 3 if worst is None else _RANK[worst]
    return (0 if record.standing is Standing.STOPPED else rank, record.number)


_RANK = {Severity.STOP: 0, Severity.WARNING: 1, Severity.NOTE: 2}


def cup(asked: Asked) -> Response:
    """Show one cup, large."""
    return asked.page("cup.html", record=_record(asked))


def make(asked: Asked) -> Response:
    """Make the cups, or those that have changed."""
    then = asked.at("cups")
    asked.desk.works.begin(
        asked.order.key, words.MAKING_CUPS, making.merge, asked.folder, then=then
    )
    return asked.on(then)


def picture(asked: Asked) -> Response:
    """Return a picture of a cup; a browser keeps it as long as the cup looks so."""
    draw = _PICTURES[asked.parts["kind"]]
    found: Picture = draw(asked.folder, _record(asked).entry)
    kept = {"Cache-Control": "private, max-age=31536000, immutable"}
    return Response(found.png, media_type="image/png", headers=kept)


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
