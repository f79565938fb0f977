"""A workshop in numbers: a machine engraves a cup point by point, and an eye looks at it.

Shares no code with ``mailmerge``. It is told what a person is told: the artwork file, how the cup
lies (which way the mouth points, where handle or tick is at the start), what the rotary is set to,
and how the machine turns. Everything happens in three dimensions.

Machine frame: x to the operator's right, y away from the operator, z up; the beam comes from above.
A page's x is the machine's x, its y runs toward the operator, both from its corner. Where a rotary
is used, it takes the place of the axis across the cup: told to go v mm in that direction, it turns
the wall that lies v mm further on up under the head.

Cup frame: z up the axis to the mouth, x through the handle's middle, y to the right of it for
somebody who looks at the handle from outside.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SVG = "{http://www.w3.org/2000/svg}"

TOWARD = {
    "left": (-1.0, 0.0), "right": (1.0, 0.0), "away": (0.0, 1.0), "toward": (0.0, -1.0),
    "front": (0.0, -1.0), "back": (0.0, 1.0),
}  # fmt: skip


@dataclass(frozen=True)
class Wall:
    """A real wall: circumferences (mm) at the base and at the mouth, and its length along it."""

    base: float
    mouth: float
    slant: float

    @property
    def lean(self) -> float:
        """Angle between wall and axis in radians."""
        return math.asin((self.mouth - self.base) / (2 * math.pi) / self.slant)

    def radius(self, below: Array) -> Array:
        """Radius at a distance below the mouth, along the wall."""
        around = self.mouth + (self.base - self.mouth) * below / self.slant
        return around / (2 * math.pi)


@dataclass(frozen=True)
class Setup:
    """How a cup is put onto a machine."""

    drive: str
    mouth: str
    backwards: bool
    mark: str
    """Where handle or seam points at the start; or ``tick``, which is turned up."""
    mark_at: float
    """What is turned there: degrees to the right from the handle or the seam to it."""
    tick: float
    """Where a person draws the tick: mm around from the handle along the mouth, to the right."""
    set_circumference: float
    mouth_circumference: float
    start: tuple[float, float] = (0.0, 0.0)
    """The place of the page that is under the head at the start: mm from its left and its top."""
    middle_turn: float = 0.0
    """Rollers: the turn that brings the middle of what is engraved under the head, in degrees."""


def paths(artwork: str, guides: bool = False) -> list[list[Array]]:
    """Return the closed polygons of every path of a file, finely stepped."""
    root = ET.fromstring(artwork.partition("?>")[2])
    inside = {id(path) for group in root.iter(f"{SVG}g") for path in group.iter(f"{SVG}path")}
    return [
        contours(path.attrib["d"])
        for path in root.iter(f"{SVG}path")
        if (id(path) in inside) == guides
    ]


@lru_cache(maxsize=256)
def contours(data: str, step: float = 0.1) -> list[Array]:
    """Return the polygons that path data of M, L, Q, C and Z describes, no edge much over ``step``.

    What an edge so long cuts off of a circle of radius r is at most step^2 / 8 r.
    """
    found: list[Array] = []
    points: list[Array] = []
    start = at = (0.0, 0.0)
    for verb, numbers in re.findall(r"([MLQCZ])([^MLQCZ]*)", data):
        told = [float(n) for n in re.findall(r"-?[\d.]+(?:e-?\d+)?", numbers)]
        given = list(zip(told[::2], told[1::2], strict=True))
        if verb == "M":
            start = at = given[0]
            points = [np.array(given)]
            continue
        control = [at, *(given or [start])]
        length = sum(math.dist(*pair) for pair in pairwise(control))
        points.append(_bernstein(len(control) - 1, max(1, math.ceil(length / step))) @ control)
        at = control[-1]
        if verb == "Z":
            found.append(np.concatenate(points))
    return found


@lru_cache(maxsize=1024)
def _bernstein(degree: int, count: int) -> Array:
    """Return the weights of a curve's control points at so many even steps, the start left out."""
    t = np.linspace(0, 1, count + 1)[1:]
    powers = range(degree + 1)
    return np.column_stack([math.comb(degree, i) * t**i * (1 - t) ** (degree - i) for i in powers])


