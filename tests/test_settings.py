"""The test card, looked at with other programs than those that made it; recipes."""

from __future__ import annotations

import csv
import datetime as dt
import io
import itertools
import json
import os
import re
import shutil
import subprocess
from decimal import Decimal
from pathlib import Path
from typing import Any

import numpy as np
import openpyxl
import pytest
from coloraide import Color
from conftest import Office
from outside import assert_nothing_is_cut_off, facts_of, refused, said, text_of
from PIL import Image
from shop import keep_recipe
from svgelements import SVG, Group, Path as SvgPath

from mailmerge.artwork import lifted
from mailmerge.blanks import Blank, angle_of, face_of
from mailmerge.deeds.settings import Written, keep_cell, make_test_card, recipes
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.items.record import Kind
from mailmerge.lettering.outline import parsed
from mailmerge.machines import Machine
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.shelves import find, load, read_toml, shelf, validated
from mailmerge.units import parse_values
from mailmerge.workshop.settings.card import (
    LABELS,
    MOST_CELLS,
    SettingsCard,
    card_for,
    card_svg,
    colours,
    grid_of,
)
from mailmerge.workshop.settings.key import read_cell
from mailmerge.workshop.settings.recipes import choice_for, starting_points
from mailmerge.workshop.shop.shop import open_shop


def card(
    blank: str,
    machine: str,
    power: str = "20..80x5",
    speed: str = "100..300x4",
    passes: str = "1,2",
    face: str = "opposite",
    width: float | None = None,
) -> SettingsCard:
    data = read_toml(find("blanks", blank, Path()))
    cup = validated(Blank, data | ({"width": width} if width else {}), blank)
    across = parse_values(power)
    grid = grid_of(across, parse_values(speed), parse_values(passes), 0.1)
    place = face_of(cup, angle_of(face, Hand.RIGHT), 120)
    beam = load(Machine, "machines", machine, Path())
    return card_for(cup, cup.coat[0], beam, place, grid, len(across), grid[0], "for this test")


def a_tumbler(coat: str) -> Kind:
    """Return the library's tumbler in a coat."""
    return Kind(TUMBLER, coat, load(Blank, "blanks", "handled-tumbler-40oz", Path()).identity)


def groups_of(svg: bytes) -> dict[str, SvgPath]:
    """Return the only path of each group, as svgelements reads them (1 mm is 1 unit)."""
    document = SVG.parse(io.BytesIO(svg), ppi=25.4)
    found = {}
    for group in document.select(lambda each: isinstance(each, Group) and each.id):
        (path,) = (each for each in group.select() if isinstance(each, SvgPath))
        found[group.id] = path
    return found


@pytest.mark.parametrize("machine", ["diode-rotary", "co2-roller-across", "fibre-rotary"])
def test_cells_lie_apart_from_each_other_and_on_the_face(machine: str) -> None:
    made = card("handled-tumbler-40oz", machine)
    groups = groups_of(card_svg(made))
    assert len(groups) == 41
    page = made.loading.page
    left, top, width, height = page.box_of(
        made.face.left, made.blank.band.from_, made.face.right, made.blank.band.to
    )
    boxes = {}
    for name, path in groups.items():
        x0, y0, x1, y1 = path.bbox()
        assert left - 0.01 <= x0 < x1 <= left + width + 0.01
        assert top - 0.01 <= y0 < y1 <= top + height + 0.01
        boxes[name] = (x0, y0, x1, y1)
    cells = {name: box for name, box in boxes.items() if name != LABELS}
    for a, b in itertools.combinations(cells.values(), 2):
        apart = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
        assert apart >= 1.0
    for x0, y0, x1, y1 in cells.values():
        assert min(x1 - x0, y1 - y0) > 8  # large enough to be judged


