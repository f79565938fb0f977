"""Choosing a font for a list: what each candidate lacks, how large it would be, how it looks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from mailmerge.artwork import Layout, Line, Sizes, compose, own_heights, settle
from mailmerge.artwork.layout import fields_of
from mailmerge.findings import InputError, shown
from mailmerge.guests import Guest
from mailmerge.lettering import (
    FONT_ENDINGS,
    Font,
    Licence,
    Style,
    connects,
    families,
    licence_of,
    shaped,
)
from mailmerge.orders import Design, Order
from mailmerge.proofs import Sample, draw_specimen

_NAMED = 6
"""So many characters and guests are named where more are missing."""

MOST = 12
"""Fonts in one specimen."""

_NAME_FIELDS = {"name", "first", "last"}

# What this module says to people


def _no_name_line(layout: str) -> str:
    """Say that no font can be judged by names."""
    return (
        f"layout {shown(layout)}: No line sets a name. Put {{name}} or {{first}} into one of its "
        f"lines."
    )


def _too_many_fonts(count: int) -> str:
    """Say that a specimen would be too large."""
    return f"Found {count} fonts. A specimen shows {MOST} at most."


def _no_names(path: Path) -> str:
    """Say that there is nothing to show."""
    return f"{path}: The list holds no name to show. Enter at least one."


def _weights(lightest: float, boldest: float) -> str:
    """Name the weights that a variable font spans."""
    return f"{lightest:g} to {boldest:g}"


# What it does


@dataclass(frozen=True)
class Candidate:
    """A font, and what setting a list's names in it would mean."""

    family: str
    style: str
    lacks: tuple[str, ...]
    """Letters of the list that it does not have, or whose marks it does not place."""
    guests: tuple[str, ...]
    """The guests concerned, the first few."""
    guests_lacking: int
    connects: bool
    letter_height: float | None
    """Letter height in mm that the list would get as one set; None where no name fits."""
    too_long: int
    """Names that do not fit at the layout's least letter height."""
    licence: Licence


def installed() -> list[str]:
    """Return the names of the installed families."""
    return [str(family.name) for family in families()]


def judged(order: Order, wanted: Iterable[str]) -> Iterator[Candidate]:
    """Yield a judgement of each font for an order's list, layout and blank.

    Parameters
    ----------
    wanted
        Families, or paths of font files that start in the current folder.

    Raises
    ------
    InputError
        A font is not there, or the layout sets no names.
    """
    guests = list(order.guests.guests())
    for name in wanted:
        design = _in_font(order.design, name)
        number, line = _name_line(design.layout)
        style = line.style(design.folder)
        lacking: dict[str, list[str]] = {}
        own: list[tuple[int, str, float]] = []
        for guest in guests:
            text = line.filled({**guest.fields, **design.words})
            for char in not_set(style, text) if text else ():
                lacking.setdefault(char, []).append(guest.name)
            own += _own_heights(design, guest)
        heights = [height for at, _, height in own if at == number]
        sizes = settle(design.layout, own, Sizes())
        found = next((s.letter_height for s in sizes.settled if s.line == number), None)
        affected = list(dict.fromkeys(g for named in lacking.values() for g in named))
        yield Candidate(
            family=style.font.name,
            style=_style_name(style.font),
            lacks=tuple(lacking),
            guests=tuple(affected[:_NAMED]),
            guests_lacking=len(affected),
            connects=connects(style.font),
            letter_height=found,
            too_long=sum(height < line.letter_height.min for height in heights),
            licence=licence_of(style.font),
        )


def lacking(design: Design, guest: Guest) -> tuple[str, ...]:
    """Return the letters of a guest's lines that a design's fonts do not set."""
    found: list[str] = []
    for line in design.layout.line:
        text = line.filled({**guest.fields, **design.words})
        if text:
            language = line.language_for(dict(guest.fields))
            found += not_set(line.style(design.folder, language), text)
    return tuple(dict.fromkeys(found))


def not_set(style: Style, text: str) -> tuple[str, ...]:
    """Return what a font lacks of a text: letters, and places for marks on letters."""
    line = shaped(style, text)
    return line.missing + line.misplaced


