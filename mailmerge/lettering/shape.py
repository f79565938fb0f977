"""Shaping: a text becomes glyphs at their places, by HarfBuzz, in whole font units.

A line is parted where its direction, its script or its font changes; every part is shaped in the
context of the whole text, so that joined letters see their neighbours. A font lends what the one
before it lacks, and whole letters with marks that the one before it does not place.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import uharfbuzz as hb
from fontTools import unicodedata as scripts

from mailmerge.guests.names import clusters
from mailmerge.lettering.bidi import runs
from mailmerge.lettering.fonts import Font
from mailmerge.lettering.marks import Spot, has_marks, lie_well
from mailmerge.lettering.outline import Box

MOST_MARKS = 8
"""Marks on one letter. Vietnamese and Hebrew need up to three."""

_JOINED_SCRIPTS = frozenset(
    ("Adlm", "Arab", "Beng", "Chrs", "Deva", "Guru", "Mand", "Mani", "Mong", "Nkoo", "Phag",
     "Rohg", "Sogd", "Syrc")
)  # fmt: skip
"""Scripts whose letters are written together: letter spacing would tear them apart."""

_OF_ANY_SCRIPT = ("Zyyy", "Zinh", "Zzzz")


@dataclass(frozen=True)
class Style:
    """How a text is set, apart from its size."""

    fonts: tuple[Font, ...]
    """The font, and the ones that lend it the characters that it lacks."""
    tracking: int = 0
    """Space added between letters, in thousandths of an em; none in scripts that are joined."""
    features: tuple[tuple[str, int], ...] = ()
    """OpenType features with their values."""
    language: str = ""
    """BCP 47 tag for letters that differ by language; ``""`` for none."""

    @property
    def font(self) -> Font:
        """The font that sets the size."""
        return self.fonts[0]


class Glyph(NamedTuple):
    """A glyph of a line at its place, in whole units of the line's first font."""

    font: Font
    id: int
    scale: float
    """From the units of its own font to those of the line."""
    x: int
    y: int
    box: Box
    """Bounds of its ink at its place."""
    char: int
    """Index into the text of the character that it stands for, or the first of several."""


@dataclass(frozen=True, eq=False)
class Shaped:
    """A line of text as glyphs from left to right; font units, ``y`` up, the baseline at 0."""

    text: str
    glyphs: tuple[Glyph, ...]
    """Those that have ink."""
    advance: float
    """Width by the fonts' own advances, kerning and tracking included."""
    missing: tuple[str, ...]
    """Characters that no font has, in the order of the text; they are left out."""
    misplaced: tuple[str, ...]
    """Letters with marks that do not lie on them as they should, in no font."""
    whole: bool
    """Whether nothing else was left out: no marks beyond :data:`MOST_MARKS`, no damaged glyph."""

    @property
    def box(self) -> Box:
        """Bounds of the ink: those of the line's weld, without welding it."""
        if not self.glyphs:
            return Box(0.0, 0.0, 0.0, 0.0)
        left, low, right, high = zip(*(glyph.box for glyph in self.glyphs), strict=True)
        return Box(min(left), min(low), max(right), max(high))


