"""What this room says to people."""

from __future__ import annotations

import datetime as dt
import hashlib
import math
import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from mailmerge.deeds.choosing import Blank, Machine
from mailmerge.deeds.status import Record
from mailmerge.units import counted, format_length, format_minutes, format_mm, in_a_row

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
NOTHING_NEEDED = "nothing to do"
ALL_ORDERS = "All orders"
BACK = "Go back"
SEEN = "Seen"
CHANGED_MEANWHILE = "Something was changed meanwhile. What you have typed is still here."
LOOK_ANEW = "Look anew"
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


ICON = "Cup desk"
ICON_IS = "Cups from a guest list"


def no_icon(reason: object) -> str:
    """Say that no icon can be put anywhere."""
    return f"No icon can be put on this desktop ({reason}). Start the desk with: mailmerge desk"


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


# Cups

MAKE_CUPS = "Make the cups"
MAKE_AGAIN = "Make what has changed"
NO_CUPS = "No cups were made yet"
CUPS_COME = "The cups come here as soon as they are made"
NO_CUPS_HOW = "Every guest gets a picture of the cup, with whatever could spoil it beside it."
PARTS = "All parts of the desk"


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
SAME_VALUES = "Nothing was different."
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


def values_changed(count: int) -> str:
    """Say that what holds for every order was changed."""
    return f"{counted(count, 'value')} changed, for every order."


def bad_quantity(found: str) -> str:
    """Say that something is no number of cups."""
    return f'"{found}" is not a number of cups. Enter numbers such as 12, 24, 48.'


# Client

MAKING_PACK = "Making the proof pack"
PASTED = "the message"
NOTHING_CAME = "Choose the file that came back, or paste the message."
NOTHING_TYPED = (
    "These are the words that stand on the cup now. Type other ones, or leave it as it is."
)
LONG_GONE = "This picture is gone. Type again."

YOUR_WORD = "Needs your word"
CAME_BACK = "Something came back?"
DROP_ANSWERS = "Drop it here"
DROP_ANSWERS_HOW = "the answers that the page has saved, the list filled in, or a text"
PASTE = "Or paste the message"
PASTE_HOW = "All of it, with greetings and all: text out of an e-mail, a chat or the PDF."
TAKE_IN = "Take it in"
STAYS_ON_RECORD = (
    "What came goes on record word for word, and stays there. A later word of the same person "
    "counts instead of it."
)
CANNOT_UNDO_YES = "A yes stays on record, and is not taken out again. Read the names first."

THE_PACK = "The proof pack"
NO_PACK = "No proof pack was made yet"
NO_PACK_HOW = "It shows the client every cup, close by, and asks: right, or change?"
MAKE_PACK = "Make the proof pack"
MAKE_PACK_ANEW = "Make a new one"
SEE_PACK = "See it as the client will"
SAVE_PACK = "Save as one file, to send"
PACK_IS_CURRENT = "It shows everything that is open, as it is now."
LANGUAGE = "Its language"
WHOSE_YES = "Whose yes you need"
WHOSE_YES_HOW = "One name a line. Nobody named: whoever answers speaks for the client."
ONE_IS_ENOUGH = "One of them is enough"
ALL_OF_THEM = "Each of them has to say yes"
SHOW_ALL = "Also show what is answered already"
NEW_TAB = "opens in a new tab"

STILL_OPEN = "Still open"
NOTHING_OPEN = "Nothing is open"
NOTHING_OPEN_HOW = "Every cup that can be shown has its answer."
NEVER_SHOWN = "not shown yet"
REMIND = "Remind the client"
REMIND_HOW = "Copy this text into a message. Nothing is sent from here."
COPY_TEXT = "Copy the text"
BY_PHONE = "A yes by telephone"
BY_PHONE_HOW = "Choose the cups above, then say who said yes, and how."
CHOOSE_ALL = "Choose all"
WHO_SAID_YES = "Who said it, and how"
WHO_SAID_YES_HOW = "such as: Anna Reed, by telephone"
ON_WHICH_DAY = "On which day"
PUT_YES = "Put the yes on record"

NOW = "Now"
AS_WISHED = "As wished"
ON_THE_CUP = "On the cup"
WISHED = "Wished"
TAKE_IT = "Take it"
OTHER_WORDS = "Other words"
MAKE_IT_SO = "Make it so"
LEAVE_IT = "Leave it as it is"
LEAVE_IT_HOW = "The cup still needs a yes. Your name and the reason go on record, and stay there."
YOUR_NAME = "Your name"
WHY = "Why"
NO_TEXT_TOLD = "The words do not say which text it should be."
STANDS_ON_RECORD = "The list stays as it is. The new text stands on record, and waits for a yes."
OPEN_ITEM = "All that was said"
DISAGREE_HOW = "People say different things. Take one, or leave it as it is."

QUESTION = "Question"
SETTLE = "It is settled"
AS_GUEST = "A guest who came late: make a cup"
WHAT_WAS_DONE = "What you did, or why nothing is to be done"
MAY_CONCERN = "Holds these cups:"
CONCERNS_NONE = "It holds no cup."
SETTLED_STAYS = "What you write goes on record, and stays there."

