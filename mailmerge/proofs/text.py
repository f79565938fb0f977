"""Plain type on a proof: how wide it is, where it breaks, what stands for a letter it lacks."""

from __future__ import annotations

import re

from mailmerge.lettering import shaped
from mailmerge.proofs.canvas import plain_style


def plain(text: str, weight: int) -> str:
    """Return the text with the code point in place of what even the plain font lacks."""
    lacking = set(shaped(plain_style(weight), text).missing)
    return "".join(f"[U+{ord(char):04X}]" if char in lacking else char for char in text)


def legible(text: str, weight: int) -> str:
    """Return a message without the characters that the plain font lacks: it names their code."""
    lacking = set(shaped(plain_style(weight), text).missing)
    return "".join(char for char in text if char not in lacking)


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
    than a row.
    """
    rows: list[str] = []
    row = ""
    for piece in re.findall(r"\[U\+[0-9A-F]+\]|[^\s\[-]*-+|[^\s\[-]+|\s+|\[", text):
        if row and width_of((row + piece).rstrip(), size, weight) > width:
            rows.append(row.rstrip())
            row = ""
        row = (row + piece).lstrip()
        while len(row) > 1 and width_of(row.rstrip(), size, weight) > width:
            keep = max(1, int(len(row) * width / width_of(row, size, weight)))
            while keep > 1 and width_of(row[:keep], size, weight) > width:
                keep -= 1
            rows.append(row[:keep])
            row = row[keep:]
    rows.append(row.rstrip())
    return rows
