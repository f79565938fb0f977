"""Lists: workbooks whose parts are changed, and texts in whatever encoding."""

from __future__ import annotations

import io
import zipfile
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import hostile
from hypothesis import strategies as st

from mailmerge.guests.ods_looks import TABLE
from mailmerge.guests.opening import open_table
from mailmerge.guests.reading import open_list

from . import packed
from .rule import Reader

_VALUES = (
    "inlineStr", "b", "d", "e", "str", "n", "date", "time", "percentage", "float", "boolean",
    "P1Y", "PT9999999999H", "2026-13-45", "1000000", "1048576", "16384", "2000000000", "visible",
    "collapse", "hidden", "veryHidden", "name", "Name", "rId1", "rId99", "xl/worksheets/sheet1.xml",
    "$A$1:$XFD$1048576", "A1 B2", "0.5.5", "[$-409]d", "sharedStrings.xml", "shared", "array",
    "TRUE", "FFFFFFFFF", "theme", "63", "-0",
)  # fmt: skip


@cache
def _workbook() -> dict[str, bytes]:
    """Return the parts of a small workbook with most that workbooks have."""
    from openpyxl import Workbook
    from openpyxl.cell.rich_text import CellRichText, TextBlock
    from openpyxl.cell.text import InlineFont
    from openpyxl.comments import Comment
    from openpyxl.formatting.rule import CellIsRule
    from openpyxl.styles import Font, PatternFill

    book = Workbook()
    sheet = book.active
    sheet.title = "Guests"
    rows = [
        ("Name", "Role", "Quantity", "Day"), ("Anna Berg", "Violin", 2, 46000.5),
        ("Bo Dahl", "=B2", True, "12/12/2026"), ("Carla Ek", "#N/A", "1.0", None),
    ]  # fmt: skip
    for row in rows:
        sheet.append(row)
    sheet["A5"] = CellRichText("Dag ", TextBlock(InlineFont(strike=True), "Falk"))
    sheet["D2"].number_format = "yyyy-mm-dd"
    sheet["A3"].font, sheet["A4"].fill = Font(strike=True), PatternFill("solid", "FFFF00")
    sheet["B2"].comment = Comment("second violin", "Ina")
    sheet.merge_cells("C5:D5")
    sheet.row_dimensions[4].hidden = sheet.column_dimensions["D"].hidden = True
    sheet.conditional_formatting.add("A2:A9", CellIsRule("equal", ['"x"'], font=Font(strike=True)))
    sheet["A2"].hyperlink = "https://example.org"
    sheet.auto_filter.ref = "A1:D5"
    other = book.create_sheet("Old")
    other.append(("Name",))
    other.append(("Eva",))
    other.sheet_state = "hidden"
    written = io.BytesIO()
    book.save(written)
    return packed.parts_of(written.getvalue())


@cache
def _spreadsheet() -> dict[str, bytes]:
    """Return the parts of a small OpenDocument spreadsheet."""
    rows = [
        hostile.ods_row("Name", "Role", "Quantity"),
        hostile.ods_row("Anna Berg", "Violin", more=(
            '<table:table-cell office:value-type="float" office:value="2"><text:p>2</text:p>'
            '<office:annotation><text:p>new</text:p></office:annotation></table:table-cell>'
        )),
        hostile.ods_row("Bo<text:s text:c='2'/>Dahl", more=hostile.blank_cells(3)),
        hostile.ods_row("Carla<text:tab/>Ek", more=(
            '<table:covered-table-cell/><table:table-cell office:value-type="date" '
            'office:date-value="2026-12-12" table:number-columns-spanned="2"/>'
        ), attributes='table:number-rows-repeated="2" table:visibility="collapse"'),
        '<table:table-row-group><table:table-header-rows>' + hostile.ods_row("Dag Falk", "Harp")
        + "</table:table-header-rows></table:table-row-group>",
        hostile.blank_rows(1_000),
    ]  # fmt: skip
    content = hostile._ODS.format(rows="".join(rows))
    mime = b"application/vnd.oasis.opendocument.spreadsheet"
    return {
        "mimetype": mime,
        "META-INF/manifest.xml": hostile._ODS_MANIFEST.encode(),
        "content.xml": content.encode(),
        "settings.xml": b"<x/>",
    }


_CELLS = (
    "Name", "Role", "Quantity", "Anna Berg", "Zo\u00eb", "", "  ", '"', '""', '"a,b"', "a\nb", "\0",
    "\u202eanna", "2", "1e5", "-3", "=1+1", "\ufeff", "\ud7ff", "x" * 400, "first name", "Total",
    "\t", "'", "\u0000name", "M\u00c3\u00bcller", "\u05d3\u05d5\u05d3", "2 x Anna", "12/11/10",
)  # fmt: skip
_ENCODINGS = (
    "utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252", "cp1251",
    "cp1255", "iso8859-15", "mac-roman", "shift_jis", "utf-7",
)  # fmt: skip

_texts = st.fixed_dictionaries({
    "rows": st.lists(
        st.lists(st.one_of(st.sampled_from(_CELLS), st.text(max_size=12)), max_size=5), max_size=7
    ),
    "between": st.sampled_from((",", ";", "\t", "|", ", ", "  ", "")),
    "end": st.sampled_from(("\n", "\r\n", "\r", "\n\n", "\u2028", "")),
    "encoding": st.sampled_from(_ENCODINGS),
    "ending": st.sampled_from((".csv", ".tsv", ".txt", ".CSV", ".xlsx", ".ods", ".xls", "")),
    "flipped": st.lists(st.tuples(st.integers(0, 400), st.integers(0, 255)), max_size=2),
})  # fmt: skip

_books = st.fixed_dictionaries(
    {"book": st.sampled_from((".xlsx", ".ods")), "how": packed.cases(_VALUES)}
)


def write(case: dict[str, Any], folder: Path) -> Path:
    """Write a list."""
    if "book" in case:
        path = folder / f"list{case['book']}"
        base = _workbook() if case["book"] == ".xlsx" else _spreadsheet()
        path.write_bytes(packed.built(case["how"], base))
        return path
    path = folder / f"list{case['ending']}"
    text = case["end"].join(case["between"].join(row) for row in case["rows"])
    data = bytearray(text.encode(case["encoding"], "replace"))
    for at, value in case["flipped"] if data else ():
        data[at % len(data)] = value
    path.write_bytes(data)
    return path


def read(path: Path) -> None:
    """Read a list as a merge and the page for a new order do."""
    table = open_table(path)
    table.drawn()
    for sheet in (*table.sheets, *table.hidden_sheets):
        sheet.ruled_columns()
        list(sheet.colours())
        sheet.grounds()
    if path.suffix == ".ods":
        _hold_to_a_sheet(path)
    guests = open_list(path, None, {})
    assert guests.survey().guests == len(list(guests.guests()))
    assert guests.unused is not None
    assert guests.ruled is not None
    assert guests.coloured is not None


_MOST = {"rows": 1_048_576, "columns": 16_384}
"""Of a sheet, as spreadsheet programs hold it."""


def _hold_to_a_sheet(path: Path) -> None:
    """See that a spreadsheet that was read repeats nothing beyond the end of a sheet."""
    with zipfile.ZipFile(path) as archive:
        content = archive.read("content.xml")
    for element in ElementTree.fromstring(content).iter():
        if element.tag in (f"{TABLE}table-row", f"{TABLE}table-cell"):
            for what, most in _MOST.items():
                assert int(element.get(f"{TABLE}number-{what}-repeated", 1)) <= most


READER = Reader("lists", st.one_of(_texts, _books, _books), write, read)
