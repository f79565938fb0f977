"""The run sheet: the paper to clip at the machine."""

from __future__ import annotations

import datetime as dt

import segno

from mailmerge.proofs.palette import INK, LINE, RED, SOFT
from mailmerge.proofs.paper import MARGIN, Colour, Paper, PaperSize
from mailmerge.units import format_minutes, numbers_in_words
from mailmerge.workshop.cautions import CAUTIONS, STEPS
from mailmerge.workshop.recipes import Recipe
from mailmerge.workshop.run import Run, RunCup, RunPile, loads_of

BOXES = ("loaded", "focus", "trace", "engraved", "cleaned")

_ROWS = 5
"""On a page."""
_CODE = 26.0
"""Side of a QR code with its quiet zone, in mm: more than half a mm for each of its squares."""
_LAST = 29.0
"""Width of the column that holds it."""


def write_run_sheet(run: Run, size: PaperSize) -> bytes:
    """Return the run sheet as the bytes of a PDF."""
    sheet = _Sheet(run, size)
    sheet.front()
    height = (sheet.h - 2 * MARGIN + 2) / _ROWS
    for at, cup in enumerate(run.cups):
        if at % _ROWS == 0:
            sheet.add_page()
        sheet.row(cup, MARGIN - 2 + at % _ROWS * height, height)
    return sheet.written()


def code_text(cup: RunCup) -> str:
    """Return what a cup's QR code holds: its file's name, a blank, and its seal."""
    return f"{cup.file} {cup.seal}"


def day_and_time(at: dt.datetime) -> str:
    """Return a time as people say it: ``Thu 26 November, 14:05``."""
    return f"{at:%a} {at.day} {at:%B}, {at:%H:%M}"


