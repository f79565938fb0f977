"""What this room says to people."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

# The batch


def artwork_unreadable(path: Path, reason: object) -> str:
    """Say that an item's artwork cannot be measured."""
    return f"{path}: The file cannot be read: {reason}. Merge the order again."


# What the clock says


def no_such_item(folder: Path, number: int) -> str:
    """Say that an order has no such item."""
    return f"{folder}: This order has no item {number}."


def not_engraved(number: int, standing: str) -> str:
    """Say that an item cannot have been timed."""
    return (
        f'Item {number} is "{standing}". Only an item that was released or engraved can be timed. '
        f"Nothing was recorded."
    )


def artwork_gone(number: int) -> str:
    """Say that there is nothing to compare a time with."""
    return (
        f"Item {number} is no longer in the list. Its artwork is gone, so the time cannot be "
        f"compared. Nothing was recorded."
    )


def artwork_changed(number: int) -> str:
    """Say that a time belongs to other artwork."""
    return (
        f"item {number}: The artwork has changed since this cup was released, so the time cannot "
        f"be compared. Nothing was recorded."
    )


def no_recipe(number: int, coat: str, machine: str) -> str:
    """Say that nobody can tell what a cup should have taken."""
    return (
        f"item {number}: No recipe is known for {coat} on {machine}, so the time cannot be "
        f"compared. First run: mailmerge keep-recipe"
    )


# Numbers that nobody has set


def default_minutes(key: str, minutes: float) -> str:
    """Name minutes that are a default."""
    return f"{key} {minutes:g} min"


DEFAULT_HOURS = "opening hours Monday to Friday 9:00 to 17:00"


def default_days(days: Sequence[str]) -> str:
    """Name days whose hours are a default."""
    *most, last = [day.capitalize() for day in days]
    listed = f"{', '.join(most)} and {last}" if most else last
    return f"opening hours on {listed}"


# The shop's log


def no_log_file(path: Path, reason: object) -> str:
    """Say that a file is none of the shop's log."""
    return f"{path}: This is not a file of the shop's log: {reason}."


def spoilage_by_log(spoiled: int, blanks: int) -> str:
    """Say that spoilage is the shop's own."""
    return f"{spoiled} of the last {blanks} blanks on the shop's log"


def none_spoiled_by_log(blanks: int) -> str:
    """Say that one blank is counted where none was lost."""
    return f"0 of the last {blanks} blanks on the shop's log, counted as 1"


def spoilage_by_shop(many: int, blanks: int) -> str:
    """Say that ``shop.toml`` gives the spoilage, and until when."""
    return f"as shop.toml says, until the shop's log holds {many} blanks; it holds {blanks}"


def spoilage_by_default(many: int, blanks: int) -> str:
    """Say that nobody has given the spoilage, and until when that counts."""
    return f"a default, until the shop's log holds {many} blanks; it holds {blanks}"
