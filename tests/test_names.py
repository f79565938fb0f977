"""Capitals, particles, initials and places to break, on names of many cultures."""

from __future__ import annotations

import random
import re
import unicodedata
import warnings
from functools import cache

import pytest

from mailmerge.guests.languages import tag_of
from mailmerge.guests.names import broken, initials, part, shorter, titled, upper, words_of


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("pádraig o'dea", "Pádraig O'Dea"),
        ("PÁDRAIG O'DEA", "Pádraig O'Dea"),
        ("McAllister", "McAllister"),
        ("MCALLISTER", "McAllister"),
        ("Théo d'Arcy", "Théo d'Arcy"),
        ("THÉO D'ARCY", "Théo D'Arcy"),
        ("noor van der heijden", "Noor van der Heijden"),
        ("NOOR VAN DER HEIJDEN", "Noor van der Heijden"),
        ("maria de la cruz", "Maria de la Cruz"),
        ("JEAN-LUC PICHON", "Jean-Luc Pichon"),
        ("henry james iii", "Henry James III"),
        ("HENRY JAMES III", "Henry James III"),
        ("CATHAL Ó MIADHA", "Cathal Ó Miadha"),
        ("SAOIRSE NÍ BHRIAIN", "Saoirse Ní Bhriain"),
        ("ana d. silva", "Ana D. Silva"),
        ("dunkin's", "Dunkin's"),
        ("JÜRGEN GROß", "JÜRGEN GROß"),  # ß is no capital: typed on purpose
        ("ludwig van beethoven", "Ludwig van Beethoven"),
        ("γιώργος", "Γιώργος"),
        ("ΓΙΏΡΓΟΣ", "Γιώργος"),  # the final sigma (SpecialCasing.txt)
    ],
)
def test_title_case(typed: str, wanted: str) -> None:
    assert titled(typed) == wanted


def test_turkish_has_two_letters_i() -> None:
    """Unicode, SpecialCasing.txt: tr and az."""
    assert titled("ışıl inan", "tr") == "Işıl İnan"
    assert titled("IŞIL İNAN", "tr-TR") == "Işıl İnan"
    assert upper("ışıl inan", "az") == "IŞIL İNAN"
    assert upper("inan") == "INAN"
    assert titled("IJSBRAND", "nl") == "IJsbrand"


@pytest.mark.parametrize(
    ("written", "tag"),
    [
        ("tr", "tr"), ("de-CH", "de-CH"), ("pt_BR", "pt_BR"), ("sr-Latn", "sr-Latn"),
        ("tur", "tr"), ("Turkish", "tr"), ("Türkçe", "tr"), ("türkçe", "tr"), ("Deutsch", "de"),
    ],
)  # fmt: skip
def test_languages_by_tag_and_by_name(written: str, tag: str) -> None:
    """ISO 639 and CLDR, as Babel has them."""
    assert tag_of(written) == tag


@pytest.mark.parametrize(
    "written",
    [
        "Klingonish",
        "xx",
        "zz",
        "de-XX",
        "sr-Qqqq",
        "t",
        "?",
        "tr!",
        "en-Klingon",
        "tr-klm",
        "de-12345",
    ],
)
def test_what_is_no_language(written: str) -> None:
    with pytest.raises(ValueError, match=re.escape(written)):
        tag_of(written)


def test_capitals_of_german_and_greek() -> None:
    """SpecialCasing.txt: ß becomes SS. CLDR, el-Upper: the tonos goes, the dialytika stays."""
    assert upper("Jürgen Groß", "de") == "JÜRGEN GROSS"
    assert upper("Αλέξανδρος Μαΐου") == "ΑΛΕΞΑΝΔΡΟΣ ΜΑΪΟΥ"
    assert upper("Zoë Ní Bhriain") == "ZOË NÍ BHRIAIN"


