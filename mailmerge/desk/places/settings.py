"""Recipes and test cards: finding the settings for a coat, and keeping them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import TypeVar

from starlette.responses import Response

from mailmerge.deeds import cards as deeds, choosing
from mailmerge.deeds.settings import (
    Kept,
    coats_known,
    keep_cell,
    keep_recipe,
    make_test_card,
    recipes as recipes_kept,
)
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, get, post
from mailmerge.findings import InputError
from mailmerge.units import parse_length, parse_values

Value = TypeVar("Value")


def recipes(asked: Asked) -> Response:
    """Show what the shop has kept, and where the library begins."""
    return asked.page(
        "recipes.html",
        known=recipes_kept(),
        coats=coats_known(),
        blanks=choosing.blanks().blanks,
        machines=choosing.machines().machines,
        today=dt.date.today(),
    )


def keep(asked: Asked) -> Response:
    """Keep settings that were found otherwise than with a card."""
    told = {key: asked.form.get(key, "") for key in ("power", "speed", "passes", "interval")}
    kept = keep_recipe(
        told,
        asked.form.get("coat", ""),
        _blank(asked),
        asked.form.get("outcome", ""),
        _chosen(asked, "machine", choosing.machines().machines),
        None,
        asked.form.get("remarks", ""),
        _day(asked),
    )
    return _on(asked, kept)


def drop(asked: Asked) -> Response:
    """Take a recipe out: it counts no more."""
    name = asked.form.get("name", "")
    deeds.drop_recipe(name)
    undo = Undo(words.UNDO_CHANGE, "/shop/recipes/restore", {"name": name})
    return asked.on("/shop/recipes", words.RECIPE_OUT, undo)


def restore(asked: Asked) -> Response:
    """Put a recipe back."""
    deeds.restore_recipe(asked.form.get("name", ""))
    return asked.on("/shop/recipes", words.WAS_PUT_BACK)


def cards(asked: Asked) -> Response:
    """Show the shop's test cards, and what makes one."""
    return asked.page(
        "test_cards.html",
        cards=deeds.cards(),
        blanks=choosing.blanks().blanks,
        machines=choosing.machines().machines,
    )


def make(asked: Asked) -> Response:
    """Make a test card."""
    blank, _, coat = asked.form.get("piece", "").partition("/")  # no file's name has a stroke
    interval = asked.form.get("interval", "")
    written = make_test_card(
        deeds.place_for_card(coat),
        choosing.blank_called(blank).wanted,
        _values(asked, "power"),
        _values(asked, "speed"),
        _read(words.PASSES, parse_values, asked.form.get("passes", "") or "1"),
        _read(words.INTERVAL, parse_length, interval) if interval else None,
        coat,
        _chosen(asked, "machine", choosing.machines().machines),
        asked.form.get("face", "opposite"),
    )
    name = written.files[0].parent.name
    told = " ".join(each.message for each in written.findings)
    undo = Undo(words.NOT_AFTER_ALL, "/shop/cards/drop", {"name": name})
    return asked.on(f"/shop/cards/{name}", words.card_made(told), undo)


def _values(asked: Asked, what: str) -> list[Decimal]:
    """Return the values of a card, from the lowest to the highest, as the form has them."""
    low, high, count = (asked.form.get(f"{what}_{end}", "") for end in ("from", "to", "count"))
    text = low if count == "1" else f"{low}..{high}x{count}"
    return _read({"power": words.POWER, "speed": words.SPEED}[what], parse_values, text)


def card(asked: Asked) -> Response:
    """Show a test card: its grid, to press the best cell of."""
    found = deeds.card_called(asked.parts["name"])
    return asked.page("test_card.html", card=found, today=dt.date.today())


def keep_best(asked: Asked) -> Response:
    """Keep the settings of a card's best cell."""
    found = deeds.card_called(asked.parts["name"])
    cell = asked.form.get("cell", "")
    if not cell:
        raise InputError(words.NO_CELL)
    told = (asked.form.get("outcome", ""), asked.form.get("remarks", ""))
    return _on(asked, keep_cell(found.folder, cell, *told, _day(asked)))


def drop_card(asked: Asked) -> Response:
    """Take a test card out of the shop."""
    name = asked.form.get("name", "")
    deeds.drop_card(name)
    undo = Undo(words.UNDO_CHANGE, "/shop/cards/restore", {"name": name})
    return asked.on("/shop/cards", words.CARD_OUT, undo)


def restore_card(asked: Asked) -> Response:
    """Put a test card back."""
    name = asked.form.get("name", "")
    deeds.restore_card(name)
    return asked.on(f"/shop/cards/{name}", words.WAS_PUT_BACK)


def artwork(asked: Asked) -> Response:
    """Hand out a card's artwork, to be loaded at the machine."""
    name = asked.parts["name"]
    saved = {"Content-Disposition": f'attachment; filename="test-card-{name}.svg"'}
    return Response(deeds.artwork_of(name), media_type="image/svg+xml", headers=saved)


def key(asked: Asked) -> Response:
    """Show a card's key on paper."""
    name = asked.parts["name"]
    shown = {"Content-Disposition": f'inline; filename="key-{name}.pdf"'}
    return Response(deeds.key_of(name), media_type="application/pdf", headers=shown)


def _on(asked: Asked, kept: Kept) -> Response:
    undo = Undo(words.NOT_AFTER_ALL, "/shop/recipes/drop", {"name": kept.file.stem})
    return asked.on("/shop/recipes", words.recipe_kept(kept.recipe.in_words, kept.doubt), undo)


def _blank(asked: Asked) -> str | None:
    """Return the blank that was chosen, as a deed wants it; None where none was."""
    known = {each.name: each.wanted for each in choosing.blanks().blanks}
    said = _chosen(asked, "blank", known)
    return said and known[said]


def _chosen(asked: Asked, field: str, known: Mapping[str, object]) -> str | None:
    """Return what was chosen of all that is known; None where nothing was."""
    said = asked.form.get(field, "")
    if said and said not in known:
        raise InputError(words.NO_SUCH_CHOICE)
    return said or None


def _day(asked: Asked) -> dt.date | None:
    said = asked.form.get("day", "")
    try:
        return dt.date.fromisoformat(said) if said else None
    except ValueError:
        raise InputError(words.bad_day(said)) from None


def _read(label: str, reader: Callable[[str], Value], text: str) -> Value:
    try:
        return reader(text)
    except ValueError as error:
        raise InputError(words.bad_field(label, error)) from None


ROUTES = [
    get("/shop/recipes", recipes),
    post("/shop/recipes/keep", keep),
    post("/shop/recipes/drop", drop),
    post("/shop/recipes/restore", restore),
    get("/shop/cards", cards),
    post("/shop/cards/make", make),
    post("/shop/cards/drop", drop_card),
    post("/shop/cards/restore", restore_card),
    get("/shop/cards/{name}", card),
    post("/shop/cards/{name}/keep", keep_best),
    get("/shop/cards/{name}/card.svg", artwork),
    get("/shop/cards/{name}/key.pdf", key),
]
