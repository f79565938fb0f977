"""What this room says to people."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

from mailmerge.findings import shown

# Where it is


def nobodys_home(variable: str, found: str) -> str:
    """Say that the shop's folder is told by a home that nobody has."""
    return f"{variable}: Found {shown(found)}. No such user is known here. Give the whole path."


# Hours


def no_hours(found: object) -> str:
    """Say how the hours of a day are given."""
    return (
        f'Found {_quoted(found)}. Enter hours such as "09:00-17:00" or "09:00-12:00, 13:00-18:00", '
        f'or enter "closed".'
    )


def hours_out_of_order(found: str) -> str:
    """Say that the hours of a day overlap, run backwards or go beyond the day."""
    return (
        f"Found {shown(found)}. Enter hours in the order of the day, without overlaps, up to 24:00."
    )


NEVER_OPEN = (
    "Found a week without an open hour. Open on at least one day: a laser is never left alone, so "
    "nothing could be engraved."
)

# The shop's file


def no_currency(found: str) -> str:
    """Say how a currency is given."""
    return f"Found {shown(found)}. Enter a currency by its ISO 4217 code, such as EUR."


def no_locale(found: str) -> str:
    """Say how a language is given."""
    return f"Found {shown(found)}. Enter a language and a country, such as en_GB."


def too_much_spoilage(found: Decimal) -> str:
    """Say that nobody buys blanks to spoil half of them."""
    return f"Found {found:f} %. Enter less than 50 %, which is half of all blanks."


def nothing_left_of_price(fees: Decimal, margin: Decimal) -> str:
    """Say that fees and margin take the whole price."""
    return (
        f"Found fees of {fees:f} % and a margin of {margin:f} %. Together they stay below 95 %, "
        f"because the rest of the price pays for everything else."
    )


def steps_out_of_order(starts: Sequence[int]) -> str:
    """Say that the price's steps do not rise."""
    return (
        f"Found steps from {', '.join(map(str, starts))} cups. List each [[price.step]] once, and "
        f"the smaller number of cups first."
    )


ROUND_TO_NOTHING = (
    "Found 0 for round_to. Enter more than 0, or leave the key out for prices that are easily said "
    "aloud."
)


def wrong_template(file: Path, key: str, reason: object) -> str:
    """Say that the shop's machine or layout is not there."""
    return f"{file}: {key}: {reason}"


def no_folder(path: Path) -> str:
    """Say that the shop's folder is a file."""
    return f"{path}: This is a file. The shop needs a folder in its place."


def paper_of_shop(size: str) -> str:
    """Name a size of paper that ``shop.toml`` gives."""
    return f"{size}, as shop.toml says"


def paper_by_default(size: str) -> str:
    """Name a size of paper that nobody has chosen."""
    return f"{size}, a default"


# Setting it up

YOUR_ANSWER = "your answer"
"""Where a value comes from that was typed."""

TOML_HEAD = (
    "These values hold for every order of the shop. They are explained by: mailmerge manual "
    "shop-file"
)

QUESTIONS = {
    "shop.name": "Name of the shop, as it stands on papers",
    "shop.address": "Address, telephone and e-mail, with a comma after each line",
    "shop.currency": "Code of the currency, such as EUR",
    "shop.locale": "Language and country for amounts and dates, such as en_GB",
    "shop.paper": "Size of the paper, A4 or Letter",
    "shop.machine": "Machine for new orders, a name from mailmerge machines or a file",
    "shop.layout": "Layout for new orders, a name from mailmerge layouts or a file",
    "shop.spoilage": "Blanks that you spoil out of 100, until the shop's log knows",
    "hours.monday": "Open on Monday, such as 09:00-17:00, or closed",
    "hours.tuesday": "Open on Tuesday",
    "hours.wednesday": "Open on Wednesday",
    "hours.thursday": "Open on Thursday",
    "hours.friday": "Open on Friday",
    "hours.saturday": "Open on Saturday",
    "hours.sunday": "Open on Sunday",
    "minutes.setup": "Minutes for each order: list, proofs, settings, a test piece",
    "minutes.loading": "Minutes for each cup at the machine: load, focus, trace, unload",
    "minutes.handling": "Minutes for each cup elsewhere: unpack, clean, look, pack",
    "rates.labour": "Cost of an hour of your work",
    "rates.machine": (
        "Cost of an hour of the machine, with you beside it because it never runs alone"
    ),
    "price.blank": "Cost of a blank",
    "price.consumables": "Cost of consumables for each cup",
    "price.packaging": "Cost of packaging for each cup",
    "price.fixed_fees": "Fixed fees for each order",
    "price.fees": "Fees in percent of the price",
    "price.margin": "Margin in percent of the price",
    "price.deposit": "Deposit in percent of the total",
    "price.tax": "Tax in percent, at your own rate because none is built in",
}
"""By the key that an answer goes to, in the order in which they are asked."""


def _quoted(found: object) -> str:
    return shown(found if isinstance(found, str) else repr(found))


def label_too_small(width: float, height: float) -> str:
    """Refuse labels that nothing can be read on."""
    return f"A label of {width:g} x {height:g} mm is too small. Wanted: at least 30 x 15 mm."
