"""Two pages at the same order, a desk that is killed, and whoever has only a keyboard."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from desks import answering, open_page
from playwright.sync_api import Browser, Page
from shop import GUESTS, Shop

from mailmerge.desk import finding
from mailmerge.desk.server import listening_on

pytestmark = pytest.mark.outside("chromium")

NAMES = "Brandt", "Castell", "Dorn", "Ek", "Falk", "Gran", "Holm", "Irving"
MORE = [{"Name": f"Ada {name}", "Role": "Horn"} for name in NAMES]


def started(order: Path, port: int) -> tuple[subprocess.Popen[str], str]:
    """Start a desk as people do; return it, and the address that lets a browser in."""
    call = [sys.executable, "-m", "mailmerge", "desk", str(order), "--no-browser", "--port"]
    desk = subprocess.Popen(
        [*call, str(port)], stdout=subprocess.PIPE, text=True, start_new_session=True
    )
    assert desk.stdout is not None
    for line in desk.stdout:
        if found := re.search(r"http://\S+key=\S+", line):
            return desk, found[0]
    raise AssertionError("it says no address")


def killed(desk: subprocess.Popen[str]) -> None:
    """Kill a desk and all that it has started, as a power cut does."""
    os.killpg(desk.pid, signal.SIGKILL)
    desk.wait(20)
    assert desk.stdout is not None
    desk.stdout.close()


@pytest.mark.long
def test_a_page_finds_its_way_back_to_a_desk_that_was_killed_as_it_made_cups(
    chromium: Browser, shop: Shop
) -> None:
    shop.list([*GUESTS, *MORE])
    before = shop.records()
    with listening_on("127.0.0.1", None, first=0) as free:
        port = free.getsockname()[1]
    desk, entry = started(shop.folder, port)
    page = chromium.new_page(bypass_csp=True)  # for what the test waits for
    page.set_default_timeout(90_000)
    try:
        page.goto(entry)
        page.get_by_role("button", name="Make what has changed").click()
        page.locator("#work progress").wait_for()
        killed(desk)
        now = shop.records()
        assert len(now) in (len(before), len(GUESTS) + len(MORE))
        assert {number: now[number].seal for number in before} == {
            number: each.seal for number, each in before.items()
        }
        page.evaluate("window.isAsItWas = true")
        desk, _ = started(shop.folder, port)
        page.wait_for_function("!window.isAsItWas")  # nobody has pressed anything
        page.wait_for_load_state()
        assert page.locator(".cup").count() == len(now)
        assert page.locator("#work progress").count() == 0
        cut_short = page.get_by_role("status", name="The desk was ended before this was done")
        assert "Making the cups" in cut_short.inner_text()
        page.get_by_role("button", name="Do it now").click()
        page.get_by_text("Ada Irving").wait_for()
    finally:
        page.close()
        killed(desk)
    assert set(shop.standing().values()) == {"waiting"}
    assert len(shop.records()) == len(GUESTS) + len(MORE)


def own_words(page: Page, name: str) -> None:
    """Type other words for a guest into the row that has them."""
    row = page.locator(".row", has_text="Bo Dahl")
    row.locator("summary").filter(has_text="Other words").click()
    row.get_by_label("the whole name").fill(name)


def put(page: Page) -> None:
    page.locator("details[open] button").click()


@pytest.mark.long
def test_two_pages_at_the_same_guest_lose_nobodys_words(chromium: Browser, shop: Shop) -> None:
    with answering(shop.folder) as (entry, (known,)):
        pages = [chromium.new_page(), chromium.new_page()]
        for page in pages:
            page.set_default_timeout(90_000)
            page.goto(entry)
            page.goto(f"{entry.partition('/enter')[0]}/orders/{known.key}/list?show=all")
        mine, theirs = pages
        own_words(mine, "Bosse Dahl")
        own_words(theirs, "Bo Dahlberg")
        put(theirs)
        theirs.locator(".mended", has_text="Bo Dahlberg").wait_for()
        # What was typed is not taken away, and one is told that something has changed.
        mine.get_by_role("button", name="Look anew").wait_for()
        put(mine)
        told = mine.get_by_role("alert")
        told.wait_for()
        assert "Bo Dahlberg" in told.inner_text()
        field = mine.locator(".row details[open]").get_by_label("the whole name")
        assert field.input_value() == "Bosse Dahl"
        assert shop.records()[2].name == "Bo Dahlberg"
        mine.get_by_role("button", name="Look anew").click()
        mine.locator(".mended", has_text="Bo Dahlberg").wait_for()
        for page in pages:
            page.close()


FOCUSED = """() => {
  const each = document.activeElement;
  return each.getAttribute("aria-label") ?? each.labels?.[0]?.innerText ?? each.innerText;
}"""


class Keyboard:
    """Somebody at a page who has no mouse."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def tabs_to(self, name: str, most: int = 80) -> None:
        """Go on until something that is called so has the focus."""
        for _ in range(most):
            self.page.keyboard.press("Tab")
            if self.page.evaluate(FOCUSED).strip().startswith(name):
                return
        raise AssertionError(f"{name} is not reached")

    def presses(self, name: str, key: str = "Enter") -> None:
        self.tabs_to(name)
        self.page.keyboard.press(key)

    def types(self, text: str) -> None:
        self.page.keyboard.type(text)

    def goes(self, place: str) -> None:
        """Go to another place of the order by its link."""
        self.presses(place)
        self.page.get_by_role("navigation").get_by_role("link", name=place, exact=False).and_(
            self.page.locator("[aria-current=page]")
        ).wait_for()


