"""Bench: the next cup, beside the machine, for a phone or a tablet and for hands in gloves."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, TypeVar

from starlette.responses import JSONResponse, Response

from mailmerge.deeds import bench as deeds, clock, run
from mailmerge.deeds.status import Record, Standing
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, get, is_number, post
from mailmerge.desk.work import ABOUT_CLOCK, Pressed, Work, about_bench
from mailmerge.findings import InputError

Result = TypeVar("Result")

_TO_RELEASE = (Standing.CONFIRMED, Standing.SPOILED)


def bench(asked: Asked) -> Response:
    """Show the next cup of the run; before there is one, what can be released."""
    numbers = _in_run(asked)
    if not numbers:
        return asked.page("bench.html", **_around(asked), cup=None, later=None)
    found = _clock(asked)
    at = found.number if found and found.number in numbers else numbers[0]
    return _at(asked, at)


def _in_run(asked: Asked) -> list[int]:
    """Return the items of the run in their order, without those of which something is pressed."""
    numbers = [record.number for record in run.in_run(asked.glance.records)]
    return [number for number in numbers if not _is_pressed(asked, number)]


def _is_pressed(asked: Asked, number: int) -> bool:
    """Whether it was said already what became of an item, and that is to come on record."""
    return any(work.is_to_come for _, work in asked.pressed(about_bench(number)))


def _pressed(asked: Asked) -> list[tuple[Pressed, Work]]:
    """Return all that was pressed at the bench and is to come, or was refused."""
    numbers = [record.number for record in asked.glance.records]
    return asked.pressed(ABOUT_CLOCK, _RELEASE, *map(about_bench, numbers))


def one(asked: Asked) -> Response:
    """Show one cup of the run; of one that is in it no more say so, and show the next."""
    number = asked.parts["number"]
    found = next((each for each in asked.glance.records if each.number == number), None)
    if found is not None and found.standing is not Standing.RELEASED:
        return asked.on(asked.at("bench"), words.is_not_in_run(found.name, found.standing))
    if _is_pressed(asked, number):
        return asked.on(asked.at("bench"))
    return _at(asked, number)


def _at(asked: Asked, number: int) -> Response:
    cup = run.at_machine(asked.folder, number)
    numbers = _in_run(asked)
    others = [*numbers[numbers.index(number) + 1 :], *numbers] if number in numbers else numbers
    later = next((other for other in others if other != number), None)
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
        "is_begun": run.is_begun(records, dt.date.today()),
        "state": _state(asked),
        "pressed": _pressed(asked),
        "is_clock_pressed": any(work.is_to_come for _, work in asked.pressed(ABOUT_CLOCK)),
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
    """Return the clock that runs; None where what is to come on record ends it."""
    found = clock.running(asked.folder)
    return None if found and _is_pressed(asked, found.number) else found


def _state(asked: Asked) -> str:
    """Return what changes whenever the page of another hand has changed something."""
    records = asked.glance.records
    found = clock.running(asked.folder) if asked.glance.status else None
    told = [f"{r.number}{r.standing}{len(r.events)}" for r in records if r.events or r.yes]
    pressed = [f"{each.says} {work.state}" for each, work in _pressed(asked)]
    return words.digest_of([*told, str(found), *pressed])


def state(asked: Asked) -> Response:
    """Tell whether what a page shows is still so."""
    return JSONResponse({"state": _state(asked)})


def file(asked: Asked) -> Response:
    """Return a cup's artwork, to be saved and never shown."""
    name, data = run.file_to_load(asked.folder, asked.parts["number"])
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(data, media_type="image/svg+xml", headers=headers)


_RELEASE = "release"
"""What a press to release is about."""


def release(asked: Asked) -> Response:
    """Let what is confirmed out to be engraved; one that waits, only with a reason."""
    seen, reason = _seen(asked), asked.form.get("reason") or None
    items = [each.partition(":")[0] for each in asked.several.get("item", ())]
    if reason and not items:
        raise InputError(words.CHOOSE_CUPS)
    wanted, then = items or [*map(str, seen)], asked.at("bench")
    count = asked.in_turn(
        words.are_released(len(wanted)), [_RELEASE], _released, wanted, reason, seen, then=then
    )
    return asked.on(then, words.COMES_IN_TURN if count is None else words.released(count))


