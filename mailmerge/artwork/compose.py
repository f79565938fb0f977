"""Composition: one guest's lines at their letter heights, placed on the wrap.

Everything is settled here; the SVG writer and the proof only draw what this says.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from mailmerge.artwork.drawings import fitted, narrowness
from mailmerge.artwork.layout import Arc, Layout, LetterHeight, Line, Ornament, fields_of
from mailmerge.artwork.setting import (
    ROW_CLEARANCE,
    Arrangement,
    Fit,
    Room,
    WayOut,
    arranged,
    choose,
    fits,
    spread,
    ways_out,
)
from mailmerge.artwork.sizing import NO_SIZES, Settled, Sizes, group_of
from mailmerge.blanks import Blank, Face, angle_of, face_of
from mailmerge.guests import Guest
from mailmerge.lettering import (
    Box,
    Font,
    Measured,
    Outline,
    Style,
    connects,
    finest,
    narrow,
    shaped,
)
from mailmerge.lettering.bottlenecks import REACH, Place


@dataclass(frozen=True, eq=False)
class Placed:
    """One line of the layout, set and placed; lengths in mm on the wrap (``s``, ``z``)."""

    number: int
    """Of the line in the layout, from 1."""
    field: str | None
    """The first field of its text, which is the column to mend."""
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
    box: Box
    """Bounds of the ink: ``s`` from left to right, ``z`` from low to high."""
    outline: Outline
    """Page coordinates: ``x = s``, ``y`` down from the mouth."""
    missing: tuple[str, ...]
    lent: tuple[tuple[str, str], ...]
    """(character, font) for what another font than the first has lent."""
    sound: bool
    room_width: float
    room_height: float
    settled: Settled | None
    """What the set that it belongs to has settled on."""
    outliers: str
    """What the layout does with names that would make the whole set small."""
    strengthen: float
    on_ring: bool
    """Whether it runs around the cup instead of standing on the face."""
    stroke: Measured | None
    """Its narrowest stroke, in mm; None where all are wider than an eighth of a letter height."""
    gap: Measured | None
    """Its narrowest gap, likewise."""
    ways_out: tuple[WayOut, ...]
    """Filled only where it does not fit, or not at its set's size."""

    @property
    def font(self) -> str:
        """Name of its first font."""
        return self.style.font.name

    @property
    def text(self) -> str:
        """The line's text on one row."""
        return "".join(r if r.endswith(("-", "‐")) else f"{r} " for r in self.rows).rstrip()

    @property
    def fits(self) -> bool:
        """Whether the line fits at a letter height that the layout allows."""
        return self.fitting_height >= self.least

    @property
    def in_set(self) -> bool:
        """Whether it has its set's size, or has no set."""
        return self.settled is None or self.letter_height == self.settled.letter_height


@dataclass(frozen=True, eq=False)
class Drawn:
    """An ornament at its place; lengths in mm."""

    name: str
    """The drawing as the layout calls it, without its folder."""
    outline: Outline
    """Page coordinates."""
    stroke: float | None
    """Its narrowest stroke; None where all are wide."""
    gap: float | None
    """Its narrowest gap, likewise."""


@dataclass(frozen=True, eq=False)
class Composition:
    """One guest's design: its face and its lines, from top to bottom."""

    side: str
    """The face as it was asked for: the guest's own side, or the layout's face."""
    face: Face
    page_width: float
    """The circumference, in mm."""
    page_height: float
    """The height of the blank's wall, in mm."""
    lines: tuple[Placed, ...]
    ornaments: tuple[Drawn, ...] = ()


def compose(
    layout: Layout,
    blank: Blank,
    guest: Guest,
    order_words: dict[str, str],
    beside: Path,
    sizes: Sizes = NO_SIZES,
) -> Composition:
    """Set a guest's lines on the face that the layout, the guest's hand and side ask for.

    Every line gets its set's letter height if it fits at it, else the largest up to its ``max`` at
    which its ink fits the face's usable width and its share of the band. The band's height less
    the gaps is shared out in proportion to the ``max`` of the lines that are there. Lines are
    centred on the face and stacked with the layout's gaps; the whole is centred in the band.

    Parameters
    ----------
    order_words
        ``order.title`` and so on.
    beside
        The folder at which relative paths of fonts start.
    sizes
        What the order's sets have settled on.

    Raises
    ------
    InputError
        A font or a drawing is not there.
    """
    side, face, members = _members(layout, blank, guest, order_words, beside)
    set_lines = [_set(member, sizes, guest) for member in members]
    stacked = [line for line in set_lines if not line.member.line.ring]
    placed, ornaments = _stacked(layout, blank, face, stacked, beside)
    for line in set_lines:
        if line.member.line.ring:
            placed.append(_on_ring(line, blank))
    placed.sort(key=lambda line: line.number)
    return Composition(
        side, face, blank.circumference, blank.height, tuple(placed), tuple(ornaments)
    )


