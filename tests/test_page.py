"""The proof pack's page in a real browser, from a file, with the network switched off."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from desks import against_wcag
from packs import NAMES, SENDER
from PIL import Image
from playwright.sync_api import Browser, expect

from mailmerge.answers.incoming import Answers, read_answers, read_text
from mailmerge.answers.packs import Packed
from mailmerge.ledger.ledger import open_ledger
from mailmerge.proofs.pack import Card, Pack, Text
from mailmerge.proofs.pack.cards import within
from mailmerge.proofs.pack.languages import Language
from mailmerge.proofs.pack.page import write_page

pytestmark = pytest.mark.outside("/usr/bin/chromium")


READY = NAMES[:-1]
PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 900}
ZOOMED = {"width": 195, "height": 422}
"""A phone at 200 %: the same glass holds half as many px each way."""
SIZES = {"phone": PHONE, "desk": DESK, "zoomed": ZOOMED}
PEOPLE = ("Anna Reed", "Ben Cole")

AT_ONCE = "performance.now = ((now) => () => 1000 * now())(performance.now.bind(performance));"
"""Lets a test tap faster than anybody can read."""

NO_STORE = (
    "Object.defineProperty(window, 'localStorage', "
    "{ get() { throw new DOMException('no', 'SecurityError'); } });"
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("page")


@pytest.fixture(scope="module")
def order(pack_of_names: Packed) -> Path:
    return pack_of_names.folder.parent


@pytest.fixture(scope="module")
def pack(pack_of_names: Packed) -> Pack:
    return pack_of_names.pack


@pytest.fixture(scope="module")
def address(order: Path) -> str:
    (path,) = (order / "proof-pack").glob("*.html")
    return path.as_uri()


def small(card: Card) -> Card:
    """Return a card with small pictures, which are soon written."""

    def shrunk(picture: bytes) -> bytes:
        saved = io.BytesIO()
        within(picture, 200, 200).save(saved, "PNG")
        return saved.getvalue()

    return replace(card, cup=shrunk(card.cup), faces=tuple(map(shrunk, card.faces)))


@pytest.fixture(scope="module")
def asking(folder: Path, pack: Pack) -> str:
    """Return the page of a pack that names who is asked."""
    cards = [small(card) for card in pack.cards[:6]]
    cards[1] = replace(cards[1], question=(("Anna Reed", "Gudrun"), ("Ben Cole", "")))
    cards[4] = replace(cards[4], settled="Confirmed on 5 December 2026.")
    strasse = Text("name", "Name", "Reiß", ("ß is engraved as SS",), ("REISS",))
    cards[5] = replace(cards[5], texts=(strasse, *cards[5].texts[1:]))
    path = folder / "asking.html"
    path.write_bytes(write_page(replace(pack, cards=tuple(cards), people=PEOPLE)))
    return path.as_uri()


@contextmanager
def opened(
    chromium: Browser, address: str, size: str = "phone", script: str = AT_ONCE, **more: Any
) -> Iterator[Any]:
    """Open the page offline; whatever it says on its console or asks of a network is an error."""
    context = chromium.new_context(
        viewport=SIZES[size], is_mobile=size != "desk", has_touch=size != "desk",
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
    context.add_init_script(script)
    page.goto(address)
    yield page
    context.close()
    assert trouble == []


def right(page: Any) -> None:
    page.locator(".now .yes").click()


def wants(page: Any, words: str = "", **texts: str) -> None:
    page.locator(".now .no").click()
    for field, text in texts.items():
        page.locator(f".now [data-field={field}]").fill(text)
    if words:
        page.locator(".now textarea").fill(words)
    page.locator(".now .keep").click()


def to(page: Any, number: int) -> None:
    """Go to a card by the overview."""
    if not page.locator("#overview").is_visible():
        page.locator("#all").click()
    page.locator(".row").nth(number - 1).click()


def to_end(page: Any, by: str = "") -> None:
    if not page.locator("#overview").is_visible():
        page.locator("#all").click()
    if by in PEOPLE:
        page.get_by_label(by).check()
    elif by:
        page.locator("#by").fill(by)


def saved(page: Any, folder: Path, button: str = "#save") -> Path:
    with page.expect_download() as download:
        page.locator(button).click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return path


def title(page: Any) -> str:
    return str(page.locator(".now h2").inner_text()).partition(":")[0].strip()


def from_file(order: Path, path: Path) -> Answers:
    with open_ledger(order) as ledger:
        return read_answers(ledger, path)


def from_text(order: Path, text: str) -> Answers:
    with open_ledger(order) as ledger:
        return read_text(ledger, "the text", text)


def size_of(page: Any) -> tuple[int, int]:
    found = page.evaluate(
        "[document.documentElement.scrollWidth, document.documentElement.scrollHeight]"
    )
    return found[0], found[1]


# What is seen


@pytest.mark.long
@pytest.mark.parametrize("size", ["phone", "desk"])
def test_each_screen_shows_one_cup_close_by_with_its_words(
    chromium: Browser, address: str, size: str
) -> None:
    with opened(chromium, address, size) as page:
        for name, role in READY:
            shown = page.locator(".card:visible")
            assert shown.count() == 1
            assert shown.locator(".first .plain").inner_text() == name
            assert shown.locator(".text .plain").nth(1).inner_text() == role
            assert "Facing the drinker" in shown.inner_text()
            face = shown.locator(".faces img")
            assert face.evaluate("image => image.complete && image.naturalWidth") >= 700
            assert face.bounding_box()["height"] >= 100
            assert name in face.get_attribute("alt")
            assert shown.locator(".cup img").is_visible() == (size == "desk")
            large = shown.locator(".first .plain").evaluate("e => getComputedStyle(e).fontSize")
            assert float(large.removesuffix("px")) >= 30
            assert size_of(page) == (SIZES[size]["width"], SIZES[size]["height"])
            right(page)
        assert "Wilhelmina" in page.locator("#overview").inner_text()
        assert SENDER.name in page.locator(".top").inner_text()
        assert SENDER.reach[1] in page.locator("#overview").inner_text()


@pytest.mark.long
def test_a_tap_shows_the_whole_cup_and_another_the_face(chromium: Browser, address: str) -> None:
    with opened(chromium, address) as page:
        face, cup = page.locator(".now .faces img"), page.locator(".now .cup img")
        page.get_by_role("button", name="Whole cup").click()
        assert (face.is_visible(), cup.is_visible()) == (False, True)
        assert cup.bounding_box()["height"] >= 150
        assert size_of(page) == (390, 844)
        cup.click()
        assert (face.is_visible(), cup.is_visible()) == (True, False)


@pytest.mark.long
def test_what_is_engraved_stands_beside_what_is_written(chromium: Browser, asking: str) -> None:
    with opened(chromium, asking) as page:
        to(page, 6)
        assert page.locator(".now .first .plain").inner_text() == "REISS"
        assert page.locator(".now .written").inner_text() == "As written: Reiß"
        assert page.locator(".now .note").first.inner_text() == "ß is engraved as SS"
        page.locator(".now .no").click()
        assert page.locator(".now [data-field=name]").input_value() == "Reiß"
        to_end(page)
        assert "REISS" in page.locator(".row").nth(5).inner_text()


@pytest.mark.long
def test_every_text_runs_in_its_own_direction(chromium: Browser, address: str) -> None:
    direction = "e => getComputedStyle(e).direction"
    with opened(chromium, address) as page:
        to(page, 3)  # سارة الخطيب, Oud
        name, role = page.locator(".now .plain bdi").all()[:2]
        assert name.evaluate(direction) == "rtl"
        assert role.evaluate(direction) == "ltr"
        note = page.locator(".now .note").first
        assert note.evaluate(direction) == "ltr"  # an English sentence that begins with سارة
        lefts = note.evaluate("""e => [0, e.textContent.length - 1].map(at => {
          const range = document.createRange();
          range.setStart(e.firstChild, at); range.setEnd(e.firstChild, at + 1);
          return [range.getBoundingClientRect().top, range.getBoundingClientRect().left];
        })""")
        assert lefts[0][0] < lefts[1][0]  # it begins above its end, and at the left
        assert lefts[0][1] < 120


@pytest.mark.long
def test_an_arabic_page_runs_from_the_right(chromium: Browser, folder: Path, pack: Pack) -> None:
    path = folder / "arabic.html"
    one = replace(pack, cards=(small(pack.cards[0]),), language=Language("ar"))
    path.write_bytes(write_page(one))
    with opened(chromium, path.as_uri()) as page:
        assert page.locator("html").get_attribute("lang") == "ar"
        assert page.locator("html").get_attribute("dir") == "rtl"
        left = page.locator(".now .first .plain bdi").bounding_box()
        assert left["x"] + left["width"] > 360  # the name stands at the right
        assert size_of(page) == (390, 844)


@pytest.mark.long
def test_what_people_have_said_stands_on_the_card_as_a_question(
    chromium: Browser, asking: str
) -> None:
    with opened(chromium, asking) as page:
        to(page, 2)
        assert page.locator(".now .question p").all_inner_texts() == [
            "Anna Reed wants: Gudrun", "Ben Cole says that it is right.", "What shall it be?",
        ]  # fmt: skip


@pytest.mark.long
def test_what_is_settled_asks_nothing(chromium: Browser, asking: str) -> None:
    with opened(chromium, asking) as page:
        to(page, 5)
        assert "Confirmed on 5 December 2026." in page.locator(".now").inner_text()
        assert page.locator(".now button.yes").count() == 0
        assert "6 open" in page.locator("#where").inner_text()  # one card is of two cups


# The way through


@pytest.mark.long
def test_forty_cups_take_forty_taps_and_no_scrolling(
    chromium: Browser, folder: Path, pack: Pack
) -> None:
    """Taps go to places of the screen: what would have to be scrolled to is not hit."""
    some = [small(card) for card in pack.cards]
    forty = tuple(
        replace(some[at % len(some)], seals={at + 1: f"{at:04d}"}, number=f"{at + 1:03d}")
        for at in range(40)
    )
    path = folder / "forty.html"
    path.write_bytes(write_page(replace(pack, cards=forty)))
    with opened(chromium, path.as_uri()) as page:
        taps = 0
        while not page.locator("#overview").is_visible():
            assert size_of(page) == (390, 844)
            assert page.evaluate("window.scrollY") == 0
            box = page.locator(".now .yes").bounding_box()
            page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
            taps += 1
        assert taps <= 40
        assert page.locator("#summary").inner_text().startswith("You have answered for every cup")
        assert page.locator(".row.yes").count() == 40


@pytest.mark.long
def test_a_second_tap_at_the_same_place_answers_nothing(chromium: Browser, address: str) -> None:
    with opened(chromium, address, script="") as page:
        page.wait_for_timeout(400)
        page.locator(".now .yes").dblclick()
        assert title(page) == "Cup 003"
        assert "9 open" in page.locator("#where").inner_text()
        page.wait_for_timeout(400)
        right(page)
        assert "8 open" in page.locator("#where").inner_text()


@pytest.mark.long
def test_back_goes_back_and_the_next_open_one_lies_ahead(chromium: Browser, address: str) -> None:
    with opened(chromium, address) as page:
        right(page)
        right(page)
        assert title(page) == "Cup 004"
        page.locator("#back").click()
        assert title(page) == "Cup 003"
        assert page.locator(".now .yes").get_attribute("aria-pressed") == "true"
        page.go_back()  # as the phone's own button does
        assert title(page) == "Cup 004"
        to(page, 7)
        page.locator("#next").click()
        assert title(page) == "Cup 009"
        to(page, 10)
        page.locator("#next").click()
        assert title(page) == "Cup 004"  # from the start again


@pytest.mark.long
def test_a_change_without_words_stays_open(chromium: Browser, address: str) -> None:
    with opened(chromium, address) as page:
        page.locator(".now .no").click()
        page.locator(".now .keep").click()
        assert title(page) == "Cups 001 to 002"
        assert page.get_by_text("Until then this one stays open").first.is_visible()
        assert "11 open" in page.locator("#where").inner_text()
        page.locator(".now textarea").fill("other hand")
        assert "9 open" in page.locator("#where").inner_text()
        page.locator(".now .drop").click()
        assert "11 open" in page.locator("#where").inner_text()
        assert page.locator(".now .yes").is_visible()


@pytest.mark.long
@pytest.mark.parametrize("size", ["phone", "desk"])
def test_all_of_it_by_keyboard(chromium: Browser, address: str, size: str) -> None:
    """Whatever has the focus is seen, has an outline, and is not under the bar."""
    seen = set()
    with opened(chromium, address, size) as page:
        for _ in range(60):
            page.keyboard.press("Tab")
            focused = page.evaluate(
                """() => {
                  const element = document.activeElement, box = element.getBoundingClientRect();
                  const bar = document.querySelector('.bar').getBoundingClientRect();
                  return { id: element.id || element.className || element.tagName,
                           hidden: !element.closest('.bar') && box.top >= bar.top,
                           outline: getComputedStyle(element).outlineStyle };
                }"""
            )
            if focused["id"].startswith("walk"):
                continue
            assert not focused["hidden"], focused
            assert focused["outline"] != "none", focused
            seen.add(focused["id"])
            if focused["id"] == "yes" and title(page) == "Cups 001 to 002":
                page.keyboard.press("Enter")
            elif focused["id"] == "no" and title(page) == "Cup 003":
                page.keyboard.press("Space")
                page.keyboard.type("a")  # at the end of the name
            elif focused["id"] == "keep" or (focused["id"] == "all" and title(page) == "Cup 004"):
                page.keyboard.press("Enter")
            elif focused["id"] == "by":
                page.keyboard.type("Anouk")
        assert {"yes", "no", "keep", "back", "all", "row", "by", "save"} <= seen
        assert "8 open" in page.locator("#where").inner_text()
        assert page.locator(".row .state").nth(1).inner_text() == "Change: Guðrún Þórðardóttira"


# What leaves it


def test_answers_are_counted_saved_and_taken(
    chromium: Browser, address: str, order: Path, tmp_path: Path
) -> None:
    with opened(chromium, address, timezone_id="America/St_Johns") as page:
        right(page)
        wants(page, name="Gudrun Þórðardóttir")
        wants(page, "it’s “Sara”\nin Latin letters – please")
        assert "7 open" in page.locator("#where").inner_text()
        to_end(page, "Anouk Lind")
        answers = from_file(order, saved(page, tmp_path))
        page.locator("#folded summary").click()
        text = from_text(order, page.locator("#text").input_value())
        right_again = page.locator(".row .state").first.inner_text()
    assert (answers.said_by, answers.saving, text.saving) == ("Anouk Lind", 1, 2)
    assert answers.said_at[-6:] in ("-03:30", "-02:30")
    said = {each.item: each for each in answers.said}
    assert {n: each.verdict for n, each in said.items()} == {
        1: "yes", 2: "yes", 3: "change", 4: "change",
    }  # fmt: skip
    assert said[3].texts == {"name": "Gudrun Þórðardóttir"}
    assert said[4].words == "it’s “Sara” in Latin letters – please"
    assert right_again == "Right"
    seen = [(s.item, s.seal, s.verdict, s.words) for s in answers.said]
    assert [(s.item, s.seal, s.verdict, s.words) for s in text.said] == seen
    assert (text.page, text.is_exact) == (answers.page, True)
    assert json.loads(next(tmp_path.iterdir()).read_text())["version"] == 2


def test_what_was_answered_is_thanked_for_once_it_was_sent(chromium: Browser, asking: str) -> None:
    """Five cards are open, and one of them is of two cups."""
    with opened(chromium, asking, script=AT_ONCE + SHARES) as page:
        steps = ("1 of 7 · 6 open", "3 of 7 · 4 open", "4 of 7 · 3 open", "5 of 7 · 2 open",
                 "7 of 7 · 1 open")  # fmt: skip
        for step in steps:
            assert page.locator("#where").inner_text() == step
            right(page)
        page.locator("#end").click()
        assert page.locator("#send-title").evaluate("each => each === document.activeElement")
        summary, partly = page.locator("#summary"), page.locator("#partly")
        page.get_by_label("Ben Cole").check()
        page.locator("#save").click()
        for _ in range(2):  # a file that was saved was not sent
            assert "we do not have them yet" in summary.inner_text()
            assert "Thank you" not in summary.inner_text()
            assert partly.is_hidden(), "nothing is left to be sent later"
            page.reload()
        to_end(page, "Ben Cole")
        page.locator("#share").click()
        expect(summary).to_have_text("You have answered for every cup. Thank you!")
        to(page, 1)
        wants(page, "other hand")
        to_end(page)
        expect(summary).to_contain_text("we do not have them yet")
        to(page, 2)
        page.locator(".now .no").click()
        page.locator(".now .drop").click()
        to_end(page)
        expect(summary).to_contain_text("1 cup is still open")
        assert partly.is_visible()


@pytest.mark.long
def test_nothing_leaves_it_without_a_name(chromium: Browser, address: str, asking: str) -> None:
    with opened(chromium, address, script=AT_ONCE + SHARES) as page:
        right(page)
        to_end(page)
        for button in ("#share", "#save", "#copy", "#mail", "#folded summary"):
            page.locator(button).click()
            assert page.locator("#said").inner_text() == "Please write your name first."
        assert page.locator("#text").is_hidden()
        assert page.evaluate("[shared, clicked]") == [[], []]
    with opened(chromium, asking) as page:
        right(page)
        to_end(page)
        page.locator("#save").click()
        assert page.locator("#said").inner_text() == "Please say first who you are."
        assert page.locator("#by").is_hidden()
        page.get_by_label("Somebody else").check()
        assert page.locator("#by").is_visible()


SHARES = """
  window.shared = []; window.clicked = [];
  navigator.canShare = (data) => data.files.every((file) => /\\.(txt|html)$/.test(file.name));
  navigator.share = async (data) => {
    for (const file of data.files) shared.push([file.name, await file.text()]);
    if (window.refusing) throw new DOMException('no', window.refusing);
  };
  HTMLAnchorElement.prototype.click = function () { clicked.push([this.download, this.href]); };
