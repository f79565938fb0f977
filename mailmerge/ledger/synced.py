"""Marks that synced folders leave where two desks have changed the same file.

Common practice, from memory: programs that keep folders alike on several computers put the second
version beside the first one, under a name that says so.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from pathlib import Path

from mailmerge.ledger.copies import COPIES
from mailmerge.ledger.ledger import LEDGER_FILES

_MARK = re.compile(
    r"conflicted copy|case conflict|\.sync-conflict-\d{8}"
    r"| \(\d{1,3}\)(?=\.\w+$|$)"
    r"|-(?:desktop|laptop|macbook|pc)-[a-z0-9]+(?=\.\w+$|$)",
    re.IGNORECASE,
)


def marks_in(folder: Path, but: Collection[str] = ()) -> list[str]:
    """Return the names of files in an order's folder that look like a second version of another.

    Parameters
    ----------
    but
        Names that are what they are: of the order's list, and of folders that hold such files.
    """
    left_out = {COPIES, *but}
    found = []
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder)
        if name.parts[0] in left_out or _is_artwork(path):
            continue
        is_ledger = path.name.startswith("ledger") and ".sqlite" in path.name
        if _MARK.search(path.name) or (is_ledger and str(name) not in LEDGER_FILES):
            found.append(name.as_posix())
    return found


def _is_artwork(path: Path) -> bool:
    """Whether a file has a name that the program gives: a guest may be called as a mark is."""
    return re.fullmatch(r"[\d_]+-[a-z0-9-]+\.(svg|png)", path.name) is not None
