"""What this room says to people: of each finding its message and its advice."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from mailmerge.findings import shown, with_values
from mailmerge.units import counted, format_mm

Said = tuple[str, str]
"""What was found, and what to do about it."""

# The list as a whole


def font_restricted(font: str, embedding: str) -> Said:
    """Say that a font's file forbids its embedding."""
    return (
        f"The file of {font} says of itself: {embedding}.",
        "Ask the font's owner before you sell anything engraved with it, and keep the answer with "
        "the order. A file's own words are not legal advice.",
    )


def drawing_colours(name: str, inks: Sequence[str], bares: Sequence[str], ink_below: float) -> Said:
    """Say which colours of a drawing are engraved."""
    kept = f" Left bare: white, {_colours(bares)}." if bares else ""
    return (
        f"The drawing {shown(name)} has colours. Engraved: {_colours(inks)}.{kept}",
        f"Compare the proof with the drawing. What is darker than a luminance of {ink_below:g} is "
        f"engraved. For another limit, set ink_below in the layout.",
    )


def _colours(colours: Sequence[str]) -> str:
    """Name a few colours, and how many more there are."""
    more = len(colours) - _COLOURS_NAMED
    named = ", ".join(colours[:_COLOURS_NAMED])
    return f"{named} and {more} more" if more > 0 else named


_COLOURS_NAMED = 6


def order_words_blank(line: int, field: str) -> Said:
    """Say that a line engraves something that the order does not have."""
    advice = "If it should be there, put it into order.toml."
    if field == "order.due":
        advice = "If it should be there, put it into order.toml, such as due = 2026-12-12."
    return f"Line {line} of the layout engraves {{{field}}}, which is blank.", advice


def order_words_stand_in(line: int, field: str, text: str) -> Said:
    """Say that a line engraves a text of the order that only stands for one."""
    return (
        f"Line {line} of the layout engraves {{{field}}}, and that is {shown(text)}. It looks like "
        "a word for a title, or like the name of the list's file.",
        "Ask for the wording, and put it into order.toml. If it should say just this, there is "
        "nothing to do.",
    )


def encoding_guessed(encoding: str) -> Said:
    """Say how a text that is not UTF-8 was read."""
    return (
        f"The list is not in UTF-8. It was read as {encoding}.",
        'Compare the accents with the list, or save the list again as "CSV UTF-8".',
    )


def columns_unused(headers: Mapping[str, Sequence[str]]) -> Said:
    """Say which columns were not used, each with the first texts below it."""
    told = ", ".join(with_values(header, values) for header, values in headers.items())
    return (
        f"These columns were not used: {told}.",
        "If one of them holds names, roles, hands or quantities, say so under [columns] in "
        "order.toml.",
    )


COLUMNS_EXCHANGED = (
    "The columns of first and last names seem to hold each other's: most first names are known as "
    "last names, and the other way around.",
    "Look at the list. If it is so, say under [columns] in order.toml which is first and which is "
    "last.",
)
NAMES_EXCHANGED = (
    "First and last name seem to stand in each other's column.",
    "Ask which is which. It is judged by how common the names are, and may be wrong.",
)


def hidden_rows(count: int, of: int, named: Sequence[int]) -> Said:
    """Say which rows are hidden, and how many guests stand in the list with them."""
    return (
        f"Left out because hidden, by hand or by a filter: {counted(count, 'guest')}, in "
        f"{_rows(count, named)}. With them there would be {of}.",
        "If these guests get a cup, show the rows and save the list again.",
    )


def last_name_first(header: str) -> Said:
    """Say that names are engraved the other way around than people say them."""
    return (
        f"The header {shown(header)} says that the last name comes first. Names are engraved as "
        f"the list has them.",
        "If the first name is to stand first, turn the names in the list, or put first and last "
        "names into columns of their own.",
    )


def columns_hidden(headers: Sequence[str]) -> Said:
    """Say which columns are used although nobody sees them."""
    return (
        f"These columns are hidden in the list, and were used: {', '.join(map(shown, headers))}.",
        "Show them, and ask whether the client has seen what they hold.",
    )


def rules_not_read(headers: Sequence[str]) -> Said:
    """Say that conditional formats strike or colour texts."""
    return (
        f"Rules of the workbook (conditional formats) strike or colour texts in these columns: "
        f"{', '.join(map(shown, headers))}. They are not read.",
        "Open the list and see whether any guest is struck out or cannot be seen.",
    )


def cells_coloured(rows: Sequence[int]) -> Said:
    """Say which rows have cells of other colours than most."""
    return (
        f"Cells have other colours than most in {_rows(len(rows), rows[:_ROWS_SHOWN])}.",
        "Ask what the colour means, such as not sure, or cancelled.",
    )


def sheets_hidden(names: Sequence[str]) -> Said:
    """Say which hidden sheets hold rows under the same headings."""
    return (
        f"Hidden sheets hold rows under the same headings, and were not read: "
        f"{', '.join(map(shown, names))}.",
        "Show them, and ask whether they hold guests. If so, move these to the list.",
    )


def rows_unread(count: int, named: Sequence[int]) -> Said:
    """Say which rows hold something that is not read."""
    return (
        f"Left out, because they hold something, but nothing in a used column: "
        f"{_rows(count, named)}.",
        "Look at them. If one is a guest, put the name into its column.",
    )


def rows_above(named: Sequence[int]) -> Said:
    """Say which rows above the header look like guests."""
    return (
        f"Left out, because the header stands below: {_rows(len(named), named)}. They are filled "
        f"as guests are.",
        "If they are guests, put the header above them.",
    )


def said_above(rows: Sequence[tuple[int, str]]) -> Said:
    """Quote what stands above the header and is no guest."""
    quoted = "; ".join(f"row {row}: {shown(text, _LONG)}" for row, text in rows)
    return (
        f"Above the header the list says: {quoted}.",
        "None of it is engraved. If it asks for something, see to it in the order.",
    )


def comment_elsewhere(row: int, text: str) -> Said:
    """Quote a comment on a row that is no guest's."""
    return (
        f"A comment in the list, on row {row}: {shown(text, _LONG)}.",
        "Read it. If it asks for something, put it into the list.",
    )


def not_written(texts: Sequence[str]) -> Said:
    """Say which texts of as_written no guest has."""
    return (
        f"These texts are in as_written in order.toml, and no cell of the list holds just one of "
        f"them: {', '.join(map(shown, texts))}.",
        "Compare them with the list, or take them out of order.toml.",
    )


def none_wanted(rows: Sequence[int]) -> Said:
    """Say which rows want no cup."""
    return (
        f"Left out because the quantity is 0: {_rows(len(rows), rows)}.",
        "If no cup is wanted, there is nothing to do.",
    )


