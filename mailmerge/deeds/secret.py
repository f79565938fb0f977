"""The secret that lets a browser in to the desk."""

from __future__ import annotations

import secrets

from mailmerge.files import Root, read_file
from mailmerge.workshop.shop.shop import open_shop

__all__ = ["secret_of_desk"]

_SECRET = "desk-secret"
"""In the shop's folder: what lets a browser in to the desk, today as on the day before."""


def secret_of_desk() -> str:
    """Return what lets a browser in to the desk; the shop's folder keeps it for its owner alone.

    Raises
    ------
    InputError
        It cannot be read or written.
    """
    folder = open_shop().folder
    file = folder / _SECRET
    if file.exists() and len(kept := read_file(file, 200).decode("ascii", "replace").strip()) >= 32:
        return kept
    secret = secrets.token_urlsafe(32)
    Root(folder).write(_SECRET, secret.encode(), 0o600)
    return secret
