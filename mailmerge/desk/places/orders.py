"""Orders: all that the shop knows, by day due; and beginning a new one."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from starlette.responses import Response

from mailmerge.deeds import making
from mailmerge.deeds.known import known_orders, lent_list, place_for, remember
from mailmerge.deeds.questions import Question
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, get, post
from mailmerge.findings import InputError

TAKES: Mapping[str, int] = {"/begin": 20_000_000}


def orders(asked: Asked) -> Response:
    """Show all orders."""
    shown = [(known, asked.desk.glances.of(known.folder)) for known in known_orders()]
    return asked.page("orders.html", shown=shown)


def begin(asked: Asked) -> Response:
    """Begin an order with a list that was dropped."""
    upload = asked.upload("list")
    with lent_list(upload.name, upload.data) as file:
        started = making.new(place_for(file.stem), file)
        while isinstance(started, Question):
            started = making.new(place_for(file.stem), file, said=started.options[-1].answer)
    known = remember(started.file)
    return asked.on(f"/orders/{known.key}/cups", words.begun(known.title))


def open_folder(asked: Asked) -> Response:
    """Let the desk know an order by its folder."""
    path = asked.form.get("path", "")
    if not path:
        raise InputError(words.NO_PATH)
    known = remember(Path(path).expanduser())
    return asked.on(f"/orders/{known.key}/cups")


ROUTES = [
    get("/", orders),
    post("/orders/begin", begin),
    post("/orders/open", open_folder),
]
