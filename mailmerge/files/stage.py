"""Files that belong together, on their way into a folder.

They are written into a :class:`Stage` beside their places first, and take them once all of them are
there; what a cut-off process has left half moved, :meth:`Stage.resume` finishes.
"""

from __future__ import annotations

import filecmp
import os
import re
import secrets
from collections.abc import Collection, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, ValidationError

from mailmerge.files import disk, words
from mailmerge.files.disk import Root, is_link, within, writing
from mailmerge.findings import InputError

_STAGED, _PLAN = ".staged", "plan.json"
_STAGE = re.compile(rf"{re.escape(_STAGED)}-[0-9a-f]{{16}}")


class _Plan(BaseModel):
    """What a settled stage still has to do, besides bringing its files."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    outdated: tuple[Annotated[str, AfterValidator(within)], ...]
    """Names of files that leave the folder."""


class Stage:
    """Files on their way into a folder, where they take their places together.

    Every stage has a folder of its own, so that nothing that an earlier, cut-off one still writes
    can get among its files.

    Parameters
    ----------
    root
        The folder.
    """

    def __init__(self, root: Root) -> None:
        self.root = root
        self.token = secrets.token_hex(8)
        """What this stage is known by."""
        self._parts = root.at(f"{_STAGED}-{self.token}")

    def open_up(self) -> None:
        """Start with nothing on its way.

        Raises
        ------
        InputError
            The folder cannot be written, or is a link.
        """
        self._parts.make()

    def write(self, name: str, data: bytes) -> None:
        """Put a file on its way, unless the folder holds it with the same bytes.

        Raises
        ------
        InputError
            It cannot be written, or its place is a link.
        """
        place, part = self.root.own(name), self._parts.own(name)
        with writing(self.root.path):
            if place.is_file() and place.read_bytes() == data:
                return
            self._parts.make(name)
            disk.drop(part)
            disk.create(part, data)

    @contextmanager
    def text_file(self, name: str, encoding: str = "utf-8") -> Iterator[IO[str]]:
        """Open a text file that is on its way while it is being written, unless it is the same."""
        place, part = self.root.own(name), self._parts.own(name)
        with writing(self.root.path):
            with disk.create_text(part, encoding) as file:
                yield file
            if place.is_file() and filecmp.cmp(part, place, shallow=False):
                disk.drop(part)

    def settle(self, outdated: Collection[str]) -> None:
        """Write down that everything is there: from now on :meth:`resume` can finish it.

        Parameters
        ----------
        outdated
            Names of files that leave the folder when the new ones take their places.

        Raises
        ------
        InputError
            It cannot be written, or a name leads out of the folder.
        """
        for name in outdated:
            self.root.own(name)
        plan = _Plan(outdated=tuple(sorted(outdated)))
        self._parts.write(_PLAN, plan.model_dump_json().encode())
        if hasattr(os, "sync"):
            os.sync()  # a power cut must not find the plan on the disk and the files not

    def give_up(self) -> None:
        """Clear the stage; nothing in the folder itself is touched."""
        with suppress(InputError, OSError):  # the error that led here is the one to tell
            _clear_stage(self._parts)

    @staticmethod
    def resume(root: Root, token: str | None) -> None:
        """Let the files of a settled stage take their places, and clear every other stage away.

        Parameters
        ----------
        token
            The stage that is wanted; None for any that is settled.

        Raises
        ------
        InputError
            A file cannot be moved, or what lies there is not what this program writes. Calling it
            again goes on from there.
        """
        for folder in sorted(root.path.glob(f"{_STAGED}-*")):
            if not _STAGE.fullmatch(folder.name) or is_link(folder):
                continue  # nothing of ours
            parts = root.at(folder.name)
            plan = _plan_in(parts) if token in (None, folder.name[len(_STAGED) + 1 :]) else None
            if plan is not None:
                for name in plan.outdated:
                    root.own(name)
                for name in sorted(_files_in(folder)):
                    if name != _PLAN:
                        root.own(name)
                        root.move(f"{folder.name}/{name}", name)
                for name in plan.outdated:
                    root.remove(name)
            _clear_stage(parts)


def _plan_in(parts: Root) -> _Plan | None:
    """Return the plan of a stage; None if it has none, or only a part of one.

    Raises
    ------
    InputError
        It is none that this program writes.
    """
    path = parts.own(_PLAN)
    try:
        return _Plan.model_validate_json(path.read_bytes())
    except (FileNotFoundError, NotADirectoryError):
        return None
    except ValidationError as error:
        first = error.errors()[0]
        if first["type"] == "json_invalid":
            return None
        why = first["msg"].removeprefix("Value error, ")
        raise InputError(words.strange_plan(path, why)) from None


def _files_in(folder: Path, below: str = "") -> Iterator[str]:
    """Pass over the names of all files of a folder, links left out."""
    for path in folder.iterdir():
        if is_link(path):
            continue
        if path.is_dir():
            yield from _files_in(path, f"{below}{path.name}/")
        else:
            yield f"{below}{path.name}"


def _clear_stage(parts: Root) -> None:
    """Remove a stage. The plan goes first: without it, what is left is never taken for whole."""
    parts.clear(_PLAN)
    Root(parts.path.parent).clear(parts.path.name)
