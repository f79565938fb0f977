"""How the cells of an .xlsx look: its styles, rich text and comments (ECMA-376)."""

from __future__ import annotations

import colorsys
import posixpath
import re
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeVar
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from mailmerge.guests.looks import (
    PLAIN,
    WHITE,
    Look,
    Painted,
    Seen,
    Shown,
    colour_of,
    is_unseen,
    seen_as,
    seen_in,
)
from mailmerge.guests.parts import children_of, name_of, part_of, runs_of, shared_texts
from mailmerge.guests.tables import Rgb

Found = TypeVar("Found")

_AUTOMATIC = {64: (0.0, 0.0, 0.0), 65: WHITE}
"""Indexed colours that stand for the system's own, for text and for ground."""

_THEME_ORDER = (1, 0, 3, 2, 4, 5, 6, 7, 8, 9, 10, 11)
"""Where in a theme's file its colours stand: light and dark take turns (as programs write it)."""


@dataclass(frozen=True)
class Looks:
    """The looks of a workbook: of its styles, and of its shared texts."""

    theme: tuple[Rgb | None, ...]
    grounds: tuple[Rgb | None, ...]
    """By number of the cell's style; None where the ground is a pattern."""
    plain: tuple[Look, ...]
    """The look of a cell by its style."""
    covering: frozenset[int]
    """The styles whose format shows nothing of a text, whatever its parts look like."""
    shared: dict[int, Element]
    """Those shared texts that have parts, by number."""

    def of_cell(self, cell: Element) -> Seen | None:
        """Return what is seen of a cell, as its element says; None where that is its text."""
        style = int(cell.get("s", 0))
        look = self.plain[style] if style < len(self.plain) else PLAIN
        parts = self._parts(cell)
        if parts is None or style in self.covering:
            return seen_as(look)
        ground = self.grounds[style] if style < len(self.grounds) else WHITE
        return seen_in(self._runs(parts, look, ground))

    def _parts(self, cell: Element) -> Element | None:
        space = cell.tag[:-1]
        match cell.get("t"):
            case "s" if self.shared:
                number = cell.findtext(f"{space}v") or ""
                return self.shared.get(int(number)) if number.isdecimal() else None
            case "inlineStr":
                own = cell.find(f"{space}is")
                return own if own is not None and own.find(f"{space}r") is not None else None
        return None

    def _runs(self, parts: Element, look: Look, ground: Rgb | None) -> Iterator[tuple[str, Look]]:
        for text, font in runs_of(parts):
            yield text, look if font is None else _look(font, ground, self.theme)


def looks_of(archive: zipfile.ZipFile) -> Looks:
    """Read how cells look out of a workbook's styles, theme and shared texts."""
    theme = _theme(part_of(archive, "xl/theme/theme1.xml"))
    styles = part_of(archive, "xl/styles.xml")
    fonts = children_of(styles, "fonts")
    fills = [_ground(fill, theme) for fill in children_of(styles, "fills")]
    formats = {
        int(each.get("numFmtId", 0)): _text_section(each.get("formatCode", ""))
        for each in children_of(styles, "numFmts")
    }
    grounds: list[Rgb | None] = []
    plain = []
    covering = set()
    for number, style in enumerate(children_of(styles, "cellXfs")):
        fill, font = int(style.get("fillId", 0)), int(style.get("fontId", 0))
        ground = fills[fill] if fill < len(fills) else WHITE
        look = _look(fonts[font], ground, theme) if font < len(fonts) else PLAIN
        shown = formats.get(int(style.get("numFmtId", 0)), _AS_IT_IS)
        if shown.hides or shown.instead:
            covering.add(number)
        unseen = shown.hides or (is_unseen(shown.ink, ground) if shown.ink else look.unseen)
        grounds.append(ground)
        plain.append(look._replace(unseen=unseen, around=shown.around, instead=shown.instead))
    return Looks(
        theme,
        tuple(grounds),
        tuple(plain),
        frozenset(covering),
        shared_texts(archive, _is_seen_apart),
    )


def _is_seen_apart(text: Element) -> bool:
    """Whether parts of a shared text have a look of their own."""
    fonts = [font for _, font in runs_of(text) if font is not None]
    return any(name_of(each) in ("strike", "color", "sz") for font in fonts for each in font)


def _theme(part: Element | None) -> tuple[Rgb | None, ...]:
    """Return a theme's colours by their number."""
    schemes = [] if part is None else [e for e in part.iter() if name_of(e) == "clrScheme"]
    listed = [
        colour_of(value.get("lastClr") or value.get("val"))
        for scheme in schemes[:1]
        for colour in scheme
        for value in colour
    ]
    return tuple(listed[at] for at in _THEME_ORDER) if len(listed) == len(_THEME_ORDER) else ()


