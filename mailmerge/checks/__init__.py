"""Checks: everything that produces findings. Each is a function of plain data."""

from mailmerge.checks.beam import check_close_letters, close_letters
from mailmerge.checks.items import check_item, check_name, check_texts
from mailmerge.checks.lines import running_off
from mailmerge.checks.listing import (
    check_drawings,
    check_fonts,
    check_languages,
    check_list,
    check_words,
)
from mailmerge.checks.loading import check_blank, check_reach
from mailmerge.checks.mending import Way, ways
from mailmerge.checks.naming import two_in

__all__ = [
    "Way",
    "check_blank",
    "check_close_letters",
    "check_drawings",
    "check_fonts",
    "check_item",
    "check_languages",
    "check_list",
    "check_name",
    "check_reach",
    "check_texts",
    "check_words",
    "close_letters",
    "running_off",
    "two_in",
    "ways",
]
