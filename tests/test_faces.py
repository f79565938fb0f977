"""More than one face, lines at heights of their own, and what goes around the cup."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
import simulator
from conftest import LayoutOf, found_in, guest_named, upright, upright_svg

from mailmerge.artwork import Layout, compose, laid, read_outlines, rooms
from mailmerge.artwork.rooms import stands_of
from mailmerge.blanks import Blank
from mailmerge.findings import InputError
from mailmerge.guests import Guest, Hand
from mailmerge.shelves import load, shelf, validated

HERE = Path()
CAPITAL = {"letter_height": {"max": "7 mm", "min": "7 mm"}}
"""In the box font a capital is 5 mm wide then, and the next one starts after 6."""


def codes(layout: Layout, blank: Blank, name: str = "HH", role: str = "H") -> dict[str, str]:
    guest = guest_named(name, role)
    made = compose(layout, blank, guest, {}, HERE)
    found = found_in(guest, made, blank, frozenset({"name", "role"}))
    return {finding.code: finding.message for finding in found}


@pytest.fixture
def plain(blank: Blank) -> Blank:
    """Return the test blank without its handle: 300 mm around, nothing kept free at the seam."""
    return blank.model_copy(update={"handle": type(blank.handle)()})


def test_lines_stand_on_their_faces_for_both_hands(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}"}, {"text": "{role}", "face": "onlookers"}, {"text": "G", "face": "180"},
        visible_angle=80,
    )  # fmt: skip
    for hand, centres in ((Hand.RIGHT, (225, 75, 150)), (Hand.LEFT, (75, 225, 150))):
        made = compose(layout, blank, guest_named("HH", "Hg", hand), {}, HERE)
        middles = [(line.box.left + line.box.right) / 2 for line in made.lines]
        assert middles == pytest.approx(centres)
        assert [face.angle for face in made.faces] == [c * 360 / 300 for c in centres]
        # Each is centred in the band by itself (20 to 80 mm), not stacked with the others.
        assert all((line.box.low + line.box.high) / 2 == pytest.approx(50) for line in made.lines)
    assert not codes(layout, blank)


def test_a_guests_side_moves_the_layouts_own_face_alone(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}"}, {"text": "{role}", "face": "onlookers"})
    made = compose(layout, blank, guest_named("HH", "H", side="opposite"), {}, HERE)
    assert [line.face.angle for line in made.lines] == [180, 90]


def test_every_guest_has_the_room_of_the_own_lines_whoever_came_before(
    blank: Blank, layout_of: LayoutOf
) -> None:
    """Rooms on an even wall are kept: by the lines that are filled, side, hand and layout."""
    tall = {"letter_height": {"max": "60 mm", "min": "3 mm"}}
    low = {"letter_height": {"max": "10 mm", "min": "3 mm"}, "height": "low", "face": "onlookers"}
    layouts = [
        layout_of({"text": "{name}", **tall}, {"text": "{role}", "gap": gap, **tall},
                  {"text": "{note}", **low})
        for gap in ("4 mm", "10 mm")
    ]  # fmt: skip
    guests = [
        guest_named("I", "I", note=""),
        guest_named("I", "", note=""),
        guest_named("I", "I", note="I"),
        guest_named("I", "I", note="I", side="onlookers"),
        guest_named("I", "I", Hand.LEFT, note="I", side="onlookers"),
        guest_named("I", "I", Hand.LEFT, note="I", side="90"),
    ]

    def rooms_of(layout: Layout, guest: Guest) -> list[tuple[float, float]]:
        stands = stands_of(layout, blank, guest, {}, HERE)
        return [(m.face.angle, round(m.room.height, 6)) for each in stands for m in each.members]

    pairs = [(layout, guest) for layout in layouts for guest in guests]
    alone = []
    for pair in pairs:
        rooms._even_rooms.cache_clear()
        alone.append(rooms_of(*pair))
    # By hand: 60 mm of band, less a gap, for two lines of one size; and for one of them alone. Low
    # letters of 10 mm take 18 (with descender and accent), and 2 stay free above them.
    assert alone[0] == [(270, 28), (270, 28)]
    assert alone[1] == [(270, 60)]
    assert alone[2][:2] == [(270, 28), (270, 28)]
    assert alone[3][:2] == [(90, 18), (90, 18)]
    assert alone[4][:2] == [(270, 18), (270, 18)]
    assert alone[5][:2] == [(90, 28), (90, 28)]
    assert alone[6] == [(270, 25), (270, 25)]
    for _ in range(2):
        assert [rooms_of(*pair) for pair in pairs] == alone
    assert [rooms_of(*pair) for pair in reversed(pairs)] == alone[::-1]


def test_faces_that_overlap_are_named(blank: Blank, layout_of: LayoutOf) -> None:
    lines = {"text": "{name}"}, {"text": "{role}", "face": "opposite"}
    # 120 degrees are 100 mm wide; their middles at 270 and 180 degrees lie 75 mm apart.
    message = codes(layout_of(*lines), blank)["faces-overlap"]
    assert "at 270° and 180° from the handle overlap by 25 mm" in message
    assert '"HH" and "H"' in message
    assert "faces-overlap" not in codes(layout_of(*lines, visible_angle=90), blank)
    assert (
        "overlap by 0.4 mm" in codes(layout_of(*lines, visible_angle=90.5), blank)["faces-overlap"]
    )
    # At another height they do not meet.
    low = {"text": "{role}", "face": "opposite", "height": "low", **CAPITAL}
    assert "faces-overlap" not in codes(layout_of(lines[0], low), blank)


@pytest.mark.parametrize("height", ["30 mm", "70 mm"])
def test_faces_meet_at_the_height_of_any_of_their_lines(
    blank: Blank, layout_of: LayoutOf, height: str
) -> None:
    names = ({"text": "{name}", "height": each, **CAPITAL} for each in ("30 mm", "70 mm"))
    role = {"text": "{role}", "face": "opposite", "height": height, **CAPITAL}
    assert "faces-overlap" in codes(layout_of(*names, role), blank)


@pytest.mark.parametrize("wide_end", ["base", "top"])
def test_faces_of_a_cone_overlap_where_the_wall_is_narrowest(
    layout_of: LayoutOf, wide_end: str
) -> None:
    """Where the wall is wide there would be room for both.

    The faces are centred 90 degrees apart, a quarter of the way around, and each is as wide as its
    visible arc at the narrowest of the heights where its line stands: so they overlap by
    (visible - 90) degrees of the circumference there.
    """
    ends = {"base": 240.0, "top": 240.0} | {wide_end: 480.0}
    blank = validated(Blank, {
        "name": "Cone", "height": 100, "band": {"from": 5, "to": 95},
        "taper": {**ends, "distance": 100}, "coat": [{"name": "x", "colour": "#101010"}],
    }, "cone.toml")  # fmt: skip
    keys = {"letter_height": {"max": "60 mm", "min": "60 mm"}}
    lines = {"text": "{name}", **keys}, {"text": "{role}", "face": "opposite", **keys}

    def message(visible: float) -> str | None:
        layout = layout_of(*lines, visible_angle=visible)
        return codes(layout, blank, "I", "I").get("faces-overlap")

    # Capitals of 60 mm in the middle of the band stand from 20 to 80 mm, where 20 mm from the
    # narrow end the wall is 240 + 0.2 * 240 = 288 mm around: 10 degrees of that are 8 mm.
    assert "overlap by 8 mm" in str(message(100))
    assert message(90) is None


def test_a_face_of_a_line_on_the_handle_is_a_stop(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}"}, {"text": "{role}", "face": "10"})
    assert "The face at 10° lies on the handle" in codes(layout, blank)["face-on-handle"]


def test_a_line_with_a_height_of_its_own(blank: Blank, layout_of: LayoutOf) -> None:
    small = {"text": "{role}", **CAPITAL}
    made = compose(
        layout_of({"text": "{name}"}, small | {"height": "26 mm"}), blank,
        guest_named("HH", "HH"), {}, HERE,
    )  # fmt: skip
    name, role = made.lines
    assert (role.box.low, role.box.high) == pytest.approx((22.5, 29.5))
    assert role.face is not name.face
    assert role.face.angle == name.face.angle
    assert len(made.faces) == 1
    # The stack keeps clear of it and of descenders and accents of 0.4 letter heights: from
    # 26 + 1.8 * 7 / 2 + 2 = 34.3 mm up to 80 mm, in the middle of which the name stands.
    assert (name.box.low + name.box.high) / 2 == pytest.approx((34.3 + 80) / 2)
    for word, edge in (("low", 20 + 0.4 * 7 + 3.5), ("high", 80 - 0.4 * 7 - 3.5)):
        made = compose(layout_of(small | {"height": word}), blank, guest_named("x", "H"), {}, HERE)
        box = made.lines[0].box
        assert (box.low + box.high) / 2 == pytest.approx(edge)


def test_a_line_that_would_leave_the_band_is_stopped(blank: Blank, layout_of: LayoutOf) -> None:
    low = layout_of({"text": "{name}", "height": "22 mm", **CAPITAL})
    # Its middle is 2 mm above the band's edge, so that letters of 4 mm would fit.
    assert "fits at a letter height of 4 mm, but" in codes(low, blank)["name-too-long"]


def test_rows_at_a_height_of_their_own(blank: Blank, layout_of: LayoutOf) -> None:
    """The middle of the rows stands there: capitals of 7 mm, baselines 10.75 mm apart.

    A g over a capital needs 2/7 + 1/4 + 1 letter heights, and rows are alike on all cups. By their
    own ink they are 10.5 mm apart.
    """
    line = {"text": "{name}", "lines": 2, **CAPITAL}
    name = "HHHHHHHHHHH HHHHHHHHHHH"
    for height, low, high in (
        ("50 mm", 50 - 17.75 / 2, 50 + 17.75 / 2),
        ("low", 20 + 2.8, 20 + 2.8 + 17.5),
        ("high", 80 - 2.8 - 17.5, 80 - 2.8),
    ):
        layout = layout_of(line | {"height": height})
        (placed,) = compose(layout, blank, guest_named(name), {}, HERE).lines
        assert len(placed.rows) == 2
        assert (placed.box.low, placed.box.high) == pytest.approx((low, high))


def test_deep_letters_low_in_the_band_stay_inside_it(blank: Blank, layout_of: LayoutOf) -> None:
    """A g reaches 2 mm below the baseline at 7 mm, where there is room for 2.8 mm."""
    layout = layout_of({"text": "{name}", "height": "low", **CAPITAL})
    for name in ("H", "g"):
        (line,) = compose(layout, blank, guest_named(name), {}, HERE).lines
        assert line.box.low == pytest.approx(22.8 - (2 if name == "g" else 0))


def test_repeats_close_at_the_seam(plain: Blank, layout_of: LayoutOf) -> None:
    """17 mm of ink and 6 mm between: 300 / 23 = 13.04, so 13 repeats 300 / 13 mm apart."""
    ring = {"text": "HHH", "ring": {"height": "50 mm", "repeat": True, "apart": "6 mm"}, **CAPITAL}
    made = compose(layout_of(ring), plain, guest_named("x"), {}, HERE)
    (line,) = made.lines
    assert len(line.pieces) == 13
    page = read_outlines(upright_svg(made, plain))["ring-1"]
    lefts = sorted(round(float(part[:, 0].min()), 3) for part in _contours(page))[::3]
    gaps = np.diff([*lefts, lefts[0] + 300])
    assert np.abs(gaps - 300 / 13).max() < 0.002
    assert lefts[0] == pytest.approx((300 / 13 - 17) / 2, abs=0.001)  # the seam lies in a gap
    assert not codes(layout_of(ring), plain)


def test_repeats_end_at_the_handle_zone(blank: Blank, layout_of: LayoutOf) -> None:
    """From 25 to 275 mm there are 250: (250 + 6) / 23 = 11.1, so 11, the outer ones at the ends."""
    ring = {"text": "HHH", "ring": {"height": "50 mm", "repeat": True, "apart": "6 mm"}, **CAPITAL}
    (line,) = compose(layout_of(ring), blank, guest_named("x"), {}, HERE).lines
    assert len(line.pieces) == 11
    assert (line.box.left, line.box.right) == pytest.approx((25, 275))
    assert not codes(layout_of(ring), blank)


def _contours(outline) -> list[np.ndarray]:
    return np.split(outline.points, outline.starts[1:])


WAVE = {"drawing": "wave", "height": "70 mm", "size": "6 mm"}


@pytest.mark.parametrize("gap", [0, 2.5])
@pytest.mark.parametrize(
    "name", [n for n in shelf("blanks") if "coaster" not in n and "tag" not in n]
)
def test_a_border_closes_at_the_seam(layout_of: LayoutOf, name: str, gap: float) -> None:
    """On every cup of the library, engraved on a chuck: the repeats meet to 0.02 mm, all around."""
    blank = load(Blank, "blanks", name, HERE)
    blank = blank.model_copy(update={"handle": type(blank.handle)(), "zone": ()})
    layout = layout_of({"text": "{name}"}, border=[{**WAVE, "height": "high", "gap": f"{gap} mm"}])
    made = compose(layout, blank, guest_named("x"), {}, HERE)
    (border,) = made.ornaments
    assert border.box.height <= 6 + 1e-9
    artwork = upright_svg(made, blank).decode()
    wall = simulator.Wall(
        blank.circumference_at(0), blank.circumference_at(blank.height), blank.height
    )
    setup = simulator.Setup("chuck", "away", False, "up", 0.0, 0.0, blank.page_width, wall.mouth)
    units = [simulator.engrave(ring, wall, setup) for ring in simulator.paths(artwork)[-1]]
    assert len(units) == len(border.pieces)
    gaps = []
    for one, other in zip(units, [*units[1:], units[0]], strict=True):
        end = one[np.argsort(_along(one))[-40:]]
        start = other[np.argsort(_along(other))[:40]]
        gaps.append(np.linalg.norm(end[:, None] - start[None], axis=2).min())
    assert max(gaps) - min(gaps) < 0.02  # the seam is a gap like all others
    if gap == 0:
        assert max(gaps) < 0.02
    else:  # as asked for or wider, but by less than one more repeat would take
        assert gap - 0.02 < min(gaps)
        assert max(gaps) < gap + (border.pieces[0].outline.box.width + gap) / len(units) * 1.2
        assert border.box.height == pytest.approx(6)


def _along(points: np.ndarray) -> np.ndarray:
    """Return angles of points in the cup's frame, unwrapped about their own middle."""
    middle = points[:, :2].mean(axis=0)
    about = math.atan2(middle[1], middle[0])
    angles = np.arctan2(points[:, 1], points[:, 0]) - about
    return (angles + math.pi) % (2 * math.pi)


