"""How large proofs are, and where on them the cup stands, in px; apart from what draws one."""

from __future__ import annotations

WIDTH, HEIGHT = 1600, 1560
MARGIN = 64
CUP_PICTURE = (40, 134, 944, 968)
"""Left, top, right and bottom of the part of a proof that shows its cups."""

LOAD_WIDTH, LOAD_HEIGHT = 1600, 744
LOAD_VIEWS = (MARGIN, 84, 1076, 600)
"""Left, top, right and bottom of the part of a load picture that shows the cup."""
