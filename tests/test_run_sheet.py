"""The run sheet, read by other programs than those that made it: poppler and zbar."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
import subprocess
import unicodedata
from pathlib import Path

import numpy as np
import pytest
import svgelements
from outside import (
    assert_nothing_is_cut_off,
    cli,
    facts_of,
    file_of_the_test_machine,
    pages_of,
    text_of,
)
from packs import NAMES, SECRET
from PIL import Image, ImageColor
from scipy import ndimage
from shop import GUESTS, MONDAY, Shop, keep_recipe

from mailmerge.answers.packs import Packed
from mailmerge.artwork import seal_of
from mailmerge.findings import InputError
from mailmerge.items.record import Kind
from mailmerge.ledger.standing import Standing
from mailmerge.workshop.papers.run import Absent, Run, sections_of
from mailmerge.workshop.papers.run_sheet import write_run_sheet
from mailmerge.workshop.papers.words import BOXES, CAUTIONS, STEPS

READY = NAMES[:-1]
DIRECTIONS = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069]")
REASON = "the client is at sea"
BLANK_PICTURE = Image.new("RGB", (40, 30), "white")
"""Where a test is about the rest of the paper: real ones take seconds to draw."""
Box = tuple[int, int, int, int]
"""Left, top, right and bottom, in pixels."""


@pytest.fixture(scope="module")
def order(tmp_path_factory: pytest.TempPathFactory, pack_of_names: Packed) -> Path:
    """Return an order of eleven cups that are released, the last two without a yes."""
    folder = tmp_path_factory.mktemp("run") / "concert"
    shop = Shop.copied(pack_of_names.folder.parent, folder)
    shop.confirm(*range(1, 10))
    shop.release(reason=REASON)
    return folder


@pytest.fixture(scope="module")
def run(order: Path) -> Run:
    return Shop.at(order).run()


def sheet_of(run: Run, folder: Path, size: str = "A4") -> Path:
    path = folder / "run-sheet.pdf"
    path.write_bytes(write_run_sheet(run, "A4" if size == "A4" else "Letter"))
    return path


@pytest.fixture(scope="module")
def sheets(run: Run, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Return the run sheet on both papers, to be read and drawn, and never changed."""
    return {size: sheet_of(run, tmp_path_factory.mktemp(size), size) for size in ("A4", "Letter")}


@pytest.mark.long
@pytest.mark.outside("zbarimg")
@pytest.mark.parametrize(("size", "dpi"), [("A4", 150), ("Letter", 110)])
def test_zbar_reads_file_name_and_seal_of_every_cup(
    order: Path, sheets: dict[str, Path], size: str, dpi: int
) -> None:
    read = []
    for page in pages_of(sheets[size], dpi):
        call = ["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", page]
        found = subprocess.run(call, capture_output=True, text=True).stdout
        read += found.splitlines()
    files = {path.name: seal_of(path.read_bytes()) for path in (order / "to-engrave").glob("*.svg")}
    assert len(files) == 11
    assert sorted(read) == sorted(f"{name} {seal}" for name, seal in files.items())


