"""The whole way, proved by engraving it: artwork and loading go into a simulated workshop.

See ``simulator``, which shares no code with the project.
"""

from __future__ import annotations

import contextlib
import io
import itertools
import math
from dataclasses import replace
from functools import cache, partial
from pathlib import Path

import numpy as np
import pytest
import shapely
import simulator
from conftest import Samples, guest_named
from draws import drawn
from hypothesis import example, given, settings, strategies as st
from PIL import Image, ImageDraw, ImageFont
from scipy import ndimage
from simulator import EYES, Setup, Wall

from mailmerge.artwork import Layout, compose, sheet_of, write_svg
from mailmerge.blanks import Blank, Zone
from mailmerge.guests import Hand
from mailmerge.items import Item, make_item
from mailmerge.lettering import open_font
from mailmerge.machines import Machine, load_on
from mailmerge.orders import Design
from mailmerge.proofs import View
from mailmerge.proofs.stage import stage_for
from mailmerge.shelves import load, shelf, validated

HERE = Path()

MACHINES = [
    name for name in shelf("machines") if load(Machine, "machines", name, HERE).rotary is not None
]
ROUND = [name for name in shelf("blanks") if not load(Blank, "blanks", name, HERE).is_flat]
FACES = ("drinker", "onlookers", "opposite")
WANTED = 0.02
"""Millimetres that the lettering may be off."""


@cache
def design_of(blank: str, machine: str, face: str) -> Design:
    layout = load(Layout, "layouts", "plain", HERE).model_copy(update={"face": face})
    chosen = load(Blank, "blanks", blank, HERE)
    return Design(
        folder=HERE,
        title="Gala",
        words={},
        blank=chosen,
        coat=chosen.coat[0],
        layout=layout,
        machine=load(Machine, "machines", machine, HERE),
    )


def wall_of(blank: Blank) -> Wall:
    """Return the wall from the numbers of the file alone."""
    if blank.taper:
        slope = (blank.taper.top - blank.taper.base) / blank.taper.distance
        base = blank.taper.base - slope * blank.taper.from_
        return Wall(base, base + slope * blank.height, blank.height)
    around = blank.circumference
    assert around is not None
    return Wall(around, around, blank.height)


def setup_of(told: dict, blank: Blank) -> Setup:
    """Return how the load picture says that the cup is put in; a person sees where its mark is."""
    places = {zone.mark: zone.at for zone in blank.zones}
    places |= {f"{zone.mark} at {zone.at:g}°": zone.at for zone in blank.zones}
    return Setup(
        drive=told["drive"],
        mouth=told["mouth"],
        backwards=told["backwards"],
        mark=told["datum"],
        mark_at=places.get(told["mark"], 0.0),
        tick=told["tick_mm"] or 0.0,
        set_circumference=told["set_circumference_mm"],
        mouth_circumference=wall_of(blank).mouth,
        start=(told["start_mm"]["x"], told["start_mm"]["y"]),
        middle_turn=told["turn_to_face_deg"],
    )


def intended(design: Design, name: str, hand: Hand) -> list[list[np.ndarray]]:
    """Return the design as it was set: mm from the face's middle and below the mouth."""
    made = compose(design.layout, design.blank, guest_named(name, "", hand), {}, HERE)
    return [simulator.contours(piece.outline.path_data()) for line in made.lines
            for piece in line.pieces]  # fmt: skip


