"""What this room says to people."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from mailmerge.units import items_in_words


def no_guests(path: Path, sheet: str, header_row: int) -> str:
    """Say that a list is empty."""
    return (
        f'{path}: sheet "{sheet}": No guest stands below the header in row {header_row}. Enter at '
        f"least one guest. If all cups of an order are cancelled, run: mailmerge merge ORDER "
        f"--gone all"
    )


def inputs_changed(folder: Path, stale: Sequence[int], lying: Sequence[int], tray: str) -> str:
    """Say that items are no longer what their files say."""
    return (
        f"{folder}: What the artwork is made from has changed since the last merge. This affects "
        f"{items_in_words(stale)}.{_lying(lying, tray)} First run: mailmerge merge {folder}"
    )


def who_is_who_open(folder: Path, asked: Sequence[int], lying: Sequence[int], tray: str) -> str:
    """Say that the list has changed so that some guests must be asked for first."""
    return (
        f"{folder}: The list has changed since the last merge, and it is not plain which row is "
        f"whose. This affects {items_in_words(asked)}.{_lying(lying, tray)} First run: mailmerge "
        f"merge {folder}. It asks who is where."
    )


def program_updated(folder: Path, stale: Sequence[int], lying: Sequence[int], tray: str) -> str:
    """Say that items were made by another version of the program."""
    return (
        f"{folder}: The program was updated since the last merge. This may change "
        f"{items_in_words(stale)}.{_lying(lying, tray)} First run: mailmerge merge {folder}"
    )


def _lying(lying: Sequence[int], tray: str) -> str:
    """Say which of some items can be engraved by mistake."""
    if not lying:
        return ""
    verb = "lies" if len(lying) == 1 else "lie"
    return f" Of these, {items_in_words(lying)} {verb} in {tray}."


WORKER_ENDED = (
    "A worker process was ended from outside. The memory may be full. Try again with --jobs 1."
)


# Ways out

WITHOUT_PICTURES = "without the picture"
IN_SMALL_LETTERS = "in small letters"
OWN_SIZE = "at a size of its own"


ON_THREE_ROWS = "with all words, on three lines"


def all_in_font(font: str) -> str:
    """Name a narrower font as a way."""
    return f"with all words, in {font}"


def in_font(font: str) -> str:
    """Name another font as a way."""
    return f"in {font}"
