"""One cup set differently from its set; and what is tried before it is done comes out just so."""

from __future__ import annotations

import contextlib
import json
import sqlite3
from pathlib import Path

import outside
import pytest
from shop import GUESTS, Shop, done

from mailmerge.deeds.apart import set_as_the_others, set_differently
from mailmerge.deeds.questions import Choices
from mailmerge.deeds.status import history
from mailmerge.deeds.trying import Change, Own, preview, ways_out
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import LEDGER, MIGRATIONS, open_ledger

LONG = "Maximiliane Alexandra Featherstonehaugh"
"""Too long for its face at the least letter height, in the font of boxes."""


def apart(shop: Shop, number: int, **own: object) -> None:
    done(set_differently(shop.folder, number, Own(1, **own), by="Ina Holm", jobs=1))  # type: ignore[arg-type]


def heights(shop: Shop) -> dict[int, float]:
    return {n: r.entry.lines[0].letter_height_mm for n, r in shop.records().items()}


def test_a_cup_has_its_own_letter_height_and_no_other_changes(shop: Shop) -> None:
    before, files = heights(shop), shop.files()
    apart(shop, 2, letter_height=8.0)
    assert heights(shop) == {**before, 2: 8.0}
    record = shop.records()[2]
    assert not record.entry.lines[0].in_set
    assert "set-differently" in [found.code for found in record.entry.findings]
    for name, data in shop.files().items():
        if "/002-" not in name and name.endswith((".svg", ".png")):
            assert data == files[name], name


def test_a_later_merge_leaves_it_so(shop: Shop) -> None:
    apart(shop, 2, letter_height=8.0)
    seal = shop.records()[2].seal
    shop.list([*reversed(GUESTS), {"Name": "Gro Holm", "Role": "Horn"}])
    shop.merge()
    assert shop.records()[2].seal == seal
    assert shop.records()[6].entry.lines[0].letter_height_mm == heights(shop)[1]


def test_it_is_set_as_the_others_again(shop: Shop) -> None:
    seal = shop.records()[2].seal
    apart(shop, 2, letter_height=8.0)
    done(set_as_the_others(shop.folder, 2, by="Ina Holm", jobs=1))
    record = shop.records()[2]
    assert record.seal == seal
    assert record.own == ()
    told = [line for _, line in history(record)]
    assert told == [
        "set differently, Ina Holm: letters 8 mm high",
        "set as the others again, Ina Holm",
    ]
    with pytest.raises(InputError, match="nothing to take back"):
        set_as_the_others(shop.folder, 2)


def test_a_line_is_broken_where_it_is_said(shop: Shop) -> None:
    apart(shop, 3, rows=("Carla", "Ek"))
    assert shop.records()[3].entry.lines[0].rows == ("Carla", "Ek")


def test_a_cup_has_a_font_of_its_own(shop: Shop) -> None:
    apart(shop, 1, font="Lora")
    entry = shop.records()[1].entry
    assert [line.font for line in entry.lines] == ["Lora", shop.records()[2].entry.lines[0].font]


