"""The desk's ground: who is let in, what a page answers, and long work beside it."""

from __future__ import annotations

import asyncio
import html
import multiprocessing as mp
import os
import re
import subprocess
import sys
import threading
import time
from collections.abc import AsyncIterator, Coroutine
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import psutil
import pytest
from desks import HOST, OWN, SECRET, Visitor, holding
from shop import GUESTS, Shop

from mailmerge.checks import words as checks
from mailmerge.deeds import arranging, making
from mailmerge.deeds.opening import Given
from mailmerge.desk import words
from mailmerge.desk.places.working import news
from mailmerge.desk.work import _carry_out
from mailmerge.findings import InputError
from mailmerge.progress import Watch


@pytest.fixture
def visitor(shop: Shop) -> Visitor:
    return Visitor(shop.folder)


def test_cups_are_shown_with_what_is_said_about_them(visitor: Visitor, shop: Shop) -> None:
    page = visitor.asks("cups")
    assert page.status_code == 200
    for record in shop.records().values():
        assert record.name in page.text


def test_where_nothing_has_come_yet_a_place_does_not_say_that_all_is_clear(
    visitor: Visitor, shop: Shop
) -> None:
    def needs() -> list[str]:
        page = visitor.asks("cups").text
        return [re.findall(rf"<strong>{words.PLACES[p]}</strong><span>(.*?)</span>", page)[0]
                for p in ("bench", "bill")]  # fmt: skip

    assert needs() == [words.NOTHING_CONFIRMED, words.NOTHING_ENGRAVED]
    number = next(iter(shop.records()))
    shop.confirm(number)
    shop.release(number)
    shop.engraved(number)
    assert words.NOTHING_ENGRAVED not in needs()
    assert words.NOTHING_CONFIRMED not in needs()


def test_a_picture_is_kept_by_what_it_looks_like(visitor: Visitor, shop: Shop) -> None:
    record = shop.records()[1]
    picture = visitor.asks("cups", 1, f"cup-{record.looks}.png")
    assert picture.headers["content-type"] == "image/png"
    assert "immutable" in picture.headers["cache-control"]
    assert picture.content.startswith(b"\x89PNG")


def test_an_order_that_is_not_known_is_said_to_be_none(visitor: Visitor) -> None:
    assert visitor.client.get("/orders/0000000000/cups").status_code == 404


@pytest.mark.long
def test_work_goes_on_beside_the_page_and_is_told(visitor: Visitor, shop: Shop) -> None:
    shop.list([*GUESTS, {"Name": "Ada Brandt", "Role": "Horn"}])
    assert visitor.sends("make").status_code == 200
    work = visitor.waits()
    assert (work.state, work.done, work.total) == ("done", 6, 6)
    assert "Ada Brandt" in visitor.asks("cups").text


@pytest.mark.long
def test_what_work_has_to_know_is_asked_on_the_page(visitor: Visitor, shop: Shop) -> None:
    shop.list([{"Name": "Ada Brandt", "Role": "Horn"}])
    visitor.sends("make")
    while (work := visitor.waits()).question:
        page = visitor.asks("cups").text
        assert html.escape(work.question.words) in page
        assert len(shop.records()) == len(GUESTS)  # nothing was done yet
        assert visitor.sends("progress", "answer", option="such a one").status_code == 422
        assert visitor.sends("progress", "answer", option=work.question.options[-1].key).is_success
    assert work.state == "done"
    assert shop.standing()[len(GUESTS) + 1] == "waiting"


def test_where_no_cup_was_made_yet_nothing_is_said_to_have_changed(
    shop: Shop, tmp_path: Path
) -> None:
    folder = tmp_path / "new"
    making.new(folder, shop.folder / "list.csv", Given(title="Gala"))
    visitor = Visitor(folder)
    for place in words.PLACES:
        page = visitor.asks(place).text
        assert page.count("no cups yet") == len(words.PLACES)
        assert words.NOT_CURRENT not in page
    assert "Make the cups</button>" in visitor.asks("list").text
    with holding(visitor):
        for place in words.PLACES:
            page = visitor.asks(place).text
            assert page.count("cups are being made") >= len(words.PLACES)
            assert words.NOT_CURRENT not in page
            assert "No cups were made" not in page
            assert 'action="' + visitor.at("make") not in page


def test_what_has_changed_is_made_first_only_where_something_has(
    visitor: Visitor, shop: Shop
) -> None:
    made_first = '<button class="first">Make what has changed'
    assert made_first not in visitor.asks("cups").text
    arranging.arrange(shop.folder, title="Spring")
    assert made_first in visitor.asks("cups").text


