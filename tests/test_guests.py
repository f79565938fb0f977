from __future__ import annotations

import datetime as dt
import gc
import tracemalloc
import zipfile
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment

from mailmerge.checks.cells import check_cells
from mailmerge.checks.spelling import check_spelling
from mailmerge.findings import InputError
from mailmerge.guests import Guest, Hand, fold, open_list
from mailmerge.guests.cleaning import clean
from mailmerge.guests.columns import recognised
from mailmerge.guests.hands import hand_of


def workbook(path: Path, *rows: tuple[object, ...], title: str = "Sheet") -> Path:
    book = Workbook()
    book.active.title = title
    for row in rows:
        book.active.append(row)
    book.save(path)
    return path


def guests_of(path: Path, sheet: str | None = None, **columns: str) -> list[Guest]:
    return list(open_list(path, sheet, columns).guests())


# -- formats -----------------------------------------------------------------------------------

TEXT = "Name;Instrument;Hand\nZoë Ångström;Violin;L\nJosé;Horn;\n"


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
)
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_text_lists_in_every_encoding_and_delimiter(
    tmp_path: Path, encoding: str, delimiter: str
) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(TEXT.replace(";", delimiter).encode(encoding))
    opened = open_list(path, None, {})
    guests = list(opened.guests())
    assert [(g.name, g.fields["role"], g.hand) for g in guests] == [
        ("Zoë Ångström", "Violin", Hand.LEFT),
        ("José", "Horn", Hand.RIGHT),
    ]
    assert bool(opened.guessed) == (encoding == "cp1252")