def test_labels_run_into_no_cell() -> None:
    """By pixels: the box of the labels is around all of the grid."""
    import resvg_py

    svg = card_svg(card("handled-tumbler-40oz", "diode-rotary"))

    def ink(keep: str) -> np.ndarray:
        def wanted(found: re.Match[bytes]) -> bytes:
            return found[0] if (found[1] == LABELS.encode()) == (keep == LABELS) else b""

        kept = re.sub(rb'<g fill="[^"]*" id="([^"]*)">.*?</g>', wanted, svg)
        png = bytes(resvg_py.svg_to_bytes(svg_string=kept.decode(), dpi=200, background="white"))
        return np.asarray(Image.open(io.BytesIO(png)).convert("L")) < 250

    labels, cells = ink(LABELS), ink("cells")
    assert labels.sum() > 1000
    assert cells.sum() > 50_000
    assert not (labels & cells).any()


def test_every_cell_has_a_patch_a_line_and_a_word() -> None:
    made = card("handled-tumbler-40oz", "diode-rotary")
    svg = card_svg(made).decode()
    data = re.search(r'id="A1_power-20[^>]*><path d="([^"]+)"', svg)
    assert data
    contours = data[1].count("M")
    # A patch, a line, and four letters, of which R, o and two of a's have counters.
    assert contours == 2 + 4 + 3
    outline = parsed(data[1])
    areas = []
    for start, end in zip(outline.starts, [*outline.starts[1:], len(outline.points)], strict=True):
        low, high = outline.points[start:end].min(axis=0), outline.points[start:end].max(axis=0)
        areas.append(tuple(sorted((high - low).tolist())))
    assert areas[0][0] > 4.5  # the patch
    assert areas[1][0] == pytest.approx(made.machine.spot, abs=1e-3)  # as fine as the beam


@pytest.mark.parametrize("blank", ["tapered-tumbler-30oz", "tapered-mug-16oz"])
def test_on_a_tapered_wall_cells_are_as_large_as_meant(blank: str) -> None:
    made = card(blank, "diode-rotary", "20..80x3", "100..300x3", "1")
    svg = card_svg(made).decode()
    for cell in made.cells:
        data = re.search(rf'id="{re.escape(cell.group)}"><path d="([^"]+)"', svg)
        assert data
        wall = lifted(parsed(data[1]), (made.face.centre,), made.blank, made.loading)
        x, y = wall.points.T
        around = np.array([made.blank.circumference_at(made.blank.height - each) for each in y])
        from_middle = (x - made.face.centre) * around / made.blank.page_width
        assert from_middle.min() == pytest.approx(cell.box.left, abs=0.02)
        assert from_middle.max() == pytest.approx(cell.box.right, abs=0.02)


def test_the_card_fits_flat_goods_too() -> None:
    made = card("coaster-100mm", "flatbed", "20..80x4", "100..300x4", "1")
    assert (made.columns, made.rows) == (4, 4)
    assert len(groups_of(card_svg(made))) == 17


@pytest.mark.outside("xmllint")
@pytest.mark.outside("/usr/share/xml/w3c-sgml-lib/schema/dtd")
def test_the_card_is_valid_svg(tmp_path: Path) -> None:
    path = tmp_path / "card.svg"
    path.write_bytes(card_svg(card("handled-tumbler-40oz", "diode-rotary")))
    found = subprocess.run(["xmllint", "--noout", path], capture_output=True, text=True)
    assert found.returncode == 0, found.stderr
    text = path.read_text(encoding="utf-8")
    assert "<text" not in text
    assert "stroke" not in text


@pytest.mark.parametrize(
    ("power", "speed", "passes", "words"),
    [
        (
            "10..90x12",
            "100..300x3",
            "1",
            r"Found 12 cells across and 3 down\..* There is room for 8 "
            r"across and 11 down\.",
        ),
        (
            "20..80x3",
            "100..300x6",
            "1,2",
            r"Found 3 cells across and 12 down\..* too small to judge",
        ),
        ("20..80x8", "100..300x7", "1", r"Found 56 cells\. A card has 48 at most"),
    ],
)
def test_cells_too_small_to_be_judged_are_refused(
    power: str, speed: str, passes: str, words: str
) -> None:
    with pytest.raises(InputError, match=words):
        card("handled-tumbler-40oz", "diode-rotary", power, speed, passes)


def test_as_many_cells_as_it_says_do_fit() -> None:
    assert (
        len(card("handled-tumbler-40oz", "diode-rotary", "10..80x8", "100..300x6", "1").cells) == 48
    )
    assert card("handled-tumbler-40oz", "diode-rotary", "50", "100..300x11", "1").rows == 11


