"""The desk as an application: every address, and what stands around all of them."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from pathlib import Path

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from mailmerge.desk import words
from mailmerge.desk.asking import Desk
from mailmerge.desk.guard import ENTRY, Door, Guard, is_secret
from mailmerge.desk.places import (
    about,
    bench,
    bill,
    client,
    cups,
    guests,
    looks,
    manual,
    orders,
    parts,
    settings,
    shop,
    working,
)

STATIC = Path(__file__).parent / "static"

PLACES = (
    orders, about, guests, cups, looks, client, bench, bill, shop, settings, manual, working, parts,
)  # fmt: skip

MOST = {ending: most for place in PLACES for ending, most in place.TAKES.items()}
"""Endings of addresses that take files, and the most bytes that each takes."""


def application(desk: Desk, door: Door) -> ASGIApp:
    """Return the desk as an application, with its guard around it."""
    return _around(desk, door, [route for place in PLACES for route in place.ROUTES])


def bench_application(desk: Desk, door: Door) -> ASGIApp:
    """Return the bench of one order as an application: no other address answers.

    It reads the run and marks cups. It releases nothing, and shows nothing else of the order.
    """
    return _around(desk, door, [*bench.MARKING, cups.PICTURES])


def _around(desk: Desk, door: Door, routes: Sequence[BaseRoute]) -> ASGIApp:
    app = Starlette(
        routes=[
            Route(ENTRY, _entry(door), methods=["GET"]),
            Mount("/static", StaticFiles(directory=STATIC)),
            *routes,
        ],
        middleware=[Middleware(Guard, door=door)],
        exception_handlers={HTTPException: _no_page},
    )
    app.state.desk = desk
    return app


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
    page = desk.templates.get_template("alone.html").render(words=words, told=told)
    return HTMLResponse(page, status)


async def _no_page(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    told = words.TOO_LARGE if error.status_code == 413 else words.NO_SUCH_PAGE
    return _plain(request, error.status_code, told)
