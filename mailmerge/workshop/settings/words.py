"""What this room says to people."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

from mailmerge.findings import shown
from mailmerge.units import counted, format_mm

# Settings, and where they come from


def passes(count: int) -> str:
    """Say how many passes there are."""
    return counted(count, "pass", "passes")


def settings(power: Decimal, speed: float, count: int, interval: float) -> str:
    """Tell settings on one line: percent, mm/s, passes, mm."""
    return (
        f"power {power:f} %, {speed:g} mm/s, {passes(count)}, lines {format_mm(interval, 3)} apart"
    )


def with_origin(told: str, origin: str) -> str:
    """Tell settings, and where they come from."""
    return f"{told}. {origin}"


def kept(day: dt.date, outcome: str, remarks: str) -> str:
    """Say that settings were tried, and how they came out."""
    more = f" ({remarks})" if remarks else ""
    return f"Kept on {day}: {outcome}{more}"


def kept_for_other_blank(day: dt.date, blank: str | None) -> str:
    """Say that settings were tried on another blank."""
    return f"Kept on {day} for {blank}, NOT TRIED on this blank: engrave a test card first"


def kept_for_other_of_that_name(day: dt.date, blank: str) -> str:
    """Say that settings were tried on another blank that is called the same."""
    return (
        f"Kept on {day} for another blank called {blank}, NOT TRIED on this blank: engrave a test "
        f"card first"
    )


def kept_for_a_name(day: dt.date, blank: str) -> str:
    """Say that nobody knows which blank of a name settings were tried on."""
    return (
        f"Kept on {day} for a blank called {blank}, with no record of which one, so NOT TRIED on "
        f"this blank: engrave a test card, or keep the recipe again with --blank"
    )


def starting_point(name: str) -> str:
    """Say that nobody has tried settings on this machine."""
    return f"A STARTING POINT ({name}), not tried: engrave a test card first"


MIDDLE_OF_CARD = "The middle of the card, because nothing better is known"


def interval_out_of_bounds(interval: float, finest: float, widest: float) -> str:
    """Say that lines cannot lie as far apart, or as close."""
    return (
        f"Found {interval:g} mm from line to line. Lines are {finest:g} mm to {widest:g} mm apart."
    )


# Recipes


def tried_in_future(where: str, day: dt.date) -> str:
    """Say that a recipe's day is still to come."""
    return f"{where}: The date {day} is in the future. Enter the day you tried it."


RECIPE_HEAD = "Found on a test piece. The newest recipe for a machine and a coat counts."

# The test card

THE_CARD = "the test card"
"""Where a value comes from that was given for a card."""


def card_on_zone(angle: float, zone: str) -> str:
    """Say that a card has no room."""
    return (
        f"The face at {angle:g}° lies on the {zone}, so that there is no room for a card. Name "
        f"another face."
    )


def cells_too_small(
    columns: int, rows: int, face: tuple[float, float], most: tuple[int, int], in_all: int
) -> str:
    """Say that cells could not be judged, and how many fit a face of so many mm."""
    return (
        f"Found {columns} cells across and {rows} down. On a face of {face[0]:.0f} by "
        f"{face[1]:.0f} mm they would be too small to judge. {_room(*most, in_all)}"
    )


def _room(across: int, down: int, in_all: int) -> str:
    if across < 1 or down < 1:
        return "There is room for none at all."
    if across * down > in_all:
        return f"There is room for {across} across and {down} down. A card has {in_all} at most."
    return f"There is room for {across} across and {down} down."


def too_many_columns(columns: int, most: int) -> str:
    """Say that there are not as many letters to name columns."""
    return f"Found {columns} cells across. A card has {most} across at most, named A to Z."


def too_many_cells(cells: int, most: int) -> str:
    """Say that there are not as many colours to be told apart."""
    return (
        f"Found {cells} cells. A card has {most} at most, because the colours of more could not be "
        f"told apart."
    )


def too_fast(speed: float, machine: str, fastest: float) -> str:
    """Say that a machine cannot move at a speed (mm/s)."""
    return (
        f"Found {speed:g} mm/s. Along its lines, the machine {machine} moves at {fastest:g} mm/s "
        f"at most."
    )


def card_title(coat: str, machine: str) -> str:
    """Return the title of a card's artwork."""
    return f"Test card: {coat}, {machine}"


def about_card(blank: str, coat: str, safe: str) -> str:
    """Say in a card's artwork what it is for."""
    return (
        f"This is a test piece, not for a client. It is for {blank}, coat {coat}. Every cell is a "
        f"group with its own colour. The key says what each cell stands for. Engrave the labels, "
        f"in black, with {safe}."
    )


# Its key


def key_is_no_text(file: Path) -> str:
    """Say that a file is no text."""
    return f"{file}: This is not UTF-8 text. Give the key of a test card."


def no_key(file: Path, reason: object) -> str:
    """Say that a table cannot be read."""
    return f"{file}: This is not the key of a test card: {reason}."


def no_columns_of_a_key(file: Path, columns: Sequence[str]) -> str:
    """Say that a table lacks columns of a key, or its cells."""
    return (
        f"{file}: This is not the key of a test card. A key has the columns {', '.join(columns)}, "
        f"and a row for each cell."
    )


def no_such_cell(file: Path, found: str, first: str, last: str) -> str:
    """Say that a card has no such cell."""
    return f"{file}: There is no cell {shown(found)}. The cells of this card are {first} to {last}."


def cell_twice(file: Path, found: str, count: int) -> str:
    """Say that several rows of a key name one cell."""
    return (
        f"{file}: The cell {shown(found)} stands in {count} rows. Each cell has one row. Put back "
        f"the key as it was written."
    )
