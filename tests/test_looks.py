"""What somebody sees who looks at a list: struck out, commented, hidden, and what is left out."""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path
from xml.etree import ElementTree

import pytest
from conftest import Office
from faker import Faker
from openpyxl import Workbook
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Color, Font, PatternFill
from openpyxl.worksheet.worksheet import Worksheet

from mailmerge.checks.cells import check_cells, check_exchanged
from mailmerge.checks.listing import check_list
from mailmerge.findings import Finding, Severity
from mailmerge.guests import GuestList, ods_looks, open_list
from mailmerge.guests.exchanged import leaning, turned
from mailmerge.guests.looks import is_unseen

ENGRAVED = frozenset(("name", "role"))
STOP, WARNING, NOTE = Severity.STOP, Severity.WARNING, Severity.NOTE


def found_in(opened: GuestList) -> dict[str, list[Finding]]:
    """Return the findings about each guest's cells, by name; without those of cleaning."""
    return {
        guest.name: [f for f in check_cells(guest, ENGRAVED) if not f.code.startswith("cleaned")]
        for guest in opened.guests()
    }


def said(finding: Finding) -> tuple[str, Severity, str | None]:
    return finding.code, finding.severity, finding.field


def of_list(opened: GuestList) -> list[Finding]:
    return list(check_list(opened, opened.survey()))


class Marked:
    """A workbook whose guests are marked in all the ways that clients mark them."""

    def __init__(self) -> None:
        self.book = Workbook()
        self.sheet: Worksheet = self.book.active
        self.sheet.title = "Guests"
        self.add("Name", "Role", "Table")

    def add(self, *cells: object) -> int:
        self.sheet.append(cells)
        return int(self.sheet.max_row)

    def save(self, path: Path) -> Path:
        self.book.save(path)
        return path


def marked() -> Marked:
    """Return one guest for each way; their names say which."""
    made = Marked()
    sheet = made.sheet
    made.add("Plain Guest", "Horn", 1)
    row = made.add("Struck Guest", "Horn", 1)
    sheet.cell(row, 1).font = Font(strike=True)
    row = made.add("Gone Guest", "Oboe", 1)
    for column in (1, 2, 3):
        sheet.cell(row, column).font = Font(strike=True)
    row = made.add("Role Guest", "Harp", 1)
    sheet.cell(row, 2).font = Font(strike=True)
    row = made.add("Unused Guest", "Harp", 1)
    sheet.cell(row, 3).font = Font(strike=True)
    made.add(CellRichText(TextBlock(InlineFont(strike=True), "Tom"), " Ilse Dam"), "Harp")
    made.add(CellRichText(TextBlock(InlineFont(b=True), "Bold"), " Guest"), "Harp")
    row = made.add("White Guest", "Cello", 1)
    sheet.cell(row, 1).font = Font(color="FFFFFFFF")
    row = made.add("Theme Guest", "Cello", 1)
    sheet.cell(row, 1).font = Font(color=Color(theme=0))
    row = made.add("Yellow Guest", "Cello", 1)
    sheet.cell(row, 1).font = Font(color="FFFFFF00")
    sheet.cell(row, 1).fill = PatternFill("solid", fgColor="FFFFFF00")
    row = made.add("Black Guest", "Cello", 1)  # as one blackens a line
    sheet.cell(row, 1).fill = PatternFill("solid", fgColor="FF000000")
    row = made.add("Format Guest", "Cello", 1)
    sheet.cell(row, 1).number_format = ";;;"
    row = made.add("Night Guest", "Cello", 1)
    sheet.cell(row, 1).font = Font(color="FFFFFFFF")
    sheet.cell(row, 1).fill = PatternFill("solid", fgColor="FF102040")
    row = made.add("Grey Guest", "Cello", 1)
    sheet.cell(row, 1).font = Font(color="FF808080")
    row = made.add("Tiny Guest", "Cello", 1)
    sheet.cell(row, 1).font = Font(size=1)
    row = made.add("Titled Guest", "Cello", 1)
    sheet.cell(row, 1).number_format = '[Red]"Dr. "@" (Ret.)"'
    row = made.add("General Guest", "Cello", 1)
    sheet.cell(row, 1).number_format = '0;-0;"nil";@_)'
    for name, code in (("Inked", "[White]@"), ("Red", "[Red]@"),
                       ("Covered", 'General;General;General;"x"'), ("Dashed", "0;-0;0;-"),
                       ("Sectioned", "0;-0;0;General")):  # fmt: skip
        sheet.cell(made.add(f"{name} Guest", "Cello", 1), 1).number_format = code
    made.add("Double Guest", "Violin\nViola", 1)
    row = made.add("Noted Guest", "Cello", 1)
    sheet.cell(row, 1).comment = Comment("spell it with a K", "client")
    row = made.add("Aside Guest", "Cello", 1)
    sheet.cell(row, 3).comment = Comment("she has\nmarried", "client")
    return made


