"""An order: one client's list, blank, layout and coat, settled into one value at the edge."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from types import MappingProxyType
from typing import Annotated, Any, Literal

import tomlkit
from pydantic import AfterValidator, Field, model_validator

from mailmerge import provenance
from mailmerge.artwork import Layout, Settled, Sizes, check_fields, read_drawing, read_motif
from mailmerge.artwork.layout import Border, Ornament, fields_of
from mailmerge.artwork.ornaments import NO_MOTIFS, Motifs, drawing_called, folded
from mailmerge.artwork.sizing import NO_SIZES, group_of
from mailmerge.blanks import Blank, Coat
from mailmerge.blanks.measuring import compared
from mailmerge.files import digest_of, read_file, write_file
from mailmerge.findings import InputError, Unsettled, WrongValue
from mailmerge.guests import GuestList, Trouble, open_list
from mailmerge.guests.names import slug
from mailmerge.machines import DEFAULT_MACHINE, Datum, Machine, check_datum
from mailmerge.orders import words
from mailmerge.orders.said import ORDER_FILE
from mailmerge.proofs.pack.languages import SOURCE, known
from mailmerge.shelves import (
    Kind,
    Length,
    Model,
    find,
    load,
    one_line,
    read_toml,
    shelf,
    validated,
)
from mailmerge.units import format_mm

NO_COLUMNS: Mapping[str, str] = MappingProxyType({})

Text = Annotated[str, Field(min_length=1, max_length=400), AfterValidator(one_line)]

Heading = Annotated[str, Field(max_length=400), AfterValidator(one_line)]


def _unlike(people: tuple[str, ...]) -> tuple[str, ...]:
    """Return names that are the same in no case; a name that stands there twice is refused."""
    seen: set[str] = set()
    for name in people:
        if name.casefold() in seen:
            raise ValueError(words.person_twice(name))
        seen.add(name.casefold())
    return people


def _known_language(tag: str) -> str:
    if tag not in known():
        raise ValueError(words.no_such_language(tag, known()))
    return tag


class OrderTable(Model):
    """The ``[order]`` table of ``order.toml``."""

    title: Heading
    """Whose party it is; ``""`` where nobody has said it."""
    subtitle: Heading = ""
    list: Text
    sheet: Text | None = None
    blank: Text | None = None
    layout: Text | None = None
    motif: Text | None = None
    """What fills the slots of the layout: a word for a drawing, or the path of an .svg file."""
    machine: Text | None = None
    coat: Text
    datum: Datum | None = None
    """Where the mark points at the start; by default as the machine's profile says."""
    guides: Literal["frame"] | None = None
    """What the artwork holds for a dry trace besides the engraving, in a group of its own."""
    due: dt.date | None = None
    as_written: tuple[Text, ...] = ()
    """Texts of the list that somebody has said are meant just so, whatever they look like."""


class Client(Model):
    """The ``[client]`` table of ``order.toml``: who is asked, and in which language."""

    language: Annotated[str, AfterValidator(_known_language)] = SOURCE
    """Of the proof pack, as the tag of one that there is a catalogue for."""
    people: Annotated[tuple[Text, ...], AfterValidator(_unlike)] = ()
    """Whose yes is asked for; whoever answers, where nobody is named."""
    needs: Literal["one", "all"] = "one"
    """How many of them have to say yes."""

    @model_validator(mode="after")
    def _all_are_several(self) -> Client:
        if self.needs == "all" and len(self.people) < 2:
            raise ValueError(words.all_of_nobody(len(self.people)))
        return self


class TitledTable(OrderTable):
    """The same of a bare list, whose title is not left blank."""

    title: Text


class KeptSize(Model):
    """A ``[[size]]`` of ``order.toml``: the letter height of cups that are engraved already."""

    line: Annotated[int, Field(ge=1)]
    role: Annotated[str, Field(max_length=2000)] | None = None
    letter_height: Length


