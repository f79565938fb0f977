"""1,000 cups and rows on the desk: a stretch at a time, and nothing of them is out of reach."""

from __future__ import annotations

import html
import json
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from functools import cache

import pytest
from desks import Visitor
from shop import Shop

from mailmerge.deeds import listing
from mailmerge.desk import finding
from mailmerge.desk.finding import MOST, stretch

MANY, FAR = 1000, 987
"""How many there are, and one that no first page shows."""


def called(number: int) -> str:
    return f"Zoë Number {number:04}"


@pytest.fixture
def many(shop: Shop) -> Shop:
    """Return an order of 1,000 cups: its first one over and over on record, under other names.

    They are not engraved one by one, which is told of elsewhere and takes minutes.
    """
    with closing(sqlite3.connect(shop.folder / "ledger.sqlite")) as ledger, ledger:
        (about, entry) = ledger.execute("SELECT about, entry FROM item WHERE number = 1").fetchone()
        for number in range(6, MANY + 1):
            name = called(number)
            told = json.loads(entry)
            told |= {"item": number, "row": number + 1, "guest": told["guest"] | {"name": name}}
            fields = json.loads(about) | {"name": name}
            ledger.execute(
                "INSERT INTO guest (id, row, fields) VALUES (?, ?, ?)",
                (number, number + 1, json.dumps(fields)),
            )
            ledger.execute(
                "INSERT INTO item (number, guest, cup, seal, about, entry, digests, fingerprint) "
                "SELECT ?, ?, cup, seal, ?, ?, digests, fingerprint FROM item WHERE number = 1",
                (number, number, json.dumps(fields), json.dumps(told)),
            )
    return shop


@pytest.fixture
def visitor(many: Shop) -> Iterator[Visitor]:
    visitor = Visitor(many.folder)
    yield visitor
    visitor.desk.end()


def walked(visitor: Visitor, place: str, one: str) -> list[int]:
    """Return the numbers of what a place shows, from page to page as its links lead."""
    found: list[int] = []
    address: str | None = visitor.at(place)
    while address:
        page = visitor.client.get(address)
        assert len(page.content) < 150_000
        here = [int(number) for number in re.findall(one, page.text)]
        assert len(here) <= MOST
        found += here
        after = re.search('rel="next" href="([^"]+)"', page.text)
        address = html.unescape(after[1]) if after else None
    return found


def test_pages_lead_to_every_cup_once(visitor: Visitor) -> None:
    assert sorted(walked(visitor, "cups", r'href="/orders/\w+/cups/(\d+)"')) == [
        *range(1, MANY + 1)
    ]


def test_a_search_and_a_choice_go_through_all_cups(visitor: Visitor, many: Shop) -> None:
    first = visitor.asks("cups").text
    assert called(FAR) not in first
    assert f'<span class="number">{MANY}</span>' in first
    for query in (f"name=zoe number {FAR:04}", f"name={FAR}", f"show=waiting&name={FAR}"):
        page = visitor.client.get(f"{visitor.at('cups')}?{query}").text
        assert called(FAR) in page
        assert called(FAR - 1) not in page
    with closing(sqlite3.connect(many.folder / "ledger.sqlite")) as ledger, ledger:
        ledger.execute("UPDATE item SET seal = NULL WHERE number = ?", (FAR,))
    assert called(FAR) in visitor.asks("cups").text  # what needs a hand stands first


@pytest.mark.long
def test_pages_lead_to_every_row_once_and_a_search_goes_through_all(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    visitor = Visitor(shop.folder)
    monkeypatch.setattr(listing, "listed", cache(listing.listed))  # the list stays as it is
    shop.list(
        {"Name": called(each) if each < MANY else "2026-05-01", "Role": "Horn"}
        for each in range(1, MANY + 1)
    )
    rows = walked(visitor, "list?show=all", r'id="row-(\d+)"')
    assert rows == [*range(2, MANY + 2)]  # the first row is the headings'
    page = visitor.client.get(f"{visitor.at('list')}?show=all&name=number {FAR:04}").text
    assert re.findall(r'id="row-(\d+)"', page) == [str(FAR + 1)]
    assert 'id="row-1001"' in visitor.asks("list").text  # what needs a hand, wherever it stands


@pytest.mark.long
def test_whoever_puts_a_row_right_stays_where_they_are(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(finding, "MOST", 2)
    visitor = Visitor(shop.folder)
    page = visitor.client.get(f"{visitor.at('list')}?show=all&start=2").text
    assert re.findall(r'id="row-(\d+)"', page) == ["4", "5"]
    assert '<input type="hidden" name="start" value="2">' in page
    fields = {"item": "3", "text-3-role": "Harp", "saw-3-role": "Viola"}
    sent = visitor.client.post(
        visitor.at("list", "correct"),
        data={"show": "all", "start": "2", **fields},
        follow_redirects=False,
    )
    assert sent.headers["location"] == f"{visitor.at('list')}?show=all&start=2"
    assert visitor.waits().state == "done"


@pytest.mark.parametrize(
    ("start", "first", "before", "after"),
    [
        (0, 0, None, 60),
        (60, 60, 0, 120),
        (30, 30, 0, 90),
        (120, 120, 60, None),
        (999, 120, 60, None),
    ],
)
def test_a_stretch_knows_its_neighbours(
    start: int, first: int, before: int | None, after: int | None
) -> None:
    found = stretch(range(130), start)
    assert (found.first, found.before, found.after) == (first, before, after)
    assert stretch((), start).things == ()