def test_refused_work_is_one_line(visitor: Visitor, shop: Shop) -> None:
    (shop.folder / "order.toml").write_text("[order\n", encoding="utf-8")
    visitor.sends("make")
    # The order cannot be opened now, so its pages say that, and nothing was begun or it is refused.
    page = visitor.asks("cups")
    assert "order.toml" in page.text


@pytest.mark.long
def test_a_page_that_saw_work_go_on_is_told_of_its_end_whenever_it_asks(
    visitor: Visitor,
) -> None:
    """It may have looked away meanwhile, or the desk was killed and begun anew."""
    visitor.sends("make")
    visitor.waits()
    assert visitor.known is not None
    (now,) = re.findall('data-saw="([^"]*)"', visitor.asks("cups").text)
    assert now == visitor.desk.works.mark(visitor.known.key) != ""
    for saw, is_told in (("/f00d", True), (now, False)):
        events = news(visitor.desk, visitor.known.key, saw)
        told = run_alone(first_of(events))
        assert (told == "end") is is_told
    anew = Visitor(visitor.known.folder)
    assert run_alone(first_of(news(anew.desk, visitor.known.key, now))) == "end"


def run_alone(asked: Coroutine[object, object, str]) -> str:
    """Return what is waited for; a browser's loop may be running in this thread."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, asked).result()


def test_after_a_kill_the_page_says_that_work_was_broken_off_and_offers_it_again(
    visitor: Visitor, shop: Shop
) -> None:
    assert visitor.known is not None
    (shop.folder / "list.csv").write_text("Name,Role\nAnn Berg,Horn\n", encoding="utf-8")
    saw = "/f00dbeef"  # the desk that began it is gone
    assert run_alone(first_of(news(visitor.desk, visitor.known.key, saw))) == "end"
    page = visitor.asks("cups").text
    assert words.BROKEN_OFF in page
    alert = page[page.index(words.BROKEN_OFF) :]
    assert f'action="{visitor.at("make")}"' in alert[: alert.index("/seen")]
    (now,) = re.findall('data-saw="([^"]*)"', page)
    assert run_alone(first_of(news(visitor.desk, visitor.known.key, now))) == ""  # once
    # A page that saw nothing go on is told of nothing broken off.
    other = Visitor(visitor.known.folder)
    for unknown in ("", "f00dbeef/"):
        run_alone(first_of(news(other.desk, visitor.known.key, unknown)))
        assert words.BROKEN_OFF not in other.asks("cups").text


def _told_often(watch: Watch) -> str:
    return "off" if not watch(0, 2) else "on"


def test_a_worker_whose_desk_is_gone_ends_without_a_word(
    capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    ours, theirs = mp.Pipe(duplex=False)
    ours.close()
    monkeypatch.setattr("signal.signal", lambda *_: None)
    monkeypatch.setattr("mailmerge.desk.work.end_with_parent", lambda: None)
    monkeypatch.setattr("os.nice", lambda _: 0, raising=False)
    _carry_out({}, theirs, threading.Event(), _told_often, (), {})
    _carry_out({}, theirs, threading.Event(), _refused, (), {})
    assert capfd.readouterr() == ("", "")


WORKING = """
import sys, time
from lasting import lasting
from mailmerge.desk.work import Works
if __name__ == "__main__":
    Works().begin("order", "Working", lasting, sys.argv[1], then="/")
    time.sleep(60)
