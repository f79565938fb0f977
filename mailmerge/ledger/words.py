"""What this room says to people."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from mailmerge.findings import shown, whole
from mailmerge.voice import on_a_line

# The ledger's file


def nothing_merged(folder: Path) -> str:
    """Say that an order has no ledger yet."""
    return f"{folder}: Nothing is merged yet. First run: mailmerge merge {folder}"


def no_letters(folder: Path, text: str) -> str:
    """Say that a text cannot be kept."""
    visible = text.encode("ascii", "backslashreplace").decode()
    return (
        f"{folder}: A text holds bytes that are no letters: {shown(visible)}. Type it again. "
        f"Nothing was recorded."
    )


def written_by_newer_program(path: Path, version: int, known: int) -> str:
    """Say that a ledger's schema is above those that are known."""
    return (
        f"{path}: A newer version of this program wrote this ledger. Its schema is {version}; "
        f"this program knows schemas up to {known}. Install the newer version."
    )


def being_changed(folder: Path) -> str:
    """Say that somebody else holds the lock."""
    return (
        f"{folder}: Something else is changing this order right now. Nothing was done. Try again "
        f"when it has ended."
    )


def unusable(path: Path, reason: str) -> str:
    """Say that SQLite cannot work with a ledger."""
    return f"{path}: The ledger cannot be used: {reason}."


def damaged(path: Path, reason: object, folder: Path) -> str:
    """Say that a file is no whole ledger."""
    return (
        f"{path}: The file is damaged, or it is not a ledger ({reason}). Go back to a dated copy: "
        f"mailmerge go-back {folder}"
    )


def other_kind(found: str) -> str:
    """Say what was found in the place of texts or of a list."""
    return f"found {shown(found)} in the place of texts"


def entry_damaged(item: int) -> str:
    """Say that what the ledger keeps of a cup is not whole."""
    return (
        f"Item {item}: What the order's record keeps of it is damaged. Go back to a dated copy "
        f"with mailmerge go-back."
    )


IT_IS_EMPTY = "it is empty"
NO_TEXT = "what it calls its tables is no text"


def copy_damaged(path: Path, reason: object) -> str:
    """Say that a file is no whole copy of a ledger."""
    return (
        f"{path}: This copy is damaged, or it is not a copy of a ledger ({reason}). Nothing was "
        f"changed. Choose another copy."
    )


def ledger_lost(path: Path, folder: Path) -> str:
    """Say that an order had a ledger, and has none."""
    return (
        f"{path}: The ledger of this order is gone, but there are copies of it. Look where it is. "
        f"To go back to a copy: mailmerge go-back {folder}"
    )


# The folder to engrave from, and whether it belongs to the ledger


def contents_unreadable(path: Path, folder: Path) -> str:
    """Say that nobody can tell whether the tray belongs to the ledger."""
    return (
        f"{path}: This is not as the program writes it, so it cannot say whether the ledger is the "
        f"one that was written last. Nothing was done. See what there is to go on with: mailmerge "
        f"go-back {folder}"
    )


def tray_of_other_order(folder: Path, tray: str, ledger: str) -> str:
    """Say that the tray and the ledger are of two orders."""
    return (
        f"{folder}: The ledger is of order {ledger}, but to-engrave is of order {tray}. Nothing "
        f"was done. See what there is to go on with: mailmerge go-back {folder}"
    )


def ledger_is_older(folder: Path, state: int, known: int) -> str:
    """Say that a ledger is not the one that was written last."""
    return (
        f"{folder}: The ledger is an older one: it ends with change {state}, and to-engrave knows "
        f"of change {known}. A synced or copied folder may have brought it back, or left "
        f"ledger.sqlite-wal behind. Nothing was done. See what there is to go on with: mailmerge "
        f"go-back {folder}"
    )


def changed_apart(folder: Path) -> str:
    """Say that two copies of an order were changed apart from each other."""
    return (
        f"{folder}: The ledger and the rest of this folder come from two copies of this order that "
        f"were changed apart: each may hold words of the client that the other lacks. Nothing was "
        f"done. Look what there is to go on with, and record anew what only the other copy holds: "
        f"mailmerge go-back {folder}"
    )


