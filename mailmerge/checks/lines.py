"""Findings about lines as they are set: what does not fit, what the font lacks."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from typing import NamedTuple

from mailmerge.artwork import Composition, Placed
from mailmerge.artwork.compose import Inked
from mailmerge.artwork.svg import named
from mailmerge.blanks import Blank, Face, Zone, zone_at
from mailmerge.findings import Finding, Severity, shown
from mailmerge.guests import Guest
from mailmerge.lettering import Box
from mailmerge.units import format_mm

_NAMED = 12
"""So many missing characters are named."""


def check_lines(guest: Guest, composition: Composition, blank: Blank) -> Iterator[Finding]:
    """Yield what is to be said about the lines of one item."""
    without_room = {
        line.face.angle: (line.box.low, line.box.high)
        for line in composition.lines
        if not line.on_ring and line.face.usable_width <= 0
    }
    for angle in (face.angle for face in composition.faces if face.angle in without_room):
        word = zone_at(blank, angle, without_room[angle]).word
        yield Finding(
            "face-on-handle",
            Severity.STOP,
            "side",
            f"the face at {angle:g}° lies on the {word}, and nothing is left of it",
            f"Choose another face: drinker, onlookers, opposite, or an angle away from the {word}.",
        )
    if without_room:
        return
    for line in composition.lines:
        yield from _missing(line)
        yield from _lent(line)
        yield from _out_of_set(line)
        if not line.fits:
            yield _too_long(line)
        elif len(line.rows) > 1:
            yield Finding(
                f"on-{_NUMBERS[len(line.rows)]}-lines",
                Severity.NOTE,
                line.field,
                f"set on {_NUMBERS[len(line.rows)]} lines: {' / '.join(line.rows)}",
                "Look at the proof: the break should fall where its owner would put it.",
            )
        if not line.sound:
            yield Finding(
                "weld-unsound",
                Severity.STOP,
                line.field,
                f"the letters of {shown(line.text)} could not be welded into one outline",
                "Take another font for this layout, or type the text again without piled-up marks.",
            )
    yield from _overlapping_faces(composition, blank)
    yield from _shrunk_borders(composition)
    yield from _misplaced(composition, blank)
    if guest.name and not composition.lines:
        yield Finding(
            "nothing-to-engrave",
            Severity.STOP,
            None,
            "no line of the layout holds anything for this guest",
            "Fill the columns that the layout uses, or take another layout.",
        )


_NUMBERS = {2: "two", 3: "three"}

_LEAST_OF_BORDER = 0.85
"""A border may be so much smaller than it was asked for. Own judgement."""

_SLACK = 0.01
"""Millimetres; path data is rounded to a micrometre."""


class _Ink(NamedTuple):
    """Something that is engraved: where it stands and where it may."""

    what: str
    field: str | None
    box: Box
    span: Box
    face: Face
    pieces: tuple[Box, ...]
    """The bounds of each of its repeats, as ``span`` those of all."""


def _misplaced(composition: Composition, blank: Blank) -> Iterator[Finding]:
    """Yield what leaves its face, its ring or the band, or runs into something else."""
    inks = _inks(composition)
    for at, ink in enumerate(inks):
        box, face = ink.box, ink.face
        if box.low < blank.band.from_ - _SLACK or box.high > blank.band.to + _SLACK:
            yield Finding(
                "outside-band",
                Severity.STOP,
                ink.field,
                f"{ink.what} reaches from {format_mm(box.low)} to {format_mm(box.high)} above "
                f"the base, the band goes from {format_mm(blank.band.from_)} to "
                f"{format_mm(blank.band.to)}",
                "Take smaller letters, drawings or gaps in the layout, or move the ring.",
            )
        if not _inside(box, face):
            yield Finding(
                "outside-face",
                Severity.STOP,
                ink.field,
                f"{ink.what} is {format_mm(box.width)} wide, "
                f"{format_mm(face.usable_width)} are there for it",
                "Take a smaller drawing or smaller letters in the layout.",
            )
        elif zone := _met(ink, blank):
            yield Finding(
                "outside-face",
                Severity.STOP,
                ink.field,
                f"{ink.what} runs into the {zone.word}, which is kept free from "
                f"{format_mm(max(0.0, zone.low))} to {format_mm(min(blank.height, zone.high))} "
                f"above the base",
                "Move it to another height or face, or take smaller letters in the layout.",
            )
        for other in inks[at + 1 :]:
            if _overlap(ink.span, other.span, blank):
                yield Finding(
                    "lines-overlap",
                    Severity.STOP,
                    ink.field,
                    f"{ink.what} and {other.what} overlap",
                    "Take larger gaps or smaller letters in the layout, or move the ring.",
                )


def _met(ink: _Ink, blank: Blank) -> Zone | None:
    """Return a zone that ink runs into, the one at the zero apart, which bounds every face."""
    for zone in blank.zones:
        if zone.width and (zone.at or zone.goes_around):
            for span in ink.pieces:
                low, high = span.low + _SLACK, span.high - _SLACK
                around = min(blank.circumference_at(z) for z in (low, high))
                middle, half = blank.page_width * zone.at / 360, blank.page_width / around
                kept = Box(
                    middle - half * zone.edge, zone.low, middle + half * zone.edge, zone.high
                )
                if zone.is_within(low, high) and _overlap(span, kept, blank):
                    return zone
    return None


def running_off(composition: Composition) -> Iterator[str]:
    """Yield the names of the artwork's paths whose ink leaves its face."""
    for name, held in named(composition):
        if not _inside(held.box, held.face):
            yield name


