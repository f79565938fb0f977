"""Colours, and the rule by which they become ink: dark engraves, light stays.

How light a colour is, is its relative luminance: WCAG 2.2, "relative luminance", from the sRGB of
IEC 61966-2-1.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from PIL import ImageColor

INK_BELOW = 0.5
"""Relative luminance below which a colour is engraved, unless the layout says otherwise: what
throws back less than half of white paper's light. Own judgement: red and blue marks are ink, yellow
and silver ones are not."""

Verdict = Literal["ink", "bare", "as it was"]
"""What becomes of a place that is painted over."""


@dataclass(frozen=True)
class Colour:
    """An sRGB colour; every part from 0 to 1."""

    red: float
    green: float
    blue: float
    alpha: float = 1.0

    def thinner(self, opacity: float) -> Colour:
        """Return the colour with an opacity laid over it."""
        return Colour(self.red, self.green, self.blue, self.alpha * opacity)

    def over(self, ground: float) -> float:
        """Return the relative luminance of the colour over a grey, from 0 for black to 1."""
        parts = [part * self.alpha + ground * (1 - self.alpha) for part in self._parts]
        return float(luminance(np.array(parts)))

    @property
    def _parts(self) -> tuple[float, float, float]:
        return self.red, self.green, self.blue


@dataclass(frozen=True)
class Paint:
    """The colours of a fill or a stroke: one, or the stops of a gradient."""

    colours: tuple[Colour, ...]

    @property
    def shows(self) -> bool:
        """Whether it paints at all."""
        return any(colour.alpha > 0 for colour in self.colours)

    def verdict(self, ink_below: float) -> Verdict | None:
        """Return what it makes of a place, or None if its colours do not agree.

        A colour that one sees through is taken over white and over black. Light over the one and
        dark over the other, it leaves either as it was.
        """
        found = {_verdict(colour, ink_below) for colour in self.colours}
        return found.pop() if len(found) == 1 else None


def _verdict(colour: Colour, ink_below: float) -> Verdict:
    if colour.over(1.0) < ink_below:
        return "ink"
    return "bare" if colour.over(0.0) >= ink_below else "as it was"


def luminance(srgb: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the relative luminance of sRGB colours, shape (..., 3), every part from 0 to 1."""
    linear = np.where(srgb <= 0.04045, srgb / 12.92, ((srgb + 0.055) / 1.055) ** 2.4)
    return np.asarray(linear @ np.array([0.2126, 0.7152, 0.0722]))


_FUNCTION = re.compile(r"(rgb|rgba|hsl|hsla)\(([^()]*)\)")
_PART = re.compile(r"([-+]?(?:\d+\.?\d*|\.\d+))(%|deg)?")


def parse_colour(text: str) -> Colour:
    """Return a colour of CSS Color 3 or 4: a name, ``#rgb``, ``#rrggbb``, ``rgb()`` or ``hsl()``.

    Raises
    ------
    ValueError
        It is none of these.
    """
    text = text.strip().lower()
    if text == "transparent":
        return Colour(0, 0, 0, 0)
    if text in ImageColor.colormap:
        return Colour(*(part / 255 for part in ImageColor.getrgb(text)[:3]))
    if match := re.fullmatch(r"#([0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})", text):
        digits = match[1] if len(match[1]) > 4 else "".join(digit * 2 for digit in match[1])
        return Colour(*(int(digits[at : at + 2], 16) / 255 for at in range(0, len(digits), 2)))
    if match := _FUNCTION.fullmatch(text):
        return _function(match[1], re.split(r"\s*[,/]\s*|\s+", match[2].strip()))
    raise ValueError(text)


def _function(name: str, texts: list[str]) -> Colour:
    parts = [_PART.fullmatch(text) for text in texts]
    if len(parts) not in (3, 4):
        raise ValueError(texts)
    values = []
    for at, part in enumerate(parts):
        if not part:
            raise ValueError(texts)
        percent = part[2] == "%"
        whole = 100 if percent else 1 if at == 3 else 360 if name[0] == "h" and at == 0 else 255
        if name[0] == "h" and at in (1, 2) and not percent:
            raise ValueError(texts)
        values.append(float(part[1]) / whole)
    if name[0] == "r":
        return Colour(*(min(max(value, 0.0), 1.0) for value in values))
    hue, saturation, light = values[0] % 1 * 12, *(min(max(v, 0.0), 1.0) for v in values[1:3])
    reach = saturation * min(light, 1 - light)
    # CSS Color 4, section 7.1
    red, green, blue = (
        light - reach * max(-1.0, min((n + hue) % 12 - 3, 9 - (n + hue) % 12, 1.0))
        for n in (0, 8, 4)
    )
    return Colour(red, green, blue, min(max(values[3], 0.0), 1.0) if len(values) > 3 else 1.0)