class OrderFile(Model):
    """The whole of ``order.toml``; a blank or layout of its own may stand in it as a table."""

    order: OrderTable
    client: Client = Client()
    columns: dict[str, Heading] = Field(default_factory=dict)
    """The heading of each field's column; ``""`` for a field that no column holds."""
    blanks: dict[str, Text] = Field(default_factory=dict)
    """What the list's column of blanks calls each blank of the library or of a file."""
    motifs: dict[str, Text] = Field(default_factory=dict)
    """What the list's column of motifs calls each drawing of the library or of a file."""
    blank: Blank | None = None
    layout: Layout | None = None
    machine: Machine | None = None
    size: tuple[KeptSize, ...] = ()


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
    machine: Machine
    datum: Datum | None = None
    """The order's own, where it has one."""
    frame: float | None = None
    """Width in mm of the frame for a dry trace; None for none."""
    blanks: Mapping[str, Blank] = field(default_factory=dict)
    """By the words, without case, that the list's column of blanks may hold."""
    told_apart: Mapping[str, str] = field(default_factory=dict)
    """By their identity, what blanks are called whose name is also that of another one here."""
    is_mixed: bool = False
    """Whether the list names blanks or coats of its own."""
    sizes: Sizes = NO_SIZES
    """What the sets of the layout have settled on: at first what the order keeps."""
    motifs: Motifs = NO_MOTIFS
    """What fills the slots of the layout."""

    @cached_property
    def drawn(self) -> Layout:
        """The layout with what the order itself has in its slots."""
        return self.layout.filled(self.motifs.usual)

    def layout_for(self, fields: Mapping[str, str]) -> tuple[Layout, tuple[Trouble, ...]]:
        """Return the layout with a guest's own motif in its slots, else the order's.

        What cannot be told becomes a trouble of the guest's, and the order's stands in for it.
        """
        if not self.layout.has_slots:
            return self.layout, ()
        word = fields.get("motif", "")
        own = self.motifs.called(word) if word else ""
        if own:
            if own not in self._layouts:
                self._layouts[own] = self.layout.filled(own)
            return self._layouts[own], ()
        if word:
            return self.drawn, (Trouble("motif", "motif", word, self.motifs.nearest(word)),)
        if self.layout.has_open_slots and not self.motifs.usual:
            return self.drawn, (Trouble("motif", "motif", ""),)
        return self.drawn, ()

    @cached_property
    def _layouts(self) -> dict[str, Layout]:
        """The layout by what stands in its slots: rooms are kept for one and the same layout."""
        return {}

    def called(self, blank: Blank) -> str:
        """Return what a blank of the order is called on all papers: no other one is called so."""
        return self.told_apart.get(blank.identity, blank.name)

    @property
    def engraved(self) -> frozenset[str]:
        """The list's fields that the layout engraves; ``initials`` where it sets a monogram."""
        fields = {field for line in self.layout.line for field in fields_of(line.text)}
        monogram = any(line.monogram for line in self.layout.line)
        drawn = {"motif"} if self.layout.has_slots else set()
        return frozenset(fields | drawn | ({"initials"} if monogram else set()))

    @cached_property
    def fingerprint(self) -> str:
        """A digest of everything that this design puts into the files of its items.

        The engine's mark, what fonts and drawings hold, and the sizes are in it; where the order's
        folder is, is not.
        """
        files = {font.path for line in self.layout.line for font in line.style(self.folder).fonts}
        files |= {find("ornaments", name, self.folder) for name in self._drawings}
        models = (self.blank, self.coat, self.layout, self.machine, *self.blanks.values())
        parts = (
            provenance.engine_mark(),
            self.words,
            self.datum,
            self.frame,
            self.is_mixed,
            sorted(self.blanks),
            sorted(self.told_apart.items()),
            [model.model_dump_json() for model in models],
            (self.motifs.usual, sorted(self.motifs.own.items())),
            [(s.line, s.role, s.letter_height) for s in self.sizes.settled],
            sorted(digest_of(read_file(file)) for file in files),
        )
        return digest_of(json.dumps(parts).encode())

    @property
    def _drawings(self) -> set[str]:
        """The drawings that may stand on its items, by name or path."""
        found = {each.drawing for each in self.drawn.motifs}
        return found | (self.motifs.drawings if self.layout.has_slots else set())

    @cached_property
    def folders(self) -> dict[tuple[Blank, Coat], str]:
        """The name of a folder for each blank and coat that the order may hold, all different."""
        named: dict[tuple[Blank, Coat], str] = {}
        for blank in (self.blank, *self.blanks.values()):
            for coat in blank.coat:
                if (blank, coat) not in named:
                    name = f"{slug(self.called(blank), 'blank')}-{slug(coat.name, 'coat')}"
                    taken = set(named.values())
                    number = 1
                    while (unique := name if number == 1 else f"{name}-{number}") in taken:
                        number += 1
                    named[blank, coat] = unique
        return named

    def cup_for(self, fields: Mapping[str, str]) -> tuple[Blank, Coat, tuple[Trouble, ...]]:
        """Return the blank and coat for a guest's fields: named in the list, else the order's.

        What cannot be told becomes a trouble of the guest's, and the order's own stands in for it.
        """
        troubles: list[Trouble] = []
        blank = self.blank
        if word := fields.get("blank", ""):
            found = self.blanks.get(word.casefold())
            if found is None:
                known = ", ".join(self.blanks) or "none"
                troubles.append(Trouble("blank", "unknown", word, known))
            blank = found or blank
        coat = fields.get("coat", "") or self.coat.name
        named = {each.name.casefold(): each for each in blank.coat}
        if coat.casefold() not in named:
            known = ", ".join(each.name for each in blank.coat)
            troubles.append(Trouble("coat", "coat", coat, known, blank.name))
        return blank, named.get(coat.casefold(), blank.coat[0]), tuple(troubles)


