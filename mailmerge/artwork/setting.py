"""Setting one text: on how many rows, broken where, and how large it may be in its room.

Sizes are worked out from the glyphs' bounds, which are those of their weld, so that a text is
welded only once it is known how it will stand.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from string import ascii_letters, ascii_uppercase

import numpy as np
from numpy.typing import NDArray

from mailmerge.artwork import words
from mailmerge.artwork.layout import Arc, Line, fields_of
from mailmerge.blanks import Edge
from mailmerge.guests.names import broken, clusters, shorter
from mailmerge.lettering import (
    Box,
    Lettering,
    Outline,
    Style,
    largest_letter_height,
    letter,
    overlaps,
    shaped,
    strengthened,
)
from mailmerge.lettering.bend import on_circle
from mailmerge.lettering.bidi import runs
from mailmerge.lettering.fit import STEP, floored
from mailmerge.lettering.flat import polygons
from mailmerge.lettering.outline import joined

LEADING = 1.5
"""Distance of the baselines of a line on several rows, in letter heights; more where the ink
needs it.

Common practice, without a source.
"""

ROW_CLEARANCE = 0.25
"""Least room between the ink of two rows, in letter heights. Common practice, without a source."""

TALL = 1.4
"""Height of the middle initial of a monogram to that of the others. Common practice."""

_CLOSE = 0.01
"""Breaks whose letter heights differ by less than this share are chosen by balance."""


@dataclass(frozen=True, slots=True)
class Room:
    """The room for a line, in mm."""

    width: float
    height: float
    about_middle: bool = False
    """Whether the middle of its letters stays in the middle of the room's height."""
    edges: tuple[Edge, ...] = ()
    """On a tapered wall, what bounds it at each height above the middle of what is set in it."""
    beside: tuple[tuple[float, float], ...] = ()
    """Corners of the drawings at both ends of the ink: out from its end, up from its middle."""
    by_ink: bool = False
    """Whether that is the middle of its ink, and not of its letters."""


@dataclass(frozen=True, eq=False)
class Part:
    """A piece of text in one size, with the place of its baseline's start in letter heights."""

    text: str
    x: float
    y: float
    scale: float = 1.0
    """To the line's letter height."""


@dataclass(frozen=True, eq=False)
class Arrangement:
    """A text on its rows, in letter heights.

    ``x`` runs from the middle to the right, ``y`` up from the first baseline.
    """

    rows: tuple[str, ...]
    style: Style
    parts: tuple[Part, ...]
    box: Box

    @property
    def reach(self) -> float:
        """Width of the room that the ink needs, centred as it is."""
        return 2 * max(-self.box.left, self.box.right)

    @property
    def middle(self) -> float:
        """``y`` half way from the lowest baseline up to the first row's capitals."""
        return (1 + self.last_baseline) / 2

    @cached_property
    def hull(self) -> NDArray[np.float64]:
        """Corners of shapes that hold all the ink, shape (n, 2): those of each glyph, convex."""
        corners = [np.empty((0, 2))]
        for part in self.parts:
            scale = part.scale / self.style.font.letter_height
            for glyph in shaped(self.style, part.text).glyphs:
                own = glyph.font.hull(glyph.id, glyph.scale) + np.array((glyph.x, glyph.y))
                corners.append(own * scale + np.array((part.x, part.y)))
        return np.concatenate(corners)

    @property
    def rise(self) -> float:
        """Height of the room that the ink needs about that middle."""
        return 2 * max(self.box.high - self.middle, self.middle - self.box.low)

    @property
    def last_baseline(self) -> float:
        """``y`` of the lowest baseline: 0 or less."""
        return self.parts[-1].y if self.parts else 0.0

    @cached_property
    def lettering(self) -> tuple[Lettering, ...]:
        """The welded parts."""
        return tuple(letter(self.style, part.text) for part in self.parts)

    @cached_property
    def outline(self) -> Outline:
        """The welded outline, in letter heights."""
        return joined(
            [
                welded.outline.moved(part.scale / welded.letter_height, False, part.x, part.y)
                for part, welded in zip(self.parts, self.lettering, strict=True)
                if welded.outline
            ]
        )

    def drawn(self, height: float, line: Line, fits: bool = True) -> tuple[Outline, bool]:
        """Return the outline in mm at a letter height, and whether it is sound.

        Along its arc and strengthened, if the line asks for it. What does not fit is only drawn to
        be shown, and not strengthened: that takes long where a text is long.
        """
        outline, sound = self.outline.moved(height, False, 0.0, 0.0), True
        if line.arc:
            outline = joined(self.on_arc(height, line.arc))
            sound = not fits or not overlaps(outline)
        if line.strengthen and outline and fits:
            outline, whole = strengthened(outline, line.strengthen)
            sound = sound and whole
        return outline, sound and all(welded.sound for welded in self.lettering)

    def on_arc(self, height: float, arc: Arc) -> list[Outline]:
        """Return the groups of touching letters along an arc, in mm; see :attr:`letters`."""
        return on_circle(self._pieces(height), arc.radius, arc.bow == "up")

    @property
    def letters(self) -> list[str]:
        """What each of the groups of touching letters reads."""
        return [
            "".join(part.text[at] for at in sorted({glyph.char for glyph in group}))
            for part in self.lettering
            for group in part.groups
        ]

    def _pieces(self, height: float) -> list[Outline]:
        """Return the groups of touching letters as outlines of their own, in mm."""
        pieces = []
        for part, welded in zip(self.parts, self.lettering, strict=True):
            scale = part.scale / welded.letter_height * height
            pieces += [
                piece.moved(scale, False, part.x * height, part.y * height)
                for piece in welded.pieces
            ]
        return pieces