NOTE_FILE = "why.txt"


def note_of_what_was_moved(order: str, at: str, names: Iterable[str]) -> str:
    """Say in a note why something was moved out of the tray."""
    listed = "".join(f"  {on_a_line(name)}\n" for name in names)
    return (
        f"Moved out of to-engrave on {at}.\n\n"
        f"This was not what the record of order {order} says is released. Do not engrave it.\n"
        f"Delete it when you know what it is.\n\n{listed}"
    )


def released_but_not_there(folder: Path, number: int) -> str:
    """Say that a released item's file cannot be put where it should be."""
    return (
        f"Item {number} is on record as released, but its file is not in to-engrave as it was "
        f"confirmed, and it cannot be put there. Nothing was recorded. First run: mailmerge merge "
        f"{folder}"
    )


def open_elsewhere(path: Path) -> str:
    """Say that somebody still reads a ledger that is to lose its names."""
    return (
        f"{path}: Another program has the ledger open and may still hold names. End that program "
        f"and try again."
    )


# Who is who


def person(fields: Mapping[str, str]) -> str:
    """Return a guest's name and role on one line."""
    return ", ".join(shown(fields[f])[1:-1] for f in ("name", "role") if fields.get(f)) or "no name"


def who_is_where(
    items: Sequence[int], was: Mapping[str, str], rows: Iterable[tuple[int, Mapping[str, str], str]]
) -> str:
    """Ask which of several rows a guest stands in; the last of each is what is amiss with it."""
    word = "item" if len(items) == 1 else "items"
    numbers = ", ".join(map(str, items))
    rows = list(rows)
    places = " or ".join(f"in row {row} ({person(fields)})" for row, fields, _ in rows)
    amiss = "".join(f" Row {row} is stopped: {said}" for row, _, said in rows if said)
    return f"Is the guest of {word} {numbers} ({person(was)}) now {places}?{amiss}"


def unsure(questions: Sequence[object], more: int, item: int, row: int) -> str:
    """Say everything that is open about guests, and how to answer it."""
    asked = " ".join(f"({at}) {question}" for at, question in enumerate(questions, start=1))
    rest = f" {_more_questions(more)}" if more > 0 else ""
    return (
        f"The list has changed, and some guests are not found for sure. {asked}{rest} Answer with "
        f"options of mailmerge merge: --same {item}={row} if the guest of item {item} is in row "
        f"{row}, --gone {item} if that guest is no longer in the list, --gone all if none of the "
        f"guests in question is in the list any more."
    )


def _more_questions(more: int) -> str:
    return "1 more question is open." if more == 1 else f"{more} more questions are open."


def same_without_item(item: int, row: int) -> str:
    """Say that who is where was said for an item that there is not."""
    return f"Item {item} in row {row}: This order has no item {item}."


def same_without_row(item: int, row: int) -> str:
    """Say that a guest was put into a row that nobody is in, or one that is taken."""
    return (
        f"Item {item} in row {row}: No guest stands in row {row} of the list, or the row was named "
        f"twice. Name a row that holds a guest, and name it once."
    )


def same_guest_twice(item: int, row: int) -> str:
    """Say that two rows were named for one guest."""
    return (
        f"Item {item} in row {row}: Item {item} belongs to a guest for whom you named another row. "
        f"Name one row for each guest."
    )


def gone_without_item(item: int) -> str:
    """Say that an item was called gone that there is not."""
    return f"Item {item} gone: This order has no item {item}."


def gone_already(item: int) -> str:
    """Say that an item was called gone that was given a row, or that is gone already."""
    return (
        f"Item {item} gone: You said that this guest is in the list, or the guest is gone already."
    )


# Release, and what became of a cup


def no_such_item(folder: Path, number: int, most: int) -> str:
    """Say that an order has no such item."""
    numbered = f"Its items are numbered 1 to {most}." if most else "It has no items yet."
    return f"{folder}: This order has no item {number}. {numbered}"


def not_released(number: int, name: str, standing: str) -> str:
    """Say that an item cannot have been engraved."""
    if standing == "engraved":
        return f"Item {number} ({name}) is on record as engraved already. Nothing was recorded."
    return (
        f'Item {number} ({name}) is "{standing}": it has no file to engrave from. Release it '
        f"first. Nothing was recorded."
    )


