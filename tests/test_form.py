"""The form for a guest list: what it asks, that it reads without a question, and its examples."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet
from outside import run
from shop import GUESTS, Shop

from demo.make_list import GUESTS as GALA
from mailmerge.artwork import Layout
from mailmerge.blanks import Blank
from mailmerge.checks.naming import is_remark
from mailmerge.cli.common import READY, STOPPED
from mailmerge.deeds import form, making, newer
from mailmerge.deeds.making import Given
from mailmerge.deeds.questions import Question
from mailmerge.findings import Severity
from mailmerge.guests import open_list
from mailmerge.guests.columns import recognised
from mailmerge.guests.examples import MARKS, is_example
from mailmerge.guests.hands import Hand, hand_of
from mailmerge.orders.said import list_of
from mailmerge.proofs.pack import Sender, words as said
from mailmerge.proofs.pack.form import Asked, ListForm, hands, title_of, write_form
from mailmerge.proofs.pack.languages import ENGLISH, Language, known
from mailmerge.shelves import load, shelf

AS_IT_IS_TO_STAND = {
    "HANNELORE WEISS": "Hannelore Weiss", "pádraig o'dea": "Pádraig O'Dea",
    dt.date(2026, 5, 1): "May Day", "Keiko\nTanabe": "Keiko Tanabe",
    "Tomás (bass)": "Tomás Ribeiro",
    "FranÃ§ois BÃ©langer": "François Bélanger", "Marta Oduya \N{VIOLIN}": "Marta Oduya",
    "Pаvel Sorokin": "Pavel Sorokin", "Bartholomew Aldous Whittingstall-Greene": "Bart Greene",
}  # fmt: skip
"""What the secretary of the demo's club types where the form says *exactly as on the cup*."""
LEFT = ("l", "left", "links")
AS_TYPED: list[dict[str, object]] = [
    {
        "Name": AS_IT_IS_TO_STAND.get(name, name),  # type: ignore[call-overload]
        "Role": role,
        "Hand": "Left hand" if str(hand).casefold() in LEFT else None,
    }
    for name, role, hand, quantity, _ in GALA
    if quantity != 0 and name != "zoe lindqvist"
]
ABOUT_CUPS = ("name-too-long", "letter-missing")
"""What no list can help: a name that is longer than the cup, and letters that a font lacks."""
UTF_8 = "Text - txt - csv (StarCalc):44,34,76"
LANGUAGES = [Language(tag) for tag in known()]
EVERY = ("name", "first", "last", "role", "hand", "coat", "blank", "motif")
BY = dt.date(2027, 2, 3)


def blank(name: str = "handled-tumbler-40oz") -> Blank:
    return load(Blank, "blanks", name, Path())


def asked(layout: str, blanks: tuple[Blank, ...], **headings: str) -> dict[str, Asked]:
    look = load(Layout, "layouts", layout, Path())
    columns = form.asked_for(look, blanks, blanks[0].coat[0].name, ENGLISH, headings)
    return {each.field: each for each in columns}


def filled(file: Path, rows: list[Mapping[str, object]], keep_examples: bool = True) -> Path:
    """Fill a form in as people do: below the examples, or over them."""
    book = load_workbook(file)
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    head = next(row for row in sheet.iter_rows() if str(row[0].value).startswith("Name\n"))
    at = {str(cell.value).split("\n")[0]: cell.column for cell in head}
    first = head[0].row + 1 + 3 * keep_examples
    for number, row in enumerate(rows, start=first):
        for title, value in row.items():
            sheet.cell(number, at[title], value)
    book.save(file)
    return file


def written(tmp_path: Path, columns: list[Asked], language: Language = ENGLISH) -> Path:
    file = tmp_path / "form.xlsx"
    sender = Sender("Slate Yard Engraving", ("hello@slateyard.example",))
    file.write_bytes(write_form(ListForm("A gala", tuple(columns), BY, language, sender)))
    return file


def test_a_form_asks_what_layout_and_blank_use_and_no_more() -> None:
    cup = blank()
    both = asked("name-over-role", (cup,))
    assert [*both] == ["name", "role", "hand", "coat"]
    assert both["coat"].choices == tuple(each.name for each in cup.coat)
    no_handle = blank("lowball-10oz")
    assert not no_handle.handles
    assert "hand" not in asked("name-over-role", (no_handle,))
    parted = asked("monogram", (cup,))
    assert [*parted][:2] == ["first", "last"]
    assert "name" not in parted


def test_every_layout_of_the_library_gets_all_that_it_engraves() -> None:
    for name in shelf("layouts"):
        columns = asked(name, (blank(),))
        has = {*columns} | ({"name"} if {"first", "last"} <= columns.keys() else set())
        look = load(Layout, "layouts", name, Path())
        assert form._engraved(look).keys() <= has | {"first", "last"}, name


