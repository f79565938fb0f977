"""The run sheet: the paper to clip at the machine."""

from __future__ import annotations

from collections.abc import Iterator

import segno

from mailmerge.proofs.palette import INK, LINE, RED, SOFT
from mailmerge.proofs.paper import MARGIN, Colour, Paper, PaperSize
from mailmerge.workshop.papers import words
from mailmerge.workshop.papers.run import Run, RunCup, RunPile, loads_of

_ROWS = 5
"""On a page."""
_CODE = 26.0
"""Side of a QR code with its quiet zone, in mm: more than half a mm for each of its squares."""
_LAST = 29.0
"""Width of the column that holds it."""
_TEXTS, _ROOM = MARGIN + 49, 56.0
"""Left edge and width of the column of texts."""
_RIGHT = _TEXTS + _ROOM + 2
"""Left edge of the column with the picture of how it lies."""
_BELOW = 12.0
"""Room of a line above and below its texts, with the boxes to tick."""
_NAMED = 12
"""So many cups that are not on the sheet are named one by one."""
_FEW = 5
"""So many cups are named one by one where they are loaded in another way."""


def write_run_sheet(run: Run, size: PaperSize) -> bytes:
    """Return the run sheet as the bytes of a PDF."""
    sheet = _Sheet(run, size)
    y, end = sheet.front(), sheet.h - MARGIN + 1
    for at, cup in enumerate(run.cups, start=1):
        height = sheet.height_of(cup)
        if y + height > end + 0.01:
            sheet.add_page()
            y = MARGIN - 2
        sheet.row(cup, at, y, height)
        y += height
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
        for name, licence in run.fonts:
            y = self._flow(words.font(name, licence), y + 0.5, 8.5, SOFT)
        y = self._heading(words.FOR_EACH_PIECE if run.is_flat else words.FOR_EACH_CUP, y + 4)
        steps = words.FLAT_STEPS if run.is_flat else words.STEPS
        for number, step in enumerate(steps, start=1):
            y = self._flow(step, y, 9.5, indent=6, mark=str(number)) + 0.6
        y = self._heading(words.HOW_TO_LOAD, y + 4)
        for way in loads_of(run):
            y = self._way_to_load(way, y)
        return y

    def _pile(self, pile: RunPile, y: float) -> float:
        """Write what is to be laid out of one kind."""
        to_lay_out = words.pile(pile.kind.in_words, pile.cups, pile.spares)
        y = self._flow(to_lay_out, y, 10.5, indent=6, box=True)
        colour = INK if pile.is_tried else RED
        return self._flow(pile.settings_in_words, y, 9, colour, indent=6) + 1.5

    def _way_to_load(self, cups: list[RunCup], y: float) -> float:
        """Write how some cups are loaded, beside its picture."""
        wide, tall, left = 66.0, 34.0, MARGIN + 70
        held = cups[0].holding
        if len(cups) > _FEW:
            which = words.many_loaded_like_this([cup.number for cup in cups], held)
        else:
            which = words.loaded_like_this([(cup.number, cup.name) for cup in cups], held)
        colour = RED if cups[0].is_left else INK

        def write(top: float, draw: bool) -> float:
            end = self.words(which, left, top, self.w - MARGIN - left, 10, colour, draw)
            for step in cups[0].steps:
                end = self.words(step, left, end + 0.6, self.w - MARGIN - left, 9, INK, draw)
            return end

        end = max(y + tall, write(y, False))
        if end > self.h - MARGIN:
            self.add_page()
            end += MARGIN - y
            y = MARGIN
        picture = cups[0].load.copy()
        self.picture(picture, (MARGIN, y, wide, tall), words.HOW_IT_LIES)
        write(y, True)
        return end + 2.5

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

    def height_of(self, cup: RunCup) -> float:
        """Return how high a cup's line is: a fifth of a page, or more where its words take it."""
        page = self.h - 2 * MARGIN + 3
        ends = self._about(cup, 0.0, False), self._to_set(cup, 0.0, False)
        return min(page, max(page / _ROWS, *(end + _BELOW for end in ends)))

    def row(self, cup: RunCup, at: int, top: float, height: float) -> None:
        """Draw a cup's line; it is the ``at``-th one."""
        self.line(MARGIN, top, self.w - MARGIN, top)
        self.type(7.5, SOFT)
        self.set_xy(MARGIN, top + 1)
        self.cell(11, 4, words.ITEM)
        self.type(17)
        self.set_xy(MARGIN, top + 4.5)
        self.fitted(str(cup.number), 12)
        self.type(7.5, SOFT)
        self.set_xy(MARGIN, top + 12)
        self.fitted(words.place(at, len(self.run.cups)), 11.5)
        alternative = words.picture_of(cup.number, (cup.name, *cup.texts))
        picture = cup.cup.copy()
        picture.thumbnail((420, 420))
        page = (self.h - 2 * MARGIN + 3) / _ROWS
        self.picture(picture, (MARGIN + 12, top + 3, 34, page - 6), alternative)
        self._about(cup, top + 2, True)
        load = cup.load.copy()
        load.thumbnail((760, 760))
        room = self.w - MARGIN - _RIGHT - _LAST - 2
        self.picture(load, (_RIGHT, top + 2, room, 21.5), words.HOW_IT_LIES)
        self._code(cup, self.w - MARGIN - _LAST, top + 1)
        self._to_set(cup, top + 2, True)
        x = _TEXTS
        for word in words.BOXES:
            self.box(x, top + height - 7.5)
            self.type(9)
            self.set_xy(x + 4.5, top + height - 8)
            self.cell(18, 5, word)
            x += 11.5 + self.get_string_width(word)

    def _to_set(self, cup: RunCup, y: float, draw: bool) -> float:
        """Write how a cup lies and what is set at the machine; return where it ends."""
        room, below = self.w - MARGIN - _RIGHT, y
        y = self.words(cup.start, _RIGHT, y + 22, room - _LAST - 2, 8, INK, draw)
        y = max(y, below + _CODE + 8) + 0.5  # clear of the code and its name
        told = words.to_set(cup.settings, cup.is_tried, cup.seconds)
        return self.words(told, _RIGHT, y, room, 8.5, INK if cup.is_tried else RED, draw)

    def _about(self, cup: RunCup, y: float, draw: bool) -> float:
        """Write the name in plain type, what else is engraved, and what to look at.

        Only what would be higher than a page is set smaller. Returns where it ends.
        """
        scale, most = 1.0, self.h - 2 * MARGIN - _BELOW
        while self._lines(cup, y, scale, False) - y > most:
            scale *= 0.9
        return self._lines(cup, y, scale, draw)

    def _lines(self, cup: RunCup, y: float, scale: float, draw: bool) -> float:
        rows = [(words.LEFT_HAND, 12.0, RED)] if cup.is_left else []
        rows.append((cup.name, 16.0, INK))
        rows += [(text, 11.0, INK) for text in cup.texts]
        if cup.notes:
            rows.append((words.letters(cup.notes), 8.5, INK))
        rows.append((cup.holding, 8.5, INK))
        if cup.again:
            rows.append((words.made_again(cup.again), 8.5, RED))
        rows += [(words.look(said), 8.5, RED) for said in cup.look]
        if cup.without_yes:
            rows.append((words.without_yes(cup.without_yes), 9, RED))
        for text, size, colour in rows:
            y = self.words(text, _TEXTS, y, _ROOM, size * scale, colour, draw) + 0.4 * scale
        return y

    def _code(self, cup: RunCup, left: float, top: float) -> None:
        """Draw the QR code, and below it what it holds."""
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
        self.type(6.5, SOFT)
        self.set_xy(left, top + _CODE)
        self.fitted(cup.file, _LAST)
        self.type(8)
        self.set_xy(left, top + _CODE + 3.5)
        self.cell(_LAST, 4, cup.seal)
