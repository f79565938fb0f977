"""A returned list is compared by everything that a person can do to it, not by its words alone."""

from __future__ import annotations

import unicodedata
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from conftest import Office
from hypothesis import given, strategies as st
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.drawing.image import Image
from openpyxl.formatting.rule import FormulaRule
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles import (
    Alignment,
    Border,
    Font,
    GradientFill,
    PatternFill,
    Protection,
    Side,
)
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from PIL import Image as Picture
from shop import Shop
from test_incoming import (
    ALL,
    CHANGE,
    FIRST,
    FREE,
    LAST,
    NAME,
    RIGHT,
    ROLE,
    SEAL,
    Sheet,
    both,
    filled_in,
    merged,
    nothing,
    put,
)

from mailmerge.answers.incoming import read_answers
from mailmerge.answers.traits import Compared, set_apart
from mailmerge.ledger.ledger import open_ledger

Edit = Callable[[Sheet], object]


def font(row: int, column: int, **what: object) -> Edit:
    """Change something of a cell's font and leave the rest of it as it is."""

    def write(sheet: Sheet) -> None:
        cell = sheet.cell(row, column)
        was = cell.font
        cell.font = Font(**{"name": was.name, "size": was.size, "bold": was.bold,
                            "color": was.color, **what})  # fmt: skip

    return write


def style(row: int, column: int, **what: object) -> Edit:
    def write(sheet: Sheet) -> None:
        for name, value in what.items():
            setattr(sheet.cell(row, column), name, value)

    return write


def in_all(edit: Callable[[int, int], Edit], rows: range, columns: range) -> Edit:
    return both(*(edit(row, column) for row in rows for column in columns))


def of_sheet(do: Callable[[Sheet], object]) -> Edit:
    return do


def parts(sheet: Sheet) -> None:
    sheet.cell(7, NAME).value = CellRichText(
        "Bo ",
        TextBlock(InlineFont(color="FFFF0000"), "Da"),
        TextBlock(InlineFont(u="single"), "hl"),
    )


def rule_for_entry(sheet: Sheet) -> None:
    rule = DataValidation(type="list", formula1='"yes,no"', promptTitle="Bo", prompt="with h")
    sheet.add_data_validation(rule)
    rule.add("F7")


def rule_for_looks(sheet: Sheet) -> None:
    rule = FormulaRule(formula=['$B6="Bo Dahl"'], font=Font(strike=True))
    sheet.conditional_formatting.add("B6:B10", rule)


def picture(sheet: Sheet) -> None:
    Picture.new("RGB", (4, 4), "red").save("/dev/shm/dot.png")
    sheet.add_image(Image("/dev/shm/dot.png"), "J6")


def copied_and_struck(sheet: Sheet) -> None:
    more = sheet.parent.create_sheet("Please check (2)")
    more["A1"] = "Bo Dahl"
    more["A1"].font = Font(strike=True)


def low(sheet: Sheet) -> None:
    sheet.row_dimensions[7].height = 0.5


