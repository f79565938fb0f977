"""The proof pack on paper: a PDF for those who print."""

from __future__ import annotations

import datetime as dt
import io
from pathlib import Path
from typing import Literal

from fpdf import FPDF

from mailmerge.lettering import open_font
from mailmerge.proofs.pack.cards import Card, Pack
from mailmerge.proofs.palette import INK, LINE, SOFT
from mailmerge.proofs.text import plain

_FONTS = ("Noto Sans", "Amiri", "Frank Ruhl Libre", "Noto Sans Thai")
"""Each one for what those before it lack. Amiri draws an Arabic letter as one glyph, dots included,
so that its text can be read back out of the file; in Noto Sans Arabic the dots are glyphs.
"""

_MARGIN = 15.0
_CARDS = 3
"""On a page."""
_PICTURE = 66.0
_PIXELS = 560
"""Of a picture: 215 to the inch."""
_LONG_AGO = dt.datetime(2000, 1, 1, tzinfo=dt.UTC)

PaperSize = Literal["A4", "Letter"]

Colour = tuple[int, int, int]


def write_paper(pack: Pack, size: PaperSize = "A4") -> bytes:
    """Return the pack as the bytes of a PDF, three cups on a page, with boxes to tick by hand."""
    paper = _Paper(pack, size)
    paper.front()
    top, height = _MARGIN + 32.0, (paper.h - 2 * _MARGIN - 32.0 - 8.0) / _CARDS
    for at, card in enumerate(pack.cards):
        if at and at % _CARDS == 0:
            paper.add_page()
            top, height = _MARGIN + 2.0, (paper.h - 2 * _MARGIN - 10.0) / _CARDS
        paper.card(card, top + at % _CARDS * height, height)
    if pack.not_ready:
        paper.later()
    return bytes(paper.output())


class _Paper(FPDF):
    """A PDF with our type."""

    def __init__(self, pack: Pack, size: PaperSize) -> None:
        super().__init__(format=size)
        self.pack = pack
        self.set_creation_date(_LONG_AGO)
        self.set_title(pack.title)
        self.set_lang("en")
        self.set_auto_page_break(False)
        self.set_margin(_MARGIN)
        for name in _FONTS:
            self.add_font(name, fname=str(open_font(name, 400, Path()).path))
        self.set_fallback_fonts(list(_FONTS[1:]), exact_match=False)
        self.set_text_shaping(True)
        self.add_page()

    def footer(self) -> None:
        """Write the pack's name and the page's number."""
        self._type(9, SOFT)
        self.set_xy(_MARGIN, self.h - _MARGIN + 2)
        self.cell(self.epw, 5, f"Pack {self.pack.id}, page {self.page_no()}", align="R")

    def front(self) -> None:
        """Write what the first page says above its cards."""
        self._type(20, INK)
        self.set_xy(_MARGIN, _MARGIN)
        self._fitted(self.pack.title, self.epw, 20)
        self._type(10.5, SOFT)
        self.set_xy(_MARGIN, _MARGIN + 12)
        self.multi_cell(
            self.epw, 5,
            "What you see here is what will be engraved. Please check every letter, capital, "
            "accent and space, tick what is right, and write beside it what is to be changed. Only "
            "what you say yes to is engraved.",
            align="L",
        )  # fmt: skip

    def card(self, card: Card, top: float, height: float) -> None:
        """Draw a card."""
        self.set_draw_color(*LINE)
        self.set_line_width(0.3)
        self.rect(_MARGIN, top, self.epw, height - 5)
        picture = card.cup(_PIXELS, _PIXELS)
        scale = min(_PICTURE / picture.width, (height - 11) / picture.height)
        wide, tall = picture.width * scale, picture.height * scale
        saved = io.BytesIO()
        picture.save(saved, "JPEG", quality=90, subsampling=0)
        self.image(
            saved, _MARGIN + 3 + (_PICTURE - wide) / 2, top + 3 + (height - 11 - tall) / 2, wide,
            tall, alt_text=card.alternative,
        )  # fmt: skip
        left = _MARGIN + _PICTURE + 8
        room = self.w - _MARGIN - 4 - left
        scale = 1.0
        while self._words(card, left, top + 3, room, scale, False) > top + height - 15:
            scale *= 0.93
        self._words(card, left, top + 3, room, scale, True)
        bottom = top + height - 12
        if card.settled:
            self._type(10, INK)
            self.set_xy(left, bottom - 2)
            self._fitted(card.settled, room, 10)
            return
        self.set_draw_color(*INK)
        self.rect(left, bottom - 1, 5, 5)
        self._type(11, INK)
        self.set_xy(left + 7, bottom - 1)
        self.cell(20, 5, "right")
        self.set_xy(left + 26, bottom - 1)
        self.cell(20, 5, "change:")
        self.line(left + 43, bottom + 4, left + room, bottom + 4)

    def _words(
        self, card: Card, left: float, y: float, room: float, scale: float, draw: bool
    ) -> float:
        """Write a card's words, or only find out where they end; return that, in mm."""
        rows: list[tuple[str, float, Colour]] = [
            (f"{'Cups' if len(card.seals) > 1 else 'Cup'} {card.number}", 11, INK)
        ]
        for at, text in enumerate(card.texts):
            rows += [(text.label, 8.5, SOFT), (text.text or "–", 15 if at else 21, INK)]
            rows += [(note, 8.5, INK) for note in text.notes]
        rows += [(f"{label}: {value}", 9, SOFT) for label, value in card.details]
        for words, size, colour in rows:
            self._type(size * scale, colour)
            self.set_xy(left, y)
            height = self.multi_cell(
                room, size * scale * 0.47, plain(words, 400), align="L", dry_run=not draw,
                output="HEIGHT",
            )  # fmt: skip
            assert isinstance(height, float)
            y += height + 0.5 * scale
        return y

    def later(self) -> None:
        """Write on a page of its own who is not shown yet."""
        self.add_page()
        self._type(14, INK)
        self.set_xy(_MARGIN, _MARGIN)
        self.cell(self.epw, 8, "Not ready to be shown yet")
        self._type(11, INK)
        self.set_xy(_MARGIN, _MARGIN + 10)
        names = ", ".join(plain(name, 400) for name in self.pack.not_ready)
        self.multi_cell(self.epw, 6, f"You will get these later: {names}.")

    def _type(self, size: float, colour: Colour) -> None:
        self.set_font(_FONTS[0], size=size)
        self.set_text_color(*colour)

    def _fitted(self, text: str, room: float, size: float) -> None:
        """Write a text on one line, smaller where it would be too long: it is never cut."""
        text = plain(text, 400)
        wide = self.get_string_width(text)
        if wide > room:
            self.set_font(_FONTS[0], size=size * room / wide * 0.98)
        self.cell(room, size * 0.45, text)
