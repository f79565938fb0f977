"""The weld over real names, by a scan of its own: nothing lost, nothing gained."""

from __future__ import annotations

import random
from pathlib import Path

import names
import numpy as np
import pytest
from conftest import Samples

from mailmerge.lettering import Outline, Style, letter, open_font, shaped

NAMES = 200, 20_000
"""For each font; all of them with ``--all``."""
SCANS = 12
FLATTENED = np.linspace(0, 1, 9)
"""Curves are taken as eight chords: at the sizes of these glyphs within half a unit."""


def edges(outline: Outline) -> np.ndarray:
    """Return the outline as straight edges, shape (n, 4): x and y of start and end."""
    pieces = []
    starts = np.array(outline.starts)
    ends = np.array([*outline.starts[1:], len(outline.points)]) - 1
    pieces.append(np.hstack([outline.points[ends], outline.points[starts]]))
    for verb, degree in (("L", 1), ("Q", 2), ("C", 3)):
        if verb not in outline.verbs:
            continue
        curves = outline.curves(verb)
        t = (np.array([0.0, 1.0]) if degree == 1 else FLATTENED)[None, :, None]
        points = curves[:, :1] * (1 - t) ** degree + curves[:, -1:] * t**degree
        if degree == 2:
            points = points + 2 * t * (1 - t) * curves[:, 1:2]
        elif degree == 3:
            points = points + 3 * t * (1 - t) * ((1 - t) * curves[:, 1:2] + t * curves[:, 2:3])
        pieces.append(np.dstack([points[:, :-1], points[:, 1:]]).reshape(-1, 4))
    return np.concatenate(pieces)


def crossings(lines: np.ndarray, heights: np.ndarray) -> tuple[np.ndarray, ...]:
    """Return where edges cross horizontal lines: number of the line, x, and the way of crossing."""
    x0, y0, x1, y1 = lines.T
    hit = (y0 > heights[:, None]) != (y1 > heights[:, None])
    scan, edge = np.nonzero(hit)
    share = (heights[scan] - y0[edge]) / (y1[edge] - y0[edge])
    return scan, x0[edge] + share * (x1[edge] - x0[edge]), np.where(y1[edge] > y0[edge], 1, -1)


def differing(
    before: np.ndarray, after: np.ndarray, heights: np.ndarray
) -> tuple[np.ndarray, float]:
    """Return how much of each line only one of two shapes covers (non-zero), and the whole."""
    scan_a, x_a, way_a = crossings(before, heights)
    scan_b, x_b, way_b = crossings(after, heights)
    scan, x = np.concatenate([scan_a, scan_b]), np.concatenate([x_a, x_b])
    order = np.lexsort((x, scan))
    none_a, none_b = np.zeros_like(way_a), np.zeros_like(way_b)
    in_before = np.cumsum(np.concatenate([way_a, none_b])[order]) != 0
    in_after = np.cumsum(np.concatenate([none_a, way_b])[order]) != 0
    scan, x = scan[order], x[order]
    length = np.append(np.diff(x), 0.0)
    length[np.append(np.diff(scan) != 0, True)] = 0.0
    off = np.bincount(scan, length * (in_before != in_after), minlength=len(heights))
    return off, float((length * in_before).sum())


def census(kind: str) -> list[str]:
    """Return a census list of the package ``names``, which reads it anew for every name."""
    with Path(names.FILES[kind]).open(encoding="utf-8") as file:
        return [line.split()[0].capitalize() for line in file]


@pytest.mark.parametrize("family", ["Great Vibes", "Dancing Script", "Pacifico"])
def test_no_real_name_loses_or_gains_anything(family: str, samples: Samples) -> None:
    """Names from the census lists inside the package ``names``; none is copied here.

    Letters as the font has them, filled by the non-zero rule, against the weld, on lines across
    every name. A lost counter, stroke or letter would show as a piece of a line.
    """
    dice = random.Random(family)  # so every font has names of its own
    first, last = (census(name) for name in ("first:female", "last"))
    style = Style((open_font(family, 400, Path()),))
    font = style.font
    flat: dict[int, np.ndarray] = {}
    whole = lost = 0.0
    worst: list[tuple[float, str]] = []
    for _ in range(samples(*NAMES)):
        name = f"{dice.choice(first)} {dice.choice(last)}"
        line = letter(style, name)
        assert line.sound, name
        placed = []
        for glyph in shaped(style, name).glyphs:
            if glyph.id not in flat:
                flat[glyph.id] = edges(font.outline(glyph.id))
            placed.append(flat[glyph.id] + (glyph.x, glyph.y, glyph.x, glyph.y))
        box = line.box
        heights = box.low + box.height * (np.arange(SCANS) + dice.random()) / SCANS
        off, covered = differing(np.concatenate(placed), edges(line.outline), heights)
        whole += covered
        lost += float(off.sum())
        worst.append((float(off.max()), name))
    # Crossings are rounded to whole units, and lines may run along a nearly level edge.
    assert max(worst)[0] < 0.03 * font.letter_height, sorted(worst)[-5:]
    assert lost < 0.0005 * whole
