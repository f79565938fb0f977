"""Findings about lines as they are set: what does not fit, what the font lacks."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from typing import NamedTuple

from mailmerge.artwork import Composition, Placed
from mailmerge.blanks import Blank
from mailmerge.findings import Finding, Severity, shown
from mailmerge.guests import Guest
from mailmerge.lettering import Box
from mailmerge.units import format_mm

_NAMED = 12
"""So many missing characters are named."""


def check_lines(guest: Guest, composition: Composition, blank: Blank) -> Iterator[Finding]:
    """Yield what is to be said about the lines of one item."""
    if composition.face.usable_width <= 0:
        yield Finding(
            "face-on-handle",
            Severity.STOP,
            "side",
            f"the face at {composition.face.angle:g}° lies on the handle zone",
            "Choose another face: drinker, onlookers, opposite, or an angle away from the handle.",
        )
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

_SLACK = 0.01
"""Millimetres; path data is rounded to a micrometre."""


class _Piece(NamedTuple):
    """Something that is engraved: where it stands and where it may."""

    what: str
    field: str | None
    box: Box
    left: float
    right: float


def _misplaced(composition: Composition, blank: Blank) -> Iterator[Finding]:
    """Yield what leaves its face, its ring or the band, or runs into something else."""
    pieces = _pieces(composition, blank)
    for at, piece in enumerate(pieces):
        box = piece.box
        if box.low < blank.band.from_ - _SLACK or box.high > blank.band.to + _SLACK:
            yield Finding(
                "outside-band",
                Severity.STOP,
                piece.field,
                f"{piece.what} reaches from {format_mm(box.low)} to {format_mm(box.high)} above "
                f"the base, the band goes from {format_mm(blank.band.from_)} to "
                f"{format_mm(blank.band.to)}",
                "Take smaller letters, drawings or gaps in the layout, or move the ring.",
            )
        if box.left < piece.left - _SLACK or box.right > piece.right + _SLACK:
            yield Finding(
                "outside-face",
                Severity.STOP,
                piece.field,
                f"{piece.what} is {format_mm(box.width)} wide, "
                f"{format_mm(piece.right - piece.left)} are there for it",
                "Take a smaller drawing or smaller letters in the layout.",
            )
        for other in pieces[at + 1 :]:
            if _overlap(box, other.box):
                yield Finding(
                    "lines-overlap",
                    Severity.STOP,
                    piece.field,
                    f"{piece.what} and {other.what} overlap",
                    "Take larger gaps or smaller letters in the layout, or move the ring.",
                )


def _pieces(composition: Composition, blank: Blank) -> list[_Piece]:
    """Return the lines that fit, and the ornaments, with the room from side to side of each."""
    face = (composition.face.left, composition.face.right)
    around = (blank.handle_edge, blank.circumference - blank.handle_edge)
    pieces = [
        _Piece(shown(line.text), line.field, line.box, *(around if line.on_ring else face))
        for line in composition.lines
        if line.fits
    ]
    for drawn in composition.ornaments:
        left, top, right, bottom = drawn.outline.box  # the page runs down from the mouth
        box = Box(left, blank.height - bottom, right, blank.height - top)
        pieces.append(_Piece(f"the ornament {shown(drawn.name)}", None, box, *face))
    return pieces


def _overlap(a: Box, b: Box) -> bool:
    return (
        a.left < b.right - _SLACK and b.left < a.right - _SLACK
        and a.low < b.high - _SLACK and b.low < a.high - _SLACK
    )  # fmt: skip


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
