"""The client's answers: what is taken, what is refused, and that nothing is half-taken."""

from __future__ import annotations

import datetime as dt
import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import HealthCheck, example, given, settings, strategies as st
from outside import cli, run
from shop import GUESTS, Shop
from typer.testing import CliRunner

from mailmerge import manual
from mailmerge.answers.incoming import Answers, Said, check_of, read_answers, read_text
from mailmerge.answers.proposals import proposed
from mailmerge.answers.said import first_check_of, fnv_1a, spaced, squashed
from mailmerge.cli import app
from mailmerge.deeds import client
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import open_ledger

AT = "2026-11-20T10:00:00+00:00"
PAGE = "K7QM-24XR"


def pack_of(shop: Shop) -> str:
    with open_ledger(shop.folder) as ledger:
        return str(ledger._db.execute("SELECT id FROM pack").fetchone()[0])


def file_of(shop: Shop, *said: Said, by: str = "Anouk's", at: str = AT) -> dict[str, Any]:
    """Return the content of an answers file, as the page saves it."""
    with open_ledger(shop.folder) as ledger:
        order = ledger.order_id
    pack = pack_of(shop)
    return {
        "kind": "answers to a proof pack", "version": 2, "order": order, "pack": pack,
        "page": PAGE, "saving": 1, "by": by, "at": at,
        "check": check_of(Answers("file", by, at, said, pack, PAGE, 1)),
        "answers": [
            {"item": s.item, "seal": s.seal, "answer": s.verdict}
            | ({"words": s.words, "texts": dict(s.texts or {})} if s.verdict == "change" else {})
            for s in said
        ],
    }  # fmt: skip


def saved(shop: Shop, data: dict[str, Any] | str) -> Path:
    path = shop.folder / "answers.json"
    text = data if isinstance(data, str) else json.dumps(data, ensure_ascii=False)
    path.write_text(text, encoding="utf-8")
    return path


def read(shop: Shop, path: Path) -> Answers:
    with open_ledger(shop.folder) as ledger:
        return read_answers(ledger, path)


def seal(shop: Shop, number: int) -> str:
    return shop.records()[number].seal or ""


def test_a_saved_file_is_taken(packed: Shop) -> None:
    data = file_of(
        packed, Said(1, seal(packed, 1), "yes"),
        Said(2, seal(packed, 2), "change", "with h at the end", {"name": "Bo Dahlh"}),
    )  # fmt: skip
    answers = read(packed, saved(packed, data))
    taken = packed.answer(*answers.said, at=answers.said_at)
    assert [each.item for each in taken.taken] == [1, 2]
    assert packed.standing() == {
        1: "confirmed", 2: "to change", 3: "waiting", 4: "waiting", 5: "waiting",
    }  # fmt: skip
    wish = packed.records()[2].wish
    assert wish is not None
    assert wish.wanted == {"name": "Bo Dahlh"}
    again = packed.answer(*answers.said, at=answers.said_at)
    assert (len(again.taken), len(again.again)) == (0, 2)


def test_an_answer_to_artwork_that_has_changed_since_is_kept_and_does_not_count(
    packed: Shop,
) -> None:
    data = file_of(packed, Said(1, seal(packed, 1), "yes"), Said(2, seal(packed, 2), "yes"))
    packed.list([{**GUESTS[0], "Role": "Violin II"}, *GUESTS[1:]])
    packed.merge()
    answers = read(packed, saved(packed, data))
    taken = packed.answer(*answers.said, at=AT)
    assert [each.item for each in taken.taken] == [2]
    ((kept, why),) = taken.kept
    assert (kept.item, why) == (1, "The artwork has changed since. It has to be shown again.")
    assert packed.standing()[1] == "waiting"


def test_a_clock_that_runs_ahead_is_put_right(packed: Shop) -> None:
    """What is dated after today counts as said now."""
    before = dt.datetime.now(dt.UTC).replace(microsecond=0)
    packed.answer(Said(1, seal(packed, 1), "change", "not so"), at="2199-01-01T00:00:00Z")
    (wish,) = packed.records()[1].answers
    assert before <= dt.datetime.fromisoformat(wish.said_at) <= dt.datetime.now(dt.UTC)


@pytest.mark.parametrize(
    ("at", "in_utc"),
    [
        ("2026-11-20T10:00:00Z", "2026-11-20T10:00:00+00:00"),
        ("2026-11-20T10:00:00+05:30", "2026-11-20T04:30:00+00:00"),
        ("2026-11-20T10:00:00-08:00", "2026-11-20T18:00:00+00:00"),
    ],
)
def test_a_time_in_the_past_is_kept_as_it_was_said(packed: Shop, at: str, in_utc: str) -> None:
    packed.answer(Said(1, seal(packed, 1), "yes"), at=at)
    (yes,) = packed.records()[1].answers
    assert dt.datetime.fromisoformat(yes.said_at) == dt.datetime.fromisoformat(in_utc)


Edit = Callable[[dict[str, Any]], object]