AS_MARKED = {
    "Plain Guest": [],
    "Struck Guest": [("struck-out", STOP, "name")],
    "Gone Guest": [("struck-out", STOP, None)],
    "Role Guest": [("struck-out", STOP, "role")],
    "Unused Guest": [],
    "Ilse Dam": [("partly-struck", STOP, "name")],
    "Bold Guest": [],
    "White Guest": [("not-to-be-seen", STOP, "name")],
    "Theme Guest": [("not-to-be-seen", STOP, "name")],
    "Yellow Guest": [("not-to-be-seen", STOP, "name")],
    "Black Guest": [("not-to-be-seen", STOP, "name")],
    "Format Guest": [("not-to-be-seen", STOP, "name")],
    "Night Guest": [],
    "Grey Guest": [],
    "Tiny Guest": [("not-to-be-seen", STOP, "name")],
    "Titled Guest": [("shown-otherwise", WARNING, "name")],
    "General Guest": [],
    "Inked Guest": [("not-to-be-seen", STOP, "name")],
    "Red Guest": [],
    "Covered Guest": [("not-to-be-seen", STOP, "name")],
    "Dashed Guest": [("not-to-be-seen", STOP, "name")],
    "Sectioned Guest": [],
    "Double Guest": [("lines-in-cell", WARNING, "role")],
    "Noted Guest": [("comment", WARNING, "name")],
    "Aside Guest": [("comment", WARNING, None)],
}


def check_as_marked(opened: GuestList) -> None:
    found = found_in(opened)
    assert {name: [said(f) for f in of] for name, of in found.items()} == AS_MARKED
    both = found["Ilse Dam"][0].message
    assert '"Tom" is struck out' in both
    assert '"Ilse Dam" stands' in both
    assert '"Dr. Titled Guest (Ret.)"' in found["Titled Guest"][0].message
    assert '"spell it with a K"' in found["Noted Guest"][0].message
    assert '"she has married"' in found["Aside Guest"][0].message


def test_what_a_workbook_shows(tmp_path: Path) -> None:
    check_as_marked(open_list(marked().save(tmp_path / "l.xlsx"), None, {}))


@pytest.mark.long
@pytest.mark.outside("soffice")
@pytest.mark.parametrize("ending", ["ods", "xlsx"])
def test_what_another_program_writes_shows_the_same(
    office: Office, tmp_path: Path, ending: str
) -> None:
    """LibreOffice keeps texts shared, and has styles of its own."""
    marked().save(tmp_path / "l.xlsx")
    office(ending, tmp_path / "out", tmp_path / "l.xlsx")
    check_as_marked(open_list(tmp_path / "out" / f"l.{ending}", None, {}))


def low_and_narrow() -> Marked:
    made = Marked()
    for name, height in (("Ann Berg", 15), ("Bo Dahl", 0.5), ("Cy Ek", 6)):
        made.sheet.row_dimensions[made.add(name, "Horn", 1)].height = height
    made.sheet.column_dimensions["B"].width = 0.2
    return made