def test_commas_inside_names_do_not_win_over_the_real_delimiter(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("Name;Part\nLi, Mei;Alto, second\nOh, Jun;Bass, first\n", encoding="utf-8")
    assert [g.name for g in guests_of(path)] == ["Li, Mei", "Oh, Jun"]


def test_a_quoted_line_break_is_one_row(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text('Name,Role\n"Keiko\nTanabe",Harp\nJo,Horn\n', encoding="utf-8")
    guests = guests_of(path)
    assert [(g.row, g.name) for g in guests] == [(2, "Keiko Tanabe"), (3, "Jo")]


def ods(path: Path, rows: str, more: str = "", styles: str = "") -> Path:
    """Write the least that OpenDocument 1.2 part 1 asks of a spreadsheet."""
    space = "urn:oasis:names:tc:opendocument:xmlns:"
    content = (
        f'<?xml version="1.0"?><office:document-content xmlns:office="{space}office:1.0" '
        f'xmlns:table="{space}table:1.0" xmlns:text="{space}text:1.0" '
        f'xmlns:style="{space}style:1.0" xmlns:fo="{space}xsl-fo-compatible:1.0" '
        f'office:version="1.2">{styles}<office:body><office:spreadsheet>'
        f'<table:table table:name="Guests">{rows}</table:table>'
        f"{more}</office:spreadsheet></office:body></office:document-content>"
    )
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", kind)
        archive.writestr("content.xml", content)
        archive.writestr(
            "META-INF/manifest.xml",
            f'<manifest:manifest xmlns:manifest="{space}manifest:1.0">'
            f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{kind}"/>'
            f"</manifest:manifest>",
        )
    return path


def ods_row(*cells: str, attributes: str = "") -> str:
    inside = "".join(
        f'<table:table-cell office:value-type="string"><text:p>{text}</text:p></table:table-cell>'
        for text in cells
    )
    return f"<table:table-row{attributes}>{inside}</table:table-row>"


def test_opendocument_lists(tmp_path: Path) -> None:
    path = ods(
        tmp_path / "list.ods",
        ods_row("Guest", "Part")
        + ods_row("Zoë", "Violin")
        + ods_row("Gone", "Horn", attributes=' table:visibility="collapse"')
        + ods_row("Jo", "Cello"),
    )
    opened = open_list(path, None, {})
    assert [(g.row, g.name) for g in opened.guests()] == [(2, "Zoë"), (4, "Jo")]
    assert opened.survey().hidden_rows == (3,)


# -- cells -------------------------------------------------------------------------------------


def test_what_real_workbooks_hold(tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    sheet["A1"] = "Winter gala: the players"
    sheet.merge_cells("A1:D1")
    for column, header in enumerate(("Name:", "PART ", "How many", "Hand (l/r)"), start=1):
        sheet.cell(3, column, header)
    sheet["A4"] = CellRichText(TextBlock(InlineFont(b=True), "Zoë"), " Lind")
    sheet["B4"] = "Violin"
    sheet.merge_cells("B4:B6")  # one role for three players
    sheet["A5"] = 4711
    sheet["A6"] = dt.datetime(2026, 5, 1)
    sheet["A8"] = '="Jo"&" Ek"'  # openpyxl writes no result beside a formula
    sheet["C8"] = 2
    sheet["A9"] = "Hidden Guest"
    sheet.row_dimensions[9].hidden = True
    sheet["A10"] = "Ann Lee"
    sheet["C10"] = 0
    sheet["A11"] = "Bo Lee"
    sheet["C11"] = "a few"
    sheet["A12"] = "Cy Lee"
    sheet["D12"] = "both"
    path = tmp_path / "list.xlsx"
    book.save(path)
    opened = open_list(path, None, {})
    by_row = {guest.row: guest for guest in opened.guests()}
    assert sorted(by_row) == [4, 5, 6, 8, 11, 12]
    assert by_row[4].name == "Zoë Lind"
    assert [by_row[row].fields["role"] for row in (4, 5, 6)] == ["Violin"] * 3
    assert by_row[5].name == "4711"
    assert [(t.field, t.kind, t.found) for t in by_row[6].troubles] == [
        ("name", "date", "2026-05-01")
    ]
    assert [(t.field, t.kind) for t in by_row[8].troubles] == [("name", "no-value")]
    assert by_row[8].quantity == 2
    assert [t.kind for t in by_row[11].troubles] == ["quantity"]
    assert [t.kind for t in by_row[12].troubles] == ["hand"]
    survey = opened.survey()
    assert (survey.guests, survey.items, survey.count.hidden) == (6, 7, 1)
    assert survey.none_wanted == (10,)


def test_workbook_dates_are_those_of_the_standard(tmp_path: Path) -> None:
    # ECMA-376 part 1, date systems: serial 45000 is 2023-03-15 in the 1900 system.
    book = Workbook()
    book.active.append(("Name",))
    cell = book.active.cell(2, 1, 45000)
    cell.number_format = "d mmm yyyy"
    book.save(tmp_path / "list.xlsx")
    (guest,) = guests_of(tmp_path / "list.xlsx")
    assert guest.troubles[0].found == "2023-03-15"


# As spreadsheet programs write them into a text file; common practice without a source.
OTHER_THAN_TEXT = [
    ("2024-05-03", "date"), ("2024-05-03 00:00:00", "date"), ("5-May", "date"), ("May-24", "date"),
    ("03/05/2024", "date"), ("3.5.24", "date"), ("12:30", "date"), ("5. Mai", "date"),
    ("#REF!", "error"), ("#N/A", "error"), ("#NAME?", "error"), ("Err:508", "error"),
    ("TRUE", "truth"), ("FALSE", "truth"), ("=A2", "formula"), ('=B2&" "&C2', "formula"),
    ("+A2", "formula"), ("45356", "number"), ("1,5", "number"), ("1.2E+10", "number"),
    ("12 %", "number"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind"), OTHER_THAN_TEXT)
@pytest.mark.parametrize("ending", ["csv", "tsv", "xlsx"])
def test_what_is_no_text_in_a_workbook_is_none_in_a_text_file(
    tmp_path: Path, ending: str, text: str, kind: str
) -> None:
    path = tmp_path / f"l.{ending}"
    if ending == "xlsx":
        workbook(path, ("Name", "Role"), ("'" + text, "Horn"))
        book = load_workbook(path)
        book.active["A2"].value, book.active["A2"].data_type = text, "s"
        book.save(path)
    else:
        quoted = '"' + text.replace('"', '""') + '"'
        path.write_text(f"Name{',' if ending == 'csv' else TAB}Role\n{quoted}"
                        f"{',' if ending == 'csv' else TAB}Horn\n", encoding="utf-8")  # fmt: skip
    (guest,) = guests_of(path)
    assert [(trouble.field, trouble.kind) for trouble in guest.troubles] == [("name", kind)]


TAB = "\t"


def test_numbers_and_truth_values_of_workbooks_are_no_names(tmp_path: Path) -> None:
    path = workbook(tmp_path / "l.xlsx", ("Name", "Role"), (45356, "Horn"), (True, "Oboe"))
    number, truth = guests_of(path)
    assert [trouble.kind for trouble in number.troubles] == ["number"]
    assert [trouble.kind for trouble in truth.troubles] == ["truth"]
    path = ods_of(tmp_path / "l.ods")
    assert [[t.kind for t in guest.troubles] for guest in guests_of(path)] == [
        ["number"],
        ["truth"],
    ]


def ods_of(path: Path) -> Path:
    """Write an OpenDocument list with a number and a truth value for names."""
    number = '<table:table-cell office:value-type="float" office:value="45356"/>'
    truth = '<table:table-cell office:value-type="boolean" office:boolean-value="true"/>'
    role = "<table:table-cell office:value-type='string'><text:p>Oboe</text:p></table:table-cell>"
    rows = "".join(f"<table:table-row>{cell}{role}</table:table-row>" for cell in (number, truth))
    return ods(path, ods_row("Name", "Role") + rows)


def test_words_that_a_person_can_bear_are_text(tmp_path: Path) -> None:
    path = tmp_path / "l.csv"
    path.write_text("Name,Surname,Role\nTrue,Hansen,Alto\nNull,May,Oboe\nMay,Berg,Horn 2\n")
    assert [guest.troubles for guest in guests_of(path)] == [(), (), ()]


def test_a_name_merged_over_two_rows_is_one_guest(tmp_path: Path) -> None:
    book = Workbook()
    book.active.append(("Name", "Note"))
    book.active.append(("Zoë Lind", "likes tea"))
    book.active.append((None, None))
    book.active.append(("Jo Ek", None))
    book.active.merge_cells("A2:A3")
    book.save(tmp_path / "list.xlsx")
    assert [g.row for g in guests_of(tmp_path / "list.xlsx")] == [2, 4]


def test_a_name_merged_over_two_cups_is_told_as_such(tmp_path: Path) -> None:
    book = Workbook()
    for row in (("Name", "Role"), ("Zoë Lind", "Horn"), (None, "Tuba"), ("Jo Ek", "Horn")):
        book.active.append(row)
    book.active.merge_cells("A2:A3")
    book.save(tmp_path / "list.xlsx")
    found = [[t.kind for t in guest.troubles] for guest in guests_of(tmp_path / "list.xlsx")]
    assert found == [[], ["merged"], []]
    (_, merged, _) = guests_of(tmp_path / "list.xlsx")
    said = check_cells(merged, frozenset(["name", "role"]))
    assert [(f.code, str(f.severity)) for f in said] == [("merged-cell", "warning")]


def test_a_comment_hides_no_doubt_about_the_name_that_it_stands_on(tmp_path: Path) -> None:
    book = Workbook()
    for row in (("Name", "Role"), ("TBA", "Horn")):
        book.active.append(row)
    book.active["A2"].comment = Comment("ask Ruth", "client")
    book.save(tmp_path / "list.xlsx")
    (guest,) = guests_of(tmp_path / "list.xlsx")
    found = {f.code for f in check_spelling(guest, frozenset(["name", "role"]))}
    assert found == {"not-a-name"}


def test_colours_of_another_format_are_told(tmp_path: Path) -> None:
    yellow = (
        '<office:automatic-styles><style:style style:name="y"><style:table-cell-properties '
        'fo:background-color="#ffff00"/></style:style></office:automatic-styles>'
    )
    rows = [ods_row(f"Ann Moe{letter}", "Horn") for letter in "abcdefghijkl"]
    for at in (2, 7):
        rows[at] = rows[at].replace(
            "<table:table-cell", '<table:table-cell table:style-name="y"', 1
        )
    path = ods(tmp_path / "list.ods", ods_row("Name", "Role") + "".join(rows), styles=yellow)
    opened = open_list(path, None, {})
    assert opened.coloured == (4, 9)
    assert opened.sheet.grounds() == {(4, 0): (1.0, 1.0, 0.0), (9, 0): (1.0, 1.0, 0.0)}


def test_endless_cells_are_cut_and_said(tmp_path: Path) -> None:
    path = workbook(tmp_path / "list.xlsx", ("Name",), ("x" * 5000,))
    (guest,) = guests_of(path)
    assert len(guest.name) == 300
    assert guest.troubles[0].kind == "length"


# -- columns and sheets ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("header", "field"),
    [
        ("Name", "name"), ("FULL NAME", "name"), ("guest", "name"),
        ("Name (as on the cup)", "name"),
        ("Role", "role"), ("Part", "role"), ("Title", "role"), ("Position:", "role"),
        ("Hand", "hand"), ("Quantity", "quantity"), ("qty", "quantity"), ("How many?", "quantity"),
        ("Side", "side"), ("Note", "note"),
    ],
)  # fmt: skip
def test_the_words_that_clients_use(tmp_path: Path, header: str, field: str) -> None:
    row = (header,) if field == "name" else ("Whatever", header, "Guest name")
    opened = open_list(workbook(tmp_path / "l.xlsx", row, ("a", "b", "c")), None, {})
    assert opened.columns.titles[field] == header.strip()


# As guest lists of these languages have them; common practice without a source.
HEADINGS = [
    ("Pupil", "name"), ("Player's name", "name"), ("Élève", "name"), ("Nome próprio", "first"),
    ("Attendee", "name"), ("Participant", "name"), ("Invitee", "name"), ("Nom", "name"),
    ("Nombre", "name"), ("Naam", "name"), ("Gast", "name"), ("Teilnehmer:in", "name"),
    ("Jméno a příjmení", "name"), ("Ad Soyad", "name"), ("Imię i nazwisko", "name"),
    ("Vorname", "first"), ("Prénom", "first"), ("Förnamn", "first"), ("Nachname", "last"),
    ("APELLIDOS", "last"), ("Cognome", "last"), ("Příjmení", "last"), ("What they do", "role"),
    ("Funktion", "role"), ("Métier", "role"), ("Lefty?", "hand"), ("Linkshänder", "hand"),
    ("Gaucher", "hand"), ("Cup", "blank"), ("Becher", "blank"), ("Colour", "coat"),
    ("first_name", "first"), ("LastName", "last"), ("FName", "first"), ("NAME OF PLAYER", "name"),
    ("Name des Gastes", "name"), ("Names of the guests", "name"), ("Nom de l'invité", "name"),
    ("Name of table", None), ("Nom de famille", "last"), ("Your name", "name"), ("Who", "name"),
    ("Musiker", "name"), ("Text on cup", "name"), ("Plays", "role"), ("Second line", "role"),
    ("Farbe", "coat"), ("Anzahl", "quantity"), ("Cantidad", "quantity"), ("Bemerkungen", "note"),
    ("Meno", "name"), ("Úloha", "role"), ("Vārds", "first"), ("Uzvārds", "last"),
    ("Engrave", "name"),
    ("Line 2", "role"), ("Text 1", "name"), ("Under the name", "role"), ("ROLE / PART", "role"),
    ("Their job", "role"), ("Họ và tên", "name"), ("Nhạc cụ", "role"), ("Ім'я", "name"),
    ("Прізвище", "last"), ("ชื่อ", "name"), ("الاسم الكامل", "name"), ("כלי נגינה", "role"),
    ("Role / instrument", "role"), ("What they play", "role"), ("Seat", "role"),
    ("Имя и фамилия", "name"), ("Förnamn och efternamn", "name"), ("Personne", "name"),
    ("Name / role", None), ("First name and role", None),
    ("Vloga", "role"), ("Pavardė", "last"), ("Perekonnanimi", "last"), ("嘉宾", "name"),
]  # fmt: skip


@pytest.mark.parametrize(("header", "field"), HEADINGS)
def test_headings_in_many_languages(header: str, field: str | None) -> None:
    assert recognised([header]) == ([(field, 0)] if field else [])


@pytest.mark.parametrize(
    ("headers", "found"),
    [
        (("Name", "Engrave"), [("name", 0)]),
        (("Line 1", "Line 2"), [("name", 0), ("role", 1)]),
        (("First", "Last", "Text 1"), [("first", 0), ("last", 1)]),
        (("Name", "Role", "Line 2"), [("name", 0), ("role", 1)]),
        (("Name", "Section", "Line 2"), [("name", 0)]),
    ],
)
def test_what_may_stand_above_names_or_roles_does_where_nothing_else_does(
    headers: tuple[str, ...], found: list[tuple[str, int]]
) -> None:
    assert recognised(headers) == found


@pytest.mark.parametrize(
    "headers",
    [("Vorname", "Name"), ("Prénom", "Nom"), ("Nombre", "Apellidos"), ("Jméno", "Příjmení"),
     ("Prenume", "Nume"), ("Ime", "Prezime"), ("First name", "Name"), ("Förnamn", "Efternamn")],
)  # fmt: skip
def test_first_and_last_names_make_one(tmp_path: Path, headers: tuple[str, str]) -> None:
    path = workbook(tmp_path / "l.xlsx", (*headers, "Role"), ("Ida", "Quist", "Horn"))
    (guest,) = guests_of(path)
    assert (guest.name, guest.fields["first"], guest.fields["last"]) == (
        "Ida Quist", "Ida", "Quist",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "quantity"),
    [("2", 2), ("2 pcs", 2), ("x2", 2), ("2x", 2), ("3 Stück", 3), ("2.0", 2), ("12 cups", 12),
     ("1 pc.", 1), ("two", 2), ("Three cups", 3), ("zehn", 10), ("×2", 2), ("2 ×", 2),
     ("(1)", 1), ("x", None), ("(", None), ("couple", None),
     ("2 or 3", None), ("-1", None), ("2.5", None)],
)  # fmt: skip
def test_quantities(tmp_path: Path, text: str, quantity: int | None) -> None:
    path = workbook(tmp_path / "l.xlsx", ("Name", "Quantity"), ("Ida Quist", text))
    (guest,) = guests_of(path)
    assert [t.kind for t in guest.troubles] == ([] if quantity else ["quantity"])
    assert guest.quantity == (quantity or 1)


def kinds_of(path: Path) -> dict[str, list[tuple[str, str]]]:
    return {g.name: [(t.kind, t.found) for t in g.troubles] for g in guests_of(path)}


def test_a_comma_in_a_text_file_parts_a_name(tmp_path: Path) -> None:
    path = tmp_path / "l.csv"
    path.write_text("Name,Role\nHale, Maren,Horn\nIda Quist,Oboe,,\nBo Dahl\n")
    assert kinds_of(path) == {
        "Hale": [("wider", "Horn")],
        "Ida Quist": [],
        "Bo Dahl": [("narrower", "Role")],
    }


def test_an_open_quotation_mark_swallows_no_guest_in_silence(tmp_path: Path) -> None:
    path = tmp_path / "l.csv"
    path.write_text('Name,Role\n"Ida Quist,Oboe\nBo Dahl,Horn\nCleo Ward,Viola\n')
    (troubles,) = kinds_of(path).values()
    assert ("swallowed", "Bo Dahl,Horn") in troubles
    path.write_text(
        'Name,Role,Note\nIda Quist,Oboe,"tea, no milk\nand two sugars"\nBo Dahl,Horn,\n'
    )
    assert kinds_of(path) == {"Ida Quist": [], "Bo Dahl": []}


def test_what_stands_beside_a_table_is_no_part_of_it(tmp_path: Path) -> None:
    path = workbook(
        tmp_path / "l.xlsx", ("Name", "Role"), ("Ida Quist", "Oboe", None, "by Friday!")
    )
    assert kinds_of(path) == {"Ida Quist": [("beside", "by Friday!")]}


def test_what_stands_in_a_column_without_a_header_is_told(tmp_path: Path) -> None:
    path = tmp_path / "l.csv"
    path.write_text("Name,,Role\nIda Quist,vegan,Oboe\nBo Dahl,,Horn\n")
    assert kinds_of(path) == {"Ida Quist": [("beside", "vegan")], "Bo Dahl": []}


@pytest.mark.parametrize("header", ["Section", "Funktie", "Sectie", "Funcție", "役割"])
def test_headings_above_roles_of_other_languages(tmp_path: Path, header: str) -> None:
    path = tmp_path / "l.csv"
    path.write_text(f"Name,{header}\nIda Quist,Oboe\n", encoding="utf-8")
    assert next(iter(open_list(path, None, {}).guests())).fields["role"] == "Oboe"


def test_a_section_is_no_role_where_there_is_a_role(tmp_path: Path) -> None:
    path = tmp_path / "l.csv"
    path.write_text("Name,Section,Instrument\nIda Quist,Winds,Oboe\n", encoding="utf-8")
    assert next(iter(open_list(path, None, {}).guests())).fields["role"] == "Oboe"


@pytest.mark.parametrize("again", [("Name", "Role"), ("NAME", "role "), ("Guest", "Part")])
def test_a_header_that_comes_again_is_no_guest(tmp_path: Path, again: tuple[str, str]) -> None:
    rows = [("Name", "Role"), ("Ida Quist", "Oboe"), again, ("Bo Dahl", "Horn")]
    found = kinds_of(workbook(tmp_path / "l.xlsx", *rows))
    assert found[again[0].strip()] == [("header", "")]
    assert found["Bo Dahl"] == []


def test_a_second_table_with_other_columns_is_not_read_by_the_first_ones(tmp_path: Path) -> None:
    rows = [("Name", "Role"), ("Ida Quist", "Oboe"), ("Role", "Name"), ("Horn", "Bo Dahl")]
    found = kinds_of(workbook(tmp_path / "l.xlsx", *rows))
    assert found == {
        "Ida Quist": [], "Role": [("below-header", "")], "Horn": [("below-header", "")],
    }  # fmt: skip


def test_two_people_called_by_headings_are_guests(tmp_path: Path) -> None:
    rows = [("Name", "Role"), ("Gast", "Horn"), ("Ida Last", "Part")]
    assert kinds_of(workbook(tmp_path / "l.xlsx", *rows)) == {"Gast": [], "Ida Last": []}


def test_a_list_parted_by_bars(tmp_path: Path) -> None:
    path = tmp_path / "l.csv"
    path.write_text("Name|Role\nIda Quist|Horn\nBo Dahl|Oboe, cor anglais\n")
    assert [guest.fields["role"] for guest in guests_of(path)] == ["Horn", "Oboe, cor anglais"]


def test_first_and_last_name_in_any_order(tmp_path: Path) -> None:
    path = workbook(tmp_path / "l.xlsx", ("Surname", "Part", "First name"), ("Lind", "Horn", "Zoë"))
    (guest,) = guests_of(path)
    assert (guest.name, guest.fields["first"], guest.fields["last"]) == ("Zoë Lind", "Zoë", "Lind")


def test_name_beside_surname_is_the_first_name(tmp_path: Path) -> None:
    path = workbook(tmp_path / "l.xlsx", ("Name", "Surname"), ("Ann", "Smith"), ("Bo Ek", "Ek"))
    assert [g.name for g in guests_of(path)] == ["Ann Smith", "Bo Ek"]


def test_columns_that_are_not_used_are_known(tmp_path: Path) -> None:
    path = workbook(tmp_path / "l.xlsx", ("Name", "Table", None, "Diet"), ("Ann", "4"))
    assert open_list(path, None, {}).columns.unused == ("Table", "Diet")


def test_the_order_may_name_columns(tmp_path: Path) -> None:
    path = workbook(
        tmp_path / "l.xlsx", ("Wer", "Tisch", "Name"), ("Zoë", "4", "x"), ("Jo", "5", "y")
    )
    guests = guests_of(path, name="wer", table="Tisch")
    assert [(g.name, g.fields["table"]) for g in guests] == [("Zoë", "4"), ("Jo", "5")]
    with pytest.raises(
        InputError, match=r'\[columns\] name: No column is called "Wr"\. Did you mean "Wer"'
    ):
        guests_of(path, name="Wr", table="Tisch")


@pytest.mark.parametrize(
    ("header", "says"),
    [
        (("Guest", "Name"), r'Two columns could be the name: "Guest" \(A\) and "Name" \(B\)'),
        (
            ("Name", "Part", "Title"),
            r'Two columns could be the role: "Part" \(B\) and "Title" \(C\)',
        ),
        (("Wer", "Was"), r'No name column was found.* holds "Wer" \(a\), "Was" \(b\)\. Give'),
    ],
)
def test_unclear_columns_are_an_error(tmp_path: Path, header: tuple[str, ...], says: str) -> None:
    with pytest.raises(InputError, match=says):
        open_list(workbook(tmp_path / "l.xlsx", header, ("a", "b", "c")[: len(header)]), None, {})


def test_the_sheet_with_the_names_is_found_or_asked_for(tmp_path: Path) -> None:
    book = Workbook()
    book.active.title = "Budget"
    book.active.append(("Item", "Cost"))
    book.create_sheet("Players").append(("Name", "Part"))
    book["Players"].append(("Zoë", "Violin"))
    book.save(tmp_path / "l.xlsx")
    assert open_list(tmp_path / "l.xlsx", None, {}).sheet.name == "Players"
    book.create_sheet("Choir").append(("Name", "Part"))
    book["Choir"].append(("Jo", "Bass"))
    book.save(tmp_path / "l.xlsx")
    with pytest.raises(InputError, match='Several sheets have a name column: "Players", "Choir"'):
        open_list(tmp_path / "l.xlsx", None, {})
    assert guests_of(tmp_path / "l.xlsx", "Choir")[0].name == "Jo"
    with pytest.raises(InputError, match=r'no sheet "Chior"\. Did you mean "Choir"'):
        open_list(tmp_path / "l.xlsx", "Chior", {})


# -- cleaning ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("before", "after", "kinds"),
    [
        ("Zoë", "Zoë", ()),
        ("  Zoë \u00a0 Lind ", "Zoë Lind", ("blanks",)),
        ("Zoe\u0308", "Zoë", ("composition",)),  # UAX #15: form NFC composes e + diaeresis
        ("Zo\u200bë\u00ad", "Zoë", ("invisible",)),
        ("Zo\x07ë", "Zoë", ("invisible",)),
        ("FranÃ§ois", "François", ("encoding",)),
        ("Keiko\nTanabe", "Keiko Tanabe", ("blanks",)),
        ("ZOË", "ZOË", ()),
        ("Zoë (violin)", "Zoë (violin)", ()),
        ("می\u200cخواهم", "می\u200cخواهم", ()),  # a non-joiner is part of Persian spelling
        ("Zo\u200cë", "Zoë", ("invisible",)),
        ("Anthony\U000e01efLane", "AnthonyLane", ("invisible",)),  # chooses no form of a y
        ("An\ufe00na\U000e0041", "Anna", ("invisible",)),  # a selector, a letter of a tag
        ("Anna\u3164Lane", "Anna Lane", ("blanks",)),  # Hangul's filler looks like a blank
        ("葛\U000e0100城", "葛\U000e0100城", ()),  # a form of 葛 that its owner writes
        ("Zo\u202eë", "Zo\u202eë", ()),  # a direction override is a finding, not cleaned away
        ("Ã", "Ã", ()),
        ("O’Hara", "O’Hara", ()),
    ],
)
def test_cleaning_changes_only_what_cannot_be_meant(
    before: str, after: str, kinds: tuple[str, ...]
) -> None:
    text, changes = clean("name", before)
    assert text == after
    assert tuple(change.kind for change in changes) == kinds
    if changes:
        assert changes[0].before == before
        assert changes[-1].after == after


def test_every_letter_survives_cleaning() -> None:
    import unicodedata

    for code in range(0x20, 0x3000):
        char = chr(code)
        if unicodedata.category(char)[0] == "L" and unicodedata.normalize("NFC", char) == char:
            if code in (0x115F, 0x1160):  # Hangul fillers show nothing though they are letters
                continue
            assert clean("name", f"A{char}a")[0] == f"A{char}a", hex(code)


@pytest.mark.parametrize(
    ("text", "hand"),
    [("", Hand.RIGHT), ("l", Hand.LEFT), ("LEFT", Hand.LEFT), ("Left-handed", Hand.LEFT),
     ("LH", Hand.LEFT), (" r ", Hand.RIGHT), ("right", Hand.RIGHT), ("both", None),
     ("links", None)],
)  # fmt: skip
def test_hands(text: str, hand: Hand | None) -> None:
    assert hand_of(text) is hand


@pytest.mark.parametrize(
    ("header", "cells", "hands"),
    [
        ("Lefty?", ("yes", "No", "", "x", "right"), "LRRLR"),
        ("Linkshänder (j/n)", ("ja", "nein", "", "J", "l"), "LRRLL"),
        ("Right-handed?", ("no", "Yes", "left", "N", ""), "LRLL?"),
        ("Rechtshänder", ("nein", "ja", "x", "", "?"), "LRR??"),
        ("Hand", ("yes", "no", "", "l", "r"), "??RLR"),  # yes to what?
        ("Left or right", ("yes", "x", "", "left", "right"), "??RLR"),
    ],
)
def test_yes_is_the_hand_that_the_header_asks_for(
    tmp_path: Path, header: str, cells: tuple[str, ...], hands: str
) -> None:
    path = workbook(tmp_path / "l.xlsx", ("Name", header), *(("Ann Berg", c) for c in cells))
    found = [
        "?" if any(t.kind == "hand" for t in guest.troubles) else guest.hand.name[0]
        for guest in guests_of(path)
    ]
    assert "".join(found) == hands


def test_a_box_that_is_ticked_is_a_yes(tmp_path: Path) -> None:
    path = workbook(tmp_path / "l.xlsx", ("Name", "Lefty?"), ("Ann", True), ("Bo", False))
    assert [(g.hand, g.troubles) for g in guests_of(path)] == [(Hand.LEFT, ()), (Hand.RIGHT, ())]


def test_duplicates_are_found_after_folding(tmp_path: Path) -> None:
    assert fold("Zoë  LINDQVIST") == fold("zoe lindqvist")
    path = workbook(
        tmp_path / "l.xlsx", ("Name",), ("Zoë Lind",), ("Jo",), ("zoe  lind",), ("ZOELIND",)
    )
    opened = open_list(path, None, {})
    survey = opened.survey()
    same = [[remark.rows for remark in survey.remarks(guest)] for guest in opened.guests()]
    assert same == [[(4, 5)], [], [(2, 5)], [(2, 4)]]


# -- length ------------------------------------------------------------------------------------


@pytest.mark.long
def test_a_long_list_streams(tmp_path: Path) -> None:
    """Six times the rows do not take more memory than the sixteen bytes a row of the survey."""

    def peak(rows: int) -> int:
        path = tmp_path / f"{rows}.csv"
        with path.open("w", encoding="utf-8") as file:
            file.write("Name,Role\n")
            file.writelines(f"Guest Number {n},Violin\n" for n in range(rows))
        opened = open_list(path, None, {})
        tracemalloc.start()
        assert opened.survey().guests == rows
        assert sum(1 for _ in opened.guests()) == rows
        _, highest = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        return highest

    small, large = peak(1_000), peak(6_000)
    assert large - small < 5_000 * 16 * 5  # sorting the keys copies them a few times


@pytest.mark.long
def test_a_long_workbook_streams(tmp_path: Path) -> None:
    def peak(rows: int) -> int:
        book = Workbook(write_only=True)
        sheet = book.create_sheet("Guests")
        sheet.append(("Name", "Role"))
        for n in range(rows):
            sheet.append((f"Guest {n % 50}", "Violin"))
        book.save(tmp_path / f"{rows}.xlsx")
        opened = open_list(tmp_path / f"{rows}.xlsx", None, {})
        gc.collect()
        tracemalloc.start()
        assert sum(1 for _ in opened.guests()) == rows
        _, highest = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        return highest

    ours = gc.get_threshold()
    gc.set_threshold(700, 10, 10)  # as Python has it; tests let garbage lie for longer
    try:
        peak(300)  # what is made at the first reading stays
        grown = peak(4_000) - peak(1_000)
    finally:
        gc.set_threshold(*ours)
    # openpyxl leaves 60 to 210 bytes of each row behind; rows that were kept took 700 each.
    assert grown < 3_000 * 400