"""
"""A device that passes on what browsers let it pass on, and notes what pages ask of it."""


@pytest.mark.long
def test_a_device_that_passes_files_on_gets_one(
    chromium: Browser, address: str, order: Path, tmp_path: Path
) -> None:
    with opened(chromium, address, script=AT_ONCE + SHARES) as page:
        right(page)
        to_end(page, "Anouk")
        page.locator("#share").click()
        expect(page.locator("#said")).to_contain_text("Passed on")
        ((name, text),) = page.evaluate("shared")
        path = tmp_path / name
        path.write_text(text)
        assert len(from_file(order, path).said) == 2
        page.evaluate("window.refusing = 'AbortError'")
        page.locator("#share").click()
        assert page.evaluate("clicked") == []  # who calls it off wants nothing else
        page.evaluate("window.refusing = 'NotAllowedError'")
        page.locator("#share").click()
        for _ in range(100):
            if page.evaluate("clicked.length") == 1:
                break
            page.wait_for_timeout(50)
        assert page.evaluate("clicked.length") == 1
        assert page.evaluate("clicked[0][0]").endswith("-3.json")


@pytest.mark.long
def test_without_sharing_it_is_saved_copied_or_written(
    chromium: Browser, address: str, order: Path
) -> None:
    allowed = ["clipboard-read", "clipboard-write"]
    script = AT_ONCE + SHARES + "navigator.canShare = undefined;"
    with opened(chromium, address, "desk", script=script, permissions=allowed) as page:
        right(page)
        to_end(page, "Anouk")
        assert page.locator("#share").is_hidden()
        page.locator("#copy").click()
        expect(page.locator("#said")).to_contain_text("Copied")
        pasted = from_text(order, page.evaluate("navigator.clipboard.readText()"))
        page.locator("#mail").click()
        ((_, link),) = page.evaluate("clicked")
        body = page.evaluate(
            "link => decodeURIComponent(link.match(/^mailto:(.*?)\\?subject=.*&body=(.*)$/)[2])",
            link,
        )
        mailed = from_text(order, body)
    assert link.startswith("mailto:proofs@ferry-lane.example?")
    assert [each.item for each in pasted.said] == [each.item for each in mailed.said] == [1, 2]
    assert (pasted.saving, mailed.saving) == (1, 2)


def test_a_browser_that_does_not_copy_shows_the_text(
    chromium: Browser, address: str, order: Path
) -> None:
    refuse = "navigator.clipboard.writeText = () => Promise.reject(new Error('no'));"
    with opened(chromium, address, script=AT_ONCE + refuse) as page:
        right(page)
        to_end(page, "Anouk")
        page.locator("#copy").click()
        expect(page.locator("#said")).to_contain_text("yourself")
        chosen = page.evaluate("getSelection().toString() || (e => e.value.slice(e.selectionStart, "
                               "e.selectionEnd))(document.getElementById('text'))")  # fmt: skip
    assert len(from_text(order, chosen).said) == 2


# What stays


@pytest.mark.long
def test_nothing_is_lost_when_the_page_is_closed(
    chromium: Browser, address: str, order: Path, tmp_path: Path
) -> None:
    with opened(chromium, address) as page:
        right(page)
        wants(page, role="Violin III")
        to_end(page, "Anouk")
        before = from_file(order, saved(page, tmp_path))
        again = page.context.new_page()
        page.close()
        again.goto(address)
        assert title(again) == "Cup 004"  # the first that is open
        to_end(again)
        assert "kept in this browser" in again.locator("#kept").inner_text()
        after = from_file(order, saved(again, tmp_path))
    assert after.said == before.said
    assert (after.page, after.saving) == (before.page, 2)
    assert after.said_by == "Anouk"


@pytest.mark.long
def test_without_storage_it_works_for_the_sitting_and_says_so(
    chromium: Browser, address: str, order: Path, tmp_path: Path
) -> None:
    with opened(chromium, "about:blank", script=AT_ONCE + NO_STORE) as page:
        page.goto(address)
        right(page)
        to_end(page, "Anouk")
        assert "does not keep your answers" in page.locator("#kept").inner_text()
        first, second = (from_file(order, saved(page, tmp_path)) for _ in range(2))
        assert first.page == second.page
        assert (first.saving, second.saving) == (1, 2)
        to(page, 2)
        right(page)
        asked: list[str] = []
        page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
        page.close(run_before_unload=True)
        page.wait_for_event("close")
        assert asked == ["beforeunload"]


@pytest.mark.long
def test_the_second_person_sees_what_the_first_said_and_answers_under_their_own_name(
    chromium: Browser, asking: str, order: Path, tmp_path: Path
) -> None:
    with opened(chromium, asking) as page:
        right(page)
        to(page, 3)
        wants(page, "</script><b>Sara</b>, as she writes it")
        to_end(page, "Anna Reed")
        page.get_by_text("Somebody else should answer").click()
        copy = saved(page, tmp_path, "#pass")
        anna = from_file(order, saved(page, tmp_path))
        second = page.context.new_page()
        second.goto(copy.as_uri())
        assert "Anna Reed says that it is right." in second.locator(".now").inner_text()
        assert second.locator(".now .yes").get_attribute("aria-pressed") == "false"
        right(second)
        right(second)
        told = second.locator(".now .before").inner_text()
        assert told == "Anna Reed wants: </script><b>Sara</b>, as she writes it"
        right(second)
        to_end(second, "Ben Cole")
        ben = from_file(order, saved(second, tmp_path))
        third = tmp_path / "third.html"
        second.get_by_text("Somebody else should answer").click()
        third = saved(second, tmp_path, "#pass")
        last = page.context.new_page()
        last.goto(third.as_uri())
        assert last.locator(".now .before p").count() == 2
    assert (anna.said_by, ben.said_by) == PEOPLE
    assert anna.page != ben.page
    assert {each.item: each.verdict for each in anna.said}[4] == "change"
    assert {each.item: each.verdict for each in ben.said} == dict.fromkeys((1, 2, 3, 4), "yes")


# For everybody, on every device


@pytest.mark.long
@pytest.mark.parametrize(("size", "scheme"), [("phone", "dark"), ("desk", "light")])
def test_axe_finds_nothing_against_wcag_2_2_aa(
    chromium: Browser, asking: str, size: str, scheme: str
) -> None:
    """W3C, Web Content Accessibility Guidelines 2.2, as far as axe-core can tell."""

    def judge(page: Any) -> None:
        assert against_wcag(page, scheme) == []

    # The rules are run from outside the page: its own policy lets no other script in.
    with opened(chromium, asking, size, bypass_csp=True, color_scheme=scheme) as page:
        judge(page)
        right(page)
        page.locator(".now .no").click()
        judge(page)
        page.locator(".now textarea").fill("another spelling")
        to_end(page, "Anna Reed")
        for folded in page.locator("summary").all():
            folded.click()
        judge(page)
        ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
        assert ground == {"light": "rgb(252, 251, 248)", "dark": "rgb(23, 24, 27)"}[scheme]


@pytest.mark.long
def test_at_twice_the_size_nothing_runs_off_the_side(chromium: Browser, asking: str) -> None:
    with opened(chromium, asking, "zoomed") as page:
        for at in range(page.locator(".card").count()):
            to(page, at + 1)
            if page.locator(".now .no").count():
                page.locator(".now .no").click()
            assert size_of(page)[0] == 195, at
        to_end(page, "Anna Reed")
        for folded in page.locator("summary").all():
            folded.click()
        assert size_of(page)[0] == 195


def test_screen_readers_hear_what_is_asked(chromium: Browser, address: str) -> None:
    with opened(chromium, address) as page:
        to(page, 2)
        tree = page.locator(".now article").aria_snapshot()
        assert "Guðrún Þórðardóttir" in tree.split("\n")[0]
        assert "Cup 003" in tree.split("\n")[0]
        assert 'group "Is every letter right? Cup 003"' in tree
        assert 'button "Right"' in tree
        assert 'button "Change"' in tree
        assert "img" in tree
        assert page.evaluate("document.activeElement.tagName") == "H2"
        assert page.locator("#where").get_attribute("role") == "status"


@pytest.mark.long
def test_without_scripts_the_cups_are_there_and_it_says_how_to_answer(
    chromium: Browser, address: str, pack: Pack
) -> None:
    with opened(chromium, address, java_script_enabled=False) as page:
        told = " ".join(page.locator("noscript").inner_text().split())
        assert "open the file in a web browser" in told
        assert f"pack {pack.id}" in told
        assert "“Right: 001 to 002”" in told
        assert page.locator(".card:visible").count() == len(READY)
        for name, _ in READY:
            assert page.locator(".first .plain", has_text=name).first.is_visible()
        assert page.locator("button:visible").count() == 0
        assert size_of(page)[0] == 390


@pytest.mark.parametrize("scripts", [True, False])
def test_printed_it_is_all_cups_with_boxes_to_tick(
    chromium: Browser, address: str, scripts: bool
) -> None:
    with opened(chromium, address, "desk", java_script_enabled=scripts) as page:
        page.emulate_media(media="print", color_scheme="dark")
        assert page.locator(".card:visible").count() == len(READY)
        assert page.locator(".ticks:visible").count() == len(READY)
        assert page.locator(".ticks .box:visible").count() == 2 * len(READY)
        assert page.locator("button:visible").count() == 0
        assert page.locator(".sign").is_visible()
        assert SENDER.reach[1] in page.locator(".top").inner_text()
        assert page.evaluate("getComputedStyle(document.body).backgroundColor") in (
            "rgb(255, 255, 255)", "rgba(0, 0, 0, 0)",
        )  # fmt: skip


def test_names_are_text_and_never_markup(chromium: Browser, address: str) -> None:
    with opened(chromium, address) as page:
        assert page.locator(".card b").count() == 0
        assert page.locator("script").count() == 3
        policy = page.locator("meta[http-equiv]").get_attribute("content")
        assert policy.startswith("default-src 'none'")
        assert "unsafe" not in policy


@pytest.mark.long
def test_clients_get_no_words_of_the_workshop(chromium: Browser, asking: str, pack: Pack) -> None:
    with opened(chromium, asking) as page:
        for at in range(page.locator(".card").count()):
            to(page, at + 1)
            shown = page.locator("body").inner_text().lower()
            assert not {"seal", "radius", "beam", "mm", "zone", "item"} & {*shown.split()}
            assert not any(seal in shown for seal in pack.cards[at].seals.values())


def test_pictures_of_a_face_are_cut_from_nothing_but_the_wall(pack: Pack) -> None:
    """No paper beside it: in the dark it would glare."""
    for card in pack.cards:
        with Image.open(io.BytesIO(card.faces[0])) as face:
            edge = face.convert("L").crop((0, 0, 1, face.height))
            assert edge.getextrema()[1] < 128
