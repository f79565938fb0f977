"""Lists as workbooks: .xlsx (ECMA-376) through openpyxl, .ods (OpenDocument) through calamine.

Both libraries stream or hold values only. What they do not tell in that mode (hidden rows, merged
cells, formulas whose result was never stored, what is struck out, comments) is taken from the
sheet's own XML beforehand, in one pass that keeps nothing but those few facts.
"""

from __future__ import annotations

import datetime as dt
import sys
import zipfile
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from functools import partial
from itertools import chain
from pathlib import Path
from typing import Any, TypeVar
from xml.etree import ElementTree
from xml.parsers import expat

from mailmerge.findings import InputError
from mailmerge.guests import ods_looks, words, xlsx_looks
from mailmerge.guests.looks import LEAST_HEIGHT, LEAST_WIDTH, WHITE, Painted, Seen, colours_by_row
from mailmerge.guests.ods_looks import TABLE as _TABLE
from mailmerge.guests.parts import name_of
from mailmerge.guests.tables import EMPTY, MAX_CELL, MAX_COLUMNS, Cell, Kind, Rgb, Row, Sheet, Table

MAX_UNPACKED = 600_000_000
"""Bytes that a workbook may unpack to. A million rows of six columns take about half of it."""

_MAX_ROWS = 1_048_576
"""Rows of a sheet; what spreadsheet programs hold."""

_MOST_ACROSS = 16_384
"""Columns of a sheet; what spreadsheet programs hold."""

_MOST_CELLS = 20_000_000
"""Filled cells of an OpenDocument spreadsheet, which its library holds all at once."""

_POINTS_WIDE = 6 * LEAST_WIDTH
"""Of a column that is as good as hidden; a digit of usual type is about 6 points wide."""

_DEEPEST = 200
"""Elements within each other in a part of a workbook; programs write some twenty."""

_MOST_OF = {
    "sheet": ("sheets", 256),
    "table": ("sheets", 256),
    "mergeCell": ("merged cells", 65_536),
    "si": ("shared texts", 1_000_000),
}
"""What people call some elements of a part, and how many there may be. Own judgement."""

MAX_COMMENT = 32_767
"""So many characters of a comment are kept: as many as a cell holds."""

_MOST_REPEATED = 1_000
"""Rows alike whose colours are looked at; what is repeated more often goes on to a sheet's end."""


Found = TypeVar("Found")


@dataclass
class Facts:
    """What a sheet's XML says beside the values; rows and columns count from 1 and 0."""

    hidden: set[int] = field(default_factory=set)
    no_value: set[tuple[int, int]] = field(default_factory=set)
    merged: dict[tuple[int, int], int] = field(default_factory=dict)
    """Top cell of a vertical merge: the last row that it covers."""
    values: dict[tuple[int, int], Cell] = field(default_factory=dict)
    """Cells whose value the library does not tell as it is."""
    seen: dict[tuple[int, int], Seen] = field(default_factory=dict)
    comments: dict[int, list[tuple[int, str]]] = field(default_factory=dict)

    def comment(self, row: int, column: int, text: str) -> None:
        """Keep a comment, unless it is blank."""
        if text := " ".join(text.split()):
            self.comments.setdefault(row, []).append((column, text[:MAX_COMMENT]))

    def columns_by_row(self) -> dict[int, list[int]]:
        """Return where cells are other than their value, or merged with those below."""
        found: dict[int, list[int]] = {}
        for row, column in chain(self.merged, self.no_value, self.values, self.seen):
            if column < MAX_COLUMNS:
                found.setdefault(row, []).append(column)
        return found


