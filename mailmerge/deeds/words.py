"""What this room says to people."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from mailmerge.findings import Finding, nearest, shown, whole, with_values
from mailmerge.ledger.words import person
from mailmerge.units import counted, in_a_row

# Faults of the program

REPORT_OF_A_FAULT = (
    "The program broke here. This file holds no name, no text and no path of yours: send it along."
)


# Opening an order


def no_such_order(path: Path, file: str) -> str:
    """Say that a path leads to no order."""
    return (
        f"{path}: There is no such order. An order is a folder with {file}. Start one with: "
        f"mailmerge new FOLDER --list FILE"
    )


def no_such_order_or_list(path: Path) -> str:
    """Say that a path leads to nothing."""
    return f"{path}: There is no such order or guest list."


def options_of_a_list(path: Path, options: Sequence[str]) -> str:
    """Say that options were given for an order which go with a bare list."""
    verb = "goes" if len(options) == 1 else "go"
    return f"{path}: {', '.join(options)} {verb} with a guest list. An order says it in order.toml."


# The orders that the shop knows


def order_is_not_there(folder: Path) -> str:
    """Say that a known order's folder holds none now."""
    return f"{folder}: There is no order there now. Is its disk connected?"


def known_unreadable(file: Path) -> str:
    """Say that the file with the known orders is damaged."""
    return f"{file}: This is not the list of orders that the desk wrote. Move the file away."


# What a list leaves open


def which_column(field: str, headers: Mapping[str, Sequence[str]]) -> str:
    """Ask under which header a field stands; each has the first texts below it."""
    told = [with_values(header, values) for header, values in headers.items()]
    if len(told) == 1:
        return f"The list does not say which column is the {field}. Is it {told[0]}?"
    return f"The list does not say which column is the {field}. {_numbered(told)}"


def which_sheet(names: Sequence[str]) -> str:
    """Ask which sheet of a workbook holds the guests."""
    return f"Several sheets could hold the guests. {_numbered([*map(shown, names)])}"


def _numbered(names: Sequence[str]) -> str:
    return " ".join(f"{number} is {name}." for number, name in enumerate(names, 1))


SAID_LATER = "you want to say it in order.toml"


# How items are named


def names_no_item(text: str) -> str:
    """Say that a text names no item."""
    return (
        f"{shown(text)}: This names no item. Give the number of an item, such as 7, several such "
        f"as 41-42, the name of a file from to-engrave, or what the code on a run sheet says."
    )


def names_several(text: str) -> str:
    """Say that one item is wanted."""
    return f"{shown(text)}: This names several items. Give one."


def never_released(file: str, item: int) -> str:
    """Say that a file's item was never released."""
    return f"{file}: Item {item} was never released in this order."


def other_order_or_older_sheet(file: str, item: int, own: str) -> str:
    """Say that a file's name is not the one that was released last."""
    return (
        f"{file}: This is of another order, or of an older run sheet. What was released last of "
        f"item {item} is {own}. Nothing was recorded."
    )


def other_seal_on_sheet(item: int, found: str, released: str) -> str:
    """Say that a run sheet's code is not of the artwork that was released last."""
    return (
        f"item {item}: The run sheet's code has the seal {found}, but what was released last has "
        f"{released}. Take the newest run sheet. Nothing was recorded."
    )


# Questions about guests


def who_is_who(question: object) -> str:
    """Ask about one guest."""
    return f"The list has changed. {question}"


def in_row(row: int, fields: Mapping[str, str]) -> str:
    """Name the answer that a guest is in a row, by who stands there."""
    return f"{person(fields)} (row {row})"


def no_longer_in_list(fields: Mapping[str, str]) -> str:
    """Name the answer that a guest stands nowhere any more."""
    return f"{person(fields)} is no longer in the list"


# Measuring


def no_blank_file(file: Path) -> str:
    """Say that a blank cannot be written under this name."""
    return f"{file}: The name of a blank file ends in .toml. Enter such a name."


def file_exists(file: Path) -> str:
    """Say that a file is not written over."""
    return f"{file}: The file is there already. It is left as it is."


NO_NAME = "without a name"
NAME_MISSING = 'The blank has no name. Give one that no other blank has, such as --name "Blue cup".'


def name_taken(name: str, folder: Path) -> str:
    """Say that a blank of the library or of a folder has a name already."""
    return (
        f"{folder}: A blank here or in the library is called {shown(name)} already. Give another "
        f"name, so that papers tell the two apart."
    )


