"""Every case that ever failed, as JSON in ``corpus/READER/NAME.json``.

Some stand for a guard that what is drawn rarely meets: without it, they would fail.

A case that takes many bytes names its generator in ``tests/hostile.py`` instead: ``made by``, what
it is called ``with``, and ``as`` which file.
"""

from __future__ import annotations

import hashlib
import inspect
import json
from pathlib import Path
from typing import Any

import hostile

Case = Any
"""What a file is made from: values that JSON knows."""

CORPUS = Path(__file__).parent / "corpus"

MOST_BYTES = 4_000
"""Of one case: what is kept is read by people."""


def cases(reader: str) -> dict[str, Case]:
    """Return the cases of a reader by name."""
    found = sorted((CORPUS / reader).glob("*.json"))
    return {path.stem: json.loads(path.read_text(encoding="ascii")) for path in found}


def keep(reader: str, case: Case) -> Path:
    """Keep a case that has failed, and return where; the maker of the fix gives it a name."""
    text = json.dumps(case, indent=1) + "\n"
    path = CORPUS / reader / f"{hashlib.sha256(text.encode()).hexdigest()[:12]}.json"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="ascii")
    return path


def is_generated(case: Case) -> bool:
    """Whether a case only names what makes its file."""
    return "made by" in case


def generated(case: dict[str, Any], folder: Path) -> Path:
    """Write the file of a case that names its generator."""
    path = folder / case["as"]
    make = getattr(hostile, case["made by"])
    if "path" in inspect.signature(make).parameters:
        make(path, *case["with"])
    else:
        path.write_bytes(make(*case["with"]))
    return path
