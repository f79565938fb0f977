"""Slots: a layout leaves its motif open, and the order or a column of the list says what it is."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
import shapely
from outside import cli
from shapely import affinity

from mailmerge.artwork import compose, read_drawing
from mailmerge.artwork.ornaments import catalogue, folded
from mailmerge.artwork.pieces import Piece
from mailmerge.findings import Finding, InputError, Severity
from mailmerge.items import Item, make_item
from mailmerge.lettering import Outline
from mailmerge.lettering.flat import polygons
from mailmerge.merge import engine
from mailmerge.merge.engine import heights_in
from mailmerge.orders import Order, open_order
from mailmerge.shelves import shelf

LIST = """Name,Role,Motif
Zoë Lindqvist,Wing,star
Ann Ek,Goal,
"""

ORDER = """
[order]
title = "Club"
list = "guests.csv"
blank = "handled-tumbler-40oz"
coat = "black"
{more}

[layout]
name = "Badge"

[[layout.line]]
text = "{{name}}"
font = "{font}"
letter_height = {{ max = "8 mm", min = "4 mm" }}

[[layout.ornament]]
motif = "{motif}"
line = 1
width = "20 mm"
height = "20 mm"
gap = "4 mm"
"""


Club = Callable[..., Order]


@pytest.fixture
def club(tmp_path: Path, box_font: Path) -> Club:
    def made(more: str = "", rows: str = LIST, motif: str = "?") -> Order:
        (tmp_path / "guests.csv").write_text(rows, encoding="utf-8")
        text = ORDER.format(more=more, motif=motif, font=box_font.as_posix())
        (tmp_path / "order.toml").write_text(text, encoding="utf-8")
        return open_order(tmp_path)

    return made


def drawn(order: Order) -> list[str]:
    """Return what stands on the cup of each guest, ``""`` for nothing, with a look at its ink."""
    found = []
    for guest in order.guests.guests():
        layout = order.design.layout_for(guest.fields)[0]
        made = compose(layout, order.design.blank, guest, order.design.words, order.design.folder)
        for each in made.ornaments:
            (piece,) = each.pieces
            assert _is(piece, each.name, order.design.folder)
        found.append(" ".join(each.name for each in made.ornaments))
    return found


def _is(piece: Piece, name: str, beside: Path) -> bool:
    """Whether a piece's ink is that of the drawing called so, whatever its size and place."""
    own = beside / f"{name}.svg"
    wanted = read_drawing(own if own.exists() else shelf("ornaments")[name]).outline
    one, other = (
        affinity.translate(shape, -shape.bounds[0], -shape.bounds[1])
        for shape in (_area(piece.outline), _area(wanted))
    )
    scale = other.bounds[2] / one.bounds[2]
    one = affinity.scale(one, scale, -scale, origin=(0, 0))
    one = affinity.translate(one, -one.bounds[0], -one.bounds[1])
    return bool(one.symmetric_difference(other).area < 0.01 * other.area)


def _area(outline: Outline) -> shapely.Geometry:
    shape = shapely.Polygon()
    for ring in polygons(outline, 0.001 * outline.box.height):
        shape = shape.symmetric_difference(shapely.Polygon(ring).buffer(0))
    return shape


def findings_of(order: Order) -> list[list[Finding]]:
    made = [
        make_item(order.design, Item(number, 1, guest, (), 1), picture=False)
        for number, guest in enumerate(order.guests.guests(), start=1)
    ]
    return [
        [f for f in each.entry.findings if f.code.startswith("motif") or f.field == "motif"]
        for each in made
    ]


def test_a_column_fills_a_slot_and_the_order_fills_it_for_the_others(club: Club) -> None:
    order = club('motif = "Music notes"')
    assert drawn(order) == ["star", "quavers"]
    assert findings_of(order) == [[], []]
    assert drawn(club('motif = "quavers"', "Name,Role\nAnn Ek,Goal\n")) == ["quavers"]


def test_what_usually_stands_in_a_slot_stands_there_if_nothing_is_said(club: Club) -> None:
    order = club(motif="sprig")
    assert drawn(order) == ["star", "sprig"]
    assert findings_of(order) == [[], []]
    assert drawn(club('motif = "quavers"', motif="sprig")) == ["star", "quavers"]


def test_whoever_has_no_motif_is_told_and_gets_none(club: Club) -> None:
    order = club()
    assert drawn(order) == ["star", ""]
    none, missing = findings_of(order)
    assert none == []
    assert [(f.code, f.severity) for f in missing] == [("motif-missing", Severity.WARNING)]