def open_workbook(path: Path) -> Table:
    """Open an .xlsx or .ods by what its archive holds.

    Raises
    ------
    InputError
        The workbook is damaged, encrypted, too large when unpacked, or no workbook.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            names = set(archive.namelist())
            unpacked = sum(info.file_size for info in archive.infolist())
            encrypted = any(info.flag_bits & 1 for info in archive.infolist())
            if unpacked > MAX_UNPACKED:
                raise InputError(words.unpacks_too_large(path, unpacked, MAX_UNPACKED))
            if "content.xml" in names:
                manifest = (
                    archive.read("META-INF/manifest.xml")
                    if ("META-INF/manifest.xml" in names)
                    else b""
                )
                encrypted = encrypted or b"encryption-data" in manifest
            if encrypted:
                raise InputError(words.protected(path))
            for name in names:
                if name.endswith(".xml"):
                    _check_part(path, archive, name)
            if "content.xml" in names:
                _check_repeats(path, archive)
    except InputError:
        raise
    except Exception:
        # zipfile has no common base for what a damaged archive makes it raise.
        raise InputError(words.damaged(path)) from None
    is_ods = "content.xml" in names
    if is_ods != (path.suffix.lower() == ".ods"):
        raise InputError(words.other_format(path, ".ods" if is_ods else ".xlsx"))
    if is_ods:
        return _open_ods(path)
    if any(name.startswith("xl/") for name in names):
        return _open_xlsx(path)
    raise InputError(words.no_workbook(path))


def _check_part(path: Path, archive: zipfile.ZipFile, name: str) -> None:
    """Refuse a part that no program writes, before any library holds it.

    It has a text that no cell can hold, or is nested too deep, or has too many of something.
    """
    run, shape = 0, _Shape(path, name)
    with archive.open(name) as file:
        while piece := file.read(1 << 18):
            first, *others = map(len, piece.split(b"<"))
            if max(run + first, *others, 0) > MAX_CELL:
                raise InputError(words.text_too_long(path, name, MAX_CELL))
            run = others[-1] if others else run + first
            shape.take_in(piece)


class _Shape:
    """How deep a part is nested, and how many there are of what costs most.

    Where it is no XML, whoever reads it says so.
    """

    def __init__(self, path: Path, name: str) -> None:
        self._path, self._name = path, name
        self._depth, self._count = 0, dict.fromkeys(_MOST_OF, 0)
        self._parser: expat.XMLParserType | None = expat.ParserCreate()
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end

    def take_in(self, piece: bytes) -> None:
        """Take in the next piece of the part.

        Raises
        ------
        InputError
            It is nested too deep, or there are too many of something.
        """
        if self._parser is not None:
            try:
                self._parser.Parse(piece)
            except expat.ExpatError:
                self._parser = None

    def _start(self, tag: str, _: object) -> None:
        self._depth += 1
        if self._depth > _DEEPEST:
            raise InputError(words.nested_too_deep(self._path, self._name, _DEEPEST))
        kind = tag.rpartition(":")[2]
        if kind in self._count:
            self._count[kind] += 1
            what, most = _MOST_OF[kind]
            if self._count[kind] > most:
                raise InputError(words.too_many(self._path, what, most))

    def _end(self, _: object) -> None:
        self._depth -= 1


def _check_repeats(path: Path, archive: zipfile.ZipFile) -> None:
    """Refuse an OpenDocument spreadsheet that says in a few letters that it holds millions.

    Rows and cells that hold nothing are repeated to the end of the sheet, which is usual.
    """
    rows, cells, blanks = 1, 0, 0

    def start(name: str, attributes: Mapping[str, str]) -> None:
        nonlocal rows, cells, blanks
        if name == f"{_TABLE[1:-1]} table-row":
            rows = _often("rows", attributes, _MAX_ROWS)
        elif name == f"{_TABLE[1:-1]} table-cell":
            across = _often("columns", attributes, _MOST_ACROSS)
            if any(key.endswith(" value-type") for key in attributes):
                cells += rows * across
        elif name.endswith(" s"):
            blanks += int(attributes.get(name[:-1] + "c", 1))
        if cells > _MOST_CELLS:
            raise InputError(words.repeated_too_often(path, "cells", cells, _MOST_CELLS))
        if blanks > MAX_CELL:
            raise InputError(words.repeated_too_often(path, "blanks", blanks, MAX_CELL))

    def _often(what: str, attributes: Mapping[str, str], most: int) -> int:
        times = int(attributes.get(f"{_TABLE[1:-1]} number-{what}-repeated", 1))
        if times > most:
            raise InputError(words.repeated_too_often(path, what, times, most))
        return times

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = start
    with archive.open("content.xml") as file:
        parser.ParseFile(file)


def _guarded(path: Path, rows: Callable[[Path, str], Iterator[Row]], name: str) -> Iterator[Row]:
    """Pass rows on; whatever the libraries raise on a damaged file becomes one clear error."""
    try:
        yield from rows(path, name)
    except InputError:
        raise
    except Exception:
        # openpyxl and zipfile have no common base for what a damaged file makes them raise.
        raise InputError(words.damaged(path)) from None


def _open_xlsx(path: Path) -> Table:
    found = _read_by_openpyxl(path, _sheets_in)
    # openpyxl offers no public way from a sheet to its part of the archive.
    parts = {sheet.title: sheet._worksheet_path for sheet in found}
    visible = {sheet.title for sheet in found if sheet.sheet_state == "visible"}
    sheets = {
        name: Sheet(
            name,
            partial(_guarded, path, _xlsx_rows, part),
            _xlsx_hidden(path, part),
            ruled_columns=partial(_xlsx_ruled, path, part),
            grounds=partial(_xlsx_grounds, path, part),
            colours=partial(_xlsx_colours, path, part),
        )
        for name, part in parts.items()
    }
    return _table(path, sheets, visible)


def _table(path: Path, sheets: Mapping[str, Sheet], visible: Container[str]) -> Table:
    return Table(
        path,
        tuple(sheet for name, sheet in sheets.items() if name in visible),
        hidden_sheets=tuple(sheet for name, sheet in sheets.items() if name not in visible),
        drawn=partial(_drawn, path),
    )


def _drawn(path: Path) -> tuple[str, ...]:
    looks = ods_looks if path.suffix.lower() == ".ods" else xlsx_looks
    return _out_of_archive(path, lambda archive: tuple(looks.drawn_in(archive)))


def _out_of_archive(path: Path, take: Callable[[zipfile.ZipFile], Found]) -> Found:
    """Take something out of a workbook's archive; what is damaged becomes one clear error."""
    try:
        with zipfile.ZipFile(path) as archive:
            return take(archive)
    except InputError:
        raise
    except Exception:
        # zipfile, ElementTree and openpyxl have no common base for what damage makes them raise.
        raise InputError(words.damaged(path)) from None


