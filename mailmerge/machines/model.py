"""A machine as its profile describes it: beam, bed, rotary, and how a cup is put onto it."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from mailmerge.machines import words
from mailmerge.shelves import Length, LengthOrZero, Model, Name, Rate

DEFAULT_MACHINE = "diode-rotary"
"""What an order is checked for that names no machine."""

Drive = Literal["chuck", "roller"]

Mouth = Literal["left", "right", "away", "toward"]
"""Where the mouth of a cup on the rotary points, for the operator in front of the machine."""

Datum = Literal["up", "front", "back", "left", "right", "tick"]
"""Where the mark is when the job starts: the handle's middle or its bracket, on a cup without a
handle the seam, points up and so on; or a pencil tick on the wall is turned up."""


Beam = Literal["diode", "co2", "fibre"]
"""What makes the beam: starting points for settings go by it."""

Scan = Literal["along", "around"]
"""How the head's lines run on a cup: along its axis, so that the cup turns by a line at a time, or
around it, so that the cup turns to and fro. On flat goods from left to right, whatever is said."""


class Bed(Model):
    """Where the head can go, in mm, seen by the operator in front of the machine."""

    width: Length
    """From left to right."""
    depth: Length
    """From front to back."""


class Rotary(Model):
    """What holds and turns a cup; lengths in mm."""

    drive: Drive
    """A chuck turns the cup by an angle, rollers move its wall by a length."""
    mouth: Mouth
    backwards: bool = False
    """Whether it turns the other way than its page asks for, so that the page is mirrored."""
    datum: Datum
    tick: Annotated[float, Field(ge=0, lt=360)] = 180.0
    """Where a pencil tick is drawn, in degrees from the handle."""
    smallest_diameter: LengthOrZero = 0.0
    largest_diameter: Length
    length: Length
    """The longest wall that it takes."""
    under_head: Length
    """Room for the cup with the head at its highest, from the chuck's axis or from the top of
    the rollers up to the head."""
    clearance: LengthOrZero
    """Room between the wall and the lowest part of the head, in focus: what stands out further
    from the wall must not pass under it."""
    speed: Rate | None = None
    """The fastest that it moves the wall, in mm/s; by default as fast as the head."""
    acceleration: Rate | None = None
    """The most that it speeds the wall up, in mm/s^2; by default as the head."""

    @model_validator(mode="after")
    def _makes_sense(self) -> Self:
        if self.smallest_diameter >= self.largest_diameter:
            raise ValueError(
                words.diameters_in_wrong_order(self.smallest_diameter, self.largest_diameter)
            )
        check_datum(self.datum, self.mouth)
        return self


def check_datum(datum: Datum, mouth: Mouth) -> None:
    """See that a mark can be turned to where the datum says.

    Raises
    ------
    ValueError
        It would have to point along the cup's axis.
    """
    along = ("left", "right") if mouth in ("left", "right") else ("front", "back")
    if datum in along:
        across = ("front", "back") if along == ("left", "right") else ("left", "right")
        raise ValueError(words.datum_along_axis(datum, mouth, ("up", *across)))


class Machine(Model):
    """A machine's profile; lengths in mm."""

    name: Name
    note: str = ""
    beam: Beam | None = None
    spot: Length
    """Width of the mark that the beam leaves in focus: nothing finer can be engraved."""
    speed: Rate | None = None
    """The fastest that the head moves, in mm/s."""
    acceleration: Rate | None = None
    """The most that it speeds up, in mm/s^2."""
    scan: Scan = "along"
    bed: Bed
    rotary: Rotary | None = None
    """None for a machine that takes flat goods alone."""

    @property
    def run_up(self) -> float | None:
        """Way in mm that the head needs to reach its highest speed: v^2 / (2 a) (kinematics)."""
        if self.speed is None or self.acceleration is None:
            return None
        return self.speed**2 / (2 * self.acceleration)
