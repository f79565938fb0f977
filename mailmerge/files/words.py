"""What this room says to people, and others say about files."""

from __future__ import annotations

from mailmerge.findings import shown


def unreadable(where: object, reason: object) -> str:
    """Say that a file cannot be read."""
    return f"{where}: The file cannot be read: {reason}."


def no_ordinary_file(where: object) -> str:
    """Say that a path leads to a pipe, a device or the like."""
    return f"{where}: This is no ordinary file and was not read."


def too_large(where: object, at_most: int) -> str:
    """Say that something of more than so many bytes is not read."""
    size = f"{at_most // 1000} kB" if at_most < 1_000_000 else f"{at_most // 1_000_000} MB"
    return f"{where}: This is larger than {size} and was not read."


def unwritable(where: object, reason: object) -> str:
    """Say that something cannot be written."""
    return f"{where}: This cannot be written: {reason}."


def in_use(path: object) -> str:
    """Say that something cannot be written on a system that locks what is open."""
    return (
        f"{path}: This cannot be written. Close it if it is open in another program, see that it "
        f"is yours to change, and try again."
    )


def too_long_a_path(path: object, most: int) -> str:
    """Say that a path is longer than the system takes."""
    return (
        f"{path}: This path is longer than the {most} characters that Windows takes. Move the "
        f"order to a folder with a shorter path, and try again."
    )


def is_folder(path: object) -> str:
    """Say that a folder lies where a file is to go."""
    return f"{path}: This is a folder. Give the name of a file."


def is_no_folder(path: object) -> str:
    """Say that something lies where a folder is to be."""
    return f"{path}: This is a file, and a folder of that name is needed. Move it away."


def leads_out(root: object, name: str) -> str:
    """Say that a name is refused."""
    return f"{root}: {shown(name)} is no name of a file in this folder. Nothing was changed there."


def leads_elsewhere(path: object) -> str:
    """Say that something is a link, where the program writes and deletes."""
    return (
        f"{path}: This is a link to another place. The program writes and deletes only where it "
        f"leads to no other place, and has left it alone. Put the file or folder itself there."
    )


def strange_plan(path: object, why: object) -> str:
    """Say that a plan is not ours."""
    return (
        f"{path}: This plan of an earlier call is not one that this program writes: {why}. Nothing "
        f"was done. Look what it is, delete the folder that it lies in, and try again."
    )
