"""What this room says to people, and what stands on its papers."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

from mailmerge.units import counted, format_minutes, numbers_in_words

# For every paper at the machine. Common practice; the machine's own manual comes first.

CAUTIONS = (
    "Your machine's manual, the coating's safety data sheet, your local codes and qualified "
    "practice come before anything that is said here.",
    "Wear eye protection for the beam's wavelength. Keep the enclosure shut, the extraction "
    "running and an extinguisher within reach. Never leave the laser alone while it runs.",
    "No PVC, no vinyl, no unknown coating. Switch the power off before you plug the rotary in or "
    "out, and lead its cable under the cup, out of the beam's way. Take the lid off: never engrave "
    "a sealed vessel.",
    "Handle and brackets must clear the head through the whole turn. Engrave nothing inside the "
    "cup or on the drinking rim. Engrave a test piece first. Let each cup cool, then wipe the soot "
    "off.",
)

FILE_STEP = (
    "Open the file. It must measure what its line says. If it does not, the program has not read "
    "it in millimetres: do not engrave it."
)

STEPS = (
    "Take off each handle that comes off. Keep its screws together, in one bag for each cup.",
    "Measure around one cup of each pile. If it differs from this paper, measure the blank again "
    "and make the artwork again.",
    "Switch the power off. Plug the rotary in, and lead its cable under the cup, out of the beam's "
    "way.",
    "Load the cup as its picture shows, level the wall under the head, and set the focus.",
    FILE_STEP,
    "Trace first, in the way your manual allows. The head must clear everything through the whole "
    "turn, and the name must come where the proof shows it.",
    "Engrave all passes without touching the cup in between.",
    "Let it cool. Wipe the soot off with white vinegar on a soft cloth, never together with "
    "bleach. Then wipe the cup with water, and dry it.",
    "Put the handle back on. Look at the cup in daylight, letter by letter.",
)
"""For every cup. Common practice, without a source."""

FLAT_STEPS = (
    "Measure a piece of each pile. If it differs from this paper, measure the blank again and make "
    "the artwork again.",
    "Lay it down as its picture shows, so that it cannot move, and set the focus.",
    FILE_STEP,
    "Trace first, in the way your manual allows. The name must come where the proof shows it.",
    "Engrave all passes without touching the piece in between.",
    "Let it cool. Take the soot off with something that the material bears: try it on a spoiled "
    "piece first.",
    "Look at it in daylight, letter by letter.",
)
"""For flat goods. Common practice, without a source."""


def _day(day: dt.date) -> str:
    return f"{day.day} {day:%B %Y}"


# What is released


def nothing_released(folder: Path) -> str:
    """Say that there is nothing for a run sheet."""
    return f"{folder}: Nothing is released. First run: mailmerge release {folder}"


def files_missing(folder: Path, tray: str, numbers: Sequence[int]) -> str:
    """Say that files to engrave are not as they were released."""
    if len(numbers) == 1:
        return (
            f"{folder}: Item {numbers[0]} was released, but its file is not in {tray} as released. "
            f"To put this right, run: mailmerge merge {folder}"
        )
    return (
        f"{folder}: Items {', '.join(map(str, numbers))} were released, but their files are not in "
        f"{tray} as released. To put this right, run: mailmerge merge {folder}"
    )


SETTINGS_NOT_KNOWN = (
    "The settings are not known: first make a test card, and keep the recipe that it shows"
)


def licence(short: str, embedding: str) -> str:
    """Tell what a font's file says of its licence."""
    return f"{short}; {embedding}"


def holding(side: str, held_by: str | None) -> str:
    """Say which side is engraved, and which hand holds the cup."""
    return f"{side.capitalize()}, held by the {held_by} hand" if held_by else side.capitalize()


# The run sheet

LAY_OUT = "To buy and lay out"
FOR_EACH_CUP, FOR_EACH_PIECE = "For each cup", "For each piece"
BOXES = ("loaded", "focused", "traced", "engraved", "cleaned")
ITEM, LEFT_HAND = "item", "LEFT HAND"
HOW_IT_LIES = "How the cup lies at the start."
SETTINGS_TO_FILL_IN = "Set: ________ %, ________ mm/s, ____ passes, lines ________ mm apart"


