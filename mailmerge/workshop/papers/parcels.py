"""Papers that go with finished cups: labels for boxes, a packing list, cards for the guests."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from PIL import Image

from mailmerge.findings import InputError
from mailmerge.proofs.pack import words as pack_words
from mailmerge.proofs.pack.languages import Language
from mailmerge.proofs.palette import LINE, SOFT
from mailmerge.proofs.paper import MARGIN, Paper
from mailmerge.proofs.paper_size import SHEETS, PaperSize
from mailmerge.workshop.papers import words
from mailmerge.workshop.shop.shop import Labels

_INSET = 4.0
"""Nothing stands nearer to a label's edge, in mm: printers feed a little askew."""
_LARGEST, _SMALLEST = 15, 5
"""Points of a name on a label."""
_CARD = 85.0, 55.0
"""Of a card for a guest, in mm: it goes where cards for the pocket go."""
_ROW = 17.0
"""Of a cup in a packing list, in mm."""


@dataclass(frozen=True)
class Parcel:
    """A finished cup, as it is packed."""

    number: int
    name: str
    texts: tuple[str, ...]
    """What is engraved besides the name."""
    kind: str
    """Blank and coat, in words."""
    coat: str
    cup: Image.Image


@dataclass(frozen=True)
class Group:
    """Cups that are packed together."""

    heading: str
    parcels: tuple[Parcel, ...]


def write_labels(
    title: str, parcels: Sequence[Parcel], labels: Labels, size: PaperSize, start: int = 1
) -> bytes:
    """Return sheets of labels as the bytes of a PDF.

    Parameters
    ----------
    start
        The first label that is still on the first sheet, counted along the rows from 1.

    Raises
    ------
    InputError
        The labels are wider or higher than the sheet, or it has no such label.
    """
    on_sheet = labels.rows * labels.columns
    if not 1 <= start <= on_sheet:
        raise InputError(words.no_such_label(start, on_sheet))
    _see_that_they_fit(labels, size)
    paper = _Labels(title, labels, size)
    for at, parcel in enumerate(parcels, start=start - 1):
        if at and at % on_sheet == 0:
            paper.add_page()
        paper.label(at % on_sheet, parcel)
    return paper.written()


def _see_that_they_fit(labels: Labels, size: PaperSize) -> None:
    across = labels.left + labels.columns * (labels.width + labels.across) - labels.across
    down = labels.top + labels.rows * (labels.height + labels.down) - labels.down
    wide, high = SHEETS[size]
    if across > wide or down > high:
        raise InputError(words.labels_off_sheet(across, down, wide, high, size))


class _Labels(Paper):
    """Sheets of labels."""

    def __init__(self, title: str, labels: Labels, size: PaperSize) -> None:
        self.labels = labels
        super().__init__(size, words.labels_title(title), dt.datetime.now().astimezone())

    def foot(self) -> str:
        """Return nothing: there is no foot on a sheet of labels."""
        return ""

    def footer(self) -> None:
        """Write nothing."""

    def label(self, at: int, parcel: Parcel) -> None:
        """Write a label: who it is for, the cup in words, its number, and a picture of it."""
        labels = self.labels
        row, column = divmod(at, labels.columns)
        left = labels.left + column * (labels.width + labels.across) + _INSET
        top = labels.top + row * (labels.height + labels.down) + _INSET
        wide, high = labels.width - 2 * _INSET, labels.height - 2 * _INSET
        picture = min(high * parcel.cup.width / parcel.cup.height, wide * 0.34)
        self.picture(parcel.cup, (left + wide - picture, top, picture, high), parcel.name)
        room = wide - picture - 2
        self.type(8, SOFT)
        self.set_xy(left, top + high - 3.6)
        self.fitted(words.label_foot(parcel.number, parcel.coat), room)
        self._texts(parcel, left, top, room, high - 4.6)

    def _texts(self, parcel: Parcel, left: float, top: float, room: float, high: float) -> None:
        """Write a name as large as there is room for, and what stands with it on the cup."""
        about = "  ·  ".join(parcel.texts)
        for size in range(_LARGEST, _SMALLEST - 1, -1):
            points = self.unbroken(parcel.name, room, size, _SMALLEST)
            end = self.words(parcel.name, left, 0, room, points, draw=False, leading=0.42)
            if about:
                end = self.words(about, left, end, room, size * 0.65, draw=False)
            if end <= high:
                break
        y = self.words(parcel.name, left, top, room, points, leading=0.42)
        if about:
            self.words(about, left, y, room, size * 0.65, SOFT)


