"""Narrowest strokes and gaps: shapes of known widths, font units, and a distance transform."""

from __future__ import annotations

import math
import random
from pathlib import Path

import numpy as np
import pytest
from conftest import Samples
from fontTools.ttLib import TTFont
from scipy import ndimage

from mailmerge.lettering import (
    Outline,
    Style,
    coverage,
    finest,
    letter,
    narrow,
    open_font,
    strengthened,
)
from mailmerge.lettering.bottlenecks import REACH, STRAY
from mailmerge.lettering.flat import polygons
from mailmerge.lettering.outline import joined, parsed

HERE = Path()
ACCURACY = 0.02
"""Millimetres; what is promised for letters up to 40 mm high."""


def polygon(*points: tuple[float, float]) -> Outline:
    return parsed("M" + "L".join(f"{x} {y}" for x, y in points) + "Z")


def rectangle(left: float, low: float, right: float, high: float, hole: bool = False) -> Outline:
    corners = [(left, low), (right, low), (right, high), (left, high)]
    return polygon(*(corners[::-1] if hole else corners))


def circle(radius: float, hole: bool = False, x: float = 0.0) -> Outline:
    """Return a circle of eight cubic arcs, within 1e-5 of the radius."""
    turn = math.tau / 8 * (-1 if hole else 1)
    reach = 4 / 3 * math.tan(turn / 4) * radius
    path = f"M{x + radius} 0"
    for at in range(8):
        a, b = at * turn, (at + 1) * turn
        points = (
            (
                radius * math.cos(a) - reach * math.sin(a),
                radius * math.sin(a) + reach * math.cos(a),
            ),
            (
                radius * math.cos(b) + reach * math.sin(b),
                radius * math.sin(b) - reach * math.cos(b),
            ),
            (radius * math.cos(b), radius * math.sin(b)),
        )
        path += "C" + " ".join(f"{x + px} {py}" for px, py in points)
    return parsed(path + "Z")


@pytest.mark.parametrize("width", [0.05, 0.1, 0.37, 1.1])
def test_a_bar_has_its_width(width: float) -> None:
    (stroke, *_), gaps = narrow(rectangle(0, 0, 30, width), 10)
    assert stroke.width == pytest.approx(width, abs=1e-9)
    assert gaps == ()


def test_a_dot_has_its_diameter() -> None:
    (stroke, *_), _ = narrow(circle(0.3), 10)
    assert stroke.width == pytest.approx(0.6, abs=10 * STRAY)


@pytest.mark.parametrize("angle", [0, 13, 45, 77])
def test_a_turned_bar_has_its_width(angle: float) -> None:
    bar = rectangle(0, 0, 30, 0.4)
    a = math.radians(angle)
    turn = np.array([[math.cos(a), math.sin(a)], [-math.sin(a), math.cos(a)]])
    strokes, _ = narrow(Outline(bar.verbs, bar.points @ turn), 10)
    assert strokes[0].width == pytest.approx(0.4, abs=1e-9)


@pytest.mark.parametrize("gap", [0.06, 0.2, 1.1])
def test_two_bars_have_the_gap_between_them(gap: float) -> None:
    shape = joined([rectangle(0, 0, 3, 12), rectangle(3 + gap, 0, 7, 12)])
    _, gaps = narrow(shape, 10)
    assert gaps[0].width == pytest.approx(gap, abs=1e-9)


def test_a_bar_ends_beside_a_wall() -> None:
    """The nearest place lies between a corner and an edge: 0.3 mm."""
    shape = joined([rectangle(0, 0, 1, 10), polygon((1.3, 5), (4, 2), (4, 8))])
    _, gaps = narrow(shape, 10)
    assert gaps[0].width == pytest.approx(0.3, abs=1e-9)


@pytest.mark.parametrize(("outer", "inner"), [(5, 4.8), (3, 2.5), (1, 0.2)])
def test_a_ring_has_its_wall_and_its_counter(outer: float, inner: float) -> None:
    strokes, gaps = narrow(joined([circle(outer), circle(inner, hole=True)]), 10)
    assert strokes[0].width == pytest.approx(outer - inner, abs=10 * STRAY)
    if 2 * inner <= 10 * REACH:
        assert gaps[0].width == pytest.approx(2 * inner, abs=20 * STRAY)
    else:
        assert gaps == ()