RED = "FFFF0000"
BO = 'in the list, row 7, column "name"'
LOOKS: dict[str, tuple[Edit, list[tuple[tuple[int, ...], str, str]]]] = {
    "red letters": (
        font(7, NAME, color=RED),
        [((2,), BO, "colour of the letters: #FF0000 (it was: none), on: Bo Dahl")],
    ),
    "two names in red": (
        both(font(7, NAME, color=RED), font(9, NAME, color=RED)),
        [((2, 4), 'in the list, rows 7, 9, column "name"', "colour of the letters: #FF0000 (")],
    ),
    "all names in red": (
        in_all(lambda row, at: font(row, at, color=RED), range(FIRST, LAST + 1), range(NAME, ROLE)),
        [(ALL, 'in the list, rows 6-10, column "name"', "colour of the letters: #FF0000 (")],
    ),
    "a red yes": (
        font(7, RIGHT, color=RED),
        [((2,), 'in the list, row 7, column "right?"', "colour of the letters: #FF0000 (")],
    ),
    "underlined": (
        font(7, NAME, underline="single"),
        [((2,), BO, "underline: single (it was: none), on: Bo Dahl")],
    ),
    "bold": (font(7, NAME, bold=True), [((2,), BO, "bold: yes (it was: none), on: Bo Dahl")]),
    "in italics": (font(7, NAME, italic=True), [((2,), BO, "italic: yes")]),
    "larger": (
        font(7, NAME, size=20), [((2,), BO, "size of the letters: 20 (it was: 14), on: Bo Dahl")],
    ),
    "in another font": (
        font(7, NAME, name="Georgia"), [((2,), BO, "font: Georgia (it was: Arial), on: Bo Dahl")],
    ),
    "raised": (
        font(7, NAME, vertAlign="superscript"), [((2,), BO, "raised or lowered: superscript")],
    ),
    "parts of a name": (
        parts,
        [((2,), BO, "letters that look otherwise: Da (colour of the letters: #FF0000) / "
                    "hl (underline: single)")],
    ),
    "lines around a name": (
        style(7, NAME, border=Border(*[Side("medium", RED)] * 4)),
        [((2,), BO, "lines around the cell: bottom #FF0000 medium, left #FF0000 medium")],
    ),
    "a name crossed out": (
        style(7, NAME, border=Border(
            bottom=Side("thin", "D8D4CA"), diagonal=Side("thin", RED), diagonalUp=True)),
        [((2,), BO, "lines around the cell: across #FF0000, bottom #D8D4CA (it was: bottom")],
    ),
    "crossed by a pattern": (
        style(7, NAME, fill=PatternFill("darkUp", RED, "FFFFFFFF")),
        [((2,), BO, "pattern of the cell: darkUp #FF0000 #FFFFFF (it was: none), on: Bo Dahl")],
    ),
    "hatched": (
        style(7, RIGHT, fill=PatternFill("lightUp")),
        [((2,), 'in the list, row 7, column "right?"', "pattern of the cell: lightUp")],
    ),
    "a gradient": (
        style(7, NAME, fill=GradientFill(stop=(RED, "FF00FF00"))),
        [((2,), BO, "pattern of the cell: gradient #FF0000 #00FF00 (it was: none)")],
    ),
    "turned": (style(7, NAME, alignment=Alignment(textRotation=90)), [((2,), BO, "turned: 9")]),
    "a format with words": (
        style(7, 1, number_format='"not "0'),
        [((2,), 'in the list, row 7, column "item"', "words of its format: not")],
    ),
    "not locked": (
        style(7, NAME, protection=Protection(locked=False)), [((2,), BO, "lock: open")],
    ),
    "a link": (
        style(7, NAME, hyperlink="mailto:boh-with-h@bohs.example"),
        [((2,), BO, "link: mailto:boh-with-h@bohs.example (it was: none), on: Bo Dahl")],
    ),
    "a heading in red": (
        font(5, RIGHT, color=RED),
        [(ALL, "in the list, among the headings", "colour of the letters: #FF0000")],
    ),
    "the title struck out": (
        font(1, 1, strike=True), [(ALL, "in the list, above the table", "struck out: yes")],
    ),
    "a tick over three rows": (
        merged("E6:E8"),
        [((1, 2, 3), "in the list, rows 6-8", "cells that were made one, and say: yes")],
    ),
    "a header of its pages": (
        of_sheet(lambda sheet: setattr(sheet.oddHeader.right, "text", "&B2 is Boh")),
        [(ALL, "in the list, in the header or footer of its pages", "2 is Boh")],
    ),
    "a message where one types": (
        rule_for_entry, [(ALL, "in the list, a rule for what may be entered", "Bo · with h")],
    ),
    "a rule for looks": (
        rule_for_looks, [(ALL, "in the list, a rule for how cells look", '$B6="Bo Dahl"')],
    ),
    "a name for cells": (
        of_sheet(lambda sheet: sheet.parent.defined_names.add(
            DefinedName("with_h", attr_text="'Please check'!$B$7", comment="Boh"))),
        [(ALL, "in the list, a name for cells", "with_h · Boh · 'Please check'!$B$7")],
    ),
    "a remark among the properties": (
        of_sheet(lambda sheet: setattr(sheet.parent.properties, "keywords", "Boh, with h")),
        [(ALL, "in the list, among the document's properties", "Boh, with h")],
    ),
    "a property of one's own": (
        of_sheet(lambda sheet: sheet.parent.custom_doc_props.append(
            StringProperty(name="Cup 2", value="with h"))),
        [(ALL, "in the list, among the document's properties", "Cup 2: with h")],
    ),
    "a coloured tab": (
        of_sheet(lambda sheet: setattr(sheet.sheet_properties, "tabColor", RED)),
        [(ALL, "in the list, the colour of a sheet's tab", "#FF0000")],
    ),
    "a picture": (picture, [(ALL, "in the list, drawn over it", "a drawing without words")]),
    "an emptied seal": (
        put(7, SEAL, ""),
        [((2,), 'in the list, row 7, column "Seal of pack', "the cell was emptied; it said: ")],
    ),
    "a low row": (
        low, [((2,), "in the list, row 7", "the row is hidden, and says: 2 · Bo Dahl")],
    ),
    "a blank more": (
        put(7, NAME, "Bo  Dahl"), [((2,), 'in the list, row 7, column "Name"', "Bo··Dahl (each")],
    ),
    "a hard blank": (
        put(7, NAME, "Bo\u00a0Dahl"), [((2,), 'in the list, row 7, column "Name"', "Bo␣Dahl (")],
    ),
    "a formula without its result": (
        put(7, FREE, '="with"&" h"'),
        [((2,), "in the list, row 7, column", 'a formula without a result: ="with"&" h"')],
    ),
    "a word far to the right": (
        put(7, 300, "with an h"), [(ALL, "in the list, a cell far to the right", "with an h")],
    ),
    "a hidden column": (
        of_sheet(lambda sheet: setattr(sheet.column_dimensions["B"], "hidden", True)),
        [(ALL, "in the list, among the headings", 'the column "name" is hidden')],
    ),
    "a row in grey, and larger": (
        in_all(lambda row, at: font(row, at, color="FF888888", size=30), range(7, 8),
               range(1, FREE)),
        [((2,), "in the list, row 7", "colour of the letters: #888888 (it was: none), on: 2 / Bo")],
    ),
    "two headings in red": (
        both(font(5, NAME, color=RED), font(5, RIGHT, color=RED)),
        [(ALL, "in the list, among the headings", "colour of the letters: #FF0000")],
    ),
    "a table that is red all over": (
        in_all(lambda row, at: style(row, at, fill=PatternFill("solid", RED)),
               range(FIRST, LAST + 1), range(1, FREE)),
        [(ALL, "in the list, rows 6-10", "coloured #FF0000, without a word")],
    ),
    "all names on yellow": (
        in_all(lambda row, at: style(row, at, fill=PatternFill("solid", "FFFFFF00")),
               range(FIRST, LAST + 1), range(NAME, ROLE)),
        [(ALL, "in the list, rows 6-10", "coloured #FFFF00, without a word")],
    ),
    "words where a file tells who wrote it": (
        of_sheet(lambda sheet: setattr(sheet.parent.properties, "creator", "please stop cup 2")),
        [(ALL, "in the list, among the document's properties", "please stop cup 2")],
    ),
    "a copy of a sheet with a name struck out": (
        copied_and_struck,
        [(ALL, 'in the list, on the sheet "Please check (2)"', "struck out, or not to be seen")],
    ),
}  # fmt: skip