@pytest.mark.long
@pytest.mark.outside("pdftotext")
def test_poppler_reads_cautions_first_and_then_every_cup(sheets: dict[str, Path]) -> None:
    text = unicodedata.normalize("NFC", DIRECTIONS.sub("", text_of(sheets["A4"])))
    plain = " ".join(text.split())
    for words in (
        "Wear eye protection for the beam's wavelength",
        "manual",
        "safety data sheet",
        "local codes",
        "enclosure shut",
        "extraction running",
        "an extinguisher within reach",
        "Never leave the laser alone while it runs",
        "No PVC",
        "Switch the power off before you plug the rotary in or out",
        "cable under the cup",
        "never engrave a sealed vessel",
        "must clear the head through the whole turn",
        "drinking rim",
        "Engrave a test piece first",
        "screws together",
        "Measure around one cup",
        "level the wall",
        "Trace first",
        "all passes",
        "Let it cool",
        "white vinegar",
        "never together with bleach",
        "Put the handle back on",
        "in daylight",
    ):
        assert words in plain, words
    at = [plain.index(" ".join(words.split())[:60]) for words in (*CAUTIONS, *STEPS)]
    assert at == sorted(at)
    assert at[0] < plain.index("To buy and lay out") < at[len(CAUTIONS)]
    cups = plain[plain.index("Handled tumbler, 40 oz class, black: 11 cups") :]
    position = 0
    for name, role in [READY[0], *READY]:  # the first guest gets two cups
        position = cups.index(name, position)
        assert " ".join(role.split()) in cups
    for word in BOXES:
        assert cups.count(word) >= 11
    assert cups.count("WITHOUT THE CLIENT'S YES: the client is at sea") == 2
    assert SECRET not in text
    assert "49.90" not in text
    assert "Font Noto Sans: " in plain
    assert "power 85 %, 80 mm/s, 1 pass, lines 0.1 mm apart. A STARTING POINT (Diode" in plain
    assert "Zoe with two dots on the e: Zoë" in cups
    assert "Not on this sheet, and not counted here (stopped): 12 Wilhelmina" in plain
    assert cups.count("Set: power 85 %, 80 mm/s, 1 pass, lines 0.1 mm apart (NOT TRIED)") == 1
    assert len(re.findall(r"BLACK \d+:\d\d min", cups)) == 11
    assert cups.count("LEFT HAND") == 0


@pytest.mark.outside("pdftotext")
def test_beside_every_seal_stands_how_large_its_file_must_be_when_loaded(
    order: Path, sheets: dict[str, Path]
) -> None:
    """As svgelements measures it."""
    told = re.findall(
        r"must measure ([\d.]+) x ([\d.]+) mm\s+(\w{4}-\w{4}-\w{4})",
        text_of(sheets["A4"], "-layout"),
    )
    files = {seal_of(path.read_bytes()): path for path in (order / "to-engrave").glob("*.svg")}
    assert len(told) == len(files) == 11
    for width, height, seal in told:
        svg = svgelements.SVG.parse(files[seal], ppi=25.4)  # so that a unit is a mm
        boxes = [each.bbox() for each in svg.elements() if isinstance(each, svgelements.Path)]
        left, top, right, low = zip(*boxes, strict=True)
        measured = max(right) - min(left), max(low) - min(top)
        assert (float(width), float(height)) == pytest.approx(measured, abs=0.051)


@pytest.mark.outside("pdftoppm")
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_nothing_lies_within_five_mm_of_an_edge(sheets: dict[str, Path], size: str) -> None:
    assert_nothing_is_cut_off(sheets[size])


@pytest.mark.outside("pdfinfo")
def test_the_paper_is_the_shops_or_the_one_asked_for(shop: Shop, shop_folder: Path) -> None:
    shop.yes(1)
    shop.release()

    def size(*more: str) -> str:
        cli("run-sheet", shop.folder, *more)
        return facts_of(shop.folder / "papers" / "run-sheet.pdf")

    assert "(A4)" in size()
    (shop_folder / "shop.toml").write_text('[shop]\npaper = "Letter"\n')
    assert "(letter)" in size()
    assert "(A4)" in size("--paper", "A4")


def test_what_to_lay_out(run: Run) -> None:
    (pile,) = run.piles
    assert (pile.kind.coat, pile.cups) == ("black", 11)
    assert pile.spares == 2  # of thirteen blanks at 4 %, by scipy in test_quote
    assert len(run.cups) == len({cup.place for cup in run.cups}) == 11
    assert [cup.place for cup in run.cups] == list(range(1, 12))
    assert run.plan is not None
    assert run.plan.setup.start == MONDAY
    assert [cup.without_yes for cup in run.cups][-2:] == [REASON, REASON]


