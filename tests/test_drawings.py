"""Ornaments: drawings resolved as another renderer sees them, and what is refused."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
import resvg_py
from PIL import Image
from scipy.ndimage import binary_dilation

from mailmerge.artwork import read_drawing
from mailmerge.findings import InputError
from mailmerge.lettering import coverage
from mailmerge.shelves import shelf

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '


def svg(body: str, head: str = 'viewBox="0 0 100 60"') -> str:
    return f"{HEAD}{head}>{body}</svg>"


DRAWINGS = {
    "basic-shapes": svg(
        '<rect x="4" y="6" width="20" height="14" rx="3"/><circle cx="40" cy="14" r="9"/>'
        '<ellipse cx="66" cy="14" rx="11" ry="5"/><polygon points="82,4 96,4 89,24"/>'
        '<polyline points="4,40 20,52 36,40"/><line x1="50" y1="50" x2="90" y2="34" '
        'stroke="#000" stroke-width="3"/>'
    ),
    "groups-and-transforms": svg(
        '<g transform="translate(20 10) rotate(20)"><g transform="scale(1.5 .8)">'
        '<rect width="20" height="10"/><g transform="skewX(15) translate(24 4)">'
        '<circle r="6"/></g></g></g><path transform="matrix(1 0 .2 1 50 10)" d="M0 0h20v30z"/>'
    ),
    "use-and-symbols": svg(
        '<defs><path id="leaf" d="M0 0C6-8 18-8 24 0C18 8 6 8 0 0z"/></defs>'
        '<use href="#leaf" x="10" y="15"/><use xlink:href="#leaf" transform="translate(50 40) '
        'rotate(-30)"/><use href="#leaf" transform="translate(95 14) scale(-1 1)"/>'
    ),
    "strokes": svg(
        '<path d="M10 50C30 0 70 0 90 50" fill="none" stroke="black" stroke-width="4" '
        'stroke-linecap="round"/><path d="M20 56H80" stroke="#000" stroke-width="2"/>'
    ),
    "even-odd": svg(
        '<path fill-rule="evenodd" d="M10 10H90V50H10zM25 20H75V40H25zM35 25H65V35H35z"/>'
    ),
    "arcs-and-relative": svg('<path d="m20 30a20 20 0 0 1 40 0l10 5q10 10-20 15t-30-20z"/>'),
    "white-on-top": svg(
        '<rect x="10" y="10" width="80" height="40"/><circle cx="50" cy="30" r="14" fill="#fff"/>'
        '<circle cx="50" cy="30" r="6"/>'
    ),
    "open-and-filled": svg(
        '<polyline points="4,6 30,6 20,40"/><path d="M40 6 70 6 60 40M80 10C99 20 99 40 80 50"/>'
        '<path d="M10 45H40V58" fill-rule="evenodd"/>'
    ),
    "hidden": svg(
        '<rect x="10" y="10" width="30" height="30"/>'
        '<rect x="50" y="10" width="40" height="40" fill="none"/>'
    ),
}


def ours_and_theirs(path: Path) -> tuple[np.ndarray, np.ndarray]:
    """Return the drawing as we see it and as resvg renders it, in one size and place.

    They are laid on each other by their areas and centroids: a fine tip ends before its box does.
    """
    encoded = resvg_py.svg_to_bytes(svg_path=str(path), width=900, background="#ffffff")
    theirs = 255.0 - np.asarray(Image.open(io.BytesIO(bytes(encoded))).convert("L"))
    high, wide = theirs.shape
    outline = read_drawing(path).outline
    box = outline.box
    once = min(wide / box.width, high / (box.high - box.low))
    ours = coverage(outline.moved(once, True, -box.left * once, box.high * once), wide, high)
    scale = once * (theirs.sum() / ours.sum()) ** 0.5
    (x, y), (left, top) = _centroid(theirs), _centroid(ours)
    drawn = coverage(
        outline.moved(
            scale, True, x - (left / once + box.left) * scale, y - (top / once - box.high) * scale
        ),
        wide, high,
    )  # fmt: skip
    return drawn > 127, theirs > 127


def _centroid(ink: np.ndarray) -> tuple[float, float]:
    down, across = np.indices(ink.shape) + 0.5
    return float((across * ink).sum() / ink.sum()), float((down * ink).sum() / ink.sum())


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_is_what_another_renderer_shows(name: str, tmp_path: Path) -> None:
    path = tmp_path / f"{name}.svg"
    path.write_text(DRAWINGS[name])
    assert_alike(*ours_and_theirs(path))


def assert_alike(ours: np.ndarray, theirs: np.ndarray) -> None:
    """Edges may differ by a pixel and a half; nothing more may stand on either side alone."""
    assert not (ours & ~binary_dilation(theirs, np.ones((4, 4)))).any()
    assert not (theirs & ~binary_dilation(ours, np.ones((4, 4)))).any()


@pytest.mark.long
@pytest.mark.parametrize("name", shelf("ornaments"))
def test_the_librarys_ornaments_are_what_another_renderer_shows(name: str) -> None:
    """How fine they are is looked at in test_ornaments."""
    assert_alike(*ours_and_theirs(shelf("ornaments")[name]))


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (svg("<script>1</script>"), "Found <script>"),
        (svg('<rect onload="x()" width="9" height="9"/>'), r"Found a script \(onload\)"),
        (svg("<text>Zoë</text>"), "Found <text>"),
        (svg('<image href="#a"/>'), "Found <image>"),
        (svg('<path d="M1 1H9" stroke="#000" stroke-width="-3"/>'), 'the width "-3"'),
        (svg('<path d="M9 20a10 10 0 0120 0a5 5 0 10-20 0z"/>'), "no shape that is filled"),
        (svg('<path d="M1 1L 9"/>'), "data of a path cannot be read"),
        (svg('<path d="M0 0A1e300 1e300 0 1 1 9 9Z"/>'), "too large or too small"),
        (svg("<style>rect{fill:none}</style>"), "Found <style>"),
        (svg("<foreignObject/>"), "Found <foreignObject>"),
        (svg("<filter/>"), "Found <filter>"),
        (svg('<use href="other.svg#a"/>'), "Found a reference to the outside"),
        (svg('<use xlink:href="file:///etc/passwd"/>'), "a reference to the outside"),
        (svg('<rect width="9" height="9" fill="url(http://x.test/a)"/>'), "to the outside"),
        ('<!DOCTYPE svg [<!ENTITY a "b">]>' + svg("<path/>"), "Found a document type or an entity"),
        ('<?xml-stylesheet href="a.css"?>' + svg("<path/>"), "Found a processing instruction"),
        (svg('<g id="a"><use href="#a"/></g>'), "A shape of the drawing uses itself"),
        (
            svg("<defs>" + "".join(
                f'<g id="a{n}">' + f'<use href="#a{n - 1}"/>' * 10 + "</g>" for n in range(1, 12)
            ) + '<rect id="a0" width="1" height="1"/></defs><use href="#a11"/>'),
            "more than 500 elements",
        ),
        (svg("<g>" * 80 + "</g>" * 80), "nested deeper than 60"),
        (svg(""), "holds no shape"),
        (svg('<rect width="9" height="9" fill="none"/>'), "holds no shape"),
        (svg('<path d="M0 0L1e300 0L0 1e300Z"/>'), "shape of a size that can be drawn"),
        (svg('<path d="M0 0Lnan 0L0 5Z"/>'), "data of a path cannot be read at"),
        ("<html></html>", "is not an SVG drawing. It starts with .html."),
        ("<svg", "is not an SVG drawing that can be read"),
        ("", "is not an SVG drawing that can be read"),
        ("\0\1\2", "is not an SVG drawing that can be read"),
    ],
)  # fmt: skip
def test_what_is_no_drawing_is_refused_in_one_line(content: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "bad.svg"
    path.write_text(content, encoding="utf-8")
    with pytest.raises(InputError, match=says) as caught:
        read_drawing(path)
    assert str(caught.value).startswith(f"{path}: ")


def test_notes_of_drawing_programs_are_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "noted.svg"
    path.write_text(
        f'{HEAD}viewBox="0 0 9 9" xmlns:x="http://x.test/ns"><metadata><x:text>a</x:text>'
        f'</metadata><x:view x:zoom="1"/><rect width="9" height="4"/></svg>'
    )
    outline = read_drawing(path).outline
    assert outline.box.width / outline.box.height == pytest.approx(9 / 4, rel=1e-4)


def test_a_large_file_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "large.svg"
    path.write_text(svg("<!--" + "x" * 600_000 + "-->"))
    with pytest.raises(InputError, match="larger than 500 kB"):
        read_drawing(path)
