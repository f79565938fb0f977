"""Fonts: from the installed ``fontpkg-*`` packages by family, or the user's own files by path."""

from __future__ import annotations

import io
import struct
from functools import cache, cached_property, lru_cache
from pathlib import Path

import fontpkg
import numpy as np
import pathops
import uharfbuzz as hb

from mailmerge.files import digest_of, read_file
from mailmerge.findings import InputError
from mailmerge.lettering import words
from mailmerge.lettering.flat import convex, polygons
from mailmerge.lettering.outline import Box, Outline, Points
from mailmerge.lettering.tangle import HARMLESS, is_tangled
from mailmerge.reading import apart

FONT_ENDINGS = (".ttf", ".otf", ".ttc", ".otc", ".woff", ".woff2")
_MAX_FONT_BYTES = 60_000_000

_SFNT = (b"\0\1\0\0", b"OTTO", b"true", b"typ1", b"ttcf")
"""What font files start with: OpenType specification, table directory."""

_MAX_GLYPH_POINTS = 20_000
"""Points of one glyph; the richest ornamental letters seen have two thousand."""

_MAX_REACH = 20
"""Ems; a glyph that reaches farther from its origin is damage, not lettering."""

Variation = tuple[tuple[str, float], ...]
"""Axis tags of a variable font with their values, ``(("wght", 600),)``."""


