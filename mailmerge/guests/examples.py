"""Examples in a list: rows that show how to fill it in, and say so themselves."""

from __future__ import annotations

import re
from collections.abc import Iterable

MARKS = ("Example", "Beispiel", "Exemple", "Ejemplo", "Przykład", "Enghraifft", "مثال")
"""What stands before a text that is an example, in each language of the form for lists."""

_MARKED = re.compile(rf"\s*(?:{'|'.join(MARKS)})\s*[:：]", re.IGNORECASE)


def is_example(text: str) -> bool:
    """Whether a text says that it is an example: ``Example: Marta Lind``."""
    return _MARKED.match(text) is not None


def are_examples(names: Iterable[str], others: Iterable[str]) -> bool:
    """Whether a row shows how to fill in a list: it has a name, and each of its texts says so.

    A row in which somebody has written over one of them is a guest, perhaps; who it is must be
    asked, and the text that still says it is an example is not engraved.
    """
    names, texts = [*filter(None, names)], [*filter(None, others)]
    return bool(names) and all(map(is_example, (*names, *texts)))
