"""What was pressed at a desk that ends before it is done: kept, offered, and done once."""

from __future__ import annotations

import html
import json
import os
import re
from pathlib import Path

import pytest
from desks import OWN, Visitor, holding
from shop import Shop

from mailmerge.deeds import interrupted
from mailmerge.deeds.forgetting import forget
from mailmerge.desk import words
from mailmerge.desk.places import working

NOBODY = 2**22 + 1
"""A number that Linux gives to no process."""


@pytest.fixture
def visitor(shop: Shop) -> Visitor:
    return Visitor(shop.folder)


def text_of(page: str) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", page)).split())


def correct(visitor: Visitor, number: int, was: str, now: str) -> None:
    fields = {"item": str(number), f"text-{number}-name": now, f"saw-{number}-name": was}
    assert visitor.sends("list", "correct", **fields).status_code == 200


def waiting(shop_folder: Path) -> list[Path]:
    return sorted((shop_folder / "waiting").glob("*.json"))


def cut_short(visitor: Visitor, shop_folder: Path) -> Visitor:
    """Leave what waits as a desk does that is killed; return who comes to the next desk."""
    (file,) = waiting(shop_folder)
    kept = file.read_bytes()
    assert visitor.known is not None
    visitor.desk.works.leave(visitor.known.key)
    assert waiting(shop_folder) == []
    file.with_name(f"{visitor.known.key}-{NOBODY}.json").write_bytes(kept)
    return Visitor(visitor.known.folder)


@pytest.mark.long
def test_what_waited_is_offered_by_the_next_desk_and_done_once(
    visitor: Visitor, shop: Shop, shop_folder: Path
) -> None:
    with holding(visitor):
        correct(visitor, 2, "Bo Dahl", "Bosse <Dahl>")
        correct(visitor, 4, "Dag Falk", "Dag Falck")
        correct(visitor, 3, "Carla Ek", "Karla Ek")
        assert words.CUT_SHORT not in visitor.asks("list").text, "this desk is at it"
        anew = cut_short(visitor, shop_folder)
    assert shop.records()[2].name == "Bo Dahl"
    shop.accept(3, name="Carola Ek")  # the command line, meanwhile
    for place in ("cups", "list"):  # whichever page is opened first
        told = text_of(anew.asks(place).text)
        assert words.CUT_SHORT in told
        assert "Bosse <Dahl>" in told
        assert "Nothing is lost. All cups are as the list" in told
    page = text_of(anew.sends("progress", "go-on").text)
    assert "Not done: Row 4, Carla Ek: Karla Ek" in page, "somebody has changed it since"
    assert "Carola Ek" in page
    assert anew.waits().state == "done"
    names = {number: record.name for number, record in shop.records().items()}
    assert names == {1: "Anna Berg", 2: "Bosse <Dahl>", 3: "Carola Ek", 4: "Dag Falck",
                     5: "Eva Gran"}  # fmt: skip
    assert waiting(shop_folder) == []
    assert words.CUT_SHORT not in anew.asks("list").text


@pytest.mark.long
def test_what_was_cut_short_can_be_left_and_what_is_pressed_anew_is_not_offered(
    visitor: Visitor, shop: Shop, shop_folder: Path
) -> None:
    with holding(visitor):
        correct(visitor, 2, "Bo Dahl", "Bosse Dahl")
        correct(visitor, 4, "Dag Falk", "Dag Falck")
        anew = cut_short(visitor, shop_folder)
    correct(anew, 2, "Bo Dahl", "Bosse Dahl")
    anew.waits()
    offered = text_of(anew.asks("list").text).partition(words.LEAVE_UNDONE)[0]
    assert ("Dag Falck" in offered, "Bosse Dahl" in offered) == (True, False)
    assert words.LEFT_UNDONE in anew.sends("progress", "leave").text
    assert words.CUT_SHORT not in anew.asks("list").text
    assert (shop.records()[2].name, shop.records()[4].name) == ("Bosse Dahl", "Dag Falk")
    assert waiting(shop_folder) == []


