"""Zones: what is not engraved on a wall, wherever it lies and however high it is."""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import Any

import pytest
from conftest import LayoutOf, found_in, guest_named
from hypothesis import given, strategies as st

from mailmerge.artwork import Composition, Layout, compose
from mailmerge.blanks import Blank, angle_of, closes, face_of, free_arcs
from mailmerge.checks.loading import check_blank, check_turn
from mailmerge.findings import InputError, Severity
from mailmerge.guests import Hand
from mailmerge.lettering import Box
from mailmerge.machines import Machine, load_on
from mailmerge.shelves import load, shelf, validated

HERE = Path()


def cup(*zones: dict[str, Any], **keys: Any) -> Blank:
    """Return a cup of 360 mm around, so that a degree is a millimetre."""
    plain = {
        "name": "Cup",
        "circumference": 360,
        "height": 100,
        "band": {"from": 10, "to": 90},
        "coat": [{"name": "black", "colour": "#101010"}],
        "zone": list(zones),
    }
    return validated(Blank, {**plain, **keys}, "cup.toml")


def mark(at: float, **keys: Any) -> dict[str, Any]:
    return {"kind": "mark", "at": at, "width": 20, "stands_out": 0, **keys}


MACHINE = validated(
    Machine,
    {
        "name": "M", "spot": 0.1, "bed": {"width": 400, "depth": 400},
        "rotary": {
            "drive": "chuck", "mouth": "left", "datum": "front", "largest_diameter": 150,
            "length": 300, "under_head": 200, "clearance": 10,
        },
    },
    "machine.toml",
)  # fmt: skip


def test_a_handle_in_its_old_form_is_a_zone_at_zero() -> None:
    old = cup(handle={"width": 30, "clearance": 5, "comes_off": True, "stands_out": 4})
    new = cup({"kind": "handle", "width": 30, "clearance": 5, "comes_off": True, "stands_out": 4})
    assert old.zones == new.zones
    assert (old.zero, new.zero) == ("handle", "handle")
    assert [zone.edge for zone in old.zones] == [20]


def test_a_cup_without_a_handle_is_bounded_by_its_seam() -> None:
    blank = cup(handle={"clearance": 5})
    assert blank.zero == "seam"
    assert blank.handles == ()
    assert face_of(blank, 10, 120).usable_width == 10  # 10 mm to the seam, 5 of them kept free


@pytest.mark.parametrize(
    ("angle", "heights", "width"),
    [
        (150, (60, 90), 120),  # above the mark only the visible arc bounds it
        (150, (20, 50), 36),  # beside it: 30 mm to its middle, 10 + 2 of them its own
        (150, (43, 50), 120),  # above it and its clearance
        (150, (41, 50), 36),  # within its clearance
        (210, (20, 50), 36),  # on its other side
        (180, (20, 50), 0),  # on the mark
        (180, (60, 90), 120),  # above it
    ],
)
def test_a_face_keeps_clear_of_a_mark_at_its_heights(
    angle: float, heights: tuple[float, float], width: float
) -> None:
    blank = cup(mark(180, **{"from": 20, "to": 40, "clearance": 2}))
    assert face_of(blank, angle, 120, heights).usable_width == pytest.approx(width)


def test_a_face_between_two_ridges_up_the_wall_needs_a_blank_file_alone() -> None:
    """Two ridges right and left of the drinker's face; the lettering keeps between them."""
    ridges = [{"kind": "ridge", "width": 4, "clearance": 3, "stands_out": 2, "at": at}
              for at in (235, 305)]  # fmt: skip
    blank = cup(*ridges)
    face = face_of(blank, angle_of("drinker", Hand.RIGHT), 120)
    assert face.usable_width == pytest.approx(2 * (35 - 2 - 3))
    assert (face.left, face.right) == (pytest.approx(240), pytest.approx(300))


RIDGES = [{"kind": "ridge", "clearance": 2, "stands_out": 3, "from": low, "to": low + 5}
          for low in (20, 65)]  # fmt: skip
"""Two that go all around; between them the wall is free from 27 to 63 mm."""


