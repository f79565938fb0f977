"""A machine as far as lettering needs to know it: how fine its beam is."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from mailmerge.shelves import Length, Model

DEFAULT_MACHINE = "diode-rotary"
"""What an order is checked for that names no machine."""


class Machine(Model):
    """A machine's profile; lengths in mm."""

    name: Annotated[str, Field(min_length=1)]
    note: str = ""
    spot: Length
    """Width of the mark that the beam leaves in focus: nothing finer can be engraved."""