def numbers_missing(numbers: Sequence[int], doubled: Sequence[int]) -> Said:
    """Say which numbers a numbering of the rows leaves out, and which it has twice."""
    twice = f"; {', '.join(map(str, doubled))} stands there twice" if doubled else ""
    return (
        f"The list numbers its rows, and leaves out {', '.join(map(str, numbers))}{twice}.",
        "Ask whether a guest is missing, or has cancelled.",
    )


def quantity_far_off(quantity: int, usual: int) -> Said:
    """Say that somebody wants far more cups than the others."""
    return (
        f"The list asks for {quantity} cups for this guest. For most it asks for {usual}.",
        "Ask whether that is meant, before so many blanks are laid out.",
    )


def _rows(count: int, named: Sequence[int]) -> str:
    more = f" and {count - len(named)} more" if count > len(named) else ""
    return f"{'row' if count == 1 else 'rows'} {', '.join(map(str, named))}{more}"


def duplicate(rows: Sequence[int]) -> Said:
    """Say where else a name stands."""
    return (
        f"The same name stands in {_rows(len(rows), rows)}.",
        "Ask whether these are two people. If it is one, take a row out of the list.",
    )


def merged_cell(field: str, text: str) -> Said:
    """Say that a cell is merged with the one above."""
    return (
        f"The cell of the {field} is merged with the one above: {shown(text)}.",
        "If it is one person, merge the whole row, or take it out. Else type who it is.",
    )


def alike(rows: Sequence[int], other: str) -> Said:
    """Say which other names may be the same person's."""
    return (
        f"A name much like it stands in {_rows(len(rows), rows)}: {shown(other)}.",
        "Ask whether these are two people. If it is one, take a row out of the list.",
    )


ONE_WORD = (
    "The name has one full word, and nearly all others have two or more.",
    "Ask for the whole name. If the cup should say just this, there is nothing to do.",
)
NAME_TURNED = (
    "The name begins with a word that others have last, and ends with one that others have first.",
    "Ask whether first and last name are exchanged.",
)


def name_in_two(name: str) -> Said:
    """Say that the columns of name and role may hold first and last name."""
    return (
        f"Name and role may be the first and the last name of one person: {shown(name)}.",
        "Look at the list. If so, put the whole name into the name's column.",
    )


def mixed_signs(field: str, usual: str, rows: Sequence[int]) -> Said:
    """Say that a text has another apostrophe or hyphen than the rest, or than some rows."""
    sign = f"{shown(usual)} (U+{ord(usual):04X})"
    advice = "Cups of one set should have the same. Write it in the list as the others have it."
    if rows:
        return (
            f"The {field} has another kind of apostrophe or hyphen than {_rows(len(rows), rows)}, "
            f"with {sign}.",
            advice,
        )
    return (
        f"The {field} has another kind of apostrophe or hyphen than most of the list, which has "
        f"{sign}.",
        advice,
    )


def letter_alone(name: str) -> Said:
    """Say that a name is one letter where the others have whole names."""
    return (
        f"The name is one letter, and nearly all others are whole names: {shown(name)}. It looks "
        f"like a heading.",
        f"If it is one, take the row out of the list. {_if_meant(name)}",
    )


def heading_without_role(name: str) -> Said:
    """Say that a row looks like one that heads those below it."""
    return (
        f"The row has no role, and its name is a role or a section: {shown(name)}. It looks like "
        f"a heading.",
        f"If it is one, take the row out of the list. {_if_meant(name)}",
    )


ROLE_MISSING = (
    "The role is blank, and nearly all other guests have one.",
    "Ask for it. If this guest has none, there is nothing to do.",
)


def role_alike(other: str) -> Said:
    """Say that a role is written much like one that others have."""
    return (
        f"The role is written much like one that others have: {shown(other)}.",
        "Ask which of the two it is.",
    )


def role_foreign(role: str) -> Said:
    """Say that a role is in another language than those of the others."""
    return (
        f"The role is in another language than those of the others: {shown(role)}.",
        "Ask whether it should be in theirs.",
    )


def name_is_role(name: str) -> Said:
    """Say that a name is the role of others."""
    return (
        f"The name is a role that others have: {shown(name)}.",
        "Name and role may stand in each other's column. Look at the list.",
    )


def role_within(name: str) -> Said:
    """Say that a name begins or ends with a role of the list."""
    return (
        f"The name begins or ends with a role that others have: {shown(name)}.",
        "If it is the role, move it into its column.",
    )


def look_alike(found: str) -> Said:
    """Say which words are written in letters that only look Latin."""
    letters = dict.fromkeys(found.replace(" ", ""))
    codes = ", ".join(f"{char} is U+{ord(char):04X}" for char in letters)
    return (
        f"All letters of {shown(found)} are Greek or Cyrillic ones that look like Latin ones: "
        f"{codes}.",
        "Ask which alphabet is meant, and type the word again.",
    )


# Rows

HEADER_AGAIN = (
    "The row repeats the header.",
    "Take it out of the list.",
)
BELOW_OTHER_HEADER = (
    "Another header stands above this row, with other columns than the first one.",
    "Put the second table into a list of its own, or turn its columns as in the first.",
)


def quote_open(line: str) -> Said:
    """Say that a cell holds lines of the file."""
    return (
        f"A quotation mark is not closed. One cell holds whole lines of the file: {shown(line)}.",
        "Close it in the file, or save the list again from the spreadsheet program.",
    )


def row_too_wide(more: str) -> Said:
    """Say that a row of delimited text has cells without a header."""
    return (
        f"The row has more cells than the header: {shown(more)} is left over.",
        "A comma inside a text parts it. Put quotation marks around the text, or save the list as "
        "a workbook.",
    )


def beside_table(more: str) -> Said:
    """Say that something stands in a column without a header."""
    return (
        f"Something stands in a column without a header: {shown(more)}.",
        "Read it. If it matters, put it into a column of its own.",
    )


def row_too_short(missing: str, width: str) -> Said:
    """Say that a row of delimited text has fewer cells than others."""
    lost = f" Nothing stands under {shown(missing)}." if missing else ""
    return (
        f"The row has fewer cells than the header and most rows: {width}.{lost}",
        "Look at the row in the file. If a cell is missing, each cell after it is in the wrong "
        "column.",
    )


def row_struck(found: str) -> Said:
    """Say that all of a row is struck out."""
    return (
        f"The row is struck out in the list: {shown(found)}.",
        "Take it out of the list, or take the strike away.",
    )


# Cells

_LONG = 300
"""So much of a comment is quoted."""


def struck(field: str, found: str) -> Said:
    """Say that a cell is struck out."""
    return (
        f"The {field} is struck out in the list: {shown(found)}.",
        "Delete it in the list, or take the strike away.",
    )


def partly_struck(field: str, struck: str, stands: str) -> Said:
    """Say that a part of a cell is struck out."""
    return (
        f"In the {field}, {shown(struck)} is struck out, and {shown(stands)} stands.",
        "Type the cell again, with nothing struck out, so that it is sure what is meant.",
    )


