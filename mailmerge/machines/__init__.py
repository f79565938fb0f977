"""The machine that engraves: its profile, and how a cup is loaded onto it."""

from mailmerge.machines.loading import Loading, Page, load_on, lower_end, on_the_way
from mailmerge.machines.model import (
    DEFAULT_MACHINE,
    Beam,
    Datum,
    Machine,
    Rotary,
    Scan,
    check_datum,
)

__all__ = [
    "DEFAULT_MACHINE",
    "Beam",
    "Datum",
    "Loading",
    "Machine",
    "Page",
    "Rotary",
    "Scan",
    "check_datum",
    "load_on",
    "lower_end",
    "on_the_way",
]