STRAIGHT_AND_TAPERED = (
    "Found readings of a straight wall and of a tapered wall. Give --around or --across for a "
    "straight wall, or both of --around-base and --around-top for a tapered one."
)
NO_CIRCUMFERENCE = (
    "A circumference is missing. Give readings of one (--around, --across), or of two "
    "(--around-base and --around-top, or --across-base and --across-top)."
)
NO_DISTANCE_OF_TAPES = (
    "Say how far the two tapes are apart. Give either --apart along the wall, or --rise straight "
    "up."
)


# Making an order


def choices_need_an_order(path: Path) -> str:
    """Say that a bare list has nobody on record."""
    return f"{path}: --same and --gone go with an order. A guest list alone has no record."


def only_order_file_on_record(path: Path, file: str) -> str:
    """Say that a folder holds one order on record."""
    return (
        f"{path}: Only {file} is merged on record. Give this file a folder of its own, or say with "
        f"--out where to write."
    )


def own_folder(out: Path) -> str:
    """Say that ``--out`` would spoil what is on record."""
    return (
        f"{out}: This is the order's own folder for what is on record. Name another folder, or "
        f"leave out --out."
    )


def no_shared_sizes(path: Path, layout: str) -> str:
    """Say that there are no sizes to keep."""
    return (
        f'{path}: The layout "{layout}" shares no sizes. Put sizing = "set" or "role" on one of '
        f"its lines."
    )


# The client's answers

TEXT_NEEDS_ONE_ITEM = "--text goes with --accept and the number of a single item."
CONFIRM_NEEDS_ITEMS = "Give the numbers of the items that are right, such as 3 7 12."
CONFIRM_NEEDS_BY = 'Say with --by who said yes, and how, such as --by "phone, 5 Dec".'

DECIDE_NEEDS = "Give the numbers of the items, who decides, and why. The reason goes on record."
SETTLE_NEEDS = (
    "Give the number of the question, who settles it, and why. The reason goes on record."
)


# At the bench

REASON_MISSING = "Give a reason after --without-yes. It goes on the run sheet."
ITEMS_OR_ALL = "Give item numbers, or --all for everything that is released."


def changed_in_tray(folder: Path, number: int) -> str:
    """Say that a released file was changed, so that nobody knows what was engraved from it."""
    return (
        f"The file of item {number} in to-engrave was changed after its release, so nothing is "
        f"recorded. First put the right one back: mailmerge release {folder}. Then record the cup: "
        f"as engraved if that was before the change, else as spoiled."
    )


MISTAKEN_NEEDS_ITEMS = (
    "Give the numbers of the items that were put on record by mistake, such as 7."
)
SPOILED_NEEDS_ITEMS = "Give the numbers of the items whose blanks were lost, such as 7."


# Where an item stands

WAITS_FOR_YES = "It waits for the client's yes to its artwork as it is now."
IS_GONE = "It is no longer in the list."
IS_ENGRAVED = "It is engraved already."
ENGRAVED_AND_CHANGED = (
    "It is engraved, and stands as it was. Made today, its artwork would differ. Only if the cup "
    "itself must be made again, mailmerge spoiled puts it into the next release."
)


def wants_change(remark: str) -> str:
    """Say that the client wants something else."""
    return f"The client wants it changed: {remark}."


def waits_for_yes_of(names: Sequence[str], all_of_them: bool) -> str:
    """Say whose yes is wanted still: that of each, or of one of them."""
    named = in_a_row(names, "and" if all_of_them else "or")
    return f"It waits for the yes of {named} to its artwork as it is now."


def they_disagree(opinions: Sequence[tuple[str, str]]) -> str:
    """Say who says what about an item: each with what they want, ``""`` for a yes."""
    return f"They disagree: {opinions_in_words(opinions)}."


def opinions_in_words(opinions: Sequence[tuple[str, str]]) -> str:
    """Return who says what, in a row."""
    return "; ".join(
        f"{by or 'somebody without a name'}: {f'to change: {wanted}' if wanted else 'right'}"
        for by, wanted in opinions
    )


def in_question(questions: Sequence[tuple[int, str, str]]) -> str:
    """Say what is not settled: number, place and words of each question."""
    told = "; ".join(f"question {number} ({place}): {said}" for number, place, said in questions)
    return f"Something came back that may concern it: {told}."


