"""The proof pack on paper: a PDF for those who print."""

from __future__ import annotations

from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.cards import Card, Pack
from mailmerge.proofs.palette import INK, LINE, SOFT
from mailmerge.proofs.paper import LONG_AGO, MARGIN, Colour, Paper, PaperSize

_CARDS = 3
"""On a page."""
_PICTURE = 66.0
_PIXELS = 560
"""Of a picture: 215 to the inch."""


def write_paper(pack: Pack, size: PaperSize = "A4") -> bytes:
    """Return the pack as the bytes of a PDF, three cups on a page, with boxes to tick by hand."""
    paper = _PackPaper(pack, size)
    paper.front()
    top, height = MARGIN + 32.0, (paper.h - 2 * MARGIN - 32.0 - 8.0) / _CARDS
    for at, card in enumerate(pack.cards):
        if at and at % _CARDS == 0:
            paper.add_page()
            top, height = MARGIN + 2.0, (paper.h - 2 * MARGIN - 10.0) / _CARDS
        paper.card(card, top + at % _CARDS * height, height)
    if pack.not_ready:
        paper.later()
    return paper.written()


class _PackPaper(Paper):
    """A proof pack."""

    def __init__(self, pack: Pack, size: PaperSize) -> None:
        self.pack = pack
        self.language = pack.language
        super().__init__(
            size, pack.title, LONG_AGO, self.language.tag, self.language.is_right_to_left
        )

    def foot(self) -> str:
        """Return the pack's name and the page's number."""
        return words.page(self.language, self.pack.id, self.page_no())

    def front(self) -> None:
        """Write what the first page says above its cards."""
        self.type(20)
        self.set_xy(MARGIN, MARGIN)
        self.fitted(self.pack.title, self.epw)
        self.words(
            words.read_the_paper(self.language), MARGIN, MARGIN + 12, self.epw, 10.5, SOFT,
            is_ours=True,
        )  # fmt: skip

    def card(self, card: Card, top: float, height: float) -> None:
        """Draw a card."""
        self.set_draw_color(*LINE)
        self.rect(MARGIN, top, self.epw, height - 5)
        place = (MARGIN + 3, top + 3, _PICTURE, height - 11)
        self.picture(card.cup(_PIXELS, _PIXELS), place, card.alternative(self.language))
        left = MARGIN + _PICTURE + 8
        room = self.w - MARGIN - 4 - left
        scale = 1.0
        while self._texts(card, left, top + 3, room, scale, False) > top + height - 15:
            scale *= 0.93
        self._texts(card, left, top + 3, room, scale, True)
        bottom = top + height - 12
        if card.settled:
            self.type(10)
            self.set_xy(self.mirrored(left, room), bottom - 2)
            self.fitted(card.settled, room)
            return
        self.box(left, bottom - 1, 5)
        at = self._label(words.right(self.language), left + 7, bottom - 1)
        at = self._label(words.change(self.language), max(at + 3, left + 26), bottom - 1)
        self.set_draw_color(*INK)
        length = left + room - at
        start = self.mirrored(at, length)
        self.line(start, bottom + 4, start + length, bottom + 4)

    def _label(self, text: str, left: float, y: float) -> float:
        """Write what stands beside a box or before a line; return where it ends, in mm."""
        self.type(11)
        width = self.get_string_width(text) + 2 * self.c_margin
        self.set_xy(self.mirrored(left, width), y)
        self.fitted(text, width)
        return left + width

    def _texts(
        self, card: Card, left: float, y: float, room: float, scale: float, draw: bool
    ) -> float:
        """Write a card's texts, or only find out where they end; return that, in mm."""
        rows: list[tuple[str, float, Colour, bool]] = [
            (words.cup_numbers(self.language, card.number, len(card.seals)), 11, INK, True)
        ]
        for at, text in enumerate(card.texts):
            rows += [
                (text.label, 8.5, SOFT, True),
                (text.text or "–", 15 if at else 21, INK, False),
            ]
            rows += [(note, 8.5, INK, True) for note in text.notes]
        rows += [
            (words.detail(self.language, label, value), 9, SOFT, True)
            for label, value in card.details
        ]
        for row, size, colour, is_ours in rows:
            y = self.words(
                row, left, y, room, size * scale, colour, draw=draw, is_ours=is_ours
            ) + 0.5 * scale  # fmt: skip
        return y

    def later(self) -> None:
        """Write on a page of its own who is not shown yet."""
        self.add_page()
        y = self.words(words.not_ready(self.language), MARGIN, MARGIN, self.epw, 14)
        self.words(
            words.later(self.language, self.pack.not_ready),
            MARGIN,
            y + 2,
            self.epw,
            11,
            is_ours=True,
        )
