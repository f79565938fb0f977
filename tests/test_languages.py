"""The languages of a proof pack: whole catalogues, and everything that goes out and comes back."""

from __future__ import annotations

import gettext
import io
import re
import shutil
import subprocess
from dataclasses import replace
from functools import cache
from pathlib import Path

import openpyxl
import pytest
from babel import Locale
from babel.messages import Message
from catalogues import LOCALE, catalogue, extracted, po_of, text_of, updated
from PIL import Image
from playwright.sync_api import Browser
from shop import Shop, done

from mailmerge.answers.incoming import read_answers
from mailmerge.answers.ticks import is_yes
from mailmerge.cli.client import _say_packed
from mailmerge.deeds import client
from mailmerge.findings import InputError
from mailmerge.guests.columns import FIELDS
from mailmerge.items import words as item_words
from mailmerge.ledger.ledger import open_ledger
from mailmerge.lettering import open_font
from mailmerge.proofs import paper as papers
from mailmerge.proofs.canvas import plain_style
from mailmerge.proofs.pack import Card, Pack, Text, languages, words
from mailmerge.proofs.pack.checklist import columns_in, title_of, write_checklist
from mailmerge.proofs.pack.languages import Language, known
from mailmerge.proofs.pack.letters import notes_on
from mailmerge.proofs.pack.page import write_page
from mailmerge.proofs.pack.printed import write_paper
from mailmerge.proofs.pack.sheet import draw_sheets
from mailmerge.proofs.text import width_of

ALL = ("ar", "cy", "de", "en", "es", "fr", "pl")
TRANSLATED = tuple(tag for tag in ALL if tag != "en")


def test_there_are_the_seven_languages() -> None:
    assert sorted(known()) == sorted(ALL)


def test_the_template_holds_what_the_files_say() -> None:
    assert (LOCALE / "pack.pot").read_bytes() == text_of(extracted()), "python -m tests.catalogues"


def forms_of(message: Message) -> list[str]:
    return [message.string] if isinstance(message.string, str) else list(message.string or ())


def values_in(text: str) -> set[str]:
    return set(re.findall(r"%\((\w+)\)s", text))


@pytest.mark.parametrize("tag", TRANSLATED)
def test_every_text_is_translated_in_all_its_forms(tag: str) -> None:
    wanted, own = extracted(), catalogue(tag)
    assert po_of(tag).read_bytes() == text_of(updated(tag, wanted)), "python -m tests.catalogues"
    assert Language(tag).missing == ()
    for message in wanted:
        if not message.id:
            continue
        found = own.get(message.id, message.context)
        assert found is not None
        assert not found.fuzzy
        forms = forms_of(found)
        assert len(forms) == (1 if isinstance(message.id, str) else own.num_plurals), message.id
        assert all(forms), message.id
        assert not [*found.check(own)], message.id
        english = message.id if isinstance(message.id, str) else message.id[1]
        for form in forms:
            assert values_in(form) - {"count"} == values_in(english) - {"count"}, message.id
            assert form == " ".join(form.split()) or "\u00a0" in form
            assert form.endswith(".") or not english.endswith(".")


@pytest.mark.parametrize("tag", TRANSLATED)
def test_plural_forms_are_those_of_the_locale_data(tag: str) -> None:
    """Counts take the same form where CLDR has them in one category, and else another one."""
    own, locale = catalogue(tag), Locale.parse(tag)
    rule = gettext.c2py(own.plural_expr)  # type: ignore[attr-defined]
    categories = {n: locale.plural_form(n) for n in (*range(201), 1_000_000)}
    pairs = {(categories[n], rule(n)) for n in categories}
    assert len(pairs) == own.num_plurals == len(set(categories.values()))


