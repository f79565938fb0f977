"""Changing what an order's file says, with the rest of it as its author wrote it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

import tomlkit

from mailmerge.files import digest_of, read_file, write_file
from mailmerge.guests.names import slug
from mailmerge.orders.order import order_of
from mailmerge.orders.said import ORDER_FILE
from mailmerge.shelves import MAX_TOML_BYTES, read_toml

Said = Mapping[str, Mapping[str, Any]]
"""Values by table and key; None takes a key out."""


Part = Literal["blank", "layout"]
"""A table that an order's file can have instead of a name."""


def edit(folder: Path, said: Said) -> Path:
    """Let an order's file say something else, if the order can be opened so; return the file.

    Comments, the order of keys, and everything that is not named stay. Where a blank or layout is
    named and the file has a table of its own for it, that gets a file beside it and stays as it is.

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
    parts: tuple[Part, ...] = ("blank", "layout")
    apart = [
        (_file_for(folder, part, document), _taken_out(document, part))
        for part in parts
        if part in document and said.get("order", {}).get(part)
    ]
    text = tomlkit.dumps(document)
    order_of(file, tomllib.loads(text))
    for own, held in apart:
        write_file(own, held.encode())
    write_file(file, text.encode())
    return file


def _file_for(folder: Path, part: Part, document: Mapping[str, Any]) -> Path:
    """Return a file that is not there yet, called as the table is."""
    name, number = slug(str(document[part].get("name", "")), part), 1
    while (file := folder / (f"{name}.toml" if number == 1 else f"{name}-{number}.toml")).exists():
        number += 1
    return file


def _taken_out(document: tomlkit.TOMLDocument, part: Part) -> str:
    """Take a table out of a file; return it as a file of its own, with its comments."""
    table = document.pop(part)
    values = table.unwrap()
    text = re.sub(rf"(?m)^(\s*\[\[?){part}\.", r"\1", table.as_string())
    return text if _reads_as(text, values) else tomlkit.dumps(values)


def _reads_as(text: str, values: Mapping[str, Any]) -> bool:
    try:
        return tomllib.loads(text) == values
    except tomllib.TOMLDecodeError:
        return False


def digest(folder: Path) -> str:
    """Return a digest of what an order's file says, for whoever wants to know if it has changed.

    Raises
    ------
    InputError
        It cannot be read.
    """
    return digest_of(read_file(folder / ORDER_FILE, MAX_TOML_BYTES))
