"""What comes back from a proof pack, read and found sound; nothing is put on record here.

It comes as the file that the pack's page saves, as the text that it makes for a message, or as the
list with its column filled in. All three become :class:`Answers`, as a whole or not at all. An
answer belongs to the seal that its giver saw.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from mailmerge.answers import words
from mailmerge.answers.ticks import is_yes
from mailmerge.files import read_file, too_large
from mailmerge.findings import InputError
from mailmerge.guests.cleaning import clean
from mailmerge.guests.opening import open_table
from mailmerge.guests.tables import Row
from mailmerge.ledger.ledger import Ledger
from mailmerge.proofs.pack import checklist

MAX_BYTES = 5_000_000
"""Answers to ten thousand items, with remarks, take less."""

VERSION = 2
"""Of the answers files that the page writes. The first version had no page, saving and check."""


@dataclass(frozen=True)
class Said:
    """What somebody said about one item."""

    item: int
    seal: str
    """Of the artwork that was seen."""
    verdict: Literal["yes", "change"]
    words: str = ""
    texts: Mapping[str, str] | None = None
    """New texts by field, where they were given."""


@dataclass(frozen=True)
class Answers:
    """Everything that came back at once."""

    way: str
    """``file``, ``text`` or ``workbook``."""
    said_by: str
    said_at: str
    """When it was saved, by the clock of the page that saved it; ``""`` if that is not known."""
    said: tuple[Said, ...]
    pack: str
    """The proof pack that was looked at."""
    page: str = ""
    """The page that it was said on: one for each person and pack; ``""`` where it was none."""
    saving: int = 0
    """Of that page's savings, from 1 on; of two the later one counts. 0 where there is no page."""


def _cleaned(text: str) -> str:
    """Return words on one line, without control and direction characters."""
    joined = " ".join(text.split())
    return "".join(c for c in joined if c.isprintable())


_ID = "[0-9A-Z]{4}-[0-9A-Z]{4}"
"""What a pack and a page are known by."""

_Words = Annotated[str, Field(max_length=4000)]
_Text = Annotated[str, Field(max_length=300)]
"""As they came: the check code was made before anything was cleaned."""


class _FileAnswer(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)
    item: Annotated[int, Field(ge=1, le=10**9)]
    seal: Annotated[str, Field(max_length=40)]
    answer: Literal["yes", "change"]
    words: _Words = ""
    texts: dict[Annotated[str, Field(max_length=80)], _Text] = Field(default_factory=dict)


class _FirstFile(BaseModel):
    """An answers file of the first version."""

    model_config = ConfigDict(extra="forbid", strict=True)
    kind: Literal["answers to a proof pack"]
    version: int
    order: Annotated[str, Field(max_length=40)]
    pack: Annotated[str, Field(max_length=40)]
    by: _Text = ""
    at: Annotated[str, Field(max_length=40)] = ""
    answers: Annotated[list[_FileAnswer], Field(max_length=20_000)]

    def as_it_came(self) -> Answers:
        """Return its answers before they are cleaned."""
        said = tuple(Said(a.item, a.seal, a.answer, a.words, a.texts) for a in self.answers)
        return Answers("file", self.by, self.at, said, self.pack)


class _File(_FirstFile):
    """An answers file of the present version."""

    page: Annotated[str, Field(pattern=rf"^{_ID}$")]
    saving: Annotated[int, Field(ge=1, le=10**6)]
    check: Annotated[str, Field(pattern=r"^[0-9a-f]{8}$")]

    def as_it_came(self) -> Answers:
        """Return its answers before they are cleaned."""
        return replace(super().as_it_came(), page=self.page, saving=self.saving)


def read_answers(ledger: Ledger, path: Path) -> Answers:
    """Read a file that came back: the page's own, a text, or the list as a workbook.

    Raises
    ------
    InputError
        It is none of them, damaged, of another order, or it was edited.
    """
    data = read_file(path, MAX_BYTES)
    if path.suffix.lower() in (".xlsx", ".xlsm", ".ods", ".csv", ".tsv"):
        return _from_workbook(ledger, path)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(words.no_answers_file(path)) from None
    if text.lstrip().startswith("{"):
        return _from_file(ledger, str(path), text)
    return read_text(ledger, str(path), text)


def _from_file(ledger: Ledger, where: str, text: str) -> Answers:
    data = _file_in(where, text)
    if data.order != ledger.order_id:
        raise InputError(words.other_order(where, data.order, ledger.order_id))
    for each in data.answers:
        if each.answer == "yes" and (each.words or each.texts):
            raise InputError(words.yes_and_change(where, each.item))
    answers = data.as_it_came()
    _check_shown(ledger, where, answers)
    if isinstance(data, _File) and data.check != check_of(answers):
        raise InputError(words.file_was_changed(where))
    return _cleaned_answers(answers)


