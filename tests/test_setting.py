"""Better lines: breaks, spacing, features, centring, arcs, rings, monograms, ornaments."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import groupby, product
from pathlib import Path

import numpy as np
import pytest
import shapely
from conftest import LayoutOf, found_in, guest_named
from fontTools.ttLib import TTCollection, TTFont
from test_proofs import _flat

from mailmerge.artwork import Layout, Placed, Sizes, compose, own_heights, settle
from mailmerge.artwork.rooms import stands_of
from mailmerge.artwork.setting import best, fits_on
from mailmerge.blanks import Blank
from mailmerge.findings import InputError
from mailmerge.guests.names import broken
from mailmerge.lettering import Outline, Style, connects, letter, open_font, shaped
from mailmerge.lettering.bend import on_circle
from mailmerge.lettering.outline import parsed
from mailmerge.lettering.shape import Glyph
from mailmerge.shelves import load

HERE = Path()


def line_of(layout: Layout, blank: Blank, name: str, **fields: str) -> Placed:
    return compose(layout, blank, guest_named(name, **fields), {}, HERE).lines[0]


def contours(line: Placed) -> list[np.ndarray]:
    """Return the corners of each contour, the first one once."""
    parts = np.split(line.outline.points, line.outline.starts[1:])
    return [part[:-1] if np.allclose(part[0], part[-1]) else part for part in parts]


def findings(layout: Layout, blank: Blank, name: str) -> set[str]:
    guest = guest_named(name)
    composition = compose(layout, blank, guest, {}, HERE)
    return {f.code for f in found_in(guest, composition, blank, frozenset({"name"}))}


# Breaks


def test_three_rows_where_two_are_too_small(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "lines": 3, "letter_height": {"max": "14 mm", "min": "9 mm"}}
    )
    line = line_of(layout, blank, "HHHHHHHHH HHHHHHHHH HHHHHHHHH")
    # A row of 9 capitals: 5300 units, 100 / 5300 * 700 = 13.20 mm by the width; three rows with
    # baselines 1.5 apart are 4 letter heights high, and 60 mm are there: 15 mm.
    assert line.rows == ("HHHHHHHHH", "HHHHHHHHH", "HHHHHHHHH")
    assert line.letter_height == 13.2


@pytest.mark.parametrize("most", ["9.525 mm", "14 mm", "30 mm"])
def test_a_text_is_as_large_as_on_the_best_of_all_its_rows(
    blank: Blank, layout_of: LayoutOf, most: str
) -> None:
    """And stands on the fewest that reach it, however many rows were looked at."""
    size = {"text": "{name}", "lines": 3, "letter_height": {"max": most, "min": "4 mm"}}
    layout = layout_of(size | {"sizing": "set"})
    line = layout.line[0]
    for name in ("HH", "HHH HHH", "HHHHHHHHHHH HHHHHHHHH", "HHHH HHHHHHHH HHH HHH HHHHH-HHHHH"):
        (stand,) = stands_of(layout, blank, guest_named(name), {}, HERE)
        (member,) = stand.members
        ways = [(name,), *broken(name, 2), *broken(name, 3)]
        each = [fits_on(line, rows, member.style, member.room)[0] for rows in ways]
        largest = max(fit.height for fit in each)
        fewest = min(len(fit.arrangement.rows) for fit in each if fit.height == largest)
        ((_, _, own),) = own_heights(layout, blank, guest_named(name), {}, HERE)
        assert own == pytest.approx(largest, rel=0.01)  # balance may cost a hundredth of it
        assert len(best(line, member.fits()).arrangement.rows) == fewest


def test_one_text_in_two_rooms_has_the_size_of_each(blank: Blank, layout_of: LayoutOf) -> None:
    """What was worked out for one guest's line is another's only where both have the same room."""
    size = {"text": "{role}", "letter_height": {"max": "60 mm", "min": "2 mm"}, "sizing": "set"}
    wide, narrow = layout_of(size), layout_of(size, visible_angle=60)
    guests = [guest_named("Ann", "HHHHHHHHHH"), guest_named("Bob", "HHHHHHHHHH")]
    found = [
        next(own_heights(each, blank, guest, {}, HERE))[2]
        for each in (wide, narrow)
        for guest in guests
    ]
    assert found[0] == found[1] > found[2] == found[3]
    assert found[2] == line_of(narrow, blank, "Ann", role="HHHHHHHHHH").fitting_height


@pytest.mark.parametrize(
    ("keys", "text", "rows", "height"),
    # One row of 9, a space and 9 capitals: 11000 units, 100 / 11000 * 700 = 6.36 mm by the width;
    # two of 9: 5300 units, 13.20 mm. One of 9, a space and 1: 6200 units, 11.29 mm.
    [
        ({}, "HHHHHHHHH HHHHHHHHH", 2, 13.2),
        ({"rows": "fewest"}, "HHHHHHHHH HHHHHHHHH", 1, 6.36),
        (
            {"rows": "fewest", "letter_height": {"max": 14, "min": 7}},
            "HHHHHHHHH HHHHHHHHH",
            2,
            13.2,
        ),
        ({}, "HHHHHHHHH H", 2, 13.2),
        (
            {"letter_height": {"max": 12, "min": 5}},
            "HHHHHHHHH H",
            1,
            11.29,
        ),  # 12 is not a tenth more
    ],
)
def test_rows_are_for_the_largest_letters_or_the_fewest_there_can_be(
    blank: Blank, layout_of: LayoutOf, keys: dict[str, object], text: str, rows: int, height: float
) -> None:
    size = {"text": "{name}", "lines": 2, "letter_height": {"max": 14, "min": 5}}
    alone, in_set = layout_of(size | keys), layout_of(size | keys | {"sizing": "set"})
    line = line_of(alone, blank, text)
    assert (len(line.rows), line.letter_height) == (rows, height)
    assert line.largest == height
    ((_, _, own),) = own_heights(in_set, blank, guest_named(text), {}, HERE)
    assert own == (height if rows == 2 or "rows" in keys else 12.0)


def test_breaks_are_chosen_for_the_largest_letters_and_then_for_balance(
    blank: Blank, layout_of: LayoutOf
) -> None:
    layout = layout_of(
        {"text": "{name}", "lines": 2, "letter_height": {"max": "14 mm", "min": "9 mm"}}
    )
    # 4 + 8 | 5 or 4 | 8 + 5: the longer row has 12 or 13 letters and a blank; 12 is larger.
    assert line_of(layout, blank, "HHHH HHHHHHHH HHHHH").rows[1] == "HHHHH"
    # Both breaks give the full 14 mm here, limited by max: the more even one is taken.
    short = layout_of(
        {"text": "{name}", "lines": 2, "letter_height": {"max": "10 mm", "min": "9.99 mm"}}
    )
    assert line_of(short, blank, "HHHHHH HH HHHHHH").rows in (
        ("HHHHHH HH", "HHHHHH"), ("HHHHHH", "HH HHHHHH"),
    )  # fmt: skip
    assert line_of(short, blank, "HHHHH HHHH HHHHHH").rows == ("HHHHH HHHH", "HHHHHH")


def test_a_break_never_parts_a_particle_from_its_name(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "lines": 2, "letter_height": {"max": "14 mm", "min": "8 mm"}}
    )
    # The even break would be "HHHHHHHH van | HHHHHHHH".
    assert line_of(layout, blank, "HHHHHHHH van HHHHHHHH").rows == ("HHHHHHHH", "van HHHHHHHH")


# Spacing, features, variations, collections


def test_tracking_adds_space_between_letters_only(box_font: Path) -> None:
    font = open_font(str(box_font), 400, HERE)
    # 50 / 1000 em = 50 units, after each letter but the last.
    assert shaped(Style((font,), 50), "HHH").advance == 3 * 600 + 2 * 50
    assert (
        shaped(Style((font,), 50), "HH H").box.width
        == shaped(Style((font,)), "HH H").box.width + 150
    )
    # Kerning stays, and it comes apart by the tracking: A ends at 550, V starts at 500 + 50.
    assert letter(Style((font,), 60), "AV").outline.verbs.count("M") == 2


LATIN = ["Ẹ̀Ọ̀Ọ́", "ǺṢ̌Ǭ", "M̧ajeļ", "J̌ana", "ThịÁnh"]
MARKED = [
    *product(["Noto Sans", "Montserrat", "EB Garamond", "Lora"], LATIN),
    ("Frank Ruhl Libre", "שָׁלוֹם"),
    ("Noto Sans Thai", "ทิพย์"),
]


@pytest.mark.parametrize(("name", "text"), MARKED)
def test_tracking_leaves_marks_on_their_letters(name: str, text: str) -> None:
    """Within a cluster everything stands as the font places it, between two it comes apart."""
    font = open_font(name, 400, HERE)

    def clusters(tracking: int) -> list[list[Glyph]]:
        line = shaped(Style((font,), tracking, (("liga", 0),)), text)
        assert line.missing == ()
        return [list(cluster) for _, cluster in groupby(line.glyphs, lambda glyph: glyph.char)]

    step = round(80 * font.upem / 1000)
    plain, apart = clusters(0), clusters(80)
    assert len(plain) == len(apart)
    for at, (one, other) in enumerate(zip(plain, apart, strict=True)):
        moves = {(b.x - a.x, b.y - a.y) for a, b in zip(one, other, strict=True)}
        assert moves == {(at * step, 0)}


def test_tracking_is_refused_where_letters_connect(layout_of: LayoutOf) -> None:
    script = layout_of({"text": "{name}", "font": "Great Vibes", "tracking": 20}).line[0]
    with pytest.raises(InputError, match="tracking: Found 20, but the letters of Great Vibes conn"):
        script.check_style(HERE)
    layout_of({"text": "{name}", "font": "Lora", "tracking": 20}).line[0].check_style(HERE)


@pytest.mark.parametrize(
    ("family", "joined"),
    [("Great Vibes", True), ("Dancing Script", True), ("Pacifico", True), ("Lora", False),
     ("Caveat", False), ("Noto Sans", False), ("Noto Sans Devanagari", False)],
)  # fmt: skip
def test_which_letters_connect(family: str, joined: bool) -> None:
    assert connects(open_font(family, 400, HERE)) is joined


def test_arabic_stays_joined_under_tracking() -> None:
    amiri = open_font("Amiri", 400, HERE)
    assert shaped(Style((amiri,), 100), "محمد").advance == shaped(Style((amiri,)), "محمد").advance


def test_features_change_glyphs_and_unknown_ones_are_named(layout_of: LayoutOf) -> None:
    font = open_font("EB Garamond", 400, HERE)
    plain, small = (shaped(Style((font,), 0, f), "Okonkwo") for f in ((), (("smcp", 1),)))
    assert [g.id for g in plain.glyphs][1:] != [g.id for g in small.glyphs][1:]
    line = layout_of({"text": "{name}", "font": "EB Garamond", "features": ["smcp", "ss77"]}).line[
        0
    ]
    with pytest.raises(InputError, match=r'EB Garamond has no feature "ss77"\. It has: .*smcp'):
        line.check_style(HERE)


@pytest.mark.parametrize("features", [["toolong"], "smcp", {"smcp": -1}, {"smcp": True}, [1]])
def test_features_of_the_wrong_kind_are_refused(layout_of: LayoutOf, features: object) -> None:
    with pytest.raises(InputError, match=r"line 1\.features"):
        layout_of({"text": "x", "features": features})


def test_variation_sets_axes_and_names_the_ones_there_are() -> None:
    thin = open_font("Noto Sans", 400, HERE, (("wght", 200), ("wdth", 75)))
    wide = open_font("Noto Sans", 400, HERE, (("wght", 200),))
    assert (
        shaped(Style((thin,)), "Hamburg").advance < 0.85 * shaped(Style((wide,)), "Hamburg").advance
    )
    with pytest.raises(InputError, match=r'the axis "slnt"\. This font has the axes w'):
        open_font("Noto Sans", 400, HERE, (("slnt", 1),))
    with pytest.raises(InputError, match=r"Found wdth 9\. This font goes from"):
        open_font("Noto Sans", 400, HERE, (("wdth", 9),))
    with pytest.raises(InputError, match="is not variable"):
        open_font("Great Vibes", 400, HERE, (("wdth", 90),))


@pytest.mark.long
def test_a_face_of_a_collection_by_its_index(box_font: Path, tmp_path: Path) -> None:
    both = TTCollection()
    both.fonts = [TTFont(box_font), TTFont(open_font("Great Vibes", 400, HERE).path)]
    both.save(tmp_path / "two.ttc")
    names = [open_font("two.ttc", 400, tmp_path, (), at).name for at in (0, 1)]
    assert names == ["Test Boxes", "Great Vibes"]
    with pytest.raises(InputError, match=r"Found index 2\. This file holds 2 faces\. .* 0 to 1\."):
        open_font("two.ttc", 400, tmp_path, (), 2)


# Centring and stacking


def test_centring_by_mass_puts_the_centroid_on_the_face(blank: Blank, layout_of: LayoutOf) -> None:
    """The centroid against shapely's, of a name whose long swash pulls its box to one side."""
    layout = layout_of(
        {"text": "{name}", "font": "Great Vibes", "centring": "mass",
         "letter_height": {"max": "14 mm", "min": "3 mm"}}
    )  # fmt: skip
    line = line_of(layout, blank, "Jo")
    outline = line.outline
    shape = shapely.Polygon()
    for verbs, start, end in zip(
        outline.verbs.split("M")[1:], outline.starts, [*outline.starts[1:], None], strict=True
    ):
        part = shapely.Polygon(_flat(Outline(f"M{verbs}", outline.points[start:end]), 24))
        shape = shape.symmetric_difference(part.buffer(0))
    assert shape.centroid.x == pytest.approx(225, abs=0.02)
    assert abs((line.box.left + line.box.right) / 2 - 225) > 0.3
    ink = line_of(layout_of({"text": "{name}", "font": "Great Vibes"}), blank, "Jo")
    assert (ink.box.left + ink.box.right) / 2 == pytest.approx(225)