def test_a_word_of_the_list_that_is_no_drawing_stops_with_the_nearest(club: Club) -> None:
    order = club('motif = "quavers"', LIST.replace("star", "Laurell reath"))
    (found,), none = findings_of(order)
    assert (found.code, found.severity, none) == ("motif-unclear", Severity.STOP, [])
    assert 'found "Laurell reath". Did you mean "laurel"?' in found.message
    assert "mailmerge ornaments" in found.advice
    (found,), _ = findings_of(club('motif = "quavers"', LIST.replace("star", "xqzzyv")))
    assert "Did you mean" not in found.message


def test_a_path_in_the_list_is_no_word(club: Club, tmp_path: Path) -> None:
    shutil.copy(shelf("ornaments")["star"], tmp_path / "own.svg")
    (found,), _ = findings_of(club('motif = "quavers"', LIST.replace("star", "own.svg")))
    assert found.code == "motif-unclear"


def test_a_set_goes_by_the_room_that_each_motif_leaves(club: Club, tmp_path: Path) -> None:
    club(rows="Name,Motif\nI,star\nI,\n")
    file = tmp_path / "order.toml"
    text = file.read_text(encoding="utf-8").replace('"8 mm"', '"150 mm"')
    text = text.replace('min = "4 mm" }', 'min = "4 mm" }\nsizing = "set"')
    file.write_text(text.replace('height = "20 mm"', 'height = "60 mm"'), encoding="utf-8")
    order = open_order(tmp_path)
    with_star, without = (
        height
        for guest in order.guests.guests()
        for _, _, height in heights_in(order.design, guest)
    )
    assert without == pytest.approx(with_star + 60 + 4, abs=0.02)
    (settled,) = engine.settled(order).sizes.settled
    assert settled.letter_height == with_star


def test_an_order_has_words_of_its_own_for_drawings(club: Club, tmp_path: Path) -> None:
    shutil.copy(shelf("ornaments")["sprig"], tmp_path / "crest.svg")
    more = 'motif = "wings"\n[motifs]\n"Our Crest" = "crest.svg"\nwings = "laurel"\nstar = "rule"'
    order = club(more, LIST.replace("star", "our-crest") + "Bo Ek,,Star\n")
    assert drawn(order) == ["crest", "laurel", "rule"]
    before = order.design.fingerprint
    shutil.copy(shelf("ornaments")["wave"], tmp_path / "crest.svg")
    assert open_order(tmp_path).design.fingerprint != before


@pytest.mark.parametrize(
    ("more", "rows", "says"),
    [
        ("", "Name,Role\nAnn Ek,Goal\n", r'"Badge" leaves its motif open.*motif = "star".*order'),
        ('motif = "quaverz"', LIST, r'order\.toml: order\.motif: .*no motif "quaverz"\. '
         r'Did you mean "quavers"\?'),
        ('motif = "away.svg"', LIST, r"order\.motif: ornament: There is no file .*away\.svg"),
        ('[motifs]\nour = "spring"', LIST, r'motifs\.our: .*"spring"\. Did you mean "sprig"\?'),
    ],
)  # fmt: skip
def test_what_the_order_says_wrong_is_told(club: Club, more: str, rows: str, says: str) -> None:
    with pytest.raises(InputError, match=says):
        club(more, rows)


def test_a_slot_is_a_drawing_or_a_motif(club: Club, tmp_path: Path) -> None:
    club('motif = "star"')
    file = tmp_path / "order.toml"
    text = file.read_text(encoding="utf-8")
    for wrong, says in (
        ('motif = "?"\ndrawing = "star"', "Found drawing and motif"),
        ("mirrored = true", "Give a drawing, such as"),
    ):
        file.write_text(text.replace('motif = "?"', wrong), encoding="utf-8")
        with pytest.raises(InputError, match=says):
            open_order(tmp_path)


def test_a_slot_with_its_usual_motif_is_made_as_a_drawing(club: Club, tmp_path: Path) -> None:
    def artwork(order: Order) -> bytes | None:
        (guest,) = order.guests.guests()
        return make_item(order.design, Item(1, 1, guest, (), 1), picture=False).artwork

    slot = artwork(club(rows="Name\nAnn Ek\n", motif="star"))
    file = tmp_path / "order.toml"
    text = file.read_text(encoding="utf-8").replace('motif = "star"', 'drawing = "star"')
    file.write_text(text, encoding="utf-8")
    assert slot is not None
    assert slot == artwork(open_order(tmp_path))


def test_each_word_means_one_drawing_and_each_drawing_is_in_the_catalogue() -> None:
    names = [each.name for each in catalogue()]
    assert sorted(names) == sorted(shelf("ornaments"))
    meant: dict[str, str] = {}
    for each in catalogue():
        for word in (each.name, *each.words):
            assert meant.setdefault(folded(word), each.name) == each.name, word
            assert folded(word) != folded(each.name) or word == each.name, word


def test_ornaments_are_listed_with_kind_subject_and_words() -> None:
    told = cli("ornaments")
    assert "quavers" in told
    assert "music notes" in told
