"""The test card: a grid of settings on a test piece, to see which of them engraves a coat best.

Every cell holds what a cup is judged by: a filled patch, a fine line, and a small word. Each is a
group with a colour of its own, so that it can be given its own settings at the machine.
"""

from __future__ import annotations

import colorsys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from itertools import product
from pathlib import Path

import numpy as np

from mailmerge.artwork import laid
from mailmerge.artwork.pieces import Piece
from mailmerge.artwork.svg import write_groups
from mailmerge.blanks import Blank, Coat, Face, zone_at
from mailmerge.checks import check_blank, check_reach
from mailmerge.findings import Finding, InputError
from mailmerge.items.record import Kind
from mailmerge.lettering import Box, Outline, Style, letter, open_font
from mailmerge.lettering.outline import joined
from mailmerge.machines import Loading, Machine, load_on
from mailmerge.machines.motion import motion_of
from mailmerge.shelves import validated
from mailmerge.workshop.settings import words
from mailmerge.workshop.settings.recipes import Settings, choice_for
from mailmerge.workshop.shop.shop import Shop

WORD = "Rosa"
"""The small word of a cell: a capital, round and narrow letters."""

_WORD_FONT, _LABEL_FONT = "EB Garamond", "Noto Sans"
_WORD_HEIGHT = 2.0
_LABEL_HEIGHT = 1.8
_SMALLEST = 10.0
"""Millimetres from cell to cell: with less, a patch or a word cannot be judged by eye. Common
practice without a source, like the other sizes here."""

_LARGEST = (18.0, 15.0)
_BETWEEN = 1.5
_HEAD, _SIDE = 7.5, 17.0
"""Room for what is written above and beside the grid, in mm."""

MOST_CELLS = 48
"""More could not be told apart: the colours of any two of them are 3 apart in CIEDE2000."""

MOST_COLUMNS = 26
"""As many as there are letters to name them."""

LABELS, LABEL_COLOUR = "labels", "#000000"

_LIGHTNESS = (0.25, 0.42, 0.62, 0.78)
"""Neighbours on the hue circle differ in lightness, too: greens alone look much alike."""


@dataclass(frozen=True)
class Cell:
    """One field of the grid."""

    name: str
    """Its column's letter and its row's number."""
    group: str
    """The name of its group in the artwork."""
    colour: str
    settings: Settings
    box: Box
    """Its place about the face's middle: mm along the wall, and down from the mouth."""


@dataclass(frozen=True)
class SettingsCard:
    """A test card for a coat on a machine, laid out."""

    blank: Blank
    coat: Coat
    machine: Machine
    safe: Settings
    """What the labels are engraved with."""
    origin: str
    """Where these come from, in words."""
    face: Face
    loading: Loading
    cells: tuple[Cell, ...]
    columns: int
    rows: int

    @property
    def span(self) -> Box:
        """The most that it may reach, in ``s`` and ``z``."""
        band = self.blank.band
        return Box(self.face.left, band.from_, self.face.right, band.to)


def card_for(
    blank: Blank,
    coat: Coat,
    machine: Machine,
    face: Face,
    grid: Sequence[Settings],
    columns: int,
    safe: Settings,
    origin: str,
) -> SettingsCard:
    """Return a test card laid out on a blank's face.

    Parameters
    ----------
    grid
        The settings, row by row; its length is a multiple of ``columns``.
    safe, origin
        What the labels are engraved with, and where that comes from.

    Raises
    ------
    InputError
        There are more cells than can be told apart, or they would be too small to be judged (the
        text says how many fit); or a speed is more than the machine moves at.
    """
    if face.usable_width <= 0:
        zone = zone_at(blank, face.angle, (blank.band.from_, blank.band.to))
        raise InputError(words.card_on_zone(face.angle, zone.word))
    rows = len(grid) // columns
    width, height = face.usable_width, blank.band.height
    across, down = int((width - _SIDE) / _SMALLEST), int((height - _HEAD) / _SMALLEST)
    if columns > across or rows > down:
        raise InputError(
            words.cells_too_small(columns, rows, (width, height), (across, down), MOST_CELLS)
        )
    if columns > MOST_COLUMNS:
        raise InputError(words.too_many_columns(columns, MOST_COLUMNS))
    if len(grid) > MOST_CELLS:
        raise InputError(words.too_many_cells(len(grid), MOST_CELLS))
    wide = min(_LARGEST[0], (width - _SIDE) / columns)
    tall = min(_LARGEST[1], (height - _HEAD) / rows)
    left = -(columns * wide + _SIDE) / 2 + _SIDE
    top = blank.height - blank.band.middle - (rows * tall + _HEAD) / 2 + _HEAD
    cells = []
    for at, (settings, colour) in enumerate(zip(grid, colours(len(grid)), strict=True)):
        row, column = divmod(at, columns)
        x, y = left + column * wide, top + row * tall
        name = f"{chr(ord('A') + column)}{row + 1}"
        cells.append(
            Cell(
                name,
                f"{name}_power-{settings.power:f}_speed-{settings.speed:g}_passes-{settings.passes}",
                colour,
                settings,
                Box(x, y, x + wide - _BETWEEN, y + tall - _BETWEEN),
            )
        )
    loading = load_on(blank, machine, None, (face.left, face.right))
    mouth = loading.page.mouth if loading.drive else None
    for settings in grid:
        fastest = motion_of(machine, settings.speed, mouth).speed
        if fastest < settings.speed:
            raise InputError(words.too_fast(settings.speed, machine.name, fastest))
    return SettingsCard(
        blank, coat, machine, safe, origin, face, loading, tuple(cells), columns, rows
    )


