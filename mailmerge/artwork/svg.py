"""The artwork file: written by svgwrite, and read back for the proof.

SVG 1.1: size and viewBox in the same millimetres from (0, 0) on, filled black paths only. So a
program that reads neither the viewBox nor its origin puts everything in the same place.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

import svgwrite

from mailmerge.artwork.compose import Composition, Drawn, Placed
from mailmerge.artwork.laying import frame_of, laid, start_mark
from mailmerge.artwork.pieces import Piece
from mailmerge.blanks import Blank
from mailmerge.findings import shown
from mailmerge.lettering import Outline
from mailmerge.lettering.outline import joined, parsed
from mailmerge.machines import Loading, Page

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What XML 1.0 cannot hold in any form (production 2, Char)."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What one artwork file holds: outlines by name, in mm from its page's upper left corner."""

    page: Page
    paths: Mapping[str, Outline]
    """One for each line, ornament and border."""
    guides: Mapping[str, Outline]
    """Frames of the faces, and a mark at the start."""

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, width and height of everything in it, in mm; all 0 where there is nothing.

        That is what a program shows once the file is loaded.
        """
        boxes = [outline.box for outline in (*self.paths.values(), *self.guides.values())]
        if not boxes:
            return 0.0, 0.0, 0.0, 0.0
        left, top, right, low = zip(*boxes, strict=True)
        return min(left), min(top), max(right) - min(left), max(low) - min(top)


def sheet_of(
    composition: Composition, blank: Blank, loading: Loading, frame: float | None = None
) -> Sheet:
    """Lay a composition onto the machine's page.

    Parameters
    ----------
    frame
        Width in mm of the line that frames every face and marks the start; by default none.
    """
    guides = {}
    if frame is not None:
        for number, face in enumerate(composition.faces, start=1):
            piece = Piece(face.angle, frame_of(blank, face, frame), blank)
            guides[f"{FRAME}-{number}"] = laid(piece, blank, loading)
        guides[f"{FRAME}-0"] = start_mark(loading.page, frame)
    paths = {
        name: joined([laid(piece, blank, loading) for piece in held.pieces])
        for name, held in named(composition)
    }
    return Sheet(loading.page, paths, guides)


def write_svg(sheet: Sheet, title: str, description: str) -> bytes:
    """Return the artwork of one item as the bytes of an SVG file, the same for the same item."""
    drawing = _drawing(sheet.page, title, description)
    if sheet.guides:
        group = drawing.g(id=GUIDES)
        _add(drawing, group, sheet.guides)
        drawing.add(group)
    _add(drawing, drawing, sheet.paths)
    return _bytes_of(drawing)


def _add(
    drawing: svgwrite.Drawing,
    group: svgwrite.base.BaseElement,
    outlines: Mapping[str, Outline],
) -> None:
    for name, outline in outlines.items():
        group.add(drawing.path(d=outline.path_data(), id=name, fill="#000000"))


def write_groups(
    page: Page, groups: Iterable[tuple[str, str, Outline]], title: str, description: str
) -> bytes:
    """Return an SVG file of named groups, each in a colour of its own, the same for the same ones.

    Parameters
    ----------
    groups
        (name, colour as ``#rrggbb``, outline on the machine's page in mm from its corner); a name
        starts with a letter and holds letters, digits, ``.``, ``_`` and ``-`` alone.
    """
    drawing = _drawing(page, title, description)
    for name, colour, outline in groups:
        group = drawing.g(id=name, fill=colour)
        group.add(drawing.path(d=outline.path_data(), fill=colour))
        drawing.add(group)
    return _bytes_of(drawing)


def _drawing(page: Page, title: str, description: str) -> svgwrite.Drawing:
    width, height = (f"{length:.3f}" for length in page.size)
    drawing = _Drawing(
        size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False
    )
    drawing.set_desc(title=_NOT_XML.sub("", title), desc=_NOT_XML.sub("", description))
    return drawing


class _Drawing(svgwrite.Drawing):  # type: ignore[misc]
    """A drawing that declares no namespace which the SVG 1.1 DTD does not know."""

    def get_xml(self) -> Element:
        xml: Element = super().get_xml()
        del xml.attrib["xmlns:ev"]
        return xml


def _bytes_of(drawing: svgwrite.Drawing) -> bytes:
    text = io.StringIO()
    drawing.write(text)
    return text.getvalue().encode()


def named(composition: Composition) -> Iterator[tuple[str, Placed | Drawn]]:
    """Yield the names of the artwork's paths with what each one holds."""
    for number, line in enumerate(composition.lines, start=1):
        if line.outline:
            yield f"{RING if line.on_ring else 'line'}-{number}", line
    for number, drawn in enumerate(composition.ornaments, start=1):
        yield f"{'border' if drawn.is_border else 'ornament'}-{number}", drawn


GUIDES, FRAME = "guides", "frame"
"""Names of the group that holds frames for a dry trace, and what their own names start with."""

RING = "ring"
"""What the names of paths start with that run around the cup and not on its face."""

_PATH = re.compile(rb'<path\b[^>]*?\bd="([^"]*)"[^>]*?\bid="([a-z0-9-]+)"')


def read_outlines(artwork: bytes) -> dict[str, Outline]:
    """Return what an artwork file of ours engraves, in page coordinates (mm), by name.

    The frames of its guides are left out: they are no part of the engraving.

    Raises
    ------
    ValueError
        The path data is not of the kind that :func:`write_svg` writes.
    """
    return {
        name.decode(): parsed(data.decode("ascii"))
        for data, name in _PATH.findall(artwork)
        if not name.startswith(FRAME.encode())
    }


def title_of(number: int, name: str) -> str:
    """Return the title of an item's artwork."""
    return f"Item {number}: {shown(name)[1:-1]}"
