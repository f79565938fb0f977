"""The proof pack on paper: a PDF for those who print."""

from __future__ import annotations

from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.cards import Card, Pack
from mailmerge.proofs.palette import INK, LINE, SOFT
from mailmerge.proofs.paper import LONG_AGO, MARGIN, Colour, Paper, PaperSize
from mailmerge.proofs.text import plain

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
        super().__init__(size, pack.title, LONG_AGO)

    def foot(self) -> str:
        """Return the pack's name and the page's number."""
        return words.page(self.pack.id, self.page_no())

    def front(self) -> None:
        """Write what the first page says above its cards."""
        self.type(20)
        self.set_xy(MARGIN, MARGIN)
        self.fitted(self.pack.title, self.epw)
        self.words(
            words.READ_THE_PAPER, MARGIN, MARGIN + 12, self.epw, 10.5, SOFT,
        )  # fmt: skip

    def card(self, card: Card, top: float, height: float) -> None:
        """Draw a card."""
        self.set_draw_color(*LINE)
        self.rect(MARGIN, top, self.epw, height - 5)
        place = (MARGIN + 3, top + 3, _PICTURE, height - 11)
        self.picture(card.cup(_PIXELS, _PIXELS), place, card.alternative)
        left = MARGIN + _PICTURE + 8
        room = self.w - MARGIN - 4 - left
        scale = 1.0
        while self._texts(card, left, top + 3, room, scale, False) > top + height - 15:
            scale *= 0.93
        self._texts(card, left, top + 3, room, scale, True)
        bottom = top + height - 12
        if card.settled:
            self.type(10)
            self.set_xy(left, bottom - 2)
            self.fitted(card.settled, room)
            return
        self.box(left, bottom - 1, 5)
        self.type(11)
        self.set_xy(left + 7, bottom - 1)
        self.cell(20, 5, words.RIGHT)
        self.set_xy(left + 26, bottom - 1)
        self.cell(20, 5, words.CHANGE)
        self.set_draw_color(*INK)
        self.line(left + 43, bottom + 4, left + room, bottom + 4)

    def _texts(
        self, card: Card, left: float, y: float, room: float, scale: float, draw: bool
    ) -> float:
        """Write a card's texts, or only find out where they end; return that, in mm."""
        rows: list[tuple[str, float, Colour]] = [
            (words.cups(card.number, len(card.seals)), 11, INK)
        ]
        for at, text in enumerate(card.texts):
            rows += [(text.label, 8.5, SOFT), (text.text or "–", 15 if at else 21, INK)]
            rows += [(note, 8.5, INK) for note in text.notes]
        rows += [(words.detail(label, value), 9, SOFT) for label, value in card.details]
        for row, size, colour in rows:
            y = self.words(row, left, y, room, size * scale, colour, draw=draw) + 0.5 * scale
        return y

    def later(self) -> None:
        """Write on a page of its own who is not shown yet."""
        self.add_page()
        self.type(14)
        self.set_xy(MARGIN, MARGIN)
        self.cell(self.epw, 8, words.NOT_READY)
        self.type(11)
        self.set_xy(MARGIN, MARGIN + 10)
        names = [plain(name, 400) for name in self.pack.not_ready]
        self.multi_cell(self.epw, 6, words.later(names))