def test_a_long_name_centred_by_mass_still_fits(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "font": "Great Vibes", "centring": "mass",
         "letter_height": {"max": "30 mm", "min": "3 mm"}}
    )  # fmt: skip
    for name in ("Jonathan Yggdrasil", "Fjodor Quy", "Theodora"):
        composition = compose(layout, blank, guest_named(name), {}, HERE)
        line = composition.lines[0]
        assert line.fits
        assert line.box.left >= composition.face.left - 0.001
        assert line.box.right <= composition.face.right + 0.001


def baseline_layout(layout_of: LayoutOf, **more: object) -> Layout:
    layout = layout_of(
        {"text": "{name}", "letter_height": {"max": "14 mm", "min": "7 mm"}},
        {"text": "{role}", "letter_height": {"max": "7 mm", "min": "3 mm"}, "gap": "6 mm"},
    )
    return layout.model_copy(update={"stacking": "baseline", **more})


def test_baselines_stand_alike_with_and_without_descenders(
    blank: Blank, layout_of: LayoutOf
) -> None:
    layout = baseline_layout(layout_of)
    bottoms = set()
    for name, reach in (("HH", 0.0), ("Hg", 200 / 700 * 14)):
        name_line, role = compose(layout, blank, guest_named(name, "H"), {}, HERE).lines
        bottoms.add(round(name_line.box.low + reach, 6))  # the baseline
        # 14 mm of capitals, 6 mm of gap, 7 mm of capitals, centred in the band (50 mm).
        assert role.box.low == pytest.approx(50 - 27 / 2)
    assert bottoms == {50 - 27 / 2 + 7 + 6}


