"""The bench: the run cup by cup, the clock that the order keeps, and what can be taken back."""

from __future__ import annotations

import datetime as dt
import html
import json
import re

import pytest
from desks import Visitor, answering, holding, open_page
from playwright.sync_api import Browser
from shop import GUESTS, Shop
from typer.testing import CliRunner

from mailmerge.cli import app
from mailmerge.deeds import bench, clock, run
from mailmerge.deeds.opening import order_ledger as open_ledger
from mailmerge.desk import words
from mailmerge.desk.places import bench as places
from mailmerge.findings import InputError
from mailmerge.guests.names import clusters


@pytest.fixture
def running(shop: Shop) -> Shop:
    """Return a workshop of whose five cups three are released."""
    shop.confirm(1, 2, 3, 4)
    shop.release(1, 2, 3)
    return shop


@pytest.fixture
def visitor(running: Shop) -> Visitor:
    return Visitor(running.folder)


def saw_on(page: str, action: str) -> str:
    """Return what the form for an address sends along of what its page shows."""
    form, *_ = re.findall(rf'<form[^>]*action="{action}">(.*?)</form>', page, re.DOTALL)
    return html.unescape(re.findall(r'name="saw" value="([^"]*)"', form)[0])


def held_by(shop: Shop, number: int) -> str:
    """Return what a page that is opened now sends along of a cup."""
    return f"{number}:{shop.records()[number].handled}"