class _Sheet(Paper):
    """A run on paper."""

    def __init__(self, run: Run, size: PaperSize) -> None:
        self.run = run
        super().__init__(size, f"Run sheet: {run.title}", run.made)

    def foot(self) -> str:
        """Return the run's mark, when the paper was made, and the page's number."""
        made = f"{self.run.made.day} {self.run.made:%B %Y, %H:%M}"
        return f"Run {self.run.mark}, {made}, page {self.page_no()}"

    def front(self) -> None:
        """Write what comes before the cups: cautions, what to lay out, the steps, how to load."""
        run = self.run
        self.type(20)
        self.set_xy(MARGIN, MARGIN)
        self.fitted(f"Run sheet: {run.title}", self.epw)
        cups = f"{len(run.cups)} cup{'' if len(run.cups) == 1 else 's'}"
        y = self.words(
            f"{cups} on {run.machine}. {self._times()}", MARGIN, MARGIN + 11, self.epw, 10, SOFT
        )
        y = self._cautions(y + 3)
        y = self._heading("To buy and lay out", y + 4)
        for pile in run.piles:
            y = self._pile(pile, y)
        y = self._flow(
            f"Spares are for {run.spoilage.percent:.1f} % of blanks spoiled "
            f"({run.spoilage.source}): with them the batch is complete with 95 % certainty.",
            y, 8.5, SOFT,
        )  # fmt: skip
        for settings in run.batch.too_fast:
            y = self._flow(
                f"{settings.speed:g} mm/s is more than the {run.batch.machine.speed:g} mm/s of the "
                f"machine's profile.",
                y, 9, RED,
            )  # fmt: skip
        for name, licence in run.fonts:
            y = self._flow(f"Font {name}: {licence}", y + 0.5, 8.5, SOFT)
        y = self._heading("For every cup", y + 4)
        for number, step in enumerate(STEPS, start=1):
            y = self._flow(step, y, 9.5, indent=6, mark=str(number)) + 0.6
        y = self._heading("To load", y + 4)
        for steps, places in loads_of(run):
            mark = numbers_in_words(places, most=1000)
            y = self._flow(" ".join(steps), y, 9, indent=24, mark=mark) + 1.5

    def _pile(self, pile: RunPile, y: float) -> float:
        """Write what is to be laid out of one kind."""
        spare = f"{pile.spares} spare{'' if pile.spares == 1 else 's'}"
        y = self._flow(
            f"{pile.blank}, {pile.coat}: {pile.cups + pile.spares} blanks, that is {pile.cups} and "
            f"{spare}",
            y, 10.5, indent=6, box=True,
        )  # fmt: skip
        colour = INK if isinstance(pile.settings, Recipe) else RED
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
        for caution in CAUTIONS:
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
            return "How long they take is not known without settings."
        total = sum(run.batch.seconds.values())
        words = [f"{format_minutes(total)} at the machine without loading"]
        if run.batch.unknown:
            words.append(f"without items {numbers_in_words(run.batch.unknown)}")
        words.append(f"if begun on {day_and_time(run.plan.setup.start)}")
        words.append(f"done on {day_and_time(run.plan.done)}")
        if run.due:
            ready = run.plan.is_ready_by(run.due)
            words.append(f"due on {run.due.day} {run.due:%B}: {'in time' if ready else 'TOO LATE'}")
        return "; ".join(words) + "."

    def row(self, cup: RunCup, top: float, height: float) -> None:
        """Draw a cup's line."""
        self.line(MARGIN, top, self.w - MARGIN, top)
        self.type(15)
        self.set_xy(MARGIN, top + 2)
        self.cell(11, 6, str(cup.place))
        self.type(7.5, SOFT)
        self.set_xy(MARGIN, top + 9)
        self.cell(11, 4, f"item {cup.number}")
        alternative = f"Cup {cup.number}, engraved with {', '.join((cup.name, *cup.texts))}."
        picture = cup.cup.copy()
        picture.thumbnail((420, 420))
        self.picture(picture, (MARGIN + 12, top + 3, 34, height - 6), alternative)
        self._about(cup, (MARGIN + 49, top + 2, 56.0, height - 12))
        left = MARGIN + 106
        load = cup.load.copy()
        load.thumbnail((760, 760))
        room = self.w - MARGIN - left - _LAST - 2
        self.picture(load, (left, top + 2, room, 25), "How it lies at the start.")
        self.words(cup.start, left, top + 29, room, 7.5)
        self._code(cup, self.w - MARGIN - _LAST, top + 1)
        x = MARGIN + 49
        for word in BOXES:
            self.box(x, top + height - 7.5)
            self.type(9)
            self.set_xy(x + 4.5, top + height - 8)
            self.cell(18, 5, word)
            x += 11.5 + self.get_string_width(word)

    def _about(self, cup: RunCup, place: tuple[float, float, float, float]) -> None:
        """Write the name in plain type, what else is engraved, and what is set at the machine.

        Into a box (left, top, width, height), smaller where it would not fit.
        """
        left, top, room, height = place
        scale = 1.0
        while self._lines(cup, left, top, room, scale, False) > top + height:
            scale *= 0.95
        self._lines(cup, left, top, room, scale, True)

    def _lines(
        self, cup: RunCup, left: float, y: float, room: float, scale: float, draw: bool
    ) -> float:
        minutes = f", {format_minutes(cup.seconds)} min" if cup.seconds is not None else ""
        rows = [(cup.name, 15.0, INK)]
        rows += [(text, 10.5, INK) for text in cup.texts]
        rows.append((cup.holding, 8.5, INK))
        rows.append(((cup.settings or "settings: ____________") + minutes, 8.5, INK))
        rows += [(f"Look: {words}", 8, RED) for words in cup.look]
        if cup.without_yes:
            rows.append((f"WITHOUT THE CLIENT'S YES: {cup.without_yes}", 8.5, RED))
        for words, size, colour in rows:
            y = self.words(words, left, y, room, size * scale, colour, draw) + 0.4 * scale
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
