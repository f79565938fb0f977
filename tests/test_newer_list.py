"""A newer list: compared guest by guest, taken or left, and the former one taken again."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from desks import Visitor
from shop import GUESTS, Shop

from mailmerge.deeds import CalledOff, making, newer
from mailmerge.deeds.forgetting import forget
from mailmerge.deeds.newer import Compared, differing
from mailmerge.deeds.questions import Choices, Question
from mailmerge.findings import InputError
from mailmerge.ledger.forgetting import ours
from mailmerge.orders.said import list_of

HEAD = "Name,Role\n"


def text_of(rows: list[dict[str, str]]) -> str:
    return HEAD + "".join(f"{row['Name']},{row.get('Role', '')}\n" for row in rows)


@pytest.fixture
def changed(tmp_path: Path) -> Path:
    """Return a list with one guest gone, one misspelt no more, and one new."""
    rows = [
        {**GUESTS[0], "Role": "Harpsichord"},
        *GUESTS[2:],
        {"Name": "Ida Kern", "Role": "Bells"},
    ]
    file = tmp_path / "newer.csv"
    file.write_text(text_of(rows), encoding="utf-8")
    return file


def compared(shop: Shop, file: Path, choices: Choices = newer.NO_CHOICES) -> Compared:
    found = newer.compare_list(shop.folder, file, choices)
    assert not isinstance(found, Question)
    return found


def names(shop: Shop) -> set[str]:
    return {record.name for record in shop.records().values() if not record.gone}


def test_what_a_newer_list_changes_is_told_before_it_is_taken(shop: Shop, changed: Path) -> None:
    before = shop.files()
    found = compared(shop, changed)
    assert [each.name for each in found.new] == ["Ida Kern"]
    assert [each.name for each in found.gone] == [GUESTS[1]["Name"]]
    ((only,),) = [[each] for each in found.changed]
    assert only.name == GUESTS[0]["Name"]
    (text,) = only.texts
    assert text.field == "role"
    assert "".join(part.text for part in text.was) == GUESTS[0]["Role"]
    assert "".join(part.text for part in text.now) == "Harpsichord"
    assert found.as_before == len(GUESTS) - 2
    assert shop.files() == before


def test_a_list_is_taken_and_the_former_one_can_be_taken_again(shop: Shop, changed: Path) -> None:
    had, texts = names(shop), (shop.folder / "list.csv").read_bytes()
    numbers = {record.name: number for number, record in shop.records().items()}
    newer.take_list(shop.folder, changed, jobs=1)
    assert names(shop) == had - {GUESTS[1]["Name"]} | {"Ida Kern"}
    assert (shop.folder / "list.csv").read_bytes() == changed.read_bytes()
    (former,) = newer.former_lists(shop.folder)
    assert former.called == "list.csv"
    assert newer.former_list(shop.folder, former.name) == texts
    newer.take_list(shop.folder, shop.folder / "lists-before" / former.name, jobs=1)
    assert names(shop) == had
    now = {record.name: n for n, record in shop.records().items() if not record.gone}
    assert now == numbers
    assert "lists-before" in ours(shop.folder)  # it goes when the order is forgotten
    with pytest.raises(InputError, match="kept no list"):
        newer.former_list(shop.folder, "../order.toml")


def test_a_list_of_another_kind_takes_the_place_as_well(shop: Shop, changed: Path) -> None:
    other = changed.rename(changed.with_suffix(".txt"))
    newer.take_list(shop.folder, other, jobs=1)
    assert list_of(shop.folder) == shop.folder / "list.txt"
    assert not (shop.folder / "list.csv").exists()
    assert "Ida Kern" in names(shop)


@pytest.mark.parametrize("suffix", [".csv", ".txt"])
def test_called_off_the_order_is_as_it_was(shop: Shop, changed: Path, suffix: str) -> None:
    other = changed.rename(changed.with_suffix(suffix))
    before = {name: data for name, data in shop.files().items() if "sqlite" not in name}
    with pytest.raises(CalledOff):
        newer.take_list(shop.folder, other, jobs=1, watch=lambda *_: False)
    after = {name: data for name, data in shop.files().items() if "sqlite" not in name}
    assert after == before
    assert not (shop.folder / "lists-before").exists()


def test_a_list_that_was_changed_since_is_not_taken(shop: Shop, changed: Path) -> None:
    seen = compared(shop, changed).seen
    changed.write_text(text_of(GUESTS[:1]), encoding="utf-8")
    with pytest.raises(InputError, match="changed since they were compared"):
        newer.take_list(shop.folder, changed, saw=seen, jobs=1)
    shop.list(GUESTS[:2])
    seen_then = compared(shop, changed, Choices(unsure_are_gone=True)).seen
    assert seen_then != seen


def test_letters_that_differ_are_marked_whole() -> None:
    was, now = differing("Matthew Noe\u0308l", "Mathew Noel")
    assert "".join(part.text for part in was) == "Matthew Noe\u0308l"
    assert [part.text for part in was if part.differs] == ["t", "e\u0308"]
    assert "".join(part.text for part in now) == "Mathew Noel"
    assert [part.text for part in now if part.differs] == ["e"]


def test_a_newer_list_begins_no_order_and_lies_where_it_was_dropped(
    shop: Shop, changed: Path, shop_folder: Path
) -> None:
    visitor = Visitor(shop.folder)
    page = visitor.sends("list", "newer", files={"list": ("newer.csv", changed.read_bytes())})
    to = urlsplit(str(page.url)).path
    key = to.rpartition("/")[2]
    for begins in ("/", f"/begin/{key}"):
        assert "newer.csv" not in visitor.client.get(begins).text
    assert f'href="{to}" dir="auto">newer.csv<' in visitor.asks("list").text
    begun = visitor.sends("list", "newer", key, leave="1")
    assert "newer.csv" not in begun.text
    visitor.sends("list", "newer", files={"list": ("newer.csv", changed.read_bytes())})
    forget(shop.folder, is_sure=True, leave_others=True)
    assert [*(shop_folder / "lists").rglob("*.csv")] == [], "it holds names"


@pytest.mark.long
def test_on_the_page_it_is_shown_taken_and_left(shop: Shop, changed: Path) -> None:
    visitor = Visitor(shop.folder)
    page = visitor.sends("list", "newer", files={"list": ("newer.csv", changed.read_bytes())})
    assert "1 new, 1 changed, 1 gone" in page.text
    assert "Ida Kern" in page.text
    to = urlsplit(str(page.url)).path
    saw = re.search('name="saw" value="([^"]+)"', page.text)
    assert saw
    refused = visitor.client.post(to, data={"saw": "something else", "same": "", "gone": ""})
    assert refused.status_code == 422
    assert "Ida Kern" not in names(shop)
    visitor.client.post(to, data={"saw": saw[1], "same": "", "gone": ""})
    work = visitor.waits()
    assert (work.state, work.refusal) == ("done", "")
    assert "Ida Kern" in names(shop)
    assert visitor.client.get(to).status_code == 422  # it is not kept twice
    (former,) = newer.former_lists(shop.folder)
    back = visitor.sends("list", "former", name=former.name)
    assert "1 new, 1 changed, 1 gone" in back.text
    visitor.client.post(urlsplit(str(back.url)).path, data={"leave": "1"})
    assert "Ida Kern" in names(shop)


def test_who_is_who_is_asked_on_the_page(shop: Shop, tmp_path: Path) -> None:
    """A cup exists: a name like it in its row is asked about, and never guessed."""
    shop.confirm(1)
    shop.release(1)
    shop.engraved(1)
    rows = [{**GUESTS[0], "Name": GUESTS[0]["Name"] + "x"}, *GUESTS[1:]]
    visitor = Visitor(shop.folder)
    page = visitor.sends("list", "newer", files={"list": ("n.csv", text_of(rows).encode())})
    assert "Who is who?" in page.text
    asked = newer.compare_list(shop.folder, _written(tmp_path, rows))
    assert isinstance(asked, Question)
    ways = re.findall(r'<a class="button" href="([^"]+)"', page.text)
    assert len(ways) == len(asked.options)
    told = re.findall(r'<a class="button" href="[^"]+">([^<]+)<', page.text)
    one, other = GUESTS[0]["Name"] + "x", GUESTS[0]["Name"]
    assert told[0].startswith(f"{one}, ")
    assert "(row 2)" in told[0]
    assert told[-1].startswith(f"{other}, ")
    assert told[-1].endswith(" is no longer in the list")
    answered = visitor.client.get(ways[0].replace("&amp;", "&"))
    assert "1 changed" in answered.text
    assert "a cup exists" in answered.text


def _written(folder: Path, rows: list[dict[str, str]]) -> Path:
    file = folder / "n.csv"
    file.write_text(text_of(rows), encoding="utf-8")
    return file


def test_a_list_that_cannot_be_read_so_is_refused(shop: Shop, tmp_path: Path) -> None:
    before = shop.files()
    file = tmp_path / "odd.csv"
    file.write_text("Wer,Was\nAnn,Horn\n", encoding="utf-8")
    with pytest.raises(InputError, match=r"^odd\.csv: "):
        newer.take_list(shop.folder, file, jobs=1)
    assert shop.files() == before
    assert not isinstance(making.check(shop.folder), Question)