def _xlsx_grounds(path: Path, part: str) -> dict[tuple[int, int], Rgb]:
    """Return the cells of a sheet that are coloured, and how."""
    return _out_of_archive(
        path,
        lambda archive: {
            _place(place): look.ground
            for place, look, _ in xlsx_looks.painted_in(archive, part)
            if look.ground is not None and look.ground != WHITE
        },
    )


def _xlsx_ruled(path: Path, part: str) -> frozenset[int]:
    """Return the columns of a sheet whose texts rules strike or colour."""
    return _out_of_archive(
        path, lambda archive: xlsx_looks.ruled_columns(archive, part, MAX_COLUMNS)
    )


def _xlsx_colours(path: Path, part: str) -> list[tuple[int, str]]:
    """Return the rows of a sheet, each with the colours of its filled cells."""

    def rows(archive: zipfile.ZipFile) -> Iterator[tuple[int, str]]:
        for place, look, is_filled in xlsx_looks.painted_in(archive, part):
            if is_filled:
                yield _place(place)[0], look.told

    return _out_of_archive(path, lambda archive: colours_by_row(rows(archive)))


def _xlsx_hidden(path: Path, part: str) -> frozenset[int]:
    """Return the hidden columns of a sheet; they stand before its rows."""
    hidden: set[int] = set()
    try:
        with zipfile.ZipFile(path) as archive, archive.open(part) as file:
            for _, element in ElementTree.iterparse(file, events=("start",)):
                tag = name_of(element)
                if tag == "sheetData":
                    break
                is_narrow = float(element.get("width", LEAST_WIDTH)) < LEAST_WIDTH
                if tag == "col" and (is_narrow or element.get("hidden") in ("1", "true")):
                    first, last = int(element.get("min", 1)), int(element.get("max", 1))
                    hidden.update(range(first - 1, min(last, MAX_COLUMNS)))
    except Exception:
        # zipfile and ElementTree have no common base for what a damaged file makes them raise.
        raise InputError(words.damaged(path)) from None
    return frozenset(hidden)