class Font:
    """One face of a font file at one variation, ready for shaping; measures in font units.

    Parameters
    ----------
    path
        A file with one of :data:`FONT_ENDINGS`.
    weight
        Value for the ``wght`` axis of a variable font (400 regular, 700 bold); a font without
        that axis ignores it.
    variation
        Values for axes by their tags; they win over ``weight``.
    index
        Which face of a collection (.ttc, .otc), counted from 0.

    Raises
    ------
    InputError
        The file cannot be read, is no font, has no such axis or face, or does not reach a value.
    """

    def __init__(self, path: Path, weight: int, variation: Variation = (), index: int = 0) -> None:
        packed = read_file(path, _MAX_FONT_BYTES)
        self.digest = digest_of(packed)
        data = _unpacked(path, packed)
        _check_whole(path, data)
        blob = hb.Blob(data)
        face = hb.Face(blob, index)
        if face.count and not 0 <= index < face.count:
            raise InputError(words.no_such_face(path, index, face.count))
        self.upem: int = face.upem
        if face.glyph_count == 0 or self.upem == 0 or len(face.reference_table("cmap")) == 0:
            raise InputError(words.not_a_font(path))
        self.path = path
        self.index = index
        self.face = face
        self.hb_font = hb.Font(face)
        self._vary(weight, variation)
        self.name = (
            self.named(hb.OTNameIdPredefined.TYPOGRAPHIC_FAMILY)
            or self.named(hb.OTNameIdPredefined.FONT_FAMILY)
            or path.stem
        )[:200]
        self._glyphs: dict[tuple[int, float], pathops.Path] = {}
        self._outlines: dict[tuple[int, float], Outline] = {}
        self._hulls: dict[tuple[int, float], Points] = {}
        self._inks: dict[tuple[int, float], Box | None] = {}

    def _vary(self, weight: int, variation: Variation) -> None:
        axes = {axis.tag: (axis.min_value, axis.max_value) for axis in self.face.axis_infos}
        wanted = dict(variation)
        if unknown := next((tag for tag in wanted if tag not in axes), None):
            raise InputError(words.no_such_axis(self.path, unknown, list(axes)))
        if "wght" in axes:
            wanted.setdefault("wght", weight)
        for tag, value in wanted.items():
            low, high = axes[tag]
            if not low <= value <= high:
                raise InputError(words.axis_out_of_range(self.path, tag, value, low, high))
        if wanted:
            self.hb_font.set_variations(wanted)

    @cached_property
    def letter_height(self) -> float:
        """Height of a capital letter: what the font states, else the ink of its H."""
        return self._stated(hb.OTMetricsTag.CAP_HEIGHT) or self._ink_height("H") or self.upem * 0.7

    @cached_property
    def small_letter_height(self) -> float:
        """Height of a small letter without ascender, from what is drawn: the ink of its x."""
        return self._ink_height("x") or self._stated(hb.OTMetricsTag.X_HEIGHT) or self.upem * 0.5

    def _stated(self, metric: hb.OTMetricsTag) -> float:
        stated = self.hb_font.get_metric_position(metric)
        return float(stated) if stated and 0 < stated < _MAX_REACH * self.upem else 0.0

    def _ink_height(self, char: str) -> float:
        glyph = self.hb_font.get_nominal_glyph(ord(char))
        extents = self.hb_font.get_glyph_extents(glyph) if glyph else None
        return float(extents.y_bearing) if extents and extents.y_bearing > 0 else 0.0

    @cached_property
    def feature_tags(self) -> frozenset[str]:
        """Tags of the OpenType features that the font has for any script or language."""
        try:
            return frozenset(self._feature_tags())
        except (UnicodeDecodeError, hb.HarfBuzzError):
            return frozenset()  # the tables are damaged

    def _feature_tags(self) -> set[str]:
        tags: set[str] = set()
        for table in ("GSUB", "GPOS"):
            for at, _ in enumerate(self.face.get_table_script_tags(table)):
                languages = self.face.get_script_language_tags(table, at)
                for language in (0xFFFF, *range(len(languages))):
                    tags.update(self.face.get_language_feature_tags(table, at, language))
        return tags

    def named(self, name_id: int) -> str:
        """Return an entry of the name table on one line; ``""`` where there is none, or broken."""
        try:
            return " ".join(str(self.face.get_name(name_id) or "").split())
        except UnicodeDecodeError:
            return ""

    def has(self, char: str) -> bool:
        """Whether the font maps a character to a glyph."""
        return self.hb_font.get_nominal_glyph(ord(char)) is not None

    def glyph(self, glyph_id: int, scale: float = 1.0) -> pathops.Path:
        """Return a glyph's own outline, ``y`` up, in units of the font times ``scale``.

        Scaled points are rounded to whole units, because the weld works in those. The path is
        kept, so never change it. A glyph that is damaged beyond measure comes as an empty path.
        """
        key = glyph_id, scale
        if key not in self._glyphs:
            path = pathops.Path()
            self.hb_font.draw_glyph_with_pen(glyph_id, path.getPen(glyphSet=None))
            if scale != 1.0:
                path = path.transform(scale, 0, 0, scale, 0, 0)
                path = _rounded(path)
            self._glyphs[key] = path if self._sane(path, scale) else pathops.Path()
        return self._glyphs[key]

    def outline(self, glyph_id: int, scale: float = 1.0) -> Outline:
        """Return the path of :meth:`glyph` as plain data; its contours may overlap."""
        key = glyph_id, scale
        if key not in self._outlines:
            self._outlines[key] = as_outline(self.glyph(glyph_id, scale))
        return self._outlines[key]

    def hull(self, glyph_id: int, scale: float = 1.0) -> Points:
        """Return the corners of the smallest convex shape that holds a glyph's ink, shape (n, 2).

        Curves are taken as polygons that keep to them within a ten-thousandth of an em.
        """
        key = glyph_id, scale
        if key not in self._hulls:
            flat = polygons(self.outline(glyph_id, scale), self.upem * scale / 10_000)
            self._hulls[key] = convex(np.concatenate([np.empty((0, 2)), *flat]))
        return self._hulls[key]

    def ink(self, glyph_id: int, scale: float = 1.0) -> Box | None:
        """Return the bounds of a glyph's ink in the units of :meth:`glyph`, or None for a blank."""
        key = glyph_id, scale
        if key not in self._inks:
            box = Box(*self.glyph(glyph_id, scale).bounds)
            self._inks[key] = box if box.right > box.left else None
        return self._inks[key]

    def _sane(self, path: pathops.Path, scale: float) -> bool:
        reach = _MAX_REACH * self.upem * scale
        count = len(path.points)
        return (
            count <= _MAX_GLYPH_POINTS
            and all(-reach <= edge <= reach for edge in path.bounds)
            and (count <= HARMLESS or not is_tangled(as_outline(path)))
        )

    def damaged(self, glyph_id: int) -> bool:
        """Whether a glyph was left out because its outline is beyond measure."""
        if self.glyph(glyph_id).points:
            return False
        extents = self.hb_font.get_glyph_extents(glyph_id)
        return bool(extents and extents.width)


VERBS = "MLQ?CZ"
"""Letters of the verbs by the numbers that Skia gives them; it makes no conics from curves."""


def as_outline(path: pathops.Path) -> Outline:
    """Return a path of the welding library as plain data."""
    verbs = "".join([VERBS[verb] for verb in path.verbs])
    return Outline(verbs, np.array(path.points, dtype=np.float64).reshape(-1, 2))


def _rounded(path: pathops.Path) -> pathops.Path:
    """Return a path with its points on whole units."""
    rounded = pathops.Path()
    for verb, points in path:
        rounded.add(verb, *((round(x), round(y)) for x, y in points))
    return rounded


