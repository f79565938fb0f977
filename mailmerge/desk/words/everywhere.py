"""What is said in every place: who is let in, what needs a hand, how long work goes on."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from pathlib import Path

from mailmerge.desk.words.shop import LABELS
from mailmerge.units import counted

# The places of an order, in the order of the job

PLACES = {
    "list": "List",
    "cups": "Cups",
    "client": "Client",
    "bench": "Bench",
    "bill": "Bill",
}
ORDERS, SHOP, MANUAL = "Orders", "Shop", "Manual"

SKIP = "Skip to what is on this page"
WAYS = "Orders, shop and manual"
PLACES_OF_ORDER = "Places of this order"
NOTHING_NEEDED = "all clear"
CUPS_BEING_MADE, NO_CUPS_YET = "cups are being made", "no cups yet"
PACK_BEING_MADE = "the pack is being made"
ALL_ORDERS = "All orders"
BACK = "Go back"
SEEN = "Seen"
CHANGED_MEANWHILE = "Something was changed meanwhile. This page is as you left it."
LOOK_ANEW = "Look anew"
NOT_DONE = "That was not done"
WHAT_YOU_SENT = "What you have typed or chosen"
DESK_GONE = "The desk does not answer. Is its window still open? This page is as you left it."


def due(day: dt.date) -> str:
    """Say when an order is due."""
    return f"due {day:%a} {day.day} {day:%b %Y}"


# Who is let in

OTHER_HOST = "This desk answers only under its own address, on this computer."
OTHER_METHOD = "This desk is only asked and sent to."
OTHER_SITE = "Another page has sent this. Nothing was done."
NOT_LET_IN = (
    "This browser was not let in yet. Open the address that mailmerge desk shows when it starts."
)
NO_SUCH_ORDER = "The desk knows no such order. It may have been left out of the list."
NO_SUCH_PAGE = "There is no such page."
ODD_FORM = (
    "What was sent cannot be read as a form of this desk. Nothing was done. Open the page anew and "
    "try again."
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
    return f"That is larger than the {most / 1e6:.2g} MB that are taken here. Nothing was done."


ICON = "Cup desk"
ICON_IS = "Cups from a guest list"


def no_icon(reason: object) -> str:
    """Say that no icon can be put anywhere."""
    return f"No icon can be put on this desktop ({reason}). Start the desk with: mailmerge desk"


# What needs a hand


def list_needs(is_changed: bool, rows: int) -> str:
    """Say what the list needs."""
    if is_changed:
        return "changed since the cups were made"
    return need_a_hand(rows) if rows else ""


def need_a_hand(rows: int) -> str:
    """Say how many rows of a list need a hand."""
    return f"{counted(rows, 'row')} {'needs' if rows == 1 else 'need'} a hand"


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


NOTHING_CONFIRMED, NOTHING_ENGRAVED = "waits for a yes", "nothing yet"


def bench_needs(to_release: int, to_engrave: int, held: int) -> str:
    """Say what the bench can do."""
    said = [
        f"{to_release} to release" if to_release else "",
        f"{to_engrave} to engrave" if to_engrave else "",
        f"{held} held" if held else "",
    ]
    return ", ".join(each for each in said if each)


FORGOTTEN = "Names and pictures of this order were forgotten."

# Long work

CALL_OFF = "Call it off"
NOTHING_DONE_YET = "Nothing was done yet. It goes on with your answer."
NOTHING_ASKED = "Nothing is asked any more. Begin again."
NO_SUCH_CHOICE = "There is no such answer. Take one of those that are shown."


def so_far(done: int, total: int, rate: float | None, left: float | None) -> str:
    """Say how far long work is."""
    if not total:
        return "starting"
    if done == total:
        return f"{done} of {total}, nearly done"
    if rate is None or left is None:
        return f"{done} of {total}"
    speed = f"{rate:.1f}" if rate < 9.95 else f"{rate:.0f}"
    return f"{done} of {total}, {speed} a second, {duration(left)} left"


def duration(seconds: float) -> str:
    """Return a time in words, as exact as anybody wants to know it."""
    if seconds < 90:
        return f"{max(1, round(seconds))} s"
    return f"{round(seconds / 60)} min"


BEING_MADE, WAITS_ITS_TURN = "is being made", "waits for its turn"
WAITS_FOR_ANSWER = "waits for an answer above"
WHERE_IT_WAS_PRESSED = "See where it was pressed"


def more_wait(count: int) -> str:
    """Say that more is to be done after what is at work."""
    return f"then {count} more" if count else ""


MAKING_CUPS = "Making the cups"
MAKING_PACK, WRITING_RUN_SHEET = "Making the proof pack", "Writing the run sheet"
MAKES_NO_CUP = frozenset({MAKING_PACK, WRITING_RUN_SHEET})
CALLING_OFF = "It is called off, and ends as soon as the step that it is at is done."
CALLED_OFF = "It was called off. The order is as it was before."
OFF_TOO_LATE = "It was done before it could be called off."
BROKEN_OFF = (
    "The desk was ended in the middle of its work and has started anew. The order is as it was "
    "before. Begin again what was under way."
)
DO_IT_AGAIN = "Make the cups"
CUT_SHORT = "The desk was ended before this was done"
DO_NOW, LEAVE_UNDONE = "Do it now", "Leave it undone"
LEFT_UNDONE = "It was left undone. The order is as it was before."
ALSO_LEAVES = "What waits is left undone then as well."
LEFT_FOR_GOOD = "What is left undone is not offered again."


def called_off(is_done: bool) -> str:
    """Say how work has ended that was called off."""
    return OFF_TOO_LATE if is_done else CALLED_OFF


def how_it_stands(has_cups: bool, is_current: bool) -> str:
    """Say how an order stands whose work was cut short."""
    if not has_cups:
        return "Nothing is lost. No cups are made yet."
    if is_current:
        return "Nothing is lost. All cups are as the list and your record say now."
    return "Nothing is lost. Some cups are not yet as the list and your record say."


def goes_on(refused: Sequence[str]) -> str:
    """Say that what was cut short goes on, and what of it does not."""
    return " ".join(["It goes on where it was.", *refused] if refused else ["It goes on."])


def not_any_more(says: str, why: str) -> str:
    """Say that something cannot be done any more as it was pressed."""
    return f"Not done: {says}. {why}"


def pressed_for(row: int, name: str, says: str) -> str:
    """Say for whose cup something was pressed, and what."""
    return f"Row {row}, {name}: {says}"


def waits_for_answer(count: int) -> str:
    """Say what waits until a question is answered."""
    return f"{counted(count, 'other change')} {'waits' if count == 1 else 'wait'} for it"


WORK_DIED = "The work ended before its time. The order is as it was before. Try again."


def went_wrong(report: Path | None) -> str:
    """Say that the program broke while it made a page."""
    return (
        f"Something went wrong inside the program. The order is as it was before. Go back and try "
        f"again. {_report(report)}"
    )


def work_broke(report: Path | None) -> str:
    """Say that the program broke at long work."""
    return (
        f"Something went wrong inside the program. The order is as it was before. Try again. "
        f"{_report(report)}"
    )


def trying_broke(report: Path | None) -> str:
    """Say that the program broke while something was tried."""
    return (
        f"Something went wrong inside the program. Nothing was changed. Try something else. "
        f"{_report(report)}"
    )


def _report(report: Path | None) -> str:
    """Say where the report of a fault lies."""
    return f"The report {report} says where, without names." if report else "There is no report."


def at_work_already(doing: str) -> str:
    """Say that one thing is done after the other."""
    return f"{doing} is still at work. Wait for it, or call it off first."


# What the command line would have one type, told as a place of the desk

_INSTEAD = {
    "merge": "Make the cups, under Cups.",
    "check": "See why, under Cups.",
    "proof": "Make a new proof pack, under Client.",
    "confirm": "Put a yes on record, under Client.",
    "go-back": "See the earlier records, under Client.",
    "release": "Release it, at the Bench.",
    "new": "Drop a list on the page of all orders.",
}

_CALL = re.compile(
    r"(?:(?<=[.!?] )|^)[^.!?]*?: mailmerge ([a-z-]+)(?:.*?\. (?=[A-Z])|.*$)", re.DOTALL
)


def on_page(text: str, folder: object = "") -> str:
    """Return what a deed says, for somebody who has no command line and sees whose order it is."""
    text = text.removeprefix(f"{folder}: ").replace("Nothing is merged", "No cups were made")
    return _CALL.sub(lambda found: f"{_INSTEAD.get(found[1], '')} ", text).strip()


_CODE_POINT = re.compile(r" \(U\+[0-9A-F]{4,6}[^)]*\)")
_IN_A_FILE = ", or name it as fallback in the layout's file"


def at_desk(text: str) -> str:
    """Return what a finding says for somebody who sees letters, and no codes or files."""
    return _CODE_POINT.sub("", text).replace(_IN_A_FILE, "")


# Said in several places


def day(when: dt.date | dt.datetime) -> str:
    """Name a day."""
    return f"{when.day} {when:%b %Y}"


def to_release(count: int) -> str:
    """Say how many cups can be released."""
    return f"{counted(count, 'cup')} can be released"


def cups(count: int) -> str:
    """Return so many cups in words."""
    return counted(count, "cup")


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


FIELD_NAMES = {
    "name": "the whole name", "first": "first name", "last": "last name", "role": "role",
    "hand": "hand", "quantity": "how many cups", "side": "side", "blank": "blank",
    "coat": "coat", "motif": "motif", "language": "language", "note": "remark",
}  # fmt: skip


_FORM_FIELDS = FIELD_NAMES | {
    "one": "the one", "other": "the other", "title": "whose party", "due": "due", "by": "who",
    "because": "why", "text": "text", "layout": "layout", "people": "whose yes", "said": "message",
    "height": "letter height", "rows": "lines", "font": "font", "words": "words",
}  # fmt: skip


def sent_as(name: str) -> str:
    """Name a field of a form in which somebody types or chooses; ``""`` for any other."""
    if name.partition("-")[0] in ("saw", "seen"):
        return ""
    return LABELS.get(name) or _FORM_FIELDS.get(re.split(r"[-.]", name)[-1], "")