@pytest.mark.parametrize("blank", ROUND)
@pytest.mark.parametrize("machine", MACHINES)
def test_what_is_engraved_is_what_was_meant(machine: str, blank: str, samples: Samples) -> None:
    """Every hand and face: to 0.02 mm on the wall, the handle where it belongs, in reading order.

    Sideways, upright and unmirrored follow from the places; the next test shows them to an eye.
    By default a blank has both hands on one face on one machine, and the next face on the next.
    """
    every = samples(3, 1)
    first = (MACHINES.index(machine) + ROUND.index(blank)) % every
    for hand, face in [*itertools.product(Hand, FACES)][first::every]:
        design = design_of(blank, machine, face)
        item = Item(1, 1, guest_named("Fred Lögg", "", hand), (), 3)
        made = make_item(design, item, picture=False)
        told = made.entry.model_dump()["loading"]
        wall = wall_of(design.blank)
        setup = setup_of(told, design.blank)
        artwork = (made.artwork or drawn_anyway(design, item)).decode()
        eye = EYES[str(hand), face]
        for path, meant in zip(
            simulator.paths(artwork), intended(design, "Fred Lögg", hand), strict=True
        ):
            got = [
                simulator.flattened(simulator.engrave(ring, wall, setup), wall, eye)
                for ring in path
            ]
            assert len(got) == len(meant)
            for ring, other in zip(got, meant, strict=True):
                assert off(other, ring) < WANTED, (hand, face)
                assert off(ring, other) < WANTED, (hand, face)
                # And not merely the same line run through the other way: letters have insides.
                assert shapely.Polygon(ring).area == pytest.approx(
                    shapely.Polygon(other).area, rel=0.01
                )


def off(outline: np.ndarray, points: np.ndarray) -> float:
    """Return how far from a closed outline the furthest point lies; 0 if none lies too far."""
    ring = shapely.LinearRing(outline)
    shapely.prepare(ring)
    far = points[~shapely.dwithin(ring, shapely.points(points), WANTED)]
    return float(shapely.distance(ring, shapely.points(far)).max()) if len(far) else 0.0


def drawn_anyway(design: Design, item: Item) -> bytes:
    """Return the artwork of an item that its machine cannot engrave: its page is right as well."""
    made = compose(design.layout, design.blank, item.guest, {}, HERE)
    loading = load_on(design.blank, design.machine, None, made.span()[::2])
    return write_svg(sheet_of(made, design.blank, loading), "t", "d")


def foreshortened(
    text: str, font: ImageFont.FreeTypeFont, shape: tuple[int, int], half: float, radius: float
) -> np.ndarray:
    """Return Pillow's picture of a text as it looks on a cylinder, half so wide (mm), centred.

    A column that is seen x off the middle lies R asin(x / R) along the wall.
    """
    drawn = Image.new("L", (1400, 400), 0)
    ImageDraw.Draw(drawn).text((100, 100), text, 255, font=font)
    flat = np.asarray(drawn.crop(drawn.getbbox()).resize((1000, shape[0])))
    seen = np.linspace(-half, half, shape[1])
    along = radius * np.arcsin(seen / radius)
    reach = along[-1]
    columns = np.clip((along + reach) / (2 * reach) * 1000, 0, 999).astype(int)
    return flat[:, columns] > 127


EVERYTHING = {
    "name": "Everything",
    "face": "drinker",
    "visible_angle": 100,
    "line": [
        {"text": "{name}", "font": "Lora", "letter_height": {"max": "9 mm", "min": "2 mm"}},
        {"text": "Gala", "font": "Noto Sans", "face": "onlookers",
         "letter_height": {"max": "8 mm", "min": "2 mm"}},
        {"text": "R14", "font": "Noto Sans", "face": "opposite", "height": "low",
         "letter_height": {"max": "4 mm", "min": "2 mm"}},
        {"text": "Frost", "font": "Noto Sans", "letter_height": {"max": "4 mm", "min": "2 mm"},
         "ring": {"height": "high", "repeat": True}},
    ],
    "border": [{"drawing": "wave", "height": "12 mm", "size": "4 mm"}],
}  # fmt: skip
"""Two faces, a line with its own height, repeats and a border."""


LEANING = ("slim-tumbler-20oz", "tapered-tumbler-30oz", "wide-base-mug-14oz")
DATUMS = ("up", "other side", "tick")
MARKED = [
    (machine, blank, DATUMS[(m + b + more) % len(DATUMS)])
    for m, machine in enumerate(MACHINES)
    for b, blank in enumerate(LEANING)
    for more in range(drawn(1, len(DATUMS)))
]
"""Machine, blank and mark: by default a blank has one mark on one machine, the next on the next."""


