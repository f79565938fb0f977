"""Trying something on one cup before it is done: what would come of it, and the ways out.

Nothing is written. The last orders are kept at hand, so that whoever calls again and again from one
process waits only for the one cup.
"""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import chain, islice
from pathlib import Path

from mailmerge.artwork import Own
from mailmerge.deeds import words
from mailmerge.deeds.opening import folder_of, opened, remembered
from mailmerge.deeds.pictures import Picture
from mailmerge.deeds.questions import NO_CHOICES
from mailmerge.deeds.status import seen_at
from mailmerge.files import read_file
from mailmerge.findings import InputError
from mailmerge.guests.names import broken
from mailmerge.items import Entry
from mailmerge.ledger.tray import MERGED
from mailmerge.merge import AtHand
from mailmerge.merge.ways import ways_for
from mailmerge.proofs.pack.closeup import draw_closeups

__all__ = [
    "Change",
    "Moved",
    "Outcome",
    "Own",
    "Settable",
    "Way",
    "close_by",
    "get_ready",
    "preview",
    "settable",
    "ways_out",
]

_MOST = 3
"""So many orders are kept at hand."""


@dataclass(frozen=True)
class Change:
    """What is tried on a cup."""

    texts: Mapping[str, str] = field(default_factory=dict)
    """Other texts of its guest, by field."""
    own: tuple[Own, ...] | None = None
    """How lines of this cup alone are set; None for how they are now."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way out for a cup."""

    words: str
    change: Change


@dataclass(frozen=True, slots=True)
class Moved:
    """A set whose letters would have another height on all of its cups."""

    text: str
    """Of its line, in the layout."""
    role: str
    """That it is for; ``""`` for all."""
    from_: float
    """In mm."""
    to: float


@dataclass(frozen=True)
class Outcome:
    """What a change would come to."""

    entry: Entry
    """The item, as it would be in a report."""
    picture: Picture
    """Of the cup."""
    moved: tuple[Moved, ...]

    @property
    def is_stopped(self) -> bool:
        """Whether there would be no artwork."""
        return self.entry.stop is not None


_at_hand: OrderedDict[Path, tuple[object, AtHand]] = OrderedDict()


def get_ready(order: Path) -> None:
    """Keep an order at hand, for whoever tries something next, with one cup made already.

    Raises
    ------
    InputError
        The order is wrong, or it is not sure which row is whose.
    """
    held = at_hand(order)
    if numbers := held.numbers:
        held.tried(numbers[0], {}, None)


def preview(order: Path, number: int, change: Change) -> Outcome:
    """Show what a change would make of a cup, as the next merge would make it.

    Raises
    ------
    InputError
        There is no such item or font, or the order is wrong.
    """
    held = at_hand(order)
    _see_item(held, number)
    tried = held.tried(number, change.texts, change.own)
    entry, layout = tried.sketch.entry, held.design.layout
    moved = tuple(
        Moved(layout.line[size.line - 1].text, size.role, size.letter_height, height)
        for size, height in tried.moved
    )
    return Outcome(entry, Picture(tried.sketch.cup, words.cup_of(entry.name)), moved)


def ways_out(order: Path, number: int) -> tuple[Way, ...]:
    """Return what could be done about a cup that is stopped or not set as its set, least first.

    They are to be tried by :func:`preview`: one that is stopped then is no way.

    Raises
    ------
    InputError
        There is no such item, or the order is wrong.
    """
    held = at_hand(order)
    _see_item(held, number)
    return tuple(
        Way(way.words, Change(way.texts, (way.own,) if way.own else None))
        for way in ways_for(held, number)
    )


@dataclass(frozen=True, slots=True)
class TooLong:
    """A line that has no room on a cup, and the letter height at which it would have."""

    number: int
    """Of the line in the layout."""
    rows: int
    fits_at: float
    """In mm, at most: with all its words, in its font."""
    least: float
    """In mm, of the layout."""


def too_long(order: Path, number: int) -> tuple[TooLong, ...]:
    """Return the lines of a cup that have no room at the layout's least letter height.

    Raises
    ------
    InputError
        There is no such item, or the order is wrong.
    """
    held = at_hand(order)
    _see_item(held, number)
    return tuple(
        TooLong(line.number, len(line.rows), math.floor(line.fitting_height * 10) / 10, line.least)
        for line in held.composition(number).lines
        if not line.fits
    )


@dataclass(frozen=True, slots=True)
class Settable:
    """A line of a cup, and what may be the cup's own in it."""

    number: int
    """Of the line in the layout."""
    text: str
    letter_height: float
    """In mm, as it is."""
    least: float
    most: float
    """In mm, as the layout allows."""
    breaks: tuple[tuple[str, ...], ...]
    """The ways to stand on several rows, or on one; empty where it can only stand on one."""
    own: Own
    """What is its own now."""


def settable(order: Path, number: int) -> tuple[Settable, ...]:
    """Return the lines of a cup, and what may be its own in each.

    Raises
    ------
    InputError
        There is no such item, or the order is wrong.
    """
    held = at_hand(order)
    _see_item(held, number)
    return tuple(
        Settable(
            line.number,
            line.text,
            round(line.letter_height, 2),
            of.letter_height.min,
            of.letter_height.max,
            () if of.arc or of.ring or of.monogram else tuple(_breaks(line.text)),
            line.own,
        )
        for line in held.composition(number).lines
        for of in (held.design.layout.line[line.number - 1],)
    )


def _breaks(text: str) -> Iterator[tuple[str, ...]]:
    """Pass over the ways to break a text, on one row first; the first few."""
    ways = chain([(text,)], *(broken(text, rows) for rows in (2, 3)))
    return islice(ways, _MOST_BREAKS)


_MOST_BREAKS = 24


def close_by(order: Path, entry: Entry, face: int) -> Picture:
    """Return a face of a cup close by, as it is on record.

    Parameters
    ----------
    face
        Which of the faces that hold something, from 0.

    Raises
    ------
    InputError
        The cup is stopped, has no such face, or its artwork cannot be read.
    """
    held = at_hand(order)
    _see_item(held, entry.item)
    if entry.artwork is None:
        raise InputError(words.no_close_picture(entry.item))
    artwork = read_file(folder_of(order) / MERGED / entry.artwork)
    pictures = [*draw_closeups(artwork, held.scene(entry.item))]
    if not 0 <= face < len(pictures):
        raise InputError(words.no_close_picture(entry.item))
    return Picture(pictures[face].png(), words.close_by(entry.name))


def _see_item(order: AtHand, number: int) -> None:
    if order.item(number) is None:
        raise InputError(words.no_such_item(number))


def at_hand(path: Path) -> AtHand:
    """Return an order that is kept at hand, opened anew where anything has changed.

    Raises
    ------
    InputError
        The order is wrong, or it is not sure which row is whose.
    """
    folder = folder_of(path).resolve()
    seen = seen_at(folder)
    kept = _at_hand.get(folder)
    if kept is None or kept[0] != seen:
        loaded = opened(folder)
        kept = seen, AtHand(loaded, remembered(folder, loaded, NO_CHOICES))
        _at_hand[folder] = kept
    _at_hand.move_to_end(folder)
    while len(_at_hand) > _MOST:
        _at_hand.popitem(last=False)
    return kept[1]
