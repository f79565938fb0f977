"""The blank as it was measured: its wrap, the zones that are not engraved, band and faces."""

from mailmerge.blanks.model import (
    VISIBLE_ANGLE,
    Band,
    Blank,
    Coat,
    Face,
    FreeArc,
    Handle,
    Taper,
    Zone,
    angle_of,
    closes,
    face_of,
    free_arcs,
    usable_at,
    zone_at,
)

__all__ = [
    "VISIBLE_ANGLE",
    "Band",
    "Blank",
    "Coat",
    "Face",
    "FreeArc",
    "Handle",
    "Taper",
    "Zone",
    "angle_of",
    "closes",
    "face_of",
    "free_arcs",
    "usable_at",
    "zone_at",
]