HOSTILE: list[tuple[str, Edit, str]] = [
    ("another order", lambda d: d.update(order="ZZZZ-ZZZZ"), "The file answers order"),
    ("no such pack", lambda d: d.update(pack="ZZZZ-ZZZZ"), "This order has made no proof pack"),
    ("unknown item", lambda d: d["answers"].append({**d["answers"][0], "item": 77}), "no item 77"),
    ("edited seal", lambda d: d["answers"][0].update(seal="0000-0000-0000"), "changed the file"),
    ("seal of another", lambda d: d["answers"][0].update(seal=d["answers"][1]["seal"]),
     "changed the file"),
    ("twice", lambda d: d["answers"].append(d["answers"][0]), "answered twice"),
    ("another answer", lambda d: d["answers"][0].update(answer="maybe"), "answers.0.answer"),
    ("a number for words", lambda d: d["answers"][0].update(words=3), "answers.0.words"),
    ("a list for texts", lambda d: d["answers"][0].update(texts=["a"]), "answers.0.texts"),
    ("words without end", lambda d: d["answers"][0].update(words="x" * 5000), "answers.0.words"),
    ("a negative item", lambda d: d["answers"][0].update(item=-1), "answers.0.item"),
    ("a text for an item", lambda d: d["answers"][0].update(item="1"), "answers.0.item"),
    ("something more", lambda d: d.update(admin=True), "admin"),
    ("another kind", lambda d: d.update(kind="a poem"), "kind"),
    ("a later version", lambda d: d.update(version=3), "version 3"),
    ("a version in a list", lambda d: d.update(version=[2]), "version"),
    ("an earlier version with a page", lambda d: d.update(version=1), "page"),
    ("no page", lambda d: d.pop("page"), "page"),
    ("an odd page", lambda d: d.update(page="mine"), "page"),
    ("no saving", lambda d: d.pop("saving"), "saving"),
    ("no check code", lambda d: d.pop("check"), "check"),
    ("another name", lambda d: d.update(by="Ben"), "does not match its own check code"),
    ("another time", lambda d: d.update(at=AT.replace("10", "11")), "does not match its own"),
    ("another page", lambda d: d.update(page="K7QM-24XS"), "does not match its own check code"),
    ("a later saving", lambda d: d.update(saving=2), "does not match its own check code"),
    ("a wish made a yes", lambda d: d["answers"][2].update(answer="yes", words="", texts={}),
     "does not match its own check code"),
    ("other words", lambda d: d["answers"][2].update(words="with th"), "does not match its own"),
    ("a space more", lambda d: d["answers"][2].update(words="with  h at the end"), "its own check"),
    ("a space less", lambda d: d["answers"][2].update(words="withh at the end"), "its own check"),
    ("a space less in a text", lambda d: d["answers"][2]["texts"].update(name="BoDahlh"),
     "does not match its own check code"),
    ("other quotes", lambda d: d.update(by="Anouk’s"), "does not match its own check code"),
    ("another order of answers", lambda d: d["answers"].reverse(), "does not match its own check"),
    ("a text put into the words",
     lambda d: d["answers"][2].update(words="with h at the end|name=Bo Dahlh", texts={}),
     "does not match its own check code"),
    ("a text of no field", lambda d: d["answers"][2]["texts"].update(shoe="42"), 'text for "shoe"'),
    ("half a letter", lambda d: d["answers"][2].update(words="\ud83d"),
     r'"answers.2.words" cannot be "<U\+D83D>"'),
    ("one answer less", lambda d: d["answers"].pop(), "does not match its own check code"),
    ("no answers", lambda d: d.pop("answers"), "answers"),
]  # fmt: skip


@pytest.mark.parametrize(("edit", "said"), [case[1:] for case in HOSTILE],
                         ids=[case[0] for case in HOSTILE])  # fmt: skip
def test_a_file_that_is_not_sound_is_one_clear_error(packed: Shop, edit: Edit, said: str) -> None:
    wish = Said(3, seal(packed, 3), "change", "with h at the end", {"name": "Bo Dahlh"})
    data = file_of(packed, Said(1, seal(packed, 1), "yes"), Said(2, seal(packed, 2), "yes"), wish)
    edit(data)
    with pytest.raises(InputError, match=said):
        read(packed, saved(packed, json.dumps(data)))
    assert set(packed.standing().values()) == {"waiting"}


def test_the_answers_file_in_the_manual_has_its_own_check_code() -> None:
    page = (Path(manual.__file__).parent / "answers-files.md").read_text(encoding="utf-8")
    told = json.loads(page[page.index("    {") : page.index("\n    }\n") + 7])
    said = tuple(
        Said(each["item"], each["seal"], each["answer"], each.get("words", ""))
        for each in told["answers"]
    )
    known = "file", told["by"], told["at"], said, told["pack"], told["page"], told["saving"]
    assert told["check"] == check_of(Answers(*known))


def test_a_file_with_a_text_of_no_field_is_refused_though_its_code_agrees(packed: Shop) -> None:
    wish = Said(2, seal(packed, 2), "change", "", {"name": "Boo Dahl", "shoe": "42"})
    data = file_of(packed, Said(1, seal(packed, 1), "yes"), wish)
    with pytest.raises(InputError, match='item 2: Found a new text for "shoe"'):
        read(packed, saved(packed, data))


