"""Findings about what the beam can engrave and an eye can read."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mailmerge.artwork import Composition, Placed
from mailmerge.findings import Finding, Severity, shown
from mailmerge.lettering import connects
from mailmerge.machines import Machine
from mailmerge.units import format_mm

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
                code = f"{what}-too-fine" if severity is Severity.STOP else f"{what}-fine"
                kind = "border" if drawing.is_border else "ornament"
                message = (
                    f"the {kind} {shown(drawing.name)} has a {what} of {format_mm(width, 2)}, "
                    f"{_than_spot(width, machine)}"
                )
                if (code, message) not in said:  # beside a line it stands twice
                    yield Finding(
                        code,
                        severity,
                        None,
                        message,
                        "Make it larger in the layout, or draw it with less detail.",
                    )
                said.add((code, message))


def _severity(width: float, machine: Machine) -> Severity | None:
    # Half a hundredth is what a width is rounded by where it is shown.
    if width < machine.spot - 0.005:
        return Severity.STOP
    return Severity.WARNING if width < SAFE_SPOTS * machine.spot - 0.005 else None


def _than_spot(width: float, machine: Machine) -> str:
    spot = format_mm(machine.spot, 2)
    if _severity(width, machine) is Severity.STOP:
        return f"finer than the beam's spot of {spot}"
    return f"less than two spots of {spot}"


def _fine(line: Placed, machine: Machine) -> Iterator[Finding]:
    field = line.field
    if line.stroke and (severity := _severity(line.stroke.width, machine)):
        if len(line.stroke.letters) == 2 and not connects(line.style.font):
            severity = Severity.WARNING  # letters that stand apart may part again
        stop = severity is Severity.STOP
        yield Finding(
            "stroke-too-fine" if stop else "stroke-fine",
            severity,
            field,
            f"the narrowest stroke of {shown(line.text)}{_in(line.stroke.letters)} is "
            f"{format_mm(line.stroke.width, 2)} wide, {_than_spot(line.stroke.width, machine)}",
            _stronger(line, machine),
        )
    if line.gap and (severity := _severity(line.gap.width, machine)):
        sure = severity is Severity.STOP
        if len(line.gap.letters) == 2 and connects(line.style.font):
            severity = Severity.WARNING  # letters that are made to touch may touch
        stop = severity is Severity.STOP
        named = _in(line.gap.letters)
        yield Finding(
            "gap-too-fine" if stop else "gap-fine",
            severity,
            field,
            f"the narrowest gap of {shown(line.text)}{named} is "
            f"{format_mm(line.gap.width, 2)} wide, {_than_spot(line.gap.width, machine)}: "
            + ("it will fill in" if sure else "it may fill in"),
            _wider(line),
        )


def _wider(line: Placed) -> str:
    """Return what widens a gap; letters that connect cannot be set apart."""
    if line.strengthen:
        return "Take larger letters, a wider font, or less strengthening."
    if connects(line.style.font):
        return "Take larger letters, or a wider font."
    return "Take larger letters, a wider font, or some tracking."


def _in(letters: str) -> str:
    """Return where a narrow place is, in words."""
    if not letters:
        return ""
    if len(letters) == 2:
        return f", between {letters[0]} and {letters[1]},"
    return f", in the {letters},"


def _stronger(line: Placed, machine: Machine) -> str:
    """Return what would make a stroke safe, and what that does to the gaps."""
    assert line.stroke is not None
    wanted = SAFE_SPOTS * machine.spot
    more = math.ceil((wanted - line.stroke.width) / 2 * 100 - 1e-9) / 100
    value = line.strengthen + more
    text = f'strengthen = "{format_mm(value, 2)}" on this line makes it {format_mm(wanted, 2)}'
    if line.gap is None:
        return f"{text}. Or take larger letters or a bolder font."
    left = max(0.0, line.gap.width - 2 * more)
    text += f" and leaves {format_mm(left, 2)} of the narrowest gap"
    if left < machine.spot:
        return f"Take larger letters or a bolder font; {text}, which fills in."
    return f"{text}. Or take larger letters or a bolder font."


def _small(line: Placed) -> Iterator[Finding]:
    height = line.small_letter_height or line.letter_height
    if height >= LEAST_SMALL_LETTER - 0.005:
        return
    what, otherwise = "small letters", ", or capitals"
    if line.small_letter_height is None:
        what, otherwise = "letters", ""
    wanted = line.letter_height * LEAST_SMALL_LETTER / height
    minutes = math.degrees(math.atan(height / ARMS_LENGTH)) * 60
    yield Finding(
        "hard-to-read",
        Severity.WARNING,
        line.field,
        f"the {what} of {shown(line.text)} are {format_mm(height, 2)} high, at arm's length "
        f"({ARMS_LENGTH:g} mm) {minutes:.0f} minutes of arc; people read from "
        f"{LEAST_ARC_MINUTES} ({format_mm(LEAST_SMALL_LETTER, 2)})",
        f"A letter height of {format_mm(math.ceil(wanted * 10) / 10)} would do{otherwise}.",
    )
