"""About an order: whose party it is, when it is due, and where it lies."""

from __future__ import annotations

import datetime as dt
from typing import Literal

from starlette.responses import Response

from mailmerge.deeds.arranging import arrange, arranged, seen
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, day_of, get, post
from mailmerge.findings import InputError


def about(asked: Asked) -> Response:
    """Show whose party an order is, and when it is due."""
    return asked.page("about.html", now=arranged(asked.folder))


def change(asked: Asked) -> Response:
    """Let the party have another name, or the order another day."""
    title, due = asked.form.get("title", ""), day_of(asked.form.get("due", ""))
    if not title:
        raise InputError(words.NO_TITLE)
    before = arranged(asked.folder)
    day: dt.date | Literal["open"] = due or "open"
    arrange(asked.folder, title=title, due=day, saw=asked.form.get("saw"))
    was = {"title": before.title, "due": before.due.isoformat() if before.due else ""}
    here = asked.at("about")
    undo = Undo(words.UNDO_CHANGE, here, {**was, "saw": seen(asked.folder)})
    return asked.on(here, words.about_changed(title, due), undo)


ROUTES = [
    get("/orders/{key}/about", about),
    post("/orders/{key}/about", change),
]