def is_stopped(stop: str) -> str:
    """Say that there is no artwork, and why."""
    return f"It is stopped: {stop}"


# The last word about an item, in a cell

NOTE_GONE = "no longer in the list"
ANOTHER_TEXT = "another text"


def note_changed(item: int) -> str:
    """Note that an engraved cup is not as it would be made now."""
    return (
        f"The cup stands as it was engraved. Made today, its artwork would differ: in its text, in "
        f"its size, or only because the program is another one. Only if the cup itself must be "
        f"made again, record item {item} as spoiled."
    )


def note_waived(reason: str) -> str:
    """Note that an item was released without a yes."""
    return f"without a yes: {reason}"


def note_yes(by: str, at: str) -> str:
    """Note who said yes, and when."""
    return f"yes, {by}, {at}" if by else f"yes, {at}"


def note_missing(said: Sequence[str], missing: Sequence[str], all_of_them: bool) -> str:
    """Note who has said yes, and whose yes is wanted still: that of each, or of one of them."""
    so_far = f"yes, {in_a_row(said)}; " if said else ""
    return f"{so_far}not yet: {in_a_row(missing, 'and' if all_of_them else 'or')}"


def note_spoiled(note: str, blanks: int) -> str:
    """Add to a note how many blanks were lost."""
    lost = f"{counted(blanks, 'blank')} spoiled"
    return f"{note}; {lost}" if note else lost


def wish(remark: str, texts: Mapping[str, str]) -> str:
    """Say what a client wants: in their words, and the texts that are named."""
    named = [f"{field}: {whole(text)}" for field, text in texts.items()]
    return ", ".join([*([whole(remark)] if remark else []), *named])


# What was said and done about an item, one line each


def told_yes(by: str, way: str, seal: str) -> str:
    """Tell of a yes; of which artwork, where its seal is wanted."""
    return f"{by or 'the client'} ({way}): yes{_sealed(seal)}"


def told_wish(by: str, way: str, wanted: str, seal: str) -> str:
    """Tell of a wish; about which artwork, where its seal is wanted."""
    return f"{by or 'the client'} ({way}): to change: {wanted}{_sealed(seal)}"


def _sealed(seal: str) -> str:
    return f", seal {seal}" if seal else ""


def told_of_an_earlier_saving(told: str) -> str:
    """Tell of a word that a later saving of the same page has replaced."""
    return f"{told} (does not count: the same page was saved again later)"


def told_correction(by: str, field: str, was: str, text: str) -> str:
    """Tell of a text that took the place of the list's."""
    whose = f", {by}" if by else ""
    return f"new text{whose}: {field} {whole(was)} -> {whole(text)}"


def told_taken_back(by: str, field: str, was: str, _text: str) -> str:
    """Tell that the list's own text holds again."""
    whose = f", {by}" if by else ""
    return f"taken back{whose}: {field} is {whole(was)} again, as in the list"


def told_decision(by: str, reason: str) -> str:
    """Tell of the maker's word over what was said before."""
    return f"{by}: it stays as it is: {reason}" if reason else f"{by}: it stays as it is"


def told_question(by: str, place: str, said: str) -> str:
    """Tell of something that came back and was not understood."""
    return f"{by or 'the client'}, {place}: {whole(said)}"


def told_settlement(by: str, number: int, outcome: str) -> str:
    """Tell how a question was settled."""
    return f"{by}: question {number} is settled: {outcome}"


def told_event(what: str, reason: str) -> str:
    """Tell what became of a cup."""
    return f"{what}: {reason}" if reason else what


# Time and price


def no_time_in_shop(where: str) -> str:
    """Say that something is no time by the clock in the shop."""
    return (
        f"{where}: This is not a time by the clock in the shop. Enter one such as "
        f'"2026-12-05 09:00".'
    )


NO_TIME_TAKEN = (
    "The time by the clock is not above 0, or it is longer than any cup takes. Enter how long the "
    "cup took."
)


def bad_quantity(found: str) -> str:
    """Say how quantities are given."""
    return f"Quantities: Found {shown(found)}. Give whole numbers, such as 12,24,48."


def quantity_out_of_bounds(found: object, most: int) -> str:
    """Say that no quote is worked out for so many cups."""
    return f"Found {found} cups. A quote takes whole numbers from 1 to {most:,}."


# Settings and recipes


def bad_option(option: str, reason: object) -> str:
    """Say what is wrong with an option."""
    return f"{option}: {reason}"


