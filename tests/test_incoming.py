"""Nothing that came back is dropped: what is not understood is a question, and holds its cups."""

from __future__ import annotations

import contextlib
import quopri
import re
import unicodedata
from collections.abc import Callable
from itertools import product
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from conftest import Office
from openpyxl.comments import Comment
from openpyxl.styles import Font, PatternFill
from outside import run
from shop import GUESTS, Shop
from test_answers import AT, PAGE, pack_of, seal, text_of
from test_said import saved, yes

from mailmerge.answers import ticks
from mailmerge.answers.courtesies import asks_in_its_name, is_plain_name, says_more
from mailmerge.answers.incoming import Answers, Said, read_text
from mailmerge.answers.said import check_of, spaced, squashed
from mailmerge.answers.ticks import is_nothing
from mailmerge.deeds import bench, client
from mailmerge.deeds.client import Answered, Message
from mailmerge.deeds.status import Status, history, status
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import open_ledger

Sheet = Any
"""What openpyxl calls a worksheet; its types do not know which cells there are."""

NAME, ROLE, SIDE, RIGHT, CHANGE, SEAL, FREE = range(2, 9)
"""Columns of the list, counted from 1; the last one is the next that is free."""
FIRST, LAST = 6, 10
"""Rows of its five cups: item 1 stands in row 6."""


def filled_in(
    shop: Shop, fill: Callable[[Sheet], object], ticks: bool = True, name: str = "Anna Reed"
) -> Path:
    """Return the list of the pack with all cups ticked, and what else somebody does to it."""
    (path,) = (shop.folder / "proof-pack").glob("*.xlsx")
    book = openpyxl.load_workbook(path)
    sheet = book.active
    assert sheet is not None
    sheet["B3"] = name
    for row in range(FIRST, LAST + 1) if ticks else ():
        sheet.cell(row, RIGHT, "yes")
    fill(sheet)
    back = shop.folder / "back.xlsx"
    book.save(back)
    return back


def taken(shop: Shop, came: Path | Message) -> Answered:
    done = client.answers(shop.folder, came, jobs=1)
    assert isinstance(done, Answered)
    return done


def stands(shop: Shop) -> Status:
    found = status(shop.folder)
    assert isinstance(found, Status)
    return found


def asked(shop: Shop) -> list[tuple[tuple[int, ...], str, str]]:
    """Return the open questions: whom they may concern, where it stood, and what."""
    return [(each.items, each.place, each.words) for each in stands(shop).questions]


ALL = (1, 2, 3, 4, 5)


def put(row: int, column: int, text: object) -> Callable[[Sheet], object]:
    return lambda sheet: sheet.cell(row, column, text)


def comment(row: int, column: int, text: str) -> Callable[[Sheet], object]:
    def write(sheet: Sheet) -> None:
        sheet.cell(row, column).comment = Comment(text, "Anna")

    return write


def strike(row: int, *columns: int) -> Callable[[Sheet], object]:
    def write(sheet: Sheet) -> None:
        for column in columns:
            sheet.cell(row, column).font = Font(strike=True)

    return write


def second_sheet(*rows: list[str]) -> Callable[[Sheet], object]:
    def write(sheet: Sheet) -> None:
        more = sheet.parent.create_sheet("Notes")
        for row in rows:
            more.append(row)

    return write


def another_sheet(name: str, *cells: str) -> Callable[[Sheet], object]:
    def write(sheet: Sheet) -> None:
        more = sheet.parent.create_sheet(name)
        for cell in cells:
            more.append([cell])

    return write


def called(name: str) -> Callable[[Sheet], object]:
    def write(sheet: Sheet) -> None:
        sheet.title = name

    return write


def merged(cells: str) -> Callable[[Sheet], object]:
    return lambda sheet: sheet.merge_cells(cells)


def colour(row: int, column: int, digits: str) -> Callable[[Sheet], object]:
    def write(sheet: Sheet) -> None:
        sheet.cell(row, column).fill = PatternFill("solid", start_color=digits)

    return write


def nothing(_: Sheet) -> None:
    """Leave the list as it is."""


def both(*edits: Callable[[Sheet], object]) -> Callable[[Sheet], object]:
    def write(sheet: Sheet) -> None:
        for edit in edits:
            edit(sheet)

    return write


LONG = "please " * 200 + "but Bo is spelled Boh"

EDITS = {
    "a remark in the next free column": (
        put(7, FREE, "Boh, with h"),
        [((2,), "in the list, row 7, beside the table", "Boh, with h")],
    ),
    "a remark in a column of the client's own": (
        both(put(5, FREE, "Notes"), put(8, FREE, "smaller")),
        [((3,), 'in the list, row 8, column "Notes"', "smaller")],
    ),
    "a remark that is long": (
        put(7, FREE, LONG), [((2,), "in the list, row 7, beside the table", LONG)],
    ),
    "a heading of a column that is empty": (
        put(5, FREE, "All in gold?"), [(ALL, "in the list, among the headings", "All in gold?")],
    ),
    "words in the heading for a yes": (
        put(5, RIGHT, "Right? (all except 3)"),
        [(ALL, "in the list, among the headings",
          'a heading says "Right? (all except 3)"; it said "right?"')],
    ),
    "words in the place of a heading": (
        put(5, CHANGE, "All of them in gold"),
        [(ALL, "in the list, among the headings",
          'a heading says "All of them in gold"; it said "what to change"')],
    ),
    "words beside the name": (
        put(3, 3, "call me first"), [(ALL, "in the list, above the table", "call me first")],
    ),
    "words in place of the name": (
        put(3, 2, "Anna - item 2 is wrong"),
        [(ALL, "in the list, above the table", "Anna - item 2 is wrong")],
    ),
    "words below the title": (
        put(4, 1, "Bo: with h"), [(ALL, "in the list, above the table", "Bo: with h")],
    ),
    "a name of the table above it": (
        put(4, 2, "Bo Dahl"), [(ALL, "in the list, above the table", "Bo Dahl")],
    ),
    "a comment on a cup": (
        comment(7, NAME, "Boh, with h"), [((2,), "in the list, a comment on row 7", "Boh, with h")],
    ),
    "a long comment": (
        comment(7, NAME, LONG), [((2,), "in the list, a comment on row 7", LONG)],
    ),
    "a comment above the table": (
        comment(3, 2, "call me"), [(ALL, "in the list, a comment on row 3", "call me")],
    ),
    "a comment far below": (
        comment(40, 2, "call me"), [(ALL, "in the list, a comment on row 40", "call me")],
    ),
    "another sheet": (
        second_sheet(["Bo", "with h"], ["thanks"]),
        [(ALL, 'in the list, on the sheet "Notes"', "Bo / with h / thanks")],
    ),
    "an empty sheet with a name": (
        another_sheet("do not engrave cup 3"),
        [(ALL, "in the list, the name of a sheet", "do not engrave cup 3")],
    ),
    "a sheet of names with a name": (
        another_sheet("please leave out", "Anna Berg"),
        [(ALL, "in the list, the name of a sheet", "please leave out")],
    ),
    "the list's own sheet called otherwise": (
        called("cup 3 is wrong"), [(ALL, "in the list, the name of a sheet", "cup 3 is wrong")],
    ),
    "a remark over two rows": (
        both(put(6, FREE, "both wrong"), merged("H6:I7")),
        [((1,), "in the list, row 6, beside the table", "both wrong"),
         ((2,), "in the list, row 7, beside the table", "both wrong")],
    ),
    "a remark below the table": (
        put(12, NAME, "please make them all a bit smaller"),
        [(ALL, "in the list, row 12", "please make them all a bit smaller")],
    ),
    "a remark in the column of numbers": (
        put(12, 1, "Thank you so much"), [(ALL, "in the list, row 12", "Thank you so much")],
    ),
    "another side": (
        put(7, SIDE, "left-handed"), [((2,), 'in the list, row 7, column "Side"', "left-handed (")],
    ),
    "a cell that is red": (
        colour(7, RIGHT, "FF0000"),
        [((2,), "in the list, row 7", "coloured #FF0000, without a word")],
    ),
}  # fmt: skip