@pytest.mark.long
def test_the_colours_of_cells_can_be_told_apart() -> None:
    """CIEDE2000 by coloraide, for every number of cells there may be."""
    for count in range(2, MOST_CELLS + 1):
        found = [Color(colour) for colour in (*colours(count), "#000000")]
        apart = min(a.delta_e(b, method="2000") for a, b in itertools.combinations(found, 2))
        assert apart >= 3.0, count


def test_the_colours_go_evenly_around_the_hue_circle() -> None:
    hues = [Color(colour).convert("hsl")["hue"] for colour in colours(24)]
    steps = np.diff([*hues, hues[0] + 360])
    assert steps == pytest.approx(15, abs=1.0)


@pytest.mark.parametrize(
    ("typed", "values"),
    [
        ("20..80x5", ["20", "35", "50", "65", "80"]),
        ("100..300x4", ["100", "167", "233", "300"]),
        ("1..2x3", ["1", "1.5", "2"]),
        ("20, 40,60", ["20", "40", "60"]),
        ("35", ["35"]),
        ("1000..2000x3", ["1000", "1500", "2000"]),
        ("299..300x3", ["299", "299.5", "300"]),  # three digits would not tell them apart
    ],
)
def test_ranges_as_people_type_them(typed: str, values: list[str]) -> None:
    assert parse_values(typed) == [Decimal(value) for value in values]


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "Give a range such as"),
        ("20..80", "Give a range such as"),
        ("20..80x1", "A range has at least two values"),
        ("80..20x3", "Each value must be above the one before"),
        ("20..20x3", "Each value must be above the one before"),
        ("a,b", "Give a range such as"),
        ("20,20", "Each value must be above the one before"),
        ("1..1000000000000000000000000000000000x3", "Give a range such as"),
        ("٢..٨x3", "Give a range such as"),
    ],
)
def test_what_is_no_range_is_refused(typed: str, says: str) -> None:
    with pytest.raises(ValueError, match=rf'^Found "{re.escape(typed)}"\. {says}'):
        parse_values(typed)


# A card that is written, its key, and recipes

TUMBLER, DIODE = "Handled tumbler, 40 oz class", "Diode laser, chuck, mouth to the left"

WANTED = {
    "blank": "handled-tumbler-40oz", "coat": "navy", "machine": "diode-rotary",
    "power": "20..80x5", "speed": "100..300x4", "passes": "1,2",
}  # fmt: skip


def write_card(folder: Path, **changes: Any) -> Written:
    wanted: dict[str, Any] = WANTED | changes
    typed = {key: parse_values(wanted[key]) for key in ("power", "speed", "passes")}
    return make_test_card(folder, **(wanted | typed))


@pytest.fixture(scope="module")
def card_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("card") / "card"
    write_card(folder)
    return folder


@pytest.fixture
def folder(tmp_path: Path, card_once: Path) -> Path:
    """Return the folder of a test card that was made once, to be changed."""
    return Path(shutil.copytree(card_once, tmp_path / "card"))


def test_a_card_is_its_artwork_and_its_key(tmp_path: Path) -> None:
    written = write_card(tmp_path / "card")
    assert [path.name for path in written.files] == ["test-card.svg", "key.csv", "key.pdf"]
    assert set(written.files) == set((tmp_path / "card").iterdir())
    card = written.card
    assert (card.blank.name, card.coat.name, card.machine.name) == (TUMBLER, "navy", DIODE)
    assert (len(card.cells), card.columns, card.rows) == (40, 5, 8)


def test_the_key_maps_every_group_of_the_artwork(folder: Path) -> None:
    rows = list(csv.DictReader(io.StringIO((folder / "key.csv").read_text("utf-8-sig"))))
    svg = (folder / "test-card.svg").read_text(encoding="utf-8")
    drawn = dict(re.findall(r'<g fill="(#[0-9a-f]{6})" id="([^"]+)"', svg))
    assert {row["colour"]: row["group"] for row in rows} == drawn
    cell = next(row for row in rows if row["cell"] == "C6")
    # Third power; sixth row: the second speed at two passes.
    assert [cell[key] for key in ("power %", "speed mm/s", "passes", "interval mm")] == [
        "50",
        "167",
        "2",
        "0.1",
    ]
    assert cell["group"] == "C6_power-50_speed-167_passes-2"
    assert (rows[-1]["cell"], rows[-1]["colour"]) == ("labels", "#000000")


