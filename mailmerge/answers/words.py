"""What this room says to people."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from mailmerge.findings import shown, whole
from mailmerge.units import in_a_row, numbers_in_words

# A file, a text or a list that came back


def no_answers_file(path: Path) -> str:
    """Say that a file is none of the three kinds."""
    return (
        f"{path}: This is not a file with answers. Give the file that the proof pack's page "
        f"saves, its text, or the list as a .xlsx, .ods or .csv."
    )


def value_missing(where: str, key: str) -> str:
    """Say what an answers file lacks."""
    return f'{where}: The answers file is not whole: "{key}" is missing in it. Ask for it again.'


def wrong_value(where: str, key: str, found: str) -> str:
    """Say which value of an answers file is wrong."""
    return (
        f'{where}: The answers file is not whole: "{key}" cannot be {shown(found)}. Ask for it '
        f"again."
    )


def not_whole(where: str) -> str:
    """Say that an answers file is cut off or spoiled."""
    return (
        f"{where}: The answers file is not whole. A part of it is missing or was changed. Ask for "
        f"it again."
    )


def key_twice(where: str, key: str) -> str:
    """Say that a key stands twice in an answers file."""
    return (
        f"{where}: The key {shown(key)} stands twice in one place. Somebody has changed the file. "
        f"Ask for it again."
    )


def file_was_changed(where: str) -> str:
    """Say that an answers file does not match its check code."""
    return (
        f"{where}: The file does not match its own check code. Something in it was changed since "
        f"it was saved, or an older version of this program made its page. Ask for it again. If it "
        f"comes back the same, make a new proof pack and ask for the answers to that: mailmerge "
        f"proof"
    )


def other_version(where: str, found: int, known: int) -> str:
    """Say that an answers file is of another version."""
    return (
        f"{where}: Found version {found} of an answers file. This program reads version {known}. "
        f"Make a new proof pack and ask for the answers to that: mailmerge proof"
    )


def other_order(where: str, found: str, own: str) -> str:
    """Say that an answers file belongs to another order."""
    return f"{where}: The file answers order {shown(found)}, but this is order {own}."


def yes_and_change(where: str, item: int) -> str:
    """Say that an answer contradicts itself."""
    return (
        f"{where}: item {item}: Found a yes together with something to change. An answer is one or "
        f"the other."
    )


def unknown_pack(where: str, pack: str) -> str:
    """Say that an order never made a proof pack."""
    return f"{where}: This order has made no proof pack {shown(pack)}."


def not_in_pack(where: str, item: int, pack: str) -> str:
    """Say that a proof pack did not show an item."""
    return f"{where}: There was no item {item} in proof pack {pack}."


def other_seal(where: str, item: int, found: str, pack: str, seal: str) -> str:
    """Say that a proof pack showed an item with another seal."""
    return (
        f"{where}: item {item}: Found the seal {shown(found)}, but proof pack {pack} showed "
        f"{seal}. Somebody has changed the file."
    )


def no_such_field(where: str, item: int, field: str, known: Iterable[str]) -> str:
    """Say that an answer gives a text that its cup does not have."""
    return (
        f"{where}: item {item}: Found a new text for {shown(field)}. The cup has: "
        f"{', '.join(known)}. Somebody has changed the answers. Ask for them again."
    )


def answered_twice(where: str, item: int) -> str:
    """Say that there are two answers to one item."""
    return f"{where}: Item {item} is answered twice. Each item takes one answer."


def no_answers_in_text(where: str) -> str:
    """Say that a text holds no answers."""
    return (
        f"{where}: Found no answers. Give the text that the proof pack's page makes, with its line "
        f'"Answers to proof pack …".'
    )


def several_texts(where: str, count: int) -> str:
    """Say that a text holds answers that differ."""
    return (
        f"{where}: Found {count} different texts with answers. Give one of them: leave out what "
        f"the message quotes."
    )


def text_not_whole(where: str) -> str:
    """Say that a text does not match its check code."""
    return (
        f"{where}: The text is not whole, something in it was changed on its way, or an older "
        f"version of this program made its page. Ask for the answers file, or for the text once "
        f"more. If it comes back the same, make a new proof pack and ask for the answers to that: "
        f"mailmerge proof"
    )


def mail_damaged(where: str) -> str:
    """Say that a mail cannot be read."""
    return f"{where}: The mail is damaged. Save it again, or paste its text."


def several_in_mail(where: str, count: int) -> str:
    """Say that a mail holds answers that differ."""
    return (
        f"{where}: The mail holds {count} answers that differ. Save what is attached to it, and "
        f"give them one by one, the oldest first."
    )


def attached_unread(name: str, reason: object) -> str:
    """Tell a file that came with a mail and holds no answers."""
    return f"attached, and not read: {name} ({reason})"


def attached_words(name: str, said: str) -> str:
    """Tell a file that came with a mail and holds words alone."""
    return f"attached, {name}: {said}"


def in_a_mail(told: Sequence[str]) -> str:
    """Tell what came with a mail."""
    return " / ".join(told)


def no_list_of_a_pack(path: Path) -> str:
    """Say that a workbook is not the list of a proof pack."""
    return (
        f"{path}: This is not the list of a proof pack. That list has a header above its cups, "
        f"with a column of seals. If this is a new guest list, put it into the order's folder."
    )


# What came back and is not understood: where it stood, and what stood there

BESIDE_THE_ANSWERS = "in the message, beside the answers"
BETWEEN_THE_LINES = "in the message, between the lines of the answers"
IN_PLACE_OF_A_NAME = "in the message, in place of a name"
IN_PLACE_OF_A_FILES_NAME = "in the answers file, in place of a name"
QUOTED = "in what the message quotes of an earlier one"
NAME_OF_THE_FILE = "the name of the file"
NAME_OF_A_FILE = "in the mail, the name of a file"
IN_A_MAIL = "in the mail"
WITHOUT_ANSWERS = "in a message without answers"
ABOVE_THE_TABLE = "in the list, above the table"
IN_THE_HEADER = "in the list, among the headings"
DRAWN_OVER = "in the list, drawn over it"
NAME_OF_A_SHEET = "in the list, the name of a sheet"


def in_row(row: int) -> str:
    """Name a row of a list that came back."""
    return f"in the list, row {row}"


def in_cell(row: int, column: str) -> str:
    """Name a cell of a list that came back."""
    return f'in the list, row {row}, column "{column}"'


def beside_row(row: int) -> str:
    """Name what stands in a row beside the table."""
    return f"in the list, row {row}, beside the table"


def comment_on(row: int) -> str:
    """Name a comment of a list that came back."""
    return f"in the list, a comment on row {row}"


def phonetic_guide_on(row: int) -> str:
    """Name the phonetic guide of a cell of a list that came back."""
    return f"in the list, a phonetic guide on row {row}"


def on_sheet(name: str) -> str:
    """Name another sheet of a workbook that came back."""
    return f'in the list, on the sheet "{name}"'


def in_rows(rows: Sequence[int]) -> str:
    """Name several rows of a list that came back."""
    return f"in the list, {'row' if len(rows) == 1 else 'rows'} {numbers_in_words(list(rows))}"


def struck_out(texts: str) -> str:
    """Tell what is struck out or hidden in a row."""
    return f"struck out, or not to be seen: {texts}"


def in_the_row(texts: str) -> str:
    """Tell what stands in the same row as well."""
    return f" (the row says: {texts})"


def hidden_row(texts: str) -> str:
    """Tell what a hidden row says."""
    return f"the row is hidden, and says: {texts}"


def row_of_no_item(texts: str) -> str:
    """Tell a row whose number and seal fit no cup, or two."""
    return f"number and seal do not belong together: {texts}"


def told_otherwise(now: str, was: str) -> str:
    """Tell that a cell that is not to be filled in says something else."""
    return f"{now} (it said: {was})"


def emptied(was: str) -> str:
    """Tell that a text was taken out of its cell."""
    return f"the cell was emptied; it said: {was}"


def letters_lost(now: str, was: str) -> str:
    """Tell that a program has put question marks for letters that it could not write."""
    return f"{now} (it said: {was}; a program has put ? for what it could not write)"


def other_blanks(now: str) -> str:
    """Tell a text whose letters are as they were, and whose blanks are others; each is shown."""
    seen = "".join("·" if c == " " else "␣" if c.isspace() else c for c in now)
    return (
        f"{seen} (each · is a blank and each ␣ one of another kind; the letters are as they were)"
    )


def no_result(formula: str) -> str:
    """Tell a formula whose result was not kept."""
    return f"a formula without a result: {formula}" if formula else "a formula without a result"


def merged_cells(text: str) -> str:
    """Tell cells that were made one."""
    return f"cells that were made one, and say: {text}" if text else "cells that were made one"


def looks_otherwise(trait: str, now: str, was: str) -> str:
    """Tell how a cell looks, and how it was sent."""
    return f"{trait}: {now or 'none'} (it was: {was or 'none'})"


def of_texts(said: str, texts: Sequence[str]) -> str:
    """Tell which texts look so."""
    return f"{said}, on: {' / '.join(texts)}"


def in_column(rows: Sequence[int], column: str) -> str:
    """Name the cells of a column in several rows of a list that came back."""
    return f"in the list, {'row' if len(rows) == 1 else 'rows'} " + (
        f'{numbers_in_words(list(rows))}, column "{column}"'
    )


_THINGS = {
    "header": "in the list, in the header or footer of its pages",
    "message": "in the list, a rule for what may be entered",
    "rule": "in the list, a rule for how cells look",
    "name": "in the list, a name for cells",
    "property": "in the list, among the document's properties",
    "tab": "in the list, the colour of a sheet's tab",
    "part": "in the list, a part of the file that is not read",
    "far": "in the list, a cell far to the right",
}


def in_a_thing(kind: str) -> str:
    """Name something in a list that came back and is beside its cells."""
    return _THINGS.get(kind, f'in the list, something that its format calls "{kind}"')


def list_damaged(path: Path, reason: object) -> str:
    """Say that a list that came back cannot be read."""
    return f"{path}: The file is damaged: {reason}. Ask for it again."


def two_rows(told: Iterable[str]) -> str:
    """Tell an item that stands in several rows, which say different things."""
    return f"the cup stands there more than once: {' / '.join(told)}"


def coloured(colour: str) -> str:
    """Tell cells that only have another colour."""
    return f"coloured #{colour}, without a word"


def no_such_column(title: str) -> str:
    """Tell a column of the list that was sent and is not there any more."""
    return f'the column "{title}" is not there any more'


def hidden_column(title: str) -> str:
    """Tell a column that was hidden."""
    return f'the column "{title}" is hidden'


def other_heading(now: str, was: str) -> str:
    """Tell a heading that was changed."""
    return f'a heading says "{now}"; it said "{was}"'


BOXES_NOT_TICKED = "boxes to tick that are not ticked"
HIDDEN = "it is hidden"
WITHOUT_WORDS = "something without words"
A_DRAWING = "a drawing without words"


# Why an answer is not taken

GUEST_IS_GONE = "The guest is no longer in the list."
IS_STOPPED = "The item is stopped now. It will be shown again."
DECIDED_ALREADY = (
    "The same words were saved before, and you have decided about them. Ask whether they still "
    "hold."
)
ARTWORK_HAS_CHANGED = "The artwork has changed since. It has to be shown again."
SAVED_AGAIN = "The same page has saved other answers since. Those count."
STILL_OBJECTS = (
    "The same person has asked for a change, and may have done so later. It stays open until a "
    "later proof pack is answered, or you decide."
)
OTHER_WORD_SINCE = (
    "Something else was said about this cup, and perhaps later. It has to be shown again."
)


def not_asked(people: Sequence[str]) -> str:
    """Say that somebody is not among those whose yes an order wants."""
    return f"The order asks for the yes of {in_a_row(people)}."


def signed_for_several(people: Sequence[str]) -> str:
    """Say that one text is signed with the names of several people who are asked."""
    return (
        f"It is signed for {in_a_row(people)} at once, and the order asks each of them. Ask them, "
        f'and put each yes on record: mailmerge confirm, with --by "{people[0]}".'
    )


# A yes that came another way, and new texts


def not_in_order(item: int) -> str:
    """Say that an order has no such item, or no longer."""
    return f"Item {item} is not in this order. Nothing was recorded."


def nothing_to_confirm(item: int, standing: str) -> str:
    """Say that an item has no proof."""
    return (
        f'Item {item} is "{standing}". Only an item that has a proof can be confirmed. Nothing was '
        f"recorded."
    )


def who_said_yes(said_by: str, people: Sequence[str]) -> str:
    """Say that a yes is nobody's whom the order asks."""
    return (
        f"The order asks for the yes of {in_a_row(people)}. Found {shown(said_by)}. Begin with the "
        f'name of who said yes, such as "{people[0]}, by phone". Nothing was recorded.'
    )