def test_piles_are_of_one_coat_and_share_their_spares(shop: Shop) -> None:
    coats = ["plum", "black", "plum", "plum", "black"]
    shop.list([{**row, "Coat": coat} for row, coat in zip(GUESTS, coats, strict=True)])
    shop.merge()
    shop.yes(1, 2, 3, 4, 5)
    shop.release()
    run = shop.run()
    assert [(pile.kind.coat, pile.cups) for pile in run.piles] == [("black", 2), ("plum", 3)]
    assert [cup.number for cup in run.cups] == [2, 5, 1, 3, 4]
    assert sum(pile.spares for pile in run.piles) == 2


@pytest.mark.outside("pdftotext")
def test_left_hands_spoiled_cups_and_slow_machines_are_conspicuous(
    shop: Shop, tmp_path: Path
) -> None:
    hands = ["", "left", "", "left", ""]
    shop.list([{**row, "Hand": hand} for row, hand in zip(GUESTS, hands, strict=True)])
    text = (shop.folder / "order.toml").read_text(encoding="utf-8")
    spot = 'spot = "0.01 mm"\n'
    text = text.replace(spot, f"{spot}speed = 120\nacceleration = 900\n")
    (shop.folder / "order.toml").write_text(text, encoding="utf-8")
    shop.merge()
    machine = file_of_the_test_machine(tmp_path)
    keep_recipe(machine=machine, coat="black", power=50, speed=150)
    shop.yes(1, 2, 3, 4, 5)
    shop.release()
    shop.spoiled(3)
    shop.release()
    run = shop.run()
    # Right hands first, then left ones; the cup that is made once more was released last.
    assert [cup.number for cup in run.cups] == [1, 5, 2, 4, 3]
    words = " ".join(text_of(sheet_of(run, tmp_path)).split())
    assert words.count("BLACK, LEFT HAND") == 2
    assert words.count("LEFT HAND") == 2 + 1  # and once above them
    # Each hand is set up once: the cup that is made once more stands with its like.
    (order,) = [re.findall(r"\d{3}_(\d{3})-", words)]
    assert order == ["001", "005", "003", "002", "004"]
    assert words.index("003_") < words.index("held by the left hand") < words.index("002-bo")
    assert words.count("Made again: 1 blank spoiled on it before") == 1
    assert "ask for 150 mm/s. The machine's profile allows 120 mm/s along the lines" in words
    assert "(NOT TRIED)" not in words
    assert "Kept on" in words


Word = tuple[float, float, float, float, str]
"""Left, top, right and bottom in points, and the word."""


def words_of(pdf: Path) -> list[list[Word]]:
    """Return the words of each page with their places, as poppler reads them."""
    found = r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)<'
    return [
        [(*(float(each) for each in place), word) for *place, word in re.findall(found, page)]
        for page in text_of(pdf, "-bbox").split("<page ")[1:]
    ]  # type: ignore[misc]


