"""Papers for handing over: labels, a packing list, and cards for the guests."""

from __future__ import annotations

import datetime as dt
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageChops

from mailmerge.deeds import words
from mailmerge.deeds.cut import cup_picture
from mailmerge.deeds.naming import items_named
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.files import Root
from mailmerge.findings import InputError
from mailmerge.ledger.standing import Record
from mailmerge.ledger.tray import PAPERS
from mailmerge.orders import open_order
from mailmerge.proofs.pack.languages import Language
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.workshop.papers.parcels import (
    Group,
    Parcel,
    write_care_cards,
    write_labels,
    write_packing_list,
)
from mailmerge.workshop.shop.shop import ChosenPaper, open_shop

__all__ = ["Written", "care_cards", "labels", "packing_list"]

LABELS, PACKING_LIST, CARE_CARDS = "labels.pdf", "packing-list.pdf", "care-cards.pdf"


@dataclass(frozen=True, slots=True)
class Written:
    """A paper that was written."""

    file: Path
    paper: ChosenPaper
    cups: int


def labels(
    order: Path, items: Sequence[str] = (), start: int = 1, size: PaperSize | None = None
) -> Written:
    """Write labels for the boxes of cups, on the sheets that the shop's file describes.

    Parameters
    ----------
    items
        As people name them; none for all cups that have artwork.
    start
        The first label that is still on the first sheet.

    Raises
    ------
    InputError
        An item is not known, has no artwork or picture, the sheet is smaller than its labels, or
        the file cannot be written.
    """
    shop = open_shop()
    paper = shop.paper(size)
    found = [_parcel(order, record) for record in _cups(order, items)]
    written = write_labels(_title(order), found, shop.values.labels, paper.size, start)
    return _written(order, LABELS, written, paper, len(found))


def packing_list(order: Path, by: str = "", size: PaperSize | None = None) -> Written:
    """Write the list to pack by: by name, or in groups as a column of the list says.

    Parameters
    ----------
    by
        The header of a column of the list, or a field's name; ``""`` for one list by name.

    Raises
    ------
    InputError
        The list has no such column, a picture cannot be read, or the file cannot be written.
    """
    shop = open_shop()
    paper, records = shop.paper(size), _cups(order, ())
    told = open_order(folder_of(order)).guests.column(by) if by else {}
    groups: dict[str, list[Record]] = {}
    for record in sorted(records, key=lambda each: _as_read(each.name)):
        groups.setdefault(told.get(record.entry.row, "") if by else "", []).append(record)
    found = [
        Group(
            heading or (words.NO_GROUP if by else ""),
            tuple(_parcel(order, record) for record in groups[heading]),
        )
        for heading in sorted(groups, key=lambda each: (not each, _as_read(each)))
    ]
    made = dt.datetime.now().astimezone()
    written = write_packing_list(_title(order), found, paper.size, made)
    return _written(order, PACKING_LIST, written, paper, len(records))


def care_cards(order: Path, items: Sequence[str] = (), size: PaperSize | None = None) -> Written:
    """Write a card for each guest: how the cup is cared for, in the client's language.

    Raises
    ------
    InputError
        An item is not known or has no artwork, or the file cannot be written.
    """
    shop = open_shop()
    paper, business = shop.paper(size), shop.values.shop
    names = [record.name for record in _cups(order, items)]
    language = Language(open_order(folder_of(order)).client.language)
    sender = (business.name, *business.address)
    written = write_care_cards(_title(order), names, sender, language, paper.size)
    return _written(order, CARE_CARDS, written, paper, len(names))


def _cups(order: Path, items: Sequence[str]) -> list[Record]:
    """Return the cups that are packed: of those that are wanted, all that have artwork."""
    with order_ledger(folder_of(order)) as ledger:
        records = {record.number: record for record in ledger.records()}
        chosen = items_named(ledger, items)
    if unknown := [number for number in chosen if number not in records]:
        raise InputError(words.no_such_cup(unknown[0]))
    if bare := [number for number in chosen if records[number].seal is None]:
        raise InputError(words.nothing_to_pack(bare[0], records[bare[0]].name))
    found = [records[number] for number in dict.fromkeys(chosen)] if items else [
        record for record in records.values() if record.seal is not None and not record.gone
    ]  # fmt: skip
    if not found:
        raise InputError(words.NOTHING_TO_PACK)
    return found


def _parcel(order: Path, record: Record) -> Parcel:
    entry = record.entry
    texts = tuple(text for field, text in record.about.items() if field != "name" and text)
    with Image.open(io.BytesIO(cup_picture(order, entry).png)) as picture:
        cup = on_white(picture.convert("RGB"))
    return Parcel(record.number, record.name, texts, entry.kind.in_words, entry.coat, cup)


def on_white(picture: Image.Image) -> Image.Image:
    """Return a cup without the ground around it, on the white of a paper."""
    ground = Image.new("RGB", picture.size, picture.getpixel((0, 0)))
    is_cup = (
        ImageChops.difference(picture, ground).convert("L").point(lambda grey: 255 * (grey > 0))
    )
    bare = Image.composite(picture, Image.new("RGB", picture.size, "white"), is_cup)
    return bare.crop(is_cup.getbbox())


def _title(order: Path) -> str:
    with order_ledger(folder_of(order)) as ledger:
        return ledger.fact("title") or ""


def _as_read(text: str) -> list[tuple[int, int | str]]:
    """Return what texts are sorted by: without case, and numbers by their value."""
    parts = filter(None, re.split(r"(\d+)", text.casefold()))
    return [(0, int(part)) if part.isdecimal() else (1, part) for part in parts]


def _written(order: Path, name: str, data: bytes, paper: ChosenPaper, cups: int) -> Written:
    folder = folder_of(order)
    Root(folder).write(f"{PAPERS}/{name}", data)
    return Written(folder / PAPERS / name, paper, cups)
