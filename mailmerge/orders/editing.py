"""Changing what an order's file says, with the rest of it as its author wrote it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import tomlkit

from mailmerge.files import digest_of, read_file, write_file
from mailmerge.orders.order import ORDER_FILE, order_of
from mailmerge.shelves import MAX_TOML_BYTES, read_toml

Said = Mapping[str, Mapping[str, Any]]
"""Values by table and key; None takes a key out."""


def edit(folder: Path, said: Said) -> Path:
    """Let an order's file say something else, if the order can be opened so; return the file.

    Comments, the order of keys, and everything that is not named stay.

    Raises
    ------
    InputError
        The file cannot be read, the order would be wrong, or it cannot be written; nothing has
        changed then.
    """
    file = folder / ORDER_FILE
    read_toml(file)  # what is no TOML is told as everywhere
    document = tomlkit.parse(read_file(file, MAX_TOML_BYTES).decode("utf-8-sig"))
    for name, values in said.items():
        if name not in document:
            document[name] = tomlkit.table()
        table = document[name]
        for key, value in values.items():
            if value is None:
                table.pop(key, None)
            elif table.get(key) != value:
                table[key] = value
    text = tomlkit.dumps(document)
    order_of(file, tomllib.loads(text))
    write_file(file, text.encode())
    return file


def digest(folder: Path) -> str:
    """Return a digest of what an order's file says, for whoever wants to know if it has changed.

    Raises
    ------
    InputError
        It cannot be read.
    """
    return digest_of(read_file(folder / ORDER_FILE, MAX_TOML_BYTES))