def _read_by_openpyxl(path: Path, read: Callable[[Path], Found]) -> Found:
    import warnings

    _import_openpyxl()
    # It warns of extensions and odd styles, while loading and while rows stream, that do not
    # matter for reading values; a date out of range comes as an error value, which is a finding.
    warnings.filterwarnings("ignore", category=UserWarning, module="openpyxl")
    try:
        return read(path)
    except Exception:
        raise InputError(words.damaged(path)) from None


def _import_openpyxl() -> None:
    """Import openpyxl without what it only looks for so as to write numbers and pictures with it.

    The process that reads lists has no other use for it, and it takes as long as all the rest.
    """
    spared = [name for name in ("numpy", "PIL") if name not in sys.modules]
    sys.modules |= dict.fromkeys(spared)  # type: ignore[arg-type]
    try:
        import openpyxl  # noqa: F401
    finally:
        for name in spared:
            del sys.modules[name]


def _sheets_in(path: Path) -> list[Any]:
    """Return what sheets there are, without the texts and styles, which their rows will read."""
    from openpyxl.reader.excel import ExcelReader

    reader = ExcelReader(path, read_only=True)
    with closing(reader.archive):
        reader.read_manifest()
        reader.read_workbook()
        reader.read_worksheets()
    return list(reader.wb.worksheets)


def _sheet_of(part: str, path: Path) -> Any:
    """Return the one sheet that a part holds: a workbook of many would be read as often."""
    from openpyxl.reader.excel import ExcelReader
    from openpyxl.styles.stylesheet import apply_stylesheet
    from openpyxl.worksheet._read_only import ReadOnlyWorksheet

    reader = ExcelReader(path, read_only=True, data_only=True)
    reader.read_manifest()
    reader.read_strings()
    reader.read_workbook()
    apply_stylesheet(reader.archive, reader.wb)
    return ReadOnlyWorksheet(reader.wb, part, part, reader.shared_strings)


def _xlsx_rows(path: Path, part: str) -> Iterator[Row]:
    sheet = _read_by_openpyxl(path, partial(_sheet_of, part))
    with closing(sheet.parent):
        facts = _xlsx_facts(path, part)
        sheet.reset_dimensions()  # writers other than spreadsheet programs state wrong ones
        yield from _with_facts(_without_gaps(sheet.iter_rows(max_col=MAX_COLUMNS)), facts)


def _without_gaps(rows: Iterable[Sequence[Any]]) -> Iterator[tuple[Cell, ...]]:
    """Yield the cells of each row; of those that the file leaves out none is looked at.

    Programs write a cell into a sheet's last row, and openpyxl fills the million above it, each
    with the same blank row.
    """
    gap: Sequence[Any] | None = None
    for cells in rows:
        if cells is gap:
            yield ()
            continue
        found = _xlsx_row(cells)
        gap = None if found else cells
        yield found


def _xlsx_row(cells: Sequence[Any]) -> tuple[Cell, ...]:
    """Return the cells of a row up to its last filled one; openpyxl adds blank ones behind it."""
    width = len(cells)
    while width and cells[width - 1].value is None:
        width -= 1
    return tuple(_xlsx_cell(cell.value, cell.data_type) for cell in cells[:width])


