"""Findings about the list as a whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from pathlib import Path

from mailmerge.artwork import Layout, read_motif
from mailmerge.artwork.layout import fields_of
from mailmerge.checks import words as said
from mailmerge.checks.naming import is_nobody, is_remark
from mailmerge.findings import Finding, Severity
from mailmerge.guests import Guest, GuestList, Survey
from mailmerge.guests.columns import is_last_name_first
from mailmerge.guests.company import MOST
from mailmerge.guests.kinds import kind_of
from mailmerge.guests.tables import Kind
from mailmerge.lettering import licence_of

_COLUMNS_NAMED = 12
"""So many unused columns are named."""

_FEW_HIDDEN = 0.1
"""Up to this share of hidden guests is a note: some have cancelled. Own judgement."""


def check_fonts(layout: Layout, beside: Path) -> Iterator[Finding]:
    """Yield a warning for every font of a layout whose file forbids its embedding."""
    fonts = {font.path: font for line in layout.line for font in line.style(beside).fonts}
    for font in fonts.values():
        licence = licence_of(font)
        if licence.restricted:
            text = said.font_restricted(font.name, licence.embedding)
            yield Finding("font-restricted", Severity.WARNING, None, *text)


def check_drawings(layout: Layout, beside: Path) -> Iterator[Finding]:
    """Yield which colours of a layout's drawings are engraved, where they have any."""
    motifs = {(motif.drawing, motif.ink_below): motif for motif in layout.motifs}
    for motif in motifs.values():
        read = read_motif(motif, beside)
        if read.bares or set(read.inks) != {"#000000"}:
            name = Path(motif.drawing).name
            text = said.drawing_colours(name, read.inks, read.bares, motif.ink_below)
            yield Finding("drawing-colours", Severity.NOTE, None, *text)


def check_words(layout: Layout, words: Mapping[str, str], list_name: str) -> Iterator[Finding]:
    """Yield the words of the order that the layout engraves, and that it lacks or that are none.

    Parameters
    ----------
    list_name
        The name of the list's file, without its ending.
    """
    for number, line in enumerate(layout.line, start=1):
        for field in fields_of(line.text):
            if field in words and not words[field]:
                text = said.order_words_blank(number, field)
                yield Finding("order-words-blank", Severity.WARNING, field, *text)
            elif field in words and field != "order.due" and _stands_in(words[field], list_name):
                text = said.order_words_stand_in(number, field, words[field])
                yield Finding("order-words-stand-in", Severity.WARNING, field, *text)


_UNTITLED = frozenset(
    ("title", "untitled", "no title", "subtitle", "titel", "ohne titel", "titre", "sans titre",
     "título", "sin título", "titolo", "senza titolo", "titre", "order", "list", "names", "guests",
     "guest list", "event", "my event", "event name", "name of the event", "new order", "book1",
     "sheet1", "tabelle1", "mappe1", "untitled 1", "unbenannt")
)  # fmt: skip
"""Titles that programs and forms give. Common practice, from memory."""


def _stands_in(text: str, list_name: str) -> bool:
    """Whether a title is a word for one, a value of a spreadsheet, or the name of a file."""
    low = " ".join(text.casefold().split())
    is_value = kind_of(text) is not Kind.TEXT
    return is_value or low in _UNTITLED or is_nobody(text) or low == list_name.casefold()


def check_languages(
    layout: Layout, words: Mapping[str, str], dotted: Iterable[Guest]
) -> Iterator[Finding]:
    """Yield that capitals of Turkish texts depend on a language that nobody has given.

    Turkish and Azeri tell İ from I (Unicode, SpecialCasing.txt); all other languages do not.
    """
    for number, line in enumerate(layout.line, start=1):
        turkish = line.model_copy(update={"language": "tr"})
        unsure: dict[int, tuple[str, str]] = {}
        alike: list[int] = []
        for guest in dotted:
            fields = {**guest.fields, **words}
            engraved, meant = line.filled(fields), turkish.filled(fields)
            if not engraved or not meant or line.language_for(fields):
                continue
            if engraved != meant:
                unsure[guest.row] = engraved, meant
            elif line.case == "upper" and _HAS_OWN_I & {*guest.fields["name"]}:
                alike.append(guest.row)
        if unsure:
            text = said.language_missing(number, list(unsure), *next(iter(unsure.values())))
            yield Finding("language-missing", Severity.WARNING, None, *text, tuple(unsure))
        elif alike:
            text = said.language_to_come(number, alike)
            yield Finding("language-missing", Severity.NOTE, None, *text, tuple(alike))


