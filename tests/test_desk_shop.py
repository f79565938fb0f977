"""The shop on the desk: its values, machines, blanks, recipes, test cards and fonts."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from desks import Visitor

from mailmerge.deeds.manual import Page, as_html, pages
from mailmerge.deeds.shop import change_shop, shop
from mailmerge.findings import InputError

FORM = re.compile(r'<form class="stack" method="post" action="/shop/values">(.*?)</form>', re.S)
HIDDEN = re.compile(r'<input type="hidden" name="([^"]+)" value="([^"]*)">')


@pytest.fixture
def visitor() -> Visitor:
    return Visitor()


def _page(visitor: Visitor, address: str) -> str:
    answer = visitor.client.get(address)
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.text)


def _sent(visitor: Visitor, address: str, **fields: str) -> str:
    answer = visitor.client.post(address, data=fields)
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.text)


def _filled_in(form: str) -> dict[str, str]:
    """Return what a browser would send of a form in which nothing was typed."""
    typed = re.findall(r'<input name="([^"]+)" value="([^"]*)"', form)
    chosen = re.findall(
        r'<select name="([^"]+)">.*?<option value="([^"]*)" selected>.*?</select>', form, re.S
    )
    return {**dict(HIDDEN.findall(form)), **dict(typed), **dict(chosen)}


def test_every_value_is_shown_once_with_where_it_comes_from(visitor: Visitor) -> None:
    change_shop({"shop.name": "Rosé & <b>Cups", "rates.labour": "31.70"})
    forms = [_filled_in(form) for form in FORM.findall(visitor.client.get("/shop").text)]
    shown = [(key, html.unescape(text)) for form in forms for key, text in form.items()]
    values = shop().values
    expected = [(key, each.value) for each in values for key in (f"seen.{each.key}", each.key)]
    assert sorted(shown) == sorted(expected)
    page = _page(visitor, "/shop")
    assert page.count("<small>yours</small>") == 2
    assert page.count("<small>a default</small>") == len(values) - 2
    assert "<b>Cups" not in visitor.client.get("/shop").text


def test_a_form_in_which_nothing_was_typed_changes_nothing(
    visitor: Visitor, shop_folder: Path
) -> None:
    for form in FORM.findall(visitor.client.get("/shop").text):
        assert "Nothing was different" in _sent(visitor, "/shop/values", **_filled_in(form))
    assert not (shop_folder / "shop.toml").exists()


def test_a_change_is_put_back_by_its_button(visitor: Visitor) -> None:
    change_shop({"hours.monday": "closed"})
    page = _sent(visitor, "/shop/values", **{"hours.monday": "08:00-12:00", "shop.paper": "Letter"})
    assert {"hours.monday": "08:00-12:00", "shop.paper": "Letter"}.items() <= _held().items()
    said = page[page.index('class="say right"') : page.index("</form>")]
    _sent(visitor, "/shop/values", **dict(HIDDEN.findall(said)))
    assert (_held()["hours.monday"], _held()["shop.paper"]) == ("closed", "A4")
    assert {each.key for each in shop().values if each.source != "default"} == {"hours.monday"}


def _held() -> dict[str, str]:
    return {each.key: each.value for each in shop().values}


def test_what_somebody_else_has_changed_since_is_not_written_over(visitor: Visitor) -> None:
    (form,) = (f for f in FORM.findall(visitor.client.get("/shop").text) if "rates.labour" in f)
    stale = _filled_in(form)
    change_shop({"rates.labour": "31"})
    _sent(visitor, "/shop/values", **{**stale, "rates.machine": "18"})
    assert (_held()["rates.labour"], _held()["rates.machine"]) == ("31", "18")
    answer = visitor.client.post("/shop/values", data={**stale, "rates.labour": "40"})
    assert answer.status_code == 422
    told = html.unescape(answer.text)
    assert '"25"' in told  # as the page showed it
    assert '"31"' in told  # and as it is now
    assert _held()["rates.labour"] == "31"
    with pytest.raises(InputError, match="changed it since"):
        change_shop({"rates.labour": "40"}, seen={"rates.labour": "25"})


def test_the_manual_is_read_with_links_that_lead_to_its_other_pages(visitor: Visitor) -> None:
    listed = _page(visitor, "/manual")
    for page in pages():
        assert f'href="/manual/{page.name}"' in listed
        shown = visitor.client.get(f"/manual/{page.name}").text
        text = shown[shown.index("<article") : shown.index("</article>")]
        assert f"<h1>{html.escape(page.title, quote=False)}</h1>" in text
        linked = re.findall(r"\]\(([\w-]+)\.md\)", page.text)
        assert re.findall(r'href="/manual/([\w-]+)"', text) == linked
    answer = visitor.client.get("/manual/the-shopp")
    assert answer.status_code == 422
    assert "the-shop" in answer.text


def test_markup_in_a_page_is_shown_as_text() -> None:
    page = Page("guest-list", "A", "b", '# A\n\n<script>x</script> [a](javascript:x) [b](/c "<i>")')
    shown = as_html(page, str)
    assert "<script" not in shown
    assert "javascript:x" not in re.findall(r'href="([^"]*)"', shown)
    assert "<i>" not in shown
