"""Two pages at the same order: nobody's work is lost."""

from __future__ import annotations

import pytest
from desks import answering
from playwright.sync_api import Browser, Page
from shop import Shop

pytestmark = pytest.mark.outside("chromium")


def own_words(page: Page, name: str) -> None:
    """Type other words for a guest into the row that has them."""
    row = page.locator(".row", has_text="Bo Dahl")
    row.locator("summary").click()
    row.get_by_label("the whole name").fill(name)


def put(page: Page) -> None:
    page.locator("details[open] button").click()


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