@pytest.mark.parametrize(("edit", "wanted"), EDITS.values(), ids=EDITS)
def test_what_is_not_understood_in_a_list_is_a_question_that_holds_its_cups(
    packed: Shop, edit: Callable[[Sheet], object], wanted: list[tuple[tuple[int, ...], str, str]]
) -> None:
    """Every cup is ticked. Whatever else somebody put there is kept, whole, and holds the cup."""
    done = taken(packed, filled_in(packed, edit))
    assert done.taken is not None
    assert len(done.taken.asked) == len(wanted)
    found = asked(packed)
    assert [(items, place) for items, place, _ in found] == [(a, b) for a, b, _ in wanted]
    for (_, _, said), (_, _, whole) in zip(found, wanted, strict=True):
        assert said.startswith(whole)
    held = {item for items, *_ in wanted for item in items}
    assert packed.standing() == {
        item: "in question" if item in held else "confirmed" for item in ALL
    }
    packed.release()
    assert packed.to_engrave().keys() == {*ALL} - held


def test_a_list_that_is_only_ticked_asks_nothing(packed: Shop) -> None:
    done = taken(packed, filled_in(packed, nothing))
    assert done.came is not None
    assert (asked(packed), done.came.said_by, done.came.left_out) == ([], "Anna Reed", ())
    assert set(packed.standing().values()) == {"confirmed"}


@pytest.mark.parametrize("name", ["Sheet2", "Tabelle2", "Feuil1", "ورقة1", "Please check (2)"])
def test_an_empty_sheet_of_a_programs_own_name_asks_nothing(packed: Shop, name: str) -> None:
    taken(packed, filled_in(packed, another_sheet(name)))
    assert asked(packed) == []


@pytest.mark.parametrize(
    "edit",
    [strike(7, NAME), strike(7, 1, *range(NAME, FREE)), strike(7, RIGHT)],
    ids=["the name", "the row", "the yes"],
)
def test_what_is_struck_out_is_never_a_yes(packed: Shop, edit: Callable[[Sheet], object]) -> None:
    """Ticks are filled down, and a row is struck out."""
    taken(packed, filled_in(packed, edit))
    ((items, place, said),) = asked(packed)
    assert (items, place) == ((2,), "in the list, row 7")
    assert said.startswith("struck out, or not to be seen: ")
    assert "Bo Dahl" in said
    assert packed.records()[2].answers == ()
    assert packed.standing()[2] == "in question"


def test_a_hidden_row_is_no_yes(packed: Shop) -> None:
    def hide(sheet: Sheet) -> None:
        sheet.row_dimensions[7].hidden = True

    taken(packed, filled_in(packed, hide))
    ((items, _, said),) = asked(packed)
    assert items == (2,)
    assert said.startswith("the row is hidden, and says: 2 · Bo Dahl")
    assert packed.records()[2].answers == ()


def test_question_marks_of_a_code_page_are_no_change_and_no_yes(packed: Shop) -> None:
    with packed.changing() as change:  # as if the pack had shown a name of another code page
        change._db.execute("UPDATE shown SET about = replace(about, 'Bo Dahl', 'Bø Đahl')")
    taken(packed, filled_in(packed, put(7, NAME, "B? ?ahl")))
    ((items, place, said),) = asked(packed)
    assert (items, place) == ((2,), 'in the list, row 7, column "Name"')
    assert said.startswith("B? ?ahl (it said: Bø Đahl;")
    assert packed.records()[2].answers == ()
    taken(packed, filled_in(packed, put(7, NAME, "B? Dahl?")))  # this is another text
    assert len(asked(packed)) == 1
    assert [each.wanted for each in packed.records()[2].answers] == [{"name": "B? Dahl?"}]


def test_a_name_changed_beside_a_tick_is_a_change(packed: Shop) -> None:
    taken(packed, filled_in(packed, put(7, NAME, "Boh Dahl")))
    assert asked(packed) == []
    assert packed.standing()[2] == "to change"
    wish = packed.records()[2].wish
    assert wish is not None
    assert wish.wanted == {"name": "Boh Dahl"}


def test_a_yes_beside_which_nothing_is_to_change_is_a_yes(packed: Shop) -> None:
    under = ["-", "None", "n/a", "no change", "✓"]
    edits = [put(FIRST + at, CHANGE, text) for at, text in enumerate(under)]
    taken(packed, filled_in(packed, both(*edits)))
    assert (asked(packed), {*packed.standing().values()}) == ([], {"confirmed"})


@pytest.mark.parametrize(
    ("text", "wants_nothing"),
    [*((each, True) for each in ("–", ".", "/", "nothing", "nil", "0", "No changes.", "OK", "ok!",
                                 "keine", "rien", "sin cambios", "bez zmian", "dim", "- -")),
     *((each, False) for each in ("", "no e", "none of it", "n", "-e", "'", "é", "no accents",
                                  "not ok", "?", "x", "y", "right", "…", "-----", "nix da"))],
)  # fmt: skip
def test_what_wants_nothing_changed(text: str, wants_nothing: bool) -> None:
    assert is_nothing(text) is wants_nothing


@pytest.mark.parametrize("under", ["no", "none", "-"])
def test_nothing_to_change_without_a_yes_is_no_yes(packed: Shop, under: str) -> None:
    taken(packed, filled_in(packed, both(put(7, CHANGE, under), put(7, RIGHT, ""))))
    assert packed.standing()[2] != "confirmed"


def test_what_stands_under_right_and_under_what_to_change_is_both_kept(packed: Shop) -> None:
    taken(packed, filled_in(packed, both(put(7, RIGHT, "no"), put(7, CHANGE, LONG))))
    wish = packed.records()[2].wish
    assert wish is not None
    assert wish.words == f"no / {LONG}"


