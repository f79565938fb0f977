"""What the beam can do and an eye can read: findings with their numbers."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path

import pytest
from conftest import FINE_BEAM, LayoutOf, guest_named

from mailmerge.artwork import Composition, Layout, compose
from mailmerge.blanks import Blank
from mailmerge.checks.beam import (
    LEAST_SMALL_LETTER,
    check_beam,
    check_close_letters,
    close_letters,
)
from mailmerge.findings import Finding, Severity
from mailmerge.lettering import narrow
from mailmerge.machines import Machine
from mailmerge.shelves import load, shelf

HERE = Path()


def made(layout: Layout, blank: Blank, name: str) -> Composition:
    return compose(layout, blank, guest_named(name), {}, HERE)


def found(composition: Composition, spot: float) -> dict[str, Finding]:
    return {f.code: f for f in check_beam(composition, machine_with(spot))}


def machine_with(spot: float) -> Machine:
    return FINE_BEAM.model_copy(update={"spot": spot})


def script(layout_of: LayoutOf, height: float = 10, **keys: object) -> Layout:
    return layout_of(
        {"text": "{name}", "font": "Great Vibes", "letter_height": {"max": height, "min": 2}} | keys
    )


def test_strokes_are_compared_with_the_spot(blank: Blank, layout_of: LayoutOf) -> None:
    composition = made(script(layout_of), blank, "Nora")
    stroke = composition.lines[0].stroke
    assert stroke is not None
    # The same width as the whole outline, measured directly in mm.
    direct = narrow(composition.lines[0].outline, 10).strokes[0].width
    assert stroke.width == pytest.approx(direct, abs=0.02)
    finer = found(composition, stroke.width + 0.02)
    assert str(finer["stroke-too-fine"].severity) == "stop"
    assert f"It is in the {stroke.letters}." in finer["stroke-too-fine"].message
    assert ", finer than the beam's spot of" in finer["stroke-too-fine"].message
    fine = found(composition, stroke.width / 1.5)["stroke-fine"]
    assert str(fine.severity) == "warning"
    assert ", less than two spots of" in fine.message
    assert not {"stroke-fine", "stroke-too-fine"} & set(found(composition, stroke.width / 2.2))


@pytest.mark.parametrize(
    ("font", "letters", "code"),
    [
        # A thin bridge holds the letters of a script together; other letters may part again.
        ("Great Vibes", "sk", "stroke-too-fine"),
        ("Great Vibes", "s", "stroke-too-fine"),
        ("Lora", "sk", "stroke-fine"),
        ("Lora", "s", "stroke-too-fine"),
    ],
)
def test_a_bridge_between_two_letters_matters_where_they_connect(
    blank: Blank, layout_of: LayoutOf, font: str, letters: str, code: str
) -> None:
    composition = made(script(layout_of, font=font), blank, "Nora")
    (line,) = composition.lines
    assert line.stroke is not None
    bridge = line.stroke._replace(width=0.09, letters=letters)
    line = replace(line, stroke=bridge, gap=None)
    assert set(found(replace(composition, lines=(line,)), 0.1)) == {code}


def test_the_advice_says_which_value_of_strengthen_would_do(
    blank: Blank, layout_of: LayoutOf
) -> None:
    spot = 0.15
    before = made(script(layout_of), blank, "Nora")
    advice = (
        found(before, spot).get("stroke-too-fine") or found(before, spot)["stroke-fine"]
    ).advice
    value = re.search(r'strengthen = "([0-9.]+) mm"', advice)
    left = re.search(r"narrowest gap is then ([0-9.]+) mm wide", advice)
    assert value, advice
    assert left, advice
    after = made(script(layout_of, strengthen=f"{value[1]} mm"), blank, "Nora").lines[0]
    assert after.sound
    assert after.stroke is not None
    assert after.gap is not None
    assert after.stroke.width == pytest.approx(2 * spot, abs=0.011)
    assert after.gap.width == pytest.approx(float(left[1]), abs=0.011)
    # And so it is on the outline that is engraved.
    engraved = narrow(after.outline, 10)
    assert engraved.strokes[0].width >= 2 * spot - 0.03
    assert engraved.gaps[0].width == pytest.approx(after.gap.width, abs=0.02)
    # A hundredth less would not do.
    less = made(script(layout_of, strengthen=f"{float(value[1]) - 0.02} mm"), blank, "Nora").lines[
        0
    ]
    assert less.stroke is not None
    assert less.stroke.width < 2 * spot


def test_a_counter_that_fills_in_is_named_by_its_letter(blank: Blank, layout_of: LayoutOf) -> None:
    """The small eyes of Dancing Script's q at 6 mm: under a spot of 0.1 mm."""
    layout = script(layout_of, 6, font="Dancing Script")
    finding = found(made(layout, blank, "Lindq"), 0.1)["gap-too-fine"]
    assert str(finding.severity) == "stop"
    assert " It is in the q. " in finding.message
    assert finding.message.endswith("It will fill in.")


