"""The list of a proof pack that came back, compared cell by cell with the one that was sent.

What is understood is an answer. Everything else that somebody has put there is a question, about
the items that it may concern; nothing is dropped.
"""

from __future__ import annotations

import re
import unicodedata
import zipfile
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import islice
from pathlib import Path
from typing import NamedTuple

from mailmerge.answers import ods_traits, words, xlsx_traits
from mailmerge.answers.courtesies import is_plain_name, is_whole_name, names
from mailmerge.answers.said import Answers, Said, Unclear, check_shown, cleaned
from mailmerge.answers.ticks import is_all_right, is_nothing, is_yes
from mailmerge.answers.traits import (
    FORMULA,
    LETTERS,
    LINK,
    PHONETIC,
    Compared,
    Look,
    Traits,
    set_apart,
    told_of_a_link,
)
from mailmerge.files import lent
from mailmerge.findings import InputError
from mailmerge.guests.cleaning import clean
from mailmerge.guests.looks import colour_of
from mailmerge.guests.opening import open_table
from mailmerge.guests.roles import is_role
from mailmerge.guests.tables import Cell, Kind, Rgb, Row, Sheet, Table
from mailmerge.ledger.ledger import Ledger
from mailmerge.ledger.matching import alike
from mailmerge.proofs.pack import checklist, words as pack_words

_HEADER_WITHIN = 30
_SHEET_BY_DEFAULT = re.compile(
    r"(?:sheet|table|tabelle|blatt|feuil|feuille|tableau|hoja|tabla|arkusz|tabela|taflen|dalen|"
    r"blad|foglio|ورقة)\s*\d{0,3}"
)
"""What programs call a new sheet."""
_OF_NAMES = ("name", "first", "last")
_ALIKE = 80.0
"""A new row may be a guest whose name is so like it, in per cent. Own judgement, as in matching."""


@dataclass(frozen=True)
class _List:
    """A list of a proof pack: the sheet, its header, and what is above and below it."""

    table: Table
    sheet: Sheet
    above: tuple[Row, ...]
    header: Row
    columns: checklist.ListColumns
    below: tuple[Row, ...]
    traits: Traits | None
    """What it holds beside its values; None where it is a text file, which holds nothing."""

    @cached_property
    def titles(self) -> dict[str, int]:
        """The columns of its headings, without case."""
        named = ((_plain(cell.text), at) for at, cell in enumerate(self.header.cells))
        return {title: at for title, at in named if title}


def _text(cell: Cell) -> str:
    """Return all that stands in a cell, on one line."""
    return cleaned(cell.text)


def _plain(title: str) -> str:
    """Return a title without case."""
    return cleaned(title).casefold()


def _list_in(path: Path, ledger: Ledger | None = None) -> _List | None:
    """Return the list that a file holds; None if there is none.

    Parameters
    ----------
    ledger
        Of the order whose lists are known, though somebody has written into their headings.
    """
    table = open_table(path)
    for sheet in (*table.sheets, *table.hidden_sheets):
        rows = sheet.rows()
        above: list[Row] = []
        for row in islice(rows, _HEADER_WITHIN):
            titles = [cell.text for cell in row.cells]
            columns = checklist.columns_in(titles)
            if columns is None and ledger is not None:
                columns = _columns_as_sent(ledger, titles)
            if columns is not None:
                traits = _traits_of(table, sheet)
                return _List(table, sheet, tuple(above), row, columns, tuple(rows), traits)
            above.append(row)
    return None


def _columns_as_sent(ledger: Ledger, titles: Sequence[str]) -> checklist.ListColumns | None:
    """Return the columns of a list that was sent, for headings that name its pack in its place."""
    named = checklist.pack_named_in(titles)
    sent = named and ledger.list_sent(named[0])
    if not named or not sent:
        return None
    with lent("list.xlsx", sent) as path:
        own = _list_in(path)
    return own.columns if own and own.columns.seal == named[1] else None


