"""The main job read back by libraries and programs that took no part in making it."""

from __future__ import annotations

import io
import json
import math
import os
import random
import re
import shutil
import subprocess
from pathlib import Path

import names
import numpy as np
import pytest
import shapely
import svgelements
from browser import found_by_browser
from conftest import Samples, found_in, guest_named, upright_svg
from PIL import Image, ImageFont
from playwright.sync_api import Browser
from shapely.ops import unary_union

from mailmerge.artwork import Layout, compose, read_outlines
from mailmerge.blanks import Blank
from mailmerge.lettering import Outline, Style, coverage, letter, open_font, weld
from mailmerge.shelves import find, load, read_toml, shelf, validated

HERE = Path()


@pytest.fixture(scope="module")
def items(gala: Path) -> list[dict[str, object]]:
    report = json.loads((gala / "report.json").read_text(encoding="utf-8"))
    return [item for item in report["items"] if item["artwork"]]


AROUND = math.pi * 98
"""Millimetres around the demo's cup, which is 98 mm across."""


def _box(line: dict) -> tuple[float, float, float, float]:
    """Return a reported box as left, top, right, bottom of the demo's machine page.

    The mouth of the cup (190 mm high, 98 mm across) lies to the left and its handle to the front,
    so that x runs from the mouth to the base; the page ends at the handle, and s grows away from
    the operator, which is up on the page.
    """
    box = line["box_mm"]
    left = 190 - box["z"] - box["height"]
    return left, AROUND - box["s"] - box["width"], 190 - box["z"], AROUND - box["s"]


@pytest.mark.outside("xmllint")
def test_all_artwork_is_valid_svg_1_1(gala: Path, tmp_path: Path) -> None:
    """W3C's SVG 1.1 DTD, as Debian's w3c-sgml-lib brings it; the library's other layouts too."""
    dtd = Path("/usr/share/xml/w3c-sgml-lib/schema/dtd/REC-SVG11-20110816/svg11.dtd")
    if not dtd.exists():
        found = sorted(Path("/usr/share/xml").rglob("svg11.dtd"))
        assert found, "w3c-sgml-lib is not installed"
        dtd = found[0]
    files = sorted((gala / "artwork").iterdir())
    for name in shelf("layouts"):
        layout = load(Layout, "layouts", name, HERE)
        blank = load(Blank, "blanks", "handled-tumbler-40oz", HERE)
        words = {"order.title": "Gala", "order.subtitle": "12 December", "order.due": ""}
        composition = compose(layout, blank, guest_named("Zoë Ek", "Cello"), words, HERE)
        files.append(tmp_path / f"{name}.svg")
        files[-1].write_bytes(upright_svg(composition, blank, name))
    result = subprocess.run(
        ["xmllint", "--noout", "--nonet", "--dtdvalid", str(dtd), *files],
        capture_output=True, text=True,
    )  # fmt: skip
    assert result.returncode == 0, result.stderr[:2000]


def test_svgelements_finds_every_line_where_the_report_puts_it(
    gala: Path, items: list[dict]
) -> None:
    for item in items:
        svg = svgelements.SVG.parse(gala / item["artwork"], ppi=25.4)  # so that a unit is a mm
        paths = [element for element in svg.elements() if isinstance(element, svgelements.Path)]
        assert len(paths) == len(item["lines"])
        face = item["face"]
        for path, line in zip(paths, item["lines"], strict=True):
            left, top, right, bottom = path.bbox()
            box = (left, top, right, bottom)
            assert box == pytest.approx(_box(line), abs=0.05)
            assert AROUND - box[3] >= face["centre_mm"] - face["usable_width_mm"] / 2 - 0.01
            assert AROUND - box[1] <= face["centre_mm"] + face["usable_width_mm"] / 2 + 0.01
            assert 190 - 165 <= box[0] <= box[2] <= 190 - 45  # the band