@pytest.mark.outside("pdftotext")
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_printed_key_says_the_same(tmp_path: Path, paper: PaperSize) -> None:
    assert write_card(tmp_path, size=paper).paper.size == paper
    text = text_of(tmp_path / "key.pdf", "-layout")
    rows = list(csv.DictReader(io.StringIO((tmp_path / "key.csv").read_text("utf-8-sig"))))
    table = " ".join(text.partition("What each cell stands for")[2].split())
    for row in rows[:-1]:
        words = f"{row['cell']} {row['power %']} %, {row['speed mm/s']} mm/s, {row['passes']} pass"
        assert words in table
    for words in (
        "Wear eye protection",
        "manual",
        "No PVC",
        "an extinguisher within reach",
        "Never leave the laser alone while it runs",
        "never engrave a sealed vessel",
        "Engrave a test piece first",
    ):
        assert words in " ".join(text.split())
    assert "A STARTING POINT (Diode laser, powder coat on steel), not tried" in " ".join(
        text.split()
    )
    size = facts_of(tmp_path / "key.pdf")
    assert ("A4" if paper == "A4" else "letter") in size
    assert "Pages:           2" in size


@pytest.mark.outside("pdftoppm")
def test_nothing_of_the_printed_key_is_cut_off(tmp_path: Path) -> None:
    write_card(tmp_path, coat=None, power="10..80x8", speed="100..300x6", passes="1")
    assert_nothing_is_cut_off(tmp_path / "key.pdf")


def test_the_best_cell_is_kept_and_found_for_its_coat_and_machine(
    folder: Path, shop_folder: Path
) -> None:
    kept = keep_cell(folder, "c6", "even, no halo", "on the second try")
    recipe = kept.recipe
    assert (recipe.coat, recipe.machine, recipe.blank) == ("navy", DIODE, TUMBLER)
    assert (recipe.power, recipe.speed, recipe.passes) == (Decimal(50), 167, 2)
    assert recipe.date == dt.date.today()
    assert kept.doubt == ""
    machine = load(Machine, "machines", "diode-rotary", Path())
    found = choice_for(open_shop(), machine, a_tumbler("Navy"))
    assert found is not None
    assert found.is_tried
    assert found.in_words == (
        "power 50 %, 167 mm/s, 2 passes, lines 0.1 mm apart. Kept on "
        f"{dt.date.today()}: even, no halo (on the second try)"
    )
    # Another coat has no recipe yet, and gets the starting point of the beam.
    other = choice_for(open_shop(), machine, a_tumbler("black"))
    assert other is not None
    assert not other.is_tried
    assert "A STARTING POINT (Diode laser, powder coat on steel), not tried" in other.in_words
    # What was written is what is read.
    listed = recipes()
    assert kept.file.parent == listed.folder == shop_folder / "recipes"
    assert listed.kept == ((kept.file.stem, recipe, True),)
    assert set(listed.starting_points) == set(shelf("recipes"))


def test_on_another_blank_a_recipe_is_not_taken_for_tried(folder: Path) -> None:
    """A coat called slate may be powder on steel here and stone there."""
    keep_cell(folder, "A1", "even on the tumbler")
    machine = load(Machine, "machines", "diode-rotary", Path())
    found = choice_for(open_shop(), machine, Kind("Coaster", "navy"))
    assert found is not None
    assert not found.is_tried
    assert f"for {TUMBLER}, NOT TRIED on this blank" in found.in_words
    # By hand, and for any blank in this coat.
    keep_recipe(outcome="on all of them")
    found = choice_for(open_shop(), machine, Kind("Coaster", "navy"))
    assert found is not None
    assert found.is_tried
    # The blank's own one is older now than the one for all, which alone holds.
    found = choice_for(open_shop(), machine, a_tumbler("navy"))
    assert found is not None
    assert found.settings.power == 30
    assert [(recipe.blank, holds) for _, recipe, holds in recipes().kept] == [
        (None, True), (TUMBLER, False),
    ]  # fmt: skip