def test_a_box_that_is_not_ticked_is_a_question_and_one_that_is_ticked_a_yes(
    packed: Shop,
) -> None:
    def boxes(sheet: Sheet) -> None:
        for row in range(FIRST, LAST + 1):
            sheet.cell(row, RIGHT, row != 7)

    taken(packed, filled_in(packed, boxes))
    assert asked(packed) == [((2,), "in the list, row 7", "boxes to tick that are not ticked")]
    assert packed.records()[2].answers == ()
    assert packed.standing()[1] == "confirmed"


def test_green_beside_a_yes_says_nothing_more(packed: Shop) -> None:
    taken(packed, filled_in(packed, colour(7, RIGHT, "92D050")))
    assert asked(packed) == []
    taken(packed, filled_in(packed, colour(8, RIGHT, "92D050"), ticks=False))
    assert [items for items, *_ in asked(packed)] == [(3,)]


def test_a_cup_that_stands_there_twice_with_two_answers_is_a_question(packed: Shop) -> None:
    def twice(sheet: Sheet) -> None:
        for column in range(1, FREE):
            sheet.cell(11, column, sheet.cell(7, column).value)
        sheet.cell(11, CHANGE, "with h")

    taken(packed, filled_in(packed, twice))
    ((items, place, said),) = asked(packed)
    assert (items, place) == ((2,), "in the list, rows 7, 11")
    assert "with h" in said
    assert packed.records()[2].answers == ()


def test_rows_that_were_sorted_are_found_by_number_and_seal(packed: Shop) -> None:
    def turned(sheet: Sheet) -> None:
        rows = [[sheet.cell(row, at).value for at in range(1, FREE)] for row in range(FIRST, 11)]
        rows[1][CHANGE - 1] = "with h"
        for row, values in zip(range(FIRST, 11), reversed(rows), strict=True):
            for at, value in enumerate(values, start=1):
                sheet.cell(row, at, value)

    taken(packed, filled_in(packed, turned))
    assert asked(packed) == []
    assert packed.standing()[2] == "to change"
    assert packed.standing()[4] == "confirmed"


def test_numbers_and_names_that_were_sorted_apart_confirm_nobody(packed: Shop) -> None:
    """Only the names are sorted: beside Anna's number and seal stands Eva now."""

    def apart(sheet: Sheet) -> None:
        names = [sheet.cell(row, NAME).value for row in range(FIRST, 11)]
        for row, name in zip(range(FIRST, 11), reversed(names), strict=True):
            sheet.cell(row, NAME, name)

    taken(packed, filled_in(packed, apart))
    standing = packed.standing()
    assert [item for item in ALL if standing[item] == "confirmed"] == [3]  # the middle one stayed


def test_a_row_that_was_taken_out_is_told_and_not_answered(packed: Shop) -> None:
    path = filled_in(packed, lambda sheet: sheet.delete_rows(7))
    said = run("answers", packed.folder, path)
    assert said.returncode == 0
    assert "Not in the list that came back, and not answered by it: item 2" in said.stdout
    assert packed.standing()[2] == "waiting"


def test_a_list_of_a_pack_that_kept_none_is_compared_with_what_it_showed(packed: Shop) -> None:
    with packed.changing() as change:
        change._db.execute("UPDATE pack SET list = NULL")
    edits = both(put(7, FREE, "Boh"), put(3, 3, "call me"), put(8, NAME, "Karla Ek"))
    taken(packed, filled_in(packed, edits))
    assert [(items, said) for items, _, said in asked(packed)] == [(ALL, "call me"), ((2,), "Boh")]
    assert packed.standing()[3] == "to change"


@pytest.mark.long
@pytest.mark.outside("soffice")
@pytest.mark.parametrize("ending", ["ods", "csv", "xlsx"])
def test_a_list_that_another_program_has_saved_asks_the_same(
    office: Office, packed: Shop, tmp_path: Path, ending: str
) -> None:
    edits = both(put(7, FREE, "Boh, with h"), comment(8, NAME, "Karla?"), strike(9, NAME),
                 put(11, NAME, "Ella Brook"), colour(10, SIDE, "FF0000"))  # fmt: skip
    path = filled_in(packed, edits)
    office(ending, tmp_path / "out", path)
    taken(packed, tmp_path / "out" / f"back.{ending}")
    found = {items: said for items, _, said in asked(packed)}
    assert found[2,] == "Boh, with h"
    assert found[()] == "Ella Brook"
    assert packed.standing()[1] == "confirmed"
    if ending == "csv":  # it holds texts alone
        assert len(found) == 2
        return
    assert found[3,].endswith("Karla?")
    assert found[4,].startswith("struck out")
    assert found[5,].startswith("coloured #FF0000")
    assert len(found) == 5


# Asked once


def test_the_same_list_asks_nothing_twice_and_one_filled_in_further_only_what_is_new(
    packed: Shop,
) -> None:
    first = put(7, FREE, "Boh, with h")
    taken(packed, filled_in(packed, first))
    again = taken(packed, filled_in(packed, first)).taken
    assert again is not None
    assert (len(again.again), again.asked) == (5, ())
    more = taken(packed, filled_in(packed, both(first, put(8, FREE, "Karla")))).taken
    assert more is not None
    assert [each.words for each in more.asked] == ["Karla"]
    client.settle(packed.folder, 1, "Ina Holm", "asked; it is Bo")
    later = taken(packed, filled_in(packed, both(first, put(9, CHANGE, "Doug")))).taken
    assert later is not None
    assert later.asked == ()


@pytest.mark.parametrize("second", ["Ben Ott", ""])
def test_the_same_words_in_the_same_cell_by_another_person_are_another_question(
    packed: Shop, second: str
) -> None:
    unsure = put(7, FREE, "not sure about this")
    taken(packed, filled_in(packed, unsure))
    client.settle(packed.folder, 1, "Ina Holm", "asked: it is right")
    assert taken(packed, filled_in(packed, unsure, name="anna  reed")).held == []
    assert taken(packed, filled_in(packed, unsure, name=second)).held == [2]
    assert packed.standing()[2] == "in question"


def test_lists_without_a_name_and_an_answer_are_not_taken_for_one(packed: Shop) -> None:
    """The same one that comes again asks nothing more while its question is open."""
    unsure = put(7, FREE, "not sure about this")
    for settled in (False, False, True):
        if settled:
            client.settle(packed.folder, 1, "Ina Holm", "asked: it is right")
        taken(packed, filled_in(packed, unsure, ticks=False, name=""))
        assert len(asked(packed)) == 1


def test_a_title_in_a_files_name_asks_for_nothing() -> None:
    assert not asks_in_its_name("not-only-jazz-list (2)", "Not only jazz")
    assert asks_in_its_name("not-only-jazz-list, wait", "Not only jazz")


@pytest.mark.parametrize("way", ["list", "page"])
def test_a_file_that_asks_for_something_in_its_name_is_a_question(packed: Shop, way: str) -> None:
    if way == "list":
        path = filled_in(packed, nothing)
    else:
        path = saved(packed, "Anna Reed", "2026-11-24T09:00:00+01:00", yes(packed, *ALL))
    taken(packed, path.rename(packed.folder / f"answers, but wait with Bo{path.suffix}"))
    assert asked(packed) == [(ALL, "the name of the file", "answers, but wait with Bo")]


