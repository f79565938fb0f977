"""The fixed part of a proof: the cup without its lettering, the bare wrap, the labels.

It is the same for all items of an order on the same faces, so it is drawn once and then copied.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageChops, ImageDraw

from mailmerge.blanks import Blank, Coat, Face, Zone, usable_at
from mailmerge.lettering import Outline
from mailmerge.proofs import words
from mailmerge.proofs.canvas import Canvas
from mailmerge.proofs.handle import bar_of, handle_reach
from mailmerge.proofs.measures import HEIGHT, MARGIN, WIDTH
from mailmerge.proofs.palette import INK, LINE, MIXES, PAPER, SHADES, SOFT, Indices, Palette, rgb
from mailmerge.proofs.projection import (
    angle_of_mm,
    box_of_wall,
    levels,
    on_cup,
    radius_below,
    strip,
    turns_seen,
    unrolled,
    unrolled_outline,
)
from mailmerge.proofs.text import cut, width_of
from mailmerge.units import format_mm

_CUP_AREA = (MARGIN, 150, 860, 800)
"""Left, top, width and height in px of the room for the cup, or for one cup for each face."""
_WRAP_AREA = (MARGIN, 1070, 900, 410)
COLUMN = 960
"""Left edge in px of the words beside the cup."""
FINE = 2
"""The ground is drawn this many times finer and shrunk, for soft edges."""
_THIN = 0.5
"""Width in mm of the frame around a zone on a cup."""
MOST_VIEWS = 3
"""Cups on one proof: so many faces are seen on a cup, the rest on the wrap alone."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class View:
    """A face, seen on a cup of its own."""

    face: Face
    words: str
    """Who sees it."""


@dataclass(frozen=True, eq=False)
class Stage:
    """The fixed part of a proof, and the way from millimetres to its pixels."""

    canvas: Canvas
    blank: Blank
    views: tuple[tuple[View, float], ...]
    """Each face with the middle of its cup, in px from the left."""
    cup_scale: float
    """Pixels per mm of the cup."""
    cup_top: float
    cups_box: tuple[int, int, int, int]
    """Left, top, right and bottom in px of the cups, with their handles and shadows."""
    wrap_scale: float
    wrap_left: float
    wrap_top: float
    """Where the unrolled wall's own (0, 0) lies, in px."""
    wrap_box: tuple[float, float, float, float]
    """Left, top, right and bottom of the unrolled wall, in px."""

    def cup(self, outline: Outline, view: View, middle: float) -> Outline:
        """Return an outline of the wall in pixels of a cup's picture."""
        seen = on_cup(outline, self.blank, view.face)
        return seen.moved(self.cup_scale, False, middle, self.cup_top)

    def wrap(self, outline: Outline) -> Outline:
        """Return an outline of the wall in pixels of the unrolled wrap."""
        flat = unrolled_outline(outline, self.blank)
        return flat.moved(self.wrap_scale, False, self.wrap_left, self.wrap_top)


def stage_for(blank: Blank, coat: Coat, views: tuple[View, ...]) -> Stage:
    """Return the fixed part for a blank in a coat, seen from its faces.

    How wide they are where a guest's lines stand is no part of it.
    """
    return _stage_for(blank, coat, tuple(View(bare(view.face), view.words) for view in views))


def bare(face: Face) -> Face:
    """Return a face without its width, which on a tapered wall differs from name to name."""
    return replace(face, usable_width=0.0) if face.visible_angle < 360 else face


@lru_cache(maxsize=16)
def _stage_for(blank: Blank, coat: Coat, views: tuple[View, ...]) -> Stage:
    palette = Palette(coat.colour, coat.reveal)
    seen, scale, middles, cup_top = _cups_placed(blank, views)
    left, top, width, height = _WRAP_AREA
    box = box_of_wall(blank)
    wrap_scale = min(width / box.width, height / box.height)
    wrap_left, wrap_top = left - box.left * wrap_scale, top - box.low * wrap_scale
    wrap_box = (left, top, left + box.width * wrap_scale, top + box.height * wrap_scale)

    picture = Image.new("RGB", (WIDTH * FINE, HEIGHT * FINE), PAPER)
    draw = ImageDraw.Draw(picture)
    shapes = Image.new("L", picture.size, 0)
    for view, middle in zip(seen, middles, strict=True):
        Cup(draw, blank, coat, scale * FINE, middle * FINE, cup_top * FINE).draw_on(
            shapes, view.face
        )
    cups_box = _drawn(picture)
    _rules(draw)
    Wrap(picture, blank, coat, wrap_scale * FINE, wrap_left * FINE, wrap_top * FINE).draw(
        [view.face for view in views]
    )
    canvas = Canvas(palette, in_light(palette, picture, shapes, blank, middles, scale, cup_top))
    stage = Stage(
        canvas, blank, tuple(zip(seen, middles, strict=True)), scale, cup_top, cups_box, wrap_scale,
        wrap_left, wrap_top, wrap_box,
    )  # fmt: skip
    for zone in blank.zones:
        if zone.kind not in ("handle", "seam"):
            _outlined(stage, zone)
    _labels(stage, views)
    return stage


