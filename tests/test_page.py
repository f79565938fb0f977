"""The proof pack's page in a real browser, from a file, with the network switched off."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from packs import NAMES, order_of, packed
from playwright import sync_api

from mailmerge.answers.incoming import Answers, read_answers, read_text
from mailmerge.ledger.ledger import open_ledger

pytestmark = pytest.mark.outside("/usr/bin/chromium")


READY = NAMES[:-1]
PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 900}
SIZES = {"phone": PHONE, "desk": DESK}


@pytest.fixture(scope="module")
def order(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = order_of(tmp_path_factory.mktemp("page") / "concert", NAMES)
    packed(folder)
    return folder


@pytest.fixture(scope="module")
def address(order: Path) -> str:
    (path,) = (order / "proof-pack").glob("*.html")
    return path.as_uri()


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with sync_api.sync_playwright() as started:
        quiet = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
        chromium = started.chromium.launch(executable_path="/usr/bin/chromium", args=quiet)
        yield chromium
        chromium.close()


@contextmanager
def opened(browser: Any, address: str, size: str = "phone", **more: Any) -> Iterator[Any]:
    """Open the page offline; whatever it says on its console or asks of a network is an error."""
    context = browser.new_context(
        viewport=SIZES[size], is_mobile=size == "phone", has_touch=size == "phone",
        offline=True, accept_downloads=True, **more,
    )  # fmt: skip
    page = context.new_page()
    trouble: list[str] = []
    page.on("console", lambda message: trouble.append(message.text))
    page.on("pageerror", lambda error: trouble.append(str(error)))
    page.on(
        "request",
        lambda asked: (
            trouble.append(asked.url[:80])
            if not asked.url.startswith(("file:", "data:", "blob:"))
            else None
        ),
    )
    page.goto(address)
    yield page
    context.close()
    assert trouble == []


def card(page: Any, number: int) -> Any:
    return page.locator("article.card").nth(number - 1)


def from_file(order: Path, path: Path) -> Answers:
    with open_ledger(order) as ledger:
        return read_answers(ledger, path)


@pytest.mark.parametrize("size", SIZES)
def test_every_card_shows_its_picture_its_text_and_its_side(
    browser: Any, address: str, size: str
) -> None:
    with opened(browser, address, size) as page:
        assert page.locator("article.card").count() == len(READY)
        for number, (name, role) in enumerate(READY, start=1):
            shown = card(page, number)
            assert shown.locator(".first .plain").inner_text() == name
            assert shown.locator(".text .plain").nth(1).inner_text() == role
            assert "Facing the drinker" in shown.inner_text()
            picture = shown.locator("img")
            assert picture.evaluate("image => image.complete && image.naturalWidth") >= 700
            assert name in picture.get_attribute("alt")
            large = shown.locator(".first .plain").evaluate("e => getComputedStyle(e).fontSize")
            assert float(large.removesuffix("px")) >= 32
        assert page.evaluate("document.documentElement.scrollWidth") == SIZES[size]["width"]
        assert "Wilhelmina" in page.locator(".later").inner_text()
        assert "Zoe with two dots on the e: Zoë" in card(page, 1).inner_text()
        assert page.locator("#count").inner_text() == f"{len(READY)} of {len(READY)} still open"


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("filled", [False, True])
def test_axe_finds_nothing_against_wcag_2_2_aa(
    browser: Any, address: str, size: str, filled: bool
) -> None:
    """W3C, Web Content Accessibility Guidelines 2.2, as far as axe-core can tell."""
    from axe_playwright_python.sync_playwright import Axe

    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    # The rules are run from outside the page: its own policy lets no other script in.
    with opened(browser, address, size, bypass_csp=True) as page:
        if filled:
            card(page, 1).get_by_label("Right", exact=True).check()
            card(page, 2).get_by_label("Change something").check()
            card(page, 3).get_by_label("Change something").check()
            card(page, 3).locator("textarea").fill("another spelling")
        result = Axe().run(page, options={"runOnly": {"type": "tag", "values": tags}})
        found = result.response["violations"]
        assert [(each["id"], each["nodes"][0]["html"][:90]) for each in found] == []
        assert len(result.response["passes"]) > 20


def test_answers_are_counted_saved_and_taken(
    browser: Any, address: str, order: Path, tmp_path: Path
) -> None:
    with opened(browser, address) as page:
        card(page, 1).get_by_label("Right", exact=True).check()
        card(page, 2).get_by_label("Change something").check()
        assert page.locator("#count").inner_text() == f"{len(READY) - 1} of {len(READY)} still open"
        card(page, 2).get_by_label("Name should read").fill("Gudrun Þórðardóttir")
        card(page, 3).get_by_label("Change something").check()
        card(page, 3).locator("textarea").fill("it’s “Sara”\nin Latin letters – please")
        assert page.locator("#count").inner_text() == f"{len(READY) - 3} of {len(READY)} still open"
        page.get_by_label("Your name").fill("Anouk")
        with page.expect_download() as download:
            page.get_by_role("button", name="Save the answers file").click()
        path = tmp_path / download.value.suggested_filename
        download.value.save_as(path)
        text = page.locator("#text").input_value()
    answers = from_file(order, path)
    assert answers.said_by == "Anouk"
    said = {each.item: each for each in answers.said}
    assert {n: each.verdict for n, each in said.items()} == {
        1: "yes", 2: "yes", 3: "change", 4: "change",
    }  # fmt: skip
    assert said[3].texts == {"name": "Gudrun Þórðardóttir"}
    assert said[4].words == "it’s “Sara” in Latin letters – please"
    with open_ledger(order) as ledger:  # the text for a message says the very same
        by_text = read_text(ledger, "the text", text)
    assert [(s.item, s.seal, s.verdict, s.words) for s in by_text.said] == [
        (s.item, s.seal, s.verdict, s.words) for s in answers.said
    ]
    assert path.name == f"answers-{json.loads(path.read_text())['pack']}.json"


def test_the_text_can_be_copied(browser: Any, address: str) -> None:
    allowed = ["clipboard-read", "clipboard-write"]
    with opened(browser, address, "desk", permissions=allowed) as page:
        card(page, 1).get_by_label("Right", exact=True).check()
        page.get_by_role("button", name="Copy as text").click()
        page.wait_for_function("document.getElementById('said').textContent.includes('Copied')")
        pasted = page.evaluate("navigator.clipboard.readText()")
        assert "Right: 1-2" in pasted
        assert pasted == page.locator("#text").input_value()


def test_nothing_is_lost_when_the_page_is_closed(browser: Any, address: str) -> None:
    with opened(browser, address) as page:
        assert "kept in this browser" in page.locator("#kept").inner_text()
        card(page, 1).get_by_label("Right", exact=True).check()
        card(page, 2).get_by_label("Change something").check()
        card(page, 2).get_by_label("Role should read").fill("Violin III")
        page.get_by_label("Your name").fill("Anouk")
        before = page.locator("#text").input_value().splitlines()
        again = page.context.new_page()
        page.close()
        again.goto(address)
        after = again.locator("#text").input_value().splitlines()
        assert [row for row in after if not row.startswith("Written")] == [
            row for row in before if not row.startswith("Written")
        ]
        assert "Change 3, role: Violin III" in after
        assert card(again, 2).get_by_label("Role should read").input_value() == "Violin III"


def test_it_says_so_where_nothing_is_kept(browser: Any, address: str) -> None:
    with opened(browser, "about:blank") as page:
        page.add_init_script(
            "Object.defineProperty(window, 'localStorage', "
            "{ get() { throw new DOMException('no', 'SecurityError'); } });"
        )
        page.goto(address)
        assert "does not keep your answers" in page.locator("#kept").inner_text()
        card(page, 1).get_by_label("Right", exact=True).check()
        assert "Right: 1-2" in page.locator("#text").input_value()
        asked: list[str] = []
        page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
        page.close(run_before_unload=True)
        page.context.pages  # noqa: B018 - lets the event arrive
        page.wait_for_event("close")
        assert asked == ["beforeunload"]


@pytest.mark.parametrize("size", SIZES)
def test_all_of_it_by_keyboard(browser: Any, address: str, size: str) -> None:
    """Tick, change and save with keys alone; what has the focus is never hidden by the bar."""
    with opened(browser, address, size) as page:
        seen: list[str] = []
        for _ in range(200):
            page.keyboard.press("Tab")
            focused = page.evaluate(
                """() => {
                  const element = document.activeElement, box = element.getBoundingClientRect();
                  const bar = document.querySelector('.bar').getBoundingClientRect();
                  const inside = element.closest('.bar') !== null;
                  return { id: element.id || element.name || element.tagName,
                           hidden: !inside && box.top >= bar.top,
                           outline: getComputedStyle(element).outlineStyle };
                }"""
            )
            if focused["id"] == "BODY":
                break
            seen.append(focused["id"])
            assert not focused["hidden"], focused
            assert focused["outline"] != "none", focused
            if focused["id"] == "answer-1":
                page.keyboard.press("Space")
            elif focused["id"] == "answer-2":
                page.keyboard.press("ArrowRight")
            elif focused["id"] == "words-2":
                page.keyboard.type("two words")
        for wanted in ("answer-1", "words-2", "by", "save", "copy", "text", "next", "end"):
            assert wanted in seen
        text = page.locator("#text").input_value()
        assert "Right: 1-2" in text
        assert "Change 3: two words" in text
        page.locator("#next").focus()
        page.keyboard.press("Enter")
        assert page.evaluate("document.activeElement.name") == "answer-3"


def test_screen_readers_hear_what_is_asked(browser: Any, address: str) -> None:
    with opened(browser, address) as page:
        tree = page.locator("article.card").nth(1).aria_snapshot()
        assert 'heading "Cup 003 Guðrún Þórðardóttir" [level=2]' in tree
        assert 'group "Is cup 003 right?"' in tree
        assert 'radio "Right"' in tree
        assert 'radio "Change something"' in tree
        assert "img" in tree
        assert page.locator("#count").get_attribute("role") == "status"


def test_without_scripts_the_proofs_are_there_and_it_says_how_to_answer(
    browser: Any, address: str
) -> None:
    with opened(browser, address, java_script_enabled=False) as page:
        assert "open the file in a web browser" in " ".join(
            page.locator("noscript").inner_text().split()
        )
        assert page.locator("article.card img").count() == len(READY)
        assert not page.locator("form.answer").first.is_visible()
        assert not page.locator("#finish").is_visible()


def test_names_are_text_and_never_markup(browser: Any, address: str) -> None:
    with opened(browser, address) as page:
        assert page.locator("article.card b").count() == 0
        assert page.locator("script").count() == 2
        policy = page.locator("meta[http-equiv]").get_attribute("content")
        assert policy.startswith("default-src 'none'")
        assert "unsafe" not in policy
