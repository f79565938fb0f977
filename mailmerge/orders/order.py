"""An order: one client's list, blank, layout and coat, settled into one value at the edge."""

from __future__ import annotations

import datetime as dt
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import tomlkit
from pydantic import AfterValidator, Field

from mailmerge.artwork import Layout, check_fields
from mailmerge.artwork.layout import fields_of
from mailmerge.blanks import Blank, Coat
from mailmerge.findings import InputError, Unsettled
from mailmerge.guests import GuestList, open_list
from mailmerge.lettering import open_font
from mailmerge.shelves import Kind, Model, find, load, one_line, read_toml, validated

ORDER_FILE = "order.toml"

Text = Annotated[str, Field(min_length=1, max_length=400), AfterValidator(one_line)]


class OrderTable(Model):
    """The ``[order]`` table of ``order.toml``."""

    title: Text
    subtitle: Annotated[str, Field(max_length=400), AfterValidator(one_line)] = ""
    list: Text
    sheet: Text | None = None
    blank: Text | None = None
    layout: Text | None = None
    coat: Text
    due: dt.date | None = None


class OrderFile(Model):
    """The whole of ``order.toml``; a blank or layout of its own may stand in it as a table."""

    order: OrderTable
    columns: dict[str, Text] = Field(default_factory=dict)
    blank: Blank | None = None
    layout: Layout | None = None


@dataclass(frozen=True)
class Design:
    """Everything that making one item needs besides its guest; plain data for any worker."""

    folder: Path
    """Where relative paths of fonts start."""
    title: str
    words: dict[str, str]
    """What a layout may say about the order: ``order.title`` and so on."""
    blank: Blank
    coat: Coat
    layout: Layout

    @property
    def engraved(self) -> frozenset[str]:
        """The list's fields that the layout engraves."""
        return frozenset(f for line in self.layout.line for f in fields_of(line.text))


@dataclass(frozen=True)
class Order:
    """An order that has been opened: its design, and its list ready to stream."""

    design: Design
    guests: GuestList
    due: dt.date | None


def open_order(path: Path) -> Order:
    """Open an order by its ``order.toml`` or the folder that holds it.

    Raises
    ------
    InputError
        Anything in the order is wrong: the text names the file and the key.
    """
    file = path / ORDER_FILE if path.is_dir() else path
    if not file.is_file():
        raise InputError(
            f"{file}: there is no such order; start one with: mailmerge new FOLDER --list FILE"
        )
    data = validated(OrderFile, read_toml(file), str(file))
    table, folder = data.order, file.parent
    for key in ("blank", "layout"):
        if (getattr(table, key) is None) == (getattr(data, key) is None):
            raise InputError(
                f'{file}: want either order.{key} = "…" or one table [{key}], '
                f"found {'neither' if getattr(table, key) is None else 'both'}"
            )
    return _settled(
        file=str(file),
        folder=folder,
        table=table,
        columns=data.columns,
        blank=data.blank or load(Blank, "blanks", table.blank or "", folder),
        layout=data.layout.with_fonts_beside(folder)
        if data.layout
        else _layout(table.layout or "", folder),
    )


def order_from_list(
    path: Path, title: str | None, sheet: str | None, blank: str, layout: str, coat: str | None
) -> Order:
    """Make an order out of a bare list; without a coat it is the blank's first.

    Raises
    ------
    InputError
        The list, blank, layout or coat is not there or not usable.
    """
    here = Path()
    chosen = load(Blank, "blanks", blank, here)
    table = validated(
        OrderTable,
        {
            "title": path.stem if title is None else title,
            "list": str(path.absolute()),
            "sheet": sheet,
            "coat": chosen.coat[0].name if coat is None else coat,
        },
        "the call",
    )
    return _settled(
        file="order",
        folder=here,
        table=table,
        columns={},
        blank=chosen,
        layout=_layout(layout, here),
    )


def _layout(wanted: str, folder: Path) -> Layout:
    """Return a layout of the library or of a file, whose fonts start where the file is."""
    path = find("layouts", wanted, folder)
    return load(Layout, "layouts", wanted, folder).with_fonts_beside(path.parent)


def _settled(
    file: str, folder: Path, table: OrderTable, columns: dict[str, str], blank: Blank,
    layout: Layout,
) -> Order:  # fmt: skip
    for field in columns:
        if not field.isidentifier():
            raise InputError(f'{file}: columns: found the field "{field}", want a plain word')
    try:
        coat = blank.coat_named(table.coat)
    except InputError as error:
        raise InputError(f"{file}: order.{error}") from None
    guests = open_list(folder / table.list, table.sheet, columns)
    check_fields(layout, guests.known_fields, f'layout "{layout.name}"')
    for line in layout.line:
        open_font(line.font, line.weight, folder)  # a missing font is said before any work
    words = {
        "order.title": table.title,
        "order.subtitle": table.subtitle,
        "order.due": f"{table.due.day} {table.due:%B %Y}" if table.due else "",
    }
    design = Design(folder, table.title, words, blank, coat, layout)
    return Order(design, guests, table.due)


_COLUMNS_TO_FILL = """
# The list's columns leave a question open. Say here which is which, without the #:
# [columns]
# name = "the header above the names"
# role = "the header above the roles"
"""


def new_order(
    folder: Path,
    list_file: Path,
    title: str | None,
    sheet: str | None,
    blank: str,
    layout: str,
    coat: str | None,
) -> tuple[Path, Unsettled | None]:
    """Start an order's folder: copy the list in and write its ``order.toml``.

    Returns
    -------
    tuple of Path and Unsettled or None
        The new ``order.toml``, and the question that the list's columns leave open.

    Raises
    ------
    InputError
        The folder already holds an order, or list, blank, layout or coat is not usable; nothing
        is written then.
    """
    file = folder / ORDER_FILE
    if file.exists():
        raise InputError(f"{file}: there is an order already; it is left as it is")
    title = title or folder.resolve().name or "Order"
    question: Unsettled | None = None
    try:
        order_from_list(list_file, title, sheet, blank, layout, coat)
    except Unsettled as error:
        question = error
    chosen = load(Blank, "blanks", blank, Path())
    document = tomlkit.document()
    document.add(tomlkit.comment("One client's order."))
    table = tomlkit.table()
    table["title"] = title
    table["list"] = list_file.name
    table["list"].comment("the client's list, in this folder")
    if sheet:
        table["sheet"] = sheet
    table["blank"] = _from_here("blanks", blank)
    table["blank"].comment("a name from: mailmerge blanks, or the path of your own file")
    table["layout"] = _from_here("layouts", layout)
    table["layout"].comment("a name from: mailmerge layouts, or the path of your own file")
    table["coat"] = (chosen.coat_named(coat) if coat else chosen.coat[0]).name
    document["order"] = table
    text = tomlkit.dumps(document) + (_COLUMNS_TO_FILL if question else "")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        target = folder / list_file.name
        if target.exists() and not target.samefile(list_file):
            raise InputError(f"{target}: is there already; it is left as it is")
        if not target.exists():
            shutil.copyfile(list_file, target)
        temporary = file.with_suffix(".part")
        temporary.write_text(text, encoding="utf-8")
        temporary.replace(file)
    except OSError as error:
        raise InputError(f"{folder}: cannot be written: {error.strerror or error}") from None
    return file, question


def _from_here(kind: Kind, wanted: str) -> str:
    """Return a library name as it is, and a path in a form that holds from any folder."""
    return str(find(kind, wanted, Path()).absolute()) if wanted.endswith(".toml") else wanted