@lru_cache(maxsize=4096)
def shaped(style: Style, text: str, base: int | None = None) -> Shaped:
    """Return a text as glyphs; ``base`` is its direction, as in :func:`~.bidi.runs`.

    Of marks piled on one letter only the first :data:`MOST_MARKS` are set: hundreds of shapes on
    one spot take the welding library minutes.
    """
    kept = _without_piles(text)
    glyphs: list[Glyph] = []
    lacking: set[int] = set()
    astray: list[int] = []
    whole = kept == text
    pen = after = 0
    track = round(style.tracking * style.font.upem / 1000)
    for run in runs(kept, base):
        for part in _by_script(kept, run.start, run.end, run.backwards):
            spaced = track if part.script not in _JOINED_SCRIPTS else 0
            last = -1
            for placed in _in_fonts(style, kept, part, 0, bool(spaced)):
                if placed.char != last:
                    pen += after  # behind a whole cluster: its marks stay where their font has them
                    after = 0
                if placed.id == 0:
                    lacking.update(_lacked(style, kept, placed))
                elif placed.ink:
                    box = placed.ink
                    x, y = pen + placed.dx, placed.dy
                    moved = Box(box.left + x, box.low + y, box.right + x, box.high + y)
                    glyphs.append(
                        Glyph(placed.font, placed.id, placed.scale, x, y, moved, placed.char)
                    )
                if placed.astray:
                    astray.append(placed.char)
                whole = whole and not placed.damaged
                pen += placed.advance
                after = spaced if placed.advance else after
                last = placed.char
    missing = tuple(dict.fromkeys(kept[at] for at in sorted(lacking) if not kept[at].isspace()))
    if not glyphs and not missing and any(char.isalnum() for char in kept):
        whole = False  # letters without any ink: the font is damaged
    letters = _letters(kept) if has_marks(kept) else {}
    astray += [at for at in letters if _moved(style, kept, letters[at], glyphs)]
    misplaced = tuple(dict.fromkeys(letters.get(at, kept[at]) for at in sorted(astray)))
    return Shaped(text, tuple(glyphs), float(pen), missing, misplaced, whole)


def _letters(text: str) -> dict[int, str]:
    """Return the letters that carry marks, by where they start."""
    found: dict[int, str] = {}
    at = 0
    for letter in clusters(text):
        if has_marks(letter):
            found[at] = letter
        at += len(letter)
    return found


def _moved(style: Style, text: str, letter: str, glyphs: list[Glyph]) -> bool:
    """Whether a letter's marks lie elsewhere in a line than where they lie when it stands alone.

    A letter that takes another form beside its neighbours is left to its font.
    """
    if letter == text:
        return False
    at = text.index(letter)
    own = [glyph for glyph in glyphs if at <= glyph.char < at + len(letter)]
    alone = shaped(replace(style, tracking=0), letter).glyphs
    if len(own) < 2 or [(g.font, g.id) for g in own] != [(g.font, g.id) for g in alone]:
        return False
    dx, dy = own[0].x - alone[0].x, own[0].y - alone[0].y
    return any(
        abs(one.x - other.x - dx) > 1 or abs(one.y - other.y - dy) > 1
        for one, other in zip(own, alone, strict=True)
    )


def _without_piles(text: str) -> str:
    if text.isascii():
        return text
    kept: list[str] = []
    marks = 0
    for char in text:
        marks = marks + 1 if unicodedata.category(char)[0] == "M" else 0
        if marks <= MOST_MARKS:
            kept.append(char)
    return "".join(kept)


def _lacked(style: Style, text: str, placed: _Placed) -> list[int]:
    """Return which of the characters of an empty glyph no font has: a letter's mark, or all."""
    at = range(placed.char, placed.end)
    return [i for i in at if not any(font.has(text[i]) for font in style.fonts)] or [*at]


class _Part(NamedTuple):
    start: int
    end: int
    script: str
    backwards: bool


def _by_script(text: str, start: int, end: int, backwards: bool) -> list[_Part]:
    """Return a run parted by script, from left to right; signs go with the letters before them."""
    if text.isascii():
        return [_Part(start, end, "Latn", backwards)]
    parts: list[_Part] = []
    begun, current = start, ""
    for at in range(start, end):
        script = scripts.script(text[at])
        if script in _OF_ANY_SCRIPT:
            continue
        if current and script != current:
            parts.append(_Part(begun, at, current, backwards))
            begun = at
        current = script
    parts.append(_Part(begun, end, current or "Zyyy", backwards))
    return parts[::-1] if backwards else parts