def write_packing_list(
    title: str, groups: Sequence[Group], size: PaperSize, made: dt.datetime
) -> bytes:
    """Return a packing list as the bytes of a PDF: a box to tick for each cup, and what it is."""
    paper = _PackingList(size, words.packing_list_title(title), made)
    paper.type(18)
    paper.set_xy(MARGIN, MARGIN)
    paper.fitted(words.packing_list_title(title), paper.epw)
    paper.y_now = MARGIN + 11
    for group in groups:
        paper.group(group)
    return paper.written()


class _PackingList(Paper):
    """A packing list."""

    y_now: float = MARGIN

    def group(self, group: Group) -> None:
        """Write the cups of a group below its heading; on a new page, the heading again."""
        self._head(group, room=_ROW)
        for parcel in group.parcels:
            if self.y_now + _ROW > self.h - MARGIN:
                self.add_page()
                self.y_now = MARGIN
                self._head(group)
            self._row(parcel)

    def _head(self, group: Group, room: float = 0.0) -> None:
        if self.y_now + 12 + room > self.h - MARGIN:
            self.add_page()
            self.y_now = MARGIN
        if group.heading:
            told = words.group_heading(group.heading, len(group.parcels))
            self.y_now = self.words(told, MARGIN, self.y_now + 4, self.epw, 13) + 1.5

    def _row(self, parcel: Parcel) -> None:
        y = self.y_now
        self.box(MARGIN, y + (_ROW - 6) / 2, 6)
        self.picture(parcel.cup, (MARGIN + 10, y + 1, 14, _ROW - 2), parcel.name)
        left, room = MARGIN + 28, self.epw - 28
        points = self.unbroken(parcel.name, room - 62, 13, 8)
        top = self.words(parcel.name, left, y + (2.5 if parcel.texts else 5), room - 62, points)
        self.words("  ·  ".join(parcel.texts), left, top, room - 62, 9.5, SOFT)
        self.words(words.cup_of_list(parcel.number, parcel.kind), left + room - 60, y + 4, 60, 9.5)
        self.y_now = y + _ROW
        self.line(MARGIN, self.y_now, self.w - MARGIN, self.y_now)


def write_care_cards(
    title: str, names: Sequence[str], shop: Sequence[str], language: Language, size: PaperSize
) -> bytes:
    """Return cards for the guests, several on a sheet, as the bytes of a PDF.

    Parameters
    ----------
    names
        Whom each card is for.
    shop
        Its name, and how it is reached.
    """
    paper = _CareCards(title, shop, language, size)
    for at, name in enumerate(names):
        if at and at % paper.on_sheet == 0:
            paper.add_page()
        paper.card(at % paper.on_sheet, name)
    return paper.written()


class _CareCards(Paper):
    """Sheets of cards, to be cut along their lines."""

    def __init__(
        self, title: str, shop: Sequence[str], language: Language, size: PaperSize
    ) -> None:
        self.shop, self.language = shop, language
        made = dt.datetime.now().astimezone()
        super().__init__(size, title, made, language.tag, language.is_right_to_left)
        self.columns, self.rows = int(self.w // _CARD[0]), int(self.h // _CARD[1])
        self.on_sheet = self.columns * self.rows

    def footer(self) -> None:
        """Write nothing: the sheet is cut up."""

    def card(self, at: int, name: str) -> None:
        """Write a card: whom it is for, how the cup is cared for, and whose work it is."""
        wide, high = _CARD
        row, column = divmod(at, self.columns)
        left = (self.w - self.columns * wide) / 2 + column * wide
        top = (self.h - self.rows * high) / 2 + row * high
        self.set_draw_color(*LINE)
        self.rect(self.mirrored(left, wide), top, wide, high)
        left, room = left + 6, wide - 12
        points = self.unbroken(name, room, 13, 8)
        y = self.words(name, left, top + 5, room, points, leading=0.42)
        y = self.words(pack_words.care_title(self.language), left, y + 1, room, 10, is_ours=True)
        for text in pack_words.care(self.language):
            y = self.words(text, left, y + 1, room, 8.5, SOFT, leading=0.42, is_ours=True)
        self.type(7.5, SOFT)
        self.set_xy(self.mirrored(left, room), top + high - 8)
        self.fitted("  ·  ".join(filter(None, self.shop)), room)