def unseen(field: str, found: str) -> Said:
    """Say that nobody sees a text in the list."""
    return (
        f"In the list nobody sees this {field}: {shown(found)}. It has the colour of its ground, "
        f"or a format that hides it.",
        "Ask whether it is meant. Give it a colour that can be seen, or take it out.",
    )


def comment(text: str) -> Said:
    """Quote a comment on a guest's row."""
    return (
        f"A comment in the list says: {shown(text, _LONG)}.",
        "Read it. If it asks for something, put it into the cells, and take the comment out.",
    )


def shown_otherwise(field: str, seen: str, found: str) -> Said:
    """Say that a format shows more than the cell holds."""
    return (
        f"The list shows {shown(seen)}, but the cell holds {shown(found)}: the rest is its format. "
        f"It is not engraved.",
        f"Ask which of them the client wants, and type the {field} in full.",
    )


def replaced(field: str, seen: str, found: str) -> Said:
    """Say that a format shows another text in the place of what the cell holds."""
    return (
        f"The list shows {shown(seen)} in the place of {shown(found)}, which the cell holds.",
        f"Ask which of them the client wants, and type the {field} in a cell without that format.",
    )


_SEVERAL = {"role": "roles"}


def lines_in_cell(field: str, found: str) -> Said:
    """Say that a cell holds more lines than one name has."""
    return (
        f"One cell holds several lines, as if for several {_SEVERAL.get(field, 'people')}: "
        f"{shown(found)}.",
        f"Give each {field} a row of its own. In a text file, look for a quotation mark that is "
        f"not closed.",
    )


def name_on_two_lines(field: str, found: str) -> Said:
    """Say that one name stands on two lines, or two do."""
    return (
        f"The {field} stands on two lines of its cell: {shown(found)}.",
        "Is that one person? If it is two, give each a row of its own.",
    )


NAME_BLANK = "The row has no name.", "Put the name in, or take the row out of the list."


def encoding_mended(before: str, after: str) -> Said:
    """Say that letters were in the wrong encoding."""
    return (
        f"Letters in the wrong encoding were mended: {shown(before)} became {shown(after)}.",
        _IF_MEANT,
    )


def accents_joined(before: str, after: str) -> Said:
    """Say that letters and accents were apart."""
    return (
        f"Accents were joined to their letters (Unicode NFC): {shown(before)} became "
        f"{shown(after)}.",
        _IF_MEANT,
    )


def invisible_removed(before: str, after: str) -> Said:
    """Say that a text held characters that show nothing."""
    return (
        f"Characters that show nothing were taken out: {shown(before)} became {shown(after)}.",
        _IF_MEANT,
    )


def spaces_removed(before: str, after: str) -> Said:
    """Say that a text held more spaces than it needs."""
    return (
        f"Stray spaces were taken out: {shown(before)} became {shown(after)}.",
        _IF_MEANT,
    )


_IF_MEANT = "If the second is what was meant, there is nothing to do."


def side_unclear(found: str) -> Said:
    """Say that a cell names no face."""
    return (
        f"The side is unclear: found {shown(found)}. A cell says drinker, onlookers, opposite, or "
        f"an angle from the handle such as 180.",
        "Correct it, or leave it blank for the layout's own face.",
    )


def is_date(field: str, found: str) -> Said:
    """Say that a spreadsheet has turned a text into a date."""
    return (
        f"The {field} is a date: {found}. The spreadsheet has taken what was typed for one.",
        f"Ask what was meant. Set the cell's format to text and type it again. {_if_meant(found)}",
    )


def no_value(field: str) -> Said:
    """Say that a formula has no result."""
    return (
        f"The {field} is a formula whose result is not stored in the file.",
        "Open the list in a spreadsheet program and save it again, or type the text.",
    )


def is_number(field: str, found: str) -> Said:
    """Say that a cell holds a number where a name belongs."""
    return (
        f"The {field} is a number: {shown(found)}. A day is stored as a number, too.",
        "Ask for the name. Another column may hold it: say which one under [columns] in "
        f"order.toml. {_if_meant(found)}",
    )


def is_truth(field: str, found: str) -> Said:
    """Say that a cell holds a spreadsheet's true or false."""
    return (
        f"The {field} is a spreadsheet's true or false: {shown(found)}.",
        f"Ask what was meant. Set the cell's format to text and type it again. {_if_meant(found)}",
    )


def is_formula(field: str, found: str) -> Said:
    """Say that a cell holds a formula as text."""
    return (
        f"The {field} is a formula, not its result: {shown(found)}.",
        "Open the list in a spreadsheet program and type the text into the cell.",
    )


def example_left(field: str, found: str) -> Said:
    """Say that a text still says it is an example, in a row that is somebody's."""
    return (
        f"The {field} says that it is an example: {shown(found)}.",
        "Ask for the text that belongs there. If the whole row is an example, take it out.",
    )


def is_endless(field: str, start: str) -> Said:
    """Say that a text is longer than its start, which is as much as is taken."""
    return (
        f"The {field} has more than {len(start)} characters: {shown(start)}.",
        "Something else has got into this cell. Ask for the text to engrave.",
    )


def is_merge_field(field: str, found: str) -> Said:
    """Say that a field of a letter was never filled."""
    return (
        f"The {field} is a merge field that nobody has filled: {shown(found)}.",
        "Ask for the text that belongs there, and type it.",
    )


def is_error(field: str, found: str) -> Said:
    """Say that a formula has failed, or that there was nothing for a program to write."""
    return (
        f"The {field} is what a program writes where it has no value: {shown(found)}.",
        "Mend the formula in the list, or type the text.",
    )


def kind_unclear(field: str, found: str, known: str) -> Said:
    """Say that a list names a blank that is not known."""
    return (
        f"The {field} is unclear: found {shown(found)}. These are known: {known}.",
        "If the word is the client's own, put it under [blanks] in order.toml with the blank that "
        "it means. Else correct the list, or leave the cell blank for the order's own.",
    )


MOTIF_MISSING = (
    "The motif is blank, and the order has none for all. The cup gets no drawing.",
    'Ask, and fill in the cell. Or put motif = "…" under [order] in order.toml for all who have '
    "none of their own.",
)


def motif_unclear(found: str, suggested: str) -> Said:
    """Say that a list names a motif that is not known."""
    told = f"The motif is unclear: found {shown(found)}."
    return (
        f'{told} Did you mean "{suggested}"?' if suggested else told,
        "Correct the cell: mailmerge ornaments lists all words. If the word is the client's own, "
        "put it under [motifs] in order.toml with the drawing that it means.",
    )


def coat_unclear(blank: str, found: str, known: str) -> Said:
    """Say that a list names a coat that its blank does not have."""
    return (
        f"The file of the blank {shown(blank)} has no coat {shown(found)}. It knows: {known}.",
        "If the blank is to be had in it, add the coat to the blank's file: then it is known for "
        "all. Else ask, and correct the list, or leave the cell blank for the order's own.",
    )


