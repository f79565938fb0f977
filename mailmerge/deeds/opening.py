"""How deeds open an order: its folder, a bare list in place of one, and its ledger."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Literal

from mailmerge.deeds import words
from mailmerge.deeds.folder import folder_of, order_ledger
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import LEDGER, Ledger
from mailmerge.ledger.recall import Recall, recall
from mailmerge.ledger.who import Choices
from mailmerge.merge import cores, see_up_to_date, update
from mailmerge.orders import Order, open_order, order_from_list
from mailmerge.progress import Watch
from mailmerge.workshop.shop.shop import Shop, open_shop

__all__ = [
    "DEFAULT_BLANK",
    "NOTHING_GIVEN",
    "Given",
    "Taken",
    "current",
    "folder_of",
    "is_order",
    "opened",
    "order_ledger",
    "remembered",
]

DEFAULT_BLANK = "handled-tumbler-40oz"


@dataclass(frozen=True, slots=True)
class Given:
    """What a call says about a bare list; None for what it leaves open."""

    blank: str | None = None
    layout: str | None = None
    coat: str | None = None
    sheet: str | None = None
    title: str | None = None
    machine: str | None = None


NOTHING_GIVEN = Given()


@dataclass(frozen=True, slots=True)
class Taken:
    """What was taken where the call is silent."""

    what: Literal["blank", "layout", "machine"]
    value: str
    is_default: bool
    """Whether it is a default; else ``shop.toml`` says so."""


def taken_for(given: Given) -> tuple[Taken, ...]:
    """Return what is taken for a bare list or a new order where the call is silent."""
    shop = open_shop()
    business = shop.values.shop
    found = []
    if given.blank is None:
        found.append(Taken("blank", DEFAULT_BLANK, True))
    if given.layout is None:
        found.append(Taken("layout", business.layout, _is_default(shop, "layout")))
    if given.machine is None:
        found.append(Taken("machine", business.machine, _is_default(shop, "machine")))
    return tuple(found)


def _is_default(shop: Shop, key: str) -> bool:
    return shop.source(f"shop.{key}") == "default"


def is_order(path: Path) -> bool:
    """Whether a path means an order, and not a bare list."""
    return path.is_dir() or path.suffix.lower() == ".toml"


def opened(path: Path, given: Given = NOTHING_GIVEN) -> Order:
    """Open an order that was not forgotten, or make one out of a bare list.

    Raises
    ------
    InputError
        There is no such thing, or something that goes with a list is given for an order.
    """
    if is_order(path):
        if used := [f"--{name}" for name, value in asdict(given).items() if value is not None]:
            raise InputError(words.options_of_a_list(path, used))
        folder = path if path.is_dir() else path.parent
        if (folder / LEDGER).exists():
            with order_ledger(folder, missing="make"):
                pass  # it was not forgotten
        return open_order(path)
    if not path.exists():
        raise InputError(words.no_such_order_or_list(path))
    shop = open_shop()
    return order_from_list(
        path,
        given.title,
        given.sheet,
        given.blank or DEFAULT_BLANK,
        given.layout or shop.named("layouts"),
        given.coat,
        given.machine or shop.named("machines"),
    )


def remembered(path: Path, order: Order, choices: Choices) -> Recall | None:
    """Return an order with its memory laid over it; None for a bare list or a first merge.

    Raises
    ------
    Unsure
        It is not sure which row is whose.
    """
    if not is_order(path) or not (order.design.folder / LEDGER).exists():
        return None
    with order_ledger(order.design.folder, missing="make") as ledger:
        return recall(order, ledger, choices)


def current(ledger: Ledger, watch: Watch) -> Order:
    """Open an order of which everything on record is as its files say; merge it if it never was.

    Raises
    ------
    InputError
        Something was changed since the last merge.
    """
    order = open_order(ledger.folder)
    if ledger.next_number() == 1:
        update(order, ledger, cores(), watch)
        order = open_order(ledger.folder)
    see_up_to_date(order, ledger)
    return order
