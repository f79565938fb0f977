"""Findings about lines as they are set: what does not fit, what the font lacks."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from mailmerge.artwork import Composition, Placed
from mailmerge.findings import Finding, Severity, shown
from mailmerge.guests import Guest
from mailmerge.units import format_mm

_NAMED = 12
"""So many missing characters are named."""


def check_lines(guest: Guest, composition: Composition) -> Iterator[Finding]:
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
        if not line.fits:
            yield _too_long(line)
        elif len(line.rows) > 1:
            yield Finding(
                "on-two-lines",
                Severity.NOTE,
                line.field,
                f"set on two lines: {' / '.join(line.rows)}",
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
    if guest.name and not any(line.outline for line in composition.lines):
        yield Finding(
            "nothing-to-engrave",
            Severity.STOP,
            None,
            "no line of the layout holds anything for this guest",
            "Fill the columns that the layout uses, or take another layout.",
        )


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
        "Take a layout whose font has it, or ask how its owner writes the name in the letters "
        "at hand.",
    )


def _named(char: str, in_full: bool) -> str:
    """Return a character with its code point, and with its Unicode name where there is room."""
    name = f" {unicodedata.name(char, 'unnamed')}" if in_full else ""
    return f"{char} (U+{ord(char):04X}{name})"


def _too_long(line: Placed) -> Finding:
    field = line.field or "line"
    field_word = field.removeprefix("order.")
    by_width = line.room_width
    ways = "; ".join(f"{way.words} {format_mm(way.letter_height)}" for way in line.ways_out)
    two = ", allow two lines" if any("two" in way.words for way in line.ways_out) else ""
    as_set = f" on {len(line.rows)} lines" if len(line.rows) > 1 else ""
    return Finding(
        f"{field_word}-too-long",
        Severity.STOP,
        line.field,
        f"{shown(line.text)}{as_set} fits at {format_mm(line.fitting_height)} letter height, the "
        f"least is {format_mm(line.least)}; {format_mm(by_width)} wide and "
        f"{format_mm(line.room_height)} high is there for it",
        (f"It would be {ways}. " if ways else "")
        + f"Ask for a shorter form{two}, or take a narrower font or a smaller least letter height.",
    )
