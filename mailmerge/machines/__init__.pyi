from .loading import Loading, Page, load_on, lower_end, on_the_way
from .model import (
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
