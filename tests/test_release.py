"""What gets into the folder to engrave from, and what becomes of it."""

from __future__ import annotations

from pathlib import Path

import pytest
from outside import run
from shop import GUESTS, Shop

from mailmerge.deeds import bench, making, papers, timing
from mailmerge.deeds.questions import Question
from mailmerge.deeds.status import last_word
from mailmerge.files import Root, Stage
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import open_ledger
from mailmerge.ledger.standing import Answer, Event, Record
from mailmerge.ledger.tray import changing
from mailmerge.ledger.who import Choices

TOO_LONG = "Wilhelmina " * 12


def test_only_what_is_confirmed_is_released(shop: Shop) -> None:
    shop.list([*GUESTS, {"Name": TOO_LONG, "Role": "Tuba"}])
    shop.merge()
    shop.yes(1, 3)
    shop.wish(2, "not so")
    released = shop.release()
    assert [each.number for each in released.released] == [1, 3]
    assert {each.number: str(each.standing) for each in released.waiting} == {
        2: "to change", 4: "waiting", 5: "waiting", 6: "stopped",
    }  # fmt: skip
    assert shop.to_engrave().keys() == {1, 3}
    for number, path in shop.to_engrave().items():
        artwork = shop.folder / "merged" / shop.records()[number].entry.artwork
        assert path.read_bytes() == artwork.read_bytes()
    assert shop.standing()[1] == "released"


def test_a_release_tells_what_came_up_after_the_yes(shop: Shop) -> None:
    """It changes no artwork, so the yes holds; nobody else would be told before the run sheet."""
    shop.list(GUESTS)
    shop.merge()
    shop.yes(1, 3)
    shop.list([*GUESTS, {"Name": "Carla Ek", "Role": "Harp"}])
    shop.merge()
    done = shop.release()
    assert [each.number for each in done.released] == [1, 3]
    assert [(f.code, numbers) for f, numbers in done.look.items()] == [("duplicate", [3])]
    shop.confirm(6)
    told = run("release", shop.folder).stdout
    assert "Look: item 6: " in told
    assert "row 4" in told


@pytest.mark.parametrize("name", ["Total", "2026-05-03", "=A2", "TRUE"])
def test_who_is_asked_for_hears_what_is_amiss_with_the_row(shop: Shop, name: str) -> None:
    shop.list(GUESTS)
    shop.merge()
    shop.yes(3)
    rows = [dict(row) for row in GUESTS]
    rows[2]["Name"] = name
    shop.list(rows)
    with pytest.raises(InputError, match=r"now in row 4 .*\? Row 4 is stopped: .* is "):
        shop.merge()
    rows[2]["Name"] = "Olga Holm"
    shop.list(rows)
    with pytest.raises(InputError) as asked:
        shop.merge()
    assert "is stopped" not in str(asked.value)


def test_the_run_is_sorted_as_it_is_best_engraved(shop: Shop) -> None:
    coats = ["plum", "black", "plum", "black", "plum"]
    shop.list(
        {**row, "Coat": coat, "Hand": hand}
        for row, coat, hand in zip(GUESTS, coats, "rlrrl", strict=True)
    )
    shop.merge()
    shop.yes(1, 2, 3, 4, 5)
    shop.release()
    names = sorted(path.name for path in shop.to_engrave().values())
    numbers = [int(name[4:7]) for name in names]
    assert [coats[n - 1] for n in numbers] == ["black", "black", "plum", "plum", "plum"]
    assert [name[:3] for name in names] == ["001", "002", "003", "004", "005"]
    shop.engraved()
    shop.spoiled(2)
    shop.release()
    assert [path.name[:3] for path in shop.to_engrave().values()] == ["006"]  # never used twice


