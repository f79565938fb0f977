"""How a cup lies on a machine: the page's place and turn, and what the machine cannot do."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from conftest import LayoutOf, guest_named

from mailmerge.artwork import compose
from mailmerge.blanks import Blank
from mailmerge.checks import check_item
from mailmerge.findings import InputError
from mailmerge.machines import Loading, Machine, load_on
from mailmerge.proofs import Load, steps_of
from mailmerge.shelves import load, shelf, validated

HERE = Path()


def machine(**keys: Any) -> Machine:
    """Return a machine that holds the test blank: 300 mm around, 100 high."""
    rotary = {
        "drive": "chuck", "mouth": "left", "datum": "front", "largest_diameter": 120,
        "length": 200, "under_head": 100, "clearance": 10,
    }  # fmt: skip
    plain = {"name": "M", "spot": 0.01, "bed": {"width": 400, "depth": 400}}
    top = {key: value for key, value in keys.items() if key in ("bed", "spot")}
    own = {key: value for key, value in keys.items() if key not in top}
    return validated(Machine, plain | top | {"rotary": rotary | own}, "machine.toml")


def found(
    blank: Blank, layout_of: LayoutOf, on: Machine, name: str = "HH", **layout: object
) -> dict[str, str]:
    """Return the codes and messages of the findings about an item on a machine."""
    guest = guest_named(name)
    made = compose(layout_of({"text": "{name}"}, **layout), blank, guest, {}, HERE)
    loading = load_on(blank, on, None, made.span()[::2])
    findings = check_item(guest, made, blank, on, loading, frozenset({"name"}), ())
    return {finding.code: finding.message for finding in findings}


def bracket(blank: Blank, stands_out: float | None) -> Blank:
    handle = blank.handle.model_copy(update={"stands_out": stands_out})
    return blank.model_copy(update={"handle": handle})


def tapered(base: float, top: float) -> Blank:
    """Return a cup 100 mm high without a handle, whose circumferences are those of its two ends."""
    plain = {
        "name": "Cone", "height": 100, "band": {"from": 20, "to": 80},
        "taper": {"base": base, "top": top, "distance": 100},
        "coat": [{"name": "black", "colour": "#101010"}],
    }  # fmt: skip
    return validated(Blank, plain, "cone.toml")


# The page, by head: 300 mm around, 100 high; s = 225 is the right-handed drinker's face.
# Mouth to the left: what is up at the start with the handle to the front is a quarter on, s = 75.


@pytest.mark.parametrize(
    ("mouth", "datum", "up", "face_at"),
    [
        # x runs from the mouth to the base, y away from the operator is minus: 225 - 75 = 150.
        ("left", "front", 75, (0, -150)),
        ("left", "back", 225, (0, 0)),
        ("left", "up", 300, (0, 75)),  # back over the seam is shorter: 300 - 225 toward you
        # x runs from the mouth at 0 to the base at -100, y toward the operator.
        ("right", "front", 225, (0, 0)),
        ("right", "back", 75, (0, 150)),
        # The upright page: x to the right.
        ("away", "left", 75, (150, 0)),
        ("away", "right", 225, (0, 0)),
        # Half a turn: x to the left.
        ("toward", "right", 75, (-150, 0)),
        ("toward", "left", 225, (0, 0)),
    ],
)
def test_the_page_is_turned_as_the_cup_lies(
    blank: Blank, mouth: str, datum: str, up: float, face_at: tuple[float, float]
) -> None:
    loading = load_on(blank, machine(mouth=mouth, datum=datum), None, (200, 250))
    assert loading.page.datum == up
    a, b, c, d = loading.page.turn
    assert a * d - b * c == 1  # turned, never mirrored
    assert (a * (225 - up), c * (225 - up)) == face_at
    assert (b, d) == {"left": (1, 0), "right": (-1, 0), "away": (0, 1), "toward": (0, -1)}[mouth]
    width, height = loading.page.size
    assert (width, height) == ((300, 100) if mouth in ("away", "toward") else (100, 300))
    # The mouth is at one of the page's edges, and up, from its seam, lies as far as the turn says.
    x, y = loading.page.start
    assert (x, y) == {
        "away": (up, 0), "toward": (300 - up, 100), "left": (0, 300 - up), "right": (100, up),
    }[mouth]  # fmt: skip


def test_only_a_rotary_that_runs_backwards_is_mirrored(blank: Blank) -> None:
    for mouth in ("left", "right", "away", "toward"):
        a, b, c, d = load_on(blank, machine(mouth=mouth, datum="up", backwards=True)).page.turn
        assert a * d - b * c == -1
        plain = load_on(blank, machine(mouth=mouth, datum="up")).page.turn
        assert (b, d) == (plain[1], plain[3])  # mouth and base stay where they are


@pytest.mark.parametrize(
    ("mouth", "datum", "turn", "words"),
    [
        ("left", "front", 180, "toward you"),
        ("left", "up", -90, "away from you"),
        ("right", "back", 180, "away from you"),
        ("right", "up", -90, "toward you"),
        ("away", "left", 180, "to the left"),
        ("toward", "right", 180, "to the right"),
    ],
)
def test_which_way_the_top_goes(
    blank: Blank, mouth: str, datum: str, turn: float, words: str
) -> None:
    loading = load_on(blank, machine(mouth=mouth, datum=datum), None, (200, 250))
    assert loading.turn_to(225) == turn
    assert loading.words_for(turn) == words


def test_a_start_at_the_handle_goes_the_shorter_way(blank: Blank) -> None:
    on = machine(datum="up")
    assert load_on(blank, on, None, (50, 100)).turn_to(75) == 90
    assert load_on(blank, on, None, (200, 250)).turn_to(225) == -90


def test_a_tick_is_told_in_millimetres_of_the_tape(blank: Blank) -> None:
    on = machine(datum="tick", tick=180)
    loading = load_on(blank, on, None, (200, 250))
    assert (loading.tick_at, loading.mark, loading.turn_to(225)) == (150, "tick", 90)
    from mailmerge.blanks import face_of

    steps = " ".join(
        steps_of(Load(blank, blank.coat[0], loading, "M", (face_of(blank, 270, 120),)))
    )
    assert "Draw a pencil tick at the mouth's edge, 150 mm around from the handle's middle" in steps
    # The face is 90 degrees off and 120 wide, 100 mm, of which 15 degrees are the handle zone.
    assert "In all, the cup turns up to 150° with its top going toward you." in steps


def test_the_orders_own_mark_wins(blank: Blank) -> None:
    assert load_on(blank, machine(datum="front"), "back", (200, 250)).turn_to(225) == 0


def test_a_mark_along_the_axis_is_refused() -> None:
    with pytest.raises(
        InputError,
        match=r"rotary: Found datum .left.\. With mouth .left. .* Enter up, front, back or tick",
    ):
        machine(datum="left")
    with pytest.raises(InputError, match=r"With mouth .away. .* Enter up, left, right or tick"):
        machine(mouth="away", datum="front")


def test_a_handle_under_the_head_at_the_start(blank: Blank, layout_of: LayoutOf) -> None:
    up = machine(datum="up", clearance=10)
    assert "handle-not-measured" in found(blank, layout_of, up)
    assert (
        not {"handle-under-head", "handle-not-measured"}
        & found(bracket(blank, 9.9), layout_of, up).keys()
    )
    message = found(bracket(blank, 10.1), layout_of, up)["handle-under-head"]
    assert "stands out by 10.1 mm, but the head clears only 10 mm, and both ways to" in message
    assert not found(bracket(blank, 60), layout_of, machine(datum="front")).keys()
    # A tick beside the handle is no better than the handle: the zone reaches 25 mm, 30 degrees.
    beside = machine(datum="tick", tick=29.95)
    assert "handle-under-head" in found(bracket(blank, 60), layout_of, beside)
    assert not found(bracket(blank, 60), layout_of, machine(datum="tick", tick=30.05)).keys()
    # And as far on its other side.
    beside = machine(datum="tick", tick=330.05)
    assert "handle-under-head" in found(bracket(blank, 60), layout_of, beside)
    beside = machine(datum="tick", tick=329.95)
    assert not found(bracket(blank, 60), layout_of, beside).keys()


@pytest.mark.parametrize(
    ("keys", "code", "says"),
    [
        # 300 mm around are 95.49 across.
        ({"largest_diameter": 95}, "cup-too-wide", "95.5 mm across .* takes at most 95 mm"),
        ({"smallest_diameter": 96}, "cup-too-narrow", "95.5 mm across .* takes at least 96 mm"),
        ({"length": 99}, "cup-too-long", "wall is 100 mm long, but the rotary takes at most 99 mm"),
        # 95.49 / 2 + 10 from the axis; 95.49 + 10 from the top of the rollers.
        (
            {"under_head": 57},
            "cup-too-high",
            "needs 57.7 mm from the chuck's axis .* are only 57 mm",
        ),
        (
            {"under_head": 105, "drive": "roller"},
            "cup-too-high",
            "needs 105.5 mm from the rollers .* are only 105 mm",
        ),
        # HH is 22 mm wide at s = 225: 161 mm from the mark at s = 75.
        ({"bed": {"width": 400, "depth": 160}}, "off-the-bed", "161 mm from front to back"),
        # The band's middle is 50 mm from the mouth, the letters 14 mm high.
        ({"bed": {"width": 56, "depth": 400}}, "off-the-bed", "reaches 57 mm from left to right"),
        # And as far to the other side of the mark.
        (
            {"mouth": "right", "bed": {"width": 56, "depth": 400}},
            "off-the-bed",
            "reaches 57 mm from left to right",
        ),
        (
            {"mouth": "right", "datum": "back", "bed": {"width": 400, "depth": 160}},
            "off-the-bed",
            "161 mm from front to back",
        ),
    ],
)  # fmt: skip
def test_what_the_machine_cannot_do_is_a_stop_with_the_numbers(
    blank: Blank, layout_of: LayoutOf, keys: dict[str, object], code: str, says: str
) -> None:
    import re

    at_limit = {
        "cup-too-wide": {"largest_diameter": 95.6}, "cup-too-narrow": {"smallest_diameter": 95.4},
        "cup-too-long": {"length": 100},
        "cup-too-high": {"under_head": 57.8 if "drive" not in keys else 105.6},
        "off-the-bed": {"bed": {"width": 57, "depth": 161}},
    }[code]  # fmt: skip
    got = found(blank, layout_of, machine(**keys))
    assert re.search(says, got[code]), got[code]
    assert code not in found(blank, layout_of, machine(**(keys | at_limit)))


@pytest.mark.parametrize("upside_down", [False, True])
@pytest.mark.parametrize(
    ("drive", "needed"),
    # 300 and 200 mm around are 95.49 and 63.66 across. From the axis half of the wide end and
    # 10 mm to focus, from the top of the rollers all of it: 57.7 and 105.5 mm.
    [("chuck", 57.75), ("roller", 105.5)],
)
def test_a_cone_needs_the_head_room_of_its_wide_end(
    layout_of: LayoutOf, drive: str, needed: float, upside_down: bool
) -> None:
    """The head would run into the wide end, whichever end that is."""
    ends = {"base": 300, "top": 200} if upside_down else {"base": 200, "top": 300}
    blank = tapered(**ends)
    low, high = (machine(drive=drive, under_head=needed + by) for by in (-0.1, 0.1))
    says = f"The cup needs {needed:.1f} mm from" if drive == "roller" else "The cup needs 57.7 mm"
    assert says in found(blank, layout_of, low)["cup-too-high"]
    assert "cup-too-high" not in found(blank, layout_of, high)


@pytest.mark.parametrize(
    ("limit", "code"),
    [("largest_diameter", "cup-too-wide"), ("smallest_diameter", "cup-too-narrow")],
)
def test_a_cone_is_held_by_both_of_its_ends(layout_of: LayoutOf, limit: str, code: str) -> None:
    """63.66 mm across at one end and 95.49 at the other: a rotary must take both."""
    stop, works = {"largest_diameter": (95, 96), "smallest_diameter": (64, 63)}[limit]
    assert code in found(tapered(200, 300), layout_of, machine(**{limit: stop}))
    assert code not in found(tapered(200, 300), layout_of, machine(**{limit: works}))


def test_a_tapered_cup_on_rollers_is_a_warning(layout_of: LayoutOf) -> None:
    blank = load(Blank, "blanks", "tapered-tumbler-30oz", HERE)
    rollers = machine(drive="roller", under_head=200)
    assert "walks on rollers" in found(blank, layout_of, rollers)["taper-on-rollers"]
    assert "taper-on-rollers" not in found(blank, layout_of, machine())
    straight = load(Blank, "blanks", "bottle-25oz", HERE)
    assert "taper-on-rollers" not in found(straight, layout_of, rollers)


def test_flat_goods_and_round_ones_want_their_machine(blank: Blank, layout_of: LayoutOf) -> None:
    coaster = load(Blank, "blanks", "coaster-100mm", HERE)
    flatbed = load(Machine, "machines", "flatbed", HERE)
    assert not found(coaster, layout_of, flatbed)
    assert "no rotary" in found(blank, layout_of, flatbed)["no-rotary"]
    lying = load_on(coaster, flatbed)
    assert (lying.mark, lying.mark_at, lying.start, lying.tilt) == ("corner", 0, 0, 0)
    assert lying.page.size == (coaster.page_width, coaster.height)
    assert lying.page.start == (0, 0)
    small = flatbed.model_copy(update={"bed": machine(bed={"width": 99, "depth": 99}).bed})
    assert "100 mm by 100 mm, but the bed" in found(coaster, layout_of, small)["too-large-for-bed"]


def test_handles_and_rollers(blank: Blank, layout_of: LayoutOf) -> None:
    rollers = machine(drive="roller", under_head=200)
    assert "handle-on-rollers" in found(bracket(blank, 5), layout_of, rollers)
    assert "handle-on-rollers" not in found(bracket(blank, 5), layout_of, machine())
    assert "handle-on-rollers" not in found(bracket(blank, 0), layout_of, rollers)
    assert (
        "was not measured" in found(bracket(blank, None), layout_of, rollers)["handle-on-rollers"]
    )
    bare = blank.model_copy(update={"handle": type(blank.handle)()})
    assert "handle-on-rollers" not in found(bare, layout_of, rollers)


@pytest.mark.parametrize(("wide", "deep"), [(99, 101), (101, 99)])
def test_flat_goods_must_lie_on_the_bed_both_ways(
    layout_of: LayoutOf, wide: float, deep: float
) -> None:
    coaster = load(Blank, "blanks", "coaster-100mm", HERE)
    flatbed = load(Machine, "machines", "flatbed", HERE)
    bed = machine(bed={"width": wide, "depth": deep}).bed
    small = flatbed.model_copy(update={"bed": bed})
    assert "too-large-for-bed" in found(coaster, layout_of, small)


def test_the_run_up_is_that_of_kinematics() -> None:
    """v^2 / (2 a), any physics textbook: 300 mm/s at 1000 mm/s2 take 45 mm."""
    diode = load(Machine, "machines", "diode-rotary", HERE)
    assert (diode.speed, diode.acceleration) == (300, 1000)
    assert diode.run_up == 45
    for speed in ("fast", 10**400, float("inf"), -1, True, "1e9", "9" * 400):
        with pytest.raises(
            InputError, match=r"speed: Found .*\. Give a number from 0.001 to below a million"
        ):
            validated(Machine, {"name": "x", "spot": 1, "bed": {}, "speed": speed}, "m.toml")


def test_the_library_has_machines_of_every_kind() -> None:
    machines = [load(Machine, "machines", name, HERE) for name in shelf("machines")]
    rotaries = [each.rotary for each in machines if each.rotary]
    assert {rotary.drive for rotary in rotaries} == {"chuck", "roller"}
    assert {rotary.mouth for rotary in rotaries} == {"left", "right", "away", "toward"}
    assert {rotary.backwards for rotary in rotaries} == {True, False}
    assert any(each.rotary is None for each in machines)
    assert all("own machine's manual" in each.note for each in machines)


def test_the_steps_name_the_tilt_and_the_circumference_to_set() -> None:
    blank = load(Blank, "blanks", "wide-base-mug-14oz", HERE)
    from mailmerge.blanks import face_of

    loading: Loading = load_on(blank, machine(), None, (100, 200))
    steps = " ".join(
        steps_of(Load(blank, blank.coat[0], loading, "M", (face_of(blank, 180, 120),)))
    )
    # C runs from 325 at 8 mm to 247 at 92 mm; the band's middle is at 51 mm.
    around = 325 - 78 * (51 - 8) / 84
    lean = math.degrees(math.asin(78 / 84 / (2 * math.pi)))
    assert f"Set the rotary to {around:.2f} mm around, or {around / math.pi:.2f} mm across" in steps
    assert f"Tilt the rotary by {lean:.1f}°, the base end lower" in steps
