"""The shop: what holds for every order, said once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import get_args

from mailmerge.deeds import words
from mailmerge.files import Root, read_file, write_file
from mailmerge.findings import InputError, WrongValue
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.shelves import MAX_TOML_BYTES
from mailmerge.workshop.shop.setup import QUESTIONS, changed_toml, check_answers, shop_toml
from mailmerge.workshop.shop.shop import open_shop, shop_of

__all__ = [
    "PAPERS",
    "Value",
    "change_shop",
    "check_shop",
    "set_up_shop",
    "shop",
    "shop_place",
]

PAPERS: tuple[str, ...] = get_args(PaperSize)
"""Sizes of paper that PDFs may be set on."""


@dataclass(frozen=True, slots=True)
class Value:
    """One thing that holds for every order."""

    key: str
    words: str
    """The question that asks for it."""
    value: str
    """What holds now, as one would type it."""
    source: str = "default"
    """Where it comes from: ``shop.toml`` or ``default``."""


@dataclass(frozen=True)
class ShopValues:
    """What holds for every order, and where it is written."""

    file: Path
    is_set_up: bool
    values: tuple[Value, ...]


def shop() -> ShopValues:
    """Say what holds for every order; without a ``shop.toml`` these are defaults.

    Raises
    ------
    InputError
        ``shop.toml`` is wrong.
    """
    opened = open_shop()
    values = tuple(
        Value(each.key, each.words, each.said_by(opened), opened.source(each.key))
        for each in QUESTIONS
    )
    return ShopValues(opened.file, opened.is_set_up, values)


def check_shop(answers: Mapping[str, str]) -> None:
    """See that a shop may say all of this, by key.

    Raises
    ------
    InputError
        It may not: the text says what was found and what is wanted.
    """
    check_answers(open_shop(), answers)


def set_up_shop(answers: Mapping[str, str]) -> Path:
    """Write ``shop.toml`` with answers by key, as they were typed; return it.

    Raises
    ------
    InputError
        An answer is not usable, or the shop is set up already.
    """
    opened = open_shop()
    if opened.is_set_up:
        raise InputError(words.file_exists(opened.file))
    check_answers(opened, answers)
    write_file(opened.file, shop_toml(answers).encode())
    return opened.file


def change_shop(answers: Mapping[str, str], seen: Mapping[str, str] | None = None) -> Path:
    """Let ``shop.toml`` say something else, by key, as it was typed; return it.

    Comments and what is not named stay. An empty answer takes a key out: its default holds again.

    Parameters
    ----------
    seen
        What held when the answers were given, by key, as one would type it; by default what holds
        now. Somebody else may have changed it since.

    Raises
    ------
    InputError
        The shop would be wrong so: the text says what was found and what is wanted. Or a value
        has been changed since it was seen, or the file cannot be written. Nothing has changed
        then.
    """
    opened = open_shop()
    now = {each.key: each.said_by(opened) for each in QUESTIONS}
    if strange := sorted(set(answers) - now.keys()):
        raise InputError(words.no_such_value(strange[0], sorted(now)))
    for each in QUESTIONS:
        before = (seen or {}).get(each.key, now[each.key])
        if each.key in answers and now[each.key] not in (before, answers[each.key]):
            why = words.value_changed_since(before, now[each.key])
            raise WrongValue(f"{each.words}: {why}", each.key, why)
    check_answers(opened, {key: said for key, said in answers.items() if said})
    text = read_file(opened.file, MAX_TOML_BYTES).decode("utf-8-sig") if opened.is_set_up else ""
    changed = changed_toml(text, answers)
    shop_of(opened.folder, changed)
    write_file(opened.file, changed.encode())
    return opened.file


def shop_place() -> Path:
    """Return the shop's folder, made where it is not there yet.

    Raises
    ------
    InputError
        It cannot be made.
    """
    folder = open_shop().folder
    Root(folder).make("")
    return folder