"""


@pytest.mark.long
def test_nothing_goes_on_that_a_killed_desk_had_begun(tmp_path: Path) -> None:
    """Else it would change an order that another desk is at already."""
    (tmp_path / "working.py").write_text(WORKING)
    told = tmp_path / "told"
    path = os.pathsep.join([str(Path(__file__).parent), os.environ.get("PYTHONPATH", "")])
    desk = subprocess.Popen(
        [sys.executable, tmp_path / "working.py", told], env={**os.environ, "PYTHONPATH": path}
    )
    while not told.exists() or not told.read_text():
        assert desk.poll() is None
        time.sleep(0.05)
    worker = psutil.Process(int(told.read_text()))
    desk.kill()
    desk.wait()
    worker.wait(20)


def _refused(watch: Watch) -> None:
    raise InputError("no" if watch(1, 2) else "called off")


async def first_of(events: AsyncIterator[dict[str, str]]) -> str:
    """Return the name of the first event; ``""`` where none comes."""
    try:
        return (await asyncio.wait_for(anext(events), 0.6))["event"]
    except TimeoutError:
        return ""


def test_what_a_command_is_told_for_is_a_place_here() -> None:
    told = words.on_page("/a: Nothing is merged yet. First run: mailmerge merge /a", "/a")
    assert told == "No cups were made yet. Make the cups, under Cups."
    told = words.on_page("See what there is: mailmerge go-back /a. Nothing was done.")
    assert told == "See the earlier records, under Client. Nothing was done."
    assert words.on_page("Nothing was done.") == "Nothing was done."


@pytest.mark.parametrize(
    ("change", "status"),
    [
        ({}, 200),
        ({"Host": "evil.example"}, 403),
        ({"Host": "127.0.0.1:9999"}, 403),
        ({"Origin": "http://evil.example"}, 403),
        ({"Origin": "null"}, 403),
        ({"Sec-Fetch-Site": "cross-site"}, 403),
        ({"Sec-Fetch-Site": "same-site"}, 403),
        ({"Cookie": "desk-8417=wrong"}, 403),
        ({"Cookie": ""}, 403),
    ],
)
def test_only_its_own_pages_are_answered(
    visitor: Visitor, change: dict[str, str], status: int
) -> None:
    if "Cookie" in change:
        visitor.client.cookies.clear()
    assert visitor.client.get("/", headers=change).status_code == status


def test_a_form_without_an_origin_is_refused(visitor: Visitor) -> None:
    del visitor.client.headers["Origin"]
    del visitor.client.headers["Sec-Fetch-Site"]
    assert visitor.client.post("/orders/open", data={"path": "/tmp"}).status_code == 403
    assert visitor.client.get("/").status_code == 200


@pytest.mark.parametrize(
    ("name", "own", "other"),
    [
        ("Origin", OWN, "http://evil.example"),
        ("Host", HOST, "evil.example"),
        ("Sec-Fetch-Site", "same-origin", "cross-site"),
    ],
)
def test_a_header_that_stands_there_twice_is_no_way_in(
    visitor: Visitor, name: str, own: str, other: str
) -> None:
    for said in ((own, other), (other, own)):
        twice = [(name, each) for each in said]
        sent = visitor.client.post("/orders/open", data={"path": ""}, headers=twice)
        assert sent.status_code == 403, said
    assert visitor.client.post("/orders/open", data={"path": ""}).status_code == 422


def test_whoever_shows_the_secret_is_let_in_and_led_to_no_other_host(visitor: Visitor) -> None:
    visitor.client.cookies.clear()
    for to, place in (("/shop", "/shop"), ("//evil.example", "/"), ("http://evil.example", "/")):
        entered = visitor.client.get(
            "/enter", params={"key": SECRET, "to": to}, follow_redirects=False
        )
        assert (entered.status_code, entered.headers["location"]) == (303, place)
        cookie = entered.headers["set-cookie"]
        assert "HttpOnly" in cookie
        assert "SameSite=strict" in cookie
    visitor.client.cookies.clear()
    assert visitor.client.get("/enter", params={"key": "wrong"}).status_code == 403


def test_what_a_browser_may_do_with_a_page_is_said_with_every_answer(visitor: Visitor) -> None:
    for path in ("/", "/static/desk.css", "/nowhere"):
        headers = visitor.client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
    assert visitor.client.get("/", headers={"Origin": "http://evil"}).headers[
        "x-content-type-options"
    ] == "nosniff"  # fmt: skip


def test_too_large_a_body_is_refused_whatever_it_says_of_its_size(visitor: Visitor) -> None:
    much = {"path": "x" * 400_000}
    assert visitor.client.post("/orders/open", data=much).status_code == 413

    def streamed() -> object:
        for _ in range(40):
            yield b"path=" + b"x" * 10_000

    kind = {"Content-Type": "application/x-www-form-urlencoded"}
    answer = visitor.client.post("/orders/open", content=streamed(), headers=kind)
    assert answer.status_code == 413


def test_tab_and_heading_of_the_list_say_the_same_count(visitor: Visitor) -> None:
    page = html.unescape(visitor.asks("list").text)
    (tab,) = re.findall(r"<strong>List</strong><span>([^<]*)</span>", page)
    (lead,) = re.findall(r'<p class="lead">([^<]*)</p>', page)
    count = page.count('<li class="card row"')
    assert tab in ("all clear", words.need_a_hand(count))
    assert lead.endswith(f"{words.need_a_hand(count)}." if count else "No row needs a hand.")


def test_somebody_at_the_desk_sees_letters_and_no_codes() -> None:
    told = checks.letters_missing("Great", [checks.letter("Α", "GREEK"), checks.letter("έ", "")], 2)
    assert words.at_desk(told) == "The font Great has no letter for Α, έ and 2 more."
    assert "file" not in words.at_desk(checks.FIND_THE_LETTER)
    assert "ways out under Cups" in words.at_desk(checks.FIND_THE_LETTER)
    alike = "е is U+0435"
    assert words.at_desk(alike) == alike  # there the code is what is said
