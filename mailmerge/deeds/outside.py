"""What comes from outside is read in a process of its own: see the room `reading`."""

from __future__ import annotations

from mailmerge import reading


def get_ready() -> None:
    """Let that process start while this one still imports what it needs."""
    reading.get_ready("mailmerge.guests.workbook")  # most lists are one