@pytest.mark.parametrize(
    ("tag", "told"),
    [
        ("en", {1: "1 cup", 2: "2 cups"}),
        ("de", {1: "1 Becher", 2: "2 Becher"}),
        ("fr", {0: "0 gobelet", 1: "1 gobelet", 2: "2 gobelets"}),
        ("es", {1: "1 vaso", 2: "2 vasos"}),
        ("pl", {1: "1 kubek", 3: "3 kubki", 5: "5 kubków", 12: "12 kubków", 22: "22 kubki"}),
        ("cy", {1: "1 cwpan", 2: "2 gwpan", 3: "3 chwpan", 6: "6 chwpan", 7: "7 cwpan"}),
        ("ar", {1: "كوب واحد", 2: "كوبان", 3: "3 أكواب", 11: "11 كوبًا", 100: "100 كوب"}),
    ],
)
def test_a_count_takes_the_form_of_its_language(tag: str, told: dict[int, str]) -> None:
    """From memory of each language's grammar, not out of the catalogues."""
    assert {count: words.cups(Language(tag), count) for count in told} == told


def test_days_numbers_and_lists_are_those_of_the_language() -> None:
    """From memory of how each language writes them."""
    import datetime as dt

    day = dt.datetime(2026, 12, 5, 9, 40)
    days = {"de": "5. Dezember 2026", "en": "5 December 2026", "es": "5 de diciembre de 2026",
            "fr": "5 décembre 2026", "pl": "5 grudnia 2026", "cy": "5 Rhagfyr 2026",
            "ar": "5 ديسمبر 2026"}  # fmt: skip
    assert {tag: Language(tag).day(day) for tag in ALL} == days
    assert {tag: Language(tag).number(22.5) for tag in ALL} == {
        "ar": "22.5", "cy": "22.5", "de": "22,5", "en": "22.5", "es": "22,5", "fr": "22,5",
        "pl": "22,5",
    }  # fmt: skip
    three = {tag: Language(tag).listed(["Bo", "Eva", "Zoë"]) for tag in ALL}
    assert three["en"] == "Bo, Eva and Zoë"
    assert three["pl"] == "Bo, Eva i Zoë"
    assert three["cy"] == "Bo, Eva, Zoë"
    for tag in ALL:
        for count in range(1, 5):
            listed = Language(tag).listed(map(str, range(count)))
            assert re.findall(r"\d", listed) == [*map(str, range(count))]


def test_every_face_that_a_record_tells_of_is_translated() -> None:
    told = [item_words.THE_FRONT, item_words.FACING_DRINKER, item_words.FACING_ONLOOKERS]
    told += [item_words.opposite(zero) for zero in ("handle", "seam")]
    told += [item_words.degrees_from(zero, 22.5) for zero in ("handle", "seam")]
    for tag in TRANSLATED:
        for face in told:
            said = words.faces(Language(tag), face)
            assert said.casefold() != face.casefold(), (tag, face)
        both = words.faces(Language(tag), item_words.listed(told[1:3]))
        for face in told[1:3]:
            assert words.faces(Language(tag), face)[1:] in both
    assert words.faces(languages.ENGLISH, told[1]) == "Facing the drinker"


@cache
def english_texts() -> set[str]:
    """Return what the pack says in English where it has no values in it."""
    ids = [message.id for message in extracted() if message.id]
    texts = [each for found in ids for each in ([found] if isinstance(found, str) else found)]
    return {text for text in texts if " " in text and not values_in(text)}


ENGLISH_WORDS = re.compile(r"\b(?:the|your|what|this|with|letters?|please|answers?|right)\b", re.I)
"""That stand in no other of the languages."""


@pytest.mark.parametrize("tag", ALL)
def test_letters_are_named_in_the_language_and_nothing_is_left_in_english(tag: str) -> None:
    language = Language(tag)
    for word in ("Zoë", "Guðrún", "O'Hara", "Groß", "McKay", "J0nas", "Ελένη"):
        (note,) = notes_on(word, language)
        assert word in note
        if tag != "en":
            assert not ENGLISH_WORDS.search(note), note
            assert not [text for text in english_texts() if text in note], note
    (note,) = notes_on("Ελένη", language)
    assert str(Locale.parse(tag).scripts["Grek"]) in note
    assert len(notes_on("سارة", language)) == (0 if tag == "ar" else 1)  # their own letters


