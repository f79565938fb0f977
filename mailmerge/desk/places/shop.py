"""Shop: what holds for every order."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import Response

from mailmerge.desk.asking import Asked, get

TAKES: Mapping[str, int] = {}


def shop(asked: Asked) -> Response:
    """Show this place."""
    return asked.page("shop.html")


ROUTES = [get("/shop", shop)]
