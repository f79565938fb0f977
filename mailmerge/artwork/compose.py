"""Composition: one guest's lines at their letter heights, placed on the wrap.

Everything is settled here; the SVG writer and the proof only draw what this says.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cached_property, partial
from pathlib import Path

from mailmerge.artwork import words
from mailmerge.artwork.around import border_pieces, text_pieces
from mailmerge.artwork.drawings import around, fitted, narrowness
from mailmerge.artwork.layout import Arc, Layout, Ornament, fields_of
from mailmerge.artwork.own import Own, on_one_row
from mailmerge.artwork.pieces import Piece, box_of, span_of
from mailmerge.artwork.rooms import (
    Member,
    Stand,
    face_at,
    own_baseline,
    side_of,
    stands_of,
    with_ornaments,
)
from mailmerge.artwork.setting import (
    Arrangement,
    Fit,
    WayOut,
    arranged,
    best,
    choose,
    spread,
    ways_out,
)
from mailmerge.artwork.sizing import NO_SIZES, Settled, Sizes, group_of
from mailmerge.artwork.stacking import Extent, extent_of_line, stack
from mailmerge.blanks import Blank, Face, angle_of, face_of
from mailmerge.findings import InputError
from mailmerge.guests import Guest
from mailmerge.guests.names import clusters
from mailmerge.lettering import (
    Box,
    Font,
    Measured,
    Outline,
    Style,
    connects,
    finest,
    joins_to_another,
    narrow,
)
from mailmerge.lettering.bottlenecks import REACH, Finest, Place
from mailmerge.lettering.outline import joined


@dataclass(frozen=True, eq=False, kw_only=True)
class Inked:
    """Something at its place on the wall; lengths in mm."""

    face: Face
    """Where it stands; for what goes around the cup, what is free there."""
    box: Box
    """Bounds of the ink: ``s`` from left to right, ``z`` from low to high."""
    pieces: tuple[Piece, ...]
    """What is engraved: one piece, or one for each repeat."""

    @cached_property
    def outline(self) -> Outline:
        """Its ink on the upright page: ``x = s``, ``y`` down from the mouth."""
        return joined([piece.on_page for piece in self.pieces])

    @property
    def span(self) -> Box:
        """Bounds of its ink as angles; see :attr:`mailmerge.artwork.pieces.Piece.span`."""
        return span_of(self.pieces)


@dataclass(frozen=True, eq=False, kw_only=True)
class Placed(Inked):
    """One line of the layout, set and placed; lengths in mm on the wrap (``s``, ``z``)."""

    number: int
    """Of the line in the layout, from 1."""
    fields: tuple[str, ...]
    """What its text comes from, in order; empty for a text of the layout's own."""
    rows: tuple[str, ...]
    style: Style
    letter_height: float
    """The height that it is set at: its set's, or the largest that fits, or the layout's least if
    none does."""
    small_letter_height: float | None
    """Height of its small letters; None where it has none."""
    fitting_height: float
    """The largest letter height at which it fits as it is set, even if that is too small."""
    largest: float
    """The largest letter height at which it fits in any way that the layout allows."""
    least: float
    """The smallest letter height that the layout allows."""
    missing: tuple[str, ...]
    lent: tuple[tuple[str, str], ...]
    """(letter, font) for what another font than the first has lent."""
    misplaced: tuple[str, ...]
    """Letters with marks that do not lie on them as they should, in no font."""
    sound: bool
    room_width: float
    room_height: float
    settled: Settled | None
    """What the set that it belongs to has settled on; None where its size is the cup's own."""
    own: Own
    """What was said about it for this cup alone."""
    has_own_rows: bool
    """Whether its rows are those that were said."""
    outliers: str
    """What the layout does with names that would make the whole set small."""
    strengthen: float
    on_ring: bool
    """Whether it runs around the cup instead of standing on the face."""
    stroke: Measured | None
    """Its narrowest stroke, in mm; None where all are wider than an eighth of a letter height."""
    gap: Measured | None
    """Its narrowest gap within a letter, or between two that would be read as another; likewise."""
    between: Measured | None
    """Its narrowest gap between two letters that stay what they are where they touch; likewise."""
    ways_out: tuple[WayOut, ...]
    """Filled only where it does not fit, or not at its set's size."""

    @property
    def field(self) -> str | None:
        """The first field of its text, which is the column to mend."""
        return self.fields[0] if self.fields else None

    @property
    def goes_around(self) -> bool:
        """Whether it goes around the cup instead of standing on a face."""
        return self.on_ring

    @property
    def looks(self) -> float:
        """How narrow its outermost letter looks to an eye before the face: the cosine of its angle.

        1 is its full width, 0 the cup's edge and what lies behind it.
        """
        return max((piece.looks for piece in self.pieces), default=1.0)

    @property
    def font(self) -> str:
        """Name of its first font."""
        return self.style.font.name

    @property
    def text(self) -> str:
        """The line's text on one row."""
        return on_one_row(self.rows)

    @property
    def fits(self) -> bool:
        """Whether the line fits at a letter height that the layout allows."""
        return self.fitting_height >= self.least

    @property
    def in_set(self) -> bool:
        """Whether it has its set's size, or has no set."""
        if self.own.letter_height:
            return False
        return self.settled is None or self.letter_height == self.settled.letter_height