def _colour(element: Element, theme: tuple[Rgb | None, ...]) -> Rgb | None:
    """Return a colour as it is given: by its digits, its number, or that in the theme."""
    if digits := element.get("rgb"):
        return colour_of(digits[-6:])
    if number := element.get("indexed"):
        from openpyxl.styles.colors import COLOR_INDEX

        at = int(number)
        return colour_of(COLOR_INDEX[at][-6:]) if at < len(COLOR_INDEX) else _AUTOMATIC.get(at)
    if (number := element.get("theme")) and int(number) < len(theme):
        return _tinted(theme[int(number)], float(element.get("tint", 0)))
    return None


def _tinted(colour: Rgb | None, tint: float) -> Rgb | None:
    """Return a colour made darker (below 0) or lighter, as ECMA-376 part 1, 18.8.19 says."""
    if colour is None or not tint:
        return colour
    hue, light, full = colorsys.rgb_to_hls(*colour)
    light = light * (1 + tint) if tint < 0 else light * (1 - tint) + tint
    return colorsys.hls_to_rgb(hue, light, full)


def _ground(fill: Element, theme: tuple[Rgb | None, ...]) -> Rgb | None:
    """Return the colour that a fill lays behind a text; None where it is no single one."""
    for pattern in fill:
        if pattern.get("patternType", "none") == "none" and name_of(pattern) == "patternFill":
            return WHITE
        if pattern.get("patternType") == "solid":
            return next((_colour(c, theme) for c in pattern if name_of(c) == "fgColor"), None)
    return None if len(fill) else WHITE


def _look(font: Element, ground: Rgb | None, theme: tuple[Rgb | None, ...]) -> Look:
    """Return how a text in a font looks on its ground."""
    said = {name_of(each): each for each in font}
    struck = "strike" in said and said["strike"].get("val", "1") not in ("0", "false")
    ink = _colour(said["color"], theme) if "color" in said else None
    points = float(said["sz"].get("val", 11)) if "sz" in said else None
    return Look(struck, is_unseen(ink, ground, points))


_AS_IT_IS = Shown()
_TOKENS = re.compile(
    r'"(?P<quoted>[^"]*)"|\\(?P<one>.)|\[(?P<brackets>[^]]*)\]|(?P<skipped>[_*].)|(?P<sign>.)'
)
"""The parts of a number format: texts, signs, and what is neither (ECMA-376 part 1, 18.8.31)."""
_INKS = {
    "black": (0.0, 0.0, 0.0), "blue": (0.0, 0.0, 1.0), "cyan": (0.0, 1.0, 1.0),
    "green": (0.0, 1.0, 0.0), "magenta": (1.0, 0.0, 1.0), "red": (1.0, 0.0, 0.0),
    "white": WHITE, "yellow": (1.0, 1.0, 0.0),
}  # fmt: skip
"""The colours that a format names (the same place)."""


class _Section(NamedTuple):
    """One section of a number format: its parts, each with whether it is the text's place."""

    parts: list[tuple[str, bool]]
    inks: list[Rgb]

    @property
    def text(self) -> str:
        return "".join(text for text, _ in self.parts)

    @property
    def ink(self) -> Rgb | None:
        return self.inks[-1] if self.inks else None

    @property
    def places(self) -> list[int]:
        return [at for at, (_, is_place) in enumerate(self.parts) if is_place]


def _text_section(code: str) -> Shown:
    """Return what a number format makes of a text.

    It has a section of its own for texts, the fourth, or the only one with an @. A colour before
    General alone counts for texts, too.
    """
    sections = list(_sections(code))
    for section in sections:
        if places := section.places:
            before = "".join(text for text, _ in section.parts[: places[0]])
            after = "".join(text for text, _ in section.parts[places[-1] + 1 :])
            return Shown((before, after), ink=section.ink)
    if len(sections) == 1 and sections[0].text == "General":
        return Shown(ink=sections[0].ink)
    if len(sections) < 4:
        return _AS_IT_IS
    own = sections[3]
    if re.search("General|[0#?]", own.text):
        return Shown(ink=own.ink)
    return Shown(instead=own.text.strip(), hides=not own.text.strip())


def _sections(code: str) -> Iterator[_Section]:
    section = _Section([], [])
    for token in _TOKENS.finditer(code):
        if token["sign"] == ";":
            yield section
            section = _Section([], [])
        elif token["brackets"] is not None:
            section.inks.extend(_ink_called(token["brackets"].lower()))
        elif token["skipped"] is None:
            is_place = token["sign"] == "@"
            section.parts.append((token["quoted"] or token["one"] or token["sign"] or "", is_place))
    yield section


def _ink_called(name: str) -> Iterator[Rgb]:
    """Yield the colour that a format names, by its word or its number from 1 on."""
    from openpyxl.styles.colors import COLOR_INDEX

    if name in _INKS:
        yield _INKS[name]
    elif (match := re.fullmatch(r"color ?(\d{1,2})", name)) and 0 < int(match[1]) <= 56:
        colour = colour_of(COLOR_INDEX[int(match[1]) + 7][-6:])
        yield from [colour] if colour else []