def test_an_eccentric_ring_is_measured_where_it_is_thinnest() -> None:
    strokes, _ = narrow(joined([circle(3), circle(2, hole=True, x=0.8)]), 10)
    assert strokes[0].width == pytest.approx(0.2, abs=10 * STRAY)


def test_two_wedges_make_a_neck() -> None:
    """An hourglass: two wedges, point to point, cut off where they are 0.25 mm wide."""
    shape = polygon((0, 0), (5, 1.875), (10, 0), (10, 4), (5, 2.125), (0, 4))
    strokes, gaps = narrow(shape, 10)
    assert strokes[0].width == pytest.approx(0.25, abs=1e-9)
    assert gaps == ()


def test_a_wedge_that_runs_out_is_no_narrow_stroke_and_a_notch_no_gap() -> None:
    assert narrow(polygon((0, 0), (20, 2), (0, 4)), 10) == ((), ())
    notched = polygon((0, 0), (10, 0), (10, 6), (6, 6), (5, 1), (4, 6), (0, 6))
    strokes, gaps = narrow(notched, 10)
    assert gaps == ()
    assert strokes[0].width == pytest.approx(1)  # under the notch


def test_what_lies_between_is_not_jumped_over() -> None:
    """Two bars with a third between them: the gaps are to the third."""
    bars = [rectangle(0, 0, 0.5, 10), rectangle(0.9, 0, 1.1, 10), rectangle(1.4, 0, 2, 10)]
    strokes, gaps = narrow(joined(bars), 10)
    assert gaps[0].width == pytest.approx(0.3)
    assert max(place.width for place in gaps) < 0.4 + 1e-6  # and not 0.9, from first to last
    assert strokes[0].width == pytest.approx(0.2)


@pytest.mark.long
def test_the_stem_of_a_slab_font_in_font_units() -> None:
    """Roboto Slab's l: stem and slab as its own outline table has them."""
    font = open_font("Roboto Slab", 400, HERE)
    from fontTools.varLib.instancer import instantiateVariableFont

    with TTFont(font.path) as table:
        glyf = instantiateVariableFont(table, {"wght": 400})["glyf"]
        points, _, _ = glyf["H"].getCoordinates(glyf)
    ys = sorted({y for _, y in points})
    # Foot (0 to 126), its slanting top (to 154), stem, bar (643 to 798), stem, head.
    assert ys == [0, 126, 154, 643, 798, 1301, 1329, 1456]
    measured = finest(letter(Style((font,)), "H")).stroke
    assert measured is not None
    assert measured.letters == "H"
    # The bar is the thinnest even stroke but for the slab, which is 126 at its end and thicker
    # towards the stem: 28 up over 163 across, more than the two degrees that count as even.
    assert measured.width * font.letter_height == pytest.approx(798 - 643, abs=0.5)


def test_boxes_of_the_test_font_are_measured_and_named(box_font: Path) -> None:
    """A hyphen is 100 units high; capitals stand 100 units apart, 60 with a tracking of -40."""
    font = open_font(str(box_font), 400, HERE)
    assert REACH < 100 / 700  # too wide to be looked for
    assert finest(letter(Style((font,)), "H-B")) == (None, None, None)
    found = finest(letter(Style((font,), tracking=-40), "HB"))
    assert found.stroke is None
    assert found.gap is None
    assert found.between is not None
    assert found.between.width == pytest.approx(60 / 700)
    assert found.between.letters == "HB"
    joined = finest(letter(Style((font,), tracking=-40), "rn"))  # read as an m
    assert joined.between is None
    assert joined.gap is not None
    assert joined.gap.letters == "rn"