def _inside(box: Box, face: Face) -> bool:
    return box.left >= face.left - _SLACK and box.right <= face.right + _SLACK


def _inks(composition: Composition) -> list[_Ink]:
    """Return the lines that fit, the ornaments and the borders."""
    inks = [
        _Ink(shown(line.text), line.field, line.box, line.span, line.face, _spans(line))
        for line in composition.lines
        if line.fits
    ]
    for drawn in composition.ornaments:
        what = "border" if drawn.is_border else "ornament"
        name = f"the {what} {shown(drawn.name)}"
        inks.append(_Ink(name, None, drawn.box, drawn.span, drawn.face, _spans(drawn)))
    return inks


def _spans(inked: Inked) -> tuple[Box, ...]:
    return tuple(piece.span for piece in inked.pieces)


def _overlapping_faces(composition: Composition, blank: Blank) -> Iterator[Finding]:
    """Yield the faces that share a part of the wall at a height where both hold something.

    Centres lie apart by an angle, so that faces come closest where the wall is narrowest.
    """
    standing = [line for line in composition.lines if not line.on_ring]
    for at, face in enumerate(composition.faces):
        for other in composition.faces[at + 1 :]:
            heights = [_heights_of(each.angle, standing) for each in (face, other)]
            low, high = max(h[0] for h in heights), min(h[1] for h in heights)
            if low >= high:
                continue
            around = min(blank.circumference_at(low), blank.circumference_at(high))
            apart = abs(face.angle - other.angle)
            between = around * min(apart, 360 - apart) / 360
            over = (face.usable_width + other.usable_width) / 2 - between
            if over > _SLACK:
                yield Finding(
                    "faces-overlap",
                    Severity.STOP,
                    None,
                    f"the faces at {face.angle:g}° and {other.angle:g}° from the {blank.zero} "
                    f"overlap by {format_mm(over)}: {_texts_of(face.angle, standing)} and "
                    f"{_texts_of(other.angle, standing)}",
                    "Move one of them, give its line a height of its own, or take a smaller "
                    "visible_angle in the layout.",
                )


def _shrunk_borders(composition: Composition) -> Iterator[Finding]:
    """Yield the borders that had to be made much smaller to come out even around the cup."""
    for drawn in composition.ornaments:
        if drawn.border_size and drawn.box.height < _LEAST_OF_BORDER * drawn.border_size:
            yield Finding(
                "border-smaller",
                Severity.WARNING,
                None,
                f"the border {shown(drawn.name)} is {format_mm(drawn.box.height)} high instead of "
                f"{format_mm(drawn.border_size)}, so that {len(drawn.pieces)} of it come out even",
                "Take a smaller size, of which more go around, or a gap.",
            )


def _heights_of(angle: float, lines: list[Placed]) -> tuple[float, float]:
    own = [line.box for line in lines if line.face.angle == angle]
    return min(box.low for box in own), max(box.high for box in own)


def _texts_of(angle: float, lines: list[Placed]) -> str:
    return ", ".join(shown(line.text) for line in lines if line.face.angle == angle)


def _overlap(a: Box, b: Box, blank: Blank) -> bool:
    """Whether two spans overlap on the wall, which closes: one of them may reach over the seam."""
    if a.low >= b.high - _SLACK or b.low >= a.high - _SLACK:
        return False
    turns = (0.0,) if blank.is_flat else (0.0, blank.page_width, -blank.page_width)
    return any(
        a.left + turn < b.right - _SLACK and b.left < a.right + turn - _SLACK for turn in turns
    )