@pytest.mark.long
@pytest.mark.outside("pdftotext")
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_forty_cups_are_six_pages_that_gloved_hands_can_read(
    run: Run, tmp_path: Path, size: str
) -> None:
    """Two coats, two hands, long names and files: six pages, and nothing read there is small."""
    change = dataclasses.replace
    cups = []
    for at in range(40):
        name = "Ida Featherstonehaugh-Cholmondeley" if at % 8 == 0 else f"Wilhelmina Browning {at}"
        file = f"{at + 1:03d}_{at + 1:03d}-{name.lower().replace(' ', '-')}.svg"
        hand = "left" if at % 20 >= 10 else "right"
        cups.append(change(
            run.cups[0], number=at + 1, name=name, texts=("Principal violin",), notes=(), look=(),
            file=file, kind=Kind("Concert cup", "navy" if at < 20 else "burgundy"),
            is_left=hand == "left", holding=f"Facing the drinker, held by the {hand} hand",
            cup=BLANK_PICTURE, load=Image.new("RGB", run.cups[0].load.size, "white"),
        ))  # fmt: skip
    run = change(run, cups=tuple(cups), piles=run.piles * 2)
    assert len(sections_of(run)) == 4
    path = sheet_of(run, tmp_path, size)
    pages = words_of(path)
    assert len(pages) <= 6
    right = {"A4": 595.3, "Letter": 612.0}[size] - 15 / 25.4 * 72
    words = [word for page in pages for word in page]
    assert all(word[2] < right for word in words)
    # Noto Sans: ascent and descent are 1.362 of its size (the font's own hhea table).
    points = [(low - top) / 1.362 for _, top, _, low, _ in words]
    told = [word[4] for word in words]
    for cup in cups:
        start = next(at for at, word in enumerate(told) if word.startswith(cup.file[:8]))
        rows = 1 if told[start].endswith(".svg") else 2
        assert "".join(told[start : start + rows]) == cup.file  # in full, and no hyphen more
        assert min(points[start : start + rows]) > 12.9
    assert max(points[at] for at, word in enumerate(told) if word.endswith(".svg")) > 14
    for word, count in (("NAVY", 20), ("BURGUNDY", 20), ("violin", 40), ("measure", 40)):
        sizes = [size for size, each in zip(points, told, strict=True) if each.strip(",") == word]
        assert sum(size > 11.9 for size in sizes) == count, word


def test_each_pile_and_each_hand_has_a_section_of_its_own(run: Run) -> None:
    first, second, third, *_ = run.cups
    change = dataclasses.replace
    other = first.kind._replace(identity="b000000000000000")
    cups = (
        first,
        change(second, kind=other),  # called the same, and another blank
        change(third, is_left=True, holding="Facing the drinker, held by the left hand"),
        change(first, steps=("Otherwise.",)),
        first,
    )
    sections = sections_of(change(run, cups=cups))
    assert [len(section.cups) for section in sections] == [2, 1, 1, 1]


@pytest.mark.outside("pdftoppm")
def test_very_long_texts_make_a_higher_line_and_are_never_cut(shop: Shop, tmp_path: Path) -> None:
    long = dataclasses.replace
    shop.yes(1, 2)
    shop.release()
    run = shop.run()
    cups = tuple(
        long(
            cup,
            name="Wilhelmina Featherstonehaugh " * 4,
            look=("a warning of some length " * 4,) * 6,
        )
        for cup in run.cups
    )
    path = sheet_of(long(run, cups=cups), tmp_path, "Letter")
    assert_nothing_is_cut_off(path)
    boxes = text_of(path, "-bbox")
    heights = [
        float(low) - float(high)
        for high, low in re.findall(r'yMin="([0-9.]+)"[^>]*yMax="([0-9.]+)">warning<', boxes)
    ]
    assert len(heights) == 2 * 6 * 4
    assert min(heights) > 8  # points: nothing was made smaller


def found_in(part: Image.Image, whole: Path) -> bool:
    """Whether a picture stands somewhere in another, pixel by pixel, wherever that is."""
    with Image.open(whole) as opened:
        rows = np.asarray(opened.convert("RGBA")).view(np.uint32)[..., 0]
    wanted = np.asarray(part.convert("RGBA")).view(np.uint32)[..., 0]
    height, width = wanted.shape
    middle = height // 2
    key = wanted[middle].tobytes()
    for at in range(middle, len(rows) - height + middle + 1):
        left = rows[at].tobytes().find(key) // 4
        top = at - middle
        if left >= 0 and np.array_equal(rows[top : top + height, left : left + width], wanted):
            return True
    return False


def test_every_cup_has_its_own_pictures(order: Path, run: Run) -> None:
    """They stand in the files of that very item, and a cup's picture in no other guest's."""
    records = Shop.at(order).records()
    for cup in run.cups:
        entry = records[cup.number].entry
        assert found_in(cup.cup, order / "merged" / entry.proof)
        assert found_in(cup.load, order / "merged" / str(entry.maker_copy))
    first, other = run.cups[0], next(c for c in run.cups if c.name != run.cups[0].name)
    assert not found_in(first.cup, order / "merged" / records[other.number].entry.proof)
    assert min(first.cup.size) > 300
    # The first guest has two cups alike.
    assert len({cup.cup.tobytes() for cup in run.cups}) == 10


