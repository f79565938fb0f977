"""A list's own names on a cup in a layout, before there is an order."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from mailmerge.candidates import telling_names
from mailmerge.deeds import words
from mailmerge.deeds.choosing import layouts
from mailmerge.deeds.opening import DEFAULT_BLANK, Given
from mailmerge.deeds.pictures import Picture
from mailmerge.findings import InputError
from mailmerge.guests.seen import SeenList
from mailmerge.merge import AtHand
from mailmerge.orders import order_from_list
from mailmerge.orders.order import see_that_it_suits
from mailmerge.shelves import shelf
from mailmerge.workshop.shop.shop import open_shop

__all__ = ["sample_picture"]

Columns = tuple[tuple[str, str], ...]

_ALONE = "name-alone"
"""A layout of the library that suits every list."""


def sample_picture(list_file: Path, seen: SeenList, given: Given) -> Picture:
    """Return the cup of a telling or usual name of a list, the longest that fits a layout.

    Parameters
    ----------
    seen
        How the list is read.
    given
        The layout by its name in the library; blank and coat, where they are chosen already.

    Raises
    ------
    InputError
        The list leaves something open or has no names, or what was given is not usable.
    """
    if seen.doubt:
        raise InputError(words.NOT_READ_YET)
    if given.layout not in shelf("layouts"):
        raise InputError(words.CHOOSE_LAYOUT)
    sheet, columns = seen.said
    about = tuple(columns.items()), given.blank, given.coat, given.title
    return _drawn(list_file, sheet, *about, given.layout or "")


@lru_cache(maxsize=120)
def _drawn(
    list_file: Path, sheet: str | None, columns: Columns, blank: str | None, coat: str | None,
    title: str | None, layout: str,
) -> Picture:  # fmt: skip
    few, look = _telling(list_file, sheet, columns, blank, coat, title), layouts()[layout]
    see_that_it_suits(few.order, look)
    trial = few.with_layout(look)
    for guest in sorted(trial.guests, key=lambda guest: -len(guest.name)):
        sketch = trial.tried(trial.first_of(guest.row), {}, None).sketch
        if sketch.entry.status != "stopped":
            break
    return Picture(sketch.cup, words.cup_of(sketch.entry.name))


@lru_cache(maxsize=8)
def _telling(
    list_file: Path, sheet: str | None, columns: Columns, blank: str | None, coat: str | None,
    title: str | None,
) -> AtHand:  # fmt: skip
    """Return a list's telling and usual names as an order of their own: sizes are settled."""
    order = order_from_list(
        list_file, title or words.YOUR_TITLE, sheet, blank or DEFAULT_BLANK, _ALONE, coat,
        open_shop().named("machines"), dict(columns),
    )  # fmt: skip
    at_hand = AtHand(order, None)
    guests = [guest for guest in at_hand.guests if guest.name]
    if not guests:
        raise InputError(words.no_names(list_file))
    by_length = sorted(guests, key=lambda guest: len(guest.name))
    # Of the telling ones perhaps none fits, or none has all its letters: those in the middle do.
    middle = [by_length[len(guests) * part // 8] for part in (3, 4, 5)]
    return at_hand.only({guest.row for guest in (*telling_names(guests, []), *middle)})