def engrave(page: Array, wall: Wall, setup: Setup) -> Array:
    """Return where in the cup's frame points of the page (mm from its corner) are burnt."""
    mouth = np.array([*TOWARD[setup.mouth], 0.0])
    across = (
        np.array([0.0, 1.0, 0.0]) if setup.mouth in ("left", "right") else np.array([1.0, 0, 0])
    )
    up = np.array([0.0, 0.0, 1.0])
    gone = page - setup.start
    wanted = np.column_stack([gone[:, 0], -gone[:, 1], np.zeros(len(page))])
    below = -(wanted @ mouth)  # the head goes from the mouth's edge along the level wall
    asked = wanted @ across
    if setup.backwards:
        asked = -asked
    if setup.drive == "chuck":
        turn = asked / setup.set_circumference * 2 * math.pi
    else:
        # Rollers roll the wall off by length, at every height, from the middle of the artwork. A
        # cone that does so walks: this is the model that the project states, not a machine's truth.
        way = 1 if across @ np.cross(mouth, up) > 0 else -1
        middle = math.radians(setup.middle_turn) * way
        rest = asked - middle / (2 * math.pi) * setup.set_circumference
        turn = middle + rest / wall.radius(below)
    radius = wall.radius(below)
    # What is under the head after the turn was so far from the top when the cup was put in.
    place = (
        radius[:, None] * (np.cos(turn)[:, None] * up + np.sin(turn)[:, None] * across)
        - (below * math.cos(wall.lean))[:, None] * mouth
    )
    handle = _handle_at_start(mouth, up, setup)
    return np.column_stack([place @ handle, place @ np.cross(mouth, handle), place @ mouth])


def _handle_at_start(mouth: Array, up: Array, setup: Setup) -> Array:
    """Return the direction of the handle's middle when the cup has been put in."""
    if setup.mark == "tick":
        # A tick so far to the right of the handle is up: go back to the left from there.
        angle = setup.tick / setup.mouth_circumference * 2 * math.pi
        return math.cos(angle) * up - math.sin(angle) * np.cross(mouth, up)
    mark = up if setup.mark == "up" else np.array([*TOWARD[setup.mark], 0.0])
    # The handle lies so far to the left of the mark, for somebody who looks at the mark.
    angle = math.radians(setup.mark_at)
    return math.cos(angle) * mark - math.sin(angle) * np.cross(mouth, mark)


def passes_under_head(
    setup: Setup, turns: list[float], half_zone: float, place: float = 0.0
) -> bool:
    """Whether what stands out is under the head between the start and any of the turns (degrees).

    Parameters
    ----------
    turns
        Each above 0 where places to the right of the first one come under the head.
    half_zone
        Half of what it takes of the wall, in degrees.
    place
        Where its middle is, in degrees to the right of the handle's or the seam's.
    """
    mouth = np.array([*TOWARD[setup.mouth], 0.0])
    up = np.array([0.0, 0.0, 1.0])
    handle = _handle_at_start(mouth, up, setup)
    # From the top to it, the way in which places to the right lie.
    at = place + math.degrees(math.atan2(handle @ np.cross(mouth, up), handle @ up))
    low, high = min(0.0, *turns), max(0.0, *turns)
    return any(low < at + whole + half_zone and at + whole - half_zone < high
               for whole in (-720, -360, 0, 360, 720))  # fmt: skip


