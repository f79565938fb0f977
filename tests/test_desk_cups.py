"""Cups on the desk: which are shown, in which order, and one of them close by."""

from __future__ import annotations

import re

import pytest
from desks import Visitor
from shop import GUESTS, Shop

from mailmerge.desk import words
from mailmerge.desk.work import Work

STOPPED = {"Name": "2026-05-01", "Role": "Oboe"}
"""A date in a name's place stops a cup."""


@pytest.fixture
def visitor(shop: Shop) -> Visitor:
    shop.list([*GUESTS, STOPPED])
    shop.merge()
    return Visitor(shop.folder)


def shown(page: str) -> list[int]:
    """Return the numbers of the cups on a page, as they stand there."""
    return [int(number) for number in re.findall(r'href="/orders/\w+/cups/(\d+)[?"]', page)]


def test_what_needs_a_hand_comes_first(visitor: Visitor, shop: Shop) -> None:
    numbers = shown(visitor.asks("cups").text)
    assert sorted(numbers) == sorted(shop.records())
    assert numbers[0] == len(GUESTS) + 1


def test_cups_are_chosen_by_standing_and_need(visitor: Visitor) -> None:
    assert shown(visitor.client.get(visitor.at("cups?show=stopped")).text) == [6]
    assert shown(visitor.client.get(visitor.at("cups?show=waiting")).text) == [1, 2, 3, 4, 5]
    assert 6 in shown(visitor.client.get(visitor.at("cups?show=hand")).text)
    page = visitor.client.get(visitor.at("cups?show=engraved")).text
    assert shown(page) == []
    assert 'id="none" role="status">' in page  # it says so


def test_cups_are_found_by_name_without_case_and_accents(visitor: Visitor, shop: Shop) -> None:
    for number, record in shop.records().items():
        page = visitor.client.get(visitor.at("cups"), params={"name": record.name.upper()})
        assert shown(page.text) == [number]
    shop.list([*GUESTS, STOPPED, {"Name": "Zoë Lindqvist", "Role": "Horn"}])
    shop.merge()
    assert shown(visitor.client.get(visitor.at("cups?name=zoe lind")).text) == [7]
    assert shown(visitor.client.get(visitor.at("cups?name=nobody")).text) == []


def test_one_cup_leads_to_those_beside_it(visitor: Visitor) -> None:
    page = visitor.client.get(visitor.at("cups", "2?show=waiting")).text
    assert re.search(r'rel="prev"[^>]*href="[^"]*/cups/1\?show=waiting"', page)
    assert re.search(r'rel="next"[^>]*href="[^"]*/cups/3\?show=waiting"', page)
    first = visitor.client.get(visitor.at("cups", "1?show=waiting")).text
    assert 'rel="prev"' not in first


def test_a_cup_says_what_was_found_and_how_it_is_set(visitor: Visitor, shop: Shop) -> None:
    stopped, ready = shop.records()[6], shop.records()[1]
    page = visitor.asks("cups", 6).text
    assert all(finding.message in page for finding in stopped.entry.findings)
    assert words.HOW_IT_LIES not in page  # it has no loading picture
    page = visitor.asks("cups", 1).text
    for line in ready.entry.lines:
        assert words.line_set(line.letter_height_mm, line.font, line.in_set) in page


def test_names_with_markup_are_only_text(visitor: Visitor, shop: Shop) -> None:
    shop.list([{"Name": "<b>Ada</b> Brandt", "Role": "<img src=x>"}, *GUESTS, STOPPED])
    shop.merge()
    for page in (visitor.asks("cups"), visitor.asks("cups", 7)):
        assert "<b>Ada" not in page.text
        assert "<img src=x" not in page.text
        assert "&lt;b&gt;Ada" in page.text


def test_a_picture_of_another_look_is_not_kept(visitor: Visitor) -> None:
    picture = visitor.asks("cups", 1, "cup-0000000000000000.png")
    assert picture.headers["cache-control"] == "no-store"
    assert visitor.asks("cups", 1, "secret-0.png").status_code == 422
    assert visitor.asks("cups", 99).status_code == 422


def test_the_rate_is_that_of_what_is_made(monkeypatch: pytest.MonkeyPatch) -> None:
    clock = [100.0]
    monkeypatch.setattr("mailmerge.desk.work.time.monotonic", lambda: clock[0])
    work = Work("key", "Making")
    assert work.left is None
    for done in range(1, 901):  # kept: done at once
        work.come(done, 1000)
    for done in range(901, 951):  # made: two a second
        clock[0] += 0.5
        work.come(done, 1000)
    assert work.rate == pytest.approx(2.0)
    assert work.left == pytest.approx(25.0)
    assert words.so_far(950, 1000, work.rate, work.left) == "950 of 1000, 2.0 a second, 25 s left"
    assert words.so_far(3, 9, 12.4, 1.0) == "3 of 9, 12 a second, 1 s left"
    assert words.so_far(3, 9, None, None) == "3 of 9"
