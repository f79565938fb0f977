"""All parts of the interface on one page, for the tests and for whoever changes a style."""

from __future__ import annotations

from starlette.responses import Response

from mailmerge.desk.asking import Asked, get


def parts(asked: Asked) -> Response:
    """Show all parts."""
    return asked.page("parts.html")


ROUTES = [get("/parts", parts)]
