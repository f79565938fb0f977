"""What is said in List, and of a newer version of it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence

from mailmerge.desk.words.everywhere import FIELD_NAMES, need_a_hand
from mailmerge.units import counted

# List

ROW = "Row"
ROWS_IN_NEED, ALL_ROWS = "What needs a hand", "All rows as they came"
NO_ROWS_IN_NEED = "Nothing in the list needs a hand"
NO_ROWS_IN_NEED_HOW = "Every guest's texts can be engraved as they are."
TWO_PEOPLE, TWO_CUPS = "Two people", "Two cups:"
ONE_AND_OTHER = {"one": "The one", "other": "The other"}
TWO_PEOPLE_HOW = (
    "Each gets a cup, with all else that the row says. The client's file stays as it is. Take back "
    "the name to make it one cup again."
)
GIVE_EACH_A_CUP = "Give each a cup"
OWN_WORDS = "Other words"
OWN_WORDS_HOW = (
    "Your words stand in place of the list's, on record. The client's file stays as it is."
)
PUT_SO = "Put it so"
TAKE_BACK = "Take it back"
AT_DESK = "the maker, at the desk"
CORRECTING = "Making the cup again"
ALL_OF_LIST = "About the whole list"
PUT_ALL = "Put all of them so"
NOTHING_NEW = "Nothing was changed. Type another text."
NEWER_LIST = "Drop a newer version of the list here"
FORM_TO_SEND = "Save a form for the list, to send"
FORM_HOW = "It asks for what these cups need. A list that comes back in it leaves little to ask."
NEWER_LIST_HOW = "What has changed is shown before it is taken."
NOT_CURRENT = "The list has changed since the cups were made."
MEANT_HERE = "Meant just so"
ROWS_COME_WITH_CUPS = (
    "The cups are being made. What could be pressed in a row comes as soon as they are there."
)
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
    if name == "hand" and text in ("left", "right"):
        return f"for the {text} hand"
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


SEARCH_ROWS = "Search the rows"
NO_ROW_FOUND = "No row is like that"


def rows_of_list(rows: int, guests: int, cups: int, in_need: int) -> str:
    """Say how many rows there are, for whom, and how many of them need a hand."""
    held = f"{counted(rows, 'row')}: {counted(guests, 'guest')}, {counted(cups, 'cup')}"
    rest = rows - guests
    if rest > 0:
        held += f"; {counted(rest, 'row')} without a cup"
    return f"{held}. {need_a_hand(in_need) if in_need else 'No row needs a hand'}."


def corrected(by: str, at: str) -> str:
    """Say who has put a text there, and when."""
    day = dt.datetime.fromisoformat(at)
    return f"{by}, {day.day} {day:%b %H:%M}"


FATES = {
    "hidden": "hidden in the list, left out", "none_wanted": "no cup is wanted",
    "examples": "an example, left out",
    "unread": "nothing in a column that is used",
}  # fmt: skip


def is_meant_so(text: str) -> str:
    """Say that a text is taken as it is."""
    return f"“{text}” is meant just so"


def is_meant_no_longer(text: str) -> str:
    """Say that a text is looked at again as any other."""
    return f"“{text}” is looked at as any other"


def as_in_list(text: str) -> str:
    """Say that the list's own text holds again."""
    return f"{text}, as in the list" if text else "As in the list"


def a_cup_each(names: Iterable[str]) -> str:
    """Say that two people get a cup of their own."""
    return f"{' and '.join(names)}, a cup each"


NOT_PUT_SO = "That was not done:"


# A newer version of the list

NEWER_TITLE = "A newer version of the list"
TAKE_LIST = "Take this list"
TAKE_LIST_HOW = (
    "The list that is there now is kept. Under List you can look at it and take it again."
)
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


NEWER_LIES = "A newer list that was not taken yet"


def deleted_if_left(day: dt.date) -> str:
    """Say until when a newer list lies here."""
    return f"deleted here on {day.day} {day:%b %Y}, if it is not taken"


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