@dataclass(frozen=True, eq=False)
class Fit:
    """An arrangement, and the largest letter height at which it fits its room."""

    arrangement: Arrangement
    height: float


@dataclass(frozen=True, slots=True)
class WayOut:
    """Another way to set a line, and the letter height that it would get."""

    words: str
    letter_height: float
    rows: tuple[str, ...] = ()
    """How it is broken, where that is the way."""
    text: str = ""
    """The text, where another one is the way."""


def arranged(line: Line, style: Style, rows: tuple[str, ...], by_ink: bool = True) -> Arrangement:
    """Return rows centred over each other, as the line asks for it.

    Parameters
    ----------
    by_ink
        Whether rows are as far apart as their own ink needs, and not as any letters of the font
        do, so that they are alike on all cups.
    """
    if line.monogram == "tall-middle" and len(clusters(rows[0])) == 3:
        return _tall_middle(style, rows[0])
    parts: list[Part] = []
    boxes: list[Box] = []
    baseline, leading = 0.0, LEADING
    if not by_ink and len(rows) > 1:
        low, high = letters_reach(style, line.case == "upper")
        leading = max(LEADING, high - low + ROW_CLEARANCE)
    for row in rows:
        box, middle = _row(style, row, line.centring)
        if boxes:
            needed = boxes[-1].low - ROW_CLEARANCE - box.high
            baseline = min(baseline - leading, needed)
        parts.append(Part(row, -middle, baseline))
        boxes.append(
            Box(box.left - middle, box.low + baseline, box.right - middle, box.high + baseline)
        )
    return Arrangement(rows, style, tuple(parts), _around(boxes))


@lru_cache(maxsize=256)
def letters_reach(style: Style, only_capitals: bool) -> tuple[float, float]:
    """Return from where to where letters from A to Z reach about a baseline, in letter heights."""
    letters = ascii_uppercase if only_capitals else ascii_letters
    boxes = [shaped(replace(style, tracking=0), letter).box for letter in letters]
    height = style.font.letter_height
    return min(box.low for box in boxes) / height, max(box.high for box in boxes) / height


@lru_cache(maxsize=4096)
def _row(style: Style, text: str, centring: str) -> tuple[Box, float]:
    """Return the ink of a row in letter heights, and the ``x`` that is its middle."""
    scale = 1 / style.font.letter_height
    box = Box(*(edge * scale for edge in shaped(style, text).box))
    if centring == "mass" and (outline := letter(style, text).outline):
        return box, outline.centroid[0] * scale
    return box, (box.left + box.right) / 2


def _tall_middle(style: Style, text: str) -> Arrangement:
    """Return initials side by side on one middle line, the middle one taller."""
    letters = clusters(text)
    if any(run.backwards for run in runs(text)):
        letters.reverse()
    tall = len(letters) // 2
    apart = ROW_CLEARANCE / 2 + style.tracking / 1000 * style.font.upem / style.font.letter_height
    parts: list[Part] = []
    boxes: list[Box] = []
    x = 0.0
    for at, char in enumerate(letters):
        scale = TALL if at == tall else 1.0
        box, _ = _row(style, char, "ink")
        y = (1 - scale) / 2
        left = x - box.left * scale
        parts.append(Part(char, left, y, scale))
        boxes.append(Box(x, box.low * scale + y, left + box.right * scale, box.high * scale + y))
        x = boxes[-1].right + apart
    middle = boxes[-1].right / 2
    placed = tuple(Part(part.text, part.x - middle, part.y, part.scale) for part in parts)
    shifted = [Box(b.left - middle, b.low, b.right - middle, b.high) for b in boxes]
    return Arrangement((text,), style, placed, _around(shifted))