def test_a_band_between_two_ridges_needs_a_blank_file_alone(layout_of: LayoutOf) -> None:
    """Without a width they go all around: lettering keeps between them, however large it may be."""
    blank = cup(*RIDGES, handle={"width": 20, "clearance": 5, "stands_out": 30})
    assert (blank.zero, face_of(blank, 270, 120).usable_width) == ("handle", 0)
    assert face_of(blank, 270, 120, (27, 63)).usable_width == 120
    size = {"letter_height": {"max": "70 mm", "min": "7 mm"}}
    made, codes = _checked(layout_of({"text": "{name}", **size}), blank)
    (line,) = made.lines
    assert not codes
    assert (line.box.low, line.box.high) == (
        pytest.approx(27, abs=0.01),
        pytest.approx(63, abs=0.01),
    )
    for height in ("24 mm", "68 mm"):
        _, codes = _checked(layout_of({"text": "{name}", "height": height, **CAPITAL}), blank)
        assert "lies on the ridge" in codes["face-on-handle"]
    # Nothing is free around the cup where a ridge is, and a ring between them closes at the seam.
    assert free_arcs(cup(*RIDGES), 20, 30, 0) == ()
    assert closes(cup(*RIDGES), 27, 63)


@pytest.mark.parametrize(("stands_out", "stopped"), [(10, False), (11, True)])
def test_a_ridge_all_around_is_under_the_head_from_every_mark(
    stands_out: float, stopped: bool
) -> None:
    blank = cup(RIDGES[0] | {"stands_out": stands_out})
    for datum in ("front", "back", "up"):
        loading = load_on(blank, MACHINE, datum, (240, 300))
        assert loading.mark == "seam"
        found = list(check_blank(blank, MACHINE, loading))
        assert [finding.code for finding in found] == ["handle-under-head"] * stopped


@given(
    st.lists(st.tuples(st.floats(1, 359), st.floats(1, 40)), min_size=1, max_size=4),
    st.booleans(),
)
def test_the_free_ways_around_meet_no_zone_and_stay_on_the_page(
    zones: list[tuple[float, float]], has_handle: bool
) -> None:
    """Against a walk along the page in steps of a tenth of a degree."""
    zones = list({at: (at, width) for at, width in zones}.values())
    handle = {"width": 26, "clearance": 4} if has_handle else {}
    blank = cup(*(mark(at, width=width) for at, width in zones), handle=handle)
    arcs = free_arcs(blank, 20, 80, 3)
    taken = [(0.0, 17.0 if has_handle else 3.0)]
    taken += [(at, width / 2) for at, width in zones]
    is_free = [
        all(min(abs(a - at), 360 - abs(a - at)) >= half for at, half in taken)
        for a in (step / 10 for step in range(3600))
    ]
    assert not closes(blank, 20, 80)
    assert sum(arc.length for arc in arcs) == pytest.approx(sum(is_free) / 10, abs=0.2 * 6)
    for arc, after in itertools.pairwise([*arcs, None]):
        left, right = arc.middle - arc.length / 2, arc.middle + arc.length / 2
        assert 0 <= left < right <= 360
        assert after is None or right <= after.middle - after.length / 2
        for place in (left + 1e-6, arc.middle, right - 1e-6):
            assert all(min(abs(place - at), 360 - abs(place - at)) > half - 0.01
                       for at, half in taken)  # fmt: skip


def test_what_goes_around_closes_where_no_zone_is_at_its_height() -> None:
    blank = cup(mark(180, **{"from": 20, "to": 40}), handle={"clearance": 5})
    assert closes(blank, 50, 80)
    assert not closes(blank, 30, 80)


WAVE = {"drawing": "wave", "height": "30 mm", "size": "6 mm"}
CAPITAL = {"letter_height": {"max": "7 mm", "min": "7 mm"}}
"""In the box font a capital is 5 mm wide then, and the next one starts after 6."""


