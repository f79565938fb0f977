"""Papers for handing over, as poppler reads them: on labels, in groups, on cards."""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

import pytest
from outside import run, text_of
from PIL import Image
from shop import GUESTS, Shop

from mailmerge.deeds import forgetting, parcels
from mailmerge.deeds.questions import Choices
from mailmerge.findings import InputError
from mailmerge.proofs.pack import words as said
from mailmerge.proofs.pack.languages import Language, known
from mailmerge.workshop.papers.parcels import Parcel, write_care_cards, write_labels
from mailmerge.workshop.shop.shop import Labels

MM = 72 / 25.4
NAMES = (
    "Bo", "Wilhelmina Featherstonehaugh-Cholmondeley-Smythe", "Nguyễn Thị Ánh Tuyết",
    "Þórðardóttir Guðrúnardóttir", "سلمى خليل", "Bartholomew Aldous Whittingstall-Greene",
)  # fmt: skip
A_SHEET = Labels(
    columns=2, rows=5, width=90, height=50, left=12, top=18, across=4, down=2
)  # invented


class Word(NamedTuple):
    """A word on a page: where it begins and ends, in mm."""

    page: int
    left: float
    top: float
    right: float
    bottom: float
    text: str


def words_of(pdf: Path) -> list[Word]:
    found = []
    for number, page in enumerate(text_of(pdf, "-bbox").split("<page ")[1:]):
        for box in re.findall(
            r'xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">([^<]*)<', page
        ):
            found.append(Word(number, *(float(each) / MM for each in box[:4]), box[4]))
    return found


def parcel(number: int, name: str, role: str = "Flute") -> Parcel:
    cup = Image.new("RGB", (60, 90), "navy")
    return Parcel(number, name, (role,), "Test cup, black", "black", cup)


def place_on(labels: Labels, at: int) -> tuple[float, float, float, float]:
    """Return a label's left, top, right and bottom on its sheet, worked out from its numbers."""
    row, column = at // labels.columns, at % labels.columns
    left = labels.left + column * (labels.width + labels.across)
    top = labels.top + row * (labels.height + labels.down)
    return left, top, left + labels.width, top + labels.height


@pytest.mark.outside("pdftotext")
@pytest.mark.parametrize("labels", [Labels(), A_SHEET, Labels(width=40, height=20, columns=4)])
def test_all_of_a_label_stands_within_its_edges(tmp_path: Path, labels: Labels) -> None:
    file = tmp_path / "labels.pdf"
    on_sheet = labels.rows * labels.columns
    many = [parcel(n, NAMES[n % len(NAMES)]) for n in range(on_sheet + 3)]
    start = 3
    file.write_bytes(write_labels("Gala", many, labels, "A4", start))
    words = words_of(file)
    assert {word.page for word in words} == {0, 1}
    for at, each in enumerate(many, start=start - 1):
        left, top, right, bottom = place_on(labels, at % on_sheet)
        own = [
            word.text
            for word in words
            if word.page == at // on_sheet
            and word.left >= left and word.right <= right
            and word.top >= top and word.bottom <= bottom
        ]  # fmt: skip
        assert str(each.number) in own, at
        if each.name.isascii() and len(each.name) < 30:
            assert set(each.name.split()) <= set(own), (at, own)
    numbers = [word for word in words if word.text.isdecimal()]
    assert len(numbers) == len(many)
    within = [
        any(w.left >= box[0] and w.right <= box[2] and w.top >= box[1] and w.bottom <= box[3]
            for box in (place_on(labels, at) for at in range(on_sheet)))
        for w in words
    ]  # fmt: skip
    assert all(within)


def test_labels_that_reach_beyond_the_sheet_are_refused() -> None:
    wide = Labels(columns=4)
    with pytest.raises(InputError, match=r"together they reach 280.0 x 296.5 mm, but A4 is 210"):
        write_labels("Gala", [parcel(1, "Bo")], wide, "A4")
    with pytest.raises(InputError, match="but Letter is"):
        write_labels("Gala", [parcel(1, "Bo")], Labels(), "Letter")
    for start in (0, 25):
        with pytest.raises(InputError, match="a sheet has 24"):
            write_labels("Gala", [parcel(1, "Bo")], Labels(), "A4", start)


