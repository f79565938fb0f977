"""What the commands print and ask, in whole lines."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mailmerge.deeds.words import (
    ITEMS_OR_ALL,
    TEXT_NEEDS_ONE_ITEM,
    bad_option,
    no_time_in_shop,
    wish as wish_in_words,
)
from mailmerge.findings import Finding, shown, whole, with_values
from mailmerge.units import (
    counted,
    format_inches,
    format_minutes,
    format_mm,
    items_in_words,
    numbers_in_words,
)

if TYPE_CHECKING:
    from mailmerge.deeds.making import RowCount
    from mailmerge.deeds.status import Handover

__all__ = ["ITEMS_OR_ALL", "TEXT_NEEDS_ONE_ITEM", "bad_option"]


def _plain(text: str) -> str:
    """Return text on one line, without its quotation marks."""
    return whole(text)[1:-1]


# For every command

MAKING_ITEMS, CHECKING_ITEMS, JUDGING_FONTS = "making items", "checking items", "judging fonts"
WORKING_OUT = "working out times"


def called_off(changed: Sequence[Path]) -> str:
    """Say what a call that was called off had changed by then."""
    return f"Called off. {_changed_by_then(changed)}"


def unheard(why: str, changed: Sequence[Path]) -> str:
    """Say that what a command prints could not be written, and what it has changed."""
    return f"error: Standard output cannot be written: {why}. {_changed_by_then(changed)}"


def fault(report: Path | None, changed: Sequence[Path]) -> str:
    """Say that the program broke."""
    where = f"The report {report} says where, without names." if report else "There is no report."
    return (
        f"error: The program broke, and you are not to blame. {_changed_by_then(changed)} {where}"
    )


def _changed_by_then(changed: Sequence[Path]) -> str:
    """Say what was changed before a call ended early."""
    return f"This had changed by then: {_places(changed)}." if changed else "Nothing has changed."


DESK_HAS_ENDED = "The desk has ended."


def _places(changed: Sequence[Path]) -> str:
    """Return files and orders, the first ones."""
    first = [str(path) for path in changed[:3]]
    more = len(changed) - len(first)
    return ", ".join([*first[:-1], f"{first[-1]} and {more} more" if more else first[-1]])


def error(said: object) -> str:
    """Say what is wrong with a call."""
    return f"error: {said}"


def wrong_call(said: Any, context: Any) -> str:
    """Say what typer does not take, on one line, and where to look.

    Parameters
    ----------
    said
        Typer's error.
    context
        Typer's context of it, which knows the command; None where there is none.
    """
    what = " ".join(said.format_message().split())
    what = what if what.endswith((".", "?")) else f"{what}."
    return f"{what} See: {context.command_path if context else 'mailmerge'} --help"


def system_error(file: object, reason: object) -> str:
    """Say what the system refused."""
    return f"error: {file}: {reason}" if file else f"error: {reason}"


def names(items: Iterable[tuple[int, str]]) -> str:
    """Return items with their names, to be read aloud."""
    return ", ".join(f"{number} {_plain(name)}" for number, name in items) or "none"


def not_on_log(why: str) -> str:
    """Say that the shop's log lacks what the order has on record."""
    return f"Note: This is on record in the order, but not on the shop's log: {why}"


def written_file(file: Path, paper: str = "") -> str:
    """Name a file that was written."""
    return f"  {file} ({paper})" if paper else f"  {file}"


# Questions about guests, and what has changed


def bad_same(text: str) -> str:
    """Say how ``--same`` is given."""
    return f"--same {shown(text)}: Give ITEM=ROW, such as 7=12, and each item once."


def bad_gone(text: str) -> str:
    """Say how ``--gone`` is given."""
    return f"--gone {shown(text)}: Give the number of an item, or all."


def how_to_answer(rows: Sequence[str], key: str, otherwise: str) -> str:
    """Say what may be typed: one of some numbers, or the key of their opposite."""
    if len(rows) == 1:
        return f"Type y for yes, or {key} if {otherwise}"
    return f"Type {', '.join(rows)}, or {key} if {otherwise}"


def answer_again(rows: Sequence[str], key: str) -> str:
    """Say what may be typed, after something else was."""
    if len(rows) == 1:
        return f"This is not an answer. Type y for yes, or {key}."
    return f"This is not an answer. Type {', '.join(rows)}, or {key}."


def since_last_merge(
    new: Sequence[int], changed: Sequence[int], gone: Sequence[int], as_before: int
) -> str:
    """Count what a merge did to an order."""
    return (
        f"Since the last merge: {_which(new, 'new')}, {_which(changed, 'changed')}, "
        f"{_which(gone, 'gone')}, {as_before} as before."
    )


def _which(numbers: Sequence[int], word: str) -> str:
    listed = f" ({numbers_in_words(list(numbers))})" if numbers else ""
    return f"{len(numbers)} {word}{listed}"


def found_in_row(
    items: Sequence[int], row: int, how: str, was: Mapping[str, str], now: Mapping[str, str]
) -> str:
    """Say how a guest was found."""
    numbers = ", ".join(map(str, items))
    word = "item" if len(items) == 1 else "items"
    return f"  {word} {numbers}: found in row {row} by {how}: {_person(was)} -> {_person(now)}"


def _person(fields: Mapping[str, str]) -> str:
    return ", ".join(_plain(fields[f]) for f in ("name", "role") if fields.get(f))


def correction_overtaken(row: int, text: str, was: str) -> str:
    """Say that the list is newer than a correction."""
    return (
        f"  row {row}: The correction {whole(text)} was made for {whole(was)}. The list says "
        f"something else now, so the list holds."
    )


def new_finding(items: Sequence[int], finding: Finding) -> str:
    """Tell of a finding that is new about items that are not."""
    about = items_in_words(items)
    return f"  new since the last merge: {about}: {finding.severity}: {finding.message}"


def more_findings(more: int) -> str:
    """Say how many findings are not told one by one."""
    return f"  {counted(more, 'more finding')}. To list them all: mailmerge check"


def made_again(numbers: Sequence[int]) -> str:
    """Say whose files were mended."""
    return f"  Made again, because the files had been changed or removed: {items_in_words(numbers)}"


def taken_out_gone(numbers: Sequence[int]) -> str:
    """Say what was taken back because its guest is gone."""
    return f"  Taken out of to-engrave, because no longer in the list: {items_in_words(numbers)}"