def opened(path: Path) -> Image.Image:
    with Image.open(path) as picture:
        return picture.convert("RGB")


def blobs(picture: Image.Image, count: int) -> list[Box]:
    """Return the bounds of the largest black things in a picture, the largest first.

    The coat is black, so they are the cup on a proof and its wrap, and on a load picture the cup
    as one looks into it and from above. Nothing about the places of our pictures goes into it.
    """
    labels, _ = ndimage.label(np.asarray(picture).max(axis=2) < 76)
    sizes = np.bincount(labels.ravel())[1:]
    slices = ndimage.find_objects(labels)
    return [
        (slices[at][1].start, slices[at][0].start, slices[at][1].stop, slices[at][0].stop)
        for at in np.argsort(sizes)[::-1][:count]
    ]


def rows_of(pdf: Path, seals: dict[str, int], dpi: int = 200) -> dict[int, Image.Image]:
    """Return what lies to the left of each item's seal on a run sheet, as poppler draws it."""
    rows = {}
    boxes = text_of(pdf, "-bbox").split("<page ")[1:]
    for page, words in zip(pages_of(pdf, dpi), boxes, strict=True):
        word = r'<word xMin="([\d.]+)" yMin="([\d.]+)"[^>]*>([0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4})<'
        for x, y, seal in re.findall(word, words):
            left, middle = (round(float(value) / 72 * dpi) for value in (x, y))
            high, low = middle - round(0.45 * dpi * 2.4), middle + round(0.35 * dpi * 2.4)
            rows[seals[seal]] = opened(page).crop((0, max(0, high), left, low))
    return rows


def shape(picture: Image.Image, box: Box) -> np.ndarray:
    """Return a part of a picture at a size at which it can be compared."""
    return np.asarray(picture.convert("L").crop(box).resize((240, 320))).astype(float)


def most_alike(seen: np.ndarray, known: dict[int, np.ndarray]) -> int:
    """Return whose picture something looks like, where the known ones differ from each other."""
    differs = np.std(list(known.values()), axis=0) > 8
    return max(known, key=lambda n: np.corrcoef(seen[differs], known[n][differs])[0, 1])


@pytest.mark.outside("pdftoppm")
def test_every_section_shows_how_its_own_cups_are_loaded(shop: Shop, tmp_path: Path) -> None:
    """As the maker's copy of that item does below its proof: a left hand's cup turns otherwise."""
    hands = ["", "left", "", "left", ""]
    shop.list([{**row, "Hand": hand} for row, hand in zip(GUESTS, hands, strict=True)])
    shop.merge()
    shop.yes(1, 2, 3, 4, 5)
    shop.release()
    run = shop.run()
    records = shop.records()
    known = {}
    for number in (1, 2):
        proof, maker = (
            opened(shop.folder / "merged" / str(getattr(records[number].entry, key)))
            for key in ("proof", "maker_copy")
        )
        load = maker.crop((0, proof.height, *maker.size))
        known[number] = shape(load, around(load))
    path, dpi = sheet_of(run, tmp_path), 200
    seen = []
    for page, words in zip(pages_of(path, dpi), words_of(path), strict=True):
        for left, _, _, low, word in words:
            if word == "Set:":  # the settings, above the card
                x, y = round(left / 72 * dpi), round(low / 72 * dpi)
                load = opened(page).crop((x, y, x + round(3.5 * dpi), y + round(1.75 * dpi)))
                seen.append(most_alike(shape(load, around(load)), known))
    assert seen == [1, 2]