@pytest.mark.parametrize(("machine", "blank", "datum"), MARKED)
def test_everything_at_once_from_any_mark(machine: str, blank: str, datum: str) -> None:
    """Every piece about its own meridian, to 0.02 mm, wherever the order's own mark is."""
    design = design_of(blank, machine, "drinker")
    assert design.machine.rotary is not None
    if datum == "other side":
        datum = {"left": "back", "right": "front", "away": "right", "toward": "right"}[
            design.machine.rotary.mouth
        ]
    layout = validated(Layout, EVERYTHING, "everything")
    design = replace(design, layout=layout, datum=datum)
    item = Item(1, 1, guest_named("Fred Lögg", "", Hand.LEFT), (), 3)
    made = compose(layout, design.blank, item.guest, {}, HERE)
    loading = load_on(design.blank, design.machine, datum, made.span()[::2])
    artwork = write_svg(sheet_of(made, design.blank, loading), "t", "d").decode()
    wall = wall_of(design.blank)
    setup = setup_of(make_item(design, item, False).entry.model_dump()["loading"], design.blank)
    placed = [*made.lines, *made.ornaments]
    assert [len(each.pieces) > 5 for each in placed] == [False, False, False, True, True]
    if setup.drive == "roller" and design.blank.taper:
        placed = placed[:1]  # the model of rollers has one middle: the first face's
    for path, meant in zip(simulator.paths(artwork), placed, strict=False):
        rings = iter(path)
        for piece in meant.pieces:
            angle = math.radians(piece.angle)
            for other in simulator.contours(piece.outline.path_data()):
                burnt = simulator.engrave(next(rings), wall, setup)
                got = simulator.flattened(burnt, wall, (math.cos(angle), math.sin(angle)))
                if piece.around:  # measured as an angle
                    got[:, 0] *= piece.around / (2 * math.pi) / wall.radius(got[:, 1])
                assert off(other, got) < WANTED, meant


SAID = "Fig Raj"
"""No letter of it reads the same mirrored or upside down, nor does the whole."""


READ = ("handled-mug-12oz", "tapered-mug-16oz", "wide-base-mug-14oz")


@pytest.mark.parametrize("blank", READ)
@pytest.mark.parametrize("machine", MACHINES)
def test_an_eye_reads_it(machine: str, blank: str, samples: Samples) -> None:
    """Ray-traced from where the reader is, it looks like what Pillow's text engine draws.

    Unmirrored and upright: the picture fits the text better than any turned or mirrored one. By
    default a blank has every other hand on each face on one machine, and the rest on the next.
    """
    ours = open_font("Noto Sans", 600, HERE)
    font = ImageFont.truetype(str(ours.path), 120)
    with contextlib.suppress(OSError):  # a font without axes has its weight already
        font.set_variation_by_axes([600 if a["name"] == b"Weight" else a["default"]
                                    for a in font.get_variation_axes()])  # fmt: skip
    every = samples(2, 1)
    first = (MACHINES.index(machine) + READ.index(blank)) % every
    for hand, face in [*itertools.product(Hand, FACES)][first::every]:
        design = design_of(blank, machine, face)
        item = Item(1, 1, guest_named(SAID, "", hand), (), 3)
        made = make_item(design, item, picture=False)
        artwork = (made.artwork or drawn_anyway(design, item)).decode()
        wall = wall_of(design.blank)
        setup = setup_of(made.entry.model_dump()["loading"], design.blank)
        burnt = [
            [simulator.engrave(ring, wall, setup) for ring in path]
            for path in simulator.paths(artwork)
        ]
        picture = simulator.seen(burnt, wall, EYES[str(hand), face], 4)
        ys, xs = np.nonzero(picture)
        assert len(ys) > 500, (hand, face)
        middle = picture.shape[1] / 2
        assert abs((xs.min() + xs.max()) / 2 - middle) < 3  # centred on the face
        cut = picture[ys.min() : ys.max() + 1, xs.min() : xs.max() + 1]
        text = foreshortened(
            SAID, font, cut.shape, (xs.max() - xs.min()) / 8, float(wall.radius(ys.mean() / 4))
        )
        alike = {
            way: float((turned == text).mean())
            for way, turned in {
                "right": cut, "mirrored": cut[:, ::-1], "upside down": cut[::-1],
                "turned": cut[::-1, ::-1],
            }.items()
        }  # fmt: skip
        assert max(alike, key=alike.get) == "right", (hand, face, alike)
        assert alike["right"] > 0.95, (hand, face, alike)