def said_in_the_future(at: str) -> str:
    """Say that a yes has not been said yet."""
    return f"{at} is in the future. Enter when it was said. Nothing was recorded."


def not_shown_then(item: int, at: str) -> str:
    """Say that a yes of some time was not to the artwork as it is now."""
    return (
        f"No proof pack had shown item {item} as it is now by {at[:16].replace('T', ' ')}. Ask "
        f"again, and enter when the answer to that was given. Nothing was recorded."
    )


def nothing_to_decide(item: int, standing: str) -> str:
    """Say that nobody has asked for a change."""
    return (
        f'Item {item} is "{standing}". Nobody asks for a change of it, so there is nothing to '
        f"decide. Nothing was recorded."
    )


def no_open_question(number: int, known: Sequence[int]) -> str:
    """Say that there is no such question, or it is settled."""
    if not known:
        return f"Question {number} is not open. No question is. Nothing was recorded."
    return (
        f"Question {number} is not open. Open: {numbers_in_words(list(known))}. Nothing was "
        f"recorded."
    )


def tells_no_guest(number: int, said: str) -> str:
    """Say that a question does not hold a guest's name."""
    return (
        f"Question {number} tells no guest's name: {whole(said)}. If it is a guest, put them into "
        f"the list and merge again. Then settle the question without --guest. Nothing was recorded."
    )