def neither_released_nor_engraved(number: int, name: str, standing: str) -> str:
    """Say that no blank can have been spoiled on an item."""
    if standing == "spoiled":
        return (
            f"The blank of item {number} ({name}) is on record as lost already. Release it before "
            f"you record another one. Nothing was recorded."
        )
    return (
        f'Item {number} ({name}) is "{standing}" and was never on the machine, so no blank was '
        f"lost on it. Nothing was recorded."
    )


def nothing_to_take_back(number: int, name: str, standing: str) -> str:
    """Say that nothing was put on record of an item that could be a mistake."""
    return (
        f'Item {number} ({name}) is "{standing}". Only what was recorded as engraved or spoiled '
        f"can be taken back. Nothing was recorded."
    )


def artwork_changed_by_hand(path: Path, found: str, wanted: str | None) -> str:
    """Say that an item's artwork file is not as it was made."""
    return (
        f"{path}: The file was changed by hand. Its seal is {found}; the seal on record is "
        f"{wanted}."
    )


# Forgetting


def forgotten_already(folder: Path) -> str:
    """Say that an order cannot be forgotten twice."""
    return (
        f"{folder}: This order is forgotten already. Its names are no longer known, so nothing "
        f"can be searched for."
    )


def changed_meanwhile(folder: Path) -> str:
    """Say that names were put on record while files were searched for them."""
    return (
        f"{folder}: This order was changed while it was searched. Nothing was removed. Try again."
    )


def names_in_other_files(folder: Path, traces: Iterable[tuple[Path, str]]) -> str:
    """Say which of the maker's own files hold names."""
    listed = "; ".join(f"{path} ({shown(name)})" for path, name in traces)
    return (
        f"{folder}: Nothing was removed yet, because files of your own also hold names: {listed}. "
        f"Delete these files, move them, or take the names out. To leave them as they are, add "
        f"--leave-others."
    )


def forgotten_on(folder: Path, day: str) -> str:
    """Say that there is nothing of an order to work with."""
    return (
        f"{folder}: This order was forgotten on {day}. Nothing of it is left to work with. Start "
        f"a new one with: mailmerge new"
    )


# Texts in the place of the list's


def no_guest_of(item: int) -> str:
    """Say that an item is not in the order."""
    return f"There is no item {item} in the order now."


def no_such_field(field: str, fields: Sequence[str]) -> str:
    """Say that the list has no such column."""
    return f"The list has no {field}. It has {', '.join(fields)}."


def changed_since_seen(item: int, field: str, seen: str, now: str) -> str:
    """Say that somebody else was quicker."""
    return (
        f"Item {item}: The {field} was {whole(seen)} when you looked. It is {whole(now)} now. Look "
        f"again before you change it."
    )


def never_blank(field: str) -> str:
    """Say that a cup needs a name."""
    return f"Enter the {field}. It cannot be blank."


def holds_hidden_signs(field: str, text: str) -> str:
    """Say that a text that was typed holds signs that show nothing of themselves."""
    return f"The {field} {whole(text)} holds a sign that nobody sees. Type it. Do not paste it."


def longer_than(field: str, length: int, most: int) -> str:
    """Say that a text is too long."""
    return f"The {field} has {length} characters. At most {most} are taken."


def says_so_already(item: int, field: str, text: str) -> str:
    """Say that nothing would change."""
    return f"Item {item}: The {field} is {whole(text)} already."


def two_texts_for(item: int, text: str, other: str) -> str:
    """Say that cups of one guest would differ."""
    return (
        f"Item {item}: {whole(text)} and {whole(other)} were given for cups of the same guest. "
        f"Give one of them."
    )


def one_person_twice(name: str) -> str:
    """Say that two people were to be one."""
    return f"Found {whole(name)} twice. Give the names of two people."


def split_already(item: int) -> str:
    """Say that a row holds two people already."""
    return (
        f"Item {item}: Its row holds two people already, each with a cup. Take back its name first."
    )


def nothing_corrected(item: int, field: str) -> str:
    """Say that there is nothing to take back."""
    return f"Item {item}: The {field} is as the list says. There is nothing to take back."
