"""Layouts: tried on an order's own names, changed, and kept as one's own."""

from __future__ import annotations

import re
from collections import OrderedDict
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal, cast

import tomlkit

from mailmerge.artwork import Layout, Line
from mailmerge.artwork.layout import ORDER_FIELDS
from mailmerge.candidates import installed, lacking, not_set, sets_names, telling_names
from mailmerge.deeds import words
from mailmerge.deeds.arranging import arrange
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
from mailmerge.orders.order import ORDER_FILE, named_in, see_that_it_suits
from mailmerge.proofs.specimen import draw_word
from mailmerge.shelves import read_toml, validated
from mailmerge.workshop.shop.shop import shop_folder

__all__ = [
    "Draft",
    "Drawn",
    "Kept",
    "Said",
    "TriedLayout",
    "draft",
    "fields_for",
    "font_picture",
    "fonts_for",
    "keep_layout",
    "layout_named",
    "suiting",
    "try_layout",
    "with_another",
]

Said = Mapping[str, str]
"""What a layout says otherwise, by key with dots and numbers from 1: ``line.2.letter_height.max``.

An empty text takes the key out; that of a whole line or ornament (``line.2``) takes that out.
"""

NOTHING_SAID: Said = {}

Kind = Literal["line", "ornament", "border"]
KINDS: tuple[Kind, ...] = ("line", "ornament", "border")

_AS_TEXT = frozenset({"text", "name", "note", "font", "drawing"})
"""Keys whose values are texts, whatever they look like."""

_NEEDED = {"arc": "radius", "ring": "height"}
"""Tables of a line that mean nothing without a key."""


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
class Draft:
    """A layout on its way to become another one."""

    tables: dict[str, Any]
    """Of its file."""
    began: Mapping[Kind, tuple[int, ...]]
    """For each line and drawing, as which of those that the layout began with; 0 for a new one."""


def draft(order: Path, base: str, said: Said = NOTHING_SAID) -> Draft:
    """Return a layout of those to choose from, with what is said over it.

    Parameters
    ----------
    base
        What the order's file would call it.
    said
        ``line`` itself says which lines it goes on from: ``1,3,0`` for the first, the third, and a
        new one; so do ``ornament`` and ``border``.

    Raises
    ------
    InputError
        There is no such layout, or a key is none.
    """
    path = layout_file(order, base)
    tables = read_toml(path)
    if path.name == ORDER_FILE:
        tables = tables["layout"]
    began: dict[Kind, list[int]] = {}
    for kind in KINDS:
        had = tables.get(kind, [])
        began[kind] = _began(kind, said.get(kind, ""), len(had))
        tables[kind] = [deepcopy(had[at - 1]) if at else {} for at in began[kind]]
    gone = {key for key, text in said.items() if not text and re.fullmatch(r"[a-z]+\.\d+", key)}
    for key, text in said.items():
        if key not in gone and key not in KINDS:
            _say(tables, key, text)
    for kind in KINDS:
        began[kind] += [0] * (len(tables[kind]) - len(began[kind]))
    return _drafted(tables, began, gone)


def _began(kind: Kind, text: str, count: int) -> list[int]:
    if not text:
        return list(range(1, count + 1))
    found = [int(part) if part.isdecimal() and len(part) < 3 else -1 for part in text.split(",")]
    if len(found) > _MOST or not all(0 <= at <= count for at in found):
        raise InputError(words.no_such_layout_key(f"{kind} = {text}"))
    return found


def _drafted(tables: dict[str, Any], began: Mapping[Kind, list[int]], gone: set[str]) -> Draft:
    """Return a draft without some of its lines and drawings, and without empty tables.

    A drawing goes with its line, and follows it to its new number.
    """
    stay = [at for at in range(1, len(tables["line"]) + 1) if f"line.{at}" not in gone]
    becomes = {at: number for number, at in enumerate(stay, start=1)}
    kept: dict[Kind, list[tuple[int, dict[str, Any]]]] = {"line": [], "ornament": [], "border": []}
    for kind in KINDS:
        for at, (each, first) in enumerate(zip(tables[kind], began[kind], strict=True), start=1):
            if f"{kind}.{at}" in gone or (kind == "ornament" and each.get("line") not in becomes):
                continue
            whole = {key: value for key, value in each.items() if not _is_empty(key, value)}
            kept[kind].append((first, whole))
    for _, ornament in kept["ornament"]:
        ornament["line"] = becomes[ornament["line"]]
    found = {key: value for key, value in tables.items() if key not in KINDS}
    found |= {kind: [each for _, each in of] for kind, of in kept.items() if of}
    return Draft(found, {kind: tuple(first for first, _ in of) for kind, of in kept.items()})


def with_another(order: Path, base: str, said: Said, kind: Kind) -> Said:
    """Return what is said with a line or a drawing more, which is to be changed then.

    Raises
    ------
    InputError
        See :func:`draft`.
    """
    now = draft(order, base, said)
    at = f"{kind}.{len(now.began[kind]) + 1}"
    font = now.tables["line"][0]["font"] if now.began["line"] else ""
    more = {
        "line": {"text": "{order.title}", "font": font, "letter_height.max": "5 mm",
                 "letter_height.min": "3 mm", "gap": "5 mm"},
        "ornament": {"drawing": "flourish", "line": "1", "place": "below", "width": "40 mm",
                     "height": "10 mm", "gap": "4 mm"},
        "border": {"drawing": "wave", "height": "high", "size": "5 mm"},
    }  # fmt: skip
    return {**said, **{f"{at}.{key}": text for key, text in more[kind].items()}}


