"""The fonts for a line of a layout, judged by an order's own names and seen in its own letters."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain
from pathlib import Path

from mailmerge.artwork import Line
from mailmerge.candidates import installed, not_set
from mailmerge.deeds import words
from mailmerge.deeds.drafts import Said, layout_of
from mailmerge.deeds.layouts import telling_items
from mailmerge.deeds.pictures import Picture
from mailmerge.deeds.trying import at_hand
from mailmerge.findings import InputError
from mailmerge.merge import AtHand
from mailmerge.proofs.specimen import draw_word

__all__ = ["FontChoice", "font_picture", "fonts_for", "try_font"]


@dataclass(frozen=True, slots=True)
class FontChoice:
    """A font for a line of a layout."""

    name: str
    lacking: int
    """Names of the list whose letters it does not all have."""
    is_taken: bool


def fonts_for(order: Path, base: str, said: Said, number: int) -> tuple[FontChoice, ...]:
    """Return the fonts for a line of a layout, those that lack nothing first.

    Raises
    ------
    InputError
        The layout would be none or has no such line, or the order is wrong.
    """
    line, now = _line(order, base, said, number), at_hand(order)
    texts = _texts(line, now)
    found = []
    for name in dict.fromkeys([line.font, *installed()]):
        astray = _astray(line, now, name, texts)
        lacks = sum(not astray.isdisjoint(text) for text in texts)
        found.append(FontChoice(name, lacks, name == line.font))
    return tuple(sorted(found, key=lambda each: (not each.is_taken, each.lacking)))


def try_font(order: Path, base: str, said: Said, number: int, font: str) -> None:
    """Try one font for a line, so that :func:`fonts_for` and its picture come soon after.

    Raises
    ------
    InputError
        As :func:`fonts_for`, or there is no such font.
    """
    line, now = _line(order, base, said, number), at_hand(order)
    _astray(line, now, font, _texts(line, now))


def _texts(line: Line, now: AtHand) -> list[list[str]]:
    """Return what a line says of each guest, in words: many names have some in common."""
    texts = (line.filled({**guest.fields, **now.design.words}) for guest in now.guests)
    return [text.split() for text in texts if text]


def _astray(line: Line, now: AtHand, font: str, texts: list[list[str]]) -> frozenset[str]:
    """Return the words of which a font does not have all letters.

    Rows are parted between words, so that each word may come to stand by itself.
    """
    style = line.in_font(font, now.design.folder).style(now.design.folder)
    return frozenset(word for word in set(chain.from_iterable(texts)) if not_set(style, word))


def font_picture(order: Path, base: str, said: Said, number: int, font: str) -> Picture:
    """Draw what a line of a layout says of a short name, in a font's own letters.

    Raises
    ------
    InputError
        As :func:`fonts_for`, or there is no such font.
    """
    line, now = _line(order, base, said, number), at_hand(order)
    item = now.item(telling_items(order)[0])
    assert item is not None
    text = line.filled({**item.guest.fields, **now.design.words}) or item.guest.name
    style = line.in_font(font, now.design.folder).style(now.design.folder)
    return Picture(draw_word(style, text), words.in_font(text, font))


def _line(order: Path, base: str, said: Said, number: int) -> Line:
    lines = layout_of(order, base, said).line
    if not 1 <= number <= len(lines):
        raise InputError(words.no_such_layout_key(f"line.{number}"))
    return lines[number - 1]