def check_low_and_narrow(opened: GuestList) -> None:
    assert [guest.name for guest in opened.guests()] == ["Ann Berg", "Cy Ek"]
    assert opened.columns.hidden == ("Role",)


def test_rows_and_columns_that_nobody_sees_count_as_hidden(tmp_path: Path) -> None:
    check_low_and_narrow(open_list(low_and_narrow().save(tmp_path / "l.xlsx"), None, {}))


@pytest.mark.long
@pytest.mark.outside("soffice")
def test_they_do_where_another_program_writes_them(office: Office, tmp_path: Path) -> None:
    """LibreOffice makes the low row as high as its type needs; somebody draws it to nothing."""
    low_and_narrow().save(tmp_path / "l.xlsx")
    office("ods", tmp_path / "out", tmp_path / "l.xlsx")
    written = tmp_path / "out" / "l.ods"
    with zipfile.ZipFile(written) as archive:
        content = archive.read("content.xml").decode()
    assert content.count('row-height="0.178in"') == 1
    low = {"content.xml": content.replace('row-height="0.178in"', 'row-height="0.2mm"')}
    check_low_and_narrow(open_list(with_parts(written, tmp_path / "l.ods", low), None, {}))


def test_rows_of_no_height_by_default_are_hidden(tmp_path: Path) -> None:
    """ECMA-376 part 1, 18.3.1.81: zeroHeight; a row that has a height of its own is seen."""
    made = Marked()
    made.add("Ann Berg", "Horn", 1)
    made.sheet.row_dimensions[1].height = made.sheet.row_dimensions[2].height = 15
    made.add("Bo Dahl", "Horn", 1)
    made.sheet.sheet_format.zeroHeight = True
    opened = open_list(made.save(tmp_path / "l.xlsx"), None, {})
    assert [guest.name for guest in opened.guests()] == ["Ann Berg"]


def test_rules_that_strike_or_colour_are_pointed_out_in_used_columns(tmp_path: Path) -> None:
    def told(area: str, **look: object) -> list[str]:
        made = Marked()
        made.add("Ann Berg", "Horn", 1)
        rule = FormulaRule(formula=["$C2=1"], **look)
        made.sheet.conditional_formatting.add(area, rule)
        opened = open_list(made.save(tmp_path / "l.xlsx"), None, {})
        return [f.message for f in of_list(opened) if f.code == "rules-not-read"]

    (struck,) = told("A2:B40", font=Font(strike=True))
    assert '"Name", "Role"' in struck
    (pale,) = told("B2:C40 E1", font=Font(color="FFFFFFFF"))
    assert '"Name"' not in pale
    assert told("C2:C40", font=Font(strike=True)) == []  # a column that is not used
    assert told("A2:A40", fill=PatternFill("solid", bgColor="FFFFEE00")) == []


def test_a_hidden_sheet_under_the_same_headings_is_pointed_out(tmp_path: Path) -> None:
    def told(*rows: tuple[str, ...]) -> list[str]:
        made = Marked()
        made.add("Ann Berg", "Horn", 1)
        more = made.book.create_sheet("Late")
        more.sheet_state = "hidden"
        for row in rows:
            more.append(row)
        opened = open_list(made.save(tmp_path / "l.xlsx"), None, {})
        assert [guest.name for guest in opened.guests()] == ["Ann Berg"]
        return [f.message for f in of_list(opened) if f.code == "sheets-hidden"]

    assert '"Late"' in told(("Role", "Name"), ("Horn", "Bo Dahl"))[0]
    assert told(("Role", "Name")) == []
    assert told(("Choices",), ("Horn",)) == []
    assert told(("Guest", "Name", "Role"), ("Ann", "Bo", "Horn")) == []  # and nobody is asked


