"""What this room says to people."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterable
from decimal import Decimal

from mailmerge.deeds.status import Record
from mailmerge.units import counted, format_minutes

# The places of an order, in the order of the job

PLACES = {
    "list": "List",
    "cups": "Cups",
    "client": "Client",
    "bench": "Bench",
    "bill": "Bill",
}
ORDERS, SHOP = "Orders", "Shop"

SKIP = "Skip to what is on this page"
WAYS = "Orders and shop"
PLACES_OF_ORDER = "Places of this order"
NOTHING_NEEDED = "nothing to do"
ALL_ORDERS = "All orders"
BACK = "Go back"
SEEN = "Seen"
NOT_DONE = "That was not done"
DESK_GONE = "The desk does not answer. Is its window still open? What you typed is still here."


def due(day: dt.date) -> str:
    """Say when an order is due."""
    return f"due {day:%a} {day.day} {day:%b %Y}"


# Who is let in

OTHER_HOST = "This desk answers only under its own address, on this computer."
OTHER_SITE = "Another page has sent this. Nothing was done."
NOT_LET_IN = (
    "This browser was not let in yet. Open the address that mailmerge desk shows when it starts."
)
NO_SUCH_ORDER = "The desk knows no such order. It may have been left out of the list."
NO_SUCH_PAGE = "There is no such page."
WENT_WRONG = (
    "Something went wrong inside the program. The order is as it was before. Go back and try "
    "again; the window in which the desk runs shows what happened."
)
TOO_LARGE = "That is larger than what is taken here. Nothing was done."
NO_FILE = "No file has come. Choose one, or drop it on the page."


def port_taken(port: int) -> str:
    """Say that something else answers there."""
    return f"Port {port} is taken. Give another one, or none at all."


NO_NETWORK = (
    "This computer is in no network now. Connect it to the workshop's own, and start again."
)


def too_large(most: int) -> str:
    """Say that more was sent than is taken."""
    return f"That is larger than the {most / 1e6:g} MB that are taken here. Nothing was done."


# What needs a hand


def list_needs(is_changed: bool, doubts: int) -> str:
    """Say what the list needs."""
    if is_changed:
        return "changed since the cups were made"
    return counted(doubts, "doubt") if doubts else ""


def cups_need(stopped: int) -> str:
    """Say how many cups are stopped."""
    return f"{stopped} stopped" if stopped else ""


def client_needs(waiting: int, wishes: int, questions: int) -> str:
    """Say what is open with the client."""
    said = [
        f"{waiting} open" if waiting else "",
        counted(wishes, "wish", "wishes") if wishes else "",
        counted(questions, "question") if questions else "",
    ]
    return ", ".join(each for each in said if each)


def bench_needs(to_release: int, to_engrave: int) -> str:
    """Say what the bench can do."""
    said = [
        f"{to_release} to release" if to_release else "",
        f"{to_engrave} to engrave" if to_engrave else "",
    ]
    return ", ".join(each for each in said if each)


FORGOTTEN = "Names and pictures of this order were forgotten."

# Long work

CALL_OFF = "Call it off"
NOTHING_DONE_YET = "Nothing was done yet. It goes on with your answer."
NOTHING_ASKED = "Nothing is asked any more. Begin again."
NO_SUCH_CHOICE = "There is no such answer. Take one of those that are shown."


def so_far(done: int, total: int, rate: float, left: float | None) -> str:
    """Say how far long work is."""
    if not total or left is None:
        return "starting"
    return f"{done} of {total}, {rate:.0f} a second, {duration(left)} left"


def duration(seconds: float) -> str:
    """Return a time in words, as exact as anybody wants to know it."""
    if seconds < 90:
        return f"{max(1, round(seconds))} s"
    return f"{round(seconds / 60)} min"


MAKING_CUPS = "Making the cups"
CALLED_OFF = "It was called off. The order is as it was before."
WORK_DIED = "The work ended before its time. The order is as it was before. Try again."


def at_work_already(doing: str) -> str:
    """Say that one thing is done after the other."""
    return f"{doing} is still at work. Wait for it, or call it off first."


# Orders

DROP_LIST = "Drop the client's list here"
DROP_LIST_HOW = "or choose it: a spreadsheet (.xlsx, .ods) or a text file (.csv)"
NO_ORDERS = "No order is open"
NO_ORDERS_HOW = "Drop a client's list of names above, and the first order begins."
OPEN_FOLDER = "Open an order that is on this computer"
PATH_OF_ORDER = "The order's folder"
OPEN = "Open"
NO_PATH = "Enter the folder of the order."


def begun(title: str) -> str:
    """Say that an order was begun."""
    return f"{title} was begun. Make the cups to see them."


# Cups

MAKE_CUPS = "Make the cups"
MAKE_AGAIN = "Make what has changed"
NO_CUPS = "No cups were made yet"
NO_CUPS_HOW = "Every guest gets a picture of the cup, with whatever could spoil it beside it."
LARGE = "Large picture"
PARTS = "All parts of the desk"
NOTHING_HERE = "Nothing is here yet"


def cups_shown(ready: int, all_of_them: int) -> str:
    """Say how many cups are ready."""
    return f"{ready} of {all_of_them} cups are ready."


def no_such_cup(number: int) -> str:
    """Say that there is no such cup."""
    return f"There is no cup {number} in this order now."


_STANDINGS = {
    "waiting": ("waits for a yes", ""),
    "to change": ("to change", "doubt"),
    "they disagree": ("they disagree", "doubt"),
    "in question": ("in question", "doubt"),
    "stopped": ("stopped", "stop"),
    "confirmed": ("confirmed", "right"),
    "released": ("to engrave", "mark"),
    "engraved": ("engraved", "right"),
    "spoiled": ("to make again", "doubt"),
    "gone": ("no longer in the list", ""),
}

LOOK_OF = {standing: look for standing, (_, look) in _STANDINGS.items()}
"""In which of the colours of a tag each standing is shown."""


def standing(found: str) -> str:
    """Say where a cup stands."""
    return _STANDINGS[found][0]


# Bench

RELEASE = "Release them to engrave"
RELEASE_HOW = (
    "What is confirmed goes into the folder to engrave from, exactly as the client saw it."
)
RELEASE_WITHOUT_YES = "Release a cup without the client's yes"
REASON_WITHOUT_YES = "Why it is engraved without a yes; it stands on the run sheet"
NOTHING_RELEASED = "Nothing was released. Every cup that is left waits for something."
NO_RUN = "Nothing is to be engraved now"
NO_RUN_HOW = "Cups come here when the client has said yes and you release them."
ALL_DONE = "All cups of this order are engraved"
ALL_DONE_HOW = "Look at each in daylight, letter by letter. Then see what to charge."
CAUTIONS = "Before you start"
LETTER_BY_LETTER = "Letter by letter"
HOW_IT_LIES = "How it lies"
HOW_IT_WILL_LOOK = "How it will look"
TO_LOAD = "Load this file"
COPY, COPIED = "Copy the name", "Copied"
SETTINGS = "Settings"
POWER, SPEED, PASSES, INTERVAL = "Power", "Speed", "Passes", "Line to line"
NO_SETTINGS = "No settings are known for this coat on this machine. Make a test card first."
START_CLOCK, STOP_CLOCK = "Start the clock", "Stop the clock"
ENGRAVED, SPOILED, SKIP_THIS = "Engraved", "Spoiled", "Another one first"
WHAT_HAPPENED = "What happened? It helps to know how many spare blanks to order."
PUT_ON_RECORD = "Put it on record"
STEPS = "Step by step"
LEFT_HAND = "LEFT HAND"
UNDO = "That was a mistake"
WITHOUT_YES = "Without the client's yes"
LOOK_FIRST = "Look at this first"


def of_run(place: int, left: int, engraved: int) -> str:
    """Say where in the run a cup stands."""
    done = f", {engraved} engraved" if engraved else ""
    return f"Cup {place} of {left} to engrave{done}"


def to_release(count: int) -> str:
    """Say how many cups can be released."""
    return f"{counted(count, 'cup')} can be released"


def released(count: int) -> str:
    """Say that cups were released."""
    return f"{counted(count, 'cup')} released. The files are in the folder to engrave from."


def not_released(refused: Iterable[tuple[Record, str]]) -> str:
    """Say why confirmed cups were not released."""
    return " ".join(f"{record.number} {record.name}: {why}" for record, why in refused)


def file_measures(width: float, height: float) -> str:
    """Say what the file must measure."""
    return f"It must measure {width:.1f} × {height:.1f} mm. If it does not, do not engrave it."


def takes(seconds: float) -> str:
    """Say how long a cup takes at the machine."""
    return f"About {format_minutes(seconds)} at the machine"


def limited(limit: float) -> str:
    """Say that a machine cannot be as fast as it is set."""
    return f"The machine moves at {limit:g} mm/s at most on this axis."


def is_engraved(name: str, took: float | None) -> str:
    """Say that a cup is on record as engraved."""
    time = f" It took {format_minutes(took)}." if took is not None else ""
    return f"{name} is engraved.{time}"


def is_spoiled(name: str) -> str:
    """Say that a blank is on record as lost."""
    return f"The blank of {name} is on record as lost. Release the cup again when it can be made."


def taken_back(name: str) -> str:
    """Say that something was taken back."""
    return f"That was taken back. {name} stands where it stood before."


def clock_stopped(took: float, why_not: str) -> str:
    """Say what the clock has said."""
    more = f" Estimates learn nothing from it: {why_not}" if why_not else ""
    return f"The clock said {format_minutes(took)}.{more}"


def digest_of(told: Iterable[str]) -> str:
    """Return a short digest of texts."""
    return hashlib.sha256("\n".join(told).encode()).hexdigest()[:16]


# Bill

ALL_COSTS, A_CUP, WITHOUT_TAX = "All costs", "A cup", "Without tax"
CLIENT_PAYS, DEPOSIT, FEES, LEFT_FOR_YOU = "The client pays", "Deposit", "Fees", "Left for you"
BLANKS_TO_BUY, AT_MACHINE = "Blanks to buy", "At the machine, without loading"
NO_BILL = "Nothing can be worked out yet"
NO_TIME_KNOWN = "How long it takes is not known without settings."
NOTHING_LEFT_FOR_YOU = "Nothing is left for you at this price."
QUOTE_FOR_CLIENT, RUN_SHEET_FOR_MACHINE = "Quote for the client", "Run sheet for the machine"
OPENS_AS_PAPER = "Each opens as a PDF. What it costs you is not on the quote."
HOW_IT_COMES = "How the price comes about"
FOR_YOU_ALONE, HOW, AMOUNT, FROM = "For you alone", "How", "Amount", "Where the numbers come from"
NO_TAX_RULES = "No tax rules are built in. Ask whoever does your taxes."
OTHER_QUANTITIES, QUANTITIES, SHOW = (
    "Other quantities",
    "Numbers of cups, such as 12, 24, 48",
    "Show",
)
CUPS, OFF = "Cups", "Off"
YOUR_NUMBERS, KEEP_NUMBERS = "Your numbers", "Keep these numbers"
YOUR_NUMBERS_HOW = "They hold for every order. Leave a field empty to go back to its default."
NOTHING_CHANGED = "Nothing was different."
UNDO_CHANGE = "Put it back"


def cups(count: int) -> str:
    """Return so many cups in words."""
    return counted(count, "cup")


def cups_at(count: int, each: str) -> str:
    """Say how many cups at which price."""
    return f"{counted(count, 'cup')} at {each}"


def percent(number: Decimal) -> str:
    """Return a share in percent."""
    return f"{number:f} %"


def percent_off(number: Decimal) -> str:
    """Say how much a quantity takes off."""
    return f"{number:f} % off from this quantity on" if number else "as it is told"


def margin(found: Decimal, wanted: Decimal) -> str:
    """Say what share of the price is left."""
    return f"{found:.1f} % of the price; wanted {wanted:f} %"


def with_spares(spares: int, rate: Decimal, source: str) -> str:
    """Say how many blanks are for those that are lost."""
    return f"{counted(spares, 'spare')} among them, for {rate:f} % spoiled ({source})"


def done_on(day: str, in_time: bool | None) -> str:
    """Say when all of it is done."""
    late = {True: " That is in time.", False: " That is too late.", None: ""}[in_time]
    return f"Done {day}, if you begin now.{late}"


def origin(source: str) -> str:
    """Say where a number comes from."""
    return _ORIGINS.get(source, source)


_ORIGINS = {
    "shop.toml": "your numbers",
    "default": "a default",
    "shop.toml and default": "your numbers, and defaults",
}


def numbers_changed(count: int) -> str:
    """Say that the shop's numbers were changed."""
    return f"{counted(count, 'number')} changed, for every order."


def bad_quantity(found: str) -> str:
    """Say that something is no number of cups."""
    return f'"{found}" is not a number of cups. Enter numbers such as 12, 24, 48.'
