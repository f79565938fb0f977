from __future__ import annotations

from pathlib import Path

import pytest
from conftest import LayoutOf, guest_named
from hypothesis import HealthCheck, given, settings, strategies as st

from mailmerge.artwork import Layout, check_fields, compose
from mailmerge.blanks import Blank
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.shelves import load, shelf, validated

HERE = Path()


def test_a_short_line_gets_the_largest_letter_height(blank: Blank, layout_of: LayoutOf) -> None:
    (line,) = compose(layout_of({"text": "{name}"}), blank, guest_named("HH"), {}, HERE).lines
    # Two capitals: ink 500 + 600 = 1100 units wide, 700 high; 14 mm is 1/50 mm a unit.
    assert line.letter_height == 14
    assert line.box.width == pytest.approx(22)
    assert line.box.height == pytest.approx(14)
    # Centred on the face (s = 225) by ink, and in the band (20 to 80 mm).
    assert (line.box.left + line.box.right) / 2 == pytest.approx(225)
    assert (line.box.low + line.box.high) / 2 == pytest.approx(50)
    # The page runs down from the mouth at 100 mm.
    assert line.outline.box == pytest.approx((214, 43, 236, 57))


def test_a_long_line_shrinks_to_the_width_exact_to_a_hundredth(
    blank: Blank, layout_of: LayoutOf
) -> None:
    (line,) = compose(layout_of({"text": "{name}"}), blank, guest_named("H" * 14), {}, HERE).lines
    # Ink 13 * 600 + 500 = 8300 units; 100 mm / 8300 * 700 = 8.4337 mm.
    assert line.letter_height == 8.43
    assert line.box.width == pytest.approx(8.43 / 700 * 8300)


def test_fit_is_by_ink_not_by_advance(blank: Blank, layout_of: LayoutOf) -> None:
    (line,) = compose(layout_of({"text": "{name}"}), blank, guest_named("H" * 12), {}, HERE).lines
    by_advance = 100 / (12 * 600) * 700
    assert line.letter_height == 9.85 > by_advance  # 100 / 7100 * 700 = 9.859


def test_a_line_fits_its_share_of_the_band(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "letter_height": {"max": "60 mm", "min": "2 mm"}},
        {"text": "{role}", "letter_height": {"max": "20 mm", "min": "2 mm"}, "gap": "4 mm"},
    )
    lines = compose(layout, blank, guest_named("H", "g"), {}, HERE).lines
    # Band 60 less the gap of 4 is 56, shared 3 : 1 = 42 and 14. H is 1 letter height high;
    # g is 700 units high (500 above, 200 below), which is 1 letter height too.
    assert [line.letter_height for line in lines] == [42, 14]
    assert lines[0].box.low - lines[1].box.high == pytest.approx(4)
    assert lines[0].box.high == pytest.approx(80)
    assert lines[1].box.low == pytest.approx(20)


def test_a_blank_line_disappears_and_the_rest_closes_up(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}"}, {"text": "{role}", "gap": "4 mm"})
    (line,) = compose(layout, blank, guest_named("HH"), {}, HERE).lines
    assert (line.box.low + line.box.high) / 2 == pytest.approx(50)


def test_a_line_that_is_too_small_goes_on_two_rows_where_allowed(
    blank: Blank, layout_of: LayoutOf
) -> None:
    name = "HHHHHHHH HHHHHHHH"
    layout = layout_of({"text": "{name}", "lines": 2, "rows": "fewest"})
    (line,) = compose(layout, blank, guest_named(name), {}, HERE).lines
    # One row: 16 capitals and a blank, 15 * 600 + 500 + 300 = 9800 units; 100 / 9800 * 700 = 7.14.
    assert (line.rows, line.letter_height) == ((name,), 7.14)
    layout = layout_of(
        {"text": "{name}", "lines": 2, "rows": "fewest",
         "letter_height": {"max": "14 mm", "min": "8 mm"}}
    )  # fmt: skip
    (line,) = compose(layout, blank, guest_named(name), {}, HERE).lines
    assert line.rows == ("HHHHHHHH", "HHHHHHHH")
    # Each row: 7 * 600 + 500 = 4700 units, 100 / 4700 * 700 = 14.89, so the height is the max.
    assert line.letter_height == 14
    # Baselines are 1.5 letter heights apart: 1.5 * 14 + 14.
    assert line.box.height == pytest.approx(35)


@pytest.mark.parametrize("stacking", ["ink", "baseline"])
def test_rows_of_a_name_are_alike_on_all_cups_by_baselines(
    stacking: str, blank: Blank, layout_of: LayoutOf
) -> None:
    """A deep letter over a tall one pushes nothing: room is kept for it on every cup."""
    size = {"letter_height": {"max": "7 mm", "min": "7 mm"}}
    layout = layout_of({"text": "{name}", "lines": 2, **size}, {"text": "{role}", **size})
    layout = layout.model_copy(update={"stacking": stacking})
    roles = []
    for name in ("HHHHHHHHH HHHHHHHHH", "HHHHHHHHg HHHHHHHHH", "HHHHHHHHH HHHHHHHHg"):
        first, role = compose(layout, blank, guest_named(name, "HH"), {}, HERE).lines
        assert first.rows == tuple(name.split())
        roles.append(role.box.low)
    assert (max(roles) - min(roles) < 1e-9) == (stacking == "baseline")


