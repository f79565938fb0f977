"""Cups on the desk: which are shown, in which order, and one of them close by."""

from __future__ import annotations

import html
import os
import re
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psutil
import pytest
from desks import Visitor, holding
from shop import GUESTS, Shop

from mailmerge.deeds.trying import Change, Own, preview, too_long, ways_out
from mailmerge.desk import words
from mailmerge.desk.nursery import Nursery
from mailmerge.desk.warm import Warm
from mailmerge.desk.work import Call, Work
from mailmerge.findings import InputError

STOPPED = {"Name": "2026-05-01", "Role": "Oboe"}
"""A date in a name's place stops a cup."""


@pytest.fixture
def visitor(shop: Shop) -> Iterator[Visitor]:
    shop.list([*GUESTS, STOPPED])
    shop.merge()
    yield from visiting(shop)


@pytest.fixture
def plain(shop: Shop) -> Iterator[Visitor]:
    """Return a visitor of the order as it was merged once."""
    yield from visiting(shop)


@pytest.fixture(autouse=True)
def _nothing_ahead(monkeypatch: pytest.MonkeyPatch) -> None:
    """Start no process before it is needed: a test looks at few pages."""
    monkeypatch.setattr(Warm, "begin", lambda *_: None)


def visiting(shop: Shop) -> Iterator[Visitor]:
    visitor = Visitor(shop.folder)
    yield visitor
    visitor.desk.end()


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
    work = Work("key", "Making", Call(len, (), {}, ""))
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
    assert words.so_far(9, 9, 2.0, 0.0) == "9 of 9, nearly done"


@pytest.mark.long
def test_ways_out_are_shown_as_they_would_be_and_taken_by_one_press(
    plain: Visitor, shop: Shop
) -> None:
    long = "Maximiliane Alexandra Featherstonehaugh"
    shop.list([*GUESTS, {"Name": long, "Role": "Harp"}])
    shop.merge()
    page = plain.asks("cups", 6, "ways").text
    addresses = [html.unescape(each) for each in re.findall(r'data-from="([^"]*)"', page)]
    ways = ways_out(shop.folder, 6)
    assert len(addresses) == len(ways) > 0
    assert words.KEEP_ALL_WORDS in html.unescape(page)
    for way, address in zip(ways, addresses, strict=True):
        assert html.escape(words_capitalised(way.words)) in page
        tried, outcome = plain.client.get(address).text, preview(shop.folder, 6, way.change)
        for line in outcome.entry.lines:
            assert words.letters_on_rows(line.letter_height_mm, len(line.rows)) in tried
        picture = plain.client.get(address.replace("/try?", "/try.png?"))
        assert picture.content == outcome.picture.png
    way = ways[-1]
    seen = {"text-name": way.change.texts["name"], "saw-name": long}
    taken = plain.sends("cups", 6, "take", saw="", **seen)
    assert taken.status_code == 200
    assert words.TAKE_BACK in taken.text
    assert plain.waits().state == "done"
    assert shop.records()[6].seal == preview(shop.folder, 6, Change()).entry.seal != ""
    assert shop.records()[6].name == way.change.texts["name"]
    assert plain.sends("cups", 6, "take", **{"text-name": long}).status_code == 200  # taken back
    assert plain.waits().state == "done"
    assert shop.standing()[6] == "stopped"


