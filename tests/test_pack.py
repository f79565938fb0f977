"""The proof pack, looked at with other programs than those that made it."""

from __future__ import annotations

import datetime as dt
import io
import re
import shutil
import subprocess
import unicodedata
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from conftest import Office, Samples
from outside import pages_of
from packs import LAYOUT, NAMES, SECRET, order_of, packed as pack_of
from PIL import Image
from shop import GUESTS, Shop

from mailmerge.answers.incoming import read_answers
from mailmerge.answers.packs import Packed
from mailmerge.answers.taking import confirm
from mailmerge.deeds import CalledOff, client
from mailmerge.ledger.ledger import open_ledger
from mailmerge.proofs import canvas
from mailmerge.proofs.canvas import Label
from mailmerge.proofs.pack import checklist, sheet
from mailmerge.proofs.pack.letters import notes_on

READY = NAMES[:-1]
DIRECTIONS = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069]")


@pytest.fixture
def pack(pack_of_names: Packed) -> Packed:
    return pack_of_names


@pytest.fixture
def order(pack: Packed) -> Path:
    return pack.folder.parent


def path_of(pack: Packed, ending: str) -> Path:
    (path,) = pack.folder.glob(f"*{ending}")
    return path


def test_every_guest_is_shown_or_named_as_not_ready(pack: Packed) -> None:
    assert [card.name for card in pack.pack.cards] == [name for name, _ in READY]
    assert pack.pack.not_ready == (NAMES[-1][0].strip(),)
    assert pack.pack.cards[0].number == "001 to 002"
    assert sorted(pack.pack.cards[0].seals) == [1, 2]


def test_each_cup_has_a_picture_of_its_own_large_enough_to_read(pack: Packed) -> None:
    pictures = list((pack.folder / "pictures").iterdir())
    assert len(pictures) == len(READY)
    for path in pictures:
        with Image.open(path) as picture:
            assert picture.format == "JPEG"
            assert picture.width == 1080
            assert 700 < picture.height < 2400
    for card in pack.pack.cards:
        (face,) = card.faces
        with Image.open(io.BytesIO(face)) as close:
            ink = close.convert("L").point(lambda value: 255 if value > 150 else 0).getbbox()
            assert ink is not None
            assert ink[2] - ink[0] > 0.6 * close.width  # more of it than of bare wall
            assert 4 < ink[0] < ink[2] < close.width - 4
            assert 4 < ink[1] < ink[3] < close.height - 4


@pytest.mark.long
def test_a_pack_that_is_made_again_is_left_as_it_lies(packed: Shop) -> None:
    files = [path for path in (packed.folder / "proof-pack").rglob("*.*") if path.is_file()]
    before = {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in files}
    (page,) = (path for path in files if path.suffix == ".html")
    made = packed.pack()
    assert made is not None
    assert made.pack.id in page.read_text(encoding="utf-8")
    assert {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in files} == before


@pytest.mark.long
def test_the_same_pack_elsewhere_is_the_same_files(
    pack: Packed, order: Path, tmp_path: Path
) -> None:
    moved = tmp_path / "elsewhere"
    shutil.copytree(order, moved)
    shutil.rmtree(moved / "proof-pack")
    assert pack_of(moved).pack.id == pack.pack.id
    for path in pack.folder.rglob("*.*"):
        again = moved / "proof-pack" / path.relative_to(pack.folder)
        assert again.read_bytes() == path.read_bytes(), path.name


def text_in(path: Path) -> str:
    """Return all that a file of the pack says, as an outsider finds it."""
    if path.suffix == ".xlsx":
        book = openpyxl.load_workbook(path)
        return "\n".join(
            str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row
        )
    if path.suffix == ".pdf":
        return subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True).stdout
    return path.read_text(encoding="utf-8")


@pytest.mark.outside("pdftotext")
def test_it_holds_only_what_the_client_needs(pack: Packed) -> None:
    for ending in (".html", ".pdf", ".xlsx"):
        text = text_in(path_of(pack, ending))
        assert "Spring concert" in text
        for private in (SECRET, "unpaid", "49.90", "Price", "Notes", "finding", "/tmp"):
            assert private not in text, (ending, private)