def taken_out_changed(numbers: Sequence[int]) -> str:
    """Say what was taken back because it has changed."""
    return f"  Taken out of to-engrave, because the artwork has changed: {items_in_words(numbers)}"


def ask_again(numbers: Sequence[int]) -> str:
    """Say whose yes no longer holds."""
    return (
        f"  Confirmed before, and not as they are now: {items_in_words(numbers)}. Send new proofs, "
        f"and ask again."
    )


def engraved_differently(numbers: Sequence[int]) -> str:
    """Say which cups are not as they would be made now."""
    return f"  Engraved already, and not as they would be made now: {items_in_words(numbers)}"


# Measuring

READINGS_MISSING = (
    'Give readings, such as --around "11 3/4 in" --around "11 13/16 in" --height "186 mm". On a '
    "terminal the command asks for them."
)
HOW_TO_TYPE_LENGTHS = (
    "Type lengths as you read them: 11 3/4 in, 288 mm, 28.8 cm. Leave an answer blank to skip it, "
    "or to take what stands in brackets. Type back to answer the question before again."
)


def go_on_with(call: str) -> str:
    """Say how to go on from the answers so far."""
    return f"Your answers so far are kept in this call. To go on from there, type:\n  {call}"


def not_asked(options: Sequence[str]) -> str:
    """Say that the questions do not come to what was given."""
    return f"{', '.join(options)}: With your other answers this is not asked. Leave it out."


def said_aloud(said: str) -> str:
    """Say what follows from an answer, or why its question is asked again."""
    return f"  {said}"


def length_missing(option: str) -> str:
    """Say that a length was not given."""
    return f'{option}: The length is missing. Give one such as "190 mm".'


def readings(what: str, mean: float, spread: float, count: int, parts: int | None) -> str:
    """Tell of the readings of one length (mm)."""
    return (
        f"{what}: mean {_length(mean, 2, parts)}, spread {format_mm(spread, 2)}, "
        f"{counted(count, 'reading')}"
    )


def _length(length: float, digits: int, parts: int | None) -> str:
    inches = f"  ({format_inches(length, parts)})" if parts else ""
    return f"{format_mm(length, digits)}{inches}"


def circumference(around: float, across: float, parts: int | None) -> str:
    """Tell of a circumference and its diameter (mm)."""
    return f"  circumference {_length(around, 2, parts)}, diameter {_length(across, 2, parts)}"


def taper(distance: float, tilt: float, parts: int | None) -> str:
    """Tell of a tapered wall: tapes apart (mm), lean (degrees)."""
    return (
        f"taper: {_length(distance, 2, parts)} along the wall; it leans by {abs(tilt):.2f}° "
        f"({2 * abs(tilt):.2f}° from side to side), {'wider' if tilt > 0 else 'narrower'} at the "
        f"mouth"
    )


def middle_of_band(around: float, parts: int | None) -> str:
    """Tell how far it is around in the middle of the band (mm)."""
    return f"  in the middle of the band {_length(around, 2, parts)} around"


def face(whose: str, width: float, parts: int | None) -> str:
    """Tell the usable width of a face (mm)."""
    return f"face, {whose}: {_length(width, 1, parts)} usable"


IF_READ_WRONG = "If the tape is read 1 mm wrong:"


def said_of_error(said: str) -> str:
    """Tell one effect of a wrong reading."""
    return f"  {said}"


def blank_written(file: Path) -> str:
    """Name a blank's file, and how an order names it."""
    return f'Written: {file}   (in order.toml: blank = "{file.name}")'


# Making an order


def started(file: Path) -> str:
    """Say that an order was begun."""
    return f"Started {file}"


def taken(what: str, value: str, is_default: bool) -> str:
    """Say what holds where a call is silent."""
    return f"  {what}: {value} ({_whose(is_default)})"


def _whose(is_default: bool) -> str:
    return "a default" if is_default else "as shop.toml says"


def open_columns(question: str, file: Path) -> str:
    """Say that the list's columns leave a question open, and where its answer goes."""
    return f"{question} (the place for it is ready in {file})"


def column(field: str, header: str) -> str:
    """Say which column a field comes from."""
    return f'  {field}: column "{header}"'


def columns_read(headers: Mapping[str, str]) -> str:
    """Say under which headers a list has what is used."""
    return "  " + ", ".join(f"{field} from {shown(header)}" for field, header in headers.items())


def not_used(headers: Mapping[str, Sequence[str]]) -> str:
    """Say which columns are not used, each with the first texts below it."""
    told = ", ".join(with_values(header, values) for header, values in headers.items())
    return f"  not used: {told}. To use one, put its header under [columns] in order.toml."


def check_next(folder: Path) -> str:
    """Say what comes after a start."""
    return f"Next: mailmerge check {folder}"


def form_written(file: Path, titles: Sequence[str], by: dt.date | None) -> str:
    """Say where a form is, what it asks for, and by when."""
    day = (
        f" It asks for the list by {by:%Y-%m-%d}." if by else " It names no day; say one with --by."
    )
    return f"Wrote {_plain(str(file))}: {', '.join(titles)}.{day}"


def list_back(folder: Path) -> str:
    """Say what to do with the form, and with the list that comes back."""
    return f"Send it. When it is filled in: mailmerge compare-list {folder} FILE, then take-list"


def list_read(file: str, rows: RowCount) -> str:
    """Say what became of each row of a list, or of each line of a text file."""
    parts = (
        (rows.header, "down to the header"),
        (rows.blank, "blank"),
        (rows.continued, "within a cell"),
        (rows.unread, "with nothing in a used column"),
        (rows.hidden, "hidden"),
        (rows.none_wanted, "with quantity 0"),
        (rows.examples, "that are examples"),
        (rows.guests, "for guests"),
    )
    every = counted(rows.lines, "line") if rows.lines else counted(sum(n for n, _ in parts), "row")
    listed = ", ".join(f"{number} {what}" for number, what in parts if number)
    return f"{_plain(file)}: {every}: {listed}"


_MOST_NAMED = 6
"""So many runs of rows are named for one finding."""


def some_of(numbers: Sequence[int], count: int) -> str:
    """Return the first of so many rows or items, such as ``3-8, 12 and 30 more``."""
    return numbers_in_words([*numbers], _MOST_NAMED, count)


