"""What people said, through the command line: each way in which a word was once passed over.

Every test here is a cup that went out against somebody's word, or a word that nobody was told of.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable
from pathlib import Path

import openpyxl
import pytest
from outside import cli
from shop import GUESTS, Shop
from typer.testing import CliRunner, Result

from mailmerge.answers.incoming import Answers, Said, check_of
from mailmerge.cli import app
from mailmerge.ledger.ledger import open_ledger

READY, SEE_TO_IT = 0, 3
MONDAY, TUESDAY = "2026-11-23T10:00:00+01:00", "2026-11-24T11:30:00+01:00"


def call(*arguments: object) -> Result:
    result = CliRunner().invoke(app, [str(each) for each in arguments])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def saved(
    shop: Shop, by: str, at: str, said: Iterable[Said], page: str = "K7QM-24XR", saving: int = 1
) -> Path:
    """Return the answers file that a person's page to the newest pack saves."""
    with open_ledger(shop.folder) as ledger:
        order, (pack, _) = ledger.order_id, ledger.newest_pack()
    answers = Answers("file", by, at, tuple(said), pack, page, saving)
    data = {
        "kind": "answers to a proof pack", "version": 2, "order": order, "pack": pack,
        "page": page, "saving": saving, "by": by, "at": at, "check": check_of(answers),
        "answers": [
            {"item": s.item, "seal": s.seal, "answer": s.verdict}
            | ({"words": s.words, "texts": dict(s.texts or {})} if s.verdict == "change" else {})
            for s in answers.said
        ],
    }  # fmt: skip
    path = shop.folder / f"answers {page} {saving}.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    return path


def seal(shop: Shop, number: int) -> str:
    return shop.records()[number].seal or ""


def yes(shop: Shop, *numbers: int) -> list[Said]:
    return [Said(number, seal(shop, number), "yes") for number in numbers]


def no(shop: Shop, number: int, words: str = "not so", **texts: str) -> list[Said]:
    return [Said(number, seal(shop, number), "change", words, texts)]


def filled_in(shop: Shop, name: str) -> Path:
    """Return the pack's list with a yes in every row."""
    (pack,) = (shop.folder / "proof-pack").glob("*.xlsx")
    book = openpyxl.load_workbook(pack)
    sheet = book.worksheets[0]
    (header,) = (row for row in sheet.iter_rows() if any(c.value == "Right?" for c in row))
    (column,) = (cell.column for cell in header if cell.value == "Right?")
    for row, _ in enumerate(GUESTS, start=header[0].row + 1):
        sheet.cell(row, column).value = "yes"
    path = shop.folder / name
    book.save(path)
    return path


def released(shop: Shop) -> set[int]:
    call("release", shop.folder)
    return set(shop.to_engrave())


def test_one_persons_yes_to_everything_leaves_anothers_wish_open(packed: Shop) -> None:
    wish = no(packed, 1, "two n, please")
    assert (
        call("answers", packed.folder, saved(packed, "Anna Reed", MONDAY, wish)).exit_code == READY
    )
    every = saved(packed, "Bo Dahl", TUESDAY, yes(packed, 1, 2, 3, 4, 5), page="QQ23-4567")
    told = call("answers", packed.folder, every)
    assert told.exit_code == SEE_TO_IT
    for word in ("Anna Reed", "Bo Dahl", "two n, please", "1 Anna Berg"):
        assert word in told.output
    assert released(packed) == {2, 3, 4, 5}
    status = cli("status", packed.folder)
    assert "they disagree" in status
    assert "two n, please" in status


def test_a_list_without_a_time_does_not_close_a_wish(packed: Shop) -> None:
    """Filled in on Monday, taken in on Wednesday; on Tuesday somebody wanted a change."""
    wish = saved(packed, "Anna Reed", TUESDAY, no(packed, 1, "two n, please"))
    call("answers", packed.folder, wish)
    told = call("answers", packed.folder, filled_in(packed, "back.xlsx"))
    assert told.exit_code == SEE_TO_IT
    assert "two n, please" in told.output
    assert released(packed) == {2, 3, 4, 5}


@pytest.mark.parametrize("at", ["2026-11-24T09:00:00+01:00", "1999-01-01T00:00:00+00:00", ""])
def test_a_wish_that_was_saved_before_a_yes_on_the_telephone_is_asked_about(
    packed: Shop, at: str
) -> None:
    """The clock of another device says nothing, whether it is right, behind or not told."""
    call(
        "confirm",
        packed.folder,
        1,
        2,
        "--by",
        "Bo Dahl, phone",
        "--on",
        f"{dt.datetime.now():%Y-%m-%dT%H:%M:%S}",
    )
    call("release", packed.folder)
    assert set(packed.to_engrave()) == {1, 2}
    told = call("answers", packed.folder, saved(packed, "Anna Reed", at, no(packed, 1, "two n")))
    assert told.exit_code == SEE_TO_IT
    assert "Taken back out of to-engrave: item 1" in told.output
    assert "two n" in told.output
    assert released(packed) == {2}