def around(load: Image.Image) -> Box:
    """Return the bounds of a load picture's two cups, with some room for arrows."""
    one, other = blobs(load, 2)
    left, top = min(one[0], other[0]), min(one[1], other[1])
    right, low = max(one[2], other[2]), max(one[3], other[3])
    more = (low - top) // 3
    return left - more, top - more, right, low + more


@pytest.mark.outside("pdfimages")
def test_every_row_shows_its_own_cup(sheets: dict[str, Path]) -> None:
    path = sheets["A4"]
    listed = subprocess.run(["pdfimages", "-list", path], capture_output=True, text=True).stdout
    found = {row.split()[10] for row in listed.splitlines()[2:]}
    # Ten cups that differ; the one way to load them, large above them.
    assert len(found) == 10 + 1
    assert len(listed.splitlines()) - 2 == 11 + 1
    # A load picture is wider than it is high, a cup is not.
    wide = [int(row.split()[3]) > int(row.split()[4]) for row in listed.splitlines()[2:]]
    assert wide.count(True) == 1


@pytest.mark.long
@pytest.mark.outside("pdftoppm")
def test_beside_every_seal_stands_the_picture_of_its_own_cup(run: Run, tmp_path: Path) -> None:
    """Each cup is painted in a colour of its own, which is looked for in its row."""
    hues = {
        cup.number: ImageColor.getrgb(f"hsl({360 * at // len(run.cups)}, 100%, 50%)")
        for at, cup in enumerate(run.cups)
    }
    cups = tuple(
        dataclasses.replace(
            cup, cup=Image.new("RGB", (300, 400), hues[cup.number]), load=BLANK_PICTURE
        )
        for cup in run.cups
    )
    path = sheet_of(dataclasses.replace(run, cups=cups), tmp_path)
    rows = rows_of(path, {cup.seal: cup.number for cup in cups}, 100)
    assert len(rows) == len(cups)
    for number, row in rows.items():
        pixels = np.asarray(row).astype(np.int16)
        seen = {
            other: int((abs(pixels - hue).max(axis=2) < 12).sum()) for other, hue in hues.items()
        }
        assert max(seen, key=lambda other: seen[other]) == number
        assert seen[number] > 2_500  # of dots a hundredth of an inch wide: 160 mm²


def red_in(run: Run, folder: Path) -> int:
    """Return how many pixels of a run sheet are in the red of what must be looked at."""
    count = 0
    for page in pages_of(sheet_of(run, folder)):
        pixels = np.asarray(opened(page)).astype(np.int16)
        count += int((abs(pixels - np.array([176, 28, 34])).max(axis=2) < 40).sum())
        page.unlink()
    return count


@pytest.mark.outside("pdftoppm")
def test_what_must_be_looked_at_is_red(run: Run, tmp_path: Path) -> None:
    change = dataclasses.replace
    calm = change(
        run,
        cups=tuple(
            change(
                cup, is_tried=True, look=(), without_yes="", cup=BLANK_PICTURE, load=BLANK_PICTURE
            )
            for cup in run.cups[:2]
        ),
        piles=tuple(
            change(pile, choice=change(pile.choice, is_tried=True))
            for pile in run.piles
            if pile.choice
        ),
        absent=(),
    )
    quiet = red_in(calm, tmp_path)
    cups = calm.cups

    def with_second(**words: object) -> Run:
        """Change the second cup: how the first one is loaded is told above the rows, too."""
        return change(calm, cups=(cups[0], change(cups[1], **words), *cups[2:]))

    for louder in (
        change(calm, piles=run.piles),
        change(calm, absent=run.absent),
        with_second(is_tried=False),
        with_second(look=("look at this",)),
        with_second(is_left=True),
        with_second(again=2),
        with_second(without_yes="at sea"),
    ):
        assert red_in(louder, tmp_path) > quiet + 50


