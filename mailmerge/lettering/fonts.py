"""Fonts: from the installed ``fontpkg-*`` packages by family, or the user's own files by path."""

from __future__ import annotations

import io
from functools import cache, cached_property, lru_cache
from pathlib import Path

import fontpkg
import pathops
import uharfbuzz as hb

from mailmerge.findings import InputError, nearest, shown

FONT_ENDINGS = (".ttf", ".otf", ".woff", ".woff2")
_MAX_FONT_BYTES = 60_000_000


class Font:
    """A font at one weight, ready for shaping and outlines; measures in whole font units.

    Parameters
    ----------
    path
        A .ttf, .otf, .woff or .woff2 file.
    weight
        Value for the ``wght`` axis of a variable font (400 regular, 700 bold); a font without
        that axis ignores it.

    Raises
    ------
    InputError
        The file cannot be read, is no font, or does not reach the weight.
    """

    def __init__(self, path: Path, weight: int) -> None:
        data = _font_bytes(path)
        face = hb.Face(hb.Blob(data))
        self.upem: int = face.upem
        if face.glyph_count == 0 or self.upem == 0 or len(face.reference_table("cmap")) == 0:
            raise InputError(f"{path}: is not a font that can be read, want .ttf, .otf or .woff2")
        self.path = path
        self.weight = weight
        self.hb_font = hb.Font(face)
        axes = {axis.tag: axis for axis in face.axis_infos}
        if "wght" in axes:
            low, high = axes["wght"].min_value, axes["wght"].max_value
            if not low <= weight <= high:
                raise InputError(
                    f"{path}: found weight {weight}, this font goes from {low:g} to {high:g}"
                )
            self.hb_font.set_variations({"wght": weight})
        self.name = _family_name(face) or path.stem
        self._glyphs: dict[int, pathops.Path] = {}

    @cached_property
    def letter_height(self) -> float:
        """Height of a capital letter: what the font states, else the ink of its H."""
        stated = self.hb_font.get_metric_position(hb.OTMetricsTag.CAP_HEIGHT)
        if stated and stated > 0:
            return float(stated)
        glyph = self.hb_font.get_nominal_glyph(ord("H"))
        extents = self.hb_font.get_glyph_extents(glyph) if glyph else None
        return float(extents.y_bearing) if extents and extents.y_bearing > 0 else self.upem * 0.7

    def glyph(self, glyph_id: int) -> pathops.Path:
        """Return a glyph's own outline in font units, ``y`` up; kept, so never change it."""
        if glyph_id not in self._glyphs:
            path = pathops.Path()
            self.hb_font.draw_glyph_with_pen(glyph_id, path.getPen(glyphSet=None))
            self._glyphs[glyph_id] = path
        return self._glyphs[glyph_id]


def _family_name(face: hb.Face) -> str:
    """Return the family that the font's name table gives, or nothing where it is broken."""
    try:
        name = face.get_name(hb.OTNameIdPredefined.TYPOGRAPHIC_FAMILY) or face.get_name(
            hb.OTNameIdPredefined.FONT_FAMILY
        )
    except UnicodeDecodeError:
        return ""
    return str(name or "")


def _font_bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > _MAX_FONT_BYTES:
            raise InputError(f"{path}: larger than {_MAX_FONT_BYTES // 1_000_000} MB, not read")
        data = path.read_bytes()
    except OSError as error:
        raise InputError(f"{path}: cannot be read: {error.strerror or error}") from None
    if data[:4] not in (b"wOFF", b"wOF2"):
        return data
    from fontTools.ttLib import TTFont

    try:
        font = TTFont(io.BytesIO(data))
        font.flavor = None
        unpacked = io.BytesIO()
        font.save(unpacked)
    except Exception as error:
        # fontTools has no common base for what a damaged file makes it raise.
        raise InputError(f"{path}: is not a web font that can be read ({error})") from None
    return unpacked.getvalue()


@cache
def families() -> tuple[fontpkg.Family, ...]:
    """Return the installed families, in alphabetical order of their names."""
    return tuple(sorted(fontpkg.families().values(), key=lambda family: str(family.name)))


@lru_cache(maxsize=64)
def open_font(wanted: str, weight: int, beside: Path) -> Font:
    """Return a font: an installed family by name, or a file by path.

    Parameters
    ----------
    wanted
        ``Great Vibes``, or a path with one of :data:`FONT_ENDINGS`; a relative path starts at
        the folder ``beside``.
    weight
        100 to 900; 400 is regular.

    Raises
    ------
    InputError
        There is no such family, weight or file; the nearest family is suggested.
    """
    if wanted.lower().endswith(FONT_ENDINGS):
        return Font(beside / wanted, weight)
    names = [str(family.name) for family in families()]
    name = next((name for name in names if name.casefold() == wanted.casefold()), None)
    if name is None:
        raise InputError(
            f"font {shown(wanted)} is not installed{nearest(wanted, names)} "
            f"(installed: {', '.join(names)}; or give the path of a font file)"
        )
    try:
        path = fontpkg.path(name, weight=weight)
    except (fontpkg.WeightNotAvailable, fontpkg.StyleNotAvailable) as error:
        raise InputError(f"font {shown(wanted)}: weight {weight} is not there: {error}") from None
    return Font(Path(path), weight)