def test_a_recipe_may_name_machine_and_blank_as_the_library_does(shop_folder: Path) -> None:
    (shop_folder / "recipes").mkdir()
    (shop_folder / "recipes" / "mine.toml").write_text(
        'machine = "diode-rotary"\nblank = "handled-tumbler-40oz"\ncoat = "navy"\npower = 55\n'
        'speed = 150\npasses = 2\ninterval = 0.1\ndate = 2024-11-01\noutcome = "even"\n'
    )
    machine = load(Machine, "machines", "diode-rotary", Path())
    found = choice_for(open_shop(), machine, a_tumbler("navy"))
    assert found is not None
    assert found.is_tried
    assert found.settings.power == 55


def test_a_recipe_by_hand_says_for_which_blank() -> None:
    keep_recipe(blank="handled-tumbler-40oz")
    machine = load(Machine, "machines", "diode-rotary", Path())
    kinds = a_tumbler("navy"), Kind("Mug", "navy")
    tried = [choice_for(open_shop(), machine, kind) for kind in kinds]
    assert [choice.is_tried for choice in tried if choice] == [True, False]


def test_a_recipe_tried_on_one_blank_is_not_tried_on_another_of_its_name(
    tmp_path: Path,
) -> None:
    """The steps before: a card on each, a cell kept of one."""
    machine = load(Machine, "machines", "diode-rotary", Path())
    text = find("blanks", "handled-tumbler-40oz", Path()).read_text(encoding="utf-8")
    mine = tmp_path / "mine.toml"
    mine.write_text(text + '\n[[coat]]\nname = "lilac"\ncolour = "#c8a2c8"\n', encoding="utf-8")
    own = load(Blank, "blanks", str(mine), Path())
    assert own.name == TUMBLER
    write_card(tmp_path / "card", blank=str(mine), coat="navy")
    kept = keep_cell(tmp_path / "card", "A1", "even").recipe
    assert kept.blank_identity == own.identity
    found = choice_for(open_shop(), machine, Kind(TUMBLER, "navy", own.identity))
    assert found is not None
    assert found.is_tried
    other = choice_for(open_shop(), machine, a_tumbler("navy"))
    assert other is not None
    assert not other.is_tried
    assert f"for another blank called {TUMBLER}, NOT TRIED on this blank" in other.in_words
    # Tried on the library's as well: each has its own, and both hold.
    keep_recipe(blank="handled-tumbler-40oz")
    both = [choice_for(open_shop(), machine, kind) for kind in (
        a_tumbler("navy"), Kind(TUMBLER, "navy", own.identity),
    )]  # fmt: skip
    assert [choice.settings.power for choice in both if choice and choice.is_tried] == [30, 20]
    listed = recipes()
    assert [holds for *_, holds in listed.kept] == [True, True]
    told = {listed.blank_of(recipe) for _, recipe, _ in listed.kept}
    assert len(told) == 2
    assert all(name.startswith(TUMBLER) for name in told)


@pytest.mark.parametrize("identity", [None, "of the key"])
def test_a_recipe_of_an_older_version_knows_a_name_alone(
    folder: Path, identity: str | None
) -> None:
    """Which blank of that name it was, nobody can say: it is not taken for tried."""
    if identity is None:  # a card's key from before its last column
        rows = list(csv.reader(io.StringIO((folder / "key.csv").read_text("utf-8-sig"))))
        text = io.StringIO()
        csv.writer(text).writerows(row[:-1] for row in rows)
        (folder / "key.csv").write_text(text.getvalue(), encoding="utf-8-sig")
    kept = keep_cell(folder, "A1", "even").recipe
    assert kept.blank == TUMBLER
    machine = load(Machine, "machines", "diode-rotary", Path())
    found = choice_for(open_shop(), machine, a_tumbler("navy"))
    assert found is not None
    assert found.is_tried == bool(identity)
    assert ("with no record of which one, so NOT TRIED" in found.in_words) == (not identity)