def _file_in(where: str, text: str) -> _FirstFile:
    """Return the answers file that a text holds, of whichever version it is."""

    def once(pairs: list[tuple[str, object]]) -> dict[str, object]:
        keys = [key for key, _ in pairs]
        if twice := next((key for at, key in enumerate(keys) if key in keys[:at]), None):
            raise InputError(words.key_twice(where, twice))
        return dict(pairs)

    try:
        data = json.loads(text, parse_constant=_refused_constant, object_pairs_hook=once)
    except (ValueError, RecursionError):
        raise InputError(words.not_whole(where)) from None
    version = data.get("version")
    if isinstance(version, int) and version not in (1, VERSION):
        raise InputError(words.other_version(where, version, VERSION))
    try:
        return (_FirstFile if version == 1 else _File).model_validate(data)
    except ValidationError as error:
        first = error.errors()[0]
        key = ".".join(map(str, first["loc"])) or "the whole"
        said_of_it = words.wrong_value(where, key, first["msg"], str(first["input"]))
        raise InputError(said_of_it) from None


def _refused_constant(found: str) -> None:
    raise ValueError(found)


def _check_shown(ledger: Ledger, where: str, answers: Answers) -> None:
    """See that the pack, one of this order, showed exactly these items with these seals, each once.

    Raises
    ------
    InputError
        It did not.
    """
    pack = answers.pack
    seen = ledger.shown_in(pack)
    if not seen:
        raise InputError(words.unknown_pack(where, pack))
    numbers: set[int] = set()
    for each in answers.said:
        if each.item not in seen:
            raise InputError(words.not_in_pack(where, each.item, pack))
        if each.seal != seen[each.item]:
            raise InputError(words.other_seal(where, each.item, each.seal, pack, seen[each.item]))
        if each.item in numbers:
            raise InputError(words.answered_twice(where, each.item))
        numbers.add(each.item)


_START = re.compile(rf"Answers to proof pack ({_ID})")
_PAGE = re.compile(rf"Page\s+({_ID}),\s+saving\s+(\d{{1,6}})")
_RIGHT = re.compile(r"Right\s*:(.*)", re.S)
_CHANGE = re.compile(r"Change (\d{1,9})\s*(?:,\s*([^:]{1,80}?)\s*)?:(.*)", re.S)
_FROM = re.compile(r"From\s*:(.*)", re.S)
_WRITTEN = re.compile(r"Written\s*:?\s*(\S*)")
_END = re.compile(r"End of answers\..*?Check ([0-9a-f]{8})", re.S)
_HEADS = re.compile(rf"(?:Page {_ID}|Right\s*:|Change \d|From\s*:|Written|End of answers)")


def read_text(ledger: Ledger, where: str, text: str) -> Answers:
    """Read the text that the page makes for a message, as it arrives.

    It may be quoted, wrapped, and have more text around it.

    Raises
    ------
    InputError
        It is not there, not whole, was edited, belongs to another order, or there are several.
    """
    if len(text) > MAX_BYTES:
        raise InputError(too_large(where, MAX_BYTES))
    rows = [re.sub(r"^[\s>|*]+", "", row).strip() for row in text.splitlines()]
    starts = [at for at, row in enumerate(rows) if _START.search(row)]
    if not starts:
        raise InputError(words.no_answers_in_text(where))
    blocks = [rows[at:end] for at, end in pairwise([*starts, len(rows)])]
    found = [_block(ledger, where, block) for block in blocks]
    if any(each != found[0] for each in found):
        raise InputError(words.several_texts(where, len(found)))
    return found[0]


def _block(ledger: Ledger, where: str, rows: list[str]) -> Answers:
    """Read one text, from its first line to its end or beyond."""
    started = _START.search(rows[0])
    assert started is not None
    pack = started[1]
    parts: list[str] = []
    for row in rows[1:]:
        if _HEADS.match(row):
            parts.append(row)
        elif parts and row:
            parts[-1] += f" {row}"
        if parts and _END.match(parts[-1]):
            break
    seen = ledger.shown_in(pack)
    if not seen:
        raise InputError(words.unknown_pack(where, pack))
    end = _END.match(parts[-1]) if parts else None
    changed = InputError(words.text_not_whole(where))
    if end is None:
        raise changed
    answers = Answers("text", "", "", (), pack)
    verdicts: dict[int, Said] = {}
    for part in parts[:-1]:
        if match := _RIGHT.match(part):
            for number in _numbers(match[1], changed):
                if number in verdicts:
                    raise changed
                verdicts[number] = Said(number, seen.get(number, ""), "yes")
        elif match := _CHANGE.match(part):
            # As it came: the check code was made before anything was cleaned.
            number, field, remark = int(match[1]), match[2], match[3].strip()
            before = verdicts.get(number)
            if before and (before.verdict == "yes" or not field):
                raise changed
            texts = {**((before and before.texts) or {}), **({field: remark} if field else {})}
            kept = before.words if before else ""
            seal = seen.get(number, "")
            verdicts[number] = Said(number, seal, "change", kept if field else remark, texts)
        elif match := _FROM.match(part):
            answers = replace(answers, said_by=match[1])
        elif match := _WRITTEN.match(part):
            answers = replace(answers, said_at=match[1])
        elif match := _PAGE.match(part):
            answers = replace(answers, page=match[1], saving=int(match[2]))
    answers = replace(answers, said=tuple(verdicts[number] for number in sorted(verdicts)))
    if check_of(answers) != end[1]:
        raise changed
    _check_shown(ledger, where, answers)
    return _cleaned_answers(answers)