def own_heights(
    layout: Layout, blank: Blank, guest: Guest, order_words: dict[str, str], beside: Path
) -> Iterator[tuple[int, str, float]]:
    """Yield (number of the line, its group, the largest letter height at which it fits).

    For the lines that share their size with other guests, but for those with letters that no font
    has: they are stopped, and no members of the set. Parameters as for :func:`compose`.
    """
    _, _, members = _members(layout, blank, guest, order_words, beside)
    for member in members:
        shared = member.line.sizing != "each"
        if shared and not shaped(member.style, member.text).missing:
            best = max(fit.height for fit in member.fits())
            yield member.number, group_of(member.line, guest.fields["role"]), best


@dataclass(frozen=True, eq=False)
class _Member:
    """A line of the layout that a guest has a text for, with its room."""

    number: int
    line: Line
    text: str
    style: Style
    room: Room

    def fits(self) -> list[Fit]:
        return fits(self.line, self.text, self.style, self.room)

    def allowing(self, height: float) -> _Member:
        """Return the member with a range of letter heights that holds one of cups that exist."""
        least, most = self.line.letter_height.min, self.line.letter_height.max
        wider = LetterHeight.model_construct(max=max(most, height), min=min(least, height))
        return replace(self, line=self.line.model_copy(update={"letter_height": wider}))


def _members(
    layout: Layout, blank: Blank, guest: Guest, order_words: dict[str, str], beside: Path
) -> tuple[str, Face, list[_Member]]:
    side = _side_of(guest, layout)
    face = face_of(blank, angle_of(side, guest.hand), layout.visible_angle)
    words = {**guest.fields, **order_words}
    present = [
        (number, line, text)
        for number, line in enumerate(layout.line, start=1)
        if (text := line.filled(words)) is not None
    ]
    stacked = [(number, line) for number, line, _ in present if not line.ring]
    room = blank.band.height - sum(line.gap for _, line in stacked[1:])
    room -= sum(
        ornament.height + ornament.gap
        for ornament in layout.ornament
        if ornament.place != "beside" and any(n == ornament.line for n, _ in stacked)
    )
    most = sum(line.letter_height.max for _, line in stacked)
    members = []
    for number, line, text in present:
        if line.ring:
            z = line.ring.height
            height = 2 * min(z - blank.band.from_, blank.band.to - z)
            width = blank.circumference - 2 * blank.handle_edge
        else:
            height = room * line.letter_height.max / most
            width = face.usable_width - sum(
                2 * (ornament.width + ornament.gap)
                for ornament in layout.ornament
                if ornament.place == "beside" and ornament.line == number
            )
        space = Room(max(0.0, width), max(0.0, height))
        style = line.style(beside, line.language_for(words))
        members.append(_Member(number, line, text, style, space))
    return side, face, members


def _side_of(guest: Guest, layout: Layout) -> str:
    """Return the guest's own side where it is one (a check reports it where not)."""
    side = guest.fields.get("side", "")
    try:
        angle_of(side, guest.hand)
    except ValueError:
        return layout.face
    return side


