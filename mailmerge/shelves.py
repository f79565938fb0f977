"""The starting points that travel with the program, and how a TOML file becomes a checked value.

Blanks, layouts and orders are all TOML read into frozen pydantic models. This module is the only
one that turns the errors of ``tomllib`` and pydantic into ours, so they all read alike.
"""

from __future__ import annotations

import os
import re
import stat
import tomllib
from collections.abc import Iterable
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Literal, TypeVar

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
)
from pydantic_core import ErrorDetails

from mailmerge.files import read_file
from mailmerge.findings import InputError, RuleBroken, WrongValue, nearest, shown
from mailmerge.units import parse_length, parse_percent, parse_rate

# What this room says to people


def _not_above_zero(length: float) -> str:
    return f"Found {length:g} mm. Give a length above 0 and below 10 m."


def _below_zero(length: float) -> str:
    return f"Found {length:g} mm. Give a length from 0 up, below 10 m."


def _not_one_line(text: str) -> str:
    return f"Found {shown(text)}. Write it on one line, without control characters."


def _no_such_file(one: str, path: Path) -> str:
    return f"{one}: There is no file {shown(str(path), 200)}."


def _no_ordinary_file(one: str, path: Path) -> str:
    return f"{one}: {shown(str(path), 200)} is a folder, a pipe or a device. Give a file."


def _not_in_library(one: str, wanted: str, known: Iterable[str], ending: str) -> str:
    names = sorted(known)
    has = f"It has: {', '.join(names)}."
    if len(names) > _NAMED:
        has = f"The command mailmerge {one}s lists all {len(names)}."
    return (
        f"{one}: The library has no {one} {shown(wanted)}. {nearest(wanted, names)} {has} You can "
        f"also give the path of your own {ending} file."
    )


_NAMED = 24
"""So many names are told in a message."""


def _no_utf_8(path: Path) -> str:
    return f"{path}: This is not plain text in UTF-8. Save it as UTF-8 in a text editor."


def _no_toml(path: Path, reason: object) -> str:
    return f"{path}: This is not valid TOML: {reason}."


def _too_deep(path: Path, most: int) -> str:
    return f"{path}: A key or a value stands within more than {most} others. No file needs that."


def _unknown_key(key: str, last: str, known: Iterable[str]) -> str:
    return (
        f"Found the unknown key {shown(key)}. {nearest(last, known)} The keys here are: "
        f"{', '.join(known)}."
    )


def _missing_key(key: str) -> str:
    return f'The key "{key}" is missing.'


_FILL_IN = "Fill it in."

_WRONG_VALUES = {
    "bool_parsing": "Found {found}. Give true or false.",
    "bool_type": "Found {found}. Give true or false.",
    "date_from_datetime_inexact": "Found {found}. Give a day such as 2026-12-12, without a time.",
    "date_from_datetime_parsing": "Found {found}. Give a day such as 2026-12-12.",
    "date_type": "Found {found}. Give a day such as 2026-12-12.",
    "dict_type": "Found {found}. This key takes a table.",
    "finite_number": "Found {found}. Give a number.",
    "float_parsing": "Found {found}. Give a number.",
    "float_type": "Found {found}. Give a number.",
    "greater_than": "Found {found}. Give a number above {gt}.",
    "greater_than_equal": "Found {found}. Give {ge} or more.",
    "int_from_float": "Found {found}. Give a whole number.",
    "int_parsing": "Found {found}. Give a whole number.",
    "int_parsing_size": "Found {found}. Give a smaller whole number.",
    "int_type": "Found {found}. Give a whole number.",
    "less_than": "Found {found}. Give a number below {lt}.",
    "less_than_equal": "Found {found}. Give {le} or less.",
    "literal_error": "Found {found}. Give {expected}.",
    "model_type": "Found {found}. This key takes a table.",
    "string_pattern_mismatch": "Found {found}. Give a text of the form {pattern}.",
    "string_too_long": "Found {found}. Give a text of at most {max_length} characters.",
    "string_too_short": "Found an empty text. Fill it in.",
    "string_type": "Found {found}. Give a text in quotation marks.",
    "too_long": "Found {actual_length} entries. Give at most {max_length}.",
    "too_short": "Found no entry. Give at least one.",
    "tuple_type": "Found {found}. This key takes a list; a list of tables has [[…]] above each.",
}
"""What is said of a value, by pydantic's name for what is wrong with it.

Whatever is too short here is empty: no model asks for more than one of anything.
"""


