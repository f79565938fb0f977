"""Whether an order was forgotten; apart from what forgets one, for every order is asked."""

from __future__ import annotations

import json

from mailmerge.findings import InputError
from mailmerge.ledger import words
from mailmerge.ledger.ledger import Ledger

FORGOTTEN = "forgotten"
"""The fact that holds what is kept of a forgotten order."""


def refuse_forgotten(ledger: Ledger) -> None:
    """See that an order was not forgotten.

    Raises
    ------
    InputError
        It was.
    """
    if kept := ledger.fact(FORGOTTEN):
        raise InputError(words.forgotten_on(ledger.folder, str(json.loads(kept)["at"])[:10]))
