"""Reading files, and writing them: whole or not at all, one by one or many together.

A file is written beside its place and renamed into it, so that nobody ever finds half of it. Files
that belong together are written into a :class:`Stage` beside their places first, and take them once
all of them are there; what a cut-off process has left half moved, :meth:`Stage.resume` finishes.
"""

from __future__ import annotations

import filecmp
import hashlib
import json
import os
import secrets
import shutil
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Any

from mailmerge.findings import InputError

# What this room says to people, and others say about files


def unreadable(where: object, reason: object) -> str:
    """Say that a file cannot be read."""
    return f"{where}: The file cannot be read: {reason}."


def too_large(where: object, at_most: int) -> str:
    """Say that something of more than so many bytes is not read."""
    size = f"{at_most // 1000} kB" if at_most < 1_000_000 else f"{at_most // 1_000_000} MB"
    return f"{where}: This is larger than {size} and was not read."


def _unwritable(where: object, reason: object) -> str:
    return f"{where}: This cannot be written: {reason}."


def _is_folder(path: Path) -> str:
    return f"{path}: This is a folder. Give the name of a file."


_STAGED, _PLAN = ".staged", "plan.json"


_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a spreadsheet takes for the start of a formula (OWASP, CSV Injection)."""


def escaped(text: str) -> str:
    """Return a cell's text so that no spreadsheet takes it for a formula."""
    return f"'{text}" if text.startswith(_FORMULA) else text


def unescaped(text: str) -> str:
    """Return what a cell's text was before :func:`escaped`."""
    return text[1:] if text.startswith("'") and text[1:].startswith(_FORMULA) else text


def digest_of(data: bytes) -> str:
    """Return the SHA-256 of a file's bytes, in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def is_file_with(path: Path, digest: str) -> bool:
    """Whether a file is there and has this digest."""
    try:
        return digest_of(path.read_bytes()) == digest
    except OSError:
        return False


@contextmanager
def writing(where: Path) -> Iterator[None]:
    """Turn what the system says about a file or folder into our error.

    Raises
    ------
    InputError
        In place of any ``OSError``.
    """
    try:
        yield
    except OSError as error:
        reason = error.strerror or error
        raise InputError(_unwritable(error.filename or where, reason)) from None


def read_file(path: Path, at_most: int | None = None) -> bytes:
    """Return the bytes of a file.

    Parameters
    ----------
    at_most
        The most bytes that it may have; None for any number.

    Raises
    ------
    InputError
        It cannot be read, or it is larger.
    """
    try:
        if at_most is not None and path.stat().st_size > at_most:
            raise InputError(too_large(path, at_most))
        return path.read_bytes()
    except OSError as error:
        raise InputError(unreadable(path, error.strerror or error)) from None


def write_file(path: Path, data: bytes) -> None:
    """Write one file whole or not at all.

    Raises
    ------
    InputError
        It cannot be written.
    """
    if path.is_dir():
        raise InputError(_is_folder(path))
    with writing(path.parent):
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(f".{path.name}.part")
        try:
            part.write_bytes(data)
            part.replace(path)
        except BaseException:
            _forget(part)
            raise


def _forget(part: Path) -> None:
    try:
        part.unlink(missing_ok=True)
    except OSError:
        return  # the error that led here is the one to tell


class Stage:
    """Files on their way into a folder, where they take their places together.

    Every stage has a folder of its own, so that nothing that an earlier, cut-off one still writes
    can get among its files.

    Parameters
    ----------
    root
        The folder. Names of files are relative to it, with ``/`` between folders.
    """

    def __init__(self, root: Path) -> None:
        self.root = root
        self.token = secrets.token_hex(8)
        """What this stage is known by."""
        self._folder = root / f"{_STAGED}-{self.token}"

    def open_up(self) -> None:
        """Start with nothing on its way.

        Raises
        ------
        InputError
            The folder cannot be written.
        """
        with writing(self.root):
            self._folder.mkdir(parents=True)

    def write(self, name: str, data: bytes) -> None:
        """Put a file on its way, unless the folder holds it with the same bytes.

        Raises
        ------
        InputError
            It cannot be written.
        """
        with writing(self.root):
            place = self.root / name
            if place.is_file() and place.read_bytes() == data:
                return
            part = self._folder / name
            part.parent.mkdir(parents=True, exist_ok=True)
            part.write_bytes(data)

    @contextmanager
    def text_file(self, name: str, encoding: str = "utf-8") -> Iterator[IO[str]]:
        """Open a text file that is on its way while it is being written, unless it is the same."""
        part, place = self._folder / name, self.root / name
        with writing(self.root):
            with part.open("w", encoding=encoding, newline="") as file:
                yield file
            if place.is_file() and filecmp.cmp(part, place, shallow=False):
                part.unlink()

    def settle(self, outdated: Collection[str]) -> None:
        """Write down that everything is there: from now on :meth:`resume` can finish it.

        Parameters
        ----------
        outdated
            Names of files that leave the folder when the new ones take their places.

        Raises
        ------
        InputError
            It cannot be written.
        """
        write_file(self._folder / _PLAN, json.dumps({"outdated": sorted(outdated)}).encode())
        if hasattr(os, "sync"):
            os.sync()  # a power cut must not find the plan on the disk and the files not

    def give_up(self) -> None:
        """Clear the stage; nothing in the folder itself is touched."""
        _clear(self._folder)

    @staticmethod
    def resume(root: Path, token: str | None) -> None:
        """Let the files of a settled stage take their places, and clear every other stage away.

        Parameters
        ----------
        token
            The stage that is wanted; None for any that is settled.

        Raises
        ------
        InputError
            A file cannot be moved; calling it again goes on from there.
        """
        with writing(root):
            for folder in sorted(root.glob(f"{_STAGED}-*")):
                plan = _plan_in(folder)
                if plan is not None and token in (None, folder.name.removeprefix(f"{_STAGED}-")):
                    for part in sorted(folder.rglob("*")):
                        if part.is_file() and part != folder / _PLAN:
                            place = root / part.relative_to(folder)
                            place.parent.mkdir(parents=True, exist_ok=True)
                            part.replace(place)
                    for name in plan["outdated"]:
                        take_away(root, name)
                _clear(folder)


def _plan_in(folder: Path) -> dict[str, Any] | None:
    try:
        return dict(json.loads((folder / _PLAN).read_bytes()))
    except (FileNotFoundError, NotADirectoryError, ValueError):
        return None


def _clear(folder: Path) -> None:
    """Remove a stage. The plan goes first: without it, what is left is never taken for whole."""
    _forget(folder / _PLAN)
    shutil.rmtree(folder, ignore_errors=True)


def take_away(root: Path, name: str) -> None:
    """Remove a file, and the folders between it and ``root/first`` that hold nothing then."""
    path = root / name
    path.unlink(missing_ok=True)
    folder = path.parent
    while (
        folder.parent != root and folder != root and folder.is_dir() and not any(folder.iterdir())
    ):
        folder.rmdir()
        folder = folder.parent
