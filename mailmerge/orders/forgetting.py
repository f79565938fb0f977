"""Forgetting an order: guest lists are personal data, and a job that is done needs them no more.

Names, pictures and answers go; how many cups there were, and what became of them, stays. Whether
anything is left is not believed but searched for.
"""

from __future__ import annotations

import json
import re
import shutil
import unicodedata
import zipfile
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from mailmerge.files import writing
from mailmerge.findings import InputError
from mailmerge.guests.names import is_particle, slug
from mailmerge.orders.ledger import LEDGER, MIGRATIONS, Ledger, now, open_ledger
from mailmerge.orders.order import ORDER_FILE
from mailmerge.orders.release import MERGED, PACK, TO_ENGRAVE
from mailmerge.orders.standing import Record
from mailmerge.shelves import read_toml

FORGOTTEN = "forgotten"
"""The fact that holds what is kept of a forgotten order."""

_ANSWERS = re.compile(r"answers-[0-9A-Z]{4}-[0-9A-Z]{4}.*\.json")
_SHORTEST = 3
"""Letters of a word of a name that is searched for."""
_LARGEST = 100_000_000


@dataclass(frozen=True)
class Trace:
    """A file in which a name was found."""

    path: Path
    name: str


@dataclass(frozen=True)
class Names:
    """What to search for: whole names anywhere, their single words where text is."""

    whole: frozenset[str]
    words: frozenset[str]

    def found_in(self, text: str, with_words: bool) -> str:
        """Return a name that a text holds, or ``""``."""
        plain = _plain(text)
        for name in self.whole:
            if name in plain:
                return name
        if with_words:
            for word in set(re.findall(r"[^\W_]+", plain)):
                if word in self.words:
                    return str(word)
        return ""


def names_of(records: Iterable[Record], ledger: Ledger) -> Names:
    """Return the names that an order holds, in the list's own and in corrected form."""
    names: set[str] = set()
    for fields in (known.fields for known in ledger.guests()):
        names.update(fields.get(field, "") for field in ("name", "first", "last"))
    for record in records:
        names.update(record.entry["guest"].get(f, "") for f in ("name", "first", "last"))
        names.update(c.text for c in record.corrections if c.field in ("name", "first", "last"))
        names.update(c.was for c in record.corrections if c.field in ("name", "first", "last"))
        names.update(answer.said_by for answer in record.answers)
    words = {
        _plain(word)
        for name in names
        for word in re.findall(r"[^\W\d_]+", name)
        if len(word) >= _SHORTEST and not is_particle(word)
    }
    several = {_plain(name) for name in names if len(name.split()) > 1}
    slugs = {slug(name) for name in names if len(name.split()) > 1}
    return Names(frozenset((several | slugs) - {"", "guest"}), frozenset(words))


def _plain(text: str) -> str:
    return " ".join(unicodedata.normalize("NFC", text).casefold().split())


def ours(folder: Path) -> list[Path]:
    """Return what of an order's folder goes: the list, what was made of it, and answers files."""
    found = [folder / name for name in (MERGED, PACK, TO_ENGRAVE, "specimen.png")]
    found += [path for path in folder.iterdir() if _ANSWERS.fullmatch(path.name)]
    listed = read_toml(folder / ORDER_FILE).get("order", {}).get("list")
    if isinstance(listed, str):
        path = (folder / listed).resolve()
        if path.is_relative_to(folder.resolve()) and path != folder.resolve():
            found.append(path)
    return [path for path in found if path.exists()]


def others_with_names(folder: Path, names: Names) -> list[Trace]:
    """Return the files of an order's folder that would stay, and hold a name."""
    going = [path.resolve() for path in ours(folder)] + [
        path.resolve() for path in folder.glob(f"{LEDGER}*")
    ]
    return [
        trace for trace in traces(folder, names)
        if not any(trace.path.resolve().is_relative_to(path) for path in going)
    ]  # fmt: skip


def forget(ledger: Ledger) -> dict[str, object]:
    """Take everything personal out of an order's folder and its ledger; return what is kept.

    The files go first: a call that is cut off can be made again as long as the ledger knows what
    to search for.

    Raises
    ------
    InputError
        A file cannot be removed, or somebody else reads the ledger.
    """
    ledger.shrink()  # whoever still reads it is noticed before anything is gone
    records = ledger.records()
    kept = _counts(records)
    for path in ours(ledger.folder):
        with writing(path):
            if path.is_dir():
                shutil.rmtree(path)
            else:
                path.unlink()
    with ledger.writing():
        ledger.clear(FORGOTTEN, json.dumps(kept))
    ledger.shrink()
    return kept


