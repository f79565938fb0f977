"""The artwork file: written by svgwrite, and read back for the proof.

SVG 1.1: size and viewBox in the same millimetres, filled black paths only.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator

import svgwrite

from mailmerge.artwork.compose import Composition, Drawn, Placed
from mailmerge.artwork.laying import frame_of, laid, start_mark
from mailmerge.artwork.pieces import Piece
from mailmerge.blanks import Blank
from mailmerge.findings import shown
from mailmerge.lettering import Outline
from mailmerge.lettering.outline import joined, parsed
from mailmerge.machines import Loading, Page

_UNUSED_NAMESPACE = ' xmlns:ev="http://www.w3.org/2001/xml-events"'

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What XML 1.0 cannot hold in any form (production 2, Char)."""


def write_svg(
    composition: Composition,
    blank: Blank,
    loading: Loading,
    title: str,
    description: str,
    frame: float | None = None,
) -> bytes:
    """Return the artwork of one item as the bytes of an SVG file, the same for the same item.

    One path for each line, ornament and border, on the machine's page: mm from its origin, which
    is where the mark at the start meets the mouth.

    Parameters
    ----------
    frame
        Width in mm of the line that frames every face and marks the start, in a group of its own;
        by default none.
    """
    drawing = _drawing(loading.page, title, description)
    if frame is not None:
        group = drawing.g(id=GUIDES)
        for number, face in enumerate(composition.faces, start=1):
            piece = Piece(face.angle, frame_of(blank, face, frame), blank)
            data = laid(piece, blank, loading).path_data()
            group.add(drawing.path(d=data, id=f"{FRAME}-{number}", fill="#000000"))
        group.add(drawing.path(d=start_mark(frame).path_data(), id=f"{FRAME}-0", fill="#000000"))
        drawing.add(group)
    for name, held in named(composition):
        data = joined([laid(piece, blank, loading) for piece in held.pieces]).path_data()
        drawing.add(drawing.path(d=data, id=name, fill="#000000"))
    return _bytes_of(drawing)


def write_groups(
    page: Page, groups: Iterable[tuple[str, str, Outline]], title: str, description: str
) -> bytes:
    """Return an SVG file of named groups, each in a colour of its own, the same for the same ones.

    Parameters
    ----------
    groups
        (name, colour as ``#rrggbb``, outline on the machine's page in mm from its origin); a name
        starts with a letter and holds letters, digits, ``.``, ``_`` and ``-`` alone.
    """
    drawing = _drawing(page, title, description)
    for name, colour, outline in groups:
        group = drawing.g(id=name, fill=colour)
        group.add(drawing.path(d=outline.path_data(), fill=colour))
        drawing.add(group)
    return _bytes_of(drawing)


def _drawing(page: Page, title: str, description: str) -> svgwrite.Drawing:
    left, top, width, height = (f"{length + 0.0:.3f}" for length in page.box)
    drawing = svgwrite.Drawing(
        size=(f"{width}mm", f"{height}mm"), viewBox=f"{left} {top} {width} {height}", debug=False
    )
    drawing.set_desc(title=_NOT_XML.sub("", title), desc=_NOT_XML.sub("", description))
    return drawing


def _bytes_of(drawing: svgwrite.Drawing) -> bytes:
    # svgwrite declares a namespace that nothing here uses and the SVG 1.1 DTD does not know.
    text = drawing.tostring().replace(_UNUSED_NAMESPACE, "", 1)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{text}\n'.encode()


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


def seal_of(artwork: bytes) -> str:
    """Return the short digest that ties a proof to these exact bytes: 12 hexadecimal digits."""
    digest = hashlib.sha256(artwork).hexdigest()
    return f"{digest[:4]}-{digest[4:8]}-{digest[8:12]}"


def title_of(number: int, name: str) -> str:
    """Return the title of an item's artwork."""
    return f"Item {number}: {shown(name)[1:-1]}"
