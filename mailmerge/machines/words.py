"""What this room says to people."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

# A machine's file


def diameters_in_wrong_order(smallest: float, largest: float) -> str:
    """Say that a rotary takes nothing, by its two diameters."""
    return (
        f"Found smallest_diameter {smallest:g} mm and largest_diameter {largest:g} mm. Enter a "
        f"smallest_diameter that is below the largest_diameter."
    )


def datum_along_axis(found: str, mouth: str, possible: Sequence[str]) -> str:
    """Say that a mark cannot point where a datum says."""
    return (
        f'Found datum "{found}". With mouth "{mouth}" that is along the cup\'s axis, where no '
        f"handle can point. Enter {', '.join(possible)} or tick."
    )


# How a cup is loaded

CORNER, TICK = "corner", "tick"
TURNS: Mapping[str, tuple[str, str]] = {
    "left": ("toward you", "away from you"),
    "right": ("away from you", "toward you"),
    "away": ("to the left", "to the right"),
    "toward": ("to the right", "to the left"),
}
"""Where the top of the cup goes when the angle under the head grows, and when it falls."""


def at_angle(mark: str, degrees: float) -> str:
    """Name one of several marks that are called alike."""
    return f"{mark} at {degrees:g}°"