def _xlsx_facts(path: Path, part: str) -> Facts:
    from openpyxl.utils.cell import range_boundaries

    facts = Facts()
    row, usual_height = 0, LEAST_HEIGHT
    sheet_data: ElementTree.Element | None = None
    with zipfile.ZipFile(path) as archive, archive.open(part) as file:
        looks = xlsx_looks.looks_of(archive)
        for place, text in xlsx_looks.comments_of(archive, part):
            facts.comment(*_place(place), text)
        for event, element in ElementTree.iterparse(file, events=("start", "end")):
            tag = name_of(element)
            if event == "start":
                if tag == "sheetData":
                    sheet_data = element
                elif tag == "row":
                    row = int(element.get("r", row + 1))
                    _within_sheet(path, row)
                    is_low = float(element.get("ht", usual_height)) < LEAST_HEIGHT
                    if is_low or element.get("hidden") in ("1", "true"):
                        facts.hidden.add(row)
                elif tag == "sheetFormatPr":
                    usual_height = float(element.get("defaultRowHeight", LEAST_HEIGHT))
                    usual_height *= element.get("zeroHeight") not in ("1", "true")
            elif tag == "c":
                if _has_no_value(element):
                    facts.no_value.add(_place(element.get("r", "A1")))
                elif seen := looks.of_cell(element):
                    facts.seen[_place(element.get("r", "A1"))] = seen
            elif tag == "row" and sheet_data is not None:
                sheet_data.clear()  # forget the row, so that memory does not grow with the list
            elif tag == "mergeCell":
                left, top, _, bottom = range_boundaries(element.get("ref", "A1"))
                if bottom > top:
                    facts.merged[top, left - 1] = bottom
    return facts


def _place(name: str) -> tuple[int, int]:
    """Return row and column, from 1 and from 0, of a cell's name such as B4."""
    from openpyxl.utils.cell import column_index_from_string, coordinate_from_string

    letters, row = coordinate_from_string(name)
    return row, column_index_from_string(letters) - 1


def _has_no_value(cell: ElementTree.Element) -> bool:
    """Whether a cell has a formula without a stored result."""
    space = cell.tag[:-1]
    return cell.find(f"{space}f") is not None and not (
        cell.findtext(f"{space}v") or cell.find(f"{space}is") is not None
    )


def _within_sheet(path: Path, rows: int) -> None:
    if rows > _MAX_ROWS:
        raise InputError(words.too_many_rows(path, rows, _MAX_ROWS))


def _xlsx_cell(value: object, data_type: str) -> Cell:
    if value is None:
        return EMPTY
    if data_type == "e":
        return Cell(str(value), Kind.ERROR)
    return _cell(value)


def _cell(value: object) -> Cell:
    match value:
        case None | "":
            return EMPTY
        case str():
            return Cell(value)
        case bool():
            return Cell("TRUE" if value else "FALSE", Kind.TRUTH)
        case int() | float():
            whole = isinstance(value, float) and value.is_integer()
            return Cell(str(int(value)) if whole else str(value), Kind.NUMBER)
        case dt.datetime():
            midnight = value.time() == dt.time(0)
            return Cell(str(value.date()) if midnight else str(value), Kind.DATE)
        case dt.date() | dt.time() | dt.timedelta():
            return Cell(str(value), Kind.DATE)
        case _:
            return Cell(str(value))


def _with_facts(rows: Iterable[tuple[Cell, ...]], facts: Facts) -> Iterator[Row]:
    """Yield the rows numbered, the hidden ones marked, and merged cells filled down.

    Rows of which nothing is said are left out: there may be a million of them.
    """
    open_merges: dict[int, tuple[int, Cell]] = {}
    touched = facts.columns_by_row()
    number = 0
    for number, cells in enumerate(rows, start=1):
        if not cells and number not in touched and number not in facts.comments:
            continue
        if columns := {*touched.get(number, ()), *open_merges}:
            filled = [*cells, *[EMPTY] * (max(columns) + 1 - len(cells))]
            for column in sorted(columns):
                if (number, column) in facts.no_value:
                    filled[column] = Cell("", Kind.NO_VALUE)
                filled[column] = facts.values.get((number, column), filled[column])
                if seen := facts.seen.get((number, column)):
                    filled[column] = seen.on(filled[column])
                if column in open_merges:
                    last, above = open_merges[column]
                    if number <= last:
                        filled[column] = above
                    else:
                        del open_merges[column]
                if (number, column) in facts.merged:
                    open_merges[column] = (
                        facts.merged[number, column],
                        filled[column]._replace(merged=True),
                    )
            cells = tuple(filled)
        yield Row(number, cells, number in facts.hidden, tuple(facts.comments.get(number, ())))
    for below in sorted(row for row in facts.comments if row > number):
        yield Row(below, (), below in facts.hidden, tuple(facts.comments[below]))