@pytest.mark.parametrize("name", ["name-over-role", "plain", "classic-serif", "both-sides"])
def test_every_cup_of_a_set_has_its_baselines_at_the_same_heights(name: str) -> None:
    """Deep letters and high ones, the tails of capitals, and names without any."""
    layout = load(Layout, "layouts", name, HERE)
    cup = load(Blank, "blanks", "handled-tumbler-40oz", HERE)
    words = {"order.title": "Gala", "order.due": "12 December"}
    guests = [
        guest_named(name, role)
        for name in ("Ann", "Peggy", "Jory", "Yves", "Quy", "Emma", "Afif", "Zsofi", "Oz")
        for role in ("Oboe", "Viola")
    ]
    own = [each for g in guests for each in own_heights(layout, cup, g, words, HERE)]
    sizes = settle(layout, own, Sizes())
    heights = set()
    for guest in guests:
        lines = compose(layout, cup, guest, words, HERE, sizes).lines
        low = [
            shaped(line.style, line.rows[0]).box.low / line.style.font.letter_height
            for line in lines[:2]
        ]
        assert len(lines[0].rows) == 1
        heights.add(
            tuple(
                round(line.box.low - below * line.letter_height, 3)
                for line, below in zip(lines[:2], low, strict=True)
            )
        )
    assert len(heights) == 1