def test_no_sign_within_a_part_stands_for_a_border() -> None:
    def codes(by: str, at: str, words: str, texts: dict[str, str]) -> tuple[str, ...]:
        said = (Said(1, "", "change", words, texts), Said(2, "", "yes"))
        answers = Answers("file", by, at, said, "X4M7-8LBN", PAGE, 1)
        return check_of(answers), check_of(answers, spaced), check_of(answers, squashed)

    every = [
        codes("A", "B", "x", {"name": "y"}), codes("A|B", "", "x", {"name": "y"}),
        codes("A", "B", "x|name=y", {}), codes("A", "B", "x", {"name=y": ""}),
        codes("A", "B", 'x",[["name","y"]]', {}), codes("A", "B", "x\\", {"name": "y"}),
        codes("A", "B", "x", {"name": "y]],[2"}),
    ]  # fmt: skip
    for codes_of_one_kind in zip(*every, strict=True):
        assert len({*codes_of_one_kind}) == len(every)


@pytest.mark.parametrize("key", ["answer", "saving"])
def test_a_file_with_a_key_twice_is_refused(packed: Shop, key: str) -> None:
    text = json.dumps(file_of(packed, Said(1, seal(packed, 1), "yes")))
    twice = text.replace(f'"{key}":', f'"{key}": "change", "{key}":')
    with pytest.raises(InputError, match=f'The key "{key}" stands twice'):
        read(packed, saved(packed, twice))


def test_a_file_of_the_first_version_has_no_page(packed: Shop) -> None:
    data = file_of(packed, Said(1, seal(packed, 1), "yes"))
    for key in ("page", "saving", "check"):
        del data[key]
    with pytest.raises(InputError, match="changed"):  # this pack's page writes a check code
        read(packed, saved(packed, data | {"version": 1}))
    with packed.changing() as change:
        change._db.execute("UPDATE pack SET list = NULL")  # as of a pack of that time
    answers = read(packed, saved(packed, data | {"version": 1}))
    assert (answers.page, answers.saving, len(answers.said)) == ("", 0, 1)


def test_a_text_of_the_first_version_has_no_page_and_one_code(packed: Shop) -> None:
    pack, wish = pack_of(packed), Said(2, seal(packed, 2), "change", "", {"name": "Boo Dahl"})
    check = first_check_of(Answers("text", "", "", (wish,), pack))
    rows = [f"Answers to proof pack {pack}", "From: Anouk", "Change 2, name: Boo Dahl",
            f"End of answers. 1 of 5. Check {check}"]  # fmt: skip
    with pytest.raises(InputError, match="not whole"):  # this pack's page writes two
        read_back(packed, "\n".join(rows))
    with packed.changing() as change:
        change._db.execute("UPDATE pack SET list = NULL")  # as of a pack of that time
    (said,) = read_back(packed, "\n".join(rows))
    assert (said.words, said.texts) == ("Boo Dahl", {})
    with pytest.raises(InputError, match="not whole"):
        read_back(packed, "\n".join(rows).replace("Boo", "Bo"))


@pytest.mark.parametrize(
    "text",
    ["{", '{"kind": NaN}', "[" * 100_000, '{"a":' * 50_000, "null", "{}", "\0\0", "", "hello",
     '{"kind": "answers to a proof pack"}'],
)  # fmt: skip
def test_what_is_no_answers_at_all_is_one_clear_error(packed: Shop, text: str) -> None:
    with pytest.raises(InputError):
        read(packed, saved(packed, text))


def test_a_file_cut_off_anywhere_is_refused_as_a_whole(packed: Shop) -> None:
    text = json.dumps(file_of(packed, *(Said(n, seal(packed, n), "yes") for n in range(1, 6))))
    for at in range(0, len(text) - 1, 7):
        with pytest.raises(InputError):
            read(packed, saved(packed, text[:at]))
    assert set(packed.standing().values()) == {"waiting"}


def test_a_file_that_is_no_text_or_too_large(packed: Shop) -> None:
    path = packed.folder / "answers.json"
    path.write_bytes(b"\xff\xfe\x00\x80" * 9)
    with pytest.raises(InputError, match="Give the file that the proof pack's page saves"):
        read(packed, path)
    path.write_bytes(b" " * 2_000_001)
    with pytest.raises(InputError, match="larger than 2 MB"):
        read(packed, path)
    with pytest.raises(InputError, match="cannot be read"):
        read(packed, packed.folder / "nowhere.json")


# The text for a message


def text_of(pack: str, *said: Said, by: str = "Anouk Lind") -> str:
    """Write the text as the page does; the page's own is read in test_page.py."""
    right = ", ".join(str(each.item) for each in said if each.verdict == "yes")
    rows = [f"Answers to proof pack {pack}", f"Page {PAGE}, saving 3", f"From: {by}",
            f"Written: {AT}"]  # fmt: skip
    rows += [f"Right: {right}"] if right else []
    for each in said:
        rows += [f"Change {each.item}: {each.words}"] if each.words else []
        for field, text in sorted((each.texts or {}).items()):
            rows.append(f"Change {each.item}, {field}: {text}")
    in_order = tuple(sorted(said, key=lambda each: each.item))
    answers = Answers("text", by, AT, in_order, pack, PAGE, 3)
    checks = f"{check_of(answers, squashed)} {check_of(answers, spaced)}"
    rows.append(f"End of answers. Check {checks}")
    return "\n".join(rows)


def read_back(shop: Shop, text: str) -> tuple[Said, ...]:
    with open_ledger(shop.folder) as ledger:
        return read_text(ledger, "a text", text).said


def two(shop: Shop) -> tuple[Said, Said]:
    words = 'it’s “Bo” – with one "o", please, and not in capitals as the list has it by mistake'
    return (
        Said(1, seal(shop, 1), "yes"),
        Said(2, seal(shop, 2), "change", words, {"name": "Boo Dahl"}),
    )


