"""The proof pack on paper: a PDF for those who print."""

from __future__ import annotations

from collections.abc import Iterator

from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.cards import Card, Pack, within
from mailmerge.proofs.palette import INK, LINE, SOFT
from mailmerge.proofs.paper import LONG_AGO, MARGIN, Colour, Paper
from mailmerge.proofs.paper_size import PaperSize

_CARDS = 3
"""On a page."""
_PICTURE = 66.0
"""Width in mm of the room for pictures on a card."""
_FACES = 0.62
"""Of its height that the faces close by take; the whole cup has the rest."""
_PIXELS = 8.0
"""Of a picture, for each mm: 203 to the inch."""
_FRONT = 42.0
"""Height in mm of what stands above the first cards."""


def write_paper(pack: Pack, size: PaperSize = "A4") -> bytes:
    """Return the pack as the bytes of a PDF, three cups on a page, with boxes to tick by hand."""
    paper = _PackPaper(pack, size)
    paper.front()
    top, height = MARGIN + _FRONT, (paper.h - 2 * MARGIN - _FRONT - 8.0) / _CARDS
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
        """Write what the first page says above its cards: whose they are, and what to do."""
        self.type(20)
        self.set_xy(MARGIN, MARGIN)
        self.fitted(self.pack.title, self.epw)
        sender = self.pack.sender
        if sender.name:
            self.type(10)
            self.set_xy(MARGIN, MARGIN + 9)
            self.fitted("  ·  ".join([sender.name, *sender.reach]), self.epw)
        y = 1 + self.words(
            words.read_the_paper(self.language), MARGIN, MARGIN + 16, self.epw, 10.5, SOFT,
            is_ours=True,
        )  # fmt: skip
        name = words.detail(self.language, words.your_name(self.language), "").rstrip()
        at = self._label(name, MARGIN, y)
        start = self.mirrored(at, 80)
        self.set_draw_color(*INK)
        self.line(start, y + 5, start + 80, y + 5)

    def card(self, card: Card, top: float, height: float) -> None:
        """Draw a card."""
        self.set_draw_color(*LINE)
        self.rect(MARGIN, top, self.epw, height - 5)
        self._pictures(card, top + 3, height - 11)
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

    def _pictures(self, card: Card, top: float, height: float) -> None:
        """Place the faces close by one above the other, and the whole cup below them."""
        said, upper = card.alternative(self.language), height * _FACES if card.faces else 0.0
        each = upper / max(1, len(card.faces))
        for at, face in enumerate(card.faces):
            self._picture(face, top + at * each, each - 1.5, said)
        self._picture(card.cup, top + upper, height - upper, said)

    def _picture(self, picture: bytes, top: float, height: float, said: str) -> None:
        """Place a picture in the room for pictures, as fine as it is seen there."""
        size = round(_PICTURE * _PIXELS), round(height * _PIXELS)
        self.picture(within(picture, *size), (MARGIN + 3, top, _PICTURE, height), said)

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
        for row, size, colour, is_ours in self._rows(card):
            y = self.words(
                row, left, y, room, size * scale, colour, draw=draw, is_ours=is_ours
            )  # fmt: skip
            y += 0.5 * scale
        return y

    def _rows(self, card: Card) -> Iterator[tuple[str, float, Colour, bool]]:
        """Yield a card's texts: each with its size, its colour, and whether it is our sentence."""
        language = self.language
        yield words.cup_numbers(language, card.number, len(card.seals)), 11, INK, True
        for at, text in enumerate(card.texts):
            yield text.label, 8.5, SOFT, True
            for line in text.lines:
                yield line or "–", 15 if at else 21, INK, False
            if text.engraved:
                yield words.as_written(language, text.text), 9.5, SOFT, True
            for note in text.notes:
                yield note, 8.5, INK, True
        for label, value in card.details:
            yield words.detail(language, label, value), 9, SOFT, True
        for said in card.asked(language):
            yield said, 10, INK, True

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
