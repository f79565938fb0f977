"""Files of several parts in one archive, told as their parts and what is changed in them."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from .changes import changed, changes

ARCHIVE = ("as it is", "without", "twice", "empty", "other", "stored", "cut", "flipped", "renamed")
"""What can be done with the archive itself."""

_Parts = Mapping[str, bytes]


def cases(values: Sequence[str] = ()) -> SearchStrategy[dict[str, Any]]:
    """Return a strategy of changed archives: which part, its changes, and what is done with all."""
    number = st.integers(0, 60)
    part = st.tuples(number, changes(values, 2))
    done = st.tuples(st.sampled_from(ARCHIVE), number, st.integers(0, 10_000))
    return st.fixed_dictionaries(
        {"parts": st.lists(part, min_size=1, max_size=2), "archive": st.lists(done, max_size=1)}
    )


def parts_of(data: bytes) -> dict[str, bytes]:
    """Return the parts of an archive by name."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def built(case: Mapping[str, Any], base: _Parts) -> bytes:
    """Return the archive that a case tells of."""
    parts, names = dict(base), sorted(base)
    for at, made in case["parts"]:
        name = names[at % len(names)]
        text = changed(parts[name].decode("latin-1"), made)
        parts[name] = text.encode("latin-1", "xmlcharrefreplace")
    return _archived(parts, names, case["archive"])


def _archived(parts: dict[str, bytes], names: list[str], done: Sequence[Sequence[Any]]) -> bytes:
    kind, at, number = done[0] if done else ("as it is", 0, 0)
    name, other = names[at % len(names)], names[number % len(names)]
    files = list(parts.items())
    match kind:
        case "without":
            files = [each for each in files if each[0] != name]
        case "twice":
            files.append((f"{name.upper()}", parts[other]))
        case "empty":
            files = [(each, b"" if each == name else data) for each, data in files]
        case "other":
            files = [(each, parts[other] if each == name else data) for each, data in files]
        case "renamed":
            files = [(f"../{each}" if each == name else each, data) for each, data in files]
    packed = io.BytesIO()
    way = zipfile.ZIP_STORED if kind == "stored" else zipfile.ZIP_DEFLATED
    with zipfile.ZipFile(packed, "w", way) as archive:
        for each, data in files:
            archive.writestr(zipfile.ZipInfo(each), data, way)
    whole = bytearray(packed.getvalue())
    if kind == "cut":
        return bytes(whole[: number * len(whole) // 10_000])
    if kind == "flipped":
        whole[number % len(whole)] ^= 1 << at % 8
    return bytes(whole)