ANSWERED = "Answered"
EARLIER_RECORDS = "Earlier records"
EARLIER_RECORDS_HOW = (
    "The order keeps dated copies of its record. If it goes on with one of them, the present "
    "record is kept as a copy first, so you can come back to it."
)
PRESENT_RECORD = "The present record"
GO_ON_WITH_IT = "Go on with this one"
NO_RECORDS = "There is no earlier record yet."
HISTORY = "What was said and done"
NO_HISTORY = "Nothing was said about this cup yet."

CAME_TITLE = "This came back"
CAME_RIGHT = "Right"
CAME_WISHES = "To change"
CAME_KEPT = "On record, but it changes nothing now"
CAME_AGAIN = "Was on record already"
CAME_BESIDE = "What stood beside the answers"
CAME_LEFT_OUT = "Their rows are not in the list that came back"
CAME_ASKED = "Not understood: a question for you"


def stop_the_machine(item: int) -> str:
    """Say that what was taken back is just being engraved."""
    return f"Stop the machine: cup {item} is on it, its clock runs, and its file was taken back."


CAME_WITHDRAWN = "Taken back out of the folder to engrave from"
GO_ON = "Go on"
NOT_EXACT = (
    "A mail program has changed spaces or signs in the message, so no text is proposed. Ask how it "
    "is written, or for the file that the page saves."
)


def day(when: dt.date | dt.datetime) -> str:
    """Name a day."""
    return f"{when.day} {when:%b %Y}"


def moment(when: dt.datetime) -> str:
    """Name a day and an hour, by this computer's clock."""
    here = when.astimezone()
    return f"{day(here)}, {here:%H:%M}"


def talk_now(answered: int, open_ones: int, wishes: int, questions: int) -> str:
    """Say in one line where the talk stands."""
    need = [
        counted(wishes, "wish", "wishes") if wishes else "",
        counted(questions, "question") if questions else "",
    ]
    needs = " and ".join(each for each in need if each)
    told = f"{answered} answered, {open_ones} open."
    return f"{told} {needs} for you to settle." if needs else told


def open_since(when: dt.datetime | None) -> str:
    """Say since when a cup is open."""
    return f"since {day(when)}" if when else NEVER_SHOWN


def yes_of(people: tuple[str, ...], all_of_them: bool) -> str:
    """Say whose yes is missing."""
    return f"needs {in_a_row(people)}" if all_of_them else f"needs {' or '.join(people)}"


def pack_made(name: str, when: dt.datetime, cups: int) -> str:
    """Say which pack is the newest."""
    return f"Pack {name}, made {moment(when)}, shows {counted(cups, 'cup')}."


def pack_is_old(cups: int) -> str:
    """Say that a pack does not show everything as it is now."""
    return f"It does not show {counted(cups, 'open cup')} as it is now. Make a new one."


def not_in_pack(cups: int) -> str:
    """Say how many cups no pack can show."""
    verb = "is" if cups == 1 else "are"
    return f"{counted(cups, 'cup')} {verb} stopped and not in it. See Cups."


def file_size(size: int) -> str:
    """Name a file's size."""
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{max(1, round(size / 1000))} kB"


def reminder_for(person: str) -> str:
    """Head a text that reminds."""
    return f"{REMIND}: {person}" if person else REMIND


def picture_now(name: str) -> str:
    """Tell the picture of a cup as it is."""
    return f"The cup of {name} as it is now"


def picture_wished(name: str) -> str:
    """Tell the picture of a cup as somebody wants it."""
    return f"The cup of {name} as wished"


def wants(by: str, said: str) -> str:
    """Say who wants what."""
    return (
        f"{by or 'Somebody'} writes: {said}" if said else f"{by or 'Somebody'} wants another text."
    )


def says_right(by: str) -> str:
    """Say who says yes."""
    return f"{by or 'Somebody'} says that it is right."


def choose(number: int, name: str) -> str:
    """Name the box that chooses a cup."""
    return f"Choose cup {number}, {name}"


def asked_by(by: str, when: str) -> str:
    """Say who has sent what is not understood."""
    return f"From {by or 'somebody'}, {day(dt.datetime.fromisoformat(when))}"


def came_from(count: int, by: str) -> str:
    """Say how much came, and from whom."""
    if not count:
        return "No answers stand in it, only words."
    return f"{counted(count, 'answer')} from {by}." if by else f"{counted(count, 'answer')}."


def making_again(name: str) -> str:
    """Say which cup is made again."""
    return f"Making the cup of {name} again"


def stays(name: str, waits_for: str) -> str:
    """Say that a cup stays as it is."""
    return f"The cup of {name} stays as it is: {waits_for}."


def confirmed(names: list[str], unseen: int) -> str:
    """Say whose yes is on record."""
    told = f"The yes for {in_a_row(names)} is on record."
    if not unseen:
        return told
    return f"{told} For {counted(unseen, 'cup')} no pack has shown it as it is now."


def question_settled(number: int) -> str:
    """Say that a question is settled."""
    return f"Question {number} is settled."


def no_day(text: str) -> str:
    """Say how a day is given."""
    return f"{text}: This is no day. Give one such as 2026-12-05."


