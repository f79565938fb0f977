"""Ways out for a cup that is stopped, or that is not set as its set is: what else could be done.

Each is a change that :mod:`mailmerge.merge.trying` can make, and none is judged here: a way that is
made and still stopped is no way.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice

from mailmerge.artwork import Line, Own, Placed
from mailmerge.artwork.layout import fields_of
from mailmerge.artwork.setting import arranged
from mailmerge.findings import InputError
from mailmerge.guests import Guest
from mailmerge.guests.names import broken, titled
from mailmerge.lettering import Style, connects, families, shaped
from mailmerge.merge import words
from mailmerge.merge.trying import AtHand
from mailmerge.orders import Design

_FONTS = 3
"""So many other fonts are offered."""

_MOST_ROWS = 3
"""On so many rows a text may stand, whatever its layout takes by itself."""


@dataclass(frozen=True)
class Way:
    """A change that may help a cup."""

    words: str
    texts: Mapping[str, str] = field(default_factory=dict)
    """Other texts of the guest, by field."""
    own: Own | None = None
    """How a line is set on this cup alone."""


def ways_for(order: AtHand, number: int) -> list[Way]:
    """Return what could be done about an item, the least change first; nothing if all is well."""
    item = order.item(number)
    assert item is not None
    found: list[Way] = []
    for placed in order.composition(number).lines:
        line = order.design.layout.line[placed.number - 1]
        found += _ways_for_line(order.design, item.guest, line, placed)
    return list({(w.own, tuple(w.texts.items())): w for w in reversed(found)}.values())[::-1]


def _ways_for_line(design: Design, guest: Guest, line: Line, placed: Placed) -> Iterator[Way]:
    is_of_name = fields_of(line.text) == ["name"] and not line.monogram
    name = guest.name
    if placed.missing or placed.misplaced:
        if is_of_name and (less := _without_pictures(name, placed.missing)) != name:
            yield Way(words.WITHOUT_PICTURES, {"name": less})
        for font in islice(_fonts_with(design, guest, line, placed), _FONTS):
            own = Own(placed.number, font=font)
            yield Way(words.in_font(font), own=own)
        return
    if placed.in_set and placed.fits:
        return
    if is_of_name and name.isupper():
        yield Way(
            words.IN_SMALL_LETTERS, {"name": titled(name, line.language_for({**guest.fields}))}
        )
    if placed.fits and placed.settled and placed.outliers == "stop":
        own = Own(placed.number, letter_height=placed.fitting_height)
        yield Way(words.OWN_SIZE, own=own)
    if not placed.fits:
        yield from _ways_with_all_words(design, guest, line, placed)
    for way in placed.ways_out:
        if way.letter_height < placed.least:
            continue
        if way.rows:
            yield Way(way.words, own=Own(placed.number, rows=way.rows))
        elif is_of_name:
            yield Way(way.words, {"name": way.text})


def _ways_with_all_words(design: Design, guest: Guest, line: Line, placed: Placed) -> Iterator[Way]:
    """Pass over what may keep all words of a text that is too long: narrower fonts, more rows.

    What is told is whether it has room at the layout's least letter height, where the face is as
    wide as at its middle.
    """

    def has_room(style: Style, rows: tuple[str, ...]) -> bool:
        box = arranged(line, style, rows).box
        rim, least = 2 * line.strengthen, placed.least
        return (
            box.width * least + rim <= placed.room_width
            and box.height * least + rim <= placed.room_height
        )

    if line.arc or line.ring or line.monogram:
        return
    beside, language = design.folder, line.language_for({**guest.fields})
    narrow = (
        font
        for font in _fonts_with(design, guest, line, placed)
        if has_room(line.in_font(font, beside).style(beside, language), placed.rows)
    )
    for font in islice(narrow, _FONTS):
        yield Way(words.all_in_font(font), own=Own(placed.number, font=font))
    if line.lines < _MOST_ROWS:
        rows = next((r for r in broken(placed.text, _MOST_ROWS) if has_room(placed.style, r)), None)
        if rows:
            yield Way(words.ON_THREE_ROWS, own=Own(placed.number, rows=rows))


def _without_pictures(text: str, missing: tuple[str, ...]) -> str:
    """Return a text without what its font lacks and is no letter; letters are never left out."""
    out = {char for char in missing if not any(map(_is_letter, char))}
    return " ".join("".join(char for char in text if char not in out).split()) or text


def _is_letter(char: str) -> bool:
    return unicodedata.category(char)[0] in "LMN"


def _fonts_with(design: Design, guest: Guest, line: Line, placed: Placed) -> Iterator[str]:
    """Pass over the installed fonts that have all letters of a line, those of its kind first."""
    beside, language = design.folder, line.language_for({**guest.fields})
    others: list[str] = []
    for family in families():
        name = str(family.name)
        try:
            style = line.in_font(name, beside).style(beside, language)
        except InputError:
            continue
        found = shaped(style, placed.text)
        if not found.missing and not found.misplaced:
            if connects(style.font) == connects(line.style(beside).font):
                yield name
            else:
                others.append(name)
    yield from others
