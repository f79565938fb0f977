"""Paper: PDFs in our own type, A4 or Letter; the only module that sets up fpdf2."""

from __future__ import annotations

import datetime as dt
import io
import re
from pathlib import Path
from typing import Any, Literal

from fpdf import FPDF
from fpdf.fonts import TTFFont
from PIL import Image

from mailmerge.lettering import open_font
from mailmerge.proofs import words
from mailmerge.proofs.palette import INK, LINE, SOFT
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.proofs.text import broken, plain
from mailmerge.voice import visible

_FONTS = ("Noto Sans", "Amiri", "Frank Ruhl Libre", "Noto Sans Thai")
"""Each one for what those before it lack. Amiri draws an Arabic letter as one glyph, dots included,
so that its text can be read back out of the file; in Noto Sans Arabic the dots are glyphs.
"""

MARGIN = 15.0
_WIDEST_LETTER = 1.1
"""No letter of ours is wider, in parts of the type's size; so short words need no measuring."""
LONG_AGO = dt.datetime(2000, 1, 1, tzinfo=dt.UTC)
"""For papers that are the same bytes whenever they are made."""

Colour = tuple[int, int, int]


_NOT_PRINTED = ("GDEF", "GPOS", "GSUB", "HVAR", "MVAR", "STAT", "avar", "fvar", "gvar")
"""Tables of a font that no PDF needs: for shaping, which is done from the font's file, and for
other weights. To make a part of a font takes most of its time for these.
"""


class _Font(TTFFont):
    """A font that shapes no text twice to know its width: rows are broken letter by letter."""

    def __init__(self, paper: FPDF, name: str) -> None:
        super().__init__(paper, open_font(name, 400, Path()).path, name.lower(), "")
        for table in _NOT_PRINTED:
            if table in self.ttfont:
                del self.ttfont[table]

    def shaped_text_width(
        self, text: str, font_size_pt: float, text_shaping_params: dict[str, Any] | None
    ) -> tuple[int, float]:
        """Return the number of a text's glyphs, and how far it goes."""
        direction = text_shaping_params and text_shaping_params["fragment_direction"]
        key = self.fontkey, text, direction  # a paper's script and features are always the same
        if key not in _WIDTHS:
            if len(_WIDTHS) > _MOST_WIDTHS:
                _WIDTHS.clear()
            _WIDTHS[key] = super().shaped_text_width(text, 1.0, text_shaping_params)
        count, width = _WIDTHS[key]
        return count, width * font_size_pt


_WIDTHS: dict[tuple[object, ...], tuple[int, float]] = {}
"""How far texts of one point go: papers say much alike, and try it at many sizes."""
_MOST_WIDTHS = 30_000


