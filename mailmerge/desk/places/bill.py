"""Bill: time, spares, what to charge."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import Response

from mailmerge.desk.asking import Asked, get

TAKES: Mapping[str, int] = {}


def bill(asked: Asked) -> Response:
    """Show this place."""
    return asked.page("bill.html")


ROUTES = [get("/orders/{key}/bill", bill)]
