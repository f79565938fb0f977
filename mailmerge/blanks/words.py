"""What this room says to people."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Literal

from mailmerge.findings import nearest, shown
from mailmerge.units import UNITS_IN_WORDS, Unit, format_mm

# A blank's file: the text that follows the name of the file


def not_a_colour(found: str) -> str:
    """Say that a text is no colour."""
    return f'Found {shown(found)}. A colour is written like "#1a1a1c".'


NO_SHAPE = (
    'The key "circumference" is missing. Give circumference or diameter for a straight wall, a '
    "table [taper] for a tapered one, or width for flat goods."
)
CIRCUMFERENCE_OR_DIAMETER = "circumference or diameter"


def several_shapes(keys: Sequence[str]) -> str:
    """Say that a blank is described in more than one way."""
    return (
        f"Found {' and '.join(keys)}. A wall is straight, tapered or flat. Keep one of them and "
        f"take the rest out."
    )


def too_large(key: str, found: float, most: float) -> str:
    """Say that nothing can turn a blank of this size."""
    return f"{key}: Found {found:g} mm. The most is {most:g} mm: no rotary turns a larger blank."


def band_outside_wall(low: float, high: float, height: float) -> str:
    """Say that a band is upside down, or higher than the wall."""
    return (
        f"band: Found from {low:g} to {high:g} mm. Give a lower edge below the upper one. Both "
        f"lie within the height of {height:g} mm."
    )


SAME_COAT_TWICE = "coat: Two coats have the same name. Give each coat a name of its own."


# Flat goods

HANDLE_ON_FLAT_GOODS = (
    "handle: Flat goods have no handle. Take this table out. To keep the sides free, use edge."
)
ZONE_ON_FLAT_GOODS = (
    "zone: Flat goods have no zones. Take these tables out. To keep a part free, use edge and band."
)
EDGE_ON_A_CUP = "edge: Only flat goods have an edge. On a cup, use handle.clearance."


def edge_takes_all(edge: float, width: float) -> str:
    """Say that the two edges leave nothing of flat goods."""
    return (
        f"edge: Found {edge:g} mm, which leaves nothing of the width of {width:g} mm. Enter less "
        f"than half the width."
    )


# Round goods


def girth_and_diameter_differ(
    diameter: float, from_diameter: float, circumference: float, off: float, most: float
) -> str:
    """Say that one of two measures of the same wall is wrong."""
    return (
        f"circumference and diameter contradict each other. A diameter of {diameter:g} mm goes "
        f"with a circumference of {from_diameter:.1f} mm. Found {circumference:g} mm, which is "
        f"{off:.1%} off; at most {most:.0%} is allowed. Measure again, or give only one of them."
    )


def handle_too_wide(width: float, diameter: float) -> str:
    """Say that a handle is wider than its cup."""
    return (
        f"handle.width: Found {width:g} mm. A handle is narrower than its cup, which is "
        f"{diameter:.1f} mm across."
    )


def clearance_takes_all(clearance: float, circumference: float) -> str:
    """Say that a handle and its clearance leave nothing of the wall."""
    return (
        f"handle.clearance: Found {clearance:g} mm, which leaves nothing of the circumference of "
        f"{circumference:.1f} mm. Enter less."
    )


def zone_outside_wall(key: str, low: float, high: float, height: float) -> str:
    """Say that a zone is upside down, or higher than the wall."""
    return (
        f"{key}: Found from {low:g} to {high:g} mm. Give a lower edge below the upper one. Both "
        f"lie within the height of {height:g} mm."
    )


def zone_without_width(key: str) -> str:
    """Say that a zone is neither at a place nor at a height."""
    return (
        f'{key}: The key "width" is missing. Only what goes all around has no width. It has a '
        f'"from" or a "to", and no "at".'
    )


def zone_of_no_width(key: str, kind: str) -> str:
    """Say that a zone is too narrow to be there."""
    return (
        f"{key}: Found a {kind} with a width of 0. Enter how wide it is along the wall. Only a "
        f"seam that lies flush has no width."
    )


def handle_goes_nowhere(key: str) -> str:
    """Say that a handle has no width."""
    return f'{key}: The key "width" is missing. Enter how wide the handle is along the wall.'


def zone_takes_all(key: str, width: float, clearance: float, circumference: float) -> str:
    """Say that a zone and its clearance leave nothing of the wall."""
    return (
        f"{key}: Found a width of {width:g} mm and a clearance of {clearance:g} mm, which leaves "
        f"nothing of the circumference of {circumference:.1f} mm. Enter less."
    )


def zone_on_handle(key: str) -> str:
    """Say that a zone and the handle are at one place."""
    return (
        f"{key}: Found a zone at 0 degrees, where the handle is. Keep one of them, or move the "
        f"zone."
    )


# Tapered walls


def tape_above_wall(height_of_tape: float, height: float) -> str:
    """Say that the upper tape would lie above the mouth."""
    return (
        f"taper: The upper tape lies {height_of_tape:g} mm above the base, but the wall is only "
        f"{height:g} mm high. Correct from, distance or height."
    )


def too_steep(base: float, top: float, distance: float, steepest: float) -> str:
    """Say that a wall leans too far to be turned."""
    return (
        f"taper: Found circumferences of {base:g} and {top:g} mm, {distance:g} mm apart along the "
        f"wall. Such a wall is more than {steepest:g} degrees off the axis, and no rotary turns "
        f"it. Measure again."
    )


def ends_in_a_point(around: float, end: Literal["base", "mouth"]) -> str:
    """Say that a taper leaves nothing of one end."""
    return (
        f"taper: The wall would be {around:.1f} mm around at the {end}. Measure with the tapes "
        f"further apart, or enter the height of the tapered part alone."
    )


# Coats and faces


def no_such_coat(found: str, blank: str, known: Sequence[str]) -> str:
    """Say that a blank does not come in a coat."""
    return (
        f"The blank {shown(blank, 200)} has no coat {shown(found)}. {nearest(found, known)} Its "
        f"coats are: {', '.join(known)}."
    )


def not_a_face(found: object) -> str:
    """Say that a text is no face."""
    return (
        f"Found {shown(str(found))}. A face is drinker, onlookers, opposite, or an angle from the "
        f"handle such as 180."
    )


# What is written where nobody gave a name

MAKERS_MARK, LEFT_EDGE, BRACKET = "maker's mark", "left edge", "bracket"


def bracket_of(handle: str) -> str:
    """Name the bracket of a handle that comes off."""
    return f"bracket of the {handle}"


def or_its_bracket(handle: str) -> str:
    """Name what is on a cup while it is engraved: a handle, or what holds it."""
    return f"{handle} or its bracket"


# Measuring

AROUND = {"": "around", "base": "around at the base", "top": "around at the top"}
BY_TAPE = {
    "": "around, by tape",
    "base": "around at the base, by tape",
    "top": "around at the top, by tape",
}
BY_CALLIPERS = {
    "": "across, by callipers",
    "base": "across at the base, by callipers",
    "top": "across at the top, by callipers",
}
THE_MEASURES = "the measures"


def not_above_zero(what: str, reading: float) -> str:
    """Say that a reading is nothing, or less."""
    return f"{what}: Found {format_mm(reading, 2)}. A reading is above 0."


def readings_differ(what: str, readings: Iterable[float], spread: float, most: float) -> str:
    """Say that several readings of one thing cannot all be right."""
    listed = ", ".join(format_mm(reading, 2) for reading in readings)
    return (
        f"{what}: The readings contradict each other. {listed} differ by {format_mm(spread, 2)}; "
        f"at most {format_mm(most, 2)} is allowed. Measure again."
    )


def tape_and_callipers_differ(
    where: str, around: float, across: float, from_callipers: float, off: float, most: float
) -> str:
    """Say that tape and callipers cannot both be right."""
    return (
        f"{where}: Tape and callipers contradict each other. The tape says "
        f"{format_mm(around, 2)} around, but {format_mm(across, 2)} across goes with "
        f"{format_mm(from_callipers, 2)} around. That is {off:.1%} off; at most {most:.0%} is "
        f"allowed. Measure again."
    )


def nothing_left(around: float, edge: float) -> str:
    """Say that a face beside the handle has no room."""
    return (
        f"Nothing is left of the drinker's face. The wall is {format_mm(around)} around, and the "
        f"handle with its clearance takes {format_mm(edge)} on each side of its middle. One of "
        f"them is wrong."
    )


def tapes_too_close(radii: float, apart: float) -> str:
    """Say that two tapes are closer than their radii allow."""
    return (
        f"The two tapes contradict each other. Their radii differ by {format_mm(radii, 2)}, but "
        f"along the wall they are only {format_mm(apart, 2)} apart. Measure again."
    )


def if_wrong_on_chuck(line: float, off: float, share: float) -> str:
    """Say what a tape that is read wrong does on a chuck."""
    return (
        f"On a chuck, a line of {format_mm(line)} comes out {format_mm(off, 2)} wider or narrower "
        f"({share:.2%})."
    )


def if_wrong_on_rollers(beside: float) -> str:
    """Say what a tape that is read 1 mm wrong does on rollers."""
    return (
        f"On rollers, a line comes out as wide as it should. But the drinker's face is "
        f"{format_mm(beside, 2)} beside its place, and the ends of what goes around the cup miss "
        f"each other by 1 mm."
    )


def if_one_tape_wrong(lean: float, off: float) -> str:
    """Say what one of two tapes that is read wrong does."""
    return (
        f"If one of two tapes is wrong, the wall seems to lean by {lean:.2f}° more or less. At the "
        f"ends of the band the lettering is off by another {format_mm(off, 2)}."
    )


# What is asked at the bench

ASK_NAME = "What to call the blank (a name that no other blank has)"
ASK_TAPERED = "Is the wall tapered? y or n"
ASK_AROUND = "Around the wall by tape, several readings, with commas between"
ASK_ACROSS = "Across the wall by callipers, several readings, with commas between"
ASK_AROUND_BASE = "Around at the lower tape, several readings, with commas between"
ASK_ACROSS_BASE = "Across at the lower tape, by callipers, with commas between"
ASK_AROUND_TOP = "Around at the upper tape, several readings, with commas between"
ASK_ACROSS_TOP = "Across at the upper tape, by callipers, with commas between"
ASK_APART = "From tape to tape along the wall, several readings, with commas between"
ASK_LOWER = "The lower tape above the base"
ASK_HEIGHT = "Height of the wall, along it"
ASK_BAND_FROM = "Engraving may begin this far above the base"
ASK_BAND_TO = "Engraving may reach up to"
ASK_HANDLE = "Handle and brackets along the wall, 0 for none"
ASK_CLEARANCE = "Kept free on each side"
ASK_COMES_OFF = "Does the handle come off? y or n"
ASK_STANDS_OUT = "How far what stays on the cup stands out from the wall"
ASK_COATS = "Its coats in words, with commas between, such as navy, black"
ASK_FILE = "File to write"

AROUND_A_CUP, ACROSS_A_CUP, HEIGHT_OF_A_CUP = "A cup around", "A cup across", "The height of a cup"
BETWEEN_TAPES = "from tape to tape"
COATS = "the coats"

BACK = "back"
"""Typed instead of an answer, it takes the answer before back."""
NOTHING_BEFORE = "This is the first question. There is none before it."

ANSWER_MISSING = "Nothing was typed. This needs an answer."
NAME_TOO_LONG = "A name has at most 200 characters."
COATS_MISSING = "Say at least one coat, such as black."


def unit_missing(found: str) -> str:
    """Say that nobody knows yet what a bare number means."""
    return (
        f"Found {shown(found)}, without a unit. Type it once with its unit: in, mm or cm. After "
        f"that, a bare number means the same."
    )


def unit_from_now_on(unit: Unit) -> str:
    """Say what a bare number means from now on."""
    return f"From now on a number without a unit means {UNITS_IN_WORDS[unit]}."


def one_length(found: str) -> str:
    """Say that one length is wanted."""
    return f"Found {shown(found)}. Give one length."


def below_zero(found: str) -> str:
    """Say that a length is below nothing."""
    return f"Found {found}. Give a length from 0 up."


def not_plausible(what: str, found: str, least: str, most: str) -> str:
    """Say that no cup is of this size."""
    return f"Found {found}. {what} is from {least} to {most}. Look at the unit, and measure again."


def tapes_unlike(base: str, top: str) -> str:
    """Say that two tapes on one cup are too different."""
    return (
        f"Found {base} around at the base and {top} around at the top. No cup is so much wider at "
        f"one end. Measure this one again."
    )


def yes_or_no(found: str) -> str:
    """Say that yes or no is wanted."""
    return f"Found {shown(found)}. Type y for yes or n for no."


def name_taken(name: str) -> str:
    """Say that a blank has a name already."""
    return (
        f"A blank is called {shown(name)} already. Find another name, so that papers tell the two "
        f"apart."
    )


def name_taken_there(name: str, folder: Path) -> str:
    """Say that a folder has a blank of that name."""
    return f"{folder}: A blank here is called {shown(name)} already. Name a file in another folder."


def coat_twice(name: str) -> str:
    """Say that a coat is named twice."""
    return f"Found the coat {shown(name)} twice. Name each coat once."


def file_exists(file: Path) -> str:
    """Say that a file is not written over."""
    return f"{file}: The file is there already. Name another file."


def no_such_folder(folder: Path) -> str:
    """Say that there is no folder for a file."""
    return f"{folder}: There is no such folder. Name a file in a folder that is there."


# Comments in a blank's file that was measured

PARTS_OF_AN_INCH = "parts of an inch on the tape; papers tell inches beside mm"

MEASURED = "Measured."
OF_THE_WALL = "of the wall, along it"
FROM_TAPE_TO_TAPE = "from tape to tape, along the wall"
LOWER_TAPE = "the lower tape above the base"
ON_EACH_SIDE = "on each side"
NO_HANDLE = (
    "You say how a handle stands out or that it comes off, but not how wide it is. Enter the "
    "handle's width."
)
WHILE_ENGRAVED = "while it is engraved"


def of_the_lower_tape(readings: str) -> str:
    """Say what was read at the lower tape."""
    return f"lower tape: {readings}"


def of_the_upper_tape(readings: str) -> str:
    """Say what was read at the upper tape."""
    return f"upper tape: {readings}"


def read_off(tape: Sequence[float], callipers: Sequence[float]) -> str:
    """Say what was read off tape and callipers."""
    parts = [
        f"{tool} {', '.join(format_mm(reading, 2) for reading in readings)}"
        for tool, readings in (("tape", tape), ("callipers", callipers))
        if readings
    ]
    return "; ".join(parts)
