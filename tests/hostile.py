"""Files that are made to hang, to crash or to fill the memory; small, and written in a moment."""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Mapping
from itertools import chain, repeat
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

_ZEROS = b" " * 1_000_000

# Drawings


def _svg(inner: str) -> bytes:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100">{inner}</svg>'
    ).encode()


def mutual_use() -> bytes:
    """Return a drawing in which two groups of one id use each other."""
    return _svg(
        '<g id="a"><use href="#b"/></g><g id="a"><path d="M0 0h9v9z"/></g>'
        '<g id="b"><use href="#a"/></g><path d="M0 0h50v50h-50z"/>'
    )


def same_id_twice() -> bytes:
    """Return a drawing in which a group holds another of its id, which uses it."""
    return _svg(
        '<g id="a"><path d="M0 0h50v50h-50z"/><g id="a"><use href="#a"/><use href="#a"/></g></g>'
    )


def crossing_strokes(count: int) -> bytes:
    """Return a drawing of strokes of which each crosses many others."""
    lines = "".join(
        f"M{at * 97 % count * 100 / count:g} 0L{at * 61 % count * 100 / count:g} 100"
        for at in range(count)
    )
    return _svg(f'<path d="{lines}" stroke="black" fill="none" stroke-width=".3"/>')


def zigzag(points: int) -> bytes:
    """Return a drawing of one stroke back and forth."""
    corners = " ".join(f"{at * 37 % 100},{at * 53 % 101}" for at in range(points))
    return _svg(f'<polyline points="{corners}" stroke="black" fill="none" stroke-width=".3"/>')


def filled_zigzag(points: int) -> bytes:
    """Return a drawing of one shape that crosses itself everywhere."""
    corners = " ".join(f"{at * 37 % 100},{at * 53 % 101}" for at in range(points))
    return _svg(f'<polygon points="{corners}"/>')


def tiny_dashes() -> bytes:
    """Return a drawing with a stroke of very short dashes."""
    return _svg(
        '<path d="M0 50C30 0 70 100 100 50" stroke="black" fill="none" stroke-width="2" '
        'stroke-dasharray="0.001"/>'
    )


# Fonts


def _font(path: Path, glyphs: dict[str, object]) -> Path:
    """Write a font in which every letter is the glyph "A"."""
    names = [".notdef", *glyphs]
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap(dict.fromkeys((*range(65, 91), *range(97, 123)), "A"))
    builder.setupGlyf({".notdef": TTGlyphPen(None).glyph(), **glyphs})
    builder.setupHorizontalMetrics(dict.fromkeys(names, (600, 0)))
    builder.setupHorizontalHeader(ascent=900, descent=-200)
    builder.setupNameTable({"familyName": "Hostile", "styleName": "Regular"})
    builder.setupOS2(sCapHeight=700, sxHeight=500, sTypoAscender=900, version=4)
    builder.setupPost()
    builder.save(path)
    return path


def many_components(path: Path, count: int = 512) -> Path:
    """Write a font whose letters are made of one ring so many times, each a unit farther."""
    one = TTGlyphPen(None)
    for corners in (
        ((0, 0), (0, 700), (500, 700), (500, 0)), ((50, 50), (450, 50), (450, 650), (50, 650)),
    ):  # fmt: skip
        one.moveTo(corners[0])
        for corner in corners[1:]:
            one.lineTo(corner)
        one.closePath()
    ring = one.glyph()
    many = TTGlyphPen({"ring": ring})
    for at in range(count):
        many.addComponent("ring", (1, 0, 0, 1, at % 23, at % 29))
    return _font(path, {"ring": ring, "A": many.glyph()})


def long_contour(path: Path, points: int = 5_000) -> Path:
    """Write a font whose letters are one contour that crosses itself everywhere."""
    pen = TTGlyphPen(None)
    pen.moveTo((0, 0))
    for at in range(1, points):
        pen.lineTo((at * 379 % 997, at * 541 % 701))
    pen.closePath()
    return _font(path, {"A": pen.glyph()})


# Lists

_SHEET_XLSX = "xl/worksheets/sheet1.xml"


def _repacked(path: Path, parts: dict[str, Iterable[bytes]]) -> Path:
    """Write a workbook anew with other parts."""
    with zipfile.ZipFile(path) as old:
        kept = {name: [old.read(name)] for name in old.namelist()}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name, pieces in {**kept, **parts}.items():
            with new.open(name, "w", force_zip64=True) as file:
                for piece in pieces:
                    file.write(piece)
    return path


def three_guests(path: Path, more: Mapping[int, str | None] | None = None) -> Path:
    """Write a workbook of three guests, and names in other rows."""
    from openpyxl import Workbook

    book = Workbook()
    sheet = book.active
    for row in (("name", "role"), ("Anna", "Viola"), ("Ben", "Oboe"), ("Cleo", "Horn")):
        sheet.append(row)
    for number, name in (more or {}).items():
        sheet.cell(number, 1).value = name
        sheet.cell(number, 1).number_format = "0.00"
    book.save(path)
    return path