def test_a_wish_of_somebody_else_that_was_saved_earlier_is_kept(packed: Shop) -> None:
    call("answers", packed.folder, saved(packed, "Bo Dahl", TUESDAY, yes(packed, 1, 2)))
    earlier = saved(packed, "Anna Reed", MONDAY, no(packed, 1, "two n"), page="QQ23-4567")
    assert call("answers", packed.folder, earlier).exit_code == SEE_TO_IT
    assert released(packed) == {2}
    assert "two n" in cli("status", packed.folder)


def test_an_old_yes_does_not_come_back_with_an_old_list(packed: Shop) -> None:
    call("answers", packed.folder, saved(packed, "Anna Reed", MONDAY, yes(packed, 1, 2)))
    packed.list([{**GUESTS[0], "Role": "Violin II"}, *GUESTS[1:]])
    call("merge", packed.folder, "--jobs", "1")
    call("confirm", packed.folder, 1, "--by", "Anna Reed, phone")
    packed.list(GUESTS)
    call("merge", packed.folder, "--jobs", "1")
    assert call("release", packed.folder).exit_code == SEE_TO_IT
    assert set(packed.to_engrave()) == {2}
    assert packed.standing()[1] == "waiting"
    call("confirm", packed.folder, 1, "--by", "Anna Reed, phone")
    assert released(packed) == {1, 2}


@pytest.mark.parametrize(
    ("was", "becomes"),
    [('"answer": "change"', '"answer": "yes"'), ('"by": "Anna', '"by": "Anna", "by": "Anna')],
)
def test_a_file_that_was_edited_is_refused_as_a_whole(packed: Shop, was: str, becomes: str) -> None:
    wish = [Said(1, seal(packed, 1), "change"), *yes(packed, 2)]
    path = saved(packed, "Anna Reed", MONDAY, wish)
    text = path.read_text().replace(', "words": "", "texts": {}', "")
    assert was in text
    path.write_text(text.replace(was, becomes))
    result = CliRunner().invoke(app, ["answers", str(packed.folder), str(path)])
    assert result.exit_code != READY
    assert str(path) in str(result.exception)
    assert set(packed.standing().values()) == {"waiting"}
    path.write_text(text)  # as it was saved it is taken
    call("answers", packed.folder, path)
    assert packed.standing()[1] == "to change"


def test_of_two_savings_of_a_page_the_later_one_counts_however_they_arrive(packed: Shop) -> None:
    first = saved(packed, "Anna Reed", TUESDAY, yes(packed, 1, 2), saving=1)
    second = saved(packed, "Anna Reed", MONDAY, no(packed, 1, "two n"), saving=2)
    call("answers", packed.folder, second)
    told = call("answers", packed.folder, first)
    assert told.exit_code == SEE_TO_IT
    assert "The same page has saved other answers since." in told.output
    assert released(packed) == set()  # what the second one does not say any more is no yes either
    (line,) = [row for row in cli("status", packed.folder).splitlines() if "(file): yes" in row]
    assert line.endswith("(does not count: the same page was saved again later)")
    third = saved(packed, "Anna Reed", "", yes(packed, 1, 2), saving=3)
    call("answers", packed.folder, third)
    assert released(packed) == {1, 2}


def test_nobody_and_who_is_not_asked_close_and_confirm_nothing(packed: Shop) -> None:
    file = packed.folder / "order.toml"
    file.write_text(file.read_text() + '\n[client]\npeople = ["Anna Reed", "Bo Dahl"]\n')
    call("merge", packed.folder, "--jobs", "1")
    call("answers", packed.folder, saved(packed, "Anna Reed", MONDAY, no(packed, 1, "two n")))
    for by, page in ("", "QQ23-4567"), ("Anna Reed-Smith", "RR23-4567"), ("Ina", "SS23-4567"):
        path = saved(packed, by, TUESDAY, yes(packed, 1, 2), page=page)
        assert call("answers", packed.folder, path).exit_code == SEE_TO_IT
    assert released(packed) == set()
    result = CliRunner().invoke(app, ["confirm", str(packed.folder), "2", "--by", "Ina, phone"])
    assert "Anna Reed" in str(result.exception)
    call("confirm", packed.folder, 1, 2, "--by", "Bo Dahl, phone")
    assert released(packed) == {2}