def hand_unclear(found: str) -> Said:
    """Say that a cell names no hand."""
    return (
        f"The hand is unclear: found {shown(found)}. A cell says left, right, l or r, or it is "
        f"blank for right.",
        "Ask which hand holds the cup. It decides on which side the name stands.",
    )


HAND_BLANK = (
    "The hand is blank, and the header asks who is right-handed. A blank may mean no.",
    "Ask which hand holds the cup, and write yes or no.",
)


def quantity_unclear(found: str) -> Said:
    """Say that a cell holds no number of cups."""
    return (
        f"The quantity is unclear: found {shown(found)}. A cell holds a whole number up to 999, "
        f"or it is blank for 1.",
        "Ask how many cups are wanted.",
    )


# Names and roles as text


def _if_meant(text: str) -> str:
    """Say how a person answers a doubt about what a text means, for good."""
    return f"If the cup should say just this, add {shown(text)} to as_written in order.toml."


def form_of_address(role: str) -> Said:
    """Say that a role is no role."""
    return (
        f"The role is a form of address: {shown(role)}.",
        "Another column may hold the role. If so, say which one under [columns] in order.toml.",
    )


def all_capitals(name: str, otherwise: str) -> Said:
    """Say that a name is typed in capitals."""
    return (
        f"The name is all in capitals: {shown(name)}.",
        f"Ask whether it should be {shown(otherwise)}.",
    )


def all_lower_case(name: str, otherwise: str) -> Said:
    """Say that a name is typed without capitals."""
    return (
        f"The name is all in small letters: {shown(name)}.",
        f"Ask whether it should be {shown(otherwise)}.",
    )


def e_mail(name: str) -> Said:
    """Say that a name holds an address."""
    return (
        f"The name holds an e-mail address: {shown(name)}.",
        f"Ask for the name to engrave. {_if_meant(name)}",
    )


def web_address(name: str) -> Said:
    """Say that a name holds the address of a page."""
    return (
        f"The name holds a web address: {shown(name)}.",
        f"Ask for the name to engrave. {_if_meant(name)}",
    )


def telephone(name: str) -> Said:
    """Say that a name holds a number to call."""
    return (
        f"The name holds a telephone number: {shown(name)}.",
        f"Ask for the name to engrave. {_if_meant(name)}",
    )


def digits(name: str) -> Said:
    """Say that a name holds a number."""
    return (
        f"The name holds digits: {shown(name)}.",
        "Ask whether the number belongs to the name.",
    )


def role_in_name(rest: str, name: str) -> Said:
    """Say that more than a name is in its cell."""
    return (
        f"Something other than a name seems to stand with it: {shown(rest)}.",
        f"If the name is {shown(name)}, move the rest into a column of its own.",
    )


def not_a_name(name: str) -> Said:
    """Say that a name stands for nobody."""
    return (
        f"The name is no name: {shown(name)}.",
        f"Ask who the cup is for, or take the row out of the list. {_if_meant(name)}",
    )


def heading(name: str) -> Said:
    """Say that a row parts the list."""
    return (
        f"The row looks like a heading, not like a guest: {shown(name)}.",
        "If it is one, take the row out of the list. If not, take the signs out of the name. "
        f"{_if_meant(name)}",
    )


def stands_for_somebody(name: str) -> Said:
    """Say that a name stands for somebody whose own name is not there."""
    return (
        f"The name stands for somebody without naming them: {shown(name)}.",
        f"Ask for the name. {_if_meant(name)}",
    )


def reads_as_remark(name: str) -> Said:
    """Say that a name holds words of a sentence."""
    return (
        f"The name reads like a remark: {shown(name)}.",
        "Ask for the name. If a remark stands with it, put that into a column of its own. "
        f"{_if_meant(name)}",
    )


def written_as_words(name: str) -> Said:
    """Say that a name is written as words of a sentence are, with small letters."""
    return (
        f"This may be no name, for its words are written small: {shown(name)}.",
        f"Ask for the name, or take the row out. {_if_meant(name)}",
    )


def several_people(name: str) -> Said:
    """Say that a name seems to be of more than one person."""
    return (
        f"The name seems to be of several people: {shown(name)}.",
        f"Ask whether they share one cup. If each gets one, give each a row. {_if_meant(name)}",
    )


def odd_capitals(word: str, usual: str) -> Said:
    """Say that a word's capitals are odd."""
    return (
        f"The capitals of {shown(word)} are unusual.",
        f"Ask whether it should be {shown(usual)}.",
    )


def stray_sign(name: str) -> Said:
    """Say that a name holds a sign that no name has there."""
    return (
        f"The name has a sign in an odd place: {shown(name)}.",
        "Ask whether it belongs there. If not, take it out of the list.",
    )


def nickname(name: str) -> Said:
    """Say that a name holds another one."""
    return (
        f"The name holds another name in quotation marks or brackets: {shown(name)}.",
        "Ask which one the cup should say.",
    )


def words_joined(word: str) -> Said:
    """Say that two words may have grown together."""
    return (
        f"Two words may have run together: {shown(word)}.",
        "Ask whether a space is missing.",
    )


def word_doubled(name: str) -> Said:
    """Say that a word stands twice in a row."""
    return (
        f"A word stands twice in a row: {shown(name)}.",
        "Ask whether it is meant. Two columns may hold the same name.",
    )


def l_for_i(name: str, meant: str) -> Said:
    """Say that a small l may stand for a capital I."""
    return (
        f"A small l may stand where a capital I belongs: {shown(name)}.",
        f"Ask whether it should be {shown(meant)}.",
    )


def wrong_code_page(name: str, meant: str) -> Said:
    """Say that letters were read otherwise than they were written."""
    return (
        f"Letters may have been read in another code page than they were written in: "
        f"{shown(name)}.",
        f'Ask whether it should be {shown(meant)}. Have the list saved again as "CSV UTF-8".',
    )


def written_in_code(text: str, meant: str) -> Said:
    """Say that letters are written as a program writes them for others."""
    return (
        f"Letters are written in code, as in a mail or a web page: {shown(text)}.",
        f"Ask whether it should be {shown(meant)}, and type it so. {_if_meant(text)}",
    )


def role_goes_on(role: str, other: str) -> Said:
    """Say that a role is another one's with words after it that no other role has."""
    return (
        f"The role is one that others have, {shown(other)}, and goes on: {shown(role)}.",
        f"If the rest is a remark, put it into a column of its own. {_if_meant(role)}",
    )


def controls_alone(before: str) -> Said:
    """Say that control signs stand where letters were, and that nobody knows which."""
    return (
        f"Control signs stood where letters may have been, and were taken out: {shown(before)}.",
        "Ask how the name is spelled, and type it again.",
    )


