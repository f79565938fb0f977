"""Findings about the machine: what it cannot hold or reach, and what would run into its head."""

from __future__ import annotations

from collections.abc import Iterator

from mailmerge.artwork import Composition
from mailmerge.blanks import Blank
from mailmerge.findings import Finding, Severity
from mailmerge.lettering import Box
from mailmerge.machines import Loading, Machine, Rotary, on_the_way
from mailmerge.units import format_mm

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
            f"the layout runs {', '.join(around)} around a cup, and {blank.name} is flat",
            "Take a layout without ring and border for flat goods.",
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
            f"the machine {machine.name} has no rotary, and {blank.name} is round",
            "Take a machine with a [rotary] in its profile, or flat goods.",
        )
    else:
        yield from _held(blank, machine.rotary)
        yield from _at_start(blank, machine.rotary, loading)
        if blank.taper and machine.rotary.drive == "roller":
            yield Finding(
                "taper-on-rollers",
                Severity.WARNING,
                None,
                f"a tapered cup walks on rollers: its wall is {abs(blank.tilt):.1f}° off the axis, "
                f"and rollers lay every millimetre as it comes",
                "Take a chuck for it, for which the artwork is corrected; else engrave a test cup "
                "first, and keep it from walking.",
            )
        if machine.rotary.drive == "roller":
            yield from _on_rollers(blank)


def _on_rollers(blank: Blank) -> Iterator[Finding]:
    """Yield what stands out of the wall and may run onto the rollers."""
    for zone in blank.zones:
        if zone.width and zone.reaches(0.0):
            by = zone.stands_out
            how_far = "was not measured" if by is None else f"stands out by {format_mm(by)}"
            yield Finding(
                "handle-on-rollers",
                Severity.WARNING,
                None,
                f"the {zone.on_machine} {how_far} and may run onto the rollers as it turns",
                "Lay the cup so that it hangs clear of both rollers through the whole turn, and "
                "turn it once by hand with the power off.",
            )


def _flat(blank: Blank, machine: Machine) -> Iterator[Finding]:
    bed = machine.bed
    if blank.page_width > bed.width + _SLACK or blank.height > bed.depth + _SLACK:
        yield Finding(
            "too-large-for-bed",
            Severity.STOP,
            None,
            f"{blank.name} is {format_mm(blank.page_width)} by {format_mm(blank.height)}, the bed "
            f"of {machine.name} {format_mm(bed.width)} by {format_mm(bed.depth)}",
            "Take another machine.",
        )


def _held(blank: Blank, rotary: Rotary) -> Iterator[Finding]:
    """Yield what the rotary cannot hold, with the numbers."""
    widest = blank.largest_circumference
    narrowest = blank.smallest_circumference
    # On rollers the cup stands on their tops, a chuck holds it by its axis.
    diameters = [blank.radius_at(z) * 2 for z in (0.0, blank.height)]
    needed = max(diameters) * (1.0 if rotary.drive == "roller" else 0.5) + rotary.clearance
    from_where = "the rollers" if rotary.drive == "roller" else "the chuck's axis"
    for too_much, code, found, limit, advice in (
        (
            max(diameters) > rotary.largest_diameter,
            "cup-too-wide",
            f"the cup is {format_mm(max(diameters))} across ({format_mm(widest)} around)",
            f"the rotary takes {format_mm(rotary.largest_diameter)} at the most",
            "Take another rotary, or another blank.",
        ),
        (
            min(diameters) < rotary.smallest_diameter,
            "cup-too-narrow",
            f"the cup is {format_mm(min(diameters))} across ({format_mm(narrowest)} around)",
            f"the rotary takes {format_mm(rotary.smallest_diameter)} at the least",
            "Take another rotary, or another blank.",
        ),
        (
            blank.height > rotary.length,
            "cup-too-long",
            f"the wall is {format_mm(blank.height)} long",
            f"the rotary takes {format_mm(rotary.length)}",
            "Take another rotary, or another blank.",
        ),
        (
            needed > rotary.under_head,
            "cup-too-high",
            f"the cup needs {format_mm(needed)} from {from_where} to the head, "
            f"{format_mm(rotary.clearance)} of it to focus",
            f"there are {format_mm(rotary.under_head)}",
            "Lower the bed or the rotary if the machine's manual shows how, and measure again; or "
            "take another machine.",
        ),
    ):
        if too_much:
            yield Finding(code, Severity.STOP, None, f"{found}, {limit}", advice)


def _at_start(blank: Blank, rotary: Rotary, loading: Loading) -> Iterator[Finding]:
    """Yield what stands out of the wall under the head where the job starts."""
    elsewhere = "front/back" if loading.page.mouth in ("left", "right") else "left/right"
    for zone in loading.under_head:
        advice = (
            f"Start with the {zone.word} to another side: datum = {elsewhere} in the machine's "
            f"profile or the order."
        )
        if zone.goes_around:
            advice = "Take a machine whose head clears it: it is there from every side."
        if zone.stands_out is None:
            yield Finding(
                "handle-not-measured",
                Severity.WARNING,
                None,
                f"the job starts with the {zone.on_machine} under the head, and the blank does not "
                f"say how far that stands out",
                f"Measure it, and put it into the blank as "
                f"{blank.key_of(zone)}.stands_out. {advice}",
            )
        elif zone.reaches(rotary.clearance):
            yield Finding(
                "handle-under-head",
                Severity.STOP,
                None,
                f"the job starts with the {zone.on_machine} under the head: it stands out by "
                f"{format_mm(zone.stands_out)}, the head clears {format_mm(rotary.clearance)}, and "
                f"both ways to turn pass it",
                advice,
            )


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
        by = zone.stands_out
        how_far = "nobody has measured how far" if by is None else f"by {format_mm(by)}"
        yield Finding(
            "handle-not-measured" if by is None else "handle-under-head",
            Severity.WARNING if by is None else Severity.STOP,
            None,
            f"the {zone.on_machine} at {zone.at:g}° passes under the head on the way from the "
            f"start: it stands out, {how_far}, and the head clears {format_mm(rotary.clearance)}",
            f"Start on the side of the lettering, with another datum in the machine's profile or "
            f"the order, or choose a face that is reached without passing the {zone.word}.",
        )


def check_reach(span: Box, machine: Machine, loading: Loading) -> Iterator[Finding]:
    """Yield that the head cannot reach what is to be engraved from the mark at the start.

    ``span`` holds its bounds in ``s`` and ``z``, in mm.
    """
    if span.width <= 0:
        return
    left, top, width, height = loading.page.box_of(*span)
    # From the origin, where the head starts, to the far edge of the ink.
    across = max(0.0, left + width) - min(0.0, left)
    deep = max(0.0, top + height) - min(0.0, top)
    bed = machine.bed
    if across > bed.width + _SLACK or deep > bed.depth + _SLACK:
        yield Finding(
            "off-the-bed",
            Severity.STOP,
            None,
            f"from the mark at the start the artwork reaches {format_mm(across)} from left to "
            f"right and {format_mm(deep)} from front to back, the bed "
            f"{format_mm(bed.width)} by {format_mm(bed.depth)}",
            "Start at another mark (datum in the machine's profile or the order), which makes the "
            "way shorter, or take another machine.",
        )