def _cleaned_answers(answers: Answers) -> Answers:
    said = tuple(map(_cleaned_answer, answers.said))
    by, at = _cleaned(answers.said_by)[:300], answers.said_at[:40]
    return replace(answers, said_by=by, said_at=at, said=said)


def _cleaned_answer(said: Said) -> Said:
    texts = {field: _cleaned(text)[:300] for field, text in (said.texts or {}).items()}
    return replace(said, words=_cleaned(said.words)[:4000], texts=texts)


def _numbers(text: str, wrong: InputError) -> list[int]:
    numbers: list[int] = []
    for part in filter(None, re.split(r"[,;\s]+", text.strip(" ."))):
        match = re.fullmatch(r"(\d{1,9})(?:[-–](\d{1,9}))?", part)
        if match is None:
            raise wrong
        low, high = int(match[1]), int(match[2] or match[1])
        if not low <= high < low + 20_000:
            raise wrong
        numbers += range(low, high + 1)
    return numbers


_SQUASHED = str.maketrans(
    {"‘": "'", "’": "'", "“": '"', "”": '"', "„": '"', "–": "-", "—": "-", "…": "..."}
)


def _squashed(text: str) -> str:
    """Return what programs for messages leave alone: no blanks, plain quotes and dashes."""
    plain = unicodedata.normalize("NFC", text).translate(_SQUASHED)
    return "".join(c for c in plain if not c.isspace() and unicodedata.category(c) not in _UNSEEN)


_UNSEEN = ("Cf", "Cc")


def check_of(answers: Answers) -> str:
    """Return the check code of answers: FNV-1a of 32 bits (Fowler, Noll, Vo; RFC 9923), in hex.

    It finds what was lost or changed on the way; it is no signature. The page computes the same.
    That of answers without a page is of the pack and what was said alone.
    """
    page = [answers.page, str(answers.saving), _squashed(answers.said_by),
            _squashed(answers.said_at)] if answers.page else []  # fmt: skip
    rows = ["|".join([answers.pack, *page])]
    for each in sorted(answers.said, key=lambda each: each.item):
        texts = [f"{field}={_squashed(text)}" for field, text in sorted((each.texts or {}).items())]
        rows.append("|".join([str(each.item), each.verdict, _squashed(each.words), *texts]))
    code = 0x811C9DC5
    for byte in "\n".join(rows).encode("utf-8", "surrogatepass"):
        code = ((code ^ byte) * 0x01000193) & 0xFFFFFFFF
    return f"{code:08x}"


_HEADER_WITHIN = 30


def _from_workbook(ledger: Ledger, path: Path) -> Answers:
    """Read the list of a proof pack, with its columns filled in.

    A text that was changed in its own cell counts as a change, too.
    """
    for sheet in open_table(path).sheets:
        rows = sheet.rows()
        said_by = ""
        for _, row in zip(range(_HEADER_WITHIN), rows, strict=False):
            if checklist.is_your_name(row.cell(0).text):
                said_by = _cleaned(row.cell(1).text)[:300]
            columns = checklist.columns_in([cell.text for cell in row.cells])
            if columns is not None:
                said = _rows_said(ledger, path, rows, columns)
                answers = Answers("workbook", said_by, "", said, columns.pack)
                _check_shown(ledger, str(path), answers)
                return answers
    raise InputError(words.no_list_of_a_pack(path))


def _rows_said(
    ledger: Ledger, path: Path, rows: Iterable[Row], columns: checklist.ListColumns
) -> tuple[Said, ...]:
    about = ledger.texts_in(columns.pack)
    said: list[Said] = []
    for row in rows:
        item = row.cell(columns.item).text.strip().removesuffix(".0")
        if not item:
            continue
        where = f"{path}: row {row.number}"
        if not (item.isascii() and item.isdigit() and len(item) < 10):
            raise InputError(words.no_item_number(where, columns.titles[0], item))
        number = int(item)
        tick = _cleaned(row.cell(columns.right).text).casefold().strip(" .,!")
        remark = _cleaned(row.cell(columns.change).text)[:4000]
        texts = {}
        for field, text in about.get(number, {}).items():
            title = checklist.title_of(columns.language, field)
            if (at := columns.column_of(field)) is None:
                continue
            new, _ = clean(field, row.cell(at).text)
            if text and not new:
                raise InputError(words.emptied(where, title, text, columns.titles[2]))
            if new != text:
                texts[field] = new[:300]
        if remark or texts:
            verdict: Literal["yes", "change"] = "change"
        elif not tick:
            continue
        elif is_yes(tick):
            verdict = "yes"
        else:  # whatever it is, it is no yes
            verdict, remark = "change", _cleaned(row.cell(columns.right).text)[:4000]
        said.append(Said(number, row.cell(columns.seal).text.strip(), verdict, remark, texts))
    return tuple(said)
