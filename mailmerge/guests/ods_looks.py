"""How the cells of an .ods look: its styles, spans and annotations (OpenDocument 1.2)."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from mailmerge.guests.looks import (
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
from mailmerge.guests.tables import Rgb

_SPACE = "{urn:oasis:names:tc:opendocument:xmlns:"
STYLE, TEXT, OFFICE, TABLE = (
    f"{_SPACE}{name}:1.0}}" for name in ("style", "text", "office", "table")
)
_DRAW = f"{_SPACE}drawing:1.0}}"
_FO = f"{_SPACE}xsl-fo-compatible:1.0}}"
_NUMBER = f"{_SPACE}datastyle:1.0}}"
_BLANKS = {f"{TEXT}s": " ", f"{TEXT}tab": "\t", f"{TEXT}line-break": "\n"}


@dataclass(frozen=True)
class _Style:
    """What a style says; None where it leaves it to its parent."""

    struck: bool | None = None
    ink: Rgb | None = None
    ground: Rgb | None = None
    points: float | None = None
    shown: Shown | None = None

    def over(self, other: _Style) -> _Style:
        return _Style(
            other.struck if self.struck is None else self.struck,
            self.ink or other.ink,
            self.ground or other.ground,
            other.points if self.points is None else self.points,
            self.shown or other.shown,
        )

    @property
    def look(self) -> Look:
        shown = self.shown or Shown()
        unseen = is_unseen(shown.ink or self.ink, self.ground or WHITE, self.points) or shown.hides
        return Look(bool(self.struck), unseen, shown.around, shown.instead)


@dataclass(frozen=True)
class Looks:
    """The looks of a document's styles, by name."""

    styles: Mapping[str, Element]
    formats: Mapping[str, Shown]
    """What the formats of texts make of them."""

    def is_narrow(self, name: str, what: str, least: float) -> bool:
        """Whether a style's ``row-height`` or ``column-width`` is below some points."""
        element = self.styles.get(name)
        sizes = [part.get(f"{STYLE}{what}") for part in element] if element is not None else []
        return any((size := _points(text)) is not None and size < least for text in sizes)

    def of_cell(self, cell: Element, otherwise: str) -> Seen | None:
        """Return what is seen of a cell; ``otherwise`` is the style where it names none."""
        style = self._style(cell.get(f"{TABLE}style-name", otherwise))
        stored = cell.get(f"{OFFICE}string-value")
        paragraphs = [each for each in cell if each.tag == f"{TEXT}p"]
        if stored and not any("".join(each.itertext()).strip() for each in paragraphs):
            return seen_in([(stored, Look(unseen=True))])
        runs: list[tuple[str, Look]] = []
        for paragraph in paragraphs:
            runs += [("\n", style.look)] if runs else []
            runs += self._runs(paragraph, style)
        seen = seen_in(runs)
        if style.look.instead:
            return seen_as(style.look)
        if any(style.look.around):
            return (seen or Seen(()))._replace(around=style.look.around)
        return seen

    def painted(self, cell: Element, otherwise: str) -> Painted:
        """Return the colours of a cell; ``otherwise`` is the style where it names none."""
        style = self._style(cell.get(f"{TABLE}style-name", otherwise))
        return Painted(style.ground, style.ink)

    def _runs(self, element: Element, style: _Style) -> Iterator[tuple[str, Look]]:
        if name := element.get(f"{TEXT}style-name") if element.tag == f"{TEXT}span" else None:
            style = self._style(name).over(style)
        yield element.text or _BLANKS.get(element.tag, ""), style.look
        for child in element:
            yield from self._runs(child, style)
            yield child.tail or "", style.look

    def _style(self, name: str) -> _Style:
        found = _Style()
        for _ in range(20):  # styles that are each other's parents end, too
            element = self.styles.get(name)
            if element is None:
                break
            found = found.over(_said(element, self.formats))
            name = element.get(f"{STYLE}parent-style-name", "")
        return found


def looks_of(archive: zipfile.ZipFile) -> Looks:
    """Read the styles of a document."""
    styles: dict[str, Element] = {}
    formats: dict[str, Shown] = {}
    for part in ("styles.xml", "content.xml"):
        if part not in archive.namelist():
            continue
        with archive.open(part) as file:
            for event, element in ElementTree.iterparse(file, events=("start", "end")):
                if event == "start" and element.tag == f"{OFFICE}body":
                    break
                if event == "end" and element.tag == f"{STYLE}style":
                    styles[element.get(f"{STYLE}name", "")] = element
                if event == "end" and element.tag == f"{_NUMBER}text-style":
                    formats[element.get(f"{STYLE}name", "")] = _shown_by(element)
    return Looks(styles, formats)


def _shown_by(format_: Element) -> Shown:
    """Return what a format of texts makes of them: it may have no place for them."""
    tags = [part.tag for part in format_]
    place = f"{_NUMBER}text-content"
    texts = [part.text or "" if part.tag == f"{_NUMBER}text" else "" for part in format_]
    colours = [colour_of((part.get(f"{_FO}color") or "")[1:]) for part in format_
               if part.tag == f"{STYLE}text-properties"]  # fmt: skip
    ink = next(filter(None, colours), None)
    if place not in tags:
        # Whether nothing is shown, the cell's own paragraphs say.
        return Shown(instead="".join(texts).strip(), ink=ink)
    at = tags.index(place)
    return Shown(("".join(texts[:at]), "".join(texts[at + 1 :])), ink=ink)


_UNITS = {"pt": 1.0, "in": 72.0, "cm": 72 / 2.54, "mm": 72 / 25.4, "pc": 12.0, "px": 0.75}


def _points(text: str | None) -> float | None:
    """Return a length in points; None for none, or for a share."""
    match = re.fullmatch(r"([\d.]+)(pt|in|cm|mm|pc|px)", text or "")
    return float(match[1]) * _UNITS[match[2]] if match else None


def _said(element: Element, formats: Mapping[str, Shown]) -> _Style:
    """Return what one style says of itself."""
    said = _Style(shown=formats.get(element.get(f"{STYLE}data-style-name", "")))
    for part in element:
        if part.tag == f"{STYLE}text-properties":
            lines = [part.get(f"{STYLE}text-line-through-{of}") for of in ("type", "style")]
            if any(lines):
                said = replace(said, struck=any(line not in (None, "none") for line in lines))
            said = replace(said, ink=colour_of((part.get(f"{_FO}color") or "")[1:]))
            is_hidden = part.get(f"{TEXT}display") == "none"  # OpenDocument 1.3
            said = replace(said, points=0.0 if is_hidden else _points(part.get(f"{_FO}font-size")))
        if part.tag == f"{STYLE}table-cell-properties":
            said = replace(said, ground=colour_of((part.get(f"{_FO}background-color") or "")[1:]))
    return said


def annotation_on(cell: Element) -> str:
    """Return what is written on a cell as a note; ``""`` for nothing."""
    return " / ".join(
        " ".join("".join(paragraph.itertext()) for paragraph in note if paragraph.tag == f"{TEXT}p")
        for note in cell
        if note.tag == f"{OFFICE}annotation"
    )


def drawn_in(archive: zipfile.ZipFile) -> Iterator[str]:
    """Yield what is drawn over a document's sheets: the words of each shape, ``""`` for none."""
    root = ElementTree.fromstring(archive.read("content.xml"))
    for element in root.iter():
        if element.tag in (f"{TABLE}shapes", f"{TABLE}table-cell"):
            for shape in element:
                if shape.tag.startswith(_DRAW):
                    yield " ".join("".join(shape.itertext()).split())
