"""The fixed part of a proof: the cup without its lettering, the bare wrap, the labels.

It is the same for all items of an order on the same face, so it is drawn once and then copied.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from mailmerge.blanks import Blank, Coat, Face
from mailmerge.lettering import Outline
from mailmerge.proofs.canvas import Canvas
from mailmerge.proofs.cylinder import on_cup
from mailmerge.proofs.palette import INK, LINE, MIXES, PAPER, SHADES, SOFT, Palette, rgb
from mailmerge.units import format_mm

WIDTH, HEIGHT = 1600, 1560
MARGIN = 64
_CUP_AREA = (MARGIN, 150, 860, 800)
"""Left, top, width and height in px of the room for the cup."""
_WRAP_AREA = (MARGIN, 1070, 900, 410)
COLUMN = 960
"""Left edge in px of the words beside the cup."""
_FINE = 2
"""The ground is drawn this many times finer and shrunk, for soft edges."""


@dataclass(frozen=True, eq=False)
class Stage:
    """The fixed part of a proof, and the way from millimetres to its pixels."""

    canvas: Canvas
    cup_scale: float
    """Pixels per mm of the cup."""
    cup_middle: float
    cup_top: float
    wrap_scale: float
    wrap_left: float
    wrap_top: float
    wrap_right: float
    wrap_bottom: float

    def cup(self, outline: Outline, blank: Blank, face: Face) -> Outline:
        """Return an outline of the page in pixels of the cup's picture."""
        seen = on_cup(outline, blank, face)
        return seen.moved(self.cup_scale, False, self.cup_middle, self.cup_top)

    def wrap(self, outline: Outline) -> Outline:
        """Return an outline of the page in pixels of the unrolled wrap."""
        return outline.moved(self.wrap_scale, False, self.wrap_left, self.wrap_top)


@lru_cache(maxsize=8)
def stage_for(blank: Blank, coat: Coat, face: Face) -> Stage:
    """Return the fixed part for a blank in a coat, seen from a face."""
    palette = Palette(coat.colour, coat.reveal)
    left, top, width, height = _CUP_AREA
    reach = _handle_reach(blank)
    scale = min(width / (blank.diameter + 2 * reach), (height - 40) / blank.height)
    cup_top = top + (height - 40 - blank.height * scale) / 2 + 14
    middle = left + width / 2

    wrap_left, wrap_top, wrap_width, wrap_height = _WRAP_AREA
    wrap_scale = min(wrap_width / blank.circumference, wrap_height / blank.height)
    wrap_right = wrap_left + blank.circumference * wrap_scale
    wrap_bottom = wrap_top + blank.height * wrap_scale

    picture = Image.new("RGB", (WIDTH * _FINE, HEIGHT * _FINE), PAPER)
    draw = ImageDraw.Draw(picture)
    cup = _Cup(draw, blank, coat, scale * _FINE, middle * _FINE, cup_top * _FINE)
    cup.shadow()
    cup.handle(face)
    shape = cup.body()
    _rules(draw)
    _wrap(draw, blank, coat, face, wrap_scale * _FINE, wrap_left * _FINE, wrap_top * _FINE)
    small = picture.resize((WIDTH, HEIGHT), Image.Resampling.BOX)
    pixels = palette.of_picture(small)

    inside = np.asarray(shape.resize((WIDTH, HEIGHT), Image.Resampling.BOX)) == 255
    pixels[inside] = _lit(palette, middle, blank.diameter / 2 * scale)[inside]
    flat = (np.asarray(small) == rgb(coat.colour)).all(axis=2)
    pixels[flat & ~inside] = SHADES // 2 * MIXES  # the wrap, lit from everywhere

    canvas = Canvas(palette, pixels)
    stage = Stage(
        canvas, scale, middle, cup_top, wrap_scale, wrap_left, wrap_top, wrap_right, wrap_bottom
    )
    _labels(stage, blank, face)
    return stage


def _handle_reach(blank: Blank) -> float:
    """Return how far the pictured handle stands out, in mm; its real shape is not measured."""
    return 0.42 * blank.diameter if blank.handle.width else 0.0


