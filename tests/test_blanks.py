from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from mailmerge.blanks import Blank, angle_of, face_of
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.shelves import load, shelf, validated

PLAIN = {
    "name": "Cup",
    "height": 100,
    "band": {"from": 10, "to": 90},
    "coat": [{"name": "black", "colour": "#000000"}],
}


def cup(**keys: object) -> Blank:
    return validated(Blank, PLAIN | keys, "cup.toml")


def test_circumference_and_diameter_come_from_each_other() -> None:
    # Any handbook of mathematical tables: C = pi d.
    assert cup(diameter=100).circumference == pytest.approx(314.159265, abs=1e-6)
    assert cup(circumference="12 3/8 in").diameter == pytest.approx(100.0528, abs=1e-4)


def test_both_may_be_given_if_they_agree_to_a_percent() -> None:
    assert cup(circumference=314, diameter=100).circumference == 314
    with pytest.raises(InputError, match=r"contradict each other\..*314\.2 mm\. Found 318 mm"):
        cup(circumference=318, diameter=100)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"circumference": 0}, "circumference: Found 0 mm. Give a length above 0"),
        ({"circumference": "-3 in"}, "circumference: Found -76.2 mm. Give a length above 0"),
        (
            {"circumference": "12 3/0 in"},
            "circumference: Found .*A fraction cannot have 0 below its line",
        ),
        ({"circumference": "12,5 in"}, "circumference: .*decimal comma"),
        ({"diameter": "wide"}, "diameter: Found .wide.. Give a length"),
        ({"circumference": 2001}, "circumference: Found 2001 mm. The most is 2000 mm"),
        ({"diameter": 80, "height": 2001}, "height: Found 2001 mm. The most is 2000 mm"),
        ({}, 'The key "circumference" is missing'),
        (
            {"diameter": 80, "handle": {"width": 90}},
            "handle.width: Found 90 mm. A handle is narrower",
        ),
        (
            {"diameter": 80, "handle": {"width": 40, "clearance": 120}},
            "handle.clearance: Found 120 mm, which leaves nothing",
        ),
        ({"diameter": 80, "band": {"from": 50, "to": 20}}, "band: Found from 50 to 20 mm"),
        (
            {"diameter": 80, "band": {"from": 50, "to": 120}},
            "band: Found from 50 to 120 mm\\. .* within the height of 100 mm",
        ),
        ({"diameter": 80, "coat": []}, "coat: "),
        (
            {"diameter": 80, "coat": [{"name": "x", "colour": "red"}]},
            "coat 1.colour: Found .red.\\. A colour is",
        ),
        ({"diametre": 80}, r'Found the unknown key "diametre"\. Did you mean "diameter"\?'),
    ],
)
def test_a_wrong_measure_names_its_key(keys: dict[str, object], says: str) -> None:
    with pytest.raises(InputError, match=rf"^cup\.toml: {says}"):
        cup(**keys)


def test_faces_are_where_the_hand_puts_them() -> None:
    assert angle_of("drinker", Hand.RIGHT) == 270
    assert angle_of("drinker", Hand.LEFT) == 90
    assert angle_of("onlookers", Hand.RIGHT) == 90
    assert angle_of("onlookers", Hand.LEFT) == 270
    assert angle_of("opposite", Hand.LEFT) == angle_of("opposite", Hand.RIGHT) == 180
    assert angle_of("200°", Hand.RIGHT) == 200
    assert angle_of(200, Hand.LEFT) == angle_of("200", Hand.LEFT) == 200
    assert angle_of("135", Hand.LEFT) == 135
    with pytest.raises(ValueError, match=r"^Found .front.\. A face is drinker, onlookers"):
        angle_of("front", Hand.RIGHT)


def test_usable_width_is_twice_the_way_to_the_handle_zone_or_the_visible_arc() -> None:
    blank = cup(circumference=300, handle={"width": 30, "clearance": 10})
    # Handle zone to 15 + 10 = 25 mm on each side of s = 0.
    assert face_of(blank, 90, 180).usable_width == 2 * (75 - 25)
    assert face_of(blank, 270, 180).centre == 225
    assert face_of(blank, 270, 180).usable_width == 2 * (75 - 25)
    assert face_of(blank, 180, 120).usable_width == 300 / 3
    assert face_of(blank, 20, 120).usable_width == 0  # 16.7 mm off: on the handle


@given(
    circumference=st.floats(100, 500),
    handle=st.floats(0, 25),
    clearance=st.floats(0, 15),
    angle=st.floats(0, 359.9),
    visible=st.floats(1, 180),
)
def test_a_face_never_reaches_into_the_handle_zone_or_out_of_sight(
    circumference: float, handle: float, clearance: float, angle: float, visible: float
) -> None:
    blank = cup(circumference=circumference, handle={"width": handle, "clearance": clearance})
    face = face_of(blank, angle, visible)
    if face.usable_width > 0:
        edge = handle / 2 + clearance
        assert face.left >= edge - 1e-9
        assert face.right <= circumference - edge + 1e-9
        # At the face's edge a letter is turned by half the visible angle at most.
        assert face.usable_width / blank.radius_at(0) / 2 <= math.radians(visible) / 2 + 1e-9


def test_the_library_has_six_generic_blanks_that_ask_to_be_measured() -> None:
    names = shelf("blanks")
    assert len(names) >= 6
    for name in names:
        blank = load(Blank, "blanks", name, Path())
        assert "measure your own" in blank.note
        assert face_of(blank, 270, 120).usable_width > (50 if blank.is_flat else 60)
