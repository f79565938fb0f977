"""Marks on their letters: where their font anchors them, or outside; else lent, or stopped."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from boxfont import box
from conftest import LayoutOf, found_in, guest_named
from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

from mailmerge.artwork import compose, own_heights
from mailmerge.blanks import Blank
from mailmerge.lettering import Style, letter, open_font, shaped
from mailmerge.lettering.bend import on_circle

HERE = Path()
ACUTE, DOT, CEDILLA, CARON = "\u0301", "\u0323", "\u0327", "\u030c"


@pytest.fixture(scope="session")
def marked_font(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Capitals 500 wide and 700 high, as in the box font, and four marks that are 200 wide.

    Marks have no advance and are drawn left of where the letter ends: over its last 200 units.
    The acute (100 high) is anchored to A at its middle, 50 above; on B it lies between 600 and 700
    high, inside the letter; over the small c (500 high) it lies clear of it. The dot lies from 200
    to 100 below the line and has no anchors, the cedilla reaches 50 up into the letter. The caron
    is anchored to A where the acute is, and to the acute on top of it.
    """
    glyphs = {".notdef": box(0, 0, 500, 700), "space": TTGlyphPen(None).glyph()}
    for capital in "AB":
        glyphs[capital] = box(50, 0, 550, 700)
    glyphs |= {"c": box(50, 0, 550, 500), "i": box(50, 0, 150, 700)}
    glyphs |= {"acute": box(-300, 600, -100, 700), "dot": box(-300, -200, -100, -100)}
    glyphs |= {"cedilla": box(-300, -150, -100, 50), "caron": box(-300, 600, -100, 700)}
    advances = dict.fromkeys(glyphs, 600) | {"i": 200}
    advances |= dict.fromkeys(("acute", "dot", "cedilla", "caron"), 0)
    marks = {ACUTE: "acute", DOT: "dot", CEDILLA: "cedilla", CARON: "caron"}
    cmap = {ord(name): name for name in "ABci"} | {ord(" "): "space"}
    cmap |= {ord(char): name for char, name in marks.items()}
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(list(glyphs))
    builder.setupCharacterMap(cmap)
    builder.setupGlyf(glyphs)
    drawn = builder.font["glyf"].glyphs
    builder.setupHorizontalMetrics({n: (advances[n], getattr(drawn[n], "xMin", 0)) for n in glyphs})
    builder.setupHorizontalHeader(ascent=900, descent=-200)
    builder.setupNameTable({"familyName": "Test Marks", "styleName": "Regular"})
    builder.setupOS2(sCapHeight=700, sxHeight=500, sTypoAscender=900, version=4)
    builder.setupPost()
    addOpenTypeFeaturesFromString(
        builder.font,
        """
        markClass acute <anchor -200 600> @TOP;
        markClass caron <anchor -200 600> @TOP;
        feature kern { pos A B -150; } kern;
        feature mark { pos base A <anchor 300 750> mark @TOP; } mark;
        markClass caron <anchor -200 600> @OVER;
        feature mkmk { pos mark acute <anchor -200 750> mark @OVER; } mkmk;
        table GDEF { GlyphClassDef [A B c i], , [acute dot cedilla caron], ; } GDEF;
        """,
    )
    path = tmp_path_factory.mktemp("font") / "marks.ttf"
    builder.save(path)
    return path


@pytest.mark.parametrize(
    ("text", "misplaced"),
    [
        ("A" + ACUTE, ()),  # anchored
        ("B" + ACUTE, ("B" + ACUTE,)),  # struck in
        ("c" + ACUTE, ()),  # clear of it, without an anchor
        ("B" + DOT, ()),  # below it
        ("B" + CEDILLA, ()),  # a part of it
        ("i" + DOT, ("i" + DOT,)),  # under the letter before
        ("A" + ACUTE + CARON, ()),  # one anchored to the other
        ("A" + CARON + ACUTE, ("A" + CARON + ACUTE,)),  # both at one place
        ("A" + DOT + CEDILLA, ("A" + DOT + CEDILLA,)),  # one over the other
        ("cA" + ACUTE + "B" + ACUTE + "A", ("B" + ACUTE,)),
    ],
)
def test_a_mark_lies_at_its_anchor_or_outside_its_letter(
    marked_font: Path, text: str, misplaced: tuple[str, ...]
) -> None:
    line = shaped(Style((open_font(str(marked_font), 400, HERE),)), text)
    assert line.missing == ()
    assert line.misplaced == misplaced


def test_a_mark_stands_where_its_anchor_says(marked_font: Path) -> None:
    line = shaped(Style((open_font(str(marked_font), 400, HERE),)), "BA" + ACUTE + "B")
    (mark,) = (glyph for glyph in line.glyphs if glyph.box.height == 100)
    # Anchor of A at (600 + 300, 750) less that of the mark at (-200, 600).
    assert (mark.x, mark.y) == (1100, 150)
    assert mark.box == (800, 750, 1000, 850)


