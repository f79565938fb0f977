"""List: the client's rows as they came, and what was found beside them."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import Response

from mailmerge.desk.asking import Asked, get

TAKES: Mapping[str, int] = {}


def rows(asked: Asked) -> Response:
    """Show this place."""
    return asked.page("guests.html")


ROUTES = [get("/orders/{key}/list", rows)]