def _say(tables: dict[str, Any], key: str, text: str) -> None:
    """Put one thing that is said into its place."""
    parts, here = key.split("."), cast(Any, tables)
    last = parts[-1]
    for part, following in pairwise(parts):
        if part.isdecimal():
            at = int(part) - 1
            if not isinstance(here, list) or not 0 <= at <= len(here) or at > _MOST:
                raise InputError(words.no_such_layout_key(key))
            if at == len(here):
                here.append({})
            here = here[at]
        elif isinstance(here, dict):
            here = here.setdefault(part, [] if following.isdecimal() else {})
        else:
            raise InputError(words.no_such_layout_key(key))
    if not isinstance(here, dict):
        raise InputError(words.no_such_layout_key(key))
    if text:
        here[last] = text if last in _AS_TEXT else _value(text)
    else:
        here.pop(last, None)


_MOST = 20


def _value(text: str) -> str | int | bool:
    """Return a text as a file would have it: a number or yes and no without quotation marks."""
    if re.fullmatch(r"-?\d{1,6}", text):
        return int(text)
    return text == "true" if text in ("true", "false") else text


def _is_empty(key: str, value: Any) -> bool:
    return isinstance(value, dict) and (
        not value or _NEEDED.get(key, next(iter(value))) not in value
    )


def _layout(order: Path, base: str, said: Said) -> Layout:
    """Return a layout as it would be, with its files found.

    Raises
    ------
    InputError
        It would be none.
    """
    path = layout_file(order, base)
    found = validated(Layout, draft(order, base, said).tables, words.THE_LAYOUT)
    return found.with_files_beside(path.parent)


_tried: OrderedDict[tuple[AtHand, Layout], AtHand] = OrderedDict()
_MOST_TRIED = 24


def _with(order: Path, layout: Layout) -> AtHand:
    """Return an order at hand with another layout, or take it out of those made of late."""
    now = at_hand(order)
    see_that_it_suits(now.order, layout)
    key = now, layout
    if key not in _tried:
        _tried[key] = now.with_layout(layout)
        while len(_tried) > _MOST_TRIED:
            _tried.popitem(last=False)
    _tried.move_to_end(key)
    return _tried[key]


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
    layout = _layout(order, base, said)
    trial = _with(order, layout)
    cups = []
    for number in _telling(order)[slice(only, None if only is None else only + 1)]:
        sketch = trial.tried(number, {}, None).sketch
        picture = Picture(sketch.cup, words.cup_of(sketch.entry.name))
        cups.append(Drawn(number, sketch.entry, picture))
    sizes = tuple(
        SetSize(layout.line[each.line - 1].text, each.role, each.letter_height)
        for each in trial.design.sizes.settled
    )
    lacks = sum(bool(lacking(trial.design, guest)) for guest in trial.guests)
    return TriedLayout(layout, tuple(cups), sizes, trial.too_long, lacks)


def _telling(order: Path) -> list[int]:
    """Return the numbers of the items whose names tell most about a layout, once each.

    The shortest is looked for among the names that the order's present layout can set.
    """
    now = at_hand(order)
    guests = [guest for guest in now.guests if guest.name]
    if not guests:
        raise InputError(words.no_names(folder_of(order)))
    designs = [now.design] if sets_names(now.design.layout) else []
    return [now.first_of(guest.row) for guest in telling_names(guests, designs)]


@dataclass(frozen=True, slots=True)
class FontChoice:
    """A font for a line of a layout."""

    name: str
    lacking: int
    """Names of the list whose letters it does not all have."""
    is_taken: bool


def fonts_for(order: Path, base: str, said: Said, number: int) -> tuple[FontChoice, ...]:
    """Return the fonts for a line of a layout, those that lack nothing first.

    Raises
    ------
    InputError
        The layout would be none or has no such line, or the order is wrong.
    """
    line, now = _line(order, base, said, number), at_hand(order)
    texts = [line.filled({**guest.fields, **now.design.words}) or "" for guest in now.guests]
    found = []
    for name in dict.fromkeys([line.font, *installed()]):
        style = line.in_font(name, now.design.folder).style(now.design.folder)
        lacks = sum(bool(not_set(style, text)) for text in texts if text)
        found.append(FontChoice(name, lacks, name == line.font))
    return tuple(sorted(found, key=lambda each: (not each.is_taken, each.lacking)))


def font_picture(order: Path, base: str, said: Said, number: int, font: str) -> Picture:
    """Draw what a line of a layout says of a short name, in a font's own letters.

    Raises
    ------
    InputError
        As :func:`fonts_for`, or there is no such font.
    """
    line, now = _line(order, base, said, number), at_hand(order)
    item = now.item(_telling(order)[0])
    assert item is not None
    text = line.filled({**item.guest.fields, **now.design.words}) or item.guest.name
    style = line.in_font(font, now.design.folder).style(now.design.folder)
    return Picture(draw_word(style, text), words.in_font(text, font))


def _line(order: Path, base: str, said: Said, number: int) -> Line:
    lines = _layout(order, base, said).line
    if not 1 <= number <= len(lines):
        raise InputError(words.no_such_layout_key(f"line.{number}"))
    return lines[number - 1]


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
    layout = _layout(order, base, {**said, "name": name})
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
        for key in ("font", "drawing"):
            file = each.get(key, "")
            if file.lower().endswith((*FONT_ENDINGS, ".svg")):
                each[key] = str((beside / file).absolute())
