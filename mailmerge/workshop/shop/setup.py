"""The questions that set a shop up, and the ``shop.toml`` that follows from their answers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

import tomlkit

from mailmerge.shelves import validated
from mailmerge.workshop.shop import words
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


QUESTIONS = tuple(Question(key, asked) for key, asked in words.QUESTIONS.items())
"""In the order in which they are asked."""

_PERCENTAGES = ("shop.spoilage", "price.fees", "price.margin", "price.deposit", "price.tax")


def _spans(spans: tuple[Span, ...]) -> str:
    told = [
        f"{start // 60:02d}:{start % 60:02d}-{end // 60:02d}:{end % 60:02d}" for start, end in spans
    ]
    return ", ".join(told) or "closed"


def check_answers(shop: Shop, answers: Mapping[str, str]) -> None:
    """See that a shop may say all of it.

    Raises
    ------
    InputError
        An answer is not usable; the text says what was found and what is wanted.
    """
    said = Shop(shop.folder, validated(ShopFile, _tables(answers), words.YOUR_ANSWER), False)
    said.named("machines")
    said.named("layouts")


def changed_toml(text: str, answers: Mapping[str, str]) -> str:
    """Return the text of a ``shop.toml`` with other answers by key; the rest stays as it is.

    An empty answer takes a key out: the default holds again.
    """
    document = tomlkit.parse(text)
    for name, values in _tables(answers).items():
        if name not in document:
            document[name] = tomlkit.table()
        table = document[name]
        for key, value in values.items():
            if value in ("", []):
                table.pop(key, None)
            elif str(table.get(key)) != str(value):
                table[key] = value
    return tomlkit.dumps(document)


def shop_toml(answers: Mapping[str, str]) -> str:
    """Return the text of a ``shop.toml`` with answers by key, as they were typed."""
    document = tomlkit.document()
    document.add(tomlkit.comment(words.TOML_HEAD))
    document.update(_tables(answers))
    return tomlkit.dumps(document)


def _tables(answers: Mapping[str, str]) -> dict[str, dict[str, object]]:
    tables: dict[str, dict[str, object]] = {}
    for key, said in answers.items():
        name, _, last = key.partition(".")
        rows = [part.strip() for part in said.split(",") if part.strip()]
        tables.setdefault(name, {})[last] = rows if key == "shop.address" else said
    return tables