@cache
def real_names() -> list[tuple[str, str]]:
    """Return (language, name) of forty people of every locale of the package ``faker``."""
    from faker import Faker
    from faker.config import AVAILABLE_LOCALES

    found = []
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for locale in sorted(AVAILABLE_LOCALES):
            maker = Faker(locale, providers=["faker.providers.person"])
            maker.seed_instance(20261212)
            for _ in range(40):
                name = f"{maker.first_name()} {maker.last_name()}"
                found.append((locale[:2], unicodedata.normalize("NFC", name)))
    return found


def test_names_of_all_locales_are_left_alone() -> None:
    """What is written as its owner writes it stays; faker has a few surnames in small letters."""
    people = real_names()
    changed = [(name, titled(name, tag)) for tag, name in people if titled(name, tag) != name]
    assert len(people) > 3000
    # All that is ever done to them is a capital at the start of a word that has none.
    for name, after in changed:
        assert after.casefold() == name.casefold()
        assert any(word[0].islower() for word in name.replace("-", " ").split() if word), name
    assert len(changed) < 0.01 * len(people)


def test_names_typed_all_in_capitals_come_back() -> None:
    lost = []
    for tag, name in real_names():
        shouted = upper(name, tag)
        back = titled(shouted, tag)
        if tag == "el" or "ß" in name:
            continue  # their capitals have lost a tonos or a ß for good
        if back != name and name == titled(name, tag):
            lost.append((name, back))
    assert len(lost) < 0.03 * len(real_names()), lost[:20]
    # What differs is only what capitals cannot tell: Mcgee or McGee, De Smet or de Smet.
    assert all(a.casefold() == b.casefold() for a, b in lost)


def test_breaks_never_fall_inside_a_word_nor_part_a_name_from_its_particles() -> None:
    for _, name in [*real_names(), ("", "Noor van der Heijden"), ("", "Ali bin Rashid Al Maktoum")]:
        words = set(name.replace("-", "- ").split())
        for count in (2, 3):
            for rows in broken(name, count):
                assert len(rows) == count
                assert "".join(rows).replace(" ", "") == name.replace(" ", "")
                for row in rows:
                    assert set(row.replace("-", "- ").split()) <= words, (name, rows)
                for row in rows[:-1]:
                    last = row.split()[-1]
                    assert last.casefold() not in ("van", "der", "von", "de", "la", "bin") or (
                        row == last  # somebody's first name
                    ), (name, rows)


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("Noor van der Heijden", {("Noor", "van der Heijden")}),
        ("Maria de la Cruz", {("Maria", "de la Cruz")}),
        ("Mary O' Brien", {("Mary", "O' Brien")}),
        ("Connor Mac Giolla", {("Connor", "Mac Giolla")}),
        ("Ali bin Rashid", {("Ali", "bin Rashid")}),
        ("Anna Smith-Jones Jr.", {("Anna", "Smith-Jones Jr."), ("Anna Smith-", "Jones Jr.")}),
        ("Van Morrison", {("Van", "Morrison")}),
        ("Al Gore", {("Al", "Gore")}),
        ("Anna In 't Veld", {("Anna", "In 't Veld")}),
        ("Nour al-Rahman", {("Nour", "al-Rahman")}),
        ("Zoë", set()),
    ],
)
def test_where_names_break(name: str, wanted: set[tuple[str, ...]]) -> None:
    assert set(broken(name, 2)) == wanted


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("Amara Okonkwo", "AO"),
        ("Noor van der Heijden", "NH"),
        ("Mary Ann Louise Smith", "MAS"),
        ("Zoë", "Z"),
        ("élodie ibáñez", "ÉI"),
        ("Ana D. Silva", "ADS"),
        ("Henry James III", "HJ"),
        ("श्री कृष्ण", "श्रीकृ"),  # grapheme clusters, UAX #29
        ("", ""),
        ("– –", ""),
        ("Al Gore", "AG"),
        ("Le Van Minh", "LV"),
        ("Dr. Jane Roe PhD", "JR"),
    ],
)
def test_initials(name: str, wanted: str) -> None:
    assert initials(name) == wanted


