"""Forgetting an order: guest lists are personal data, and a job that is done needs them no more.

Names, pictures and answers go; how many cups there were, and what became of them, stays. Whether
anything is left is not believed but searched for.
"""

from __future__ import annotations

import io
import json
import os
import re
import sys
import unicodedata
import zipfile
import zlib
from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from mailmerge.files import is_link
from mailmerge.findings import InputError
from mailmerge.guests.names import is_particle, slug
from mailmerge.ledger import words
from mailmerge.ledger.copies import COPIES
from mailmerge.ledger.forgotten import FORGOTTEN
from mailmerge.ledger.ledger import LEDGER, LEDGER_FILES, MIGRATIONS, Ledger, now
from mailmerge.ledger.standing import Record
from mailmerge.ledger.tray import (
    ASIDE,
    FORMER_LISTS,
    MERGED,
    PACK,
    PAPERS,
    TO_ENGRAVE,
    see_that_it_is_last,
    take_up,
)
from mailmerge.orders.said import ORDER_FILE, list_of
from mailmerge.shelves import read_toml

_ANSWERS = re.compile(r"answers-[0-9A-Z]{4}-[0-9A-Z]{4}.*\.json")
_LARGEST = 200_000_000
_DEEPEST = 3
"""Archives within archives that are looked into."""


@dataclass(frozen=True)
class Trace:
    """A file in which a name was found."""

    path: Path
    name: str


@dataclass(frozen=True)
class Search:
    """What a search of a folder came to."""

    traces: tuple[Trace, ...]
    unread: tuple[Path, ...]
    """Files that may hold anything: pictures, PDFs, what is packed, locked or too large."""
    files: int


@dataclass(frozen=True)
class Names:
    """What to search for."""

    whole: frozenset[str]
    """Without case, anywhere: names of several words, and what is written without blanks."""
    words: frozenset[str]
    """Without case, as words of a text."""
    short: frozenset[str]
    """Of one or two letters, as words of a text, with their capitals."""

    @property
    def count(self) -> int:
        """How many names and words of names there are."""
        return len(self.whole | self.words | self.short)

    def found_in(self, text: str, with_words: bool = True) -> str:
        """Return a name that a text holds, or ``""``.

        Little is left of a picture read as text where only letters of names are looked at; what
        seems to hold one even so is read whole.
        """
        near = self._near(text)
        return self._found_in(near, with_words) and self._found_in(text, with_words)

    def _found_in(self, text: str, with_words: bool) -> str:
        text = unicodedata.normalize("NFC", text)
        plain = " ".join(text.casefold().split())
        for name in self.whole:
            if name in plain:
                return name
        if with_words:
            for word in set(_WORDS.findall(plain)) & self.words:
                return str(word)
            for word in set(_WORDS.findall(text)) & self.short:
                return str(word)
        return ""

    def _near(self, text: str) -> str:
        """Return a text with a ``NUL`` for every run of letters that no name can be part of."""
        codes = np.frombuffer(text.encode("utf-32-le", "surrogatepass"), "<u4")
        is_near = self._letters[codes]
        is_kept = is_near.copy()
        is_kept[1:] |= is_near[:-1]
        kept = np.where(is_near, codes, 0)[is_kept]
        return str(kept.astype("<u4").tobytes(), "utf-32-le", "surrogatepass")

    @cached_property
    def _letters(self) -> NDArray[np.bool_]:
        """Whether a letter, by its number, can be part of a name in some case and form.

        Blanks and marks can, whichever they are: they are joined with what is beside them.
        """
        own = set(_plain("".join(self.whole | self.words | self.short)))
        letters = np.zeros(sys.maxunicode + 1, np.bool_)
        letters[[ord(letter) for letter in own]] = True
        letters[[code for code, plain in _written().items() if not own.isdisjoint(plain)]] = True
        letters[_joined()] = True
        return letters


