"""TOML of each kind: what stands in such a file, changed by what its model knows."""

from __future__ import annotations

import os
import shutil
import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from mailmerge.artwork.drawings import read_drawing
from mailmerge.artwork.layout import Layout
from mailmerge.blanks import Blank
from mailmerge.deeds import making, papers, settings as recipes
from mailmerge.machines import Machine
from mailmerge.orders.order import OrderFile
from mailmerge.shelves import Model
from mailmerge.workshop.settings.recipes import Recipe
from mailmerge.workshop.shop.shop import ShopFile

from . import base
from .changes import tree_changed, tree_changes
from .rule import Reader

KINDS: Mapping[str, type[Model]] = {
    "order": OrderFile, "layout": Layout, "blank": Blank, "machine": Machine, "recipe": Recipe,
    "shop": ShopFile,
}  # fmt: skip

_TEMPLATES = Path(__file__).parents[2] / "templates"

_SHOP = """
[shop]
name = "Cups by the Quay"
address = ["1 Quay Street", "Millport"]
currency = "EUR"
locale = "en_GB"
paper = "A4"
blanks = { default = "handled-tumbler-40oz" }
[hours]
monday = "closed"
saturday = "09:00-12:00, 13:00-16:00"
[minutes]
setup = 10
[rates]
labour = "28.00"
[price]
packaging = "1.80"
fees = "3 %"
margin = "30 %"
tax = "20 %"
tax_name = "VAT"
tax_included = true
[price.blanks]
"Test cup" = "14.50"
[[price.step]]
from = 24
off = "5 %"
"""

_RECIPE = """
machine = "Test machine"
coat = "black"
blank = "Test cup"
power = "30 %"
speed = "90 mm/s"
passes = 1
interval = "0.1 mm"
date = 2026-11-02
outcome = "even"
"""

_LITERALS = (
    "1e400", "-1e400", "inf", "nan", "1e-300", "9" * 60, "9" * 4300, "-0.0", "0x" + "f" * 40,
    "2026-12-12", "2026-12-12T09:00:00Z", "09:00:00", "1979-05-27", "true", "[" * 29 + "]" * 29,
    "{}", "[]", "[{}]", "[[1]]", "9999-12-31", "0001-01-01", "1e308", "5e-324", "1e16",
)  # fmt: skip
_TEXTS = (
    "", " ", "3 mm", "0 mm", "1e-9", "1e999 mm", "9999 mm", "1/0 in", "1 1/2 in", "0.0001 mm",
    "-3 mm", "nan mm", "100 %", "1e9 %", "{name}", "{", "{}", "{{", "{order.title}", "{order}",
    "{no.such}", "../x", "/dev/zero", "x.toml", "x.svg", "star", "laurel", "list.csv", "\u202eabc",
    "x" * 300, "\u00e9" * 90, "upper", "all", "set", "mouth", "above", "around", "both", "drinker",
    "onlookers", "base", "low", "middle", "chuck", "roller", "front", "tick", "09:00-08:00",
    "00:00-24:00", "09:00-09:00", "EUR", "XXX", "de_DE", "en_XX", "#ffffff", "#ggg", "black",
    "fewest", "own-size", "1e6", "270", "0", "1", "inf", "\u0665 mm", "1_000", "mm", "0x10", ".",
    "9" * 400, "closed", "letter", "A4", "b" + "0" * 15,
)  # fmt: skip

_values = st.one_of(
    st.sampled_from(_LITERALS).map(lambda text: {"$": text}),
    st.sampled_from(_TEXTS),
    st.sampled_from(_TEXTS),
    st.integers(-3, 400),
    st.floats(-10, 400).map(lambda number: round(number, 3)),
    st.booleans(),
    st.text(max_size=10),
)
_RAW = ("twice", "table twice", "cut", "insert", "deep", "key of many parts", "comment")
_raw = st.lists(
    st.tuples(
        st.sampled_from(_RAW), st.integers(0, 900), st.sampled_from(("\0", "\ud7ff", "=", "]", "'"))
    ),
    max_size=1,
)


@cache
def _keys(kind: str) -> tuple[str, ...]:
    """Return all keys that a model and those within it know."""
    schema = KINDS[kind].model_json_schema()
    tables = [schema, *schema.get("$defs", {}).values()]
    return tuple(sorted({key for table in tables for key in table.get("properties", {})} | {"x"}))


