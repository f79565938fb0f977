"""What this room says to people."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from pathlib import Path

from mailmerge.findings import shown
from mailmerge.units import counted

# Opening an order

CALL = "the call"
"""Where a value comes from that no file holds."""


def no_such_order(file: Path) -> str:
    """Say that there is no order."""
    return f"{file}: There is no such order. Start one with: mailmerge new FOLDER --list FILE"


def named_nowhere(file: Path, key: str) -> str:
    """Say that an order names no blank or layout, nor has one of its own."""
    return f'{file}: The {key} is missing. Give order.{key} = "…" or one table [{key}].'


def named_twice(file: Path, key: str) -> str:
    """Say that an order names a blank, layout or machine and has one of its own."""
    return (
        f'{file}: The {key} is given twice. Keep either order.{key} = "…" or the table [{key}], '
        f"not both."
    )


def no_field(file: str, found: str) -> str:
    """Say that ``[columns]`` gives a field a name that no layout can use."""
    return (
        f"{file}: columns: Found the field {shown(found)}. Give the field a name of one plain "
        f"word, such as table."
    )


def wrong_coat(file: str, reason: object) -> str:
    """Say what is wrong with an order's coat."""
    return f"{file}: order.coat: {reason}"


def wrong_datum(file: str, reason: object) -> str:
    """Say what is wrong with where an order starts."""
    return f"{file}: order.datum: {reason}"


def layout(name: str) -> str:
    """Name a layout as the place of what is wrong in it."""
    return f"layout {shown(name)}"


def wrong_part(layout: str, kind: str, number: int, reason: object) -> str:
    """Say what is wrong with the font or drawing of a line, an ornament or a border."""
    return f"layout {shown(layout)}: {kind} {number}: {reason}"


def due(day: dt.date) -> str:
    """Write a day as a layout may engrave it."""
    return f"{day.day} {day:%B %Y}"


# The client


def no_such_language(found: str, known: Iterable[str]) -> str:
    """Say that the proof pack cannot be in a language."""
    return f"Found {shown(found)}. The proof pack can be in: {', '.join(known)}."


def person_twice(name: str) -> str:
    """Say that a person is named twice."""
    return f"Found {shown(name)} twice. Name each person once."


def all_of_nobody(count: int) -> str:
    """Say that a yes of all is asked for where there are not several."""
    return f'Found needs = "all" and {counted(count, "name")} in people. Name at least two people.'


# Motifs


def no_motif(layout: str) -> str:
    """Say that nobody fills a slot of a layout."""
    return (
        f"The layout {shown(layout)} leaves its motif open, and nothing says which it is. Put "
        f'motif = "star", or another word that mailmerge ornaments lists, under [order] in '
        f"order.toml. Or give the list a column motif."
    )


def wrong_motif(file: str, key: str, reason: object) -> str:
    """Say what is wrong with a word for a drawing."""
    return f"{file}: {key}: {reason}"


# Kept sizes


def size_without_line(file: str, number: int, found: int, layout: str, lines: int) -> str:
    """Say that a kept size belongs to no line of the layout."""
    return (
        f"{file}: size {number}.line: Found {found}. The lines of the layout {shown(layout)} are "
        f"numbered 1 to {lines}."
    )


def size_of_other_sizing(file: str, number: int, line: int, layout: str, sizing: str) -> str:
    """Say that a line cannot keep such a size."""
    return (
        f'{file}: size {number}: Line {line} of the layout {shown(layout)} has sizing "{sizing}". '
        f'A size without a role goes with sizing "set", a size with a role with sizing "role".'
    )


def blank_from(name: str, source: str) -> str:
    """Name a blank that another one of its order is called like, with where it comes from."""
    return f"{name} ({source})"


# Starting an order

TITLE = "Order"
"""Of an order whose folder has no name."""

WHOSE = "whose party it is, as a layout may engrave it"
ONE_ORDER = "One client's order."
LIST = "the client's list, in this folder"
BLANK = "a name from: mailmerge blanks, or the path of your own file"
LAYOUT = "a name from: mailmerge layouts, or the path of your own file"
MACHINE = "a name from: mailmerge machines, or the path of your own file"


def to_fill(about: str, has_columns: bool) -> str:
    """Return the place in an ``order.toml`` for what the list leaves open: its sheet, or a field.

    Parameters
    ----------
    has_columns
        Whether some columns are named right above.
    """
    if about == "sheet":
        return (
            "\n# Several sheets could be the list. Say which one under [order] above:\n"
            '# sheet = "the name of the sheet"\n'
        )
    fields = {"name": "name role"}.get(about, about).split()
    places = "".join(f'# {field} = "the header of the {field}"\n' for field in fields)
    table = "" if has_columns else "# [columns]\n"
    return (
        "\n# The list's columns leave a question open. Say here which is which, and take each # "
        f"away:\n{table}{places}"
    )


def no_title(path: Path, layout: str) -> str:
    """Say that a layout engraves a title that nobody has given."""
    return (
        f"{path}: The layout {shown(layout)} engraves the title of the party, and nobody has given "
        'one. Say whose party it is, as with --title "Winter gala".'
    )


def title_to_engrave(file: str, layout: str) -> str:
    """Say that a layout engraves the title that an order's file leaves blank."""
    return (
        f"{file}: [order] title: The layout {shown(layout)} engraves it, and it is blank. Enter "
        "whose party it is."
    )


def order_exists(file: Path) -> str:
    """Say that an order is not written over."""
    return f"{file}: There is an order here already. It is left as it is. Name another folder."


def file_exists(file: Path) -> str:
    """Say that another list or blank is not written over."""
    return f"{file}: Another file has this name already. It is left as it is. Name another folder."
