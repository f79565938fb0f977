"""The 256 colours of a proof, and how inks mix on them.

A proof is a palette picture from the start: drawing is a table lookup, and the file is written ten
times faster than one in full colour. The coat takes most of the colours: every shade of the
cylinder in every mixture with the metal that the beam reveals.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Rgb = NDArray[np.float64]
Indices = NDArray[np.uint8]

SHADES = 20
"""Steps from the darkest to the lightest part of the cylinder."""

MIXES = 9
"""Steps from bare coat to bare metal: the softness of the lettering's edge."""

LEVELS = 18
"""Steps of coverage that an ink is mixed in."""

SOFTNESS = 15
"""Coverage 0 to 255 is drawn in steps of this."""

PAPER = (252, 251, 248)
INK = (34, 36, 40)
SOFT = (118, 121, 126)
"""For labels; 4.3 : 1 and more on the paper at the sizes used."""
LINE = (214, 212, 206)
RED = (176, 28, 34)
TINT = (250, 232, 230)
"""Ground of the box that says why an item is stopped."""

_BAYER = (np.array([[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]]) + 0.5) / 16 - 0.5


def rgb(colour: str) -> Rgb:
    """Return ``#rrggbb`` as three numbers from 0 to 255."""
    return np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)], dtype=np.float64)


def _between(start: Rgb, end: Rgb, steps: int) -> Rgb:
    share = np.linspace(0, 1, steps)[:, None]
    return np.asarray(start * (1 - share) + end * share)


@dataclass(frozen=True)
class Palette:
    """The colours of one coat's proofs; ``coat`` and ``reveal`` are ``#rrggbb``."""

    coat: str
    reveal: str

    @property
    def alarm(self) -> tuple[int, int, int]:
        """The red for lettering that runs off its face: it has to show on the coat."""
        return RED if rgb(self.coat).mean() > 110 else (255, 104, 92)

    @cached_property
    def colours(self) -> Rgb:
        """All colours, shape (256, 3); shade ``i`` in mixture ``j`` is at ``i * MIXES + j``."""
        coat, metal = rgb(self.coat), rgb(self.reveal)
        white = np.array([255.0, 255.0, 255.0])
        # A light coat is shaded gently, so that the metal stands out on its dark side too.
        dark = coat * (0.45 + 0.38 * coat.mean() / 255)
        light = coat + (white - coat) * 0.30
        half = SHADES // 2
        bare = np.concatenate([_between(dark, coat, half), _between(coat, light, SHADES - half)])
        lit = np.linspace(0.86, 1.06, SHADES)[:, None] * metal
        mixes = np.stack([_between(b, m, MIXES) for b, m in zip(bare, lit, strict=True)])
        paper, ink = np.array(PAPER, float), np.array(INK, float)
        red, tint = np.array(RED, float), np.array(TINT, float)
        inks = [
            _between(paper, ink, 20),
            _between(paper, red, 10),
            _between(tint, red, 10),
            _between(tint, ink, 10),
            _between(coat, np.array(self.alarm, float), 8),
            _between(paper, bare[half], 10),
            np.array([SOFT, LINE], float),
        ]
        colours = np.concatenate([mixes.reshape(-1, 3), *inks])
        padding = np.zeros((256 - len(colours), 3))
        return np.concatenate([colours, padding]).clip(0, 255)

    def nearest(self, wanted: Rgb) -> Indices:
        """Return the index of the closest colour for each of ``wanted``, shape (..., 3)."""
        flat = wanted.reshape(-1, 3)
        found = np.empty(len(flat), dtype=np.uint8)
        for start in range(0, len(flat), 4096):
            red, green, blue = (
                (wanted[:, None] - own) ** 2
                for wanted, own in zip(flat[start : start + 4096].T, self.colours.T, strict=True)
            )
            found[start : start + 4096] = (red + green + blue).argmin(axis=1)
        return found.reshape(wanted.shape[:-1])

    def of_picture(self, picture: Image.Image) -> Indices:
        """Return a picture in full colour in the palette's colours, shape (height, width)."""
        colours = Image.new("P", (1, 1))
        colours.putpalette(np.rint(self.colours).astype(np.uint8).tobytes())
        return np.array(picture.quantize(palette=colours, dither=Image.Dither.NONE))

    def shaded(self, brightness: NDArray[np.float64]) -> Indices:
        """Return bare coat at ``brightness`` 0 to 1, dithered so that no steps show."""
        height, width = brightness.shape
        grid = np.tile(_BAYER, (height // 4 + 1, width // 4 + 1))[:height, :width]
        shade = np.clip(np.rint(brightness * (SHADES - 1) + grid), 0, SHADES - 1)
        return (shade * MIXES).astype(np.uint8)

    @lru_cache(maxsize=64)  # noqa: B019 - palettes are few and live as long as the process
    def ink(self, colour: tuple[int, int, int]) -> Indices:
        """Return what each colour becomes at each coverage by an ink, shape (256, 256)."""
        return _by_coverage(self._mixed(colour))

    def _mixed(self, colour: tuple[int, int, int]) -> Indices:
        """Return what each colour becomes under an ink, shape (256, LEVELS)."""
        share = np.linspace(0, 1, LEVELS)[None, :, None]
        mixed = self.colours[:, None, :] * (1 - share) + np.array(colour, float) * share
        return self.nearest(mixed)

    @cached_property
    def engraving(self) -> Indices:
        """Return what each colour becomes where the beam takes the coat off, (256, 256).

        On the coat it turns to the metal of the same shade, so that lettering is lit as the cup is.
        """
        red, green, blue = (int(part) for part in rgb(self.reveal))
        table = self._mixed((red, green, blue))
        steps = np.rint(np.linspace(0, MIXES - 1, LEVELS)).astype(int)
        for index in range(SHADES * MIXES):
            shade, mix = divmod(index, MIXES)
            table[index] = shade * MIXES + np.maximum(mix, steps)
        return _by_coverage(table)


def _by_coverage(mixed: Indices) -> Indices:
    """Return a table of levels as one of coverages; what is not covered stays as it is."""
    table = np.take(mixed, (np.arange(256) + 7) // SOFTNESS, axis=1)
    table[:, 0] = np.arange(256)
    return table
