"""Which way the parts of a line run: the Unicode bidirectional algorithm (UAX #9) for one line.

The whole of its implicit part, paired brackets included. Explicit direction signs are not
carried out: a name that holds one is stopped by a check before anybody looks at its lettering.
Written here because the libraries at hand give reordered text only, and shaping needs the runs.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from typing import NamedTuple

_PAIRS = (
    "()[]{}⁅⁆⁽⁾₍₎⌈⌉⌊⌋❨❩❪❫❬❭❮❯❰❱❲❳❴❵⟅⟆⟦⟧⟨⟩⟪⟫⟬⟭⟮⟯⦃⦄⦅⦆⦇⦈⦉⦊⦋⦌⦍⦐⦏⦎⦑⦒⦓⦔⦕⦖⦗⦘⧘⧙⧚⧛⧼⧽⸢⸣⸤⸥⸦⸧⸨⸩"
    "〈〉《》「」『』【】〔〕〖〗〘〙〚〛﹙﹚﹛﹜﹝﹞（）［］｛｝｟｠｢｣༺༻༼༽᚛᚜"
)
_BRACKETS: dict[str, str] = dict(zip(_PAIRS[::2], _PAIRS[1::2], strict=True))
"""Opening to closing brackets: BidiBrackets.txt of the Unicode Character Database."""

_OPENING = {close: open_ for open_, close in _BRACKETS.items()}

_CANONICAL = {"\u2329": "〈", "\u232a": "〉"}
"""Brackets that are canonically equivalent to others (BD14, BD15)."""

_MOST_OPEN = 63
"""Brackets nested deeper end the pairing (BD16)."""

_DIRECTIONS = {"L": "L", "R": "R", "EN": "R", "AN": "R"}
"""What a type counts as beside neutrals."""

_NEUTRAL = frozenset(("B", "S", "WS", "ON"))
_REMOVED = frozenset(("LRE", "RLE", "LRO", "RLO", "PDF", "BN", "LRI", "RLI", "FSI", "PDI"))


class Run(NamedTuple):
    """A part of a text that runs one way: its characters from ``start`` up to ``end``."""

    start: int
    end: int
    backwards: bool
    """Whether it runs from the right to the left."""


def runs(text: str, base: int | None = None) -> list[Run]:
    """Return the parts of a line in the order in which they stand, from left to right (rule L2).

    Parameters
    ----------
    base
        The line's own direction: 0 to the right, 1 to the left. None for that of its first letter
        that has one (rules P2 and P3).
    """
    classes = [unicodedata.bidirectional(char) for char in text]
    if base != 1 and not {"R", "AL", "AN"} & {*classes}:
        return [Run(0, len(text), False)] if text else []
    levels = embedding_levels(text, classes, base)
    found: list[Run] = []
    start = 0
    for end in range(1, len(text) + 1):
        if end == len(text) or levels[end] != levels[start]:
            found.append(Run(start, end, levels[start] % 2 == 1))
            start = end
    by_run = [levels[run.start] for run in found]
    for least in range(max(by_run), 0, -1):
        _turned_over(found, by_run, lambda level, least=least: level >= least)  # type: ignore[misc]
    return found


def _turned_over(found: list[Run], levels: list[int], turns: Callable[[int], bool]) -> None:
    """Reverse, in place, every sequence of runs whose levels are to be turned."""
    start = 0
    while start < len(found):
        end = start
        while end < len(found) and turns(levels[end]):
            end += 1
        found[start:end] = found[start:end][::-1]
        levels[start:end] = levels[start:end][::-1]
        start = max(end, start + 1)


def embedding_levels(text: str, classes: list[str], base: int | None = None) -> list[int]:
    """Return the embedding level of every character of a line: even runs to the right, odd left.

    Parameters
    ----------
    classes
        The bidirectional class of each character.
    base
        The line's own level, 0 or 1; None takes it from the first letter that has a direction.
    """
    original = classes
    if base is None:
        strong = (name for name in classes if name in ("L", "R", "AL"))
        base = 0 if next(strong, "L") == "L" else 1
    outer = "R" if base else "L"
    kept = [at for at, name in enumerate(classes) if name not in _REMOVED]  # rule X9
    types = [classes[at] for at in kept]
    _weak(types, outer)
    _brackets(types, [text[at] for at in kept], [original[at] for at in kept], outer)
    _neutrals(types, outer)
    levels = [base] * len(text)
    for at, name in zip(kept, types, strict=True):  # rules I1 and I2
        if base:
            levels[at] = base + (name in ("L", "EN", "AN"))
        else:
            levels[at] = base + {"R": 1, "EN": 2, "AN": 2}.get(name, 0)
    for at, name in enumerate(original):
        if name in _REMOVED and at:
            levels[at] = levels[at - 1]
    _trailing(levels, original, base)
    return levels


def _weak(types: list[str], outer: str) -> None:
    """Resolve marks, numbers and what stands between numbers: rules W1 to W7, in place."""
    before = outer
    for at, name in enumerate(types):  # W1
        if name == "NSM":
            types[at] = before
        before = types[at]
    strong = outer
    for at, name in enumerate(types):  # W2 and W3
        if name in ("L", "R", "AL"):
            strong = name
        elif name == "EN" and strong == "AL":
            types[at] = "AN"
    types[:] = ["R" if name == "AL" else name for name in types]
    for at in range(1, len(types) - 1):  # W4
        sides = types[at - 1], types[at + 1]
        if sides[0] == sides[1] and (
            (types[at] == "ES" and sides[0] == "EN")
            or (types[at] == "CS" and sides[0] in ("EN", "AN"))
        ):
            types[at] = sides[0]
    at = 0
    while at < len(types):  # W5
        end = at
        while end < len(types) and types[end] == "ET":
            end += 1
        if end > at and "EN" in (*types[at - 1 : at], *types[end : end + 1]):
            types[at:end] = ["EN"] * (end - at)
        at = max(end, at + 1)
    strong = outer
    for at, name in enumerate(types):  # W6 and W7
        if name in ("ES", "ET", "CS"):
            types[at] = "ON"
        elif name in ("L", "R"):
            strong = name
        elif name == "EN" and strong == "L":
            types[at] = "L"


def _direction(name: str) -> str:
    """Return the direction that a type counts as beside neutrals, or nothing."""
    return _DIRECTIONS.get(name, "")


def _brackets(types: list[str], chars: list[str], original: list[str], outer: str) -> None:
    """Give the brackets of a pair one direction: rule N0, in place."""
    for start, end in _pairs(types, chars):
        inside = {_direction(name) for name in types[start + 1 : end]} - {""}
        if outer in inside:
            direction = outer
        elif inside:
            context = (found for name in reversed(types[:start]) if (found := _direction(name)))
            other = "L" if outer == "R" else "R"
            direction = other if next(context, outer) == other else outer
        else:
            continue
        for at in (start, end):
            types[at] = direction
            for mark in range(at + 1, len(types)):
                if original[mark] != "NSM":
                    break
                types[mark] = direction


def _pairs(types: list[str], chars: list[str]) -> list[tuple[int, int]]:
    """Return the places of brackets that belong together, by their opening one (BD16)."""
    waiting: list[tuple[str, int]] = []
    found: list[tuple[int, int]] = []
    for at, char in enumerate(chars):
        char = _CANONICAL.get(char, char)
        if types[at] != "ON":
            continue
        if char in _BRACKETS:
            if len(waiting) == _MOST_OPEN:
                return []
            waiting.append((char, at))
        elif char in _OPENING:
            for depth in range(len(waiting) - 1, -1, -1):
                if waiting[depth][0] == _OPENING[char]:
                    found.append((waiting[depth][1], at))
                    del waiting[depth:]
                    break
    return sorted(found)


def _neutrals(types: list[str], outer: str) -> None:
    """Give blanks and signs the direction of what stands around them: rules N1 and N2."""
    at = 0
    while at < len(types):
        end = at
        while end < len(types) and types[end] in _NEUTRAL:
            end += 1
        if end > at:
            left = _direction(types[at - 1]) if at else outer
            right = _direction(types[end]) if end < len(types) else outer
            types[at:end] = [left if left == right else outer] * (end - at)
        at = max(end, at + 1)


def _trailing(levels: list[int], original: list[str], base: int) -> None:
    """Give separators, and the blanks before them and at the end, the line's own level: L1."""
    blank = True
    for at in range(len(levels) - 1, -1, -1):
        name = original[at]
        if name in ("S", "B"):
            blank = True
        elif name != "WS" and name not in _REMOVED:
            blank = False
        if blank:
            levels[at] = base