def test_a_text_tells_its_page_and_which_saving_it_is(packed: Shop) -> None:
    with open_ledger(packed.folder) as ledger:
        answers = read_text(ledger, "a text", text_of(pack_of(packed), *two(packed)))
    assert (answers.page, answers.saving, answers.pack) == (PAGE, 3, pack_of(packed))
    assert (answers.said_by, answers.said_at) == ("Anouk Lind", AT)


def items(said: tuple[Said, ...]) -> list[tuple[int, str, str, dict[str, str]]]:
    return [(s.item, s.seal, s.verdict, dict(s.texts or {})) for s in said]


def test_a_text_is_read_as_messages_bring_it(packed: Shop) -> None:
    said = two(packed)
    text = text_of(pack_of(packed), *said)
    wrapped = text.replace(" please, and", "\n please, and")
    quoted = "Hello!\nHere they are:\n" + "\n".join(f"> {row}" for row in wrapped.splitlines())
    quoted += "\nKind regards\n-- \nAnouk"
    named = text.replace("Anouk Lind", "Anouk\n> Lind").replace(" Dahl", "\u00a0Dahl")
    for each in (text, wrapped, named, quoted, text.replace("\n", "\r\n"), text + "  \n\n"):
        assert items(read_back(packed, each)) == items(said)
    curly = text.replace('"o"', "“o”").replace("–", "-")
    assert [(s.item, s.verdict) for s in read_back(packed, curly)] == [(1, "yes"), (2, "change")]


def test_a_text_that_was_changed_on_its_way_is_refused(packed: Shop) -> None:
    text = text_of(pack_of(packed), *two(packed))
    for old, new in (
        ("Right: 1", "Right: 1, 3"), ("Boo Dahl", "Bo Dahl"), ("Change 2,", "Change 3,"),
        ("Right: 1\n", ""), ("with one", "with two"), ("Check ", "Check 0"),
        ("Anouk", "Anna"), ("saving 3", "saving 4"), (PAGE, "K7QM-24XS"), ("T10:", "T11:"),
        ("End of answers", "The end"), ("Right: 1", "Right: 1-x"), ("Right: 1", "Right: 1, 1"),
    ):  # fmt: skip
        with pytest.raises(InputError):
            read_back(packed, text.replace(old, new))


def test_a_text_cut_off_anywhere_is_refused(packed: Shop) -> None:
    text = text_of(pack_of(packed), *two(packed))
    for at in range(len(text) - 9):
        with pytest.raises(InputError):
            read_back(packed, text[:at])
    for at in range(len(text) - 9, len(text)):  # only the second code is not whole
        assert [(s.item, s.texts) for s in read_back(packed, text[:at])] == [(1, {}), (2, {})]


def test_items_in_a_row_are_drawn_together(packed: Shop) -> None:
    said = [Said(n, seal(packed, n), "yes") for n in (1, 2, 3, 5)]
    text = text_of(pack_of(packed), *said).replace("1, 2, 3, 5", "1-3, 5")
    assert [each.item for each in read_back(packed, text)] == [1, 2, 3, 5]
    assert read_back(packed, text.replace("1-3", "1–3")) == read_back(packed, text)


@pytest.mark.parametrize("change", ["Change 1: not so", "Change 1, name: Anna Bergh"])
def test_an_item_that_is_right_and_to_change_is_refused(packed: Shop, change: str) -> None:
    """Even where the check code is that of one of both."""
    pack = pack_of(packed)
    words, texts = ("not so", {}) if ":" in change[:9] else ("", {"name": "Anna Bergh"})
    for said in (Said(1, seal(packed, 1), "change", words, texts), Said(1, "", "yes")):
        rows = ["Right: 1", change]
        for both in (rows, rows[::-1]):
            answers = Answers("text", "", "", (said,), pack, PAGE, 1)
            end = f"End of answers. Check {check_of(answers, squashed)} {check_of(answers, spaced)}"
            top = f"Answers to proof pack {pack}\nPage {PAGE}, saving 1"
            with pytest.raises(InputError, match="not whole, something in it was changed"):
                read_back(packed, "\n".join([top, *both, end]))


@pytest.mark.parametrize(
    ("text", "code"), [("", "811c9dc5"), ("a", "e40c292c"), ("foobar", "bf9cf968")]
)
def test_the_check_code_is_fnv_1a_of_32_bits(text: str, code: str) -> None:
    """Test vectors of the authors (Fowler, Noll, Vo; RFC 9923), from memory."""
    assert fnv_1a(text) == code


def test_two_different_texts_in_one_message_are_refused(packed: Shop) -> None:
    pack = pack_of(packed)
    old, new = text_of(pack, Said(1, seal(packed, 1), "yes")), text_of(pack, *two(packed))
    with pytest.raises(InputError, match="Found 2 different texts"):
        read_back(packed, f"> {old}\n{new}".replace("\n", "\n> ", 4))
    assert len(read_back(packed, f"{new}\n\n{new}")) == 2  # quoted once more


@pytest.mark.parametrize(
    "at", ["0001-01-01T00:00:00", "9999-12-31T23:59:59", "9999-12-31T23:59:59Z", "yesterday", "",
           "0001-01-01T00:00:00+14:00"],
)  # fmt: skip
def test_a_time_at_the_end_of_the_calendar_is_no_time(packed: Shop, at: str) -> None:
    taken = packed.answer(Said(1, seal(packed, 1), "yes"), at=at)
    assert len(taken.taken) == 1
    packed.wish(1, "no")
    assert packed.standing()[1] == "to change"