def _around(boxes: list[Box]) -> Box:
    if not boxes:
        return Box(0.0, 0.0, 0.0, 0.0)
    left, low, right, high = zip(*boxes, strict=True)
    return Box(min(left), min(low), max(right), max(high))


def fits(line: Line, text: str, style: Style, room: Room) -> list[Fit]:
    """Return the best arrangement on one row, on two and so on, as far as the line allows.

    Up to the first that has the largest letters that the line may have: on more rows none are
    larger, and of equals the fewest rows are taken.
    """
    found: list[Fit] = []
    largest = round(floored(line.letter_height.max), 2)
    for count in range(1, line.lines + 1):
        if fit := _best(line, text, style, room, count):
            found.append(fit)
            if fit.height >= largest:
                break
    return found or [Fit(arranged(line, style, (text,)), 0.0)]


def fits_on(line: Line, rows: tuple[str, ...], style: Style, room: Room) -> list[Fit]:
    """Return the one way to set a text that is broken just so."""
    arrangement = arranged(line, style, rows, room.by_ink)
    return [Fit(arrangement, _largest(line, arrangement, room))]


def _best(line: Line, text: str, style: Style, room: Room, count: int) -> Fit | None:
    """Return the way to part a text into rows that gives the largest letters.

    Ways that are equally good but for a hundredth are chosen by balance: the least difference
    between the longest and the shortest row.
    """
    ways = [(text,)] if count == 1 else broken(text, count)
    found = [
        Fit(arrangement, _largest(line, arrangement, room))
        for arrangement in (arranged(line, style, rows, room.by_ink) for rows in ways)
    ]
    if len(found) < 2:
        return found[0] if found else None
    largest = _largest_of(found).height
    close = [fit for fit in found if fit.height >= largest * (1 - _CLOSE)]
    return min(close, key=lambda fit: (_unevenness(fit.arrangement, line.centring), -fit.height))


def _unevenness(arrangement: Arrangement, centring: str) -> float:
    widths = [_row(arrangement.style, row, centring)[0].width for row in arrangement.rows]
    return max(widths) - min(widths)


def _largest(line: Line, arrangement: Arrangement, room: Room) -> float:
    """Return the largest letter height at which an arrangement fits, exact to 0.01 mm."""
    rim = 2 * line.strengthen
    most = line.letter_height.max
    if room.edges:
        most = min(most, *(_below(edge, arrangement, room, rim / 2) for edge in room.edges))
    by_box = largest_letter_height(
        0.0 if room.edges else arrangement.reach,
        arrangement.rise if room.about_middle else arrangement.box.height,
        room.width - rim,
        room.height - rim,
        most,
    )
    if not line.arc or not arrangement.outline:
        return by_box
    # The circle does not grow with the letters, so no division tells; halving does, and the arc is
    # never longer than the straight line is.
    low, high = 0, round(line.letter_height.max / STEP)
    while low < high:
        middle = (low + high + 1) // 2
        outline = arrangement.drawn(middle * STEP, line, fits=False)[0]
        turn = arrangement.reach * middle * STEP / line.arc.radius
        inside = _keeps_to(room, outline, arrangement.middle * middle * STEP, line.strengthen)
        if inside and turn <= _WHOLE_ARC:
            low = middle
        else:
            high = middle - 1
    return floored(low * STEP)


def _below(edge: Edge, arrangement: Arrangement, room: Room, rim: float) -> float:
    """Return the largest letter height at which no point of the ink passes an edge.

    A point at (x, y) letter heights from the middle keeps clear of it while h |x| is no more than
    a + g h y: the edge is straight, and so a division tells.
    """
    box = arrangement.box
    middle = (box.low + box.high) / 2 if room.by_ink else arrangement.middle
    x, y = np.abs(arrangement.hull[:, 0]), arrangement.hull[:, 1] - middle
    steepest = float((x - edge.growth * y).max(initial=0.0))
    left = edge.at(0.0) - rim * math.hypot(1.0, edge.growth)
    height = max(0.0, left / steepest) if steepest > 0 else math.inf
    if not room.beside:
        return height
    # The drawings stand about the ink's middle, at its ends.
    off = (box.low + box.high) / 2 - middle
    left = min(edge.at(up) - out for out, up in room.beside) - rim
    steepest = arrangement.reach / 2 - edge.growth * off
    return min(height, max(0.0, left / steepest) if steepest > 0 else math.inf)


