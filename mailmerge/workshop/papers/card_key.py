"""The key of a test card on paper: a map of the card, and a table to write into."""

from __future__ import annotations

import datetime as dt

from mailmerge.proofs import Load, steps_of
from mailmerge.proofs.palette import INK, LINE, SOFT
from mailmerge.proofs.paper import MARGIN, Colour, Paper
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.workshop.papers import words
from mailmerge.workshop.settings.card import SettingsCard

KEY_PAPER = "key.pdf"


def key_paper(card: SettingsCard, size: PaperSize, made: dt.datetime) -> bytes:
    """Return the key as the bytes of a PDF: a map of the card, and a table to write into."""
    paper = _Key(card, size, made)
    paper.front()
    paper.add_page()
    paper.settings()
    return paper.written()


def _rgb(colour: str) -> Colour:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


_ONE_COLUMN = 24


class _Key(Paper):
    """The key on paper."""

    def __init__(self, card: SettingsCard, size: PaperSize, made: dt.datetime) -> None:
        self.card = card
        self.made = made
        super().__init__(size, words.card_title(card.coat.name, card.machine.name), made)

    def foot(self) -> str:
        """Return the date and the page's number."""
        return words.card_foot(self.made, self.page_no())

    def front(self) -> None:
        """Write what to do with the card, and draw where its cells are."""
        card = self.card
        self.type(20)
        self.set_xy(MARGIN, MARGIN)
        self.fitted(words.card_head(card.coat.name), self.epw)
        y = self.words(
            words.about_card(
                card.machine.name, card.blank.name, card.cells[0].settings.interval
            ),
            MARGIN, MARGIN + 12, self.epw, 11, SOFT,
        )  # fmt: skip
        for caution in words.CAUTIONS:
            y = self.words(caution, MARGIN, y + 1.2, self.epw, 9)
        load = Load(card.blank, card.coat, card.loading, card.machine.name, (card.face,))
        y += 3
        todo = words.what_to_do(list(steps_of(load)), card.safe.in_words, card.origin)
        for number, step in enumerate(todo, start=1):
            self.type(9.5, SOFT)
            self.set_xy(MARGIN, y)
            self.cell(6, 4.5, str(number))
            y = self.words(step, MARGIN + 6, y, self.epw - 6, 9.5) + 1.2
        self._map(y + 4)

    def _map(self, top: float) -> None:
        """Draw the grid as it comes out on the cup, seen upright."""
        cells = self.card.cells
        left, high = min(c.box.left for c in cells), min(c.box.low for c in cells)
        wide = max(c.box.right for c in cells) - left
        tall = max(c.box.high for c in cells) - high
        room = self.h - MARGIN - 8 - top
        scale = min((self.epw - 34) / wide, (room - 8) / tall)
        x0, y0 = MARGIN + 32, top + 8
        for cell in cells:
            x, y = x0 + (cell.box.left - left) * scale, y0 + (cell.box.low - high) * scale
            width, height = cell.box.width * scale, cell.box.height * scale
            self.set_fill_color(*_rgb(cell.colour))
            self.rect(x, y, width, height * 0.55, style="F")
            self.type(min(11.0, height * 1.0))
            self.set_xy(x, y + height * 0.58)
            self.cell(width, height * 0.4, cell.name, align="C")
        for cell in cells[: self.card.columns]:
            self.type(9, SOFT)
            self.set_xy(x0 + (cell.box.left - left) * scale, y0 - 6)
            self.cell(cell.box.width * scale, 5, words.power(cell.settings.power), align="C")
        for cell in cells[:: self.card.columns]:
            y = y0 + (cell.box.low - high) * scale
            self.type(9, SOFT)
            self.set_xy(MARGIN, y)
            self.cell(30, 4.5, words.speed(cell.settings.speed))
            self.set_xy(MARGIN, y + 4.2)
            self.cell(30, 4.5, words.passes(cell.settings.passes))

    def settings(self) -> None:
        """Write the settings of every cell, with room for what came of it."""
        columns = 1 if len(self.card.cells) <= _ONE_COLUMN else 2
        per = -(-len(self.card.cells) // columns)
        room = (self.epw - 8) / columns
        row = min(9.0, (self.h - 2 * MARGIN - 16) / per)
        self.type(13)
        self.set_xy(MARGIN, MARGIN)
        self.cell(self.epw, 7, words.WHAT_CELLS_STAND_FOR)
        for at, cell in enumerate(self.card.cells):
            column, line = divmod(at, per)
            x, y = MARGIN + column * (room + 8), MARGIN + 11 + line * row
            self.set_fill_color(*_rgb(cell.colour))
            self.rect(x, y + 0.6, 5, row - 1.8, style="F")
            self.type(10, INK)
            self.set_xy(x + 6.5, y)
            self.cell(9, row - 0.6, cell.name)
            self.type(8.5, INK)
            self.set_xy(x + 15, y)
            self.cell(
                42, row - 0.6,
                words.cell_settings(
                    cell.settings.power, cell.settings.speed, cell.settings.passes
                ),
            )  # fmt: skip
            self.set_draw_color(*LINE)
            self.line(x + 56, y + row * 0.5 + 1.5, x + room, y + row * 0.5 + 1.5)