def _released(
    folder: Path, items: Sequence[str], reason: str | None, seen: Mapping[int, str]
) -> int:
    """Release cups; return how many.

    Raises
    ------
    InputError
        One is refused, or none can be released.
    """
    done = deeds.release(folder, items, reason, seen)
    if done.refused:
        raise InputError(words.not_released(done.refused))
    if not done.released:
        raise InputError(words.NOTHING_RELEASED)
    return len(done.released)


def start(asked: Asked) -> Response:
    """Start the clock for a cup; it runs from the press on, even where that waits for its turn."""
    at, then = _now(), asked.at("bench", _number(asked))
    says = words.starts_clock(_name(asked), at)
    done = asked.in_turn(
        says, [ABOUT_CLOCK], clock.start, _number(asked), _seen(asked), at=at, then=then
    )
    return asked.on(then, words.COMES_IN_TURN if done is None else "")


def stop(asked: Asked) -> Response:
    """Stop the clock, as it stands at the press."""
    done = asked.in_turn(
        words.STOPS_CLOCK, [ABOUT_CLOCK], clock.stop, asked.form.get("saw"), at=_now(),
        then=asked.at("bench"),
    )  # fmt: skip
    if done is None:
        return asked.on(asked.at("bench"), words.COMES_IN_TURN)
    return asked.on(asked.at("bench", done.number), words.clock_stopped(done.took, done.why_not))


def engraved(asked: Asked) -> Response:
    """Put on record that a cup is engraved, and go on with the next."""
    done = _becomes(asked, words.becomes_engraved, clock.finish, _seen(asked), at=_now())
    if done is None:
        return asked.on(asked.at("bench"), words.COMES_IN_TURN)
    became, stopped = done
    text = words.is_engraved(became.records[0].name, stopped.took if stopped else None)
    return asked.on(asked.at("bench"), text, _undo(asked, became.records))


def spoiled(asked: Asked) -> Response:
    """Put on record that a blank was lost."""
    reason = asked.form.get("reason", "")
    done = _becomes(asked, words.becomes_spoiled, _spoiled, reason, _seen(asked))
    if done is None:
        return asked.on(asked.at("bench"), words.COMES_IN_TURN)
    return asked.on(
        asked.at("bench"), words.is_spoiled(done.records[0].name), _undo(asked, done.records)
    )


def mistaken(asked: Asked) -> Response:
    """Take back that a cup was engraved or spoiled."""
    done = _becomes(asked, words.is_taken_back, _mistaken, _seen(asked))
    text = words.COMES_IN_TURN if done is None else words.taken_back(done.records[0].name)
    return asked.on(asked.at("bench"), text)


def _becomes(
    asked: Asked, says: Callable[[str], str], deed: Callable[..., Result], *given: object,
    **named: Any,
) -> Result | None:  # fmt: skip
    """Put on record what became of a cup, in its turn; None where that is to come."""
    number, about = _number(asked), [about_bench(asked.parts["number"])]
    return asked.in_turn(
        says(_name(asked)), about, deed, number, *given, then=asked.at("bench"), **named
    )


def _spoiled(folder: Path, number: str, reason: str, seen: Mapping[int, str]) -> deeds.Became:
    return deeds.spoiled(folder, [number], reason, seen)


def _mistaken(folder: Path, number: str, seen: Mapping[int, str]) -> deeds.Became:
    return deeds.mistaken(folder, [number], seen)


def _now() -> dt.datetime:
    return dt.datetime.now().astimezone()


def _name(asked: Asked) -> str:
    """Return whose cup a page of the bench is of."""
    number = asked.parts["number"]
    return next((each.name for each in asked.glance.records if each.number == number), "")


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
