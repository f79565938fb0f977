"""Test cards that the shop keeps, and what was taken out of the shop and can be put back."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.settings import CARD
from mailmerge.files import Root, read_file
from mailmerge.findings import InputError, nearest
from mailmerge.guests.names import slug
from mailmerge.workshop.papers.card_key import KEY_PAPER
from mailmerge.workshop.settings.key import KEY, Won, read_key
from mailmerge.workshop.settings.recipes import Recipe, Settings, kept_recipes
from mailmerge.workshop.shop.shop import CARDS, DROPPED, RECIPES, open_shop

__all__ = [
    "CardCell",
    "ShopCard",
    "artwork_of",
    "card_called",
    "cards",
    "drop_card",
    "drop_recipe",
    "key_of",
    "place_for_card",
    "restore_card",
    "restore_recipe",
]


@dataclass(frozen=True)
class CardCell:
    """A cell of a card, and whether a recipe has been kept of it."""

    name: str
    ink: str
    """The colour of its group in the artwork."""
    settings: Settings
    kept: Recipe | None
    """The newest recipe with just these settings, for this coat, blank and machine."""


@dataclass(frozen=True)
class ShopCard:
    """A test card in the shop's folder."""

    name: str
    folder: Path
    made: dt.date
    machine: str
    coat: str
    blank: str
    rows: tuple[tuple[CardCell, ...], ...]
    """As the grid lies on the test piece: power grows across."""

    @property
    def kept(self) -> tuple[CardCell, ...]:
        """The cells of which recipes were kept."""
        return tuple(cell for row in self.rows for cell in row if cell.kept)


def cards() -> tuple[ShopCard, ...]:
    """List the test cards that the shop keeps, the latest first.

    Raises
    ------
    InputError
        A card's key or a recipe cannot be read.
    """
    known = [recipe for _, recipe in kept_recipes(open_shop())]
    found = [_card(folder, known) for folder in _folders()]
    return tuple(sorted(found, key=lambda card: (card.made, card.name), reverse=True))


def card_called(name: str) -> ShopCard:
    """Return a test card of the shop's.

    Raises
    ------
    InputError
        There is none of that name, or it cannot be read.
    """
    return _card(_folder(name), [recipe for _, recipe in kept_recipes(open_shop())])


def place_for_card(coat: str) -> Path:
    """Return a folder that is not there yet, for a test card that the shop keeps."""
    folder = open_shop().folder
    stem = f"{slug(coat, 'coat')}-{dt.date.today()}"
    number, name = 1, stem
    while (folder / CARDS / name).exists() or (folder / DROPPED / CARDS / name).exists():
        number += 1
        name = f"{stem}-{number}"
    return folder / CARDS / name


def artwork_of(card: str) -> bytes:
    """Return a card's artwork, an SVG.

    Raises
    ------
    InputError
        The shop has no such card, or it cannot be read.
    """
    return read_file(_folder(card) / CARD)


def key_of(card: str) -> bytes:
    """Return a card's key on paper, a PDF.

    Raises
    ------
    InputError
        The shop has no such card, or it cannot be read.
    """
    return read_file(_folder(card) / KEY_PAPER)


def drop_card(name: str) -> None:
    """Take a test card out of the shop; it can be put back.

    Raises
    ------
    InputError
        The shop has no such card, or it cannot be moved.
    """
    _drop(CARDS, _folder(name).name)


def restore_card(name: str) -> None:
    """Put a test card back that was taken out of the shop.

    Raises
    ------
    InputError
        None of that name was taken out, or it cannot be moved.
    """
    _restore(CARDS, name)


def drop_recipe(name: str) -> None:
    """Take a recipe out of the shop: it counts no more. It can be put back.

    Raises
    ------
    InputError
        The shop has no such recipe, or it cannot be moved.
    """
    known = [path.stem for path, _ in kept_recipes(open_shop())]
    if name not in known:
        raise InputError(words.no_such_recipe(name, nearest(name, known)))
    _drop(RECIPES, f"{name}.toml")


def restore_recipe(name: str) -> None:
    """Put a recipe back that was taken out of the shop.

    Raises
    ------
    InputError
        None of that name was taken out, or it cannot be moved.
    """
    _restore(RECIPES, f"{name}.toml")


def _drop(kind: str, name: str) -> None:
    shop = Root(open_shop().folder)
    shop.clear(f"{DROPPED}/{kind}/{name}")
    shop.move(f"{kind}/{name}", f"{DROPPED}/{kind}/{name}")


def _restore(kind: str, name: str) -> None:
    folder = open_shop().folder
    dropped = folder / DROPPED / kind
    known = [each.name for each in dropped.iterdir()] if dropped.is_dir() else []
    if name not in known or (folder / kind / name).exists():
        raise InputError(words.not_dropped(name.removesuffix(".toml")))
    Root(folder).move(f"{DROPPED}/{kind}/{name}", f"{kind}/{name}")


def _folders() -> list[Path]:
    folder = open_shop().folder / CARDS
    return [each.parent for each in sorted(folder.glob(f"*/{KEY}"))]


def _folder(name: str) -> Path:
    known = {folder.name: folder for folder in _folders()}
    if name not in known:
        raise InputError(words.no_such_card(name, nearest(name, known)))
    return known[name]


def _card(folder: Path, known: list[Recipe]) -> ShopCard:
    won = read_key(folder)
    rows: dict[str, list[CardCell]] = {}
    for each in won:
        cell = CardCell(each.cell, each.ink, each.settings, _kept_of(each, known))
        rows.setdefault(each.cell[1:], []).append(cell)
    made = dt.date.fromtimestamp((folder / CARD).stat().st_mtime)
    first, grid = won[0], tuple(map(tuple, rows.values()))
    return ShopCard(folder.name, folder, made, first.machine, first.coat, first.blank, grid)


def _kept_of(won: Won, known: list[Recipe]) -> Recipe | None:
    def told(of: Recipe | Won, settings: Settings) -> tuple[object, ...]:
        tried = (of.machine, of.coat, of.blank_identity or "")
        return *tried, settings.power, settings.speed, settings.passes, settings.interval

    same = [each for each in known if told(each, each) == told(won, won.settings)]
    return same[-1] if same else None
