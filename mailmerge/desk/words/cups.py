"""What is said in Cups."""

from __future__ import annotations

from mailmerge.desk.words.everywhere import standing

# Cups

MAKE_CUPS = "Make the cups"
MAKE_AGAIN = "Make what has changed"
NO_CUPS = "No cups were made yet"
COME_WITH_CUPS = "The cups are being made. What stands here comes with them."
MAKE_FIRST = "No cups were made yet. Make them first."
CHANGED_SINCE = (
    "Something has changed since these cups were made. A cup that comes out differently needs a "
    "new yes."
)
CUPS_COME = "The cups come here as soon as they are made"
NO_CUPS_HOW = "Every guest gets a picture of the cup, with whatever could spoil it beside it."
PARTS = "All parts of the desk"


def cups_shown(ready: int, all_of_them: int) -> str:
    """Say how many cups are not stopped."""
    return f"{ready} of {all_of_them} cups have their artwork."


def no_such_cup(number: int) -> str:
    """Say that there is no such cup."""
    return f"There is no cup {number} in this order now."


# Cups: which are shown, and one close by

WHICH_CUPS = "Which cups are shown"
OTHER_CUPS = "Other cups"
SEARCH_CUPS = "Search by name or number"
NO_CUP_FOUND = "No cup is like that"
SHOW_ALL_CUPS = "All cups"
WHERE_ONE_IS = "More of them"
STRETCH_BEFORE = "← Those before"
STRETCH_AFTER = "Show more →"


def stretch(first: int, last: int, total: int) -> str:
    """Say which of many are shown."""
    return f"{first} to {last} of {total}"


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
LOOK_FOR_WAYS, BEING_DRAWN = "Look for them", "They are being drawn"
WAYS_HOW = (
    "Each is made just as you see it. Taking one goes on the order's record; it can be undone."
)
LOOK_AT_WAY = "Look at it"
TAKE_WAY = "Take it"
KEEP_ALL_WORDS = "To keep all words in this font"
KEEP_ALL_WORDS_ELSE = (
    "Or take a layout with more room or a narrower font, or ask the client for a shorter form."
)
CHANGE_LAYOUT_FOR_IT = "Look at the layouts"
NO_WAY = "Nothing was found that leaves the layout as it is. Ask the client, or type other words."
OWN_TEXT = "Own words"
OWN_TEXT_HOW = "The client's list stays as it is. What you type stands on the order's record."
TRY = "Show it"
WORDS_FIRST = "Take the own words first. Then set their lines."
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


def keeps_all_at(fits_at: float, least: float, rows: int) -> str:
    """Say at which letter height a text has room with all its words, and what that means."""
    on = "one line" if rows == 1 else f"{rows} lines"
    return (
        f"All words fit on {on} at {fits_at:g} mm. Your layout's least letter height is {least:g} "
        f"mm, so that letters stay easy to read. If {fits_at:g} mm is large enough for you, let "
        f"it be the layout's least. That is for all cups: see them before you keep it."
    )


def look_at_least(height: float) -> str:
    """Name the step to a layout with a smaller least letter height."""
    return f"See the layout with {height:g} mm as its least"
