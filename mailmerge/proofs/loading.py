"""The load picture: the cup as it lies on its machine, from the numbers of its page.

Two views: into the mouth, along the axis; and from above, as the operator stands before the bed.
Seen into the mouth with the head above, angles from the handle grow to the left at the top, on
every machine; where the operator stands depends on which way the mouth points.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from PIL import Image, ImageDraw

from mailmerge.blanks import Blank, Coat, Face, Zone, usable_at
from mailmerge.machines import Loading, Page, lower_end
from mailmerge.proofs import words
from mailmerge.proofs.canvas import Canvas
from mailmerge.proofs.measures import LOAD_HEIGHT, LOAD_VIEWS, LOAD_WIDTH, MARGIN
from mailmerge.proofs.palette import INK, LINE, PAPER, RED, SOFT, Palette, rgb
from mailmerge.proofs.png import Strip
from mailmerge.proofs.text import width_of, wrapped

_FINE = 2
_END = (322.0, 372.0, 100.0)
"""Middle and radius in px of the cup seen into its mouth."""
_PLAN = (640, 150, 410, 400)
"""Left, top, width and height in px of the view from above."""
_FLAT_LEFT = 322
"""Its left edge for flat goods, which have no mouth to be seen into."""
_FOOT = 128
"""Height of the part that an item's own figures are written in."""
_WORDS = 1090
"""Left edge of the words."""

Rgb = tuple[int, int, int]
_STEEL: Rgb = (196, 198, 200)
_DARK: Rgb = (120, 123, 126)


@dataclass(frozen=True, slots=True)
class Load:
    """What a load picture shows."""

    blank: Blank
    coat: Coat
    loading: Loading
    machine: str
    faces: tuple[Face, ...]
    around: tuple[Face, ...] = ()
    """What is free for things that go around the cup, if there are any."""

    def reaches(self) -> list[tuple[float, float]]:
        """Return from where to where each of them may be engraved, in degrees from the handle."""
        blank, page = self.blank, self.blank.page_width
        found = []
        for face in self.faces:
            half = usable_at(blank, face, blank.band.middle) / 2 / page * 360
            found.append((face.angle - half, face.angle + half))
        return found + [(face.left / page * 360, face.right / page * 360) for face in self.around]

    def turns(self) -> tuple[float, float]:
        """Return how far the cup turns at the most, both ways from the start, in degrees."""
        at = self.loading.page.datum / self.loading.page.width * 360
        lows, highs = zip(*self.reaches(), strict=True)
        return min(0.0, min(lows) - at), max(0.0, max(highs) - at)


@lru_cache(maxsize=64)
def draw_load(load: Load) -> tuple[Strip, Canvas]:
    """Return the load picture of one blank with its faces on one machine.

    Its foot, where an item's own figures are to be written, comes apart.
    """
    views = _views(load)
    canvas = Canvas(views.palette, views.pixels)
    _steps(canvas, load)
    upper, foot = (
        (0, 0, LOAD_WIDTH, LOAD_HEIGHT - _FOOT),
        (0, LOAD_HEIGHT - _FOOT, LOAD_WIDTH, LOAD_HEIGHT),
    )
    return canvas.part(upper).strip(), canvas.part(foot)


def draw_lying(load: Load) -> Image.Image:
    """Return the cup as it lies at the start, without the steps in words."""
    return _views(load).part(LOAD_VIEWS).image


@lru_cache(maxsize=16)
def _views(load: Load) -> Canvas:
    """Return the ground of a load picture: the cup seen into its mouth, and from above."""
    palette = Palette(load.coat.colour, load.coat.reveal)
    picture = Image.new("RGB", (LOAD_WIDTH * _FINE, LOAD_HEIGHT * _FINE), PAPER)
    draw = ImageDraw.Draw(picture)
    draw.rectangle([MARGIN * _FINE, 2 * _FINE, (LOAD_WIDTH - MARGIN) * _FINE, 4 * _FINE], fill=LINE)
    labels: list[_Label] = [_Label(words.how_to_load(load.machine), MARGIN, 62, 36, INK, 600)]
    if load.loading.drive is not None:
        _End(draw, load).draw(labels)
    _Plan(draw, load).draw(labels)
    small = picture.resize((LOAD_WIDTH, LOAD_HEIGHT), Image.Resampling.BOX)
    canvas = Canvas(palette, palette.of_picture(small))
    for label in labels:
        x = label.x
        if label.middle:
            x -= width_of(label.text, label.size, label.weight) / 2
        canvas.text(label.text, x, label.y, label.size, palette.ink(label.colour), label.weight)
    return canvas