def went_back(is_copy: bool, aside: int) -> str:
    """Say with which record the order goes on."""
    told = "The order goes on with the earlier record." if is_copy else "The present record holds."
    if not aside:
        return told
    return f"{told} {counted(aside, 'file')} left the folder to engrave from and was put aside."


def in_record(totals: Mapping[str, int]) -> str:
    """Say what a record holds."""
    return ", ".join(f"{count} {standing}" for standing, count in totals.items()) or "nothing yet"


# Cups: which are shown, and one close by

WHICH_CUPS = "Which cups are shown"
OTHER_CUPS = "Other cups"
SEARCH_CUPS = "Search by name or number"
NO_CUP_FOUND = "No cup is like that"
SHOW_ALL_CUPS = "All cups"
CUP_BEFORE = "← Before"
CUP_AFTER = "Next →"
NO_SUCH_PICTURE = "There is no such picture of a cup."
WHOLE_PROOF = "The whole proof"
HOW_CUP_LIES = "How the cup lies on the machine"
AS_ENGRAVED = "As it is engraved"
FACE, HELD_BY, BLANK, STANDS = "Face", "Held by", "Cup", "Now"
SAID_AND_DONE = "What was said and done"


def choice_of_cups(choice: str) -> str:
    """Say which cups a choice shows: all, those that need a hand, or those that stand somewhere."""
    return {"": "all", "hand": "need a hand"}.get(choice) or standing(choice)


def cup_number(number: int) -> str:
    """Say which cup it is."""
    return f"Cup {number}"


def picture_of_cup(name: str) -> str:
    """Say what a picture shows."""
    return f"The cup of {name}"


def hand(hand: str) -> str:
    """Say which hand holds the cup."""
    return f"the {hand} hand"


def line_set(letter_height: float, font: str, in_set: bool) -> str:
    """Say how a line is set."""
    told = f"letters {letter_height:g} mm high, in {font}"
    return told if in_set else f"{told}, at a size of its own"


TRYING_DIED = "Trying it took too long, or went wrong. Nothing was changed. Try again."
WAYS_OUT = "Ways out"
WAYS_HOW = (
    "Each is made just as you see it. Taking one goes on the order's record; it can be undone."
)
LOOK_AT_WAY = "Look at it"
TAKE_WAY = "Take it"
NO_WAY = "No way out was found here. Ask the client, or type other words below."
OWN_TEXT = "Own words"
OWN_TEXT_HOW = "The client's list stays as it is. What you type stands on the order's record."
TRY = "Show it"
WOULD_BE_SO = "So it would be"


def letters_on_rows(letter_height: float, rows: int) -> str:
    """Say how large a line would be, and on how many rows."""
    told = f"{letter_height:.1f} mm"
    return told if rows == 1 else f"{told} on {rows} lines"


def sets_move(text: str, from_: float, to: float) -> str:
    """Say that a change would change the letters of all other cups."""
    return (
        f"The letters of {text} would be {to:.2f} mm high on all cups of the set. Now they are "
        f"{from_:.2f} mm."
    )


# Beginning an order, and the page of all orders

BEGIN_AN_ORDER = "Begin an order"
FINISHED = "Finished"
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
BEGIN = "Make the cups"
BEGIN_HOW = "All of this can be changed later."
LET_GO = "Leave it"
LIST_LET_GO = "No order was begun. The client's file is as it was."
NOT_THE_DAY = "Enter the day as year-month-day, such as 2027-01-16."
ODD_COLUMN = "Choose what the column holds from the list."

FIELD_NAMES = {
    "name": "the whole name", "first": "first name", "last": "last name", "role": "role",
    "hand": "hand", "quantity": "how many cups", "side": "side", "blank": "blank",
    "coat": "coat", "language": "language", "note": "remark",
}  # fmt: skip


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


# List

ROW = "Row"
ROWS_IN_NEED, ALL_ROWS = "What needs a hand", "All rows as they came"
NO_ROWS_IN_NEED = "Nothing in the list needs a hand"
NO_ROWS_IN_NEED_HOW = "Every guest's texts can be engraved as they are."
OWN_WORDS = "Other words"
OWN_WORDS_HOW = (
    "They stand in the place of the list's, on record. The client's file stays as it is."
)
PUT_SO = "Put it so"
TAKE_BACK = "Take it back"
AT_DESK = "the maker, at the desk"
CORRECTING = "Making the cup again"
ALL_OF_LIST = "About the whole list"
PUT_ALL = "Put all of them so"
NOTHING_NEW = "Nothing was changed. Type another text."
NEWER_LIST = "Drop a newer version of the list here"
NEWER_LIST_HOW = "What has changed is shown before it is taken."
NOT_CURRENT = "The list has changed since the cups were made."
MEANT_HERE = "Meant just so"
LIST_UNSURE = "Nobody can tell who is in which row now. The cups have to be made again first."

_MEANT = {
    "duplicate": "They are two people",
    "name-alike": "They are two people",
    "several-people": "One cup is for all of them",
    "stands-for-somebody": "The cup says just this",
    "not-a-name": "It is a name",
    "name-is-date": "The cup says just this",
}


def meant_so(code: str) -> str:
    """Name the way out that leaves a text as it is."""
    return _MEANT.get(code, "It is meant so")