def test_the_hand_is_asked_only_where_it_changes_the_cup() -> None:
    look = load(Layout, "layouts", "name-over-role", Path())
    opposite = look.model_copy(update={"face": "opposite"})
    assert form._turns(look)
    assert not form._turns(opposite)


def test_headings_of_an_order_are_asked_for_by_their_own_names() -> None:
    columns = asked("name-over-role", (blank(),), name="Who", coat="")
    assert columns["name"].heading == "Who"
    assert "coat" not in columns


@pytest.mark.parametrize("language", LANGUAGES, ids=known())
def test_the_reader_knows_the_form_in_every_language(tmp_path: Path, language: Language) -> None:
    for field in EVERY:
        title = title_of(language, field)
        assert recognised([f"{title}\n({said.as_on_the_cup(language)})"]) == [(field, 0)], title
    right, left = hands(language)
    assert (hand_of(right), hand_of(left)) == (Hand.RIGHT, Hand.LEFT)
    columns = [Asked("name"), Asked("role"), Asked("hand", (right, left), right)]
    found = open_list(written(tmp_path, columns, language), None, {})
    assert {*found.columns.of} == {"name", "role", "hand"}
    assert not found.columns.unused
    survey = found.survey()
    assert (survey.guests, survey.count.examples, survey.count.unread) == (0, 3, 0)
    assert not survey.rows_above
    assert not any(is_remark(text) for _, text in survey.said_above)


def test_the_marks_of_examples_are_those_of_the_catalogues() -> None:
    texts = [said.example(language, "x") for language in LANGUAGES]
    assert {text.split(":")[0].strip() for text in texts} == {*MARKS}
    assert all(map(is_example, texts))
    assert not any(map(is_example, ("Example", "Exemplar: Rosa", "Rosa: Example")))


def test_every_text_of_an_example_says_that_it_is_one() -> None:
    for language in LANGUAGES:
        for field in ("name", "first", "last", "role", "seat"):
            found = said.examples(language, field)
            assert len(found) == 3
            assert all(map(is_example, found)), found


def test_examples_are_left_out_and_one_that_is_half_written_over_stops(tmp_path: Path) -> None:
    file = written(tmp_path, [Asked("name"), Asked("role")])
    over = [{"Name": "Ida Kern"}, {"Role": "Bells"}, {"Name": "Jon Ek", "Role": "Harp"}]
    filled(file, over, keep_examples=False)
    guests = {guest.row: guest for guest in open_list(file, None, {}).guests()}
    told = [(g.name, g.fields["role"], [t.field for t in g.troubles]) for g in guests.values()]
    assert told == [
        ("Ida Kern", "Example: Flute", ["role"]),
        ("Example: Zoë Abernathy", "Bells", ["name"]),
        ("Jon Ek", "Harp", []),
    ]
    order = tmp_path / "order"
    made = run("new", order, "--list", file, "--title", "A gala")
    assert made.returncode == 0, made.stderr
    checked = making.check(order)
    about = [each.finding for each in checked.causes if each.finding.code == "example-left"]
    assert {(each.field, each.severity) for each in about} == {
        ("name", Severity.STOP), ("role", Severity.STOP),
    }  # fmt: skip
    assert checked.totals.stopped == 2


@pytest.mark.parametrize("kind", ["xlsx", "ods", "csv"])
def test_a_form_that_is_filled_in_leaves_next_to_nothing_to_ask(
    tmp_path: Path, office: Callable[..., None], kind: str
) -> None:
    """The guests of the demo, as their club's secretary would pick and type them in the form.

    What is asked of them then is what no form can know.
    """
    order = tmp_path / "gala"
    form.begin(order, Given(title="Winter gala"))
    file = filled(order / form.FORM, AS_TYPED)
    office(f"csv:{UTF_8}" if kind == "csv" else kind, tmp_path / "back", file)
    back = tmp_path / "back" / file.with_suffix(f".{kind}").name
    taken = open_list(back, None, {})
    survey = taken.survey()
    assert (survey.guests, survey.count.examples) == (len(AS_TYPED), 3)
    (order / form.FORM).write_bytes(file.read_bytes())
    newer_list = newer.compare_list(order, back)
    assert not isinstance(newer_list, Question)
    assert run("take-list", order, back).returncode in (READY, STOPPED)
    checked = making.check(order)
    asks = [each.finding for each in checked.causes if each.finding.severity != Severity.NOTE]
    told = [each.message for each in asks if each.code not in ABOUT_CUPS]
    assert len(told) <= 2, told


