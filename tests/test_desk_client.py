"""Client on the desk: what its pages show is what the deeds say, and each form does one deed."""

from __future__ import annotations

import datetime as dt
import html
import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from desks import Visitor, against_wcag, answering, holding
from playwright.sync_api import Browser, Page
from shop import Shop
from typer.testing import CliRunner

from mailmerge.answers.incoming import Answers, Said, check_of
from mailmerge.answers.said import Unclear
from mailmerge.answers.taking import take
from mailmerge.cli.app import app
from mailmerge.deeds.arranging import arranged
from mailmerge.deeds.copies import copies
from mailmerge.deeds.sending import wrapped
from mailmerge.deeds.talk import pack_page, reminders, talk
from mailmerge.desk import words
from mailmerge.ledger.ledger import open_ledger


@pytest.fixture
def visitor(packed: Shop) -> Visitor:
    return Visitor(packed.folder)


def text_of(page: str) -> str:
    """Return what a page says, in one line."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", page)).split())


def saw(shop: Shop, number: int) -> str:
    return f"{number}:{shop.records()[number].heard}"


def saved(shop: Shop, *said: tuple[int, str, str], by: str = "Anna Reed") -> bytes:
    """Return an answers file as the client's page saves it."""
    with open_ledger(shop.folder) as ledger:
        pack, order = ledger.newest_pack()[0], ledger.order_id
        seals = ledger.shown_in(pack)
    answers = [
        {"item": n, "seal": seals[n], "answer": verdict, "words": words, "texts": {}}
        for n, verdict, words in said
    ]
    one = Answers(
        "file", by, "2026-11-27T10:00:00+00:00",
        tuple(Said(n, seals[n], "yes" if v == "yes" else "change", w, {}) for n, v, w in said),
        pack, "ABCD-EFGH", 1,
    )  # fmt: skip
    told = {
        "kind": "answers to a proof pack", "version": 2, "order": order, "pack": pack, "by": by,
        "at": one.said_at, "answers": answers, "page": one.page, "saving": 1,
        "check": check_of(one),
    }  # fmt: skip
    return json.dumps(told).encode()


def status_of(shop: Shop) -> dict[str, object]:
    """Return what the command line says of the order."""
    told = CliRunner().invoke(app, ["status", str(shop.folder), "--json"])
    return dict(json.loads(told.stdout))


def test_what_is_open_is_what_the_command_line_says(visitor: Visitor, packed: Shop) -> None:
    packed.yes(1)
    packed.wish(2, "with an e", name="Bo Dahle")
    page = visitor.asks("client").text
    items: list[dict[str, object]] = status_of(packed)["items"]  # type: ignore[assignment]
    waiting = {str(i["item"]) for i in items if i["standing"] == "waiting"}
    assert set(re.findall(r'type="checkbox" name="item" value="(\d+):', page)) == waiting
    assert "1 answered, 3 open. 1 wish for you to settle." in text_of(page)
    assert "Bo Dahl<mark>e</mark>" in page


@pytest.mark.long
def test_a_pack_is_made_as_the_form_says(shop: Shop) -> None:
    visitor = Visitor(shop.folder)
    page = visitor.asks("client").text
    assert "No proof pack was made yet" in page
    digest = arranged(shop.folder).digest
    visitor.sends(
        "client", "pack", language="de", people="Anna Reed\n\nTom Lang\n", needs="all", saw=digest
    )
    assert visitor.waits().state == "done"
    found = arranged(shop.folder).client
    assert (found.language, found.people, found.needs) == ("de", ("Anna Reed", "Tom Lang"), "all")
    sent = talk(shop.folder).sent
    assert sent is not None
    assert sent.name in visitor.asks("client").text
    again = visitor.sends("client", "pack", language="fr", needs="one", saw=digest)
    assert again.status_code == 422, "somebody else has changed the order since"
    assert arranged(shop.folder).client.language == "de"


def test_the_pack_is_saved_as_the_file_that_the_command_writes(
    visitor: Visitor, packed: Shop
) -> None:
    answer = visitor.asks("client", "pack", "file")
    assert answer.headers["content-type"] == "application/zip"
    assert "spring-concert-proofs.zip" in answer.headers["content-disposition"]
    assert answer.content == b"".join(wrapped(packed.folder).parts)