@pytest.mark.parametrize("tag", ALL)
def test_the_fonts_of_paper_and_pictures_have_every_letter(tag: str) -> None:
    said = "".join(form for message in catalogue(tag) for form in forms_of(message))
    letters = {char for char in said if not char.isspace()}
    on_paper = [open_font(name, 400, Path()) for name in papers._FONTS]
    for fonts in (on_paper, plain_style(400).fonts):
        assert not [c for c in letters if not any(ord(c) in font.face.unicodes for font in fonts)]


def test_a_language_without_a_catalogue_is_refused_with_those_that_there_are(shop: Shop) -> None:
    with (shop.folder / "order.toml").open("a", encoding="utf-8") as file:
        file.write('[client]\nlanguage = "xx"\n')
    with pytest.raises(InputError, match=r'client.language: Found "xx". The proof pack can be in: '
                       r"en, ar, cy, de, es, fr, pl\."):  # fmt: skip
        shop.merge()


def test_a_catalogue_with_gaps_says_so_and_has_english_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(LOCALE, tmp_path / "locale")
    po = tmp_path / "locale" / "de" / "LC_MESSAGES" / "pack.po"
    text = po.read_text(encoding="utf-8")
    text = text.replace('msgstr "Noch nicht fertig"', 'msgstr ""')
    text = text.replace('msgid "Colour"', '#, fuzzy\nmsgid "Colour"')
    text = text.replace('msgstr[1] "%(count)s Becher"', 'msgstr[1] ""')
    po.write_text(text, encoding="utf-8")
    monkeypatch.setattr(languages, "_LOCALE", tmp_path / "locale")
    languages.translations.cache_clear()
    try:
        german = Language("de")
        assert german.missing == ("Not ready yet", "Colour", "%(count)s cup")
        assert words.not_ready(german) == "Not ready yet"
        assert words.colour(german) == "Colour"
        assert words.your_name(german) == "Ihr Name"
    finally:
        languages.translations.cache_clear()


# What goes out


def pack_in(tag: str) -> Pack:
    """Return a pack of three cards, in a language."""
    language = Language(tag)
    saved = io.BytesIO()
    Image.new("RGB", (300, 300), "#888888").save(saved, "PNG")

    def card(number: int, name: str) -> Card:
        return Card(
            seals={number: "seal"},
            number=f"{number:03}",
            name=name,
            texts=(Text("name", words.field_label(language, "name"), name,
                        notes_on(name, language)),),
            details=((words.side(language), words.faces(language, "facing the drinker")),),
            cup=saved.getvalue(),
            faces=(),
            file=f"{number:03}",
        )  # fmt: skip

    cards = (card(1, "Zoë Lind"), card(2, "سارة الخطيب"), card(3, "Bo Dahl"))
    return Pack("ABCD-2345", "EFGH-6789", "Gala", cards, ("Anna Berg", "Dag Falk"), language)


def words_on(path: Path) -> list[tuple[str, float, float]]:
    """Return each word of a PDF as poppler finds it, with its left and right edge in points."""
    told = subprocess.run(["pdftotext", "-bbox", path, "-"], capture_output=True, text=True).stdout
    found = re.findall(r'<word xMin="([\d.]+)".*? xMax="([\d.]+)".*?>(.*?)</word>', told)
    return [(word, float(left), float(right)) for left, right, word in found]


PICTURE_ENDS = (15 + 3 + 66) / 25.4 * 72
"""How far the pictures reach into the paper from the edge where rows begin, in points."""


@pytest.mark.outside("pdftotext")
@pytest.mark.parametrize("tag", ALL)
def test_the_paper_is_in_the_language_and_runs_its_way(tag: str, tmp_path: Path) -> None:
    pack, language = pack_in(tag), Language(tag)
    path = tmp_path / "p.pdf"
    path.write_bytes(write_paper(pack))
    told = subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True).stdout
    text = " ".join(re.sub("[\u200e\u200f\u202a-\u202e\u2066-\u2069]", "", told).split())
    later = words.not_ready(language), words.later(language, pack.not_ready)
    for said in (words.read_the_paper(language), *later, *notes_on("Zoë", language)):
        if tag == "ar":  # poppler sets joined letters and marks apart
            wanted = re.findall("[\u0621-\u064a]+", said)
            assert len([word for word in wanted if word in text]) >= 0.8 * len(wanted), said
        else:
            assert " ".join(said.split()) in text
    found = words_on(path)
    (name,) = [(left, right) for word, left, right in found if word == "Lind"]
    if tag == "ar":
        assert name[1] < 595.3 - PICTURE_ENDS
    else:
        assert name[0] > PICTURE_ENDS
    assert all(left > 30 and right < 565 for _, left, right in found)