def in_light(
    palette: Palette, picture: Image.Image, shapes: Image.Image, blank: Blank,
    middles: list[float], scale: float, cup_top: float,
) -> Indices:  # fmt: skip
    """Return a fine picture shrunk, in the palette's colours, with the cups' walls lit.

    Parameters
    ----------
    shapes
        255 where the walls are.
    middles, scale, cup_top
        Of the cups, in px of the shrunk picture, and px per mm.
    """
    size = picture.width // FINE, picture.height // FINE
    small = picture.resize(size, Image.Resampling.BOX)
    pixels = palette.of_picture(small)
    inside = np.asarray(shapes.resize(size, Image.Resampling.BOX)) == 255
    lit = _lit(palette, blank, middles, scale, cup_top, size)
    pixels[inside] = lit[inside]
    flat = (np.asarray(small) == rgb(palette.coat)).all(axis=2)
    pixels[flat & ~inside] = SHADES // 2 * MIXES  # the wrap, lit from everywhere
    return pixels


def _outlined(stage: Stage, zone: Zone) -> None:
    """Draw where a zone without a shape of its own lies, as a thin frame on each cup."""
    blank = stage.blank
    middle, half = blank.page_width * zone.at / 360, zone.half(blank.smallest_circumference)
    low, high = zone.from_, blank.height if zone.to is None else zone.to

    def frame(inset: float) -> list[tuple[float, float]]:
        heights = levels(low + inset, high - inset)
        wide = angle_of_mm(half - inset, heights, blank)
        right = list(zip((middle + wide).tolist(), (blank.height - heights).tolist(), strict=True))
        return right + [(2 * middle - x, y) for x, y in reversed(right)]

    outer, inner = frame(0.0), frame(min(_THIN, half / 2))[::-1]
    verbs = "M" + "L" * (len(outer) - 1) + "Z"
    outline = Outline(verbs * 2, np.array(outer + inner, dtype=np.float64))
    ink = stage.canvas.palette.ink(SOFT)
    for view, at in stage.views:
        for turn in turns_seen(outline, blank, view.face):
            seen = outline.moved(1.0, False, turn, 0.0) if turn else outline
            stage.canvas.outline(stage.cup(seen, view, at), ink)


def _drawn(picture: Image.Image) -> tuple[int, int, int, int]:
    """Return the box of what is drawn on bare paper so far, in px of the shrunk picture."""
    paper = Image.new("RGB", picture.size, PAPER)
    box = ImageChops.difference(picture, paper).getbbox()
    assert box is not None
    left, top, right, bottom = box
    return left // FINE, top // FINE, -(-right // FINE), -(-bottom // FINE)


def _cups_placed(
    blank: Blank, views: tuple[View, ...]
) -> tuple[tuple[View, ...], float, list[float], float]:
    """Return the faces seen on cups, the scale (px per mm), the cups' middles and their top."""
    seen = views[:MOST_VIEWS]
    left, top, width, height = _CUP_AREA
    half = blank.page_width / 2 if blank.is_flat else blank.largest_circumference / 2 / math.pi
    reaches = []
    for view in seen:
        # A place at angle t from the line of sight and distance r from the axis is at r sin t.
        reach = half + handle_reach(blank)
        aside = [reach * math.sin(math.radians(z.at - view.face.angle)) for z in blank.handles]
        reaches.append((max([half, *(-x for x in aside)]), max([half, *aside])))
    if len(seen) == 1:  # the cup stands in the middle, whichever way its handle points
        reaches = [(max(reaches[0]), max(reaches[0]))]
    else:  # handles point outward where they can
        seen, reaches = _outward(seen, reaches)
    words = 40 if len(seen) > 1 else 0
    room = height - 40 - words
    between = 36.0 * (len(seen) - 1)
    total = sum(before + after for before, after in reaches)
    scale = min((width - between) / total, room / blank.upright_height)
    x = left + (width - total * scale - between) / 2
    middles = []
    for before, after in reaches:
        middles.append(x + before * scale)
        x += (before + after) * scale + 36.0
    return seen, scale, middles, top + (room - blank.upright_height * scale) / 2 + 14


