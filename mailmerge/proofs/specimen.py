"""A specimen: the same names in several fonts, on the blank's face, to choose by eye."""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np
from PIL import Image

from mailmerge.artwork import Composition, Placed
from mailmerge.blanks import Blank, Coat
from mailmerge.lettering import Style, coverage, letter
from mailmerge.proofs import words
from mailmerge.proofs.canvas import Canvas
from mailmerge.proofs.palette import INK, MIXES, PAPER, RED, SHADES, SOFT, Palette
from mailmerge.proofs.text import cut, plain, width_of

_WIDTH = 1800
_MARGIN = 56
_SPACE = 28
_TOP = 128
_CAPTION = 118
"""Room below each row of faces for its words, in px."""

_AROUND = 9.0
"""Millimetres of coat shown above and below the lettering."""


_BESIDE = 1.08
"""Coat shown beside the face, as a share of it."""


_MOST_SCALE = 12.0
"""Pixels per mm, at the most: a narrow face must not make a picture without end."""


@dataclass(frozen=True)
class Sample:
    """One font's row: its name, the line of the layout that it sets, and the designs."""

    font: str
    line: int
    compositions: tuple[Composition, ...]


def draw_specimen(title: str, blank: Blank, coat: Coat, samples: list[Sample]) -> bytes:
    """Return the specimen as the bytes of a PNG, 1800 px wide."""
    count = max(len(sample.compositions) for sample in samples)
    cell = (_WIDTH - 2 * _MARGIN - (count - 1) * _SPACE) / count
    face = max((c.face.usable_width for s in samples for c in s.compositions), default=1.0)
    scale = min(cell / max(face * _BESIDE, 1.0), _MOST_SCALE)
    heights = [_height(sample, blank) * scale for sample in samples]
    palette = Palette(coat.colour, coat.reveal)
    paper = palette.nearest(np.array(PAPER, float))
    total = round(_TOP + sum(heights) + len(samples) * _CAPTION + _MARGIN / 2)
    canvas = Canvas(palette, np.full((total, _WIDTH), paper, dtype=np.uint8))
    ink, soft = palette.ink(INK), palette.ink(SOFT)
    canvas.text(cut(title, 38, 600, _WIDTH - 2 * _MARGIN - 420), _MARGIN, 72, 38, ink, 600)
    aside = words.FONTS_TO_CHOOSE
    canvas.text(aside, _WIDTH - _MARGIN - width_of(aside, 38, 600), 72, 38, soft, 600)
    top = float(_TOP)
    for sample, height in zip(samples, heights, strict=True):
        for at, composition in enumerate(sample.compositions):
            left = _MARGIN + at * (cell + _SPACE)
            _face(canvas, composition, sample.line, blank, (left, top, cell, height), scale)
        _caption(canvas, sample, top + height, cell)
        top += height + _CAPTION
    return canvas.png()


def _stack(composition: Composition) -> list[Placed]:
    return [line for line in composition.lines if not line.on_ring]


def _height(sample: Sample, blank: Blank) -> float:
    """Return how much of the height has to be shown for the tallest design of a row, in mm."""
    tallest = max(
        (
            max(line.box.high for line in lines) - min(line.box.low for line in lines)
            for composition in sample.compositions
            if (lines := _stack(composition))
        ),
        default=0.0,
    )
    return min(tallest + 2 * _AROUND, blank.height)


def _face(
    canvas: Canvas,
    composition: Composition,
    number: int,
    blank: Blank,
    cell: tuple[float, float, float, float],
    scale: float,
) -> None:
    """Draw one design on a piece of the coat; what reaches past the face is red.

    Where the font lacks letters the face stays bare: a name without some of its letters shows
    nothing of the font. The caption says what it lacks.
    """
    left, top, width, height = cell
    rows, columns = slice(int(top), int(top + height)), slice(int(left), int(left + width))
    canvas.pixels[rows, columns] = SHADES // 2 * MIXES
    lines = _stack(composition)
    if not lines or any(_not_set(line) for line in lines if line.number == number):
        return
    face, palette = composition.face, canvas.palette
    high, low = max(line.box.high for line in lines), min(line.box.low for line in lines)
    part = Canvas(palette, canvas.pixels[rows, columns])
    dx = width / 2 - face.centre * scale
    dy = height / 2 - (blank.height - (high + low) / 2) * scale
    for line in lines:
        colour = palette.engraving if line.fits else palette.ink(palette.alarm)
        part.outline(line.outline.moved(scale, False, dx, dy), colour)
    for drawn in composition.ornaments:
        part.outline(drawn.outline.moved(scale, False, dx, dy), palette.engraving)
    canvas.pixels[rows, columns] = part.pixels


def _not_set(line: Placed) -> list[str]:
    """Return the letters that the font does not have, or whose marks it does not place."""
    return [*line.missing, *line.misplaced]


def _caption(canvas: Canvas, sample: Sample, top: float, cell: float) -> None:
    """Write the font's name, and under each face its letter height and what is wrong with it."""
    palette = canvas.palette
    canvas.text(sample.font, _MARGIN, top + 42, 34, palette.ink(INK), 600)
    for at, composition in enumerate(sample.compositions):
        left = _MARGIN + at * (cell + _SPACE)
        line = next((line for line in composition.lines if line.number == sample.line), None)
        if line is None:
            continue
        if lacking := _not_set(line):
            lacking = [plain(char, 400) for char in lacking[:12]]
            said, colour = words.no_letter_for(lacking), RED
        elif not line.fits:
            said, colour = words.too_long(line.fitting_height), RED
        else:
            said, colour = words.letter_height(line.letter_height), SOFT
        text = cut(said, 28, 400, cell)
        canvas.text(text, left, top + 84, 28, palette.ink(colour))


_WORD_SIZE, _WORD_EDGE = 60.0, 8
"""Pixels to an em of a word alone, and around it."""


def draw_word(style: Style, text: str) -> bytes:
    """Return a text in a style as the bytes of a PNG, dark on white, for a list of fonts."""
    lettering = letter(style, text)
    picture = Image.new("L", (2 * _WORD_EDGE, 2 * _WORD_EDGE), 255)
    if lettering.outline:
        scale, box = _WORD_SIZE / style.font.upem, lettering.box
        width, height = (round(side * scale) + 2 * _WORD_EDGE for side in (box.width, box.height))
        left, top = _WORD_EDGE - box.left * scale, _WORD_EDGE + box.high * scale
        drawn = coverage(lettering.outline.moved(scale, True, left, top), width, height)
        picture = Image.fromarray(255 - drawn)
    saved = io.BytesIO()
    picture.save(saved, "PNG")
    return saved.getvalue()