def run_sheet_title(title: str) -> str:
    """Return the title of a run sheet."""
    return f"Run sheet: {title}"


def run_sheet_foot(shop: str, mark: str, made: dt.datetime, page: int) -> str:
    """Return the foot of a run sheet's page."""
    told = f"Run {mark}, {_day(made)}, {made:%H:%M}, page {page}"
    return f"{shop}. {told}" if shop else told


def day_and_time(at: dt.datetime) -> str:
    """Return a time as people say it: ``Thu 26 November 2026, 14:05``."""
    return f"{at:%a} {_day(at)}, {at:%H:%M}"


def cups_on_machine(cups: int, machine: str, times: str) -> str:
    """Say what a run is, and how long it takes."""
    return f"{counted(cups, 'cup')} on {machine}. {times}"


NO_TIMES = "How long they take is not known without settings."


def at_machine(seconds: float) -> str:
    """Say how long the machine runs."""
    return f"{format_minutes(seconds)} at the machine without loading."


def without_times(numbers: Sequence[int]) -> str:
    """Say which items are not in the time, for want of settings."""
    if len(numbers) == 1:
        return f"Item {numbers[0]} is not counted, because its settings are not known."
    listed = numbers_in_words(list(numbers))
    return f"Items {listed} are not counted, because their settings are not known."


def begun_and_done(begin: dt.datetime, done: dt.datetime) -> str:
    """Say when a run is done."""
    return f"Begun on {day_and_time(begin)}, it is done on {day_and_time(done)}."


def past_closing(numbers: Sequence[int]) -> str:
    """Warn about cups that take longer than the shop is open."""
    if len(numbers) == 1:
        return (
            f"Item {numbers[0]} takes longer than the shop is open at a time. Never leave it alone."
        )
    listed = numbers_in_words(list(numbers))
    return f"Items {listed} take longer than the shop is open at a time. Never leave them alone."


def due(day: dt.date, in_time: bool) -> str:
    """Say whether a run is done by the due day."""
    return f"Due on {day.day} {day:%B}: {'in time' if in_time else 'TOO LATE'}."


def pile(kind: str, cups: int, spares: int) -> str:
    """Say what to lay out of one kind."""
    return (
        f"{kind}: {counted(cups + spares, 'blank')} ({counted(cups, 'cup')} and "
        f"{counted(spares, 'spare')})"
    )


def spares(percent: Decimal, source: str) -> str:
    """Say what the spares are worked out for."""
    return (
        f"The spares allow for {percent:.1f} % of blanks spoiled ({source}). With them, the batch "
        f"is complete with 95 % certainty."
    )


def absent(standing: str, cups: Sequence[tuple[int, str]]) -> str:
    """Name cups that are wanted and not on the sheet."""
    listed = "; ".join(f"{number} {name}" for number, name in cups)
    return f"Not on this sheet, and not counted here ({standing}): {listed}"


def many_absent(standing: str, numbers: Sequence[int]) -> str:
    """Count cups that are wanted and not on the sheet."""
    return (
        f"Not on this sheet, and not counted here ({standing}): {counted(len(numbers), 'cup')}, "
        f"items {numbers_in_words(list(numbers), most=60)}"
    )


def speed_limited(kind: str, speed: float, limit: float) -> str:
    """Say that the machine is slower than its settings (mm/s)."""
    return (
        f"{kind}: The settings ask for {speed:g} mm/s. The machine's profile allows {limit:g} mm/s "
        f"along the lines, and that is what counts."
    )


def font(name: str, its_licence: str) -> str:
    """Tell the licence of a font."""
    return f"Font {name}: {its_licence}"


def section(kind: str, cups: int) -> str:
    """Head the cups of one pile that are loaded in one way."""
    return f"{kind}: {counted(cups, 'cup')}"


