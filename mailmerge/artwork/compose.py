"""Composition: one guest's lines, each at its largest letter height, placed on the wrap.

Everything is settled here; the SVG writer and the proof only draw what this says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from mailmerge.artwork.layout import Layout, Line, fields_of
from mailmerge.blanks import Blank, Face, angle_of, face_of
from mailmerge.guests import Guest
from mailmerge.lettering import (
    Box,
    Font,
    Lettering,
    Outline,
    largest_letter_height,
    letter,
    open_font,
)
from mailmerge.lettering.outline import joined

LEADING = 1.5
"""Distance of the baselines of a line on two rows, in letter heights; more where the ink needs it.

Common practice, without a source.
"""

ROW_CLEARANCE = 0.25
"""Least room between the ink of two rows, in letter heights. Common practice, without a source."""

_MOST_BREAKS = 6


@dataclass(frozen=True, slots=True)
class WayOut:
    """Another way to set a line that does not fit, and the letter height that it would get."""

    words: str
    letter_height: float


@dataclass(frozen=True, eq=False)
class Placed:
    """One line of the layout, set and placed; lengths in mm on the wrap (``s``, ``z``)."""

    field: str | None
    """The first field of its text, which is the column to mend."""
    rows: tuple[str, ...]
    font: str
    letter_height: float
    """The height that it is set at: the largest that fits, or the layout's least if none does."""
    fitting_height: float
    """The largest letter height at which it fits as it is set, even if that is too small."""
    least: float
    """The smallest letter height that the layout allows."""
    box: Box
    """Bounds of the ink: ``s`` from left to right, ``z`` from low to high."""
    outline: Outline
    """Page coordinates: ``x = s``, ``y`` down from the mouth."""
    missing: tuple[str, ...]
    sound: bool
    room_width: float
    room_height: float
    ways_out: tuple[WayOut, ...]
    """Filled only where it does not fit."""

    @property
    def text(self) -> str:
        """The line's text on one row."""
        return "".join(r if r.endswith(("-", "‐")) else f"{r} " for r in self.rows).rstrip()

    @property
    def fits(self) -> bool:
        """Whether the line fits at a letter height that the layout allows."""
        return self.fitting_height >= self.least


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


@dataclass(frozen=True, eq=False)
class _Block:
    """A text on one or two rows, measured in letter heights; ``y`` up from the first baseline."""

    rows: tuple[str, ...]
    outline: Outline
    lettering: tuple[Lettering, ...]

    @property
    def box(self) -> Box:
        return self.outline.box


def compose(
    layout: Layout, blank: Blank, guest: Guest, order_words: dict[str, str], beside: Path
) -> Composition:
    """Set a guest's lines on the face that the layout, the guest's hand and side ask for.

    Every line gets the largest letter height up to its ``max`` at which its ink fits the face's
    usable width and its share of the band. The band's height less the gaps is shared out in
    proportion to the ``max`` of the lines that are there. Lines are centred on the face by their
    ink and stacked with the layout's gaps; the whole is centred in the band.

    Parameters
    ----------
    order_words
        ``order.title`` and so on.
    beside
        The folder at which relative paths of fonts start.

    Raises
    ------
    InputError
        A font is not there.
    """
    side = _side_of(guest, layout)
    face = face_of(blank, angle_of(side, guest.hand), layout.visible_angle)
    words = {**guest.fields, **order_words}
    present = [(line, text) for line in layout.line if (text := line.filled(words)) is not None]
    gaps = [line.gap for line, _ in present[1:]]
    room = blank.band.height - sum(gaps)
    most = sum(line.letter_height.max for line, _ in present)
    set_lines = [
        _set(
            line,
            text,
            open_font(line.font, line.weight, beside),
            face.usable_width,
            max(0.0, room * line.letter_height.max / most),
        )
        for line, text in present
    ]
    heights = [set_line.block.box.height * set_line.letter_height for set_line in set_lines]
    top = blank.band.middle + (sum(heights) + sum(gaps)) / 2
    placed = []
    for at, (set_line, height) in enumerate(zip(set_lines, heights, strict=True)):
        placed.append(set_line.placed(face.centre, top, blank.height))
        top -= height + (gaps[at] if at < len(gaps) else 0.0)
    return Composition(side, face, blank.circumference, blank.height, tuple(placed))


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
    line: Line
    font: Font
    block: _Block
    fitting_height: float
    room: tuple[float, float]
    ways_out: tuple[WayOut, ...]

    @property
    def letter_height(self) -> float:
        """The letter height that it is drawn at: the least allowed where it does not fit."""
        return max(self.fitting_height, self.line.letter_height.min)

    def placed(self, centre: float, top: float, wall: float) -> Placed:
        """Return the line with its ink centred on ``s = centre`` and hanging from ``z = top``."""
        block, height = self.block, self.letter_height
        ink = block.box
        dx = centre - (ink.left + ink.right) / 2 * height
        dz = top - ink.high * height
        box = Box(
            ink.left * height + dx, ink.low * height + dz,
            ink.right * height + dx, ink.high * height + dz,
        )  # fmt: skip
        fields = fields_of(self.line.text)
        return Placed(
            field=fields[0] if fields else None,
            rows=block.rows,
            font=self.font.name,
            letter_height=height,
            fitting_height=self.fitting_height,
            least=self.line.letter_height.min,
            box=box,
            outline=block.outline.moved(height, True, dx, wall - dz),
            missing=tuple(dict.fromkeys(char for row in block.lettering for char in row.missing)),
            sound=all(lettering.sound for lettering in block.lettering),
            room_width=self.room[0],
            room_height=self.room[1],
            ways_out=self.ways_out,
        )


