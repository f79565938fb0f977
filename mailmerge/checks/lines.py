"""Findings about lines as they are set: what does not fit, what the font lacks."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from mailmerge.artwork import Composition, Placed
from mailmerge.artwork.compose import Inked
from mailmerge.artwork.pieces import Piece
from mailmerge.artwork.svg import named
from mailmerge.blanks import Blank, Edge, Face, Zone, edges_of, zone_at
from mailmerge.checks import words
from mailmerge.findings import Finding, Severity, shown
from mailmerge.guests import Guest
from mailmerge.lettering import Box
from mailmerge.lettering.flat import polygons
from mailmerge.lettering.outline import Points

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
        zone = zone_at(blank, angle, without_room[angle])
        advice = words.another_height if zone.goes_around else words.another_face
        yield Finding(
            "face-on-handle",
            Severity.STOP,
            "side",
            words.face_on_zone(angle, zone.word),
            advice(zone.word),
        )
    if without_room:
        return
    for line in composition.lines:
        yield from _missing(line)
        yield from _misplaced_marks(line)
        yield from _lent(line)
        yield from _out_of_set(line)
        yield from _set_apart(line)
        if not line.fits:
            yield _too_long(line)
        elif len(line.rows) > 1:
            yield Finding(
                f"on-{_NUMBERS[len(line.rows)]}-lines",
                Severity.NOTE,
                line.field,
                words.on_rows(line.rows),
                words.LOOK_AT_BREAK,
            )
        if not line.sound:
            yield Finding(
                "weld-unsound",
                Severity.STOP,
                line.field,
                words.not_welded(line.text),
                words.ANOTHER_FONT,
            )
    yield from _overlapping_faces(composition, blank)
    yield from _shrunk_borders(composition)
    yield from _misplaced(composition, blank)
    if guest.name and not composition.lines:
        yield Finding(
            "nothing-to-engrave",
            Severity.STOP,
            None,
            words.NOTHING_TO_ENGRAVE,
            words.FILL_COLUMNS,
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
    pieces: tuple[Piece, ...]
    """Each of its repeats, or the one that it is."""
    line: int | None = None
    """The number of the line that it is or stands around."""


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
                words.outside_band(
                    ink.what, (box.low, box.high), (blank.band.from_, blank.band.to)
                ),
                words.SMALLER_OR_MOVED,
            )
        if not _inside(ink, blank):
            yield Finding(
                "outside-face",
                Severity.STOP,
                ink.field,
                words.wider_than_face(ink.what, box.width, face.usable_width),
                words.SMALLER_DRAWING_OR_LETTERS,
            )
        elif zone := _met(ink, blank):
            yield Finding(
                "outside-face",
                Severity.STOP,
                ink.field,
                words.runs_into_zone(
                    ink.what, zone.word, max(0.0, zone.low), min(blank.height, zone.high)
                ),
                words.ANOTHER_PLACE,
            )
        for other in inks[at + 1 :]:
            is_its_frame = ink.line is not None and ink.line == other.line
            if not is_its_frame and _overlap(ink.span, other.span, blank):
                yield Finding(
                    "lines-overlap",
                    Severity.STOP,
                    ink.field,
                    words.overlap(ink.what, other.what),
                    words.LARGER_GAPS,
                )


def _met(ink: _Ink, blank: Blank) -> Zone | None:
    """Return a zone that ink runs into, the one at the zero apart, which bounds every face."""
    for zone in blank.zones:
        if zone.width and (zone.at or zone.goes_around):
            for piece in ink.pieces:
                if _meets(piece, zone, blank):
                    return zone
    return None


def _meets(piece: Piece, zone: Zone, blank: Blank) -> bool:
    """Whether the bounds of ink lie where a zone is, measured along the wall at its heights."""
    span, box = piece.span, piece.outline.box
    low, high = max(span.low, zone.low) + _SLACK, min(span.high, zone.high) - _SLACK
    if low >= high:
        return False
    turn = (zone.at - piece.angle + 180) % 360 - 180
    for z in (low, high):  # between them everything changes evenly
        around = blank.circumference_at(z)
        middle, scale = turn / 360 * around, around / (piece.around or around)
        if scale * box.left + _SLACK < middle + zone.edge and (
            middle - zone.edge < scale * box.right - _SLACK
        ):
            return True
    return False


def running_off(composition: Composition, blank: Blank) -> Iterator[str]:
    """Yield the names of the artwork's paths whose ink leaves its face."""
    for name, held in named(composition):
        if not _inside(held, blank):
            yield name