def test_a_border_comes_out_even_between_handle_zones(blank: Blank, layout_of: LayoutOf) -> None:
    """The wave is 24 by 10: 250 / 14.4 = 17.4, so there are 18 of them, a little smaller."""
    layout = layout_of({"text": "{name}"}, border=[WAVE])
    made = compose(layout, blank, guest_named("x"), {}, HERE)
    (border,) = made.ornaments
    assert len(border.pieces) == 18
    assert (border.box.left, border.box.right) == pytest.approx((25, 275))
    assert border.box.height == pytest.approx(250 / 18 / 24 * 10, rel=1e-3)
    assert not codes(layout, blank)


def test_a_border_that_shrinks_much_is_a_warning(plain: Blank, layout_of: LayoutOf) -> None:
    """A wave is 2.4 times as long as high: 120 mm go around 300 mm 2.5 times, 48 mm 6.25 times."""
    for size, count, message in (
        ("50 mm", 3, "41.7 mm high instead of 50 mm, so that 3 of it come out even"),
        ("20 mm", 7, None),
    ):
        layout = layout_of({"text": "{name}"}, border=[{**WAVE, "height": "50 mm", "size": size}])
        made = compose(layout, plain, guest_named("x"), {}, HERE)
        assert len(made.ornaments[0].pieces) == count
        found = codes(layout, plain).get("border-smaller")
        assert found is None if message is None else message in str(found)