def named_first(names: Sequence[str], count: int) -> str:
    """Return the first of so many names, and how many more there are."""
    first = "".join(names[:1])
    return f"{first} and {count - 1} more" if count > 1 else first


def more_in_findings(more: int) -> str:
    """Say where the findings are that are not shown here."""
    return f"and {more} more: see findings.csv"


def checked(items: int, ready: int, stopped: int, warnings: int, notes: int) -> str:
    """Count the items that were checked."""
    return f"{counted(items, 'item')}: {_totals(ready, stopped, warnings, notes)}"


def merged(items: int, guests: int, ready: int, stopped: int, warnings: int, notes: int) -> str:
    """Count the items that were made."""
    return (
        f"{counted(items, 'item')} for {counted(guests, 'guest')}: "
        f"{_totals(ready, stopped, warnings, notes)}"
    )


def _totals(ready: int, stopped: int, warnings: int, notes: int) -> str:
    return (
        f"{ready} ready, {stopped} stopped; {counted(warnings, 'warning')}, "
        f"{counted(notes, 'note')}"
    )


def place(what: str, path: Path) -> str:
    """Say where something lies that was made."""
    return f"{what + ':':9} {path}"


STOPPED_HAVE_NO_ARTWORK = "Stopped items have no artwork. Their proofs say why."


def all_taken(found: Iterable[tuple[str, str, bool]]) -> str:
    """Say on one line what holds where a call is silent."""
    listed = ", ".join(f"{what} {value} ({_whose(default)})" for what, value, default in found)
    return f"Taken: {listed}"


def sizes_kept(file: Path) -> str:
    """Say where letter heights were kept."""
    return f"Kept in {file}:"


def kept_size(text: str, role: str, height: float, members: int) -> str:
    """Tell a letter height (mm) that was kept."""
    whose = f", {role}" if role else ""
    why = f"for {counted(members, 'cup')}" if members else "kept from before"
    return f"  {text}{whose}: letter height {height:.2f} mm, {why}"


# The proof pack

NOTHING_OPEN = "Nothing is open. Everything that can be shown has its answer."
NOTHING_NEW_TO_SHOW = "No pack was made: there is nothing new to ask the client. This still stands:"


def shown_again(folder: Path) -> str:
    """Say how whoever wants a change can take it back."""
    return f"  To show these as they are, for it to be taken back: mailmerge proof {folder} --all"


def held(items: str, why: str) -> str:
    """Say why an item is not shown."""
    return f"  {items}: {why}"


def proof_pack(pack: str, cards: int, is_open: int) -> str:
    """Say what a proof pack holds."""
    return f"Proof pack {pack}: {counted(cards, 'card')}, {is_open} to answer"


def pack_file(size: int, path: Path, paper: str = "") -> str:
    """Tell the size (bytes) and name of a file of a pack."""
    told = f" ({paper})" if paper else ""
    return f"  {_size(size):>9}  {path}{told}"


def pack_together(size: int, pictures: Path) -> str:
    """Tell the size (bytes) of a pack."""
    return f"  {_size(size):>9}  together, without {pictures}"


def _size(size: int) -> str:
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{size / 1e3:.1f} kB"


def not_in_pack(names: Sequence[str]) -> str:
    """Say who is not shown."""
    return (
        f"Not in it, because stopped or to be changed: {', '.join(names)}. To show what is to be "
        f"changed as it is now, add --all: whoever wants it changed may take that back there."
    )


def untranslated(language: str, count: int) -> str:
    """Say that a pack is in two languages."""
    texts = counted(count, "text of the pack is", "texts of the pack are")
    return f"{texts} not translated into {language} yet. There it is in English."


NOTHING_TO_REMIND = "Nothing that the client has seen is open. Is the proof pack up to date?"


def between_reminders(texts: Sequence[str]) -> str:
    """Return reminders one below the other."""
    return "\n-- \n\n".join(texts)


def answers_next(folder: Path) -> str:
    """Say what to do with what comes back."""
    return f"When the answers come back: mailmerge answers {folder} FILE"


# The client's answers


def bad_accept(word: str) -> str:
    """Say how ``--accept`` is given."""
    return f"--accept {shown(word)}: Give the number of an item, several such as 41-42, or all."


ACCEPT_ITEMS_OR_ALL = "--accept: Found item numbers together with all. Give one or the other."
ANSWERS_MISSING = "Give the FILE that came back, or its text on standard input."
STANDARD_INPUT = "standard input"


def bad_text(text: str) -> str:
    """Say how ``--text`` is given."""
    return f'--text {shown(text)}: Give FIELD=TEXT, such as "name=Zoë Lind", or the text alone.'


def answers(count: int, by: str, right: Sequence[int], wishes: int, known: int, no: int) -> str:
    """Count what came back."""
    whose = f" from {_plain(by)}" if by else ""
    which = f" ({numbers_in_words(list(right))})" if right else ""
    return (
        f"{counted(count, 'answer')}{whose}: {len(right)} right{which}, {wishes} to change, "
        f"{known} known already, {no} that change nothing now"
    )


def wish(item: int, name: str, remark: str) -> str:
    """Tell a client's wish."""
    said = f" {whole(remark)}" if remark else ""
    return f"  {item}, {_plain(name)}:{said}"


NOT_EXACT = (
    "    A mail program has changed spaces or signs in the message. So no text is proposed. Ask "
    "how it is written, or for the answers file."
)
"""Of a wish whose words came, but perhaps not to the last blank."""


def wanted(remark: str, texts: Mapping[str, str]) -> str:
    """Return what a wish asks for: its words, and the texts that it names."""
    return wish_in_words(remark, texts) or "no words"


def yes_not_counted(item: int, name: str, why: str) -> str:
    """Say why a yes that is on record changes nothing."""
    return f"  On record, but it changes nothing: yes to {item}, {_plain(name)}. {why}"


def wish_not_counted(item: int, name: str, why: str, wanted: str) -> str:
    """Say why a wish that is on record changes nothing, and what it was."""
    return f"  On record, but it changes nothing: {item}, {_plain(name)}: {wanted}. {why}"


def still_open(items: str, why: str) -> str:
    """Say what is open about an item after all."""
    return f"  Not released yet: {items}: {why}"