def test_a_wish_stays_open_until_the_text_it_is_about_changes(packed: Shop) -> None:
    packed.wish(1, name="Anne Berg")
    packed.list([{**GUESTS[0], "Role": "Violin I"}, *GUESTS[1:]])
    packed.merge()
    assert packed.standing()[1] == "to change"
    assert [each.number for each in packed.release(reason="in a hurry").released] == [2, 3, 4, 5]
    packed.list([{"Name": "Anne Berg", "Role": "Violin I"}, *GUESTS[1:]])
    packed.merge()
    assert packed.standing()[1] == "waiting"


def test_an_objection_counts_though_the_picture_has_changed(packed: Shop) -> None:
    old = {n: record.seal or "" for n, record in packed.records().items()}
    order = packed.folder / "order.toml"
    order.write_text(order.read_text().replace('coat = "black"', 'coat = "plum"', 1))
    packed.merge()
    packed.confirm(1, 2)
    packed.release()
    taken = packed.answer(
        Said(1, old[1], "change", "must be Bergh", {"name": "Anna Bergh"}),
        Said(2, old[2], "yes"),
    )
    assert [each.item for each in taken.taken] == [1]
    assert [each.item for each, _ in taken.kept] == [2]  # an old yes is no yes
    assert packed.standing()[1] == "they disagree"
    assert packed.to_engrave().keys() == {2}


def test_a_wish_about_something_else_than_a_text_is_shown_again(packed: Shop) -> None:
    packed.yes(2, 3, 4, 5)
    packed.wish(1, "I hold it with my left hand")
    assert packed.pack() is None
    packed.list([{**GUESTS[0], "Hand": "l"}, *GUESTS[1:]])
    packed.merge()
    assert packed.release(1, reason="in a hurry").released == ()
    again = packed.pack()
    assert again is not None
    assert [card.name for card in again.pack.cards] == ["Anna Berg"]
    packed.yes(1)
    assert packed.standing()[1] == "confirmed"


def test_a_yes_with_something_to_change_is_refused(packed: Shop) -> None:
    data = file_of(packed, Said(1, seal(packed, 1), "yes"))
    data["answers"][0]["words"] = "but with h"
    with pytest.raises(InputError, match="item 1: Found a yes together with something to change"):
        read(packed, saved(packed, data))


def test_a_new_text_has_letters(packed: Shop) -> None:
    with pytest.raises(InputError, match="Found no letters"):
        packed.accept(1, name="\u200b")


def test_two_cups_of_one_guest_cannot_say_different_things(packed: Shop) -> None:
    packed.list([{**GUESTS[0], "Quantity": "2"}, *GUESTS[1:]])
    packed.merge()
    packed.wish(1, name="Anne Berg")
    packed.wish(6, name="Hans Berg")
    with pytest.raises(InputError, match="but all cups of a guest say the same"):
        packed.accept()
    assert packed.records()[1].name == "Anna Berg"


def test_what_is_wrong_with_one_part_of_a_call_undoes_the_others(packed: Shop) -> None:
    from typer.testing import CliRunner

    from mailmerge.cli import app

    path = saved(packed, file_of(packed, Said(1, seal(packed, 1), "yes")))
    call = ["answers", str(packed.folder), str(path), "--accept"]
    result = CliRunner().invoke(app, [*call, "99"])
    assert "Item 99 is not in this order" in str(result.exception)
    assert packed.standing()[1] == "waiting"
    packed.wish(2, name="Bo Dahll")
    packed.list([{"Name": "Quite Another", "Role": "Tuba"}, *GUESTS[1:]])
    result = CliRunner().invoke(app, [*call, "all"])
    assert "not found for sure" in str(result.exception)
    assert (packed.standing()[1], packed.standing()[2]) == ("waiting", "to change")
    result = CliRunner().invoke(app, [*call, "all", "--gone", "1"])
    assert result.exit_code == 0, result.output
    assert packed.records()[2].name == "Bo Dahll"


PLAIN = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=60
).map(lambda text: " ".join(text.split()))


@given(words=PLAIN, name=PLAIN.filter(bool))
@example(words="Right: 3", name="End of answers")
@example(words="Change 1: x", name="A")
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
def test_any_words_come_back_or_are_refused(packed: Shop, words: str, name: str) -> None:
    said = Said(2, seal(packed, 2), "change", words, {"name": name})
    text = text_of(pack_of(packed), said)
    try:
        (back,) = read_back(packed, text)
    except InputError:
        return  # words that look like the text's own lines may be refused, never misread
    assert (back.item, back.verdict) == (2, "change")
    printable = ("".join(c for c in text if c.isprintable()) for text in (words, name))
    kept = [" ".join(text.split()) for text in printable]
    assert [back.words, (back.texts or {})["name"]] == kept


# The list as a workbook


def workbook(shop: Shop) -> tuple[openpyxl.Workbook, dict[str, int]]:
    (path,) = (shop.folder / "proof-pack").glob("*.xlsx")
    book = openpyxl.load_workbook(path)
    sheet = book.active
    assert sheet is not None
    titles = {str(cell.value): cell.column for cell in sheet[5]}
    return book, titles


