"""What is open with the client and since when, sending the pack as one file, and reminding."""

from __future__ import annotations

import datetime as dt
import io
import re
import zipfile

import pytest
from hypothesis import given, strategies as st
from shop import Shop
from typer.testing import CliRunner

from mailmerge.answers.incoming import Said
from mailmerge.cli.app import app
from mailmerge.deeds import client
from mailmerge.deeds.arranging import arrange, arranged
from mailmerge.deeds.client import Accept
from mailmerge.deeds.letters import letters_apart
from mailmerge.deeds.sending import wrap, wrapped
from mailmerge.deeds.talk import pack_page, reminders, talk
from mailmerge.deeds.trying import Change, preview
from mailmerge.findings import InputError


def test_what_is_open_is_told_with_the_day_that_it_was_first_shown(packed: Shop) -> None:
    packed.yes(1)
    packed.wish(2, name="Bo Dahle")
    packed.accept(2)
    found = talk(packed.folder)
    assert [each.record.number for each in found.open] == [2, 3, 4, 5]
    assert found.sent is not None
    since = {each.record.number: each.since for each in found.open}
    assert since == {2: None, 3: found.sent.made, 4: found.sent.made, 5: found.sent.made}
    assert [each.number for each in found.unseen] == [2], "the pack shows the old name"
    assert [each.number for each in found.answered] == [1]
    first = found.sent
    packed.pack()
    found = talk(packed.folder)
    assert found.unseen == ()
    assert found.sent is not None
    assert found.sent.name != first.name
    since = {each.record.number: each.since for each in found.open}
    assert since[3] == first.made, "what was shown before has been open since then"


def test_a_pack_is_one_file_that_holds_all_of_it(packed: Shop) -> None:
    found = wrapped(packed.folder)
    parts = list(found.parts)
    assert len(parts) > 5, "it comes in parts"
    data = b"".join(parts)
    assert found.name == "spring-concert-proofs.zip"
    with zipfile.ZipFile(io.BytesIO(data)) as file:
        assert file.testzip() is None
        held = {name.partition("/")[2]: file.read(name) for name in file.namelist()}
    pack = packed.folder / "proof-pack"
    there = {
        path.relative_to(pack).as_posix(): path.read_bytes()
        for path in pack.rglob("*") if path.is_file()
    }  # fmt: skip
    assert held == there
    assert b"".join(wrapped(packed.folder).parts) == data


def test_what_is_not_of_the_pack_is_not_sent(packed: Shop) -> None:
    (packed.folder / "proof-pack" / "prices.txt").write_text("49.90")
    with zipfile.ZipFile(io.BytesIO(b"".join(wrapped(packed.folder).parts))) as file:
        assert not [name for name in file.namelist() if "prices" in name]


def test_a_link_in_place_of_a_file_of_the_pack_is_not_followed(packed: Shop) -> None:
    (page,) = (packed.folder / "proof-pack").glob("*.html")
    page.unlink()
    page.symlink_to(packed.folder / "list.csv")
    with pytest.raises(InputError):
        wrapped(packed.folder)


def test_without_a_pack_there_is_nothing_to_send_or_to_remind_of(shop: Shop) -> None:
    for deed in (pack_page, wrapped):
        with pytest.raises(InputError, match="Make it first"):
            deed(shop.folder)
    assert reminders(shop.folder) == ()


def test_a_reminder_names_what_is_open_and_nothing_else(packed: Shop) -> None:
    packed.yes(1, 2)
    packed.wish(3, "please check the spelling")
    (told,) = reminders(packed.folder)
    assert told.items == (4, 5)
    sent = talk(packed.folder).sent
    assert sent is not None
    assert sent.name in told.text
    assert re.findall(r"^Cup .*$", told.text, re.M) == ["Cup 4: Dag Falk", "Cup 5: Eva Gran"]


def test_each_whose_yes_is_missing_is_reminded_of_their_own(packed: Shop) -> None:
    arrange(packed.folder, people=["Anna Reed", "Tom Lang"], needs="all", language="de")
    packed.merge()
    packed.pack(everything=True)
    seal = {number: record.seal or "" for number, record in packed.records().items()}
    packed.answer(*(Said(n, seal[n], "yes") for n in (1, 2, 3, 4)), by="Anna Reed")
    packed.answer(Said(5, seal[5], "yes"), by="Tom Lang")
    told = {each.person: each for each in reminders(packed.folder)}
    assert {person: each.items for person, each in told.items()} == {
        "Anna Reed": (5,),
        "Tom Lang": (1, 2, 3, 4),
    }
    assert told["Anna Reed"].text.startswith("Anna Reed,")
    assert "Becher 5: Eva Gran" in told["Anna Reed"].text
    assert "Bitte" in told["Anna Reed"].text
    assert "Please" not in told["Anna Reed"].text