@dataclass(frozen=True)
class Order:
    """An order that has been opened: its design, and its list ready to stream."""

    design: Design
    guests: GuestList
    due: dt.date | None
    client: Client


def open_order(path: Path) -> Order:
    """Open an order by its ``order.toml`` or the folder that holds it.

    Raises
    ------
    InputError
        Anything in the order is wrong: the text names the file and the key.
    """
    file = path / ORDER_FILE if path.is_dir() else path
    if not file.is_file():
        raise InputError(words.no_such_order(file))
    return order_of(file, read_toml(file))


def order_of(file: Path, tables: Mapping[str, Any]) -> Order:
    """Open an order out of the tables that stand in its file, or are to stand there.

    Raises
    ------
    InputError
        Anything in the order is wrong: the text names the file and the key.
    """
    data = validated(OrderFile, tables, str(file))
    table, folder = data.order, file.parent
    if table.machine is not None and data.machine is not None:
        raise InputError(words.named_twice(file, "machine"))
    for key in ("blank", "layout"):
        if (getattr(table, key) is None) == (getattr(data, key) is None):
            said = words.named_nowhere if getattr(table, key) is None else words.named_twice
            raise InputError(said(file, key))
    return _settled(
        file=str(file),
        folder=folder,
        table=table,
        client=data.client,
        columns=data.columns,
        blank=data.blank or load(Blank, "blanks", table.blank or "", folder),
        layout=data.layout.with_files_beside(folder)
        if data.layout
        else _layout(table.layout or "", folder),
        machine=data.machine or load(Machine, "machines", table.machine or DEFAULT_MACHINE, folder),
        kept=data.size,
        blank_from=table.blank or ORDER_FILE,
        blanks=data.blanks,
        motifs=data.motifs,
    )


