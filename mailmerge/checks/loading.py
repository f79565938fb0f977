"""Findings about the machine: what it cannot hold or reach, and what would run into its head."""

from __future__ import annotations

from collections.abc import Iterator

from mailmerge.artwork import Composition
from mailmerge.blanks import Blank
from mailmerge.checks import words
from mailmerge.findings import Finding, Severity
from mailmerge.lettering import Box
from mailmerge.machines import Loading, Machine, Rotary, on_the_way

_SLACK = 0.01
"""Millimetres; the page is rounded to a micrometre."""


def check_loading(
    composition: Composition, blank: Blank, machine: Machine, loading: Loading
) -> Iterator[Finding]:
    """Yield what is to be said about one item on its machine."""
    around = [line.text for line in composition.lines if line.on_ring]
    around += [drawn.name for drawn in composition.ornaments if drawn.is_border]
    if blank.is_flat and around:
        yield Finding(
            "nothing-to-go-around",
            Severity.STOP,
            None,
            words.nothing_to_go_around(around, blank.name),
            words.NO_RING_OR_BORDER,
        )
    yield from check_blank(blank, machine, loading)
    if blank.is_flat or machine.rotary:
        yield from check_reach(composition.span(fitting=True), machine, loading)
    if machine.rotary and not blank.is_flat:
        span = composition.span(fitting=True)
        if span.width > 0:
            yield from check_turn(span, blank, machine.rotary, loading)


def check_blank(blank: Blank, machine: Machine, loading: Loading) -> Iterator[Finding]:
    """Yield what is to be said about a blank on a machine, whatever is engraved on it."""
    if blank.is_flat:
        yield from _flat(blank, machine)
    elif machine.rotary is None:
        yield Finding(
            "no-rotary",
            Severity.STOP,
            None,
            words.no_rotary(machine.name, blank.name),
            words.ROTARY_OR_FLAT_GOODS,
        )
    else:
        yield from _held(blank, machine.rotary)
        yield from _at_start(blank, machine.rotary, loading)
        if blank.taper and machine.rotary.drive == "roller":
            yield Finding(
                "taper-on-rollers",
                Severity.WARNING,
                None,
                words.walks_on_rollers(abs(blank.tilt)),
                words.TAKE_A_CHUCK,
            )
        if machine.rotary.drive == "roller":
            yield from _on_rollers(blank)


def _on_rollers(blank: Blank) -> Iterator[Finding]:
    """Yield what stands out of the wall and may run onto the rollers."""
    for zone in blank.zones:
        if zone.width and zone.reaches(0.0):
            yield Finding(
                "handle-on-rollers",
                Severity.WARNING,
                None,
                words.on_rollers(zone.on_machine, zone.stands_out),
                words.keep_off_rollers(zone.on_machine),
            )


def _flat(blank: Blank, machine: Machine) -> Iterator[Finding]:
    bed = machine.bed
    if blank.page_width > bed.width + _SLACK or blank.height > bed.depth + _SLACK:
        yield Finding(
            "too-large-for-bed",
            Severity.STOP,
            None,
            words.too_large_for_bed(
                blank.name, (blank.page_width, blank.height), machine.name, (bed.width, bed.depth)
            ),
            words.ANOTHER_MACHINE,
        )


def _held(blank: Blank, rotary: Rotary) -> Iterator[Finding]:
    """Yield what the rotary cannot hold, with the numbers."""
    # On rollers the cup stands on their tops, a chuck holds it by its axis.
    diameters = [blank.radius_at(z) * 2 for z in (0.0, blank.height)]
    on_rollers = rotary.drive == "roller"
    needed = max(diameters) * (1.0 if on_rollers else 0.5) + rotary.clearance
    if (across := max(diameters)) > rotary.largest_diameter:
        message = words.too_wide(across, blank.largest_circumference, rotary.largest_diameter)
        yield _stop("cup-too-wide", message, words.ANOTHER_ROTARY_OR_BLANK)
    if (across := min(diameters)) < rotary.smallest_diameter:
        message = words.too_narrow(across, blank.smallest_circumference, rotary.smallest_diameter)
        yield _stop("cup-too-narrow", message, words.ANOTHER_ROTARY_OR_BLANK)
    if blank.height > rotary.length:
        message = words.too_long(blank.height, rotary.length)
        yield _stop("cup-too-long", message, words.ANOTHER_ROTARY_OR_BLANK)
    if needed > rotary.under_head:
        too_high = words.too_high_on_rollers if on_rollers else words.too_high_in_chuck
        message = too_high(needed, rotary.clearance, rotary.under_head)
        yield _stop("cup-too-high", message, words.MAKE_ROOM)


def _stop(code: str, message: str, advice: str) -> Finding:
    return Finding(code, Severity.STOP, None, message, advice)


def _at_start(blank: Blank, rotary: Rotary, loading: Loading) -> Iterator[Finding]:
    """Yield what stands out of the wall under the head where the job starts."""
    sides = ("front", "back") if loading.page.mouth in ("left", "right") else ("left", "right")
    for zone in loading.under_head:
        advice = words.start_elsewhere(zone.word, sides)
        if zone.goes_around:
            advice = words.ON_EVERY_SIDE
        if zone.stands_out is None:
            yield Finding(
                "handle-not-measured",
                Severity.WARNING,
                None,
                words.starts_at_unmeasured(zone.on_machine),
                f"{words.measure_it(blank.key_of(zone))} {advice}",
            )
        elif zone.reaches(rotary.clearance):
            message = words.starts_under_head(zone.on_machine, zone.stands_out, rotary.clearance)
            yield _stop("handle-under-head", message, advice)


def check_turn(span: Box, blank: Blank, rotary: Rotary, loading: Loading) -> Iterator[Finding]:
    """Yield what stands out of the wall and passes under the head on the way to what is engraved.

    Parameters
    ----------
    span
        The bounds of what is engraved, in ``s`` and ``z``, in mm.
    """
    for zone in on_the_way(loading, blank, (span.left, span.right)):
        if zone in loading.under_head or not zone.reaches(rotary.clearance):
            continue
        what, out, clears = zone.on_machine, zone.stands_out, rotary.clearance
        advice = words.start_at_lettering(zone.word)
        if out is None:
            message = words.passes_unmeasured(what, zone.at, clears)
            yield Finding("handle-not-measured", Severity.WARNING, None, message, advice)
        else:
            message = words.passes_under_head(what, zone.at, out, clears)
            yield _stop("handle-under-head", message, advice)


def check_reach(span: Box, machine: Machine, loading: Loading) -> Iterator[Finding]:
    """Yield that the head cannot reach what is to be engraved from the mark at the start.

    ``span`` holds its bounds in ``s`` and ``z``, in mm.
    """
    if span.width <= 0:
        return
    left, top, width, height = loading.page.box_of(*span)
    x, y = loading.page.start
    # From where the head starts to the far edge of the ink.
    across = max(x, left + width) - min(x, left)
    deep = max(y, top + height) - min(y, top)
    bed = machine.bed
    if across > bed.width + _SLACK or deep > bed.depth + _SLACK:
        yield Finding(
            "off-the-bed",
            Severity.STOP,
            None,
            words.off_the_bed(across, deep, (bed.width, bed.depth)),
            words.ANOTHER_MARK,
        )
