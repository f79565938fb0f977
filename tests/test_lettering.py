from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from boxfont import write_box_font
from hypothesis import given, strategies as st

from mailmerge.findings import InputError
from mailmerge.lettering import (
    Box,
    Outline,
    Style,
    coverage,
    families,
    largest_letter_height,
    letter,
    open_font,
    shaped,
    weld,
)
from mailmerge.lettering.outline import parsed


def test_shaping_places_boxes_by_advance(box_font: Path) -> None:
    lettering = letter(Style((open_font(str(box_font), 400, Path()),)), "Hx g")
    # H 600, x 500, blank 300, g 500; ink from H's left room to g's right edge at 1400 + 450.
    assert lettering.advance == 1900
    assert lettering.box == Box(50, -200, 1850, 700)
    assert lettering.outline.verbs.count("M") == 3
    assert lettering.missing == ()


def test_kerning_is_applied_and_overlapping_letters_become_one(box_font: Path) -> None:
    lettering = letter(Style((open_font(str(box_font), 400, Path()),)), "AV")
    # A ends at 550, V starts at 600 - 150 + 50 = 500: one shape from 50 to 1000.
    assert lettering.box == Box(50, 0, 1000, 700)
    assert lettering.outline.verbs.count("M") == 1
    assert lettering.sound


def test_missing_characters_are_named_and_never_drawn_as_boxes(box_font: Path) -> None:
    lettering = letter(Style((open_font(str(box_font), 400, Path()),)), "HéH李")
    assert lettering.missing == ("é", "李")
    assert lettering.outline.verbs.count("M") == 2


def test_letter_height_is_the_ink_of_h_where_the_font_states_none(tmp_path: Path) -> None:
    font = open_font(str(write_box_font(tmp_path / "bare.ttf", cap_height=0)), 400, Path())
    assert font.letter_height == 700


@given(
    ink_width=st.floats(0.1, 60),
    ink_height=st.floats(0.5, 3),
    width=st.floats(1, 200),
    height=st.floats(1, 100),
    maximum=st.floats(1, 40),
)
def test_fit_is_the_largest_hundredth_that_fits(
    ink_width: float, ink_height: float, width: float, height: float, maximum: float
) -> None:
    found = largest_letter_height(ink_width, ink_height, width, height, maximum)

    def fits(size: float) -> bool:
        slack = 1e-6
        return (
            size <= maximum + slack
            and size * ink_width <= width + slack
            and size * ink_height <= height + slack
        )

    assert fits(found)
    assert not fits(found + 0.0101)


def test_a_smaller_room_never_enlarges_the_text() -> None:
    sizes = [largest_letter_height(5, 1.2, width, 30, 15) for width in range(100, 10, -1)]
    assert sizes == sorted(sizes, reverse=True)


def test_no_room_gives_no_height() -> None:
    assert largest_letter_height(5, 1, 0, 30, 15) == 0


@pytest.mark.parametrize("family", ["Great Vibes", "Dancing Script", "Pacifico"])
def test_connected_scripts_weld_into_joined_shapes(family: str) -> None:
    font = open_font(family, 400, Path())
    word = letter(Style((font,)), "nnnnn")
    alone = letter(Style((font,)), "n")
    # Each n has one outer contour; joined they are one, and lose the area of their overlaps.
    assert word.outline.verbs.count("M") < 5 * alone.outline.verbs.count("M")
    assert word.sound
    # Curves stay curves.
    assert word.outline.verbs.count("Q") + word.outline.verbs.count("C") > 20


def test_welded_contours_fill_alike_under_both_rules() -> None:
    """Outer contours turn one way and holes the other, so non-zero and even-odd agree."""
    font = open_font("Great Vibes", 400, Path())
    outline = letter(Style((font,)), "Bo8g").outline
    signs = []
    for start, end in zip(outline.starts, [*outline.starts[1:], len(outline.points)], strict=True):
        x, y = outline.points[start:end].T
        signs.append(np.sign(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)))
    assert {*signs} == {-1.0, 1.0}
    scale = 0.2
    drawn = outline.moved(scale, True, 20, 220)
    both = coverage(drawn, 700, 300)
    by_contour = np.zeros((300, 700), int)
    verbs = [f"M{part}" for part in drawn.verbs.split("M")[1:]]
    ends = [*drawn.starts[1:], len(drawn.points)]
    for verb, start, end in zip(verbs, drawn.starts, ends, strict=True):
        by_contour += coverage(Outline(verb, drawn.points[start:end]), 700, 300) > 127
    assert ((by_contour % 2 == 1) == (both > 127)).mean() > 0.999


def test_a_weld_that_is_off_is_done_again_piece_by_piece(monkeypatch: pytest.MonkeyPatch) -> None:
    font = open_font("Dancing Script", 400, Path())
    right = letter(Style((font,)), "Mensik Herbert")
    seen = []

    def wrong(pieces: list[object]) -> object:
        seen.append(len(pieces))
        return pieces[0]  # loses all letters but one

    monkeypatch.setattr(weld, "_union_at_once", wrong)
    weld.letter.cache_clear()
    weld._union.cache_clear()
    again = letter(Style((font,)), "Mensik Herbert")
    weld.letter.cache_clear()
    weld._union.cache_clear()
    assert max(seen) > 1
    assert again.sound
    assert again.box.width == pytest.approx(right.box.width, abs=1)

    monkeypatch.setattr(weld, "_union_by_piece", wrong)
    assert not letter(Style((font,)), "Mensik Herbert").sound
    weld.letter.cache_clear()
    weld._union.cache_clear()


