"""A tapered wall: frustum formulas of handbooks, numerical integration, and the plain cylinder."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
import simulator
from conftest import LayoutOf, found_in, guest_named, upright, upright_svg
from draws import drawn
from hypothesis import given, settings, strategies as st
from scipy import integrate
from shapely import affinity
from test_proofs import _flat

from mailmerge.artwork import (
    Composition,
    Layout,
    Placed,
    compose,
    laid,
    lifted,
    read_outlines,
)
from mailmerge.artwork.pieces import Piece
from mailmerge.blanks import Blank, face_of
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.lettering import Outline, shaped
from mailmerge.lettering.outline import parsed
from mailmerge.proofs.projection import levels, strip
from mailmerge.shelves import load, validated

HERE = Path()


def cone(base: float, top: float, distance: float, **keys: object) -> Blank:
    """Return a tapered blank whose tapes lie at its base and at its mouth."""
    plain = {
        "name": "Cone",
        "height": distance,
        "band": {"from": 0.1 * distance, "to": 0.9 * distance},
        "taper": {"base": base, "top": top, "distance": distance},
        "coat": [{"name": "black", "colour": "#101010"}],
    }
    return validated(Blank, plain | keys, "cone.toml")


BY_HEAD = cone(2 * math.pi * 24, 2 * math.pi * 48, 40)
"""Radii of 24 and 48 mm on a slant of 40: the triangle 24, 32, 40."""


def test_a_frustum_that_can_be_done_by_head() -> None:
    assert BY_HEAD.upright_height == pytest.approx(32)
    assert math.sin(math.radians(BY_HEAD.tilt)) == pytest.approx(24 / 40)
    assert BY_HEAD.radius_at(0) == pytest.approx(24)
    assert BY_HEAD.radius_at(20) == pytest.approx(36)
    assert BY_HEAD.page_width == pytest.approx(2 * math.pi * 36)  # the band's middle


def test_two_tapes_between_base_and_mouth_reach_to_both() -> None:
    blank = cone(0, 0, 100, height=200, taper={
        "base": "250 mm", "top": "300 mm", "distance": "100 mm", "from": "40 mm",
    })  # fmt: skip
    assert blank.circumference_at(40) == 250
    assert blank.circumference_at(140) == 300
    assert blank.circumference_at(0) == pytest.approx(230)
    assert blank.circumference_at(200) == pytest.approx(330)
    assert (blank.smallest_circumference, blank.largest_circumference) == pytest.approx((230, 330))


@given(
    base=st.floats(150, 350), top=st.floats(150, 350), distance=st.floats(60, 200),
)  # fmt: skip
def test_frustum_formulas_agree_with_numerical_integration(
    base: float, top: float, distance: float
) -> None:
    """Slant, area and sector of a frustum: handbooks of mensuration; integrals by scipy."""
    blank = cone(base, top, distance)
    height = blank.upright_height
    large, small = max(base, top) / 2 / math.pi, min(base, top) / 2 / math.pi
    assert math.hypot(height, large - small) == pytest.approx(distance)
    # Area of the turned surface: the integral of 2 pi r ds, against pi (R + r) slant.
    area, _ = integrate.quad(lambda z: 2 * math.pi * blank.radius_at(z), 0, distance)
    assert area == pytest.approx(math.pi * (large + small) * distance)
    # Unrolled, the wall keeps its area and its lengths, and its sides meet at 2 pi (R - r) / s.
    heights = levels(0, distance)
    full = np.full_like(heights, blank.page_width)
    polygon = strip(blank, np.zeros_like(heights), full, heights)
    assert shapely.Polygon(polygon).area == pytest.approx(area, rel=2e-3)
    left = polygon[len(heights) - 1] - polygon[0]
    right = polygon[len(heights) + 40] - polygon[2 * len(heights) + 39]
    assert np.linalg.norm(left) == pytest.approx(distance)
    between = math.acos(np.clip(left @ right / distance**2, -1, 1))
    wanted = 2 * math.pi * (large - small) / distance
    assert between == pytest.approx(min(wanted, 2 * math.pi - wanted), abs=1e-6)


def test_a_wall_that_cannot_be_is_refused() -> None:
    with pytest.raises(InputError, match=r"cone.toml: taper: .*more than 45 degrees off the axis"):
        cone(100, 400, 50)
    with pytest.raises(InputError, match=r"taper: The upper tape lies 140 mm above the base"):
        cone(250, 300, 140, height=100, band={"from": 10, "to": 90})
    with pytest.raises(InputError, match=r"would be -20.0 mm around at the base"):
        cone(10, 100, 60, height=100, band={"from": 10, "to": 90}, taper={
            "base": 10, "top": 100, "distance": 60, "from": 20,
        })  # fmt: skip
    with pytest.raises(InputError, match=r"Found circumference or diameter and \[taper\]\. A wall"):
        cone(250, 300, 100, circumference=280)
    with pytest.raises(InputError, match=r"handle.width: Found 90 mm\. A handle is .* 79.6 mm"):
        cone(250, 300, 100, handle={"width": 90})


def test_a_face_is_as_wide_as_where_its_lines_stand() -> None:
    blank = cone(240, 360, 100)
    # C(z) = 240 + 1.2 z; a third of it is seen at 120 degrees.
    assert face_of(blank, 180, 120, (50, 60)).usable_width == pytest.approx((240 + 60) / 3)
    assert face_of(blank, 180, 120, (10, 90)).usable_width == pytest.approx((240 + 12) / 3)
    assert face_of(blank, 180, 120).usable_width == pytest.approx((240 + 12) / 3)  # the band


def test_the_usable_width_is_the_narrowest_within_the_lines_own_heights(
    layout_of: LayoutOf,
) -> None:
    blank = cone(240, 360, 100)
    layout = layout_of({"text": "{name}"}, face="opposite")
    composition = compose(layout, blank, guest_named("H" * 14), {}, HERE)
    (line,) = composition.lines
    at_base = (240 + 1.2 * line.box.low) / 3
    assert composition.face.usable_width == pytest.approx(at_base, abs=1e-6)
    assert at_base > (240 + 1.2 * 10) / 3 + 10  # far more than at the band's lower edge
    # 14 capitals are 8300 units wide and 700 high, so the line is as wide as it can be: to a
    # hundredth of a mm of letter height.
    assert 0 <= at_base - line.box.width < 0.01 * 8300 / 700 + 1e-6
    assert line.letter_height == pytest.approx(at_base / 8300 * 700, abs=0.011)


@given(
    base=st.floats(200, 340), slope=st.floats(-0.8, 0.8), letters=st.integers(2, 24),
    role=st.integers(0, 20), angle=st.sampled_from(["drinker", "onlookers", "opposite"]),
)  # fmt: skip
@settings(max_examples=drawn(25, 60), deadline=None)
def test_lines_fit_at_their_own_heights(
    box_font: Path, base: float, slope: float, letters: int, role: int, angle: str
) -> None:
    """No point of the ink is further from the face's middle than the wall has room there."""
    layout = _layout(str(box_font), angle)
    blank = cone(base, base + slope * 100, 100, handle={"width": 20, "clearance": 5})
    composition = compose(layout, blank, guest_named("H" * letters, "g" * role), {}, HERE)
    for line in composition.lines:
        if not line.fits:
            continue
        for piece in line.pieces:
            for x, y in piece.outline.points:
                around = blank.circumference_at(blank.height - y)
                to_handle = around * min(piece.angle, 360 - piece.angle) / 360 - blank.zones[0].edge
                assert abs(x) <= min(to_handle, around / 6) + 0.001


