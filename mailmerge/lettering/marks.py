"""Marks on their letters: whether each lies where its font anchors it, or else outside its letter.

A font may map a combining mark without saying where it goes on a letter. Shaping then leaves it
where the last letter ended: struck into that letter, or off it. Everything here is judged on the
glyphs of one cluster, on their true outlines.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

import numpy as np
import uharfbuzz as hb
from fontTools.ttLib import TTFont, newTable
from numpy.typing import NDArray

from mailmerge.lettering.flat import polygons
from mailmerge.lettering.fonts import Font
from mailmerge.lettering.outline import Box, Points

_STRAY = 1 / 500
"""Letter heights that a polygon may stray from its curve."""

_SLACK = 0.02
"""Letter heights by which a mark beside its letter may reach into it."""

_ATTACHED = 0.12
"""The same for a mark that is drawn as a part of its letter, such as a cedilla."""

_STRUCK = 0.2
"""Share of a mark that lies in its letter where the two are no longer read apart.

Own judgement: accents that touch the serifs under them stay below a tenth.
"""

_GRID = 40
"""Places across and up a mark that are looked at for it."""

_INWARD = 0.1
"""Share of a letter's width, on both sides, that the middle of a mark over or under it keeps off.

Own judgement: over the very edge of its letter an accent belongs as much to the next one.
"""

_OVER = (228, 230)
_UNDER = (220, 222)
_JOINED_UNDER = (202,)
"""Canonical combining classes: Unicode Standard, section 4.3."""


class Spot(NamedTuple):
    """A glyph at its place in a cluster, in the font's units times ``scale``; ``y`` up."""

    glyph: int
    scale: float
    x: int
    y: int


@lru_cache(maxsize=4096)
def lie_well(font: Font, chars: str, spots: tuple[Spot, ...]) -> bool:
    """Whether all marks of a cluster lie on their letter as they should.

    A mark does where its font anchors it, to its letter or to the mark before. One that the font
    does not anchor does where it stands over or under its letter without touching it. Two marks
    never run into each other, unless the font anchors the one to the other.

    Parameters
    ----------
    chars
        The text of the cluster.
    spots
        Its glyphs in logical order.
    """
    points = {c: font.hb_font.get_nominal_glyph(ord(c)) for c in _points(chars)}
    letter: Spot | None = None
    marks: list[Spot] = []
    for spot in spots:
        if not _is_mark(font, spot.glyph, points):
            letter, marks = spot, []
        elif letter is not None and font.ink(spot.glyph, spot.scale):
            own = [c for c, glyph in points.items() if glyph == spot.glyph] or [*points]
            kinds = {unicodedata.combining(c) for c in own}
            if not (marks and _is_anchored(font, marks[-1].glyph, spot.glyph)):
                if any(_meet(font, spot, other) for other in marks):
                    return False
                is_anchored = _is_anchored(font, letter.glyph, spot.glyph)
                if not (_clear if is_anchored else _stands_off)(font, letter, spot, kinds):
                    return False
            marks.append(spot)
    return True


def has_marks(text: str) -> bool:
    """Whether letters of a text carry marks, which a font may draw as glyphs of their own."""
    return not text.isascii() and bool(_points(text))


def _points(text: str) -> list[str]:
    """Return the combining marks of a text, those included that are written with their letter."""
    return [c for c in unicodedata.normalize("NFD", text) if unicodedata.category(c) in _MARKS]


_MARKS = ("Mn", "Me")


def _is_mark(font: Font, glyph: int, points: dict[str, int | None]) -> bool:
    kind = font.face.get_layout_glyph_class(glyph)
    if kind == hb.OTLayoutGlyphClass.UNCLASSIFIED:
        return glyph in points.values()
    return bool(kind == hb.OTLayoutGlyphClass.MARK)


