"""Shop: what holds for every order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from starlette.responses import Response

from mailmerge.deeds import choosing
from mailmerge.deeds.shop import PAPERS, Value, shop
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, get, post
from mailmerge.desk.values import changed

TAKES: Mapping[str, int] = {}


@dataclass(frozen=True)
class Group:
    """Values that belong together, in a form of their own."""

    name: str
    head: str
    lead: str
    values: tuple[Value, ...]


def values(asked: Asked) -> Response:
    """Show what the shop says, in groups, each value with where it comes from."""
    found = shop().values
    groups = [
        Group(name, head, lead, tuple(each for each in found if each.key.startswith(keys)))
        for name, head, lead, keys in words.GROUPS
    ]
    return asked.page("shop.html", groups=groups, choices=_choices())


def _choices() -> dict[str, dict[str, str]]:
    """Return what can be chosen, by the value's key: each with what it is called."""
    machines = choosing.machines().machines
    return {
        "shop.machine": {name: machine.name for name, machine in machines.items()},
        "shop.layout": {name: layout.name for name, layout in choosing.layouts().items()},
        "shop.paper": {size: size for size in PAPERS},
    }


def change(asked: Asked) -> Response:
    """Let the shop say other values."""
    return changed(asked, "/shop", "/shop/values")


ROUTES = [get("/shop", values), post("/shop/values", change)]
