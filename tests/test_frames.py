"""Frames and wreaths: they grow with the text that they stand around."""

from __future__ import annotations

from pathlib import Path

import pytest
import shapely
from conftest import LayoutOf, found_in, guest_named

from mailmerge.artwork import Composition, compose
from mailmerge.artwork.compose import Drawn
from mailmerge.blanks import Blank
from mailmerge.lettering import Box, Outline
from mailmerge.lettering.flat import polygons
from mailmerge.shelves import load

GAP, WIDTH, HEIGHT = 1.0, 80.0, 48.0


def framed(layout_of: LayoutOf, blank: Blank, name: str, frame: str) -> Composition:
    """Return a name in a frame over a role without one."""
    layout = layout_of(
        {"text": "{name}", "letter_height": {"max": "5 mm", "min": "2 mm"}},
        {"text": "{role}", "letter_height": {"max": "4 mm", "min": "3 mm"}, "gap": "3 mm"},
        ornament=[
            {"drawing": frame, "line": 1, "place": "around", "width": f"{WIDTH} mm",
             "height": f"{HEIGHT} mm", "gap": f"{GAP} mm"}
        ],
    )  # fmt: skip
    return compose(layout, blank, guest_named(name, "Cello"), {}, Path())


def area_of(outline: Outline) -> shapely.Geometry:
    """Return a drawing's ink, its rings by the even-odd rule."""
    area = shapely.Polygon()
    for ring in polygons(outline, 0.005):
        area = area.symmetric_difference(shapely.Polygon(ring).buffer(0))
    return area


def grown(box: Box, by: float) -> shapely.Geometry:
    return shapely.box(box.left - by, box.low - by, box.right + by, box.high + by)


def parts(composition: Composition) -> tuple[Outline, Drawn, Outline]:
    """Return the name, its frame and what the frame's one piece is."""
    (drawn,) = composition.ornaments
    return composition.lines[0].pieces[0].outline, drawn, drawn.pieces[0].outline


@pytest.mark.parametrize("frame", ["frame-rounded", "frame-deco", "laurel", "rope-ring"])
def test_a_frame_stands_around_its_text_and_no_larger_than_it_has_to(
    layout_of: LayoutOf, blank: Blank, frame: str
) -> None:
    widths = []
    for name in ("Bo", "Anna", "Annelies"):
        composition = framed(layout_of, blank, name, frame)
        text, drawn, outline = parts(composition)
        assert composition.lines[0].fits
        ink = area_of(outline)
        assert not ink.intersects(grown(text.box, GAP - 0.02))
        assert ink.intersects(grown(text.box, GAP + 0.02))
        assert outline.box.width <= WIDTH + 0.01
        assert outline.box.height <= HEIGHT + 0.01
        assert drawn.box.low > composition.lines[1].box.high + 2.9
        engraved = frozenset({"name", "role"})
        found = found_in(guest_named(name, "Cello"), composition, blank, engraved)
        assert not [f.code for f in found if f.code in ("lines-overlap", "outside-band")]
        widths.append((outline.box.width, composition.lines[0].letter_height))
    grown_by_text = [width for width, letters in widths if letters == 5.0]
    assert len(grown_by_text) > 1
    assert grown_by_text == sorted(set(grown_by_text))


@pytest.mark.parametrize("turned", ["", "matrix(-1 0 0 1 100 0)", "matrix(1 0 0 -1 0 60)"])
def test_a_corner_cut_off_on_one_side_alone_keeps_clear_too(
    layout_of: LayoutOf, blank: Blank, tmp_path: Path, turned: str
) -> None:
    (tmp_path / "cut.svg").write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 60"><path transform="{turned}" '
        f'd="M0 0H100V60H0ZM5 30V55H95V5H60Z" fill-rule="evenodd"/></svg>',
        encoding="utf-8",
    )
    text, _, outline = parts(framed(layout_of, blank, "Anna", str(tmp_path / "cut.svg")))
    ink = area_of(outline)
    assert not ink.intersects(grown(text.box, GAP - 0.02))
    assert ink.intersects(grown(text.box, GAP + 0.02))


def test_a_frame_of_another_line_is_still_met(layout_of: LayoutOf, blank: Blank) -> None:
    layout = layout_of(
        {"text": "{name}"},
        {"text": "{role}", "height": "50 mm"},
        ornament=[
            {"drawing": "laurel", "line": 1, "place": "around", "width": "60 mm",
             "height": "60 mm", "gap": "1 mm"}
        ],
    )  # fmt: skip
    guest = guest_named("Bo", "Cello")
    composition = compose(layout, blank, guest, {}, Path())
    found = found_in(guest, composition, blank, frozenset({"name", "role"}))
    assert "lines-overlap" in {f.code for f in found}


def test_a_frame_holds_what_a_face_and_its_box_allow(layout_of: LayoutOf, blank: Blank) -> None:
    name = "Maximiliane Charlotte Feodora Hedwig Amalia Josephine"
    composition = framed(layout_of, blank, name, "rope-ring")
    assert not composition.lines[0].fits
    narrow = load(Blank, "blanks", "slim-tumbler-20oz", Path())
    text, drawn, outline = parts(framed(layout_of, narrow, "Annelies", "frame-rounded"))
    assert drawn.box.width <= drawn.face.usable_width + 0.01
    assert outline.box.width > text.box.width + 2 * GAP


def test_a_frame_stands_on_a_tapered_wall_as_on_a_straight_one(layout_of: LayoutOf) -> None:
    tapered = load(Blank, "blanks", "tapered-tumbler-30oz", Path())
    composition = framed(layout_of, tapered, "Annelies", "laurel")
    text, _, outline = parts(composition)
    assert composition.lines[0].fits
    assert not area_of(outline).intersects(grown(text.box, GAP - 0.02))
    engraved = frozenset({"name", "role"})
    found = found_in(guest_named("Annelies", "Cello"), composition, tapered, engraved)
    assert not [f.code for f in found if f.code in ("lines-overlap", "outside-face")]