_LAST_WRITTEN = 0x30000
"""From here on no letter has a case or parts (Unicode 16: the last ones are U+2F800 to U+2FA1D)."""


@cache
def _written() -> dict[int, str]:
    """Return those letters, by number, that are other ones without case and taken apart."""
    letters = ((code, _plain(chr(code))) for code in range(_LAST_WRITTEN))
    return {code: plain for code, plain in letters if plain != chr(code)}


@cache
def _joined() -> list[int]:
    """Return the numbers of all blanks and marks."""
    return [
        code
        for code in range(_LAST_WRITTEN)
        if unicodedata.combining(chr(code)) or chr(code).isspace()
    ]


def _plain(text: str) -> str:
    folded = unicodedata.normalize("NFD", text).casefold()
    return unicodedata.normalize("NFD", folded)


_WORDS = re.compile(r"[^\W_]+")


def names_of(ledger: Ledger) -> Names:
    """Return the names that an order holds or has held, in the list's own and corrected form."""
    found: set[str] = set(ledger.former_names())
    asked = [*ledger.questions(), *(each.question for each in ledger.settlements())]
    of_guests = [known.fields for known in ledger.guests()]
    of_guests += [addition.fields for addition in ledger.additions()]
    for fields in (*of_guests, *(question.fields for question in asked)):
        found.update(fields.get(field, "") for field in ("name", "first", "last"))
    said_by = {text for each in asked for text in (each.said_by, each.words)}
    for record in ledger.records():
        found.update(record.entry.texts.get(f, "") for f in ("name", "first", "last"))
        for correction in record.corrections:
            if correction.field in ("name", "first", "last"):
                found.update((correction.text, correction.was))
        said_by.update(answer.said_by for answer in record.answers)
    whole, words, short = set[str](), set[str](), set[str]()
    for name in found:
        name = " ".join(unicodedata.normalize("NFC", name).split())
        if " " in name:
            whole.update((name.casefold(), slug(name)))
        for word in re.split(r"[\s\d_.,;:/()'’\"-]+", name):
            if not word or is_particle(word):
                continue
            if _WORDS.fullmatch(word) is None or word.casefold() == word.upper():
                whole.add(word.casefold())  # marks within it, or no capitals: no word of \w alone
            elif len(word) > 2:
                words.add(word.casefold())
            else:
                short.add(word)
    whole.update(" ".join(said.casefold().split()) for said in said_by if " " in said.strip())
    return Names(frozenset(whole - {"", "guest"}), frozenset(words), frozenset(short))


def ours(folder: Path) -> list[str]:
    """Return what of an order's folder goes: the list, what was made of it, and answers files."""
    found = [MERGED, PACK, TO_ENGRAVE, ASIDE, PAPERS, COPIES, FORMER_LISTS, "specimen.png"]
    found += [path.name for path in folder.iterdir() if _ANSWERS.fullmatch(path.name)]
    listed = _list_within(folder)
    found += [listed] if listed else []
    return [name for name in found if (folder / name).exists() or is_link(folder / name)]


def _list_within(folder: Path) -> str | None:
    """Return the name of an order's list; None where it lies outside of the folder."""
    listed = list_of(folder)
    if listed is None or not listed.parent.resolve().is_relative_to(folder.resolve()):
        return None
    return str(listed.parent.resolve().relative_to(folder.resolve()) / listed.name)


def _others(folder: Path, found: Search) -> Search:
    """Return of a search what is about files that would stay."""
    going = [folder / name for name in (*ours(folder), *LEDGER_FILES)]

    def stays(path: Path) -> bool:
        return not any(path.is_relative_to(each) for each in going)

    return Search(
        tuple(trace for trace in found.traces if stays(trace.path)),
        tuple(path for path in found.unread if stays(path)),
        found.files,
    )


@dataclass(frozen=True)
class Searched:
    """An order's folder, searched before anything of it goes: :func:`searched` makes it."""

    ledger: Ledger
    names: Names
    outside: Path | None
    """The order's list, where it lies outside of its folder."""