def _lit(palette: Palette, middle: float, radius: float) -> NDArray[np.uint8]:
    """Return a whole picture of bare coat lit as the cylinder at this place is."""
    across = np.clip((np.arange(WIDTH) + 0.5 - middle) / radius, -1, 1)
    angle = np.arcsin(across)
    diffuse = np.cos(angle + math.radians(28)).clip(0)
    window = np.exp(-(((angle + math.radians(38)) / 0.20) ** 2))
    back = np.exp(-(((angle - math.radians(66)) / 0.16) ** 2))
    brightness = 0.10 + 0.48 * diffuse + 0.34 * window + 0.22 * back
    return palette.shaded(np.broadcast_to(brightness, (HEIGHT, WIDTH)))


class _Cup:
    """Draws the bare cup; all lengths in fine pixels."""

    def __init__(
        self, draw: ImageDraw.ImageDraw, blank: Blank, coat: Coat, scale: float, middle: float,
        top: float,
    ) -> None:  # fmt: skip
        self.draw, self.blank, self.scale = draw, blank, scale
        self.middle, self.top = middle, top
        self.bottom = top + blank.height * scale
        self.radius = blank.diameter / 2 * scale
        self.coat = rgb(coat.colour)
        self.steel = np.array([188.0, 190.0, 192.0])

    def _box(self, left: float, top: float, right: float, bottom: float) -> list[float]:
        return [self.middle + left, self.top + top, self.middle + right, self.top + bottom]

    def shadow(self) -> None:
        """Draw the shadow that the cup stands on."""
        for step in range(7):
            grow = 1.12 - step * 0.025
            grey = tuple(round(part - 3 - step * 4.2) for part in PAPER)
            high = 11 * _FINE * (1 - step / 9)
            self.draw.ellipse(
                [
                    self.middle - self.radius * grow, self.bottom - high,
                    self.middle + self.radius * grow, self.bottom + high + 4 * _FINE,
                ],
                fill=grey,
            )  # fmt: skip

    def handle(self, face: Face) -> None:
        """Draw the handle where it stands when one looks at the face; behind the cup it is hidden.

        A place at angle t from the line of sight and distance r from the axis is seen at r sin t.
        """
        if not self.blank.handle.width:
            return
        turned = math.radians(-face.angle)
        across, toward = math.sin(turned), math.cos(turned)
        reach, wall = _handle_reach(self.blank) * self.scale, self.radius
        half = self.blank.handle.width * 0.32 * self.scale * abs(toward)
        thick = 0.105 * self.blank.diameter * self.scale
        height = self.blank.height * self.scale
        outer = sorted((wall * across * 0.9, (wall + reach) * across))
        shade = tuple(np.rint(self.coat * 0.78 + 16).astype(int).tolist())
        edge = tuple(np.rint(self.coat * 0.55 + 8).astype(int).tolist())
        top, low = height * 0.16, height * 0.72
        for grow, colour in ((1.2 * _FINE, edge), (-1.2 * _FINE, shade)):
            self.draw.rounded_rectangle(
                self._box(outer[0] - half - grow, top - grow, outer[1] + half + grow, low + grow),
                radius=reach * 0.55 * max(abs(across), 0.3),
                outline=colour,
                width=round(thick * (0.55 + 0.45 * abs(across)) + 2 * grow),
            )

    def body(self) -> Image.Image:
        """Draw foot, wall and rim; return the mask of the coated wall, which is lit later."""
        rim, foot = 7 * _FINE, 8 * _FINE
        height = self.bottom - self.top
        mask = Image.new("L", (WIDTH * _FINE, HEIGHT * _FINE), 0)
        steel = tuple(np.rint(self.steel).astype(int).tolist())
        dark = tuple(np.rint(self.steel * 0.62).astype(int).tolist())
        self.draw.rounded_rectangle(
            self._box(-self.radius * 0.985, -rim, self.radius * 0.985, rim), rim, fill=steel
        )
        self.draw.rounded_rectangle(
            self._box(-self.radius * 0.95, height - foot, self.radius * 0.95, height + foot),
            foot, fill=dark,
        )  # fmt: skip
        wall = self._box(-self.radius, 0, self.radius, height)
        fill = tuple(np.rint(self.coat).astype(int).tolist())
        self.draw.rounded_rectangle(wall, 5 * _FINE, fill=fill)
        ImageDraw.Draw(mask).rounded_rectangle(wall, 5 * _FINE, fill=255)
        return mask