def test_a_yes_counts_for_exactly_what_was_seen(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release(1, 2)
    apart(shop, 2, letter_height=8.0)
    assert shop.standing() | {1: "released", 2: "waiting"} == shop.standing()
    assert sorted(shop.to_engrave()) == [1]
    done(set_as_the_others(shop.folder, 2, jobs=1))
    assert shop.standing()[2] == "released" or shop.standing()[2] == "confirmed"


def test_what_no_longer_fits_its_text_is_told(shop: Shop) -> None:
    apart(shop, 3, rows=("Carla", "Ek"))
    shop.accept(3, name="Carla Eks")
    entry = shop.records()[3].entry
    assert [f.code for f in entry.findings if f.severity == "warning"] == ["not-set-so"]
    assert entry.lines[0].text == "Carla Eks"


@pytest.mark.parametrize(
    ("number", "own", "why"),
    [
        (9, Own(1, letter_height=8.0), "Item 9 is not in this order"),
        (1, Own(3, letter_height=8.0), "It has 2 lines"),
        (1, Own(1, letter_height=14.5), "allows 5 to 14 mm"),
        (1, Own(1, letter_height=4.9), "allows 5 to 14 mm"),
        (1, Own(1, rows=("Anna", "Bergs")), 'but the text is "Anna Berg"'),
        (1, Own(1, rows=("A", "n", "n", "a")), "3 at most"),
        (1, Own(1, font="No Such Font"), "No Such Font"),
        (1, Own(1), "what is to be different"),
        (4, Own(1, letter_height=14.0), "do not fit as"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_changes(
    shop: Shop, number: int, own: Own, why: str
) -> None:
    if number == 4:
        shop.list([{**GUESTS[0]}, GUESTS[1], GUESTS[2], {"Name": LONG[:24], "Role": "Harp"}])
        shop.merge(Choices({}, frozenset(), True))
        number = 6
    before = shop.files()
    with pytest.raises(InputError, match=why):
        set_differently(shop.folder, number, own, jobs=1)
    assert shop.files() == before
    assert not any(record.apart for record in shop.records().values())


def test_a_cup_that_exists_stays_as_it_is(shop: Shop) -> None:
    shop.yes(1)
    shop.release(1)
    shop.engraved(1)
    with pytest.raises(InputError, match="is engraved"):
        set_differently(shop.folder, 1, Own(1, letter_height=8.0))


def test_a_cup_that_was_changed_meanwhile_is_not_set(shop: Shop) -> None:
    seal = shop.records()[1].seal
    apart(shop, 1, letter_height=8.0)
    with pytest.raises(InputError, match="has changed since"):
        set_differently(shop.folder, 1, Own(1, letter_height=7.0), saw=seal)


@pytest.mark.parametrize(
    "change",
    [
        Change({"name": "Annette Bergstrøm-Holm"}),
        Change({"role": "Second violin"}),
        Change(own=(Own(1, letter_height=8.0),)),
        Change(own=(Own(1, rows=("Anna", "Berg"), font="Lora"),)),
    ],
)
def test_what_is_tried_is_what_is_made(shop: Shop, change: Change) -> None:
    before = shop.files()
    tried = preview(shop.folder, 1, change)
    assert tried.picture.png.startswith(b"\x89PNG")
    assert shop.files() == before
    if change.own:
        done(set_differently(shop.folder, 1, change.own[0], jobs=1))
    else:
        shop.accept(1, **change.texts)
    made = shop.records()[1].entry
    assert tried.entry.seal == made.seal != ""
    assert tried.entry.lines == made.lines


def test_a_text_that_moves_the_whole_set_says_so(shop: Shop) -> None:
    layout = shop.folder / "layout.toml"
    held = layout.read_text(encoding="utf-8").replace('"own-size"', '"hold-set"')
    layout.write_text(held, encoding="utf-8")
    shop.merge()
    was = heights(shop)[2]
    tried = preview(shop.folder, 1, Change({"name": "Annabella Bergstrom"}))
    assert preview(shop.folder, 1, Change({"name": "Anna Borg"})).moved == ()
    shop.accept(1, name="Annabella Bergstrom")
    now = heights(shop)[2]
    assert now < was
    told = [(each.text, round(each.from_, 2), round(each.to, 2)) for each in tried.moved]
    assert told == [("{name}", was, now)]


@pytest.mark.long
def test_every_way_out_of_a_stop_leads_out(shop: Shop) -> None:
    shop.list([*GUESTS, {"Name": LONG, "Role": "Harp"}])
    shop.merge()
    assert shop.standing()[6] == "stopped"
    ways = ways_out(shop.folder, 6)
    assert "as the first name alone" in [way.words for way in ways]
    for way in ways:
        tried = preview(shop.folder, 6, way.change)
        assert not tried.is_stopped, way
        copy = Shop.copied(shop.folder, shop.folder.with_name(f"concert-{ways.index(way)}"))
        if way.change.own:
            done(set_differently(copy.folder, 6, way.change.own[0], jobs=1))
        else:
            copy.accept(6, **way.change.texts)
        assert copy.records()[6].seal == tried.entry.seal
    assert ways_out(shop.folder, 1) == ()


@pytest.mark.long
def test_letters_that_are_lacking_are_lent_by_no_one_but_another_font(shop: Shop) -> None:
    shop.list([*GUESTS, {"Name": "Анна Берг", "Role": "Harp"}, {"Name": "Bo 🎻", "Role": "Harp"}])
    shop.merge()
    assert shop.standing()[6] == "stopped"
    ways = ways_out(shop.folder, 6)
    tried = [preview(shop.folder, 6, way.change) for way in ways]
    assert not any(way.change.texts for way in ways)  # a letter is never left out
    assert not all(each.is_stopped for each in tried)
    assert "letter-missing" not in [f.code for each in tried for f in each.entry.findings]
    assert Change({"name": "Bo"}) in [way.change for way in ways_out(shop.folder, 7)]


def test_an_older_ledger_learns_it(tmp_path: Path) -> None:
    before = next(at for at, sql in enumerate(MIGRATIONS) if "CREATE TABLE own" in sql)
    with contextlib.closing(sqlite3.connect(tmp_path / LEDGER)) as old:
        for migration in MIGRATIONS[:before]:
            for statement in migration.split(";\n"):
                old.execute(statement)
        old.execute("INSERT INTO fact VALUES ('order', 'ABCD-EFGH')")
        old.execute(f"PRAGMA user_version = {before}")
        old.commit()
    with open_ledger(tmp_path, missing="make") as ledger:
        assert ledger.set_apart() == {}


def test_a_setting_follows_its_line_where_a_layout_gets_another(shop: Shop) -> None:
    apart(shop, 2, letter_height=8.0)
    layout = shop.folder / "layout.toml"
    text = layout.read_text(encoding="utf-8")
    first, *rest = text.split("[[line]]")
    font = next(line for line in rest[0].splitlines() if line.startswith("font"))
    new = f'[[line]]\ntext = "for"\n{font}\nletter_height = {{ max = "4 mm", min = "3 mm" }}\n\n'
    layout.write_text(first + new + "[[line]]" + "[[line]]".join(rest), encoding="utf-8")
    shop.merge()
    lines = shop.records()[2].entry.lines
    assert [(line.field, line.letter_height_mm) for line in lines[:2]] == [
        (None, 4.0),
        ("name", 8.0),
    ]


def test_a_forgotten_order_forgets_it(shop: Shop) -> None:
    from mailmerge.deeds.forgetting import forget

    apart(shop, 3, rows=("Carla", "Ek"))
    shop.yes(1, 2, 3, 4, 5)
    shop.release()
    shop.engraved()
    forget(shop.folder, is_sure=True)
    for path in Path(shop.folder).rglob("*"):
        assert not path.is_file() or b"Carla" not in path.read_bytes(), path


def test_the_commands_say_what_the_deeds_do(shop: Shop) -> None:
    done = outside.run("set-differently", shop.folder, 2, "--height", "8mm", "--by", "Ina")
    assert done.returncode == 0
    assert "is set differently from its set: Bo Dahl 8 mm" in done.stdout
    assert shop.records()[2].own[0].said_by == "Ina"
    refused = outside.run("set-differently", shop.folder, 2, "--height", "x")
    assert (refused.returncode, refused.stderr.count("\n")) == (2, 1)
    assert outside.run("set-as-others", shop.folder, 2).returncode == 0
    assert not shop.records()[2].own
    shop.list([*GUESTS, {"Name": LONG, "Role": "Harp"}])
    shop.merge()
    rows = json.loads(outside.run("ways", shop.folder, 6, "--json").stdout)
    told = [(row["way"], row["text"].split(" | ")[0].replace(" / ", " ")) for row in rows]
    ways = ways_out(shop.folder, 6)
    assert told == [(way.words, way.change.texts.get("name", LONG)) for way in ways]
    assert "No way out" in outside.run("ways", shop.folder, 1).stdout
