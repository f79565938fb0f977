"""Drawings of every kind, each as a browser shows it; and what is refused, each with its reason.

The browser is Chromium, the rasteriser of ours is Pillow's: neither is what a drawing is read or
compared with when an order is opened.
"""

from __future__ import annotations

import base64
import contextlib
import io
import json
import time
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from browser import found_by_browser
from conftest import LayoutOf
from drawn import REFUSED, RIGHT, svg
from PIL import Image, ImageDraw
from playwright.sync_api import Browser
from scipy.ndimage import binary_dilation

from mailmerge.artwork import drawings, read_drawing
from mailmerge.artwork.colours import parse_colour
from mailmerge.checks import check_drawings
from mailmerge.findings import InputError, Severity
from mailmerge.lettering import Shape, cut_out

SIDE = 600
"""Pixels that a drawing is across in the browser."""

_SCRIPT = """
const found = {};
for (const [name, url] of Object.entries(drawings)) {
  const image = new Image();
  image.src = url;
  await image.decode();
  const wide = image.naturalWidth >= image.naturalHeight;
  const ratio = image.naturalWidth / image.naturalHeight;
  const canvas = document.createElement("canvas");
  canvas.width = wide ? %(side)d : Math.round(%(side)d * ratio);
  canvas.height = wide ? Math.round(%(side)d / ratio) : %(side)d;
  const pen = canvas.getContext("2d");
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(image, 0, 0, canvas.width, canvas.height);
  found[name] = canvas.toDataURL("image/png");
}
"""


@pytest.fixture(scope="module")
def browsed(chromium: Browser) -> dict[str, np.ndarray]:
    """Return where the browser shows something dark of each drawing, by WCAG's own formula."""
    drawings = {
        name: f"data:image/svg+xml;base64,{base64.b64encode(text.encode()).decode()}"
        for name, text in RIGHT.items()
    }
    script = f"const drawings = {json.dumps(drawings)};" + _SCRIPT % {"side": SIDE}
    pictures = found_by_browser(chromium, "", script)
    found = {}
    for name, url in pictures.items():
        picture = Image.open(io.BytesIO(base64.b64decode(url.partition(",")[2]))).convert("RGB")
        parts = np.asarray(picture) / 255
        linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
        found[name] = linear @ (0.2126, 0.7152, 0.0722) < 0.5
    return found


