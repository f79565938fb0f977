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
    if guest.name and not composition.lines:
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