def _passes(setup: simulator.Setup, around: float, zone: Zone, turns: list[float]) -> bool:
    """Whether a zone of the wall comes under the head on the way to any of the turns."""
    wide = zone.width / 2 / around * 360
    return simulator.passes_under_head(setup, turns, wide, zone.at)


@pytest.mark.parametrize("blank", ROUND)
@pytest.mark.parametrize("machine", MACHINES)
def test_nothing_that_stands_out_runs_under_the_head(machine: str, blank: str) -> None:
    """Where what stands out is higher than the head clears, no turn of a ready item passes it."""
    for hand, face in itertools.product(Hand, FACES):
        design = design_of(blank, machine, face)
        rotary, zones = design.machine.rotary, design.blank.zones
        assert rotary is not None
        made = make_item(design, Item(1, 1, guest_named("Fred", "", hand), (), 3), picture=False)
        codes = {finding.code for finding in made.entry.findings}
        if "face-on-handle" in codes:
            continue  # there is nothing to engrave
        setup = setup_of(made.entry.model_dump()["loading"], design.blank)
        turn = made.entry.loading.turn_to_face_deg
        half = made.entry.face.usable_width_mm / 2 / setup.set_circumference * 360

        passes = partial(_passes, setup, design.blank.smallest_circumference)
        high = [zone for zone in zones if zone.width and (zone.stands_out or 0) > rotary.clearance]
        passed = any(passes(zone, [turn - half, turn + half]) for zone in high)
        assert passed == ("handle-under-head" in codes), (hand, face)
        # The longer way around is never taken where it would bring the handle by.
        assert abs(turn) + half < 360
        if not zones[0].width or (setup.mark == "up" and not setup.mark_at):
            continue
        assert not passes(zones[0], [turn - half, turn + half])
        # Would the other way have passed it? Then the choice was one.
        if abs(turn) > 1:
            assert passes(zones[0], [turn - math.copysign(360, turn)])


@st.composite
def _marks(draw: st.DrawFn, height: float) -> dict[str, object]:
    """Something on the wall that is not to be met, anywhere on it."""
    low = draw(st.floats(0, height * 0.8))
    return {
        "kind": draw(st.sampled_from(["mark", "ridge", "bracket"])),
        "at": draw(st.floats(20, 340)),
        "width": draw(st.floats(2, 60)),
        "from": low,
        "to": draw(st.floats(low + 1, height)),
        "clearance": draw(st.floats(0, 6)),
        "stands_out": 0,
    }


@st.composite
def _high(draw: st.DrawFn) -> dict[str, object]:
    """Something that stands out, anywhere on the wall, as high as it or not."""
    ends = draw(st.sampled_from([{}, {"to": 30}, {"from": 140}]))
    return {
        "kind": draw(st.sampled_from(["handle", "bracket", "ridge"])),
        "name": draw(st.sampled_from([None, "part", "other part"])),
        "at": draw(st.one_of(st.sampled_from([0.0, 4.0, 356.0]), st.floats(0, 359))),
        "width": draw(st.floats(8, 60)),
        "stands_out": draw(st.floats(0, 60)),
        **ends,
    }