def decide_or_accept(folder: Path, item: int) -> str:
    """Say what can be done where somebody wants a change."""
    return (
        f"    To change it: mailmerge answers {folder} --accept {item}. If it stays as it is: "
        f'mailmerge decide {folder} {item} --by "your name" --because "why"'
    )


def decided(items: str, waits: str) -> str:
    """Say what was decided, and what an item waits for now."""
    return f"It stays as it is: {items}. {waits}"


def bad_time(option: str, text: str) -> str:
    """Say how a time is given."""
    return f"{option} {shown(text)}: Give a day and a time, such as 2026-12-05T09:30."


def open_question(number: int, place: str, by: str, said: str) -> str:
    """Tell something that came back and is not settled."""
    whose = f", from {_plain(by)}" if by else ""
    return f"Question {number}: {place}{whose}: {whole(said)}"


def settle_next(folder: Path, number: int, is_guest: bool) -> str:
    """Say how a question is settled."""
    call = f'mailmerge settle {folder} {number} --by "your name" --because "what you did"'
    late = " If it is a guest who came late, add --guest." if is_guest else ""
    return f"To settle one, such as question {number}: {call}.{late}"


def asked_now(count: int, items: Sequence[int]) -> str:
    """Say that something is not understood, and what it holds."""
    held = f" Until you settle it, not released: {items_in_words(items)}." if items else ""
    what = "1 thing was" if count == 1 else f"{count} things were"
    return f"{what} not understood.{held}"


def beside_the_answers(said: str) -> str:
    """Show what stands in a message beside its answers."""
    return f"Also in the message: {whole(said)}"


def left_out(numbers: Sequence[int]) -> str:
    """Say which rows are not in a list that came back."""
    return f"Not in the list that came back, and not answered by it: {items_in_words(numbers)}"


def settled(number: int) -> str:
    """Say that a question is settled."""
    return f"Question {number} is settled."


def settled_item(items: str, waits: str) -> str:
    """Say how an item stands after a question is settled."""
    return f"  {items}: {waits}"


def guest_next(folder: Path) -> str:
    """Say when a late guest gets a cup."""
    return f"The guest is in the list from the next merge on: mailmerge merge {folder}"


def unanswered(numbers: Sequence[int]) -> str:
    """Say what still waits for an answer."""
    return f"Still unanswered: {items_in_words(numbers)}"


def taken_back(numbers: Sequence[int]) -> str:
    """Say what must not be engraved after these answers."""
    return f"  Taken back out of to-engrave: {items_in_words(numbers)}"


def stop_the_machine(item: int) -> str:
    """Say that what was taken back is just being engraved."""
    return (
        f"Stop the machine: item {item} is on it, its clock runs, and its file was taken back out "
        f"of to-engrave."
    )


def engraved_already(folder: Path, item: int) -> str:
    """Say that a wish comes too late for a cup."""
    return f"    This cup is engraved already. To make it again: mailmerge spoiled {folder} {item}"


def proposal(texts: Mapping[str, str], folder: Path, item: int) -> str:
    """Propose the texts that a wish asks for."""
    new = ", ".join(f"{field}: {whole(text)}" for field, text in texts.items())
    return f"    Proposed: {new}. To accept it: mailmerge answers {folder} --accept {item}"


def unclear(fields: Iterable[str], folder: Path, item: int) -> str:
    """Say what can be done about a wish that does not tell its text."""
    texts = " or ".join(f'--text "{field}=…"' for field in fields)
    return (
        f"    It is not clear which text is wanted. Give it with: mailmerge answers {folder} "
        f"--accept {item} {texts}. Or take the row out of the list. Or, if it stays as it is: "
        f'mailmerge decide {folder} {item} --by "your name" --because "why"'
    )


NO_WISH_OPEN = "No open wish says plainly what the new text is, with nobody against it."


def new_text(numbers: Sequence[int], field: str, text: str) -> str:
    """Tell a text that holds from now on."""
    return f"{numbers_in_words(list(numbers))}: {field} is now {whole(text)}"


def engraved_with_old_text(numbers: Sequence[int], folder: Path) -> str:
    """Say which cups have the old text."""
    listed = " ".join(map(str, numbers))
    return (
        f"Engraved already with the old text: {items_in_words(numbers)}. To make "
        f"{'it' if len(numbers) == 1 else 'them'} again: mailmerge spoiled {folder} {listed}"
    )


def proof_next(folder: Path) -> str:
    """Say how what is open is shown."""
    return f"To show what is open: mailmerge proof {folder}"


def confirmed(items: str) -> str:
    """Say what was confirmed."""
    return f"Confirmed: {items}"


def engraved_though_taken_back(items: str, why: str) -> str:
    """Say that a cup is on record as engraved that had been taken back."""
    return f"  It had been taken back: {items}: {why} If the cup is wrong, record it as spoiled."


def left_for_now(items: str, folder: Path) -> str:
    """Say which cups are not on record as engraved, because their files were gone."""
    return (
        f"Not recorded, because the file was not in to-engrave as it was confirmed: {items}. If "
        f"the cup is engraved all the same, give its number: mailmerge engraved {folder} ITEM"
    )


def unseen(numbers: Sequence[int]) -> str:
    """Warn about what no proof pack has shown."""
    now = "as it is now" if len(numbers) == 1 else "as they are now"
    return (
        f"  No proof pack shows {items_in_words(numbers)} {now}. Make sure that the client has "
        f"seen the proof."
    )


# Where an order stands


def title_line(title: str, totals: Mapping[str, int]) -> str:
    """Count an order's items by their standing."""
    return f"{title}: {', '.join(f'{count} {word}' for word, count in totals.items())}"


def blanks_spoiled(count: int) -> str:
    """Count the blanks that were lost."""
    return f"Blanks spoiled: {count}"


def not_on_record(names: Sequence[str], tray: Path, order: Path) -> str:
    """Tell what lies in the tray and is not on record."""
    listed = ", ".join(shown(name) for name in names[:_MOST_NAMES])
    more = f", and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
    return (
        f"Not on record, do not engrave this: {listed}{more} in {tray}. To move it aside: "
        f"mailmerge release {order}"
    )


def list_of_tray_gone(tray: Path) -> str:
    """Tell that the list of what lies in the tray was deleted."""
    return (
        f"{tray / 'contents.json'} is gone. It says which files lie there, and by which state of "
        f"the record. The next change of the order writes it anew. Did you go back to an older "
        f"copy of this folder? Then see which cups were engraved since."
    )


