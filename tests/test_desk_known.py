"""By the command line: lists recognised, orders that the desk shows, and words that are tried."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from outside import refused, said
from PIL import Image
from shop import Shop

from mailmerge.deeds.known import known_orders, remember
from mailmerge.deeds.trying import Change, preview


def test_what_a_list_is_recognised_as_is_told_and_nothing_begins(tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    file.write_text("Winter\nName,Instrument\nAnn Berg,Horn\nBo Dahl,Oboe\n", encoding="utf-8")
    columns = json.loads(said("recognise", file, "--json"))
    assert [(each["heading"], each["field"]) for each in columns] == [
        ("Name", "name"), ("Instrument", "role"),
    ]  # fmt: skip
    told = said("recognise", file)
    assert "headings in row 2: 2 guests, 2 cups." in told
    assert list(tmp_path.iterdir()) == [file]
    assert known_orders() == []
    assert "no-such.csv" in refused("recognise", tmp_path / "no-such.csv")


def test_an_order_is_left_out_of_those_that_the_desk_shows(shop: Shop) -> None:
    remember(shop.folder)
    before = shop.files()
    (told,) = json.loads(said("known", "--json"))
    assert (told["order"], told["folder"]) == ("Spring concert", str(shop.folder))
    assert "Nothing in that folder has changed" in said("leave-out", shop.folder)
    assert json.loads(said("known", "--json")) == []
    assert shop.files() == before


@pytest.mark.parametrize(
    ("name", "way"), [("Bo Dahle", "with these words"), ("Bo " * 60, "stopped")]
)
def test_other_words_are_tried_and_nothing_is_put_on_record(
    packed: Shop, tmp_path: Path, name: str, way: str
) -> None:
    before = packed.files()
    told = said("try", packed.folder, "2", f"name={name}", "--json")
    (row,) = json.loads(told)
    entry = preview(packed.folder, 2, Change({"name": name})).entry
    assert row["way"] == way
    assert row["text"].startswith(" / ".join(entry.lines[0].rows))
    said("try", packed.folder, "2", f"name={name}", "--draw", tmp_path / "tried")
    with Image.open(tmp_path / "tried" / "cup-2.png") as picture:
        assert picture.size == (904, 834)
    assert packed.files() == before
    assert "item 99" in refused("try", packed.folder, "99", "name=A").casefold()