@pytest.mark.long
def test_artwork_is_loaded_as_it_was_made_by_readers_that_ignore_half_of_it(
    gala: Path, items: list[dict]
) -> None:
    """With its viewBox or without, by its size or by its shapes: the same place and size.

    Common practice, from memory: such readers ignore where a viewBox begins, or a unit.
    """
    for item in items:
        text = (gala / item["artwork"]).read_text(encoding="utf-8")
        page, box = item["loading"]["page_mm"], item["loading"]["artwork_mm"]
        boxes = [
            _drawn_box(each, (page["width"], page["height"]))
            for each in (text, re.sub(r' viewBox="[^"]*"', "", text))
        ]
        assert boxes[0] == pytest.approx(boxes[1], abs=0.001)
        left, top, right, low = boxes[0]
        size = right - left, low - top
        assert (left, top, *size) == pytest.approx(
            (box["left"], box["top"], box["width"], box["height"]), abs=0.002
        )
        told = re.search(r"must measure ([\d.]+) x ([\d.]+) mm", text)
        assert told is not None
        assert [float(n) for n in told.groups()] == pytest.approx(size, abs=0.051)
        assert left > 0
        assert top > 0
        assert right < page["width"]
        assert low < page["height"]


def _drawn_box(text: str, page: tuple[float, float]) -> tuple[float, ...]:
    """Return left, top, right and bottom of all shapes of a file, a unit being a mm."""
    svg = svgelements.SVG.parse(io.StringIO(text), ppi=25.4)
    assert (svg.width, svg.height) == pytest.approx(page, abs=0.001)
    boxes = [each.bbox() for each in svg.elements() if isinstance(each, svgelements.Path)]
    lefts, tops, rights, lows = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(lows)


@pytest.mark.long
@pytest.mark.outside("chromium")
def test_a_browser_measures_the_same_boxes(
    chromium: Browser, gala: Path, items: list[dict]
) -> None:
    script = """
      const found = [...document.querySelectorAll("svg")].map(svg =>
        [...svg.querySelectorAll("path")].map(p => {
          const b = p.getBBox(); return [b.x, b.y, b.x + b.width, b.y + b.height]; }));"""
    drawings = "".join(
        (gala / item["artwork"]).read_text(encoding="utf-8").partition("?>")[2] for item in items
    )
    measured = found_by_browser(chromium, drawings, script)
    assert len(measured) == len(items)
    for boxes, item in zip(measured, items, strict=True):
        for box, line in zip(boxes, item["lines"], strict=True):
            assert box == pytest.approx(_box(line), abs=0.05)


@pytest.mark.parametrize("family", ["Alegreya Sans", "Great Vibes", "EB Garamond"])
def test_advance_widths_agree_with_pillows_text_engine(family: str) -> None:
    """Letter by letter: Pillow's basic layout knows no GPOS kerning and no ligatures."""
    font = open_font(family, 400, HERE)
    pillow = ImageFont.truetype(str(font.path), font.upem, layout_engine=ImageFont.Layout.BASIC)
    for char in "ABCHMQWabcgmwxyzäéßł0189&-. ":
        # One pixel is one font unit; FreeType's hinting rounds advances to whole pixels.
        assert letter(Style((font,)), char).advance == pytest.approx(pillow.getlength(char), abs=1)


def test_advances_of_the_box_font_agree_with_pillow(box_font: Path) -> None:
    pillow = ImageFont.truetype(str(box_font), 1000, layout_engine=ImageFont.Layout.BASIC)
    font = open_font(str(box_font), 400, HERE)
    for text in ("Hello", "HH gg", "A-B"):
        assert letter(Style((font,)), text).advance == pytest.approx(pillow.getlength(text), abs=1)


def _polygons(outline: Outline) -> list[shapely.Polygon]:
    """Return every contour flattened finely, as shapely sees it."""
    from test_proofs import _flat

    verbs = [f"M{part}" for part in outline.verbs.split("M")[1:]]
    starts = [*outline.starts, len(outline.points)]
    return [
        shapely.Polygon(_flat(Outline(verb, outline.points[start:end]), 16))
        for verb, start, end in zip(verbs, starts, starts[1:], strict=False)
    ]


def _area_of_welded(outline: Outline) -> float:
    shapes = sorted(_polygons(outline), key=lambda shape: -shape.area)
    total = shapely.Polygon()
    for shape in shapes:  # even-odd, outermost first
        total = total.symmetric_difference(shape.buffer(0))
    return total.area