def _clear(font: Font, letter: Spot, mark: Spot, classes: set[int]) -> bool:
    """Whether a mark that its font anchors over a letter is not struck into it all the same.

    That happens where the letter has a dot or an accent of its own at the anchor.
    """
    if not classes <= {*_OVER} or not _meet(font, letter, mark):
        return True
    box = _box(font, mark)
    assert box is not None
    across, up = (np.linspace(low, high, _GRID) for low, high in (box[0::2], box[1::2]))
    grid = np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)
    inked = grid[_inside(grid, _edges(font, mark))]
    struck = _inside(inked, _edges(font, letter))
    return bool(struck.sum() < _STRUCK * max(1, len(inked)))


def _stands_off(font: Font, letter: Spot, mark: Spot, classes: set[int]) -> bool:
    """Whether a mark stands on the right side of its letter, with nothing of it in between."""
    box, own = _box(font, letter), _box(font, mark)
    if box is None or own is None:
        return True
    unit = font.letter_height * mark.scale
    inward = _INWARD * box.width
    if not box.left + inward <= (own.left + own.right) / 2 <= box.right - inward:
        return False
    beside = _between(_edges(font, letter), own.left, own.right)
    slack = (_ATTACHED if classes & {*_JOINED_UNDER} else _SLACK) * unit
    over = not len(beside) or own.low >= beside.max() - slack
    under = not len(beside) or own.high <= beside.min() + slack
    if classes & {*_OVER}:
        return over
    if classes & {*_UNDER, *_JOINED_UNDER}:
        return under
    return over or under or not _meet(font, letter, mark)


def _box(font: Font, spot: Spot) -> Box | None:
    ink = font.ink(spot.glyph, spot.scale)
    if ink is None:
        return None
    return Box(ink.left + spot.x, ink.low + spot.y, ink.right + spot.x, ink.high + spot.y)


def _edges(font: Font, spot: Spot) -> Points:
    """Return the straight edges of a glyph's outline at its place, shape (n, 2, 2)."""
    stray = font.letter_height * spot.scale * _STRAY
    found = [
        np.stack([flat, np.roll(flat, -1, axis=0)], axis=1)
        for flat in polygons(font.outline(spot.glyph, spot.scale), stray)
    ]
    whole = np.concatenate([*found, np.empty((0, 2, 2))])
    return np.asarray(whole + np.array((spot.x, spot.y)))