def _layout(font: str, face: str) -> Layout:
    return validated(
        Layout,
        {
            "name": "Test",
            "face": face,
            "line": [
                {"text": "{name}", "font": font, "letter_height": {"max": "20 mm", "min": "2 mm"}},
                {"text": "{role}", "font": font, "gap": "4 mm",
                 "letter_height": {"max": "9 mm", "min": "2 mm"}},
            ],
        },
        "test",
    )  # fmt: skip


def test_the_plain_cylinder_is_the_limit_of_the_cone() -> None:
    """As the taper goes to nothing, the page goes to the straight cup's, linearly."""
    layout = load_layout()
    straight = validated(
        Blank,
        {
            "name": "x", "circumference": 300, "height": 100, "band": {"from": 10, "to": 90},
            "coat": [{"name": "x", "colour": "#000000"}],
        },
        "x",
    )  # fmt: skip
    guest = guest_named("Zoë Lindqvist", "Violin", Hand.LEFT)
    flat = read_outlines(upright_svg(compose(layout, straight, guest, {}, HERE), straight))
    off = []
    for slope in (0.4, 0.2, 0.1, 0.05, 1e-6):
        blank = cone(300 - 50 * slope, 300 + 50 * slope, 100)
        made = compose(layout, blank, guest, {}, HERE)
        page = read_outlines(upright_svg(made, blank))
        assert [line.letter_height for line in made.lines] == [10, 4.5]  # the layout's largest
        off.append(
            max(
                float(np.abs(np.subtract(page[name].box, outline.box)).max())
                for name, outline in flat.items()
            )
        )
    assert off == sorted(off, reverse=True)
    assert off[-1] < 0.0015  # the file's own last digit
    assert off[1] == pytest.approx(off[0] / 2, rel=0.1)


