"""Any file that may hold a list, as a table: which reader it is for."""

from __future__ import annotations

from pathlib import Path

from mailmerge.findings import InputError
from mailmerge.guests import textfile, workbook
from mailmerge.guests.tables import Table

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


WANTED = "want .xlsx, .ods, .csv or .tsv"


def open_table(path: Path) -> Table:
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
            raise InputError(f"{path}: is really {kind}, {WANTED}")
    if start.startswith(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"):
        raise InputError(
            f"{path}: is protected by a password or in the old .xls format; open it in a "
            f"spreadsheet program, take the password off and save it as .xlsx"
        )
    is_zip = start.startswith(b"PK")
    match ending:
        case ".xlsx" | ".xlsm" | ".ods":
            if not is_zip:
                is_text = b"\0" not in start or start[:2] in (b"\xff\xfe", b"\xfe\xff")
                really = "plain text; if it is a CSV, rename it to .csv" if is_text else "not one"
                raise InputError(f"{path}: is called a workbook but is {really}")
            return workbook.open_workbook(path)
        case ".csv" | ".tsv" | ".tab" | ".txt":
            if is_zip:
                raise InputError(f"{path}: is called text but is a workbook or an archive")
            return textfile.open_text(path)
        case _:
            raise InputError(f'{path}: found the ending "{ending}", {WANTED}')


def _start_of(path: Path) -> bytes:
    try:
        if path.exists() and not path.is_file():
            raise InputError(f"{path}: is a folder or no ordinary file, {WANTED}")
        with path.open("rb") as file:
            start = file.read(4096)
    except FileNotFoundError:
        raise InputError(f"{path}: there is no such list") from None
    except PermissionError:
        raise InputError(
            f"{path}: cannot be read: no permission; if it is open in another program, close it"
        ) from None
    except OSError as error:
        raise InputError(f"{path}: cannot be read: {error.strerror or error}") from None
    if not start.strip():
        raise InputError(f"{path}: is empty, want a list with a header row and guests")
    return start