@pytest.mark.parametrize(("display", "is_gone"), [("none", True), ("true", False)])
def test_a_text_that_its_style_does_not_display_is_not_seen(display: str, is_gone: bool) -> None:
    """As OpenDocument calls it: ``text:display`` of a style's text properties."""
    space = "urn:oasis:names:tc:opendocument:xmlns"
    style = ElementTree.fromstring(
        f'<s:style xmlns:s="{space}:style:1.0" xmlns:t="{space}:text:1.0" s:name="a">'
        f'<s:text-properties t:display="{display}"/></s:style>'
    )
    cell = ElementTree.fromstring(
        f'<c xmlns:t="{space}:text:1.0" xmlns:b="{space}:table:1.0" b:style-name="a">'
        f"<t:p>Kate Lund</t:p></c>"
    )
    plain = ods_looks.Looks({}, {}).of_cell(cell, "")
    assert (ods_looks.Looks({"a": style}, {}).of_cell(cell, "") != plain) == is_gone


def with_parts(path: Path, out: Path, parts: dict[str, str]) -> Path:
    """Copy a workbook with other parts: what openpyxl does not write itself."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            if name not in parts:
                new.writestr(name, old.read(name))
        for name, text in parts.items():
            new.writestr(name, text)
    return out


def test_a_conversation_is_quoted_without_what_surrounds_it(tmp_path: Path) -> None:
    """Threads and their answers (MS-XLSX 2.6.205), and only their copy for older programs."""
    made = Marked()
    row = made.add("Kate Lund", "Horn", 1)
    copy = "[Threaded comment]\n\nYour program shows this comment.\n\nComment:\n    with a K"
    made.sheet.cell(row, 1).comment = Comment(copy, "client")
    plain = made.save(tmp_path / "l.xlsx")
    (finding,) = found_in(open_list(plain, None, {}))["Kate Lund"]
    assert finding.message == 'A comment in the list says: "with a K".'
    rels = "xl/worksheets/_rels/sheet1.xml.rels"
    with zipfile.ZipFile(plain) as archive:
        known = archive.read(rels).decode()
    kind = "http://schemas.microsoft.com/office/2017/10/relationships/threadedComment"
    more = f'<Relationship Id="t1" Type="{kind}" Target="../threadedComments/t1.xml"/>'
    thread = (
        '<ThreadedComments xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/'
        'threadedcomments"><threadedComment ref="A2" id="{1}"><text>with a K</text>'
        '</threadedComment><threadedComment ref="A2" id="{2}" parentId="{1}"><text>and two t'
        "</text></threadedComment></ThreadedComments>"
    )
    parts = {
        rels: known.replace("</Relationships>", more + "</Relationships>"),
        "xl/threadedComments/t1.xml": thread,
    }
    path = with_parts(plain, tmp_path / "t.xlsx", parts)
    (finding,) = found_in(open_list(path, None, {}))["Kate Lund"]
    assert finding.message == 'A comment in the list says: "with a K / and two t".'


def test_shared_texts_are_struck_by_number(tmp_path: Path) -> None:
    """The same letters stand in the list once struck and once not."""
    space = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    texts = (
        "<si><t>Name</t></si><si><r><rPr><strike/></rPr><t>Ann Berg</t></r></si>"
        '<si><t>Ann Berg</t></si><si><r><rPr><strike val="0"/></rPr><t>Bo Dahl</t></r></si>'
    )
    cells = "".join(
        f'<row r="{n + 1}"><c r="A{n + 1}" t="s"><v>{n}</v></c></row>' for n in range(4)
    )
    made = Workbook()
    made.save(tmp_path / "l.xlsx")
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings"
    with zipfile.ZipFile(tmp_path / "l.xlsx") as archive:
        rels = archive.read("xl/_rels/workbook.xml.rels").decode()
        types = archive.read("[Content_Types].xml").decode()
    link = f'<Relationship Id="s1" Type="{kind}" Target="/xl/sharedStrings.xml"/></Relationships>'
    content = "application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"
    override = f'<Override PartName="/xl/sharedStrings.xml" ContentType="{content}"/></Types>'
    parts = {
        "xl/sharedStrings.xml": f'<sst xmlns="{space}">{texts}</sst>',
        "xl/worksheets/sheet1.xml": (
            f'<worksheet xmlns="{space}"><sheetData>{cells}</sheetData></worksheet>'
        ),
        "xl/_rels/workbook.xml.rels": rels.replace("</Relationships>", link),
        "[Content_Types].xml": types.replace("</Types>", override),
    }
    path = with_parts(tmp_path / "l.xlsx", tmp_path / "s.xlsx", parts)
    guests = list(open_list(path, None, {}).guests())
    assert [(g.row, g.name, [t.kind for t in g.troubles]) for g in guests] == [
        (2, "Ann Berg", ["struck"]),
        (3, "Ann Berg", []),
        (4, "Bo Dahl", []),
    ]


WHITE, BLACK = (1.0, 1.0, 1.0), (0.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("ink", "ground", "points", "unseen"),
    [
        (WHITE, WHITE, 11, True),
        ((0.95, 0.95, 0.95), WHITE, 11, True),
        ((0.8, 0.8, 0.8), WHITE, 11, False),  # as pale as asides are set
        (BLACK, WHITE, 11, False),
        (WHITE, BLACK, 11, False),
        ((0.0, 0.0, 0.1), BLACK, 11, True),
        (None, BLACK, 11, False),
        (WHITE, None, 11, False),
        (BLACK, WHITE, 1, True),
    ],
)
def test_what_nobody_sees(
    ink: tuple[float, float, float] | None,
    ground: tuple[float, float, float] | None,
    points: float,
    unseen: bool,
) -> None:
    assert is_unseen(ink, ground, points) == unseen


# -- hidden ------------------------------------------------------------------------------------


def test_hidden_columns_that_are_used_are_named(tmp_path: Path) -> None:
    made = Marked()
    made.add("Ann Berg", "Horn", 1)
    made.sheet.column_dimensions["B"].hidden = True
    made.sheet.column_dimensions["C"].hidden = True
    found = {f.code: f for f in of_list(open_list(made.save(tmp_path / "l.xlsx"), None, {}))}
    assert found["columns-hidden"].severity is WARNING
    assert 'used: "Role".' in found["columns-hidden"].message


@pytest.mark.parametrize(
    ("shown", "hidden", "severity"), [(1, 5, WARNING), (9, 1, NOTE), (8, 1, WARNING)]
)
def test_hidden_guests_are_counted(
    tmp_path: Path, shown: int, hidden: int, severity: Severity
) -> None:
    made = Marked()
    for number in range(shown + hidden):
        row = made.add(f"Guest Number{number}", "Horn", 1)
        made.sheet.row_dimensions[row].hidden = number >= shown
    opened = open_list(made.save(tmp_path / "l.xlsx"), None, {})
    found = {f.code: f for f in of_list(opened)}["hidden-rows"]
    assert found.severity is severity
    assert f"filter: {hidden} guest" in found.message
    assert f"there would be {shown + hidden}." in found.message


def test_comments_on_rows_of_nobody_are_told(tmp_path: Path) -> None:
    made = Marked()
    made.add("Ann Berg", "Horn", 1)
    made.sheet["A1"].comment = Comment("first names only, please", "client")
    made.sheet["B9"].comment = Comment("two more will follow", "client")
    opened = open_list(made.save(tmp_path / "l.xlsx"), None, {})
    told = [f.message for f in of_list(opened) if f.code == "comment"]
    assert [("row 1: " in m, "row 9: " in m) for m in told] == [(True, False), (False, True)]
    assert '"first names only, please"' in told[0]
    assert found_in(opened) == {"Ann Berg": []}


# -- rows and lines ----------------------------------------------------------------------------


def text_list(tmp_path: Path, text: str) -> GuestList:
    path = tmp_path / "l.csv"
    path.write_text(text, encoding="utf-8")
    return open_list(path, None, {})


def test_a_row_shorter_than_the_others_is_told(tmp_path: Path) -> None:
    full = "".join(f"Guest Number{n},Horn,left\n" for n in range(4))
    found = found_in(text_list(tmp_path, f"Name,Role,Hand\n{full}Ann Berg,left\n"))
    (finding,) = found.pop("Ann Berg")
    assert said(finding) == ("row-too-short", WARNING, None)
    assert '"Hand"' in finding.message
    assert not any(found.values())


def test_blanks_that_most_rows_leave_out_are_not_missed(tmp_path: Path) -> None:
    short = "".join(f"Guest Number{n},Horn\n" for n in range(4))
    found = found_in(text_list(tmp_path, f"Name,Role,Hand\n{short}Ann Berg,Horn,left\nBo Dahl\n"))
    assert [said(f) for f in found.pop("Bo Dahl")] == [("row-too-short", WARNING, None)]
    assert not any(found.values())


def test_every_line_of_a_text_file_is_accounted_for(tmp_path: Path) -> None:
    """Lines are counted in the file, rows by what becomes of them."""
    opened = text_list(
        tmp_path,
        "Winter gala,,,\n\nName,Role,Quantity,Table\nAnn Berg,Horn,1,4\n,,,see below\n"
        '"Keiko\nTanabe",Harp,1,4\n ,,,\nBo Dahl,Oboe,0,4\nCy Eck,Oboe,2,\n\n',
    )
    count = opened.survey().count
    assert count.lines == 11
    assert (count.header, count.blank, count.unread, count.continued) == (3, 2, 1, 1)
    assert (count.none_wanted, count.hidden, count.guests) == (1, 0, 3)
    parts = [count.header, count.blank, count.unread, count.continued, count.none_wanted]
    assert sum(parts) + count.guests == count.lines
    told = {f.code: f.message for f in of_list(opened)}
    assert "row 5" in told["rows-left-out"]
    assert "rows-above-header" not in told


@pytest.mark.parametrize(
    ("above", "severity"), [("Please engrave in gold", WARNING), ("Winter gala", NOTE)]
)
def test_what_is_said_above_the_header_is_quoted(
    above: str, severity: Severity, tmp_path: Path
) -> None:
    opened = text_list(tmp_path, f"{above},\n,\nName,Role\nAnn Berg,Horn\nBo Dahl,Oboe\n")
    told = {f.code: f for f in of_list(opened)}["said-above-header"]
    assert told.severity is severity
    assert f'row 1: "{above}"' in told.message


def test_guests_above_the_header_are_told(tmp_path: Path) -> None:
    """As where a list was sorted together with its header."""
    opened = text_list(tmp_path, "Ann Berg,Horn\nBo Dahl,Oboe\nName,Role\nZoe Quist,Harp\n")
    told = {f.code: f for f in of_list(opened)}["rows-above-header"]
    assert told.severity is WARNING
    assert "rows 1, 2" in told.message


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('Name\n"Ann Berg\nBo Dahl\nCy Eck\n', [STOP]),  # a quotation mark not closed
        ('Name\n"Ann Berg\nBo Dahl"\n', [STOP]),
        ('Name\n"Otto\nUte\nJan"\n', [STOP]),
        ('Name\n"Keiko\nTanabe"\n', [WARNING]),  # one person, it seems
        ('Name,Role\nAnn Berg,"First violin\nand soloist"\n', []),
    ],
)
def test_a_cell_of_several_lines(tmp_path: Path, text: str, told: list[Severity]) -> None:
    (found,) = found_in(text_list(tmp_path, text)).values()
    assert [(f.code, f.severity) for f in found] == [("lines-in-cell", each) for each in told]


def test_columns_that_are_not_used_show_what_they_hold(tmp_path: Path) -> None:
    opened = text_list(
        tmp_path, "Name,Beaker,Role,Seat\nAnn,navy,Horn,\nBo,navy,Oboe,\nCy,white,Harp,\n"
    )
    told = {f.code: f.message for f in of_list(opened)}["columns-unused"]
    assert told == 'These columns were not used: "Beaker" (navy, white), "Seat".'


@pytest.mark.parametrize(
    ("header", "is_told"),
    [("Nachname, Vorname", True), ("Nom/Prénom", True), ("Cognome e nome", True),
     ("Vorname/Nachname", False), ("Prénom/Nom", False), ("Name", False)],
)  # fmt: skip
def test_a_header_may_say_that_the_last_name_leads(
    tmp_path: Path, header: str, is_told: bool
) -> None:
    opened = text_list(tmp_path, f'"{header}",Role\nBerg Ann,Horn\n')
    assert [g.name for g in opened.guests()] == ["Berg Ann"]
    assert ("last-name-first" in {f.code for f in of_list(opened)}) == is_told


# -- first and last names ----------------------------------------------------------------------

PEOPLE = (
    ("Daniel", "Peterson"), ("Margaret", "Hughes"), ("Susan", "Whitaker"), ("Robert", "Olsen"),
    ("Laura", "Schmidt"), ("Katherine", "McAllister"),
)  # fmt: skip


def exchanged(tmp_path: Path, people: Sequence[tuple[str, str]]) -> tuple[bool, list[str]]:
    """Return whether the columns are said to be exchanged, and whose names are."""
    rows = "".join(f"{first},{last}\n" for first, last in people)
    opened = text_list(tmp_path, f"First name,Last name\n{rows}")
    survey = opened.survey()
    told = [
        guest.name
        for guest in opened.guests()
        for finding in check_exchanged(survey.remarks(guest))
        if said(finding) == ("names-exchanged", WARNING, "name")
    ]
    return "columns-exchanged" in {f.code for f in of_list(opened)}, told


def test_names_in_each_others_column(tmp_path: Path) -> None:
    assert exchanged(tmp_path, PEOPLE) == (False, [])
    assert exchanged(tmp_path, [(last, first) for first, last in PEOPLE]) == (True, [])
    one = [*PEOPLE, ("Henderson", "Patricia")]
    assert exchanged(tmp_path, one) == (False, ["Henderson Patricia"])
    assert exchanged(tmp_path, [*PEOPLE, ("van der Berg", "Kaatje")])[1] == ["van der Berg Kaatje"]
    for each in (("Koch", "Andreas"), ("Neumann", "Daniel"), ("Wagner", "Laura"),
                 ("Zimmermann", "Paul"), ("Wright", "Oliver")):  # fmt: skip
        assert exchanged(tmp_path, [*PEOPLE, each])[1] == [" ".join(each)]
        assert exchanged(tmp_path, [*PEOPLE, (each[1], each[0])])[1] == []
    # Two last names are no exchange, however rare the one is as a first name.
    assert leaning("Peterson", "Lee") == 0
    # Names that are both, or that nobody has counted, say nothing.
    both = [("James", "Thomas"), ("Thomas", "James"), ("Ngozi", "Adichie"), ("Kaatje", "de Wit")]
    assert exchanged(tmp_path, both) == (False, [])


PEOPLE_OF = {
    "es": "Lucía Domínguez|Ignacio Vázquez|Beatriz Suárez|Andrés Jiménez|Pilar Gutiérrez",
    "nl": "Sanne Hoekstra|Maarten de Groot|Femke Postma|Wouter Dijkstra|Marloes Smits",
    "fi": "Aino Heikkinen|Timo Lahtinen|Päivi Koskinen|Juhani Salonen|Riitta Turunen",
    "pt": "Inês Carvalho|Nuno Teixeira|Leonor Correia|Tiago Azevedo|Margarida Pinto|Rui Cardoso",
    "tr": "Zeynep Öztürk|Hüseyin Kılıç|Elif Çetin|Emre Demirci|Merve Şimşek|Ahmet Korkmaz",
    "cs": "Zdeněk Horák|Jitka Pokorná|Ondřej Němec|Kateřina Benešová|Lenka Kučerová|Jiří Dvořák",
    # Of the first names nobody knows; of the last ones, how they end.
    "lt": "Gintaras Vaitkevičius|Gabija Rimkienė|Domantas Žukauskas|Ugnė Kazlauskaitė|"
    "Ainis Stankevičius|Austėja Butkienė",
    "of all": "Eirik Halvorsen|Agnieszka Zielińska|Thorsten Krüger|Anouk Wouters|Ildikó Szűcs",
}


@pytest.mark.parametrize("language", PEOPLE_OF)
def test_columns_of_a_short_list_exchanged_in_other_languages(
    tmp_path: Path, language: str
) -> None:
    people = [name.split(" ", 1) for name in PEOPLE_OF[language].split("|")]
    assert exchanged(tmp_path, [(first, last) for first, last in people]) == (False, [])
    assert exchanged(tmp_path, [(last, first) for first, last in people]) == (True, [])


@pytest.mark.parametrize("header", ["Vorname,Name", "Prénom,Nom", "Name,Surname"])
def test_columns_exchanged_where_one_of_them_is_just_called_name(
    tmp_path: Path, header: str
) -> None:
    people = [name.split(" ", 1) for name in PEOPLE_OF["of all"].split("|")]
    for is_turned in (False, True):
        rows = "".join(f"{','.join(each[::-1] if is_turned else each)}\n" for each in people)
        survey = text_list(tmp_path, f"{header}\n{rows}").survey()
        assert survey.are_exchanged is is_turned


@pytest.mark.parametrize(
    "name", ["Lindqvist,Annika", "Fournier,Guillaume", "Salonen,Pekka", "Vasconcelos,Letícia"]
)
def test_one_row_of_another_language_exchanged(tmp_path: Path, name: str) -> None:
    last, first = name.split(",")
    rare = last == "Vasconcelos"  # of a name that nobody has counted nothing is sure
    assert exchanged(tmp_path, [*PEOPLE, (last, first)])[1] == ([] if rare else [f"{last} {first}"])
    assert exchanged(tmp_path, [*PEOPLE, (first, last)])[1] == []


LANGUAGES = (
    "en_US", "en_GB", "de_DE", "fr_FR", "it_IT", "es_ES", "nl_NL", "pl_PL", "sv_SE", "tr_TR",
    "hu_HU", "en_IN",
)  # fmt: skip


@pytest.mark.parametrize("language", LANGUAGES)
def test_hardly_any_name_that_is_right_is_called_exchanged(language: str) -> None:
    """Under one in two hundred rows, and no list of thirty; against names of an outside source."""
    people = Faker(language, providers=["faker.providers.person"])
    people.seed_instance(11)
    leanings = [leaning(people.first_name(), people.last_name()) for _ in range(1500)]
    assert len(turned(range(1500), leanings)[1]) < 1500 / 200
    assert not any(turned(range(30), leanings[at : at + 30])[0] for at in range(0, 1500, 30))


@pytest.mark.parametrize(
    ("rows", "told"),
    [((4, 9), (4, 9)), ((), ()), (range(2, 14, 2), ()), (range(2, 14), ())],
    ids=["two", "none", "stripes", "all"],
)
def test_colours_that_mark_few_rows_are_told(
    tmp_path: Path, rows: Iterable[int], told: tuple[int, ...]
) -> None:
    """A header has a colour of its own; stripes and a colour of all say nothing."""
    for kind in ("ground", "ink"):
        book = Workbook()
        sheet = book.active
        sheet.append(["Name", "Role"])
        sheet["A1"].fill = PatternFill("solid", fgColor="FF88AAFF")
        for letter in "abcdefghijkl":
            sheet.append([f"Ann Moe{letter}", "Horn"])
        for row in rows:
            if kind == "ink":
                sheet.cell(row, 1).font = Font(color="FFFF0000")
            else:
                sheet.cell(row, 1).fill = PatternFill("solid", fgColor="FFFFFF00")
        book.save(tmp_path / f"{kind}.xlsx")
        assert open_list(tmp_path / f"{kind}.xlsx", None, {}).coloured == told