def _lent(line: Placed) -> Iterator[Finding]:
    if not line.lent:
        return
    by_font: dict[str, list[str]] = {}
    for char, font in line.lent:
        by_font.setdefault(font, []).append(char)
    listed = "; ".join(f"{font} for {' '.join(chars[:_NAMED])}" for font, chars in by_font.items())
    yield Finding(
        "font-lent",
        Severity.NOTE,
        line.field,
        f"another font than {line.font} had to be taken: {listed}",
        "Look at the proof: the letters of two fonts stand side by side.",
    )


def _out_of_set(line: Placed) -> Iterator[Finding]:
    """Say where a name is not set as its set is, or takes the set down."""
    settled = line.settled
    if settled is None or not line.fits:
        return
    height = format_mm(settled.letter_height, 2)
    if not line.in_set and settled.kept:
        yield Finding(
            "not-at-kept-size",
            Severity.WARNING if line.outliers == "own-size" else Severity.STOP,
            line.field,
            f"{shown(line.text)} does not fit at {height}, the letter height of the cups that are "
            f"engraved already; it fits at {format_mm(line.fitting_height, 2)}",
            _ways(line) + "Ask for a shorter form, or engrave it smaller than the others.",
        )
    elif not line.in_set:
        stop = line.outliers == "stop"
        yield Finding(
            "drags-the-set",
            Severity.STOP if stop else Severity.WARNING,
            line.field,
            f"{_drags(line)}; the set has {height}"
            + ("" if stop else f", this one its own size, {format_mm(line.letter_height, 2)}"),
            _ways(line) + "Ask for a shorter form, or let it differ from the others.",
        )
    elif settled.outliers and line.outliers == "hold-set" and line.largest < settled.free:
        yield Finding(
            "drags-the-set",
            Severity.WARNING,
            line.field,
            f"{_drags(line)}; all are set at {height}",
            _ways(line) + 'Ask for a shorter form, or set outliers = "own-size" in the layout.',
        )


def _drags(line: Placed) -> str:
    settled = line.settled
    assert settled is not None
    names = "names" if line.field in ("name", "first", "last") else "texts"
    one = settled.outliers == 1
    of_role = f" of the role {shown(settled.role)}" if settled.role else ""
    return (
        f"{shown(line.text)} is {'the one' if one else f'one of {settled.outliers}'} of "
        f"{settled.members} {names}{of_role} that {'takes' if one else 'take'} the set from "
        f"{format_mm(settled.free, 2)} to {format_mm(settled.held, 2)}"
    )


def _ways(line: Placed) -> str:
    """Return what else one could do, with the letter heights that it would give."""
    wanted = line.settled.letter_height if line.settled else line.least
    ways = "; ".join(
        f"{way.words} {format_mm(way.letter_height, 2)}"
        + (" (fits the set)" if way.letter_height >= wanted else "")
        for way in line.ways_out
        if way.letter_height > 0
    )
    return f"It would be: {ways}. " if ways else ""


def _missing(line: Placed) -> Iterator[Finding]:
    if not line.missing:
        return
    named = ", ".join(_named(char, len(line.missing) <= 2) for char in line.missing[:_NAMED])
    more = f" and {len(line.missing) - _NAMED} more" if len(line.missing) > _NAMED else ""
    yield Finding(
        "letter-missing",
        Severity.STOP,
        line.field,
        f"the font {line.font} has no letter for {named}{more}",
        "Name a font that has it as fallback in the layout, take a layout whose font has it, or "
        "ask how its owner writes the name in the letters at hand.",
    )


def _named(char: str, in_full: bool) -> str:
    """Return a character with its code point, and with its Unicode name where there is room."""
    name = unicodedata.name(char, "unnamed") if in_full else ""
    name = f" {name}" if name and f"{ord(char):04X}" not in name else ""
    return f"{char} (U+{ord(char):04X}{name})"


def _too_long(line: Placed) -> Finding:
    field = (line.field or "line").removeprefix("order.")
    ways = "; ".join(
        f"{way.words} {format_mm(way.letter_height)}"
        + ("" if way.letter_height >= line.least else " (too small)")
        for way in line.ways_out
    )
    as_set = f" on {len(line.rows)} lines" if len(line.rows) > 1 else ""
    return Finding(
        f"{field}-too-long",
        Severity.STOP,
        line.field,
        f"{shown(line.text, 120)}{as_set} fits at {format_mm(line.fitting_height)} letter height, "
        f"the least is {format_mm(line.least)}; {format_mm(line.room_width)} wide and "
        f"{format_mm(line.room_height)} high is there for it",
        (f"It would be: {ways}. " if ways else "")
        + "Ask for a shorter form, or take a layout with a narrower font, more lines or a smaller "
        "least letter height.",
    )