def test_a_deep_descender_pushes_the_next_line_away(blank: Blank, layout_of: LayoutOf) -> None:
    lines = baseline_layout(layout_of).line
    close = (lines[0], lines[1].model_copy(update={"gap": 2.0}))
    layout = baseline_layout(layout_of, line=close)
    name_line, role = compose(layout, blank, guest_named("Hg", "H"), {}, HERE).lines
    # g reaches 4 mm down; a quarter of the smaller letter height (7 mm) stays free.
    assert name_line.box.low - role.box.high == pytest.approx(7 / 4)


def test_ink_stays_in_the_band_under_baseline_stacking(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}", "letter_height": {"max": "58 mm", "min": "7 mm"}})
    layout = layout.model_copy(update={"stacking": "baseline"})
    line = line_of(layout, blank, "Ég")
    assert line.box.high <= blank.band.to + 1e-6
    assert line.box.low >= blank.band.from_ - 1e-6


# Arcs and rings


def test_letters_on_an_arc_stand_upright_on_their_circle(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "letter_height": {"max": "7 mm", "min": "3 mm"},
         "arc": {"radius": "40 mm"}}
    )  # fmt: skip
    line = line_of(layout, blank, "HHHHH")
    assert line.letter_height == 7
    boxes = contours(line)
    assert len(boxes) == 5
    # Five boxes 5 mm by 7 mm, 6 mm apart along the arc. All foot corners lie at the same distance
    # from the circle's centre, and neighbouring boxes are turned by 6 / 40.
    middles = np.array([box.mean(axis=0) for box in boxes])
    turns = []
    for box in boxes:
        sides = np.diff(np.vstack([box, box[:1]]), axis=0)
        lengths = np.hypot(*sides.T)
        assert sorted(lengths) == pytest.approx([5, 5, 7, 7])
        up = sides[lengths.argmax()]
        turns.append(math.atan2(up[0], up[1]) % math.pi)
    steps = np.diff(np.unwrap(np.array(turns), period=math.pi))
    assert np.abs(steps) == pytest.approx([0.15] * 4)
    # The middle letter stands highest, and the whole is centred.
    assert middles[2, 1] == min(middles[:, 1])
    assert middles[2, 0] == pytest.approx(225)
    radii = {round(float(np.hypot(*(m - (225, middles[2, 1] + 40 + 3.5)))), 6) for m in middles}
    assert radii == {43.5}