def test_the_clients_page_is_seen_apart_from_the_desk(visitor: Visitor, packed: Shop) -> None:
    answer = visitor.asks("client", "pack", "page")
    assert answer.content == pack_page(packed.folder)
    policy = answer.headers["content-security-policy"]
    assert policy.startswith("sandbox allow-scripts;")
    assert "allow-same-origin" not in policy
    assert "frame-ancestors 'none'" in policy
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_a_file_that_came_back_is_taken_in_and_shown_whole(visitor: Visitor, packed: Shop) -> None:
    file = saved(packed, (1, "yes", ""), (2, "change", "Dahle, with an e"), (3, "yes", ""))
    page = visitor.sends("client", "came", files={"file": ("../../answers.json", file)})
    assert page.status_code == 200
    told = text_of(page.text)
    assert "3 answers from Anna Reed." in told
    assert words.CAME_ON_RECORD in told, "nobody has to guess whether a press is left"
    for said in ("1 Anna Berg", "2 Bo Dahl", "Dahle, with an e", "3 Carla Ek"):
        assert said in told
    assert packed.standing() == {
        1: "confirmed", 2: "to change", 3: "confirmed", 4: "waiting", 5: "waiting",
    }  # fmt: skip
    again = visitor.sends("client", "came", files={"file": ("answers.json", file)})
    assert "Was on record already 3" in text_of(again.text)


def test_a_message_that_is_not_understood_becomes_a_question_and_is_settled(
    visitor: Visitor, packed: Shop
) -> None:
    words = "Could <b>the cup</b> of Eva be left out? & thanks"
    page = visitor.sends("client", "came", text=words)
    assert html.escape(words, quote=False) in page.text
    assert "<b>the cup</b>" not in page.text
    (question,) = talk(packed.folder).questions
    shown = visitor.asks("client").text
    assert html.escape(words, quote=False) in shown
    assert "<b>the cup</b>" not in shown
    visitor.sends(
        "client", "settle", question=str(question.number), by="Ina Holm", because="asked: no"
    )
    assert talk(packed.folder).questions == ()
    again = visitor.sends("client", "settle", question=str(question.number), by="x", because="y")
    assert again.status_code == 422


@pytest.mark.long
def test_a_pasted_message_of_more_than_a_megabyte_is_taken(visitor: Visitor, packed: Shop) -> None:
    text = "Fine so!" + " " * 1_000_000 + "Thanks."
    came = visitor.at("client", "came")
    assert visitor.client.post(came, files={"text": (None, text)}).is_success
    assert [each.words for each in talk(packed.folder).questions] == ["Fine so! Thanks."]


def test_the_paste_form_says_first_that_words_hold_cups(visitor: Visitor) -> None:
    assert "It holds every cup it may concern" in text_of(visitor.asks("client").text)


@pytest.mark.long
def test_a_guest_who_came_late_gets_a_cup(visitor: Visitor, packed: Shop) -> None:
    with packed.changing() as change:
        pack, _ = change.newest_pack()
        late = Unclear((), "below the last row", "Clara Øverland", {"name": "Clara Øverland"})
        take(change, Answers("workbook", "Anna Reed", "", (), pack, unclear=(late,)))
    (question,) = talk(packed.folder).questions
    fields = {"question": str(question.number), "by": "Ina Holm", "because": "one more cup"}
    visitor.sends("client", "settle", as_guest="yes", **fields)
    assert visitor.waits().state == "done"
    assert packed.records()[6].name == "Clara Øverland"


def test_what_needs_the_order_itself_says_what_it_has_to_wait_for(
    visitor: Visitor, packed: Shop
) -> None:
    digest = arranged(packed.folder).digest
    with holding(visitor):
        for answer in (
            visitor.sends("client", "pack", language="de", people="", needs="one", saw=digest),
            visitor.sends("client", "came", text="All fine."),
        ):
            assert answer.status_code == 422
            assert "Waiting is still at work. Wait for it" in text_of(answer.text)
    assert arranged(packed.folder).digest == digest