def test_cells_are_texts_so_that_no_name_becomes_a_date(tmp_path: Path) -> None:
    book = load_workbook(written(tmp_path, [Asked("name"), Asked("role")]))
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    head = next(row[0].row for row in sheet.iter_rows() if str(row[0].value).startswith("Name"))
    cells = [cell for row in sheet.iter_rows(min_row=head + 1) for cell in row]
    assert len(cells) >= 2 * 200
    assert {cell.number_format for cell in cells} == {"@"}


def test_choices_are_offered_to_the_cells_below(tmp_path: Path) -> None:
    columns = [Asked("name"), Asked("coat", ("navy", "red, matte"), "navy")]
    sheet = load_workbook(written(tmp_path, columns)).active
    assert isinstance(sheet, Worksheet)
    (apart,) = sheet.data_validations.dataValidation  # a comma would part what is in a formula
    assert apart.formula1 == "'…'!$A$1:$A$2"
    columns = [Asked("name"), Asked("coat", ("navy", "red"), "navy")]
    sheet = load_workbook(written(tmp_path, columns)).active
    assert isinstance(sheet, Worksheet)
    (offered,) = sheet.data_validations.dataValidation
    assert offered.formula1 == '"navy,red"'
    assert "B9" in offered.sqref
    assert "A9" not in offered.sqref


def test_motifs_are_chosen_where_a_layout_leaves_a_slot(tmp_path: Path) -> None:
    """They are more than a cell may offer by itself: they stand in a sheet that nobody reads."""
    begun, formed = form.begin(tmp_path / "club", Given(layout="club", title="A club"))
    assert "Motif" in formed.titles
    book = load_workbook(formed.file)
    (offered,) = [
        each for each in book.worksheets[0].data_validations.dataValidation if "!" in each.formula1
    ]
    choices = {cell.value for cell in book.worksheets[1]["A"]}
    assert {"curling-stone", "hockey-sticks"} <= choices
    assert offered.formula1.endswith(f"$A${len(choices)}")
    filled(formed.file, [{"Name": "Ida Kern", "Motif": "curling-stone"}])
    checked = making.check(begun.file)
    assert checked.totals.items == 1
    assert not {c.finding.code for c in checked.causes} & {"motif-unclear", "motif-missing"}


def test_an_order_begins_without_a_list_and_takes_the_form_back(tmp_path: Path) -> None:
    order = tmp_path / "spring"
    call = ["new", order, "--title", "Spring concert", "--due", "2027-05-14"]
    begun = run(*call)
    assert begun.returncode == 0, begun.stderr
    assert "It asks for the list by 2027-05-07." in begun.stdout
    assert "No guest" in run("merge", order).stderr
    back = tmp_path / "back.xlsx"
    back.write_bytes((order / form.FORM).read_bytes())
    filled(back, [{"Name": g["Name"], "Role": g.get("Role")} for g in GUESTS])
    compared = newer.compare_list(order, back)
    assert not isinstance(compared, Question)
    assert len(compared.new) == len(GUESTS)
    taken = run("take-list", order, back)
    assert taken.returncode == 0, taken.stderr
    names = {guest.name for guest in open_list(back, None, {}).guests()}
    assert names == {guest["Name"] for guest in GUESTS}
    assert len([*(order / "merged").glob("**/*.svg")]) == len(GUESTS)


def test_a_form_for_an_order_never_lies_over_its_list(shop: Shop) -> None:
    made = form.list_form(shop.folder, BY)
    assert made.file == shop.folder / form.FORM
    assert made.titles[:2] == ("Name", "Role")
    own = open_list(made.file, None, {})
    assert own.survey().guests == 0
    listed = list_of(shop.folder)
    assert listed is not None
    before = listed.read_bytes()
    refused = run("form", shop.folder, "--out", listed)
    assert refused.returncode == 2
    assert "holds guests" in refused.stderr
    assert listed.read_bytes() == before


def test_begun_orders_with_columns_of_their_own_say_so(tmp_path: Path) -> None:
    look = tmp_path / "seat.toml"
    text = shelf("layouts")["name-over-role"].read_text().replace("{role}", "{seat}")
    look.write_text(text)
    begun, formed = form.begin(tmp_path / "o", Given(layout=str(look), title="A gala"))
    assert "Seat" in formed.titles
    assert 'seat = "Seat"' in begun.file.read_text()


def test_the_same_form_is_the_same_file() -> None:
    asked_of = ListForm("A gala", (Asked("name"),), BY, ENGLISH)
    assert write_form(asked_of) == write_form(asked_of)
    assert isinstance(load_workbook(BytesIO(write_form(asked_of))), Workbook)