def test_a_tapered_wall_hides_no_overlap(layout_of: LayoutOf) -> None:
    """A face and a ring meet where their angles do; where the wall is narrow that is sooner.

    At 26 mm the mug is 232 + 12 * 51 / 90 = 238.8 mm around. The name is 23 mm wide, 17.3 degrees
    to each side of its face; 17 letters of the ring are 101 mm wide and reach 76.1 degrees to each
    side of what lies opposite the handle, 16 letters 71.6. The two middles lie 90 degrees apart.
    """
    blank = load(Blank, "blanks", "tapered-mug-16oz", HERE)
    for letters, meets in ((17, True), (16, False)):
        layout = layout_of(
            {"text": "{name}", "height": "26 mm", **CAPITAL},
            {"text": "H" * letters, "ring": {"height": "26 mm"}, **CAPITAL},
        )
        assert ("lines-overlap" in codes(layout, blank, "HHHH")) == meets


def test_the_stack_keeps_clear_of_a_border(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}"}, border=[WAVE])
    (line,) = compose(layout, blank, guest_named("HH"), {}, HERE).lines
    # The border's room ends at 70 - 3 - 2 = 65 mm; from 20 mm up to there the name is centred.
    assert (line.box.low + line.box.high) / 2 == pytest.approx((20 + 65) / 2)