def read(shop: Shop, path: Path) -> list[tuple[tuple[int, ...], str, str]]:
    """Return what a list asks."""
    with open_ledger(shop.folder) as ledger:
        answers = read_answers(ledger, path)
    return [(each.items, each.place, each.words) for each in answers.unclear]


def is_as(found: list[tuple[tuple[int, ...], str, str]], wanted: object) -> bool:
    assert isinstance(wanted, list)
    return len(found) == len(wanted) and all(
        items == of and place.startswith(where) and said.startswith(begins)
        for (items, place, said), (of, where, begins) in zip(found, wanted, strict=True)
    )


def test_whatever_a_person_does_to_a_list_is_asked_about_where_it_is(packed: Shop) -> None:
    found = {name: read(packed, filled_in(packed, edit)) for name, (edit, _) in LOOKS.items()}
    assert {name: asks for name, asks in found.items() if not is_as(asks, LOOKS[name][1])} == {}


def test_a_tick_over_three_rows_confirms_nobody(packed: Shop) -> None:
    with open_ledger(packed.folder) as ledger:
        answers = read_answers(ledger, filled_in(packed, LOOKS["a tick over three rows"][0]))
    assert [each.item for each in answers.said if each.item in (2, 3)] == []


# What says nothing


def turned(sheet: Sheet) -> None:
    rows = [[cell.value for cell in row[:SEAL]] for row in sheet.iter_rows(FIRST, LAST)]
    for number, row in enumerate(reversed(rows), start=FIRST):
        for column, value in enumerate(row, start=1):
            sheet.cell(number, column, value)


