"""Fonts: tables of a small font changed by fontTools, then as bytes."""

from __future__ import annotations

import io
import logging
import struct
import tempfile
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from boxfont import write_box_font
from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont
from hypothesis import strategies as st

from mailmerge.lettering import Style, connects, finest, letter, licence_of, open_font

from .rule import Reader

logging.getLogger("fontTools").setLevel(logging.ERROR)

_FEATURES = (
    "feature liga { sub A n n a by B; } liga;",
    "feature ccmp { sub A by A A A A A A A A; } ccmp;"
    "feature liga { sub A by A A A A A A A A; } liga;"
    "feature calt { sub A by A A A A A A A A; } calt;",
    "feature kern { pos A n -32000; pos n n 32000; pos a <32000 -32000 -600 0>; } kern;",
    "lookup X { sub n by A n; } X; feature calt { sub n' lookup X n; sub A' lookup X; } calt;",
    "markClass [period hyphen] <anchor 32000 -32000> @T;"
    "feature mark { pos base [A n] <anchor 0 700> mark @T; } mark;",
    "feature aalt { sub A from [B C D]; } aalt; feature salt { sub A from [a b]; } salt;",
    "feature rlig { sub [A a]' n by B; ignore sub a' r; rsub n' a by B; } rlig;",
)  # fmt: skip

_FIELDS = (
    ("head", "unitsPerEm"), ("head", "xMin"), ("head", "yMax"), ("head", "indexToLocFormat"),
    ("hhea", "ascent"), ("hhea", "descent"), ("hhea", "lineGap"), ("hhea", "numberOfHMetrics"),
    ("OS/2", "sCapHeight"), ("OS/2", "sxHeight"), ("OS/2", "fsType"), ("OS/2", "usWeightClass"),
    ("OS/2", "sTypoAscender"), ("post", "italicAngle"), ("post", "underlineThickness"),
    ("maxp", "numGlyphs"), ("maxp", "maxComponentDepth"), ("head", "macStyle"),
)  # fmt: skip

_TABLES = (
    "glyf", "loca", "cmap", "hmtx", "hhea", "head", "maxp", "name", "OS/2", "post", "GPOS", "GSUB",
)  # fmt: skip

_number = st.one_of(
    st.integers(0, 60), st.sampled_from((0, 1, 15, 16, 255, 1000, 16384, 32767, 65535))
)
_signed = st.one_of(_number, st.integers(-60, 0), st.sampled_from((-32768, -1000)))
_drawn = st.one_of(
    st.tuples(st.just("points"), _number, st.integers(0, 900), _number, _signed),
    st.tuples(st.just("composite"), _number, st.integers(0, 300), _number, _signed),
    st.tuples(st.just("cmap"), _number, _number),
    st.tuples(st.just("advance"), _number, _number, _signed),
    st.tuples(st.just("field"), st.integers(0, len(_FIELDS) - 1), _signed),
    st.tuples(st.just("name"), st.integers(0, 26), st.text(max_size=20)),
    st.tuples(st.just("feature"), st.integers(0, len(_FEATURES) - 1)),
)
_raw = st.one_of(
    st.tuples(st.just("without"), st.integers(0, 20)),
    st.tuples(st.just("cut"), st.integers(0, 20), st.integers(0, 2000)),
    st.tuples(st.just("word"), st.integers(0, 20), st.integers(0, 400), _number),
    st.tuples(st.just("longer"), st.integers(0, 20), st.integers(0, 3000)),
)
CASES = st.fixed_dictionaries({
    "tables": st.lists(_drawn, max_size=3),
    "bytes": st.lists(_raw, max_size=3),
    "packed": st.sampled_from(("", "", "", "woff", "woff2")),
    "cut": st.one_of(st.none(), st.none(), st.integers(0, 9_000)),
})  # fmt: skip


@cache
def _base() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        return write_box_font(Path(folder) / "boxes.ttf").read_bytes()


def _points(font: TTFont, glyph: str, made: Sequence[Any]) -> None:
    _, _, count, step, far = made
    pen = TTGlyphPen(None)
    for at in range(count):
        place = (at * step % 1200 + (far if at % 7 == 0 else 0), at * (step * 3 + 1) % 1000)
        (pen.lineTo if at % 50 else pen.moveTo)(place)
        if at % 50 == 49 or at == count - 1:
            pen.closePath()
    font["glyf"][glyph] = pen.glyph()


