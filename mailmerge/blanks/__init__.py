"""The blank as it was measured: its wrap, handle zone, band and faces."""

from mailmerge.blanks.model import (
    Band,
    Blank,
    Coat,
    Face,
    Handle,
    Taper,
    angle_of,
    face_of,
    usable_at,
)

__all__ = ["Band", "Blank", "Coat", "Face", "Handle", "Taper", "angle_of", "face_of", "usable_at"]