def far_cell(path: Path, text: str = "") -> Path:
    """Write a workbook of three guests with one cell in the last row there is."""
    return three_guests(path, {1_048_576: text or None})


def large_string(path: Path, size: int = 500_000_000) -> Path:
    """Write a workbook with a shared string of so many bytes."""
    far_cell(path)
    start = f'<sst xmlns="{_MAIN}"><si><t>'.encode()

    def pieces() -> Iterable[bytes]:
        yield start
        for _ in range(size // len(_ZEROS)):
            yield _ZEROS.replace(b" ", b"a")
        yield b"</t></si>" + b"<si><t>name</t></si>" * 9 + b"</sst>"

    return _repacked(path, {"xl/sharedStrings.xml": pieces()})


_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def _changed_part(path: Path, part: str, before: str, put: Iterable[bytes]) -> Path:
    """Write the workbook of three guests, with pieces put before some text of a part."""
    three_guests(path)
    with zipfile.ZipFile(path) as archive:
        start, found, end = archive.read(part).partition(before.encode())
    assert found
    return _repacked(path, {part: chain([start], put, [found + end])})


def nested_rows(path: Path, count: int = 300_000) -> Path:
    """Write a workbook whose rows stand within each other."""
    rows = (repeat(b"<row>", count), repeat(b"</row>", count))
    return _changed_part(path, _SHEET_XLSX, "</sheetData>", chain(*rows))


def merged_cells(path: Path, count: int) -> Path:
    """Write a workbook with so many merged cells, each of two rows."""
    merges = (f'<mergeCell ref="B{2 * at}:B{2 * at + 1}"/>'.encode() for at in range(1, count + 1))
    put = chain([b"</sheetData><mergeCells>"], merges, [b"</mergeCells><sheetData>"])
    return _changed_part(path, _SHEET_XLSX, "</sheetData>", put)


def many_sheets(path: Path, count: int) -> Path:
    """Write a workbook with so many sheets more, all of one part."""
    space = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    put = (
        f'<sheet xmlns:r="{space}" name="S{at}" sheetId="{at + 2}" r:id="rId1"/>'.encode()
        for at in range(count)
    )
    return _changed_part(path, "xl/workbook.xml", "</sheets>", put)


def shared_texts(path: Path, count: int) -> Path:
    """Write a workbook of so many shared texts of which nobody has any use."""
    texts = repeat(b"<si><t/></si>" * 1_000, count // 1_000)
    start = f'<sst xmlns="{_MAIN}">'.encode() + b"<si><t>name</t></si>" * 9
    three_guests(path)
    return _repacked(path, {"xl/sharedStrings.xml": chain([start], texts, [b"</sst>"])})


def lost_text(path: Path) -> Path:
    """Write a workbook with a cell that holds a shared text which there is not."""
    row = b'<row r="9"><c r="A9" t="s"><v>9999</v></c></row>'
    return _changed_part(path, _SHEET_XLSX, "</sheetData>", [row])


_ODS = (
    '<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0">'
    "<office:body><office:spreadsheet>"
    '<table:table table:name="Guests">{rows}</table:table>'
    "</office:spreadsheet></office:body></office:document-content>"
)
_ODS_MANIFEST = (
    '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">'
    '<manifest:file-entry manifest:full-path="/" '
    'manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/></manifest:manifest>'
)


def ods_row(*texts: str, more: str = "", attributes: str = "") -> str:
    """Return a row of an OpenDocument table."""
    cells = "".join(
        f'<table:table-cell office:value-type="string"><text:p>{text}</text:p></table:table-cell>'
        for text in texts
    )
    return f"<table:table-row {attributes}>{cells}{more}</table:table-row>"


def write_ods(path: Path, *rows: str) -> Path:
    """Write an OpenDocument spreadsheet of one table."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("META-INF/manifest.xml", _ODS_MANIFEST)
        archive.writestr("content.xml", _ODS.format(rows="".join(rows)))
    return path


def blank_cells(count: int) -> str:
    """Return one blank cell that is repeated."""
    return f'<table:table-cell table:number-columns-repeated="{count}"/>'


def blank_rows(count: int, across: int = 16_384) -> str:
    """Return a blank row that is repeated, as programs write to a sheet's end."""
    return ods_row(more=blank_cells(across), attributes=f'table:number-rows-repeated="{count}"')


def text_blanks(count: int) -> str:
    """Return a cell whose text is so many blanks, as the format writes them."""
    return (
        '<table:table-cell office:value-type="string">'
        f'<text:p>Anna<text:s text:c="{count}"/></text:p></table:table-cell>'
    )


# Mails


def nested_mail(depth: int = 2_000) -> bytes:
    """Return a mail of parts within each other."""
    parts = (f"Content-Type: multipart/mixed; boundary=b{at}\n\n--b{at}\n" for at in range(depth))
    return f"From: ina@example.org\n{''.join(parts)}\nyes to all\n".encode()