@dataclass(frozen=True, eq=False, kw_only=True)
class Drawn(Inked):
    """An ornament at its place, or a border; lengths in mm."""

    name: str
    """The drawing as the layout calls it, without its folder."""
    stroke: float | None
    """Its narrowest stroke; None where all are wide."""
    gap: float | None
    """Its narrowest gap, likewise."""
    border_size: float | None = None
    """The height that a border was asked for with; None for an ornament."""
    frames: int | None = None
    """The number of the line that it stands around."""

    @property
    def is_border(self) -> bool:
        """Whether it is a border and no ornament."""
        return self.border_size is not None

    @property
    def goes_around(self) -> bool:
        """Whether it goes around the cup instead of standing on a face."""
        return self.is_border


@dataclass(frozen=True, eq=False)
class Composition:
    """One guest's design: its faces and its lines, from top to bottom."""

    side: str
    """The face as it was asked for: the guest's own side, or the layout's face."""
    faces: tuple[Face, ...]
    """The faces that hold something; the one that was asked for comes first, if it does."""
    lines: tuple[Placed, ...]
    ornaments: tuple[Drawn, ...] = ()

    @property
    def face(self) -> Face:
        """The first face, which the proof looks at."""
        return self.faces[0]

    def span(self, fitting: bool = False) -> Box:
        """Return the bounds of all ink as angles: ``s`` and ``z`` in mm; all 0 if there is none.

        Parameters
        ----------
        fitting
            Whether to leave lines out that do not fit.
        """
        spans = [line.span for line in self.lines if line.fits or not fitting]
        spans += [drawn.span for drawn in self.ornaments]
        if not spans:
            return Box(0.0, 0.0, 0.0, 0.0)
        left, low, right, high = zip(*spans, strict=True)
        return Box(min(left), min(low), max(right), max(high))


def compose(
    layout: Layout,
    blank: Blank,
    guest: Guest,
    order_words: dict[str, str],
    beside: Path,
    sizes: Sizes = NO_SIZES,
    own: tuple[Own, ...] = (),
) -> Composition:
    """Set a guest's lines on the faces that the layout, the guest's hand and side ask for.

    Every line gets its set's letter height if it fits at it, else the largest up to its ``max`` at
    which its ink fits the face's usable width and its share of the band. Lines of a face are
    centred on it and stacked with the layout's gaps; the whole is centred in the band.

    Parameters
    ----------
    order_words
        ``order.title`` and so on.
    beside
        The folder at which relative paths of fonts start.
    sizes
        What the order's sets have settled on.
    own
        How this one cup is set, where that differs from its set.

    Raises
    ------
    InputError
        A font or a drawing is not there.
    """
    placed: list[Placed] = []
    drawings: list[Drawn] = []
    for stand in stands_of(layout, blank, guest, order_words, beside, own):
        set_lines = [_set(member, sizes, guest) for member in stand.members]
        if stand.is_alone:
            with _told_of(words.line_of(layout.name, set_lines[0].member.number)):
                placed.append(_alone(layout, blank, stand, set_lines[0]))
        else:
            lines, ornaments = _stacked(layout, blank, stand, set_lines, beside)
            placed += lines
            drawings += ornaments
    placed.sort(key=lambda line: line.number)
    for number, border in enumerate(layout.border, start=1):
        with _told_of(words.border_of(layout.name, number)):
            pieces, face = border_pieces(border, blank, beside)
        stroke, gap = narrowness(border, pieces[0].outline, beside)
        drawings.append(
            Drawn(
                name=Path(border.drawing).stem,
                face=face,
                box=box_of(pieces),
                pieces=pieces,
                stroke=stroke,
                gap=gap,
                border_size=border.size,
            )
        )
    side = side_of(guest, layout)
    return Composition(
        side,
        _faces(layout, blank, angle_of(side, guest.hand), placed),
        tuple(placed),
        tuple(drawings),
    )


