"""A layout on its way to become another one: what is said over one of those to choose from."""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal, cast

from mailmerge.artwork import Layout
from mailmerge.artwork.layout import OPEN
from mailmerge.deeds import words
from mailmerge.deeds.offered import layout_file
from mailmerge.findings import InputError
from mailmerge.orders.said import ORDER_FILE
from mailmerge.shelves import read_toml, validated

__all__ = ["KINDS", "NOTHING_SAID", "OPEN", "Draft", "Said", "draft", "layout_of", "with_another"]

Said = Mapping[str, str]
"""What a layout says otherwise, by key with dots and numbers from 1: ``line.2.letter_height.max``.

An empty text takes the key out; that of a whole line or ornament (``line.2``) takes that out.
"""

NOTHING_SAID: Said = {}

Kind = Literal["line", "ornament", "border"]
KINDS: tuple[Kind, ...] = ("line", "ornament", "border")

_AS_TEXT = frozenset({"text", "name", "note", "font", "drawing", "motif"})
"""Keys whose values are texts, whatever they look like."""

_NEEDED = {"arc": "radius", "ring": "height"}
"""Tables of a line that mean nothing without a key."""


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


def layout_of(order: Path, base: str, said: Said) -> Layout:
    """Return a layout as it would be, with its files found.

    Raises
    ------
    InputError
        It would be none.
    """
    path = layout_file(order, base)
    found = validated(Layout, draft(order, base, said).tables, words.THE_LAYOUT)
    return found.with_files_beside(path.parent)