def test_an_arc_may_bow_down(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "letter_height": {"max": "7 mm", "min": "3 mm"},
         "arc": {"radius": "40 mm", "bow": "down"}}
    )  # fmt: skip
    line = line_of(layout, blank, "HHHHH")
    middles = np.array([b.mean(axis=0) for b in contours(line)])
    assert middles[2, 1] == max(middles[:, 1])


def test_a_line_on_an_arc_shrinks_until_it_fits(blank: Blank, layout_of: LayoutOf) -> None:
    for radius in (30, 60, 9000):
        layout = layout_of(
            {"text": "{name}", "letter_height": {"max": "30 mm", "min": "1 mm"},
             "arc": {"radius": radius}}
        )  # fmt: skip
        composition = compose(layout, blank, guest_named("HHHH HHHHHHH"), {}, HERE)
        line = composition.lines[0]
        assert line.box.width <= composition.face.usable_width + 1e-6
        assert line.box.high <= 80 + 1e-6
        assert line.box.low >= 20 - 1e-6
        assert line.letter_height < 14
    straight = line_of(
        layout_of({"text": "{name}", "letter_height": {"max": "30 mm", "min": "1 mm"}}),
        blank, "HHHH HHHHHHH",
    )  # fmt: skip
    assert line.letter_height == pytest.approx(straight.letter_height, abs=0.12)