def test_letters_of_a_script_that_nearly_touch_are_a_look(
    blank: Blank, layout_of: LayoutOf
) -> None:
    composition = made(script(layout_of), blank, "Oskar")
    assert not any(code.startswith("gap") for code in found(composition, 0.1))
    (line,) = composition.lines
    assert close_letters(line, machine_with(0.1)) == ("sk",)
    assert close_letters(line, machine_with(0.001)) == ()


@pytest.mark.parametrize(
    ("name", "code"),
    # 10 units between two letters: 0.143 mm at 10 mm. Under a spot, and under two.
    [("Arno", "gap-too-fine"), ("Clvvo", "gap-too-fine"), ("Aryo", None), ("Ayya", None)],
)
def test_letters_that_touch_are_a_fault_only_where_they_make_another_one(
    blank: Blank, layout_of: LayoutOf, name: str, code: str | None
) -> None:
    size = {"max": "10 mm", "min": "10 mm"}
    layout = layout_of({"text": "{name}", "letter_height": size, "tracking": -90})
    composition = made(layout, blank, name)
    (line,) = composition.lines
    gaps = {code for code in found(composition, 0.15) if code.startswith("gap")}
    assert gaps == ({code} if code else set())
    assert {c for c in found(composition, 0.1) if c.startswith("gap")} == (
        {"gap-fine"} if code else set()
    )
    assert line.between is not None
    assert line.between.width == pytest.approx(10 / 700 * 10, abs=0.001)
    assert [len(place) for place in close_letters(line, machine_with(0.15))] == [2]


def test_a_fine_gap_in_a_letter_is_a_look_and_one_that_fills_in_is_a_fault(
    blank: Blank, layout_of: LayoutOf
) -> None:
    composition = made(script(layout_of), blank, "Kay")
    (line,) = composition.lines
    assert line.gap is not None
    (letter,) = line.gap.letters
    fine, too_fine = line.gap.width / 1.5, line.gap.width * 1.2
    assert letter in close_letters(line, machine_with(fine))
    assert not any(code.startswith("gap") for code in found(composition, fine))
    assert found(composition, too_fine)["gap-too-fine"].severity is Severity.STOP


def test_close_letters_are_said_once_an_order() -> None:
    (finding,) = check_close_letters(["yy", "K", "ry", "yy"])
    assert str(finding.severity) == "note"
    assert "r and y, y and y, the K." in finding.message
    assert not [*check_close_letters([])]


def test_strengthening_that_closes_a_counter_is_a_stop(blank: Blank, layout_of: LayoutOf) -> None:
    layout = script(layout_of, 8, strengthen="0.2 mm")
    finding = found(made(layout, blank, "Nora"), 0.1)["gap-too-fine"]
    assert str(finding.severity) == "stop"
    assert finding.message.count(" 0 mm wide") == 1
    assert "less strengthening" in finding.advice