@pytest.mark.parametrize(
    ("font", "weight", "letters"),
    [("Noto Sans", 600, "VY"), ("Noto Sans", 600, "YY"), ("Montserrat", 400, "TY")],
)
def test_letters_that_touch_by_a_hair_have_no_thin_stroke(
    font: str, weight: int, letters: str
) -> None:
    """Their font sets them so, and they stay what they are where they part again."""
    style = Style((open_font(font, weight, HERE),))
    touching, *alone = (finest(letter(style, text)) for text in (letters, *letters))
    assert touching.between is not None
    assert touching.between.letters == letters
    assert touching.between.width < 0.003
    strokes = [each.stroke.width for each in alone if each.stroke]
    found = touching.stroke.width if touching.stroke else None
    assert found == min(strokes, default=None)
    # Letters that a script connects hang on their bridges, and so do two that are read as one.
    script = finest(letter(Style((open_font("Great Vibes", 400, HERE),)), "lena"))
    assert script.between is None
    read_as_w = finest(letter(Style((open_font("Noto Sans", 600, HERE),)), "VV"))
    assert read_as_w.stroke is not None
    assert read_as_w.stroke.letters == "VV"


def test_a_thin_stroke_is_named_by_its_letter() -> None:
    found = finest(letter(Style((open_font("Great Vibes", 400, HERE),)), "HOO"))
    assert found.stroke is not None
    assert found.stroke.letters in ("H", "O")


def test_letters_that_overlap_have_the_neck_that_joins_them() -> None:
    """Two boxes, the second moved up so that only corners overlap: 50 by 40 units."""
    from mailmerge.lettering.bottlenecks import _pair, _Shape

    box = rectangle(0, 0, 500, 700)
    shape = _Shape(box, 700, REACH)
    pair = _pair(shape, _Shape(rectangle(0, 0, 500, 700), 700, REACH), 450, 660)
    assert pair.touch
    assert pair.strokes[0].width == pytest.approx(math.hypot(50, 40))


FONTS = ["Great Vibes", "Pacifico", "Dancing Script", "EB Garamond", "Roboto Slab", "Cinzel",
         "Caveat", "Oswald", "Lora"]  # fmt: skip


@pytest.mark.parametrize("family", FONTS)
def test_glyph_by_glyph_agrees_with_the_whole_welded_outline(family: str, samples: Samples) -> None:
    """The fast way and the direct one, on real names (from the package ``names``)."""
    import names

    random.seed(f"bottlenecks {family}")
    style = Style((open_font(family, 400, HERE),))
    for _ in range(samples(2, 6)):
        line = letter(style, names.get_full_name())
        parts, whole = finest(line), narrow(line.outline, line.letter_height)
        gap = min(filter(None, (parts.gap, parts.between)), default=None)
        for ours, places in ((parts.stroke, whole.strokes), (gap, whole.gaps)):
            wanted = places[0].width / line.letter_height if places else REACH
            found = ours.width if ours else REACH
            assert found == pytest.approx(wanted, abs=4 * STRAY), (line.text, ours)


@pytest.mark.parametrize("family", FONTS)
def test_a_distance_transform_finds_nothing_narrower(family: str, samples: Samples) -> None:
    """The exact Euclidean distance transform of the drawn letter, by scipy.

    At the place that we name, the largest circle inside (or outside) has our width. Below half of
    it nothing comes apart: eroding the ink by less leaves as many pieces and holes as before.
    """
    style = Style((open_font(family, 400, HERE),))
    every = samples(3, 1)  # by default every third letter, and the next one of the next font
    for char in "aegskBRS8&"[FONTS.index(family) % every :: every]:
        line = letter(style, char)
        places = narrow(line.outline, line.letter_height)
        scale = 900 / line.letter_height
        margin = 60
        x, y = margin - line.box.left * scale, margin + line.box.high * scale
        size = (
            int(line.box.width * scale) + 2 * margin, int(line.box.height * scale) + 2 * margin,
        )  # fmt: skip
        ink = coverage(line.outline.moved(scale, True, x, y), *size) > 127
        for inside, found in ((ink, places.strokes), (~ink, places.gaps)):
            if not found:
                continue
            distance = ndimage.distance_transform_edt(inside)
            half = found[0].width * scale / 2
            column, row = found[0].middle[0] * scale + x, y - found[0].middle[1] * scale
            around = distance[int(row) - 1 : int(row) + 3, int(column) - 1 : int(column) + 3]
            # One pixel for each edge of the drawing, and the circle may be larger beside a neck.
            if around.max() < half - 1.5:  # a dot or a counter as a whole
                labels, _ = ndimage.label(inside)
                own = distance[labels == labels[int(row), int(column)]]
                assert 0.9 * half <= own.max() <= half + 1.5, (char, half, own.max())
                continue
            assert around.max() <= half + 2.5, (char, half, around.max())
            if inside is ink and half > 4:
                before = _pieces_and_holes(distance > 1.0)
                assert _pieces_and_holes(distance > half - 1.5) == before, char