def _counts(records: list[Record]) -> dict[str, object]:
    """Return what is kept of an order: numbers, and nothing that could belong to a person."""
    spoiled: Counter[str] = Counter()
    for record in records:
        spoiled[f"{record.entry['blank']}, {record.entry['coat']}"] += record.spoiled
    return {
        "at": now(),
        "items": len(records),
        "by standing": dict(Counter(str(record.standing) for record in records)),
        "answers": sum(len(record.answers) for record in records),
        "corrections": len({c for record in records for c in record.corrections}),
        "engraved": sum(e.what == "engraved" for record in records for e in record.events),
        "blanks spoiled": {blank: count for blank, count in spoiled.items() if count},
    }


def traces(folder: Path, names: Names) -> list[Trace]:
    """Search every file of a folder, its name and what it holds, for names.

    Looks into archives (workbooks are some), at text in UTF-8, UTF-16 and Windows-1252, and at
    escaped letters. Single words of names count in text and in the ledger, whole ones everywhere.
    """
    found: list[Trace] = []
    for path in sorted(folder.rglob("*")):
        if not path.is_file():
            continue
        name = names.found_in(path.name.replace("-", " "), True) or names.found_in(path.name, True)
        if not name:
            name = next(
                filter(None, (names.found_in(text, words) for text, words in _texts(path))), ""
            )
        if name:
            found.append(Trace(path, name))
    return found


def _texts(path: Path) -> Iterator[tuple[str, bool]]:
    """Yield what a file may be read as, and whether single words of it count."""
    if path.stat().st_size > _LARGEST:
        return
    data = path.read_bytes()
    is_ledger = path.name.startswith(LEDGER)
    if is_ledger:
        data = _without_schema(data)
    if zipfile.is_zipfile(path):
        with zipfile.ZipFile(path) as archive:
            for entry in archive.infolist():
                if entry.file_size <= _LARGEST:
                    yield from _readings(archive.read(entry), is_ledger)
    yield from _readings(data, is_ledger)


def _without_schema(data: bytes) -> bytes:
    """Return a ledger's bytes without its tables' own words: "guest" there is nobody's name."""
    for migration in MIGRATIONS:
        for statement in migration.split(";\n"):
            data = data.replace(statement.strip().encode(), b"")
    return re.sub(rb"\b(guest|item)\b", b"", data)  # of the tables that count


def _readings(data: bytes, is_ledger: bool) -> Iterator[tuple[str, bool]]:
    try:
        text = data.decode("utf-8-sig")
        yield text, True
        yield re.sub(r"\\u([0-9a-fA-F]{4})|&#x([0-9a-fA-F]{1,6});", _unescaped, text), True
        return
    except UnicodeDecodeError:
        pass
    yield data.decode("utf-8", errors="replace"), is_ledger
    yield data.decode("cp1252", errors="replace"), is_ledger or b"\0" not in data
    for encoding in ("utf-16-le", "utf-16-be"):
        for start in (0, 1):
            yield data[start:].decode(encoding, errors="replace"), data[:2] in _UTF_16


_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


def _unescaped(match: re.Match[str]) -> str:
    code = int(match[1] or match[2], 16)
    return chr(code) if code < 0xD800 or 0xDFFF < code < 0x110000 else ""


def refuse_forgotten_in(folder: Path) -> None:
    """See that the order in a folder was not forgotten.

    Raises
    ------
    InputError
        It was, or its ledger cannot be read.
    """
    if (folder / LEDGER).exists():
        with open_ledger(folder) as ledger:
            refuse_forgotten(ledger)


def refuse_forgotten(ledger: Ledger) -> None:
    """See that an order was not forgotten.

    Raises
    ------
    InputError
        It was.
    """
    if kept := ledger.fact(FORGOTTEN):
        at = str(json.loads(kept)["at"])[:10]
        raise InputError(
            f"{ledger.folder}: this order was forgotten on {at}, there is nothing of it to work "
            f"with; start a new one with: mailmerge new"
        )