def test_how_narrow_the_outermost_letter_looks(blank: Blank, layout_of: LayoutOf) -> None:
    """A cylinder seen from far: the width at an angle t shrinks by cos t (projection)."""
    (line,) = compose(layout_of({"text": "{name}"}), blank, guest_named("HH"), {}, HERE).lines
    # 22 mm wide, so its edges are 11 mm off the middle on a radius of 300 / (2 pi).
    assert line.looks == pytest.approx(math.cos(11 / (300 / 2 / math.pi)))
    ring = {"text": "H" * 30, "ring": {"height": "50 mm"}, **CAPITAL}
    (line,) = compose(layout_of(ring), blank, guest_named("x"), {}, HERE).lines
    assert line.looks == 0  # it reaches around the edge
    cone = load(Blank, "blanks", "tapered-mug-16oz", HERE)
    (line,) = compose(layout_of({"text": "{name}"}), cone, guest_named("HH"), {}, HERE).lines
    narrow = cone.radius_at(line.box.low)
    assert line.looks == pytest.approx(math.cos(line.box.width / 2 / narrow))
    coaster = load(Blank, "blanks", "coaster-100mm", HERE)
    (line,) = compose(layout_of({"text": "{name}"}), coaster, guest_named("HH"), {}, HERE).lines
    assert line.looks == 1


