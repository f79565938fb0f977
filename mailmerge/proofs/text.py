"""Plain type on a proof: how wide it is, where it breaks, what stands for a letter it lacks."""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Callable

from mailmerge.guests.names import clusters
from mailmerge.lettering import shaped
from mailmerge.proofs.canvas import plain_style
from mailmerge.voice import hidden_in


def plain(text: str, weight: int) -> str:
    """Return the text with the code point in place of what the plain font lacks or nobody sees."""
    lacking = _not_to_be_seen(text, weight)
    return "".join(f"[U+{ord(char):04X}]" if char in lacking else char for char in text)


def legible(text: str, weight: int) -> str:
    """Return a message without what the plain font lacks or nobody sees: it names their code."""
    lacking = _not_to_be_seen(text, weight)
    return "".join(char for char in text if char not in lacking)


def _not_to_be_seen(text: str, weight: int) -> set[str]:
    """Return the letters of a text that the plain font lacks, and those that show nothing."""
    return {*shaped(plain_style(weight), text).missing} | hidden_in(text)


def width_of(text: str, size: float, weight: int) -> float:
    """Return the width of a text in px, by its advances."""
    style = plain_style(weight)
    return shaped(style, text).advance * size / style.font.upem


def cut(text: str, size: float, weight: int, width: float) -> str:
    """Return the text, cut with an ellipsis where it is wider than ``width`` px."""
    text = text[:400]
    if width_of(text, size, weight) <= width:
        return text
    while text and width_of(text + "…", size, weight) > width:
        text = text[: int(len(text) * 0.97)]
    return text + "…"


def wrapped(text: str, size: float, weight: int, width: float) -> list[str]:
    """Return the text in rows no wider than ``width`` px.

    Rows break at blanks, after hyphens and code points, and inside a word only if it is wider
    than a row: then with a hyphen.
    """

    def wide(part: str) -> float:
        return width_of(part.rstrip(), size, weight)

    if wide(text.strip()) <= width:
        return [text.strip()]
    rows: list[str] = []
    row = ""
    for piece in re.findall(r"\[U\+[0-9A-F]+\]|[^\s\[-]*-+|[^\s\[-]+|\s+|\[", text):
        if row and wide(row + piece) > width:
            rows.append(row.rstrip())
            row = ""
        row = (row + piece).lstrip()
        if wide(row) > width:
            *whole, row = broken(row, wide, width)
            rows += whole
    rows.append(row.rstrip())
    return rows


def unbroken(text: str, size: float, weight: int, width: float, least: float = 0.6) -> float:
    """Return the largest size up to ``size`` at which no word has to be broken.

    It is no smaller than ``least`` times that size: from there on words are broken.
    """
    widest = max((width_of(part, size, weight) for part in _PARTS.findall(text)), default=0.0)
    return size * max(least, min(1.0, width / widest)) if widest else size


_PARTS = re.compile(r"[^\s-]*-+|[^\s-]+")


def broken(word: str, wide: Callable[[str], float], room: float) -> list[str]:
    """Return a word in parts that are no wider than a room.

    It is broken after its own hyphens, else with a hyphen; never between a letter and its marks.
    Ideographs and syllables of East Asia, and code points, break without one.

    Parameters
    ----------
    wide
        How wide a text is.
    """
    rows, row = [], ""
    for piece in _PARTS.findall(word):
        if row and wide(row + piece) > room:
            rows.append(row)
            row = ""
        row += piece
        if wide(row) > room:
            *whole, row = _broken_inside(row, wide, room)
            rows += whole
    return [*rows, row]


def _broken_inside(part: str, wide: Callable[[str], float], room: float) -> list[str]:
    """Return a text without hyphens in parts that are no wider than a room, or a letter each."""
    letters, rows = clusters(part), []

    def first(count: int) -> str:
        return "".join(letters[:count])

    while len(letters) > 1:
        many = 32  # a row holds few more: only as much of a very long word is measured
        while many < len(letters) and wide(first(many)) <= room:
            many *= 2
        many = min(many, len(letters))
        if wide(first(many)) <= room:
            break
        fit = bisect_right(range(1, many), room, key=lambda count: wide(first(count) + "-"))
        start = first(max(1, fit))
        rows.append(start if _breaks_anywhere(start) else f"{start}-")
        letters = letters[max(1, fit) :]
    return [*rows, "".join(letters)]


def _breaks_anywhere(text: str) -> bool:
    return text.startswith("[U+") or unicodedata.east_asian_width(text[-1]) in "WF"