def load_layout() -> Layout:
    return load(Layout, "layouts", "plain", HERE)


def test_a_chuck_gets_more_page_where_the_wall_is_narrow() -> None:
    """A millimetre of page is C(z) / C_set mm of wall: by head on the 24, 32, 40 frustum.

    At the base the radius is two thirds of that in the middle, so 6 mm of wall are 9 mm of page;
    at the mouth it is four thirds, so 6 mm are 4.5 mm.
    """
    piece = Piece(90.0, parsed("M0 0L6 0L6 40L0 40Z"), BY_HEAD)
    points = laid(piece, BY_HEAD, upright(BY_HEAD)).points
    middle = BY_HEAD.page_width / 4
    mouth, base = points[points[:, 1] == 0], points[points[:, 1] == 40]
    assert sorted(set(np.round(mouth[:, 0] - middle, 9))) == [0, 4.5]
    assert sorted(set(np.round(base[:, 0] - middle, 9))) == [0, 9]
    assert len(points) > 8  # the side that leans is bent, and has been cut for it


@pytest.mark.parametrize("drive", ["chuck", "roller"])
def test_what_was_laid_can_be_lifted(drive: str) -> None:
    """The proof's way back from the page: by angle, whatever drives the cup."""
    blank = cone(240, 300, 100)
    loading = replace(upright(blank), drive=drive)
    piece = Piece(120.0, parsed("M-20 10L25 10Q30 40 25 70L-20 70Z"), blank)
    page = laid(piece, blank, loading)
    back = lifted(page, (piece.centre,), blank, loading)
    for x, y in back.points:
        along = (x - piece.centre) * blank.circumference_at(100 - y) / blank.page_width
        on_wall = shapely.Point(along, y)
        assert shapely.LinearRing(_dense(piece.outline)).distance(on_wall) < 0.012


def _dense(outline: Outline) -> np.ndarray:
    return simulator.contours(outline.path_data())[0]


def _slack(line: Placed, blank: Blank, visible: float, by_ink: bool) -> float:
    """Return how much larger a line could be on its true outline about its middle, by bisection.

    The face is a polygon with a corner at every millimetre of height; nothing of it is taken from
    the program but circumferences.
    """
    (piece,) = line.pieces
    off = min(piece.angle, 360 - piece.angle) / 360
    handle = blank.handle.width / 2 + blank.handle.clearance
    heights = np.linspace(0, blank.height, round(blank.height) + 1)
    around = [blank.circumference_at(z) for z in heights]
    half = [min(c * visible / 720, c * off - handle) for c in around]
    face = shapely.Polygon(
        [*zip(half, heights, strict=True)]
        + [(-x, z) for x, z in zip(half[::-1], heights[::-1], strict=True)]
    )
    ink = shapely.LineString(
        _flat(piece.outline, 16) * (1, -1) + np.array((0, blank.height))
    ).convex_hull  # fmt: skip
    low = min(shaped(line.style, row).box.low for row in line.rows) / line.style.font.letter_height
    middle = line.box.low - low * line.letter_height + line.letter_height / 2
    if by_ink:
        middle = (line.box.low + line.box.high) / 2
    face = face.buffer(1e-6)
    shapely.prepare(face)
    smallest, largest = 0.5, 2.0
    for _ in range(30):
        factor = (smallest + largest) / 2
        scaled = affinity.scale(ink, factor, factor, origin=(0, middle))
        if face.contains(scaled):
            smallest = factor
        else:
            largest = factor
    return smallest


TAPERS = [(250, 330, 90), (330, 250, 90), (220, 300, 160), (290, 300, 120), (235, 262, 100)]


STACKINGS = ("ink", "baseline")


def _shared_out(kinds: Iterable[str], tapers: Iterable[tuple[int, int, int]]) -> list[tuple]:
    """Return kind, wall and stacking: by default every other one of all, each pair among them."""
    return [
        (kind, *taper, STACKINGS[(at + wall + more) % 2])
        for at, kind in enumerate(kinds)
        for wall, taper in enumerate(tapers)
        for more in range(drawn(1, 2))
    ]