def _set(line: Line, text: str, font: Font, width: float, height: float) -> _SetLine:
    """Set a text on one row if it fits, else on two where the line allows it."""

    def fitting(block: _Block) -> float:
        box = block.box
        return largest_letter_height(box.width, box.height, width, height, line.letter_height.max)

    def on_one(words: str) -> tuple[float, _Block]:
        block = _block(font, (words,))
        return fitting(block), block

    def on_two(words: str) -> tuple[float, _Block]:
        found = [(fitting(block), block) for block in (_block(font, r) for r in _breaks(words))]
        return max(found, key=lambda pair: pair[0], default=(0.0, _block(font, (words,))))

    room, least = (width, height), line.letter_height.min
    as_one, one = on_one(text)
    if as_one >= least:
        return _SetLine(line, font, one, as_one, room, ())
    as_two, two = on_two(text)
    if line.lines == 2 and as_two >= least:
        return _SetLine(line, font, two, as_two, room, ())
    ways: list[WayOut] = []
    if line.lines == 2 and as_two > as_one:
        ways.append(WayOut("on one line", as_one))
        best, block = as_two, two
    else:
        if as_two > 0:
            ways.append(WayOut("on two lines", as_two))
        best, block = as_one, one
    for words, less in _shorter(text) if "name" in fields_of(line.text) else ():
        shorter, shorter_two = on_one(less)[0], on_two(less)[0] if line.lines == 2 else 0.0
        if shorter_two > shorter:
            ways.append(WayOut(f"{words}, on two lines", shorter_two))
        else:
            ways.append(WayOut(words, shorter))
    return _SetLine(line, font, block, best, room, tuple(ways))


def _block(font: Font, rows: tuple[str, ...]) -> _Block:
    """Return rows centred over each other by their ink, in letter heights."""
    lettering = tuple(letter(font, row) for row in rows)
    outlines: list[Outline] = []
    baseline = 0.0
    above: Box | None = None
    for row in lettering:
        scale = 1 / row.letter_height
        box = Box(*(edge * scale for edge in row.box))
        if above is not None:
            baseline = min(baseline - LEADING, above.low - ROW_CLEARANCE - box.high)
        outlines.append(row.outline.moved(scale, False, -(box.left + box.right) / 2, baseline))
        above = outlines[-1].box
    return _Block(rows, joined(outlines), lettering)


def _breaks(text: str) -> Iterator[tuple[str, str]]:
    """Yield the ways to part a text in two, at blanks and after hyphens, the most even first.

    Only the few most even ones are worth measuring: rows share one letter height, so the longer
    one decides it.
    """
    ways = [
        (text[: match.start()], text[match.end() :])
        for match in re.finditer(r"(?<=\S) (?=\S)|(?<=\w[-‐])(?=\w)", text)
    ]
    yield from sorted(ways, key=lambda rows: abs(len(rows[0]) - len(rows[1])))[:_MOST_BREAKS]


def _shorter(text: str) -> Iterator[tuple[str, str]]:
    """Return shorter forms of a name that its owner might accept, in words and as text."""
    words = text.split()
    if len(words) > 2:
        plural = "s" if len(words) > 3 else ""
        yield f"without the middle name{plural}", f"{words[0]} {words[-1]}"
    if len(words) > 1:
        yield "with an initial", f"{words[0][0]}. {words[-1]}"
        yield "as the first name alone", words[0]