def test_a_joined_word_is_bent_and_keeps_to_its_circle() -> None:
    """A bar 60 mm long on a radius of 40 mm: every point of its foot lies on the circle."""
    bar = parsed("M-30 0L30 0L30 2L-30 2Z")
    (bent,) = on_circle([bar], 40, bow_up=True)
    flat = _flat(bent, 8)
    radii = np.hypot(flat[:, 0], flat[:, 1] + 40)
    near = np.minimum(np.abs(radii - 40), np.abs(radii - 42))
    ends = (radii > 40.01) & (radii < 41.99)
    assert near[~ends].max() < 0.006
    assert len(bent.points) > 40
    # Its length along the circle is that of the line: 60 mm are 1.5 radians.
    angles = np.arctan2(flat[:, 0], flat[:, 1] + 40)
    assert angles.max() - angles.min() == pytest.approx(60 / 40)


def test_a_ring_runs_opposite_the_handle_at_its_height(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of(
        {"text": "{name}", "letter_height": {"max": "7 mm", "min": "3 mm"},
         "ring": {"height": "30 mm"}}
    )  # fmt: skip
    line = line_of(layout, blank, "HH")
    assert (line.box.left + line.box.right) / 2 == pytest.approx(150)
    assert (line.box.low + line.box.high) / 2 == pytest.approx(30)
    assert line.room_width == 250


def test_a_full_ring_reaches_from_one_edge_of_the_handle_zone_to_the_other(
    blank: Blank, layout_of: LayoutOf
) -> None:
    layout = layout_of(
        {"text": "{name}", "letter_height": {"max": "7 mm", "min": "3 mm"},
         "ring": {"height": "30 mm", "fill": True}}
    )  # fmt: skip
    line = line_of(layout, blank, "HARBOUR HALL")
    assert line.letter_height == 7
    assert line.box.left == pytest.approx(25, abs=0.3)
    assert line.box.right == pytest.approx(275, abs=0.3)
    assert line.box.left >= 25
    # Evenly: the boxes of a word are all as far apart.
    lefts = sorted(float(b[:, 0].min()) for b in contours(line))
    assert np.ptp(np.diff(lefts[:7])) < 0.02


def test_a_ring_stays_in_the_band_and_meets_no_line(blank: Blank, layout_of: LayoutOf) -> None:
    keys = {"text": "{name}", "letter_height": {"max": "7 mm", "min": "3 mm"}}
    low = layout_of(keys | {"ring": {"height": "24 mm"}})
    # Its middle is 4 mm above the band's edge: there is room for capitals of 7 mm, but where the
    # foot of a g reaches 2/7 below the baseline only for 4 / (1/2 + 2/7) mm.
    for name, height in (("HH", 7), ("Hg", 5.09)):
        (line,) = compose(low, blank, guest_named(name), {}, HERE).lines
        assert line.letter_height == height
        assert not findings(low, blank, name) - {"all-capitals"}
    rings = [keys | {"ring": {"height": f"{height} mm"}} for height in (50, 54)]
    assert "lines-overlap" in findings(layout_of(*rings), blank, "HHHH")
    # A stack makes room for a ring, wherever that is.
    for height in (30, 50, 70):
        layout = layout_of(keys, keys | {"ring": {"height": f"{height} mm"}}, face="opposite")
        assert not findings(layout, blank, "HHHH") - {"all-capitals"}


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"arc": {"radius": 9}, "ring": {"height": 9}}, "Found arc and ring. A line takes one"),
        (
            {"arc": {"radius": 9}, "lines": 2},
            "lines: Found 2. A line with arc, ring or monogram has 1",
        ),
        (
            {"ring": {"height": 9}, "sizing": "set"},
            'sizing: Found "set". A line with arc or ring has sizing = "each"',
        ),
        ({"arc": {"radius": 9, "bow": "left"}}, "arc.bow"),
        ({"lines": 4}, "line 1.lines"),
        ({"language": "turkish!"}, "line 1.language"),
        ({"variation": {"wght": "bold"}}, 'line 1.variation: Found "bold" for wght'),
    ],
)
def test_keys_that_do_not_go_together_are_refused(
    layout_of: LayoutOf, keys: dict[str, object], says: str
) -> None:
    with pytest.raises(InputError, match=says):
        layout_of({"text": "{name}"} | keys)