def code_page_of_others(meant: str) -> Said:
    """Say that letters were read otherwise than they were written, as other rows show."""
    return (
        "In other rows, letters may have been read in another code page than they were written "
        "in. This name has such letters, too.",
        f'Ask whether it should be {shown(meant)}. Have the list saved again as "CSV UTF-8".',
    )


_PAGES = {
    "cp1250": "Windows-1250 (central Europe)", "cp1251": "Windows-1251 (Cyrillic)",
    "cp1253": "Windows-1253 (Greek)", "cp1254": "Windows-1254 (Turkish)",
    "cp1257": "Windows-1257 (Baltic)",
}  # fmt: skip


def page_of_list(meant: str, page: str) -> Said:
    """Say that a list was written in another code page, in which its names are names."""
    return (
        f"The list was read in the wrong code page: in {_PAGES.get(page, page)} its names read as "
        f"names, this one as {shown(meant)}.",
        'Have the list saved again as "CSV UTF-8", or its names typed again.',
    )


def title_only(name: str) -> Said:
    """Say that a name is a form of address alone."""
    return (
        f"The name is a form of address alone: {shown(name)}.",
        f"Ask for the name. {_if_meant(name)}",
    )


_UNSURE = {
    "title": "After the form of address stands one word, and it is mostly a last name.",
    "perhaps-title": "Its first word may be a form of address, or a first name.",
    "several": "Several people are in it.",
    "family": "It is the name of a family or a group.",
    "initial": "The first name is an initial.",
    "particle": "It begins with a word that belongs to a last name.",
    "family-first": "It is written with the family's name first.",
    "double": "Its first two words may be one first name.",
}


def first_unsure(name: str, first: str, why: str) -> Said:
    """Say that it is not sure which word is the first name."""
    return (
        f"The first name of {shown(name)} is not sure. {_UNSURE[why]} The cup would say "
        f"{shown(first)}.",
        "Ask for the first name, and put it into a column of its own.",
    )


def initials_unsure(name: str, letters: str) -> Said:
    """Say that it is not sure which initials somebody has."""
    return (
        f"The initials of {shown(name)} are not sure. The cup would say {shown(letters)}.",
        "Ask for first and last name, and write both into the list.",
    )


def language_unclear(found: str) -> Said:
    """Say that a list names a language that there is not."""
    return (
        f"The language is unclear: found {shown(found)}. The cup is set as if the cell were blank.",
        'Enter a language tag such as "tr" or "pt-BR", or the language\'s name, such as Turkish.',
    )


def language_missing(line: int, rows: Sequence[int], engraved: str, meant: str) -> Said:
    """Say that capitals depend on a language that is not given."""
    return (
        f"Line {line} of the layout sets capitals that depend on the language, and none is given "
        f"for {_rows(len(rows), rows[:_ROWS_SHOWN])}. A cup would say {shown(engraved)}; in "
        f"Turkish it is {shown(meant)}.",
        'If the names are Turkish, put language = "tr" under the layout\'s line, or tr into a '
        "column Language of the list.",
    )


def language_to_come(line: int, rows: Sequence[int]) -> Said:
    """Say that a name with ı or İ stands in capitals that are the same in Turkish."""
    return (
        f"Line {line} of the layout sets capitals, and no language is given for "
        f"{_rows(len(rows), rows[:_ROWS_SHOWN])}, with ı or İ in the name. These cups are the same "
        f"in Turkish, but a name with i would not be.",
        'If the names are Turkish, put language = "tr" under the layout\'s line, or tr into a '
        "column Language of the list.",
    )


_ROWS_SHOWN = 12


def not_a_role(role: str) -> Said:
    """Say that a role is no role."""
    return (
        f"The role is no role: {shown(role)}.",
        f"Ask for it, or leave the cell blank. {_if_meant(role)}",
    )


def remark_in_role(role: str) -> Said:
    """Say that a role holds a remark."""
    return (
        f"The role seems to hold a remark: {shown(role)}.",
        "Put it into a column of its own, or it is engraved.",
    )


def comma_in_name(name: str, otherwise: str) -> Said:
    """Say that a name may be the wrong way around."""
    return (
        f"The name holds a comma: {shown(name)}.",
        f"Ask whether it should be {shown(otherwise)}.",
    )


def direction_override(field: str, codes: str) -> Said:
    """Say that a text shows otherwise than it is."""
    return (
        f"The {field} holds invisible signs that turn its direction ({codes}). It shows otherwise "
        f"than it would be engraved.",
        "Type the text again from the keyboard, without pasting.",
    )


def emoji(field: str, codes: str) -> Said:
    """Say that a text holds pictures."""
    return (
        f"The {field} holds a picture character: {codes}.",
        "Ask for the text without it. A letter font has no such outline.",
    )


def mixed_alphabets(word: str, alphabets: str, odd: str) -> Said:
    """Say that a word holds letters that may look like others."""
    return (
        f"The word {shown(word)} mixes letters of {alphabets}: {odd}.",
        "Letters of two alphabets may look alike. Type the word again in one of them.",
    )


def odd_sign(field: str, signs: str) -> Said:
    """Say that a text holds signs that names seldom have."""
    return (
        f"The {field} holds a sign that names rarely have ({signs}).",
        "Compare it with how its owner writes it. It may be a letter that was read wrongly.",
    )


# What the beam can engrave


def drawing_too_fine(kind: str, name: str, what: str, width: float, spot: float) -> Said:
    """Say that a stroke or gap of a drawing is finer than the beam's spot (mm)."""
    return (
        f"The {kind} {shown(name)} has a {what} of {format_mm(width, 2)}, finer than the beam's "
        f"spot of {format_mm(spot, 2)}.",
        _LARGER_DRAWING,
    )


def drawing_fine(kind: str, name: str, what: str, width: float, spot: float) -> Said:
    """Say that a stroke or gap of a drawing is under two of the beam's spots (mm)."""
    return (
        f"The {kind} {shown(name)} has a {what} of {format_mm(width, 2)}, less than two spots of "
        f"{format_mm(spot, 2)}.",
        _LARGER_DRAWING,
    )


_LARGER_DRAWING = "Make it larger in the layout, or draw it with less detail."


def stroke_too_fine(text: str, letters: str, width: float, spot: float) -> str:
    """Say that a stroke is finer than the beam's spot (mm)."""
    return (
        f"The narrowest stroke of {shown(text)} is {format_mm(width, 2)} wide, finer than the "
        f"beam's spot of {format_mm(spot, 2)}. {_where(letters)}"
    ).rstrip()


def stroke_fine(text: str, letters: str, width: float, spot: float) -> str:
    """Say that a stroke is under two of the beam's spots (mm)."""
    return (
        f"The narrowest stroke of {shown(text)} is {format_mm(width, 2)} wide, less than two spots "
        f"of {format_mm(spot, 2)}. {_where(letters)}"
    ).rstrip()