@contextmanager
def _told_of(where: str) -> Iterator[None]:
    """Put the place in a layout before what is wrong there."""
    try:
        yield
    except InputError as error:
        raise InputError(words.at(where, error)) from None


def _faces(
    layout: Layout, blank: Blank, asked_for: float, placed: Iterable[Placed]
) -> tuple[Face, ...]:
    """Return the faces in use, each as wide as it is at the heights of its own lines."""
    heights: dict[float, tuple[float, float]] = {}
    for line in placed:
        if not line.on_ring:
            low, high = heights.get(line.face.angle, (math.inf, -math.inf))
            heights[line.face.angle] = min(low, line.box.low), max(high, line.box.high)
    if not heights:
        return (face_of(blank, asked_for, layout.visible_angle),)
    faces = [face_of(blank, angle, layout.visible_angle, heights[angle]) for angle in heights]
    return tuple(sorted(faces, key=lambda face: face.angle != asked_for))


def own_heights(
    layout: Layout, blank: Blank, guest: Guest, order_words: dict[str, str], beside: Path
) -> Iterator[tuple[int, str, float]]:
    """Yield (number of the line, its group, the largest letter height at which it fits).

    For the lines that share their size with other guests, but for those with letters that no font
    sets: they are stopped, and no members of the set. Parameters as for :func:`compose`.
    """
    for stand in stands_of(layout, blank, guest, order_words, beside):
        for member in stand.members:
            if member.line.sizing == "each":
                continue
            if (own := member.largest) is not None:
                yield member.number, group_of(member.line, guest.fields["role"]), own


