"""List: the client's rows as they came, what was found beside them, and ways out."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import Response

from mailmerge.deeds import listing, making
from mailmerge.deeds.listing import Wanted
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, get, post
from mailmerge.findings import InputError

TAKES: Mapping[str, int] = {}


def rows(asked: Asked) -> Response:
    """Show the list: what needs a hand first, or all rows as they came."""
    found = listing.listed(asked.folder)
    in_need = sorted((row for row in found.rows if row.worst < _NOTE), key=lambda row: row.worst)
    is_all = asked.query.get("show") == "all"
    return asked.page(
        "guests.html",
        found=found,
        rows=found.rows if is_all else in_need,
        in_need=len(in_need),
        is_all=is_all,
    )


_NOTE = 2
"""The weight of what needs no hand."""


def correct(asked: Asked) -> Response:
    """Put other texts in the place of the list's."""
    numbers = asked.several.get("item", ())
    if not numbers or not all(number.isdecimal() for number in numbers):
        raise InputError(words.NOTHING_NEW)
    wanted = [each for each in (_wanted(asked, number) for number in numbers) if each.texts]
    if not wanted:
        raise InputError(words.NOTHING_NEW)
    listing.see_correctable(asked.folder, wanted)
    then = _here(asked)
    asked.desk.works.begin(
        asked.order.key, words.CORRECTING, listing.correct, asked.folder, wanted, words.AT_DESK,
        then=then,
    )  # fmt: skip
    return asked.on(then)


def _wanted(asked: Asked, number: str) -> Wanted:
    """Return what a form says about a guest: each field beside what was seen of it."""
    text, saw = f"text-{number}-", f"saw-{number}-"
    seen = {name.removeprefix(saw): was for name, was in asked.form.items() if name.startswith(saw)}
    texts = {
        name.removeprefix(text): now for name, now in asked.form.items() if name.startswith(text)
    }
    new = {name: now for name, now in texts.items() if now != seen.get(name)}
    return Wanted(int(number), new, {name: seen[name] for name in new if name in seen})


def take_back(asked: Asked) -> Response:
    """Let the list's own text hold again."""
    number, field = asked.form.get("item", ""), asked.form.get("field", "")
    if not number.isdecimal():
        raise InputError(words.NOTHING_NEW)
    then = _here(asked)
    asked.desk.works.begin(
        asked.order.key, words.CORRECTING, listing.take_back, asked.folder, int(number), field,
        words.AT_DESK, then=then,
    )  # fmt: skip
    return asked.on(then)


def mean(asked: Asked) -> Response:
    """Say that a text is meant just so, or take that back."""
    text = asked.form.get("text", "")
    is_back = "back" in asked.form
    (listing.mean_no_longer if is_back else listing.mean_so)(asked.folder, text)
    then = _here(asked)
    asked.desk.works.begin(asked.order.key, words.CORRECTING, making.merge, asked.folder, then=then)
    undo = Undo(words.TAKE_BACK, asked.at("list", "mean"), {"text": text, "back": "1"})
    return asked.on(then, "" if is_back else words.is_meant_so(text), None if is_back else undo)


def _here(asked: Asked) -> str:
    return asked.at("list") + ("?show=all" if asked.form.get("show") == "all" else "")


ROUTES = [
    get("/orders/{key}/list", rows),
    post("/orders/{key}/list/correct", correct),
    post("/orders/{key}/list/take-back", take_back),
    post("/orders/{key}/list/mean", mean),
]