def test_without_a_yes_only_for_a_reason_which_goes_on_the_papers(shop: Shop) -> None:
    shop.yes(1)
    shop.wish(2, "not so")
    released = shop.release(reason="the client is at sea")
    assert [each.number for each in released.released] == [1, 3, 4, 5]
    assert [cup.without_yes for cup in shop.run().cups] == ["", *["the client is at sea"] * 3]
    assert shop.records()[3].events[0].reason == "the client is at sea"
    assert 2 not in shop.to_engrave()


def test_a_file_that_somebody_edited_by_hand_is_refused(shop: Shop) -> None:
    shop.yes(1, 2)
    path = shop.folder / "merged" / shop.records()[1].entry.artwork
    path.write_bytes(path.read_bytes().replace(b"</svg>", b"<!-- --></svg>"))
    (shop.folder / "merged" / shop.records()[2].entry.artwork).unlink()
    released = shop.release()
    assert released.released == ()
    assert [record.number for record, _ in released.refused] == [1, 2]
    assert "was changed by hand" in released.refused[0][1]
    assert "cannot be read" in released.refused[1][1]
    assert shop.to_engrave() == {}
    assert shop.merge().changes.mended == [1, 2]
    assert [each.number for each in shop.release().released] == [1, 2]


def test_what_changes_after_its_release_is_taken_back(shop: Shop) -> None:
    shop.yes(1, 2, 3)
    shop.release()
    shop.list([{**GUESTS[0], "Role": "Violin II"}, *GUESTS[1:]])
    assert shop.merge().changes.withdrawn == [1]
    assert shop.to_engrave().keys() == {2, 3}
    shop.wish(2, "no, wait")
    assert shop.to_engrave().keys() == {3}
    shop.list([row for row in GUESTS if row["Name"] != "Carla Ek"])
    shop.merge()
    assert shop.to_engrave() == {}
    # The first one is again as it was confirmed; it waits for another release all the same.
    assert shop.standing()[1] == "confirmed"


def test_what_was_taken_back_needs_another_release_though_it_is_confirmed_again(
    shop: Shop,
) -> None:
    """A wish takes it out; the word that closes the wish does not put it back by itself."""
    shop.yes(1)
    shop.release()
    shop.wish(1, "no, wait")
    shop.decide(1)
    shop.confirm(1)
    assert shop.standing()[1] == "confirmed"
    assert shop.to_engrave() == {}
    assert [each.number for each in shop.release().released] == [1]


