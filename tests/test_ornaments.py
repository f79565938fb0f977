"""The library's ornaments: each can be engraved at 12 mm, and is drawn once."""

from __future__ import annotations

import io
import re
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import resvg_py
from numpy.typing import NDArray
from outside import cli
from PIL import Image
from scipy.ndimage import distance_transform_edt, label

from mailmerge.artwork import drawings
from mailmerge.artwork.ornaments import KINDS, SUBJECTS, catalogue
from mailmerge.deeds import choosing
from mailmerge.findings import InputError
from mailmerge.lettering import narrow
from mailmerge.machines import Machine
from mailmerge.shelves import load, shelf

Bitmap = NDArray[np.bool_]

SIZE = 12.0
"""Millimetres of an ornament's larger side."""

FINEST = 2 * max(load(Machine, "machines", name, Path()).spot for name in shelf("machines"))
"""0.3 mm: two spots of the widest beam. From there on no machine of the library has a warning."""

FIRST = ("flourish", "laurel", "rule", "sprig")
"""Drawn for 20 mm and 0.2 mm, and on cups since: their bytes stay."""

PIXELS = 20
"""To a millimetre."""


def picture_of(svg: str) -> Bitmap:
    """Return where a drawing is dark, its larger side 12 mm long, as another program renders it."""
    _, _, width, height = _frame(svg)
    across = round(SIZE * PIXELS * width / max(width, height))
    rendered = resvg_py.svg_to_bytes(svg_string=svg, width=across, background="#ffffff")
    dark = np.asarray(Image.open(io.BytesIO(bytes(rendered))).convert("L")) < 128
    return np.pad(dark, PIXELS // 2)


def _frame(svg: str) -> tuple[float, ...]:
    (found,) = re.findall(r'viewBox="([^"]+)"', svg)
    return tuple(map(float, found.split()))


def breaks(dark: Bitmap, width: float) -> bool:
    """Whether a round brush so wide (mm) tears, loses or joins parts of what is dark or bare.

    What the brush reaches is an opening, by two distance transforms.
    """
    reach = width / 2 * PIXELS
    core = distance_transform_edt(dark) > reach
    reached = (distance_transform_edt(~core) <= reach) & dark
    return _parts(reached) != _parts(dark) or _parts(~reached) != _parts(~dark)


def _parts(dark: Bitmap) -> int:
    """Return how many parts there are, specks at the ends of tips left out."""
    sizes = np.bincount(label(dark)[0].ravel())[1:]
    return int((sizes > (0.1 * PIXELS) ** 2).sum())


@cache
def text_of(name: str) -> str:
    return shelf("ornaments")[name].read_text(encoding="utf-8")


@pytest.fixture
def uncompared(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave out the comparison with another renderer, which takes two thirds of the time."""
    agrees = SimpleNamespace(agrees=True, inks=("#000000",), bares=())
    monkeypatch.setattr(drawings, "compared", lambda *_: agrees)


@pytest.mark.usefixtures("uncompared")
@pytest.mark.parametrize("name", shelf("ornaments"))
def test_an_ornament_can_be_engraved_at_12_mm(name: str) -> None:
    read = drawings.drawing_in(shelf("ornaments")[name], 0.5)
    assert isinstance(read, drawings.Read)
    size, finest = (20.0, 0.199) if name in FIRST else (SIZE, FINEST)
    for places in narrow(read.outline, 1.0):
        assert all(place.width * size >= finest for place in places)
    svg = text_of(name)
    dark = picture_of(svg)
    least = finest * SIZE / size - 2 / PIXELS  # each edge may lie a pixel off
    assert not breaks(dark, least)
    assert not breaks(~dark, least)
    assert re.match(r'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 \S+ \S+">\n<title>', svg)
    frame, box = _frame(svg), read.outline.box
    across, down = (np.ptp(np.flatnonzero(dark.any(axis=axis))) + 1 for axis in (0, 1))
    assert down == pytest.approx(across * box.height / box.width, abs=3)  # nothing is cut off
    assert max(frame[2:]) <= 240


@pytest.mark.parametrize(
    ("body", "is_stroke"),
    [
        ('<path d="M10 10H40V40H10ZM56 10H86V40H56ZM40 24H56V24.8H40Z"/>', True),  # a neck
        ('<path d="M10 10H86V60H10ZM10 80H86V80.8H10Z"/>', True),  # a hairline by itself
        ('<path d="M10 10H47.5V60H10ZM48.5 10H86V60H48.5Z"/>', False),  # a slit
        ('<path d="M10 10H86V60H10Z"/><circle cx="48" cy="30" r=".7" fill="#fff"/>', False),
    ],
)
def test_what_is_too_fine_is_found_by_both_measures(
    body: str, is_stroke: bool, tmp_path: Path
) -> None:
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 96 96">{body}</svg>'
    (tmp_path / "fine.svg").write_text(svg, encoding="utf-8")
    read = drawings.drawing_in(tmp_path / "fine.svg", 0.5)
    assert isinstance(read, drawings.Read)
    found = narrow(read.outline, 1.0)
    places = found.strokes if is_stroke else found.gaps
    assert places[0].width * SIZE < FINEST
    dark = picture_of(svg)
    assert breaks(dark if is_stroke else ~dark, FINEST - 2 / PIXELS)


def of_kind(*kinds: str) -> list[str]:
    return [each.name for each in catalogue() if each.kind in kinds]


@pytest.mark.parametrize("name", of_kind("border"))
def test_a_border_goes_on_where_its_repeat_ends(name: str) -> None:
    """Its ink reaches both ends of the frame, and meets itself there."""
    dark = picture_of(text_of(name))[:, PIXELS // 2 : -(PIXELS // 2)]
    first, last = dark[:, 1], dark[:, -2]
    assert first.any()
    assert (first != last).sum() < 0.12 * len(first)


@pytest.mark.parametrize("name", of_kind("frame", "wreath"))
def test_a_frame_has_room_in_its_middle(name: str) -> None:
    dark = picture_of(text_of(name))
    rows, columns = (np.flatnonzero(dark.any(axis=axis)) for axis in (1, 0))
    middle, half = (rows[0] + rows[-1]) // 2, np.ptp(rows) // 6
    centre, wide = (columns[0] + columns[-1]) // 2, np.ptp(columns) // 6
    assert not dark[middle - half : middle + half, centre - wide : centre + wide].any()


def _small(name: str) -> Bitmap:
    """Return a drawing's ink on 32 by 32 squares."""
    rendered = resvg_py.svg_to_bytes(svg_string=text_of(name), width=128, background="#ffffff")
    dark = Image.open(io.BytesIO(bytes(rendered))).convert("L").point(lambda grey: 255 - grey)
    return np.asarray(dark.crop(dark.getbbox()).resize((32, 32))) > 127


def test_no_drawing_stands_there_twice() -> None:
    """Nor turned over: of the ink of any two, at least a fourteenth is not the other's as well."""
    found = np.array([_small(each.name) for each in catalogue()])
    for turned in (found, found[:, :, ::-1], found[:, ::-1]):
        one, two = (each.reshape(len(found), -1).astype(float) for each in (found, turned))
        both = one @ two.T
        either = one.sum(axis=1)[:, None] + two.sum(axis=1) - both
        alike = np.argwhere(np.triu(both > 0.93 * either, 1))
        assert [(catalogue()[i].name, catalogue()[j].name) for i, j in alike] == []


def test_there_is_something_of_every_subject_and_kind() -> None:
    """At least sixty drawings, as the issue of a shop wants them."""
    found = catalogue()
    assert {each.kind for each in found} == set(KINDS)
    assert {each.subject for each in found} == set(SUBJECTS)
    assert len(found) >= 60


def test_ornaments_are_listed_and_drawn_by_subject(tmp_path: Path) -> None:
    told = cli("ornaments", "--subject", "sea", "--kind", "border")
    assert "border-rope" in told
    assert "anchor" not in told
    with pytest.raises(InputError, match=r'"see"\. Did you mean "sea"\?'):
        choosing.ornaments(subject="see")
    for name in ("sheet.svg", "sheet.png"):
        cli("ornaments", "--kind", "corner", "--sheet", tmp_path / name)
    svg = (tmp_path / "sheet.svg").read_text(encoding="utf-8")
    picture = np.asarray(Image.open(tmp_path / "sheet.png").convert("L"))
    height, width = (float(each) for each in re.findall(r'(?:width|height)="([\d.]+)mm"', svg))
    assert picture.shape == (round(height * 8), round(width * 8))
    rendered = resvg_py.svg_to_bytes(
        svg_string=svg, width=picture.shape[1], dpi=96, background="#ffffff"
    )
    theirs = np.asarray(
        Image.open(io.BytesIO(bytes(rendered))).convert("L").resize(picture.shape[::-1])
    )
    assert (picture < 128).sum() > 10_000
    assert ((picture < 128) != (theirs < 128)).mean() < 0.005
    with pytest.raises(InputError, match=r"an \.svg or a \.png file"):
        cli("ornaments", "--sheet", tmp_path / "sheet.pdf")
