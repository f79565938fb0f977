"""What this room says to people."""

from __future__ import annotations


def takes_too_long(where: object, seconds: float) -> str:
    """Say that reading something was given up after so many seconds of processor time."""
    return (
        f"{where}: Reading this was given up after {seconds:.0f} seconds. Open it in the program "
        f"that it comes from, and save it again."
    )


def grows_too_large(where: object, most: int) -> str:
    """Say that reading something needs more than so many bytes of memory."""
    return (
        f"{where}: Reading this needs more than {most // 1_000_000:,} MB of memory, and was given "
        f"up. Open it in the program that it comes from, and save it again."
    )


def breaks_off(where: object) -> str:
    """Say that reading something has ended the process that it was done in."""
    return (
        f"{where}: Reading this broke off. It is damaged, or made to do harm. Open it in the "
        f"program that it comes from, and save it again."
    )


def fault(where: object, kind: str) -> str:
    """Say that reading something met a fault of this program."""
    return (
        f"{where}: Reading this met a fault of this program ({kind}). Open it in the program that "
        f"it comes from, and save it again."
    )


def no_room(reason: object) -> str:
    """Say that the process for reading cannot be started."""
    return f"The process that reads files cannot be started: {reason}."
