"""What this room says to people: of each finding its message and its advice."""

from __future__ import annotations

from collections.abc import Sequence

from mailmerge.findings import shown
from mailmerge.units import format_mm

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


def order_words_blank(line: int, field: str) -> Said:
    """Say that a line engraves something that the order does not have."""
    advice = "If it should be there, put it into order.toml."
    if field == "order.due":
        advice = "If it should be there, put it into order.toml, such as due = 2026-12-12."
    return f"Line {line} of the layout engraves {{{field}}}, which is blank.", advice


def encoding_guessed(encoding: str) -> Said:
    """Say how a text that is not UTF-8 was read."""
    return (
        f"The list is not in UTF-8. It was read as {encoding}.",
        'Compare the accents with the list, or save the list again as "CSV UTF-8".',
    )


def columns_unused(headers: Sequence[str]) -> Said:
    """Say which columns were not used."""
    return (
        f"These columns were not used: {', '.join(map(shown, headers))}.",
        "If one of them holds names, roles, hands or quantities, say so under [columns] in "
        "order.toml.",
    )


def hidden_rows(count: int, named: Sequence[int]) -> Said:
    """Say which rows are hidden."""
    return (
        f"Left out because hidden: {_rows(count, named)}.",
        "If these guests get a cup, show the rows and save the list again.",
    )


def none_wanted(rows: Sequence[int]) -> Said:
    """Say which rows want no cup."""
    return (
        f"Left out because the quantity is 0: {_rows(len(rows), rows)}.",
        "If no cup is wanted, there is nothing to do.",
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


# Cells

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
        "Ask what was meant. Set the cell's format to text and type it again.",
    )


def no_value(field: str) -> Said:
    """Say that a formula has no result."""
    return (
        f"The {field} is a formula whose result is not stored in the file.",
        "Open the list in a spreadsheet program and save it again, or type the text.",
    )


def is_endless(field: str, start: str) -> Said:
    """Say that a text is longer than its start, which is as much as is taken."""
    return (
        f"The {field} has more than {len(start)} characters: {shown(start)}.",
        "Something else has got into this cell. Ask for the text to engrave.",
    )


def is_error(field: str, found: str) -> Said:
    """Say that a formula has failed."""
    return (
        f"The {field} is a spreadsheet error: {shown(found)}.",
        "Mend the formula in the list, or type the text.",
    )


def kind_unclear(field: str, found: str, known: str) -> Said:
    """Say that a list names a blank or a coat that is not known."""
    return (
        f"The {field} is unclear: found {shown(found)}. These are known: {known}.",
        "Correct it in the list, or leave it blank for the order's own. Put words of your own for "
        "blanks under [blanks] in order.toml.",
    )


def hand_unclear(found: str) -> Said:
    """Say that a cell names no hand."""
    return (
        f"The hand is unclear: found {shown(found)}. A cell says left, right, l or r, or it is "
        f"blank for right.",
        "Ask which hand holds the cup. It decides on which side the name stands.",
    )


def quantity_unclear(found: str) -> Said:
    """Say that a cell holds no number of cups."""
    return (
        f"The quantity is unclear: found {shown(found)}. A cell holds a whole number up to 999, "
        f"or it is blank for 1.",
        "Ask how many cups are wanted.",
    )


# Names and roles as text


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
        "Ask for the name to engrave.",
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
    """Say that a row may be no guest's."""
    return (
        f"This does not look like somebody's name: {shown(name)}.",
        "Take the row out of the list, or put the name in.",
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
        f"{format_mm(stroke, 2)} wide. The narrowest gap keeps {format_mm(gap, 2)}. Or take larger "
        f"letters or a bolder font."
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
