"""Ledgers: SQLite files with other values, other tables, other versions and flipped bytes."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing, suppress
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import strategies as st
from shop import Shop

from mailmerge.answers.said import Said
from mailmerge.deeds import making, status
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import LEDGER, open_image, open_ledger

from . import base
from .rule import Reader

_VALUES = (
    None, 0, -1, 1, 2, 2**62, 1.5, 1e308, "", "null", "[]", "{}", "[1]", '{"name": 1}', '"x"', "x",
    "{", '{"name": null}', "[[]]", "[" * 3_000, "9" * 5_000, "NaN", "1e999", "\x00", "2026-13-45",
    "2026-11-28T10:00:00", "yes", "change", "released", "engraved", "../x", '["a", "b"]', "\ufffe",
    '{"name": "Anna", "first": {}}', "[true, false]", '[1, "2026-11-28T10:00:00+01:00"]', "1",
)  # fmt: skip


@cache
def _whole() -> bytes:
    """Return a ledger that has been through all there is."""
    folder = base.folder().parent / "through"
    shop = Shop.copied(base.folder(), folder)
    seals = {number: each.seal or "" for number, each in shop.records().items()}
    shop.answer(Said(1, seals[1], "yes"), Said(2, seals[2], "change", "so", {"name": "Bo Dal"}))
    shop.accept(2)
    shop.yes(3)
    shop.release()
    shop.engraved(1)
    shop.spoiled(1)
    with shop.changing() as change:
        return change.image()


@cache
def columns() -> list[tuple[str, str]]:
    """Return all columns there are, each with its table."""
    with closing(sqlite3.connect(":memory:")) as db:
        db.deserialize(_whole())
        found = db.execute(
            "SELECT m.name, p.name FROM sqlite_master m, pragma_table_info(m.name) p "
            "WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%' ORDER BY 1, 2"
        ).fetchall()
    return [(table, column) for table, column in found]


_at = st.integers(0, 10_000)
_change = st.one_of(
    *[st.tuples(st.just("set"), _at, st.sampled_from(_VALUES), st.integers(0, 4))] * 4,
    st.tuples(st.sampled_from(("drop table", "drop column", "rename", "empty")), _at),
    st.tuples(st.just("version"), st.sampled_from((-1, 0, 1, 3, 6, 8, 2**31 - 1))),
    st.tuples(st.just("insert twice"), _at),
)
CASES = st.fixed_dictionaries({
    "changes": st.lists(_change, max_size=3),
    "flips": st.lists(st.tuples(st.integers(0, 200_000), st.integers(1, 255)), max_size=3),
    "cut": st.one_of(st.none(), st.none(), st.none(), _at),
})  # fmt: skip


def _changed(db: sqlite3.Connection, kind: str, at: Any, *more: Any) -> None:
    table, column = columns()[at % len(columns())] if kind != "version" else ("", "")
    match kind:
        case "set":
            value, row = more
            db.execute(
                f"UPDATE OR IGNORE {table} SET {column} = ? WHERE rowid IN "
                f"(SELECT rowid FROM {table} LIMIT 1 OFFSET ?)", (value, row),
            )  # fmt: skip
        case "drop table":
            db.execute(f"DROP TABLE {table}")
        case "drop column":
            db.execute(f"ALTER TABLE {table} DROP COLUMN {column}")
        case "rename":
            db.execute(f"ALTER TABLE {table} RENAME COLUMN {column} TO x")
        case "empty":
            db.execute(f"DELETE FROM {table}")
        case "version":
            db.execute(f"PRAGMA user_version = {at}")
        case _:
            db.execute(f"INSERT OR IGNORE INTO {table} SELECT * FROM {table}")


def write(case: dict[str, Any], folder: Path) -> Path:
    """Write an order whose ledger is changed."""
    order = Path(shutil.copytree(base.folder(), folder / "order"))
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as db:
        db.deserialize(_whole())
        db.execute("PRAGMA foreign_keys = OFF")
        db.execute("PRAGMA ignore_check_constraints = ON")
        for kind, *more in case["changes"]:
            with suppress(sqlite3.Error):  # SQLite itself refuses it
                _changed(db, kind, *more)
        data = bytearray(db.serialize())
    for at, value in case["flips"]:
        data[at % len(data)] ^= value
    if case["cut"] is not None:
        data = data[: case["cut"] * len(data) // 10_000]
    path = order / LEDGER
    path.write_bytes(data)
    return path


def read(path: Path) -> None:
    """Open an order as it is looked at, checked and restored, each whatever the others say.

    Raises
    ------
    InputError
        The last one of them that was refused.
    """
    refused: InputError | None = None
    for look in (_as_copy, status.status, _record, making.check):
        try:
            look(path.parent)
        except InputError as error:
            refused = error
    if refused:
        raise refused


def _as_copy(order: Path) -> None:
    with open_image(order / LEDGER) as ledger:
        ledger.records()


def _record(order: Path) -> None:
    with open_ledger(order) as ledger:
        for record in ledger.records():
            status.history(record)
            status.waits_for(record)
        ledger.guests()
        ledger.questions()
        ledger.settlements()


READER = Reader("ledgers", CASES, write, read)