EYES = {
    # Who holds the handle with the right hand has it to the right of the cup.
    ("right", "drinker"): (0.0, -1.0), ("right", "onlookers"): (0.0, 1.0),
    ("left", "drinker"): (0.0, 1.0), ("left", "onlookers"): (0.0, -1.0),
    ("right", "opposite"): (-1.0, 0.0), ("left", "opposite"): (-1.0, 0.0),
}  # fmt: skip
"""Where an eye is, seen from the cup's axis, by holding hand and who looks."""


def flattened(points: Array, wall: Wall, eye: tuple[float, float]) -> Array:
    """Return burnt points as a tape would measure them, in mm.

    To the right of the line that the eye sees in the middle, along the wall at their own height;
    and below the mouth, along the wall.
    """
    below = -points[:, 2] / math.cos(wall.lean)
    toward, right = np.array(eye), np.array([-eye[1], eye[0]])
    off = np.arctan2(points[:, :2] @ right, points[:, :2] @ toward)
    return np.column_stack([off * wall.radius(below), below])


def seen(
    burnt: list[list[Array]],
    wall: Wall,
    eye: tuple[float, float],
    scale: float,
    place: tuple[float, float, int, int] | None = None,
) -> NDArray[np.bool_]:
    """Return what an eye far away sees: True where a ray hits burnt wall.

    Every pixel sends a ray along the line of sight to the frustum x^2 + y^2 = r(z)^2; the nearer
    hit is looked up among the burnt polygons by its angle and height.

    Parameters
    ----------
    burnt
        For each path the polygons in the cup's frame; holes lie inside by the even-odd rule.
    scale
        Pixels per mm.
    place
        The cup's middle and mouth in the picture, in pixels from its left and top, and the
        picture's width and height; by default it is as large as the cup.
    """
    from PIL import Image, ImageChops, ImageDraw

    tall = wall.slant * math.cos(wall.lean)
    widest = float(max(wall.radius(np.array([0.0, wall.slant]))))
    if place is None:
        place = (widest * scale, 0.0, round(2 * widest * scale), round(tall * scale))
    middle, top, width, height = place
    columns = (np.arange(width) + 0.5 - middle) / scale
    rows = (np.arange(height) + 0.5 - top) / scale
    below = rows / math.cos(wall.lean)
    radius = wall.radius(np.clip(below, 0, wall.slant))[:, None]
    inside = np.abs(columns)[None, :] < radius
    inside &= ((below >= 0) & (below <= wall.slant))[:, None]
    off = np.arcsin(np.clip(columns[None, :] / radius, -1, 1))  # the hit's angle from the eye
    # The burnt wall as a picture over angle (in mm on the widest radius) and way along the wall.
    fine = 3 * scale
    size = round(2 * math.pi * widest * fine), round(wall.slant * fine)
    sheet = Image.new("1", size, 0)
    toward, right = np.array(eye), np.array([-eye[1], eye[0]])
    for path in burnt:
        for polygon in path:
            angle = np.unwrap(np.arctan2(polygon[:, :2] @ right, polygon[:, :2] @ toward))
            x = (angle + math.pi) * widest * fine
            y = -polygon[:, 2] / math.cos(wall.lean) * fine
            for turn in (-size[0], 0, size[0]):
                if x.max() + turn < 0 or x.min() + turn > size[0]:
                    continue
                left, high = math.floor(x.min() + turn) - 1, math.floor(y.min()) - 1
                box = left, high, math.ceil(x.max() + turn) + 2, math.ceil(y.max()) + 2
                shape = Image.new("1", (box[2] - left, box[3] - high), 0)
                corners = list(zip(x + turn - left, y - high, strict=True))
                ImageDraw.Draw(shape).polygon(corners, fill=1)
                sheet.paste(ImageChops.logical_xor(sheet.crop(box), shape), box)
    table = np.asarray(sheet)
    at_x = np.clip(((off + math.pi) * widest * fine).astype(int), 0, size[0] - 1)
    at_y = np.clip((below * fine).astype(int), 0, size[1] - 1)[:, None]
    return table[np.broadcast_to(at_y, at_x.shape), at_x] & inside