@dataclass(frozen=True, slots=True)
class _Label:
    text: str
    x: float
    y: float
    size: float = 28.0
    colour: Rgb = SOFT
    weight: int = 400
    middle: bool = False


def _overlap(one: _Label, other: _Label) -> bool:
    """Whether two labels that are set about their middles run into each other."""
    wide = [width_of(each.text, each.size, each.weight) for each in (one, other)]
    across = abs(one.x - other.x) < sum(wide) / 2 + 4
    return other.middle and across and abs(one.y - other.y) < max(one.size, other.size)


def _coat(coat: Coat) -> Rgb:
    red, green, blue = np.rint(rgb(coat.colour)).astype(int).tolist()
    return red, green, blue


class _End:
    """The cup seen into its mouth, the head above."""

    def __init__(self, draw: ImageDraw.ImageDraw, load: Load) -> None:
        self.painter, self.load = draw, load
        self.x, self.y, self.radius = _END

    def _at(self, angle: float, reach: float) -> tuple[float, float]:
        """Return the place in fine px of an angle from the handle, at a distance from the axis."""
        turned = math.radians(angle - self.load.loading.start)
        return (
            (self.x - reach * math.sin(turned)) * _FINE,
            (self.y - reach * math.cos(turned)) * _FINE,
        )

    def _ring(self, start: float, end: float, inner: float, outer: float, colour: Rgb) -> None:
        """Fill a part of a ring between two angles from the handle."""
        angles = np.linspace(start, end, 60)
        points = [self._at(angle, outer) for angle in angles]
        points += [self._at(angle, inner) for angle in angles[::-1]]
        self.painter.polygon(points, fill=colour)

    def draw(self, labels: list[_Label]) -> None:
        """Draw everything; words go to ``labels``."""
        load, radius = self.load, self.radius
        self._rest()
        for zone in load.blank.zones:
            if zone.width and zone.reaches(0.0):
                self._zone(zone)
        box = [
            (c + s * radius) * _FINE
            for c, s in ((self.x, -1), (self.y, -1), (self.x, 1), (self.y, 1))
        ]
        self.painter.ellipse(box, fill=_coat(load.coat))
        self._ring(0, 360, 0, radius - 13, PAPER)
        self._ring(0, 360, radius - 16, radius - 13, _DARK)
        for zone in load.blank.zones:
            if zone.width and not zone.reaches(0.0):
                half = zone.half(load.blank.page_width) / load.blank.page_width * 360
                self._ring(zone.at - half, zone.at + half, radius - 12, radius - 1, _STEEL)
        for start, end in load.reaches():
            self._ring(start, end, radius + 3, radius + 13, RED)
        self._head()
        self._mark(labels)
        for turn in load.turns():
            if abs(turn) >= 30:
                self._arrow(turn)
        self._words(labels)

    def _rest(self) -> None:
        """Draw what the cup lies in: the chuck behind it, or two rollers under it."""
        if self.load.loading.drive == "roller":
            size = 30.0
            off = (self.radius + size) * math.sin(math.radians(34))
            down = (self.radius + size) * math.cos(math.radians(34))
            for side in (-1, 1):
                x, y = self.x + side * off, self.y + down
                box = [edge * _FINE for edge in (x - size, y - size, x + size, y + size)]
                self.painter.ellipse(box, fill=_STEEL, outline=_DARK, width=2 * _FINE)
            return
        for angle in (90, 210, 330):
            start = self.load.loading.start + angle
            self._ring(start - 9, start + 9, self.radius * 0.62, self.radius + 26, _STEEL)

    def _zone(self, zone: Zone) -> None:
        """Draw a handle, or what else stands out and stays on the cup."""
        around = self.load.blank.page_width
        half = math.degrees(zone.half(around) / around * 2 * math.pi)
        out = (zone.stands_out or 0.0) / (around / 2 / math.pi) * self.radius
        if zone.kind == "handle" and not zone.comes_off:
            reach = 62.0 if zone.stands_out is None else min(62.0, max(out, 14.0))
            outer, inner = self.radius + reach, self.radius + max(2.0, reach - 12)
            thick, hole = half * 0.6, half * 0.25
            self._ring(zone.at - thick, zone.at + thick, self.radius - 4, outer, _DARK)
            self._ring(zone.at - hole, zone.at + hole, self.radius + 2, inner, PAPER)
            return
        self._ring(
            zone.at - half, zone.at + half, self.radius - 4, self.radius + max(out, 14), _DARK
        )

    def _head(self) -> None:
        top = self.y - self.radius
        x = self.x
        for left, up, right, low, colour in (
            (x - 34, top - 128, x + 34, top - 76, _DARK),
            (x - 14, top - 76, x + 14, top - 58, _DARK),
            (x - 1.5, top - 58, x + 1.5, top, RED),
        ):
            self.painter.rectangle(
                [left * _FINE, up * _FINE, right * _FINE, low * _FINE], fill=colour
            )

    def _mark(self, labels: list[_Label]) -> None:
        """Name the mark where it is at the start."""
        loading = self.load.loading
        angle = loading.mark_at
        if loading.mark in ("tick", "seam"):
            self._ring(angle - 1.2, angle + 1.2, self.radius - 26, self.radius + 26, INK)
        self._named(labels, loading.mark, angle, 0.3, 26, INK, 600)
        for zone in sorted(self.load.blank.zones, key=lambda zone: zone.off(angle)):
            if zone.width and zone.at != angle and not zone.goes_around:
                self._named(labels, zone.word, zone.at, 0.45, 19, SOFT, 400)

    def _named(
        self, labels: list[_Label], name: str, angle: float, reach: float, size: float,
        colour: Rgb, weight: int,
    ) -> None:  # fmt: skip
        """Write a name inside the cup at an angle, each of its words on a row of its own.

        Not over another one: of two zones side by side the nearer to the mark is named.
        """
        x, y = self._at(angle, self.radius * reach)
        parts = name.split()
        top = y / _FINE + size * (0.35 - (len(parts) - 1) / 2)
        named = [
            _Label(part, x / _FINE, top + row * size, size, colour, weight, middle=True)
            for row, part in enumerate(parts)
        ]
        if not any(_overlap(one, other) for one in named for other in labels):
            labels += named

    def _arrow(self, turn: float) -> None:
        """Draw the turn that brings what is furthest one way under the head."""
        reach = self.radius + 36
        start = self.load.loading.start
        tip = start + math.copysign(20, turn)
        self._ring(start + turn, tip, reach - 2.5, reach + 2.5, INK)
        back = start + math.copysign(26, turn)
        self.painter.polygon(
            [self._at(start + math.copysign(10, turn), reach), self._at(back, reach - 14),
             self._at(back, reach + 14)],
            fill=INK,
        )  # fmt: skip

    def _words(self, labels: list[_Label]) -> None:
        loading = self.load.loading
        side = {"left": 1, "right": -1}.get(loading.page.mouth, 0)
        seen = {"away": words.FROM_BEHIND, "toward": words.AS_YOU_SEE_IT}
        labels.append(_Label(words.INTO_THE_MOUTH, self.x, 110, 30, INK, 600, middle=True))
        aside = seen.get(loading.page.mouth, "")
        if side:
            you = self.x + side * (self.radius + 114)
            labels.append(_Label(words.YOU, you, self.y + 10, 28, INK, 600, middle=True))
            labels.append(_Label(words.STAND_HERE, you, self.y + 40, 24, SOFT, 400, middle=True))
        if aside:
            labels.append(_Label(aside, self.x, 600, 26, SOFT, 400, middle=True))