def _traits_of(table: Table, sheet: Sheet) -> Traits | None:
    if sheet.lines:
        return None
    found: Traits = table.apart(_traits_in, table.path, sheet.name)
    return found


def _traits_in(path: Path, sheet: str) -> Traits:
    is_ods = path.suffix.lower() == ".ods"
    traits_of = ods_traits.traits_of if is_ods else xlsx_traits.traits_of
    try:
        with zipfile.ZipFile(path) as archive:
            return traits_of(archive, sheet)
    except Exception as error:
        # zipfile and ElementTree have no common base for what a damaged file makes them raise.
        raise InputError(words.list_damaged(path, error)) from None


_Cell = tuple[int | str, str]
"""A cell of a list: its item and its heading, or where else it stands and its text."""


@dataclass(frozen=True)
class _Sent:
    """The list as it was sent."""

    rows: Mapping[int, Mapping[str, str]]
    """What stood in the row of each item, by title without case."""
    titles: tuple[str, ...]
    texts: frozenset[str] | None
    """All that stood anywhere in it; None where the list was not kept."""
    above: frozenset[str] = frozenset()
    """All that stood above the table."""
    grounds: Mapping[tuple[int, str], Rgb] = field(default_factory=dict)
    """The colours of cells, by item and title."""
    sheet: str = ""
    """What its sheet was called."""
    looks: Mapping[_Cell, Look] = field(default_factory=dict)
    traits: Traits = field(default_factory=Traits)

    def stood_there(self, text: str, column: int) -> bool:
        """Whether a text above the table is the list's own."""
        return column == 0 if self.texts is None else text in self.above


def _sent(ledger: Ledger, back: _List) -> _Sent:
    data = ledger.list_sent(back.columns.pack)
    if not data:
        return _sent_as_on_record(ledger, back)
    with lent("list.xlsx", data) as path:
        found = _list_in(path)
        assert found is not None  # it is our own
        assert found.traits is not None
        looks, grounds = found.traits.looks, found.sheet.grounds()
        items = {_text(row.cell(found.columns.item)): row for row in found.below}
        rows = {
            int(item): {title: _text(row.cell(at)) for title, at in found.titles.items()}
            for item, row in items.items()
            if item.isdecimal()
        }
        above = [_text(cell) for row in found.above for cell in row.cells]
        table = [_text(cell) for row in (found.header, *found.below) for cell in row.cells]
        colours = {
            (int(item), title): ground
            for item, row in items.items()
            if item.isdecimal()
            for title, at in found.titles.items()
            if (ground := grounds.get((row.number, at)))
        }
        look_of: dict[_Cell, Look] = {
            (int(item), title): looks.get((row.number, at), {})
            for item, row in items.items()
            if item.isdecimal()
            for title, at in found.titles.items()
        }
        for row in (*found.above, found.header):
            look_of |= {
                (_where(row, found), _text(cell)): looks.get((row.number, at), {})
                for at, cell in enumerate(row.cells)
            }
        return _Sent(
            rows, tuple(found.titles), frozenset([*above, *table]), frozenset(above), colours,
            _plain(found.sheet.name), look_of, found.traits,
        )  # fmt: skip


def _where(row: Row, list_: _List) -> str:
    """Return where a row stands that is no item's."""
    return words.IN_THE_HEADER if row.number == list_.header.number else words.ABOVE_THE_TABLE


def _sent_as_on_record(ledger: Ledger, back: _List) -> _Sent:
    """Return what is known of a list that was not kept: the texts and seals that were shown."""
    columns = back.columns
    seal = next(title for title, at in back.titles.items() if at == columns.seal)
    seen = ledger.shown_in(columns.pack)
    rows = {
        item: {
            _plain(checklist.title_of(columns.language, name)): text for name, text in texts.items()
        }
        | {seal: seen[item]}
        for item, texts in ledger.texts_in(columns.pack).items()
    }
    own = [*columns.titles, pack_words.side(columns.language)]
    texts = [title for row in rows.values() for title in row]
    return _Sent(rows, tuple(dict.fromkeys([*map(_plain, own), *texts])), None)