@pytest.mark.outside("pdftotext")
@pytest.mark.parametrize("is_ours", [True, False])
def test_a_name_at_a_sentences_start_does_not_turn_it_around(is_ours: bool, tmp_path: Path) -> None:
    paper = papers.Paper("A4", "t", papers.LONG_AGO)
    paper.words("סארה is a name", 15, 20, 100, 10, is_ours=is_ours)
    (tmp_path / "p.pdf").write_bytes(paper.written())
    at = {word: left for word, left, _ in words_on(tmp_path / "p.pdf")}
    (hebrew,) = [left for word, left in at.items() if ord(word[0]) > 0x590]
    assert (hebrew < at["is"]) == is_ours


@pytest.mark.outside("pdftotext")
def test_a_row_that_begins_with_another_font_leaves_the_size_of_the_next(tmp_path: Path) -> None:
    paper = papers.Paper("A4", "t", papers.LONG_AGO)
    paper.words("large", 15, 20, 100, 30)
    paper.words("سارة", 15, 40, 100, 9)
    paper.words("black", 15, 50, 100, 9)
    (tmp_path / "p.pdf").write_bytes(paper.written())
    width = {word: right - left for word, left, right in words_on(tmp_path / "p.pdf")}
    assert width["black"] < 0.4 * width["large"]


@pytest.mark.parametrize("tag", ALL)
def test_the_contact_sheet_and_the_list_are_in_the_language(tag: str) -> None:
    pack = pack_in(tag)
    language = pack.language
    (sheet,) = draw_sheets(pack)
    assert Image.open(io.BytesIO(sheet)).width == 1600
    assert width_of(words.first_look(language), 28, 400) < 1504
    book = openpyxl.load_workbook(io.BytesIO(write_checklist(pack)))
    (table,) = book.worksheets
    assert bool(table.sheet_view.rightToLeft) == (tag == "ar")
    assert len(table.title) <= 31
    assert table["A2"].value == words.read_the_list(language)
    (ticked,) = table.data_validations.dataValidation
    assert ticked.formula1 == f'"{words.yes(language)}"'
    assert is_yes(words.yes(language))
    titles = [str(cell.value) for cell in table[5]]
    own = [words.side(language), *titles]
    texts = [title_of(language, field) for field in FIELDS]
    assert len({title.casefold() for title in [*texts, *own]}) == len({*texts, *own})
    found = columns_in([f" {title.upper()} ".replace("\u00a0", " ") for title in titles])
    assert found is not None
    assert (found.language, found.pack) == (language, "EFGH-6789")
    assert (found.item, found.right, found.change, found.seal) == (0, 3, 4, 5)


@pytest.mark.long
@pytest.mark.outside("/usr/bin/chromium")
def test_the_page_is_in_the_language_and_as_wide_as_a_phone(
    chromium: Browser, tmp_path: Path
) -> None:
    """What is hidden at first is read as well."""
    english = english_texts()
    page = chromium.new_page(viewport={"width": 390, "height": 844})
    for tag in ALL:
        path = tmp_path / f"{tag}.html"
        path.write_bytes(write_page(pack_in(tag)))
        page.goto(path.as_uri())
        root = page.locator("html")
        assert root.get_attribute("lang") == tag
        assert root.get_attribute("dir") == ("rtl" if tag == "ar" else "ltr")
        assert page.locator("nav").bounding_box()["height"] < 70, tag  # its buttons, in one row
        for button in ("button.no:visible", "#all"):
            page.click(button)
            assert page.evaluate("document.documentElement.scrollWidth") <= 390, tag
        page.evaluate("document.querySelectorAll('script, textarea').forEach(e => e.remove())")
        told = " ".join(page.evaluate("document.body.textContent").split())
        left = {text for text in english if text in told} | {*ENGLISH_WORDS.findall(told)}
        assert len(left) > 10 if tag == "en" else not left, tag
        page.evaluate("localStorage.clear()")
    page.close()