@pytest.mark.parametrize("family", ["Great Vibes", "Dancing Script", "Pacifico"])
@pytest.mark.parametrize(
    "name",
    [
        "Zoë Lindqvist",
        *(
            pytest.param(name, marks=pytest.mark.long)
            for name in ("Wilhelmina", "Saoirse Ní Bhriain", "Łukasz")
        ),
    ],
)
def test_welded_area_is_shapelys_union_of_the_letters(family: str, name: str) -> None:
    import uharfbuzz as hb
    from fontTools.pens.recordingPen import DecomposingRecordingPen
    from fontTools.ttLib import TTFont
    from fontTools.varLib.instancer import instantiateVariableFont

    font = open_font(family, 400, HERE)
    source = TTFont(font.path)
    if "fvar" in source:
        source = instantiateVariableFont(source, {"wght": 400})
    glyphs = source.getGlyphSet()
    buffer = hb.Buffer()
    buffer.add_str(name)
    buffer.guess_segment_properties()
    hb.shape(font.hb_font, buffer)
    letters = []
    pen_x = 0
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        pen = DecomposingRecordingPen(glyphs)
        glyphs[source.getGlyphName(info.codepoint)].draw(pen)
        dx, dy = pen_x + position.x_offset, position.y_offset
        # Non-zero winding: contours that turn like the outermost add, the others cut.
        shapes = [
            (shapely.Polygon(points), _signed(points)) for points in _contours(pen.value, dx, dy)
        ]
        if shapes:
            outer = np.sign(max(shapes, key=lambda shape: abs(shape[1]))[1])
            solid = unary_union([s.buffer(0) for s, a in shapes if np.sign(a) == outer])
            holes = unary_union([s.buffer(0) for s, a in shapes if np.sign(a) != outer])
            letters.append(solid.difference(holes))
        pen_x += position.x_advance
    expected = unary_union(letters).area
    assert _area_of_welded(letter(Style((font,)), name).outline) == pytest.approx(
        expected, rel=0.001
    )


def _signed(points: list[tuple[float, float]]) -> float:
    x, y = np.array(points).T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2


