"""The usual cautions, and the steps that the trade knows: for every paper of the workshop."""

CAUTIONS = (
    "Your machine's manual, the coating's safety data sheet, your local codes and qualified "
    "practice come before anything that is said here.",
    "Eye protection for the beam's wavelength on, the enclosure shut, extraction running, an "
    "extinguisher within reach. Never leave it alone while it runs.",
    "No PVC, vinyl or unknown coating. Power off before the rotary is plugged in or out; its "
    "cable under the cup and out of the beam's way. Lid off: never a sealed vessel.",
    "Handle and brackets clear of the head through the whole turn. Nothing inside or on the "
    "drinking rim. A test piece first. Let it cool, then wipe the soot off.",
)
"""Common practice; the machine's own manual comes first."""

STEPS = (
    "Take the handle off where it comes off, and keep its screws together, a bag for each cup.",
    "Measure a cup of each pile around. If it differs from this paper, measure the blank again "
    "and make the artwork anew.",
    "Power off, plug the rotary in, lead its cable under the cup and out of the beam's way.",
    "Load the cup as its picture shows, level the wall under the head, set the focus.",
    "Trace first, as your manual allows it: the head clears everything through the whole turn, "
    "and the name comes where the proof shows it.",
    "Engrave all passes without touching the cup in between.",
    "Let it cool. Wipe the soot off with white vinegar on a soft cloth (never together with "
    "bleach), then with water, and dry it.",
    "Put the handle back on. Look at the cup in daylight, letter by letter.",
)
"""For every cup. Common practice, without a source."""

FLAT_STEPS = (
    "Measure a piece of each pile. If it differs from this paper, measure the blank again and make "
    "the artwork anew.",
    "Lay it down as its picture shows, so that it cannot move, and set the focus.",
    "Trace first, as your manual allows it: the name comes where the proof shows it.",
    "Engrave all passes without touching it in between.",
    "Let it cool, and take the soot off with what its material bears: try that on a spoiled piece.",
    "Look at it in daylight, letter by letter.",
)
"""For flat goods. Common practice, without a source."""
