"""A form for the guest list, to send to the client; an order may begin with it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from mailmerge.artwork import Layout
from mailmerge.artwork.layout import ORDER_FIELDS, fields_of
from mailmerge.artwork.ornaments import catalogue
from mailmerge.blanks import Blank, angle_of
from mailmerge.deeds import making, words
from mailmerge.deeds.making import AboutList, Given, Started
from mailmerge.deeds.opening import DEFAULT_BLANK, folder_of
from mailmerge.deeds.questions import Question
from mailmerge.files import lent, write_file
from mailmerge.findings import InputError
from mailmerge.guests.columns import FIELDS, label_of
from mailmerge.guests.hands import Hand
from mailmerge.orders import Order, open_order
from mailmerge.orders.said import ORDER_FILE
from mailmerge.proofs.pack import Sender
from mailmerge.proofs.pack.form import Asked, ListForm, hands, title_of, write_form
from mailmerge.proofs.pack.languages import ENGLISH, Language
from mailmerge.shelves import load, read_toml
from mailmerge.workshop.shop.shop import open_shop

__all__ = ["FORM", "Formed", "begin", "form_like", "form_to_send", "list_form"]

FORM = "guest-list.xlsx"
"""What the form's file is called."""

BEFORE_DUE = dt.timedelta(weeks=1)
"""So long before its cups are due an order's list is asked for, where no day is given. Own
judgement: the proofs go to and fro, and blanks are bought for whoever is on the list."""


@dataclass(frozen=True, slots=True)
class Formed:
    """A form that was written."""

    file: Path
    by: dt.date | None
    """The day by which the list is asked for; None where nobody has said when the cups are due."""
    titles: tuple[str, ...]
    """Of its columns."""


def list_form(order: Path, by: dt.date | None = None, out: Path | None = None) -> Formed:
    """Write a form, in the client's language, with the columns that layout and blanks use.

    Parameters
    ----------
    by
        The day by which the list is needed; None for a week before the cups are due.
    out
        A file, or a folder that there is; None for the order's folder.

    Raises
    ------
    InputError
        The order is wrong, or the file cannot be written, or it is the order's own list.
    """
    folder = folder_of(order)
    opened = open_order(folder)
    day = by or (opened.due - BEFORE_DUE if opened.due else None)
    place = out or folder
    file = place / FORM if place.is_dir() else place
    is_own_list = file.exists() and file.samefile(opened.guests.path)
    if is_own_list and any(True for _ in opened.guests.guests()):
        raise InputError(words.form_over_list(file))
    form = _form_of(opened, day)
    write_file(file, write_form(form))
    return _formed(file, form)


def form_to_send(order: Path) -> bytes:
    """Return a form for an order's list, as :func:`list_form` writes it.

    Raises
    ------
    InputError
        The order is wrong.
    """
    opened = open_order(folder_of(order))
    return write_form(_form_of(opened, opened.due - BEFORE_DUE if opened.due else None))


def form_like(
    order: Path, title: str = "", due: dt.date | None = None, by: dt.date | None = None
) -> bytes:
    """Return a form as that of an order, for another party.

    Raises
    ------
    InputError
        The order is wrong.
    """
    opened = open_order(folder_of(order))
    form = _form_of(opened, by or (due - BEFORE_DUE if due else None))
    return write_form(replace(form, title=title or form.title))


def _form_of(opened: Order, day: dt.date | None) -> ListForm:
    design, language = opened.design, Language(opened.client.language)
    tables = read_toml(design.folder / ORDER_FILE)
    asked = asked_for(
        design.layout,
        (design.blank, *(design.blanks[word.casefold()] for word in tables.get("blanks", {}))),
        design.coat.name,
        language,
        tables.get("columns", {}),
        tuple(tables.get("blanks", {})),
        tuple(tables.get("motifs", {})),
        str(tables["order"].get("motif", "")),
    )
    return ListForm(design.title, asked, day, language, _sender())