def _between(edges: Points, left: float, right: float) -> Points:
    """Return the heights that edges reach between two places: their ends, cut off there."""
    x, y = edges[..., 0], edges[..., 1]
    crossed = edges[(x.min(axis=1) <= right) & (x.max(axis=1) >= left)]
    x, y = crossed[..., 0], crossed[..., 1]
    run = x[:, 1] - x[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        slope = np.where(run == 0, 0.0, (y[:, 1] - y[:, 0]) / run)
    cut = np.clip(x, left, right)
    steep = (run == 0)[:, None]
    return np.asarray(np.where(steep, y, y[:, :1] + slope[:, None] * (cut - x[:, :1]))).ravel()


def _meet(font: Font, one: Spot, other: Spot) -> bool:
    """Whether the outlines of two glyphs cross, or one lies inside the other."""
    a, b = _box(font, one), _box(font, other)
    if a is None or b is None or a.left >= b.right or b.left >= a.right:
        return False
    if a.low >= b.high or b.low >= a.high:
        return False
    mine, theirs = _edges(font, one), _edges(font, other)
    p, r = mine[:, None, 0], (mine[:, 1] - mine[:, 0])[:, None]
    q, s = theirs[None, :, 0], (theirs[:, 1] - theirs[:, 0])[None]
    with np.errstate(divide="ignore", invalid="ignore"):
        turn = _cross(r, s)
        t, u = _cross(q - p, s) / turn, _cross(q - p, r) / turn
        crossed = (t >= 0) & (t <= 1) & (u >= 0) & (u <= 1)
    inside = _inside(mine[:1, 0], theirs)[0] or _inside(theirs[:1, 0], mine)[0]
    return bool(crossed.any() or inside)


def _cross(a: Points, b: Points) -> Points:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def _inside(points: Points, edges: Points) -> NDArray[np.bool_]:
    """Return which points lie inside a shape: where rays to the right wind around (non-zero)."""
    ends = edges[None] - points[:, None, None]
    low, high = ends[:, :, 0], ends[:, :, 1]
    up = (high[..., 1] > 0).astype(int) - (low[..., 1] > 0).astype(int)
    with np.errstate(divide="ignore", invalid="ignore"):
        run = (high[..., 0] - low[..., 0]) / (high[..., 1] - low[..., 1])
        right = low[..., 0] - low[..., 1] * run > 0
    return np.asarray(np.where(right, up, 0).sum(axis=1) != 0)


class _Table:
    """A part of a font's anchors; of what it holds only that is read which is asked for."""

    def __init__(self, part: Any) -> None:
        self._part = part
        self._is_of_marks = hasattr(part, "Mark2Coverage")

    @cached_property
    def _marks(self) -> dict[int, int]:
        part = self._part
        return _places(part.Mark1Coverage if self._is_of_marks else part.MarkCoverage)

    @cached_property
    def _holders(self) -> dict[int, int]:
        part = self._part
        if self._is_of_marks:
            return _places(part.Mark2Coverage)
        return _places(getattr(part, "LigatureCoverage", None) or part.BaseCoverage)

    def holds(self, holder: int, mark: int) -> bool:
        """Whether it has an anchor for a mark on a glyph."""
        if mark not in self._marks or holder not in self._holders:
            return False
        part, at = self._part, self._holders[holder]
        marks = part.Mark1Array if self._is_of_marks else part.MarkArray
        kind = marks.MarkRecord[self._marks[mark]].Class
        if self._is_of_marks:
            anchors = [part.Mark2Array.Mark2Record[at].Mark2Anchor]
        elif hasattr(part, "LigatureCoverage"):
            parts = part.LigatureArray.LigatureAttach[at].ComponentRecord
            anchors = [each.LigatureAnchor for each in parts]
        else:
            anchors = [part.BaseArray.BaseRecord[at].BaseAnchor]
        return any(each[kind] is not None for each in anchors)


def _places(coverage: Any) -> dict[int, int]:
    """Return the glyphs of a coverage, each with its place in it."""
    return {_id(glyph): at for at, glyph in enumerate(coverage.glyphs)}


def _is_anchored(font: Font, holder: int, mark: int) -> bool:
    """Whether a font anchors a mark to a glyph (OpenType specification, GPOS lookups 4 to 6)."""
    try:
        return any(table.holds(holder, mark) for table in _anchors(font))
    except Exception:
        # fontTools has no common base for what damaged tables make it raise.
        return False


@lru_cache(maxsize=128)
def _anchors(font: Font) -> tuple[_Table, ...]:
    return tuple(_tables(font))


def _tables(font: Font) -> Iterator[_Table]:
    data = bytes(font.face.reference_table("GPOS").data)
    if not data:
        return
    names = TTFont(lazy=True)  # what is not looked at is not read: pairs for kerning are many
    names.setGlyphOrder([f"g{glyph}" for glyph in range(font.face.glyph_count)])
    gpos = newTable("GPOS")
    gpos.decompile(data, names)
    for lookup in gpos.table.LookupList.Lookup:
        for part in lookup.SubTable if lookup.LookupType in (*_ATTACH, _EXTENSION) else ():
            if lookup.LookupType == _EXTENSION:
                if part.ExtensionLookupType not in _ATTACH:
                    continue
                part = part.ExtSubTable
            yield _Table(part)


_ATTACH, _EXTENSION = (4, 5, 6), 9
"""Types of GPOS lookups."""


def _id(name: str) -> int:
    return int(name[1:])