def test_a_desk_that_is_closed_keeps_what_waits(visitor: Visitor, shop_folder: Path) -> None:
    with holding(visitor):
        for _ in range(3):  # one stale form, pressed again and again
            correct(visitor, 2, "Bo Dahl", "Bosse Dahl")
        visitor.desk.works._is_ending = True  # what Ctrl-C sets first
    assert visitor.known is not None
    work = visitor.desk.works.of(visitor.known.key)
    assert work is not None
    work.ended.wait(20)
    (file,) = waiting(shop_folder)
    told = json.loads(file.read_text(encoding="utf-8"))["presses"]
    assert [each["says"] for each in told] == ["Row 3, Bo Dahl: Bosse Dahl"]
    assert file.stat().st_mode & 0o077 == 0 or os.name == "nt", "names are its owner's alone"


@pytest.mark.long
def test_changes_that_wait_for_an_answer_say_so_with_a_way_out(
    visitor: Visitor, shop: Shop, shop_folder: Path
) -> None:
    shop.list([{"Name": "Ada Brandt", "Role": "Horn"}])
    visitor.sends("make")
    assert visitor.waits().state == "asks"
    assert visitor.sends("list", "mean", text="Ada Brandt").status_code == 200
    page = text_of(visitor.asks("list").text)
    assert "1 other change waits for it." in page
    assert words.ALSO_LEAVES in page
    assert len(waiting(shop_folder)) == 1
    assert words.LEFT_UNDONE in visitor.sends("progress", "leave").text
    page = text_of(visitor.asks("list").text)
    assert words.ALSO_LEAVES not in page
    assert waiting(shop_folder) == []


def test_each_press_that_waits_counts_and_a_word_may_come_again(visitor: Visitor) -> None:
    with holding(visitor):
        for was, now in (
            ("Bo Dahl", "Bosse Dahl"),
            ("Bo Dahl", "Bo Dal"),
            ("Bo Dahl", "Bosse Dahl"),
        ):
            correct(visitor, 2, was, now)
        correct(visitor, 4, "Dag Falk", "Dag Falck")
        assert "then 4 more" in text_of(visitor.asks("list").text), "none is the one before it"
        assert visitor.known is not None
        visitor.desk.works.leave(visitor.known.key)


def test_work_that_is_called_off_ends_before_it_is_said_to_have_ended(
    visitor: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert visitor.known is not None
    monkeypatch.setattr(working, "_PATIENCE", 0.1)
    off = visitor.at("progress", "off")
    with holding(visitor):  # it does not look whether it is called off
        came = {"Referer": f"{OWN}{visitor.at('list')}"}
        page = visitor.client.post(off, headers=came)
        assert page.url.path == visitor.at("list"), "the page stays"
        assert words.CALLING_OFF in page.text
        assert words.CALLED_OFF not in page.text
        assert f'action="{off}"' not in page.text
    visitor.waits()
    page = visitor.asks("list").text
    assert words.OFF_TOO_LATE in page
    (work,) = re.findall('name="work" value="([^"]*)"', page)
    assert words.OFF_TOO_LATE not in visitor.sends("progress", "seen", work=work).text


def test_what_others_have_written_there_does_nothing(visitor: Visitor, shop_folder: Path) -> None:
    assert visitor.known is not None
    folder = shop_folder / "waiting"
    folder.mkdir(parents=True)
    key = visitor.known.key
    (folder / f"{key}-x.json").write_text("[1", encoding="utf-8")
    (folder / f"{key}-{NOBODY}.json").write_text(
        json.dumps({"begun": 1, "presses": [
            {"says": "x", "path": "/shop/values", "fields": {"rates.labour": ["1"]}},
            {"says": "y", "path": f"/orders/{key}/no/such", "fields": {}},
        ]}), encoding="utf-8",
    )  # fmt: skip
    assert visitor.sends("progress", "go-on").status_code == 200
    assert waiting(shop_folder) == []
    assert not (shop_folder / "shop.toml").exists()


def test_forgetting_an_order_forgets_what_waited(
    visitor: Visitor, shop: Shop, shop_folder: Path
) -> None:
    with holding(visitor):
        correct(visitor, 2, "Bo Dahl", "Bosse Dahl")
        cut_short(visitor, shop_folder)
    assert visitor.known is not None
    assert interrupted.left_over(visitor.known.key)
    forget(shop.folder, is_sure=True, leave_others=True)
    assert waiting(shop_folder) == []