def begin(
    folder: Path, given: Given, due: dt.date | None = None, by: dt.date | None = None
) -> tuple[Started, Formed]:
    """Begin an order without a list: with the form that the client is to fill in.

    Parameters
    ----------
    by
        As in :func:`list_form`.

    Raises
    ------
    InputError
        The folder holds an order already, or blank, layout or coat is not usable; nothing is
        written then.
    """
    shop, here = open_shop(), Path()
    layout = load(Layout, "layouts", given.layout or shop.named("layouts"), here)
    blank = load(Blank, "blanks", given.blank or DEFAULT_BLANK, here)
    coat = blank.coat_named(given.coat) if given.coat else blank.coat[0]
    own = {field: label_of(field) for field in _engraved(layout) if field not in FIELDS}
    asked = asked_for(layout, (blank,), coat.name, ENGLISH, own)
    day = by or (due - BEFORE_DUE if due else None)
    title = given.title or folder.resolve().name
    form = ListForm(title, asked, day, ENGLISH, _sender())
    with lent(FORM, write_form(form)) as list_file:
        started = making.new(folder, list_file, given, AboutList(columns=own), due)
    if isinstance(started, Question):  # it leaves none: the form says what each column is
        raise InputError(started.words)
    return started, _formed(folder / FORM, form)


def asked_for(
    layout: Layout, blanks: Iterable[Blank], coat: str, language: Language,
    headings: Mapping[str, str], blank_words: tuple[str, ...] = (),
    motifs: tuple[str, ...] = (), usual_motif: str = "",
) -> tuple[Asked, ...]:  # fmt: skip
    """Return the columns that a layout and the blanks of an order use, in the order of a list.

    Parameters
    ----------
    headings
        ``[columns]`` of the order: field to header; a field of the header ``""`` has no column.
    blank_words
        What the list may call the blanks.
    motifs
        What the list may call drawings, besides their names in the library.
    usual_motif
        What stands in the layout's slots where the list says nothing; ``""`` for nothing.
    """
    blanks = tuple(blanks)
    used = [*_engraved(layout)]
    coats = tuple(dict.fromkeys(each.name for blank in blanks for each in blank.coat))
    asked = [*_names(used, layout, headings), *(f for f in used if f not in _NAMES)]
    columns = [Asked(field, heading=headings.get(field, "")) for field in asked]
    if any(blank.handles for blank in blanks) and _turns(layout):
        right, left = hands(language)
        columns.append(Asked("hand", (right, left), right, headings.get("hand", "")))
    if len(coats) > 1:
        columns.append(Asked("coat", coats, coat, headings.get("coat", "")))
    if layout.has_slots:
        names = (each.name for each in catalogue() if each.kind == "motif")
        choices = tuple(dict.fromkeys((*motifs, *names)))
        columns.append(Asked("motif", choices, usual_motif, headings.get("motif", "")))
    if blank_words:
        columns.append(Asked("blank", blank_words, blanks[0].name, headings.get("blank", "")))
    return tuple(each for each in columns if headings.get(each.field) != "")


_NAMES = ("name", "first", "last")


def _engraved(layout: Layout) -> dict[str, None]:
    """Return the fields of the list that a layout engraves, in its order."""
    fields = (field for line in layout.line for field in fields_of(line.text))
    return dict.fromkeys(field for field in fields if field not in ORDER_FIELDS)


def _names(used: Iterable[str], layout: Layout, headings: Mapping[str, str]) -> Iterator[str]:
    """Yield the columns for names: parted where a part is engraved by itself, else whole.

    Nobody has to guess then which of three words is the last name.
    """
    is_parted = {"first", "last"} & {*used} or any(line.monogram for line in layout.line)
    yield from ("first", "last") if is_parted and not headings.get("name") else ("name",)


def _turns(layout: Layout) -> bool:
    """Whether anything stands elsewhere on a cup that is held by the left hand."""
    faces = {layout.face, *(line.face for line in layout.line if line.face)}
    return any(angle_of(face, Hand.LEFT) != angle_of(face, Hand.RIGHT) for face in faces)


def _sender() -> Sender:
    business = open_shop().values.shop
    return Sender(business.name, business.address)


def _formed(file: Path, form: ListForm) -> Formed:
    titles = (each.heading or title_of(form.language, each.field) for each in form.asked)
    return Formed(file, form.by, tuple(titles))
