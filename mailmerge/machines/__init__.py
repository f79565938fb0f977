"""The machine that engraves: its profile, and how a cup is loaded onto it."""

from mailmerge.machines.loading import Loading, Page, load_on
from mailmerge.machines.model import DEFAULT_MACHINE, Datum, Machine, Rotary, check_datum

__all__ = [
    "DEFAULT_MACHINE",
    "Datum",
    "Loading",
    "Machine",
    "Page",
    "Rotary",
    "check_datum",
    "load_on",
]