def guest_too_long(number: int, field: str, length: int, most: int) -> str:
    """Say that a late guest's text is longer than any that is engraved."""
    return (
        f"Question {number}: {field} has {length} characters. A text has at most {most}. Nothing "
        f"was recorded."
    )


def no_such_text(field: str, item: int, known: Iterable[str]) -> str:
    """Say that an item engraves no text of this field."""
    return (
        f"--text {field}: Item {item} engraves no such text. It engraves: {', '.join(known)}. "
        f"Name one of these."
    )


def which_field(item: int, text: str, known: Iterable[str]) -> str:
    """Say that a text without a field could go to several."""
    first, *more = known
    return (
        f"--text {shown(text)}: Item {item} engraves {', '.join((first, *more))}. Say which one is "
        f"meant, such as --text {shown(f'{first}={text}')}."
    )


def text_too_long(field: str, length: int, most: int) -> str:
    """Say that a text is longer than any that is engraved."""
    return f"--text {field}: Found {length} characters. A text has at most {most}."


def no_letters(field: str) -> str:
    """Say that a new text is empty."""
    return f"--text {field}: Found no letters. Enter the new text."


def same_text(item: int, field: str, text: str) -> str:
    """Say that a new text is the old one."""
    return (
        f"item {item}: {field} is {whole(text)} already. If it stays as it is, record that with: "
        f"mailmerge confirm"
    )


