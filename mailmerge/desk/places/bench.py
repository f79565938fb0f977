"""Bench: the next cup, beside the machine."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import Response

from mailmerge.desk.asking import Asked, get

TAKES: Mapping[str, int] = {}


def bench(asked: Asked) -> Response:
    """Show this place."""
    return asked.page("bench.html")


ROUTES = [get("/orders/{key}/bench", bench)]