def _keeps_to(room: Room, outline: Outline, middle: float, rim: float) -> bool:
    """Whether ink lies in its room; in mm, ``middle`` that of its letters."""
    box = outline.box
    if box.height + 2 * rim > room.height:
        return False
    reach = max(-box.left, box.right) + rim
    if not room.edges:
        return 2 * reach <= room.width
    middle_of_ink = (box.low + box.high) / 2
    middle = middle_of_ink if room.by_ink else middle
    low, high = box.low - middle, box.high - middle
    off = middle_of_ink - middle
    for edge in room.edges:
        if any(reach + out > edge.at(off + up) for out, up in room.beside):
            return False
        if reach > max(edge.at(low), edge.at(high)):
            return False

    def are_inside(points: NDArray[np.float64]) -> bool:
        x, y = np.abs(points[:, 0]), points[:, 1] - middle
        return all(
            bool((x + rim * math.hypot(1.0, e.growth) <= e.at(0.0) + e.growth * y).all())
            for e in room.edges
        )

    # What holds the curves is quicker told than the curves.
    return are_inside(outline.points) or are_inside(np.concatenate(polygons(outline, STEP)))


_WHOLE_ARC = 3.0
"""Radians that a line on an arc may take: short of half a circle, where it would turn back."""


def best(line: Line, found: list[Fit]) -> Fit:
    """Return the way that the line asks for: with the largest letters, or on the fewest rows.

    Of a set only the height counts, which is settled before rows are: each of its members comes to
    stand on the fewest rows that reach it. A line by itself gets another row only if its letters
    grow by more than :data:`_A_ROW`.
    """
    least, largest = line.letter_height.min, _largest_of(found).height
    if line.rows == "fewest":
        return choose(found, least)
    worth = largest / _A_ROW if line.sizing == "each" else largest
    return choose(found, max(worth, min(least, largest)))


_A_ROW = 1.1
"""How much larger letters have to become for a row more. Own judgement."""


def choose(found: list[Fit], height: float) -> Fit:
    """Return the arrangement with the fewest rows that fits at a height, else the largest."""
    return next((fit for fit in found if fit.height >= height), max(found, key=lambda f: f.height))


def ways_out(line: Line, text: str, style: Style, room: Room, as_set: Fit) -> tuple[WayOut, ...]:
    """Return what else one could do with a text that is too long, and what it would give."""
    taken = len(as_set.arrangement.rows)
    ways: list[WayOut] = []
    present = as_set.height
    if not (line.arc or line.ring or line.monogram):
        for count in words.ON_ROWS:
            fit = _best(line, text, style, room, count) if count != taken else None
            if fit and (count <= max(line.lines, 2)) and fit.height > 0:
                rows_so = fit.arrangement.rows
                ways.append(WayOut(words.ON_ROWS[count], fit.height, rows=rows_so))
    if "name" in fields_of(line.text) and not line.monogram:
        for form, less in shorter(text):
            fit = best(line, fits(line, less, style, room))
            rows = len(fit.arrangement.rows)
            named = words.shorter_on_rows(form, rows) if rows > 1 else form
            ways.append(WayOut(named, fit.height, text=less))
    return tuple(
        way for way in ways if way.letter_height > present or way.words in words.ON_ROWS.values()
    )


def _largest_of(found: Iterable[Fit]) -> Fit:
    return max(found, key=lambda fit: fit.height)


def spread(line: Line, text: str, style: Style, width: float, height: float) -> Style:
    """Return the style with the tracking at which a text of this letter height fills a width.

    The style stays as it is where the text is too long already.
    """

    def tracked(tracking: int) -> Style:
        return Style(style.fonts, tracking, style.features, style.language)

    def ink(tracking: int) -> float:
        return arranged(line, tracked(tracking), (text,)).box.width * height

    # Tracked letters form no ligatures, so that both widths are taken with some tracking.
    room, start = width - 2 * line.strengthen, max(1, style.tracking)
    a_step = (ink(start + 100) - ink(start)) / 100
    if a_step <= 0 or ink(start) >= room:
        return style
    tracking = start + int((room - ink(start)) / a_step)
    while tracking > start and ink(tracking) > room:  # tracking is rounded to whole font units
        tracking -= 1
    return tracked(tracking)