def _inside(ink: _Ink | Inked, blank: Blank) -> bool:
    """Whether ink keeps to its face: at each height by itself where the wall is tapered."""
    box, face = ink.box, ink.face
    edges = edges_of(blank, face.angle, face.visible_angle)
    if edges and len(ink.pieces) == 1 and face.visible_angle < 360:
        outline = ink.pieces[0].outline
        if _between(edges, outline.points, blank):  # what holds the curves does
            return True
        flat = polygons(outline, _SLACK / 10)
        return _between(edges, np.concatenate([np.empty((0, 2)), *flat]), blank)
    return box.left >= face.left - _SLACK and box.right <= face.right + _SLACK


def _between(edges: tuple[Edge, ...], points: Points, blank: Blank) -> bool:
    x, z = np.abs(points[:, 0]), blank.height - points[:, 1]
    return all(bool((x <= e.at_base + e.growth * z + _SLACK).all()) for e in edges)


def _inks(composition: Composition) -> list[_Ink]:
    """Return the lines that fit, the ornaments and the borders."""
    inks = [
        _Ink(shown(line.text), line.field, line.box, line.span, line.face, line.pieces, line.number)
        for line in composition.lines
        if line.fits
    ]
    for drawn in composition.ornaments:
        name = words.border(drawn.name) if drawn.is_border else words.ornament(drawn.name)
        inks.append(_Ink(name, None, drawn.box, drawn.span, drawn.face, drawn.pieces, drawn.frames))
    return inks


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
                    words.faces_overlap(
                        (face.angle, other.angle),
                        blank.zero,
                        over,
                        (_texts_of(face.angle, standing), _texts_of(other.angle, standing)),
                    ),
                    words.FACES_APART,
                )


def _shrunk_borders(composition: Composition) -> Iterator[Finding]:
    """Yield the borders that had to be made much smaller to come out even around the cup."""
    for drawn in composition.ornaments:
        if drawn.border_size and drawn.box.height < _LEAST_OF_BORDER * drawn.border_size:
            yield Finding(
                "border-smaller",
                Severity.WARNING,
                None,
                words.border_smaller(
                    drawn.name, drawn.box.height, drawn.border_size, len(drawn.pieces)
                ),
                words.SMALLER_BORDER,
            )


def _heights_of(angle: float, lines: list[Placed]) -> tuple[float, float]:
    own = [line.box for line in lines if line.face.angle == angle]
    return min(box.low for box in own), max(box.high for box in own)


def _texts_of(angle: float, lines: list[Placed]) -> list[str]:
    return [line.text for line in lines if line.face.angle == angle]


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
    yield Finding(
        "font-lent",
        Severity.NOTE,
        line.field,
        words.letters_lent(line.font, {font: chars[:_NAMED] for font, chars in by_font.items()}),
        words.TWO_FONTS,
    )


def _out_of_set(line: Placed) -> Iterator[Finding]:
    """Say where a name is not set as its set is, or takes the set down."""
    settled = line.settled
    if settled is None or not line.fits:
        return
    height = settled.letter_height
    if not line.in_set and settled.kept:
        yield Finding(
            "not-at-kept-size",
            Severity.WARNING if line.outliers == "own-size" else Severity.STOP,
            line.field,
            words.not_at_kept_size(line.text, height, line.fitting_height),
            words.shorter_or_smaller(_ways(line)),
        )
    elif not line.in_set and line.outliers == "stop":
        yield Finding(
            "drags-the-set",
            Severity.STOP,
            line.field,
            words.dragging_is_stopped(_drags(line), height),
            words.shorter_or_different(_ways(line)),
        )
    elif not line.in_set:
        yield Finding(
            "drags-the-set",
            Severity.WARNING,
            line.field,
            words.dragging_has_own_size(_drags(line), height, line.letter_height),
            words.shorter_or_different(_ways(line)),
        )
    elif _holds_its_set(line):
        yield Finding(
            "drags-the-set",
            Severity.WARNING,
            line.field,
            words.dragging_holds_set(_drags(line), height),
            words.shorter_or_own_size(_ways(line)),
        )