def test_the_list_comes_back_with_its_columns_filled_in(packed: Shop) -> None:
    book, titles = workbook(packed)
    sheet = book.active
    assert sheet is not None
    sheet.cell(6, titles["Right?"], "Yes")
    sheet.cell(7, titles["What to change"], "Bo Dahll, with two l")
    sheet.cell(8, titles["Name"], "Karla Ek")
    sheet.cell(9, titles["Right?"], "✓")
    path = packed.folder / "back.xlsx"
    book.save(path)
    said = {each.item: each for each in read(packed, path).said}
    assert {n: each.verdict for n, each in said.items()} == {
        1: "yes", 2: "change", 3: "change", 4: "yes",
    }  # fmt: skip
    assert said[3].texts == {"name": "Karla Ek"}
    taken = packed.answer(*said.values())
    assert len(taken.taken) == 4
    wish = packed.records()[2].wish
    assert wish is not None
    assert wish.wanted == {"name": "Bo Dahll"}


def test_whatever_is_no_yes_in_the_list_is_a_wish(packed: Shop) -> None:
    book, titles = workbook(packed)
    sheet = book.active
    assert sheet is not None
    ticks = ["Yes please!", "OK, thank you.", "no", "please", "ok?"]
    for row, tick in enumerate(ticks, start=6):
        sheet.cell(row, titles["Right?"], tick)
    sheet["B3"] = "Anouk"
    path = packed.folder / "back.xlsx"
    book.save(path)
    answers = read(packed, path)
    assert answers.said_by == "Anouk"
    assert [(each.verdict, each.words) for each in answers.said] == [
        ("yes", ""), ("yes", ""), ("change", "no"), ("change", "please"), ("change", "ok?"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "tick",
    ["yes but with h at the end", "Ok, but smaller", "yes?", "x (spelling!)", "all right, 2 l's",
     "good, thank you, but the other role", "ja aber"],
)  # fmt: skip
def test_a_yes_with_a_but_in_the_list_is_a_wish_in_those_words(packed: Shop, tick: str) -> None:
    """A cup is engraved on a yes: one word more than politeness, and it is none."""
    book, titles = workbook(packed)
    sheet = book.active
    assert sheet is not None
    sheet.cell(6, titles["Right?"], tick)
    path = packed.folder / "back.xlsx"
    book.save(path)
    (said,) = read(packed, path).said
    assert (said.item, said.verdict, said.words) == (1, "change", tick)
    packed.answer(said)
    assert packed.standing()[1] == "to change"


EVERYBODY = {1, 2, 3, 4, 5}


@pytest.mark.parametrize(
    ("name", "role", "items"),
    [
        ("Sarah Quill", "Bassoon", set()),
        ("Sarah Quill", "2nd Violin", set()),
        ("Sarah Quill", "", set()),
        ("Carla Eck", "Viola", {3}),
        ("Sarah Quill", "plays for Bo", {2}),
        ("Sarah Quill", "Viola, not Carla", {3}),
        ("Sarah Quill", "Horn (Berg is ill)", {1}),
        ("Sarah Quill", "takes the horn player's seat", EVERYBODY),
        ("Sarah Quill", "Viola 2, the cellist has left", EVERYBODY),
        ("Ava", "", {5}),
        ("Dahl", "Horn", {2}),
        ("Annah", "", {1}),
        ("Everybody Else", "", EVERYBODY),
        ("Spelling Unsure", "Viola", EVERYBODY),
        ("Quill", "", EVERYBODY),
    ],
)
def test_a_row_below_concerns_nobody_only_where_it_is_plainly_a_new_guest(
    packed: Shop, name: str, role: str, items: set[int]
) -> None:
    book, titles = workbook(packed)
    sheet = book.active
    assert sheet is not None
    sheet.cell(len(GUESTS) + 6, titles["Name"], name)
    sheet.cell(len(GUESTS) + 6, titles["Role"], role)
    path = packed.folder / "back.xlsx"
    book.save(path)
    (unclear,) = read(packed, path).unclear
    assert set(unclear.items) == items


def test_a_list_is_compared_with_what_it_showed(packed: Shop) -> None:
    packed.accept(1, name="Anna Bergh")
    (path,) = (packed.folder / "proof-pack").glob("*.xlsx")
    assert read(packed, path).said == ()


def test_a_row_whose_seal_was_edited_is_no_answer_but_a_question(packed: Shop) -> None:
    book, titles = workbook(packed)
    sheet = book.active
    assert sheet is not None
    sheet.cell(7, titles["Right?"], "yes")
    path = packed.folder / "back.xlsx"
    seal_column = next(at for title, at in titles.items() if title.startswith("Seal"))
    sheet.cell(7, seal_column, "0000-0000-0000")
    book.save(path)
    answers = read(packed, path)
    assert answers.said == ()
    (unclear,) = answers.unclear
    assert (unclear.items, unclear.place) == ((2,), "in the list, row 7")
    assert unclear.words.startswith("number and seal do not belong together: 2 · Bo Dahl · Horn")
    assert unclear.words.endswith("yes · 0000-0000-0000")


@pytest.mark.parametrize("item", ["seven", "1.5", "²", "-1", "9" * 10])
def test_a_row_whose_number_was_edited_is_a_question_on_the_item_of_its_seal(
    packed: Shop, item: str
) -> None:
    book, titles = workbook(packed)
    sheet = book.active
    assert sheet is not None
    sheet.cell(7, titles["Item"], item)
    sheet.cell(7, titles["Right?"], "yes")
    path = packed.folder / "back.xlsx"
    book.save(path)
    answers = read(packed, path)
    assert answers.said == ()
    (unclear,) = answers.unclear
    assert unclear.items == (2,)
    assert f"{item} · Bo Dahl" in unclear.words


def test_a_text_that_was_emptied_is_a_question_and_no_yes(packed: Shop) -> None:
    book, titles = workbook(packed)
    sheet = book.active
    assert sheet is not None
    sheet.cell(6, titles["Role"], "")
    sheet.cell(6, titles["Right?"], "yes")
    path = packed.folder / "back.xlsx"
    book.save(path)
    answers = read(packed, path)
    assert answers.said == ()
    (unclear,) = answers.unclear
    assert (unclear.items, unclear.place, unclear.words) == (
        (1,), 'in the list, row 6, column "Role"', "the cell was emptied; it said: Violin",
    )  # fmt: skip


def test_a_list_that_comes_back_untouched_says_nothing(packed: Shop) -> None:
    packed.yes(1)
    packed.pack(everything=True)
    (path,) = (packed.folder / "proof-pack").glob("*.xlsx")
    assert read(packed, path).said == ()


def test_columns_of_the_clients_own_do_not_confuse_the_list(packed: Shop) -> None:
    order = packed.folder / "order.toml"
    order.write_text(order.read_text() + '\n[columns]\nitem = "Gift"\nseal_no = "Wax"\n')
    layout = packed.folder / "layout.toml"
    line = '\n[[line]]\ntext = "{item} {seal_no}"\nfont = "Lora"\nletter_height = '
    layout.write_text(layout.read_text() + line + '{ max = "4 mm", min = "2 mm" }\n')
    packed.list({**row, "Gift": "gold", "Wax": "red"} for row in GUESTS)
    packed.merge()
    packed.pack()
    book, titles = workbook(packed)
    sheet = book.active
    assert sheet is not None
    sheet.cell(6, titles["Right?"], "yes")
    sheet.cell(7, titles["Item (text)"], "silver")
    path = packed.folder / "back.xlsx"
    book.save(path)
    yes, change = read(packed, path).said
    assert (yes.item, yes.verdict) == (1, "yes")
    assert change.texts == {"item": "silver"}


def test_a_guest_list_is_not_taken_for_answers(packed: Shop) -> None:
    with pytest.raises(InputError, match="This is not the list of a proof pack"):
        read(packed, packed.folder / "list.csv")


# Corrections


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("Mathew with one t", {"name": "Mathew Klein"}),
        ("It is Mathew, not Matthew", {"name": "Mathew Klein"}),
        ('should read "Mathew Klein"', {"name": "Mathew Klein"}),
        ("Mathew Klein", {"name": "Mathew Klein"}),
        ("Matthew Kleine please, an e at the end", {"name": "Matthew Kleine"}),
        ("this is wrong", {}),
        ("", {}),
        ("he plays the Cello", {}),
        ("Mathew Kline", {"name": "Mathew Kline"}),
        ("Mathew, and Violas", {}),
    ],
)
def test_what_a_clients_words_mean(words: str, wanted: dict[str, str]) -> None:
    assert proposed({"name": "Matthew Klein", "role": "Viola"}, words) == wanted