def gap_too_fine(text: str, letters: str, width: float, spot: float) -> str:
    """Say that a gap is finer than the beam's spot (mm)."""
    return " ".join(
        (
            f"The narrowest gap of {shown(text)} is {format_mm(width, 2)} wide, finer than the "
            f"beam's spot of {format_mm(spot, 2)}.",
            *filter(None, [_where(letters)]),
            "It will fill in.",
        )
    )


def gap_fine(text: str, letters: str, width: float, spot: float) -> str:
    """Say that a gap is under two of the beam's spots (mm)."""
    return " ".join(
        (
            f"The narrowest gap of {shown(text)} is {format_mm(width, 2)} wide, less than two "
            f"spots of {format_mm(spot, 2)}.",
            *filter(None, [_where(letters)]),
            "It may fill in.",
        )
    )


def letters_close(places: Sequence[str], more: int) -> Said:
    """Say which letters of an order may grow together: pairs, or one letter in itself."""
    told = [" and ".join(place) if len(place) > 1 else f"the {place}" for place in places]
    rest = f", and {counted(more, 'more place')}" if more > 0 else ""
    return (
        f"Narrow gaps between or in some letters may close once they are engraved: "
        f"{', '.join(told)}{rest}. The letters are read as they are.",
        "Look at them on one cup. If you want letters apart, give the line some tracking.",
    )


def _where(letters: str) -> str:
    """Say where a narrow place is: between two letters, or in one part of the text."""
    if len(letters) == 2:
        return f"It is between {letters[0]} and {letters[1]}."
    return f"It is in the {letters}." if letters else ""


WIDER_STRENGTHENED = "Take larger letters, a wider font, or less strengthening."
WIDER_CONNECTED = "Take larger letters, or a wider font."
WIDER = "Take larger letters, a wider font, or some tracking."


def strengthen(value: float, stroke: float) -> str:
    """Say what makes a stroke safe (mm)."""
    return (
        f'Set strengthen = "{format_mm(value, 2)}" on this line, and the stroke becomes '
        f"{format_mm(stroke, 2)} wide. Or take larger letters or a bolder font."
    )


def strengthen_beside_gap(value: float, stroke: float, gap: float) -> str:
    """Say what makes a stroke safe, and what is left of the narrowest gap (mm)."""
    return (
        f'Set strengthen = "{format_mm(value, 2)}" on this line, and the stroke becomes '
        f"{format_mm(stroke, 2)} wide. The narrowest gap is then {format_mm(gap, 2)} wide. Or take "
        f"larger letters or a bolder font."
    )


def strengthen_fills_gap(value: float, stroke: float, gap: float) -> str:
    """Say that what makes a stroke safe fills the narrowest gap in (mm)."""
    return (
        f"Take larger letters or a bolder font. With "
        f'strengthen = "{format_mm(value, 2)}" on this line the stroke would become '
        f"{format_mm(stroke, 2)} wide, but the narrowest gap would keep {format_mm(gap, 2)} and "
        f"fill in."
    )


def hard_to_read(
    text: str, height: float, away: float, minutes: float, least_minutes: float, least: float
) -> str:
    """Say that small letters are too low to be read (mm, minutes of arc)."""
    return (
        f"The small letters of {shown(text)} are {format_mm(height, 2)} high. At arm's length "
        f"({away:g} mm) that is {minutes:.0f} minutes of arc. People read from {least_minutes:g} "
        f"on ({format_mm(least, 2)})."
    )


def hard_to_read_without_small(
    text: str, height: float, away: float, minutes: float, least_minutes: float, least: float
) -> str:
    """Say that letters are too low to be read, none of them small (mm, minutes of arc)."""
    return (
        f"The letters of {shown(text)} are {format_mm(height, 2)} high. At arm's length "
        f"({away:g} mm) that is {minutes:.0f} minutes of arc. People read from {least_minutes:g} "
        f"on ({format_mm(least, 2)})."
    )


def larger_or_capitals(height: float) -> str:
    """Say from which letter height on small letters are read (mm)."""
    return f"Take a letter height of {format_mm(height)}, or capitals."


def larger(height: float) -> str:
    """Say from which letter height on letters are read (mm)."""
    return f"Take a letter height of {format_mm(height)}."


def _first(thing: str) -> str:
    """Return the name of a thing as a sentence starts with it."""
    return thing[:1].upper() + thing[1:]


# Blank and machine

ANOTHER_MACHINE = "Take another machine."
ANOTHER_ROTARY_OR_BLANK = "Take another rotary, or another blank."


def nothing_to_go_around(things: Iterable[str], blank: str) -> str:
    """Say that a layout runs around flat goods."""
    return f"The layout runs {', '.join(things)} around a cup, but {blank} is flat."


NO_RING_OR_BORDER = "For flat goods, take a layout without ring and border."


def no_rotary(machine: str, blank: str) -> str:
    """Say that a machine takes flat goods alone."""
    return f"The machine {machine} has no rotary, but {blank} is round."


ROTARY_OR_FLAT_GOODS = "Take a machine that has a [rotary] in its profile, or take flat goods."


def too_large_for_bed(
    blank: str, size: tuple[float, float], machine: str, bed: tuple[float, float]
) -> str:
    """Say that flat goods do not lie on a bed."""
    return (
        f"{blank} is {format_mm(size[0])} by {format_mm(size[1])}, but the bed of {machine} is "
        f"only {format_mm(bed[0])} by {format_mm(bed[1])}."
    )


def too_wide(across: float, around: float, most: float) -> str:
    """Say that a rotary cannot take so wide a cup."""
    return (
        f"The cup is {format_mm(across)} across ({format_mm(around)} around), but the rotary takes "
        f"at most {format_mm(most)}."
    )


def too_narrow(across: float, around: float, least: float) -> str:
    """Say that a rotary cannot hold so narrow a cup."""
    return (
        f"The cup is {format_mm(across)} across ({format_mm(around)} around), but the rotary takes "
        f"at least {format_mm(least)}."
    )


def too_long(wall: float, most: float) -> str:
    """Say that a rotary cannot take so long a cup."""
    return f"The wall is {format_mm(wall)} long, but the rotary takes at most {format_mm(most)}."


def too_high_on_rollers(needed: float, focus: float, there: float) -> str:
    """Say that a cup on rollers comes too near to the head."""
    return (
        f"The cup needs {format_mm(needed)} from the rollers to the head, {format_mm(focus)} of it "
        f"to focus, but there are only {format_mm(there)}."
    )


def too_high_in_chuck(needed: float, focus: float, there: float) -> str:
    """Say that a cup in a chuck comes too near to the head."""
    return (
        f"The cup needs {format_mm(needed)} from the chuck's axis to the head, {format_mm(focus)} "
        f"of it to focus, but there are only {format_mm(there)}."
    )


