"""A font seen in its own letters: a few texts, each on a row."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from mailmerge.lettering import Style, letter
from mailmerge.proofs import words
from mailmerge.proofs.canvas import Canvas
from mailmerge.proofs.palette import INK, PAPER, RED, Palette
from mailmerge.proofs.text import cut, plain

WIDTH, ROW = 960, 112
"""Pixels."""
_MARGIN = 20
_LETTER = 46.0
"""Height of a capital in px, where there is room for it."""
_ABOVE, _BELOW = 70.0, 36.0
"""Room above and below the baseline, in px."""
_COLOURS = Palette("#222428", "#c8c8c8")


def draw_letters(style: Style, texts: Sequence[str]) -> Canvas:
    """Return texts in a font, one below the other; of those that it cannot set, what it lacks."""
    paper = _COLOURS.nearest(np.array(PAPER, float))
    canvas = Canvas(_COLOURS, np.full((ROW * len(texts) + 8, WIDTH), paper, dtype=np.uint8))
    for row, text in enumerate(texts):
        _row(canvas, style, text, row * ROW + _ABOVE + 4)
    return canvas


def _row(canvas: Canvas, style: Style, text: str, baseline: float) -> None:
    drawn, room = letter(style, text), WIDTH - 2 * _MARGIN
    if lacking := [*drawn.missing, *drawn.misplaced]:
        said = words.no_letter_for([plain(char, 400) for char in lacking[:12]])
        ink = canvas.palette.ink(RED)
        canvas.text(cut(said, 30, 400, room), _MARGIN, baseline, 30, ink)
    elif drawn.outline:
        box = drawn.box
        scale = min(
            _LETTER / drawn.letter_height,
            room / box.width,
            _ABOVE / max(box.high, 1.0),
            _BELOW / max(-box.low, 1.0),
        )
        placed = drawn.outline.moved(scale, True, _MARGIN - box.left * scale, baseline)
        canvas.outline(placed, canvas.palette.ink(INK))
