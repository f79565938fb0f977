"""Shop: what holds for every order."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.responses import Response

from mailmerge.deeds import choosing
from mailmerge.deeds.known import known_orders, order_called
from mailmerge.deeds.pictures import Picture, blank_picture, font_picture, lying_picture
from mailmerge.deeds.shop import PAPERS, Value, shop
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, get, post
from mailmerge.desk.values import changed
from mailmerge.findings import InputError


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


def machines(asked: Asked) -> Response:
    """Show each machine, with how a blank lies on it."""
    chosen = asked.query.get("blank", "")
    return asked.page(
        "shop_machines.html",
        held=choosing.machines_with(chosen),
        chosen=chosen,
        blanks=choosing.blanks().blanks,
    )


def lying(asked: Asked) -> Response:
    """Show how a blank lies on a machine."""
    held = choosing.machine_with(asked.parts["name"], asked.parts["blank"])
    return _picture(lying_picture(held))


def take_machine(asked: Asked) -> Response:
    """Let new orders be for another machine."""
    return changed(asked, "/shop/machines", "/shop/machines")


def blanks(asked: Asked) -> Response:
    """Show each blank to scale."""
    return asked.page("shop_blanks.html", blanks=choosing.blanks().blanks)


def blank(asked: Asked) -> Response:
    """Show a blank to scale."""
    return _picture(blank_picture(choosing.blank_called(asked.parts["name"])))


def fonts(asked: Asked) -> Response:
    """Show each font in its own letters, in an order's names, or in words that were typed."""
    said, key = asked.query.get("words", ""), asked.query.get("order", "")
    order = order_called(key) if key else None
    if key and order is None:
        raise InputError(words.NO_SUCH_ORDER)
    names = choosing.telling_names(order.folder) if order else ()
    judged = choosing.judge_fonts(order.folder).candidates if order else ()
    lacking = {each.family: each.guests_lacking for each in judged}
    return asked.page(
        "shop_fonts.html",
        fonts=sorted(choosing.fonts(), key=lambda each: lacking.get(each.name, 0)),
        judged={each.family: each for each in judged},
        texts="\n".join(said.splitlines() or names),
        typed=said,
        chosen=key,
        orders=known_orders(),
    )


def font(asked: Asked) -> Response:
    """Show a font in its own letters; the letters are handed out as a picture alone."""
    texts = tuple(asked.query.get("texts", "").splitlines())
    return _picture(font_picture(asked.parts["name"], texts))


def _picture(picture: Picture) -> Response:
    kept = {"Cache-Control": "private, max-age=3600"}
    return Response(picture.png, media_type="image/png", headers=kept)


ROUTES = [
    get("/shop", values),
    post("/shop/values", change),
    get("/shop/machines", machines),
    post("/shop/machines", take_machine),
    get("/shop/machines/{name}/{blank}.png", lying),
    get("/shop/blanks", blanks),
    get("/shop/blanks/{name}.png", blank),
    get("/shop/fonts", fonts),
    get("/shop/fonts/{name}.png", font),
]
