"""The desk as an application: every address, and what stands around all of them."""

from __future__ import annotations

import threading
from collections.abc import Awaitable, Callable, Sequence
from pathlib import Path

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Mount, Route, Router
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from mailmerge.deeds.faults import reported
from mailmerge.desk import words
from mailmerge.desk.asking import Desk
from mailmerge.desk.guard import ENTRY, Door, Guard, is_secret
from mailmerge.desk.places import cups, orders, working
from mailmerge.voice import note

STATIC = Path(__file__).parent / "static"

MOST = {"/orders/begin": 20_000_000, "/list/newer": 20_000_000, "/client/came": 2_010_000}
"""Endings of addresses that take files, and the most bytes of a request to each."""

FIRST = (orders, cups, working)
"""The places that somebody who starts the desk sees first."""


class Rest:
    """The other places: imported once the first page is there, which is there sooner so."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._router: Router | None = None

    def router(self) -> Router:
        """Return what answers for them; imports them, if nobody has asked before."""
        with self._lock:
            self._router = self._router or Router(routes=_rest())
            return self._router

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if (router := self._router) is None:
            router = await run_in_threadpool(self.router)
        await router(scope, receive, send)


def _rest() -> list[BaseRoute]:
    from mailmerge.desk.places import (
        about,
        bench,
        bill,
        client,
        guests,
        looks,
        manual,
        parts,
        settings,
        shop,
    )

    places = about, guests, looks, client, bench, bill, shop, settings, manual, parts
    return [route for place in places for route in place.ROUTES]


def application(desk: Desk, door: Door) -> ASGIApp:
    """Return the desk as an application, with its guard around it."""
    rest = Rest()
    desk.at_leisure.append(rest.router)
    routes = [route for place in FIRST for route in place.ROUTES]
    return _around(desk, door, [*routes, Mount("/", rest)])


def bench_application(desk: Desk, door: Door) -> ASGIApp:
    """Return the bench of one order as an application: no other address answers.

    It reads the run and marks cups. It releases nothing, and shows nothing else of the order.
    """
    from mailmerge.desk.places import bench

    return _around(desk, door, [*bench.MARKING, working.SEEN, cups.PICTURES])


def _around(desk: Desk, door: Door, routes: Sequence[BaseRoute]) -> ASGIApp:
    app = Starlette(
        routes=[
            Route(ENTRY, _entry(door), methods=["GET"]),
            Mount("/static", StaticFiles(directory=STATIC)),
            *routes,
        ],
        middleware=[Middleware(Unbroken), Middleware(Guard, door=door)],
        exception_handlers={HTTPException: _no_page},
    )
    app.state.desk = desk
    return app


class Unbroken:
    """Answers where the program breaks outside of any page: a line and a report, no traceback."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        has_begun = False

        async def sending(message: Message) -> None:
            nonlocal has_begun
            has_begun = True
            await send(message)

        try:
            await self._app(scope, receive, sending)
        except ClientDisconnect:  # nobody waits for the answer
            return
        except Exception as error:
            told = words.went_wrong(await run_in_threadpool(reported, error))
            note(told)
            if scope["type"] == "http" and not has_begun:
                await PlainTextResponse(told, 500)(scope, receive, send)


def _entry(door: Door) -> Callable[[Request], Awaitable[Response]]:
    async def enter(request: Request) -> Response:
        shown = request.query_params.get("key", "")
        if not is_secret(shown, door.secret):
            return HTMLResponse(words.NOT_LET_IN, 403)
        wanted = request.query_params.get("to", "/")
        # Only an address of this desk: one that begins with two strokes is on another host.
        to = wanted if wanted.startswith("/") and not wanted.startswith(("//", "/\\")) else "/"
        answer = RedirectResponse(to, 303)
        answer.set_cookie(door.cookie, shown, httponly=True, samesite="strict", max_age=34_560_000)
        return answer

    return enter


def _plain(request: Request, status: int, told: str) -> Response:
    desk: Desk = request.app.state.desk
    return HTMLResponse(desk.drawn("alone.html", told=told), status)


_TOLD = {400: words.ODD_FORM, 413: words.TOO_LARGE}


async def _no_page(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    told = _TOLD.get(error.status_code, words.NO_SUCH_PAGE)
    return _plain(request, error.status_code, told)
