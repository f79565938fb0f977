"""What is left of a fault of the program: a report of it without names."""

from __future__ import annotations

import datetime as dt
import platform
from pathlib import Path

from mailmerge import __version__
from mailmerge.deeds import words
from mailmerge.faults import told
from mailmerge.files import Root, digest_of, temporary
from mailmerge.findings import InputError
from mailmerge.provenance import about
from mailmerge.workshop.shop.shop import shop_folder

FOLDER = "faults"
"""Of the shop's folder."""


def reported(error: BaseException) -> Path | None:
    """Write down where the program broke; return the file, or None if it cannot be written.

    It lies in the shop's folder, else in the system's folder for what is temporary. The same fault
    is one file, however often it comes.
    """
    where = told(error)
    text = "\n".join([words.REPORT_OF_A_FAULT, "", where, "", *_versions(), _now(), ""])
    name = f"fault-{digest_of(where.encode())[:8]}.txt"
    for folder in (_of_shop, temporary):
        try:
            path = folder() / name
            Root(path.parent).write(name, text.encode())
        except (InputError, OSError):
            continue
        return path
    return None


def _of_shop() -> Path:
    return shop_folder() / FOLDER


def _versions() -> list[str]:
    try:
        parts = about()
    except Exception:  # a program that is not whole is told with what is known of it
        parts = {"mailmerge": __version__, "python": platform.python_version()}
    system = f"{platform.system()} {platform.release()} {platform.machine()}"
    return [f"{name} {number}" for name, number in parts.items()] + [system]


def _now() -> str:
    return dt.datetime.now().astimezone().isoformat(timespec="seconds")