def way(texts: Mapping[str, str]) -> str:
    """Name a way out by its outcome."""
    if set(texts) == {"first", "last"}:
        return f"{texts['first']} {texts['last']}"
    return ", ".join(text if name == "name" else _way(name, text) for name, text in texts.items())


def _way(name: str, text: str) -> str:
    return f"{FIELD_NAMES.get(name, name)}: {text}" if text else f"no {FIELD_NAMES.get(name, name)}"


_TOGETHER = {
    "all-capitals": "in capitals",
    "all-lower-case": "in small letters",
    "comma-in-name": "last name first",
    "wrong-code-page": "with letters read wrongly",
}


def together(code: str, rows: int) -> str:
    """Say how many rows have the same way out."""
    return f"{counted(rows, 'row')} {_TOGETHER[code]}"


def rows_of_list(rows: int, in_need: int) -> str:
    """Say how many rows need a hand."""
    hands = "needs" if in_need == 1 else "need"
    return f"{counted(rows, 'row')}, {in_need} of them {hands} a hand."


def corrected(by: str, at: str) -> str:
    """Say who has put a text there, and when."""
    day = dt.datetime.fromisoformat(at)
    return f"{by}, {day.day} {day:%b %H:%M}"


FATES = {
    "hidden": "hidden in the list, left out", "none_wanted": "no cup is wanted",
    "unread": "nothing in a column that is used",
}  # fmt: skip


def is_meant_so(text: str) -> str:
    """Say that a text is taken as it is."""
    return f"“{text}” is meant just so."


# A newer version of the list

NEWER_TITLE = "A newer version of the list"
TAKE_LIST = "Take this list"
LEAVE_LIST = "Leave it"
LIST_LEFT = "The order has the list that it had."
TAKING_LIST = "Taking the newer list"
COMPARED_ANEW = (
    "Something has changed since you looked. Look once more at what is new, then take it."
)
SAME_LIST = "It says the same as the list that you have"
NEW_GUESTS, CHANGED_GUESTS, GONE_GUESTS = "New", "Changed", "No longer in the list"
WAS, IS_NOW = "was", "now"
CUP_EXISTS = "a cup exists"
WHO_IS_WHO = "Who is who?"
FORMER_LISTS = "Former lists"
LOOK_AT_FORMER = "See what would change back"


def compared(new: int, changed: int, gone: int, as_before: int) -> str:
    """Say in one line what a newer list changes."""
    said = [
        f"{new} new" if new else "",
        f"{changed} changed" if changed else "",
        f"{gone} gone" if gone else "",
        f"{as_before} as before" if as_before else "",
    ]
    return ", ".join(each for each in said if each) + "."


def overtaken(row: int, text: str) -> str:
    """Say that the newer list counts more than a correction."""
    return (
        f"Row {row}: “{text}” was put in the place of the list's text. The newer list counts more."
    )


def former_until(until: dt.datetime) -> str:
    """Say until when a list was the order's."""
    return f"until {until:%a} {until.day} {until:%b %H:%M}"


NOTHING_DIFFERENT = "That is how it is already. Change something first."
SET_APART = "The cup is set so from now on."
AS_THE_OTHERS_NOW = "The cup is set as the others again."
AS_THE_OTHERS = "Set it as the others"
OF_ITS_OWN = "Set differently from its set"
CHANGE_CUP = "Change this cup"
CHANGE_HOW = "What you change is shown at once. Nothing is on record before you take it."
SET_LINE_HOW = "For this cup alone. The others of its set stay as they are."
LETTER_HEIGHT, BREAK, AS_ITS_SET = "Letter height in mm", "Lines", "as its set"
CONFIRMED_NO_MORE = "The client's yes does not count for a changed cup. It is asked for again."


def height_limits(least: float, most: float) -> str:
    """Say which letter heights are allowed."""
    return f"{least:g} to {most:g}; leave it empty for the size of the set"


def new_words(texts: Iterable[str]) -> str:
    """Say that a text is on record."""
    return f"{', '.join(texts)} is on record. The cup is made so."


def break_in_words(rows: Sequence[str]) -> str:
    """Show where a text is broken."""
    return " / ".join(rows)


def own_of(height: float | None, rows: Sequence[str], font: str) -> str:
    """Say what is a cup's own."""
    told = [
        f"letters {height:g} mm high" if height else "",
        f"on {counted(len(rows), 'line')}" if rows else "",
        f"in {font}" if font else "",
    ]
    return ", ".join(filter(None, told))


def said_by(by: str, at: str) -> str:
    """Say who said something, and when."""
    day = dt.datetime.fromisoformat(at)
    return f"{by}, {day.day} {day:%b %H:%M}" if by else f"{day.day} {day:%b %H:%M}"


CLOSE_BY = "Close by"
PUT_RIGHT = "Put right"
CUP = "cup"


# Shop

SHOP_PARTS = {
    "": "Values",
    "machines": "Machines",
    "blanks": "Blanks",
    "recipes": "Recipes",
    "cards": "Test cards",
    "fonts": "Fonts",
}
PARTS_OF_SHOP = "Parts of the shop"
SHOP_LEAD = "What holds for every order. Leave a field empty to go back to its default."
KEEP_VALUES, THE_DEFAULT = "Keep these", "back to the default"