@dataclass(frozen=True, eq=False)
class _SetLine:
    """A line that has its arrangement and its letter height, but no place yet; lengths in mm."""

    member: Member
    fit: Fit
    letter_height: float
    largest: float
    settled: Settled | None
    outline: Outline
    """``x`` from the middle, ``y`` up from the first baseline."""
    sound: bool
    ways_out: tuple[WayOut, ...]

    @property
    def ink(self) -> Box:
        return self.outline.box

    def extent(self, by_baseline: bool, gap: float) -> Extent:
        """Return how far it reaches in a stack; ``gap`` is the room above it."""
        return extent_of_line(
            self.member.line, self.fit.arrangement, self.letter_height, self.ink, by_baseline, gap
        )

    def placed(self, blank: Blank, face: Face, baseline: float) -> Placed:
        """Return the line with its middle on its face's and its first baseline at a ``z``."""
        line, arrangement = self.member.line, self.fit.arrangement
        outline = self.outline.moved(1.0, True, 0.0, blank.height - baseline)
        if line.ring and line.ring.repeat:
            heights = baseline + self.ink.low, baseline + self.ink.high
            pieces, face = text_pieces(outline, line.ring, heights, blank)
        else:
            pieces = (Piece(face.angle, outline, blank),)
        font = arrangement.style.font
        stroke, gap, between = self._finest()
        has_small = any(char.islower() for char in self.member.text)
        share = font.small_letter_height / font.letter_height
        return Placed(
            number=self.member.number,
            fields=tuple(fields_of(line.text)),
            rows=arrangement.rows,
            style=arrangement.style,
            letter_height=self.letter_height,
            small_letter_height=self.letter_height * share if has_small else None,
            fitting_height=self.fit.height,
            largest=self.largest,
            least=line.letter_height.min,
            face=face,
            box=box_of(pieces),
            pieces=pieces,
            missing=tuple(
                dict.fromkeys(char for part in arrangement.lettering for char in part.missing)
            ),
            lent=tuple(dict.fromkeys(_lent(arrangement, font))),
            misplaced=tuple(
                dict.fromkeys(char for part in arrangement.lettering for char in part.misplaced)
            ),
            sound=self.sound,
            room_width=self.member.room.width,
            room_height=self.member.room.height,
            settled=self.settled,
            own=self.member.own,
            has_own_rows=self.member.has_own_rows,
            outliers=line.outliers,
            strengthen=line.strengthen,
            on_ring=line.ring is not None,
            stroke=stroke,
            gap=gap,
            between=between,
            ways_out=self.ways_out,
        )

    def _finest(self) -> Finest:
        """Return the narrowest stroke and gaps in mm, as they will be engraved.

        Moving the outline outward closes every gap by twice as much, and widens every stroke by
        at least that: a narrow place lies at right angles to both of its sides, or at a corner.
        """
        line = self.member.line
        if self.fit.height < line.letter_height.min:
            return Finest(None, None)  # it is stopped, and drawn only to be shown
        rim = 2 * line.strengthen
        reach = _reach((_LOOKED_FOR + rim) / self.letter_height)
        if line.arc:
            return self._finest_on_arc(line.arc, reach)
        strokes: list[Measured] = []
        gaps: list[Measured] = []
        between: list[Measured] = []
        arrangement = self.fit.arrangement
        for part, lettering in zip(arrangement.parts, arrangement.lettering, strict=True):
            height = self.letter_height * part.scale
            # Letters of a script that are made to touch may grow together, others may not.
            joined_by = rim / height if connects(arrangement.style.font) else 0.0
            found = finest(lettering, reach, joined_by)
            if found.stroke:
                strokes.append(found.stroke.scaled(height, rim))
            if found.gap:
                gaps.append(found.gap.scaled(height, -rim))
            if found.between:
                between.append(found.between.scaled(height, -rim))
        return Finest(*(min(each, default=None) for each in (strokes, gaps, between)))

    def _finest_on_arc(self, arc: Arc, reach: float) -> Finest:
        """Measure the outline as it is engraved, and name the letters that a place lies between."""
        found = narrow(self.outline, self.letter_height, reach)
        arrangement, rim = self.fit.arrangement, self.member.line.strengthen
        pieces = arrangement.on_arc(self.letter_height, arc)

        def named(place: Place) -> Measured:
            ends = (place.start, place.end)
            touched = [
                letters
                for piece, letters in zip(pieces, arrangement.letters, strict=True)
                if any(_within(piece.box, point, rim + 0.01) for point in ends)
            ]
            letters = "".join(touched) if len("".join(touched)) <= 2 else ""
            return Measured(place.width, letters)

        gaps = [named(place) for place in found.gaps]
        apart = [gap for gap in gaps if len(gap.letters) == 2 and not joins_to_another(gap.letters)]
        return Finest(
            named(found.strokes[0]) if found.strokes else None,
            next((gap for gap in gaps if gap not in apart), None),
            next(iter(apart), None),
        )


_LOOKED_FOR = 0.35
"""Millimetres: strokes and gaps that are wider than two spots of any machine stop nobody."""


def _reach(wanted: float) -> float:
    """Return how far to look, in letter heights: one of a few steps, so that glyphs are shared."""
    reach = REACH
    while reach < wanted and reach < 4:
        reach *= 2
    return reach


def _within(box: Box, point: tuple[float, float], margin: float) -> bool:
    x, y = point
    return (
        box.left - margin <= x <= box.right + margin and box.low - margin <= y <= box.high + margin
    )


def _lent(arrangement: Arrangement, font: Font) -> Iterator[tuple[str, str]]:
    for part in arrangement.lettering:
        for group in part.groups:
            for glyph in group:
                if glyph.font is not font:
                    yield clusters(part.text[glyph.char :])[0], glyph.font.name


def _set(member: Member, sizes: Sizes, guest: Guest) -> _SetLine:
    """Give a line its arrangement and letter height."""
    line, least = member.line, member.line.letter_height.min
    own = member.own.letter_height
    settled = None
    if line.sizing != "each" and not own:
        settled = sizes.of(member.number, line, guest.fields["role"])
    if settled and settled.kept:
        member = member.allowing(settled.letter_height)
        line, least = member.line, member.line.letter_height.min
    found = member.fits()
    wanted = settled.letter_height if settled else own or least
    largest = best(line, found).height
    fit = choose(found, wanted) if settled else member.by_itself(found)
    ways: tuple[WayOut, ...] = ()
    if fit.height < wanted:
        fit = best(line, found)
        ways = ways_out(line, member.text, member.style, member.room, fit)
        height = max(fit.height, least)
    else:
        if settled and line.outliers == "hold-set" and largest < settled.free:
            ways = ways_out(line, member.text, member.style, member.room, fit)
        height = settled.letter_height if settled else own or fit.height
    if line.ring and line.ring.fill and fit.height >= least:
        style = spread(line, member.text, member.style, member.room.width, height)
        fit = Fit(arranged(line, style, (member.text,)), fit.height)
    outline, sound = fit.arrangement.drawn(height, line, fit.height >= least)
    return _SetLine(member, fit, height, largest, settled, outline, sound, ways)