@dataclass(frozen=True, eq=False)
class _SetLine:
    """A line that has its arrangement and its letter height, but no place yet; lengths in mm."""

    member: _Member
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

    def edges(self, by_baseline: bool) -> tuple[float, float]:
        """Return the highest and the lowest ``y`` that count for stacking."""
        if by_baseline and not self.member.line.arc:
            return self.letter_height, self.fit.arrangement.last_baseline * self.letter_height
        return self.ink.high, self.ink.low

    def placed(self, centre: float, baseline: float, wall: float) -> Placed:
        """Return the line with its middle on ``s = centre`` and its first baseline at a ``z``."""
        line, arrangement = self.member.line, self.fit.arrangement
        ink = self.ink
        box = Box(ink.left + centre, ink.low + baseline, ink.right + centre, ink.high + baseline)
        fields = fields_of(line.text)
        font = arrangement.style.font
        stroke, gap = self._finest()
        has_small = any(char.islower() for char in self.member.text)
        share = font.small_letter_height / font.letter_height
        return Placed(
            number=self.member.number,
            field=fields[0] if fields else None,
            rows=arrangement.rows,
            style=arrangement.style,
            letter_height=self.letter_height,
            small_letter_height=self.letter_height * share if has_small else None,
            fitting_height=self.fit.height,
            largest=self.largest,
            least=line.letter_height.min,
            box=box,
            outline=self.outline.moved(1.0, True, centre, wall - baseline),
            missing=tuple(
                dict.fromkeys(char for part in arrangement.lettering for char in part.missing)
            ),
            lent=tuple(dict.fromkeys(_lent(arrangement, font))),
            sound=self.sound,
            room_width=self.member.room.width,
            room_height=self.member.room.height,
            settled=self.settled,
            outliers=line.outliers,
            strengthen=line.strengthen,
            on_ring=line.ring is not None,
            stroke=stroke,
            gap=gap,
            ways_out=self.ways_out,
        )

    def _finest(self) -> tuple[Measured | None, Measured | None]:
        """Return the narrowest stroke and gap in mm, as they will be engraved.

        Moving the outline outward closes every gap by twice as much, and widens every stroke by
        at least that: a narrow place lies at right angles to both of its sides, or at a corner.
        """
        line = self.member.line
        if self.fit.height < line.letter_height.min:
            return None, None  # it is stopped, and drawn only to be shown
        rim = 2 * line.strengthen
        reach = _reach((_LOOKED_FOR + rim) / self.letter_height)
        if line.arc:
            return self._finest_on_arc(line.arc, reach)
        strokes: list[Measured] = []
        gaps: list[Measured] = []
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
        return min(strokes, default=None), min(gaps, default=None)

    def _finest_on_arc(self, arc: Arc, reach: float) -> tuple[Measured | None, Measured | None]:
        """Measure the outline as it is engraved, and name the letters that a place lies between."""
        found = narrow(self.outline, self.letter_height, reach)
        arrangement, rim = self.fit.arrangement, self.member.line.strengthen
        pieces = arrangement.on_arc(self.letter_height, arc)

        def named(places: tuple[Place, ...]) -> Measured | None:
            if not places:
                return None
            ends = (places[0].start, places[0].end)
            touched = [
                letters
                for piece, letters in zip(pieces, arrangement.letters, strict=True)
                if any(_within(piece.box, point, rim + 0.01) for point in ends)
            ]
            letters = "".join(touched) if len("".join(touched)) <= 2 else ""
            return Measured(places[0].width, letters)

        return named(found.strokes), named(found.gaps)


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
                    yield part.text[glyph.char : glyph.char + 1], glyph.font.name


def _set(member: _Member, sizes: Sizes, guest: Guest) -> _SetLine:
    """Give a line its arrangement and letter height."""
    line, least = member.line, member.line.letter_height.min
    settled = sizes.of(member.number, line, guest.fields["role"]) if line.sizing != "each" else None
    if settled and settled.kept:
        member = member.allowing(settled.letter_height)
        line, least = member.line, member.line.letter_height.min
    found = member.fits()
    wanted = settled.letter_height if settled else least
    fit = choose(found, wanted)
    ways: tuple[WayOut, ...] = ()
    largest = max(fit.height for fit in found)
    if fit.height < wanted:
        fit = choose(found, largest if settled else least)
        ways = ways_out(line, member.text, member.style, member.room, fit)
        height = max(fit.height, least)
    else:
        if settled and line.outliers == "hold-set" and largest < settled.free:
            ways = ways_out(line, member.text, member.style, member.room, fit)
        height = settled.letter_height if settled else fit.height
    if line.ring and line.ring.fill and fit.height >= least:
        style = spread(line, member.text, member.style, member.room.width, height)
        fit = Fit(arranged(line, style, (member.text,)), fit.height)
    outline, sound = fit.arrangement.drawn(height, line, fit.height >= least)
    return _SetLine(member, fit, height, largest, settled, outline, sound, ways)


