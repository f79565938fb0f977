"""Bench: the next cup, beside the machine, for a phone or a tablet and for hands in gloves."""

from __future__ import annotations

from typing import Any

from starlette.responses import JSONResponse, Response

from mailmerge.deeds import bench as deeds
from mailmerge.deeds import clock, run
from mailmerge.deeds.status import Standing, waits_for
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, get, post
from mailmerge.findings import InputError

_TO_RELEASE = (Standing.CONFIRMED, Standing.SPOILED)


def bench(asked: Asked) -> Response:
    """Show the next cup of the run; before there is one, what can be released."""
    queue = run.in_run(asked.glance.records)
    if not queue:
        return asked.page("bench.html", **_around(asked), cup=None, place=0, later=None)
    found = clock.running(asked.folder)
    numbers = [record.number for record in queue]
    at = found.number if found and found.number in numbers else numbers[0]
    return _at(asked, at)


def one(asked: Asked) -> Response:
    """Show one cup of the run."""
    return _at(asked, asked.parts["number"])


def _at(asked: Asked, number: int) -> Response:
    cup = run.at_machine(asked.folder, number)
    numbers = [record.number for record in run.in_run(asked.glance.records)]
    place = numbers.index(number)
    later = numbers[(place + 1) % len(numbers)] if len(numbers) > 1 else None
    return asked.page(
        "bench.html", **_around(asked), cup=cup, place=place + 1, later=later, clock=_clock(asked)
    )


def _around(asked: Asked) -> dict[str, Any]:
    """Return what is on every page of the bench."""
    records = asked.glance.records
    count = asked.glance.count
    return {
        "ready": [record for record in records if record.standing in _TO_RELEASE],
        "waiting": [
            (record, waits_for(record)) for record in records
            if record.standing in (Standing.WAITING, Standing.TO_CHANGE, Standing.DISAGREE,
                                   Standing.IN_QUESTION, Standing.STOPPED)
        ],
        "engraved": count[Standing.ENGRAVED],
        "left": count[Standing.RELEASED],
        "cautions": run.CAUTIONS,
        "state": _state(asked),
        "to_stop": asked.glance.status.tray.to_stop if asked.glance.status else None,
    }  # fmt: skip


def _clock(asked: Asked) -> clock.Running | None:
    return clock.running(asked.folder)


def _state(asked: Asked) -> str:
    """Return what changes whenever the page of another hand has changed something."""
    records = asked.glance.records
    found = clock.running(asked.folder) if asked.glance.status else None
    told = [f"{r.number}{r.standing}{len(r.events)}" for r in records if r.events or r.yes]
    return words.digest_of([*told, str(found)])


def state(asked: Asked) -> Response:
    """Tell whether what a page shows is still so."""
    return JSONResponse({"state": _state(asked)})


def file(asked: Asked) -> Response:
    """Return a cup's artwork, to be saved and never shown."""
    name, data = run.file_to_load(asked.folder, asked.parts["number"])
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(data, media_type="image/svg+xml", headers=headers)


def release(asked: Asked) -> Response:
    """Let what is confirmed out to be engraved; one that waits, only with a reason."""
    items = asked.several.get("item", ())
    done = deeds.release(asked.folder, items, asked.form.get("reason") or None)
    if done.refused:
        raise InputError(words.not_released(done.refused))
    if not done.released:
        raise InputError(words.NOTHING_RELEASED)
    return asked.on(asked.at("bench"), words.released(len(done.released)))


def start(asked: Asked) -> Response:
    """Start the clock for a cup."""
    clock.start(asked.folder, _number(asked))
    return asked.on(asked.at("bench", _number(asked)))


def stop(asked: Asked) -> Response:
    """Stop the clock."""
    done = clock.stop(asked.folder)
    return asked.on(asked.at("bench", done.number), words.clock_stopped(done.took, done.why_not))


def engraved(asked: Asked) -> Response:
    """Put on record that a cup is engraved, and go on with the next."""
    became, stopped = clock.finish(asked.folder, _number(asked))
    text = words.is_engraved(became.records[0].name, stopped.took if stopped else None)
    return asked.on(asked.at("bench"), text, _undo(asked))


def spoiled(asked: Asked) -> Response:
    """Put on record that a blank was lost."""
    done = deeds.spoiled(asked.folder, [_number(asked)], asked.form.get("reason", ""))
    return asked.on(asked.at("bench"), words.is_spoiled(done.records[0].name), _undo(asked))


def mistaken(asked: Asked) -> Response:
    """Take back that a cup was engraved or spoiled."""
    done = deeds.mistaken(asked.folder, [_number(asked)])
    return asked.on(asked.at("bench"), words.taken_back(done.records[0].name))


def _number(asked: Asked) -> str:
    return str(asked.parts["number"])


def _undo(asked: Asked) -> Undo:
    return Undo(words.UNDO, asked.at("bench", _number(asked), "mistaken"))


MARKING = [
    get("/orders/{key}/bench", bench),
    get("/orders/{key}/bench/state", state),
    get("/orders/{key}/bench/{number:int}", one),
    post("/orders/{key}/bench/{number:int}/start", start),
    post("/orders/{key}/bench/stop", stop),
    post("/orders/{key}/bench/{number:int}/engraved", engraved),
    post("/orders/{key}/bench/{number:int}/spoiled", spoiled),
    post("/orders/{key}/bench/{number:int}/mistaken", mistaken),
]
"""Reading the run and marking cups: what the bench may do from another device."""

ROUTES = [
    *MARKING,
    get("/orders/{key}/bench/{number:int}/file", file),
    post("/orders/{key}/bench/release", release),
]