def filtered(sheet: Sheet) -> None:
    sheet.auto_filter.ref = f"A5:G{LAST}"
    sheet.auto_filter.add_filter_column(5, ["no"])
    for row in range(FIRST, LAST + 1):
        sheet.row_dimensions[row].hidden = True


def printed(sheet: Sheet) -> None:
    sheet.print_area = f"A1:G{LAST}"
    sheet.page_setup.orientation = "portrait"
    sheet.page_margins.left = 0.2
    sheet.oddFooter.center.text = "Page &P of &N"
    sheet.oddFooter.right.text = "&F, &D"


def arranged(sheet: Sheet) -> None:
    sheet.column_dimensions["B"].width = 60
    sheet.column_dimensions["H"].hidden = True
    sheet.row_dimensions[7].height = 60
    sheet.sheet_view.zoomScale = 140
    sheet.freeze_panes = "A6"
    sheet.merge_cells("A1:G1")
    for row in range(FIRST, LAST + 1):
        sheet.cell(row, NAME).alignment = Alignment(horizontal="center", wrap_text=False)


EVERYWHERE = range(1, LAST + 1), range(1, FREE)
NOTHING: dict[str, Edit] = {
    "nothing": nothing,
    "sorted": turned,
    "filtered": filtered,
    "printed": printed,
    "arranged": arranged,
    "another font everywhere": in_all(lambda row, at: font(row, at, name="Lato"), *EVERYWHERE),
    "the letters of a program's own": in_all(
        lambda row, at: font(row, at, color="FF000000"), *EVERYWHERE
    ),
    "lines everywhere": in_all(
        lambda row, at: style(row, at, border=Border(*[Side("thin", "000000")] * 4)), *EVERYWHERE
    ),
    "a bold yes in another font": font(7, RIGHT, bold=True, name="Georgia", size=16),
    "all answers in blue": in_all(
        lambda row, at: font(row, at, color="FF0000FF"), range(FIRST, LAST + 1), range(RIGHT, SEAL)
    ),
    "a green yes": font(7, RIGHT, color="FF008000"),
    "what a program writes": of_sheet(
        lambda sheet: sheet.parent.custom_doc_props.append(
            StringProperty(name="MSIP_Label_1_Name", value="General")
        )
    ),
    "who saved it": of_sheet(
        lambda sheet: setattr(sheet.parent.properties, "lastModifiedBy", "Anna Reed")
    ),
    "a program's own user": of_sheet(
        lambda sheet: setattr(sheet.parent.properties, "creator", "Microsoft Office User")
    ),
    "a table that is yellow all over": in_all(
        lambda row, at: style(row, at, fill=PatternFill("solid", "FFFFFF00")),
        range(FIRST, LAST + 1),
        range(1, FREE),
    ),
    "a seal in capitals": of_sheet(
        lambda sheet: sheet.cell(7, SEAL, str(sheet.cell(7, SEAL).value).upper())
    ),
    "a number with a full stop": put(7, 1, "2."),
    "blanks at an end": put(7, NAME, "Bo Dahl "),
}