def _contours(value: list, dx: float, dy: float) -> list[list[tuple[float, float]]]:
    """Return flattened contours of a recorded glyph, moved."""
    from fontTools.pens.basePen import decomposeQuadraticSegment

    contours: list[list[tuple[float, float]]] = []
    t = np.linspace(0, 1, 16)[1:, None]
    for verb, points in value:
        if verb == "moveTo":
            contours.append([points[0]])
        elif verb == "lineTo":
            contours[-1].append(points[0])
        elif verb == "qCurveTo":
            if points[-1] is None:
                implied = tuple((np.array(points[-2]) + np.array(points[0])) / 2)
                contours.append([implied])
                points = (*points[:-1], implied)
            for control, end in decomposeQuadraticSegment(points):
                a, b, c = (np.array(p, float) for p in (contours[-1][-1], control, end))
                contours[-1] += map(tuple, (1 - t) ** 2 * a + 2 * t * (1 - t) * b + t**2 * c)
        elif verb == "curveTo":
            a, b, c, d = (np.array(p, float) for p in (contours[-1][-1], *points))
            contours[-1] += map(
                tuple,
                (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d,
            )
    return [[(x + dx, y + dy) for x, y in contour] for contour in contours]


@pytest.mark.parametrize("name", ["Zoë Lindqvist", "Nguyễn Thị Ánh", "Bartholomew"])
def test_the_rasteriser_agrees_with_resvg(name: str) -> None:
    """The proof's coverage of the artwork's paths against resvg's picture of the same file."""
    import io

    import resvg_py

    # So many whole millimetres around that its picture has whole pixels.
    made = {**read_toml(find("blanks", "handled-tumbler-40oz", HERE)), "diameter": 310 / math.pi}
    blank = validated(Blank, made, "test")
    layout = load(Layout, "layouts", "name-over-role", HERE)
    composition = compose(layout, blank, guest_named(name, "Violin"), {}, HERE)
    artwork = upright_svg(composition, blank)
    scale = 5
    width, height = 310 * scale, 190 * scale
    # resvg rounds a page in mm to whole pixels; its viewBox at whole pixels fits exactly.
    in_pixels = re.sub(r'(width|height)="[\d.]+mm"', "", artwork.decode()).replace(
        "<svg ", f'<svg width="{width}" height="{height}" ', 1
    )
    data = resvg_py.svg_to_bytes(svg_string=in_pixels)
    theirs = np.asarray(Image.open(io.BytesIO(bytes(data))).convert("RGBA"))[..., 3].astype(int)
    ours = np.zeros((height, width), int)
    for outline in read_outlines(artwork).values():
        ours += coverage(outline.moved(scale, False, 0, 0), width, height)
    assert theirs.shape == ours.shape
    difference = np.abs(ours - theirs)
    assert (theirs > 0).sum() > 3000
    # resvg samples a pixel 4 x 4 times, so its edges come in steps of 16; ours are exact areas.
    assert difference[(theirs > 0) | (ours > 0)].mean() < 8
    assert (difference > 64).mean() < 1e-4
    assert ours.sum() == pytest.approx(theirs.sum(), rel=0.005)


TESSERACT_NAMES = [
    "Amara Okonkwo", "Chiara Bellandi", "Mateus Holm", "Dafydd Llewellyn", "Priya Raghunathan",
    "Kaito Mori", "Jonas Ek", "Veronika Hale", "Aoife Brennan", "Grace Achterberg",
]  # fmt: skip


@pytest.mark.long
@pytest.mark.outside("tesseract")
def test_tesseract_reads_plain_lettering_back(tmp_path: Path) -> None:
    blank = load(Blank, "blanks", "handled-tumbler-40oz", HERE)
    layout = load(Layout, "layouts", "plain", HERE)
    scale = 5
    wrong = []
    for name in TESSERACT_NAMES:
        composition = compose(layout, blank, guest_named(name), {}, HERE)
        picture = np.zeros((190 * scale, 310 * scale), np.uint8)
        for outline in read_outlines(upright_svg(composition, blank)).values():
            picture |= coverage(outline.moved(scale, False, 0, 0), 310 * scale, 190 * scale)
        rows, columns = np.nonzero(picture)
        cut = picture[rows.min() - 40 : rows.max() + 40, columns.min() - 40 : columns.max() + 40]
        cut = np.pad(cut, 60)
        Image.fromarray(255 - cut).save(tmp_path / "name.png", dpi=(127, 127))
        read = subprocess.run(
            ["tesseract", str(tmp_path / "name.png"), "-", "--psm", "6", "-l", "eng"],
            capture_output=True, text=True, check=True,
        ).stdout.split()  # fmt: skip
        if read != name.split():  # on one row or on two
            wrong.append((name, read))
    assert not wrong


@pytest.mark.long
def test_names_of_a_census_fit_or_are_flagged(samples: Samples) -> None:
    """Names from the census lists inside the PyPI package ``names``; none is copied here."""
    random.seed(20261212)
    count = samples(100, 2000)
    guests = list(dict.fromkeys(names.get_full_name() for _ in range(count * 11 // 10)))[:count]
    assert len(guests) == count
    blank = load(Blank, "blanks", "handled-mug-12oz", HERE)
    layout = load(Layout, "layouts", "name-over-role", HERE)
    ready = 0
    first_run: dict[str, bytes] = {}
    for name in guests:
        guest = guest_named(name, "Violin")
        composition = compose(layout, blank, guest, {}, HERE)
        found = found_in(guest, composition, blank, frozenset({"name", "role"}))
        first_run[name] = upright_svg(composition, blank, name)
        line = composition.lines[0]
        assert line.sound
        if any(finding.severity == "stop" for finding in found):
            assert not line.fits
        else:
            ready += 1
            assert line.fits
            assert line.box.left >= composition.face.left - 0.001
            assert line.box.right <= composition.face.right + 0.001
            assert line.letter_height >= 8
    assert ready > 0.95 * count
    # A second run that remembers nothing of the first gives the same bytes.
    weld.letter.cache_clear()
    weld._union.cache_clear()
    for name in reversed(guests[::4]):
        composition = compose(layout, blank, guest_named(name, "Violin"), {}, HERE)
        assert upright_svg(composition, blank, name) == first_run[name]


def test_programs_that_ci_needs_are_there() -> None:
    if os.environ.get("CI"):
        for program in ("xmllint", "chromium", "tesseract"):
            assert shutil.which(program), program