def _check_whole(path: Path, data: bytes) -> None:
    """Refuse a font file that is cut short: letters would go missing, or lose their dots.

    Every table lies inside the file: OpenType specification, table directory.
    """
    if data[:4] not in _SFNT:
        return  # no font at all, which is said elsewhere
    starts = [0]
    if data[:4] == b"ttcf" and len(data) >= 12:
        (count,) = struct.unpack_from(">L", data, 8)
        starts = [
            struct.unpack_from(">L", data, 12 + 4 * at)[0]
            for at in range(min(count, (len(data) - 12) // 4))
        ]
    for start in starts:
        if start + 12 > len(data):
            raise InputError(words.font_cut_short(path))
        (tables,) = struct.unpack_from(">H", data, start + 4)
        for at in range(tables):
            record = start + 12 + 16 * at
            if record + 16 > len(data):
                raise InputError(words.font_cut_short(path))
            _, _, offset, length = struct.unpack_from(">4sLLL", data, record)
            if offset + length > len(data):
                raise InputError(words.font_cut_short(path))


def _unpacked(path: Path, data: bytes) -> bytes:
    """Return a font file as OpenType, whatever it is wrapped in."""
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
        raise InputError(words.not_a_web_font(path, error)) from None
    return unpacked.getvalue()


@cache
def families() -> tuple[fontpkg.Family, ...]:
    """Return the installed families, in alphabetical order of their names."""
    return tuple(sorted(fontpkg.families().values(), key=lambda family: str(family.name)))


def nearest_weight(wanted: str, weight: int) -> int:
    """Return the weight of an installed family that is closest to one wanted.

    A font file has the weights that it has, and gets the one wanted.
    """
    for family in families():
        if str(family.name).casefold() == wanted.casefold():
            if family.is_variable and family.weight_range:
                low, high = family.weight_range
                return int(min(max(weight, low), high))
            return int(min(family.weights, key=lambda known: abs(known - weight)))
    return weight


def _no_such_weight(family: fontpkg.Family, weight: int) -> str:
    if family.is_variable and family.weight_range:
        low, high = family.weight_range
        return words.weight_out_of_range(str(family.name), weight, int(low), int(high))
    return words.no_such_weight(str(family.name), weight, family.weights)


_MOST_TRIED = 3_000
"""Glyphs of which the whole outline is tried; of all others the bounds."""


def _own_font(path: Path, weight: int, variation: Variation, index: int) -> Font:
    """Open somebody's own file, once the room for reading has found that it does no harm.

    What HarfBuzz makes of a font does not travel. So the other process tries the file and tells
    which bytes it has tried.
    """
    tried = apart(path, tried_font, path, weight, variation, index)
    font = Font(path, weight, variation, index)
    if font.digest != tried:
        raise InputError(words.font_has_changed(path))
    return font


def tried_font(path: Path, weight: int, variation: Variation, index: int) -> str:
    """Open a font and draw what is in it; return the digest of its bytes.

    Raises
    ------
    InputError
        See :class:`Font`.
    """
    font = Font(path, weight, variation, index)
    for glyph in range(font.face.glyph_count):
        font.hb_font.get_glyph_extents(glyph)
        if glyph < _MOST_TRIED:
            font.glyph(glyph)
    return font.digest


@lru_cache(maxsize=128)
def open_font(
    wanted: str, weight: int, beside: Path, variation: Variation = (), index: int = 0
) -> Font:
    """Return a font: an installed family by name, or a file by path.

    Parameters
    ----------
    wanted
        ``Great Vibes``, or a path with one of :data:`FONT_ENDINGS`; a relative path starts at
        the folder ``beside``.
    weight, variation, index
        As for :class:`Font`; 400 is regular.

    Raises
    ------
    InputError
        There is no such family, weight, axis or file; the nearest family is suggested.
    """
    if wanted.lower().endswith(FONT_ENDINGS):
        return _own_font(beside / wanted, weight, variation, index)
    by_name = {str(family.name).casefold(): family for family in families()}
    family = by_name.get(wanted.casefold())
    if family is None:
        raise InputError(words.no_such_font(wanted, [str(known.name) for known in families()]))
    by_weight = int(dict(variation).get("wght", weight))
    try:
        path = fontpkg.path(str(family.name), weight=by_weight)
    except (fontpkg.WeightNotAvailable, fontpkg.StyleNotAvailable):
        raise InputError(_no_such_weight(family, by_weight)) from None
    return Font(Path(path), weight, variation, index)