# What comes back


TICKS = {
    "ar": ("نعم", "صحيح، شكرا"), "cy": ("cywir", "Ydy", "Iawn, diolch"), "de": ("Ja", "stimmt"),
    "en": ("yes", "OK"), "es": ("Sí", "si, gracias"), "fr": ("OUI", "Oui, merci"),
    "pl": ("Tak", "zgadza"),
}  # fmt: skip


def filled(sent: bytes, tag: str, path: Path) -> None:
    """Fill in a list in a language: yes to all but the third cup, whose name is another one."""
    book = openpyxl.load_workbook(io.BytesIO(sent))
    (table,) = book.worksheets
    table["B3"] = "Zoë"
    ticks = TICKS[tag]
    titles = [str(cell.value) for cell in table[5]]
    columns = columns_in(titles)
    assert columns is not None
    for row in range(6, 11):
        table.cell(row, columns.right + 1, ticks[row % len(ticks)])
    table.cell(8, titles.index(title_of(columns.language, "name")) + 1, "Carla Eck")
    book.save(path)


@pytest.mark.long
def test_a_list_in_each_language_reads_back(packed: Shop, tmp_path: Path) -> None:
    made = packed.pack(everything=True)
    assert made is not None
    for number, tag in enumerate(ALL, start=2):
        pack = replace(made.pack, id=f"AAAA-{number:04}", language=Language(tag))
        sent, path = write_checklist(pack), tmp_path / f"{pack.id}.xlsx"
        with packed.changing() as change:
            change.put_pack(pack.id, number, change.records(), sent)
        filled(sent, tag, path)
        with open_ledger(packed.folder) as ledger:
            answers = read_answers(ledger, path)
        assert answers.said_by == "Zoë", tag
        assert answers.unclear == (), tag
        assert [(each.item, each.verdict) for each in answers.said] == [
            (1, "yes"), (2, "yes"), (3, "change"), (4, "yes"), (5, "yes"),
        ], tag  # fmt: skip
        assert answers.said[2].texts == {"name": "Carla Eck"}, tag


@pytest.mark.parametrize(
    "tick",
    [
        "nein", "nicht richtig", "no", "no es correcto", "non", "pas correct", "nie", "nie tak",
        "nac ydy", "na", "anghywir", "لا", "غير صحيح", "ja?", "oui mais", "sí, pero", "بلا",
        "right hand", "bitte", "",
    ],
)  # fmt: skip
def test_whatever_is_no_plain_yes_is_none(tick: str) -> None:
    assert not is_yes(tick)


@pytest.mark.long
def test_an_order_whose_language_changes_is_sent_and_read_in_both(
    packed: Shop,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """What comes back is compared with what was sent: the pack in German is another one."""
    (path,) = (packed.folder / "proof-pack").glob("*.xlsx")
    filled(path.read_bytes(), "en", tmp_path / "en.xlsx")
    with (packed.folder / "order.toml").open("a", encoding="utf-8") as file:
        file.write('[client]\nlanguage = "de"\n')
    monkeypatch.setattr(Language, "missing", ("Not ready yet", "Colour"))
    made = done(client.proof(packed.folder, jobs=1))
    assert made.packed is not None
    card = made.packed.pack.cards[0]
    assert [label for label, _ in card.details] == ["Seite", "Hand", "Farbe"]
    assert card.texts[1].label == "Funktion"
    _say_packed(made)
    assert "2 texts of the pack are not translated into de yet." in capsys.readouterr().out
    filled(path.read_bytes(), "de", tmp_path / "de.xlsx")
    with open_ledger(packed.folder) as ledger:
        english, german = (read_answers(ledger, tmp_path / f"{tag}.xlsx") for tag in ("en", "de"))
    assert english.unclear == german.unclear == ()
    assert english.said[0].seal == german.said[0].seal
    assert english.pack != german.pack == made.packed.pack.id