@pytest.mark.long
def test_list_cups_and_bench_by_keyboard_alone(chromium: Browser, packed: Shop) -> None:
    packed.confirm(1, 3)
    with (
        answering(packed.folder) as (entry, (known,)),
        open_page(chromium, entry, bypass_csp=True) as page,
    ):
        page.goto(f"{entry.partition('/enter')[0]}/orders/{known.key}/cups")
        hands = Keyboard(page)
        hands.goes("Bench")
        hands.presses("Release them to engrave", "Space")
        page.get_by_role("button", name="Start the clock").wait_for()
        hands.presses("Engraved")
        page.get_by_text("Anna Berg is engraved.").wait_for()
        hands.presses("Spoiled", "Space")
        hands.tabs_to("What happened?")
        hands.types("slipped")
        page.keyboard.press("Enter")
        page.get_by_text("The blank of Carla Ek is on record as lost").wait_for()

        hands.goes("Cups")
        hands.tabs_to("Search by name or number")
        hands.types("dahl")
        page.wait_for_function("document.querySelectorAll('#cups > li').length == 1")
        hands.presses("Bo Dahl")
        page.get_by_role("heading", name="Bo Dahl").wait_for()
        hands.presses("All cups")
        page.get_by_role("searchbox").wait_for()

        hands.goes("List")
        hands.presses("All rows as they came")
        page.wait_for_url("**/list?show=all")
        hands.tabs_to("Search the rows")
        hands.types("dahl")
        page.wait_for_function("document.querySelectorAll('.row').length == 1")
        hands.presses("Other words", "Space")
        hands.tabs_to("the whole name")
        page.keyboard.press("End")
        hands.types("berg")
        page.keyboard.press("Enter")
        page.locator(".mended", has_text="Bo Dahlberg").get_by_role("button").wait_for()
    assert packed.records()[2].name == "Bo Dahlberg"
    assert (packed.standing()[1], packed.standing()[3]) == ("engraved", "spoiled")


@pytest.mark.long
def test_whoever_comes_back_from_a_cup_finds_it_where_they_left(
    chromium: Browser, packed: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The desk answers in this process, so two cups are a stretch, and five are far down."""
    monkeypatch.setattr(finding, "MOST", 2)
    with (
        answering(packed.folder) as (entry, (known,)),
        open_page(chromium, entry, viewport={"width": 390, "height": 500}) as page,
    ):
        page.goto(f"{entry.partition('/enter')[0]}/orders/{known.key}/cups")
        last = page.locator("#cups a", has_text="Eva Gran")
        while last.count() == 0:
            page.mouse.wheel(0, 600)
            page.wait_for_timeout(50)
        last.click()
        page.get_by_role("heading", name="Eva Gran").wait_for()
        page.wait_for_load_state()  # with what listens to keys
        page.keyboard.press("ArrowLeft")
        page.get_by_role("heading", name="Dag Falk").wait_for()
        page.go_back()
        page.get_by_role("heading", name="Eva Gran").wait_for()
        page.go_back()
        last.wait_for()
        box = last.bounding_box()
        for _ in range(100):
            if box and box["y"] + box["height"] > 0 and box["y"] < 500:
                return
            page.wait_for_timeout(50)
            box = last.bounding_box()
        raise AssertionError(box)