@pytest.mark.long
def test_words_about_the_client_wait_in_line_while_cups_are_made(
    visitor: Visitor, packed: Shop
) -> None:
    """A yes, a decision, a settled question and a late guest: each is taken at once, done later."""
    packed.wish(2, "with an e", name="Bo Dahle")
    with packed.changing() as change:
        pack, _ = change.newest_pack()
        late = [Unclear((), "below", text, {"name": text}) for text in ("Clara Øverland", "Ole")]
        take(change, Answers("workbook", "Anna Reed", "", (), pack, unclear=tuple(late)))
    one, other = talk(packed.folder).questions
    by = {"by": "Ina Holm", "because": "asked <i>them</i>"}
    with holding(visitor):
        told = [
            visitor.sends("client", "confirm", item=saw(packed, 3), by="Anna, by telephone"),
            visitor.sends("client", "decide", item=saw(packed, 2), **by),
            visitor.sends("client", "settle", question=str(one.number), as_guest="yes", **by),
            visitor.sends("client", "settle", question=str(other.number), **by),
        ]
        for answer in told:
            assert answer.status_code == 200
            assert "by itself, as soon as what is at work is done" in text_of(answer.text)
        page = visitor.asks("client").text
        assert page.count("waits for its turn") == 4
        assert packed.standing()[3] == "waiting"
        assert len(talk(packed.folder).questions) == 2
    assert visitor.waits().state == "done"
    assert (packed.standing()[3], packed.standing()[2]) == ("confirmed", "waiting")
    assert talk(packed.folder).questions == ()
    assert packed.records()[6].name == "Clara Øverland"
    assert "waits for its turn" not in visitor.asks("client").text


@pytest.mark.long
def test_a_word_that_waited_and_is_refused_is_told_where_it_was_pressed(
    visitor: Visitor, packed: Shop
) -> None:
    seen = saw(packed, 3)
    with holding(visitor):
        visitor.sends("client", "confirm", item=seen, by="Anna, by telephone")
        packed.wish(3, "with a K", name="Karla Ek")
    visitor.waits()
    assert packed.standing()[3] == "to change"
    page = visitor.asks("client").text
    card = page[page.index('id="cup-3"') : page.index("</article>")]
    assert "A yes, on record" in card
    assert 'role="alert"' in card


@pytest.mark.parametrize(
    ("files", "text"),
    [
        ({"file": ("answers.json", b"{}")}, ""),
        ({"file": ("list.xlsx", b"PK\x03\x04 no workbook")}, ""),
        ({"file": ("answers.json", b"\xff\xfe\x00")}, ""),
        (None, ""),
    ],
)
def test_what_is_no_answer_is_refused_in_one_line_and_nothing_is_taken(
    visitor: Visitor, packed: Shop, files: dict[str, tuple[str, bytes]] | None, text: str
) -> None:
    before = packed.records()
    answer = visitor.sends("client", "came", files=files, text=text)
    assert answer.status_code == 422
    told = re.search(r'id="refusal"><p>(.*?)</p>', answer.text, re.S)
    assert told is not None
    assert "/tmp" not in told[1]
    assert packed.records() == before


@pytest.mark.long
def test_a_wish_is_taken_and_its_cup_made_again(visitor: Visitor, packed: Shop) -> None:
    packed.wish(2, name="Bo Dahle")
    fields = {"item": saw(packed, 2), "text.name": "Bo Dahle", "text.role": "Horn"}
    assert visitor.sends("client", "accept", **fields).status_code == 200
    assert visitor.waits().state == "done"
    record = packed.records()[2]
    assert (record.about["name"], str(record.standing)) == ("Bo Dahle", "waiting")
    assert [c.field for c in record.corrections] == ["name"], "the role was not typed anew"


def test_own_words_that_change_nothing_are_refused(visitor: Visitor, packed: Shop) -> None:
    fields = {"item": saw(packed, 2), "text.name": "Bo Dahl"}
    assert visitor.sends("client", "accept", **fields).status_code == 422
    assert not packed.records()[2].corrections


def test_a_wish_that_came_after_the_page_was_shown_is_not_set_aside_unread(
    visitor: Visitor, packed: Shop
) -> None:
    packed.wish(2, name="Bo Dahle")
    shown = saw(packed, 2)
    packed.wish(2, "leave it out", name="Bo Dahlen")
    fields = {"by": "Ina Holm", "because": "as agreed"}
    answer = visitor.sends("client", "decide", item=shown, **fields)
    assert answer.status_code == 422
    assert "Item 2, Bo Dahl: It has changed" in text_of(answer.text)
    assert not packed.records()[2].decisions
    assert visitor.sends("client", "decide", item=saw(packed, 2), **fields).status_code == 200
    (decision,) = packed.records()[2].decisions
    assert (decision.said_by, decision.reason) == ("Ina Holm", "as agreed")