@given(st.text(max_size=80), st.text(max_size=30), st.text(max_size=30))
def test_a_proposal_is_another_text_of_a_field_that_there_is(
    words: str, name: str, role: str
) -> None:
    about = {"name": name, "role": role}
    for field, text in proposed(about, words).items():
        assert text
        assert text != about[field]


def test_an_accepted_correction_opens_the_proof_again_and_keeps_its_history(packed: Shop) -> None:
    before = seal(packed, 2)
    packed.wish(2, "Bo Dahll with two l")
    packed.yes(1)
    packed.accept()
    record = packed.records()[2]
    assert record.name == "Bo Dahll"
    assert record.seal != before
    assert packed.standing()[2] == "waiting"
    assert packed.standing()[1] == "confirmed"
    (correction,) = record.corrections
    assert (correction.was, correction.text, correction.said_by) == (
        "Bo Dahl", "Bo Dahll", "the client",
    )  # fmt: skip
    assert correction.words == "Bo Dahll with two l"


def test_a_correction_holds_for_all_cups_of_a_guest_and_survives_a_sorted_list(
    packed: Shop,
) -> None:
    packed.list([{**GUESTS[0], "Quantity": "2"}, *GUESTS[1:]])
    packed.merge()
    packed.accept(1, name="Anna Bergh")
    packed.list([*reversed(GUESTS[1:]), {**GUESTS[0], "Quantity": "2"}])
    packed.merge()
    assert {n: r.name for n, r in packed.records().items() if r.guest == 1} == {
        1: "Anna Bergh", 6: "Anna Bergh",
    }  # fmt: skip


def test_a_list_that_says_a_third_thing_overtakes_a_correction(packed: Shop) -> None:
    packed.accept(1, name="Anna Bergh")
    packed.list([{**GUESTS[0], "Name": "Anna Bergh"}, *GUESTS[1:]])
    packed.merge()
    assert packed.records()[1].name == "Anna Bergh"
    packed.list([{**GUESTS[0], "Name": "Anna Bergg"}, *GUESTS[1:]])
    changes = packed.merge().changes
    assert packed.records()[1].name == "Anna Bergg"
    ((row, aside),) = changes.set_aside
    assert (row, aside.text) == (2, "Anna Bergh")