# Messages


def message(shop: Shop, *said: Said) -> str:
    return text_of(pack_of(shop), *said)


def yes_to(shop: Shop, *numbers: int) -> list[Said]:
    return [Said(number, seal(shop, number), "yes") for number in numbers]


def wished(shop: Shop) -> str:
    remark = "it’s “Bo” with an é – and not in capitals, as the list has it by some mistake of ours"
    change = Said(2, seal(shop, 2), "change", remark, {"name": "Bó Dahl"})
    return message(shop, *yes_to(shop, 1, 3, 4), change)


def flowed(text: str, width: int = 76) -> str:
    """Return a text whose lines are broken before they get too long, after a blank."""
    rows = []
    for row in text.split("\n"):
        while len(row) > width:
            at = row.rindex(" ", 0, width)
            rows.append(row[: at + 1])
            row = row[at + 1 :]
        rows.append(row)
    return "\n".join(rows)


MAIL = {
    "non-breaking spaces": lambda text: text.replace(" ", "\u00a0"),
    "soft hyphens": lambda text: text.replace("answers", "ans\u00adwers").replace("Ch", "C\u00adh"),
    "no-width spaces": lambda text: text.replace(", ", ",\u200b "),
    "broken lines": flowed,
    "lines that are broken early": lambda text: flowed(text, 30),
    "joined lines": lambda text: text.replace("\n", " "),
    "quoted at several depths": lambda text: "> > " + text.replace("\n", "\n>> ", 3).replace(
        "\n", "\n> | "),
    "as a list": lambda text: "• " + text.replace("\n", "\n• "),
    "as a list with dashes": lambda text: "- " + text.replace("\n", "\n- "),
    "with stars for bold": lambda text: "*" + text.replace("\n", "*\n*") + "*",
    "blank lines between": lambda text: text.replace("\n", "\n\n"),
    "quoted-printable": lambda text: quopri.encodestring(text.encode()).decode(),
    "quoted-printable of Windows": lambda text: quopri.encodestring(text.encode("cp1252")).decode(),
    "marks of a page": lambda text: "<div>" + text.replace("\n", "<br>\n").replace(
        "é", "&eacute;") + "</div>",
    "straight quotes and dashes": lambda text: text.replace("’", "'").replace("“", '"').replace(
        "”", '"').replace("–", "-"),
    "guillemets": lambda text: text.replace("“", "«\u00a0").replace("”", "\u00a0»"),
    "bold in the midst": lambda text: text.replace("Check", "*Check*").replace("mis", "*mis*"),
    "codes in capitals": lambda text: text[:-17] + text[-17:].upper(),
    "letters taken apart": lambda text: text.replace("é", "e\u0301").replace("ó", "o\u0301"),
    "Windows' ends of lines": lambda text: text.replace("\n", "\r\n"),
}  # fmt: skip


CHANGING_SIGNS = {"straight quotes and dashes", "guillemets"}
CODE = r" [0-9a-f]{8}$"
"""The second check code of a text."""


def read_back(shop: Shop, *texts: str) -> list[Answers]:
    with open_ledger(shop.folder) as ledger:
        return [read_text(ledger, "a text", text) for text in texts]


def test_a_text_that_a_mail_program_has_changed_is_understood(packed: Shop) -> None:
    text = wished(packed)
    (plain,) = read_back(packed, text)
    assert [(each.item, each.verdict) for each in plain.said] == [
        (1, "yes"), (2, "change"), (3, "yes"), (4, "yes"),
    ]  # fmt: skip
    for how, change in MAIL.items():
        (found,) = read_back(packed, change(text))
        assert [(s.item, s.verdict) for s in found.said] == [
            (s.item, s.verdict) for s in plain.said
        ], how
        assert found.is_exact is (how not in CHANGING_SIGNS), how
        name = (found.said[1].texts or {}).get("name", "Bó Dahl")
        assert unicodedata.normalize("NFC", name) == "Bó Dahl", how
        assert bool(found.said[1].texts) is found.is_exact, how
        assert (found.beside, found.unclear) == ("", ()), how


def renamed(shop: Shop, name: str) -> str:
    return message(
        shop, Said(1, seal(shop, 1), "yes"), Said(2, seal(shop, 2), "change", "", {"name": name})
    )


@pytest.mark.parametrize(
    ("name", "was", "becomes"),
    [
        ("Jean-Paul Dahl", "Jean-Paul", "Jean-\nPaul"),
        ("Jean- Paul Dahl", "Jean- Paul", "Jean-\nPaul"),
        ("Bo Ann Dahl", "Bo Ann", "Bo\n> Ann"),
        ("Bo Ann Dahl", "Bo Ann", "Bo \u00a0 Ann"),
        ("Bo O’Neill", "Neill", "Neill"),
        ("علی\u200cرضا", "Change", "Change"),
    ],
)
def test_a_new_text_in_a_message_is_proposed_to_the_last_blank(
    packed: Shop, name: str, was: str, becomes: str
) -> None:
    text = renamed(packed, name)
    assert was in text
    text = text.replace(was, becomes)
    taken(packed, Message(text, "a text"))
    wish = packed.records()[2].wish
    assert wish is not None
    assert wish.wanted == {"name": name}


@pytest.mark.parametrize(
    ("was", "becomes"),
    [("Bo Ann", "BoAnn"), ("O’Neill", "O'Neill"), ("Bo Ann", "Bo An n"), (CODE, "")],
)
def test_where_a_blank_or_a_sign_was_changed_words_count_and_no_text_is_proposed(
    packed: Shop, was: str, becomes: str
) -> None:
    text, count = re.subn(was, becomes, renamed(packed, "Bo Ann O’Neill"))
    assert count == 1
    path = packed.folder / "back.txt"
    path.write_text(text, encoding="utf-8")
    said = run("answers", packed.folder, path)
    new = "Bo Ann O’Neill" if was == CODE else "Bo Ann O’Neill".replace(was, becomes)
    assert f'2, Bo Dahl: "{new}"' in said.stdout
    assert "A mail program has changed spaces or signs in the message." in said.stdout
    wish = packed.records()[2].wish
    assert wish is not None
    assert (wish.words, wish.wanted) == (new, {})
    assert packed.standing()[1] == "confirmed"
    with pytest.raises(InputError, match="not clear"):
        packed.accept(2)


@pytest.mark.parametrize("is_exact", [True, False])
def test_words_propose_a_text_only_where_they_are_exact(packed: Shop, is_exact: bool) -> None:
    text = message(packed, Said(2, seal(packed, 2), "change", "it is “Boh Dahl”"))
    taken(packed, Message(text if is_exact else text.replace("“", '"'), "a text"))
    (answer,) = packed.records()[2].answers
    assert answer.wanted == ({"name": "Boh Dahl"} if is_exact else {})