def _open_ods(path: Path) -> Table:
    import python_calamine

    try:
        book = python_calamine.CalamineWorkbook.from_path(str(path))
        visible = {
            sheet.name: sheet.visible == python_calamine.SheetVisibleEnum.Visible
            for sheet in book.sheets_metadata
        }
    except Exception:
        raise InputError(words.damaged(path)) from None
    sheets = {
        name: Sheet(
            name,
            partial(_guarded, path, _ods_rows, name),
            _ods_hidden(path, name),
            grounds=partial(_ods_grounds, path, name),
            colours=partial(_ods_colours, path, name),
        )
        for name in visible
    }
    return _table(path, sheets, [name for name, is_visible in visible.items() if is_visible])


def _ods_hidden(path: Path, name: str) -> frozenset[int]:
    """Return the hidden columns of a table; they stand before its rows."""
    hidden: set[int] = set()
    inside, column = False, 0
    with zipfile.ZipFile(path) as archive, archive.open("content.xml") as file:
        looks = ods_looks.looks_of(archive)
        for _, element in ElementTree.iterparse(file, events=("start",)):
            if element.tag == f"{_TABLE}table":
                inside = element.get(f"{_TABLE}name") == name
            elif inside and element.tag == f"{_TABLE}table-row":
                break
            elif inside and element.tag == f"{_TABLE}table-column":
                following = column + _repeats(element, "columns")
                style = element.get(f"{_TABLE}style-name", "")
                if _is_hidden(element) or looks.is_narrow(style, "column-width", _POINTS_WIDE):
                    hidden.update(range(column, min(following, MAX_COLUMNS)))
                column = following
    return frozenset(hidden)


def _ods_grounds(path: Path, name: str) -> dict[tuple[int, int], Rgb]:
    """Return the cells of one table that are coloured, and how."""
    painted = _out_of_archive(path, lambda archive: list(_ods_painted(archive, name)))
    return {
        place: look.ground
        for place, look, _ in painted
        if look.ground is not None and look.ground != WHITE
    }


def _ods_colours(path: Path, name: str) -> list[tuple[int, str]]:
    """Return the rows of one table, each with the colours of its filled cells."""
    painted = _out_of_archive(path, lambda archive: list(_ods_painted(archive, name)))
    return colours_by_row((row, look.told) for (row, _), look, is_filled in painted if is_filled)


def _ods_painted(
    archive: zipfile.ZipFile, name: str
) -> Iterator[tuple[tuple[int, int], Painted, bool]]:
    """Yield the cells of one table, each with its colours and whether it holds anything."""
    looks = ods_looks.looks_of(archive)
    root = ElementTree.fromstring(archive.read("content.xml"))
    for table in root.iter(f"{_TABLE}table"):
        if table.get(f"{_TABLE}name") != name:
            continue
        styles: list[str] = []
        for column in table.iter(f"{_TABLE}table-column"):
            style = column.get(f"{_TABLE}default-cell-style-name", "")
            styles += [style] * min(_repeats(column, "columns"), MAX_COLUMNS - len(styles))
        row = 0
        for element in table.iter(f"{_TABLE}table-row"):
            down = _repeats(element, "rows")
            if down <= _MOST_REPEATED:
                for at, look, is_filled in _ods_painted_row(element, styles, looks):
                    yield from (((row + n, at), look, is_filled) for n in range(1, down + 1))
            row += down


def _ods_painted_row(
    element: ElementTree.Element, styles: Sequence[str], looks: ods_looks.Looks
) -> Iterator[tuple[int, Painted, bool]]:
    """Yield the columns of a row, each with its colours and whether it holds anything."""
    of_row = element.get(f"{_TABLE}default-cell-style-name")
    at = 0
    for cell in element:
        across = _repeats(cell, "columns")
        is_filled = bool("".join(cell.itertext()).strip())
        for column in range(at, min(at + across, MAX_COLUMNS)):
            usual = styles[column] if column < len(styles) else ""
            yield column, looks.painted(cell, of_row or usual), is_filled
        at += across


