"""The papers that a PDF may be set on; apart from ``paper``, which takes long to import."""

from __future__ import annotations

from typing import Literal

PaperSize = Literal["A4", "Letter"]

SHEETS: dict[PaperSize, tuple[float, float]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height of a sheet in mm (ISO 216; ANSI/ASME Y14.1 A)."""