def _rules(draw: ImageDraw.ImageDraw) -> None:
    for y in (112, 1000):
        draw.rectangle(
            [MARGIN * _FINE, y * _FINE, (WIDTH - MARGIN) * _FINE, (y + 2) * _FINE], fill=LINE
        )


def _wrap(
    draw: ImageDraw.ImageDraw, blank: Blank, coat: Coat, face: Face, scale: float, left: float,
    top: float,
) -> None:  # fmt: skip
    """Draw the unrolled wrap with the handle zone hatched and the face's frame dashed."""
    right, bottom = left + blank.circumference * scale, top + blank.height * scale
    colour = rgb(coat.colour)
    fill = tuple(int(part) for part in colour)
    pale = colour.mean() < 128
    hatch = tuple(np.rint(colour + (255 - colour) * 0.38 if pale else colour * 0.72).astype(int))
    frame = tuple(np.rint(colour + (255 - colour) * 0.62 if pale else colour * 0.45).astype(int))
    draw.rectangle([left, top, right, bottom], fill=fill)
    edge = blank.handle_edge * scale
    step = 9 * _FINE
    for start, end in ((left, left + edge), (right - edge, right)):
        if end - start < 1:
            continue
        # Hatching at 45 degrees, clipped to its strip by hand.
        offset = -(bottom - top)
        while offset < end - start:
            x0, y0 = start + offset, bottom
            x1, y1 = x0 + (bottom - top), top
            if x0 < start:
                x0, y0 = start, bottom - (start - (start + offset))
            if x1 > end:
                y1 = top + (x1 - end)
                x1 = end
            if y0 > y1:
                draw.line([x0, y0, x1, y1], fill=hatch, width=2 * _FINE)
            offset += step
        at = end if start == left else start
        draw.line([at, top, at, bottom], fill=hatch, width=2 * _FINE)
    if face.usable_width > 0:
        _dashed(
            draw,
            (
                left + face.left * scale, top + (blank.height - blank.band.to) * scale,
                left + face.right * scale, top + (blank.height - blank.band.from_) * scale,
            ),
            frame,
        )  # fmt: skip


def _dashed(
    draw: ImageDraw.ImageDraw, box: tuple[float, float, float, float], colour: tuple[int, ...]
) -> None:
    left, top, right, bottom = box
    dash, width = 12 * _FINE, 2 * _FINE
    for y in (top, bottom):
        x = left
        while x < right:
            draw.line([x, y, min(x + dash, right), y], fill=colour, width=width)
            x += 2 * dash
    for x in (left, right):
        y = top
        while y < bottom:
            draw.line([x, y, x, min(y + dash, bottom)], fill=colour, width=width)
            y += 2 * dash


def _labels(stage: Stage, blank: Blank, face: Face) -> None:
    """Write what is the same on every proof of this face."""
    canvas = stage.canvas
    soft, ink = canvas.palette.ink(SOFT), canvas.palette.ink(INK)
    canvas.text("The wrap, unrolled and to scale", MARGIN, 1046, 32, ink, 600)
    column = stage.wrap_right + 44
    rows = (
        ("Around the cup", format_mm(blank.circumference)),
        ("Height of the wall", format_mm(blank.height)),
        ("Face, in the dashed frame", f"{format_mm(face.usable_width)} wide"),
        *(
            (("Handle zone, hatched", format_mm(2 * blank.handle_edge)),)
            if blank.handle.width
            else (("Seam, kept free", format_mm(2 * blank.handle_edge)),)
        ),
    )
    for at, (name, value) in enumerate(rows):
        y = stage.wrap_top + 28 + at * 94
        canvas.text(name, column, y, 31, soft)
        canvas.text(value, column, y + 40, 36, ink)
