"""What is said in Bill."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from mailmerge.units import counted

ALL_COSTS, A_CUP, WITHOUT_TAX = "All costs", "A cup", "Without tax"
CLIENT_PAYS, DEPOSIT, FEES, LEFT_FOR_YOU = "The client pays", "Deposit", "Fees", "Left for you"
BLANKS_TO_BUY, AT_MACHINE = "Blanks to buy", "At the machine, without loading"
NO_BILL = "Nothing can be worked out yet"
TIMES_COME = "The times are being worked out"
WORKING_OUT_TIMES = "Working out how long the cups take"
TIMES_FIRST = "The numbers stand here as soon as it is known how long each cup takes."
NO_TIME_KNOWN = "How long it takes is not known without settings."
NOTHING_LEFT_FOR_YOU = "Nothing is left for you at this price."
QUOTE_FOR_CLIENT = "Quote for the client"
WRITE_RUN_SHEET, WRITE_RUN_SHEET_ANEW = "Write the run sheet", "Write the run sheet anew"
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


ACCOUNT, REST = "Agreed and paid", "Rest"
PRICE_AGREED, PUT_AGREED = "Price that was agreed, with tax", "Put it down"
AGREED_HOW = "A later one takes its place."
PAID_AMOUNT, PAID_PART, PAID_WAY, PAID_DAY = "Paid", "Which part", "How, such as cash", "Day"
PUT_PAID, NOT_PAID = "Put down the payment", "That was a mistake"
NO_BOOKS = "This keeps no books: it says what is still open of the price."
AMOUNT_MISSING = "Give the price that was agreed. Nothing was put down."
AGREED, WAS_PAID, WAS_NOT_PAID = "The price that was agreed", "A payment", "A payment that was none"
PUT_DOWN, TAKEN_OFF = "It is put down.", "It is off the record."


def agreed_on(amount: str) -> str:
    """Say what was agreed."""
    return f"Agreed: {amount}, with tax."


def still_open(amount: str, value: Decimal) -> str:
    """Say what is still to be paid."""
    if value == 0:
        return "Paid in full."
    return f"Paid beyond it: {amount.lstrip('-−')}." if value < 0 else f"Still open: {amount}."


def payment(part: str, amount: str, way: str, day: dt.date) -> str:
    """Tell a payment."""
    return f"{part.capitalize()}: {amount}, {way}, {day:%Y-%m-%d}"


def cups_at(count: int, each: str) -> str:
    """Say how many cups at which price."""
    return f"{counted(count, 'cup')} at {each}"


def percent(number: Decimal) -> str:
    """Return a share in percent."""
    return f"{number:f} %"


def percent_off(number: Decimal) -> str:
    """Say how much a quantity takes off."""
    return f"{number:f} % off from this quantity on" if number else "nothing off for this quantity"


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


def run_sheet_of(written: dt.datetime) -> str:
    """Name the run sheet that was written last."""
    return f"Run sheet of {written.day} {written:%b, %H:%M}"


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
