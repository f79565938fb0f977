"""Findings about what the beam can engrave and an eye can read."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from mailmerge.artwork import Composition, Placed
from mailmerge.checks import words
from mailmerge.findings import Finding, Severity
from mailmerge.lettering import Measured, connects
from mailmerge.machines import Machine

SAFE_SPOTS = 2
"""Strokes and gaps under this many spots come out uneven. Common practice, without a source."""

LEAST_ARC_MINUTES = 16
"""Smallest angle under which a letter is read: ISO 9241-303 and ANSI/HFES 100, from memory."""

ARMS_LENGTH = 500.0
"""Millimetres from eye to cup."""

LEAST_SMALL_LETTER = ARMS_LENGTH * math.tan(math.radians(LEAST_ARC_MINUTES / 60))
"""2.3 mm."""


def check_beam(composition: Composition, machine: Machine) -> Iterator[Finding]:
    """Yield what is too fine for the machine's spot, or too small to be read."""
    for line in composition.lines:
        if line.fits:
            yield from _fine(line, machine)
            yield from _small(line)
    said: set[tuple[str, str]] = set()
    for drawing in composition.ornaments:
        for what, width in (("stroke", drawing.stroke), ("gap", drawing.gap)):
            if width is not None and (severity := _severity(width, machine)):
                stop = severity is Severity.STOP
                code = f"{what}-too-fine" if stop else f"{what}-fine"
                say = words.drawing_too_fine if stop else words.drawing_fine
                kind = "border" if drawing.is_border else "ornament"
                text = say(kind, drawing.name, what, width, machine.spot)
                if (code, text[0]) not in said:  # beside a line it stands twice
                    yield Finding(code, severity, None, *text)
                said.add((code, text[0]))


def close_letters(line: Placed, machine: Machine) -> tuple[str, ...]:
    """Return where letters of a line may grow together: two letters, or one that has a fine gap.

    That is a look, and no fault: they are read as they are. Once an order it is pointed out.
    """
    if not line.fits:
        return ()
    found = []
    if line.between and _severity(line.between.width, machine):
        found.append(line.between.letters)
    if line.gap and _is_look(line.gap, machine):
        found.append(line.gap.letters)
    return tuple(found)


def _is_look(gap: Measured, machine: Machine) -> bool:
    """Whether a gap is one of its font's letter, and may fill in: on every cup that has it."""
    return len(gap.letters) == 1 and _severity(gap.width, machine) is Severity.WARNING


def check_close_letters(places: Iterable[str]) -> Iterator[Finding]:
    """Yield one note about all letters of an order that may grow together."""
    if found := sorted(set(places), key=lambda place: (-len(place), place)):
        text = words.letters_close(found[:_PLACES], len(found) - _PLACES)
        yield Finding("letters-close", Severity.NOTE, None, *text)


_PLACES = 12
"""So many of them are named."""


def _severity(width: float, machine: Machine) -> Severity | None:
    # Half a hundredth is what a width is rounded by where it is shown.
    if width < machine.spot - 0.005:
        return Severity.STOP
    return Severity.WARNING if width < SAFE_SPOTS * machine.spot - 0.005 else None


def _fine(line: Placed, machine: Machine) -> Iterator[Finding]:
    field, spot = line.field, machine.spot
    if line.stroke and (severity := _severity(line.stroke.width, machine)):
        say = words.stroke_too_fine if severity is Severity.STOP else words.stroke_fine
        if len(line.stroke.letters) == 2 and not connects(line.style.font):
            severity = Severity.WARNING  # letters that stand apart may part again
        yield Finding(
            "stroke-too-fine" if severity is Severity.STOP else "stroke-fine",
            severity,
            field,
            say(line.text, line.stroke.letters, line.stroke.width, spot),
            _stronger(line, machine),
        )
    if (
        line.gap
        and not _is_look(line.gap, machine)
        and (severity := _severity(line.gap.width, machine))
    ):
        say = words.gap_too_fine if severity is Severity.STOP else words.gap_fine
        if len(line.gap.letters) == 2 and connects(line.style.font):
            severity = Severity.WARNING  # letters that are made to touch may touch
        yield Finding(
            "gap-too-fine" if severity is Severity.STOP else "gap-fine",
            severity,
            field,
            say(line.text, line.gap.letters, line.gap.width, spot),
            _wider(line),
        )


def _wider(line: Placed) -> str:
    """Return what widens a gap; letters that connect cannot be set apart."""
    if line.strengthen:
        return words.WIDER_STRENGTHENED
    return words.WIDER_CONNECTED if connects(line.style.font) else words.WIDER


def _stronger(line: Placed, machine: Machine) -> str:
    """Return what would make a stroke safe, and what that does to the gaps."""
    assert line.stroke is not None
    wanted = SAFE_SPOTS * machine.spot
    more = math.ceil((wanted - line.stroke.width) / 2 * 100 - 1e-9) / 100
    value = line.strengthen + more
    if line.gap is None:
        return words.strengthen(value, wanted)
    left = max(0.0, line.gap.width - 2 * more)
    say = words.strengthen_fills_gap if left < machine.spot else words.strengthen_beside_gap
    return say(value, wanted, left)


def _small(line: Placed) -> Iterator[Finding]:
    height = line.small_letter_height or line.letter_height
    if height >= LEAST_SMALL_LETTER - 0.005:
        return
    say, advise = words.hard_to_read, words.larger_or_capitals
    if line.small_letter_height is None:
        say, advise = words.hard_to_read_without_small, words.larger
    wanted = line.letter_height * LEAST_SMALL_LETTER / height
    minutes = math.degrees(math.atan(height / ARMS_LENGTH)) * 60
    yield Finding(
        "hard-to-read",
        Severity.WARNING,
        line.field,
        say(line.text, height, ARMS_LENGTH, minutes, LEAST_ARC_MINUTES, LEAST_SMALL_LETTER),
        advise(math.ceil(wanted * 10) / 10),
    )