GROUPS = (
    ("shop", "Your shop", "As it stands on quotes and run sheets.",
     ("shop.name", "shop.address", "shop.currency", "shop.locale")),
    ("new", "What a new order gets", "Each order can have others.",
     ("shop.machine", "shop.layout", "shop.paper")),
    ("hours", "When somebody is there", "A laser is never left alone: nothing runs outside these "
     "hours.", ("hours.",)),
    ("minutes", "Minutes of your time", "Beside what the machine takes.", ("minutes.",)),
    ("rates", "What an hour costs", "", ("rates.",)),
    ("price", "What a cup costs, and the price", "No tax rules are built in. Ask whoever does your "
     "taxes.", ("price.", "shop.spoilage")),
)  # fmt: skip
"""Short name, heading, what to know first, and the keys or their beginnings."""

LABELS = {
    "shop.address": "Address, telephone and e-mail, with a comma between lines",
    "shop.paper": "Paper",
    "shop.machine": "Machine",
    "shop.layout": "Layout",
    **{f"hours.{day}": day.capitalize() for day in (
        "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")},
}  # fmt: skip
"""Where the question that asks for a value is too long for a form."""

HOURS_HOW = "Such as 09:00-12:00, 13:00-17:00, or closed."


def value_from(source: str) -> str:
    """Say where a value of the shop comes from."""
    return {"shop.toml": "yours", "default": "a default"}[source]


MACHINES_LEAD = (
    "Typical profiles, and how a cup lies at the start. Compare one with your own machine before "
    "you trust it: what points where is what turns the names the right way up."
)
BLANK_ON_IT, ANY_BLANK = "Show them with this blank", "one that each of them takes"
FOR_NEW_ORDERS, TAKE_FOR_NEW_ORDERS = "for new orders", "Take it for new orders"
OWN_MACHINE, OWN_MACHINE_HOW = (
    "Your own machine",
    "A file with your machine's own numbers, on this computer. The manual says what stands in it.",
)
PATH_OF_MACHINE = "The file's place"
BLANKS_LEAD = (
    "All are drawn to one scale, each beside its wall unrolled. Hatched: what stays free. Dashed: "
    "what one sees at once. The sizes are typical: measure your own cup before you engrave."
)
AROUND, HEIGHT, BAND, COATS, FACES, KEPT_FREE = (
    "Around", "Height", "May be engraved", "Coats", "Seen at once", "Kept free",
)  # fmt: skip
MAY_COME_OFF = "comes off to engrave"


def machine_facts(machine: Machine) -> list[tuple[str, str]]:
    """Return what a machine's profile says."""
    beams = {"diode": "diode laser", "co2": "CO2 laser", "fibre": "fibre laser"}
    facts = [
        ("Beam", beams.get(machine.beam or "", "not said")),
        ("Narrowest line", f"{machine.spot:g} mm"),
        ("Bed", f"{machine.bed.width:g} × {machine.bed.depth:g} mm"),
    ]
    if machine.speed:
        facts.append(("Fastest", f"{machine.speed:g} mm/s"))
    if machine.run_up is not None:
        facts.append(("Run-up to it", f"{machine.run_up:.1f} mm"))
    if rotary := machine.rotary:
        smallest, largest = rotary.smallest_diameter, rotary.largest_diameter
        facts += [
            ("Turns a cup with", {"chuck": "a chuck", "roller": "rollers"}[rotary.drive]),
            ("Takes, across", f"{smallest:g} to {largest:g} mm"),
            ("Longest wall", f"{rotary.length:g} mm"),
            ("Head above wall", f"{rotary.clearance:g} mm, in focus"),
        ]
    return facts


def around(blank: Blank) -> str:
    """Say how large a blank is: around, at mouth and base where that differs, or across."""
    if blank.is_flat:
        return f"flat, {format_mm(blank.page_width)} wide"
    if blank.taper:
        mouth, base = blank.circumference_at(blank.height), blank.circumference_at(0.0)
        return f"{format_mm(mouth)} at the mouth, {format_mm(base)} at the base"
    across = format_mm(blank.page_width / math.pi)
    return f"{format_length(blank.page_width, blank.inches)} ({across} across)"


def lies_on(name: str, machine: str) -> str:
    """Say what a picture of a blank on a machine shows."""
    return f"How {name} lies on {machine} at the start: seen into its mouth, and from above"


def to_scale(name: str) -> str:
    """Say what a picture of a blank shows."""
    return f"{name} to scale, beside its wall unrolled"


def high(blank: Blank) -> str:
    """Say how high a blank is."""
    leaning = f" along the wall, which leans by {abs(blank.tilt):.1f}°" if blank.taper else ""
    return f"{format_mm(blank.height)}{leaning}"


def band(blank: Blank) -> str:
    """Say between which heights one may engrave."""
    return f"{format_mm(blank.band.from_)} to {format_mm(blank.band.to)} above the base"


