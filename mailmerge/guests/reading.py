"""The list as guests: the last stage of reading, and the only one that the other rooms see."""

from __future__ import annotations

import re
from array import array
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from hashlib import blake2b
from itertools import islice
from pathlib import Path
from typing import TypeVar

import numpy as np

from mailmerge.findings import InputError
from mailmerge.guests import words
from mailmerge.guests.cleaning import Change, clean
from mailmerge.guests.columns import (
    FIELDS,
    Columns,
    choose_sheet,
    first_values,
    is_header,
    match_columns,
)
from mailmerge.guests.company import MOST, Company, Remark
from mailmerge.guests.counted import RowCount
from mailmerge.guests.examples import are_examples, is_example
from mailmerge.guests.exchanged import leaning, turned
from mailmerge.guests.figures import Numbering, Quantities
from mailmerge.guests.hands import Hand, hand_of
from mailmerge.guests.kinds import kind_of
from mailmerge.guests.names import fold, is_dotted, part
from mailmerge.guests.opening import open_table
from mailmerge.guests.tables import EMPTY, Cell, Kind, Row, Sheet, Table

MAX_QUANTITY = 999
MAX_TEXT = 300
"""Longest text of a cell that is taken for something to engrave, in characters."""
_ROWS_NAMED = 12
"""So many rows are kept to be named in messages (hidden rows, other rows of a duplicate)."""


_FEW_COLOURED = 0.3
"""Up to this share of the rows a colour marks some; stripes are in half of them. Own judgement."""


@dataclass(frozen=True, slots=True)
class Trouble:
    """A cell that cannot be taken as it is: which field, what is the matter, what it holds."""

    field: str
    kind: str
    """``date``, ``number``, ``truth``, ``formula``, ``merge-field``, ``no-value``, ``error``,
    ``example``, ``length``, ``merged``, ``hand``, ``quantity``, ``coat``, ``motif`` or ``unknown``;
    of how it looks ``struck``, ``partly-struck``, ``unseen``, ``replaced``, ``shown``, ``lines`` or
    ``two-lines``; of a row ``header``, ``below-header``, ``swallowed``, ``wider``, ``narrower``,
    ``beside`` or ``struck``; of either ``comment``."""
    found: str
    known: str = ""
    """What it could be, where that is a few words."""
    of: str = ""
    """The name of the blank that knows them, of a coat."""


