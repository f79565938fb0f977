"""What is said in Orders, and where one begins."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from mailmerge.desk.words.everywhere import FIELD_NAMES, due
from mailmerge.units import counted

# Orders

DROP_LIST = "Drop the client's list here"
DROP_LIST_HOW = "or choose it: a spreadsheet (.xlsx, .ods) or a text file (.csv)"
NO_ORDERS = "No order is open"
NO_ORDERS_HOW = "Drop a client's list of names above, and the first order begins."
OPEN_FOLDER = "Open an order that is on this computer"
PATH_OF_ORDER = "The order's folder"
OPEN = "Open"
NO_PATH = "Enter the folder of the order."


# Beginning an order, and the page of all orders

BEGIN_AN_ORDER = "Begin an order"
FINISHED = "Finished"
BEGIN_STAYS = "The order gets a folder of its own, and stays there if you take it off the page."
LEAVE_OUT = "Take it off this page"
PUT_BACK = "Put it back"
READ_LIST = "What was read"
SHEET, HEADING_ROW = "Sheet", "Row of the headings"
COLUMN, HOLDS = "Column", "What it holds"
NOT_USED = "not used"
READ_SO = "Read it so"
NO_HEADING = "no heading"
ABOUT_ORDER = "About the order"
WHOSE = "Whose party is it?"
WHOSE_HOW = "It stands on the proofs, and on the cup where the layout says so."
DUE = "When is it due?"
DUE_HOW = "Leave it open if nobody knows yet."
WHICH_BLANK, WHICH_COAT, WHICH_LAYOUT = "Which blank?", "Coat", "Which layout?"
SIZES_TYPICAL = (
    "All are drawn to one scale. The sizes are typical: measure your own cup before you engrave."
)
WHICH_COAT_TOO = "Which coat?"
WITH_OWN_NAMES = (
    "Each shows a long name of your list that fits it. The handle is at that guest's hand."
)


WHICH_MACHINE, ENGRAVED_ON = "Which machine?", "It is engraved on"
SEE_MACHINES = "See how a cup lies on each"


def machine_taken(is_said: bool) -> str:
    """Say why a machine stands there before one is chosen."""
    if is_said:
        return "This is your shop's machine. How a cup lies and how fast it runs follow from it."
    return (
        "The shop does not say yet which machine is yours. Choose it here: how a cup lies and how "
        "fast it runs follow from it."
    )


def on_which_blank(blank: str) -> str:
    """Say on which blank the layouts are shown before one is chosen."""
    return f"Choose a blank above. Until then all are shown on this one: {blank}."


def layout_on_cup(lines: Iterable[str]) -> str:
    """Say what a layout's picture shows."""
    return f"A cup that says: {', '.join(lines)}"


BEGIN = "Make the cups"
BEGIN_HOW = "All of this can be changed later."
LISTS_LIE = "Lists that lie here still"
LISTS_LIE_HOW = (
    "No order was made of them. They hold names of guests. Leave one, and it is deleted here; the "
    "client's file stays as it is."
)
LET_GO = "Leave it"
LIST_LET_GO = "No order was begun. The client's file is as it was."
NOT_THE_DAY = "Enter the day as year-month-day, such as 2027-01-16."
ODD_COLUMN = "Choose what the column holds from the list."


def deleted_on(day: dt.date) -> str:
    """Say until when a list lies here."""
    return f"deleted here on {day.day} {day:%b %Y}, if nothing is made of it"


def left_out(title: str) -> str:
    """Say that an order is not listed any more."""
    return f"{title} is off this page. Its folder is as it was."


def list_as_read(guests: int, cups: int) -> str:
    """Say how many a list holds."""
    if not guests:
        return "No guest stands below the headings."
    return f"{counted(guests, 'guest')}, {counted(cups, 'cup')}."


def doubt_of_list(doubt: str) -> str:
    """Say what is open about a list."""
    if doubt == "sheet":
        return "Several sheets hold names. Choose the one with the guests."
    if doubt == "name":
        return "No column is a name yet. Say which one holds the names."
    if doubt == "heading":
        return (
            "Two columns have the same heading, or one has none. Give each used column a heading "
            "of its own in the list, and drop it once more."
        )
    return f"Two columns hold {FIELD_NAMES.get(doubt, doubt)}. Choose one of them."


def lacks_columns(fields: tuple[str, ...]) -> str:
    """Say why a layout cannot be taken."""
    return f"The list has no {' and no '.join(FIELD_NAMES.get(f, f) for f in fields)}."


def top_row(number: int, texts: tuple[str, ...]) -> str:
    """Show one of a list's first rows."""
    shown = ", ".join(texts[:5])
    return f"{number}: {shown[:70]}"


def begun(title: str) -> str:
    """Say that an order was begun."""
    return f"{title} is begun."


def still_reads(name: str) -> str:
    """Name a list that was dropped."""
    return f"An order out of {name}"


# About one

ABOUT_HOW = (
    "Whose party it is and the day may be engraved. Then make the cups again to see them so."
)
KEEP_ABOUT = "Keep it so"
NO_TITLE = "Enter whose party it is."
ORDER_LIES_IN = "The order lies in"


def about_changed(title: str, day_due: dt.date | None) -> str:
    """Say what an order is for now."""
    return f"{title}, {due(day_due) if day_due else 'without a day'}."