def test_what_is_sent_first_is_one_page_that_needs_no_other_file(
    visitor: Visitor, packed: Shop
) -> None:
    (page,) = (packed.folder / "proof-pack").glob("*.html")
    shown = visitor.asks("client").text
    assert re.search(rf'pack/page" download="{page.name}">Save the page, to send<', shown)
    sent = visitor.asks("client", "pack", "page").text
    assert sent == page.read_text(encoding="utf-8")
    places = re.findall(r'(?:src|href)="([^"]*)"', sent)
    assert places
    assert [each for each in places if not each.startswith(("data:", "#", "mailto:"))] == []


def test_a_yes_by_telephone_is_put_on_record_with_its_day(visitor: Visitor, packed: Shop) -> None:
    today = dt.date.today()
    answer = visitor.client.post(
        visitor.at("client", "confirm"),
        data={
            "item": [saw(packed, 1), saw(packed, 3)],
            "by": "Ms Roth, by telephone", "on": str(today),
        },
    )  # fmt: skip
    assert "The yes for Anna Berg and Carla Ek is on record." in text_of(answer.text)
    assert [n for n, s in packed.standing().items() if s == "confirmed"] == [1, 3]
    before = str(today - dt.timedelta(days=2))  # two: the pack may have been made before midnight
    early = visitor.sends("client", "confirm", item=saw(packed, 4), by="Ms Roth", on=before)
    assert early.status_code == 422, "no pack had shown it then"
    for by, on in (("", ""), ("Ms Roth", "soon")):
        answer = visitor.sends("client", "confirm", item=saw(packed, 4), by=by, on=on)
        assert answer.status_code == 422
    assert packed.standing()[4] == "waiting"


def test_people_who_disagree_are_shown_with_their_names(visitor: Visitor, packed: Shop) -> None:
    seal = packed.records()[2].seal or ""
    packed.answer(Said(2, seal, "change", "", {"name": "Bo Dahle"}), by="Anna Reed")
    packed.answer(Said(2, seal, "yes"), by="Tom Lang")
    page = text_of(visitor.asks("client").text)
    assert packed.standing()[2] == "they disagree"
    assert "Tom Lang says that it is right." in page
    assert "Anna Reed wants another text." in page


def test_a_reminder_is_shown_as_the_deed_writes_it(visitor: Visitor, packed: Shop) -> None:
    packed.yes(1)
    (told,) = reminders(packed.folder)
    page = html.unescape(visitor.asks("client").text)
    assert told.text in page


def test_the_wished_picture_is_no_file_of_the_order(visitor: Visitor, packed: Shop) -> None:
    before = packed.files()
    path = visitor.at("client", 2, "as.png")
    wished = visitor.client.get(path, params={"text.name": "Bo Dahle"})
    now = visitor.client.get(path, params={})
    assert wished.content.startswith(b"\x89PNG")
    assert wished.content != now.content
    assert packed.files() == before
    tried = visitor.client.get(visitor.at("client", 2, "tried"), params={"text.name": "Bo " * 60})
    assert 'class="found stop"' in tried.text
    (source,) = re.findall(r'src="([^"]+)"', tried.text)
    assert visitor.client.get(source).content.startswith(b"\x89PNG")
    assert visitor.asks("client", "tried", "nothing.png").status_code == 422


def test_all_that_was_said_about_a_cup_is_shown_on_demand(visitor: Visitor, packed: Shop) -> None:
    packed.wish(2, "with an e", name="Bo Dahle")
    packed.accept(2)
    page = text_of(visitor.asks("client", 2).text)
    assert "with an e" in page
    assert "Bo Dahle" in page
    assert visitor.asks("client", 99).status_code == 422
    seals = [answer.seal for answer in packed.records()[2].answers]
    assert seals
    assert not any(seal in page for seal in seals), "a maker reads no seals"