def bare(text: str) -> str:
    return DIRECTIONS.sub("", unicodedata.normalize("NFC", text))


@pytest.mark.outside("pdftotext")
def test_poppler_reads_every_name_in_the_pdf_in_the_right_order(pack: Packed) -> None:
    text = bare(text_in(path_of(pack, ".pdf")))
    at = 0
    for name, role in READY:
        assert name in text[at:], name
        at = text.index(name, at)
        assert re.sub(r"\s+", " ", role) in re.sub(r"\s+", " ", text[at:]), role
    assert "Zoe with two dots on the e: Zoë" in text


@pytest.mark.outside("pdftoppm")
def test_nothing_on_a_page_of_the_pdf_is_cut_off(pack: Packed, tmp_path: Path) -> None:
    pages = pages_of(Path(shutil.copy(path_of(pack, ".pdf"), tmp_path)), 50)
    assert len(pages) == -(-len(READY) // 3) + 1  # three cards on a page, and who comes later
    for path in pages:
        with Image.open(path) as page:
            grey = page.convert("L")
            inside = grey.point(lambda value: 255 if value < 200 else 0).getbbox()
            edge = 10  # px of 0.508 mm: 5 mm
            assert inside is not None
            assert min(inside[0], inside[1]) >= edge
            assert inside[2] <= grey.width - edge
            assert inside[3] <= grey.height - edge


@pytest.mark.outside("pdfinfo")
@pytest.mark.parametrize(("size", "points"), [("A4", "595.28 x 841.89"), ("Letter", "612 x 792")])
def test_the_pdf_has_the_paper_that_was_asked_for(
    pack: Packed, tmp_path: Path, size: str, points: str
) -> None:
    from mailmerge.proofs.pack.printed import write_paper

    path = tmp_path / "p.pdf"
    path.write_bytes(write_paper(pack.pack, size))  # type: ignore[arg-type]
    told = subprocess.run(["pdfinfo", path], capture_output=True, text=True).stdout
    assert points in told


@pytest.mark.long
@pytest.mark.outside("soffice")
def test_libreoffice_opens_the_list_and_its_saved_copy_reads_back(
    office: Office, pack: Packed, order: Path, tmp_path: Path
) -> None:
    book = openpyxl.load_workbook(path_of(pack, ".xlsx"))
    sheet = book.active
    assert sheet is not None
    titles = {str(cell.value): cell.column for cell in sheet[5]}
    for row in range(6, sheet.max_row + 1):
        sheet.cell(row, titles["Right?"], "yes")
    sheet.cell(8, titles["What to change"], "Gudrun Þórðardóttir")
    filled = tmp_path / "filled.xlsx"
    book.save(filled)
    for kind in ("ods", "xlsx"):
        office(kind, tmp_path / kind, filled)
        with open_ledger(order) as ledger:
            answers = read_answers(ledger, tmp_path / kind / f"filled.{kind}")
        assert len(answers.said) == len(READY) + 1
        verdicts = {each.item: each.verdict for each in answers.said}
        assert verdicts.pop(3) == "change"
        assert set(verdicts.values()) == {"yes"}
    office("csv:Text - txt - csv (StarCalc):44,34,76", tmp_path, filled)
    seen = (tmp_path / "filled.csv").read_text(encoding="utf-8")
    for name, _ in READY:  # what starts with = stays a text
        assert name in seen


@pytest.mark.outside("pdfimages")
def test_pictures_of_the_pdf_are_as_fine_as_they_are_seen_and_no_finer(pack: Packed) -> None:
    """Poppler says how many px there are to the inch of the sheet."""
    command = ["pdfimages", "-list", str(path_of(pack, ".pdf"))]
    listed = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    rows = [line.split() for line in listed.splitlines()[2:]]
    fine = [int(row[12]) for row in rows if row[2] == "image"]
    assert len(fine) == 2 * len(READY)
    assert min(fine) >= 190
    assert max(fine) <= 216


@pytest.mark.outside("pdftotext")
def test_what_is_engraved_otherwise_than_it_is_written_is_told_everywhere(tmp_path: Path) -> None:
    names = [("Jonas Reiß", "Arbiter"), ("Bo DAHL", "")]
    layout = LAYOUT.replace("font = ", 'case = "upper"\nfont = ', 2)
    layout += '\n[[line]]\ntext = "{name}"\nmonogram = "even"\nfont = "Noto Sans"\n'
    layout += 'letter_height = { max = "4 mm", min = "1 mm" }\n'
    pack = pack_of(order_of(tmp_path / "concert", names, layout))
    jonas, bo = pack.pack.cards
    assert [text.engraved for text in jonas.texts[:2]] == [("JONAS REISS", "JR"), ("ARBITER",)]
    assert "ß is engraved as SS" in jonas.texts[0].notes
    assert bo.texts[0].engraved == ("BO DAHL", "BD")
    assert bo.texts[1].engraved == ()  # there is none
    for ending in (".html", ".pdf", ".xlsx"):
        text = text_in(path_of(pack, ending))
        for each in ("JONAS REISS", "JR", "ARBITER", "Jonas Reiß", "Arbiter"):
            assert each in text, (ending, each)
    book = openpyxl.load_workbook(path_of(pack, ".xlsx"))
    assert book.active is not None
    titles = [cell.value for cell in book.active[5]]
    assert titles[:5] == ["Item", "Name", "Role", "Side", "As it is engraved"]
    assert book.active.cell(6, 5).value == "JONAS REISS / JR / ARBITER"
    columns = checklist.columns_in([str(title) for title in titles])
    assert columns is not None
    assert (columns.item, columns.right, columns.change, columns.seal) == (0, 5, 6, 7)


@pytest.mark.long
def test_a_hundred_cups_stay_below_ten_megabytes(tmp_path: Path, samples: Samples) -> None:
    names = [(f"{first} {last}", "Tutti") for first in ("Anna", "Bo", "Carla", "Dag", "Eva")
             for last in ("Berg", "Dahl", "Ek", "Falk", "Gran", "Holm", "Ibsen", "Jonsson", "Krag",
                          "Lund", "Moe", "Nord", "Olsen", "Palm", "Quist", "Ring", "Sand", "Thor",
                          "Ulv", "Vik")]  # fmt: skip
    count = samples(20, 100)
    pack = pack_of(order_of(tmp_path / "many", names[::2][:count] if count < 100 else names))
    assert len(pack.pack.cards) == count
    page = path_of(pack, ".html").read_bytes()
    assert len(page) < 100_000 * count
    assert pack.sizes[path_of(pack, ".html").name] == len(page)
    assert sum(pack.sizes.values()) < 100_000 * count  # all that one would attach to a message
    widths = {int(width) for width in re.findall(rb'<img [^>]*width="(\d+)"', page)}
    assert max(widths) >= 700  # as many px as a phone shows
    assert len(list(pack.folder.glob("*contact-sheet*.png"))) == count // 20


def test_pictures_shrink_before_the_page_grows_too_large(
    pack: Packed, monkeypatch: pytest.MonkeyPatch
) -> None:
    from mailmerge.proofs.pack import page as pages

    def widest(page: bytes) -> int:
        return max(int(width) for width in re.findall(rb'<img [^>]*width="(\d+)"', page))

    whole = pages.write_page(pack.pack)
    largest = round(len(whole) * 0.9)
    monkeypatch.setattr(pages, "LARGEST", largest)
    page = pages.write_page(pack.pack)
    assert widest(page) < widest(whole)
    assert len(page) < largest


def test_the_contact_sheet_shows_every_cup(pack: Packed) -> None:
    with Image.open(path_of(pack, "contact-sheet.png")) as shown:
        assert shown.width == 1600
        assert shown.height < 3000
        data = io.BytesIO()
        shown.save(data, "PNG")
    assert path_of(pack, "contact-sheet.png").stat().st_size < 1_000_000


def test_a_sentence_on_a_picture_runs_as_its_language_does_whatever_it_begins_with(
    pack: Packed, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An English note that begins with an Arabic name ends on the right."""
    written: dict[str, int | None] = {}

    def label(text: str, size: float, weight: int = 400, base: int | None = None) -> Label:
        written[text] = base
        return canvas.label(text, size, weight, base)

    monkeypatch.setattr(sheet, "label", label)
    (card,) = [card for card in pack.pack.cards if card.name == "سارة الخطيب"]
    sheet.draw_picture(pack.pack, card)
    (note,) = [text for text in written if "is in Arabic letters" in text]
    assert written[note] == 0
    assert written[card.name] is None


def test_a_picture_tells_what_is_engraved_otherwise_than_it_is_written(
    pack: Packed, monkeypatch: pytest.MonkeyPatch
) -> None:
    written: list[str] = []

    def label(text: str, *more: float) -> Label:
        written.append(text)
        return canvas.label(text, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(sheet, "label", label)
    text = replace(pack.pack.cards[0].texts[0], text="Jo Reiß", engraved=("JO REISS",))
    sheet.draw_picture(pack.pack, replace(pack.pack.cards[0], texts=(text,)))
    assert written[:2] == ["JO REISS", "As written: Jo Reiß"]


@pytest.mark.long
def test_a_second_pack_shows_only_what_is_open(packed: Shop) -> None:
    with open_ledger(packed.folder) as ledger, ledger.writing() as change:
        change._db.execute("UPDATE pack SET made = '2020-12-04T09:00:00+00:00'")
        confirm(change, [1, 4, 5], "Anouk, by phone", dt.datetime(2020, 12, 5, 10, tzinfo=dt.UTC))
    second = packed.pack()
    assert second is not None
    assert [card.name for card in second.pack.cards] == ["Bo Dahl", "Carla Ek"]
    assert len(list((second.folder / "pictures").iterdir())) == 2
    everything = packed.pack(everything=True)
    assert everything is not None
    assert len(everything.pack.cards) == len(GUESTS)
    assert everything.pack.open == 2
    assert everything.pack.cards[0].settled == "Confirmed on 5 December 2020."


@pytest.mark.parametrize(
    ("text", "notes"),
    [
        ("Zoë", ("Zoe with two dots on the e: Zoë",)),
        ("Zoe\u0308", ("Zoe with two dots on the e: Zoe\u0308",)),
        ("Bo Dahl", ()),
        ("Łukasz", ("Lukasz with a stroke through the L: Łukasz",)),
        ("Guðrún", ("Gudrun with an eth (ð) and a stroke rising to the right on the u: Guðrún",)),
        ("O'Hara-Smith", ("O'Hara-Smith: with an apostrophe and a hyphen",)),
        ("McKay", ("McKay: with a capital K inside",)),
        ("Groß", ("Gross with a sharp s (ß): Groß",)),
        ("Nguyễn", ("Nguyen with a roof on the e and a tilde on the e: Nguyễn",)),
        ("Jr. 3", ()),
        ("J0nas", ("J0nas: with the digit 0",)),
        ("سارة", ("سارة is in Arabic letters, read from right to left: compare it with your own "
                  "spelling",)),
        ("سارة الخطيب Lind", ("سارة الخطيب is in Arabic letters, read from right to left: compare "
                              "it with your own spelling",)),
        ("Zoë Ελένη سارة", ("Zoe with two dots on the e: Zoë",
                            "Ελένη is in Greek letters: compare it with your own spelling",
                            "سارة is in Arabic letters, read from right to left: compare it with "
                            "your own spelling")),
        ("Ελένη", ("Ελένη is in Greek letters: compare it with your own spelling",)),
        ("Αnna", ("Αnna is in Greek letters: compare it with your own spelling",)),
    ],
)  # fmt: skip
def test_unusual_letters_are_pointed_out(text: str, notes: tuple[str, ...]) -> None:
    assert notes_on(text) == notes


def test_a_pack_that_is_called_off_while_it_is_drawn_leaves_nothing(shop: Shop) -> None:
    told: list[tuple[int, int]] = []

    def watch(done: int, total: int) -> bool:
        told.append((done, total))
        return told[-2:] != [(0, 5), (1, 5)] or len(told) < 6  # the first single picture

    with pytest.raises(CalledOff):
        client.proof(shop.folder, jobs=1, watch=watch)
    assert told[-1] == (1, 5), "it was drawn by then"
    with open_ledger(shop.folder) as ledger:
        assert ledger.newest_pack()[1] == 0
    assert not list(shop.folder.glob("proof-pack/*"))
    assert not list(shop.folder.glob("**/.staged*"))
