"""Bench: the next cup, beside the machine, for a phone or a tablet and for hands in gloves."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from starlette.responses import JSONResponse, Response

from mailmerge.deeds import bench as deeds, clock, run
from mailmerge.deeds.status import Record, Standing
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, get, is_number, post
from mailmerge.findings import InputError

_TO_RELEASE = (Standing.CONFIRMED, Standing.SPOILED)


def bench(asked: Asked) -> Response:
    """Show the next cup of the run; before there is one, what can be released."""
    queue = run.in_run(asked.glance.records)
    if not queue:
        return asked.page("bench.html", **_around(asked), cup=None, later=None)
    found = clock.running(asked.folder)
    numbers = [record.number for record in queue]
    at = found.number if found and found.number in numbers else numbers[0]
    return _at(asked, at)


def one(asked: Asked) -> Response:
    """Show one cup of the run; of one that is in it no more say so, and show the next."""
    number = asked.parts["number"]
    found = next((each for each in asked.glance.records if each.number == number), None)
    if found is not None and found.standing is not Standing.RELEASED:
        return asked.on(asked.at("bench"), words.is_not_in_run(found.name, found.standing))
    return _at(asked, number)


def _at(asked: Asked, number: int) -> Response:
    cup = run.at_machine(asked.folder, number)
    numbers = [record.number for record in run.in_run(asked.glance.records)]
    after = numbers[(numbers.index(number) + 1) % len(numbers)]
    later = after if after != number else None
    return asked.page("bench.html", **_around(asked), cup=cup, later=later, clock=_clock(asked))


def _around(asked: Asked) -> dict[str, Any]:
    """Return what is on every page of the bench."""
    records = asked.glance.records
    count = asked.glance.count
    return {
        "ready": [record for record in records if record.standing in _TO_RELEASE],
        "held": run.held(records),
        "mark": _mark,
        "engraved": count[Standing.ENGRAVED],
        "left": count[Standing.RELEASED],
        "cautions": run.CAUTIONS,
        "state": _state(asked),
        "to_stop": asked.glance.status.tray.to_stop if asked.glance.status else None,
    }  # fmt: skip


def _mark(records: Iterable[Record]) -> str:
    """Return what a form sends along of the cups that its page shows."""
    return " ".join(f"{each.number}:{each.handled}" for each in records)


def _seen(asked: Asked) -> dict[int, str]:
    """Return the cups that a form's page has shown, each as it stood then."""
    said = [*asked.form.get("saw", "").split(), *asked.several.get("item", ())]
    told = [each.partition(":") for each in said]
    return {int(number): mark for number, _, mark in told if is_number(number) and mark}


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
    seen, reason = _seen(asked), asked.form.get("reason") or None
    items = [each.partition(":")[0] for each in asked.several.get("item", ())]
    if reason and not items:
        raise InputError(words.CHOOSE_CUPS)
    done = deeds.release(asked.folder, items or [*map(str, seen)], reason, seen)
    if done.refused:
        raise InputError(words.not_released(done.refused))
    if not done.released:
        raise InputError(words.NOTHING_RELEASED)
    return asked.on(asked.at("bench"), words.released(len(done.released)))


def start(asked: Asked) -> Response:
    """Start the clock for a cup."""
    clock.start(asked.folder, _number(asked), _seen(asked))
    return asked.on(asked.at("bench", _number(asked)))


def stop(asked: Asked) -> Response:
    """Stop the clock."""
    done = clock.stop(asked.folder, asked.form.get("saw"))
    return asked.on(asked.at("bench", done.number), words.clock_stopped(done.took, done.why_not))


def engraved(asked: Asked) -> Response:
    """Put on record that a cup is engraved, and go on with the next."""
    became, stopped = clock.finish(asked.folder, _number(asked), _seen(asked))
    text = words.is_engraved(became.records[0].name, stopped.took if stopped else None)
    return asked.on(asked.at("bench"), text, _undo(asked, became.records))


def spoiled(asked: Asked) -> Response:
    """Put on record that a blank was lost."""
    reason = asked.form.get("reason", "")
    done = deeds.spoiled(asked.folder, [_number(asked)], reason, _seen(asked))
    text = words.is_spoiled(done.records[0].name)
    return asked.on(asked.at("bench"), text, _undo(asked, done.records))


def mistaken(asked: Asked) -> Response:
    """Take back that a cup was engraved or spoiled."""
    done = deeds.mistaken(asked.folder, [_number(asked)], _seen(asked))
    return asked.on(asked.at("bench"), words.taken_back(done.records[0].name))


def _number(asked: Asked) -> str:
    return str(asked.parts["number"])


def _undo(asked: Asked, became: Iterable[Record]) -> Undo:
    address = asked.at("bench", _number(asked), "mistaken")
    return Undo(words.UNDO, address, {"saw": _mark(became)})


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
