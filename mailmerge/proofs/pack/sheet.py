"""The contact sheet: all cups at a glance, as pictures for a chat."""

from __future__ import annotations

import io
from collections.abc import Iterator

import numpy as np
from PIL import Image, ImageDraw

from mailmerge.proofs.canvas import label
from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.cards import Card, Pack
from mailmerge.proofs.palette import INK, LINE, PAPER, SOFT
from mailmerge.proofs.text import cut, plain

_WIDTH, _MARGIN, _SPACE = 1600, 48, 24
_COLUMNS, _ROWS = 4, 5
_PICTURE = 330
_CAPTION = 96
_TOP = 150
_CELL = (_WIDTH - 2 * _MARGIN - (_COLUMNS - 1) * _SPACE) // _COLUMNS

Colour = tuple[int, int, int]


def draw_sheets(pack: Pack) -> Iterator[bytes]:
    """Yield the contact sheets as the bytes of PNGs, 20 cups on each."""
    each = _COLUMNS * _ROWS
    count = -(-len(pack.cards) // each)
    for at in range(count):
        yield _sheet(pack, pack.cards[at * each : (at + 1) * each], at + 1, count)


def _sheet(pack: Pack, cards: tuple[Card, ...], number: int, count: int) -> bytes:
    rows = -(-len(cards) // _COLUMNS)
    height = _TOP + rows * (_PICTURE + _CAPTION + _SPACE) + _MARGIN
    sheet = Image.new("RGB", (_WIDTH, height), PAPER)
    aside = words.sheet(pack.id, number, count)
    room = _WIDTH - 2 * _MARGIN
    _write(sheet, cut(pack.title, 44, 600, room - 500), _MARGIN, 72, 44, INK, 600)
    _write(sheet, aside, _WIDTH - _MARGIN - _width(aside, 30), 72, 30, SOFT)
    _write(sheet, words.FIRST_LOOK, _MARGIN, 122, 28, SOFT)
    for at, card in enumerate(cards):
        left = _MARGIN + at % _COLUMNS * (_CELL + _SPACE)
        top = _TOP + at // _COLUMNS * (_PICTURE + _CAPTION + _SPACE)
        frame = (left, top, left + _CELL - 1, top + _PICTURE + _CAPTION - 1)
        ImageDraw.Draw(sheet).rectangle(frame, outline=LINE)
        picture = card.cup(_CELL - 16, _PICTURE - 16)
        place = left + (_CELL - picture.width) // 2, top + (_PICTURE - picture.height) // 2
        sheet.paste(picture, place)
        name = cut(plain(card.name, 600), 28, 600, _CELL - 24)
        _write(sheet, name, left + 12, top + _PICTURE + 34, 28, INK, 600)
        more = f"{card.number}  " + " / ".join(t.text for t in card.texts if t.text != card.name)
        _write(
            sheet,
            cut(plain(more, 400), 24, 400, _CELL - 24),
            left + 12,
            top + _PICTURE + 74,
            24,
            SOFT,
        )
    saved = io.BytesIO()
    sheet.quantize(256, Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE).save(
        saved, "PNG", optimize=True
    )
    return saved.getvalue()


def _width(text: str, size: float) -> float:
    return label(text, size).advance


def _write(
    sheet: Image.Image,
    text: str,
    x: float,
    y: float,
    size: float,
    colour: Colour,
    weight: int = 400,
) -> None:
    drawn = label(text, size, weight)
    if drawn.picture.size:
        mask = Image.fromarray(np.ascontiguousarray(drawn.picture))
        sheet.paste(colour, (round(x) + drawn.left, round(y) + drawn.top), mask)
