"""Marks that synced folders leave where two desks have changed the same file.

Common practice, from memory: programs that keep folders alike on several computers put the second
version beside the first one, under a name that says so.
"""

from __future__ import annotations

import os
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

_ARTWORK = re.compile(r"[\d_]+-[a-z0-9-]+\.(svg|png)")
"""A name that the program gives: a guest may be called as a mark is."""


def marks_in(folder: Path, but: Collection[str] = ()) -> list[str]:
    """Return the names of files in an order's folder that look like a second version of another.

    Parameters
    ----------
    but
        Names that are what they are: of the order's list, and of folders that hold such files.
    """
    left_out = {COPIES, *but}
    found: list[Path] = []
    for at, folders, files in os.walk(folder):
        inside = Path(at).relative_to(folder)
        if not inside.parts:
            folders[:] = [name for name in folders if name not in left_out]
            files = [name for name in files if name not in left_out]
        found += [inside / name for name in (*folders, *files) if _is_marked(inside, name)]
    return [path.as_posix() for path in sorted(found)]


def _is_marked(inside: Path, name: str) -> bool:
    if _ARTWORK.fullmatch(name):
        return False
    is_ledger = name.startswith("ledger") and ".sqlite" in name
    return bool(_MARK.search(name)) or (is_ledger and str(inside / name) not in LEDGER_FILES)
