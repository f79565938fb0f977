from __future__ import annotations

import io
import itertools
import struct
import unicodedata
import zlib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from conftest import guest_named, upright, upright_svg
from hypothesis import given, strategies as st
from numpy.typing import NDArray
from PIL import Image

from mailmerge.artwork import Composition, Layout, compose, read_outlines
from mailmerge.blanks import Blank, face_of
from mailmerge.checks import running_off
from mailmerge.guests import Hand
from mailmerge.lettering import Outline, coverage, letter
from mailmerge.lettering.outline import parsed
from mailmerge.proofs import Facts, Scene, View, canvas, draw_proof, proof
from mailmerge.proofs.canvas import Canvas
from mailmerge.proofs.palette import INK, MIXES, PAPER, RED, SHADES, SOFT, TINT, Palette
from mailmerge.proofs.png import part_of, png, strip_of
from mailmerge.proofs.projection import on_cup
from mailmerge.proofs.stage import Stage, stage_for
from mailmerge.proofs.text import broken, unbroken, width_of, wrapped
from mailmerge.shelves import load, shelf, validated

HERE = Path()
FACTS = Facts("Gala", "001", (("Name", "Zoë Lind"),), (("Coat", "black"),))

Picture = NDArray[np.int64]


@pytest.fixture(scope="module")
def tumbler() -> Blank:
    return load(Blank, "blanks", "handled-tumbler-40oz", HERE)


@pytest.fixture(scope="module")
def layout() -> Layout:
    return load(Layout, "layouts", "name-over-role", HERE)


def picture_of(
    blank: Blank, layout: Layout, name: str, hand: Hand = Hand.RIGHT, facts: Facts = FACTS,
    role: str = "Violin",
) -> tuple[Picture, Composition, Stage]:  # fmt: skip
    composition = compose(layout, blank, guest_named(name, role, hand), {}, HERE)
    facts = replace(facts, running_off=frozenset(running_off(composition, blank)))
    png = draw_proof(upright_svg(composition, blank), scene(blank, composition), facts).png()
    picture = np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(np.int64)
    return picture, composition, stage_for(blank, blank.coat[0], scene(blank, composition).views)


def scene(blank: Blank, composition: Composition) -> Scene:
    views = tuple(View(face, "Seen by somebody") for face in composition.faces)
    return Scene(blank, blank.coat[0], views, upright(blank), "Test", (), (0.0, 0.0, 0.0, 0.0), {})


def changed(picture: Picture, stage: Stage) -> NDArray[np.bool_]:
    """Return where a proof differs from its bare stage."""
    bare = np.rint(stage.canvas.palette.colours)[stage.canvas.pixels]
    return np.abs(picture - bare).sum(axis=2) > 30


def test_the_handle_is_on_the_holding_hands_side(tumbler: Blank, layout: Layout) -> None:
    right, _, stage = picture_of(tumbler, layout, "Zoë Lind")
    left, _, _ = picture_of(tumbler, layout, "Zoë Lind", Hand.LEFT)
    edge = round(stage.views[0][1] + tumbler.radius_at(0) * stage.cup_scale)
    rows = slice(round(stage.cup_top + 60), round(stage.cup_top + 500))
    beside = round(2 * stage.views[0][1] - edge)

    def dark(picture: Picture, columns: slice) -> int:
        return int((picture[rows, columns].sum(axis=2) < 200).sum())

    # The drinker's right hand holds the handle on the drinker's right.
    assert dark(right, slice(edge + 4, edge + 120)) > 5000
    assert dark(right, slice(beside - 120, beside - 4)) == 0
    assert dark(left, slice(beside - 120, beside - 4)) > 5000
    assert dark(left, slice(edge + 4, edge + 120)) == 0


def test_the_wrap_shows_the_lettering_where_the_report_puts_it(
    tumbler: Blank, layout: Layout
) -> None:
    picture, composition, stage = picture_of(tumbler, layout, "Zoë Lind")
    top, bottom = int(stage.wrap_box[1]), int(stage.wrap_box[3])
    ys, xs = np.nonzero(changed(picture, stage)[top:bottom, : int(stage.wrap_box[2])])
    left = min(line.box.left for line in composition.lines)
    right = max(line.box.right for line in composition.lines)
    high = max(line.box.high for line in composition.lines)
    assert xs.min() == pytest.approx(stage.wrap_left + left * stage.wrap_scale, abs=2)
    assert xs.max() == pytest.approx(stage.wrap_left + right * stage.wrap_scale, abs=2)
    assert ys.min() == pytest.approx((tumbler.height - high) * stage.wrap_scale, abs=2)


