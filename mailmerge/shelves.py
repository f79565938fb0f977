"""The starting points that travel with the program, and how a TOML file becomes a checked value.

Blanks, layouts and orders are all TOML read into frozen pydantic models. This module is the only
one that turns the errors of ``tomllib`` and pydantic into ours, so they all read alike.
"""

from __future__ import annotations

import tomllib
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

from mailmerge.findings import InputError, nearest, shown
from mailmerge.units import parse_length, parse_percent, parse_rate

Kind = Literal["blanks", "layouts", "machines", "ornaments", "recipes"]
"""The shelves of the library; each is a folder of ``templates/``."""

_ENDING: dict[Kind, str] = {
    "blanks": ".toml", "layouts": ".toml", "machines": ".toml", "ornaments": ".svg",
    "recipes": ".toml",
}  # fmt: skip

MAX_TOML_BYTES = 32_000
"""Orders take about one kB; the TOML reader needs minutes for some that take a hundred."""


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
        raise ValueError(f"found {length:g} mm, want more than 0 and less than 10 m")
    return length


def _not_negative(length: float) -> float:
    if not 0 <= length < 10_000:
        raise ValueError(f"found {length:g} mm, want 0 or more and less than 10 m")
    return length


def one_line(text: str) -> str:
    """Return the text if it has no control characters.

    Raises
    ------
    ValueError
        It has some.
    """
    if any(ord(char) < 32 or 0xD800 <= ord(char) <= 0xDFFF for char in text):
        raise ValueError(f"found {shown(text)}, want text on one line without control characters")
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
        Neither is there; the nearest name of the library is suggested.
    """
    one = kind.removesuffix("s")
    if wanted.endswith(_ENDING[kind]):
        path = beside / wanted
        if "\0" in wanted or not _is_file(path):
            raise InputError(f"{one}: there is no file {shown(str(path), 200)}")
        return path
    known = shelf(kind)
    if wanted not in known:
        raise InputError(
            f"{one} {shown(wanted)} is not in the library{nearest(wanted, known)} "
            f"(known: {', '.join(known)}; or give the path of your own {_ENDING[kind]} file)"
        )
    return known[wanted]


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except OSError:  # such as a name that is too long for the system
        return False


def read_toml(path: Path) -> dict[str, Any]:
    """Return the tables of a TOML file.

    Raises
    ------
    InputError
        The file is missing, too large, or no TOML; the text names the file and the line.
    """
    try:
        if path.stat().st_size > MAX_TOML_BYTES:
            raise InputError(f"{path}: larger than {MAX_TOML_BYTES // 1000} kB, not read")
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise InputError(f"{path}: cannot be read: {error.strerror or error}") from None
    except UnicodeDecodeError:
        raise InputError(f"{path}: is not UTF-8 text, want TOML") from None
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # numbers too long to read are a ValueError
        raise InputError(f"{path}: is not valid TOML: {error}") from None


def validated(model: type[ModelT], data: Any, source: str) -> ModelT:
    """Return ``data`` as ``model``.

    Raises
    ------
    InputError
        The first thing that is wrong, as ``source: key: what was found, what is wanted``; an
        unknown key comes with the nearest known one.
    """
    try:
        return model.model_validate(data)
    except ValidationError as error:
        raise InputError(f"{source}: {_first_problem(model, error)}") from None


def _first_problem(model: type[Model], error: ValidationError) -> str:
    problems = error.errors(include_url=False)
    # A mistyped key is also a missing one; the mistyped one is what the maker can see.
    unknown = [problem for problem in problems if problem["type"] == "extra_forbidden"]
    problem = (unknown or problems)[0]
    key = _key(problem["loc"])
    match problem["type"]:
        case "extra_forbidden":
            known = _keys_beside(model, problem["loc"])
            last = str(problem["loc"][-1])
            return f"unknown key {shown(key)}{nearest(last, known)} (known: {', '.join(known)})"
        case "missing":
            return f'the key "{key}" is missing'
        case _:
            text = problem["msg"].removeprefix("Value error, ")
            if problem["type"] != "value_error":
                text = f"found {_value(problem['input'])}, want: {text[:1].lower()}{text[1:]}"
            return f"{key}: {text}" if key else problem["msg"].removeprefix("Value error, ")


def _value(found: object) -> str:
    if isinstance(found, int) and abs(found) > 10**50:
        return "a number too large"
    return shown(found) if isinstance(found, str) else shown(repr(found)).strip('"')


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