def moved_aside(names: Sequence[str], folder: str) -> str:
    """Tell what was moved out of the tray."""
    listed = ", ".join(shown(name) for name in names)
    return f"Not on record, and moved into {folder}: {listed}"


def amiss(why: str) -> str:
    """Tell why record and tray do not belong together."""
    return f"Stop: {why}"


def changed_twice(names: Sequence[str]) -> str:
    """Tell which files a synced folder may have brought in as a second version."""
    listed = ", ".join(shown(name) for name in names[:_MOST_NAMES])
    more = f", and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
    return (
        f"A synced folder may have put these beside the files that count: {listed}{more}. Look at "
        f"them, and keep the right one. Work on an order from one computer at a time."
    )


def copies_kept(count: int, last: dt.datetime, folder: Path) -> str:
    """Tell how to go back to a copy of the record."""
    return (
        f"{counted(count, 'copy', 'copies')} of the record, the last of {last:%Y-%m-%d %H:%M}. To "
        f"go back to one: mailmerge go-back {folder}"
    )


def record_holds(order: Path) -> str:
    """Say that the present record holds, and what to do next."""
    return f"The present record holds. Next: mailmerge status {order}"


def went_back(at: dt.datetime, state: int, order: Path) -> str:
    """Say to what an order went back, and what to do next."""
    return (
        f"The record is now as it was on {at:%Y-%m-%d %H:%M:%S}, after change {state}. The one "
        f"before is kept among the copies. What was said and done since is not on it. Next: "
        f"mailmerge merge {order}, then mailmerge status {order}"
    )


def damaged_kept(place: Path) -> str:
    """Say where a ledger is that could not be read."""
    return f"The damaged ledger lies in {place}"


def choose_copy(order: Path) -> str:
    """Say how to choose a record."""
    return (
        f"To go on with one of them, name it: mailmerge go-back {order} NAME. If the present "
        f"record is right: mailmerge go-back {order} present"
    )


_MOST_NAMES = 8


def files_missing(numbers: Sequence[int], folder: Path) -> str:
    """Say whose files are not where they should be."""
    return (
        f"Released, but the file is not in the folder as it should be: {items_in_words(numbers)}. "
        f"To mend it: mailmerge merge {folder}"
    )


def program_updated(folder: Path) -> str:
    """Say that a newer program would make something else."""
    return f"The program was updated since the last merge. Run: mailmerge merge {folder}"


def list_changed(folder: Path) -> str:
    """Say that the order's files have changed."""
    return f"The list or order.toml has changed since the last merge. Run: mailmerge merge {folder}"


def history_of(item: int, name: str) -> str:
    """Head what was said and done about an item."""
    return f"item {item}, {name}"


def history_line(at: str, said: str) -> str:
    """Tell what was said or done, and when."""
    return f"  {at}  {said}"


def forgotten_on(day: str) -> str:
    """Say that an order was forgotten."""
    return f"This order was forgotten on {day}. What is kept:"


def kept_counts(
    items: int, standings: Mapping[str, int], answers: int, corrections: int, engraved: int
) -> str:
    """Tell what is kept of a forgotten order."""
    standing = ", ".join(f"{count} {word}" for word, count in standings.items())
    return (
        f"  {counted(items, 'item')}: {standing}; {counted(answers, 'answer')}, "
        f"{counted(corrections, 'correction')}, {engraved} engraved"
    )


def kept_spoiled(count: int, blank: str) -> str:
    """Tell how many blanks of a kind were lost."""
    return f"  Spoiled: {count} of {blank}"


# At the bench


def released(count: int, tray: Path) -> str:
    """Say how much was released."""
    return f"Released {counted(count, 'item')} into {tray}"


def released_file(file: str, blank: str, coat: str) -> str:
    """Name a file to engrave, and what goes on the machine for it."""
    return f"  {file}  {blank}, {coat}"


def look(items: Sequence[int], said: str) -> str:
    """Say what to look at before released items are engraved."""
    return f"  Look: {items_in_words(items)}: {_plain(said)}"


def refused(item: int, why: str) -> str:
    """Say why a confirmed item was not released."""
    return f"  Refused: item {item}: {why}"


NOT_RELEASED = "Not released:"


def not_released(item: int, name: str, why: str) -> str:
    """Say why an item was not released."""
    return f"  {item}, {_plain(name)}: {why}"


def run_sheet_next(folder: Path) -> str:
    """Say how the paper for the machine is made."""
    return f"For the run sheet with its cautions: mailmerge run-sheet {folder}"


def run(mark: str, cups: int, machine: str) -> str:
    """Head a run."""
    return f"Run {mark}: {counted(cups, 'cup')} on {machine}"


def lay_out(kind: str, cups: int, spares: int, settings: str) -> str:
    """Say what to lay out."""
    return (
        f"  Lay out {cups + spares} of {kind}: {counted(cups, 'cup')} and "
        f"{counted(spares, 'spare')}. {settings}"
    )


def run_spares(percent: Decimal, source: str) -> str:
    """Say what the spares go by."""
    return f"  Spares allow for {percent:.1f} % spoiled: {source}"


def begun_now(done: str, defaults: Sequence[str]) -> str:
    """Say when a run is done."""
    told = f" (defaults: {', '.join(defaults)})" if defaults else ""
    return f"  If you begin now, it is done on {done}{told}"


def engraved(items: str) -> str:
    """Say what was engraved."""
    return f"Engraved: {items}"


def spoiled(items: str, lost: int) -> str:
    """Say what was spoiled, and how many blanks were lost in all."""
    return f"Spoiled: {items}. Lost in this order: {counted(lost, 'blank')}"


def in_next_release(items: str, folder: Path) -> str:
    """Say what the next release makes again."""
    return f"In the next release: {items}. To release: mailmerge release {folder}"


def not_in_next_release(items: str, why: str) -> str:
    """Say what the next release does not make again."""
    return f"Not in the next release: {items}: {why}"


# Forgetting


def go_on(question: str) -> str:
    """Ask whether to go on."""
    return f"{question}\nGo on?"


def still_there(path: Path, name: str) -> str:
    """Say where a name is left."""
    return f"Still there: {path}: {shown(name)}"


def outside(path: Path) -> str:
    """Say that the list lies elsewhere."""
    return f"Outside of the folder, and not touched: {path}"