def test_a_key_that_a_spreadsheet_has_saved_is_read(folder: Path) -> None:
    rows = list(csv.reader(io.StringIO((folder / "key.csv").read_text("utf-8-sig"))))
    text = io.StringIO()
    comma = [[*row[:6], row[6].replace("0.1", "0,1"), *row[7:]] for row in rows]
    csv.writer(text, delimiter=";").writerows(comma)
    (folder / "key.csv").write_text(text.getvalue(), encoding="utf-8-sig")
    assert read_cell(folder, "E8").settings.interval == 0.1
    assert read_cell(folder, "E8").settings.power == 80
    assert read_cell(folder / "key.csv", " e8 ").machine == DIODE


@pytest.mark.long
@pytest.mark.outside("soffice")
def test_libreoffice_opens_the_key(office: Office, folder: Path) -> None:
    office("xlsx", folder, folder / "key.csv")
    sheet = openpyxl.load_workbook(folder / "key.xlsx").active
    assert sheet is not None
    assert sheet.max_row == 42
    assert sheet["B2"].value == "A1_power-20_speed-100_passes-1"


def test_the_newest_recipe_holds(shop_folder: Path) -> None:
    machine = load(Machine, "machines", "diode-rotary", Path())

    def holding() -> Decimal:
        found = choice_for(open_shop(), machine, a_tumbler("black"))
        assert found is not None
        return found.settings.power

    keep_recipe(coat="black", power=60, outcome="pale", day=dt.date(2024, 10, 1))
    keep_recipe(coat="black", power=80, outcome="good", day=dt.date(2024, 11, 1))
    keep_recipe(coat="black", power=70, outcome="older", day=dt.date(2024, 9, 1))
    assert holding() == 80
    for number in range(12):  # the twelfth of a day comes after the second
        keep_recipe(coat="black", power=81 + number, outcome="again", day=dt.date(2024, 11, 1))
    assert holding() == 92
    assert len(list((shop_folder / "recipes").iterdir())) == 15  # nothing was overwritten
    # A copy whose files all have one time of writing says the same.
    for path in (shop_folder / "recipes").iterdir():
        os.utime(path, (1_700_000_000, 1_700_000_000))
    assert holding() == 92
    listed = recipes().kept
    assert [recipe.power for _, recipe, _ in listed] == [*range(92, 79, -1), 60, 70]
    assert [holds for _, _, holds in listed] == [True, *[False] * 14]


def test_a_day_that_is_still_to_come_does_not_hold_for_ever(
    folder: Path, shop_folder: Path
) -> None:
    with pytest.raises(InputError, match="date: The date 2062-11-26 is in the future"):
        keep_cell(folder, "A1", "x", day=dt.date(2062, 11, 26))
    assert recipes().kept == ()
    keep_cell(folder, "A1", "x")
    (path,) = (shop_folder / "recipes").iterdir()
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(str(dt.date.today()), "2062-11-26"), encoding="utf-8")
    with pytest.raises(InputError, match=r"\.toml: date: The date 2062-11-26 is in the future"):
        recipes()


def test_a_coat_that_the_library_does_not_know_is_told() -> None:
    doubt = keep_recipe(coat="burgandy").doubt
    assert 'comes in "burgandy". Did you mean "burgundy"? The recipe holds for cups' in doubt
    assert keep_recipe(coat="Burgundy").doubt == ""


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"power": 120}, 'power: Found "120". Give a percentage from 0 to 100'),
        ({"power": 0}, 'power: Found "0". Give a number above 0'),
        ({"passes": 1.5}, 'passes: Found "1.5". Give a whole number'),
        (
            {"interval": 200},
            "interval: Found 200 mm .* Lines are 0.005 mm to 2 mm apart",
        ),
        ({"interval": 0.0001}, "interval: Found 0.0001 mm"),
        ({"outcome": " "}, "Say with --outcome how it came out"),
        ({"machine": "hammer"}, 'The library has no machine "hammer"'),
        ({"blank": "bathtub"}, 'The library has no blank "bathtub"'),
    ],
)
def test_recipes_that_are_none_are_refused(options: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words):
        keep_recipe(**options)
    assert recipes().kept == ()