def test_a_text_alone_goes_where_only_one_field_can_be_meant(packed: Shop) -> None:
    """Item 1 engraves "Anna Berg" over "Violin": the new text is like one of them, or like none."""
    packed.accept(1, **{"": "Anna Bergh"})
    assert packed.records()[1].about["name"] == "Anna Bergh"
    packed.accept(1, **{"": "Violini"})
    assert packed.records()[1].about == {"name": "Anna Bergh", "role": "Violini"}
    with pytest.raises(InputError, match=r"Item 1 engraves name, role\. .* --text \"name=Timpani"):
        packed.accept(1, **{"": "Timpani"})
    # A wish that is about one field says which.
    packed.wish(2, role="Horn in F")
    packed.accept(2, **{"": "Timpani"})
    assert packed.records()[2].about == {"name": "Bo Dahl", "role": "Timpani"}
    # It is like one, and the wish is about the other.
    packed.wish(3, role="Alto")
    with pytest.raises(InputError, match="Say which one is meant"):
        packed.accept(3, **{"": "Carla Eck"})


def test_accepting_what_is_not_clear_is_an_error_and_changes_nothing(packed: Shop) -> None:
    packed.wish(2, "this is not how he spells it")
    packed.wish(3, "Karla Ek")
    with pytest.raises(InputError, match=r"item 2: It is not clear from .* which text is wanted"):
        packed.accept(3, 2)
    with pytest.raises(InputError, match=r'Item 1 is "waiting"\. Nobody has asked'):
        packed.accept(1)
    with pytest.raises(InputError, match=r"Item 2 engraves no such text\. It engraves: name, role"):
        packed.accept(2, table="4")
    with pytest.raises(InputError, match="Item 77 is not in this order"):
        packed.accept(77)
    assert packed.records()[3].name == "Carla Ek"


def test_a_yes_by_telephone(packed: Shop) -> None:
    assert packed.confirm(1, 3) == ()
    assert packed.standing()[1] == packed.standing()[3] == "confirmed"
    answer = packed.records()[1].answers[0]
    assert (answer.said_by, answer.way, answer.seal) == ("phone, 5 Dec", "confirm", seal(packed, 1))
    packed.list([{**GUESTS[0], "Role": "Violin II"}, *GUESTS[1:]])
    packed.merge()
    assert packed.standing()[1] == "waiting"
    assert packed.confirm(1) == (1,)  # in no pack as it is now
    with pytest.raises(InputError, match="Item 77 is not in this order"):
        packed.confirm(2, 77)
    assert packed.standing()[2] == "waiting"


@pytest.mark.parametrize("before", ["", "\ufeff", "\n  "])
def test_an_answers_file_on_standard_input_is_read_as_one(packed: Shop, before: str) -> None:
    said = Said(4, seal(packed, 4), "change", "Falck, with ck", {"name": "Dag Falck"})
    data = file_of(packed, Said(1, seal(packed, 1), "yes"), said)
    piped = before + json.dumps(data, indent=2)
    result = CliRunner().invoke(app, ["answers", str(packed.folder), "-"], input=piped)
    assert "Question 1" not in result.output
    assert (packed.standing()[1], packed.standing()[4]) == ("confirmed", "to change")


def test_an_answers_file_on_standard_input_that_was_edited_is_refused(packed: Shop) -> None:
    data = file_of(packed, Said(1, seal(packed, 1), "change", "no, wait"))
    data["answers"][0] |= {"answer": "yes", "words": ""}
    with pytest.raises(InputError, match="check code"):
        client.answers(packed.folder, client.Message(json.dumps(data), "on standard input"))
    assert packed.standing()[1] == "waiting"


def test_a_pack_that_is_not_made_says_what_stands_and_how_it_goes_on(packed: Shop) -> None:
    packed.yes(1, 2, 4, 5)
    packed.wish(3, "the e has two dots")
    told = run("proof", packed.folder).stdout
    assert "Nothing is open" not in told
    assert "Carla Ek" in told
    assert f"mailmerge answers {packed.folder} --accept 3" in told
    assert f"mailmerge decide {packed.folder} 3 " in told
    assert f"mailmerge proof {packed.folder} --all" in told
    assert cli("proof", packed.folder, "--all").startswith("Proof pack ")
    packed.yes(3)
    assert packed.standing()[3] == "confirmed"
    assert "Nothing is open" in cli("proof", packed.folder)


def test_a_text_on_standard_input(packed: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    text = text_of(pack_of(packed), Said(1, seal(packed, 1), "yes"))
    result = CliRunner().invoke(app, ["answers", str(packed.folder), "-"], input=text)
    assert result.exit_code == 0, result.output
    assert "1 answer from Anouk Lind: 1 right (1), 0 to change" in result.output
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    assert packed.standing()[1] == "confirmed"


def test_a_text_that_is_longer_than_any_is_refused(packed: Shop) -> None:
    """As the list's own is; nothing is drawn of it."""
    with pytest.raises(InputError, match=r"Found 5000 characters\. A text has at most 300"):
        packed.accept(1, name="n" * 5000)
    assert packed.records()[1].name == "Anna Berg"
