"""Sending a proof pack: all of it as one file."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from mailmerge.deeds import words
from mailmerge.deeds.talk import Sent, talk
from mailmerge.files import read_file, write_file
from mailmerge.findings import InputError
from mailmerge.ledger.tray import PACK

__all__ = ["Wrapped", "wrap", "wrapped"]

_ZIPPED = (".html", ".pdf")
"""Endings of what becomes smaller; pictures and workbooks are as small as they get."""


@dataclass(frozen=True)
class Wrapped:
    """A proof pack as one file, named after the order."""

    name: str
    parts: Iterator[bytes]
    """Made while they are read, one file of the pack after the other."""


def wrapped(order: Path) -> Wrapped:
    """Return the newest proof pack as one zip file, to be sent.

    Raises
    ------
    InputError
        No pack was made yet, or its files do not lie there any more.
    """
    found = talk(order)
    if found.sent is None or not found.sent.page:
        raise InputError(words.no_pack(found.folder))
    stem = PurePosixPath(found.sent.page).stem
    return Wrapped(f"{stem}.zip", _zipped(found.folder / PACK, stem, found.sent))


def wrap(order: Path, out: Path | None = None) -> Path:
    """Write the newest proof pack as one zip file; return where.

    Parameters
    ----------
    out
        A file, or a folder that there is; None for the folder that the call is made from.

    Raises
    ------
    InputError
        There is no pack, or the file cannot be written.
    """
    found = wrapped(order)
    place = out or Path()
    file = place / found.name if place.is_dir() else place
    write_file(file, b"".join(found.parts))
    return file


def _zipped(folder: Path, stem: str, sent: Sent) -> Iterator[bytes]:
    """Yield a zip file in parts; of the same pack it is the same bytes."""
    sink = _Sink()
    when = sent.made.timetuple()[:6]
    with zipfile.ZipFile(sink, "w") as file:
        for name in sent.sizes:
            entry = zipfile.ZipInfo(f"{stem}/{name}", when)
            entry.external_attr = 0o644 << 16
            is_smaller = name.endswith(_ZIPPED)
            entry.compress_type = zipfile.ZIP_DEFLATED if is_smaller else zipfile.ZIP_STORED
            file.writestr(entry, read_file(folder / name))
            yield sink.taken()
    yield sink.taken()


class _Sink(io.RawIOBase):
    """Where a zip file is written to, and taken away from as it comes."""

    def __init__(self) -> None:
        self._held = bytearray()

    def writable(self) -> bool:
        return True

    def write(self, data: object) -> int:
        before = len(self._held)
        self._held += data  # type: ignore[arg-type]
        return len(self._held) - before

    def taken(self) -> bytes:
        """Return what has come since the last time."""
        held = bytes(self._held)
        self._held.clear()
        return held
