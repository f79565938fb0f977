"""Long work, as every page of an order shows it: how far it is, and calling it off."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator

from sse_starlette.sse import EventSourceResponse
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from mailmerge.deeds import interrupted
from mailmerge.deeds.known import order_called
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Desk, post, send_again
from mailmerge.findings import InputError

_PATIENCE = 5.0
"""Seconds in which work that is called off is waited for. Own judgement."""

_EVERY = 0.2
"""Seconds between two looks at what is at work."""


async def events(request: Request) -> Response:
    """Tell how far the work for an order is, as often as that changes."""
    desk, key = request.app.state.desk, request.path_params["key"]
    # A page whose line was cut says by the last event what it has seen since it was loaded.
    saw = request.headers.get("last-event-id") or request.query_params.get("saw", "")
    return EventSourceResponse(news(desk, key, saw))


async def news(desk: Desk, key: str, saw: str) -> AsyncIterator[dict[str, str]]:
    """Yield what is new to a page: while work goes on how far it is, and once that it has ended.

    A page that saw it go on is told of its end whenever it asks: it may have looked away meanwhile,
    or the desk was killed and started anew.
    """
    shown = ""
    known = await asyncio.to_thread(order_called, key)
    if known is not None:
        is_told = bool(await asyncio.to_thread(interrupted.left_over, key))
        desk.works.miss(key, saw, is_told)
    while known is not None:
        mark = desk.works.mark(key)
        ended, _, at_work = mark.partition("/")
        if saw != mark and (not at_work or ended != saw.partition("/")[0]):
            saw = mark
            yield {"event": "end", "data": "it has ended"}
        elif at_work:
            saw = mark
            asked = Asked(desk, "", {}, {}, {}, {}, {}, known)
            text = desk.drawn("work.html", asked=asked)
            if text != shown:
                shown = text
                yield {"event": "work", "id": mark, "data": json.dumps({"shown": text})}
        await asyncio.sleep(_EVERY)


def call_off(asked: Asked) -> Response:
    """Let the work end before its next item; where that takes long, its bar says so meanwhile."""
    then, work = asked.came_from or asked.at("cups"), asked.desk.works.of(asked.order.key)
    if work is None or not work.is_at_work:
        return asked.on(then)
    work.call_off()
    if work.ended.wait(_PATIENCE) and work.is_off:
        work.is_seen = True
        return asked.on(then, words.called_off(work.state == "done"))
    return asked.on(then)


def answer(asked: Asked) -> Response:
    """Answer what the work has to know, and let it begin again."""
    work = asked.desk.works.of(asked.order.key)
    wanted = asked.form.get("option")
    if work is None or work.question is None:
        raise InputError(words.NOTHING_ASKED)
    option = next((each for each in work.question.options if each.key == wanted), None)
    if option is None:
        raise InputError(words.NO_SUCH_CHOICE)
    return asked.on(asked.desk.works.answer(work, option.answer).next)


def seen(asked: Asked) -> Response:
    """Take away what is said about how work has ended."""
    works, wanted = asked.desk.works, asked.form.get("work")
    for work in (works.of(asked.order.key), *works.refused(asked.order.key)):
        if work is not None and work.name == wanted:
            work.is_seen = True
            return asked.on(work.next or asked.at("cups"))
    return asked.on(asked.came_from or asked.at("cups"))


def go_on(asked: Asked) -> Response:
    """Send once more what a desk that was ended had still to do."""
    asked.desk.see_all_places()
    refused = []
    for press in asked.left_over:
        try:
            send_again(asked, press)
        except InputError as error:
            told = words.on_page(words.told(error), asked.folder)
            refused.append(words.not_any_more(press.says, told))
    interrupted.let_go(asked.order.key)
    return asked.on(asked.came_from or asked.at("cups"), words.goes_on(refused))


def leave(asked: Asked) -> Response:
    """Do nothing of what was interrupted, or of what waits for an answer."""
    asked.desk.works.leave(asked.order.key)
    interrupted.let_go(asked.order.key)
    return asked.on(asked.came_from or asked.at("cups"), words.LEFT_UNDONE)


SEEN = post("/orders/{key}/progress/seen", seen)
"""Also at the bench of another device, where presses can be refused."""

ROUTES = [
    post("/orders/{key}/progress/go-on", go_on),
    post("/orders/{key}/progress/leave", leave),
    Route("/orders/{key}/progress/events", events),
    post("/orders/{key}/progress/off", call_off),
    post("/orders/{key}/progress/answer", answer),
    SEEN,
]