def _outward(
    seen: tuple[View, ...], reaches: list[tuple[float, float]]
) -> tuple[tuple[View, ...], list[tuple[float, float]]]:
    ordered = sorted(zip(seen, reaches, strict=True), key=lambda pair: pair[1][1] - pair[1][0])
    return tuple(view for view, _ in ordered), [reach for _, reach in ordered]


def _lit(
    palette: Palette, blank: Blank, middles: list[float], scale: float, cup_top: float,
    size: tuple[int, int],
) -> Indices:  # fmt: skip
    """Return a whole picture of bare coat lit as the walls at these places are."""
    width, height = size
    if blank.is_flat:
        across = np.linspace(0.72, 0.52, width)[None, :] + np.linspace(0.06, -0.06, height)[:, None]
        return palette.shaded(across)
    edges = [(a + b) / 2 for a, b in pairwise(middles)]
    columns = np.arange(width) + 0.5
    nearest = np.array(middles)[np.searchsorted(edges, columns)]
    strips = []
    for top in range(
        0, height, _STRIP
    ):  # a whole picture of numbers would take 12 MB for each step
        rows = np.arange(top, min(top + _STRIP, height)) + 0.5
        down = (rows - cup_top) / scale / math.cos(math.radians(blank.tilt))
        radii, which = np.unique(
            radius_below(np.clip(down, 0, blank.height), blank), return_inverse=True
        )  # a straight wall looks alike in every row
        angle = np.arcsin(np.clip((columns - nearest) / (radii[:, None] * scale), -1, 1))
        strips.append(palette.shaded(light_at(angle)[which]))
    return np.concatenate(strips)


def light_at(angle: Floats) -> Floats:
    """Return how bright a round wall is, 0 to 1, at angles (rad) off the line of sight."""
    diffuse = np.cos(angle + math.radians(28)).clip(0)
    window = np.exp(-(((angle + math.radians(38)) / 0.20) ** 2))
    back = np.exp(-(((angle - math.radians(66)) / 0.16) ** 2))
    return np.asarray(0.10 + 0.48 * diffuse + 0.34 * window + 0.22 * back)


_STRIP = 40
"""Rows of a picture that are lit at a time; a multiple of four, for the dither repeats so."""