def test_two_rows_break_after_hyphens_too(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}", "lines": 2})
    (line,) = compose(layout, blank, guest_named("HHHHHHHHH-HHHHHHHHH"), {}, HERE).lines
    assert line.rows == ("HHHHHHHHH-", "HHHHHHHHH")


def test_what_does_not_fit_says_what_would(blank: Blank, layout_of: LayoutOf) -> None:
    name = "HHHHHH HHHHHH HHHHHH"
    layout = layout_of({"text": "{name}", "letter_height": {"max": "14 mm", "min": "9 mm"}})
    (line,) = compose(layout, blank, guest_named(name), {}, HERE).lines
    assert not line.fits
    # As it is: 18 capitals, 2 blanks: 17 * 600 + 500 + 2 * 300 = 11300: 100 / 11300 * 700 = 6.19.
    assert line.fitting_height == 6.19
    assert line.letter_height == 9  # drawn at the least, running past the face
    assert line.box.width > 100
    ways = {way.words: way.letter_height for way in line.ways_out}
    # Two rows: "HHHHHH HHHHHH" is 11 * 600 + 500 + 300 = 7400: 9.459.
    assert ways["on two lines"] == 9.45
    # Without the middle name: the same text.
    assert ways["without the middle name"] == 9.45
    # "H. HHHHHH": H 600, period 200, blank 300, then 5 * 600 + 550, less 50 of room: 4600.
    assert ways["with an initial"] == 14


def test_hand_and_side_turn_the_face(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}"})

    def centre(**keys: str) -> float:
        hand = Hand(keys.pop("hand", "right"))
        return compose(layout, blank, guest_named("HH", hand=hand, **keys), {}, HERE).face.centre

    assert centre() == 225
    assert centre(hand="left") == 75
    assert centre(side="onlookers") == 75
    assert centre(side="onlookers", hand="left") == 225
    assert centre(side="opposite") == 150


def test_text_of_a_cell_is_never_a_template(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name} {{x}}"})
    (line,) = compose(
        layout, blank, guest_named("{order.title}"), {"order.title": "HH"}, HERE
    ).lines
    assert line.text == "{order.title} {x}"


def test_order_words_and_capitals(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{order.title} {first}", "case": "upper"})
    (line,) = compose(layout, blank, guest_named("zo hh"), {"order.title": "gala"}, HERE).lines
    assert line.text == "GALA ZO"


def test_unknown_fields_are_named_with_the_known_ones(layout_of: LayoutOf) -> None:
    with pytest.raises(
        InputError,
        match=r'^x: line 1: text: .* no field \{nmae\}\. Did you mean "name"\?',
    ):
        check_fields(layout_of({"text": "{nmae}"}), ("name",), "x")
    with pytest.raises(
        InputError, match=r"has no field \{role\}\. Known fields: name, order.title"
    ):
        check_fields(layout_of({"text": "{role}"}), ("name",), "x")


@pytest.mark.parametrize("text", ["{name", "{}", "{name!r}", "{name:>9}", "name}"])
def test_broken_templates_are_refused(layout_of: LayoutOf, text: str) -> None:
    with pytest.raises(InputError, match=r"line 1\.text: Found"):
        layout_of({"text": text})


def test_min_above_max_is_refused(layout_of: LayoutOf) -> None:
    with pytest.raises(InputError, match=r"line 1.letter_height: Found min 9 mm and max 8 mm"):
        layout_of({"text": "x", "letter_height": {"max": "8 mm", "min": "9 mm"}})


def test_at_least_five_layouts_are_ready() -> None:
    names = shelf("layouts")
    assert len(names) >= 5
    for name in names:
        layout = load(Layout, "layouts", name, HERE)
        check_fields(layout, ("name", "first", "last", "role"), name)
        assert layout.note


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    name=st.text("HAVxg É-", min_size=1, max_size=40).filter(str.strip),
    role=st.text("Hxg ", max_size=15),
    hand=st.sampled_from(Hand),
    face=st.sampled_from(["drinker", "onlookers", "opposite", "150"]),
)
def test_no_ink_of_a_line_that_fits_leaves_the_face(
    blank: Blank, layout_of: LayoutOf, name: str, role: str, hand: Hand, face: str
) -> None:
    layout = layout_of({"text": "{name}", "lines": 2}, {"text": "{role}", "gap": "3 mm"}, face=face)
    name, role = " ".join(name.split()), " ".join(role.split())
    composition = compose(layout, blank, guest_named(name, role, hand), {}, HERE)
    for line in composition.lines:
        if line.fits:
            assert line.box.left >= composition.face.left - 0.001
            assert line.box.right <= composition.face.right + 0.001
        if all(other.fits for other in composition.lines):
            assert line.box.low >= blank.band.from_ - 0.001
            assert line.box.high <= blank.band.to + 0.001


def test_a_layout_may_bring_a_face_that_is_none() -> None:
    with pytest.raises(InputError, match=r"face: Found .front.\. A face is drinker"):
        validated(
            Layout,
            {"name": "x", "face": "front", "line": [
                {"text": "x", "font": "y", "letter_height": {"max": 3, "min": 2}}]},
            "test",
        )  # fmt: skip