@pytest.mark.parametrize("gap", [0, 4])
def test_a_border_fills_both_ways_between_two_handles(layout_of: LayoutOf, gap: float) -> None:
    """From 15 to 165 mm and from 195 to 345: as much of it before the drinker as before others."""
    handles = [{"kind": "handle", "width": 20, "clearance": 5, "at": at} for at in (0, 180)]
    layout = layout_of({"text": "{name}", "height": "70 mm"}, border=[WAVE | {"gap": gap}])
    (border,) = compose(layout, cup(*handles), guest_named("HH"), {}, HERE).ornaments
    boxes = sorted((piece.span.left, piece.span.right) for piece in border.pieces)
    near, far = boxes[: len(boxes) // 2], boxes[len(boxes) // 2 :]
    assert [(near[0][0], near[-1][1]), (far[0][0], far[-1][1])] == [
        (pytest.approx(15), pytest.approx(165)), (pytest.approx(195), pytest.approx(345)),
    ]  # fmt: skip
    # The wave is 24 by 10, 14.4 mm long at 6 mm: 10.4 of them, or (150 + 4) / 18.4 = 8.4 with gaps.
    assert len(near) == len(far) == (8 if gap else 11)


def test_nothing_goes_around_over_the_pages_end(layout_of: LayoutOf) -> None:
    """Opposite the seam lies a mark: the longest way leads over the seam, where the page ends."""
    blank = cup(mark(180, **{"from": 20, "to": 40, "clearance": 2}), handle={"clearance": 5})
    ring = {"text": "HHHHHHHHHH", "ring": {"height": "30 mm"}, **CAPITAL}
    repeat = {
        "text": "HHH",
        "ring": {"height": "30 mm", "repeat": True, "apart": "6 mm"},
        **CAPITAL,
    }
    for keys in ({}, {"border": [WAVE]}):
        for line in (ring, repeat):
            if keys:
                line = {"text": "{name}", "height": "70 mm"}
            made = compose(layout_of(line, **keys), blank, guest_named("HH"), {}, HERE)
            placed = made.ornaments or made.lines
            for piece in (piece for each in placed for piece in each.pieces):
                assert 0 <= piece.span.left < piece.span.right <= 360
                assert not (piece.span.right > 168 and piece.span.left < 192)
            if not keys:
                (only,) = made.lines
                # Ten letters in the middle of 5 to 168 mm; repeats of 17 mm, 6 apart, keep half of
                # that from the seam: (165 + 6) / 23 = 7.4 on either side.
                assert len(only.pieces) == (14 if line is repeat else 1)
                if line is ring:
                    assert (only.box.left + only.box.right) / 2 == pytest.approx((5 + 168) / 2)


def test_lines_stand_above_and_below_a_mark_on_their_face(layout_of: LayoutOf) -> None:
    blank = cup(mark(180, **{"from": 40, "to": 60}))
    lines = [{"text": "{name}", "height": z, **CAPITAL} for z in ("75 mm", "25 mm")]
    made, codes = _checked(layout_of(*lines, face="opposite"), blank)
    assert [line.letter_height for line in made.lines] == [7, 7]
    assert not codes


def test_a_line_on_a_mark_is_a_stop_that_names_it(layout_of: LayoutOf) -> None:
    """Not the handle, whose middle is as near: it does not reach so far."""
    zones = [{"kind": "handle", "width": 20}, mark(40, **{"from": 40, "to": 60, "width": 60})]
    line = {"text": "{name}", "height": "50 mm", **CAPITAL}
    for face in ("15", "40", "65"):
        _, codes = _checked(layout_of(line, face=face), cup(*zones))
        assert "lies on the maker's mark" in codes["face-on-handle"]
    _, codes = _checked(layout_of(line | {"height": "75 mm"}, face="40"), cup(*zones))
    assert not codes


@pytest.mark.parametrize(("edges", "middle"), [((5, 30), 60), ((70, 95), 40)])
def test_a_stack_stands_beside_a_mark_on_its_face(
    layout_of: LayoutOf, edges: tuple[float, float], middle: float
) -> None:
    """The band goes from 10 to 90 mm; of the rest the stack takes the middle, at any size."""
    blank = cup(mark(180, **{"from": edges[0], "to": edges[1]}))
    for most in ("14 mm", "80 mm"):
        size = {"letter_height": {"max": most, "min": "7 mm"}}
        made, codes = _checked(layout_of({"text": "{name}", **size}, face="opposite"), blank)
        (line,) = made.lines
        assert (line.box.low + line.box.high) / 2 == pytest.approx(middle)
        assert line.letter_height == (14 if most == "14 mm" else pytest.approx(60))
        assert not codes


@pytest.mark.parametrize(
    ("zone", "meets"),
    [
        (mark(286, **{"from": 40, "to": 60}), False),  # from 276 on; the ink ends at 275.5
        (mark(285, **{"from": 40, "to": 60}), True),
        (mark(254, **{"from": 40, "to": 60}), False),
        (mark(255, **{"from": 40, "to": 60}), True),
        (mark(270, **{"from": 54, "to": 60}), False),  # the ink reaches from 46.5 to 53.5
        (mark(270, **{"from": 53, "to": 60}), True),
        (mark(270, **{"from": 54, "to": 60, "clearance": 1}), True),
        (mark(270, **{"from": 40, "to": 46}), False),
        ({"kind": "ridge", "from": 53, "to": 60}, True),
        ({"kind": "ridge", "from": 54, "to": 60}, False),
    ],
)
def test_ink_in_a_zone_is_a_stop_whatever_its_face_says(
    layout_of: LayoutOf, zone: dict[str, Any], meets: bool
) -> None:
    """A name 11 mm wide at 270 degrees, which was set on a wall without the zone."""
    layout = layout_of({"text": "{name}", **CAPITAL})
    made = compose(layout, cup(), guest_named("HH"), {}, HERE)
    assert made.lines[0].box == pytest.approx((264.5, 46.5, 275.5, 53.5))
    found = found_in(guest_named("HH"), made, cup(zone), frozenset({"name"}))
    assert ("outside-face" in {finding.code for finding in found}) == meets


def test_what_is_too_long_beside_a_mark_is_told_with_the_room_that_is_there(
    layout_of: LayoutOf,
) -> None:
    blank = cup(*RIDGES)
    line = {"text": "{name}", "letter_height": {"max": "14 mm", "min": "12 mm"}, "lines": 3}
    _, codes = _checked_as("H" * 30, layout_of(line), blank)
    assert "The room for it is 120 mm wide and 36 mm high" in codes["name-too-long"]


def _checked(layout: Layout, blank: Blank) -> tuple[Composition, dict[str, str]]:
    return _checked_as("HH", layout, blank)


def _checked_as(name: str, layout: Layout, blank: Blank) -> tuple[Composition, dict[str, str]]:
    guest = guest_named(name)
    made = compose(layout, blank, guest, {}, HERE)
    found = found_in(guest, made, blank, frozenset({"name"}))
    return made, {finding.code: finding.message for finding in found}


TWO = [
    {"kind": "handle", "width": 20, "stands_out": 30},
    {"kind": "handle", "name": "second handle", "width": 20, "stands_out": 30, "at": 180},
]


@pytest.mark.parametrize(
    ("datum", "reach", "mark", "start"),
    [
        # The mouth lies to the left: with a mark to the front, a quarter further on is under the
        # head. From 90 degrees one may turn to 170 and back to 10, from 270 to 190 and 350.
        ("front", (60, 120), "handle", 90),
        ("front", (240, 300), "second handle", 270),
        ("back", (240, 300), "handle", 270),
        ("back", (60, 120), "second handle", 90),
        ("front", (10, 170), "handle", 90),
        ("front", (190, 350), "second handle", 270),
    ],
)
def test_the_job_starts_at_the_handle_from_which_none_passes(
    datum: Any, reach: tuple[float, float], mark: str, start: float
) -> None:
    blank = cup(*TWO)
    loading = load_on(blank, MACHINE, datum, reach)
    assert (loading.mark, loading.start) == (mark, start)
    assert loading.page.datum == start
    assert MACHINE.rotary is not None
    span = Box(reach[0], 20, reach[1], 80)
    assert list(check_turn(span, blank, MACHINE.rotary, loading)) == []


def test_a_second_handle_may_not_pass_under_the_head() -> None:
    """Both sides of a cup with two handles take two runs: from no mark can all be reached."""
    blank = cup(*TWO)
    rotary = MACHINE.rotary
    assert rotary is not None
    for reach in ((60, 300), (60, 171), (189, 350)):
        loading = load_on(blank, MACHINE, None, reach)
        found = list(check_turn(Box(reach[0], 20, reach[1], 80), blank, rotary, loading))
        if reach == (189, 350):
            assert loading.mark == "handle"  # the second one would not do either
        (finding,) = found
        assert (finding.code, finding.severity) == ("handle-under-head", Severity.STOP)
        assert "The second handle or its bracket at 180° passes under the" in finding.message
    low = cup(*(zone | {"stands_out": 10} for zone in TWO))
    loading = load_on(low, MACHINE, None, (60, 300))
    assert loading.mark == "handle"
    assert list(check_turn(Box(60, 20, 300, 80), low, rotary, loading)) == []


LOW = {"kind": "bracket", "width": 40, "from": 5, "to": 30, "stands_out": 30}
"""A bracket 40 mm wide near the foot; the lettering stands above it, at 60 to 80 mm."""


@pytest.mark.parametrize(
    ("at", "reach", "meets"),
    [
        (350, (1, 59), True),  # it goes on from 0 to 10 mm
        (350, (11, 59), False),
        (10, (301, 359), True),  # and here from 350 mm on
        (10, (301, 349), False),
        (0, (1, 59), True),  # above one at the zero a face begins at the seam
        (0, (21, 59), False),
        (0, (301, 359), True),
        (0, (301, 339), False),
    ],
)
def test_a_zone_that_reaches_over_the_pages_end_may_not_pass(
    at: float, reach: tuple[float, float], meets: bool
) -> None:
    blank = cup(LOW | {"at": at})
    assert MACHINE.rotary is not None
    datum: Any = "front" if reach[0] < 180 else "back"  # on the side of the lettering
    loading = load_on(blank, MACHINE, datum, reach)
    found = list(check_turn(Box(reach[0], 60, reach[1], 80), blank, MACHINE.rotary, loading))
    assert [finding.code for finding in found] == ["handle-under-head"] * meets


@pytest.mark.parametrize(
    ("name", "word"), [(None, "bracket"), ("far handle", "bracket of the far handle")]
)
def test_of_a_handle_that_comes_off_its_bracket_is_the_mark(name: str | None, word: str) -> None:
    far = TWO[1] | {"comes_off": True, "name": name}
    assert load_on(cup(TWO[0], far), MACHINE, "front", (240, 300)).mark == word


@pytest.mark.parametrize(
    ("stands_out", "codes"),
    [(0, []), (10, []), (10.1, ["handle-under-head"]), (None, ["handle-not-measured"])],
)
def test_how_far_a_zone_stands_out_decides(stands_out: float | None, codes: list[str]) -> None:
    keys = {} if stands_out is None else {"stands_out": stands_out}
    blank = cup({"kind": "bracket", "width": 20, "at": 150, **keys})
    loading = load_on(blank, MACHINE)
    assert MACHINE.rotary is not None
    found = check_turn(Box(240, 20, 300, 80), blank, MACHINE.rotary, loading)
    assert [finding.code for finding in found] == codes


def test_a_zone_under_the_head_at_the_start_is_named() -> None:
    high = {"kind": "bracket", "width": 20, "stands_out": 14}
    hinge = high | {"name": "hinge", "at": 90}
    # By the hinge the job would start at 180 degrees, where nothing is.
    assert load_on(cup(hinge), MACHINE).mark == "hinge"
    assert load_on(cup(hinge), MACHINE).under_head == ()
    blank = cup(high, hinge, high | {"at": 180}, high | {"at": 270})
    loading = load_on(blank, MACHINE)
    assert [zone.word for zone in loading.under_head] == ["hinge"]
    (finding,) = check_blank(blank, MACHINE, loading)
    assert finding.code == "handle-under-head"
    assert "starts with the hinge under the head: it stands out by 14 mm" in finding.message


@pytest.mark.parametrize(
    ("zone", "said"),
    [
        (
            mark(10, **{"from": 50, "to": 40}),
            "zone 1: Found from 50 to 40 mm. Give a lower edge below the upper one",
        ),
        (mark(10, to=101), "zone 1: Found from 0 to 101 mm"),
        (mark(10, width=300, clearance=30), "zone 1: Found a width of 300 mm and a clearance of"),
        (mark(360), "zone 1.at: Found 360. Give a number below 360"),
        ({"kind": "mark", "at": 10, "from": 20}, 'zone 1: The key "width" is missing'),
        ({"kind": "ridge"}, 'zone 1: The key "width" is missing. Only what goes all around has'),
        ({"kind": "handel", "width": 5}, "zone 1.kind"),
        (mark(10, hight=3), 'Found the unknown key "zone 1.hight". '),
    ],
)
def test_a_wrong_zone_is_named(zone: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError) as error:
        cup(zone)
    assert said in str(error.value)
    assert str(error.value).startswith("cup.toml: ")


BRACKET = {"kind": "bracket", "width": 20, "stands_out": 30, "at": 90}


@pytest.mark.parametrize(
    ("zones", "word"),
    [
        ([TWO[0], TWO[1]], "second handle"),
        ([TWO[0], TWO[0] | {"at": 180}], "handle at 180°"),
        ([TWO[0], TWO[1] | {"name": "Handle"}], "Handle at 180°"),
        # A handle that comes off is turned by its bracket.
        ([BRACKET | {"at": 0}, TWO[0] | {"at": 180, "comes_off": True}], "bracket at 180°"),
        # What goes all around is not turned to any side.
        ([TWO[0], TWO[1], RIDGES[0] | {"name": "second handle", "stands_out": 0}], "second handle"),
    ],
)
def test_the_loader_is_told_which_of_two_that_are_called_alike(
    zones: list[dict[str, Any]], word: str
) -> None:
    loading = load_on(cup(*zones), MACHINE, "front", (240, 300))
    assert (loading.mark, loading.mark_at, loading.start) == (word, 180, 270)


@pytest.mark.parametrize(
    ("keys", "where"),
    [
        ({"handle": {"width": 20}}, "handle.stands_out"),
        ({"zone": [{"kind": "handle", "width": 20}]}, "zone 1.stands_out"),
        ({"zone": [{"kind": "bracket", "width": 20}]}, "zone 1.stands_out"),
    ],
)
def test_what_was_not_measured_is_asked_for_where_the_file_tells_of_it(
    keys: dict[str, Any], where: str
) -> None:
    blank = cup(**keys)
    found = list(check_blank(blank, MACHINE, load_on(blank, MACHINE, "up")))
    (advice,) = (each.advice for each in found if each.code == "handle-not-measured")
    assert f"enter it in the blank as {where}." in advice


def test_a_zone_does_not_lie_where_the_handle_is() -> None:
    with pytest.raises(InputError, match="zone 1: Found a zone at 0 degrees, where the handle is"):
        cup(mark(0), handle={"width": 20})


def test_a_mark_at_the_zero_leaves_the_page_whole() -> None:
    """Even above a mark that is not as high as the wall no face runs over the page's end."""
    blank = cup(mark(0, to=30))
    assert face_of(blank, 20, 120, (50, 80)).usable_width == pytest.approx(40)


def test_flat_goods_have_no_zones() -> None:
    with pytest.raises(InputError, match="zone: Flat goods have no zones"):
        validated(
            Blank,
            {
                "name": "Board", "width": 100, "height": 100, "band": {"from": 10, "to": 90},
                "coat": [{"name": "slate", "colour": "#303030"}], "zone": [mark(10)],
            },
            "board.toml",
        )  # fmt: skip


def test_the_library_has_a_cup_with_two_handles_and_one_with_a_mark() -> None:
    blanks = {name: load(Blank, "blanks", name, HERE) for name in shelf("blanks")}
    assert [z.at for z in blanks["two-handled-mug-14oz"].handles] == [0, 180]
    assert [z.word for z in blanks["marked-tumbler-24oz"].zones] == ["seam", "maker's mark"]


def test_a_ring_beside_a_mark_ends_at_the_seam() -> None:
    """It does not run over the page's end, though more would be free across the seam."""
    blank = cup(mark(170, **{"from": 20, "to": 40}), handle={"clearance": 5})
    *_, arc = free_arcs(blank, 30, 38, 0)
    assert (arc.middle, arc.length) == (pytest.approx((180 + 355) / 2), pytest.approx(175))


@pytest.mark.parametrize(
    ("zone", "said"),
    [
        ({"kind": "handle", "width": 0, "stands_out": 40}, "Found a handle with a width of 0"),
        ({"kind": "bracket", "width": 0}, "Found a bracket with a width of 0"),
        ({"kind": "seam", "width": 0, "stands_out": 3}, "Found a seam with a width of 0"),
        (
            {"kind": "handle", "from": 30, "to": 50, "at": 0},
            'zone 1: The key "width" is missing. Enter how wide the handle is',
        ),
    ],
)
def test_what_stands_out_has_a_width(zone: dict[str, Any], said: str) -> None:
    """Else nothing would see it pass under the head."""
    with pytest.raises(InputError) as error:
        cup({"at": 180} | zone)
    assert said in str(error.value)
    cup({"kind": "seam", "width": 0, "at": 180, "clearance": 3})  # a line on the wall may
