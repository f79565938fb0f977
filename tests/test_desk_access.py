"""The desk for everybody: axe-core in every place, light and dark, and by keyboard alone."""

from __future__ import annotations

import pytest
from desks import against_wcag, answering, open_page
from playwright.sync_api import Browser
from shop import GUESTS, Shop

pytestmark = pytest.mark.outside("chromium")

"""W3C, Web Content Accessibility Guidelines 2.2, as far as axe-core can tell."""


@pytest.mark.long
def test_axe_finds_nothing_in_any_place(chromium: Browser, packed: Shop) -> None:
    packed.confirm(1, 2)
    packed.release(1)
    packed.wish(3, name="Carla Ekh")
    packed.list([*GUESTS, {"Name": "ANN " + "LONG" * 30, "Role": "Horn"}])
    packed.merge()
    places = (
        "list", "list?show=all", "cups", "cups/1", "cups/1/change", "cups/6",
        "client", "client/3", "bench", "bill", "about",
        "cups/blank", "cups/measure", "cups/layout", "cups/layout/change?layout=layout.toml",
    )  # fmt: skip
    of_shop = ("machines", "blanks", "fonts", "recipes", "cards")
    # Axe's rules are run from outside the page: its own policy lets no other script in.
    with (
        answering(packed.folder) as (entry, (known,)),
        open_page(chromium, entry, bypass_csp=True) as page,
    ):
        own = entry.partition("/enter")[0]
        addresses = [f"{own}/orders/{known.key}/{place}" for place in places]
        found = []
        addresses += [f"{own}/shop/{part}" for part in of_shop]
        for address in (own, f"{own}/shop", f"{own}/parts", *addresses):
            page.goto(address)
            found += [
                (address.removeprefix(own), *each) for each in against_wcag(page, "dark", "light")
            ]
        assert found == []


@pytest.mark.long
def test_a_cup_is_made_out_by_keyboard_alone(chromium: Browser, packed: Shop) -> None:
    """Every place, then a yes: only by Tab, Space and Enter, and one sees where one is."""
    with (
        answering(packed.folder) as (entry, (known,)),
        open_page(chromium, entry) as page,
    ):
        page.goto(f"{entry.partition('/enter')[0]}/orders/{known.key}/client")

        def tab_to(name: str) -> None:
            for _ in range(80):
                page.keyboard.press("Tab")
                told = page.evaluate(
                    "() => [document.activeElement.getAttribute('aria-label') ?? "
                    "document.activeElement.labels?.[0]?.innerText ?? "
                    "document.activeElement.innerText, "
                    "getComputedStyle(document.activeElement).outlineStyle]"
                )
                assert told[1] != "none", told
                if told[0].strip().startswith(name):
                    return
            raise AssertionError(name)

        tab_to("Skip to what is on this page")
        page.keyboard.press("Enter")
        tab_to("Choose cup 2")
        page.keyboard.press("Space")
        tab_to("Who said it, and how")
        page.keyboard.type("Ms Roth, by telephone")
        tab_to("Put the yes on record")
        page.keyboard.press("Enter")
        page.get_by_text("is on record").wait_for()
    assert packed.standing()[2] == "confirmed"