def zones(blank: Blank) -> list[str]:
    """Say what of the wall is kept free, each zone by itself."""
    found = []
    for zone in blank.zones:
        if not zone.edge:
            continue
        room = "all around" if zone.goes_around else f"{format_mm(2 * zone.edge)} wide"
        part = zone.from_ > 0 or zone.to is not None
        top = blank.height if zone.to is None else zone.to
        heights = f", {format_mm(zone.from_)} to {format_mm(top)} above the base" if part else ""
        off = f", {MAY_COME_OFF}" if zone.comes_off else ""
        found.append(f"{zone.word}: {room}{heights}{off}")
    if blank.edge:
        found.append(f"edges: {format_mm(blank.edge)} each")
    return found


def face_width(who: str, width: float) -> str:
    """Say how wide a face is."""
    seen = {"drinker": "by whoever drinks", "onlookers": "by others", "opposite": "opposite"}
    return f"{format_mm(width)} {seen.get(who, who)}" if width else f"nothing {seen.get(who, who)}"


FONTS_LEAD = (
    "Each font in its own letters. Choose an order to see its shortest, longest and trickiest name "
    "in each, and what each lacks."
)
IN_NAMES_OF, NO_ORDERS_NAMES = "In the names of", "no order"
IN_THESE_WORDS = "Or in these words"
WRITES_ALL = "writes all names"
LACKS, AS_ONE_SET, WEIGHTS, LICENCE = "Lacks", "As one set", "Weights", "Licence"


def in_letters(family: str) -> str:
    """Say what a picture of a font shows."""
    return f"{family}, in its own letters"


def cannot_write(count: int) -> str:
    """Say how many names a font cannot write."""
    return f"cannot write {counted(count, 'name')}"


def too_long(count: int) -> str:
    """Say how many names do not fit."""
    return f"{counted(count, 'name')} too long"


def set_height(height: float | None) -> str:
    """Say how large the names of an order come out as one set."""
    return "no name fits" if height is None else f"letters {format_mm(height)} high"


# Recipes and test cards

RECIPES_LEAD = (
    "Settings that you have tried, for a coat on a machine. The newest one counts, for times and "
    "on the run sheet."
)
COUNTS, NEWER_ONE, ANY = "counts", "a newer one counts", "any"
MACHINE, TRIED_BLANK, COAT, BEAM, TRIED = "Machine", "Blank", "Coat", "Beam", "Tried on"
TAKE_OUT, NOT_AFTER_ALL, WAS_PUT_BACK = "Take it out", "Not after all", "It was put back."
RECIPE_OUT = "The recipe was taken out. It counts no more."
NO_RECIPES = "No recipe was kept yet"
NO_RECIPES_HOW = "Make a test card for a coat, and keep the cell that came out best."
STARTING_POINTS = "Where a test card begins"
STARTING_POINTS_HOW = "For powder coat on steel. Nobody has tried them on your machine."
KEEP_BY_HAND, KEEP_RECIPE = "Settings that you found otherwise", "Keep this recipe"
KEEP_BY_HAND_HOW = "Only what you have tried on a test piece."
SHOPS_MACHINE = "the one for new orders"
OUTCOME, REMARKS = "How did it come out?", "What else is worth knowing"
CARDS_LEAD = (
    "A test card finds the settings for a coat: a grid of settings on a test piece, of which you "
    "keep the best cell. A spoiled cup with the same coat is good for that."
)
NONE_KEPT = "no cell was kept yet"
NO_CARDS, NO_CARDS_HOW = "No test card was made yet", "Make the first one below."
NEW_CARD, MAKE_CARD = "Make a test card", "Make the card"
TEST_PIECE, WHERE_ON_IT = "Test piece and its coat", "Where on it"
CARD_FACES = {
    "opposite": "opposite the handle",
    "drinker": "where the drinker looks",
    "onlookers": "where others look",
}
FROM_VALUE, TO_VALUE, HOW_MANY_VALUES = "From", "To", "How many"
PASSES_HOW = "Or several, such as 1, 2: each cell is tried with each."
INTERVAL_HOW = "Leave it empty for the width of the beam."
A_DOZEN = "A dozen cells are a good beginning, because you type their settings in by hand."
CARD_STEPS = (
    "Save the artwork, and print the key.",
    "Load the artwork. Every cell is a group with a colour of its own: give each the settings that "
    "the key says.",
    "Engrave the card, and stay beside it. Let it cool, and wipe it.",
    "Look for the cell whose patch is even, whose line is whole and whose word can be read. Press "
    "it below.",
)
SAVE_ARTWORK, PRINT_KEY = "Save the artwork", "Print the key"
BEST_CELL, KEEP_CELL = "Which cell came out best?", "Keep this cell"
NO_CELL = "Press the cell that came out best first."
CELL_KEPT, KEPT_OF_IT = "kept", "Kept of this card"
CARD_AWAY = "Take this card out of the shop"
CARD_OUT = "The test card was taken out. Recipes that were kept of it stay."


def card_title(coat: str) -> str:
    """Name a test card."""
    return f"Test card for {coat}"


def card_made(found: str) -> str:
    """Say that a test card was made."""
    return f"The card is ready. {found}".strip()


def cells_kept(names: str) -> str:
    """Say which cells of a card were kept."""
    return f"kept: {names}"


