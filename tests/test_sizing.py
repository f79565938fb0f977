"""One set, one size: what an order settles on, and what happens to the odd ones out."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest
from conftest import LayoutOf, found_in, guest_named
from hypothesis import given, strategies as st
from typer.testing import CliRunner

from mailmerge.artwork import Layout, Own, Settled, Sizes, compose, own_heights, settle
from mailmerge.artwork.sizing import NO_SIZES
from mailmerge.blanks import Blank
from mailmerge.cli import app
from mailmerge.findings import Finding
from mailmerge.guests import Guest
from mailmerge.merge import settled
from mailmerge.orders import open_order
from mailmerge.shelves import validated

HERE = Path()
RUNNER = CliRunner()


def layout_with(**line: object) -> Layout:
    keys = {"text": "{name}", "font": "x", "letter_height": {"max": 20, "min": 5}, "sizing": "set"}
    return validated(Layout, {"name": "Test", "line": [keys | line]}, "test")


def one(layout: Layout, heights: list[float]) -> Settled:
    (found,) = settle(layout, [(1, "", height) for height in heights], Sizes()).settled
    return found


def test_the_set_has_the_largest_height_at_which_all_fit() -> None:
    found = one(layout_with(), [14, 13.5, 13.8, 14, 13.6])
    assert (found.letter_height, found.members, found.outliers) == (13.5, 5, 0)


def test_a_name_that_drags_the_set_down_is_left_out_and_counted() -> None:
    heights = [13.8] + [14.0] * 36 + [9.2]
    found = one(layout_with(), heights)
    assert (found.letter_height, found.members, found.outliers) == (13.8, 38, 1)
    assert (found.free, found.held) == (13.8, 9.2)
    held = one(layout_with(outliers="hold-set"), heights)
    assert (held.letter_height, held.outliers) == (9.2, 1)


def test_many_small_names_are_the_set_and_no_odd_ones_out() -> None:
    assert one(layout_with(), [14.0] * 20 + [9.0] * 20).letter_height == 9.0
    # One in eight at the most, and always one.
    assert one(layout_with(), [14.0] * 14 + [9.0] * 2).letter_height == 14.0
    assert one(layout_with(), [14.0] * 13 + [9.0] * 3).letter_height == 9.0
    assert one(layout_with(), [14.0] * 3 + [9.0]).letter_height == 14.0
    assert one(layout_with(), [14.0, 9.0]).letter_height == 9.0


def test_names_that_do_not_fit_at_all_are_no_members() -> None:
    found = one(layout_with(), [14, 14, 4.9, 12.5])
    assert (found.letter_height, found.members) == (12.5, 3)


@given(st.lists(st.floats(5, 20), min_size=1, max_size=60), st.randoms())
def test_the_order_of_the_list_does_not_matter(heights: list[float], dice: random.Random) -> None:
    found = one(layout_with(), heights)
    dice.shuffle(heights)
    assert one(layout_with(), heights) == found
    assert found.letter_height == sorted(heights)[found.outliers]
    assert found.outliers <= max(1, len(heights) // 8)


def test_each_role_is_a_set_of_its_own() -> None:
    layout = layout_with(sizing="role")
    own = [(1, "viola", 12.0), (1, "viola", 11.9), (1, "horn", 9.0), (1, "horn", 9.3)]
    sizes = settle(layout, own, Sizes())
    assert {s.role: s.letter_height for s in sizes.settled} == {"viola": 11.9, "horn": 9.0}
    line = layout.line[0]
    found = sizes.of(1, line, "Viola")
    assert found is not None
    assert found.letter_height == 11.9
    assert sizes.of(1, line, "Tuba") is None


def test_sizes_by_role_are_kept_with_guests_who_have_none(tmp_path: Path) -> None:
    (tmp_path / "guests.csv").write_text("Name,Role\nAmara Okonkwo,Viola\nJonas Ek,\n")
    (tmp_path / "mine.toml").write_text(
        'name = "x"\n[[line]]\ntext = "{name}"\nfont = "Lora"\nsizing = "role"\n'
        "letter_height = { max = 14, min = 5 }\n"
    )
    (tmp_path / "order.toml").write_text(
        '[order]\ntitle = "Gala"\nlist = "guests.csv"\nblank = "handled-tumbler-40oz"\n'
        'layout = "mine.toml"\ncoat = "black"\n'
    )
    assert RUNNER.invoke(app, ["keep-sizes", str(tmp_path)]).exit_code == 0
    kept = settled(open_order(tmp_path)).sizes.settled
    assert {size.role for size in kept} == {"", "viola"}
    assert all(size.kept for size in kept)


def test_an_odd_one_out_is_set_as_large_as_it_can(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "sizing": "set", "lines": 2,
         "letter_height": {"max": "14 mm", "min": "4 mm"}}
    )  # fmt: skip
    long = "HHHHHHHHHHHH HHHHHHHHHHHHHHH"
    found = items(blank, layout, ["HHH", "HHHH", "HH", "HHHHH", long])
    # Two rows: 15 capitals are 8900 units, 7.86 mm; one row would be 4.2 mm.
    assert found[long][0] == 7.86


def test_a_kept_size_holds_above_a_layouts_largest(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}", "sizing": "set"})
    kept = Sizes((Settled(1, "", 16.0, kept=True),))
    assert items(blank, layout, ["HHH"], kept)["HHH"] == (16.0, [])


def test_names_that_no_font_holds_are_no_members(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}", "sizing": "set"})
    own = [*own_heights(layout, blank, guest_named("李美玲"), {}, HERE)]
    assert own == []


def test_kept_sizes_hold_whoever_comes_later() -> None:
    kept = Sizes((Settled(1, "", 12.0, kept=True),))
    assert settle(layout_with(), [(1, "", 7.0)], kept) == kept


def test_a_cup_set_differently_is_said_to_take_no_set_down(
    blank: Blank, layout_of: LayoutOf
) -> None:
    layout = layout_of({"text": "{name}", "sizing": "set", "lines": 2})
    guests = [guest_named(name) for name in ["HHHHHHHHHHHH", "HHHHHHHH HHHHHHHH", "HHH", "HH"]]
    found = [each for g in guests for each in own_heights(layout, blank, g, {}, HERE)]
    sizes = settle(layout, found, NO_SIZES)
    own = (Own(1, rows=("HHHHHHHH HHHHHHHH",)),)
    composition = compose(layout, blank, guests[1], {}, HERE, sizes, own)
    said = found_in(guests[1], composition, blank, frozenset({"name"}))
    # Sixteen capitals and a blank of 300 units are 9800 units, of which 100 mm hold 7.14 mm high
    # ones. The one that would take the set down, to 9.86 mm, is the guest with twelve.
    assert sizes.settled[0].outliers == 1
    assert [f.message for f in said if f.code == "drags-the-set"] == [
        'Set so, "HHHHHHHH HHHHHHHH" fits at 7.14 mm and no higher. The set is 14 mm high, and '
        "this one 7.14 mm."
    ]


def items(
    blank: Blank, layout: Layout, names: list[str], kept: Sizes = NO_SIZES
) -> dict[str, tuple[float, list[Finding]]]:
    guests = [guest_named(name) for name in names]
    own = [each for g in guests for each in own_heights(layout, blank, g, {}, HERE)]
    sizes = settle(layout, own, kept)

    def made(guest: Guest) -> tuple[float, list[Finding]]:
        composition = compose(layout, blank, guest, {}, HERE, sizes)
        found = found_in(guest, composition, blank, frozenset({"name"}))
        return composition.lines[0].letter_height, [
            f for f in found if f.code in ("drags-the-set", "not-at-kept-size")
        ]

    return {guest.name: made(guest) for guest in guests}


# In the box font a name of n capitals has (600 n - 100) units of ink, so that on 100 mm its largest
# letter height is 70 000 / (600 n - 100) mm: 9.859 for 12 letters.
SHORT = ["HHHHHHHHHHHH", "HHHHHH", "HHHHHHHH", "HHH"]
LONG = "HHHHHHHHH HHHHHHHHH"


def test_all_cups_get_one_height_and_the_odd_one_its_own(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "sizing": "set", "letter_height": {"max": "14 mm", "min": "5 mm"}}
    )
    found = items(blank, layout, [*SHORT, LONG])
    assert {found[name][0] for name in SHORT} == {9.85}  # 100 / 7100 * 700
    # 18 capitals and a blank: 17 * 600 + 500 + 300 = 11 000 units; 6.36 mm.
    height, (finding,) = found[LONG]
    assert height == 6.36
    assert str(finding.severity) == "warning"
    assert "the one of 5 names that takes the set from 9.85 mm to 6.36 mm" in finding.message
    assert "on two lines 13.2" in finding.advice  # 100 / 5300 * 700 = 13.20
    assert "with an initial" in finding.advice
    assert all(not found[name][1] for name in SHORT)


def test_two_lines_count_as_fitting_and_are_taken_only_where_needed(
    blank: Blank, layout_of: LayoutOf
) -> None:
    layout = layout_of({"text": "{name}", "sizing": "set", "lines": 2})
    guests = [guest_named(name) for name in (*SHORT, "A" * 12, LONG, "HH HH")]
    own = [each for g in guests for each in own_heights(layout, blank, g, {}, HERE)]
    sizes = settle(layout, own, Sizes())
    lines = [compose(layout, blank, g, {}, HERE, sizes).lines[0] for g in guests]
    assert {line.letter_height for line in lines} == {9.85}
    assert [len(line.rows) for line in lines] == [1, 1, 1, 1, 1, 2, 1]


@pytest.mark.parametrize(("outliers", "severity"), [("stop", "stop"), ("hold-set", "warning")])
def test_the_layout_decides_about_the_odd_ones(
    blank: Blank, layout_of: LayoutOf, outliers: str, severity: str
) -> None:
    layout = layout_of(
        {"text": "{name}", "sizing": "set", "outliers": outliers,
         "letter_height": {"max": "14 mm", "min": "5 mm"}}
    )  # fmt: skip
    found = items(blank, layout, [*SHORT, LONG])
    assert [str(f.severity) for f in found[LONG][1]] == [severity]
    heights = {height for height, _ in found.values()}
    assert heights == ({6.36} if outliers == "hold-set" else {9.85, 6.36})


def test_a_late_guest_gets_the_kept_size_or_is_flagged(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "sizing": "set", "letter_height": {"max": "14 mm", "min": "5 mm"}}
    )
    kept = Sizes((Settled(1, "", 9.0, kept=True),))
    found = items(blank, layout, ["HHH", LONG], kept)
    assert found["HHH"] == (9.0, [])
    height, (finding,) = found[LONG]
    assert (height, finding.code) == (6.36, "not-at-kept-size")
    assert "does not fit at 9 mm" in finding.message


def test_an_order_keeps_its_sizes_and_the_rest_of_its_file(tmp_path: Path) -> None:
    (tmp_path / "guests.csv").write_text("Name,Role\nAmara Okonkwo,Viola\nJonas Ek,Horn\n")
    order = tmp_path / "order.toml"
    order.write_text(
        '# mine\n[order]\ntitle = "Gala"  # theirs\nlist = "guests.csv"\n'
        'blank = "handled-tumbler-40oz"\nlayout = "name-over-role"\ncoat = "black"\n'
    )
    result = RUNNER.invoke(app, ["keep-sizes", str(tmp_path)])
    assert result.exit_code == 0, result.output
    text = order.read_text()
    assert text.startswith('# mine\n[order]\ntitle = "Gala"  # theirs\n')
    first = settled(open_order(tmp_path)).sizes
    assert [s.kept for s in first.settled] == [True, True]
    name, role = first.settled
    # A long name comes later: the size stays, and the order says so in its report.
    with (tmp_path / "guests.csv").open("a") as file:
        file.write("Maximiliane Featherstonehaugh-Cholmondeley,Oboe\n")
    assert settled(open_order(tmp_path)).sizes == first
    RUNNER.invoke(app, ["merge", str(tmp_path)])
    report = json.loads((tmp_path / "merged" / "report.json").read_text())
    assert [s["letter_height_mm"] for s in report["order"]["sizes"]] == [
        name.letter_height, role.letter_height,
    ]  # fmt: skip
    ready = [i for i in report["items"] if i["guest"]["name"] == "Jonas Ek"]
    assert ready[0]["lines"][0]["letter_height_mm"] == name.letter_height
    # Keeping them again changes nothing.
    RUNNER.invoke(app, ["keep-sizes", str(tmp_path)])
    assert order.read_text() == text


@pytest.mark.parametrize(
    ("size", "says"),
    [
        (
            "line = 3\nletter_height = 9",
            'size 1.line: Found 3. The lines of the layout "Name over role" are numbered 1 to 2.',
        ),
        (
            'line = 1\nrole = "x"\nletter_height = 9',
            'has sizing "set". A size without a role goes with',
        ),
        ("line = 1", 'size 1.letter_height" is missing'),
        ("line = 1\nletter_height = 0", "size 1.letter_height: Found 0 mm"),
    ],
)
def test_a_kept_size_that_fits_no_line_is_refused(size: str, says: str, tmp_path: Path) -> None:
    (tmp_path / "guests.csv").write_text("Name,Role\nAmara Okonkwo,Viola\n")
    (tmp_path / "order.toml").write_text(
        '[order]\ntitle = "Gala"\nlist = "guests.csv"\nblank = "handled-tumbler-40oz"\n'
        f'layout = "name-over-role"\ncoat = "black"\n\n[[size]]\n{size}\n'
    )
    result = RUNNER.invoke(app, ["check", str(tmp_path)])
    assert says in str(result.exception) + result.output


def test_a_layout_that_shares_nothing_has_nothing_to_keep(tmp_path: Path, box_font: Path) -> None:
    (tmp_path / "guests.csv").write_text("Name\nAB\n")
    (tmp_path / "order.toml").write_text(
        '[order]\ntitle = "Gala"\nlist = "guests.csv"\nblank = "handled-tumbler-40oz"\n'
        'coat = "black"\n[layout]\nname = "x"\n[[layout.line]]\ntext = "{name}"\n'
        f'font = "{box_font}"\nletter_height = {{ max = 9, min = 5 }}\n'
    )
    result = RUNNER.invoke(app, ["keep-sizes", str(tmp_path)])
    assert 'shares no sizes. Put sizing = "set"' in str(result.exception)