def test_a_message_that_quotes_its_text_less_exactly_is_one_text(packed: Shop) -> None:
    text = renamed(packed, "Bo Ann Dahl")
    quoted = "> " + text.replace("\n", "\n> ").replace("Bo Ann", "BoAnn")
    for both in (f"{text}\n\n{quoted}", f"{quoted}\n\n{text}"):
        (found,) = read_back(packed, both)
        assert found.is_exact
        assert found.said[1].texts == {"name": "Bo Ann Dahl"}


def test_no_reading_takes_what_the_check_code_does_not_agree_with(packed: Shop) -> None:
    text = wished(packed)
    for old, new in (("Right: 1", "Right: 1, 5"), ("Dahl", "Dahll"), ("by some", "by")):
        for change in MAIL.values():
            with pytest.raises(InputError, match="not whole"):
                read_back(packed, change(text.replace(old, new)))


COURTEOUS = [
    "Hi Ina,\nhere are our answers.\n{}\nBest wishes,\nNell Reed\n+44 20 7946 0018",
    "Dear Ms Holm,\n\n{}\n\nMany thanks!\nAnouk Lind",
    "Guten Tag Frau Holm,\nanbei unsere Antworten.\n{}\nMit freundlichen Grüßen\nAnouk Lind",
    "Bonjour,\nvoici nos réponses :\n{}\nBien cordialement,\nAnouk",
    "Hola Ina:\n{}\nUn saludo, Anouk",
    "Dzień dobry,\n{}\nPozdrawiam\nAnouk Lind",
    "Annwyl Ina,\n{}\nDiolch yn fawr\nCofion cynnes\nAnouk",
    "مرحبا،\n{}\nشكراً\nمع التحية",
    "{}\n\nSent from my phone",
    "{}\nThanks\nDr. Nell",
    "Here you go!\n{}\nThank you very much and have a nice weekend\nNell",
    "Please find attached.\n{}\nxx\nNell",
    "{}\n-- \nAnouk Lind\nFriends of the Orchestra\nWinter Road 7\nSW1A 1AA\nwww.lind.example",
    "Hi Ina!\n{}\nThanks!\nNell\nSent from my iPhone",
    "{}\nVon meinem iPhone gesendet\nEnvoyé de mon iPhone\nEnviado desde mi Samsung Galaxy S21",
    "{}\nWysłane z iPhone'a\nAnfonwyd o fy iPhone\nأُرسلت من هاتفي\nGet Outlook for iOS",
    "{}\nThanks 👍🏽\n🙂 🎻\n:-)\n=====\n-----",
    "{}\n\nOn Fri, 27 Nov 2026 at 10:00, Ina Holm <ina@example.org> wrote:",
    "{}\nBest wishes\nAnouk Lind\nHarbour Lane Orchestra\nNew Street 7\nAlster Road 3\nW. Holm",
    "-----Original Message-----\nFrom: Anouk Lind\nSent: Friday\nTo: Ina Holm\n\n{}",
]


def test_a_greeting_and_a_signature_ask_nothing_and_are_shown(packed: Shop) -> None:
    text = message(packed, *yes_to(packed, 1, 2))
    for around in COURTEOUS:
        (found,) = read_back(packed, around.format(text))
        assert found.unclear == (), around
        rows = [row.strip() for row in around.replace("{}", "").split("\n")]
        assert found.beside == " / ".join(filter(None, rows))


SAYING_MORE = [
    "Hi Ina, Bo is spelled with h.\n{}",
    "{}\nPS: please ring me first",
    "Hello,\n{}\nBest,\nAnna\nAnd do make them smaller",
    "{}\nThanks! Number 7 is wrong.",
    "{}\nitem 2 in gold",
    "Dear all, wait for Ben\n{}",
    "{}\n> Zoe has two dots",
    "Subject: stop, do not engrave yet\n{}",
    "{}\nAnna Reed and Ben would like it larger",
    "{}\n-- \nAnouk Lind\nPlease do not engrave cup 1 yet",
    "-- \nStop the harp\n{}",
    "{}\n> --\n> Stop the harp",
    "{}\n-- \nThe orchestra's friends",
    "{}\nYours,\nStop",
    "{}\nBest,\nBo Dal",  # the cup says Bo Dahl
    "{}\nBest,\nAna",
    "{}\nBest,\nAnne",  # the cup says Anna
    "{}\nBest\nNell Reed\nDr. Anne",
    "{}\nBest\nNell\n\nPS Nell",
    "{}\nBest\nNell\n\nNB: Nell",
    "{}\nBest\nNell\nP.S.: Nell",
    "{}\nRegards\nNo Accents On Three",
    "{}\nمع التحية\nلا تنقش",
    "{}\nSent from my iPhone, no harp please",
    "{}\nSent from my heart",
    "{}\nOn second thoughts stop the harp, as Bo wrote:",
    "From: Anouk\nTo: Ina, please do not engrave cup 3 yet\nSent: Friday\n{}",
    "From: Anouk\nTo: Ina\nSubject: Re: cup 3 is WRONG\n{}",
    "Hello Stop Harp\n{}",
    "Hi Nein\n{}",
    "{}\n👎",
    "{}\n❌ ❌",
    "{}\n???",
    "{}\n!!",
    "{}\nThanks 👎",
    "{}\nBest,\n7",
    "{}\n" + LONG,
    "{}\nBest,\nPlease Make Cup Three Bigger",
    "{}\nRegards\nAnna Would Like Larger Letters",
    "{}\nThanks\nMAKE THEM ALL SILVER",
    "{}\nGrüße\nBitte Größer Schreiben",
    "{}\nCordialement\nGravez Plus Grand",
    "{}\nSaludos\nTodos Más Grandes",
    "{}\nPozdrawiam\nProszę Większe Litery",
    "{}\nCofion\nGwnewch Popeth Yn Fawr",
    "{}\nمع التحية\nاجعلوا الحروف أكبر",
]
SAYING_MORE += [
    f"{{}}\nKind regards\n{said}"
    for said in ("Tuba", "Trumpet", "Big Letters", "Maybe", "Vielleicht", "Peut-être")
]
SAYING_MORE += ["Hello Nearly\n{}"]
SAYING_MORE += [
    "{}\n" + said for said in (  # three of the five cups have no answer
        "All good!", "Everything is right.", "Alles richtig.", "Tout est correct.",
        "Todo está bien.",
        "Wszystko się zgadza.", "Mae popeth yn iawn.", "كل شيء صحيح.",
    )
]  # fmt: skip


def test_what_says_more_in_a_message_is_a_question_on_all_that_it_answers(packed: Shop) -> None:
    text = message(packed, *yes_to(packed, 1, 2))
    for around in SAYING_MORE:
        ((unclear,),) = [found.unclear for found in read_back(packed, around.format(text))]
        about = ALL if ticks.is_all_right(around.removeprefix("{}\n")) else (1, 2)
        assert (unclear.items, unclear.place) == (about, "in the message, beside the answers")
        for line in filter(None, around.replace("{}", "").split("\n")):
            assert line.removeprefix("> ") in unclear.words, around