def order_from_list(
    path: Path,
    title: str | None,
    sheet: str | None,
    blank: str,
    layout: str,
    coat: str | None,
    machine: str | None = None,
    columns: Mapping[str, str] = NO_COLUMNS,
) -> Order:
    """Make an order out of a bare list; without a coat it is the blank's first.

    Parameters
    ----------
    columns
        Field to header, as ``[columns]`` of an order has them.

    Raises
    ------
    InputError
        The list, blank, layout or coat is not there or not usable.
    """
    here = Path()
    chosen = load(Blank, "blanks", blank, here)
    look = _layout(layout, here)
    if title is None and _engraves_title(look):
        raise InputError(words.no_title(path, look.name))
    table = validated(
        TitledTable,
        {
            "title": path.stem if title is None else title,
            "list": str(path.absolute()),
            "sheet": sheet,
            "coat": chosen.coat[0].name if coat is None else coat,
        },
        words.CALL,
    )
    return _settled(
        file="order",
        folder=here,
        table=table,
        client=Client(),
        columns=dict(columns),
        blank=chosen,
        layout=look,
        machine=load(Machine, "machines", machine or DEFAULT_MACHINE, here),
        kept=(),
        blank_from=blank,
        blanks={},
        motifs={},
    )


def _engraves_title(layout: Layout) -> bool:
    return any("order.title" in fields_of(line.text) for line in layout.line)


def _layout(wanted: str, folder: Path) -> Layout:
    """Return a layout of the library or of a file, whose fonts start where the file is."""
    path = find("layouts", wanted, folder)
    return load(Layout, "layouts", wanted, folder).with_files_beside(path.parent)


def _settled(
    file: str, folder: Path, table: OrderTable, client: Client, columns: dict[str, str],
    blank: Blank, layout: Layout, machine: Machine, kept: tuple[KeptSize, ...],
    blank_from: str, blanks: dict[str, str], motifs: dict[str, str],
) -> Order:  # fmt: skip
    for own in columns:
        if not own.isidentifier():
            raise InputError(words.no_field(file, own))
    try:
        coat = blank.coat_named(table.coat)
    except InputError as error:
        raise InputError(words.wrong_coat(file, error)) from None
    if table.datum and machine.rotary:
        try:
            check_datum(table.datum, machine.rotary.mouth)
        except ValueError as error:
            raise InputError(words.wrong_datum(file, error)) from None
    if not table.title and _engraves_title(layout):
        raise InputError(words.title_to_engrave(file, layout.name))
    own_words = {word: (name, load(Blank, "blanks", name, folder)) for word, name in blanks.items()}
    guests = open_list(folder / table.list, table.sheet, columns, table.as_written)
    by_words = _by_words(own_words) if "blank" in guests.columns.of else {}
    unused = guests.columns.unused
    check_fields(layout, guests.known_fields, words.layout(layout.name), unused)
    filling = _motifs(file, folder, table.motif, motifs)
    _check_slots(layout, filling, guests)
    _check_files(layout, folder, filling.usual)  # what is missing is said before any work
    about_order = {
        "order.title": table.title,
        "order.subtitle": table.subtitle,
        "order.due": words.due(table.due) if table.due else "",
    }
    sizes = Sizes(tuple(_kept(file, layout, number, size) for number, size in enumerate(kept, 1)))
    design = Design(
        folder=folder,
        title=table.title or folder.resolve().name or words.TITLE,
        words=about_order,
        blank=blank,
        coat=coat,
        layout=layout,
        machine=machine,
        datum=table.datum,
        frame=machine.spot if table.guides else None,
        blanks={word: found for word, (_, found) in by_words.items()},
        told_apart=_told_apart([(blank_from, blank), *by_words.values()]),
        is_mixed=bool({"blank", "coat"} & guests.columns.of.keys()),
        sizes=sizes,
        motifs=filling,
    )
    return Order(design, guests, table.due, client)


def _by_words(own: Mapping[str, tuple[str, Blank]]) -> dict[str, tuple[str, Blank]]:
    """Return the blanks that the list may name, each with where it comes from.

    By the order's own words, and by the library's names, without case.
    """
    found = {word.casefold(): each for word, each in own.items()}
    for name in shelf("blanks"):
        if name.casefold() not in found:
            found[name.casefold()] = name, load(Blank, "blanks", name, Path())
    return found