def cell(name: str, settings: str) -> str:
    """Name a cell of a card, with its settings."""
    return f"{name}: {settings}"


def passes(count: int) -> str:
    """Say how many passes there are."""
    return counted(count, "pass", "passes")


def recipe_kept(settings: str, doubt: str) -> str:
    """Say that a recipe was kept."""
    return f"Kept: {settings}. {doubt}".strip()


def bad_day(found: str) -> str:
    """Say that something is no day."""
    return f'"{found}" is not a day. Enter one such as 2026-11-27.'


def bad_field(label: str, reason: object) -> str:
    """Say what is wrong with a field."""
    return f"{label}: {reason}"


# Manual

ALL_PAGES = "All pages of the manual"
TASKS, FILES_AND_WORDS = "What to do", "What files and messages say"


# Looks: blank, measuring, layout

BLANK_AND_COAT = "Blank and coat"
BLANK_HOW = (
    "Press a coat to take that blank. Cups that are engraved stay as they are. What changes has to "
    "be confirmed anew."
)
MEASURE_YOUR_OWN = "Measure your own"
BACK_TO_CUPS = "Back to the cups"
ALL_TO_SCALE = "All to one scale"
FACE_OF_DRINKER = "the face that the drinker sees"
OTHER_FACES = "the other faces"
LEGEND_BAND = "the band that may be engraved"
LEGEND_FREE = "kept free: handle, seam or mark"
YOUR_OWN = "your own"
TAKEN = "taken now"
NO_SUCH_BLANK = "That blank is not there any more. Look at the page again."
AROUND_WALL, AROUND_MOUTH_BASE, WALL_HEIGHT, BAND_HEIGHT = (
    "Around", "Around mouth and base", "Height of the wall", "Band",
)  # fmt: skip
ACROSS_FLAT, DRINKERS_FACE, FREE_AT_ZERO = "Width", "Drinker's face", "Kept free at the handle"
FREE_AT_SEAM = "Kept free at the seam"


def cup_drawn(name: str) -> str:
    """Say what a drawing shows."""
    return f"{name}, drawn to scale"


def cup_and_wall(name: str) -> str:
    """Say what a drawing of the blank that is taken shows."""
    return f"{name} and its wall unrolled, with its faces and what is kept free"


def blank_taken(name: str, coat: str) -> str:
    """Say which blank an order is made of now."""
    return f"The order is made of {name} in {coat} now. Make the cups again to see them so."


def size_of(around: str, height: str) -> str:
    """Say how large a blank is."""
    return f"{around} around, {height} high"


def size_of_flat(width: str, height: str) -> str:
    """Say how large flat goods are."""
    return f"{width} wide, {height} high"


def from_to(low: str, high: str) -> str:
    """Say where something begins and ends."""
    return f"{low} to {high}"


LAYOUT = "Layout"
LAYOUT_HOW = (
    "Each with this order's own names: a short one, the longest, and the one with the most unusual "
    "letters."
)
CHANGE_LAYOUT = "Change a layout"
CHANGE_LAYOUT_HOW = (
    "The cups follow what you change. Nothing happens to the order until you keep it."
)
ALL_LAYOUTS = "All layouts"
CHANGE_IT = "Change it"
DOES_NOT_SUIT = "It does not suit this list."
NO_SUCH_LAYOUT = "That layout is not there any more. Look at the page again."
TOO_LONG = "Names that are too long"
LETTERS_LACKING = "Names with letters that a font lacks"
NAME_OF_YOUR_LAYOUT = "What your layout is called"
FOR_ALL_ORDERS = "Also for other orders"
KEEP_AND_TAKE = "Keep it and take it"
KEEPING_HOW = (
    "It becomes a layout of your own; the one it began from stays as it is. The order can go back "
    "with one press."
)
WHAT_IT_SAYS, FONT, WEIGHT = "What it says", "Font", "Weight"
LARGEST_LETTERS, LEAST_LETTERS = "Largest letters", "Least letters"
ONE_SIZE, ROWS, GAP_ABOVE = "One size for", "Rows at most", "Gap above it"
CAPITALS, TRACKING = "Capitals", "Letter spacing"
WHERE_IT_STANDS = "Arc, ring, face and initials"
ON_FACE, AT_HEIGHT, IN_THE_STACK = "Face", "Middle above the base", "with the others"
ARC_RADIUS, ARC_BOW, STRAIGHT = "Radius of its arc", "Arc's middle", "straight"
RING_HEIGHT, NO_RING = "Ring around the cup at", "no ring"
RING_FILL, RING_REPEAT = "Letters fill the ring", "Text repeats on the ring"
INITIALS = "Initials"
TAKE_OUT_LINE, TAKE_OUT_DRAWING = "Take this line out", "Take it out"
ORNAMENT, BORDER, DRAWING = "Ornament", "Band of drawings around the cup", "Drawing"
WITH_LINE, PLACE = "With line", "Place"
WIDTH_AT_MOST, HEIGHT_AT_MOST = "Width at most", "Height at most"
GAP_TO_LINE, GAP_BETWEEN = "Gap to the line", "Gap between two"
ADD_LINE, ADD_ORNAMENT, ADD_BORDER = "Add a line", "Add an ornament", "Add a band of drawings"
LINE_FACES = {
    "drinker": "the drinker's",
    "onlookers": "the onlookers'",
    "opposite": "opposite the handle",
}
OTHER_FACES_TO_CHOOSE = {"": "as the layout", **LINE_FACES}
SIZINGS = {"": "each name its own", "set": "the whole set", "role": "each role"}
ROW_COUNTS = {"": "1", "2": "2", "3": "3"}
CASES = {"": "as typed", "upper": "all capitals", "title": "first letters"}
BOWS = {"": "up", "down": "down"}
YES_OR_NO = {"": "no", "true": "yes"}
MONOGRAMS = {"": "no", "even": "all of one height", "tall-middle": "the middle one taller"}
PLACES_OF_ORNAMENT = {"": "above it", "below": "below it", "beside": "on both sides"}
_FIELDS_CALLED = {
    "order.title": "the event", "order.subtitle": "the line below the event",
    "order.due": "the day", "first": "first name", "last": "last name",
}  # fmt: skip
_TELLING = ("A short name", "The longest name", "The name with the most unusual letters")