MAKE_ROOM = (
    "Lower the bed or the rotary if the machine's manual shows how, and measure again. Or take "
    "another machine."
)


def walks_on_rollers(tilt: float) -> str:
    """Say that a tapered cup does not stay in its place on rollers."""
    return (
        f"A tapered cup walks on rollers: its wall is {tilt:.1f}° off the axis. The artwork is not "
        f"corrected for this."
    )


TAKE_A_CHUCK = (
    "Use a chuck: for that the artwork is corrected. Or engrave a test cup first, and keep it from "
    "walking."
)


def on_rollers(zone: str, out: float | None) -> str:
    """Say that something which stands out may meet a roller."""
    if out is None:
        return f"How far the {zone} stands out was not measured. It may run onto the rollers."
    return f"The {zone} stands out by {format_mm(out)} and may run onto the rollers as it turns."


def keep_off_rollers(zone: str) -> str:
    """Say how to lay a cup on rollers."""
    return (
        f"Lay the cup so that the {zone} hangs clear of both rollers through the whole turn. "
        f"Switch the power off, and turn the cup once by hand."
    )


# Under the head


def start_elsewhere(zone: str, sides: Sequence[str]) -> str:
    """Say how to have something else than a zone under the head."""
    return (
        f"Start with the {zone} to another side: set datum to {' or '.join(sides)} in the "
        f"machine's profile or in the order."
    )


ON_EVERY_SIDE = "Take a machine whose head clears it. It is there from every side."


def starts_at_unmeasured(zone: str) -> str:
    """Say that the head starts over something that may touch it."""
    return (
        f"The job starts with the {zone} under the head, but the blank does not say how far that "
        f"stands out."
    )


def measure_it(key: str) -> str:
    """Say where what was measured belongs."""
    return f"Measure it, and enter it in the blank as {key}.stands_out."


def starts_under_head(zone: str, out: float, clears: float) -> str:
    """Say that the head starts over something that touches it."""
    return (
        f"The job starts with the {zone} under the head: it stands out by {format_mm(out)}, but "
        f"the head clears only {format_mm(clears)}, and both ways to turn pass it."
    )


def passes_unmeasured(zone: str, at: float, clears: float) -> str:
    """Say that something which may touch the head passes under it."""
    return (
        f"The {zone} at {at:g}° passes under the head on the way from the start: nobody has "
        f"measured how far it stands out, and the head clears only {format_mm(clears)}."
    )


def passes_under_head(zone: str, at: float, out: float, clears: float) -> str:
    """Say that something which touches the head passes under it."""
    return (
        f"The {zone} at {at:g}° passes under the head on the way from the start: it stands out by "
        f"{format_mm(out)}, but the head clears only {format_mm(clears)}."
    )


def start_at_lettering(zone: str) -> str:
    """Say how to keep a zone from passing under the head."""
    return (
        f"Start on the side of the lettering: set another datum in the machine's profile or in the "
        f"order. Or choose a face that is reached without passing the {zone}."
    )


def off_the_bed(across: float, deep: float, bed: tuple[float, float]) -> str:
    """Say that the head cannot reach all of the artwork."""
    return (
        f"From the mark at the start the artwork reaches {format_mm(across)} from left to right "
        f"and {format_mm(deep)} from front to back, but the bed is only {format_mm(bed[0])} by "
        f"{format_mm(bed[1])}."
    )


ANOTHER_MARK = (
    "Start at another mark, which makes the way shorter: set datum in the machine's profile or in "
    "the order. Or take another machine."
)


# Faces and places


def face_on_zone(angle: float, zone: str) -> str:
    """Say that a zone leaves nothing of a face."""
    return f"The face at {angle:g}° lies on the {zone}, so that nothing is left of it."


def another_face(zone: str) -> str:
    """Say how to have a face away from a zone."""
    return f"Choose a face, or an angle, that is away from the {zone}."


def another_height(zone: str) -> str:
    """Say how to have a line away from what goes all around."""
    return f"Move the line above or below the {zone}: give it another height in the layout."


NOTHING_TO_ENGRAVE = "No line of the layout holds anything for this guest."
FILL_COLUMNS = "Fill in the columns that the layout uses, or take another layout."


def ornament(name: str) -> str:
    """Name an ornament in a sentence."""
    return f"the ornament {shown(name)}"


def border(name: str) -> str:
    """Name a border in a sentence."""
    return f"the border {shown(name)}"


def outside_band(thing: str, reach: tuple[float, float], band: tuple[float, float]) -> str:
    """Say that ink leaves the band."""
    return (
        f"{_first(thing)} reaches from {format_mm(reach[0])} to {format_mm(reach[1])} above the "
        f"base, but the band goes from {format_mm(band[0])} to {format_mm(band[1])}."
    )


SMALLER_OR_MOVED = "Take smaller letters, drawings or gaps in the layout, or move the ring."


def wider_than_face(thing: str, width: float, there: float) -> str:
    """Say that ink leaves its face."""
    return (
        f"{_first(thing)} is {format_mm(width)} wide and reaches past its face, which is "
        f"{format_mm(there)} wide."
    )


SMALLER_DRAWING_OR_LETTERS = "Take a smaller drawing or smaller letters in the layout."


def runs_into_zone(thing: str, zone: str, low: float, high: float) -> str:
    """Say that ink lies where a zone is."""
    return (
        f"{_first(thing)} runs into the {zone}, which is kept free from {format_mm(low)} to "
        f"{format_mm(high)} above the base."
    )


ANOTHER_PLACE = "Move it to another height or face, or take smaller letters in the layout."


def overlap(thing: str, other: str) -> str:
    """Say that ink lies on ink."""
    return f"{_first(thing)} and {other} overlap."


LARGER_GAPS = "Take larger gaps or smaller letters in the layout, or move the ring."


def faces_overlap(
    angles: tuple[float, float], zero: str, over: float, texts: tuple[Iterable[str], Iterable[str]]
) -> str:
    """Say that two faces share a part of the wall."""
    one, other = (", ".join(map(shown, each)) for each in texts)
    return (
        f"The faces at {angles[0]:g}° and {angles[1]:g}° from the {zero} overlap by "
        f"{format_mm(over)}: {one} and {other}."
    )


FACES_APART = (
    "Move one of them, give its line a height of its own, or take a smaller visible_angle in the "
    "layout."
)


def border_smaller(name: str, height: float, wanted: float, repeats: int) -> str:
    """Say that a border was made much smaller than it was asked for."""
    return (
        f"The border {shown(name)} is {format_mm(height)} high instead of {format_mm(wanted)}, so "
        f"that {repeats} of it come out even."
    )


SMALLER_BORDER = "Take a smaller size, of which more go around, or a gap."


# Letters


def on_rows(rows: Sequence[str]) -> str:
    """Say where a text was broken."""
    count = {2: "two", 3: "three"}[len(rows)]
    return f"Set on {count} lines: {' / '.join(rows)}."