@pytest.mark.parametrize(
    ("name", "first", "last", "letters"),
    [
        ("Dr. Maren Hale", "Maren", "Hale", "MH"),
        ("Frau Prof. Dr. Maren Hale", "Maren", "Hale", "MH"),
        ("Dott.ssa Chiara Bellandi", "Chiara", "Bellandi", "CB"),
        ("Hale, Maren", "Maren", "Hale", "MH"),
        ("Maren Hale, Jr.", "Maren", "Hale, Jr.", "MH"),
        ("Noor van der Heijden", "Noor", "van der Heijden", "NH"),
        ("St John Smith", "St John", "Smith", "SS"),
        ("Van Morrison", "Van", "Morrison", "VM"),
        ("Pan Wei", "Pan", "Wei", "PW"),
        ("Maren", "Maren", "", "M"),
        ("", "", "", ""),
    ],
)
def test_first_and_last_name(name: str, first: str, last: str, letters: str) -> None:
    assert part(name) == (first, last, "")
    assert initials(name) == letters


@pytest.mark.parametrize(
    ("name", "doubt"),
    [
        ("Dr. Hale", "title"),
        ("JJ Holm", "initial"),
        ("Mevrouw De Wit", "title"),
        ("Dr.", "title"),
        ("Maren & Tom", "several"),
        ("Maren und Tom Hale", "several"),
        ("Mr. & Mrs. Hale", "several"),
        ("The Hale Family", "family"),
        ("Familie Berg", "family"),
        ("J. Hale", "initial"),
        ("J.R. Hale", "initial"),
        ("van der Heijden", "particle"),
        ("Nguyễn Thị Ánh Tuyết", "family-first"),
    ],
)
def test_where_the_first_name_is_not_sure(name: str, doubt: str) -> None:
    assert part(name).doubt == doubt


def test_initials_follow_the_language() -> None:
    assert (initials("ışıl inan", "tr"), initials("ışıl inan")) == ("Iİ", "II")
    assert initials("IJsbrand Bakker", "nl") == "IJB"


def test_shorter_forms_keep_particles() -> None:
    assert dict(shorter("Noor Maria van der Heijden")) == {
        "without the middle name": "Noor van der Heijden",
        "with an initial": "N. van der Heijden",
        "as the first name alone": "Noor",
    }


def test_nothing_breaks_them() -> None:
    dice = random.Random(7)
    signs = "aAzZéß İıΣς'’-.,  \u0301שا李🎻1"
    for _ in range(3000):
        text = " ".join("".join(dice.choices(signs, k=dice.randrange(14))).split())
        titled(text), upper(text), initials(text), list(shorter(text)), words_of(text)
        for rows in broken(text, 2):
            assert all(rows)


@pytest.mark.parametrize(
    ("name", "doubt"),
    [
        ("Ana Belén Ortiz", "double"), ("Jean Luc Faure", "double"), ("Karl Heinz Ritt", "double"),
        ("Lars Erik Sundin", "double"), ("João Pedro Luz", "double"), ("Peggy Sue Hart", "double"),
        ("Park Ji-woo", "family-first"), ("Trần Quang Huy", "family-first"),
        ("Hong Xiao-li", "family-first"), ("Anna Claire Moss", ""), ("Otto Peter Lang", ""),
        ("Luis Hart", ""), ("Jean Paul", ""), ("Lee Jean-Luc", ""), ("Kim Basset", ""),
        ("James Robert Poole", ""), ("María Ortiz Vega", ""), ("Peter Hans", ""),
    ],
)  # fmt: skip
def test_a_double_first_name_and_a_family_in_front_are_doubtful(name: str, doubt: str) -> None:
    assert part(name).doubt == doubt
