"""The questions that set a shop up, and the ``shop.toml`` that follows from their answers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

import tomlkit

from mailmerge.shelves import validated
from mailmerge.workshop.shop.hours import Span
from mailmerge.workshop.shop.shop import Shop, ShopFile


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that is asked; ``key`` is where the answer goes, such as ``rates.labour``."""

    key: str
    words: str

    def said_by(self, shop: Shop) -> str:
        """Return what a shop says now, as one would type it."""
        table, _, name = self.key.partition(".")
        value = getattr(getattr(shop.values, table), name)
        if self.key == "shop.address":
            return ", ".join(value)
        if table == "hours":
            return _spans(value)
        if isinstance(value, Decimal):
            return f"{value:f} %" if self.key in _PERCENTAGES else f"{value:f}"
        return f"{value:g}" if isinstance(value, float) else f"{value}"


QUESTIONS = (
    Question("shop.name", "Name of the shop, for papers"),
    Question("shop.address", "Its address, telephone, e-mail, with commas between the rows"),
    Question("shop.currency", "Currency, by its code"),
    Question("shop.locale", "Language and country for amounts and days, such as en_GB"),
    Question("shop.paper", "Paper, A4 or Letter"),
    Question("shop.machine", "Machine for new orders, a name of mailmerge machines or a file"),
    Question("shop.layout", "Layout for new orders, a name of mailmerge layouts or a file"),
    Question("shop.spoilage", "Blanks spoiled out of a hundred, until the log knows better"),
    Question("hours.monday", "Open on Mondays (09:00-17:00; closed)"),
    Question("hours.tuesday", "On Tuesdays"),
    Question("hours.wednesday", "On Wednesdays"),
    Question("hours.thursday", "On Thursdays"),
    Question("hours.friday", "On Fridays"),
    Question("hours.saturday", "On Saturdays"),
    Question("hours.sunday", "On Sundays"),
    Question("minutes.setup", "Minutes for an order: list, proofs, settings, a test piece"),
    Question("minutes.loading", "Minutes for a cup at the machine: load, focus, trace, unload"),
    Question("minutes.handling", "Minutes for a cup besides: unpack, clean, look, pack"),
    Question("rates.labour", "An hour of your work costs"),
    Question(
        "rates.machine", "An hour of the machine costs, with you beside it: it never runs alone"
    ),
    Question("price.blank", "A blank costs"),
    Question("price.consumables", "Consumables for a cup cost"),
    Question("price.packaging", "Packaging for a cup costs"),
    Question("price.fixed_fees", "Fees for each order"),
    Question("price.fees", "Fees in percent of the price"),
    Question("price.margin", "Margin in percent of the price"),
    Question("price.deposit", "Deposit in percent"),
    Question("price.tax", "Tax in percent: your own rate, none is built in"),
)
"""In the order in which they are asked."""

_PERCENTAGES = ("shop.spoilage", "price.fees", "price.margin", "price.deposit", "price.tax")


def _spans(spans: tuple[Span, ...]) -> str:
    words = [
        f"{start // 60:02d}:{start % 60:02d}-{end // 60:02d}:{end % 60:02d}" for start, end in spans
    ]
    return ", ".join(words) or "closed"


def check_answers(shop: Shop, answers: Mapping[str, str]) -> None:
    """See that a shop may say all of it.

    Raises
    ------
    InputError
        An answer is not usable; the text says what was found and what is wanted.
    """
    said = Shop(shop.folder, validated(ShopFile, _tables(answers), "this"), False)
    said.named("machines")
    said.named("layouts")


def shop_toml(answers: Mapping[str, str]) -> str:
    """Return the text of a ``shop.toml`` with answers by key, as they were typed."""
    document = tomlkit.document()
    document.add(tomlkit.comment("What holds for every order of the shop. The README tells more."))
    document.update(_tables(answers))
    return tomlkit.dumps(document)


def _tables(answers: Mapping[str, str]) -> dict[str, dict[str, object]]:
    tables: dict[str, dict[str, object]] = {}
    for key, said in answers.items():
        name, _, last = key.partition(".")
        rows = [part.strip() for part in said.split(",") if part.strip()]
        tables.setdefault(name, {})[last] = rows if key == "shop.address" else said
    return tables
