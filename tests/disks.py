"""Disks that fail: full from some write on, or broken at one of the steps that change them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from mailmerge.files import disk

STEPS = ("create", "create_text", "_rename", "_give", "_unlink", "_mkdir", "_rmdir")
"""Every function of the program that changes a disk."""


def fill_disk(patch: pytest.MonkeyPatch, room: int) -> None:
    """Let every file after the first ``room`` ones find a full disk, with half of it written.

    No folder can be made then either, but files can be renamed and removed.
    """
    written = 0
    make = disk._mkdir

    def full(path: Any, data: bytes, _mode: int = 0o666) -> None:
        nonlocal written
        written += 1
        if written > room:
            path.write_bytes(data[: len(data) // 2])
            raise OSError(28, "No space left on device", str(path))
        path.write_bytes(data)

    def made(path: Any) -> None:
        if written > room:
            raise OSError(28, "No space left on device", str(path))
        make(path)

    patch.setattr(disk, "create", full)
    patch.setattr(disk, "_mkdir", made)


def at_step(patch: pytest.MonkeyPatch, number: int, fails: Callable[[Any], None]) -> list[int]:
    """Let a step fail, counted from 1; return a list whose one number counts them."""
    count = [0]

    def counted(step: Callable[..., Any]) -> Callable[..., Any]:
        def taken(path: Any, *rest: Any) -> Any:
            count[0] += 1
            if count[0] == number:
                fails(path)
            return step(path, *rest)

        return taken

    for name in STEPS:
        patch.setattr(disk, name, counted(getattr(disk, name)))
    return count
