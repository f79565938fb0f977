"""How a machine's head runs its lines: the motion that a profile and a set speed come to."""

from __future__ import annotations

import json
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mailmerge.files import digest_of
from mailmerge.machines.model import Machine

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Axis:
    """How one of the two axes moves."""

    speed: float
    """The fastest, in mm/s."""
    acceleration: float | None
    """In mm/s^2; None where it is not known, and taken as without end."""

    def run_up(self, speed: float) -> float:
        """Return the way in mm to a speed, or back to rest: v^2 / (2 a) (kinematics)."""
        return 0.0 if self.acceleration is None else speed**2 / (2 * self.acceleration)

    def to_speed(self, speed: float) -> float:
        """Return the seconds to a speed, or back to rest: v / a (kinematics)."""
        return 0.0 if self.acceleration is None else speed / self.acceleration

    def move(self, ways: Floats) -> Floats:
        """Return the seconds from rest to rest over ways in mm.

        Half the way speeding up and half braking, 2 sqrt(d / a), where that stays below the axis'
        speed; else d / v + v / a (kinematics).
        """
        ways = np.abs(ways)
        if self.acceleration is None:
            return ways / self.speed
        short = ways < 2 * self.run_up(self.speed)
        return np.where(
            short,
            2 * np.sqrt(ways / self.acceleration),
            ways / self.speed + self.to_speed(self.speed),
        )


@dataclass(frozen=True, slots=True)
class Motion:
    """How the head runs its lines."""

    speed: float
    """Along a line, in mm/s."""
    along: Axis
    across: Axis
    first: int
    """The page's coordinate along the lines: 0 for x, 1 for y."""


def motion_of(machine: Machine, speed: float, mouth: str | None) -> Motion:
    """Return how a machine's head runs its lines.

    Parameters
    ----------
    speed
        What is set for it, in mm/s.
    mouth
        Where the mouth of the cup points; None for flat goods and machines without a rotary. The
        rotary moves the page's y with the mouth to the left or right, else its x.
    """
    head = Axis(machine.speed or speed, machine.acceleration)
    if mouth is None or machine.rotary is None:
        return Motion(min(speed, head.speed), head, head, 0)
    rotary = Axis(
        machine.rotary.speed or head.speed, machine.rotary.acceleration or head.acceleration
    )
    around = 1 if mouth in ("left", "right") else 0
    if machine.scan == "around":
        return Motion(min(speed, rotary.speed), rotary, head, around)
    return Motion(min(speed, head.speed), head, rotary, 1 - around)


def motion_mark(machine: Machine) -> str:
    """Return a digest of how a profile says that its machine moves.

    What was timed under another one says nothing about this one.
    """
    rotary = machine.rotary
    parts = [machine.speed, machine.acceleration, machine.scan]
    parts += [rotary.speed, rotary.acceleration] if rotary else []
    return digest_of(json.dumps(parts).encode())[:12]
