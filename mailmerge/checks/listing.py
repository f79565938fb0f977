"""Findings about the list as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from mailmerge.artwork import Layout
from mailmerge.artwork.layout import fields_of
from mailmerge.findings import Finding, Severity, shown
from mailmerge.guests import GuestList, Survey
from mailmerge.lettering import licence_of


def check_fonts(layout: Layout, beside: Path) -> Iterator[Finding]:
    """Yield a warning for every font of a layout whose file forbids its embedding."""
    fonts = {font.path: font for line in layout.line for font in line.style(beside).fonts}
    for font in fonts.values():
        licence = licence_of(font)
        if licence.restricted:
            yield Finding(
                "font-restricted",
                Severity.WARNING,
                None,
                f"the file of {font.name} says of itself: {licence.embedding}",
                "Ask the font's owner before you sell anything engraved with it, and keep the "
                "answer with the order; a file's own words are not legal advice.",
            )


def check_words(layout: Layout, words: Mapping[str, str]) -> Iterator[Finding]:
    """Yield the words of the order that the layout engraves and the order does not have."""
    for number, line in enumerate(layout.line, start=1):
        for field in fields_of(line.text):
            if field in words and not words[field]:
                yield Finding(
                    "order-words-blank",
                    Severity.WARNING,
                    field,
                    f"line {number} of the layout engraves {{{field}}}, which is blank",
                    "Put it into order.toml, such as due = 2026-12-12, if it should be there."
                    if field == "order.due"
                    else "Put it into order.toml if it should be there.",
                )


def check_list(guests: GuestList, survey: Survey) -> Iterator[Finding]:
    """Yield what is to be said about the list: what was guessed, what was left out."""
    if guests.guessed:
        yield Finding(
            "encoding-guessed",
            Severity.WARNING,
            None,
            f"The list is not in UTF-8. It was read as {guests.guessed}.",
            'Compare the accents with the list, or save it again as "CSV UTF-8".',
        )
    if guests.columns.unused:
        yield Finding(
            "columns-unused",
            Severity.WARNING,
            None,
            f"columns that were not used: {', '.join(map(shown, guests.columns.unused[:12]))}",
            "If one of them holds names, roles, hands or quantities, say so under [columns] in "
            "order.toml.",
        )
    if survey.hidden:
        yield Finding(
            "hidden-rows",
            Severity.NOTE,
            None,
            f"left out, because hidden: {_rows(survey.hidden, survey.hidden_rows)}",
            "If these guests get a cup, show the rows and save the list again.",
        )
    if survey.none_wanted:
        yield Finding(
            "none-wanted",
            Severity.NOTE,
            "quantity",
            f"left out, because the quantity is 0: "
            f"{_rows(len(survey.none_wanted), survey.none_wanted)}",
            "Nothing to do if no cup is wanted.",
        )


def _rows(count: int, named: tuple[int, ...]) -> str:
    more = f" and {count - len(named)} more" if count > len(named) else ""
    return f"row{'s' if count > 1 else ''} {', '.join(map(str, named))}{more}"