@pytest.mark.outside("pdftotext")
@pytest.mark.parametrize("tag", known())
def test_a_card_says_how_to_care_in_the_clients_language(tmp_path: Path, tag: str) -> None:
    language = Language(tag)
    file = tmp_path / "cards.pdf"
    shop = ("Slate Yard Engraving", "hello@slateyard.example")
    names = [*NAMES, *NAMES]
    file.write_bytes(write_care_cards("Gala", names, shop, language, "A4"))
    words = words_of(file)
    assert {word.page for word in words} == {0, 1}  # two by five on A4
    left, top = (210 - 170) / 2, (297 - 275) / 2
    assert all(left < w.left and w.right < 210 - left for w in words)
    for row in range(5):  # nothing runs over the line to the next card
        edge = top + 55 * (row + 1)
        assert not any(w.top < edge < w.bottom for w in words if w.page == 0)
    if not language.is_right_to_left:
        plain = " ".join(text_of(file, "-raw").split())
        for text in (said.care_title(language), *said.care(language)):
            assert plain.count(text) == len(names), text
        assert plain.count("Slate Yard Engraving") == len(names)


def test_the_care_of_a_cup_is_said_in_every_language() -> None:
    texts = {(said.care_title(Language(tag)), *said.care(Language(tag))) for tag in known()}
    assert len(texts) == len(known())


@pytest.mark.outside("pdftotext")
def test_a_packing_list_is_by_name_or_by_a_column_of_the_list(shop: Shop) -> None:
    rows = [
        {"Name": "Zora Lind", "Role": "Flute", "Table": "10"},
        {"Name": "Ada Moss", "Role": "Horn", "Table": "2"},
        {"Name": "Ada Moss", "Role": "Viola", "Table": "10"},
        {"Name": "Max Holm", "Role": "Harp", "Table": ""},
    ]
    shop.list(rows)
    shop.merge(Choices(unsure_are_gone=True))
    by_name = text_of(parcels.packing_list(shop.folder).file, "-layout")
    at = [by_name.index(text) for text in ("Ada Moss", "Max Holm", "Zora Lind")]
    assert at == sorted(at)
    assert by_name.count("Ada Moss") == 2
    assert by_name.index("Horn") != by_name.index("Viola")
    grouped = text_of(parcels.packing_list(shop.folder, "table").file, "-raw")
    heads = [grouped.index(text) for text in ("2 · 1 cup", "10 · 2 cups", "In no group · 1 cup")]
    assert heads == sorted(heads)
    ten = grouped[heads[1] : heads[2]]
    assert "Viola" in ten
    assert "Horn" not in ten
    with pytest.raises(InputError, match=r'No column is called "Team"\. The list has: "Name"'):
        parcels.packing_list(shop.folder, "Team")


@pytest.mark.outside("pdftotext")
def test_the_commands_write_what_is_asked_for(shop: Shop) -> None:
    told = run("labels", shop.folder, "2", "1", "--start", "24")
    assert told.returncode == 0, told.stderr
    file = shop.folder / "papers" / "labels.pdf"
    words = words_of(file)
    assert {word.page for word in words} == {0, 1}
    assert "for 2 cups" in told.stdout
    assert "for 1 cup," in run("care-cards", shop.folder, "2").stdout
    assert run("packing-list", shop.folder).returncode == 0
    refused = run("labels", shop.folder, "77")
    assert refused.returncode == 2
    assert "There is no cup 77" in refused.stderr


def test_stopped_cups_are_not_packed(shop: Shop) -> None:
    cups = len(shop.records())
    shop.list([*GUESTS, {"Name": "TBC", "Role": "Horn"}])
    shop.merge()
    assert parcels.care_cards(shop.folder).cups == cups
    stopped = next(number for number, each in shop.records().items() if each.seal is None
                   and not each.gone)  # fmt: skip
    with pytest.raises(InputError, match="is stopped: there is nothing to pack"):
        parcels.labels(shop.folder, [str(stopped)])


def test_forgetting_takes_the_papers(shop: Shop) -> None:
    for write in (parcels.labels, parcels.packing_list, parcels.care_cards):
        assert write(shop.folder).file.is_file()
    forgetting.forget(shop.folder, True, True)
    assert not [*shop.folder.glob("papers/*.pdf")]