@dataclass(frozen=True, eq=False)
class _Element:
    """Something in the stack: a line, or an ornament above or below one; ``y`` up."""

    outline: Outline
    top: float
    bottom: float
    """What counts for stacking; the ink may reach further."""
    gap: float
    """Room above it."""
    line: _SetLine | None
    ornament: Ornament | None = None


def _stacked(
    layout: Layout, blank: Blank, face: Face, lines: list[_SetLine], beside: Path
) -> tuple[list[Placed], list[Drawn]]:
    """Place the lines that stand over each other, and the ornaments that stand with them."""
    elements = [
        element
        for at, line in enumerate(lines)
        for element in _with_ornaments(layout, line, beside, first=at == 0)
    ]
    baselines: list[float] = []
    lowest = 0.0
    ink_low = 0.0
    for element in elements:
        if baselines:
            y = lowest - element.gap - element.top
            clearance = ROW_CLEARANCE * min((each.letter_height for each in lines), default=0.0)
            y = min(y, ink_low - min(clearance, element.gap) - element.outline.box.high)
        else:
            y = -element.top
        baselines.append(y)
        lowest = y + element.bottom
        ink_low = y + element.outline.box.low
    shift = _shift_into_band(blank, elements, baselines, lowest)
    placed: list[Placed] = []
    drawings: list[Drawn] = []
    for element, y in zip(elements, baselines, strict=True):
        z = y + shift
        if element.line:
            line = element.line.placed(face.centre, z, blank.height)
            placed.append(line)
            drawings += _beside(layout, line, blank.height, beside)
        else:
            moved = element.outline.moved(1.0, True, face.centre, blank.height - z)
            drawings.append(_drawn(element.ornament, moved, beside))
    return placed, drawings


def _shift_into_band(
    blank: Blank, elements: list[_Element], baselines: list[float], lowest: float
) -> float:
    """Return the ``z`` of the stack's top: its middle in the band's, or as near as its ink can."""
    if not elements:
        return 0.0
    shift = blank.band.middle - lowest / 2
    high = max(y + e.outline.box.high for e, y in zip(elements, baselines, strict=True))
    low = min(y + e.outline.box.low for e, y in zip(elements, baselines, strict=True))
    if high - low > blank.band.height:
        return blank.band.middle - (high + low) / 2
    return min(max(shift, blank.band.from_ - low), blank.band.to - high)


def _with_ornaments(
    layout: Layout, line: _SetLine, beside: Path, first: bool
) -> Iterator[_Element]:
    own = [o for o in layout.ornament if o.line == line.member.number]
    gap = 0.0 if first else line.member.line.gap
    for ornament in own:
        if ornament.place == "above":
            drawing = fitted(ornament, beside)
            yield _Element(drawing, drawing.box.high, drawing.box.low, gap, None, ornament)
            gap = ornament.gap
    top, bottom = line.edges(layout.stacking == "baseline")
    yield _Element(line.outline, top, bottom, gap, line)
    for ornament in own:
        if ornament.place == "below":
            drawing = fitted(ornament, beside)
            yield _Element(drawing, drawing.box.high, drawing.box.low, ornament.gap, None, ornament)


def _beside(layout: Layout, line: Placed, wall: float, beside: Path) -> Iterator[Drawn]:
    """Yield the ornaments on both sides of a line, the right one mirrored."""
    middle = wall - (line.box.low + line.box.high) / 2
    for ornament in layout.ornament:
        if ornament.place == "beside" and ornament.line == line.number:
            drawing = fitted(ornament, beside)
            reach = drawing.box.width / 2 + ornament.gap
            left, right = line.box.left - reach, line.box.right + reach
            yield _drawn(ornament, drawing.moved(1.0, True, left, middle), beside)
            yield _drawn(ornament, drawing.mirrored().moved(1.0, True, right, middle), beside)


def _drawn(ornament: Ornament | None, outline: Outline, beside: Path) -> Drawn:
    """Return an ornament at its place, measured."""
    assert ornament is not None
    stroke, gap = narrowness(ornament, outline, beside)
    return Drawn(Path(ornament.drawing).stem, outline, stroke, gap)


def _on_ring(line: _SetLine, blank: Blank) -> Placed:
    """Place a line around the cup, its middle opposite the handle."""
    assert line.member.line.ring is not None
    baseline = line.member.line.ring.height - line.letter_height / 2
    return line.placed(blank.circumference / 2, baseline, blank.height)