@dataclass(frozen=True, eq=False)
class _Element:
    """Something in the stack: a line, or an ornament above or below one; ``y`` up."""

    extent: Extent
    line: _SetLine | None
    ornament: Ornament | None = None


def _stacked(
    layout: Layout, blank: Blank, stand: Stand, lines: list[_SetLine], beside: Path
) -> tuple[list[Placed], list[Drawn]]:
    """Place the lines that stand over each other, and the ornaments that stand with them."""
    by_baseline = layout.stacking == "baseline"
    elements = [
        _Element(extent, None if ornament else line, ornament)
        for at, line in enumerate(lines)
        for extent, ornament in with_ornaments(
            layout, line.member.number, partial(line.extent, by_baseline), at == 0, beside
        )
    ]
    extents = [element.extent for element in elements]
    smallest = min((line.letter_height for line in lines), default=0.0)
    baselines = stack(extents, smallest, stand.band)
    heights = (
        min(z + extent.ink.low for extent, z in zip(extents, baselines, strict=True)),
        max(z + extent.ink.high for extent, z in zip(extents, baselines, strict=True)),
    )
    face = face_of(blank, stand.angle, layout.visible_angle, heights)
    placed: list[Placed] = []
    drawings: list[Drawn] = []
    for element, z in zip(elements, baselines, strict=True):
        if element.line:
            line = element.line.placed(blank, face, z)
            placed.append(line)
            drawings += _beside(layout, line, blank, beside)
            drawings += _around(layout, line, blank, beside)
        elif element.ornament:
            outline = fitted(element.ornament, beside).moved(1.0, True, 0.0, blank.height - z)
            drawings.append(_drawn(element.ornament, outline, face, blank, beside))
    return placed, drawings


def _beside(layout: Layout, line: Placed, blank: Blank, beside: Path) -> Iterator[Drawn]:
    """Yield the ornaments on both sides of a line, the right one mirrored."""
    middle = blank.height - (line.box.low + line.box.high) / 2
    centre = line.face.centre
    for ornament in layout.ornament:
        if ornament.place == "beside" and ornament.line == line.number:
            drawing = fitted(ornament, beside)
            reach = drawing.box.width / 2 + ornament.gap
            left, right = line.box.left - centre - reach, line.box.right - centre + reach
            for outline, at in ((drawing, left), (drawing.mirrored(), right)):
                moved = outline.moved(1.0, True, at, middle)
                yield _drawn(ornament, moved, line.face, blank, beside)


def _around(layout: Layout, line: Placed, blank: Blank, beside: Path) -> Iterator[Drawn]:
    """Yield the frames around a line, as large as it wants them."""
    (piece,) = line.pieces
    box = piece.outline.box
    middle = (box.left + box.right) / 2, (box.low + box.high) / 2
    for ornament in layout.ornament:
        if ornament.place == "around" and ornament.line == line.number:
            outline = around(ornament, box.width, box.height, beside).moved(1.0, True, *middle)
            drawn = _drawn(ornament, outline, line.face, blank, beside)
            yield replace(drawn, frames=line.number)


def _drawn(ornament: Ornament, outline: Outline, face: Face, blank: Blank, beside: Path) -> Drawn:
    """Return an ornament at its place, measured; ``x`` from the face's middle."""
    stroke, gap = narrowness(ornament, outline, beside)
    pieces = (Piece(face.angle, outline, blank),)
    return Drawn(
        name=Path(ornament.drawing).stem,
        face=face,
        box=box_of(pieces),
        pieces=pieces,
        stroke=stroke,
        gap=gap,
    )


def _alone(layout: Layout, blank: Blank, stand: Stand, line: _SetLine) -> Placed:
    """Place a line that has its own height: on its face, or around the cup."""
    own = line.member.line
    baseline = own_baseline(own, blank.band, line.fit.arrangement, line.letter_height, line.ink)
    heights = baseline + line.ink.low, baseline + line.ink.high
    face = face_at(layout, blank, stand.angle, own, heights)
    return line.placed(blank, face, baseline)