def stopped_card(finding: Finding) -> str:
    """Say why no test card is written."""
    return f"{finding.message} {finding.advice}"


def no_such_card(name: str, nearest: str) -> str:
    """Say that the shop keeps no such test card."""
    return f"{shown(name)}: The shop keeps no such test card. {nearest} See: mailmerge test-cards"


def no_such_recipe(name: str, nearest: str) -> str:
    """Say that the shop has kept no such recipe."""
    return f"{shown(name)}: The shop has kept no such recipe. {nearest} See: mailmerge recipes"


def not_dropped(name: str) -> str:
    """Say that nothing of that name was taken out of the shop."""
    return f"{shown(name)}: Nothing of that name was taken out, or it has been put back already."


def key_exists(key: Path) -> str:
    """Say that the key of another card would be lost."""
    return (
        f"{key}: This is the key of a card already, perhaps of one that was engraved. It is left "
        f"as it is. Name another folder with --out."
    )


OUTCOME_MISSING = 'Say with --outcome how it came out, such as --outcome "even, no halo".'


def coat_of_no_blank(coat: str, meant: str) -> str:
    """Say that a recipe's coat is in no blank; ``meant`` asks about the nearest one, if any."""
    hint = f"{meant} " if meant else ""
    return (
        f"No blank of the library comes in {shown(coat)}. {hint}The recipe holds for cups whose "
        f"coat has exactly this name."
    )


def blank_with_identity(name: str, identity: str) -> str:
    """Name a blank that another one is called like, with the beginning of its identity."""
    return f"{name} ({identity}…)"


# Forgetting


def forget_all(paths: Iterable[Path]) -> str:
    """Say what would go, before it does."""
    going = "".join(f"\n  goes: {path}" for path in paths)
    return f"Names, pictures and answers cannot be brought back.{going}"


def no_such_copy(folder: Path, name: str, found: int) -> str:
    """Say that no copy, or more than one, is called so."""
    which = "No copy of the record is" if not found else f"{found} copies of the record are"
    return (
        f"{folder}: {which} called {shown(name)}. List them with: mailmerge go-back {folder}. "
        f'Then give one of these names, or "present".'
    )


def copy_of_other_order(path: Path) -> str:
    """Say that a copy does not belong here."""
    return f"{path}: This is a copy of another order's record. Nothing was changed."


FORGET_THEM = "forget them"
YES_MISSING = "Add --yes if you are sure. What is forgotten cannot be brought back."


# Pictures


def cup_of(name: str) -> str:
    """Name the picture of a cup."""
    return f"The cup of {whole(name)}"


def proof_of(name: str) -> str:
    """Name the picture of a proof."""
    return f"The proof of {whole(name)}"


def blank_to_scale(name: str) -> str:
    """Say what a picture of a blank shows."""
    return f"{name} to scale, beside its wall unrolled: hatched what stays free, dashed each face"


def blank_lies(name: str, machine: str) -> str:
    """Say what a picture of a blank on a machine shows."""
    return f"How {name} lies at the start, seen into its mouth and from above. {machine}"


def font_in_letters(family: str) -> str:
    """Say what a picture of a font shows."""
    return f"{family}, in its own letters"


def no_kind_of_sheet(file: Path) -> str:
    """Say that a sheet of ornaments is not drawn into such a file."""
    return f"{shown(str(file))}: A sheet is an .svg or a .png file. Name the file so."


def no_such_ornaments(found: str, known: Sequence[str]) -> str:
    """Say that the library has no ornaments of a kind or a subject."""
    return f"Found {shown(found)}. {nearest(found, known)} Ornaments are of: {', '.join(known)}."


def no_installed_font(family: str, nearest: str) -> str:
    """Say that no such font is installed."""
    return f"{shown(family)}: No such font is installed. {nearest} See: mailmerge fonts"


def not_held(machine: str, name: str) -> str:
    """Say that a machine cannot take a blank."""
    return f"{shown(machine)} cannot take {shown(name)}. Choose another blank."


def loading_of(name: str) -> str:
    """Name the picture of how a cup is loaded."""
    return f"How the cup of {whole(name)} is loaded"


def no_loading_picture(item: int) -> str:
    """Say that a stopped item is not loaded."""
    return f"Item {item} is stopped. It has no artwork, so it is not loaded."