@pytest.mark.long
def test_a_text_that_was_taken_is_taken_back_where_it_is_shown(
    visitor: Visitor, packed: Shop
) -> None:
    packed.wish(2, name="Bo Dahle")
    assert "take-back" not in visitor.asks("client", 2).text
    packed.accept(2)
    page = visitor.asks("client", 2).text
    assert re.search(r'action="[^"]*/list/take-back"', page)
    visitor.sends("list", "take-back", item="2", field="name")
    assert visitor.waits().state == "done"
    assert packed.records()[2].about["name"] == "Bo Dahl"
    assert "take-back" not in visitor.asks("client", 2).text


def test_an_order_goes_on_with_an_earlier_record(visitor: Visitor, packed: Shop) -> None:
    packed.yes(1)
    kept = copies(packed.folder)
    assert len(kept) > 1
    page = visitor.asks("client", "records").text
    # There is no need to choose the present one, for nothing speaks against it.
    assert len(re.findall(r'name="name" value=', page)) == len(kept) - 1
    assert visitor.sends("client", "records", "back", name=kept[1].name).status_code == 200
    assert visitor.sends("client", "records", "back", name="../..").status_code == 422


def test_a_record_that_cannot_be_read_is_said_with_the_way_back(packed: Shop) -> None:
    packed.yes(1)
    visitor = Visitor(packed.folder)
    (packed.folder / "ledger.sqlite").write_bytes(b"no record" * 1000)
    page = visitor.asks("client")
    assert page.status_code == 200
    assert "Earlier records" in page.text
    assert 'name="name"' in page.text


def test_while_a_pack_is_made_its_button_and_its_place_alone_say_so(visitor: Visitor) -> None:
    assert places(visitor.asks("client").text)["client"] != words.PACK_BEING_MADE
    listed = places(visitor.asks("client").text)["list"]
    with holding(visitor, words.MAKING_PACK):
        page = visitor.asks("client").text
        assert places(page)["client"] == words.PACK_BEING_MADE
        assert places(page)["list"] == listed != words.CUPS_BEING_MADE
        assert re.search(rf"<button disabled aria-busy[^>]*>{words.MAKING_PACK}</button>", page)
    visitor.waits()
    assert words.MAKING_PACK not in visitor.asks("client").text


def test_while_a_wish_that_was_taken_is_made_nothing_else_is_offered_for_it(
    visitor: Visitor, packed: Shop
) -> None:
    packed.wish(2, "with an e, please", name="Bo Dahle")
    before = visitor.asks("client").text
    assert f"{words.TAKE_IT}<" in before
    with holding(visitor):
        item = re.findall(r'name="item" value="(2:[^"]*)"', before)[0]
        page = visitor.sends(
            "client", "accept", item=item, by="Anna Reed", **{"text.name": "Bo Dahle"}
        ).text
        assert words.WAITS_ITS_TURN in page
        card = page[page.index('id="cup-2"') : page.index("</article>")]
        assert words.TAKE_IT not in card
        assert words.LEAVE_IT not in card
        assert visitor.known is not None
        visitor.desk.works.leave(visitor.known.key)


def places(page: str) -> dict[str, str]:
    """Return what a page says that each place of the order needs."""
    said = r'<a href="/orders/\w+/(\w+)"[^>]*>\s*<strong>[^<]*</strong><span>([^<]*)</span>'
    return dict(re.findall(said, page))


@pytest.mark.long
@pytest.mark.outside("chromium")
def test_in_a_browser_a_wish_is_seen_typed_anew_and_put_on_its_cup(
    chromium: Browser, packed: Shop
) -> None:
    """By a real browser: what the page lets it do, and nothing against WCAG 2.2 AA (axe-core)."""
    packed.wish(2, "with an e, please", name="Bo Dahle")
    packed.wish(3, "is the colour right?")
    # Axe's rules are run from outside the page: its own policy lets no other script in.
    with (
        answering(packed.folder) as (entry, (known,)),
        opened(chromium, entry, known.key, bypass_csp=True) as page,
    ):
        assert against_wcag(page, "dark", "light") == []
        page.locator("#cup-2 figure img").nth(1).scroll_into_view_if_needed()
        is_shown = "() => document.querySelectorAll('#cup-2 img')[1].naturalWidth > 0"
        page.wait_for_function(is_shown)

        page.locator("#cup-2 summary").first.click()
        name, tried = page.locator("#cup-2").get_by_label("Name", exact=True), "#cup-2 .tried img"
        name.focus()  # the cup as it is, before anything is typed
        page.locator(tried).wait_for()
        now = page.locator(tried).get_attribute("src")
        name.fill("Bo Dahlén")
        page.locator(f"{tried}:not([src='{now}'])").wait_for()
        page.get_by_role("button", name=re.compile("Make it so.*Bo Dahl")).click()
        page.get_by_role("heading", name="Needs your word").wait_for()
        page.locator("#cup-2").wait_for(state="detached")
        assert packed.records()[2].about["name"] == "Bo Dahlén"