def cut_to_ink(mask: np.ndarray) -> np.ndarray:
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    return mask[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


def drawn_by_pillow(text: str, path: Path, height: int, width: int) -> np.ndarray:
    """Return the outline that would be engraved, stretched to a picture; curves as chords."""
    path.write_text(text)
    outline = read_drawing(path).outline
    box = outline.box
    picture = Image.new("L", (width * 4, height * 4))
    fill = np.zeros((height * 4, width * 4), dtype=bool)
    for ring in chords(outline.verbs, outline.points.tolist()):
        at = np.array(ring)
        x = (at[:, 0] - box.left) / box.width * width * 4
        y = (box.high - at[:, 1]) / box.height * height * 4
        picture.paste(0, (0, 0, *picture.size))
        ImageDraw.Draw(picture).polygon(list(zip(x - 0.5, y - 0.5, strict=True)), fill=255)
        fill ^= np.asarray(picture) > 0  # the rings of an outline lie apart or within each other
    return fill.reshape(height, 4, width, 4).mean(axis=(1, 3)) > 0.5


def chords(verbs: str, points: list[list[float]]) -> list[list[np.ndarray]]:
    rings: list[list[np.ndarray]] = []
    at = 0
    for verb in verbs:
        count = {"M": 1, "L": 1, "Q": 2, "C": 3, "Z": 0}[verb]
        new = [np.array(point) for point in points[at : at + count]]
        at += count
        if verb == "M":
            rings.append(new)
        elif verb != "Z":
            rings[-1] += bezier([rings[-1][-1], *new])
    return rings


def bezier(control: list[np.ndarray]) -> list[np.ndarray]:
    """Return points of a curve by de Casteljau's halving, the first left out."""
    found = []
    for share in np.linspace(0, 1, 25)[1:] if len(control) > 2 else (1.0,):
        row = control
        while len(row) > 1:
            row = [a + (b - a) * share for a, b in pairwise(row)]
        found.append(row[0])
    return found


@pytest.mark.outside("chromium")
@pytest.mark.parametrize("name", RIGHT)
def test_a_drawing_is_engraved_as_a_browser_shows_it(
    name: str, browsed: dict[str, np.ndarray], tmp_path: Path
) -> None:
    theirs = cut_to_ink(browsed[name])
    ours = drawn_by_pillow(RIGHT[name], tmp_path / "drawing.svg", *theirs.shape)
    # Both are cut to their ink, so each edge may be a pixel off, and a pixel more by the cut.
    ours, theirs = (np.pad(mask, 3) for mask in (ours, theirs))
    for one, other in ((ours, theirs), (theirs, ours), (~ours, ~theirs), (~theirs, ~ours)):
        assert (one & ~binary_dilation(other, np.ones((5, 5)))).sum() <= 4  # a corner's very tip
    assert (ours != theirs).mean() < 0.05


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_read_as_it_is_drawn_is_refused(name: str, tmp_path: Path) -> None:
    text, says = REFUSED[name]
    path = tmp_path / "drawing.svg"
    path.write_text(text)
    with pytest.raises(InputError, match=says) as caught:
        read_drawing(path)
    assert str(caught.value).startswith(f"{path}: ")
    assert str(caught.value).endswith(".")


@pytest.mark.parametrize(
    ("text", "rgba"),
    [
        ("#f80", (255, 136, 0, 1)), ("#F808", (255, 136, 0, 136 / 255)),
        ("#ff8800", (255, 136, 0, 1)), ("#ff880080", (255, 136, 0, 128 / 255)),
        ("DarkOrange", (255, 140, 0, 1)), ("transparent", (0, 0, 0, 0)),
        ("rgb(255, 0, 51)", (255, 0, 51, 1)), ("rgb(100% 0% 20% / 50%)", (255, 0, 51, 0.5)),
        ("rgba(255,0,300,.5)", (255, 0, 255, 0.5)), ("hsl(120, 100%, 25%)", (0, 127.5, 0, 1)),
        ("hsla(0deg 100% 50% / 0.25)", (255, 0, 0, 0.25)), ("hsl(-60,100%,50%)", (255, 0, 255, 1)),
    ],
)  # fmt: skip
def test_a_colour_is_read_as_css_says(text: str, rgba: tuple[float, ...]) -> None:
    found = parse_colour(text)
    whole = (found.red * 255, found.green * 255, found.blue * 255, found.alpha)
    assert whole == pytest.approx(rgba, abs=1e-9)


def test_luminance_is_that_of_another_library() -> None:
    import coloraide

    for text in ("#000", "#fff", "#f00", "#0f0", "#00f", "#808080", "gold", "#0a0a0a", "#123456"):
        wanted = coloraide.Color(text).luminance()
        assert parse_colour(text).over(1.0) == pytest.approx(wanted, abs=5e-4)


def test_the_limit_decides_what_is_ink_and_the_colours_are_named(tmp_path: Path) -> None:
    path = tmp_path / "two.svg"
    navy, orange = '<path fill="navy" d="M0 0h90v50H0z"/>', '<path fill="orange" d="M9 9h30v9H9z"/>'
    path.write_text(svg(navy + orange))
    usual, lower = read_drawing(path), read_drawing(path, 0.4)
    assert (usual.inks, usual.bares) == (("#000080", "#ffa500"), ())
    assert (lower.inks, lower.bares) == (("#000080",), ("#ffa500",))
    assert usual.outline.verbs.count("M") == 1
    assert lower.outline.verbs.count("M") == 2  # cut out of the navy
    with pytest.raises(InputError, match="Everything in the drawing is light"):
        read_drawing(path, 0.01)


def test_a_note_says_which_colours_are_engraved(layout_of: LayoutOf, tmp_path: Path) -> None:
    (tmp_path / "crest.svg").write_text(RIGHT["yellow-on-blue"])
    (tmp_path / "mark.svg").write_text(RIGHT["caps"])
    box = {"line": 1, "width": "20 mm", "height": "9 mm"}
    named = [{"drawing": "crest.svg"}, {"drawing": "crest.svg", "ink_below": 0.8}]
    layout = layout_of(
        {"text": "{name}"}, ornament=[each | box for each in (*named, {"drawing": "mark.svg"})]
    )
    usual, higher = check_drawings(layout, tmp_path)
    assert {usual.severity, higher.severity} == {Severity.NOTE}
    assert "Engraved: #000080. Left bare: white, #ffd700." in usual.message
    assert "Engraved: #000080, #ffd700." in higher.message
    assert "bare" not in higher.message
    assert "0.8" in higher.advice


def test_a_difference_is_shown_beside_the_drawing(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """What ours would do with a blend that it does not know, were it not refused before."""
    path = tmp_path / "crest.svg"
    path.write_text(svg('<path d="M0 0h90v50H0z"/><path stroke="#fff" d="M45 9v30"/>'))
    seen = cut_out

    def without_the_line(shapes: list[tuple[Shape, bool]]) -> object:
        return seen(shapes[:1])

    monkeypatch.setattr(drawings, "cut_out", without_the_line)
    with pytest.raises(InputError, match="would not be engraved as it is drawn") as caught:
        read_drawing(path)
    place = tmp_path / "crest-compared.png"
    assert str(place) in str(caught.value)
    both = np.asarray(Image.open(place).convert("RGB")).astype(int)
    left, right = both[:, : both.shape[1] // 2], both[:, both.shape[1] // 2 :]
    red = (right == (220, 0, 0)).all(axis=2)
    assert red.any(axis=1).sum() / len(red) == pytest.approx(0.5, abs=0.01)  # 30 of 60 high
    assert not (left == (220, 0, 0)).all(axis=2).any()
    assert len(list(tmp_path.iterdir())) == 2


@pytest.mark.parametrize("width", [0.15, 0.3, 1])
@pytest.mark.parametrize("colour", ["#fff", "#000"])
def test_no_line_is_too_fine_to_be_missed(
    width: float, colour: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    path = tmp_path / "fine.svg"
    at = 45 if colour == "#fff" else 95  # within the ink, or beside it
    line = f'<path stroke="{colour}" stroke-width="{width}" d="M{at} 9l2 30"/>'
    path.write_text(svg('<path d="M0 0h90v50H0z"/>' + line))
    assert read_drawing(path).outline.verbs.count("M") == 2
    drawings.read_drawing.cache_clear()
    seen = cut_out
    monkeypatch.setattr(drawings, "cut_out", lambda shapes: seen(shapes[:1]))
    with pytest.raises(InputError, match="would not be engraved as it is drawn"):
        read_drawing(path)


def test_a_small_drawing_is_compared_from_nearby(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A gap of 2 px, where a picture of the whole has one pixel for 6 px."""
    path = tmp_path / "small.svg"
    path.write_text(
        svg(
            '<path d="M90 90h20v20h-20z"/><path fill="#fff" d="M94 94h2v12h-2z"/>',
            'viewBox="0 0 3000 3000"',
        )
    )
    assert read_drawing(path).outline.verbs.count("M") == 2
    drawings.read_drawing.cache_clear()
    seen = cut_out
    monkeypatch.setattr(drawings, "cut_out", lambda shapes: seen(shapes[:1]))
    with pytest.raises(InputError, match="would not be engraved as it is drawn"):
        read_drawing(path)


@pytest.mark.long
def test_hostile_drawings_end_soon(tmp_path: Path) -> None:
    """Each is refused, or read, within seconds: nothing in a file may take longer than a merge."""
    clips = "".join(
        f'<clipPath id="c{n}"><rect width="9" height="9" clip-path="url(#c{n - 1})"/>'
        f'<rect x="4" width="9" height="9" clip-path="url(#c{n - 1})"/></clipPath>'
        for n in range(1, 30)
    )
    strokes = "".join(f"M{n % 97} 0L{n * 37 % 89} 60" for n in range(200))
    hostile = (
        f'<clipPath id="c0"><rect width="9" height="9"/></clipPath>{clips}'
        '<rect width="9" height="9" clip-path="url(#c29)"/>',
        '<path d="M0 0H90" stroke="black" stroke-dasharray="0.0001"/>',
        f'<path d="{strokes}" fill="none" stroke="black" stroke-width=".2"/>',
        '<path d="' + "M0 0L99 60L0 60L99 0" * 9_000 + '"/>',
        '<circle cx="50" cy="30" r="20" transform="scale(1e30)"/>',
        '<clipPath id="a" clip-path="url(#a)"><rect width="9" height="9"/></clipPath>'
        '<rect width="9" height="9" clip-path="url(#a)"/>',
        "<g>" + '<g opacity=".99">' * 50 + '<rect width="90" height="50"/>' + "</g>" * 51,
    )
    for body in hostile:
        path = tmp_path / "hostile.svg"
        path.write_text(svg(body))
        drawings.read_drawing.cache_clear()
        began = time.process_time()
        with contextlib.suppress(InputError):
            read_drawing(path)
        assert time.process_time() - began < 10, body[:200]