def picture_damaged(file: str) -> str:
    """Say that a picture cannot be read."""
    return f"{file}: The picture is damaged. Make the cups again."


# At the machine


PRESSED = {
    "release": "to release",
    "engraved": "to record as engraved",
    "spoiled": "to record as spoiled",
    "mistaken": "to take back",
    "start": "to start the clock for",
}
"""What somebody at the machine was about to do with a cup."""


def how_it_stands(number: int, name: str, standing: str, since: str) -> str:
    """Say where a cup stands, and when something became of it last."""
    when = f", since {since[:16].replace('T', ' ')}" if since else ""
    return f'Item {number} ({name}) is now "{standing}"{when}.'


def is_not_as_before_them(pressed: str, reason: str, stand: Sequence[str], count: int) -> str:
    """Say that somebody else was quicker at the bench."""
    why = f" (reason: {whole(reason)})" if reason else ""
    cups = "a cup that has" if count == 1 else f"cups of which {count} have"
    return (
        f"You were about {pressed}{why} {cups} changed since your page showed "
        f"{'it' if count == 1 else 'them'}. {' '.join(stand)} Nothing was recorded. Look again "
        f"first."
    )


def not_in_run(number: int) -> str:
    """Say that a cup does not lie in the folder to engrave from."""
    return f"Item {number} is not released, so it is not in the run."


def file_not_there(number: int) -> str:
    """Say that a released file is missing."""
    return f"The file of item {number} is not as it was released. Make the cups again."


def clock_needs_released(number: int) -> str:
    """Say for what no clock is started."""
    return f"Item {number} is not released. The clock runs for a cup that is."


def clock_runs_for(number: int, name: str) -> str:
    """Say that one cup is on the machine already."""
    return f"The clock runs for item {number} ({name}). Stop it first."


def another_clock(number: int, name: str) -> str:
    """Say that the clock that somebody wanted to stop is stopped already."""
    return (
        f"The clock that you were about to stop runs no more. One for item {number} ({name}) was "
        f"started since, and runs on."
    )


NO_CLOCK = "No clock runs."


# The shop


def value_changed_since(seen: str, now: str) -> str:
    """Say that somebody else has changed a value of the shop meanwhile."""
    return (
        f"This was {shown(seen)} when your page was opened, and is {shown(now)} now. "
        f"Somebody has changed it since. Open the page again, and then change it."
    )


def no_such_value(key: str, known: Sequence[str]) -> str:
    """Say that the shop has no such value."""
    return f"{shown(key)}: The shop has no such value. It has {', '.join(known)}."


# The talk with the client


def no_pack(folder: Path) -> str:
    """Say that there is nothing to send."""
    return f"{folder}: There is no proof pack to send. Make it first."


def is_not_as_seen(number: int, name: str, standing: str, texts: Mapping[str, str]) -> str:
    """Say that an item has changed since somebody looked at it, and how it is now."""
    now = in_a_row([shown(text) for text in texts.values()])
    return (
        f"Item {number}, {name}: It has changed since this was shown. Now it is {standing}, with "
        f"{now}. Nothing was done. Look at it again."
    )


ARRANGED = {
    "title": "name of the order", "due": "day", "blank": "blank", "coat": "coat",
    "layout": "layout", "motif": "motif", "machine": "machine",
    "language": "language of the pack", "needs": "number of people who have to say yes",
    "people": "list of people whose yes counts",
}  # fmt: skip
"""What the parts of an order are called."""


def order_file_is_not_as_seen(folder: Path, both: Iterable[tuple[str, str, str]]) -> str:
    """Say that an order's file has changed since somebody looked at it.

    Parameters
    ----------
    both
        What was to be changed: what it is called, what was wanted, what there is now.
    """
    told = "".join(
        f" The {what} is {shown(now) if now else 'open'} now; you chose "
        f"{shown(wanted) if wanted else 'none'}."
        for what, wanted, now in both
    )
    return (
        f"{folder}: The order has changed since this was shown. Nothing was done.{told} Look "
        "again, then choose."
    )


# Trying something on one cup


def no_such_item(item: int) -> str:
    """Say that an order has no such item, or no longer."""
    return f"Item {item} is not in this order."


def no_close_picture(item: int) -> str:
    """Say that there is nothing to be looked at close by."""
    return f"Item {item} has no such picture from close by."


def close_by(name: str) -> str:
    """Say what a picture shows."""
    return f"The face of the cup of {name}, close by"