@pytest.mark.outside("pdfinfo")
def test_five_cups_of_plain_names_are_two_pages(shop: Shop, tmp_path: Path) -> None:
    shop.yes(1, 2, 3, 4, 5)
    shop.release()
    path = sheet_of(shop.run(), tmp_path)
    assert "Pages:           2" in facts_of(path)
    pages = text_of(path).split("\f")
    for number, page in enumerate(pages[:-1], start=1):
        assert page.count(f"page {number}\n") == 1
    assert [page.count("loaded") for page in pages[:-1]] == [1, 4]  # the first one beside its card


@pytest.mark.outside("pdftotext")
def test_whether_it_is_in_time_stands_on_the_sheet(run: Run, tmp_path: Path) -> None:
    change = dataclasses.replace
    run = change(run, cups=run.cups[:2])
    late = change(run, due=MONDAY.date() - dt.timedelta(days=1))
    assert "Due on 29 November: TOO LATE." in " ".join(text_of(sheet_of(late, tmp_path)).split())
    early = change(run, due=MONDAY.date() + dt.timedelta(days=9))
    assert "Due on 9 December: in time." in " ".join(text_of(sheet_of(early, tmp_path)).split())


@pytest.mark.outside("pdftotext")
def test_hundreds_of_cups_that_are_not_on_the_sheet_are_told_and_not_cut(
    run: Run, tmp_path: Path
) -> None:
    waiting = [Absent(n, "Wilhelmina Featherstonehaugh", Standing.WAITING) for n in range(20, 420)]
    stopped = [Absent(500 + n, f"Guest {n}", Standing.STOPPED) for n in range(9)]
    some = dataclasses.replace(run, cups=run.cups[:2], absent=(*waiting, *stopped))
    path = sheet_of(some, tmp_path)
    words = " ".join(text_of(path).split())
    assert "(waiting): 400 cups, items 20-419" in words
    assert "508 Guest 8" in words
    assert_nothing_is_cut_off(path)


@pytest.mark.outside("pdftotext")
def test_flat_goods_have_no_handle_and_no_rotary(tmp_path: Path) -> None:
    names = tmp_path / "names.csv"
    names.write_text("Name,Role\nAnn Holm,Viola\n", encoding="utf-8")
    order = tmp_path / "order"
    cli(
        "new",
        order,
        "--list",
        names,
        "--blank",
        "coaster-100mm",
        "--machine",
        "flatbed",
        "--layout",
        "plain",
    )
    cli("merge", order)
    cli("release", order, "--without-yes", "a test")
    cli("run-sheet", order)
    words = " ".join(text_of(order / "papers" / "run-sheet.pdf").split())
    assert "Lay it down as its picture shows" in words
    assert "Take off each handle" not in words
    assert "No PVC" in words


def test_settings_that_nobody_knows_are_left_to_be_written_in(shop: Shop) -> None:
    shop.yes(1)
    shop.release()
    run = shop.run()
    assert run.cups[0].settings == ""
    assert run.cups[0].seconds is None
    assert run.plan is None
    assert "The settings are not known: first make a test card" in run.piles[0].settings_in_words
    assert write_run_sheet(run, "A4").startswith(b"%PDF")


def test_the_mark_is_that_of_these_cups_with_this_artwork(shop: Shop) -> None:
    shop.yes(1, 2, 3)
    shop.release(1, 2)
    first = shop.run()
    assert shop.run().mark == first.mark
    shop.release(3)
    assert shop.run().mark != first.mark


def test_pictures_come_from_the_artwork_and_not_from_pictures_on_the_disk(shop: Shop) -> None:
    shop.yes(1)
    shop.release()
    before = shop.run().cups[0]
    entries = [shop.records()[number].entry for number in (1, 2)]
    for one, other in ((e.maker_copy, e.proof) for e in entries):
        for name in (str(one), other):
            (shop.folder / "merged" / name).write_bytes(b"no picture")
    after = shop.run().cups[0]
    assert after.cup.tobytes() == before.cup.tobytes()
    assert after.load.tobytes() == before.load.tobytes()


