"""The one order that fuzzers start from: three guests, merged and sent."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from boxfont import write_box_font
from shop import Shop

_MEMORY = Path("/dev/shm")
"""Where Linux keeps files in memory: thousands of small ones are written and removed."""


@contextmanager
def scratch() -> Iterator[Path]:
    """Lend a folder that goes again, in memory if the system has such files."""
    with tempfile.TemporaryDirectory(dir=_MEMORY if _MEMORY.is_dir() else None) as folder:
        yield Path(folder)


GUESTS = (
    {"Name": "Anna Berg", "Role": "Violin"},
    {"Name": "Bo Dahl", "Role": "Horn"},
    {"Name": "Carla Ek", "Role": "Viola"},
)


@cache
def folder() -> Path:
    """Return the order's folder; it is read and copied, and never changed."""
    made = Path(tempfile.mkdtemp())
    atexit.register(shutil.rmtree, made, ignore_errors=True)
    shop = Shop(made / "concert", write_box_font(made / "boxes.ttf"))
    shop.list(GUESTS)
    shop.merge()
    shop.pack()
    return shop.folder


def copied(to: Path) -> Shop:
    """Return a workshop with a copy of it."""
    return Shop.copied(folder(), to)
