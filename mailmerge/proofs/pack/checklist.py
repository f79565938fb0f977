"""The list of a proof pack as a workbook with two columns to fill in."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from openpyxl.styles import Alignment, Border, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.cards import Pack
from mailmerge.proofs.pack.languages import Language, known
from mailmerge.proofs.pack.workbook import (
    FILL_IN,
    PAPER,
    SOFT,
    dated,
    font,
    new_book,
    print_as_wide_as_the_page,
    say,
)
from mailmerge.voice import visible

_HEADER_ROW = 5
_ROW = 34.0
"""Height of a row in points: two lines."""


@dataclass(frozen=True)
class ListColumns:
    """Where the columns of a checklist stand, counted from 0."""

    item: int
    right: int
    change: int
    seal: int
    pack: str
    texts: dict[str, int]
    """By title, in small letters."""
    language: Language
    """That the titles are in."""

    @property
    def titles(self) -> tuple[str, str, str]:
        """The titles of the columns for the item, a yes, and a wish."""
        return _titles(self.language)


def title_of(language: Language, field: str) -> str:
    """Return the title of a text's column: what people call it, and none of the list's own."""
    title = visible(words.field_label(language, field))
    ours = words.side, words.engraved_column, words.question_column
    own = {_plain(each) for each in (*(of(language) for of in ours), *_titles(language))}
    is_own = _plain(title) in own or _seal_title(language).match(title)
    return words.text_column(language, title) if is_own else title


def _titles(language: Language) -> tuple[str, str, str]:
    """Return the titles of the columns for the item, a yes, and a wish."""
    of = words.item_column, words.right_column, words.change_column
    item, right, change = (title(language) for title in of)
    return item, right, change


@cache
def _seal_title(language: Language) -> re.Pattern[str]:
    """Return what finds the pack in the title of the column of seals."""
    before, after = words.seal_of_pack(language, "\0").split("\0")
    pack = "([0-9a-z]{4}-[0-9a-z]{4})"
    return re.compile(f"{re.escape(before)}{pack}{re.escape(after)}", re.IGNORECASE)


def columns_in(titles: Sequence[str]) -> ListColumns | None:
    """Return the columns of a row of titles; None if it is not the header of a checklist.

    It may be in any language: the order's own may have changed since.
    """
    at = {_plain(title): column for column, title in enumerate(titles)}
    for language in map(Language, known()):
        seal = next(filter(None, map(_seal_title(language).fullmatch, at)), None)
        item, right, change = map(_plain, _titles(language))
        if seal and {item, right, change} <= at.keys():
            pack = seal[1].upper()
            return ListColumns(at[item], at[right], at[change], at[seal[0]], pack, at, language)
    return None


def pack_named_in(titles: Sequence[str]) -> tuple[str, int] | None:
    """Return the pack that a row of titles names among others, and the column; None without one.

    More words may stand there than were sent.
    """
    for language in map(Language, known()):
        for column, title in enumerate(titles):
            if seal := _seal_title(language).search(_plain(title)):
                return seal[1].upper(), column
    return None


def is_your_name(label: str) -> bool:
    """Whether a cell is the one beside that for the name of whoever filled the list in."""
    return any(_plain(label) == _plain(words.your_name(Language(tag))) for tag in known())


def _plain(title: str) -> str:
    """Return a title without case, and with plain blanks: not all programs keep hard ones."""
    return " ".join(title.split()).casefold()


def write_checklist(pack: Pack) -> bytes:
    """Return the workbook as the bytes of an .xlsx, the same for the same pack."""
    language = pack.language
    fields = list(dict.fromkeys(t.field for c in pack.cards for t in c.texts if t.field))
    book, sheet = new_book(words.please_check(language), language)
    say(sheet["A1"], visible(pack.title))
    sheet["A1"].font = font(bold=True, size=16)
    say(sheet["A2"], words.read_the_list(language))
    sheet["A2"].font = font(color=SOFT)
    say(sheet["A3"], words.your_name(language))
    sheet["A3"].font = font()
    sheet["B3"].font = font()
    sheet["B3"].fill = PatternFill("solid", start_color=FILL_IN)
    sender = "  ·  ".join(filter(None, (pack.sender.name, *pack.sender.reach)))
    say(sheet["A4"], visible(sender))
    sheet["A4"].font = font(color=SOFT)
    item_title, *to_fill_in = _titles(language)
    told = _told(pack)
    titles = [
        item_title, *(title_of(language, field) for field in fields), words.side(language),
        *told, *to_fill_in, words.seal_of_pack(language, pack.id),
    ]  # fmt: skip
    thin = Side(style="thin", color="D8D4CA")
    for column, title in enumerate(titles, start=1):
        cell = sheet.cell(_HEADER_ROW, column)
        say(cell, title)
        cell.font = font(bold=True)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        cell.fill = PatternFill("solid", start_color=PAPER)
        cell.border = Border(bottom=thin)
    about_side = words.side(language), words.held_by(language)
    row = _HEADER_ROW
    for at, card in enumerate(pack.cards):
        texts = {text.field: text.text for text in card.texts}
        side = ", ".join(value for label, value in card.details if label in about_side)
        for item, seal in card.seals.items():
            row += 1
            sheet.row_dimensions[row].height = _ROW
            values = [
                item, *(texts.get(field, "") for field in fields), side,
                *(column[at] for column in told.values()), "", "", seal,
            ]  # fmt: skip
            for column, value in enumerate(values, start=1):
                cell = sheet.cell(row, column)
                if isinstance(value, str):
                    say(cell, value)
                    cell.number_format = "@"
                else:
                    cell.value = value
                cell.alignment = Alignment(vertical="center", wrap_text=True)
                cell.font = font()
                cell.border = Border(bottom=thin)
                if titles[column - 1] in to_fill_in:
                    cell.fill = PatternFill("solid", start_color=FILL_IN)
                elif column == len(titles):
                    cell.font = font(color=SOFT, size=9)
                elif 1 < column <= 1 + len(fields):
                    cell.font = font(size=14)
    widths = [11, *(34 for _ in fields), 30, *(40 for _ in told), 10, 42, 24]
    for column, width in enumerate(widths, start=1):
        sheet.column_dimensions[get_column_letter(column)].width = width
    ticked = DataValidation(
        type="list", formula1=f'"{words.yes(language)}"', allow_blank=True, showErrorMessage=False
    )
    right = get_column_letter(len(titles) - 2)
    ticked.add(f"{right}{_HEADER_ROW + 1}:{right}{max(row, _HEADER_ROW + 1)}")
    sheet.add_data_validation(ticked)
    sheet.freeze_panes = f"B{_HEADER_ROW + 1}"
    sheet.print_title_rows = f"{_HEADER_ROW}:{_HEADER_ROW}"
    print_as_wide_as_the_page(sheet)
    return dated(book)


def _told(pack: Pack) -> dict[str, list[str]]:
    """Return by title the columns that only some packs have, with a cell for each card.

    They tell what is engraved otherwise than it is written, and what people have said.
    """
    language = pack.language
    engraved = [
        " / ".join(line for text in card.texts for line in text.engraved) for card in pack.cards
    ]
    asked = [" ".join(card.asked(language)) for card in pack.cards]
    found = {words.engraved_column(language): engraved, words.question_column(language): asked}
    return {title: cells for title, cells in found.items() if any(cells)}
