"""What the pictures of this room say to people; what a proof pack says is in its own room."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from mailmerge.machines.model import Datum, Mouth
from mailmerge.units import format_length, format_mm

# A proof

CHECK_EVERY_LETTER = (
    "Please check every letter, accent and space. Only what you confirm will be engraved."
)
ITEM_IS_STOPPED = "This item is stopped. No artwork was made for it."
STOPPED = "STOPPED"
THE_BLANK, THE_WALL = "The blank, to scale", "The wall, unrolled and to scale"


def proof(item: str) -> str:
    """Name a proof by its item."""
    return f"Proof {item}"


def face(count: int) -> str:
    """Label the width of the faces."""
    return "Face, in the dashed frame" if count == 1 else "Faces, in the dashed frames"


def face_widths(widths: Iterable[float]) -> str:
    """Say how wide the faces are, each width once."""
    listed = dict.fromkeys(format_mm(width).removesuffix(" mm") for width in widths)
    return f"{' and '.join(listed)} mm wide"


WIDTH, HEIGHT, EDGES = "Width", "Height", "Edges, kept free"
AROUND_THE_CUP, HEIGHT_OF_WALL = "Around the cup", "Height of the wall"
AROUND_MOUTH_AND_BASE, ALONG_THE_WALL = "Around mouth / base", "Along the wall"
SEAM = "Seam, kept free"


def zone(word: str) -> str:
    """Label how wide the zone at a blank's zero is."""
    return f"{word.capitalize()} zone, hatched"


def mouth_and_base(mouth: float, base: float) -> str:
    """Say how far it is around both ends of a tapered wall."""
    return f"{format_mm(mouth).removesuffix(' mm')} / {format_mm(base)}"


def leaning_wall(length: float, lean: float) -> str:
    """Say how long a tapered wall is, and how far it leans."""
    return f"{format_mm(length)}, leaning {lean:.1f}°"


# A specimen

ORNAMENTS = "Ornaments"
FONTS_TO_CHOOSE = "Fonts to choose from"


def no_letter_for(chars: Iterable[str]) -> str:
    """Say which letters a font lacks."""
    return f"has no letter for {' '.join(chars)}"


def too_long(fits: float) -> str:
    """Say that a name is too long in a font."""
    return f"too long: fits at {format_mm(fits)}"


def letter_height(height: float) -> str:
    """Say how large a name is in a font."""
    return f"letter height {format_mm(height)}"


# A paper


def page(number: int) -> str:
    """Return the number of a page, for its foot."""
    return f"page {number}"


# A load picture

INTO_THE_MOUTH, FROM_ABOVE = "Looking into the mouth", "From above, not to scale"
FROM_BEHIND, AS_YOU_SEE_IT = "seen from behind the machine", "as you see it"
YOU, STAND_HERE, YOU_STAND_HERE = "you", "stand here", "you stand here"
START, MOUTH = "start", "mouth"
CAUTION = (
    "Take the lid off. Keep handle, bracket and cable clear of head and beam through the whole "
    "turn."
)
CAUTION_FLAT = (
    "Hold it down so that it cannot move. Keep everything out of the way of head and beam."
)


def how_to_load(machine: str) -> str:
    """Give a load picture its title."""
    return f"How to load it: {machine}"


# How to load a cup. This stands in every artwork file too, for its operator: a change of these
# words changes every seal, so that clients have to be asked again.

FLAT = (
    "Lay it flat with its upper edge to the back.",
    "Start with the head over its upper left corner. That is the page's corner, too.",
)
MOUTH_POINTS: dict[Mouth, str] = {
    "left": "Point the mouth to the left.",
    "right": "Point the mouth to the right.",
    "away": "Point the mouth away from you.",
    "toward": "Point the mouth toward you.",
}
RUNS_BACKWARDS = "This rotary runs backwards: the artwork is mirrored on purpose."


def set_rotary(around: float, across: float, inches: int | None) -> str:
    """Say what to set the rotary to for a straight wall."""
    return (
        f"Set the rotary to {format_length(around, inches, 2)} around, or "
        f"{format_length(across, inches, 2)} across."
    )


def set_rotary_for_taper(around: float, across: float, inches: int | None) -> str:
    """Say what to set the rotary to for a tapered wall."""
    return (
        f"Set the rotary to {format_length(around, inches, 2)} around, or "
        f"{format_length(across, inches, 2)} across, as the cup measures in the middle of the band."
    )


def tilt(degrees: float, lower: str) -> str:
    """Say how far to tilt the rotary."""
    return (
        f"Tilt the rotary by {degrees:.1f}°, the {lower} end lower, so that the wall lies level "
        f"under the head."
    )


def tick(way: float, zero: str) -> str:
    """Say where to draw a pencil tick, and where to turn it."""
    return (
        f"Draw a pencil tick at the mouth's edge, {format_mm(way)} around from the {zero}'s "
        f"middle, to the right as you look at the cup. Turn the tick up, under the head."
    )


def turn_mark(mark: str, datum: Datum) -> str:
    """Say where to turn a mark."""
    return {
        "up": f"Turn the {mark} up, under the head.",
        "front": f"Turn the {mark} to the front, toward you.",
        "back": f"Turn the {mark} to the back, away from you.",
        "left": f"Turn the {mark} to the left.",
        "right": f"Turn the {mark} to the right.",
        "tick": f"Turn the {mark} up, under the head.",
    }[datum]


def start(from_left: float, from_top: float) -> str:
    """Say where the job starts, on the cup and on the page."""
    return (
        f"Start with the head over the mouth's edge, on the top line (the cross). On the page that "
        f"is {format_mm(from_left)} from the left and {format_mm(from_top)} from the top."
    )


def turns(ways: Sequence[tuple[float, str]]) -> str:
    """Say how far the cup turns, and which way its top goes then."""
    listed = " and ".join(f"up to {turn:.0f}° with its top going {way}" for turn, way in ways)
    return f"In all, the cup turns {listed}."


def must_measure(width: float, height: float) -> str:
    """Say how large artwork must be once a program has loaded it."""
    return f"Once it is loaded, the artwork must measure {width:.1f} x {height:.1f} mm."


NOT_IN_MILLIMETRES = (
    "If it does not, the program has not read it in millimetres: do not engrave it."
)


def artwork_lies(across: tuple[float, float], deep: tuple[float, float]) -> str:
    """Say where artwork lies on the bed, from the start: to the right and to the back, in mm."""
    return (
        f"From the start it reaches {_way(across, 'right', 'left')}, and "
        f"{_way(deep, 'back', 'front')}."
    )


_Way = Literal["right", "left", "back", "front"]


def _way(reach: tuple[float, float], up: _Way, down: _Way) -> str:
    """Return a range: how far to one side, to the other, or to both."""
    low, high = reach
    if low >= 0:
        return f"{low:.1f} to {high:.1f} mm to the {up}"
    if high <= 0:
        return f"{-high:.1f} to {-low:.1f} mm to the {down}"
    return f"{-low:.1f} mm to the {down} and {high:.1f} mm to the {up}"