def test_an_overlong_name_runs_past_the_face_in_red(tumbler: Blank, layout: Layout) -> None:
    facts = Facts("Gala", "001", (("Name", "x"),), (), stops=(("too long", "shorten it"),))
    name = "Wilhelmina Featherstonehaugh-Cholmondeley-Smythe of Abernathy and Elsewhere"
    picture, composition, stage = picture_of(tumbler, layout, name, facts=facts)
    assert not composition.lines[0].fits
    assert composition.lines[0].box.right > composition.face.right
    wrap = picture[int(stage.wrap_box[1]) : int(stage.wrap_box[3]), : int(stage.wrap_box[2])]
    red = (wrap[..., 0] > 150) & (wrap[..., 1] < 130)
    columns = np.nonzero(red)[1]
    assert columns.max() > stage.wrap_left + composition.face.right * stage.wrap_scale + 2
    box = picture[140:400, 960:1540]
    assert ((box[..., 0] > 150) & (box[..., 1] < 60)).sum() > 500  # STOPPED, in words


def test_the_lettering_is_drawn_from_the_artworks_bytes(tumbler: Blank, layout: Layout) -> None:
    """Another path in the file gives another picture, whatever was composed."""
    composition = compose(layout, tumbler, guest_named("Zoë Lind", "Violin"), {}, HERE)
    square = b'<svg><path d="M215 80L255 80L255 120L215 120Z" fill="#000000" id="line-1" /></svg>'
    png = draw_proof(square, scene(tumbler, composition), FACTS).png()
    picture = np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(np.int64)
    stage = stage_for(tumbler, tumbler.coat[0], scene(tumbler, composition).views)
    on_wrap = changed(picture, stage)[int(stage.wrap_box[1]) : int(stage.wrap_box[3])]
    assert on_wrap[:, : int(stage.wrap_box[2])].sum() == pytest.approx(
        (40 * stage.wrap_scale) ** 2, rel=0.05
    )


@given(s=st.floats(-70, 70), radius=st.floats(25, 60))
def test_places_on_the_wrap_are_seen_at_r_sin(s: float, radius: float) -> None:
    # Projection of a cylinder seen from far: x = R sin(s / R).
    blank = validated(
        Blank,
        {
            "name": "x", "diameter": 2 * radius, "height": 100, "band": {"from": 10, "to": 90},
            "coat": [{"name": "x", "colour": "#000000"}],
        },
        "x",
    )  # fmt: skip
    face = face_of(blank, 180, 120)
    at = face.centre + s
    seen = on_cup(parsed(f"M{at} 10L{at} 20L{at} 30Z"), blank, face)
    turned = max(-np.pi / 2, min(np.pi / 2, s / radius))
    assert seen.points[:, 0] == pytest.approx(radius * np.sin(turned), abs=1e-9)
    assert seen.points[:, 1].tolist() == [10, 20, 30]


@pytest.mark.parametrize(
    "data", ["M0 0L40 0L40 5L0 5Z", "M0 0Q20 30 40 0Z", "M0 0C9 9 30 30 40 0Z"]
)
def test_long_steps_bend_with_the_cup(tumbler: Blank, data: str) -> None:
    """The outline seen is within 0.03 mm of one that is cut into a thousand pieces first."""
    face = face_of(tumbler, 180, 120)
    outline = parsed(data).moved(1.0, False, face.centre - 10, 0)
    seen = _flat(on_cup(outline, tumbler, face))
    dense = _flat(outline, 1000)
    radius = tumbler.radius_at(0)
    exact = np.column_stack([radius * np.sin((dense[:, 0] - face.centre) / radius), dense[:, 1]])
    line = shapely.LineString(seen)
    assert max(line.distance(shapely.Point(point)) for point in exact) < 0.03


