"""A sheet of ornaments: each large, and as it comes out on a cup, with its name."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from PIL import Image

from mailmerge.artwork.svg import write_groups
from mailmerge.lettering import Outline, coverage, letter
from mailmerge.lettering.outline import joined
from mailmerge.machines import Page
from mailmerge.proofs import words
from mailmerge.proofs.canvas import plain_style

_COLUMNS, _CELL, _ROW = 6, 46.0, 40.0
_MARGIN, _HEADING = 8.0, 12.0
_LARGE, _SMALL = 28.0, 12.0
"""Millimetres of an ornament's larger side: to be judged, and as it comes out on a cup."""

_PIXELS = 8
"""To a millimetre, in a picture."""


@dataclass(frozen=True)
class OrnamentSheet:
    """A page with ornaments under headings; ``y`` down, in mm."""

    width: float
    height: float
    inks: tuple[Outline, ...]

    @property
    def svg(self) -> bytes:
        """The page as an SVG file, in true size."""
        groups = [("sheet", "#000000", joined(list(self.inks)))]
        return write_groups(Page(self.width, self.height), groups, words.ORNAMENTS, "")

    @property
    def png(self) -> bytes:
        """The page as a picture, dark on white."""
        width, height = round(self.width * _PIXELS), round(self.height * _PIXELS)
        picture = Image.new("L", (width, height), 255)
        for ink in self.inks:
            box = ink.box
            left, top = int(box.left * _PIXELS) - 1, int(box.low * _PIXELS) - 1
            across, down = int(box.width * _PIXELS) + 4, int(box.height * _PIXELS) + 4
            drawn = coverage(ink.moved(_PIXELS, False, -left, -top), across, down)
            picture.paste(0, (left, top), Image.fromarray(drawn))
        saved = io.BytesIO()
        picture.save(saved, "PNG", dpi=(_PIXELS * 25.4, _PIXELS * 25.4))
        return saved.getvalue()


def sheet_of_ornaments(groups: Mapping[str, Sequence[tuple[str, Outline]]]) -> OrnamentSheet:
    """Lay ornaments out on a page.

    Parameters
    ----------
    groups
        By their heading: name and outline of each, ``y`` up, of any size.
    """
    inks: list[Outline] = []
    top = _MARGIN
    for heading, ornaments in groups.items():
        inks.append(_text(heading, 4.2, 600, _MARGIN, top + 6))
        top += _HEADING
        for at, (name, outline) in enumerate(ornaments):
            row, column = divmod(at, _COLUMNS)
            inks += _cell(name, outline, _MARGIN + column * _CELL, top + row * _ROW)
        top += (len(ornaments) + _COLUMNS - 1) // _COLUMNS * _ROW
    return OrnamentSheet(2 * _MARGIN + _COLUMNS * _CELL, top + _MARGIN, tuple(inks))


def _cell(name: str, outline: Outline, left: float, top: float) -> Iterator[Outline]:
    yield _sized(outline, _LARGE, left + _LARGE / 2, top + _LARGE / 2)
    yield _sized(outline, _SMALL, left + _LARGE + _SMALL / 2 + 2, top + _LARGE / 2)
    yield _text(name, 3.0, 400, left, top + _LARGE + 5)


def _sized(outline: Outline, side: float, x: float, y: float) -> Outline:
    """Return an outline with its larger side so long and its middle at a place of the page."""
    box = outline.box
    scale = side / max(box.width, box.height)
    middle = (box.left + box.right) / 2 * scale, (box.low + box.high) / 2 * scale
    return outline.moved(scale, True, x - middle[0], y + middle[1])


def _text(text: str, size: float, weight: int, left: float, base: float) -> Outline:
    style = plain_style(weight)
    return letter(style, text).outline.moved(size / style.font.upem, True, left, base)