def left_linked(path: Path) -> str:
    """Say that a link was left alone."""
    return f"This is a link to another place. It was not followed and not touched: {path}"


def not_searched(path: Path) -> str:
    """Say that a file cannot be searched."""
    return f"This file cannot be searched. Look into it yourself: {path}"


def forgot(files: int, folder: Path, names: int, all_read: bool) -> str:
    """Say that no name was found any more."""
    where = "" if all_read else " in those that can be read"
    return (
        f"Forgotten. Searched {counted(files, 'file')} of {folder} for {counted(names, 'name')}. "
        f"None is left{where}."
    )


# Time

NOTHING_LEFT = "Nothing is left to be engraved."
NO_ACCELERATION = (
    "The machine's profile has no acceleration. Its run-up is left out, so it takes longer."
)


def bad_start(text: str) -> str:
    """Say how a beginning is given."""
    return no_time_in_shop(f"--from {shown(text)}")


def together(
    cups: int,
    seconds: float,
    setup: float,
    loading: float,
    handling: float,
    waiting: float,
    minutes: float,
) -> str:
    """Add up a batch: seconds at the machine, minutes of everything else."""
    idle = f", {waiting:.0f} min waiting for hands" if waiting >= 0.5 else ""
    return (
        f"{counted(cups, 'cup')}: {format_minutes(seconds)} at the machine, {setup:g} min to set "
        f"up, {cups} x {loading:g} min to load and unload, {handling:g} min for the last one"
        f"{idle}: {format_minutes(minutes * 60)} together"
    )


def defaults(found: Sequence[str]) -> str:
    """Say which numbers nobody has set."""
    return f"Defaults: {', '.join(found)} (mailmerge shop)"


def done_on(begin: str, done: str) -> str:
    """Say when a batch is done."""
    return f"Begun on {begin}, it is done on {done}"


def past_closing(numbers: Sequence[int]) -> str:
    """Warn about cups that take longer than the shop is open."""
    verb = "takes" if len(numbers) == 1 else "take"
    them = "it" if len(numbers) == 1 else "them"
    which = items_in_words(numbers).capitalize()
    return f"{which} {verb} longer than the shop is open at a time. Never leave {them} alone."


def due(day: dt.date, in_time: bool | None) -> str:
    """Say whether a batch is done in time."""
    return f"Due on {day.day} {day:%B %Y}: {'in time' if in_time else 'TOO LATE'}"


def kind_settings(kind: str, settings: str) -> str:
    """Say what a blank and coat is engraved with."""
    return f"{kind}: {settings}"


def speed_limited(speed: float, limit: float) -> str:
    """Say that the machine is slower than its settings (mm/s)."""
    return (
        f"  The settings ask for {speed:g} mm/s. The machine's profile allows {limit:g} mm/s along "
        f"the lines, and that is what counts."
    )


def without_settings(numbers: Sequence[int], machine: str) -> str:
    """Say which items nobody knows the settings for."""
    return (
        f"The settings are not known for {items_in_words(numbers)}. There is no recipe for the "
        f"coat on {machine}, and its profile does not say what its beam is. First run: mailmerge "
        f"keep-recipe"
    )


def stopped_by_mean(numbers: Sequence[int]) -> str:
    """Say that stopped items are reckoned with the mean of the others."""
    return f"Stopped, so reckoned with the mean of the others: {items_in_words(numbers)}"


def all_stopped(numbers: Sequence[int]) -> str:
    """Say that no time is known, because all others are stopped as well."""
    return f"Stopped, and so are all others: {items_in_words(numbers)}"


def by_profile(enough: int) -> str:
    """Say that estimates go by the machine's profile."""
    return (
        f"Worked out from the machine's profile. From {enough} timed cups on (mailmerge log), "
        f"estimates go by the clock."
    )


def by_clock(cups: int, share: float, seconds: float, median: float, worst: float) -> str:
    """Say how the clock differs from the profile, and how far estimates were off."""
    way = "longer" if share >= 0 else "shorter"
    return (
        f"By the clock of {cups} cups, your machine takes about {abs(share):.0%} {way} than its "
        f"profile says ({seconds * 1000:+.0f} ms a line). Each cup, foretold from the others, was "
        f"off by {median:.1%} in the median and {worst:.1%} at worst."
    )


MINUTES_MISSING = "Give --minutes with the time by the clock, such as --minutes 7:25."


def logged(item: int, name: str, took: float, worked_out: float, settings: str) -> str:
    """Say how long a cup took, and what the profile says (seconds)."""
    return (
        f"Item {item}, {_plain(name)}: {format_minutes(took)} by the clock. The profile alone says "
        f"{format_minutes(worked_out)} with {settings}"
    )


# Price


def unknown_blank(name: str, meant: str) -> str:
    """Say that a price is for no blank; ``meant`` asks about the nearest one, if any."""
    return (
        f"shop.toml: price.blanks: {shown(name)} is no blank of the library or of this order. "
        f"{meant}"
    ).rstrip()


def quote_written(file: Path, paper: str) -> str:
    """Name the page for the client."""
    return f"For the client, without any of the costs: {file} ({paper})"


def money(currency: tuple[str, str], locale: tuple[str, str], valid_days: tuple[int, str]) -> str:
    """Say how amounts are written, each with where that comes from."""
    return (
        f"In {currency[0]} ({currency[1]}), written as in {locale[0]} ({locale[1]}), valid for "
        f"{counted(valid_days[0], 'day')} ({valid_days[1]})"
    )


def spares(percent: Decimal, source: str) -> str:
    """Say what spares are reckoned with."""
    return f"Spares allow for {percent:.1f} %, {source}"


NOTHING_LEFT_FOR_YOU = (
    "AT THIS PRICE NOTHING IS LEFT. The discount for this quantity takes more than the margin."
)
NO_TAX_RULES = "No tax rules are built in. The rate is yours, in shop.toml."


# The shop


def shop_is_set_up(file: Path) -> str:
    """Say where the shop's values are changed."""
    return f"The shop is set up. To change anything, edit {file}"


def shop_value(key: str, value: str) -> str:
    """Tell one of the shop's values."""
    return f"  {key}: {value}"


def no_terminal(file: Path) -> str:
    """Say that nobody can be asked about the shop."""
    return (
        f"{file}: The file is not there yet, and there is no terminal to ask on. Run this on a "
        f"terminal, or write the file yourself (the manual shows it). Nothing else needs it."
    )


