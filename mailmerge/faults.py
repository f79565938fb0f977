"""Faults of our own: where the program broke, told without anything that it was working on.

The text of an exception may hold a name, and so may a path. Neither is ever told: only which code
was running, in which line, and what kind of exception came of it.
"""

from __future__ import annotations

import sysconfig
import traceback
from collections.abc import Callable, Iterator
from functools import cache, wraps
from pathlib import Path
from types import TracebackType
from typing import ParamSpec, TypeVar

from mailmerge.findings import InputError

_PACKAGE = Path(__file__).parent
_MOST_FRAMES = 60
"""Of one exception; what calls itself for ever is told by its ends."""


class Fault(Exception):
    """A fault in another process, already told without what it was working on.

    Parameters
    ----------
    told
        As :func:`told` has it.
    """

    def __init__(self, told: str) -> None:
        super().__init__(told)
        self.told = told


Given = ParamSpec("Given")
Result = TypeVar("Result")


def telling(call: Callable[Given, Result]) -> Callable[Given, Result]:
    """Let a function that another process calls tell its faults in a way that can travel."""

    @wraps(call)
    def called(*given: Given.args, **named: Given.kwargs) -> Result:
        try:
            return call(*given, **named)
        except InputError:
            raise
        except Exception as error:
            raise Fault(told(error)) from None

    return called


def told(error: BaseException) -> str:
    """Return what broke: an exception and those that led to it, the first one first."""
    return "\n".join(_parts(error, set()))


def _parts(error: BaseException, seen: set[int]) -> Iterator[str]:
    seen.add(id(error))
    before = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    for each in (before, *(error.exceptions if isinstance(error, BaseExceptionGroup) else ())):
        if each is not None and id(each) not in seen:
            yield from _parts(each, seen)
            yield "then"
    yield from _frames(error.__traceback__)
    if isinstance(error, Fault):
        yield from ("in another process", error.told)
        return
    kind = type(error)
    number = f" {error.errno}" if isinstance(error, OSError) and error.errno else ""
    yield f"{kind.__module__}.{kind.__qualname__}{number}"


def _frames(where: TracebackType | None) -> list[str]:
    frames = [
        f"  {_place(frame.f_code.co_filename)}:{line} {frame.f_code.co_qualname}"
        for frame, line in traceback.walk_tb(where)
    ]
    half = _MOST_FRAMES // 2
    return frames if len(frames) <= _MOST_FRAMES else [*frames[:half], "  …", *frames[-half:]]


@cache
def _place(file: str) -> str:
    """Return a source file by its place in the program, a library or Python; no other path."""
    if file.startswith("<frozen "):
        return file
    libraries = (Path(sysconfig.get_path(name)) for name in ("purelib", "platlib", "stdlib"))
    for top, where in ((_PACKAGE, _PACKAGE.parent), *((each, each) for each in libraries)):
        if Path(file).is_relative_to(top):
            return Path(file).relative_to(where).as_posix()
    return "elsewhere"