def _wrong_value(problem: ErrorDetails) -> str:
    """Say what is wrong with a value; of what the table does not know, in pydantic's words."""
    text = _WRONG_VALUES.get(problem["type"])
    found = _value(problem["input"])
    if text is None:
        return f"Found {found}. {problem['msg']}."
    bounds = {key: _bound(value) for key, value in problem.get("ctx", {}).items()}
    return text.format(found=found, **bounds)


def _bound(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value).replace("'", '"')


def _value(found: object) -> str:
    if isinstance(found, int) and abs(found) > 10**50:
        return "a number that is too large"
    return shown(found) if isinstance(found, str) else shown(repr(found)).strip('"')


# The library, and TOML files as values

Kind = Literal["blanks", "layouts", "machines", "ornaments", "recipes"]
"""The shelves of the library; each is a folder of ``templates/``."""

_ENDING: dict[Kind, str] = {
    "blanks": ".toml", "layouts": ".toml", "machines": ".toml", "ornaments": ".svg",
    "recipes": ".toml",
}  # fmt: skip

MAX_TOML_BYTES = 32_000
"""Orders take about one kB; the TOML reader needs minutes for some that take a hundred."""

_MOST_DEEP = 30
"""Tables and lists within each other; our own files have four."""

_LONG_KEY = re.compile(rf"""(?<![\w"'.-])(?:[\w"'-]++\s*+\.\s*+){{{_MOST_DEEP}}}[\w"'-]""")
"""A key of more parts, wherever it stands: the TOML reader takes their square in time."""


class Model(BaseModel):
    """A value read from TOML: frozen, and refusing keys that nobody understands."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=True)


ModelT = TypeVar("ModelT", bound=Model)


def positive(length: float) -> float:
    """Return a length if it is above 0 and below 10 m.

    Raises
    ------
    ValueError
        It is not.
    """
    if not 0 < length < 10_000:
        raise ValueError(_not_above_zero(length))
    return length


def _not_negative(length: float) -> float:
    if not 0 <= length < 10_000:
        raise ValueError(_below_zero(length))
    return length


def one_line(text: str) -> str:
    """Return the text if it has no control characters.

    Raises
    ------
    ValueError
        It has some.
    """
    if any(ord(char) < 32 or 0xD800 <= ord(char) <= 0xDFFF for char in text):
        raise ValueError(_not_one_line(text))
    return text


Name = Annotated[str, Field(min_length=1, max_length=200), AfterValidator(one_line)]
"""What something is called, on one line."""

Length = Annotated[float, BeforeValidator(parse_length), AfterValidator(positive)]
"""A length above 0, in millimetres, typed in any way that :mod:`mailmerge.units` reads."""

Rate = Annotated[float, BeforeValidator(parse_rate), Field(gt=0)]
"""A speed in mm/s or an acceleration in mm/s^2, above 0."""

Percent = Annotated[Decimal, BeforeValidator(parse_percent)]
"""A percentage from 0 to 100, exact."""

LengthOrZero = Annotated[float, BeforeValidator(parse_length), AfterValidator(_not_negative)]
"""The same, with 0 allowed."""


def templates() -> Path:
    """Return the folder of the starting points, in a checkout or in an installed wheel."""
    inside = Path(__file__).parent / "templates"
    return inside if inside.is_dir() else Path(__file__).parents[1] / "templates"


def shelf(kind: Kind) -> dict[str, Path]:
    """Return the library's files of one kind, by name, in alphabetical order."""
    return {path.stem: path for path in sorted((templates() / kind).glob(f"*{_ENDING[kind]}"))}


def find(kind: Kind, wanted: str, beside: Path) -> Path:
    """Return the file of a blank, layout, machine or ornament: a library name, or a path.

    Parameters
    ----------
    wanted
        A library name (``handled-tumbler-40oz``), or a path ending in ``.toml`` (``.svg`` for an
        ornament); a relative path starts at the folder ``beside``.

    Raises
    ------
    InputError
        Neither is there (the nearest name of the library is suggested), or it is no file.
    """
    if wanted.endswith(_ENDING[kind]):
        path = beside / wanted
        found = None if "\0" in wanted else _stat(path)
        if found is None:
            raise InputError(_no_such_file(kind.removesuffix("s"), path))
        if not stat.S_ISREG(found.st_mode):
            raise InputError(_no_ordinary_file(kind.removesuffix("s"), path))
        return path
    return in_library(kind, wanted)


def in_library(kind: Kind, name: str) -> Path:
    """Return a file of the library by its name there; a path is no name.

    Raises
    ------
    InputError
        The library has none of that name; the nearest one is suggested.
    """
    path = templates() / kind / f"{name}{_ENDING[kind]}"
    if not _NAME.fullmatch(name) or not path.is_file():  # asked for every guest: no folder is read
        known = shelf(kind)
        raise InputError(_not_in_library(kind.removesuffix("s"), name, known, _ENDING[kind]))
    return path