def _holds_its_set(line: Placed) -> bool:
    settled = line.settled
    return (
        settled is not None
        and settled.outliers > 0
        and line.outliers == "hold-set"
        and line.largest < settled.free
        and not _is_no_member(line)
    )


def _is_no_member(line: Placed) -> bool:
    """Whether its set was settled without it as it is: it lacks letters, or is set differently."""
    has_own_rows = bool(line.own.rows) and line.has_own_rows
    return bool(line.missing) or bool(line.own.font) or has_own_rows


def _set_apart(line: Placed) -> Iterator[Finding]:
    """Say where a cup alone is set differently, and where that is no longer possible."""
    own = line.own
    if not own.says_anything:
        return
    if own.rows and not line.has_own_rows:
        told = words.other_text_than_broken(own.rows, line.text)
    elif own.letter_height and line.letter_height != own.letter_height:
        told = words.own_size_too_large(own.letter_height, line.fitting_height)
    else:
        height = own.letter_height
        told = words.set_differently(line.text, height, own.rows, own.font)
        yield Finding("set-differently", Severity.NOTE, line.field, told, words.BESIDE_OTHERS)
        return
    yield Finding("not-set-so", Severity.WARNING, line.field, told, words.SET_ANEW)


def _drags(line: Placed) -> str:
    settled = line.settled
    assert settled is not None
    if _is_no_member(line):  # no size of the set comes from it
        return words.fits_set_so(line.text, line.fitting_height)
    are_names = line.field in ("name", "first", "last")
    names = words.members(settled.members, are_names, settled.role)
    if settled.outliers == 1:
        return words.drags_alone(line.text, names, settled.free, settled.held)
    return words.drags_with_others(line.text, settled.outliers, names, settled.free, settled.held)


def _ways(line: Placed) -> list[str]:
    """Return what else one could do, with the letter heights that it would give."""
    wanted = line.settled.letter_height if line.settled else line.least
    return [
        words.way_in_set(way.words, way.letter_height, way.letter_height >= wanted)
        for way in line.ways_out
        if way.letter_height > 0
    ]


def _missing(line: Placed) -> Iterator[Finding]:
    if not line.missing:
        return
    named = [_named(char, len(line.missing) <= 2) for char in line.missing[:_NAMED]]
    yield Finding(
        "letter-missing",
        Severity.STOP,
        line.field,
        words.letters_missing(line.font, named, len(line.missing) - _NAMED),
        words.FIND_THE_LETTER,
    )


def _misplaced_marks(line: Placed) -> Iterator[Finding]:
    if line.misplaced:
        yield Finding(
            "mark-misplaced",
            Severity.STOP,
            line.field,
            words.marks_misplaced(line.font, line.misplaced[:_NAMED]),
            words.FIND_THE_LETTER,
        )


def _named(char: str, in_full: bool) -> str:
    """Return a character with its code point, and with its Unicode name where there is room."""
    name = unicodedata.name(char, "unnamed") if in_full else ""
    return words.letter(char, "" if f"{ord(char):04X}" in name else name)


def _too_long(line: Placed) -> Finding:
    field = (line.field or "line").removeprefix("order.")
    ways = [
        (words.way if way.letter_height >= line.least else words.way_too_small)(
            way.words, way.letter_height
        )
        for way in line.ways_out
    ]
    return Finding(
        f"{field}-too-long",
        Severity.STOP,
        line.field,
        words.text_too_long(
            line.text,
            len(line.rows),
            line.fitting_height,
            line.least,
            (line.room_width, line.room_height),
        ),
        words.shorter_or_another_layout(ways),
    )
