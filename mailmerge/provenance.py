"""What shapes an item besides its order: the program's own sources, and the libraries.

A fault that is mended in the engine must reach orders that were merged before. So the fingerprint
of an item holds a mark of the engine, and not a version that somebody must remember to raise.
"""

from __future__ import annotations

import platform
import unicodedata
from functools import cache
from importlib.metadata import version
from pathlib import Path

from mailmerge import __version__
from mailmerge.files import digest_of

_SHAPING = (
    "voice.py", "findings.py", "units.py", "shelves.py", "guests", "blanks", "machines",
    "lettering", "artwork", "checks", "proofs", "orders", "items",
)  # fmt: skip
"""What an item's files, its record or its findings come from, from the list's cell on."""

_NOT_SHAPING = ("proofs/pack", "proofs/paper.py", "proofs/paper_size.py", "proofs/specimen.py")
"""They show what was made, or what could be."""

_LIBRARIES = (
    "babel", "fonttools", "freetype-py", "ftfy", "isal", "names", "numpy", "pillow", "rapidfuzz",
    "resvg_py", "skia-pathops", "svgwrite", "uharfbuzz", "uniseg",
)  # fmt: skip
"""Whose versions can change a byte. What lists are read with is not here: the texts that come of it
are in the fingerprint themselves; nor are fonts, which are there byte by byte."""


def libraries() -> dict[str, str]:
    """Return the version of everything that shapes an item and is not ours."""
    found = {name: version(name) for name in _LIBRARIES}
    return found | {"unicode": unicodedata.unidata_version}


def about() -> dict[str, str]:
    """Return what to tell when artwork is not as it was elsewhere: all versions, and the mark."""
    return {
        "mailmerge": __version__,
        "engine": engine_mark(),
        **libraries(),
        "python": platform.python_version(),
    }


@cache
def engine_mark() -> str:
    """Return a digest of the sources and the libraries that shape an item; 12 characters."""
    root = Path(__file__).parent
    parts = [f"{name} {number}" for name, number in libraries().items()]
    for path in _sources(root):
        data = path.read_bytes().replace(b"\r\n", b"\n")  # as some systems check them out
        parts.append(f"{path.relative_to(root).as_posix()} {digest_of(data)}")
    return digest_of("\n".join(parts).encode())[:12]


def _sources(root: Path) -> list[Path]:
    found = [root / name for name in _SHAPING if name.endswith(".py")]
    for name in _SHAPING:
        found += (root / name).rglob("*.py")
    skipped = [root / name for name in _NOT_SHAPING]
    return sorted(
        path for path in found if not any(path.is_relative_to(place) for place in skipped)
    )