# In EB Garamond these have no anchors; the others place them.
STRUCK = ("Ẹ́bùn", "M̧ajeļ", "J̌ana", "Ọ̀ṣun", "Ė́vė")
FINE = {
    "EB Garamond": (
        "Nguyễn Thị Ánh",
        "Jānis Bērziņš",
        "Žydrūnė",
        "Ľubomír",
        "Ụzọchukwu",
        "g̃uarani",
    ),
    "Noto Sans": (*STRUCK, "Nguyễn Thị Ánh", "Ḿ", "ė̃ū́j̃", "Ụzọ̀", "Å̂", "कृष्णा", "ज़ोया"),
    "Great Vibes": (*STRUCK, "Nguyễn", "Ľubomír", "Şükrü", "Ā̱"),
    "Montserrat": (*STRUCK, "Nguyễn", "Ľubomír", "Şükrü", "G̃"),
    "Josefin Sans": ("Nguyễn Thị Ánh", "Ľubomír Ďurčo", "Jānis Bērziņš", "Žydrūnė Šimkutė"),
    "Frank Ruhl Libre": ("שָׁלוֹם", "מֹשֶׁה", "בָּרוּךְ", "אֱלִישֶׁבַע"),
    "Amiri": ("مُحَمَّد", "عَبْدُ ٱللَّٰه", "سَارَة"),
    "Noto Sans Arabic": ("مُحَمَّد", "عَبْدُ ٱللَّٰه", "پیمان", "نُورٌ"),
    "Noto Sans Devanagari": ("कृष्णा", "प्रिया शर्मा", "ज़ोया", "लक्ष्मीं", "अर्जुन"),
    "Noto Sans Thai": ("ก้องภพ", "ทิพย์", "ปู่", "น้ำฝน", "กี้", "เปี๊ยก"),
}


@pytest.mark.parametrize("text", STRUCK)
def test_marks_that_a_font_maps_without_placing_them_are_found(text: str) -> None:
    garamond = open_font("EB Garamond", 600, HERE)
    assert shaped(Style((garamond,)), text).misplaced
    assert shaped(Style((garamond,), tracking=10), text).misplaced


@pytest.mark.parametrize(("family", "text"), [(f, t) for f, texts in FINE.items() for t in texts])
def test_marks_that_a_font_places_are_left_to_it(family: str, text: str) -> None:
    line = shaped(Style((open_font(family, 400, HERE),)), text)
    assert (line.missing, line.misplaced) == ((), ())


def test_a_letter_that_is_written_as_one_is_judged_too() -> None:
    """Caveat draws an Ḿ of two glyphs, and places the accent nowhere."""
    assert len(unicodedata.normalize("NFC", "M" + ACUTE)) == 1
    caveat = open_font("Caveat", 400, HERE)
    assert shaped(Style((caveat,)), "\u1e3ea").misplaced == ("\u1e3e",)


def test_an_accent_that_is_anchored_into_another_one_is_found() -> None:
    """EB Garamond anchors an accent on ė where the dot is, so that it covers it."""
    garamond = open_font("EB Garamond", 400, HERE)
    assert shaped(Style((garamond,)), "ė" + ACUTE).misplaced == ("ė" + ACUTE,)


def test_the_letter_is_lent_whole_by_a_font_that_places_its_marks() -> None:
    garamond, sans = open_font("EB Garamond", 400, HERE), open_font("Noto Sans", 400, HERE)
    line = shaped(Style((garamond, sans)), "Ẹ́bùn")
    assert (line.missing, line.misplaced) == ((), ())
    assert {"Ẹ́bùn"[glyph.char] for glyph in line.glyphs if glyph.font is sans} == {"Ẹ"}
    alone = shaped(Style((sans,)), "Ẹ́").glyphs
    lent = [glyph for glyph in line.glyphs if glyph.font is sans]
    assert [glyph.id for glyph in lent] == [glyph.id for glyph in alone]
    factor = garamond.letter_height / sans.letter_height
    apart = alone[1].x - alone[0].x, alone[1].y - alone[0].y
    assert (lent[1].x - lent[0].x) == pytest.approx(apart[0] * factor, abs=1)
    assert (lent[1].y - lent[0].y) == pytest.approx(apart[1] * factor, abs=1)


def test_a_font_that_lacks_the_letter_lends_nothing(marked_font: Path, box_font: Path) -> None:
    marks, boxes = (open_font(str(path), 400, HERE) for path in (marked_font, box_font))
    line = shaped(Style((marks, boxes)), "AB" + ACUTE)
    assert {glyph.font for glyph in line.glyphs} == {marks}
    assert (line.missing, line.misplaced) == ((), ("B" + ACUTE,))


def test_a_misplaced_mark_stops_the_item(
    marked_font: Path, blank: Blank, layout_of: LayoutOf
) -> None:
    size = {"max": "10 mm", "min": "2 mm"}
    line = {"text": "{name}", "font": str(marked_font), "letter_height": size, "sizing": "set"}
    layout = layout_of(line)
    guest = guest_named("AB" + ACUTE)
    composition = compose(layout, blank, guest, {}, HERE)
    found = {f.code: f for f in found_in(guest, composition, blank, frozenset({"name"}))}
    assert str(found["mark-misplaced"].severity) == "stop"
    assert "B" + ACUTE in found["mark-misplaced"].message
    assert not [*own_heights(layout, blank, guest, {}, HERE)]  # no member of its set
    assert [*own_heights(layout, blank, guest_named("A" + ACUTE), {}, HERE)]


def test_along_an_arc_a_letter_is_turned_with_its_marks(marked_font: Path) -> None:
    """The dot of i lies beside it: the two still turn as one."""
    font = open_font(str(marked_font), 400, HERE)
    line = letter(Style((font,), tracking=200), "A i" + DOT + " A")
    assert len(line.pieces) == 3
    straight = line.pieces[1]
    (_, bent, _) = on_circle([piece.moved(0.01, False, 0, 0) for piece in line.pieces], 40, True)
    spread = straight.points[:4].mean(axis=0) - straight.points[-4:].mean(axis=0)
    turned = bent.points[:4].mean(axis=0) - bent.points[-4:].mean(axis=0)
    assert (turned @ turned) ** 0.5 == pytest.approx((spread @ spread) ** 0.5 * 0.01)