def _repeats(element: ElementTree.Element, what: str) -> int:
    return int(element.get(f"{_TABLE}number-{what}-repeated", 1))


def _is_hidden(element: ElementTree.Element) -> bool:
    return element.get(f"{_TABLE}visibility") in ("collapse", "filter")


def _ods_rows(path: Path, name: str) -> Iterator[Row]:
    import python_calamine

    facts = _ods_facts(path, name)
    book = python_calamine.CalamineWorkbook.from_path(str(path))
    sheet = book.get_sheet_by_name(name)
    rows = sheet.to_python(skip_empty_area=False)
    yield from _with_facts(map(_ods_cells, rows), facts)


def _ods_cells(values: Sequence[object]) -> tuple[Cell, ...]:
    """Return the cells of a row; none of a blank one, of which there may be a million."""
    if values.count("") == len(values):
        return ()
    return tuple(map(_cell, values[:MAX_COLUMNS]))


def _ods_facts(path: Path, name: str) -> Facts:
    """Read what one table of an OpenDocument spreadsheet says beside its values."""
    facts = Facts()
    inside, row, styles = False, 0, [""]
    with zipfile.ZipFile(path) as archive, archive.open("content.xml") as file:
        looks = ods_looks.looks_of(archive)
        for event, element in ElementTree.iterparse(file, events=("start", "end")):
            if element.tag == f"{_TABLE}table" and event == "start":
                inside, row, styles = element.get(f"{_TABLE}name") == name, 0, []
            elif inside and element.tag == f"{_TABLE}table-column" and event == "end":
                style = element.get(f"{_TABLE}default-cell-style-name", "")
                styles += [style] * min(_repeats(element, "columns"), MAX_COLUMNS - len(styles))
            elif element.tag == f"{_TABLE}table-row" and event == "end":
                if inside:
                    row = _ods_row(path, element, row, styles, looks, facts)
                element.clear()
    return facts


def _ods_row(
    path: Path,
    element: ElementTree.Element,
    row: int,
    styles: list[str],
    looks: ods_looks.Looks,
    facts: Facts,
) -> int:
    """Take in the facts of an element that stands below ``row`` rows; return how many there are."""
    last = row + _repeats(element, "rows")
    if "".join(element.itertext()).strip():
        _within_sheet(path, last)
    style = element.get(f"{_TABLE}style-name", "")
    if _is_hidden(element) or looks.is_narrow(style, "row-height", LEAST_HEIGHT):
        facts.hidden.update(range(row + 1, min(last, _MAX_ROWS) + 1))
    column = 0
    for cell in element:
        across = _repeats(cell, "columns")
        span = int(cell.get(f"{_TABLE}number-rows-spanned", 1))
        if span > 1:
            facts.merged[row + 1, column] = row + span
        if across > MAX_COLUMNS and "".join(cell.itertext()).strip():
            raise InputError(words.cell_repeated(path, row + 1, across, MAX_COLUMNS))
        if column < MAX_COLUMNS and len(cell):
            facts.comment(row + 1, column, ods_looks.annotation_on(cell))
            if (value := _ods_value(cell)) is not None:
                for at in range(row + 1, last + 1):
                    facts.values |= {(at, column + n): value for n in range(across)}
            usual = styles[column] if column < len(styles) else ""
            if seen := looks.of_cell(cell, element.get(f"{_TABLE}default-cell-style-name", usual)):
                for at in range(row + 1, last + 1):
                    facts.seen |= {(at, column + n): seen for n in range(across)}
        column += across
    return last


def _ods_value(cell: ElementTree.Element) -> Cell | None:
    """Return a truth or error value, which calamine gives as a number or as nothing."""
    if cell.get(f"{ods_looks.OFFICE}value-type") == "boolean":
        is_true = cell.get(f"{ods_looks.OFFICE}boolean-value") == "true"
        return Cell("TRUE" if is_true else "FALSE", Kind.TRUTH)
    if any(value == "error" and name.endswith("}value-type") for name, value in cell.items()):
        return Cell("".join(cell.itertext()).strip() or "#N/A", Kind.ERROR)
    return None
