"""The papers that a PDF may be set on; apart from ``paper``, which takes long to import."""

from __future__ import annotations

from typing import Literal

PaperSize = Literal["A4", "Letter"]