class _Plan:
    """The bed from above, the operator at its lower edge."""

    def __init__(self, draw: ImageDraw.ImageDraw, load: Load) -> None:
        self.painter, self.load = draw, load
        blank, loading = load.blank, load.loading
        left, top, width, height = _PLAN
        if blank.is_flat:
            left = _FLAT_LEFT
        self.frame = (left, top, left + width, top + height)
        if blank.is_flat:
            self.length, self.mouth, self.base = blank.height, 0.0, 0.0
            self.scale = min((width - 90) / blank.page_width, (height - 90) / blank.height)
        else:
            self.length = blank.height
            self.mouth = blank.radius_at(blank.height)
            self.base = blank.radius_at(0.0)
            along = loading.page.mouth in ("left", "right")
            wide, deep = (self.length * 1.78, 4.2 * max(self.mouth, self.base))
            across = (wide, deep) if along else (deep, wide)
            self.scale = min((width - 30) / across[0], (height - 30) / across[1])
        self.x, self.y = left + width / 2, top + height / 2

    def _at(self, below: float, aside: float) -> tuple[float, float]:
        """Return the place in fine px of a point on the cup, in mm.

        Parameters
        ----------
        below
            From the mouth, along the axis.
        aside
            From the top line, the way that angles from the handle grow there.
        """
        page = self.load.loading.page
        # The page without its mirror: the cup lies as it lies, whichever way it is turned.
        a, b, c, d = (
            (-page.turn[0], page.turn[1], -page.turn[2], page.turn[3])
            if page.backwards
            else page.turn
        )
        along = below - self.length / 2
        x, y = a * aside + b * along, c * aside + d * along
        return (self.x + x * self.scale) * _FINE, (self.y + y * self.scale) * _FINE

    def _shape(
        self, corners: list[tuple[float, float]], fill: Rgb, edge: Rgb | None = None
    ) -> None:
        points = [self._at(*corner) for corner in corners]
        self.painter.polygon(points, fill=fill)
        if edge:
            self.painter.line([*points, points[0]], fill=edge, width=2 * _FINE)

    def draw(self, labels: list[_Label]) -> None:
        """Draw everything; words go to ``labels``."""
        left, top, right, bottom = self.frame
        self.painter.rectangle(
            [left * _FINE, top * _FINE, right * _FINE, bottom * _FINE], outline=LINE,
            width=2 * _FINE,
        )  # fmt: skip
        labels.append(_Label(words.FROM_ABOVE, self.x, 110, 30, INK, 600, middle=True))
        labels.append(_Label(words.YOU_STAND_HERE, self.x, bottom + 42, 26, INK, 600, middle=True))
        if self.load.blank.is_flat:
            self._board(labels)
        else:
            self._cup(labels)

    def _board(self, labels: list[_Label]) -> None:
        blank = self.load.blank
        half_width, half_height = blank.page_width / 2, blank.height / 2
        left, top = self.x - half_width * self.scale, self.y - half_height * self.scale
        box = [left, top, self.x + half_width * self.scale, self.y + half_height * self.scale]
        self.painter.rectangle([edge * _FINE for edge in box], fill=_coat(self.load.coat))
        self._cross(left * _FINE, top * _FINE)
        labels.append(_Label(words.START, left - 6, top - 18, 26, RED, 600, middle=True))

    def _cup(self, labels: list[_Label]) -> None:
        load, length = self.load, self.length
        blank, loading = load.blank, load.loading
        widest = max(self.mouth, self.base)
        if loading.drive == "roller":
            for side in (-0.62, 0.62):
                aside = side * widest
                rod = 0.16 * widest
                self._shape(
                    [(-18, aside - rod), (length + 18, aside - rod), (length + 18, aside + rod),
                     (-18, aside + rod)], _STEEL, _DARK,
                )  # fmt: skip
        else:
            jaw, plate = 0.8 * self.base, 1.15 * widest
            ends = (length, length + 0.10 * length, length + 0.2 * length)
            self._shape([(ends[0], -jaw), (ends[1], -jaw), (ends[1], jaw), (ends[0], jaw)], _STEEL)
            self._shape(
                [(ends[1], -plate), (ends[2], -plate), (ends[2], plate), (ends[1], plate)],
                _STEEL, _DARK,
            )  # fmt: skip
        for zone in blank.zones:
            self._zone(zone, below=True)
        self._shape(
            [(0, -self.mouth), (length, -self.base), (length, self.base), (0, self.mouth)],
            _coat(load.coat),
        )
        rim = 0.03 * length
        self._shape(
            [(0, -self.mouth), (rim, -self.mouth), (rim, self.mouth), (0, self.mouth)], _STEEL
        )
        for zone in blank.zones:
            self._zone(zone, below=False)
        low, high = blank.height - blank.band.to, blank.height - blank.band.from_
        bar = 0.045 * widest
        self._shape([(low, -bar), (high, -bar), (high, bar), (low, bar)], RED)
        self._cross(*self._at(0, 0))
        x, y = self._at(-0.085 * length, 0)
        if loading.page.mouth in ("left", "right"):
            y += 9 * _FINE
            x += (-46 if loading.page.mouth == "left" else 46) * _FINE
        else:
            y += (-12 if loading.page.mouth == "away" else 40) * _FINE
        labels.append(_Label(words.MOUTH, x / _FINE, y / _FINE, 26, INK, 600, middle=True))

    def _zone(self, zone: Zone, below: bool) -> None:
        """Draw what stands out where it is at the start: beside the cup, or on its top."""
        angle = math.radians(zone.at - self.load.loading.start)  # from the top line
        aside, up = math.sin(angle), math.cos(angle)
        if not zone.width or not zone.reaches(0.0) or below == (up > 0.5):
            return
        length, widest = self.length, max(self.mouth, self.base)
        is_whole = zone.kind == "handle" and not zone.comes_off
        out = 0.5 * widest if is_whole else max(zone.stands_out or 0.0, 4.0)
        half = zone.half(2 * widest) * abs(up)
        reach = sorted((aside * widest * 0.9, aside * (widest + out)))
        left, right = reach[0] - half, reach[1] + half
        for low, high in self._ends_of(zone):
            self._shape([(low, left), (high, left), (high, right), (low, right)], _DARK)
        if is_whole and abs(aside) > 0.5:
            bar = 0.12 * widest
            outer = aside * (widest + out)
            self._shape(
                [(0.16 * length, outer - bar), (0.72 * length, outer - bar),
                 (0.72 * length, outer + bar), (0.16 * length, outer + bar)], _DARK,
            )  # fmt: skip

    def _ends_of(self, zone: Zone) -> list[tuple[float, float]]:
        """Return from where to where a zone meets the wall, down from the mouth.

        Where a handle's two brackets sit is not measured.
        """
        length, height = self.length, self.load.blank.height
        if zone.kind == "handle":
            return [(0.16 * length, 0.26 * length), (0.62 * length, 0.72 * length)]
        top = height if zone.to is None else zone.to
        return [((height - top) / height * length, (height - zone.from_) / height * length)]

    def _cross(self, x: float, y: float) -> None:
        """Mark the place that the head starts from."""
        reach = 16 * _FINE
        for ends in ([x - reach, y, x + reach, y], [x, y - reach, x, y + reach]):
            self.painter.line(ends, fill=PAPER, width=6 * _FINE)
            self.painter.line(ends, fill=RED, width=2 * _FINE)


