"""What a text in a cell really is, as spreadsheets and other programs write it."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import Workbook
from test_guests import ods

from mailmerge.checks.cells import check_cells
from mailmerge.findings import Severity
from mailmerge.guests import open_list
from mailmerge.guests.kinds import kind_of
from mailmerge.guests.tables import Kind

WRITTEN = {
    Kind.TRUTH: "TRUE FALSE true WAHR FALSCH VRAI FAUX VERDADERO FALSO VERO WAAR SANT FALSKT",
    Kind.ERROR: "#REF! #WERT! #BEZUG! #NOMBRE? #¡REF! #N/A #NV #N/D #DIV/0! ##### Err:502",
    Kind.NOTHING: "NULL NaN",
    Kind.FORMULA: "=A2 @A2 +B7 =SUM(A1:A3)",
    Kind.FIELD: "{name} {{first_name}} <<Name>> «Name» ${name} {first},{last}",
    Kind.NUMBER: "45356 -3 1,200.50 12% $45.00 €12 12€ CHF45 1e5",
    Kind.DATE: "2024-05-03 2024/5/3 3.5.2024 1/2 5-May 3.5. 10:30 Jan-24 2024年5月3日",
}
DATES = """Jan 1|Tue 3 May|12 déc.|May 3rd, 2026|3 de mayo de 2026|12. März|1 Mai 2026|
    Samstag, 12. Dez.|2024-05-03 10:30|August 12|12 December|3rd of June|10:30 pm"""
NAMES = """True|Null|Nan|May|April|August|June Carter|Mai Lan|Vero|Sant|Vero Bassi|Jan|Jan de Wit|
    Mark|Marta Juni|Zoë 2|Violin 1|Marimba 12|2 Marimba|@anna|«Zoë Lind»|#1|Anna + Bo|J. Ek|Mr. May|
    Wahr|D'Arcy|May Sept|Dec Mars|EUR Lind|Ft. Berg"""


@pytest.mark.parametrize(
    ("kind", "text"), [(kind, text) for kind, texts in WRITTEN.items() for text in texts.split()]
)
def test_what_programs_write(kind: Kind, text: str) -> None:
    assert kind_of(text) is kind


@pytest.mark.parametrize("text", [text.strip() for text in DATES.split("|")])
def test_dates_as_people_type_them(text: str) -> None:
    assert kind_of(text) is Kind.DATE


@pytest.mark.parametrize("text", [text.strip() for text in NAMES.split("|")])
def test_what_a_person_can_bear_is_a_text(text: str) -> None:
    assert kind_of(text) is Kind.TEXT


def codes(path: Path) -> list[list[str]]:
    """Return what stops the guests of a list, by guest."""
    engraved = frozenset(("name", "role"))
    return [
        [f.code for f in check_cells(guest, engraved) if f.severity is Severity.STOP]
        for guest in open_list(path, None, {}).guests()
    ]


def test_a_word_of_programs_is_a_familys_name_beside_a_name_in_capitals(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("First name,Last name\nANNA,SANT\nAnna,SANT\nBO,NULL\nBo,NULL\nCY,#REF!\n")
    stops = ["last-is-truth"], ["last-is-error"], ["last-is-error"]
    assert codes(path) == [[], stops[0], [], stops[1], stops[2]]


def test_roles_are_judged_alike_in_every_format(tmp_path: Path) -> None:
    """A truth value, an error and a date stop; a number in a role does in none."""
    wanted = [["role-is-truth"], ["role-is-error"], ["role-is-date"], []]
    (tmp_path / "list.csv").write_text("Name,Role\nAnn,TRUE\nBo,#N/A\nCy,2024-05-03\nDi,7\n")
    assert codes(tmp_path / "list.csv") == wanted
    book = Workbook()
    book.active.append(["Name", "Role"])
    for row in (("Ann", True), ("Bo", "#N/A"), ("Cy", "2024-05-03"), ("Di", 7)):
        book.active.append(row)
    book.save(tmp_path / "list.xlsx")
    assert codes(tmp_path / "list.xlsx") == wanted

    def row(name: str, about: str, text: str) -> str:
        return (
            f'<table:table-row><table:table-cell office:value-type="string"><text:p>{name}</text:p>'
            f"</table:table-cell><table:table-cell {about}><text:p>{text}</text:p>"
            f"</table:table-cell></table:table-row>"
        )

    date = 'office:value-type="date" office:date-value="2024-05-03"'
    error = 'xmlns:c="urn:c" office:value-type="string" office:string-value="" c:value-type="error"'
    rows = [
        row("Name", 'office:value-type="string"', "Role"),
        row("Ann", 'office:value-type="boolean" office:boolean-value="true"', "WAHR"),
        row("Bo", error, "#NV"),
        row("Cy", date, "3.5.24"),
        row("Di", 'office:value-type="float" office:value="7"', "7"),
    ]
    assert codes(ods(tmp_path / "list.ods", "".join(rows))) == wanted
