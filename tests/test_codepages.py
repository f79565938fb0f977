"""Letters read in another code page than they were written in; Python's own codecs make them."""

from __future__ import annotations

import pytest

from mailmerge.guests.codepages import misread
from mailmerge.guests.company import Company

WRITTEN = [
    ("cp1250", "Karel Dvořák; Jiří Řezníček; Lech Wałęsa; Győző Szűcs; Ivan Petrović; Ana Kovač; "
     "Bogusław Kępa; Zofia Dębska; Luka Črnič; Ionuţ Bălan; Ondřej Kučera; Đorđe Jovanović"),
    ("iso8859-2", "Karel Dvořák; Łukasz Śliwa; Kinga Żak"),
    ("cp1251", "Иван Щукин; Ольга Соколова"),
    ("koi8-r", "Иван Щукин"),
    ("cp866", "Ольга Соколова"),
    ("cp1253", "Γιώργος Παππάς; Ελένη Δράκου"),
    ("cp1255", "משה כהן"),
    ("cp1256", "محمد علي"),
    ("cp1257", "Jānis Bērziņš; Rūta Kalniņa"),
    ("mac_roman", "Jürgen Müller; Jörg Größe; José Núñez; Åse Ødegård"),
    ("cp850", "Jürgen Müller; Käthe Bär; Renée Dupont; Ørjan Sæther"),
    ("cp437", "Björn Åkerblom"),
]  # fmt: skip


def as_western(name: str, page: str) -> str:
    """Return how a name looks that was written in a page and read in Windows-1252."""
    data = name.encode(page)
    return "".join(
        chr(byte) if byte in b"\x81\x8d\x8f\x90\x9d" else bytes([byte]).decode("cp1252")
        for byte in data
    )


@pytest.mark.parametrize(
    ("page", "name"), [(page, name) for page, row in WRITTEN for name in row.split("; ")]
)
def test_what_was_written_is_found_again(page: str, name: str) -> None:
    found = misread(as_western(name, page))
    assert found is not None
    assert found.text == name


@pytest.mark.parametrize("name", ["Bjørn Ødegård", "João Simões", "Hélène Genêt", "Renée Père"])
def test_western_letters_that_were_read_as_eastern_ones_are_found_again(name: str) -> None:
    found = misread(name.encode("cp1252").decode("cp1250"))
    assert found is not None
    assert found.text == name


RIGHT = """José Muñoz; Zoë Brontë; Bjørn Ødegård; João Simões; François Lefèvre; Ægir Þórðarson;
Åsa Sjöberg; Jürgen Größe; Siobhán Ó Briain; Mõttus Põld; Noè Cantù; Karel Dvořák; Lech Wałęsa;
Győző Szűcs; Ιωάννης Δράκος; Пётр Щукин; Gülşen Akçay; Petar Smiđmar; Jakub
Krzyśko; Väinö Räihä; Bray—Cope; Nguyễn Thị Lê; Robert “Bob” Hale"""


@pytest.mark.parametrize("name", [" ".join(name.split()) for name in RIGHT.split(";")])
def test_what_is_right_is_left_alone(name: str) -> None:
    assert misread(name) is None


def test_where_others_are_misread_a_name_is_judged_by_their_page() -> None:
    """Lõrinc alone may be Estonian."""
    told = {}
    for others in ([], ["Karel Dvořák", "Jiří Řezníček"]):
        company = Company()
        for row, name in enumerate([*others, "Lőrinc Kis"]):
            company.add(row, as_western(name, "cp1250"), "Horn")
        said = company.remarks().get(len(others), [])
        told[len(others)] = [remark.other for remark in said if remark.kind == "code-page"]
    assert told == {0: [], 2: ["Lőrinc Kis"]}
