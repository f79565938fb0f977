"""The proof of one item: a picture to confirm letter by letter.

The lettering on it is the path data read back out of the artwork file's own bytes, so the picture
cannot disagree with the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from mailmerge.artwork import read_outlines
from mailmerge.blanks import Blank, Coat, Face
from mailmerge.lettering import Outline, advance, letter
from mailmerge.proofs.canvas import Canvas, plain_font
from mailmerge.proofs.palette import INK, RED, SOFT, TINT, Indices
from mailmerge.proofs.stage import COLUMN, HEIGHT, MARGIN, WIDTH, Stage, stage_for

_COLUMN_WIDTH = WIDTH - MARGIN - COLUMN


@dataclass(frozen=True)
class Facts:
    """The words on a proof."""

    title: str
    """Whose party it is."""
    item: str
    """Number of the item, as in its file name."""
    texts: tuple[tuple[str, str], ...]
    """(label, text) for each engraved text of the guest, to be checked letter by letter."""
    details: tuple[tuple[str, str], ...]
    """(label, value): side, hand, coat, letter heights, seal."""
    stops: tuple[tuple[str, str], ...] = ()
    """(what is wrong, what to do) for a stopped item; empty for one that is ready."""
    doubtful: frozenset[str] = frozenset()
    """Characters to mark in the plain texts: the layout's font lacks them."""


def draw_proof(artwork: bytes, blank: Blank, coat: Coat, face: Face, facts: Facts) -> bytes:
    """Return the proof of an item as the bytes of a PNG, 1600 px wide.

    Parameters
    ----------
    artwork
        The artwork file's bytes. For a stopped item these are of the design as it would be, which
        is not written; what reaches past the face is shown in red.
    """
    stage = stage_for(blank, coat, face)
    canvas = Canvas(stage.canvas.palette, stage.canvas.pixels)
    outlines = read_outlines(artwork)
    _lettering(canvas, stage, outlines, blank, face)
    y = _header(canvas, facts)
    if facts.stops:
        y = _stops(canvas, facts, y)
    y = _texts(canvas, facts, y)
    _details(canvas, facts, y)
    return canvas.png()


def _lettering(
    canvas: Canvas, stage: Stage, outlines: list[Outline], blank: Blank, face: Face
) -> None:
    """Draw the outlines on the cup and on the wrap; in red whatever reaches past the face."""
    engraving, red = canvas.palette.engraving, canvas.palette.ink(canvas.palette.alarm)
    slack = 0.01  # mm: path data is rounded to a micrometre
    for outline in outlines:
        left, right = outline.points[:, 0].min(), outline.points[:, 0].max()
        inside = outline.box.left >= face.left - slack and outline.box.right <= face.right + slack
        ink = engraving if inside or face.usable_width <= 0 else red
        canvas.outline(stage.cup(outline, blank, face), ink)
        on_wrap = stage.wrap(outline)
        canvas.outline(on_wrap, ink)
        # The wrap closes: what runs past one edge comes in at the other.
        for beyond, turn in ((left < 0, 1), (right > blank.circumference, -1)):
            if beyond:
                around = turn * blank.circumference * stage.wrap_scale
                canvas.outline(on_wrap.moved(1.0, False, around, 0.0), ink)
        if not inside:
            _clear_beside_wrap(canvas, stage)


def _clear_beside_wrap(canvas: Canvas, stage: Stage) -> None:
    """Put back the ground beside the wrap, where overlong lettering has run off it."""
    top, bottom = int(stage.wrap_top), int(stage.wrap_bottom) + 1
    left, right = int(stage.wrap_left), int(np.ceil(stage.wrap_right)) + 1
    for columns in (slice(0, left), slice(right, WIDTH)):
        canvas.pixels[top:bottom, columns] = stage.canvas.pixels[top:bottom, columns]


def _header(canvas: Canvas, facts: Facts) -> float:
    ink, soft = canvas.palette.ink(INK), canvas.palette.ink(SOFT)
    number = f"Proof {facts.item}"
    canvas.text(_cut(facts.title, 36, 600, 1000), MARGIN, 84, 36, ink, 600)
    canvas.text(number, WIDTH - MARGIN - _width(number, 36, 600), 84, 36, ink, 600)
    closing = (
        "Please check every letter, accent and blank. Only what you confirm is engraved."
        if not facts.stops
        else "This item is stopped: no artwork was made for it."
    )
    canvas.text(closing, MARGIN, HEIGHT - 26, 27, soft)
    return 196.0


