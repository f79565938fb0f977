"""Layouts: tried on an order's own names, changed, and kept as one's own."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any, Literal

import tomlkit

from mailmerge.artwork import Layout
from mailmerge.artwork.layout import ORDER_FIELDS
from mailmerge.candidates import lacking, sets_names, telling_names
from mailmerge.deeds import words
from mailmerge.deeds.arranging import arrange
from mailmerge.deeds.drafts import NOTHING_SAID, Said, draft, layout_of
from mailmerge.deeds.offered import layout_file, layouts_for
from mailmerge.deeds.opening import folder_of, opened
from mailmerge.deeds.pictures import Picture
from mailmerge.deeds.trying import at_hand
from mailmerge.files import Root
from mailmerge.findings import InputError
from mailmerge.guests.names import slug
from mailmerge.items import Entry
from mailmerge.lettering import FONT_ENDINGS
from mailmerge.merge import AtHand
from mailmerge.orders.order import see_that_it_suits
from mailmerge.orders.said import named_in
from mailmerge.workshop.shop.shop import shop_folder

__all__ = [
    "Drawn",
    "Kept",
    "TriedLayout",
    "fields_for",
    "get_ready",
    "keep_layout",
    "layout_named",
    "suiting",
    "telling_items",
    "try_layout",
]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A cup as it would be with a layout."""

    number: int
    entry: Entry
    picture: Picture


@dataclass(frozen=True, slots=True)
class SetSize:
    """The letter height that a line of a layout would have."""

    text: str
    """Of the line, in the layout."""
    role: str
    letter_height: float
    """In mm."""


@dataclass(frozen=True)
class TriedLayout:
    """What a layout would come to."""

    layout: Layout
    cups: tuple[Drawn, ...]
    """The shortest, the longest and the trickiest name, each once."""
    sizes: tuple[SetSize, ...]
    too_long: int
    """Names with a line that does not fit at its least letter height."""
    lacking: int
    """Names with letters that the fonts do not have."""


@dataclass(frozen=True)
class Kept:
    """A layout that was kept as one's own."""

    file: Path
    name: str
    """What an order's file calls it."""


@dataclass(frozen=True)
class _Trial:
    """An order with another layout."""

    order: AtHand

    @cached_property
    def lacking(self) -> int:
        """Names with letters that the fonts do not have."""
        return sum(bool(lacking(self.order.design, guest)) for guest in self.order.guests)


_tried: OrderedDict[tuple[AtHand, Layout], _Trial] = OrderedDict()
_MOST_TRIED = 24


def _with(order: Path, layout: Layout) -> _Trial:
    """Return an order at hand with another layout, or take it out of those made of late."""
    now = at_hand(order)
    see_that_it_suits(now.order, layout)
    key = now, layout
    if key not in _tried:
        _tried[key] = _Trial(now.with_layout(layout))
        while len(_tried) > _MOST_TRIED:
            _tried.popitem(last=False)
    _tried.move_to_end(key)
    return _tried[key]


def get_ready(order: Path) -> None:
    """Keep an order at hand, for whoever tries layouts next, with what does not change with them.

    Raises
    ------
    InputError
        The order is wrong, its list holds no names, or it is not sure which row is whose.
    """
    telling_items(order)


def try_layout(
    order: Path, base: str, said: Said = NOTHING_SAID, only: int | None = None
) -> TriedLayout:
    """Show what a layout makes of an order's shortest, longest and trickiest names.

    Parameters
    ----------
    only
        Which of the three, from 0; None for all.

    Raises
    ------
    InputError
        The layout would be none or does not suit the list, or the order is wrong.
    """
    layout = layout_of(order, base, said)
    trial = _with(order, layout)
    cups = []
    for number in telling_items(order)[slice(only, None if only is None else only + 1)]:
        sketch = trial.order.tried(number, {}, None).sketch
        picture = Picture(sketch.cup, words.cup_of(sketch.entry.name))
        cups.append(Drawn(number, sketch.entry, picture))
    sizes = tuple(
        SetSize(layout.line[each.line - 1].text, each.role, each.letter_height)
        for each in trial.order.design.sizes.settled
    )
    return TriedLayout(layout, tuple(cups), sizes, trial.order.too_long, trial.lacking)