def test_flat_goods_are_one_face_without_a_wrap(layout_of: LayoutOf) -> None:
    blank = load(Blank, "blanks", "coaster-100mm", HERE)
    layout = layout_of({"text": "{name}"})
    for hand in Hand:
        made = compose(layout, blank, guest_named("H" * 12, "", hand), {}, HERE)
        (line,) = made.lines
        # 100 mm less 8 at both edges; 12 capitals are 7100 units wide and 700 high.
        assert made.face.usable_width == 84
        assert line.letter_height == pytest.approx(8.28)
        assert (line.box.left + line.box.right) / 2 == pytest.approx(50)
        page = upright(blank).page
        assert (page.size, page.start) == ((100, 100), (0, 0))
        assert laid(line.pieces[0], blank, upright(blank)).box.left == pytest.approx(line.box.left)
    wave = layout_of({"text": "{name}"}, border=[WAVE])
    assert "flat" in codes_on(wave, blank)["nothing-to-go-around"]


def test_a_ring_goes_around_nothing_flat(layout_of: LayoutOf) -> None:
    blank = load(Blank, "blanks", "coaster-100mm", HERE)
    for ring in ({"height": "high"}, {"height": "high", "repeat": True}):
        layout = layout_of({"text": "{name}"}, {"text": "H", "ring": ring})
        assert "flat" in codes_on(layout, blank)["nothing-to-go-around"], ring


def codes_on(layout: Layout, blank: Blank) -> dict[str, str]:
    guest = guest_named("HH", "H")
    made = compose(layout, blank, guest, {}, HERE)
    found = found_in(guest, made, blank, frozenset({"name"}))
    return {finding.code: finding.message for finding in found}


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ({"ring": {"height": "50 mm", "repeat": True, "fill": True}}, "Found fill and repeat"),
        (
            {"ring": {"height": "50 mm"}, "face": "drinker"},
            "Found ring together with face or height",
        ),
        ({"arc": {"radius": "50 mm"}, "height": "low"}, "Found height and arc"),
        ({"height": "middle"}, 'height: Found "middle". A height is "low", "high" or a length'),
        ({"height": 0}, "height: Found 0 mm. Give a length above 0"),
        ({"face": "front"}, 'face: Found "front". A face is drinker'),
    ],
)
def test_lines_that_contradict_themselves(
    layout_of: LayoutOf, line: dict[str, object], says: str
) -> None:
    with pytest.raises(InputError, match=says):
        layout_of({"text": "{name}"} | line)


def test_blanks_of_two_shapes_are_refused() -> None:
    flat = {
        "name": "x", "width": 100, "height": 50, "band": {"from": 5, "to": 45},
        "coat": [{"name": "x", "colour": "#000000"}],
    }  # fmt: skip
    assert validated(Blank, flat, "x").is_flat
    for more, says in (
        ({"diameter": 80}, "Found circumference or diameter and width. A wall is"),
        ({"handle": {"width": 10}}, "handle: Flat goods have no handle"),
        ({"edge": 50}, "edge: Found 50 mm, which leaves nothing of the width of 100 mm"),
    ):
        with pytest.raises(InputError, match=says):
            validated(Blank, flat | more, "x")