def test_a_name_that_is_too_long_can_keep_all_its_words(plain: Visitor, shop: Shop) -> None:
    long = "Maximiliane Anna Featherstonehaugh"
    shop.list([*GUESTS, {"Name": long, "Role": "Harp"}])
    shop.merge()
    kept = {}
    for way in ways_out(shop.folder, 6):
        if way.change.own:
            outcome = preview(shop.folder, 6, way.change)
            assert not outcome.is_stopped, "it was measured before it is offered"
            assert outcome.entry.texts["name"] == long
            assert outcome.entry.lines[0].letter_height_mm >= 5.0, "the layout's least"
            kept[way.words] = outcome.entry.lines[0]
    fonts = {line.font for line in kept.values()} - {"Test Boxes"}
    assert fonts, "a narrower one"
    assert {len(line.rows) for line in kept.values()} == {1, 2, 3}
    page = html.unescape(plain.asks("cups", 6, "ways").text)
    (line,) = too_long(shop.folder, 6)
    assert words.keeps_all_at(line.fits_at, 5.0, 1) in page
    assert line.fits_at < 5.0
    # The layout as it would have to be lets the name in.
    (to,) = re.findall(r'href="([^"]*letter_height[^"]*)"', page)
    assert plain.client.get(to).status_code == 200
    text = (shop.folder / "layout.toml").read_text(encoding="utf-8")
    with_it = text.replace('min = "5 mm"', f'min = "{line.fits_at:g} mm"')
    assert with_it != text
    (shop.folder / "layout.toml").write_text(with_it, encoding="utf-8")
    os.utime(shop.folder / "order.toml", (0, 0))  # by which the desk sees that something changed
    found = preview(shop.folder, 6, Change()).entry.stop
    assert found is None or found.code != "name-too-long", found


def test_while_a_way_that_was_taken_is_made_no_other_is_offered(visitor: Visitor) -> None:
    number = len(GUESTS) + 1
    assert words.WAYS_OUT in visitor.asks("cups", number).text
    assert words.KEEP_ALL_WORDS not in html.unescape(visitor.asks("cups", number, "ways").text)
    with holding(visitor):
        taken = visitor.sends("cups", number, "take", **{"text-name": "May Day"})
        assert words.TAKE_BACK in taken.text
        assert words.WAITS_ITS_TURN in taken.text
        assert words.WAYS_OUT not in taken.text
        assert visitor.known is not None
        visitor.desk.works.leave(visitor.known.key)


def words_capitalised(text: str) -> str:
    return text[:1].upper() + text[1:]


@pytest.mark.long
def test_a_cup_is_set_differently_and_as_the_others_again(plain: Visitor, shop: Shop) -> None:
    record = shop.records()[2]
    page = plain.asks("cups", 2, "change").text
    assert 'min="5.0" max="14.0"' in page
    assert all(f'value="{text}"' in page for text in record.about.values())
    sent = plain.sends(
        "cups", 2, "take", saw=record.seal or "", line="1", height="8", rows="Bo\nDahl"
    )
    assert sent.status_code == 200
    assert plain.waits().state == "done"
    (apart,) = shop.records()[2].own
    assert apart.own == Own(1, 8.0, ("Bo", "Dahl"))
    page = plain.asks("cups", 2).text
    assert words_capitalised(words.own_of(8.0, ("Bo", "Dahl"), "")) in page
    plain.sends("cups", 2, "as-the-others")
    assert plain.waits().state == "done"
    assert shop.records()[2].seal == record.seal


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"saw": "0000", "line": "1", "height": "8"}, "has changed since you looked at it"),
        ({"text-name": "Ann Berg", "saw-name": "Anne Berg"}, "Anne Berg"),
        ({"line": "1", "height": "eight"}, "eight"),
        ({"line": "1", "height": "15"}, "allows 5 to 14 mm"),
        ({"line": "9", "height": "8"}, "Line 9 is not in the layout"),
        ({"text-name": "Anna Berg"}, words.NOTHING_DIFFERENT),
        ({}, words.NOTHING_DIFFERENT),
        ({"text-hand": "left"}, words.NOTHING_DIFFERENT),  # not what this page changes
    ],
)
def test_what_cannot_be_taken_is_refused_at_once(
    plain: Visitor, shop: Shop, fields: dict[str, str], told: str
) -> None:
    seal = shop.records()[1].seal or ""
    refused = plain.sends("cups", 1, "take", **{"saw": seal, **fields})
    assert refused.status_code == 422
    assert html.escape(told) in refused.text
    assert plain.desk.works.of(plain.known.key if plain.known else "") is None