def section_goes_on(kind: str) -> str:
    """Head the cups of a pile on another page."""
    return f"{kind}, continued"


def how_it_is_loaded(holding: str, steps: Sequence[str]) -> str:
    """Say which side is engraved and how the cup is loaded, step by step."""
    numbered = (f"{number}. {step}" for number, step in enumerate(steps, start=1))
    return " ".join((f"{holding}.", *numbered))


def name_and_texts(name: str, texts: Sequence[str]) -> str:
    """Tell what is engraved on a cup."""
    return " · ".join((name, *texts))


def in_coat(coat: str, is_left: bool, seconds: float | None) -> str:
    """Say what a cup's coat is, whether the left hand holds it, and how long it takes."""
    told = f"{coat.upper()}, {LEFT_HAND}" if is_left else coat.upper()
    return told if seconds is None else f"{told}   {format_minutes(seconds)} min"


def must_measure(width: float, height: float) -> str:
    """Say how large a cup's file must be once a program has loaded it."""
    return f"must measure {width:.1f} x {height:.1f} mm"


def place(at: int, cups: int) -> str:
    """Say which cup of a run it is."""
    return f"{at} of {cups}"


def picture_of(number: int, texts: Sequence[str]) -> str:
    """Say in words what a cup's picture shows."""
    return f"Cup {number}, engraved with {', '.join(texts)}."


def to_set(settings: str, is_tried: bool) -> str:
    """Say what is set at the machine for the cups of a pile."""
    if not settings:
        return SETTINGS_TO_FILL_IN
    return f"Set: {settings}" if is_tried else f"Set: {settings} (NOT TRIED)"


def letters(notes: Sequence[str]) -> str:
    """Say what is unusual about a cup's letters.

    The word in front keeps the row's direction where a note begins with Hebrew letters.
    """
    return f"Letters: {'. '.join(notes)}"


def made_again(blanks: int) -> str:
    """Say that blanks were spoiled on a cup before."""
    return f"Made again: {counted(blanks, 'blank')} spoiled on it before"


def look(said: str) -> str:
    """Say what to look at before a cup is engraved."""
    return f"Look: {said}"


def without_yes(reason: str) -> str:
    """Say that nobody has confirmed a cup."""
    return f"WITHOUT THE CLIENT'S YES: {reason}"


# The quote

QUOTE = "Quote"
ENGRAVED_AS_SHOWN = "Engraved as the proof shows."
DEPOSIT, BALANCE = "Deposit, due with your order", "Balance, due when the cups are ready"
OTHER_QUANTITIES = "Other quantities"
PROMISE = (
    "You get a proof of every cup, to check letter by letter. Only what you have confirmed is "
    "engraved."
)
AGREED_ON, NAME = "Agreed on", "Name"
TOO_MUCH_FOR_A_PAGE = "The quote does not fit on one page. Ask for fewer quantities."


def quote_title(title: str) -> str:
    """Return the title of a quote."""
    return f"Quote: {title}"


def engraved_with(labels: Sequence[str]) -> str:
    """Say what is engraved on each cup."""
    *most, last = labels
    return f"Engraved with {', '.join(most)} and {last}." if most else f"Engraved with {last}."


def quote_dates(made: str, valid_until: str, needed_by: str, number: str) -> str:
    """Say how long a quote holds, and which order it is for; ``""`` for no due day."""
    needed = f" Needed by {needed_by}." if needed_by else ""
    return f"{made}, valid until {valid_until}.{needed} Order {number}"


def kind(blank: str, coat: str) -> str:
    """Name a blank and its coat to a client."""
    return f"{blank}, {coat}"


ONE_CUP = "One cup, engraved"


def one_cup_with_tax(tax: str) -> str:
    """Say that the price of a cup is told with its tax."""
    return f"{ONE_CUP} (with {tax})"


def cups(quantity: int) -> str:
    """Say how many cups there are."""
    return counted(quantity, "cup")


def tax(name: str, percent: Decimal) -> str:
    """Name a tax."""
    return f"{name}, {percent:f} %"


