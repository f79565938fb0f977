"""Any file that may hold a list, as a table: which reader it is for."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from mailmerge import reading
from mailmerge.files import unreadable
from mailmerge.findings import InputError
from mailmerge.guests import words
from mailmerge.guests.tables import Rows, Sheet, Table

if TYPE_CHECKING:
    from mailmerge.reading import Outside

_LOOKS_LIKE = {
    b"\xff\xd8\xff": "a JPEG picture",
    b"\x89PNG": "a PNG picture",
    b"GIF8": "a GIF picture",
    b"%PDF": "a PDF",
    b"{\\rtf": "a rich-text document",
    b"SQLite format 3": "a database",
    b"\x1f\x8b": "a gzip archive",
    b"Rar!": "an archive",
    b"7z\xbc\xaf": "an archive",
}


def open_table(path: Path) -> Table:
    """Open a list file in the room for reading; its rows come from there, too.

    Raises
    ------
    InputError
        See :func:`table_in`, and :func:`mailmerge.reading.apart`.
    """
    file = reading.Outside(path)
    table = file.apart(table_in, path)
    return replace(
        table,
        sheets=tuple(_apart(file, sheet) for sheet in table.sheets),
        hidden_sheets=tuple(_apart(file, sheet) for sheet in table.hidden_sheets),
        drawn=partial(file.apart, table.drawn),
        apart=file.apart,
    )


def _apart(file: Outside, sheet: Sheet) -> Sheet:
    """Return a sheet of which everything that is still to be read is read in the room."""
    return replace(
        sheet,
        rows=Rows(partial(file.streamed, sheet.rows)),
        ruled_columns=partial(file.apart, sheet.ruled_columns),
        colours=partial(file.apart, sheet.colours),
        grounds=partial(file.apart, sheet.grounds),
    )


def table_in(path: Path) -> Table:
    """Open a list file by what it holds, not only by what it is called.

    Raises
    ------
    InputError
        The file is missing, unreadable, empty, encrypted, damaged, or of another kind.
    """
    ending = path.suffix.lower()
    start = _start_of(path)
    for magic, kind in _LOOKS_LIKE.items():
        if start.startswith(magic):
            raise InputError(words.really(path, kind))
    if start.startswith(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"):
        raise InputError(words.protected_or_old(path))
    is_zip = start.startswith(b"PK")
    match ending:
        case ".xlsx" | ".xlsm" | ".ods":
            if not is_zip:
                is_text = b"\0" not in start or start[:2] in (b"\xff\xfe", b"\xfe\xff")
                said = words.text_called_workbook if is_text else words.other_called_workbook
                raise InputError(said(path))
            from mailmerge.guests.workbook import open_workbook

            return open_workbook(path)
        case ".csv" | ".tsv" | ".tab" | ".txt":
            if is_zip:
                raise InputError(words.workbook_called_text(path))
            from mailmerge.guests.textfile import open_text

            return open_text(path)
        case _:
            raise InputError(words.wrong_ending(path, ending))


def _start_of(path: Path) -> bytes:
    try:
        if path.exists() and not path.is_file():
            raise InputError(words.no_ordinary_file(path))
        with path.open("rb") as file:
            start = file.read(4096)
    except FileNotFoundError:
        raise InputError(words.no_such_list(path)) from None
    except PermissionError:
        raise InputError(words.no_permission(path)) from None
    except OSError as error:
        raise InputError(unreadable(path, error.strerror or error)) from None
    if not start.strip():
        raise InputError(words.empty(path))
    return start
