"""Texts that a person has said are meant just so: ``as_written`` in ``order.toml``."""

from __future__ import annotations

from pathlib import Path

import pytest
from shop import Shop

from mailmerge.deeds import making
from mailmerge.findings import Finding, Severity
from mailmerge.guests import open_list

WORDS = ("The Deputy", "Reserved")


@pytest.fixture
def fresh(tmp_path: Path, box_font: Path) -> Shop:
    """Return a workshop with an order that nothing was done to."""
    return Shop(tmp_path / "gala", box_font)


def hold(shop: Shop, *names: str) -> None:
    shop.list({"Name": name, "Role": "Horn"} for name in ("Maren Hale", *names))


def say(shop: Shop, *texts: str) -> None:
    """Write down in ``order.toml`` which texts are meant just so."""
    file = shop.folder / "order.toml"
    listed = ", ".join(f'"{text}"' for text in texts)
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("[order]", f"[order]\nas_written = [{listed}]"), encoding="utf-8")


def said(shop: Shop, *severities: Severity) -> list[tuple[str, Finding]]:
    """Return what a check says of each guest, and of the whole list."""
    return [
        (name, cause.finding)
        for cause in making.check(shop.folder).causes
        if not severities or cause.finding.severity in severities
        for name in cause.names or [""]
    ]


def test_a_stop_is_answered_with_the_words_that_its_advice_names(fresh: Shop) -> None:
    hold(fresh, *WORDS)
    stops = said(fresh, Severity.STOP)
    assert sorted(name for name, _ in stops) == sorted(WORDS)
    for name, finding in stops:
        assert f'add "{name}" to as_written in order.toml' in finding.advice
    say(fresh, *WORDS)
    assert said(fresh) == []


def test_each_stop_about_what_a_text_means_says_how_it_is_answered(fresh: Shop) -> None:
    rows = ("Ada Ek", "Ben Om", "Cleo Li", "Dirk Ho", "Violins", "Quentin +1", "2024-W05", "12 kg",
            "Sent from my phone", "Day 2", "@ada", "halle.example/list", "Mrs.")  # fmt: skip
    fresh.list({"Name": name, "Role": "" if name == "Violins" else "Horn"} for name in rows)

    def of_meaning() -> list[tuple[str, Finding]]:  # the test font has few letters
        return [each for each in said(fresh, Severity.STOP) if each[1].code != "letter-missing"]

    stops = of_meaning()
    assert {name for name, _ in stops} == {*rows[4:]}
    for name, finding in stops:
        assert f'add "{name}" to as_written in order.toml' in finding.advice
    say(fresh, *rows[4:])
    assert of_meaning() == []


def test_what_is_meant_is_made_and_released_as_any_cup(fresh: Shop) -> None:
    hold(fresh, *WORDS)
    fresh.merge()
    assert list(fresh.standing().values()) == ["waiting", "stopped", "stopped"]
    say(fresh, *WORDS)
    fresh.merge()
    assert list(fresh.standing().values()) == ["waiting"] * 3
    fresh.confirm(2, 3)
    assert [record.entry.name for record in fresh.release().released] == list(WORDS)


def test_only_a_cell_that_holds_just_that_text_is_meant(fresh: Shop) -> None:
    """Stray spaces are cleaned away first; another capital is another text."""
    hold(fresh, "The  Deputy", "Our Deputy", "the deputy")
    say(fresh, " The Deputy")
    assert {name for name, _ in said(fresh, Severity.STOP)} == {
        "Our Deputy",
        "the deputy",
    }


def test_a_name_of_two_columns_is_answered_as_a_whole(fresh: Shop) -> None:
    file = fresh.folder / "list.csv"
    file.write_text("First name,Last name,Role\nChild,Dunmore,Horn\n", encoding="utf-8")
    ((name, finding),) = said(fresh, Severity.STOP)
    assert (name, finding.code) == ("Child Dunmore", "stands-for-somebody")
    say(fresh, "Child Dunmore")
    assert said(fresh) == []


def test_what_looks_like_a_value_can_be_meant(fresh: Shop) -> None:
    """A band may be called True; what a program writes in place of a value is never meant."""
    hold(fresh, "TRUE", "NULL")
    say(fresh, "TRUE", "NULL")
    stops = [(name, finding.code) for name, finding in said(fresh, Severity.STOP)]
    assert stops == [("NULL", "name-is-error")]


def test_a_text_that_no_cell_holds_is_told(fresh: Shop) -> None:
    hold(fresh, "Reserved")
    say(fresh, "Reserved", "Resrved")
    ((_, finding),) = said(fresh)
    assert (finding.code, finding.severity) == ("as-written-unused", Severity.NOTE)
    assert '"Resrved"' in finding.message
    assert '"Reserved"' not in finding.message


def test_what_could_spoil_the_cup_is_still_a_stop(fresh: Shop) -> None:
    """The font has no Cyrillic letters; a sign that turns letters around is seen otherwise."""
    names = ("Фотограф", "Guest\u202e", " ".join(["Guest"] * 25))
    hold(fresh, *names)
    say(fresh, *names)
    stops = {finding.code for _, finding in said(fresh, Severity.STOP)}
    assert stops == {"letter-missing", "direction-override", "name-too-long"}


def test_roles_are_meant_too(fresh: Shop) -> None:
    fresh.list([{"Name": name, "Role": role} for name, role in
                (("Maren Hale", "Horn"), ("Otto Falk", "Horn"), ("Ida Moe", "TBC"))])  # fmt: skip
    assert [finding.code for _, finding in said(fresh)] == ["not-a-role"]
    say(fresh, "TBC")
    assert said(fresh) == []


def test_a_name_is_meant_with_the_parts_that_were_made_of_it(tmp_path: Path) -> None:
    """So that a layout of first names does not ask again which word is the first."""
    path = tmp_path / "l.csv"
    path.write_text("Name,Role\nDr. Hale,Horn\nMaren Hale,Horn\n", encoding="utf-8")
    guests = list(open_list(path, None, {}, ["Dr. Hale"]).guests())
    assert [guest.meant for guest in guests] == [{"name", "first", "last"}, frozenset()]