_HAS_OWN_I = frozenset("ıİ")


def check_list(guests: GuestList, survey: Survey) -> Iterator[Finding]:
    """Yield what is to be said about the list: what was guessed, what was left out."""
    if guests.guessed:
        text = said.encoding_guessed(guests.guessed)
        yield Finding("encoding-guessed", Severity.WARNING, None, *text)
    if guests.columns.unused:
        text = said.columns_unused(dict(islice(guests.unused.items(), _COLUMNS_NAMED)))
        yield Finding("columns-unused", Severity.WARNING, None, *text)
    if is_last_name_first(header := guests.columns.titles.get("name", "")):
        yield Finding("last-name-first", Severity.WARNING, "name", *said.last_name_first(header))
    if survey.are_exchanged:
        yield Finding("columns-exchanged", Severity.WARNING, "name", *said.COLUMNS_EXCHANGED)
    if guests.columns.hidden:
        text = said.columns_hidden(guests.columns.hidden)
        yield Finding("columns-hidden", Severity.WARNING, None, *text)
    if ruled := guests.ruled:
        text = said.rules_not_read(ruled)
        yield Finding("rules-not-read", Severity.WARNING, None, *text)
    if survey.guests <= MOST and (coloured := guests.coloured):
        text = said.cells_coloured(coloured)
        yield Finding("cells-coloured", Severity.NOTE, None, *text)
    if guests.hidden_sheets:
        text = said.sheets_hidden(guests.hidden_sheets)
        yield Finding("sheets-hidden", Severity.WARNING, None, *text)
    if survey.numbers_missing:
        text = said.numbers_missing(survey.numbers_missing, survey.numbers_doubled)
        yield Finding("number-missing", Severity.WARNING, None, *text)
    yield from _left_out(survey)
    for row, comment in survey.comments:
        text = said.comment_elsewhere(row, comment)
        yield Finding("comment", Severity.WARNING, None, *text, (row,))
    if survey.not_written:
        text = said.not_written(survey.not_written)
        yield Finding("as-written-unused", Severity.NOTE, None, *text)
    if survey.none_wanted:
        text = said.none_wanted(survey.none_wanted)
        yield Finding("none-wanted", Severity.NOTE, "quantity", *text)


def _left_out(survey: Survey) -> Iterator[Finding]:
    """Yield which rows were left out that may be guests."""
    hidden, all_rows = survey.count.hidden, survey.count.hidden + survey.guests
    if hidden:
        many = hidden > _FEW_HIDDEN * all_rows
        text = said.hidden_rows(hidden, all_rows, survey.hidden_rows)
        severity = Severity.WARNING if many else Severity.NOTE
        yield Finding("hidden-rows", severity, None, *text, survey.hidden_rows)
    if survey.unread_rows:
        text = said.rows_unread(survey.count.unread, survey.unread_rows)
        yield Finding("rows-left-out", Severity.WARNING, None, *text, survey.unread_rows)
    if survey.rows_above:
        text = said.rows_above(survey.rows_above)
        yield Finding("rows-above-header", Severity.WARNING, None, *text, survey.rows_above)
    if survey.said_above:
        is_asked = any(is_remark(text) for _, text in survey.said_above)
        severity = Severity.WARNING if is_asked else Severity.NOTE
        rows = tuple(row for row, _ in survey.said_above)
        text = said.said_above(survey.said_above)
        yield Finding("said-above-header", severity, None, *text, rows)
