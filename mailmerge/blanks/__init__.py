"""The blank as it was measured: its wrap, handle zone, band and faces."""

from mailmerge.blanks.model import Band, Blank, Coat, Face, Handle, Taper, angle_of, face_of

__all__ = ["Band", "Blank", "Coat", "Face", "Handle", "Taper", "angle_of", "face_of"]