EVERYTHING = (
    "Everything is right.", "All good!", "Es ist alles richtig.", "Tout est juste.",
    "Todo correcto", "Wszystko jest w porządku.", "Mae popeth yn gywir.", "كل شيء على ما يرام",
)  # fmt: skip


@pytest.mark.parametrize("said", EVERYTHING)
def test_everything_is_right_is_a_yes_in_a_cell_and_says_no_more_beside_a_yes_to_all(
    said: str,
) -> None:
    assert ticks.is_yes(said)
    assert is_nothing(said)
    assert not ticks.is_yes(f"{said}?")
    assert not says_more([said], [], is_all_right=True)
    assert says_more([said], [])
    assert says_more([f"{said}؟"], [], is_all_right=True)


@pytest.mark.parametrize(
    "said",
    ["That's right.", "It is correct", "Stimmt so", "C’est juste", "Está bien", "Zgadza się",
     "Mae'n iawn", "هذا صحيح"],
)  # fmt: skip
def test_a_sentence_that_one_cup_is_right_is_a_yes_in_its_cell(said: str) -> None:
    assert ticks.is_yes(said)
    assert not ticks.is_yes(f"not {said}")


def test_everything_is_right_in_one_row_asks_about_the_rows_without_an_answer(packed: Shop) -> None:
    only = both(put(6, CHANGE, "Everything is right."), put(8, RIGHT, "yes"))
    taken(packed, filled_in(packed, only, ticks=False))
    assert asked(packed) == [((2, 4, 5), "in the list, row 6", "Everything is right.")]
    assert [n for n, each in packed.standing().items() if each == "confirmed"] == [1, 3]


def test_everything_is_right_in_every_row_that_is_no_wish_asks_nothing(packed: Shop) -> None:
    rows = [put(row, RIGHT, "All good") for row in (6, 8, 9, 10)]
    taken(packed, filled_in(packed, both(put(7, CHANGE, "Boh"), *rows), ticks=False))
    assert (asked(packed), packed.standing()[2]) == ([], "to change")
    assert packed.standing()[1] == "confirmed"


def test_everything_is_right_below_the_table_is_a_question(packed: Shop) -> None:
    taken(packed, filled_in(packed, put(11, RIGHT, "Everything is right."), ticks=False))
    assert [(items, said) for items, _, said in asked(packed)] == [(ALL, "Everything is right.")]


@pytest.mark.parametrize(
    "typed",
    [" Anne! ", "\nAnne!\n", "\n> Anne!\n", " <Anne!> ", " <b Anne!> ", " <s>Anne!</s> ",
     "\nPage 3 is Anne!\n", "\nWritten: Anne!\n", "\nFrom: Anne!\n", "\nEnd of answers Anne!\n",
     "\nChange 2 Anne!\n", "\nChange 2, name: Anne!\n"],
)  # fmt: skip
def test_words_anywhere_within_the_text_of_answers_are_kept_or_it_is_refused(
    packed: Shop, typed: str
) -> None:
    """At each blank of it, as it was saved and as a program quotes it."""
    change = Said(2, seal(packed, 2), "change", "", {"name": "Boh"})
    text = message(packed, *yes_to(packed, 1), change)
    asked_about = 0
    with open_ledger(packed.folder) as ledger:
        for quote, blank in product(("", "> "), re.finditer(r"\s", text)):
            edited = f"{text[: blank.start()]}{typed}{text[blank.end() :]}"
            with contextlib.suppress(InputError):
                found = read_text(ledger, "a text", edited.replace("\n", f"\n{quote}"))
                assert "Anne!" in " ".join(each.words for each in found.unclear), edited
                asked_about += 1
    assert asked_about


def test_thanks_within_the_text_of_answers_are_words_like_others(packed: Shop) -> None:
    text = message(packed, *yes_to(packed, 1)).replace("saving 3", "saving 3 Thanks")
    ((unclear,),) = [found.unclear for found in read_back(packed, text)]
    assert unclear.place == "in the message, between the lines of the answers"


def test_words_in_the_heading_of_the_seals_are_a_question(packed: Shop) -> None:
    def write(sheet: Sheet) -> None:
        sheet.cell(5, SEAL).value += " - not Bo"

    taken(packed, filled_in(packed, write))
    ((items, place, said),) = asked(packed)
    assert (items, place) == (ALL, "in the list, among the headings")
    assert f'{pack_of(packed)} - not Bo"; it said ' in said


def test_of_two_savings_of_a_page_in_one_message_the_later_one_counts(packed: Shop) -> None:
    earlier = message(packed, *yes_to(packed, 1), Said(2, seal(packed, 2), "change", "with h"))
    both_now = tuple(yes_to(packed, 1, 2))
    made = Answers("text", "Anouk Lind", AT, both_now, pack_of(packed), PAGE, 4)
    checks = f"{check_of(made, squashed)} {check_of(made, spaced)}"
    later = text_of(pack_of(packed), *both_now).replace("saving 3", "saving 4")
    later = re.sub(r"Check .*", f"Check {checks}", later)
    quoted = "\n".join(f"> {row}" for row in earlier.split("\n"))
    for text in f"{later}\n{quoted}", f"{earlier}\n{later}":
        (found,) = read_back(packed, text)
        assert (found.saving, [each.verdict for each in found.said]) == (4, ["yes", "yes"])
    with pytest.raises(InputError, match="2 different texts"):  # it says less than the earlier one
        read_back(packed, f"{message(packed, *yes_to(packed, 1, 2, 3))}\n{later}")


QUOTES = [
    "From: Ina Holm <ina@cups.example>\nSent: Friday, 27 November 2026 10:00\nTo: Anouk Lind\n"
    "Subject: Proofs",
    "Von: Ina Holm\nGesendet: Freitag, 27. November 2026 10:00\nAn: Anouk Lind\nBetreff: Proofs",
    "De : Ina Holm\nEnvoyé : vendredi 27 novembre 2026 10:00\nÀ : Anouk Lind\nObjet : Proofs",
    "De: Ina Holm\nEnviado el: viernes, 27 de noviembre de 2026\nPara: Anouk\nAsunto: Proofs",
    "*From:* Ina Holm\n*Date:* Friday\n*To:* Anouk Lind\n*Subject:* Proofs",
    "-----Original Message-----\nFrom: Ina Holm\nSent: Friday\nTo: Anouk Lind",
    "-----Ursprüngliche Nachricht-----\nVon: Ina Holm",
]


@pytest.mark.parametrize("head", QUOTES)
def test_what_a_program_quotes_whole_is_told_as_a_quote_and_asked_about_once(
    packed: Shop, head: str
) -> None:
    """Nobody can tell whether somebody has written between its lines."""
    quote = f"{head}\n\nDear Anouk,\nplease look at every letter."
    for said, own in ("Thanks\nAnouk", []), ("Bo is Boh", ["Bo is Boh"]):
        text = message(packed, *yes_to(packed, 1, 2))
        (found,) = read_back(packed, f"{text}\n{said}\n\n{quote}")
        *more, quoted = found.unclear
        assert [each.words for each in more] == own
        assert quoted.place == "in what the message quotes of an earlier one"
        assert quoted.words.endswith("Dear Anouk, / please look at every letter.")