def _composite(font: TTFont, glyph: str, made: Sequence[Any]) -> None:
    _, _, count, of, far = made
    names = font.getGlyphOrder()
    pen = TTGlyphPen(dict.fromkeys(names))
    for at in range(count):
        scale = 1 if at % 5 else max(-1.9, min(1.9, far / 16384))
        pen.addComponent(names[of % len(names)], (scale, 0, 0, 1, at % 97, far // (1 + at % 3)))
    font["glyf"][glyph] = pen.glyph()


def _cmap(font: TTFont, glyph: str, made: Sequence[Any]) -> None:
    for table in font["cmap"].tables:
        table.cmap[b"Anna BergVg"[made[2] % 11]] = glyph


def _advance(font: TTFont, glyph: str, made: Sequence[Any]) -> None:
    font["hmtx"][glyph] = (made[2], made[3])


def _field(font: TTFont, _: str, made: Sequence[Any]) -> None:
    table, field = _FIELDS[made[1]]
    setattr(font[table], field, made[2])


def _name(font: TTFont, _: str, made: Sequence[Any]) -> None:
    font["name"].setName(made[2], made[1], 3, 1, 0x409)


def _feature(font: TTFont, _: str, made: Sequence[Any]) -> None:
    addOpenTypeFeaturesFromString(font, _FEATURES[made[1]])


_MAKES: dict[str, Callable[[TTFont, str, Sequence[Any]], None]] = {
    "points": _points, "composite": _composite, "cmap": _cmap, "advance": _advance,
    "field": _field, "name": _name, "feature": _feature,
}  # fmt: skip


def _with_tables(made: Sequence[Sequence[Any]]) -> bytes:
    """Return the font with tables changed one by one; what fontTools cannot write is left out."""
    data = _base()
    for each in made:
        font, written = TTFont(io.BytesIO(data), recalcBBoxes=False), io.BytesIO()
        glyphs = font.getGlyphOrder()
        try:
            _MAKES[each[0]](font, glyphs[each[1] % len(glyphs)], each)
            font.save(written)
            data = written.getvalue()
        except Exception:
            continue  # fontTools itself refuses it, in one of many ways
    return data


def _with_bytes(data: bytes, made: Sequence[Sequence[Any]]) -> bytes:
    """Return a font with the bytes of its tables changed, each named by its tag."""
    tables = _tables_of(data)
    for kind, which, *more in made:
        tag = _TABLES[which % len(_TABLES)]
        if tag not in tables:
            continue
        match kind:
            case "without":
                del tables[tag]
            case "cut":
                tables[tag] = tables[tag][: more[0]]
            case "longer":
                tables[tag] += b"\xff" * more[0]
            case _:
                at = 2 * more[0] % max(1, len(tables[tag]) - 1)
                word = struct.pack(">H", more[1] & 0xFFFF)
                tables[tag] = tables[tag][:at] + word + tables[tag][at + 2 :]
    return _of_tables(tables)


def _tables_of(data: bytes) -> dict[str, bytes]:
    (count,) = struct.unpack(">H", data[4:6])
    found = {}
    for at in range(count):
        tag, _, start, size = struct.unpack(">4sLLL", data[12 + 16 * at : 28 + 16 * at])
        found[tag.decode("latin-1")] = data[start : start + size]
    return found


def _of_tables(tables: dict[str, bytes]) -> bytes:
    """Return a font of tables (OpenType, Organization of an OpenType Font); no sums are checked."""
    start = 12 + 16 * len(tables)
    head, body = struct.pack(">LHHHH", 0x00010000, len(tables), 0, 0, 0), b""
    for tag, data in sorted(tables.items()):
        head += struct.pack(">4sLLL", tag.encode("latin-1"), 0, start + len(body), len(data))
        body += data + b"\0" * (-len(data) % 4)
    return head + body


def write(case: dict[str, Any], folder: Path) -> Path:
    """Write a font."""
    data = _with_bytes(_with_tables(case["tables"]), case["bytes"])
    if case["packed"]:
        try:
            font, written = TTFont(io.BytesIO(data), lazy=True), io.BytesIO()
            font.flavor = case["packed"]
            font.save(written)
            data = written.getvalue()
        except Exception:
            data = _base()  # fontTools itself refuses it
    if case["cut"] is not None:
        data = data[: case["cut"]]
    path = folder / "font.ttf"
    path.write_bytes(data)
    return path


def read(path: Path) -> None:
    """Open a font as an order does, and set a name in it."""
    open_font.cache_clear()
    font = open_font(str(path), 400, path.parent)
    line = letter(Style((font,)), "Anna Berg AVg-.")
    finest(line)
    connects(font)
    assert font.feature_tags is not None
    licence_of(font)


READER = Reader("fonts", CASES, write, read)