def shop_written(file: Path) -> str:
    """Name the shop's file."""
    return f"Written: {file}"


HOLDS_FOR_EVERY_ORDER = "This holds for every order. Press Enter to take what is in brackets."


def answer_refused(why: object) -> str:
    """Say why an answer cannot be taken."""
    return f"  {why}"


# Settings


def about_recipes(folder: Path) -> str:
    """Say what recipes and starting points are good for."""
    return (
        f"Use starting points for a test card and for nothing else: coats differ, and so do "
        f"machines. Your own recipes lie in {folder}. The newest for a machine and a coat holds."
    )


def starting_point(name: str) -> str:
    """Say that settings were never tried."""
    return f"a starting point, not tried: {name}"


def card_finding(finding: Finding) -> str:
    """Tell a finding about a test card."""
    return f"{finding.severity}: {finding.message} {finding.advice}"


def card(
    cells: int, columns: int, rows: int, blank: str, coat: str, machine: str, source: str
) -> str:
    """Say what a test card holds, and what it is for."""
    whence = f" ({source})" if source else ""
    return (
        f"{counted(cells, 'cell')}, {columns} across and {rows} down, on {blank}, {coat}, for "
        f"{machine}{whence}"
    )


def card_labels(settings: str, origin: str) -> str:
    """Say what a card's labels are engraved with."""
    return f"Labels, in black: {settings} ({origin})"


def keep_recipe_next(folder: Path) -> str:
    """Say how the best cell is kept."""
    return f"When you know the best cell: mailmerge keep-recipe {folder} CELL --outcome WORDS"


CELL_MISSING = "Give the name of the cell that came out best, such as C4."


def recipe_incomplete(missing: Sequence[str]) -> str:
    """Say what a recipe lacks."""
    return (
        f"Give a test card's folder and a cell, or all of it by hand. Missing: {', '.join(missing)}"
    )


def cell_says_it(options: Sequence[str]) -> str:
    """Say that a card's cell and options contradict each other."""
    return f"{', '.join(options)}: The card's cell says it. Give one or the other."


CELL_SAYS_THE_REST = (
    "--machine, --colour and --blank: The card's cell says it. Leave these options out."
)


def bad_day(text: str) -> str:
    """Say how a day is given."""
    return f"--date {shown(text)}: Give a day such as 2026-12-05."


def recipe_kept(coat: str, machine: str, settings: str) -> str:
    """Tell a recipe that was kept."""
    return f"Kept: {coat} on {machine}: {settings}"


def doubt(said: str) -> str:
    """Tell a doubt about a recipe."""
    return f"  {said}"


# The library, and fonts


def dropped(name: str) -> str:
    """Say that something was taken out of the shop."""
    return f"{name} was taken out. Put it back with: --restore {name}"


def restored(name: str) -> str:
    """Say that something was put back into the shop."""
    return f"{name} was put back."


NO_CARDS = "The shop keeps no test card. Make one at the desk, or with: mailmerge test-card"


def about_blanks(folder: Path) -> str:
    """Say what the library's blanks are good for."""
    return (
        f"These sizes are typical of the trade. Measure your own cup before you engrave. To use "
        f"your own numbers, copy a file from {folder}"
    )


def about_machines(folder: Path) -> str:
    """Say what the library's machines are good for."""
    return (
        f"These profiles are typical of the trade, and not of your machine. Put the numbers of its "
        f"manual into a file of your own, such as a copy from {folder}. Engrave a single line on a "
        f"test piece and measure how wide it is."
    )


ABOUT_FONTS = "A layout may also name a font file of your own by its path."


def specimen(file: Path) -> str:
    """Name a specimen's picture."""
    return f"Specimen: {file}"


def needs_list(options: Sequence[str]) -> str:
    """Say that options are for judging fonts."""
    return f"{', '.join(options)} {'goes' if len(options) == 1 else 'go'} with --list."


def about_judged_fonts(layout: str, blank: str) -> str:
    """Say what letter heights and licences mean."""
    return (
        f'The letter height is that of one set, in the name\'s line of the layout "{layout}" on '
        f'the blank "{blank}". The licence is as the file itself states it, which is not legal '
        f"advice. Keep your own proof of licence with the order."
    )


def lacking(letters: Sequence[str], guests: Sequence[str], more: int) -> str:
    """Say which letters a font lacks, and whose names need them."""
    rest = f" and {more} more" if more else ""
    return f"{' '.join(letters)} ({', '.join(guests)}{rest})"


# The manual

WHAT_TO_DO, FILES_AND_COMMANDS = "What to do:", "Files and commands:"
SHOW_A_PAGE = "Show a page with: mailmerge manual PAGE"


def page_line(name: str, title: str) -> str:
    """Name a page of the manual."""
    return f"  {name:<24} {title}"


# The desk


def desk_answers(shown: str, address: str) -> str:
    """Say where the desk answers."""
    return (
        f"The desk answers at {shown}\n"
        f"To let a browser in, open this address once: {address}\n"
        f"Ctrl-C ends the desk. Nothing is lost."
    )


BENCH_OF_WHICH = "Say whose bench: mailmerge desk ORDER --bench"


def bench_answers(address: str) -> str:
    """Say where the bench answers, and what that means."""
    return (
        f"The bench of this order is open to the workshop's own network now. Whoever has this "
        f"address can read the run with its names, and mark cups as engraved or spoiled; they can "
        f"do and see nothing else. What is sent is not encrypted: use a network that is yours "
        f"alone.\n"
        f"Open it on the tablet or phone beside the machine, or scan the code:\n"
        f"  {address}\n"
        f"It is good until you end it here with Ctrl-C."
    )


# The clock at the bench

NO_CLOCK_RUNS = "No clock runs."


def clock_runs(item: int, seconds: float) -> str:
    """Say for which item the clock runs, and since when."""
    since = f"for {format_minutes(seconds)} already" if seconds else "from now on"
    return f"The clock runs for item {item}, {since}."


def clock_stopped(item: int, took: float, why_not: str) -> str:
    """Say what the clock has said."""
    more = f"\nEstimates learn nothing from it: {why_not}" if why_not else " It is on the log."
    return f"Item {item} took {format_minutes(took)}.{more}"