def telling_items(order: Path) -> tuple[int, ...]:
    """Return the numbers of the items whose names tell most about a layout, once each.

    The shortest is looked for among the names that the order's present layout can set.

    Raises
    ------
    InputError
        The order is wrong, or its list holds no names.
    """
    now = at_hand(order)
    if not any(guest.name for guest in now.guests):
        raise InputError(words.no_names(folder_of(order)))
    return _telling(now)


@lru_cache(maxsize=3)
def _telling(now: AtHand) -> tuple[int, ...]:
    """Return them of an order at hand: they are the same for every layout that is tried on it."""
    designs = [now.design] if sets_names(now.design.layout) else []
    named = [guest for guest in now.guests if guest.name]
    return tuple(now.first_of(guest.row) for guest in telling_names(named, designs))


def suiting(order: Path) -> dict[str, str]:
    """Return why each layout does not suit an order, by its name; ``""`` for those that do.

    Raises
    ------
    InputError
        The order is wrong.
    """
    loaded = opened(folder_of(order))
    found = {}
    for each in layouts_for(order):
        beside = layout_file(order, each.name).parent
        try:
            see_that_it_suits(loaded, each.layout.with_files_beside(beside))
            found[each.name] = ""
        except InputError as error:
            found[each.name] = str(error)
    return found


def layout_named(order: Path) -> str:
    """Return what an order's file calls its layout; ``""`` where it stands in that file.

    Raises
    ------
    InputError
        There is no such order.
    """
    return named_in(folder_of(order), "layouts")


def fields_for(order: Path) -> tuple[str, ...]:
    """Return what a line may say: the list's fields, and those of the order itself.

    Raises
    ------
    InputError
        The order is wrong.
    """
    return (*opened(folder_of(order)).guests.known_fields, *ORDER_FIELDS)


def keep_layout(
    order: Path,
    name: str,
    base: str,
    said: Said = NOTHING_SAID,
    where: Literal["order", "shop"] = "order",
    take: bool = True,
    saw: str | None = None,
) -> Kept:
    """Keep a layout as one's own, in a file beside the order or among the shop's.

    Nothing is written over: a layout that was kept stays as it is.

    Parameters
    ----------
    base
        What the order's file would call the layout that it began from.
    take
        Whether the order is made with it from now on.
    saw
        The digest of the order's file, see :func:`~mailmerge.deeds.arranging.arrange`.

    Raises
    ------
    InputError
        The layout would be none or does not suit the list, its name is missing or taken, or it
        cannot be written.
    """
    if not name:
        raise InputError(words.LAYOUT_NAME_MISSING)
    folder = folder_of(order)
    if any(each.layout.name.casefold() == name.casefold() for each in layouts_for(order)):
        raise InputError(words.layout_name_taken(name))
    layout = layout_of(order, base, {**said, "name": name})
    see_that_it_suits(opened(folder), layout)
    tables = draft(order, base, {**said, "name": name}).tables
    file = (
        folder if where == "order" else shop_folder() / "layouts"
    ) / f"{slug(name, 'layout')}.toml"
    if file.exists():
        raise InputError(words.layout_name_taken(name))
    beside = layout_file(order, base).parent
    if beside != file.parent:
        _with_whole_paths(tables, beside)
    Root(file.parent).write(file.name, tomlkit.dumps(tables).encode())
    called = file.name if where == "order" else str(file)
    if take:
        try:
            arrange(folder, layout=called, saw=saw)
        except InputError:
            Root(file.parent).remove(file.name)
            raise
    return Kept(file, called)


def _with_whole_paths(tables: dict[str, Any], beside: Path) -> None:
    """Let fonts and drawings that are files be found from another folder."""
    for each in (*tables["line"], *tables.get("ornament", ()), *tables.get("border", ())):
        for key in ("font", "drawing", "motif"):
            file = each.get(key, "")
            if file.lower().endswith((*FONT_ENDINGS, ".svg")):
                each[key] = str((beside / file).absolute())
