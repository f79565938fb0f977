"""Scripts and languages: our lines against two other text engines with the same font files.

A browser measures them, and Pillow's complex text layout (Raqm with FriBidi) draws them. Names are
invented or common ones; none is taken from a list.
"""

from __future__ import annotations

import json
from base64 import b64encode
from pathlib import Path

import numpy as np
import pytest
from browser import found_by_browser
from PIL import Image, ImageDraw, ImageFont, features
from playwright.sync_api import Browser

from mailmerge.lettering import Style, coverage, letter, open_font, shaped

HERE = Path()

LINES = {
    "Great Vibes": ["Zoë Lindqvist", "AVATAR Toffee", "Łukasz Śmigielski", "Nguyễn Thị Ánh"],
    "EB Garamond": ["Affluent Fjord", "Αλέξανδρος Παππάς", "Щербаков", "VAWATo"],
    "Amiri": ["محمد علي", "عبد الرحمن", "سارة Zoë", "Zoë سارة 12"],
    "Frank Ruhl Libre": ["אברהם", "שָׂרָה כֹּהֵן", "Zoë אברהם (שרה)", "אברהם 2026 Zoë"],
    "Noto Sans Devanagari": ["श्रीकृष्ण", "प्रियंका", "अर्जुन Zoë"],
    "Noto Sans Thai": ["สมชาย", "กัญญารัตน์ น้ำฝน", "ปิยะ Zoë"],
}


def style_in(family: str) -> Style:
    return Style((open_font(family, 400, HERE),))


def in_base64(file: Path) -> str:
    return b64encode(file.read_bytes()).decode()


@pytest.mark.long
@pytest.mark.outside("chromium")
def test_a_browser_measures_the_same_advances(chromium: Browser) -> None:
    """CSS Fonts and the canvas measureText; one px is one font unit."""
    wanted = [
        (family, style_in(family).font, text) for family, texts in LINES.items() for text in texts
    ]
    faces = "".join(
        f"@font-face {{ font-family: '{family} as file'; font-weight: 100 900; "
        f"src: url('data:font/ttf;base64,{in_base64(style_in(family).font.path)}'); }}"
        for family in LINES
    )
    asked = json.dumps([[f"400 {font.upem}px '{family} as file'", text, family]
                        for family, font, text in wanted])  # fmt: skip
    script = f"""
      const asked = {asked};
      for (const [font, text] of asked) await document.fonts.load(font, text);
      const c = document.createElement("canvas").getContext("2d");
      const found = asked.map(([font, text]) => {{
        c.font = font;
        c.textRendering = "geometricPrecision";
        return c.measureText(text).width;
      }});
    """
    measured = found_by_browser(chromium, f"<style>{faces}</style>", script)
    for (family, font, text), width in zip(wanted, measured, strict=True):
        ours = shaped(Style((font,)), text)
        assert not ours.missing, (family, text)
        assert ours.advance == pytest.approx(width, abs=2), (family, text)


@pytest.mark.parametrize("family", LINES)
def test_pillows_complex_layout_draws_the_same_lines(family: str) -> None:
    """Raqm orders, joins and places the same glyphs: the pictures agree pixel by pixel."""
    assert features.check("raqm")
    style = style_in(family)
    font, size = style.font, 120
    pillow = ImageFont.truetype(str(font.path), size, layout_engine=ImageFont.Layout.RAQM)
    if font.face.axis_infos:
        pillow.set_variation_by_axes(
            [400 if axis.tag == "wght" else axis.default_value for axis in font.face.axis_infos]
        )
    for text in LINES[family]:
        ours = letter(style, text)
        scale = size / font.upem
        box = ours.box
        width, height = int(box.width * scale) + 80, int(box.height * scale) + 80
        x, y = 40 - box.left * scale, 40 + box.high * scale
        drawn = coverage(ours.outline.moved(scale, True, x, y), width, height)
        picture = Image.new("L", (width, height))
        ImageDraw.Draw(picture).text((x, y), text, font=pillow, fill=255, anchor="ls")
        theirs = np.asarray(picture)
        # Hinting and whole-pixel places blur edges by up to a pixel; a wrong glyph, order or mark
        # would leave whole strokes over.
        left_over = np.logical_and(_eroded(drawn > 127), ~_grown(theirs > 100))
        missing = np.logical_and(_eroded(theirs > 127), ~_grown(drawn > 100))
        assert left_over.sum() + missing.sum() < 0.004 * (drawn > 127).sum(), (family, text)


def _eroded(mask: np.ndarray) -> np.ndarray:
    return ~_grown(~mask)


def _grown(mask: np.ndarray) -> np.ndarray:
    from scipy.ndimage import binary_dilation

    return binary_dilation(mask, np.ones((3, 3)), iterations=2)


def test_lines_of_two_directions_keep_each_in_its_own() -> None:
    """UAX #9 with one line of each direction: the Latin word stays readable in both."""
    style = Style((open_font("Frank Ruhl Libre", 400, HERE),))
    for text in ("Zoë אב", "אב Zoë"):
        glyphs = shaped(style, text).glyphs
        latin = [g for g in glyphs if text[g.char] in "Zoë"]
        assert [text[g.char] for g in sorted(latin, key=lambda g: g.x)] == list("Zoë")
        hebrew = [g for g in glyphs if text[g.char] in "אב"]
        assert [text[g.char] for g in sorted(hebrew, key=lambda g: g.x)] == list("בא")
    # The line's own direction is that of its first letter.
    first_latin = shaped(style, "Zoë אב").glyphs
    assert min(first_latin, key=lambda g: g.x).char < 3
    first_hebrew = shaped(style, "אב Zoë").glyphs
    assert min(first_hebrew, key=lambda g: g.x).char >= 3


def test_another_font_lends_what_the_first_lacks_at_the_same_letter_height() -> None:
    vibes, amiri = open_font("Great Vibes", 400, HERE), open_font("Amiri", 400, HERE)
    alone = shaped(Style((vibes,)), "Zoë سارة")
    assert alone.missing == ("س", "ا", "ر", "ة")
    both = shaped(Style((vibes, amiri)), "Zoë سارة")
    assert both.missing == ()
    lent = [glyph for glyph in both.glyphs if glyph.font is amiri]
    assert set("سارة") == {"Zoë سارة"[glyph.char] for glyph in lent}
    assert lent[0].scale == pytest.approx(vibes.letter_height / amiri.letter_height)
    # Joined as in its own font: the same glyphs.
    own = shaped(Style((amiri,)), "سارة")
    assert [glyph.id for glyph in lent] == [glyph.id for glyph in own.glyphs]


def test_a_letter_whose_mark_is_lacking_is_lent_whole(box_font: Path) -> None:
    boxes = open_font(str(box_font), 400, HERE)
    sans = open_font("Noto Sans", 400, HERE)
    line = shaped(Style((boxes, sans)), "Hx\u0303H")
    assert [glyph.font is sans for glyph in line.glyphs].count(False) == 2
    assert line.missing == ()


def test_the_language_chooses_letter_forms() -> None:
    """Romanian and Turkish forms: the font's locl feature (OpenType specification)."""
    sans = open_font("Noto Sans", 400, HERE)
    plain = shaped(Style((sans,)), "fiş").glyphs
    romanian = shaped(Style((sans,), language="ro"), "fiş").glyphs
    assert [g.id for g in plain] != [g.id for g in romanian]