def no_wish(item: int, standing: str) -> str:
    """Say that nobody has asked for a change."""
    return (
        f'Item {item} is "{standing}". Nobody has asked for a change. Give the new text with '
        f'--text, such as --text "name=Zoë Lind".'
    )


def which_wish(item: int, wishes: Mapping[str, Mapping[str, str]]) -> str:
    """Say that people want different texts."""
    told = "; ".join(
        f"{by or 'somebody without a name'}: {', '.join(map(whole, texts.values())) or 'not clear'}"
        for by, texts in wishes.items()
    )
    return (
        f"item {item}: They want different texts ({told}). Give the one that it shall be with "
        f'--text, such as --text "name=Zoë Lind".'
    )


def unclear_wish(item: int, remark: str) -> str:
    """Say that a wish does not tell its text."""
    return (
        f"item {item}: It is not clear from {whole(remark)} which text is wanted. Give it with "
        f'--text, such as --text "name=Zoë Lind".'
    )


def two_texts(item: int, text: str, other: str) -> str:
    """Say that cups of one guest are to differ."""
    return (
        f"item {item}: The cups of this guest are to say {whole(text)} and {whole(other)}, but "
        f"all cups of a guest say the same. Accept one of the texts, or give each cup its own row "
        f"in the list."
    )


# A proof pack


def picture_unreadable(path: Path, reason: object) -> str:
    """Say that an artwork or a proof cannot be shown."""
    return f"{path}: The file cannot be read: {reason}. Merge the order again."