def _flat(outline: Outline, pieces: int = 60) -> NDArray[np.float64]:
    """Return points along an outline, by evaluating every step's polynomial."""
    counts = {"M": 1, "L": 1, "Q": 2, "C": 3, "Z": 0}
    steps: dict[str, list[list[int]]] = {verb: [] for verb in "LQC"}
    order: dict[str, list[int]] = {verb: [] for verb in "LQC"}
    at = start = number = 0
    for verb in outline.verbs:
        if verb == "M":
            start = at
        else:
            corners = [at - 1, start] if verb == "Z" else [*range(at - 1, at + counts[verb])]
            steps["L" if verb == "Z" else verb].append(corners)
            order["L" if verb == "Z" else verb].append(number)
            number += 1
        at += counts[verb]
    found = np.empty((number, pieces, 2))
    t = np.linspace(0, 1, pieces)[:, None]
    for verb in "LQC":
        if steps[verb]:
            p = outline.points[np.array(steps[verb])][:, :, None]  # step, corner, moment, axis
            while p.shape[1] > 1:
                p = p[:, :-1] * (1 - t) + p[:, 1:] * t
            found[order[verb]] = p[:, 0]
    return found.reshape(-1, 2)


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("face", ["drinker", "onlookers", "opposite", "200"])
def test_the_cup_agrees_with_a_ray_traced_cylinder(tumbler: Blank, hand: Hand, face: str) -> None:
    """Rays from the eye hit a cylinder; each hit looks its place up in the flat artwork.

    The tracer shares nothing with the proof: it intersects lines with x^2 + z^2 = R^2, measures the
    angle of the hit from the handle, and reads the artwork as a picture drawn by Pillow.
    """
    layout = load(Layout, "layouts", "plain", HERE).model_copy(update={"face": face})
    picture, composition, stage = picture_of(tumbler, layout, "Anna Holm", hand)
    fine = 12  # artwork pixels per mm
    sheet = Image.new("L", (round(314 * fine), round(190 * fine)), 0)
    from PIL import ImageDraw

    draw = ImageDraw.Draw(sheet)
    for outline in read_outlines(upright_svg(composition, tumbler)).values():
        starts = [*outline.starts, len(outline.points)]
        verbs = [f"M{part}" for part in outline.verbs.split("M")[1:]]
        shapes = [
            shapely.Polygon(_flat(Outline(verb, outline.points[start:end]), 12) * fine)
            for verb, start, end in zip(verbs, starts, starts[1:], strict=False)
        ]
        for shape in sorted(shapes, key=lambda shape: -shape.area):  # letters, then their holes
            inside = sum(other.contains(shape) for other in shapes if other is not shape)
            draw.polygon(list(shape.exterior.coords), fill=0 if inside % 2 else 255)
    artwork = np.asarray(sheet)
    assert artwork.max() == 255

    eye = np.radians(composition.face.angle)
    middle, radius = stage.views[0][1], tumbler.radius_at(0)
    half = int(radius * stage.cup_scale) - 3
    columns = np.arange(round(middle) - half, round(middle) + half)
    across = (columns + 0.5 - middle) / stage.cup_scale
    depth = np.sqrt(radius**2 - across**2)  # the hit nearest to the eye
    angle = (eye + np.arctan2(across, depth)) % (2 * np.pi)
    rows = np.arange(round(stage.cup_top) + 8, round(stage.cup_top + 190 * stage.cup_scale) - 8)
    down = (rows + 0.5 - stage.cup_top) / stage.cup_scale
    traced = artwork[
        np.clip((down * fine).astype(int), 0, artwork.shape[0] - 1)[:, None],
        np.clip((angle * radius * fine).astype(int), 0, artwork.shape[1] - 1)[None],
    ]
    drawn = changed(picture, stage)[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    inked = traced > 127
    assert inked.sum() > 1500
    # They may differ along edges only: grow and shrink the traced ink by a pixel.
    from scipy.ndimage import binary_dilation, binary_erosion

    ring = np.ones((3, 3), bool)
    assert not (drawn & ~binary_dilation(inked, ring, iterations=2)).any()
    assert not (binary_erosion(inked, ring, iterations=1) & ~drawn).any()


def contrast(one: Picture, other: Picture) -> float:
    """WCAG 2.2, definitions of relative luminance and contrast ratio."""

    def luminance(colour: Picture) -> float:
        share = np.asarray(colour, float) / 255
        linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
        return float(linear @ [0.2126, 0.7152, 0.0722])

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_that_of_the_standard() -> None:
    # WCAG 2.2, success criterion 1.4.3: #767676 on white is 4.54 : 1, #777777 is 4.48 : 1.
    white = np.array([255, 255, 255])
    assert contrast(np.array([0x76] * 3), white) == pytest.approx(4.54, abs=0.005)
    assert contrast(np.array([0x77] * 3), white) == pytest.approx(4.48, abs=0.005)


def test_metal_stands_out_from_every_coat_of_the_library() -> None:
    # WCAG 2.2, success criterion 1.4.3: large text 3 : 1 at least.
    for name in shelf("blanks"):
        for coat in load(Blank, "blanks", name, HERE).coat:
            palette = Palette(coat.colour, coat.reveal)
            flat = palette.colours[SHADES // 2 * MIXES]
            engraved = palette.colours[palette.engraving[SHADES // 2 * MIXES, -1]]
            assert contrast(flat, engraved) >= 3, (name, coat.name)


def test_labels_can_be_read_on_the_paper() -> None:
    # Large text (24 px and more at the size of the picture): 3 : 1 at least.
    assert contrast(np.array(SOFT), np.array(PAPER)) >= 4
    assert contrast(np.array(INK), np.array(PAPER)) >= 7
    assert contrast(np.array(RED), np.array(TINT)) >= 4.5


def test_no_word_is_left_out_however_many_there_are() -> None:
    texts = (("Name", "Wolfeschlegelsteinhausenbergerdorff " * 8), ("Role", "Keeper " * 40))
    details = tuple((f"Detail {n}", "value " * 6) for n in range(8))
    stops = tuple(("something is wrong " * 6, "do something about it " * 6) for _ in range(4))
    for facts in (
        Facts("T", "001", texts, details),
        Facts("T", "001", texts, details, stops),
        Facts("T", "001", (("Name", "محمد" * 30),), details, stops),
    ):
        scale = 1.0
        while sum(row.down for row in proof._rows(facts, scale)) > proof._COLUMN_HEIGHT:
            scale *= 0.94
        assert scale > 0.2
        shown = [row for row in proof._rows(facts, scale) if row.label.strip()]
        assert [row.label for row in shown] == [name for name, _ in details]


@pytest.mark.parametrize(
    "name", ["李美玲", "x" * 300, "\u202e abc", "Zo\u0301\u0301\u0301e", "🎻", "שלום Zoë", "-" * 90]
)
def test_any_name_gives_a_proof_of_the_right_size(
    tumbler: Blank, layout: Layout, name: str
) -> None:
    facts = Facts("Gala", "001", (("Name", name),), (), (("stopped", "advice"),), frozenset(name))
    picture, _, _ = picture_of(tumbler, layout, name, facts=facts)
    assert picture.shape[1] == 1600


@given(st.text(st.characters(categories=["L", "Mn"]), min_size=1, max_size=60), st.integers(4, 30))
def test_a_word_is_never_broken_without_a_hyphen(word: str, room: int) -> None:
    """Parts that end in a hyphen make the word again; a letter keeps its marks."""
    parts = broken(word, len, room)
    assert "".join(part.removesuffix("-") for part in parts) == word
    for part, after in itertools.pairwise(parts):
        assert part.endswith("-") or unicodedata.east_asian_width(part[-1]) in "WF"
        assert not unicodedata.combining(after[0])


def test_a_word_breaks_after_its_own_hyphens_first() -> None:
    assert broken("Featherstonehaugh-Cholmondeley", len, 20) == [
        "Featherstonehaugh-", "Cholmondeley",
    ]  # fmt: skip
    assert broken("Featherstonehaugh", len, 10) == ["Featherst-", "onehaugh"]
    assert wrapped("Ida Featherstonehaugh", 20, 400, 120)[0] == "Ida"
    # A name is set smaller before any word of it is broken.
    wide = width_of("Featherstonehaugh", 20, 400)
    assert unbroken("Ida Featherstonehaugh", 20, 400, wide * 0.8) == pytest.approx(16)
    assert unbroken("Ida", 20, 400, wide) == 20
    assert unbroken("Ida Featherstonehaugh", 20, 400, wide * 0.1) == 12


def test_strips_one_below_the_other_are_one_picture() -> None:
    """RFC 1950 and 1951: the stream of several strips is whole, its checksum that of all rows."""
    rows = np.random.default_rng(3).integers(0, 256, (70, 91)).astype(np.uint8)
    palette = Palette("#202020", "#c0c0c0")
    strips = [Canvas(palette, part).strip() for part in (rows[:1], rows[1:40], rows[40:])]
    data = png(strips, palette.colours)
    assert np.array_equal(np.asarray(Image.open(io.BytesIO(data))), rows)
    start = data.index(b"IDAT")
    (length,) = struct.unpack(">I", data[start - 4 : start])
    plain = zlib.decompress(data[start + 4 : start + 4 + length])  # compares the checksum
    assert len(plain) == 70 * 92


def test_a_part_that_is_cut_out_is_what_pillow_crops() -> None:
    draw = np.random.default_rng(4)
    rows = draw.integers(0, 256, (60, 71), dtype=np.uint8)
    rows[:, 0] = 0
    colours = draw.integers(0, 256, (256, 3)).astype(np.float64)
    whole = png([strip_of(rows[:25]), strip_of(rows[25:])], colours)
    with Image.open(io.BytesIO(whole)) as picture:
        for box in ((0, 0, 70, 60), (3, 20, 70, 31), (69, 59, 70, 60)):
            with Image.open(io.BytesIO(part_of(whole, box))) as part:
                cropped = picture.crop(box)
                assert part.size == cropped.size
                assert part.convert("RGB").tobytes() == cropped.convert("RGB").tobytes()


def saved(picture: Image.Image, **how: object) -> bytes:
    found = io.BytesIO()
    picture.save(found, "PNG", **how)  # type: ignore[arg-type]
    return found.getvalue()


def test_a_picture_that_is_none_of_ours_or_damaged_is_not_cut() -> None:
    whole = png([strip_of(np.zeros((9, 10), np.uint8))], np.zeros((256, 3)))
    assert part_of(whole, (0, 0, 9, 9))
    at = whole.index(b"IDAT") + 8
    filtered = np.zeros((9, 10), np.uint8)
    filtered[4, 0] = 2
    others = [
        b"",
        whole[:20],
        whole[:at],
        whole[:at] + bytes([whole[at] ^ 255]) + whole[at + 1 :],
        saved(Image.new("RGB", (9, 9))),
        saved(Image.new("P", (9, 9)), bits=4),
        png([strip_of(filtered)], np.zeros((256, 3))),
    ]
    for other in others:
        with pytest.raises(ValueError, match=r"^$"):
            part_of(other, (0, 0, 9, 9))


@pytest.mark.parametrize("size", [40.0, 23.0])
@pytest.mark.parametrize("text", ["Agnès Wójcik, Tuba", "سارة الخطيب", "अनन्या शर्मा", "נועה לוי"])
def test_a_label_of_single_letters_is_as_the_whole_text_drawn_at_once(
    text: str, size: float
) -> None:
    """Each letter may lie an eighth of a pixel off each way, and joined ones show no seam.

    A slanting edge moves by an eighth of a pixel's diagonal, and is no longer than that diagonal: a
    quarter of a pixel.
    """
    style = canvas.plain_style(400)
    drawn = canvas.label(text, size)
    scale = size / style.font.upem
    height, width = drawn.picture.shape
    whole = letter(style, text).outline.moved(scale, True, -drawn.left, -drawn.top)
    at_once = coverage(whole, width, height).astype(int)
    assert np.abs(drawn.picture - at_once).max() <= 255 / 4
    assert int(drawn.picture.sum()) == pytest.approx(int(at_once.sum()), rel=0.01)


def test_an_ink_leaves_what_it_does_not_cover() -> None:
    palette = Palette("#202020", "#c0c0c0")
    every = np.arange(256, dtype=np.uint8).reshape(16, 16)
    for ink in (palette.ink(INK), palette.engraving):
        page = Canvas(palette, every)
        page.stain(np.zeros((16, 16), np.uint8), 0, 0, ink)
        assert np.array_equal(page.pixels, every)
