"""The run sheet: the paper to clip at the machine."""

from __future__ import annotations

from collections.abc import Iterator

import segno

from mailmerge.proofs.palette import INK, LINE, PAPER, RED, SOFT
from mailmerge.proofs.paper import MARGIN, Colour, Paper
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.workshop.papers import words
from mailmerge.workshop.papers.run import Run, RunCup, RunPile, RunSection, sections_of

_TOP = 9.0
"""Where cups begin on a page, in mm: nearer the edge than other papers, as they are many."""
_ROW = 23.2
"""Height of a cup's line at least, in mm."""
_CODE = 22.6
"""Side of a QR code with its quiet zone, in mm: half a mm for each of its squares."""
_NUMBER, _PICTURE, _BOXES = 15.0, 22.0, 22.5
"""Widths of the columns with the item's number, the cup's picture and the boxes to tick, in mm."""
_TEXTS = MARGIN + _NUMBER + _PICTURE
"""Left edge of the column of texts."""
_FILE, _NAME, _READ, _SMALLEST = 17.0, 13.5, 12.0, 13.0
"""Points of a cup's file, its name, what else is read at the machine, and the smallest file.

Read at 60 to 70 cm: 12 points there look as 6 do on a page held in the hand. Own judgement."""
_LEADING = 0.42
"""From row to row of cards and lines, in mm for each point: 1.2 times the type's size."""
_NOTE = 10.0
"""Points of what is read close by: what is unusual about letters, item and place."""
_SEAL = 23.0
"""Room of a cup's seal beside its size, in mm."""
_LYING = 78.0
"""Width of the large loading picture, in mm."""
_BADGE = 31.0
"""Width of what says that a cup is held by the left hand, in mm."""
_NAMED = 12
"""So many cups that are not on the sheet are named one by one."""


def write_run_sheet(run: Run, size: PaperSize) -> bytes:
    """Return the run sheet as the bytes of a PDF."""
    sheet = _Sheet(run, size)
    sheet.y_now = sheet.front() + 4
    at = 0
    for section in sections_of(run):
        sheet.open(section)
        for cup in section.cups:
            at += 1
            sheet.row(section, cup, at)
    sheet.licences()
    return sheet.written()


def code_text(cup: RunCup) -> str:
    """Return what a cup's QR code holds: its file's name, a blank, and its seal."""
    return f"{cup.file} {cup.seal}"


def _absent_in_words(run: Run) -> Iterator[str]:
    """Yield which cups are not on the sheet, one row for each standing; by name where few are."""
    for standing in dict.fromkeys(each.standing for each in run.absent):
        cups = [each for each in run.absent if each.standing is standing]
        if len(cups) > _NAMED:
            yield words.many_absent(standing, [each.number for each in cups])
        else:
            yield words.absent(standing, [(each.number, each.name) for each in cups])