def _stops(canvas: Canvas, facts: Facts, y: float) -> float:
    """Write why the item is stopped into a tinted box; return where the words go on."""
    palette = canvas.palette
    red, ink = palette.ink(RED), palette.ink(INK)
    rows: list[tuple[str, bool]] = []
    for message, advice in facts.stops[:3]:
        rows += [(row, True) for row in _wrapped(message, 29, 600, _COLUMN_WIDTH - 48, 7)]
        rows += [(row, False) for row in _wrapped(advice, 27, 400, _COLUMN_WIDTH - 48, 6)]
    top = int(y) - 44
    height = 84 + len(rows) * 37
    canvas.pixels[top : top + height, COLUMN : WIDTH - MARGIN] = palette.nearest(
        np.array(TINT, float)
    )
    canvas.pixels[top : top + height, COLUMN : COLUMN + 8] = palette.nearest(np.array(RED, float))
    canvas.text("STOPPED", COLUMN + 30, y + 6, 38, red, 700)
    at = y + 50
    for row, strong in rows:
        canvas.text(row, COLUMN + 30, at, 29 if strong else 27, red if strong else ink,
                    600 if strong else 400)  # fmt: skip
        at += 37
    return top + height + 62.0


def _texts(canvas: Canvas, facts: Facts, y: float) -> float:
    """Write the engraved texts in plain type, large, for reading letter by letter."""
    ink, soft, red = (canvas.palette.ink(colour) for colour in (INK, SOFT, RED))
    for at, (name, text) in enumerate(facts.texts):
        size, weight = (66.0, 600) if at == 0 else (46.0, 400)
        if facts.stops:
            size *= 0.72
        rows = _wrapped(text or "–", size, weight, _COLUMN_WIDTH)
        while len(rows) > 3 and size > 24:  # a long name is shown smaller, but whole
            size *= 0.86
            rows = _wrapped(text, size, weight, _COLUMN_WIDTH)
        canvas.text(name, COLUMN, y, 27, soft)
        y += size * 1.05
        for row in rows[:8]:
            _marked(canvas, row, COLUMN, y, size, weight, ink, red, facts.doubtful)
            y += size * 1.16
        y += 12
    return y


def _marked(
    canvas: Canvas, text: str, x: float, y: float, size: float, weight: int,
    ink: Indices, red: Indices, doubtful: frozenset[str],
) -> None:  # fmt: skip
    """Write a text with the doubtful characters in red.

    Where even the plain font has no letter for one, its code point stands in its place.
    """
    lacking = set(letter(plain_font(weight), text).missing)
    if not lacking and not doubtful.intersection(text):
        canvas.text(text, x, y, size, ink, weight)
        return
    for part in _parts(text, doubtful | lacking):
        if part in lacking:
            x = canvas.text(f"[U+{ord(part):04X}]", x, y, size * 0.62, red, weight) + size * 0.06
        else:
            x = canvas.text(part, x, y, size, red if part in doubtful else ink, weight)


def _parts(text: str, apart: Iterable[str]) -> list[str]:
    """Return the text in pieces, with every character of ``apart`` as a piece of its own."""
    parts: list[str] = []
    fresh = True
    for char in text:
        if char in apart:
            parts.append(char)
            fresh = True
        elif fresh:
            parts.append(char)
            fresh = False
        else:
            parts[-1] += char
    return parts


def _details(canvas: Canvas, facts: Facts, y: float) -> None:
    ink, soft = canvas.palette.ink(INK), canvas.palette.ink(SOFT)
    y += 6
    for name, value in facts.details:
        if y > 980:
            return
        canvas.text(name, COLUMN, y, 27, soft)
        for row in _wrapped(value, 30, 400, _COLUMN_WIDTH - 184, 2):
            canvas.text(row, COLUMN + 184, y, 30, ink)
            y += 38
        y += 8


def _width(text: str, size: float, weight: int) -> float:
    font = plain_font(weight)
    return advance(font, text) * size / font.upem


def _cut(text: str, size: float, weight: int, width: float) -> str:
    """Return the text, cut with an ellipsis where it is wider than ``width`` px."""
    text = text[:400]
    if _width(text, size, weight) <= width:
        return text
    while text and _width(text + "…", size, weight) > width:
        text = text[: int(len(text) * 0.97)]
    return text + "…"


def _wrapped(
    text: str, size: float, weight: int, width: float, most: int | None = None
) -> list[str]:
    """Return the text in rows no wider than ``width`` px, cut after ``most`` of them if given.

    Rows break at blanks and after hyphens, and inside a word only if it is wider than a row.
    """
    rows: list[str] = []
    row = ""
    for piece in re.findall(r"[^\s-]*-+|[^\s-]+|\s+", text):
        if row and _width((row + piece).rstrip(), size, weight) > width:
            rows.append(row.rstrip())
            row = ""
        row = (row + piece).lstrip()
        while len(row) > 1 and _width(row.rstrip(), size, weight) > width:
            keep = max(1, int(len(row) * width / _width(row, size, weight)))
            while keep > 1 and _width(row[:keep], size, weight) > width:
                keep -= 1
            rows.append(row[:keep])
            row = row[keep:]
    rows.append(row.rstrip())
    if most is not None and len(rows) > most:
        rows = [*rows[: most - 1], _cut(f"{rows[most - 1]} …", size, weight, width)]
    return rows