@dataclass(frozen=True, slots=True)
class Guest:
    """One row of the list, cleaned."""

    row: int
    fields: Mapping[str, str]
    """Text by field name; ``name``, ``first``, ``last`` and ``role`` are always there."""
    hand: Hand = Hand.RIGHT
    quantity: int = 1
    changes: tuple[Change, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    meant: frozenset[str] = frozenset()
    """Fields whose text somebody has said is meant just so."""

    @property
    def name(self) -> str:
        """The whole name."""
        return self.fields["name"]


def _key(name: str) -> int:
    """Return 63 bits that stand for a folded name."""
    return int.from_bytes(blake2b(fold(name).encode(), digest_size=8).digest()) >> 1


@dataclass(frozen=True)
class Survey:
    """What one pass over the whole list tells before any item is made."""

    guests: int
    items: int
    count: RowCount
    hidden_rows: tuple[int, ...]
    """Those that are left out because they are hidden (the first few, as of all that follow)."""
    unread_rows: tuple[int, ...]
    rows_above: tuple[int, ...]
    """Rows above the header that are filled as guests are."""
    said_above: tuple[tuple[int, str], ...]
    """Other rows above the header, and what they say."""
    comments: tuple[tuple[int, str], ...]
    """What is written on rows that are no guest's: the row and the comment."""
    none_wanted: tuple[int, ...]
    """Rows that ask for a quantity of 0."""
    dotted: tuple[Guest, ...] = field(repr=False)
    """Guests with Turkish letters (of as many as a list of a party has at the most)."""
    rows_by_key: Mapping[int, tuple[int, ...]] = field(repr=False)
    """The rows (the first few) of every name that stands in more than one."""
    remarks_by_row: Mapping[int, list[Remark]] = field(repr=False)
    numbers_missing: tuple[int, ...] = ()
    numbers_doubled: tuple[int, ...] = ()
    """Of the column that numbers the rows (the first few)."""
    far_off: int = 0
    """From so many cups on a guest wants far more than the others; 0 if nobody does."""
    usual: int = 1
    """How many cups a guest usually wants."""
    are_exchanged: bool = False
    """Whether the columns of first and last names seem to hold each other's."""
    exchanged_rows: frozenset[int] = frozenset()
    """Else the rows in which they seem to."""
    not_written: tuple[str, ...] = ()
    """Texts that are said to be meant just so, and that no guest has."""

    def remarks(self, guest: Guest) -> tuple[Remark, ...]:
        """Return what the other rows say about a guest.

        ``same``: other rows hold the same name, after case, accents and blanks are folded.
        """
        rows = self.rows_by_key.get(_key(guest.name), ()) if guest.name else ()
        same = tuple(row for row in rows if row != guest.row)
        found = [
            remark
            for remark in self.remarks_by_row.get(guest.row, ())
            if not (remark.kind == "alike" and set(remark.rows) <= set(same))
        ]
        if same:
            found.insert(0, Remark("same", same))
        if self.far_off and guest.quantity >= self.far_off:
            found.append(Remark("far-off", other=str(self.usual)))
        if guest.row in self.exchanged_rows:
            found.append(Remark("exchanged"))
        return tuple(found)


@dataclass(frozen=True)
class GuestList:
    """A list that has been opened: its sheet and columns are settled, its rows still stream."""

    path: Path
    sheet: Sheet
    columns: Columns
    guessed: str
    """The encoding that had to be guessed, as people call it; ``""`` if none."""
    corrections: Mapping[int, Mapping[str, str]] = field(default_factory=dict)
    """Texts by field that take the place of the list's, by row."""
    additions: tuple[Mapping[str, str], ...] = ()
    """Texts by field of guests whom the list does not hold: rows behind its last one."""
    hidden_sheets: tuple[str, ...] = ()
    """Sheets that nobody sees and that hold rows under the same headings."""
    as_written: tuple[str, ...] = ()
    """Texts that somebody has said are meant just so, cleaned as cells are."""

    @property
    def known_fields(self) -> tuple[str, ...]:
        """The fields that a layout may use with this list."""
        of = set(self.columns.of)
        whole = {"name", "first", "last"} if self.columns.has_name else set()
        standard = [f for f in FIELDS if f in of | whole]
        return (*standard, *sorted(of - set(FIELDS)))

    def column(self, title: str) -> dict[int, str]:
        """Return what a column of the list says, by row; it need not be one that is used.

        Parameters
        ----------
        title
            Its header, or the field that it holds.

        Raises
        ------
        InputError
            The list has no such column, or more than one.
        """
        header = next(
            row for fate, row in self.told_apart() if row.number == self.columns.header_row
        )
        titles = [" ".join(cell.text.split()) for cell in header.cells]
        wanted = " ".join(title.split()).casefold()
        at = [column for column, each in enumerate(titles) if each.casefold() == wanted]
        if not at and wanted in self.columns.of:
            at = [self.columns.of[wanted]]
        if len(at) != 1:
            known = [each for each in titles if each]
            raise InputError(words.no_column(self.path, title, known, len(at)))
        return {row.number: clean("", row.cell(at[0]).text)[0] for row in self._rows()}

    @property
    def unused(self) -> dict[str, tuple[str, ...]]:
        """The headers that stand for no field, each with the first texts below it."""
        values = first_values(self.sheet, self.columns.unused)
        return {header: values.get(header, ()) for header in self.columns.unused}

    @property
    def ruled(self) -> tuple[str, ...]:
        """The headers of used columns whose texts rules of the workbook strike or colour."""
        ruled = self.sheet.ruled_columns()
        titles = self.columns.titles
        return tuple(titles[field] for field, at in self.columns.of.items() if at in ruled)

    @property
    def coloured(self) -> tuple[int, ...]:
        """The rows, if they are few, whose cells have other colours than most."""
        below = [each for each in self.sheet.colours() if each[0] > self.columns.header_row]
        usual = Counter(colours for _, colours in below).most_common(1)
        rows = tuple(row for row, colours in below if colours != usual[0][0])
        return rows if len(rows) <= _FEW_COLOURED * len(below) else ()

    def guests(self) -> Iterator[Guest]:
        """Start a pass over the guests, in the order of their rows.

        Blank rows, hidden rows, rows that only continue a merged name, and rows whose quantity is
        0 are no guests.
        """
        for row in self._rows():
            if not row.hidden:
                guest = self._guest(row)
                if guest.quantity > 0:
                    yield guest

    def survey(self) -> Survey:
        """Count the list and find the names that stand in it twice, in one pass.

        Keeps sixteen bytes a guest (eight more where names are parted, and where rows are
        numbered), for the names that repeat a dozen row numbers, and of the first
        :data:`~mailmerge.guests.company.MOST` the names and roles, and those with Turkish letters.
        """
        keys, rows, leanings = array("q"), array("q"), array("d")
        # Nom beside Prénom is the last name, as Name is beside First name.
        is_parted = len({"first", "last", "name"} & self.columns.of.keys()) > 1
        items = 0
        count: Counter[str] = Counter()
        first: dict[str, list[int]] = defaultdict(list)
        comments: list[tuple[int, str]] = []
        said_above: list[tuple[int, str]] = []
        dotted: list[Guest] = []
        not_written = dict.fromkeys(self.as_written)
        company, quantities, numbering = Company(), Quantities(), Numbering()
        last = 0
        for fate, row in self.told_apart():
            count["header" if fate == "header" else "blank"] += row.number - last - 1
            last = row.number
            guest = self._guest(row) if fate == "guests" else None
            if guest and guest.quantity == 0:
                fate = "none_wanted"
            count[fate] += 1
            if self.columns.numbering is not None and fate != "header":
                numbering.add(row.cell(self.columns.numbering).text)
            count["continued"] += row.lines - 1
            _keep(first[fate], [row.number])
            if fate != "guests" and fate != "hidden":
                _keep(comments, [(row.number, text) for _, text in row.comments])
            if fate == "header" and self._is_filled_as_guests(row):
                _keep(first["above"], [row.number])
            elif row.number < self.columns.header_row and (text := _words_of(row)):
                _keep(said_above, [(row.number, text)])
            if guest and guest.quantity:
                for field_meant in guest.meant:
                    not_written.pop(guest.fields[field_meant], None)
                items += guest.quantity
                quantities.add(guest.quantity)
                keys.append(_key(guest.name) if guest.name else -1)
                rows.append(row.number)
                if is_parted:
                    leanings.append(leaning(guest.fields["first"], guest.fields["last"]))
                company.add(row.number, guest.name, guest.fields["role"])
                if len(dotted) < MOST and any(map(is_dotted, guest.fields.values())):
                    dotted.append(guest)
        are_exchanged, exchanged_rows = turned(rows if is_parted else (), leanings)
        return Survey(
            guests=len(keys),
            items=items,
            count=RowCount(lines=self.sheet.lines, **count),
            hidden_rows=tuple(first["hidden"]),
            unread_rows=tuple(first["unread"]),
            rows_above=tuple(first["above"]),
            said_above=tuple(said_above),
            comments=tuple(comments),
            none_wanted=tuple(first["none_wanted"]),
            dotted=tuple(dotted),
            rows_by_key=_repeated(keys, rows),
            remarks_by_row=company.remarks(),
            numbers_missing=numbering.missing(),
            numbers_doubled=numbering.doubled(),
            far_off=quantities.far_off(),
            usual=quantities.usual,
            are_exchanged=are_exchanged,
            exchanged_rows=exchanged_rows,
            not_written=tuple(not_written),
        )

    def _is_filled_as_guests(self, row: Row) -> bool:
        """Whether a row above the header has a name, and something else that is used."""
        filled = {field for field, at in self.columns.of.items() if _filled(row.cell(at))}
        is_above = row.number < self.columns.header_row
        return is_above and len(filled) > 1 and bool(filled & set(_NAMES))

    def _guest(self, row: Row) -> Guest:
        guest = _guest(row, self.columns)
        return self.with_texts(guest, self.corrections.get(row.number, {}))

    def with_texts(self, guest: Guest, texts: Mapping[str, str]) -> Guest:
        """Return a guest of the list as one whose cells say something else, by field."""
        if texts:
            guest = replace(corrected(guest, texts, self.columns.hand_asked), meant=frozenset())
        return meant_so(guest, self.as_written) if self.as_written else guest

    def _rows(self) -> Iterator[Row]:
        """Pass over the rows below the header that hold anything in a known column."""
        return (row for fate, row in self.told_apart() if fate in ("guests", "hidden"))

    def told_apart(self) -> Iterator[tuple[str, Row]]:
        """Pass over the rows, each with what becomes of it: a name of a field of RowCount.

        A workbook leaves out rows that hold nothing.
        """
        columns = self.columns
        is_below, last = False, 0
        for row in self.sheet.rows():
            last = row.number
            if row.number <= columns.header_row:
                yield "header", row
            elif any(_filled(row.cell(column)) for column in columns.of.values()):
                again = is_header(row, columns)
                is_below = is_below or again is None
                if again or is_below:
                    row = row._replace(repeats_header=bool(again), below_header=is_below)
                yield self._fate(row), row
            else:
                is_blank = row.hidden or not any(map(_filled, row.cells))
                yield "blank" if is_blank else "unread", row
        for number, fields in enumerate(self.additions, start=last + 1):
            yield "guests", _row_of(number, fields, columns)

    def _fate(self, row: Row) -> str:
        """Return what becomes of a row that holds something in a column that is used."""
        if row.hidden:
            return "hidden"
        texts = {field: row.cell(at).text.strip() for field, at in self.columns.of.items()}
        names = [texts.pop(field, "") for field in _NAMES]
        free = (text for field, text in texts.items() if field not in _CHOSEN)
        return "examples" if are_examples(names, free) else "guests"


def _row_of(number: int, fields: Mapping[str, str], columns: Columns) -> Row:
    """Return the row that a guest would have in a list with these columns."""
    texts = dict(fields)
    if "name" not in columns.of and "name" in texts:
        texts["first"], texts["last"], _ = part(texts["name"])
    elif "name" in columns.of and "name" not in texts:
        texts["name"] = f"{texts.get('first', '')} {texts.get('last', '')}".strip()
    cells = [EMPTY] * (max(columns.of.values()) + 1)
    for name, at in columns.of.items():
        cells[at] = Cell(texts.get(name, ""))
    return Row(number, tuple(cells))


Kept = TypeVar("Kept")


def _keep(kept: list[Kept], more: Iterable[Kept]) -> None:
    """Keep more, as long as they are few enough to be named."""
    kept.extend(islice(more, max(0, _ROWS_NAMED - len(kept))))


def _filled(cell: Cell) -> bool:
    """Whether a cell says something of its own: not blank, and not only the merged cell above."""
    return not cell.merged and (bool(cell.text.strip()) or cell.kind is Kind.NO_VALUE)


def _words_of(row: Row) -> str:
    """Return what the cells of a row say, one after the other."""
    return " / ".join(cell.text.strip() for cell in row.cells if _filled(cell))[:MAX_TEXT]


def _repeated(keys: array[int], rows: array[int]) -> dict[int, tuple[int, ...]]:
    values, counts = np.unique(np.frombuffer(keys, dtype=np.int64), return_counts=True)
    found: dict[int, list[int]] = {int(key): [] for key in values[(counts > 1) & (values >= 0)]}
    for key, row in zip(keys, rows, strict=True):
        if key in found and len(found[key]) < _ROWS_NAMED:
            found[key].append(row)
    return {key: tuple(at) for key, at in found.items()}


def _guest(row: Row, columns: Columns) -> Guest:
    fields: dict[str, str] = dict.fromkeys(("name", "first", "last", "role"), "")
    changes: list[Change] = []
    troubles: list[Trouble] = []
    for name, column in columns.of.items():
        cell = row.cell(column)
        text, changed = clean(name, cell.text[: 2 * MAX_TEXT])
        fields[name] = text[:MAX_TEXT]
        changes += changed
        trouble = _trouble(name, cell, text)
        if trouble and not (trouble.kind in _WORDS and _is_in_capitals(name, row, columns)):
            troubles.append(trouble)
        troubles += (Trouble(name, mark.kind, _start(mark.text), text) for mark in cell.marks)
        troubles += _lines_in(name, cell)
        if cell.merged and name in _NAMES:
            troubles.append(Trouble(name, "merged", text))
    troubles = [*_without_struck_cells(row, columns, troubles), *_of_row(row, columns)]
    _complete_name(fields)
    guest = Guest(row.number, fields, changes=tuple(changes), troubles=tuple(troubles))
    return _with_hand_and_quantity(guest, columns.hand_asked)


def _with_hand_and_quantity(guest: Guest, asked: Hand | None) -> Guest:
    """Return a guest with the hand and the quantity that the texts tell, or with a trouble."""
    hand = hand_of(guest.fields.get("hand", ""), asked)
    quantity = quantity_of(guest.fields.get("quantity", ""))
    troubles = [
        *guest.troubles,
        *([Trouble("hand", "hand", guest.fields["hand"])] if hand is None else []),
        *([Trouble("quantity", "quantity", guest.fields["quantity"])] if quantity is None else []),
    ]
    return replace(
        guest,
        hand=hand or Hand.RIGHT,
        quantity=1 if quantity is None else quantity,
        troubles=tuple(troubles),
    )


def _of_row(row: Row, columns: Columns) -> Iterator[Trouble]:
    """Yield what is the matter with a row as a whole."""
    if row.below_header:
        yield Trouble("row", "below-header", "")
    elif row.repeats_header:
        yield Trouble("row", "header", "")
    if row.swallowed:
        yield Trouble("row", "swallowed", row.swallowed[:MAX_TEXT])
    if row.width and row.width < columns.least_width:
        missing = [title for field, title in columns.titles.items()
                   if columns.of[field] >= row.width]  # fmt: skip
        yield Trouble("row", "narrower", ", ".join(missing), str(row.width))
    by_column = {column: field for field, column in columns.of.items()}
    for column, text in row.comments:
        yield Trouble(by_column.get(column, "row"), "comment", text)
    beyond = [" ".join(cell.text.split()) for cell in row.cells[columns.width :]]
    between = [" ".join(row.cell(at).text.split()) for at in columns.unnamed]
    if unnamed := ", ".join(filter(None, between)):
        yield Trouble("row", "beside", unnamed[:MAX_TEXT])
    if more := ", ".join(filter(None, beyond)):
        yield Trouble("row", "wider" if row.width else "beside", more[:MAX_TEXT])


def _start(text: str) -> str:
    return " ".join(text.split())[:MAX_TEXT]


def _without_struck_cells(row: Row, columns: Columns, troubles: list[Trouble]) -> Iterable[Trouble]:
    """Put one trouble in the place of many where all that a row says is struck out."""
    if sum(each.kind == "struck" for each in troubles) < 2:
        return troubles
    filled = [at for at in columns.of.values() if _filled(row.cell(at))]
    struck = [at for at in filled if any(mark.kind == "struck" for mark in row.cell(at).marks)]
    if len(struck) < max(2, len(filled)):
        return troubles
    said = _start(", ".join(row.cell(at).text for at in struck))
    return [*(each for each in troubles if each.kind != "struck"), Trouble("row", "struck", said)]


def _lines_in(name: str, cell: Cell) -> Iterator[Trouble]:
    """Yield that a cell holds several names or roles, on lines of their own.

    Otto and Brandt below each other may be one person. A role that goes on in the next line does
    so in a small letter.
    """
    lines = cell.text[: 2 * MAX_TEXT].splitlines()
    if len(lines) < 2:
        return
    lines = [line for line in map(_start, lines) if line]
    if name in _NAMES and len(lines) > 1:
        may_be_one = len(lines) == 2 and " " not in lines[1]
        kind = "two-lines" if may_be_one else "lines"
        yield Trouble(name, kind, " / ".join(lines)[:MAX_TEXT])
    if name == "role" and len(lines) > 1 and all(line[0].isupper() for line in lines):
        yield Trouble(name, "lines", " / ".join(lines)[:MAX_TEXT])


def _trouble(name: str, cell: Cell, text: str) -> Trouble | None:
    """Return what is the matter with a cell, unless nobody will engrave or read it."""
    if len(text) > MAX_TEXT:
        return Trouble(name, "length", text[:MAX_TEXT])
    if is_example(text):
        return Trouble(name, "example", text)
    match kind_of(text) if cell.kind is Kind.TEXT else cell.kind:
        case Kind.NO_VALUE:
            return Trouble(name, "no-value", "")
        case Kind.ERROR | Kind.NOTHING:
            return Trouble(name, "error", text)
        case Kind.DATE:
            return Trouble(name, "date", text)
        case Kind.FORMULA:
            return Trouble(name, "formula", text)
        case Kind.FIELD:
            return Trouble(name, "merge-field", text)
        case Kind.TRUTH if name not in _TRUE_OR_FALSE:
            return Trouble(name, "truth", text)
        case Kind.NUMBER if name in _NAMES:
            return Trouble(name, "number", text)
    return None


_WORDS = ("truth", "error")


def _is_in_capitals(name: str, row: Row, columns: Columns) -> bool:
    """Whether a first or last name is a word that somebody bears, in a row typed in capitals.

    NULL, TRUE and SANT are what programs write; beside ANNA they are a family's name.
    """
    other = columns.of.get({"first": "last", "last": "first"}.get(name, ""))
    if other is None or row.cell(columns.of[name]).kind is not Kind.TEXT:
        return False
    text = row.cell(other).text
    is_word = row.cell(columns.of[name]).text.strip().isalpha()
    return is_word and text.isupper() and kind_of(text) is Kind.TEXT


_NAMES = ("name", "first", "last")
_CHOSEN = ("hand", "quantity", "side", "blank", "coat", "motif", "language")
"""Fields that hold one of a few values, and no text that could say it is an example."""
_TRUE_OR_FALSE = ("hand", "note")
"""Where a truth value may be an answer: to Left-handed?"""


_PIECES = (
    "x|pcs?|pieces?|cups?|mugs?|stk|stück|st|pz|uds?|szt|ks|db|becher|tassen?|stuks?|bekers?|pièces?|"
    "tasses?|gobelets?|unidad(?:es)?|piezas?|tazas?|vasos?|pezz[oi]|tazz[ae]|unidades?|canecas?|"
    "stycken|muggar|kopper|krus|kpl|kappaletta|sztuk[ai]?|kubk[iów]+|kus[yů]?|hrnk[yů]|darab|adet|шт"
)
_QUANTITY = re.compile(
    rf"[(\[]?\s*(?:[x×]\s*)?([0-9]{{1,5}})(?:\.0)?(?:\s*(?:×|{_PIECES}))?\.?\s*[)\]]?"
    r"|(?:pcs|cups|qty)\.?:?\s*([0-9]{1,5})"
)
"""A number of cups, alone or with a word for pieces: 2, 2 pcs, ×2, (2)."""

_NUMERALS = (
    "one ein eins eine einen un une uno una um een één en ett et",
    "two zwei deux dos due dois duas twee två to",
    "three drei trois tres tre três drie",
    "four vier quatre cuatro quattro quatro fyra fire",
    "five fünf cinq cinco cinque vijf fem",
    "six sechs seis sei zes sex seks",
    "seven sieben sept siete sette sete zeven sju syv",
    "eight acht huit ocho otto oito åtta otte åtte",
    "nine neun neuf nueve nove negen nio ni",
    "ten zehn dix diez dieci dez tien tio ti",
)
_NUMERAL = {word: n for n, row in enumerate(_NUMERALS, start=1) for word in row.split()}
"""What people write for one to ten. From memory, in nine languages."""
_NUMERAL_WITH_PIECES = re.compile(rf"([^\W\d_]+)(?:\s+(?:{_PIECES})\.?)?")


def quantity_of(text: str) -> int | None:
    """Return how many cups a text asks for, one where it says nothing; None if it is no number."""
    if not text:
        return 1
    low = text.casefold()
    if match := _QUANTITY.fullmatch(low):
        number = int(match[1] or match[2])
        return number if number <= MAX_QUANTITY else None
    said = _NUMERAL_WITH_PIECES.fullmatch(low)
    return _NUMERAL.get(said[1]) if said else None


def _complete_name(fields: dict[str, str]) -> None:
    """Make the whole name out of its parts, or the first name and the rest out of the whole."""
    if not fields["name"]:
        fields["name"] = f"{fields['first']} {fields['last']}".strip()
    elif fields["last"] and not fields["first"] and fields["last"] not in fields["name"]:
        fields["first"] = fields["name"]  # "Name" beside "Surname" holds the first name
        fields["name"] = f"{fields['name']} {fields['last']}"
    elif fields["first"] and not fields["last"] and fields["first"] not in fields["name"]:
        fields["last"] = fields["name"]  # "Name" beside "First name" holds the last name
        fields["name"] = f"{fields['first']} {fields['name']}"
    if not fields["first"] and not fields["last"]:
        fields["first"], fields["last"], _ = part(fields["name"])


_OF_MEANING = ("date", "number", "truth")
"""Troubles with what a text means, which is not doubted where somebody has said so."""


def meant_so(guest: Guest, texts: tuple[str, ...]) -> Guest:
    """Return a guest with what is known of its texts: which are meant just so.

    A name in one cell is meant as a whole, with its parts.
    """
    meant = {name for name, text in guest.fields.items() if text in texts}
    if not meant:
        return guest
    if "name" in meant:
        meant |= {"first", "last"}
    troubles = (t for t in guest.troubles if t.field not in meant or t.kind not in _OF_MEANING)
    return replace(guest, meant=frozenset(meant), troubles=tuple(troubles))


_OWN_TROUBLES = ("hand", "quantity")
"""Troubles that are found anew once the texts are others."""


def corrected(guest: Guest, texts: Mapping[str, str], asked: Hand | None = None) -> Guest:
    """Return a guest with other texts; what was to be said about the list's own is left out.

    Parameters
    ----------
    asked
        The hand that a yes means in the list, if it means one.
    """
    fields = {**guest.fields, **texts}
    if "name" in texts:
        fields["first"], fields["last"], _ = part(texts["name"])
    elif "first" in texts or "last" in texts:
        fields["name"] = f"{fields['first']} {fields['last']}".strip()
    left = (t for t in guest.troubles if t.field not in texts and t.kind not in _OWN_TROUBLES)
    other = replace(
        guest,
        fields=fields,
        changes=tuple(change for change in guest.changes if change.field not in texts),
        troubles=tuple(left),
    )
    return _with_hand_and_quantity(other, asked)


def values_below(
    path: Path, sheet: str | None, headers: Iterable[str]
) -> dict[str, tuple[str, ...]]:
    """Return the first texts below headers of a list, of the sheet that has them all.

    Raises
    ------
    InputError
        The file cannot be read.
    """
    headers = list(headers)
    for each in open_table(path).sheets:
        if sheet in (None, each.name) and (found := first_values(each, headers)):
            return found
    return {}


def open_list(
    path: Path,
    sheet: str | None,
    columns: Mapping[str, str],
    as_written: Iterable[str] = (),
) -> GuestList:
    """Open a list and settle its sheet and columns.

    Parameters
    ----------
    sheet
        The sheet to take, or None for the only one that has a name column.
    columns
        Field to header, where the words that we know do not match.
    as_written
        Texts that somebody has said are meant just so.

    Raises
    ------
    InputError
        The file cannot be read, or no sheet or column can be settled on.
    """
    return settled(open_table(path), sheet, columns, as_written)


def settled(
    table: Table,
    sheet: str | None,
    columns: Mapping[str, str],
    as_written: Iterable[str] = (),
) -> GuestList:
    """Settle sheet and columns of a list that was opened; see :func:`open_list`."""
    chosen, found = choose_sheet(table, sheet, columns)
    same = (each for each in table.hidden_sheets if _is_alike(table, each, columns, found))
    hidden = tuple(each.name for each in same)
    meant = tuple(clean("", text)[0] for text in as_written)
    return GuestList(
        table.path, chosen, found, table.guessed, hidden_sheets=hidden, as_written=meant
    )


def _is_alike(table: Table, sheet: Sheet, override: Mapping[str, str], columns: Columns) -> bool:
    """Whether a sheet holds rows under headings for the same fields."""
    try:
        found = match_columns(table, sheet, override)
    except InputError:  # two of its columns could be the same field: it is another kind of sheet
        return False
    if found is None or set(found.of) != set(columns.of):
        return False
    below = (row for row in sheet.rows() if row.number > found.header_row)
    return any(any(map(_filled, row.cells)) for row in below)