def searched(ledger: Ledger, leave_others: bool) -> Searched:
    """Search an order's folder for what would be left of its names.

    Parameters
    ----------
    leave_others
        Whether files that are not ours may go on holding names.

    Raises
    ------
    InputError
        Files that are not ours hold names and may not; or the order was forgotten already.
    """
    folder = ledger.folder
    if ledger.fact(FORGOTTEN):
        ledger.shrink()  # for one that was cut off before its last step
        raise InputError(words.forgotten_already(folder))
    with ledger.writing() as change:
        see_that_it_is_last(change)
        take_up(change)
    names = names_of(ledger)
    found = _others(folder, search(ledger, names))
    if found.traces and not leave_others:
        traces = [(each.path.relative_to(folder), each.name) for each in found.traces[:12]]
        raise InputError(words.names_in_other_files(folder, traces))
    listed_in = list_of(folder)
    is_outside = listed_in is not None and listed_in.exists() and _list_within(folder) is None
    return Searched(ledger, names, listed_in if is_outside else None)


def forget(before: Searched) -> list[Path]:
    """Take everything personal out of an order's folder and its ledger.

    The files go first: a call that is cut off can be made again as long as the ledger knows what
    to search for.

    Returns
    -------
    list of Path
        Links, which were left alone with all that they lead to.

    Raises
    ------
    InputError
        A file cannot be removed, or somebody else reads the ledger.
    """
    ledger = before.ledger
    ledger.shrink()  # whoever still reads it is noticed before anything is gone
    with ledger.writing() as change:  # nobody makes new files while these go
        if names_of(change) != before.names:
            raise InputError(words.changed_meanwhile(ledger.folder))
        kept = _counts(change.records())
        linked = [link for name in ours(ledger.folder) for link in change.root.clear(name)]
        change.clear(FORGOTTEN, json.dumps(kept))
    ledger.shrink()
    return linked


def _counts(records: list[Record]) -> dict[str, object]:
    """Return what is kept of an order: numbers, and nothing that could belong to a person."""
    spoiled: Counter[str] = Counter()
    for record in records:
        spoiled[record.entry.kind.in_words] += record.spoiled
    return {
        "at": now(),
        "items": len(records),
        "by standing": dict(Counter(str(record.standing) for record in records)),
        "answers": sum(len(record.answers) for record in records),
        "corrections": len({c for record in records for c in record.corrections}),
        "engraved": sum(e.what == "engraved" for record in records for e in record.events),
        "blanks spoiled": {blank: count for blank, count in spoiled.items() if count},
    }


def search(ledger: Ledger, names: Names) -> Search:
    """Search every file of an order's folder, and the ledger itself, for names.

    What is on record is searched through SQLite alone: see :meth:`Ledger.image`.
    """
    folder = ledger.folder
    own = [path for name in LEDGER_FILES if (path := folder / name).is_file()]
    found = search_files(folder, names, own)
    held = next(filter(None, map(names.found_in, ledger.texts())), "") or _held_in(
        _without_schema(ledger.image()), names
    )
    traces = (Trace(folder / LEDGER, held),) if held else ()
    return Search((*found.traces, *traces), found.unread, found.files + 1)


def search_files(folder: Path, names: Names, but: Collection[Path] = ()) -> Search:
    """Search every file of a folder, its path and what it holds, for names.

    Looks into archives (workbooks are some), at text in UTF-8, UTF-16 and Windows-1252, and at
    escaped letters. What else there is, is searched byte for byte, and told as not read.

    Parameters
    ----------
    but
        Files that are not opened, under whatever name they lie there.
    """
    traces: list[Trace] = []
    unread: list[Path] = []
    files = 0
    left_out = [path.stat() for path in but]
    for path in sorted(folder.rglob("*")):
        place = str(path.relative_to(folder))
        name = names.found_in(re.sub(r"[-_./\\]", " ", place)) or names.found_in(place)
        if path.is_file() and not any(os.path.samestat(path.stat(), each) for each in left_out):
            files += 1
            is_read, held = _look_into(path, names)
            name = name or held
            if not is_read:
                unread.append(path)
        if name:
            traces.append(Trace(path, name))
    return Search(tuple(traces), tuple(unread), files)