@pytest.mark.parametrize(
    ("font", "base", "top", "height", "stacking"), _shared_out(["Great Vibes", "Oswald"], TAPERS)
)
def test_lettering_is_as_large_as_the_true_edge_allows(
    layout_of: LayoutOf, font: str, base: float, top: float, height: float, stacking: str
) -> None:
    """Within half a percent of what bisection finds on the outline, and never beyond it."""
    blank = cone(base, top, height, handle={"width": 20, "clearance": 8})
    size = {"max": "60 mm", "min": "1 mm"}
    name = {"text": "{name}", "font": font, "letter_height": size, "strengthen": 0}
    role = {"text": "{role}", "font": "Noto Sans", "gap": "5 mm",
            "letter_height": {"max": "4 mm", "min": "4 mm"}}  # fmt: skip
    for lines, face, angle in (([name], "opposite", 100), ([name], "drinker", 150),
                               ([name, role], "opposite", 110)):  # fmt: skip
        layout = layout_of(*lines, face=face, visible_angle=angle)
        layout = layout.model_copy(update={"stacking": stacking})
        for text in ("Jacqueline Fitzgerald", "Wilhelmina Gray", "Thea Quigley"):
            composition = compose(layout, blank, guest_named(text, "Oboe"), {}, HERE)
            left_over = _slack(composition.lines[0], blank, angle, stacking == "ink")
            assert 1 - 1e-4 <= left_over < 1.005, (text, left_over)
            found = found_in(guest_named(text, "Oboe"), composition, blank, frozenset({"name"}))
            assert "outside-face" not in {f.code for f in found}


def _stays_inside(composition: Composition, blank: Blank, visible: float) -> bool:
    """Whether all ink lies on the face, a polygon with a corner at every millimetre of height."""
    heights = np.linspace(0, blank.height, round(blank.height) + 1)
    around = [blank.circumference_at(z) for z in heights]
    handle = blank.handle.width / 2 + blank.handle.clearance
    off = min(composition.face.angle, 360 - composition.face.angle) / 360
    half = [min(c * visible / 720, c * off - handle) for c in around]
    face = shapely.Polygon(
        [*zip(half, heights, strict=True)]
        + [(-x, z) for x, z in zip(half[::-1], heights[::-1], strict=True)]
    )
    face = face.buffer(0.002)
    return all(
        face.covers(
            shapely.MultiPoint(_flat(piece.outline, 16) * (1, -1) + np.array((0, blank.height)))
        )
        for held in (*composition.lines, *composition.ornaments)
        for piece in held.pieces
    )


BESIDE: dict[str, dict[str, object]] = {
    "arc": {"arc": {"radius": "160 mm", "bow": "up"}},
    "hanging arc": {"arc": {"radius": "160 mm", "bow": "down"}},
    "laurel beside": {"ornament": [{"drawing": "laurel", "line": 1, "place": "beside",
                                    "width": "9 mm", "height": "14 mm", "gap": "3 mm"}]},
}  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "base", "top", "height", "stacking"), _shared_out(BESIDE, TAPERS[:3])
)
def test_arcs_and_what_stands_beside_are_as_large_as_the_true_edge_allows(
    layout_of: LayoutOf, kind: str, base: float, top: float, height: float, stacking: str
) -> None:
    """Half a percent more would leave the face; both are drawn, and looked at by shapely."""
    more = BESIDE[kind]
    blank = cone(base, top, height, handle={"width": 20, "clearance": 8})
    line = {"text": "{name}", "font": "Lora", "strengthen": 0} | {
        key: value for key, value in more.items() if key == "arc"
    }
    rest = {key: value for key, value in more.items() if key != "arc"}

    def made(most: float, least: float) -> Composition:
        size = {"max": f"{most} mm", "min": f"{least} mm"}
        layout = layout_of(
            line | {"letter_height": size}, face="opposite", visible_angle=100, **rest
        )
        layout = layout.model_copy(update={"stacking": stacking})
        return compose(layout, blank, guest_named("Thea Quigley"), {}, HERE)

    chosen = made(40, 1)
    size = chosen.lines[0].letter_height
    assert 4 < size < 39
    assert _stays_inside(chosen, blank, 100)
    larger = size * 1.005 + 0.01
    assert not _stays_inside(made(larger, larger), blank, 100)