def read_list(ledger: Ledger, path: Path) -> Answers:
    """Read the list of a proof pack, with its columns filled in.

    A text that was changed in its own cell counts as a change, too.

    Raises
    ------
    InputError
        It is no such list, or that of a pack which this order has not made.
    """
    back = _list_in(path, ledger)
    if back is None:
        raise InputError(words.no_list_of_a_pack(path))
    pack = back.columns.pack
    if not ledger.shown_in(pack):
        raise InputError(words.unknown_pack(str(path), pack))
    reading = _Reading(ledger, back)
    reading.read()
    answers = Answers(
        "workbook",
        reading.said_by,
        "",
        tuple(sorted(reading.said, key=lambda each: each.item)),
        pack,
        unclear=tuple(reading.unclear),
        left_out=tuple(item for item in sorted(reading.seen) if item not in reading.met),
    )
    check_shown(ledger, str(path), answers)
    return answers


class _Reading:
    """What is found in a list that came back, while it is read."""

    def __init__(self, ledger: Ledger, back: _List) -> None:
        self.back, self.sent = back, _sent(ledger, back)
        self.columns = back.columns
        self.seen = ledger.shown_in(self.columns.pack)
        self.about = ledger.texts_in(self.columns.pack)
        self.said: list[Said] = []
        self.unclear: list[Unclear] = []
        self.said_by = ""
        self.met: set[int] = set()
        """Items whose rows are there."""
        self._of_all: list[tuple[int, str]] = []
        """Rows that say that everything is right, and how."""
        self._not_ticked: dict[int, int] = {}
        self._coloured: dict[Rgb, dict[int, tuple[int, bool]]] = defaultdict(dict)
        """By new colour, the rows that have it: the item of each, and whether it says yes."""
        self._cells: list[Compared] = []
        self._of_place: dict[tuple[int, int], _Place] = {}
        self._fields = {
            _plain(checklist.title_of(self.columns.language, name)): name
            for texts in self.about.values()
            for name in texts
        }
        own = {title: at for title, at in back.titles.items() if title in self._fields}
        self._at = {**own, **self._columns()}

    def _columns(self) -> dict[str, int]:
        """Return the columns of the headings that were sent; one that was renamed is in its place.

        What became of headings is asked about.
        """
        titles = self.back.titles
        found = {title: titles[title] for title in self.sent.titles if title in titles}
        names = {at: title for title, at in titles.items()}
        for place, title in enumerate(self.sent.titles):
            if title in found:
                continue
            if self.sent.texts is not None and place in names and place not in found.values():
                found[title] = place
                said = words.other_heading(_text(self.back.header.cell(place)), title)
            else:
                said = words.no_such_column(title)
            if self.sent.texts is not None:
                self._ask(self.seen, words.IN_THE_HEADER, said)
        return found

    def _ask(
        self, items: Iterable[int], place: str, said: str, fields: Mapping[str, str] | None = None
    ) -> None:
        self.unclear.append(Unclear(tuple(sorted(items)), place, said, fields or {}))

    def read(self) -> None:
        """Read everything that the workbook holds."""
        self._read_above()
        self._read_header()
        rows: dict[int, list[Row]] = defaultdict(list)
        for row in self.back.below:
            if (item := self._item_of(row)) is not None:
                rows[item].append(row)
                self.met.add(item)
            else:
                self._read_strange(row)
        for item, found in rows.items():
            self._read_rows(item, found)
        self._ask_about_what_is_said_of_all()
        self._ask_about_boxes_and_colours()
        self._ask_about_looks()
        self._ask_about_merged()
        self._read_elsewhere()

    # Outside of the table

    def _read_above(self) -> None:
        for row in self.back.above:
            is_name = checklist.is_your_name(row.cell(0).text)
            for at, cell in enumerate(row.cells):
                text = _text(cell)
                if is_name and at == 1:
                    self.said_by = text
                    if not text or is_plain_name(cell.text):
                        continue
                if text and not self.sent.stood_there(text, at):
                    self._ask(self.seen, words.ABOVE_THE_TABLE, text)
            self._read_comments(row, self.seen)
            self._compare(row, words.ABOVE_THE_TABLE)

    def _read_header(self) -> None:
        known = {*self._at.values()}
        for at, cell in enumerate(self.back.header.cells):
            is_used = any(_text(row.cell(at)) for row in self.back.below)
            if (text := _text(cell)) and at not in known and not is_used:
                self._ask(self.seen, words.IN_THE_HEADER, text)
        for title, at in self._at.items():
            if at in self.back.sheet.hidden_columns and at != self.columns.seal:
                self._ask(self.seen, words.IN_THE_HEADER, words.hidden_column(title))
        self._read_comments(self.back.header, self.seen)
        self._compare(self.back.header, words.IN_THE_HEADER)

    def _read_comments(self, row: Row, items: Iterable[int]) -> None:
        for _, text in row.comments:
            self._ask(items, words.comment_on(row.number), cleaned(text))
        for at in range(len(row.cells)):
            if text := cleaned(self._look_of(row, at).get(PHONETIC, "")):
                self._ask(items, words.phonetic_guide_on(row.number), text)

    def _look_of(self, row: Row, at: int) -> Look:
        return self.back.traits.looks.get((row.number, at), {}) if self.back.traits else {}

    def _read_elsewhere(self) -> None:
        """Ask about what is beside the sheet: other ones, names, drawings, rules, properties."""
        table = self.back.table
        if self.back.sheet in table.hidden_sheets:
            self._ask(self.seen, words.on_sheet(self.back.sheet.name), words.HIDDEN)
        if self.sent.sheet and not self.back.sheet.lines:  # a text file has no sheets
            self._read_name(self.back.sheet)
        for sheet in (*table.sheets, *table.hidden_sheets):
            if sheet.name == self.back.sheet.name:
                continue
            own = self.sent.texts or frozenset()
            cells = [cell for row in sheet.rows() for cell in row.cells]
            texts = [_text(cell) for cell in cells if not cell.marks]
            struck = [words.struck_out(cleaned(m.text)) for cell in cells for m in cell.marks]
            comments = [cleaned(text) for row in sheet.rows() for _, text in row.comments]
            if more := [text for text in (*texts, *struck, *comments) if text and text not in own]:
                self._ask(self.seen, words.on_sheet(sheet.name), " / ".join(more))
            else:
                self._read_name(sheet)
        for text in table.drawn():
            self._ask(self.seen, words.DRAWN_OVER, cleaned(text) or words.A_DRAWING)
        if self.back.traits is not None and self.sent.texts is not None:
            for thing in self.back.traits.beyond(self.sent.traits):
                said = cleaned(thing.words) or words.WITHOUT_WORDS
                self._ask(self.seen, words.in_a_thing(thing.kind), said)

    def _read_name(self, sheet: Sheet) -> None:
        """Ask about the name of a sheet, unless it is the list's own, a copy's or a program's."""
        name = _plain(sheet.name)
        own = re.escape(self.sent.sheet)
        if not re.fullmatch(rf"{own}(?:[ _]?\(\d+\)|_\d+| - table \d+)?", name) and (
            not _SHEET_BY_DEFAULT.fullmatch(name)
        ):
            self._ask(self.seen, words.NAME_OF_A_SHEET, cleaned(sheet.name))

    # A row

    def _item_of(self, row: Row) -> int | None:
        """Return the item of a row by its number and its seal; None where they do not tell it.

        Where one of them is gone, the other one tells it if the texts are as they were sent.
        """
        typed, seal = self._marks_of(row)
        is_number = typed.isascii() and typed.isdigit() and len(typed) < 10
        number = int(typed) if is_number else None
        if number is not None and self.seen.get(number) == seal:
            return number
        of_seal = [item for item, known in self.seen.items() if known == seal]
        alone = number if not seal else of_seal[0] if not typed and len(of_seal) == 1 else None
        if alone is not None and alone in self.seen and self._is_as_sent(row, alone):
            return alone
        return None

    def _marks_of(self, row: Row) -> tuple[str, str]:
        """Return the number and the seal of a row, without what people write about a number."""
        number = _text(row.cell(self.columns.item)).removesuffix(".0").strip(" .:)#")
        return number, _text(row.cell(self.columns.seal)).lower()

    def _is_as_sent(self, row: Row, item: int) -> bool:
        was = self.sent.rows.get(item, {})
        return all(self._now(row, title) == was.get(title) for title in self._fields)

    def _now(self, row: Row, title: str) -> str | None:
        at = self._at.get(title)
        return None if at is None else _text(row.cell(at))

    def _read_strange(self, row: Row) -> None:
        """Ask about a row that is no item's: a guest who came late, a remark, a mixed-up row."""
        texts = [text for cell in row.cells if (text := _text(cell)) and not cell.merged]
        number, typed = self._marks_of(row)
        meant = {item for item, seal in self.seen.items() if str(item) == number or seal == typed}
        self._read_comments(row, meant or self.seen)
        is_filled_down = len(texts) == 1 and is_yes(texts[0]) and texts[0] == self._tick(row)
        if not texts or (is_filled_down and not is_all_right(texts[0])):
            return
        if meant:
            self.met |= meant
            self._ask(meant, words.in_row(row.number), words.row_of_no_item(" · ".join(texts)))
            return
        fields = {
            name: text
            for title, name in self._fields.items()
            if (text := clean(name, self._now(row, title) or "")[0])
        }
        is_struck = any(cell.marks for cell in row.cells)
        self._ask(
            self._like(row, fields),
            words.in_row(row.number),
            words.struck_out(" · ".join(texts)) if is_struck else " · ".join(texts),
            {} if is_struck else fields,
        )

    def _tick(self, row: Row) -> str:
        return _text(row.cell(self.columns.right))

    def _like(self, row: Row, fields: Mapping[str, str]) -> Iterable[int]:
        """Return the items that a new row may concern.

        One that is plainly a guest, with a role as others have them, concerns those whose name is
        like it. One whose role says more may be about whom that names. Else it may be about
        anybody.
        """
        name = fields.get("name") or " ".join(fields.get(each, "") for each in ("first", "last"))
        if not is_plain_name(name) or name.islower() or self._says_more(row):
            return self.seen
        known = {item: self._name_of(texts) for item, texts in self.about.items()}
        like = {item for item, other in known.items() if alike(name, other) >= _ALIKE}
        strange = [
            text for field, text in fields.items()
            if field not in _OF_NAMES and not self._is_usual(field, text)
        ]  # fmt: skip
        meant = strange if is_whole_name(name) else [name]
        named = {item for item, other in known.items() if any(names(t, other) for t in meant)}
        return like | named if named or not meant else self.seen

    def _says_more(self, row: Row) -> bool:
        """Whether a new row says something in a column that is none of a guest's."""
        told = [self._at[title] for title in self._told if title in self._at]
        own = {self._at[title] for title in self._fields if title in self._at}
        own |= {self.columns.item, *told}
        more = (_text(cell) for at, cell in enumerate(row.cells) if at not in own)
        return any(text and not is_yes(text) for text in more) or any(
            (text := _text(row.cell(at))) and text not in self._stand_in(at) for at in told
        )

    def _stand_in(self, column: int) -> set[str]:
        """Return what rows of items have in a column."""
        rows = (row for row in self.back.below if self._item_of(row) is not None)
        return {_text(row.cell(column)) for row in rows}

    def _is_usual(self, field: str, text: str) -> bool:
        """Whether a text is one that other cups have there, or a role and nothing more."""
        others = {texts.get(field, "").casefold() for texts in self.about.values()}
        return text.casefold() in others or is_role(text)

    @staticmethod
    def _name_of(texts: Mapping[str, str]) -> str:
        return texts.get("name") or f"{texts.get('first', '')} {texts.get('last', '')}"

    @cached_property
    def _told(self) -> list[str]:
        """The headings of columns that tell something and are not to be filled in."""
        columns = self.columns
        seal = _plain(self.back.header.cell(columns.seal).text)
        own = {*map(_plain, columns.titles), seal, *self._fields}
        return [title for title in self.sent.titles if title not in own]

    # An item

    def _read_rows(self, item: int, rows: list[Row]) -> None:
        before, compared = len(self.unclear), len(self._cells)
        found = [self._answer_in(row, item) for row in rows]
        if any(each != found[0] for each in found):
            told = [" · ".join(filter(None, map(_text, row.cells))) for row in rows]
            place = words.in_rows([row.number for row in rows])
            del self.unclear[before:], self._cells[compared:]
            self._ask([item], place, words.two_rows(told))
        elif found[0] is not None:
            self.said.append(found[0])

    def _answer_in(self, row: Row, item: int) -> Said | None:
        """Return what a row says about its item; ask about what else it says."""
        is_plain = not self._is_amiss(row, item)
        texts, spoiled = self._texts_in(row, item)
        is_plain = is_plain and not spoiled
        for title, told in spoiled.items():
            self._ask([item], words.in_cell(row.number, title), told)
        self._read_beside(row, item)
        self._read_comments(row, [item])
        tick, remark = self._tick(row), _text(row.cell(self.columns.change))
        is_ticked = is_yes(tick) or (not tick and is_all_right(remark))
        if is_all_right(tick) or is_all_right(remark):
            self._of_all.append((row.number, tick or remark))
        box = row.cell(self.columns.right)
        if box.kind is Kind.TRUTH and not is_ticked:
            self._not_ticked[row.number] = item
            tick = ""
        remark = "" if is_ticked and is_nothing(remark) else remark
        self._look_at_colours(row, item, is_ticked, bool(tick or remark or texts))
        if is_ticked or not (tick or remark or texts):
            self._compare(row, item)
        for at in (self.columns.item, self.columns.seal):
            title = _plain(self.back.header.cell(at).text)
            if not _text(row.cell(at)) and (was := self.sent.rows.get(item, {}).get(title)):
                place = words.in_cell(row.number, _text(self.back.header.cell(at)))
                self._ask([item], place, words.emptied(was))
        if any(row.cell(at).merged for at in (self.columns.right, self.columns.change)):
            return None
        if self._is_hidden(row) and (tick or remark or texts):
            told = " · ".join(filter(None, map(_text, row.cells)))
            self._ask([item], words.in_row(row.number), words.hidden_row(told))
            return None
        said = " / ".join(filter(None, ["" if is_ticked else tick, remark]))
        if said or texts:
            return Said(item, self.seen[item], "change", said, texts) if is_plain else None
        return Said(item, self.seen[item], "yes", "", {}) if is_ticked and is_plain else None

    def _is_amiss(self, row: Row, item: int) -> bool:
        """Ask about what is struck out, hidden or without a value; return whether anything is."""
        marked = [mark.text for cell in row.cells for mark in cell.marks]
        if marked:
            told = " · ".join(map(cleaned, marked))
            stands = " · ".join(filter(None, map(_text, row.cells)))
            said = words.struck_out(told) + words.in_the_row(stands)
            self._ask([item], words.in_row(row.number), said)
        empty = [at for at, cell in enumerate(row.cells) if cell.kind is Kind.NO_VALUE]
        for at in empty:
            title = _text(self.back.header.cell(at))
            said = words.no_result(cleaned(self._look_of(row, at).get(FORMULA, "")))
            self._ask([item], words.in_cell(row.number, title), said)
        return bool(marked or empty)

    def _texts_in(self, row: Row, item: int) -> tuple[dict[str, str], dict[str, str]]:
        """Return the texts that were changed, by field, and what else became of one, by title."""
        changed: dict[str, str] = {}
        spoiled: dict[str, str] = {}
        for title, name in self._fields.items():
            was = self.about[item].get(name)
            if was is None or (at := self._at.get(title)) is None:
                continue
            now, _ = clean(name, row.cell(at).text)
            title = _text(self.back.header.cell(at))
            if was and not now:
                spoiled[title] = words.emptied(was)
            elif now != was and _has_lost_letters(now, was):
                spoiled[title] = words.letters_lost(now, was)
            elif now != was:
                changed[name] = now
            elif (typed := unicodedata.normalize("NFC", row.cell(at).text.strip(" "))) != was:
                spoiled[title] = words.other_blanks(typed)
        return changed, spoiled

    def _read_beside(self, row: Row, item: int) -> None:
        """Ask about what stands in columns that are none of the list's, or not to be filled in."""
        known = {*self._at.values()}
        for title in self._told:
            was, now = self.sent.rows.get(item, {}).get(title), self._now(row, title)
            if was is not None and now is not None and now != was:
                place = words.in_cell(row.number, _text(self.back.header.cell(self._at[title])))
                self._ask([item], place, words.told_otherwise(now, was))
        for at, cell in enumerate(row.cells):
            if at not in known and (text := _text(cell)):  # one merged over rows is about them all
                title = _text(self.back.header.cell(at))
                place = words.in_cell(row.number, title) if title else words.beside_row(row.number)
                self._ask([item], place, text)

    def _ask_about_what_is_said_of_all(self) -> None:
        """Ask about cups without an answer where a row says that everything is right."""
        left = self.seen.keys() - {each.item for each in self.said}
        if left and self._of_all:
            rows = words.in_rows([row for row, _ in self._of_all])
            self._ask(left, rows, " / ".join(dict.fromkeys(said for _, said in self._of_all)))

    # Colours and boxes

    @cached_property
    def _grounds(self) -> Mapping[tuple[int, int], Rgb]:
        return self.back.sheet.grounds()

    def _look_at_colours(self, row: Row, item: int, is_ticked: bool, has_words: bool) -> None:
        if self.sent.texts is None or (has_words and not is_ticked):
            return
        for title, at in self._at.items():
            ground = self._grounds.get((row.number, at))
            if ground and ground != self.sent.grounds.get((item, title)):
                self._coloured[ground][row.number] = item, is_ticked

    def _ask_about_boxes_and_colours(self) -> None:
        if rows := self._not_ticked:
            self._ask(rows.values(), words.in_rows([*rows]), words.BOXES_NOT_TICKED)
        for colour, found in self._coloured.items():
            if self._is_everywhere(colour):
                continue
            asked = {
                row: item for row, (item, is_ticked) in found.items()
                if not (is_ticked and _is_green(colour))
            }  # fmt: skip
            if asked:
                digits = "".join(f"{round(share * 255):02X}" for share in colour)
                self._ask(asked.values(), words.in_rows([*asked]), words.coloured(digits))

    def _is_everywhere(self, colour: Rgb) -> bool:
        """Whether all cells of the items have a colour alike: then it sets none apart.

        Red all over may be a no.
        """
        red, green, blue = colour
        rows = [row.number for row in self.back.below if self._item_of(row) is not None]
        cells = [(row, at) for row in rows for at in self._at.values()]
        is_red = red > 2 * max(green, blue)
        return len(rows) > 1 and not is_red and all(self._grounds.get(c) == colour for c in cells)

    # Looks

    def _is_hidden(self, row: Row) -> bool:
        """Whether somebody has hidden a row; a filter hides what is not looked for."""
        return row.hidden and not (self.back.traits and self.back.traits.is_filtered)

    def _compare(self, row: Row, where: int | str) -> None:
        """Keep the cells of a row, of an item or elsewhere, to see how they look beside others."""
        if self.back.traits is None or self.sent.texts is None:
            return
        titles = {at: title for title, at in self._at.items()}
        to_fill_in = {self.columns.right, self.columns.change}
        for at, cell in enumerate(row.cells):
            text = _text(cell)
            of_cell = titles.get(at, "") if isinstance(where, int) else text
            is_name = (
                isinstance(where, str) and checklist.is_your_name(row.cell(0).text) and at == 1
            )
            was = self.sent.looks.get((where, "" if is_name else of_cell))
            if not text or was is None or cell.merged or (cell.marks and isinstance(where, int)):
                continue
            now = {t: v for t, v in self._look_of(row, at).items() if t != PHONETIC}
            if link := now.get(LINK):
                now = {**now, LINK: told_of_a_link(link, text)}
            is_filled_in = is_name or (isinstance(where, int) and at in to_fill_in)
            if is_filled_in:  # what a formula shows is what its cell says
                now = {trait: value for trait, value in now.items() if trait != FORMULA}
            self._cells.append(Compared((row.number, at), was, now, is_filled_in))
            self._of_place[row.number, at] = _Place(where, text, of_cell)

    def _ask_about_looks(self) -> None:
        """Ask about what somebody has made look otherwise: of the same rows, all at once."""
        found: dict[tuple[str, str, str], list[tuple[int, int]]] = defaultdict(list)
        for place, traits in set_apart(self._cells).items():
            where, _, title = self._of_place[place]
            for trait, (was, now) in traits.items():
                is_ticked = isinstance(where, int) and is_yes(
                    self._of_place.get((place[0], self.columns.right), _NOWHERE).text
                )
                if trait == LETTERS and is_ticked and _is_green_in(now):
                    continue
                heading = title if isinstance(where, int) else where
                found[heading, trait, words.looks_otherwise(trait, now, was)].append(place)
        of_rows: dict[tuple[tuple[int, ...], str], dict[str, list[_Place]]] = defaultdict(dict)
        for (heading, _, said), places in found.items():
            of = [self._of_place[place] for place in places]
            rows = tuple(sorted({row for row, _ in places}))
            elsewhere = "" if isinstance(of[0].where, int) else heading
            of_rows[rows, elsewhere].setdefault(said, []).extend(of)
        for (rows, elsewhere), looks in of_rows.items():
            cells = [each for of in looks.values() for each in of]
            items = {each.where for each in cells if isinstance(each.where, int)}
            titles = sorted({each.title for each in cells})
            is_one = len(titles) == 1
            where = words.in_column(rows, titles[0]) if is_one else words.in_rows(rows)
            told = [words.of_texts(said, [each.text for each in of]) for said, of in looks.items()]
            self._ask(items or self.seen, elsewhere or where, " / ".join(told))

    def _ask_about_merged(self) -> None:
        """Ask about cells of the table that were made one: they hold several answers, or none."""
        if self.back.traits is None or self.sent.texts is None:
            return
        own = {*self._at.values()}
        rows = {row.number: row for row in self.back.below}
        for area in self.back.traits.merged:
            covered = [n for n in range(area.top, area.bottom + 1) if n in rows]
            items = {item for n in covered if (item := self._item_of(rows[n])) is not None}
            if items and own & {*range(area.left, area.right + 1)}:
                text = _text(rows[covered[0]].cell(area.left))
                self._ask(items, words.in_rows(covered), words.merged_cells(text))


class _Place(NamedTuple):
    """What a cell is that is compared."""

    where: int | str
    """Its item, or where else it stands."""
    text: str
    title: str


_NOWHERE = _Place("", "", "")


def _is_green_in(told: str) -> bool:
    colour = colour_of(told.removeprefix("#"))
    return colour is not None and _is_green(colour)


def _has_lost_letters(now: str, was: str) -> bool:
    """Whether a text is another one with "?" for the letters that a code page does not have."""
    any_for_each = re.escape(now).replace(r"\?", r"[^\x00-\x7f]")
    return "?" in now and re.fullmatch(any_for_each, was) is not None


def _is_green(colour: Rgb) -> bool:
    """Whether a colour says yes, as a yes beside it does."""
    red, green, blue = colour
    return green > red and green > blue