def test_a_cell_of_no_card_and_one_without_an_outcome_are_refused(folder: Path) -> None:
    with pytest.raises(InputError, match="nowhere: The file cannot be read"):
        keep_cell(Path("nowhere"), "A1", "x")
    with pytest.raises(InputError, match="Say with --outcome how it came out"):
        keep_cell(folder, "A1", " ")
    assert recipes().kept == ()


def test_a_cell_that_is_not_on_the_card_is_refused(folder: Path) -> None:
    for cell in ("F1", "A9", "labels", ""):
        with pytest.raises(InputError, match=f'There is no cell "{cell}". The cells .* A1 to E8'):
            keep_cell(folder, cell, "x")
    text = (folder / "key.csv").read_text(encoding="utf-8-sig")
    (folder / "key.csv").write_text(text.replace("\nB1,", "\nA1,"), encoding="utf-8")
    with pytest.raises(InputError, match='The cell "A1" stands in 2 rows'):
        keep_cell(folder, "A1", "x")
    (folder / "key.csv").write_text(text.replace("#1b2a49", "9" * 140_000), encoding="utf-8")
    with pytest.raises(InputError, match="This is not the key of a test card: field larger"):
        keep_cell(folder, "A1", "x")
    header, *rows = csv.reader(io.StringIO(text))
    short = io.StringIO()
    csv.writer(short).writerows([header, *(row[:-2] for row in rows)])
    (folder / "key.csv").write_text(short.getvalue(), encoding="utf-8")
    with pytest.raises(InputError, match="blank: Found an empty text"):
        keep_cell(folder, "A1", "x")
    (folder / "key.csv").write_text("cell,power\nA1,20\n")
    with pytest.raises(InputError, match=r"This is not the key of .*\. A key has the columns cell"):
        keep_cell(folder, "A1", "x")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"machine": "flatbed"}, "has no rotary"),
        ({"speed": "100..400x4"}, "Found 400 mm/s. Along its lines, .* 300 mm/s at most"),
        ({"power": "50..120x3"}, 'power: Found "120". Give a percentage'),
        ({"passes": "0,1"}, "passes: Found 0. Give 1 or more"),
        ({"coat": "gold"}, 'has no coat "gold"'),
        ({"interval": 3.0}, "interval: Found 3 mm from line to line. Lines are 0.005 mm"),
        ({"face": "inside"}, "--face: Found .inside.."),
        ({"blank": "bathtub"}, 'The library has no blank "bathtub"'),
    ],
)
def test_a_card_that_cannot_be_made_says_why(
    tmp_path: Path, change: dict[str, Any], words: str
) -> None:
    with pytest.raises(InputError, match=words):
        write_card(tmp_path / "card", **change)
    assert not (tmp_path / "card").exists()


def test_a_card_that_was_made_is_not_overwritten(folder: Path) -> None:
    before = {path: path.read_bytes() for path in folder.iterdir()}
    with pytest.raises(InputError, match="This is the key of a card already"):
        write_card(folder, coat="black")
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


def test_more_columns_than_letters_are_refused() -> None:
    with pytest.raises(InputError, match=r"Found 27 cells across\. A card has 26 across at most"):
        card("name-tag-70mm", "flatbed", "1..27x27", "100", "1", width=900.0)


def test_names_that_a_spreadsheet_would_calculate_come_back_as_they_were(tmp_path: Path) -> None:
    cup = tmp_path / "cup.toml"
    text = find("blanks", "handled-tumbler-40oz", Path()).read_text(encoding="utf-8")
    for coat in ("'t oak", "=SUM(A1)", "-dark"):
        cup.write_text(text.replace('name = "black"', f'name = "{coat}"'), encoding="utf-8")
        out = tmp_path / "".join(filter(str.isalnum, coat))
        write_card(out, blank=str(cup), coat=coat, power="20,40", speed="100", passes="1")
        assert read_cell(out, "A1").coat == coat
    assert "'=SUM(A1)" in (tmp_path / "SUMA1" / "key.csv").read_text(encoding="utf-8-sig")


def test_starting_points_say_that_they_are_none(shop_folder: Path) -> None:
    beams = set()
    for name in shelf("recipes"):
        start = starting_points()[name]
        assert "starting point only" in start.note
        assert "test card" in start.note
        beams.add(start.beam)
    machines = [load(Machine, "machines", name, Path()) for name in shelf("machines")]
    assert {machine.beam for machine in machines} == beams
    assert not shop_folder.exists() or not list(shop_folder.iterdir())  # reading writes nothing


