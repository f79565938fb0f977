"""The artwork file: written by svgwrite, and read back for the proof.

SVG 1.1: size and viewBox in the same millimetres, filled black paths only.
"""

from __future__ import annotations

import hashlib
import re

import svgwrite

from mailmerge.artwork.compose import Composition
from mailmerge.findings import shown
from mailmerge.lettering import Outline
from mailmerge.lettering.outline import parsed

_UNUSED_NAMESPACE = ' xmlns:ev="http://www.w3.org/2001/xml-events"'

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What XML 1.0 cannot hold in any form (production 2, Char)."""


def write_svg(composition: Composition, title: str, description: str) -> bytes:
    """Return the artwork of one item as the bytes of an SVG file, the same for the same item.

    One path for each line and each ornament, in page coordinates (mm, ``y`` down from the mouth).
    """
    width, height = (
        f"{length:.3f}" for length in (composition.page_width, composition.page_height)
    )
    drawing = svgwrite.Drawing(
        size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False
    )
    drawing.set_desc(title=_NOT_XML.sub("", title), desc=_NOT_XML.sub("", description))
    for number, line in enumerate(composition.lines, start=1):
        if line.outline:
            name = f"{RING if line.on_ring else 'line'}-{number}"
            drawing.add(drawing.path(d=line.outline.path_data(), id=name, fill="#000000"))
    for number, ornament in enumerate(composition.ornaments, start=1):
        drawing.add(
            drawing.path(d=ornament.outline.path_data(), id=f"ornament-{number}", fill="#000000")
        )
    # svgwrite declares a namespace that nothing here uses and the SVG 1.1 DTD does not know.
    text = drawing.tostring().replace(_UNUSED_NAMESPACE, "", 1)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{text}\n'.encode()


RING = "ring"
"""What the names of paths start with that run around the cup and not on its face."""

_PATH = re.compile(rb'<path\b[^>]*?\bd="([^"]*)"[^>]*?\bid="([a-z0-9-]+)"')


def read_outlines(artwork: bytes) -> dict[str, Outline]:
    """Return the outlines that an artwork file of ours holds, in page coordinates (mm), by name.

    Raises
    ------
    ValueError
        The path data is not of the kind that :func:`write_svg` writes.
    """
    return {name.decode(): parsed(data.decode("ascii")) for data, name in _PATH.findall(artwork)}


def seal_of(artwork: bytes) -> str:
    """Return the short digest that ties a proof to these exact bytes: 12 hexadecimal digits."""
    digest = hashlib.sha256(artwork).hexdigest()
    return f"{digest[:4]}-{digest[4:8]}-{digest[8:12]}"


def title_of(number: int, name: str) -> str:
    """Return the title of an item's artwork."""
    return f"Item {number}: {shown(name)[1:-1]}"
