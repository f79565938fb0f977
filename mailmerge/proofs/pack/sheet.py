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
    ends = pack.language.is_right_to_left
    aside = words.sheet(pack.language, pack.id, number, count)
    room = _WIDTH - 2 * _MARGIN
    title = cut(pack.title, 44, 600, room - _MARGIN - label(aside, 30).advance)
    _write(sheet, title, _MARGIN, room, ends, 72, 44, INK, 600)
    _write(sheet, aside, _MARGIN, room, not ends, 72, 30, SOFT)
    _write(sheet, words.first_look(pack.language), _MARGIN, room, ends, 122, 28, SOFT)
    for at, card in enumerate(cards):
        column = _COLUMNS - 1 - at % _COLUMNS if ends else at % _COLUMNS
        left = _MARGIN + column * (_CELL + _SPACE)
        top = _TOP + at // _COLUMNS * (_PICTURE + _CAPTION + _SPACE)
        frame = (left, top, left + _CELL - 1, top + _PICTURE + _CAPTION - 1)
        ImageDraw.Draw(sheet).rectangle(frame, outline=LINE)
        picture = card.cup(_CELL - 16, _PICTURE - 16)
        place = left + (_CELL - picture.width) // 2, top + (_PICTURE - picture.height) // 2
        sheet.paste(picture, place)
        more = f"{card.number}  " + " / ".join(t.text for t in card.texts if t.text != card.name)
        left, inner = left + 12, _CELL - 24
        name = cut(plain(card.name, 600), 28, 600, inner)
        _write(sheet, name, left, inner, ends, top + _PICTURE + 34, 28, INK, 600)
        more = cut(plain(more, 400), 24, 400, inner)
        _write(sheet, more, left, inner, ends, top + _PICTURE + 74, 24, SOFT)
    saved = io.BytesIO()
    sheet.quantize(256, Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE).save(
        saved, "PNG", optimize=True
    )
    return saved.getvalue()


def _write(
    sheet: Image.Image,
    text: str,
    left: float,
    room: float,
    ends: bool,
    y: float,
    size: float,
    colour: Colour,
    weight: int = 400,
) -> None:
    """Write a text from ``left``, or so that it ends ``room`` to the right of that; it fits in."""
    drawn = label(text, size, weight)
    if drawn.advance > room:
        drawn = label(text, size * room / drawn.advance, weight)
    if drawn.picture.size:
        x = left + room - drawn.advance if ends else left
        mask = Image.fromarray(np.ascontiguousarray(drawn.picture))
        sheet.paste(colour, (round(x) + drawn.left, round(y) + drawn.top), mask)