class Cup:
    """Draws a bare cup; all lengths in fine pixels."""

    def __init__(
        self, draw: ImageDraw.ImageDraw, blank: Blank, coat: Coat, scale: float, middle: float,
        top: float,
    ) -> None:  # fmt: skip
        self.draw, self.blank, self.scale = draw, blank, scale
        self.middle, self.top = middle, top
        self.bottom = top + blank.upright_height * scale
        self.mouth, self.base = (
            (0.0, 0.0)
            if blank.is_flat
            else (blank.radius_at(blank.height) * scale, blank.radius_at(0.0) * scale)
        )
        self.coat = rgb(coat.colour)
        self.steel = np.array([188.0, 190.0, 192.0])

    def _box(self, left: float, top: float, right: float, bottom: float) -> list[float]:
        return [self.middle + left, self.top + top, self.middle + right, self.top + bottom]

    def draw_on(self, mask: Image.Image, face: Face) -> None:
        """Draw it as one sees it from a face; mark its wall, which is lit later, on the mask."""
        if self.blank.is_flat:
            self.board(mask)
            return
        self.shadow()
        for handle in self.blank.handles:
            self.handle(face, handle)
        self.body(mask)

    def shadow(self) -> None:
        """Draw the shadow that the cup stands on."""
        for step in range(7):
            grow = 1.12 - step * 0.025
            grey = tuple(round(part - 3 - step * 4.2) for part in PAPER)
            high = 11 * FINE * (1 - step / 9)
            self.draw.ellipse(
                [
                    self.middle - self.base * grow, self.bottom - high,
                    self.middle + self.base * grow, self.bottom + high + 4 * FINE,
                ],
                fill=grey,
            )  # fmt: skip

    def handle(self, face: Face, handle: Zone) -> None:
        """Draw a handle where it stands when one looks at the face; behind the cup it is hidden."""
        bar, scale = bar_of(self.blank, face, handle), self.scale
        if min(bar.right - bar.left, bar.low - bar.top) * scale < 4 * FINE:
            return  # too small to be seen
        shade = tuple(np.rint(self.coat * 0.78 + 16).astype(int).tolist())
        edge = tuple(np.rint(self.coat * 0.55 + 8).astype(int).tolist())
        for grow, colour in ((1.2 * FINE, edge), (-1.2 * FINE, shade)):
            self.draw.rounded_rectangle(
                self._box(
                    bar.left * scale - grow, bar.top * scale - grow,
                    bar.right * scale + grow, bar.low * scale + grow,
                ),
                radius=bar.radius * scale,
                outline=colour,
                width=round(bar.thick * scale + 2 * grow),
            )  # fmt: skip

    def body(self, mask: Image.Image) -> None:
        """Draw foot, wall and rim; mark the coated wall, which is lit later, on the mask."""
        rim, foot = 7 * FINE, 8 * FINE
        height = self.bottom - self.top
        steel = tuple(np.rint(self.steel).astype(int).tolist())
        dark = tuple(np.rint(self.steel * 0.62).astype(int).tolist())
        mouth, base = self.mouth, self.base
        self.draw.rounded_rectangle(
            self._box(-mouth * 0.985, -rim, mouth * 0.985, rim), rim, fill=steel
        )
        self.draw.rounded_rectangle(
            self._box(-base * 0.95, height - foot, base * 0.95, height + foot), foot, fill=dark
        )
        fill = tuple(np.rint(self.coat).astype(int).tolist())
        if self.blank.taper is None:
            wall = self._box(-mouth, 0, mouth, height)
            self.draw.rounded_rectangle(wall, 5 * FINE, fill=fill)
            ImageDraw.Draw(mask).rounded_rectangle(wall, 5 * FINE, fill=255)
            return
        corners = [
            (self.middle - mouth, self.top), (self.middle + mouth, self.top),
            (self.middle + base, self.bottom), (self.middle - base, self.bottom),
        ]  # fmt: skip
        self.draw.polygon(corners, fill=fill)
        ImageDraw.Draw(mask).polygon(corners, fill=255)

    def board(self, mask: Image.Image) -> None:
        """Draw flat goods as they lie there."""
        half, height = self.blank.page_width / 2 * self.scale, self.blank.height * self.scale
        wall = self._box(-half, 0, half, height)
        shade = tuple(round(part - 22) for part in PAPER)
        drop = [edge + 5 * FINE for edge in wall]
        self.draw.rounded_rectangle(drop, 8 * FINE, fill=shade)
        fill = tuple(np.rint(self.coat).astype(int).tolist())
        self.draw.rounded_rectangle(wall, 6 * FINE, fill=fill)
        ImageDraw.Draw(mask).rounded_rectangle(wall, 6 * FINE, fill=255)


def _rules(draw: ImageDraw.ImageDraw) -> None:
    for y in (112, 1000):
        draw.rectangle(
            [MARGIN * FINE, y * FINE, (WIDTH - MARGIN) * FINE, (y + 2) * FINE], fill=LINE
        )