def test_commands_say_and_write_the_same(packed: Shop) -> None:
    out = packed.folder.parent
    told = CliRunner().invoke(app, ["wrap", str(packed.folder), "--out", str(out)])
    assert told.exit_code == 0
    assert (out / "spring-concert-proofs.zip").read_bytes() == b"".join(
        wrapped(packed.folder).parts
    )
    assert wrap(packed.folder, out / "other.zip").read_bytes()
    (reminder,) = reminders(packed.folder)
    assert CliRunner().invoke(app, ["remind", str(packed.folder)]).stdout == reminder.text


@pytest.mark.parametrize("deed", ["confirm", "decide", "accept"])
def test_what_has_changed_since_it_was_shown_is_not_decided(packed: Shop, deed: str) -> None:
    """Another page, or a terminal, was quicker: what it has put on record is read first."""
    packed.wish(2, name="Bo Dahle")
    saw = {2: packed.records()[2].heard}
    packed.wish(2, "no, leave the cup out", name="Bo Dahlen")

    def done(seen: dict[int, str]) -> object:
        if deed == "confirm":
            return client.confirm(packed.folder, ["2"], "Ms Roth", saw=seen)
        if deed == "decide":
            return client.decide(packed.folder, ["2"], "Ina Holm", "as agreed", saw=seen)
        return client.accept(packed.folder, Accept((2,), saw=seen), jobs=1)

    before = packed.records()
    with pytest.raises(InputError, match="Item 2, Bo Dahl: It has changed"):
        done(saw)
    assert packed.records() == before
    done({2: before[2].heard})
    assert packed.records() != before


def test_an_order_that_has_changed_since_it_was_shown_is_not_arranged(packed: Shop) -> None:
    saw = arranged(packed.folder).digest
    arrange(packed.folder, language="fr", saw=saw)
    with pytest.raises(InputError, match="has changed"):
        arrange(packed.folder, language="de", saw=saw)
    assert arranged(packed.folder).client.language == "fr"


def test_a_cup_is_shown_as_it_would_be_once_its_wish_is_taken(packed: Shop) -> None:
    now = packed.records()[2].entry.seal
    before = packed.files()
    wished = preview(packed.folder, 2, Change({"name": "Bo  Dahle "}))
    assert packed.files() == before, "nothing is put on record"
    assert wished.entry.seal != now
    packed.wish(2, name="Bo Dahle")
    packed.accept(2)
    assert wished.entry.seal == packed.records()[2].entry.seal, "not the artwork that was shown"


def test_a_text_that_would_stop_a_cup_is_told_before(packed: Shop) -> None:
    wished = preview(packed.folder, 2, Change({"name": "Bo " * 60}))
    assert wished.is_stopped
    assert not preview(packed.folder, 2, Change({"name": "Bo Dahle"})).is_stopped


def test_letters_that_differ_are_marked_with_their_accents() -> None:
    now, then = letters_apart("Zoe Lind", "Zoë Linde")
    assert [(p.text, p.differs) for p in now] == [("Zo", False), ("e", True), (" Lind", False)]
    assert [(p.text, p.differs) for p in then] == [
        ("Zo", False), ("ë", True), (" Lind", False), ("e", True),
    ]  # fmt: skip


def test_a_letter_and_its_mark_are_one_however_they_are_written() -> None:
    now, then = letters_apart("Zoe", "Zoe\u0308")
    assert [(p.text, p.differs) for p in now] == [("Zo", False), ("e", True)]
    assert [(p.text, p.differs) for p in then] == [("Zo", False), ("e\u0308", True)]


def test_a_day_without_an_hour_is_its_end_and_today_is_now() -> None:
    """A pack that was made in the morning was seen by whoever said yes that day."""
    today = dt.date.today()
    assert client.end_of(today) is None
    yesterday = client.end_of(today - dt.timedelta(days=1))
    assert yesterday is not None
    assert dt.timedelta() < dt.datetime.combine(today, dt.time()) - yesterday <= dt.timedelta(0, 1)


@given(st.text(max_size=30), st.text(max_size=30))
def test_parts_make_up_the_whole_text(one: str, other: str) -> None:
    mine, theirs = letters_apart(one, other)
    assert "".join(part.text for part in mine) == one
    assert "".join(part.text for part in theirs) == other
    same = ["".join(p.text for p in parts if not p.differs) for parts in (mine, theirs)]
    assert same[0] == same[1]
    assert one != other or not any(part.differs for part in mine + theirs)