@pytest.mark.long
def test_a_list_that_was_saved_sorted_filtered_printed_or_arranged_asks_nothing(
    packed: Shop,
) -> None:
    found = {name: read(packed, filled_in(packed, edit)) for name, edit in NOTHING.items()}
    assert {name: asks for name, asks in found.items() if asks} == {}


Rewritten = dict[str, Callable[[str], str]]
"""Parts of a workbook, and what becomes of each; openpyxl does not know all that they may hold."""


def within(path: Path, parts: Rewritten) -> Path:
    with zipfile.ZipFile(path) as archive:
        held = {each: archive.read(each) for each in archive.namelist()}
    for name, became in parts.items():
        held[name] = became(held.get(name, b"").decode()).encode()
    with zipfile.ZipFile(path, "w") as archive:
        for each, data in held.items():
            archive.writestr(each, data)
    return path


def exchanged(was: str, text: str) -> Callable[[str], str]:
    def became(part: str) -> str:
        assert was in part
        return part.replace(was, text)

    return became


def of_the_file(name: str, text: str) -> Rewritten:
    return {"docProps/app.xml": exchanged("</Properties>", f"<{name}>{text}</{name}></Properties>")}


BOOK = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_GUIDED = '<t>Bo Dahl</t><rPh sb="0" eb="2"><t>Boh</t></rPh>'
GUIDE: Rewritten = {"xl/worksheets/sheet1.xml": exchanged("<t>Bo Dahl</t>", _GUIDED)}
GUIDE_OF_SHARED: Rewritten = {
    "xl/worksheets/sheet1.xml": exchanged(
        't="inlineStr"><is><t>Bo Dahl</t></is>', 't="s"><v>0</v>'
    ),
    "xl/sharedStrings.xml": lambda _: f'<sst xmlns="{BOOK}"><si>{_GUIDED}</si></sst>',
    "[Content_Types].xml": exchanged(
        "</Types>",
        '<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.openxmlformats-'
        'officedocument.spreadsheetml.sharedStrings+xml"/></Types>',
    ),
}  # fmt: skip
_GUIDE_IS_ASKED = [((2,), "in the list, a phonetic guide on row 7", "Boh")]
_PROPERTIES = "in the list, among the document's properties"
WITHIN: dict[str, tuple[Rewritten, list[tuple[tuple[int, ...], str, str]]]] = {
    "a phonetic guide": (GUIDE, _GUIDE_IS_ASKED),
    "a phonetic guide of a shared text": (GUIDE_OF_SHARED, _GUIDE_IS_ASKED),
    "a manager": (of_the_file("Manager", "Bo is Boh"), [(ALL, _PROPERTIES, "Bo is Boh")]),
    "words as a firm": (of_the_file("Company", "stop 2"), [(ALL, _PROPERTIES, "stop 2")]),
    "a firm": (of_the_file("Company", "Reed GmbH"), []),
    "a sheet that the book does not name": (
        {"xl/worksheets/sheet9.xml": lambda _: "<worksheet/>"},
        [(ALL, "in the list, a part of the file that is not read", "xl/worksheets/sheet9.xml")],
    ),
}


def test_what_stands_where_few_programs_show_it_is_asked_about(packed: Shop) -> None:
    found = {
        name: read(packed, within(filled_in(packed, nothing), parts))
        for name, (parts, _) in WITHIN.items()
    }
    assert {name: asks for name, asks in found.items() if not is_as(asks, WITHIN[name][1])} == {}


def test_a_phonetic_guide_is_asked_about_beside_a_wish(packed: Shop) -> None:
    path = filled_in(packed, both(put(7, RIGHT, ""), put(7, CHANGE, "call me")))
    assert is_as(read(packed, within(path, GUIDE)), _GUIDE_IS_ASKED)