@pytest.mark.long
@pytest.mark.outside("chromium")
@pytest.mark.parametrize("by_keyboard", [False, True])
def test_in_a_browser_a_press_far_down_leads_to_what_is_said_of_it(
    chromium: Browser, packed: Shop, by_keyboard: bool
) -> None:
    """The settings' button stands below the fold, and what is said of it above all."""
    small = {"viewport": {"width": 390, "height": 500}}
    with (
        answering(packed.folder) as (entry, (known,)),
        opened(chromium, entry, known.key, **small) as page,
    ):
        page.get_by_label("Choose cup 5").check()
        page.get_by_label("Who said it, and how").fill("Ms Roth, by telephone")
        button = page.get_by_role("button", name="Put the yes on record")
        button.scroll_into_view_if_needed()
        assert page.evaluate("scrollY") > 300
        if by_keyboard:
            button.press("Enter")
        else:
            button.click()
        page.locator("#said:focus").wait_for()
        box = page.locator("#said").bounding_box()
        assert box is not None
        assert 0 <= box["y"] <= 500 - box["height"]
        page.reload()  # nobody has pressed anything: nobody is led anywhere
        page.wait_for_load_state()
        assert page.evaluate("document.activeElement.id") != "said"


@pytest.mark.long
@pytest.mark.outside("chromium")
def test_in_a_browser_the_clients_page_has_nothing_of_the_desks(
    chromium: Browser, packed: Shop
) -> None:
    with (
        answering(packed.folder) as (entry, (known,)),
        opened(chromium, entry, known.key) as page,
    ):
        with page.expect_popup() as popup:
            page.get_by_role("link", name=re.compile("^See it as the client will")).click()
        seen = popup.value
        seen.get_by_text("Is every letter right?").first.wait_for()  # it runs, and is shown
        assert seen.evaluate("origin") == "null"
        assert seen.evaluate("window.opener") is None
        asked = "fetch(location.href).then(() => 'let in', () => 'kept out')"
        assert seen.evaluate(asked) == "kept out"


@pytest.mark.long
@pytest.mark.outside("chromium")
def test_in_a_browser_a_refusal_stands_beside_what_was_typed(
    chromium: Browser, packed: Shop
) -> None:
    with (
        answering(packed.folder) as (entry, (known,)),
        opened(chromium, entry, known.key) as page,
    ):
        page.get_by_label("Choose cup 4, Dag Falk").check()
        page.get_by_label("Who said it, and how").fill("Ms Roth, by telephone")
        packed.wish(4, "no harp, please")
        page.get_by_role("button", name="Put the yes on record").click()
        alert = page.get_by_role("alert")
        assert "Item 4, Dag Falk: It has changed" in alert.inner_text()
        assert page.get_by_label("Who said it, and how").input_value() == "Ms Roth, by telephone"
        assert not packed.records()[4].said.yeses
        page.set_input_files("input[type=file]", files=[
            {"name": "answers.json", "mimeType": "application/json",
             "buffer": saved(packed, (1, "yes", ""))},
        ])  # fmt: skip
        page.get_by_role("heading", name="This came back").wait_for()
        assert packed.standing()[1] == "confirmed"


@contextmanager
def opened(browser: Browser, entry: str, key: str, **kind: Any) -> Iterator[Page]:
    """Open the place in a browser that was let in; no script may go wrong on it."""
    context = browser.new_context(**kind)
    page = context.new_page()
    page.set_default_timeout(30_000)
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(entry)
    page.goto(f"{entry.partition('/enter')[0]}/orders/{key}/client")
    yield page
    context.close()
    assert faults == []