def tax_included(name: str, percent: Decimal) -> str:
    """Name a tax that is in the total."""
    return f"This includes {name}, {percent:f} %"


def total(quantity: int) -> str:
    """Say what the client pays for."""
    return f"Total for {counted(quantity, 'cup')}"


def other_quantity(quantity: int, each: str) -> str:
    """Tell the price of a cup for another quantity."""
    return f"{counted(quantity, 'cup')}, {each} each"


def other_quantity_with_tax(quantity: int, each: str, tax_name: str) -> str:
    """Tell the price of a cup for another quantity, beside a total with tax."""
    return f"{counted(quantity, 'cup')}, {each} each. Total with {tax_name}"


# The key of a test card

WHAT_CELLS_STAND_FOR = "What each cell stands for, and how it came out"


def card_title(coat: str, machine: str) -> str:
    """Return the title of a test card's key."""
    return f"Test card: {coat}, {machine}"


def card_head(coat: str) -> str:
    """Head a test card's key."""
    return f"Test card: {coat}"


def about_card(machine: str, blank: str, interval: float) -> str:
    """Say what a test card is for; mm from line to line."""
    return f"{machine}. {blank}. Lines {interval:g} mm apart."


def card_foot(made: dt.datetime, page: int) -> str:
    """Return the foot of a key's page."""
    return f"{_day(made)}, page {page}"


def what_to_do(steps: Sequence[str], safe: str, origin: str) -> tuple[str, ...]:
    """Say what to do with a test card, in order."""
    return (
        f"Load it. {' '.join(steps)}",
        f"Give each group of the artwork the settings in the table: its colour shows which cell it "
        f"is. You type them in by hand, so begin with a dozen cells, and make a finer card around "
        f"the best one. Engrave the labels, in black, with what is safest to begin with: {safe}. "
        f"{origin}.",
        "Let the test piece cool, and wipe it. Look for the cell whose patch is even and clear, "
        "whose line is whole and whose word can be read, with the least power that does it. Rub it "
        "with a cloth and a fingernail.",
        "Best cell: ________   Date: ____________   Keep it with: mailmerge keep-recipe FOLDER "
        'CELL --outcome "how it came out". FOLDER is the folder that this key came in.',
    )


def passes(count: int) -> str:
    """Say how many passes there are."""
    return counted(count, "pass", "passes")


def power(percent: Decimal) -> str:
    """Head a column of cells."""
    return f"{percent:f} %"


def speed(rate: float) -> str:
    """Head a row of cells (mm/s)."""
    return f"{rate:g} mm/s"


def cell_settings(percent: Decimal, rate: float, count: int) -> str:
    """Tell the settings of a cell."""
    return f"{percent:f} %, {rate:g} mm/s, {passes(count)}"


# What goes with finished cups


def labels_title(title: str) -> str:
    """Return the title of sheets of labels."""
    return f"Labels: {title}"


def label_foot(number: int, coat: str) -> str:
    """Say on a label which cup it is for."""
    return f"{number}  ·  {coat}"


def no_such_label(start: int, on_sheet: int) -> str:
    """Refuse a label that the sheet does not have."""
    return f"The first label is {start}, but a sheet has {on_sheet}. Give one from 1 to {on_sheet}."


def labels_off_sheet(wide: float, high: float, width: float, height: float, size: str) -> str:
    """Refuse labels that reach beyond their sheet."""
    return (
        f"[labels] in shop.toml: together they reach {wide:.1f} x {high:.1f} mm, but {size} is "
        f"{width:.1f} x {height:.1f} mm. Measure the sheet again, or choose its paper with --paper."
    )


def packing_list_title(title: str) -> str:
    """Return the title of a packing list."""
    return f"Packing list: {title}"


def group_heading(heading: str, count: int) -> str:
    """Head a group of cups."""
    return f"{heading}  ·  {counted(count, 'cup')}"


def cup_of_list(number: int, kind: str) -> str:
    """Tell a cup in a packing list."""
    return f"{number}  ·  {kind}"