def test_a_quote_that_was_asked_about_is_not_asked_about_again(packed: Shop) -> None:
    quote = f"\n\n{QUOTES[0]}\n\nPlease look at every letter."
    first, second = yes_to(packed, 1, 2)
    for said in (second, Said(2, second.seal, "change", "smaller")):
        taken(packed, Message(f"{message(packed, first, said)}{quote}", "a text"))
    assert len(asked(packed)) == 1
    taken(packed, Message(f"{message(packed, first, second)}{quote} Smaller!", "a text"))
    assert len(asked(packed)) == 2


def test_what_a_message_asks_is_known_when_it_is_pasted_again(packed: Shop) -> None:
    """Another message in the same words is another question."""

    def came(*said: Said) -> Message:
        return Message(f"Bo: with h\n{message(packed, *said)}", "a text")

    first, second = yes_to(packed, 1, 2)
    taken(packed, came(first, second))
    assert packed.standing()[1] == packed.standing()[2] == "in question"
    taken(packed, came(first, second))
    assert len(asked(packed)) == 1
    taken(packed, came(first, Said(2, second.seal, "change", "smaller")))
    assert len(asked(packed)) == 2


def test_what_a_text_shows_around_it_is_printed(packed: Shop) -> None:
    text = f"Hi Ina!\n{message(packed, *yes_to(packed, 1))}\nCheers, Anouk"
    path = packed.folder / "back.txt"
    path.write_text(text, encoding="utf-8")
    said = run("answers", packed.folder, path)
    assert said.returncode == 0
    assert 'Also in the message: "Hi Ina! / Cheers, Anouk"' in said.stdout


NO_NAMES = [
    "wait", "please call", "all wrong", "not Anna", "Anna is Anne", "too large", "smaller please",
    "nein", "Only Zoë", "Zoë twice", "Not Yet", "Nell Reed Anna is Anne", "Nell Reed\nAnne",
    "mehr gold", "Nell Reed, bigger", "Nell Reed (Anne)", "Nell Reed, cup 2", "Nell. Anne. Berg",
    "large", "Bo spelt Boh", "attendez", "Nell-wait", "0171 555 0100", "& Nell",
]  # fmt: skip
WHO_THEY_ARE = [
    "Reed, Nell", "N. R.", "N. Reed", "Nell & Paul Reed", "Nell Reed (secretary)", "ms reed",
    "Nell Reed, Secretary", "Nell Reed, 27.11.2026", "Nell Reed, +44 20 7946 0018",
    "Nell Reed 0171 555 0100", "Nell Reed, 27 November 2026", "Mr Beck and Ms Reed", "Zoë",
    "Dr. Nell O’Brien-Reed", "Ludwig van den Berg", "Nell reed", "Nell Reed, tel. 0171 555 0100",
]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "is_name"),
    [("Anna Reed", True), ("anna reed", True), ("Familie von der Heide", True),
     ("سارة الخطيب", True), ("Dr. Anna Reed", True), ("Anna and Ben Reed", True),
     ("J. R. Holm", True), ("call me first please", False), ("Anna, item 2 is wrong", False),
     ("yes?", False), ("", False), ("item 2", False), ("make all of them in gold", False),
     *((each, False) for each in NO_NAMES), *((each, True) for each in WHO_THEY_ARE)],
)  # fmt: skip
def test_what_can_be_a_name(text: str, is_name: bool) -> None:
    assert is_plain_name(text) is is_name


def test_words_in_the_place_of_a_name_are_a_question_on_all_cups(packed: Shop) -> None:
    taken(packed, filled_in(packed, nothing, name="Nell Reed\nAnna is Anne"))
    assert asked(packed) == [(ALL, "in the list, above the table", "Nell Reed Anna is Anne")]
    assert {*packed.standing().values()} == {"in question"}


def test_words_in_the_place_of_a_texts_name_are_a_question_on_its_cups(packed: Shop) -> None:
    said = yes_to(packed, 1, 2)
    for by, wanted in ("wait with Bo", ["wait with Bo"]), ("Reed, Nell", []):
        (found,) = read_back(packed, text_of(pack_of(packed), *said, by=by))
        assert [each.words for each in found.unclear] == wanted
        assert {each.items for each in found.unclear} <= {(1, 2)}


def test_who_is_known_by_a_name_signs_with_it_though_one_on_a_cup_is_like_it() -> None:
    assert not says_more(["Best,", "Anne"], ["Anne Reed"], ["Anna Berg"])
    assert says_more(["Best,", "Anne"], ["Ms Reed"], ["Anna Berg"])


def test_a_long_signature_is_asked_about() -> None:
    assert says_more(["--", *["Winter Road"] * 20], [])
    assert not says_more(["--", *["Winter Road"] * 6], [])


# Settling


def late(shop: Shop) -> None:
    """Take a list with a guest typed below its last row."""
    edits = both(put(11, NAME, "Ella Brook"), put(11, ROLE, "Cello"), put(11, RIGHT, "yes"))
    taken(shop, filled_in(shop, edits))


def test_a_late_guest_becomes_a_guest_on_record_with_one_answer(packed: Shop) -> None:
    late(packed)
    (question,) = stands(packed).questions
    assert question.items == ()
    assert question.fields == {"name": "Ella Brook", "role": "Cello"}
    assert set(packed.standing().values()) == {"confirmed"}
    said = run("settle", packed.folder, question.number, "--guest", "--by", "Ina Holm",
               "--because", "one more cup")  # fmt: skip
    assert (said.returncode, said.stderr) == (0, "")
    assert f"from the next merge on: mailmerge merge {packed.folder}" in said.stdout
    assert not stands(packed).is_current
    assert asked(packed) == []
    with pytest.raises(InputError, match="merge"):
        packed.release()
    changes = packed.merge().changes
    assert (changes.new, changes.as_before) == ([6], 5)
    assert packed.records()[6].about == {"name": "Ella Brook", "role": "Cello"}
    assert packed.standing()[6] == "waiting"
    assert packed.merge().changes.new == []
    packed.yes(6)
    packed.release()
    assert 6 in packed.to_engrave()


def test_a_late_guest_whom_the_list_holds_later_is_the_same_guest(packed: Shop) -> None:
    late(packed)
    client.settle(packed.folder, 1, "Ina Holm", "one more cup", as_guest=True)
    packed.merge()
    packed.list([GUESTS[0], {"Name": "Ella Brook", "Role": "Cello I"}, *GUESTS[1:]])
    packed.merge()
    assert packed.records()[6].about == {"name": "Ella Brook", "role": "Cello I"}
    assert len(packed.records()) == 6
    # She is the list's own now: who is taken out of it is gone.
    packed.list(GUESTS)
    packed.merge()
    assert packed.standing()[6] == "gone"


def test_a_late_guest_whom_the_list_holds_before_the_next_merge_is_one_guest(packed: Shop) -> None:
    late(packed)
    client.settle(packed.folder, 1, "Ina Holm", "one more cup", as_guest=True)
    packed.list([*GUESTS, {"Name": "Ella Brook", "Role": "Cello"}])
    packed.merge()
    assert [r.name for r in packed.records().values()].count("Ella Brook") == 1


