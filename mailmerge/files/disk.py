"""The one gate to the disk: writing, moving and deleting below a root.

Nothing else in the program writes or deletes (a test holds it to that), and a :class:`Root` never
follows a link when it does: what is linked belongs to somebody else. A file is written beside its
place and renamed into it, so that nobody ever finds half of it.
"""

from __future__ import annotations

import os
import secrets
import stat
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO

from mailmerge.files import words
from mailmerge.findings import InputError, shown
from mailmerge.progress import CHANGES

IS_WINDOWS = os.name == "nt"
"""Whether this is a system on which what somebody has open can be neither replaced nor removed."""

_LONG = 260
"""A path of so many characters is too long for Windows as it is delivered (MAX_PATH; Microsoft,
"Maximum Path Length Limitation")."""

_WAITS = 0.05, 0.2, 0.8
"""Seconds: a virus scanner, a preview or a synced folder has a new file open about as long."""


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
        path = error.filename or where
        if IS_WINDOWS and len(str(path)) >= _LONG:
            raise InputError(words.too_long_a_path(path, _LONG - 1)) from None
        if IS_WINDOWS and isinstance(error, PermissionError):
            raise InputError(words.in_use(path)) from None
        raise InputError(words.unwritable(path, error.strerror or error)) from None


def write_file(path: Path, data: bytes) -> None:
    """Write one file, in a folder that somebody has named, whole or not at all.

    Raises
    ------
    InputError
        It cannot be written, or is a link.
    """
    Root(path.parent).write(path.name, data)


@contextmanager
def lent(name: str, data: bytes) -> Iterator[Path]:
    """Lend a file to what reads files by their paths, in a folder of its own that goes again.

    Raises
    ------
    InputError
        It cannot be written.
    """
    with tempfile.TemporaryDirectory() as folder:
        Root(Path(folder)).write(name, data)
        yield Path(folder) / name


def temporary() -> Path:
    """Return the system's folder for what nobody keeps."""
    return Path(tempfile.gettempdir())


# What changes a disk; nothing else does

_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0)


def create(path: Path, data: bytes, mode: int = 0o666) -> None:
    """Write a file that is not there yet."""
    with os.fdopen(os.open(path, _NEW | getattr(os, "O_BINARY", 0), mode), "wb") as file:
        file.write(data)


def create_text(path: Path, encoding: str) -> IO[str]:
    """Open a text file that is not there yet, to be written."""
    return os.fdopen(os.open(path, _NEW, 0o666), "w", encoding=encoding, newline="")


def _rename(old: Path, new: Path) -> None:
    _patiently(lambda: old.replace(new))


def _give(old: Path, new: Path) -> bool:
    """Give a file a name that nobody has; return whether nobody had it."""
    try:
        os.link(old, new)
    except FileExistsError:
        return False
    except OSError:  # a disk without links: there whoever comes in between is not seen
        if new.exists():
            return False
        _rename(old, new)
    return True


def _unlink(path: Path) -> None:
    _patiently(lambda: path.unlink())


def _patiently(change: Callable[[], object]) -> None:
    """Do it, on Windows again after a moment if somebody has the file open."""
    for wait in _WAITS if IS_WINDOWS else ():
        try:
            change()
        except PermissionError:
            time.sleep(wait)
        else:
            return
    change()


def drop(path: Path) -> None:
    """Remove a file, or a link itself, if it is there."""
    with suppress(FileNotFoundError):
        _unlink(path)


def _mkdir(path: Path) -> None:
    path.mkdir(exist_ok=True)


def _rmdir(path: Path) -> None:
    path.rmdir()


_JUNCTION = 0xA0000003
"""What Windows calls a folder that leads elsewhere (IO_REPARSE_TAG_MOUNT_POINT)."""


def is_link(path: Path) -> bool:
    """Whether something is a link, wherever it leads, or a junction of Windows."""
    try:
        found = path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    return stat.S_ISLNK(found.st_mode) or getattr(found, "st_reparse_tag", 0) == _JUNCTION


