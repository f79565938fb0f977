"""Workbooks that go to the client: their look, their texts, the same bytes for the same sheet."""

from __future__ import annotations

import datetime as dt
import io
import zipfile

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.styles import Font
from openpyxl.worksheet.worksheet import Worksheet

from mailmerge.files import is_like_formula
from mailmerge.proofs.pack.languages import Language

PAPER, FILL_IN, SOFT, INK = "F4F1EA", "FFF9DB", "6B6B70", "222428"
_LONG_AGO = dt.datetime(2000, 1, 1)


def new_book(title: str, language: Language) -> tuple[Workbook, Worksheet]:
    """Return a workbook that says nothing of who made it and when, and its one sheet."""
    book = Workbook()
    book.properties.creator = book.properties.lastModifiedBy = ""
    book.properties.created = book.properties.modified = _LONG_AGO
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = title
    sheet.sheet_view.rightToLeft = language.is_right_to_left
    return book, sheet


def print_as_wide_as_the_page(sheet: Worksheet) -> None:
    """Let a sheet be printed across, all its columns on one page."""
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    assert sheet.sheet_properties.pageSetUpPr is not None
    sheet.sheet_properties.pageSetUpPr.fitToPage = True


def font(size: float = 11, bold: bool = False, color: str = INK) -> Font:
    """Return the font of a cell."""
    return Font(name="Arial", size=size, bold=bold, color=color)


def say(cell: Cell, text: str) -> None:
    """Let a cell say a text, whatever it begins with: the sign of a formula is a letter of it."""
    cell.value = text
    cell.data_type = "s"
    if is_like_formula(text):
        cell.quotePrefix = True  # or whoever opens the cell and leaves it makes a formula of it


def dated(book: Workbook) -> bytes:
    """Save a workbook without the time of saving in its archive."""
    saved = io.BytesIO()
    book.save(saved)
    written = io.BytesIO()
    with zipfile.ZipFile(saved) as source, zipfile.ZipFile(written, "w") as target:
        for name in source.namelist():
            entry = zipfile.ZipInfo(name, _LONG_AGO.timetuple()[:6])
            entry.compress_type = zipfile.ZIP_DEFLATED
            data = source.read(name)
            if name == "docProps/core.xml":
                data = _without_saving_time(data)
            target.writestr(entry, data)
    return written.getvalue()


def _without_saving_time(core: bytes) -> bytes:
    start, end = core.find(b"<dcterms:modified"), core.find(b"</dcterms:modified>")
    return core[:start] + core[end + len(b"</dcterms:modified>") :] if start >= 0 else core