def test_typed_markup_is_only_text(plain: Visitor) -> None:
    page = plain.client.get(plain.at("cups", 1, "try"), params={"text-name": "<script>x</script>"})
    assert "<script>x" not in page.text
    assert "&lt;script&gt;x" in page.text


def died() -> None:
    """End the process that this is called in."""
    os._exit(1)


@pytest.mark.long
def test_the_warm_process_begins_anew_after_it_has_died() -> None:
    warm = Warm()
    try:
        with pytest.raises(InputError, match="Nothing was changed"):
            warm.call(died)
        assert warm.call(max, 1, 2) == 2
    finally:
        warm.end()


def own_number(seconds: float = 0.0) -> int:
    """Return the number of the process that this is called in, after a while."""
    time.sleep(seconds)
    return os.getpid()


@pytest.mark.long
def test_the_warm_process_ends_when_nobody_asks_and_is_back_when_somebody_does() -> None:
    warm = Warm(quiet=1.0)
    try:
        first = warm.call(own_number)
        assert warm.call(own_number, 1.2) == first  # while it works it is not quiet
        assert warm.call(own_number) == first
        _wait_until_gone(first)
        assert warm.call(own_number) != first
    finally:
        warm.end()


def noted(file: Path, seconds: float) -> None:
    """Write down that this was called, after a while."""
    time.sleep(seconds)
    with file.open("a") as notes:
        notes.write("x")


@pytest.mark.long
def test_whoever_asks_comes_in_between_what_is_got_ready(tmp_path: Path) -> None:
    warm, file = Warm(), tmp_path / "notes"
    try:
        warm.call(own_number)
        warm.begin_each(noted, [(file, 0.2)] * 8)
        while not file.exists():
            time.sleep(0.02)
        assert warm.call(max, 1, 2) == 2
        assert 1 <= len(file.read_text()) < 8
        until = time.monotonic() + 20
        while len(file.read_text()) < 8 and time.monotonic() < until:
            time.sleep(0.05)
        assert file.read_text() == "x" * 8  # and the others are done after it
    finally:
        warm.end()


def holding_on(until: Any) -> None:
    """Live until somebody says so."""
    until.wait(30)


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="nothing is forked there")
def test_what_processes_are_forked_from_ends_with_the_last_of_them_and_is_back() -> None:
    nursery = Nursery(quiet=1.0)
    warm = Warm(quiet=1.0, nursery=nursery)
    try:
        first, origin = warm.call(os.getpid), warm.call(os.getppid)
        assert origin != os.getpid()
        until = nursery.context.Event()
        other = nursery.begin(holding_on, until)
        _wait_until_gone(first)
        time.sleep(1.5)
        assert other.is_alive()
        assert psutil.pid_exists(origin)  # another one lives, and needs it
        until.set()
        other.join()
        assert other.exitcode == 0
        nursery.ended(other)
        _wait_until_gone(origin)
        assert warm.call(os.getppid) not in (origin, os.getpid())
    finally:
        warm.end()


def _wait_until_gone(process: int) -> None:
    until = time.monotonic() + 20
    while psutil.pid_exists(process) and time.monotonic() < until:
        time.sleep(0.05)
    assert not psutil.pid_exists(process)


@pytest.mark.skipif(not hasattr(os, "nice"), reason="nothing stands back there")
def test_long_work_stands_back_behind_whoever_waits_for_a_picture(plain: Visitor) -> None:
    assert plain.known is not None
    plain.desk.works.begin(plain.known.key, "Looking", its_place, then="/")
    assert plain.waits().result == min(19, psutil.Process().nice() + 5)


def its_place(watch: object) -> int:
    """Return how far the process that this is called in stands back."""
    del watch
    return int(psutil.Process().nice())
