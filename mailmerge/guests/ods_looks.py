"""How the cells of an .ods look: its styles, spans and annotations (OpenDocument 1.2)."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from mailmerge.guests.looks import WHITE, Look, Rgb, Seen, colour_of, is_unseen, seen_in

_SPACE = "{urn:oasis:names:tc:opendocument:xmlns:"
STYLE, TEXT, OFFICE, TABLE = (
    f"{_SPACE}{name}:1.0}}" for name in ("style", "text", "office", "table")
)
_FO = f"{_SPACE}xsl-fo-compatible:1.0}}"
_BLANKS = {f"{TEXT}s": " ", f"{TEXT}tab": "\t", f"{TEXT}line-break": "\n"}


@dataclass(frozen=True)
class _Style:
    """What a style says; None where it leaves it to its parent."""

    struck: bool | None = None
    ink: Rgb | None = None
    ground: Rgb | None = None

    def over(self, other: _Style) -> _Style:
        return _Style(
            other.struck if self.struck is None else self.struck,
            self.ink or other.ink,
            self.ground or other.ground,
        )

    @property
    def look(self) -> Look:
        return Look(bool(self.struck), is_unseen(self.ink, self.ground or WHITE))


@dataclass(frozen=True)
class Looks:
    """The looks of a document's styles, by name."""

    styles: Mapping[str, Element]

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
        return seen_in(runs)

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
            found = found.over(_said(element))
            name = element.get(f"{STYLE}parent-style-name", "")
        return found


def looks_of(archive: zipfile.ZipFile) -> Looks:
    """Read the styles of a document."""
    styles: dict[str, Element] = {}
    for part in ("styles.xml", "content.xml"):
        if part not in archive.namelist():
            continue
        with archive.open(part) as file:
            for event, element in ElementTree.iterparse(file, events=("start", "end")):
                if event == "start" and element.tag == f"{OFFICE}body":
                    break
                if event == "end" and element.tag == f"{STYLE}style":
                    styles[element.get(f"{STYLE}name", "")] = element
    return Looks(styles)


def _said(element: Element) -> _Style:
    """Return what one style says of itself."""
    said = _Style()
    for part in element:
        if part.tag == f"{STYLE}text-properties":
            lines = [part.get(f"{STYLE}text-line-through-{of}") for of in ("type", "style")]
            if any(lines):
                said = replace(said, struck=any(line not in (None, "none") for line in lines))
            said = replace(said, ink=colour_of((part.get(f"{_FO}color") or "")[1:]))
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