def _told_apart(blanks: Iterable[tuple[str, Blank]]) -> dict[str, str]:
    """Return what to call blanks that share their name with another one, by their identity.

    Their name with where they come from, as the order writes it: that is never the same.
    """
    called: dict[str, dict[str, str]] = {}
    for source, blank in blanks:
        same = called.setdefault(compared(blank.name), {})
        same.setdefault(blank.identity, words.blank_from(blank.name, source))
    return {
        identity: told for same in called.values() if len(same) > 1
        for identity, told in same.items()
    }  # fmt: skip


def _kept(file: str, layout: Layout, number: int, size: KeptSize) -> Settled:
    """Return a kept size as what its line has settled on."""
    if size.line > len(layout.line):
        raise InputError(
            words.size_without_line(file, number, size.line, layout.name, len(layout.line))
        )
    line = layout.line[size.line - 1]
    if line.sizing == "each" or (line.sizing == "role") != (size.role is not None):
        raise InputError(
            words.size_of_other_sizing(file, number, size.line, layout.name, line.sizing)
        )
    return Settled(size.line, group_of(line, size.role or ""), size.letter_height, kept=True)


def keep_sizes(path: Path, design: Design) -> Path:
    """Write the sizes that an order has settled on into its ``order.toml``, the rest unchanged.

    Raises
    ------
    InputError
        The file cannot be written.
    """
    file = path / ORDER_FILE if path.is_dir() else path
    document = tomlkit.parse(file.read_text(encoding="utf-8-sig"))
    tables = tomlkit.aot()
    for settled in design.sizes.settled:
        table = tomlkit.table()
        table["line"] = settled.line
        if design.layout.line[settled.line - 1].sizing == "role":
            table["role"] = settled.role
        table["letter_height"] = format_mm(settled.letter_height, 2)
        tables.append(table)
    document["size"] = tables
    write_file(file, tomlkit.dumps(document).encode())
    return file


def see_that_it_suits(order: Order, layout: Layout) -> None:
    """See that an order could be made with a layout.

    Raises
    ------
    Unsettled
        A line says something that neither the list nor the order has.
    InputError
        A font or drawing is not there, or cannot do what is asked of it.
    """
    guests = order.guests
    check_fields(layout, guests.known_fields, words.layout(layout.name), guests.columns.unused)
    _check_slots(layout, order.design.motifs, guests)
    _check_files(layout, order.design.folder, order.design.motifs.usual)


def _motifs(file: str, folder: Path, usual: str | None, own: Mapping[str, str]) -> Motifs:
    """Return what an order fills slots with, its drawings found and read.

    Raises
    ------
    InputError
        A word of the order's is no drawing, or its drawing is not there or holds what it may not.
    """
    drawings = {
        folded(word): _drawing(file, f"motifs.{word}", name, folder) for word, name in own.items()
    }
    found = Motifs("", drawings)
    if not usual:
        return found
    return replace(found, usual=_drawing(file, "order.motif", found.called(usual) or usual, folder))


def _drawing(file: str, key: str, word: str, folder: Path) -> str:
    """Return what a word means, once it was found and read."""
    try:
        name = drawing_called(word)
        read_drawing(find("ornaments", name, folder))
    except InputError as error:
        raise InputError(words.wrong_motif(file, key, error)) from None
    return name


def _check_slots(layout: Layout, motifs: Motifs, guests: GuestList) -> None:
    """See that somebody says what stands in an open slot."""
    if layout.has_open_slots and not motifs.usual and "motif" not in guests.columns.of:
        raise InputError(words.no_motif(layout.name))