def layout_taken(name: str) -> str:
    """Say with which layout an order is made now."""
    return f"The order is made with {name} now. Make the cups again to see them so."


def layout_kept(name: str) -> str:
    """Say that a layout was kept."""
    return f"{name} is kept, and the order is made with it now. Make the cups again to see them so."


def take_called(name: str) -> str:
    """Say which layout a button takes."""
    return f"Take {name}"


def not_to_choose_from(found: str) -> str:
    """Say that a font or drawing is none of those to choose from."""
    return f"{found} is none of the fonts and drawings to choose from."


def telling_cup(which: int, layout: str) -> str:
    """Say what a picture of a layout shows."""
    return f"{_TELLING[which]} in {layout}"


def letters_high(letter_height: float) -> str:
    """Say how large the letters of a set are."""
    return f"{letter_height:.2f} mm"


def changing(name: str) -> str:
    """Say which layout is changed."""
    return f"Change {name}"


def line_called(number: int, text: str) -> str:
    """Say which line it is."""
    return f"Line {number}: {text}"


def field_called(field: str) -> str:
    """Say what a line may hold."""
    return _FIELDS_CALLED.get(field, field)


def lines_to_choose(lines: Sequence[Mapping[str, str]]) -> dict[str, str]:
    """Return the lines that an ornament may stand with."""
    return {str(at): f"{at}: {line['text']}" for at, line in enumerate(lines, start=1)}


MEASURE = "Measure a blank"
MEASURE_HOW = (
    "Type what you read, with its unit: 11 5/8 in or 295 mm. Read the tape several times, with "
    "commas between. The drawing shows where each measure is taken."
)
WHERE_TAPE_GOES = "The cup as it is measured so far, and where each measure is taken"
MEASURE_ON = "Measure around the wall and its height to see how wide the faces are."
KEEP_BLANK = "Keep this blank"
KEEP_BLANK_HOW = "It lies beside this order and stays there. Nothing that you have is changed."
MEASURES = {
    "name": "What the blank is called",
    "tapered": "Is the wall tapered?",
    "around": "Around the wall, by tape",
    "across": "Across the wall, by callipers",
    "around-base": "Around at the lower tape",
    "across-base": "Across at the lower tape, by callipers",
    "around-top": "Around at the upper tape",
    "across-top": "Across at the upper tape, by callipers",
    "apart": "From tape to tape, along the wall",
    "lower": "The lower tape above the base",
    "height": "Height of the wall, along it",
    "band-from": "Engraving may begin above the base at",
    "band-to": "Engraving may reach up to",
    "handle": "Handle and its brackets along the wall, 0 for none",
    "clearance": "Kept free on each side of it",
    "comes-off": "Does the handle come off?",
    "stands-out": "How far what stays on the cup stands out",
    "coats": "Its coats, with commas between",
}
_FACES_CALLED = {
    "drinker": "Face that the drinker sees",
    "onlookers": "Face that the onlookers see",
    "opposite": "Face opposite the handle",
}


def face_of(whose: str) -> str:
    """Say whose face it is."""
    return _FACES_CALLED.get(whose, whose)


def blank_kept(name: str) -> str:
    """Say that a measured blank was kept."""
    return f"{name} is kept. Press one of its coats to take it."


SEE_FONTS = "See the fonts in their own letters"
FONTS_IN_LETTERS = "Fonts in their own letters"
FONTS_HOW = "Press one to take it for the line. Those that have all letters of the list come first."


def lacks_letters_of(names: int) -> str:
    """Say of how many names a font lacks letters."""
    return f"lacks letters of {counted(names, 'name')}"


# What the command line would have one type, told as a place of the desk

_INSTEAD = {
    "merge": "Make what has changed, under Cups.",
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
    text = text.removeprefix(f"{folder}: ")
    return _CALL.sub(lambda found: f"{_INSTEAD.get(found[1], '')} ", text).strip()


# Bench: the file

FILES_LIE_IN = "It lies in this folder"
SAVE_FILE, COPY_FOLDER = "Save the file", "Copy the folder"
SEE_CUP = "See its cup"