def _pieces_and_holes(mask: np.ndarray) -> tuple[int, int]:
    """Count pieces and holes of more than a few pixels: corners crumble when they are eroded."""

    def count(part: np.ndarray) -> int:
        labels, number = ndimage.label(part, np.ones((3, 3)))
        sizes = np.bincount(labels.ravel(), minlength=number + 1)[1:]
        return int((sizes > 60).sum())

    return count(mask), count(~mask) - 1


def test_accuracy_is_two_hundredths_in_letters_of_forty_millimetres() -> None:
    assert 40 * STRAY <= ACCURACY


@pytest.mark.parametrize("distance", [0.02, 0.05, 0.2])
def test_strengthening_moves_every_side_outward(distance: float) -> None:
    """A square of 10 mm: area a^2 + 4 a d + pi d^2 (Steiner's formula), bounds by d each side."""
    grown, sound = strengthened(rectangle(0, 0, 10, 10), distance)
    assert sound
    assert abs(grown.area) == pytest.approx(
        100 + 40 * distance + math.pi * distance**2, abs=0.005 * 40
    )
    assert abs(grown.area) == pytest.approx(100 + 40 * distance + math.pi * distance**2, rel=2e-5)
    assert grown.box == pytest.approx(
        (-distance, -distance, 10 + distance, 10 + distance), abs=2e-3
    )


def test_strengthening_keeps_curves_within_five_micrometres() -> None:
    """A ring's circles stay circles: every point lies at its radius plus or minus the distance."""
    ring = joined([circle(5), circle(3, hole=True)])
    grown, sound = strengthened(ring, 0.1)
    assert sound
    from test_proofs import _flat

    outer, inner = [
        _flat(Outline(f"M{verbs}", grown.points[start:end]), 16)
        for verbs, start, end in zip(
            grown.verbs.split("M")[1:], grown.starts, [*grown.starts[1:], None], strict=True
        )
    ]
    radii = sorted((np.hypot(*part.T) for part in (outer, inner)), key=lambda r: r.mean())
    assert np.abs(radii[0] - 2.9).max() < 0.005
    assert np.abs(radii[1] - 5.1).max() < 0.005


@pytest.mark.parametrize("family", ["Great Vibes", "EB Garamond", "Oswald", "Playfair Display"])
def test_strengthening_widens_strokes_and_narrows_gaps_by_twice_as_much(family: str) -> None:
    style = Style((open_font(family, 400, HERE),))
    line = letter(style, "Bergljot")
    outline = line.outline.moved(14 / line.letter_height, False, 0, 0)
    before = narrow(outline, 14)
    grown, sound = strengthened(outline, 0.05)
    assert sound
    after = narrow(grown, 14)
    # At a corner of the ink that points inward the outline moves further than elsewhere.
    assert after.strokes[0].width >= before.strokes[0].width + 0.1 - ACCURACY
    kept = [place.width for place in before.gaps if place.width > 0.12]
    assert after.gaps[0].width == pytest.approx(min(kept) - 0.1, abs=ACCURACY)


def test_no_edge_of_a_polygon_is_too_long_and_no_curve_strays() -> None:
    """The way back to a contour's first point counts as well, and each contour for itself."""
    outlines = joined([rectangle(0, 0, 10, 7), circle(20), rectangle(3, 30, 4, 31)])
    around, ring, small = polygons(outlines, 0.01, 2.5)
    assert [len(around), len(small)] == [4 + 3 + 4 + 3, 4]
    edges = np.roll(around, -1, axis=0) - around
    assert np.hypot(*edges.T).max() <= 2.5
    middles = (ring + np.roll(ring, -1, axis=0)) / 2
    assert np.hypot(*ring.T) == pytest.approx(20, abs=1e-3)
    assert np.hypot(*middles.T).min() > 20 - 0.011