class Paper(FPDF):
    """A PDF in our type; lengths in mm, ``y`` down from the sheet's upper edge.

    Where its language is written from the right to the left, all that has a place between the left
    and the right edge is mirrored: "left" is where rows begin.
    """

    def __init__(
        self,
        size: PaperSize,
        title: str,
        made: dt.datetime,
        language: str = "en",
        is_right_to_left: bool = False,
    ) -> None:
        super().__init__(format=size)
        self.is_right_to_left = is_right_to_left
        self.heights: dict[tuple[str, float, float, float], float] = {}
        self.set_creation_date(made)
        self.set_title(visible(title))
        self.set_lang(language)
        self.set_auto_page_break(False)
        self.set_margin(MARGIN)
        self._open(_FONTS[0])
        self.set_text_shaping(True)
        self.set_draw_color(*LINE)
        self.set_line_width(0.3)
        self.add_page()

    def mirrored(self, left: float, width: float) -> float:
        """Return where something begins on the sheet that begins at ``left`` where rows do (mm)."""
        return self.w - left - width if self.is_right_to_left else left

    def _edge(self, align: Literal["L", "R"]) -> Literal["L", "R"]:
        """Return the edge of the sheet where rows begin (L) or end (R)."""
        return "R" if (align == "R") != self.is_right_to_left else "L"

    def _open(self, name: str) -> str:
        """Open a font if it is not yet; return what the paper knows it by."""
        key = name.lower()
        if key not in self.fonts:
            self.fonts[key] = _Font(self, name)
            self.set_fallback_fonts([each for each in self.fonts if each != _FONTS[0].lower()])
        return key

    def get_fallback_font(self, char: str, _style: str = "") -> str | None:
        """Return the font for a letter that the first one lacks, which is opened only then."""
        for name in _FONTS[1:]:
            if open_font(name, 400, Path()).has(char):
                return self._open(name)
        return None

    def foot(self) -> str:
        """Return what stands at the foot of a page."""
        return words.page(self.page_no())

    def footer(self) -> None:
        """Write the foot of a page."""
        self.type(9, SOFT)
        self.set_xy(MARGIN, self.h - MARGIN + 2)
        self.fitted(self.foot(), self.epw, align="R")

    def type(self, size: float, colour: Colour = INK) -> None:
        """Set size (points) and colour of what is written next."""
        self.set_font(_FONTS[0], size=size)
        if not self.current_font_is_set_on_page:
            # fpdf2 sets it with the first row, and forgets it again if that begins with another one
            self._out(self._set_font_for_page(self.fonts[_FONTS[0].lower()], self.font_size_pt))
        self.set_text_color(*colour)

    def fitted(self, text: str, room: float, align: Literal["L", "R"] = "L") -> None:
        """Write a text on one line, smaller where it would be too long: it is never cut."""
        text = plain(text, 400)
        size = self.font_size_pt
        wide = self.get_string_width(text)
        if wide > room:
            self.set_font_size(size * room / wide * 0.98)
        self.cell(room, size * 0.45, text, align=self._edge(align))
        self.set_font_size(size)

    def words(
        self, text: str, left: float, y: float, room: float, size: float,
        colour: Colour = INK, draw: bool = True, leading: float = 0.47, is_ours: bool = False,
    ) -> float:  # fmt: skip
        """Write a text over as many rows as it takes, or only find out; return where it ends.

        A word that is wider than a row is broken with a hyphen. From row to row it is ``leading``,
        in mm for each point of the size. What is our own runs as the paper's language does, even
        where a name begins it; any other text runs as its first letter does.
        """
        key = text, room, size, leading
        if draw or key not in self.heights:
            self.type(size, colour)
            self.set_xy(self.mirrored(left, room), y)
            own = "rtl" if self.is_right_to_left else "ltr"
            self.set_text_shaping(True, direction=own if is_ours else None)
            height = self.multi_cell(
                room, size * leading, self._in_rows(text, room), align=self._edge("L"),
                dry_run=not draw, output="HEIGHT",
            )  # fmt: skip
            self.set_text_shaping(True)
            assert isinstance(height, float)
            self.heights[key] = height
        return y + self.heights[key]

    def _in_rows(self, text: str, room: float) -> str:
        """Return a text with its wide words broken, each part on a row of its own."""
        inner = room - 2 * self.c_margin
        safe = inner / (self.font_size * _WIDEST_LETTER)
        return " ".join(
            word if len(word) < safe else "\n".join(broken(word, self.get_string_width, inner))
            for word in plain(text, 400).split(" ")
        )

    def unbroken(self, text: str, room: float, size: float, least: float) -> float:
        """Return the largest size between two (points) at which no word has to be broken."""
        self.type(size)
        widest = max(map(self.get_string_width, re.split(r"\s|(?<=-)", plain(text, 400))))
        inner = room - 2 * self.c_margin
        return size if widest <= inner else max(least, size * inner / widest * 0.99)

    def on_rows(self, text: str, room: float, size: float, least: float) -> tuple[float, list[str]]:
        """Return a size (points) and the rows of a name that stands there in full, as it is.

        It is one row down to the least size, and then as many as it takes, each ending after a
        hyphen of its own. Only where a part between two hyphens is wider than that, all is smaller.
        """
        self.type(size)
        inner = room - 2 * self.c_margin
        if (one := size * inner / self.get_string_width(text) * 0.99) >= least:
            return min(size, one), [text]
        size = self.unbroken(text, room, least, 0.0)
        self.type(size)
        return size, broken(text, self.get_string_width, inner)

    def box(self, left: float, y: float, side: float = 4.0) -> None:
        """Draw a box to tick."""
        self.set_draw_color(*INK)
        self.rect(self.mirrored(left, side), y, side, side)
        self.set_draw_color(*LINE)

    def picture(
        self, picture: Image.Image, place: tuple[float, float, float, float], words: str
    ) -> None:
        """Place a picture in the middle of a box (left, top, width, height)."""
        left, top, width, height = self.mirrored(place[0], place[2]), *place[1:]
        scale = min(width / picture.width, height / picture.height)
        wide, tall = picture.width * scale, picture.height * scale
        saved = io.BytesIO()
        picture.save(saved, "JPEG", quality=90, subsampling=0)
        self.image(
            saved, left + (width - wide) / 2, top + (height - tall) / 2, wide, tall, alt_text=words
        )

    def written(self) -> bytes:
        """Return the finished PDF."""
        return bytes(self.output())