def test_a_recipe_file_that_is_wrong_is_named(shop_folder: Path, folder: Path) -> None:
    keep_cell(folder, "A1", "x")
    (path,) = (shop_folder / "recipes").iterdir()
    shutil.copy(path, path.with_name("other.toml"))
    text = path.read_text(encoding="utf-8")
    path.with_name("other.toml").write_text(text.replace("passes", "pases"), encoding="utf-8")
    with pytest.raises(
        InputError, match=r'other\.toml: Found the unknown key "pases"\. Did you mean "passes"'
    ):
        recipes()


# What the commands say


def test_the_command_says_which_card_it_wrote(tmp_path: Path) -> None:
    out = tmp_path / "card"
    call = ["test-card", "--out", out]
    for key, value in WANTED.items():
        call += [f"--{key}", value]
    for option, typed, words in (
        ("--interval", "wide", '--interval: Found "wide". Give a length'),
        ("--power", "20..80", '--power: Found "20..80". Give a range such as'),
        ("--coat", "gold", 'has no coat "gold"'),
    ):
        assert words in refused(*call, option, typed)
        assert not out.exists()
    told = said(*call, "--interval", "0.2 mm", "--paper", "Letter")
    for words in (
        f"{out / 'test-card.svg'}\n",
        f"{out / 'key.csv'}\n",
        f"{out / 'key.pdf'} (Letter)\n",
        f"40 cells, 5 across and 8 down, on {TUMBLER}, navy, for {DIODE}\n",
        "Labels, in black: power 85 %, 80 mm/s, 1 pass",
        f"mailmerge keep-recipe {out} CELL --outcome WORDS",
    ):
        assert words in told
    assert read_cell(out, "A1").settings.interval == 0.2


def test_the_commands_say_which_recipe_was_kept_and_which_hold(
    folder: Path, shop_folder: Path
) -> None:
    told = said("keep-recipe", folder, "c6", "--outcome", "even", "--remarks", "cool")
    assert f"Kept: navy on {DIODE}: power 50 %, 167 mm/s, 2 passes, lines" in told
    assert str(shop_folder / "recipes") in told
    by_hand = "--machine diode-rotary --coat burgandy --blank any --power 45 --speed 220 --passes 1"
    more = "--interval 0.08 --colour #401030 --outcome clean --date 2024-11-01"
    told = said("keep-recipe", *by_hand.split(), *more.split())
    assert 'Did you mean "burgundy"?' in told
    first, second, *starts = json.loads(said("recipes", "--json"))
    assert first == {
        "name": first["name"], "machine": DIODE, "coat": "navy", "blank": TUMBLER, "power %": "50",
        "speed mm/s": "167", "passes": "2", "interval_mm": "0.1", "date": str(dt.date.today()),
        "holds": "yes", "outcome": "even",
    }  # fmt: skip
    assert (second["coat"], second["blank"], second["date"]) == ("burgandy", "any", "2024-11-01")
    assert len(starts) == len(starting_points())
    for start in starts:
        assert (start["coat"], start["holds"], start["date"]) == ("any", "", "–")
        assert "a starting point, not tried" in start["outcome"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ("", "Give a test card's folder and a cell, or all of it by hand"),
        (
            "--coat navy --blank any --power 45 --outcome x",
            "Missing: --speed, --passes, --interval",
        ),
        (
            "--coat navy --power 45 --speed 90 --passes 1 --interval 0.1 --outcome x",
            "Missing: --blank",
        ),
        ("nowhere", "Give the name of the cell"),
        ("nowhere A1 --power 3", "--power: The card's cell says it"),
        ("nowhere A1 --blank x", "The card's cell says it"),
        ("nowhere A1 --outcome x --date today", '--date "today": Give a day such as'),
    ],
)
def test_a_call_that_says_too_little_or_too_much_keeps_nothing(arguments: str, words: str) -> None:
    assert words in refused("keep-recipe", *arguments.split())
    assert recipes().kept == ()