def _check_files(layout: Layout, folder: Path, motif: str) -> None:
    """See that the layout's fonts and drawings are there and can do what it asks of them."""
    for number, line in enumerate(layout.line, start=1):
        try:
            line.check_style(folder)
        except InputError as error:
            raise _wrong_part(layout, "line", number, error) from None
    kinds: tuple[tuple[str, tuple[Ornament | Border, ...]], ...] = (
        ("ornament", layout.ornament), ("border", layout.border),
    )  # fmt: skip
    for kind, drawings in kinds:
        for number, each in enumerate(drawings, start=1):
            filled = each.filled(motif)
            try:
                if filled:
                    read_motif(filled, folder)
            except InputError as error:
                raise _wrong_part(layout, kind, number, error) from None


def _wrong_part(layout: Layout, kind: str, number: int, error: InputError) -> WrongValue:
    text = words.wrong_part(layout.name, kind, number, error)
    at = f"{kind}.{number}"
    if isinstance(error, WrongValue):
        return WrongValue(text, f"{at}.{error.key}", error.why, error.rule)
    return WrongValue(text, at, str(error))


def new_order(
    folder: Path,
    list_file: Path,
    title: str | None,
    sheet: str | None,
    blank: str,
    layout: str,
    coat: str | None,
    machine: str | None = None,
    columns: Mapping[str, str] = NO_COLUMNS,
    leave_open: bool = False,
    due: dt.date | None = None,
) -> tuple[Path, Unsettled | None]:
    """Start an order's folder: copy the list and your own blank in, and write ``order.toml``.

    Parameters
    ----------
    columns
        Field to header, for ``[columns]``.
    leave_open
        Whether what the list does not say is to be filled into ``order.toml`` later.

    Returns
    -------
    tuple of Path and Unsettled or None
        The new ``order.toml``, and the question that the list leaves open.

    Raises
    ------
    Unsettled
        The list leaves a question open that can be answered by one of its choices.
    InputError
        The folder already holds an order, or list, blank, layout or coat is not usable; nothing
        is written then.
    """
    file = folder / ORDER_FILE
    if file.exists():
        raise InputError(words.order_exists(file))
    question: Unsettled | None = None
    try:
        order_from_list(list_file, title or None, sheet, blank, layout, coat, machine, columns)
    except Unsettled as error:
        if error.choices and not leave_open:
            raise
        question = error
    chosen = load(Blank, "blanks", blank, Path())
    own_blank = find("blanks", blank, Path()) if blank.endswith(".toml") else None
    document = tomlkit.document()
    document.add(tomlkit.comment(words.ONE_ORDER))
    table = tomlkit.table()
    table["title"] = title or ""
    table["title"].comment(words.WHOSE)
    table["list"] = list_file.name
    table["list"].comment(words.LIST)
    if sheet:
        table["sheet"] = sheet
    if due:
        table["due"] = due
    table["blank"] = own_blank.name if own_blank else blank
    table["blank"].comment(words.BLANK)
    table["layout"] = _from_here("layouts", layout)
    table["layout"].comment(words.LAYOUT)
    table["machine"] = _from_here("machines", machine or DEFAULT_MACHINE)
    table["machine"].comment(words.MACHINE)
    table["coat"] = (chosen.coat_named(coat) if coat else chosen.coat[0]).name
    document["order"] = table
    if columns:
        document["columns"] = dict(columns)
    text = tomlkit.dumps(document)
    if question is not None:
        text += words.to_fill(question.about, bool(columns))
    to_copy = [list_file, *([own_blank] if own_blank else [])]
    for each in to_copy:
        target = folder / each.name
        if target.exists() and not target.samefile(each):
            raise InputError(words.file_exists(target))
    for each in to_copy:
        if not (folder / each.name).exists():
            write_file(folder / each.name, each.read_bytes())
    write_file(file, text.encode())
    return file, question


def _from_here(kind: Kind, wanted: str) -> str:
    """Return a library name as it is, and a path in a form that holds from any folder."""
    return str(find(kind, wanted, Path()).absolute()) if wanted.endswith(".toml") else wanted