class Wrap:
    """Draws the unrolled wall with the handle zone hatched and the faces' frames dashed."""

    def __init__(
        self, picture: Image.Image, blank: Blank, coat: Coat, scale: float, left: float, top: float
    ) -> None:
        self.picture, self.blank = picture, blank
        self.scale, self.left, self.top = scale, left, top
        colour = rgb(coat.colour)
        pale = colour.mean() < 128
        self.fill = _shade(colour)
        self.hatch = _shade(colour + (255 - colour) * 0.38 if pale else colour * 0.72)
        self.frame = _shade(colour + (255 - colour) * 0.62 if pale else colour * 0.45)
        self.all_heights = levels(0.0, blank.height)

    def draw(self, faces: list[Face]) -> None:
        """Draw everything."""
        blank, heights = self.blank, self.all_heights
        draw = ImageDraw.Draw(self.picture)
        zero, full = np.zeros_like(heights), np.full_like(heights, blank.page_width)
        draw.polygon(self._pixels(strip(blank, zero, full, heights)), fill=self.fill)
        if blank.edge:
            edge = angle_of_mm(blank.edge, heights, blank)
            self._hatched(strip(blank, zero, edge, heights))
            self._hatched(strip(blank, full - edge, full, heights))
        for zone in blank.zones:
            if zone.edge:
                self._zone(zone)
        for face in faces:
            for heights, wide in _parts(blank, face):
                half = angle_of_mm(1.0, heights, blank) * wide / 2
                around = strip(blank, face.centre - half, face.centre + half, heights)
                _dashed(draw, self._pixels(around), self.frame)

    def _zone(self, zone: Zone) -> None:
        """Hatch a zone and what is kept free around it; past one end it goes on at the other."""
        blank = self.blank
        heights = levels(max(0.0, zone.low), min(blank.height, zone.high))
        if zone.goes_around:
            ends = np.zeros_like(heights), np.full_like(heights, blank.page_width)
            self._hatched(strip(blank, *ends, heights))
            return
        edge = angle_of_mm(zone.edge, heights, blank)
        middle, full = blank.page_width * zone.at / 360, np.full_like(heights, blank.page_width)
        low, high = middle - edge, middle + edge
        self._hatched(strip(blank, np.maximum(low, 0.0), np.minimum(high, full), heights))
        if (low < 0).any():
            self._hatched(strip(blank, full + np.minimum(low, 0.0), full, heights))
        if (high > full).any():
            self._hatched(strip(blank, 0 * full, np.maximum(high - full, 0.0), heights))

    def _pixels(self, points: Floats) -> list[tuple[float, float]]:
        placed = points * self.scale + (self.left, self.top)
        return [(float(x), float(y)) for x, y in placed]

    def _hatched(self, polygon: Floats) -> None:
        """Hatch a part of the wall at 45 degrees, with a line around it."""
        pixels = self._pixels(polygon)
        xs, ys = [x for x, _ in pixels], [y for _, y in pixels]
        left, top = math.floor(min(xs)), math.floor(min(ys))
        size = math.ceil(max(xs)) - left + 1, math.ceil(max(ys)) - top + 1
        inside, lines = Image.new("L", size, 0), Image.new("L", size, 0)
        local = [(x - left, y - top) for x, y in pixels]
        ImageDraw.Draw(inside).polygon(local, fill=255)
        draw = ImageDraw.Draw(lines)
        for offset in range(-size[1], size[0], 9 * FINE):
            draw.line([offset, size[1], offset + size[1], 0], fill=255, width=2 * FINE)
        draw.line([*local, local[0]], fill=255, width=2 * FINE)
        self.picture.paste(self.hatch, (left, top), ImageChops.multiply(inside, lines))


def _parts(blank: Blank, face: Face) -> Iterator[tuple[Floats, Floats]]:
    """Yield the parts of the band in which something is there of a face.

    Each as heights above the base, rising, and how wide the face is at them, in mm.
    """
    low, high = blank.band.from_, blank.band.to
    edges = {edge for zone in blank.zones for edge in (zone.low, zone.high) if low < edge < high}
    # Just below and above the end of a zone, where the face grows wider at once.
    steps = [edge + side for edge in edges for side in (-_STEP, _STEP)]
    heights = np.sort(np.concatenate([levels(low, high), steps]))
    wide = np.array([usable_at(blank, face, z) for z in heights])
    ends = np.flatnonzero(np.diff(np.concatenate([[0], wide > 0, [0]]).astype(int)))
    for start, end in ends.reshape(-1, 2).tolist():
        if heights[end - 1] - heights[start] > 1.0:  # else there is nothing to be seen of it
            yield heights[start:end], wide[start:end]


_STEP = 0.001
"""Millimetres."""


def _shade(colour: Floats) -> tuple[int, int, int]:
    red, green, blue = np.rint(colour).astype(int).tolist()
    return red, green, blue