def told(page: str) -> str:
    """Return what a page says, in one line."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", page)).split())


def test_the_next_cup_stands_there_with_all_that_is_needed(visitor: Visitor, running: Shop) -> None:
    page = visitor.asks("bench").text
    first = run.in_run(tuple(running.records().values()))[0]
    cup = run.at_machine(running.folder, first.number)
    assert cup.file in page
    assert (running.folder / "to-engrave" / cup.file).is_file()
    for letter in first.name.replace(" ", ""):
        assert f'aria-hidden="true">{letter}<' in page
    width, height = cup.size
    assert f"{width:.1f} × {height:.1f} mm" in page
    for caution in run.CAUTIONS:
        assert caution.replace("'", "&#39;") in page
    for step in cup.steps:
        assert step.replace("'", "&#39;") in page


def test_the_cup_comes_first_and_the_cautions_are_whole_until_the_first_is_engraved(
    visitor: Visitor, running: Shop
) -> None:
    def cautions(page: str) -> str:
        (found,) = re.findall(r'<details class="caution"([^>]*)>', page)
        assert page.index("</h1>") < page.index('class="caution"') < page.index("/engraved")
        assert words.CAUTIONS_IN_SHORT in page
        assert all(
            html.escape(each, quote=False).replace("'", "&#39;") in page for each in run.CAUTIONS
        )
        return found.strip()

    assert cautions(visitor.asks("bench").text) == "open"
    running.engraved(1)
    assert cautions(visitor.asks("bench").text) == ""
    records, today = running.records().values(), dt.date.today()
    assert run.is_begun(records, today)
    assert not run.is_begun(records, today + dt.timedelta(days=1)), "each day anew"


def test_one_cup_to_release_is_called_one(visitor: Visitor, running: Shop) -> None:
    assert "Release it to engrave" in visitor.asks("bench").text
    running.confirm(5)
    assert "Release them to engrave" in visitor.asks("bench").text


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Ann-Sofie  Ek", ["Ann-", "Sofie", " ", " ", "Ek"]),
        ("Zoe\u0308", ["Zoe\u0308"]),
        ("A‐ B", ["A‐", " ", "B"]),
    ],
)
def test_letters_are_kept_together_word_by_word(text: str, parts: list[str]) -> None:
    line = run.Line(tuple(clusters(text)), ())
    assert ["".join(word) for word in line.words] == parts


@pytest.mark.long
def test_no_word_breaks_on_a_phone(chromium: Browser, shop: Shop) -> None:
    shop.list([*GUESTS, {"Name": "Bartholomew Ek-Orr", "Role": "Conductor emeritus"}])
    shop.merge(jobs=1)
    shop.confirm(6)
    shop.release(6)
    with (
        answering(shop.folder) as (entry, (known,)),
        open_page(chromium, entry, viewport={"width": 390, "height": 844}) as page,
    ):
        page.goto(f"{entry.partition('/enter')[0]}/orders/{known.key}/bench")
        page.wait_for_load_state("networkidle")
        tops = page.locator(".word").evaluate_all(
            "all => all.map(word => [...word.children].map("
            "each => each.getBoundingClientRect().top))"
        )
        assert len(tops) == 7, "five words, and two blanks"
        assert all(len(set(each)) == 1 for each in tops)
        assert page.evaluate("document.documentElement.scrollWidth") == 390
        sizes = page.locator(".word span").evaluate_all(
            "all => all.map(each => parseFloat(getComputedStyle(each).fontSize))"
        )
        assert min(sizes) >= 16
        assert page.locator("h1").bounding_box()["y"] < 300, "the cup comes first"


def test_the_file_is_found_and_saved_as_it_was_released(visitor: Visitor, running: Shop) -> None:
    cup = run.at_machine(running.folder, 1)
    assert str(running.folder / "to-engrave") in visitor.asks("bench", 1).text
    saved = visitor.asks("bench", 1, "file")
    assert saved.content == (running.folder / "to-engrave" / cup.file).read_bytes()
    # Saved, never shown: what is drawn in it would else be this desk's own page.
    assert saved.headers["content-disposition"] == f'attachment; filename="{cup.file}"'
    assert visitor.asks("bench", 5, "file").status_code == 422  # it is not released


def test_what_is_confirmed_is_released_from_the_bench(visitor: Visitor, running: Shop) -> None:
    assert "1 cup can be released" in visitor.asks("bench").text
    assert visitor.sends("bench", "release").is_success
    assert running.standing()[4] == "released"


def test_without_a_yes_a_reason_is_wanted(visitor: Visitor, running: Shop) -> None:
    visitor.sends("bench", "release", item="5")
    assert running.standing()[5] == "waiting"
    visitor.sends("bench", "release", item="5", reason="a gift, nobody is asked")
    assert running.standing()[5] == "released"
    assert "a gift, nobody is asked" in visitor.asks("bench", 5).text


def test_engraved_goes_on_with_the_next_and_can_be_taken_back(
    visitor: Visitor, running: Shop
) -> None:
    page = visitor.sends("bench", 1, "engraved").text
    assert running.standing()[1] == "engraved"
    assert 1 not in running.to_engrave()
    assert "1 of 3 cups engraved, 2 to go" in page
    (undo,) = re.findall(r'action="([^"]*/mistaken)"', page)
    assert visitor.client.post(undo, data={"saw": saw_on(page, undo)}).is_success
    assert running.standing()[1] == "released"
    assert 1 in running.to_engrave()


def test_spoiled_by_mistake_was_no_lost_blank(visitor: Visitor, running: Shop) -> None:
    visitor.sends("bench", 2, "spoiled", reason="dropped")
    record = running.records()[2]
    assert (record.standing, record.spoiled, record.events[-1].reason) == ("spoiled", 1, "dropped")
    visitor.sends("bench", 2, "mistaken")
    record = running.records()[2]
    assert (record.standing, record.spoiled) == ("released", 0)


def test_only_what_became_of_a_cup_last_is_taken_back(running: Shop) -> None:
    running.engraved(1)
    running.spoiled(1)
    assert bench.mistaken(running.folder, ["1"]).records[0].standing == "engraved"
    assert bench.mistaken(running.folder, ["1"]).records[0].standing == "released"
    with pytest.raises(InputError, match="Only what was recorded"):
        bench.mistaken(running.folder, ["1"])
    with pytest.raises(InputError, match="Only what was recorded"):
        bench.mistaken(running.folder, ["2", "1"])


def test_a_cup_engraved_against_a_later_wish_does_not_come_back(running: Shop) -> None:
    running.engraved(1)
    running.wish(1, name="Ann Other")
    bench.mistaken(running.folder, ["1"])
    assert running.standing()[1] == "they disagree"
    assert 1 not in running.to_engrave()


def test_the_clock_is_kept_by_the_order(visitor: Visitor, running: Shop) -> None:
    visitor.sends("bench", 2, "start")
    found = clock.running(running.folder)
    assert found is not None
    assert found.number == 2
    assert abs((dt.datetime.now().astimezone() - found.since).total_seconds()) < 30
    # Another page, another desk: it runs on, and the bench begins with its cup.
    page = Visitor(running.folder).asks("bench").text
    assert f'data-since="{found.since.timestamp()}"' in page
    assert f"{running.records()[2].name}</h1>" in page


def test_one_cup_at_a_time(running: Shop) -> None:
    clock.start(running.folder, "1")
    assert clock.start(running.folder, "1").number == 1  # it runs on
    with pytest.raises(InputError, match="runs for item 1"):
        clock.start(running.folder, "2")
    with pytest.raises(InputError, match="not released"):
        clock.start(running.folder, "5")
    assert clock.stop(running.folder).number == 1
    with pytest.raises(InputError, match="No clock runs"):
        clock.stop(running.folder)


def test_a_clock_ends_with_the_blank_that_is_spoiled(visitor: Visitor, running: Shop) -> None:
    clock.start(running.folder, "1")
    bench.spoiled(running.folder, ["2"])
    assert clock.running(running.folder) is not None
    bench.spoiled(running.folder, ["1"], "slipped")
    assert clock.running(running.folder) is None
    assert "Start the clock" in visitor.asks("bench", 3).text


def test_a_clock_of_another_cup_is_told_and_can_be_stopped(visitor: Visitor, running: Shop) -> None:
    clock.start(running.folder, "1")
    bench.engraved(running.folder, ["1"])  # by a command, which leaves the clock
    page = visitor.asks("bench", 3).text
    assert "The clock runs for cup 1." in page
    assert "Start the clock" not in page
    found = clock.running(running.folder)
    assert found is not None
    assert visitor.sends("bench", "stop", saw=found.mark).status_code == 200
    assert "Start the clock" in visitor.asks("bench", 3).text


def test_what_the_clock_says_is_put_on_the_log(running: Shop) -> None:
    found = clock.start(running.folder, "1")
    became, stopped = clock.finish(running.folder, "1", at=found.since + dt.timedelta(seconds=425))
    assert became.records[0].standing == "engraved"
    assert stopped is not None
    assert stopped.took == 425.0
    assert (stopped.logged is None) == bool(stopped.why_not)
    assert clock.running(running.folder) is None


@pytest.mark.long
def test_a_cup_that_is_taken_back_while_its_clock_runs_is_told_everywhere(
    visitor: Visitor, running: Shop
) -> None:
    order = str(running.folder)
    for call in (("proof", order, "--all"), ("clock", order, "2")):
        assert "Stop the machine" not in CliRunner().invoke(app, [*call]).output
    words = CliRunner().invoke(app, ["answers", order, "-"], input="Please wait with cup 2.\n")
    told = "Stop the machine: item 2 is on it"
    assert told in words.output
    for call in (("status", order), ("clock", order), ("answers", order, "--accept", "all")):
        assert told in CliRunner().invoke(app, [*call]).output
    assert "Stop the machine: cup 2 is on it" in visitor.asks("bench").text
    CliRunner().invoke(app, ["clock", order, "--stop"])
    assert told not in CliRunner().invoke(app, ["status", order]).output


def test_the_commands_do_the_same(running: Shop) -> None:
    order = str(running.folder)

    def said(*call: str) -> str:
        result = CliRunner().invoke(app, [*call])
        assert result.exit_code == 0, result.output
        return result.output

    assert "from now on" in said("clock", order, "3")
    assert "item 3" in said("clock", order)
    assert "Item 3 took" in said("clock", order, "--stop")
    assert "No clock runs" in said("clock", order)
    said("engraved", order, "3")
    assert "released again" in said("mistaken", order, "3")
    shown = json.loads(said("status", order, "--json"))
    assert {each["item"]: each["standing"] for each in shown["items"]}[3] == "released"


def test_the_bench_of_another_device_shows_and_does_nothing_else(running: Shop) -> None:
    tablet = Visitor(running.folder, only_bench=True)
    page = tablet.asks("bench")
    assert page.status_code == 200
    assert "<nav" not in page.text
    assert tablet.sends("bench", 1, "engraved").is_success
    assert running.standing()[1] == "engraved"
    others = [
        tablet.at(*parts)
        for parts in (["cups"], ["client"], ["bench", "release"], ["bench", 2, "file"], ["cups", 1])
    ]
    for path in ("/", "/shop", "/orders/0000000000/bench", *others):
        assert tablet.client.get(path).status_code in (404, 405), path
    assert tablet.sends("bench", "release").status_code in (404, 405)
    assert running.standing()[4] == "confirmed"
    for record in running.records().values():
        if record.number == 2:
            assert tablet.asks("cups", 2, f"cup-{record.looks}.png").is_success


# While something else is at work

PASSED = dt.timedelta(seconds=425)


def test_what_is_pressed_while_a_pack_is_written_comes_in_its_turn(
    visitor: Visitor, running: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun = dt.datetime.now().astimezone().replace(microsecond=0)
    assert visitor.known is not None
    first, second, third = (running.records()[number].name for number in (1, 2, 3))
    with holding(visitor, words.MAKING_PACK):
        monkeypatch.setattr(places, "_now", lambda: begun)
        page = told(visitor.sends("bench", 1, "start", saw=held_by(running, 1)).text)
        assert f"The clock runs for {first} from {begun:%H:%M:%S} on waits for its turn" in page
        assert "Start the clock" not in page
        monkeypatch.setattr(places, "_now", lambda: begun + PASSED)
        for _ in range(2):  # a press that comes twice is one
            page = visitor.sends("bench", 1, "engraved", saw=held_by(running, 1)).text
        assert words.COMES_IN_TURN in page
        assert f"{first} is engraved waits for its turn" in told(page)
        assert f"{second}</h1>" in page, "the next cup comes at once"
        page = visitor.sends("bench", 2, "spoiled", saw=held_by(running, 2), reason="slipped").text
        assert f"{third}</h1>" in page
        assert f"/bench/{1}" not in page, "it is not offered again"
        assert running.standing()[1] == "released"
        assert words.CUPS_BEING_MADE not in visitor.asks("list").text, "none is"
        waiting = visitor.desk.works.waiting(visitor.known.key)
        assert [work.call.named.get("at") for work in waiting] == [begun, begun + PASSED, None]
    visitor.waits()
    assert visitor.desk.works.refused(visitor.known.key) == []
    assert (running.standing()[1], running.standing()[2]) == ("engraved", "spoiled")
    assert running.records()[2].events[-1].reason == "slipped"
    assert clock.running(running.folder) is None


@pytest.mark.parametrize("pressed", ["engraved", "release"])
def test_what_is_pressed_while_another_program_changes_the_order_waits_for_it(
    running: Shop, pressed: str
) -> None:
    phone = Visitor(running.folder, only_bench=pressed == "engraved")
    with open_ledger(running.folder) as ledger, ledger.writing():
        if pressed == "engraved":
            page = phone.sends("bench", 1, "engraved", saw=held_by(running, 1)).text
        else:
            page = phone.sends("bench", "release", saw=held_by(running, 4)).text
        assert words.COMES_IN_TURN in page
        assert "call" not in told(page)
    assert phone.waits().state == "done"
    assert running.standing()[1 if pressed == "engraved" else 4] == (
        "engraved" if pressed == "engraved" else "released"
    )


def test_a_press_that_is_refused_in_its_turn_is_told_on_the_phone(running: Shop) -> None:
    phone = Visitor(running.folder, only_bench=True)
    with holding(phone):
        phone.sends("bench", 1, "engraved", saw=held_by(running, 1))
        running.spoiled(1)
    phone.waits()
    page = phone.asks("bench").text
    assert f"{running.records()[1].name} is engraved" in told(page)
    assert 'is now "spoiled"' in told(page)
    (work,) = re.findall(r'name="work" value="([^"]*)"', page)
    assert phone.sends("progress", "seen", work=work).is_success
    assert "was not" not in told(phone.asks("bench").text)


# An old page


@pytest.mark.parametrize("only_bench", [False, True], ids=["desk", "phone"])
def test_an_old_page_spoils_no_cup_that_was_engraved(running: Shop, only_bench: bool) -> None:
    old = Visitor(running.folder, only_bench)
    saw = saw_on(old.asks("bench", 1).text, old.at("bench", 1, "spoiled"))
    running.engraved(1)
    answer = old.sends("bench", 1, "spoiled", saw=saw, reason="the letters are grey")
    assert answer.status_code == 422
    said = told(answer.text)
    for shown in ("to record as spoiled", "the letters are grey", 'is now "engraved"'):
        assert shown in said
    assert running.records()[1].name in said
    assert f'href="{old.at("bench")}"' in answer.text
    assert [event.what for event in running.records()[1].events] == ["released", "engraved"]


@pytest.mark.parametrize("only_bench", [False, True], ids=["desk", "phone"])
@pytest.mark.parametrize("pressed", ["engraved", "spoiled", "start"])
def test_an_old_page_says_nothing_of_a_later_blank(
    running: Shop, pressed: str, only_bench: bool
) -> None:
    old = Visitor(running.folder, only_bench)
    saw = saw_on(old.asks("bench", 1).text, old.at("bench", 1, pressed))
    running.spoiled(1)
    running.release(1)
    assert old.sends("bench", 1, pressed, saw=saw).status_code == 422
    record = running.records()[1]
    assert (record.standing, record.spoiled) == ("released", 1)
    assert clock.running(running.folder) is None
    # The page as it is now does it.
    saw = saw_on(old.asks("bench", 1).text, old.at("bench", 1, pressed))
    assert old.sends("bench", 1, pressed, saw=saw).is_success


def test_a_press_that_comes_twice_counts_once(visitor: Visitor, running: Shop) -> None:
    saw = held_by(running, 1)
    assert visitor.sends("bench", 1, "engraved", saw=saw).is_success
    assert 'is now "engraved"' in told(visitor.sends("bench", 1, "engraved", saw=saw).text)
    assert [event.what for event in running.records()[1].events] == ["released", "engraved"]
    saw = held_by(running, 2)
    for _ in range(2):
        visitor.sends("bench", 2, "spoiled", saw=saw)
    assert running.records()[2].spoiled == 1


def test_an_old_page_takes_nothing_back(visitor: Visitor, running: Shop) -> None:
    page = visitor.sends("bench", 1, "spoiled", saw=held_by(running, 1)).text
    undo = visitor.at("bench", 1, "mistaken")
    saw = saw_on(page, undo)
    running.release(1)
    running.engraved(1)
    assert visitor.client.post(undo, data={"saw": saw}).status_code == 422
    assert running.standing()[1] == "engraved"


def test_an_old_page_releases_what_it_shows_and_no_more(visitor: Visitor, running: Shop) -> None:
    release = visitor.at("bench", "release")
    saw = saw_on(visitor.asks("bench").text, release)
    running.confirm(5)
    assert visitor.client.post(release, data={"saw": saw}).is_success
    assert (running.standing()[4], running.standing()[5]) == ("released", "confirmed")
    running.spoiled(4)
    assert visitor.client.post(release, data={"saw": saw}).status_code == 422
    assert running.standing()[4] == "spoiled"


def test_an_old_page_stops_no_other_clock(visitor: Visitor, running: Shop) -> None:
    clock.start(running.folder, "1")
    stop = visitor.at("bench", "stop")
    saw = saw_on(visitor.asks("bench", 1).text, stop)
    clock.stop(running.folder)
    clock.start(running.folder, "2")
    assert visitor.client.post(stop, data={"saw": saw}).status_code == 422
    found = clock.running(running.folder)
    assert found is not None
    assert found.number == 2


def test_the_page_of_a_cup_that_left_the_run_leads_to_the_next(
    visitor: Visitor, running: Shop
) -> None:
    running.engraved(1)
    page = visitor.asks("bench", 1)
    assert page.status_code == 200
    assert f"{running.records()[1].name} is not in the run now" in told(page.text)


def test_without_a_yes_only_what_is_chosen_is_released(visitor: Visitor, running: Shop) -> None:
    assert visitor.sends("bench", "release", reason="a gift").status_code == 422
    assert running.standing()[5] == "waiting"
    running.confirm(5)
    assert "without the client" not in told(visitor.asks("bench").text)


# What is held in the middle of a run


@pytest.mark.parametrize("only_bench", [False, True], ids=["desk", "phone"])
def test_words_that_hold_the_run_are_told_at_the_bench(packed: Shop, only_bench: bool) -> None:
    packed.confirm(1, 2, 3, 4)
    packed.release(1, 2, 3)
    desk = Visitor(packed.folder)
    desk.sends("client", "came", text="hi all fine!")
    assert packed.to_engrave() == {}
    page = Visitor(packed.folder, only_bench).asks("bench").text
    said = told(page)
    assert "5 cups are held by 1 question." in said
    assert "3 cups left the folder to engrave from" in said
    assert "Cups come here when the client has said yes" not in said
    assert (f'href="{desk.at("client")}"' in page) is not only_bench
    assert ("at the desk, under Client" in said) is only_bench
    if not only_bench:
        assert "Bench 5 held" in said
        assert "4 answered (4 of them held by a question), 1 open." in told(
            desk.asks("client").text
        )


def test_a_settled_question_leads_to_the_release_of_what_it_held(packed: Shop) -> None:
    packed.confirm(1, 2, 3)
    packed.release(1, 2)
    visitor = Visitor(packed.folder)
    visitor.sends("client", "came", text="hi all fine!")
    page = visitor.sends("client", "settle", question="1", by="Ina Holm", because="a greeting")
    assert "Question 1 is settled. 3 cups wait to be released" in told(page.text)
    release = visitor.at("bench", "release")
    assert visitor.client.post(release, data={"saw": saw_on(page.text, release)}).is_success
    assert set(packed.to_engrave()) == {1, 2, 3}


def test_a_cup_that_was_on_the_machine_when_it_was_held_is_engraved(packed: Shop) -> None:
    packed.confirm(1)
    packed.release(1)
    visitor = Visitor(packed.folder)
    visitor.sends("client", "came", text="hi all fine!")
    engraved = visitor.at("bench", 1, "engraved")
    saw = saw_on(visitor.asks("bench").text, engraved)
    assert visitor.client.post(engraved, data={"saw": saw}).is_success
    assert packed.standing()[1] == "engraved"


def test_an_empty_bench_has_one_next_step_where_what_is_named_first_is_settled(
    shop: Shop,
) -> None:
    visitor = Visitor(shop.folder)

    def steps() -> list[str]:
        page = visitor.asks("bench").text
        empty = page[page.index('<div class="empty">') :]
        return re.findall(r'href="[^"]*/([a-z]+)"', empty[: empty.index("</div>")])

    assert steps() == ["client"], "all wait for a yes"
    shop.confirm(1, 2, 3, 4, 5)
    shop.release(1, 2, 3, 4, 5)
    shop.engraved(1, 2, 3, 4, 5)
    assert steps() == ["bill"]