def test_a_late_guest_with_the_name_of_another_is_somebody_of_their_own(packed: Shop) -> None:
    edits = both(put(11, NAME, "Bo Dahl"), put(11, ROLE, "Tuba"))
    taken(packed, filled_in(packed, edits))
    (question,) = stands(packed).questions
    assert question.items == (2,)  # it may be a correction
    assert packed.standing()[2] == "in question"
    client.settle(packed.folder, question.number, "Ina Holm", "his son", as_guest=True)
    packed.merge()
    packed.merge()
    assert {n: r.about["role"] for n, r in packed.records().items() if r.name == "Bo Dahl"} == {
        2: "Horn", 6: "Tuba",
    }  # fmt: skip


def test_a_late_guest_can_be_gone_again(packed: Shop) -> None:
    from mailmerge.ledger.who import Choices

    late(packed)
    client.settle(packed.folder, 1, "Ina Holm", "one more cup", as_guest=True)
    packed.merge()
    packed.merge(Choices(gone=frozenset({6})))
    assert packed.standing()[6] == "gone"
    packed.merge()
    assert packed.standing()[6] == "gone"
    assert len(packed.records()) == 6


def test_a_late_guests_texts_are_cleaned_and_checked_as_any_guests(packed: Shop) -> None:
    taken(packed, filled_in(packed, put(11, NAME, "ELLA  BROOK")))
    client.settle(packed.folder, 1, "Ina Holm", "one more cup", as_guest=True)
    packed.merge()
    entry = packed.records()[6].entry
    assert (entry.name, entry.row) == ("ELLA BROOK", 7)  # the row behind the list's last one
    assert "all-capitals" in {finding.code for finding in entry.findings}


def test_settling_is_on_record_with_name_and_reason(packed: Shop) -> None:
    taken(packed, filled_in(packed, put(7, FREE, "Boh, with h")))
    done = client.settle(packed.folder, 1, "Ina Holm", "asked: the list is right")
    assert [record.number for record in done.records] == [2]
    record = packed.records()[2]
    assert str(record.standing) == "confirmed"
    told = [line for _, line in history(record)]
    assert any("Boh, with h" in line for line in told)
    assert any("Ina Holm: question 1 is settled: asked: the list is right" in t for t in told)
    with pytest.raises(InputError, match=r"Question 1 is not open\. No question is"):
        client.settle(packed.folder, 1, "Ina Holm", "again")


def test_a_question_about_several_cups_holds_all_of_them_until_it_is_settled(
    packed: Shop,
) -> None:
    taken(packed, filled_in(packed, both(put(3, 3, "call me first"), put(7, FREE, "Boh"))))
    packed.release()
    assert packed.to_engrave() == {}
    with pytest.raises(InputError, match=r"Question 7 is not open\. Open: 1-2\."):
        client.settle(packed.folder, 7, "Ina Holm", "done")
    for by, reason in (("", "done"), ("Ina Holm", " ")):
        with pytest.raises(InputError, match="who settles it, and why"):
            client.settle(packed.folder, 1, by, reason)
    with pytest.raises(InputError, match="tells no guest's name"):
        client.settle(packed.folder, 1, "Ina Holm", "done", as_guest=True)
    client.settle(packed.folder, 1, "Ina Holm", "called her")
    packed.release()
    assert packed.to_engrave().keys() == {1, 3, 4, 5}


def test_a_question_takes_back_what_was_released(packed: Shop) -> None:
    taken(packed, filled_in(packed, nothing))
    packed.release()
    done = taken(packed, filled_in(packed, put(7, FREE, "Boh, with h")))
    assert done.withdrawn == (2,)
    assert packed.to_engrave().keys() == {1, 3, 4, 5}


def test_questions_are_printed_whole_with_the_exit_code_of_what_is_to_be_seen_to(
    packed: Shop,
) -> None:
    said = run("answers", packed.folder, filled_in(packed, put(7, FREE, LONG)))
    assert said.returncode == 3
    assert "1 thing was not understood. Until you settle it, not released: item 2" in said.stdout
    assert f'Question 1: in the list, row 7, beside the table, from Anna Reed: "{LONG}"' in (
        said.stdout
    )
    assert "mailmerge settle" in said.stdout
    assert LONG in run("release", packed.folder).stdout


def test_what_was_asked_is_forgotten_with_the_order(packed: Shop) -> None:
    late(packed)
    taken(packed, filled_in(packed, put(7, FREE, "it is Roderick Thistlewood's cup")))
    client.settle(packed.folder, 1, "Ina Holm", "one more cup", as_guest=True)
    (packed.folder / "back.xlsx").unlink()
    (packed.folder / "note.txt").write_text("Ella Brook, cello", encoding="utf-8")
    refused = run("forget", packed.folder, "--yes")
    assert refused.returncode == 2
    assert "note.txt" in refused.stderr
    (packed.folder / "note.txt").unlink()
    assert run("forget", packed.folder, "--yes").returncode == 0
    left = b"".join(p.read_bytes() for p in packed.folder.rglob("*") if p.is_file())
    assert b"Ella Brook" not in left
    assert b"Thistlewood" not in left


def test_a_message_without_answers_holds_every_cup(packed: Shop) -> None:
    packed.yes(1, 2)
    packed.release(2)
    packed.engraved(2)
    words = "Number 1 is wrong after all,\nplease wait."
    for again in (False, True):
        done = client.answers(packed.folder, Message(words, "a message"))
        assert isinstance(done, Answered)
        assert done.taken is not None
        assert [q.items for q in done.taken.asked] == ([] if again else [ALL])
    assert packed.standing()[1] == "in question"
    assert packed.release(reason="in a hurry").released == ()
    (question,) = packed.records()[1].questions
    assert question.words == "Number 1 is wrong after all, please wait."
    client.settle(packed.folder, question.number, "Ina Holm", "asked: it is right")
    assert packed.standing()[1] == "confirmed"
    client.answers(packed.folder, Message(words, "a message"))  # somebody says it anew
    assert packed.standing()[1] == "in question"
    with pytest.raises(InputError, match="Found no answers"):
        client.answers(packed.folder, Message(" ...\n", "a message"))


@pytest.mark.parametrize("undo", [bench.mistaken, bench.spoiled])
def test_a_cup_that_exists_is_held_by_an_open_question_once_it_has_to_be_made_again(
    packed: Shop, undo: Callable[[Path, list[str]], object]
) -> None:
    packed.yes(1, 2)
    packed.release()
    packed.engraved(2)
    done = taken(packed, Message("Please no cup for the cellist, she has left.", "a message"))
    assert (done.held, packed.standing()[2]) == ([1, 3, 4, 5], "engraved")
    undo(packed.folder, ["2"])
    assert packed.standing()[2] == "in question"
    assert packed.release(reason="in a hurry").released == ()
    assert packed.to_engrave() == {}