# Monograms, cases, ornaments


def test_a_monogram_of_three_has_a_taller_middle(blank: Blank, layout_of: LayoutOf) -> None:
    keys = {"text": "{name}", "letter_height": {"max": "10 mm", "min": "3 mm"}}
    tall = line_of(layout_of(keys | {"monogram": "tall-middle"}), blank, "Ho Ho Ho")
    assert tall.text == "HHH"
    heights = [float(np.ptp(b[:, 1])) for b in contours(tall)]
    assert sorted(heights) == pytest.approx([10, 10, 14])
    middles = [float(b[:, 1].mean()) for b in contours(tall)]
    assert np.ptp(middles) == pytest.approx(0, abs=1e-6)
    even = line_of(layout_of(keys | {"monogram": "even"}), blank, "Ho Ho Ho")
    assert np.ptp([np.ptp(b[:, 1]) for b in contours(even)]) < 1e-9
    two = line_of(layout_of(keys | {"monogram": "tall-middle"}), blank, "Ho Ho")
    assert (two.text, two.box.height) == ("HH", pytest.approx(10))


def test_the_language_of_a_guest_decides_about_capitals(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}", "case": "upper", "font": "Noto Sans"})
    assert line_of(layout, blank, "inan").text == "INAN"
    assert line_of(layout, blank, "inan", language="tr").text == "İNAN"
    assert line_of(layout, blank, "inan", language="??").text == "INAN"
    titled = layout_of({"text": "{name}", "case": "title", "font": "Noto Sans"})
    assert line_of(titled, blank, "DARRAGH MCALLISTER").text == "Darragh McAllister"


def ornamented(layout_of: LayoutOf, **keys: object) -> Layout:
    ornament = {"drawing": "star", "line": 1, "width": "8 mm", "height": "20 mm", "gap": "4 mm"}
    return layout_of(
        {"text": "{name}", "letter_height": {"max": "10 mm", "min": "3 mm"}},
        ornament=[ornament | keys],
    )


def test_an_ornament_stands_above_below_and_beside(blank: Blank, layout_of: LayoutOf) -> None:
    for place, count in (("above", 1), ("below", 1), ("beside", 2)):
        layout = ornamented(layout_of, place=place)
        composition = compose(layout, blank, guest_named("HH"), {}, HERE)
        (line,), drawn = composition.lines, composition.ornaments
        assert len(drawn) == count
        for each in drawn:
            assert each.outline.box.width == pytest.approx(8)
        left, low, right, high = drawn[0].outline.box  # y runs down
        top, bottom = 100 - line.box.high, 100 - line.box.low
        if place == "above":
            assert top - high == pytest.approx(4)
        elif place == "below":
            assert low - bottom == pytest.approx(4)
        else:
            assert line.box.left - right == pytest.approx(4)
            assert drawn[1].outline.box.left - line.box.right == pytest.approx(4)
            assert (low + high) / 2 == pytest.approx((top + bottom) / 2)
        if place != "beside":
            assert (left + right) / 2 == pytest.approx(225)
            both = min(low, top), max(high, bottom)
            assert sum(both) / 2 == pytest.approx(50)


def test_an_ornament_goes_with_its_line(blank: Blank, layout_of: LayoutOf) -> None:
    assert compose(ornamented(layout_of), blank, guest_named(""), {}, HERE).ornaments == ()
    with pytest.raises(
        InputError, match=r"ornament 1\.line: Found 2\. This layout has 1 line\. Enter 1"
    ):
        ornamented(layout_of, line=2)


# What a review found


def test_a_full_ring_holds_where_a_font_has_ligatures(blank: Blank, layout_of: LayoutOf) -> None:
    """Tracked letters form no ligatures: "Office Affine" has four more glyphs than untracked."""
    for font in ("EB Garamond", "Lora", "Amiri", "Cinzel"):
        layout = layout_of(
            {"text": "{name}", "font": font, "letter_height": {"max": "7 mm", "min": "3 mm"},
             "ring": {"height": "30 mm", "fill": True}}
        )  # fmt: skip
        line = line_of(layout, blank, "Office Affine")
        assert 25 <= line.box.left <= 25.6, font
        assert 274.4 <= line.box.right <= 275, font