def steps_of(load: Load) -> list[str]:
    """Return in words how to load an item, in the order of doing it."""
    blank, loading = load.blank, load.loading
    if loading.drive is None:
        return list(words.FLAT)
    around = blank.page_width
    set_rotary = words.set_rotary_for_taper if blank.taper else words.set_rotary
    steps = [
        set_rotary(around, around / math.pi, blank.inches),
        words.MOUTH_POINTS[loading.page.mouth],
    ]
    if lower := lower_end(loading.tilt):
        steps.append(words.tilt(abs(loading.tilt), lower))
    if loading.tick_at is not None:
        steps.append(words.tick(loading.tick_at, blank.zero))
    else:
        steps.append(words.turn_mark(loading.mark, loading.datum or "up"))
    steps.append(words.start(*loading.page.start))
    turns = sorted(load.turns(), key=abs, reverse=True)
    steps.append(
        words.turns([(abs(turn), loading.words_for(turn)) for turn in turns if abs(turn) >= 1])
    )
    if loading.page.backwards:
        steps.append(words.RUNS_BACKWARDS)
    return steps


def _steps(canvas: Canvas, load: Load) -> None:
    """Write how to load the item, as large as it fits."""
    size = 29.0
    room = LOAD_WIDTH - MARGIN - _WORDS - 34
    while True:
        rows = [wrapped(step, size, 400, room) for step in steps_of(load)]
        caution = words.CAUTION_FLAT if load.blank.is_flat else words.CAUTION
        rows.append(wrapped(caution, size, 600, room))
        height = sum(len(step) * size * 1.26 + size * 0.42 for step in rows)
        if height < LOAD_HEIGHT - 234 or size < 16:
            break
        size *= 0.96
    ink, soft, red = (canvas.palette.ink(colour) for colour in (INK, SOFT, RED))
    y = 112.0
    for number, step in enumerate(rows, start=1):
        last = number == len(rows)
        if not last:
            canvas.text(f"{number}", _WORDS, y, size, soft, 600)
        for row in step:
            canvas.text(row, _WORDS + 34, y, size, red if last else ink, 600 if last else 400)
            y += size * 1.26
        y += size * 0.42


def seen_when_loaded(page: Page, box: tuple[float, float, float, float]) -> list[str]:
    """Return in words what is seen once a program has loaded an artwork: its size, its place.

    Parameters
    ----------
    box
        Left, top, width and height on the machine's page, in mm from its upper left corner.
    """
    left, top, width, height = box
    x, y = page.start
    right, back = left - x, y - top
    return [
        words.must_measure(width, height),
        words.NOT_IN_MILLIMETRES,
        words.artwork_lies((right, right + width), (back - height, back)),
    ]
