"""The engine: runs an order from its list to the files, one item at a time, on all cores."""

from mailmerge.merge.engine import (
    Changes,
    Checked,
    Merged,
    bring_up_to_date,
    check,
    found_in_list,
    is_engine_of,
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
from mailmerge.merge.pool import cores
from mailmerge.merge.report import FINDINGS, REPORT, wall_entry
from mailmerge.merge.trying import AtHand, Tried

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
    "is_engine_of",
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
