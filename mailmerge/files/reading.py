"""Reading files whole, and knowing them by their bytes."""

from __future__ import annotations

import hashlib
import stat
from pathlib import Path

from mailmerge.files import words
from mailmerge.findings import InputError

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What a spreadsheet takes for the start of a formula (OWASP, CSV Injection); the wide forms stand
for the others in spreadsheets of East Asia."""


def is_like_formula(text: str) -> bool:
    """Whether a spreadsheet may take a cell's text for a formula."""
    return text.startswith(_FORMULA)


def escaped(text: str) -> str:
    """Return a cell's text so that no spreadsheet takes it for a formula."""
    return f"'{text}" if text.lstrip("'").startswith(_FORMULA) else text


def unescaped(text: str) -> str:
    """Return what a cell's text was before :func:`escaped`."""
    is_escaped = text.startswith("'") and text.lstrip("'").startswith(_FORMULA)
    return text[1:] if is_escaped else text


def digest_of(data: bytes) -> str:
    """Return the SHA-256 of a file's bytes, in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def is_file_with(path: Path, digest: str) -> bool:
    """Whether a file is there and has this digest."""
    try:
        return digest_of(path.read_bytes()) == digest
    except OSError:
        return False


def read_file(path: Path, at_most: int | None = None) -> bytes:
    """Return the bytes of a file.

    Parameters
    ----------
    at_most
        The most bytes that it may have; None for any number.

    Raises
    ------
    InputError
        It cannot be read, is a pipe or a device, which may never end, or it is larger.
    """
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode) and not stat.S_ISDIR(found.st_mode):
            raise InputError(words.no_ordinary_file(path))
        if at_most is not None and found.st_size > at_most:
            raise InputError(words.too_large(path, at_most))
        return path.read_bytes()
    except OSError as error:
        raise InputError(words.unreadable(path, error.strerror or error)) from None