def check_card(card: SettingsCard) -> Iterator[Finding]:
    """Yield whether the machine can hold the test piece and reach the card on it."""
    yield from check_blank(card.blank, card.machine, card.loading)
    if card.blank.is_flat or card.machine.rotary:
        yield from check_reach(card.span, card.machine, card.loading)


def safe_settings(
    shop: Shop, machine: Machine, kind: Kind, grid: Sequence[Settings]
) -> tuple[Settings, str]:
    """Return what a card's labels are engraved with, and where that comes from, in words.

    Raises
    ------
    InputError
        A recipe's file is wrong.
    """
    choice = choice_for(shop, machine, kind)
    if choice is None:
        return grid[len(grid) // 2], words.MIDDLE_OF_CARD
    return choice.settings, choice.origin


def grid_of(
    power: list[Decimal], speed: list[Decimal], passes: list[Decimal], interval: float
) -> list[Settings]:
    """Return the settings of a card row by row: power grows across; down, speed, then passes.

    Raises
    ------
    InputError
        A value is none that can be set.
    """
    return [
        validated(
            Settings,
            {"power": str(p), "speed": str(s), "passes": _whole(n), "interval": interval},
            words.THE_CARD,
        )
        for n, s, p in product(passes, speed, power)
    ]


def _whole(value: Decimal) -> int | str:
    return int(value) if value == value.to_integral() else str(value)


def colours(count: int) -> list[str]:
    """Return so many colours, evenly around the hue circle."""
    found = []
    for at in range(count):
        lightness = _LIGHTNESS[at % len(_LIGHTNESS)]
        shares = colorsys.hls_to_rgb(at / count, lightness, 1.0)
        found.append("#" + "".join(f"{round(255 * share):02x}" for share in shares))
    return found


def card_svg(card: SettingsCard) -> bytes:
    """Return the card's artwork on the machine's page: a group for each cell, and the labels."""
    title = words.card_title(card.coat.name, card.machine.name)
    about = words.about_card(card.blank.name, card.coat.name, card.safe.in_words)
    inks = [(cell.group, cell.colour, _cell(card, cell)) for cell in card.cells]
    inks.append((LABELS, LABEL_COLOUR, _labels(card)))
    groups = [
        (name, colour, laid(Piece(card.face.angle, ink, card.blank), card.blank, card.loading))
        for name, colour, ink in inks
    ]
    return write_groups(card.loading.page, groups, title, about)


def _cell(card: SettingsCard, cell: Cell) -> Outline:
    """Return a cell's patch, line and word."""
    box = cell.box
    baseline = box.high
    word = _text(WORD, _WORD_FONT, _WORD_HEIGHT)
    line = baseline - _WORD_HEIGHT - 0.9
    middle = (box.left + box.right) / 2
    return joined(
        [
            _rectangle(box.left, box.low, box.right, line - 0.9),
            _rectangle(box.left, line - card.machine.spot, box.right, line),
            word.moved(1.0, False, middle - (word.box.left + word.box.right) / 2, baseline),
        ]
    )


def _labels(card: SettingsCard) -> Outline:
    """Return the letters and numbers of columns and rows, with what they stand for."""
    found = []
    size = _LABEL_HEIGHT
    for cell in card.cells[: card.columns]:
        middle = (cell.box.left + cell.box.right) / 2
        top = cell.box.low
        for said, baseline in (
            (cell.name[0], top - 2.2 - size),
            (f"{cell.settings.power:f} %", top - 1.2),
        ):
            text = _text(said, _LABEL_FONT, size)
            found.append(text.moved(1.0, False, middle - text.box.width / 2, baseline))
    for cell in card.cells[:: card.columns]:
        middle = (cell.box.low + cell.box.high) / 2
        right = cell.box.left - 1.5
        passes = words.passes(cell.settings.passes)
        rows = [(f"{cell.settings.speed:g} mm/s", middle - 0.5), (passes, middle + size + 0.7)]
        for said, baseline in rows:
            text = _text(said, _LABEL_FONT, size * 0.9)
            found.append(text.moved(1.0, False, right - text.box.width, baseline))
        number = _text(cell.name[1:], _LABEL_FONT, size)
        left = cell.box.left - _SIDE + 0.5
        found.append(number.moved(1.0, False, left, middle + size / 2))
    return joined(found)


@lru_cache(maxsize=256)
def _text(said: str, font: str, height: float) -> Outline:
    """Return welded text, its left edge at 0 and its baseline at y = 0; mm, ``y`` down."""
    lettering = letter(Style((open_font(font, 400, Path()),)), said)
    scale = height / lettering.letter_height
    left = lettering.outline.box.left * scale
    return lettering.outline.moved(scale, True, -left, 0.0)


def _rectangle(left: float, top: float, right: float, bottom: float) -> Outline:
    corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
    return Outline("MLLLZ", np.array(corners, dtype=np.float64))
