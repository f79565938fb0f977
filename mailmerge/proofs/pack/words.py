"""What a proof pack says to clients; what its page says beside that is in page.html and page.js."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

# A card


def cups(number: str, count: int) -> str:
    """Name the cups of a card."""
    return f"Cup {number}" if count == 1 else f"Cups {number}"


def picture(number: str, texts: Sequence[tuple[str, str]]) -> str:
    """Tell a picture of a cup to whoever does not see it; ``texts`` are (label, text)."""
    if not texts:
        return f"Picture of cup {number}, engraved with no text."
    listed = ", ".join(f"{label.lower()}: {text}" for label, text in texts)
    return f"Picture of cup {number}, engraved with {listed}."


def detail(label: str, value: str) -> str:
    """Tell a detail of a cup."""
    return f"{label}: {value}"


NOT_READY = "Not ready yet"


def later(names: Iterable[str]) -> str:
    """Say whose cups are not shown."""
    return f"You will get these later: {', '.join(names)}."


# The paper

READ_THE_PAPER = (
    "What you see here is exactly what will be engraved. Please check every letter, capital, "
    "accent and space. Tick what is right, or write what to change. Only what you say yes to will "
    "be engraved."
)
RIGHT, CHANGE = "right", "change:"


def page(pack: str, number: int) -> str:
    """Return the name of a pack and the number of a page, for its foot."""
    return f"Pack {pack}, page {number}"


# The contact sheet

FIRST_LOOK = "For a first look only. Please check each letter in the page, the PDF or the list."


def sheet(pack: str, number: int, count: int) -> str:
    """Name a contact sheet by its pack, and by its number if there are several."""
    return f"Pack {pack}" if count == 1 else f"Pack {pack}, sheet {number} of {count}"


# The list. Its titles are read again when it comes back.

PLEASE_CHECK = "Please check"
READ_THE_LIST = (
    'Please check every letter. Beside each cup, write "yes" if it is right, or write what to '
    "change. Leave the last column as it is. Then save the list and send it back."
)
YOUR_NAME = "Your name"
ITEM, SIDE, RIGHT_COLUMN, WHAT_TO_CHANGE = "Item", "Side", "Right?", "What to change"


def seal_of_pack(pack: str) -> str:
    """Give the column of seals its title."""
    return f"Seal of pack {pack}"


def text_column(title: str) -> str:
    """Give a text's column another title than those of the list's own columns."""
    return f"{title} (text)"


# Letters that are easily missed


def other_letters(word: str, script: str, right_to_left: bool) -> str:
    """Say that a word is in another alphabet."""
    if right_to_left:
        return (
            f"{word} is in {script} letters, read from right to left: compare it with your own "
            f"spelling"
        )
    return f"{word} is in {script} letters: compare it with your own spelling"


def unusual_letters(word: str, bare: str, found: Sequence[str]) -> str:
    """Tell the unusual letters of a word; ``bare`` is the word without them."""
    *first, last = found
    listed = f"{', '.join(first)} and {last}" if first else last
    return f"{bare} with {listed}: {word}" if bare != word else f"{word}: with {listed}"


def digit(char: str) -> str:
    """Name a digit in a word."""
    return f"the digit {char}"


def sign(char: str) -> str:
    """Name a sign in a word."""
    return f"the sign {char}"


def capital_inside(char: str) -> str:
    """Name a capital that does not start its word."""
    return f"a capital {char} inside"


OTHER_MARK = "a mark on the {}"