_NAME = re.compile(r"[a-z0-9-]{1,100}")
"""How files of the library are called, whatever else a system takes for the same name."""


def _stat(path: Path) -> os.stat_result | None:
    try:
        return path.stat()
    except OSError:  # it is not there, or its name is too long for the system
        return None


def read_toml(path: Path) -> dict[str, Any]:
    """Return the tables of a TOML file.

    Raises
    ------
    InputError
        The file is missing, too large, or no TOML; the text names the file and the line.
    """
    data = read_file(path, MAX_TOML_BYTES)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(_no_utf_8(path)) from None
    if _LONG_KEY.search(text):
        raise InputError(_too_deep(path, _MOST_DEEP))
    try:
        tables = tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # numbers too long to read are a ValueError
        raise InputError(_no_toml(path, error)) from None
    if _is_deep(tables):
        raise InputError(_too_deep(path, _MOST_DEEP))
    return tables


def _is_deep(tables: dict[str, Any]) -> bool:
    """Whether something stands within more tables and lists than any of our files has."""
    level: list[Any] = [tables]
    for _ in range(_MOST_DEEP):
        inner = (each.values() if isinstance(each, dict) else each for each in level)
        level = [value for values in inner for value in values if isinstance(value, (dict, list))]
    return bool(level)


def validated(model: type[ModelT], data: Any, source: str) -> ModelT:
    """Return ``data`` as ``model``.

    Raises
    ------
    InputError
        The first thing that is wrong, as ``source: key: what was found and what is needed``; an
        unknown key comes with the nearest known one.
    """
    try:
        return model.model_validate(data)
    except ValidationError as error:
        raise _first_problem(model, error, source) from None


def _first_problem(model: type[Model], error: ValidationError, source: str) -> WrongValue:
    problems = error.errors(include_url=False)
    # A mistyped key is also a missing one; the mistyped one is what the maker can see.
    unknown = [problem for problem in problems if problem["type"] == "extra_forbidden"]
    problem = (unknown or problems)[0]
    key, rule, within = _key(problem["loc"]), "", ""
    match problem["type"]:
        case "extra_forbidden":
            known = _keys_beside(model, problem["loc"])
            text = why = _unknown_key(key, str(problem["loc"][-1]), known)
        case "missing":
            text, why, rule = _missing_key(key), _FILL_IN, "missing"
        case "value_error":  # of the models' own checks, whose texts are whole
            broken = problem["ctx"]["error"]
            why = str(broken)
            text = f"{key}: {why}" if key else why
            if isinstance(broken, RuleBroken):
                rule, within = broken.rule, broken.key
        case _:
            why = _wrong_value(problem)
            text = f"{key}: {why}"
    dotted = [str(at + 1 if isinstance(at, int) else at) for at in problem["loc"]]
    return WrongValue(f"{source}: {text}", ".".join(filter(None, [*dotted, within])), why, rule)


def _key(location: tuple[int | str, ...]) -> str:
    """Return a location in the way TOML spells it, tables of a list counted from 1."""
    text = ""
    for part in location:
        text += f" {part + 1}" if isinstance(part, int) else f".{part}" if text else part
    return text


def _keys_beside(model: type[BaseModel], location: tuple[int | str, ...]) -> list[str]:
    """Return the keys that the table holding ``location`` may have."""
    current: Any = model
    for part in location[:-1]:
        if isinstance(part, str) and part in _fields_by_alias(current):
            current = _inner_model(_fields_by_alias(current)[part].annotation) or current
    return list(_fields_by_alias(current))


def _fields_by_alias(model: type[BaseModel]) -> dict[str, Any]:
    return {field.alias or name: field for name, field in model.model_fields.items()}


def _inner_model(annotation: Any) -> type[BaseModel] | None:
    """Return the model inside ``tuple[Line, ...]``, ``Band | None`` and the like."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for argument in getattr(annotation, "__args__", ()):
        if found := _inner_model(argument):
            return found
    return None


@cache
def known_as(kind: Literal["blanks", "machines"]) -> dict[str, str]:
    """Return what the library's blanks or machines are called, by their names in it.

    All without case: people write one where the other is meant.
    """
    return {
        name.casefold(): str(read_toml(path)["name"]).casefold()
        for name, path in shelf(kind).items()
    }


def load(model: type[ModelT], kind: Kind, wanted: str, beside: Path) -> ModelT:
    """Return the blank or layout ``wanted`` (see :func:`find`) as a checked value."""
    path = find(kind, wanted, beside)
    return validated(model, read_toml(path), str(path))