def test_strengthened_lettering_still_fits_its_face(blank: Blank, layout_of: LayoutOf) -> None:
    layout = script(layout_of, 40, strengthen="0.3 mm")
    composition = made(layout, blank, "Wilhelmina Ek")
    line = composition.lines[0]
    assert line.box.left >= composition.face.left - 0.002
    assert line.box.right <= composition.face.right + 0.002
    assert line.box.width == pytest.approx(100, abs=0.05)


def test_small_letters_are_compared_with_what_is_read_at_arms_length(
    blank: Blank, layout_of: LayoutOf
) -> None:
    """16 minutes of arc at 500 mm, ISO 9241-303 and ANSI/HFES 100 (from memory): 2.3 mm."""
    assert round(LEAST_SMALL_LETTER, 1) == 2.3
    assert pytest.approx(500 * math.tan(math.radians(16 / 60))) == LEAST_SMALL_LETTER
    # In the box font small letters are 5/7 of the capitals: 3 mm give 2.14 mm, 3.3 mm 2.36 mm.
    small = found(made(layout_of({"text": "{name}", "letter_height": {"max": 3, "min": 2}}),
                       blank, "Hxx"), 0.01)["hard-to-read"]  # fmt: skip
    assert "2.14 mm high" in small.message
    assert "15 minutes of arc" in small.message
    assert "Take a letter height of 3.3 mm, or capitals." in small.advice
    for text, height in (("Hxx", 3.3), ("HHH", 3)):
        layout = layout_of({"text": "{name}", "letter_height": {"max": height, "min": 2}})
        assert "hard-to-read" not in found(made(layout, blank, text), 0.01)


def test_an_ornament_that_is_drawn_too_small_is_said(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}"},
        ornament=[{"drawing": "laurel", "line": 1, "width": "5 mm", "height": "5 mm"}],
    )
    finding = found(made(layout, blank, "HH"), 0.15)["stroke-too-fine"]
    assert 'The ornament "laurel" has a stroke of 0.1 mm' in finding.message


@pytest.mark.parametrize("name", shelf("layouts"))
def test_the_librarys_layouts_suit_the_librarys_machines(name: str) -> None:
    """On the largest blank, with a name that every font holds, nothing has to be stopped."""
    layout = load(Layout, "layouts", name, HERE)
    blank = load(Blank, "blanks", "handled-tumbler-40oz", HERE)
    machine = load(Machine, "machines", "diode-rotary", HERE)
    words = {"order.title": "Winter gala", "order.subtitle": "12 December", "order.due": ""}
    composition = compose(layout, blank, guest_named("Hanna Berg", "Cello"), words, HERE)
    assert [f.message for f in check_beam(composition, machine) if f.code != "gap-fine"] == []
    assert all(line.fits and line.sound for line in composition.lines)


@pytest.mark.parametrize("rim", ["0.4 mm", "0.6 mm", "1 mm", "1.5 mm"])
def test_letters_that_strengthening_fills_in_are_stopped(
    blank: Blank, layout_of: LayoutOf, rim: str
) -> None:
    layout = script(layout_of, 5, font="Lora", strengthen=rim)
    assert str(found(made(layout, blank, "Bea Gee"), 0.1)["gap-too-fine"].severity) == "stop"


def test_the_same_ornament_in_two_sizes_is_checked_in_both(
    blank: Blank, layout_of: LayoutOf
) -> None:
    small = {"drawing": "laurel", "line": 1, "width": "4 mm", "height": "4 mm"}
    large = small | {"width": "40 mm", "height": "20 mm", "place": "below"}
    for both in ([small, large], [large, small]):
        layout = layout_of({"text": "{name}"}, ornament=both)
        assert "stroke-too-fine" in found(made(layout, blank, "HH"), 0.1)


def test_on_an_arc_the_place_is_named_by_its_letters(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "font": "Lora", "arc": {"radius": "40 mm"},
         "letter_height": {"max": 5, "min": 2}}
    )  # fmt: skip
    stroke = made(layout, blank, "Bea Gee").lines[0].stroke
    assert stroke is not None
    assert 1 <= len(stroke.letters) <= 2
