from .engine import (
    Changes,
    Checked,
    Merged,
    bring_up_to_date,
    check,
    found_in_list,
    items_of,
    merge,
    outdated,
    scenes_of,
    see_up_to_date,
    seen_up_to_date,
    settled,
    surveyed,
    update,
)
from .pool import cores
from .report import FINDINGS, REPORT, wall_entry
from .trying import AtHand, Tried

__all__ = [
    "FINDINGS",
    "REPORT",
    "AtHand",
    "Changes",
    "Checked",
    "Merged",
    "Tried",
    "bring_up_to_date",
    "check",
    "cores",
    "found_in_list",
    "items_of",
    "merge",
    "outdated",
    "scenes_of",
    "see_up_to_date",
    "seen_up_to_date",
    "settled",
    "surveyed",
    "update",
    "wall_entry",
]