def test_decomposed_letters_are_the_letters_as_they_were(packed: Shop) -> None:
    with packed.changing() as change:
        change._db.execute("UPDATE shown SET about = replace(about, 'Bo Dahl', 'Bö Dahl')")
    edit = put(7, NAME, unicodedata.normalize("NFD", "Bö Dahl"))
    assert read(packed, filled_in(packed, edit)) == []


def test_a_row_to_change_is_not_asked_about_for_its_looks(packed: Shop) -> None:
    edit = both(put(7, RIGHT, ""), put(7, CHANGE, "Boh"), font(7, NAME, color=RED))
    assert read(packed, filled_in(packed, edit)) == []


_LOOK = st.dictionaries(st.sampled_from(["colour of the letters", "font"]), st.sampled_from("abc"))


@given(st.lists(_LOOK, min_size=1, max_size=8), st.permutations("abc"))
def test_what_a_program_changes_everywhere_alike_sets_no_cell_apart(
    looks: list[dict[str, str]], becomes: list[str]
) -> None:
    now = dict(zip("abc", becomes, strict=True))
    cells = [
        Compared((at, 0), was, {trait: now[value] for trait, value in was.items()}, False)
        for at, was in enumerate(looks)
    ]
    assert set_apart(cells) == {}


@given(st.lists(_LOOK, min_size=2, max_size=8))
def test_a_single_cell_that_looks_otherwise_is_set_apart(looks: list[dict[str, str]]) -> None:
    (first, *rest) = looks
    same = [Compared((at, 0), look, look, False) for at, look in enumerate([*rest, first], 1)]
    other = Compared((0, 0), first, {**first, "underline": "single"}, False)
    assert set_apart([other, *same]) == {(0, 0): {"underline": ("", "single")}}


SAVED = both(
    font(6, NAME, color=RED), parts, font(8, NAME, underline="single"),
    *(LOOKS[name][0] for name in (
        "a header of its pages", "a message where one types", "a rule for looks",
        "a remark among the properties",
    )),
    style(9, NAME, border=Border(diagonal=Side("thin", RED), diagonalUp=True)),
    style(10, NAME, hyperlink="mailto:boh-with-h@bohs.example"),
)  # fmt: skip


@pytest.mark.long
@pytest.mark.outside("soffice")
@pytest.mark.parametrize("ending", ["ods", "xlsx"])
def test_what_another_program_has_saved_asks_as_much(
    office: Office, packed: Shop, tmp_path: Path, ending: str
) -> None:
    edits = {"much": SAVED, **{name: NOTHING[name] for name in ("nothing", "sorted", "filtered")}}
    paths = [
        filled_in(packed, edit).rename(tmp_path / f"{name}.xlsx") for name, edit in edits.items()
    ]
    office(ending, tmp_path / "out", *paths)
    found = {path.stem: read(packed, path) for path in (tmp_path / "out").iterdir()}
    told = {said.partition(":")[0] if len(of) == 1 else place for of, place, said in found["much"]}
    assert told == {
        "colour of the letters", "letters that look otherwise", "underline", "link",
        "lines around the cell", *(LOOKS[name][1][0][1] for name in (
            "a header of its pages", "a message where one types", "a rule for looks",
            "a remark among the properties",
        )),
    }  # fmt: skip
    assert {of[0] for of, _, _ in found["much"] if len(of) == 1} == {1, 2, 3, 4, 5}
    assert [found[name] for name in ("nothing", "sorted", "filtered")] == [[], [], []]


def test_what_most_cells_have_is_no_programs_doing_while_one_has_kept_its_look() -> None:
    look = {"colour of the letters": "#222428"}
    red = {"colour of the letters": "#FF0000"}
    cells = [Compared((at, 0), look, red if at else look, False) for at in range(4)]
    assert {*set_apart(cells)} == {(1, 0), (2, 0), (3, 0)}