def _look_into(path: Path, names: Names) -> tuple[bool, str]:
    """Return whether a file could be read, and a name that it holds or ``""``."""
    if path.stat().st_size > _LARGEST:
        return False, ""
    data = path.read_bytes()
    if path.name == ORDER_FILE:
        return True, names.found_in(_own_words(path))
    if data.startswith(_DATABASE):
        return True, _held_in(_without_schema(data), names)
    return _read(data, names, _DEEPEST)


_DATABASE = b"SQLite format 3\0"
_ENCODINGS = ("utf-8", "utf-16-le", "cp1252")


def _held_in(data: bytes, names: Names) -> str:
    held = (names.found_in(data.decode(encoding, "replace")) for encoding in _ENCODINGS)
    return next(filter(None, held), "")


def _own_words(file: Path) -> str:
    """Return what an ``order.toml`` says of the party: a coat called like a guest is no trace."""
    table = read_toml(file).get("order")
    words = [table.get(key) for key in ("title", "subtitle")] if isinstance(table, dict) else []
    return "\n".join(word for word in words if isinstance(word, str))


def _read(data: bytes, names: Names, depth: int) -> tuple[bool, str]:
    """Return whether a file's bytes could be read as what they are, and a name that they hold."""
    if zipfile.is_zipfile(io.BytesIO(data)):
        return _read_archive(data, names, depth)
    for encoding in ("utf-8-sig", "utf-16"):
        try:
            if encoding == "utf-16" and data[:2] not in (b"\xff\xfe", b"\xfe\xff"):
                break
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" in text:
            break
        return True, names.found_in(text) or names.found_in(_ESCAPED.sub(_unescaped, text))
    is_text = not any(byte < 9 or 13 < byte < 32 for byte in data[:100_000])
    for start, encoding in ((0, "utf-8"), (0, "cp1252"), (0, "utf-16-le"), (1, "utf-16-le"),
                            (0, "utf-16-be"), (1, "utf-16-be")):  # fmt: skip
        held = names.found_in(data[start:].decode(encoding, "replace"), is_text)
        if held:
            return is_text, held
    return is_text, ""


def _read_archive(data: bytes, names: Names, depth: int) -> tuple[bool, str]:
    is_read = depth > 0
    if not is_read:
        return False, ""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            for entry in archive.infolist():
                if held := names.found_in(re.sub(r"[-_./]", " ", entry.filename)):
                    return is_read, held
                if entry.file_size > _LARGEST:
                    is_read = False
                    continue
                is_whole, held = _read(archive.read(entry), names, depth - 1)
                is_read = is_read and is_whole
                if held:
                    return is_read, held
    except (zipfile.BadZipFile, zlib.error, RuntimeError, NotImplementedError, EOFError):
        return False, ""  # damaged, locked, or packed in a way that is not known
    return is_read, ""


_ESCAPED = re.compile(r"\\u([0-9a-fA-F]{4})|&#x([0-9a-fA-F]{1,6});|&#([0-9]{1,7});")


def _unescaped(match: re.Match[str]) -> str:
    code = int(match[1] or match[2], 16) if match[1] or match[2] else int(match[3])
    return chr(code) if code < 0xD800 or 0xDFFF < code < 0x110000 else ""


def _without_schema(data: bytes) -> bytes:
    """Return a ledger's bytes without its tables' own words: "guest" there is nobody's name."""
    for migration in MIGRATIONS:
        for statement in migration.split(";\n"):
            data = data.replace(statement.strip().encode(), b"")
    return re.sub(rb"\b(guest|item)\b", b"", data)  # of the tables that count