def test_accepting_all_tells_what_is_left_because_people_disagree(packed: Shop) -> None:
    wish = no(packed, 1, "", name="Anne Berg")
    call("answers", packed.folder, saved(packed, "Anna Reed", MONDAY, wish))
    other = no(packed, 1, "", name="Anna Bergh")
    call("answers", packed.folder, saved(packed, "Bo Dahl", MONDAY, other, page="QQ23-4567"))
    told = call("answers", packed.folder, "--accept", "all").output
    for word in ("1 Anna Berg", "Anne Berg", "Anna Bergh", "mailmerge decide"):
        assert word in told
    assert packed.records()[1].name == "Anna Berg"


def test_a_joiner_that_is_part_of_a_spelling_comes_back(packed: Shop) -> None:
    wish = no(packed, 1, "👩\u200d👧", name="می\u200cخواهم")
    call("answers", packed.folder, saved(packed, "Anna Reed", MONDAY, wish))
    (answer,) = packed.records()[1].answers
    assert (answer.words, answer.wanted) == ("👩\u200d👧", {"name": "می\u200cخواهم"})


def test_a_decision_closes_what_was_said_before_it_and_nothing_after(packed: Shop) -> None:
    call("answers", packed.folder, saved(packed, "Anna Reed", MONDAY, no(packed, 1, "two n")))
    call("confirm", packed.folder, 1, "--by", "Bo Dahl, phone")
    call("decide", packed.folder, 1, "--by", "Ina Holm", "--because", "Both agreed on the phone.")
    assert released(packed) == {1}
    later = saved(packed, "Carla Ek", MONDAY, no(packed, 1, "a K"), page="QQ23-4567")
    assert call("answers", packed.folder, later).exit_code == SEE_TO_IT
    assert packed.to_engrave() == {}
    status = cli("status", packed.folder)
    assert "a K" in status


def test_who_must_say_yes_still_is_told(packed: Shop) -> None:
    file = packed.folder / "order.toml"
    people = '\n[client]\npeople = ["Anna Reed", "Bo Dahl"]\nneeds = "all"\n'
    file.write_text(file.read_text() + people)
    call("merge", packed.folder, "--jobs", "1")
    call("answers", packed.folder, saved(packed, "Anna Reed", MONDAY, yes(packed, 1, 2)))
    assert released(packed) == set()
    assert "Bo Dahl" in cli("status", packed.folder)
    second = saved(packed, "Bo Dahl", "", yes(packed, 2), page="QQ23-4567")
    call("answers", packed.folder, second)
    assert released(packed) == {2}


def test_who_enters_a_name_on_a_page_answers_for_what_it_saved_without_one(packed: Shop) -> None:
    """Another name on the same page is another person."""
    call("answers", packed.folder, saved(packed, "", MONDAY, no(packed, 2, "two n")))
    named = saved(packed, "Anna Reed", MONDAY, yes(packed, 1, 2), saving=2)
    call("answers", packed.folder, named)
    assert packed.standing()[2] == "confirmed"
    call(
        "answers", packed.folder, saved(packed, "Anna Reed", MONDAY, no(packed, 1, "a K"), saving=3)
    )
    call("answers", packed.folder, saved(packed, "Bo Dahl", MONDAY, yes(packed, 1), saving=4))
    assert packed.standing()[1] == "they disagree"


def test_an_answer_signed_for_two_who_are_asked_says_how_each_is_put_on_record(
    packed: Shop,
) -> None:
    file = packed.folder / "order.toml"
    people = '\n[client]\npeople = ["Anna Reed", "Bo Dahl"]\nneeds = "all"\n'
    file.write_text(file.read_text() + people)
    call("merge", packed.folder, "--jobs", "1")
    both = saved(packed, "Anna Reed & Bo Dahl", MONDAY, yes(packed, 1))
    told = call("answers", packed.folder, both).output
    assert "signed for Anna Reed and Bo Dahl at once" in told
    assert '--by "Anna Reed"' in told
    assert released(packed) == set()


@pytest.mark.parametrize(("by", "asks"), [("wait with Bo", True), ("Reed, Nell", False)])
def test_words_in_place_of_the_name_of_an_answers_file_are_a_question(
    packed: Shop, by: str, asks: bool
) -> None:
    call("answers", packed.folder, saved(packed, by, MONDAY, yes(packed, 1, 2)))
    assert released(packed) == (set() if asks else {1, 2})
    assert ("in place of a name" in cli("status", packed.folder)) is asks


@pytest.mark.parametrize("words", [("correct", "1", "name=Ana"), ("take-back", "1", "name")])
def test_who_says_so_is_asked_for_by_its_option(packed: Shop, words: tuple[str, ...]) -> None:
    name, *rest = words
    result = CliRunner().invoke(app, [name, str(packed.folder), *rest])
    assert result.exit_code == 2
    assert "--by" in result.output