def test_right_to_left_lines_run_right_to_left(box_font: Path) -> None:
    # UAX #9: Hebrew runs from the right. Bet is typed first, so it stands right of alef:
    # alef from 50 to 350, then bet from 400 + 50 to 400 + 550.
    outline = letter(Style((open_font(str(box_font), 400, Path()),)), "\u05d1\u05d0").outline
    edges = sorted(
        (float(part[:, 0].min()), float(part[:, 0].max()))
        for part in np.split(outline.points, outline.starts[1:])
    )
    assert edges == [(50, 350), (450, 950)]


def test_at_least_eight_families_with_open_licences() -> None:
    found = families()
    assert len(found) >= 8
    assert all(family.license in ("OFL-1.1", "Apache-2.0") for family in found)


@pytest.mark.parametrize(
    ("wanted", "weight", "says"),
    [
        ("Graet Vibes", 400, '"Graet Vibes" is not installed. Did you mean "Great Vibes"'),
        ("Great Vibes", 900, r"has no weight 900\. Its weights are: 400\."),
        ("Cinzel", 300, r"has no weight 300\. Its weights go from 400 to 900\."),
        ("missing.ttf", 400, r"missing\.ttf: The file cannot be read"),
    ],
)
def test_an_unknown_font_is_said(wanted: str, weight: int, says: str, tmp_path: Path) -> None:
    with pytest.raises(InputError, match=says):
        open_font(wanted, weight, tmp_path)


@pytest.mark.parametrize(
    "content", [b"", b"not a font at all", b"\0\1\0\0" + b"\xff" * 200, b"wOF2xx"]
)
def test_a_file_that_is_no_font_is_said(content: bytes, tmp_path: Path) -> None:
    (tmp_path / "bad.ttf").write_bytes(content)
    with pytest.raises(InputError, match=r"bad\.ttf: The file is not a"):
        open_font("bad.ttf", 400, tmp_path)


def test_web_fonts_are_unpacked(box_font: Path, tmp_path: Path) -> None:
    from fontTools.ttLib import TTFont

    font = TTFont(box_font)
    font.flavor = "woff2"
    font.save(tmp_path / "boxes.woff2")
    packed = letter(Style((open_font("boxes.woff2", 400, tmp_path),)), "Hello")
    assert packed.box == letter(Style((open_font(str(box_font), 400, Path()),)), "Hello").box


def test_path_data_is_read_back_to_a_micrometre() -> None:
    outline = letter(Style((open_font("Great Vibes", 400, Path()),)), "Zoë").outline.moved(
        0.02, True, 100, 50
    )
    again = parsed(outline.path_data())
    assert again.verbs == outline.verbs
    assert np.abs(again.points - outline.points).max() <= 0.000501


@pytest.mark.parametrize("data", ["M0 0 A1 1 0 0 0 2 2Z", "M0 0 L1", "m0 0l1 1z", "M0 0Lx 1"])
def test_foreign_path_data_is_refused(data: str) -> None:
    with pytest.raises(ValueError, match=r"path data with (other steps|a step)"):
        parsed(data)


def test_bounds_are_those_of_the_curve_not_of_its_control_points() -> None:
    # A quadratic from (0, 0) over (1, 2) to (2, 0) peaks at half its control point's height.
    assert parsed("M0 0Q1 2 2 0Z").box == pytest.approx(Box(0, 0, 2, 1))
    # A cubic with both control points at y = 4 peaks at 3/4 of it.
    assert parsed("M0 0C0 4 2 4 2 0Z").box == pytest.approx(Box(0, 0, 2, 3))


def test_area_is_that_of_the_curve() -> None:
    # Under a parabola of base 2 and height 1: 2/3 of the rectangle. Under the cubic, the integral
    # of y dx = 12 t (1 - t) * 12 t (1 - t) dt over 0 to 1: 144 / 30.
    assert abs(parsed("M0 0Q1 2 2 0Z").area) == pytest.approx(4 / 3)
    assert abs(parsed("M0 0C0 4 2 4 2 0Z").area) == pytest.approx(144 / 30)
    # A hole turns the other way and is taken off: 10 x 10 less 4 x 5.
    assert abs(parsed("M0 0L10 0L10 10L0 10ZM2 2L2 7L6 7L6 2Z").area) == pytest.approx(80)


@pytest.mark.parametrize(
    ("family", "text", "tracking"),
    [("Great Vibes", "Weiss", 0), ("Pacifico", "Krzysztof", 0), ("Dancing Script", "lilies", -200)],
)
def test_letters_cover_together_what_they_cover_when_drawn_at_once(
    family: str, text: str, tracking: int
) -> None:
    """Set close, three letters of "lilies" share a place: each two would take it off again."""
    style = Style((open_font(family, 400, Path()),), tracking)
    placed = tuple(
        (font, id_, scale, x, y) for font, id_, scale, x, y, *_ in shaped(style, text).glyphs
    )
    at_once = weld.covered_area(weld._untouched(placed), 4_000_000)
    # A fifth of what the weld may be off.
    assert weld._covered_by(placed) == pytest.approx(at_once, rel=weld.AREA_TOLERANCE / 5)