@given(
    zones=st.lists(_high(), min_size=1, max_size=3), machine=st.sampled_from(MACHINES),
    hand=st.sampled_from(list(Hand)), face=st.sampled_from([*FACES, "30", "330", "150"]),
    name=st.sampled_from(["Li", "Bartholomew Achterberg-Greene"]),
)  # fmt: skip
@settings(max_examples=drawn(50, 150), deadline=None)
def test_no_zone_that_stands_out_passes_under_the_head_on_any_cup(
    zones: list[dict[str, object]], machine: str, hand: Hand, face: str, name: str
) -> None:
    """In the whole turn to every point that is burnt, beside lettering as well as below it."""
    keys = {
        "name": "Cup", "circumference": 260, "height": 170, "band": {"from": 8, "to": 160},
        "zone": zones, "coat": [{"name": "black", "colour": "#101010"}],
    }  # fmt: skip
    blank = validated(Blank, keys, "cup")
    design = replace(
        design_of("bottle-25oz", machine, "drinker"), blank=blank, layout=plain(face, None)
    )
    made = make_item(design, Item(1, 1, guest_named(name, "", hand), (), 3), picture=False)
    rotary = design.machine.rotary
    assert rotary is not None
    if made.artwork is None:
        return  # a stop, whatever it is for
    setup = setup_of(made.entry.model_dump()["loading"], blank)
    wall = wall_of(blank)
    burnt = np.concatenate(
        [
            simulator.engrave(ring, wall, setup)
            for ring in itertools.chain.from_iterable(simulator.paths(made.artwork.decode()))
        ]
    )
    # From the line that is under the head at the start to where the points are, on the page's way.
    page, across = made.entry.loading.page_mm, setup.mouth in ("left", "right")
    assert (page.left, page.top) == (0, 0)
    assert 0 <= setup.start[across] <= (page.height if across else page.width)
    start = made.entry.loading.under_head_at_start_deg
    at = np.degrees(np.arctan2(burnt[:, 1], burnt[:, 0])) % 360
    # Of the two ways out from the zero itself the shorter one is taken.
    turns = at - (360 if start == 0 and at.min() + at.max() > 360 else start)
    for zone in blank.zones:
        if zone.width and (zone.stands_out or 0) > rotary.clearance:
            assert not _passes(setup, 260, zone, [float(turns.min()), float(turns.max())]), zone


@st.composite
def measured(draw: st.DrawFn) -> Blank:
    """Any cup that somebody may measure: straight or leaning, with a handle or not, with marks."""
    around = draw(st.floats(190, 340))
    slope = draw(st.one_of(st.just(0.0), st.floats(-0.7, 0.7)))
    height = draw(st.floats(70, 180))
    low = draw(st.floats(4, height / 4))
    handle = draw(st.one_of(st.just(0.0), st.floats(15, 35)))
    keys: dict[str, object] = {
        "name": "Measured",
        "height": height,
        "band": {"from": low, "to": height - draw(st.floats(4, height / 4))},
        "handle": {"width": handle, "clearance": draw(st.floats(2, 14))},
        "zone": draw(st.lists(_marks(height), max_size=2)),
        "coat": [{"name": "black", "colour": "#101010"}],
    }
    if slope:
        tapes = around - slope * height / 2, around + slope * height / 2
        keys["taper"] = {"base": tapes[0], "top": tapes[1], "distance": height}
    else:
        keys["circumference"] = around
    return validated(Blank, keys, "measured")


def cone(base: float, mouth: float, *zones: dict[str, object], height: float = 150) -> Blank:
    keys = {
        "name": "Cone",
        "taper": {"base": base, "top": mouth, "distance": height},
        "height": height,
        "band": {"from": 8, "to": height - 10},
        "zone": zones,
        "coat": [{"name": "black", "colour": "#101010"}],
    }
    return validated(Blank, keys, "cone")


HEIGHTS = st.sampled_from([None, "low", "high"])
"""Where the name stands: in the band's middle, where a wall is as wide as its page, or not."""


def plain(face: str, height: str | None) -> Layout:
    layout = load(Layout, "layouts", "plain", HERE)
    name, role = layout.line
    lines = (name.model_copy(update={"height": height}), role)
    return layout.model_copy(update={"face": face, "line": lines})


NAMES = ("Li", "Zoë Lindqvist", "Nguyễn Thị Ánh Tuyết", "Bartholomew Achterberg-Greene", "Şule Gök")