def test_nothing_released_and_nothing_in_the_folder_are_said(shop: Shop) -> None:
    with pytest.raises(InputError, match=r"Nothing is released\. First run: mailmerge release"):
        shop.run()
    shop.yes(1, 2)
    shop.release()
    shop.to_engrave()[2].unlink()
    with pytest.raises(
        InputError,
        match=r"Item 2 was released, but its file is not in to-engrave .* mailmerge merge",
    ):
        shop.run()


def test_items_are_named_as_they_are_printed(shop: Shop) -> None:
    shop.yes(1, 2, 3, 4)
    cli("release", shop.folder, "1-3")
    cli("engraved", shop.folder, "1, 3")
    assert shop.standing() == {
        1: "engraved", 2: "released", 3: "engraved", 4: "confirmed", 5: "waiting",
    }  # fmt: skip
    cli("release", shop.folder, "4,")
    cli("engraved", shop.folder, "2,", ",4")  # as a shell splits them
    assert {shop.standing()[number] for number in range(1, 5)} == {"engraved"}
    with pytest.raises(InputError, match="This names no item"):
        cli("engraved", shop.folder, ",")
    with pytest.raises(InputError, match="This names several items"):
        cli("log", shop.folder, "1-3", "--minutes", "9:40")
    with pytest.raises(InputError, match=r"This names no item.* several such as 41-42"):
        cli("engraved", shop.folder, "3-1")


def test_what_a_code_says_is_taken_for_its_item(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    cups = {cup.number: f"{cup.file} {cup.seal}" for cup in shop.run().cups}
    assert cli("engraved", shop.folder, cups[2]) == "Engraved: 2 Bo Dahl\n"
    # An old sheet: the artwork of item 1 has become another one since.
    shop.list([{**GUESTS[0], "Role": "Violin II"}, *GUESTS[1:]])
    shop.merge()
    shop.yes(1)
    shop.release()
    with pytest.raises(InputError, match="This is of another order, or of an older run sheet"):
        cli("engraved", shop.folder, cups[1])
    new = next(cup for cup in shop.run().cups if cup.number == 1)
    old = cups[1].split()[1]
    with pytest.raises(InputError, match=r"The run sheet's code has the seal .* newest run sheet"):
        cli("engraved", shop.folder, f"{new.file} {old}")
    with pytest.raises(InputError, match="This is of another order"):
        cli("spoiled", shop.folder, "001_001-somebody-else.svg")
    # Under another name since, but the very artwork that was released: by its seal.
    assert cli("spoiled", shop.folder, f"{cups[2].replace('bo-dahl', 'bo-dal')}").startswith(
        "Spoiled: 2 Bo Dahl"
    )
    with pytest.raises(InputError, match="Item 5 was never released"):
        cli("engraved", shop.folder, "001_005-eva-gran.svg")
    assert shop.standing()[1] == "released"
    assert cli("engraved", shop.folder, f"{new.file} {new.seal}") == "Engraved: 1 Anna Berg\n"


@pytest.mark.long
def test_the_command_says_where_it_is_and_what_to_lay_out(order: Path) -> None:
    words = cli("run-sheet", order)
    assert "papers/run-sheet.pdf" in words
    assert "Lay out 13 of Handled tumbler, 40 oz class, black: 11 cups and 2 spares" in words
    assert "A STARTING POINT" in words
    assert Shop.at(order).run().mark in words


def test_papers_are_forgotten_with_the_order(shop: Shop) -> None:
    shop.yes(1)
    shop.release()
    cli("run-sheet", shop.folder)
    cli("engraved", shop.folder, 1)
    words = cli("forget", shop.folder, "--yes")
    assert "None is left." in words
    assert not (shop.folder / "papers").exists()


def test_merge_does_not_write_into_papers(shop: Shop) -> None:
    with pytest.raises(InputError, match="This is the order's own folder"):
        cli("merge", shop.folder, "--out", shop.folder / "papers")
