"""Manual: a short page for each task and each file."""

from __future__ import annotations

from starlette.responses import Response

from mailmerge.deeds import manual as deeds
from mailmerge.desk.asking import Asked, get


def manual(asked: Asked) -> Response:
    """Show what pages there are."""
    tasks, files = ([deeds.page(name) for name in names] for names in (deeds.TASKS, deeds.FILES))
    return asked.page("manual.html", tasks=tasks, files=files)


def page(asked: Asked) -> Response:
    """Show one of them."""
    found = deeds.page(asked.parts["name"])
    text = deeds.as_html(found, lambda name: f"/manual/{name}")
    return asked.page("manual_page.html", page=found, text=text)


ROUTES = [get("/manual", manual), get("/manual/{name}", page)]