def ruled_columns(archive: zipfile.ZipFile, sheet: str, most: int) -> frozenset[int]:
    """Return the columns of a sheet, its part given, whose texts rules strike or colour."""
    from openpyxl.utils.cell import range_boundaries

    fonts = [
        any(name_of(each) in ("strike", "color") for part in dxf if name_of(part) == "font"
            for each in part)
        for dxf in children_of(part_of(archive, "xl/styles.xml"), "dxfs")
    ]  # fmt: skip
    if not any(fonts):
        return frozenset()
    found: set[int] = set()
    with archive.open(sheet) as file:
        for _, element in ElementTree.iterparse(file):
            if name_of(element) == "conditionalFormatting":
                ids = [int(rule.get("dxfId", -1)) for rule in element]
                if any(0 <= number < len(fonts) and fonts[number] for number in ids):
                    for area in element.get("sqref", "").split():
                        left, _, right, _ = range_boundaries(area)
                        found.update(range((left or 1) - 1, min(right or most, most)))
            elif name_of(element) == "row":
                element.clear()  # what is left of a row is small
    return frozenset(found)


def painted_in(archive: zipfile.ZipFile, sheet: str) -> Iterator[tuple[str, Painted, bool]]:
    """Yield the cells of a sheet, its part given: place, colours, and whether it holds anything."""
    theme = _theme(part_of(archive, "xl/theme/theme1.xml"))
    styles = part_of(archive, "xl/styles.xml")
    inks = [_ink(font, theme) for font in children_of(styles, "fonts")]
    grounds = [_ground(fill, theme) for fill in children_of(styles, "fills")]
    looks = [
        Painted(_at(grounds, style.get("fillId")), _at(inks, style.get("fontId")))
        for style in children_of(styles, "cellXfs")
    ]
    with archive.open(sheet) as file:
        for _, element in ElementTree.iterparse(file):
            tag = name_of(element)
            if tag == "c" and (look := _at(looks, element.get("s"))):
                yield element.get("r", "A1"), look, len(element) > 0
            elif tag == "row":
                element.clear()


def _at(found: Sequence[Found | None], number: str | None) -> Found | None:
    """Return what a number in a workbook stands for; None beyond the end."""
    at = int(number or 0)
    return found[at] if at < len(found) else None


def _ink(font: Element, theme: tuple[Rgb | None, ...]) -> Rgb | None:
    """Return the colour of a font; None for the usual one."""
    return next((_colour(each, theme) for each in font if name_of(each) == "color"), None)


_LEGACY_START = "[Threaded comment]"
"""With it starts what is written for programs that do not know conversations."""


def comments_of(archive: zipfile.ZipFile, sheet: str) -> Iterator[tuple[str, str]]:
    """Yield the comments on a sheet, its part given: the cell's place, such as B4, and the text."""
    folder, name = posixpath.split(sheet)
    threads: dict[str, list[str]] = {}
    notes: list[tuple[str, str]] = []
    relations = part_of(archive, f"{folder}/_rels/{name}.rels")
    for each in relations if relations is not None else ():
        kind = each.get("Type", "").rpartition("/")[2]
        if kind not in ("comments", "threadedComment"):
            continue
        target = posixpath.normpath(posixpath.join("/", folder, each.get("Target", ""))).lstrip("/")
        part = part_of(archive, target)
        for comment in part.iter() if part is not None else ():
            text = "".join(t.text or "" for t in comment.iter() if name_of(t) in ("t", "text"))
            if name_of(comment) == "threadedComment":
                threads.setdefault(comment.get("ref", ""), []).append(text)
            elif name_of(comment) == "comment":
                notes.append((comment.get("ref", ""), text))
    for place, texts in threads.items():
        yield place, " / ".join(texts)
    for place, text in notes:
        if place not in threads:
            yield place, text.partition("Comment:")[2] if text.startswith(_LEGACY_START) else text


def drawn_in(archive: zipfile.ZipFile) -> Iterator[str]:
    """Yield what is drawn over a workbook's sheets: the words of each shape, ``""`` for none.

    Tick boxes of forms are among them; comments are not.
    """
    for name in archive.namelist():
        if re.fullmatch(r"xl/drawings/drawing\d+\.xml", name):
            part = part_of(archive, name)
            for anchor in part if part is not None else ():
                yield " ".join(t.text or "" for t in anchor.iter() if name_of(t) == "t").strip()
        elif re.fullmatch(r"xl/ctrlProps/[^/]+\.xml", name):
            part = part_of(archive, name)
            is_on = part is not None and part.get("checked") == "Checked"
            yield "☑" if is_on else "☐"