def stands_again(item: int, name: str, standing: str) -> str:
    """Say where an item stands after something was taken back."""
    return f"Taken back. Item {item} {name} is {standing} again."


def bad_shop_value(found: str) -> str:
    """Say how a value of the shop is given."""
    return f"{shown(found)}: Give a key and its value, such as rates.labour=31."


# The list, and texts in its place


def two_names_wanted(found: int) -> str:
    """Say that a row is split into two."""
    return f"Found {counted(found, 'name')}. Give two names, or none where the row tells them."


def recognised(sheet: str, header_row: int, guests: int, cups: int, doubt: str) -> str:
    """Say how a list is read, or what is open about it."""
    if doubt:
        return (
            f"It cannot be read so yet: {shown(doubt)} is open. Say it with new, or in order.toml."
        )
    where = f"sheet {shown(sheet)}, " if sheet else ""
    read = f"{counted(guests, 'guest')}, {counted(cups, 'cup')}"
    return f"Read with {where}headings in row {header_row}: {read}."


def orders_known(count: int) -> str:
    """Say how many orders the desk shows."""
    return f"The desk shows {counted(count, 'order')}."


def left_out_of_desk(folder: Path) -> str:
    """Say that the desk does not show an order any more."""
    return f"The desk does not show {folder} any more. Nothing in that folder has changed."


def bad_field_text(text: str) -> str:
    """Say how a new text is given."""
    return f'{shown(text)}: Give FIELD=TEXT once for each field, such as "name=Zoë Lind".'


def meant(text: str, is_no_longer: bool, file: Path) -> str:
    """Say whether a text is meant just so, and where that stands."""
    if is_no_longer:
        return f"{shown(text)} is doubted again. Merge to see it. {file} says so."
    return f"{shown(text)} is meant just so. Merge to use it. {file} says so."


# A newer list


def changed_guest(row: int, name: str, field: str, was: str, now: str) -> str:
    """Tell a text that is another one in a newer list."""
    return f"row {row}, {shown(name)}: {field} {whole(was)} -> {whole(now)}"


def new_guest(row: int, texts: Mapping[str, str]) -> str:
    """Tell a guest whom the former list does not hold."""
    return f"row {row}: new: {', '.join(whole(text) for text in texts.values())}"


def gone_guest(items: Sequence[int], name: str) -> str:
    """Tell a guest whom a newer list does not hold."""
    return f"item {', '.join(map(str, items))}: gone: {whole(name)}"


def compared(new: int, changed: int, gone: int, as_before: int) -> str:
    """Say how many guests a newer list tells otherwise."""
    return f"{new} new, {changed} changed, {gone} gone, {as_before} as before"


def list_taken(file: Path) -> str:
    """Say that a newer list is the order's now."""
    return f"{file} is the order's list now. The former one is kept in lists-before."


def icon_put(where: Path) -> str:
    """Say where the icon is."""
    return f"The icon is there: {where}. It starts the desk in a window of its own."


# One cup


STOPPED, IT_FITS = "stopped", "with these words"


def no_way_out(item: int) -> str:
    """Say that nothing was found that helps a cup."""
    return f"No way out was found for item {item}, or it needs none. Ask the client."


def take_a_way(order: Path, item: int) -> str:
    """Say how a way out is taken."""
    return (
        f'To take another text, run: mailmerge answers {order} --accept {item} --text "name=..." '
        f"For the rest, see: mailmerge set-differently --help"
    )


def option_is_no_length(option: str, why: object) -> str:
    """Say that an option holds no length."""
    return f"{option}: {why}"


def set_now(whom: str, lines: Sequence[tuple[Sequence[str], float, str]], *, is_own: bool) -> str:
    """Say how a cup is set now."""
    told = "; ".join(f"{' / '.join(rows)} {height:g} mm, {font}" for rows, height, font in lines)
    how = "is set differently from its set" if is_own else "is set as the others again"
    return f"{whom} {how}: {told}."


def bad_due(found: str) -> str:
    """Say how a day is given."""
    return f'--due {shown(found)}: Give a day such as 2026-12-12, or "open" for none.'


def bad_layout_value(found: str) -> str:
    """Say how a value of a layout is given."""
    return f"{shown(found)}: Give a key and its value, such as line.1.letter_height.max=14mm."


def layout_kept(file: Path) -> str:
    """Say where a layout was kept."""
    return f"{file} is written, and the order uses it. Merge again to make the cups so."


# Handing over, and being paid

MOST_HERE = 8
"""So many cups that are still here are named."""

AMOUNT_OR_MISTAKEN = (
    "Give what was paid, or with --mistaken the number of a payment that was none. "
    "Nothing was put on record."
)


def handed_over(cups: str, handed: Handover | None) -> str:
    """Say who has cups now."""
    return f"Handed over to {handed.to} on {handed.day}: {cups}." if handed else cups


def handed_back(cups: str) -> str:
    """Say that cups are here after all."""
    return f"Not handed over, or back: {cups}."


def still_here(count: int, cups: str) -> str:
    """Say which finished cups are still here."""
    if not count:
        return "No finished cup is here any more."
    more = f" and {count - MOST_HERE} more" if count > MOST_HERE else ""
    return f"{counted(count, 'finished cup')} still here: {cups}{more}."


def agreed(amount: str) -> str:
    """Say what was agreed."""
    return f"Agreed: {_plain(amount)}, with tax."


def was_paid(number: int, part: str, amount: str, way: str, day: dt.date) -> str:
    """Say what was paid."""
    return f"Payment {number}, {part}: {_plain(amount)} by {way} on {day:%Y-%m-%d}."


def open_sum(amount: str, value: Decimal) -> str:
    """Say what is still open of the price."""
    if value == 0:
        return "Paid in full."
    if value < 0:
        return f"More was paid than agreed: {_plain(amount).lstrip('-−')}."
    return f"Still open: {_plain(amount)}."


def paper_written(file: Path, cups: int, paper: str) -> str:
    """Say where a paper is."""
    return f"Wrote {_plain(str(file))}, for {counted(cups, 'cup')}, on {paper}."


def like_says_it(options: Sequence[str]) -> str:
    """Refuse options whose values come from the order that a new one is like."""
    return (
        f"{', '.join(options)}: With --like, these come from the other order. Begin without them; "
        "then change them with mailmerge arrange."
    )
