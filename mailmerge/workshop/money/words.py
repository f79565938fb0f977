"""What this room says to people."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from mailmerge.units import format_minutes, numbers_in_words

# What cannot be priced

NO_CUPS = "There is no cup to price."
ALL_STOPPED = (
    "Every item is stopped, so it is not known how long one takes. To see why, run: mailmerge check"
)


def times_not_known(numbers: Sequence[int], machine: str) -> str:
    """Say for which items nobody knows how long the machine takes."""
    word = "item" if len(numbers) == 1 else "items"
    return (
        f"It is not known how long the machine takes for {word} {numbers_in_words(list(numbers))}. "
        f"There is no recipe for the coat on {machine}, and its profile does not say what its beam "
        f"is. First run: mailmerge keep-recipe"
    )


def too_many_spoiled(rate: float, hopeless: float) -> str:
    """Say that so many blanks are lost that no spare mends it."""
    return (
        f"{rate:.0%} of blanks are spoiled, by shop.toml or the shop's log. Find out why before "
        f"you buy more. Spares are worked out only below {hopeless:.0%}."
    )


# The costs, and how each is worked out

MACHINE, LABOUR, CONSUMABLES = "Machine", "Labour", "Consumables"
PACKAGING, FIXED_FEES = "Packaging", "Fixed fees"
FOR_THE_ORDER = "for the order"


def kind(blank: str, coat: str) -> str:
    """Name a blank and its coat."""
    return f"{blank}, {coat}"


def blanks_and_spares(cups: int, spares: int, amount: Decimal) -> str:
    """Tell how the cost of blanks is worked out."""
    return f"({cups} + {spares} spare) x {amount}"


def machine_time(quantity: int, seconds: float, rate: Decimal) -> str:
    """Tell how the cost of the machine is worked out."""
    return f"{quantity} x {format_minutes(seconds)} (min:s) at {rate} an hour"


def hand_time(setup: Decimal, quantity: int, by_cup: Decimal, rate: Decimal) -> str:
    """Tell how the cost of labour is worked out; minutes."""
    return f"{setup.normalize():f} min + {quantity} x {by_cup.normalize():f} min at {rate} an hour"


def each(quantity: int, amount: Decimal) -> str:
    """Tell how a cost of each cup is worked out."""
    return f"{quantity} x {amount}"


def sources(found: Sequence[str]) -> str:
    """Name where several numbers come from."""
    return " and ".join(found)