LOOK_AT_BREAK = "Look at the proof. The break should fall where the guest would put it."


def not_welded(text: str) -> str:
    """Say that a text's letters could not be joined."""
    return f"The letters of {shown(text)} could not be joined into one outline."


ANOTHER_FONT = (
    "Take another font for this layout, or type the text again without piled-up accents and marks."
)


def letters_missing(font: str, chars: Iterable[str], more: int) -> str:
    """Say which letters a font lacks."""
    rest = f" and {more} more" if more > 0 else ""
    return f"The font {font} has no letter for {', '.join(chars)}{rest}."


def letter(char: str, name: str) -> str:
    """Name a character with its code point, and with its Unicode name where one is given."""
    return f"{char} (U+{ord(char):04X} {name})" if name else f"{char} (U+{ord(char):04X})"


def marks_misplaced(font: str, letters: Iterable[str]) -> str:
    """Say on which letters a font does not place the marks."""
    return (
        f"The font {font} does not say where the marks on {', '.join(letters)} go. They would be "
        f"struck into a letter, or stand beside it."
    )


FIND_THE_LETTER = (
    "Take a font that has it: see the ways out under Cups, or name it as fallback in the layout's "
    "file. Or ask how the guest writes the name in the letters at hand."
)


def letters_lent(font: str, chars: Mapping[str, Sequence[str]]) -> str:
    """Say which letters come from other fonts."""
    listed = "; ".join(f"{lender} for {' '.join(letters)}" for lender, letters in chars.items())
    return f"{font} does not set some letters. They come from another font: {listed}."


TWO_FONTS = "Look at the proof. Letters of two fonts stand side by side."


# Letter heights


def ways_out(ways: Iterable[str]) -> str:
    """Say what else one could do with a text, before what to do."""
    listed = "; ".join(ways)
    return f"Other ways to set it: {listed}. " if listed else ""


def way(words: str, height: float) -> str:
    """Say what letter height one way to set a text would give."""
    return f"{words} {format_mm(height)}"


def way_too_small(words: str, height: float) -> str:
    """Say the same of one that would still be too small."""
    return f"{words} {format_mm(height)} (too small)"


def way_in_set(words: str, height: float, fits: bool) -> str:
    """Say the same of a member of a set, and whether it would have the set's letter height."""
    exact = format_mm(height, 2)
    return f"{words} {exact} (fits the set)" if fits else f"{words} {exact}"


def text_too_long(
    text: str, rows: int, height: float, least: float, room: tuple[float, float]
) -> str:
    """Say that a text does not fit at the least letter height."""
    wide, high = format_mm(room[0]), format_mm(room[1])
    if rows > 1:
        return (
            f"{shown(text, 120)} on {rows} lines fits at a letter height of {format_mm(height)}, "
            f"but the least is {format_mm(least)}. The room for it is {wide} wide and {high} high."
        )
    return (
        f"{shown(text, 120)} fits at a letter height of {format_mm(height)}, but the least is "
        f"{format_mm(least)}. The room for it is {wide} wide and {high} high."
    )


def shorter_or_another_layout(ways: Iterable[str]) -> str:
    """Say what to do about a text that is too long."""
    return (
        f"{ways_out(ways)}Ask for a shorter form. Or take a layout with a narrower font, more "
        f"lines or a smaller least letter height."
    )


def not_at_kept_size(text: str, kept: float, fits: float) -> str:
    """Say that a late guest's text is too long for the cups that are engraved."""
    return (
        f"{shown(text)} does not fit at {format_mm(kept, 2)}, the letter height of the cups that "
        f"are released or engraved. It fits at {format_mm(fits, 2)}."
    )


def shorter_or_smaller(ways: Iterable[str]) -> str:
    """Say what to do about a late guest's text."""
    return f"{ways_out(ways)}Ask for a shorter form, or engrave it smaller than the others."


def drags_alone(text: str, names: str, free: float, held: float) -> str:
    """Say that one text alone makes a whole set small."""
    return (
        f"{shown(text)} is the one of {names} that takes the set from {format_mm(free, 2)} to "
        f"{format_mm(held, 2)}"
    )


def drags_with_others(text: str, count: int, names: str, free: float, held: float) -> str:
    """Say that one of several texts makes a whole set small."""
    return (
        f"{shown(text)} is one of {count} of {names} that take the set from {format_mm(free, 2)} "
        f"to {format_mm(held, 2)}"
    )


def fits_set_so(text: str, height: float) -> str:
    """Say how high the letters of a text can be that is set differently from its set."""
    return f"Set so, {shown(text)} fits at {format_mm(height, 2)} and no higher"


def members(count: int, are_names: bool, role: str) -> str:
    """Name the members of a set."""
    things = f"{count} names" if are_names else f"{count} texts"
    return f"{things} of the role {shown(role)}" if role else things


def dragging_is_stopped(drags: str, height: float) -> str:
    """Say that what makes a set small is not engraved."""
    return f"{drags}. The set has {format_mm(height, 2)}."


def dragging_has_own_size(drags: str, height: float, own: float) -> str:
    """Say that what would make a set small differs from it."""
    return f"{drags}. The set is {format_mm(height, 2)} high, and this one {format_mm(own, 2)}."


def dragging_holds_set(drags: str, height: float) -> str:
    """Say that a whole set is small for one text."""
    return f"{drags}. All are set at {format_mm(height, 2)}."


def shorter_or_different(ways: Iterable[str]) -> str:
    """Say what to do about a text that differs from its set."""
    return f"{ways_out(ways)}Ask for a shorter form, or let it differ from the others."


def shorter_or_own_size(ways: Iterable[str]) -> str:
    """Say what to do about a text that holds its set."""
    return f'{ways_out(ways)}Ask for a shorter form, or set outliers = "own-size" in the layout.'


# A cup that is set differently from its set


def set_differently(text: str, height: float | None, rows: Sequence[str], font: str) -> str:
    """Say what is a cup's own."""
    own = [
        f"letters {height:g} mm high" if height else "",
        f"broken as {' / '.join(rows)}" if rows else "",
        f"in {font}" if font else "",
    ]
    return f"On this cup alone {shown(text)} is set so: {', '.join(filter(None, own))}."


BESIDE_OTHERS = "Look at the cup beside others of its set."


def other_text_than_broken(rows: Sequence[str], text: str) -> str:
    """Say that a text is another now than the one that was broken for a cup."""
    return f"This cup was to read {' / '.join(rows)}, but its text is {shown(text)} now."


def own_size_too_large(height: float, fitting: float) -> str:
    """Say that a letter height of a cup's own no longer fits."""
    return f"This cup was to have letters {height:g} mm high, but only {fitting:.1f} mm fit."


SET_ANEW = "Set the cup anew, or as the others."
