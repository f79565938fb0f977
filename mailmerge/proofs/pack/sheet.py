"""Pictures for a chat: the contact sheet with all cups at a glance, and one of each cup."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from PIL import Image, ImageDraw

from mailmerge.proofs.canvas import label
from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.cards import Card, Pack, within
from mailmerge.proofs.pack.languages import Language
from mailmerge.proofs.palette import INK, LINE, PAPER, SOFT
from mailmerge.proofs.text import cut, plain, wrapped

_WIDTH, _MARGIN, _SPACE = 1600, 48, 24
_COLUMNS, _ROWS = 4, 5
_PICTURE = 330
_CAPTION = 96
_TOP = 150
_CELL = (_WIDTH - 2 * _MARGIN - (_COLUMNS - 1) * _SPACE) // _COLUMNS

_WIDE, _EDGE, _GAP = 1080, 40, 24
"""Of a single picture: its width, its margin, and what lies between its parts."""
_WHOLE_CUP = 400

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
    title = f"{pack.title}  ·  {pack.sender.name}" if pack.sender.name else pack.title
    title = cut(title, 44, 600, room - _MARGIN - label(aside, 30).advance)
    _write(sheet, title, _MARGIN, room, ends, 72, 44, INK, 600)
    ours = _base(pack.language)
    _write(sheet, aside, _MARGIN, room, not ends, 72, 30, SOFT, base=ours)
    _write(sheet, words.first_look(pack.language), _MARGIN, room, ends, 122, 28, SOFT, base=ours)
    for at, card in enumerate(cards):
        column = _COLUMNS - 1 - at % _COLUMNS if ends else at % _COLUMNS
        left = _MARGIN + column * (_CELL + _SPACE)
        top = _TOP + at // _COLUMNS * (_PICTURE + _CAPTION + _SPACE)
        frame = (left, top, left + _CELL - 1, top + _PICTURE + _CAPTION - 1)
        ImageDraw.Draw(sheet).rectangle(frame, outline=LINE)
        picture = within(card.cup, _CELL - 16, _PICTURE - 16)
        place = left + (_CELL - picture.width) // 2, top + (_PICTURE - picture.height) // 2
        sheet.paste(picture, place)
        first, *others = [line for text in card.texts for line in text.lines] or [card.name]
        more = " / ".join([card.number, *filter(None, others)])
        left, inner = left + 12, _CELL - 24
        _write(sheet, plain(first, 600), left, inner, ends, top + _PICTURE + 34, 28, INK, 600)
        _write(sheet, plain(more, 400), left, inner, ends, top + _PICTURE + 74, 24, SOFT)
    saved = io.BytesIO()
    sheet.quantize(256, Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE).save(saved, "PNG")
    return saved.getvalue()


def draw_picture(pack: Pack, card: Card) -> bytes:
    """Return one cup as the bytes of a JPEG: its faces close by, the whole of it, and the words."""
    ends, inner = pack.language.is_right_to_left, _WIDE - 2 * _EDGE
    faces = [within(face, inner, inner) for face in card.faces]
    cup = within(card.cup, _WHOLE_CUP if faces else inner, _WHOLE_CUP if faces else inner)
    rows = _rows(pack, card, inner - cup.width - _GAP)
    lower = max(cup.height, sum(row.down for row in rows) + _GAP)
    height = sum(face.height + _GAP for face in faces) + lower + 2 * _EDGE
    picture = Image.new("RGB", (_WIDE, height), PAPER)
    y = _EDGE
    for face in faces:
        picture.paste(face, ((_WIDE - face.width) // 2, y))
        y += face.height + _GAP
    picture.paste(cup, (_WIDE - _EDGE - cup.width if ends else _EDGE, y))
    left = _EDGE if ends else _EDGE + cup.width + _GAP
    for row in rows:
        y += row.down
        room = inner - cup.width - _GAP
        _write(picture, row.text, left, room, ends, y, row.size, row.colour, row.weight, row.base)
    saved = io.BytesIO()
    picture.save(saved, "JPEG", quality=88, subsampling=0)
    return saved.getvalue()


class _Row(NamedTuple):
    """A row of the words on a picture."""

    text: str
    size: int
    colour: Colour
    weight: int
    base: int | None
    """Its direction, as :func:`~mailmerge.proofs.canvas.label` takes it."""
    down: int = 0
    """How far below the row before it stands, in px."""


def _rows(pack: Pack, card: Card, room: int) -> list[_Row]:
    """Return the words on a picture: what is our own runs as the pack's language does."""
    language = pack.language
    ours = _base(language)
    named = words.cup_of_pack(language, pack.id, card.number)
    said = [_Row(line, 44, INK, 600, None) for text in card.texts for line in text.lines if line]
    said += [
        _Row(words.as_written(language, text.text), 27, SOFT, 400, ours)
        for text in card.texts
        if text.engraved
    ]
    said += [_Row(note, 27, INK, 400, ours) for text in card.texts for note in text.notes]
    said.append(_Row(named, 27, SOFT, 400, ours))
    sender = (pack.sender.name, *pack.sender.reach)
    said += [_Row(row, 27, SOFT, 400, None) for row in sender if row]
    return [
        each._replace(text=row, down=round(each.size * (1.6 if at == 0 else 1.25)))
        for each in said
        for at, row in enumerate(
            wrapped(plain(each.text, each.weight), each.size, each.weight, room)
        )
    ]


def _base(language: Language) -> int:
    """Return the direction of what is said in a language: 0 to the right, 1 to the left."""
    return int(language.is_right_to_left)


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
    base: int | None = None,
) -> None:
    """Write a text from ``left``, or so that it ends ``room`` to the right of that; it fits in."""
    drawn = label(text, size, weight, base)
    if drawn.advance > room:
        drawn = label(text, size * room / drawn.advance, weight, base)
    if drawn.picture.size:
        x = left + room - drawn.advance if ends else left
        mask = Image.fromarray(np.ascontiguousarray(drawn.picture))
        sheet.paste(colour, (round(x) + drawn.left, round(y) + drawn.top), mask)