# Setting one cup differently

NOTHING_SET = "Say what is to be different: the letter height, the lines, or the font."


def set_as_others_already(item: int) -> str:
    """Say that a cup has nothing of its own."""
    return f"Item {item} is set as the others of its set. There is nothing to take back."


def cup_exists(item: int) -> str:
    """Say that a cup is engraved."""
    return f"Item {item} is engraved. Its cup stays as it is."


def cup_has_changed(item: int, now: Iterable[tuple[str, float]]) -> str:
    """Say that somebody else was quicker, and how each line is now, with its letters in mm."""
    lines = in_a_row([f"{shown(text)} in letters of {height:g} mm" for text, height in now])
    told = f" It says {lines} now." if lines else " Nothing can be made of it now."
    return f"Item {item} has changed since you looked at it.{told} Look at it again."


def no_such_line(line: int, count: int) -> str:
    """Say that a layout has fewer lines."""
    return f"Line {line} is not in the layout. It has {counted(count, 'line')}."


def line_is_empty(line: int) -> str:
    """Say that a guest has no text for a line."""
    return f"Line {line} of the layout is empty for this guest."


def height_outside_layout(height: float, least: float, most: float) -> str:
    """Say which letter heights a layout allows."""
    return (
        f"Found a letter height of {height:g} mm. The layout allows {least:g} to {most:g} mm for "
        f"this line."
    )


def stands_on_one_row(line: int) -> str:
    """Say that a line cannot be broken."""
    return f"Line {line} of the layout stands on one line alone. It cannot be broken."


def too_many_rows(found: int, most: int) -> str:
    """Say that a text is broken too often."""
    return f"Found {found} lines. A text stands on {most} at most."


def other_words(found: str, text: str) -> str:
    """Say that rows hold another text than the cup's."""
    return (
        f"The lines read {shown(found)}, but the text is {shown(text)}. Here it can only be "
        f"broken anew. To change the words, record a new text."
    )


def does_not_fit_so(height: float, rows: Sequence[str]) -> str:
    """Say that a letter height is too large for a text."""
    return f"Letters {height:g} mm high do not fit as {' / '.join(rows)}. Take smaller ones."


def told_apart(by: str, what: str) -> str:
    """Tell how a cup was set differently, or as the others again."""
    whose = f", {by}" if by else ""
    return f"set differently{whose}: {what}" if what else f"set as the others again{whose}"


def own_in_words(height: float | None, rows: Sequence[str], font: str) -> str:
    """Say what is a cup's own; ``""`` if nothing."""
    own = [
        f"letters {height:g} mm high" if height else "",
        f"broken as {' / '.join(rows)}" if rows else "",
        f"in {font}" if font else "",
    ]
    return ", ".join(filter(None, own))


# Beginning an order

LIST_NOT_LAID_BY = (
    "This list is not kept here any more. It was taken, or it lay here for more than a "
    "week. Drop it once more."
)


def more_rows_than(most: int) -> str:
    """Say that a list is too long to be looked at on a page."""
    return (
        f"The list has more than {most:,} rows, and was not kept. A page looks at lists of up to "
        f"{most:,}. Take out rows that hold no guest, or make several orders of it."
    )


TITLE_MISSING = "Enter whose party it is."
CHOOSE_BLANK = "Choose one of the blanks."
CHOOSE_LAYOUT = "Choose one of the layouts."
CHOOSE_COAT = "Choose the coat of the blank."
CHOOSE_MACHINE = "Choose one of the machines."
NOT_READ_YET = "First say how the list is read."
YOUR_TITLE = "Whose party it is"


# The list, and texts in its place

WHO_CORRECTS = "Say who says so."


def say_both_names(name: str) -> str:
    """Say that nobody can tell which two people a name holds."""
    return f"{shown(name)}: It cannot be told who the two people are. Give both names."


def meant_already(text: str) -> str:
    """Say that nothing would change."""
    return f"It is said already that {whole(text)} is meant just so."


def not_meant(text: str) -> str:
    """Say that there is nothing to take back."""
    return f"Nobody has said that {whole(text)} is meant just so."


def nobody_says(text: str) -> str:
    """Say that the list does not hold a text."""
    return f"No guest of the list has just {whole(text)}. It must be the whole text of a cell."


CHANGED_SINCE_COMPARED = (
    "The order or the list has changed since they were compared. Look once more at what is new."
)