def test_a_full_ring_is_refused_where_letters_connect(layout_of: LayoutOf) -> None:
    keys = {"text": "{name}", "font": "Great Vibes", "ring": {"height": 30, "fill": True}}
    with pytest.raises(InputError, match=r"ring\.fill: Found true, but the letters of Great Vibes"):
        layout_of(keys).line[0].check_style(HERE)


def test_an_ornament_wider_than_the_face_is_a_stop(blank: Blank, layout_of: LayoutOf) -> None:
    wide = ornamented(layout_of, drawing="rule", place="below", width="150 mm")
    assert "outside-face" in findings(wide, blank, "HH")
    tall = ornamented(layout_of, drawing="star", place="below", width="59 mm", height="59 mm")
    assert {"outside-band"} <= findings(tall, blank, "HH")
    assert not {"outside-face", "outside-band"} & findings(ornamented(layout_of), blank, "HH")


@pytest.mark.parametrize("way", [-1, 1])
def test_ink_that_leaves_its_face_is_a_stop_on_either_side(
    blank: Blank, layout_of: LayoutOf, way: int
) -> None:
    """HH is 22 mm wide in the middle of 100 mm, so it may stand 39 mm aside and no more."""
    guest = guest_named("HH")
    layout = layout_of({"text": "{name}", "letter_height": {"max": "14 mm", "min": "14 mm"}})
    made = compose(layout, blank, guest, {}, HERE)
    (line,) = made.lines
    for aside, leaves in ((38.9, False), (39.1, True)):
        face = replace(line.face, centre=line.face.centre - way * aside)
        moved = replace(made, lines=(replace(line, face=face),))
        found = {each.code for each in found_in(guest, moved, blank, frozenset({"name"}))}
        assert ("outside-face" in found) == leaves


def test_a_monogram_of_a_right_to_left_name_runs_from_the_right(
    blank: Blank, layout_of: LayoutOf
) -> None:
    layout = layout_of({"text": "{name}", "monogram": "tall-middle"})
    # Bet (500 wide), alef (300), bet: the first initial stands right of the last one.
    line = line_of(layout, blank, "\u05d0\u05d1 \u05d1\u05d0 \u05d1\u05d1")
    widths = [float(np.ptp(part[:, 0])) for part in contours(line)]
    lefts = [float(part[:, 0].min()) for part in contours(line)]
    ordered = [width for _, width in sorted(zip(lefts, widths, strict=True))]
    assert ordered[-1] < ordered[0]  # alef, the narrow one, is first and so at the right


def test_letters_that_run_into_each_other_on_an_arc_are_a_stop(
    blank: Blank, layout_of: LayoutOf
) -> None:
    layout = layout_of(
        {"text": "{name}", "font": "Oswald", "letter_height": {"max": "15 mm", "min": "3 mm"},
         "arc": {"radius": "30 mm", "bow": "down"}}
    )  # fmt: skip
    assert "weld-unsound" in findings(layout, blank, "WILLIAM MAX")
    apart = layout_of(
        {"text": "{name}", "font": "Oswald", "letter_height": {"max": "6 mm", "min": "3 mm"},
         "arc": {"radius": "60 mm"}, "tracking": 40}
    )  # fmt: skip
    assert "weld-unsound" not in findings(apart, blank, "WILLIAM MAX")


def test_a_monogram_in_title_case_keeps_its_capitals(blank: Blank, layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}", "monogram": "even", "case": "title"})
    assert line_of(layout, blank, "Hanna Ho Hu").text == "HHH"


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_an_axis_wants_a_number(layout_of: LayoutOf, value: float) -> None:
    with pytest.raises(InputError, match=rf"line 1\.variation: Found {value} for wght"):
        layout_of({"text": "x", "variation": {"wght": value}})


def test_a_lender_takes_the_weight_that_it_has(layout_of: LayoutOf) -> None:
    line = layout_of({"text": "{name}", "font": "Lora", "weight": 600, "fallback": ["Amiri"]}).line[
        0
    ]
    assert [font.name for font in line.style(HERE).fonts] == ["Lora", "Amiri"]