class _Placed(NamedTuple):
    """A glyph as HarfBuzz places it after the one before."""

    font: Font
    id: int
    scale: float
    dx: int
    dy: int
    advance: int
    ink: Box | None
    damaged: bool
    char: int
    end: int
    """End of the characters that it stands for."""
    astray: bool = False
    """Whether marks of its letter do not lie as they should."""


def _in_fonts(style: Style, text: str, part: _Part, rank: int, spaced: bool) -> Iterator[_Placed]:
    """Shape a part in the font of a rank; what that cannot set goes to the next, in its place."""
    placed = _shape(style, text, part, rank, spaced)
    if rank + 1 == len(style.fonts) or all(glyph.id and not glyph.astray for glyph in placed):
        yield from placed
        return
    lacked = {glyph.char for glyph in placed if not glyph.id}
    astray = {glyph.char for glyph in placed if glyph.astray} - lacked
    at = 0
    while at < len(placed):
        torn = next((chars for chars in (lacked, astray) if placed[at].char in chars), None)
        if torn is None:
            yield placed[at]
            at += 1
            continue
        end = at
        while end < len(placed) and placed[end].char in torn:
            end += 1
        own = placed[at:end]
        stop = max(glyph.end for glyph in own)
        lent = part._replace(start=min(glyph.char for glyph in own), end=stop)
        found = [*_in_fonts(style, text, lent, rank + 1, spaced)]
        is_better = torn is lacked or all(glyph.id and not glyph.astray for glyph in found)
        yield from found if is_better else own
        at = end


def _shape(style: Style, text: str, part: _Part, rank: int, spaced: bool) -> list[_Placed]:
    font = style.fonts[rank]
    buffer = hb.Buffer()
    buffer.add_codepoints([ord(char) for char in text], part.start, part.end - part.start)
    buffer.direction = "rtl" if part.backwards else "ltr"
    buffer.script = part.script
    if style.language:
        buffer.language = style.language
    features = dict(style.features)
    if spaced:  # letters that stand apart form no ligatures
        features = {"liga": 0, "clig": 0} | features
    hb.shape(font.hb_font, buffer, features)
    infos, positions = buffer.glyph_infos, buffer.glyph_positions
    following = dict(
        zip(starts := sorted({info.cluster for info in infos}), [*starts[1:], part.end],
            strict=True)
    )  # fmt: skip
    scale = 1.0 if rank == 0 else style.font.letter_height / font.letter_height
    found = []
    for info, position in zip(infos, positions, strict=True):
        glyph, cluster = info.codepoint, info.cluster
        ink = font.ink(glyph, scale) if glyph else None
        found.append(
            _Placed(
                font, glyph, scale,
                round(position.x_offset * scale), round(position.y_offset * scale),
                round(position.x_advance * scale),
                ink, glyph != 0 and ink is None and font.damaged(glyph),
                cluster, following[cluster],
            )
        )  # fmt: skip
    return _judged(font, text, part, found) if has_marks(text[part.start : part.end]) else found


def _judged(font: Font, text: str, part: _Part, placed: list[_Placed]) -> list[_Placed]:
    """Return the glyphs of a part, those of letters marked whose marks lie astray."""
    spots: dict[int, list[Spot]] = {}
    pen = 0
    for glyph in placed:
        spots.setdefault(glyph.char, []).append(
            Spot(glyph.id, glyph.scale, pen + glyph.dx, glyph.dy)
        )
        pen += glyph.advance
    ends = {glyph.char: glyph.end for glyph in placed}
    astray = set()
    for char, own in spots.items():
        letter = text[char : ends[char]]
        if len(own) > 1 and has_marks(letter) and all(spot.glyph for spot in own):
            x = own[0].x
            at_zero = tuple(spot._replace(x=spot.x - x) for spot in own)
            if not lie_well(font, letter, at_zero[::-1] if part.backwards else at_zero):
                astray.add(char)
    return [glyph._replace(astray=True) if glyph.char in astray else glyph for glyph in placed]