@cache
def _bases(kind: str) -> tuple[Mapping[str, Any], ...]:
    """Return good files of a kind, as their tables."""
    match kind:
        case "order" | "layout":
            own = tomllib.loads((base.folder() / f"{kind}.toml").read_text())
            if kind == "order":
                return (own,)
            shelf = sorted((_TEMPLATES / "layouts").glob("*.toml"))
            return (own, *(_in_own_font(tomllib.loads(each.read_text())) for each in shelf))
        case "blank" | "machine":
            shelf = sorted((_TEMPLATES / f"{kind}s").glob("*.toml"))
            return tuple(tomllib.loads(each.read_text()) for each in shelf)
        case "recipe":
            return (tomllib.loads(_RECIPE),)
        case _:
            return (tomllib.loads(_SHOP),)


def _in_own_font(layout: dict[str, Any]) -> dict[str, Any]:
    for line in layout["line"]:
        line["font"] = str(base.folder().parent / "boxes.ttf")
        line.pop("weight", None)
    return layout


def _cases(kind: str) -> SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries({
        "kind": st.just(kind),
        "base": st.integers(0, 20),
        "changes": tree_changes(_values, _keys(kind)),
        "raw": _raw,
    })  # fmt: skip


CASES = st.one_of(*(_cases(kind) for kind in ("layout", *KINDS)))


def text_of(case: Mapping[str, Any]) -> str:
    """Return the TOML that a case tells of."""
    found = _bases(case["kind"])
    text = _toml(tree_changed(found[case["base"] % len(found)], case["changes"]))
    for kind, at, value in case["raw"]:
        text = _rawly(text, kind, at, value)
    return text


def _rawly(text: str, kind: str, at: int, value: str) -> str:
    rows = text.splitlines() or [""]
    match kind:
        case "twice":
            rows.insert(at % len(rows), rows[at % len(rows)])
        case "table twice":
            rows += [row for row in rows if row.startswith("[")][:1]
        case "cut":
            return text[: at * len(text) // 901]
        case "insert":
            place = at * len(text) // 901
            return text[:place] + value + text[place:]
        case "deep":
            rows.insert(0, "x = " + "[" * at * 9 + "]" * at * 9)
        case "key of many parts":
            rows.insert(0, ".".join(["a"] * (1 + at * 17)) + " = 1")
        case _:
            rows.insert(at % len(rows), "# " + value)
    return "\n".join(rows)


def _toml(table: Any) -> str:
    """Return tables as TOML, all of what is within them on one line each."""
    if not isinstance(table, dict):
        return _value(table)
    return "\n".join(f"{_text(key)} = {_value(value)}" for key, value in table.items()) + "\n"


def _value(value: Any) -> str:
    if isinstance(value, dict):
        if "$" in value:
            return str(value["$"])
        return (
            "{" + ", ".join(f"{_text(key)} = {_value(each)}" for key, each in value.items()) + "}"
        )
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    return _text(value) if isinstance(value, str) else str(value)


def _text(text: str) -> str:
    plain = "".join(char if char.isalnum() or char in " .,%{}/-_#:" else _escaped(char)
                    for char in text)  # fmt: skip
    return f'"{plain}"'


def _escaped(char: str) -> str:
    return f"\\U{ord(char):08X}"


def write(case: dict[str, Any], folder: Path) -> Path:
    """Write the file, and what else its order or shop holds."""
    kind = case["kind"]
    own, shop = folder / "order", folder / "shop"
    (shop / "recipes").mkdir(parents=True)
    own.mkdir()
    for name in ("order.toml", "layout.toml", "list.csv"):
        shutil.copy(base.folder() / name, own / name)
    if kind in ("blank", "machine"):
        _name_in_order(own / "order.toml", kind)
    path = {
        "recipe": shop / "recipes" / "own.toml", "shop": shop / "shop.toml",
    }.get(kind, own / f"{kind}.toml")  # fmt: skip
    path.write_bytes(text_of(case).encode("utf-8", "surrogatepass"))
    return path


def _name_in_order(order: Path, kind: str) -> None:
    tables = tomllib.loads(order.read_text())
    del tables[kind]
    tables["order"][kind] = f"{kind}.toml"
    if kind == "blank":
        tables["order"].pop("coat")
    order.write_text(_toml(tables))


def read(path: Path) -> None:
    """Open what the file belongs to, and do with it what is done first."""
    read_drawing.cache_clear()
    shop = path.parent if path.name == "shop.toml" else path.parents[1] / "shop"
    before = os.environ.get("MAILMERGE_SHOP", "")
    os.environ["MAILMERGE_SHOP"] = str(path.parents[1] if path.name == "own.toml" else shop)
    try:
        if path.name == "own.toml":
            recipes.recipes()
        if path.name in ("own.toml", "shop.toml"):
            papers.price(base.folder(), (1, 30))
        else:
            making.check(path.parent)
    finally:
        os.environ["MAILMERGE_SHOP"] = before


READER = Reader("settings", CASES, write, read)