class Root:
    """A folder below which the program may write and delete, and nowhere else.

    Names are relative to it, with ``/`` between folders. It may be a link itself, for whoever named
    it meant where it leads; below it none is followed.

    Parameters
    ----------
    top
        The folder: an order's, the shop's, or one that somebody named.
    inner
        The folder within it that names are relative to.
    """

    def __init__(self, top: Path, inner: str = "") -> None:
        self.top = top
        self.inner = inner

    @property
    def path(self) -> Path:
        """Where it is."""
        return self.top / self.inner

    def at(self, name: str) -> Root:
        """Return a folder within it; what is done there is held to the same top."""
        return Root(self.top, f"{self.inner}/{name}" if self.inner else name)

    def place(self, name: str) -> Path:
        """Return where a name is, if no link lies on the way; it may be one itself.

        Raises
        ------
        InputError
            The name leads out of the folder, or through a link.
        """
        try:
            parts = Path(self.inner, within(name)).parts
        except ValueError:
            raise InputError(words.leads_out(self.path, name)) from None
        path = self.top
        for part in parts[:-1]:
            path /= part
            if is_link(path):
                raise InputError(words.leads_elsewhere(path))
        return path / parts[-1]

    def own(self, name: str) -> Path:
        """Return where a name is, if neither it nor anything on the way is a link.

        Raises
        ------
        InputError
            The name leads out of the folder, or something is a link.
        """
        path = self.place(name)
        if is_link(path):
            raise InputError(words.leads_elsewhere(path))
        return path

    def make(self, name: str = "") -> None:
        """Make the folder that a name is in, and all above it that are not there.

        Raises
        ------
        InputError
            Something on the way is a link, or it cannot be written.
        """
        path = self.place(name or "x").parent
        missing = [each for each in (path, *path.parents) if not each.exists()]
        above = missing[-1].parent if missing else path
        if not above.is_dir():
            raise InputError(words.is_no_folder(above))
        with writing(path):
            for each in reversed(missing):
                _mkdir(each)

    def write(self, name: str, data: bytes, mode: int = 0o666, is_derived: bool = False) -> None:
        """Write one file whole or not at all.

        Parameters
        ----------
        mode
            Who may do what with it, where the system knows that.
        is_derived
            Whether it is worked out from other files again and again: then it is no change to tell.

        Raises
        ------
        InputError
            It cannot be written, it or a folder on the way is a link, or it is a folder.
        """
        path = self.own(name)
        if path.is_dir():
            raise InputError(words.is_folder(path))
        part = _part_of(path)
        self.make(name)
        if not is_derived:
            self._note(name)
        with writing(path.parent):
            try:
                create(part, data, mode)
                _rename(part, path)
            except BaseException:
                with suppress(OSError):  # the error that led here is the one to tell
                    drop(part)
                raise

    def write_new(self, name: str, data: bytes) -> bool:
        """Write one file whole under a name that nobody has; return whether nobody had it.

        Of two who write at once under one name, one is told so.

        Raises
        ------
        InputError
            It cannot be written, or it or a folder on the way is a link.
        """
        path = self.own(name)
        part = _part_of(path)
        self.make(name)
        with writing(path.parent):
            try:
                create(part, data)
                return _give(part, path)
            finally:
                with suppress(OSError):  # the error that led here is the one to tell
                    drop(part)

    def move(self, name: str, to: str) -> None:
        """Give something another place in here; of a link, the link itself.

        Raises
        ------
        InputError
            It cannot be moved, or a folder on the way is a link.
        """
        old, new = self.place(name), self.place(to)
        self.make(to)
        self._note(to)
        with writing(old):
            _rename(old, new)

    def remove(self, name: str) -> None:
        """Remove a file if it is there, and folders that hold nothing then, but not the first one.

        Raises
        ------
        InputError
            It cannot be removed, or it or a folder on the way is a link.
        """
        path = self.own(name)
        if path.exists():
            self._note(name)
        with writing(path):
            drop(path)
            depth = len(path.relative_to(self.path).parts)
            for folder in [*path.parents][: max(0, depth - 2)]:
                if not folder.is_dir() or any(folder.iterdir()):
                    return
                _rmdir(folder)

    def clear(self, name: str) -> list[Path]:
        """Remove a file, or a folder with all that is in it; return the links that are left.

        A link stays, with the folders that it lies in: what it leads to was never ours.

        Raises
        ------
        InputError
            Something cannot be removed, or a folder on the way is a link.
        """
        path = self.place(name)
        if path.exists():
            self._note(name)
        with writing(path):
            return _clear(path)

    def _note(self, name: str) -> None:
        """Note that something is about to be changed, unless nobody sees it."""
        path = Path(self.inner, name)
        if not any(part.startswith(".") for part in path.parts):
            CHANGES.add(self.top / path)


def _part_of(path: Path) -> Path:
    """Return where a file is written before it takes its place: no other writer has it."""
    return path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")


def within(name: str) -> str:
    """Return a name of a file if it stays within its folder, on whatever system.

    Raises
    ------
    ValueError
        It does not.
    """
    path = Path(name)
    if path.drive or path.root or not path.parts or ".." in path.parts or "\0" in name:
        raise ValueError(f"{shown(name)} leads out of the folder")
    return name


def _clear(path: Path) -> list[Path]:
    if is_link(path):
        return [path]
    if not path.is_dir():
        drop(path)
        return []
    left = [link for each in sorted(path.iterdir()) for link in _clear(each)]
    if not left:
        _rmdir(path)
    return left