def _dashed(
    draw: ImageDraw.ImageDraw, polygon: list[tuple[float, float]], colour: tuple[int, int, int]
) -> None:
    """Draw a closed polygon with dashes that run on around its corners."""
    dash, width = 12.0 * FINE, 2 * FINE
    gone = 0.0
    for (x0, y0), (x1, y1) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        length = math.hypot(x1 - x0, y1 - y0)
        at = 0.0
        while at < length:
            step = min(dash - gone % dash, length - at)
            if int(gone / dash + 1e-9) % 2 == 0:
                a, b = at / length, (at + step) / length
                ends = [x0 + (x1 - x0) * a, y0 + (y1 - y0) * a]
                draw.line([*ends, x0 + (x1 - x0) * b, y0 + (y1 - y0) * b], colour, width)
            at += step
            gone += step


def _labels(stage: Stage, views: tuple[View, ...]) -> None:
    """Write what is the same on every proof of these faces."""
    canvas, blank = stage.canvas, stage.blank
    soft, ink = canvas.palette.ink(SOFT), canvas.palette.ink(INK)
    if len(stage.views) > 1:
        y = stage.cup_top + blank.upright_height * stage.cup_scale + 58
        for view, middle in stage.views:
            seen = cut(view.words, 29, 400, 420)
            canvas.text(seen, middle - width_of(seen, 29, 400) / 2, y, 29, soft)
    _zones_named(stage)
    title = words.THE_BLANK if blank.is_flat else words.THE_WALL
    canvas.text(title, MARGIN, 1046, 32, ink, 600)
    column = stage.wrap_box[2] + 44
    for at, (name, value) in enumerate(_measures(blank, len(views))):
        y = stage.wrap_box[1] + 28 + at * _MEASURE
        canvas.text(name, column, y, 31, soft)
        canvas.text(value, column, y + 40, 36, ink)


def _zones_named(stage: Stage) -> None:
    """Write below the wrap what its zones are, but for the one at the zero, which is beside it."""
    canvas, blank = stage.canvas, stage.blank
    left, _, right, bottom = stage.wrap_box
    free = -math.inf
    zones = [zone for zone in blank.zones[1:] if zone.width]
    for zone in sorted(zones, key=lambda zone: 180.0 if zone.goes_around else zone.at):
        at = 180.0 if zone.goes_around else zone.at
        foot = np.array([[blank.page_width * at / 360, blank.height]])
        middle = unrolled(foot, blank)[0, 0] * stage.wrap_scale + stage.wrap_left
        half = width_of(zone.word, _NAME, 400) / 2
        x = max(middle - half, left, free)
        if x + 2 * half > right and (x := right - 2 * half) < free:
            continue  # no room is left for a name
        free = x + 2 * half + 8
        canvas.text(zone.word, x, bottom + _NAME + 2, _NAME, canvas.palette.ink(SOFT))


_NAME = 20.0
"""Size in px of a zone's name."""


def write_widths(canvas: Canvas, stage: Stage, views: tuple[View, ...]) -> None:
    """Write how wide the faces are where an item's lines stand, beside the wrap."""
    widths = words.face_widths(view.face.usable_width for view in views)
    y = stage.wrap_box[1] + 28 + _FACE_ROW * _MEASURE + 40
    ink = canvas.palette.ink(INK)
    canvas.text(widths, stage.wrap_box[2] + 44, y, 36, ink)


_MEASURE = 94.0
"""From one measure beside the wrap to the next, in px."""
_FACE_ROW = 2
"""Which of them is the faces' width; it is written for each item."""


def _measures(blank: Blank, faces: int) -> list[tuple[str, str]]:
    """Return what is written beside the wrap."""
    face = (words.face(faces), "")
    if blank.is_flat:
        rows = [
            (words.WIDTH, format_mm(blank.page_width)),
            (words.HEIGHT, format_mm(blank.height)),
            face,
        ]
        if blank.edge:
            rows.append((words.EDGES, format_mm(blank.edge)))
        return rows
    zero = blank.zones[0]
    free = words.zone(zero.word) if zero.width else words.SEAM
    zone = (free, format_mm(2 * zero.edge))
    if blank.taper is None:
        around = (words.AROUND_THE_CUP, format_mm(blank.page_width))
        return [around, (words.HEIGHT_OF_WALL, format_mm(blank.height)), face, zone]
    mouth, base = blank.circumference_at(blank.height), blank.circumference_at(0.0)
    return [
        (words.AROUND_MOUTH_AND_BASE, words.mouth_and_base(mouth, base)),
        (words.ALONG_THE_WALL, words.leaning_wall(blank.height, abs(blank.tilt))),
        face,
        zone,
    ]
