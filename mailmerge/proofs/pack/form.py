"""The form for a guest list: a workbook for the client to fill in, that leaves nothing to ask.

It has the columns that the order's layout and blanks use, and no other; titles that the reader of
lists knows, with what they mean in brackets, which it leaves out; and examples that say they are.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from openpyxl import Workbook
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.styles import Alignment, Border, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.cards import NOBODY, Sender
from mailmerge.proofs.pack.languages import Language
from mailmerge.proofs.pack.workbook import (
    FILL_IN,
    INK,
    PAPER,
    SOFT,
    dated,
    font,
    new_book,
    print_as_wide_as_the_page,
    say,
)
from mailmerge.voice import visible

_ROWS = 200
"""So many rows are laid out to be filled in; more may follow."""
_LONGEST_CHOICES = 255
"""Of the choices of a cell, in a workbook (ECMA-376, part 1, 18.3.1.32: formulas of validation)."""
_CHOICES = "…"
"""The sheet of choices that are too many for a cell: its name means nothing in any language."""
_ROOM = {"hand": 20, "coat": 20, "blank": 30, "motif": 24}
"""Width of a column in characters, where it is not one for texts."""


@dataclass(frozen=True)
class Asked:
    """A column of the form."""

    field: str
    choices: tuple[str, ...] = ()
    """What may stand there; nothing, where anything may."""
    usual: str = ""
    """The choice that a blank cell stands for."""
    heading: str = ""
    """Of the order's own columns; ``""`` for one that the reader knows."""


@dataclass(frozen=True)
class ListForm:
    """A form for a guest list."""

    title: str
    asked: tuple[Asked, ...]
    by: dt.date | None
    """The day by which the list is needed."""
    language: Language
    sender: Sender = NOBODY


def write_form(form: ListForm) -> bytes:
    """Return the form as the bytes of an .xlsx, the same for the same form."""
    language = form.language
    book, sheet = new_book(words.guest_list(language), language)
    header = _say_what_it_is(sheet, form) + 2
    for column, asked in enumerate(form.asked, start=1):
        title = asked.heading or title_of(language, asked.field)
        _head(sheet, header, column, visible(title), _about(language, asked))
        _lay_out(sheet, header, column, asked, language)
        letter = get_column_letter(column)
        sheet.column_dimensions[letter].width = _ROOM.get(asked.field, 34)
    sheet.row_dimensions[header].height = 46
    for row in range(header + 1, sheet.max_row + 1):
        sheet.row_dimensions[row].height = 20
    sheet.freeze_panes = sheet.cell(header + 1, 1)
    sheet.print_title_rows = f"{header}:{header}"
    print_as_wide_as_the_page(sheet)
    return dated(book)


def _say_what_it_is(sheet: Worksheet, form: ListForm) -> int:
    """Write what stands above the table; return the last row of it."""
    by = words.wanted_by(form.language, form.by) if form.by else ""
    sender = "  ·  ".join(filter(None, (form.sender.name, *form.sender.reach)))
    texts = [*filter(None, (form.title, by, sender))]
    for row, text in enumerate(texts, start=1):
        cell = sheet.cell(row, 1)
        say(cell, visible(text))
        cell.font = font(16, bold=True) if row == 1 else font(color=INK if text == by else SOFT)
        cell.alignment = _along(form.language)
    return len(texts)


def title_of(language: Language, field: str) -> str:
    """Return what the form calls a field of the list."""
    labels: Mapping[str, str] = {
        "coat": words.colour(language),
        "blank": words.cup(language),
        "motif": words.motif(language),
    }
    return labels.get(field) or words.field_label(language, field)


def hands(language: Language) -> tuple[str, str]:
    """Return the choices for the hand, the usual one first."""
    return words.hand(language, "right"), words.hand(language, "left")


def _about(language: Language, asked: Asked) -> str:
    if asked.field == "hand":
        return words.which_hand(language)
    if asked.choices:
        usual = asked.usual
        return words.one_of(language, usual) if usual else words.which_motif(language)
    is_role = asked.field == "role"
    return words.goes_with_the_name(language) if is_role else words.as_on_the_cup(language)


def _examples(language: Language, asked: Asked) -> Sequence[str]:
    """Return what stands in the example rows: of choices the last one, once."""
    if asked.choices:
        return asked.choices[-1], "", ""
    return words.examples(language, asked.field)


def _along(language: Language) -> Alignment:
    """Return how texts begin where their language does, whatever script a name is in."""
    side = "right" if language.is_right_to_left else "left"
    return Alignment(horizontal=side, vertical="center")


def _head(sheet: Worksheet, row: int, column: int, title: str, about: str) -> None:
    """Write a title with what it means below it, in brackets: the reader leaves those out."""
    cell = sheet.cell(row, column)
    bold, soft = InlineFont(rFont="Arial", sz=11, b=True), InlineFont(rFont="Arial", sz=9)
    cell.value = CellRichText(TextBlock(bold, title), TextBlock(soft, f"\n({about})"))
    cell.alignment = Alignment(wrap_text=True, vertical="top")
    cell.fill = PatternFill("solid", start_color=PAPER)
    cell.border = Border(bottom=Side(style="thin", color="D8D4CA"))


def _lay_out(sheet: Worksheet, header: int, column: int, asked: Asked, language: Language) -> None:
    """Lay out the cells below a title: examples, then cells to fill in, all of them texts."""
    examples = _examples(language, asked)
    line = Border(bottom=Side(style="thin", color="E8E4DA"))
    for row in range(header + 1, header + 1 + len(examples) + _ROWS):
        cell = sheet.cell(row, column)
        cell.number_format = "@"
        cell.alignment = _along(language)
        cell.border = line
        if row <= header + len(examples):
            if text := examples[row - header - 1]:
                say(cell, text)
            cell.font = font(color=SOFT)
        else:
            cell.font = font(12)
            cell.fill = PatternFill("solid", start_color=FILL_IN)
    if formula := _offered(sheet, asked.choices):
        chosen = DataValidation(type="list", formula1=formula, allow_blank=True)
        letter = get_column_letter(column)
        chosen.add(f"{letter}{header + 1}:{letter}{header + len(examples) + _ROWS}")
        sheet.add_data_validation(chosen)


def _offered(sheet: Worksheet, choices: Sequence[str]) -> str:
    """Return the formula of what may be chosen: in itself, or where there is more in a sheet."""
    listed = ",".join(choices)
    if not choices:
        return ""
    if len(listed) <= _LONGEST_CHOICES and not any("," in each or '"' in each for each in choices):
        return f'"{listed}"'
    book = sheet.parent
    assert isinstance(book, Workbook)
    apart = book[_CHOICES] if _CHOICES in book.sheetnames else book.create_sheet(_CHOICES)
    column = apart.max_column + (apart["A1"].value is not None)
    for row, choice in enumerate(choices, start=1):
        say(apart.cell(row, column), visible(choice))
    letter = get_column_letter(column)
    return f"'{_CHOICES}'!${letter}$1:${letter}${len(choices)}"