def no_former_list(name: str) -> str:
    """Say that an order never had a list."""
    return f"The order has kept no list called {whole(name)}."


# Layouts of one's own

THE_LAYOUT = "The layout"
LAYOUT_NAME_MISSING = "Give the layout a name."


def no_such_layout(name: str) -> str:
    """Say that there is no such layout to choose."""
    return f"There is no layout {whole(name)} here."


def no_such_layout_key(key: str) -> str:
    """Say that a layout has no such key."""
    return f"{shown(key)}: A layout has no such key. Write it as in line.1.letter_height.max."


def layout_name_taken(name: str) -> str:
    """Say that a layout of that name is there."""
    return f"There is a layout called {whole(name)} already. Give another name."


def no_names(folder: Path) -> str:
    """Say that nothing can be tried."""
    return f"{folder}: The list holds no name to show a layout with."


def mean_and_spread(mean: str, spread: str) -> str:
    """Say what several readings come to."""
    return f"On average {mean}. From the least to the most there are {spread}."


def measure_missing(key: str) -> str:
    """Say that something was not measured."""
    return f"{key}: Nothing was typed. Measure it, or say what it is."


def in_font(text: str, font: str) -> str:
    """Say what a picture of a font shows."""
    return f"{text} in {font}"


# A form for the list


def form_over_list(file: Path) -> str:
    """Refuse to write a form over a list that holds guests."""
    return (
        f"{file}: This is the order's own list, and it holds guests. Write the form somewhere "
        "else, with --out."
    )


# Handing over, and being paid


def to_whom(most: int) -> str:
    """Ask who takes the cups."""
    return f"Say who has them now, in at most {most} characters. Nothing was put on record."


def day_to_come(day: dt.date) -> str:
    """Refuse a day that is still to come."""
    return f"{day:%Y-%m-%d} is still to come. Nothing was put on record."


NOTHING_TO_HAND_OVER = "No cup of this order is engraved and still here."


def no_such_cup(number: int) -> str:
    """Refuse a number that no cup has."""
    return f"There is no cup {number} in this order. Nothing was put on record."


def not_engraved_yet(number: int, name: str, standing: str) -> str:
    """Refuse to hand over a cup that does not exist."""
    return (
        f"Cup {number} ({name}) is not engraved: it is {standing}. Say that it is with "
        "mailmerge engraved, then hand it over. Nothing was put on record."
    )


def handed_already(number: int, name: str, to: str, day: str) -> str:
    """Refuse to hand over what somebody has."""
    return (
        f"Cup {number} ({name}) was handed over to {to} on {day}. If that was a mistake, or it is "
        "back, take that back first. Nothing was put on record."
    )


def not_handed_over(number: int, name: str) -> str:
    """Refuse to take back what nobody has."""
    return f"Cup {number} ({name}) was not handed over. Nothing was put on record."


def paid_how(most: int) -> str:
    """Ask how something was paid."""
    return (
        f"Say how it was paid, such as cash or transfer, in at most {most} characters. "
        "Nothing was put on record."
    )


def no_such_payment(number: int, known: Sequence[int]) -> str:
    """Refuse a number that no payment has."""
    listed = ", ".join(map(str, known)) or "none"
    return f"There is no payment {number}. Those on record: {listed}."


def no_amount(what: str, error: object) -> str:
    """Refuse what is no amount of money."""
    return f"{what}: {error}"


def amount_of_nothing(what: str, text: str, unit: object) -> str:
    """Refuse an amount that nobody can pay."""
    return f"{what}: {shown(text)} cannot be paid. Give an amount above 0, in steps of {unit}."


def note_handed(to: str, day: str) -> str:
    """Say who has a cup."""
    return f"handed over to {to} on {day}"


NOTHING_TO_PACK = "No cup of this order has artwork yet. First merge it, and mend what is stopped."
NO_GROUP = "In no group"


def nothing_to_pack(number: int, name: str) -> str:
    """Refuse a cup without artwork."""
    return f"Cup {number} ({name}) is stopped: there is nothing to pack yet."


# An order like another one


def folder_is_used(folder: Path) -> str:
    """Refuse a folder for a new order that holds something."""
    return f"{folder}: Something lies in this folder. Give a new one. Nothing was written."


def list_called_as_a_part(name: str) -> str:
    """Refuse a list that is called as a file of the order's layout or blank."""
    return f"{name}: The other order has a file of this name, for its layout. Rename the list."