class _Sheet(Paper):
    """A run on paper."""

    def __init__(self, run: Run, size: PaperSize) -> None:
        self.run = run
        self.y_now = MARGIN
        """Where the next thing goes."""
        super().__init__(size, words.run_sheet_title(run.title), run.made)

    def foot(self) -> str:
        """Return the run's mark, when the paper was made, and the page's number."""
        run = self.run
        return words.run_sheet_foot(run.shop, run.mark, run.made, self.page_no())

    def front(self) -> float:
        """Write what comes before the cups; return where it ends.

        Cautions, what to lay out, the steps for every cup, and how to load.
        """
        run = self.run
        self.type(20)
        self.set_xy(MARGIN, MARGIN)
        self.fitted(words.run_sheet_title(run.title), self.epw)
        about = words.cups_on_machine(len(run.cups), run.machine, self._times())
        y = self.words(about, MARGIN, MARGIN + 11, self.epw, 10, SOFT)
        y = self._cautions(y + 3)
        y = self._heading(words.LAY_OUT, y + 4)
        for pile in run.piles:
            y = self._pile(pile, y)
        y = self._flow(words.spares(run.spoilage.percent, run.spoilage.source), y, 8.5, SOFT)
        for row in _absent_in_words(run):
            y = self._flow(row, y + 0.5, 9, RED)
        for kind, job in run.batch.choices.items():
            if job.limit and job.choice:
                limited = words.speed_limited(kind.in_words, job.choice.settings.speed, job.limit)
                y = self._flow(limited, y, 9, RED)
        y = self._heading(words.FOR_EACH_PIECE if run.is_flat else words.FOR_EACH_CUP, y + 4)
        steps = words.FLAT_STEPS if run.is_flat else words.STEPS
        for number, step in enumerate(steps, start=1):
            y = self._flow(step, y, 9.5, indent=6, mark=str(number)) + 0.6
        return y

    def licences(self) -> None:
        """Write below the last cup what the fonts' files say of their licences."""
        y = self.y_now + 2
        for name, licence in self.run.fonts:
            y = self._flow(words.font(name, licence), y, 8.5, SOFT)

    @property
    def _end(self) -> float:
        """Where a page ends."""
        return self.h - MARGIN + 1.8

    def open(self, section: RunSection) -> None:
        """Write what is the same for all cups of a section: one large loading card.

        It stands on the page of its first cup.
        """
        height = self._card(section, 0.0, draw=False)
        if self.y_now + height + self._height_of(section.first) > self._end:
            self.add_page()
            self.y_now = _TOP
        self.y_now = self._card(section, self.y_now, draw=True)

    def _card(self, section: RunSection, y: float, draw: bool) -> float:
        """Write a section's head, its settings and how to load it; return where it ends."""
        first, top = section.first, y
        room = self.epw - (_BADGE if first.is_left else 0.0)
        told = words.section(first.kind.in_words, len(section.cups))
        y = self.words(told, MARGIN, y + 1, room, 17, INK, draw, _LEADING)
        if draw:
            self._thick_line(top)
        if draw and first.is_left:
            self._badge(self.w - MARGIN - _BADGE, top + 1.5)
        told = words.to_set(first.settings, first.is_tried)
        colour = INK if first.is_tried else RED
        beside = self.words(told, MARGIN, y, self.epw, _READ, colour, draw, _LEADING) + 1
        tall = first.load.height / first.load.width * _LYING
        if draw:
            self.picture(first.load.copy(), (MARGIN, beside, _LYING, tall), words.HOW_IT_LIES)
        left = MARGIN + _LYING + 1
        told = words.how_it_is_loaded(first.holding, first.steps)
        room = self.w - MARGIN - left
        y = self.words(told, left, beside - 0.6, room, _READ, INK, draw, _LEADING)
        return max(y, beside + tall) + 0.8

    def _thick_line(self, y: float) -> None:
        """Draw the line above a section."""
        self.set_draw_color(*INK)
        self.set_line_width(0.8)
        self.line(MARGIN, y, self.w - MARGIN, y)
        self.set_line_width(0.3)
        self.set_draw_color(*LINE)

    def _badge(self, left: float, top: float) -> None:
        """Write that a cup is held by the left hand: light on dark, so that it is seen in grey."""
        self.set_fill_color(*RED)
        self.rect(left, top, _BADGE, 6.2, style="F")
        self.type(_READ, PAPER)
        self.set_xy(left, top + 0.4)
        self.cell(_BADGE, 5.4, words.LEFT_HAND, align="C")

    def _pile(self, pile: RunPile, y: float) -> float:
        """Write what is to be laid out of one kind."""
        to_lay_out = words.pile(pile.kind.in_words, pile.cups, pile.spares)
        y = self._flow(to_lay_out, y, 10.5, indent=6, box=True)
        colour = INK if pile.is_tried else RED
        return self._flow(pile.settings_in_words, y, 9, colour, indent=6) + 1.5

    def _flow(
        self, text: str, y: float, size: float, colour: Colour = INK, indent: float = 0.0,
        mark: str = "", box: bool = False,
    ) -> float:  # fmt: skip
        """Write a paragraph, on a new page where this one is full; return where it ends.

        Beside it stands a ``mark``, or a box to tick.
        """
        left, room = MARGIN + indent, self.epw - indent
        height = self.words(text, left, y, room, size, draw=False) - y
        if mark:
            height = max(height, self.words(mark, MARGIN, y, indent - 1, 9, draw=False) - y)
        if y + height > self.h - MARGIN:
            self.add_page()
            y = MARGIN
        if mark:
            self.words(mark, MARGIN, y, indent - 1, 9, SOFT)
        if box:
            self.box(MARGIN, y + 0.4, 3.5)
        self.words(text, left, y, room, size, colour)
        return y + height

    def _heading(self, text: str, y: float) -> float:
        if y + 20 > self.h - MARGIN:
            self.add_page()
            y = MARGIN
        self.line(MARGIN, y, self.w - MARGIN, y)
        self.type(13)
        self.set_xy(MARGIN, y + 1)
        self.cell(self.epw, 7, text)
        return y + 9

    def _cautions(self, y: float) -> float:
        """Write the cautions in a frame."""
        top = y
        y += 2
        for caution in words.CAUTIONS:
            y = self.words(caution, MARGIN + 3, y, self.epw - 6, 9.5) + 0.8
        self.set_draw_color(*RED)
        self.set_line_width(0.6)
        self.rect(MARGIN, top, self.epw, y - top + 1)
        self.set_draw_color(*LINE)
        self.set_line_width(0.3)
        return y + 1

    def _times(self) -> str:
        run = self.run
        if run.plan is None:
            return words.NO_TIMES
        told = [words.at_machine(sum(run.batch.seconds.values()))]
        if run.batch.without_settings:
            told.append(words.without_times(run.batch.without_settings))
        told.append(words.begun_and_done(run.plan.setup.start, run.plan.done))
        if run.plan.past_closing:
            told.append(words.past_closing(run.plan.past_closing))
        if run.due:
            told.append(words.due(run.due, run.plan.is_ready_by(run.due)))
        return " ".join(told)

    def row(self, section: RunSection, cup: RunCup, at: int) -> None:
        """Draw a cup's line; it is the ``at``-th one of the sheet."""
        height = self._height_of(cup)
        if self.y_now + height > self._end + 0.01:
            self.add_page()
            self.y_now = self._continued(section.first)
        top = self.y_now
        self.line(MARGIN, top, self.w - MARGIN, top)
        self.type(26)
        self.set_xy(MARGIN, top + 2)
        self.fitted(str(cup.number), _NUMBER)
        self.type(_NOTE, SOFT)
        self.set_xy(MARGIN, top + 14)
        self.fitted(words.ITEM, _NUMBER)
        self.set_xy(MARGIN, top + 18.5)
        self.fitted(words.place(at, len(self.run.cups)), _NUMBER)
        alternative = words.picture_of(cup.number, (cup.name, *cup.texts))
        picture = cup.cup.copy()
        picture.thumbnail((420, 420))
        self.picture(picture, (MARGIN + _NUMBER, top + 0.6, _PICTURE, _ROW - 1.2), alternative)
        self._about(cup, top + 0.4, True)
        self._boxes(top + 0.4)
        self._code(cup, self.w - MARGIN - _CODE, top + 0.6)
        self.y_now += height

    def _continued(self, cup: RunCup) -> float:
        """Head a page on which a section goes on; return where the head ends."""
        top, room = _TOP, self.epw - (_BADGE if cup.is_left else 0.0)
        if cup.is_left:
            self._badge(self.w - MARGIN - _BADGE, top)
        told = words.section_goes_on(cup.kind.in_words)
        return self.words(told, MARGIN, top, room, _READ, leading=_LEADING) + 1.3

    def _height_of(self, cup: RunCup) -> float:
        """Return how high a cup's line is: more than the least where its words take it."""
        page = self.h - 2 * MARGIN - 4
        return min(page, max(_ROW, self._about(cup, 0.4, False) + 0.3))

    @property
    def _room(self) -> float:
        """Width of the column of texts, in mm."""
        return self.w - MARGIN - _CODE - _BOXES - 1 - _TEXTS

    def _boxes(self, y: float) -> None:
        """Draw the boxes to tick, one below the other."""
        left = self.w - MARGIN - _CODE - _BOXES
        for word in words.BOXES:
            self.box(left, y + 0.3, 3.6)
            self.type(11)
            self.set_xy(left + 3.8, y - 0.4)
            self.fitted(word, _BOXES - 4)
            y += 4.55

    def _about(self, cup: RunCup, y: float, draw: bool) -> float:
        """Write a cup's file, its name, coat and hand, and what to look at; return where it ends.

        Only what would be higher than a page is set smaller.
        """
        scale, most = 1.0, self.h - 2 * MARGIN - 20
        while self._lines(cup, y, scale, False) - y > most:
            scale *= 0.9
        return self._lines(cup, y, scale, draw)

    def _lines(self, cup: RunCup, y: float, scale: float, draw: bool) -> float:
        y = self._file(cup.file, y, draw)
        named = words.name_and_texts(cup.name, cup.texts)
        size = self._on_one_line(named, _NAME) * scale
        y = self._row(named, y, size, INK, draw)
        coat = words.in_coat(cup.kind.coat, cup.is_left, cup.seconds)
        y = self._row(coat, y, _READ * scale, INK, draw)
        y = self._size_and_seal(cup, y, scale, draw)
        for text, size, colour in self._remarks(cup):
            y = self._row(text, y, size * scale, colour, draw)
        return y

    def _row(
        self, text: str, y: float, size: float, colour: Colour, draw: bool, beside: float = 0.0
    ) -> float:
        """Write a text in the column of texts, with room for something beside it."""
        room = self._room - beside
        return self.words(text, _TEXTS, y, room, size, colour, draw, _LEADING)

    def _file(self, name: str, y: float, draw: bool) -> float:
        """Write the name of a cup's file, in full; return where it ends."""
        size, rows = self.on_rows(name, self._room, _FILE, _SMALLEST)
        height = size * (_LEADING - 0.03)  # no letter of it has an accent
        for row in rows:
            if draw:
                self.type(size)
                self.set_xy(_TEXTS, y)
                self.cell(self._room, height, row)
            y += height
        return y

    @staticmethod
    def _remarks(cup: RunCup) -> Iterator[tuple[str, float, Colour]]:
        """Yield what is said of a cup besides, with its size in points and its colour."""
        if cup.notes:
            yield words.letters(cup.notes), _NOTE, INK
        if cup.again:
            yield words.made_again(cup.again), _READ, RED
        for said in cup.look:
            yield words.look(said), _READ, RED
        if cup.without_yes:
            yield words.without_yes(cup.without_yes), _READ, RED

    def _size_and_seal(self, cup: RunCup, y: float, scale: float, draw: bool) -> float:
        """Write how large its file is, and small beside it its seal; return where they end."""
        if draw:
            self.type(8, SOFT)
            self.set_xy(_TEXTS + self._room - _SEAL, y + 0.8)
            self.fitted(cup.seal, _SEAL, align="R")
        told = words.must_measure(*cup.size)
        return self._row(told, y, _READ * scale, INK, draw, _SEAL)

    def _on_one_line(self, text: str, size: float) -> float:
        """Return the largest size that sets a text on one line; else one that breaks no word."""
        self.type(size)
        wide = self.get_string_width(text) / (self._room - 2 * self.c_margin)
        if wide <= 1:
            return size
        if wide <= size / _READ:
            return size / wide * 0.99
        return self.unbroken(text, self._room, _READ, _NOTE)

    def _code(self, cup: RunCup, left: float, top: float) -> None:
        """Draw the QR code: the file's name and the seal."""
        code = segno.make_qr(code_text(cup), error="m", boost_error=False)
        matrix = [list(row) for row in code.matrix_iter(scale=1, border=4)]
        side = _CODE / len(matrix)
        self.set_fill_color(*INK)
        for at, row in enumerate(matrix):
            start = None
            for column, dark in enumerate([*row, 0]):
                if dark and start is None:
                    start = column
                elif not dark and start is not None:
                    self.rect(
                        left + start * side, top + at * side, (column - start) * side, side,
                        style="F",
                    )  # fmt: skip
                    start = None
