"""Client: the pack, what came back, what is open."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import Response

from mailmerge.desk.asking import Asked, get

TAKES: Mapping[str, int] = {}


def client(asked: Asked) -> Response:
    """Show this place."""
    return asked.page("client.html")


ROUTES = [get("/orders/{key}/client", client)]