def _style_name(font: Font) -> str:
    """Return the style in words: its name, or the weights that a variable font spans."""
    for axis in font.face.axis_infos:
        if axis.tag == "wght":
            return _weights(axis.min_value, axis.max_value)
    return font.named(17) or font.named(2) or "Regular"


def sets_names(layout: Layout) -> bool:
    """Whether a line of a layout sets a guest's name."""
    return any(_NAME_FIELDS & set(fields_of(line.text)) for line in layout.line)


def _name_line(layout: Layout) -> tuple[int, Line]:
    for number, line in enumerate(layout.line, start=1):
        if _NAME_FIELDS & set(fields_of(line.text)):
            return number, line
    raise InputError(_no_name_line(layout.name))


def _in_font(design: Design, wanted: str) -> Design:
    """Return a design whose names are set in another font, as one set."""
    number, line = _name_line(design.layout)
    font = str(Path(wanted).absolute()) if wanted.lower().endswith(FONT_ENDINGS) else wanted
    changed = line.in_font(font, design.folder).model_copy(update={"sizing": "set"})
    lines = list(design.layout.line)
    lines[number - 1] = changed
    layout = design.layout.model_copy(update={"line": tuple(lines)})
    kept = Sizes(tuple(s for s in design.sizes.settled if s.line != number))
    return replace(design, layout=layout, sizes=kept)


def _own_heights(design: Design, guest: Guest) -> Iterator[tuple[int, str, float]]:
    """Pass over the largest letter heights of a guest's lines on the order's own blank."""
    layout = design.layout_for(guest.fields)[0]
    return own_heights(layout, design.blank, guest, design.words, design.folder)


def telling_names(guests: list[Guest], designs: list[Design]) -> list[Guest]:
    """Return the guests to judge fonts by: shortest, longest and trickiest name, once each.

    The shortest is looked for among the names that every font can set, so that the eye has
    something to compare. The trickiest holds the most letters beyond A to Z and their small
    ones; where none does, the most different letters.
    """
    settable = [guest for guest in guests if all(_can_set(d, guest) for d in designs)] or guests
    shortest = min(settable, key=lambda guest: len(guest.name))
    longest = max(guests, key=lambda guest: len(guest.name))
    rest = [guest for guest in guests if guest.name not in (shortest.name, longest.name)]
    tricky = max(rest, key=lambda guest: _trickiness(guest.name), default=shortest)
    return list({guest.name: guest for guest in (shortest, longest, tricky)}.values())


def _can_set(design: Design, guest: Guest) -> bool:
    number, line = _name_line(design.layout)
    text = line.filled({**guest.fields, **design.words})
    if not text or not_set(line.style(design.folder), text):
        return False
    own = _own_heights(design, guest)
    return all(height >= line.letter_height.min for at, _, height in own if at == number)


def _trickiness(name: str) -> tuple[int, int]:
    return sum(char.isalpha() and not char.isascii() for char in name), len(set(name))


def specimen(order: Order, wanted: list[str]) -> bytes:
    """Return one picture (PNG) of the order's telling names in each font, on the blank's face.

    Raises
    ------
    InputError
        A font is not there, there are too many, or the list holds no names.
    """
    if len(wanted) > MOST:
        raise InputError(_too_many_fonts(len(wanted)))
    everybody = [guest for guest in order.guests.guests() if guest.name]
    if not everybody:
        raise InputError(_no_names(order.guests.path))
    designs = [_in_font(order.design, name) for name in wanted]
    guests = telling_names(everybody, designs)
    rows = []
    for design in designs:
        own = [height for guest in everybody for height in _own_heights(design, guest)]
        sizes = settle(design.layout, own, design.sizes)
        samples = tuple(
            compose(
                design.layout_for(guest.fields)[0],
                design.blank,
                guest,
                design.words,
                design.folder,
                sizes,
            )
            for guest in guests
        )
        number, line = _name_line(design.layout)
        rows.append(Sample(line.style(design.folder).font.name, number, samples))
    return draw_specimen(order.design.title, order.design.blank, order.design.coat, rows)