def test_all_that_is_released_is_not_called_engraved_where_a_file_was_gone(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.to_engrave()[2].unlink()
    done = bench.engraved(shop.folder, None)
    assert [[r.number for r in each] for each in (done.records, done.left)] == [[1], [2]]
    assert shop.standing()[2] == "released"
    assert shop.to_engrave().keys() == {2}  # put back
    shop.wish(2, "no, wait")
    assert [r.number for r in shop.engraved(2).against] == [2]  # it was on the machine already


def test_what_lies_there_already_and_who_is_gone_are_not_waited_for(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.list(GUESTS[:4])
    shop.merge(Choices(gone=frozenset({5})))
    assert [each.number for each in shop.release().waiting] == [3, 4]


def test_a_cup_is_engraved_once_for_each_release(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.engraved(1)
    with pytest.raises(InputError, match=r"Item 1 \(.+\) is on record as engraved already"):
        shop.engraved(1)
    shop.spoiled(2)
    with pytest.raises(
        InputError, match=r'Item 2 \(.+\) is "spoiled": it has no file to engrave from'
    ):
        shop.engraved(2)
    with pytest.raises(InputError, match=r"The blank of item 2 .+ is on record as lost already"):
        shop.spoiled(2)


def test_an_old_yes_is_no_wish_for_a_text_that_the_layout_has_dropped() -> None:
    yes = Answer("old", "yes", "", {}, {"name": "Bo", "role": "Horn"}, "", "file", "", "")
    record = Record(1, 1, 1, False, "new", {"name": "Bo"}, "{}", {}, answers=(yes,))
    assert record.wish is None
    assert record.standing == "waiting"


def test_a_cup_is_compared_with_the_artwork_that_it_was_engraved_with() -> None:
    """Not with what was released before that and taken back."""
    ways = ("released", "old"), ("withdrawn", "old"), ("released", "new"), ("engraved", "new")
    events = tuple(Event(what, seal, 1, "", "") for what, seal in ways)
    for seal, changed in (("new", False), ("old", True)):
        record = Record(1, 1, 1, False, seal, {}, "{}", {}, events=events)
        assert record.changed_since_engraved == changed


def test_the_folder_is_put_right_by_whatever_comes_next(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    one, two = shop.to_engrave()[1], shop.to_engrave()[2]
    whole = one.read_bytes()
    one.write_bytes(b"half of i")
    stray = two.with_name("009_003-carla-ek.svg")
    stray.write_bytes(whole)
    own = two.with_name("my own jig.svg")
    own.write_bytes(b"mine")
    two.unlink()
    shop.confirm(3)
    assert own.read_bytes() == b"mine"
    own.unlink()
    artwork = shop.folder / "merged" / shop.records()[2].entry.artwork
    edited = artwork.read_bytes()
    artwork.write_bytes(b"<svg/>")
    shop.to_engrave()[2].unlink()
    shop.confirm(4)
    assert shop.to_engrave().keys() == {1}
    artwork.write_bytes(edited)
    shop.confirm(5)
    assert shop.to_engrave()[1].read_bytes() == whole
    assert shop.to_engrave().keys() == {1, 2}


def test_a_file_changed_in_the_tray_leaves_it_though_its_source_is_damaged_too(shop: Shop) -> None:
    """What was not confirmed must not lie in ``to-engrave/``, even if nothing can replace it."""
    shop.yes(1, 2)
    shop.release()
    artwork = shop.folder / "merged" / shop.records()[1].entry.artwork
    whole = artwork.read_bytes()
    for damage in (lambda: artwork.write_bytes(b"<svg/>"), artwork.unlink):
        shop.to_engrave()[1].write_bytes(whole.replace(b"</svg>", b"<path d='M0 0'/></svg>"))
        damage()
        shop.confirm(3)
        assert shop.to_engrave().keys() == {2}
        artwork.write_bytes(whole)
        shop.confirm(3)
        assert shop.to_engrave()[1].read_bytes() == whole


@pytest.mark.parametrize("name", ["merged", "proof-pack"])
def test_a_first_call_cut_off_before_it_was_on_record_has_never_been(
    tmp_path: Path, box_font: Path, name: str
) -> None:
    """Its files lie there whole, but the ledger knows of no stage at all."""
    shop = Shop(tmp_path / "new", box_font)
    shop.list(GUESTS)
    with open_ledger(shop.folder, missing="make"):
        pass
    stage = Stage(Root(shop.folder / name))
    stage.open_up()
    stage.write("001.svg", b"<svg/>")
    stage.settle(set())
    with open_ledger(shop.folder, missing="make") as ledger, changing(ledger):
        pass
    assert list((shop.folder / name).iterdir()) == []


def test_spoiled_puts_an_item_into_the_next_release_and_counts_the_blank(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.engraved(1)
    assert shop.to_engrave().keys() == {2}
    shop.spoiled(1)
    assert shop.standing()[1] == "spoiled"
    assert shop.records()[1].spoiled == 1
    assert [each.number for each in shop.release().released] == [1]
    shop.spoiled(1)
    assert shop.records()[1].spoiled == 2
    with pytest.raises(
        InputError, match=r'Item 3 \(.+\) is "waiting" and was never on the machine'
    ):
        shop.spoiled(2, 3)
    assert shop.standing()[2] == "released"


def test_only_what_is_released_can_be_engraved(shop: Shop) -> None:
    shop.yes(1)
    with pytest.raises(
        InputError, match=r'Item 1 \(.+\) is "confirmed": it has no file to engrave from'
    ):
        shop.engraved(1)
    with pytest.raises(
        InputError, match=r"This order has no item 9\. Its items are numbered 1 to 5"
    ):
        shop.release(9)


def test_a_list_that_changes_after_engraving_is_pointed_out(shop: Shop) -> None:
    shop.yes(1)
    shop.release()
    shop.engraved(1)
    shop.list([{**GUESTS[0], "Role": "Violin II"}, *GUESTS[1:]])
    shop.merge()
    assert shop.standing()[1] == "engraved"
    assert shop.records()[1].changed_since_engraved
    told = last_word(shop.records()[1])
    assert told.startswith("The cup stands as it was engraved.")
    assert "Only if the cup itself must be made again, record item 1 as spoiled." in told
    shop.spoiled(1)
    assert shop.standing()[1] == "waiting"  # nobody has seen the new text
    assert [each.number for each in shop.release().released] == []


def test_a_cup_that_was_engraved_before_its_file_was_taken_back(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.list([{**row, "Role": "Tutti"} for row in GUESTS])
    shop.merge()
    shop.engraved(1)
    assert shop.standing()[1] == "engraved"
    assert shop.records()[1].changed_since_engraved
    assert next(each.number for each in shop.release().waiting) == 1  # it is not forgotten
    shop.spoiled(2)
    assert shop.records()[2].spoiled == 1


def test_an_engraved_cup_counts_although_its_guest_has_left(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.engraved(1)
    shop.list(GUESTS[2:])
    changes = shop.merge(Choices(gone=frozenset({1, 2}))).changes
    assert (changes.gone, changes.engraved, changes.withdrawn) == ([1, 2], [1], [2])
    assert (shop.standing()[1], shop.standing()[2]) == ("engraved", "gone")
    packed = shop.pack(everything=True)
    assert packed is not None
    assert "Anna Berg" not in [card.name for card in packed.pack.cards]


def test_where_fewer_cups_are_wanted_those_that_exist_stay(shop: Shop) -> None:
    shop.list([{**GUESTS[0], "Quantity": "3"}, *GUESTS[1:]])
    shop.merge()
    shop.yes(1, 6, 7)
    shop.release()
    shop.engraved(7)
    shop.list([{**GUESTS[0], "Quantity": "1"}, *GUESTS[1:]])
    assert shop.merge().changes.gone == [1, 6]
    assert shop.standing()[7] == "engraved"
    assert shop.to_engrave() == {}


def test_an_order_that_is_cancelled_releases_nothing(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.list([])
    with pytest.raises(InputError, match=r"No guest stands below.*--gone all"):
        shop.merge()
    shop.merge(Choices(unsure_are_gone=True))
    assert shop.to_engrave() == {}
    assert set(shop.standing().values()) == {"gone"}


def test_nothing_is_written_into_the_orders_own_folders_off_the_record(shop: Shop) -> None:
    from typer.testing import CliRunner

    from mailmerge.cli import app

    before = shop.files()
    for name in ("to-engrave", "merged", "merged/artwork", "proof-pack"):
        out = str(shop.folder / name)
        result = CliRunner().invoke(app, ["merge", str(shop.folder), "--out", out])
        assert "This is the order's own folder" in str(result.exception)
    assert shop.files() == before


def test_items_may_be_named_by_their_files(shop: Shop) -> None:
    from typer.testing import CliRunner

    from mailmerge.cli import app

    shop.yes(2, 3)
    shop.release()
    name = shop.to_engrave()[3].name
    result = CliRunner().invoke(app, ["engraved", str(shop.folder), name])
    assert result.output == "Engraved: 3 Carla Ek\n"
    result = CliRunner().invoke(app, ["engraved", str(shop.folder), "second"])
    assert "Give the number of an item" in str(result.exception)
    (cup,) = shop.run().cups
    assert (cup.number, cup.file) == (2, "001_002-bo-dahl.svg")
    assert "Set the rotary to 300 mm" in cup.steps[0]


def test_the_next_release_needs_no_merge_in_between(shop: Shop) -> None:
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.merge import outdated
    from mailmerge.orders import open_order

    shop.yes(1)
    shop.release()
    with open_ledger(shop.folder) as ledger:
        assert outdated(open_order(shop.folder), ledger) == []
    shop.list([{**row, "Role": "Tutti"} for row in GUESTS])
    with open_ledger(shop.folder) as ledger:
        assert outdated(open_order(shop.folder), ledger) == [1, 2, 3, 4, 5]


def test_a_release_from_a_list_that_was_not_merged_is_refused(shop: Shop) -> None:
    from typer.testing import CliRunner

    from mailmerge.cli import app

    shop.yes(1, 2)
    shop.release(1)
    shop.list([{"Name": "Anna Bergh", "Role": "Violin"}, *GUESTS[1:4]])
    shop.merge(Choices(same={1: 2}))
    shop.yes(1)
    shop.release(1)
    shop.list([{"Name": "Anna Bergh", "Role": "Cello"}, *GUESTS[1:4]])
    result = CliRunner().invoke(app, ["release", str(shop.folder)])
    assert (
        "This affects item 1. Of these, item 1 lies in to-engrave. First run: mailmerge merge"
        in str(result.exception)
    )
    assert shop.standing()[2] == "confirmed"


def test_what_reads_the_record_sends_to_merge_where_it_is_open_who_is_where(shop: Shop) -> None:
    """A merge asks, as a question; no other deed could do anything with the answer."""
    shop.yes(1, 2)
    shop.release(1)
    shop.list([{"Name": "Anna Bergh", "Role": "Violin"}, *GUESTS[1:]])
    first_run = (
        rf"not plain which row is whose\. This affects item 1\. Of these, item 1 lies in "
        rf"to-engrave\. First run: mailmerge merge {shop.folder}\. It asks who is where\."
    )
    for deed in (
        shop.release,
        shop.time,
        shop.quote,
        lambda: papers.run_sheet(shop.folder),
        lambda: timing.log(shop.folder, "1", 500),
    ):
        with pytest.raises(InputError, match=first_run) as refused:
            deed()
        assert type(refused.value) is InputError  # and no question that a deed has let through
    assert shop.standing()[2] == "confirmed"
    assert isinstance(making.merge(shop.folder), Question)


def test_a_merge_tells_whose_yes_was_to_other_artwork(shop: Shop) -> None:
    shop.yes(1, 2, 3)
    shop.release(1)
    shop.list([{**GUESTS[0], "Role": "Alto"}, GUESTS[1], {**GUESTS[2], "Role": "Alto"}])
    changes = shop.merge(Choices(gone=frozenset({4, 5}))).changes
    assert changes is not None
    assert changes.ask_again == [1, 3]
    assert changes.withdrawn == [1]
    changes = shop.merge().changes
    assert changes is not None
    assert changes.ask_again == []


def test_a_reason_is_one_line_of_the_paper(shop: Shop) -> None:
    shop.release(1, reason="at sea\n999_999-fake.svg")
    assert shop.run().cups[0].without_yes == "at sea 999_999-fake.svg"


# Late guests


def heights(shop: Shop) -> dict[int, float]:
    return {
        number: record.entry.lines[0].letter_height_mm for number, record in shop.records().items()
    }


LATE = {"Name": "Maximiliana Ek", "Role": "Oboe"}


def test_a_late_guest_is_set_at_the_size_of_the_cups_that_exist(shop: Shop) -> None:
    shop.yes(1)
    shop.release()
    before, files = heights(shop), shop.files()
    shop.list([*GUESTS, {"Name": "Jo Ek", "Role": "Oboe"}])
    changes = shop.merge().changes
    assert (changes.new, changes.changed) == ([6], [])
    assert heights(shop)[6] == before[1]
    for name, data in files.items():
        if name.endswith(".svg"):
            assert (shop.folder / name).read_bytes() == data


def test_a_late_guest_who_does_not_fit_leaves_the_set_alone_and_is_flagged(shop: Shop) -> None:
    shop.yes(1)
    shop.release()
    shop.engraved(1)
    before = heights(shop)
    shop.list([*GUESTS, LATE])
    assert shop.merge().changes.changed == []
    record = shop.records()[6]
    assert {n: h for n, h in heights(shop).items() if n < 6} == before
    finding = next(f for f in record.entry.findings if f.code == "not-at-kept-size")
    assert f"does not fit at {before[1]:g} mm, the letter height of the cups" in finding.message
    assert finding.advice


def test_before_the_first_release_a_late_guest_may_change_the_set(shop: Shop) -> None:
    before = heights(shop)
    layout = shop.folder / "layout.toml"
    layout.write_text(layout.read_text().replace('"own-size"', '"hold-set"'))
    shop.merge()
    shop.list([*GUESTS, LATE])
    shop.merge()
    assert heights(shop)[1] < before[1]
    assert len(set(heights(shop).values())) == 1


def test_when_no_cup_is_left_of_a_release_the_set_is_free_again(shop: Shop) -> None:
    layout = shop.folder / "layout.toml"
    layout.write_text(layout.read_text().replace('"own-size"', '"hold-set"'))
    shop.merge()
    shop.yes(1)
    shop.release()
    shop.list([*GUESTS, LATE])
    shop.merge()
    kept = heights(shop)
    assert kept[1] != kept[6]
    shop.spoiled(1)
    shop.merge()
    assert len(set(heights(shop).values())) == 1


def test_sizes_hold_by_role_for_guests_without_one_too(shop: Shop) -> None:
    layout = shop.folder / "layout.toml"
    text = layout.read_text().replace('"set"', '"role"').replace('"own-size"', '"hold-set"')
    layout.write_text(text)
    shop.list([{"Name": "Anna Berg", "Role": ""}, {"Name": "Bo Dahl", "Role": ""}])
    shop.merge(Choices(unsure_are_gone=True))
    shop.yes(1, 2)
    shop.release()
    shop.list([{"Name": "Anna Berg", "Role": ""}, {"Name": "Bo Dahl", "Role": ""},
               {"Name": "Maximiliana Featherstone", "Role": ""}])  # fmt: skip
    changes = shop.merge().changes
    assert (changes.changed, changes.withdrawn) == ([], [])


def test_sizes_stay_with_their_line_when_the_layout_gets_another(shop: Shop) -> None:
    shop.yes(1)
    shop.release()
    before = heights(shop)[1]
    layout = shop.folder / "layout.toml"
    first, second, third = layout.read_text().split("[[line]]")
    layout.write_text("[[line]]".join([first, third, second]))
    shop.merge()
    by_field = {line.field: line for line in shop.records()[2].entry.lines}
    assert by_field["name"].letter_height_mm == before
    assert by_field["role"].letter_height_mm <= 6


def test_keep_sizes_keeps_those_of_the_cups_that_exist(shop: Shop) -> None:
    from typer.testing import CliRunner

    from mailmerge.cli import app

    layout = shop.folder / "layout.toml"
    layout.write_text(layout.read_text().replace('"own-size"', '"hold-set"'))
    shop.merge()
    shop.yes(1)
    shop.release()
    shop.engraved(1)
    shop.list([*GUESTS, LATE])
    shop.merge()
    result = CliRunner().invoke(app, ["keep-sizes", str(shop.folder)])
    assert result.exit_code == 0, result.output
    assert shop.merge().changes.changed == []


def test_a_merge_after_a_release_changes_nothing(shop: Shop) -> None:
    shop.list([*GUESTS, LATE, {"Name": TOO_LONG, "Role": "Tuba"}])
    shop.merge()
    shop.yes(1, 2, 6)
    before = {name: data for name, data in shop.files().items() if name.endswith(".svg")}
    shop.release()
    changes = shop.merge().changes
    assert (changes.new, changes.changed, changes.withdrawn) == ([], [], [])
    after = {name: data for name, data in shop.files().items() if name.startswith("merged/art")}
    assert after == before
