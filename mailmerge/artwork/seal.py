"""The seal of an artwork file; apart from what writes one, for most only compare seals."""

from __future__ import annotations

import hashlib


def seal_of(artwork: bytes) -> str:
    """Return the short digest that ties a proof to these exact bytes: 12 hexadecimal digits."""
    digest = hashlib.sha256(artwork).hexdigest()
    return f"{digest[:4]}-{digest[4:8]}-{digest[8:12]}"