@given(
    blank=measured(), machine=st.sampled_from(MACHINES), hand=st.sampled_from(list(Hand)),
    face=st.sampled_from(["drinker", "onlookers", "opposite", "150"]),
    name=st.sampled_from(NAMES), height=HEIGHTS,
)  # fmt: skip
@example(
    cone(217.5, 252.5, {"kind": "mark", "at": 304, "width": 2, "from": 36, "to": 37}, height=70),
    "diode-rotary", Hand.RIGHT, "drinker", "Şule Gök", None,
)  # fmt: skip
@settings(max_examples=drawn(20, 120), deadline=None)
def test_ink_is_inside_the_band_and_off_every_zone(
    blank: Blank, machine: str, hand: Hand, face: str, name: str, height: str | None
) -> None:
    """Every point that a ready item burns, measured on the cup with tape and ruler."""
    layout = plain(face, height)
    design = replace(design_of("bottle-25oz", machine, "drinker"), blank=blank, layout=layout)
    made = make_item(design, Item(1, 1, guest_named(name, "Viola", hand), (), 3), picture=False)
    placed = {"outside-band", "outside-face", "weld-unsound"}
    if height is None:  # a name at a height of its own may meet the role, and that is a stop
        placed.add("lines-overlap")
    assert not placed & {finding["code"] for finding in made.entry.model_dump()["findings"]}
    if made.artwork is None:
        return
    wall = wall_of(blank)
    setup = setup_of(made.entry.model_dump()["loading"], design.blank)
    for ring in itertools.chain.from_iterable(simulator.paths(made.artwork.decode())):
        burnt = simulator.engrave(ring, wall, setup)
        below = -burnt[:, 2] / math.cos(wall.lean)
        up = blank.height - below
        assert up.min() > blank.band.from_ - 0.01
        assert up.max() < blank.band.to + 0.01
        to_the_right = np.degrees(np.arctan2(burnt[:, 1], burnt[:, 0]))
        for zone in blank.zones:
            off = np.abs((to_the_right - zone.at + 180) % 360 - 180)
            beside = np.radians(off) * wall.radius(below)
            at_its_heights = (up > zone.low + 0.01) & (up < zone.high - 0.01)
            assert (beside[at_its_heights] > zone.width / 2 + zone.clearance - 0.01).all()


@given(
    blank=measured(), machine=st.sampled_from(MACHINES), hand=st.sampled_from(list(Hand)),
    face=st.sampled_from(FACES), name=st.sampled_from(NAMES[:3]), height=HEIGHTS,
)  # fmt: skip
@example(cone(190, 290), "diode-rotary", Hand.RIGHT, "drinker", "Zoë Lindqvist", "low")
@example(cone(330, 230), "fibre-rotary", Hand.LEFT, "onlookers", "Zoë Lindqvist", "high")
@example(cone(230, 330), "diode-roller", Hand.LEFT, "opposite", "Zoë Lindqvist", "high")
@settings(max_examples=drawn(1, 12), deadline=None)
def test_the_proofs_cup_is_what_the_eye_sees(
    blank: Blank, machine: str, hand: Hand, face: str, name: str, height: str | None
) -> None:
    """The on-cup picture against the ray tracer's, to one pixel."""
    layout = plain(face, height)
    design = replace(design_of("bottle-25oz", machine, "drinker"), blank=blank, layout=layout)
    item = Item(1, 1, guest_named(name, "", hand), (), 3)
    made = make_item(design, item, picture=True)
    if made.artwork is None:
        return
    composition = compose(layout, blank, item.guest, {}, HERE)
    words = made.entry.model_dump()["faces"]
    assert len(words) == 1
    proof = np.asarray(Image.open(io.BytesIO(made.proof or b"")).convert("RGB"))[:990, :950]
    views = (View(composition.face, _said_of(face, blank)),)
    stage = stage_for(blank, blank.coat[0], views)
    bare = np.rint(stage.canvas.palette.colours)[stage.canvas.pixels[:990, :950]]
    scale, middle = stage.cup_scale, stage.views[0][1]
    wall = wall_of(blank)
    setup = setup_of(made.entry.model_dump()["loading"], design.blank)
    burnt = [
        [simulator.engrave(ring, wall, setup) for ring in path]
        for path in simulator.paths(made.artwork.decode())
    ]
    # The words beside the cup begin at 950 px, the rule below it is at 1000.
    place = (middle, stage.cup_top, 950, 990)
    seen = simulator.seen(burnt, wall, EYES[str(hand), face], scale, place)
    change = np.abs(proof - bare).sum(axis=2)
    change[:130] = 0  # the title
    drawn = change > change.max() / 2
    assert drawn.sum() > 200
    near = ndimage.binary_dilation(seen, np.ones((3, 3)))
    assert not (drawn & ~near).any()
    near = ndimage.binary_dilation(change > change.max() / 8, np.ones((3, 3)))
    assert not (seen & ~near).any()


def _said_of(face: str, blank: Blank) -> str:
    where = {"drinker": "Facing the drinker", "onlookers": "Facing the onlookers"}
    return where.get(face, f"Opposite the {blank.zero}")
