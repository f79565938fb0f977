"""What the program is made of."""

from __future__ import annotations

from mailmerge.provenance import about

__all__ = ["about"]
